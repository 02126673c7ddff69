package torque_test

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/closefit/torque"
	"example.com/closefit/units"
	"pgregory.net/rapid"
)

var (
	nm  = units.MustParseTorque
	deg = units.MustParseAngle
)

// tighten and turn make the usual stages.
func tighten(to string) torque.Stage {
	return torque.Stage{Pull: torque.Do(torque.Tighten{To: nm(to)})}
}
func turn(by string) torque.Stage { return torque.Stage{Pull: torque.Do(torque.Turn{By: deg(by)})} }

// during ties a stage to another.
func during(s torque.Stage, group string, stage int) torque.Stage {
	s.DuringGroup, s.DuringStage = group, stage
	return s
}

// bottomEnd is an invented engine's: main bolts by torque and turn, side bolts with
// their last torque, rod bolts after them.
func bottomEnd() []torque.Group {
	return []torque.Group{
		{
			Name:    "mains",
			Pattern: torque.Caps([]string{"1L", "1R"}, []string{"2L", "2R"}, []string{"3L", "3R"}, []string{"4L", "4R"}),
			Stages:  []torque.Stage{tighten("7 N·m"), tighten("15 N·m"), turn("55°")},
			Use:     torque.SingleUse,
		},
		{
			Name:    "side",
			Pattern: torque.Row("S1", "S2", "S3"),
			Stages:  []torque.Stage{during(tighten("10.5 N·m"), "mains", 2)},
		},
		{
			Name:    "rods",
			Pattern: torque.Caps([]string{"A", "B"}),
			Order:   torque.Rows,
			Stages:  []torque.Stage{tighten("4 N·m"), tighten("8 N·m"), turn("75°")},
			Use:     torque.SingleUse,
		},
	}
}

func TestTiedStageIsDoneDuringItsHost(t *testing.T) {
	plan, err := torque.NewPlan("bottom end", bottomEnd()...)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, s := range plan.Steps() {
		got = append(got, s.Bolt)
		if s.Number != len(got) {
			t.Errorf("step %d is numbered %d", len(got), s.Number)
		}
		if _, turns := torque.As[torque.Turn](s.Do); turns != s.Mark {
			t.Errorf("%v: marked %v", s, s.Mark)
		}
	}
	mains := "2L 2R 3L 3R 1L 1R 4L 4R"
	want := strings.Join([]string{mains, mains, "S2 S1 S3", mains, "A B", "A B", "A B"}, " ")
	if strings.Join(got, " ") != want {
		t.Errorf("bolts\n%s, want\n%s", strings.Join(got, " "), want)
	}
}

