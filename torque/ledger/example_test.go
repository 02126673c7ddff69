package ledger_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"example.com/closefit/torque"
	"example.com/closefit/torque/ledger"
	"example.com/closefit/units"
)

// rodPlan is a plan of four bolts.
func rodPlan() *torque.Plan {
	plan, err := torque.NewPlan("rods", torque.Group{
		Name:    "rod bolts",
		Pattern: torque.Row("1A", "1B", "2A", "2B"),
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

var work = ledger.Work{Engine: "lock gate engine 4711", Build: "rebuild of autumn"}

// newHome returns a home for an example, and removes it.
func newHome() (home ledger.Home, remove func()) {
	folder, err := os.MkdirTemp("", "ledger")
	if err != nil {
		panic(err)
	}
	return ledger.Home{Path: filepath.Join(folder, "rods.ledger"), Witness: filepath.Join(folder, "witnesses")}, func() { os.RemoveAll(folder) }
}

// begun starts a ledger and does so many steps.
func begun(home ledger.Home, plan *torque.Plan, steps int) *ledger.Ledger {
	l, err := ledger.Start(home, work, plan, []string{})
	if err != nil {
		panic(err)
	}
	for range steps {
		step, _ := l.Next()
		if err := errors.Join(l.Begin(step.Number), l.Done(step.Number, ledger.Reached{})); err != nil {
			panic(err)
		}
	}
	return l
}

// A turn is begun, and the program ends before anybody said how it ended. Whoever opens the
// ledger again finds the step begun, and asks.
func ExampleOpen() {
	home, remove := newHome()
	defer remove()
	plan := rodPlan()
	l := begun(home, plan, 4)
	fmt.Println(l.Begin(5)) // 1A is turned
	l.Close()               // the program ends

	l, err := ledger.Open(home, work, plan)
	if err != nil {
		fmt.Println(err)
		return
	}
	defer l.Close()
	step, _ := l.Next()
	fmt.Println(step, "is", l.Status(5))
	fmt.Println(errors.Is(l.Begin(6), ledger.ErrRefused))
	fmt.Println(l.Mishap(ledger.What{Mishap: ledger.PartWay, Step: 5}))
	fmt.Println(l.Troubles()[0].Scrap)
	fmt.Println(l.Replace("1A"))
	step, _ = l.Next()
	fmt.Println(step)
	// Output:
	// <nil>
	// 5. 1A: mark it, then turn 75° further is begun
	// true
	// <nil>
	// true
	// <nil>
	// 1. 1A: tighten to 8 N·m
}

// Whoever starts a ledger says which bolts have been turned already.
func ExampleStart() {
	home, remove := newHome()
	defer remove()
	_, err := ledger.Start(home, work, rodPlan(), nil)
	fmt.Println(errors.Is(err, ledger.ErrRefused))

	l, err := ledger.Start(home, work, rodPlan(), []string{"2B"})
	if err != nil {
		fmt.Println(err)
		return
	}
	defer l.Close()
	for _, t := range l.Troubles() {
		fmt.Println(t.Bolt, t.Why)
	}
	// Output:
	// true
	// 2B it was turned before the ledger began: it may have been spent
}

// A ledger was put back from yesterday. Its witness shows what is missing.
func ExampleTakeOver() {
	home, remove := newHome()
	defer remove()
	plan := rodPlan()
	l := begun(home, plan, 4)
	yesterday, _ := os.ReadFile(home.Path)
	fmt.Println(l.Begin(5), l.Done(5, ledger.Reached{}), l.Close())
	os.WriteFile(home.Path, yesterday, 0o644)

	_, err := ledger.Open(home, work, plan)
	fmt.Println(errors.Is(err, ledger.ErrUnsure), strings.Contains(err.Error(), "may have been turned: 1A;"))

	word, err := ledger.ParseWord("the builder: the marks show that 1A was turned, as the witness says")
	if err != nil {
		fmt.Println(err)
		return
	}
	l, err = ledger.TakeOver(home, work, plan, word)
	if err != nil {
		fmt.Println(err)
		return
	}
	defer l.Close()
	fmt.Println(l.Status(5))
	// Output:
	// <nil> <nil> <nil>
	// true true
	// done
}

// The history of a ledger can be read while a program is using it.
func ExampleRead() {
	home, remove := newHome()
	defer remove()
	l := begun(home, rodPlan(), 1)
	defer l.Close()
	fmt.Println(errors.Join(l.Begin(2), l.Mishap(ledger.What{Mishap: ledger.NotMoved, Step: 2})))
	now, entries, err := ledger.Read(home, work)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, e := range entries[2:] { // after the plan, and what was asked at the start
		fmt.Println(e.Line, e.What, e.Step, e.Bolt)
	}
	fmt.Println(now.Status(1), now.Status(2))
	// Output:
	// <nil>
	// 4 begin 1 1A
	// 5 done 1 1A
	// 6 begin 2 1B
	// 7 not moved 2 1B
	// done pending
}

// A ledger is found by its work, whatever its name.
func ExampleFind() {
	home, remove := newHome()
	defer remove()
	begun(home, rodPlan(), 0).Close()
	paths, err := ledger.Find(filepath.Dir(home.Path), ledger.Work{Engine: "Lock gate engine 4711", Build: "Rebuild of autumn"})
	for _, path := range paths {
		fmt.Println(filepath.Base(path), err)
	}
	// Output: rods.ledger <nil>
}

// A wait is done when its time is over. One that is cut short is recorded as skipped.
func ExampleLedger_Skip() {
	home, remove := newHome()
	defer remove()
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
	l := begun(home, plan, 0)
	defer l.Close()
	fmt.Println(l.Begin(1))
	fmt.Println(errors.Is(l.Done(1, ledger.Reached{}), ledger.ErrTooSoon))
	fmt.Println(l.Skip(1), l.Status(1))
	// Output:
	// <nil>
	// true
	// <nil> skipped
}

// What was reached is kept with the pull that it was measured on, and the tool before it.
func ExampleLedger_Done() {
	home, remove := newHome()
	defer remove()
	l := begun(home, rodPlan(), 0)
	defer l.Close()
	fmt.Println(l.UseTool(ledger.Tool{Name: "wrench 2", Set: "8 N·m", Certificate: "calibration 118"}))
	fmt.Println(l.Begin(1), l.Done(1, ledger.Reached{Torque: units.MustParse[units.TorqueInterval]("8 ±0.2 N·m"), By: "the builder"}))
	_, entries, err := ledger.Read(home, work)
	fmt.Println(entries[len(entries)-1].Detail, err)
	// Output:
	// <nil>
	// <nil> <nil>
	// {"torque":"7.8..8.2 N·m","angle":null,"by":"the builder"} <nil>
}
