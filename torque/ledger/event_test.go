package ledger

import (
	"errors"
	"strings"
	"testing"

	"example.com/closefit/torque"
	"example.com/closefit/units"
)

// TestEventWords: each event has a word of its own that finds it again, and each mishap an
// event.
func TestEventWords(t *testing.T) {
	for e := begin; e < events; e++ {
		if e.String() == "" || parseEvent([]byte(e.String())) != e || strings.ContainsAny(e.String(), "\t\n") {
			t.Errorf("event %d is written %q", e, e)
		}
	}
	for _, m := range Mishaps() {
		if got, ok := m.event().mishap(); !ok || got != m || m.event().String() != m.String() || m.Ask() == "" {
			t.Errorf("%v is the event %v of %v", m, m.event(), got)
		}
	}
	if _, ok := note.mishap(); ok || parseEvent([]byte("hold")) != noEvent || Mishap(0).Ask() != "" || Mishap(0).String() != "no mishap" {
		t.Error("what is no mishap is taken for one")
	}
}

// TestNothingElseIsRecorded: what no program of this package could have recorded is refused,
// so that a line that was made up is found when it is read.
func TestNothingElseIsRecorded(t *testing.T) {
	plan := planned(t, "small", twoCaps(torque.SingleUse, then(tighten(20), asks("Free?"), fiveMinutes), turnBy(90)))
	begun := func(n int) *walkTest {
		w := newWalk(plan)
		w.upTo(t, n)
		w.must(t, w.p.begins(n, uptime{}))
		return w
	}
	word := compact(Word{"the builder", "it holds"})
	for _, tt := range []struct {
		name string
		h    happening
		at   int // the step that is begun
		kind error
	}{
		{"no event", happening{}, 1, ErrRefused},
		{"an event that is none", happening{event: events}, 1, ErrRefused},
		{"a plan in the middle", happening{event: firstPlan, detail: "{}"}, 1, ErrRefused},
		{"another bolt's name", happening{event: finish, step: 1, bolt: "1R"}, 1, ErrNotInPlan},
		{"a pause with a bolt", happening{event: finish, step: 5, bolt: "1R"}, 5, ErrNotInPlan},
		{"step 0", happening{event: finish}, 1, ErrNotInPlan},
		{"no such step", happening{event: finish, step: 99}, 1, ErrNotInPlan},
		{"a pull answered no", happening{event: answerNo, step: 1, bolt: "1L"}, 1, ErrRefused},
		{"a pull skipped", happening{event: skip, step: 1, bolt: "1L"}, 1, ErrRefused},
		{"a check skipped", happening{event: skip, step: 5}, 5, ErrRefused},
		{"a check answered no, with a detail", happening{event: answerNo, step: 5, detail: word}, 5, ErrRefused},
		{"replaced in a step", happening{event: replace, step: 1, bolt: "1L"}, 1, ErrRefused},
		{"replaced with a detail", happening{event: replace, bolt: "1L", detail: word}, 1, ErrRefused},
		{"another one replaced while a step is begun", happening{event: replace, bolt: "1R"}, 1, ErrRefused},
		{"no such bolt", happening{event: replace, bolt: "1l"}, 1, ErrNotInPlan},
		{"no bolt", happening{event: loosen}, 1, ErrNotInPlan},
		{"doubt without a reason", happening{event: doubt, bolt: "1L"}, 1, ErrRefused},
		{"kept without trouble", happening{event: keep, bolt: "1L", detail: word}, 1, ErrRefused},
		{"a tool of a step", happening{event: useTool, step: 1, bolt: "1L", detail: compact(Tool{Name: "wrench"})}, 1, ErrRefused},
		{"a tool without a name", usesTool(Tool{Set: "20 N·m"}), 1, ErrRefused},
		{"a tool on two lines", usesTool(Tool{Name: "wrench", Certificate: "a\nb"}), 1, ErrRefused},
		{"a note of a bolt", happening{event: note, bolt: "1L", detail: "x"}, 1, ErrRefused},
		{"a note of nothing", happening{event: note}, 1, ErrRefused},
		{"a note that looks like none", happening{event: note, detail: "-"}, 1, ErrRefused},
		{"a note with a tab", happening{event: note, detail: "a\tb"}, 1, ErrRefused},
		{"a note that is not UTF-8", happening{event: note, detail: "\xff"}, 1, ErrRefused},
		{"a note too long", happening{event: note, detail: strings.Repeat("x", longestText+1)}, 1, ErrRefused},
		{"taken over without a word", takesOver(Word{}, "the witness is behind"), 1, ErrRefused},
		{"taken over with a word and more", happening{event: takeOver, detail: strings.Replace(compact(takenOver{"a", "b", "c"}), "}", `,"d":1}`, 1)}, 1, ErrRefused},
		{"a mishap with an empty detail", happening{event: NotMoved.event(), step: 1, bolt: "1L", detail: compact(other{})}, 1, ErrRefused},
		{"a mishap with blanks in its detail", happening{event: WrongBolt.event(), step: 1, bolt: "1L", detail: `{"bolt": "1R","instead":0}`}, 1, ErrRefused},
		{"part-way with a bolt", happening{event: PartWay.event(), step: 1, bolt: "1L", detail: compact(other{"1R", 0})}, 1, ErrRefused},
		{"the wrong bolt, its own", happening{event: WrongBolt.event(), step: 1, bolt: "1L", detail: compact(other{"1L", 0})}, 1, ErrRefused},
		{"the wrong bolt, of another plan", happening{event: WrongBolt.event(), step: 1, bolt: "1L", detail: compact(other{"3L", 0})}, 1, ErrNotInPlan},
		{"the wrong bolt, not named", happening{event: WrongBolt.event(), step: 1, bolt: "1L"}, 1, ErrRefused},
		{"the wrong step, its own", happening{event: WrongStep.event(), step: 1, bolt: "1L", detail: compact(other{"", 1})}, 1, ErrRefused},
		{"the wrong step, not named", happening{event: WrongStep.event(), step: 1, bolt: "1L"}, 1, ErrRefused},
		{"the wrong step, of another plan", happening{event: WrongStep.event(), step: 1, bolt: "1L", detail: compact(other{"", 77})}, 1, ErrNotInPlan},
		{"a mishap of a step that is not begun", happening{event: PartWay.event(), step: 2, bolt: "1R"}, 1, ErrRefused},
		{"too soon, of a step that is not done", happening{event: TooSoonPartWay.event(), step: 2, bolt: "1R"}, 1, ErrRefused},
		{"too soon, while a step is begun", happening{event: TooSoonPartWay.event(), step: 1, bolt: "1L"}, 2, ErrRefused},
		{"revised while a step is begun", revises(plan, nil, Word{"a", "b"}), 1, ErrRefused},
	} {
		t.Run(tt.name, func(t *testing.T) {
			w := begun(tt.at)
			before := w.p.state()
			if err := w.say(tt.h); !errors.Is(err, tt.kind) {
				t.Errorf("%v, want %v", err, tt.kind)
			}
			var e *units.Error
			if err := w.p.check(tt.h); !errors.As(err, &e) || e.Found == "" || e.Fix == "" {
				t.Errorf("%v does not say what to do", err)
			}
			if w.p.state() != before {
				t.Error("it changed something")
			}
		})
	}
}

