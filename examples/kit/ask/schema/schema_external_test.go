package schema_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"maps"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/ask/asktest"
	"example.com/closefit/examples/kit/ask/schema"
	"example.com/closefit/examples/kit/ask/whole"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/shopspring/decimal"
	"pgregory.net/rapid"
)

var update = flag.Bool("update", false, "write the files anew")

const tree = "../../../.."

// TestFiles: the files are those that the types make.
func TestFiles(t *testing.T) {
	s, types, err := schema.Make(whole.Questions(), tree)
	if err != nil {
		t.Fatal(err)
	}
	for name, f := range map[string]struct{ made, kept []byte }{"closefit.schema.json": {s, schema.JSON}, "closefit.d.ts": {types, schema.TypeScript}} {
		if *update {
			if err := os.WriteFile(name, f.made, 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		if !bytes.Equal(f.made, f.kept) {
			t.Errorf("%s is not what the types make: run go test ./examples/kit/ask/schema -update and read the change", name)
		}
	}
}

// compile returns the validator of a definition.
func compile(t *testing.T, definition string) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(schema.JSON))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	const url = "https://example.com/closefit/closefit.schema.json"
	if err := c.AddResource(url, doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile(url + "#/$defs/" + definition)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func parse(t interface{ Fatal(...any) }, text []byte) any {
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// badForm are the cases whose form is wrong, and not only what they say.
func badForm() []string {
	return []string{"convert, a missing key", "convert, an unknown key", "no such question", "record, no form"}
}

// TestCases: the schema takes the questions whose form is right and no others, and every
// reply.
func TestCases(t *testing.T) {
	question, reply := compile(t, "Question"), compile(t, "Reply")
	cases := append(asktest.Library(), asktest.Records()...)
	answers := map[string]*jsonschema.Schema{} // of each question, compiled once
	for _, q := range whole.Questions() {
		answers[q.Name] = compile(t, q.Reply.Name())
	}
	for _, c := range cases {
		err := question.Validate(parse(t, c.Document()))
		if bad := slices.Contains(badForm(), c.Name); bad != (err != nil) {
			t.Errorf("%s: %v", c.Name, err)
		}
		a := whole.Questions().Answer(t.Context(), c.Document())
		if err := reply.Validate(parse(t, a)); err != nil {
			t.Errorf("%s: the reply: %v", c.Name, err)
		}
		for _, q := range whole.Questions() { // an answer is that of its own question
			var d struct{ Answer json.RawMessage }
			if err := json.Unmarshal(a, &d); err != nil {
				t.Fatal(err)
			}
			if q.Name == c.Question && d.Answer != nil {
				if err := answers[q.Name].Validate(parse(t, d.Answer)); err != nil {
					t.Errorf("%s: the answer: %v", c.Name, err)
				}
			}
		}
	}
}

// good are the questions of asktest whose form is right.
func good() (cases []asktest.Case) {
	for _, c := range append(asktest.Library(), asktest.Records()[0]) {
		if !slices.Contains(badForm(), c.Name) {
			cases = append(cases, c)
		}
	}
	return cases
}

// objectsOf returns every object in a value.
func objectsOf(v any) (found []map[string]any) {
	switch v := v.(type) {
	case map[string]any:
		found = append(found, v)
		for _, k := range slices.Sorted(maps.Keys(v)) {
			found = append(found, objectsOf(v[k])...)
		}
	case []any:
		for _, e := range v {
			found = append(found, objectsOf(e)...)
		}
	}
	return found
}

var figure = regexp.MustCompile(`[0-9]+(\.[0-9]+)?`)

// varied changes what a value says and not its form: other figures, other texts, and lists that are
// shorter or longer.
func varied(r *rapid.T, key string, v any) any {
	switch v := v.(type) {
	case map[string]any:
		for _, k := range slices.Sorted(maps.Keys(v)) {
			v[k] = varied(r, k, v[k])
		}
	case []any:
		for i := range v {
			v[i] = varied(r, key, v[i])
		}
		switch rapid.IntRange(0, 4).Draw(r, "list") {
		case 0:
			return []any{}
		case 1:
			return append(v, v...)
		}
	case string:
		if key == "round" || key == "kind" || key == "half" || key == "format" || key == "question" {
			return v
		}
		return figure.ReplaceAllStringFunc(v, func(string) string {
			return decimal.New(rapid.Int64Range(0, 99999).Draw(r, "figure"), -int32(rapid.IntRange(0, 4).Draw(r, "places"))).String()
		})
	}
	return v
}

// TestRandomQuestions: a question of the right form is taken by the schema, and its form by the
// reader.
func TestRandomQuestions(t *testing.T) {
	question, reply := compile(t, "Question"), compile(t, "Reply")
	rapid.Check(t, func(r *rapid.T) {
		c := rapid.SampledFrom(good()).Draw(r, "case")
		v := parse(r, c.Document()).(map[string]any)
		if c.Question != "record" {
			v["with"] = varied(r, "", v["with"])
		}
		doc, err := json.Marshal(v)
		if err != nil {
			r.Fatal(err)
		}
		if err := question.Validate(parse(r, doc)); err != nil {
			r.Fatalf("%s: %v", doc, err)
		}
		if c.Question == "record" {
			return
		}
		a := whole.Questions().Answer(t.Context(), doc)
		if strings.Contains(string(a), `: no key `) || strings.Contains(string(a), "an unknown key") {
			r.Fatalf("the reader refuses the form: %s: %s", doc, a)
		}
		if err := reply.Validate(parse(r, a)); err != nil {
			r.Fatalf("%s: the reply: %v: %s", doc, err, a)
		}
	})
}

// TestWrongQuestions: what has a key too few or too many, or something of another kind, is refused
// by the schema and by the reader.
func TestWrongQuestions(t *testing.T) {
	question := compile(t, "Question")
	rapid.Check(t, func(r *rapid.T) {
		c := rapid.SampledFrom(good()).Draw(r, "case")
		v := parse(r, c.Document())
		o := rapid.SampledFrom(objectsOf(v)).Draw(r, "object")
		k := rapid.SampledFrom(slices.Sorted(maps.Keys(o))).Draw(r, "key")
		switch rapid.IntRange(0, 3).Draw(r, "change") {
		case 0:
			delete(o, k)
		case 1:
			o[k+"s"] = o[k]
		case 2:
			o[k] = map[string]any{"value": o[k]}
		case 3:
			o[k] = [][]any{{[]any{o[k]}}}
		}
		doc, err := json.Marshal(v)
		if err != nil {
			r.Fatal(err)
		}
		if question.Validate(parse(r, doc)) == nil {
			r.Fatalf("the schema takes %s", doc)
		}
		if a := whole.Questions().Answer(t.Context(), doc); !strings.HasPrefix(string(a), `{"closefit":1,"error":`) {
			r.Fatalf("the reader takes %s", doc)
		}
	})
}
