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
	stamp := func(location, code string) grading.Stamp {
		return grading.Stamp{Location: location, Code: code, Possible: []string{code}}
	}
	assigned, err := s.Assign(
		[]grading.Stamp{stamp("main 1", "A"), stamp("main 2", "B"), stamp("main 3", "A")},
		[]grading.Stamp{stamp("main 1", "1"), stamp("main 2", "2"), stamp("main 3", "1")})
	if err != nil {
		t.Fatal(err)
	}
	got, err := s.Compare(assigned, []grading.Site{
		{Location: "main 1", Housing: *size("64.002 ±0.001 mm"), Journal: *size("59.973 ±0.001 mm")},
		{Location: "main 2", Housing: *size("64.011 ±0.001 mm"), Journal: *size("59.964 ±0.001 mm")},
		{Location: "main 3", Housing: *size("64.011 ±0.001 mm"), Journal: *size("59.972 ±0.001 mm")},
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
		if c.Agree() != (i == 0) {
			t.Errorf("%s agrees: %v", c.Location, c.Agree())
		}
		if c.String() != want[i] {
			t.Errorf("%s\nwant %s", c, want[i])
		}
	}
	if _, err := s.Compare(assigned, nil); !errors.Is(err, grading.ErrLocations) || !strings.Contains(err.Error(), "main 3, but sizes of none") {
		t.Errorf("no sites: %v", err)
	}
}

// An illegible code leaves several pairs; those that the sizes prove stand first.
func TestCompareIllegible(t *testing.T) {
	s := stepped()
	assigned, err := s.Assign(
		[]grading.Stamp{{Location: "main 1", Code: "?", Possible: []string{"A", "B"}}},
		[]grading.Stamp{{Location: "main 1", Code: "?", Possible: []string{"1", "2"}}})
	if err != nil {
		t.Fatal(err)
	}
	got, err := s.Compare(assigned, []grading.Site{
		{Location: "main 1", Housing: *size("64.001 ±0.001 mm"), Journal: *size("59.980 ±0.001 mm")}})
	if err != nil {
		t.Fatal(err)
	}
	// A room of 4.019..4.023: red and red leave 0.021..0.029, red and blue 0.017..0.025,
	// blue and blue 0.013..0.021. No code stands for a journal of 59.979 and more.
	want := []string{"red upper + red lower 0.021..0.029 mm", "red upper + blue lower 0.017..0.025 mm",
		"blue upper + red lower 0.017..0.025 mm", "blue upper + blue lower 0.013..0.021 mm"}
	if c := got[0]; !slices.Equal(fitsText(c.Coded), want) || c.Agree() || len(c.Notes) != 1 || !strings.Contains(c.Notes[0], "the journal measures") {
		t.Errorf("%q, agree %v, notes %q", fitsText(c.Coded), c.Agree(), c.Notes)
	}
}
