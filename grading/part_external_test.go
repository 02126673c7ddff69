package grading_test

import (
	"errors"
	"testing"
	"unicode/utf8"

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

// FuzzParseHalf: any text is a half or a part that is read again as it is written, or an error that
// says what was found.
func FuzzParseHalf(f *testing.F) {
	for _, s := range []string{"", "Upper", "either", "red", "red lower", " red  front", "lower", "red\u00a0upper", "\xff", "Half(7)"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		h, err := grading.ParseHalf(text)
		if err != nil {
			if !errors.Is(err, units.ErrNotWritten) || h != grading.Either {
				t.Errorf("%q: %v, %v", text, h, err)
			}
		} else if again, err := grading.ParseHalf(h.String()); err != nil || again != h {
			t.Errorf("%q is %s, which is read as %s, %v", text, h, again, err)
		}
		var p, again grading.Part
		if err := p.UnmarshalText([]byte(text)); err != nil {
			if !errors.Is(err, units.ErrNotWritten) || p != (grading.Part{}) {
				t.Errorf("%q: %v, %v", text, p, err)
			}
			return
		}
		written, err := p.MarshalText()
		if err != nil {
			if utf8.ValidString(text) && p.Grade != "" {
				t.Errorf("%q is read as %v, which is not written: %v", text, p, err)
			}
			return
		}
		if err := again.UnmarshalText(written); err != nil || again != p {
			t.Errorf("%q is %q, which is read as %v, %v", text, written, again, err)
		}
	})
}
