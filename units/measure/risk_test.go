package measure

import (
	"math"
	"testing"
)

// TestIntegralIsThatOfSimpson holds the quadrature of Risks against Simpson's rule with so many
// steps h that its own error, about h⁴/180 times the difference of the third derivative
// between the ends, is below 1e-12.
func TestIntegralIsThatOfSimpson(t *testing.T) {
	for _, u := range []float64{0.02, 0.11, 0.5, 1.3, 4} {
		for _, c := range []struct{ lo, hi, al, au float64 }{{-9, -1.6, -1.4, 1.7}, {1.6, 9, -1.4, 1.7}, {-1.6, 1.6, -1.1, 1.3}, {-3, 0.2, -0.7, 4}} {
			f := func(x float64) float64 { return density(x) * (normal((c.au-x)/u) - normal((c.al-x)/u)) }
			const n = 20_000
			h, sum := (c.hi-c.lo)/n, f(c.lo)+f(c.hi)
			for i := 1; i < n; i++ {
				sum += f(c.lo+float64(i)*h) * float64(2+2*(i%2))
			}
			if got, want := integral(f, c.lo, c.hi, u, c.al, c.au), sum*h/3; math.Abs(got-want) > 1e-11 {
				t.Errorf("u = %v, %+v: %v, by Simpson %v", u, c, got, want)
			}
		}
	}
}
