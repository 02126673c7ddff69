package fasteners

import (
	"fmt"
	"math/big"
	"slices"
	"strings"

	"example.com/closefit/units"
)

// A Segment is a piece of a bolt's length that has one section and one material.
type Segment struct {
	Name    string         `json:"name"` // "shank", "free thread"
	Length  units.Length   `json:"length"`
	Area    units.Area     `json:"area"`
	Modulus units.Pressure `json:"modulus"` // Young's modulus: about 205 GPa for steel
}

// UnmarshalJSON reads the exchange form; a missing key is an error.
func (s *Segment) UnmarshalJSON(data []byte) error {
	type segment Segment
	return units.DecodeObject(data, (*segment)(s))
}

// BoltStiffness returns the stiffness of a bolt from its segments, which are springs in
// series. It works in float64 and is rounded to 0.001 N/mm.
//
//	1/k = Σ l / (A E)
//
// l is the length of a segment in mm, A its section in mm², E its Young's modulus in
// N/mm².
//
// The error is of kind ErrJoint if there is no segment, or a length, area or modulus is not
// above zero.
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
type Seat string

const (
	IntoNut    Seat = "nut"         // a through bolt with a nut
	IntoTapped Seat = "tapped hole" // a screw in a tapped hole
)

// MarshalText writes the word; the error is for a Seat that is none of the constants.
func (s Seat) MarshalText() ([]byte, error) { return word("seat of the bolt", s, IntoNut, IntoTapped) }

// UnmarshalText reads "nut" or "tapped hole".
func (s *Seat) UnmarshalText(text []byte) error {
	return readWord("seat of the bolt", s, text, IntoNut, IntoTapped)
}

func (s Seat) check() error {
	if s != IntoNut && s != IntoTapped {
		return jointError("seat of the bolt", found(s), "say IntoNut or IntoTapped")
	}
	return nil
}

// A Head is the shape of a bolt's head, as far as it matters for stiffness. The zero value
// says nothing and is refused.
type Head string

const (
	HexHead    Head = "hexagon" // or flanged
	SocketHead Head = "socket"  // cylindrical
)

// MarshalText writes the word; the error is for a Head that is none of the constants.
func (h Head) MarshalText() ([]byte, error) { return word("head of the bolt", h, HexHead, SocketHead) }

// UnmarshalText reads "hexagon" or "socket".
func (h *Head) UnmarshalText(text []byte) error {
	return readWord("head of the bolt", h, text, HexHead, SocketHead)
}

// word returns a constant as text, and readWord reads it: the words of the exchange form.
func word[W ~string](where string, w W, known ...W) ([]byte, error) {
	if !slices.Contains(known, w) {
		return nil, notWritten(where, found(w), choiceOf(known))
	}
	return []byte(w), nil
}

func readWord[W ~string](where string, w *W, text []byte, known ...W) error {
	if !slices.Contains(known, W(text)) {
		return notWritten(where, found(string(text)), choiceOf(known))
	}
	*w = W(text)
	return nil
}

// found returns a word as an error shows it.
func found[W ~string](w W) string {
	if w == "" {
		return "not said"
	}
	return quoted(string(w))
}

func choiceOf[W ~string](known []W) string {
	words := make([]string, len(known))
	for i, w := range known {
		words[i] = quoted(string(w))
	}
	return "write " + strings.Join(words, " or ")
}

// A BoltShape describes a bolt in a joint by its drawing, from the head to the end of the
// engaged thread. Every field must be said, but for a shank where there is none: a fully
// threaded bolt.
type BoltShape struct {
	Thread      Thread         `json:"thread"`
	Head        Head           `json:"head"`
	Seat        Seat           `json:"seat"`
	Grip        units.Length   `json:"grip"`         // what it clamps: the pieces of the shank and the free thread make it up
	Shank       []Segment      `json:"shank"`        // the pieces without thread inside the grip
	FreeThread  units.Length   `json:"free_thread"`  // thread inside the grip, from the shank to the seat; zero if the shank reaches there
	Modulus     units.Pressure `json:"modulus"`      // Young's modulus of the bolt
	SeatModulus units.Pressure `json:"seat_modulus"` // of the nut or the tapped part
}

// UnmarshalJSON reads the exchange form; a missing key is an error, and null a shank that
// there is not.
func (b *BoltShape) UnmarshalJSON(data []byte) error {
	type boltShape BoltShape
	return units.DecodeObject(data, (*boltShape)(b))
}

// segments returns the bolt as springs in series, with substitutes for what head, nut and
// engaged thread give; see Stiffness.
func (b BoltShape) segments() ([]Segment, error) {
	if b.Thread.form == noForm {
		return nil, jointError("thread of the bolt", "not said", "give it one, by ParseThread or MetricThread")
	}
	if b.Head != HexHead && b.Head != SocketHead {
		return nil, jointError("head of the bolt", found(b.Head), "say HexHead or SocketHead")
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
// The error is of kind ErrJoint for what was not said, for a shank and free thread that do not
// make up the grip, and as that of BoltStiffness.
//
// Source: VDI 2230-1:2015, 5.1.1.1.
func (b BoltShape) Stiffness() (units.Stiffness, error) {
	segments, err := b.segments()
	if err != nil {
		return units.Stiffness{}, err
	}
	return BoltStiffness(segments...)
}
