package clearance_test

import (
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// read reads a size with an uncertainty, as it would be for a proven clearance: a bore
// with its bolts tightened and its shells out.
func read(t testing.TB, name, value, uncertainty string) measure.LengthReading {
	t.Helper()
	in := measure.LengthInstrument{Name: name, Uncertainty: mm(uncertainty)}
	return proper(reading[units.LengthDim](t)(in.Read("", mm(value))))
}

func given(text string) measure.LengthReading { return proper(measure.Given(span(text), "drawing")) }

// proper states what the fits of this package ask for.
func proper(r measure.LengthReading) measure.LengthReading {
	return r.With(clearance.BoltsAsAssembled(), clearance.ShellsOut(), clearance.GaugePoint("its gauge point"))
}

func measuredBearing(t testing.TB) clearance.MeasuredBearing {
	t.Helper()
	return clearance.MeasuredBearing{
		HousingBore: read(t, "bore gauge", "52.012 mm", "0.003 mm"),
		UpperWall:   given("2.000..2.004 mm"),
		LowerWall:   given("2.001..2.006 mm"),
		Journal:     read(t, "micrometer", "47.968 mm", "0.004 mm"),
	}
}

func TestBearingOfReadings(t *testing.T) {
	b := measuredBearing(t)
	// 52.012 - 2.004 - 2.006 - 47.968 = 0.034, 52.012 - 2.000 - 2.001 - 47.968 =
	// 0.043; √(3² + 4²) = 5 µm to either side.
	if got := b.Clearance(); !got.Equal(span("0.029..0.048 mm")) {
		t.Errorf("clearance %s", got)
	}
	// At its worst 3 + 4 = 7 µm to either side.
	worst := b.Fit()
	worst.Sum.AtWorst = true
	if got := worst.Sum.Reading().Interval(); !got.Equal(span("0.027..0.050 mm")) {
		t.Errorf("at its worst %s", got)
	}
	// The walls and the journal by one micrometer of which nothing more is known: 2 + 2 +
	// 4 = 8 µm at its worst, and √(3² + 8²) = 8.5440037.. µm, rounded up to 0.1 nm.
	b.UpperWall, b.LowerWall = read(t, "micrometer", "2.002 mm", "0.002 mm"), read(t, "micrometer", "2.0035 mm", "0.002 mm")
	if got := b.Clearance(); !got.Equal(span("0.0299559..0.0470441 mm")) { // 0.0385 ± 0.0085441
		t.Errorf("one micrometer: %s", got.Exact())
	}
}

// A bore is no term of a proven clearance unless it states its bolts and its shells.
func TestConditionsOfABearing(t *testing.T) {
	limits := span("0.024..0.050 mm")
	bare := reading[units.LengthDim](t)((&measure.LengthInstrument{Name: "bore gauge", Uncertainty: mm("0.003 mm")}).Read("", mm("52.012 mm")))
	torque := units.MustParseTorque("60 N·m")
	for _, test := range []struct {
		name   string
		states []measure.Condition
		bolts  measure.Condition
		want   measure.Verdict
		says   string
	}{
		{"nothing stated", nil, measure.Condition{}, measure.Undecided, "housing bore: bolts: tightened as for assembly is needed, and not stated"},
		{"loose caps", []measure.Condition{clearance.BoltsLoose(), clearance.ShellsOut()}, measure.Condition{}, measure.Undecided, "it was read with bolts: loose"},
		{"shells in", []measure.Condition{clearance.BoltsAsAssembled(), clearance.ShellsIn()}, measure.Condition{}, measure.Undecided, "it was read with shells: in"},
		{"no word of shells", []measure.Condition{clearance.BoltsAsAssembled()}, measure.Condition{}, measure.Undecided, "shells: out is needed"},
		{"as assembled", []measure.Condition{clearance.BoltsAsAssembled(), clearance.ShellsOut()}, measure.Condition{}, measure.Conforming, ""},
		{"another torque", []measure.Condition{clearance.BoltsTightened(units.MustParseTorque("50 N·m")), clearance.ShellsOut()}, clearance.BoltsTightened(torque), measure.Undecided, "tightened to 50 N·m"},
		{"the plan's torque", []measure.Condition{clearance.BoltsTightened(torque), clearance.ShellsOut()}, clearance.BoltsTightened(torque), measure.Conforming, ""},
	} {
		b := measuredBearing(t)
		b.HousingBore, b.Bolts = bare.With(test.states...), test.bolts
		a := b.Fit().Assess(limits)
		if a.Verdict != test.want || !strings.Contains(a.Reading.Problem(), test.says) {
			t.Errorf("%s: %s, %q", test.name, a.Verdict, a.Reading.Problem())
		}
		if got := measure.Judge(b.Clearance(), limits); got != test.want {
			t.Errorf("%s: the clearance alone is %s", test.name, got)
		}
	}
	b := measuredBearing(t)
	b.HousingBore = bare
	f := b.Fit()
	f.Direct = reading[units.LengthDim](t)(newStrip(t).Read("", span("0.025..0.038 mm")))
	if got := f.Best().Interval(); !got.Equal(span("0.025..0.038 mm")) {
		t.Errorf("a strip beside sizes that prove nothing is %s", got)
	}
	if text := f.Working(units.Millimetre).Text(); !strings.Contains(text, "the parts prove nothing: housing bore") {
		t.Errorf("working:\n%s", text)
	}
	// One condition that is not stated is as bad as two.
	b.HousingBore = bare.With(clearance.BoltsAsAssembled())
	f = b.Fit()
	f.Direct = given("0.025..0.038 mm")
	if got := f.Best().Interval(); !got.Equal(span("0.025..0.038 mm")) {
		t.Errorf("a strip beside a bore without a word of its shells is %s", got)
	}
	if text := f.Working(units.Millimetre).Text(); !strings.Contains(text, "the parts prove nothing: housing bore: shells: out is needed") {
		t.Errorf("working:\n%s", text)
	}
	f = clearance.BoreFit("pin clearance", given("22.005 mm"), given("22.000 mm"))
	f.Sum.Terms[1].Needs = []measure.Condition{{What: "plane", Is: "front"}}
	if f.Assess(span("0..0.01 mm")).Verdict != measure.Undecided {
		t.Errorf("a pin of no plane: %s", f.Assess(span("0..0.01 mm")).Verdict)
	}
}

// Shells are thinner toward the joint: what holds at the crown is not all.
// By hand, crown 60.000 - 2·2.000 - 55.964 = 0.036; near the joint 60.004 - 2·1.995 -
// 55.964 = 0.050. Each bore ±0.002 and journal ±0.001 by its own repeats, walls exact:
// u of each clearance √(2² + 1²)/2 µm, and m of 2 stations 2.2732 (scipy 1.10):
// 2.2732·√5/2 = 2.5415.. µm.
func TestABearingByStations(t *testing.T) {
	gauge := measure.LengthInstrument{Name: "bore gauge", Repeats: mm("0.002 mm")}
	micrometer := measure.LengthInstrument{Name: "micrometer", Repeats: mm("0.001 mm")}
	station := func(direction, bore, wall, journal string) clearance.MeasuredBearing {
		at := measure.Condition{What: "direction", Is: direction}
		length := reading[units.LengthDim](t)
		return clearance.MeasuredBearing{
			HousingBore: proper(length(gauge.Read("bore, "+direction, mm(bore)))).With(at),
			UpperWall:   given(wall).With(at), LowerWall: given(wall).With(at),
			Journal: length(micrometer.Read("journal, "+direction, mm(journal))).With(at),
			Place:   []measure.Condition{at},
		}
	}
	crown, joint := station("crown", "60.000 mm", "2.000 mm", "55.964 mm"), station("joint", "60.004 mm", "1.995 mm", "55.964 mm")
	s, err := clearance.BearingStations([]clearance.MeasuredBearing{crown, joint})
	if err != nil {
		t.Fatal(err)
	}
	least, greatest := s.Find(measure.Smallest).Interval(), s.Find(measure.Largest).Interval()
	if !least.Mid().Equal(mm("0.036 mm")) || !greatest.Mid().Equal(mm("0.050 mm")) {
		t.Errorf("least %s, greatest %s", least, greatest)
	}
	if r := least.Radius(); r.Less(mm("0.002541 mm")) || mm("0.002543 mm").Less(r) {
		t.Errorf("least is known to ±%s", r)
	}
	joint.LowerWall = given("1.995 mm").With(measure.Condition{What: "direction", Is: "crown"})
	if _, err := clearance.BearingStations([]clearance.MeasuredBearing{crown, joint}); !errors.Is(err, measure.ErrNotMeasured) || !strings.Contains(err.Error(), "direction: joint is needed") {
		t.Errorf("a wall of another direction: %v", err)
	}
	joint.LowerWall = measure.LengthReading{}
	if _, err := clearance.BearingStations([]clearance.MeasuredBearing{crown, joint}); !errors.Is(err, measure.ErrNotMeasured) || !strings.Contains(err.Error(), "plane 1, direction 2, lower wall") {
		t.Errorf("no wall: %v", err)
	}
}

func TestFitWorking(t *testing.T) {
	b := measuredBearing(t)
	text := b.Fit().Working(units.Millimetre).Text()
	for _, want := range []string{
		"C = D - t1 - t2 - d", "D, housing bore", "bore gauge, 52.012 mm ±0.003 mm (k = 2)",
		"52.012 - 2.004 - 2.006 - 47.968", "52.012 - 2 - 2.001 - 47.968", "√(0.003² + 0.004²)", "= 0.005 mm",
		"= 0.029..0.048 mm", "JCGM 100:2008",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the working lacks %q:\n%s", want, text)
		}
	}
	inches := clearance.BoreFit("pin clearance", given("1.0626 in"), given("1.0622 in")).Working(units.Inch).Text()
	if !strings.Contains(inches, "1.0626 - 1.0622") || !strings.Contains(inches, "= 0.0004 in") {
		t.Errorf("working in inches:\n%s", inches)
	}
}

