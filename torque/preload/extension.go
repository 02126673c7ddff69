package preload

import (
	"fmt"
	"math"
	"math/big"

	"example.com/closefit/units"
)

// An Extension is an offset adapter, such as a crow's foot, on a torque wrench: it changes
// the lever, so that the bolt gets another torque than the wrench shows. An extension that
// only makes the drive longer along its own axis changes nothing.
type Extension struct {
	Lever  units.Length `json:"lever"`  // from the wrench's drive to the middle of the hand, along the wrench
	Offset units.Length `json:"offset"` // from the wrench's drive to the bolt
	Angle  units.Angle  `json:"angle"`  // between offset and wrench: 0° adds to the lever, 180° takes away, 90° changes nothing
}

// Setting returns what to set on the wrench so that the bolt gets a torque:
//
//	TW = TB L / ( L + E cos β )
//
// TW is the torque on the wrench, TB that on the bolt, L the lever, E the offset, β the
// angle between them. It is exact at 0°, 60°, 90°, 120° and 180°; at other angles the
// cosine comes from float64, rounded to 12 places. The force must be at the middle of the
// hand, square to the wrench.
//
// The error wraps ErrImpossible for a lever not above zero, an offset below zero, or an extension
// that leaves no lever.
//
// Source: moments about the bolt.
func (e Extension) Setting(bolt units.Torque) (units.Torque, error) {
	whole, err := e.whole()
	if err != nil {
		return units.Torque{}, err
	}
	return bolt.MulRat(e.Lever.Ratio(whole)), nil
}

// Bolt returns the torque that the bolt gets at a setting, Setting solved for TB. The
// errors are those of Setting.
func (e Extension) Bolt(set units.Torque) (units.Torque, error) {
	whole, err := e.whole()
	if err != nil {
		return units.Torque{}, err
	}
	return set.MulRat(whole.Ratio(e.Lever)), nil
}

// Working returns what to set for a torque at the bolt, for checking by hand, in the unit to
// so many places. The errors are those of Setting.
func (e Extension) Working(bolt units.Torque, u units.TorqueUnit, places int32) (units.Working, error) {
	set, err := e.Setting(bolt)
	if err != nil {
		return units.Working{}, err
	}
	return units.Working{
		Name:    "setting with an offset extension",
		Formula: "TW = TB L / ( L + E cos β )",
		Numbers: fmt.Sprintf("TB = %s, L = %v, E = %v, β = %v", bolt.Format(u, places, units.HalfEven), e.Lever, e.Offset, e.Angle),
		Result:  set.Format(u, places, units.HalfEven),
		Source:  "moments about the bolt",
		Notes:   []string{"the hand must be where L was measured to"},
	}, nil
}

// whole returns the lever from the hand to the bolt, along the wrench.
func (e Extension) whole() (units.Length, error) {
	switch {
	case e.Lever.Sign() <= 0:
		return units.Length{}, impossible("lever of the wrench", e.Lever.String(), "measure from the middle of the drive to the middle of the hand")
	case e.Offset.Sign() < 0:
		return units.Length{}, impossible("offset of the extension", e.Offset.String(), "write it as a length above zero, and give the angle")
	}
	whole := e.Lever.Add(e.Offset.MulRat(cosine(e.Angle)))
	if whole.Sign() <= 0 {
		return units.Length{}, impossible("extension", fmt.Sprintf("%v at %v on a lever of %v, which leaves no lever", e.Offset, e.Angle, e.Lever), "turn it the other way")
	}
	return whole, nil
}

// cosine returns the cosine of an angle, exactly where it is a fraction.
func cosine(a units.Angle) *big.Rat {
	degrees := a.Abs().Rat(units.Degree)
	if degrees.IsInt() {
		switch degrees.Num().Int64() % 360 {
		case 0:
			return big.NewRat(1, 1)
		case 60, 300:
			return big.NewRat(1, 2)
		case 90, 270:
			return new(big.Rat)
		case 120, 240:
			return big.NewRat(-1, 2)
		case 180:
			return big.NewRat(-1, 1)
		}
	}
	f, _ := degrees.Float64()
	return nearly(units.One, math.Cos(math.Mod(f, 360)/180*math.Pi), 12).Rat(units.One)
}
