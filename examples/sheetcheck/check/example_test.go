package check_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"example.com/closefit/examples/sheetcheck/check"
	"example.com/closefit/examples/sheetcheck/mapfile"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// A shop's sheet of two mains: in the second, somebody took the wall of one shell
// where there are two.
func Example() {
	dir, err := os.MkdirTemp("", "example")
	if err != nil {
		panic(err)
	}
	defer os.RemoveAll(dir)
	file := filepath.Join(dir, "mains.csv")
	rows := "main 1,60.012,2.006,2.004,55.971,0.031\nmain 2,60.007,2.003,2.005,55.962,2.042\n"
	if err := os.WriteFile(file, []byte(rows), 0o600); err != nil {
		panic(err)
	}

	m, places, err := mapfile.Read("mains.toml", []byte(`
[[table]]
rows = "1.."
location = "A"
[table.column]
bore = { at = "B", unit = "mm" }
upper = { at = "C", unit = "mm" }
lower = { at = "D", unit = "mm" }
journal = { at = "E", unit = "mm" }
clearance = { at = "F", unit = "mm", places = 3 }
[[table.check]]
claim = "clearance"
by = "bearing clearance"
`))
	if err != nil {
		panic(err)
	}
	f, err := sheet.Open(file, m.CSV.Dialect(), sheet.DefaultBounds())
	if err != nil {
		panic(err)
	}
	defer f.Close()
	result, err := check.Run(context.Background(), m, places, f, check.Options{})
	if err != nil {
		panic(err)
	}
	for _, finding := range result.Findings {
		cell := finding.Cells[0]
		fmt.Printf("%s, %s: holds %s, right is %s\n", cell.At, cell.Location, cell.Claimed, cell.Right)
		fmt.Printf("%s: %s\n", finding.Cause.Mistake, finding.Cause.Says)
	}
	// Output:
	// F2, main 2: holds 2.042, right is 0.037 mm
	// one wall instead of two: this number would also fit: D2 is left out
}
