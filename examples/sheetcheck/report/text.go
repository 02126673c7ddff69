package report

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"example.com/closefit/examples/kit/record"
	"example.com/closefit/examples/sheetcheck/check"
	"example.com/closefit/examples/sheetcheck/understand"
)

func writeText(out io.Writer, r *check.Result, u *understand.Understanding) error {
	w := bufio.NewWriter(out)
	fmt.Fprintf(w, "%s\n%s\n", heading(r), summary(r))
	if u != nil {
		writeUnderstanding(w, u)
	}
	group := ""
	findings := check.Group(r.Findings)
	for i := range findings {
		f := &findings[i]
		if f.Group() != group {
			group = f.Group()
			fmt.Fprintf(w, "\n%s\n", strings.ToUpper(group))
		}
		writeFinding(w, f)
	}
	for _, list := range []struct {
		name     string
		findings []check.Finding
	}{{"faults that do not show yet", check.Group(r.Latent)}, {"what only follows", check.Group(r.Follows)}} {
		for i := range list.findings {
			if i == 0 {
				fmt.Fprintf(w, "\n%s\n", strings.ToUpper(list.name))
			}
			writeFinding(w, &list.findings[i])
		}
	}
	if r.Coverage.Cells > 0 || u != nil {
		fmt.Fprintf(w, "\nCOVERAGE\n  %s\n", coverage(r))
		for _, line := range append(unchecked(r), unlooked(r)...) {
			fmt.Fprintf(w, "  %s\n", line)
		}
	}
	if len(r.Notes) > 0 {
		fmt.Fprint(w, "\nNOT LOOKED AT\n")
	}
	for _, n := range r.Notes {
		fmt.Fprintf(w, "  %s\n", record.Printable(n))
	}
	fmt.Fprintf(w, "\n%s\n", Caution)
	return w.Flush()
}

// shownCells is how many cells of one finding the text lists.
const shownCells = 5

func writeFinding(w io.Writer, f *check.Finding) {
	fmt.Fprintf(w, "  %s, %s\n", ranges(f), record.Printable(f.Column))
	for i, c := range f.Cells {
		if i == shownCells {
			fmt.Fprintf(w, "    … %d more\n", f.Count-i)
			break
		}
		location := ""
		if c.Location != "" {
			location = " " + quoted(c.Location)
		}
		fmt.Fprintf(w, "    %s%s holds %s", c.At, location, quoted(c.Claimed))
		if c.Right != "" && c.Right != c.Claimed {
			fmt.Fprintf(w, "; right is %s", record.Printable(c.Right))
		}
		fmt.Fprintln(w)
	}
	fmt.Fprintf(w, "    -> %s\n", causeOfFirst(f))
	for _, o := range f.Others {
		fmt.Fprintf(w, "       or %s: %s\n", o.Mistake, record.Printable(o.Says))
	}
	if working := f.Working.Text(); working != "" {
		for line := range strings.Lines(record.Printable(working)) {
			fmt.Fprintf(w, "       | %s", line)
		}
	}
}
