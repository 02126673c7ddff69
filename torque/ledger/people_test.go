package ledger

import (
	"flag"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"example.com/closefit/internal/thorough"
	"example.com/closefit/torque"
)

var update = flag.Bool("update", false, "write PEOPLE.md")

// kinds are the pulls of a table, one by one.
var kinds = []pullKinds{tightens, turns, backsOffBy, frees, waits, checks}

// cases are where a bolt may stand of which the rows of a cause ask.
func cases(c cause, pull pullKinds) []standing {
	pause := pull == waits || pull == checks
	switch {
	case c == partner:
		return []standing{untouched, pulled}
	case c == TooSoonNotMoved || c == TooSoonPartWay:
		if pause {
			return []standing{latest}
		}
		return []standing{latest, followed}
	case c == WrongStep && !pause:
		return []standing{isNext, notNext}
	case c == WrongBolt && pull == tightens:
		return []standing{noFurther, further, beyond, turned}
	case c == WrongBolt && pull == turns:
		return []standing{within, beyond}
	case c == WrongBolt && !pause:
		return []standing{untouched, pulled}
	}
	return []standing{anywhere}
}

// TestOneRowForEachCase: the table is complete, and no case has two rows.
func TestOneRowForEachCase(t *testing.T) {
	used := make([]bool, len(rules))
	for c := NotMoved; c < causes; c++ {
		pulls := kinds
		if c == partner || c == unknown {
			pulls = []pullKinds{noPull}
		}
		for _, pull := range pulls {
			for _, at := range cases(c, pull) {
				for _, u := range []reuse{reusable, spent} {
					rows := 0
					for i, r := range rules {
						if r.cause == c && r.pull&pull != 0 && (r.bolt == anywhere || r.bolt == at) && (r.use == eitherWay || r.use == u) {
							used[i] = true
							rows++
						}
					}
					if rows != 1 {
						t.Errorf("%d rows for %q, pull %b, %q, %q", rows, causeWords(c), pull, standingWords[at], reuseWords[u])
					}
				}
			}
		}
	}
	for i, r := range rules {
		if !used[i] {
			t.Errorf("row %d, %+v, is for no case", i+1, r)
		}
		if r.why == "" {
			t.Errorf("row %d does not say why", i+1)
		}
	}
}

// pullsIn lists the pulls of a row.
func pullsIn(kinds pullKinds) string {
	switch kinds {
	case anyStep:
		return "any step"
	case anyPull:
		return "any pull"
	case noPull:
		return ""
	}
	var words []string
	for i, word := range pullWords {
		if kinds&(1<<i) != 0 {
			words = append(words, word)
		}
	}
	return strings.Join(words, ", ")
}

// then says what a row leads to.
func (r rule) thenWords() string {
	text := effectWords[r.then]
	if r.asFor != 0 {
		text = fmt.Sprintf("as for %q", causeWords(r.asFor))
	}
	if r.tool {
		text += "; check or change the tool"
	}
	return text
}

