package fasteners

import (
	"fmt"
	"math"
	"math/big"
	"slices"

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

// ClampedParts are the parts that a bolt clamps, as cones of pressure. With a nut, one
// cone spreads from under the head and one from under the nut, and they meet half-way
// through the grip; in a tapped hole, one spreads from under the head down to the tapped
// part. A cone that reaches the edge of the parts goes on as a sleeve. Layers go from
// under the head downward, without a tapped part.
type ClampedParts struct {
	Seat    End          `json:"seat"`    // Nut or TappedHole
	Hole    units.Length `json:"hole"`    // dh, the clearance hole; textbooks take the bolt's nominal diameter
	Face    units.Length `json:"face"`    // dW, the outside of the bearing face, about 1.5 times the bolt's nominal diameter
	Outside units.Length `json:"outside"` // DA, the diameter of the parts around the bolt
	Layers  []Layer      `json:"layers"`

	// HalfAngle is φ, the half angle of the cones: 30° in textbooks; nil for the value of
	// VDI 2230 at these sizes.
	HalfAngle *units.Angle `json:"half_angle"`
}

// UnmarshalJSON reads the exchange form; a missing key is an error, and null stands for the half
// angle of VDI 2230.
func (c *ClampedParts) UnmarshalJSON(data []byte) error {
	type clampedParts ClampedParts
	return units.DecodeObject(data, (*clampedParts)(c))
}

// Stiffness returns the stiffness of the clamped parts, each piece of cone or sleeve being a
// spring in series. It works in float64 and is rounded to 0.001 N/mm.
//
//	cone:    δ = ln( (2 t tan φ + D - d)(D + d) / ((2 t tan φ + D + d)(D - d)) ) / (π E d tan φ)
//	sleeve:  δ = 4 t / (π E (DA² - d²))
//	k = 1 / Σ δ
//
// δ is the compliance of a piece in mm/N, t its thickness in mm, D the diameter of a
// cone's smaller end in mm, d the hole and DA the outside in mm, φ the half angle, E
// Young's modulus in N/mm². If the bearing face overhangs the parts, there is a sleeve
// alone. If HalfAngle is nil, VDI 2230 gives
//
//	through bolt:  tan φ = 0.362 + 0.032 ln(βL/2) + 0.153 ln y
//	tapped hole:   tan φ = 0.348 + 0.013 ln βL + 0.193 ln y
//	βL = lK/dW,  y = DA/dW, at most 3
//
// lK is the grip. Parts wider than 3 dW count as 3 dW wide in y; this is the package's
// choice, because the logarithm would let the cone widen without end. VDI's angle is for
// one material, and an approximation for layers of several.
//
// The error is of kind ErrImpossible for a missing seat, a face or parts no wider than
// the hole, a half angle outside 0° to 90°, no layer, a layer with a thickness or modulus
// of zero or less, or parts so short or narrow that VDI's tan φ is zero or less.
//
// Source: Mechanical Engineering Design, 9th ed., 8-5, equation (8-20), for the cone; VDI
// 2230-1:2015, 5.1.2.1, for its angle and the sleeve. Concentric clamping and loading.
func (c ClampedParts) Stiffness() (units.Stiffness, error) {
	grip, err := c.grip()
	if err != nil {
		return units.Stiffness{}, err
	}
	tangent, err := c.tangent(grip)
	if err != nil {
		return units.Stiffness{}, err
	}
	if c.Seat == TappedHole {
		return stiffness("clamped parts", 1/c.compliance(c.Layers, grip, tangent))
	}
	half, fromBelow := grip.MulRat(big.NewRat(1, 2)), slices.Clone(c.Layers)
	slices.Reverse(fromBelow)
	return stiffness("clamped parts", 1/(c.compliance(c.Layers, half, tangent)+c.compliance(fromBelow, half, tangent)))
}

// grip checks the parts and returns their whole thickness.
func (c ClampedParts) grip() (units.Length, error) {
	var grip units.Length
	if err := checkSeat(c.Seat); err != nil {
		return grip, err
	}
	wider := "write a diameter larger than the hole's " + c.Hole.String()
	switch {
	case c.Hole.Sign() <= 0:
		return grip, impossible("hole", c.Hole.String(), "write a diameter above zero")
	case !c.Hole.Less(c.Face):
		return grip, impossible("bearing face", c.Face.String(), wider)
	case !c.Hole.Less(c.Outside):
		return grip, impossible("outside diameter", c.Outside.String(), wider)
	case len(c.Layers) == 0:
		return grip, impossible("layers", "none", "give the layers that the bolt clamps")
	}
	for _, l := range c.Layers {
		switch {
		case l.Thickness.Sign() <= 0:
			return grip, impossible("thickness of "+l.Name, l.Thickness.String(), "write a length above zero, or leave the layer out")
		case l.Modulus.Sign() <= 0:
			return grip, impossible("modulus of "+l.Name, l.Modulus.String(), youngs)
		}
		grip = grip.Add(l.Thickness)
	}
	return grip, nil
}

// tangent returns tan φ.
func (c ClampedParts) tangent(grip units.Length) (float64, error) {
	if c.HalfAngle != nil {
		if c.HalfAngle.Sign() <= 0 || !c.HalfAngle.Less(units.Degree.OfInt(90)) {
			return 0, impossible("half angle of the cones", c.HalfAngle.String(), `write an angle between 0° and 90°, as in "30°"`)
		}
		return math.Tan(c.HalfAngle.Float64(units.Radian)), nil
	}
	face := c.Face.Float64(units.Millimetre)
	length, width := grip.Float64(units.Millimetre)/face, min(c.Outside.Float64(units.Millimetre)/face, 3)
	tangent := 0.362 + 0.032*math.Log(length/2) + 0.153*math.Log(width)
	if c.Seat == TappedHole {
		tangent = 0.348 + 0.013*math.Log(length) + 0.193*math.Log(width)
	}
	if tangent <= 0 && width > 1 {
		return 0, impossible("cone of pressure", fmt.Sprintf("with tan φ = %.3f", tangent), "VDI 2230 does not cover this joint; measure its stiffness")
	}
	return tangent, nil
}

// compliance returns that of the cone, in mm/N, that spreads through the layers down to a depth,
// and of the sleeve below it.
func (c ClampedParts) compliance(layers []Layer, depth units.Length, tangent float64) float64 {
	hole, face, outside := c.Hole.Float64(units.Millimetre), c.Face.Float64(units.Millimetre), c.Outside.Float64(units.Millimetre)
	compliance := 0.0
	for _, l := range layers {
		thickness := units.Min(l.Thickness, depth)
		depth = depth.Sub(thickness)
		t, piE := thickness.Float64(units.Millimetre), math.Pi*l.Modulus.Float64(units.Megapascal)
		if widening := min(2*t*tangent, outside-face); widening > 0 {
			ratio := (widening + face - hole) * (face + hole) / ((widening + face + hole) * (face - hole))
			compliance += math.Log(ratio) / (piE * hole * tangent)
			face += widening
			t -= widening / (2 * tangent)
		}
		compliance += 4 * t / (piE * (outside*outside - hole*hole))
	}
	return compliance
}
