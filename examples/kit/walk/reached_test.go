package walk

import (
	"strings"
	"testing"
)

// TestReached: a torque, an angle or both; what cannot be read is said.
func TestReached(t *testing.T) {
	for _, tt := range []struct{ text, torque, angle, err string }{
		{"", "", "", ""},
		{" 95 N·m ", "95 N·m", "", ""},
		{"88..92°", "", "88..92 °", ""},
		{"88..92 ° ; 95 ±1 N·m", "94..96 N·m", "88..92 °", ""},
		{"95", "", "", "a number without a unit"},
		{"95 mm", "", "", "mm"},
		{"95 N·m; often", "", "", "often"},
		{"95 N·m; 85 N·m", "", "", "85 N·m"},
		{"88°; 95 N·m; 90°", "", "", "90°"},
	} {
		r, err := ParseReached(tt.text)
		if tt.err != "" {
			if err == nil || !strings.Contains(err.Error(), tt.err) {
				t.Errorf("%q: %v, want %q in it", tt.text, err, tt.err)
			}
			continue
		}
		torque, angle := "", ""
		if !r.Torque.IsEmpty() {
			torque = r.Torque.String()
		}
		if !r.Angle.IsEmpty() {
			angle = r.Angle.String()
		}
		if err != nil || torque != tt.torque || angle != tt.angle {
			t.Errorf("%q: %v, %s and %s", tt.text, err, torque, angle)
		}
	}
}
