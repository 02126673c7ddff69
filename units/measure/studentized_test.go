package measure

import (
	"fmt"
	"math"
	"testing"
)

// Quantiles at 95.45 % (two-sided k = 2), worked out with scipy 1.10
// (scipy.stats.studentized_range, and the normal quantile of the n-th root).
func TestExtremesOfNormalErrors(t *testing.T) {
	outside := math.Erfc(math.Sqrt2)
	for _, c := range []struct {
		n    int
		q, m float64
	}{
		{2, 2.8284, 2.2732}, {3, 3.3668, 2.4228}, {4, 3.6830, 2.5249}, {6, 4.0771, 2.6636},
		{8, 4.3315, 2.7587}, {12, 4.6646, 2.8883}, {24, 5.1837, 3.0995},
	} {
		if q := rangeQuantile(c.n, 0, outside); math.Abs(q-c.q) > 0.00006 {
			t.Errorf("n = %d: q = %.6f, want %.4f", c.n, q, c.q)
		}
		if m := modulusQuantile(c.n, 0, outside); math.Abs(m-c.m) > 0.00006 {
			t.Errorf("n = %d: m = %.6f, want %.4f", c.n, m, c.m)
		}
	}
	for _, c := range []struct {
		freedom int32
		m       float64
	}{{1, 31.25}, {3, 5.758}, {9, 3.493}} {
		if m := modulusQuantile(8, c.freedom, outside); math.Abs(m-c.m) > 0.0006*c.m {
			t.Errorf("n = 8, %d degrees of freedom: m = %.4f, want %.4g", c.freedom, m, c.m)
		}
	}
}

// Harter's tables of the studentized range, 5 % points: values reprinted in many
// handbooks (from memory: n = 3, ν = 10: 3.877; n = 5, ν = 20: 4.232; n = 10, ν = 5:
// 6.995), and checked with scipy 1.10. Those of 20 degrees of freedom and two places
// were read in a reproduction (D. M. Lane, HyperStat, studentized range).
func TestStudentizedRange(t *testing.T) {
	for _, c := range []struct {
		n       int
		freedom int32
		q       float64
	}{{3, 10, 3.877}, {5, 20, 4.232}, {10, 5, 6.995}, {2, 20, 2.95}, {3, 20, 3.58}, {4, 20, 3.96}, {5, 20, 4.23}} {
		t.Run(fmt.Sprint(c.n, c.freedom), func(t *testing.T) {
			if q := rangeQuantile(c.n, c.freedom, 0.05); math.Abs(q-c.q) > halfPlace(c.q) {
				t.Errorf("q = %.5f, want %.3f", q, c.q)
			}
		})
	}
}

// The range of two errors over the estimate is √2 |t|, and the magnitude of one is |t|. Student's
// t, exceeded either way with probability p, is
//
//	tan(π/2 (1 - p))              with 1 degree of freedom
//	(1 - p)/√(p (1 - p/2))        with 2
//	z + (z³ + z)/(4ν) + (5z⁵ + 16z³ + 3z)/(96ν²)    with many (Abramowitz and Stegun, 26.7.5, from memory)
//
// and z = √2 erf⁻¹(1 - p) with as many as count as unlimited.
func TestRangeOfTwoIsStudents(t *testing.T) {
	for _, p := range []float64{0.3, 0.05, 0.01} {
		z := math.Sqrt2 * math.Erfinv(1-p)
		many := func(nu float64) float64 {
			return z + (z*z*z+z)/(4*nu) + (5*math.Pow(z, 5)+16*z*z*z+3*z)/(96*nu*nu)
		}
		for freedom, want := range map[int32]float64{
			1: math.Tan(math.Pi / 2 * (1 - p)), 2: (1 - p) / math.Sqrt(p*(1-p/2)),
			1000: many(1000), 99_999: many(99_999), 100_000: z, 0: z,
		} {
			// Quantiles are rounded up to six places. The table of the range costs 1e-8 of
			// probability: with 1 degree of freedom and p = 0.01, 1e-7 of the quantile.
			if q := rangeQuantile(2, freedom, p) / math.Sqrt2; math.Abs(q-want) > 1e-6+2e-7*want {
				t.Errorf("range, p = %v, %d degrees of freedom: %.7f, want %.7f", p, freedom, q, want)
			}
			if m := modulusQuantile(1, freedom, p); m < want-1e-8*want || m > want*(1+1e-8)+1.1e-6 {
				t.Errorf("magnitude, p = %v, %d degrees of freedom: %.7f, want %.7f", p, freedom, m, want)
			}
		}
	}
}

// halfPlace returns a little more than half a unit of the last place that is printed.
func halfPlace(q float64) float64 {
	if math.Abs(100*q-math.Round(100*q)) < 1e-9 {
		return 0.0051
	}
	return 0.0006
}
