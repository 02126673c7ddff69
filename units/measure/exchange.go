package measure

import (
	"fmt"

	"example.com/closefit/units"
)

// The exchange form of a reading keeps everything that it was made from, so that what
// hangs together still does after it was stored: two readings of one document that
// share an instrument share its error when they come back.

// writtenReading is a reading in the exchange form. One that was not taken is null.
type writtenReading[D units.Dimension] struct {
	Acts        []writtenPart[D] `json:"acts"`
	Words       *string          `json:"words"` // of a reading made from others
	Unmet       []string         `json:"unmet"`
	OfStations  bool             `json:"of_stations"`
	NonNegative bool             `json:"non_negative"`
	AtWorst     bool             `json:"at_worst"`
	Conditions  []Condition      `json:"conditions"`
}

type writtenPart[D units.Dimension] struct {
	Factor  units.Ratio         `json:"factor"`
	Means   means               `json:"means"`
	By      string              `json:"by"`
	At      string              `json:"at"`
	Setting string              `json:"setting"`
	Seen    []units.Quantity[D] `json:"seen"`
	Count   int32               `json:"count"`
	Bracket writtenInterval[D]  `json:"bracket"`
	Stated  units.Quantity[D]   `json:"stated"`
	Freedom int32               `json:"freedom"`
	Doubts  []writtenDoubt[D]   `json:"doubts"`
}

type writtenDoubt[D units.Dimension] struct {
	Kind    kind              `json:"kind"`
	Of      string            `json:"of"`
	Act     string            `json:"act"`
	Lo      units.Quantity[D] `json:"lo"`
	Hi      units.Quantity[D] `json:"hi"`
	Freedom int32             `json:"freedom"`
}

// writtenInterval has null for a bound that there is not.
type writtenInterval[D units.Dimension] struct {
	Lo *units.Quantity[D] `json:"lo"`
	Hi *units.Quantity[D] `json:"hi"`
}

func (w writtenInterval[D]) interval() (units.Interval[D], error) {
	var zero units.Quantity[D]
	switch {
	case w.Lo == nil && w.Hi == nil:
		return units.AtMost(zero).Hull(units.AtLeast(zero)), nil
	case w.Lo == nil:
		return units.AtMost(*w.Hi), nil
	case w.Hi == nil:
		return units.AtLeast(*w.Lo), nil
	}
	return units.NewInterval(*w.Lo, *w.Hi)
}

// MarshalJSON writes the reading with everything that it was made from; it writes null
// for one that was not taken.
func (r Reading[D]) MarshalJSON() ([]byte, error) { return AppendReading(nil, r), nil }

// UnmarshalJSON reads the exchange form. A missing or unknown key is an error.
func (r *Reading[D]) UnmarshalJSON(data []byte) error {
	if string(data) == "null" {
		*r = Reading[D]{}
		return nil
	}
	var w writtenReading[D]
	if err := units.DecodeObject(data, &w); err != nil {
		return err
	}
	fail := func(found, fix string) error {
		return &units.Error{Kind: units.ErrNotWritten, Where: "reading", Found: found, Fix: fix}
	}
	if len(w.Acts) == 0 {
		return fail("no acts", "write null for a reading that was not taken")
	}
	if w.Words == nil && len(w.Acts) > 1 {
		return fail("several acts and no words", "say in words what was made of them")
	}
	made := &made[D]{unmet: w.Unmet, spread: w.OfStations}
	for _, o := range w.Acts {
		if len(o.Seen) != 2 || o.Freedom < 0 || o.Stated.Sign() < 0 || o.Means == notTaken {
			return fail(fmt.Sprintf("an act %q that cannot be", o.At), "write what the library wrote")
		}
		b, err := o.Bracket.interval()
		if err != nil {
			return fmt.Errorf("reading, bracket: %w", err)
		}
		a := &act[D]{means: o.Means, by: o.By, at: o.At, bracket: b, stated: o.Stated, freedom: o.Freedom,
			more: &more[D]{setting: o.Setting, seen: [2]units.Quantity[D]{o.Seen[0], o.Seen[1]}, count: o.Count}}
		for _, d := range o.Doubts {
			if d.Freedom < 0 || d.Kind != piece && !d.Lo.Equal(d.Hi) {
				return fail(fmt.Sprintf("a doubt of %q that cannot be", d.Of), "write what the library wrote")
			}
			a.more.doubts = append(a.more.doubts, doubt[D]{source{d.Kind, d.Of, d.Act}, d.Lo, d.Hi, d.Freedom})
		}
		made.parts = append(made.parts, part[D]{o.Factor, a})
	}
	read := Reading[D]{nonNegative: w.NonNegative, atWorst: w.AtWorst, conditions: w.Conditions}
	if w.Words == nil {
		if !made.parts[0].factor.Equal(plus) || len(made.unmet) > 0 || made.spread {
			return fail("one act that is not a reading by itself", "say in words what was made of it")
		}
		read.act = *made.parts[0].act
	} else {
		made.words = *w.Words
		read.of = made
	}
	*r = read
	return nil
}

var kindWords = []string{repeat: "repeat", scatter: "scatter", common: "common", whole: "not split", piece: "piece"}

func (k kind) MarshalText() ([]byte, error)     { return writeWord(k, kindWords, "doubt") }
func (k *kind) UnmarshalText(text []byte) error { return wordOf(k, kindWords, text, "doubt") }

func (m means) MarshalText() ([]byte, error) { return []byte(meansWords[m].word), nil }

func (m *means) UnmarshalText(text []byte) error {
	for i := range meansWords {
		if string(text) == meansWords[i].word {
			*m = means(i)
			return nil
		}
	}
	return &units.Error{Kind: units.ErrNotWritten, Where: "act of reading", Found: fmt.Sprintf("%.40q", text), Fix: "write a means of reading that the library writes"}
}
