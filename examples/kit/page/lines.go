package page

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
)

// Lines are quantities over one quantity.
type Lines struct {
	ID          string // of the drawing; unique in the page
	Title, Desc string // Desc says what is seen; without one it is the ends of each line
	X, Y        Axis
	Lines       []Series // one after another told apart by dashes and by a letter at the end
	Limits      Span     // shaded; the zero value is none
	LimitsName  string
	Readings    []Span // shaded darker
	Empty       string // said where there is no line at all
	FromZero    bool   // whether the scale of Y begins at zero
}

// A Series is points from left to right. A Y that is not a number is a gap.
type Series struct {
	Name string
	X, Y []float64
	Mark bool // a line that shows a place and is no quantity: the table and the description leave it out
}

// curves are the classes of lines, told apart by their dashes.
var curves = [...]constant{"curve d0", "curve d1", "curve d2", "curve d3", "curve d4", "curve d5"}

// letterOf names a line at its end and in the key.
func letterOf(i int) string { return string(rune('a' + i%26)) }

// scales are the ends of x, and those of y.
func (c Lines) scales() (fromX, toX, fromY, toY float64, any bool) {
	fromX, toX, fromY, toY = math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, s := range c.Lines {
		fromX, toX, _ = finite(fromX, toX, s.X...)
		fromY, toY, any = finite(fromY, toY, s.Y...)
	}
	if c.FromZero {
		fromY = min(fromY, 0)
	}
	if fromX > toX {
		fromX, toX = 0, 1
	}
	fromX, toX = c.X.with(widened(fromX, toX))
	return fromX, toX, fromY, toY, any
}

// SVG draws the chart alone.
func (c Lines) SVG() Markup {
	desc := c.Desc
	if desc == "" {
		desc = c.described()
	}
	p := newPlot(c.ID, c.Title, desc, c.X)
	fromX, toX, fromY, toY, any := c.scales()
	p.fromX, p.toX = fromX, toX
	if len(c.Lines) > 1 {
		p.end -= 12
	}
	var ticks []Tick
	if any {
		fromY, toY = widened(fromY, toY)
		ticks = p.yAxis(c.Y, fromY, toY)
	}
	p.rect("scale", p.left, p.top, p.end-p.left, p.foot-p.top)
	if c.Limits != (Span{}) {
		p.span("limits", c.Limits, p.top, p.foot-p.top)
	}
	for _, s := range c.Readings {
		p.span("read", s, p.top, p.foot-p.top)
	}
	for _, s := range c.Readings {
		p.span("reading", s, p.foot-4, 4)
	}
	p.grid(c.Y, ticks)
	if !any {
		p.text("middle", (p.left+p.end)/2, (p.top+p.foot)/2, cmp.Or(c.Empty, "nothing to draw"))
	}
	type ending struct {
		letter string
		y      float64
	}
	var endings []ending
	for i, s := range c.Lines {
		last := math.NaN()
		for k, v := range s.Y {
			if !math.IsNaN(v) && !math.IsInf(v, 0) && !math.IsNaN(s.X[k]) {
				last = v
			}
		}
		p.add(s.outline(p).path(curves[i%len(curves)]))
		if !math.IsNaN(last) && !s.Mark { // a mark stands where it stands, and has no end to write at
			endings = append(endings, ending{letterOf(i), p.y(last) + 4})
		}
	}
	if len(c.Lines) > 1 {
		slices.SortStableFunc(endings, func(a, b ending) int { return cmp.Compare(a.y, b.y) })
		for i := range endings { // apart, from the top down, then up from the foot
			endings[i].y = max(endings[i].y, p.top+letterHigh*float64(i)+4)
			if i > 0 {
				endings[i].y = max(endings[i].y, endings[i-1].y+letterHigh)
			}
		}
		for i := len(endings) - 1; i >= 0; i-- {
			below := p.foot + letterHigh
			if i < len(endings)-1 {
				below = endings[i+1].y
			}
			endings[i].y = min(endings[i].y, below-letterHigh)
			p.text("", p.end+4, endings[i].y, endings[i].letter)
		}
	}
	p.xAxis(c.X)
	return p.svg()
}

// placesX is how many decimals of x are written: none of counts.
func (c Lines) placesX(wide float64) int {
	for _, s := range c.Lines {
		if !s.Mark && slices.ContainsFunc(s.X, func(x float64) bool { return x != math.Trunc(x) }) {
			return placesFor(wide)
		}
	}
	return 0
}

