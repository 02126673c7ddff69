package measure

import (
	"fmt"
	"math"
	"math/big"

	"github.com/shopspring/decimal"
	"gonum.org/v1/gonum/stat/distuv"

	"example.com/closefit/units"
)

// A Coverage is how sure an interval made from an uncertainty is to hold the
// true value (JCGM 100:2008, 6.2). The zero Coverage is that of the coverage
// factor k = 2, about 95.45 %.
type Coverage struct {
	k    decimal.Decimal // the factor of a normal distribution; zero stands for 2
	miss float64         // the probability of the true value lying outside; zero stands for that of k = 2
}

// factorPlaces is how many places coverage factors are rounded up to.
const factorPlaces = 6

// CoverageFactor returns the coverage of k standard uncertainties of a normal
// distribution. The error is of kind ErrCoverage unless 0 < k <= 10.
func CoverageFactor(k decimal.Decimal) (Coverage, error) {
	if k.Sign() <= 0 || k.Cmp(decimal.NewFromInt(10)) > 0 {
		return Coverage{}, &units.Error{Kind: ErrCoverage, Where: "coverage factor", Found: k.String(), Fix: "give one above 0, at most 10, such as 2"}
	}
	return Coverage{k: k, miss: math.Erfc(k.InexactFloat64() / math.Sqrt2)}, nil
}

// CoverageProbability returns the coverage with the probability p, 0.95 for 95 %.
// The error is of kind ErrCoverage unless 0 < p <= 0.999999.
func CoverageProbability(p decimal.Decimal) (Coverage, error) {
	if p.Sign() <= 0 || p.Cmp(decimal.New(999999, -6)) > 0 {
		return Coverage{}, &units.Error{Kind: ErrCoverage, Where: "coverage probability", Found: p.String(), Fix: "give one above 0 and below 1, such as 0.95"}
	}
	return missing(decimal.NewFromInt(1).Sub(p).InexactFloat64()), nil
}

// missing returns the coverage of which the true value lies outside with the
// probability given.
func missing(outside float64) Coverage {
	return Coverage{k: upward(-distuv.UnitNormal.Quantile(outside / 2)), miss: outside}
}

// Factor returns the coverage factor for so many degrees of freedom, 0 for
// unlimited ones: k, or the quantile of Student's t (JCGM 100:2008, G.3), which
// is computed in float64 and rounded up to the sixth place. It panics on
// negative degrees of freedom.
func (c Coverage) Factor(freedom int) decimal.Decimal {
	if freedom < 0 {
		panic("measure: negative degrees of freedom; use 0 for unlimited ones")
	}
	if freedom == 0 {
		if c.k.IsZero() {
			return decimal.NewFromInt(2)
		}
		return c.k
	}
	return upward(studentQuantile(int32(min(freedom, unlimited)), c.outside()))
}

// Probability returns the probability that the interval holds the true value, in
// float64: 0.9545 for the zero Coverage.
func (c Coverage) Probability() float64 { return 1 - c.outside() }

// outside returns the probability that the interval does not hold the true value.
// It keeps its digits where Probability is too near one to have any.
func (c Coverage) outside() float64 {
	if c.miss == 0 {
		return math.Erfc(math.Sqrt2)
	}
	return c.miss
}

// atLeast2 returns the coverage, or that of k = 2 if it is less.
func (c Coverage) atLeast2() Coverage {
	if c.outside() > (Coverage{}).outside() {
		return Coverage{}
	}
	return c
}

// String returns "k = 2 (95.45 %)".
func (c Coverage) String() string {
	percent := fmt.Sprintf("%.2f %%", 100*c.Probability())
	if c.outside() < 0.00005 {
		percent = "above 99.99 %" // never 100
	}
	return fmt.Sprintf("k = %s (%s)", c.Factor(0), percent)
}

// upward returns the factor rounded up.
func upward(f float64) decimal.Decimal {
	return decimal.NewFromFloat(f).RoundCeil(factorPlaces)
}

// expand returns an uncertainty at the coverage, from twice the standard one,
// rounded up.
func expand[D units.Dimension](c Coverage, twice units.Quantity[D], freedom int32) units.Quantity[D] {
	if freedom == 0 && c.k.IsZero() || twice.IsZero() {
		return twice
	}
	return roundUp(twice.Mul(c.Factor(int(freedom))).MulRat(big.NewRat(1, 2)))
}

// roundUp returns q rounded up to a multiple of step.
func roundUp[D units.Dimension](q units.Quantity[D]) units.Quantity[D] {
	const first = 0
	return units.Unit[D](first).Of(q.Rounded(first, places, units.Ceiling))
}
