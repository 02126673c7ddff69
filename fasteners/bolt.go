package fasteners

import (
	"fmt"
	"math/big"
	"slices"

	"example.com/closefit/units"
)

// youngs is the advice for a modulus that is not above zero.
const youngs = `write Young's modulus, as in "205 GPa" for steel`

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
// The error is of kind ErrImpossible if there is no segment, or a length, area or modulus is not
// above zero.
//
// Source: VDI 2230-1:2015, 5.1.1; Mechanical Engineering Design, 9th ed., 8-4.
func BoltStiffness(segments ...Segment) (units.Stiffness, error) {
	if len(segments) == 0 {
		return units.Stiffness{}, impossible("bolt", "without segments", "give at least one segment")
	}
	compliance := 0.0
	for _, s := range segments {
		switch {
		case s.Length.Sign() <= 0:
			return units.Stiffness{}, impossible("length of bolt segment "+s.Name, s.Length.String(), "write a length above zero, or leave the segment out")
		case s.Area.Sign() <= 0:
			return units.Stiffness{}, impossible("section of bolt segment "+s.Name, s.Area.String(), "write an area above zero")
		case s.Modulus.Sign() <= 0:
			return units.Stiffness{}, impossible("modulus of bolt segment "+s.Name, s.Modulus.String(), youngs)
		}
		compliance += s.Length.Float64(units.Millimetre) / (s.Area.Float64(units.SquareMillimetre) * s.Modulus.Float64(units.Megapascal))
	}
	return stiffness("bolt", 1/compliance)
}

// stiffness returns newtons per millimetre as a quantity.
func stiffness(what string, perMillimetre float64) (units.Stiffness, error) {
	k, err := units.NewtonPerMillimetre.OfFloat64(perMillimetre, 3)
	if err != nil || k.Sign() <= 0 {
		return units.Stiffness{}, impossible("stiffness of the "+what, fmt.Sprintf("%g N/mm", perMillimetre), "check the sizes and moduli")
	}
	return k, nil
}

// An End is one of the two ends of a bolt in a joint. The zero value says nothing and is
// refused.
type End string

const (
	HexHead    End = "hexagon head" // or flanged
	SocketHead End = "socket head"  // cylindrical
	Nut        End = "nut"
	TappedHole End = "tapped hole"
)

var ends = []End{HexHead, SocketHead, Nut, TappedHole}

// MarshalText writes the word, or returns an error for an End that is not one of the
// constants.
func (e End) MarshalText() ([]byte, error) {
	if !slices.Contains(ends, e) {
		return nil, notWritten("end of the bolt", found(e), `write "hexagon head", "socket head", "nut" or "tapped hole"`)
	}
	return []byte(e), nil
}

// UnmarshalText reads "hexagon head", "socket head", "nut" or "tapped hole".
func (e *End) UnmarshalText(text []byte) error {
	read := End(text)
	if _, err := read.MarshalText(); err != nil {
		return err
	}
	*e = read
	return nil
}

// found returns an end as an error shows it.
func found(e End) string {
	if e == "" {
		return "not said"
	}
	return quoted(string(e))
}

// checkSeat refuses an end that no bolt is screwed into.
func checkSeat(e End) error {
	if e != Nut && e != TappedHole {
		return impossible("seat of the bolt", found(e), "say Nut or TappedHole")
	}
	return nil
}

// A BoltShape describes a bolt or a stud in a joint by its drawing, from the head to the
// end of the engaged thread. Every field must be given, except the shank of a fully
// threaded bolt.
type BoltShape struct {
	Thread      Thread         `json:"thread"`
	Head        End            `json:"head"`         // HexHead or SocketHead; Nut on a stud
	Seat        End            `json:"seat"`         // where it is screwed in: Nut or TappedHole
	Grip        units.Length   `json:"grip"`         // the clamped length: the pieces of the shank and the free thread add up to it
	Shank       []Segment      `json:"shank"`        // the pieces without thread inside the grip
	FreeThread  units.Length   `json:"free_thread"`  // thread inside the grip; zero if the shank fills it
	Modulus     units.Pressure `json:"modulus"`      // Young's modulus of the bolt, and of a stud's upper nut
	SeatModulus units.Pressure `json:"seat_modulus"` // of the lower nut or the tapped part
}

