package check

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// TestFormulasLikeLibrary: what a row is recomputed to is what the library makes of the
// same sizes.
func TestFormulasLikeLibrary(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		micrometres := rapid.Int64Range(-90_000, 90_000)
		in := make([]units.Length, 4)
		for i := range in {
			in[i] = units.Micrometre.OfInt(micrometres.Draw(t, "size"))
		}
		b := clearance.Bearing{HousingBore: units.Exactly(in[0]), UpperWall: units.Exactly(in[1]), LowerWall: units.Exactly(in[2]), Journal: units.Exactly(in[3])}
		if got, ok := runningClearance().of(nil, in); !ok || !b.Clearance().Equal(units.Exactly(got)) {
			t.Fatalf("the clearance of %v is %s, %t; the library's is %s", in, got, ok, b.Clearance())
		}
		b.LowerWall, b.Journal = b.UpperWall, units.Exactly(in[2])
		if got, ok := oneWallTwice().of(nil, in[:3]); !ok || !b.Clearance().Equal(units.Exactly(got)) {
			t.Fatalf("by one wall the clearance of %v is %s, %t; the library's is %s", in, got, ok, b.Clearance())
		}
		share := []int64{1, -1, -2, 3}
		var sum measure.Sum[units.LengthDim]
		for i, q := range in {
			sum.Terms = append(sum.Terms, measure.Term[units.LengthDim]{Factor: units.One.OfInt(share[i]), Reading: measure.Given(units.Exactly(q), "")})
		}
		if got, ok := linear[units.LengthDim]("", "size", share...).of(nil, in); !ok || !sum.Interval().Equal(units.Exactly(got)) {
			t.Fatalf("the sum of %v is %s, %t; the library's is %s", in, got, ok, sum.Interval())
		}
	})
}

// TestDoubt: the uncertainty of a computed value, worked out by hand beside each.
func TestDoubt(t *testing.T) {
	columns := 0
	read := func(by, uncertainty string) *column[units.LengthDim] {
		columns++
		c := newColumn(fmt.Sprintf("size %d", columns), spot{}, units.Millimetre)
		if uncertainty != "" {
			c.with = &measure.LengthInstrument{Name: by, Uncertainty: units.MustParseLength(uncertainty)}
		}
		return c
	}
	bore, upper, lower, journal := read("bore gauge", "0.004 mm"), read("", ""), read("", ""), read("micrometer", "0.003 mm")
	for _, test := range []struct {
		name    string
		formula formula[units.LengthDim]
		inputs  []*column[units.LengthDim]
		want    string
	}{
		{"exact readings", runningClearance(), []*column[units.LengthDim]{upper, upper, lower, lower}, "0 mm"},
		{"two instruments", runningClearance(), []*column[units.LengthDim]{bore, upper, lower, journal}, "0.005 mm"},                                             // √(4² + 3²)
		{"one wall taken twice", oneWallTwice(), []*column[units.LengthDim]{upper, read("ball micrometer", "0.0025 mm"), read("gauge", "0.012 mm")}, "0.013 mm"}, // √((2·2.5)² + 12²)
		{"one instrument for both", linear[units.LengthDim]("", "size", 1, -1), []*column[units.LengthDim]{journal, read("micrometer", "0.001 mm")}, "0.004 mm"}, // 3 + 1
		{"a taper of two", spread(2), []*column[units.LengthDim]{journal, read("micrometer", "0.003 mm")}, "0.006 mm"},                                           // 3 + 3
		// Of three, read with U = 1 µm of which nothing else is known: 2·m·u with
		// m = 2.4228, the quantile of the largest of three magnitudes at 95.45 %.
		{"a taper of three", spread(3), []*column[units.LengthDim]{read("m", "0.001 mm"), read("m", "0.001 mm"), read("m", "0.001 mm")}, "0.0024228 mm"},
		{"a rule", perBore(units.One.OfInt(1).In(units.One, 0)), []*column[units.LengthDim]{bore}, "0 mm"},
	} {
		a := newArithmetic(test.inputs[0], test.formula, test.inputs...)
		off := a.doubt.Sub(units.MustParseLength(test.want)).Abs()
		if off.Cmp(units.MustParseLength("0.0000001 mm")) > 0 {
			t.Errorf("%s: %s, want %s", test.name, a.doubt, test.want)
		}
	}
}
