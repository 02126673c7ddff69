package measure

import (
	"slices"
	"sync/atomic"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
)

// A Reading is our knowledge of one quantity, and how we came by it. It is an immutable
// value. The zero Reading was not taken: its interval is empty, and it proves nothing.
//
// A reading has a bracket and doubts. The bracket is certain and has no middle: the true
// gap lies between the blade that goes and the one that does not. Each doubt is a spread
// about that, and belongs to a source: this reading alone, the instrument, the master it
// was set on. The doubt of a sum depends on the sources that its readings share, so a
// reading keeps them apart; see [Sum].
type Reading[D units.Dimension] struct {
	act         act[D]   // a reading made by one act
	of          *made[D] // a reading made from others; nil for one made by an act
	nonNegative bool     // the quantity cannot be below zero
	atWorst     bool     // its doubts add up at their worst
	conditions  []Condition
}

// A LengthReading is a reading of a length.
type LengthReading = Reading[units.LengthDim]

// an act is one look at one instrument: what was seen, and what that says.
type act[D units.Dimension] struct {
	by      string            // the instrument
	at      string            // what was read: "main 3, journal". Two acts of one name that saw the same are one act
	bracket units.Interval[D] // certain, before the pieces among the doubts
	stated  units.Quantity[D] // an uncertainty that is not split, twice the standard one
	freedom int32             // behind stated; 0 for unlimited
	means   means             // how; notTaken for none
	more    *more[D]          // what most acts do not have; nil for none
}

// more is apart, because readings are copied wherever they go: most are a value that an
// instrument with one stated uncertainty saw, and nothing else.
type more[D units.Dimension] struct {
	setting string // the instrument's last setting; "" for one that is not set
	seen    [2]units.Quantity[D]
	count   int32      // readings behind a mean
	doubts  []doubt[D] // every doubt but the stated one
}

// rest returns what an act has more; a value saw its bracket.
func (a *act[D]) rest() (m more[D]) {
	switch {
	case a.more != nil:
		m = *a.more
	case a.means == value:
		m.seen[0] = a.bracket.Lo()
	}
	return m
}

func (a *act[D]) doubts() []doubt[D] {
	if a.more == nil {
		return nil
	}
	return a.more.doubts
}

// made is what a reading was made from.
type made[D units.Dimension] struct {
	words  string // "running clearance by calculation"
	parts  []part[D]
	unmet  []string // conditions that were asked for and not met
	spread bool     // of several stations: its doubt holds at k = 2 and above only

	// What follows from the parts, once it was asked for: a reading is shown, judged and
	// compared, each time anew.
	tallied atomic.Pointer[tallied[D]]
	certain atomic.Pointer[units.Interval[D]]
	twice   [2]atomic.Pointer[units.Quantity[D]] // expanded at k = 2; the second at its worst
}

// kept keeps what was worked out, for who asks again.
func kept[T any](at *atomic.Pointer[T], v T) T {
	at.Store(&v)
	return v
}

// A part is an act and how often it counts.
type part[D units.Dimension] struct {
	factor units.Ratio
	act    *act[D]
}

// Given returns the reading of an interval that was not measured here: a part's
// tolerance, a size on a box, a figure from somebody else. how says which, in the words
// of the record; an empty how reads "as given". Two given intervals are never taken to
// share anything, though they may be equal: two walls of one grade are two walls, and two
// instruments set on given intervals were set on two pieces. If both were set on one
// piece, make its reading with [Tied]. The empty interval gives a reading that was not
// taken.
func Given[D units.Dimension](interval units.Interval[D], how string) Reading[D] {
	if interval.IsEmpty() {
		return Reading[D]{}
	}
	if how == "" {
		how = "as given"
	}
	return Reading[D]{act: act[D]{means: given, by: how, bracket: interval}}
}

// Taken reports whether the reading was taken; the zero Reading was not.
func (r Reading[D]) Taken() bool { return r.act.means != notTaken || r.of != nil }

// parts returns the acts that the reading is made of. One made by a single act
// uses the room given.
func (r *Reading[D]) parts(room *[1]part[D]) []part[D] {
	if r.of != nil {
		return r.of.parts
	}
	if r.act.means == notTaken {
		return nil
	}
	room[0] = part[D]{plus, &r.act}
	return room[:]
}

// Problem says why the reading proves nothing, whatever the limits: it was not taken, a
// condition is not met, or a quantity that cannot be negative was read as negative. It is
// empty for a reading that may prove something.
func (r Reading[D]) Problem() string { return r.problem() }