func TestPlanErrors(t *testing.T) {
	change := func(change func(groups []torque.Group)) []torque.Group {
		groups := bottomEnd()
		change(groups)
		return groups
	}
	for _, tt := range []struct {
		name   string
		groups []torque.Group
		kind   any              // the kind of error, or what was found
		want   torque.PlanError // group, stage and bolt
	}{
		{"no groups", nil, "a plan without groups", torque.PlanError{}},
		{"empty group", change(func(g []torque.Group) { g[1].Pattern = nil }),
			"a group without bolts", torque.PlanError{Group: "side"}},
		{"no stages", change(func(g []torque.Group) { g[2].Stages = nil }),
			"a group without stages", torque.PlanError{Group: "rods"}},
		{"a group without a name", change(func(g []torque.Group) { g[2].Name = " " }),
			"a group without a name", torque.PlanError{Group: " "}},
		{"two groups of one name", change(func(g []torque.Group) { g[2].Name = "side" }),
			"two groups have this name", torque.PlanError{Group: "side"}},
		{"a bolt's name with a tab", change(func(g []torque.Group) { g[2].Pattern[1].Bolt = "A\tB" }),
			"the character U+0009", torque.PlanError{Group: "rods", Bolt: "A\tB"}},
		{"a bolt's name with an escape sequence", change(func(g []torque.Group) { g[2].Pattern[1].Bolt = "\u009b2J" }),
			"the character U+009B", torque.PlanError{Group: "rods", Bolt: "\u009b2J"}},
		{"a group's name that is too long", change(func(g []torque.Group) { g[1].Name = strings.Repeat("s", 501) }),
			"a text of 501 bytes", torque.PlanError{Group: strings.Repeat("s", 501)}},
		{"a bolt in two groups", change(func(g []torque.Group) { g[2].Pattern[1].Bolt = "3R" }),
			"also in group", torque.PlanError{Group: "rods", Bolt: "3R"}},
		{"a bolt twice in its group", change(func(g []torque.Group) { g[1].Pattern[0].Bolt = "S3" }),
			"named twice in its group", torque.PlanError{Group: "side", Bolt: "S3"}},
		{"two bolts in one place", change(func(g []torque.Group) { g[1].Pattern[0].X = g[1].Pattern[2].X }),
			"it stands at", torque.PlanError{Group: "side", Bolt: "S3"}},
		{"a bolt in the next town", change(func(g []torque.Group) { g[1].Pattern[0].Y = units.MustParseLength("1001 m") }),
			"it stands at", torque.PlanError{Group: "side", Bolt: "S1"}},
		{"an unknown bolt in an order", change(func(g []torque.Group) { g[1].Order = torque.Given{"S1", "S2", "S4"} }),
			"names a bolt that the group does not have", torque.PlanError{Group: "side", Bolt: "S4"}},
		{"an order that misses a bolt", change(func(g []torque.Group) { g[1].Order = torque.Given{"S1", "S3"} }),
			"leaves the bolt out", torque.PlanError{Group: "side", Bolt: "S2"}},
		{"an order that repeats a bolt", change(func(g []torque.Group) { g[1].Order = torque.Given{"S1", "S3", "S2", "S3"} }),
			"names the bolt twice", torque.PlanError{Group: "side", Bolt: "S3"}},
		{"a stage's own order that misses a bolt", change(func(g []torque.Group) { g[2].Stages[1].Order = torque.Given{"B"} }),
			"leaves the bolt out", torque.PlanError{Group: "rods", Bolt: "A"}},
		{"a stage that does nothing", change(func(g []torque.Group) { g[0].Stages[1].Pull = torque.Action{} }),
			torque.ErrNoPull, torque.PlanError{Group: "mains", Stage: 2}},
		{"a torque of zero", change(func(g []torque.Group) { g[0].Stages[0] = tighten("0 N·m") }),
			"a torque of 0", torque.PlanError{Group: "mains", Stage: 1}},
		{"an angle below zero", change(func(g []torque.Group) { g[0].Stages[2] = turn("-55°") }),
			"an angle of -55", torque.PlanError{Group: "mains", Stage: 3}},
		{"a target outside its tolerance", change(func(g []torque.Group) {
			g[0].Stages[1].Pull = torque.Do(torque.Tighten{To: nm("15 N·m"), Within: units.MustParse[units.TorqueInterval]("16..18 N·m")})
		}), "outside its own tolerance", torque.PlanError{Group: "mains", Stage: 2}},
		{"a tolerance with one bound", change(func(g []torque.Group) {
			g[0].Stages[1].Pull = torque.Do(torque.Tighten{To: nm("15 N·m"), Within: units.MustParse[units.TorqueInterval]("<= 18 N·m")})
		}), "a tolerance of <= 18", torque.PlanError{Group: "mains", Stage: 2}},
		{"a turn of a tolerance without an end", change(func(g []torque.Group) {
			g[0].Stages[2].Pull = torque.Do(torque.Turn{By: deg("55°"), Within: units.MustParse[units.AngleInterval](">= 50°")})
		}), "a tolerance of >= 50", torque.PlanError{Group: "mains", Stage: 3}},
		{"a wait of no time", change(func(g []torque.Group) { g[0].Stages[1].Then = []torque.Action{torque.Do(torque.Wait{})} }),
			"a wait of 0s", torque.PlanError{Group: "mains", Stage: 2}},
		{"a check that asks nothing", change(func(g []torque.Group) { g[0].First = []torque.Action{torque.Do(torque.Inspection{IfNot: "stop"})} }),
			"a check that asks nothing", torque.PlanError{Group: "mains"}},
		{"a turn before it is snug", change(func(g []torque.Group) { g[0].Stages[0], g[0].Stages[2] = g[0].Stages[2], g[0].Stages[0] }),
			"has not been tightened to a torque", torque.PlanError{Group: "mains", Stage: 1}},
		{"a turn after backing off", change(func(g []torque.Group) { g[0].Stages[1].Pull = torque.Do(torque.BackOff{}) }),
			"has not been tightened to a torque", torque.PlanError{Group: "mains", Stage: 3}},
		{"a torque below the one before", change(func(g []torque.Group) { g[0].Stages[1] = tighten("4 N·m") }),
			"the wrench would click at once", torque.PlanError{Group: "mains", Stage: 2}},
		{"bolts left loose", change(func(g []torque.Group) { g[0].Stages[2].Pull = torque.Do(torque.BackOff{By: deg("55°")}) }),
			"the bolts stay loose", torque.PlanError{Group: "mains", Stage: 3}},
		{"a tie to no group", change(func(g []torque.Group) { g[1].Stages[0].DuringGroup = "outer" }),
			"does not exist", torque.PlanError{Group: "side", Stage: 1}},
		{"a tie to no stage", change(func(g []torque.Group) { g[1].Stages[0].DuringStage = 4 }),
			"does not exist", torque.PlanError{Group: "side", Stage: 1}},
		{"a tie to a stage of no group", change(func(g []torque.Group) { g[1].Stages[0].DuringGroup = "" }),
			"does not exist", torque.PlanError{Group: "side", Stage: 1}},
		{"a tie to a group alone", change(func(g []torque.Group) { g[1].Stages[0].DuringStage = 0 }),
			"does not exist", torque.PlanError{Group: "side", Stage: 1}},
		{"two stages tied to each other", change(func(g []torque.Group) { g[0].Stages[1] = during(tighten("15 N·m"), "side", 1) }),
			"come before itself", torque.PlanError{Group: "mains", Stage: 2}},
		{"a stage tied to itself", change(func(g []torque.Group) { g[1].Stages[0].DuringGroup, g[1].Stages[0].DuringStage = "side", 1 }),
			"come before itself", torque.PlanError{Group: "side", Stage: 1}},
		{"ties that cross", change(func(g []torque.Group) {
			g[2].Stages[0] = during(tighten("4 N·m"), "mains", 2)
			g[2].Stages[1] = during(tighten("8 N·m"), "mains", 1)
		}), "come before itself", torque.PlanError{Group: "rods", Stage: 2}},
		{"a stage tied to an earlier one of its own group", change(func(g []torque.Group) { g[0].Stages[2] = during(turn("55°"), "mains", 1) }),
			"come before itself", torque.PlanError{Group: "mains", Stage: 3}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := torque.NewPlan("bottom end", tt.groups...)
			var e *torque.PlanError
			if !errors.As(err, &e) || !isOf(e, tt.kind) {
				t.Fatalf("%v, want %q", err, tt.kind)
			}
			if e.Group != tt.want.Group || e.Stage != tt.want.Stage || e.Bolt != tt.want.Bolt {
				t.Errorf("%#v, want group %q, stage %d, bolt %q", e, tt.want.Group, tt.want.Stage, tt.want.Bolt)
			}
			var said *units.Error
			if !errors.As(err, &said) || said != e.Err || said.Fix == "" {
				t.Errorf("%v, want a *units.Error that says what to write", err)
			}
		})
	}
}

