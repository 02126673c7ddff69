package planfile

import (
	"flag"
	"os"
	"reflect"
	"testing"

	"github.com/pelletier/go-toml/v2"

	"example.com/closefit/examples/kit/ask/schema"
	"example.com/closefit/examples/kit/ask/schema/schematest"
)

var update = flag.Bool("update", false, "write plan.schema.json anew")

// TestSchema: plan.schema.json is what the tables make; and a validator that knows nothing of closefit takes the
// demonstration, as the reader does, and like it no misspelt key, number for a quantity or text for a number.
func TestSchema(t *testing.T) {
	v := schematest.Kept(t, schema.Document{Title: "a plan file, its tables as JSON objects", Of: reflect.TypeFor[planTable](), Tag: "toml",
		Packages: []string{"examples/kit/files/planfile"}}, "plan.schema.json", "../../../..", *update)
	demonstration, err := os.ReadFile("../../../torquewalk/demonstration.toml")
	if err != nil {
		t.Fatal(err)
	}
	const bolts = "title = \"x\"\n[[tightening]]\ngroup = \"g\"\nbolts = [\"a\", \"b\"]\nstages = [{ torque = \"9 N·m\" }]\n"
	for text, right := range map[string]bool{
		string(demonstration): true,
		bolts:                 true,
		bolts + "[tightening.bolt]\nthread = \"M8\"\n":                                               true,
		bolts + "torqe = \"9 N·m\"\n":                                                                false,
		bolts + "[tightening.bolt]\nthred = \"M8\"\n":                                                false,
		"title = \"x\"\n[[tightening]]\ngroup = \"g\"\nbolts = [\"a\"]\nstages = [{ torque = 9 }]\n": false,
		"title = \"x\"\n[[tightening]]\ngroup = \"g\"\nbolts = [\"a\"]\nstages = [{ torque = \"9 N·m\", high_torque = \"yes\" }]\n":     false,
		"title = \"x\"\n[[tightening]]\ngroup = \"g\"\nbolts = \"a\"\nstages = [{ torque = \"9 N·m\" }]\n":                              false,
		"title = \"x\"\n[[tightening]]\ngroup = \"g\"\nbolts = [\"a\"]\nstages = [{ torque = \"9 N·m\", during = { grup = \"h\" } }]\n": false,
	} {
		var tables map[string]any
		if err := toml.Unmarshal([]byte(text), &tables); err != nil {
			t.Fatal(err)
		}
		if err := v.Validate(tables); (err == nil) != right {
			t.Errorf("%.200s: the schema says %v", text, err)
		}
		if _, err := Read("x.toml", []byte(text)); !right && err == nil {
			t.Errorf("%.200s: the reader takes it", text)
		}
	}
}
