package clearance

import (
	"fmt"
	"math/big"

	"example.com/closefit/units"
)

// A Reading is what is known of one quantity, and how it came to be known: an
// interval that holds the true value, and words for the record. It is an
// immutable value. The zero Reading was not taken: its interval is empty, and
// nothing is ever proven by it.
//
// Two kinds of doubt make the interval. A bracket is certain and has no middle:
// the true gap lies between the blade that goes and the one that does not. An
// uncertainty is a spread about a value, stated as the expanded uncertainty of
// JCGM 100 with the coverage factor k = 2. A reading made from others may have
// both, and its interval is the bracket widened by the uncertainty.
type Reading[D units.Dimension] struct {
	bracket  units.Interval[D]
	expanded units.Quantity[D] // twice the standard uncertainty; zero for a plain bracket
	freedom  int32             // its degrees of freedom; 0 if unlimited

	how     method
	rule    Combination // of a combined reading
	floored bool        // the quantity cannot be below zero
	name    string      // of the instrument, or the words of a given interval
	seen    *seen[D]    // what the method has seen; nil for an instrument's value
}

// seen is what a reading was made from, for its words.
type seen[D units.Dimension] struct {
	a, b  units.Quantity[D] // as the method has it
	by    units.Quantity[D] // what the bracket was widened by
	count int
	of    []Reading[D] // the readings it was made from
}

// A LengthReading is a reading of a length.
type LengthReading = Reading[units.LengthDim]

// A PressureReading is a reading of a pressure.
type PressureReading = Reading[units.PressureDim]

// method says how a reading was got, and what its a and b are.
type method uint8

const (
	notTaken       method = iota
	asGiven               // name has the words
	byInstrument          // name ± expanded at the bracket's middle
	byDifference          // name from a to b
	stripBetween          // printed widths a and b
	stripNearest          // nearest printed width a, neither the first nor the last
	stripFirst            // nearest printed width a, the first; b is the next
	stripLast             // nearest printed width a, the last; b is the one before
	stripTighter          // past the first printed width, a
	stripLooser           // past the last printed width, a
	bladeBetween          // blade a goes, blade b does not
	bladeGoes             // blade a goes, no thicker one was tried
	bladeRefused          // blade a does not go, no thinner one was tried
	valveBetween          // shut at a, open at b
	valveShut             // shut at a, not taken further
	valveOpen             // open at a, the lowest tried
	byRepeats             // name, the mean of count readings at a
	byCombination         // name, by the rule
	byAgreement           // what two readings, of, have in common
	byDisagreement        // two readings, of, that have nothing in common
	byFactor              // name times of
	byCondition           // name, then of
	byOpening             // of, and from a to b more
	bySpread              // name, the largest of several less the smallest
	byExtremes            // name, from the smallest of several to the largest
)

// Given returns the reading of an interval that was not measured here: a part's
// tolerance, a size on a box, a figure from somebody else. how says which, in
// the words of the record; an empty how reads "as given". Of an empty interval
// nothing is known, and the reading is not taken.
func Given[D units.Dimension](interval units.Interval[D], how string) Reading[D] {
	if interval.IsEmpty() {
		return Reading[D]{}
	}
	return Reading[D]{bracket: interval, how: asGiven, name: how}
}

// bracketed returns the reading of a plain bracket of what cannot be below zero.
func bracketed[D units.Dimension](bracket units.Interval[D], how method, a, b units.Quantity[D]) Reading[D] {
	return Reading[D]{bracket: bracket, how: how, floored: true, seen: &seen[D]{a: a, b: b}}
}

// Taken reports whether there is a reading; the zero Reading is none.
func (r Reading[D]) Taken() bool { return r.how != notTaken }

// Interval returns the interval that holds the true value, uncertainty included
// at the coverage factor k = 2. Of a reading that was not taken, and of two
// readings that do not agree, it is empty.
func (r Reading[D]) Interval() units.Interval[D] {
	if r.how == notTaken {
		return units.Interval[D]{}
	}
	if r.freedom == 0 {
		return r.widened(r.expanded)
	}
	return r.widened(widen(Coverage{}, r.expanded, r.freedom))
}

