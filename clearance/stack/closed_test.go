package stack

import (
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

// A quotient of whole numbers is rounded as that of package big is, at the ends of float64 too.
func TestQuotient(t *testing.T) {
	whole := rapid.Custom(func(t *rapid.T) *big.Int {
		n := new(big.Int).SetUint64(rapid.Uint64Min(1).Draw(t, "digits"))
		return n.Lsh(n, uint(rapid.IntRange(0, 1200).Draw(t, "zeros")))
	})
	check := func(t interface{ Fatalf(string, ...any) }, a, b *big.Int) {
		want, _ := new(big.Rat).SetFrac(a, b).Float64()
		if got := quotient(a, b); got != want {
			t.Fatalf("%v / %v is %g, want %g", a, b, got, want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		check(t, whole.Draw(t, "a"), whole.Draw(t, "b"))
	})
	// Halves between two float64, and beside them.
	for _, off := range []int64{-1, 0, 1} {
		for _, bit := range []int64{1, 3} {
			a := new(big.Int).Lsh(big.NewInt(1<<53+bit), 80) // 2^53 and the halves about it
			check(t, a.Add(a, big.NewInt(off)), new(big.Int).Lsh(big.NewInt(3), 80))
			check(t, a, new(big.Int).Lsh(big.NewInt(1), 80))
		}
	}
	check(t, new(big.Int), big.NewInt(7))
}