func TestAFitWithAMissingSizeIsNotKnown(t *testing.T) {
	b := measuredBearing(t)
	b.LowerWall = measure.LengthReading{}
	if r := b.Clearance(); !r.IsEmpty() || measure.Judge(r, span(">= 0 mm")) != measure.Undecided {
		t.Errorf("without a lower wall the clearance is %s", r)
	}
	if text := b.Fit().Working(units.Millimetre).Text(); !strings.Contains(text, "not known") {
		t.Errorf("working:\n%s", text)
	}
}

func TestFits(t *testing.T) {
	// Asymmetric sizes: any two exchanged give another number.
	for _, test := range []struct {
		fit  clearance.Fit
		want string
		form string
	}{
		{clearance.BoreFit("tappet", given("12.70 mm"), given("12.66 mm")), "0.04 mm", "C = D - d"},
		{clearance.BoreFit("pin clearance", given("22.005 mm"), given("22.009 mm")), "-0.004 mm", "C = D - d"},
		{clearance.PistonFit(given("86.045 mm"), given("86.000 mm"), ""), "0.045 mm", "C = D - d"},
		{clearance.BoreFit("ring side clearance", given("1.53 mm"), given("1.48 mm")), "0.05 mm", "C = D - d"},
		{clearance.PlayFit("end play", given("30.30 mm"), given("25.30 mm"), given("2.40 mm"), given("2.41 mm")), "0.19 mm", "P = L - w1 - w2 - w3"},
		{clearance.PlayFit("rod side play", given("50.40 mm"), given("25.05 mm"), given("25.10 mm")), "0.25 mm", "P = L - w1 - w2"},
		{clearance.DeckFit(given("210.00 mm"), given("40.10 mm"), given("138.00 mm"), given("31.50 mm")), "0.40 mm", "H = B - r - l - k"},
	} {
		if got := test.fit.Sum.Reading().Interval(); !got.Equal(span(test.want)) {
			t.Errorf("%s: %s, want %s", test.fit.Sum.Name, got, test.want)
		}
		if got := test.fit.Sum.Formula(); got != test.form {
			t.Errorf("%s: %q, want %q", test.fit.Sum.Name, got, test.form)
		}
	}
}

