package report

import (
	_ "embed"
	"html/template"
	"io"

	"example.com/closefit/examples/kit/page"
	"example.com/closefit/examples/kit/record"
	"example.com/closefit/examples/sheetcheck/check"
	"example.com/closefit/examples/sheetcheck/understand"
)

//go:embed page.html
var layout string

// A group is the findings under one heading.
type group struct {
	Name     string
	Findings []*check.Finding
}

func writeHTML(w io.Writer, r *check.Result, u *understand.Understanding) error {
	functions := template.FuncMap{
		"style":      func() template.CSS { return template.CSS(page.Style) }, // built in
		"ranges":     ranges,
		"cause":      causeOfFirst,
		"quoted":     quoted,
		"printable":  record.Printable,
		"table":      tableName,
		"column":     columnLine,
		"at":         at,
		"place":      func(x understand.Unknown) string { return at(x.Sheet, x.At.String()) },
		"working":    func(f *check.Finding) template.HTML { return template.HTML(record.Printable(f.Working.HTML())) }, // escapes its own texts
		"hasWorking": func(f *check.Finding) bool { return f.Working.Text() != "" },
		"more":       func(f *check.Finding) int { return f.Count - len(f.Cells) },
	}
	t, err := template.New("page").Funcs(functions).Parse(layout)
	if err != nil {
		return err
	}
	var groups []group
	add := func(name string, f *check.Finding) {
		if len(groups) == 0 || groups[len(groups)-1].Name != name {
			groups = append(groups, group{Name: name})
		}
		g := &groups[len(groups)-1]
		g.Findings = append(g.Findings, f)
	}
	for _, f := range check.Group(r.Findings) {
		add(f.Group(), &f)
	}
	for _, f := range check.Group(r.Latent) {
		add("faults that do not show yet", &f)
	}
	for _, f := range check.Group(r.Follows) {
		add("what only follows", &f)
	}
	return t.Execute(w, map[string]any{"Result": r, "Heading": heading(r), "Summary": summary(r), "Groups": groups, "Caution": Caution, "Understanding": u, "Coverage": coverage(r), "Unchecked": append(unchecked(r), unlooked(r)...), "Covered": r.Coverage.Cells > 0 || u != nil})
}
