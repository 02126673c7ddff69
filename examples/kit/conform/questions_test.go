package conform

import (
	"iter"
	"maps"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"example.com/closefit/internal/thorough"
)

// asksFor matches the beginning of a kind's explanation on the page: "`nut factor`: ".
var asksFor = regexp.MustCompile("`([a-z ]+)`: ")

// onPage are the kinds that the page explains, "torque/nut factor".
func onPage(page string) map[string]bool {
	kinds := map[string]bool{}
	topic := ""
	for line := range strings.Lines(page) {
		if name, is := strings.CutPrefix(line, "## "); is {
			topic = strings.TrimSpace(name)
		}
		if topic == "" {
			continue
		}
		for _, m := range asksFor.FindAllStringSubmatch(line, -1) {
			kinds[topic+"/"+m[1]] = true
		}
	}
	return kinds
}

// pageAndVectors are QUESTIONS.md and all questions.
func pageAndVectors(t *testing.T) (string, []Vector) {
	t.Helper()
	thorough.SkipRaced(t)
	page, err := os.ReadFile("../../conformance/QUESTIONS.md")
	if err != nil {
		t.Fatal(err)
	}
	vectors, err := Vectors()
	if err != nil {
		t.Fatal(err)
	}
	return string(page), vectors
}

// TestKinds: the page, the vectors, the library's answerers and the harms know the same kinds.
func TestKinds(t *testing.T) {
	page, vectors := pageAndVectors(t)
	asked, answered, harmful := map[string]bool{}, map[string]bool{}, map[string]bool{}
	for _, v := range vectors {
		asked[v.Topic+"/"+v.Kind] = true
	}
	for topic, kinds := range answerers() {
		for kind := range kinds {
			answered[topic+"/"+kind] = true
		}
	}
	for kind := range harms {
		harmful[kind] = true
	}
	explained := onPage(page)
	for _, of := range []struct {
		where string
		kinds map[string]bool
	}{{"the vectors", asked}, {"the library's answerers", answered}, {"what a wrong answer does to an engine", harmful}} {
		for _, kind := range slices.Sorted(maps.Keys(explained)) {
			if !of.kinds[kind] {
				t.Errorf("QUESTIONS.md explains %s, which is not in %s", kind, of.where)
			}
		}
		for _, kind := range slices.Sorted(maps.Keys(of.kinds)) {
			if !explained[kind] {
				t.Errorf("%s is in %s, and QUESTIONS.md does not explain it", kind, of.where)
			}
		}
	}
	for _, topic := range Topics() {
		if !strings.Contains(page, "\n## "+topic+"\n") {
			t.Errorf("QUESTIONS.md has no section %s", topic)
		}
	}
}

// TestKeys: the page tells every key of every question, and of every answer.
func TestKeys(t *testing.T) {
	page, vectors := pageAndVectors(t)
	told := map[string]bool{}
	for _, v := range vectors {
		for key := range keysOf(v.Question, v.Want) {
			if _, looked := told[key]; !looked {
				told[key] = strings.Contains(page, `"`+key+`"`)
				if !told[key] {
					t.Errorf("QUESTIONS.md does not tell the key %q, as of %s", key, v.ID)
				}
			}
		}
	}
}

// keysOf are the keys of objects, and of the objects in them and in their lists.
func keysOf(values ...any) iter.Seq[string] {
	return func(yield func(string) bool) {
		var walk func(any) bool
		walk = func(v any) bool {
			switch v := v.(type) {
			case []any:
				return !slices.ContainsFunc(v, func(x any) bool { return !walk(x) })
			case map[string]any:
				for key, x := range v {
					if !yield(key) || !walk(x) {
						return false
					}
				}
			}
			return true
		}
		for _, v := range values {
			if !walk(v) {
				return
			}
		}
	}
}

func TestOnPage(t *testing.T) {
	page := "`before`: nothing\n\n## convert\n\n`to mm`: `{}` → `{}`. `back`: the same; `\"places\"`: no kind\n- `uncertainty` is none\n\n## buy\n\n`buy`: `{}`\n"
	got := slices.Sorted(maps.Keys(onPage(page)))
	if want := []string{"buy/buy", "convert/back", "convert/to mm"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// TestHarm: a wrong answer of every kind is reported with what it would do to an engine, in words of its own.
func TestHarm(t *testing.T) {
	thorough.SkipRaced(t)
	vectors, err := Vectors()
	if err != nil {
		t.Fatal(err)
	}
	first := map[string]Vector{}
	var one []Vector
	for _, v := range vectors {
		if key := v.Topic + "/" + v.Kind; first[key].ID == "" {
			first[key] = v
			one = append(one, v)
		}
	}
	r := newReport([]string{"a liar"}, one)
	for _, v := range one {
		r.take([]byte(`{"id": "` + v.ID + `", "answer": {"none": "a lie"}}`))
	}
	r.finish()
	if len(r.Wrong) != len(one) || r.Passed {
		t.Fatalf("%d of %d lies were found", len(r.Wrong), len(one))
	}
	var text strings.Builder
	if err := r.Text(&text); err != nil {
		t.Fatal(err)
	}
	for _, w := range r.Wrong {
		if w.Harm == "" || w.Harm != harms[w.Topic+"/"+w.Kind] || !strings.Contains(text.String(), "harm      "+w.Harm) {
			t.Errorf("%s, %s: the report does not say what it would do: %q", w.Topic, w.Kind, w.Harm)
		}
	}
}
