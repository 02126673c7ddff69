package main

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"context"
	_ "embed"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"strings"
	"testing"

	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/examples/sheetcheck/sheet/sheettest"
	"example.com/closefit/internal/thorough"
)

// workbook is the parts of a small .xlsx file with one sheet.
func workbook(rows string) map[string]string {
	const xmlns = `xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"`
	const office = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/"
	return map[string]string{
		"[Content_Types].xml":        `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/><Override PartName="/xl/styles.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.styles+xml"/><Override PartName="/xl/worksheets/sheet1.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/></Types>`,
		"_rels/.rels":                `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="` + office + `officeDocument" Target="xl/workbook.xml"/></Relationships>`,
		"xl/_rels/workbook.xml.rels": `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="` + office + `worksheet" Target="worksheets/sheet1.xml"/><Relationship Id="rId2" Type="` + office + `styles" Target="styles.xml"/></Relationships>`,
		"xl/styles.xml":              `<styleSheet ` + xmlns + `><fonts count="1"><font><sz val="11"/><name val="Sans"/></font></fonts><fills count="1"><fill/></fills><borders count="1"><border/></borders><cellStyleXfs count="1"><xf/></cellStyleXfs><cellXfs count="1"><xf/></cellXfs></styleSheet>`,
		"xl/workbook.xml":            `<workbook ` + xmlns + `><sheets><sheet name="Mains" sheetId="1" r:id="rId1"/></sheets></workbook>`,
		"xl/worksheets/sheet1.xml":   `<worksheet ` + xmlns + `><sheetData>` + rows + `</sheetData></worksheet>`,
	}
}

// document is an OpenDocument sheet of one table.
func document(t *testing.T, rows string) string {
	t.Helper()
	const ns = "urn:oasis:names:tc:opendocument:xmlns:"
	return sheettest.Pack(t, "book.ods", map[string]string{
		"mimetype": "application/vnd.oasis.opendocument.spreadsheet",
		"content.xml": `<office:document-content xmlns:office="` + ns + `office:1.0" xmlns:table="` + ns + `table:1.0" xmlns:text="` + ns + `text:1.0"><office:body><office:spreadsheet><table:table table:name="Mains">` +
			rows + `</table:table></office:spreadsheet></office:body></office:document-content>`,
	})
}

