package bench_test

import (
	"bytes"
	"errors"
	"maps"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/examples/kit/bench"
	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/job/jobtest"
	"example.com/closefit/internal/thorough"
)

func init() { thorough.Checks(4) }

// readings are all that a job has.
func readings(t interface{ Fatal(...any) }, s bench.Source) (all []bench.Edit) {
	j, err := s.Read()
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range j.Measurables() {
		for _, p := range m.Places {
			all = append(all, bench.Edit{Key: bench.Reading, Line: m.Name, Place: p.Location, Was: p.Text, Sure: p.Sure})
		}
	}
	for _, b := range j.BoltPlaces() {
		if b.Judged != "" {
			all = append(all, bench.Edit{Key: bench.BoltLength, Line: b.Group, Place: b.Bolt, Was: b.Length})
		}
	}
	return all
}

// lines are a text's, with their ends.
func lines(text []byte) []string { return strings.SplitAfter(string(text), "\n") }

// An edit changes the line of its reading alone, is read back as it was typed, and its undoing gives
// the same bytes.
func TestSet(t *testing.T) {
	for _, name := range job.Demonstrations() {
		src, _ := job.Demonstration(name)
		for eol, text := range map[string][]byte{"lines": src, "lines with returns": bytes.ReplaceAll(src, []byte("\n"), []byte("\r\n"))} {
			t.Run(name+", "+eol, func(t *testing.T) { setAll(t, bench.Source{Name: "j", Text: text}, thorough.Step(29, 5)) })
		}
	}
}

func TestSetDrawn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { setAll(t, bench.Source{Name: "j", Text: []byte(jobtest.Draw(t).String())}, 17) })
}

// setAll opens each n-th reading of a job, and types it again.
func setAll(t interface {
	Helper()
	Fatal(...any)
	Fatalf(string, ...any)
}, s bench.Source, n int) {
	t.Helper()
	all := readings(t, s)
	if len(all) == 0 {
		t.Fatal("nothing is read")
	}
	for i := 0; i < len(all); i += n {
		e := all[i]
		typed := e.Was
		if e.Now = "?"; typed == "?" {
			continue
		}
		emptied, change, err := bench.Set(s, e)
		if err != nil {
			t.Fatalf("%+v: %v", e, err)
		}
		was, is := lines(s.Text), lines(emptied)
		if len(was) != len(is) {
			t.Fatalf("%+v: %d lines, and %d before", e, len(is), len(was))
		}
		changed := 0
		for k := range was {
			if was[k] != is[k] {
				changed++
			}
		}
		most := 1
		if e.Sure {
			most = 2 // its own line and that of sure
		}
		if changed == 0 || changed > most {
			t.Fatalf("%+v: %d lines changed", e, changed)
		}
		if back, _, err := bench.Undo(bench.Source{Name: "j", Text: emptied}, change); err != nil || !bytes.Equal(back, s.Text) {
			t.Fatalf("%+v: undone it is not what it was: %v", e, err)
		}
		again := e
		again.Was, again.Now, again.Sure = "?", typed, e.Sure
		out, _, err := bench.Set(bench.Source{Name: "j", Text: emptied}, again)
		if err != nil {
			t.Fatalf("%+v: %v", again, err)
		}
		if now, err := bench.Present(bench.Source{Name: "j", Text: out}, again); err != nil || now != typed {
			t.Fatalf("%+v: read back as %q, %v", again, now, err)
		}
	}
}

// blank is the job of an engine that was just begun.
func blank(t testing.TB) bench.Source {
	t.Helper()
	b := job.Beginning{Title: "An engine", Cylinders: "4", Mains: "5", Rings: "top ring, second ring", Passages: "main gallery, crankshaft drillings"}
	text, err := b.File()
	if err != nil {
		t.Fatal(err)
	}
	return bench.Source{Name: "engine.toml", Text: text}
}

