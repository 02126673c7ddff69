package page

import (
	"math"
	"strconv"
	"strings"
)

// The size of a chart, in pixels on a phone.
const (
	plotWide, plotHigh = 320.0, 190.0
	leastMarked        = 1.5 // of a span, so that it is seen
)

// plot is a chart being drawn. Its scales are chosen before anything is drawn.
type plot struct {
	id, title, desc       string
	left, end, top, foot  float64
	high                  float64
	fromX, toX, lowY, toY float64
	b                     strings.Builder
}

func (p *plot) x(v float64) float64 { return p.left + (v-p.fromX)/(p.toX-p.fromX)*(p.end-p.left) }
func (p *plot) y(v float64) float64 { return p.foot - (v-p.lowY)/(p.toY-p.lowY)*(p.foot-p.top) }

func (p *plot) add(m Markup) { p.b.WriteString(m.String()) }

// coordinate is an attribute with a place, to a tenth.
func coordinate(name constant, v float64) Attribute {
	return Attribute{string(name), string(appendTenth(nil, v)), true}
}

// appendTenth writes a place. It is done some hundred times for each chart.
func appendTenth(to []byte, v float64) []byte {
	if !(math.Abs(v) < 1e12) {
		return append(to, decimal(v, 1)...)
	}
	n := int64(math.Floor(v*10 + 0.5))
	if n < 0 {
		to, n = append(to, '-'), -n
	}
	return append(strconv.AppendInt(to, n/10, 10), '.', byte('0'+n%10))
}

// An outline is the shape of a path.
type outline []byte

// to goes on: by a command of SVG paths, and to the places that it needs.
func (o *outline) to(command constant, at ...float64) {
	*o = append(*o, command...)
	for i, v := range at {
		if i > 0 {
			*o = append(*o, ' ')
		}
		*o = appendTenth(*o, v)
	}
}

// path is the element.
func (o outline) path(class constant) Markup {
	return El("path", Class(string(class)), Attribute{"d", string(o), true})
}

func (p *plot) rect(class string, left, top, wide, high float64) {
	p.add(El("rect", Class(class), coordinate("x", left), coordinate("y", top), coordinate("width", wide), coordinate("height", high)))
}

// span shades a part of the x axis, seen however narrow it is.
func (p *plot) span(class string, s Span, top, high float64) {
	if math.IsNaN(s.From) || math.IsNaN(s.To) {
		return
	}
	from, to := min(max(p.x(s.From), p.left), p.end), min(max(p.x(s.To), p.left), p.end)
	if to-from < leastMarked {
		from, to = (from+to-leastMarked)/2, (from+to+leastMarked)/2
	}
	p.rect(class, from, top, to-from, high)
}

// text writes a text whose base line is at y; class end, middle or none says where x is in it.
func (p *plot) text(class string, x, y float64, text string) {
	p.add(El("text", If(class != "", Class(class)), coordinate("x", x), coordinate("y", y), Text(text)))
}

// yAxis sets the scale of y to ticks, makes room for them, and returns them.
func (p *plot) yAxis(a Axis, from, to float64) []Tick {
	from, to = a.with(from, to)
	ticks := a.Ticks
	if ticks == nil {
		ticks = around(from, to, 5)
		from, to = ticks[0].At, ticks[len(ticks)-1].At
	}
	p.lowY, p.toY = from, to
	for _, t := range ticks {
		p.left = max(p.left, textWide(t.Text)+8)
	}
	if a.head() != "" {
		p.top = max(p.top, 24)
	}
	return ticks
}

// grid draws the lines of the ticks of y, and the axis' name above them.
func (p *plot) grid(a Axis, ticks []Tick) {
	var lines outline
	for _, t := range ticks {
		lines.to("M", p.left, p.y(t.At))
		lines.to("H", p.end)
		p.text("end", p.left-5, p.y(t.At)+4, t.Text)
	}
	p.add(lines.path("grid"))
	if name := a.head(); name != "" {
		p.text("", 2, letterHigh, name)
	}
}

// xAxis writes the ticks of x below the chart, and the axis' name below them.
func (p *plot) xAxis(a Axis) {
	ticks := a.Ticks
	if ticks == nil {
		ticks = within(p.fromX, p.toX, p.end-p.left)
		var marks outline
		for _, t := range ticks {
			marks.to("M", p.x(t.At), p.foot)
			marks.to("v4")
		}
		p.add(marks.path("tick"))
	}
	last := math.Inf(-1)
	for _, t := range ticks {
		wide := textWide(t.Text)
		middle := min(max(p.x(t.At), wide/2), plotWide-wide/2)
		if middle-wide/2 < last { // those of limits may be close
			middle = last + wide/2
		}
		if middle+wide/2 > plotWide {
			continue
		}
		p.text("middle", middle, p.foot+16, t.Text)
		last = middle + wide/2 + 4
	}
	if name := a.head(); name != "" {
		p.text("end", p.end, p.foot+32, name)
	}
}

// newPlot returns a plot with room below for the ticks of x and the axis' name.
func newPlot(id, title, desc string, x Axis) *plot {
	p := &plot{id: id, title: title, desc: desc, left: 10, end: plotWide - 8, top: 10, foot: 152, high: plotHigh}
	if x.head() == "" {
		p.high -= 14
	}
	return p
}

// svg closes the drawing.
func (p *plot) svg() Markup {
	parts := []Part{Class("plot"), Attr("viewBox", "0 0 "+number(plotWide)+" "+number(math.Ceil(p.high))), Attr("role", "img")}
	title, desc := []Part{Text(p.title)}, []Part{Text(p.desc)}
	if p.id != "" {
		parts = append(parts, Attr("aria-labelledby", p.id+"-title"), Attr("aria-describedby", p.id+"-desc"))
		title, desc = append(title, ID(p.id+"-title")), append(desc, ID(p.id+"-desc"))
	} else {
		parts = append(parts, Attr("aria-label", p.title+". "+p.desc))
	}
	return El("svg", append(parts, El("title", title...), El("desc", desc...), Markup{html: p.b.String()})...)
}

// A Chart is drawn, has a key where one is needed, and a table behind it.
type Chart interface {
	SVG() Markup   // the picture alone
	Key() Markup   // the names of what stands in it
	Table() Markup // what it shows, in figures
	heading() string
}

// Figure is a chart with its title, its key and the table behind it.
func Figure(c Chart) Markup {
	table := "Table: " + c.heading()
	return Join(El("figure", Class("plot"), El("figcaption", Text(c.heading())), El("div", Class("drawing"), Drawing(c)),
		El("details", El("summary", Text(table)), El("div", Class("scroll"), Attr("tabindex", "0"), Attr("role", "region"), Attr("aria-label", table), c.Table()))), Line)
}

// Drawing is what stands in a figure above the table.
func Drawing(c Chart) Markup { return Join(c.SVG(), c.Key()) }

// keyItem is a line of a key: a piece of what stands in the drawing, and its name.
func keyItem(piece Markup, name string) Markup {
	return El("li", El("svg", Class("plot"), Attr("viewBox", "0 0 32 12"), Attr("aria-hidden", "true"), piece), El("span", Text(name)))
}

// swatch is a filled piece of a key.
func swatch(class string) Markup {
	return El("rect", Class(class), Attr("width", "32"), Attr("height", "12"))
}

// finite are the least and the largest of the numbers that are numbers; ok is false where there is none.
func finite(least, most float64, list ...float64) (float64, float64, bool) {
	for _, v := range list {
		if !math.IsNaN(v) && !math.IsInf(v, 0) {
			least, most = min(least, v), max(most, v)
		}
	}
	return least, most, least <= most
}
