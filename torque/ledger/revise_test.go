package ledger

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.com/closefit/torque"
	"example.com/closefit/units"
)

var corrected = Word{"the builder", "the plan had a typing error"}

// drawWalk draws a walk of up to so many events, in which no step is begun at the end.
func drawWalk(t *rapid.T, most int) *walkTest {
	w := newWalk(drawPlan(t))
	w.drawBeginning(t)
	for range rapid.IntRange(1, most).Draw(t, "events") {
		w.now = w.now.Add(time.Duration(rapid.IntRange(0, 5).Draw(t, "minutes")) * time.Minute)
		_ = w.say(w.draw(t))
	}
	if w.p.open != 0 {
		if err := w.say(w.p.goesWrong(What{Mishap: NotMoved, Step: w.p.open})); err != nil {
			t.Fatal(err)
		}
	}
	return w
}

// TestAnotherTitle: a plan that differs by its name alone carries everything over: done,
// skipped and failed steps, bolts in trouble, the tool, notes.
func TestAnotherTitle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := drawWalk(t, 80)
		plan, err := torque.NewPlan("drawn, and the name put right", w.plan.Groups()...)
		if err != nil {
			t.Fatal(err)
		}
		before := *w.p
		if changes := w.p.changes(plan); len(changes) != 0 {
			t.Fatalf("%+v", changes)
		}
		if err := w.say(revises(plan, nil, corrected)); err != nil {
			t.Fatal(err)
		}
		after := w.p
		same := func(what string, a, b any) {
			if fmt.Sprintf("%+v", a) != fmt.Sprintf("%+v", b) {
				t.Fatalf("%s was %+v and is %+v", what, a, b)
			}
		}
		carried := slices.Clone(before.status)
		ready := true // whether all pulls so far are done: a pause after one that is not is made again
		for i, s := range plan.Steps() {
			ready = ready && (s.IsPause() || carried[i] == Done)
			if s.IsPause() && !ready || carried[i] == Failed {
				carried[i] = Pending
			}
		}
		same("status", carried, after.status)
		same("trouble", before.troubles(), after.troubles())
		same("the tool", before.tool, after.tool)
		for _, name := range names(plan) {
			same(name, before.standOf(name), after.standOf(name))
			same(name+" replaced", before.replaced[name], after.replaced[name])
		}
		if after.plan.Name() != plan.Name() {
			t.Fatal("the plan is the old one")
		}
		w.plan = plan
		w.finish(t, nil)
	})
}

// stagesOf makes the stages of a corrected group from words: "20 60 +90 -90 0", a torque, a
// turn, a back-off by an angle and one until free.
func stagesOf(words string) (stages []torque.Stage) {
	for _, word := range strings.Fields(words) {
		var n int64
		fmt.Sscan(word, &n)
		switch {
		case word[0] == '+':
			stages = append(stages, turnBy(n))
		case word[0] == '-':
			stages = append(stages, backOffBy(-n))
		case n == 0:
			stages = append(stages, freely)
		default:
			stages = append(stages, tighten(n))
		}
	}
	return stages
}

