package sheet

import (
	"errors"
	"fmt"
	"runtime"
	"strings"
	"testing"
	"time"

	"example.com/closefit/examples/sheetcheck/sheet/sheettest"
)

// document is a small .ods file with what stands in its spreadsheet element.
func document(sheets string) map[string]string {
	return map[string]string{"content.xml": `<office:document-content xmlns:office="o" xmlns:table="t" xmlns:text="x"><office:body><office:spreadsheet>` + sheets + `</office:spreadsheet></office:body></office:document-content>`}
}

// workbook is a small .xlsx file: its sheet's elements, what stands in workbook.xml beside the
// sheets, and its styles.
func workbook(sheet, beside, styles string) map[string]string {
	return map[string]string{
		"xl/workbook.xml":            `<workbook xmlns:r="r"><sheets><sheet name="Mains" r:id="a"/></sheets>` + beside + `</workbook>`,
		"xl/_rels/workbook.xml.rels": `<Relationships><Relationship Id="a" Type="x/worksheet" Target="worksheets/sheet1.xml"/><Relationship Id="b" Type="x/styles" Target="styles.xml"/></Relationships>`,
		"xl/worksheets/sheet1.xml":   `<worksheet>` + sheet + `</worksheet>`,
		"xl/styles.xml":              `<styleSheet>` + styles + `</styleSheet>`,
	}
}

// loaded loads a file, and says how far memory rose and how long it took.
func loaded(t *testing.T, path string) (b *Book, err error) {
	t.Helper()
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	begun := time.Now()
	f, err := Open(path, Dialect{}, DefaultBounds())
	if err == nil {
		defer f.Close()
		b, err = f.Load(t.Context())
	}
	runtime.ReadMemStats(&after)
	if grown := after.HeapSys - min(before.HeapSys, after.HeapSys); grown > 256<<20 {
		t.Errorf("memory grew by %d MB", grown>>20)
	}
	t.Logf("%v, %d MB", time.Since(begun), (after.HeapSys-min(before.HeapSys, after.HeapSys))>>20)
	return b, err
}

func repeat(n int, of func(i int) string) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(of(i))
	}
	return b.String()
}

const ten = `<table:table-cell office:value-type="float" office:value="10"/>`

