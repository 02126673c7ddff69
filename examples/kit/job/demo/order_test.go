package demo_test

import (
	"bytes"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/job/jobtest"
	"example.com/closefit/examples/kit/record"
)

// aJob draws the text of a job: of a demonstration, or of a generated engine.
func aJob(t *rapid.T) (name, src string) {
	if name = rapid.SampledFrom(append(job.Demonstrations(), "")).Draw(t, "demonstration"); name == "" {
		return "generated", jobtest.Draw(t).String()
	}
	text, err := job.Demonstration(name)
	if err != nil {
		t.Fatal(err)
	}
	return name, string(text)
}

// shuffled writes a job with its tables and keys in any order, each table under a header or
// inline, as it falls.
func shuffled(t *rapid.T, root tree) string {
	var b strings.Builder
	var write func(header string, table map[string]any)
	write = func(header string, table map[string]any) {
		if header != "" {
			fmt.Fprintf(&b, "[%s]\n", header)
		}
		var later []string
		for _, k := range anyOrder(t, table) {
			if _, is := table[k].(map[string]any); is && rapid.Bool().Draw(t, "under a header") {
				later = append(later, k)
				continue
			}
			fmt.Fprintf(&b, "%q = %s\n", k, inline(t, table[k]))
		}
		for _, k := range later {
			at := fmt.Sprintf("%q", k)
			if header != "" {
				at = header + "." + at
			}
			write(at, table[k].(map[string]any))
		}
	}
	write("", root)
	return b.String()
}

// anyOrder are the keys of a table in any order.
func anyOrder(t *rapid.T, table map[string]any) []string {
	return rapid.Permutation(slices.Sorted(maps.Keys(table))).Draw(t, "order")
}

// inline writes a value of TOML. The elements of a list keep their order.
func inline(t *rapid.T, v any) string {
	var parts []string
	switch v := v.(type) {
	case map[string]any:
		for _, k := range anyOrder(t, v) {
			parts = append(parts, fmt.Sprintf("%q = %s", k, inline(t, v[k])))
		}
		return "{ " + strings.Join(parts, ", ") + " }"
	case []any:
		for _, x := range v {
			parts = append(parts, inline(t, x))
		}
		return "[" + strings.Join(parts, ", ") + "]"
	case string:
		return fmt.Sprintf("%q", v)
	}
	return fmt.Sprint(v)
}

// written is the record in JSON, which holds all that was found and what it rests on.
func written(t *rapid.T, a *job.Assessment) []byte {
	var text bytes.Buffer
	if err := record.Write(&text, record.JSON, a); err != nil {
		t.Fatal(err)
	}
	return text.Bytes()
}

// TestOrderDoesNotMatter: a job with its tables and its keys in any other order is assessed
// as the same.
func TestOrderDoesNotMatter(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		name, src := aJob(t)
		want, err := assessed(t, src)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		other := shuffled(t, treeOf(t, src))
		got, err := assessed(t, other)
		if err != nil {
			t.Fatalf("%s: %v\n%s", name, err, other)
		}
		if !bytes.Equal(written(t, got), written(t, want)) {
			t.Fatalf("%s: otherwise assessed:\n%s", name, other)
		}
	})
}

// assessed reads and assesses a job.
func assessed(t *rapid.T, src string) (*job.Assessment, error) {
	j, err := job.Read("job.toml", []byte(src))
	if err != nil {
		return nil, err
	}
	return j.Assess(t.Context())
}
