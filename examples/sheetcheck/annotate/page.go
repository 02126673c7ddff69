package annotate

import (
	"fmt"
	"strings"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// headings are those of the first sheet's table, with the width of each column in characters.
func headings() []struct {
	text  string
	width int
} {
	return []struct {
		text  string
		width int
	}{{"kind", 28}, {"cell", 18}, {"found", 20}, {"right", 22}, {"cause", 64}, {"proposed formula, as text", 44}}
}

// page writes the first sheet.
func page(b *book, s *styles, a *Answer) string {
	var out, links strings.Builder
	cell := func(row, column int, style, text string) {
		if text == "" && style == "line" {
			return
		}
		fmt.Fprintf(&out, `<c r="%s" s="%d" t="inlineStr"><is><t xml:space="preserve">%s</t></is></c>`, sheet.Place{Row: row, Column: column}, s.on(style), shown(text))
	}
	row := 0
	begin := func(lines float64) { // heights are said, because not every office program finds them
		row++
		fmt.Fprintf(&out, `<row r="%d" ht="%.1f" customHeight="1">`, row, lines*lineHeight)
	}
	end := func() { out.WriteString(`</row>`) }
	line := func(style, text string) {
		lines := 1.0
		if style == "title" {
			lines = 1.5
		}
		begin(lines)
		cell(row, 1, style, text)
		end()
	}
	for i, text := range a.Lines {
		style := "line"
		if i == 0 {
			style = "title"
		}
		line(style, text)
	}
	if len(a.Rows) > 0 {
		row++
		begin(1)
		for i, h := range headings() {
			cell(row, i+1, "heading", h.text)
		}
		end()
	}
	for i, r := range a.Rows {
		if i == mostRows {
			line("line", fmt.Sprintf("%d more have no row here; their cells are coloured on their sheets.", len(a.Rows)-mostRows))
			break
		}
		where := r.Sheet + "!" + r.At.String()
		texts := []string{r.Name, where, r.Found, r.Right, r.Cause, r.Formula}
		begin(lines(texts))
		for j, text := range texts {
			style := "text"
			switch j {
			case 0:
				style = r.Kind.colour()
			case 1:
				style = "link"
				fmt.Fprintf(&links, `<hyperlink ref="%s" location="%s" display="%s"/>`, sheet.Place{Row: row, Column: 2}, escaped(quoted(r.Sheet)+"!"+r.At.String()), escaped(where))
			}
			cell(row, j+1, style, text)
		}
		end()
	}
	if len(a.Below) > 0 {
		row++
	}
	for i, text := range a.Below {
		if i == mostBelow {
			line("line", fmt.Sprintf("… %d more lines are in the report.", len(a.Below)-i))
			break
		}
		style := "line"
		if i == 0 {
			style = "heading"
		}
		line(style, text)
	}
	var columns strings.Builder
	for i, h := range headings() {
		fmt.Fprintf(&columns, `<col min="%d" max="%d" width="%d" customWidth="1"/>`, i+1, i+1, h.width)
	}
	text := head + `<worksheet xmlns="` + b.main + `"><sheetPr><pageSetUpPr fitToPage="1"/></sheetPr><sheetViews><sheetView workbookViewId="0"/></sheetViews><cols>` + columns.String() + `</cols><sheetData>` + out.String() + `</sheetData>`
	if links.Len() > 0 {
		text += `<hyperlinks>` + links.String() + `</hyperlinks>`
	}
	return text + `<pageMargins left="0.5" right="0.5" top="0.5" bottom="0.5" header="0.3" footer="0.3"/><pageSetup orientation="landscape" fitToHeight="0"/></worksheet>`
}

// lineHeight is the height of a line, in points.
const lineHeight = 15

// lines returns how many lines a row of the table needs, within what office programs allow.
func lines(texts []string) float64 {
	most := 1
	for i, h := range headings() {
		n := 0
		for line := range strings.Lines(texts[i]) {
			n += 1 + len([]rune(line))/h.width
		}
		most = max(most, n)
	}
	return float64(min(most, 27))
}
