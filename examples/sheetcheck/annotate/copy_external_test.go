package annotate_test

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"

	"example.com/closefit/examples/sheetcheck/annotate"
	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/internal/thorough"
)

// A bookCase is a workbook that is awkward in one way.
type bookCase struct {
	name   string
	change func(parts map[string]string)
	marks  []mark
	notBy  map[string]string // programs that cannot read it, and why
}

func put(parts map[string]string, part string, pairs ...string) {
	before := parts[part]
	if parts[part] = strings.NewReplacer(pairs...).Replace(before); parts[part] == before {
		panic("nothing to change in " + part)
	}
}

// related gives a sheet relations, each "id kind target".
func related(parts map[string]string, sheet string, each ...string) {
	text := `<Relationships xmlns="` + packages + `relationships">`
	for _, r := range each {
		words := strings.Fields(r)
		kind := looseOffice + words[1]
		if strings.HasPrefix(words[1], "http") {
			kind = words[1]
		}
		text += fmt.Sprintf(`<Relationship Id="%s" Type="%s" Target="%s"/>`, words[0], kind, words[2])
	}
	parts["xl/worksheets/_rels/"+sheet+".xml.rels"] = text + `</Relationships>`
}

// typed gives parts types, each "part kind".
func typed(parts map[string]string, each ...string) {
	for _, e := range each {
		words := strings.Fields(e)
		kind := words[1]
		if !strings.Contains(kind, "/") {
			kind = kindOf + kind
		}
		put(parts, "[Content_Types].xml", "</Types>", fmt.Sprintf(`<Override PartName="/%s" ContentType="%s"/></Types>`, words[0], kind))
	}
}

const (
	oldComments = `<comments ` + loose + `><authors><author>the shop</author></authors><commentList><comment ref="B2" authorId="0"><text><t>as stamped</t></text></comment><comment ref="A4" authorId="0"><text><r><rPr><b/></rPr><t>on the block</t></r></text></comment></commentList></comments>`
	oldBoxes    = `<xml xmlns:v="urn:schemas-microsoft-com:vml" xmlns:o="urn:schemas-microsoft-com:office:office" xmlns:x="urn:schemas-microsoft-com:office:excel"><o:shapelayout v:ext="edit"><o:idmap v:ext="edit" data="1"/></o:shapelayout><v:shapetype id="_x0000_t202" coordsize="21600,21600" o:spt="202" path="m,l,21600r21600,l21600,xe"><v:stroke joinstyle="miter"/><br><v:path gradientshapeok="t" o:connecttype="rect"/></v:shapetype>` +
		`<v:shape id="_x0000_s1025" type="#_x0000_t202" style='position:absolute;visibility:hidden' fillcolor="#ffffe1" o:insetmode="auto"><v:textbox/><x:ClientData ObjectType="Note"><x:Anchor>2, 15, 0, 2, 4, 15, 4, 4</x:Anchor><x:AutoFill>False</x:AutoFill><x:Row>1</x:Row><x:Column>1</x:Column></x:ClientData></v:shape>` +
		`<v:shape id="_x0000_s1026" type="#_x0000_t202" style='position:absolute;visibility:hidden' fillcolor="#ffffe1" o:insetmode="auto"><v:textbox/><x:ClientData ObjectType="Note"><x:Anchor>1, 15, 2, 2, 3, 15, 6, 4</x:Anchor><x:AutoFill>False</x:AutoFill><x:Row>3</x:Row><x:Column>0</x:Column></x:ClientData></v:shape></xml>`
)

// commented gives the first sheet comments on B2 and A4.
func commented(parts map[string]string) {
	parts["xl/comments1.xml"] = oldComments
	parts["xl/drawings/vmlDrawing1.vml"] = strings.ReplaceAll(oldBoxes, "<br>", "")
	related(parts, "sheet1", "rId1 vmlDrawing ../drawings/vmlDrawing1.vml", "rId2 comments ../comments1.xml")
	typed(parts, "xl/comments1.xml comments+xml")
	put(parts, "[Content_Types].xml", `<Override`, `<Default Extension="VML" ContentType="application/vnd.openxmlformats-officedocument.vmlDrawing"/><Override`)
	put(parts, "xl/worksheets/sheet1.xml", `</worksheet>`, `<legacyDrawing r:id="rId1"/></worksheet>`)
}

