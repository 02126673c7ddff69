package sheet

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"
)

// cellsOf reads the cells of a sheet's XML, by place.
func cellsOf(text string, shared ...string) (cells map[string]Cell, err error) {
	texts := &sharedTexts{}
	for _, s := range shared {
		texts.all = append(texts.all, s...)
		texts.ends = append(texts.ends, uint32(len(texts.all)))
	}
	cells = map[string]Cell{}
	keep := func(b *Batch, _ error) bool {
		for _, row := range b.rows {
			for i, c := range row.Cells {
				if c != (Cell{}) {
					cells[Place{row.Number, i + 1}.String()] = c
				}
			}
		}
		return true
	}
	r := &cellReader{xmlPart: newXMLPart(strings.NewReader(text)), where: "sheet", bounds: DefaultBounds(), texts: texts, rows: newSupply(keep)}
	return cells, r.read(context.Background())
}

// TestCells: what ISO/IEC 29500-1, 18.3.1, lets a cell be written as.
func TestCells(t *testing.T) {
	for _, test := range []struct {
		name, rows string
		want       map[string]Cell
	}{
		{"numbers", `<row r="2"><c r="B2"><v>60.012</v></c><c r="D2" t="n" s="1"><v>3.1E-2</v></c></row>`,
			map[string]Cell{"B2": {Text: "60.012"}, "D2": {Text: "3.1E-2"}}},
		{"rows and cells without numbers", `<row><c><v>1</v></c><c><v>2</v></c></row><row r="5"><c r="C5"><v>3</v></c><c><v>4</v></c></row><row><c><v>5</v></c></row>`,
			map[string]Cell{"A1": {Text: "1"}, "B1": {Text: "2"}, "C5": {Text: "3"}, "D5": {Text: "4"}, "A6": {Text: "5"}}},
		{"shared and inline texts", `<row r="1"><c r="A1" t="s"><v>1</v></c><c r="B1" t="inlineStr"><is><r><t>two </t></r><r><rPr><b/></rPr><t>runs</t></r><rPh sb="0" eb="1"><t>aloud</t></rPh></is></c></row>`,
			map[string]Cell{"A1": {Text: "second", AsText: true}, "B1": {Text: "two runs", AsText: true}}},
		{"an escaped character", `<row r="1"><c r="A1" t="str"><f>A2</f><v>a_x000A_b_x005F_c</v></c></row>`,
			map[string]Cell{"A1": {Text: "a\nb_c", Formula: "A2", AsText: true}}},
		{"truth, error and date", `<row r="1"><c r="A1" t="b"><v>1</v></c><c r="B1" t="b"><v>0</v></c><c r="C1" t="e"><v>#N/A</v></c><c r="D1" t="d"><v>2026-11-26</v></c></row>`,
			map[string]Cell{"A1": {Text: "TRUE"}, "B1": {Text: "FALSE"}, "C1": {Text: "#N/A"}, "D1": {Text: "2026-11-26"}}},
		{"nothing in it", `<row r="1"/><row r="2"><c r="A2" s="3"/><c r="B2"><v/></c><c r="C2" t="s"></c></row>`, map[string]Cell{}},
		{"a formula without a value", `<row r="1"><c r="A1"><f>B1&lt;2</f></c></row>`, map[string]Cell{"A1": {Formula: "B1<2"}}},
		{"CDATA and comments", `<row r="1"><!-- <c r="Z1"> --><c r="A1"><f><![CDATA[A2&2]]>+1</f><v>1<!-- 2 -->3</v></c></row>`,
			map[string]Cell{"A1": {Text: "13", Formula: "A2&2+1"}}},
		{"a shared formula", `<row r="5"><c r="F5"><f t="shared" ref="F5:F7" si="0">B5-C$5</f></c></row><row r="6"><c r="F6"><f t="shared" si="0"/></c></row><row r="7"><c r="F7"><f t="shared" si="0"></f></c></row><row r="8"><c r="F8"><f t="shared" si="1"/><v>2</v></c></row>`,
			map[string]Cell{"F5": {Formula: "B5-C$5"}, "F6": {Formula: "B6-C$5"}, "F7": {Formula: "B7-C$5"}, "F8": {Text: "2"}}},
	} {
		t.Run(test.name, func(t *testing.T) {
			for _, prefix := range []string{"", "x:"} {
				text := `<?xml version="1.0"?><worksheet xmlns="a" xmlns:x="a"><sheetData>` + test.rows + `</sheetData><c/></worksheet>`
				if prefix != "" {
					text = strings.NewReplacer("</", "</x:", "<!", "<!", "<?", "<?", "<", "<x:").Replace(text)
				}
				got, err := cellsOf(text, "first", "second")
				if err != nil {
					t.Fatal(err)
				}
				if diff := cmp.Diff(test.want, got, cmp.AllowUnexported(Cell{})); diff != "" {
					t.Error(diff)
				}
			}
		})
	}
}

