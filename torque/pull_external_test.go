package torque_test

import (
	"encoding/json"
	"errors"
	"reflect"
	"strings"
	"testing"
	"time"

	"example.com/closefit/torque"
	"example.com/closefit/units"
	"pgregory.net/rapid"
)

// TestNoPullBehindAPointer: nothing in a stage or a step can be a pointer to a pull, or an
// interface that would take one. Only an Order is an interface, and no rule looks into it.
func TestNoPullBehindAPointer(t *testing.T) {
	order := reflect.TypeFor[torque.Sequence]()
	seen := map[reflect.Type]bool{}
	var look func(path string, typ reflect.Type)
	look = func(path string, typ reflect.Type) {
		switch {
		case typ == order || seen[typ] || strings.HasSuffix(typ.PkgPath(), "/units"):
		case typ.Kind() == reflect.Pointer, typ.Kind() == reflect.Interface:
			t.Errorf("%s is a %v", path, typ)
		case typ.Kind() == reflect.Slice:
			look(path+"[]", typ.Elem())
		case typ.Kind() == reflect.Struct:
			seen[typ] = true
			for i := range typ.NumField() {
				if f := typ.Field(i); f.IsExported() {
					look(path+"."+f.Name, f.Type)
				}
			}
		}
	}
	for _, typ := range []reflect.Type{reflect.TypeFor[torque.Group](), reflect.TypeFor[torque.Step](),
		reflect.TypeFor[torque.Tighten](), reflect.TypeFor[torque.Turn](), reflect.TypeFor[torque.BackOff](),
		reflect.TypeFor[torque.Wait](), reflect.TypeFor[torque.Inspection]()} {
		look(typ.Name(), typ)
	}
}

// TestPullFromJSONMeetsTheRules: a turn that came by way of a pointer and JSON is marked,
// must be snug first, and makes the same plan as one written in Go.
func TestPullFromJSONMeetsTheRules(t *testing.T) {
	var read torque.Stage
	if err := json.Unmarshal([]byte(`{"pull":{"kind":"turn","by":"55 °","within":null,"beyond":false},"order":null,"during":null,"then":[]}`), &read); err != nil {
		t.Fatal(err)
	}
	pointer := new(torque.Turn)
	pointer.By = deg("55°")
	made := torque.Stage{Pull: torque.PullOf(*pointer)}
	pointer.By = deg("45°") // too late to change the stage
	var digests []string
	for _, stage := range []torque.Stage{read, made, turn("55°")} {
		group := torque.Group{Name: "g", Pattern: torque.Row("b"), Use: torque.SingleUse, Stages: []torque.Stage{stage}}
		if _, err := torque.NewPlan("plan", group); err == nil || !strings.Contains(err.Error(), "has not been tightened to a torque") {
			t.Errorf("%v: %v, want a torque before the turn", stage.Pull, err)
		}
		group.Stages = []torque.Stage{tighten("23 N·m"), stage}
		plan, err := torque.NewPlan("plan", group)
		if err != nil {
			t.Fatal(err)
		}
		if step, _ := plan.Step(2); step.String() != "2. b: mark it, then turn 55° further" {
			t.Error(step)
		}
		digests = append(digests, plan.Digest())
	}
	if digests[0] != digests[2] || digests[1] != digests[2] {
		t.Errorf("digests %v, want one", digests)
	}
}