func cases() []bookCase {
	usual := []mark{
		{"Mains", "B2", "one wall instead of two", annotate.Wrong},
		{"Mains", "B3", "no row is there", annotate.Unfounded},
		{"Mains", "C4", "no cell is there", annotate.Latent},
		{awkward, "A1", "typed: =A2 & <\"ä\"> _x0041_", annotate.Follows},
		{awkward, "B9", "below all rows", annotate.Wrong},
	}
	return []bookCase{
		{name: "plain", change: func(map[string]string) {}, marks: usual},
		{name: "no styles", change: func(p map[string]string) {
			delete(p, "xl/styles.xml")
			put(p, "xl/_rels/workbook.xml.rels", `<Relationship Id="rId3" Type="`+looseOffice+`styles" Target="styles.xml"/>`, "")
			put(p, "[Content_Types].xml", `<Override PartName="/xl/styles.xml" ContentType="`+kindOf+`styles+xml"/>`, "")
			put(p, "xl/worksheets/sheet1.xml", ` s="1"`, "")
		}, marks: usual},
		{name: "no cells at all", change: func(p map[string]string) {
			p["xl/worksheets/sheet2.xml"] = `<worksheet ` + loose + `><sheetData/></worksheet>`
		}, marks: usual},
		{name: "empty rows", change: func(p map[string]string) {
			put(p, "xl/worksheets/sheet1.xml", `<row r="4">`, `<row r="3" ht="30" /><row r="4">`)
		}, marks: usual},
		{name: "nothing numbered", change: func(p map[string]string) {
			p["xl/worksheets/sheet1.xml"] = `<worksheet ` + loose + `><sheetData><row><c><v>1</v></c></row><row><c><v>60.012</v></c><c s="1"><f>A2-59.981</f><v>0.031</v></c></row></sheetData></worksheet>`
		}, marks: usual},
		{name: "prefixes", change: func(p map[string]string) {
			for _, part := range []string{"xl/workbook.xml", "xl/worksheets/sheet1.xml", "xl/worksheets/sheet2.xml", "xl/styles.xml"} {
				text := regexp.MustCompile(`<(/?)([A-Za-z])`).ReplaceAllString(p[part], `<${1}x:$2`)
				p[part] = strings.Replace(text, "xmlns=", "xmlns:x=", 1)
			}
		}, marks: usual},
		{name: "strict", change: func(p map[string]string) {
			for part := range p {
				p[part] = strings.NewReplacer("http://schemas.openxmlformats.org/spreadsheetml/2006/main", "http://purl.oclc.org/ooxml/spreadsheetml/main",
					"http://schemas.openxmlformats.org/officeDocument/2006/relationships", "http://purl.oclc.org/ooxml/officeDocument/relationships").Replace(p[part])
			}
		}, marks: usual, notBy: map[string]string{"openpyxl": "it knows no strict workbooks"}},
		{name: "comments", change: commented, marks: append(slices.Clone(usual), mark{"Mains", "A4", "reading far off", annotate.Wrong})},
		{name: "comments with prefixes", change: func(p map[string]string) {
			commented(p)
			text := regexp.MustCompile(`<(/?)([A-Za-z])`).ReplaceAllString(oldComments, `<${1}x:$2`)
			p["xl/comments1.xml"] = strings.Replace(text, "xmlns=", "xmlns:x=", 1)
		}, marks: usual},
		{name: "comments without boxes", change: func(p map[string]string) {
			commented(p)
			delete(p, "xl/drawings/vmlDrawing1.vml")
		}, marks: usual},
		{name: "comments without a drawing", change: func(p map[string]string) {
			commented(p)
			delete(p, "xl/drawings/vmlDrawing1.vml")
			put(p, "xl/worksheets/sheet1.xml", `<legacyDrawing r:id="rId1"/>`, `<tableParts count="0"/><extLst/>`)
			related(p, "sheet1", "rId2 comments ../comments1.xml")
		}, marks: usual},
		{name: "merged", change: func(p map[string]string) {
			put(p, "xl/worksheets/sheet1.xml", `</sheetData>`, `</sheetData><mergeCells count="1"><mergeCell ref="A6:C8"/></mergeCells>`)
		}, marks: append(slices.Clone(usual), mark{"Mains", "B7", "in joined cells", annotate.Wrong}, mark{"Mains", "C8", "likewise", annotate.Latent})},
		{name: "styles of rows and columns", change: func(p map[string]string) {
			put(p, "xl/worksheets/sheet1.xml", `<sheetData>`, `<cols><col min="2" max="3" width="12" style="1"/></cols><sheetData>`, `<row r="4">`, `<row r="4" s="1" customFormat="1">`)
		}, marks: usual},
		{name: "parts listed that are not there", change: func(p map[string]string) {
			delete(p, "xl/styles.xml") // its type and relation stay
			put(p, "xl/worksheets/sheet1.xml", ` s="1"`, "")
			related(p, "sheet1", "rId2 comments ../comments1.xml")
			typed(p, "xl/comments1.xml comments+xml", "xl/worksheets/sheet3.xml worksheet+xml")
		}, marks: usual},
		{name: "parts elsewhere", change: func(p map[string]string) {
			for part, text := range maps.Clone(p) {
				delete(p, part)
				p[strings.Replace(part, "xl/", "shop/", 1)] = strings.NewReplacer(`"/xl/`, `"/shop/`, `"xl/`, `"shop/`).Replace(text)
			}
		}, marks: usual, notBy: map[string]string{"openpyxl": "it looks for styles in xl alone", "workbook library": "likewise"}},
		{name: "a sheet called Check", change: func(p map[string]string) {
			put(p, "xl/workbook.xml", `<sheets>`, `<bookViews><workbookView firstSheet="1" activeTab="1"/></bookViews><sheets>`, `name="Mains"`, `name="CHECK"`, "Mains!", "CHECK!")
		}, marks: []mark{{"CHECK", "B2", "one wall instead of two", annotate.Wrong}}},
	}
}

