package record

import (
	"testing"

	"example.com/closefit/units"
)

// TestDegreesOfFilm: the table of a film is in °C, and so is what the oil comes in at; what has no end there is
// rounded, and marked so. 200 °F is 93.33… °C, and 203 °F is 95 °C.
func TestDegreesOfFilm(t *testing.T) {
	for text, want := range map[string]string{"95 °C": "95 °C", "88.5 °C": "88.5 °C", "203 °F": "95 °C", "200 °F": "≈93.3 °C", "212 °F": "100 °C", "363.16 K": "≈90.0 °C"} {
		if got := degrees(units.MustParse[units.Temperature](text)); got != want {
			t.Errorf("%s is shown as %s, want %s", text, got, want)
		}
	}
}
