package schema

import (
	_ "embed"
	"encoding"
	"fmt"
	"path"
	"reflect"
	"slices"
	"strings"

	"example.com/closefit/examples/kit/ask"
	"github.com/shopspring/decimal"
)

// The files of the whole set, as Make makes them; a test keeps them so.
var (
	// JSON has a definition of every type; Judge is that of the request, Judged of the answer,
	// Question of a whole document with a question, Reply of one with an answer or an error.
	//
	//go:embed closefit.schema.json
	JSON []byte

	// TypeScript declares the same types.
	//
	//go:embed closefit.d.ts
	TypeScript []byte
)

// A shape is a type as it is written.
type shape struct {
	of    string   // text, number, integer, boolean, list, object, one of
	words []string // of a text, the only ones
	match string   // of a text, a pattern that it has
	name  string   // of a definition; empty for what is written where it stands
	says  string
	list  *shape
	keys  []key
	kinds []*shape
	none  bool // may be null
}

// A key of an object.
type key struct {
	name, says string
	shape      *shape
}

// Make returns the schema and the declarations of a set of questions. Comments come from the
// source below the folder, which is the top of the tree.
func Make(set ask.Set, tree string) (schema, types []byte, err error) {
	m := maker{comments: map[string]string{}, made: map[reflect.Type]*shape{}, owner: map[string]reflect.Type{}}
	if err := m.read(tree); err != nil {
		return nil, nil, err
	}
	for _, q := range set {
		for _, t := range []reflect.Type{q.Request, q.Reply} {
			if _, err := m.shape(t); err != nil {
				return nil, nil, fmt.Errorf("%s: %w", q.Name, err)
			}
		}
	}
	if _, err := m.shape(reflect.TypeFor[ask.Refusal]()); err != nil {
		return nil, nil, err
	}
	if schema, err = m.json(set); err != nil {
		return nil, nil, err
	}
	return schema, m.typescript(set), nil
}

type maker struct {
	comments map[string]string // by type, and by type and field with a dot between
	made     map[reflect.Type]*shape
	owner    map[string]reflect.Type // of a name
	order    []*shape                // those with a name
}

// orNull returns a shape that may be null as well.
func orNull(s *shape) *shape {
	t := *s
	t.none = true
	return &t
}

// shape returns how a type is written.
func (m *maker) shape(t reflect.Type) (*shape, error) {
	if s := m.made[t]; s != nil {
		return s, nil
	}
	s, err := m.fresh(t)
	if err != nil {
		return nil, err
	}
	m.made[t] = s
	return s, nil
}

// field returns how a field of the type is written, which may be null.
func (m *maker) field(f reflect.StructField) (*shape, error) {
	s, err := m.shape(f.Type)
	if err != nil {
		return nil, err
	}
	if f.Tag.Get("null") == "meant" || isInterval(f.Type) {
		return orNull(s), nil
	}
	return s, nil
}

const number = `-?[0-9]+(\.[0-9]+)?`

func (m *maker) fresh(t reflect.Type) (*shape, error) {
	switch t {
	case reflect.TypeFor[decimal.Decimal]():
		return m.define(t, &shape{of: "text", name: "Decimal", match: "^" + number + "$", says: `a number as text, with every digit: "13.40"`}), nil
	case reflect.TypeFor[ask.Float]():
		return &shape{of: "number"}, nil
	}
	if t.Kind() == reflect.Pointer { // its methods are those of what it points to
		s, err := m.shape(t.Elem())
		if err != nil {
			return nil, err
		}
		return orNull(s), nil
	}
	name, _, _ := strings.Cut(t.Name(), "[")
	if t.PkgPath() == "example.com/closefit/units" && slices.Contains([]string{"Value", "ClosedInterval", "Scale"}, name) {
		return m.quantity(t, name), nil
	}
	if words, err := wordsOf(t); err != nil || words != nil {
		return m.define(t, &shape{of: "text", name: exported(t), words: words}), err
	}
	if union, is := reflect.New(t).Elem().Interface().(interface{ OneOf() []any }); is {
		u := &shape{of: "one of", name: exported(t), says: m.comments[t.Name()]}
		m.made[t] = u
		for _, kind := range union.OneOf() {
			s, err := m.shape(reflect.TypeOf(kind))
			if err != nil {
				return nil, err
			}
			u.kinds = append(u.kinds, s)
		}
		return m.define(t, u), nil
	}
	if t.Implements(reflect.TypeFor[encoding.TextMarshaler]()) {
		return m.define(t, &shape{of: "text", name: exported(t), says: m.comments[t.Name()]}), nil
	}
	switch t.Kind() {
	case reflect.Slice:
		s, err := m.shape(t.Elem())
		return &shape{of: "list", list: s}, err
	case reflect.String:
		if t.PkgPath() != "" {
			return m.define(t, &shape{of: "text", name: exported(t), says: m.comments[t.Name()]}), nil
		}
		return &shape{of: "text"}, nil
	case reflect.Bool:
		return &shape{of: "boolean"}, nil
	case reflect.Int, reflect.Int32, reflect.Int64:
		return &shape{of: "integer"}, nil
	case reflect.Float64:
		return &shape{of: "number"}, nil
	case reflect.Struct:
		return m.object(t)
	}
	return nil, fmt.Errorf("nobody has said how a %s is written", t)
}

