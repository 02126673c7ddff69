package record_test

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/job/jobtest"
	"example.com/closefit/examples/kit/record"
	"example.com/closefit/internal/thorough"
	"example.com/closefit/units"
)

var update = flag.Bool("update", false, "write the golden records and the schema instead of comparing with them")

func init() { record.RewriteSchema = func() bool { return *update } }

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

// withFilms is an assessment with its films.
func withFilms(name, src string) (*job.Assessment, error) {
	j, err := job.Read(name, []byte(src))
	if err != nil {
		return nil, err
	}
	a, err := j.Assess(context.Background())
	if err != nil {
		return nil, err
	}
	a.Films, err = j.Films(context.Background(), a)
	return a, err
}

// filmed is the demonstration that has a film, and as it is with an oil by its grade, clearances without a film, and no pump.
func filmed(t *testing.T) map[string]*job.Assessment {
	t.Helper()
	thorough.SkipRaced(t)
	all, err := filmedOnce()
	if err != nil {
		t.Fatal(err)
	}
	return all
}

var filmedOnce = sync.OnceValues(func() (map[string]*job.Assessment, error) {
	src, err := job.Demonstration("lock-gate")
	if err != nil {
		return nil, err
	}
	graded := strings.NewReplacer(`name = "the lock's engine oil", cool = "104 mm²/s at 40 °C", warm = "14.1 mm²/s at 100 °C"`, `grade = "15W-40"`,
		`load = "2.4 kN"`, `load = "240 kN"`, "pump = { delivery", "#pump = { delivery", "roughness = ", "#roughness = ").Replace(string(src))
	all := map[string]*job.Assessment{}
	sources := map[string]string{"lock-gate-film": string(src)}
	if thorough.Whole() {
		sources["film by grade"] = graded
	}
	for name, src := range sources {
		if all[name], err = withFilms(name+".toml", src); err != nil {
			return nil, err
		}
	}
	return all, nil
})

// TestGoldenFilm compares the text of a record with films with the one that was read and kept.
func TestGoldenFilm(t *testing.T) {
	text := render(t, record.Text, filmed(t)["lock-gate-film"])
	from, to := strings.Index(text, "\nOIL FILM"), strings.Index(text, "\nWORKING")
	if from < 0 || to < from {
		t.Fatal("no film before the working")
	}
	got := text[from:to]
	golden := filepath.Join("testdata", "lock-gate-film.txt")
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
		t.Errorf("the film changed (-kept +new); read it, then go test -update:\n%s", diff)
	}
}

