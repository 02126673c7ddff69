package record

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"slices"
	"strings"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

//go:embed page.html
var pageHTML string

// writeHTML writes the record as one page without anything from outside, to keep
// or to print.
func writeHTML(w io.Writer, a *job.Assessment) error {
	t, err := template.New("page").Funcs(template.FuncMap{
		"heading":     func(g job.Group) string { return title(heading(g)) },
		"measured":    measured,
		"stages":      stages,
		"shut":        shut,
		"named":       stage.heading,
		"instruction": instruction,
		"class":       class,
		"percent":     func(x float64) string { return fmt.Sprintf("%.2f%%", 100*x) },
		"svg":         func(p job.Picture) template.HTML { return template.HTML(p.SVG) }, // made and escaped by package torque
		"worked":      worked,
		"working":     func(w *units.Working) template.HTML { return template.HTML(w.HTML()) },
		"upper":       func(k job.ActionKind) string { return strings.ToUpper(k.String()) },
		"kind":        func(k job.ActionKind) string { return strings.ReplaceAll(k.String(), " ", "-") },
	}).Parse(pageHTML)
	if err != nil {
		return err
	}
	return t.Execute(w, a)
}

// class is the CSS class of a verdict.
func class(v measure.Verdict) string { return strings.ReplaceAll(v.String(), " ", "-") }

// worked reports whether any finding has a working to show.
func worked(a *job.Assessment) bool {
	return slices.ContainsFunc(a.Verdicts(), func(f job.Finding) bool { return f.Working != nil })
}
