package fasteners

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/units"
)

// The standard departs from its formulas to smooth a table, so that no entry lies more
// than one step of R40, some 6 %, from the formula's value.
func TestDeparturesAreSmall(t *testing.T) {
	formula := func(p float64) (deviation, minor float64) {
		if p < 1 {
			return 15 + 11*p, 433*p - 190*math.Pow(p, 1.22)
		}
		return 15 + 11*p, 230 * math.Pow(p, 0.7)
	}
	near := func(what string, entry int64, value float64) {
		if off := math.Abs(float64(entry)/value - 1); off > 0.065 {
			t.Errorf("%s: %d where the formula gives %.1f", what, entry, value)
		}
	}
	for _, d := range departures {
		deviation, minor := formula(float64(d.pitch) / 1000)
		if d.deviation != 0 {
			near("deviation", d.deviation, deviation)
		}
		if p := float64(d.pitch) / 1000; d.major != 0 {
			near("Td", d.major, 180*math.Pow(p, 2.0/3)-3.15/math.Sqrt(p))
		}
		if d.minor != 0 {
			near("TD1", d.minor, minor)
		}
	}
	for _, d := range pitchDepartures {
		lo, hi, _ := diameterRange(units.Millimetre.OfRat(new(big.Rat).Mul(ratio(d.above), big.NewRat(11, 10))))
		l, _ := lo.Float64()
		h, _ := hi.Float64()
		near("Td2", d.tolerance, 90*math.Pow(float64(d.pitch)/1000, 0.4)*math.Pow(l*h, 0.05))
	}
}

func TestPreferred(t *testing.T) {
	tests := []struct{ x, want string }{
		{"100", "100.00"}, {"20.5", "20.00"}, {"108.99", "106.00"}, {"109", "112.00"}, {"230", "236.00"}, {"974", "950.00"},
		{"976", "1000.00"}, {"0.314", "0.32"}, {"27.9", "28.00"},
	}
	for _, test := range tests {
		if got := preferred(ratio(test.x)).value().FloatString(2); got != test.want {
			t.Errorf("preferred(%s) = %s, want %s", test.x, got, test.want)
		}
	}
}

// root is checked against its definition: its n-th power is at most r, and that of the next
// number above r.
func TestRoot(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := big.NewRat(rapid.Int64Range(0, 1e9).Draw(t, "numerator"), rapid.Int64Range(1, 1e6).Draw(t, "denominator"))
		n := rapid.Int64Range(1, 20).Draw(t, "n")
		got := root(r, n)
		step := new(big.Rat).SetFrac(big.NewInt(1), new(big.Int).Exp(big.NewInt(10), big.NewInt(rootPlaces), nil))
		next := sum(got, step)
		if powerOf(got, n).Cmp(r) > 0 || powerOf(next, n).Cmp(r) <= 0 {
			t.Fatalf("root(%v, %d) = %s", r, n, got.FloatString(rootPlaces))
		}
	})
}
