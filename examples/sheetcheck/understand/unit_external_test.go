package understand_test

import (
	"testing"

	"example.com/closefit/examples/sheetcheck/understand"
)

// TestSameUnit: 1 lbf·ft is 1 ft-lb, and 12 lbf·in, by NIST SP 811 (2008), B.8; it is no N·m.
func TestSameUnit(t *testing.T) {
	for _, tt := range []struct {
		a, b string
		same bool
	}{
		{"ft-lb", "lbf·ft", true}, {"in", "inch", true}, {"um", "µm", true}, {"shop units", "shop units", true},
		{"lbf·ft", "lbf·in", false}, {"lbf·ft", "N·m", false}, {"mm", "in", false}, {"mm", "", false}, {"this", "that", false},
	} {
		if understand.SameUnit(tt.a, tt.b) != tt.same || understand.SameUnit(tt.b, tt.a) != tt.same {
			t.Errorf("%q and %q: not %v", tt.a, tt.b, tt.same)
		}
	}
}
