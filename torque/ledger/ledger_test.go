package ledger

import "testing"

// TestCounts: steps are counted by their status. A turn that was said to be done, and turned out
// to be done part-way, is not done.
func TestCounts(t *testing.T) {
	s := newScene(t, testPlan(t, "gate", 2), 5)
	defer s.l.Close()
	if done, skipped, of := s.l.Counts(); done != 5 || skipped != 0 || of != 8 {
		t.Errorf("%d done, %d skipped, of %d; want 5, 0, of 8", done, skipped, of)
	}
	if err := s.l.Mishap(What{Mishap: TooSoonPartWay, Step: 5}); err != nil {
		t.Fatal(err)
	}
	if done, _, of := s.l.Counts(); done != 4 || of != 8 || s.l.Status(5) != Unknown {
		t.Errorf("%d done of %d, step 5 is %v; want 4 of 8, unknown", done, of, s.l.Status(5))
	}
}