// define gives a shape with a name its place.
func (m *maker) define(t reflect.Type, s *shape) *shape {
	if other, taken := m.owner[s.name]; taken && other != t {
		s.name = capital(path.Base(t.PkgPath())) + s.name
	}
	m.owner[s.name] = t
	m.order = append(m.order, s)
	return s
}

// exported is the name of a type, without what it is generic over and with a capital.
func exported(t reflect.Type) string {
	name, _, _ := strings.Cut(t.Name(), "[")
	return capital(name)
}

func capital(name string) string { return strings.ToUpper(name[:1]) + name[1:] }

func (m *maker) object(t reflect.Type) (*shape, error) {
	s := &shape{of: "object", name: exported(t), says: m.comments[strings.SplitN(t.Name(), "[", 2)[0]]}
	m.made[t] = s // it may hold itself
	for i := range t.NumField() {
		f := t.Field(i)
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		if name == "" || name == "-" {
			continue
		}
		v, err := m.field(f)
		if err != nil {
			return nil, fmt.Errorf("%s, %q: %w", t.Name(), name, err)
		}
		s.keys = append(s.keys, key{name, m.comments[strings.SplitN(t.Name(), "[", 2)[0]+"."+f.Name], v})
	}
	if len(s.keys) == 0 && t.NumField() > 0 {
		return nil, fmt.Errorf("nobody has said how a %s is written: no field has a key", t)
	}
	return m.define(t, s), nil
}

// wordsOf returns the words of a type of which each value is one.
func wordsOf(t reflect.Type) (words []string, err error) {
	v := reflect.New(t).Elem()
	if w, is := v.Interface().(interface{ Words() []string }); is {
		return w.Words(), nil
	}
	if _, is := v.Interface().(encoding.TextMarshaler); !is || t.Kind() != reflect.Uint8 {
		return nil, nil
	}
	for i := range uint64(256) {
		v.SetUint(i)
		text, err := v.Interface().(encoding.TextMarshaler).MarshalText()
		if err != nil {
			break
		}
		words = append(words, string(text))
	}
	if len(words) > 100 {
		return nil, fmt.Errorf("%s has no end of words", t)
	}
	return words, nil
}

func isInterval(t reflect.Type) bool { return strings.HasPrefix(t.Name(), "ClosedInterval[") }

// quantity is a text with a unit.
func (m *maker) quantity(t reflect.Type, kind string) *shape {
	_, of, _ := strings.Cut(t.Name(), "[")
	of, _, _ = strings.Cut(of, ",")
	of = strings.TrimSuffix(of[strings.LastIndex(of, ".")+1:], "]")
	of = strings.TrimSuffix(of, "Dim")
	words := strings.ToLower(of)
	name := capital(of)
	s := &shape{of: "text", name: name, match: "[0-9]", says: "a " + words + " with its unit, as text"}
	if name == "Ratio" {
		s.says = `a number as text: "1", "-1/2"`
	}
	switch kind {
	case "ClosedInterval":
		s.name += "Interval"
		s.says = "an interval of a " + words + `: "0.024..0.048 mm", "60 +0.019/0 mm", "2.5 ±0.002 mm", "<= 0.02 mm"`
	case "Scale":
		s.name += "Unit"
		s.match = ""
		s.says = "a unit of " + words
	}
	return m.define(t, s)
}
