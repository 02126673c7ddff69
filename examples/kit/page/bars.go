package page

import (
	"cmp"
	"fmt"
	"math"
)

// A Histogram is how much lies between edges, standing on its axis.
type Histogram struct {
	ID          string // of the drawing; unique in the page
	Title, Desc string
	X, Y        Axis
	Edges       []float64 // one more than Heights, rising
	Heights     []float64 // none is negative
	Limits      Span      // shaded; the zero value is none
	LimitsName  string
	Bars        string  // what the key calls the bars; empty for the name of Y
	Over        *Series // a curve over it, such as a density
}

// SVG draws the chart alone.
func (c Histogram) SVG() Markup {
	most, at := 0.0, 0
	for i, h := range c.Heights {
		if h > most {
			most, at = h, i
		}
	}
	desc := c.Desc
	places := 3
	if n := len(c.Edges); n > 1 {
		places = placesFor(c.Edges[n-1] - c.Edges[0])
	}
	if desc == "" && most > 0 {
		desc = fmt.Sprintf("%d bars from %s to %s; the highest, %s, from %s to %s.", len(c.Heights), decimal(c.Edges[0], places), decimal(c.Edges[len(c.Edges)-1], places),
			decimal(most, placesFor(most)), decimal(c.Edges[at], places), decimal(c.Edges[at+1], places))
	}
	p := newPlot(c.ID, c.Title, desc, c.X)
	if c.Over != nil {
		_, most, _ = finite(0, most, c.Over.Y...)
	}
	if len(c.Heights) == 0 || most == 0 {
		p.fromX, p.toX = 0, 1
		p.text("middle", plotWide/2, plotHigh/2, "nothing to draw")
		return p.svg()
	}
	p.fromX, p.toX = c.Edges[0], c.Edges[len(c.Edges)-1]
	if c.Over != nil {
		p.fromX, p.toX, _ = finite(p.fromX, p.toX, c.Over.X...)
	}
	if c.Limits != (Span{}) { // seen, with a little beyond
		p.fromX, p.toX, _ = finite(p.fromX, p.toX, c.Limits.From, c.Limits.To)
	}
	p.fromX, p.toX = c.X.with(p.fromX, p.toX)
	ticks := p.yAxis(c.Y, 0, most)
	p.rect("scale", p.left, p.top, p.end-p.left, p.foot-p.top)
	if c.Limits != (Span{}) {
		p.span("limits", c.Limits, p.top, p.foot-p.top)
	}
	p.grid(c.Y, ticks)
	var bars outline // one shape: a browser draws it much sooner than as many
	for i, h := range c.Heights {
		if from, to := p.x(c.Edges[i]), p.x(c.Edges[i+1]); h > 0 {
			bars.to("M", from, p.foot)
			bars.to("V", p.y(h))
			bars.to("H", max(to, from+0.2))
			bars.to("V", p.foot)
			bars.to("z")
		}
	}
	p.add(bars.path("bar"))
	if c.Over != nil {
		p.add(c.Over.outline(p).path("curve d0"))
	}
	p.xAxis(c.X)
	return p.svg()
}

// outline is a series as a line, with its gaps.
func (s Series) outline(p *plot) (line outline) {
	command := constant("M")
	for k, v := range s.Y {
		if math.IsNaN(v) || math.IsInf(v, 0) || math.IsNaN(s.X[k]) {
			command = "M"
			continue
		}
		line.to(command, p.x(s.X[k]), p.y(v))
		command = "L"
	}
	return line
}

// Key names what stands in the drawing.
func (c Histogram) Key() Markup {
	var items []Part
	if c.Over != nil {
		items = append(items, keyItem(swatch("bar"), cmp.Or(c.Bars, c.Y.Name, "number")), keyItem(El("path", Class("curve d0"), Attr("d", "M0 6H32")), c.Over.Name))
	}
	if c.Limits != (Span{}) {
		items = append(items, keyItem(swatch("limits"), cmp.Or(c.LimitsName, "limits")))
	}
	if items == nil {
		return Markup{}
	}
	return El("ul", append([]Part{Class("key")}, items...)...)
}

