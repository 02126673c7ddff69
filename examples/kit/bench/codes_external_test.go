package bench_test

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/bench"
	"example.com/closefit/examples/kit/job"
)

// Rows of codes, where they begin, names of stations and what a job says of itself are stored in place, read back as
// they were typed, and undone to the same bytes.
func TestSetTexts(t *testing.T) {
	for _, test := range []struct {
		name, job string
		edits     []bench.Edit
		want      []string // in the text after all of them
	}{
		{"codes", "lock-gate", []bench.Edit{
			{Key: bench.Codes, Line: "main", Place: "upper", Was: "84 78 90 78 84", Now: "84 78 ? 78 90"},
			{Key: bench.Begins, Line: "main", Place: "upper", Was: "?", Now: "5"},
			{Key: bench.Begins, Line: "main", Place: "upper", Was: "5", Now: "?"},
			{Key: bench.Codes, Line: "main", Place: "lower", Was: "88 94 82 94 88", Now: "?"},
		}, []string{"  upper = \"84 78 ? 78 90\"\n", "  lower = \"?\"\n", `begins = ""`}},
		{"the right way up", "all-proven", []bench.Edit{
			{Key: bench.Upright, Line: "main", Place: "upper", Was: "?", Now: "yes"},
			{Key: bench.Upright, Line: "main", Place: "lower", Was: "?", Now: "yes"},
			{Key: bench.Upright, Line: "main", Place: "lower", Was: "yes", Now: "?"},
		}, []string{`upper_row = { begins = "1", upright = true }`, `lower_row = { begins = "1", upright = false }`}},
		{"about", "slate-saw", []bench.Edit{
			{Key: bench.About, Place: "title", Was: "Slate saw, three-cylinder engine", Now: "Slate saw, 3,5 litres"},
			{Key: bench.About, Place: "build", Was: "new shells", Now: `the "second" rebuild`},
			{Key: bench.About, Place: "by", Was: "the saw shed's fitter", Now: "the apprentice"},
		}, []string{`"Slate saw, 3,5 litres"`, `build = "the \"second\" rebuild"`, `"the apprentice"`}},
		{"stations", "lock-gate", []bench.Edit{
			{Key: bench.Planes, Line: "main journal", Was: "?", Now: "front;rear"},
			{Key: bench.Directions, Line: "main journal", Was: "?", Now: "along the crank; across it"},
			{Key: bench.Planes, Line: "main journal", Was: "front; rear", Now: "?"},
		}, []string{"planes = []", `directions = ["along the crank", "across it"]`}},
	} {
		src, _ := job.Demonstration(test.job)
		for eol, text := range map[string][]byte{"lines": src, "lines with returns": bytes.ReplaceAll(src, []byte("\n"), []byte("\r\n"))} {
			s := bench.Source{Name: "j", Text: text}
			var changes []bench.Change
			for _, e := range test.edits {
				out, change, err := bench.Set(s, e)
				if err != nil {
					t.Fatalf("%s, %s, %+v: %v", test.name, eol, e, err)
				}
				if n := len(lines(out)) - len(lines(s.Text)); n < 0 || n > 1 {
					t.Errorf("%s, %s, %+v: %d lines more", test.name, eol, e, n)
				}
				s.Text, changes = out, append(changes, change)
			}
			for _, want := range test.want {
				if !strings.Contains(strings.ReplaceAll(string(s.Text), "\r\n", "\n"), want) {
					t.Errorf("%s, %s: no %s", test.name, eol, want)
				}
			}
			for i := len(changes) - 1; i >= 0; i-- {
				back, _, err := bench.Undo(s, changes[i])
				if err != nil {
					t.Fatal(err)
				}
				s.Text = back
			}
			if !bytes.Equal(s.Text, text) {
				t.Errorf("%s, %s: all undone, it is not what it was", test.name, eol)
			}
		}
	}
}

