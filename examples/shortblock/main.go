// Shortblock makes the build record of an engine's short block from one job file:
// every reading judged against its limits, the shells and what to buy, the
// tightening step by step, and what to do next, worst first.
//
//	shortblock [-format text|json|html] [-o FILE] [-strict] [-demo NAME] [JOB.toml]
//
// Without a job file it shows a demonstration, of an invented engine. The exit
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
	"path/filepath"
	"strings"

	"example.com/closefit/examples/kit/files/wholefile"
	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/record"
)

// The exit statuses.
const (
	made      = 0
	notProven = 1
	badInput  = 2
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	context.AfterFunc(ctx, stop) // a second interrupt ends the program at once
	status := run(ctx, os.Args[1:], os.Stdout, os.Stderr)
	stop()
	os.Exit(status)
}

// run is the program with its surroundings given, for tests.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	status, err := shortblock(ctx, args, stdout, stderr)
	if err != nil {
		fmt.Fprintf(stderr, "shortblock: %s\n", strings.ReplaceAll(record.Printable(err.Error()), "\n", "\nshortblock: "))
	}
	return status
}

// options are what the command line asks for.
type options struct {
	format record.Format
	output string
	strict bool
	name   string // of the job's file
	source []byte
	folder fs.FS // that the job lies in; nil of a demonstration
}

func shortblock(ctx context.Context, args []string, stdout, stderr io.Writer) (status int, err error) {
	o, err := parse(args, stderr)
	if errors.Is(err, flag.ErrHelp) {
		return made, nil
	}
	if err != nil {
		return badInput, err
	}
	j, err := job.ReadBeside(o.folder, o.name, o.source)
	if err != nil {
		return badInput, err
	}
	a, err := j.Assess(ctx)
	if err != nil {
		return badInput, err
	}
	var text bytes.Buffer
	if err := record.Write(&text, o.format, a); err != nil {
		return badInput, err
	}
	if wholefile.Same(o.output, o.name) {
		return badInput, fmt.Errorf("-o %s is the job itself; name another file for its record", o.output)
	}
	if o.output == "" {
		_, err = stdout.Write(text.Bytes())
	} else {
		err = wholefile.Write(o.output, text.Bytes())
	}
	if err != nil {
		return badInput, err
	}
	if o.strict && !a.Proven() {
		return notProven, nil
	}
	return made, nil
}

// parse reads the command line and the job that it names.
func parse(args []string, stderr io.Writer) (o options, err error) {
	flags := flag.NewFlagSet("shortblock", flag.ContinueOnError)
	flags.SetOutput(io.Discard) // errors are said once, by run
	format := flags.String("format", "text", "`form` of the record: text, json or html")
	flags.StringVar(&o.output, "o", "", "write the record to `FILE`, whole or not at all; else to standard output")
	flags.BoolVar(&o.strict, "strict", false, "exit with status 1 if anything is not proven")
	demo := flags.String("demo", job.DefaultDemonstration, "the demonstration `NAME` to show without a job file: "+strings.Join(job.Demonstrations(), ", "))
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			usage(flags, stderr)
			return o, err
		}
		return o, fmt.Errorf("%w; -help shows what can be asked", err)
	}
	if o.format, err = record.ParseFormat(*format); err != nil {
		return o, err
	}
	switch flags.NArg() {
	case 0:
		o.name = *demo + ".toml"
		o.source, err = job.Demonstration(*demo)
	case 1:
		o.name = flags.Arg(0)
		o.source, err = os.ReadFile(o.name)
		o.folder = os.DirFS(filepath.Dir(o.name))
	default:
		err = fmt.Errorf("%d job files (%s); name one, after the options", flags.NArg(), strings.Join(flags.Args(), ", "))
	}
	return o, err
}

func usage(flags *flag.FlagSet, w io.Writer) {
	fmt.Fprint(w, `usage: shortblock [-format text|json|html] [-o FILE] [-strict] [-demo NAME] [JOB.toml]

Makes the build record of a short block from one job file. Exit status 0: the
record was made; 1: only with -strict, something is not proven; 2: the input is
wrong. The engine maker's manual and licensed practice come first.

`)
	flags.SetOutput(w)
	flags.PrintDefaults()
}
