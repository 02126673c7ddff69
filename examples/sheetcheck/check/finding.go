package check

import (
	"fmt"

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
	if f.unfounded() {
		return "a verdict with nothing behind it"
	}
	return f.Severity.String()
}

func (f *Finding) unfounded() bool {
	return f.Cause.Mistake == NoLimit || f.Cause.Mistake == NoReading && f.Severity == WrongVerdict
}

// compare orders findings, the worst first.
func (f *Finding) compare(other *Finding) int {
	rank := func(f *Finding) int {
		if f.unfounded() {
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
}

// A Cause is a mistake that gives the value found.
type Cause struct {
	Mistake string `json:"mistake"` // from the catalogue: "decimal point moved"
	Says    string `json:"says"`    // in a sentence, for the first cell
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
