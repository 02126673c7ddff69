package sheet_test

import (
	"cmp"
	"fmt"
	"slices"
	"testing"

	gocmp "github.com/google/go-cmp/cmp"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// load reads a kept file whole.
func load(t testing.TB, name string) *sheet.Book {
	t.Helper()
	f, err := sheet.Open(name, sheet.Dialect{}, sheet.DefaultBounds())
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	b, err := f.Load(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// described says in lines all that a Book holds.
func described(b *sheet.Book) []string {
	var lines []string
	say := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	for _, g := range b.Grids {
		used, _ := g.Used()
		var hidden []string
		for column := 1; column < 20; column++ {
			if g.ColumnHidden(column) {
				hidden = append(hidden, sheet.ColumnName(column))
			}
		}
		say("%s: hidden %t, columns hidden %q, protected %t, used %s, merged %v, arrays %v", g.Name, g.Hidden, hidden, g.Protected, used, g.Merged, g.Arrays)
		for at, c := range g.Cells() {
			text := c.Text
			if n, ok := c.Number(); ok && c.Kind() == sheet.KindNumber {
				text = n.String() // one program writes 1.5E-007, another 0.00000015
			}
			array, _ := c.Array()
			merged, _ := g.MergedAt(at)
			say("%s!%s: %q =%s, kind %d, format %+v, locked %t, array %v, hidden %t, merged %v", g.Name, at, text, c.Formula, c.Kind(), g.Format(c), g.Locked(c), array, g.RowHidden(at.Row), merged)
		}
	}
	for _, n := range slices.SortedFunc(slices.Values(b.Names), func(a, b sheet.Name) int { return cmp.Compare(a.Name, b.Name) }) {
		say("%+v", n)
	}
	return lines
}

// TestTwoForms: an office program stored one workbook in two forms; both are read alike.
func TestTwoForms(t *testing.T) {
	want, got := described(load(t, "testdata/pair.xlsx")), described(load(t, "testdata/pair.ods"))
	if len(want) < 59 {
		t.Errorf("only %d lines", len(want))
	}
	if first := "Main's; 1: hidden false, columns hidden [\"G\"], protected true, used A1:H26, merged [A1:C1], arrays [{H3:H7 B3:B7-D3:D7}]"; want[0] != first {
		t.Errorf("%s, want %s", want[0], first)
	}
	if diff := gocmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

// TestRowsAsBook: read row by row, a file has the cells that it has as a Book; but only a Book
// gives every cell of an array formula's area the formula.
func TestRowsAsBook(t *testing.T) {
	for _, name := range []string{"testdata/pair.xlsx", "testdata/pair.ods", layouts + "/fleet.xlsx", layouts + "/pump.ods", layouts + "/werkstatt.csv"} {
		f, err := sheet.Open(name, sheet.Dialect{}, sheet.DefaultBounds())
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		book, err := f.Load(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		for index, s := range f.Sheets() {
			cells := 0
			for row, err := range sheet.Rows(t.Context(), f, s) {
				if err != nil {
					t.Fatal(err)
				}
				for i := range row.Cells {
					c, at := &row.Cells[i], sheet.Place{Row: row.Number, Column: i + 1}
					held := book.Cell(index, at)
					if c.Text == "" && c.Formula == "" {
						if held != nil {
							t.Errorf("%s %s!%s is blank, and held as %+v", name, s, at, held)
						}
						continue
					}
					cells++
					if held == nil || held.Text != c.Text || held.AsText != c.AsText {
						t.Errorf("%s %s!%s is %+v, and held as %+v", name, s, at, c, held)
					} else if _, array := held.Array(); !array && held.Formula != c.Formula {
						t.Errorf("%s %s!%s has the formula %q, and %q held", name, s, at, c.Formula, held.Formula)
					}
				}
			}
			for range book.Grids[index].Cells() {
				cells--
			}
			if cells != 0 {
				t.Errorf("%s %s: %d cells more read than held", name, s, cells)
			}
		}
	}
}
