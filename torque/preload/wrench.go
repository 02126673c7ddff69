package preload

import (
	"fmt"
	"math/big"

	"example.com/closefit/units"
)

// A Wrench is a torque wrench that can be set at its graduations alone.
type Wrench struct {
	Range      units.TorqueInterval `json:"range"`      // from its lowest to its highest setting
	Graduation units.Torque         `json:"graduation"` // from one setting to the next, counted from the lowest
	// Accuracy is the relative deviation that the wrench may have, as ISO 6789 states it: how
	// far the setting may lie from the torque that is applied, as a part of that torque. It
	// is 0.04 for ±4 % (type II class A up to 10 N·m is ±6 %, above ±4 %; from memory).
	Accuracy units.Ratio `json:"accuracy"`
}

// A Setting is one graduation that a wrench can be set to for a target.
type Setting struct {
	Set    units.Torque         `json:"set"`
	Off    units.Torque         `json:"off"`    // Set less the target
	OffBy  units.Ratio          `json:"off_by"` // Off as a part of the target
	Torque units.TorqueInterval `json:"torque"` // what the bolt gets, with the wrench's accuracy
}

func (w Wrench) check() error {
	switch {
	case !w.Range.Bounded() || w.Range.Lo().Sign() < 0 || w.Range.Hi().Sign() <= 0:
		return impossible("wrench", "the range "+w.Range.String(), `write its lowest and highest setting, as in "20..100 N·m"`)
	case w.Graduation.Sign() <= 0:
		return impossible("wrench", "the graduation "+w.Graduation.String(), `write the step from one mark to the next, as in "1 N·m"`)
	case !w.Range.IsPoint() && w.Range.Width().Less(w.Graduation):
		return impossible("wrench", fmt.Sprintf("the graduation %v, larger than its range %v", w.Graduation, w.Range), `write the step from one mark to the next, as in "1 N·m"`)
	case w.Accuracy.Sign() < 0 || !w.Accuracy.Less(units.One.OfInt(1)):
		return impossible("wrench", "the accuracy "+w.Accuracy.String(), "write a part of one, as in 0.04 for ±4 %")
	}
	return nil
}

// Settings returns the graduations on both sides of a target torque, exactly, the nearest
// first, and of two equally near the lower. There is one alone where the target is a
// graduation itself, or lies between the last graduation and the end of the range.
//
// The error wraps ErrImpossible for a wrench that cannot be, and for a target outside its
// range.
func (w Wrench) Settings(target units.Torque) ([]Setting, error) {
	if err := w.check(); err != nil {
		return nil, err
	}
	if target.Sign() <= 0 || !w.Range.Contains(target) {
		return nil, impossible("target", fmt.Sprintf("%v on a wrench for %v", target, w.Range), "take a wrench whose range holds it, best in its middle")
	}
	steps := target.Sub(w.Range.Lo()).Ratio(w.Graduation)
	whole := new(big.Int).Quo(steps.Num(), steps.Denom())
	set := w.Range.Lo().Add(w.Graduation.MulRat(new(big.Rat).SetInt(whole)))
	below, above := w.setting(set, target), w.setting(set.Add(w.Graduation), target)
	switch {
	case below.Off.IsZero() || w.Range.Hi().Less(above.Set):
		return []Setting{below}, nil
	case above.Off.Less(below.Off.Abs()):
		return []Setting{above, below}, nil
	}
	return []Setting{below, above}, nil
}

func (w Wrench) setting(set, target units.Torque) Setting {
	off := set.Sub(target)
	return Setting{
		Set: set, Off: off, OffBy: units.One.OfRat(off.Ratio(target)),
		Torque: w.at(set),
	}
}

// at returns what a bolt gets at a setting, with the wrench's accuracy:
//
//	T = S / (1 + a) .. S / (1 - a)
//
// S is the setting, a the accuracy, T the torque that is applied. A tool is tested by
// reading the applied torque on a reference, and the deviation is a part of that
// reading, (S - T)/T, so that a wrench good to 4 % reaches further above its setting than
// below. The bounds are rounded outward to 1 nN·m.
//
// Source: ISO 6789-1:2017, clause 7, calculation of deviation (from memory).
func (w Wrench) at(set units.Torque) units.TorqueInterval {
	one, a := big.NewRat(1, 1), w.Accuracy.Rat(units.One)
	above, below := new(big.Rat).Sub(one, a), new(big.Rat).Add(one, a)
	return units.Between(set.MulRat(below.Inv(below)), set.MulRat(above.Inv(above))).Outward(units.NewtonMetre, 9)
}

// SettingWithin returns the graduation to set for a tolerance, so that with the wrench's
// accuracy the torque stays within it; of several, the one nearest to the middle.
//
// The error wraps ErrImpossible for a wrench that cannot be, for a tolerance whose middle its
// range excludes, and if no graduation next to the middle keeps within the tolerance.
func (w Wrench) SettingWithin(tolerance units.TorqueInterval) (Setting, error) {
	if !tolerance.Bounded() {
		return Setting{}, impossible("tolerance", tolerance.String(), `write both bounds, as in "28..32 N·m"`)
	}
	all, err := w.Settings(tolerance.Mid())
	if err != nil {
		return Setting{}, err
	}
	for _, s := range all {
		if s.Torque.Within(tolerance) {
			return s, nil
		}
	}
	return Setting{}, impossible("tolerance",
		fmt.Sprintf("%v, where the nearest setting %v gives %s", tolerance, all[0].Set, all[0].Torque.FormatOutward(units.NewtonMetre, 3)),
		"take a finer or more accurate wrench")
}

// In returns the setting in words, in the unit to so many places: "set 23 N·m, 0.2 N·m above
// the target (+0.67 %)".
func (s Setting) In(u units.TorqueUnit, places int32) string {
	text := "set " + s.Set.Format(u, places, units.HalfEven)
	if s.Off.IsZero() {
		return text + ", the target itself"
	}
	side := "above"
	if s.Off.Sign() < 0 {
		side = "below"
	}
	return fmt.Sprintf("%s, %s %s the target (%s)", text, s.Off.Abs().Format(u, places, units.HalfEven), side, signed(s.OffBy.Format(units.Percent, 2, units.HalfEven)))
}

// signed puts a plus before a number without a minus.
func signed(number string) string {
	if number[0] == '-' {
		return number
	}
	return "+" + number
}