func TestJSONErrors(t *testing.T) {
	const turn = `{"kind":"turn","by":"55 °","within":null,"beyond":false}`
	stage := func(pull string) string {
		return `{"pull":` + pull + `,"order":null,"during":null,"then":[]}`
	}
	for _, tt := range []struct {
		name, text string
		kind       any // the kind of error, or what was found
		want       string
	}{
		{"a pull of no kind", stage(`{"kind":"twist","by":"55 °"}`), torque.ErrPullKind, `["tighten" "turn" "back off"]`},
		{"a pull without its kind", stage(`{"by":"55 °"}`), torque.ErrPullKind, "no kind"},
		{"no pull", stage(`null`), torque.ErrNoPull, "null"},
		{"no key for it", `{"order":null,"during":null,"then":[]}`, units.ErrNotWritten, `no key "pull"`},
		{"a key left out", stage(`{"kind":"turn","by":"55 °","within":null}`), units.ErrNotWritten, `no key "beyond"`},
		{"a key too many", stage(strings.Replace(turn, `"by"`, `"till":"1°","by"`, 1)), units.ErrNotWritten, `an unknown key "till"`},
		{"a key twice", stage(strings.Replace(turn, `"by"`, `"by":"1 °","by"`, 1)), units.ErrNotWritten, "twice"},
		{"null for what must be there", stage(strings.Replace(turn, `"55 °"`, "null", 1)), units.ErrNotWritten, "null"},
		{"a text for a yes or no", stage(strings.Replace(turn, "false", `"no"`, 1)), nil, `"beyond"`},
		{"no unit", stage(strings.Replace(turn, "55 °", "90", 1)), units.ErrNoUnit, `"by"`},
		{"a torque for an angle", stage(strings.Replace(turn, "55 °", "90 N·m", 1)), units.ErrWrongDimension, ""},
		{"an order of no name", strings.Replace(stage(turn), `"order":null`, `"order":"zigzag"`, 1), "is not an order", "zigzag"},
		{"a pause of no kind", strings.Replace(stage(turn), `[]`, `[{"kind":"tea"}]`, 1), "the kind \"tea\"", `["wait" "check"]`},
		{"a wait of no time", strings.Replace(stage(turn), `[]`, `[{"kind":"wait","for":"a while","why":""}]`, 1), nil, "no time to wait"},
		{"a list", `[]`, units.ErrNotWritten, "no object"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var s torque.Stage
			err := json.Unmarshal([]byte(tt.text), &s)
			var e *torque.PlanError
			kind, of := tt.kind.(error)
			found, says := tt.kind.(string)
			if err == nil || of && !errors.Is(err, kind) || says && (!errors.As(err, &e) || !isOf(e, found)) || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("%v, want %v with %q", err, tt.kind, tt.want)
			}
		})
	}
	var plan torque.Plan
	if err := json.Unmarshal([]byte(`{"closefit":2,"name":"x","groups":[]}`), &plan); err == nil || !strings.Contains(err.Error(), "version 2") {
		t.Errorf("%v, want another version refused", err)
	}
	if err := json.Unmarshal([]byte(`{"closefit":1,"name":"x","groups":[]}`), &plan); err == nil || !strings.Contains(err.Error(), "a plan without groups") {
		t.Errorf("%v, want the errors of NewPlan", err)
	}
	var group torque.Group
	if err := json.Unmarshal([]byte(`{"name":"g","pattern":[],"order":null,"stages":[],"use":"twice","on":"","first":[]}`), &group); err == nil || !strings.Contains(err.Error(), `"reusable"`) {
		t.Errorf("%v, want a use refused", err)
	}
	if _, err := json.Marshal(torque.Stage{}); !errors.Is(err, torque.ErrNoPull) {
		t.Errorf("%v, want ErrNoPull", err)
	}
	made, err := torque.NewPlan("kept", bottomEnd()...)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal([]byte(`{"closefit":1,"name":"x","groups":[]}`), made); err == nil || made.Name() != "kept" {
		t.Errorf("%v, and the plan is %q: a plan does not change", err, made.Name())
	}
}

// TestJSONRoundTrip: a plan comes back from JSON as it was, pulls as values.
func TestJSONRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		groups := genGroups(t)
		stage := &groups[0].Stages[0]
		stage.Then = append(stage.Then, torque.PauseOf(torque.Wait{For: time.Duration(rapid.Int64Range(1, 1e13).Draw(t, "wait")), Why: "sealant"}),
			torque.PauseOf(torque.Inspection{Ask: "Free?", Within: units.MustParseLengthInterval("<= 0.1 in"), In: units.Inch, IfNot: "stop"}))
		stage.Order = torque.Given(boltsOf(groups[0].Pattern))
		stage.Pull = torque.PullOf(torque.Tighten{Within: units.MustParse[units.TorqueInterval]("9.123..10.5 lbf·ft"), In: units.PoundForceFoot})
		groups[0].First = []torque.Pause{torque.PauseOf(torque.Inspection{Ask: "Oiled?"})}
		plan, err := torque.NewPlan("drawn", groups...)
		if err != nil {
			t.Fatal(err)
		}
		text, err := json.Marshal(plan)
		if err != nil {
			t.Fatal(err)
		}
		var back torque.Plan
		if err := json.Unmarshal(text, &back); err != nil {
			t.Fatalf("%v in %s", err, text)
		}
		if back.Digest() != plan.Digest() || back.Text() != plan.Text() {
			t.Fatalf("%s\ncame back as\n%s", plan.Text(), back.Text())
		}
		for i, s := range plan.Steps() {
			if b := back.Steps()[i]; b.String() != s.String() || b.Mark != s.Mark || b.Brief() != s.Brief() {
				t.Fatalf("%v came back as %v", s, b)
			}
		}
		again, err := json.Marshal(&back)
		if err != nil || string(again) != string(text) {
			t.Fatalf("%v: %s\nand then\n%s", err, text, again)
		}
	})
}