// isOf reports whether an error is of a kind, or says that a text was found.
func isOf(e *torque.PlanError, want any) bool {
	if kind, is := want.(error); is {
		return errors.Is(e, kind)
	}
	return strings.Contains(e.Err.Found, want.(string))
}

// boltsOf returns the names of a pattern's bolts.
func boltsOf(p []torque.Position) (names []string) {
	for _, at := range p {
		names = append(names, at.Bolt)
	}
	return names
}

// arranged returns a pattern's bolts in the order in which a plan pulls them.
func arranged(t interface {
	Helper()
	Fatal(...any)
}, order torque.Sequence, p []torque.Position) (bolts []string) {
	t.Helper()
	plan, err := torque.NewPlan("arranged", torque.Group{Name: "g", Pattern: p, Order: order, Stages: []torque.Stage{tighten("9 N·m")}})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range plan.Steps() {
		bolts = append(bolts, s.Bolt)
	}
	return bolts
}

func TestStepsOf(t *testing.T) {
	plan, err := torque.NewPlan("bottom end", bottomEnd()...)
	if err != nil {
		t.Fatal(err)
	}
	if steps, err := plan.StepsOf("S3"); err != nil || !slices.Equal(steps, []int{19}) {
		t.Errorf("%v, %v; want step 19", steps, err)
	}
	if steps, err := plan.StepsOf("B"); err != nil || !slices.Equal(steps, []int{29, 31, 33}) {
		t.Errorf("%v, %v; want steps 29, 31 and 33", steps, err)
	}
	_, err = plan.StepsOf("5R")
	var e *torque.PlanError
	if !errors.As(err, &e) || e.Bolt != "5R" || !isOf(e, "no such bolt") {
		t.Errorf("%v, want 5R, which the plan does not have", err)
	}
}

