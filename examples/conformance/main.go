// Command conformance asks a program what closefit knows, and says by topic what the program
// answers right, what it answers wrong, and what that would do to an engine.
//
//	go run ./examples/conformance -- python3 mine.py     asks a program of yours everything
//	go run ./examples/conformance -topics convert,judge -- ./mine
//	go run ./examples/conformance -list                   says what there is to ask
//	go run ./examples/conformance -answer                 answers, with the library
//
// QUESTIONS.md, beside this file, says what the questions hold. The exit status is 0 if all that
// was asked is answered right, 1 if something is wrong or not answered, and 2 for wrong usage.
package main

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"slices"
	"strings"
	"syscall"
	"text/tabwriter"
	"time"

	"github.com/schollz/progressbar/v3"

	"example.com/closefit/examples/kit/conform"
	"example.com/closefit/examples/kit/files/wholefile"
	"example.com/closefit/examples/kit/version"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

const usage = `Asks a program what closefit knows, and reports what it gets wrong.

	conformance [-topics LIST] [-format text|json] [-o FILE] -- COMMAND [ARGUMENT…]
	conformance -list
	conformance -answer

QUESTIONS.md says what the questions hold. Exit status: 0 all right, 1 something is wrong or not
answered, 2 wrong usage.

`

func run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("conformance", flag.ContinueOnError)
	flags.SetOutput(stderr)
	flags.Usage = func() { fmt.Fprint(stderr, usage); flags.PrintDefaults() }
	topics := flags.String("topics", "", "ask these topics alone, with commas between: "+strings.Join(conform.Topics(), ","))
	format := flags.String("format", "text", "of the report: text or json")
	out := flags.String("o", "", "write the report to this file")
	list := flags.Bool("list", false, "say what there is to ask")
	answer := flags.Bool("answer", false, "answer questions from standard input, with the library")
	silence := flags.Duration("silence", time.Minute, "stop the program if it writes no line for so long")
	whole := flags.Duration("time", 15*time.Minute, "stop the program after so long")
	shown := flags.Bool("version", false, version.Usage)
	switch err := flags.Parse(args); {
	case errors.Is(err, flag.ErrHelp):
		return 0
	case err != nil:
		return 2
	case *shown:
		fmt.Fprint(stdout, version.Line("conformance"))
		return 0
	}
	bad := func(format string, of ...any) int {
		fmt.Fprintf(stderr, "conformance: "+format+"\n", of...)
		return 2
	}
	if *answer || *list {
		if flags.NArg() > 0 {
			return bad("%.60q is too much beside -answer or -list; leave it out", flags.Arg(0))
		}
	}
	if *answer {
		if err := conform.Answer(ctx, stdin, stdout); err != nil {
			return bad("%v", err)
		}
		return 0
	}
	asked := conform.Topics()
	if *topics != "" {
		asked = strings.Split(*topics, ",")
	}
	for _, t := range asked {
		if !slices.Contains(conform.Topics(), t) {
			return bad("no topic %.60q; write some of %s", t, strings.Join(conform.Topics(), ","))
		}
	}
	switch {
	case *list: // needs none of the others
	case *format != "text" && *format != "json":
		return bad("no format %.60q; write text or json", *format)
	case *silence <= 0 || *whole <= 0:
		return bad("-silence and -time are above zero")
	case flags.NArg() == 0:
		return bad("no program to ask; write conformance -- COMMAND")
	}
	vectors, err := conform.Vectors(asked...)
	if err != nil {
		return bad("%v", err)
	}
	if *list {
		if err := writeList(stdout, vectors); err != nil {
			return bad("%v", err)
		}
		return 0
	}
	bar := progressbar.NewOptions(len(vectors), progressbar.OptionSetWriter(stderr), progressbar.OptionSetDescription("answered"),
		progressbar.OptionShowCount(), progressbar.OptionThrottle(200*time.Millisecond), progressbar.OptionClearOnFinish(), progressbar.OptionSetVisibility(isTerminal(stderr)))
	report, err := conform.Run(ctx, conform.Asking{Command: flags.Args(), Vectors: vectors, Bounds: conform.Bounds{Silence: *silence, Whole: *whole}, Errors: stderr,
		Progress: func(n int) { bar.Set(n) }})
	bar.Finish()
	if err != nil {
		return bad("%v; give a program that can be started", err)
	}
	write := report.Text
	if *format == "json" {
		write = report.JSON
	}
	if *out == "" {
		err = write(stdout)
	} else {
		var text bytes.Buffer
		if err = write(&text); err == nil {
			err = wholefile.Write(*out, text.Bytes())
		}
	}
	if err != nil {
		return bad("%v", err)
	}
	if !report.Passed {
		return 1
	}
	return 0
}

// isTerminal reports whether somebody watches.
func isTerminal(w io.Writer) bool {
	f, is := w.(*os.File)
	if !is {
		return false
	}
	at, err := f.Stat()
	return err == nil && at.Mode()&os.ModeCharDevice != 0
}

// writeList says how many vectors each topic has, by kind and by what they rest on.
func writeList(w io.Writer, vectors []conform.Vector) error {
	bases := []conform.Basis{conform.Fact, conform.Table, conform.Arithmetic}
	type place struct{ topic, kind string }
	count := map[place]map[conform.Basis]int{}
	var order []place
	all := map[conform.Basis]int{}
	for _, v := range vectors {
		p := place{v.Topic, v.Kind}
		if count[p] == nil {
			count[p] = map[conform.Basis]int{}
			order = append(order, p)
		}
		count[p][v.Basis]++
		all[v.Basis]++
	}
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "topic\tkind\tfacts\tof tables\tarithmetic\tall")
	line := func(topic, kind string, n map[conform.Basis]int) {
		sum := 0
		fmt.Fprintf(t, "%s\t%s", topic, kind)
		for _, b := range bases {
			sum += n[b]
			fmt.Fprintf(t, "\t%d", n[b])
		}
		fmt.Fprintf(t, "\t%d\n", sum)
	}
	for _, p := range order {
		line(p.topic, p.kind, count[p])
	}
	line("all", "", all)
	return t.Flush()
}