// TestReadBack: whatever a workbook is like, other programs find the marks in the copy, and
// everything else that was there.
func TestReadBack(t *testing.T) {
	var names []string
	all := map[string]bookCase{}
	types := regexp.MustCompile(`PartName="[^"]*"`)
	for i, c := range cases() {
		parts := small()
		c.change(parts)
		path := pack(t, fmt.Sprintf("case%02d.xlsx", i), parts)
		name, _ := copied(t, path, answer(c.marks...))
		kept(t, path, name)
		after, _, _ := unpacked(t, name)
		said := types.FindAllString(after["[Content_Types].xml"], -1)
		if slices.Sort(said); len(slices.Compact(slices.Clone(said))) != len(said) {
			t.Errorf("%s: types are said twice: %q", c.name, said)
		}
		names = append(names, name)
		all[name] = c
	}
	furnished, _ := copied(t, furnished(t), answer(furnishedMarks()...))
	check := func(t *testing.T, by string, c bookCase, v view) {
		t.Helper()
		first := "Check"
		if c.name == "a sheet called Check" {
			first = "Check 2"
		}
		if v.Sheets[0] != first || !slices.Contains(v.Sheets[1:], c.marks[0].on) {
			t.Errorf("%s, %s: the sheets are %q", by, c.name, v.Sheets)
			return
		}
		if got := v.Cells[c.marks[0].on]["A2"].Value; got != "60.012" {
			t.Errorf("%s, %s: A2 is %q", by, c.name, got)
		}
		for _, m := range c.marks {
			at, comment := m.at, strings.ReplaceAll(m.text, "_x0041_", "")
			if m.at == "B7" || m.at == "C8" {
				at = "A6"
			}
			got := v.Cells[m.on][at]
			if !strings.Contains(strings.ReplaceAll(got.Comment, "_x0041_", ""), comment) && !strings.Contains(got.Comment, strings.ReplaceAll(m.text, "_x", "_x005F_x")) {
				t.Errorf("%s, %s: the comment on %s of %s is %q, want %q in it", by, c.name, at, m.on, got.Comment, comment)
			}
			if want := colours()[m.kind]; m.at != "C8" && !strings.EqualFold(got.Colour, want) {
				t.Errorf("%s, %s: %s of %s has the colour %q, want %s", by, c.name, at, m.on, got.Colour, want)
			}
		}
		if strings.HasPrefix(c.name, "comments") {
			if got := v.Cells["Mains"]["B2"].Comment; !strings.HasPrefix(got, "as stamped") || !strings.Contains(got, "sheetcheck:") {
				t.Errorf("%s, %s: the old comment reads %q", by, c.name, got)
			}
			if got := v.Cells["Mains"]["A4"].Comment; !strings.HasPrefix(got, "on the block") {
				t.Errorf("%s, %s: the old comment reads %q", by, c.name, got)
			}
		}
	}
	t.Run("workbook library", func(t *testing.T) {
		for name, c := range all {
			if c.notBy["workbook library"] != "" {
				continue
			}
			wanted := map[string][]string{c.marks[0].on: {"A2", "A4"}}
			for _, m := range c.marks {
				wanted[m.on] = append(wanted[m.on], m.at, "A6")
			}
			check(t, "workbook library", c, library(t, name, wanted))
		}
	})
	t.Run("openpyxl", func(t *testing.T) {
		var read []string
		for _, name := range names {
			if all[name].notBy["openpyxl"] == "" {
				read = append(read, name)
			}
		}
		views := python(t, append(read, furnished)...)
		lookFurnished(t, "openpyxl", views[furnished])
		delete(views, furnished)
		for name, v := range views {
			check(t, "openpyxl", all[name], v)
			links(t, "openpyxl", all[name], v)
		}
	})
	t.Run("office program", func(t *testing.T) {
		thorough.Long(t)
		var some []string
		for i := 0; i < len(names); i += thorough.Every(4) {
			some = append(some, names[i])
		}
		stored := office(t, append(some, furnished)...)
		lookFurnished(t, "office program", document(t, stored[furnished]))
		delete(stored, furnished)
		for name, stored := range stored {
			v := document(t, stored)
			check(t, "office", all[name], v)
			links(t, "office", all[name], v)
		}
	})
	t.Run("sheetcheck", func(t *testing.T) {
		for name, c := range all {
			w, err := sheet.OpenWorkbook(name, sheet.DefaultBounds())
			if err != nil {
				t.Fatal(err)
			}
			defer w.Close()
			if own := w.Own(); len(own) != 1 || !strings.HasPrefix(own[0], "Check") || slices.Contains(w.Sheets(), own[0]) || len(w.Sheets()) != 2 {
				t.Errorf("%s: its own sheets are %q, the others %q", c.name, own, w.Sheets())
			}
			book, err := w.Load(t.Context())
			if err != nil {
				t.Fatalf("%s: %v", c.name, err)
			}
			for _, n := range book.Names {
				if n.Name == "_xlnm.Print_Area" && n.Sheet != awkward {
					t.Errorf("%s: the print area is that of %q", c.name, n.Sheet)
				}
			}
			at, _ := book.Index(c.marks[0].on)
			if cell := book.Cell(at, place("B2")); cell == nil || cell.Formula != "A2-59.981" || cell.Text != "0.031" {
				t.Errorf("%s: B2 holds %+v", c.name, cell)
			}
		}
	})
}