// TestChoices: what may be chosen for the first bolt of a row, and what is done of it then.
func TestChoices(t *testing.T) {
	for _, tt := range []struct {
		name     string
		use      torque.BoltUse
		was, is  string
		done     int    // of the first bolt's pulls
		choices  string // empty where it carries over
		left     int    // of its new pulls, done once it is left
		finished int    // likewise, once it is finished
	}{
		{"nothing done", torque.SingleUse, "20 +90", "25 +75", 0, "", 0, 0},
		{"the same so far", torque.SingleUse, "20 +90", "20 +75", 1, "", 1, 0},
		{"the same, and more", torque.Reusable, "20 +60", "20 +60 +30", 2, "", 2, 0},
		{"a higher torque", torque.NotSaid, "20 45", "25 45", 1, "[leave finish back off replace]", 1, 0},
		{"a higher torque of two", torque.NotSaid, "20 45", "20 50", 2, "[leave finish back off replace]", 2, 1},
		{"a lower torque", torque.NotSaid, "20 45", "18 45", 1, "[leave back off replace]", 1, 0},
		{"a lower torque, overtaken", torque.NotSaid, "20 45", "18 45", 2, "[leave back off replace]", 2, 0},
		{"the first torque corrected when the second was given", torque.NotSaid, "20 45", "50 60", 2, "[leave finish back off replace]", 2, 0},
		{"a stage put in", torque.NotSaid, "20 45", "20 30 45", 2, "[leave back off replace]", 2, 0},
		{"a stage put in, not yet passed", torque.NotSaid, "20 45", "20 30 45", 1, "", 1, 0},
		{"a stage taken out", torque.NotSaid, "20 30 45", "20 45", 2, "[leave finish back off replace]", 2, 1},
		{"the last stage taken out, reached", torque.NotSaid, "20 45", "20", 2, "[leave back off replace]", 1, 0},
		{"spent by its torque", torque.SingleUse, "20 45", "20 50", 2, "[leave finish replace]", 2, 1},
		{"a smaller turn", torque.SingleUse, "20 +90", "20 +75", 2, "[leave replace]", 2, 0},
		{"a smaller turn, reusable", torque.Reusable, "20 +90", "20 +75", 2, "[leave back off replace]", 2, 0},
		{"a snug torque corrected after the turn", torque.SingleUse, "20 +90", "25 +90", 2, "[leave replace]", 2, 0},
		{"a snug torque corrected before the turn", torque.SingleUse, "20 +90", "25 +90", 1, "[leave finish back off replace]", 1, 0},
		{"a turn parted in two: it had the whole", torque.SingleUse, "20 +90", "20 +60 +30", 2, "[leave replace]", 3, 0},
		{"two turns corrected, the second not given", torque.SingleUse, "20 +60 +30", "20 +45 +45", 2, "[replace]", 0, 0},
		{"the first of two turns corrected", torque.SingleUse, "20 +60 +30", "20 +45 +30", 2, "[leave replace]", 2, 0},
		{"a turn in place of a torque", torque.Reusable, "20 45", "20 +60", 2, "[leave back off replace]", 2, 0},
		{"a turn in place of a torque that is not the last", torque.Reusable, "20 45 60", "20 +60", 2, "[back off replace]", 0, 0},
		{"a back-off taken out after it was done", torque.Reusable, "20 0 25 45", "20 30 45", 3, "[back off replace]", 0, 0},
		{"a back-off put in", torque.Reusable, "20 45", "20 0 45", 2, "[leave back off replace]", 3, 0},
	} {
		t.Run(tt.name, func(t *testing.T) {
			group := func(words string) torque.Group { return row(tt.use, stagesOf(words)...) }
			w := newWalk(planned(t, "was", group(tt.was)))
			for _, n := range w.p.standOf("a").steps[:tt.done] {
				w.upTo(t, n+1)
			}
			is := planned(t, "is", group(tt.is))
			var got Change
			for _, c := range w.p.changes(is) {
				if c.Bolt == "a" {
					got = c
				}
			}
			if text := fmt.Sprint(got.Choices); tt.choices != "" && text != tt.choices || tt.choices == "" && got.Bolt != "" {
				t.Fatalf("%s of %+v, want %s", text, got, tt.choices)
			}
			if tt.choices == "" {
				got.Choices = []Choice{0}
			} else if words := len(strings.Split(got.Was, ",")); words != tt.done || got.Is == "" {
				t.Errorf("%+v", got)
			}
			for _, choice := range got.Choices {
				again := w.again(t)
				choices := map[string]Choice{"a": choice}
				if choice == 0 {
					choices = map[string]Choice{}
				}
				for _, c := range w.p.changes(is) {
					if c.Bolt == "b" {
						choices["b"] = Replace
					}
				}
				again.must(t, revises(is, choices, corrected))
				want := map[Choice]int{0: tt.left, Leave: tt.left, Finish: tt.finished}[choice]
				if at := again.p.standOf("a"); at.done != want || again.p.replaced["a"] != (choice == Replace) || len(again.p.troubled) != 0 {
					t.Errorf("%v: %d done, replaced %v; want %d", choice, at.done, again.p.replaced["a"], want)
				}
			}
		})
	}
}

