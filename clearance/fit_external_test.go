package clearance_test

import (
	"errors"
	"math/big"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
)

// read reads a size with an uncertainty.
func read(t testing.TB, name, value, uncertainty string) clearance.LengthReading {
	t.Helper()
	in := clearance.LengthInstrument{Name: name, Uncertainty: mm(uncertainty)}
	return reading[units.LengthDim](t)(in.Read(mm(value)))
}

func given(text string) clearance.LengthReading { return clearance.Given(span(text), "drawing") }

func measuredBearing(t testing.TB) clearance.MeasuredBearing {
	t.Helper()
	return clearance.MeasuredBearing{
		HousingBore: read(t, "bore gauge", "52.012 mm", "0.003 mm"),
		UpperWall:   given("2.000..2.004 mm"),
		LowerWall:   given("2.001..2.006 mm"),
		Journal:     read(t, "micrometer", "47.968 mm", "0.004 mm"),
	}
}

func TestCombinations(t *testing.T) {
	b := measuredBearing(t)
	for _, test := range []struct {
		rule clearance.Combination
		want string
	}{
		// 52.012 - 2.004 - 2.006 - 47.968 = 0.034, 52.012 - 2.000 - 2.001 - 47.968 =
		// 0.043; √(3² + 4²) = 5 µm to either side.
		{clearance.ByKind, "0.029..0.048 mm"},
		// 3 + 4 = 7 µm to either side.
		{clearance.WorstCase, "0.027..0.050 mm"},
		// 0.0385 ± √(3² + 4² + (4² + 5²)/3) = √38.667 = 6.2183 µm, each w/√3 and the
		// root rounded up to a nanometre: w/√3 = 2.3094.., 2.310 and 2.8867.., 2.887.
		{clearance.RootSumSquare, "0.032281..0.044719 mm"},
	} {
		got := b.Clearance(test.rule)
		if !got.Interval().Equal(span(test.want)) {
			t.Errorf("%s: %s, want %s", test.rule, got.Interval(), test.want)
		}
		fit := b.Fit()
		if same := fit.Reading(test.rule); !same.Interval().Equal(got.Interval()) {
			t.Errorf("%s: the fit gives %s, the bearing %s", test.rule, same.Interval(), got.Interval())
		}
		if how := got.How(units.Millimetre); how != "running clearance by calculation; "+test.rule.String() {
			t.Errorf("%s: how is %q", test.rule, how)
		}
	}
	if got, want := b.Bearing().Clearance(), span("0.027..0.050 mm"); !got.Equal(want) {
		t.Errorf("the bearing of intervals gives %s, want %s", got, want)
	}
}

func TestFitWorking(t *testing.T) {
	b := measuredBearing(t)
	b.Journal = read(t, "bore gauge", "47.968 mm", "0.004 mm") // for the note
	for rule, wants := range map[clearance.Combination][]string{
		clearance.ByKind: {
			"C = D - t1 - t2 - d", "uncertainties by root-sum-square (k = 2), brackets by worst case",
			"D, housing bore", "bore gauge, 52.012 mm ±0.003 mm (k = 2)",
			"52.012 - 2.004 - 2.006 - 47.968", "52.012 - 2 - 2.001 - 47.968", "√(0.003² + 0.004²)", "= 0.005 mm",
			"= 0.029..0.048 mm", "JCGM 100:2008", "housing bore and journal were read with one instrument (bore gauge)",
		},
		clearance.WorstCase:     {"52.009 - 2.004 - 2.006 - 47.972", "= 0.027..0.05 mm", "interval arithmetic"},
		clearance.RootSumSquare: {"52.012 - 2.002 - 2.0035 - 47.968", "√(0.003² + 0.00231² + 0.002887² + 0.004²)"},
	} {
		text := b.Fit().Working(rule, units.Millimetre).Text()
		for _, want := range wants {
			if !strings.Contains(text, want) {
				t.Errorf("%s: the working lacks %q:\n%s", rule, want, text)
			}
		}
	}
	if text := b.Fit().Working(clearance.WorstCase, units.Millimetre).Text(); strings.Contains(text, "one instrument") {
		t.Errorf("a worst case warns of a shared instrument:\n%s", text)
	}
	inches := clearance.PinFit(given("1.0626 in"), given("1.0622 in")).Working(clearance.ByKind, units.Inch).Text()
	if !strings.Contains(inches, "1.0626 - 1.0622") || !strings.Contains(inches, "= 0.0004 in") {
		t.Errorf("working in inches:\n%s", inches)
	}
}

