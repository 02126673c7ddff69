package fasteners_test

import (
	"encoding/json"
	"errors"
	"testing"

	"example.com/closefit/fasteners"
	"example.com/closefit/units"
)

// A value that nobody set, or that no library function gives, is never written or read as if it
// were one.
func TestExchangeOfWhatIsNot(t *testing.T) {
	for name, v := range map[string]any{
		"no thread": fasteners.Thread{}, "no end": fasteners.End(""), "an end that is none": fasteners.End("round head"),
		"no shape": fasteners.BoltShape{}, "no strength": fasteners.Strength{}, "no limits": fasteners.Limits{}, "no parts": fasteners.ClampedParts{},
		"an outcome that is none": fasteners.Reuse(-1),
	} {
		if text, err := json.Marshal(v); err == nil {
			t.Errorf("%s is written as %s", name, text)
		}
	}
	for name, test := range map[string]struct {
		into any
		text string
		kind error
	}{
		"a thread that is none":   {new(fasteners.Thread), `"8 by 1"`, fasteners.ErrImpossible},
		"a word that is none":     {new(fasteners.Reuse), `"good"`, units.ErrNotWritten},
		"a round head":            {new(fasteners.End), `"round head"`, units.ErrNotWritten},
		"an end of nothing":       {new(fasteners.End), `""`, units.ErrNotWritten},
		"a joint of no stiffness": {new(fasteners.Joint), `{"bolt": "0 N/mm", "members": "5 N/mm"}`, fasteners.ErrImpossible},
		"a strength of another thread": {new(fasteners.Strength),
			`{"thread": "M20", "class": "8.8", "standard": "ISO 898-1:2013", "proof": "580 MPa", "yield": "640 MPa", "tensile": "800 MPa", "elongation": "12 %", "hardness": "250..320"}`, fasteners.ErrImpossible},
		"limits that were altered": {new(fasteners.Limits),
			`{"thread": "M10", "class": "6g", "major": "9.732..9.968 mm", "pitch": "8.862..8.995 mm", "minor": "<= 8.344 mm", "tabulated": true}`, units.ErrNotWritten},
		"forces that do not follow": {new(fasteners.LoadedJoint),
			`{"joint": {"bolt": "200 kN/mm", "members": "800 kN/mm"}, "preload": "20 kN", "outer": "10 kN", "clamped": "conforming", "bolt": "22 kN", "clamp": "13 kN", "separation": "25 kN"}`, units.ErrNotWritten},
	} {
		if err := json.Unmarshal([]byte(test.text), test.into); !errors.Is(err, test.kind) {
			t.Errorf("%s: error %v, want %v", name, err, test.kind)
		}
	}
	// The same three as the standards and the joint have them are read.
	for _, test := range []struct {
		into any
		text string
	}{
		{new(fasteners.Strength), `{"thread": "M10", "class": "8.8", "standard": "ISO 898-1:2013", "proof": "580 MPa", "yield": "640 MPa", "tensile": "800 MPa", "elongation": "12 %", "hardness": "250..320"}`},
		{new(fasteners.Limits), `{"thread": "M10", "class": "6g", "major": "9.732..9.968 mm", "pitch": "8.862..8.994 mm", "minor": "<= 8.344 mm", "tabulated": true}`},
		{new(fasteners.LoadedJoint), `{"joint": {"bolt": "200 kN/mm", "members": "800 kN/mm"}, "preload": "20 kN", "outer": "10 kN", "clamped": "conforming", "bolt": "22 kN", "clamp": "12 kN", "separation": "25 kN"}`},
	} {
		if err := json.Unmarshal([]byte(test.text), test.into); err != nil {
			t.Errorf("%s: %v", test.text, err)
		}
	}
}
