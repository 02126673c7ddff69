package measure

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
)

// The exchange forms of what is not a reading. A missing key, an unknown one and one
// that stands twice are errors of kind units.ErrNotWritten, as is what no function of
// this package could have made. A zero Strip, Feelers, Series or Stations, of which
// nothing was given, is null.

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

var (
	claimWords = []string{Extremes: "extremes", Taper: "taper", OutOfRound: "out-of-round"}
)

// MarshalText returns "extremes", "taper" or "out-of-round".
func (c Claim) MarshalText() ([]byte, error) { return writeWord(c, claimWords, "claim") }

// UnmarshalText reads the words of MarshalText.
func (c *Claim) UnmarshalText(text []byte) error { return wordOf(c, claimWords, text, "claim") }

// UnmarshalJSON reads the exchange form; a missing key is an error.
func (t *Term[D]) UnmarshalJSON(data []byte) error { return units.DecodeObject(data, t) }

// UnmarshalJSON reads the exchange form; a missing key is an error.
func (c *Condition) UnmarshalJSON(data []byte) error { return units.DecodeObject(data, c) }

// UnmarshalJSON reads the exchange form; a missing key is an error.
func (p *Process[D]) UnmarshalJSON(data []byte) error { return units.DecodeObject(data, p) }

// UnmarshalJSON reads the exchange form. It refuses what is no probability.
func (r *Risks) UnmarshalJSON(data []byte) error {
	var read Risks
	if err := units.DecodeObject(data, &read); err != nil {
		return err
	}
	if err := probabilities("risks", read.Consumer, read.Producer); err != nil {
		return err
	}
	*r = read
	return nil
}

// UnmarshalJSON reads the exchange form. It refuses what is no probability, and a least
// one above the greatest.
func (p *Probability) UnmarshalJSON(data []byte) error {
	var read Probability
	if err := units.DecodeObject(data, &read); err != nil {
		return err
	}
	if err := probabilities("probability", read.Least, read.Greatest, read.Greatest-read.Least); err != nil {
		return err
	}
	*p = read
	return nil
}

// probabilities refuses numbers that are not from 0 to 1.
func probabilities(where string, all ...float64) error {
	for _, p := range all {
		if !(p >= 0 && p <= 1) {
			return &units.Error{Kind: units.ErrNotWritten, Where: where, Found: fmt.Sprint(p), Fix: "write numbers from 0 to 1, the least first"}
		}
	}
	return nil
}

// UnmarshalJSON reads the exchange form.
func (s *Sum[D]) UnmarshalJSON(data []byte) error { return units.DecodeObject(data, s) }

// UnmarshalJSON reads the exchange form. It refuses a verdict that no rule gives.
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
	if again.Agree != read.Agree || !again.Difference.Interval().Equal(read.Difference.Interval()) {
		return &units.Error{Kind: units.ErrNotWritten, Where: "agreement", Found: "a difference that does not follow", Fix: "compare the readings again"}
	}
	*a = again
	return nil
}

// UnmarshalJSON reads the exchange form. Whether the instrument can read is asked
// where it reads.
func (in *Instrument[D]) UnmarshalJSON(data []byte) error { return units.DecodeObject(data, in) }

// writtenCoverage has both, for either may be what the coverage was made from.
type writtenCoverage struct {
	K       decimal.Decimal `json:"k"`
	Outside float64         `json:"outside"` // the probability of the true value lying outside
}

// MarshalJSON writes the coverage factor and the probability of the true value lying
// outside.
func (c Coverage) MarshalJSON() ([]byte, error) {
	return json.Marshal(writtenCoverage{c.Factor(0), c.outside()})
}

// UnmarshalJSON reads the exchange form. It refuses a factor and a probability that do
// not belong together.
func (c *Coverage) UnmarshalJSON(data []byte) error {
	var w writtenCoverage
	if err := units.DecodeObject(data, &w); err != nil {
		return err
	}
	made, err := CoverageFactor(w.K)
	if err != nil {
		return err
	}
	const rounding = 1e-4 // of the probability: the factor is rounded up in its sixth place
	if !(math.Abs(w.Outside-made.miss) <= rounding*made.miss) {
		return &units.Error{Kind: units.ErrNotWritten, Where: "coverage", Found: fmt.Sprintf("k = %s and %v outside", w.K, w.Outside),
			Fix: fmt.Sprintf("write %v outside for this k", made.miss)}
	}
	made.miss = w.Outside
	*c = made
	return nil
}

// writtenLadder is a strip or a set of feelers.
type writtenLadder struct {
	Rungs     []units.Length `json:"marks"`
	Tolerance units.Length   `json:"tolerance"`
	Set       string         `json:"set"` // the batch or the set that shares the tolerance
}

func (l ladder) writeJSON() ([]byte, error) {
	if len(l.rungs) == 0 {
		return []byte("null"), nil
	}
	return json.Marshal(writtenLadder{l.rungs, l.tolerance, l.set})
}

func (l *ladder) readJSON(data []byte, name string) error {
	if string(data) == "null" {
		*l = ladder{}
		return nil
	}
	var w writtenLadder
	if err := units.DecodeObject(data, &w); err != nil {
		return err
	}
	made, err := newLadder(name, w.Rungs)
	if err == nil && (!w.Tolerance.IsZero() || w.Set != "") {
		made, err = made.withTolerance(w.Tolerance, w.Set)
	}
	if err != nil {
		return err
	}
	*l = made
	return nil
}

// MarshalJSON writes the prints and their tolerance.
func (s Strip) MarshalJSON() ([]byte, error) { return s.prints.writeJSON() }

// UnmarshalJSON reads the exchange form, as [NewStrip] takes it.
func (s *Strip) UnmarshalJSON(data []byte) error { return s.prints.readJSON(data, "crush strip") }

// MarshalJSON writes the blades and their tolerance.
func (f Feelers) MarshalJSON() ([]byte, error) { return f.blades.writeJSON() }

// UnmarshalJSON reads the exchange form, as [NewFeelers] takes it.
func (f *Feelers) UnmarshalJSON(data []byte) error { return f.blades.readJSON(data, "feeler blades") }

// MarshalJSON writes the values in the order in which they were read.
func (s Series[D]) MarshalJSON() ([]byte, error) { return json.Marshal(s.values) }

// UnmarshalJSON reads the exchange form, as [NewSeries] takes it.
func (s *Series[D]) UnmarshalJSON(data []byte) error {
	var values []units.Quantity[D]
	if err := json.Unmarshal(data, &values); err != nil {
		return err
	}
	if values == nil {
		*s = Series[D]{}
		return nil
	}
	made, err := NewSeries(values...)
	if err != nil {
		return err
	}
	*s = made
	return nil
}

type writtenStations[D units.Dimension] struct {
	Planes [][]Reading[D] `json:"planes"`
	Claims []Claim        `json:"claims"`
}

// MarshalJSON writes the readings of each plane and the claims that are made.
func (s Stations[D]) MarshalJSON() ([]byte, error) {
	if len(s.planes) == 0 {
		return []byte("null"), nil
	}
	return json.Marshal(writtenStations[D]{s.planes, s.claims})
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
	made, err := NewStations(w.Planes...)
	if err != nil {
		return err
	}
	made = made.Claiming(w.Claims...)
	if len(made.claims) != len(w.Claims) {
		return &units.Error{Kind: units.ErrNotWritten, Where: "stations", Found: fmt.Sprintf("%d claims", len(w.Claims)),
			Fix: "write each claim once: taper needs two planes, out-of-round two directions"}
	}
	*s = made
	return nil
}
