package record

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"sync"
	"unicode/utf8"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/page"
)

// width is that of the text record, in characters: it prints on paper, and in a terminal as
// it is opened.
const width = 80

// large is how many bytes half of a large engine's record has. Memory that nothing is written to
// costs nothing, and to copy a buffer that grows does.
const large = 1 << 18

// writeText writes the record for reading.
func writeText(w io.Writer, a *job.Assessment) error {
	workings := sheet{bytes.NewBuffer(make([]byte, 0, large))}
	var apart sync.WaitGroup // the workings are half of the text, and no other part asks for them
	apart.Go(func() { workings.workings(a.Groups) })
	p := sheet{bytes.NewBuffer(make([]byte, 0, large))}
	p.card(a)
	p.line("")
	p.line(strings.Repeat("=", width))
	p.section("What to do next, worst first")
	for i, x := range a.Next {
		p.wrapped(fmt.Sprintf("%2d. %-8s", i+1, strings.ToUpper(x.Kind.String())), x.Text)
	}
	if len(a.Groups) > 0 {
		p.section("Verdicts")
		p.wrapped("", "Where there is room, a bar shows the reading, #, between its limits, [ and ].")
		p.line("")
	}
	for i, g := range a.Groups {
		if i > 0 {
			p.line("")
		}
		p.group(g)
	}
	if len(a.Looked) > 0 {
		p.section("Looked at")
		t := table{}
		for _, x := range a.Looked {
			t.row(x.Name(), x.State)
		}
		p.table(t)
	}
	for _, s := range a.Shells {
		p.shells(s)
	}
	p.plan("Trial assembly", a.Trial, a.Gate(job.Trial))
	p.plan("Tightening plan", a.Plan, a.Gate(job.Final))
	p.films(a.Films)
	apart.Wait()
	p.w.Write(workings.w.Bytes())
	p.section("Cautions")
	for _, c := range a.Cautions {
		p.wrapped("  - ", c)
	}
	_, err := w.Write(p.w.Bytes())
	return err
}

// card writes the bench card.
func (p sheet) card(a *job.Assessment) {
	c := a.Card()
	p.wrapped("", "BENCH CARD: "+a.Title)
	p.wrapped("", a.Note)
	p.wrapped("", measured(a))
	for _, warning := range c.Warnings {
		p.wrapped("", warning)
	}
	p.section("Gates")
	t := table{}
	for _, g := range c.Gates {
		lines := against(g)
		if g.Open {
			lines = []string{known(g)}
		}
		for i, l := range lines {
			if i == 0 {
				t.row(g.Before.String(), passing(g), l)
			} else {
				t.row("", "", l)
			}
		}
	}
	p.table(t)
	if len(c.Words) > 0 {
		p.section("Accepted or left out, and not proven")
		for _, w := range c.Words {
			p.wrapped("  - ", word(w))
		}
	}
	p.section("The crankshaft, from the front")
	t = table{}
	shells := hasShells(c)
	if shells {
		t.row("", "upper", "lower", "clearance", "")
	} else {
		t.row("", "clearance", "")
	}
	for _, st := range c.Crank {
		for _, s := range st.Seats {
			name, mark := seatName(st, s), ""
			if st.Pin {
				name = "  " + name
			}
			if s.HeldBack {
				mark = " ×"
			}
			if shells {
				t.row(name, shell(s.Upper)+mark, shell(s.Lower)+mark, clearance(s), seatStanding(s))
			} else {
				t.row(name, clearance(s), seatStanding(s))
			}
		}
	}
	p.table(t)
	p.wrapped("  ", heldBack(c))
	if len(c.Pulls) > 0 {
		p.section("Torques")
		for _, x := range c.Pulls {
			p.wrapped("  ", pullsTitle(x))
			p.wrapped("    ", pullsLine(x))
			if again(c, x) {
				p.wrapped("    ", "order: as in the final assembly, below")
				continue
			}
			for _, o := range orders(x) {
				p.wrapped("    ", o)
			}
			for _, h := range x.Held {
				p.wrapped("    ", h.Names()+" HOLD: "+h.Why)
			}
		}
	}
	p.section("Checks")
	for i, x := range c.Checks {
		if i == 0 || x.When != c.Checks[i-1].When {
			p.wrapped("  ", title(x.When))
		}
		p.wrapped("    [ ] ", x.What)
	}
}

// sheet writes the parts of the text record.
type sheet struct{ w *bytes.Buffer }

func (p sheet) line(s string) {
	p.w.WriteString(Printable(strings.TrimRight(s, " ")))
	p.w.WriteByte('\n')
}

func (p sheet) section(name string) {
	p.line("")
	p.line(strings.ToUpper(name))
	p.line(strings.Repeat("-", utf8.RuneCountInString(name)))
}

// wrapped writes a text behind a prefix, folded to the page with the further
// lines set in as far as the prefix. A word that is longer than a line is broken.
func (p sheet) wrapped(prefix, text string) {
	if text == "" {
		return
	}
	for i, l := range page.Wrap(text, max(width-utf8.RuneCountInString(prefix), width/4)) {
		if i == 1 {
			prefix = strings.Repeat(" ", utf8.RuneCountInString(prefix))
		}
		p.w.WriteString(Printable(prefix))
		p.line(l)
	}
}

