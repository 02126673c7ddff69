package torque_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"time"

	"example.com/closefit/torque"
	"example.com/closefit/units"
)

// Main cap bolts of an invented engine are taken to a torque and then turned; the side
// bolts are tightened with their torque, before they are turned.
func ExampleNewPlan() {
	nm, deg := units.MustParseTorque, units.MustParseAngle
	plan, err := torque.NewPlan("bottom end",
		torque.Group{
			Name:    "mains",
			Pattern: torque.Caps([]string{"1 left", "1 right"}, []string{"2 left", "2 right"}, []string{"3 left", "3 right"}),
			Stages: []torque.Stage{
				{Pull: torque.Do(torque.Tighten{To: nm("7 N·m")})},
				{Pull: torque.Do(torque.Tighten{To: nm("15 N·m")})},
				{Pull: torque.Do(torque.Turn{By: deg("55°")}), Then: []torque.Action{torque.Do(torque.Inspection{Ask: "Does the crank turn freely?"})}},
			},
			Use: torque.SingleUse,
		},
		torque.Group{
			Name:    "side",
			Pattern: torque.Row("side 1", "side 2", "side 3"),
			Order:   torque.Given{"side 2", "side 1", "side 3"},
			Stages:  []torque.Stage{{Pull: torque.Do(torque.Tighten{To: nm("10.5 N·m")}), DuringGroup: "mains", DuringStage: 2}},
		})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, step := range plan.Steps()[10:] {
		fmt.Println(step)
	}
	// Output:
	// 11. 3 left: tighten to 15 N·m
	// 12. 3 right: tighten to 15 N·m
	// 13. side 2: tighten to 10.5 N·m
	// 14. side 1: tighten to 10.5 N·m
	// 15. side 3: tighten to 10.5 N·m
	// 16. 2 left: mark it, then turn 55° further
	// 17. 2 right: mark it, then turn 55° further
	// 18. 1 left: mark it, then turn 55° further
	// 19. 1 right: mark it, then turn 55° further
	// 20. 3 left: mark it, then turn 55° further
	// 21. 3 right: mark it, then turn 55° further
	// 22. Does the crank turn freely? If not: stop and find out why.
}

// An error says where, and what to write instead.
func ExamplePlanError() {
	_, err := torque.NewPlan("rods", torque.Group{
		Name:    "rod bolts",
		Pattern: torque.Row("1A", "1B"),
		Use:     torque.SingleUse,
		Stages:  []torque.Stage{{Pull: torque.Do(torque.Turn{By: units.MustParseAngle("75°")})}},
	})
	fmt.Println(err)
	var e *torque.PlanError
	if errors.As(err, &e) {
		fmt.Println(e.Group, e.Stage)
	}
	// Output:
	// group "rod bolts", stage 1: unsound plan: it turns a bolt that has not been tightened to a torque, so the angle means nothing; put a torque stage before it
	// rod bolts 1
}

// rodPlan is a plan of four bolts.
func rodPlan() *torque.Plan {
	plan, err := torque.NewPlan("rods", torque.Group{
		Name:    "rod bolts",
		Pattern: torque.Caps([]string{"1A", "1B"}, []string{"2A", "2B"}),
		Order:   torque.Rows,
		Stages: []torque.Stage{
			{Pull: torque.Do(torque.Tighten{To: units.MustParseTorque("8 N·m")})},
			{Pull: torque.Do(torque.Turn{By: units.MustParseAngle("75°")})},
		},
		Use: torque.SingleUse,
	})
	if err != nil {
		panic(err)
	}
	return plan
}

func ExamplePlan_Text() {
	text, _, _ := strings.Cut(rodPlan().Text(), "\n\nrod bolts, stage 2")
	_, text, _ = strings.Cut(text, "\n\n")
	fmt.Println(text)
	// Output:
	// rod bolts, stage 1 of 2
	//   1. 1A: tighten to 8 N·m
	//   2. 1B: tighten to 8 N·m
	//   3. 2A: tighten to 8 N·m
	//   4. 2B: tighten to 8 N·m
}

