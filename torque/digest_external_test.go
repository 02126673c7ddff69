package torque_test

import (
	"reflect"
	"testing"
	"time"

	"example.com/closefit/torque"
	"example.com/closefit/units"
	"pgregory.net/rapid"
)

// said is what a plan says, in lists within lists of texts, which two plans share only if
// they say the same.
func said(p *torque.Plan) any {
	interval := func(bounded bool, exact string) string {
		if !bounded {
			return "none"
		}
		return exact
	}
	var groups, steps []any
	for _, g := range p.Groups() {
		var ties []any
		for _, s := range g.Stages {
			ties = append(ties, s.DuringGroup, s.DuringStage)
		}
		groups = append(groups, []any{g.Name, g.Use == torque.SingleUse, ties})
	}
	for _, s := range p.Steps() {
		do := []any{s.Group, s.Stage, s.Bolt, s.Mark}
		if t, is := torque.As[torque.Tighten](s.Do); is {
			do = append(do, "tighten", t.To.Rat(units.NewtonMetre).String(), interval(!t.Within.Equal(units.TorqueInterval{}), t.Within.String()), t.In, t.High)
		}
		if t, is := torque.As[torque.Turn](s.Do); is {
			do = append(do, "turn", t.By.Rat(units.Turn).String(), interval(!t.Within.Equal(units.AngleInterval{}), t.Within.String()), t.Beyond)
		}
		if b, is := torque.As[torque.BackOff](s.Do); is {
			do = append(do, "back off", b.By.Rat(units.Turn).String())
		}
		if w, is := torque.As[torque.Wait](s.Do); is {
			do = append(do, "wait", w.For, w.Why)
		}
		if c, is := torque.As[torque.Inspection](s.Do); is {
			do = append(do, "check", c.Ask, interval(!c.Within.Equal(units.LengthInterval{}), c.Within.String()), c.In, c.IfNot)
		}
		steps = append(steps, do)
	}
	return []any{p.Name(), groups, steps}
}

// TestDigestTellsPlansApart: two plans have one digest if they say the same, and only
// then. One is drawn from texts that run into one another where they are only joined,
// the other differs from it in one field, or in none. (TestDigest changes the use, which
// these stages do not allow.)
func TestDigestTellsPlansApart(t *testing.T) {
	texts := rapid.SampledFrom([]string{"x", "y", "0", "1:x", "x, 0 mm", "0 mm, y", "x, 0 mm, y", "x\u00a0y", "1;", "wait 1m0s", "check x", "x, y"})
	lengths := rapid.SampledFrom([]string{"0..1 mm", "0.1..0.2 mm", "<= 1 in", "25.4 mm", ">= 0 mm"})
	torques := rapid.SampledFrom([]string{"9 N·m", "9.000001 N·m", "(1/3) lbf·ft", "10 lbf·ft", "10.5 N·m"})
	angles := rapid.SampledFrom([]string{"90°", "90.0001°", "1/3 turn", "360°"})
	same, other := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		name := texts.Draw(t, "plan")
		check := torque.Inspection{Ask: texts.Draw(t, "ask"), IfNot: texts.Draw(t, "if not"), Within: units.MustParseLengthInterval(lengths.Draw(t, "within"))}
		wait := torque.Wait{For: time.Minute, Why: texts.Draw(t, "why")}
		pull := torque.Tighten{To: nm(torques.Draw(t, "to"))}
		turn := torque.Turn{By: deg(angles.Draw(t, "by"))}
		backOff := torque.BackOff{}
		group := torque.Group{Name: texts.Draw(t, "group"), Use: torque.Reusable, Pattern: torque.Row("x", "y", "1:x")}
		during := 1
		plan := func() *torque.Plan {
			group.First = []torque.Action{torque.Do(check)}
			group.Stages = []torque.Stage{{Pull: torque.Do(pull), Then: []torque.Action{torque.Do(wait), torque.Do(check)}},
				{Pull: torque.Do(backOff)}, {Pull: torque.Do(pull)}, {Pull: torque.Do(turn)}}
			side := torque.Group{Name: group.Name + " side", Pattern: torque.Row("s"), Stages: []torque.Stage{{Pull: torque.Do(pull), DuringGroup: group.Name, DuringStage: during}}}
			p, err := torque.NewPlan(name, group, side)
			if err != nil {
				t.Fatal(err)
			}
			return p
		}
		before := plan()
		changes := []struct {
			field  string
			change func()
		}{
			{"none", func() {}},
			{"on", func() { group.On = "block" }},
			{"place", func() { group.Pattern[0].Y = units.MustParseLength("1 mm") }},
			{"name", func() { name = texts.Draw(t, "plan again") }},
			{"group", func() { group.Name = texts.Draw(t, "group again") }},
			{"bolt", func() { group.Pattern[1].Bolt = "y2" }},
			{"order", func() { group.Order = torque.OutsideIn }},
			{"ask", func() { check.Ask = texts.Draw(t, "ask again") }},
			{"if not", func() { check.IfNot = texts.Draw(t, "if not again") }},
			{"ask and if not", func() { check.Ask, check.IfNot = texts.Draw(t, "ask again"), texts.Draw(t, "if not again") }},
			{"check's limits", func() { check.Within = units.MustParseLengthInterval(lengths.Draw(t, "within again")) }},
			{"check's unit", func() { check.In = units.Inch }},
			{"wait", func() { wait.For = 2 * time.Minute }},
			{"why", func() { wait.Why = texts.Draw(t, "why again") }},
			{"torque", func() { pull.To = nm(torques.Draw(t, "to again")) }},
			{"torque's tolerance", func() { pull.Within = units.MustParse[units.TorqueInterval]("0..20 N·m") }},
			{"torque's unit", func() { pull.In = units.PoundForceInch }},
			{"angle", func() { turn.By = deg(angles.Draw(t, "by again")) }},
			{"angle's tolerance", func() { turn.Within = units.MustParse[units.AngleInterval]("0..360°") }},
			{"back-off", func() { backOff.By = deg("90°") }},
			{"tie", func() { during = 2 }},
		}
		change := rapid.SampledFrom(changes).Draw(t, "change")
		change.change()
		after := plan()
		want := reflect.DeepEqual(said(before), said(after))
		if got := before.Digest() == after.Digest(); got != want {
			t.Fatalf("%s: one digest %v, the same said %v\n%v\n%v", change.field, got, want, said(before), said(after))
		}
		if want {
			same++
		} else {
			other++
		}
	})
	if same < 10 || other < 10 {
		t.Errorf("%d alike and %d different pairs prove nothing", same, other)
	}
}

