// Command lessons serves a short course in tolerance stacking, or writes it.
//
//	go run ./examples/lessons           serves the pages on the loopback address, and prints where
//	go run ./examples/lessons -o DIR    writes them, each one file that opens without a network
//
// The teacher's key is a page of its own, teacher-key.html, to which no other page leads. Add ?seed=7
// to the address of a page, or type the seed into its field, for other numbers in its exercises.
package main

import (
	"context"
	"crypto/rand"
	"errors"
	"flag"
	"fmt"
	"net"
	"net/http"
	"os"
	"os/signal"
	"time"

	"example.com/closefit/examples/kit/page/module"
	"example.com/closefit/examples/kit/version"
)

func main() {
	out := flag.String("o", "", "the folder to write the pages to; without it they are served")
	flag.Usage = func() {
		fmt.Fprintln(flag.CommandLine.Output(), "Serves a course in tolerance stacking, or writes it.\n\n\tlessons [-o DIR]")
		flag.PrintDefaults()
	}
	shown := flag.Bool("version", false, version.Usage)
	flag.Parse()
	if *shown {
		fmt.Print(version.Line("lessons"))
		return
	}
	if flag.NArg() > 0 {
		fmt.Fprintf(os.Stderr, "lessons: %q is too much; write lessons [-o DIR]\n", flag.Arg(0))
		os.Exit(2)
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := run(ctx, *out); err != nil {
		fmt.Fprintln(os.Stderr, "lessons:", err)
		os.Exit(2)
	}
}

func run(ctx context.Context, out string) error {
	text, err := module.Build(ctx, module.Lessons)
	if err != nil {
		return err
	}
	packed, err := module.Packed(text)
	if err != nil {
		return err
	}
	all, err := pages(packed)
	if err != nil {
		return err
	}
	if out != "" {
		return write(out, all)
	}
	return serve(ctx, all)
}

// serve serves the pages until the context ends.
func serve(ctx context.Context, all []file) error {
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return err
	}
	server := &http.Server{Handler: &site{all, "/" + rand.Text() + "/", listener.Addr().String()}, ReadHeaderTimeout: 10 * time.Second}
	context.AfterFunc(ctx, func() { server.Close() })
	at := "http://" + listener.Addr().String() + server.Handler.(*site).path
	fmt.Printf("The lessons are at %s\nThe teacher's key is at %s\nStop with Ctrl-C.\n", at, at+keyFile)
	if err := server.Serve(listener); !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}
