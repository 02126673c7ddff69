package grading_test

import (
	"errors"
	"maps"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/clearance"
	"example.com/closefit/grading"
	"example.com/closefit/units"
)

// steps are invented washers in steps of 0.05 mm a side.
func steps() grading.Washers {
	w := grading.Washers{Name: "thrust", Mix: grading.Neighbours, Limits: *size("0.10..0.20 mm"), Wanted: new(units.MustParseLength("0.14 mm"))}
	for _, s := range []struct{ step, thickness string }{{"standard", "2.490..2.500 mm"}, {"+0.05", "2.540..2.550 mm"}, {"+0.10", "2.590..2.600 mm"}} {
		for _, h := range []grading.Half{grading.Front, grading.Rear} {
			w.Sizes = append(w.Sizes, grading.Washer{Step: s.step, Half: h, Thickness: *size(s.thickness)})
		}
	}
	return w
}

// By hand: a room of 5.230..5.240 was measured. Two standard washers are
// 4.980..5.000 and leave 0.230..0.260; standard and +0.05 are 5.030..5.050 and leave
// 0.180..0.210; two of +0.05 are 5.080..5.100 and leave 0.130..0.160, 0.145 in the
// middle; +0.05 and +0.10 are 5.130..5.150 and leave 0.080..0.110. Only two of +0.05
// are proven inside.
func TestWashersFits(t *testing.T) {
	place := grading.ThrustRoom("main 3", *size("5.230..5.240 mm"))
	places, err := steps().Fits([]grading.Thrust{place})
	if err != nil {
		t.Fatal(err)
	}
	if got := fitsText(places[0].Fits); !slices.Equal(got, []string{"+0.05 front + +0.05 rear 0.13..0.16 mm"}) || places[0].Location != "main 3" {
		t.Errorf("%q", got)
	}
	// They are bought as shells are.
	plan, err := grading.Choose(t.Context(), places, grading.Order{Packs: []grading.Pack{
		pack(t, "standard pair", "8.00", "1 × standard front", "1 × standard rear"),
		pack(t, "+0.05 pair", "9.50", "1 × +0.05 front", "1 × +0.05 rear"),
	}})
	if err != nil || boughtText(plan.Purchase.Packs) != "1 × +0.05 pair" {
		t.Errorf("%v, %v", plan, err)
	}
	w, err := steps().Working(place, places[0].Fits[0].Pair, units.Millimetre, 3)
	if err != nil || w.Formula != "E' = R - tf' - tr'" ||
		!strings.Contains(w.Text(), "(5.230..5.240 mm) - (2.540..2.550 mm) - (2.540..2.550 mm)") || !strings.Contains(w.Text(), "0.130..0.160 mm") {
		t.Errorf("%s, %v", w.Text(), err)
	}
}

