package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.com/closefit/examples/sheetcheck/check"
)

// savedMap writes the map of a workbook and returns its name.
func savedMap(t *testing.T, book string) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "saved.toml")
	tell(t, "-save", name, book)
	return name
}

// unread writes which values nobody looked at.
func unread(r told) (text string) {
	for _, u := range r.Unchecked {
		if n, ok := u["values"]; ok {
			text += fmt.Sprint(u["sheet"], "!", u["cell"], ":", u["to"], " ", n, "; ")
		}
	}
	return text
}

// TestMapLeavesNothingOut: with the map that is its memory, a workbook's report says the same of
// units along formulas and of values that nobody looks at as without it.
func TestMapLeavesNothingOut(t *testing.T) {
	for _, name := range []string{"values/units.seeded.xlsx", "values/grades-near.seeded.xlsx", "strangers/shim-choice.xlsx"} {
		t.Run(name, func(t *testing.T) {
			book := filepath.Join("testdata", "layouts", name)
			without, with := tell(t, book), tell(t, "-map", savedMap(t, book), book)
			if a, b := fmt.Sprint(without.Latent), fmt.Sprint(with.Latent); a != b {
				t.Errorf("latent: without a map %s, with it %s", a, b)
			}
			if a, b := unread(without), unread(with); a != b {
				t.Errorf("unread: without a map %s, with it %s", a, b)
			}
		})
	}
}

// TestMapOfDocument: an OpenDocument sheet keeps with its map the sum of millimetres and inches, which is right as
// it is stored, and the weights that nobody reads.
func TestMapOfDocument(t *testing.T) {
	number := func(n string) string {
		return `<table:table-cell office:value-type="float" office:value="` + n + `"/>`
	}
	formula := func(f, n string) string {
		return `<table:table-cell table:formula="of:=` + f + `" office:value-type="float" office:value="` + n + `"/>`
	}
	var rows strings.Builder
	rows.WriteString("<table:table-row>")
	for _, h := range []string{"main", "bore mm", "wall mm", "journal mm", "clearance mm", "end play in", "total mm", "", "weight g"} {
		rows.WriteString(`<table:table-cell office:value-type="string"><text:p>` + h + `</text:p></table:table-cell>`)
	}
	rows.WriteString("</table:table-row>")
	for n := 2; n < 9; n++ { // 60.012 - 2·2.005 - 55.971 = 0.031, and 0.031 + 0.012 = 0.043
		r := fmt.Sprint(n)
		rows.WriteString("<table:table-row>" + number(r) + number("60.012") + number("2.005") + number("55.971") +
			formula("[.B"+r+"]-2*[.C"+r+"]-[.D"+r+"]", "0.031") + number("0.012") + formula("[.E"+r+"]+[.F"+r+"]", "0.043") + "<table:table-cell/>" + number("311") + "</table:table-row>")
	}
	book := document(t, rows.String())
	without, with := tell(t, book), tell(t, "-map", savedMap(t, book), book)
	want := ""
	for n := 2; n < 9; n++ {
		want += fmt.Sprintf("Mains!G%d %s; ", n, check.MixedUnits)
	}
	if a, b := said(without.Latent), said(with.Latent); a != want || b != want {
		t.Errorf("latent: without a map %s, with it %s, want %s", a, b, want)
	}
	const weights = "Mains!I2:I8 7; "
	if a, b := unread(without), unread(with); a != weights || b != weights {
		t.Errorf("unread: without a map %s, with it %s, want %s", a, b, weights)
	}
}

// TestMapOfRepeatedRows: rows that a document says once and repeats are not all read beside the map, and it
// is said.
func TestMapOfRepeatedRows(t *testing.T) {
	const row = `<table:table-row table:number-rows-repeated="%d"><table:table-cell office:value-type="float" office:value="60.012"/><table:table-cell office:value-type="float" office:value="60.012"/></table:table-row>`
	mapName := file(t, "map.toml", bearingMap)
	for _, test := range []struct {
		rows int
		says bool
	}{{100, false}, {mostRead/2 + 1, true}} {
		if _, out, _ := try("-map", mapName, document(t, fmt.Sprintf(row, test.rows))); strings.Contains(out, "the file is too large") != test.says {
			t.Errorf("%d rows: it says\n%.2000s", test.rows, out)
		}
	}
}

