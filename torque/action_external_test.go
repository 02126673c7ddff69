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

// TestNoActionBehindAPointer: nothing in a stage or a step can be a pointer to an action, or
// an interface that would take one. Only an Order is an interface, and NewPlan looks into it.
func TestNoActionBehindAPointer(t *testing.T) {
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

// TestActionInAnotherPlace: a pause is no pull and a pull no pause, in Go and in JSON, and
// each action is of its own kind alone.
func TestActionInAnotherPlace(t *testing.T) {
	pulls := []torque.Action{torque.Do(torque.Tighten{To: nm("9 N·m")}), torque.Do(torque.Turn{By: deg("55°")}), torque.Do(torque.BackOff{})}
	pauses := []torque.Action{torque.Do(torque.Wait{For: time.Minute}), torque.Do(torque.Inspection{Ask: "Oiled?"})}
	group := func(pull torque.Action, first, then []torque.Action) error {
		stage := torque.Stage{Pull: pull, Then: then}
		_, err := torque.NewPlan("plan", torque.Group{Name: "g", Pattern: torque.Row("b"), Use: torque.SingleUse, First: first,
			Stages: []torque.Stage{tighten("9 N·m"), stage, tighten("9 N·m")}})
		return err
	}
	for _, pause := range append(pauses, torque.Action{}) {
		checkRefusal(t, group(pause, nil, nil), torque.ErrNoPull, 2, "tighten, turn and back off")
	}
	if err := group(pulls[0], pauses, pauses); err != nil {
		t.Error(err)
	}
	for _, pull := range append(pulls, torque.Action{}) {
		checkRefusal(t, group(pulls[0], []torque.Action{pull}, nil), "where a pause belongs", 0, "wait or a check")
		checkRefusal(t, group(pulls[0], nil, []torque.Action{pull}), "where a pause belongs", 2, "wait or a check")
	}
	for i, a := range append(pulls, pauses...) {
		kinds := []bool{as[torque.Tighten](a), as[torque.Turn](a), as[torque.BackOff](a), as[torque.Wait](a), as[torque.Inspection](a)}
		for k, is := range kinds {
			if is != (k == i) {
				t.Errorf("%v: of kind %d %v", a, k, is)
			}
		}
		text, err := json.Marshal(a)
		if err != nil {
			t.Fatal(err)
		}
		var stage torque.Stage
		err = json.Unmarshal([]byte(`{"pull":`+string(text)+`,"order":null,"during":null,"then":[]}`), &stage)
		if isPull := i < len(pulls); isPull != (err == nil) || !isPull && !errors.Is(err, torque.ErrNoPull) {
			t.Errorf("%s for a pull: %v", text, err)
		}
	}
	if as[torque.BackOff](torque.Action{}) {
		t.Error("the zero Action backs off")
	}
}

func as[A torque.Tighten | torque.Turn | torque.BackOff | torque.Wait | torque.Inspection](a torque.Action) bool {
	_, is := torque.As[A](a)
	return is
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
	made := torque.Stage{Pull: torque.Do(*pointer)}
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
		{"a pull of no kind", stage(`{"kind":"twist","by":"55 °"}`), torque.ErrNoPull, `"twist"`},
		{"a pull without its kind", stage(`{"by":"55 °"}`), torque.ErrNoPull, `the kind ""`},
		{"a kind that is a number", stage(`{"kind":7,"by":"55 °"}`), nil, "number"},
		{"two kinds", stage(strings.Replace(turn, `"by"`, `"kind":"tighten","by"`, 1)), units.ErrNotWritten, `"kind"`},
		{"a text for a pull", stage(`"turn"`), torque.ErrNoPull, `"turn", where an action belongs`},
		{"no pull", stage(`null`), torque.ErrNoPull, "nothing, where a pull belongs"},
		{"no key for it", `{"order":null,"during":null,"then":[]}`, units.ErrNotWritten, `no key "pull"`},
		{"a key left out", stage(`{"kind":"turn","by":"55 °","within":null}`), units.ErrNotWritten, `no key "beyond"`},
		{"a key too many", stage(strings.Replace(turn, `"by"`, `"till":"1°","by"`, 1)), units.ErrNotWritten, `an unknown key "till"`},
		{"a key twice", stage(strings.Replace(turn, `"by"`, `"by":"1 °","by"`, 1)), units.ErrNotWritten, "twice"},
		{"null for what must be there", stage(strings.Replace(turn, `"55 °"`, "null", 1)), units.ErrNotWritten, "null"},
		{"a text for a yes or no", stage(strings.Replace(turn, "false", `"no"`, 1)), nil, `"beyond"`},
		{"no unit", stage(strings.Replace(turn, "55 °", "90", 1)), units.ErrNoUnit, `"by"`},
		{"a torque for an angle", stage(strings.Replace(turn, "55 °", "90 N·m", 1)), units.ErrWrongDimension, ""},
		{"an order of no name", strings.Replace(stage(turn), `"order":null`, `"order":"zigzag"`, 1), "is not an order", "zigzag"},
		{"a pause of no kind", strings.Replace(stage(turn), `[]`, `[{"kind":"tea"}]`, 1), torque.ErrNoPull, "wait and check"},
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
	var last torque.Action
	if err := json.Unmarshal([]byte(`{"within":null, "by" : "55 °" ,"beyond":false,"kind":"turn"}`), &last); err != nil || last.String() != "turn 55° further" {
		t.Errorf("%v, %v: the kind may stand anywhere", last, err)
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
		stage.Then = append(stage.Then, torque.Do(torque.Wait{For: time.Duration(rapid.Int64Range(1, 1e13).Draw(t, "wait")), Why: "sealant"}),
			torque.Do(torque.Inspection{Ask: "Free?", Within: units.MustParseLengthInterval("<= 0.1 in"), In: units.Inch, IfNot: "stop"}))
		stage.Order = torque.Given(boltsOf(groups[0].Pattern))
		stage.Pull = torque.Do(torque.Tighten{Within: units.MustParse[units.TorqueInterval]("9.123..10.5 lbf·ft"), In: units.PoundForceFoot})
		groups[0].First = []torque.Action{torque.Do(torque.Inspection{Ask: "Oiled?"})}
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
	groups[0].First = []torque.Action{torque.Do(torque.Wait{For: time.Minute})}
	plan, err := torque.NewPlan("bottom end", groups...)
	if err != nil {
		t.Fatal(err)
	}
	steps := plan.Steps()
	for _, v := range []any{
		torque.Do(torque.Tighten{To: nm("23 N·m"), Within: units.MustParse[units.TorqueInterval]("21..25 N·m"), In: units.PoundForceFoot, High: true}),
		torque.Do(torque.Turn{By: deg("400°"), Within: units.MustParse[units.AngleInterval]("390..410°"), Beyond: true}),
		torque.Do(torque.BackOff{By: deg("90°")}), torque.Do(torque.BackOff{}),
		torque.Do(torque.Wait{For: 90 * time.Second, Why: "sealant"}),
		torque.Do(torque.Inspection{Ask: "End play?", Within: units.MustParseLengthInterval(">= 0.1 mm"), In: units.Thou, IfNot: "strip it"}),
		groups[1].Pattern[2], groups[0], groups[1].Stages[0], groups[0].Stages[1].Pull, groups[0].First[0],
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
	var step torque.Step
	for _, bad := range []string{
		`{"number":1,"group":"g","stage":1,"bolt":"b","do":null,"mark":false,"spends":false}`,
		`{"number":1,"group":"g","stage":1,"bolt":"b","do":{"kind":"wait","for":"1m0s","why":""},"mark":false,"spends":false}`,
		`{"number":1,"group":"g","stage":1,"bolt":"","do":{"kind":"back off","by":null},"mark":false,"spends":false}`,
	} {
		if err := json.Unmarshal([]byte(bad), &step); err == nil || !strings.Contains(err.Error(), "step") && !strings.Contains(err.Error(), `"do"`) {
			t.Errorf("%s: %v, want it refused", bad, err)
		}
	}
	for _, bad := range []any{torque.Action{}, torque.BoltUse(9), torque.Arrangement(9), torque.Step{Bolt: "b"}} {
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
			groups[i].First = []torque.Action{torque.Do(torque.Inspection{Ask: "Oiled?"})}
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
