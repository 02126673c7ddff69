package annotate_test

import (
	"archive/zip"
	"bytes"
	"context"
	"io"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/closefit/examples/sheetcheck/annotate"
	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/examples/sheetcheck/sheet/sheettest"
)

const (
	loose       = `xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"`
	looseOffice = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/"
	packages    = "http://schemas.openxmlformats.org/package/2006/"
	kindOf      = "application/vnd.openxmlformats-officedocument.spreadsheetml."
)

// small is the parts of a workbook with two sheets, the second of an awkward name.
func small() map[string]string {
	return map[string]string{
		"[Content_Types].xml": `<Types xmlns="` + packages + `content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="` + kindOf + `sheet.main+xml"/><Override PartName="/xl/styles.xml" ContentType="` + kindOf + `styles+xml"/><Override PartName="/xl/worksheets/sheet1.xml" ContentType="` + kindOf + `worksheet+xml"/><Override PartName="/xl/worksheets/sheet2.xml" ContentType="` + kindOf + `worksheet+xml"/></Types>`,
		"_rels/.rels":         `<Relationships xmlns="` + packages + `relationships"><Relationship Id="rId1" Type="` + looseOffice + `officeDocument" Target="xl/workbook.xml"/></Relationships>`,
		"xl/_rels/workbook.xml.rels": `<Relationships xmlns="` + packages + `relationships"><Relationship Id="rId1" Type="` + looseOffice + `worksheet" Target="worksheets/sheet1.xml"/>` +
			`<Relationship Id="rId2" Type="` + looseOffice + `worksheet" Target="/xl/worksheets/sheet2.xml"/><Relationship Id="rId3" Type="` + looseOffice + `styles" Target="styles.xml"/></Relationships>`,
		"xl/styles.xml": `<styleSheet ` + loose + `><numFmts count="1"><numFmt numFmtId="164" formatCode="0.000&quot; mm&quot;"/></numFmts><fonts count="1"><font><sz val="11"/><name val="Sans"/></font></fonts><fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills>` +
			`<borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border></borders><cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>` +
			`<cellXfs count="2"><xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/><xf numFmtId="164" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1"><alignment horizontal="right"/><protection locked="0"/></xf></cellXfs></styleSheet>`,
		"xl/workbook.xml":          `<workbook ` + loose + `><sheets><sheet name="Mains" sheetId="1" r:id="rId1"/><sheet name="` + awkwardXML + `" sheetId="7" r:id="rId2"/></sheets><definedNames><definedName name="_xlnm.Print_Area" localSheetId="1">` + `'It''s &quot;ä&quot; &amp; b'!$A$1:$C$3</definedName><definedName name="limit">Mains!$B$2</definedName></definedNames></workbook>`,
		"xl/worksheets/sheet1.xml": `<worksheet ` + loose + `><sheetData>` + mains + `</sheetData></worksheet>`,
		"xl/worksheets/sheet2.xml": `<worksheet ` + loose + `><sheetData><row r="1"><c r="A1"><v>3</v></c></row></sheetData></worksheet>`,
	}
}

const (
	awkward    = `It's "ä" & b`
	awkwardXML = `It's &quot;ä&quot; &amp; b`
	mains      = `<row r="1"><c r="A1" t="inlineStr"><is><t>bore</t></is></c><c r="B1" t="inlineStr"><is><t>clearance</t></is></c></row>` +
		`<row r="2" spans="1:2"><c r="A2"><v>60.012</v></c><c r="B2" s="1"><f>A2-59.981</f><v>0.031</v></c></row>` +
		`<row r="4"><c r="A4"><v>60.013</v></c><c r="D4"><v>4</v></c></row>`
)

func place(text string) sheet.Place {
	p, err := sheet.ParsePlace(text)
	if err != nil {
		panic(err)
	}
	return p
}

// answer marks cells, each "kind sheet cell", and has a row for each.
func answer(marks ...mark) *annotate.Answer {
	a := &annotate.Answer{Lines: []string{"mains.xlsx", "2 locations, 4 claims compared"}, Below: []string{"not checked", "Mains!B9: nothing is there"}}
	for _, m := range marks {
		a.Marks = append(a.Marks, annotate.Mark{Sheet: m.on, At: place(m.at), Kind: m.kind, Text: m.text})
		a.Rows = append(a.Rows, annotate.Row{Kind: m.kind, Name: "value wrong", Sheet: m.on, At: sheet.Area{First: place(m.at), Last: place(m.at)},
			Found: "=1+1", Right: "0.031 mm", Cause: m.text, Formula: "=A2-59.981"})
	}
	return a
}

type mark struct {
	on, at, text string
	kind         annotate.Kind
}

// colours are those of the kinds, read off the first copy that was looked at.
func colours() map[annotate.Kind]string {
	return map[annotate.Kind]string{annotate.Wrong: "F6B8A6", annotate.Unfounded: "DCC9F2", annotate.Latent: "FFEBA8", annotate.Follows: "C9DDF2"}
}

