package drawing

import (
	"fmt"
	"math"
	"strings"

	"example.com/closefit/examples/kit/page"
)

// The pictures of where to measure.
const (
	Bore     = "bore"
	Journal  = "journal"
	Cylinder = "cylinder"
	Piston   = "piston"
	Ring     = "ring"
	Strip    = "strip"
	EndPlay  = "end play"
	SidePlay = "side play"
	Wall     = "wall"
)

// A Figure shows where to measure: in which planes, A, B and C, and in which directions, 1,
// 2 and 3 (common practice, no source).
type Figure struct {
	Name string
	Says string // what the letters and figures in it are
	Text string // in plain characters, at most 72 wide
	SVG  page.Markup
}

// Where returns the picture of a name; ok is false if there is none.
func Where(name string) (f Figure, ok bool) {
	for _, f := range figures {
		if f.Name == name {
			f.Text = strings.Trim(f.Text, "\n")
			f.SVG = svgOf(f.Name, f.Says)
			return f, true
		}
	}
	return Figure{}, false
}

var figures = []Figure{
	{Name: Bore, Says: "A front, B rear; 1 square to the parting line, 2 and 3 60° to either side of it", Text: `
         along its axis                     cut lengthwise
               1                             A         B
          3    |    2                    ____|_________|____
           .---+---.                         |         |
          /  \ | /  \                    - - | - - - - | - -
 parting |-----+-----| line              ____|_________|____
          \  / | \  /                        |         |
           '---+---'                       front     rear
`},
	{Name: Journal, Says: "A front, B rear, clear of the fillets; 1 in line with the throw, 2 square to it", Text: `
         along its axis                     from the side
               1                             A         B
           .---+---.                    |  __|_________|__  |
          /    |    \                   | /  |         |  \ |
       2 |-----+-----|                  |- - | - - - - | - -|
          \    |    /                   | \__|_________|__/ |
           '---+---'                    |    |         |    |
                                           front     rear
`},
	{Name: Cylinder, Says: "A near the top of the ring's travel, B in its middle, C at its foot; 1 along the crank, 2 across it", Text: `
         from above                         cut lengthwise
               2                          |           | deck
           .---+---.                    A |-----------|
          /    |    \                     |           |
   crank |-----+-----| 1                B |-----------|
          \    |    /                     |           |
           '---+---'                    C |-----------|
                                          |           |
`},
	{Name: Piston, Says: "A the maker's height, the gauge point; across the pin, where the skirt is widest", Text: `
         from the side                      from below
         .-----------.                         A
         |===========| rings               .---+---.
         |           |                    /    |    \
         |    (o)    | pin          pin =|=====|=====|=
       A |-----------|                    \    |    /
         |           |                     '---+---'
         '-----------'                         A
`},
	{Name: Ring, Says: "the ring square in its bore, pushed down with a piston; the blade in the gap between its ends", Text: `
         from above                         cut lengthwise
           .--] [--.  gap                 |           | deck
          /         \                     |           |
         |           |                    |===========| ring
          \         /                     |           |
           '-------'                      |           |
`},
	{Name: Strip, Says: "along the journal, at the crown and clear of the oil hole; read where it is widest and narrowest", Text: `
         along its axis                     from below, cap off
            ___cap___                      ________________
           /  strip  \                    |                |
          |  .--=--.  |                   |  ============  | strip
          | |journal| |                   |        o       | oil hole
          |  '-----'  |                   |________________|
`},
	{Name: EndPlay, Says: "the foot in line with the crank; lever it to one end, then to the other: the travel", Text: `
                 <---- lever ---->
          | |  main  | |  thrust | |  main  | |
        --| |========| |=========| |========| |---[]=( dial )
          | |        | |         | |        | |
`},
	{Name: SidePlay, Says: "rods pushed to one side of their pin; the blade between the rod and the cheek", Text: `
          cheek              cheek
           | |  ______  ______ | |
           | | | rod  || rod  || |<- blade
        ===| |=|======||======|| |===
           | | |______||______|| |
`},
	{Name: Wall, Says: "1 at the crown, a ball on the inside; 2, if the manual asks for it, where it says near the joint", Text: `
                 1
              .--+--.
            .'  ___  '.
           /  .'   '.  \
          2--+       +--2
`},
}

