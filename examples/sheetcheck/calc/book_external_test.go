package calc_test

import (
	"errors"
	"path/filepath"
	"testing"

	"github.com/xuri/excelize/v2"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// TestBook: sheets, names, a table, gaps and array formulas of a workbook that the
// workbook library wrote.
func TestBook(t *testing.T) {
	f := excelize.NewFile()
	defer f.Close()
	kind, ref := "array", "E4:F5"
	_, err := f.NewSheet("Limits")
	for cell, value := range map[string]any{"B2": 0.024, "C2": 0.048, "B3": "Main", "C3": "Wall", "B4": 1, "C4": 2.006, "B5": 2, "C5": 2.004} {
		err = errors.Join(err, f.SetCellValue("Limits", cell, value))
	}
	err = errors.Join(err,
		f.SetDefinedName(&excelize.DefinedName{Name: "least", RefersTo: "Limits!$B$2"}),
		f.SetDefinedName(&excelize.DefinedName{Name: "least", RefersTo: "Limits!$C$2", Scope: "Limits"}),
		f.AddTable("Limits", &excelize.Table{Range: "B3:C5", Name: "Shells"}),
		f.SetCellFormula("Limits", "E4", "B4:B5*{1,10}", excelize.FormulaOpts{Type: &kind, Ref: &ref}),
		f.SetCellValue("Limits", "F4", 0), f.SetCellValue("Limits", "E5", 0), f.SetCellValue("Limits", "F5", 0), // as it was stored
		f.SetCellFormula("Limits", "Z9", "least"),
		f.SetCellFormula("Sheet1", "C3", "SUM(Shells[Wall])-Limits!F5+LEAST"),
		f.SetCellFormula("Sheet1", "A1", "C3*2"),
		f.SetCellFormula("Sheet1", "A2", "VLOOKUP(2,Shells[],2,FALSE)"),
	)
	path := filepath.Join(t.TempDir(), "loaded.xlsx")
	if err := errors.Join(err, f.SaveAs(path)); err != nil {
		t.Fatal(err)
	}
	w, err := sheet.OpenWorkbook(path, sheet.DefaultBounds())
	if err != nil {
		t.Fatal(err)
	}
	defer w.Close()
	model, err := w.Load(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	e := calc.New(model, calc.DefaultBounds())
	for _, test := range []struct{ sheet, at, want string }{
		{"Limits", "E4", "1"}, {"Limits", "F4", "10"}, {"Limits", "E5", "2"}, {"Limits", "F5", "20"},
		{"Limits", "Z9", "0.048"}, {"limits", "B2", "0.024"}, {"Limits", "Y9", ""},
		{"Sheet1", "C3", "-15.966"}, {"Sheet1", "A1", "-31.932"}, {"Sheet1", "A2", "2.004"},
	} {
		at, err := sheet.ParsePlace(test.at)
		if err != nil {
			t.Fatal(err)
		}
		if p, err := e.At(t.Context(), test.sheet, at); err != nil || p.Exact.String() != test.want {
			t.Errorf("%s!%s is %s, %v; want %s", test.sheet, test.at, p.Exact, err, test.want)
		}
	}
	if row, column := model.Extent(1); row != 9 || column != 26 {
		t.Errorf("the sheet ends in row %d, column %d; want 9 and 26", row, column)
	}
}
