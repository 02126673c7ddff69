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
	body := Each(rows, func(row []string) Markup {
		var b strings.Builder
		for i, text := range row {
			if i == 0 {
				b.WriteString(El("th", Attr("scope", "row"), Text(text)).String())
				continue
			}
			b.WriteString(El("td", Text(text)).String())
		}
		return Join(El("tr", Markup{html: b.String()}), Line)
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
