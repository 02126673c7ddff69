package torque_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.com/closefit/torque"
	"pgregory.net/rapid"
)

// shortly returns the steps of a plan in short: "1:2a", "check".
func shortly(steps []torque.Step) (list []string) {
	for _, s := range steps {
		if s.IsPause() {
			list = append(list, s.Do.String())
		} else {
			list = append(list, fmt.Sprintf("%d:%s", s.Stage, s.Bolt))
		}
	}
	return list
}

// TestCapByCapByBruteForce: of all the orders of eight pulls, one alone finishes a cap before
// it begins the next, a stage of it before the next stage, and takes caps and bolts as they are
// named.
func TestCapByCapByBruteForce(t *testing.T) {
	caps := torque.Caps([]string{"2b", "2a"}, []string{"1b", "1a"}) // named neither by letter nor by number
	plan, err := torque.NewPlan("rods", torque.Group{Name: "rod bolts", Pattern: caps, Order: torque.CapByCap,
		Stages: []torque.Stage{tighten("8 N·m"), turn("35°")}, Use: torque.Reusable})
	if err != nil {
		t.Fatal(err)
	}
	type pull struct{ cap, stage, bolt int }
	var pulls []pull
	for i := range 8 {
		pulls = append(pulls, pull{i >> 2, i >> 1 & 1, i & 1})
	}
	var right [][]pull
	var permute func(n int)
	permute = func(n int) {
		if n == 1 {
			for i := 1; i < len(pulls); i++ {
				a, b := pulls[i-1], pulls[i]
				if a.cap > b.cap || a.cap == b.cap && (a.stage > b.stage || a.stage == b.stage && a.bolt > b.bolt) {
					return
				}
			}
			right = append(right, slices.Clone(pulls))
			return
		}
		for i := range n {
			permute(n - 1)
			k := 0
			if n%2 == 0 {
				k = i
			}
			pulls[k], pulls[n-1] = pulls[n-1], pulls[k]
		}
	}
	permute(len(pulls))
	if len(right) != 1 {
		t.Fatalf("%d orders, want one", len(right))
	}
	var want []string
	for _, p := range right[0] {
		want = append(want, fmt.Sprintf("%d:%s", p.stage+1, caps[2*p.cap+p.bolt].Bolt))
	}
	if got := shortly(plan.Steps()); !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// TestCapByCapIsOnePlanAfterAnother: the plan of a group of caps is the plans of its caps, one
// after another, with the pauses before the first stage made once; where two caps share a pin
// makes no difference. Stages with an order of their own keep it within each cap.
func TestCapByCapIsOnePlanAfterAnother(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var pattern []torque.Position
		n := rapid.IntRange(1, 6).Draw(t, "caps")
		var caps [][]string
		for i := range n {
			var bolts []string
			for k := range rapid.SampledFrom([]int{1, 2, 2, 4}).Draw(t, "bolts") {
				bolts = append(bolts, fmt.Sprintf("%d%c", n-i, 'a'+k))
			}
			caps = append(caps, bolts)
		}
		pattern = torque.Caps(caps...)
		if rapid.Bool().Draw(t, "mixed") { // the bolts of a cap need not be named together
			pattern = rapid.Permutation(pattern).Draw(t, "pattern")
		}
		stages := []torque.Stage{tighten("8 N·m")}
		if rapid.Bool().Draw(t, "check") {
			stages[0].Then = []torque.Action{torque.Do(torque.Inspection{Ask: "Does it turn freely?"})}
		}
		if rapid.Bool().Draw(t, "turn") {
			stages = append(stages, turn("35°"))
		}
		own := rapid.Bool().Draw(t, "own order")
		names := []string{}
		for _, p := range pattern {
			names = append(names, p.Bolt)
		}
		group := torque.Group{Name: "rod bolts", Pattern: pattern, Order: torque.CapByCap, Stages: slices.Clone(stages), Use: torque.Reusable,
			First: []torque.Action{torque.Do(torque.Inspection{Ask: "Are the threads oiled?"})}}
		reversed := slices.Clone(names)
		slices.Reverse(reversed)
		if own {
			group.Stages[0].Order = torque.Given(reversed)
		}
		plan, err := torque.NewPlan("rods", group)
		if err != nil {
			t.Fatal(err)
		}
		want := []string{"Are the threads oiled?"}
		var done []string // the parts
		for _, first := range pattern {
			if slices.Contains(done, first.Part) {
				continue
			}
			done = append(done, first.Part)
			one := torque.Group{Name: "rod bolts", Stages: slices.Clone(stages), Use: torque.Reusable}
			var order torque.Given
			for _, p := range pattern {
				if p.Part == first.Part {
					one.Pattern = append(one.Pattern, p)
					order = append(order, p.Bolt)
				}
			}
			one.Order = order
			if own {
				backward := slices.Clone(order)
				slices.Reverse(backward)
				one.Stages[0].Order = backward
			}
			alone, err := torque.NewPlan("one rod", one)
			if err != nil {
				t.Fatal(err)
			}
			want = append(want, shortly(alone.Steps())...)
		}
		if got := shortly(plan.Steps()); !slices.Equal(got[1:], want[1:]) || !strings.Contains(got[0], want[0]) {
			t.Fatalf("%v, want %v", got, want)
		}
		text, err := json.Marshal(plan)
		if err != nil {
			t.Fatal(err)
		}
		var back torque.Plan
		if err := json.Unmarshal(text, &back); err != nil || back.Digest() != plan.Digest() {
			t.Fatalf("%s: %v", text, err)
		}
	})
}

