package units

import (
	"errors"
	"testing"
)

// The toleranced dimension of ISO 370:1975 (from memory): 1.950 ± 0.016 in, whose
// limits are 49.1236 and 49.9364 mm.
func TestConversion(t *testing.T) {
	limits := MustParseLengthInterval("1.950 ±0.016 in")
	inward, err := limits.Inward(Millimetre, 2)
	if err != nil || inward.Exact() != "49.13..49.93 mm" {
		t.Errorf("%s, %v", inward, err)
	}
	if outward := limits.Outward(Millimetre, 2); outward.Exact() != "49.12..49.94 mm" {
		t.Errorf("%s", outward)
	}
}

func TestInwardWithoutRoom(t *testing.T) {
	_, err := MustParseLengthInterval("0.024..0.048 mm").Inward(Inch, 2)
	const want = "0.024..0.048 mm, converted to in with 2 decimal places: an empty interval, which holds no value; ask for more places"
	if !errors.Is(err, ErrEmpty) || err.Error() != want {
		t.Errorf("%v", err)
	}
}

func TestConversionPlaces(t *testing.T) {
	for _, test := range []struct {
		width string
		to    LengthUnit
		want  int32 // 0: not in the tables
	}{
		{"0.000009 in", Millimetre, 0}, {"0.00001 in", Millimetre, 5}, {"0.000099 in", Millimetre, 5}, {"0.0001 in", Millimetre, 4},
		{"0.001 in", Millimetre, 3}, {"0.0099 in", Millimetre, 3}, {"0.01 in", Millimetre, 2}, {"0.032 in", Millimetre, 2},
		{"0.1 in", Millimetre, 1}, {"0.999 in", Millimetre, 1}, {"1 in", Millimetre, 0},
		{"0.00049 mm", Inch, 0}, {"0.0005 mm", Inch, 5}, {"0.0049 mm", Inch, 5}, {"0.005 mm", Inch, 4}, {"0.024 mm", Inch, 4},
		{"0.05 mm", Inch, 3}, {"0.499 mm", Inch, 3}, {"0.5 mm", Inch, 2}, {"300 mm", Inch, 2},
		{"0.024 mm", Thou, 0}, {"-1 mm", Inch, 0},
	} {
		got, ok := ConversionPlaces(MustParseLength(test.width), test.to)
		if got != test.want || ok != (test.want != 0) {
			t.Errorf("%s to %s: %d, %v, want %d", test.width, test.to, got, ok, test.want)
		}
	}
}
