// Package schematest holds a schema file to the types that make it.
package schematest

import (
	"bytes"
	"os"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"example.com/closefit/examples/kit/ask/schema"
)

// Kept fails unless the file is what a document's types make, or writes it anew, and returns the
// schema as a validator has it that knows nothing of closefit. Root is the folder of the module.
func Kept(t testing.TB, d schema.Document, file, root string, anew bool) *jsonschema.Schema {
	t.Helper()
	return kept(t, d, file, root, anew)("")
}

// Asked is Kept for questions: it returns the schema of a document that asks, and of one that answers.
func Asked(t testing.TB, q schema.Questions, file, root string, anew bool) (question, reply *jsonschema.Schema) {
	t.Helper()
	of := kept(t, q, file, root, anew)
	return of("#/$defs/Question"), of("#/$defs/Reply")
}

// kept returns what compiles a part of the file.
func kept(t testing.TB, d interface {
	JSON(name, tree string) ([]byte, error)
}, file, root string, anew bool) func(part string) *jsonschema.Schema {
	t.Helper()
	made, err := d.JSON(file, root)
	if err != nil {
		t.Fatal(err)
	}
	if anew {
		if err := os.WriteFile(file, made, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	kept, err := os.ReadFile(file)
	if err != nil || !bytes.Equal(kept, made) {
		t.Fatalf("%s is not what the types make (%v): run this test with -update and read the change", file, err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(made))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	url := "https://example.com/closefit/" + file
	if err := c.AddResource(url, doc); err != nil {
		t.Fatal(err)
	}
	return func(part string) *jsonschema.Schema {
		v, err := c.Compile(url + part)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}
