package calc_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"runtime"
	"testing"

	"github.com/xuri/excelize/v2"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/examples/sheetcheck/sheet/sheettest"
)

// BenchmarkRecalculate reads a workbook of 10 columns, three of them formulas, and
// evaluates every formula, beside the workbook library's own streaming read of the
// same file:
//
//	go test -run '^$' -bench Recalculate ./examples/sheetcheck/calc
func BenchmarkRecalculate(b *testing.B) {
	for _, rows := range []int{10_000, 100_000} {
		name := formulaFile(b, rows)
		b.Run(fmt.Sprintf("calc/rows=%d", rows), func(b *testing.B) {
			var most uint64
			for b.Loop() {
				most = max(most, recalculate(b, name, 3*rows))
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*rows), "ns/row")
			b.ReportMetric(float64(most>>20), "MB")
		})
		b.Run(fmt.Sprintf("streaming read/rows=%d", rows), func(b *testing.B) {
			for b.Loop() {
				sheettest.Streamed(b, name)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*rows), "ns/row")
		})
	}
}

// formulaFile writes clearances with their verdicts and inches as formulas.
func formulaFile(b *testing.B, rows int) string {
	b.Helper()
	r := rand.New(rand.NewPCG(7, 11))
	return sheettest.Workbook(b, rows+1, func(i int) []any {
		if i == 1 {
			return []any{"main", "bore", "upper", "lower", "journal", "clearance", "verdict", "inches", 0.024, 0.048}
		}
		n := func(least, range_ int) float64 { return float64(least+r.IntN(range_)) / 1000 }
		return []any{i, n(60_000, 21), n(2000, 9), n(2000, 9), n(55_940, 21),
			excelize.Cell{Formula: fmt.Sprintf("B%d-C%d-D%d-E%d", i, i, i, i)},
			excelize.Cell{Formula: fmt.Sprintf(`IF(ROUND(F%d,6)<$I$1,"low",IF(ROUND(F%d,6)>$J$1,"high","OK"))`, i, i)},
			excelize.Cell{Formula: fmt.Sprintf("F%d/25.4", i)}, "AB", 45_000 + i%365}
	})
}

// recalculate evaluates every formula of a file and returns the memory in use.
func recalculate(b *testing.B, name string, formulas int) uint64 {
	f, err := sheet.Open(name, sheet.Dialect{}, sheet.DefaultBounds())
	if err != nil {
		b.Fatal(err)
	}
	defer f.Close()
	model, err := f.Load(b.Context())
	if err != nil {
		b.Fatal(err)
	}
	bounds := calc.DefaultBounds()
	bounds.Work = 0 // what is measured here
	e, done := calc.New(model, bounds), 0
	row, column := model.Extent(0)
	for i := 1; i <= row; i++ {
		for j := 1; j <= column; j++ {
			at := sheet.Place{Row: i, Column: j}
			if c := model.Cell(0, at); c == nil || c.Formula == "" {
				continue
			}
			if _, err := e.At(context.Background(), "Sheet1", at); err != nil {
				b.Fatal(err)
			}
			done++
		}
	}
	if done != formulas {
		b.Fatalf("%d formulas", done)
	}
	var s runtime.MemStats
	runtime.ReadMemStats(&s)
	return s.Sys
}
