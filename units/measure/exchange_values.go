package measure

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/units"
)

// The exchange forms of what is not a reading. A missing key, an unknown one and one
// that stands twice are errors of kind units.ErrNotWritten, as is what no function of
// this package could have made. Zero Stations, of which nothing was given, are null.

// wordOf finds the value with the word; where and fix are for the error.
func wordOf[T ~uint8](into *T, words []string, text []byte, where string) error {
	i := slices.Index(words, string(text))
	if i < 0 {
		return &units.Error{Kind: units.ErrNotWritten, Where: where, Found: fmt.Sprintf("%.40q", text), Fix: `write "` + strings.Join(words, `" or "`) + `"`}
	}
	*into = T(i)
	return nil
}

// writeWord returns the word of a value.
func writeWord[T ~uint8](v T, words []string, where string) ([]byte, error) {
	if int(v) >= len(words) {
		return nil, &units.Error{Kind: units.ErrNotWritten, Where: where, Found: fmt.Sprint(uint8(v)), Fix: "use the package's constants"}
	}
	return []byte(words[v]), nil
}

// UnmarshalJSON reads the exchange form; a missing key is an error.
func (t *Term[D]) UnmarshalJSON(data []byte) error { return units.DecodeObject(data, t) }

// UnmarshalJSON reads the exchange form; a missing key is an error.
func (c *Condition) UnmarshalJSON(data []byte) error { return units.DecodeObject(data, c) }

// UnmarshalJSON reads the exchange form; a missing key is an error.
func (p *Process[D]) UnmarshalJSON(data []byte) error { return units.DecodeObject(data, p) }

// UnmarshalJSON reads the exchange form.
func (s *Sum[D]) UnmarshalJSON(data []byte) error { return units.DecodeObject(data, s) }

// UnmarshalJSON reads the exchange form. It refuses a verdict that neither rule gives.
func (a *Assessment[D]) UnmarshalJSON(data []byte) error {
	var read Assessment[D]
	if err := units.DecodeObject(data, &read); err != nil {
		return err
	}
	if read.Verdict != Assess(read.Reading, read.Tolerance).Verdict && read.Verdict != SimpleAcceptance(read.Reading, read.Tolerance) {
		return &units.Error{Kind: units.ErrNotWritten, Where: "assessment", Found: read.Verdict.String() + ", which does not follow", Fix: "judge the reading again"}
	}
	*a = read
	return nil
}

// UnmarshalJSON reads the exchange form. It refuses an agreement that does not follow
// from the two readings.
func (a *Agreement[D]) UnmarshalJSON(data []byte) error {
	var read Agreement[D]
	if err := units.DecodeObject(data, &read); err != nil {
		return err
	}
	again := Compare(read.First, read.Second)
	if again.Agree != read.Agree || again.Known != read.Known || !again.Difference.Interval().Equal(read.Difference.Interval()) {
		return &units.Error{Kind: units.ErrNotWritten, Where: "agreement", Found: "a difference that does not follow", Fix: "compare the readings again"}
	}
	*a = again
	return nil
}

// UnmarshalJSON reads the exchange form. Whether the instrument can read is asked
// where it reads.
func (in *Instrument[D]) UnmarshalJSON(data []byte) error { return units.DecodeObject(data, in) }

// UnmarshalJSON reads the exchange form; the prints are checked where it reads.
func (s *Strip) UnmarshalJSON(data []byte) error { return units.DecodeObject(data, s) }

// UnmarshalJSON reads the exchange form; the blades are checked where they read.
func (f *Feelers) UnmarshalJSON(data []byte) error { return units.DecodeObject(data, f) }

type writtenStations[D units.Dimension] struct {
	Planes [][]Reading[D] `json:"planes"`
	Claims []Claim        `json:"claims"`
}

// MarshalJSON writes the readings of each plane and the claims.
func (s Stations[D]) MarshalJSON() ([]byte, error) {
	if len(s.all.readings) == 0 {
		return []byte("null"), nil
	}
	var planes [][]Reading[D]
	for _, plane := range s.planes() {
		planes = append(planes, plane.readings)
	}
	return json.Marshal(writtenStations[D]{planes, s.claims})
}

// UnmarshalJSON reads the exchange form, as [NewStations] takes it.
func (s *Stations[D]) UnmarshalJSON(data []byte) error {
	if string(data) == "null" {
		*s = Stations[D]{}
		return nil
	}
	var w writtenStations[D]
	if err := units.DecodeObject(data, &w); err != nil {
		return err
	}
	if len(w.Claims) == 0 {
		return &units.Error{Kind: units.ErrNotWritten, Where: "stations", Found: "no claims", Fix: "write what is claimed of them"}
	}
	made, err := NewStations(w.Planes, w.Claims...)
	if err != nil {
		return err
	}
	if len(made.claims) != len(w.Claims) {
		return &units.Error{Kind: units.ErrNotWritten, Where: "stations", Found: fmt.Sprintf("%d claims", len(w.Claims)), Fix: "write each claim once: taper needs two planes, out-of-round two directions"}
	}
	*s = made
	return nil
}