// A job that was just begun takes everything, and each undone in turn gives it back.
func TestFromNothing(t *testing.T) {
	s := blank(t)
	first := s.Text
	var changes []bench.Change
	for _, e := range []bench.Edit{
		{Key: bench.Instrument, Line: "strip", Place: "crush strip", Was: "?", Now: "0.045; 0.060; 0.080 mm"},
		{Key: bench.Instrument, Line: "blades", Place: "feeler blades", Was: "?", Now: "0.05; 0.10; 0.15 mm"},
		{Key: bench.Instrument, Line: "micrometer", Place: "micrometer", Was: "?", Now: "0.002 mm"},
		{Key: bench.Limits, Line: "main bearing clearance", Was: "?", Now: "0.053..0.087 mm"},
		{Key: bench.Condition, Line: "main bearing clearance", Place: "oil", Was: "?", Now: "wiped off"},
		{Key: bench.With, Line: "main bearing clearance", Was: "?", Now: "strip"},
		{Key: bench.Reading, Line: "main bearing clearance", Place: "2", Was: "?", Now: "0.060..0.080 mm"},
		{Key: bench.Reading, Line: "passage", Place: "main gallery", Was: "?", Now: "clean"},
		{Key: bench.Reading, Line: "main journal", Place: "4", Was: "?", Now: "micrometer: 58.360 mm"},
		{Key: bench.Reading, Line: "main journal", Place: "4", Was: "micrometer: 58.360 mm", Now: "micrometer: 58.361 mm", Sure: true},
		{Key: bench.Reading, Line: "crankshaft end play", Place: "crankshaft", Was: "?", Now: "0.10..0.15 mm"},
	} {
		out, change, err := bench.Set(s, e)
		if err != nil {
			t.Fatalf("%+v: %v", e, err)
		}
		s.Text, changes = out, append(changes, change)
	}
	if want := "sure = [\"4\"]\n"; !strings.Contains(string(s.Text), want) {
		t.Errorf("no %q", want)
	}
	for i := len(changes) - 1; i >= 0; i-- {
		back, _, err := bench.Undo(s, changes[i])
		if err != nil {
			t.Fatal(err)
		}
		s.Text = back
	}
	if !bytes.Equal(s.Text, first) {
		t.Error("all undone, it is not what it was")
	}
}

// One bolt of a group of which the job says "all" is changed: the others are named, and stay as they were. It is
// said before it is stored.
func TestOneOfAll(t *testing.T) {
	src, _ := job.Demonstration("lock-gate")
	s := bench.Source{Name: "j", Text: src}
	states := func(s bench.Source) map[string]string {
		j, err := s.Read()
		if err != nil {
			t.Fatal(err)
		}
		all := map[string]string{}
		for _, b := range j.BoltPlaces() {
			all[b.Group+" "+b.Bolt] = b.State
		}
		return all
	}
	for state, is := range map[string]string{"scrap": "scrap", "?": ""} {
		e := bench.Edit{Key: bench.BoltState, Line: "main cap bolts", Place: "M2R", Was: "new", Now: state}
		want := states(s)
		if want["main cap bolts M2R"] != "new" {
			t.Fatalf("%v", want)
		}
		want["main cap bolts M2R"] = is
		out, change, err := bench.Set(s, e)
		if err != nil {
			t.Fatal(err)
		}
		after := bench.Source{Name: "j", Text: out}
		if got := states(after); !maps.Equal(got, want) {
			t.Errorf("%v, want %v", got, want)
		}
		if !bytes.Contains(out, []byte(`new = ["M1L", "M1R", "M2L", "M3L"`)) || bytes.Count(out, []byte("\n")) > bytes.Count(src, []byte("\n"))+1 {
			t.Errorf("more is changed than the list: %s", out)
		}
		if back, _, err := bench.Undo(after, change); err != nil || !bytes.Equal(back, src) {
			t.Errorf("undone it is not what it was: %v", err)
		}
		set := bench.Questions()
		ask := func(doc []byte) []byte { return set.Answer(t.Context(), doc) }
		var view bench.View
		var tried bench.Verdict
		if wrong := asks(t, ask, "bench open", bench.OpenQuestion{Name: "j", Text: string(src), Beside: map[string]string{}}, &view); wrong != "" {
			t.Fatal(wrong)
		}
		if wrong := asks(t, ask, "bench try", bench.EditQuestion{Revision: view.Revision, Edit: e}, &tried); wrong != "" || tried.Problem != "" || !strings.Contains(tried.Says, "the other 9") {
			t.Errorf("%q, %+v", wrong, tried)
		}
	}
}

