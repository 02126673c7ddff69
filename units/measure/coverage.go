package measure

import (
	"math"
	"math/big"

	"github.com/shopspring/decimal"
	"gonum.org/v1/gonum/mathext"

	"example.com/closefit/units"
)

// CoverageFactor returns the coverage factor of an interval that holds the true value
// with the probability p, 0.95 for 95 % (JCGM 100:2008, 6.3 and G.3): the quantile of
// Student's t for so many degrees of freedom, of the normal distribution for 0, which
// stands for unlimited ones. It is computed in float64 and rounded up to the sixth
// place. At one limit, a value measured so many standard uncertainties inside it lies
// outside with half the probability 1 - p: the guard band for a risk of 5 % takes the
// factor of 0.90 (JCGM 106:2012, 8.3.2). The error is of kind ErrProbability unless
// 0 < p <= 0.999999, ErrNotPositive for negative degrees of freedom.
func CoverageFactor(p decimal.Decimal, freedom int) (decimal.Decimal, error) {
	const where = "coverage factor"
	if p.Sign() <= 0 || p.Cmp(decimal.New(999_999, -6)) > 0 {
		return decimal.Decimal{}, &units.Error{Kind: ErrProbability, Where: where, Found: "p = " + p.String(), Fix: "give one above 0 and below 1, such as 0.95"}
	}
	if freedom < 0 {
		return decimal.Decimal{}, negativeFreedom(where, freedom)
	}
	return missing(decimal.NewFromInt(1).Sub(p).InexactFloat64()).factor(limited(freedom)), nil
}

// A coverage is how sure an interval made from an uncertainty is to hold the true
// value. The zero coverage is that of the coverage factor k = 2, about 95.45 %.
type coverage struct {
	k    decimal.Decimal // the factor of a normal distribution; zero stands for 2
	miss float64         // the probability of the true value lying outside; zero stands for that of k = 2
}

// coverageOf returns the coverage of k standard uncertainties of a normal distribution;
// ok is false unless 0 < k <= 10.
func coverageOf(k decimal.Decimal) (c coverage, ok bool) {
	if k.Sign() <= 0 || k.Cmp(decimal.NewFromInt(10)) > 0 {
		return c, false
	}
	return coverage{k, math.Erfc(k.InexactFloat64() / math.Sqrt2)}, true
}

// missing returns the coverage of which the true value lies outside with the
// probability given.
func missing(outside float64) coverage {
	return coverage{upward(-mathext.NormalQuantile(outside / 2)), outside}
}

// factor returns k, or for limited degrees of freedom the quantile of Student's t.
func (c coverage) factor(freedom int32) decimal.Decimal {
	switch {
	case freedom > 0:
		return upward(studentQuantile(freedom, c.outside()))
	case c.k.IsZero():
		return decimal.NewFromInt(2)
	}
	return c.k
}

// outside returns the probability that the interval does not hold the true value.
func (c coverage) outside() float64 {
	if c.miss == 0 {
		return math.Erfc(math.Sqrt2)
	}
	return c.miss
}

// atLeast2 returns the coverage, or that of k = 2 if it is less.
func (c coverage) atLeast2() coverage {
	if c.outside() > (coverage{}).outside() {
		return coverage{}
	}
	return c
}

// upward returns the factor rounded up.
func upward(f float64) decimal.Decimal {
	const factorPlaces = 6
	return decimal.NewFromFloat(f).RoundCeil(factorPlaces)
}

// expand returns an uncertainty at the coverage, from twice the standard one,
// rounded up.
func expand[D units.Dimension](c coverage, twice units.Quantity[D], freedom int32) units.Quantity[D] {
	if freedom == 0 && c.k.IsZero() || twice.IsZero() {
		return twice
	}
	return roundUp(twice.Mul(c.factor(freedom)).MulRat(big.NewRat(1, 2)))
}

// roundUp returns q rounded up to a multiple of step.
func roundUp[D units.Dimension](q units.Quantity[D]) units.Quantity[D] {
	const first = 0
	return units.Unit[D](first).Of(q.Rounded(first, places, units.Ceiling))
}
