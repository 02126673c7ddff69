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

// What was not measured, and what has no tolerance, is undecided whatever it is held
// against: the zero interval is neither zero nor everything.
func TestSilenceIsUndecided(t *testing.T) {
	var nothing units.LengthInterval
	var notRead measure.LengthReading
	for _, other := range []string{"0 mm", "0..0.02 mm", "<= 0.02 mm", ">= -1 mm", "any length"} {
		if v := measure.Judge(nothing, span(other)); v != measure.Undecided {
			t.Errorf("nothing, to %s, is %s", other, v)
		}
		if v := measure.Judge(span(other), nothing); v != measure.Undecided {
			t.Errorf("%s, to no tolerance, is %s", other, v)
		}
		if v := measure.SimpleAcceptance(notRead, span(other)); v != measure.Undecided {
			t.Errorf("what was not read, to %s by simple acceptance, is %s", other, v)
		}
		if v := measure.SimpleAcceptance(given(other), nothing); v != measure.Undecided {
			t.Errorf("%s, to no tolerance by simple acceptance, is %s", other, v)
		}
	}
	if v := measure.Judge(nothing, nothing); v != measure.Undecided {
		t.Errorf("nothing, to no tolerance, is %s", v)
	}
	// A tolerance that is said to have no limits is one.
	if v := measure.Judge(span("0.03 mm"), span("any length")); v != measure.Conforming {
		t.Errorf("0.03 mm, to any length, is %s", v)
	}
}

// Two readings that cannot both be right prove nothing, even to a tolerance without
// limits.
func TestDisagreementProvesNothing(t *testing.T) {
	f := clearance.BoreFit("bush", given("20.03 mm"), given("20.00 mm"))
	f.Direct = given("0.05..0.06 mm")
	for _, limits := range []string{"any length", "0..1 mm", ">= 0 mm"} {
		a := f.Assess(span(limits))
		if _, needed := a.Settling(measure.NineInTen); a.Verdict != measure.Undecided || needed {
			t.Errorf("to %s: %s, and something would settle it: %v", limits, a.Verdict, needed)
		}
	}
	torn := f.Best()
	if a := measure.Compare(torn, f.Direct); a.Known {
		t.Errorf("%+v", a)
	}
	if _, err := measure.NewStations([][]measure.LengthReading{{torn, f.Direct}}); !errors.Is(err, measure.ErrNotMeasured) {
		t.Errorf("stations: %v", err)
	}
	if slips := clearance.Slips(torn, span("0..1 mm"), units.Millimetre, nil); slips != nil {
		t.Errorf("slips: %v", slips)
	}
}

// A reading given with nothing in it was not taken, and a fit that needs it is not
// known, whichever size it is: proven by nothing, changed by nothing, wanted as
// nothing.
func TestAMissingSizeMakesTheFitUnknown(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		missing := rapid.IntRange(0, 3).Draw(t, "missing")
		sizes := [4]measure.LengthReading{given("60.01 mm"), given("2.001 mm"), given("2.002 mm"), given("55.97 mm")}
		sizes[missing] = measure.Given(units.LengthInterval{}, "left blank")
		limits := drawLimits(t, "limits", -50, 150)
		b := clearance.MeasuredBearing{HousingBore: sizes[0], UpperWall: sizes[1], LowerWall: sizes[2], Journal: sizes[3]}
		plain := clearance.Bearing{HousingBore: sizes[0].Interval(), UpperWall: sizes[1].Interval(), LowerWall: sizes[2].Interval(), Journal: sizes[3].Interval()}
		if c := plain.Clearance(); !c.IsEmpty() || measure.Judge(c, limits) != measure.Undecided || plain.Working(units.Millimetre).Text() == "" {
			t.Fatalf("the clearance is %s", c)
		}
		f := b.Fit()
		if !b.Clearance().IsEmpty() || f.Sum.Reading().Taken() || f.Assess(limits).Verdict != measure.Undecided {
			t.Fatalf("%s", b.Clearance())
		}
		a := f.Assess(limits)
		_, settling := a.Settling(measure.NineInTen)
		_, margin := a.Margin()
		_, outside := a.Outside()
		if settling || margin || outside || a.Working(units.Millimetre).Text() == "" {
			t.Fatalf("of nothing: settling %v, margin %v, outside %v", settling, margin, outside)
		}
		if _, ok, err := f.Wanted(limits, f.Sum.Terms[(missing+1)%4].Symbol); ok || err != nil && !errors.Is(err, measure.ErrEmpty) {
			t.Fatalf("wanted: %v, %v", ok, err)
		}
		another := clearance.Alternative{Term: f.Sum.Terms[(missing+1)%4].Symbol, Name: "another", Reading: given("2 mm")}
		if _, err := f.Remedies(limits, another); !errors.Is(err, measure.ErrNotMeasured) || !strings.Contains(err.Error(), f.Sum.Terms[missing].Name) {
			t.Fatalf("remedies: %v", err)
		}
	})
}

