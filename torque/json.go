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
// tolerance that was not given, is null. Quantities are texts with their unit, and an action
// says its kind.

// version is what a document of this package begins with, as "closefit".
const version = 1

// backOffJSON and waitJSON are the forms of the actions that do not travel as they are.
type (
	backOffJSON struct {
		By *units.Angle `json:"by"`
	}
	waitJSON struct {
		For duration `json:"for"`
		Why string   `json:"why"`
	}
)

func (b BackOff) form() backOffJSON {
	if b.By.IsZero() {
		return backOffJSON{}
	}
	return backOffJSON{&b.By}
}

func (w Wait) form() waitJSON { return waitJSON{duration(w.For), w.Why} }

// readers read the actions by their kind.
func readers() map[string]func(data []byte) (action, error) {
	return map[string]func(data []byte) (action, error){
		"tighten":  reader(func(t Tighten) action { return t }),
		"turn":     reader(func(t Turn) action { return t }),
		"back off": reader(func(f backOffJSON) action { return BackOff{orNone(f.By)} }),
		"wait":     reader(func(f waitJSON) action { return Wait{time.Duration(f.For), f.Why} }),
		"check":    reader(func(c Inspection) action { return c }),
	}
}

// reader returns the reader of an action that travels as an F.
func reader[F any](made func(F) action) func(data []byte) (action, error) {
	return func(data []byte) (action, error) {
		var form F
		if err := units.DecodeObject(data, &form); err != nil {
			return nil, err
		}
		return made(form), nil
	}
}

// MarshalJSON writes the action with its kind, as one of
//
//	{"kind":"tighten","to":"23 N·m","within":null,"in":"N·m","high":false}
//	{"kind":"turn","by":"55 °","within":"50..60 °","beyond":false}
//	{"kind":"back off","by":null}
//	{"kind":"wait","for":"10m0s","why":""}
//	{"kind":"check","ask":"…","within":null,"in":"mm","if_not":""}
//
// The error wraps ErrNoPull for the zero Action.
func (a Action) MarshalJSON() ([]byte, error) {
	var form any = a.do
	switch do := a.do.(type) {
	case nil:
		return nil, noAction("nothing").err()
	case BackOff:
		form = do.form()
	case Wait:
		form = do.form()
	}
	fields, err := json.Marshal(form)
	if err != nil {
		return nil, err
	}
	return append(fmt.Appendf(nil, `{"kind":%q,`, a.kind()), fields[1:]...), nil
}

// UnmarshalJSON reads what MarshalJSON writes. The error wraps ErrNoPull for an unknown
// kind.
func (a *Action) UnmarshalJSON(data []byte) error {
	kind, fields, err := cutKind(data)
	if err != nil {
		return err
	}
	read, known := readers()[kind]
	if !known {
		return noAction(fmt.Sprintf("the kind %.40q", kind)).err()
	}
	do, err := read(fields)
	if err != nil {
		return err
	}
	a.do = do
	return nil
}

// cutKind returns the kind that an object says first, and the object without it.
func cutKind(data []byte) (kind string, rest []byte, err error) {
	d := json.NewDecoder(bytes.NewReader(data))
	if open, err := d.Token(); err != nil || open != json.Delim('{') {
		return "", nil, noAction(fmt.Sprintf("%.40s", data)).err()
	}
	rest = []byte{'{'}
	for d.More() {
		key, err := d.Token()
		var value json.RawMessage
		if err == nil {
			err = d.Decode(&value)
		}
		if err == nil && key == "kind" && kind == "" {
			if err = json.Unmarshal(value, &kind); err == nil {
				continue
			}
		}
		if err != nil {
			return "", nil, err
		}
		if len(rest) > 1 {
			rest = append(rest, ',')
		}
		name, err := json.Marshal(key)
		if err != nil {
			return "", nil, err
		}
		rest = append(append(append(rest, name...), ':'), value...)
	}
	return kind, append(rest, '}'), nil
}

// UnmarshalJSON reads {"bolt":…,"x":…,"y":…,"part":…}.
func (p *Position) UnmarshalJSON(data []byte) error {
	type position Position
	return units.DecodeObject(data, (*position)(p))
}

// sequence reads null, a list of bolts, or the word of an arrangement.
type sequence struct{ Sequence }

func (s sequence) MarshalJSON() ([]byte, error) { return json.Marshal(s.Sequence) }

