package measure

import (
	"math/big"

	"example.com/closefit/units"
)

// A Strip is a crush strip: a thread of soft plastic that the journal flattens,
// compared with a printed scale of widths. The prints are named here by the
// clearances beside them, smallest first; the smallest clearance has the widest
// print. The scale is taken as exact unless WithTolerance says how far it may be
// off. No reading goes below zero.
type Strip struct{ prints ladder }

// NewStrip returns a strip with the printed clearances given, ascending. The
// error is of kind ErrEmpty, ErrNotPositive or ErrOrder.
func NewStrip(prints ...units.Length) (Strip, error) {
	l, err := newLadder("crush strip", prints)
	return Strip{l}, err
}

// WithTolerance returns the strip with the tolerance that its maker states: how far
// a clearance read on it may be off, to either side. It is a bracket, and each
// strip's own; where it is stated for a batch, and so shared by every reading with
// it, batch names that. The error is of kind ErrNotPositive for one below zero.
func (s Strip) WithTolerance(tolerance units.Length, batch string) (Strip, error) {
	l, err := s.prints.withTolerance(tolerance, batch)
	return Strip{l}, err
}

// read returns the reading of a bracket. A strip's tolerance is one, whatever
// prints it is compared with.
func (s Strip) read(by means, at string, bracket units.LengthInterval, a, b units.Length) LengthReading {
	return s.prints.seen(by, at, bracket, a, b, s.prints.off("its scale", both))
}

// Between returns the reading of a strip whose width lies between two neighbouring
// prints, the smaller clearance first. at says where it lay. The error is of kind
// ErrNotInSet, ErrOrder or ErrNotNeighbours.
func (s Strip) Between(at string, lo, hi units.Length) (LengthReading, error) {
	l := s.prints
	i, err := l.find(lo)
	if err != nil {
		return LengthReading{}, err
	}
	j, err := l.find(hi)
	if err != nil {
		return LengthReading{}, err
	}
	found := l.write(lo) + " and " + l.write(hi)
	switch {
	case j < i:
		return LengthReading{}, l.fail(ErrOrder, found, "give the smaller clearance first")
	case j == i:
		return LengthReading{}, l.fail(ErrNotNeighbours, found, "give two prints, or read it as nearest to one")
	case j > i+1:
		return LengthReading{}, l.fail(ErrNotNeighbours, found, "the print after "+l.write(lo)+" is "+l.write(l.rungs[i+1]))
	}
	return s.read(stripBetween, at, units.MustInterval(lo, hi), lo, hi), nil
}

// Nearest returns the reading of a strip whose width is nearest to one print: it
// reaches to the half-way marks towards the neighbours. The half-way mark between
// the clearances c1 < c2 of two prints lies
//
//	at 2·c1·c2/(c1 + c2)  if the eye compares widths
//	at (c1 + c2)/2        if it compares the printed clearances
//
// because a strip keeps its volume, so that width times clearance is nearly
// constant. The first is always the lower one. Nobody knows which of them an eye
// compares, so the lower bound is the first mark, rounded down to the nanometre, and
// the upper bound is the second, exactly.
//
// Nearest to the first print, the clearance may be anything down to zero; nearest
// to the last, anything upward, and the interval has no upper bound. The error is of
// kind ErrNotInSet, or ErrNotNeighbours for a strip with a single print.
//
// Source: the geometry of the strip; that its volume is constant is an assumption
// (common practice, no source).
func (s Strip) Nearest(at string, print units.Length) (LengthReading, error) {
	l := s.prints
	i, err := l.find(print)
	if err != nil {
		return LengthReading{}, err
	}
	last := len(l.rungs) - 1
	switch {
	case last == 0:
		return LengthReading{}, l.fail(ErrNotNeighbours, "a single print, "+l.write(print),
			"a strip is read as nearest only among two prints or more; say whether it is wider or narrower than the print")
	case i == 0:
		return s.read(stripFirst, at, units.MustInterval(units.Length{}, s.upperMark(0)), print, l.rungs[1]), nil
	case i == last:
		return s.read(stripLast, at, units.AtLeast(s.lowerMark(last-1)), print, l.rungs[last-1]), nil
	}
	return s.read(stripNearest, at, units.MustInterval(s.lowerMark(i-1), s.upperMark(i)), print, units.Length{}), nil
}

// upperMark returns the arithmetic mean of the clearances of prints i and i+1.
func (s Strip) upperMark(i int) units.Length {
	return s.prints.rungs[i].Add(s.prints.rungs[i+1]).MulRat(big.NewRat(1, 2))
}

// lowerMark returns the harmonic mean of the clearances of prints i and i+1,
// rounded down to the nanometre.
func (s Strip) lowerMark(i int) units.Length {
	a, b := s.prints.rungs[i], s.prints.rungs[i+1]
	mean := a.MulRat(b.Ratio(a.Add(b))).MulInt(2)
	return units.Nanometre.Of(mean.Rounded(units.Nanometre, 0, units.Floor))
}

// Tighter returns the reading of a strip crushed wider than its widest print: the
// clearance is less than the first, and more than nothing. The error is of kind
// ErrEmpty for the zero Strip.
func (s Strip) Tighter(at string) (LengthReading, error) {
	if len(s.prints.rungs) == 0 {
		_, err := newLadder("crush strip", nil)
		return LengthReading{}, err
	}
	first := s.prints.rungs[0]
	return s.read(stripTighter, at, units.MustInterval(units.Length{}, first), first, units.Length{}), nil
}

// Looser returns the reading of a strip left narrower than its narrowest print: the
// clearance is more than the last. The error is of kind ErrEmpty for the zero Strip.
func (s Strip) Looser(at string) (LengthReading, error) {
	if len(s.prints.rungs) == 0 {
		_, err := newLadder("crush strip", nil)
		return LengthReading{}, err
	}
	last := s.prints.rungs[len(s.prints.rungs)-1]
	return s.read(stripLooser, at, units.AtLeast(last), last, units.Length{}), nil
}
