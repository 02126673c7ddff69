package clearance

import (
	"math/big"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A Compression has the sizes that enclose the charge of one cylinder at top dead centre.
// A flat crown, and one level with the deck, are given as zero.
type Compression struct {
	Bore   units.LengthInterval `json:"bore"`
	Stroke units.LengthInterval `json:"stroke"`

	// Deck is the height of the deck over the crown; below zero, the crown
	// stands proud.
	Deck units.LengthInterval `json:"deck"`

	GasketBore      units.LengthInterval `json:"gasket_bore"`
	GasketThickness units.LengthInterval `json:"gasket_thickness"` // when tightened down

	// Chamber is the volume in the head; Dish that in the crown, below zero for a
	// crown that rises.
	Chamber units.VolumeInterval `json:"chamber"`
	Dish    units.VolumeInterval `json:"dish"`
}

// check refuses sizes and volumes that are missing, lack a bound or cannot be.
func (c Compression) check() error {
	for _, part := range []struct {
		name string
		size units.LengthInterval
	}{{"bore", c.Bore}, {"stroke", c.Stroke}, {"gasket bore", c.GasketBore}, {"gasket thickness", c.GasketThickness}} {
		if part.size.IsEmpty() {
			return notGiven(part.name)
		}
		if !part.size.Bounded() || part.size.Lo().Sign() <= 0 {
			return &units.Error{Kind: measure.ErrNotPositive, Where: part.name, Found: part.size.String(), Fix: "give a size above zero, with both its bounds"}
		}
	}
	switch {
	case c.Chamber.IsEmpty():
		return &units.Error{Kind: measure.ErrNotMeasured, Where: "chamber", Fix: "give its volume, such as 41.2 cm³"}
	case !c.Chamber.Bounded() || c.Chamber.Lo().Sign() < 0:
		return &units.Error{Kind: measure.ErrNotPositive, Where: "chamber", Found: c.Chamber.String(), Fix: "give its volume, zero or more, with both its bounds"}
	case !c.Dish.Bounded() || !c.Deck.Bounded():
		return &units.Error{Kind: measure.ErrNotMeasured, Where: "dish and deck height", Fix: "give both with both their bounds"}
	}
	return nil
}

// Volumes returns the swept volume of the cylinder and the clearance volume over the
// piston at top dead centre, by worst case:
//
//	V   = π/4·B²·S
//	V_c = V_chamber + V_dish + π/4·(G²·s + B²·h)
//
// with B the bore, S the stroke, G the gasket's bore and s its thickness, and h the deck
// height. The crevice above the top ring is left out.
//
// The error names the part. It is of kind measure.ErrNotMeasured for one that was not
// given; of kind measure.ErrNotPositive for a bore, a stroke or a gasket that may be zero
// or less, a chamber that may be below zero, or one without both bounds, and if there may
// be no volume left over the piston, which would touch the head.
func (c Compression) Volumes() (swept, clearance units.VolumeInterval, err error) {
	if err := c.check(); err != nil {
		return swept, clearance, err
	}
	clearance = c.Chamber.Add(c.Dish).Add(cylinder(c.GasketBore, c.GasketThickness)).Add(cylinder(c.Bore, c.Deck))
	if clearance.Lo().Sign() <= 0 {
		return swept, units.VolumeInterval{}, &units.Error{Kind: measure.ErrNotPositive, Where: "volume over the piston", Found: clearance.String(), Fix: "check the deck height and the volumes"}
	}
	return cylinder(c.Bore, c.Stroke), clearance, nil
}

// Ratio returns the compression ratio, (V + V_c)/V_c, exactly up to the bounds of π.
// The bore is taken to vary independently in V and V_c, so the bounds are a little wide.
// The error is that of Volumes.
func (c Compression) Ratio() (units.RatioInterval, error) {
	swept, clearance, err := c.Volumes()
	if err != nil {
		return units.RatioInterval{}, err
	}
	quotients := units.Between(units.One.OfRat(swept.Lo().Ratio(clearance.Hi())), units.One.OfRat(swept.Hi().Ratio(clearance.Lo())))
	return quotients.Shift(units.One.OfInt(1)), nil
}

// Working shows Ratio, volumes in the unit given, rounded outward to three places, and
// the ratio to two. The error is that of Volumes.
func (c Compression) Working(lengths units.LengthUnit, volumes units.Unit[units.VolumeDim]) (units.Working, error) {
	ratio, err := c.Ratio()
	if err != nil {
		return units.Working{}, err
	}
	const places = 3
	v, vc, _ := c.Volumes()
	swept, left := v.FormatOutward(volumes, places), vc.FormatOutward(volumes, places)
	return units.Working{
		Name:    "compression ratio",
		Formula: "ε = (V + V_c)/V_c",
		Numbers: "(" + swept + " + " + left + ")/(" + left + ")",
		Result:  ratio.FormatOutward(units.One, 2),
		Notes:   []string{"the crevice above the top ring is left out"},
		Steps: []units.Working{
			{Name: "V, swept", Formula: "π/4·B²·S", Numbers: "B = " + c.Bore.Written(lengths) + ", S = " + c.Stroke.Written(lengths), Result: swept},
			{Name: "V_c, over the piston", Formula: "V_chamber + V_dish + π/4·(G²·s + B²·h)",
				Numbers: "V_chamber = " + c.Chamber.Written(volumes) + ", V_dish = " + c.Dish.Written(volumes) + ", G = " + c.GasketBore.Written(lengths) +
					", s = " + c.GasketThickness.Written(lengths) + ", h = " + c.Deck.Written(lengths),
				Result: left},
		},
	}, nil
}

// cylinder returns the volume of a cylinder, π/4·d²·h, for a diameter above zero. Its
// bounds are among the corners; of a negative height the larger cylinder is the smaller
// volume.
func cylinder(diameter, height units.LengthInterval) units.VolumeInterval {
	of := func(d units.Length) units.VolumeInterval {
		square := d.Rat(units.Millimetre)
		square.Mul(square, square).Mul(square, big.NewRat(1, 4))
		at := func(h units.Length) units.Volume {
			return units.CubicMillimetre.OfRat(new(big.Rat).Mul(square, h.Rat(units.Millimetre)))
		}
		return units.Between(at(height.Lo()), at(height.Hi()))
	}
	return timesPi(of(diameter.Lo()).Hull(of(diameter.Hi())))
}
