package units_test

import (
	"math/big"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"example.com/closefit/units"
)

func TestRootSumSquare(t *testing.T) {
	length := units.MustParseLength
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
		if got := units.RootSumSquare(units.Millimetre, 6, test.terms...); !got.Equal(length(test.want)) {
			t.Errorf("%s: %s, want %s", test.name, got, test.want)
		}
	}
}

// The result is the smallest multiple of the step whose square reaches the sum.
func TestRootSumSquareIsTheLeastThatReaches(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.SampledFrom(units.Units[units.LengthDim]()).Draw(t, "unit")
		places := rapid.Int32Range(-2, 12).Draw(t, "places")
		step := unit.Of(decimal.New(1, -places))
		square := new(big.Rat)
		var terms []units.Length
		for _, n := range rapid.SliceOfN(rapid.Int64Range(-5_000_000_000, 5_000_000_000), 0, 5).Draw(t, "terms") {
			q := units.Nanometre.OfRat(big.NewRat(n, 1000))
			r := q.Rat(units.Nanometre)
			square.Add(square, r.Mul(r, r))
			terms = append(terms, q)
		}
		got := units.RootSumSquare(unit, places, terms...)
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
