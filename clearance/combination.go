package clearance

import (
	"fmt"
	"math"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
)

// A Combination says how the doubts of several readings make that of their sum.
// The zero Combination is the default, ByKind.
type Combination uint8

const (
	// ByKind combines the uncertainties of independent readings by
	// root-sum-square (JCGM 100:2008, 5.1.2), and brackets and part tolerances by
	// worst case. It is the default, after JCGM 100 and ISO 14253-1: a stated
	// uncertainty is a spread, and a bracket is not.
	ByKind Combination = iota

	// WorstCase adds up the intervals: nothing can lie outside. It is right for
	// readings that share an error, such as two walls read with one micrometer
	// that is out of adjustment.
	WorstCase

	// RootSumSquare combines everything by root-sum-square, with a bracket as the
	// standard uncertainty of an even spread over it, its width over √12
	// (JCGM 100:2008, 4.3.7). It is the narrowest, and says something only of many
	// such assemblies. A bracket that lacks an end is combined by worst case.
	RootSumSquare
)

// String says in words what was done: "uncertainties by root-sum-square (k = 2),
// brackets by worst case".
func (c Combination) String() string {
	switch c {
	case ByKind:
		return "uncertainties by root-sum-square (k = 2), brackets by worst case"
	case WorstCase:
		return "worst case, the intervals added up"
	case RootSumSquare:
		return "root-sum-square (k = 2), brackets as even spreads"
	}
	return fmt.Sprintf("Combination(%d)", uint8(c))
}

// Source names where the rule comes from.
func (c Combination) Source() string {
	switch c {
	case ByKind:
		return "JCGM 100:2008, 5.1.2, for uncertainties; interval arithmetic for brackets"
	case RootSumSquare:
		return "JCGM 100:2008, 5.1.2 and 4.3.7"
	}
	return "interval arithmetic"
}

// invRoot3 is 1/√3 rounded up: the expanded uncertainty (k = 2) of an even
// spread over its width.
func invRoot3() decimal.Decimal { return decimal.New(577350269190, -12) }

// expandedOfSpread returns the expanded uncertainty, k = 2, of an even spread
// over a width: 2·w/√12 = w/√3.
func expandedOfSpread(width units.Length) units.Length { return roundUp(width.Mul(invRoot3())) }

// A part is one reading of a sum, and how often it counts.
type part struct {
	times   int64
	reading *LengthReading
}

// combine returns the reading of the sum of the terms, without its words. It is
// not taken if one of them is not.
func combine(rule Combination, terms []Term) LengthReading {
	var room [8]part
	parts := room[:0]
	for i := range terms {
		parts = append(parts, part{terms[i].Times, &terms[i].Reading})
	}
	return combineParts(rule, parts)
}

// combineParts is combine for readings that are not in terms.
func combineParts(rule Combination, parts []part) (r LengthReading) {
	var bracket units.LengthInterval
	var room [8]units.Length
	doubts := room[:0]
	limited := false
	for _, p := range parts {
		if p.reading.how == notTaken {
			return r
		}
		from := &p.reading.bracket
		if rule == WorstCase {
			interval := p.reading.Interval()
			from = &interval
		}
		if rule == RootSumSquare && from.Bounded() && !from.IsPoint() {
			doubts = append(doubts, expandedOfSpread(from.Width()).MulInt(p.times))
			middle := units.Exactly(from.Mid())
			from = &middle
		}
		bracket = addTimes(bracket, from, p.times)
		if rule == WorstCase || p.reading.expanded.IsZero() {
			continue
		}
		doubt := p.reading.expanded
		if p.times != 1 && p.times != -1 {
			doubt = doubt.MulInt(p.times)
		}
		doubts = append(doubts, doubt)
		limited = limited || p.reading.freedom > 0
	}
	r.bracket, r.how, r.rule = bracket, byCombination, rule
	if len(doubts) == 0 {
		return r
	}
	r.expanded = units.RootSumSquare(units.Nanometre.OfInt(1), doubts...)
	if limited {
		r.freedom = effectiveFreedom(parts, r.expanded)
	}
	return r
}

// addTimes returns sum + n·a.
func addTimes(sum units.LengthInterval, a *units.LengthInterval, n int64) units.LengthInterval {
	switch n {
	case 1:
		return sum.Add(*a)
	case -1:
		return sum.Sub(*a)
	}
	return sum.Add(a.Mul(decimal.NewFromInt(n)))
}

// effectiveFreedom returns the effective degrees of freedom of a combined
// uncertainty, cut to a whole number:
//
//	ν = u⁴ / Σ (uᵢ⁴/νᵢ)
//
// with u the combined and uᵢ each standard uncertainty, and νᵢ its degrees of
// freedom; those that are unlimited drop out. JCGM 100:2008, G.4.1. In float64.
func effectiveFreedom(parts []part, expanded units.Length) int32 {
	combined := expanded.Float64(units.Millimetre)
	sum := 0.0
	for _, p := range parts {
		if p.reading.freedom > 0 {
			share := p.reading.expanded.MulInt(p.times).Float64(units.Millimetre) / combined
			sum += math.Pow(share, 4) / float64(p.reading.freedom)
		}
	}
	if sum*unlimited < 1 {
		return 0
	}
	return max(1, int32(1/sum))
}
