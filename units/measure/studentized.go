package measure

import (
	"math"
	"sync"

	"gonum.org/v1/gonum/mathext"
)

// The quantiles here are of the extremes of n independent normal errors, in units of
// their common standard deviation: the range of the errors, and the largest of their
// magnitudes. Where the standard deviation is itself an estimate with so many degrees
// of freedom, they are the studentized range and the studentized maximum modulus.
// (H. L. Harter, Tables of range and studentized range, Annals of Mathematical
// Statistics 31, 1960.) All in float64, rounded up to six places.

// mostFreedom is from where on degrees of freedom count as unlimited here: beyond, the
// rounding of the density costs more than they are worth.
const mostFreedom = 100_000

// isEstimated reports whether a standard deviation is an estimate; 0 stands for one that is known.
func isEstimated(freedom int32) bool { return freedom > 0 && freedom < mostFreedom }

// rangeQuantile returns q such that the range of n errors is at most q with the
// probability given.
func rangeQuantile(n int, freedom int32, outside float64) float64 {
	return remembered(quantileKey{n, freedom, outside, true}, func() float64 { return findRangeQuantile(n, freedom, outside) })
}

// quantileKey is what a quantile depends on.
type quantileKey struct {
	n       int
	freedom int32
	outside float64
	ofRange bool
}

// quantiles remembers quantiles, which are asked for again for every part of an
// engine. Nothing can be seen of it in a result.
var quantiles sync.Map // of quantileKey to float64

func remembered(key quantileKey, find func() float64) float64 {
	if q, ok := quantiles.Load(key); ok {
		return q.(float64)
	}
	q := find()
	quantiles.Store(key, q)
	return q
}

func findRangeQuantile(n int, freedom int32, outside float64) float64 {
	if !isEstimated(freedom) { // no mean: the table is not worth its time
		return quantileOf(0, outside, func(q float64) float64 { return rangeOutside(n, q) })
	}
	// The mean over the estimate asks for the range's law at thousands of places.
	return quantileOf(freedom, outside, newRangeTable(n).outside)
}

// A rangeTable is the law of a range at even places. Between them runs the polynomial
// through the six nearest, within 1e-8 of the law of up to 100 errors.
type rangeTable []float64

const (
	rangeApart = 0.05
	rangeMost  = 14.0 // above it the law is nought
)

func newRangeTable(n int) rangeTable {
	t := rangeTable{0, 0} // before nought
	for i := range int(math.Round(rangeMost/rangeApart)) + 1 {
		t = append(t, rangeOutside(n, rangeApart*float64(i)))
	}
	// The probability inside is q^(n-1) times an even function of q: so it goes on below nought.
	sign := 1.0
	if n%2 == 0 {
		sign = -1
	}
	t[0], t[1] = 1-sign*(1-t[4]), 1-sign*(1-t[3])
	return t
}

// outside returns the probability that the range is above q >= 0.
func (t rangeTable) outside(q float64) float64 {
	at := q / rangeApart
	if !(at < float64(len(t)-3)) {
		return t[len(t)-1]
	}
	from := min(int(at), len(t)-6)
	u := at + 2 - float64(from) // from the first of the six
	a, b, c, d, e := u-1, u-2, u-3, u-4, u-5
	y := t[from : from+6]
	return -a*b*c*d*e*y[0]/120 + u*b*c*d*e*y[1]/24 - u*a*c*d*e*y[2]/12 + u*a*b*d*e*y[3]/12 - u*a*b*c*e*y[4]/24 + u*a*b*c*d*y[5]/120
}

// modulusQuantile returns m such that the largest magnitude of n errors is at most m
// with the probability given.
func modulusQuantile(n int, freedom int32, outside float64) float64 {
	return remembered(quantileKey{n, freedom, outside, false}, func() float64 {
		return quantileOf(freedom, outside, func(m float64) float64 { return modulusOutside(n, m) })
	})
}

