package measure_test

import (
	"math"
	"testing"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// Two gaps between blades good to ±0.002: a blade that stands in both counts once,
// with its signs; of different blades the tolerances add.
func TestBladeInBothGaps(t *testing.T) {
	unnamed := measure.Feelers{Blades: []units.Length{mm("0.10"), mm("0.15"), mm("0.20"), mm("0.30")}, Tolerance: mm("0.002")}
	named := unnamed
	named.Set = "set A"
	less := func(set measure.Feelers, a, b [2]string) units.LengthInterval {
		t.Helper()
		one, err := set.Gap("gap 1", new(mm(a[0])), new(mm(a[1])))
		if err != nil {
			t.Fatal(err)
		}
		two, err := set.Gap("gap 2", new(mm(b[0])), new(mm(b[1])))
		if err != nil {
			t.Fatal(err)
		}
		s := measure.Sum[units.LengthDim]{Terms: []measure.Term[units.LengthDim]{measure.Plus("g1", "gap 1", one), measure.Minus("g2", "gap 2", two)}}
		return s.Interval()
	}
	// g1 in 0.10..0.15, g2 in 0.15..0.20. The greatest difference is the 0.15 blade
	// less itself, 0; the least 0.10 - 0.20 less both tolerances.
	if got, want := less(named, [2]string{"0.10", "0.15"}, [2]string{"0.15", "0.20"}), span("-0.104..0"); !got.Equal(want) {
		t.Errorf("one set: %s, want %s", got, want)
	}
	if got, want := less(unnamed, [2]string{"0.10", "0.15"}, [2]string{"0.15", "0.20"}), span("-0.104..0.004"); !got.Equal(want) {
		t.Errorf("blades that cannot be told apart: %s, want %s", got, want)
	}
	// The same two blades in both gaps: 0.10 - 0.15 and 0.15 - 0.10, each with both
	// blades' tolerances.
	if got, want := less(named, [2]string{"0.10", "0.15"}, [2]string{"0.10", "0.15"}), span("-0.054..0.054"); !got.Equal(want) {
		t.Errorf("the same blades: %s, want %s", got, want)
	}
}

func TestBatchOfStrips(t *testing.T) {
	for _, c := range []struct {
		batch string
		want  string // of the sum of both readings less twice the second
	}{
		{"box 7", "-0.026..0"}, // one error: +1 - 1
		{"", "-0.034..0.008"},  // two errors of 0.004
	} {
		s := newStrip(t)
		s.Tolerance, s.Batch = mm("0.004"), c.batch
		one, err := s.Read("main 1", span("0.025..0.038"))
		if err != nil {
			t.Fatal(err)
		}
		two, err := s.Read("main 2", span("0.038..0.051"))
		if err != nil {
			t.Fatal(err)
		}
		d := measure.Sum[units.LengthDim]{Terms: []measure.Term[units.LengthDim]{measure.Plus("a", "main 1", one), measure.Minus("b", "main 2", two)}}
		if got, want := d.Interval(), span(c.want); !got.Equal(want) {
			t.Errorf("batch %q: %s, want %s", c.batch, got, want)
		}
		if got, want := one.Interval(), span("0.021..0.042"); !got.Equal(want) {
			t.Errorf("batch %q: one strip is %s, want %s", c.batch, got, want)
		}
	}
}

// A set of one name with two tolerances was described in two ways: the blade that stands
// in both gaps is taken for two, and their tolerances add.
func TestOneSetWithTwoTolerances(t *testing.T) {
	gap := func(tolerance, at, goes, refused string) measure.LengthReading {
		t.Helper()
		set := measure.Feelers{Blades: []units.Length{mm("0.10"), mm("0.15"), mm("0.20")}, Tolerance: mm(tolerance), Set: "set A"}
		r, err := set.Gap(at, new(mm(goes)), new(mm(refused)))
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	s := measure.Sum[units.LengthDim]{Terms: []measure.Term[units.LengthDim]{
		measure.Plus("g1", "gap 1", gap("0.002", "gap 1", "0.10", "0.15")),
		measure.Minus("g2", "gap 2", gap("0.005", "gap 2", "0.15", "0.20")),
	}}
	// 0.10 - 0.20 and 0.15 - 0.15, each wider by 0.002 + 0.005.
	if got, want := s.Interval(), span("-0.107..0.007"); !got.Equal(want) {
		t.Errorf("%s, want %s", got, want)
	}
}

// An instrument is never taken for the scatter of another one's repeated readings,
// whatever it is called: 2 of its figure beside 4 of the other's and the scatter of
// two readings 0.002 mm apart, u² = 2 µm²/2 = 1 µm², by t(95.45 %, 1) = 13.968 (JCGM
// 100:2008, table G.2: 13.97): √(4² + 2² + 13.968²) = 14.666 µm.
func TestNameOfAScatter(t *testing.T) {
	in := measure.LengthInstrument{Name: "micrometer", Uncertainty: mm("0.004")}
	named := measure.LengthInstrument{Name: "micrometer, scatter", Uncertainty: mm("0.002")}
	bore := good[units.LengthDim](t)(in.Read("bore", mm("48.020"), mm("48.022")))
	s := sumOf([]measure.LengthReading{bore}, []measure.LengthReading{read(t, named, "journal", "47.986")})
	if got := s.Reading().Expanded().Float64(units.Micrometre); math.Abs(got-14.666) > 0.002 {
		t.Errorf("U = %v µm", got)
	}
}
