package report

import (
	_ "embed"
	"fmt"
	"io"

	"example.com/closefit/examples/kit/page"
	"example.com/closefit/examples/kit/record"
	"example.com/closefit/examples/sheetcheck/check"
	"example.com/closefit/examples/sheetcheck/mapfile"
	"example.com/closefit/examples/sheetcheck/understand"
	"example.com/closefit/units"
)

//go:embed page.css
var pageCSS string

// A group is the findings under one heading.
type group struct {
	Name     string
	Findings []*check.Finding
}

func writeHTML(w io.Writer, r *check.Result, u *understand.Understanding) error {
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
	var understood, covered, unlookedAt page.Part
	if u != nil {
		understood = takenToBe(u)
	}
	if r.Coverage.Cells > 0 || u != nil {
		covered = page.Join(page.El("h2", page.Text("coverage")), page.El("p", page.Text(coverage(r))), list(append(unchecked(r), unlooked(r)...), item))
	}
	if len(r.Notes) > 0 {
		unlookedAt = page.Join(page.El("h2", page.Text("not looked at")), list(r.Notes, item))
	}
	body := page.Join(
		page.El("header", page.Line, page.El("h1", page.Text(heading(r))), page.Line, page.El("p", page.Text(summary(r))), page.Line), page.Line,
		page.El("main", page.Line, understood,
			page.Each(groups, func(g group) page.Markup {
				return page.Join(page.Line, page.El("h2", page.Text(g.Name)), page.Line, page.Each(g.Findings, article))
			}), page.Line, covered, page.Line, unlookedAt, page.Line), page.Line,
		page.El("footer", page.El("p", page.Text(Caution))), page.Line)
	return page.Document{Title: heading(r), Style: pageCSS, Body: body}.Write(w)
}

// readable is a text of the sheet without what no reader shows.
func readable(text string) page.Text { return page.Text(record.Printable(text)) }

// item is a line of a list.
func item(text string) page.Markup { return page.El("li", readable(text)) }

// list is one of what there is, and nothing where there is nothing.
func list[T any](all []T, of func(T) page.Markup) page.Markup {
	if len(all) == 0 {
		return page.Markup{}
	}
	return page.El("ul", page.Each(all, of))
}

// takenToBe shows what a sheet without a map is taken to be.
func takenToBe(u *understand.Understanding) page.Markup {
	tables := page.Each(u.Tables, func(t understand.Table) page.Markup {
		return page.Join(page.El("article", page.El("h3", readable(tableName(t))), page.Line,
			page.El("ul", page.Each(t.Columns, func(c understand.Column) page.Markup {
				return page.El("li", page.Text(fmt.Sprint(c.At)+": "), readable(columnLine(c)))
			})), page.Line,
			page.Each(t.Worked, func(line string) page.Markup {
				if line == "" {
					return page.Markup{}
				}
				return page.El("p", page.Text("e.g. "), readable(line))
			})), page.Line)
	})
	return page.Join(page.El("h2", page.Text("what the sheet is taken to be")), page.Line, tables,
		list(u.Map.Cells, func(c mapfile.Cell) page.Markup {
			return page.El("li", readable(at(c.Sheet, c.At)), page.Text(": "+c.Role+inUnit(c.Unit)+", ="), readable(c.Formula))
		}), page.Line,
		page.If(len(u.Unknown) > 0, page.El("h2", page.Text("not understood"))),
		list(u.Unknown, func(x understand.Unknown) page.Markup {
			return page.El("li", readable(at(x.Sheet, x.At.String())), page.Text(": "), readable(x.Why))
		}), page.Line)
}

// article is one finding.
func article(f *check.Finding) page.Markup {
	others := list(f.Others, func(c check.Cause) page.Markup {
		return page.El("li", page.Text("or "+c.Mistake+": "), readable(c.Says))
	})
	cells := page.Each(f.Cells, func(c check.Cell) page.Markup {
		location := page.Text("")
		if c.Location != "" {
			location = page.Text(quoted(c.Location))
		}
		return page.Join(page.El("tr", page.El("td", page.Text(c.At.String())), page.El("td", location), page.El("td", page.Text(quoted(c.Claimed))), page.El("td", readable(c.Right))), page.Line)
	})
	more := f.Count - len(f.Cells)
	var working page.Part
	if f.Working.Text() != "" {
		w := printable(f.Working)
		working = page.Working(&w)
	}
	head := func(name string) page.Part { return page.El("th", page.Attr("scope", "col"), page.Text(name)) }
	return page.Join(page.Line, page.El("article", page.Line,
		page.El("h3", page.Text(ranges(f)+", "), readable(f.Column)), page.Line,
		page.El("p", page.Class("cause"), page.Text(causeOfFirst(f))), page.Line,
		others, page.Line,
		page.El("table", page.El("thead", page.El("tr", head("cell"), head("location"), head("holds"), head("right is"))), page.Line, page.El("tbody", cells)), page.Line,
		page.If(more > 0, page.El("p", page.Text(fmt.Sprintf("and %d more cells", more)))), page.Line,
		working, page.Line), page.Line)
}

// printable is a working of which every text is.
func printable(w units.Working) units.Working {
	p := units.Working{Name: record.Printable(w.Name), Formula: record.Printable(w.Formula), Numbers: record.Printable(w.Numbers), Result: record.Printable(w.Result), Source: record.Printable(w.Source)}
	for _, n := range w.Notes {
		p.Notes = append(p.Notes, record.Printable(n))
	}
	for _, s := range w.Steps {
		p.Steps = append(p.Steps, printable(s))
	}
	return p
}
