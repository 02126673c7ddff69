package measure_test

import (
	"testing"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

func sumOf(plus, minus []measure.LengthReading) measure.Sum[units.LengthDim] {
	s := measure.Sum[units.LengthDim]{Name: "s", Symbol: "s"}
	for _, r := range plus {
		s.Terms = append(s.Terms, measure.Plus("+", "plus", r))
	}
	for _, r := range minus {
		s.Terms = append(s.Terms, measure.Minus("-", "minus", r))
	}
	return s
}

// An instrument that is described in two ways is taken at its worst: it is not known
// which description is right, so nothing of it may cancel.
func TestInstrumentDescribedInTwoWays(t *testing.T) {
	m := measure.LengthInstrument{Name: "M", Common: mm("0.003"), Repeats: mm("0.001")}
	other := measure.LengthInstrument{Name: "M", Common: mm("0.001"), Repeats: mm("0.002")}
	few := m
	few.Freedom = 5
	a := read(t, m, "a", "60.01")
	for _, c := range []struct {
		name        string
		plus, minus []measure.LengthReading
		want        string
	}{
		{"two common parts", []measure.LengthReading{a}, []measure.LengthReading{read(t, other, "b", "60")}, "0.007"}, // 3 + 1 + 1 + 2
		// Student's factor for 5 degrees of freedom is 2.64865: 4 + 4·2.64865/2.
		{"two degrees of freedom", []measure.LengthReading{a, read(t, few, "b", "60")}, nil, "0.0092973"},
	} {
		s := sumOf(c.plus, c.minus)
		r := s.Reading()
		if got := r.Expanded(measure.Coverage{}); !got.Equal(mm(c.want)) {
			t.Errorf("%s: U = %s, want %s mm", c.name, got, c.want)
		}
		addsUp(t, s.Working(units.Millimetre), 2)
	}
}

// A setting in an unsplit instrument is one act of it, in the working and in the
// probability as in the sum: the two settings cancel, and what is left is the gauge's
// repeats and one act of the micrometer, √(2² + 2² + 4²).
func TestUnsplitSettingIsOneAct(t *testing.T) {
	m := measure.LengthInstrument{Name: "M", Uncertainty: mm("0.004")}
	g := measure.LengthInstrument{Name: "G", Repeats: mm("0.002"), SetOn: read(t, m, "setting", "60")}
	s := sumOf([]measure.LengthReading{read(t, g, "x", "60.01")}, []measure.LengthReading{read(t, g, "y", "60.02"), read(t, m, "z", "1")})
	r := s.Reading()
	if got := r.Expanded(measure.Coverage{}); !got.Equal(mm("0.004899")) {
		t.Errorf("U = %s, want 0.004899 mm", got)
	}
	addsUp(t, s.Working(units.Millimetre), 3)
	// At a distance of U from one limit, Φ(2).
	if p := conformity(t, r, units.AtMost(mm("-1.01").Add(mm("0.004899")))); p.Least < 0.97724 || p.Least > 0.97726 {
		t.Errorf("probability %v at a distance of U, want 0.97725", p)
	}
}
