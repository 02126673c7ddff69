package annotate_test

import (
	"archive/zip"
	"context"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"example.com/closefit/examples/sheetcheck/annotate"
	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/internal/thorough"
)

// furnished is a workbook with much in it that a copy must keep. The workbook library writes
// what it knows; the other parts are put in by hand.
func furnished(t *testing.T) string {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	must(f.SetSheetName("Sheet1", "Mains"))
	for _, name := range []string{awkward, "Limits"} {
		_, err := f.NewSheet(name)
		must(err)
	}
	for row := 1; row <= 9; row++ {
		must(f.SetSheetRow("Mains", fmt.Sprintf("A%d", row), &[]any{60.012, 2.006, 55.971, 0.029}))
		must(f.SetCellFormula("Mains", fmt.Sprintf("E%d", row), fmt.Sprintf("A%d-2*B%d-C%d", row, row, row)))
	}
	must(f.SetCellValue("Limits", "A1", 0.024))
	must(f.AddComment("Mains", excelize.Comment{Cell: "A3", Author: "the shop", Text: "as stamped"}))
	must(f.AddComment("Mains", excelize.Comment{Cell: "E5", Author: "the shop", Text: "measured twice"}))
	rule := excelize.NewDataValidation(true)
	rule.Sqref = "A1:C9"
	must(rule.SetRange(1, 200, excelize.DataValidationTypeDecimal, excelize.DataValidationOperatorBetween))
	must(f.AddDataValidation("Mains", rule))
	red, err := f.NewConditionalStyle(&excelize.Style{Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{"F4B6B6"}}})
	must(err)
	must(f.SetConditionalFormat("Mains", "E1:E9", []excelize.ConditionalFormatOptions{{Type: "cell", Criteria: ">", Value: "0.048", Format: &red}}))
	must(f.MergeCell("Mains", "G1", "H2"))
	must(f.SetCellHyperLink("Mains", "G4", "https://example.com/", "External"))
	must(f.AddTable("Mains", &excelize.Table{Range: "J1:K4", Name: "parts"}))
	series := []excelize.ChartSeries{{Name: "Mains!$E$1", Values: "Mains!$E$1:$E$9"}}
	must(f.AddChart("Mains", "M1", &excelize.Chart{Type: excelize.Col, Series: series}))
	must(f.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Area", RefersTo: "Mains!$A$1:$E$9", Scope: "Mains"}))
	must(f.SetDefinedName(&excelize.DefinedName{Name: "low", RefersTo: "Limits!$A$1", Scope: "Limits"}))
	must(f.SetDefinedName(&excelize.DefinedName{Name: "least", RefersTo: "Limits!$A$1"}))
	must(f.ProtectSheet(awkward, &excelize.SheetProtectionOptions{Password: "x", SelectLockedCells: true}))
	must(f.SetSheetVisible("Limits", false))
	f.SetActiveSheet(1)
	must(f.SetAppProps(&excelize.AppProperties{Application: "shop"}))
	must(f.AddChartSheet("Drawing", &excelize.Chart{Type: excelize.Col, Series: series}))
	made := filepath.Join(t.TempDir(), "made.xlsx")
	must(f.SaveAs(made))
	parts, _, _ := unpacked(t, made)

	const types = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/"
	parts["xl/calcChain.xml"] = `<calcChain ` + loose + `><c r="E1" i="1"/></calcChain>`
	parts["customXml/item1.xml"] = `<shop xmlns="urn:shop"><engine>winch</engine></shop>`
	parts["xl/externalLinks/externalLink1.xml"] = `<externalLink ` + loose + `><externalBook r:id="rId1"/></externalLink>`
	parts["xl/externalLinks/_rels/externalLink1.xml.rels"] = `<Relationships xmlns="` + packages + `relationships"><Relationship Id="rId1" Type="` + types + `externalLinkPath" Target="file:///elsewhere.xlsx" TargetMode="External"/></Relationships>`
	parts["xl/printerSettings/printerSettings1.bin"] = "\x00\x01printer"
	put(parts, "xl/_rels/workbook.xml.rels", "</Relationships>", `<Relationship Id="rId90" Type="`+types+`calcChain" Target="calcChain.xml"/><Relationship Id="rId91" Type="`+types+`externalLink" Target="externalLinks/externalLink1.xml"/></Relationships>`)
	put(parts, "_rels/.rels", "</Relationships>", `<Relationship Id="rId90" Type="`+types+`customXml" Target="customXml/item1.xml"/></Relationships>`)
	typed(parts, "xl/calcChain.xml calcChain+xml", "xl/externalLinks/externalLink1.xml externalLink+xml")
	put(parts, "[Content_Types].xml", "<Override", `<Default Extension="bin" ContentType="application/octet-stream"/><Override`)
	put(parts, "xl/workbook.xml", "<definedNames>", `<externalReferences><externalReference r:id="rId91" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"/></externalReferences><definedNames>`)
	parts["docProps/app.xml"] = `<Properties xmlns="http://schemas.openxmlformats.org/officeDocument/2006/extended-properties" xmlns:vt="http://schemas.openxmlformats.org/officeDocument/2006/docPropsVTypes"><HeadingPairs><vt:vector size="4" baseType="variant"><vt:variant><vt:lpstr>Arbeitsbl&#228;tter</vt:lpstr></vt:variant><vt:variant><vt:i4>3</vt:i4></vt:variant><vt:variant><vt:lpstr>Diagramme</vt:lpstr></vt:variant><vt:variant><vt:i4>1</vt:i4></vt:variant></vt:vector></HeadingPairs>` +
		`<TitlesOfParts><vt:vector size="4" baseType="lpstr"><vt:lpstr>Mains</vt:lpstr><vt:lpstr>` + awkwardXML + `</vt:lpstr><vt:lpstr>Limits</vt:lpstr><vt:lpstr>Drawing</vt:lpstr></vt:vector></TitlesOfParts></Properties>`
	return pack(t, "furnished.xlsx", parts)
}

