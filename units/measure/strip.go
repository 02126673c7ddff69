package measure

import (
	"example.com/closefit/units"
)

// A Strip is a crush strip: a thread of soft plastic that the journal flattens,
// compared with a printed scale of widths. The prints are named here by the
// clearances beside them; the smallest clearance has the widest print. No reading goes
// below zero.
type Strip struct {
	Prints []units.Length `json:"prints"` // the printed clearances, smallest first

	// Tolerance is the maker's: how far a clearance read on the strip may be off, to
	// either side. It is a bracket; zero takes the scale as exact.
	Tolerance units.Length `json:"tolerance"`

	// Batch names the strips that share one tolerance, if the maker states it for a
	// batch. Without a name each strip has its own.
	Batch string `json:"batch"`
}

func (s Strip) ladder() ladder { return ladder{"crush strip", s.Prints, s.Tolerance, s.Batch} }

// Check returns an error of kind ErrEmpty if there is no print, ErrNotPositive for a
// print of zero or less or a tolerance below zero, ErrOrder for prints that do not
// ascend.
func (s Strip) Check() error { return s.ladder().check() }

// Read returns the reading of a strip that was compared with its prints. at says where it
// lay, and seen names the prints that it was compared with:
//
//	0.025..0.038 mm   between two neighbouring prints
//	0.038 mm          nearest to one print
//	<= 0.025 mm       wider than the widest print: less clearance than the first
//	>= 0.051 mm       narrower than the narrowest: more clearance than the last
//
// Nearest to a print, the reading reaches to the half-way marks towards the neighbours.
// The half-way mark between the clearances c1 < c2 of two prints lies
//
//	at 2·c1·c2/(c1 + c2)  if the eye compares widths
//	at (c1 + c2)/2        if it compares the printed clearances
//
// because a strip keeps its volume, so that width times clearance is nearly
// constant. The first is always the lower one. Nobody knows which of them an eye
// compares, so the lower bound is the first mark, rounded down to the nanometre, and
// the upper bound is the second, exactly. Nearest to the first print, the clearance may
// be anything down to zero; nearest to the last, anything upward, and the interval has
// no upper bound.
//
// The error is what Check returns; of kind ErrEmpty for an empty interval; ErrNotInSet
// for a print that the strip does not have, two that are not neighbours, a bound that is
// not at an end of the scale, or a strip that is nearest to its only print.
//
// Source: the geometry of the strip; that its volume is constant is an assumption
// (common practice, no source).
func (s Strip) Read(at string, seen units.LengthInterval) (LengthReading, error) {
	l := s.ladder()
	if err := l.check(); err != nil {
		return LengthReading{}, err
	}
	// A strip's tolerance is one, whatever prints it is compared with.
	read := func(by means, bracket units.LengthInterval, a, b units.Length) (LengthReading, error) {
		return l.seen(by, at, bracket, a, b, l.off("its scale", both)), nil
	}
	last := len(s.Prints) - 1
	switch {
	case !seen.HasLo() && !seen.HasHi():
		return LengthReading{}, l.fail(ErrEmpty, "", "say between which prints its width lies, or which it is nearest to")
	case !seen.HasLo():
		if first := s.Prints[0]; !seen.Hi().Equal(first) {
			return LengthReading{}, l.fail(ErrNotInSet, "less than "+l.write(seen.Hi()), "the first is "+l.write(first))
		}
		return read(stripTighter, units.Between(units.Length{}, s.Prints[0]), s.Prints[0], units.Length{})
	case !seen.HasHi():
		if !seen.Lo().Equal(s.Prints[last]) {
			return LengthReading{}, l.fail(ErrNotInSet, "more than "+l.write(seen.Lo()), "the last is "+l.write(s.Prints[last]))
		}
		return read(stripLooser, units.AtLeast(s.Prints[last]), s.Prints[last], units.Length{})
	}
	i, err := l.find(seen.Lo())
	if err != nil {
		return LengthReading{}, err
	}
	j, err := l.find(seen.Hi())
	if err != nil {
		return LengthReading{}, err
	}
	switch {
	case j > i+1:
		return LengthReading{}, l.fail(ErrNotInSet, l.write(seen.Lo())+" and "+l.write(seen.Hi())+" as neighbours",
			"the print after "+l.write(seen.Lo())+" is "+l.write(s.Prints[i+1]))
	case j > i:
		return read(stripBetween, seen, seen.Lo(), seen.Hi())
	case last == 0:
		return LengthReading{}, l.fail(ErrNotInSet, "a neighbour of the single print, "+l.write(s.Prints[0]),
			"a strip is read as nearest only among two prints or more; say whether it is wider or narrower than the print")
	case i == 0:
		return read(stripFirst, units.Between(units.Length{}, s.upperMark(0)), s.Prints[0], s.Prints[1])
	case i == last:
		return read(stripLast, units.AtLeast(s.lowerMark(last-1)), s.Prints[last], s.Prints[last-1])
	}
	return read(stripNearest, units.Between(s.lowerMark(i-1), s.upperMark(i)), s.Prints[i], units.Length{})
}

// upperMark returns the arithmetic mean of the clearances of prints i and i+1.
func (s Strip) upperMark(i int) units.Length { return units.Between(s.Prints[i], s.Prints[i+1]).Mid() }

// lowerMark returns the harmonic mean of the clearances of prints i and i+1,
// rounded down to the nanometre.
func (s Strip) lowerMark(i int) units.Length {
	a, b := s.Prints[i], s.Prints[i+1]
	mean := a.MulRat(b.Ratio(a.Add(b))).MulInt(2)
	return units.Nanometre.Of(mean.Rounded(units.Nanometre, 0, units.Floor))
}
