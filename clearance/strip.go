package clearance

import "example.com/closefit/units"

// A Strip is a crush strip: a thread of soft plastic that the journal flattens,
// compared with a printed scale of widths. The widths are named here by the
// clearances printed beside them, smallest first; the smallest clearance has the
// widest print. The printed scale is taken as exact; where its maker states a
// tolerance, widen the reading by it.
type Strip struct {
	widths ladder
}

const stripName = "crush strip"

// NewStrip returns a strip with the printed clearances given, ascending. The
// error is an *Error of kind ErrEmpty, ErrNotPositive or ErrOrder.
func NewStrip(widths ...units.Length) (Strip, error) {
	l, err := newLadder(stripName, widths)
	return Strip{l}, err
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
	return bracketed(units.MustInterval(lo, hi), stripBetween, lo, hi), nil
}

// Nearest returns the reading of a strip whose width is nearest to one print: it
// reaches half-way to the neighbours. Past the first print, the clearance may be
// anything down to zero; past the last, anything at all, and the interval has no
// upper bound. The error is an *Error of kind ErrNotInSet.
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
		hi := s.halfWay(0)
		return bracketed(units.MustInterval(units.Length{}, hi), stripFirst, width, s.widths.rungs[1]), nil
	case i == last:
		return bracketed(units.AtLeast(s.halfWay(last-1)), stripLast, width, s.widths.rungs[last-1]), nil
	}
	return bracketed(units.MustInterval(s.halfWay(i-1), s.halfWay(i)), stripNearest, width, units.Length{}), nil
}

// halfWay returns the middle of prints i and i+1.
func (s Strip) halfWay(i int) units.Length {
	return s.widths.rungs[i].Add(s.widths.rungs[i+1]).MulRat(half())
}

// Tighter returns the reading of a strip crushed wider than its widest print:
// the clearance is less than the first, and more than nothing. The error is an
// *Error of kind ErrEmpty for the zero Strip.
func (s Strip) Tighter() (LengthReading, error) {
	if len(s.widths.rungs) == 0 {
		return LengthReading{}, noRungs(stripName)
	}
	first := s.widths.rungs[0]
	return bracketed(units.MustInterval(units.Length{}, first), stripTighter, first, units.Length{}), nil
}

// Looser returns the reading of a strip left narrower than its narrowest print:
// the clearance is more than the last. The error is an *Error of kind ErrEmpty
// for the zero Strip.
func (s Strip) Looser() (LengthReading, error) {
	if len(s.widths.rungs) == 0 {
		return LengthReading{}, noRungs(stripName)
	}
	last := s.widths.rungs[len(s.widths.rungs)-1]
	return bracketed(units.AtLeast(last), stripLooser, last, units.Length{}), nil
}
