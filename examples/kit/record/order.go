package record

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"unicode/utf8"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/page"
)

// Sizes of a drawing of an order, in its own units: where there is room, bolts stand 30 or more
// apart across, as their names need, and 38 down.
const (
	orderWidth   = 280.0
	orderTallest = 400.0
	across       = 30.0
	down         = 38.0
	boltRadius   = 11.0
	nameLetter   = 5.2 // of a letter below a bolt
	perRem       = 11.0
)

// spot is where a bolt is drawn, from the top left.
type spot struct {
	job.Bolt
	x, y float64
}

// spots place the bolts of a group, and say how wide the place of each is, and how far apart they
// stand in parts of what they need. A pattern of rows and columns is drawn as a scheme, its rows evenly apart; a plain
// row that is long goes on in the next line, and caps that are finished one by one stand in a row;
// any other pattern is drawn as it is.
func spots(p job.Pulls) (list []spot, wide, apart float64) {
	bolts := p.Bolts
	columns, lines := ranks(bolts, func(b job.Bolt) float64 { return b.X }), ranks(bolts, func(b job.Bolt) float64 { return b.Y })
	scheme := len(columns)*len(lines) <= 2*len(bolts)
	letters := 0
	for _, b := range bolts {
		letters = max(letters, utf8.RuneCountInString(b.Name))
	}
	wide = across
	if scheme || len(lines) == 1 {
		wide = min(max(wide, nameLetter*float64(letters)+4), orderWidth/2)
	}
	inLine := int(orderWidth / wide)
	inRow := p.CapByCap && scheme && len(columns) <= inLine
	if inRow {
		inLine -= inLine % len(columns)
	}
	if len(lines) > 1 && scheme && len(columns) > inLine {
		wide = max(across, orderWidth/float64(len(columns)))
	}
	for i, b := range bolts {
		s := spot{Bolt: b, x: b.X - columns[0], y: b.Y - lines[0]}
		switch {
		case len(lines) == 1 || inRow:
			s.x, s.y = float64(i%inLine)*wide, float64(i/inLine)*down
		case scheme:
			column, _ := slices.BinarySearch(columns, b.X)
			line, _ := slices.BinarySearch(lines, b.Y)
			s.x, s.y = float64(column)*wide, float64(line)*down
		}
		list = append(list, s)
	}
	if nearest := nearest(list); nearest > 0 && !scheme && len(lines) > 1 {
		for i := range list {
			list[i].x, list[i].y = list[i].x/nearest, list[i].y/nearest
		}
	}
	shrink := 1.0
	for _, s := range list {
		shrink = min(shrink, (orderWidth-wide)/max(1, s.x), (orderTallest-down)/max(1, s.y))
	}
	for i := range list {
		list[i].x, list[i].y = list[i].x*shrink+wide/2, list[i].y*shrink+across/2
	}
	return list, wide, shrink
}

// ranks are the different coordinates of the bolts, from the smallest.
func ranks(bolts []job.Bolt, of func(job.Bolt) float64) []float64 {
	var all []float64
	for _, b := range bolts {
		all = append(all, of(b))
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// nearest is how near two bolts come to each other, in parts of what they need.
func nearest(list []spot) float64 {
	least := math.Inf(1)
	for i, a := range list {
		for _, b := range list[i+1:] {
			if d := max(math.Abs(a.x-b.x)/across, math.Abs(a.y-b.y)/down); d > 0 {
				least = min(least, d)
			}
		}
	}
	if math.IsInf(least, 1) {
		return 0
	}
	return least
}

// orderSVG draws the order of a group's bolts: the place of each in a disc, with its name
// below. Those that must not be tightened yet are filled.
func orderSVG(p job.Pulls) (svg page.Markup, width, height float64) {
	list, wide, apart := spots(p)
	place := map[string]int{}
	for i, bolt := range p.Stages[0].Order {
		place[bolt] = i + 1
	}
	radius := boltRadius * apart
	letters := 0
	for _, s := range list {
		letters = max(letters, utf8.RuneCountInString(s.Name))
	}
	nameSize := min(0.9*radius, 1.7*wide*apart/float64(letters+1))
	drawn := []page.Part{caps(list, wide*apart, radius)}
	for _, s := range list {
		class := "bolt"
		if slices.ContainsFunc(p.Held, func(h job.Held) bool { return slices.Contains(h.Bolts, s.Name) }) {
			class = "bolt held"
		}
		width, height = max(width, s.x+wide/2), max(height, s.y+down-across/2+6)
		drawn = append(drawn, page.El("g", page.Class(class),
			page.El("circle", page.Number("cx", s.x), page.Number("cy", s.y), page.Number("r", radius)),
			page.El("text", page.Class("place"), page.Number("x", s.x), page.Number("y", s.y+0.37*radius), page.Number("font-size", 1.05*radius), page.Text(strconv.Itoa(place[s.Name]))),
			page.El("text", page.Number("x", s.x), page.Number("y", s.y+1.95*radius), page.Number("font-size", nameSize), page.Text(s.Name))))
	}
	return page.Join(drawn...), width, height
}

// caps draws what the bolts hold down.
func caps(list []spot, wide, radius float64) page.Markup {
	var parts []string
	for _, s := range list {
		if s.Part != "" && !slices.Contains(parts, s.Part) {
			parts = append(parts, s.Part)
		}
	}
	side := max(1.25*radius, wide/2-2)
	return page.Each(parts, func(part string) page.Markup {
		left, right, top, bottom := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
		for _, s := range list {
			if s.Part == part {
				left, right, top, bottom = min(left, s.x), max(right, s.x), min(top, s.y), max(bottom, s.y)
			}
		}
		return page.El("rect", page.Class("cap"), page.Number("x", left-side), page.Number("y", top-1.2*radius), page.Number("width", right-left+2*side), page.Number("height", bottom-top+3.3*radius), page.Attr("rx", "3"))
	})
}

// orderAlone is the drawing as an element of a page.
func orderAlone(p job.Pulls) page.Markup {
	svg, width, height := orderSVG(p)
	return page.El("svg", page.Class("order"), page.Attr("viewBox", fmt.Sprintf("0 0 %.0f %.0f", width, height)), page.Width(width/perRem), page.Attr("role", "img"), page.Attr("aria-label", "The order of the "+p.Group), svg)
}
