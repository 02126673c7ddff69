package understand_test

import (
	"fmt"
	"testing"

	"github.com/xuri/excelize/v2"

	"example.com/closefit/examples/sheetcheck/check"
)

// TestHostile: whatever formulas a sheet has, each ends up checked or in a list with why not.
func TestHostile(t *testing.T) {
	const lines = 300
	for _, test := range []struct {
		name    string
		formula func(row int) string
		mistake string // that every line has; empty for none
	}{
		{"no two alike", func(row int) string { return fmt.Sprintf("A%d*%d+B%d", row, row, row%7+1) }, ""},
		{"a chain that ends in itself", func(row int) string { return fmt.Sprintf("C%d+1", (row-1)%lines+2) }, ""},
		{"look-ups of whole columns", func(row int) string { return fmt.Sprintf("VLOOKUP(A%d,A:B,2,FALSE)", row) }, ""},
		{"sums that grow", func(row int) string { return fmt.Sprintf("SUM(A$2:A%d)", row) }, ""},
		{"what cannot be evaluated", func(row int) string { return fmt.Sprintf(`INDIRECT("A%d")`, row) }, ""},
		{"what is lost", func(int) string { return "#REF!+1" }, check.NoAnswer},
		{"another file", func(row int) string { return fmt.Sprintf("[1]Sheet1!A%d", row) }, ""},
		{"a verdict of many comparisons", func(row int) string {
			text := ""
			for i := range 30 {
				text += fmt.Sprintf(",A%d>%d", row, i)
			}
			return `IF(AND(` + text[1:] + `),"OK","no")`
		}, ""},
		{"division by nothing", func(row int) string { return fmt.Sprintf("A%d/0", row) }, check.NoAnswer},
	} {
		t.Run(test.name, func(t *testing.T) {
			f := excelize.NewFile()
			defer f.Close()
			for row := 2; row < lines+2; row++ {
				if f.SetCellValue("Sheet1", fmt.Sprintf("A%d", row), row) != nil || f.SetCellValue("Sheet1", fmt.Sprintf("B%d", row), 2*row) != nil ||
					f.SetCellFormula("Sheet1", fmt.Sprintf("C%d", row), test.formula(row)) != nil {
					t.Fatal("the workbook cannot be written")
				}
			}
			_, r := readBack(t, f)
			if r.Coverage.Cells != lines || r.Coverage.Checked+len(r.Unchecked) != lines {
				t.Errorf("%+v, and %d unchecked; want %d cells in all", r.Coverage, len(r.Unchecked), lines)
			}
			for _, x := range r.Unchecked {
				if x.Why == "" {
					t.Errorf("%s is not checked, and nothing says why", x.At)
				}
			}
			for _, f := range append(r.Findings, r.Latent...) {
				if f.Cause.Mistake != test.mistake {
					t.Errorf("%s: %s (%s), want %q", f.Cells[0].At, f.Cause.Mistake, f.Cause.Says, test.mistake)
				}
			}
			if test.mistake != "" && len(r.Findings) != lines {
				t.Errorf("%d findings, want %d", len(r.Findings), lines)
			}
		})
	}
}
