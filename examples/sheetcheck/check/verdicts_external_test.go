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

// TestRandomVerdicts: of typed verdicts that are wrong and have no rule behind them, fewer than two in a hundred
// get a mistake as their cause, however few or many they are, mixed or all equal; and what is said in place of
// one is why there is none. The limits are 0.030 and 0.060 mm.
func TestRandomVerdicts(t *testing.T) {
	const src = `
[[table]]
rows = "2.."
location = "A"
[table.column]
clearance = { at = "B", unit = "mm" }
verdict = { at = "C" }
[[table.check]]
claim = "verdict"
by = "verdict"
of = ["clearance"]
limits = "0.030..0.060 mm"
`
	random := rand.New(rand.NewPCG(31, 2))
	wrong, named, noted, sheets := 0, 0, 0, 0
	dir := t.TempDir()
	for _, lines := range []int{3, 4, 6, 10} {
		for _, words := range [][]string{{"OK", "reject"}, {"OK"}, {"reject"}, {"OK", "low", "high"}} {
			for range 20 {
				var b strings.Builder
				b.WriteString("main,clearance,verdict\n")
				for i := range lines {
					fmt.Fprintf(&b, "%d,0.%04d,%s\n", i+1, random.IntN(1000), words[random.IntN(len(words))])
				}
				name := filepath.Join(dir, "a.csv")
				if err := os.WriteFile(name, []byte(b.String()), 0o600); err != nil {
					t.Fatal(err)
				}
				r := run(t, name, src, check.Options{})
				if len(r.Findings) > 0 {
					sheets++
				}
				for _, f := range r.Findings {
					wrong += len(f.Cells)
					if f.Cause.Mistake != "" {
						named += len(f.Cells)
					}
				}
				if strings.Contains(strings.Join(r.Notes, "\n"), "cannot be told from chance") {
					noted++
				}
			}
		}
	}
	if wrong < 500 || 50*named >= wrong || 10*noted < 9*sheets {
		t.Errorf("%d of %d wrong verdicts have a mistake as their cause, and %d of %d sheets say why there is none", named, wrong, noted, sheets)
	}
}
