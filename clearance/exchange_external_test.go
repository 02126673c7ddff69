package clearance_test

import (
	"encoding/json"
	"errors"
	"maps"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// exchanged are values of every type that has an exchange form, each with the ways to be
// there and not to be there.
func exchanged(t *rapid.T) []any {
	bool := func(label string) bool { return rapid.Bool().Draw(t, label) }
	interval := func(label string) units.LengthInterval {
		switch rapid.IntRange(0, 3).Draw(t, label) {
		case 0:
			return units.LengthInterval{}
		case 1:
			return units.AtLeast(drawLength(t, label, 1, 90))
		}
		return drawInterval(t, label, 1, 90)
	}
	conditions := func(label string) []measure.Condition {
		if !bool(label) {
			return nil
		}
		return []measure.Condition{measure.Condition{What: "plane", Is: "front"}, measure.Condition{What: "direction", Is: label}}
	}
	body := func(label string) clearance.Body {
		b := clearance.Body{Material: rapid.SampledFrom([]string{"", "iron"}).Draw(t, label), With: "the bench"}
		if bool(label) {
			lo := rapid.Int64Range(1, 30).Draw(t, label)
			b.PerKelvin, b.Temperature = perKelvin(lo, lo+1), units.MustParse[units.TemperatureInterval]("-4.5..90 °C")
		}
		return b
	}
	angle := func(label string) units.Angle { return units.Degree.OfInt(rapid.Int64Range(0, 360).Draw(t, label)) }
	volume := units.MustParse[units.VolumeInterval]("39.8..40.2 cm³")
	fit := clearance.PistonFit(drawReading(t, "cylinder", 80_000, 80_100), drawReading(t, "piston", 79_900, 80_000), "")
	fit.Direct, fit.Sum.AtWorst = drawReading(t, "direct", 0, 90), bool("worst")
	if bool("series") {
		fit.Series, fit.Notes = map[string]string{"D": "0.25"}, []string{"a note"}
	}
	another := clearance.Alternative{Term: "d", Name: "another", Reading: drawReading(t, "another", 1, 90), Series: "0.25",
		Effort: clearance.Effort(rapid.IntRange(0, 4).Draw(t, "effort"))}
	gauge := measure.LengthInstrument{Name: "gauge", Uncertainty: drawLength(t, "u", 1, 9), SetOn: drawReading(t, "set on", 1, 90)}
	return []any{
		&clearance.Bearing{HousingBore: interval("D"), UpperWall: interval("t1"), LowerWall: interval("t2"), Journal: interval("d")},
		&clearance.MeasuredBearing{HousingBore: drawReading(t, "D", 1, 90), UpperWall: drawReading(t, "t1", 1, 90), LowerWall: drawReading(t, "t2", 1, 90),
			Journal: drawReading(t, "d", 1, 90), Bolts: clearance.BoltsTightened(units.MustParseTorque("60 N·m")), Place: conditions("place")},
		&fit, &another,
		&clearance.Remedy{Changes: []clearance.Alternative{another}, Result: drawReading(t, "result", 1, 90), Margin: drawLength(t, "margin", 0, 9)},
		&clearance.Remeasurement{With: map[string]measure.LengthInstrument{"D": gauge}, Expanded: drawLength(t, "expanded", 1, 9), Chance: rapid.Float64Range(0, 1).Draw(t, "chance")},
		&clearance.Slip[units.LengthDim]{What: "a slip", Corrected: interval("corrected"), Verdict: rapid.SampledFrom([]measure.Verdict{0, 1, 2, 3}).Draw(t, "verdict"), Unit: "in"},
		new(body("body")),
		&clearance.Filing{Amount: interval("amount"), Gap: drawReading(t, "gap", 1, 90), Limits: interval("limits")},
		&clearance.Compression{Bore: interval("bore"), Stroke: interval("stroke"), Deck: interval("deck"), GasketBore: interval("gasket"),
			GasketThickness: interval("thickness"), Chamber: volume, Dish: units.VolumeInterval{}},
		&clearance.Crush{Upper: interval("upper"), Lower: interval("lower")},
		&clearance.SizeRule{PerSize: units.MustParse[units.RatioInterval]("0.0040..0.0045"), Extra: drawLength(t, "extra", -5, 5)},
		&clearance.Arc{Name: "pin", Centre: angle("centre"), Reach: angle("reach")},
		&clearance.RingLayout{Rings: []string{"top", "oil"}, Neighbours: angle("neighbours"), Any: angle("any"), Forbidden: []clearance.Arc{{Name: "pin", Centre: angle("centre")}}},
	}
}

// Every value survives JSON unchanged, and without one of its keys it is refused.
func TestEverythingSurvivesJSON(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for _, x := range exchanged(t) {
			text, err := json.Marshal(x)
			if err != nil {
				t.Fatalf("%T: %v", x, err)
			}
			back := reflect.New(reflect.TypeOf(x).Elem()).Interface()
			if err := units.DecodeObject(text, back); err != nil {
				t.Fatalf("%T: %s: %v", x, text, err)
			}
			again, err := json.Marshal(back)
			if err != nil || string(again) != string(text) {
				t.Fatalf("%T: %s comes back as %s, %v", x, text, again, err)
			}
			var object map[string]json.RawMessage
			if err := json.Unmarshal(text, &object); err != nil {
				t.Fatal(err)
			}
			if n := reflect.TypeOf(x).Elem().NumField(); len(object) != n {
				t.Fatalf("%T has %d fields, and %s", x, n, text)
			}
			key := rapid.SampledFrom(slices.Sorted(maps.Keys(object))).Draw(t, "key")
			delete(object, key)
			short, err := json.Marshal(object)
			if err != nil {
				t.Fatal(err)
			}
			if err := units.DecodeObject(short, back); !errors.Is(err, units.ErrNotWritten) {
				t.Fatalf("%T without %q: %v", x, key, err)
			}
			if _, ok := x.(json.Unmarshaler); ok {
				if err := json.Unmarshal(short, back); !errors.Is(err, units.ErrNotWritten) {
					t.Fatalf("%T without %q, by package json: %v", x, key, err)
				}
			}
		}
	})
}

// What a fit says is the same after it was stored.
func TestAFitComesBackWhole(t *testing.T) {
	b := measuredBearing(t)
	before := b.Fit()
	before.Direct = reading[units.LengthDim](t)(newStrip(t).Read("", span("0.025..0.038 mm")))
	text, err := json.Marshal(before)
	if err != nil {
		t.Fatal(err)
	}
	var after clearance.Fit
	if err := json.Unmarshal(text, &after); err != nil {
		t.Fatal(err)
	}
	if got, want := after.Working(units.Millimetre).Text(), before.Working(units.Millimetre).Text(); got != want {
		t.Errorf("it comes back as\n%s\nand was\n%s", got, want)
	}
	for _, text := range []string{`"honing"`, `"boring"`} {
		var e clearance.Effort
		if err := json.Unmarshal([]byte(text), &e); err != nil || `"`+e.String()+`"` != text {
			t.Errorf("%s is %s, %v", text, e, err)
		}
	}
	var e clearance.Effort
	if err := json.Unmarshal([]byte(`"magic"`), &e); !errors.Is(err, units.ErrNotWritten) {
		t.Errorf("magic: %v", err)
	}
	if _, err := clearance.Effort(9).MarshalText(); !errors.Is(err, units.ErrNotWritten) {
		t.Errorf("Effort(9): %v", err)
	}
}