// again walks the same way with a progress of its own.
func (w *walkTest) again(t testing.TB) *walkTest {
	t.Helper()
	made := newWalk(w.plan)
	for _, h := range w.said {
		made.now = h.at
		made.must(t, h)
	}
	return made
}

// TestRevisionRefuses: every bolt needs its choice, and nothing happens by half.
func TestRevisionRefuses(t *testing.T) {
	was := planned(t, "was", row(torque.SingleUse, tighten(20), turnBy(90)))
	is := planned(t, "is", row(torque.SingleUse, tighten(20), turnBy(75)))
	w := newWalk(was)
	w.upTo(t, 4) // a is turned, b is snug
	before := w.p.state()
	for name, h := range map[string]happening{
		"nobody chose":          revises(is, nil, corrected),
		"an impossible choice":  revises(is, map[string]Choice{"a": BackOff}, corrected),
		"another impossible":    revises(is, map[string]Choice{"a": Finish}, corrected),
		"a choice for no need":  revises(is, map[string]Choice{"a": Leave, "b": Replace}, corrected),
		"a choice for no bolt":  revises(is, map[string]Choice{"a": Leave, "c": Replace}, corrected),
		"no choice that is one": revises(is, map[string]Choice{"a": 9}, corrected),
		"no word":               revises(is, map[string]Choice{"a": Leave}, Word{}),
		"no plan":               revises(nil, map[string]Choice{"a": Leave}, corrected),
		"no detail":             {event: revise},
		"of a step":             {event: revise, step: 1, bolt: "a", detail: revises(is, map[string]Choice{"a": Leave}, corrected).detail},
		"too long":              {event: revise, detail: strings.Repeat(" ", longestRevision+1)},
	} {
		if err := w.say(h); !errors.Is(err, ErrRefused) || w.p.state() != before {
			t.Errorf("%s: %v", name, err)
		}
	}
	w.must(t, revises(is, map[string]Choice{"a": Leave}, corrected))
	if next, _ := w.p.nextStep(); next.Number != 4 || next.Brief() != "+75°" {
		t.Errorf("%v is next", next)
	}
}

// TestBoltRenamed: a bolt written otherwise by case or blanks carries over. By another name it
// is one that is gone and one that is new, and is not begun again unless somebody says so.
func TestBoltRenamed(t *testing.T) {
	group := func(first string) torque.Group {
		return torque.Group{Name: "row", Pattern: torque.Row(first, "b"), Order: torque.Rows, Use: torque.SingleUse, Stages: []torque.Stage{tighten(20), turnBy(90)}}
	}
	w := newWalk(planned(t, "was", group("main 1 left")))
	w.upTo(t, 4)
	if changes := w.p.changes(planned(t, "is", group("Main 1left"))); len(changes) != 0 {
		t.Errorf("%+v", changes)
	}
	is := planned(t, "is", group("1L"))
	changes := w.p.changes(is)
	if len(changes) != 2 || changes[0].Bolt != "main 1 left" || changes[0].Is != "" || changes[1].Bolt != "1L" || changes[1].Was != "" ||
		!slices.Equal(changes[0].Choices, []Choice{Leave, Replace}) || !slices.Equal(changes[1].Choices, []Choice{Leave, Replace}) {
		t.Fatalf("%+v", changes)
	}
	w.must(t, revises(is, map[string]Choice{"main 1 left": Leave, "1L": Leave}, corrected))
	if next, _ := w.p.nextStep(); next.Number != 4 {
		t.Errorf("%v is next, and 1L has had all", next)
	}
}

