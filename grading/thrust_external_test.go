package grading_test

import (
	"errors"
	"maps"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/grading"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// steps are invented washers in steps of 0.05 mm a side.
func steps() *grading.Scheme {
	w := &grading.Scheme{Name: "thrust", Mix: 1, Limits: size("0.10..0.20 mm"), Wanted: new(units.MustParseLength("0.14 mm"))}
	for _, s := range []struct{ step, thickness string }{{"standard", "2.490..2.500 mm"}, {"+0.05", "2.540..2.550 mm"}, {"+0.10", "2.590..2.600 mm"}} {
		for _, h := range []grading.Half{grading.Front, grading.Rear} {
			w.Shells = append(w.Shells, grading.Shell{Grade: s.step, Half: h, Wall: size(s.thickness)})
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
	site := grading.Site{Location: "main 3", Room: size("5.230..5.240 mm")}
	places, err := steps().Fits([]grading.Site{site})
	if err != nil {
		t.Fatal(err)
	}
	if got := fitsText(places[0]); !slices.Equal(got, []string{"+0.05 front + +0.05 rear 0.13..0.16 mm"}) || places[0][0].Location != "main 3" {
		t.Errorf("%q", got)
	}
	// They are bought as shells are.
	plan, err := choose(t.Context(), places, order{Packs: []box{
		pack(t, "standard pair", "8.00", "1 × standard front", "1 × standard rear"),
		pack(t, "+0.05 pair", "9.50", "1 × +0.05 front", "1 × +0.05 rear"),
	}})
	if err != nil || boughtText(plan.Purchase.Packs) != "1 × +0.05 pair" {
		t.Errorf("%v, %v", plan, err)
	}
	w, err := steps().Working(site, places[0][0].Pair, units.Millimetre)
	if err != nil || w.Formula != "E' = R - tf' - tr'" ||
		!strings.Contains(w.Text(), "5.23 - 2.55 - 2.55\n") || !strings.Contains(w.Text(), "5.24 - 2.54 - 2.54\n") || w.Result != "0.13..0.16 mm" {
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
	standard := func(h grading.Half) grading.Shell {
		return grading.Shell{Grade: "standard", Half: h, Wall: size("2.490..2.500 mm")}
	}
	site := grading.Site{Location: "main 3", EndPlay: size("0.29..0.31 mm"), Fitted: []grading.Shell{standard(grading.Front), standard(grading.Rear)}}
	w.Limits, w.Wanted = size("0.28..0.32 mm"), nil
	places, err := w.Fits([]grading.Site{site})
	if err != nil || !slices.Equal(fitsText(places[0]), []string{"standard front + standard rear 0.29..0.31 mm"}) {
		t.Errorf("%v, %v", places, err)
	}
	w.Limits = size("0.20..0.28 mm")
	places, err = w.Fits([]grading.Site{site})
	if err != nil || !slices.Equal(fitsText(places[0]), []string{"standard front + +0.05 rear 0.23..0.27 mm", "+0.05 front + standard rear 0.23..0.27 mm"}) {
		t.Errorf("%v, %v", places, err)
	}
	working, err := w.Working(site, places[0][0].Pair, units.Millimetre)
	if err != nil || working.Formula != "E' = E + tr - tr'" || working.Result != "0.23..0.27 mm" ||
		!strings.Contains(working.Text(), "0.29 + 2.49 - 2.55\n") || !strings.Contains(working.Text(), "0.31 + 2.5 - 2.54\n") {
		t.Errorf("%s, %v", working.Text(), err)
	}

	// Halves that are one part may change places: of standard in front and +0.05
	// behind, both stay for that pair however it is named, and two standard ones need
	// one more in place of the +0.05: 0.23..0.27 + 2.540..2.550 - 2.490..2.500.
	w = &grading.Scheme{Name: "alike", Interchangeable: true, Mix: 1, Limits: size("0.20..0.40 mm"), Shells: []grading.Shell{
		{Grade: "+0.05", Wall: size("2.540..2.550 mm")}, {Grade: "standard", Wall: size("2.490..2.500 mm")}}}
	places, err = w.Fits([]grading.Site{{Location: "main 3", EndPlay: size("0.23..0.27 mm"), Fitted: []grading.Shell{w.Shells[1], w.Shells[0]}}})
	if err != nil || !slices.Equal(fitsText(places[0]), []string{"standard + standard 0.27..0.33 mm", "+0.05 + standard 0.23..0.27 mm"}) {
		t.Errorf("%v, %v", places, err)
	}
}

// The pairs that are proven inside are those that a sum of readings proves, in which
// a washer that stays does not stand.
func TestWashersAgreeWithSums(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := steps()
		w.Mix, w.Wanted = 99, nil
		hundredths := func(label string, least, most int64) units.Length {
			return units.Micrometre.OfInt(10 * rapid.Int64Range(least, most).Draw(t, label))
		}
		lo := hundredths("lowest", 5, 25)
		w.Limits = units.MustInterval(lo, lo.Add(hundredths("wide", 1, 12)))
		play := hundredths("play", 5, 40)
		endPlay := units.MustInterval(play, play.Add(hundredths("doubt", 0, 3)))
		front, rear := w.Shells[2*rapid.IntRange(0, 2).Draw(t, "front")], w.Shells[1+2*rapid.IntRange(0, 2).Draw(t, "rear")]

		want := map[string]string{}
		for i := range 3 {
			for k := range 3 {
				sum := measure.Sum[units.LengthDim]{Name: "end play", Symbol: "E'", Terms: []measure.Term[units.LengthDim]{
					measure.Plus("E", "end play", measure.Given(endPlay, "measured"))}}
				newFront, newRear := w.Shells[2*i], w.Shells[1+2*k]
				for _, exchanged := range [][2]grading.Shell{{front, newFront}, {rear, newRear}} {
					if exchanged[0].Grade != exchanged[1].Grade {
						sum.Terms = append(sum.Terms, measure.Plus("t", "out", measure.Given(exchanged[0].Wall, "listed")),
							measure.Minus("t'", "in", measure.Given(exchanged[1].Wall, "listed")))
					}
				}
				if e := sum.Interval(); measure.Judge(e, w.Limits) == measure.Conforming {
					want[newFront.Grade+" and "+newRear.Grade] = e.String()
				}
			}
		}
		got := map[string]string{}
		places, err := w.Fits([]grading.Site{{Location: "main 3", EndPlay: endPlay, Fitted: []grading.Shell{front, rear}}})
		if err == nil {
			for _, f := range places[0] {
				got[f.Pair.Upper.Grade+" and "+f.Pair.Lower.Grade] = f.Clearance.String()
			}
		} else if !errors.Is(err, grading.ErrNoFit) {
			t.Fatal(err)
		}
		if !maps.Equal(got, want) {
			t.Errorf("%v, and sums %v", got, want)
		}
	})
}

// Different washers in front and behind fit only in their own place.
func TestWashersKeepTheirPlaces(t *testing.T) {
	w := steps()
	w.Shells = []grading.Shell{
		{Grade: "thin", Half: grading.Front, Wall: size("2.00 mm")},
		{Grade: "thick", Half: grading.Rear, Wall: size("3.00 mm")},
	}
	w.Mix = 99
	places, err := w.Fits([]grading.Site{{Location: "main 3", Room: size("5.15 mm")}})
	if err != nil || !slices.Equal(fitsText(places[0]), []string{"thin front + thick rear 0.15 mm"}) {
		t.Errorf("%v, %v", places, err)
	}
}

func TestWashersErrors(t *testing.T) {
	_, err := steps().Fits([]grading.Site{{Location: "main 3", Room: size("6.00 mm")}})
	e, ok := errors.AsType[*units.Error](err)
	if !ok || e.Where != "main 3" || !errors.Is(err, grading.ErrNoFit) || !strings.Contains(e.Found, " front + ") {
		t.Errorf("%v", err)
	}
	w := steps()
	w.Shells[2].Grade, w.Shells[3].Grade = "standard", "standard"
	if _, err := w.Fits(nil); !errors.Is(err, grading.ErrScheme) || !strings.Contains(err.Error(), "standard") {
		t.Errorf("two thicknesses: %v", err)
	}
	front, rear := steps().Shells[0], steps().Shells[1]
	thick, unsized := rear, rear
	thick.Grade, unsized.Wall = "+0.20", size(">= 2 mm")
	for _, test := range []struct {
		name  string
		place grading.Site
		kind  error
		says  string
	}{
		{"nothing said", grading.Site{Location: "main 3"}, grading.ErrScheme, "main 3"},
		{"a bearing too", grading.Site{Location: "main 3", Room: size("5 mm"), Journal: size("60 mm")}, grading.ErrScheme, "give two sites"},
		{"a room without an end", grading.Site{Location: "main 3", Room: size(">= 5 mm")}, grading.ErrScheme, "have both bounds"},
		{"no room", grading.Site{Location: "main 3", Room: size("0 mm")}, grading.ErrScheme, "a room is above zero"},
		{"both", grading.Site{Location: "main 3", Room: size("5 mm"), EndPlay: size("0.1 mm"), Fitted: []grading.Shell{front, rear}}, grading.ErrScheme, "give a room or an end play"},
		{"one washer", grading.Site{Location: "main 3", EndPlay: size("0.1 mm"), Fitted: []grading.Shell{front}}, grading.ErrScheme, "1 washers fitted"},
		{"a room with washers", grading.Site{Location: "main 3", Room: size("5 mm"), Fitted: []grading.Shell{front, rear}}, grading.ErrScheme, "none with a room"},
		{"an end play without an end", grading.Site{Location: "main 3", EndPlay: size(">= 0.1 mm"), Fitted: []grading.Shell{front, rear}}, grading.ErrScheme, "have both bounds"},
		{"washers exchanged", grading.Site{Location: "main 3", EndPlay: size("0.1 mm"), Fitted: []grading.Shell{rear, front}}, grading.ErrScheme, "a rear washer fitted as the front one"},
		{"a washer that is not listed", grading.Site{Location: "main 3", EndPlay: size("0.1 mm"), Fitted: []grading.Shell{front, thick}}, grading.ErrScheme, `a rear washer "+0.20" is fitted, and not listed`},
		{"a washer without a thickness", grading.Site{Location: "main 3", EndPlay: size("0.1 mm"), Fitted: []grading.Shell{front, unsized}}, grading.ErrScheme, "the rear washer, standard, has a thickness of >= 2 mm"},
		{"no washer", grading.Site{Location: "main 3", EndPlay: size("0.1 mm"), Fitted: []grading.Shell{front, grading.Shell{Wall: size("2 mm")}}}, grading.ErrScheme, "list it, or give the room"},
	} {
		if got, err := steps().Fits([]grading.Site{test.place}); got != nil || !errors.Is(err, test.kind) || !strings.Contains(err.Error(), test.says) {
			t.Errorf("%s: %v, %v; want %q", test.name, got, err, test.says)
		}
	}
	none := steps()
	none.Limits, none.Wanted = units.LengthInterval{}, nil
	if got, err := none.Fits([]grading.Site{{Location: "main 3", Room: size("5.15 mm")}}); got != nil || !errors.Is(err, grading.ErrScheme) {
		t.Errorf("no limits: %v, %v", got, err)
	}
}

// Shells do not go where washers do, nor washers into a bearing; and codes of shells are
// not compared with an end play.
func TestPartsKeepToTheirSites(t *testing.T) {
	room := grading.Site{Location: "main 3", Room: size("5.230..5.240 mm")}
	bearing := grading.Site{Location: "main 3", Housing: size("64.006 mm"), Journal: size("59.974 mm")}
	pair := func(first, second grading.Half) grading.Pair {
		return grading.Pair{Upper: grading.Part{Grade: "red", Half: first}, Lower: grading.Part{Grade: "red", Half: second}}
	}
	for _, test := range []struct {
		name string
		site grading.Site
		pair grading.Pair
		says string
	}{
		{"shells for washers", room, pair(grading.Upper, grading.Lower), "give a pair of front and rear"},
		{"washers for shells", bearing, pair(grading.Front, grading.Rear), "give a pair of upper and lower"},
		{"one of each", bearing, pair(grading.Upper, grading.Rear), "give a pair of upper and lower"},
	} {
		if w, err := stepped().Working(test.site, test.pair, units.Millimetre); !errors.Is(err, grading.ErrScheme) || !strings.Contains(err.Error(), test.says) {
			t.Errorf("%s: %v, %v", test.name, w, err)
		}
	}
	if w, err := stepped().Working(bearing, pair(grading.Upper, grading.Lower), units.Millimetre); err != nil {
		t.Errorf("%v, %v", w, err)
	}
	s := stepped()
	one := []string{"main 3"}
	block, crank := read(t, s, grading.Row{Text: "A", Side: grading.Housing, Locations: one}), read(t, s, grading.Row{Text: "1", Side: grading.Journal, Locations: one})
	if got, err := s.Compare(block, crank, []grading.Site{room}); got != nil || !errors.Is(err, grading.ErrScheme) || !strings.Contains(err.Error(), "give its bore and its journal") {
		t.Errorf("%v, %v", got, err)
	}
}
