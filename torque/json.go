package torque

import (
	"bytes"
	"encoding/json"
	"fmt"
	"time"

	"example.com/closefit/units"
)

// In JSON every key of an object has to be there, once, and no other: a key that was left
// out is an error and never a zero (units.DecodeObject). What there is not, such as a
// tolerance that was not given, is null. Quantities are texts with their unit, and a pull,
// a pause and an order say their kind.

// version is what a document of this package begins with, as "closefit".
const version = 1

// The forms in which the five actions travel.
type (
	tightenJSON struct {
		Kind   string                `json:"kind"`
		To     units.Torque          `json:"to"`
		Within *units.TorqueInterval `json:"within"`
		In     units.TorqueUnit      `json:"in"`
		High   bool                  `json:"high"`
	}
	turnJSON struct {
		Kind   string               `json:"kind"`
		By     units.Angle          `json:"by"`
		Within *units.AngleInterval `json:"within"`
		Beyond bool                 `json:"beyond"`
	}
	backOffJSON struct {
		Kind string       `json:"kind"`
		By   *units.Angle `json:"by"`
	}
	waitJSON struct {
		Kind string   `json:"kind"`
		For  duration `json:"for"`
		Why  string   `json:"why"`
	}
	inspectionJSON struct {
		Kind   string                `json:"kind"`
		Ask    string                `json:"ask"`
		Within *units.LengthInterval `json:"within"`
		In     units.LengthUnit      `json:"in"`
		IfNot  string                `json:"if_not"`
	}
)

func (t Tighten) form() any {
	return tightenJSON{"tighten", t.To, orNull(t.Within), t.In, t.High}
}

func (t Turn) form() any { return turnJSON{"turn", t.By, orNull(t.Within), t.Beyond} }

func (b BackOff) form() any {
	if b.By.IsZero() {
		return backOffJSON{Kind: "back off"}
	}
	return backOffJSON{"back off", &b.By}
}

func (w Wait) form() any { return waitJSON{"wait", duration(w.For), w.Why} }

func (c Inspection) form() any {
	return inspectionJSON{"check", c.Ask, orNull(c.Within), c.In, c.IfNot}
}

// readers read an action by its kind.
var readers = map[string]func(data []byte) (action, error){
	"tighten": func(data []byte) (action, error) {
		var f tightenJSON
		err := units.DecodeObject(data, &f)
		return Tighten{To: f.To, Within: orNone(f.Within), In: f.In, High: f.High}, err
	},
	"turn": func(data []byte) (action, error) {
		var f turnJSON
		err := units.DecodeObject(data, &f)
		return Turn{By: f.By, Within: orNone(f.Within), Beyond: f.Beyond}, err
	},
	"back off": func(data []byte) (action, error) {
		var f backOffJSON
		err := units.DecodeObject(data, &f)
		return BackOff{By: orNone(f.By)}, err
	},
	"wait": func(data []byte) (action, error) {
		var f waitJSON
		err := units.DecodeObject(data, &f)
		return Wait{For: time.Duration(f.For), Why: f.Why}, err
	},
	"check": func(data []byte) (action, error) {
		var f inspectionJSON
		err := units.DecodeObject(data, &f)
		return Inspection{Ask: f.Ask, Within: orNone(f.Within), In: f.In, IfNot: f.IfNot}, err
	},
}

// readAction reads an action of one of the kinds.
func readAction(data []byte, failure error, kinds ...string) (action, error) {
	var of struct {
		Kind *string `json:"kind"`
	}
	if err := json.Unmarshal(data, &of); err != nil {
		return nil, err
	}
	found := "no kind"
	if of.Kind != nil {
		for _, kind := range kinds {
			if *of.Kind == kind {
				return readers[kind](data)
			}
		}
		found = fmt.Sprintf("the kind %.40q", *of.Kind)
	}
	return nil, (&fault{kind: failure, found: found, fix: fmt.Sprintf("write one of %q", kinds)}).err()
}

// readOne reads an action of one kind into its type.
func readOne[A Tighten | Turn | BackOff | Wait | Inspection](data []byte, into *A, failure error, kind string) error {
	do, err := readAction(data, failure, kind)
	if err != nil {
		return err
	}
	*into = do.(A)
	return nil
}

// MarshalJSON writes {"kind":"tighten","to":"23 N·m","within":null,"in":"N·m","high":false}.
func (t Tighten) MarshalJSON() ([]byte, error) { return json.Marshal(t.form()) }

// UnmarshalJSON reads what MarshalJSON writes.
func (t *Tighten) UnmarshalJSON(data []byte) error { return readOne(data, t, ErrPullKind, "tighten") }

// MarshalJSON writes {"kind":"turn","by":"55 °","within":null,"beyond":false}.
func (t Turn) MarshalJSON() ([]byte, error) { return json.Marshal(t.form()) }