// TestPulledOutOfItsTurn: b was given 45 N·m instead of a, which was to be its next. Under a plan
// that gives it less, that is more than it should have, and somebody has to say what becomes of it.
func TestPulledOutOfItsTurn(t *testing.T) {
	w := newWalk(planned(t, "was", row(torque.NotSaid, tighten(45), tighten(60))))
	w.must(t, w.p.begins(1, uptime{}))
	w.must(t, w.p.goesWrong(What{Mishap: WrongBolt, Step: 1, Bolt: "b"}))
	if c := w.p.changes(planned(t, "is", row(torque.NotSaid, tighten(45), tighten(60), tighten(60)))); len(c) != 1 || fmt.Sprint(c[0].Choices) != "[leave finish back off replace]" {
		t.Errorf("%+v", c)
	}
	is := planned(t, "is", row(torque.NotSaid, tighten(30), tighten(60)))
	c := w.p.changes(is)
	if len(c) != 1 || c[0].Bolt != "b" || c[0].Was == "" || fmt.Sprint(c[0].Choices) != "[leave back off replace]" {
		t.Fatalf("%+v, want b asked about, and not to be finished at 30 N·m", c)
	}
	w.must(t, revises(is, map[string]Choice{"b": BackOff}, corrected))
	if at := w.p.standOf("b"); at.touched || at.torque.Sign() != 0 {
		t.Errorf("%+v, and it was backed off", at)
	}
}

// TestSingleUseAfterAll: bolts that the corrected plan says are used once are spent by what they
// had under the old one.
func TestSingleUseAfterAll(t *testing.T) {
	w := newWalk(planned(t, "was", row(torque.Reusable, tighten(20), turnBy(60))))
	w.upTo(t, 4)
	w.must(t, w.p.begins(4, uptime{}))
	w.must(t, w.p.goesWrong(What{Mishap: PartWay, Step: 4}))
	if got := w.p.troubles(); len(got) != 1 || got[0].Scrap {
		t.Fatalf("%+v", got)
	}
	w.must(t, revises(planned(t, "is", row(torque.SingleUse, tighten(20), turnBy(60))), nil, corrected))
	if got := w.p.troubles(); len(got) != 1 || got[0].Bolt != "b" || !got[0].Scrap {
		t.Errorf("%+v, want b replaced", got)
	}
	for _, name := range []string{"a", "b"} {
		if err := w.say(happening{event: loosen, bolt: name}); !errors.Is(err, ErrRefused) {
			t.Errorf("%s: %v, want it spent", name, err)
		}
	}
}

// TestDoubtStays: a bolt in doubt is in doubt under the corrected plan too, and cannot be left.
func TestDoubtStays(t *testing.T) {
	was := planned(t, "was", row(torque.SingleUse, tighten(20), turnBy(90)))
	w := newWalk(was)
	w.upTo(t, 3)
	w.must(t, w.p.begins(3, uptime{}))
	w.must(t, w.p.goesWrong(What{Mishap: Slipped, Step: 3}))
	before := w.again(t)
	same := planned(t, "is", row(torque.SingleUse, then(tighten(20), asks("Free?")), turnBy(75)))
	w.must(t, revises(same, nil, corrected))
	got := w.p.troubles()
	if len(got) != 2 || got[0].Bolt != "a" || !got[0].Scrap || got[0].Step != 4 || w.p.statusOf(4) != Unknown || got[1].Step != 4 {
		t.Errorf("%+v", got)
	}
	other := planned(t, "is", row(torque.SingleUse, tighten(25), turnBy(90)))
	for _, c := range before.p.changes(other) {
		want := map[string][]Choice{"a": {Replace}, "b": {Leave, Finish, BackOff, Replace}}[c.Bolt]
		if !slices.Equal(c.Choices, want) {
			t.Errorf("%+v, want %v", c, want)
		}
	}
	gone := planned(t, "is", torque.Group{Name: "row", Pattern: torque.Row("b"), Use: torque.SingleUse, Stages: []torque.Stage{tighten(20), turnBy(90)}})
	if c := before.p.changes(gone); len(c) != 1 || !slices.Equal(c[0].Choices, []Choice{Replace}) || !strings.Contains(c[0].Was, "in doubt") {
		t.Errorf("%+v", c)
	}
	before.must(t, revises(other, map[string]Choice{"a": Replace, "b": Finish}, corrected))
	if left := before.p.troubles(); len(left) != 1 || left[0].Bolt != "" {
		t.Errorf("%+v, want the tool alone", left)
	}
}