func (s *sequence) UnmarshalJSON(data []byte) (err error) {
	switch {
	case string(data) == "null":
		s.Sequence = nil
	case data[0] == '[':
		var list Given
		err = json.Unmarshal(data, &list)
		s.Sequence = list
	default:
		var a Arrangement
		err = json.Unmarshal(data, &a)
		s.Sequence = a
	}
	return err
}

// tieJSON names the stage of another group.
type tieJSON struct {
	Group string `json:"group"`
	Stage int    `json:"stage"`
}

// stageJSON is the form in which a stage travels.
type stageJSON struct {
	Pull   *Action  `json:"pull"`
	Order  sequence `json:"order"`
	During *tieJSON `json:"during"`
	Then   []Action `json:"then"`
}

// MarshalJSON writes {"pull":…,"order":null,"during":null,"then":[]}. An order is its
// name or a list of bolts; during is null or {"group":…,"stage":…}. The error wraps ErrNoPull
// for a stage without a pull.
func (s Stage) MarshalJSON() ([]byte, error) {
	form := stageJSON{Pull: &s.Pull, Order: sequence{s.Order}, Then: append([]Action{}, s.Then...)}
	if s.tied() {
		form.During = &tieJSON{s.DuringGroup, s.DuringStage}
	}
	return json.Marshal(form)
}

// UnmarshalJSON reads what MarshalJSON writes.
func (s *Stage) UnmarshalJSON(data []byte) error {
	var form stageJSON
	if err := units.DecodeObject(data, &form); err != nil {
		return err
	}
	if pull := orNone(form.Pull); !pull.pulls() {
		return noPull(pull).err()
	}
	tie := orNone(form.During)
	*s = Stage{Pull: *form.Pull, Order: form.Order.Sequence, DuringGroup: tie.Group, DuringStage: tie.Stage, Then: form.Then}
	return nil
}

// UnmarshalJSON reads {"name":…,"pattern":[{"bolt":…,"x":…,"y":…,"part":…}],"order":…,
// "stages":[…],"use":"single use","on":…,"first":[…]}. An order is null, a list of bolts or
// the name of an arrangement.
func (g *Group) UnmarshalJSON(data []byte) error {
	var form struct {
		Name    string     `json:"name"`
		Pattern []Position `json:"pattern"`
		Order   sequence   `json:"order"`
		Stages  []Stage    `json:"stages"`
		Use     BoltUse    `json:"use"`
		On      string     `json:"on"`
		First   []Action   `json:"first"`
	}
	if err := units.DecodeObject(data, &form); err != nil {
		return err
	}
	*g = Group{form.Name, form.Pattern, form.Order.Sequence, form.Stages, form.Use, form.On, form.First}
	return nil
}

// UnmarshalJSON reads
// {"number":…,"group":…,"stage":…,"bolt":…,"do":…,"mark":…,"spends":…}. A step with a
// bolt must be a pull, and a step without one a pause.
func (s *Step) UnmarshalJSON(data []byte) error {
	type step Step
	var form step
	if err := units.DecodeObject(data, &form); err != nil {
		return err
	}
	if form.Do.pulls() != (form.Bolt != "") {
		return (&fault{found: "a step that is neither a pull on a bolt nor a pause without one", fix: "write the bolt of a pull, and no bolt for a pause"}).err()
	}
	*s = Step(form)
	return nil
}

// planJSON is the document of a plan.
type planJSON struct {
	Closefit int     `json:"closefit"`
	Name     string  `json:"name"`
	Groups   []Group `json:"groups"`
}

// MarshalJSON writes {"closefit":1,"name":…,"groups":[…]}: everything that the plan was
// made from.
func (p *Plan) MarshalJSON() ([]byte, error) {
	return json.Marshal(planJSON{version, p.name, p.groups})
}

// UnmarshalJSON reads the form of MarshalJSON, by NewPlan and with its errors. It fills
// the zero Plan only, since a plan does not change once made.
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
		return (&fault{found: fmt.Sprintf("%.40q, which is no time to wait", text), fix: `write "10m", "90s" or "1h30m"`}).err()
	}
	*d = duration(parsed)
	return nil
}

// orNone returns what is pointed to, or the zero value that stands for nothing.
func orNone[T any](p *T) (v T) {
	if p == nil {
		return v
	}
	return *p
}