// A pen draws a picture.
type pen struct{ drawn page.Markup }

func (p *pen) add(m page.Markup) { p.drawn = page.Join(p.drawn, m) }

func (p *pen) line(x1, y1, x2, y2 float64, of look) {
	p.add(page.El("line", page.Number("x1", x1), page.Number("y1", y1), page.Number("x2", x2), page.Number("y2", y2), of.attributes()))
}

func (p *pen) box(x, y, w, h float64, of look) {
	p.add(page.El("rect", page.Number("x", x), page.Number("y", y), page.Number("width", w), page.Number("height", h), of.attributes()))
}

func (p *pen) round(x, y, r float64, of look) {
	p.add(page.El("circle", page.Number("cx", x), page.Number("cy", y), page.Number("r", r), of.attributes()))
}

func (p *pen) path(d string, of look) {
	p.add(page.El("path", page.Attr("d", d), of.attributes()))
}

func (p *pen) text(x, y float64, text string) {
	p.add(page.El("text", page.Number("x", x), page.Number("y", y), page.Attr("text-anchor", "middle"), page.Text(text)))
}

// across draws a direction through a centre: a line at an angle from upright, with its
// name at the upper end.
func (p *pen) across(x, y, r, degrees float64, name string) {
	dx, dy := r*math.Sin(degrees*math.Pi/180), -r*math.Cos(degrees*math.Pi/180)
	p.line(round1(x-dx), round1(y-dy), round1(x+dx), round1(y+dy), measured)
	p.text(round1(x+dx*1.28), round1(y+dy*1.28+5), name)
}

func round1(x float64) float64 { return math.Round(x*10) / 10 }

// A look is that of a line. Where a page's style knows its class, the page's colour counts.
type look struct{ class, fill, opacity, stroke, width, dashes string }

// The looks: of the part, of a middle line, and of what is measured.
var (
	edge     = look{fill: "none", stroke: "currentColor", width: "1.6"}
	middle   = look{stroke: "currentColor", width: "0.8", dashes: "7 3 2 3"}
	measured = look{class: "measured", stroke: "#0a5866", width: "2"}
	arrow    = look{class: "arrow", fill: "#0a5866"}
	solid    = look{fill: "currentColor", opacity: "0.14", stroke: "currentColor", width: "1.6"}
)

// as is the look with another width.
func (l look) as(width string) look {
	l.width = width
	return l
}

func (l look) attributes() page.Part {
	given := func(a page.Attribute, value string) page.Attribute {
		if value == "" {
			return page.Attribute{}
		}
		return a
	}
	return page.Attributes(given(page.Class(l.class), l.class), given(page.Attr("fill", l.fill), l.fill), given(page.Attr("fill-opacity", l.opacity), l.opacity),
		given(page.Attr("stroke", l.stroke), l.stroke), given(page.Attr("stroke-width", l.width), l.width), given(page.Attr("stroke-dasharray", l.dashes), l.dashes))
}