// group writes the findings judged against the same limits.
func (p sheet) group(g job.Group) {
	p.wrapped("", heading(g))
	t, bars := table{}, barred(g)
	for _, f := range g.Findings {
		if bars {
			t.row(f.Location, f.Measured.Text, bar(f.Drawing), f.Verdict.String(), f.How)
		} else {
			t.row(f.Location, f.Measured.Text, f.Verdict.String(), f.How)
		}
	}
	p.table(t)
}

// workings writes the arithmetic behind the findings, as the first of its sheet.
func (p sheet) workings(groups []job.Group) {
	for _, g := range groups {
		for _, f := range g.Findings {
			if f.Working == nil {
				continue
			}
			if p.w.Len() == 0 {
				p.section("Working")
			}
			for l := range strings.SplitSeq(f.Working.Text(), "\n") {
				text := strings.TrimLeft(l, " ")
				p.wrapped(strings.Repeat(" ", len(l)-len(text)), text)
			}
		}
	}
}

// shells writes which shells go where, and what to buy.
func (p sheet) shells(s job.Shells) {
	p.section("Shells, " + s.Bearings)
	t := table{}
	for _, c := range s.Choices {
		t.row(c.Location, c.Half, "code "+c.Code, c.Grade)
	}
	p.table(t)
	for _, l := range s.Locations {
		if l.Standing != job.Proven {
			p.wrapped("  ", l.Location+": "+l.Standing.String()+", "+l.Why+".")
		}
		for _, note := range l.Notes {
			p.wrapped("  ", l.Location+": "+note+".")
		}
	}
	if s.Purchase != nil {
		p.line("")
		p.line("Shopping list")
		p.purchase(*s.Purchase)
	}
	if s.Offer != nil {
		p.line("")
		p.wrapped("", "Shopping list with other shells: "+fits(s.Offer))
		p.purchase(s.Offer.Purchase)
	}
}

// purchase writes what to buy.
func (p sheet) purchase(x job.Purchase) {
	t := table{}
	for _, l := range x.Lines {
		t.row(fmt.Sprintf("%d x", l.Count), l.Pack, "at "+l.Each, l.Sum)
	}
	if len(x.Lines) == 0 {
		t.row("nothing to buy")
	} else {
		t.row("", "total", "", x.Total)
	}
	p.table(t)
	p.parts("On hand", x.OnHand)
	p.parts("Left over", x.LeftOver)
	p.wrapped("  ", x.Proof)
}

func (p sheet) parts(name string, parts []job.Parts) {
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
func (p sheet) plan(name string, steps []job.PlanStep, g job.Gate) {
	if len(steps) == 0 {
		return
	}
	p.section(name)
	p.wrapped("", shut(g))
	held := holdsOf(steps)
	for i, stage := range stages(steps) {
		if i > 0 || !g.Open {
			p.line("")
		}
		p.wrapped("", stage.heading())
		t := table{}
		for _, s := range stage {
			t.row("[ ]", fmt.Sprintf("%3d", s.Number), s.Bolt, held.instruction(s))
		}
		p.table(t)
	}
}

// table is rows of cells, set in columns.
type table struct{ rows [][]string }

func (t *table) row(cells ...string) { t.rows = append(t.rows, cells) }

// lastWide is how wide the last column of a table is at least.
const lastWide = 26

// table writes the rows, each cell folded within its column.
func (p sheet) table(t table) {
	var widths []int
	for _, cells := range t.rows {
		for i, c := range cells[:len(cells)-1] {
			if i == len(widths) {
				widths = append(widths, 0)
			}
			widths[i] = max(widths[i], utf8.RuneCountInString(c))
		}
	}
	left := width - lastWide - 2
	for _, w := range widths {
		left -= w + 2
	}
	for ; left < 0; left++ {
		widest := 0
		for i := range widths {
			if widths[i] > widths[widest] {
				widest = i
			}
		}
		widths[widest]--
	}
	for _, cells := range t.rows {
		at := 2
		var lines []string
		for i, c := range cells {
			most := width - at
			if i < len(widths) && i < len(cells)-1 {
				most = widths[i]
			}
			for k, text := range foldCell(c, most) {
				if k == len(lines) {
					lines = append(lines, "")
				}
				lines[k] += strings.Repeat(" ", max(0, at-utf8.RuneCountInString(lines[k]))) + text
			}
			at += most + 2
		}
		for _, l := range lines {
			p.line(l)
		}
	}
}

// foldCell breaks a cell, which may be set in, into lines.
func foldCell(text string, most int) []string {
	indent := text[:len(text)-len(strings.TrimLeft(text, " "))]
	lines := page.Wrap(text, max(1, most-len(indent)))
	if lines == nil {
		return []string{""}
	}
	for i := range lines {
		lines[i] = indent + lines[i]
	}
	return lines
}

// shut says that a gate is shut; nothing of one that is open.
func shut(g job.Gate) string {
	switch {
	case g.Open:
		return ""
	case len(g.Shut) == 1:
		return "Do not begin: 1 thing stands against it. See what to do next."
	}
	return fmt.Sprintf("Do not begin: %d things stand against it. See what to do next.", len(g.Shut))
}
