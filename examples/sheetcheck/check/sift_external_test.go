package check_test

import (
	"encoding/json"
	"encoding/xml"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.com/closefit/examples/sheetcheck/check"
	"example.com/closefit/examples/sheetcheck/mapfile"
	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/examples/sheetcheck/sheet/sheettest"
	"example.com/closefit/examples/sheetcheck/understand"
	"pgregory.net/rapid"
)

// A drawn is a cell of a drawn table.
type drawn struct {
	formula, text string
	kind          string // t of the cell in a workbook: "" for a number, else "str", "b" or "e"
}

func drawnNumber(f float64) drawn { return drawn{text: strconv.FormatFloat(f, 'g', -1, 64)} }

func drawnText(text string) drawn { return drawn{text: text, kind: "str"} }

// A drawnRow is a row of a drawn table.
type drawnRow struct {
	cells  []drawn
	hidden bool
}

// drawnWorkbook writes rows as a workbook, the limits on a second sheet if one is wanted.
func drawnWorkbook(t testing.TB, rows []drawnRow, limits []drawn) string {
	t.Helper()
	write := func(rows []drawnRow) string {
		var b strings.Builder
		b.WriteString(`<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>`)
		for i, r := range rows {
			fmt.Fprintf(&b, `<row r="%d"`, i+1)
			if r.hidden {
				b.WriteString(` hidden="1"`)
			}
			b.WriteByte('>')
			for column, c := range r.cells {
				if c == (drawn{}) {
					continue
				}
				fmt.Fprintf(&b, `<c r="%s"`, sheet.Place{Row: i + 1, Column: column + 1})
				if c.kind != "" {
					fmt.Fprintf(&b, ` t="%s"`, c.kind)
				}
				b.WriteByte('>')
				if c.formula != "" {
					b.WriteString("<f>")
					_ = xml.EscapeText(&b, []byte(c.formula))
					b.WriteString("</f>")
				}
				if c.text != "" {
					b.WriteString("<v>")
					_ = xml.EscapeText(&b, []byte(c.text))
					b.WriteString("</v>")
				}
				b.WriteString("</c>")
			}
			b.WriteString("</row>")
		}
		return b.String() + "</sheetData></worksheet>"
	}
	const relations = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
	parts := map[string]string{
		"[Content_Types].xml":      `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="xml" ContentType="application/xml"/></Types>`,
		"_rels/.rels":              `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r1" Type="` + relations + `/officeDocument" Target="xl/workbook.xml"/></Relationships>`,
		"xl/worksheets/sheet1.xml": write(rows),
	}
	sheets := `<sheet name="Mains" sheetId="1" r:id="r1"/>`
	to := `<Relationship Id="r1" Type="` + relations + `/worksheet" Target="worksheets/sheet1.xml"/>`
	if limits != nil {
		sheets += `<sheet name="Limits" sheetId="2" r:id="r2"/>`
		to += `<Relationship Id="r2" Type="` + relations + `/worksheet" Target="worksheets/sheet2.xml"/>`
		parts["xl/worksheets/sheet2.xml"] = write([]drawnRow{{cells: []drawn{drawnText("least"), limits[0]}}, {cells: []drawn{drawnText("most"), limits[1]}}})
	}
	parts["xl/workbook.xml"] = `<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="` + relations + `"><sheets>` + sheets + `</sheets></workbook>`
	parts["xl/_rels/workbook.xml.rels"] = `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">` + to + `</Relationships>`
	return sheettest.Pack(t, "drawn.xlsx", parts)
}

// A drawnTable is a table of bearings as somebody may have kept it, with what may be wrong.
type drawnTable struct {
	rows   []drawnRow
	limits []drawn // on another sheet; nil if they are in the table or in single cells
	toml   string  // a map

	dialect sheet.Dialect // of a text file
}

// A column of claims: its formula with # for the row, and what it gives.
type drawnFormula struct {
	text  string
	value func(r *drawnReadings) drawn
}

// drawnReadings are the sizes of a row, and what is worked out from them in binary arithmetic.
type drawnReadings struct {
	bore, upper, lower, journal, least, most float64
	clearance                                float64
}

func (r *drawnReadings) inside() bool { return r.clearance >= r.least && r.clearance <= r.most }

