package schema

import (
	"reflect"

	"example.com/closefit/torque"
	"example.com/closefit/units"
)

// The types of a plan that are written in another form than that of their fields are described
// by a type of that form. The tests hold both to the reader.
type (
	// A Stage pulls every bolt of a group once before the next stage begins; in a group done cap by
	// cap, every bolt of one cap.
	stage struct {
		Pull   torque.Action   `json:"pull"`   // a tighten, a turn or a back off
		Order  torque.Sequence `json:"order"`  // the order to pull the bolts in; null for that of the group
		During *during         `json:"during"` // the stage of another group, together with which this one is done; null if it is not tied
		Then   []torque.Action `json:"then"`   // the pauses once the stage is done
	}

	// During names the stage of another group.
	during struct {
		Group string `json:"group"`
		Stage int    `json:"stage"` // from 1
	}

	// A BackOff loosens a bolt.
	backOff struct {
		By *units.Angle `json:"by"` // how far, at most a full turn; null until it turns freely
	}

	// A Wait lets time pass, for a gasket or a sealant to settle.
	wait struct {
		For string `json:"for"` // "10m", "90s", "1h30m"
		Why string `json:"why"` // may be empty
	}
)

// standsFor returns the type whose form another one is written in.
func standsFor(t reflect.Type) (as reflect.Type, is bool) {
	switch t {
	case reflect.TypeFor[torque.Stage]():
		return reflect.TypeFor[stage](), true
	case reflect.TypeFor[torque.Action](), reflect.TypeFor[torque.Sequence]():
		return t, true
	}
	return nil, false
}

// actions are the kinds of an action, each with what follows its kind.
var actions = []struct {
	word string
	of   reflect.Type
}{
	{"tighten", reflect.TypeFor[torque.Tighten]()},
	{"turn", reflect.TypeFor[torque.Turn]()},
	{"back off", reflect.TypeFor[backOff]()},
	{"wait", reflect.TypeFor[wait]()},
	{"check", reflect.TypeFor[torque.Inspection]()},
}

func (m *maker) mirrored(t, as reflect.Type) (*shape, error) {
	switch t {
	case reflect.TypeFor[torque.Sequence]():
		word, err := m.shape(reflect.TypeFor[torque.Arrangement]())
		if err != nil {
			return nil, err
		}
		return m.define(t, &shape{of: "one of", name: "Sequence", says: "the order in which bolts are pulled: a word, or the bolts in that order; null for inside out, or for what stands above",
			kinds: []*shape{word, {of: "list", list: &shape{of: "text"}}}}), nil
	case reflect.TypeFor[torque.Action]():
		u := &shape{of: "one of", name: "Action", says: "the work of one step, named by its kind: tighten, turn and back off are pulls, each of one bolt; wait and check are pauses between pulls"}
		for _, a := range actions {
			s, err := m.shape(a.of)
			if err != nil {
				return nil, err
			}
			s.keys = append([]key{{"kind", "", &shape{of: "text", words: []string{a.word}}}}, s.keys...)
			u.kinds = append(u.kinds, s)
		}
		return m.define(t, u), nil
	}
	return m.shape(as)
}
