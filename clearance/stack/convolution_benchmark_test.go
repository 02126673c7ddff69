package stack

import (
	"math"
	"math/big"
	"testing"
	"time"
)

// BenchmarkConvolution reports the time of a tail probability near 1e-9 of ten
// terms by lattices, how far it lies from the closed form, and the estimate of its error,
// in per cent. A Law would take neither sum to a lattice: both have a closed form.
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
			var p Computed
			for b.Loop() {
				p = estimate(b.Context(), bench.terms, bench.t)
			}
			off := math.Abs(p.Value/bench.want - 1)
			if off > 0.01 {
				b.Fatalf("%v, want %g", p, bench.want)
			}
			b.ReportMetric(100*off, "%-off")
			b.ReportMetric(100*p.Error/p.Value, "%-estimated")
		})
	}
}

// BenchmarkMixture reports how much faster a tail of four parts, one of them uniform, one
// normal and two cut off, is proven than it is estimated by lattices, how far the two
// differ, and the bound.
func BenchmarkMixture(b *testing.B) {
	terms := sorted([]term{
		{kind: normal, half: 0.025, sigma: 0.025 / 3}, {kind: uniform, half: 0.04},
		{kind: normalWithin, half: 0.02, sigma: 0.02 / 3}, {kind: normalWithin, half: 0.02, sigma: 0.02 / 3},
	})
	at := new(big.Rat).SetFloat64(0.085)
	mine, theirs := time.Duration(math.MaxInt64), time.Duration(math.MaxInt64)
	var p, q Computed
	for b.Loop() {
		begin := time.Now()
		p = tail(b.Context(), terms, at)
		mine = min(mine, time.Since(begin))
		begin = time.Now()
		q = estimate(b.Context(), terms, 0.085)
		theirs = min(theirs, time.Since(begin))
	}
	if !p.Proven {
		b.Fatalf("%v is not proven", p)
	}
	b.ReportMetric(float64(theirs)/float64(mine), "×lattices")
	b.ReportMetric(100*math.Abs(q.Value/p.Value-1), "%-apart")
	b.ReportMetric(100*p.Error/p.Value, "%-bound")
}
