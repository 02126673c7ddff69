package record

import (
	"reflect"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"example.com/closefit/examples/kit/ask/schema"
	"example.com/closefit/examples/kit/ask/schema/schematest"
	"example.com/closefit/examples/kit/job"
)

// RewriteSchema writes the schema anew; -update of the external tests sets it.
var RewriteSchema = func() bool { return false }

// TestSchema: record.schema.json is what the types make; and a validator that knows nothing of closefit takes the
// record of every demonstration, and refuses it without any one key of the whole and with one more.
func TestSchema(t *testing.T) {
	v := schematest.Kept(t, schema.Document{Title: "a build record", Of: reflect.TypeFor[document](), Tag: "json",
		Packages: []string{"units", "units/measure", "clearance", "torque", "grading", "grading/purchase", "examples/kit/job", "examples/kit/record"}},
		"record.schema.json", "../../..", RewriteSchema())
	for _, name := range job.Demonstrations() {
		source, err := job.Demonstration(name)
		if err != nil {
			t.Fatal(err)
		}
		j, err := job.Read(name+".toml", source)
		if err != nil {
			t.Fatal(err)
		}
		a, err := j.Assess(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		var text strings.Builder
		if err := Write(&text, JSON, a); err != nil {
			t.Fatal(err)
		}
		said, err := jsonschema.UnmarshalJSON(strings.NewReader(text.String()))
		if err != nil {
			t.Fatal(err)
		}
		if err := v.Validate(said); err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		whole := said.(map[string]any)
		for key, value := range whole {
			delete(whole, key)
			if v.Validate(whole) == nil {
				t.Errorf("%s: taken without %q", name, key)
			}
			whole[key] = value
		}
		whole["never heard of"] = true
		if v.Validate(whole) == nil {
			t.Errorf("%s: taken with a key that no record has", name)
		}
	}
}
