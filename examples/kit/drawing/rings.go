package drawing

import (
	"bytes"
	"fmt"
	"math"

	"example.com/closefit/clearance"
	"example.com/closefit/examples/kit/page"
	"example.com/closefit/units"
)

// Sizes of a drawing of rings, in its own units.
const (
	ringsOuter  = 230.0 // of the piston's edge
	ringsStep   = 30.0  // from one ring to the next
	arcOuter    = ringsOuter + 22
	gapRadius   = 12.0
	letterApart = 18.0 // from an arc to its letter
)

// OfRings returns a drawing of where the gaps of a piston's rings stand, seen from above,
// with the arcs where none may stand. The angles are counted clockwise from the mark, which
// is at the top; at has one for each ring of the layout. The topmost ring is the outermost
// circle.
func OfRings(layout clearance.RingLayout, at []units.Angle, mark string) Drawing {
	const on = "ring gaps, from above"
	s := &sheet{page: sheetWidth}
	y := sheetMargin + lineHeight
	s.text(sheetMargin, y, 16, "bold", on)
	cx, cy := sheetWidth/2, y+lineHeight+arcOuter+2*letterApart
	circle := func(r float64, stroke string) {
		fmt.Fprintf(&s.b, `<circle cx="%.1f" cy="%.1f" r="%.1f" fill="none" stroke="%s"/>`+"\n", cx, cy, r, stroke)
	}
	circle(ringsOuter, "black")
	for i, a := range layout.Forbidden {
		arc(&s.b, cx, cy, a)
		x, dy := around360(cx, cy, arcOuter+letterApart, degrees(a.Centre))
		s.middle(x, dy, 13, letter(i))
	}
	fmt.Fprintf(&s.b, `<path d="M%.1f %.1fl-8 -14h16z" fill="black"/>`+"\n", cx, cy-ringsOuter)
	for i := range layout.Rings {
		r := ringsOuter - ringsStep*float64(i+1)
		circle(r, "#666")
		if i < len(at) {
			x, dy := around360(cx, cy, r, degrees(at[i]))
			fmt.Fprintf(&s.b, `<circle cx="%.1f" cy="%.1f" r="%.1f" fill="white" stroke="black" stroke-width="2"/>`+"\n", x, dy, gapRadius)
			s.middle(x, dy, 13, fmt.Sprint(i+1))
		}
	}
	y = cy + arcOuter + 2*letterApart + lineHeight
	legend := []string{fmt.Sprintf("The black mark is %s. Angles are clockwise from it, seen from above.", mark)}
	for i, ring := range layout.Rings {
		if i < len(at) {
			legend = append(legend, fmt.Sprintf("%d: %s, %s", i+1, ring, at[i]))
		}
	}
	for i, a := range layout.Forbidden {
		legend = append(legend, fmt.Sprintf("%s: no gap, %s, %s ± %s", letter(i), a.Name, a.Centre, a.Reach))
	}
	for _, entry := range append(legend, "The engine maker's manual comes first.") {
		for _, line := range page.Wrap(entry, letters) {
			s.text(sheetMargin, y, 12, "normal", line)
			y += lineHeight
		}
	}
	return Drawing{On: on, SVG: s.element(on, y+sheetMargin-lineHeight)}
}

// degrees is an angle for paper.
func degrees(a units.Angle) float64 { return a.Float64(units.Degree) }

// around360 is a point on a circle, clockwise from the top.
func around360(cx, cy, r, degree float64) (x, y float64) {
	sin, cos := math.Sincos(degree * math.Pi / 180)
	return cx + r*sin, cy - r*cos
}

// arc draws where no gap may stand, outside the piston's edge.
func arc(b *bytes.Buffer, cx, cy float64, a clearance.Arc) {
	from, to := degrees(a.Centre)-degrees(a.Reach), degrees(a.Centre)+degrees(a.Reach)
	large := 0
	if to-from > 180 {
		large = 1
	}
	x1, y1 := around360(cx, cy, ringsOuter, from)
	x2, y2 := around360(cx, cy, arcOuter, from)
	x3, y3 := around360(cx, cy, arcOuter, to)
	x4, y4 := around360(cx, cy, ringsOuter, to)
	fmt.Fprintf(b, `<path d="M%.1f %.1fL%.1f %.1fA%.1f %.1f 0 %d 1 %.1f %.1fL%.1f %.1fA%.1f %.1f 0 %d 0 %.1f %.1fz" fill="#bbb" stroke="black"/>`+"\n",
		x1, y1, x2, y2, arcOuter, arcOuter, large, x3, y3, x4, y4, ringsOuter, ringsOuter, large, x1, y1)
}

// middle writes a text about a point.
func (s *sheet) middle(x, y float64, size int, text string) {
	fmt.Fprintf(&s.b, `<text x="%.1f" y="%.1f" font-size="%d" text-anchor="middle" dominant-baseline="central">%s</text>`+"\n", x, y, size, escaped(text))
}
