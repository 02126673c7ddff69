package clearance_test

import (
	"cmp"
	"errors"
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// written is a remedy in a line.
func written(r clearance.Remedy) string {
	names := make([]string, len(r.Changes))
	for i, c := range r.Changes {
		names[i] = c.Name
	}
	return fmt.Sprintf("%s: %s, at least %s inside", strings.Join(names, " and "), r.Result.Interval(), r.Margin)
}

func shells(term string) []clearance.Alternative {
	shell := func(name, wall, series string) clearance.Alternative {
		return clearance.Alternative{Term: term, Name: name + " for " + term, Reading: given(wall), Series: series}
	}
	return []clearance.Alternative{
		shell("thin", "1.998..2.000 mm", "standard"), shell("thick", "2.006..2.008 mm", "standard"),
		shell("undersize", "2.123..2.125 mm", "0.25"),
	}
}

func tightBearing(t testing.TB) clearance.Fit {
	t.Helper()
	b := clearance.MeasuredBearing{
		HousingBore: read(t, "bore gauge", "52.012 mm", "0.003 mm"),
		UpperWall:   given("2.003..2.005 mm"), LowerWall: given("2.003..2.005 mm"),
		Journal: read(t, "micrometer", "47.984 mm", "0.004 mm"),
	}
	f := b.Fit() // 0.018..0.022 ± 0.005 = 0.013..0.027 mm
	f.Series = map[string]string{"t1": "standard", "t2": "standard", "d": "standard"}
	return f
}

func TestRemediesOfABearing(t *testing.T) {
	f := tightBearing(t)
	limits := span("0.018..0.040 mm")
	alternatives := append(shells("t1"), shells("t2")...)
	grind := clearance.Alternative{Term: "d", Name: "grind to 0.25", Reading: given("47.726..47.738 mm"), Series: "0.25", Effort: clearance.Grinding}
	remedies, err := f.Remedies(limits, append(alternatives, grind)...)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, r := range remedies {
		got = append(got, written(r))
	}
	// One thin shell: 52.012 - 2.005 - 2.000 - 47.984 = 0.023, 52.012 - 2.003 - 1.998 -
	// 47.984 = 0.027, ± 0.005: 0.018..0.032. Two: 0.028..0.032 ± 0.005: 0.023..0.037.
	// Ground, with two undersize shells: 52.012 - 4.250 - 47.738 = 0.024, 52.012 -
	// 4.246 - 47.726 = 0.040, ± 0.003: 0.021..0.043, which is not inside.
	want := []string{
		"thin for t1: 0.018..0.032 mm, at least 0 mm inside",
		"thin for t2: 0.018..0.032 mm, at least 0 mm inside",
		"thin for t1 and thin for t2: 0.023..0.037 mm, at least 0.003 mm inside",
	}
	if fmt.Sprintf("%q", got) != fmt.Sprintf("%q", want) {
		t.Errorf("remedies\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}

	// With wider limits, grinding comes last, and never with standard shells.
	remedies, err = f.Remedies(span("0.020..0.045 mm"), append(alternatives, grind)...)
	if err != nil || len(remedies) != 2 {
		t.Fatalf("%v, %v", remedies, err)
	}
	if last := remedies[1]; len(last.Changes) != 3 || last.Changes[2].Effort != clearance.Grinding || last.Changes[0].Series != "0.25" {
		t.Errorf("last remedy: %s", written(last))
	}
	if remedies[0].Changes[0].Effort != clearance.Exchange {
		t.Errorf("first remedy: %s", written(remedies[0]))
	}

	none, err := f.Remedies(span("0.100..0.110 mm"), alternatives...)
	if err != nil || len(none) != 0 {
		t.Errorf("%v, %v", none, err)
	}
}

// Two parts from the shelf come before one bore honed, and less work before more.
func TestSmallestInterventionFirst(t *testing.T) {
	f := clearance.Fit{Sum: measure.Sum[units.LengthDim]{Name: "fit", Symbol: "C", Terms: []measure.Term[units.LengthDim]{
		{Symbol: "D", Factor: plus, Reading: given("10.00 mm")}, {Symbol: "a", Factor: minus, Reading: given("4.98 mm")}, {Symbol: "b", Factor: minus, Reading: given("4.98 mm")},
	}}}
	another := func(term, size string, effort clearance.Effort) clearance.Alternative {
		return clearance.Alternative{Term: term, Name: effort.String() + " " + term, Reading: given(size), Effort: effort}
	}
	remedies, err := f.Remedies(span("0.08..0.12 mm"),
		another("D", "10.06 mm", clearance.Boring), another("D", "10.05 mm", clearance.Honing),
		another("a", "4.95 mm", clearance.Exchange), another("b", "4.95 mm", clearance.Exchange), another("b", "4.93 mm", clearance.HandWork))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, r := range remedies {
		got = append(got, written(r))
	}
	want := []string{
		"exchange a and exchange b: 0.1 mm, at least 0.02 mm inside",
		"hand work b: 0.09 mm, at least 0.01 mm inside",
		"exchange a and hand work b: 0.12 mm, at least 0 mm inside",
		"honing D: 0.09 mm, at least 0.01 mm inside",
		"honing D and exchange a: 0.12 mm, at least 0 mm inside",
		"honing D and exchange b: 0.12 mm, at least 0 mm inside",
		"boring D: 0.1 mm, at least 0.02 mm inside",
	}
	if fmt.Sprintf("%q", got) != fmt.Sprintf("%q", want) {
		t.Errorf("remedies\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// By strip, the clearance changes by the difference of the walls; the bore need not
// be known.
func TestRemediesByStrip(t *testing.T) {
	f := tightBearing(t)
	f.Sum.Terms[0].Reading = measure.LengthReading{}
	f.Direct = reading[units.LengthDim](t)(newStrip(t).Read("", span("0.025..0.038 mm")))
	remedies, err := f.Remedies(span("0.028..0.048 mm"), shells("t1")...)
	if err != nil || len(remedies) != 1 {
		t.Fatalf("%v, %v", remedies, err)
	}
	// 0.025 + 2.003 - 2.000 = 0.028, 0.038 + 2.005 - 1.998 = 0.045.
	if got := remedies[0].Result.Interval(); !got.Equal(span("0.028..0.045 mm")) {
		t.Errorf("after the thin shell %s", got)
	}
	f.Sum.Terms[1].Reading = measure.LengthReading{}
	if _, err = f.Remedies(span("0.028..0.048 mm"), shells("t1")...); !errors.Is(err, measure.ErrNotMeasured) || !strings.Contains(err.Error(), "upper wall") {
		t.Errorf("with a wall that is not known: %v", err)
	}
	if _, err := f.With(shells("t1")[0]); !errors.Is(err, measure.ErrNotMeasured) {
		t.Errorf("with a wall that is not known: %v", err)
	}
}

// Of two readings that agree the closer one counts, as it does in the assessment.
func TestRemediesByTheCloserReading(t *testing.T) {
	f := tightBearing(t)
	f.Direct = reading[units.LengthDim](t)(newStrip(t).Read("", span("0.025..0.038 mm")))
	// By the parts, with the thin shell: 0.023..0.027 ± 0.005; by strip, 0.028..0.045.
	remedies, err := f.Remedies(span("0.016..0.040 mm"), shells("t1")...)
	if err != nil || len(remedies) != 1 || !remedies[0].Result.Interval().Equal(span("0.018..0.032 mm")) {
		t.Errorf("%v, %v", remedies, err)
	}
}

func TestBadRemedies(t *testing.T) {
	f := tightBearing(t)
	if none, err := clearance.DirectFit("gap", given("0.2 mm")).Remedies(span("0.3..0.4 mm")); err != nil || len(none) != 0 {
		t.Errorf("a gap of no parts: %v, %v", none, err)
	}
	torn := f
	torn.Direct = given("0.051..0.076 mm")
	if _, err := torn.Remedies(span("0..1 mm"), shells("t1")...); !errors.Is(err, measure.ErrContradiction) ||
		!strings.Contains(err.Error(), "0.051..0.076 mm measured directly, 0.013..0.027 mm by its parts; measure both again") {
		t.Errorf("strip and parts disagree: %v", err)
	}
	if _, err := f.Remedies(span("0..1 mm"), clearance.Alternative{Term: "t3"}); !errors.Is(err, measure.ErrNotInSet) ||
		!strings.Contains(err.Error(), "D, t1, t2, d") {
		t.Errorf("no such term: %v", err)
	}
	if _, err := f.With(clearance.Alternative{Term: "t3"}); !errors.Is(err, measure.ErrNotInSet) {
		t.Errorf("no such term: %v", err)
	}
	var many []clearance.Alternative
	for range 100 {
		for _, term := range []string{"D", "t1", "t2", "d"} {
			many = append(many, clearance.Alternative{Term: term, Reading: given("1 mm")})
		}
	}
	if _, err := f.Remedies(span("0..1 mm"), many...); !errors.Is(err, clearance.ErrTooMany) {
		t.Errorf("too many: %v", err)
	}
}

// Every remedy, applied, is proven inside, by the margin it states; the efforts
// never fall; and no set of changes that is left out would have been inside.
func TestRemediesAppliedAreProvenInside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := clearance.Fit{Sum: measure.Sum[units.LengthDim]{Name: "fit", Terms: []measure.Term[units.LengthDim]{
			{Symbol: "D", Factor: plus, Reading: measure.Given(drawInterval(t, "D", 100, 120), "")},
			{Symbol: "t", Factor: minus, Reading: measure.Given(drawInterval(t, "t", 20, 30), "")},
			{Symbol: "d", Factor: minus, Reading: measure.Given(drawInterval(t, "d", 50, 60), "")},
		}}, Series: map[string]string{"t": "0", "d": "0"}}
		if rapid.Bool().Draw(t, "direct") {
			f.Direct = measure.Given(drawInterval(t, "direct", 10, 50), "")
		}
		limits := drawInterval(t, "limits", 0, 60)
		f.Sum.AtWorst = rapid.Bool().Draw(t, "at worst")
		var alternatives []clearance.Alternative
		for _, term := range []string{"t", "d"} {
			for range rapid.IntRange(0, 3).Draw(t, "alternatives") {
				alternatives = append(alternatives, clearance.Alternative{
					Term: term, Name: "another", Reading: measure.Given(drawInterval(t, "size", 15, 60), ""),
					Series: rapid.SampledFrom([]string{"", "0", "1"}).Draw(t, "series"),
					Effort: rapid.SampledFrom([]clearance.Effort{clearance.Exchange, clearance.Honing, clearance.Grinding}).Draw(t, "effort"),
				})
			}
		}
		remedies, err := f.Remedies(limits, alternatives...)
		if a := f.Agreement(); a.Known && !a.Agree {
			if !errors.Is(err, measure.ErrContradiction) {
				t.Fatalf("%s measured directly, %s by its parts: %v", f.Direct, f.Sum.Reading(), err)
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		last := clearance.Exchange
		for _, r := range remedies {
			after, err := f.With(r.Changes...)
			if err != nil {
				t.Fatal(err)
			}
			a := after.Assess(limits)
			if margin, ok := a.Margin(); !ok || !margin.Equal(r.Margin) || !a.Reading.Interval().Equal(r.Result.Interval()) {
				t.Fatalf("%s, applied, is %s", written(r), a.Verdict)
			}
			most, series := clearance.Exchange, ""
			for _, c := range r.Changes {
				most = max(most, c.Effort)
			}
			for _, s := range after.Series {
				if s != "" && series != "" && s != series {
					t.Fatalf("series %s and %s together", series, s)
				}
				series = cmp.Or(series, s)
			}
			if most < last {
				t.Fatal("a smaller intervention comes after a larger one")
			}
			last = most
		}
		for _, a := range alternatives { // the sets of one change, one by one
			after, err := f.With(a)
			if err != nil {
				t.Fatal(err)
			}
			mixed := a.Series != "" && a.Series != "0"
			if mixed || after.Assess(limits).Verdict != measure.Conforming {
				continue
			}
			found := false
			for _, r := range remedies {
				found = found || len(r.Changes) == 1 && r.Changes[0].Reading.Interval().Equal(a.Reading.Interval())
			}
			if !found {
				t.Fatalf("%s would do, and is not among the remedies", a.Reading)
			}
		}
	})
}

func TestWanted(t *testing.T) {
	f := tightBearing(t)
	// 52.012 - 2.005 - 47.984 = 0.023 and 0.025 without the upper wall, ± 0.005:
	// 2.018..2.030 less t1 inside 0.018..0.040: t1 from 1.990 to 2.000.
	got, ok, err := f.Wanted(span("0.018..0.040 mm"), "t1")
	if err != nil || !ok || !got.Equal(span("1.990..2.000 mm")) {
		t.Errorf("upper wall %s, %t, %v", got, ok, err)
	}
	// With a strip beside it, the closer of the two counts; torn, neither does.
	both := f
	both.Direct = given("0.020..0.051 mm")
	if got, ok, err = both.Wanted(span("0.018..0.040 mm"), "t1"); err != nil || !ok || !got.Equal(span("1.990..2.000 mm")) {
		t.Errorf("upper wall, with a strip, %s, %t, %v", got, ok, err)
	}
	both.Direct = given("0.076..0.107 mm")
	if got, ok, err = both.Wanted(span("0.018..0.040 mm"), "t1"); err != nil || ok {
		t.Errorf("upper wall, with a strip that disagrees, %s, %t, %v", got, ok, err)
	}
	// Both walls together: 4.023..4.033 less T: T from 3.993 to 4.005.
	if got, ok, err = f.Wanted(span("0.018..0.040 mm"), "t1", "t2"); err != nil || !ok || !got.Equal(span("3.993..4.005 mm")) {
		t.Errorf("both walls %s, %t, %v", got, ok, err)
	}
	// The bore counts with a plus: D - 51.990 - 0.004 .. D - 51.990 + 0.004 + ...
	worst := f
	worst.Sum.AtWorst = true
	if got, ok, err = worst.Wanted(span(">= 0.018 mm"), "D"); err != nil || !ok || !got.Equal(span(">= 52.016 mm")) {
		t.Errorf("bore %s, %t, %v", got, ok, err)
	}
	if _, ok, err = f.Wanted(span("0.018..0.020 mm"), "t1"); ok || err != nil {
		t.Errorf("with limits narrower than the rest is known: %t, %v", ok, err)
	}
	if _, _, err = f.Wanted(span("0..1 mm"), "t3"); !errors.Is(err, measure.ErrNotInSet) {
		t.Errorf("no such term: %v", err)
	}
	if _, _, err = f.Wanted(span("0..1 mm")); !errors.Is(err, measure.ErrEmpty) {
		t.Errorf("no term: %v", err)
	}
	if _, _, err = f.Wanted(span("0..1 mm"), "D", "d"); !errors.Is(err, measure.ErrOrder) {
		t.Errorf("terms of two signs: %v", err)
	}
	play := clearance.PlayFit("end play", measure.LengthReading{}, given("2.40 mm"))
	play.Direct = given(">= 0.30 mm")
	if _, ok, _ := play.Wanted(span("0.10..0.20 mm"), "w1"); ok {
		t.Error("an end play without an upper bound wants a washer")
	}
	// At least 0.30 + 2.40 - t >= 0.10.
	if got, ok, err = play.Wanted(span(">= 0.10 mm"), "w1"); err != nil || !ok || !got.Equal(span("<= 2.60 mm")) {
		t.Errorf("washer %s, %t, %v", got, ok, err)
	}
}

// A size among those wanted brings the fit inside, and one beyond them does not.
func TestWantedIsWhatBringsItInside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		play := measure.Given(drawInterval(t, "play", 100, 400), "")
		fitted := units.Exactly(drawLength(t, "fitted", 2000, 2100)) // one known exactly stays exact
		f := clearance.PlayFit("end play", measure.LengthReading{}, measure.Given(fitted, ""))
		f.Direct = play
		limits := drawInterval(t, "limits", 100, 300)
		wanted, ok, err := f.Wanted(limits, "w1")
		if err != nil {
			t.Fatal(err)
		}
		try := drawLength(t, "try", 1900, 2500)
		if ok && rapid.Bool().Draw(t, "inside") {
			try = drawIn(t, "wanted", wanted)
		}
		after, err := f.With(clearance.Alternative{Term: "w1", Reading: measure.Given(units.Exactly(try), "")})
		if err != nil {
			t.Fatal(err)
		}
		inside := measure.Judge(after.Best().Interval(), limits) == measure.Conforming
		if inside != (ok && wanted.Contains(try)) {
			t.Fatalf("a washer of %s, wanted %s (%t): inside is %t", try, wanted, ok, inside)
		}
	})
}