// TestHostile: each file is answered with what is wrong with it, at little cost.
func TestHostile(t *testing.T) {
	for _, test := range []struct {
		name, file string
		parts      map[string]string
		want       string // in the error
		bound      bool   // it is a *BoundError
	}{
		{"cells repeated 10⁹ times", "a.ods", document(`<table:table table:name="a"><table:table-row><table:table-cell table:number-columns-repeated="1000000000" office:value-type="float" office:value="1"/></table:table-row></table:table>`), `table:number-columns-repeated is "1000000000"`, false},
		{"cells repeated over all columns", "a.ods", document(`<table:table table:name="a"><table:table-row><table:table-cell table:number-columns-repeated="16384" office:value-type="float" office:value="1"/></table:table-row></table:table>`), "a cell in column 16384; at most 1024 columns are read", true},
		{"rows repeated a million times, a thousand cells wide", "a.ods", document(`<table:table table:name="a"><table:table-row table:number-rows-repeated="1048576"><table:table-cell table:number-columns-repeated="1000" office:value-type="float" office:value="1"/></table:table-row></table:table>`), "more than 2500000 cells", true},
		{"rows repeated 10⁹ times", "a.ods", document(`<table:table table:name="a"><table:table-row table:number-rows-repeated="999999999">` + ten + `</table:table-row></table:table>`), `table:number-rows-repeated is "999999999"`, false},
		{"a row past the last", "a.ods", document(`<table:table table:name="a"><table:table-row table:number-rows-repeated="10000001"/><table:table-row>` + ten + `</table:table-row></table:table>`), "row 10000002", true},
		{"elements in one another", "a.ods", document(strings.Repeat("<table:table-row-group>", 100)), "elements more than 64 deep", false},
		{"100,000 names", "a.ods", document(`<table:named-expressions>` + repeat(100_000, func(i int) string {
			return fmt.Sprintf(`<table:named-expression table:name="n%d" table:expression="%d"/>`, i, i)
		}) + `</table:named-expressions>`), "more than 20000 defined names", true},
		{"150,000 merged areas", "a.ods", document(`<table:table table:name="a"><table:table-row>` + repeat(150_000, func(i int) string {
			return fmt.Sprintf(`<table:table-cell table:number-columns-spanned="2" table:number-rows-spanned="%d"/>`, 1+i*i%99_991)
		}) + `</table:table-row></table:table>`), "more than 100000 merged areas and array formulas", true},
		{"blanks without end", "a.ods", document(`<table:table table:name="a"><table:table-row><table:table-cell office:value-type="string"><text:p><text:s text:c="999999999"/></text:p></table:table-cell></table:table-row></table:table>`), `"999999999" blanks`, false},
		{"many blanks together", "a.ods", document(`<table:table table:name="a"><table:table-row><table:table-cell office:value-type="string"><text:p>` + strings.Repeat(`<text:s text:c="30000"/>`, 1000) + `</text:p></table:table-cell></table:table-row></table:table>`), "a cell of", true},
		{"a long formula", "a.ods", document(`<table:table table:name="a"><table:table-row><table:table-cell table:formula="of:=` + strings.Repeat("(", 40_000) + `"/></table:table-row></table:table>`), "a formula of 40000 bytes", true},
		{"a document type", "a.ods", map[string]string{"content.xml": `<!DOCTYPE x [<!ENTITY a "b">]><x/>`}, "damaged: a document type", false},
		{"an end in the middle", "a.ods", map[string]string{"content.xml": `<office:document-content><office:body>`}, "content.xml: damaged: it ends in the middle", false},
		{"no content", "a.ods", map[string]string{"mimetype": "x"}, "it has no content.xml", false},
		{"a text document", "a.ods", map[string]string{"content.xml": `<office:document-content><office:body><office:text/></office:body></office:document-content>`}, "an OpenDocument file of another kind", false},
		{"a formula in two cells", "a.ods", document(`<table:table table:name="a"><table:table-row><table:table-cell table:formula="of:=1" table:number-columns-repeated="2"/></table:table-row></table:table>`), "sheet a, A1: damaged: a formula in 2 cells at once", false},
		{"formulas in two rows", "a.ods", document(`<table:table table:name="a"><table:table-row table:number-rows-repeated="2"><table:table-cell table:formula="of:=1"/></table:table-row></table:table>`), "damaged: formulas in 2 rows at once", false},
		{"a password", "a.ods", map[string]string{"content.xml": "\x8f\x01", "META-INF/manifest.xml": `<manifest:encryption-data/>`}, "has a password; save it without one", false},
		{"a date that is none", "a.ods", document(`<table:table table:name="a"><table:table-row><table:table-cell office:value-type="date" office:date-value="soon"/></table:table-row></table:table>`), `a date "soon"`, false},

		{"200,000 names in a workbook", "a.xlsx", workbook(`<sheetData/>`, `<definedNames>`+repeat(200_000, func(i int) string {
			return fmt.Sprintf(`<definedName name="n%d">%d</definedName>`, i, i)
		})+`</definedNames>`, ""), "more than 20000 defined names", true},
		{"a name of a sheet that is not there", "a.xlsx", workbook(`<sheetData/>`, `<definedNames><definedName name="n" localSheetId="7">1</definedName></definedNames>`, ""), `name n belongs to sheet "7" of 1`, false},
		{"150,000 merged areas in a workbook", "a.xlsx", workbook(`<sheetData/><mergeCells>`+repeat(150_000, func(i int) string { return fmt.Sprintf(`<mergeCell ref="A%d:B%d"/>`, 1+i*i%99_991, 100_000) })+`</mergeCells>`, "", ""), "more than 100000 merged areas", true},
		{"a merged area called nonsense", "a.xlsx", workbook(`<sheetData/><mergeCells><mergeCell ref="A1:B"/></mergeCells>`, "", ""), `"A1:B" is not a range of cells`, false},
		{"array formulas over one another", "a.xlsx", workbook(`<sheetData>`+repeat(20_000, func(i int) string {
			return fmt.Sprintf(`<row r="%d"><c r="A%d"><f t="array" ref="A%d:XFD1048576">1</f><v>%d</v></c></row>`, i+1, i+1, i+1, i*i%99_991)
		})+`</sheetData>`, "", ""), "array formulas over one another; at most 20000000 cells of their areas are looked at", true},
		{"an array formula elsewhere", "a.xlsx", workbook(`<sheetData><row r="2"><c r="B2"><f t="array" ref="A1:B2">1</f></c></row></sheetData>`, "", ""), "B2: damaged: an array formula for A1:B2", false},
		{"one sheet 3000 times", "a.xlsx", func() map[string]string {
			parts := workbook(`<sheetData/>`, "", "")
			parts["xl/workbook.xml"] = `<workbook xmlns:r="r"><sheets>` + repeat(3000, func(i int) string { return fmt.Sprintf(`<sheet name="%d" r:id="a"/>`, i) }) + `</sheets></workbook>`
			return parts
		}(), "3000 sheets; at most 2000 are read", true},
		{"a style that is not there", "a.xlsx", workbook(`<sheetData><row r="1"><c r="A1" s="3"><v>1</v></c></row></sheetData>`, "", `<cellXfs><xf/></cellXfs>`), `A1: damaged: style "3" of 1`, false},
		{"styles without end", "a.xlsx", workbook(`<sheetData/>`, "", `<cellXfs>`+strings.Repeat("<xf/>", 70_000)+`</cellXfs>`), "more than 65536 styles", true},
		{"columns called nonsense", "a.xlsx", workbook(`<cols><col min="5" max="2" hidden="1"/></cols><sheetData/>`, "", ""), `columns "5" to "2"`, false},
	} {
		t.Run(test.name, func(t *testing.T) {
			_, err := loaded(t, sheettest.Pack(t, test.file, test.parts))
			if err == nil || !strings.Contains(err.Error(), test.want) || errors.Is(err, ErrBound) != test.bound {
				t.Errorf("the error is %v; want %q in it, beyond a bound: %t", err, test.want, test.bound)
			}
		})
	}
}

