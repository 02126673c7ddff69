package units

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

// drawSmall draws a small ratio: most are of a few parts, some near the ends of what fits.
func drawSmall(t *rapid.T, label string) (smallRatio, *big.Rat) {
	num := rapid.OneOf(rapid.Int64Range(-60, 60), rapid.Int64(), rapid.SampledFrom([]int64{math.MaxInt64, math.MinInt64, math.MinInt64 + 1})).Draw(t, label+", above")
	den := rapid.OneOf(rapid.Int64Range(1, 12), rapid.Int64Range(1, math.MaxInt64), rapid.Just[int64](math.MaxInt64)).Draw(t, label+", below")
	r := big.NewRat(num, den)
	f, ok := smallOf(r)
	if !ok {
		t.Fatalf("%d/%d does not fit", num, den)
	}
	return f, r
}

// TestSmallRatio: arithmetic in machine integers says what that of big integers says, in lowest
// terms, or that it does not fit.
func TestSmallRatio(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, a := drawSmall(t, "f")
		g, b := drawSmall(t, "g")
		same := func(operation string, got smallRatio, ok bool, want *big.Rat) {
			if fits := want.Num().IsInt64() && want.Denom().IsInt64(); !ok {
				if edge := new(big.Int).SetInt64(math.MinInt64); fits && want.Num().Cmp(edge) != 0 && a.Num().Cmp(edge) != 0 && b.Num().Cmp(edge) != 0 && operation != "sum" {
					t.Fatalf("%s of %s and %s: given up, and %s fits", operation, a, b, want)
				}
				return
			}
			if r := got.rat(); r.Cmp(want) != 0 || r.Num().Cmp(want.Num()) != 0 || r.Denom().Cmp(want.Denom()) != 0 {
				t.Fatalf("%s of %s and %s: %s, want %s", operation, a, b, r, want)
			}
			if again, ok := smallOf(got.rat()); !ok || again != got {
				t.Fatalf("%v is read back as %v", got, again)
			}
		}
		same("f", f, true, a)
		sum, ok := f.plus(g)
		same("sum", sum, ok, new(big.Rat).Add(a, b))
		product, ok := f.times(g)
		same("product", product, ok, new(big.Rat).Mul(a, b))
		negative, ok := f.neg()
		same("negative", negative, ok, new(big.Rat).Neg(a))
		whole := rapid.OneOf(rapid.Int64Range(1, 30), rapid.Just[int64](oneInSteps), rapid.Int64Range(1, math.MaxInt64)).Draw(t, "whole")
		over, ok := f.over(whole)
		same("quotient", over, ok, new(big.Rat).Quo(a, new(big.Rat).SetInt64(whole)))
		if got, want := f.cmp(g), a.Cmp(b); got != want {
			t.Fatalf("%s is compared with %s as %d, want %d", a, b, got, want)
		}
		// What is handed out may be changed, and changes nothing else.
		r := f.rat()
		r.Add(r.Mul(r, r), big.NewRat(1, 3))
		if f.rat().Cmp(a) != 0 || oneHalf.Cmp(big.NewRat(1, 2)) != 0 {
			t.Fatal("a ratio was changed with what was made from it")
		}
	})
}

// BenchmarkSum adds lengths of half steps, beside big.Rat.
func BenchmarkSum(b *testing.B) {
	p, q := MustParseLength("60.0125 mm").MulRat(big.NewRat(1, 2_000_000_000_000)), MustParseLength("1.0005 mm").MulRat(big.NewRat(3, 2_000_000_000_000))
	b.Run("length", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			p.Add(q)
		}
	})
	b.Run("big_rat", func(b *testing.B) {
		x, y := p.steps(), q.steps()
		b.ReportAllocs()
		for b.Loop() {
			new(big.Rat).Add(x, y)
		}
	})
}
