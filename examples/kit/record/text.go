package record

import (
	"bufio"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"example.com/closefit/examples/kit/job"
)

// width is that of the text record, in characters: it prints on paper.
const width = 96

// writeText writes the record for reading.
func writeText(w io.Writer, a *job.Assessment) error {
	b := bufio.NewWriter(w)
	p := page{b}
	p.line(strings.ToUpper("Build record: ") + a.Title)
	p.wrapped("", a.Note)
	p.wrapped("", measured(a))
	if len(a.Looked) > 0 {
		p.section("Looked at")
		t := table{}
		for _, x := range a.Looked {
			t.row(x.Name(), x.State)
		}
		p.table(t)
	}
	if len(a.Groups) > 0 {
		p.section("Verdicts")
	}
	for i, g := range a.Groups {
		if i > 0 {
			p.line("")
		}
		p.group(g)
	}
	for _, s := range a.Shells {
		p.shells(s)
	}
	if len(a.Plan) > 0 {
		p.plan(a)
	}
	p.section("What to do next, worst first")
	for i, x := range a.Next {
		p.wrapped(fmt.Sprintf("%2d. %-8s", i+1, strings.ToUpper(x.Kind.String())), x.Text)
	}
	p.section("Cautions")
	for _, c := range a.Cautions {
		p.wrapped("  - ", c)
	}
	p.workings(a.Verdicts())
	return b.Flush()
}

// page writes the parts of the text record.
type page struct{ w *bufio.Writer }

func (p page) line(s string) { fmt.Fprintln(p.w, Printable(strings.TrimRight(s, " "))) }

func (p page) section(name string) {
	p.line("")
	p.line(strings.ToUpper(name))
	p.line(strings.Repeat("-", utf8.RuneCountInString(name)))
}

// wrapped writes a text behind a prefix, folded to the page with the further
// lines set in as far as the prefix.
func (p page) wrapped(prefix, text string) {
	if text == "" {
		return
	}
	indent := strings.Repeat(" ", utf8.RuneCountInString(prefix))
	line := prefix
	room := false
	for _, word := range strings.Fields(text) {
		if room && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > width {
			p.line(line)
			line, room = indent, false
		}
		if room {
			line += " "
		}
		line += word
		room = true
	}
	p.line(line)
}

// group writes the findings judged against the same limits.
func (p page) group(g job.Group) {
	p.line(title(heading(g)))
	t := table{}
	for _, f := range g.Findings {
		t.row(f.Location, f.Measured.Text, f.Verdict.String(), f.How)
	}
	p.table(t)
}

// workings writes the arithmetic behind the findings.
func (p page) workings(findings []job.Finding) {
	begun := false
	for _, f := range findings {
		if f.Working == nil {
			continue
		}
		if !begun {
			p.section("Working")
			begun = true
		}
		for l := range strings.Lines(f.Working.Text()) {
			text := strings.TrimLeft(l, " ")
			p.wrapped(strings.Repeat(" ", len(l)-len(text)), text)
		}
	}
}

// shells writes which shells go where, and what to buy.
func (p page) shells(s job.Shells) {
	p.section("Shells, " + s.Bearings)
	t := table{}
	for _, c := range s.Choices {
		t.row(c.Location, c.Half, "code "+c.Code, c.Grade)
	}
	p.table(t)
	if s.Purchase == nil {
		return
	}
	p.line("")
	p.line("Shopping list")
	t = table{}
	for _, l := range s.Purchase.Lines {
		t.row(fmt.Sprintf("%d x", l.Count), l.Pack, "at "+l.Each, l.Sum)
	}
	if len(s.Purchase.Lines) == 0 {
		t.row("nothing to buy")
	} else {
		t.row("", "total", "", s.Purchase.Total)
	}
	p.table(t)
	p.parts("On hand", s.Purchase.OnHand)
	p.parts("Left over", s.Purchase.LeftOver)
	p.wrapped("  ", s.Purchase.Proof)
}

func (p page) parts(name string, parts []job.Parts) {
	if len(parts) == 0 {
		return
	}
	texts := make([]string, len(parts))
	for i, x := range parts {
		texts[i] = fmt.Sprintf("%d %s", x.Count, x.Part)
	}
	p.wrapped("  ", name+": "+strings.Join(texts, ", ")+".")
}

// plan writes the tightening, stage by stage, with a box to tick for each step.
func (p page) plan(a *job.Assessment) {
	p.section("Tightening plan")
	p.wrapped("", shut(a.Gate(job.Final)))
	for i, stage := range stages(a.Plan) {
		if i > 0 || !a.Gate(job.Final).Open {
			p.line("")
		}
		p.line(stage.heading())
		t := table{}
		for _, s := range stage {
			t.row("[ ]", fmt.Sprintf("%3d", s.Number), s.Bolt, instruction(s))
		}
		p.table(t)
	}
}

// table is rows of cells, set in columns.
type table struct{ rows [][]string }

func (t *table) row(cells ...string) { t.rows = append(t.rows, cells) }

// table writes the rows; the last column runs on.
func (p page) table(t table) {
	var widths []int
	for _, cells := range t.rows {
		for i, c := range cells {
			if i == len(widths) {
				widths = append(widths, 0)
			}
			widths[i] = max(widths[i], utf8.RuneCountInString(c))
		}
	}
	for _, cells := range t.rows {
		line := "  "
		for i, c := range cells {
			if i == len(cells)-1 {
				break
			}
			line += c + strings.Repeat(" ", widths[i]-utf8.RuneCountInString(c)+2)
		}
		if last := cells[len(cells)-1]; last != "" {
			p.wrapped(line, last)
		} else {
			p.line(line)
		}
	}
}

// shut says that a gate is shut; nothing of one that is open.
func shut(g job.Gate) string {
	if g.Open {
		return ""
	}
	return fmt.Sprintf("Do not begin: %d things stand against it. See what to do next.", len(g.Shut))
}