// TestValuesSurviveJSON: each thing that a plan is made of, and its steps, come back alone as
// they were; a kind of another thing, a missing key and nothing at all are refused.
func TestValuesSurviveJSON(t *testing.T) {
	groups := bottomEnd()
	groups[0].First = []torque.Pause{torque.PauseOf(torque.Wait{For: time.Minute})}
	plan, err := torque.NewPlan("bottom end", groups...)
	if err != nil {
		t.Fatal(err)
	}
	steps := plan.Steps()
	for _, v := range []any{
		torque.Tighten{To: nm("23 N·m"), Within: units.MustParse[units.TorqueInterval]("21..25 N·m"), In: units.PoundForceFoot, High: true},
		torque.Turn{By: deg("400°"), Within: units.MustParse[units.AngleInterval]("390..410°"), Beyond: true},
		torque.BackOff{By: deg("90°")}, torque.BackOff{},
		torque.Wait{For: 90 * time.Second, Why: "sealant"},
		torque.Inspection{Ask: "End play?", Within: units.MustParseLengthInterval(">= 0.1 mm"), In: units.Thou, IfNot: "strip it"},
		torque.Tie{Group: "mains", Stage: 2}, groups[1].Pattern[2], groups[0], groups[1].Stages[0], groups[0].Stages[1].Pull, groups[0].First[0],
		steps[0], steps[1], steps[18], steps[len(steps)-1], torque.SingleUse, torque.Cross, torque.Given{"b", "a"},
	} {
		text, err := json.Marshal(v)
		if err != nil {
			t.Errorf("%T: %v", v, err)
			continue
		}
		back := reflect.New(reflect.TypeOf(v))
		if err := json.Unmarshal(text, back.Interface()); err != nil {
			t.Errorf("%T: %v in %s", v, err, text)
			continue
		}
		if again, err := json.Marshal(back.Elem().Interface()); err != nil || string(again) != string(text) {
			t.Errorf("%T: %s\ncame back as %s, %v", v, text, again, err)
		}
		if text[0] != '{' {
			continue
		}
		for _, bad := range []string{`{}`, `{"kind":"tea"}`, strings.TrimSuffix(string(text), "}") + `,"more":1}`} {
			if err := json.Unmarshal([]byte(bad), back.Interface()); err == nil {
				t.Errorf("%T: %s is taken", v, bad)
			}
		}
		if after, _ := json.Marshal(back.Elem().Interface()); string(after) != string(text) {
			t.Errorf("%T was changed by text that was refused", v)
		}
	}
	if steps[1].Spends || !steps[len(steps)-1].Spends {
		t.Errorf("%v spends its bolt: %v; %v: %v", steps[1], steps[1].Spends, steps[len(steps)-1], steps[len(steps)-1].Spends)
	}
	var turn torque.Turn
	if err := json.Unmarshal([]byte(`{"kind":"wait","for":"1m0s","why":""}`), &turn); !errors.Is(err, torque.ErrPullKind) {
		t.Errorf("%v, want a wait refused for a turn", err)
	}
	var step torque.Step
	for _, bad := range []string{
		`{"number":1,"group":"g","stage":1,"bolt":"b","pull":null,"pause":null,"mark":false,"spends":false}`,
		`{"number":1,"group":"g","stage":1,"bolt":"b","pull":null,"pause":{"kind":"wait","for":"1m0s","why":""},"mark":false,"spends":false}`,
		`{"number":1,"group":"g","stage":1,"bolt":"","pull":{"kind":"back off","by":null},"pause":null,"mark":false,"spends":false}`,
	} {
		if err := json.Unmarshal([]byte(bad), &step); !errors.Is(err, torque.ErrPlan) {
			t.Errorf("%s: %v, want it refused", bad, err)
		}
	}
	for _, bad := range []any{torque.Pause{}, torque.BoltUse(9), torque.Arrangement(9), torque.Step{Bolt: "b"}} {
		if text, err := json.Marshal(bad); err == nil {
			t.Errorf("%T is written %s", bad, text)
		}
	}
}

// TestPlanCannotBeChanged: whatever a plan returns, and whatever it was made from, is
// overwritten, and the plan is as it was.
func TestPlanCannotBeChanged(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		groups := genGroups(t)
		for i := range groups {
			groups[i].First = []torque.Pause{torque.PauseOf(torque.Inspection{Ask: "Oiled?"})}
			groups[i].Order = torque.Given(boltsOf(groups[i].Pattern))
			groups[i].Stages[0].Order = torque.Given(boltsOf(groups[i].Pattern))
		}
		plan, err := torque.NewPlan("drawn", groups...)
		if err != nil {
			t.Fatal(err)
		}
		look := func() string {
			text, err := json.Marshal(plan)
			if err != nil {
				t.Fatal(err)
			}
			return plan.Text() + plan.Digest() + strings.Join(plan.Cautions(), "\n") + string(text)
		}
		before := look()
		step, _ := plan.Step(1)
		changed := 0
		for _, returned := range []any{groups, plan.Groups(), plan.Steps(), plan.Cautions(), &step} {
			changed += overwrite(reflect.ValueOf(returned))
			if look() != before {
				t.Fatalf("changed by writing into a %T", returned)
			}
		}
		if changed < 20 {
			t.Fatalf("only %d values were overwritten", changed)
		}
	})
}

// overwrite sets everything that can be reached and set to zero, lists first by their
// elements, and returns how much it was.
func overwrite(v reflect.Value) (changed int) {
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			changed += overwrite(v.Elem())
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			changed += overwrite(v.Index(i))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				changed += overwrite(v.Field(i))
			}
		}
	case reflect.Map:
		for _, key := range v.MapKeys() {
			v.SetMapIndex(key, reflect.Value{})
			changed++
		}
	}
	if v.CanSet() {
		v.SetZero()
		changed++
	}
	return changed
}
