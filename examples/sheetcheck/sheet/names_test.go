package sheet

import (
	"errors"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"
)

// TestNamesAndTables: those of a workbook that the workbook library wrote.
func TestNamesAndTables(t *testing.T) {
	f := excelize.NewFile()
	defer f.Close()
	if _, err := f.NewSheet("Limits"); err != nil {
		t.Fatal(err)
	}
	for cell, value := range map[string]any{"B3": "Main", "C3": "Wall", "B4": 1, "C4": 2.006, "B5": 2, "C5": 2.004} {
		if err := f.SetCellValue("Limits", cell, value); err != nil {
			t.Fatal(err)
		}
	}
	if err := errors.Join(
		f.SetDefinedName(&excelize.DefinedName{Name: "least", RefersTo: "Limits!$B$2"}),
		f.SetDefinedName(&excelize.DefinedName{Name: "least", RefersTo: "Limits!$C$2&\"<\"", Scope: "Limits"}),
		f.AddTable("Limits", &excelize.Table{Range: "B3:C5", Name: "Shells"}),
		f.SetCellFormula("Limits", "E4", "B4:B5*2", excelize.FormulaOpts{Type: ptr("array"), Ref: ptr("E4:F5")}),
		f.SetCellValue("Limits", "F5", 4),
		f.SetCellValue("Limits", "E6", 6),
	); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "names.xlsx")
	if err := f.SaveAs(path); err != nil {
		t.Fatal(err)
	}
	w, err := OpenWorkbook(path, DefaultBounds())
	if err != nil {
		t.Fatal(err)
	}
	defer w.Close()
	names, err := w.Names(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]Name{{Name: "least", Formula: "Limits!$B$2"}, {Sheet: "Limits", Name: "least", Formula: `Limits!$C$2&"<"`}}, names); diff != "" {
		t.Error(diff)
	}
	tables, err := w.Tables(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	want := []Table{{Sheet: "Limits", Name: "Shells", From: Place{3, 2}, To: Place{5, 3}, Columns: []string{"Main", "Wall"}, Headings: 1}}
	if diff := cmp.Diff(want, tables); diff != "" {
		t.Error(diff)
	}
	filled := map[string]string{}
	for row, err := range Rows(t.Context(), w, "Limits") {
		if err != nil {
			t.Fatal(err)
		}
		for i := range row.Cells {
			if first, ok := row.Cells[i].Array(); ok {
				filled[Place{row.Number, i + 1}.String()] = first.String() + " " + row.Cells[i].Formula
			}
		}
	}
	if diff := cmp.Diff(map[string]string{"E4": "E4 B4:B5*2", "F5": "E4 B4:B5*2"}, filled); diff != "" {
		t.Error(diff)
	}
}

func ptr(s string) *string { return &s }
