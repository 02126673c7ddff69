package sheet

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// small are bounds that few texts reach, so that the sizes of what is read can be held to them.
func small() Bounds {
	b := DefaultBounds()
	b.FileSize, b.SheetPart, b.StringsPart, b.OtherParts, b.ModelParts = 1<<20, 1<<20, 1<<20, 1<<20, 1<<20
	b.ModelCells, b.ModelText, b.Columns, b.Rows = 1000, 10_000, 64, 1000
	return b
}

// opened opens and loads a file of these bytes twice, and fails unless both times give the same within bounds.
func opened(t *testing.T, path string, text []byte, d Dialect) (b *Book, err error) {
	t.Helper()
	if err := os.WriteFile(path, text, 0o600); err != nil {
		t.Fatal(err)
	}
	load := func() (b *Book, err error) {
		f, err := Open(path, d, small())
		if err != nil {
			return nil, err
		}
		defer func() { err = errors.Join(err, f.Close()) }()
		return f.Load(t.Context())
	}
	b, err = load()
	again, errAgain := load()
	if (err == nil) != (errAgain == nil) {
		t.Fatalf("%v, and then %v", err, errAgain)
	}
	if err != nil {
		if err.Error() == "" || len(err.Error()) > 1<<16 {
			t.Fatalf("an error of %d bytes", len(err.Error()))
		}
		return nil, err
	}
	cells := 0
	for i, g := range b.Grids {
		for at, c := range g.Cells() {
			cells++
			if other := again.Grids[i].Cell(at); other == nil || other.Text != c.Text || other.Formula != c.Formula {
				t.Fatalf("%s holds %+v, and then %+v", at, c, other)
			}
		}
	}
	if cells > small().ModelCells {
		t.Fatalf("%d cells", cells)
	}
	return b, nil
}

// FuzzOpen: any bytes under any ending are a book, or an error that names the file; workbooks of the
// older kind are always refused.
func FuzzOpen(f *testing.F) {
	dir := f.TempDir()
	endings := []string{".xlsx", ".ods", ".csv", ".tsv", ".xls", ".xlsb", ".txt", ".xlsm", ".doc", ""}
	for i, parts := range []map[string]string{workbook(`<sheetData><row r="1"><c r="A1"><v>1</v></c></row></sheetData>`, "", ""), document(`<table:table table:name="a"/>`)} {
		f.Add(uint8(i), packed(f, parts))
	}
	f.Add(uint8(4), []byte("\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1"))
	f.Add(uint8(2), []byte("\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1"))
	f.Add(uint8(2), []byte("PK\x03\x04"))
	f.Add(uint8(3), []byte("\xff\xfea\x00\t\x00b\x00\n\x00"))
	f.Fuzz(func(t *testing.T, which uint8, data []byte) {
		ending := endings[int(which)%len(endings)]
		path := filepath.Join(dir, "fuzzed"+ending)
		_, err := opened(t, path, data, Dialect{})
		if err != nil && !strings.Contains(err.Error(), path) {
			var unclear *BoundError
			if !errors.As(err, &unclear) {
				t.Errorf("%v does not name the file", err)
			}
		}
		if err == nil && (ending == ".xls" || ending == ".xlsb" || ending == ".doc" || ending == "") {
			t.Errorf("a file that ends in %q is read", ending)
		}
	})
}

// FuzzText: separated values are read as encoding/csv reads them, where it reads them at all.
func FuzzText(f *testing.F) {
	dir := f.TempDir()
	for _, s := range []string{"a,b\n1,2\n", "a;b\r\n\"1,5\";\"x\"\"y\"\r\n", "a\n", ",,\n,1\n", "\"a\nb\",c\n", "sep=,\na,b\n", "a,b\n1,2,3\n"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		b, err := opened(t, filepath.Join(dir, "fuzzed.csv"), []byte(text), Dialect{Separator: ',', Decimal: '.'})
		if err != nil || strings.ContainsAny(text, "\x00\r\ufeff") || strings.HasPrefix(strings.ToLower(text), "sep=") || strings.ToValidUTF8(text, "") != text {
			return
		}
		r := csv.NewReader(strings.NewReader(text))
		r.FieldsPerRecord = -1
		for {
			record, err := r.Read()
			if err == io.EOF {
				break
			}
			if err != nil {
				return
			}
			row, _ := r.FieldPos(0)
			for i, field := range record {
				got := ""
				if c := b.Grids[0].Cell(Place{Row: row, Column: i + 1}); c != nil {
					got = c.Text
				}
				if got != field && strings.TrimSpace(got) != strings.TrimSpace(field) && !strings.Contains(text, "\"") {
					t.Fatalf("line %d, field %d of %q is %q, want %q", row, i+1, text, got, field)
				}
			}
		}
	})
}

