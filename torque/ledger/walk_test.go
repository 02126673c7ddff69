package ledger

import (
	"errors"
	"fmt"
	"reflect"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.com/closefit/internal/thorough"
	"example.com/closefit/torque"
	"example.com/closefit/units"
)

// tighten, turnBy, backOffBy and freely are stages.
func tighten(nm int64) torque.Stage {
	return torque.Stage{Pull: torque.Do(torque.Tighten{To: units.NewtonMetre.OfInt(nm)})}
}

func turnBy(degrees int64) torque.Stage {
	return torque.Stage{Pull: torque.Do(torque.Turn{By: units.Degree.OfInt(degrees)})}
}

func backOffBy(degrees int64) torque.Stage {
	return torque.Stage{Pull: torque.Do(torque.BackOff{By: units.Degree.OfInt(degrees)})}
}

var freely = torque.Stage{Pull: torque.Do(torque.BackOff{})}

func asks(question string) torque.Action { return torque.Do(torque.Inspection{Ask: question}) }

var fiveMinutes = torque.Do(torque.Wait{For: 5 * time.Minute})

// planned makes a plan that has to be good.
func planned(t testing.TB, name string, groups ...torque.Group) *torque.Plan {
	t.Helper()
	plan, err := torque.NewPlan(name, groups...)
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

// ways are ways to tighten a group, with its use.
var ways = []struct {
	use    torque.BoltUse
	stages []torque.Stage
}{
	{torque.SingleUse, []torque.Stage{tighten(20), turnBy(90)}},
	{torque.SingleUse, []torque.Stage{tighten(20), tighten(60), turnBy(60), turnBy(45)}},
	{torque.SingleUse, []torque.Stage{tighten(25), freely, tighten(25), tighten(70)}},
	{torque.SingleUse, []torque.Stage{tighten(15), backOffBy(90), tighten(15), turnBy(55), tighten(75)}},
	{torque.Reusable, []torque.Stage{tighten(20), turnBy(60)}},
	{torque.Reusable, []torque.Stage{tighten(20), freely, tighten(25), turnBy(30), turnBy(30)}},
	{torque.Reusable, []torque.Stage{tighten(20), turnBy(40), backOffBy(90), tighten(30), turnBy(35)}},
	{torque.NotSaid, []torque.Stage{tighten(9), tighten(22)}},
	{torque.NotSaid, []torque.Stage{tighten(30), freely, tighten(30), tighten(45)}},
}

// drawPlan draws a plan of up to three groups with caps, pauses, ties and every use.
func drawPlan(t *rapid.T) *torque.Plan {
	var groups []torque.Group
	for i := range rapid.IntRange(1, 3).Draw(t, "groups") {
		way := ways[rapid.IntRange(0, len(ways)-1).Draw(t, "way")]
		g := torque.Group{Name: fmt.Sprintf("group %d", i+1), Use: way.use}
		bolt := func(name string) string { return fmt.Sprintf("%d%s", i+1, name) }
		switch rapid.IntRange(0, 3).Draw(t, "pattern") {
		case 0:
			g.Pattern = torque.Row(bolt("a"), bolt("b"))
		case 1:
			g.Pattern = torque.Caps([]string{bolt("L"), bolt("R")}, []string{bolt("l2"), bolt("r2")})
		case 2:
			g.Pattern = torque.Caps([]string{bolt("L"), bolt("M"), bolt("R")})
		case 3:
			g.Pattern = torque.Caps([]string{bolt("L"), bolt("R")}, []string{bolt("l2"), bolt("r2")})
			g.Order = torque.CapByCap
		}
		if rapid.Bool().Draw(t, "first") {
			g.First = []torque.Action{asks("Oiled?"), fiveMinutes}[:rapid.IntRange(1, 2).Draw(t, "firsts")]
		}
		for _, stage := range way.stages {
			switch rapid.IntRange(0, 3).Draw(t, "then") {
			case 0:
				stage.Then = []torque.Action{asks("Free?")}
			case 1:
				stage.Then = []torque.Action{fiveMinutes}
			}
			g.Stages = append(g.Stages, stage)
		}
		if i > 0 && g.Order == nil && groups[i-1].Order == nil && rapid.Bool().Draw(t, "tied") {
			g.Stages[0].DuringGroup, g.Stages[0].DuringStage = groups[i-1].Name, len(groups[i-1].Stages)
		}
		groups = append(groups, g)
	}
	plan, err := torque.NewPlan("drawn", groups...)
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

// A walkTest is a random walk along a plan.
type walkTest struct {
	plan  *torque.Plan
	first *torque.Plan // before any was corrected
	p     *progress
	now   time.Time
	said  []happening
	bolts []string
}

func newWalk(plan *torque.Plan) *walkTest {
	return &walkTest{plan: plan, first: plan, p: newProgress(plan), now: time.Date(2026, 3, 1, 10, 0, 0, 0, time.UTC), bolts: names(plan)}
}

// mayHappen is what a walk draws from; nothing stands for going on.
var mayHappen = []event{noEvent, noEvent, noEvent, noEvent, noEvent, noEvent, noEvent, noEvent, noEvent, noEvent, noEvent, noEvent, noEvent, noEvent, noEvent, noEvent,
	replace, loosen, keep, skip, answerNo, firstMishap, firstMishap, firstMishap, firstMishap}

// drawBeginning goes some way without a mishap.
func (w *walkTest) drawBeginning(t *rapid.T) {
	for range rapid.IntRange(0, len(w.p.status)).Draw(t, "steps before") {
		step, ok := w.p.nextStep()
		if !ok {
			return
		}
		for _, h := range []happening{w.p.begins(step.Number, uptime{}), w.p.ends(step.Number, Reached{})} {
			if err := w.say(h); err != nil {
				t.Fatal(err)
			}
			w.now = w.now.Add(time.Hour)
		}
	}
}

// draw draws something that may happen: mostly what is due, else anything.
func (w *walkTest) draw(t *rapid.T) happening {
	p := w.p
	step := p.open
	if next, ok := p.nextStep(); step == 0 && ok {
		step = next.Number
	}
	if rapid.IntRange(0, 4).Draw(t, "anywhere") == 4 {
		step = rapid.IntRange(0, len(p.status)+1).Draw(t, "step")
	}
	bolt := rapid.SampledFrom(append([]string{"nobody"}, w.bolts...)).Draw(t, "bolt")
	if len(p.troubled) > 0 && rapid.Bool().Draw(t, "mended") {
		bolt = rapid.SampledFrom(p.troubled).Draw(t, "troubled")
	}
	switch rapid.SampledFrom(mayHappen).Draw(t, "what") {
	default: // go on
		if p.open != 0 {
			return p.ends(step, Reached{})
		}
		if len(p.troubled) > 0 {
			if p.troubleOf(p.troubled[0]).Scrap {
				return happening{event: replace, bolt: p.troubled[0]}
			}
			return happening{event: loosen, bolt: p.troubled[0]}
		}
		if p.slipped {
			return usesTool(Tool{Name: "wrench"})
		}
		return p.begins(step, uptime{})
	case replace:
		return happening{event: replace, bolt: bolt}
	case loosen:
		return happening{event: loosen, bolt: bolt}
	case keep:
		return keeps(bolt, Word{"the builder", "the manual lets it stay"})
	case skip:
		if rapid.IntRange(0, 3).Draw(t, "doubt") == 3 {
			return doubts(bolt, "it was turned")
		}
		return p.on(skip, step)
	case answerNo:
		return p.on(answerNo, step)
	case firstMishap:
		what := What{Mishap: rapid.SampledFrom(Mishaps()).Draw(t, "mishap"), Step: step}
		if what.Mishap == TooSoonNotMoved || what.Mishap == TooSoonPartWay {
			what.Step = rapid.IntRange(0, len(p.status)).Draw(t, "step")
		}
		if (what.Mishap == WrongBolt) != (rapid.IntRange(0, 19).Draw(t, "odd") == 19) {
			what.Bolt = bolt
		}
		if (what.Mishap == WrongStep) != (rapid.IntRange(0, 19).Draw(t, "odd") == 19) {
			what.Instead = rapid.IntRange(0, len(p.status)+1).Draw(t, "instead")
			if s, ok := p.nextStep(); ok && rapid.Bool().Draw(t, "near") {
				what.Instead = s.Number + rapid.IntRange(0, 4).Draw(t, "ahead")
			}
		}
		return p.goesWrong(what)
	}
}

// say lets a happening happen if it may.
func (w *walkTest) say(h happening) error {
	h.at = w.now
	if err := w.p.check(h); err != nil {
		return err
	}
	w.p.apply(h)
	w.said = append(w.said, h)
	return nil
}

// state is all of a progress that counts, for comparing.
func (p *progress) state() string {
	text := fmt.Sprintf("%s %v %d %d %d %d %v %v %d %v %+v %q\n", p.plan.Digest(), p.status, p.next, p.done, p.skips, p.open, p.troubled, p.slipped, p.slippedIn, p.tool, p.troubles(), p.notes)
	for _, name := range names(p.plan) {
		at := p.standOf(name)
		text += fmt.Sprintf("%s %+v %v\n", name, at, p.replaced[name])
	}
	return text
}

// isKind reports whether an error is as the model has it.
func isKind(err, want error) bool {
	if err == nil || want == nil {
		return err == nil && want == nil
	}
	for _, kind := range []error{ErrInDoubt, ErrTooSoon, ErrNotInPlan} {
		if errors.Is(err, kind) != errors.Is(want, kind) {
			return false
		}
	}
	return errors.Is(err, ErrRefused) || errors.Is(err, ErrNotInPlan)
}

// TestAsThePlainModel: over random walks with every mishap the ledger's progress is that of
// the plain model, a refusal changes nothing, and reading what was recorded gives the same.
func TestAsThePlainModel(t *testing.T) {
	thorough.SkipRaced(t)
	rapid.Check(t, func(t *rapid.T) {
		w := newWalk(drawPlan(t))
		m := newPlain(w.plan)
		w.drawBeginning(t)
		for _, h := range w.said {
			if err := m.happen(h, h.at); err != nil {
				t.Fatal(err)
			}
		}
		for range rapid.IntRange(1, 120).Draw(t, "events") {
			w.now = w.now.Add(time.Duration(rapid.IntRange(0, 5).Draw(t, "minutes")) * time.Minute)
			h := w.draw(t)
			before := w.p.state()
			err := w.say(h)
			if want := m.happen(h, w.now); !isKind(err, want) {
				t.Fatalf("%v %d %q %s: %v, want %v", h.event, h.step, h.bolt, h.detail, err, want)
			}
			if err != nil && w.p.state() != before {
				t.Fatalf("refused, and yet changed from\n%s to\n%s", before, w.p.state())
			}
			if err := m.compare(w.p); err != nil {
				t.Fatalf("after %v %d %q %s: %v", h.event, h.step, h.bolt, h.detail, err)
			}
		}
		again := newProgress(w.plan)
		for _, h := range w.said {
			again.read(t, h)
		}
		if !reflect.DeepEqual(again.status, w.p.status) || again.state() != w.p.state() {
			t.Fatalf("read again:\n%s, want\n%s", again.state(), w.p.state())
		}
	})
}

// read takes a happening in as from a file.
func (p *progress) read(t *rapid.T, h happening) {
	at := h.at.Truncate(time.Second)
	h.at, h.up = time.Time{}, uptime{}
	if err := p.check(h); err != nil {
		t.Fatalf("%v was recorded, and is refused when it is read: %v", h, err)
	}
	h.at, h.late = at, time.Second
	p.apply(h)
}
