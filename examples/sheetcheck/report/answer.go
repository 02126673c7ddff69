package report

import (
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/examples/kit/record"
	"example.com/closefit/examples/sheetcheck/annotate"
	"example.com/closefit/examples/sheetcheck/check"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// Answer returns what a copy of the workbook says.
func Answer(r *check.Result) *annotate.Answer {
	a := &annotate.Answer{Lines: []string{heading(r), summary(r)}}
	if r.Coverage.Cells > 0 {
		a.Lines = append(a.Lines, coverage(r))
	}
	a.Lines = append(a.Lines,
		"On the other sheets the marked cells have a colour and a comment. Proposed formulas are texts, with names and commas as workbooks store them; nothing was put right.",
		Caution)
	w := &marker{answer: a, at: map[markedCell]int{}}
	for i := range r.Findings {
		f := &r.Findings[i]
		kind := annotate.Wrong
		switch {
		case f.Unfounded() || f.Severity == check.NotProven:
			kind = annotate.Unfounded
		case f.Severity == check.Style:
			kind = annotate.Latent
		}
		w.finding(kind, f.Group(), f)
	}
	for i := range r.Latent {
		w.finding(annotate.Latent, "does not show yet", &r.Latent[i])
	}
	for i := range r.Follows {
		w.finding(annotate.Follows, "only follows", &r.Follows[i])
	}
	slices.SortStableFunc(a.Marks, func(x, y annotate.Mark) int { return int(x.Kind) - int(y.Kind) })
	if lines := unchecked(r); len(lines) > 0 {
		a.Below = append([]string{"not checked"}, lines...)
	}
	if len(r.Notes) > 0 {
		a.Below = append(a.Below, "not looked at")
	}
	for _, n := range r.Notes {
		a.Below = append(a.Below, record.Printable(n))
	}
	return a
}

// A marker makes rows and marks of findings.
type marker struct {
	answer *annotate.Answer
	at     map[markedCell]int // the marks by their cells
}

type markedCell struct {
	sheet string
	at    sheet.Place
}

// mostMarked bounds the cells that are coloured of one finding.
const mostMarked = 100_000

func (w *marker) finding(kind annotate.Kind, name string, f *check.Finding) {
	listed := map[sheet.Place]bool{}
	for i, c := range f.Cells {
		listed[c.At] = true
		text := name
		if c.Claimed != "" {
			text += "\nfound: " + quoted(c.Claimed)
		}
		right := ""
		if c.Right != "" && c.Right != c.Claimed {
			right = record.Printable(c.Right)
			text += "\nright: " + right
		}
		text += "\n" + cause(f)
		for _, o := range f.Others {
			text += "\nor " + o.Mistake + ": " + record.Printable(o.Says)
		}
		formula := record.Printable(c.Formula)
		if formula != "" {
			text += "\nproposed: " + formula
		}
		if working := f.Working.Text(); working != "" && i == 0 {
			text += "\n" + strings.TrimRight(record.Printable(working), "\n")
		}
		w.mark(f.Sheet, c.At, kind, text)
		w.answer.Rows = append(w.answer.Rows, annotate.Row{Kind: kind, Name: name, Sheet: f.Sheet, At: sheet.Area{First: c.At, Last: c.At},
			Found: record.Printable(c.Claimed), Right: right, Cause: cause(f), Formula: formula})
	}
	if f.Count == len(f.Cells) || len(f.Cells) == 0 {
		return
	}
	like := fmt.Sprintf("%s\nlike %s: %s", name, f.Cells[0].At, cause(f))
	marked := 0
	for _, span := range f.Ranges {
		var first *sheet.Place
		for row := span.First.Row; row <= span.Last.Row; row++ {
			for column := span.First.Column; column <= span.Last.Column; column++ {
				at := sheet.Place{Row: row, Column: column}
				if listed[at] || marked == mostMarked {
					continue
				}
				if first == nil {
					first = &at
				}
				marked++
				w.mark(f.Sheet, at, kind, like)
			}
		}
		if first != nil {
			w.answer.Rows = append(w.answer.Rows, annotate.Row{Kind: kind, Name: name, Sheet: f.Sheet, At: sheet.Area{First: *first, Last: span.Last}, Cause: fmt.Sprintf("like %s: %s", f.Cells[0].At, cause(f))})
		}
	}
	if left := f.Count - len(f.Cells) - marked; left > 0 {
		w.answer.Below = append(w.answer.Below, fmt.Sprintf("%s, %s: %d more cells are not marked.", ranges(f), record.Printable(f.Column), left))
	}
}

// mark marks a cell, which may be marked already.
func (w *marker) mark(on string, at sheet.Place, kind annotate.Kind, text string) {
	cell := markedCell{on, at}
	if i, there := w.at[cell]; there {
		m := &w.answer.Marks[i]
		m.Kind, m.Text = min(m.Kind, kind), m.Text+"\n\n"+text
		return
	}
	w.at[cell] = len(w.answer.Marks)
	w.answer.Marks = append(w.answer.Marks, annotate.Mark{Sheet: on, At: at, Kind: kind, Text: text})
}
