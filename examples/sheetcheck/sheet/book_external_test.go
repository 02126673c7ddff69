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
		say("%s: hidden %t, protected %t, used %s, merged %v, arrays %v", g.Name, g.Hidden, g.Protected, used, g.Merged, g.Arrays)
		for _, row := range g.Rows {
			for i := range row.Cells {
				c := &row.Cells[i]
				at := sheet.Place{Row: row.Number, Column: i + 1}
				if c.Kind() == sheet.KindNone && c.Formula == "" {
					continue
				}
				array, _ := c.Array()
				merged, _ := g.MergedAt(at)
				text := c.Text
				if n, ok := c.Number(); ok && c.Kind() == sheet.KindNumber {
					text = n.String() // one program writes 1.5E-007, another 0.00000015
				}
				say("%s!%s: %q =%s, kind %d, format %+v, locked %t, array %v, hidden %t %t, merged %v", g.Name, at, text, c.Formula, c.Kind(), g.Format(c), g.Locked(c), array, g.RowHidden(at.Row), g.ColumnHidden(at.Column), merged)
			}
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
	if diff := gocmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}
