package torque_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
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
				{Pull: torque.PullOf(torque.Tighten{To: nm("7 N·m")})},
				{Pull: torque.PullOf(torque.Tighten{To: nm("15 N·m")})},
				{Pull: torque.PullOf(torque.Turn{By: deg("55°")}), Then: []torque.Pause{torque.PauseOf(torque.Check{Ask: "Does the crank turn freely?"})}},
			},
			Use: torque.SingleUse,
		},
		torque.Group{
			Name:    "side",
			Pattern: torque.Row("side 1", "side 2", "side 3"),
			Order:   torque.Given{"side 2", "side 1", "side 3"},
			Stages:  []torque.Stage{{Pull: torque.PullOf(torque.Tighten{To: nm("10.5 N·m")}), During: torque.Tie{Group: "mains", Stage: 2}}},
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
		Stages:  []torque.Stage{{Pull: torque.PullOf(torque.Turn{By: units.MustParseAngle("75°")})}},
	})
	fmt.Println(err)
	fmt.Println(errors.Is(err, torque.ErrNotSnug))
	// Output:
	// group "rod bolts", stage 1: it turns a bolt that has not been tightened to a torque, so the angle means nothing; put a torque stage before it
	// true
}

// rodPlan is a plan of four bolts.
func rodPlan() *torque.Plan {
	plan, err := torque.NewPlan("rods", torque.Group{
		Name:    "rod bolts",
		Pattern: torque.Caps([]string{"1A", "1B"}, []string{"2A", "2B"}),
		Order:   torque.Rows{},
		Stages: []torque.Stage{
			{Pull: torque.PullOf(torque.Tighten{To: units.MustParseTorque("8 N·m")})},
			{Pull: torque.PullOf(torque.Turn{By: units.MustParseAngle("75°")})},
		},
		Use: torque.SingleUse,
	})
	if err != nil {
		panic(err)
	}
	return plan
}

// A turn is begun, and the program ends before it is done. Whoever opens the ledger
// again learns that the bolt is in doubt.
func ExampleOpenLedger() {
	folder, err := os.MkdirTemp("", "ledger")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(folder)
	path, plan := filepath.Join(folder, "rods.ledger"), rodPlan()

	ledger, err := torque.OpenLedger(path, plan)
	if err != nil {
		fmt.Println(err)
		return
	}
	for range 4 {
		step, _ := ledger.Next()
		if err := errors.Join(ledger.Begin(step.Number), ledger.Done(step.Number)); err != nil {
			fmt.Println(err)
		}
	}
	fmt.Println(ledger.Begin(5)) // 1A is turned
	ledger.Abandon()             // as a crash would

	ledger, err = torque.OpenLedger(path, plan)
	if err != nil {
		fmt.Println(err)
		return
	}
	defer ledger.Close()
	trouble, ok := ledger.Trouble()
	fmt.Println(ok, trouble.Step)
	fmt.Println(trouble.Advice)
	fmt.Println(errors.Is(ledger.Done(5), torque.ErrInDoubt))
	fmt.Println(ledger.Replace("1A"))
	step, _ := ledger.Next()
	fmt.Println(step)
	// Output:
	// <nil>
	// true 5. 1A: mark it, then turn 75° further
	// Nobody knows how far 1A was turned, and turning it again may take it too far. Back it off and scrap it; fit a new bolt and say that it was replaced. Its stages then begin again.
	// true
	// <nil>
	// 1. 1A: tighten to 8 N·m
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

func ExamplePlan_Drawings() {
	for _, d := range rodPlan().Drawings() {
		fmt.Println(d.On, strings.HasPrefix(d.SVG, "<svg"))
	}
	// Output:
	// rod bolts true
}

// The orders put a pattern's bolts in turn.
func ExampleOrder() {
	flange := torque.Circle(units.MustParseLength("120 mm"), "1", "2", "3", "4", "5", "6", "7", "8")
	row := torque.Row("1", "2", "3", "4", "5")
	fmt.Println(torque.Cross{}.Arrange(flange))
	fmt.Println(torque.InsideOut{}.Arrange(row))
	fmt.Println(torque.OutsideIn{}.Arrange(row))
	// Output:
	// [1 5 3 7 2 6 4 8]
	// [3 2 4 1 5]
	// [1 5 2 4 3]
}

// A general tightening goes round at 70 % of the final torque, then at all of it, and
// once more until nothing moves.
func ExamplePasses() {
	final := torque.TightenWithin(units.MustParseTorqueInterval("45..55 lbf·ft"), units.PoundForceFoot)
	for _, stage := range torque.Passes(final, 70, 100, 100) {
		fmt.Println(stage.Pull)
	}
	// Output:
	// tighten to 35 lbf·ft (31.5 lbf·ft to 38.5 lbf·ft)
	// tighten to 50 lbf·ft (45 lbf·ft to 55 lbf·ft)
	// tighten to 50 lbf·ft (45 lbf·ft to 55 lbf·ft)
}

// Backing off and repeating settles a gasket or the threads.
func ExampleRepeat() {
	stages := torque.Repeat(2, torque.BackOff{By: units.MustParseAngle("90°")},
		torque.Stage{Pull: torque.PullOf(torque.Tighten{To: units.MustParseTorque("40 N·m")})})
	for _, stage := range stages {
		fmt.Println(stage.Pull)
	}
	// Output:
	// tighten to 40 N·m
	// back off 90°
	// tighten to 40 N·m
}

// A self-locking nut that drags with 30 lbf·in needs that much more.
func ExampleTighten_WithRunOn() {
	table := torque.TightenWithin(units.MustParseTorqueInterval("50..70 lbf·in"), units.PoundForceInch)
	fmt.Println(table.WithRunOn(units.MustParseTorque("30 lbf·in")))
	// Output:
	// tighten to 90 lbf·in (80 lbf·in to 100 lbf·in)
}

// A stage in JSON says the kind of its pull, and null for what there is not.
func ExampleStage_MarshalJSON() {
	stage := torque.Stage{Pull: torque.PullOf(torque.TurnWithin(units.MustParseAngleInterval("70..80°")))}
	text, err := json.Marshal(stage)
	fmt.Println(string(text), err)
	var back torque.Stage
	err = json.Unmarshal(text, &back)
	turn, is := back.Pull.Turn()
	fmt.Println(turn, is, err)
	// Output:
	// {"pull":{"kind":"turn","by":"75 °","within":"70..80 °","beyond":false},"order":null,"during":null,"then":[]} <nil>
	// turn 75° further (70° to 80°) true <nil>
}

// A wait is done when its time is over. One that is cut short is recorded as skipped.
func ExampleLedger_Skip() {
	folder, err := os.MkdirTemp("", "ledger")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(folder)
	plan, err := torque.NewPlan("cover", torque.Group{
		Name:    "cover bolts",
		Pattern: torque.Row("a"),
		Stages:  []torque.Stage{{Pull: torque.PullOf(torque.Tighten{To: units.MustParseTorque("9 N·m")})}},
		First:   []torque.Pause{torque.PauseOf(torque.Wait{For: 10 * time.Minute, Why: "for the sealant"})},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	ledger, err := torque.OpenLedger(filepath.Join(folder, "cover.ledger"), plan)
	if err != nil {
		fmt.Println(err)
		return
	}
	defer ledger.Close()
	fmt.Println(ledger.Begin(1))
	fmt.Println(errors.Is(ledger.Done(1), torque.ErrTooSoon))
	fmt.Println(ledger.Skip(1), ledger.Status(1))
	// Output:
	// <nil>
	// true
	// <nil> skipped
}
