package measure_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"testing"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

func ExampleEstimated() {
	// The certificate of a setting ring.
	ring, err := measure.Estimated(units.MustParseLength("60.002 mm"), units.MustParseLength("0.0008 mm"), "setting ring, certificate")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(ring)
	// Output:
	// 60.0012..60.0028 mm, setting ring, certificate, 60.002 mm ±0.0008 mm (k = 2)
}

func TestEstimated(t *testing.T) {
	mm := units.MustParseLength
	of := func(v, u, source string) measure.LengthReading {
		r, err := measure.Estimated(mm(v), mm(u), source)
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	for _, test := range []struct {
		name          string
		first, second string // sources
		want          string
	}{
		{"two sources", "a", "b", "-0.0055..-0.0045 mm"}, // √(3² + 4²) = 5
		{"one source", "a", "a", "-0.0057..-0.0043 mm"},  // 3 + 4
	} {
		s := measure.Sum[units.LengthDim]{Symbol: "y", Terms: []measure.Term[units.LengthDim]{
			measure.Plus("x1", "", of("-0.001 mm", "0.0003 mm", test.first)),
			measure.Minus("x2", "", of("0.004 mm", "0.0004 mm", test.second)),
		}}
		if got := s.Interval(); !got.Equal(units.MustParseLengthInterval(test.want)) {
			t.Errorf("%s: %s, want %s", test.name, got, test.want)
		}
		r := s.Reading()
		if got := r.Interval(); !got.Equal(units.MustParseLengthInterval(test.want)) {
			t.Errorf("%s, as a reading: %s, want %s", test.name, got, test.want)
		}
	}
	r := of("-0.001 mm", "0.0003 mm", "a")
	text, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	var again measure.LengthReading
	if err := json.Unmarshal(text, &again); err != nil || again.String() != r.String() {
		t.Errorf("%s read again: %s, %v", text, again, err)
	}
	if _, err := measure.Estimated(mm("1 mm"), mm("-0.1 mm"), "a"); !errors.Is(err, measure.ErrNotPositive) {
		t.Errorf("an uncertainty below zero: %v", err)
	}
}
