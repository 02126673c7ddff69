package understand

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"example.com/closefit/examples/sheetcheck/calc"
)

// The sides of its limits on which a value may lie, as the heading of a column of crosses says it.
const (
	sideIn    = "within"
	sideBelow = "below"
	sideAbove = "above"
	sideOut   = "outside"
)

// sideOf returns what a heading says of what is marked under it; empty if it says nothing of limits.
func sideOf(heading string) string {
	if good(heading) {
		return sideIn
	}
	switch strings.Trim(plainLetters.Replace(strings.ToLower(strings.TrimSpace(heading))), ".!?") {
	case "tight", "too tight", "low", "too low", "below", "under", "too small", "eng", "zu eng", "zu klein", "darunter", "serre", "trop serre", "trop petit", "en dessous", "justo", "demasiado justo", "apretado", "demasiado pequeno", "por debajo":
		return sideBelow
	case "loose", "too loose", "high", "too high", "above", "over", "too big", "too large", "weit", "zu weit", "zu gross", "daruber", "trop", "trop grand", "libre", "lache", "au dessus", "holgado", "demasiado holgado", "demasiado grande", "por encima":
		return sideAbove
	}
	if bad(heading) {
		return sideOut
	}
	return ""
}

// findMarks takes columns side by side, whose headings say on which side of its limits a value lies, for verdicts if
// they hold nothing but one mark, in one of them in most lines.
func (r *reader) findMarks(t *table) {
	for from := 0; from < len(t.columns); from++ {
		to := from
		for to < len(t.columns) && t.columns[to].item == t.columns[from].item+to-from && sideOf(t.columns[to].heading) != "" {
			to++
		}
		if to-from > 1 {
			r.marked(t.columns[from:to])
		}
		from = max(from, to-1)
	}
}

// marked says that columns hold marks, if they do.
func (r *reader) marked(some []*column) {
	mark, once := "", 0
	t := some[0].table
	for _, l := range t.lines {
		n := 0
		for _, c := range some {
			text := strings.TrimSpace(r.cell(spotOf(c, l)).Text)
			switch {
			case text == "":
				continue
			case utf8.RuneCountInString(text) > 1 || strings.ContainsAny(text, "0123456789") || mark != "" && !strings.EqualFold(mark, text):
				return
			case mark == "":
				mark = text
			}
			n++
		}
		if n == 1 {
			once++
		}
	}
	if once < leastProof || 2*once <= len(t.lines) {
		return
	}
	for _, c := range some {
		c.role, c.unit, c.mark = roleVerdict, "", mark
		c.reason = fmt.Sprintf("a mark, %q, under %q", mark, c.heading)
	}
}

// proposeMarks takes marks for verdicts on a clearance, if most of those lines agree in which the sides differ.
func (r *reader) proposeMarks(c *column, clearances []*column, by map[string][]*column) {
	t := c.table
	line := t.lines[0]
	l, ok := r.limitsOf(c, clearances, by)
	if !ok || l.judged.intent == nil {
		return
	}
	v := fmt.Sprintf("ROUND(%s,9)", t.place(line, l.judged.item))
	asks := map[string]string{
		sideBelow: fmt.Sprintf("%s<%s", v, l.low),
		sideAbove: fmt.Sprintf("%s>%s", v, l.high),
		sideIn:    fmt.Sprintf("AND(%s>=%s,%s<=%s)", v, l.low, v, l.high),
		sideOut:   fmt.Sprintf("OR(%s<%s,%s>%s)", v, l.low, v, l.high),
	}[sideOf(c.heading)]
	agree, of := 0, 0
	for _, i := range t.lines {
		side, known := r.sideIn(l, i)
		if !known {
			continue
		}
		of++
		want := side == sideOf(c.heading) || sideOf(c.heading) == sideOut && side != sideIn
		if want == !r.cell(spotOf(c, i)).Blank() {
			agree++
		}
	}
	if 2*agree <= of {
		return
	}
	if e, err := calc.Parse(fmt.Sprintf("IF(%s,%q,\"\")", asks, c.mark)); err == nil {
		c.intent, c.shape = e, e
		c.reason += fmt.Sprintf("; its marks agree with %s..%s in %d of %d lines", l.low, l.high, agree, of)
	}
}

// sideIn returns on which side of its limits a value lies in a line.
func (r *reader) sideIn(l limits, line int) (side string, ok bool) {
	t := l.judged.table
	number := func(e calc.Expr) (float64, bool) {
		moved, _ := r.moved(t, e, t.lines[0], line)
		return r.evaluate(t.sheet, moved)
	}
	v, ok := number(l.judged.intent)
	x, okX := number(l.lo)
	y, okY := number(l.hi)
	if !ok || !okX || !okY {
		return "", false
	}
	const hair = 1e-9
	switch {
	case v < x-hair:
		return sideBelow, true
	case v > y+hair:
		return sideAbove, true
	}
	return sideIn, true
}