// TestDamagedCells: what cannot be is said, with its place.
func TestDamagedCells(t *testing.T) {
	for _, test := range []struct{ name, text, want string }{
		{"an end in the middle", `<sheetData><row r="2"><c r="B2"><v>60.0`, "sheet: damaged: it ends in the middle"},
		{"an element closed out of order", `<sheetData><row r="2"></c></row></sheetData>`, "sheet: damaged: </c> closes no element"},
		{"a cell outside a row", `<sheetData><c r="A1"/></sheetData>`, "sheet: damaged: a cell outside a row"},
		{"a shared text that is not there", `<sheetData><row r="2"><c r="B2" t="s"><v>7</v></c></row></sheetData>`, `sheet, B2: damaged: shared text "7" of 0`},
		{"a document type", `<!DOCTYPE x [<!ENTITY a "b">]><sheetData/>`, "damaged: a document type"},
		{"an entity of its own", `<sheetData><row><c><v>&a;</v></c></row></sheetData>`, "damaged: XML syntax error"},
		{"elements in one another", strings.Repeat("<a>", 100), "elements more than 64 deep"},
		{"an attribute without an end", `<sheetData a="` + strings.Repeat("x", 3<<20), "a tag or a text without an end"},
		{"a comment without an end", `<sheetData><!-- ` + strings.Repeat("x", 3<<20), "a tag or a text without an end"},
		{"a cell too long", `<sheetData><row><c><v>` + strings.Repeat("x", 40<<10) + `</v></c></row></sheetData>`, "sheet, A1: a cell of 40960 bytes"},
		{"a row twice", `<sheetData><row r="2"/><row r="2"/></sheetData>`, "row 2 comes after row 2"},
	} {
		t.Run(test.name, func(t *testing.T) {
			if _, err := cellsOf(test.text); err == nil || !strings.Contains(err.Error(), test.want) {
				t.Errorf("error is %v, want %q in it", err, test.want)
			}
		})
	}
}

// TestCellsLikeLibrary: in whole workbooks the cells are those that the workbook
// library reads.
func TestCellsLikeLibrary(t *testing.T) {
	for _, name := range []string{"metric.xlsx", "inch.xlsx", "twelve.xlsx", "values.xlsx"} {
		name := "../testdata/" + name
		w, err := OpenWorkbook(name, DefaultBounds())
		if err != nil {
			t.Fatal(err)
		}
		book, err := excelize.OpenFile(name, excelize.Options{RawCellValue: true})
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(book.GetSheetList(), w.Sheets()); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
		cells := 0
		for _, s := range w.Sheets() {
			rows, err := book.GetRows(s)
			if err != nil {
				t.Fatal(err)
			}
			for row, err := range Rows(t.Context(), w, s) {
				if err != nil {
					t.Fatal(err)
				}
				for i, c := range row.Cells {
					at := Place{row.Number, i + 1}.String()
					formula, err := book.GetCellFormula(s, at)
					if err != nil || c.Text != rows[row.Number-1][i] || c.Formula != formula {
						t.Errorf("%s!%s is %q, =%q; the library reads %q, =%q, %v", s, at, c.Text, c.Formula, rows[row.Number-1][i], formula, err)
					}
					if c.Text != "" {
						cells++
					}
				}
			}
			for _, row := range rows {
				for _, text := range row {
					if text != "" {
						cells--
					}
				}
			}
		}
		if cells != 0 {
			t.Errorf("%s: %d cells more than the library reads", name, cells)
		}
		if err := fmt.Sprint(w.Close(), book.Close()); err != "<nil> <nil>" {
			t.Error(err)
		}
	}
}

func FuzzCells(f *testing.F) {
	f.Add(`<sheetData><row r="1"><c r="A1" t="s"><f>A1&lt;2</f><v>1</v></c></row></sheetData>`)
	f.Add(`<!--<![CDATA[<?<row><c`)
	f.Add(`<!DOCTYPE x [<!ENTITY a "b">]><sheetData/>`)
	f.Fuzz(func(t *testing.T, text string) {
		cells, err := cellsOf(text, "one")
		for at, c := range cells {
			p, wrong := ParsePlace(at)
			if wrong != nil || p.Column > DefaultBounds().Columns || c.Text == "" && c.Formula == "" {
				t.Errorf("%s holds %v, error %v", at, c, err)
			}
		}
	})
}
