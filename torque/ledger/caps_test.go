package ledger

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"example.com/closefit/torque"
)

// twoCaps is a group of two caps, pulled 1L 1R 2L 2R.
func twoCaps(use torque.BoltUse, stages ...torque.Stage) torque.Group {
	return torque.Group{Name: "mains", Pattern: torque.Caps([]string{"1L", "1R"}, []string{"2L", "2R"}), Order: torque.Rows, Use: use, Stages: stages}
}

// capMistakes are what becomes of the others under a cap, and of a bolt of which nobody knows
// what it had.
var capMistakes = []struct {
	name  string
	group torque.Group
	to    int // steps before it are done
	event happening
	hits  string
	then  effect
	cause cause
	bolt  standing // of its row
	use   reuse
}{
	{"the other one has had nothing", twoCaps(torque.SingleUse, tighten(20), turnBy(90)), 2, happening{event: replace, bolt: "1L"}, "", nothing, partner, untouched, reusable},
	{"the other one is snug", twoCaps(torque.SingleUse, tighten(20), turnBy(90)), 3, happening{event: replace, bolt: "1L"}, "1R", backOff, partner, pulled, reusable},
	{"the other one is snug, this one loosened", twoCaps(torque.SingleUse, tighten(20), turnBy(90)), 5, happening{event: loosen, bolt: "2R"}, "2L", backOff, partner, pulled, reusable},
	{"the other one is turned, and may be used again", twoCaps(torque.Reusable, tighten(20), turnBy(90)), 7, happening{event: loosen, bolt: "1R"}, "1L", backOff, partner, pulled, reusable},
	{"the other one has yielded", twoCaps(torque.SingleUse, tighten(20), turnBy(90)), 7, happening{event: replace, bolt: "1R"}, "1L", scrap, partner, pulled, spent},
	{"another cap is not touched by it", twoCaps(torque.SingleUse, tighten(20), turnBy(90)), 2, happening{event: replace, bolt: "2R"}, "", nothing, partner, untouched, reusable},
	{"nobody knows of a reusable bolt", twoCaps(torque.Reusable, tighten(20), turnBy(90)), 1, doubts("2L", "it was turned before the ledger began"), "2L", backOff, unknown, anywhere, reusable},
	{"nobody knows of a single-use bolt", twoCaps(torque.SingleUse, tighten(20), turnBy(90)), 1, doubts("2L", "it was turned before the ledger began"), "2L", scrap, unknown, anywhere, spent},
	{"nobody knows of a bolt by torque alone", twoCaps(torque.NotSaid, tighten(20)), 1, doubts("2L", "it was turned before the ledger began"), "2L", backOff, unknown, anywhere, reusable},
}

// TestCaps: what the others under a cap come to, and that somebody's word lets one stay.
func TestCaps(t *testing.T) {
	for _, tt := range capMistakes {
		t.Run(tt.name, func(t *testing.T) {
			w := newWalk(planned(t, "caps", tt.group))
			w.upTo(t, tt.to)
			w.must(t, tt.event)
			troubles := w.p.troubles()
			if (tt.hits == "") != (len(troubles) == 0) {
				t.Fatalf("%+v, want one for %q", troubles, tt.hits)
			}
			if tt.hits == "" {
				return
			}
			got := troubles[0]
			if len(troubles) != 1 || got.Bolt != tt.hits || got.Scrap != (tt.then == scrap) || got.Stays != (tt.cause == partner) || !strings.HasSuffix(got.Why, ruleFor(tt.cause, noPull, tt.bolt, tt.use).why) {
				t.Fatalf("%+v, want %s for %s", troubles, effectWords[tt.then], tt.hits)
			}
			if offered := strings.Contains(got.Advice, "lets it stay"); offered != got.Stays {
				t.Errorf("%q, but it may stay: %v", got.Advice, got.Stays)
			}
			next, _ := w.p.nextStep()
			if err := w.say(w.p.begins(next.Number, uptime{})); !errors.Is(err, ErrInDoubt) {
				t.Errorf("%v, want ErrInDoubt", err)
			}
			word := Word{"the builder", "the manual lets it stay"}
			if err := w.say(keeps(tt.hits, word)); (err == nil) != got.Stays {
				t.Errorf("%v, want it kept: %v", err, got.Stays)
			}
			if err := w.say(keeps(tt.hits, word)); err == nil {
				t.Error("kept twice")
			}
			if got.Stays {
				w.must(t, w.p.begins(next.Number, uptime{}))
			}
		})
	}
}

