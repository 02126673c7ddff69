package clearance_test

import (
	"math"
	"testing"

	"example.com/closefit/clearance"
	"example.com/closefit/units/measure"
)

func TestRemeasurements(t *testing.T) {
	b := clearance.MeasuredBearing{
		HousingBore: read(t, "bore gauge", "52.012 mm", "0.008 mm"),
		UpperWall:   read(t, "calliper 1", "2.003 mm", "0.006 mm"),
		LowerWall:   read(t, "calliper 2", "2.004 mm", "0.006 mm"),
		Journal:     read(t, "micrometer", "47.972 mm", "0.002 mm"),
	}
	f := b.Fit() // 0.033 ± √(64 + 36 + 36 + 4) = √140 = 11.83 µm
	ball := measure.LengthInstrument{Name: "ball micrometer", Uncertainty: mm("0.001 mm")}
	setting := measure.LengthInstrument{Name: "bore gauge on a ring", Uncertainty: mm("0.002 mm")}
	worse := measure.LengthInstrument{Name: "worn bore gauge", Uncertainty: mm("0.009 mm")}
	offered := map[string][]measure.LengthInstrument{"D": {worse, setting}, "t1": {ball}, "t2": {ball}, "d": {worse}}

	if got := f.Remeasurements(span("0.020..0.050 mm"), 0.5, offered); got != nil {
		t.Errorf("proven, and still %v", got)
	}
	// The lower limit is 9 µm away. The bore alone: √(4 + 36 + 36 + 4) = √80 = 8.9443 µm.
	// Of one limit at δ = 9/5.916 standard uncertainties, U' = 8.9443/11.832 = 0.756 of
	// the old: the new value lies about normal with s = √(140 + 80)/2 = 7.416 µm, and clears
	// the limit to one side or the other with Φ((9 - 8.944)/7.416) + Φ((-9 - 8.944)/7.416) =
	// Φ(0.0075) + Φ(-2.4196) = 0.50299 + 0.00777 = 0.5108; the upper limit, 17 µm away, is
	// too wide by (17 - 8.944)/7.416 = 1.0863: 1 - Φ = 0.1387 less, and beyond it 0.0002.
	got := f.Remeasurements(span("0.024..0.050 mm"), 0.35, offered)
	if len(got) != 1 || len(got[0].With) != 1 || got[0].With["D"].Name != setting.Name ||
		!got[0].Expanded.Equal(mm("0.0089443 mm")) {
		t.Fatalf("with a chance of 0.35: %+v", got)
	}
	if want := 0.5108 - 0.1387 + 0.0002; math.Abs(got[0].Chance-want) > 0.0005 {
		t.Errorf("a chance of %.4f, want %.4f", got[0].Chance, want)
	}
	// Nine times in ten is more than all that is at hand can do: √(4 + 1 + 1 + 4) = 3.16 µm,
	// the walls by one micrometer 1 + 1 at its worst: √(4 + 4 + 4) = 3.46 µm.
	if got := f.Remeasurements(span("0.024..0.050 mm"), measure.NineInTen, offered); got != nil {
		t.Errorf("nine times in ten: %+v", got)
	}
	// Limits far enough away: 0.012 below, and the bore with both walls.
	got = f.Remeasurements(span("0.0225..0.080 mm"), 0.85, offered)
	if len(got) == 0 || len(got[0].With) != 3 || !got[0].Expanded.Equal(mm("0.0034642 mm")) {
		t.Errorf("with a chance of 0.85: %+v", got)
	}
	for _, m := range got {
		if m.Chance < 0.85 {
			t.Errorf("a chance of %v was offered", m.Chance)
		}
	}
	f.Sum.Terms[0].Reading = measure.LengthReading{}
	if got := f.Remeasurements(span("0.024..0.050 mm"), 0.1, offered); got != nil {
		t.Errorf("without one of the sizes: %+v", got)
	}
}