// widened returns the bracket with q to either side, cut at zero if the quantity
// cannot be less.
func (r *Reading[D]) widened(q units.Quantity[D]) units.Interval[D] {
	a := r.bracket
	if !q.IsZero() {
		a = a.Add(units.MustInterval(q.Neg(), q))
	}
	if r.floored && !a.IsEmpty() && (!a.HasLo() || a.Lo().Sign() < 0) {
		a, _ = a.Intersect(units.AtLeast(units.Quantity[D]{}))
	}
	return a
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

// Freedom returns the degrees of freedom behind the uncertainty; 0 if they are
// unlimited, as those of a stated uncertainty are taken to be.
func (r Reading[D]) Freedom() int { return int(r.freedom) }

// At returns the interval at another coverage: the bracket, which is certain,
// widened by the uncertainty at that coverage, rounded outward to the sixth
// place of the dimension's first unit (for lengths, the nanometre).
func (r Reading[D]) At(c Coverage) units.Interval[D] {
	if r.how == notTaken || r.expanded.IsZero() {
		return r.Interval()
	}
	return r.widened(widen(c, r.expanded, r.freedom))
}

// Times returns the reading of k times the quantity: half a stroke from the
// stroke.
func (r Reading[D]) Times(k *big.Rat) Reading[D] {
	once := r
	r.bracket = r.bracket.MulRat(k)
	r.expanded = r.expanded.MulRat(k).Abs()
	r.floored = r.floored && k.Sign() >= 0
	if r.how == notTaken || k.Cmp(one()) == 0 {
		return r
	}
	return r.made(byFactor, k.RatString(), once)
}

// made returns r with the method, the name and what it was made from.
func (r Reading[D]) made(how method, name string, of ...Reading[D]) Reading[D] {
	r.how, r.name, r.seen = how, name, &seen[D]{of: of}
	return r
}

// Widened returns r with the bracket reaching further by q on either side, but not
// below zero where the quantity cannot be: for the tolerance of a set of blades or
// a gauge. The sign of q does not matter.
func (r Reading[D]) Widened(q units.Quantity[D]) Reading[D] {
	if r.how == notTaken || q.IsZero() {
		return r
	}
	var s seen[D]
	if r.seen != nil {
		s = *r.seen
	}
	s.by = s.by.Add(q.Abs())
	r.seen = &s
	r.bracket = r.widened(q.Abs())
	return r
}

// source names the instrument or the means without numbers.
func (r Reading[D]) source() string {
	switch {
	case r.how >= stripBetween && r.how <= stripLooser:
		return stripName
	case r.how >= bladeBetween && r.how <= bladeRefused:
		return feelersName
	case r.name != "":
		return r.name
	}
	return "readings"
}

// String returns the interval and how it was got, in the dimension's first unit.
func (r Reading[D]) String() string {
	const first = 0
	return span(r.Interval(), units.Unit[D](first)) + ", " + r.How(first)
}

// How says in words how the reading was got, with its numbers in the unit:
// "crush strip between its 0.025 mm and 0.038 mm widths (good to ±0.004 mm)".
func (r Reading[D]) How(u units.Unit[D]) string {
	words := r.means(u)
	if r.seen != nil && !r.seen.by.IsZero() {
		words += " (good to ±" + written(r.seen.by, u) + ")"
	}
	return words
}

// means is How without what the bracket was widened by.
func (r Reading[D]) means(u units.Unit[D]) string {
	var a, b string
	var count int
	if r.seen != nil {
		a, b, count = written(r.seen.a, u), written(r.seen.b, u), r.seen.count
	}
	switch r.how {
	case asGiven:
		if r.name == "" {
			return "as given"
		}
		return r.name
	case byInstrument:
		return fmt.Sprintf("%s, %s ±%s (k = 2)", r.name, written(r.bracket.Mid(), u), written(r.expanded, u))
	case byDifference:
		return fmt.Sprintf("%s from %s to %s, ±%s (k = 2)", r.name, a, b, written(r.expanded, u))
	case stripBetween:
		return fmt.Sprintf("crush strip between its %s and %s widths", a, b)
	case stripNearest:
		return fmt.Sprintf("crush strip nearest its %s width, between the half-way marks to its neighbours", a)
	case stripFirst:
		return fmt.Sprintf("crush strip nearest its first width, %s: below the half-way mark to %s; no lower mark", a, b)
	case stripLast:
		return fmt.Sprintf("crush strip nearest its last width, %s: above the half-way mark from %s; no upper mark", a, b)
	case stripTighter:
		return fmt.Sprintf("crush strip past its first width, %s; no lower mark", a)
	case stripLooser:
		return fmt.Sprintf("crush strip past its last width, %s; no upper mark", a)
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
	case byRepeats:
		return fmt.Sprintf("%s, mean %s of %d readings", r.name, a, count)
	case byCombination:
		return r.name + " by calculation; " + r.rule.String()
	case byAgreement:
		return "what two readings have in common: " + r.seen.of[0].How(u) + "; " + r.seen.of[1].How(u)
	case byDisagreement:
		return "two readings that do not agree (" + r.seen.of[0].How(u) + "; " + r.seen.of[1].How(u) + "): measure both again"
	case byFactor:
		return r.name + " times " + r.seen.of[0].How(u)
	case byCondition:
		return r.name + ": " + r.seen.of[0].How(u)
	case byOpening:
		return r.seen.of[0].How(u) + "; warm, by " + span(units.Between(r.seen.a, r.seen.b), u) + " more"
	case bySpread:
		return fmt.Sprintf("%s: largest of %d readings less the smallest", r.name, count)
	case byExtremes:
		return fmt.Sprintf("%s: from the smallest of %d readings to the largest", r.name, count)
	case valveOpen:
		return fmt.Sprintf("already open at %s; no lower pressure was tried", a)
	}
	return "not taken"
}
