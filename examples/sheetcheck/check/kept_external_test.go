package check_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/closefit/examples/sheetcheck/check"
)

// TestCorrect: in sheets that are right, nothing is found.
func TestCorrect(t *testing.T) {
	for _, test := range []struct {
		file, mapFile string
		claims        int
	}{
		{"metric.xlsx", "metric.toml", 85},
		{"inch.xlsx", "inch.toml", 20},
		{"twelve.xlsx", "twelve.toml", 72},
		{"commas.csv", "commas.toml", 14},
	} {
		t.Run(test.file, func(t *testing.T) {
			src, err := os.ReadFile(filepath.Join(testdata, test.mapFile))
			if err != nil {
				t.Fatal(err)
			}
			r := run(t, filepath.Join(testdata, test.file), string(src), check.Options{})
			if r.Claims != test.claims {
				t.Errorf("%d claims compared, want %d", r.Claims, test.claims)
			}
			for _, f := range r.Findings {
				t.Errorf("%s %v: %s, %s", f.Sheet, f.Ranges, f.Severity, f.Cause)
			}
			for _, n := range r.Notes {
				if filepath.Ext(test.file) != ".csv" || !strings.HasPrefix(n, "a text holds no formulas") {
					t.Errorf("not looked at: %s", n)
				}
			}
		})
	}
}