func (c Histogram) heading() string { return c.Title }

// Table has a row for each bar.
func (c Histogram) Table() Markup {
	var rows [][]string
	if n := len(c.Edges); n > 1 {
		places := placesFor((c.Edges[n-1] - c.Edges[0]))
		_, most, _ := finite(0, 0, c.Heights...)
		whole := placesFor(most)
		for _, h := range c.Heights {
			if h != math.Trunc(h) {
				whole = max(whole, placesFor(most)+1)
				break
			}
			whole = 0
		}
		for i, h := range c.Heights {
			rows = append(rows, []string{decimal(c.Edges[i], places) + ".." + decimal(c.Edges[i+1], places), decimal(h, whole)})
		}
	}
	return Table("", "", []string{cmp.Or(c.X.head(), "from..to"), cmp.Or(c.Y.head(), "number")}, rows)
}

// Bars are amounts with names, one below another.
type Bars struct {
	ID          string // of the drawing; unique in the page
	Title, Desc string
	X           Axis
	Bars        []Bar
}

// A Bar is an amount with its name. Says stands beside it; without one it is the amount.
type Bar struct {
	Name  string
	Value float64
	Says  string
}

// says is the amount in words.
func (c Bars) says(b Bar) string {
	if b.Says != "" {
		return b.Says
	}
	if math.IsNaN(b.Value) || math.IsInf(b.Value, 0) {
		return "-"
	}
	_, most, _ := finite(0, 0, c.values()...)
	text := decimal(b.Value, placesFor(most))
	if c.X.Unit != "" {
		text += " " + c.X.Unit
	}
	return text
}

func (c Bars) values() (list []float64) {
	for _, b := range c.Bars {
		list = append(list, b.Value)
	}
	return list
}

// SVG draws the chart alone.
func (c Bars) SVG() Markup {
	desc := c.Desc
	if desc == "" {
		for i, b := range c.Bars {
			if i > 0 {
				desc += "; "
			}
			desc += b.Name + ": " + c.says(b)
		}
	}
	p := newPlot(c.ID, c.Title, desc, c.X)
	from, to, _ := finite(0, 0, c.values()...)
	if from == to {
		to = 1
	}
	from, to = c.X.with(from, to)
	ticks := around(from, to, 5)
	p.fromX, p.toX, p.top = ticks[0].At, ticks[len(ticks)-1].At, 4
	y := p.top
	rows := plot{left: p.left, end: p.end, fromX: p.fromX, toX: p.toX}
	for _, b := range c.Bars {
		for _, l := range Wrap(b.Name+": "+c.says(b), int((p.end-p.left)/letterWide)) {
			y += letterHigh + 3
			rows.text("", p.left, y, l)
		}
		y += 4
		if v := b.Value; !math.IsNaN(v) && !math.IsInf(v, 0) {
			a, z := rows.x(min(v, 0)), rows.x(max(v, 0))
			rows.rect("bar", a, y, max(z-a, leastMarked), 9)
		}
		y += 12
	}
	p.foot = y + 4
	p.high = p.foot + 24
	if c.X.head() != "" {
		p.high += 14
	}
	for _, t := range ticks {
		var line outline
		line.to("M", p.x(t.At), p.top)
		line.to("V", p.foot)
		p.add(line.path("grid"))
	}
	p.b.WriteString(rows.b.String())
	c.X.Ticks = ticks
	p.xAxis(c.X)
	return p.svg()
}

func (c Bars) heading() string { return c.Title }

// Key is empty: each bar has its name.
func (c Bars) Key() Markup { return Markup{} }

// Table has a row for each bar.
func (c Bars) Table() Markup {
	var rows [][]string
	for _, b := range c.Bars {
		rows = append(rows, []string{b.Name, c.says(b)})
	}
	return Table("", "", []string{"", cmp.Or(c.X.head(), "amount")}, rows)
}
