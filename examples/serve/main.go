// Serve answers the questions of package ask over HTTP, for programs of any language.
//
//	serve [-listen ADDRESS]
//
//	POST /v1/judge     what readings prove about limits
//	POST /v1/assign    shells by codes and by sizes
//	POST /v1/buy       the cheapest packs
//	POST /v1/stack     a tolerance stack
//	POST /v1/plan      a tightening, step by step
//	POST /v1/convert   another unit
//	POST /v1/record    the build record of a job file
//	GET  /openapi.json their description, made from the types
//	GET  /healthz      it is alive
//	GET  /readyz       it takes questions, and is not about to stop
//
// A body is the question's own object with the version of the form, {"closefit": 1, "value": "1 in", …}; the
// answer is {"closefit": 1, "answer": {…}} or {"closefit": 1, "error": {…}}, which says what was found, where,
// and what to write instead. The status is
//
//	200  answered
//	400  no JSON, or not of the exchange form
//	404, 405, 415  another path, method or kind of body
//	408, 413  a body that came too slowly, or is too long
//	421  another host than this machine, where only this machine is served
//	422  of the right form, and without an answer: a unit of another dimension, too long a list
//	429  as many heavy questions as may wait are waiting
//	500  a defect of closefit
//	503  it is stopping, or the answer took too long
//
// What is no HTTP, or has too long a head, is answered by 400 or 431 in plain text, before any of this is looked at.
//
// It keeps no state. Purchases, stacks, records and judgements with degrees of freedom are heavy: one is
// worked on at a time, and a few more wait, so that they cost the
// others little. Each request has a line in the log, as JSON on standard error, which holds nothing of its body.
//
// SIGTERM and an interrupt stop it: it accepts nobody any more, finishes what it has read, and ends.
//
// It listens on this machine alone unless -listen names another address. It knows no passwords and no
// encryption: there, put something before it that does. The engine maker's manual and licensed practice come first.
//
// The exit status is 0 when it was stopped, 1 if something under way could not be finished, 2 if it cannot begin.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"net"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"
	"time"

	"example.com/closefit/examples/kit/version"
)

func main() {
	ctx, stop := interrupted()
	defer stop()
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}

// interrupted is the context that ends when the program is asked to stop.
func interrupted() (ctx context.Context, stop context.CancelFunc) {
	return signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
}

// run is the program with its surroundings given, for tests, which may change its server.
func run(ctx context.Context, args []string, stdout, stderr io.Writer, change ...func(*server)) (status int) {
	flags := flag.NewFlagSet("serve", flag.ContinueOnError)
	flags.SetOutput(stderr)
	address := flags.String("listen", "127.0.0.1:8417", "the `address` to listen on; one that others reach only if you name it")
	origin := flags.String("allow-origin", "", "let pages of this `origin` ask, as in https://shop.example; without it no page of another origin may")
	within := flags.Duration("stop-within", 20*time.Second, "how long what is under way may take once it is stopped")
	shown := flags.Bool("version", false, version.Usage)
	flags.Usage = func() {
		fmt.Fprint(stderr, `usage: serve [-listen 127.0.0.1:8417] [-allow-origin ORIGIN] [-stop-within 20s]

Answers questions over HTTP, on this machine alone unless -listen names another address. GET
/openapi.json describes them, with an example of each; GET /healthz and /readyz say how it is. It
keeps nothing. The engine maker's manual and licensed practice come first.

`)
		flags.PrintDefaults()
	}
	switch err := flags.Parse(args); {
	case errors.Is(err, flag.ErrHelp):
		return 0
	case err != nil:
		return 2
	case *shown:
		fmt.Fprint(stdout, version.Line("serve"))
		return 0
	case flags.NArg() > 0:
		fmt.Fprintf(stderr, "serve: %q; write options only\n", flags.Args())
		return 2
	case *origin == "*":
		fmt.Fprintln(stderr, "serve: -allow-origin *; name the one origin whose pages may ask")
		return 2
	}
	listener, err := net.Listen("tcp", *address)
	if err != nil {
		fmt.Fprintf(stderr, "serve: %v\n", err)
		return 2
	}
	// What lives is small and what is thrown away is much. With the go command's own 100 % the collector runs
	// many times a second, and whoever asks meanwhile waits for it.
	debug.SetGCPercent(800)
	debug.SetMemoryLimit(512 << 20)
	s := newServer(slog.New(slog.NewJSONHandler(stderr, nil)))
	s.origin, s.within = *origin, *within
	for _, c := range change {
		c(s)
	}
	at := listener.Addr().(*net.TCPAddr)
	if s.local = at.IP.IsLoopback(); !s.local {
		fmt.Fprintf(stderr, "serve: CAUTION: others reach %s. It knows no passwords and no encryption: put something before it that does.\n", at)
	}
	fmt.Fprintf(stdout, "http://%s/\n", at)
	if err := s.serve(ctx, listener); err != nil {
		fmt.Fprintf(stderr, "serve: %v\n", err)
		return 1
	}
	return 0
}