// TestMishapsThatAreNone: a number that is no mishap is refused and does not panic.
func TestMishapsThatAreNone(t *testing.T) {
	w := newWalk(waitPlan(t))
	w.must(t, w.p.begins(1, uptime{}))
	for _, m := range []Mishap{0, mishaps, 200} {
		if err := w.say(w.p.goesWrong(What{Mishap: m, Step: 1})); !errors.Is(err, ErrRefused) {
			t.Errorf("%d: %v", m, err)
		}
	}
}

// TestReached: what was reached is kept with the end of a step as it was said, and what nobody
// can have measured is refused.
func TestReached(t *testing.T) {
	torques, angles := units.MustParse[units.TorqueInterval], units.MustParse[units.AngleInterval]
	plan := planned(t, "small", twoCaps(torque.SingleUse, then(tighten(20), asks("Free?")), turnBy(90)))
	for _, tt := range []struct {
		name string
		step int
		r    Reached
		ok   bool
	}{
		{"nothing", 1, Reached{}, true},
		{"a torque", 1, Reached{Torque: torques("19.6..20.1 N·m")}, true},
		{"a torque and an angle of a torque", 1, Reached{torques("20 N·m"), angles("170..190°"), "the builder"}, true},
		{"a turn", 6, Reached{torques("38 N·m"), angles("90°"), "the builder <a&b>"}, true},
		{"who looked", 5, Reached{By: "the builder"}, true},
		{"a torque of a check", 5, Reached{Torque: torques("20 N·m")}, false},
		{"an angle of a check", 5, Reached{Angle: angles("20°")}, false},
		{"no end", 1, Reached{Torque: torques(">= 20 N·m")}, false},
		{"a torque below zero", 1, Reached{Torque: torques("-2 N·m")}, false},
		{"an angle below zero", 6, Reached{Angle: angles("-2°")}, false},
		{"a name on two lines", 1, Reached{By: "a\nb"}, false},
	} {
		w := newWalk(plan)
		w.upTo(t, tt.step)
		w.must(t, w.p.begins(tt.step, uptime{}))
		h := w.p.ends(tt.step, tt.r)
		if (h.detail == "") != tt.r.none() {
			t.Errorf("%s: the detail is %q", tt.name, h.detail)
		}
		if err := w.say(h); (err == nil) != tt.ok {
			t.Errorf("%s: %v", tt.name, err)
		}
		if tt.ok && h.detail != "" {
			if back, err := detailOf[Reached](h); err != nil || compact(back) != h.detail || back.By != tt.r.By || !back.Torque.Equal(tt.r.Torque) || !back.Angle.Equal(tt.r.Angle) {
				t.Errorf("%s: %s comes back as %+v, %v", tt.name, h.detail, back, err)
			}
		}
	}
}

