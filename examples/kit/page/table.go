package page

import "strings"

// Table returns a table: a caption, if there is one, a head for each column, and rows whose first cell names
// them. A head without text is named for those who cannot see the table.
func Table(class, caption string, heads []string, rows [][]string) Markup {
	var top strings.Builder
	for _, h := range heads {
		name := Part(Text(h))
		if h == "" {
			name = El("span", Class("hidden"), Text("what it is"))
		}
		top.WriteString(El("th", Attr("scope", "col"), name).String())
	}
	body := Each(rows, func(row []string) Markup { // a page has many cells, so they are written without El
		var b sink
		b.WriteString("<tr>")
		for i, text := range row {
			begin, end := "<td>", "</td>"
			if i == 0 {
				begin, end = `<th scope="row">`, "</th>"
			}
			b.WriteString(begin)
			writeEscaped(&b, text)
			b.WriteString(end)
		}
		b.WriteString("</tr>\n")
		return b.markup()
	})
	parts := []Part{}
	if class != "" {
		parts = append(parts, Class(class))
	}
	if caption != "" {
		parts = append(parts, El("caption", Text(caption)))
	}
	return El("table", append(parts, Line, El("thead", El("tr", Markup{html: top.String()})), Line, El("tbody", body), Line)...)
}
