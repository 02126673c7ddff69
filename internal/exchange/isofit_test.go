package exchange

import (
	"math/big"

	"pgregory.net/rapid"

	"example.com/closefit/clearance/isofit"
	"example.com/closefit/units"
)

func isofitForms() []form {
	return []form{
		valueBy("ToleranceClass", func(t *rapid.T) isofit.ToleranceClass {
			return drawClass(t, rapid.Bool().Draw(t, "hole"))
		}, func(a, b isofit.ToleranceClass) bool { return a == b }),
		valueBy("Size", func(t *rapid.T) isofit.Size {
			s, err := isofit.NewSize(drawNominal(t), drawClass(t, rapid.Bool().Draw(t, "hole")))
			if err != nil {
				t.Skip(err) // no value is given for every letter and grade at every size
			}
			return s
		}, sameSize),
		valueBy("Designation", func(t *rapid.T) isofit.Designation {
			d, err := isofit.ParseDesignation(drawNominal(t).Exact() + " " + drawClass(t, true).String() + "/" + drawClass(t, false).String())
			if err != nil {
				t.Skip(err)
			}
			return d
		}, func(a, b isofit.Designation) bool {
			return sameSize(a.Hole(), b.Hole()) && sameSize(a.Shaft(), b.Shaft())
		}),
		valueBy("Design", func(t *rapid.T) isofit.Design {
			return isofit.Design{Nominal: drawLength(t), HoleTolerance: drawLength(t), ShaftTolerance: drawLength(t), SmallestClearance: drawLength(t)}
		}, func(a, b isofit.Design) bool {
			return a.Nominal.Equal(b.Nominal) && a.HoleTolerance.Equal(b.HoleTolerance) && a.ShaftTolerance.Equal(b.ShaftTolerance) &&
				a.SmallestClearance.Equal(b.SmallestClearance)
		}),
	}
}

func sameSize(a, b isofit.Size) bool {
	return a.String() == b.String() && a.Limits().Equal(b.Limits()) && a.Deviations().Equal(b.Deviations())
}

func drawClass(t *rapid.T, hole bool) isofit.ToleranceClass {
	letters := []string{"a", "f", "g", "h", "js", "k", "n", "s", "zc"}
	if hole {
		letters = []string{"A", "F", "G", "H", "JS", "K", "N", "S", "ZC"}
	}
	letter := rapid.SampledFrom(letters).Draw(t, "letter")
	c, err := isofit.ParseToleranceClass(letter + rapid.SampledFrom([]string{"01", "0", "1", "5", "6", "7", "8", "11", "18"}).Draw(t, "grade"))
	if err != nil {
		t.Skip(err)
	}
	return c
}

// drawNominal draws a size up to 500 mm: of whole millimetres, at an end of a range, or
// without an end as a decimal of a millimetre.
func drawNominal(t *rapid.T) units.Length {
	return rapid.SampledFrom([]units.Length{
		millimetres(1), millimetres(3_000), millimetres(3_001), millimetres(49_980), millimetres(50_000), millimetres(120_500), millimetres(500_000),
		units.Inch.OfRat(big.NewRat(9, 4)), units.Inch.OfRat(big.NewRat(7, 3)),
	}).Draw(t, "nominal")
}
