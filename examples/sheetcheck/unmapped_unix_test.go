//go:build unix

package main

import (
	"archive/zip"
	"bytes"
	"context"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"
	"testing"

	"example.com/closefit/examples/sheetcheck/sheet/sheettest"
)

// asProgram, in the environment, makes the tests' program be sheetcheck.
const asProgram = "SHEETCHECK_ARGUMENTS_FOLLOW"

func TestMain(m *testing.M) {
	if peak := os.Getenv(asProgram); peak != "" {
		debug.SetMemoryLimit(memory)
		status := run(context.Background(), os.Args[1:], os.Stdout, os.Stderr)
		if state, err := os.ReadFile("/proc/self/status"); err == nil { // what the parent was counts in its own way of asking
			_ = os.WriteFile(peak, state, 0o600)
		}
		os.Exit(status)
	}
	os.Exit(m.Run())
}

// A hostile is a file that is made to cost more than it says.
type hostile struct {
	name        string
	small, full int // how much of it there is
	make        func(t *testing.T, n int) string
	status      int
	says        string // in the report or the error, of the small and the full one
	orSays      string // or this, of the full one
}

// lines is n rows of cells, the first row numbered 2, below a row of headings; an entry that
// begins with "=" is a formula, and one with a letter a text. %d stands for the row.
func lines(n int, headings []string, cells ...string) string {
	var b strings.Builder
	write := func(row int, all []string) {
		fmt.Fprintf(&b, `<row r="%d">`, row)
		for i, cell := range all {
			at := fmt.Sprintf("%s%d", string(rune('A'+i)), row)
			text := strings.ReplaceAll(cell, "%d", fmt.Sprint(row))
			formula, isFormula := strings.CutPrefix(text, "=")
			switch {
			case isFormula:
				formula, value, stored := strings.Cut(formula, "→")
				fmt.Fprintf(&b, `<c r="%s"><f>%s</f>`, at, escaped(formula))
				if stored {
					fmt.Fprintf(&b, `<v>%s</v>`, value)
				}
				b.WriteString(`</c>`)
			case strings.Trim(text, "0123456789.-") != "":
				fmt.Fprintf(&b, `<c r="%s" t="inlineStr"><is><t>%s</t></is></c>`, at, escaped(text))
			case text != "":
				fmt.Fprintf(&b, `<c r="%s"><v>%s</v></c>`, at, text)
			}
		}
		b.WriteString(`</row>`)
	}
	write(1, headings)
	for i := range n {
		write(i+2, cells)
	}
	return b.String()
}

func escaped(text string) string {
	return strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;").Replace(text)
}

var bearings = []string{"main", "bore mm", "upper mm", "lower mm", "journal mm", "clearance mm", "verdict"}

// bearingLines are right rows, but for what is put in place of cells.
func bearingLines(n int, in map[int]string) string {
	cells := []string{"main %d", "60.012", "2.006", "2.004", "55.971", "=B%d-C%d-D%d-E%d→0.031", `=IF(F%d<0.02,"low",IF(F%d>0.05,"high","OK"))`}
	for i, cell := range in {
		cells[i] = cell
	}
	return lines(n, bearings, cells...)
}

// packed is a workbook of one sheet, with parts changed.
func packed(t *testing.T, rows string, change func(parts map[string]string)) string {
	t.Helper()
	parts := workbook(rows)
	if change != nil {
		change(parts)
	}
	return sheettest.Pack(t, "book.xlsx", parts)
}

func inSheet(parts map[string]string, behind, before string) {
	const part = "xl/worksheets/sheet1.xml"
	parts[part] = strings.Replace(strings.Replace(parts[part], "<sheetData>", before+"<sheetData>", 1), "</sheetData>", "</sheetData>"+behind, 1)
}

// column is n rows of a formula in column C beside two of numbers.
func column(formula string) func(t *testing.T, n int) string {
	return func(t *testing.T, n int) string {
		return packed(t, lines(n, []string{"key", "size mm", "result"}, "%d", "5.%d", "="+formula), nil)
	}
}