func TestAFitWithAMissingSizeIsNotKnown(t *testing.T) {
	b := measuredBearing(t)
	b.LowerWall = clearance.LengthReading{}
	if r := b.Clearance(clearance.ByKind); r.Taken() || clearance.Judge(r.Interval(), span(">= 0 mm")).Proven() {
		t.Errorf("without a lower wall the clearance is %s", r)
	}
	if text := b.Fit().Working(clearance.ByKind, units.Millimetre).Text(); !strings.Contains(text, "not known") {
		t.Errorf("working:\n%s", text)
	}
}

// A fit of all kinds holds the fit of every choice of points, and worst case
// holds the other rules.
func TestWorstCaseHoldsEveryChoice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var terms []clearance.Term
		point := units.Length{}
		for range rapid.IntRange(1, 6).Draw(t, "terms") {
			size := drawInterval(t, "size", 1000, 60_000)
			times := rapid.SampledFrom([]int64{-2, -1, 1, 2, 3}).Draw(t, "times")
			r := clearance.Given(size, "")
			if rapid.Bool().Draw(t, "read") {
				in := clearance.LengthInstrument{Uncertainty: drawLength(t, "uncertainty", 1, 10)}
				var err error
				if r, err = in.Read(size.Mid()); err != nil {
					t.Fatal(err)
				}
			}
			terms = append(terms, clearance.Term{Symbol: "x", Times: times, Reading: r})
			point = point.Add(drawIn(t, "point", r.Interval()).MulInt(times))
		}
		f := clearance.Fit{Name: "fit", Terms: terms}
		worst := f.Reading(clearance.WorstCase).Interval()
		if !worst.Contains(point) {
			t.Fatalf("%s does not hold %s", worst, point)
		}
		// Each rounds up to a nanometre, and the width of a bracket over √3 does too.
		room := worst.Add(units.PlusMinus(units.Length{}, units.Nanometre.OfInt(40)))
		for _, rule := range []clearance.Combination{clearance.ByKind, clearance.RootSumSquare} {
			got := f.Reading(rule).Interval()
			if rule == clearance.ByKind && !got.Within(room) {
				t.Fatalf("%s: %s lies outside the worst case %s", rule, got, worst)
			}
			if !got.Mid().Equal(worst.Mid()) {
				t.Fatalf("%s: the middle of %s is not that of %s", rule, got, worst)
			}
			turned := slices.Clone(terms)
			slices.Reverse(turned)
			if again := (clearance.Fit{Terms: turned}).Reading(rule).Interval(); !again.Equal(got) {
				t.Fatalf("%s: the other way round it is %s and not %s", rule, again, got)
			}
		}
	})
}

func TestFitCheck(t *testing.T) {
	for _, test := range []struct {
		name string
		fit  clearance.Fit
		kind error
		says string
	}{
		{"negative pin", clearance.PinFit(given("27.0 mm"), given("-26.9 mm")), clearance.ErrNotPositive, "pin clearance, pin"},
		{"a pin of zero", clearance.PinFit(given("27.0 mm"), given("0 mm")), clearance.ErrNotPositive, "pin clearance, pin"},
		{"nothing", clearance.DirectFit("main 3", clearance.LengthReading{}), clearance.ErrEmpty, "main 3"},
	} {
		if err := test.fit.Check(); !errors.Is(err, test.kind) || !strings.Contains(err.Error(), test.says) {
			t.Errorf("%s: %v", test.name, err)
		}
	}
	if err := clearance.PinFit(given("27.0 mm"), clearance.LengthReading{}).Check(); err != nil {
		t.Errorf("a size not read yet: %v", err)
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
		{clearance.PinFit(given("22.005 mm"), given("22.009 mm")), "-0.004 mm", "C = D - d"},
		{clearance.PistonFit(given("86.045 mm"), given("86.000 mm"), "15 mm above the skirt's edge"), "0.045 mm", "C = D - d"},
		{clearance.RingSideFit(given("1.53 mm"), given("1.48 mm")), "0.05 mm", "C = g - h"},
		{clearance.EndPlayFit(given("30.30 mm"), given("25.30 mm"), given("2.40 mm"), given("2.41 mm")), "0.19 mm", "E = L - w - t1 - t2"},
		{clearance.SidePlayFit(given("50.40 mm"), given("25.05 mm"), given("25.10 mm")), "0.25 mm", "S = L - b1 - b2"},
		{clearance.DeckFit(given("210.00 mm"), given("40.10 mm"), given("138.00 mm"), given("31.50 mm")), "0.40 mm", "H = B - r - l - k"},
	} {
		if got := test.fit.Reading(clearance.ByKind).Interval(); !got.Equal(span(test.want)) {
			t.Errorf("%s: %s, want %s", test.fit.Name, got, test.want)
		}
		if got := test.fit.Formula(); got != test.form {
			t.Errorf("%s: %q, want %q", test.fit.Name, got, test.form)
		}
	}
}

