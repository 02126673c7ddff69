package clearance

import (
	"math/big"

	"example.com/closefit/units"
)

// A Strip is a crush strip: a thread of soft plastic that the journal flattens,
// compared with a printed scale of widths. The widths are named here by the
// clearances printed beside them, smallest first; the smallest clearance has the
// widest print. The printed scale is taken as exact unless WithTolerance says how
// far it may be off. No reading goes below zero.
type Strip struct {
	widths    ladder
	tolerance units.Length
}

const stripName = "crush strip"

// NewStrip returns a strip with the printed clearances given, ascending. The
// error is an *Error of kind ErrEmpty, ErrNotPositive or ErrOrder.
func NewStrip(widths ...units.Length) (Strip, error) {
	l, err := newLadder(stripName, widths)
	return Strip{widths: l}, err
}

// WithTolerance returns the strip with the tolerance that its maker states: how far
// a clearance read on it may be off, to either side. It widens every reading, as a
// bracket. The error is an *Error of kind ErrNotPositive for one below zero.
func (s Strip) WithTolerance(tolerance units.Length) (Strip, error) {
	if tolerance.Sign() < 0 {
		return Strip{}, &Error{Kind: ErrNotPositive, Where: stripName + ", tolerance", Found: s.widths.write(tolerance),
			Fix: "give how far a reading may be off to either side, such as " + s.widths.write(tolerance.Neg())}
	}
	s.tolerance = tolerance
	return s, nil
}

// read returns the reading of a bracket, widened by the strip's tolerance.
func (s Strip) read(bracket units.LengthInterval, how method, a, b units.Length) LengthReading {
	return bracketed(bracket, how, a, b).Widened(s.tolerance)
}

// Widths returns the printed clearances, ascending.
func (s Strip) Widths() []units.Length { return append([]units.Length(nil), s.widths.rungs...) }

// Between returns the reading of a strip whose width lies between two
// neighbouring prints, the smaller clearance first. The error is an *Error of
// kind ErrNotInSet, ErrOrder or ErrNotNeighbours.
func (s Strip) Between(lo, hi units.Length) (LengthReading, error) {
	i, err := s.widths.find(stripName, lo)
	if err != nil {
		return LengthReading{}, err
	}
	j, err := s.widths.find(stripName, hi)
	if err != nil {
		return LengthReading{}, err
	}
	found := s.widths.write(lo) + " and " + s.widths.write(hi)
	switch {
	case j < i:
		return LengthReading{}, &Error{Kind: ErrOrder, Where: stripName, Found: found, Fix: "give the smaller clearance first"}
	case j == i:
		return LengthReading{}, &Error{Kind: ErrNotNeighbours, Where: stripName, Found: found, Fix: "give two prints, or read it as nearest to one"}
	case j > i+1:
		return LengthReading{}, &Error{Kind: ErrNotNeighbours, Where: stripName, Found: found,
			Fix: "the print after " + s.widths.write(lo) + " is " + s.widths.write(s.widths.rungs[i+1])}
	}
	return s.read(units.MustInterval(lo, hi), stripBetween, lo, hi), nil
}

// Nearest returns the reading of a strip whose width is nearest to one print: it
// reaches to the half-way marks towards the neighbours. The half-way mark between
// the clearances c1 < c2 of two prints lies
//
//	at 2·c1·c2/(c1 + c2)  if the eye compares widths
//	at (c1 + c2)/2        if it compares the printed clearances
//
// because a strip keeps its volume, so that width times clearance is nearly
// constant. The first is always the lower one. Nobody knows what an eye compares,
// so the lower bound is the first mark, rounded down to the nanometre, and the
// upper bound is the second, exactly.
//
// Nearest to the first print, the clearance may be anything down to zero; nearest
// to the last, anything upward, and the interval has no upper bound. The error is an
// *Error of kind ErrNotInSet, or ErrNotNeighbours for a strip with a single print.
//
// Source: the geometry of the strip; that its volume is constant is an assumption
// (common practice, no source).
func (s Strip) Nearest(width units.Length) (LengthReading, error) {
	i, err := s.widths.find(stripName, width)
	if err != nil {
		return LengthReading{}, err
	}
	last := len(s.widths.rungs) - 1
	switch {
	case last == 0:
		return LengthReading{}, &Error{Kind: ErrNotNeighbours, Where: stripName, Found: "a single print, " + s.widths.write(width),
			Fix: "a strip is read as nearest only among two prints or more; say whether it is tighter or looser"}
	case i == 0:
		return s.read(units.MustInterval(units.Length{}, s.upperHalfWay(0)), stripFirst, width, s.widths.rungs[1]), nil
	case i == last:
		return s.read(units.AtLeast(s.lowerHalfWay(last-1)), stripLast, width, s.widths.rungs[last-1]), nil
	}
	return s.read(units.MustInterval(s.lowerHalfWay(i-1), s.upperHalfWay(i)), stripNearest, width, units.Length{}), nil
}

// upperHalfWay returns the arithmetic mean of the clearances of prints i and i+1.
func (s Strip) upperHalfWay(i int) units.Length {
	return s.widths.rungs[i].Add(s.widths.rungs[i+1]).MulRat(half())
}

// lowerHalfWay returns the harmonic mean of the clearances of prints i and i+1,
// rounded down to the nanometre.
func (s Strip) lowerHalfWay(i int) units.Length {
	a, b := s.widths.rungs[i], s.widths.rungs[i+1]
	mean := a.MulRat(b.Ratio(a.Add(b))).MulRat(big.NewRat(2, 1))
	return units.Nanometre.Of(mean.Rounded(units.Nanometre, 0, units.Floor))
}

// Tighter returns the reading of a strip crushed wider than its widest print:
// the clearance is less than the first, and more than nothing. The error is an
// *Error of kind ErrEmpty for the zero Strip.
func (s Strip) Tighter() (LengthReading, error) {
	if len(s.widths.rungs) == 0 {
		return LengthReading{}, noRungs(stripName)
	}
	first := s.widths.rungs[0]
	return s.read(units.MustInterval(units.Length{}, first), stripTighter, first, units.Length{}), nil
}

// Looser returns the reading of a strip left narrower than its narrowest print:
// the clearance is more than the last. The error is an *Error of kind ErrEmpty
// for the zero Strip.
func (s Strip) Looser() (LengthReading, error) {
	if len(s.widths.rungs) == 0 {
		return LengthReading{}, noRungs(stripName)
	}
	last := s.widths.rungs[len(s.widths.rungs)-1]
	return s.read(units.AtLeast(last), stripLooser, last, units.Length{}), nil
}
