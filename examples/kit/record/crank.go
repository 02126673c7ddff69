package record

import (
	"fmt"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/page"
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
func (p piece) svg(x, y, height float64) page.Markup {
	journal, webs := p.shapes()
	draw := func(class string, r [4]float64) page.Markup {
		return page.El("rect", page.Class(class), page.Number("x", x+r[0]), page.Number("y", y+r[1]*height/pieceHeight), page.Number("width", r[2]), page.Number("height", r[3]*height/pieceHeight))
	}
	return page.Join(draw("journal", journal), page.Each(webs, func(w [4]float64) page.Markup { return draw("web", w) }))
}

// alone is a piece that fills the cell beside its row.
func (p piece) alone() page.Markup {
	return page.El("svg", page.Class("crank"), page.Attr("viewBox", fmt.Sprintf("0 0 %g %g", pieceWidth, pieceHeight)), page.Attr("preserveAspectRatio", "none"), page.Attr("aria-hidden", "true"),
		p.svg(0, 0, pieceHeight))
}