func hostiles() []hostile {
	return []hostile{
		{"a claimed dimension", 7, 7, func(t *testing.T, n int) string {
			return packed(t, bearingLines(n, nil), func(p map[string]string) { inSheet(p, "", `<dimension ref="A1:XFD1048576"/>`) })
		}, checked, "14 claims compared: nothing is wrong", ""},
		{"a cell in the last row", 7, 7, func(t *testing.T, n int) string {
			return packed(t, bearingLines(n, nil)+`<row r="1048576"><c r="B1048576"><v>1</v></c></row>`, nil)
		}, checked, "14 claims compared: nothing is wrong", ""},
		{"a cell in the last column", 7, 7, func(t *testing.T, n int) string {
			return packed(t, bearingLines(n, nil)+`<row r="99"><c r="XFD99"><v>1</v></c></row>`, nil)
		}, badInput, "a cell in column 16384; at most 1024 columns are read", ""},
		{"rows of 16384 columns", 2, 2, func(t *testing.T, n int) string {
			return packed(t, strings.Repeat(`<row>`+strings.Repeat(`<c><v>1</v></c>`, 16384)+`</row>`, n), nil)
		}, badInput, "a cell in column 1025; at most 1024 columns are read", ""},
		{"1024 columns of formulas", 20, 200, func(t *testing.T, n int) string {
			var b strings.Builder
			for row := 1; row <= n; row++ {
				fmt.Fprintf(&b, `<row r="%d"><c><v>%d</v></c>`, row, row)
				for column := range 1023 { // unlike one another, so that the sheet packs as sheets do
					fmt.Fprintf(&b, `<c><f>$A%d+%d</f><v>%d</v></c>`, row, column*column%977, row+column*column%977)
				}
				b.WriteString(`</row>`)
			}
			return packed(t, b.String(), nil)
		}, checked, "WHAT THE SHEET IS TAKEN TO BE", ""},
		{"a ring", 50, 100_000, func(t *testing.T, n int) string {
			return packed(t, ring(n), nil)
		}, checked, "it depends on itself, through Mains!", ""},
		{"a column that counts", 50, 300_000, func(t *testing.T, n int) string {
			return packed(t, `<row r="1"><c r="C1"><v>1</v></c></row>`+chain(n, `<c r="C%d"><f>C%d+1</f></c>`, 1), nil)
		}, checked, "claims compared: nothing is wrong", ""},
		{"a column that counts from below", 50, 300_000, func(t *testing.T, n int) string {
			var b strings.Builder
			for row := 1; row <= n; row++ {
				fmt.Fprintf(&b, `<row r="%d"><c r="C%d"><f>C%d+1</f></c></row>`, row, row, row+1)
			}
			return packed(t, b.String(), nil)
		}, checked, "claims compared: nothing is wrong", ""},
		{"a running total with a wrong number typed in its middle", 50, 300_000, func(t *testing.T, n int) string {
			return packed(t, runningTotal(n, n/2, func(line int) int { return 5*line + map[int]int{n / 2: 1}[line] }), nil)
		}, checked, "1 finding in 1 cell", ""},
		{"a running total of which nearly all stands on a wrong number", 8000, 300_000, func(t *testing.T, n int) string {
			return packed(t, runningTotal(n, 9, func(line int) int { return 5*line + min(1, line/9) }), nil)
		}, checked, "1 finding in 1 cell", ""},
		{"a running total of which every stored value is old", 8000, 300_000, func(t *testing.T, n int) string {
			return packed(t, runningTotal(n, 0, func(int) int { return 9000 }), nil)
		}, checked, "findings about difference in sheet \"Mains\" are not listed", ""},
		{"brackets in one another", 10_000, 10_000, func(t *testing.T, n int) string {
			deep := strings.Repeat("(", n/3) + "1" + strings.Repeat(")", n/3)
			return packed(t, bearingLines(3, map[int]string{5: "=" + deep}), nil)
		}, checked, "more than 256 brackets in one another", ""},
		{"functions in one another", 10_000, 10_000, func(t *testing.T, n int) string {
			return packed(t, bearingLines(3, map[int]string{5: "=" + strings.Repeat("ABS(", n) + "1" + strings.Repeat(")", n)}), nil)
		}, badInput, "a formula of more than 32768 bytes", ""},
		{"signs in one another", 5000, 5000, func(t *testing.T, n int) string {
			return packed(t, bearingLines(3, map[int]string{5: "=" + strings.Repeat("-", n) + "1"}), nil)
		}, checked, "more than 256 brackets in one another", ""},
		{"a sum of 4000 terms", 100, 4000, func(t *testing.T, n int) string {
			return packed(t, bearingLines(30, map[int]string{5: "=B%d" + strings.Repeat("+1", n)}), nil)
		}, checked, "WHAT THE SHEET IS TAKEN TO BE", ""},
		{"names", 25_000, 300_000, names, badInput, "more than 20000 defined names; at most that many are read", ""},
		{"a million names", 10, 1_000_000, names, badInput, "", "book.xml"},
		{"names that stand for one another", 15, 15, func(t *testing.T, n int) string {
			return packed(t, bearingLines(7, map[int]string{5: "=twice_0"}), func(p map[string]string) {
				var b strings.Builder
				for i := range n {
					fmt.Fprintf(&b, `<definedName name="twice_%d">twice_%d+twice_%d</definedName>`, i, i+1, i+1)
				}
				fmt.Fprintf(&b, `<definedName name="twice_%d">1</definedName>`, n)
				p["xl/workbook.xml"] = strings.Replace(p["xl/workbook.xml"], "</sheets>", "</sheets><definedNames>"+b.String()+"</definedNames>", 1)
			})
		}, checked, "NOT UNDERSTOOD", "WHAT THE SHEET"},
		{"look-ups in whole columns", 100, 100_000, column("VLOOKUP(A%d,$A:$B,2,FALSE)"), checked, "claims compared: nothing is wrong", ""},
		{"look-ups in whole columns, the next below", 100, 100_000, column("VLOOKUP(A%d,$A:$B,2,TRUE)"), checked, "claims compared", ""},
		{"look-ups in a range that moves", 100, 100_000, column("VLOOKUP(A%d,A%d:B90000,2,FALSE)"), checked, "claims compared", ""},
		{"look-ups by INDEX and MATCH", 100, 100_000, column("INDEX(B:B,MATCH(A%d,A:A,0))"), checked, "claims compared: nothing is wrong", ""},
		{"look-ups of what is not there", 100, 100_000, column("VLOOKUP(A%d+0.5,$A:$B,2,FALSE)"), checked, "#N/A", ""},
		{"sums that grow", 100, 100_000, column("SUM(B$2:B%d)"), checked, "claims compared: nothing is wrong", ""},
		{"averages of whole columns", 100, 100_000, column("B%d-AVERAGE(B:B)"), checked, "claims compared: nothing is wrong", ""},
		{"counts by a condition", 100, 20_000, column("COUNTIF($A:$A,A%d)"), checked, "claims compared", ""},
		{"no two formulas alike", 100, 100_000, column("A%d*%d+B%d"), checked, "WHAT THE SHEET", ""},
		{"long texts", 30, 100_000, column(`REPT("x",32767)`), checked, "WHAT THE SHEET", ""},
		{"texts that double", 100, 100_000, func(t *testing.T, n int) string { return packed(t, doubling(n), nil) }, checked, "WHAT THE SHEET", ""},
		{"lists that grow", 30, 10_000, column("SUMPRODUCT((A$2:A$90000>A%d)*(B$2:B$90000<9))"), checked, "claims compared", ""},
		{"array formulas over one another", 50, 2000, func(t *testing.T, n int) string {
			var b strings.Builder
			for i := 1; i <= n; i++ {
				fmt.Fprintf(&b, `<row r="%d"><c r="A%d"><v>1</v></c><c r="B%d"><f t="array" ref="B%d:CV%d">A%d:A%d*2</f><v>2</v></c></row>`, i, i, i, i, n, i, n)
			}
			return packed(t, b.String(), nil)
		}, checked, "WHAT THE SHEET", "array formulas over one another"},
		{"merged cells", 2000, 99_000, merged, checked, "14 claims compared: nothing is wrong", ""},
		{"a million merged cells", 10, 1_000_000, merged, checked, "14 claims", "more than 100000 merged areas and array formulas"},
		{"shared strings", 1000, 1_000_000, func(t *testing.T, n int) string {
			return packed(t, bearingLines(7, nil), func(p map[string]string) {
				p["xl/sharedStrings.xml"] = `<sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">` + different(n) + `</sst>`
				p["xl/_rels/workbook.xml.rels"] = strings.Replace(p["xl/_rels/workbook.xml.rels"], `</Relationships>`, `<Relationship Id="rId9" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/sharedStrings" Target="sharedStrings.xml"/></Relationships>`, 1)
			})
		}, checked, "14 claims compared: nothing is wrong", ""},
		{"sheets", 2500, 100_000, func(t *testing.T, n int) string {
			return packed(t, bearingLines(7, nil), func(p map[string]string) {
				var b strings.Builder
				for i := range n {
					fmt.Fprintf(&b, `<sheet name="s%d" sheetId="%d" r:id="rId1"/>`, i, i+2)
				}
				p["xl/workbook.xml"] = strings.Replace(p["xl/workbook.xml"], "</sheets>", b.String()+"</sheets>", 1)
			})
		}, badInput, "sheets; at most 2000 are read", ""},
		{"a truncated archive", 7, 100_000, func(t *testing.T, n int) string {
			path := packed(t, bearingLines(n, nil), nil)
			whole, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			return file(t, "half.xlsx", string(whole[:len(whole)/2]))
		}, badInput, "is no .xlsx workbook; if it has a password or is of an older kind, save it as .xlsx without one", ""},
		{"an OpenDocument sheet of repeated rows", 1000, 1_000_000, func(t *testing.T, n int) string {
			return document(t, fmt.Sprintf(`<table:table-row table:number-rows-repeated="%d"><table:table-cell office:value-type="float" office:value="60.012"/><table:table-cell office:value-type="float" office:value="60.012"/></table:table-row>`, n))
		}, checked, "Nothing was checked", "at most"},
		{"an OpenDocument sheet of repeated formulas", 100, 1_000_000, func(t *testing.T, n int) string {
			return document(t, fmt.Sprintf(`<table:table-row table:number-rows-repeated="%d"><table:table-cell office:value-type="float" office:value="60"/><table:table-cell table:formula="of:=[.A1]*2" office:value-type="float" office:value="120"/></table:table-row>`, n))
		}, badInput, "rows at once, as no office program", ""},
		{"an OpenDocument sheet of repeated columns", 1000, 1_000_000, func(t *testing.T, n int) string {
			return document(t, fmt.Sprintf(`<table:table-row><table:table-cell table:number-columns-repeated="%d" office:value-type="float" office:value="60.012"/></table:table-row>`, n))
		}, checked, "Nothing was checked", "at most 1024 columns are read"},
		{"rows that are hidden", 100, 100_000, func(t *testing.T, n int) string {
			return packed(t, strings.ReplaceAll(lines(n, []string{"key", "size mm", "result"}, "%d", "5.%d", "=SUM(B$2:B%d)"), "<row ", `<row hidden="1" `), nil)
		}, checked, "is hidden and counts", ""},
		{"everything is wrong", 100, 100_000, func(t *testing.T, n int) string {
			return packed(t, bearingLines(n, map[int]string{5: "=B%d-C%d-E%d→2.035"}), nil)
		}, checked, "one wall instead of two", ""},
		{"every stored value is old", 100, 100_000, func(t *testing.T, n int) string {
			return packed(t, bearingLines(n, map[int]string{5: "=B%d-C%d-D%d-E%d→0.047"}), nil)
		}, checked, "stale stored value", ""},
		{"every value typed is wrong", 100, 100_000, func(t *testing.T, n int) string {
			return packed(t, bearingLines(n, map[int]string{5: "0.047"}), nil)
		}, checked, "claims compared", ""},
		{"a long text file", 100, 300_000, func(t *testing.T, n int) string {
			return file(t, "long.csv", strings.Join(bearings, ",")+"\n"+strings.Repeat("main,60.012,2.006,2.004,55.971,0.031,OK\n", n))
		}, checked, "claims compared", ""},
		{"a text file of nothing", 1000, 100_000_000, func(t *testing.T, n int) string {
			return file(t, "blank.csv", "a,b\n"+strings.Repeat("\n", n))
		}, checked, "Nothing was checked", "rows"},
	}
}