// document is PEOPLE.md.
func document() string {
	var b strings.Builder
	b.WriteString(`# When people make mistakes

This is what package ledger makes of a mistake that somebody says. The tables are printed from
the one that the code looks up; a test compares them.

No row has a source: all of it is common practice, and the safer where practice differs. The
engine maker's manual comes first. Say only what is sure. Where no mark tells how far a bolt
went, say "part-way".

## The question

| Mishap | Yes to this question means it |
|---|---|
`)
	for _, m := range Mishaps() {
		fmt.Fprintf(&b, "| %s | %s |\n", m, m.Ask())
	}
	b.WriteString(`
The first six are said of the step that is begun, the others of a step that was said to be
done; a wait that was skipped and is waited for after all is one. If the wrench moved something that
is not in the plan, say "not moved" and make a note.

## What it leads to

"The bolt" is the one that the pull was given to: another one where the wrong bolt was pulled or
the wrong step done. What it had counts since it was fitted last, or loosened.

| What happened | The pull | The bolt | Once loosened | Then | Why |
|---|---|---|---|---|---|
`)
	for _, r := range rules {
		fmt.Fprintf(&b, "| %s | %s | %s | %s | %s | %s |\n", causeWords(r.cause), pullsIn(r.pull), standingWords[r.bolt], reuseWords[r.use], r.thenWords(), r.why)
	}
	b.WriteString(`
- A bolt of a group in single use is spent once the pull that spends it was given to it, perhaps in
  part: its turns, or, where it has none, its greatest torque. Where the plan does not say whether
  a bolt yields, a turn is taken as yielding.
- While a bolt has to be backed off or replaced, or the tool to be checked, no step begins.
- The step that was begun is to be done again in every case. Where the bolt has to be backed off or
  replaced, it is done again with the bolt's other stages.
- A bolt that was replaced or backed off begins its stages again. Waits and checks made since its
  first pull are made again. For a new bolt, so are the checks before the first stage of its
  group.
- Bolts under the same cap are those of one group with the same part. One that holds something has
  lost part of it, and nobody knows how much, when another was loosened. Somebody may say, by name and with
  the reason, that it stays.
- A check that was answered no is failed. It is asked again before anything that comes after it.

## A corrected plan

Each bolt's pulls that are done are held against the corrected plan. If they are the beginning of its
pulls there, they carry over, and nobody is asked. Otherwise somebody has to choose:

| Choice | May be chosen | Then |
|---|---|---|
| leave | the bolt is not in doubt; and what was done is of the same kinds as the new pulls and no other turn would follow a turn, or all of the old plan was done | as many of the new pulls count as done, or all of them |
| finish | the bolt was only tightened, to no more than the next new torque | the new pulls go on from the first that differs |
| back off | the bolt is not spent | its new pulls begin |
| replace | always | its new pulls begin |

Names that differ by case or blanks alone are one bolt. If a bolt that was pulled is not in the
corrected plan, a bolt that is only there may be the same one: it carries nothing over by itself,
and somebody has to choose. It may be left only if a bolt that is gone was given all its pulls, and
then counts as given all of its new ones. A wait or a check carries over if the same pulls stand
before it and all of them are done.
`)
	return b.String()
}

