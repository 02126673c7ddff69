package walk

import (
	"strings"
	"testing"

	"example.com/closefit/torque"
	"example.com/closefit/units"
)

func TestPattern(t *testing.T) {
	plan, err := torque.NewPlan("circle", torque.Group{
		Name:    "studs",
		Pattern: torque.Circle(units.MustParseLength("100 mm"), "a", "b", "c", "d"),
		Order:   torque.Cross{},
		Stages:  []torque.Stage{{Pull: torque.PullOf(torque.Tighten{To: units.MustParseTorque("9 N·m")})}},
	})
	if err != nil {
		t.Fatal(err)
	}
	step, _ := plan.Step(1)
	want := []string{
		"        ==> a",
		"[ ] d           [ ] b",
		"        [ ] c",
	}
	if got := pattern(torque.NewProgress(plan), step, 21); strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}
