package measuring

import (
	"fmt"
	"io"
	"strings"

	"example.com/closefit/examples/kit/drawing"
	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/page"
	"example.com/closefit/examples/kit/record"
)

// wide is how many letters a line of the text has at the most.
const wide = 80

// writeText writes the sheet in plain characters.
func writeText(w io.Writer, s *job.Sheet) error {
	var b strings.Builder
	put := func(indent int, text string) {
		for _, l := range page.Wrap(text, wide-indent) {
			fmt.Fprintf(&b, "%s%s\n", strings.Repeat(" ", indent), l)
		}
	}
	put(0, "MEASURING SHEET: "+s.Title)
	put(0, fmt.Sprintf("%d readings open. Date: ____________ By: ______________________", open(s)))
	put(0, caution+" "+stations)
	if len(s.NoLimits) > 0 {
		b.WriteString("\n")
		put(0, "Limits still to be written: "+strings.Join(s.NoLimits, ", ")+".")
	}
	if len(s.NotSaid) > 0 {
		b.WriteString("\n")
		put(0, "Still open about these readings: "+strings.Join(s.NotSaid, "; ")+".")
	}
	for _, p := range s.Parts {
		fmt.Fprintf(&b, "\n%s\n%s\n", strings.ToUpper(p.Name), strings.Repeat("=", len(p.Name)))
		for _, name := range pictures(p) {
			f, _ := drawing.Where(name)
			fmt.Fprintf(&b, "\n%s\n", f.Text)
			put(2, f.Name+": "+f.Says+".")
		}
		for _, l := range p.Lines {
			b.WriteString("\n")
			put(0, heading(l))
			put(2, "with: "+l.With)
			if len(l.Conditions) > 0 {
				put(2, "only with: "+strings.Join(l.Conditions, ", "))
			}
			put(2, "how: "+l.How)
			for _, reading := range l.Readings {
				room(&b, reading, l)
			}
		}
	}
	_, err := io.WriteString(w, record.Printable(b.String()))
	return err
}

// heading is a line's name with its limits.
func heading(l job.SheetLine) string {
	switch {
	case l.For != "":
		return l.Name + ", for " + l.For
	case len(l.Limits) == 0:
		return l.Name
	}
	return l.Name + ", limits " + strings.Join(l.Limits, ", ")
}

// room is a reading's name with room to write.
func room(b *strings.Builder, name string, l job.SheetLine) {
	var planes []string
	for range l.Planes {
		planes = append(planes, strings.TrimSpace(strings.Repeat("_________ ", l.Stations)))
	}
	text := "  [ ] " + name
	blank := strings.Join(planes, "; ") + " " + l.Unit
	if l.Planes*l.Stations == 1 {
		blank = "________________ " + l.Unit
	}
	const from = 40
	if n := max(from-len([]rune(text)), 2); len([]rune(text))+n+len([]rune(blank)) <= wide {
		fmt.Fprintf(b, "%s%s%s\n", text, strings.Repeat(" ", n), blank)
		return
	}
	fmt.Fprintf(b, "%s\n%s%s\n", text, strings.Repeat(" ", max(wide-len([]rune(blank)), 6)), blank)
}