func file(t *testing.T, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// bearingMap is a map of rows from the second on, with all a bearing needs.
//
//go:embed testdata/bearing.toml
var bearingMap string

// checkFile runs the program on a file with bearingMap, and says how far memory
// rose.
func checkFile(t *testing.T, path string, more ...string) (status int, out, errs string, grown uint64) {
	t.Helper()
	mapName := file(t, "map.toml", bearingMap)
	var stdout, stderr bytes.Buffer
	defer debug.SetGCPercent(debug.SetGCPercent(100)) // as the program does
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	status = run(context.Background(), append(append([]string{"-map", mapName}, more...), path), &stdout, &stderr)
	runtime.ReadMemStats(&after)
	return status, stdout.String(), stderr.String(), after.HeapSys - min(before.HeapSys, after.HeapSys)
}

// refused wants a file to be refused with a message, cheaply.
func refused(t *testing.T, path, message string, more ...string) {
	t.Helper()
	status, out, errs, grown := checkFile(t, path, more...)
	if status != badInput || out != "" {
		t.Errorf("status %d, output %q; want %d and nothing", status, out, badInput)
	}
	if !strings.Contains(errs, message) {
		t.Errorf("said %q, want %q in it", errs, message)
	}
	if grown > 128<<20 {
		t.Errorf("memory grew by %d MB", grown>>20)
	}
}

// bomb is a part of zeros, deflated, that says it unpacks to size.
func bomb(t *testing.T, z *zip.Writer, name string, unpacked int64, says uint64) {
	t.Helper()
	block := bytes.Repeat([]byte(" "), 1<<20)
	var packed bytes.Buffer
	deflate, err := flate.NewWriter(&packed, flate.BestCompression)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := deflate.Write(block); err != nil {
		t.Fatal(err)
	}
	if err := deflate.Flush(); err != nil {
		t.Fatal(err)
	}
	one := bytes.Clone(packed.Bytes()) // whole blocks, which can be repeated
	sum := crc32.NewIEEE()
	sum.Write(block)
	for left := unpacked - int64(len(block)); left > 0; left -= int64(len(block)) {
		packed.Write(one)
		sum.Write(block)
	}
	if err := deflate.Close(); err != nil {
		t.Fatal(err)
	}
	w, err := z.CreateRaw(&zip.FileHeader{Name: name, Method: zip.Deflate, CRC32: sum.Sum32(), CompressedSize64: uint64(packed.Len()), UncompressedSize64: says})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := w.Write(packed.Bytes()); err != nil {
		t.Fatal(err)
	}
}

// TestBombs: archives that unpack to far more than they weigh.
func TestBombs(t *testing.T) {
	for _, test := range []struct {
		name, part string
		says       uint64
		message    string
	}{
		{"a sheet of 500 MB", "xl/worksheets/sheet1.xml", 500 << 20, "at most 200 to 1 is read"},
		{"a picture of 500 MB", "xl/media/image1.png", 500 << 20, "at most 32 MB are read of its kind"},
		{"texts of 500 MB", "xl/sharedStrings.xml", 500 << 20, "at most 32 MB are read of its kind"},
		{"a sheet that lies about its size", "xl/worksheets/sheet1.xml", 4000, "damaged: it ends in the middle"},
		{"texts that lie about their size", "xl/sharedStrings.xml", 4000, ""},
		{"a picture that lies about its size", "xl/media/image1.png", 4000, ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			var b bytes.Buffer
			z := zip.NewWriter(&b)
			for name, text := range workbook("") {
				if name == test.part {
					continue
				}
				w, err := z.Create(name)
				if err != nil {
					t.Fatal(err)
				}
				if _, err := io.WriteString(w, text); err != nil {
					t.Fatal(err)
				}
			}
			bomb(t, z, test.part, 500<<20, test.says)
			if err := z.Close(); err != nil {
				t.Fatal(err)
			}
			path := file(t, "bomb.xlsx", b.String())
			if test.message != "" {
				refused(t, path, test.message)
				return
			}
			// What is not needed may be cut off, but must cost nothing.
			status, _, errs, grown := checkFile(t, path)
			if status != checked || grown > 128<<20 {
				t.Errorf("status %d, memory grew by %d MB: %s", status, grown>>20, errs)
			}
		})
	}
}

// TestHugeDimensions: a small file whose every row claims the last column there is.
func TestHugeDimensions(t *testing.T) {
	var rows strings.Builder
	for i := range 100 {
		n := i*10_000 + 1
		fmt.Fprintf(&rows, `<row r="%d"><c r="XFD%d"><v>1</v></c></row>`, n, n)
	}
	path := sheettest.Pack(t, "book.xlsx", workbook(rows.String()))
	refused(t, path, "a cell in column 16384; at most 1024 columns are read")
}

// TestSparseRows: rows may stand a million apart at no cost.
func TestSparseRows(t *testing.T) {
	path := sheettest.Pack(t, "book.xlsx", workbook(`<row r="1"><c r="A1"><v>1</v></c></row><row r="1048576"><c r="A1048576"><v>1</v></c></row>`))
	status, out, errs, _ := checkFile(t, path)
	if status != checked || !strings.Contains(out, "0 claims compared") {
		t.Errorf("status %d, said %q and %q", status, out, errs)
	}
}

