package fasteners

import (
	"fmt"
	"math"
	"math/big"

	"example.com/closefit/units"
)

// A Layer is one of the parts that a bolt clamps.
type Layer struct {
	Name      string         `json:"name"` // "cap", "block"
	Thickness units.Length   `json:"thickness"`
	Modulus   units.Pressure `json:"modulus"` // Young's modulus
}

// UnmarshalJSON reads the exchange form; a missing key is an error.
func (l *Layer) UnmarshalJSON(data []byte) error {
	type layer Layer
	return units.DecodeObject(data, (*layer)(l))
}

// Frusta are the clamped parts of a joint taken as cones of pressure: one spreads from
// under the head, one from under the nut, and they meet half-way through the grip. Hole
// is the diameter at the inside of the cones, for which textbooks take the bolt's nominal
// diameter; Face is the diameter of the bearing face, about 1.5 times that; HalfAngle is
// that of the cones, 30° in use. Layers go from under the head to under the nut.
type Frusta struct {
	Hole      units.Length `json:"hole"`
	Face      units.Length `json:"face"`
	HalfAngle units.Angle  `json:"half_angle"`
	Layers    []Layer      `json:"layers"`
}

// UnmarshalJSON reads the exchange form; a missing key is an error.
func (f *Frusta) UnmarshalJSON(data []byte) error {
	type frusta Frusta
	return units.DecodeObject(data, (*frusta)(f))
}

// Stiffness returns the stiffness of the clamped parts, each piece of cone being a spring
// in series. It works in float64 and is rounded to 0.001 N/mm.
//
//	k = π E d tan α / ln( (2 t tan α + D - d)(D + d) / ((2 t tan α + D + d)(D - d)) )
//
// t is the thickness of a piece in mm, D the diameter of its smaller face in mm, d the
// hole in mm, α the half angle, E Young's modulus in N/mm². Valid for parts wider than
// the cones.
//
// The error is of kind ErrJoint for a face not wider than the hole, a hole not above zero, an
// angle not between 0° and 90°, no layer, or a layer whose thickness or modulus is not above
// zero.
//
// Source: Mechanical Engineering Design, 9th ed., 8-5, equation (8-20).
func (f Frusta) Stiffness() (units.Stiffness, error) {
	if err := bearing(f.Hole, f.Face); err != nil {
		return units.Stiffness{}, err
	}
	if f.HalfAngle.Sign() <= 0 || !f.HalfAngle.Less(units.Degree.OfInt(90)) {
		return units.Stiffness{}, jointError("half angle of the cones", f.HalfAngle.String(), `write an angle between 0° and 90°, as in "30°"`)
	}
	grip, err := gripOf(f.Layers)
	if err != nil {
		return units.Stiffness{}, err
	}
	halfGrip := grip.MulRat(big.NewRat(1, 2))

	compliance := f.half(f.Layers, halfGrip)
	fromBelow := make([]Layer, len(f.Layers))
	for i, l := range f.Layers {
		fromBelow[len(f.Layers)-1-i] = l
	}
	compliance += f.half(fromBelow, halfGrip)
	return stiffness("clamped parts", 1/compliance)
}

// half returns the compliance in mm/N of the cone that spreads through the layers down to
// a depth.
func (f Frusta) half(layers []Layer, depth units.Length) float64 {
	tangent := math.Tan(f.HalfAngle.Float64(units.Radian))
	hole, face := f.Hole.Float64(units.Millimetre), f.Face.Float64(units.Millimetre)
	compliance := 0.0
	for _, l := range layers {
		thickness := units.Min(l.Thickness, depth)
		depth = depth.Sub(thickness)
		widening := 2 * thickness.Float64(units.Millimetre) * tangent
		ratio := (widening + face - hole) * (face + hole) / ((widening + face + hole) * (face - hole))
		compliance += math.Log(ratio) / (math.Pi * l.Modulus.Float64(units.Megapascal) * hole * tangent)
		face += widening
	}
	return compliance
}

// gripOf returns the total thickness of the layers.
func gripOf(layers []Layer) (units.Length, error) {
	var grip units.Length
	for _, l := range layers {
		switch {
		case l.Thickness.Sign() <= 0:
			return grip, jointError("thickness of "+l.Name, l.Thickness.String(), "write a length above zero, or leave the layer out")
		case l.Modulus.Sign() <= 0:
			return grip, jointError("modulus of "+l.Name, l.Modulus.String(), `write Young's modulus, as in "205 GPa"`)
		}
		grip = grip.Add(l.Thickness)
	}
	if grip.IsZero() {
		return grip, jointError("grip", grip.String(), "give the layers that the bolt clamps")
	}
	return grip, nil
}

// bearing checks a hole and the face around it.
func bearing(hole, face units.Length) error {
	if hole.Sign() <= 0 {
		return jointError("hole", hole.String(), "write a diameter above zero")
	}
	if !hole.Less(face) {
		return jointError("bearing face", face.String(), "write a diameter larger than the hole's "+hole.String())
	}
	return nil
}

