package grading_test

import (
	"errors"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/grading"
	"example.com/closefit/units"
)

func TestAlikeOfFew(t *testing.T) {
	places := [][]grading.PairFit{{{Location: "1", Off: micrometres(1)}, {Location: "1", Off: micrometres(2)}}, {}}
	if got, err := grading.Alike(places[:1]); err != nil || got[0].Location != "1" || !got[0].Off.Equal(micrometres(1)) {
		t.Errorf("%v, %v", got, err)
	}
	if _, err := grading.Alike(places); !errors.Is(err, grading.ErrNoFit) {
		t.Errorf("a place without fits: %v", err)
	}
	if got, err := grading.Alike(nil); got != nil || err != nil {
		t.Errorf("no places: %v, %v", got, err)
	}
}

// Alike is checked against every choice.
func TestAlikeAgainstEveryChoice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		wanted := micrometres(30)
		var places [][]grading.PairFit
		for range rapid.IntRange(1, 5).Draw(t, "places") {
			var p []grading.PairFit
			for range rapid.IntRange(1, 4).Draw(t, "fits") {
				c := micrometres(rapid.Int64Range(20, 40).Draw(t, "clearance"))
				p = append(p, grading.PairFit{Clearance: units.Exactly(c), Off: c.Sub(wanted).Abs()})
			}
			places = append(places, p)
		}
		sum := func(choices []grading.PairFit) units.Length {
			var s units.Length
			for i, c := range choices {
				s = s.Add(c.Off)
				if i > 0 {
					s = s.Add(c.Clearance.Mid().Sub(choices[i-1].Clearance.Mid()).Abs())
				}
			}
			return s
		}
		var least *units.Length
		var try func(choices []grading.PairFit)
		try = func(choices []grading.PairFit) {
			if len(choices) == len(places) {
				if s := sum(choices); least == nil || s.Less(*least) {
					least = &s
				}
				return
			}
			for _, f := range places[len(choices)] {
				try(append(slices.Clone(choices), f))
			}
		}
		try(nil)
		got, err := grading.Alike(places)
		if err != nil || !sum(got).Equal(*least) {
			t.Errorf("%s, %v; want %s", sum(got), err, *least)
		}
	})
}
