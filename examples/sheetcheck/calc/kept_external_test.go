package calc_test

import (
	"math"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// TestKeptWorkbooks: every formula of the kept workbooks gives what the office program
// stored that saved them, to its 15 digits.
func TestKeptWorkbooks(t *testing.T) {
	names := []string{"metric.xlsx", "inch.xlsx", "twelve.xlsx"}
	for _, pattern := range []string{"*.xlsx", "*.xlsm", "*.ods"} {
		layouts, err := filepath.Glob(filepath.Join("../testdata/layouts", pattern))
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range layouts {
			if !strings.Contains(name, ".seeded.") { // some of which hold stale values on purpose
				names = append(names, filepath.Join("layouts", filepath.Base(name)))
			}
		}
	}
	all := 0
	for _, name := range names {
		f, err := sheet.Open(filepath.Join("../testdata", name), sheet.Dialect{}, sheet.DefaultBounds())
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		model, err := f.Load(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		e, formulas := calc.New(model, calc.DefaultBounds()), 0
		for _, s := range f.Sheets() {
			for row, err := range sheet.Rows(t.Context(), f, s) {
				if err != nil {
					t.Fatal(err)
				}
				for i := range row.Cells {
					c, at := &row.Cells[i], sheet.Place{Row: row.Number, Column: i + 1}
					if c.Formula == "" {
						continue
					}
					formulas++
					p, err := e.At(t.Context(), s, at)
					if err != nil {
						t.Errorf("%s: %v", name, err)
						continue
					}
					if c.Text == "" {
						continue // nothing was stored
					}
					want, notNumber := strconv.ParseFloat(c.Text, 64)
					got := p.Binary.Float64()
					if notNumber != nil && p.Binary.String() != c.Text || notNumber == nil && math.Abs(got-want) > 1e-14*max(1, math.Abs(want)) {
						t.Errorf("%s, %s!%s: %s is %s, stored is %q", name, s, at, c.Formula, p.Binary, c.Text)
					}
				}
			}
		}
		all += formulas
	}
	if len(names) < 30 || all < 800 {
		t.Errorf("%d formulas in %d workbooks, fewer than there were", all, len(names))
	}
	t.Logf("%d formulas in %d workbooks", all, len(names))
}