func word(ok bool, yes, no string) drawn {
	if ok {
		return drawnText(yes)
	}
	return drawnText(no)
}

func roundTo(f float64, places int) float64 {
	scale := math.Pow10(places)
	return math.Round(f*scale) / scale
}

var clearances = []drawnFormula{
	{"B#-C#-D#-E#", func(r *drawnReadings) drawn { return drawnNumber(r.bore - r.upper - r.lower - r.journal) }},
	{"B#-(C#+D#)-E#", func(r *drawnReadings) drawn { return drawnNumber(r.bore - (r.upper + r.lower) - r.journal) }},
	{"ROUND(B#-C#-D#-E#,3)", func(r *drawnReadings) drawn { return drawnNumber(roundTo(r.bore-r.upper-r.lower-r.journal, 3)) }},
	{"B#-SUM(C#:D#)-E#", func(r *drawnReadings) drawn { return drawnNumber(r.bore - (r.upper + r.lower) - r.journal) }},
	{"B#-2*AVERAGE(C#:D#)-E#", func(r *drawnReadings) drawn { return drawnNumber(r.bore - 2*((r.upper+r.lower)/2) - r.journal) }},
}

var conversions = []drawnFormula{
	{"F#*1000", func(r *drawnReadings) drawn { return drawnNumber(r.clearance * 1000) }},
	{"F#/25.4", func(r *drawnReadings) drawn { return drawnNumber(r.clearance / 25.4) }},
	{"ROUND(F#/25.4,5)", func(r *drawnReadings) drawn { return drawnNumber(roundTo(r.clearance/25.4, 5)) }},
	{"AVERAGE(C#:D#)", func(r *drawnReadings) drawn { return drawnNumber((r.upper + r.lower) / 2) }},
	{"ROUND(AVERAGE(C#,D#),3)", func(r *drawnReadings) drawn { return drawnNumber(roundTo((r.upper+r.lower)/2, 3)) }},
	{"MAX(C#:D#)-MIN(C#:D#)", func(r *drawnReadings) drawn {
		return drawnNumber(max(r.upper, r.lower) - min(r.upper, r.lower))
	}},
	{"ABS(C#-D#)", func(r *drawnReadings) drawn { return drawnNumber(math.Abs(r.upper - r.lower)) }},
}

var verdicts = []drawnFormula{
	{`IF(AND(F#>=LO,F#<=HI),"OK","reject")`, func(r *drawnReadings) drawn { return word(r.inside(), "OK", "reject") }},
	{`IF(OR(F#<LO,F#>HI),"reject","OK")`, func(r *drawnReadings) drawn { return word(r.inside(), "OK", "reject") }},
	{`IF(F#<LO,"tight",IF(F#>HI,"loose","OK"))`, func(r *drawnReadings) drawn {
		if r.clearance < r.least {
			return drawnText("tight")
		}
		return word(r.clearance <= r.most, "OK", "loose")
	}},
	{`IF(ROUND(F#,3)>HI,"loose",IF(ROUND(F#,3)<LO,"tight","OK"))`, func(r *drawnReadings) drawn {
		if roundTo(r.clearance, 3) > r.most {
			return drawnText("loose")
		}
		return word(roundTo(r.clearance, 3) >= r.least, "OK", "tight")
	}},
	{`IF(NOT(F#<=HI),"reject",IF(F#>=LO,"OK","reject"))`, func(r *drawnReadings) drawn { return word(r.inside(), "OK", "reject") }},
	{`IF(F#="","",IF(F#>HI,"reject",IF(F#<LO,"reject","OK")))`, func(r *drawnReadings) drawn { return word(r.inside(), "OK", "reject") }},
}