// A washer that stays is on both sides of the sum. By hand, with the washers above,
// an end play of 0.29..0.31 with the standard pair fitted, against 0.28..0.32:
//
//	both stay                  E' = E = 0.29..0.31: inside
//	+0.05 in front             E' = 0.29..0.31 + 2.490..2.500 - 2.540..2.550 = 0.23..0.27
//	+0.05 in front and behind  E' = 0.29..0.31 + 4.980..5.000 - 5.080..5.100 = 0.17..0.23
//
// and against 0.20..0.28, one exchange is inside, in front or behind, and two are not.
func TestWashersThatStay(t *testing.T) {
	w := steps()
	standard := func(h grading.Half) grading.Washer {
		return grading.Washer{Step: "standard", Half: h, Thickness: *size("2.490..2.500 mm")}
	}
	place := grading.ThrustPlay("main 3", *size("0.29..0.31 mm"), standard(grading.Front), standard(grading.Rear))
	w.Limits, w.Wanted = *size("0.28..0.32 mm"), nil
	places, err := w.Fits([]grading.Thrust{place})
	if err != nil || !slices.Equal(fitsText(places[0].Fits), []string{"standard front + standard rear 0.29..0.31 mm"}) {
		t.Errorf("%v, %v", places, err)
	}
	w.Limits = *size("0.20..0.28 mm")
	places, err = w.Fits([]grading.Thrust{place})
	if err != nil || !slices.Equal(fitsText(places[0].Fits), []string{"standard front + +0.05 rear 0.23..0.27 mm", "+0.05 front + standard rear 0.23..0.27 mm"}) {
		t.Errorf("%v, %v", places, err)
	}
	working, err := w.Working(place, places[0].Fits[0].Pair, units.Millimetre, 3)
	if err != nil || working.Formula != "E' = E + tr - tr'" || working.Numbers != "(0.290..0.310 mm) + (2.490..2.500 mm) - (2.540..2.550 mm)" || working.Result != "0.230..0.270 mm" {
		t.Errorf("%+v, %v", working, err)
	}

	// Halves that are one part may change places: of standard in front and +0.05
	// behind, both stay for that pair however it is named, and two standard ones need
	// one more in place of the +0.05: 0.23..0.27 + 2.540..2.550 - 2.490..2.500.
	w = grading.Washers{Name: "alike", Interchangeable: true, Mix: grading.Neighbours, Limits: *size("0.20..0.40 mm"), Sizes: []grading.Washer{
		{Step: "+0.05", Thickness: *size("2.540..2.550 mm")}, {Step: "standard", Thickness: *size("2.490..2.500 mm")}}}
	places, err = w.Fits([]grading.Thrust{grading.ThrustPlay("main 3", *size("0.23..0.27 mm"), w.Sizes[1], w.Sizes[0])})
	if err != nil || !slices.Equal(fitsText(places[0].Fits), []string{"standard + standard 0.27..0.33 mm", "+0.05 + standard 0.23..0.27 mm"}) {
		t.Errorf("%v, %v", places, err)
	}
}

// The pairs that are proven inside are those that the remedies of clearance prove,
// and the pair that is fitted: two ways to the same sum.
func TestWashersAgreeWithRemedies(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := steps()
		w.Mix, w.Wanted = grading.AnyGrades, nil
		hundredths := func(label string, least, most int64) units.Length {
			return units.Micrometre.OfInt(10 * rapid.Int64Range(least, most).Draw(t, label))
		}
		lo := hundredths("lowest", 5, 25)
		w.Limits = units.MustInterval(lo, lo.Add(hundredths("wide", 1, 12)))
		play := hundredths("play", 5, 40)
		endPlay := units.MustInterval(play, play.Add(hundredths("doubt", 0, 3)))
		front, rear := w.Sizes[2*rapid.IntRange(0, 2).Draw(t, "front")], w.Sizes[1+2*rapid.IntRange(0, 2).Draw(t, "rear")]

		given := func(a units.LengthInterval) clearance.LengthReading { return clearance.Given(a, "listed") }
		fit := clearance.MeasuredEndPlay(given(endPlay), given(front.Thickness), given(rear.Thickness))
		var others []clearance.Alternative
		for _, size := range w.Sizes {
			term, fitted := "t1", front
			if size.Half == grading.Rear {
				term, fitted = "t2", rear
			}
			if size.Step != fitted.Step {
				others = append(others, clearance.Alternative{Term: term, Name: size.Step, Reading: given(size.Thickness)})
			}
		}
		remedies, err := fit.Remedies(clearance.WorstCase, w.Limits, others...)
		if err != nil {
			t.Fatal(err)
		}
		want := map[string]string{}
		for _, r := range remedies {
			steps := []string{front.Step, rear.Step}
			for _, c := range r.Changes {
				steps[strings.Index("12", c.Term[1:])] = c.Name
			}
			want[strings.Join(steps, " and ")] = r.Result.Interval().String()
		}
		if endPlay.Within(w.Limits) {
			want[front.Step+" and "+rear.Step] = endPlay.String()
		}
		got := map[string]string{}
		places, err := w.Fits([]grading.Thrust{grading.ThrustPlay("main 3", endPlay, front, rear)})
		if err == nil {
			for _, f := range places[0].Fits {
				got[f.Pair.Upper.Grade+" and "+f.Pair.Lower.Grade] = f.Clearance.String()
			}
		} else if !errors.Is(err, grading.ErrNoFit) {
			t.Fatal(err)
		}
		if !maps.Equal(got, want) {
			t.Errorf("%v, and remedies %v", got, want)
		}
	})
}

