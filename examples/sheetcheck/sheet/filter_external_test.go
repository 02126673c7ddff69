package sheet_test

import (
	"path/filepath"
	"testing"

	"github.com/xuri/excelize/v2"

	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/examples/sheetcheck/sheet/sheettest"
)

// TestFiltered: rows hidden by hand are told from those that a filter hides.
func TestFiltered(t *testing.T) {
	f := excelize.NewFile()
	defer f.Close()
	for _, at := range []string{"A1", "A2", "A3", "A4", "A9"} {
		if err := f.SetCellValue("Sheet1", at, 7); err != nil {
			t.Fatal(err)
		}
	}
	if err := f.AutoFilter("Sheet1", "A1:A4", []excelize.AutoFilterOptions{{Column: "A", Expression: "x > 6"}}); err != nil {
		t.Fatal(err)
	}
	for _, row := range []int{3, 9} {
		if err := f.SetRowVisible("Sheet1", row, false); err != nil {
			t.Fatal(err)
		}
	}
	xlsx := filepath.Join(t.TempDir(), "a.xlsx")
	if err := f.SaveAs(xlsx); err != nil {
		t.Fatal(err)
	}
	ods := sheettest.Pack(t, "a.ods", map[string]string{
		"mimetype": "application/vnd.oasis.opendocument.spreadsheet",
		"content.xml": `<office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0"><office:body><office:spreadsheet><table:table table:name="Sheet1">` +
			`<table:table-row table:number-rows-repeated="2"><table:table-cell office:value-type="float" office:value="7"/></table:table-row>` +
			`<table:table-row table:visibility="filter"><table:table-cell office:value-type="float" office:value="7"/></table:table-row>` +
			`<table:table-row table:number-rows-repeated="5"><table:table-cell office:value-type="float" office:value="7"/></table:table-row>` +
			`<table:table-row table:visibility="collapse"><table:table-cell office:value-type="float" office:value="7"/></table:table-row>` +
			`</table:table></office:spreadsheet></office:body></office:document-content>`,
	})
	for _, name := range []string{xlsx, ods} {
		file, err := sheet.Open(name, sheet.Dialect{}, sheet.DefaultBounds())
		if err != nil {
			t.Fatal(err)
		}
		book, err := file.Load(t.Context())
		file.Close()
		if err != nil {
			t.Fatal(err)
		}
		for row := 1; row <= 9; row++ {
			hidden, filtered := book.Hidden(0, row)
			if hidden != (row == 3 || row == 9) || filtered != (row == 3) {
				t.Errorf("%s, row %d: hidden %t, filtered %t", filepath.Base(name), row, hidden, filtered)
			}
		}
	}
}
