package clearance_test

import (
	"testing"

	"github.com/shopspring/decimal"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// The whole path of a location, from what the instruments show to the verdict,
// beside the plain decimal expression for the clearance alone, D - t1 - t2 - d:
// no uncertainty, no limits, no words. Compare the two in one run.
func BenchmarkLocation(b *testing.B) {
	gauge := measure.LengthInstrument{Name: "bore gauge", Uncertainty: mm("0.003 mm")}
	walls := measure.LengthInstrument{Name: "ball micrometer", Uncertainty: mm("0.001 mm")}
	outside := measure.LengthInstrument{Name: "outside micrometer", Uncertainty: mm("0.0025 mm")}
	bore, upper, lower, journal := mm("52.012 mm"), mm("2.001 mm"), mm("2.003 mm"), mm("47.968 mm")
	limits := span("0.024..0.048 mm")
	states := []measure.Condition{clearance.BoltsAsAssembled(), clearance.ShellsOut()}

	b.Run("readings to verdict", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			var m clearance.MeasuredBearing
			var err error
			if m.HousingBore, err = gauge.Read("main 3, bore", bore); err != nil {
				b.Fatal(err)
			}
			m.HousingBore = m.HousingBore.With(states...)
			if m.UpperWall, err = walls.Read("main 3, upper wall", upper); err != nil {
				b.Fatal(err)
			}
			if m.LowerWall, err = walls.Read("main 3, lower wall", lower); err != nil {
				b.Fatal(err)
			}
			if m.Journal, err = outside.Read("main 3, journal", journal); err != nil {
				b.Fatal(err)
			}
			if v := measure.Judge(m.Clearance(), limits); v != measure.Conforming {
				b.Fatal(v, m.Clearance())
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
	b.Run("decimal expression with both bounds", func(b *testing.B) {
		at := func(q units.Length) decimal.Decimal { return q.In(units.Millimetre, 4) }
		dl, dh := at(bore.Sub(gauge.Uncertainty)), at(bore.Add(gauge.Uncertainty))
		t1l, t1h := at(upper.Sub(walls.Uncertainty)), at(upper.Add(walls.Uncertainty))
		t2l, t2h := at(lower.Sub(walls.Uncertainty)), at(lower.Add(walls.Uncertainty))
		jl, jh := at(journal.Sub(outside.Uncertainty)), at(journal.Add(outside.Uncertainty))
		ll, lh := at(limits.Lo()), at(limits.Hi())
		b.ReportAllocs()
		for b.Loop() {
			lo, hi := dl.Sub(t1h).Sub(t2h).Sub(jh), dh.Sub(t1l).Sub(t2l).Sub(jl)
			if lo.Cmp(ll) < 0 || hi.Cmp(lh) > 0 {
				b.Fatal("by worst case it is not inside")
			}
		}
	})
}
