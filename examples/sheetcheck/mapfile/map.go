package mapfile

import (
	"slices"

	"example.com/closefit/grading"
)

// A Map says what stands where in a spreadsheet.
type Map struct {
	Title   string           `toml:"title"`
	CSV     CSV              `toml:"csv"`
	Tables  []Table          `toml:"table"`
	Cells   []Cell           `toml:"cell"`
	Schemes []grading.Scheme `toml:"scheme"`
}

// CSV says how a file of separated values is written. What is left out is found from the
// file where that is plain.
type CSV struct {
	Separator string `toml:"separator"` // one character
	Decimal   string `toml:"decimal"`   // "." or ","
}

// A Table is a block of a sheet in which every location has the same cells.
type Table struct {
	Name     string            `toml:"name"`
	Sheet    string            `toml:"sheet"`
	Rows     string            `toml:"rows"`
	Across   string            `toml:"columns"`
	Location string            `toml:"location"`
	Columns  map[string]Column `toml:"column"`
	Checks   []Check           `toml:"check"`

	Spans []Span `toml:"-"` // what Rows or Across says
}

// A Span is lines one after another, from 1. Last is 0 if it goes to the end.
type Span struct{ First, Last int }

// A Cell is a claim that stands alone, such as an average, and the formula by which it is
// checked.
type Cell struct {
	Sheet   string `toml:"sheet"` // the first one if left out
	At      string `toml:"at"`
	Formula string `toml:"formula"`
	Role    string `toml:"role"` // what it is, in words
	Unit    string `toml:"unit"`
	Reason  string `toml:"reason"` // why it is taken for that
}

// A Column is one kind of cell that every location has.
type Column struct {
	At          string `toml:"at"`
	Unit        string `toml:"unit"`        // empty for texts and plain numbers
	Places      *int   `toml:"places"`      // the sheet's own rounding; as written if left out
	Uncertainty string `toml:"uncertainty"` // of one reading, expanded, k = 2
	Instrument  string `toml:"instrument"`  // that the readings were made with; if left out, perhaps that of any other
	Nominal     string `toml:"nominal"`     // a size with its unit, or a cell
	Role        string `toml:"role"`        // what the cells are, in words
	Reason      string `toml:"reason"`      // why they are taken for that
}

// A Check is one claim of the sheet, and what it is checked by.
type Check struct {
	Claim string            `toml:"claim"`
	By    string            `toml:"by"`
	With  map[string]string `toml:"with"` // the check's name for a column = the map's

	Formula string `toml:"formula"` // by a formula: as it should read in the first line of the table

	Of    []string `toml:"of"`    // columns, in checks of several alike
	Plus  []string `toml:"plus"`  // of a stack
	Minus []string `toml:"minus"` // of a stack

	Limits        string   `toml:"limits"`         // of a verdict, as "0.024..0.048 mm", or two cells, as "Limits!B2..B3"
	Conforming    []string `toml:"conforming"`     // what the sheet writes for it
	NotConforming []string `toml:"not_conforming"` // likewise
	Below         []string `toml:"below"`          // likewise, if it says on which side
	Above         []string `toml:"above"`

	PerBore string `toml:"per_bore"` // a ring gap's rule, as "0.004": inches an inch, or mm a mm
	Scheme  string `toml:"scheme"`   // of shells, by name; the only one if left out
}

// Down reports whether locations stand one below the other.
func (t *Table) Down() bool { return t.Across == "" }

// ByFormula is the check that recomputes a claim by the formula that the map gives.
const ByFormula = "formula"

// Formulas reports whether the map gives formulas for any claim.
func (m *Map) Formulas() bool {
	for i := range m.Tables {
		if m.Tables[i].byFormulas() {
			return true
		}
	}
	return len(m.Cells) > 0
}

// AllByFormulas reports whether every check of the table is by a formula.
func (t *Table) AllByFormulas() bool {
	return !slices.ContainsFunc(t.Checks, func(c Check) bool { return c.By != ByFormula })
}

// byFormulas reports whether a check of the table is by a formula.
func (t *Table) byFormulas() bool {
	return slices.ContainsFunc(t.Checks, func(c Check) bool { return c.By == ByFormula })
}