// spoilt draws what may be in a cell instead of what should.
func spoilt(t *rapid.T, c drawn, formula string, row int) drawn {
	number, err := strconv.ParseFloat(c.text, 64)
	at := strconv.Itoa(row)
	switch rapid.SampledFrom([]string{"text", "unit", "blank", "space", "bool", "error", "word", "typed", "wrong", "stale", "bit", "unstored", "odd", "above", "other", "fixed", "alike", "case", "blanks", "places", "point"}).Draw(t, "spoilt") {
	case "text":
		c.kind, c.formula = "str", ""
	case "unit":
		return drawnText(c.text + " mm")
	case "blank":
		return drawn{}
	case "space":
		return drawnText(" ")
	case "bool":
		return drawn{text: rapid.SampledFrom([]string{"0", "1"}).Draw(t, "bool"), kind: "b", formula: c.formula}
	case "error":
		return drawn{text: "#DIV/0!", kind: "e", formula: rapid.SampledFrom([]string{c.formula, "1/0", ""}).Draw(t, "of")}
	case "word":
		return drawnText(rapid.SampledFrom([]string{"tbd", "-", "n/a", "not ok", "pass", "yes", "1", "0"}).Draw(t, "word"))
	case "typed":
		c.formula = ""
		if err == nil && c.kind == "" {
			c.text = strconv.FormatFloat(number, 'f', rapid.IntRange(1, 4).Draw(t, "places"), 64)
		}
	case "wrong":
		c.formula = ""
		fallthrough
	case "stale":
		switch {
		case err == nil && c.kind == "":
			c.text = drawnNumber(number + float64(rapid.SampledFrom([]int{-40, -3, -1, 1, 2, 37, 1000}).Draw(t, "off"))/1000).text
		default:
			c.text = rapid.SampledFrom([]string{"OK", "reject", "tight", "loose"}).Draw(t, "word")
		}
	case "bit":
		if err == nil && c.kind == "" {
			c.text = drawnNumber(math.Nextafter(number, number+float64(rapid.SampledFrom([]int{-1, 1}).Draw(t, "to")))).text
		}
	case "unstored":
		c.text, c.kind = "", ""
		if c.formula == "" {
			return drawn{}
		}
	case "odd":
		c.formula = rapid.SampledFrom([]string{"B" + at + "-C" + at + "-E" + at, "0.04", "B" + at + "-C" + at + "-D" + at + "-E" + at + "+0.001", "RAND()", "NOW()", "SUM(B2:B4)", "NOSUCH(B" + at + ")"}).Draw(t, "odd")
	case "above":
		if c.formula != "" && row > 2 {
			c.formula = strings.ReplaceAll(formula, "E#", "E"+strconv.Itoa(row-1))
			c.formula = strings.ReplaceAll(strings.ReplaceAll(c.formula, "F#", "F"+strconv.Itoa(row-1)), "#", at)
		} else {
			c.formula = "B" + strconv.Itoa(row-1)
		}
	case "other":
		if formula != "" {
			all := slices.Concat(clearances, conversions, verdicts)
			c.formula = strings.ReplaceAll(rapid.SampledFrom(all).Draw(t, "other").text, "#", at)
			c.formula = strings.NewReplacer("LO", "0.02", "HI", "0.07").Replace(c.formula)
		}
	case "fixed":
		c.formula = strings.ReplaceAll(strings.ReplaceAll(c.formula, "E"+at, "E$"+at), "F"+at, "$F$"+at)
	case "alike":
		if c.formula != "" {
			c.formula = "(" + c.formula + ")"
		} else if err == nil && c.kind == "" {
			c.formula = c.text + "+0"
		}
	case "case":
		if c.kind == "str" {
			c.text = strings.ToUpper(c.text)
		}
	case "blanks":
		if c.kind == "str" {
			c.text = " " + c.text + " "
		}
	case "places":
		if err == nil && c.kind == "" {
			c.text = drawnNumber(roundTo(number, 2)).text
		}
	case "point":
		if err == nil && c.kind == "" {
			c.text = drawnNumber(number * 10).text
		}
	}
	return c
}

// oneIn reports true about once in so many times; never if n is 0.
func oneIn(t *rapid.T, n int, label string) bool {
	return n > 0 && rapid.IntRange(0, n).Draw(t, label) == n/2+1 // small numbers are drawn more often
}

