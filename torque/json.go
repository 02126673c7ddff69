package torque

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"time"

	"example.com/closefit/units"
)

// In JSON every key of an object has to be there, once, and no other: a key that was left
// out is an error and never a zero. What there is not, such as a tolerance that was not
// given, is null. Quantities are texts with their unit, and a pull, a pause and an order
// say their kind.

// version is what a document of this package begins with, as "closefit".
const version = 1

// MarshalJSON writes {"kind":"tighten","to":"23 N·m","within":null,"in":"N·m","high":false},
// {"kind":"turn","by":"55 °","within":null,"beyond":false} or {"kind":"back off","by":null}.
// The error wraps ErrNoPull for the zero Pull.
func (p Pull) MarshalJSON() ([]byte, error) {
	if t, is := p.Tighten(); is {
		return json.Marshal(struct {
			Kind   string                `json:"kind"`
			To     units.Torque          `json:"to"`
			Within *units.TorqueInterval `json:"within"`
			In     string                `json:"in"`
			High   bool                  `json:"high"`
		}{"tighten", t.To, orNull(t.Within), t.In.String(), t.High})
	}
	if t, is := p.Turn(); is {
		return json.Marshal(struct {
			Kind   string               `json:"kind"`
			By     units.Angle          `json:"by"`
			Within *units.AngleInterval `json:"within"`
			Beyond bool                 `json:"beyond"`
		}{"turn", t.By, orNull(t.Within), t.Beyond})
	}
	if b, is := p.BackOff(); is {
		var by *units.Angle
		if !b.By.IsZero() {
			by = &b.By
		}
		return json.Marshal(struct {
			Kind string       `json:"kind"`
			By   *units.Angle `json:"by"`
		}{"back off", by})
	}
	return nil, &PlanError{Kind: ErrNoPull, What: "the zero Pull", Fix: "give it the PullOf a Tighten, a Turn or a BackOff"}
}

// UnmarshalJSON reads what MarshalJSON writes. The error wraps ErrNoPull for null, and
// ErrPullKind for a kind that there is not.
func (p *Pull) UnmarshalJSON(data []byte) error {
	if isNull(data) {
		return &PlanError{Kind: ErrNoPull, What: "null, where a pull belongs", Fix: `write an object with the kind "tighten", "turn" or "back off"`}
	}
	o, err := readObject(data)
	if err != nil {
		return err
	}
	switch kind := read[string](o, "kind"); kind {
	case "tighten":
		*p = PullOf(Tighten{To: read[units.Torque](o, "to"), Within: orZero(read[*units.TorqueInterval](o, "within")),
			In: readUnit[units.TorqueDim](o, "in"), High: read[bool](o, "high")})
	case "turn":
		*p = PullOf(Turn{By: read[units.Angle](o, "by"), Within: orZero(read[*units.AngleInterval](o, "within")), Beyond: read[bool](o, "beyond")})
	case "back off":
		*p = PullOf(BackOff{By: orZero(read[*units.Angle](o, "by"))})
	default:
		o.fail(&PlanError{Kind: ErrPullKind, What: fmt.Sprintf("a pull of the kind %q", kind), Fix: `write "tighten", "turn" or "back off"`})
		return errors.Join(o.errs...)
	}
	return o.end()
}

// MarshalJSON writes {"kind":"wait","for":"10m0s","why":""} or
// {"kind":"check","ask":"…","within":null,"in":"mm","if_not":""}. The zero Pause is an
// error.
func (p Pause) MarshalJSON() ([]byte, error) {
	if w, is := p.Wait(); is {
		return json.Marshal(struct {
			Kind string `json:"kind"`
			For  string `json:"for"`
			Why  string `json:"why"`
		}{"wait", w.For.String(), w.Why})
	}
	if c, is := p.Check(); is {
		return json.Marshal(struct {
			Kind   string                `json:"kind"`
			Ask    string                `json:"ask"`
			Within *units.LengthInterval `json:"within"`
			In     string                `json:"in"`
			IfNot  string                `json:"if_not"`
		}{"check", c.Ask, orNull(c.Within), c.In.String(), c.IfNot})
	}
	return nil, &PlanError{Kind: ErrAction, What: "the zero Pause", Fix: "give it the PauseOf a Wait or a Check"}
}