// TestParseWord reads who and why.
func TestParseWord(t *testing.T) {
	if w, err := ParseWord(" the builder : it came so: new "); err != nil || w != (Word{"the builder", "it came so: new"}) {
		t.Errorf("%+v, %v", w, err)
	}
	for _, bad := range []string{"", ":", "the builder", "the builder:", ": because", "a: b\tc", "a\x00: b"} {
		if w, err := ParseWord(bad); err == nil || w != (Word{}) {
			t.Errorf("%q is read as %+v, %v", bad, w, err)
		}
	}
}

// TestFailedCheck: a check answered no stays next; nothing after it begins until it is
// answered yes.
func TestFailedCheck(t *testing.T) {
	w := newWalk(planned(t, "small", twoCaps(torque.Reusable, then(tighten(20), asks("Free?")), turnBy(90))))
	w.upTo(t, 5)
	w.must(t, w.p.begins(5, uptime{}))
	w.must(t, w.p.on(answerNo, 5))
	if next, _ := w.p.nextStep(); next.Number != 5 || w.p.statusOf(5) != Failed {
		t.Fatalf("step %d is next, and the check is %v", next.Number, w.p.statusOf(5))
	}
	for _, h := range []happening{w.p.begins(6, uptime{}), w.p.ends(5, Reached{}), w.p.on(answerNo, 5), w.p.goesWrong(What{Mishap: TooSoonNotMoved, Step: 5})} {
		if err := w.say(h); !errors.Is(err, ErrRefused) {
			t.Errorf("%v: %v, want it refused", h.event, err)
		}
	}
	// What is wrong is mended: a bolt is loosened and pulled again, and the check is asked again.
	w.must(t, happening{event: loosen, bolt: "2R"})
	w.must(t, happening{event: loosen, bolt: "2L"})
	if w.p.statusOf(5) != Pending {
		t.Errorf("the check is %v", w.p.statusOf(5))
	}
	w.upTo(t, 5) // 3 and 4
	w.must(t, w.p.begins(5, uptime{}))
	w.must(t, w.p.on(answerNo, 5))
	w.must(t, w.p.begins(5, uptime{}))
	w.must(t, w.p.ends(5, Reached{By: "the builder"}))
	w.must(t, w.p.begins(6, uptime{}))
}

// TestDoubtAtTheEnd: a plan of which all is done is not finished while a bolt is in doubt.
func TestDoubtAtTheEnd(t *testing.T) {
	w := newWalk(planned(t, "small", twoCaps(torque.SingleUse, tighten(20), turnBy(90))))
	w.upTo(t, 9)
	if _, more := w.p.nextStep(); more {
		t.Fatal("not finished")
	}
	w.must(t, doubts("2L", "the witness has more of it"))
	if next, more := w.p.nextStep(); !more || next.Bolt != "2L" {
		t.Errorf("%v, %v is next, want what 2L begins with", next, more)
	}
}

