package record

import (
	"fmt"
	"strings"

	"example.com/closefit/examples/kit/job"
)

// A row is one bearing on the crankshaft's line, from the front, down the page.
type row struct {
	Name, Upper, Lower string
	HeldBack           bool
	Clearance          string
	Seat               job.Seat
	Piece              piece
}

// piece is what is drawn of the crankshaft beside a row.
type piece struct {
	pin         bool
	left        bool // the side to which the pin is drawn
	thrust      bool
	first, last bool // whether a web stands above it, and below it
}

// rows are the bearings of a crankshaft. Pins are drawn to one side and the other in turn:
// nothing says at which angle they stand.
func rows(c job.Card) []row {
	var list []row
	pins := 0
	for k, st := range c.Crank {
		if st.Pin {
			pins++
		}
		for i, s := range st.Seats {
			list = append(list, row{
				Name: seatName(st, s), Upper: s.Upper, Lower: s.Lower, HeldBack: s.HeldBack, Clearance: clearance(s), Seat: s,
				Piece: piece{pin: st.Pin, left: pins%2 == 1, thrust: st.Thrust,
					first: st.Pin && i == 0 && k > 0, last: st.Pin && i == len(st.Seats)-1 && k < len(c.Crank)-1},
			})
		}
	}
	return list
}

// The size of a piece, in its own units: a row may be drawn taller.
const pieceWidth, pieceHeight = 28.0, 20.0

// shapes are a piece's rectangles: x, y, width, height.
func (p piece) shapes() (journal [4]float64, webs [][4]float64) {
	const middle, throw, web = pieceWidth / 2, 8.0, 3.0
	if !p.pin {
		journal = [4]float64{middle - 5, 0, 10, pieceHeight}
		if p.thrust {
			webs = append(webs, [4]float64{middle - 9, 0, 18, 2}, [4]float64{middle - 9, pieceHeight - 2, 18, 2})
		}
		return journal, webs
	}
	x := middle + throw
	if p.left {
		x = middle - throw
	}
	journal = [4]float64{x - 4, 0, 8, pieceHeight}
	from, to := min(x, middle)-5, max(x, middle)+5
	if p.first {
		webs = append(webs, [4]float64{from, 0, to - from, web})
	}
	if p.last {
		webs = append(webs, [4]float64{from, pieceHeight - web, to - from, web})
	}
	return journal, webs
}

// svg draws a piece so tall at a place.
func (p piece) svg(b *strings.Builder, x, y, height float64) {
	journal, webs := p.shapes()
	draw := func(class string, r [4]float64) {
		fmt.Fprintf(b, `<rect class="%s" x="%.2f" y="%.2f" width="%.2f" height="%.2f"/>`, class, x+r[0], y+r[1]*height/pieceHeight, r[2], r[3]*height/pieceHeight)
	}
	draw("journal", journal)
	for _, w := range webs {
		draw("web", w)
	}
}

// pieceHTML is a piece that fills the cell beside its row.
func pieceHTML(p piece) string {
	var b strings.Builder
	fmt.Fprintf(&b, `<svg class="crank" viewBox="0 0 %g %g" preserveAspectRatio="none" aria-hidden="true">`, pieceWidth, pieceHeight)
	p.svg(&b, 0, 0, pieceHeight)
	b.WriteString("</svg>")
	return b.String()
}
