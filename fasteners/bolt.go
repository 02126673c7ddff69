package fasteners

import (
	"fmt"
	"math/big"

	"example.com/closefit/units"
)

// A Segment is a piece of a bolt's length that has one section and one material.
type Segment struct {
	Name    string // "shank", "free thread"
	Length  units.Length
	Area    units.Area
	Modulus units.Pressure // Young's modulus: about 205 GPa for steel
}

// BoltStiffness returns the stiffness of a bolt from its segments, which are springs in
// series. It works in float64 and is rounded to 0.001 N/mm.
//
//	1/k = Σ l / (A E)
//
// l is the length of a segment in mm, A its section in mm², E its Young's modulus in
// N/mm².
//
// The error wraps ErrJoint if there is no segment, a length is negative, an area or
// modulus is not above zero, or all lengths are zero.
//
// Source: VDI 2230-1:2015, 5.1.1; Mechanical Engineering Design, 9th ed., 8-4.
func BoltStiffness(segments ...Segment) (units.Stiffness, error) {
	if len(segments) == 0 {
		return units.Stiffness{}, jointError("bolt", "without segments", "give at least one segment")
	}
	compliance := 0.0
	for _, s := range segments {
		switch {
		case s.Length.Sign() < 0:
			return units.Stiffness{}, jointError("length of bolt segment "+s.Name, s.Length.String(), "write zero or more")
		case s.Area.Sign() <= 0:
			return units.Stiffness{}, jointError("section of bolt segment "+s.Name, s.Area.String(), "write an area above zero")
		case s.Modulus.Sign() <= 0:
			return units.Stiffness{}, jointError("modulus of bolt segment "+s.Name, s.Modulus.String(), `write Young's modulus, as in "205 GPa"`)
		}
		compliance += s.Length.Float64(units.Millimetre) / (s.Area.Float64(units.SquareMillimetre) * s.Modulus.Float64(units.Megapascal))
	}
	if compliance == 0 {
		return units.Stiffness{}, jointError("bolt", "of no length", "give the lengths of its segments")
	}
	return stiffness("bolt", 1/compliance)
}

// stiffness returns newtons per millimetre as a quantity.
func stiffness(what string, perMillimetre float64) (units.Stiffness, error) {
	k, err := units.NewtonPerMillimetre.OfFloat64(perMillimetre, 3)
	if err != nil || k.Sign() <= 0 {
		return units.Stiffness{}, jointError("stiffness of the "+what, fmt.Sprintf("%g N/mm", perMillimetre), "check the sizes and moduli")
	}
	return k, nil
}

// A Seat is what a bolt is screwed into.
type Seat int

const (
	IntoNut    Seat = iota // a through bolt with a nut
	IntoTapped             // a screw in a tapped hole
)

// A Head is the shape of a bolt's head, as far as it matters for stiffness.
type Head int

const (
	HexHead    Head = iota // hexagon, or flanged
	SocketHead             // cylindrical, with a socket
)

// A BoltShape describes a bolt in a joint by its drawing, from the head to the end of the
// engaged thread.
type BoltShape struct {
	Thread      Thread
	Head        Head
	Seat        Seat
	Shank       []Segment    // the pieces without thread inside the grip; a zero Area means the full nominal section
	FreeThread  units.Length // thread inside the grip, from the shank to the seat
	Modulus     units.Pressure
	SeatModulus units.Pressure // of the nut or the tapped part; zero: the bolt's own
}

// Segments returns the bolt as springs in series, with substitutes for what head, nut and
// engaged thread give:
//
//	head            l = 0.5 d (hexagon), 0.4 d (socket)   A = π/4 d²
//	shank           l, A as given
//	free thread     l as given                            A = π/4 d3²
//	engaged thread  l = 0.5 d                             A = π/4 d3²
//	nut             l = 0.4 d (nut), 0.33 d (tapped)      A = π/4 d², E of the seat
//
// d is the nominal diameter, d3 the root diameter.
//
// Source: VDI 2230-1:2015, 5.1.1.1.
func (b BoltShape) Segments() []Segment {
	d := b.Thread.Major()
	part := func(num, den int64) units.Length { return d.MulRat(big.NewRat(num, den)) }
	core := circle(b.Thread.RootDiameter())
	seatModulus := b.SeatModulus
	if seatModulus.IsZero() {
		seatModulus = b.Modulus
	}
	head, seat := part(1, 2), part(2, 5)
	if b.Head == SocketHead {
		head = part(2, 5)
	}
	if b.Seat == IntoTapped {
		seat = part(33, 100)
	}

	segments := []Segment{{Name: "head", Length: head, Area: b.Thread.ShankArea(), Modulus: b.Modulus}}
	for _, s := range b.Shank {
		if s.Area.IsZero() {
			s.Area = b.Thread.ShankArea()
		}
		if s.Modulus.IsZero() {
			s.Modulus = b.Modulus
		}
		segments = append(segments, s)
	}
	return append(segments,
		Segment{Name: "free thread", Length: b.FreeThread, Area: core, Modulus: b.Modulus},
		Segment{Name: "engaged thread", Length: part(1, 2), Area: core, Modulus: b.Modulus},
		Segment{Name: "seat", Length: seat, Area: b.Thread.ShankArea(), Modulus: seatModulus})
}

// Stiffness returns BoltStiffness of the segments. The error wraps ErrJoint.
func (b BoltShape) Stiffness() (units.Stiffness, error) { return BoltStiffness(b.Segments()...) }
