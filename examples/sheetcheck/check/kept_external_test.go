package check_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/closefit/examples/sheetcheck/check"
	"example.com/closefit/examples/sheetcheck/mapfile"
	"example.com/closefit/examples/sheetcheck/sheet"
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
			r := run(t, filepath.Join(testdata, test.file), string(src), check.Options{Formulas: true})
			if r.Claims != test.claims {
				t.Errorf("%d claims compared, want %d", r.Claims, test.claims)
			}
			for _, f := range r.Findings {
				t.Errorf("%s %v: %s, %s", f.Sheet, f.Ranges, f.Severity, f.Cause)
			}
			for _, n := range r.Notes {
				t.Errorf("not looked at: %s", n)
			}
		})
	}
}

// TestDraft: what is proposed for the kept workbooks can be read, and finds
// nothing wrong in the correct one.
func TestDraft(t *testing.T) {
	for _, file := range []string{"metric.xlsx", "inch.xlsx", "twelve.xlsx", "singles.xlsx"} {
		t.Run(file, func(t *testing.T) {
			name := filepath.Join(testdata, file)
			f, err := sheet.Open(name, sheet.Dialect{}, sheet.DefaultBounds())
			if err != nil {
				t.Fatal(err)
			}
			defer f.Close()
			text, err := mapfile.Draft(t.Context(), file, f)
			if err != nil {
				t.Fatal(err)
			}
			if !strings.Contains(text, "# unsure") {
				t.Errorf("nothing is unsure in\n%s", text)
			}
			m, places, err := mapfile.Read("draft.toml", []byte(text))
			if err != nil {
				t.Fatalf("%v in\n%s", err, text)
			}
			r, err := check.Run(t.Context(), m, places, f, check.Options{})
			if err != nil {
				t.Fatalf("%v in\n%s", err, text)
			}
			if file == "singles.xlsx" {
				return
			}
			if r.Claims < 4 || file == "twelve.xlsx" && r.Claims != 3*12 {
				t.Errorf("%d claims were checked by it:\n%s", r.Claims, text)
			}
			for _, f := range r.Findings {
				t.Errorf("%s %v: %s, %s", f.Sheet, f.Ranges, f.Severity, f.Cause)
			}
		})
	}
}
