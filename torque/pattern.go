package torque

import (
	"math"
	"strconv"

	"example.com/closefit/units"
)

// A Position is one bolt and where it stands. The positions of a group's bolts are its
// pattern. If you know only their arrangement, [Row], [Caps] and [Circle] set them out on
// a plain scheme; an order and a drawing need no more. Positions are rounded to the
// nearest micrometre.
type Position struct {
	Bolt string       `json:"bolt"` // its name, unique in the plan
	X    units.Length `json:"x"`    // to the right, as the pattern is looked at
	Y    units.Length `json:"y"`    // down
	Part string       `json:"part"` // the cap that it holds down with others; may be empty
}

// namesOf returns the names of the bolts in the order of the pattern.
func namesOf(pattern []Position) []string {
	names := make([]string, len(pattern))
	for i, at := range pattern {
		names[i] = at.Bolt
	}
	return names
}

// Row returns bolts in one row from left to right, 50 mm apart.
func Row(bolts ...string) []Position {
	p := Caps(bolts)
	for i := range p {
		p[i].Part = ""
	}
	return p
}

// capPitch and boltPitch are the scheme of Caps, in millimetres.
const (
	capPitch  = 100
	boltPitch = 50
)

// Caps returns the bolts of a row of bearing caps, from the front of the engine
// down the page: each cap has its bolts from left to right, in the middle of the
// page. Its Part is the number of the cap, from 1.
func Caps(caps ...[]string) []Position {
	widest := 0
	for _, c := range caps {
		widest = max(widest, len(c))
	}
	pitch := int64(max(capPitch, widest*boltPitch))
	var p []Position
	for row, c := range caps {
		for i, bolt := range c {
			p = append(p, Position{
				Bolt: bolt,
				X:    units.Millimetre.OfInt(int64(2*i-len(c)+1) * boltPitch / 2),
				Y:    units.Millimetre.OfInt(int64(row) * pitch),
				Part: strconv.Itoa(row + 1),
			})
		}
	}
	return p
}

// Circle returns bolts evenly spaced on a circle, the first at the top, then
// clockwise.
func Circle(diameter units.Length, bolts ...string) []Position {
	radius := diameter.Float64(units.Micrometre) / 2
	p := make([]Position, len(bolts))
	for i, bolt := range bolts {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(len(bolts)))
		p[i] = Position{
			Bolt: bolt,
			X:    units.Micrometre.OfInt(int64(math.Round(radius * sin))),
			Y:    units.Micrometre.OfInt(int64(math.Round(-radius * cos))),
		}
	}
	return p
}
