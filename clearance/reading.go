package clearance

import (
	"fmt"

	"example.com/closefit/units"
)

// A Reading is what is known of one quantity, and how it came to be known: an
// interval that holds the true value, and words for the record. It is an
// immutable value. The zero Reading was not taken: its interval is unbounded,
// so that nothing is ever proven by it.
//
// Two kinds of doubt make the interval. A bracket is certain and has no middle:
// the true gap lies between the blade that goes and the one that does not. An
// uncertainty is a spread about a value, stated as the expanded uncertainty of
// JCGM 100 with the coverage factor k = 2. A reading made from others may have
// both, and its interval is the bracket widened by the uncertainty.
type Reading[D units.Dimension] struct {
	interval units.Interval[D] // at k = 2
	bracket  units.Interval[D]
	expanded units.Quantity[D] // twice the standard uncertainty; zero for a plain bracket

	how  method
	name string            // of the instrument, or the words of a given interval
	a, b units.Quantity[D] // what was read, as the method has it
}

// A LengthReading is a reading of a length.
type LengthReading = Reading[units.LengthDim]

// A PressureReading is a reading of a pressure.
type PressureReading = Reading[units.PressureDim]

// method says how a reading was got, and what its a and b are.
type method uint8

const (
	notTaken     method = iota
	asGiven             // name has the words
	byInstrument        // name ± expanded at a
	byDifference        // name from a to b
	stripBetween        // printed widths a and b
	stripNearest        // printed width a, half-way to its neighbours
	stripFirst          // nearest printed width a, the first; b is the next
	stripLast           // nearest printed width a, the last; b is the one before
	stripTighter        // past the first printed width, a
	stripLooser         // past the last printed width, a
	bladeBetween        // blade a goes, blade b does not
	bladeGoes           // blade a goes, no thicker one was tried
	bladeRefused        // blade a does not go, no thinner one was tried
	valveBetween        // shut at a, open at b
	valveShut           // shut at a, not taken further
	valveOpen           // open at a, the lowest tried
)

// Given returns the reading of an interval that was not measured here: a part's
// tolerance, a size on a box, a figure from somebody else. how says which, in
// the words of the record; an empty how reads "as given".
func Given[D units.Dimension](interval units.Interval[D], how string) Reading[D] {
	return Reading[D]{interval: interval, bracket: interval, how: asGiven, name: how}
}

// bracketed returns the reading of a plain bracket.
func bracketed[D units.Dimension](interval units.Interval[D], how method, a, b units.Quantity[D]) Reading[D] {
	return Reading[D]{interval: interval, bracket: interval, how: how, a: a, b: b}
}

// Taken reports whether there is a reading; the zero Reading is none.
func (r Reading[D]) Taken() bool { return r.how != notTaken }

// Interval returns the interval that holds the true value, uncertainty included
// at the coverage factor k = 2. Of a reading that was not taken, it is every
// value there is.
func (r Reading[D]) Interval() units.Interval[D] {
	if r.how == notTaken {
		return units.AtMost(r.a).Hull(units.AtLeast(r.a))
	}
	return r.interval
}

// Bracket returns the interval without the uncertainty: for a micrometer, the
// value read; for a crush strip or feeler blades, the same as Interval.
func (r Reading[D]) Bracket() units.Interval[D] {
	if r.how == notTaken {
		return r.Interval()
	}
	return r.bracket
}

// Expanded returns the expanded uncertainty, k = 2; zero for a plain bracket.
func (r Reading[D]) Expanded() units.Quantity[D] { return r.expanded }

// Widened returns r with the bracket reaching further by q on either side: for
// the tolerance of a printed strip, a set of blades, a gauge. The sign of q does
// not matter.
func (r Reading[D]) Widened(q units.Quantity[D]) Reading[D] {
	if r.how == notTaken {
		return r
	}
	by := units.PlusMinus(units.Quantity[D]{}, q)
	r.interval, r.bracket = r.interval.Add(by), r.bracket.Add(by)
	return r
}

// String returns the interval and how it was got, in the dimension's first unit.
func (r Reading[D]) String() string {
	const first = 0
	return span(r.Interval(), units.Unit[D](first)) + ", " + r.How(first)
}

// How says in words how the reading was got, with its numbers in the unit:
// "crush strip between its 0.025 mm and 0.038 mm widths".
func (r Reading[D]) How(u units.Unit[D]) string {
	a, b := written(r.a, u), written(r.b, u)
	switch r.how {
	case asGiven:
		if r.name == "" {
			return "as given"
		}
		return r.name
	case byInstrument:
		return fmt.Sprintf("%s, %s ±%s (k = 2)", r.name, a, written(r.expanded, u))
	case byDifference:
		return fmt.Sprintf("%s from %s to %s, ±%s (k = 2)", r.name, a, b, written(r.expanded, u))
	case stripBetween:
		return fmt.Sprintf("crush strip between its %s and %s widths", a, b)
	case stripNearest:
		return fmt.Sprintf("crush strip nearest its %s width, half-way to its neighbours", a)
	case stripFirst:
		return fmt.Sprintf("crush strip nearest its first width, %s: less than half-way to %s, and how much less is not known", a, b)
	case stripLast:
		return fmt.Sprintf("crush strip nearest its last width, %s: more than half-way from %s, and how much more is not known", a, b)
	case stripTighter:
		return fmt.Sprintf("crush strip past its first width, %s: less, and how much less is not known", a)
	case stripLooser:
		return fmt.Sprintf("crush strip past its last width, %s: more, and how much more is not known", a)
	case bladeBetween:
		return fmt.Sprintf("feeler blades: %s goes, %s does not", a, b)
	case bladeGoes:
		return fmt.Sprintf("feeler blades: %s goes; no thicker one was tried", a)
	case bladeRefused:
		return fmt.Sprintf("feeler blades: %s does not go; no thinner one was tried", a)
	case valveBetween:
		return fmt.Sprintf("shut at %s, open at %s", a, b)
	case valveShut:
		return fmt.Sprintf("still shut at %s; no higher pressure was tried", a)
	case valveOpen:
		return fmt.Sprintf("already open at %s; no lower pressure was tried", a)
	}
	return "not taken"
}
