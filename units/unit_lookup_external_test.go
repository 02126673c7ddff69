package units_test

import (
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/units"
)

// TestLookUpLikeParse: a unit is found by the spellings that Parse reads, and by no others.
func TestLookUpLikeParse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(
			rapid.SampledFrom([]string{"", "mm", "MM", "in", "inch", "thou", "lbf·ft", "lbf ft", "ft-lb", "N·m", "Nm", "N.m", "AB", "OK", "µm", "-", " mm"}),
			rapid.StringMatching(`[a-zA-Zµ·. -]{0,5}`)).Draw(t, "text")
		length, err := units.Parse[units.LengthUnit](text)
		if got, ok := units.LookUp[units.LengthDim](text); ok != (err == nil) || ok && got != length {
			t.Fatalf("length %q: %v, %t; Parse says %v, %v", text, got, ok, length, err)
		}
		torque, err := units.Parse[units.TorqueUnit](text)
		if got, ok := units.LookUp[units.TorqueDim](text); ok != (err == nil) || ok && got != torque {
			t.Fatalf("torque %q: %v, %t; Parse says %v, %v", text, got, ok, torque, err)
		}
	})
}
