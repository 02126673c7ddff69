package torque_test

import (
	"errors"
	"fmt"

	"example.com/closefit/torque"
	"example.com/closefit/units"
)

// Inner main cap bolts are taken to a torque and then turned; the side bolts are
// tightened while the inner ones are turned.
func ExampleNewPlan() {
	nm, deg := units.MustParseTorque, units.MustParseAngle
	plan, err := torque.NewPlan("bottom end",
		torque.Group{
			Name:    "inner",
			Pattern: torque.Caps([]string{"1 left", "1 right"}, []string{"2 left", "2 right"}, []string{"3 left", "3 right"}),
			Stages: []torque.Stage{
				{Pull: torque.Tighten{To: nm("5 N·m")}},
				{Pull: torque.Tighten{To: nm("30 N·m")}},
				{Pull: torque.Turn{By: deg("90°")}, Then: []torque.Pause{torque.Check{Ask: "Does the crank turn freely?"}}},
			},
			Yielding: true,
		},
		torque.Group{
			Name:    "side",
			Pattern: torque.Row("side 1", "side 2", "side 3"),
			Order:   torque.Given{"side 2", "side 1", "side 3"},
			Stages:  []torque.Stage{{Pull: torque.Tighten{To: nm("30 N·m")}, During: torque.Tie{Group: "inner", Stage: 3}}},
		})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, step := range plan.Steps()[10:] {
		fmt.Println(step)
	}
	// Output:
	// 11. 3 left: tighten to 30 N·m
	// 12. 3 right: tighten to 30 N·m
	// 13. 2 left: mark it, then turn 90° further
	// 14. 2 right: mark it, then turn 90° further
	// 15. 1 left: mark it, then turn 90° further
	// 16. 1 right: mark it, then turn 90° further
	// 17. 3 left: mark it, then turn 90° further
	// 18. 3 right: mark it, then turn 90° further
	// 19. side 2: tighten to 30 N·m
	// 20. side 1: tighten to 30 N·m
	// 21. side 3: tighten to 30 N·m
	// 22. Does the crank turn freely? If not: stop and find out why.
}

// An error says where, and what to write instead.
func ExamplePlanError() {
	_, err := torque.NewPlan("rods", torque.Group{
		Name:    "rod bolts",
		Pattern: torque.Row("1A", "1B"),
		Stages:  []torque.Stage{{Pull: torque.Turn{By: units.MustParseAngle("90°")}}},
	})
	fmt.Println(err)
	fmt.Println(errors.Is(err, torque.ErrNotSnug))
	// Output:
	// group "rod bolts", stage 1: it turns a bolt that has not been tightened to a torque, so the angle means nothing; put a torque stage before it
	// true
}
