package sheet_test

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/closefit/examples/sheetcheck/sheet"
)

const layouts = "../testdata/layouts"

// table reads a kept CSV file: its rows, each by the headings.
func table(t testing.TB, name string) []map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join(layouts, name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []map[string]string
	for _, r := range records[1:] {
		row := map[string]string{}
		for i, head := range records[0] {
			row[head] = r[i]
		}
		rows = append(rows, row)
	}
	return rows
}

// books reads the kept workbooks, each once.
type books map[string]*sheet.Book

func (b books) cell(t *testing.T, file, name, at string) (*sheet.Grid, *sheet.Cell) {
	t.Helper()
	if b[file] == nil {
		b[file] = load(t, filepath.Join(layouts, file))
	}
	g, place := grid(t, b[file], name, at)
	return g, g.Cell(place)
}

func grid(t *testing.T, b *sheet.Book, name, at string) (*sheet.Grid, sheet.Place) {
	t.Helper()
	index, ok := b.Index(name)
	place, err := sheet.ParsePlace(at)
	if !ok || err != nil {
		t.Fatalf("no sheet %q in %q, or %v", name, b.Sheets(), err)
	}
	return b.Grids[index], place
}

// TestLayouts: in the workbooks as shops keep them every cell that truth.csv names is there,
// with a formula where the workbook computes it.
func TestLayouts(t *testing.T) {
	read, claims, inputs := books{}, 0, 0
	for _, row := range table(t, "truth.csv") {
		file := row["file"]
		if strings.Contains(file, ".seeded.") {
			continue
		}
		text := filepath.Ext(file) == ".csv" || filepath.Ext(file) == ".txt"
		area, err := sheet.ParseArea(row["cells"])
		if err != nil {
			t.Fatal(err)
		}
		for r := area.First.Row; r <= area.Last.Row; r++ {
			for c := area.First.Column; c <= area.Last.Column; c++ {
				at := sheet.Place{Row: r, Column: c}.String()
				g, cell := read.cell(t, file, row["sheet"], at)
				claim := row["kind"] == "claim"
				if claim {
					claims++
				} else {
					inputs++
				}
				if !text && claim != (cell.Formula != "") {
					t.Errorf("%s %s!%s is a %s, and its formula is %q", file, g.Name, at, row["kind"], cell.Formula)
				}
				stored := !strings.Contains(file, "library") && !strings.Contains(file, "xlookup") && !strings.Contains(file, "structured") || !claim
				if stored && cell.Kind() == sheet.KindNone {
					t.Errorf("%s %s!%s is blank", file, g.Name, at)
				}
				waits := cell.Formula != "" && cell.Kind() == sheet.KindText && cell.Text == "" // for readings
				if number := row["unit"] != ""; stored && !waits && number != (cell.Kind() == sheet.KindNumber) && number {
					t.Errorf("%s %s!%s is %q, and has the unit %s", file, g.Name, at, cell.Text, row["unit"])
				}
				if f := g.Format(cell); f.Unit != "" && f.Unit != row["unit"] {
					t.Errorf("%s %s!%s is shown in %q, and is in %q", file, g.Name, at, f.Unit, row["unit"])
				}
			}
		}
	}
	if len(read) != 34 || claims < 730 || inputs < 1200 {
		t.Errorf("%d workbooks, %d claims, %d inputs", len(read), claims, inputs)
	}
}

// TestSeeds: every kind of mistake that a sheet is searched for is there twice or more, and
// every seeded cell exists.
func TestSeeds(t *testing.T) {
	read, kinds := books{}, map[string]map[string]bool{}
	for _, row := range table(t, "seeds.csv") {
		g, _ := read.cell(t, row["file"], row["sheet"], row["cell"])
		if kinds[row["mistake"]] == nil {
			kinds[row["mistake"]] = map[string]bool{}
		}
		kinds[row["mistake"]][row["file"]+g.Name+row["cell"]] = true
	}
	for _, mistake := range []string{
		"a number typed over a formula", "formula unlike its neighbours", "absolute reference copied down", "moving reference that should be fixed",
		"range a row short or long", "one limit not compared", "the limit itself refused", "wrong or short factor", "rounded before the comparison",
		"units mixed", "text where a number belongs", "hidden row counts", "look-up takes a neighbour", "protected cell overwritten",
		"stale stored value", "no reading behind it", "no limit to judge by", "binary floating-point residue", "one wall instead of two",
		"inch for millimetre", "decimal point moved", "added instead of subtracted", "something left out", "neighbour's row or column",
	} {
		if len(kinds[mistake]) < 2 {
			t.Errorf("%q is there %d times", mistake, len(kinds[mistake]))
		}
	}
}

