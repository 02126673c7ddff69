package grading_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/clearance"
	"example.com/closefit/grading"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// stepped is an invented scheme with sizes, walls and limits. Codes A and B are
// bores of 64.000..64.006 and 64.006..64.012, codes 1 and 2 journals of
// 59.970..59.976 and 59.964..59.970; shells grow in steps of 0.004.
func stepped() *grading.Scheme {
	s := &grading.Scheme{
		Name: "stepped", Mix: 1,
		Housing: []grading.Code{{Code: "A", Shell: "red", Size: size("64.000..64.006 mm")}, {Code: "B", Shell: "blue", Size: size("64.006..64.012 mm")}},
		Journal: []grading.Code{{Code: "1", Shell: "red", Size: size("59.970..59.976 mm")}, {Code: "2", Shell: "blue", Size: size("59.964..59.970 mm")}},
		Limits:  size("0.020..0.044 mm"), Wanted: new(units.MustParseLength("0.030 mm")),
	}
	for _, sh := range []struct{ grade, wall string }{{"red", "1.997..1.999 mm"}, {"blue", "2.001..2.003 mm"}, {"green", "2.005..2.007 mm"}} {
		for _, h := range []grading.Half{grading.Upper, grading.Lower} {
			s.Shells = append(s.Shells, grading.Shell{Grade: sh.grade, Half: h, Wall: size(sh.wall)})
		}
	}
	return s
}

func fitsText(fits []grading.PairFit) []string {
	texts := make([]string, len(fits))
	for i, f := range fits {
		texts[i] = f.Pair.String() + " " + f.Clearance.String()
	}
	return texts
}

// By hand: bore 64.005..64.007, journal 59.973..59.975, so two walls and the
// clearance fill 4.030..4.034. Red and red are 3.994..3.998 together and leave
// 0.032..0.040; red and blue are 3.998..4.002 and leave 0.028..0.036; blue and
// blue are 4.002..4.006 and leave 0.024..0.032; blue and green are 4.006..4.010
// and leave 0.020..0.028; two greens leave 0.016..0.024, which is not proven. The
// middles are 0.036, 0.032, 0.028 and 0.024 against 0.030.
func TestFits(t *testing.T) {
	site := grading.Site{Location: "main 1", Housing: size("64.006 ±0.001 mm"), Journal: size("59.974 ±0.001 mm")}
	places, err := stepped().Fits([]grading.Site{site})
	if err != nil {
		t.Fatal(err)
	}
	want := []string{
		"red upper + blue lower 0.028..0.036 mm", "blue upper + red lower 0.028..0.036 mm",
		"blue upper + blue lower 0.024..0.032 mm",
		"red upper + red lower 0.032..0.04 mm",
		"blue upper + green lower 0.02..0.028 mm", "green upper + blue lower 0.02..0.028 mm",
	}
	if got := fitsText(places[0]); !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}

	same := stepped()
	same.Mix = 0
	if places, err = same.Fits([]grading.Site{site}); err != nil || len(places[0]) != 2 {
		t.Errorf("of one grade: %q, %v", fitsText(places[0]), err)
	}

	all := stepped()
	all.Mix = 99
	if places, err = all.Fits([]grading.Site{site}); err != nil || len(places[0]) != 8 {
		t.Errorf("of any grades: %q, %v", fitsText(places[0]), err)
	}

	one := stepped()
	one.Interchangeable = true
	one.Shells = []grading.Shell{{Grade: "red", Wall: size("1.997..1.999 mm")}, {Grade: "blue", Wall: size("2.001..2.003 mm")}}
	if places, err = one.Fits([]grading.Site{site}); err != nil ||
		!slices.Equal(fitsText(places[0]), []string{"red + blue 0.028..0.036 mm", "blue + blue 0.024..0.032 mm", "red + red 0.032..0.04 mm"}) {
		t.Errorf("halves that are one part: %q, %v", fitsText(places[0]), err)
	}
}

