package preload

import (
	"fmt"
	"math"
	"math/big"
	"slices"

	"example.com/closefit/units"
)

// A Wrench is a torque wrench that can only be set at its graduations, with what stands between
// its drive and the bolt.
type Wrench struct {
	Range      units.TorqueInterval `json:"range"`      // from its lowest to its highest setting
	Graduation units.Torque         `json:"graduation"` // from one setting to the next, counted from the lowest
	// Accuracy is the relative deviation that the wrench may have, as ISO 6789 states it: how
	// far the setting may lie from the torque that is applied, as a part of that torque. It
	// is 0.04 for ±4 % (type II class A up to 10 N·m is ±6 %, above ±4 %; from memory).
	Accuracy  units.Ratio `json:"accuracy"`
	Extension *Extension  `json:"extension"` // nil if the bolt is in line with the drive
}

// An Extension is an offset adapter, such as a crow's foot: it changes the lever, so that the
// bolt gets another torque than the wrench shows. One that only makes the drive longer along its
// own axis changes nothing.
type Extension struct {
	Lever  units.Length `json:"lever"`  // from the wrench's drive to the middle of the hand, along the wrench
	Offset units.Length `json:"offset"` // from the wrench's drive to the bolt
	Angle  units.Angle  `json:"angle"`  // between offset and wrench: 0° adds to the lever, 180° takes away, 90° changes nothing
}

// check refuses a wrench that cannot be, and returns its leverage.
func (w Wrench) check() (*big.Rat, error) {
	switch {
	case !w.Range.Bounded() || w.Range.Lo().Sign() < 0 || w.Range.Hi().Sign() <= 0:
		return nil, impossible("wrench", "the range "+w.Range.String(), `write its lowest and highest setting, as in "20..100 N·m"`)
	case w.Graduation.Sign() <= 0:
		return nil, impossible("wrench", "the graduation "+w.Graduation.String(), `write the step from one mark to the next, as in "1 N·m"`)
	case !w.Range.IsPoint() && w.Range.Width().Less(w.Graduation):
		return nil, impossible("wrench", fmt.Sprintf("the graduation %v, larger than its range %v", w.Graduation, w.Range), `write the step from one mark to the next, as in "1 N·m"`)
	case w.Accuracy.Sign() < 0 || !w.Accuracy.Less(units.One.OfInt(1)):
		return nil, impossible("wrench", "the accuracy "+w.Accuracy.String(), "write a part of one, as in 0.04 for ±4 %")
	case w.Extension == nil:
		return big.NewRat(1, 1), nil
	}
	return w.Extension.leverage()
}

