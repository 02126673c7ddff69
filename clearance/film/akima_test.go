package film

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/interp"
	"pgregory.net/rapid"
)

// TestAkima: through any points the curve is that of gonum's interp.AkimaSpline, and stays beyond its ends.
func TestAkima(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 12).Draw(t, "n")
		x, y := make([]float64, n), make([]float64, n)
		at := 0.0
		for i := range x {
			at += float64(rapid.IntRange(1, 1000).Draw(t, "apart")) / 100
			x[i], y[i] = at, float64(rapid.IntRange(-3, 3).Draw(t, "y"))
		}
		var want interp.AkimaSpline
		if err := want.Fit(x, y); err != nil {
			t.Fatal(err)
		}
		got := newAkima(x, y)
		for k := range 101 {
			v := x[0] - 1 + (x[n-1]-x[0]+2)*float64(k)/100
			if a, b := got.at(v), want.Predict(v); math.Abs(a-b) > 1e-11 {
				t.Fatalf("at %g: %.15g, want %.15g", v, a, b)
			}
		}
		for i := range x {
			if got.at(x[i]) != y[i] {
				t.Fatalf("at the point %g: %g, want %g", x[i], got.at(x[i]), y[i])
			}
		}
	})
}
