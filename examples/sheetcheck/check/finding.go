package check

import (
	"fmt"
	"regexp"
	"slices"

	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/units"
)

// A Severity says how much a finding matters, the worst first.
type Severity uint8

const (
	WrongVerdict Severity = iota // a part is passed or failed that should not be, or an error stands in its place
	WrongValue                   // a number is not what its readings give
	NotProven                    // the claim may be right, but its readings do not prove it
	Style                        // nothing wrong yet
)

// String returns the severity in words.
func (s Severity) String() string {
	switch s {
	case WrongVerdict:
		return "verdict wrong"
	case WrongValue:
		return "value wrong"
	case NotProven:
		return "not proven"
	case Style:
		return "style"
	}
	return fmt.Sprintf("Severity(%d)", uint8(s))
}

// MarshalText returns String.
func (s Severity) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// A Finding is one thing that is wrong, in one cell or in many.
type Finding struct {
	Severity Severity
	Table    string // the map's name for it
	Sheet    string // of the workbook; empty for a text file
	Column   string // the map's name for it
	Count    int    // how many cells have it
	Ranges   []Span // where they stand; the first of them, if they are very many
	Cells    []Cell // the first of them, with what they hold
	Cause    Cause  // the likeliest mistake; the zero Cause if no known one explains it
	Others   []Cause
	Working  units.Working // how the first cell's right value comes about
	From     []string      // of one that follows: the cells that it stands on, as "Mains!F7"
}

// Group returns the words under which the finding is reported. A verdict beside an empty
// reading or a limit that is not there comes before all others.
func (f *Finding) Group() string {
	if f.Unfounded() {
		return "a verdict with nothing behind it"
	}
	return f.Severity.String()
}

// Unfounded reports whether a verdict has nothing behind it.
func (f *Finding) Unfounded() bool {
	return f.Cause.Mistake == NoLimit || f.Cause.Mistake == NoReading && f.Severity == WrongVerdict
}

// compare orders findings, the worst first.
func (f *Finding) compare(other *Finding) int {
	rank := func(f *Finding) int {
		if f.Unfounded() {
			return -1
		}
		return int(f.Severity)
	}
	return rank(f) - rank(other)
}

// A Cell is a cell that is wrong.
type Cell struct {
	At       sheet.Place `json:"cell"`
	Location string      `json:"location,omitempty"` // what the sheet calls it
	Claimed  string      `json:"claimed"`            // as stored
	Right    string      `json:"right,omitempty"`    // what its readings give, with the unit
	Says     string      `json:"says,omitempty"`     // the cause in a sentence, for this cell
	Formula  string      `json:"formula,omitempty"`  // that should stand there, if another does or none
}

// A Cause is a mistake that gives the value found.
type Cause struct {
	Mistake string `json:"mistake"` // from the catalogue: "decimal point moved"
	Says    string `json:"says"`    // in a sentence, for the first cell

	Evidence Evidence `json:"evidence,omitempty"`
}

// An Evidence is what speaks for a cause.
type Evidence string

const (
	Formula Evidence = "formula" // the formula in the cell, or the cells that it stands on, show it
	Fits    Evidence = "fits"    // it would give what was found, and nothing else shows it
)

// An explanation is a mistake that may be the cause of what was found at one cell.
type explanation struct {
	mistake, says string
	evidence      Evidence
}

// What is kept of a finding, however many cells it has.
const (
	mostRanges = 500
	mostCells  = 100
)

// Group returns the findings with those of one column, which say the same from each cell, as one.
func Group(findings []Finding) (all []Finding) {
	where := map[string]int{}
	for _, f := range findings {
		key := fmt.Sprint(f.Severity, "\x00", f.Table, "\x00", f.Sheet, "\x00", f.Column, "\x00", f.Cause.Mistake, "\x00", generally(f.Cause.Says, f.Cells[0].At))
		if i, known := where[key]; known && f.Cause.Mistake != "" {
			all[i].absorb(&f)
			continue
		}
		where[key] = len(all)
		f.Cells, f.Ranges = slices.Clone(f.Cells), slices.Clone(f.Ranges)
		all = append(all, f)
	}
	return all
}

