package units_test

import (
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/units"
)

func TestRootSumSquare(t *testing.T) {
	length := units.MustParseLength
	step := length("0.000001 mm")
	for _, test := range []struct {
		name  string
		want  string
		terms []units.Length
	}{
		{"3-4-5", "0.005 mm", []units.Length{length("0.003 mm"), length("-0.004 mm")}},
		{"√2 thousandths, up", "0.001415 mm", []units.Length{length("0.001 mm"), length("0.001 mm")}},
		{"nothing", "0 mm", nil},
		{"a third, up", "0.333334 mm", []units.Length{units.Millimetre.OfRat(big.NewRat(1, 3))}},
		{"beyond machine integers", "50000000 mm", []units.Length{length("30000000 mm"), length("40000000 mm")}},
	} {
		if got := units.RootSumSquare(step, test.terms...); !got.Equal(length(test.want)) {
			t.Errorf("%s: %s, want %s", test.name, got, test.want)
		}
	}
}

// The result is the smallest multiple of the step whose square reaches the sum.
func TestRootSumSquareIsTheLeastThatReaches(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		step := units.Nanometre.OfRat(big.NewRat(rapid.Int64Range(1, 1000).Draw(t, "step"), rapid.Int64Range(1, 7).Draw(t, "over")))
		square := new(big.Rat)
		var terms []units.Length
		for _, n := range rapid.SliceOfN(rapid.Int64Range(-5_000_000_000, 5_000_000_000), 0, 5).Draw(t, "terms") {
			q := units.Nanometre.OfRat(big.NewRat(n, 1000))
			r := q.Rat(units.Nanometre)
			square.Add(square, r.Mul(r, r))
			terms = append(terms, q)
		}
		got := units.RootSumSquare(step, terms...)
		squareOf := func(q units.Length) *big.Rat { r := q.Rat(units.Nanometre); return r.Mul(r, r) }
		if squareOf(got).Cmp(square) < 0 {
			t.Fatalf("%s is too small", got.Exact())
		}
		if less := got.Sub(step); less.Sign() >= 0 && squareOf(less).Cmp(square) >= 0 {
			t.Fatalf("%s is a step too large", got.Exact())
		}
		if !got.Ratio(step).IsInt() {
			t.Fatalf("%s is no multiple of %s", got.Exact(), step.Exact())
		}
	})
}

func TestRootSumSquarePanicsWithoutAStep(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("a step of zero did not panic")
		}
	}()
	units.RootSumSquare(units.Length{}, units.MustParseLength("1 mm"))
}
