package units_test

import (
	"os"
	"strings"
	"testing"

	"example.com/closefit/units"
)

// The package's documentation lists every unit that is read, with or without a
// constant.
func TestEveryUnitIsDocumented(t *testing.T) {
	text, err := os.ReadFile("doc.go")
	if err != nil {
		t.Fatal(err)
	}
	listed := map[string][]string{}
	for line := range strings.Lines(string(text)) {
		if row, ok := strings.CutPrefix(line, "//\t"); ok && len(row) > 24 {
			listed[strings.TrimSpace(row[:24])] = strings.Split(strings.TrimSpace(row[24:]), ", ")
		}
	}
	documented[units.LengthDim](t, listed["length"])
	documented[units.AngleDim](t, listed["angle"])
	documented[units.TorqueDim](t, listed["torque"])
	documented[units.ForceDim](t, listed["force"])
	documented[units.PressureDim](t, listed["pressure"])
	documented[units.TemperatureDifferenceDim](t, listed["temperature difference"])
	documented[units.TemperatureDifferenceDim](t, listed["temperature"]) // on the same scales
	documented[units.RotationalSpeedDim](t, listed["rotational speed"])
	documented[units.DynamicViscosityDim](t, listed["dynamic viscosity"])
	documented[units.AreaDim](t, listed["area"])
	documented[units.VolumeDim](t, listed["volume"])
	documented[units.StiffnessDim](t, listed["stiffness"])
	documented[units.MassDim](t, listed["mass"])
	documented[units.RatioDim](t, listed["pure number"])
}

func documented[D units.Dimension](t *testing.T, listed []string) {
	t.Helper()
	want := map[string]bool{}
	for _, u := range units.Units[D]() {
		if u.String() != "" {
			want[u.String()] = true
		}
	}
	for _, symbol := range listed {
		if !want[symbol] && symbol != "a number alone" {
			t.Errorf("%q is listed, or listed twice, and is no unit", symbol)
		}
		delete(want, symbol)
	}
	for symbol := range want {
		t.Errorf("%q is not listed", symbol)
	}
}