// FuzzWorkbook: whatever stands in the parts of a workbook, it is read within bounds, twice the same, or refused.
func FuzzWorkbook(f *testing.F) {
	dir := f.TempDir()
	f.Add(`<sheetData><row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1"><f t="shared" ref="B1:B2" si="0">A1*2</f><v>2</v></c></row></sheetData><mergeCells><mergeCell ref="A1:B2"/></mergeCells>`,
		`<definedNames><definedName name="limit">Mains!$A$1</definedName></definedNames>`, `<numFmts><numFmt numFmtId="170" formatCode="0.000"/></numFmts><cellXfs><xf numFmtId="170"/></cellXfs>`, `<si><t>a</t></si>`)
	f.Add(`<sheetData/>`, ``, ``, `<si><r><t>a</t></r><rPh><t>b</t></rPh></si>`)
	f.Fuzz(func(t *testing.T, sheet, beside, styles, texts string) {
		parts := workbook(sheet, beside, styles)
		parts["xl/sharedStrings.xml"] = `<sst>` + texts + `</sst>`
		parts["xl/_rels/workbook.xml.rels"] = strings.Replace(parts["xl/_rels/workbook.xml.rels"], "</Relationships>", `<Relationship Id="c" Type="x/sharedStrings" Target="sharedStrings.xml"/></Relationships>`, 1)
		_, _ = opened(t, filepath.Join(dir, "fuzzed.xlsx"), packed(t, parts), Dialect{})
	})
}

// packed is an archive of parts, in memory.
func packed(tb testing.TB, parts map[string]string) []byte {
	tb.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, part := range []string{"content.xml", "xl/workbook.xml", "xl/_rels/workbook.xml.rels", "xl/worksheets/sheet1.xml", "xl/styles.xml", "xl/sharedStrings.xml"} {
		text, there := parts[part]
		if !there {
			continue
		}
		w, err := z.Create(part)
		if err == nil {
			_, err = io.WriteString(w, text)
		}
		if err != nil {
			tb.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		tb.Fatal(err)
	}
	return b.Bytes()
}

// FuzzParsePlace: a cell, a column or an area is read as it is written again, or refused with what to write.
func FuzzParsePlace(f *testing.F) {
	for _, s := range []string{"C7", "aa10", "B7:E12", "$E$12:B7", "A0", "XFD1048576", "ZZZ9", "A99999999999999999999", "ſ1", "7", "A", "", "A1:", "A1:B2:C3"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		p, err := ParsePlace(text)
		if err == nil {
			if again, err := ParsePlace(p.String()); err != nil || again != p || p.Row < 1 || p.Column < 1 {
				t.Errorf("%q is %s, which is %s, %v", text, p, again, err)
			}
		} else if p != (Place{}) || !strings.Contains(err.Error(), "write") {
			t.Errorf("%q: %v, %v", text, p, err)
		}
		if c, err := ParseColumn(text); err == nil {
			if again, err := ParseColumn(ColumnName(c)); err != nil || again != c || !strings.EqualFold(ColumnName(c), text) {
				t.Errorf("%q is column %d, %s, %v", text, c, ColumnName(c), err)
			}
		}
		if a, err := ParseArea(text); err == nil {
			if again, err := ParseArea(a.String()); err != nil || again != a || !a.Holds(a.First) || !a.Holds(a.Last) {
				t.Errorf("%q is %s, which is %s, %v", text, a, again, err)
			}
		}
	})
}