func TestSetRefuses(t *testing.T) {
	src, _ := job.Demonstration("lock-gate")
	s := bench.Source{Name: "j", Text: src}
	journal := bench.Edit{Key: bench.Reading, Line: "main journal", Place: "3", Was: "58.360 mm"}
	for _, test := range []struct {
		name, now string
		change    func(*bench.Edit)
		kind      error
		want      string
	}{
		{name: "no reading", now: "much", want: "much"},
		{name: "a quotation mark", now: `"`, want: `"`},
		{name: "a quotation mark and a key", now: `58.360 mm"` + "\nx = \"", want: "cannot be seen|nobody can see"},
		{name: "a script", now: "<script>alert(1)</script>", want: "script"},
		{name: "an unseen sign", now: "58.36\x00 mm", want: "nobody can see"},
		{name: "a million", now: strings.Repeat("9", 1<<20) + " mm", want: "1048579 bytes"},
		{name: "a long number", now: strings.Repeat("9", 4000) + " mm", want: "9"},
		{name: "no UTF-8", now: "\xff", want: "UTF-8"},
		{name: "somebody else typed", now: "58.361 mm", change: func(e *bench.Edit) { e.Was = "?" }, kind: bench.ErrOther},
		{name: "no such place", now: "58.361 mm", change: func(e *bench.Edit) { e.Place = "9" }, kind: bench.ErrNoPlace},
		{name: "no such line", now: "58.361 mm", change: func(e *bench.Edit) { e.Line = "main journey" }, kind: bench.ErrNoPlace},
		{name: "no such key", now: "58.361 mm", change: func(e *bench.Edit) { e.Key = "title" }, kind: bench.ErrNoPlace},
		{name: "an instrument that is there", now: "0.1 mm", change: func(e *bench.Edit) {
			*e = bench.Edit{Key: bench.Instrument, Line: "dial", Place: "dial", Was: "?"}
		}, kind: bench.ErrOther},
		{name: "a bolt of no state", now: "good", change: func(e *bench.Edit) {
			*e = bench.Edit{Key: bench.BoltState, Line: "rod bolts", Place: "1a", Was: "?"}
		}, want: "new, sound or scrap"},
	} {
		e := journal
		e.Now = test.now
		if test.change != nil {
			test.change(&e)
			e.Now = test.now
		}
		out, _, err := bench.Set(s, e)
		said := false
		for want := range strings.SplitSeq(test.want, "|") {
			said = said || err != nil && strings.Contains(err.Error(), want)
		}
		if out != nil || err == nil || !said || test.kind != nil && !errors.Is(err, test.kind) {
			t.Errorf("%s: %.300v", test.name, err)
		}
	}
	if _, _, err := bench.Set(bench.Source{Name: "j", Text: []byte("title = \n")}, journal); err == nil {
		t.Error("a job that cannot be read takes a reading")
	}
}

// A change is undone after others, where they are elsewhere.
func TestUndo(t *testing.T) {
	src, _ := job.Demonstration("lock-gate")
	s := bench.Source{Name: "j", Text: src}
	set := func(place, was, now string) bench.Change {
		out, change, err := bench.Set(s, bench.Edit{Key: bench.Reading, Line: "main journal", Place: place, Was: was, Now: now})
		if err != nil {
			t.Fatal(err)
		}
		s.Text = out
		return change
	}
	first := set("3", "58.360 mm", "58.3605 mm")
	s.Text = append([]byte("# a remark by somebody else\n"), s.Text...)
	back, redo, err := bench.Undo(s, first)
	if err != nil || !bytes.Contains(back, []byte(`3 = "58.360 mm"`)) || !bytes.HasPrefix(back, []byte("# a remark")) {
		t.Fatalf("%v", err)
	}
	again, _, err := bench.Undo(bench.Source{Name: "j", Text: back}, redo)
	if err != nil || !bytes.Equal(again, s.Text) {
		t.Errorf("undone twice it is not what it was: %v", err)
	}
	set("3", "58.3605 mm", "58.361 mm")
	if out, _, err := bench.Undo(s, first); !errors.Is(err, bench.ErrGone) || out != nil {
		t.Errorf("what is no longer there is undone: %v", err)
	}
	for _, c := range []bench.Change{{}, {At: -1}, {At: math.MaxInt, In: "x"}, {In: string(s.Text), Out: "title = 1\n"}} {
		if out, _, err := bench.Undo(s, c); err == nil && !bytes.Equal(out, s.Text) {
			t.Errorf("%+v changes the job", c)
		}
	}
}

// A new instrument whose doubt is absurd is asked after before it is stored, in the words of the record, and stands once a
// person says so.
func TestAbsurdInstrumentIsAskedAfter(t *testing.T) {
	demo, _ := job.Demonstration("lock-gate")
	s := bench.Source{Name: "j.toml", Text: demo}
	set := bench.Questions()
	ask := func(doc []byte) []byte { return set.Answer(t.Context(), doc) }
	var view bench.View
	if problem := asks(t, ask, "bench open", bench.OpenQuestion{Name: "j.toml", Text: string(demo), Beside: map[string]string{}}, &view); problem != "" {
		t.Fatal(problem)
	}
	for text, asked := range map[string]string{"0.5 mm": "micrometer 2: it is said to be off by as much as ±0.5 mm, and one of the kind micrometer that is off by more than ±0.05 mm is broken", "0.002 mm": ""} {
		e := bench.Edit{Key: bench.Instrument, Line: "micrometer 2", Place: "micrometer", Was: "?", Now: text}
		var v bench.Verdict
		if problem := asks(t, ask, "bench try", bench.EditQuestion{Revision: view.Revision, Edit: e}, &v); problem != "" || v.Problem != "" || strings.Join(v.Slips, "") != asked {
			t.Errorf("%s: %q %+v", text, problem, v)
		}
		e.Sure = asked != ""
		out, _, err := bench.Set(s, e)
		if err != nil {
			t.Fatal(err)
		}
		after, err := bench.Source{Name: "j.toml", Text: out}.Read()
		if err != nil || after.AskedOf("micrometer 2") != "" || strings.Contains(string(out), `sure = ["uncertainty"]`) != e.Sure {
			t.Errorf("%s, and it stands: %v, %q", text, err, after.AskedOf("micrometer 2"))
		}
	}
}