// A DeformationCone is the clamped part of a joint of one material by VDI 2230: a cone of
// pressure that becomes a sleeve where it meets the part's edge.
type DeformationCone struct {
	Seat    Seat           `json:"seat"`
	Hole    units.Length   `json:"hole"`    // dh, the clearance hole
	Face    units.Length   `json:"face"`    // dW, the outside of the bearing face
	Outside units.Length   `json:"outside"` // DA, the diameter of the part around the bolt
	Grip    units.Length   `json:"grip"`    // lK
	Modulus units.Pressure `json:"modulus"`
}

// UnmarshalJSON reads the exchange form; a missing key is an error.
func (c *DeformationCone) UnmarshalJSON(data []byte) error {
	type deformationCone DeformationCone
	return units.DecodeObject(data, (*deformationCone)(c))
}

// Stiffness returns the stiffness of the clamped part. It works in float64 and is rounded
// to 0.001 N/mm.
//
//	through bolt:  tan φ = 0.362 + 0.032 ln(βL/2) + 0.153 ln y     w = 1
//	tapped hole:   tan φ = 0.348 + 0.013 ln βL + 0.193 ln y        w = 2
//	βL = lK/dW,  y = DA/dW
//	DA,Gr = dW + w lK tan φ
//
//	DA >= DA,Gr:       δ = 2 ln( (dW + dh)(dW + w lK tan φ - dh) / ((dW - dh)(dW + w lK tan φ + dh)) ) / (w E π dh tan φ)
//	dW < DA < DA,Gr:   δ = { 2/(w dh tan φ) ln( (dW + dh)(DA - dh) / ((dW - dh)(DA + dh)) )
//	                         + 4/(DA² - dh²) (lK - (DA - dW)/(w tan φ)) } / (E π)
//	DA <= dW:          δ = 4 lK / (E π (DA² - dh²))
//
// δ is the compliance in mm/N, lengths are in mm, E is Young's modulus in N/mm². Valid
// for concentric clamping and loading. A part wider than 3 dW counts as 3 dW wide in y, which is
// this package's choice: the logarithm would let the cone widen without end.
//
// The error is of kind ErrJoint for a seat not said, a face or a part not wider than the
// hole, a grip or modulus not above zero, or a joint so short or narrow that tan φ is not
// above zero.
//
// Source: VDI 2230-1:2015, 5.1.2.1.
func (c DeformationCone) Stiffness() (units.Stiffness, error) {
	if err := c.Seat.check(); err != nil {
		return units.Stiffness{}, err
	}
	if err := bearing(c.Hole, c.Face); err != nil {
		return units.Stiffness{}, err
	}
	switch {
	case !c.Hole.Less(c.Outside):
		return units.Stiffness{}, jointError("outside diameter", c.Outside.String(), "write a diameter larger than the hole's "+c.Hole.String())
	case c.Grip.Sign() <= 0:
		return units.Stiffness{}, jointError("grip", c.Grip.String(), "write a length above zero")
	case c.Modulus.Sign() <= 0:
		return units.Stiffness{}, jointError("modulus of the clamped part", c.Modulus.String(), `write Young's modulus, as in "205 GPa"`)
	}
	hole, face := c.Hole.Float64(units.Millimetre), c.Face.Float64(units.Millimetre)
	outside, grip := c.Outside.Float64(units.Millimetre), c.Grip.Float64(units.Millimetre)
	piE := math.Pi * c.Modulus.Float64(units.Megapascal)

	if outside <= face {
		return stiffness("clamped part", piE*(outside*outside-hole*hole)/(4*grip))
	}
	tangent, w := c.slope(grip/face, math.Min(outside/face, 3))
	if tangent <= 0 {
		return units.Stiffness{}, jointError("cone of pressure", fmt.Sprintf("with tan φ = %.3f", tangent), "the joint is outside what VDI 2230 covers; measure its stiffness")
	}
	end := face + w*grip*tangent
	if outside >= end {
		ratio := (face + hole) * (end - hole) / ((face - hole) * (end + hole))
		return stiffness("clamped part", w*piE*hole*tangent/(2*math.Log(ratio)))
	}
	cone := 2 / (w * hole * tangent) * math.Log((face+hole)*(outside-hole)/((face-hole)*(outside+hole)))
	sleeve := 4 / (outside*outside - hole*hole) * (grip - (outside-face)/(w*tangent))
	return stiffness("clamped part", piE/(cone+sleeve))
}

// slope returns tan φ, and w.
func (c DeformationCone) slope(length, width float64) (tangent, w float64) {
	if c.Seat == IntoTapped {
		return 0.348 + 0.013*math.Log(length) + 0.193*math.Log(width), 2
	}
	return 0.362 + 0.032*math.Log(length/2) + 0.153*math.Log(width), 1
}
