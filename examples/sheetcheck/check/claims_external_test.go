package check_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/closefit/examples/sheetcheck/check"
)

// formulas is a map whose claims are checked by formulas.
const formulas = `
[[table]]
rows = "2..4, 6.."
location = "A"
[table.column]
bore = { at = "B", unit = "mm" }
wall = { at = "C", unit = "mm" }
journal = { at = "D", unit = "mm" }
clearance = { at = "E", unit = "mm" }
most = { at = "F", unit = "mm", role = "limit high" }
verdict = { at = "G" }
[[table.check]]
claim = "clearance"
by = "formula"
formula = "B2-2*C2-D2"
[[table.check]]
claim = "verdict"
by = "formula"
formula = 'IF(E2<=F2,"OK","wide")'
[[cell]]
at = "E9"
formula = "MAX(E2:E7)"
role = "maximum"
unit = "mm"
`

func checkFormulas(t *testing.T, rows string) *check.Result {
	t.Helper()
	name := filepath.Join(t.TempDir(), "a.csv")
	if err := os.WriteFile(name, []byte("main,bore,wall,journal,clearance,most,verdict\n"+rows), 0o600); err != nil {
		t.Fatal(err)
	}
	return run(t, name, formulas, check.Options{})
}

// TestFormulas: what is said of each line. The right values are sums done by hand:
// 60.000 - 2·2.000 - 55.960 = 0.040.
func TestFormulas(t *testing.T) {
	const last = "8,60.000,2.000,55.960,0.040,0.050,OK\n,,,,,,\n,,,,0.040,,\n"
	for _, test := range []struct {
		name, line                string // the third row of the sheet
		findings, latent, follows string
	}{
		{"right", "2,60.000,2.000,55.960,0.040,0.050,OK", "", "", ""},
		{"a value wrong, and the verdict on it", "2,60.000,2.000,55.960,2.040,0.050,wide",
			"E3: value wrong, 0.04 mm, one wall instead of two", "", "G3: verdict wrong, OK, follows from a wrong value"},
		{"a verdict wrong", "2,60.000,2.000,55.960,0.040,0.050,wide", "G3: verdict wrong, OK, a text typed over a formula", "", ""},
		{"the decimal point", "2,60.000,2.000,55.960,0.400,0.050,wide", "E3: value wrong, 0.04 mm, decimal point moved", "", "G3: verdict wrong, OK, follows from a wrong value"},
		{"what no mistake gives", "2,60.000,2.000,55.960,0.047,0.050,OK", "E3: value wrong, 0.04 mm, " + check.Unexplained, "", ""},
		{"on the limit", "2,60.000,2.000,55.950,0.050,0.050,OK", "", "", ""},
		{"no reading", "2,60.000,2.000,,0.040,0.050,OK", "G3: verdict wrong, , no reading behind it; E3: value wrong, , no reading behind it", "", ""},
		{"no limit", "2,60.000,2.000,55.960,0.040,,OK", "G3: not proven, , no limit to judge by; F3: not proven, , no limit to judge by", "", ""},
		{"a limit to be determined", "2,60.000,2.000,55.960,0.040,tbd,OK", "G3: not proven, , no limit to judge by; F3: not proven, , no limit to judge by", "", ""},
		{"a text for a number", "2,60.000,2.000 mm,55.960,0.040,0.050,OK", "C3: value wrong, 2.000, text where a number belongs", "", ""},
		{"a line that the map leaves out", "2,60.000,2.000,55.960,0.040,0.050,OK\n4,60.000,2.000,55.960,0.040,0.050,OK\n5,60.000,2.000,55.960,9.999,0.050,what", "", "", ""},
		{"an empty line of the form", "2,,,,,0.050,", "", "", ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			rest := "4,60.000,2.000,55.960,0.040,0.050,OK\n5,,,,,,\n"
			if strings.Contains(test.line, "\n") {
				rest = ""
			}
			r := checkFormulas(t, "1,60.000,2.000,55.960,0.040,0.050,OK\n"+test.line+"\n"+rest+"7,60.000,2.000,55.960,0.040,0.050,OK\n"+last)
			for _, list := range []struct {
				name, want string
				got        []check.Finding
			}{{"findings", test.findings, r.Findings}, {"latent", test.latent, r.Latent}, {"follows", test.follows, r.Follows}} {
				var all []string
				for _, f := range list.got {
					if f.Cells[0].At.Row == 3 {
						all = append(all, one(f))
					}
				}
				if got := strings.Join(all, "; "); got != list.want {
					t.Errorf("%s are %q, want %q", list.name, got, list.want)
				}
			}
		})
	}
}

// TestCoverage: what holds something is compared, and an empty table is nothing checked.
func TestCoverage(t *testing.T) {
	r := checkFormulas(t, "1,60.000,2.000,55.960,0.040,0.050,OK\n2,60.000,2.000,55.960,,0.050,\n")
	if r.Coverage.Cells != 2 || r.Coverage.Checked != 2 || r.Claims != 2 {
		t.Errorf("%+v, %d claims; want the 2 cells that hold something", r.Coverage, r.Claims)
	}
	r = checkFormulas(t, "")
	if r.Claims != 0 || r.Coverage.Checked != 0 {
		t.Errorf("%d claims of an empty table", r.Claims)
	}
}

// TestCoincidence: of errors of 1 to 30 µm that no known mistake makes, fewer than 2 % are
// put down to one. The errors are drawn evenly, and differ from the right value by design,
// so that every cause named is wrong.
func TestCoincidence(t *testing.T) {
	const lines = 2000
	random := rand.New(rand.NewPCG(3, 7))
	var b strings.Builder
	for range 3 {
		b.WriteString("x,60.000,2.000,55.960,0.040,0.050,OK\n")
	}
	b.WriteString("\n")
	for i := range lines {
		wall, clearance := 1990+random.IntN(20), 20+random.IntN(50)
		off := 1 + random.IntN(30)
		if random.IntN(2) == 0 && clearance > off {
			off = -off
		}
		bore := 60_000 + random.IntN(30)
		fmt.Fprintf(&b, "%d,%.3f,%.3f,%.3f,%.3f,0.200,OK\n", i, float64(bore)/1000, float64(wall)/1000, float64(bore-2*wall-clearance)/1000, float64(clearance+off)/1000)
	}
	r := checkFormulas(t, b.String())
	found, named := 0, 0
	for _, f := range r.Findings {
		if f.Severity != check.WrongValue {
			continue
		}
		found += f.Count
		if f.Cause.Mistake != "" {
			named += f.Count
		}
	}
	if found < lines || 50*named > found {
		t.Errorf("%d of %d errors are found, and %d put down to a mistake; want all, and at most 2 %%", found, lines, named)
	}
	t.Logf("%d of %d put down to a mistake", named, found)
}
