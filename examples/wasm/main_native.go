//go:build !wasip1

package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"

	"example.com/closefit/examples/kit/ask/npm"
	"example.com/closefit/examples/kit/page/module"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], os.Stderr))
}

// run is the program with its surroundings given, for tests.
func run(ctx context.Context, args []string, stderr io.Writer) (status int) {
	flags := flag.NewFlagSet("wasm", flag.ContinueOnError)
	flags.SetOutput(stderr)
	folder := flags.String("o", "", "write the package for JavaScript into the `folder`")
	embed := flags.Bool("embed", false, "put the modules where programs that are built with -tags embedded take them from")
	switch err := flags.Parse(args); {
	case errors.Is(err, flag.ErrHelp):
		return 0
	case err != nil:
		return 2
	case flags.NArg() > 0 || *folder == "" && !*embed:
		fmt.Fprintln(stderr, "wasm: write -o FOLDER for the package, or -embed")
		return 2
	}
	var err error
	if *embed {
		err = module.Embed(ctx)
	}
	if err == nil && *folder != "" {
		err = npm.Write(ctx, *folder)
	}
	if err != nil {
		fmt.Fprintf(stderr, "wasm: %v\n", err)
		return 2
	}
	return 0
}
