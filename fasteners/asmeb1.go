package fasteners

import (
	"math/big"

	"example.com/closefit/units"
)

// unifiedTolerances returns the tolerances of a thread: those that the tables of ASME B1.1
// print where they differ from the formulas, and those of the formulas elsewhere.
func unifiedTolerances(t Thread) tolerance {
	tol := unifiedFormulas(t)
	name := t.size + "-" + numberText(t.tpi)
	if printed, ok := unifiedDepartures[name]; ok {
		tol.deviation, tol.externalPitch = tenThousandths(printed.allowance), tenThousandths(printed.external)
		if printed.internal != 0 {
			tol.internalPitch = tenThousandths(printed.internal)
		}
	}
	if printed, ok := departureMinor2B[name]; ok {
		tol.leastMinor = tenThousandths(printed)
	}
	return tol
}

// unifiedFormulas returns the tolerances by the formulas of ASME B1.1-2003, 5.8, all in
// inches:
//
//	Td2(2A) = 0.0015 D^(1/3) + 0.0015 √LE + 0.015 P^(2/3)
//	es(2A)  = 0.300 Td2(2A)
//	Td(2A)  = 0.060 P^(2/3)
//	TD2(2B) = 1.300 Td2(2A)
//	TD1(2B) = 0.25 P - 0.40 P²                        D >= 1/4 in, 4 threads per inch or finer
//	        = 0.15 P                                   D >= 1/4 in, coarser
//	        = 0.05 P^(2/3) + 0.03 P/D - 0.002          D < 1/4 in, but at least 0.25 P - 0.40 P²
//	                                                   and at most 0.394 P
//
// D is the basic major diameter, P the pitch, LE the length of engagement that the
// tables take: D for UNC, UNF and the constant pitches of 4, 6 and 8 to the inch, 9 P for
// all others, the specials (UNS) among them. Allowance and tolerances each come from the
// unrounded Td2 and are rounded half to even to 0.0001 in.
func unifiedFormulas(t Thread) tolerance {
	d, p := t.major.Rat(units.Inch), t.pitch.Rat(units.Inch)
	engagement := times(9, p)
	if t.engagedByDiameter() {
		engagement = d
	}
	twoThirds := power(p, 2, 3)
	pitch := sum(product(ratio("0.0015"), root(d, 3)), sum(product(ratio("0.0015"), root(engagement, 2)), product(ratio("0.015"), twoThirds)))
	tol := tolerance{
		deviation:     tenths(product(ratio("0.3"), pitch)),
		major:         tenths(product(ratio("0.06"), twoThirds)),
		externalPitch: tenths(pitch),
		internalPitch: tenths(product(ratio("1.3"), pitch)),
		minor:         tenths(minorTolerance(d, p, twoThirds)),
		external:      t.series != uns && t.major.Cmp(units.Inch.OfInt(4)) <= 0,
		internal:      (t.series == unc || t.series == unf) && t.major.Cmp(units.Inch.OfInt(4)) <= 0,
	}
	printed := func(l units.Length) units.Length { return units.Inch.Of(l.In(units.Inch, minorPlaces(t.major))) }
	tol.leastMinor, tol.mostMinor = printed(t.MinorDiameter()), printed(t.tabulated(t.MinorDiameter()).Add(tol.minor))
	return tol
}

// tenThousandths returns so many ten-thousandths of an inch.
func tenThousandths(n int64) units.Length { return units.Inch.OfRat(big.NewRat(n, 10_000)) }

// engagedByDiameter reports whether the tables take the diameter for the length of
// engagement.
func (t Thread) engagedByDiameter() bool {
	switch t.series {
	case unc, unf:
		return true
	case un:
		return t.tpi.Cmp(big.NewRat(8, 1)) <= 0
	}
	return false
}

func minorTolerance(d, p, twoThirds *big.Rat) *big.Rat {
	usual := sub(product(ratio("0.25"), p), product(ratio("0.4"), product(p, p)))
	switch {
	case d.Cmp(big.NewRat(1, 4)) >= 0 && p.Cmp(big.NewRat(1, 4)) > 0:
		return product(ratio("0.15"), p)
	case d.Cmp(big.NewRat(1, 4)) >= 0:
		return usual
	}
	small := sub(sum(product(ratio("0.05"), twoThirds), product(ratio("0.03"), quotient(p, d))), ratio("0.002"))
	if small.Cmp(usual) < 0 {
		small = usual
	}
	if most := product(ratio("0.394"), p); small.Cmp(most) > 0 {
		small = most
	}
	return small
}

// minorPlaces returns the places that the tables give the minor diameter of 2B: three
// from #6 up, four below.
func minorPlaces(major units.Length) int32 {
	if major.Less(units.Inch.OfRat(big.NewRat(138, 1000))) {
		return 4
	}
	return 3
}

// tenths returns inches rounded half to even to 0.0001 in.
func tenths(inches *big.Rat) units.Length {
	return units.Inch.Of(units.Inch.OfRat(inches).In(units.Inch, 4))
}
