package isofit

import (
	"testing"

	"example.com/closefit/units"
)

// TestDescribe: each kind of fit is described by its own two ends, which differ here.
func TestDescribe(t *testing.T) {
	for clearance, want := range map[string]string{
		"0.007..0.041 mm":   "clearance fit: smallest clearance 0.007 mm, largest clearance 0.041 mm",
		"-0.048..-0.014 mm": "interference fit: smallest interference 0.014 mm, largest interference 0.048 mm",
		"-0.015..0.019 mm":  "transition fit: largest interference 0.015 mm, largest clearance 0.019 mm",
	} {
		if got := describe(units.MustParseLengthInterval(clearance)); got != want {
			t.Errorf("%s: %q, want %q", clearance, got, want)
		}
	}
}