// UnmarshalJSON reads what MarshalJSON writes.
func (t *Turn) UnmarshalJSON(data []byte) error { return readOne(data, t, ErrPullKind, "turn") }

// MarshalJSON writes {"kind":"back off","by":null}.
func (b BackOff) MarshalJSON() ([]byte, error) { return json.Marshal(b.form()) }

// UnmarshalJSON reads what MarshalJSON writes.
func (b *BackOff) UnmarshalJSON(data []byte) error { return readOne(data, b, ErrPullKind, "back off") }

// MarshalJSON writes {"kind":"wait","for":"10m0s","why":""}.
func (w Wait) MarshalJSON() ([]byte, error) { return json.Marshal(w.form()) }

// UnmarshalJSON reads what MarshalJSON writes.
func (w *Wait) UnmarshalJSON(data []byte) error { return readOne(data, w, ErrPlan, "wait") }

// MarshalJSON writes {"kind":"check","ask":"…","within":null,"in":"mm","if_not":""}.
func (c Inspection) MarshalJSON() ([]byte, error) { return json.Marshal(c.form()) }

// UnmarshalJSON reads what MarshalJSON writes.
func (c *Inspection) UnmarshalJSON(data []byte) error { return readOne(data, c, ErrPlan, "check") }

// MarshalJSON writes the action with its kind. The error wraps ErrNoPull for the zero
// Pull.
func (p Pull) MarshalJSON() ([]byte, error) {
	if p.do == nil {
		return nil, (&fault{kind: ErrNoPull, found: "the zero Pull", fix: "give it the PullOf a Tighten, a Turn or a BackOff"}).err()
	}
	return json.Marshal(p.do.form())
}

// UnmarshalJSON reads what MarshalJSON writes. The error wraps ErrNoPull for null, and
// ErrPullKind for a kind that there is not.
func (p *Pull) UnmarshalJSON(data []byte) error {
	if isNull(data) {
		return noPull()
	}
	do, err := readAction(data, ErrPullKind, "tighten", "turn", "back off")
	if err == nil {
		p.do = do
	}
	return err
}

// noPull is the error for null where a pull belongs.
func noPull() error {
	return (&fault{kind: ErrNoPull, found: "null, where a pull belongs", fix: `write an object with the kind "tighten", "turn" or "back off"`}).err()
}

// MarshalJSON writes the action with its kind. The zero Pause is an error.
func (p Pause) MarshalJSON() ([]byte, error) {
	if p.do == nil {
		return nil, (&fault{found: "the zero Pause", fix: "give it the PauseOf a Wait or an Inspection"}).err()
	}
	return json.Marshal(p.do.form())
}

// UnmarshalJSON reads what MarshalJSON writes.
func (p *Pause) UnmarshalJSON(data []byte) error {
	do, err := readAction(data, ErrPlan, "wait", "check")
	if err == nil {
		p.do = do
	}
	return err
}

// UnmarshalJSON reads {"group":…,"stage":…}.
func (t *Tie) UnmarshalJSON(data []byte) error {
	type tie Tie
	return units.DecodeObject(data, (*tie)(t))
}

// UnmarshalJSON reads {"bolt":…,"x":…,"y":…,"part":…}.
func (p *Position) UnmarshalJSON(data []byte) error {
	type position Position
	return units.DecodeObject(data, (*position)(p))
}

// sequence reads null, a list of bolts, or the word of an arrangement.
type sequence struct{ Sequence }

func (s *sequence) UnmarshalJSON(data []byte) error {
	switch {
	case isNull(data):
		s.Sequence = nil
		return nil
	case data[0] == '[':
		var list Given
		err := json.Unmarshal(data, &list)
		s.Sequence = list
		return err
	}
	var a Arrangement
	err := json.Unmarshal(data, &a)
	s.Sequence = a
	return err
}

// ReadsNull says that null is no sequence.
func (s sequence) ReadsNull() {}

// stageJSON is the form in which a stage travels.
type stageJSON struct {
	Pull   *Pull    `json:"pull"`
	Order  sequence `json:"order"`
	During *Tie     `json:"during"`
	Then   []Pause  `json:"then"`
}

func (s sequence) MarshalJSON() ([]byte, error) { return json.Marshal(s.Sequence) }

// MarshalJSON writes {"pull":…,"order":null,"during":null,"then":[]}. An order is its
// name or a list of bolts. The error wraps ErrNoPull for a stage without a pull.
func (s Stage) MarshalJSON() ([]byte, error) {
	form := stageJSON{Pull: &s.Pull, Order: sequence{s.Order}, Then: orEmpty(s.Then)}
	if s.During != (Tie{}) {
		form.During = &s.During
	}
	return json.Marshal(form)
}

