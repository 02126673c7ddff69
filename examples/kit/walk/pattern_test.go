package walk

import (
	"path/filepath"
	"strings"
	"testing"

	"example.com/closefit/torque"
	"example.com/closefit/torque/ledger"
	"example.com/closefit/units"
)

func TestPattern(t *testing.T) {
	plan, err := torque.NewPlan("circle", torque.Group{
		Name:    "studs",
		Pattern: torque.Circle(units.MustParseLength("100 mm"), "a", "b", "c", "d"),
		Order:   torque.Cross,
		Stages:  []torque.Stage{{Pull: torque.Do(torque.Tighten{To: units.MustParseTorque("9 N·m")})}},
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
	l, err := ledger.Open(filepath.Join(t.TempDir(), "ledger"), plan)
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	if got := pattern(l, step, 21); strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}