func TestFitsSayWhatTheyAre(t *testing.T) {
	text := clearance.PistonFit(given("86.045 mm"), given("86.000 mm"), "15 mm above the skirt's edge").Working(clearance.ByKind, units.Millimetre).Text()
	if !strings.Contains(text, "piston measured at 15 mm above the skirt's edge") {
		t.Errorf("working:\n%s", text)
	}
	text = clearance.PistonFit(given("86.045 mm"), given("86.000 mm"), "").Working(clearance.ByKind, units.Millimetre).Text()
	if !strings.Contains(text, "piston measured at its gauge point") {
		t.Errorf("working:\n%s", text)
	}
	for _, f := range []clearance.Fit{
		clearance.EndPlayFit(given("30 mm"), given("25 mm"), given("2.4 mm"), given("2.5 mm")),
		clearance.MeasuredEndPlay(given("0.1 mm"), given("2.4 mm"), given("2.5 mm")),
		clearance.SidePlayFit(given("50 mm"), given("24 mm"), given("25 mm")),
	} {
		last := f.Terms[len(f.Terms)-1]
		if !strings.HasSuffix(last.Symbol, "2") || !strings.HasSuffix(last.Name, " 2") {
			t.Errorf("%s: the second is %s, %s", f.Name, last.Symbol, last.Name)
		}
	}
	// A formula that begins with a minus, and one with a factor.
	f := clearance.Fit{Symbol: "y", Terms: []clearance.Term{{Symbol: "a", Times: -1, Reading: given("-3 mm")}, {Symbol: "b", Times: -2, Reading: given("1 mm")}, {Symbol: "c", Times: +3, Reading: given("-1 mm")}}}
	if got, want := f.Formula(), "y = -a - 2 × b + 3 × c"; got != want {
		t.Errorf("formula %q, want %q", got, want)
	}
	if text := f.Working(clearance.ByKind, units.Millimetre).Text(); !strings.Contains(text, "-(-3) - 2 × 1 + 3 × (-1)") || !strings.Contains(text, "= -2 mm") {
		t.Errorf("working:\n%s", text)
	}
}

func TestAgreement(t *testing.T) {
	b := measuredBearing(t)
	f := b.Fit()
	if a := f.Agreement(clearance.ByKind); a.Known || a.Agree {
		t.Error("without a direct reading the two agree")
	}
	f.Direct = reading[units.LengthDim](t)(newStrip(t).Between(mm("0.025 mm"), mm("0.038 mm")))
	if text := f.Working(clearance.ByKind, units.Millimetre).Text(); !strings.Contains(text, "which agree: both hold in 0.029..0.038 mm") ||
		!strings.Contains(text, "by its parts") || !strings.Contains(text, "√(0.003² + 0.004²)") {
		t.Errorf("working:\n%s", text)
	}
	a := f.Agreement(clearance.ByKind) // computed: 0.029..0.048 mm
	if !a.Known || !a.Agree || !a.Common.Interval().Equal(span("0.029..0.038 mm")) || !a.Apart.IsZero() {
		t.Errorf("agreement %+v", a)
	}
	if got := f.Reading(clearance.ByKind).Interval(); !got.Equal(span("0.025..0.038 mm")) {
		t.Errorf("the fit is %s and not its direct reading", got)
	}
	f.Direct = reading[units.LengthDim](t)(newStrip(t).Looser()) // >= 0.051 mm
	a = f.Agreement(clearance.ByKind)
	if !a.Known || a.Agree || !a.Apart.Equal(mm("0.003 mm")) {
		t.Errorf("disagreement %+v", a)
	}
	if text := f.Working(clearance.ByKind, units.Millimetre).Text(); !strings.Contains(text, "they lie 0.003 mm apart") {
		t.Errorf("working:\n%s", text)
	}
}

