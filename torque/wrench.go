package torque

import (
	"errors"
	"fmt"
	"math/big"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
)

// The kinds of error of a tool. A *ToolError wraps one of them.
var (
	ErrTool      = errors.New("not a possible tool")
	ErrRange     = errors.New("target outside the tool's range")
	ErrTolerance = errors.New("no setting within the tolerance")
)

// A ToolError says what about a tool cannot be and what to do instead.
type ToolError struct {
	What string // what was found
	Fix  string // what to do instead
	Kind error  // ErrTool, ErrRange or ErrTolerance
}

func (e *ToolError) Error() string { return fmt.Sprintf("%s: %v; %s", e.What, e.Kind, e.Fix) }

// Unwrap returns the error's kind.
func (e *ToolError) Unwrap() error { return e.Kind }

// A Wrench is a torque wrench that can be set at its graduations alone.
type Wrench struct {
	Range      units.TorqueInterval // from its lowest to its highest setting
	Graduation units.Torque         // from one setting to the next, counted from the lowest
	// Accuracy is the relative deviation that the wrench may have, as ISO 6789 states it: how
	// far the setting may lie from the torque that is applied, as a part of that torque. It
	// is 0.04 for ±4 % (type II class A up to 10 N·m is ±6 %, above ±4 %; from memory).
	Accuracy decimal.Decimal
}

// A Setting is one graduation that a wrench can be set to for a target.
type Setting struct {
	Set    units.Torque
	Off    units.Torque         // Set less the target
	OffBy  *big.Rat             // Off as a part of the target
	Torque units.TorqueInterval // what the bolt gets, with the wrench's accuracy
}

// Settings are the graduations next to a target. When the target is a graduation itself,
// all three are that.
type Settings struct {
	Below, Above Setting
	Nearest      Setting // which one to set; of two equally near, the lower
}

func (w Wrench) check() error {
	switch {
	case !w.Range.Bounded() || w.Range.Lo().Sign() < 0 || w.Range.Hi().Sign() <= 0:
		return &ToolError{What: "a wrench with the range " + w.Range.String(), Fix: `write its lowest and highest setting, as in "20..100 N·m"`, Kind: ErrTool}
	case w.Graduation.Sign() <= 0:
		return &ToolError{What: "a wrench with the graduation " + w.Graduation.String(), Fix: `write the step from one mark to the next, as in "1 N·m"`, Kind: ErrTool}
	case !w.Range.IsPoint() && w.Range.Width().Less(w.Graduation):
		return &ToolError{What: fmt.Sprintf("a wrench for %v with the graduation %v, larger than its range", w.Range, w.Graduation), Fix: `write the step from one mark to the next, as in "1 N·m"`, Kind: ErrTool}
	case w.Accuracy.Sign() < 0 || w.Accuracy.Cmp(decimal.New(1, 0)) >= 0:
		return &ToolError{What: "a wrench with the accuracy " + w.Accuracy.String(), Fix: "write a part of one, as in 0.04 for ±4 %", Kind: ErrTool}
	}
	return nil
}

// Settings returns the graduations on both sides of a target torque and which one is
// nearer, exactly. A graduation beyond the wrench's range is left out: then both sides are
// the same.
//
// The error wraps ErrTool for a wrench that cannot be, ErrRange for a target that the
// wrench's range excludes.
func (w Wrench) Settings(target units.Torque) (Settings, error) {
	if err := w.check(); err != nil {
		return Settings{}, err
	}
	if target.Sign() <= 0 || !w.Range.Contains(target) {
		return Settings{}, &ToolError{What: fmt.Sprintf("a target of %v on a wrench for %v", target, w.Range), Fix: "take a wrench whose range holds it, best in its middle", Kind: ErrRange}
	}
	steps := target.Sub(w.Range.Lo()).Ratio(w.Graduation)
	whole := new(big.Int).Quo(steps.Num(), steps.Denom())
	below := w.Range.Lo().Add(w.Graduation.MulRat(new(big.Rat).SetInt(whole)))
	above := below
	if !below.Equal(target) {
		above = below.Add(w.Graduation)
	}
	if w.Range.Hi().Less(above) {
		above = below
	}
	s := Settings{Below: w.setting(below, target), Above: w.setting(above, target)}
	s.Nearest = s.Below
	if s.Above.Off.Abs().Less(s.Below.Off.Abs()) {
		s.Nearest = s.Above
	}
	return s, nil
}