// TestFilmSays: with every film stands the caution, that a load swings, and why a clearance has no film; no word of a verdict.
func TestFilmSays(t *testing.T) {
	for name, a := range filmed(t) {
		text := render(t, record.Text, a)
		from, to := strings.Index(text, "\nOIL FILM"), strings.Index(text, "\nWORKING")
		said := strings.Join(strings.Fields(text[from:to]), " ")
		page := render(t, record.HTML, a)
		for i := range a.Films {
			section := page[strings.Index(page, fmt.Sprintf(`<h2 id="film%d"`, i+1)):]
			section, _, _ = strings.Cut(section, "</section>")
			if n, charts := strings.Count(section, job.FilmCaution)+strings.Count(section, strings.ReplaceAll(job.FilmCaution, "'", "&#39;")), strings.Count(section, "<svg"); charts < 4 || n != charts+1 {
				t.Errorf("%s: the caution %d times beside %d charts", name, n, charts)
			}
		}
		if n := strings.Count(said, job.FilmCaution); n != len(a.Films) {
			t.Errorf("%s: the caution %d times", name, n)
		}
		for _, word := range []string{"conforming", "undecided", "proven", "PASS"} {
			if strings.Contains(said, word) {
				t.Errorf("%s: a film says %q", name, word)
			}
		}
		if !strings.Contains(said, "swings") {
			t.Errorf("%s: no word of the load that swings", name)
		}
		if name == "film by grade" && (!strings.Contains(said, "no film: ") || !strings.Contains(page, "no film: ")) {
			t.Errorf("%s: a clearance without a film is not said", name)
		}
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

// TestWidth: the text record fits a terminal of 80 columns, whatever names it has.
func TestWidth(t *testing.T) {
	all := pages(t)
	for _, name := range job.Demonstrations() {
		all[name] = assess(t, name)
	}
	for name, a := range filmed(t) {
		all[name] = a
	}
	for name, a := range all {
		for line := range strings.Lines(render(t, record.Text, a)) {
			if n := len([]rune(strings.TrimRight(line, "\n"))); n > 80 {
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
	a := assess(t, "lock-gate")
	text := strings.Join(strings.Fields(render(t, record.Text, a)), " ")
	for _, say := range []string{
		fmt.Sprintf("Do not begin: %d things stand against it.", len(a.Gate(job.Final).Shut)),
		"3a HOLD: scrap: fit a new one. Then tighten to 10 N·m",
		"2a HOLD: prove it good first, or replace it (0.030..0.210 mm, limits at most 0.130 mm). Then tighten to",
		"2a HOLD, as at step 54. Then mark the bolt",
		"Stiffener bolts, stage 1 of 1, during stage 2 of main cap bolts",
		"Main cap bolts, stage 4 of 4; new bolts, used once",
	} {
		if !strings.Contains(text, say) {
			t.Errorf("the record does not say %q", say)
		}
	}
	if strings.Contains(text, "1a HOLD") {
		t.Error("a bolt that is proven good is held")
	}
}

// small is a whole file, of which nothing is read.
const small = `title = "TITLE"
[engine]
cylinders = ["ROD"]
mains = ["front", "MAIN"]
thrust = "front"
rings = ["RING"]
passages = ["PASSAGE"]
`

// TestLists: JSON has lists, empty ones too.
func TestLists(t *testing.T) {
	var d map[string]json.RawMessage
	if err := json.Unmarshal([]byte(render(t, record.JSON, assessText(t, "x.toml", small))), &d); err != nil {
		t.Fatal(err)
	}
	for key, value := range d {
		if string(value) == "null" {
			t.Errorf("%s is null", key)
		}
	}
	if first := render(t, record.JSON, assessText(t, "x.toml", small)); !strings.HasPrefix(first, "{\n\"closefit\":2,\n") {
		t.Errorf("it begins %.30q", first)
	}
}

// TestEscapes: what a user types is text in the page and in the picture, whatever it looks like.
func TestEscapes(t *testing.T) {
	const evil = `<script>alert(1)</script>`
	src := strings.NewReplacer("TITLE", evil, "ROD", evil, "MAIN", evil, "RING", evil, "PASSAGE", evil).Replace(small) + `
[measure."main bearing clearance"]
limits = "0.02..0.04 mm"
[measure."main bore"]
readings = { "` + evil + `" = "50 ±0.001 mm" }
[measure."main upper wall thickness"]
readings = { "` + evil + `" = "2 ±0.001 mm" }
[measure."main lower wall thickness"]
readings = { "` + evil + `" = "2 ±0.001 mm" }
[measure."main journal"]
readings = { "` + evil + `" = "45.97 ±0.001 mm" }
[[tightening]]
group = "` + evil + `"
on = "` + evil + `"
bolts = ["` + evil + `", "b"]
stages = [{ torque = "9 N·m", check = "` + evil + `?" }]
[[accepted]]
what = "passage ` + evil + `"
by = "` + evil + `"
reason = "` + evil + `"
`
	a := assessText(t, "evil.toml", src)
	for _, f := range []record.Format{record.HTML, record.SVG} {
		page := render(t, f, a)
		if strings.Contains(page, "<script") {
			t.Errorf("%s has a script element", f)
		}
		if n := strings.Count(page, "&lt;script&gt;"); n < 8 {
			t.Errorf("%s shows the text %d times, want 8 or more", f, n)
		}
	}
}

// TestTextHasNoControl: escape sequences of a terminal do not reach it.
func TestTextHasNoControl(t *testing.T) {
	src := strings.NewReplacer("TITLE", `a\u001b[31mred`, "PASSAGE", `p\u0007`, "ROD", "1", "MAIN", "rear", "RING", "ring").Replace(small)
	a := assessText(t, "evil.toml", src)
	for _, f := range []record.Format{record.Text, record.SVG} {
		if text := render(t, f, a); strings.ContainsAny(text, "\x1b\x07") {
			t.Errorf("%s: control characters in the record: %q", f, text)
		}
	}
}

// TestCardSaysWhoAccepted: what was accepted or left out stands on the card with who and why,
// and nothing calls it proven.
func TestCardSaysWhoAccepted(t *testing.T) {
	src, err := job.Demonstration("lock-gate")
	if err != nil {
		t.Fatal(err)
	}
	a := assessText(t, "accepted.toml", string(src)+`
[[accepted]]
what = "main bearing 3 clearance"
by = "the foreman"
reason = "a display engine, never run"
[[left_out]]
what = "passage"
by = "the apprentice"
reason = "no compressed air here"
`)
	text := strings.Join(strings.Fields(render(t, record.Text, a)), " ")
	page := render(t, record.HTML, a)
	for _, say := range []string{
		"main bearing 3 clearance (wrong): accepted by the foreman: a display engine, never run",
		"passage (not measured): left out by the apprentice: no compressed air here",
		"wrong, accepted",
	} {
		if card, _, _ := strings.Cut(text, "WHAT TO DO NEXT"); !strings.Contains(card, say) {
			t.Errorf("the card in text does not say %q:\n%s", say, card)
		}
		if card, _, _ := strings.Cut(page, "<nav"); !strings.Contains(card, say) {
			t.Errorf("the card of the page does not say %q", say)
		}
	}
	if a.Proven() || strings.Contains(text, "clearance (proven)") {
		t.Error("what was accepted is called proven")
	}
}

func TestParseFormat(t *testing.T) {
	for _, f := range append(record.Formats(), record.SVG) {
		got, err := record.ParseFormat(string(f), record.SVG)
		if err != nil || got != f {
			t.Errorf("ParseFormat(%q) = %q, %v", f, got, err)
		}
	}
	if _, err := record.ParseFormat("pdf", record.SVG); err == nil || !strings.Contains(err.Error(), "text, json or html, or svg") {
		t.Errorf("ParseFormat(pdf): %v", err)
	}
}

// pages are the records that are looked at: an engine in millimetres and one in inches with
// a trial assembly, and where everything is tried twelve cylinders of which nothing is read, and the
// same read, with long names.
func pages(t *testing.T) map[string]*job.Assessment {
	list := map[string]*job.Assessment{"lock-gate": assess(t, "lock-gate"), "dredger": assess(t, "dredger")}
	if !thorough.Whole() {
		return list
	}
	twelve := jobtest.Twelve()
	list["twelve, nothing read"] = assessText(t, "open.toml", unread(twelve))
	list["long names"] = assessText(t, "long.toml", strings.NewReplacer(
		"Twelve cylinders", "A twelve-cylinder engine whose "+strings.Repeat("very ", 30)+"long title tells its whole story",
		"\"ash\"", "\"Eschenholzlagerschalenhaelfte-0.25\"", "pair, ash", "pair, Eschenholzlagerschalenhaelfte-0.25", "main cap bolts", "the long bolts of the main bearing caps, inner and outer",
		"\"main gallery\"", "\"the main gallery of the left bank, behind the third plug\"").Replace(twelve))
	return list
}

// unread opens every reading of a job.
func unread(src string) string {
	var b strings.Builder
	inside := false
	for line := range strings.Lines(src) {
		if strings.HasPrefix(line, "[") {
			inside = strings.Contains(line, ".readings]")
		}
		if key, _, ok := strings.Cut(line, " = "); ok && (inside || key == "reading") {
			line = key + " = \"?\"\n"
		}
		b.WriteString(line)
	}
	return b.String()
}
