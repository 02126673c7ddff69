package grading_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"example.com/closefit/grading"
)

func TestCompare(t *testing.T) {
	s := stepped()
	block, crank := read(t, s, grading.Row{Text: "A B A", Side: grading.Housing}), read(t, s, grading.Row{Text: "1 2 1", Side: grading.Journal})
	got, err := s.Compare(block, crank, []grading.Site{
		{Location: "main 1", Housing: size("64.002 ±0.001 mm"), Journal: size("59.973 ±0.001 mm")},
		{Location: "main 2", Housing: size("64.011 ±0.001 mm"), Journal: size("59.964 ±0.001 mm")},
		{Location: "main 3", Housing: size("64.011 ±0.001 mm"), Journal: size("59.972 ±0.001 mm")},
	})
	if err != nil {
		t.Fatal(err)
	}
	want := []string{
		"main 1: codes and sizes agree on red upper + red lower (0.029..0.037 mm, conforming)",
		"main 2: the codes say blue upper + blue lower (0.039..0.047 mm, undecided), the sizes say green upper + green lower (0.031..0.039 mm, conforming) or 2 others",
		"main 3: the codes say red upper + red lower (0.039..0.047 mm, undecided), the sizes say blue upper + green lower (0.027..0.035 mm, conforming) or 5 others; the housing measures 64.01..64.012 mm, but code A is 64..64.006 mm",
	}
	for i, c := range got {
		if c.Agree != (i == 0) {
			t.Errorf("%s agrees: %v", c.Site.Location, c.Agree)
		}
		if c.String() != want[i] {
			t.Errorf("%s\nwant %s", c, want[i])
		}
	}
	if _, err := s.Compare(block, crank, nil); !errors.Is(err, grading.ErrLocations) || !strings.Contains(err.Error(), "main 3, but sizes of none") {
		t.Errorf("no sites: %v", err)
	}
}

// An illegible code leaves several pairs; those that the sizes prove stand first. A
// bore of 64.000..64.002 is of code A (64.000..64.006) alone.
func TestCompareIllegible(t *testing.T) {
	s := stepped()
	main := []string{"main 1"}
	block := read(t, s, grading.Row{Text: "?", Side: grading.Housing, Locations: main})
	crank := read(t, s, grading.Row{Text: "?", Side: grading.Journal, Locations: main})
	got, err := s.Compare(block, crank, []grading.Site{
		{Location: "main 1", Housing: size("64.001 ±0.001 mm"), Journal: size("59.980 ±0.001 mm")}})
	if err != nil {
		t.Fatal(err)
	}
	// A room of 4.019..4.023: red and red leave 0.021..0.029, red and blue 0.017..0.025.
	// No code stands for a journal of 59.979 and more, so that neither is ruled out.
	want := []string{"red upper + red lower 0.021..0.029 mm", "red upper + blue lower 0.017..0.025 mm"}
	if c := got[0]; !slices.Equal(fitsText(c.Coded), want) || c.Agree || len(c.Notes) != 2 || !strings.Contains(c.Notes[1], "the journal measures") ||
		c.Notes[0] != "the housing measures 64..64.002 mm, so that of A, B its code is A" {
		t.Errorf("%q, agree %v, notes %q", fitsText(c.Coded), c.Agree, c.Notes)
	}

	// With a journal of code 1 (59.970..59.976) the codes are known, and agree. At
	// 64.006, where A ends and B begins, the bore can be either.
	got, err = s.Compare(block, crank, []grading.Site{{Location: "main 1", Housing: size("64.001 ±0.001 mm"), Journal: size("59.973 ±0.001 mm")}})
	if err != nil || !got[0].Agree || len(got[0].Notes) != 2 || got[0].Assigned.Journal.Possible[0] != "1" {
		t.Errorf("%v, %v", got, err)
	}
	got, err = s.Compare(block, crank, []grading.Site{{Location: "main 1", Housing: size("64.006 mm"), Journal: size("59.973 ±0.001 mm")}})
	if err != nil || len(got[0].Coded) != 2 || len(got[0].Notes) != 1 {
		t.Errorf("%v, %v", got, err)
	}
}

// Conforming pairs stand before undecided ones, and these before those outside. By hand:
// of a bore of 64.006, which may be A or B, a journal of 59.966 leaves 4.040 for two walls
// and the clearance: blue and red walls (3.998..4.002) leave 0.038..0.042, which conforms,
// red and red (3.994..3.998) 0.042..0.046, which reaches past the limit of 0.044. A journal
// of 59.960 leaves 0.044..0.048, which touches the limit, and 0.048..0.052, which is above.
func TestCompareBestPairFirst(t *testing.T) {
	s := stepped()
	main := []string{"main 1"}
	block := read(t, s, grading.Row{Text: "?", Side: grading.Housing, Locations: main})
	crank := read(t, s, grading.Row{Text: "1", Side: grading.Journal, Locations: main})
	for journal, want := range map[string][]string{
		"59.966 mm": {"blue upper + red lower 0.038..0.042 mm", "red upper + red lower 0.042..0.046 mm"},
		"59.960 mm": {"blue upper + red lower 0.044..0.048 mm", "red upper + red lower 0.048..0.052 mm"},
	} {
		got, err := s.Compare(block, crank, []grading.Site{{Location: "main 1", Housing: size("64.006 mm"), Journal: size(journal)}})
		if err != nil || !slices.Equal(fitsText(got[0].Coded), want) {
			t.Errorf("journal of %s: %q, %v; want %q", journal, fitsText(got[0].Coded), err, want)
		}
	}
}

// Sizes tell where a row begins: of "A A B" the first bore is B by its size, so that
// it begins with main 3. A bore that no code has tells nothing.
func TestCompareTellsWhereARowBegins(t *testing.T) {
	s := stepped()
	block := read(t, s, grading.Row{Text: "AAB", Side: grading.Housing})
	crank := read(t, s, grading.Row{Text: "111", Side: grading.Journal})
	sites := func(first string) []grading.Site {
		journal := size("59.973 ±0.001 mm")
		return []grading.Site{
			{Location: "main 1", Housing: size(first), Journal: journal},
			{Location: "main 2", Housing: size("64.002 ±0.001 mm"), Journal: journal},
			{Location: "main 3", Housing: size("64.006 mm"), Journal: journal},
		}
	}
	for first, want := range map[string]string{
		"64.009 ±0.001 mm": "B A A",     // 64.006..64.012
		"64.002 ±0.001 mm": "A A B",     // 64.000..64.006
		"64.006 mm":        "A|B A B|A", // either
		"64.020 mm":        "A|B A B|A", // neither
	} {
		got, err := s.Compare(block, crank, sites(first))
		if err != nil {
			t.Fatal(err)
		}
		var codes []grading.Stamp
		for _, c := range got {
			codes = append(codes, c.Assigned.Housing)
		}
		if codesOf(codes) != want {
			t.Errorf("bore of %s: %s, want %s", first, codesOf(codes), want)
		}
		if open := strings.Contains(want, "|"); open != (len(got[0].Assigned.Why) == 1) {
			t.Errorf("bore of %s: why %q", first, got[0].Assigned.Why)
		}
	}
}