// What asks for a tolerance says that none was given.
func TestNoToleranceIsSaid(t *testing.T) {
	var none units.LengthInterval
	f := clearance.BoreFit("bush", given("20.03..20.04 mm"), given("20.00..20.01 mm"))
	_, _, wanted := f.Wanted(none, "d")
	_, remedies := f.Remedies(none)
	for name, err := range map[string]error{
		"wanted": wanted, "remedies": remedies,
	} {
		var e *units.Error
		if !errors.Is(err, measure.ErrEmpty) || !errors.As(err, &e) || e.Fix == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
	a := measure.Assess(f.Sum.Reading(), none)
	if _, settling := a.Settling(measure.NineInTen); settling || meets(a) || !strings.Contains(a.Working(units.Millimetre).Text(), "no limits were given") {
		t.Errorf("%s", a.Working(units.Millimetre).Text())
	}
	if offered := f.Remeasurements(none, measure.NineInTen, map[string][]measure.LengthInstrument{"D": {{Uncertainty: mm("0.001 mm")}}}); offered != nil {
		t.Errorf("remeasurements %v", offered)
	}
	if slips := clearance.Slips(given("3 mm"), none, units.Millimetre, nil, mm("0.5 mm")); slips != nil {
		t.Errorf("slips %v", slips)
	}
	if _, ok := clearance.File(given("0.3 mm"), none); ok {
		t.Error("a gap filed to no limits")
	}
}

// What asks for a size says that none was given.
func TestNoSizeIsSaid(t *testing.T) {
	var none units.LengthInterval
	var notRead measure.LengthReading
	rule := clearance.SizeRule{PerSize: units.MustParse[units.RatioInterval]("0.0040..0.0045")}
	_, limits := rule.Limits(notRead)
	_, working := rule.Working(notRead, units.Millimetre)
	steel := at("steel", "0.0000117", "80..90 °C")
	_, open := steel.Warmed(given(">= 50 mm"), units.Millimetre)
	_, opening := clearance.BoreFit("pin clearance", notRead, given("20 mm")).Opening(map[string]clearance.Body{"D": steel})
	flat := clearance.Compression{
		Bore: span("86 mm"), Stroke: span("80 mm"), Deck: span("0 mm"), GasketBore: span("88 mm"), GasketThickness: span("1 mm"),
		Chamber: units.MustParse[units.VolumeInterval]("40 cm³"), Dish: units.MustParse[units.VolumeInterval]("0 cm³"),
	}
	if _, err := flat.Ratio(); err != nil {
		t.Fatal(err)
	}
	ratio := func(c clearance.Compression) error { _, err := c.Ratio(); return err }
	noBore, noDeck, noDish, noChamber := flat, flat, flat, flat
	noBore.Bore, noDeck.Deck, noDish.Dish, noChamber.Chamber = none, none, units.VolumeInterval{}, units.VolumeInterval{}
	for name, err := range map[string]error{
		"size rule": limits, "its working": working, "a size without a bound, warmed": open, "opening": opening,
		"bore": ratio(noBore), "deck": ratio(noDeck), "dish": ratio(noDish), "chamber": ratio(noChamber),
	} {
		var e *units.Error
		if !errors.Is(err, measure.ErrNotMeasured) || !errors.As(err, &e) || e.Fix == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
	if swept, left, err := noBore.Volumes(); err == nil || !swept.IsEmpty() || !left.IsEmpty() {
		t.Errorf("volumes of nothing: %s, %s, %v", swept, left, err)
	}
	if r, err := steel.Warmed(notRead, units.Millimetre); err != nil || r.Taken() {
		t.Errorf("not read, warmed: %s, %v", r, err)
	}
	if _, ok := clearance.File(notRead, span("0.3..0.4 mm")); ok {
		t.Error("a gap filed that was not read")
	}
	crush := clearance.Crush{Upper: span("0.03 mm")}
	if !crush.Interference().IsEmpty() || !clearance.GapGrowth(none).IsEmpty() ||
		!(clearance.Bearing{UpperWall: none}).Undersized(mm("0.25 mm")).UpperWall.IsEmpty() {
		t.Error("something came out of nothing")
	}
}