// different is n texts, no two alike.
func different(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, `<si><t>%x</t></si>`, i*7919%n)
	}
	return b.String()
}

// runningTotal is sums of 0.005 mm, line by line, of which one line's is typed if it is not 0. What is
// stored is in thousandths.
func runningTotal(n, typed int, stored func(line int) int) string {
	var b strings.Builder
	b.WriteString(`<row r="1"><c r="A1" t="inlineStr"><is><t>shim</t></is></c><c r="B1" t="inlineStr"><is><t>size mm</t></is></c><c r="C1"><v>0</v></c></row>`)
	for line := 1; line <= n; line++ {
		formula := fmt.Sprintf("<f>C%d+B%d</f>", line, line+1)
		if line == typed {
			formula = ""
		}
		fmt.Fprintf(&b, `<row r="%d"><c r="A%[1]d"><v>%d</v></c><c r="B%[1]d"><v>0.005</v></c><c r="C%[1]d">%[3]s<v>%.3f</v></c></row>`, line+1, line, formula, float64(stored(line))/1000)
	}
	return b.String()
}

// ring is n formulas that stand on one another in a ring.
func ring(n int) string {
	return chain(n, `<c r="C%d"><f>C%d+1</f></c>`, n+1)
}

// doubling is texts of which each is the one above it twice.
func doubling(n int) string {
	return `<row r="1"><c r="C1" t="inlineStr"><is><t>xyz</t></is></c></row>` + chain(n, `<c r="C%d"><f>C%d&amp;C%[5]d</f></c>`, 1)
}

