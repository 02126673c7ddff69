package understand_test

import (
	"encoding/xml"
	"fmt"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"example.com/closefit/examples/sheetcheck/check"
	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/examples/sheetcheck/sheet/sheettest"
	"example.com/closefit/examples/sheetcheck/understand"
)

// A draft is a sheet for tests that is written in several ways: with its locations as rows or
// as columns, as .xlsx or as .ods. Its cells are put as rows have them, and formulas name
// cells so; what is written is turned where locations are columns.
type draft struct {
	across    bool
	ods       bool
	cells     map[sheet.Place]any
	hidden    []int // rows, as they are put
	free      []string
	protected bool
}

func (d *draft) put(at string, value any) {
	p, err := sheet.ParsePlace(at)
	if err != nil {
		panic(err)
	}
	if d.cells == nil {
		d.cells = map[sheet.Place]any{}
	}
	d.cells[d.turn(p)] = value
}

func (d *draft) turn(p sheet.Place) sheet.Place {
	if d.across {
		return sheet.Place{Row: p.Column, Column: p.Row}
	}
	return p
}

var reference = regexp.MustCompile(`(\$?)([A-Z]{1,2})(\$?)([0-9]+)`)

// name returns a cell as it is written; text is as rows have it.
func (d *draft) name(text string) string {
	return reference.ReplaceAllStringFunc(text, func(s string) string {
		if !d.across {
			return s
		}
		m := reference.FindStringSubmatch(s)
		p, err := sheet.ParsePlace(m[2] + m[4])
		if err != nil {
			panic(err)
		}
		p = d.turn(p)
		return fmt.Sprintf("%s%s%s%d", m[3], sheet.ColumnName(p.Column), m[1], p.Row)
	})
}

var area = regexp.MustCompile(`(\$?[A-Z]{1,2}\$?[0-9]+)(:(\$?[A-Z]{1,2}\$?[0-9]+))?`)

// openFormula writes a formula as .ods files have it.
func openFormula(formula string) string {
	formula = area.ReplaceAllStringFunc(formula, func(s string) string {
		from, to, ok := strings.Cut(s, ":")
		if ok {
			return "[." + from + ":." + to + "]"
		}
		return "[." + from + "]"
	})
	var b strings.Builder
	quoted := false
	for _, c := range formula {
		if c == '"' {
			quoted = !quoted
		}
		if c == ',' && !quoted {
			c = ';'
		}
		b.WriteRune(c)
	}
	return "of:=" + b.String()
}

// write writes the sheet and returns its path.
func (d *draft) write(t *testing.T) string {
	t.Helper()
	free := map[sheet.Place]bool{}
	for _, at := range d.free {
		p, err := sheet.ParsePlace(d.name(at))
		if err != nil {
			t.Fatal(err)
		}
		free[p] = true
	}
	if d.ods {
		return d.writeDocument(t, free)
	}
	f := excelize.NewFile()
	defer f.Close()
	fail := func(err error) {
		if err != nil {
			t.Fatal(err)
		}
	}
	unlocked, err := f.NewStyle(&excelize.Style{Protection: &excelize.Protection{}})
	fail(err)
	for p, value := range d.cells {
		if text, ok := value.(string); ok && strings.HasPrefix(text, "=") {
			fail(f.SetCellFormula("Sheet1", p.String(), d.name(text[1:])))
		} else {
			fail(f.SetCellValue("Sheet1", p.String(), value))
		}
		if free[p] {
			fail(f.SetCellStyle("Sheet1", p.String(), p.String(), unlocked))
		}
	}
	for _, row := range d.hidden {
		if d.across {
			fail(f.SetColVisible("Sheet1", sheet.ColumnName(row), false))
		} else {
			fail(f.SetRowVisible("Sheet1", row, false))
		}
	}
	if d.protected {
		fail(f.ProtectSheet("Sheet1", &excelize.SheetProtectionOptions{}))
	}
	name := filepath.Join(t.TempDir(), "a.xlsx")
	fail(f.SaveAs(name))
	return name
}

