package clearance

import (
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// Wanted returns the sizes that a term must have for the fit to be proven inside the
// tolerance, with the other sizes as they are known: the thickness of a washer, the wall
// of a shell, the size to grind a journal or to hone a bore to. For several terms, such
// as both washers, the sizes are those of their sum. ok is false if no size does it,
// because the rest is known less closely than the limits are apart; or if the rest is
// unknown, or known in two ways that disagree. A one-sided tolerance leaves one bound
// missing.
//
// The error is of kind measure.ErrEmpty for an empty tolerance or without a symbol,
// measure.ErrNotInSet for an unknown symbol, or measure.ErrOrder unless all the terms
// count once and with one sign.
func (f Fit) Wanted(tolerance units.LengthInterval, symbols ...string) (sizes units.LengthInterval, ok bool, err error) {
	if err := needTolerance(f.Sum.Name+", sizes wanted", tolerance); err != nil {
		return sizes, false, err
	}
	if len(symbols) == 0 {
		return sizes, false, &units.Error{Kind: measure.ErrEmpty, Where: f.Sum.Name, Fix: "name a term by its symbol"}
	}
	wanted := map[int]bool{}
	sign := 0
	for _, symbol := range symbols {
		i, err := f.term(symbol)
		if err != nil {
			return sizes, false, err
		}
		factor := f.Sum.Terms[i].Factor
		n := factor.Sign()
		if !factor.Abs().Equal(units.One.OfInt(1)) || sign != 0 && n != sign {
			return sizes, false, &units.Error{Kind: measure.ErrOrder, Where: f.Sum.Name, Found: symbol, Fix: "name terms that count once each, with the same sign"}
		}
		sign, wanted[i] = n, true
	}
	rest := f.rest(wanted)
	if sizes, ok = within(tolerance, rest.Interval()); sign < 0 {
		sizes = sizes.Neg()
	}
	return sizes, ok, nil
}

// within returns the sizes x for which rest + x lies within the limits, wherever rest is in
// its interval. ok is false if there are none.
func within(limits, rest units.LengthInterval) (sizes units.LengthInterval, ok bool) {
	lower, upper := limits.HasLo(), limits.HasHi()
	switch {
	case rest.IsEmpty() || lower && !rest.HasLo() || upper && !rest.HasHi():
		return sizes, false
	case !lower && !upper:
		return limits, true
	case !upper:
		return units.AtLeast(limits.Lo().Sub(rest.Lo())), true
	case !lower:
		return units.AtMost(limits.Hi().Sub(rest.Hi())), true
	}
	sizes, err := units.NewInterval(limits.Lo().Sub(rest.Lo()), limits.Hi().Sub(rest.Hi()))
	return sizes, err == nil
}

// rest returns the reading of the fit without some of its terms: the direct reading
// with those terms' sizes taken out again, or the others added up, or the closer of
// the two as Best has it.
func (f Fit) rest(without map[int]bool) measure.LengthReading {
	taken, others := f.Sum, f.Sum
	taken.Terms, others.Terms = []measure.Term[units.LengthDim]{measure.Plus("", "", f.Direct)}, nil
	for i, t := range f.Sum.Terms {
		if !without[i] {
			others.Terms = append(others.Terms, t)
			continue
		}
		t.Factor = t.Factor.Neg()
		taken.Terms = append(taken.Terms, t)
	}
	return measure.Compare(taken.Reading(), others.Reading()).Best()
}