// TestDamaged: files that are not what they say.
func TestDamaged(t *testing.T) {
	truncated := sheettest.Pack(t, "book.xlsx", workbook(`<row r="2"><c r="B2"><v>60.0`))
	for _, test := range []struct{ name, path, message string }{
		{"no archive", file(t, "a.xlsx", "not a workbook at all"), "is no .xlsx workbook"},
		{"XML that ends in a cell", truncated, "damaged"},
		{"a cell called nonsense", sheettest.Pack(t, "book.xlsx", workbook(`<row r="2"><c r="2B"><v>1</v></c></row>`)), `a cell called "2B"`},
		{"a row called nonsense", sheettest.Pack(t, "book.xlsx", workbook(`<row r="two"><c><v>1</v></c></row>`)), `a row numbered "two"`},
		{"rows backwards", sheettest.Pack(t, "book.xlsx", workbook(`<row r="5"><c r="A5"><v>1</v></c></row><row r="3"><c r="A3"><v>1</v></c></row>`)), "row 3 comes after row 5"},
		{"another ending", file(t, "a.pdf", ""), `files that end in ".pdf" are not read`},
		{"no OpenDocument sheet", file(t, "a.ods", "not a sheet at all"), "is no .ods sheet; save it as .ods or .xlsx in a spreadsheet program"},
		{"a workbook of the older kind", file(t, "a.xls", ""), "open it in a spreadsheet program, save it as .xlsx and check that file"},
		{"a zero byte", file(t, "a.csv", "a,b\nmain\x00,1\n"), "it has zero bytes, as no text has; save the sheet as CSV in UTF-8"},
		{"an open quotation mark", file(t, "a.csv", "a,b\n\"main,1\n"+strings.Repeat("x,y\n", 1<<19)), "a row without an end"},
		{"an open quotation mark in a short file", file(t, "a.csv", "a,b\n\"main,1\n"), "a quotation mark that is not closed"},
		{"a line without an end", file(t, "a.csv", strings.Repeat("x", 3<<20)), "a row without an end"},
		{"too many columns", file(t, "a.csv", strings.Repeat(",", 2000)), "2001 columns; at most 1024 are read"},
		{"a cell too long", file(t, "a.csv", strings.Repeat("x", 40<<10)+"\n"), "a cell of 40960 bytes"},
		{"no such file", filepath.Join(t.TempDir(), "none.csv"), "no such file"},
	} {
		t.Run(test.name, func(t *testing.T) { refused(t, test.path, test.message) })
	}
}

// row is a row of the bearing map with a formula for its clearance.
func row(n int, formula, value string) string {
	return fmt.Sprintf(`<row r="%d"><c r="A%d" t="inlineStr"><is><t>main</t></is></c><c r="B%d"><v>60.012</v></c><c r="C%d"><v>2.006</v></c><c r="D%d"><v>2.004</v></c><c r="E%d"><v>55.971</v></c><c r="F%d"><f>%s</f><v>%s</v></c></row>`, n, n, n, n, n, n, n, formula, value)
}

