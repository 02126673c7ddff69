package report

import (
	_ "embed"
	"html/template"
	"io"

	"example.com/closefit/examples/kit/record"
	"example.com/closefit/examples/sheetcheck/check"
)

//go:embed page.html
var page string

// A group is the findings of one severity.
type group struct {
	Severity check.Severity
	Findings []*check.Finding
}

func writeHTML(w io.Writer, r *check.Result) error {
	functions := template.FuncMap{
		"ranges":     ranges,
		"cause":      cause,
		"quoted":     quoted,
		"printable":  record.Printable,
		"working":    func(f *check.Finding) template.HTML { return template.HTML(record.Printable(f.Working.HTML())) }, // escapes its own texts
		"hasWorking": func(f *check.Finding) bool { return f.Working.Text() != "" },
		"more":       func(f *check.Finding) int { return f.Count - len(f.Cells) },
	}
	t, err := template.New("page").Funcs(functions).Parse(page)
	if err != nil {
		return err
	}
	var groups []group
	for i := range r.Findings {
		f := &r.Findings[i]
		if len(groups) == 0 || groups[len(groups)-1].Severity != f.Severity {
			groups = append(groups, group{Severity: f.Severity})
		}
		g := &groups[len(groups)-1]
		g.Findings = append(g.Findings, f)
	}
	return t.Execute(w, map[string]any{"Result": r, "Heading": heading(r), "Summary": summary(r), "Groups": groups, "Caution": Caution})
}
