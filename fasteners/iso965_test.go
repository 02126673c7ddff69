package fasteners

import (
	"math"
	"math/big"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/units"
)

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

// The printed entries of the tables lie at most one step of R40, some 6 %, from the unrounded
// formulas, which the standard departs from only to smooth a column. The formulas are worked
// out here once more, in float64.
func TestTablesFollowTheFormulas(t *testing.T) {
	near := func(what string, pitch, printed int64, value float64) {
		if off := math.Abs(float64(printed)/value - 1); off > 0.065 {
			t.Errorf("%s at %d µm: printed %d, formula %.1f", what, pitch, printed, value)
		}
	}
	for _, row := range pitchTable {
		p := float64(row.pitch) / 1000
		near("es", row.pitch, row.deviation, 15+11*p)
		near("Td", row.pitch, row.major, 180*math.Pow(p, 2.0/3)-3.15/math.Sqrt(p))
		switch {
		case row.minor == 0:
		case p < 1:
			near("TD1", row.pitch, row.minor, 433*p-190*math.Pow(p, 1.22))
		default:
			near("TD1", row.pitch, row.minor, 230*math.Pow(p, 0.7))
		}
	}
	ends := []float64{0.99, 1.4, 2.8, 5.6, 11.2, 22.4, 45, 90, 180, 355}
	for _, row := range pitchDiameterTable {
		above, _ := ratio(row.above).Float64()
		i := slices.Index(ends, above)
		value := 90 * math.Pow(float64(row.pitch)/1000, 0.4) * math.Pow(ends[i]*ends[i+1], 0.05)
		near("Td2", row.pitch, row.external, value)
		if row.internal != 0 {
			near("TD2", row.pitch, row.internal, 1.32*value)
		}
	}
}

// The tables of ISO 965-1 print 1.32 Td2 as the number of R40 five steps on, without an
// exception in grade 6: both tables are read well if they agree in that.
func TestPitchTolerancesOfBoltAndNutAgree(t *testing.T) {
	for _, row := range pitchDiameterTable {
		want := preferred(big.NewRat(row.external, 1)).up(5).whole()
		if row.internal != 0 && !want.Equal(units.Micrometre.OfInt(row.internal)) {
			t.Errorf("above %s mm, pitch %d µm: TD2 %d beside Td2 %d, want %v", row.above, row.pitch, row.internal, row.external, want)
		}
	}
}
