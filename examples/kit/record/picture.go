package record

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/page"
)

// Sizes of the picture of a card, in its own units.
const (
	pictureEdge = 28.0
	gutter      = 36.0
	leastLeft   = 440.0 // of the crankshaft's column
	rightWide   = 350.0 // of the torques' column
	pieceWide   = 40.0
	textSize    = 14.0
	lineHigh    = 20.0
	rowHigh     = 24.0
	letterWide  = 0.51 // of a letter, in parts of its size: most are narrower
)

// writeSVG writes the bench card alone, as a picture that asks for nothing from outside.
func writeSVG(w io.Writer, a *job.Assessment) error {
	c := a.Card()
	p := &picture{x: pictureEdge, y: pictureEdge, columns: columnsOf(c)}
	p.left = max(leastLeft, p.columns[len(p.columns)-1])
	p.whole = p.left + gutter + rightWide
	p.head(a, c)
	p.gates(c)
	top := p.y
	p.crank(c)
	p.checks(c)
	left := p.y
	p.y, p.x = top, pictureEdge+p.left+gutter
	p.pulls(c)
	width, height := p.whole+2*pictureEdge, max(left, p.y)+pictureEdge
	_, err := fmt.Fprintf(w, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %.0f %.0f" width="%.0f" height="%.0f" role="img" font-family="Liberation Sans, Arial, Helvetica, sans-serif" font-size="%.0f">
<title>Bench card: %s</title>
<style>
%s</style>
<rect class="paper" x="0.5" y="0.5" width="%.0f" height="%.0f"/>
%s</svg>
`, width, height, width, height, textSize, escaped.Replace(Printable(a.Title)), pictureStyle, width-1, height-1, p.b.String())
	return err
}

// pictureStyle is the page's paper and ink.
const pictureStyle = `text { fill: #1c1f22; } .paper { fill: #fdfcf8; stroke: #1c1f22; } .soft { fill: #555c62; } .accent, .good { fill: #0a5866; } .rule { stroke: #c9c9c2; } .head { stroke: #0a5866; stroke-width: 2; }
.journal { fill: #555c62; } .web { fill: #1c1f22; } .box { fill: none; stroke: #1c1f22; stroke-width: 1.5; } .bad { fill: #1c1f22; } .on-bad { fill: #fdfcf8; }
.bolt text { text-anchor: middle; } .place { font-weight: bold; } .bolt circle { fill: #fdfcf8; stroke: #1c1f22; } .held circle { fill: #1c1f22; } .held .place { fill: #fdfcf8; } .cap { fill: #ecebe4; stroke: #c9c9c2; }
`

// picture is a card being drawn: its column begins at x, and its next line at y.
type picture struct {
	b           strings.Builder
	x, y        float64
	left, whole float64    // how wide the left column is, and both
	columns     [6]float64 // where those of the crankshaft begin, and where the last ends
}

// columnsOf are as wide as what stands in them.
func columnsOf(c job.Card) (at [6]float64) {
	var letters [5]int
	for i, heading := range headings() {
		letters[i] = len(heading)
	}
	for _, r := range rows(c) {
		for i, text := range []string{r.Name, shell(r.Upper) + " ×", shell(r.Lower) + " ×", r.Clearance, seatStanding(r.Seat)} {
			letters[i] = max(letters[i], utf8.RuneCountInString(text))
		}
	}
	if !hasShells(c) {
		letters[1], letters[2] = -2, -2
	}
	at[0] = pieceWide
	for i, n := range letters {
		at[i+1] = at[i] + float64(n+2)*textSize*letterWide
	}
	return at
}

// text writes a text with its base at y.
func (p *picture) text(x, y float64, attributes, text string) {
	fmt.Fprintf(&p.b, `<text x="%.1f" y="%.1f"%s>%s</text>`+"\n", x, y, attributes, escaped.Replace(Printable(text)))
}

// lines writes a text in as many lines as it needs in the width.
func (p *picture) lines(x, wide float64, attributes, text string) {
	if text == "" {
		return
	}
	for _, l := range page.Wrap(text, int(wide/(textSize*letterWide))) {
		p.text(x, p.y+textSize, attributes, l)
		p.y += lineHigh
	}
}

// section begins a part of the card.
func (p *picture) section(wide float64, name string) {
	p.y += 12
	p.text(p.x, p.y+16, ` font-size="16" font-weight="bold"`, name)
	p.y += 23
	fmt.Fprintf(&p.b, `<path class="head" d="M%.1f %.1fh%.1f"/>`+"\n", p.x, p.y, wide)
	p.y += 6
}

// rule draws a line below a row.
func (p *picture) rule(x, wide float64) {
	fmt.Fprintf(&p.b, `<path class="rule" d="M%.1f %.1fh%.1f"/>`+"\n", x, p.y, wide)
}

// mark writes a word as it stands: plain where it is good, framed where it is open, and
// filled where it is bad.
func (p *picture) mark(x, y float64, class, word string) {
	wide := textSize*0.57*float64(utf8.RuneCountInString(word)) + 10
	switch class {
	case good:
		p.text(x, y, ` class="good"`, word)
	case bad:
		fmt.Fprintf(&p.b, `<rect class="bad" x="%.1f" y="%.1f" width="%.1f" height="18"/>`, x, y-14, wide)
		p.text(x+wide/2, y, ` class="on-bad" text-anchor="middle" font-weight="bold"`, word)
	default:
		fmt.Fprintf(&p.b, `<rect class="box" x="%.1f" y="%.1f" width="%.1f" height="18"/>`, x, y-14, wide)
		p.text(x+wide/2, y, ` text-anchor="middle"`, word)
	}
}

func (p *picture) head(a *job.Assessment, c job.Card) {
	p.text(p.x, p.y+11, ` class="accent" font-size="12" font-weight="bold" letter-spacing="1"`, "BENCH CARD")
	p.y += 18
	for _, l := range page.Wrap(a.Title, 60) {
		p.text(p.x, p.y+22, ` font-size="24" font-weight="bold"`, l)
		p.y += 30
	}
	p.lines(p.x, p.whole, ` class="soft"`, a.Note)
	p.lines(p.x, p.whole, ` class="soft"`, measured(a))
	for _, warning := range c.Warnings {
		p.lines(p.x, p.whole, "", warning)
	}
}

func (p *picture) gates(c job.Card) {
	p.section(p.whole, "Gates")
	const at, says = 160.0, 225.0
	for _, g := range c.Gates {
		p.y += 3
		p.text(p.x, p.y+textSize, "", title(g.Before.String()))
		class, lines := bad, against(g)
		if g.Open {
			class, lines = good, []string{known(g)}
		}
		p.mark(p.x+at, p.y+textSize, class, passing(g))
		for _, l := range lines {
			p.lines(p.x+says, p.whole-says, "", l)
		}
		p.y += 3
		p.rule(p.x, p.whole)
	}
	if len(c.Words) > 0 {
		p.section(p.whole, "Accepted or left out, and not proven")
		for _, w := range c.Words {
			p.lines(p.x, p.whole, "", word(w))
		}
	}
}

func (p *picture) crank(c job.Card) {
	p.section(p.left, "The crankshaft, from the front")
	shells := hasShells(c)
	for i, heading := range headings() {
		if shells || i != 1 && i != 2 {
			p.text(p.x+p.columns[i], p.y+12, ` class="soft" font-size="12"`, heading)
		}
	}
	p.y += 18
	for _, r := range rows(c) {
		p.b.WriteString(r.Piece.svg(p.x, p.y, rowHigh).String())
		base, mark := p.y+17, ""
		if r.HeldBack {
			mark = " ×"
		}
		p.text(p.x+p.columns[0], base, "", r.Name)
		if shells {
			p.text(p.x+p.columns[1], base, "", shell(r.Upper)+mark)
			p.text(p.x+p.columns[2], base, "", shell(r.Lower)+mark)
		}
		p.text(p.x+p.columns[3], base, "", r.Clearance)
		p.mark(p.x+p.columns[4], base, standingMark(r.Seat.Standing), seatStanding(r.Seat))
		p.y += rowHigh
		p.rule(p.x+pieceWide, p.left-pieceWide)
	}
	p.y += 4
	p.lines(p.x, p.left, ` font-weight="bold"`, heldBack(c))
}

func (p *picture) checks(c job.Card) {
	p.section(p.left, "Checks")
	for i, x := range c.Checks {
		if i == 0 || x.When != c.Checks[i-1].When {
			p.y += 3
			p.lines(p.x, p.left, ` font-weight="bold"`, title(x.When))
		}
		fmt.Fprintf(&p.b, `<rect class="box" x="%.1f" y="%.1f" width="11" height="11"/>`, p.x+1, p.y+4)
		p.lines(p.x+22, p.left-22, "", x.What)
	}
}

func (p *picture) pulls(c job.Card) {
	const wide = rightWide
	if len(c.Pulls) == 0 {
		return
	}
	p.section(wide, "Torques")
	for _, x := range c.Pulls {
		p.y += 3
		p.lines(p.x, wide, ` font-weight="bold"`, pullsTitle(x))
		p.lines(p.x, wide, "", pullsLine(x))
		if again(c, x) {
			p.lines(p.x, wide, "", "In the order of the final assembly, below.")
			continue
		}
		svg, width, height := orderSVG(x)
		scale := min(1.25, wide/width)
		fmt.Fprintf(&p.b, `<g transform="translate(%.1f %.1f) scale(%.3f)">%s</g>`+"\n", p.x, p.y+4, scale, svg)
		p.y += height*scale + 8
		if !x.SameOrder() {
			for _, o := range orders(x) {
				p.lines(p.x, wide, "", o)
			}
		}
		for _, h := range x.Held {
			p.lines(p.x, wide, "", h.Names()+" HOLD: "+h.Why)
		}
	}
}

// headings are those of the crankshaft's columns.
func headings() [5]string { return [5]string{"bearing", "upper", "lower", "clearance", ""} }

// escaped makes text of HTML, without the names of characters that package html holds.
var escaped = strings.NewReplacer("&", "&amp;", "'", "&#39;", "<", "&lt;", ">", "&gt;", `"`, "&#34;")