// studentQuantile returns the t that Student's distribution exceeds, either way, with
// the probability given.
func studentQuantile(freedom int32, outside float64) float64 {
	return remembered(quantileKey{freedom: freedom, outside: outside}, func() float64 { return studentBeyond(freedom, outside) })
}

// studentBeyond is studentQuantile, computed.
func studentBeyond(freedom int32, outside float64) float64 {
	nu := float64(freedom)
	x := mathext.InvRegIncBeta(nu/2, 0.5, outside)
	return math.Sqrt(nu * (1 - x) / x)
}

// studentOutside returns the probability that Student's t is above t >= 0, either way:
//
//	I(ν/2, 1/2) at ν/(ν + t²)
//
// with the regularized incomplete beta function I (Abramowitz and Stegun, Handbook of
// Mathematical Functions, 26.5.27; from memory).
func studentOutside(freedom int32, t float64) float64 {
	nu := float64(freedom)
	return mathext.RegIncBeta(nu/2, 0.5, nu/(nu+t*t))
}

// rangeOutside returns the probability that the range of n standard normal errors is
// above q:
//
//	1 - n ∫ φ(z)·(Φ(z) - Φ(z - q))ⁿ⁻¹ dz
//
// with z the largest.
func rangeOutside(n int, q float64) float64 {
	inside := pieces(func(z float64) float64 {
		return float64(n) * density(z) * math.Pow(max(0, normal(z)-normal(z-q)), float64(n-1))
	}, -9, 9+q, steps(-9, 9+q, 1))
	return min(max(1-inside, 0), 1)
}

// modulusOutside returns the probability that the largest of the magnitudes of n
// standard normal errors is above m: 1 - (1 - 2Φ(-m))ⁿ.
func modulusOutside(n int, m float64) float64 {
	return -math.Expm1(float64(n) * math.Log1p(-math.Erfc(m/math.Sqrt2)))
}

// quantileOf returns where a probability of being outside falls to the one given, the
// argument being divided by an estimated standard deviation if the degrees of freedom
// are limited.
func quantileOf(freedom int32, outside float64, above func(float64) float64) float64 {
	at := above
	if isEstimated(freedom) {
		at = func(q float64) float64 { return studentized(freedom, q, above) }
	}
	least, most := 0.0, 4.0
	for at(most) > outside && most < 1e9 {
		least, most = most, 2*most
	}
	for most-least > 1e-9*most {
		if middle := (least + most) / 2; at(middle) > outside {
			least = middle
		} else {
			most = middle
		}
	}
	return math.Ceil(most*1e6) / 1e6
}

// studentized returns the mean of above(q·s) over the estimate s of a standard
// deviation of one with so many degrees of freedom: ν·s² is distributed as χ². The
// integral is over log s, where the density has one smooth hill.
func studentized(freedom int32, q float64, above func(float64) float64) float64 {
	nu := float64(freedom)
	lg, _ := math.Lgamma(nu / 2)
	density := func(x float64) float64 {
		s := math.Exp(x)
		return 2 * math.Exp(nu/2*math.Log(nu/2)-lg+nu*x-nu*s*s/2)
	}
	// Below, s^ν falls to 1e-16; above, exp(-ν·s²/2). With many degrees of freedom the hill is
	// 1/√(2ν) wide, and both the ends and the cuts draw near to it.
	from, to := -37/nu-min(1, 7/math.Sqrt(nu)), math.Log(1+9/math.Sqrt(nu))
	cuts := steps(from, to, min((to-from)/8, max(0.25, (to-from)/64)))
	inside := pieces(func(x float64) float64 { return density(x) * above(q*math.Exp(x)) }, from, to, cuts)
	below := pieces(density, from, to, cuts)
	return inside + max(0, 1-below)
}

// steps returns cuts between two ends, so far apart.
func steps(from, to, apart float64) (cuts []float64) {
	for x := from + apart; x < to; x += apart {
		cuts = append(cuts, x)
	}
	return cuts
}