func TestFitsSayWhatTheyAre(t *testing.T) {
	limits := span("0.03..0.06 mm")
	skirt := "15 mm above the skirt's edge"
	elsewhere := clearance.PistonFit(given("86.045 mm"), given("86.000 mm"), skirt)
	if a := elsewhere.Assess(limits); a.Verdict != measure.Undecided || !strings.Contains(a.Reading.Problem(), "gauge point: 15 mm above the skirt's edge is needed") {
		t.Errorf("a piston measured elsewhere: %s, %s", a.Verdict, a.Reading.Problem())
	}
	there := clearance.PistonFit(given("86.045 mm"), given("86.000 mm").With(clearance.GaugePoint(skirt)), skirt)
	if a := there.Assess(limits); a.Verdict != measure.Conforming {
		t.Errorf("a piston measured there: %s, %s", a.Verdict, a.Reading.Problem())
	}
	play := clearance.PlayFit("end play", given("30 mm"), given("25 mm"), given("2.4 mm"), given("2.5 mm"))
	last := play.Sum.Terms[len(play.Sum.Terms)-1]
	if last.Symbol != "w3" || last.Name != "width 3" {
		t.Errorf("the third width is %s, %s", last.Symbol, last.Name)
	}
}

func TestAgreement(t *testing.T) {
	b := measuredBearing(t)
	f := b.Fit() // 0.029..0.048 mm
	if a := f.Agreement(); a.Known || a.Agree {
		t.Error("without a direct reading the two agree")
	}
	f.Direct = reading[units.LengthDim](t)(newStrip(t).Read("", span("0.025..0.038 mm")))
	if text := f.Working(units.Millimetre).Text(); !strings.Contains(text, "which agree; the closer one stands") ||
		!strings.Contains(text, "by its parts") || !strings.Contains(text, "√(0.003² + 0.004²)") {
		t.Errorf("working:\n%s", text)
	}
	// Strip less parts: 0.025 - 0.043 - 0.005 .. 0.038 - 0.034 + 0.005.
	if a := f.Agreement(); !a.Known || !a.Agree || !a.Difference.Interval().Equal(span("-0.023..0.009 mm")) {
		t.Errorf("agreement %+v", a)
	}
	f.Direct = reading[units.LengthDim](t)(newStrip(t).Read("", span(">= 0.107 mm"))) // >= 0.107 mm, and 0.107 - 0.048 = 0.059
	if a := f.Agreement(); !a.Known || a.Agree || !a.Difference.Interval().Equal(span(">= 0.059 mm")) {
		t.Errorf("disagreement %+v", a)
	}
	if text := f.Working(units.Millimetre).Text(); !strings.Contains(text, "they differ by >= 0.059 mm, so one is wrong") || !strings.Contains(text, "= not known") {
		t.Errorf("working:\n%s", text)
	}
}

