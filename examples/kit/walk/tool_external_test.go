package walk_test

import (
	"errors"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/files/planfile"
	"example.com/closefit/examples/kit/walk"
	"example.com/closefit/torque/ledger"
	"example.com/closefit/units"
)

// TestParseTool: what a tool is set to is a torque with its unit, or nothing.
func TestParseTool(t *testing.T) {
	for _, tt := range []struct {
		set  string
		kind error
	}{
		{"", nil}, {" ", nil}, {"30 N·m", nil}, {" 22 ft·lb ", nil},
		{"30", units.ErrNoUnit}, {"30,5 N·m", units.ErrSyntax}, {"30 mm", units.ErrWrongDimension}, {"28..32 N·m", units.ErrSyntax},
	} {
		tool, err := walk.ParseTool(" wrench 2 ", tt.set, " C-114 ")
		if !errors.Is(err, tt.kind) || err == nil && tool != (ledger.Tool{Name: "wrench 2", Set: strings.TrimSpace(tt.set), Certificate: "C-114"}) {
			t.Errorf("%q: %+v, %v", tt.set, tool, err)
		}
	}
}

// TestSetWrong: a setting outside what the plan allows, or outside ±4 % where it allows nothing, is said of
// each tightening; an unreadable one and a turn are not compared.
func TestSetWrong(t *testing.T) {
	file, err := planfile.Read("pump.toml", []byte(strings.Replace(caps, `{ torque = "5 N·m" }`, `{ torque = "18..22 N·m" }`, 1)))
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		step  int // 2: 8 N·m; 5: 75°; 8: 18..22 N·m
		set   string
		wrong bool
	}{
		{2, "8 N·m", false}, {2, "8 ft·lb", true}, {2, "80 N·m", true}, {2, "7.4 N·m", true}, {2, "71 in·lb", false}, // 8.02 N·m
		{2, "", false}, {2, "eight", false}, {5, "8 N·m", false},
		{8, "18 N·m", false}, {8, "22 N·m", false}, {8, "22.1 N·m", true}, {8, "8 N·m", true},
	} {
		step, ok := file.Plan.Step(tt.step)
		if !ok {
			t.Fatal(tt.step)
		}
		if said := walk.SetWrong(&ledger.Tool{Name: "wrench 2", Set: tt.set}, step); (said != "") != tt.wrong || tt.wrong && !strings.Contains(said, "wrench 2 is recorded as set to "+tt.set+", and step ") {
			t.Errorf("step %d, set to %q: %q", tt.step, tt.set, said)
		}
	}
	step, _ := file.Plan.Step(2)
	if said := walk.SetWrong(nil, step); said != "" {
		t.Error(said)
	}
}