// leverage returns the torque at the bolt for each newton metre on the wrench,
// ( L + E cos β ) / L.
func (e Extension) leverage() (*big.Rat, error) {
	switch {
	case e.Lever.Sign() <= 0:
		return nil, impossible("lever of the wrench", e.Lever.String(), "measure from the middle of the drive to the middle of the hand")
	case e.Offset.Sign() < 0:
		return nil, impossible("offset of the extension", e.Offset.String(), "write it as a length above zero, and give the angle")
	}
	whole := e.Lever.Add(e.Offset.MulRat(cosine(e.Angle)))
	if whole.Sign() <= 0 {
		return nil, impossible("extension", fmt.Sprintf("%v at %v on a lever of %v, which leaves no lever", e.Offset, e.Angle, e.Lever), "turn it the other way")
	}
	return whole.Ratio(e.Lever), nil
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

// Applied returns the torque that the bolt gets at a setting, with the wrench's accuracy and its
// extension, rounded outward to 1 nN·m:
//
//	T = S/(1 + a) · (L + E cos β)/L  ..  S/(1 - a) · (L + E cos β)/L
//
// S is the setting, a the accuracy, L the lever, E the offset, β the angle between them. A tool
// is tested by reading the applied torque on a reference, and the deviation is a part of that
// reading, (S - T)/T, so that a wrench good to 4 % reaches further above its setting than
// below. The cosine is exact at multiples of 60° and 90°; at other angles it comes from float64,
// rounded to 12 places. The force must be at the middle of the hand, square to the wrench.
//
// The error is of kind ErrImpossible for a wrench that cannot be, a setting outside its range, a
// lever not above zero, an offset below zero, or an extension that leaves no lever.
//
// Source: ISO 6789-1:2017, clause 7, calculation of deviation (from memory); moments about the
// bolt.
func (w Wrench) Applied(set units.Torque) (units.TorqueInterval, error) {
	leverage, err := w.check()
	if err != nil {
		return units.TorqueInterval{}, err
	}
	if !w.Range.Contains(set) {
		return units.TorqueInterval{}, impossible("setting", fmt.Sprintf("%v on a wrench for %v", set, w.Range), "write one that the wrench has")
	}
	return w.applied(set, leverage).Outward(units.NewtonMetre, 9), nil
}

// applied is Applied, exactly.
func (w Wrench) applied(set units.Torque, leverage *big.Rat) units.TorqueInterval {
	high, low := w.deviations()
	at := set.MulRat(leverage)
	return units.MustInterval(at.MulRat(high.Inv(high)), at.MulRat(low.Inv(low)))
}

// deviations returns the most and the least that the wrench may show for each newton metre that
// it applies, 1 + a and 1 - a.
func (w Wrench) deviations() (high, low *big.Rat) {
	one, a := big.NewRat(1, 1), w.Accuracy.Rat(units.One)
	return new(big.Rat).Add(one, a), new(big.Rat).Sub(one, a)
}

// Settings returns what to set on the wrench for a torque at the bolt, exactly: the graduations
// on both sides of it, the nearest first, and the lower first if both are equally near. There is
// only one where the target is a graduation itself, or lies between the last graduation and the
// end of the range. For a target with a tolerance, "28..32 N·m", the settings are those next to
// its middle that keep all the bolt may get, as Applied says, within the tolerance.
//
// The error is of kind ErrImpossible for a target not above zero or without both bounds, one
// outside the wrench's range, a tolerance that no graduation keeps, and as that of Applied.
func (w Wrench) Settings(target units.TorqueInterval) ([]units.Torque, error) {
	leverage, err := w.check()
	if err != nil {
		return nil, err
	}
	if err := positive("target", target, `write a torque above zero, or both bounds, as in "28..32 N·m"`); err != nil {
		return nil, err
	}
	toScale := new(big.Rat).Inv(leverage)
	aim := target.Mid().MulRat(toScale)
	if !target.IsPoint() {
		// The settings that keep the tolerance lie between lo (1 + a) and hi (1 - a), on the scale.
		high, low := w.deviations()
		lowest, highest := target.Lo().MulRat(high).MulRat(toScale), target.Hi().MulRat(low).MulRat(toScale)
		if !highest.Less(lowest) {
			aim = units.Max(lowest, units.Min(aim, highest))
		}
		if !w.Range.Hi().Less(lowest) && !highest.Less(w.Range.Lo()) {
			aim = units.Max(w.Range.Lo(), units.Min(aim, w.Range.Hi()))
		}
	}
	if !w.Range.Contains(aim) {
		found := target.String()
		if w.Extension != nil {
			found += fmt.Sprintf(", with the extension %v", aim)
		}
		return nil, impossible("target", fmt.Sprintf("%s on a wrench for %v", found, w.Range), "take a wrench whose range holds it, best in its middle")
	}
	steps := aim.Sub(w.Range.Lo()).Ratio(w.Graduation)
	whole := new(big.Int).Quo(steps.Num(), steps.Denom())
	below := w.Range.Lo().Add(w.Graduation.MulRat(new(big.Rat).SetInt(whole)))
	above := below.Add(w.Graduation)
	settings := []units.Torque{below, above}
	switch {
	case below.Equal(aim) || w.Range.Hi().Less(above):
		settings = settings[:1]
	case above.Sub(aim).Less(aim.Sub(below)):
		slices.Reverse(settings)
	}
	if target.IsPoint() {
		return settings, nil
	}
	nearest := settings[0]
	settings = slices.DeleteFunc(settings, func(s units.Torque) bool { return !w.applied(s, leverage).Within(target) })
	if len(settings) == 0 {
		return nil, impossible("target", fmt.Sprintf("%v, where the nearest setting %v gives %s", target, nearest, w.applied(nearest, leverage).FormatOutward(units.NewtonMetre, 3)), "take a finer or more accurate wrench")
	}
	return settings, nil
}

// Working shows what to set for a torque at the bolt and what the bolt then gets, for checking by
// hand, in the unit to so many places. The errors are those of Settings.
func (w Wrench) Working(target units.TorqueInterval, u units.TorqueUnit, places int32) (units.Working, error) {
	settings, err := w.Settings(target)
	if err != nil {
		return units.Working{}, err
	}
	leverage, err := w.check()
	if err != nil {
		return units.Working{}, err
	}
	show := func(t units.Torque) string { return t.Format(u, places, units.HalfEven) }
	aim := target.Mid().MulRat(new(big.Rat).Inv(leverage))
	working := units.Working{
		Name:   "setting of the wrench for " + target.FormatOutward(u, places),
		Source: "ISO 6789-1:2017, for the accuracy",
	}
	formula := "T = S/(1 + a) .. S/(1 - a)"
	if e := w.Extension; e != nil {
		formula = "T = S/(1 + a) (L + E cos β)/L .. S/(1 - a) (L + E cos β)/L"
		working.Steps = append(working.Steps, units.Working{
			Name:    "with the extension",
			Formula: "TW = TB L / ( L + E cos β )",
			Numbers: fmt.Sprintf("TB = %s, L = %v, E = %v, β = %v", show(target.Mid()), e.Lever, e.Offset, e.Angle),
			Result:  show(aim),
			Source:  "moments about the bolt",
			Notes:   []string{"the hand must be where L was measured to"},
		})
	}
	for _, s := range settings {
		off := units.One.OfRat(s.Sub(aim).Ratio(aim)).Format(units.Percent, 2, units.HalfEven)
		side := " above"
		if s.Less(aim) {
			side, off = " below", off[1:]
		}
		step := units.Working{
			Name: "set " + show(s), Formula: formula, Numbers: fmt.Sprintf("S = %s, a = %s", show(s), w.Accuracy.Written(units.Percent)),
			Result: w.applied(s, leverage).FormatOutward(u, places) + " at the bolt",
		}
		if !s.Equal(aim) {
			step.Notes = []string{"the setting lies " + off + side + " the target"}
		}
		working.Steps = append(working.Steps, step)
	}
	return working, nil
}
