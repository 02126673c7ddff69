package schema_test

import (
	"encoding/json"
	"errors"
	"path/filepath"
	"reflect"
	"testing"

	"example.com/closefit/examples/kit/ask/schema"
	"example.com/closefit/examples/kit/ask/schema/schematest"
	"example.com/closefit/torque"
	"example.com/closefit/torque/ledger"
	"example.com/closefit/units"
)

// TestLedger: ledger.schema.json is what an entry's type makes; and a validator that knows nothing of closefit takes
// each line of a ledger as ledger.Read has it, and refuses one without a key or with another.
func TestLedger(t *testing.T) {
	entry := schematest.Kept(t, schema.Document{Title: "one line of a ledger, as it is read", Of: reflect.TypeFor[ledger.Entry](), Tag: "json", Packages: []string{"torque/ledger"}},
		"ledger.schema.json", tree, *update)
	plan, err := torque.NewPlan("rods", torque.Group{Name: "rod bolts", Pattern: torque.Row("1A", "1B"), Order: torque.Rows, Use: torque.SingleUse,
		Stages: []torque.Stage{{Pull: torque.Do(torque.Tighten{To: units.MustParseTorque("8 N·m")})}, {Pull: torque.Do(torque.Turn{By: units.MustParseAngle("75°")})}}})
	if err != nil {
		t.Fatal(err)
	}
	home := ledger.Home{Path: filepath.Join(t.TempDir(), "rods.ledger"), Witness: t.TempDir()}
	work := ledger.Work{Engine: "lock gate engine 4711", Build: "rebuild of autumn"}
	l, err := ledger.Start(home, work, plan, []string{"1B"})
	if err != nil {
		t.Fatal(err)
	}
	err = errors.Join(l.Replace("1B"), l.Begin(1), l.Done(1, ledger.Reached{By: "the hand"}), l.Begin(2), l.Mishap(ledger.What{Mishap: ledger.PartWay, Step: 2}), l.Note("a cough"), l.Close())
	if err != nil {
		t.Log(err) // what the ledger refused is no line of it
	}
	l, entries, err := ledger.Read(home, work)
	if err != nil || len(entries) < 4 {
		t.Fatalf("%d entries of %v: %v", len(entries), l, err)
	}
	for _, e := range entries {
		text, err := json.Marshal(e)
		if err != nil {
			t.Fatal(err)
		}
		if err := entry.Validate(parse(t, text)); err != nil {
			t.Errorf("%s: %v", text, err)
		}
		said := parse(t, text).(map[string]any)
		for key, value := range said {
			delete(said, key)
			if entry.Validate(said) == nil {
				t.Errorf("taken without %q: %s", key, text)
			}
			said[key] = value
		}
		said["who"] = "x"
		if entry.Validate(said) == nil {
			t.Errorf("taken with another key: %s", text)
		}
	}
}
