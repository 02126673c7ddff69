package conform

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"slices"
	"testing"

	"example.com/closefit/internal/thorough"
)

var update = flag.Bool("update", false, "write the vectors")

// generated are all vectors as they follow from the evidence and from arithmetic, by topic.
func generated(t *testing.T) map[string][]Vector {
	t.Helper()
	all := map[string][]Vector{}
	published, _, _ := facts(t)
	for _, v := range slices.Concat(published, worked()) {
		if v.Harm = harm(v.Topic, v.Kind); v.Harm == "" {
			t.Fatalf("no harm is told of %s, %s", v.Topic, v.Kind)
		}
		all[v.Topic] = append(all[v.Topic], v)
	}
	return all
}

// TestVectors writes the vectors with -update, and otherwise fails if they are out of date.
func TestVectors(t *testing.T) {
	thorough.SkipRaced(t)
	seen := map[string]bool{}
	for topic, vectors := range generated(t) {
		var b bytes.Buffer
		e := json.NewEncoder(&b)
		e.SetEscapeHTML(false)
		for _, v := range vectors {
			if seen[v.ID] {
				t.Errorf("two vectors are called %s", v.ID)
			}
			seen[v.ID] = true
			if err := e.Encode(v); err != nil {
				t.Fatal(err)
			}
		}
		name := "vectors/" + topic + ".jsonl"
		if *update {
			if err := os.WriteFile(name, b.Bytes(), 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		if text, err := os.ReadFile(name); err != nil || !bytes.Equal(text, b.Bytes()) {
			t.Errorf("%s is out of date (%v): go test ./examples/kit/conform -update, and read what changes", name, err)
		}
	}
}