// generally writes a sentence about a cell with each cell that it names by how far away it is.
func generally(says string, from sheet.Place) string {
	return cellNames.ReplaceAllStringFunc(says, func(name string) string {
		at, err := sheet.ParsePlace(name)
		if err != nil {
			return name
		}
		return fmt.Sprintf("R[%d]C[%d]", at.Row-from.Row, at.Column-from.Column)
	})
}

// cellNames are places that move from line to line.
var cellNames = regexp.MustCompile(`\b[A-Z]{1,3}[0-9]+\b`)

// absorb adds the cell of another finding with the same cause, further down or to the right.
func (f *Finding) absorb(other *Finding) {
	f.Count += other.Count
	if len(f.Cells) < mostCells {
		f.Cells = append(f.Cells, other.Cells...)
	}
	last, next := &f.Ranges[len(f.Ranges)-1], other.Ranges[0]
	down := next.First == sheet.Place{Row: last.Last.Row + 1, Column: last.Last.Column} && last.First.Column == last.Last.Column
	across := next.First == sheet.Place{Row: last.Last.Row, Column: last.Last.Column + 1} && last.First.Row == last.Last.Row
	switch {
	case down || across:
		last.Last = next.Last
	case len(f.Ranges) < mostRanges:
		f.Ranges = append(f.Ranges, next)
	}
}

// short cuts a text that is quoted in a sentence.
func short(text string) string {
	runes := []rune(text)
	if len(runes) <= 40 {
		return text
	}
	return string(runes[:40]) + "…"
}

// A Span is cells one after another, in one column or one row.
type Span struct {
	First, Last sheet.Place
}

// String returns the span as spreadsheets write it: "F7" or "F7:F12".
func (s Span) String() string {
	if s.First == s.Last {
		return s.First.String()
	}
	return s.First.String() + ":" + s.Last.String()
}

// MarshalText returns String.
func (s Span) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// Unexplained is what is said where no known mistake gives the value found.
const Unexplained = "no known mistake explains it"

// A Result is what checking found.
type Result struct {
	Title     string
	File      string
	Encoding  string // that a text file is taken to be in, where nothing in it says so
	Rows      int    // locations read
	Claims    int    // claims compared
	Findings  []Finding
	Latent    []Finding // faults that do not show yet
	Follows   []Finding // what only follows from another finding
	Coverage  Coverage
	Unchecked []Unchecked
	Unlooked  []Unlooked
	Notes     []string // what was not looked at, and why; how a text file was read, where nothing says so
}

// addLatent adds faults that do not show, but for cells that have the same mistake already.
func (r *Result) addLatent(more []Finding) {
	if len(more) == 0 {
		return
	}
	type place struct {
		sheet, mistake string
		at             sheet.Place
	}
	said := map[place]bool{}
	for _, list := range [][]Finding{r.Findings, r.Latent} {
		for _, f := range list {
			for _, c := range f.Cells {
				said[place{f.Sheet, f.Cause.Mistake, c.At}] = true
			}
		}
	}
	for _, f := range more {
		if !said[place{f.Sheet, f.Cause.Mistake, f.Cells[0].At}] {
			r.Latent = append(r.Latent, f)
		}
	}
}

// A Coverage says how much of a file was checked.
type Coverage struct {
	Cells   int `json:"cells"`   // with formulas, or that are claims
	Checked int `json:"checked"` // compared with what is right
	Values  int `json:"values"`  // typed, that no formula reads or gives
}

// An Unlooked is typed values that nothing was done with.
type Unlooked struct {
	Sheet string
	Cells sheet.Area
	Count int
	Why   string
}

// An Unchecked is a cell with a formula that was not checked.
type Unchecked struct {
	Sheet string
	At    sheet.Place
	Why   string
}
