package fasteners

import (
	"math/big"
	"slices"

	"example.com/closefit/units"
)

// metricTolerances returns the tolerances of a thread: those of tables 1 and 3 to 6 of ISO
// 965-1:2013 where they have its pitch and diameter, and those of the formulas elsewhere.
func metricTolerances(t Thread) (tolerance, error) {
	p := t.pitch.Rat(units.Millimetre)
	lo, hi, ok := diameterRange(t.major)
	if p.Cmp(big.NewRat(2, 10)) < 0 || p.Cmp(big.NewRat(8, 1)) > 0 {
		return tolerance{}, threadError(t.String(), "a pitch outside the range of ISO 965-1", "its limits are defined for pitches of 0.2 mm to 8 mm")
	}
	if !ok {
		return tolerance{}, threadError(t.String(), "a diameter outside the ranges of ISO 965-1", "its limits are defined above 0.99 mm up to 355 mm")
	}
	tol := metricFormulas(p, lo, hi)
	micron := units.Micrometre.OfInt
	byPitch := slices.IndexFunc(pitchTable, func(row pitchRow) bool { return t.pitch.Equal(micron(row.pitch)) })
	if byPitch >= 0 {
		row := pitchTable[byPitch]
		tol.deviation, tol.major = micron(row.deviation), micron(row.major)
		if row.minor != 0 {
			tol.minor = micron(row.minor)
		}
	}
	bySize := slices.IndexFunc(pitchDiameterTable, func(row pitchDiameterRow) bool {
		return lo.Cmp(ratio(row.above)) == 0 && t.pitch.Equal(micron(row.pitch))
	})
	if bySize >= 0 {
		row := pitchDiameterTable[bySize]
		tol.externalPitch = micron(row.external)
		if row.internal != 0 {
			tol.internalPitch = micron(row.internal)
		}
	}
	tol.external = byPitch >= 0 && bySize >= 0
	tol.internal = tol.external && pitchTable[byPitch].minor != 0 && pitchDiameterTable[bySize].internal != 0
	tol.leastMinor = t.tabulated(t.MinorDiameter())
	tol.mostMinor = tol.leastMinor.Add(tol.minor)
	return tol, nil
}

// metricFormulas returns the tolerances by the formulas of ISO 965-1:2013, clause 13, all in
// micrometres with the pitch P and the diameter d in millimetres:
//
//	es  = -(15 + 11 P)
//	Td  = 180 P^(2/3) - 3.15/√P
//	Td2 = 90 P^0.4 d^0.1        d: geometric mean of the range's ends
//	TD2 = 1.32 Td2
//	TD1 = 230 P^0.7 for P >= 1 mm;  433 P - 190 P^1.22 below
//
// each rounded to the nearest number of the R40 series (ISO 3), of two equally near the
// larger, and then to a whole micrometre. The standard's tables depart from these values in
// a few places, "in order to achieve smooth progressions".
func metricFormulas(p, lo, hi *big.Rat) tolerance {
	deviation := sum(big.NewRat(15, 1), times(11, p))
	major := sub(times(180, power(p, 2, 3)), quotient(ratio("3.15"), root(p, 2)))
	// P^0.4 d^0.1 with d = √(lo·hi) is the twentieth root of P^8·lo·hi.
	pitch := times(90, root(product(product(powerOf(p, 8), lo), hi), 20))
	minor := times(230, power(p, 7, 10))
	if p.Cmp(big.NewRat(1, 1)) < 0 {
		minor = sub(times(433, p), times(190, power(p, 61, 50)))
	}
	external := preferred(pitch)
	return tolerance{
		deviation:     preferred(deviation).whole(),
		major:         preferred(major).whole(),
		externalPitch: external.whole(),
		internalPitch: external.up(5).whole(), // 1.32 is five steps of R40
		minor:         preferred(minor).whole(),
	}
}

// diameterRange returns the ends, in millimetres, of the range of ISO 965-1 that holds a
// diameter: above the first up to the second.
func diameterRange(diameter units.Length) (lo, hi *big.Rat, ok bool) {
	ends := []string{"0.99", "1.4", "2.8", "5.6", "11.2", "22.4", "45", "90", "180", "355"}
	d := diameter.Rat(units.Millimetre)
	for i := range ends[1:] {
		lo, hi = ratio(ends[i]), ratio(ends[i+1])
		if lo.Cmp(d) < 0 && d.Cmp(hi) <= 0 {
			return lo, hi, true
		}
	}
	return nil, nil, false
}

// r40 are the numbers of the R40 series from 100 up to 1000. Source: ISO 3:1973, table 1.
var r40 = [40]int64{
	100, 106, 112, 118, 125, 132, 140, 150, 160, 170, 180, 190, 200, 212, 224, 236, 250, 265, 280, 300,
	315, 335, 355, 375, 400, 425, 450, 475, 500, 530, 560, 600, 630, 670, 710, 750, 800, 850, 900, 950,
}

// An r40Step is a place in the series: number r40[n mod 40] of the decade n div 40, of
// which the tenth begins at 100.
type r40Step int

// preferred returns the number of the series nearest to x > 0; of two equally near, the
// larger.
func preferred(x *big.Rat) r40Step {
	decade, ten := 10, big.NewRat(10, 1)
	x = new(big.Rat).Set(x)
	for x.Cmp(big.NewRat(100, 1)) < 0 {
		x.Mul(x, ten)
		decade--
	}
	for x.Cmp(big.NewRat(1000, 1)) >= 0 {
		x.Quo(x, ten)
		decade++
	}
	first := r40Step(40 * decade)
	twice := x.Add(x, x)
	for i := range r40 {
		next := int64(1000)
		if i+1 < len(r40) {
			next = r40[i+1]
		}
		if twice.Cmp(big.NewRat(r40[i]+next, 1)) < 0 {
			return first + r40Step(i)
		}
	}
	return first + r40Step(len(r40))
}

// up returns the number so many steps on.
func (s r40Step) up(steps int) r40Step { return s + r40Step(steps) }

func (s r40Step) value() *big.Rat {
	v, ten := big.NewRat(r40[s%40], 1), big.NewRat(10, 1)
	for decade := s / 40; decade < 10; decade++ {
		v.Quo(v, ten)
	}
	for decade := s / 40; decade > 10; decade-- {
		v.Mul(v, ten)
	}
	return v
}

// whole returns the number as whole micrometres, rounded half to even.
func (s r40Step) whole() units.Length {
	um := units.Micrometre.OfRat(s.value())
	return units.Micrometre.Of(um.In(units.Micrometre, 0))
}
