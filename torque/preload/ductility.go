package preload

import (
	"fmt"

	"example.com/closefit/units"
)

// The functions here explain why a yielded bolt is scrap. They are no permission to use one
// again: the reserve is an upper estimate, and a maker that wants a bolt used once has
// reasons that this arithmetic does not see.

// StretchLeft returns which part of a bolt's reserve of stretch is left after so many uses, at
// the least and at the most, rounded outward to the ninth place:
//
//	1 - n Δl / (A l), but at least 0
//
// n is the number of uses; Δl the permanent stretch of one, State.Stretch; A the elongation
// after fracture of the class, as a part of one; l the length that yields, which is the free
// thread, or the waist of a bolt with one. A l is the most that it can stretch before it
// breaks. A is measured over five diameters with the neck in them, so that the bolt's thread
// gives less.
//
// The error is of kind ErrImpossible for an elongation or a length that is not above zero, a
// stretch below zero or fewer than zero uses. The standard gives no elongation for
// cold-formed classes.
//
// Source: ISO 898-1:2013, 9.7, definition of A; the rest by definition.
func StretchLeft(length units.Length, elongation units.Ratio, perUse units.LengthInterval, uses int) (units.RatioInterval, error) {
	if elongation.Sign() <= 0 {
		return units.RatioInterval{}, impossible("elongation after fracture", elongation.String(), "write it as a part of one, as in 0.09; the standard gives none for cold-formed classes")
	}
	if length.Sign() <= 0 {
		return units.RatioInterval{}, impossible("length that yields", length.String(), "write a length above zero")
	}
	if err := notNegative("permanent stretch of one use", perUse); err != nil {
		return units.RatioInterval{}, err
	}
	if uses < 0 {
		return units.RatioInterval{}, impossible("number of uses", fmt.Sprint(uses), "write zero or more")
	}
	left := func(stretch units.Length) units.Ratio {
		used := units.One.OfRat(stretch.MulInt(int64(uses)).Ratio(reserve(length, elongation)))
		return units.Max(units.Ratio{}, units.One.OfInt(1).Sub(used))
	}
	return units.MustInterval(left(perUse.Hi()), left(perUse.Lo())).Outward(units.One, 9), nil
}

func reserve(length units.Length, elongation units.Ratio) units.Length {
	return length.MulRat(elongation.Rat(units.One))
}

// StretchWorking returns what is left after each of so many uses, with lengths in the unit to
// so many places. The errors are those of StretchLeft.
func StretchWorking(length units.Length, elongation units.Ratio, perUse units.LengthInterval, uses int, u units.LengthUnit, places int32) (units.Working, error) {
	if _, err := StretchLeft(length, elongation, perUse, uses); err != nil {
		return units.Working{}, err
	}
	w := units.Working{
		Name:    "stretch left in a yielded bolt, at the most",
		Formula: "1 - n Δl / (A l)",
		Numbers: fmt.Sprintf("Δl = %s, A = %s, l = %s, A l = %s", perUse.FormatOutward(u, places), elongation.Written(units.Percent),
			length.Format(u, places, units.HalfEven), reserve(length, elongation).Format(u, places, units.HalfEven)),
		Source: "ISO 898-1:2013, 9.7, for the elongation",
		Notes: []string{
			"a bolt that was tightened past yield is scrap: this shows why, and permits nothing",
			"the engine maker's manual comes first",
		},
	}
	for n := range uses {
		left, err := StretchLeft(length, elongation, perUse, n+1)
		if err != nil {
			return units.Working{}, err
		}
		w.Steps = append(w.Steps, units.Working{Name: fmt.Sprintf("after use %d", n+1), Result: left.FormatOutward(units.Percent, 0)})
	}
	return w, nil
}
