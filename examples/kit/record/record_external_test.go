package record_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/record"
	"example.com/closefit/units"
)

var update = flag.Bool("update", false, "write the golden records instead of comparing with them")

func assess(t *testing.T, name string) *job.Assessment {
	t.Helper()
	src, err := job.Demonstration(name)
	if err != nil {
		t.Fatal(err)
	}
	return assessText(t, name+".toml", string(src))
}

func assessText(t *testing.T, name, src string) *job.Assessment {
	t.Helper()
	j, err := job.Read(name, []byte(src))
	if err != nil {
		t.Fatal(err)
	}
	a, err := j.Assess(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func render(t *testing.T, f record.Format, a *job.Assessment) string {
	t.Helper()
	var b bytes.Buffer
	if err := record.Write(&b, f, a); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// TestGolden compares the text record of each demonstration with the one that was
// read and kept.
func TestGolden(t *testing.T) {
	for _, name := range job.Demonstrations() {
		t.Run(name, func(t *testing.T) {
			got := render(t, record.Text, assess(t, name))
			golden := filepath.Join("testdata", name+".txt")
			if *update {
				if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(string(want), got); diff != "" {
				t.Errorf("the record changed (-kept +new); read it, then go test -update:\n%s", diff)
			}
		})
	}
}

// TestSomethingOfEach: each invented engine has something proven, something
// undecided and something outside, and the record says so.
func TestSomethingOfEach(t *testing.T) {
	for _, name := range []string{"lock-gate", "slate-saw"} {
		a := assess(t, name)
		if a.Proven() {
			t.Errorf("%s: Proven is true", name)
		}
		text := render(t, record.Text, a)
		for _, word := range []string{"conforming", "undecided", "above limit", "STOP", "MEASURE", "ORDER", "GO ON", "Shopping list", "INVENTED"} {
			if !strings.Contains(text, word) && !strings.Contains(strings.ToUpper(text), word) {
				t.Errorf("%s: the record has no %q", name, word)
			}
		}
	}
}

// TestWorstFirst: actions stand in the order stop, measure, order, go on.
func TestWorstFirst(t *testing.T) {
	for _, name := range job.Demonstrations() {
		last := job.Stop
		for _, x := range assess(t, name).Next {
			if x.Kind < last {
				t.Errorf("%s: %s after %s", name, x.Kind, last)
			}
			last = x.Kind
		}
	}
}

// TestWidth: the text record fits its page.
func TestWidth(t *testing.T) {
	for _, name := range job.Demonstrations() {
		for line := range strings.Lines(render(t, record.Text, assess(t, name))) {
			if n := len([]rune(strings.TrimRight(line, "\n"))); n > 100 {
				t.Errorf("%s: a line of %d characters: %s", name, n, line)
			}
		}
	}
}

// TestJSON reads the verdicts as another program would: exactly six keys, every
// bound a text with its unit or null, and the same intervals as the job's.
func TestJSON(t *testing.T) {
	a := assess(t, "lock-gate")
	var d struct {
		Verdicts []map[string]json.RawMessage `json:"verdicts"`
	}
	if err := json.Unmarshal([]byte(render(t, record.JSON, a)), &d); err != nil {
		t.Fatal(err)
	}
	if len(d.Verdicts) != len(a.Verdicts()) {
		t.Fatalf("%d verdicts, want %d", len(d.Verdicts), len(a.Verdicts()))
	}
	for i, v := range d.Verdicts {
		for _, key := range []string{"group", "location", "quantity", "measured", "tolerance", "verdict"} {
			if _, ok := v[key]; !ok {
				t.Errorf("verdict %d has no %q", i, key)
			}
		}
		if len(v) != 6 {
			t.Errorf("verdict %d has %d keys, want 6", i, len(v))
		}
		for _, key := range []string{"measured", "tolerance"} {
			var r struct{ Lo, Hi *string }
			if err := json.Unmarshal(v[key], &r); err != nil {
				t.Errorf("verdict %d, %s: %v", i, key, err)
			}
			for _, bound := range []*string{r.Lo, r.Hi} {
				if bound == nil {
					continue
				}
				_, length := units.ParseLength(*bound)
				_, pressure := units.ParsePressure(*bound)
				if length != nil && pressure != nil {
					t.Errorf("verdict %d, %s: %q is no quantity", i, key, *bound)
				}
			}
		}
	}
}

// TestJSONMainBearing3 follows one verdict by hand: 62.893 - 2.219 - 2.219 - 58.360 =
// 0.095 mm. Both walls are read with one micrometer of which one figure is stated, 0.001 +
// 0.001 at its worst, so that √(0.003² + 0.002² + 0.002²) = √0.000017 = 0.00412310562… mm,
// rounded up to a tenth of a nanometre.
func TestJSONMainBearing3(t *testing.T) {
	for _, f := range assess(t, "lock-gate").Verdicts() {
		if f.Group != "main bearing" || f.Location != "3" {
			continue
		}
		if lo, hi := *f.Measured.Lo, *f.Measured.Hi; lo != "0.0908768 mm" || hi != "0.0991232 mm" {
			t.Errorf("measured %s..%s, want 0.0908768 mm..0.0991232 mm", lo, hi)
		}
		return
	}
	t.Error("no verdict on main bearing 3")
}

// TestPlanIsHeld: while something stands against the build the plan says so, and so do
// the steps of a bolt that must not go back.
func TestPlanIsHeld(t *testing.T) {
	text := render(t, record.Text, assess(t, "lock-gate"))
	for _, say := range []string{
		"Do not begin: 1 stop",
		"3a  HOLD: replace it first: it is scrap.",
		"2a  HOLD: not before it is proven good, or replaced.",
		"Stiffener bolts, stage 1 of 1, during stage 2 of main cap bolts",
		"Main cap bolts, stage 4 of 4; new bolts, used once",
	} {
		if !strings.Contains(text, say) {
			t.Errorf("the record does not say %q", say)
		}
	}
	if strings.Contains(text, "1a  HOLD") {
		t.Error("a bolt that is proven good is held")
	}
}

// TestLists: JSON has lists, empty ones too.
func TestLists(t *testing.T) {
	text := render(t, record.JSON, assessText(t, "x.toml", "title = \"x\"\n"))
	if strings.Contains(text, "null") {
		t.Errorf("null in\n%s", text)
	}
}

// TestHTMLEscapes: what a user types is text in the page, whatever it looks like.
func TestHTMLEscapes(t *testing.T) {
	const evil = `<script>alert(1)</script>`
	src := `title = "` + evil + `"
note = "` + evil + `"
[[passages]]
name = "` + evil + `"
state = "blocked"
[[bearings]]
name = "` + evil + `"
locations = ["` + evil + `"]
clearance = "0.02..0.04 mm"
[[bearings.readings]]
location = "` + evil + `"
bore = "50 ±0.001 mm"
upper_wall = "2 ±0.001 mm"
lower_wall = "2 ±0.001 mm"
journal = "45.97 ±0.001 mm"
[[tightening]]
group = "` + evil + `"
on = "` + evil + `"
bolts = ["` + evil + `", "b"]
stages = [{ torque = "9 N·m" }]
`
	page := render(t, record.HTML, assessText(t, "evil.toml", src))
	if strings.Contains(page, "<script") {
		t.Error("the page has a script element")
	}
	if n := strings.Count(page, "&lt;script&gt;"); n < 5 {
		t.Errorf("the page shows the text %d times, want 5 or more", n)
	}
}

// TestTextHasNoControl: escape sequences of a terminal do not reach it.
func TestTextHasNoControl(t *testing.T) {
	src := "title = \"a\\u001b[31mred\"\n[[passages]]\nname = \"p\\u0007\"\nstate = \"clean\"\n"
	text := render(t, record.Text, assessText(t, "evil.toml", src))
	if strings.ContainsAny(text, "\x1b\x07") {
		t.Errorf("control characters in the record: %q", text)
	}
}

func TestParseFormat(t *testing.T) {
	for _, f := range record.Formats() {
		got, err := record.ParseFormat(string(f))
		if err != nil || got != f {
			t.Errorf("ParseFormat(%q) = %q, %v", f, got, err)
		}
	}
	if _, err := record.ParseFormat("pdf"); err == nil || !strings.Contains(err.Error(), "text, json or html") {
		t.Errorf("ParseFormat(pdf): %v", err)
	}
}
