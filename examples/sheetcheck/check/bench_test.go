package check_test

import (
	"os"
	"testing"

	"example.com/closefit/examples/sheetcheck/check"
	"example.com/closefit/examples/sheetcheck/mapfile"
	"example.com/closefit/examples/sheetcheck/sheet"
)

func BenchmarkBig(b *testing.B) {
	src, _ := os.ReadFile("../testdata/bench.toml")
	for b.Loop() {
		m, places, err := mapfile.Read("map.toml", src)
		if err != nil {
			b.Fatal(err)
		}
		f, err := sheet.Open("/tmp/sc/big.csv", 0, sheet.Notation{}, sheet.DefaultBounds())
		if err != nil {
			b.Fatal(err)
		}
		if _, err := check.Run(b.Context(), m, places, f, check.Options{}); err != nil {
			b.Fatal(err)
		}
		f.Close()
	}
}
