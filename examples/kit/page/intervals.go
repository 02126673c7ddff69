package page

import (
	"cmp"
	"math"
)

// Intervals are readings over their limits, one below another on one scale.
type Intervals struct {
	ID          string // of the drawing; unique in the page
	Title, Desc string
	X           Axis
	Rows        []Interval

	Read, Limit string // what the bars and the shaded ranges are called; without them reading and limits
}

// An Interval is a reading with its limits. An end that is infinite is none: it is drawn as an arrow.
type Interval struct {
	Name    string
	Reading Span   // NaN at both ends where nothing was read
	Limits  Span   // the zero value is none
	Reads   string // the reading in words
	Limited string // the limits in words
	Verdict string
}

// says is a row in words.
func (r Interval) says() string {
	text := r.Name
	for _, more := range []string{r.Reads, r.Verdict} {
		if more != "" {
			text += ": " + more
		}
	}
	return text
}

// SVG draws the chart alone.
func (c Intervals) SVG() Markup {
	desc := c.Desc
	if desc == "" {
		for i, r := range c.Rows {
			if i > 0 {
				desc += "; "
			}
			desc += r.says()
		}
	}
	p := newPlot(c.ID, c.Title, desc, c.X)
	p.top = 4
	from, to := math.Inf(1), math.Inf(-1)
	for _, r := range c.Rows {
		from, to, _ = finite(from, to, r.Reading.From, r.Reading.To)
		if r.Limits != (Span{}) {
			from, to, _ = finite(from, to, r.Limits.From, r.Limits.To)
		}
	}
	if from > to {
		from, to = 0, 1
	}
	from, to = widened(from, to)
	edge := (to - from) / 20 // so that an end is seen to be one
	p.fromX, p.toX = c.X.with(from-edge, to+edge)
	y := p.top
	for _, r := range c.Rows {
		for _, l := range Wrap(r.says(), int((p.end-p.left)/letterWide)) {
			y += letterHigh + 3
			p.text("", p.left, y, l)
		}
		y += 4
		p.rect("scale", p.left, y, p.end-p.left, 12)
		if r.Limits != (Span{}) {
			p.span("limits", r.Limits, y, 12)
		}
		if s := r.Reading; s.From <= s.To && !math.IsInf(s.From, 1) && !math.IsInf(s.To, -1) {
			p.span("reading", s, y+4, 4)
			if math.IsInf(s.From, -1) {
				var arrow outline
				arrow.to("M", p.left-8, y+6)
				arrow.to("l8 -5v10z")
				p.add(arrow.path("reading"))
			} else {
				p.rect("reading", p.x(s.From)-0.7, y+1, 1.4, 10)
			}
			if math.IsInf(s.To, 1) {
				var arrow outline
				arrow.to("M", p.end+8, y+6)
				arrow.to("l-8 -5v10z")
				p.add(arrow.path("reading"))
			} else {
				p.rect("reading", p.x(s.To)-0.7, y+1, 1.4, 10)
			}
		}
		y += 16
	}
	p.foot = y
	p.high = p.foot + 24
	if c.X.head() != "" {
		p.high += 14
	}
	p.xAxis(c.X)
	return p.svg()
}

func (c Intervals) heading() string { return c.Title }

// named is what the bars and the shaded ranges are called.
func (c Intervals) named() (read, limit string) {
	return cmp.Or(c.Read, "reading"), cmp.Or(c.Limit, "limits")
}

// Key names the bars and the shaded ranges.
func (c Intervals) Key() Markup {
	read, limit := c.named()
	return El("ul", Class("key"), keyItem(swatch("limits"), limit), keyItem(swatch("reading"), read))
}

// Table has a row for each reading.
func (c Intervals) Table() Markup {
	var rows [][]string
	for _, r := range c.Rows {
		rows = append(rows, []string{r.Name, cmp.Or(r.Reads, "not measured"), cmp.Or(r.Limited, "none"), cmp.Or(r.Verdict, "-")})
	}
	read, limit := c.named()
	return Table("", "", []string{"", read, limit, "verdict"}, rows)
}

