package torque_test

import (
	"math/big"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.com/closefit/torque"
	"example.com/closefit/units"
)

func TestActionsInWords(t *testing.T) {
	within := units.MustParse[units.TorqueInterval]
	for _, tt := range []struct {
		action        any
		string, brief string
	}{
		{torque.Tighten{To: nm("30.5 N·m")}, "tighten to 30.5 N·m", "30.5 N·m"},
		{torque.Tighten{To: nm("22 lbf·ft"), In: units.PoundForceFoot}, "tighten to 22 lbf·ft", "22 lbf·ft"},
		{torque.Tighten{To: nm("22 lbf·ft")}, "tighten to ≈29.83 N·m", "≈29.83 N·m"},
		{torque.Tighten{To: nm("31 N·m"), Within: within("29..34 N·m")}, "tighten to 31 N·m (29 N·m to 34 N·m)", "31 N·m"},
		{torque.Tighten{Within: within("70..75 lbf·ft"), In: units.PoundForceFoot}, "tighten to 72.5 lbf·ft (70 lbf·ft to 75 lbf·ft)", "72.5 lbf·ft"},
		{torque.Tighten{Within: within("25 N·m"), In: units.NewtonMetre}, "tighten to 25 N·m", "25 N·m"},
		{torque.Turn{By: deg("1/4 turn")}, "turn 90° further", "+90°"},
		{torque.Turn{Within: units.MustParse[units.AngleInterval]("90..100°")}, "turn 95° further (90° to 100°)", "+95°"},
		{torque.Turn{By: deg("55°"), Within: units.MustParse[units.AngleInterval]("<= 60°")}, "turn 55° further (at most 60°)", "+55°"},
		{torque.BackOff{}, "back off until it turns freely", "back off"},
		{torque.BackOff{By: deg("180°")}, "back off 180°", "back off"},
		{torque.Wait{For: 10 * time.Minute}, "wait 10m", "wait 10m"},
		{torque.Wait{For: 2 * time.Hour, Why: "for the sealant"}, "wait 2h, for the sealant", "wait 2h"},
		{torque.Wait{For: 90 * time.Second}, "wait 1m30s", "wait 1m30s"},
		{torque.Inspection{Ask: "Free?"}, "Free? If not: stop and find out why.", "check"},
		{torque.Inspection{Ask: "End play?", Within: units.MustParseLengthInterval("0.1..0.2 mm"), IfNot: "strip it."},
			"End play? It must be 0.1 mm to 0.2 mm. If not: strip it.", "check"},
		{torque.Inspection{Ask: "Pilot?", Within: units.MustParseLengthInterval(">= 0.6242 in"), In: units.Inch, IfNot: "discard it"},
			"Pilot? It must be at least 0.6242 in. If not: discard it.", "check"},
		{torque.Inspection{Ask: "Pilot?", Within: units.MustParseLengthInterval("<= 0.1234567 mm")},
			"Pilot? It must be at most ≈0.123 mm. If not: stop and find out why.", "check"},
	} {
		var step torque.Step
		switch do := tt.action.(type) {
		case torque.Tighten:
			step = torque.Step{Bolt: "b", Do: torque.Do(do)}
		case torque.Turn:
			step = torque.Step{Bolt: "b", Do: torque.Do(do)}
		case torque.BackOff:
			step = torque.Step{Bolt: "b", Do: torque.Do(do)}
		case torque.Wait:
			step = torque.Step{Do: torque.Do(do)}
		case torque.Inspection:
			step = torque.Step{Do: torque.Do(do)}
		}
		if got := step.Do.String(); got != tt.string {
			t.Errorf("%q, want %q", got, tt.string)
		}
		if got := step.Brief(); got != tt.brief {
			t.Errorf("%q, want %q", got, tt.brief)
		}
	}
	if nothing := (torque.Step{}); nothing.Do.String() != "nothing" || nothing.Brief() != "nothing" {
		t.Errorf("the zero step says %q, %q", nothing.Do.String(), nothing.Brief())
	}
}

