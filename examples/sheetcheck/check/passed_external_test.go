package check_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/closefit/examples/sheetcheck/check"
)

// named maps the rows of these tests: a bore, two walls, a journal, their clearance, its limits and its verdict.
const named = `
[[table]]
rows = "2.."
location = "A"
[table.column]
bore = { at = "B", unit = "mm" }
wall = { at = "C", unit = "mm" }
journal = { at = "D", unit = "mm" }
clearance = { at = "E", unit = "mm" }
least = { at = "F", unit = "mm", role = "limit low" }
most = { at = "G", unit = "mm", role = "limit high" }
verdict = { at = "H" }
[[table.check]]
claim = "clearance"
by = "formula"
formula = "B2-2*C2-D2"
[[table.check]]
claim = "verdict"
`

// TestNotPassed: rows in which all numbers agree, and which still are to be looked at: 60.000 -
// 2·2.000 - 55.920 = 0.080, which is above 0.050, so that the verdict does not come to the lower limit.
func TestNotPassed(t *testing.T) {
	byFormula := named + "by = \"formula\"\nformula = 'IF(E2>G2,\"wide\",IF(E2<F2,\"tight\",\"OK\"))'\n"
	byName := strings.NewReplacer(`, role = "limit low"`, "", `, role = "limit high"`, "").Replace(named) +
		"by = \"verdict\"\nof = [\"clearance\"]\nwith = { least = \"least\", most = \"most\" }\n"
	for _, test := range []struct{ name, src, line, cell, mistake string }{
		{"right", byFormula, "60.000,2.000,55.920,0.080,0.020,0.050,wide", "", ""},
		{"no lower limit", byFormula, "60.000,2.000,55.920,0.080,,0.050,wide", "H4", check.NoLimit},
		{"right by name", byName, "60.000,2.000,55.920,0.080,0.020,0.050,no", "", ""},
		{"limits swapped", byName, "60.000,2.000,55.990,0.010,0.050,0.020,low", "H4", check.NoLimit},
	} {
		t.Run(test.name, func(t *testing.T) {
			const right = "m,60.000,2.000,55.960,0.040,0.020,0.050,OK\n"
			name := filepath.Join(t.TempDir(), "a.csv")
			text := "main,bore,wall,journal,clearance,least,most,verdict\n" + right + right + "m," + test.line + "\n" + right
			if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
			found := ""
			for _, f := range run(t, name, test.src, check.Options{}).Findings {
				if at := f.Cells[0].At.String(); at == test.cell {
					found = f.Cause.Mistake
				} else if test.cell == "" {
					t.Errorf("%s: %s", at, f.Cause.Says)
				}
			}
			if found != test.mistake {
				t.Errorf("%s has %q, want %q", test.cell, found, test.mistake)
			}
		})
	}
}

// TestPassedText: of a text in which everything is right only the first row is looked at closely, also where
// values stand at a limit; of one that is wrong in one row, that row as well with those beside it. Each line is
// 60.000 - 2·2.000 - journal = clearance, in limits of 0.020 and 0.050.
func TestPassedText(t *testing.T) {
	head := named + "by = \"formula\"\n"
	right := []string{
		"60.000,2.000,55.920,0.080,0.020,0.050,wide", "60.000,2.000,55.949,0.051,0.020,0.050,wide", "60.000,2.000,55.950,0.050,0.020,0.050,OK", "60.000,2.000,55.965,0.035,0.020,0.050,OK",
		"60.000,2.000,55.980,0.020,0.020,0.050,OK", "60.000,2.000,55.981,0.019,0.020,0.050,tight", "60.000,2.000,56.010,-0.010,0.020,0.050,tight",
	}
	const rows = 4000 // of some 42 bytes, in several blocks
	for _, formula := range []string{
		`IF(E2>G2,"wide",IF(E2<F2,"tight","OK"))`,
		`IF(AND(E2>=F2,E2<=G2),"OK",IF(E2>G2,"wide","tight"))`,
		`IF(OR(E2<F2,E2>G2),IF(G2<E2,"wide","tight"),"OK")`,
	} {
		for _, test := range []struct {
			name, line string
			at         int // from 0
			cell       string
		}{
			{"right", "", 0, ""},
			{"in the middle", "60.000,2.000,55.950,0.050,0.020,0.050,wide", 1700, "H1702"},
			{"last", "60.000,2.000,55.949,0.051,0.020,0.050,OK", rows - 1, "H4001"},
			{"a clearance", "60.000,2.000,55.949,0.053,0.020,0.050,wide", 2500, "E2502"},
		} {
			t.Run(formula+"/"+test.name, func(t *testing.T) {
				var text strings.Builder
				text.WriteString("main,bore,wall,journal,clearance,least,most,verdict\n")
				for i := range rows {
					line := right[i%len(right)]
					if test.line != "" && i == test.at {
						line = test.line
					}
					text.WriteString("m," + line + "\n")
				}
				name := filepath.Join(t.TempDir(), "a.csv")
				if err := os.WriteFile(name, []byte(text.String()), 0o600); err != nil {
					t.Fatal(err)
				}
				looked, found, most := []int(nil), "", 1
				r := run(t, name, head+"formula = '"+formula+"'\n", check.Looked(check.Options{}, &looked))
				for _, f := range r.Findings {
					found += f.Cells[0].At.String()
				}
				if test.cell != "" {
					most = 4
				}
				if found != test.cell || r.Claims != 2*rows || r.Rows != rows {
					t.Errorf("found %q, want %q; %d claims in %d rows, want %d in %d", found, test.cell, r.Claims, r.Rows, 2*rows, rows)
				}
				if len(looked) > most {
					t.Errorf("rows %d are looked at closely, want at most %d of them", looked, most)
				}
			})
		}
	}
}
