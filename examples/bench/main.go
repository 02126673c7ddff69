// Bench shows a job at the bench: the engine drawn, each place to touch, a keypad, and the verdict of each
// reading as it is typed.
//
//	bench [JOB.toml]
//	bench -o FILE.html [JOB.toml]
//
// It serves a page on this machine alone, at an address that it prints and nobody can guess, and keeps the job
// file up to date: it changes the readings in place, and leaves every other byte as it is. The file is written
// whole or not at all, and read again before each change, so that an editor may have it open too. Stop it
// with an interrupt: what was asked before is answered first, for up to a minute; a second one ends it at once. With the tightening laid out in the job, its bolts are pulled one by one on the ledger
// that torquewalk keeps, behind the same gate.
//
// With -o it writes the same page as one file that needs neither program nor network, to take to the bench on a
// phone. That keeps its state in the browser, where the browser lets it, and takes and gives the job file. The
// tightening is not walked there: a browser keeps nothing that a bolt may hang on.
//
// Without a file it shows a demonstration of an invented engine. Nothing of it is kept.
//
// The exit status is 0 when it was interrupted, or the file was written; 2 if the input is wrong, or a file
// cannot be read or written.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"net"
	"os"
	"os/signal"
	"path/filepath"
	"syscall"

	"example.com/closefit/examples/kit/files/wholefile"
	"example.com/closefit/examples/kit/page/module"
	"example.com/closefit/examples/kit/version"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	context.AfterFunc(ctx, stop) // a second interrupt ends the program at once
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}

// The exit statuses.
const (
	done     = 0
	badInput = 2
)

// run is the program with its surroundings given, for tests.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	err := show(ctx, args, stdout, stderr)
	if err == nil || errors.Is(err, flag.ErrHelp) {
		return done
	}
	fmt.Fprintf(stderr, "bench: %v\n", err)
	return badInput
}

func show(ctx context.Context, args []string, stdout, stderr io.Writer) error {
	flags := flag.NewFlagSet("bench", flag.ContinueOnError)
	flags.SetOutput(stderr)
	flags.Usage = func() {
		fmt.Fprint(stderr, "usage: bench [-o FILE.html] [JOB.toml]\n\nShows a job at the bench, on this machine alone, and keeps its file up to date. The engine\nmaker's manual and licensed practice come first.\n\n")
		flags.PrintDefaults()
	}
	out := flags.String("o", "", "write the page to `FILE`, whole or not at all, to open without the program and without a network")
	shown := flags.Bool("version", false, version.Usage)
	if err := flags.Parse(args); err != nil {
		return err
	}
	if *shown {
		_, err := io.WriteString(stdout, version.Line("bench"))
		return err
	}
	if flags.NArg() > 1 {
		return fmt.Errorf("%d job files (%q); name one, after the options", flags.NArg(), flags.Args())
	}
	k, err := newKeeper(flags.Arg(0))
	if err != nil {
		return err
	}
	wasm, err := module.Build(ctx, module.Whole)
	if err != nil {
		return err
	}
	if *out != "" {
		packed, err := module.Packed(wasm)
		if err != nil {
			return err
		}
		text, err := alone(k, packed)
		if err != nil {
			return err
		}
		if k.path != "" && wholefile.Same(*out, k.path) {
			return fmt.Errorf("-o %s is the job file itself; name another one", *out)
		}
		return wholefile.Write(*out, text)
	}
	packed, err := quickly(wasm)
	if err != nil {
		return err
	}
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return err
	}
	s, err := newServer(k, packed, listener.Addr().String())
	if err != nil {
		return errors.Join(err, listener.Close())
	}
	fmt.Fprintf(stdout, "%s\n", s.address())
	if k.path == "" {
		fmt.Fprintln(stdout, "A demonstration: nothing of it is kept. Name a job file to keep one; shortblock -new begins one.")
	} else {
		fmt.Fprintf(stdout, "Readings are kept in %s. Interrupt to stop.\n", filepath.Base(k.path))
	}
	return s.serve(ctx, listener)
}
