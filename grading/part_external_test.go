package grading_test

import (
	"errors"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/grading"
	"example.com/closefit/units"
)

func TestParsePart(t *testing.T) {
	tests := []struct {
		text string
		want grading.Part
	}{
		{"B upper", grading.Part{Grade: "B", Half: grading.Upper}},
		{" 0.25  red LOWER ", grading.Part{Grade: "0.25 red", Half: grading.Lower}},
		{"+0.05 front", grading.Part{Grade: "+0.05", Half: grading.Front}},
		{"+0.05 rear", grading.Part{Grade: "+0.05", Half: grading.Rear}},
		{"B", grading.Part{Grade: "B"}},
		{"B either", grading.Part{Grade: "B"}},
	}
	for _, test := range tests {
		if got, err := parsePart(test.text); err != nil || got != test.want {
			t.Errorf("%q: %#v, %v", test.text, got, err)
		}
	}
	for _, text := range []string{"", "  ", "upper", " lower "} {
		if got, err := parsePart(text); !errors.Is(err, units.ErrNotWritten) {
			t.Errorf("%q: %#v, %v", text, got, err)
		}
	}
	if _, err := grading.ParseHalf("left"); !errors.Is(err, units.ErrNotWritten) {
		t.Errorf("left: %v", err)
	}
}

func TestPartTextRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := grading.Part{
			Grade: rapid.StringMatching(`[A-Z0-9.+]{1,4}( [a-z]{1,3})?`).Draw(t, "grade"),
			Half:  rapid.SampledFrom([]grading.Half{grading.Either, grading.Upper, grading.Lower, grading.Front, grading.Rear}).Draw(t, "half"),
		}
		text, err := want.MarshalText()
		if err != nil {
			t.Fatal(err)
		}
		var got grading.Part
		if err := got.UnmarshalText(text); err != nil || got != want {
			t.Errorf("%q: %#v, %v", text, got, err)
		}
	})
}
