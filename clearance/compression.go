package clearance

import (
	"math/big"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A Compression is what encloses the charge of one cylinder at top dead centre.
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

// Check returns an error of kind measure.ErrNotPositive, naming it, for a bore, stroke
// or gasket that is not above zero, or a chamber below zero, or one that lacks a
// bound; of kind measure.ErrNotMeasured for one that was not given. A flat crown, and one
// level with the deck, are given as zero.
func (c Compression) Check() error {
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
	if c.Chamber.IsEmpty() {
		return &units.Error{Kind: measure.ErrNotMeasured, Where: "chamber", Fix: "give its volume, such as 41.2 cm³"}
	}
	if !c.Chamber.Bounded() || c.Chamber.Lo().Sign() < 0 {
		return &units.Error{Kind: measure.ErrNotPositive, Where: "chamber", Found: c.Chamber.String(), Fix: "give its volume, zero or more, with both its bounds"}
	}
	if !c.Dish.Bounded() || !c.Deck.Bounded() {
		return &units.Error{Kind: measure.ErrNotMeasured, Where: "dish and deck height", Fix: "give both with both their bounds"}
	}
	return nil
}

// Swept returns the swept volume of the cylinder, V = π/4·B²·S, with B the bore
// and S the stroke. It is empty where one of them is not given.
func (c Compression) Swept() units.VolumeInterval { return cylinder(c.Bore, c.Stroke) }

// Clearance returns the volume over the piston at top dead centre: chamber,
// dish, gasket and deck,
//
//	V_c = V_chamber + V_dish + π/4·(G²·s + B²·h)
//
// with G the gasket's bore and s its thickness, B the cylinder's bore and h the
// deck height; by worst case. It is empty where a size is not given. The crevice
// above the top ring is left out.
func (c Compression) Clearance() units.VolumeInterval {
	return c.Chamber.Add(c.Dish).Add(cylinder(c.GasketBore, c.GasketThickness)).Add(cylinder(c.Bore, c.Deck))
}

// Ratio returns bounds of the compression ratio, (V + V_c)/V_c, exactly up to the
// bounds of π. The bore is taken to vary independently in V and V_c, so the bounds
// are a little wide. The error is that of Check, or of kind measure.ErrNotPositive if
// there may be no volume left over the piston: it would touch the head.
func (c Compression) Ratio() (lo, hi *big.Rat, err error) {
	if err := c.Check(); err != nil {
		return nil, nil, err
	}
	left := c.Clearance()
	if left.Lo().Sign() <= 0 {
		return nil, nil, &units.Error{Kind: measure.ErrNotPositive, Where: "volume over the piston", Found: left.String(), Fix: "check the deck height and the volumes"}
	}
	swept, one := c.Swept(), big.NewRat(1, 1)
	lo, hi = swept.Lo().Ratio(left.Hi()), swept.Hi().Ratio(left.Lo())
	return lo.Add(lo, one), hi.Add(hi, one), nil
}

// Working shows Ratio, volumes in the unit given, rounded outward to three places.
// The error is that of Ratio.
func (c Compression) Working(lengths units.LengthUnit, volumes units.Unit[units.VolumeDim]) (units.Working, error) {
	lo, hi, err := c.Ratio()
	if err != nil {
		return units.Working{}, err
	}
	const places = 3
	swept, left := c.Swept().FormatOutward(volumes, places), c.Clearance().FormatOutward(volumes, places)
	return units.Working{
		Name:    "compression ratio",
		Formula: "ε = (V + V_c)/V_c",
		Numbers: "(" + swept + " + " + left + ")/(" + left + ")",
		Result:  roundedDown(lo) + ".." + roundedUp(hi),
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

// roundedDown and roundedUp write a ratio to two places, outward.
func roundedDown(r *big.Rat) string { return hundredths(r, 0) }
func roundedUp(r *big.Rat) string   { return hundredths(r, 1) }

// hundredths writes r cut to hundredths, with more added if it was cut.
func hundredths(r *big.Rat, more int64) string {
	n := new(big.Rat).Mul(r, big.NewRat(100, 1))
	whole := new(big.Int).Quo(n.Num(), n.Denom())
	if !n.IsInt() {
		whole.Add(whole, big.NewInt(more))
	}
	return new(big.Rat).SetFrac(whole, big.NewInt(100)).FloatString(2)
}

// cylinder returns the volume of a cylinder, π/4·d²·h, for a diameter above zero.
func cylinder(diameter, height units.LengthInterval) units.VolumeInterval {
	if !diameter.Bounded() || !height.Bounded() {
		return units.VolumeInterval{}
	}
	piLo, piHi := piBounds()
	volume := func(d, h units.Length, pi *big.Rat) units.Volume {
		v := d.Rat(units.Millimetre)
		v.Mul(v, v)
		v.Mul(v, h.Rat(units.Millimetre))
		v.Mul(v, pi)
		return units.CubicMillimetre.OfRat(v.Mul(v, big.NewRat(1, 4)))
	}
	// The bounds are among the corners; of a negative height the larger cylinder
	// is the smaller volume.
	small := units.Between(volume(diameter.Lo(), height.Lo(), piLo), volume(diameter.Hi(), height.Lo(), piHi))
	large := units.Between(volume(diameter.Lo(), height.Hi(), piLo), volume(diameter.Hi(), height.Hi(), piHi))
	return small.Hull(large)
}
