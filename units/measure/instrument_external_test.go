package measure_test

import (
	"errors"
	"testing"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// TestSplit: 5² - 4² = 3², whatever the unit, and a repeatability that is the whole leaves
// nothing.
func TestSplit(t *testing.T) {
	for _, want := range []struct{ whole, repeats, common string }{
		{"0.005 mm", "0.004 mm", "0.003 mm"},
		{"13 in", "5 in", "12 in"},
		{"0.005 mm", "0.005 mm", "0 mm"},
		{"0.005 mm", "0 mm", "0.005 mm"},
	} {
		got, err := measure.Split(units.MustParseLength(want.whole), units.MustParseLength(want.repeats))
		if err != nil || !got.Equal(units.MustParseLength(want.common)) {
			t.Errorf("%s of which %s repeats: %s, %v; want %s", want.whole, want.repeats, got, err, want.common)
		}
	}
	if _, err := measure.Split(units.MustParseLength("0.004 mm"), units.MustParseLength("0.0041 mm")); !errors.Is(err, measure.ErrOrder) {
		t.Errorf("a part above the whole: %v", err)
	}
}