// UnmarshalJSON reads what MarshalJSON writes.
func (s *Stage) UnmarshalJSON(data []byte) error {
	var form stageJSON
	if err := units.DecodeObject(data, &form); err != nil {
		return err
	}
	if form.Pull == nil {
		return noPull()
	}
	*s = Stage{Pull: *form.Pull, Order: form.Order.Sequence, During: orNone(form.During), Then: form.Then}
	if len(s.Then) == 0 {
		s.Then = nil
	}
	return nil
}

// UnmarshalJSON reads {"name":…,"pattern":[{"bolt":…,"x":…,"y":…,"part":…}],"order":…,
// "stages":[…],"use":"single use","on":…,"first":[…]}. An order is null, a list of bolts or
// the name of an arrangement.
func (g *Group) UnmarshalJSON(data []byte) error {
	var group struct {
		Name    string     `json:"name"`
		Pattern []Position `json:"pattern"`
		Order   sequence   `json:"order"`
		Stages  []Stage    `json:"stages"`
		Use     BoltUse    `json:"use"`
		On      string     `json:"on"`
		First   []Pause    `json:"first"`
	}
	if err := units.DecodeObject(data, &group); err != nil {
		return err
	}
	*g = Group{group.Name, group.Pattern, group.Order.Sequence, group.Stages, group.Use, group.On, group.First}
	return nil
}

// stepJSON is the form in which a step travels.
type stepJSON struct {
	Number int    `json:"number"`
	Group  string `json:"group"`
	Stage  int    `json:"stage"`
	Bolt   string `json:"bolt"`
	Pull   *Pull  `json:"pull"`
	Pause  *Pause `json:"pause"`
	Mark   bool   `json:"mark"`
	Spends bool   `json:"spends"`
}

// MarshalJSON writes {"number":…,"group":…,"stage":…,"bolt":…,"pull":…,"pause":null,
// "mark":…,"spends":…}; of a pause, the pull is null.
func (s Step) MarshalJSON() ([]byte, error) {
	form := stepJSON{Number: s.Number, Group: s.Group, Stage: s.Stage, Bolt: s.Bolt, Mark: s.Mark, Spends: s.Spends}
	if s.IsPause() {
		form.Pause = &s.Pause
	} else {
		form.Pull = &s.Pull
	}
	return json.Marshal(form)
}

// UnmarshalJSON reads what MarshalJSON writes.
func (s *Step) UnmarshalJSON(data []byte) error {
	var form stepJSON
	if err := units.DecodeObject(data, &form); err != nil {
		return err
	}
	if (form.Pull == nil) == (form.Pause == nil) || (form.Pause != nil) != (form.Bolt == "") {
		return (&fault{found: "a step that is not one pull on a bolt, nor one pause on none", fix: "write one of pull and pause, and null for the other"}).err()
	}
	*s = Step{form.Number, form.Group, form.Stage, form.Bolt, orNone(form.Pull), orNone(form.Pause), form.Mark, form.Spends}
	return nil
}

// planJSON is the document of a plan.
type planJSON struct {
	Closefit int     `json:"closefit"`
	Name     string  `json:"name"`
	Groups   []Group `json:"groups"`
}

// MarshalJSON writes {"closefit":1,"name":…,"groups":[…]}: all that the plan was made from.
func (p *Plan) MarshalJSON() ([]byte, error) {
	return json.Marshal(planJSON{version, p.name, orEmpty(p.groups)})
}

// UnmarshalJSON makes a plan of what MarshalJSON writes, by NewPlan and with its errors. A
// plan does not change once made, so it refuses one that is not the zero Plan.
func (p *Plan) UnmarshalJSON(data []byte) error {
	if p.digest != "" {
		return (&fault{found: fmt.Sprintf("the plan %q, which does not change once made", p.name), fix: "read into a new one"}).err()
	}
	var form planJSON
	if err := units.DecodeObject(data, &form); err != nil {
		return err
	}
	if form.Closefit != version {
		return (&fault{found: fmt.Sprintf("a document of version %d", form.Closefit), fix: fmt.Sprintf("write it as version %d", version)}).err()
	}
	made, err := NewPlan(form.Name, form.Groups...)
	if err != nil {
		return err
	}
	*p = *made
	return nil
}

// A duration travels as Go writes it: "1h30m0s".
type duration time.Duration

func (d duration) MarshalText() ([]byte, error) { return []byte(time.Duration(d).String()), nil }

func (d *duration) UnmarshalText(text []byte) error {
	parsed, err := time.ParseDuration(string(text))
	if err != nil {
		return fmt.Errorf(`%.40q is no time to wait; write "10m", "90s" or "1h30m"`, text)
	}
	*d = duration(parsed)
	return nil
}

func isNull(data []byte) bool { return string(bytes.TrimSpace(data)) == "null" }

func orNull[D units.Dimension](a units.Interval[D]) *units.Interval[D] {
	if a.IsEmpty() {
		return nil
	}
	return &a
}

// orNone returns what is pointed to, or the zero value that stands for nothing.
func orNone[T any](p *T) (v T) {
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
