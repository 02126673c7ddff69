package measure_test

import (
	"testing"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// The whole path of a location, from what the instruments show to the verdict,
// beside the plain decimal expression for the clearance alone, D - t1 - t2 - d:
// no uncertainty, no limits, no words. Compare the two in one run.
func BenchmarkLocation(b *testing.B) {
	gauge := measure.LengthInstrument{Name: "bore gauge", Uncertainty: mm("0.003")}
	walls := measure.LengthInstrument{Name: "ball micrometer", Uncertainty: mm("0.001")}
	outside := measure.LengthInstrument{Name: "outside micrometer", Uncertainty: mm("0.0025")}
	bore, upper, lower, journal := mm("52.012"), mm("2.001"), mm("2.003"), mm("47.968")
	limits := span("0.024..0.048")

	b.Run("readings to verdict", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			d, err := gauge.Read("bore", bore)
			if err != nil {
				b.Fatal(err)
			}
			t1, err := walls.Read("upper", upper)
			if err != nil {
				b.Fatal(err)
			}
			t2, err := walls.Read("lower", lower)
			if err != nil {
				b.Fatal(err)
			}
			j, err := outside.Read("journal", journal)
			if err != nil {
				b.Fatal(err)
			}
			terms := [...]measure.Term[units.LengthDim]{
				measure.Plus("D", "housing bore", d), measure.Minus("t1", "upper wall", t1),
				measure.Minus("t2", "lower wall", t2), measure.Minus("d", "journal", j),
			}
			c := measure.Sum[units.LengthDim]{Name: "running clearance", Symbol: "C", Terms: terms[:]}
			if v := measure.Judge(c.Interval(), limits); v != measure.Conforming {
				b.Fatal(v)
			}
		}
	})
	b.Run("decimal expression alone", func(b *testing.B) {
		d, t1, t2, j := bore.In(units.Millimetre, 3), upper.In(units.Millimetre, 3), lower.In(units.Millimetre, 3), journal.In(units.Millimetre, 3)
		want := decimal.New(40, -3)
		b.ReportAllocs()
		for b.Loop() {
			if c := d.Sub(t1).Sub(t2).Sub(j); !c.Equal(want) {
				b.Fatal(c)
			}
		}
	})
}