// TestCheap: what only looks large costs nothing.
func TestCheap(t *testing.T) {
	const wide = `<table:table-cell table:number-columns-repeated="16384"/>`
	b, err := loaded(t, sheettest.Pack(t, "a.ods", document(`<table:table table:name="a"><table:table-column table:number-columns-repeated="16384"/>`+
		`<table:table-row table:number-rows-repeated="1048575" table:visibility="collapse">`+wide+`</table:table-row><table:table-row>`+ten+wide+`</table:table-row></table:table>`)))
	if err != nil || len(b.Grids[0].rows) != 1 || b.Grids[0].Cell(Place{1048576, 1}).Text != "10" || !b.Grids[0].RowHidden(777) || b.Grids[0].RowHidden(1048576) {
		t.Errorf("%+v, %v", b, err)
	}
	b, err = loaded(t, sheettest.Pack(t, "a.xlsx", workbook(`<sheetData>`+repeat(5000, func(i int) string {
		return fmt.Sprintf(`<row r="%d"><c r="A%d"><v>%d</v></c><c r="ALJ%d"><v>1</v></c></row>`, 7*i+1, 7*i+1, i, 7*i+1)
	})+`</sheetData>`, "", "")))
	if err != nil || b.Grids[0].Cell(Place{7*4000 + 1, 1}).Text != "4000" || b.Cell(0, Place{7*4000 + 1, 998}).Text != "1" || b.Cell(0, Place{7*4000 + 1, 997}) != nil || b.Cell(0, Place{7*4000 + 2, 1}) != nil {
		t.Errorf("%v", err)
	}
	b, err = loaded(t, sheettest.Pack(t, "a.xlsx", workbook(`<dimension ref="A1:XFD1048576"/><sheetData><row r="1"><c r="A1"><f t="array" ref="A1:XFD1048576">Z1</f><v>1</v></c></row><row r="1048576"><c r="B1048576"><v>2</v></c></row></sheetData>`, "", "")))
	if err != nil || len(b.Grids[0].rows) != 2 {
		t.Fatalf("%+v, %v", b, err)
	}
	if c := b.Cell(0, Place{1048576, 2}); c == nil || c.Text != "2" || c.Formula != "Z1" {
		t.Errorf("%+v", c)
	}
}

// TestDocumentCells: what an OpenDocument cell may hold beside its value.
func TestDocumentCells(t *testing.T) {
	b, err := loaded(t, sheettest.Pack(t, "a.ods", document(
		`<table:tracked-changes><table:cell-content-deletion><table:table-cell office:value-type="float" office:value="9"/></table:cell-content-deletion></table:tracked-changes>`+
			`<table:table table:name="a"><table:shapes><draw:frame><table:table table:name="inner"><table:table-row>`+ten+`</table:table-row></table:table></draw:frame></table:shapes>`+
			`<table:table-header-rows><table:table-row><table:table-cell office:value-type="string"><office:annotation><text:p>a note</text:p></office:annotation><text:p>bore <text:span>in</text:span><text:s text:c="2"/>mm</text:p><text:p>new</text:p></table:table-cell></table:table-row></table:table-header-rows>`+
			`<table:table-row table:number-rows-repeated="2"><table:table-cell table:number-columns-repeated="2" office:value-type="float" office:value="60.012"/><table:covered-table-cell/><table:table-cell office:value-type="time" office:time-value="PT06H00M00S"/></table:table-row>`+
			`<table:table-row><table:table-cell table:formula="of:=[.A2]-[.B2]"/><table:table-cell table:formula="of:=&quot;&quot;"><text:p/></table:table-cell></table:table-row>`+
			`</table:table>`)))
	if err != nil {
		t.Fatal(err)
	}
	if len(b.Grids) != 1 {
		t.Errorf("the sheets are %q", b.Sheets())
	}
	for at, want := range map[string]Cell{
		"A1": {Text: "bore in  mm\nnew", AsText: true},
		"A2": {Text: "60.012"}, "B2": {Text: "60.012"}, "A3": {Text: "60.012"}, "B3": {Text: "60.012"}, "C3": {},
		"D3": {Text: "0.25"},
		"A4": {Formula: "A2-B2"},
		"B4": {Formula: `""`, AsText: true},
	} {
		p, err := ParsePlace(at)
		if got := *b.Grids[0].Cell(p); err != nil || got != want {
			t.Errorf("%s is %+v, want %+v", at, got, want)
		}
	}
}

