package bench_test

import (
	"encoding/json"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/bench"
	"example.com/closefit/examples/kit/job"
)

// asks asks a question of a session, and returns its answer.
func asks(t testing.TB, ask func([]byte) []byte, question string, with any, into any) string {
	t.Helper()
	text, err := json.Marshal(map[string]any{"closefit": 1, "question": question, "with": with})
	if err != nil {
		t.Fatal(err)
	}
	var reply struct {
		Answer json.RawMessage
		Error  struct{ Message string }
	}
	if err := json.Unmarshal(ask(text), &reply); err != nil {
		t.Fatal(err)
	}
	if into != nil && reply.Answer != nil {
		if err := json.Unmarshal(reply.Answer, into); err != nil {
			t.Fatal(err)
		}
	}
	return reply.Error.Message
}

// BenchmarkTry is one key of a reading, as the page asks it, and beside it the whole view that a program would
// make without Try.
func BenchmarkTry(b *testing.B) {
	src, _ := job.Demonstration("lock-gate")
	set := bench.Questions()
	ask := func(doc []byte) []byte { return set.Answer(b.Context(), doc) }
	var view bench.View
	open := bench.OpenQuestion{Name: "j", Text: string(src), Beside: map[string]string{}}
	if wrong := asks(b, ask, "bench open", open, &view); wrong != "" {
		b.Fatal(wrong)
	}
	edit := bench.EditQuestion{Revision: view.Revision, Edit: bench.Edit{Key: bench.Reading, Line: "main journal", Place: "3", Was: "58.360 mm", Now: "58.361 mm"}}
	b.Run("a key", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if wrong := asks(b, ask, "bench try", edit, nil); wrong != "" {
				b.Fatal(wrong)
			}
		}
	})
	b.Run("the whole view", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if wrong := asks(b, ask, "bench open", open, nil); wrong != "" {
				b.Fatal(wrong)
			}
		}
	})
}

// A session answers for the text that it holds, and for no other.
func TestSession(t *testing.T) {
	src, _ := job.Demonstration("lock-gate")
	set := bench.Questions()
	ask := func(doc []byte) []byte { return set.Answer(t.Context(), doc) }
	edit := bench.Edit{Key: bench.Reading, Line: "main journal", Place: "3", Was: "58.360 mm", Now: "58.361 mm"}
	if wrong := asks(t, ask, "bench try", bench.EditQuestion{Revision: "x", Edit: edit}, nil); !strings.Contains(wrong, "not open") {
		t.Errorf("nothing is open: %s", wrong)
	}
	var view bench.View
	if wrong := asks(t, ask, "bench open", bench.OpenQuestion{Name: "j", Text: string(src), Beside: map[string]string{}}, &view); wrong != "" {
		t.Fatal(wrong)
	}
	if view.Proven == 0 || view.Proven >= view.Asked || !strings.Contains(view.Engine, `data-at="main 3"`) || !strings.Contains(view.Next, "feed to the jets") {
		t.Errorf("%d of %d; %s", view.Proven, view.Asked, view.Next)
	}
	var verdict bench.Verdict
	if wrong := asks(t, ask, "bench try", bench.EditQuestion{Revision: view.Revision, Edit: edit}, &verdict); wrong != "" || verdict.Problem != "" || !strings.Contains(verdict.HTML, "<svg") || verdict.Says == "" {
		t.Errorf("%s %+v", wrong, verdict)
	}
	edit.Now = "5.8361 mm"
	if asks(t, ask, "bench try", bench.EditQuestion{Revision: view.Revision, Edit: edit}, &verdict); len(verdict.Slips) == 0 {
		t.Errorf("a slip is not asked after: %+v", verdict)
	}
	edit.Now = "58.361 mm"
	var changed bench.Changed
	if wrong := asks(t, ask, "bench set", bench.EditQuestion{Revision: view.Revision, Edit: edit}, &changed); wrong != "" || !strings.Contains(changed.Text, "58.361 mm") {
		t.Fatalf("%s", wrong)
	}
	if wrong := asks(t, ask, "bench undo", bench.UndoQuestion{Revision: view.Revision, Change: changed.Change}, nil); !strings.Contains(wrong, "not open") {
		t.Errorf("an old text is changed: %s", wrong)
	}
	if wrong := asks(t, ask, "bench undo", bench.UndoQuestion{Revision: changed.View.Revision, Change: changed.Change}, &changed); wrong != "" || changed.Text != string(src) {
		t.Errorf("%s", wrong)
	}
	// Every place of the drawing and every reading on it can be opened.
	j, _ := job.Read("j", src)
	for _, m := range j.Measurables() {
		for _, p := range m.Places {
			for _, in := range append(m.Instruments, job.Instrument{}) {
				var sheet bench.Sheet
				if wrong := asks(t, ask, "bench sheet", bench.SheetQuestion{Revision: changed.View.Revision, Key: bench.Reading, Line: m.Name, Place: p.Location, With: in.Name}, &sheet); wrong != "" || sheet.Was != p.Text || !strings.Contains(sheet.HTML, "<h2") {
					t.Errorf("%s with %q: %s", p.Name, in.Name, wrong)
				}
			}
		}
	}
}

// A file that is no job is refused in words for somebody who picked it and never saw into it: which line, what stands there,
// and what to do.
func TestRefusedInWords(t *testing.T) {
	demo, _ := job.Demonstration("lock-gate")
	for _, test := range []struct{ text, says string }{
		{strings.Replace(string(demo), "\nmains = ", "\nwheels = 3\nmains = ", 1), `of it has the word "wheels" in what it says of the engine, which no job has there; known are name, cylinders`},
		{strings.Replace(string(demo), `"0.053..0.087 mm"`, `"0.053..0.087 mn"`, 1), `is wrong about limits of main bearing clearance: "0.053..0.087 mn", column 14: "mn", which is no unit; write one of mm`},
		{"PK\x03\x04 a packed sheet", "Line 1 of it is not written as in a job file: "},
		{"", "The file is no whole job: title: missing; write title = \"...\". There is one more. Choose another file, or mend this one in a text editor."},
	} {
		_, err := (&bench.Session{}).Open(t.Context(), bench.OpenQuestion{Name: "j.toml", Text: test.text})
		if err == nil || !strings.Contains(err.Error(), test.says) {
			t.Errorf("%.20q: %v", test.text, err)
		} else if strings.Contains(err.Error(), "unknown key") {
			t.Errorf("it speaks of keys: %v", err)
		}
	}
}

// TestNothingToBuy: a job that chooses no shells says so, and one that does shows them.
func TestNothingToBuy(t *testing.T) {
	for name, chooses := range map[string]bool{"ferry-winch": false, "lock-gate": true} {
		src, _ := job.Demonstration(name)
		v, err := new(bench.Session).Open(t.Context(), bench.OpenQuestion{Name: name + ".toml", Text: string(src), Beside: map[string]string{}})
		if err != nil {
			t.Fatal(err)
		}
		if says := strings.Contains(v.Shopping, "chooses no shells"); says == chooses || !strings.Contains(v.Shopping, "<") {
			t.Errorf("%s: %q", name, v.Shopping)
		}
	}
}