// Density is a density over its quantity. What lies between the limits is filled, and what lies outside is hatched.
type Density struct {
	ID              string // of the drawing; unique in the page
	Title, Desc     string
	X               Axis
	Curve           Series
	Limits          Span
	Inside, Outside string // how much lies there, in words
}

// SVG draws the chart alone.
func (c Density) SVG() Markup {
	desc := c.Desc
	if desc == "" {
		desc = "Inside the limits: " + c.Inside + ". Outside: " + c.Outside + "."
	}
	p := newPlot(c.ID, c.Title, desc, c.X)
	fromX, toX, ok := finite(math.Inf(1), math.Inf(-1), c.Curve.X...)
	_, most, _ := finite(0, 0, c.Curve.Y...)
	if !ok || most == 0 {
		p.fromX, p.toX = 0, 1
		p.text("middle", plotWide/2, plotHigh/2, "nothing to draw")
		return p.svg()
	}
	p.fromX, p.toX, _ = finite(fromX, toX, c.Limits.From, c.Limits.To)
	p.fromX, p.toX = c.X.with(p.fromX, p.toX)
	p.lowY, p.toY = 0, 1.05*most
	p.rect("scale", p.left, p.top, p.end-p.left, p.foot-p.top)
	p.add(c.under(p, max(c.Limits.From, fromX), min(c.Limits.To, toX)).path("limits"))
	var hatch outline
	for x := p.left + 2; x < p.end; x += 4 { // a line each four units, where it is outside
		v := p.fromX + (x-p.left)/(p.end-p.left)*(p.toX-p.fromX)
		if y := c.at(v); y > 0 && (v < c.Limits.From || v > c.Limits.To) {
			hatch.to("M", x, p.foot)
			hatch.to("V", p.y(y))
		}
	}
	if hatch != nil {
		p.add(hatch.path("hatch"))
	}
	for _, at := range []float64{c.Limits.From, c.Limits.To} {
		if !math.IsInf(at, 0) {
			var line outline
			line.to("M", p.x(at), p.top)
			line.to("V", p.foot)
			p.add(line.path("limit"))
		}
	}
	p.add(c.Curve.outline(p).path("curve d0"))
	p.xAxis(c.X)
	return p.svg()
}

// at is the curve between its points.
func (c Density) at(v float64) float64 {
	for k := 1; k < len(c.Curve.X); k++ {
		if a, b := c.Curve.X[k-1], c.Curve.X[k]; a <= v && v <= b && b > a {
			return c.Curve.Y[k-1] + (v-a)/(b-a)*(c.Curve.Y[k]-c.Curve.Y[k-1])
		}
	}
	return 0
}

// under is the outline of what lies under the curve between two places.
func (c Density) under(p *plot, from, to float64) (shape outline) {
	if from > to {
		return nil
	}
	shape.to("M", p.x(from), p.foot)
	shape.to("V", p.y(c.at(from)))
	for k, x := range c.Curve.X {
		if from < x && x < to {
			shape.to("L", p.x(x), p.y(c.Curve.Y[k]))
		}
	}
	shape.to("L", p.x(to), p.y(c.at(to)))
	shape.to("V", p.foot)
	shape.to("Z")
	return shape
}

func (c Density) heading() string { return c.Title }

// Key says how much lies inside the limits and how much outside.
func (c Density) Key() Markup {
	return El("ul", Class("key"), keyItem(swatch("limits"), "inside the limits: "+c.Inside), keyItem(El("path", Class("hatch"), Attr("d", "M2 12V0M6 12V0M10 12V0M14 12V0M18 12V0M22 12V0M26 12V0M30 12V0")), "outside: "+c.Outside))
}

// Table has the points of the curve.
func (c Density) Table() Markup { return Lines{X: c.X, Lines: []Series{c.Curve}}.Table() }