func furnishedMarks() []mark {
	return []mark{
		{"Mains", "E3", "one wall instead of two", annotate.Wrong}, {"Mains", "E5", "range a row short", annotate.Latent}, {"Mains", "H2", "joined", annotate.Follows},
		{awkward, "B2", "locked", annotate.Wrong}, {"Limits", "A1", "on a hidden sheet", annotate.Unfounded},
	}
}

// lookFurnished checks what another program finds in the copy of the furnished workbook.
func lookFurnished(t *testing.T, by string, v view) {
	t.Helper()
	for _, m := range furnishedMarks() {
		at := m.at
		if at == "H2" {
			at = "G1"
		}
		if got := v.Cells[m.on][at]; !strings.Contains(got.Comment, m.text) || !strings.EqualFold(got.Colour, colours()[m.kind]) {
			t.Errorf("%s: %s of %s is %+v", by, at, m.on, got)
		}
	}
	if got := v.Cells["Mains"]["A3"].Comment; !strings.Contains(got, "as stamped") {
		t.Errorf("%s: the old comment of A3 is %q", by, got)
	}
	if got := v.Cells["Mains"]["E5"].Comment; !strings.Contains(got, "measured twice") || strings.Index(got, "range") < strings.Index(got, "twice") {
		t.Errorf("%s: the comment of E5 is %q", by, got)
	}
	if want := []string{"Check", "Mains", awkward, "Limits"}; !slices.Equal(slices.DeleteFunc(slices.Clone(v.Sheets), func(s string) bool { return s == "Drawing" }), want) {
		t.Errorf("%s: sheets %q", by, v.Sheets)
	}
}

