package measure_test

import (
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// An agreement in which one thing alone does not follow from its readings is not read.
func TestAlteredAgreementIsRefused(t *testing.T) {
	g := measure.LengthInstrument{Name: "G", Uncertainty: mm("0.002")}
	good := measure.Compare(read(t, g, "x", "50"), read(t, g, "y", "50.001"))
	for name, change := range map[string]func(*measure.Agreement[units.LengthDim]){
		"":                   func(*measure.Agreement[units.LengthDim]) {},
		"whether they agree": func(a *measure.Agreement[units.LengthDim]) { a.Agree = !a.Agree },
		"whether both tell":  func(a *measure.Agreement[units.LengthDim]) { a.Known = !a.Known },
		"another difference": func(a *measure.Agreement[units.LengthDim]) { a.Difference = read(t, g, "x", "0.001") },
	} {
		altered := good
		change(&altered)
		text, err := json.Marshal(altered)
		if err != nil {
			t.Fatal(name, err)
		}
		var back measure.Agreement[units.LengthDim]
		if err := json.Unmarshal(text, &back); (err == nil) != (name == "") || err != nil && !errors.Is(err, units.ErrNotWritten) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestBest(t *testing.T) {
	m := measure.LengthInstrument{Name: "M", Uncertainty: mm("0.003")}
	g := measure.LengthInstrument{Name: "G", Uncertainty: mm("0.002")}
	near, far := read(t, g, "x", "50"), read(t, m, "x", "50.001")
	strip := measure.Given(span("49.998..50.004"), "a strip")
	wide, narrow := measure.Given(span("49.9..50.1"), "a strip"), measure.Given(span("50..50.002"), "a blade")
	mean, err := g.Read("x", mm("50"), mm("50.001"))
	if err != nil {
		t.Fatal(err)
	}
	closer := read(t, measure.LengthInstrument{Name: "H", Uncertainty: mm("0.001")}, "x", "50.001")
	for _, c := range []struct {
		name                string
		first, second, want measure.LengthReading
	}{
		{"the closer one", far, near, near},
		{"the closer one, given first", near, far, near},
		{"one alone", measure.LengthReading{}, far, far},
		{"a certain one and a closer one", strip, closer, closer},
		{"a wide certain one and a closer estimate", wide, mean, mean},
		{"an uncertain one and a closer certain one", far, narrow, narrow},
		{"an estimate, given first", mean, near, mean},
		{"an estimate, given second", far, mean, far},
		{"one without a bound, and one with both", measure.Given(units.AtLeast(mm("49")), "a blade"), near, near},
		{"one with both bounds, and one without", near, measure.Given(units.AtLeast(mm("49")), "a blade"), near},
		{"two that do not agree", near, read(t, m, "x", "50.01"), measure.LengthReading{}},
	} {
		a := measure.Compare(c.first, c.second)
		best := a.Best()
		if c.want.Taken() && !best.Interval().Equal(c.want.Interval()) {
			t.Errorf("%s: %s, want %s", c.name, best, c.want)
		}
		if !c.want.Taken() && (best.Problem() == "" || measure.Judge(best.Interval(), units.AtLeast(mm("0"))) != measure.Undecided) {
			t.Errorf("%s: %s proves something", c.name, best)
		}
	}
}

// The better of two readings holds the truth as often as is stated, of pairs that
// scatter by chance as well. 1,500 trials, three standard deviations.
func TestBestHoldsTheTruth(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 1))
	micrometre := func(f float64) units.Length {
		q, err := units.Micrometre.OfFloat64(f, 6)
		if err != nil {
			t.Fatal(err)
		}
		return q
	}
	pair := func(name string) measure.LengthReading {
		in := measure.LengthInstrument{Name: name, LimitOfError: micrometre(1e-6)}
		r, err := in.Read("x", micrometre(50_000+rnd.NormFloat64()), micrometre(50_000+rnd.NormFloat64()))
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	const trials = 1500
	taken, held := 0, 0
	for range trials {
		best := measure.Compare(pair("A"), pair("B")).Best()
		if best.Problem() != "" {
			continue
		}
		taken++
		if best.Interval().Contains(micrometre(50_000)) {
			held++
		}
	}
	const p = 0.9545
	if got := float64(held) / float64(taken); got < p-3*math.Sqrt(p*(1-p)/float64(taken)) {
		t.Errorf("held %.4f of %d", got, taken)
	}
}