// noon is when copies are written.
var noon = time.Date(2026, 1, 5, 12, 0, 0, 0, time.UTC)

// copied writes the copy of a workbook beside nothing, and returns its path and what is said.
func copied(t *testing.T, path string, a *annotate.Answer) (name string, notes []string) {
	t.Helper()
	name = filepath.Join(t.TempDir(), filepath.Base(path))
	text, notes, err := copyOf(path, a)
	if err != nil {
		t.Fatalf("%s: %v", filepath.Base(path), err)
	}
	if err := os.WriteFile(name, text, 0o600); err != nil {
		t.Fatal(err)
	}
	return name, notes
}

func copyOf(path string, a *annotate.Answer) (text []byte, notes []string, err error) {
	w, err := sheet.OpenWorkbook(path, sheet.DefaultBounds())
	if err != nil {
		return nil, nil, err
	}
	defer w.Close()
	var b bytes.Buffer
	notes, err = annotate.Copy(context.Background(), &b, w, a, noon)
	return b.Bytes(), notes, err
}

// unpacked returns the parts of a file, and as they are packed.
func unpacked(t *testing.T, path string) (parts, packed map[string]string, order []string) {
	t.Helper()
	z, err := zip.OpenReader(path)
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	parts, packed = map[string]string{}, map[string]string{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		if err != nil {
			t.Fatalf("%s: %s: %v", path, f.Name, err)
		}
		raw, err := f.OpenRaw()
		if err != nil {
			t.Fatal(err)
		}
		bytes, err := io.ReadAll(raw)
		if err != nil {
			t.Fatal(err)
		}
		parts[f.Name], packed[f.Name] = string(text), string(bytes)
		order = append(order, f.Name)
	}
	return parts, packed, order
}

var (
	piece   = regexp.MustCompile(`<!--.*?-->|<(?:[^>"']|"[^"]*"|'[^']*')*>|[^<]+`)
	changed = regexp.MustCompile(` +(s|count|size|activeTab|firstSheet|localSheetId|fillId|applyFill)=("[^"]*"|'[^']*')`)
)

// lost returns the first tag or text of a part that its copy does not have, in its order. Only
// the attributes that must change may differ, and an empty element may have got something in it.
func lost(before, after string) string {
	all := piece.FindAllString(after, -1)
	plain := func(text string) string {
		return strings.TrimSuffix(strings.TrimSuffix(changed.ReplaceAllString(text, ""), "/>"), ">")
	}
	next := 0
	for _, p := range piece.FindAllString(before, -1) {
		for next < len(all) && all[next] != p && plain(all[next]) != plain(p) {
			next++
		}
		if next == len(all) {
			return p
		}
		next++
	}
	return ""
}

// mayChange are the parts that a copy changes; all others are the same, packed bytes and all.
var mayChange = regexp.MustCompile(`^(\[Content_Types\]\.xml|(xl|shop)/(workbook|styles)\.xml|(xl|shop)/worksheets/[^/]*\.xml|(xl|shop)/(worksheets/)?_rels/[^/]*\.rels|docProps/app\.xml|xl/comments[^/]*\.xml|xl/drawings/(.*/)?[^/]*\.vml|xl/threadedComments/.*|xl/persons/.*)$`)

var counts = regexp.MustCompile(`<vt:i4>[0-9]+</vt:i4>`)

// kept checks that a copy keeps all that the workbook has.
func kept(t *testing.T, path, name string) {
	t.Helper()
	before, rawBefore, order := unpacked(t, path)
	after, rawAfter, now := unpacked(t, name)
	if !slices.Equal(order, now[:len(order)]) {
		t.Errorf("parts were in the order %v and are %v", order, now)
	}
	for _, part := range slices.Sorted(maps.Keys(before)) {
		switch {
		case !mayChange.MatchString(part):
			if rawBefore[part] != rawAfter[part] {
				t.Errorf("part %s is not the same", part)
			}
		case strings.HasSuffix(part, ".vml"):
			if gone := lost(strings.Split(before[part], "<o:idmap")[0], after[part]); gone != "" {
				t.Errorf("part %s lost %q", part, gone)
			}
			if old := regexp.MustCompile(`(?s)<v:shape .*</v:shape>`).FindString(before[part]); !strings.Contains(after[part], old) {
				t.Errorf("part %s: a shape changed", part)
			}
		case part == "docProps/app.xml": // one count of sheets is another
			if gone := lost(counts.ReplaceAllString(before[part], ""), counts.ReplaceAllString(after[part], "")); gone != "" {
				t.Errorf("part %s lost %q", part, gone)
			}
		default:
			if gone := lost(before[part], after[part]); gone != "" {
				t.Errorf("part %s lost %q", part, gone)
			}
		}
	}
}

// pack writes parts as a workbook.
func pack(t *testing.T, name string, parts map[string]string) string {
	t.Helper()
	return sheettest.Pack(t, name, parts)
}
