package measure_test

import (
	"errors"
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
		{"two common parts, one name", []measure.LengthReading{a}, []measure.LengthReading{read(t, other, "a", "60.01")}, "0.007"},
		// Student's factor for 5 degrees of freedom is 2.64865: 4 + 4·2.64865/2.
		{"two degrees of freedom", []measure.LengthReading{a, read(t, few, "b", "60")}, nil, "0.0092973"},
		{"two degrees of freedom, one name", []measure.LengthReading{a}, []measure.LengthReading{read(t, few, "a", "60.01")}, "0.0092973"},
	} {
		s := sumOf(c.plus, c.minus)
		r := s.Reading()
		if got := r.Expanded(); !got.Equal(mm(c.want)) {
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
	if got := r.Expanded(); !got.Equal(mm("0.004899")) {
		t.Errorf("U = %s, want 0.004899 mm", got)
	}
	addsUp(t, s.Working(units.Millimetre), 3)
	// At a distance of U from one limit, Φ(2).
	if p := conformity(t, r, units.AtMost(mm("-1.01").Add(mm("0.004899")))); p.Least < 0.97724 || p.Least > 0.97726 {
		t.Errorf("probability %v at a distance of U, want 0.97725", p)
	}
}

// Readings share the error of an act only if it is the same act: of one name that saw
// the same in all, after the same setting.
func TestActsThatLookAlike(t *testing.T) {
	must := func(r measure.LengthReading, err error) measure.LengthReading {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	d := measure.LengthInstrument{Name: "dial", Repeats: mm("0.002")}
	exact := measure.LengthInstrument{Name: "M", LimitOfError: mm("0.0000001")}
	m := measure.LengthInstrument{Name: "M", Common: mm("0.003"), Repeats: mm("0.001")}
	set := func(name, size, when string) measure.LengthInstrument {
		return measure.LengthInstrument{Name: name, Repeats: mm("0.002"), SetOn: read(t, m, "setting", size), Setting: when}
	}
	ring := func(name, how string) measure.LengthInstrument {
		return measure.LengthInstrument{Name: name, LimitOfError: mm("0.0000001"), SetOn: measure.Given(span("59.996..60.004"), how)}
	}
	tied := func(name string) measure.LengthInstrument {
		in := ring(name, "")
		in.SetOn = measure.Tied("ring 60", mm("60"), mm("0.004"))
		return in
	}
	loose := measure.LengthInstrument{Name: "G", LimitOfError: mm("0.004")}
	limited := func(when string) measure.LengthInstrument {
		return measure.LengthInstrument{Name: "G", LimitOfError: mm("0.004"), SetOn: measure.Given(span("60"), "a rod"), Setting: when}
	}
	for _, c := range []struct {
		name string
		a, b measure.LengthReading
		want float64 // half the width of a less b, in µm
	}{
		// 2 and 2: √8.
		{"travels of one start", must(d.Travel("play", mm("0"), mm("0.05"))), must(d.Travel("play", mm("0"), mm("0.06"))), 2.8285},
		// 2s/√2 of 1 and 3 is 2 mm, of 1.5 and 2.5 it is 1 mm; t of one degree of freedom is 13.968: √5·13.9677/2.
		{"means of one value", must(exact.Read("j", mm("1"), mm("3"))), must(exact.Read("j", mm("1.5"), mm("2.5"))), 15616.397},
		// Of each setting M's 1 and G's 2, of each reading 2: √(2·9).
		{"settings that saw different sizes", read(t, set("G", "60", ""), "x", "60.01"), read(t, set("G", "60.001", ""), "y", "60.01"), 4.2427},
		{"one name and size, after two settings", read(t, set("G", "60", ""), "x", "60.01"), read(t, set("G", "60.001", ""), "x", "60.01"), 4.2427},
		// M's reading "setting" is one act, of 1; G's settings are two.
		{"one master reading, two settings", read(t, set("G", "60", ""), "x", "60.01"), read(t, set("G", "60", "later"), "x", "60.01"), 4},
		{"two rings of which nothing is said", read(t, ring("G", ""), "x", "60.01"), read(t, ring("H", ""), "y", "60.01"), 8},
		{"two rings of one make", read(t, ring("G", "ring"), "x", "60.01"), read(t, ring("H", "ring"), "y", "60.01"), 8},
		{"one ring by its name, two instruments", read(t, tied("G"), "x", "60.01"), read(t, tied("H"), "y", "60.01"), 0},
		// A limit of error is a bracket of each act, ±4 and ±4, whatever else is alike.
		{"a limit of error, after two settings", read(t, limited(""), "x", "60.01"), read(t, limited("later"), "x", "60.01"), 8},
		{"a limit of error, read and indicated", read(t, loose, "x", "60.01"), must(loose.Indicate("x", mm("60.01"))), 8},
		{"a limit of error, means of two and of three", must(loose.Read("x", mm("60.01"), mm("60.01"))), must(loose.Read("x", mm("60.01"), mm("60.01"), mm("60.01"))), 8},
		{"a limit of error, one act", read(t, loose, "x", "60.01"), read(t, loose, "x", "60.01"), 0},
		{"one ring", read(t, ring("G", "ring"), "x", "60.01"), read(t, ring("G", "ring"), "y", "60.01"), 0},
	} {
		s := sumOf([]measure.LengthReading{c.a}, []measure.LengthReading{c.b})
		if got := s.Interval().Radius().Float64(units.Micrometre); got < c.want-1e-3 || got > c.want+0.15 {
			t.Errorf("%s: ±%.4f µm, want %.4f", c.name, got, c.want)
		}
	}
}

// An instrument that was set on what is not known makes no readings.
func TestSetOnNothing(t *testing.T) {
	m := measure.LengthInstrument{Name: "M", Common: mm("0.003"), Repeats: mm("0.001")}
	loose := sumOf([]measure.LengthReading{read(t, m, "bore", "60")}, nil)
	loose.Terms[0].Needs = []measure.Condition{{What: "bolts", Is: "tightened"}}
	stations, err := measure.NewStations([][]measure.LengthReading{{read(t, m, "1", "60"), read(t, m, "2", "60.001")}})
	if err != nil {
		t.Fatal(err)
	}
	for name, on := range map[string]measure.LengthReading{
		"no upper bound":   measure.Given(units.AtLeast(mm("60")), "a blade"),
		"a contradiction":  measure.Compare(read(t, m, "a", "60"), read(t, m, "b", "61")).Best(),
		"loose bolts":      loose.Reading(),
		"largest of a few": stations.Find(measure.Largest),
	} {
		g := measure.LengthInstrument{Name: "G", Repeats: mm("0.001"), SetOn: on}
		if r, err := g.Read("x", mm("60")); !errors.Is(err, measure.ErrNotMeasured) || r.Taken() {
			t.Errorf("set on %s it reads %s, %v", name, r, err)
		}
		if r, err := g.Indicate("x", mm("0.01")); !errors.Is(err, measure.ErrNotMeasured) || r.Taken() {
			t.Errorf("set on %s it indicates %s, %v", name, r, err)
		}
	}
	// Doubts that are to be at their worst stay so: 3 + 1 of M, 1 and 1 of G.
	g := measure.LengthInstrument{Name: "G", Repeats: mm("0.001"), SetOn: atWorst(read(t, m, "setting", "60"))}
	if r := read(t, g, "x", "60"); !r.Expanded().Equal(mm("0.006")) {
		t.Errorf("set on a reading at its worst, U = %s, want 0.006 mm", r.Expanded())
	}
}
