package units_test

import (
	"testing"

	"example.com/closefit/units"
)

// The zero interval says nothing: it has no bound, and no comparison with it holds.
func TestZeroIntervalIsEmpty(t *testing.T) {
	var none units.LengthInterval
	zero := units.Exactly(units.Length{})
	limits := units.MustParseLengthInterval("0..0.02 mm")
	any := units.AtMost(units.Length{}).Hull(units.AtLeast(units.Length{}))
	if !none.IsEmpty() || none.HasLo() || none.HasHi() || none.Bounded() || none.IsPoint() {
		t.Error("the zero interval has bounds")
	}
	if !none.Equal(none) {
		t.Error("the empty interval does not equal itself")
	}
	for _, other := range []units.LengthInterval{zero, limits, any, units.AtMost(units.Length{})} {
		switch {
		case other.IsEmpty():
			t.Errorf("%s is empty", other)
		case none.Equal(other) || other.Equal(none):
			t.Errorf("nothing equals %s", other)
		case none.Within(other) || other.Within(none):
			t.Errorf("nothing lies within %s, or the other way round", other)
		case none.Below(other) || other.Below(none) || none.Overlaps(other) || other.Overlaps(none):
			t.Errorf("nothing lies beside %s", other)
		case !none.Hull(other).Equal(other) || !other.Hull(none).Equal(other):
			t.Errorf("nothing widens %s", other)
		case !none.Add(other).IsEmpty() || !other.Sub(none).IsEmpty():
			t.Errorf("a sum with nothing, and %s, is something", other)
		}
		if _, ok := none.Intersect(other); ok {
			t.Errorf("nothing has a value in common with %s", other)
		}
	}
	if none.Contains(units.Length{}) || !none.Neg().IsEmpty() || !none.Outward(units.Millimetre, 2).IsEmpty() {
		t.Error("something came out of nothing")
	}
	if in, err := none.Inward(units.Millimetre, 2); err != nil || !in.IsEmpty() {
		t.Errorf("nothing, inward: %v, %v", in, err)
	}
}
