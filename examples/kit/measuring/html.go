package measuring

import (
	_ "embed"
	"fmt"
	"io"
	"strings"

	"example.com/closefit/examples/kit/drawing"
	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/page"
)

//go:embed page.css
var pageCSS string

// writeHTML writes the sheet as one page without anything from outside, to print.
func writeHTML(w io.Writer, s *job.Sheet) error {
	listed := func(before string, texts []string, between string) page.Part {
		return page.If(len(texts) > 0, page.Join(page.El("p", page.Text(before+strings.Join(texts, between)+".")), page.Line))
	}
	name := "Measuring sheet: " + s.Title
	body := page.Join(
		page.El("header", page.Line, page.El("h1", page.Text(name)), page.Line,
			page.El("p", page.Text(fmt.Sprintf("%d readings open. Date ", open(s))), page.El("i"), page.Text(" by "), page.El("i", page.Class("alone"))), page.Line,
			page.El("p", page.Class("soft"), page.Text(caution+" "+stations)), page.Line,
			listed("Limits still to be written: ", s.NoLimits, ", "),
			listed("Still open about these readings: ", s.NotSaid, "; ")), page.Line,
		page.El("main", page.Line, page.Each(s.Parts, part)), page.Line)
	return page.Document{Title: name, Style: pageCSS, Body: body}.Write(w)
}

// part is a part of the engine, with its pictures.
func part(p job.SheetPart) page.Markup {
	figures := page.Each(pictures(p), func(name string) page.Markup {
		f, _ := drawing.Where(name)
		return page.Join(page.El("figure", f.SVG, page.El("figcaption", page.Text(f.Name+": "+f.Says))), page.Line)
	})
	return page.Join(page.El("section", page.Line, page.El("h2", page.Text(strings.ToUpper(p.Name[:1])+p.Name[1:])), page.Line, figures, page.Each(p.Lines, line)), page.Line)
}

// line is what is read in one way, with room for each reading.
func line(l job.SheetLine) page.Markup {
	soft := func(text string) page.Part {
		return page.Join(page.El("p", page.Class("soft"), page.Text(text)), page.Line)
	}
	readings := page.Each(l.Readings, func(name string) page.Markup {
		return page.Join(page.El("li", page.El("b", page.El("span", page.Class("box")), page.Text(name)), blanks(l), page.Text(" "+l.Unit)), page.Line)
	})
	return page.Join(page.El("section", page.Class("line"), page.Line, page.El("h3", page.Text(heading(l))), page.Line,
		soft("with: "+l.With),
		page.If(len(l.Conditions) > 0, soft("only with: "+strings.Join(l.Conditions, ", "))),
		soft("how: "+l.How),
		page.El("ul", page.Line, readings), page.Line), page.Line)
}

// blanks are the places to write, one for each plane and direction.
func blanks(l job.SheetLine) page.Markup {
	if l.Planes <= 1 && l.Stations <= 1 {
		return page.El("span", page.El("i", page.Class("alone")))
	}
	var planes []page.Part
	for i := range l.Planes {
		var stations []page.Part
		for k := range l.Stations {
			stations = append(stations, page.El("i", page.Text(fmt.Sprintf("%c%d", 'A'+i, k+1))))
		}
		planes = append(planes, page.El("span", stations...))
	}
	return page.Join(planes...)
}