// drawTable draws a table. Where plain is set nothing is a formula, as in a file of values.
func drawTable(t *rapid.T, plain bool) drawnTable {
	var made drawnTable
	pick := func(label string, of []drawnFormula) drawnFormula {
		return of[rapid.IntRange(0, len(of)-1).Draw(t, label)]
	}
	clearance, conversion, verdict := pick("clearance", clearances), pick("conversion", conversions), pick("verdict", verdicts)
	limits := []float64{0.021, 0.068}
	single := []drawn{drawnNumber(limits[0]), drawnNumber(limits[1])}
	for i := range single {
		if rapid.IntRange(0, 9).Draw(t, "limit") == 1 {
			single[i] = spoilt(t, single[i], "", 2)
			if plain {
				single[i].formula = ""
			}
		}
	}
	where := rapid.SampledFrom([]string{"columns", "cells", "sheet"}).Draw(t, "limits")
	if plain && where == "sheet" {
		where = "cells"
	}
	lo, hi := "I#", "J#"
	head := []string{"bearing", "bore mm", "upper wall mm", "lower wall mm", "journal mm", "clearance mm", "other", "verdict", "least mm", "most mm"}
	switch where {
	case "cells":
		lo, hi = "$M$1", "$N$1"
		head = head[:8]
	case "sheet":
		lo, hi = "Limits!$B$1", "Limits!$B$2"
		head = head[:8]
		made.limits = single
	}
	verdict.text = strings.NewReplacer("LO", lo, "HI", hi).Replace(verdict.text)
	var first drawnRow
	for _, text := range head {
		first.cells = append(first.cells, drawnText(text))
	}
	if where == "cells" {
		first.cells = append(first.cells, drawn{}, drawn{}, drawn{}, drawnText("limits mm"), single[0], single[1])
	}
	made.rows = append(made.rows, first)
	typed := plain || rapid.IntRange(0, 5).Draw(t, "typed") == 0
	oddness := rapid.SampledFrom([]int{0, 200, 40, 12}).Draw(t, "oddness")
	rows := rapid.IntRange(3, 14).Draw(t, "rows")
	for row := 2; row < rows+2; row++ {
		micro := func(label string, from, to int) float64 {
			return float64(rapid.IntRange(from, to).Draw(t, label)) / 1000
		}
		r := drawnReadings{bore: micro("bore", 60_000, 60_020), upper: micro("upper", 1_990, 2_005), lower: micro("lower", 1_985, 2_000), least: limits[0], most: limits[1]}
		gap := rapid.SampledFrom([]int{21, 68, 20, 69, 22, 67, 0}).Draw(t, "gap")
		if gap == 0 {
			gap = rapid.IntRange(15, 75).Draw(t, "gap")
		}
		r.journal = roundTo(r.bore-r.upper-r.lower-float64(gap)/1000, 3)
		r.clearance = 0
		claim := func(f drawnFormula) drawn {
			c := f.value(&r)
			if !typed {
				c.formula = strings.ReplaceAll(f.text, "#", strconv.Itoa(row))
			} else if n, err := strconv.ParseFloat(c.text, 64); err == nil {
				c.text = drawnNumber(roundTo(n, rapid.IntRange(3, 5).Draw(t, "places"))).text
			}
			return c
		}
		cells := []drawn{drawnText("M" + strconv.Itoa(row)), drawnNumber(r.bore), drawnNumber(r.upper), drawnNumber(r.lower), drawnNumber(r.journal)}
		c := claim(clearance)
		r.clearance, _ = strconv.ParseFloat(c.text, 64)
		cells = append(cells, c, claim(conversion), claim(verdict))
		if where == "columns" {
			cells = append(cells, drawnNumber(limits[0]), drawnNumber(limits[1]))
		}
		texts := []string{5: clearance.text, conversion.text, verdict.text, "", ""}
		for i := range cells {
			if i > 0 && oneIn(t, oddness, "odd") {
				cells[i] = spoilt(t, cells[i], texts[i], row)
				if plain {
					cells[i].formula = ""
				}
			}
		}
		made.rows = append(made.rows, drawnRow{cells: cells, hidden: !plain && rapid.IntRange(0, 30).Draw(t, "hidden") == 1})
	}
	second := strings.NewReplacer("#", "2")
	other := "mm"
	if conversion.text == conversions[0].text {
		other = "um"
	}
	if strings.Contains(conversion.text, "25.4") {
		other = "in"
	}
	places := rapid.SampledFrom([]string{"", ", places = 3"}).Draw(t, "map places")
	made.toml = `
[[table]]
rows = "2.."
location = "A"
[table.column]
bore = { at = "B", unit = "mm", nominal = "60 mm" }
upper = { at = "C", unit = "mm" }
lower = { at = "D", unit = "mm" }
journal = { at = "E", unit = "mm" }
clearance = { at = "F", unit = "mm"` + places + ` }
other = { at = "G", unit = "` + other + `" }
verdict = { at = "H" }
`
	if where == "columns" {
		made.toml += "least = { at = \"I\", unit = \"mm\", role = \"limit low\" }\nmost = { at = \"J\", unit = \"mm\", role = \"limit high\" }\n"
	}
	made.toml += "[[table.check]]\nclaim = \"clearance\"\nby = \"formula\"\nformula = '" + second.Replace(clearance.text) + "'\n"
	made.toml += "[[table.check]]\nclaim = \"other\"\nby = \"formula\"\nformula = '" + second.Replace(conversion.text) + "'\n"
	if rapid.Bool().Draw(t, "by name") {
		made.toml += "[[table.check]]\nclaim = \"verdict\"\nby = \"verdict\"\nof = [\"clearance\"]\n"
		if where == "columns" {
			made.toml = strings.NewReplacer(`, role = "limit low"`, "", `, role = "limit high"`, "").Replace(made.toml)
			made.toml += "with = { least = \"least\", most = \"most\" }\n"
		} else if where == "cells" {
			made.toml += "limits = \"M1..N1\"\n"
		} else {
			made.toml += "limits = \"Limits!B1..B2\"\n"
		}
	} else {
		made.toml += "[[table.check]]\nclaim = \"verdict\"\nby = \"formula\"\nformula = '" + second.Replace(verdict.text) + "'\n"
	}
	return made
}

