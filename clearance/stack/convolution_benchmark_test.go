package stack

import (
	"math"
	"testing"
)

// BenchmarkConvolution reports the time of a tail probability near 1e-9 of ten
// terms, how far it lies from the closed form, and its bound, in per cent. The
// normal terms are convolved one by one here; a Law would add them first.
func BenchmarkConvolution(b *testing.B) {
	ten := func(t term) []term {
		var terms []term
		for range 10 {
			terms = append(terms, t)
		}
		return terms
	}
	for _, bench := range []struct {
		name  string
		terms []term
		t     float64
		want  float64
	}{
		// Six standard deviations of the sum: Q(6), by erfc.
		{"normal", ten(term{kind: normal, half: 3, sigma: 1}), 6 * math.Sqrt(10), math.Erfc(6/math.Sqrt2) / 2},
		// Irwin-Hall, on ±1/2: P(sum > 5 - x) = x^10/10! for x <= 1.
		{"irwin-hall", ten(term{kind: uniform, half: 0.5}), 4.43, math.Pow(0.57, 10) / 3628800},
	} {
		b.Run(bench.name, func(b *testing.B) {
			var p Probability
			for b.Loop() {
				p = estimate(bench.terms, bench.t)
			}
			off := math.Abs(p.Value/bench.want - 1)
			if off > 0.01 {
				b.Fatalf("%v, want %g", p, bench.want)
			}
			b.ReportMetric(100*off, "%-off")
			b.ReportMetric(100*p.Error/p.Value, "%-bound")
		})
	}
}