// TestLayoutMarks: what the workbooks say beside their cells.
func TestLayoutMarks(t *testing.T) {
	read := books{}
	at := func(file, name, cell string) (*sheet.Grid, *sheet.Cell) { return read.cell(t, file, name, cell) }

	g, locked := at("protected.xlsx", "Press", "F7")
	_, free := at("protected.xlsx", "Press", "E7")
	if !g.Protected || !g.Locked(locked) || g.Locked(free) {
		t.Errorf("protected %t, F7 locked %t, E7 locked %t", g.Protected, g.Locked(locked), g.Locked(free))
	}
	for _, test := range []struct{ file, sheet, cell, area string }{
		{"arrays.xlsx", "Rods", "F8", "F5:F10"},
		{"arrays.xlsx", "Rods", "F12", "F12"},
		{"pump.ods", "Rods", "E7", "E5:E9"},
	} {
		_, c := at(test.file, test.sheet, test.cell)
		if a, ok := c.Array(); !ok || a.Area.String() != test.area || c.Formula != a.Formula {
			t.Errorf("%s %s: array %v, %t, formula %q", test.file, test.cell, a, ok, c.Formula)
		}
	}
	for _, test := range []struct {
		file, sheet string
		row         int
	}{{"order.seeded.xlsx", "Buy", 8}, {"pump.seeded.ods", "Rods", 7}} {
		g, _ := at(test.file, test.sheet, "A1")
		for row := 1; row < 15; row++ {
			if g.RowHidden(row) != (row == test.row) {
				t.Errorf("%s, row %d: hidden %t", test.file, row, g.RowHidden(row))
			}
		}
	}
	g, _ = at("merged-groups.xlsx", "Journals", "A1")
	if a, ok := g.MergedAt(sheet.Place{Row: 3, Column: 7}); !ok || a.String() != "F3:H3" {
		t.Errorf("G3 is merged in %v, %t", a, ok)
	}
	if a, ok := g.MergedAt(sheet.Place{Row: 4, Column: 7}); ok {
		t.Errorf("G4 is merged in %v", a)
	}
	for name, want := range map[string]string{"holguramax": "Datos!$B$3", "ConicidadMax": "Datos!$B$4"} {
		at("names-es.xlsx", "Datos", "A1")
		if got, ok := read["names-es.xlsx"].Formula(0, name); !ok || got != want {
			t.Errorf("%s is %q, %t", name, got, ok)
		}
	}
	if _, c := at("mains-rows.xlsx", "Mains", "G11"); c.Formula != `IF(F11<$B$4,"tight",IF(F11>$B$5,"loose","OK"))` {
		t.Errorf("a shared formula reads %q in G11", c.Formula)
	}
	if _, c := at("library.xlsx", "Sheet1", "F4"); c.Kind() != sheet.KindNone || c.Formula == "" {
		t.Errorf("without a stored value the cell is %+v", c)
	}
}

// TestLayoutTexts: how the text files are written is found from them.
func TestLayoutTexts(t *testing.T) {
	for _, test := range []struct {
		file, guessed string
		dialect       sheet.Dialect
		taken         int
	}{
		{"werkstatt.csv", "Windows 1252", sheet.Dialect{Separator: ';', Decimal: ','}, 2},
		{"werkstatt.seeded.csv", "Windows 1252", sheet.Dialect{Separator: ';', Decimal: ','}, 2},
		{"bench-notes.txt", "", sheet.Dialect{Separator: '\t', Decimal: '.'}, 2},
		{"export.csv", "", sheet.Dialect{Separator: ',', Decimal: '.'}, 2},
		{"export.seeded.csv", "", sheet.Dialect{Separator: ',', Decimal: '.'}, 2},
	} {
		f, err := sheet.OpenText(filepath.Join(layouts, test.file), sheet.Dialect{}, sheet.DefaultBounds())
		if err != nil {
			t.Fatal(err)
		}
		if f.Guessed() != test.guessed || f.Dialect() != test.dialect || len(f.Taken()) != test.taken {
			t.Errorf("%s: in %q, %+v: %q", test.file, f.Guessed(), f.Dialect(), f.Taken())
		}
	}
}

// TestLayoutTable: a named table says where its columns are.
func TestLayoutTable(t *testing.T) {
	table, ok := load(t, filepath.Join(layouts, "structured.xlsx")).Table("mains")
	if !ok || table.From.String() != "A3" || table.To.String() != "G8" || len(table.Columns) != 7 || table.Columns[5] != "Clearance (mm)" || table.Headings != 1 || table.Totals != 0 {
		t.Errorf("%+v, %t", table, ok)
	}
}