// UnmarshalJSON reads the exchange form; a missing key is an error, and null means no
// shank.
func (b *BoltShape) UnmarshalJSON(data []byte) error {
	type boltShape BoltShape
	return units.DecodeObject(data, (*boltShape)(b))
}

// segments returns the bolt as springs in series, with substitutes for what head, nut and
// engaged thread give; see Stiffness.
func (b BoltShape) segments() ([]Segment, error) {
	if err := checkSeat(b.Seat); err != nil {
		return nil, err
	}
	inGrip := b.FreeThread
	for _, s := range b.Shank {
		inGrip = inGrip.Add(s.Length)
	}
	switch {
	case b.Thread.form == noForm:
		return nil, impossible("thread of the bolt", "not said", "give it one, by ParseThread")
	case b.FreeThread.Sign() < 0:
		return nil, impossible("free thread", b.FreeThread.String(), "write zero or more")
	case b.Modulus.Sign() <= 0:
		return nil, impossible("modulus of the bolt", b.Modulus.String(), youngs)
	case b.SeatModulus.Sign() <= 0:
		return nil, impossible("modulus of the nut or the tapped part", b.SeatModulus.String(), youngs)
	case b.Grip.Sign() <= 0 || !inGrip.Equal(b.Grip):
		return nil, impossible("grip", b.Grip.String(), "write what the bolt clamps; the shank and the free thread make up "+inGrip.String())
	}

	core, full := circle(b.Thread.RootDiameter()), b.Thread.ShankArea()
	part := func(name string, hundredths int64, area units.Area, modulus units.Pressure) Segment {
		return Segment{Name: name, Length: b.Thread.Major().MulRat(big.NewRat(hundredths, 100)), Area: area, Modulus: modulus}
	}
	engaged := part("engaged thread", 50, core, b.Modulus)
	var segments []Segment
	switch b.Head {
	case HexHead:
		segments = []Segment{part("head", 50, full, b.Modulus)}
	case SocketHead:
		segments = []Segment{part("head", 40, full, b.Modulus)}
	case Nut:
		segments = []Segment{part("upper nut", 40, full, b.Modulus), engaged}
	default:
		return nil, impossible("head of the bolt", found(b.Head), "say HexHead or SocketHead, or Nut for a stud")
	}
	segments = append(segments, b.Shank...)
	if !b.FreeThread.IsZero() {
		segments = append(segments, Segment{Name: "free thread", Length: b.FreeThread, Area: core, Modulus: b.Modulus})
	}
	seat := part("nut", 40, full, b.SeatModulus)
	if b.Seat == TappedHole {
		seat = part("tapped part", 33, full, b.SeatModulus)
	}
	return append(segments, engaged, seat), nil
}

// Stiffness returns the stiffness of the bolt in the joint, that of BoltStiffness for these
// segments:
//
//	head            l = 0.5 d (hexagon), 0.4 d (socket)   A = π/4 d²
//	upper nut       l = 0.4 d, and an engaged thread      A = π/4 d²
//	shank           l, A, E as given
//	free thread     l as given                            A = π/4 d3²
//	engaged thread  l = 0.5 d                             A = π/4 d3²
//	seat            l = 0.4 d (nut), 0.33 d (tapped)      A = π/4 d², E of the seat
//
// d is the nominal diameter, d3 the root diameter.
//
// The error is of kind ErrImpossible for a missing field, for a shank and free thread
// that do not add up to the grip, and as for BoltStiffness.
//
// Source: VDI 2230-1:2015, 5.1.1.1.
func (b BoltShape) Stiffness() (units.Stiffness, error) {
	segments, err := b.segments()
	if err != nil {
		return units.Stiffness{}, err
	}
	return BoltStiffness(segments...)
}
