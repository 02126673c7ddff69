package clearance

import (
	"example.com/closefit/units"
)

// Wanted returns the sizes that a term must have for the fit to be proven inside
// the tolerance, the other sizes being what is known of them: the thickness of a
// washer, the wall of a shell, the size to grind a journal or to hone a bore to.
// Of several terms, it is what they must come to together: both washers. ok is
// false if there are no such sizes, because the rest is known less closely than
// the limits are apart, or if the rest is not known, or known in two ways that do not
// agree. The bound that a one-sided
// tolerance does not set is missing.
//
// The error is an *Error of kind ErrNoTolerance for an empty tolerance, ErrEmpty
// without a symbol, ErrNoTerm for a symbol that no term has, or ErrOrder if the terms
// do not count the same, once each with one sign.
func (f Fit) Wanted(rule Combination, tolerance units.LengthInterval, symbols ...string) (sizes units.LengthInterval, ok bool, err error) {
	if err := needTolerance(f.Name+", sizes wanted", tolerance); err != nil {
		return sizes, false, err
	}
	if len(symbols) == 0 {
		return sizes, false, &Error{Kind: ErrEmpty, Where: f.Name, Fix: "name a term by its symbol"}
	}
	wanted := map[int]bool{}
	sign := int64(0)
	for _, symbol := range symbols {
		i, err := f.term(symbol)
		if err != nil {
			return sizes, false, err
		}
		n := f.Terms[i].Times
		if n != 1 && n != -1 || sign != 0 && n != sign {
			return sizes, false, &Error{Kind: ErrOrder, Where: f.Name, Found: symbol, Fix: "name terms that count once each, with the same sign"}
		}
		sign, wanted[i] = n, true
	}
	rest := f.rest(rule, wanted)
	r := rest.Interval()
	if r.IsEmpty() {
		return sizes, false, nil
	}
	// sign·x + rest within the limits, for every value of rest.
	var lo, hi *units.Length
	if tolerance.HasLo() {
		if !r.HasLo() {
			return sizes, false, nil
		}
		least := tolerance.Lo().Sub(r.Lo())
		lo = &least
	}
	if tolerance.HasHi() {
		if !r.HasHi() {
			return sizes, false, nil
		}
		most := tolerance.Hi().Sub(r.Hi())
		hi = &most
	}
	switch {
	case lo == nil && hi == nil:
		return tolerance, true, nil
	case lo == nil:
		sizes = units.AtMost(*hi)
	case hi == nil:
		sizes = units.AtLeast(*lo)
	case hi.Less(*lo):
		return sizes, false, nil
	default:
		sizes = units.MustInterval(*lo, *hi)
	}
	if sign < 0 {
		sizes = sizes.Neg()
	}
	return sizes, true, nil
}

// rest returns the reading of the fit without some of its terms: the direct reading
// with those terms' sizes taken out again, or the others added up, or the closer of
// the two as Best has it.
func (f Fit) rest(rule Combination, without map[int]bool) LengthReading {
	taken, others := []Term{{Times: +1, Reading: f.Direct}}, []Term(nil)
	for i, t := range f.Terms {
		if !without[i] {
			others = append(others, t)
			continue
		}
		t.Times = -t.Times
		taken = append(taken, t)
	}
	var sum LengthReading
	if !f.Partial {
		sum = combine(f.Name, rule, others)
	}
	return closer(combine(f.Name, rule, taken), sum)
}