func (r *Reading[D]) problem() string {
	if !r.Taken() {
		return "not measured"
	}
	if r.of != nil && len(r.of.unmet) > 0 {
		return r.of.unmet[0]
	}
	if r.nonNegative {
		if b := r.bracket(); b.HasHi() && b.Hi().Add(r.expanded(coverage{})).Sign() < 0 {
			return "below zero by more than its doubt, which cannot be: one of its readings is wrong"
		}
	}
	return ""
}

// Unmet returns the conditions that a sum asked for and that its readings do not
// state, in words.
func (r Reading[D]) Unmet() []string {
	if r.of == nil {
		return nil
	}
	return slices.Clone(r.of.unmet)
}

// Interval returns the interval that holds the true value, at the coverage factor k = 2,
// for [Judge]. It is empty if the reading has a [Reading.Problem].
func (r Reading[D]) Interval() units.Interval[D] { return r.at(coverage{}) }

// At returns the interval at another coverage factor k of a normal distribution, such as
// [CoverageFactor] returns: the bracket, which is certain, widened by the uncertainty at
// that coverage. The uncertainty is rounded up to the tenth of a nanometre, in other
// dimensions to the seventh place of the first unit. It is empty unless 0 < k <= 10.
//
// If the quantity cannot be negative, a bracket that reaches below zero is moved to zero
// first, and the interval is cut there.
func (r Reading[D]) At(k decimal.Decimal) units.Interval[D] {
	c, ok := coverageOf(k)
	if !ok {
		return units.Interval[D]{}
	}
	return r.at(c)
}

func (r *Reading[D]) at(c coverage) units.Interval[D] {
	if r.problem() != "" {
		return units.Interval[D]{}
	}
	return r.supposed(c)
}

// Supposed returns the interval at k = 2 as if every condition were met: for showing,
// never for judging.
func (r Reading[D]) Supposed() units.Interval[D] { return r.supposed(coverage{}) }

func (r *Reading[D]) supposed(c coverage) units.Interval[D] {
	if !r.Taken() {
		return units.Interval[D]{}
	}
	b, u := r.bracket(), r.expanded(c)
	if r.nonNegative {
		b = above(b)
	}
	if !u.IsZero() {
		b = b.Add(units.MustInterval(u.Neg(), u))
	}
	if r.nonNegative {
		b = above(b)
	}
	return b
}

// above returns an interval with what lies below zero moved to zero.
func above[D units.Dimension](a units.Interval[D]) units.Interval[D] {
	var zero units.Quantity[D]
	switch {
	case a.HasLo() && a.Lo().Sign() >= 0:
		return a
	case !a.HasHi():
		return units.AtLeast(zero)
	}
	return units.MustInterval(zero, units.Max(zero, a.Hi()))
}

// Bracket returns the certain part, without the uncertainty: for a micrometer the value
// read, for a crush strip or feeler blades the whole interval. It is empty for a reading
// that was not taken.
func (r Reading[D]) Bracket() units.Interval[D] { return r.bracket() }

// Expanded returns the expanded uncertainty (k = 2) that widens the bracket, zero for a
// plain bracket.
func (r Reading[D]) Expanded() units.Quantity[D] { return r.expanded(coverage{}) }

// NonNegative returns the reading of a quantity that cannot be below zero: a play,
// a gap, an out-of-round. It holds for the reading itself, and is forgotten where
// the reading is a term of another sum.
func (r Reading[D]) NonNegative() Reading[D] {
	r.nonNegative = true
	return r
}

// With returns the reading with facts about how it was taken, which a sum may ask for. A
// new fact replaces an earlier one of the same name.
func (r Reading[D]) With(conditions ...Condition) Reading[D] {
	kept := make([]Condition, len(r.conditions), len(r.conditions)+len(conditions))
	copy(kept, r.conditions)
	for i := range conditions {
		for k := range kept {
			if kept[k].What == conditions[i].What {
				kept = slices.DeleteFunc(kept, func(old Condition) bool { return old.What == conditions[i].What })
				break
			}
		}
		kept = append(kept, conditions[i])
	}
	r.conditions = kept
	return r
}

// Conditions returns the facts about how the reading was taken.
func (r Reading[D]) Conditions() []Condition { return slices.Clone(r.conditions) }

// label names the reading in a few words.
func (r *Reading[D]) label() string {
	switch {
	case r.of != nil:
		return r.of.words
	case r.act.at != "":
		return r.act.at
	case r.act.by != "":
		return r.act.by
	}
	return "a reading"
}
