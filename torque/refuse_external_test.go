package torque_test

import (
	"errors"
	"strings"
	"testing"

	"example.com/closefit/torque"
	"example.com/closefit/units"
)

// TestRefused: what should not pass, each with a kind of its own and what to write.
func TestRefused(t *testing.T) {
	tightenTo := func(pull torque.Tighten) torque.Stage { return torque.Stage{Pull: torque.Do(pull)} }
	turnBy := func(pull torque.Turn) torque.Stage { return torque.Stage{Pull: torque.Do(pull)} }
	backOff := func(by string) torque.Stage {
		return torque.Stage{Pull: torque.Do(torque.BackOff{By: deg(by)})}
	}
	free := torque.Stage{Pull: torque.Do(torque.BackOff{})}
	high := func(to string, said bool) torque.Stage { return tightenTo(torque.Tighten{To: nm(to), High: said}) }
	beyond := func(by string, said bool) torque.Stage { return turnBy(torque.Turn{By: deg(by), Beyond: said}) }
	within := units.MustParse[units.AngleInterval]
	for _, tt := range []struct {
		name   string
		use    torque.BoltUse
		stages []torque.Stage
		kind   any // the kind of error, or what was found; nil for a plan that is right
		stage  int
		fix    string
	}{
		{"a turn, and nothing said of use", torque.NotSaid, []torque.Stage{tighten("23 N·m"), turn("55°")}, "nobody says whether they are used once", 2, "Reusable"},
		{"a turn of reusable bolts", torque.Reusable, []torque.Stage{tighten("23 N·m"), turn("55°")}, nil, 0, ""},
		{"torques, and nothing said of use", torque.NotSaid, []torque.Stage{tighten("23 N·m"), free, tighten("40 N·m")}, nil, 0, ""},
		{"the first use that there is not", torque.BoltUse(3), []torque.Stage{tighten("23 N·m")}, "BoltUse(3) does not exist", 0, "SingleUse or Reusable"},

		{"single use, backed off after the turn", torque.SingleUse, []torque.Stage{tighten("23 N·m"), turn("55°"), free, tighten("40 N·m")},
			"backs off single-use bolts", 3, "leave this one out"},
		{"the same in silence", torque.NotSaid, []torque.Stage{tighten("23 N·m"), turn("55°"), free, tighten("40 N·m")}, "backs off single-use bolts", 3, ""},
		{"single use by torque alone, backed off after the greatest", torque.SingleUse, []torque.Stage{tighten("23 N·m"), tighten("70 N·m"), backOff("55°"), tighten("70 N·m")},
			"backs off single-use bolts", 3, ""},
		{"single use, backed off while only settled", torque.SingleUse, []torque.Stage{tighten("23 N·m"), free, tighten("40 N·m"), turn("55°")}, nil, 0, ""},
		{"single use by torque alone, backed off before the greatest", torque.SingleUse, []torque.Stage{tighten("23 N·m"), free, tighten("70 N·m")}, nil, 0, ""},
		{"reusable, backed off after the turn", torque.Reusable, []torque.Stage{tighten("23 N·m"), turn("55°"), free, tighten("40 N·m")}, nil, 0, ""},

		// The bounds are stated in the doc: 1000 N·m and 360° pass, more does not.
		{"4500 N·m", torque.NotSaid, []torque.Stage{high("4500 N·m", false)}, "a torque of", 1, "set High"},
		{"4500 N·m that is meant", torque.NotSaid, []torque.Stage{high("4500 N·m", true)}, nil, 0, ""},
		{"1000 N·m", torque.NotSaid, []torque.Stage{high("1000 N·m", false)}, nil, 0, ""},
		{"a tolerance that reaches above", torque.NotSaid, []torque.Stage{tightenTo(torque.Tighten{To: nm("999 N·m"), Within: units.MustParse[units.TorqueInterval]("980..1018 N·m")})},
			"a torque of", 1, "set High"},
		{"737.6 lbf·ft, 1000.05 N·m", torque.NotSaid, []torque.Stage{tightenTo(torque.Tighten{To: nm("737.6 lbf·ft"), In: units.PoundForceFoot})},
			"a torque of", 1, "decimal point"},
		{"23 N·m said to be high", torque.NotSaid, []torque.Stage{high("23 N·m", true)}, "it says ", 1, "take High out"},
		{"a torque beyond any wrench", torque.NotSaid, []torque.Stage{high("450000 N·m", true)}, "a torque of", 1, "look at its unit"},

		{"9000°", torque.SingleUse, []torque.Stage{tighten("23 N·m"), beyond("9000°", false)}, torque.ErrBeyondTurn, 2, "look at its unit"},
		{"9000° that is meant", torque.SingleUse, []torque.Stage{tighten("23 N·m"), beyond("9000°", true)}, torque.ErrBeyondTurn, 2, "look at its unit"},
		{"400°", torque.SingleUse, []torque.Stage{tighten("23 N·m"), beyond("400°", false)}, torque.ErrBeyondTurn, 2, "set Beyond"},
		{"400° that is meant", torque.SingleUse, []torque.Stage{tighten("23 N·m"), beyond("400°", true)}, nil, 0, ""},
		{"a full turn", torque.SingleUse, []torque.Stage{tighten("23 N·m"), beyond("1 turn", false)}, nil, 0, ""},
		{"270° and 100°", torque.SingleUse, []torque.Stage{tighten("23 N·m"), beyond("270°", false), beyond("100°", false)}, torque.ErrBeyondTurn, 3, "set Beyond"},
		{"270° and 100° that are meant", torque.SingleUse, []torque.Stage{tighten("23 N·m"), beyond("270°", false), beyond("100°", true)}, nil, 0, ""},
		{"270° and 100° with a torque between", torque.SingleUse, []torque.Stage{tighten("23 N·m"), beyond("270°", false), tighten("60 N·m"), beyond("100°", false)}, nil, 0, ""},
		{"a tolerance that reaches beyond", torque.SingleUse, []torque.Stage{tighten("23 N·m"), turnBy(torque.Turn{By: deg("355°"), Within: within("350..365°")})},
			torque.ErrBeyondTurn, 2, "set Beyond"},
		{"55° said to be beyond", torque.SingleUse, []torque.Stage{tighten("23 N·m"), beyond("55°", true)}, "it says ", 2, "take Beyond out"},
		{"backed off by 9000°", torque.NotSaid, []torque.Stage{tighten("23 N·m"), backOff("9000°"), tighten("23 N·m")}, torque.ErrBeyondTurn, 2, "turns freely"},
		{"backed off by a full turn", torque.NotSaid, []torque.Stage{tighten("23 N·m"), backOff("1 turn"), tighten("23 N·m")}, nil, 0, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := torque.NewPlan("plan", torque.Group{Name: "g", Pattern: torque.Row("a", "b"), Use: tt.use, Stages: tt.stages})
			checkRefusal(t, err, tt.kind, tt.stage, tt.fix)
		})
	}
}

