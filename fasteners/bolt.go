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
// The error wraps ErrJoint if there is no segment, or a length, area or modulus is not above
// zero.
//
// Source: VDI 2230-1:2015, 5.1.1; Mechanical Engineering Design, 9th ed., 8-4.
func BoltStiffness(segments ...Segment) (units.Stiffness, error) {
	if len(segments) == 0 {
		return units.Stiffness{}, jointError("bolt", "without segments", "give at least one segment")
	}
	compliance := 0.0
	for _, s := range segments {
		switch {
		case s.Length.Sign() <= 0:
			return units.Stiffness{}, jointError("length of bolt segment "+s.Name, s.Length.String(), "write a length above zero, or leave the segment out")
		case s.Area.Sign() <= 0:
			return units.Stiffness{}, jointError("section of bolt segment "+s.Name, s.Area.String(), "write an area above zero")
		case s.Modulus.Sign() <= 0:
			return units.Stiffness{}, jointError("modulus of bolt segment "+s.Name, s.Modulus.String(), `write Young's modulus, as in "205 GPa"`)
		}
		compliance += s.Length.Float64(units.Millimetre) / (s.Area.Float64(units.SquareMillimetre) * s.Modulus.Float64(units.Megapascal))
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

// A Seat is what a bolt is screwed into. The zero value says nothing and is refused.
type Seat int

const (
	IntoNut    Seat = iota + 1 // a through bolt with a nut
	IntoTapped                 // a screw in a tapped hole
)

func (s Seat) check() error {
	if s != IntoNut && s != IntoTapped {
		return jointError("seat of the bolt", "not said", "say IntoNut or IntoTapped")
	}
	return nil
}

// A Head is the shape of a bolt's head, as far as it matters for stiffness. The zero value
// says nothing and is refused.
type Head int

const (
	HexHead    Head = iota + 1 // hexagon, or flanged
	SocketHead                 // cylindrical, with a socket
)

// A BoltShape describes a bolt in a joint by its drawing, from the head to the end of the
// engaged thread. Every field must be said, but for a shank where there is none: a fully
// threaded bolt.
type BoltShape struct {
	Thread      Thread
	Head        Head
	Seat        Seat
	Grip        units.Length   // what it clamps: the pieces of the shank and the free thread make it up
	Shank       []Segment      // the pieces without thread inside the grip
	FreeThread  units.Length   // thread inside the grip, from the shank to the seat; zero if the shank reaches there
	Modulus     units.Pressure // Young's modulus of the bolt
	SeatModulus units.Pressure // of the nut or the tapped part
}

// segments returns the bolt as springs in series, with substitutes for what head, nut and
// engaged thread give; see Stiffness.
func (b BoltShape) segments() ([]Segment, error) {
	if b.Thread.form == noForm {
		return nil, jointError("thread of the bolt", "not said", "give it one, by ParseThread or MetricThread")
	}
	if b.Head != HexHead && b.Head != SocketHead {
		return nil, jointError("head of the bolt", "not said", "say HexHead or SocketHead")
	}
	if err := b.Seat.check(); err != nil {
		return nil, err
	}
	switch {
	case b.FreeThread.Sign() < 0:
		return nil, jointError("free thread", b.FreeThread.String(), "write zero or more")
	case b.Modulus.Sign() <= 0:
		return nil, jointError("modulus of the bolt", b.Modulus.String(), `write Young's modulus, as in "205 GPa"`)
	case b.SeatModulus.Sign() <= 0:
		return nil, jointError("modulus of the nut or the tapped part", b.SeatModulus.String(), `write Young's modulus, as in "205 GPa" for a steel nut`)
	}
	inGrip := b.FreeThread
	for _, s := range b.Shank {
		inGrip = inGrip.Add(s.Length)
	}
	if b.Grip.Sign() <= 0 || !inGrip.Equal(b.Grip) {
		return nil, jointError("grip", b.Grip.String(), "write what the bolt clamps; the shank and the free thread make up "+inGrip.String())
	}

	part := func(num, den int64) units.Length { return b.Thread.Major().MulRat(big.NewRat(num, den)) }
	core, full := circle(b.Thread.RootDiameter()), b.Thread.ShankArea()
	head, seat := part(1, 2), part(2, 5)
	if b.Head == SocketHead {
		head = part(2, 5)
	}
	if b.Seat == IntoTapped {
		seat = part(33, 100)
	}
	segments := append([]Segment{{Name: "head", Length: head, Area: full, Modulus: b.Modulus}}, b.Shank...)
	if !b.FreeThread.IsZero() {
		segments = append(segments, Segment{Name: "free thread", Length: b.FreeThread, Area: core, Modulus: b.Modulus})
	}
	return append(segments,
		Segment{Name: "engaged thread", Length: part(1, 2), Area: core, Modulus: b.Modulus},
		Segment{Name: "seat", Length: seat, Area: full, Modulus: b.SeatModulus}), nil
}

// Stiffness returns the stiffness of the bolt in the joint, that of BoltStiffness for these
// segments:
//
//	head            l = 0.5 d (hexagon), 0.4 d (socket)   A = π/4 d²
//	shank           l, A, E as given
//	free thread     l as given                            A = π/4 d3²
//	engaged thread  l = 0.5 d                             A = π/4 d3²
//	nut             l = 0.4 d (nut), 0.33 d (tapped)      A = π/4 d², E of the seat
//
// d is the nominal diameter, d3 the root diameter.
//
// The error wraps ErrJoint for what was not said, for a shank and free thread that do not make
// up the grip, and as that of BoltStiffness.
//
// Source: VDI 2230-1:2015, 5.1.1.1.
func (b BoltShape) Stiffness() (units.Stiffness, error) {
	segments, err := b.segments()
	if err != nil {
		return units.Stiffness{}, err
	}
	return BoltStiffness(segments...)
}