// The arrangements put a pattern's bolts in turn, and a list says its own.
func ExampleSequence() {
	row := torque.Row("1", "2", "3", "4", "5")
	flange := torque.Circle(units.MustParseLength("120 mm"), "1", "2", "3", "4", "5", "6", "7", "8")
	for _, group := range []torque.Group{
		{Pattern: flange, Order: torque.Cross},
		{Pattern: row, Order: torque.InsideOut},
		{Pattern: row, Order: torque.OutsideIn},
		{Pattern: row, Order: torque.Given{"1", "2", "5", "4", "3"}},
	} {
		group.Name = "bolts"
		group.Stages = []torque.Stage{{Pull: torque.Do(torque.Tighten{To: units.MustParseTorque("9 N·m")})}}
		plan, err := torque.NewPlan("order", group)
		if err != nil {
			fmt.Println(err)
			return
		}
		var bolts []string
		for _, step := range plan.Steps() {
			bolts = append(bolts, step.Bolt)
		}
		fmt.Println(group.Order, bolts)
	}
	// Output:
	// cross [1 5 3 7 2 6 4 8]
	// inside out [3 2 4 1 5]
	// outside in [1 5 2 4 3]
	// [1 2 5 4 3] [1 2 5 4 3]
}

// A general tightening goes round at 70 % of the final torque, then at all of it, and
// once more until nothing moves.
func ExamplePasses() {
	final := torque.Tighten{To: units.MustParseTorque("50 lbf·ft"), Within: units.MustParse[units.TorqueInterval]("45..55 lbf·ft"), In: units.PoundForceFoot}
	for _, stage := range torque.Passes(final, 70, 100, 100) {
		fmt.Println(stage.Pull)
	}
	// Output:
	// tighten to 35 lbf·ft (31.5 lbf·ft to 38.5 lbf·ft)
	// tighten to 50 lbf·ft (45 lbf·ft to 55 lbf·ft)
	// tighten to 50 lbf·ft (45 lbf·ft to 55 lbf·ft)
}

// A self-locking nut that drags with 30 lbf·in needs that much more.
func ExampleTighten_WithRunOn() {
	table := torque.Tighten{To: units.MustParseTorque("60 lbf·in"), Within: units.MustParse[units.TorqueInterval]("50..70 lbf·in"), In: units.PoundForceInch}
	fmt.Println(torque.Do(table.WithRunOn(units.MustParseTorque("30 lbf·in"))))
	// Output:
	// tighten to 90 lbf·in (80 lbf·in to 100 lbf·in)
}

// A stage in JSON says the kind of its pull, and null for what there is not.
func ExampleStage_MarshalJSON() {
	stage := torque.Stage{Pull: torque.Do(torque.Turn{Within: units.MustParse[units.AngleInterval]("70..80°")})}
	text, err := json.Marshal(stage)
	fmt.Println(string(text), err)
	var back torque.Stage
	err = json.Unmarshal(text, &back)
	turn, is := torque.As[torque.Turn](back.Pull)
	fmt.Println(turn.By, is, err)
	// Output:
	// {"pull":{"kind":"turn","by":"75 °","within":"70..80 °","beyond":false},"order":null,"during":null,"then":[]} <nil>
	// 75 ° true <nil>
}

// A target that is left out is the middle of its tolerance.
func ExampleDo() {
	for _, do := range []torque.Action{
		torque.Do(torque.Tighten{Within: units.MustParse[units.TorqueInterval]("28..32 N·m")}),
		torque.Do(torque.Turn{By: units.MustParseAngle("1/4 turn")}),
		torque.Do(torque.BackOff{}),
		torque.Do(torque.Wait{For: 10 * time.Minute, Why: "for the gasket"}),
		torque.Do(torque.Inspection{Ask: "How much end play?", Within: units.MustParseLengthInterval("0.08..0.21 mm")}),
	} {
		fmt.Println(do)
	}
	// Output:
	// tighten to 30 N·m (28 N·m to 32 N·m)
	// turn 90° further
	// back off until it turns freely
	// wait 10m, for the gasket
	// How much end play? It must be 0.08 mm to 0.21 mm. If not: stop and find out why.
}

// A program that does more than print a step asks which kind it is.
func ExampleAs() {
	for _, step := range rodPlan().Steps()[3:5] {
		if turn, ok := torque.As[torque.Turn](step.Do); ok {
			fmt.Println(step.Bolt, "turns by", turn.By)
		} else {
			fmt.Println(step.Bolt, "does not turn")
		}
	}
	// Output:
	// 2B does not turn
	// 1A turns by 75 °
}

// Every bolt of the engine has to be in the plan.
func ExamplePlan_StepsOf() {
	plan := rodPlan()
	fmt.Println(plan.StepsOf("1B"))
	_, err := plan.StepsOf("1b")
	fmt.Println(err)
	// Output:
	// [2 6] <nil>
	// bolt "1b": unsound plan: the plan has no such bolt, so nobody would tighten it; write "1B"
}