// TestFurnished: nothing that a workbook is furnished with is lost or moved. TestReadBack has the copy
// opened by other programs.
func TestFurnished(t *testing.T) {
	path := furnished(t)
	name, notes := copied(t, path, answer(furnishedMarks()...))
	if len(notes) > 0 {
		t.Errorf("notes: %q", notes)
	}
	kept(t, path, name)
	parts, _, _ := unpacked(t, name)
	book := parts["xl/workbook.xml"]
	for _, want := range []string{`activeTab="2"`, `<definedName [^>]*localSheetId="1"[^>]*>Mains!\$A\$1:\$E\$9</definedName>`, `<definedName [^>]*localSheetId="3"[^>]*>Limits!\$A\$1</definedName>`, `<definedName name="least">`} {
		if !regexp.MustCompile(want).MatchString(book) {
			t.Errorf("the workbook lacks %s:\n%s", want, book)
		}
	}
	if app := parts["docProps/app.xml"]; !strings.Contains(app, `<vt:i4>4</vt:i4></vt:variant><vt:variant><vt:lpstr>Diagramme`) || !strings.Contains(app, `<vt:vector size="5" baseType="lpstr"><vt:lpstr>Check</vt:lpstr><vt:lpstr>Mains</vt:lpstr>`) {
		t.Errorf("the titles: %s", app)
	}
	t.Run("workbook library", func(t *testing.T) {
		lookFurnished(t, "workbook library", library(t, name, map[string][]string{"Mains": {"A3", "E3", "E5", "G1"}, awkward: {"B2"}, "Limits": {"A1"}}))
		f, err := excelize.OpenFile(name)
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		if rules, err := f.GetDataValidations("Mains"); err != nil || len(rules) != 1 {
			t.Errorf("%d validations, %v", len(rules), err)
		}
		if formats, err := f.GetConditionalFormats("Mains"); err != nil || len(formats) != 1 {
			t.Errorf("%d conditional formats, %v", len(formats), err)
		}
		if tables, err := f.GetTables("Mains"); err != nil || len(tables) != 1 {
			t.Errorf("%d tables, %v", len(tables), err)
		}
		for _, n := range f.GetDefinedName() {
			if n.Name == "low" && n.Scope != "Limits" || n.Name == "_xlnm.Print_Area" && n.Scope != "Mains" {
				t.Errorf("the name %s is that of %s", n.Name, n.Scope)
			}
		}
		if visible, err := f.GetSheetVisible("Limits"); err != nil || visible {
			t.Errorf("Limits is visible: %t, %v", visible, err)
		}
	})
}

// later is a workbook with elements and attributes of a later edition, or of somebody's own, as
// office programs write them.
func later(t *testing.T) string {
	t.Helper()
	parts := small()
	commented(parts)
	put(parts, "xl/worksheets/sheet1.xml", "<worksheet ", `<worksheet xmlns:mc="http://schemas.openxmlformats.org/markup-compatibility/2006" mc:Ignorable="own" xmlns:own="urn:shop" own:uid="{1}" `,
		`<row r="2"`, `<row own:order="7" r="2"`, `<c r="B2" s="1">`, `<c own:by='the > shop' r='B2'  s='1'>`,
		`</sheetData>`, `</sheetData><!-- <row r="3"/> --><sheetProtection sheet="1" own:key="k"/>`,
		`<legacyDrawing r:id="rId1"/>`, `<mc:AlternateContent><mc:Choice Requires="own"><own:panel/></mc:Choice></mc:AlternateContent><legacyDrawing r:id="rId1"/><extLst><ext uri="{own}"><own:note>as stamped</own:note></ext></extLst>`)
	put(parts, "xl/workbook.xml", "<sheets>", `<own:shop xmlns:own="urn:shop" engine="winch"/><sheets>`)
	put(parts, "xl/comments1.xml", `<comment ref="A4"`, `<comment xr:uid="{2}" xmlns:xr="urn:xr" ref="A4"`)
	put(parts, "xl/styles.xml", "</cellXfs>", `</cellXfs><extLst><ext uri="{own}"><own:look xmlns:own="urn:shop"/></ext></extLst>`)
	return pack(t, "later.xlsx", parts)
}

// TestLater: what nobody here knows stays.
func TestLater(t *testing.T) {
	path := later(t)
	name, _ := copied(t, path, answer(mark{"Mains", "B2", "one wall", annotate.Wrong}, mark{"Mains", "B3", "no row", annotate.Wrong}))
	kept(t, path, name)
	if v := library(t, name, map[string][]string{"Mains": {"B2", "B3"}}); v.Cells["Mains"]["B2"].Colour != "F6B8A6" || v.Cells["Mains"]["B3"].Colour != "F6B8A6" {
		t.Errorf("%+v", v)
	}
}