// TestCapByCapText: each stage of each cap has a heading that names its bolts, and the pauses
// stand under it.
func TestCapByCapText(t *testing.T) {
	first := tighten("8 N·m")
	first.Then = []torque.Action{torque.Do(torque.Inspection{Ask: "Has the rod its side play?"})}
	plan, err := torque.NewPlan("rods", torque.Group{Name: "rod bolts", Pattern: torque.Caps([]string{"1a", "1b"}, []string{"2a", "2b"}),
		Order: torque.CapByCap, Stages: []torque.Stage{first}})
	if err != nil {
		t.Fatal(err)
	}
	_, text, _ := strings.Cut(plan.Text(), "\n")
	const want = `
rod bolts, cap of 1a and 1b, stage 1 of 1
  1. 1a: tighten to 8 N·m
  2. 1b: tighten to 8 N·m
  3. Has the rod its side play? If not: stop and find out why.

rod bolts, cap of 2a and 2b, stage 1 of 1
  4. 2a: tighten to 8 N·m
  5. 2b: tighten to 8 N·m
  6. Has the rod its side play? If not: stop and find out why.
`
	if text != want {
		t.Errorf("%s\nwant%s", text, want)
	}
}

// TestCapByCapRefused: bolts without a cap, ties, and a stage in this order.
func TestCapByCapRefused(t *testing.T) {
	caps := torque.Caps([]string{"1a", "1b"}, []string{"2a", "2b"})
	stage := func(s torque.Stage, order torque.Sequence) torque.Stage {
		s.Order = order
		return s
	}
	other := torque.Group{Name: "side", Pattern: torque.Row("S1"), Stages: []torque.Stage{tighten("7 N·m")}}
	tied := other
	tied.Stages = []torque.Stage{during(tighten("7 N·m"), "rod bolts", 1)}
	for name, tt := range map[string]struct {
		groups []torque.Group
		want   string
	}{
		"a row": {[]torque.Group{{Name: "rod bolts", Pattern: torque.Row("1a", "1b"), Order: torque.CapByCap, Stages: []torque.Stage{tighten("8 N·m")}}}, "belongs to no cap"},
		"a stage": {[]torque.Group{{Name: "rod bolts", Pattern: caps, Order: torque.InsideOut,
			Stages: []torque.Stage{stage(tighten("8 N·m"), torque.CapByCap)}}}, "goes through all stages"},
		"a tie to it": {[]torque.Group{{Name: "rod bolts", Pattern: caps, Order: torque.CapByCap, Stages: []torque.Stage{tighten("8 N·m")}}, tied}, "done cap by cap"},
		"a tie of its own": {[]torque.Group{other, {Name: "rod bolts", Pattern: caps, Order: torque.CapByCap,
			Stages: []torque.Stage{during(tighten("8 N·m"), "side", 1)}}}, "done cap by cap"},
	} {
		_, err := torque.NewPlan("rods", tt.groups...)
		var e *torque.PlanError
		if !errors.As(err, &e) || !isOf(e, tt.want) || e.Err.Fix == "" {
			t.Errorf("%s: %v, want %q", name, err, tt.want)
		}
	}
}
