package isofit

import (
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A Design is a fit wanted by its smallest clearance and its two tolerances,
// before limits of size are chosen. An interference is a negative clearance: the
// largest interference is the smallest clearance.
type Design struct {
	Nominal           units.Length `json:"nominal"`
	HoleTolerance     units.Length `json:"holeTolerance"`
	ShaftTolerance    units.Length `json:"shaftTolerance"`
	SmallestClearance units.Length `json:"smallestClearance"`
}

// HoleBasis returns the limits of size of a hole that begins at the nominal size, as
// all holes of letter H do, and of its shaft. The error is of kind
// [measure.ErrNotPositive] for a negative tolerance.
//
//	hole  = nominal .. nominal + hole tolerance
//	shaft max = nominal - smallest clearance, shaft min = shaft max - shaft tolerance
func (d Design) HoleBasis() (hole, shaft units.LengthInterval, err error) {
	if err := d.check(); err != nil {
		return hole, shaft, err
	}
	largest := d.Nominal.Sub(d.SmallestClearance)
	return units.Between(d.Nominal, d.Nominal.Add(d.HoleTolerance)), units.Between(largest.Sub(d.ShaftTolerance), largest), nil
}

// ShaftBasis returns the limits of size of a shaft that ends at the nominal size, as
// all shafts of letter h do, and of its hole. The error is as HoleBasis's.
//
//	shaft = nominal - shaft tolerance .. nominal
//	hole min = nominal + smallest clearance, hole max = hole min + hole tolerance
func (d Design) ShaftBasis() (hole, shaft units.LengthInterval, err error) {
	if err := d.check(); err != nil {
		return hole, shaft, err
	}
	smallest := d.Nominal.Add(d.SmallestClearance)
	return units.Between(smallest, smallest.Add(d.HoleTolerance)), units.Between(d.Nominal.Sub(d.ShaftTolerance), d.Nominal), nil
}

func (d Design) check() error {
	for _, t := range []struct {
		of    string
		width units.Length
	}{{"hole", d.HoleTolerance}, {"shaft", d.ShaftTolerance}} {
		if t.width.Sign() < 0 {
			return &units.Error{Kind: measure.ErrNotPositive, Where: "tolerance of the " + t.of, Found: t.width.String(), Fix: "write the width of the limits, such as 0.02 mm"}
		}
	}
	return nil
}

// UnmarshalJSON reads the exchange form; a missing key is an error.
func (d *Design) UnmarshalJSON(data []byte) error {
	type design Design
	return units.DecodeObject(data, (*design)(d))
}
