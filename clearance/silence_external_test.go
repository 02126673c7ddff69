package clearance_test

import (
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
)

// What was not measured, and what has no tolerance, is undecided whatever it is held
// against: the zero interval is neither zero nor everything.
func TestSilenceIsUndecided(t *testing.T) {
	var nothing units.LengthInterval
	var notRead clearance.LengthReading
	for _, other := range []string{"0 mm", "0..0.02 mm", "<= 0.02 mm", ">= -1 mm", "any length"} {
		if v := clearance.Judge(nothing, span(other)); v != clearance.Undecided {
			t.Errorf("nothing, to %s, is %s", other, v)
		}
		if v := clearance.Judge(span(other), nothing); v != clearance.Undecided {
			t.Errorf("%s, to no tolerance, is %s", other, v)
		}
		for _, rule := range []clearance.Rule{clearance.ProveBoth, clearance.SimpleAcceptance} {
			if v := clearance.JudgeBy(rule, notRead, span(other)); v != clearance.Undecided {
				t.Errorf("what was not read, to %s by %s, is %s", other, rule, v)
			}
			if v := clearance.JudgeBy(rule, given(other), nothing); v != clearance.Undecided {
				t.Errorf("%s, to no tolerance by %s, is %s", other, rule, v)
			}
		}
	}
	if v := clearance.Judge(nothing, nothing); v != clearance.Undecided {
		t.Errorf("nothing, to no tolerance, is %s", v)
	}
	// A tolerance that is said to have no limits is one.
	if v := clearance.Judge(span("0.03 mm"), span("any length")); v != clearance.Conforming {
		t.Errorf("0.03 mm, to any length, is %s", v)
	}
}

// Two readings that cannot both be right prove nothing, even to a tolerance without
// limits.
func TestDisagreementProvesNothing(t *testing.T) {
	f := clearance.BoreFit("bush", given("20.03 mm"), given("20.00 mm"))
	f.Direct = given("0.05..0.06 mm")
	for _, limits := range []string{"any length", "0..1 mm", ">= 0 mm"} {
		a := f.Assess(clearance.ByKind, span(limits))
		if _, needed := a.Needed(); a.Verdict != clearance.Undecided || needed {
			t.Errorf("to %s: %s, and something would settle it: %v", limits, a.Verdict, needed)
		}
	}
	torn := f.Best(clearance.ByKind)
	if a := clearance.Compare(torn, f.Direct); a.Known {
		t.Errorf("%+v", a)
	}
	if _, err := clearance.NewStations([]clearance.LengthReading{torn, f.Direct}); !errors.Is(err, clearance.ErrNotMeasured) {
		t.Errorf("stations: %v", err)
	}
	if slips := clearance.Slips(torn, span("0..1 mm"), units.Millimetre); slips != nil {
		t.Errorf("slips: %v", slips)
	}
}

// A reading given with nothing in it was not taken, and a fit that needs it is not
// known, whichever size it is: proven by nothing, changed by nothing, wanted as
// nothing.
func TestAMissingSizeMakesTheFitUnknown(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		missing := rapid.IntRange(0, 3).Draw(t, "missing")
		sizes := [4]clearance.LengthReading{given("60.01 mm"), given("2.001 mm"), given("2.002 mm"), given("55.97 mm")}
		sizes[missing] = clearance.Given(units.LengthInterval{}, "left blank")
		limits := drawLimits(t, "limits", -50, 150)
		b := clearance.MeasuredBearing{HousingBore: sizes[0], UpperWall: sizes[1], LowerWall: sizes[2], Journal: sizes[3]}
		c := b.Bearing().Clearance()
		if !c.IsEmpty() || clearance.Judge(c, limits).Proven() || b.Bearing().Working(units.Millimetre).Text() == "" {
			t.Fatalf("the clearance is %s", c)
		}
		if err := b.Bearing().Check(); !errors.Is(err, clearance.ErrNotMeasured) {
			t.Fatalf("check: %v", err)
		}
		for _, rule := range []clearance.Combination{clearance.ByKind, clearance.WorstCase, clearance.RootSumSquare} {
			f := b.Fit()
			if b.Clearance(rule).Taken() || f.Assess(rule, limits).Verdict.Proven() {
				t.Fatalf("%s: %s", rule, b.Clearance(rule))
			}
			a := f.Assess(rule, limits)
			_, needed := a.Needed()
			_, margin := a.Margin()
			_, outside := a.Outside()
			if needed || margin || outside || a.Working(units.Millimetre).Text() == "" {
				t.Fatalf("of nothing: needed %v, margin %v, outside %v", needed, margin, outside)
			}
			if _, ok, err := f.Wanted(rule, limits, f.Terms[(missing+1)%4].Symbol); ok || err != nil && !errors.Is(err, clearance.ErrNoTolerance) {
				t.Fatalf("wanted: %v, %v", ok, err)
			}
			another := clearance.Alternative{Term: f.Terms[(missing+1)%4].Symbol, Name: "another", Reading: given("2 mm")}
			if _, err := f.Remedies(rule, limits, another); !errors.Is(err, clearance.ErrNotMeasured) || !strings.Contains(err.Error(), f.Terms[missing].Name) {
				t.Fatalf("remedies: %v", err)
			}
		}
	})
}