func TestFitsErrors(t *testing.T) {
	wide := grading.Site{Location: "main 4", Housing: size("64.020 ±0.001 mm"), Journal: size("59.950 ±0.001 mm")}
	_, err := stepped().Fits([]grading.Site{wide})
	e, ok := errors.AsType[*units.Error](err)
	if !ok || e.Where != "main 4" || !errors.Is(err, grading.ErrNoFit) || !strings.Contains(e.Found, "nearest is green upper") || !strings.HasSuffix(e.Found, "above limit") {
		t.Errorf("%v", err)
	}

	vague := grading.Site{Location: "main 5", Housing: size("64.006 ±0.015 mm"), Journal: size("59.974 ±0.001 mm")}
	if _, err = stepped().Fits([]grading.Site{vague}); !errors.Is(err, grading.ErrNoFit) || !strings.Contains(err.Error(), "main 5") || !strings.Contains(err.Error(), "measure better") {
		t.Errorf("%v", err)
	}

	good := grading.Site{Location: "main 1", Housing: size("64.006 mm"), Journal: size("59.974 mm")}
	none := stepped()
	none.Limits = units.LengthInterval{}
	if _, err = none.Fits([]grading.Site{good}); !errors.Is(err, grading.ErrScheme) {
		t.Errorf("no limits: %v", err)
	}
	none = stepped()
	none.Limits, none.Wanted = size("<= 0.04 mm"), nil
	if _, err = none.Fits([]grading.Site{good}); !errors.Is(err, grading.ErrScheme) || !strings.Contains(err.Error(), "wanted") {
		t.Errorf("limits without a middle: %v", err)
	}
	none = stepped()
	none.Shells = none.Shells[:1]
	if _, err = none.Fits([]grading.Site{good}); !errors.Is(err, grading.ErrScheme) {
		t.Errorf("no pair of shells: %v", err)
	}
	if _, err = stepped().Fits([]grading.Site{{Location: "main 2", Housing: size("64 mm"), Journal: size("0 mm")}}); !errors.Is(err, grading.ErrScheme) || !strings.Contains(err.Error(), "main 2") {
		t.Errorf("a journal of nothing: %v", err)
	}
}

func drawSite(t *rapid.T, location string) grading.Site {
	draw := func(label string, least, most int64) units.LengthInterval {
		at := units.Nanometre.OfInt(rapid.Int64Range(least, most).Draw(t, label))
		return units.PlusMinus(at, units.Nanometre.OfInt(rapid.Int64Range(0, 2500).Draw(t, label+" ±")))
	}
	return grading.Site{Location: location, Housing: draw("bore", 64_000_000, 64_012_000), Journal: draw("journal", 59_964_000, 59_976_000)}
}

// What is offered is what clearance.Bearing says, proven inside, and nothing that
// is proven inside is left out.
func TestFitsAreProvenInside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := stepped()
		s.Mix = 99
		site := drawSite(t, "main 1")
		places, err := s.Fits([]grading.Site{site})
		offered := map[grading.Pair]bool{}
		if err == nil {
			for i, f := range places[0] {
				offered[f.Pair] = true
				if i > 0 && f.Off.Less(places[0][i-1].Off) {
					t.Errorf("%s stands before what is nearer", f.Pair)
				}
			}
		}
		for _, u := range s.Shells {
			for _, l := range s.Shells {
				if u.Half != grading.Upper || l.Half != grading.Lower {
					continue
				}
				b := clearance.Bearing{HousingBore: site.Housing, UpperWall: u.Wall, LowerWall: l.Wall, Journal: site.Journal}
				p := grading.Pair{Upper: grading.Part{Grade: u.Grade, Half: u.Half}, Lower: grading.Part{Grade: l.Grade, Half: l.Half}}
				inside := measure.Judge(b.Clearance(), s.Limits) == measure.Conforming
				if inside != offered[p] {
					t.Errorf("%s gives %s; offered: %v, %v", p, b.Clearance(), offered[p], err)
				}
			}
		}
	})
}