// UnmarshalJSON reads what MarshalJSON writes.
func (p *Pause) UnmarshalJSON(data []byte) error {
	o, err := readObject(data)
	if err != nil {
		return err
	}
	switch kind := read[string](o, "kind"); kind {
	case "wait":
		text := read[string](o, "for")
		lasts, err := time.ParseDuration(text)
		if err != nil {
			o.fail(fmt.Errorf(`%q is no time to wait; write "10m", "90s" or "1h30m"`, text))
		}
		*p = PauseOf(Wait{For: lasts, Why: read[string](o, "why")})
	case "check":
		*p = PauseOf(Check{Ask: read[string](o, "ask"), Within: orZero(read[*units.LengthInterval](o, "within")),
			In: readUnit[units.LengthDim](o, "in"), IfNot: read[string](o, "if_not")})
	default:
		o.fail(&PlanError{Kind: ErrAction, What: fmt.Sprintf("a pause of the kind %q", kind), Fix: `write "wait" or "check"`})
		return errors.Join(o.errs...)
	}
	return o.end()
}

type tieJSON struct {
	Group string `json:"group"`
	Stage int    `json:"stage"`
}

// MarshalJSON writes {"pull":…,"order":null,"during":null,"then":[]}. An order is its
// name or a list of bolts. The error wraps ErrOrderName for an order written by others,
// and ErrNoPull for a stage without a pull.
func (s Stage) MarshalJSON() ([]byte, error) {
	order, err := orderJSON(s.Order)
	if err != nil {
		return nil, err
	}
	var during *tieJSON
	if s.During != (Tie{}) {
		during = &tieJSON{s.During.Group, s.During.Stage}
	}
	return json.Marshal(struct {
		Pull   Pull     `json:"pull"`
		Order  any      `json:"order"`
		During *tieJSON `json:"during"`
		Then   []Pause  `json:"then"`
	}{s.Pull, order, during, orEmpty(s.Then)})
}

// UnmarshalJSON reads what MarshalJSON writes.
func (s *Stage) UnmarshalJSON(data []byte) error {
	o, err := readObject(data)
	if err != nil {
		return err
	}
	stage := Stage{Pull: read[Pull](o, "pull"), Order: readOrder(o, "order"), Then: read[[]Pause](o, "then")}
	if text, ok := o.take("during"); ok && !isNull(text) {
		tie, err := readObject(text)
		if err != nil {
			return err
		}
		stage.During = Tie{Group: read[string](tie, "group"), Stage: read[int](tie, "stage")}
		o.fail(tie.end())
	}
	if len(stage.Then) == 0 {
		stage.Then = nil
	}
	*s = stage
	return o.end()
}

// MarshalJSON writes {"name":…,"pattern":[{"bolt":…,"x":…,"y":…,"part":…}],"order":…,
// "stages":[…],"use":"single use","on":…,"first":[…]}.
func (g Group) MarshalJSON() ([]byte, error) {
	order, err := orderJSON(g.Order)
	if err != nil {
		return nil, err
	}
	type place struct {
		Bolt string       `json:"bolt"`
		X    units.Length `json:"x"`
		Y    units.Length `json:"y"`
		Part string       `json:"part"`
	}
	pattern := make([]place, len(g.Pattern))
	for i, p := range g.Pattern {
		pattern[i] = place(p)
	}
	return json.Marshal(struct {
		Name    string  `json:"name"`
		Pattern []place `json:"pattern"`
		Order   any     `json:"order"`
		Stages  []Stage `json:"stages"`
		Use     Use     `json:"use"`
		On      string  `json:"on"`
		First   []Pause `json:"first"`
	}{g.Name, pattern, order, orEmpty(g.Stages), g.Use, g.On, orEmpty(g.First)})
}

// UnmarshalJSON reads what MarshalJSON writes.
func (g *Group) UnmarshalJSON(data []byte) error {
	o, err := readObject(data)
	if err != nil {
		return err
	}
	group := Group{Name: read[string](o, "name"), Order: readOrder(o, "order"), Stages: read[[]Stage](o, "stages"),
		Use: read[Use](o, "use"), On: read[string](o, "on"), First: read[[]Pause](o, "first")}
	for _, text := range read[[]json.RawMessage](o, "pattern") {
		at, err := readObject(text)
		if err != nil {
			return err
		}
		group.Pattern = append(group.Pattern, Place{Bolt: read[string](at, "bolt"), X: read[units.Length](at, "x"),
			Y: read[units.Length](at, "y"), Part: read[string](at, "part")})
		o.fail(at.end())
	}
	*g = group
	return o.end()
}

// MarshalJSON writes {"closefit":1,"name":…,"groups":[…]}: all that the plan was made from.
func (p *Plan) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		Closefit int     `json:"closefit"`
		Name     string  `json:"name"`
		Groups   []Group `json:"groups"`
	}{version, p.name, orEmpty(p.groups)})
}

