package annotate_test

import (
	"fmt"
	"io"
	"testing"

	"github.com/xuri/excelize/v2"

	"example.com/closefit/examples/sheetcheck/annotate"
	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/examples/sheetcheck/sheet/sheettest"
)

// BenchmarkCopy sets the copy of a workbook beside reading its rows, in one run:
//
//	go test -run '^$' -bench . ./examples/sheetcheck/annotate
func BenchmarkCopy(b *testing.B) {
	const rows = 100_000
	name := sheettest.Workbook(b, rows, func(i int) []any {
		bore, upper, lower, journal := 60+float64(i%21)/1000, 2+float64(i%9)/1000, 2+float64(i%7)/1000, 55.94+float64(i%20)/1000
		clearance := bore - upper - lower - journal
		return []any{i, bore, upper, lower, journal, excelize.Cell{Formula: fmt.Sprintf("B%d-C%d-D%d-E%d", i, i, i, i), Value: clearance},
			excelize.Cell{Formula: fmt.Sprintf(`IF(F%d<0.024,"low",IF(F%d>0.048,"high","OK"))`, i, i), Value: "OK"}, excelize.Cell{Formula: fmt.Sprintf("F%d/25.4", i), Value: clearance / 25.4}, "AB", 45_000 + i%365}
	})
	a := &annotate.Answer{Lines: []string{"mains.xlsx"}}
	for i := range 1000 {
		at := sheet.Place{Row: 100*i + 1, Column: 6}
		a.Marks = append(a.Marks, annotate.Mark{Sheet: "Sheet1", At: at, Text: "one wall instead of two"})
		a.Rows = append(a.Rows, annotate.Row{Name: "value wrong", Sheet: "Sheet1", At: sheet.Area{First: at, Last: at}})
	}
	w, err := sheet.OpenWorkbook(name, sheet.DefaultBounds())
	if err != nil {
		b.Fatal(err)
	}
	defer w.Close()
	b.Run("copy", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := annotate.Copy(b.Context(), io.Discard, w, a, noon); err != nil {
				b.Fatal(err)
			}
		}
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*rows), "ns/row")
	})
	b.Run("read", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			n := 0
			for _, err := range sheet.Rows(b.Context(), w, "Sheet1") {
				if err != nil {
					b.Fatal(err)
				}
				n++
			}
			if n != rows {
				b.Fatal(n)
			}
		}
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*rows), "ns/row")
	})
}
