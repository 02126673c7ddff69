package preload

import (
	"fmt"
	"math"
	"math/big"

	"example.com/closefit/fasteners"
	"example.com/closefit/units"
)

// strengthRatios are X of BreakingTorque, in thousandths, by class.
var strengthRatios = map[string]int64{"8.8": 840, "9.8": 815, "10.9": 790, "12.9": 750}

// BreakingTorque returns the least torque that twists a bolt off when nothing rubs under its head:
//
//	MB = X Rm · π/16 d3³,   d3 = d2min - 0.616025 P
//
// Rm is the least tensile strength, X the ratio of shear to tensile strength of the class, d3 the
// least root diameter, d2min the least pitch diameter of 6g, P the pitch. It is a test of the bolt
// and not a torque to tighten to: a bolt whose thread binds takes all of the torque in its shank
// and comes off at this one. The result is in float64, rounded down to 0.001 N·m; the standard
// prints two digits.
//
// The error is of kind ErrImpossible for a unified thread, a diameter outside 1 mm to 10 mm, and a
// class other than 8.8, 9.8, 10.9 and 12.9, for which the standard has no torque.
//
// Source: ISO 898-7:1992, formula (read in a reproduction); X, and d3 by ASME B1.13M, from memory.
// They give the standard's table.
func BreakingTorque(s fasteners.Strength) (units.Torque, error) {
	t := s.Thread
	ratio, known := strengthRatios[s.Class]
	if !known || t.IsUnified() || t.Major().Less(units.Millimetre.OfInt(1)) || units.Millimetre.OfInt(10).Less(t.Major()) {
		return units.Torque{}, impossible("breaking torque", fmt.Sprintf("%v of class %s", t, s.Class), "ask for M1 to M10 of the classes 8.8 to 12.9: the standard has no others")
	}
	if _, err := s.Load(s.Tensile); err != nil {
		return units.Torque{}, err
	}
	limits, err := t.Limits("6g")
	if err != nil {
		return units.Torque{}, err
	}
	d3 := limits.Pitch.Lo().Sub(t.Pitch().MulRat(big.NewRat(616025, 1000000))).Float64(units.Millimetre)
	nmm := float64(ratio) / 1000 * s.Tensile.Float64(units.Megapascal) * math.Pi / 16 * d3 * d3 * d3
	return nearly(units.NewtonMetre, math.Floor(nmm)/1000, 3), nil
}

// keyTorques are the torques of ISO 2936, in hundredths of a newton metre, by the width across
// flats in tenths of a millimetre.
var keyTorques = map[int64]int64{
	7: 8, 9: 18, 13: 53, 15: 82, 20: 190, 25: 380, 30: 660, 40: 1600, 50: 3000, 60: 5200, 80: 12000, 100: 22000,
	120: 37000, 140: 59000, 170: 98000, 190: 136000, 220: 211000, 240: 275000,
}

// KeyTorque returns the least torque that a standard key for a hexagon socket has to stand, by the
// width across flats. Above it the key, or the socket that it turns in, may give way before the
// wrench clicks. A good bit may stand more: its maker says so.
//
// The error is of kind ErrImpossible for a width that the standard's table does not have, of which
// 27 mm and above were not read.
//
// Source: ISO 2936, read as JIS B 4648:2008, table of hexagon keys. What the heads themselves
// stand, hexagons, twelve points and six lobes, was not found in a source and is left out.
func KeyTorque(acrossFlats units.Length) (units.Torque, error) {
	tenths := acrossFlats.Rat(units.Millimetre)
	tenths.Mul(tenths, big.NewRat(10, 1))
	if tenths.IsInt() && tenths.Num().IsInt64() {
		if hundredths, ok := keyTorques[tenths.Num().Int64()]; ok {
			return units.NewtonMetre.OfRat(big.NewRat(hundredths, 100)), nil
		}
	}
	return units.Torque{}, impossible("key for a hexagon socket", acrossFlats.String(), `write its width across flats, as in "8 mm"; the standard has 0.7 to 24 mm`)
}