func TestTiesOfTies(t *testing.T) {
	at := func(group string, stage int) torque.Stage { return during(tighten("9 N·m"), group, stage) }
	plan, err := torque.NewPlan("ties",
		torque.Group{Name: "b", Pattern: torque.Row("b"), Stages: []torque.Stage{tighten("4 N·m"), at("a", 2), at("a", 2)}},
		torque.Group{Name: "a", Pattern: torque.Row("a"), Stages: []torque.Stage{tighten("1 N·m"),
			{Pull: torque.Do(torque.Tighten{To: nm("2 N·m")}), Then: []torque.Action{torque.Do(torque.Wait{For: time.Minute})}}, tighten("3 N·m")}},
		torque.Group{Name: "c", Pattern: torque.Row("c"), Stages: []torque.Stage{at("b", 2)}},
	)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, s := range plan.Steps() {
		got = append(got, s.Group+string(rune('0'+s.Stage)))
		if s.IsPause() {
			got = append(got, "wait")
		}
	}
	if want := "b1 a1 a2 b2 c1 b3 a2 wait a3"; strings.Join(got, " ") != want {
		t.Errorf("%s, want %s", strings.Join(got, " "), want)
	}
}

func TestDigest(t *testing.T) {
	digest := func(change func(groups []torque.Group)) string {
		groups := bottomEnd()
		change(groups)
		plan, err := torque.NewPlan("bottom end", groups...)
		if err != nil {
			t.Fatal(err)
		}
		return plan.Digest()
	}
	same := digest(func([]torque.Group) {})
	if got := digest(func(g []torque.Group) { g[1].Order = torque.Given{"S2", "S1", "S3"} }); got != same {
		t.Error("the same steps in the same order, and another digest")
	}
	for name, change := range map[string]func([]torque.Group){
		"order":  func(g []torque.Group) { g[1].Order = torque.Given{"S1", "S2", "S3"} },
		"target": func(g []torque.Group) { g[1].Stages[0] = during(tighten("10.5001 N·m"), "mains", 2) },
		"angle":  func(g []torque.Group) { g[0].Stages[2] = turn("91°") },
		"tie":    func(g []torque.Group) { g[1].Stages[0].DuringStage = 3 },
		"name":   func(g []torque.Group) { g[1].Name = "sides" },
		"use":    func(g []torque.Group) { g[0].Use = torque.Reusable },
		"pause":  func(g []torque.Group) { g[0].First = []torque.Action{torque.Do(torque.Inspection{Ask: "Oiled?"})} },
	} {
		if digest(change) == same {
			t.Errorf("%s changed, and the same digest", name)
		}
	}
}