// What asks for a tolerance says that none was given.
func TestNoToleranceIsSaid(t *testing.T) {
	var none units.LengthInterval
	f := clearance.BoreFit("bush", given("20.03..20.04 mm"), given("20.00..20.01 mm"))
	_, accepting := clearance.Accepting(none, mm("0.002 mm"))
	_, probability := clearance.ConformityProbability(f.Computed(clearance.ByKind), none)
	_, _, wanted := f.Wanted(clearance.ByKind, none, "d")
	_, remedies := f.Remedies(clearance.ByKind, none)
	process := clearance.Process[units.LengthDim]{Mean: mm("0.03 mm"), Spread: mm("0.01 mm")}
	_, risks := process.Risks(none, span("0..1 mm"), mm("0.004 mm"))
	_, accepted := process.Risks(span("0..1 mm"), none, mm("0.004 mm"))
	for name, err := range map[string]error{
		"accepting": accepting, "probability": probability, "wanted": wanted, "remedies": remedies, "risks": risks, "acceptance": accepted,
	} {
		var e *clearance.Error
		if !errors.Is(err, clearance.ErrNoTolerance) || !errors.As(err, &e) || e.Fix == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
	a := clearance.Assess(f.Computed(clearance.ByKind), none)
	if _, needed := a.Needed(); needed || a.AboveLower() || a.BelowUpper() || !strings.Contains(a.Working(units.Millimetre).Text(), "no tolerance was given") {
		t.Errorf("%s", a.Working(units.Millimetre).Text())
	}
	if offered := f.Remeasurements(clearance.ByKind, none, map[string][]clearance.LengthInstrument{"D": {{Uncertainty: mm("0.001 mm")}}}); offered != nil {
		t.Errorf("remeasurements %v", offered)
	}
	if slips := clearance.Slips(given("3 mm"), none, units.Millimetre); slips != nil {
		t.Errorf("slips %v", slips)
	}
	if _, ok := clearance.File(given("0.3 mm"), none); ok {
		t.Error("a gap filed to no limits")
	}
}

// What asks for a size says that none was given.
func TestNoSizeIsSaid(t *testing.T) {
	var none units.LengthInterval
	var notRead clearance.LengthReading
	rule := clearance.SizeRule{PerSizeLo: dec("0.0040"), PerSizeHi: dec("0.0045")}
	_, limits := rule.Limits(notRead)
	_, working := rule.Working(notRead, units.Millimetre)
	steel := at(t, "steel", "0.0000117", "80..90 °C")
	_, growth := steel.Growth(none)
	_, open := steel.Growth(span(">= 50 mm"))
	_, opening := clearance.PinFit(notRead, given("20 mm")).Opening(map[string]clearance.Condition{"D": steel})
	flat := clearance.Compression{
		Bore: span("86 mm"), Stroke: span("80 mm"), Deck: span("0 mm"), GasketBore: span("88 mm"), GasketThickness: span("1 mm"),
		Chamber: units.MustParseVolumeInterval("40 cm³"), Dish: units.MustParseVolumeInterval("0 cm³"),
	}
	if _, _, err := flat.Ratio(); err != nil {
		t.Fatal(err)
	}
	noBore, noDeck, noDish, noChamber := flat, flat, flat, flat
	noBore.Bore, noDeck.Deck, noDish.Dish, noChamber.Chamber = none, none, units.VolumeInterval{}, units.VolumeInterval{}
	for name, err := range map[string]error{
		"size rule": limits, "its working": working, "growth": growth, "growth of a size without a bound": open, "opening": opening,
		"bore": noBore.Check(), "deck": noDeck.Check(), "dish": noDish.Check(), "chamber": noChamber.Check(),
	} {
		var e *clearance.Error
		if !errors.Is(err, clearance.ErrNotMeasured) || !errors.As(err, &e) || e.Fix == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
	if !noBore.Swept().IsEmpty() || !noDeck.Clearance().IsEmpty() {
		t.Error("a volume of nothing")
	}
	if _, ok := clearance.File(notRead, span("0.3..0.4 mm")); ok {
		t.Error("a gap filed that was not read")
	}
	if r := notRead.Times(ratio(1, 2)).Widened(mm("0.01 mm")); r.Taken() || !r.Interval().IsEmpty() || !r.Bracket().IsEmpty() {
		t.Errorf("half of nothing, widened, is %s", r)
	}
	crush := clearance.Crush{Upper: span("0.03 mm")}
	if !crush.Interference().IsEmpty() || !clearance.GapGrowth(none).IsEmpty() ||
		!clearance.UndersizeJournal(none, mm("0.25 mm")).IsEmpty() || !clearance.InsideDiameter(span("60 mm"), none, span("2 mm")).IsEmpty() {
		t.Error("something came out of nothing")
	}
}
