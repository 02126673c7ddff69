package units

import (
	"os"
	"strings"
	"testing"
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
	documented[LengthDim](t, listed["length"])
	documented[AngleDim](t, listed["angle"])
	documented[TorqueDim](t, listed["torque"])
	documented[ForceDim](t, listed["force"])
	documented[PressureDim](t, listed["pressure"])
	documented[temperatureDifferenceDim](t, listed["temperature difference"])
	documented[temperatureDim](t, listed["temperature"])
	documented[rotationalSpeedDim](t, listed["rotational speed"])
	documented[dynamicViscosityDim](t, listed["dynamic viscosity"])
	documented[AreaDim](t, listed["area"])
	documented[VolumeDim](t, listed["volume"])
	documented[stiffnessDim](t, listed["stiffness"])
	documented[MassDim](t, listed["mass"])
	documented[volumeFlowDim](t, listed["volume flow"])
	documented[powerDim](t, listed["power"])
	documented[kinematicViscosityDim](t, listed["kinematic viscosity"])
	documented[densityDim](t, listed["density"])
	documented[RatioDim](t, listed["pure number"])
}

func documented[D Dimension](t *testing.T, listed []string) {
	t.Helper()
	want := map[string]bool{}
	for _, u := range Units[D]() {
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
