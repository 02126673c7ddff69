package job

import (
	"flag"
	"maps"
	"reflect"
	"slices"
	"testing"

	"github.com/pelletier/go-toml/v2"

	"example.com/closefit/examples/kit/ask/schema"
	"example.com/closefit/examples/kit/ask/schema/schematest"
)

var update = flag.Bool("update", false, "write job.schema.json anew")

// TestSchema: job.schema.json is what the tables make; and a validator that knows nothing of closefit takes every
// demonstration, and refuses it with a key misspelt wherever the reader does.
func TestSchema(t *testing.T) {
	v := schematest.Kept(t, schema.Document{Title: "a job file, its tables as JSON objects", Of: reflect.TypeFor[file](), Tag: "toml",
		Packages: []string{"examples/kit/files/planfile", "examples/kit/job"}}, "job.schema.json", "../../..", *update)
	for _, name := range Demonstrations() {
		source, err := Demonstration(name)
		if err != nil {
			t.Fatal(err)
		}
		var tables map[string]any
		if err := toml.Unmarshal(source, &tables); err != nil {
			t.Fatal(err)
		}
		if err := v.Validate(tables); err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		misspelt := 0
		each(tables, func(table map[string]any) {
			for _, key := range slices.Sorted(maps.Keys(table)) {
				if misspelt%7 != 0 { // a sample
					misspelt++
					continue
				}
				misspelt++
				value := table[key]
				delete(table, key)
				table[key+"_"] = value
				text, err := toml.Marshal(tables)
				if err != nil {
					t.Fatal(err)
				}
				refused := v.Validate(tables) != nil
				if _, err := Read("x.toml", text); refused && err == nil {
					t.Errorf("%s: the schema refuses %q, and the reader takes it", name, key+"_")
				}
				delete(table, key+"_")
				table[key] = value
			}
		})
		tables["titel"] = "x"
		if v.Validate(tables) == nil {
			t.Errorf("%s: a misspelt key is taken", name)
		}
	}
}

// each calls a function with every table.
func each(v any, do func(table map[string]any)) {
	switch v := v.(type) {
	case map[string]any:
		do(v)
		for _, key := range slices.Sorted(maps.Keys(v)) {
			each(v[key], do)
		}
	case []any:
		for _, e := range v {
			each(e, do)
		}
	}
}
