package sheet_test

import (
	"fmt"
	"runtime"
	"testing"

	"github.com/xuri/excelize/v2"

	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/examples/sheetcheck/sheet/sheettest"
)

// The benchmarks set the two ways to read a workbook beside the workbook library's own
// streaming read of the same cells, in one run:
//
//	go test -run '^$' -bench . ./examples/sheetcheck/sheet

// benchFile is a workbook of rows of ten columns, three of them formulas if asked for.
func benchFile(b *testing.B, rows int, formulas bool) string {
	b.Helper()
	return sheettest.Workbook(b, rows, func(i int) []any {
		bore, upper, lower, journal := 60+float64(i%21)/1000, 2+float64(i%9)/1000, 2+float64(i%7)/1000, 55.94+float64(i%20)/1000
		row := []any{i, bore, upper, lower, journal, bore - upper - lower - journal, "OK", (bore - upper - lower - journal) / 25.4, "AB", 45_000 + i%365}
		if formulas {
			row[5] = excelize.Cell{Formula: fmt.Sprintf("B%d-C%d-D%d-E%d", i, i, i, i), Value: row[5]}
			row[6] = excelize.Cell{Formula: fmt.Sprintf(`IF(F%d<0.024,"low",IF(F%d>0.048,"high","OK"))`, i, i), Value: row[6]}
			row[7] = excelize.Cell{Formula: fmt.Sprintf("F%d/25.4", i), Value: row[7]}
		}
		return row
	})
}

func BenchmarkRead(b *testing.B) {
	const rows = 20_000
	for _, formulas := range []bool{false, true} {
		name := benchFile(b, rows, formulas)
		label := fmt.Sprintf("formulas=%t", formulas)
		each := func(b *testing.B) {
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*rows), "ns/row")
		}
		b.Run("rows/"+label, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				f, err := sheet.Open(name, sheet.Dialect{}, sheet.DefaultBounds())
				if err != nil {
					b.Fatal(err)
				}
				n := 0
				for _, err := range sheet.Rows(b.Context(), f, "Sheet1") {
					if err != nil {
						b.Fatal(err)
					}
					n++
				}
				if n != rows || f.Close() != nil {
					b.Fatal(n)
				}
			}
			each(b)
		})
		b.Run("book/"+label, func(b *testing.B) {
			b.ReportAllocs()
			var book *sheet.Book
			for b.Loop() {
				book = load(b, name)
			}
			each(b)
			runtime.GC()
			var s runtime.MemStats
			runtime.ReadMemStats(&s)
			b.ReportMetric(float64(s.HeapAlloc)/rows, "B-held/row")
			runtime.KeepAlive(book)
		})
		b.Run("library's rows/"+label, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if n, _ := sheettest.Streamed(b, name); n != rows {
					b.Fatal(n)
				}
			}
			each(b)
		})
	}
}