func (w Wrench) setting(set, target units.Torque) Setting {
	off := set.Sub(target)
	return Setting{
		Set: set, Off: off, OffBy: off.Ratio(target),
		Torque: w.At(set),
	}
}

// At returns what a bolt gets at a setting, with the wrench's accuracy:
//
//	T = S / (1 + a) .. S / (1 - a)
//
// S is the setting, a the accuracy, T the torque that is applied. A tool is tested by
// reading the applied torque on a reference, and the deviation is a part of that
// reading, (S - T)/T, so that a wrench good to 4 % reaches further above its setting than
// below. The bounds are exact; Format rounds them outward. For an accuracy that is not in
// 0 <= a < 1 nothing is known, and the interval is empty.
//
// Source: ISO 6789-1:2017, clause 7, calculation of deviation (from memory).
func (w Wrench) At(set units.Torque) units.TorqueInterval {
	if w.Accuracy.Sign() < 0 || w.Accuracy.Cmp(decimal.New(1, 0)) >= 0 {
		return units.TorqueInterval{}
	}
	one, a := big.NewRat(1, 1), w.Accuracy.Rat()
	above, below := new(big.Rat).Sub(one, a), new(big.Rat).Add(one, a)
	return units.Between(set.MulRat(below.Inv(below)), set.MulRat(above.Inv(above)))
}

// SettingWithin returns the graduation to set for a tolerance, so that with the wrench's
// accuracy the torque stays within it; of several, the one nearest to the middle.
//
// The error wraps ErrTool for a wrench that cannot be, ErrRange for a tolerance whose middle
// the wrench's range excludes, ErrTolerance if no graduation next to the middle keeps within
// the tolerance.
func (w Wrench) SettingWithin(tolerance units.TorqueInterval) (Setting, error) {
	if !tolerance.Bounded() {
		return Setting{}, &ToolError{What: "a tolerance of " + tolerance.String(), Fix: `write both bounds, as in "28..32 N·m"`, Kind: ErrTolerance}
	}
	s, err := w.Settings(tolerance.Mid())
	if err != nil {
		return Setting{}, err
	}
	for _, candidate := range []Setting{s.Nearest, s.Below, s.Above} {
		if candidate.Torque.Within(tolerance) {
			return candidate, nil
		}
	}
	return Setting{}, &ToolError{
		What: fmt.Sprintf("a tolerance of %v, where the nearest setting %v gives %s", tolerance, s.Nearest.Set, s.Nearest.Torque.FormatOutward(units.NewtonMetre, 3)),
		Fix:  "take a finer or more accurate wrench",
		Kind: ErrTolerance,
	}
}

// String returns the setting in words, in newton metres: "set 23 N·m, 0.2 N·m above the
// target (+0.67 %)".
func (s Setting) String() string { return s.In(units.NewtonMetre, 2) }

// In returns the setting in words, in the unit to so many places.
func (s Setting) In(u units.TorqueUnit, places int32) string {
	text := "set " + s.Set.Format(u, places, units.HalfEven)
	if s.Off.IsZero() {
		return text + ", the target itself"
	}
	side := "above"
	if s.Off.Sign() < 0 {
		side = "below"
	}
	off := new(big.Rat).Mul(s.OffBy, big.NewRat(100, 1))
	return fmt.Sprintf("%s, %s %s the target (%s %%)", text, s.Off.Abs().Format(u, places, units.HalfEven), side, signed(off.FloatString(2)))
}

// signed puts a plus before a number without a minus.
func signed(number string) string {
	if number[0] == '-' {
		return number
	}
	return "+" + number
}