// The way written out for a bearing is what its fit computes.
func TestMeasuredBearingIsItsFit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := func(label string, lo, hi int64) clearance.LengthReading {
			in := clearance.LengthInstrument{Uncertainty: drawLength(t, label+" uncertainty", 1, 9), Freedom: rapid.SampledFrom([]int{0, 0, 0, 4}).Draw(t, label+" freedom")}
			switch rapid.IntRange(0, 6).Draw(t, label+" kind") {
			case 0:
				return clearance.Given(drawInterval(t, label, lo, hi), "")
			case 1:
				return clearance.Given(units.AtLeast(drawLength(t, label, lo, hi)), "")
			case 2:
				if rapid.Bool().Draw(t, label+" missing") {
					return clearance.LengthReading{}
				}
			}
			r, err := in.Read(drawLength(t, label, lo, hi))
			if err != nil {
				t.Fatal(err)
			}
			return r
		}
		b := clearance.MeasuredBearing{
			HousingBore: size("bore", 52_000, 52_020), UpperWall: size("upper", 2000, 2010),
			LowerWall: size("lower", 1990, 2020), Journal: size("journal", 47_950, 47_980),
		}
		rule := rapid.SampledFrom([]clearance.Combination{clearance.ByKind, clearance.ByKind, clearance.WorstCase, clearance.RootSumSquare}).Draw(t, "rule")
		got, want := b.Clearance(rule), b.Fit().Computed(rule)
		if !got.Interval().Equal(want.Interval()) || !got.Bracket().Equal(want.Bracket()) || !got.Expanded().Equal(want.Expanded()) ||
			got.Freedom() != want.Freedom() || got.Taken() != want.Taken() || got.How(units.Inch) != want.How(units.Inch) {
			t.Fatalf("%s: %s and %s", rule, got, want)
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
		direct  clearance.LengthReading
		want    string
		verdict clearance.Verdict
	}{
		{"no strip", clearance.LengthReading{}, "0.029..0.048 mm", clearance.Conforming},
		{"a narrower strip", length(strip.Between(mm("0.025 mm"), mm("0.038 mm"))), "0.025..0.038 mm", clearance.Conforming},
		{"a wider strip", length(strip.Nearest(mm("0.025 mm"))), "0.029..0.048 mm", clearance.Conforming},
		{"a strip without an upper bound", length(strip.Nearest(mm("0.051 mm"))), "0.029..0.048 mm", clearance.Conforming},
		{"a strip that does not agree", length(strip.Tighter()), "none", clearance.Undecided},
	} {
		f.Direct = test.direct
		a := f.Assess(clearance.ByKind, limits)
		if got := a.Reading.Interval().String(); got != test.want || a.Verdict != test.verdict {
			t.Errorf("%s: %s, %s; want %s, %s", test.name, got, a.Verdict, test.want, test.verdict)
		}
	}
	if how := f.Best(clearance.ByKind).How(units.Millimetre); !strings.Contains(how, "measure both again") {
		t.Errorf("how is %q", how)
	}
	strange := clearance.DirectFit("main 3", length(strip.Tighter()))
	if got := strange.Best(clearance.ByKind); !got.Interval().Equal(span("0..0.025 mm")) {
		t.Errorf("a strip alone is %s", got)
	}
}

func TestTimes(t *testing.T) {
	stroke := read(t, "rule", "80.2 mm", "0.1 mm")
	throw := stroke.Times(big.NewRat(1, 2))
	if !throw.Interval().Equal(span("40.1 ±0.05 mm")) || !throw.Expanded().Equal(mm("0.05 mm")) {
		t.Errorf("half of %s is %s", stroke, throw)
	}
	if got := stroke.Times(big.NewRat(-1, 2)); !got.Interval().Equal(span("-40.1 ±0.05 mm")) {
		t.Errorf("minus half of %s is %s", stroke, got)
	}
}
