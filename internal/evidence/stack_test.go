package evidence

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// The part of a fine lattice of uniform numbers that falls below a value is Student's
// probability of that, by gonum.
func TestStudentOf(t *testing.T) {
	const n = 300
	for _, freedom := range []float64{5, 8, 18} {
		for _, at := range []float64{-3, -1.2, 0.4, 2.5} {
			below := 0
			for i := range n {
				for j := range n {
					if studentOf(freedom, (float64(i)+0.5)/n, (float64(j)+0.5)/n) < at {
						below++
					}
				}
			}
			if got, want := float64(below)/(n*n), (distuv.StudentsT{Sigma: 1, Nu: freedom}).CDF(at); math.Abs(got-want) > 3e-4 {
				t.Errorf("%g degrees of freedom: %.6f below %g, want %.6f", freedom, got, at, want)
			}
		}
	}
}