func TestSetTextsRefuses(t *testing.T) {
	src, _ := job.Demonstration("lock-gate")
	s := bench.Source{Name: "j", Text: src}
	codes := bench.Edit{Key: bench.Codes, Line: "main", Place: "upper", Was: "84 78 90 78 84"}
	for _, test := range []struct {
		name string
		edit bench.Edit
		now  string
		kind error
		want string
	}{
		{"a code that the scheme does not have", codes, "84 78 91 78 84", nil, "91"},
		{"a code too few", codes, "84 78 90 78", nil, "4 codes"},
		{"somebody else typed", bench.Edit{Key: bench.Codes, Line: "main", Place: "upper", Was: "?"}, "84 78 90 78 84", bench.ErrOther, ""},
		{"codes of shells that are not there", bench.Edit{Key: bench.Codes, Line: "rod", Place: "upper", Was: "?"}, "1", bench.ErrNoPlace, ""},
		{"a beginning that is no end", bench.Edit{Key: bench.Begins, Line: "main", Place: "upper", Was: "?"}, "3", nil, "one of its ends"},
		{"neither upright nor not", bench.Edit{Key: bench.Upright, Line: "main", Place: "upper", Was: "?"}, "perhaps", nil, "perhaps"},
		{"no title", bench.Edit{Key: bench.About, Place: "title", Was: "Lock gate, four-cylinder engine"}, "", nil, "title"},
		{"nothing of the job", bench.Edit{Key: bench.About, Place: "witness", Was: "?"}, "x", bench.ErrNoPlace, ""},
		{"stations of a clearance", bench.Edit{Key: bench.Planes, Line: "main bearing clearance", Was: "?"}, "a; b", bench.ErrNoPlace, ""},
		{"a plane twice", bench.Edit{Key: bench.Planes, Line: "main journal", Was: "?"}, "top; top", nil, "top"},
	} {
		test.edit.Now = test.now
		if out, _, err := bench.Set(s, test.edit); out != nil || err == nil || !strings.Contains(err.Error(), test.want) || test.kind != nil && !errors.Is(err, test.kind) {
			t.Errorf("%s: %v", test.name, err)
		}
	}
}

// While a row is typed each location says at once which shells it gets, or why none; less than the row is not stored.
func TestTryCodes(t *testing.T) {
	src, _ := job.Demonstration("all-proven")
	set := bench.Questions()
	ask := func(doc []byte) []byte { return set.Answer(t.Context(), doc) }
	var view bench.View
	if wrong := asks(t, ask, "bench open", bench.OpenQuestion{Name: "j", Text: string(src), Beside: map[string]string{}}, &view); wrong != "" {
		t.Fatal(wrong)
	}
	// [shells.main] of the job: L is oats above, R is rye below; K rye, S oats; M barley; T barley.
	for text, want := range map[string]struct{ problem, says, html string }{
		"L K M L K": {"", "5 of 5 have their shells.", "upper barley, lower oats"},
		"L K":       {"3 more", "2 of 5", "upper oats, lower rye"},
		"L K ? L K": {"", "4 of 5 have their shells.", "not legible"},
		"L K X L K": {"X", "X", "X"},
	} {
		var v bench.Verdict
		e := bench.Edit{Key: bench.Codes, Line: "main", Place: "upper", Was: "L K M L K", Now: text}
		if wrong := asks(t, ask, "bench try", bench.EditQuestion{Revision: view.Revision, Edit: e}, &v); wrong != "" {
			t.Fatal(wrong)
		}
		if (v.Problem == "") != (want.problem == "") || !strings.Contains(v.Problem, want.problem) || !strings.Contains(v.Says, want.says) || !strings.Contains(v.HTML, want.html) {
			t.Errorf("%s: %+v", text, v)
		}
	}
}

// A row that is another upside down asks which way up it stands, on the spot, and no more once that is said.
func TestTryCodesUpsideDown(t *testing.T) {
	src, _ := job.Demonstration("all-proven")
	text := strings.NewReplacer(`lower = "R S S T R"`, `lower = "?"`, `lower = { R = "rye", S = "oats", T = "barley" }`, `lower = { 6 = "rye", 8 = "oats", 9 = "barley" }`).Replace(string(src))
	asked := func(upright string) (v bench.Verdict) {
		t.Helper()
		text := strings.Replace(text, `lower_row = { begins = "1" }`, `lower_row = { begins = "1"`+upright+` }`, 1)
		set := bench.Questions()
		ask := func(doc []byte) []byte { return set.Answer(t.Context(), doc) }
		var view bench.View
		if wrong := asks(t, ask, "bench open", bench.OpenQuestion{Name: "j", Text: text, Beside: map[string]string{}}, &view); wrong != "" {
			t.Fatal(wrong)
		}
		e := bench.Edit{Key: bench.Codes, Line: "main", Place: "lower", Was: "?", Now: "6 8 8 9 6"}
		if wrong := asks(t, ask, "bench try", bench.EditQuestion{Revision: view.Revision, Edit: e}, &v); wrong != "" {
			t.Fatal(wrong)
		}
		return v
	}
	if v := asked(""); !strings.Contains(v.Says, "reads upside down as well") || !strings.Contains(v.HTML, `data-fact-key="upright"`) {
		t.Errorf("%+v", v)
	}
	if v := asked(", upright = true"); strings.Contains(v.Says, "upside down") || v.Problem != "" || !strings.Contains(v.Says, "5 of 5 have") {
		t.Errorf("%+v", v)
	}
}