// TestKeptBoltIsStillSpent: a bolt that stays on somebody's word is as spent as it was.
func TestKeptBoltIsStillSpent(t *testing.T) {
	w := newWalk(planned(t, "caps", twoCaps(torque.SingleUse, tighten(20), turnBy(90))))
	w.upTo(t, 7)
	w.must(t, happening{event: replace, bolt: "1R"})
	for _, bad := range []Word{{}, {By: "the builder"}, {Reason: "it holds"}, {By: "the builder", Reason: "line\nbreak"}} {
		if err := w.say(keeps("1L", bad)); !errors.Is(err, ErrRefused) {
			t.Errorf("%+v: %v", bad, err)
		}
	}
	w.must(t, keeps("1L", Word{"the builder", "the manual lets it stay"}))
	if err := w.say(happening{event: loosen, bolt: "1L"}); !errors.Is(err, ErrRefused) {
		t.Errorf("%v, want the spent bolt not to be used again", err)
	}
	// The other one is loosened after that: the word was for the time before.
	w.must(t, w.p.begins(2, uptime{}))
	w.must(t, w.p.ends(2, Reached{}))
	w.must(t, happening{event: loosen, bolt: "1R"})
	if got := w.p.troubles(); len(got) != 1 || got[0].Bolt != "1L" || !got[0].Scrap {
		t.Errorf("%+v, want 1L asked about again", got)
	}
}

// TestAskew: 1L was said to be snug and was not, and 1R under the same cap is turned: the cap
// was drawn down askew, so 1R has to come off too. 2L and 2R are under another cap.
func TestAskew(t *testing.T) {
	g := twoCaps(torque.SingleUse, tighten(20), turnBy(90))
	g.Stages[1].Order = torque.Given{"1R", "2R", "1L", "2L"}
	w := newWalk(planned(t, "askew", g))
	w.upTo(t, 7) // 1R and 2R are turned
	w.must(t, w.p.goesWrong(What{Mishap: TooSoonNotMoved, Step: 1}))
	got := w.p.troubles()
	if len(got) != 1 || got[0].Bolt != "1R" || !got[0].Scrap || !got[0].Stays {
		t.Fatalf("%+v, want 1R replaced, or kept on a word", got)
	}
	w.must(t, happening{event: replace, bolt: "1R"})
	var offered []int
	for next, more := w.p.nextStep(); more; next, more = w.p.nextStep() {
		offered = append(offered, next.Number)
		w.must(t, w.p.begins(next.Number, uptime{}))
		w.must(t, w.p.ends(next.Number, Reached{}))
	}
	if want := []int{1, 2, 5, 7, 8}; !slices.Equal(offered, want) {
		t.Errorf("%v, want %v", offered, want)
	}
}

// TestNewBoltIsAskedOfAnew: the checks before the first stage of its group are asked again for
// a new bolt, and not for one that was backed off; the wait before it is over.
func TestNewBoltIsAskedOfAnew(t *testing.T) {
	g := twoCaps(torque.Reusable, then(tighten(20), asks("Free?")), turnBy(90))
	g.First = []torque.Action{asks("Oiled?"), fiveMinutes}
	for _, tt := range []struct {
		event event
		done  int // steps before it are done
		next  int
	}{{replace, 4, 1}, {loosen, 4, 3}, {replace, 9, 1}, {loosen, 9, 3}} {
		w := newWalk(planned(t, "anew", g))
		w.upTo(t, tt.done)
		w.must(t, happening{event: tt.event, bolt: "1L"})
		for _, trouble := range w.p.troubles() {
			w.must(t, happening{event: loosen, bolt: trouble.Bolt})
		}
		if next, _ := w.p.nextStep(); next.Number != tt.next || w.p.statusOf(2) != Done {
			t.Errorf("%v after %d: step %d is next, want %d", tt.event, tt.done, next.Number, tt.next)
		}
		if w.p.replaced["1L"] != (tt.event == replace) {
			t.Errorf("%v: replaced is %v", tt.event, w.p.replaced["1L"])
		}
		if tt.done == 9 && w.p.statusOf(7) != Pending {
			t.Errorf("the check after the stage is %v, want it asked again", w.p.statusOf(7))
		}
	}
}
