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

// nanometre is the step that combined uncertainties of lengths are rounded up to.
var nanometre = units.Nanometre.OfInt(1)

// combine returns the reading of the sum of the terms. It is not taken if one of
// them is not.
func combine(name string, rule Combination, terms []Term) (r LengthReading) {
	bracket := units.Exactly(units.Length{})
	var room [8]units.Length
	doubts := room[:0]
	limited := false
	for i := range terms {
		p, times := &terms[i].Reading, terms[i].Times
		if p.how == notTaken {
			return LengthReading{}
		}
		if rule != ByKind {
			var doubt units.Length
			p, doubt = inOneWay(rule, p)
			if !doubt.IsZero() {
				doubts = append(doubts, doubt.MulInt(times))
			}
		}
		bracket = addTimes(bracket, &p.bracket, times)
		if p.expanded.IsZero() {
			continue
		}
		doubt := p.expanded
		if times != 1 && times != -1 {
			doubt = doubt.MulInt(times)
		}
		doubts = append(doubts, doubt)
		limited = limited || p.freedom > 0
	}
	r.name, r.bracket, r.how, r.rule = name, bracket, byCombination, rule
	if len(doubts) > 0 {
		r.expanded = units.RootSumSquare(nanometre, doubts...)
	}
	if limited {
		r.freedom = effectiveFreedom(terms, r.expanded)
	}
	return r
}

// inOneWay returns the reading as the rule takes it, which treats uncertainties
// and brackets alike: all bracket for WorstCase; a value for RootSumSquare, with
// the bracket's own doubt, if it has both ends.
func inOneWay(rule Combination, r *LengthReading) (*LengthReading, units.Length) {
	alike := *r
	switch {
	case rule == WorstCase:
		alike.bracket, alike.expanded = r.Interval(), units.Length{}
	case r.bracket.Bounded() && !r.bracket.IsPoint():
		alike.bracket = units.Exactly(r.bracket.Mid())
		return &alike, expandedOfSpread(r.bracket.Width())
	}
	return &alike, units.Length{}
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
func effectiveFreedom(terms []Term, expanded units.Length) int32 {
	combined := expanded.Float64(units.Millimetre)
	sum := 0.0
	for _, t := range terms {
		if t.Reading.freedom > 0 {
			share := t.Reading.expanded.MulInt(t.Times).Float64(units.Millimetre) / combined
			sum += math.Pow(share, 4) / float64(t.Reading.freedom)
		}
	}
	if sum*unlimited < 1 {
		return 0
	}
	return max(1, int32(1/sum))
}