// The clearance alone is that of the fit, whatever the readings are and state.
func TestClearanceIsThatOfTheFit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := func(label string, lo, hi int64) measure.LengthReading {
			in := measure.LengthInstrument{Name: rapid.SampledFrom([]string{"A", "B", ""}).Draw(t, label+" name"), Uncertainty: drawLength(t, label+" uncertainty", 1, 9),
				Freedom: rapid.SampledFrom([]int{0, 0, 0, 4}).Draw(t, label+" freedom")}
			switch rapid.IntRange(0, 6).Draw(t, label+" kind") {
			case 0:
				return measure.Given(drawInterval(t, label, lo, hi), "")
			case 1:
				return measure.Given(units.AtLeast(drawLength(t, label, lo, hi)), "")
			case 2:
				if rapid.Bool().Draw(t, label+" missing") {
					return measure.LengthReading{}
				}
			}
			r, err := in.Read(rapid.SampledFrom([]string{label, ""}).Draw(t, label+" at"), drawLength(t, label, lo, hi))
			if err != nil {
				t.Fatal(err)
			}
			return r
		}
		b := clearance.MeasuredBearing{
			HousingBore: size("bore", 52_000, 52_020), UpperWall: size("upper", 2000, 2010),
			LowerWall: size("lower", 1990, 2020), Journal: size("journal", 47_950, 47_980),
		}
		if rapid.Bool().Draw(t, "proper") {
			b.HousingBore = proper(b.HousingBore)
		}
		if got, want := b.Clearance(), b.Fit().Best().Interval(); !got.Equal(want) {
			t.Fatalf("%s and %s", got, want)
		}
	})
}

func TestBest(t *testing.T) {
	b := measuredBearing(t)
	f := b.Fit() // 0.029..0.048 mm
	limits := span("0.024..0.050 mm")
	length := reading[units.LengthDim](t)
	strip := newStrip(t)
	for _, test := range []struct {
		name    string
		direct  measure.LengthReading
		want    string
		verdict measure.Verdict
	}{
		{"no strip", measure.LengthReading{}, "0.029..0.048 mm", measure.Conforming},
		{"a narrower strip", length(strip.Read("", span("0.025..0.038 mm"))), "0.025..0.038 mm", measure.Conforming},
		{"a wider strip", length(strip.Read("", span("0.025 mm"))), "0.029..0.048 mm", measure.Conforming},
		{"a strip without an upper bound", length(strip.Read("", span("0.051 mm"))), "0.029..0.048 mm", measure.Conforming},
		{"a strip that does not agree", length(strip.Read("", span("<= 0.025 mm"))), "none", measure.Undecided},
	} {
		f.Direct = test.direct
		a := f.Assess(limits)
		if got := a.Reading.Interval().String(); got != test.want || a.Verdict != test.verdict {
			t.Errorf("%s: %s, %s; want %s, %s", test.name, got, a.Verdict, test.want, test.verdict)
		}
	}
	if how := f.Best().How(units.Millimetre); !strings.Contains(how, "measure both again") {
		t.Errorf("how is %q", how)
	}
	strange := clearance.DirectFit("main 3", length(strip.Read("", span("<= 0.025 mm"))))
	if got := strange.Best(); !got.Interval().Equal(span("0..0.025 mm")) {
		t.Errorf("a strip alone is %s", got)
	}
}

// A fit of one term that was not measured directly is worked out in one way, and says no more.
func TestWorkingOfOneTerm(t *testing.T) {
	fit := clearance.Fit{Sum: measure.Sum[units.LengthDim]{Name: "float", Symbol: "C", Terms: []measure.Term[units.LengthDim]{measure.Plus("s", "slot", given("0.12..0.15 mm"))}}}
	if got, want := fit.Working(units.Millimetre).Text(), fit.Sum.Working(units.Millimetre).Text(); got != want || strings.Contains(got, "two ways") {
		t.Errorf("%s\nwant\n%s", got, want)
	}
}
