package planfile_test

import (
	"errors"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/files/planfile"
	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/torque"
	"example.com/closefit/units"
)

const flange = `title = "pump flange"
bolts = ["a", "b", "c", "d"]

[[tightening]]
group = "studs"
circle = { diameter = "120 mm", bolts = ["a", "b", "c", "d"] }
order = "cross"
single_use = false
stages = [
  { torque = "70..75 lbf·ft", wait = "5m" },
  { back_off = "free", order = "outside in" },
  { torque = "25 lbf·ft" },
  { turn = "75 ±5 °", check = "Is the gap even?", within = "0.004..0.010 in", if_not = "loosen it" },
]
`

func TestRead(t *testing.T) {
	file, err := planfile.Read("flange.toml", []byte(flange))
	if err != nil {
		t.Fatal(err)
	}
	for number, want := range map[int]string{
		2:  "2. c: tighten to 72.5 lbf·ft (70 lbf·ft to 75 lbf·ft)",
		5:  "5. wait 5m",
		6:  "6. a: back off until it turns freely",
		7:  "7. c: back off until it turns freely",
		10: "10. a: tighten to 25 lbf·ft",
		15: "15. c: mark it, then turn 75° further (70° to 80°)",
		18: "18. Is the gap even? It must be 0.004 in to 0.01 in. If not: loosen it.",
	} {
		if step, _ := file.Plan.Step(number); step.String() != want {
			t.Errorf("%q, want %q", step, want)
		}
	}
	if len(file.Plan.Steps()) != 18 {
		t.Errorf("%d steps, want 18", len(file.Plan.Steps()))
	}
}

// errPlan stands for whatever package torque says of a plan.
var errPlan = errors.New("a *torque.PlanError")

// isKind reports whether an error is of a kind.
func isKind(err, kind error) bool {
	var fault *torque.PlanError
	return errors.Is(err, kind) || kind == errPlan && errors.As(err, &fault)
}

func TestReadErrors(t *testing.T) {
	for _, tt := range []struct {
		name     string
		old, new string
		kind     error
		line     int
		want     string // in the error
	}{
		{"an unknown key", `order = "cross"`, `ordr = "cross"`, tomlfile.ErrUnknownKey, 7, "write order"},
		{"an unknown key in a stage", `torque = "25`, `torqe = "25`, tomlfile.ErrUnknownKey, 12, `"torqe"`},
		{"a missing unit", `"25 lbf·ft"`, `"25"`, units.ErrNoUnit, 12, ""},
		{"a wrong dimension", `"25 lbf·ft"`, `"25 lbf"`, units.ErrWrongDimension, 12, ""},
		{"a decimal comma", `"25 lbf·ft"`, `"25,5 lbf·ft"`, units.ErrSyntax, 12, "25.5"},
		{"one limit", `"25 lbf·ft"`, `"<= 25 lbf·ft"`, nil, 12, "only one limit"},
		{"limits the wrong way round", `70..75`, `75..70`, units.ErrOrder, 10, ""},
		{"no diameter", `diameter = "120 mm", `, ``, planfile.ErrMissing, 6, ""},
		{"no title", `title = "pump flange"`, ``, planfile.ErrMissing, 0, "name the plan"},
		{"bolts in two ways", `order = "cross"`, `bolts = ["a"]`, planfile.ErrAmbiguous, 4, "keep one of"},
		{"two things in a stage", `back_off = "free"`, `back_off = "free", turn = "9°"`, planfile.ErrAmbiguous, 11, "a stage of each"},
		{"nothing in a stage", `back_off = "free", `, ``, planfile.ErrMissing, 11, "does nothing"},
		{"no order", `"cross"`, `"crosswise"`, errPlan, 7, `"cross"`},
		{"an order of numbers", `"cross"`, `[1, 2]`, nil, 7, "in quotes"},
		{"an order that is a number", `"cross"`, `7`, nil, 7, "no order"},
		{"an order that misses", `"cross"`, `["a", "b", "d"]`, errPlan, 7, `"c"`},
		{"limits of no check", `check = "Is the gap even?", `, ``, planfile.ErrMissing, 13, "write check"},
		{"no time", `"5m"`, `"5 minutes"`, nil, 10, `write "5m"`},
		{"a bolt on no group", `bolts = ["a", "b", "c", "d"]
`, `bolts = ["a", "e", "c", "d"]
`, errPlan, 2, `"e"`},
		{"a turn before it is snug", `{ torque = "25 lbf·ft" },`, ``, errPlan, 13, ""},
		{"not TOML", `[[tightening]]`, `[[tightening`, nil, 4, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if !strings.Contains(flange, tt.old) {
				t.Fatalf("%q is not in the file", tt.old)
			}
			_, err := planfile.Read("flange.toml", []byte(strings.Replace(flange, tt.old, tt.new, 1)))
			var e *tomlfile.Error
			if !errors.As(err, &e) || e.Line != tt.line || !strings.Contains(err.Error(), tt.want) || tt.kind != nil && !isKind(err, tt.kind) {
				t.Errorf("%v, want %v in line %d with %q", err, tt.kind, tt.line, tt.want)
			}
		})
	}
}

// FuzzRead: any text is a plan or an error that names the file.
func FuzzRead(f *testing.F) {
	f.Add(flange)
	f.Add("title = \"x\"\n[[tightening]]\ngroup = \"g\"\nbolts = [\"a\"]\nstages = [{ torque = \"1 N·m\", during = { group = \"g\", stage = 1 } }]\n")
	f.Fuzz(func(t *testing.T, text string) {
		plan, err := planfile.Read("fuzz.toml", []byte(text))
		if (plan == nil) == (err == nil) {
			t.Fatalf("plan %v and error %v", plan, err)
		}
		if err != nil && !strings.Contains(err.Error(), "fuzz.toml") {
			t.Fatalf("%v does not name the file", err)
		}
	})
}
