package drawing

import (
	"fmt"
	"math"
	"strings"
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
	SVG  string
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
type pen struct{ strings.Builder }

func (p *pen) add(format string, args ...any) { fmt.Fprintf(p, format, args...) }

func (p *pen) line(x1, y1, x2, y2 float64, of string) {
	p.add(`<line x1="%g" y1="%g" x2="%g" y2="%g" %s/>`, x1, y1, x2, y2, of)
}

func (p *pen) box(x, y, w, h float64, of string) {
	p.add(`<rect x="%g" y="%g" width="%g" height="%g" %s/>`, x, y, w, h, of)
}

func (p *pen) round(x, y, r float64, of string) {
	p.add(`<circle cx="%g" cy="%g" r="%g" %s/>`, x, y, r, of)
}

func (p *pen) text(x, y float64, text string) {
	p.add(`<text x="%g" y="%g" text-anchor="middle">%s</text>`, x, y, escaped(text))
}

// across draws a direction through a centre: a line at an angle from upright, with its
// name at the upper end.
func (p *pen) across(x, y, r, degrees float64, name string) {
	dx, dy := r*math.Sin(degrees*math.Pi/180), -r*math.Cos(degrees*math.Pi/180)
	p.line(round1(x-dx), round1(y-dy), round1(x+dx), round1(y+dy), measured)
	p.text(round1(x+dx*1.28), round1(y+dy*1.28+5), name)
}

func round1(x float64) float64 { return math.Round(x*10) / 10 }

// The looks of lines: of the part, of a middle line, and of what is measured.
const (
	edge     = `fill="none" stroke="currentColor" stroke-width="1.6"`
	middle   = `stroke="currentColor" stroke-width="0.8" stroke-dasharray="7 3 2 3"`
	measured = `style="stroke: var(--accent, #0a5866)" stroke-width="2"` // the page's accent; by itself the picture has its own
	solid    = `fill="currentColor" fill-opacity="0.14" stroke="currentColor" stroke-width="1.6"`
)

// svgOf draws the picture of a name.
func svgOf(name, says string) string {
	p := &pen{}
	p.add(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 420 150" width="420" height="150" role="img" aria-label="%s" font-family="Liberation Sans, Arial, sans-serif" font-size="13" fill="currentColor">`,
		escaped("Where to measure: "+says))
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
		p.add(`<path d="M 103 33 A 46 46 0 1 1 87 33" %s/>`, strings.Replace(edge, `"1.6"`, `"5"`, 1))
		p.line(95, 24, 95, 42, measured)
		p.text(95, 18, "gap")
		p.box(262, 14, 14, 122, solid)
		p.box(364, 14, 14, 122, solid)
		p.text(320, 24, "deck")
		p.box(276, 66, 88, 7, solid)
		p.text(320, 92, "ring, square")
	case Strip:
		p.round(x, y, r, solid)
		p.add(`<path d="M 41 78 A 54 54 0 0 1 149 78" %s/>`, edge)
		p.line(x-12, y-50, x+12, y-50, strings.Replace(measured, `"2"`, `"5"`, 1))
		p.text(x, y+5, "journal")
		p.text(x, 18, "cap")
		p.box(254, 40, 132, 76, solid)
		p.line(266, 66, 374, 66, strings.Replace(measured, `"2"`, `"5"`, 1))
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
		p.add(`<path d="M 110 28 l 9 -5 v 10 z M 250 28 l -9 -5 v 10 z" style="fill: var(--accent, #0a5866)"/>`)
		p.text(180, 20, "lever to both ends")
	case SidePlay:
		p.box(110, 26, 26, 98, edge)
		p.box(284, 26, 26, 98, edge)
		p.box(136, 62, 148, 26, solid)
		p.box(138, 40, 68, 70, solid)
		p.box(208, 40, 68, 70, solid)
		p.text(172, 80, "rod")
		p.text(242, 80, "rod")
		p.line(280, 30, 280, 60, strings.Replace(measured, `"2"`, `"4"`, 1))
		p.text(280, 20, "blade")
		p.text(123, 140, "cheek")
		p.text(297, 140, "cheek")
	case Wall:
		p.add(`<path d="M 140 120 A 70 70 0 0 1 280 120 L 262 120 A 52 52 0 0 0 158 120 Z" %s/>`, solid)
		p.line(210, 46, 210, 72, measured)
		p.text(210, 40, "1, at the crown")
		p.line(141, 108, 160, 110, measured)
		p.line(279, 108, 260, 110, measured)
		p.text(126, 112, "2")
		p.text(294, 112, "2")
	}
	p.add("</svg>")
	return p.String()
}
