package bench_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"example.com/closefit/examples/kit/ask/schema"
	"example.com/closefit/examples/kit/ask/schema/schematest"
	"example.com/closefit/examples/kit/bench"
	"example.com/closefit/examples/kit/job"
)

var update = flag.Bool("update", false, "write bench.schema.json anew")

// TestSchema: bench.schema.json is what the types make. A validator that knows nothing of closefit takes
// what a page asks from the opening of a job to an undone change, and every answer; and what it refuses,
// for a key too few or too many or a value of another kind, the reader refuses too.
func TestSchema(t *testing.T) {
	question, reply := schematest.Asked(t, schema.Questions{Title: "the questions of the bench page", Set: bench.Questions(), Packages: []string{"examples/kit/job", "examples/kit/bench"}},
		"bench.schema.json", "../../..", *update)
	set := bench.Questions()
	asked := map[string]bool{}
	ask := func(doc []byte) []byte {
		if err := question.Validate(parsed(t, doc)); err != nil {
			t.Errorf("%.300s: %v", doc, err)
		}
		for _, wrong := range changed(t, doc) {
			if question.Validate(parsed(t, wrong)) == nil {
				t.Errorf("the schema takes %.300s", wrong)
			}
			if a := string(set.Answer(t.Context(), wrong)); !strings.HasPrefix(a, `{"closefit":1,"error":`) {
				t.Errorf("the reader takes %.300s", wrong)
			}
		}
		var d struct{ Question string }
		if err := json.Unmarshal(doc, &d); err != nil {
			t.Fatal(err)
		}
		asked[d.Question] = true
		a := set.Answer(t.Context(), doc)
		if err := reply.Validate(parsed(t, a)); err != nil {
			t.Errorf("%s: the reply: %v", d.Question, err)
		}
		return a
	}
	src, err := job.Demonstration("lock-gate")
	if err != nil {
		t.Fatal(err)
	}
	var view bench.View
	open := bench.OpenQuestion{Name: "j.toml", Text: string(src), Beside: map[string]string{"other.toml": ""}}
	if wrong := asks(t, ask, "bench open", open, &view); wrong != "" {
		t.Fatal(wrong)
	}
	var taken bench.Taken
	if wrong := asks(t, ask, "bench take", open, &taken); wrong != "" || taken.Revision != view.Revision {
		t.Fatalf("taken as %q, shown as %q: %s", taken.Revision, view.Revision, wrong)
	}
	edit := bench.Edit{Key: bench.Reading, Line: "main journal", Place: "3", Was: "58.360 mm", Now: "58.361 mm"}
	var made bench.Changed
	for _, q := range []struct {
		name string
		with any
		into any
	}{
		{"bench spot", bench.SpotQuestion{Revision: view.Revision, At: "main 3"}, nil},
		{"bench sheet", bench.SheetQuestion{Revision: view.Revision, Key: bench.Reading, Line: "main journal", Place: "3"}, nil},
		{"bench try", bench.EditQuestion{Revision: view.Revision, Edit: edit}, nil},
		{"bench set", bench.EditQuestion{Revision: view.Revision, Edit: edit}, &made},
	} {
		if wrong := asks(t, ask, q.name, q.with, q.into); wrong != "" {
			t.Errorf("%s: %s", q.name, wrong)
		}
	}
	if wrong := asks(t, ask, "bench undo", bench.UndoQuestion{Revision: made.View.Revision, Change: made.Change}, nil); wrong != "" {
		t.Error(wrong)
	}
	for _, q := range set {
		if !asked[q.Name] {
			t.Errorf("nobody asked %s", q.Name)
		}
	}
}

// parsed reads JSON as the validator does.
func parsed(t *testing.T, text []byte) any {
	t.Helper()
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// changed returns a document with each key of each of its objects left out, doubled under another name, or with
// a value of another kind. The names of files are nobody's keys.
func changed(t *testing.T, doc []byte) (all [][]byte) {
	t.Helper()
	whole := parsed(t, doc)
	write := func() {
		text, err := json.Marshal(whole)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, text)
	}
	var walk func(o map[string]any)
	walk = func(o map[string]any) {
		for _, k := range slices.Sorted(maps.Keys(o)) {
			v := o[k]
			if inner, is := v.(map[string]any); is && k != "beside" {
				walk(inner)
			}
			delete(o, k)
			write()
			o[k], o[k+"s"] = v, v
			write()
			delete(o, k+"s")
			o[k] = []any{[]any{v}}
			write()
			o[k] = v
		}
	}
	walk(whole.(map[string]any))
	return all
}
