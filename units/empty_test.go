package units

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"
)

// The zero Interval is empty, and proves nothing: what a set without elements does
// follows from the definitions, but for Within, which a reading that was not taken
// must not pass.
func TestEmpty(t *testing.T) {
	var none LengthInterval
	zero, one := Exactly(Length{}), MustParseLengthInterval("1 mm")
	limits, open := MustParseLengthInterval("0.024..0.048 mm"), MustParseLengthInterval("<= (1/3) mm")
	if !none.IsEmpty() || zero.IsEmpty() || one.IsEmpty() || open.IsEmpty() || !(TemperatureInterval{}).IsEmpty() {
		t.Error("IsEmpty")
	}
	if none.Equal(zero) || zero.Equal(none) || none.Equal(open) || !none.Equal(LengthInterval{}) {
		t.Error("Equal")
	}
	for name, true := range map[string]bool{
		"holds zero": none.Contains(Length{}), "has bounds": none.HasLo() || none.HasHi() || none.Bounded(), "is a point": none.IsPoint(),
	} {
		if true {
			t.Errorf("the empty interval %s", name)
		}
	}
	for _, other := range []LengthInterval{none, zero, one, limits, open} {
		for name, true := range map[string]bool{
			"within": none.Within(other), "around": other.Within(none), "below": none.Below(other), "above": other.Below(none),
			"over": none.Overlaps(other) || other.Overlaps(none),
		} {
			if true {
				t.Errorf("the empty interval lies %s %s", name, other)
			}
		}
		for name, got := range map[string]LengthInterval{
			"sum": none.Add(other), "sum, exchanged": other.Add(none), "difference": none.Sub(other), "difference, exchanged": other.Sub(none),
			"hull": none.Hull(other), "hull, exchanged": other.Hull(none),
		} {
			if !got.IsEmpty() {
				t.Errorf("%s with %s: %s", name, other, got)
			}
		}
	}
	for name, got := range map[string]LengthInterval{
		"negated": none.Neg(), "times zero": none.MulRat(rat("0")), "times three": none.MulRat(rat("3")), "shifted": none.Shift(MustParseLength("1 mm")),
		"outward": none.Outward(Inch, 3),
	} {
		if !got.IsEmpty() {
			t.Errorf("%s: %s", name, got)
		}
	}
	if _, err := none.Inward(Inch, 3); !errors.Is(err, ErrEmpty) {
		t.Errorf("Inward: %v", err)
	}
	for _, text := range []string{none.String(), none.Exact(), none.FormatInward(Inch, 3), none.FormatOutward(Inch, 3), TemperatureInterval{}.String()} {
		if text != "none" {
			t.Errorf("it prints as %q", text)
		}
	}
	panics(t, "units: Lo of an empty interval; ask IsEmpty first", func() { none.Lo() })
	panics(t, "units: Hi of an empty interval; ask IsEmpty first", func() { none.Hi() })
}

// A struct whose fields were never filled says so, and nothing that is missing comes
// back as zero.
func TestEmptyTravels(t *testing.T) {
	type reading struct {
		Bore LengthInterval      `json:"bore"`
		Room TemperatureInterval `json:"room"`
	}
	b, err := json.Marshal(reading{})
	if err != nil || string(b) != `{"bore":null,"room":null}` {
		t.Errorf("%s, %v", b, err)
	}
	for _, text := range []string{string(b), `{}`} {
		full := reading{}
		if strings.Contains(text, "null") { // null is said: it takes the place of what was there
			full.Bore, full.Room = MustParseLengthInterval("1 mm"), MustParse[TemperatureInterval]("20 °C")
		}
		if err := json.Unmarshal([]byte(text), &full); err != nil || !full.Bore.IsEmpty() || !full.Room.IsEmpty() {
			t.Errorf("%s: %s, %s, %v", text, full.Bore, full.Room, err)
		}
	}
	var none LengthInterval
	if text, err := none.MarshalText(); err != nil || string(text) != "none" {
		t.Errorf("%s, %v", text, err)
	}
	back := MustParseLengthInterval("1 mm")
	if err := back.UnmarshalText([]byte("none")); err != nil || !back.IsEmpty() {
		t.Errorf("%s, %v", back, err)
	}
	for _, text := range []string{"", " "} {
		if err := back.UnmarshalText([]byte(text)); !errors.Is(err, ErrSyntax) {
			t.Errorf("%q: %v", text, err)
		}
	}
	for _, text := range []string{"none", "null"} { // a person who types it has typed no interval
		if _, err := ParseLengthInterval(text); !errors.Is(err, ErrEmpty) {
			t.Errorf("%q: %v", text, err)
		}
	}
	if err := json.Unmarshal([]byte(`"none"`), &back); !errors.Is(err, ErrEmpty) {
		t.Errorf(`"none" in JSON: %v`, err)
	}
}

// Limits are shown inward and readings outward: 0.0625 mm is 62.5 µm, so to two
// places of a millimetre at most 0.06 is allowed, and at least 0.03.
func TestShownLimitsAllowNoMore(t *testing.T) {
	limits := MustParseLengthInterval("0.024..0.0625 mm")
	for want, got := range map[string]string{
		"0.03..0.06 mm":       limits.FormatInward(Millimetre, 2),
		"0.02..0.07 mm":       limits.FormatOutward(Millimetre, 2),
		"0.024..0.062 mm":     limits.FormatInward(Millimetre, 3),
		"0.9449..2.4606 thou": limits.FormatInward(Thou, 4), // 0.024 / 0.0254 = 0.94488…, 0.0625 / 0.0254 = 2.46062…
		"0.0315 mm":           MustParseLengthInterval("0.0315 mm").FormatInward(Millimetre, 2),
		"0.031..0.032 mm":     MustParseLengthInterval("0.0305..0.0325 mm").FormatInward(Millimetre, 2),
		"(1/3) mm":            MustParseLengthInterval("(1/3) mm").FormatInward(Millimetre, 2),
		"<= 0.06 mm":          MustParseLengthInterval("<= 0.0625 mm").FormatInward(Millimetre, 2),
		">= 0.03 mm":          MustParseLengthInterval(">= 0.024 mm").FormatInward(Millimetre, 2),
	} {
		if got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
}
