package units

import (
	"encoding/json"
	"errors"
	"testing"
)

// A unit is written as its symbol where it stands alone; a bare number's is "1".
func TestUnitsAsText(t *testing.T) {
	type choice struct {
		Torque TorqueUnit      `json:"torque"`
		Ratio  Unit[RatioDim]  `json:"ratio"`
		Scale  TemperatureUnit `json:"scale"`
		Round  Rounding        `json:"round"`
	}
	b, err := json.Marshal(choice{PoundForceFoot, One, Fahrenheit, Ceiling})
	if want := `{"torque":"lbf·ft","ratio":"1","scale":"°F","round":"up"}`; err != nil || string(b) != want {
		t.Errorf("%s, %v, want %s", b, err, want)
	}
	var c choice
	if err := json.Unmarshal([]byte(`{"torque":"ft-lb","ratio":"%","scale":"degF","round":"half to even"}`), &c); err != nil || c != (choice{PoundForceFoot, Percent, Fahrenheit, HalfEven}) {
		t.Errorf("%v, %v", c, err)
	}
	for text, kind := range map[string]error{
		`{"torque":""}`: ErrNotWritten, `{"torque":"mm"}`: ErrWrongDimension, `{"ratio":""}`: ErrNotWritten, `{"scale":"m"}`: ErrWrongDimension, `{"round":"upwards"}`: ErrNotWritten,
	} {
		if err := json.Unmarshal([]byte(text), &c); !errors.Is(err, kind) {
			t.Errorf("%s: %v", text, err)
		}
	}
	for _, v := range []any{TorqueUnit(99), Rounding(99)} {
		if b, err := json.Marshal(v); !errors.Is(err, ErrNotWritten) {
			t.Errorf("%s, %v", b, err)
		}
	}
}