// genGroups draws groups with ties to earlier groups, pauses, and every order.
func genGroups(t *rapid.T) []torque.Group {
	orders := []torque.Sequence{nil, torque.InsideOut, torque.OutsideIn, torque.Spiral, torque.Cross, torque.Rows}
	groups := make([]torque.Group, rapid.IntRange(1, 4).Draw(t, "groups"))
	for i := range groups {
		g := &groups[i]
		g.Name = "g" + string(rune('0'+i))
		g.Order = rapid.SampledFrom(orders).Draw(t, "order")
		g.Use = rapid.SampledFrom([]torque.BoltUse{torque.SingleUse, torque.Reusable}).Draw(t, "use")
		taken := map[[2]int]bool{}
		for b := range rapid.IntRange(1, 12).Draw(t, "bolts") {
			at := [2]int{rapid.IntRange(-4, 4).Draw(t, "x"), rapid.IntRange(-9, 9).Draw(t, "y")}
			if taken[at] {
				continue
			}
			taken[at] = true
			g.Pattern = append(g.Pattern, torque.Position{
				Bolt: g.Name + "." + string(rune('a'+b)),
				X:    units.Millimetre.OfInt(int64(at[0] * 37)), Y: units.Millimetre.OfInt(int64(at[1] * 91)),
				Part: rapid.SampledFrom([]string{"", "p", "q"}).Draw(t, "part"),
			})
		}
		tied := false
		for s := range rapid.IntRange(1, 4).Draw(t, "stages") {
			stage := tighten("10 N·m")
			if s > 0 {
				stage = rapid.SampledFrom([]torque.Stage{stage, turn("60°"), {Pull: torque.Do(torque.Tighten{To: nm("12 N·m")}),
					Then: []torque.Action{torque.Do(torque.Inspection{Ask: "Turns?"})}}}).Draw(t, "stage")
			}
			if tighten, is := torque.As[torque.Tighten](stage.Pull); is {
				tighten.To = tighten.To.MulInt(int64(s + 1))
				stage.Pull = torque.Do(tighten)
			}
			// A tie to the last stage of the group before can be kept, if the
			// stages after it are tied too.
			tied = i > 0 && (tied || rapid.Bool().Draw(t, "tied"))
			if tied {
				stage.DuringGroup, stage.DuringStage = groups[i-1].Name, len(groups[i-1].Stages)
			}
			g.Stages = append(g.Stages, stage)
		}
	}
	return groups
}

// TestEachBoltAtEachStageOnce: a plan touches each bolt at each stage exactly once,
// a stage after the stages before it, and a tied one right after its host.
func TestEachBoltAtEachStageOnce(t *testing.T) {
	type touch struct {
		bolt  string
		stage int
	}
	rapid.Check(t, func(t *rapid.T) {
		groups := genGroups(t)
		plan, err := torque.NewPlan("drawn", groups...)
		if err != nil {
			t.Fatal(err)
		}
		count := map[touch]int{}
		last := map[string]int{}
		for _, s := range plan.Steps() {
			if s.Stage < last[s.Group] {
				t.Fatalf("%v: stage %d of %s after stage %d", s, s.Stage, s.Group, last[s.Group])
			}
			last[s.Group] = s.Stage
			if !s.IsPause() {
				count[touch{s.Bolt, s.Stage}]++
			}
		}
		all := 0
		for _, g := range groups {
			for stage := range g.Stages {
				for _, at := range g.Pattern {
					all++
					if n := count[touch{at.Bolt, stage + 1}]; n != 1 {
						t.Fatalf("%s touched %d times in stage %d", at.Bolt, n, stage+1)
					}
				}
			}
		}
		if len(count) != all {
			t.Fatalf("%d touches, want %d", len(count), all)
		}
	})
}

// TestOrdersAreArrangements: every order names every bolt once.
func TestOrdersAreArrangements(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pattern := genGroups(t)[0].Pattern
		for _, order := range []torque.Sequence{torque.InsideOut, torque.OutsideIn, torque.Spiral, torque.Cross, torque.Rows} {
			got := arranged(t, order, pattern)
			want := boltsOf(pattern)
			slices.Sort(got)
			slices.Sort(want)
			if !slices.Equal(got, want) {
				t.Fatalf("%T: %v, want %v", order, got, want)
			}
		}
	})
}
