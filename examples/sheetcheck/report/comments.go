package report

import (
	"slices"
	"strings"

	"example.com/closefit/examples/kit/record"
	"example.com/closefit/examples/sheetcheck/check"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// Comments returns what to write beside the cells of a copy of the workbook: one
// comment a cell, the worst finding first.
func Comments(r *check.Result) []sheet.Comment {
	type cell struct {
		sheet string
		at    sheet.Place
	}
	where := map[cell]int{}
	var all []sheet.Comment
	for _, f := range slices.Concat(r.Findings, r.Latent, r.Follows) {
		for _, c := range f.Cells {
			var b strings.Builder
			b.WriteString(f.Severity.String())
			if c.Right != "" && c.Right != c.Claimed {
				b.WriteString("; right is " + record.Printable(c.Right))
			}
			b.WriteString(".\n" + cause(&f) + ".")
			for _, o := range f.Others {
				b.WriteString("\nor " + o.Mistake + ": " + record.Printable(o.Says) + ".")
			}
			at := cell{f.Sheet, c.At}
			if j, ok := where[at]; ok {
				all[j].Text += "\n" + b.String()
				continue
			}
			where[at] = len(all)
			all = append(all, sheet.Comment{Sheet: f.Sheet, At: c.At, Text: b.String()})
		}
	}
	return all
}