// allSaid is all that a result says, as text to be compared.
func allSaid(t rapid.TB, r *check.Result) string {
	t.Helper()
	order := func(all []check.Finding) []string {
		var texts []string
		for _, f := range all {
			text, err := json.Marshal(f)
			if err != nil {
				t.Fatal(err)
			}
			texts = append(texts, string(text))
		}
		slices.Sort(texts)
		return texts
	}
	lines := []string{"findings:"}
	lines = append(lines, order(r.Findings)...)
	lines = append(append(lines, "latent:"), order(r.Latent)...)
	lines = append(append(lines, "follows:"), order(r.Follows)...)
	lines = append(lines, fmt.Sprintf("unchecked: %v", r.Unchecked), fmt.Sprintf("unlooked: %v", r.Unlooked), fmt.Sprintf("notes: %q", r.Notes),
		fmt.Sprintf("coverage: %+v, %d claims, %d rows", r.Coverage, r.Claims, r.Rows))
	return strings.Join(lines, "\n")
}

// unlike returns the lines of each of two texts that the other has not.
func unlike(a, b string) (text string) {
	as, bs := strings.Split(a, "\n"), strings.Split(b, "\n")
	for _, line := range as {
		if !slices.Contains(bs, line) {
			text += "\n- " + line
		}
	}
	for _, line := range bs {
		if !slices.Contains(as, line) {
			text += "\n+ " + line
		}
	}
	return text
}

// show writes a drawn table to be read in a failure.
func (d *drawnTable) show() string {
	var b strings.Builder
	for i, r := range d.rows {
		fmt.Fprintf(&b, "%d hidden=%v:", i+1, r.hidden)
		for _, c := range r.cells {
			fmt.Fprintf(&b, " | %s{%s}%s", c.text, c.formula, c.kind)
		}
		b.WriteByte('\n')
	}
	fmt.Fprintf(&b, "limits: %v\n", d.limits)
	return b.String()
}