// svgOf draws the picture of a name.
func svgOf(name, says string) page.Markup {
	p := &pen{}
	const x, y, r = 95, 78, 46 // of what is seen along its axis
	planes := func(names string, at ...float64) {
		for i, n := range names {
			p.line(at[i], 46, at[i], 110, measured)
			p.text(at[i], 22, string(n))
		}
	}
	heights := func(names string, left, right float64, at ...float64) {
		for i, n := range names {
			p.line(left, at[i], right, at[i], measured)
			p.text(left-26, at[i]+5, string(n))
		}
	}
	switch name {
	case Bore:
		p.round(x, y, r, edge)
		p.line(x-78, y, x+100, y, middle)
		p.text(x+78, y-6, "parting")
		for i, angle := range []float64{0, 60, -60} {
			p.across(x, y, r, angle, fmt.Sprint(i+1))
		}
		p.box(250, 30, 140, 16, solid)
		p.box(250, 110, 140, 16, solid)
		p.line(240, y, 400, y, middle)
		planes("AB", 275, 365)
		p.text(275, 142, "front")
		p.text(365, 142, "rear")
	case Journal:
		p.round(x, y, r, solid)
		p.across(x, y, r, 0, "1")
		p.across(x, y, r, 90, "2")
		p.box(260, 46, 120, 64, solid)
		p.box(244, 34, 16, 90, edge)
		p.box(380, 34, 16, 90, edge)
		p.line(234, y, 406, y, middle)
		planes("AB", 285, 355)
		p.text(285, 142, "front")
		p.text(355, 142, "rear")
	case Cylinder:
		p.round(x, y, r, edge)
		p.across(x, y, r, 90, "1")
		p.across(x, y, r, 0, "2")
		p.text(x-68, y+5, "crank")
		p.box(262, 14, 14, 122, solid)
		p.box(364, 14, 14, 122, solid)
		p.text(320, 24, "deck")
		heights("ABC", 276, 364, 42, 78, 116)
	case Piston:
		p.box(50, 22, 90, 106, solid)
		for _, h := range []float64{34, 44, 54} {
			p.line(50, h, 140, h, edge)
		}
		p.round(95, 80, 11, edge)
		heights("A", 50, 140, 104)
		p.round(320, y, r, solid)
		p.box(266, y-8, 108, 16, edge)
		p.text(396, y+5, "pin")
		p.across(320, y, r, 0, "A")
	case Ring:
		p.path("M 103 33 A 46 46 0 1 1 87 33", edge.as("5"))
		p.line(95, 24, 95, 42, measured)
		p.text(95, 18, "gap")
		p.box(262, 14, 14, 122, solid)
		p.box(364, 14, 14, 122, solid)
		p.text(320, 24, "deck")
		p.box(276, 66, 88, 7, solid)
		p.text(320, 92, "ring, square")
	case Strip:
		p.round(x, y, r, solid)
		p.path("M 41 78 A 54 54 0 0 1 149 78", edge)
		p.line(x-12, y-50, x+12, y-50, measured.as("5"))
		p.text(x, y+5, "journal")
		p.text(x, 18, "cap")
		p.box(254, 40, 132, 76, solid)
		p.line(266, 66, 374, 66, measured.as("5"))
		p.text(320, 58, "strip")
		p.round(320, 94, 5, edge)
		p.text(360, 99, "oil hole")
	case EndPlay:
		for i, what := range []string{"main", "thrust", "main"} {
			left := 70 + float64(i)*80
			p.box(left, 66, 54, 28, solid)
			p.text(left+27, 86, what)
			p.box(left-13, 46, 13, 68, edge)
			p.box(left+54, 46, 13, 68, edge)
		}
		p.line(40, 80, 57, 80, edge)
		p.line(297, 80, 326, 80, measured)
		p.round(346, 80, 20, edge)
		p.text(346, 85, "dial")
		p.line(110, 28, 250, 28, measured)
		p.path("M 110 28 l 9 -5 v 10 z M 250 28 l -9 -5 v 10 z", arrow)
		p.text(180, 20, "lever to both ends")
	case SidePlay:
		p.box(110, 26, 26, 98, edge)
		p.box(284, 26, 26, 98, edge)
		p.box(136, 62, 148, 26, solid)
		p.box(138, 40, 68, 70, solid)
		p.box(208, 40, 68, 70, solid)
		p.text(172, 80, "rod")
		p.text(242, 80, "rod")
		p.line(280, 30, 280, 60, measured.as("4"))
		p.text(280, 20, "blade")
		p.text(123, 140, "cheek")
		p.text(297, 140, "cheek")
	case Wall:
		p.path("M 140 120 A 70 70 0 0 1 280 120 L 262 120 A 52 52 0 0 0 158 120 Z", solid)
		p.line(210, 46, 210, 72, measured)
		p.text(210, 40, "1, at the crown")
		p.line(141, 108, 160, 110, measured)
		p.line(279, 108, 260, 110, measured)
		p.text(126, 112, "2")
		p.text(294, 112, "2")
	}
	return page.El("svg", page.Attr("xmlns", "http://www.w3.org/2000/svg"), page.Attr("viewBox", "0 0 420 150"), page.Attr("width", "420"), page.Attr("height", "150"), page.Attr("role", "img"),
		page.Attr("aria-label", "Where to measure: "+says), page.Attr("font-family", "Liberation Sans, Arial, sans-serif"), page.Attr("font-size", "13"), page.Attr("fill", "currentColor"), p.drawn)
}
