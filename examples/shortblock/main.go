// Shortblock makes the build record of an engine's short block from one job file:
// every reading judged against its limits, the shells and what to buy, the
// tightening step by step, and what to do next, worst first.
//
//	shortblock [-format text|json|html|svg] [-o FILE] [-strict] [-film] [-demo NAME] [JOB.toml]
//	shortblock -new [-cylinders 4] [-mains 5] [-pins "1-4 2-5 3-6"] [-units mm|in] [...] [-o JOB.toml]
//	shortblock -blank [-format text|html] [-o FILE] JOB.toml
//
// With -new it writes a job file for an engine with every expected reading open; with
// -blank it prints the measuring sheet of those that are still open in a job.
//
// With -film the record has a model of the oil film too: charts and tables over clearance, from what the job's [film] says
// of oil, load and speed. It judges nothing.
//
// checkrecord.py in this folder works a record in JSON out again without closefit:
//
//	shortblock -format json JOB.toml | python3 checkrecord.py
//
// Without a job file it shows a demonstration, of an invented engine; - is standard
// input. The exit
// status is 0 if the record was made; 1, only with -strict, if something in it is
// not proven; 2 if the input is wrong, with the file, the line and what to write
// instead on standard error.
package main

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/signal"
	"runtime/debug"
	"strings"

	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/examples/kit/files/wholefile"
	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/measuring"
	"example.com/closefit/examples/kit/record"
	"example.com/closefit/examples/kit/version"
)

// The exit statuses.
const (
	made      = 0
	notProven = 1
	badInput  = 2
)

// large is more bytes than a record has, but for an engine of more than twelve cylinders with every
// form that a record may take. Memory that nothing is written to costs nothing, and to copy what
// grows does.
const large = 1 << 22

func main() {
	// One job is read, and the program ends. So nothing is collected before the heap has 64 MB; the record
	// of twelve cylinders takes less than 40. From 256 MB on memory counts more than time.
	debug.SetGCPercent(1600)
	debug.SetMemoryLimit(256 << 20)
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	context.AfterFunc(ctx, stop) // a second interrupt ends the program at once
	status := run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr)
	stop()
	os.Exit(status)
}

// run is the program with its surroundings given, for tests.
func run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	status, err := shortblock(ctx, args, stdin, stdout, stderr)
	if err != nil {
		said, offer, _ := strings.Cut(record.Printable(err.Error()), "\n\n") // what is offered to be copied stands as it is
		fmt.Fprintf(stderr, "shortblock: %s\n", strings.ReplaceAll(said, "\n", "\nshortblock: "))
		if offer != "" {
			fmt.Fprintf(stderr, "\n%s\n", offer)
		}
	}
	return status
}

// options are what the command line asks for.
type options struct {
	format record.Format
	output string
	strict bool
	blank  bool           // the measuring sheet is asked for
	film   bool           // the oil film too
	begin  *job.Beginning // a new job file is asked for; nil if none is
	shown  bool           // the version is asked for
	name   string         // of the job's file
	called string         // in errors
	source []byte
	folder fs.FS // that the job lies in; nil if it lies in none
}

func shortblock(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) (status int, err error) {
	o, err := parse(args, stdin, stderr)
	if errors.Is(err, flag.ErrHelp) {
		return made, nil
	}
	if err != nil {
		return badInput, err
	}
	if o.shown {
		_, err := io.WriteString(stdout, version.Line("shortblock"))
		return statusOf(err), err
	}
	if o.begin != nil {
		text, err := o.begin.File()
		if err == nil {
			err = o.write(stdout, text, wholefile.Create)
		}
		return statusOf(err), err
	}
	j, err := job.ReadBeside(o.folder, o.called, o.source)
	if err != nil {
		return badInput, err
	}
	text := bytes.NewBuffer(make([]byte, 0, large))
	proven := true
	if o.blank {
		err = measuring.Write(text, o.format, j.Sheet())
	} else {
		var a *job.Assessment
		if a, err = j.Assess(ctx); err != nil {
			return badInput, err
		}
		proven = a.Proven()
		if o.film {
			if a.Films, err = j.Films(ctx, a); err != nil {
				return badInput, fmt.Errorf("%s: %w", o.called, err)
			}
		}
		err = record.Write(text, o.format, a)
	}
	if err != nil {
		return badInput, err
	}
	if wholefile.Same(o.output, o.name) {
		return badInput, fmt.Errorf("-o %s is the job itself; name another file", o.output)
	}
	if err := o.write(stdout, text.Bytes(), wholefile.Write); err != nil {
		return badInput, err
	}
	if o.strict && !proven {
		return notProven, nil
	}
	return made, nil
}

func statusOf(err error) int {
	if err != nil {
		return badInput
	}
	return made
}

// write writes a text to the file that -o names, in the way given, or to standard output.
func (o options) write(stdout io.Writer, text []byte, toFile func(name string, text []byte) error) error {
	if o.output == "" {
		_, err := stdout.Write(text)
		return err
	}
	return toFile(o.output, text)
}