// TestRevisedCaps: a bolt that is backed off for the corrected plan takes its partner with it.
func TestRevisedCaps(t *testing.T) {
	w := newWalk(planned(t, "was", twoCaps(torque.Reusable, tighten(20), turnBy(60))))
	w.upTo(t, 6) // all snug, 1L turned
	is := planned(t, "is", twoCaps(torque.Reusable, tighten(20), turnBy(75)))
	w.must(t, revises(is, map[string]Choice{"1L": BackOff}, corrected))
	if got := w.p.troubles(); len(got) != 1 || got[0].Bolt != "1R" || got[0].Scrap || !got[0].Stays {
		t.Errorf("%+v, want 1R backed off too", got)
	}
}

// TestPausesCarryOver: a wait or a check stands for the same pulls alone.
func TestPausesCarryOver(t *testing.T) {
	group := func(last torque.Stage) torque.Group {
		g := row(torque.NotSaid, then(tighten(20), asks("Free?"), fiveMinutes), then(tighten(45), asks("Free?")), last)
		g.First = []torque.Action{asks("Oiled?")}
		return g
	}
	w := newWalk(planned(t, "was", group(tighten(60)))) // 1 oiled, 2-3, 4 free, 5 wait, 6-7, 8 free, 9-10
	w.upTo(t, 9)
	for _, tt := range []struct {
		name   string
		is     torque.Group
		chosen map[string]Choice
		next   int
	}{
		{"what comes after is corrected", group(tighten(65)), nil, 9},
		{"a question is asked otherwise", func() torque.Group {
			g := group(tighten(60))
			g.Stages[0].Then = []torque.Action{asks("Does it turn freely?"), fiveMinutes}
			return g
		}(), nil, 4},
		{"a bolt is new", group(tighten(60)), nil, 9},
		{"a pull before it is corrected", func() torque.Group { g := group(tighten(60)); g.Stages[1].Pull = tighten(50).Pull; return g }(), map[string]Choice{"a": Finish, "b": Finish}, 6},
		{"a pull before it is corrected, and left", func() torque.Group { g := group(tighten(60)); g.Stages[1].Pull = tighten(50).Pull; return g }(), map[string]Choice{"a": Leave, "b": Leave}, 8},
		{"a bolt is replaced", func() torque.Group { g := group(tighten(60)); g.Stages[1].Pull = tighten(50).Pull; return g }(), map[string]Choice{"a": Replace, "b": Leave}, 1},
	} {
		again := w.again(t)
		again.must(t, revises(planned(t, "is", tt.is), tt.chosen, corrected))
		if next, _ := again.p.nextStep(); next.Number != tt.next {
			t.Errorf("%s: %v is next, want step %d", tt.name, next, tt.next)
		}
	}
}