func TestPasses(t *testing.T) {
	final := torque.Tighten{To: nm("100 N·m"), Within: units.MustParse[units.TorqueInterval]("90..110 N·m")}
	passes := torque.Passes(final, 70, 100)
	plan, err := torque.NewPlan("passes", torque.Group{Name: "g", Pattern: torque.Row("b"),
		Stages: slices.Concat(passes, []torque.Stage{{Pull: torque.Do(torque.BackOff{})}}, passes)})
	if err != nil {
		t.Fatal(err)
	}
	want := []string{
		"1. b: tighten to 70 N·m (63 N·m to 77 N·m)", "2. b: tighten to 100 N·m (90 N·m to 110 N·m)",
		"3. b: back off until it turns freely",
		"4. b: tighten to 70 N·m (63 N·m to 77 N·m)", "5. b: tighten to 100 N·m (90 N·m to 110 N·m)",
	}
	for i, step := range plan.Steps() {
		if step.String() != want[i] {
			t.Errorf("%s, want %s", step, want[i])
		}
	}
}

// The bolt gets what its joint needs whatever the nut drags: of what is set, the drag turns
// the nut and the rest is the torque in the table, so that a little more drag asks for a
// little more torque.
func TestRunOnLeavesTheTorqueOfTheJoint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tenths := func(name string, lo, hi int64) units.Torque {
			return units.NewtonMetre.OfInt(rapid.Int64Range(lo, hi).Draw(t, name)).MulRat(big.NewRat(1, 10))
		}
		joint, drag := tenths("joint", 1, 2000), tenths("drag", 0, 2000)
		within := units.PlusMinus(joint, tenths("off", 0, 100))
		set := torque.Tighten{To: joint, Within: within}.WithRunOn(drag)
		if left := set.To.Sub(drag); !left.Equal(joint) || !set.Within.Contains(set.To) {
			t.Fatalf("set %v: %v is left for the joint, not %v", set.To, left, joint)
		}
	})
}

// reduced returns a torque at a share of it.
func reduced(t torque.Tighten, percent int64) torque.Tighten {
	t, _ = torque.As[torque.Tighten](torque.Passes(t, percent)[0].Pull)
	return t
}

func TestReducedAndRunOn(t *testing.T) {
	table := torque.Tighten{To: nm("60 N·m"), Within: units.MustParse[units.TorqueInterval]("50..70 N·m")}
	for _, tt := range []struct {
		name string
		got  torque.Tighten
		want string
	}{
		{"a fifth less", reduced(table, 80), "tighten to 48 N·m (40 N·m to 56 N·m)"},
		{"nothing less", reduced(table, 100), "tighten to 60 N·m (50 N·m to 70 N·m)"},
		{"a drag of half", table.WithRunOn(nm("30 N·m")), "tighten to 90 N·m (80 N·m to 100 N·m)"},
		{"a drag of a third", table.WithRunOn(nm("20 N·m")), "tighten to 80 N·m (70 N·m to 90 N·m)"},
		{"a drag of less", table.WithRunOn(nm("19.9 N·m")), "tighten to 79.9 N·m (69.9 N·m to 89.9 N·m)"},
		{"a drag of 9.9 on 30", torque.Tighten{To: nm("30 N·m")}.WithRunOn(nm("9.9 N·m")), "tighten to 39.9 N·m"},
		{"a drag of 10 on 30", torque.Tighten{To: nm("30 N·m")}.WithRunOn(nm("10 N·m")), "tighten to 40 N·m"},
		{"a fifth less of a middle that is left out", reduced(torque.Tighten{Within: table.Within}, 80), "tighten to 48 N·m (40 N·m to 56 N·m)"},
		{"a drag on a middle that is left out", torque.Tighten{Within: table.Within}.WithRunOn(nm("30 N·m")), "tighten to 90 N·m (80 N·m to 100 N·m)"},
		{"no drag", table.WithRunOn(nm("0 N·m")), "tighten to 60 N·m (50 N·m to 70 N·m)"},
		{"a drag below zero", table.WithRunOn(nm("-1 N·m")), "tighten to 60 N·m (50 N·m to 70 N·m)"},
		{"no tolerance", torque.Tighten{To: nm("9 N·m")}.WithRunOn(nm("4 N·m")), "tighten to 13 N·m"},
	} {
		if got := torque.Do(tt.got).String(); got != tt.want {
			t.Errorf("%s: %s, want %s", tt.name, got, tt.want)
		}
	}
}