// parse reads the command line and the job that it names.
func parse(args []string, stdin io.Reader, stderr io.Writer) (o options, err error) {
	flags := flag.NewFlagSet("shortblock", flag.ContinueOnError)
	flags.SetOutput(io.Discard) // errors are said once, by run
	format := flags.String("format", "text", "`form` of the record: text, json or html, or svg for the bench card alone")
	flags.StringVar(&o.output, "o", "", "write to `FILE`, whole or not at all; else to standard output")
	flags.BoolVar(&o.strict, "strict", false, "exit with status 1 if anything is not proven")
	flags.BoolVar(&o.blank, "blank", false, "print the measuring sheet of the open readings instead of the record")
	flags.BoolVar(&o.shown, "version", false, version.Usage)
	flags.BoolVar(&o.film, "film", false, "add what a model says of the oil film over clearance, from the job's [film]; it judges nothing")
	demo := flags.String("demo", job.DefaultDemonstration, "the demonstration `NAME` to show without a job file: "+strings.Join(job.Demonstrations(), ", "))
	begin := flags.Bool("new", false, "write a new job file, of the engine that the options below describe; it replaces no file")
	var b job.Beginning
	units := flags.String("units", "mm", "-new: `mm or in`")
	described := map[string]bool{"units": true}
	for _, d := range []struct {
		name   string
		into   *string
		normal string
		usage  string
	}{
		{"title", &b.Title, "", "the job's `name`"},
		{"cylinders", &b.Cylinders, "4", "how many, in figures, or their `names` with commas"},
		{"mains", &b.Mains, "5", "how many main bearings, or their `names`"},
		{"pins", &b.Pins, "", "the `rods` that share a crankpin, \"1-4 2-5 3-6\"; if left out, each has its own"},
		{"thrust", &b.Thrust, "", "the `main` that takes the thrust"},
		{"rings", &b.Rings, "top ring, second ring", "the rings of a piston that have an end gap, by `name`"},
		{"passages", &b.Passages, "main gallery, crankshaft drillings", "the oil passages, by `name`"},
		{"jets", &b.Jets, "", "how many oil jets, or their `names`"},
		{"decks", &b.Decks, "", "the decks, by `name`, where there are several"},
		{"inspect", &b.Inspect, "", "further `lines` to measure, with commas, or all"},
	} {
		flags.StringVar(d.into, d.name, d.normal, "-new: "+d.usage)
		described[d.name] = true
	}
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			usage(flags, stderr)
			return o, err
		}
		return o, fmt.Errorf("%w; -help lists the options", err)
	}
	if o.shown {
		return o, nil
	}
	if o.format, err = record.ParseFormat(*format, record.SVG); err != nil {
		return o, err
	}
	if *begin {
		return beginning(o, b, *units, flags)
	}
	flags.Visit(func(f *flag.Flag) {
		if described[f.Name] {
			err = fmt.Errorf("-%s describes a new job; write -new with it, or leave it out", f.Name)
		}
	})
	if err != nil {
		return o, err
	}
	if o.film && (o.blank || o.format == record.SVG) {
		return o, errors.New("-film with -blank or -format svg; it is part of the record: write -format text, json or html")
	}
	switch flags.NArg() {
	case 0:
		o.name = *demo + ".toml"
		o.called = o.name
		o.source, err = job.Demonstration(*demo)
	case 1:
		o.name = flags.Arg(0)
		o.called, o.source, err = tomlfile.Load(o.name, stdin)
		o.folder = tomlfile.Folder(o.name)
	default:
		err = fmt.Errorf("%d job files (%s); name one, after the options", flags.NArg(), strings.Join(flags.Args(), ", "))
	}
	return o, err
}

// beginning are the options of a new job.
func beginning(o options, b job.Beginning, units string, flags *flag.FlagSet) (options, error) {
	switch {
	case flags.NArg() > 0:
		return o, fmt.Errorf("-new with the file %s; name the new one with -o, before everything that is no option", flags.Arg(0))
	case o.blank || o.strict || o.film:
		return o, errors.New("-new with -blank, -strict or -film; ask for one at a time")
	case units != "mm" && units != "in":
		return o, fmt.Errorf("-units %q; write mm or in", units)
	}
	b.Inches = units == "in"
	o.begin = &b
	return o, nil
}

func usage(flags *flag.FlagSet, w io.Writer) {
	fmt.Fprint(w, `usage: shortblock [-format text|json|html|svg] [-o FILE] [-strict] [-film] [-demo NAME] [JOB.toml]
       shortblock -new [-cylinders 4] [-mains 5] [-pins "1-4 2-5 3-6"] [...] [-o JOB.toml]
       shortblock -blank [-format text|html] [-o FILE] JOB.toml

Makes the build record of a short block from one job file; - is standard input.
-new begins a job file, -blank prints what is still to be measured. Exit status 0: the
record was made; 1: only with -strict, something is not proven; 2: the input is
wrong. The engine maker's manual and licensed practice come first.

`)
	flags.SetOutput(w)
	flags.PrintDefaults()
}