// TestReplacedBoltBeginsAfresh: what is said of a step is said of the bolt as it is fitted.
func TestReplacedBoltBeginsAfresh(t *testing.T) {
	w := newWalk(planned(t, "row", row(torque.SingleUse, tighten(20), turnBy(90))))
	w.upTo(t, 4)
	w.must(t, happening{event: replace, bolt: "a"})
	if err := w.say(w.p.goesWrong(What{Mishap: TooSoonPartWay, Step: 3})); !errors.Is(err, ErrRefused) {
		t.Errorf("%v: the turn of the bolt that is gone is of no matter", err)
	}
	w.must(t, happening{event: loosen, bolt: "a"}) // the new one has had nothing
	w.upTo(t, 2)
	if next, _ := w.p.nextStep(); next.Number != 3 {
		t.Fatalf("%v is next", next)
	}
	w.must(t, w.p.goesWrong(What{Mishap: TooSoonNotMoved, Step: 1}))
	if len(w.p.troubles()) != 0 || w.p.next != 0 {
		t.Errorf("%+v, and step %d is next", w.p.troubles(), w.p.next+1)
	}
}

// TestMishapSaidTwice: the second time there is nothing begun to say it of.
func TestMishapSaidTwice(t *testing.T) {
	for _, m := range []What{{Mishap: PartWay, Step: 3}, {Mishap: NotMoved, Step: 3}, {Mishap: Slipped, Step: 3}, {Mishap: WrongBolt, Step: 3, Bolt: "b"}, {Mishap: WrongStep, Step: 3, Instead: 4}} {
		w := newWalk(planned(t, "row", row(torque.SingleUse, tighten(20), turnBy(90))))
		w.upTo(t, 3)
		w.must(t, w.p.begins(3, uptime{}))
		w.must(t, w.p.goesWrong(m))
		before := w.p.state()
		if err := w.say(w.p.goesWrong(m)); !errors.Is(err, ErrRefused) || w.p.state() != before {
			t.Errorf("%v twice: %v", m.Mishap, err)
		}
	}
}

// TestSkippedAfterAll: a wait that was skipped may be waited for after all.
func TestSkippedAfterAll(t *testing.T) {
	w := newWalk(waitPlan(t))
	w.upTo(t, 2)
	w.must(t, w.p.begins(2, uptime{}))
	w.must(t, w.p.on(skip, 2))
	w.upTo(t, 4)
	w.must(t, w.p.goesWrong(What{Mishap: TooSoonNotMoved, Step: 2}))
	if next, _ := w.p.nextStep(); next.Number != 2 || w.p.skips != 0 || w.p.statusOf(3) != Done {
		t.Errorf("%v is next, %d skipped", next, w.p.skips)
	}
}

// FuzzHappening: whatever a line says is taken in or refused, and what is taken in can go on.
func FuzzHappening(f *testing.F) {
	plan := planned(f, "small", twoCaps(torque.SingleUse, then(tighten(20), asks("Free?"), fiveMinutes), turnBy(90)), other2(torque.Reusable, tighten(20), freely, tighten(9), turnBy(30)))
	f.Add(uint8(begin), 6, "", compact(uptime{thisBoot, 7}), 5)
	f.Add(uint8(finish), 1, "1L", `{"torque":"20 N·m","angle":null,"by":""}`, 0)
	f.Add(uint8(WrongBolt.event()), 1, "1L", compact(other{"c", 0}), 0)
	f.Add(uint8(WrongStep.event()), 7, "1L", compact(other{"", 2}), 6)
	f.Add(uint8(keep), 0, "1L", compact(Word{"a", "b"}), 9)
	f.Add(uint8(useTool), 0, "", compact(Tool{"a", "", ""}), 3)
	f.Add(uint8(takeOver), 0, "", compact(takenOver{"a", "b", "c"}), 3)
	f.Add(uint8(doubt), 0, "c", "it was turned", 3)
	f.Add(uint8(revise), 0, "", revises(plan, nil, corrected).detail, 30)
	f.Fuzz(func(t *testing.T, e uint8, step int, bolt, detail string, done int) {
		w := newWalk(plan)
		w.upTo(t, min(done, len(w.p.status))+1)
		if next, ok := w.p.nextStep(); ok && event(e) != begin && event(e) != revise {
			w.must(t, w.p.begins(next.Number, uptime{}))
		}
		before := w.p.state()
		if err := w.say(happening{event: event(e), step: step, bolt: bolt, detail: detail}); err != nil && w.p.state() != before {
			t.Errorf("%v, and yet it changed something", err)
		}
		for _, trouble := range w.p.troubles() {
			if _, err := w.p.plan.StepsOf(trouble.Bolt); err != nil && trouble.Bolt != "" {
				t.Errorf("%+v is of no bolt", trouble)
			}
		}
	})
}