// UnmarshalJSON makes a plan of what MarshalJSON writes, by NewPlan and with its errors. A
// plan does not change once made, so it refuses one that is not the zero Plan.
func (p *Plan) UnmarshalJSON(data []byte) error {
	if p.digest != "" {
		return fmt.Errorf("torque: a plan does not change; read into a new one")
	}
	o, err := readObject(data)
	if err != nil {
		return err
	}
	if n := read[int](o, "closefit"); n != version && len(o.errs) == 0 {
		return fmt.Errorf("torque: a document of version %d; this reads version %d", n, version)
	}
	name, groups := read[string](o, "name"), read[[]Group](o, "groups")
	if err := o.end(); err != nil {
		return err
	}
	made, err := NewPlan(name, groups...)
	if err != nil {
		return err
	}
	*p = *made
	return nil
}

// orderJSON returns what is written for an order.
func orderJSON(o Order) (any, error) {
	switch o := o.(type) {
	case nil:
		return nil, nil
	case Given:
		return orEmpty([]string(o)), nil
	}
	for _, known := range orders {
		if reflect.TypeOf(known.order) == reflect.TypeOf(o) {
			return known.name, nil
		}
	}
	return nil, &PlanError{Kind: ErrOrderName, What: fmt.Sprintf("an order of the type %T, which has no name", o), Fix: "write it as a list: Given(order.Arrange(pattern))"}
}

func readOrder(o *object, key string) Order {
	text, ok := o.take(key)
	switch {
	case !ok || isNull(text):
		return nil
	case text[0] == '[':
		var given Given
		o.fail(within(key, json.Unmarshal(text, &given)))
		return given
	}
	var name string
	if err := json.Unmarshal(text, &name); err != nil {
		o.fail(within(key, err))
		return nil
	}
	order, err := ParseOrder(name)
	o.fail(within(key, err))
	return order
}

// An object is a JSON object being read: each key once, and none left over.
type object struct {
	values map[string]json.RawMessage
	errs   []error
}

// readObject reads an object whose keys are all different.
func readObject(data []byte) (*object, error) {
	d := json.NewDecoder(bytes.NewReader(data))
	if first, err := d.Token(); err != nil || first != json.Delim('{') {
		return nil, fmt.Errorf("torque: %.40q is no JSON object; write one in braces", data)
	}
	o := &object{values: map[string]json.RawMessage{}}
	for d.More() {
		token, err := d.Token()
		if err != nil {
			return nil, err
		}
		key := token.(string) // the decoder lets nothing else stand there
		var value json.RawMessage
		if err := d.Decode(&value); err != nil {
			return nil, err
		}
		if _, twice := o.values[key]; twice {
			return nil, fmt.Errorf("torque: the key %q stands twice in an object; write it once", key)
		}
		o.values[key] = value
	}
	return o, nil
}

// take returns the value of a key and takes it out; a missing one is noted as an error.
func (o *object) take(key string) (json.RawMessage, bool) {
	value, ok := o.values[key]
	if !ok {
		o.fail(fmt.Errorf("torque: the key %q is missing; write it, with null for what there is not", key))
	}
	delete(o.values, key)
	return value, ok
}

func (o *object) fail(err error) {
	if err != nil {
		o.errs = append(o.errs, err)
	}
}

// end returns all that was wrong, keys that nobody asked for among it.
func (o *object) end() error {
	var left []string
	for key := range o.values {
		left = append(left, fmt.Sprintf("%q", key))
	}
	if len(left) > 0 {
		slices.Sort(left)
		o.fail(fmt.Errorf("torque: unknown keys %s; take them out", strings.Join(left, ", ")))
	}
	return errors.Join(o.errs...)
}

// read reads the value of a key. Only a pointer may be null.
func read[T any](o *object, key string) (v T) {
	text, ok := o.take(key)
	if !ok {
		return v
	}
	if _, isPull := any(&v).(*Pull); isNull(text) && !isPull && !nullable[T]() {
		o.fail(fmt.Errorf("torque: %q is null; write a value", key))
		return v
	}
	o.fail(within(key, json.Unmarshal(text, &v)))
	return v
}

// nullable reports whether T is a pointer, for which null says that there is none.
func nullable[T any]() bool {
	switch any((*T)(nil)).(type) {
	case **units.TorqueInterval, **units.AngleInterval, **units.LengthInterval, **units.Angle:
		return true
	}
	return false
}

func readUnit[D units.Dimension](o *object, key string) units.Unit[D] {
	unit, err := units.ParseUnit[D](read[string](o, key))
	o.fail(within(key, err))
	return unit
}

// within says in an error which key's value it is about.
func within(key string, err error) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf("%q: %w", key, err)
}

func isNull(data []byte) bool { return string(bytes.TrimSpace(data)) == "null" }

func orNull[D units.Dimension](a units.Interval[D]) *units.Interval[D] {
	if a.IsEmpty() {
		return nil
	}
	return &a
}

func orZero[T any](p *T) (v T) {
	if p == nil {
		return v
	}
	return *p
}

// orEmpty returns a list that JSON writes as [] where it is nil.
func orEmpty[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}