func checkRefusal(t *testing.T, err error, kind any, stage int, fix string) {
	t.Helper()
	if kind == nil {
		if err != nil {
			t.Errorf("%v, want a plan", err)
		}
		return
	}
	for _, e := range each(err) {
		if isOf(e, kind) && e.Stage == stage && strings.Contains(e.Error(), fix) {
			return
		}
	}
	t.Errorf("%v, want %q in stage %d with %q", err, kind, stage, fix)
}

// each returns the errors that are joined in one.
func each(err error) (all []*torque.PlanError) {
	if joined, is := err.(interface{ Unwrap() []error }); is {
		for _, err := range joined.Unwrap() {
			all = append(all, each(err)...)
		}
		return all
	}
	var e *torque.PlanError
	if errors.As(err, &e) {
		return []*torque.PlanError{e}
	}
	return nil
}

// TestNames: names that people take for one are one, or an error.
func TestNames(t *testing.T) {
	group := func(name string, bolts ...string) torque.Group {
		return torque.Group{Name: name, Pattern: torque.Row(bolts...), Stages: []torque.Stage{tighten("9 N·m")}}
	}
	on := func(part string, g torque.Group) torque.Group {
		g.On = part
		return g
	}
	capped := func(g torque.Group, parts ...string) torque.Group {
		for i, part := range parts {
			g.Pattern[i].Part = part
		}
		return g
	}
	ordered := func(g torque.Group, order ...string) torque.Group {
		g.Order = torque.Given(order)
		return g
	}
	tied := func(g torque.Group, to string) torque.Group {
		g.Stages[0].DuringGroup, g.Stages[0].DuringStage = to, 1
		return g
	}
	for _, tt := range []struct {
		name   string
		groups []torque.Group
		kind   any
		fix    string
	}{
		{"case", []torque.Group{group("g", "1L", "1l")}, torque.ErrAlike, "give one another name"},
		{"a blank within", []torque.Group{group("g", "1 L", "1L")}, torque.ErrAlike, "give one another name"},
		{"in two groups", []torque.Group{group("g", "Main 1"), group("h", "main  1")}, torque.ErrAlike, `"Main 1"`},
		{"letters of three cases", []torque.Group{group("g", "K1", "\u212a1")}, torque.ErrAlike, ""}, // the kelvin sign
		{"a blank at the end", []torque.Group{group("g", "1L", "1L ")}, "has a blank at its end", `write "1L"`},
		{"a blank at the beginning", []torque.Group{group("g", " 2L")}, "has a blank at its end", `write "2L"`},
		{"a blank of no break", []torque.Group{group("g", "2L\u00a0")}, "has a blank at its end", `write "2L"`},
		{"a group with a blank", []torque.Group{group("g ", "1")}, "has a blank at its end", `write "g"`},
		{"groups by case", []torque.Group{group("Rods", "1"), group("rods", "2")}, torque.ErrAlike, "give one another name"},
		{"parts by case", []torque.Group{on("block", group("g", "1")), on("Block", group("h", "2"))}, torque.ErrAlike, "write them alike"},
		{"a part with a blank", []torque.Group{on("block ", group("g", "1"))}, "has a blank at its end", `write "block"`},
		{"caps by a blank", []torque.Group{capped(group("g", "1", "2"), "cap 1", "cap1")}, torque.ErrAlike, "write them alike"},
		{"a cap with a tab", []torque.Group{capped(group("g", "1"), "cap\t1")}, "the character U+0009", "without tabs"},
		{"an order by case", []torque.Group{ordered(group("g", "1L", "1R"), "1l", "1R")}, "names a bolt that the group does not have", `write "1L"`},
		{"a tie by case", []torque.Group{group("Inner", "1"), tied(group("side", "2"), "inner")}, "does not exist", `write "Inner"`},
		{"one part in two groups, caps of one name", []torque.Group{on("block", capped(group("g", "1", "2"), "1", "1")), on("block", capped(group("h", "3"), "1"))}, nil, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := torque.NewPlan("plan", tt.groups...)
			checkRefusal(t, err, tt.kind, stageOf(err), tt.fix)
		})
	}
	plan, err := torque.NewPlan("plan", group("g", "1L"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := plan.StepsOf("1l"); err == nil || !strings.Contains(err.Error(), `write "1L"`) {
		t.Errorf("%v, want the name that is meant", err)
	}
}

// stageOf returns the stage of the first error, where a test does not ask for it.
func stageOf(err error) int {
	if all := each(err); len(all) > 0 {
		return all[0].Stage
	}
	return 0
}

// TestOtherOrders: an order that is neither an Arrangement nor a Given is refused.
func TestOtherOrders(t *testing.T) {
	var none *torque.Arrangement
	_, err := torque.NewPlan("plan", torque.Group{Name: "g", Pattern: torque.Row("a"), Order: none, Stages: []torque.Stage{tighten("9 N·m")}})
	checkRefusal(t, err, "a *torque.Arrangement", 0, "give it an Arrangement or a Given")
	own := struct{ torque.Arrangement }{torque.Cross}
	_, err = torque.NewPlan("plan", torque.Group{Name: "g", Pattern: torque.Row("a"), Order: own, Stages: []torque.Stage{tighten("9 N·m")}})
	checkRefusal(t, err, "Arrangement }", 0, "give it an Arrangement or a Given")
	_, err = torque.NewPlan("plan", torque.Group{Name: "g", Pattern: torque.Row("a"), Order: torque.Arrangement(9), Stages: []torque.Stage{tighten("9 N·m")}})
	if err == nil || !strings.Contains(err.Error(), "leaves the bolt out") {
		t.Errorf("%v, want an order that there is not refused", err)
	}
}