// described says where each line begins and ends.
func (c Lines) described() string {
	var parts []string
	_, _, fromY, toY, any := c.scales()
	if !any {
		return cmp.Or(c.Empty, "nothing to draw")
	}
	fromX, toX, _, _, _ := c.scales()
	x, y := c.placesX(toX-fromX), placesFor(toY-fromY)
	unit := func(a Axis) string {
		if a.Unit == "" {
			return ""
		}
		return " " + a.Unit
	}
	for _, s := range c.Lines {
		if s.Mark {
			continue
		}
		first, last := -1, -1
		for k, v := range s.Y {
			if !math.IsNaN(v) && !math.IsInf(v, 0) {
				if first < 0 {
					first = k
				}
				last = k
			}
		}
		if first < 0 {
			continue
		}
		name := s.Name
		if name != "" {
			name += ": "
		}
		parts = append(parts, fmt.Sprintf("%s%s%s at %s%s, %s%s at %s%s", name, decimal(s.Y[first], y), unit(c.Y), decimal(s.X[first], x), unit(c.X),
			decimal(s.Y[last], y), unit(c.Y), decimal(s.X[last], x), unit(c.X)))
	}
	return strings.Join(parts, "; ")
}

// Key names the lines and what is shaded.
func (c Lines) Key() Markup {
	var items []Part
	if len(c.Lines) > 1 {
		for i, s := range c.Lines {
			label := s.Name
			if !s.Mark {
				label = letterOf(i) + "  " + label
			}
			items = append(items, keyItem(El("path", Class(string(curves[i%len(curves)])), Attr("d", "M0 6H32")), label))
		}
	}
	if c.Limits != (Span{}) {
		items = append(items, keyItem(swatch("limits"), cmp.Or(c.LimitsName, "limits")))
	}
	if len(c.Readings) > 0 {
		items = append(items, keyItem(swatch("reading"), "readings"))
	}
	if items == nil {
		return Markup{}
	}
	return El("ul", append([]Part{Class("key")}, items...)...)
}

// rowsShown is how many rows a table behind lines has at the most.
const rowsShown = 40

func (c Lines) heading() string { return c.Title }

// Table is one of all lines where they have the same places, and else one of each.
func (c Lines) Table() Markup {
	fromX, toX, fromY, toY, any := c.scales()
	px, py := c.placesX(toX-fromX), 0
	if any {
		py = placesFor(toY - fromY)
	}
	number := func(v float64, places int) string {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return "-"
		}
		return decimal(v, places)
	}
	var tables []Part
	every := func(n int) int { return max(1, (n+rowsShown-1)/rowsShown) }
	caption := func(name string, n int) string {
		if n <= 1 {
			return name
		}
		return strings.TrimPrefix(fmt.Sprintf("%s, one point of %d", name, n), ", ")
	}
	xHead := cmp.Or(c.X.head(), "x")
	lettered := len(c.Lines) > 1
	if c.Lines = slices.DeleteFunc(slices.Clone(c.Lines), func(s Series) bool { return s.Mark }); len(c.Lines) > 0 && !slices.ContainsFunc(c.Lines, func(s Series) bool { return !slices.Equal(s.X, c.Lines[0].X) }) {
		heads := []string{xHead}
		for i, s := range c.Lines {
			name := cmp.Or(s.Name, c.Y.head())
			if lettered {
				name = letterOf(i) + "  " + name
			}
			heads = append(heads, name)
		}
		xs := c.Lines[0].X
		n := every(len(xs))
		var rows [][]string
		for k, x := range xs {
			if k%n != 0 && k != len(xs)-1 {
				continue
			}
			row := []string{number(x, px)}
			for _, s := range c.Lines {
				row = append(row, number(s.Y[k], py))
			}
			rows = append(rows, row)
		}
		tables = append(tables, Table("", caption(c.Y.head(), n), heads, rows))
	} else {
		for i, s := range c.Lines {
			n := every(len(s.X))
			var rows [][]string
			for k, x := range s.X {
				if k%n == 0 || k == len(s.X)-1 {
					rows = append(rows, []string{number(x, px), number(s.Y[k], py)})
				}
			}
			tables = append(tables, Table("", caption(letterOf(i)+"  "+s.Name, n), []string{xHead, cmp.Or(c.Y.head(), "y")}, rows))
		}
	}
	return Join(tables...)
}
