package measure

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

// TestStudent: tails and quantiles of Student's t are those of gonum's distuv, and each undoes the other.
func TestStudent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		freedom := int32(rapid.IntRange(1, 1000).Draw(t, "freedom"))
		outside := math.Pow(10, -float64(rapid.IntRange(1, 600).Draw(t, "outside"))/100)
		reference := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(freedom)}
		q := studentBeyond(freedom, outside)
		if want := -reference.Quantile(outside / 2); math.Abs(q-want) > 1e-12*want {
			t.Fatalf("%g, want %g", q, want)
		}
		p := studentOutside(freedom, q)
		if want := 2 * reference.CDF(-q); math.Abs(p-want) > 1e-12*want || math.Abs(p-outside) > 1e-6*outside {
			t.Fatalf("%g, want %g and %g", p, want, outside)
		}
	})
}

// TestRangeTable: between its places and at its ends the table is within 1e-8 of the law.
func TestRangeTable(t *testing.T) {
	for _, n := range []int{2, 3, 5, 8, 20, 100} {
		table := newRangeTable(n)
		for q := 0.0; q < 14.2; q += 0.031 {
			if off := math.Abs(table.outside(q) - rangeOutside(n, q)); off > 1e-8 {
				t.Fatalf("range of %d at %g: off by %g", n, q, off)
			}
		}
	}
}