// TestSifted: what is said of a drawn workbook is the same whether rows that are plainly right
// are passed before claims are made of their cells, or claims are made of all cells.
func TestSifted(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		plain := rapid.IntRange(0, 3).Draw(rt, "plain") == 0
		d := drawTable(rt, plain)
		f, err := sheet.Open(drawnWorkbook(t, d.rows, d.limits), sheet.Dialect{}, sheet.DefaultBounds())
		if err != nil {
			rt.Fatal(err)
		}
		defer f.Close()
		load := func() *sheet.Book {
			book, err := f.Load(t.Context())
			if err != nil {
				rt.Fatal(err)
			}
			return book
		}
		results := func(m *mapfile.Map, o check.Options) (on, off string) {
			o.Book = load()
			r, err := check.Run(t.Context(), m, nil, f, o)
			if err != nil {
				rt.Fatalf("%v\n%s", err, d.toml)
			}
			on = allSaid(rt, r)
			o.Book = load()
			if r, err = check.Run(t.Context(), m, nil, f, check.Unsifted(o)); err != nil {
				rt.Fatal(err)
			}
			return on, allSaid(rt, r)
		}
		m, _, err := mapfile.Read("map.toml", []byte(d.toml))
		if err != nil {
			rt.Fatalf("%v\n%s", err, d.toml)
		}
		on, off := results(m, check.Options{})
		if on != off {
			rt.Errorf("by a map (- passed, + all claims):%s\n%s%s", unlike(on, off), d.show(), d.toml)
		}
		u, err := understand.Read(t.Context(), load())
		if err != nil {
			rt.Fatal(err)
		}
		if on, off = results(u.Map, check.Options{Latent: u.Latent()}); on != off {
			rt.Errorf("understood (- passed, + all claims):%s\n%s%s", unlike(on, off), d.show(), u.Map.Text())
		}
	})
}

// TestStreamedAsWhole: what is said of a drawn file of values is the same whether it is held whole or
// its rows stream by, by a map that was made of all rows or of the first ones alone.
func TestStreamedAsWhole(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := drawTable(rt, true)
		f, err := sheet.Open(drawnWorkbook(t, d.rows, nil), sheet.Dialect{}, sheet.DefaultBounds())
		if err != nil {
			rt.Fatal(err)
		}
		defer f.Close()
		results := func(m *mapfile.Map, beyond *check.Beyond) (streamed, whole string) {
			r, err := check.Run(t.Context(), m, nil, f, check.Options{Beyond: beyond})
			if err != nil {
				rt.Fatalf("%v\n%s", err, m.Text())
			}
			streamed = allSaid(rt, r)
			book, err := f.Load(t.Context())
			if err != nil {
				rt.Fatal(err)
			}
			if r, err = check.Run(t.Context(), m, nil, f, check.Unsifted(check.Options{Book: book})); err != nil {
				rt.Fatal(err)
			}
			return streamed, allSaid(rt, r)
		}
		m, _, err := mapfile.Read("map.toml", []byte(d.toml))
		if err != nil {
			rt.Fatal(err)
		}
		if streamed, whole := results(m, nil); streamed != whole {
			rt.Errorf("by a map (- streamed, + whole):%s\n%s%s", unlike(streamed, whole), d.show(), d.toml)
		}
		rows := rapid.IntRange(4, 10).Draw(rt, "head")
		head, long, err := sheet.Head(t.Context(), f, rows, rows)
		if err != nil || !long {
			return
		}
		u, err := understand.Read(t.Context(), head)
		if err != nil {
			rt.Fatal(err)
		}
		beyond, ok := u.Extend()
		if !ok {
			return
		}
		if streamed, whole := results(u.Map, beyond); streamed != whole {
			rt.Errorf("from the first rows (- streamed, + whole):%s\n%s%s", unlike(streamed, whole), d.show(), u.Map.Text())
		}
	})
}

// oddNumbers are numbers, and what looks like some, as files of other programs and of people have them.
// # stands for the right one.
var oddNumbers = []string{
	"#0", "#000000", "#0000000000", "#" + "0123456789012345678901234567890123456789", "+#", "-#", "\u2212#", " #", "# ", "\u00a0#", "'#", "0#", "00000000000000#",
	"#e0", "#E0", "#e-3", "#E+2", "#e99", "1,234.5", "1.234,5", "1 234", "1\u202f234", "1234567890123456", "123456789.5", "0.0000000001", "99999999999999.9",
	"", " ", "#mm", "n/a", "TRUE", "#N/A", "-", ".", ",", "1.2.3", "#.", ".5", "NaN", "Inf", "0x1p3", "1_000", "=#",
}