// TestFormulas: what cannot be evaluated is left alone and said; what only looks
// frightening is evaluated.
func TestFormulas(t *testing.T) {
	chain := func(rows int) string {
		var b strings.Builder
		b.WriteString(row(2, "Z3*0+0.031", "0.9"))
		for n := 3; n < rows; n++ {
			fmt.Fprintf(&b, `<row r="%d"><c r="Z%d"><f>Z%d+1</f><v>1</v></c></row>`, n, n, n+1)
		}
		return b.String()
	}
	const recalculated = "the formula gives 0.031 mm now"
	for _, test := range []struct{ name, rows, says string }{
		{"circular", row(2, "F3", "0.9") + row(3, "F2", "0.9"), "it depends on itself, through Mains!F2 → Mains!F3 → Mains!F2"},
		{"on itself", row(2, "F2+1", "0.9"), "it depends on itself, through Mains!F2 → Mains!F2"},
		{"on itself by a whole column", row(2, "SUM(F:F)", "0.9"), "it depends on itself"},
		{"on itself by a name", row(2, "loop", "0.9"), "the name loop stands for itself"},
		{"deep", chain(5000), recalculated},
		{"300,000 deep", chain(300_000), recalculated + " or pieces of work for formulas are used up"},
		{"brackets 1,000 deep", row(2, strings.Repeat("(", 1000)+"1"+strings.Repeat(")", 1000), "0.9"), "more than 256 brackets in one another"},
		{"another file", row(2, "[1]Sheet1!A1", "0.9"), "is in another file"},
		{"another sheet", row(2, "Limits!A1", "0.9"), recalculated},
		{"a name", row(2, "wanted", "0.9"), recalculated},
		{"the web", row(2, "WEBSERVICE(&quot;http://localhost/&quot;)", "0.9"), "the function WEBSERVICE"},
		{"indirect", row(2, "INDIRECT(&quot;F2&quot;)", "0.9"), "the function INDIRECT"},
		{"a large range", row(2, "SUM(A3:E1048576,0.031)", "0.9"), recalculated},
	} {
		t.Run(test.name, func(t *testing.T) {
			if len(test.rows) > 1e6 {
				thorough.Long(t)
			}
			parts := workbook(test.rows)
			parts["xl/worksheets/sheet2.xml"] = workbook(`<row r="1"><c r="A1"><v>0.031</v></c></row>`)["xl/worksheets/sheet1.xml"]
			parts["xl/workbook.xml"] = strings.Replace(parts["xl/workbook.xml"], `</sheets>`, `<sheet name="Limits" sheetId="2" r:id="rId3"/></sheets><definedNames><definedName name="loop">loop+1</definedName><definedName name="wanted">Limits!$A$1</definedName></definedNames>`, 1)
			parts["xl/_rels/workbook.xml.rels"] = strings.Replace(parts["xl/_rels/workbook.xml.rels"], `</Relationships>`, `<Relationship Id="rId3" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet2.xml"/></Relationships>`, 1)
			status, out, errs, grown := checkFile(t, sheettest.Pack(t, "book.xlsx", parts))
			first, second, _ := strings.Cut(test.says, " or ")
			if status != checked || !strings.Contains(out, first) && (second == "" || !strings.Contains(out, second)) {
				t.Errorf("status %d, said\n%s\n%s\nwant %q in it", status, out, errs, test.says)
			}
			if grown > 256<<20 {
				t.Errorf("memory grew by %d MB", grown>>20)
			}
		})
	}
}

// TestDeepFormulaUnread: a formula longer than a cell may be is a clear error.
func TestDeepFormulaUnread(t *testing.T) {
	deep := strings.Repeat("(", 300_000) + "1" + strings.Repeat(")", 300_000)
	refused(t, sheettest.Pack(t, "book.xlsx", workbook(row(2, deep, "0.9"))), "a formula of more than 32768 bytes")
}

// TestNothingLive: a cell's text never comes out as what a program would obey.
func TestNothingLive(t *testing.T) {
	hostile := []string{
		"=cmd|' /C calc'!A0", "+1+1", "-1+1", "@SUM(A1)", "\t=1+1", "\x1b[2J\x1b]0;title\x07", "<script>alert(1)</script>",
		"\u202etxt.exe", "../../etc/passwd", "\"><img src=x onerror=alert(1)>",
	}
	var csvText strings.Builder
	csvText.WriteString("main,bore,upper,lower,journal,clearance,verdict\n")
	for _, h := range hostile {
		q := `"` + strings.ReplaceAll(h, `"`, `""`) + `"`
		fmt.Fprintf(&csvText, "%s,60.012,2.006,2.004,55.971,%s,%s\n", q, q, q)
	}
	path := file(t, "hostile.csv", csvText.String())
	for _, format := range []string{"text", "json", "html"} {
		t.Run(format, func(t *testing.T) {
			status, out, errs, _ := checkFile(t, path, "-format", format)
			if status != checked {
				t.Fatalf("status %d: %s", status, errs)
			}
			for _, bad := range []string{"\x1b", "\x07", "\u202e", "<script", "<img"} {
				if strings.Contains(out, bad) && (format != "text" || bad[0] != '<') { // a tag is nothing to a terminal
					t.Errorf("%q came out", bad)
				}
			}
			if before, rest, styled := strings.Cut(out, "<style>"); styled { // its lines may begin with @
				_, after, _ := strings.Cut(rest, "</style>")
				out = before + after
			}
			for line := range strings.Lines(out) {
				if strings.ContainsAny(line[:1], "=+-@\t") {
					t.Errorf("a line begins as a formula does: %q", line)
				}
			}
		})
	}
}

