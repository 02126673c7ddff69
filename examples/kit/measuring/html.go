package measuring

import (
	_ "embed"
	"html/template"
	"io"
	"strings"

	"example.com/closefit/examples/kit/drawing"
	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/page"
)

//go:embed page.html
var pageHTML string

// writeHTML writes the sheet as one page without anything from outside, to print.
func writeHTML(w io.Writer, s *job.Sheet) error {
	t, err := template.New("page").Funcs(template.FuncMap{
		"style":   func() template.CSS { return template.CSS(page.Style) }, // built in
		"caution": func() string { return caution + " " + stations },
		"open":    open,
		"title":   func(text string) string { return strings.ToUpper(text[:1]) + text[1:] },
		"join":    func(texts []string) string { return strings.Join(texts, ", ") },
		"heading": heading,
		"figures": func(p job.SheetPart) (list []drawing.Figure) {
			for _, name := range pictures(p) {
				f, _ := drawing.Where(name)
				list = append(list, f)
			}
			return list
		},
		"svg":   func(f drawing.Figure) template.HTML { return template.HTML(f.SVG) }, // drawn by package drawing
		"times": func(n int) []struct{} { return make([]struct{}, n) },
		"plane": func(i int) string { return string(rune('A' + i)) },
		"next":  func(i int) int { return i + 1 },
	}).Parse(pageHTML)
	if err != nil {
		return err
	}
	return t.Execute(w, s)
}