// chain is n rows of a cell that stands on the one above it; the first on that of a row.
func chain(n int, cell string, first int) string {
	var b strings.Builder
	for row := 2; row <= n+1; row++ {
		above := row - 1
		if row == 2 {
			above = first
		}
		fmt.Fprintf(&b, `<row r="%d"><c r="A%d"><v>%d</v></c>`+cell+`</row>`, row, row, row, row, above)
	}
	return b.String()
}

func names(t *testing.T, n int) string {
	return packed(t, bearingLines(7, nil), func(p map[string]string) {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, `<definedName name="n%d">Mains!$A$1</definedName>`, i)
		}
		p["xl/workbook.xml"] = strings.Replace(p["xl/workbook.xml"], "</sheets>", "</sheets><definedNames>"+b.String()+"</definedNames>", 1)
	})
}

func merged(t *testing.T, n int) string {
	return packed(t, bearingLines(7, nil), func(p map[string]string) {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, `<mergeCell ref="J%d:K%d"/>`, i+1, i+1)
		}
		inSheet(p, "<mergeCells>"+b.String()+"</mergeCells>", "")
	})
}

// full makes hostile files as large as their bounds are promised for.
var full = flag.Bool("full", false, "make hostile files of full size, and say what each takes")

// TestHostileWithoutMap: whatever a file holds, the program without a map ends with an answer
// or with an error that says what was found. With -full, as in .ci/long, the files are of full size,
// what each takes is said, and its memory is held to mostHeld.
func TestHostileWithoutMap(t *testing.T) {
	for _, h := range hostiles() {
		t.Run(h.name, func(t *testing.T) {
			n := h.small
			if *full {
				n = h.full
			}
			status, out, errs := asProgramOf(t, h, "no map", h.make(t, n))
			said := out + errs
			if !strings.Contains(said, h.says) && (h.orSays == "" || !strings.Contains(said, h.orSays)) || status != h.status && h.orSays == "" {
				t.Errorf("status %d, want %d; said\n%.2000s\nwant %q in it", status, h.status, said, h.says)
			}
			if strings.Contains(said, "panic:") || strings.Contains(said, "goroutine") || status < 0 || said == "" {
				t.Errorf("it broke down: status %d, %.2000s", status, said)
			}
		})
	}
}

// TestBombWithoutMap: an archive that unpacks to far more than it weighs.
func TestBombWithoutMap(t *testing.T) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	const part = "xl/worksheets/sheet1.xml"
	for name, text := range workbook("") {
		if name == part {
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
	bomb(t, z, part, 500<<20, 500<<20)
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "bomb.xlsx")
	if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	if status, out, errs := try(path); status != badInput || out != "" || !strings.Contains(errs, "at most 200 to 1 is read") {
		t.Errorf("status %d: %s%s", status, out, errs)
	}
}