// Different washers in front and behind fit only in their own place.
func TestWashersKeepTheirPlaces(t *testing.T) {
	w := steps()
	w.Sizes = []grading.Washer{
		{Step: "thin", Half: grading.Front, Thickness: *size("2.00 mm")},
		{Step: "thick", Half: grading.Rear, Thickness: *size("3.00 mm")},
	}
	w.Mix = grading.AnyGrades
	places, err := w.Fits([]grading.Thrust{grading.ThrustRoom("main 3", *size("5.15 mm"))})
	if err != nil || !slices.Equal(fitsText(places[0].Fits), []string{"thin front + thick rear 0.15 mm"}) {
		t.Errorf("%v, %v", places, err)
	}
}

func TestWashersErrors(t *testing.T) {
	_, err := steps().Fits([]grading.Thrust{grading.ThrustRoom("main 3", *size("6.00 mm"))})
	e, ok := errors.AsType[*grading.NoFitError](err)
	if !ok || e.Location != "main 3" || e.Nearest.Pair.Upper.Half != grading.Front {
		t.Errorf("%v", err)
	}
	w := steps()
	w.Sizes[2].Step, w.Sizes[3].Step = "standard", "standard"
	if _, err := w.Fits(nil); !errors.Is(err, grading.ErrTwoWalls) || !strings.Contains(err.Error(), "standard") {
		t.Errorf("two thicknesses: %v", err)
	}
	front, rear := steps().Sizes[0], steps().Sizes[1]
	thick, unsized := rear, rear
	thick.Step, unsized.Thickness = "+0.20", *size(">= 2 mm")
	for _, test := range []struct {
		name  string
		place grading.Thrust
		kind  error
		says  string
	}{
		{"nothing said", grading.Thrust{}, grading.ErrSize, "a room is above zero"},
		{"a room without an end", grading.ThrustRoom("main 3", *size(">= 5 mm")), grading.ErrSize, "have both bounds"},
		{"no room", grading.ThrustRoom("main 3", *size("0 mm")), grading.ErrSize, "a room is above zero"},
		{"an end play without an end", grading.ThrustPlay("main 3", *size(">= 0.1 mm"), front, rear), grading.ErrSize, "have both bounds"},
		{"washers exchanged", grading.ThrustPlay("main 3", *size("0.1 mm"), rear, front), grading.ErrHalf, "a rear washer fitted as the front one"},
		{"a washer that is not listed", grading.ThrustPlay("main 3", *size("0.1 mm"), front, thick), grading.ErrNoShell, `a rear washer "+0.20" is fitted, and not listed`},
		{"a washer without a thickness", grading.ThrustPlay("main 3", *size("0.1 mm"), front, unsized), grading.ErrSize, "the rear washer, standard, has a thickness of >= 2 mm"},
		{"no washer", grading.ThrustPlay("main 3", *size("0.1 mm"), front, grading.Washer{Thickness: *size("2 mm")}), grading.ErrNoShell, "list it, or give the room"},
	} {
		if got, err := steps().Fits([]grading.Thrust{test.place}); got != nil || !errors.Is(err, test.kind) || !strings.Contains(err.Error(), test.says) {
			t.Errorf("%s: %v, %v; want %q", test.name, got, err, test.says)
		}
	}
	none := steps()
	none.Limits, none.Wanted = units.LengthInterval{}, nil
	if got, err := none.Fits([]grading.Thrust{grading.ThrustRoom("main 3", *size("5.15 mm"))}); got != nil || !errors.Is(err, grading.ErrNoLimits) {
		t.Errorf("no limits: %v, %v", got, err)
	}
}
