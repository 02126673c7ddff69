package schema

import (
	_ "embed"
	"encoding"
	"encoding/json"
	"fmt"
	"path"
	"reflect"
	"slices"
	"strings"
	"time"

	"example.com/closefit/examples/kit/ask"
	"example.com/closefit/torque"
	"example.com/closefit/units/measure"
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

	optional bool // of an object: any key may be missing
}

// A key of an object.
type key struct {
	name, says string
	shape      *shape
}

// Make returns the schema and the declarations of a set of questions. Comments come from the
// source below the folder, which is the top of the tree.
func Make(set ask.Set, tree string) (schema, types []byte, err error) {
	m, err := made(set, tree, nil)
	if err != nil {
		return nil, nil, err
	}
	schema, err = m.json(set, "questions and answers", "closefit.schema.json")
	return schema, m.typescript(set), err
}

// Questions are a set with a file of its own.
type Questions struct {
	Title    string
	Set      ask.Set
	Packages []string // as those of a Document, besides those of the library and the questions
}

// JSON returns the schema of the questions, in a file of that name, as Make does.
func (q Questions) JSON(name, tree string) ([]byte, error) {
	m, err := made(q.Set, tree, q.Packages)
	if err != nil {
		return nil, err
	}
	return m.json(q.Set, q.Title, name)
}

// made returns the shapes of all that a set asks and answers.
func made(set ask.Set, tree string, more []string) (*maker, error) {
	m := &maker{tag: "json", comments: map[string]string{}, made: map[reflect.Type]*shape{}, owner: map[string]reflect.Type{}}
	if err := m.read(tree, slices.Concat(packages(), more)); err != nil {
		return nil, err
	}
	for _, q := range set {
		for _, t := range []reflect.Type{q.Request, q.Reply} {
			if _, err := m.shape(t); err != nil {
				return nil, fmt.Errorf("%s: %w", q.Name, err)
			}
		}
	}
	_, err := m.shape(reflect.TypeFor[ask.Refusal]())
	return m, err
}

// A Document is a text of another form than questions: a record, a job file.
type Document struct {
	Title string
	Of    reflect.Type // its keys are the fields' tags

	// Tag is that which has the keys: json, of which every key must be there, and a list may be null;
	// or toml, of which any may be missing and nothing is null.
	Tag string

	// Packages are those in whose source comments stand, from the top of the tree. Where two have a
	// type of one name the last counts.
	Packages []string
}

// JSON returns the schema of the document, in a file of that name. Comments come from the source
// below the folder, which is the top of the tree. What a type writes by itself, without fields, is
// anything.
func (d Document) JSON(name, tree string) ([]byte, error) {
	m := maker{tag: d.Tag, document: true, comments: map[string]string{}, made: map[reflect.Type]*shape{}, owner: map[string]reflect.Type{}}
	if err := m.read(tree, d.Packages); err != nil {
		return nil, err
	}
	s, err := m.shape(d.Of)
	if err != nil {
		return nil, err
	}
	definitions := object{}
	for _, s := range m.order {
		definitions = append(definitions, pair{s.name, s.definition()})
	}
	return object{
		{"$schema", "https://json-schema.org/draft/2020-12/schema"},
		{"$id", "https://example.com/closefit/" + name},
		{"title", "closefit: " + d.Title},
		{"$ref", "#/$defs/" + s.name},
		{"$defs", definitions},
	}.indented()
}

type maker struct {
	tag      string            // of the keys
	document bool              // it is a Document
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
	if f.Tag.Get("null") == "meant" || isInterval(f.Type) || f.Type == reflect.TypeFor[torque.Sequence]() {
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
	if as, is := standsFor(t); is {
		return m.mirrored(t, as)
	}
	if m.document {
		if s, is := m.any(t); is {
			return s, nil
		}
	}
	if t.Kind() == reflect.Pointer { // its methods are those of what it points to
		s, err := m.shape(t.Elem())
		if err != nil {
			return nil, err
		}
		if m.tag == "toml" {
			return s, nil
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
	case reflect.Map:
		s, err := m.shape(t.Elem())
		return &shape{of: "map", list: s}, err
	case reflect.Slice:
		s, err := m.shape(t.Elem())
		return &shape{of: "list", list: s, none: m.document && m.tag == "json"}, err
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
	s := &shape{of: "object", optional: m.tag == "toml", name: exported(t), says: m.comments[strings.SplitN(t.Name(), "[", 2)[0]]}
	m.made[t] = s // it may hold itself
	for _, f := range m.fields(t) {
		name, _, _ := strings.Cut(f.Tag.Get(m.tag), ",")
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

// fields are those of a struct; of a Document's also those of what it embeds.
func (m *maker) fields(t reflect.Type) []reflect.StructField {
	if m.document {
		return reflect.VisibleFields(t)
	}
	var all []reflect.StructField
	for i := range t.NumField() {
		all = append(all, t.Field(i))
	}
	return all
}

// any is the shape of what stands only in documents; ok is false of what questions know as well.
func (m *maker) any(t reflect.Type) (s *shape, ok bool) {
	switch {
	case t == reflect.TypeFor[time.Time]():
		return &shape{of: "text", match: "^[0-9]{4}-[0-9]{2}-[0-9]{2}T"}, true
	case t == reflect.TypeFor[measure.Lines]():
		return &shape{of: "list", list: &shape{of: "any"}}, true
	case t.Kind() == reflect.Interface, t == reflect.TypeFor[json.RawMessage]():
		return &shape{of: "any"}, true
	case t.Kind() == reflect.Map:
		of, err := m.shape(t.Elem())
		if err != nil {
			return nil, false
		}
		return &shape{of: "map", list: of}, true
	case t.Kind() == reflect.Slice && t.Implements(reflect.TypeFor[json.Marshaler]()), t.Kind() == reflect.Struct && len(tagged(t, m.tag)) == 0 && t.Implements(reflect.TypeFor[json.Marshaler]()) && t.PkgPath() != "example.com/closefit/units":
		return &shape{of: "any"}, true
	}
	return nil, false
}

// tagged are the fields with a key.
func tagged(t reflect.Type, tag string) (all []reflect.StructField) {
	for _, f := range reflect.VisibleFields(t) {
		if f.Tag.Get(tag) != "" {
			all = append(all, f)
		}
	}
	return all
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
	a, intervals := "a ", `"0.024..0.048 mm", "60 +0.019/0 mm", "2.5 ±0.002 mm", "<= 0.02 mm"`
	switch name {
	case "Angle":
		a, intervals = "an ", `"50..60 °", "55 ±5 °"`
	case "Torque":
		intervals = `"22..24 N·m", "15 ±1 lbf·ft"`
	}
	s := &shape{of: "text", name: name, match: "[0-9]", says: a + words + " with its unit, as text"}
	if name == "Ratio" {
		s.says = `a number as text: "1", "-1/2"`
	}
	switch kind {
	case "ClosedInterval":
		s.name += "Interval"
		s.says = "an interval of " + a + words + ": " + intervals
	case "Scale":
		s.name += "Unit"
		s.match = ""
		s.says = "a unit of " + words
	}
	return m.define(t, s)
}