// TestSavedHostile: what headings and sheets are called cannot break out of the map that is
// saved.
func TestSavedHostile(t *testing.T) {
	line := func(n int) string {
		return fmt.Sprintf(`<row r="%d"><c r="A%[1]d"><v>60.012</v></c><c r="B%[1]d"><v>2.005</v></c><c r="C%[1]d"><v>55.971</v></c><c r="D%[1]d"><f>A%[1]d-2*B%[1]d-C%[1]d</f><v>0.031</v></c></row>`, n)
	}
	parts := workbook(`<row r="1"><c r="A1" t="inlineStr"><is><t>bore"]&#10;evil = 1 [mm]</t></is></c><c r="B1" t="inlineStr"><is><t>wall\</t></is></c><c r="C1" t="inlineStr"><is><t>journal</t></is></c><c r="D1" t="inlineStr"><is><t>clearance</t></is></c></row>` + line(2) + line(3))
	parts["xl/workbook.xml"] = strings.Replace(parts["xl/workbook.xml"], "Mains", "a&quot;\u202eb", 1)
	path, saved := sheettest.Pack(t, "book.xlsx", parts), filepath.Join(t.TempDir(), "saved.toml")
	status, out, errs := try("-save", saved, path)
	if status != checked || strings.Contains(out, "\u202e") || !strings.Contains(out, "2 claims compared: nothing is wrong") {
		t.Fatalf("status %d: %s%s", status, out, errs)
	}
	text := read(t, saved)
	if strings.Contains(text, "\u202e") || strings.Contains(text, "\nevil") {
		t.Errorf("the map holds\n%s", text)
	}
	status, out, errs = try("-map", saved, path)
	if status != checked || !strings.Contains(out, "2 claims compared: nothing is wrong") {
		t.Errorf("status %d: %s%s in\n%s", status, out, errs, text)
	}
	if status, _, errs := try("-save", saved, path); status != badInput || !strings.Contains(errs, "is there already") || read(t, saved) != text {
		t.Errorf("saved again: status %d: %s", status, errs)
	}
}

// TestPathsInNames: names that point out of a folder stay names.
func TestPathsInNames(t *testing.T) {
	parts := workbook(row(2, "B2-C2-E2", "2.035"))
	parts["../../../tmp/sheetcheck-escaped.xml"] = "out"
	parts["xl/worksheets/../../../../sheet9.xml"] = "out"
	parts["xl/workbook.xml"] = strings.Replace(parts["xl/workbook.xml"], "Mains", "../../Mains", 1)
	copied := filepath.Join(t.TempDir(), "copy.xlsx")
	status, out, errs, _ := checkFile(t, sheettest.Pack(t, "book.xlsx", parts), "-copy", copied)
	if status == checked && !strings.Contains(out, "../../Mains!F2") {
		t.Errorf("said %s", out)
	}
	if status == badInput && errs == "" {
		t.Error("refused without a word")
	}
	for _, name := range []string{"/tmp/sheetcheck-escaped.xml", filepath.Join(os.TempDir(), "sheetcheck-escaped.xml"), filepath.Join(filepath.Dir(copied), "sheet9.xml")} {
		if _, err := os.Stat(name); err == nil {
			t.Errorf("%s was written", name)
		}
	}
}

// TestOverwriting: no output goes over the file that is checked.
func TestOverwriting(t *testing.T) {
	path := file(t, "a.csv", "a\n")
	for _, option := range []string{"-o", "-copy"} {
		_, _, errs, _ := checkFile(t, path, option, path)
		if !strings.Contains(errs, "would be overwritten") {
			t.Errorf("%s: said %q", option, errs)
		}
	}
}

// TestCancelled: an interrupted run ends with its reason.
func TestCancelled(t *testing.T) {
	path := file(t, "long.csv", strings.Repeat("main,60,2,2,56,0.03,OK\n", 100_000))
	f, err := sheet.Open(path, sheet.Dialect{}, sheet.DefaultBounds())
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	stopped := errors.New("enough")
	ctx, cancel := context.WithCancelCause(t.Context())
	cancel(stopped)
	for _, err := range sheet.Rows(ctx, f, "") {
		if !errors.Is(err, stopped) {
			t.Errorf("error is %v, want %v", err, stopped)
		}
	}
}
