package conform

import (
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

// TestKinds: the page, the vectors, the library's answerers and the harms know the same kinds.
func TestKinds(t *testing.T) {
	thorough.SkipRaced(t)
	page, err := os.ReadFile("../../conformance/QUESTIONS.md")
	if err != nil {
		t.Fatal(err)
	}
	vectors, err := Vectors()
	if err != nil {
		t.Fatal(err)
	}
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
	explained := onPage(string(page))
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
		if !strings.Contains(string(page), "\n## "+topic+"\n") {
			t.Errorf("QUESTIONS.md has no section %s", topic)
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