// TestTables: a table of a workbook is known by its name and its columns.
func TestTables(t *testing.T) {
	parts := workbook(`<sheetData><row r="2"><c r="B2"><v>1</v></c></row></sheetData>`, "", "")
	parts["xl/worksheets/_rels/sheet1.xml.rels"] = `<Relationships><Relationship Id="t" Type="x/table" Target="../tables/table1.xml"/></Relationships>`
	parts["xl/tables/table1.xml"] = `<table name="x" displayName="Mains" ref="B2:D9" totalsRowCount="1"><tableColumns><tableColumn id="1" name="Bore_x000a_mm"/><tableColumn id="2" name="Journal"/></tableColumns></table>`
	b, err := loaded(t, sheettest.Pack(t, "a.xlsx", parts))
	if err != nil {
		t.Fatal(err)
	}
	table, ok := b.Table("mains")
	if got := fmt.Sprintf("%+v %t", table, ok); got != "{Name:Mains Index:0 From:B2 To:D9 Columns:[Bore\nmm Journal] Headings:1 Totals:1 Filtered:false} true" {
		t.Error(got)
	}
	parts["xl/tables/table1.xml"] = `<table displayName="Mains" ref="B2:D"/>`
	if _, err := loaded(t, sheettest.Pack(t, "a.xlsx", parts)); err == nil || !strings.Contains(err.Error(), `sheet Mains: xl/tables/table1.xml: damaged: "B2:D" is not a range`) {
		t.Error(err)
	}
}

// TestWorkbookElsewhere: a workbook's parts may lie where the writer likes.
func TestWorkbookElsewhere(t *testing.T) {
	parts := map[string]string{
		"_rels/.rels":            `<Relationships><Relationship Id="r" Type="x/officeDocument" Target="/book/my.xml"/></Relationships>`,
		"book/my.xml":            `<workbook xmlns:r="r"><sheets><sheet name="A" state="veryHidden" r:id="a"/></sheets></workbook>`,
		"book/_rels/my.xml.rels": `<Relationships><Relationship Id="a" Type="x/worksheet" Target="one.xml"/></Relationships>`,
		"book/one.xml":           `<worksheet><sheetData><row><c><v>60.012</v></c></row></sheetData></worksheet>`,
	}
	b, err := loaded(t, sheettest.Pack(t, "a.xlsm", parts))
	if err != nil || b.Grids[0].Cell(Place{1, 1}).Text != "60.012" || !b.Grids[0].Hidden {
		t.Errorf("%+v, %v", b, err)
	}
}

// TestPictures: a workbook with pictures, which hardly pack, has small parts beside them.
func TestPictures(t *testing.T) {
	parts := workbook(`<sheetData><row r="1"><c r="A1"><v>60.012</v></c></row></sheetData>`, "", "")
	noise := make([]byte, 3<<20)
	for i, x := 0, uint32(7); i < len(noise); i++ {
		x = x*1664525 + 1013904223
		noise[i] = byte(x >> 24)
	}
	parts["xl/media/image1.png"] = string(noise)
	for range 5 { // the order of parts differs from run to run
		if b, err := loaded(t, sheettest.Pack(t, "a.xlsx", parts)); err != nil || len(b.Grids[0].rows) != 1 {
			t.Error(err)
		}
	}
}

func FuzzDocument(f *testing.F) {
	f.Add(`<table:table table:name="a"><table:table-row>` + ten + `</table:table-row></table:table>`)
	f.Add(`<table:named-expressions><table:named-range table:name="a" table:cell-range-address="$a.$B$2"/></table:named-expressions>`)
	f.Fuzz(func(t *testing.T, sheets string) {
		bounds := DefaultBounds()
		bounds.ModelCells, bounds.ModelText = 1000, 10_000
		d := &documentReader{name: "a.ods", budget: &budget{bounds: bounds}, book: &Book{}, styles: newDocumentStyles()}
		if d.readFrom("content.xml", newXMLPart(strings.NewReader(document(sheets)["content.xml"]))) != nil {
			return
		}
		cells := 0
		for _, g := range d.book.Grids {
			for range g.Cells() {
				cells++
			}
		}
		if cells > bounds.ModelCells {
			t.Errorf("%d cells", cells)
		}
	})
}