// TestMapOfText: a text that is checked by the map of what it was understood to be is told the same of as
// without it, and neither says that it has no faults that do not show.
func TestMapOfText(t *testing.T) {
	texts := 0
	for _, folder := range []string{"", "blind", "later", "owners", "strangers", "values"} {
		for _, ending := range []string{"csv", "tsv", "txt"} {
			names, err := filepath.Glob(filepath.Join("testdata", "layouts", folder, "*.seeded."+ending))
			if err != nil {
				t.Fatal(err)
			}
			for _, name := range names {
				texts++
				without, with := tell(t, name), tell(t, "-map", savedMap(t, name), name)
				for _, list := range []struct {
					name string
					a, b []map[string]any
				}{{"findings", without.Findings, with.Findings}, {"latent", without.Latent, with.Latent}, {"follows", without.Follows, with.Follows}} {
					if said(list.a) != said(list.b) {
						t.Errorf("%s: %s without a map %s, with it %s", name, list.name, said(list.a), said(list.b))
					}
				}
				for _, r := range []told{without, with} {
					if !slices.ContainsFunc(r.Notes, func(n string) bool { return strings.HasPrefix(n, noFormulas) }) {
						t.Errorf("%s: the notes are %q, want %q in them", name, r.Notes, noFormulas)
					}
				}
			}
		}
	}
	if texts < 8 {
		t.Errorf("%d texts", texts)
	}
}

// noFormulas is said of every text.
const noFormulas = "a text holds no formulas: faults that do not show yet cannot be seen in it"

// said writes where something was found, and from what cause.
func said(all []map[string]any) (text string) {
	for _, f := range all {
		text += fmt.Sprint(f["sheet"], "!", f["cell"], " ", f["cause"], "; ")
	}
	return text
}

// TestMapOfLongText: of a text that streams by, the columns that the map does not name are said, as
// they are without a map.
func TestMapOfLongText(t *testing.T) {
	for _, test := range []struct {
		rows   int
		want   string
		beyond bool
	}{{300, "!H2:H301 300; ", false}, {longRows + 10, fmt.Sprintf("!H2:H%d %d; ", headRows, headRows-1), true}} {
		path := file(t, "mains.csv", "main,bore,upper,lower,journal,clearance,verdict,torque Nm\n"+strings.Repeat("7,60.012,2.006,2.004,55.971,0.031,OK,61.5\n", test.rows))
		mapName := file(t, "map.toml", bearingMap)
		r := tell(t, "-map", mapName, path)
		if got := unread(r); got != test.want {
			t.Errorf("%d rows: unread %s, want %s", test.rows, got, test.want)
		}
		if _, out, _ := try("-map", mapName, path); strings.Contains(out, fmt.Sprintf("nor what stands below row %d", headRows)) != test.beyond || !strings.Contains(out, fmt.Sprintf("%d claims compared: nothing is wrong", 2*test.rows)) {
			t.Errorf("%d rows: it says\n%.2000s", test.rows, out)
		}
	}
}

// TestMapOfEmptyColumn: a column that the map names and that is empty is said.
func TestMapOfEmptyColumn(t *testing.T) {
	book := filepath.Join("testdata", "layouts", "mains-rows.xlsx")
	name := savedMap(t, book)
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	moved := strings.Replace(string(text), "[table.column.\"bore\"]\n", "[table.column.\"reading\"]\nat = \"Z\"\nunit = \"mm\"\n\n[table.column.\"bore\"]\n", 1)
	if moved == string(text) {
		t.Fatalf("no columns in the map:\n%s", text)
	}
	if err := os.WriteFile(name, []byte(moved), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, out, _ := try("-map", name, book); !strings.Contains(out, `names Z for "reading", and nothing stands there`) {
		t.Errorf("the empty column is not said:\n%s", out)
	}
}