// links checks the first sheet: each row's link leads to its cell, and nothing is a formula.
func links(t *testing.T, by string, c bookCase, v view) {
	t.Helper()
	first := v.Cells[v.Sheets[0]]
	if got := first["A1"].Value; got != "mains.xlsx" {
		t.Errorf("%s, %s: A1 is %q", by, c.name, got)
	}
	for i, m := range c.marks {
		row := 5 + i // two lines, a blank one, the headings
		link := first[fmt.Sprintf("B%d", row)].Link
		quoted := "'" + strings.ReplaceAll(m.on, "'", "''") + "'"
		mark := strings.NewReplacer("#", "", ".", "!", "$", "").Replace(link)
		if mark != quoted+"!"+m.at && (by != "office" || mark != m.on+"!"+m.at) { // which takes off the quotation marks
			t.Errorf("%s, %s: the link in row %d is %q, for %s of %s", by, c.name, row, link, m.at, m.on)
		}
		for column, want := range map[string]string{"C": "=1+1", "D": "0.031 mm", "F": "=A2-59.981"} {
			if got := first[fmt.Sprintf("%s%d", column, row)]; got.Value != want || by == "office" && got.Formula {
				t.Errorf("%s, %s: %s%d is %+v, want the text %q", by, c.name, column, row, got, want)
			}
		}
	}
}