// TestLibraryLoses: the workbook library, asked for one comment, loses parts of the same
// workbook. That is why copies are spliced.
func TestLibraryLoses(t *testing.T) {
	path := later(t)
	f, err := excelize.OpenFile(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := f.AddComment("Mains", excelize.Comment{Cell: "D4", Author: "x", Text: "y"}); err != nil {
		t.Fatal(err)
	}
	saved := filepath.Join(t.TempDir(), "saved.xlsx")
	if err := f.SaveAs(saved); err != nil {
		t.Fatal(err)
	}
	before, _, _ := unpacked(t, path)
	after, _, _ := unpacked(t, saved)
	gone := 0
	for _, part := range slices.Sorted(maps.Keys(before)) {
		for _, own := range regexp.MustCompile(`own:[a-z]+|xr:uid`).FindAllString(before[part], -1) {
			if !strings.Contains(after[part], own) {
				t.Logf("part %s lost %s", part, own)
				gone++
			}
		}
	}
	if gone == 0 {
		t.Error("the library keeps everything now: copies could be written with it")
	}
}

const threadSpace = "http://schemas.microsoft.com/office/spreadsheetml/2018/threadedcomments"

// TestThreads: a thread on a marked cell gets a reply by a person who is in the list; others
// stay.
func TestThreads(t *testing.T) {
	const office = "http://schemas.microsoft.com/office/2017/10/relationships/"
	for _, withPersons := range []bool{true, false} {
		parts := small()
		commented(parts)
		related(parts, "sheet1", "rId1 vmlDrawing ../drawings/vmlDrawing1.vml", "rId2 comments ../comments1.xml", "rId3 "+office+"threadedComment ../threadedComments/threadedComment1.xml")
		parts["xl/threadedComments/threadedComment1.xml"] = `<ThreadedComments xmlns="` + threadSpace + `"><threadedComment ref="B2" dT="2026-01-02T10:00:00.00" personId="{A}" id="{1}"><text>is that right?</text></threadedComment><threadedComment ref="A4" dT="2026-01-02T10:00:00.00" personId="{A}" id="{2}" parentId="{9}"><text>and that?</text></threadedComment><threadedComment ref="B2" dT="2026-01-02T11:00:00.00" personId="{A}" id="{3}" parentId="{1}"><text>measured again</text></threadedComment></ThreadedComments>`
		typed(parts, "xl/threadedComments/threadedComment1.xml application/vnd.ms-excel.threadedcomments+xml")
		if withPersons {
			parts["xl/persons/person.xml"] = `<personList xmlns="` + threadSpace + `"><person displayName="the shop" id="{A}" userId="shop" providerId="None"/></personList>`
			typed(parts, "xl/persons/person.xml application/vnd.ms-excel.person+xml")
			put(parts, "xl/_rels/workbook.xml.rels", "</Relationships>", `<Relationship Id="rId9" Type="`+office+`person" Target="persons/person.xml"/></Relationships>`)
		}
		path := pack(t, "threads.xlsx", parts)
		name, _ := copied(t, path, answer(mark{"Mains", "B2", "one wall instead of two", annotate.Wrong}, mark{"Mains", "D4", "typed", annotate.Latent}, mark{"Mains", "A4", "far off", annotate.Wrong}))
		kept(t, path, name)
		after, _, _ := unpacked(t, name)
		if threads := after["xl/threadedComments/threadedComment1.xml"]; strings.Count(threads, "<threadedComment ") != 5 || !strings.Contains(threads, ` parentId="{9}"><text>far off</text>`) {
			t.Errorf("threads: %s", threads)
		}
		reply := regexp.MustCompile(`measured again</text></threadedComment><threadedComment ref="B2" dT="2026-01-05T12:00:00.00" personId="(\{[0-9A-F-]{36}\})" id="\{[0-9A-F-]{36}\}" parentId="\{1\}"><text>one wall instead of two</text></threadedComment></ThreadedComments>`).
			FindStringSubmatch(after["xl/threadedComments/threadedComment1.xml"])
		if reply == nil {
			t.Fatalf("threads: %s", after["xl/threadedComments/threadedComment1.xml"])
		}
		persons := ""
		for part, text := range after {
			if strings.HasPrefix(part, "xl/persons/") {
				persons += text
			}
		}
		if strings.Count(persons, `id="`+reply[1]+`"`) != 1 || withPersons != strings.Contains(persons, `id="{A}"`) || strings.Count(after["xl/_rels/workbook.xml.rels"], "/person\"") != 1 {
			t.Errorf("persons: %s", persons)
		}
	}
}

// TestBoxes: each comment of a marked cell has one box, whether it had one, the drawing lacked
// it, or there was no drawing.
func TestBoxes(t *testing.T) {
	for _, test := range []struct {
		name   string
		change func(parts map[string]string)
		want   []string // the cells, by row and column from 0
		blocks string   // of numbers of shapes
	}{
		{"both there", func(map[string]string) {}, []string{"1 1", "3 0", "3 3"}, "1,2"},
		{"one not there", func(p map[string]string) {
			text := p["xl/drawings/vmlDrawing1.vml"]
			p["xl/drawings/vmlDrawing1.vml"] = text[:strings.Index(text, `<v:shape id="_x0000_s1026"`)] + "</xml>"
		}, []string{"1 1", "3 0", "3 3"}, "1,2"},
		{"no drawing", func(p map[string]string) { delete(p, "xl/drawings/vmlDrawing1.vml") }, []string{"1 1", "3 0", "3 3"}, "1"},
		{"other words for the languages", func(p map[string]string) {
			p["xl/drawings/vmlDrawing1.vml"] = strings.NewReplacer("<v:", "<n0:", "</v:", "</n0:", "xmlns:v", "xmlns:n0", "v:ext", "n0:ext").Replace(p["xl/drawings/vmlDrawing1.vml"])
		}, []string{"1 1", "3 0", "3 3"}, "1,2"},
	} {
		t.Run(test.name, func(t *testing.T) {
			parts := small()
			commented(parts)
			test.change(parts)
			path := pack(t, "boxes.xlsx", parts)
			name, _ := copied(t, path, answer(mark{"Mains", "A4", "far off", annotate.Wrong}, mark{"Mains", "D4", "typed", annotate.Latent}))
			after, _, _ := unpacked(t, name)
			drawing := after["xl/drawings/vmlDrawing1.vml"]
			var got []string
			for _, m := range regexp.MustCompile(`<x:Row>([0-9]+)</x:Row><x:Column>([0-9]+)</x:Column>`).FindAllStringSubmatch(drawing, -1) {
				got = append(got, m[1]+" "+m[2])
			}
			slices.Sort(got)
			if !slices.Equal(got, test.want) {
				t.Errorf("boxes at %q, want %q", got, test.want)
			}
			if !strings.Contains(drawing, `data="`+test.blocks+`"`) {
				t.Errorf("blocks of numbers other than %s:\n%s", test.blocks, drawing)
			}
			if err := xml.Unmarshal([]byte(drawing), &struct{ XMLName xml.Name }{}); err != nil {
				t.Errorf("the drawing: %v\n%s", err, drawing)
			}
		})
	}
}

// TestOrder: the boxes of comments are named where a sheet may name them, before what comes
// after: ISO/IEC 29500-1, 18.3.1.99.
func TestOrder(t *testing.T) {
	const own = ` xmlns:mc="http://schemas.openxmlformats.org/markup-compatibility/2006" xmlns:own="urn:shop"`
	for after, before := range map[string]string{
		`<tableParts count="0"/>`: `<pageMargins left="1" right="1" top="1" bottom="1" header="1" footer="1"/><drawing r:id="rId7"/>`,
		`<extLst/>`:               `<mc:AlternateContent` + own + `><mc:Choice Requires="own"><own:drawing/></mc:Choice></mc:AlternateContent>`,
		`<mc:AlternateContent` + own + `><mc:Choice Requires="own"><controls/></mc:Choice></mc:AlternateContent>`: `<drawing r:id="rId7"/>`,
		``: `<mc:AlternateContent` + own + `/><ignoredErrors/>`,
	} {
		parts := small()
		put(parts, "xl/worksheets/sheet1.xml", "</sheetData>", "</sheetData>"+before+after)
		name, _ := copied(t, pack(t, "order.xlsx", parts), answer(mark{"Mains", "B2", "one wall", annotate.Wrong}))
		copy, _, _ := unpacked(t, name)
		if got := copy["xl/worksheets/sheet1.xml"]; !strings.HasSuffix(got, "</sheetData>"+before+`<legacyDrawing r:id="rId2"/>`+after+"</worksheet>") {
			t.Errorf("the end is %s", got[strings.Index(got, "</sheetData>"):])
		}
	}
}

// TestEmptyCellsLooks: a cell that was not there looks as its row or column has it, in the colour of
// the mark.
func TestEmptyCellsLooks(t *testing.T) {
	parts := small()
	put(parts, "xl/worksheets/sheet1.xml", `<sheetData>`, `<cols><col min="2" max="3" width="12" style="1"/></cols><sheetData>`, `<row r="4">`, `<row r="4" s="0" customFormat="1">`)
	name, _ := copied(t, pack(t, "looks.xlsx", parts), answer(mark{"Mains", "B3", "no row", annotate.Wrong}, mark{"Mains", "C4", "no cell", annotate.Wrong}, mark{"Mains", "F2", "no cell", annotate.Wrong}, mark{"Mains", "C2", "no cell", annotate.Wrong}))
	f, err := excelize.OpenFile(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for cell, want := range map[string]int{"B3": 164, "C4": 0, "F2": 0, "C2": 164} {
		id, err := f.GetCellStyle("Mains", cell)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := f.GetStyle(id); err != nil {
			t.Fatal(err)
		}
		if xf := f.Styles.CellXfs.Xf[id]; *xf.NumFmtID != want || *xf.FillID != 2 {
			t.Errorf("%s has the number format %d, want %d, and the fill %d", cell, *xf.NumFmtID, want, *xf.FillID)
		}
	}
}

// TestArchive: what the archive itself says stays.
func TestArchive(t *testing.T) {
	z, err := zip.OpenReader(pack(t, "plain.xlsx", small()))
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	path := filepath.Join(t.TempDir(), "said.xlsx")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	w := zip.NewWriter(f)
	if err := errors.Join(w.SetComment("as stored by the shop"), w.AddFS(z), w.Close(), f.Close()); err != nil {
		t.Fatal(err)
	}
	name, _ := copied(t, path, answer(mark{"Mains", "B2", "one wall", annotate.Wrong}))
	again, err := zip.OpenReader(name)
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	if again.Comment != "as stored by the shop" {
		t.Errorf("the comment of the archive is %q", again.Comment)
	}
}

// TestNotes: a signature does not hold for the copy, macros that count sheets count one more.
func TestNotes(t *testing.T) {
	parts := small()
	parts["_xmlsignatures/origin.sigs"] = ""
	parts["_xmlsignatures/sig1.xml"] = "<Signature/>"
	parts["xl/vbaProject.bin"] = "inert"
	put(parts, "_rels/.rels", "</Relationships>", `<Relationship Id="rId2" Type="http://schemas.openxmlformats.org/package/2006/relationships/digital-signature/origin" Target="_xmlsignatures/origin.sigs"/></Relationships>`)
	put(parts, "xl/_rels/workbook.xml.rels", "</Relationships>", `<Relationship Id="rId8" Type="http://schemas.microsoft.com/office/2006/relationships/vbaProject" Target="vbaProject.bin"/></Relationships>`)
	put(parts, "[Content_Types].xml", "<Override", `<Default Extension="bin" ContentType="application/vnd.ms-office.vbaProject"/><Override`, kindOf+"sheet.main+xml", "application/vnd.ms-excel.sheet.macroEnabled.main+xml")
	path := pack(t, "signed.xlsm", parts)
	name, notes := copied(t, path, answer(mark{"Mains", "B2", "one wall", annotate.Wrong}))
	kept(t, path, name)
	if len(notes) != 2 || !strings.Contains(notes[0], "not for this copy") || !strings.Contains(notes[1], "finds Check as the first") {
		t.Errorf("notes: %q", notes)
	}
	after, _, _ := unpacked(t, name)
	if !strings.Contains(after["[Content_Types].xml"], "sheet.macroEnabled.main+xml") {
		t.Error("it is no workbook with macros any more")
	}
	if page := after["xl/worksheets/sheet3.xml"]; !strings.Contains(page, notes[0]) || !strings.Contains(page, notes[1]) {
		t.Errorf("the first sheet: %s", page)
	}
}

// TestMany: 1,000 findings, and more than are shown.
func TestMany(t *testing.T) {
	parts := small()
	rows := &strings.Builder{}
	for row := 1; row <= 11_000; row++ {
		fmt.Fprintf(rows, `<row r="%d"><c r="A%d"><v>%d</v></c></row>`, row, row, row)
	}
	parts["xl/worksheets/sheet1.xml"] = `<worksheet ` + loose + `><sheetData>` + rows.String() + `</sheetData></worksheet>`
	path := pack(t, "many.xlsx", parts)
	for _, n := range []int{1000, 10_500} {
		var marks []mark
		for i := range n {
			marks = append(marks, mark{"Mains", fmt.Sprintf("%s%d", []string{"A", "B"}[i%2], i+1), fmt.Sprintf("finding %d", i), annotate.Kind(i % 4)})
		}
		a := answer(marks...)
		for i := range 1498 { // after the two that are there
			a.Below = append(a.Below, fmt.Sprintf("Mains!Z%d: nothing is there", i))
		}
		name, notes := copied(t, path, a)
		after, _, _ := unpacked(t, name)
		shown := min(n, 10_000)
		if got := strings.Count(after["xl/comments1.xml"], "<comment "); got != shown {
			t.Errorf("%d comments for %d findings", got, n)
		}
		if got := strings.Count(after["xl/drawings/vmlDrawing1.vml"], "<v:shape "); got != shown {
			t.Errorf("%d boxes for %d findings", got, n)
		}
		ids := regexp.MustCompile(`<v:shape id="(_x0000_s[0-9]+)"`).FindAllStringSubmatch(after["xl/drawings/vmlDrawing1.vml"], -1)
		distinct := map[string]bool{}
		for _, id := range ids {
			distinct[id[1]] = true
		}
		if len(distinct) != shown {
			t.Errorf("%d numbers of boxes for %d", len(distinct), shown)
		}
		page := after["xl/worksheets/sheet3.xml"]
		if strings.Count(page, "nothing is there") != 999 || !strings.Contains(page, "&#8230; 500 more lines are in the report.") {
			t.Errorf("%d lines of what is not checked", strings.Count(page, "nothing is there"))
		}
		if got := strings.Count(page, "<hyperlink "); got != shown {
			t.Errorf("%d links for %d findings", got, n)
		}
		if (n > 10_000) != strings.Contains(page, "500 more have no row here") || (n > 10_000) != (len(notes) == 1 && strings.Contains(notes[0], "the other 500 have colours alone")) {
			t.Errorf("%d findings: notes %q", n, notes)
		}
		coloured := regexp.MustCompile(`<c r="[AB][0-9]+" s="[0-9]+"|<c s="[0-9]+" r="`).FindAllString(after["xl/worksheets/sheet1.xml"], -1)
		if len(coloured) != n {
			t.Errorf("%d cells coloured for %d findings", len(coloured), n)
		}
		if n == 1000 && thorough.Whole() {
			v := document(t, office(t, name)[name])
			for _, m := range []mark{marks[0], marks[501], marks[999]} {
				if got := v.Cells["Mains"][m.at]; got.Comment != m.text || !strings.EqualFold(got.Colour, colours()[m.kind]) {
					t.Errorf("%s is %+v, want %+v", m.at, got, m)
				}
			}
		}
	}
}

// TestRefused: what cannot be copied is refused with what to do, or as damaged.
func TestRefused(t *testing.T) {
	for _, test := range []struct {
		name   string
		change func(parts map[string]string)
		want   string
	}{
		{"UTF-16", func(p map[string]string) {
			put(p, "xl/styles.xml", "<styleSheet", `<?xml version="1.0" encoding="UTF-16"?><styleSheet`)
		}, "save it and copy that"},
		{"a sheet in another encoding", func(p map[string]string) {
			put(p, "xl/worksheets/sheet1.xml", "<worksheet", `<?xml version="1.0" encoding="ISO-8859-1"?><worksheet`)
		}, "part xl/worksheets/sheet1.xml: it is in an encoding"},
		{"a sheet cut off", func(p map[string]string) { put(p, "xl/worksheets/sheet1.xml", "</sheetData></worksheet>", "") }, "damaged: it ends in the middle"},
		{"a document type", func(p map[string]string) {
			put(p, "xl/worksheets/sheet1.xml", "<worksheet", `<!DOCTYPE a [<!ENTITY b "c">]><worksheet`)
		}, "damaged: a document type"},
		{"rows out of order", func(p map[string]string) { put(p, "xl/worksheets/sheet1.xml", `<row r="4">`, `<row r="1">`) }, "row 1 comes after row 2"},
		{"no list of cells", func(p map[string]string) {
			p["xl/worksheets/sheet1.xml"] = "<worksheet " + loose + "></worksheet>"
		}, "B2 is to be marked"},
		{"tags that do not match", func(p map[string]string) {
			put(p, "xl/worksheets/sheet1.xml", "</row></sheetData>", "</x></sheetData>")
		}, "closes no element"},
		{"a tag without an end", func(p map[string]string) {
			put(p, "xl/worksheets/sheet1.xml", "</sheetData>", "</sheetData><a b='"+noise())
		}, "are read for one"},
		{"very many elements", func(p map[string]string) {
			put(p, "xl/styles.xml", "</cellXfs>", noise()+strings.Repeat("<xf/>", 600_000)+"</cellXfs>")
		}, "more than 500000 elements"},
		{"very many joined cells", func(p map[string]string) {
			put(p, "xl/worksheets/sheet1.xml", "</sheetData>", "</sheetData><mergeCells>"+noise()+strings.Repeat(`<mergeCell ref="A1"/>`, 600_000)+"</mergeCells>")
		}, "more than 500000 joined cells"},
		{"very many cells in a row", func(p map[string]string) {
			put(p, "xl/worksheets/sheet1.xml", `<c r="B2" s="1">`, noise()+strings.Repeat(`<c r="A2"/>`, 600_000)+`<c r="B2" s="1">`)
		}, "row 2 of more than 500000 cells"},
		{"a sheet of another name", func(p map[string]string) { put(p, "xl/workbook.xml", `name="Mains"`, `name="Rods"`) }, `no sheet is called "Mains"`},
	} {
		t.Run(test.name, func(t *testing.T) {
			parts := small()
			test.change(parts)
			_, _, err := copyOf(pack(t, "book.xlsx", parts), answer(mark{"Mains", "B2", "x", annotate.Wrong}))
			if err == nil || !strings.Contains(err.Error(), test.want) {
				t.Errorf("error %v, want %q in it", err, test.want)
			}
		})
	}
}

// noise is a long text that does not pack well.
func noise() string {
	var b strings.Builder
	for i := range 1 << 18 {
		fmt.Fprint(&b, i*i%99_991, " ")
	}
	return b.String()
}

// TestCopyAgain: the copy of a copy keeps the first answer, and has its own beside it.
func TestCopyAgain(t *testing.T) {
	path := pack(t, "book.xlsx", small())
	first, _ := copied(t, path, answer(mark{"Mains", "B2", "one wall", annotate.Wrong}))
	second, _ := copied(t, first, answer(mark{"Mains", "B2", "one wall again", annotate.Latent}))
	kept(t, first, second)
	w, err := sheet.OpenWorkbook(second, sheet.DefaultBounds())
	if err != nil {
		t.Fatal(err)
	}
	defer w.Close()
	if own := w.Own(); !slices.Equal(own, []string{"Check 2", "Check"}) {
		t.Errorf("its own sheets are %q", own)
	}
}

// TestLightLetters: white letters on a dark ground become dark ones on the colour of the mark, and
// stay white in cells without one.
func TestLightLetters(t *testing.T) {
	parts := small()
	put(parts, "xl/styles.xml", `<fonts count="1">`, `<fonts count="2">`, `</fonts>`, `<font><b/><sz val="13"/><color rgb="FFFFFFFF"/><name val="Sans"/></font></fonts>`, `<fills count="2">`, `<fills count="3">`, `</fills>`, `<fill><patternFill patternType="solid"><fgColor rgb="FF202020"/></patternFill></fill></fills>`,
		`numFmtId="164" fontId="0" fillId="0"`, `numFmtId="164" fontId="1" fillId="2"`)
	put(parts, "xl/worksheets/sheet1.xml", `<c r="D4">`, `<c r="D4" s="1">`)
	path := pack(t, "light.xlsx", parts)
	name, _ := copied(t, path, answer(mark{"Mains", "B2", "one wall", annotate.Wrong}))
	kept(t, path, name)
	f, err := excelize.OpenFile(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for cell, want := range map[string]string{"B2": "", "D4": "FFFFFFFF"} {
		id, err := f.GetCellStyle("Mains", cell)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := f.GetStyle(id); err != nil {
			t.Fatal(err)
		}
		font, got := f.Styles.Fonts.Font[*f.Styles.CellXfs.Xf[id].FontID], ""
		if font.Color != nil {
			got = font.Color.RGB
		}
		if got != want || font.B == nil || *font.Sz.Val != 13 {
			t.Errorf("%s has letters of colour %q, want %q: %+v", cell, got, want, font)
		}
	}
}

// TestStopped: a copy that is interrupted ends with the reason.
func TestStopped(t *testing.T) {
	w, err := sheet.OpenWorkbook(pack(t, "book.xlsx", small()), sheet.DefaultBounds())
	if err != nil {
		t.Fatal(err)
	}
	defer w.Close()
	stopped := errors.New("enough")
	ctx, cancel := context.WithCancelCause(t.Context())
	cancel(stopped)
	for name, a := range map[string]*annotate.Answer{"marks": answer(mark{"Mains", "B2", "one wall", annotate.Wrong}), "none": answer()} {
		if _, err := annotate.Copy(ctx, io.Discard, w, a, noon); !errors.Is(err, stopped) {
			t.Errorf("%s: error %v", name, err)
		}
	}
}