// TestDocument: the table in the documentation is the one in the code.
func TestDocument(t *testing.T) {
	const name = "PEOPLE.md"
	if *update {
		if err := os.WriteFile(name, []byte(document()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if string(text) != document() {
		t.Errorf("%s is not what the code does: run go test ./torque/ledger -run TestDocument -update", name)
	}
}

// A mistake is a way to a row of the table.
type mistake struct {
	name   string
	groups []torque.Group
	to     int // every step before this one is done, and this one is begun, unless said too soon
	what   What
	hits   string // the bolt in trouble; empty if none
	then   effect
	next   int // the step that is next once all that is in trouble is replaced and the tool checked
}

// row, capped and cover are groups; the figures are of no engine.
func row(use torque.BoltUse, stages ...torque.Stage) torque.Group {
	return torque.Group{Name: "row", Pattern: torque.Row("a", "b"), Order: torque.Rows, Use: use, Stages: stages}
}

func then(s torque.Stage, pauses ...torque.Action) torque.Stage {
	s.Then = pauses
	return s
}

func few(groups ...torque.Group) []torque.Group { return groups }

// mistakes has one for each row, and more where a row has two sides. What each leads to is
// taken from the trade and not from the code.
var mistakes = []mistake{
	{name: "nothing moved on a turn", groups: few(row(torque.SingleUse, tighten(20), turnBy(90))), to: 3, what: What{Mishap: NotMoved, Step: 3}, then: again, next: 3},

	{name: "a torque part-way", groups: few(row(torque.SingleUse, tighten(20), turnBy(90))), to: 2, what: What{Mishap: PartWay, Step: 2}, then: again, next: 2},
	{name: "a reusable turn part-way", groups: few(row(torque.Reusable, tighten(20), turnBy(90))), to: 3, what: What{Mishap: PartWay, Step: 3}, hits: "a", then: backOff, next: 1},
	{name: "a yielding turn part-way", groups: few(row(torque.SingleUse, tighten(20), turnBy(90))), to: 3, what: What{Mishap: PartWay, Step: 3}, hits: "a", then: scrap, next: 1},
	{name: "a back-off by an angle part-way", groups: few(row(torque.Reusable, tighten(20), backOffBy(90), tighten(25))), to: 4, what: What{Mishap: PartWay, Step: 4}, hits: "b", then: backOff, next: 2},
	{name: "a back-off until free part-way", groups: few(row(torque.Reusable, tighten(20), freely, tighten(25))), to: 4, what: What{Mishap: PartWay, Step: 4}, then: again, next: 4},
	{name: "a wait part-way", groups: few(row(torque.NotSaid, then(tighten(20), fiveMinutes))), to: 3, what: What{Mishap: PartWay, Step: 3}, then: again, next: 3},
	{name: "a check part-way", groups: few(row(torque.NotSaid, then(tighten(20), asks("Free?")))), to: 3, what: What{Mishap: PartWay, Step: 3}, then: refused},

	{name: "the wrench clicked early", groups: few(row(torque.SingleUse, tighten(20), turnBy(90))), to: 2, what: What{Mishap: Slipped, Step: 2}, then: again, next: 2},
	{name: "slipped on a reusable turn", groups: few(row(torque.Reusable, tighten(20), turnBy(90))), to: 4, what: What{Mishap: Slipped, Step: 4}, hits: "b", then: backOff, next: 2},
	{name: "slipped on a yielding turn", groups: few(row(torque.SingleUse, tighten(20), turnBy(90))), to: 4, what: What{Mishap: Slipped, Step: 4}, hits: "b", then: scrap, next: 2},
	{name: "slipped on a back-off by an angle", groups: few(row(torque.Reusable, tighten(20), backOffBy(90), tighten(25))), to: 3, what: What{Mishap: Slipped, Step: 3}, hits: "a", then: backOff, next: 1},
	{name: "slipped on a back-off until free", groups: few(row(torque.Reusable, tighten(20), freely, tighten(25))), to: 3, what: What{Mishap: Slipped, Step: 3}, then: again, next: 3},
	{name: "slipped on a wait", groups: few(row(torque.NotSaid, then(tighten(20), fiveMinutes))), to: 3, what: What{Mishap: Slipped, Step: 3}, then: refused},

	{name: "a torque overshot", groups: few(row(torque.Reusable, tighten(20), turnBy(60))), to: 2, what: What{Mishap: TooFar, Step: 2}, hits: "b", then: scrap, next: 2},
	{name: "a reusable turn overshot", groups: few(row(torque.Reusable, tighten(20), turnBy(60))), to: 3, what: What{Mishap: TooFar, Step: 3}, hits: "a", then: scrap, next: 1},
	{name: "a yielding turn overshot", groups: few(row(torque.SingleUse, tighten(20), turnBy(90))), to: 4, what: What{Mishap: TooFar, Step: 4}, hits: "b", then: scrap, next: 2},
	{name: "backed off too far", groups: few(row(torque.Reusable, tighten(20), backOffBy(90), tighten(25))), to: 4, what: What{Mishap: TooFar, Step: 4}, hits: "b", then: backOff, next: 2},
	{name: "a bolt that turns freely, backed off too far", groups: few(row(torque.Reusable, tighten(20), freely, tighten(25))), to: 4, what: What{Mishap: TooFar, Step: 4}, then: refused},

	{name: "the next one in the row tightened instead", groups: few(row(torque.SingleUse, tighten(20), turnBy(90))), to: 1, what: What{Mishap: WrongBolt, Step: 1, Bolt: "b"}, then: nothing, next: 1},
	{name: "the last one tightened again instead", groups: few(row(torque.SingleUse, tighten(20), turnBy(90))), to: 2, what: What{Mishap: WrongBolt, Step: 2, Bolt: "a"}, then: nothing, next: 2},
	{name: "a second torque on a bolt that has not had the first", groups: few(row(torque.NotSaid, tighten(20), tighten(45)), other2(torque.NotSaid, tighten(10), tighten(45))), to: 3, what: What{Mishap: WrongBolt, Step: 3, Bolt: "c"}, hits: "c", then: backOff, next: 3},
	{name: "the full torque on a single-use bolt that has not had the first", groups: few(row(torque.NotSaid, tighten(20), tighten(45)), other2(torque.SingleUse, tighten(10), tighten(45))), to: 3, what: What{Mishap: WrongBolt, Step: 3, Bolt: "c"}, hits: "c", then: scrap, next: 3},
	{name: "a main bolt's torque on a cover's", groups: few(row(torque.NotSaid, tighten(75)), other2(torque.Reusable, tighten(9))), to: 1, what: What{Mishap: WrongBolt, Step: 1, Bolt: "d"}, hits: "d", then: scrap, next: 1},
	{name: "a torque beyond the snug one on a bolt that is turned to yield", groups: few(row(torque.NotSaid, tighten(75)), other2(torque.SingleUse, tighten(20), turnBy(90))), to: 1, what: What{Mishap: WrongBolt, Step: 1, Bolt: "d"}, hits: "d", then: scrap, next: 1},
	{name: "a torque on a reusable bolt that was turned", groups: few(row(torque.Reusable, tighten(20), turnBy(60)), other2(torque.NotSaid, tighten(15))), to: 5, what: What{Mishap: WrongBolt, Step: 5, Bolt: "b"}, hits: "b", then: backOff, next: 2},
	{name: "a torque on a yielded bolt", groups: few(row(torque.SingleUse, tighten(20), turnBy(60)), other2(torque.NotSaid, tighten(15))), to: 5, what: What{Mishap: WrongBolt, Step: 5, Bolt: "b"}, hits: "b", then: scrap, next: 2},
	{name: "the next reusable bolt turned instead", groups: few(row(torque.Reusable, tighten(20), turnBy(60))), to: 3, what: What{Mishap: WrongBolt, Step: 3, Bolt: "b"}, hits: "b", then: backOff, next: 2},
	{name: "the next yielding bolt turned instead", groups: few(row(torque.SingleUse, tighten(20), turnBy(60))), to: 3, what: What{Mishap: WrongBolt, Step: 3, Bolt: "b"}, hits: "b", then: scrap, next: 2},
	{name: "a reusable bolt turned a second time", groups: few(row(torque.Reusable, tighten(20), turnBy(60))), to: 4, what: What{Mishap: WrongBolt, Step: 4, Bolt: "a"}, hits: "a", then: scrap, next: 1},
	{name: "a bolt turned that is tightened by torque alone, and nobody said whether it yields", groups: few(row(torque.SingleUse, tighten(20), turnBy(60)), other2(torque.NotSaid, tighten(30))), to: 3, what: What{Mishap: WrongBolt, Step: 3, Bolt: "c"}, hits: "c", then: scrap, next: 3},
	{name: "a loose bolt backed off instead", groups: few(row(torque.Reusable, tighten(20), freely, tighten(25)), other2(torque.NotSaid, tighten(9))), to: 3, what: What{Mishap: WrongBolt, Step: 3, Bolt: "c"}, then: nothing, next: 3},
	{name: "a tightened bolt backed off instead", groups: few(other2(torque.NotSaid, tighten(9)), row(torque.Reusable, tighten(20), backOffBy(90), tighten(25))), to: 5, what: What{Mishap: WrongBolt, Step: 5, Bolt: "d"}, hits: "d", then: backOff, next: 2},
	{name: "a yielded bolt backed off instead", groups: few(other2(torque.SingleUse, tighten(9), turnBy(45)), row(torque.Reusable, tighten(20), freely, tighten(25))), to: 7, what: What{Mishap: WrongBolt, Step: 7, Bolt: "d"}, hits: "d", then: scrap, next: 2},
	{name: "a bolt pulled in a wait", groups: few(row(torque.NotSaid, then(tighten(20), fiveMinutes), tighten(30))), to: 3, what: What{Mishap: WrongBolt, Step: 3, Bolt: "a"}, then: refused},

	{name: "the next step done first", groups: few(row(torque.SingleUse, tighten(20), turnBy(90))), to: 3, what: What{Mishap: WrongStep, Step: 3, Instead: 4}, then: counts, next: 3},
	{name: "a turn done twice", groups: few(row(torque.SingleUse, tighten(20), turnBy(90))), to: 4, what: What{Mishap: WrongStep, Step: 4, Instead: 3}, hits: "a", then: scrap, next: 1},
	{name: "a reusable turn done before its torque", groups: few(row(torque.Reusable, tighten(20), turnBy(90))), to: 2, what: What{Mishap: WrongStep, Step: 2, Instead: 4}, hits: "b", then: backOff, next: 2},
	{name: "a torque done twice", groups: few(row(torque.SingleUse, tighten(20), turnBy(90))), to: 2, what: What{Mishap: WrongStep, Step: 2, Instead: 1}, then: nothing, next: 2},
	{name: "a check done instead", groups: few(row(torque.NotSaid, then(tighten(20), asks("Free?")))), to: 2, what: What{Mishap: WrongStep, Step: 2, Instead: 3}, then: refused},

	{name: "a torque not done", groups: few(row(torque.NotSaid, tighten(20), tighten(45))), to: -3, what: What{Mishap: TooSoonNotMoved, Step: 2}, then: again, next: 2},
	{name: "a check answered yes too soon", groups: few(row(torque.NotSaid, then(tighten(20), asks("Free?"), fiveMinutes), tighten(45))), to: -5, what: What{Mishap: TooSoonNotMoved, Step: 3}, then: again, next: 3},
	{name: "a torque not done, and the turn after it done, reusable", groups: few(row(torque.Reusable, tighten(20), turnBy(60))), to: -4, what: What{Mishap: TooSoonNotMoved, Step: 1}, hits: "a", then: backOff, next: 1},
	{name: "a torque not done, and the turn after it done", groups: few(row(torque.SingleUse, tighten(20), turnBy(60))), to: -4, what: What{Mishap: TooSoonNotMoved, Step: 1}, hits: "a", then: scrap, next: 1},

	{name: "a torque done part-way", groups: few(row(torque.NotSaid, then(tighten(20), asks("Free?")), tighten(45))), to: -5, what: What{Mishap: TooSoonPartWay, Step: 2}, then: again, next: 2},
	{name: "a reusable turn done part-way", groups: few(row(torque.Reusable, tighten(20), turnBy(60))), to: -4, what: What{Mishap: TooSoonPartWay, Step: 3}, hits: "a", then: backOff, next: 1},
	{name: "a yielding turn done part-way", groups: few(row(torque.SingleUse, tighten(20), turnBy(60))), to: -4, what: What{Mishap: TooSoonPartWay, Step: 3}, hits: "a", then: scrap, next: 1},
	{name: "a back-off by an angle done part-way", groups: few(row(torque.Reusable, tighten(20), backOffBy(90), tighten(25))), to: -4, what: What{Mishap: TooSoonPartWay, Step: 3}, hits: "a", then: backOff, next: 1},
	{name: "a back-off until free done part-way", groups: few(row(torque.Reusable, tighten(20), freely, tighten(25))), to: -5, what: What{Mishap: TooSoonPartWay, Step: 4}, then: again, next: 4},
	{name: "a torque done part-way, and the turn after it done, reusable", groups: few(row(torque.Reusable, tighten(20), turnBy(60))), to: -5, what: What{Mishap: TooSoonPartWay, Step: 2}, hits: "b", then: backOff, next: 2},
	{name: "a torque done part-way, and the turn after it done", groups: few(row(torque.SingleUse, tighten(20), turnBy(60))), to: -5, what: What{Mishap: TooSoonPartWay, Step: 2}, hits: "b", then: scrap, next: 2},
	{name: "a wait that was not over", groups: few(row(torque.NotSaid, then(tighten(20), fiveMinutes), tighten(45))), to: -5, what: What{Mishap: TooSoonPartWay, Step: 3}, then: again, next: 3},
	{name: "a check half answered", groups: few(row(torque.NotSaid, then(tighten(20), asks("Free?")), tighten(45))), to: -5, what: What{Mishap: TooSoonPartWay, Step: 3}, then: refused},
}

// other2 is a second group.
func other2(use torque.BoltUse, stages ...torque.Stage) torque.Group {
	return torque.Group{Name: "second", Pattern: torque.Row("c", "d"), Order: torque.Rows, Use: use, Stages: stages}
}

// rowOf returns the number of a row of the table.
func rowOf(r rule) int { return slices.Index(rules, r) }

// TestEveryRow walks to every row of the table.
func TestEveryRow(t *testing.T) {
	thorough.SkipRaced(t)
	walked := make([]bool, len(rules))
	for _, tt := range mistakes {
		t.Run(tt.name, func(t *testing.T) {
			w := newWalk(planned(t, "few", tt.groups...))
			w.upTo(t, max(tt.to, -tt.to))
			if tt.to > 0 {
				w.must(t, w.p.begins(tt.to, uptime{}))
			}
			h := w.p.goesWrong(tt.what)
			var o other
			if h.detail != "" {
				o, _ = detailOf[other](h)
			}
			step, _ := w.plan.Step(tt.what.Step)
			r, _, _ := w.p.ruleOf(tt.what.Mishap, step, o)
			if i := rowOf(r); i >= 0 {
				walked[i] = true
			}
			if tt.what.Mishap == WrongStep && r.cause == WrongBolt { // by way of the row that says so
				walked[rowOf(ruleFor(WrongStep, kindOf(step.Do), notNext, reusable))] = true
			}
			if err := w.say(h); (err != nil) != (tt.then == refused) {
				t.Fatalf("%v, want it refused: %v", err, tt.then == refused)
			}
			if tt.then == refused {
				return
			}
			troubles := w.p.troubles()
			if tt.what.Mishap == Slipped {
				last := len(troubles) - 1
				if last < 0 || troubles[last].Bolt != "" || w.say(w.p.begins(tt.next, uptime{})) == nil {
					t.Fatalf("%+v, want the tool checked before all else", troubles)
				}
				troubles = troubles[:last]
				w.must(t, usesTool(Tool{Name: "wrench 2"}))
			}
			if (tt.hits != "") != (len(troubles) == 1) {
				t.Fatalf("%+v, want one for %q", troubles, tt.hits)
			}
			if tt.hits != "" {
				if got := troubles[0]; got.Bolt != tt.hits || got.Scrap != (tt.then == scrap) || got.Stays {
					t.Fatalf("%+v, want %s for %s", got, effectWords[tt.then], tt.hits)
				}
				next, _ := w.p.nextStep()
				if w.say(w.p.begins(next.Number, uptime{})) == nil {
					t.Fatal("a step is begun while a bolt is in trouble")
				}
				if err := w.say(happening{event: loosen, bolt: tt.hits}); (err != nil) != (tt.then == scrap) {
					t.Fatalf("loosened: %v, want it refused: %v", err, tt.then == scrap)
				}
				if tt.then == scrap {
					w.must(t, happening{event: replace, bolt: tt.hits})
				}
			}
			if tt.then == counts && w.p.statusOf(tt.what.Instead) != Done {
				t.Errorf("step %d is %v", tt.what.Instead, w.p.statusOf(tt.what.Instead))
			}
			if next, _ := w.p.nextStep(); next.Number != tt.next {
				t.Errorf("step %d is next, want %d", next.Number, tt.next)
			}
			if left := w.p.troubles(); len(left) != 0 {
				t.Errorf("%+v", left)
			}
		})
	}
	for _, tt := range capMistakes {
		walked[rowOf(ruleFor(tt.cause, noPull, tt.bolt, tt.use))] = true
	}
	for i, r := range rules {
		if !walked[i] {
			t.Errorf("no mistake leads to row %d: %s, %s, %s, %s", i+1, causeWords(r.cause), pullsIn(r.pull), standingWords[r.bolt], reuseWords[r.use])
		}
	}
}

// upTo does every step before n.
func (w *walkTest) upTo(t testing.TB, n int) {
	t.Helper()
	for i := w.p.next + 1; i < n; i++ {
		w.must(t, w.p.begins(i, uptime{}))
		w.now = w.now.Add(5 * 60e9)
		w.must(t, w.p.ends(i, Reached{}))
	}
}

// must says what has to be allowed.
func (w *walkTest) must(t testing.TB, h happening) {
	t.Helper()
	if err := w.say(h); err != nil {
		t.Fatalf("%v %d %q: %v", h.event, h.step, h.bolt, err)
	}
}
