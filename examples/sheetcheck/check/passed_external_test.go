package check_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/closefit/examples/sheetcheck/check"
)

// TestNotPassed: rows in which all numbers agree, and which still are to be looked at: 60.000 -
// 2·2.000 - 55.920 = 0.080, which is above 0.050, so that the verdict does not come to the lower limit.
func TestNotPassed(t *testing.T) {
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
