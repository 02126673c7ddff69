package walk

import (
	"path/filepath"
	"slices"
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
	l, err := ledger.Start(ledger.Home{Path: filepath.Join(t.TempDir(), "ledger"), Witness: t.TempDir()}, ledger.Work{Engine: "flange 1", Build: "first"}, plan, []string{})
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	if got := pattern(l, step, 11); !slices.Equal(got, []string{"==> a", "[ ] b", "[ ] c", "[ ] d"}) {
		t.Errorf("on a screen too narrow for the pattern: %q", got)
	}
	if got := pattern(l, step, 21); strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}
