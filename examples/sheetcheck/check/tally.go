package check

import (
	"slices"
	"strings"

	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/units"
)

// What is kept of a finding, however many cells it has.
const (
	mostRanges = 500
	mostCells  = 100
)

// An explanation is a mistake that gives the value found at one cell.
type explanation struct {
	mistake string
	says    string
	uses    []sheet.Place // cells that somebody who makes it reads
	omits   []sheet.Place // and cells that he does not
	score   int           // what the cell's formula says for it: above zero, or against it
}

// An observation is one cell that is wrong.
type observation struct {
	severity       Severity
	claimed, right string
	causes         []explanation        // likeliest first
	working        func() units.Working // of the right value; may be nil
}

// A tally gathers what one check observes: cells next to one another that share a
// mistake are a run, and all runs of a mistake are one finding.
type tally struct {
	table, sheet, column string
	location             spot
	claims               int
	runs                 [Style + 1]*run
	findings             []*Finding
}

// A run is cells one after another with a mistake in common.
type run struct {
	causes  []explanation // of the first
	working units.Working
	common  []explanation // the first's, as far as every cell has them
	sameTop bool          // all have the same likeliest one
	span    Span
	last    int // number of the last row
	count   int
	cells   []Cell
}

// observe notes a cell that is wrong, in the window's current row.
func (t *tally) observe(w *window, s spot, o observation) {
	at := w.place(s)
	r := t.runs[o.severity]
	if r == nil || !r.absorb(w.current.Number, o) {
		t.end(o.severity)
		r = &run{causes: o.causes, common: o.causes, sameTop: true, span: Span{First: at}}
		if o.working != nil && len(t.findings) < mostCells {
			r.working = o.working()
		}
		t.runs[o.severity] = r
	}
	r.span.Last, r.last = at, w.current.Number
	r.count++
	if len(r.cells) < mostCells {
		c := Cell{At: at, Claimed: strings.Clone(o.claimed), Right: o.right} // what is kept must not keep a whole chunk of the file
		if t.location != (spot{}) {
			c.Location = strings.Clone(w.at(t.location).Text)
		}
		r.cells = append(r.cells, c)
	}
}

// absorb reports whether the cell in the row shares the run's mistake, and narrows
// what is common.
func (r *run) absorb(row int, o observation) bool {
	if row != r.last+1 {
		return false
	}
	if len(r.common) == 0 || len(o.causes) == 0 {
		return len(r.causes) == 0 && len(o.causes) == 0
	}
	common := slices.DeleteFunc(slices.Clone(r.common), func(e explanation) bool { return !has(o.causes, e.mistake) })
	sameTop := r.sameTop && r.causes[0].mistake == o.causes[0].mistake
	if !sameTop && !has(common, Absolute) {
		return false
	}
	r.common, r.sameTop = common, sameTop
	return true
}

func has(all []explanation, mistake string) bool {
	return slices.ContainsFunc(all, func(e explanation) bool { return e.mistake == mistake })
}

// cause is the mistake of the whole run. One that is made by copying down shows in
// more cells than one; in a single cell it comes after the others, unless the
// formula shows it.
func (r *run) cause() (likeliest explanation, others []explanation) {
	if len(r.common) == 0 {
		return explanation{}, nil
	}
	best := 0
	i := slices.IndexFunc(r.common, func(e explanation) bool { return e.mistake == Absolute })
	switch {
	case !r.sameTop:
		best = i
	case r.count == 1 && i == 0 && len(r.common) > 1 && r.common[0].score == 0:
		best = 1
	}
	return r.common[best], slices.Delete(slices.Clone(r.common), best, best+1)
}

// end closes the open run of a severity.
func (t *tally) end(s Severity) {
	r := t.runs[s]
	if r == nil {
		return
	}
	t.runs[s] = nil
	likeliest, others := r.cause()
	f := t.finding(s, likeliest.mistake)
	if f.Count == 0 {
		f.Cause = Cause{Mistake: likeliest.mistake, Says: likeliest.says}
		for _, o := range others {
			if len(f.Others) < 5 && o.mistake != likeliest.mistake {
				f.Others = append(f.Others, Cause{Mistake: o.mistake, Says: o.says})
			}
		}
		f.Working = r.working
	}
	f.Count += r.count
	if len(f.Ranges) < mostRanges {
		f.Ranges = append(f.Ranges, r.span)
	}
	f.Cells = append(f.Cells, r.cells[:min(len(r.cells), mostCells-len(f.Cells))]...)
}

func (t *tally) finding(s Severity, mistake string) *Finding {
	for _, f := range t.findings {
		if f.Severity == s && f.Cause.Mistake == mistake {
			return f
		}
	}
	f := &Finding{Severity: s, Table: t.table, Sheet: t.sheet, Column: t.column}
	t.findings = append(t.findings, f)
	return f
}

// close ends all runs.
func (t *tally) close() {
	for s := range Style + 1 {
		t.end(s)
	}
}
