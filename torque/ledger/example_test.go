package ledger_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"example.com/closefit/torque"
	"example.com/closefit/torque/ledger"
	"example.com/closefit/units"
)

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

// A turn is begun, and the program ends before it is done. Whoever opens the ledger
// again learns that the bolt is in doubt.
func ExampleOpen() {
	folder, err := os.MkdirTemp("", "ledger")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(folder)
	path, plan := filepath.Join(folder, "rods.ledger"), rodPlan()

	l, err := ledger.Open(path, plan)
	if err != nil {
		fmt.Println(err)
		return
	}
	for range 4 {
		step, _ := l.Next()
		if err := errors.Join(l.Begin(step.Number), l.Done(step.Number)); err != nil {
			fmt.Println(err)
		}
	}
	fmt.Println(l.Begin(5)) // 1A is turned
	l.Abandon()             // as a crash would

	l, err = ledger.Open(path, plan)
	if err != nil {
		fmt.Println(err)
		return
	}
	defer l.Close()
	turn, advice, doubt := l.Trouble()
	fmt.Println(doubt, turn)
	fmt.Println(advice)
	fmt.Println(errors.Is(l.Done(5), ledger.ErrInDoubt))
	fmt.Println(l.Replace("1A"))
	step, _ := l.Next()
	fmt.Println(step)
	// Output:
	// <nil>
	// true 5. 1A: mark it, then turn 75° further
	// Nobody knows how far 1A was turned, and turning it again may take it too far. Back it off and scrap it; fit a new bolt and say that it was replaced. Its stages then begin again.
	// true
	// <nil>
	// 1. 1A: tighten to 8 N·m
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
		Stages:  []torque.Stage{{Pull: torque.Do(torque.Tighten{To: units.MustParseTorque("9 N·m")})}},
		First:   []torque.Action{torque.Do(torque.Wait{For: 10 * time.Minute, Why: "for the sealant"})},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	l, err := ledger.Open(filepath.Join(folder, "cover.ledger"), plan)
	if err != nil {
		fmt.Println(err)
		return
	}
	defer l.Close()
	fmt.Println(l.Begin(1))
	fmt.Println(errors.Is(l.Done(1), ledger.ErrTooSoon))
	fmt.Println(l.Skip(1), l.Status(1))
	// Output:
	// <nil>
	// true
	// <nil> skipped
}

// The history of a ledger can be read while a program is using it.
func ExampleRead() {
	folder, err := os.MkdirTemp("", "ledger")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(folder)
	path, plan := filepath.Join(folder, "rods.ledger"), rodPlan()
	l, err := ledger.Open(path, plan)
	if err != nil {
		fmt.Println(err)
		return
	}
	defer l.Close()
	fmt.Println(errors.Join(l.Begin(1), l.Done(1), l.Begin(2), l.Stop(2)))
	now, entries, err := ledger.Read(path, plan)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, e := range entries {
		fmt.Println(e.Line, e.What, e.Step, e.Bolt)
	}
	fmt.Println(now.Status(1), now.Status(2))
	// Output:
	// <nil>
	// 2 begin 1 1A
	// 3 done 1 1A
	// 4 begin 2 1B
	// 5 stopped 2 1B
	// done pending
}
