package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"net/http"
	"os"
	"strconv"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/ask/asktest"
	"example.com/closefit/examples/kit/ask/whole"
	"github.com/santhosh-tekuri/jsonschema/v6"
)

var update = flag.Bool("update", false, "write openapi.json anew")

// examples are the first question of each name in asktest, with its answer.
func examples(t *testing.T) map[string]example {
	found := map[string]example{}
	for _, c := range append(asktest.Library(), asktest.Case{Name: "record", Question: "record", With: `{"name":"pump.toml","source":"title = \"A pump\"\n[engine]\ncylinders = 1\nmains = 2\nthrust = \"1\"\nrings = [\"top ring\", \"second ring\"]\npassages = [\"main gallery\"]\n","format":"text","film":false}`}) {
		if _, known := found[c.Question]; !known && c.Question != "weigh" {
			found[c.Question] = example{json.RawMessage(bodyOf(c)), whole.Questions().Answer(t.Context(), c.Document())}
		}
	}
	return found
}

// TestDescription: openapi.json is what the types make.
func TestDescription(t *testing.T) {
	made, err := describe(whole.Questions(), examples(t))
	if err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile("openapi.json", made, 0o644); err != nil {
			t.Fatal(err)
		}
	} else if !bytes.Equal(made, description) {
		t.Error("openapi.json is not what the types make: run go test ./examples/kit/ask/schema -update, then go test ./examples/serve -update, and read the change")
	}
}

// TestDescribed holds what is asked and answered over HTTP to the description, by a library that knows nothing
// of ours: a body that it takes is never refused for its form, and one that it does not take always is; and every
// answer is of its form, whatever the status.
func TestDescribed(t *testing.T) {
	s := serving(t)
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(description))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.DefaultDraft(jsonschema.Draft2020)
	const url = "https://example.com/openapi.json"
	if err := c.AddResource(url, doc); err != nil {
		t.Fatal(err)
	}
	valid := func(at string, text []byte) error {
		schema, err := c.Compile(url + "#" + at)
		if err != nil {
			t.Fatal(at, err)
		}
		v, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		return schema.Validate(v)
	}
	const content = "/content/application~1json/schema"
	seen := map[string]bool{}
	for _, q := range append(asktest.Library(), asktest.Records()...) {
		if q.Question == "weigh" {
			continue
		}
		path := "/paths/~1v1~1" + q.Question + "/post"
		a, got := s.send(t, "POST", "/v1/"+q.Question, bodyOf(q))
		form := valid(path+"/requestBody"+content, []byte(bodyOf(q)))
		if (form != nil) != (a.StatusCode == 400) {
			t.Errorf("%s: %s, and the description says %v", q.Name, a.Status, form)
		}
		text, err := json.Marshal(map[string]any{"closefit": 1, "error": got.Error})
		at := "/components/responses/422" + content
		if got.Error == nil {
			seen[q.Question] = true
			text, err = json.Marshal(map[string]any{"closefit": 1, "answer": got.Answer})
			at = path + "/responses/200" + content
		}
		if err != nil {
			t.Fatal(err)
		}
		if err := valid(at, text); err != nil {
			t.Errorf("%s: the answer: %v", q.Name, err)
		}
	}
	for _, q := range whole.Questions() {
		if !seen[q.Name] {
			t.Errorf("no answer of %s was looked at", q.Name)
		}
	}
}

// The description names each status that the server can give a question; 404 is of no path that it has, so the
// text says it.
func TestStatusesAreDescribed(t *testing.T) {
	var d struct {
		Info  struct{ Description string }
		Paths map[string]map[string]struct {
			Responses map[string]json.RawMessage
		}
	}
	if err := json.Unmarshal(description, &d); err != nil {
		t.Fatal(err)
	}
	for _, s := range statuses {
		status := strconv.Itoa(s.status)
		for path, methods := range d.Paths {
			if post, is := methods["post"]; is && post.Responses[status] == nil && s.status != http.StatusNotFound {
				t.Errorf("%s does not say %s (%v)", path, status, s.kind)
			}
		}
		if s.status == http.StatusNotFound && !strings.Contains(d.Info.Description, status) {
			t.Errorf("nothing says %s", status)
		}
	}
}
