package grading

import (
	"slices"
	"testing"

	"example.com/closefit/units"
)

// TestCodesThatCanHaveASize: a measured size rules a code out whose size it does not touch, and
// none of which no size is known.
func TestCodesThatCanHaveASize(t *testing.T) {
	span := units.MustParseLengthInterval
	s := &Scheme{Journal: []Code{{Code: "A", Size: span("59.970..59.976 mm")}, {Code: "B"}, {Code: "C", Size: span("59.964..59.970 mm")}}}
	for size, want := range map[string][]string{
		"59.972..59.974 mm": {"A", "B", "X"}, "59.969..59.971 mm": {"A", "B", "C", "X"}, "59.960..59.964 mm": {"B", "C", "X"}, "59.950..59.960 mm": {"B", "X"},
	} {
		if got := s.withSize(Journal, []string{"A", "B", "C", "X"}, span(size)); !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", size, got, want)
		}
	}
}