// TestDigestOfChecks: two checks that read alike when they are only joined.
func TestDigestOfChecks(t *testing.T) {
	digest := func(c torque.Inspection) string {
		plan, err := torque.NewPlan("plan", torque.Group{Name: "g", Pattern: torque.Row("b"),
			First: []torque.Action{torque.Do(c)}, Stages: []torque.Stage{tighten("9 N·m")}})
		if err != nil {
			t.Fatal(err)
		}
		return plan.Digest()
	}
	// Between a question and what to do if not stand the limits and the unit.
	for _, between := range []string{"", "0 mm", "1..2 mm"} {
		for _, joint := range []string{", ", ",", ": ", ":", ";", " ", "", "0:", "2:mm", "\u00a0"} {
			middle := joint + between + joint + "mm" + joint
			short := joint + between + joint
			for _, m := range []string{middle, short} {
				a, b := torque.Inspection{Ask: "x" + m + "y", IfNot: "z"}, torque.Inspection{Ask: "x", IfNot: "y" + m + "z"}
				if between == "1..2 mm" {
					a.Within, b.Within = units.MustParseLengthInterval(between), units.MustParseLengthInterval(between)
				}
				if digest(a) == digest(b) {
					t.Errorf("%+v and %+v: both %s", a, b, digest(a))
				}
			}
		}
	}
	a, b := digest(torque.Inspection{Ask: "x, 0 mm", IfNot: "y"}), digest(torque.Inspection{Ask: "x", IfNot: "0 mm, y"})
	if a == b || len(a) != 64 {
		t.Errorf("%s and %s", a, b)
	}
}

// TestDigestOfGroupsAndStages: what the second of two groups, or of two stages, does is in the digest where all else is alike.
func TestDigestOfGroupsAndStages(t *testing.T) {
	group := func(name string, pulls ...string) torque.Group {
		g := torque.Group{Name: name, Use: torque.Reusable, Pattern: torque.Row(name + " 1")}
		for _, p := range pulls {
			g.Stages = append(g.Stages, torque.Stage{Pull: torque.Do(torque.Tighten{To: nm(p)})})
		}
		return g
	}
	digest := func(groups ...torque.Group) string {
		p, err := torque.NewPlan("two", groups...)
		if err != nil {
			t.Fatal(err)
		}
		return p.Digest()
	}
	seen := map[string]string{}
	for name, d := range map[string]string{
		"as it is":             digest(group("a", "20 N·m", "40 N·m"), group("b", "20 N·m", "40 N·m")),
		"another first group":  digest(group("a", "21 N·m", "40 N·m"), group("b", "20 N·m", "40 N·m")),
		"another second stage": digest(group("a", "20 N·m", "41 N·m"), group("b", "20 N·m", "40 N·m")),
		"another second group": digest(group("a", "20 N·m", "40 N·m"), group("b", "21 N·m", "40 N·m")),
		"another last stage":   digest(group("a", "20 N·m", "40 N·m"), group("b", "20 N·m", "41 N·m")),
		"one stage each":       digest(group("a", "20 N·m"), group("b", "20 N·m")),
		"one stage, other b":   digest(group("a", "20 N·m"), group("b", "21 N·m")),
	} {
		if other, is := seen[d]; is {
			t.Errorf("%s and %s have one digest", name, other)
		}
		seen[d] = name
	}
}
