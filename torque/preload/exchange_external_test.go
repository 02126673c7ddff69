package preload_test

import (
	"encoding/json"
	"errors"
	"reflect"
	"strings"
	"testing"

	"example.com/closefit/torque/preload"
	"example.com/closefit/units"
)

// values are one of every type of the package, none of its fields zero where it can be.
func values(t *testing.T) []any {
	bolt := rodBolt(t)
	bolt.Section = units.MustParseLength("7.5 mm")
	snug, turn := units.MustParse[units.TorqueInterval]("19.2..20.8 N·m"), units.MustParse[units.AngleInterval]("86..94°")
	forecast, errForecast := bolt.Forecast(snug, turn, units.MustParse[units.AngleInterval]("9..11°"))
	scattering, errScattering := bolt.Scattering(snug, turn)
	wrench := wrenchOf("20..120 N·m", "0.7 N·m", "4 %")
	wrench.Extension = extensionOf("400 mm", "50 mm", "30°")
	if err := errors.Join(errForecast, errScattering); err != nil {
		t.Fatal(err)
	}
	methods := preload.Methods()
	return []any{
		bolt.Friction, bolt.Screw, bolt, forecast, forecast.States[1], scattering, scattering.ByAngle[2],
		methods[0], methods[len(methods)-1], wrench, *wrench.Extension,
	}
}

// TestSurvivesJSON: every type comes back as it was, and says every one of its keys.
func TestSurvivesJSON(t *testing.T) {
	for _, v := range values(t) {
		name := reflect.TypeOf(v).Name()
		text, err := json.Marshal(v)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		back := reflect.New(reflect.TypeOf(v))
		if err := json.Unmarshal(text, back.Interface()); err != nil {
			t.Errorf("%s: %v in %s", name, err, text)
			continue
		}
		// Equal quantities may be held in different memory; their exact texts tell.
		again, err := json.Marshal(back.Elem().Interface())
		if err != nil || string(again) != string(text) {
			t.Errorf("%s: %s\ncame back as %s, %v", name, text, again, err)
		}
		var keys map[string]json.RawMessage
		if err := json.Unmarshal(text, &keys); err != nil || len(keys) != reflect.TypeOf(v).NumField() {
			t.Errorf("%s has %d fields and %d keys: %s", name, reflect.TypeOf(v).NumField(), len(keys), text)
		}
		// One key out, one too many, and nothing: each is an error, and nothing is stored.
		for key := range keys {
			fewer := map[string]json.RawMessage{}
			for k, value := range keys {
				if k != key {
					fewer[k] = value
				}
			}
			refused(t, name+" without "+key, fewer, back)
		}
		keys["more"] = json.RawMessage("1")
		refused(t, name+" with a key more", keys, back)
		if after, _ := json.Marshal(back.Elem().Interface()); string(after) != string(text) {
			t.Errorf("%s was changed by text that was refused", name)
		}
	}
}

func refused(t *testing.T, what string, keys map[string]json.RawMessage, into reflect.Value) {
	t.Helper()
	text, err := json.Marshal(keys)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, into.Interface()); !errors.Is(err, units.ErrNotWritten) {
		t.Errorf("%s: %v, want it refused", what, err)
	}
}

// TestWrittenShort: what follows from π or a root is rounded, and no page of digits.
func TestWrittenShort(t *testing.T) {
	for _, v := range values(t) {
		var texts func(v any)
		texts = func(v any) {
			switch v := v.(type) {
			case map[string]any:
				for _, v := range v {
					texts(v)
				}
			case []any:
				for _, v := range v {
					texts(v)
				}
			case string:
				if len(v) > 80 {
					t.Errorf("%d letters: %s", len(v), v)
				}
			}
		}
		text, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		var all any
		if err := json.Unmarshal(text, &all); err != nil {
			t.Fatal(err)
		}
		texts(all)
	}
	if text, err := json.Marshal(preload.State{}); err != nil || !strings.Contains(string(text), `"preload":null`) {
		t.Errorf("%s, %v: what is not known must be null", text, err)
	}
}