func (d *draft) writeDocument(t *testing.T, free map[sheet.Place]bool) string {
	t.Helper()
	var last sheet.Place
	for p := range d.cells {
		last.Row, last.Column = max(last.Row, p.Row), max(last.Column, p.Column)
	}
	hides := func(n int, is bool) string {
		for _, row := range d.hidden {
			if is && row == n {
				return ` table:visibility="collapse"`
			}
		}
		return ""
	}
	var b strings.Builder
	b.WriteString(`<office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0" xmlns:style="urn:oasis:names:tc:opendocument:xmlns:style:1.0">`)
	b.WriteString(`<office:automatic-styles><style:style style:name="free" style:family="table-cell"><style:table-cell-properties style:cell-protect="none"/></style:style></office:automatic-styles><office:body><office:spreadsheet>`)
	fmt.Fprintf(&b, `<table:table table:name="Sheet1" table:protected="%t">`, d.protected)
	for column := 1; column <= last.Column; column++ {
		fmt.Fprintf(&b, `<table:table-column%s/>`, hides(column, d.across))
	}
	for row := 1; row <= last.Row; row++ {
		fmt.Fprintf(&b, `<table:table-row%s>`, hides(row, !d.across))
		for column := 1; column <= last.Column; column++ {
			p := sheet.Place{Row: row, Column: column}
			style := ""
			if free[p] {
				style = ` table:style-name="free"`
			}
			var text strings.Builder
			switch value := d.cells[p].(type) {
			case nil:
				fmt.Fprintf(&b, `<table:table-cell%s/>`, style)
			case string:
				if formula, ok := strings.CutPrefix(value, "="); ok {
					if err := xml.EscapeText(&text, []byte(openFormula(d.name(formula)))); err != nil {
						t.Fatal(err)
					}
					fmt.Fprintf(&b, `<table:table-cell%s table:formula="%s"/>`, style, text.String())
					continue
				}
				if err := xml.EscapeText(&text, []byte(value)); err != nil {
					t.Fatal(err)
				}
				fmt.Fprintf(&b, `<table:table-cell%s office:value-type="string"><text:p>%s</text:p></table:table-cell>`, style, text.String())
			default:
				fmt.Fprintf(&b, `<table:table-cell%s office:value-type="float" office:value="%v"/>`, style, value)
			}
		}
		b.WriteString(`</table:table-row>`)
	}
	b.WriteString(`</table:table></office:spreadsheet></office:body></office:document-content>`)
	return sheettest.Pack(t, "a.ods", map[string]string{"mimetype": "application/vnd.oasis.opendocument.spreadsheet", "content.xml": b.String()})
}

// read writes the sheet, understands it and checks it.
func (d *draft) read(t *testing.T) (*understand.Understanding, *check.Result) {
	t.Helper()
	return readFile(t, d.write(t))
}

// readFile understands and checks a file.
func readFile(t testing.TB, name string) (*understand.Understanding, *check.Result) {
	t.Helper()
	file, err := sheet.Open(name, sheet.Dialect{}, sheet.DefaultBounds())
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	book, err := file.Load(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	u, err := understand.Read(t.Context(), book)
	if err != nil {
		t.Fatal(err)
	}
	r, err := check.Run(t.Context(), u.Map, nil, file, check.Options{Book: book, Latent: u.Latent()})
	if err != nil {
		t.Fatal(err)
	}
	return u, r
}

// turned returns findings with cells as rows have them, and by rows from the top.
func (d *draft) turned(all []check.Finding) string {
	for i := range all {
		cells := append([]check.Cell{}, all[i].Cells...)
		for j := range cells {
			cells[j].At = d.turn(cells[j].At)
		}
		all[i].Cells = cells
	}
	return shown(all)
}

// everyWay runs a test for a sheet written in each way.
func everyWay(t *testing.T, test func(t *testing.T, d *draft)) {
	for _, way := range []struct {
		name        string
		across, ods bool
	}{{"rows", false, false}, {"columns", true, false}, {"rows of .ods", false, true}, {"columns of .ods", true, true}} {
		t.Run(way.name, func(t *testing.T) { test(t, &draft{across: way.across, ods: way.ods}) })
	}
}

// bearings puts five bearings under headings: clearances of 0.031, 0.042, 0.050, 0.025 and
// 0.036 mm.
func (d *draft) bearings(headings ...string) {
	for i, h := range headings {
		d.put(fmt.Sprintf("%s1", sheet.ColumnName(i+1)), h)
	}
	for i, clearance := range []float64{0.031, 0.042, 0.050, 0.025, 0.036} {
		row := i + 2
		d.put(fmt.Sprintf("A%d", row), fmt.Sprint("main ", i+1))
		d.put(fmt.Sprintf("B%d", row), 60.0)
		d.put(fmt.Sprintf("C%d", row), 2.001)
		d.put(fmt.Sprintf("D%d", row), 2.003)
		d.put(fmt.Sprintf("E%d", row), 60-4.004-clearance)
	}
}

// column puts a formula into a column, written for row 2 with moving references.
func (d *draft) column(letter, formula string, rows ...int) {
	if len(rows) == 0 {
		rows = []int{2, 3, 4, 5, 6}
	}
	for _, row := range rows {
		d.put(fmt.Sprintf("%s%d", letter, row), reference.ReplaceAllStringFunc(formula, func(s string) string {
			m := reference.FindStringSubmatch(s)
			if m[3] == "$" || m[4] != "2" {
				return s
			}
			return fmt.Sprintf("%s%s%d", m[1], m[2], row)
		}))
	}
}
