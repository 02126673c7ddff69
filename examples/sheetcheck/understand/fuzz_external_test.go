package understand_test

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"example.com/closefit/examples/sheetcheck/check"
	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/examples/sheetcheck/understand"
)

// FuzzRead: any sheet is understood, the same each time, and checked, or is refused.
func FuzzRead(f *testing.F) {
	dir := f.TempDir()
	f.Add("main;bore (mm);upper;lower;journal;clearance;ok\n1;64.012;2,001;2,003;60,001;=B2-C2-D2-E2;=IF(F2>0,02;\"ok\";\"no\")\n2;64,014;2,001;2,003;60,002;0,008;no\nlimits;0,02..0,05 mm\n")
	f.Add("a,b\n1,2\n,\n=SUM(A2:A2),=A2*2\n")
	f.Add("x\ty\n1.5 mm\t2 N·m\n")
	f.Fuzz(func(t *testing.T, text string) {
		path := filepath.Join(dir, "fuzzed.csv")
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		b := sheet.DefaultBounds()
		b.ModelCells, b.ModelText, b.Rows, b.Columns = 500, 5000, 200, 20
		read := func() (said string) {
			file, err := sheet.Open(path, sheet.Dialect{}, b)
			if err != nil {
				return err.Error()
			}
			defer file.Close()
			book, err := file.Load(t.Context())
			if err != nil {
				return err.Error()
			}
			u, err := understand.Read(t.Context(), book)
			if err != nil {
				return err.Error()
			}
			result, err := check.Run(t.Context(), u.Map, nil, file, check.Options{Book: book, Latent: u.Latent()})
			if err != nil {
				return fmt.Sprintf("%+v: %v", u.Map, err)
			}
			return fmt.Sprintf("%+v: %d findings", u.Map, len(result.Findings))
		}
		if first, again := read(), read(); first != again || first == "" {
			t.Errorf("%q is understood as\n%s\nand then as\n%s", text, first, again)
		}
	})
}
