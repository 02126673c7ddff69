package mapfile_test

import (
	"errors"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/examples/sheetcheck/mapfile"
)

const good = `title = "pump engine"

[csv]
separator = ";"
decimal = ","

[[table]]
name = "rods"
rows = "3..6"
location = "A"

[table.column]
bore = { at = "B", unit = "mm", uncertainty = "0.002 mm" }
journal = { at = "D", unit = "mm" }
inner = { at = "C", unit = "mm" }
clearance = { at = "E", unit = "mm", places = 3 }
least = { at = "H2", unit = "mm" }

[[table.check]]
claim = "clearance"
by = "bearing clearance"
`

func TestRead(t *testing.T) {
	m, places, err := mapfile.Read("map.toml", []byte(good))
	if err != nil {
		t.Fatal(err)
	}
	table := m.Tables[0]
	if table.First() != 3 || table.Last() != 6 || !table.Down() {
		t.Errorf("spans are %v, down %t", table.Spans, table.Down())
	}
	if got := strings.Join(table.Names(), " "); got != "bore clearance inner journal least" {
		t.Errorf("columns are %s", got)
	}
	if line, cell := table.Line("H2"); line != 0 || cell.String() != "H2" {
		t.Errorf("H2 is line %d, cell %s", line, cell)
	}
	if line, _ := table.Line("D"); line != 4 {
		t.Errorf("D is line %d, want 4", line)
	}
	if line := places.Line("table[0].check[0].by"); line != 21 {
		t.Errorf("by stands in line %d, want 21", line)
	}
	if d := m.CSV.Dialect(); d.Separator != ';' || d.Decimal != ',' {
		t.Errorf("text files are read with %v", d)
	}
}

// TestErrors: each mistake in a map is said with its line and what to write.
func TestErrors(t *testing.T) {
	for _, test := range []struct{ name, old, new, want string }{
		{"no table", good, "title = \"x\"\n", "map.toml: no table; write [[table]]"},
		{"an unknown key", "decimal", "decimals", `map.toml:5: unknown key "decimals" in csv; write decimal`},
		{"a decimal mark", `decimal = ","`, `decimal = ";"`, `map.toml:5: csv.decimal: ";" is no decimal mark; write "." or ","`},
		{"a separator", `separator = ";"`, `separator = "x"`, `map.toml:4: csv.separator: "x" does not separate cells`},
		{"no rows", `rows = "3..6"`, "", `table[0].rows: no rows; write rows = "5..11"`},
		{"rows and columns", `rows = "3..6"`, "rows = \"3..6\"\ncolumns = \"C..N\"", "map.toml:10: table[0].columns: rows and columns"},
		{"rows backwards", `"3..6"`, `"6..3"`, `map.toml:9: table[0].rows: "6..3" runs backwards`},
		{"rows twice", `"3..6"`, `"3..6, 5..9"`, `map.toml:9: table[0].rows: "5..9" is not below what stands before it`},
		{"a formula without its check", `by = "bearing clearance"`, "by = \"bearing clearance\"\nformula = \"B3\"", `a formula is for by = "formula"`},
		{"a check without its formula", `by = "bearing clearance"`, `by = "formula"`, `no formula; write formula = as it should read in the first line`},
		{"a formula that is none", `by = "bearing clearance"`, "by = \"formula\"\nformula = \"B3-\"", `it ends too soon`},
		{"rows that are letters", `"3..6"`, `"C..F"`, `map.toml:9: table[0].rows: "C" is not a row; write its number, as in "5"`},
		{"a column that is a number", `at = "B"`, `at = "7"`, `table[0].column.bore.at: "7" is not a column; write its letters`},
		{"no place", `at = "B", `, ``, `table[0].column.bore: no place; write at = "B"`},
		{"places", "places = 3", "places = 12", "clearance.places: 12 places; write 0 to 9"},
		{"a claim of no column", `claim = "clearance"`, `claim = "clearence"`, `map.toml:20: table[0].check[0].claim: no column is called "clearence"; there are bore, clearance, inner, journal, least`},
		{"no claim", `claim = "clearance"`, "", "no claim; write claim = the name of the column to check"},
		{"a place given twice", `inner = { at = "C"`, `inner = { at = "d"`, `inner and journal both stand in D; write each place once`},
		{"a claim checked twice", `by = "bearing clearance"`, "by = \"bearing clearance\"\n[[table.check]]\nclaim = \"clearance\"\nby = \"side play\"", `clearance is checked already; write one check for each claim`},
		{"a part of no column", `by = "bearing clearance"`, "by = \"bearing clearance\"\nwith = { inner = \"innner\" }", `no column is called "innner"`},
	} {
		t.Run(test.name, func(t *testing.T) {
			src := strings.Replace(good, test.old, test.new, 1)
			_, _, err := mapfile.Read("map.toml", []byte(src))
			var errs tomlfile.Errors
			if !errors.As(err, &errs) {
				t.Fatalf("error is %T, %v", err, err)
			}
			if !strings.Contains(err.Error(), test.want) {
				t.Errorf("error is\n%v\nwant\n%s", err, test.want)
			}
		})
	}
}

func FuzzRead(f *testing.F) {
	f.Add(good)
	f.Add("[[table]]\nrows = \"..\"\n")
	f.Fuzz(func(t *testing.T, src string) {
		m, places, err := mapfile.Read("m", []byte(src))
		if (m == nil || places == nil) == (err == nil) {
			t.Errorf("map %v, places %v, error %v", m, places, err)
		}
	})
}
