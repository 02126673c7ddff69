package grading_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

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

// By hand: 0.245 ±0.005 of end play with two washers of 2.495 leaves a room of
// 5.230..5.240. Two standard washers are 4.980..5.000 and leave 0.230..0.260;
// standard and +0.05 are 5.030..5.050 and leave 0.180..0.210; two of +0.05 are
// 5.080..5.100 and leave 0.130..0.160, 0.145 in the middle; +0.05 and +0.10 are
// 5.130..5.150 and leave 0.080..0.110. Only two of +0.05 are proven inside.
func TestWashersFits(t *testing.T) {
	room := grading.Room(*size("0.245 ±0.005 mm"), *size("2.495 mm"), *size("2.495 mm"))
	if room.String() != "5.23..5.24 mm" {
		t.Errorf("room %s", room)
	}
	places, err := steps().Fits([]grading.Thrust{{Location: "main 3", Room: room}})
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
	w, err := steps().Working(grading.Thrust{Location: "main 3", Room: room}, places[0].Fits[0].Pair, units.Millimetre, 3)
	if err != nil || !strings.Contains(w.Text(), "(5.230..5.240 mm) - (2.540..2.550 mm) - (2.540..2.550 mm)") || !strings.Contains(w.Text(), "0.130..0.160 mm") {
		t.Errorf("%s, %v", w.Text(), err)
	}
}

func TestRoom(t *testing.T) {
	room := grading.Room(*size("0.10..0.11 mm"), *size("2.00..2.01 mm"), *size("3.00..3.02 mm"))
	if room.String() != "5.1..5.14 mm" {
		t.Errorf("room %s", room)
	}
}

// Different washers in front and behind fit only in their own place.
func TestWashersKeepTheirPlaces(t *testing.T) {
	w := steps()
	w.Sizes = []grading.Washer{
		{Step: "thin", Half: grading.Front, Thickness: *size("2.00 mm")},
		{Step: "thick", Half: grading.Rear, Thickness: *size("3.00 mm")},
	}
	w.Mix = grading.AnyGrades
	places, err := w.Fits([]grading.Thrust{{Location: "main 3", Room: *size("5.15 mm")}})
	if err != nil || !slices.Equal(fitsText(places[0].Fits), []string{"thin front + thick rear 0.15 mm"}) {
		t.Errorf("%v, %v", places, err)
	}
}

func TestWashersErrors(t *testing.T) {
	_, err := steps().Fits([]grading.Thrust{{Location: "main 3", Room: *size("6.00 mm")}})
	e, ok := errors.AsType[*grading.NoFitError](err)
	if !ok || e.Location != "main 3" || e.Nearest.Pair.Upper.Half != grading.Front {
		t.Errorf("%v", err)
	}
	w := steps()
	w.Sizes[2].Step, w.Sizes[3].Step = "standard", "standard"
	if _, err := w.Fits(nil); !errors.Is(err, grading.ErrTwoWalls) || !strings.Contains(err.Error(), "standard") {
		t.Errorf("two thicknesses: %v", err)
	}
	if _, err := steps().Fits([]grading.Thrust{{Location: "main 3", Room: *size(">= 5 mm")}}); !errors.Is(err, grading.ErrSize) {
		t.Errorf("a room without an end: %v", err)
	}
}
