package grading

import (
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/units"
)

// TestLadderAgainstItsDefinition: of the clearances that begin at a size or above, the lowest
// upper end, for ever higher sizes; each is looked for among all of them.
func TestLadderAgainstItsDefinition(t *testing.T) {
	micrometres := units.Micrometre.OfInt
	rapid.Check(t, func(t *rapid.T) {
		var fits []PairFit
		for range rapid.IntRange(0, 6).Draw(t, "fits") {
			lo := rapid.Int64Range(0, 9).Draw(t, "lo")
			fits = append(fits, PairFit{Clearance: units.MustInterval(micrometres(lo), micrometres(lo+rapid.Int64Range(0, 9).Draw(t, "width")))})
		}
		l := newLadder(fits)
		for lo := range int64(11) {
			var want units.Length
			any := false
			for _, f := range fits {
				if hi := f.Clearance.Hi(); !f.Clearance.Lo().Less(micrometres(lo)) && (!any || hi.Less(want)) {
					want, any = hi, true
				}
			}
			if got, ok := l.lowestTop(micrometres(lo)); ok != any || !got.Equal(want) {
				t.Fatalf("from %d µm on %s, %v; want %s, %v", lo, got, ok, want, any)
			}
		}
	})
}