// TestEditedPlans: over random walks and random edits, no turn that is done is offered again
// unless somebody said that its bolt was backed off or is new; the revised plan can be finished;
// and it reads back as it was.
func TestEditedPlans(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := drawWalk(t, 60)
		plan, renamed := edited(t, w.plan)
		if plan == nil {
			return
		}
		before, first := w.p.state(), w.plan
		old := map[string]stand{}
		turnedBy := map[string]bool{}
		for _, name := range names(w.plan) {
			old[name] = w.p.standOf(name)
			turnedBy[name] = slices.ContainsFunc(pullsOf(w.plan, name)[:old[name].done], isTurn)
		}
		choices := map[string]Choice{}
		for _, c := range w.p.changes(plan) {
			if len(c.Choices) == 0 {
				t.Fatalf("%+v offers nothing", c)
			}
			choices[c.Bolt] = c.Choices[rapid.IntRange(0, len(c.Choices)-1).Draw(t, "choice")]
		}
		if w.p.state() != before {
			t.Fatal("to ask for the changes changes something")
		}
		inTrouble := slices.Clone(w.p.troubled)
		if err := w.say(revises(plan, choices, corrected)); err != nil {
			t.Fatal(err)
		}
		w.plan, w.bolts = plan, names(plan)
		for _, name := range names(plan) {
			was := renamed[name]
			chosen := choices[name]
			if chosen == BackOff || chosen == Replace || was == "" {
				continue
			}
			at := w.p.standOf(name)
			if was == name && slices.Contains(inTrouble, was) && !slices.Contains(w.p.troubled, name) {
				t.Fatalf("%s was in trouble, and nobody settled it", name)
			}
			most := min(old[was].done, len(at.steps))
			switch {
			case was == name && chosen == 0 && at.done != old[was].done, chosen == Leave && at.done < most:
				t.Fatalf("%s had %d pulls, and %d count: %+v", name, old[was].done, at.done, choices)
			case turnedBy[was] && chosen != Leave && !slices.EqualFunc(pullsOf(first, was)[:old[was].done], pullsOf(plan, name)[:most], sameExactly):
				t.Fatalf("%s was turned, and goes on from another pull: %+v", name, choices)
			}
		}
		again := newProgress(w.first)
		for _, h := range w.said {
			again.read(t, h)
		}
		if again.state() != w.p.state() {
			t.Fatalf("read again:\n%s, want\n%s", again.state(), w.p.state())
		}
		for range rapid.IntRange(0, 20).Draw(t, "events after") {
			_ = w.say(w.draw(t))
		}
		w.finish(t, nil)
	})
}

// edited returns a plan with random corrections, and the old name of each of its bolts; nil
// if it is no plan.
func edited(t *rapid.T, plan *torque.Plan) (made *torque.Plan, was map[string]string) {
	groups := plan.Groups()
	was = map[string]string{}
	for _, name := range names(plan) {
		was[name] = name
	}
	for range rapid.IntRange(1, 3).Draw(t, "edits") {
		g := &groups[rapid.IntRange(0, len(groups)-1).Draw(t, "group")]
		k := rapid.IntRange(0, len(g.Stages)-1).Draw(t, "stage")
		stage := &g.Stages[k]
		switch rapid.IntRange(0, 7).Draw(t, "edit") {
		case 0, 1: // another figure
			by := rapid.Int64Range(-5, 10).Draw(t, "by")
			if to, ok := torque.As[torque.Tighten](stage.Pull); ok {
				stage.Pull = torque.Do(torque.Tighten{To: to.To.Add(units.NewtonMetre.OfInt(by))})
			} else if turn, ok := torque.As[torque.Turn](stage.Pull); ok {
				stage.Pull = torque.Do(torque.Turn{By: turn.By.Add(units.Degree.OfInt(by))})
			}
		case 2: // a stage put in
			put := torque.Stage{Pull: rapid.SampledFrom([]torque.Action{tighten(24).Pull, turnBy(15).Pull}).Draw(t, "put")}
			g.Stages = slices.Insert(g.Stages, k, put)
		case 3: // a stage taken out
			g.Stages = slices.Delete(g.Stages, k, k+1)
			if len(g.Stages) == 0 {
				return nil, nil
			}
		case 4: // a bolt renamed
			i := rapid.IntRange(0, len(g.Pattern)-1).Draw(t, "bolt")
			name := g.Pattern[i].Bolt
			g.Pattern[i].Bolt = "new " + name
			was["new "+name] = was[name]
			delete(was, name)
		case 5: // a bolt taken out
			i := rapid.IntRange(0, len(g.Pattern)-1).Draw(t, "bolt")
			g.Pattern = slices.Delete(g.Pattern, i, i+1)
			if len(g.Pattern) == 0 {
				return nil, nil
			}
		case 6:
			stage.Then = []torque.Action{asks("Free, by hand?")}
		case 7:
			g.Use = rapid.SampledFrom([]torque.BoltUse{torque.SingleUse, torque.Reusable}).Draw(t, "use")
		}
	}
	made, err := torque.NewPlan("edited", groups...)
	if err != nil {
		return nil, nil
	}
	return made, was
}
