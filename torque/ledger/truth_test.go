package ledger

import (
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.com/closefit/internal/thorough"
	"example.com/closefit/torque"
)

// truth is what the metal knows: how often each turn was given to each bolt, whole or in part,
// since it was fitted or backed off by hand, if people say the truth of what they did.
type truth struct {
	plan    *torque.Plan
	given   map[string]map[int]int // bolt, step: how often the step's pull has moved it
	foreign map[string]bool        // bolts that were given a turn of another, or nobody knows what
	whole   map[int]bool           // steps that were done whole to the bolt as it is fitted
}

func newTruth(p *torque.Plan) *truth {
	tr := &truth{plan: p, given: map[string]map[int]int{}, foreign: map[string]bool{}, whole: map[int]bool{}}
	for _, name := range names(p) {
		tr.given[name] = map[int]int{}
	}
	return tr
}

// loose takes from a bolt what it had since its plan last freed it.
func (tr *truth) loose(bolt string) {
	numbers, _ := tr.plan.StepsOf(bolt)
	for _, n := range slices.Backward(numbers) {
		step, _ := tr.plan.Step(n)
		if word, _, _ := what(step); word == "free" && tr.whole[n] {
			return
		}
		delete(tr.whole, n)
	}
}

// ready reports whether a step is the next of its bolt that was not done whole.
func (tr *truth) ready(n int) bool {
	step, _ := tr.plan.Step(n)
	numbers, _ := tr.plan.StepsOf(step.Bolt)
	for _, m := range numbers {
		if !tr.whole[m] {
			return m == n
		}
	}
	return false
}

// tell takes in what happened, and fails where the ledger let something happen that harms.
func (tr *truth) tell(t *rapid.T, h happening) {
	var o other
	mishap, isMishap := h.event.mishap()
	if isMishap && h.detail != "" {
		o, _ = detailOf[other](h)
	}
	step, _ := tr.plan.Step(h.step)
	word, _, _ := what(step)
	moves := func(n int) {
		s, _ := tr.plan.Step(n)
		if s.Bolt != "" {
			tr.given[s.Bolt][n]++
		}
	}
	switch {
	case h.event == begin:
		if word == "turn" && (tr.given[step.Bolt][step.Number] > 0 || tr.foreign[step.Bolt]) {
			t.Fatalf("%v is begun, and it has been turned already", step)
		}
	case h.event == finish:
		moves(h.step)
		tr.whole[h.step] = true
	case h.event == skip:
		tr.whole[h.step] = true
	case h.event == doubt:
		tr.foreign[h.bolt] = true
	case h.event == replace, h.event == loosen:
		for n := range tr.given[h.bolt] {
			if s, _ := tr.plan.Step(n); h.event == loosen && s.Spends {
				t.Fatalf("%s is taken for usable, and step %d has spent it", h.bolt, n)
			}
		}
		tr.given[h.bolt], tr.foreign[h.bolt] = map[int]int{}, false
		numbers, _ := tr.plan.StepsOf(h.bolt)
		for _, n := range numbers {
			delete(tr.whole, n)
		}
	case !isMishap:
	case mishap == PartWay, mishap == Slipped, mishap == TooFar:
		moves(h.step)
	case mishap == WrongBolt:
		tr.foreign[o.Bolt] = tr.foreign[o.Bolt] || word == "turn"
		if word == "free" || word == "back off" {
			tr.loose(o.Bolt)
		}
	case mishap == WrongStep:
		did, _ := tr.plan.Step(o.Instead)
		if word, _, _ := what(did); (word == "free" || word == "back off") && !tr.ready(o.Instead) {
			tr.loose(did.Bolt)
		}
		moves(o.Instead)
		if tr.given[did.Bolt][o.Instead] == 1 {
			tr.whole[o.Instead] = true
		}
	case mishap == TooSoonNotMoved:
		delete(tr.whole, h.step)
		if step.Bolt != "" {
			if tr.given[step.Bolt][h.step]--; tr.given[step.Bolt][h.step] <= 0 {
				delete(tr.given[step.Bolt], h.step)
			}
		}
	case mishap == TooSoonPartWay:
		delete(tr.whole, h.step)
	}
}

// TestTheMetal: whatever people get wrong and say, no bolt is turned again by a turn that it
// has had, no spent bolt is taken for a good one, every plan can still be finished, and then
// every pull has been given whole to the bolt as it is fitted.
func TestTheMetal(t *testing.T) {
	thorough.SkipRaced(t)
	rapid.Check(t, func(t *rapid.T) {
		w := newWalk(drawPlan(t))
		tr := newTruth(w.plan)
		w.drawBeginning(t)
		for _, h := range w.said {
			tr.tell(t, h)
		}
		say := func(h happening) {
			if w.say(h) == nil {
				tr.tell(t, h)
			}
		}
		for range rapid.IntRange(1, 100).Draw(t, "events") {
			w.now = w.now.Add(time.Duration(rapid.IntRange(0, 5).Draw(t, "minutes")) * time.Minute)
			say(w.draw(t))
		}
		w.finish(t, tr)
	})
}

// finish goes on without a mishap until all is done.
func (w *walkTest) finish(t *rapid.T, tr *truth) {
	must := func(h happening) {
		if err := w.say(h); err != nil {
			t.Fatalf("nothing is wrong with %v %d %q %s: %v", h.event, h.step, h.bolt, h.detail, err)
		}
		if tr != nil {
			tr.tell(t, h)
		}
	}
	for range 20 * (len(w.p.status) + len(w.bolts)) {
		w.now = w.now.Add(time.Hour)
		step, more := w.p.nextStep()
		switch {
		case w.p.open != 0:
			must(w.p.ends(w.p.open, Reached{}))
		case len(w.p.troubled) > 0 && w.p.troubleOf(w.p.troubled[0]).Scrap:
			must(happening{event: replace, bolt: w.p.troubled[0]})
		case len(w.p.troubled) > 0:
			must(happening{event: loosen, bolt: w.p.troubled[0]})
		case w.p.slipped:
			must(usesTool(Tool{Name: "another wrench"}))
		case more:
			must(w.p.begins(step.Number, uptime{}))
		default:
			if tr != nil {
				for _, s := range w.plan.Steps() {
					if !tr.whole[s.Number] && !s.IsPause() {
						t.Fatalf("all is done, and %v never was", s)
					}
				}
			}
			return
		}
	}
	t.Fatal("the plan cannot be finished")
}