// drawnTextFile writes a drawn table as a text file: with a decimal point or comma, with quotation marks
// about some cells, and with odd numbers. Verdicts may be spoilt alone, or each be the contrary of what
// is right. Remarks so long that the file is read in several blocks may stand behind, which no rule reads.
func drawnTextFile(t *rapid.T, dir string, d *drawnTable) string {
	comma, crlf := rapid.Bool().Draw(t, "decimal comma"), rapid.Bool().Draw(t, "carriage returns")
	quotes := rapid.SampledFrom([]string{"none", "texts", "all", "some"}).Draw(t, "quotes")
	odd, wrong := rapid.SampledFrom([]int{0, 0, 0, 40, 8}).Draw(t, "odd numbers"), rapid.SampledFrom([]int{0, 20, 5}).Draw(t, "wrong values")
	verdicts := rapid.SampledFrom([]string{"", "", "some wrong", "contrary"}).Draw(t, "verdicts")
	remarks, times := 0, 1
	if rapid.IntRange(0, 2).Draw(t, "long") == 1 {
		remarks, times = rapid.IntRange(1000, 9000).Draw(t, "remarks"), rapid.IntRange(1, 6).Draw(t, "times")
	}
	rows := slices.Concat(d.rows[:1], slices.Repeat(d.rows[1:], times))
	contrary := strings.NewReplacer("OK", "reject", "reject", "OK", "tight", "loose", "loose", "tight")
	var b strings.Builder
	for i, r := range rows {
		for j, c := range r.cells {
			text := c.text
			switch {
			case i == 0 || j != 7:
			case verdicts == "contrary":
				text = contrary.Replace(text)
			case verdicts == "some wrong" && oneIn(t, 3, "wrong verdict"):
				text = rapid.SampledFrom([]string{"OK", "reject", "tight", "loose"}).Draw(t, "verdict")
			}
			number, err := strconv.ParseFloat(text, 64)
			spoilt := i > 0 && j > 4 && oneIn(t, wrong, "wrong")
			switch {
			case spoilt && err != nil:
				text = d.rows[rapid.IntRange(1, len(d.rows)-1).Draw(t, "of row")].cells[j].text
			case spoilt: // by one of its last place
				_, behind, _ := strings.Cut(text, ".")
				text = strconv.FormatFloat(number+math.Pow10(-len(behind)), 'f', len(behind), 64)
			}
			if err == nil {
				if i > 0 && oneIn(t, odd, "odd") {
					text = strings.ReplaceAll(rapid.SampledFrom(oddNumbers).Draw(t, "number"), "#", text)
				}
				if comma {
					text = strings.Replace(text, ".", ",", 1)
				}
			}
			if j > 0 {
				b.WriteByte(';')
			}
			_, err = strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
			switch {
			case strings.ContainsAny(text, "\";\n"), quotes == "all", quotes == "texts" && err != nil, quotes == "some" && rapid.IntRange(0, 9).Draw(t, "quoted") == 1:
				text = `"` + strings.ReplaceAll(text, `"`, `""`) + `"`
			}
			b.WriteString(text)
		}
		if remarks > 0 {
			b.WriteString(strings.Repeat(";", 15-len(r.cells)) + ";" + strings.Repeat("x", remarks))
		}
		if crlf {
			b.WriteByte('\r')
		}
		b.WriteByte('\n')
	}
	name := filepath.Join(dir, "drawn.csv")
	if err := os.WriteFile(name, []byte(b.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	mark := byte('.')
	if comma {
		mark = ','
	}
	d.dialect = sheet.Dialect{Separator: ';', Decimal: mark}
	return name
}

// TestStreamedText: what is said of a drawn text file is the same whether it is held whole and
// claims are made of all its cells, or its rows stream by.
func TestStreamedText(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := drawTable(rt, true)
		name := drawnTextFile(rt, t.TempDir(), &d)
		f, err := sheet.Open(name, d.dialect, sheet.DefaultBounds())
		if err != nil {
			rt.Fatal(err)
		}
		defer f.Close()
		m, _, err := mapfile.Read("map.toml", []byte(d.toml))
		if err != nil {
			rt.Fatal(err)
		}
		r, err := check.Run(t.Context(), m, nil, f, check.Options{})
		if err != nil {
			rt.Fatal(err)
		}
		streamed := allSaid(rt, r)
		book, err := f.Load(t.Context())
		if err != nil {
			rt.Fatal(err)
		}
		if r, err = check.Run(t.Context(), m, nil, f, check.Unsifted(check.Options{Book: book})); err != nil {
			rt.Fatal(err)
		}
		if whole := allSaid(rt, r); streamed != whole {
			text, _ := os.ReadFile(name)
			rt.Errorf("(- streamed, + whole):%s\n%s%s", unlike(streamed, whole), text, d.toml)
		}
	})
}
