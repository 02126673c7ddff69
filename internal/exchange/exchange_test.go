package exchange

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/internal/thorough"
	"example.com/closefit/units"
)

// A form is one type of the exchange form and its check.
type form struct {
	name     string // as its package declares it
	check    func(t *testing.T)
	examples func() [][]byte
	fuzz     func(t *testing.T, text []byte)
}

// valueOf registers a type whose JSON says all that it holds.
func valueOf[T any](name string, draw func(t *rapid.T) T) form { return valueBy(name, draw, nil) }

// valueBy registers a type with an equality for what its JSON might leave out.
func valueBy[T any](name string, draw func(t *rapid.T) T, equal func(a, b T) bool) form {
	f := nameBy(name, draw, equal)
	f.check = func(t *testing.T) {
		checkForm(t, draw, equal)
		refuses[T](t, "a text of no meaning", `"!"`)
	}
	return f
}

// nameBy registers a type that is written as a name of the user's own, of which any text
// may be one.
func nameBy[T any](name string, draw func(t *rapid.T) T, equal func(a, b T) bool) form {
	return form{
		name:     name,
		check:    func(t *testing.T) { checkForm(t, draw, equal) },
		examples: func() [][]byte { return written(draw) },
		fuzz:     readsOrRefuses[T],
	}
}

func checkForm[T any](t *testing.T, draw func(t *rapid.T) T, equal func(a, b T) bool) {
	t.Run("survives", func(t *testing.T) {
		rapid.Check(t, func(t *rapid.T) { survives(t, draw(t), equal) })
	})
	t.Run("refuses", func(t *testing.T) {
		g := rapid.Custom(draw)
		for seed := 0; seed < 8; seed += thorough.Step(8, 3) { // one example, three, or all eight
			text, err := json.Marshal(g.Example(seed))
			if err != nil {
				t.Fatal(err)
			}
			refusesChanges[T](t, text)
		}
		refuses[T](t, "an empty object", `{}`)
		refuses[T](t, "an empty text", `""`)
		refuses[T](t, "nothing", ``)
		var zero T
		if written, err := json.Marshal(zero); err != nil || string(written) != "null" {
			if _, ok := any(&zero).(json.Unmarshaler); ok { // package json passes null by what reads text alone
				refuses[T](t, "null, which is not how a zero is written", `null`)
			}
			var in struct {
				V T `json:"v"`
			}
			if err := units.DecodeObject([]byte(`{"v":null}`), &in); !errors.Is(err, units.ErrNotWritten) {
				t.Errorf("null in an object: %v", err)
			}
		}
	})
}

// read reads a value as whoever embeds the library does.
func read[T any](text []byte, v *T) error { return json.Unmarshal(text, v) }

// survives fails unless the value comes back from JSON as it went.
func survives[T any](t *rapid.T, v T, equal func(a, b T) bool) {
	text, err := json.Marshal(v)
	if err != nil {
		t.Fatalf("%+v: %v", v, err)
	}
	if string(text) == "{}" {
		t.Fatalf("%+v is written as {}, which says nothing", v)
	}
	if k := reflect.TypeFor[T]().Kind(); k >= reflect.Int && k <= reflect.Uint64 && text[0] != '"' {
		t.Fatalf("a choice is written as %s; write a word, by MarshalText", text)
	}
	var back T
	if err := read(text, &back); err != nil {
		t.Fatalf("%s: %v", text, err)
	}
	again, err := json.Marshal(back)
	if err != nil || string(again) != string(text) {
		t.Fatalf("%s comes back as %s, %v", text, again, err)
	}
	if equal != nil && !equal(v, back) {
		t.Fatalf("%s comes back as another value", text)
	}
}

// refuses fails if the text is read, or if a type that reads JSON by itself keeps a part
// of it.
func refuses[T any](t *testing.T, what, text string) {
	t.Helper()
	var v T
	if err := read([]byte(text), &v); err == nil {
		t.Errorf("%s is read without an error: %.200s", what, text)
	}
	into := reflect.ValueOf(&v).Elem()
	if into.Kind() == reflect.Pointer && !into.IsNil() {
		into = into.Elem()
	}
	if _, itself := into.Addr().Interface().(json.Unmarshaler); itself && !into.IsZero() {
		t.Errorf("%s is half read: %.200s", what, text)
	}
}

// nullStandsFor has what null under a key is read as where the documentation of its type
// says so. Anywhere null may be read as an empty list.
var nullStandsFor = map[string]string{"order": `"inside out"`} // of a torque.Group

// keepsNull fails if v, in which null has been put in the place of the value under a key,
// is read as if something else stood there.
func keepsNull[T any](t *testing.T, v, null *node, key string) {
	t.Helper()
	text := v.text()
	var read T
	if err := json.Unmarshal([]byte(text), &read); err != nil {
		return
	}
	again, err := json.Marshal(read)
	for _, may := range []string{"null", "[]", nullStandsFor[key]} {
		if null.scalar = may; err == nil && v.text() == string(again) {
			return
		}
	}
	t.Errorf("with null for the key %s, %.400s comes back as %.400s, %v", key, text, again, err)
}

// same compares two values by their Equal methods, else field by field.
func same[T any](a, b T) bool { return sameValue(reflect.ValueOf(a), reflect.ValueOf(b)) }

func sameValue(a, b reflect.Value) bool {
	if equal := a.MethodByName("Equal"); equal.IsValid() && a.Kind() != reflect.Pointer {
		return equal.Call([]reflect.Value{b})[0].Bool()
	}
	switch a.Kind() {
	case reflect.Pointer:
		return a.IsNil() == b.IsNil() && (a.IsNil() || sameValue(a.Elem(), b.Elem()))
	case reflect.Struct:
		for i := range a.NumField() {
			if !sameValue(a.Field(i), b.Field(i)) {
				return false
			}
		}
		return true
	case reflect.Slice:
		if a.Len() != b.Len() || a.IsNil() != b.IsNil() {
			return false
		}
		for i := range a.Len() {
			if !sameValue(a.Index(i), b.Index(i)) {
				return false
			}
		}
		return true
	}
	return a.Equal(b)
}

// refusesChanges drops each key of each object in the text in turn, and adds one, and
// writes one twice: all are errors. Null instead of a value is an error, or stays null.
func refusesChanges[T any](t *testing.T, text []byte) {
	t.Helper()
	v, err := parseTree(text)
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range v.objects(nil) {
		whole := slices.Clone(o.members)
		for i, m := range whole {
			o.members = slices.Delete(slices.Clone(whole), i, i+1)
			refuses[T](t, "without the key "+m.key, v.text())
			o.members = append(slices.Clone(whole), m)
			refuses[T](t, "with the key "+m.key+" twice", v.text())
			o.members = slices.Clone(whole)
			null := &node{scalar: "null"}
			o.members[i].value = null
			keepsNull[T](t, v, null, m.key)
		}
		o.members = append(slices.Clone(whole), member{"never_heard_of", &node{scalar: "1"}})
		refuses[T](t, "with an unknown key", v.text())
		o.members = whole
	}
}

// A node is a JSON value whose objects keep their order, and a key that stands twice.
type node struct {
	scalar  string // of what is no list or object
	list    []*node
	members []member
	object  bool
	isList  bool
}

type member struct {
	key   string
	value *node
}

func parseTree(text []byte) (*node, error) {
	d := json.NewDecoder(bytes.NewReader(text))
	d.UseNumber()
	n, err := readNode(d)
	if err != nil {
		return nil, err
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("text behind the value: %v", err)
	}
	return n, nil
}

func readNode(d *json.Decoder) (*node, error) {
	t, err := d.Token()
	if err != nil {
		return nil, err
	}
	n := &node{}
	switch t {
	case json.Delim('{'):
		n.object = true
	case json.Delim('['):
		n.isList = true
	default:
		text, err := json.Marshal(t)
		n.scalar = string(text)
		return n, err
	}
	for d.More() {
		key := ""
		if n.object {
			k, err := d.Token()
			if err != nil {
				return nil, err
			}
			key = k.(string)
		}
		v, err := readNode(d)
		if err != nil {
			return nil, err
		}
		n.list = append(n.list, v)
		if n.object {
			n.members = append(n.members, member{key, v})
		}
	}
	_, err = d.Token()
	return n, err
}

// objects returns every object in n, n among them.
func (n *node) objects(all []*node) []*node {
	if n.object {
		all = append(all, n)
	}
	for _, v := range n.list {
		all = v.objects(all)
	}
	return all
}

func (n *node) text() string {
	var b bytes.Buffer
	n.write(&b)
	return b.String()
}

func (n *node) write(b *bytes.Buffer) {
	switch {
	case n.object:
		b.WriteByte('{')
		for i, m := range n.members {
			if i > 0 {
				b.WriteByte(',')
			}
			fmt.Fprintf(b, "%q:", m.key)
			m.value.write(b)
		}
		b.WriteByte('}')
	case n.isList:
		b.WriteByte('[')
		for i, v := range n.list {
			if i > 0 {
				b.WriteByte(',')
			}
			v.write(b)
		}
		b.WriteByte(']')
	default:
		b.WriteString(n.scalar)
	}
}

// A type that forgets a missing key is found out, and so is one that loses a field.
func TestTheChecksFindFaults(t *testing.T) {
	type lax struct {
		A string `json:"a"`
	}
	var l lax
	for _, text := range []string{`{}`, `{"a":"x","never_heard_of":1}`} {
		if err := json.Unmarshal([]byte(text), &l); err != nil {
			t.Fatalf("package json refuses %s: %v; the example is no example", text, err)
		}
	}
	v, err := parseTree([]byte(`{"a":[{"b":1,"c":null},2.50,"x"],"d":{}}`))
	if err != nil {
		t.Fatal(err)
	}
	if got := v.text(); got != `{"a":[{"b":1,"c":null},2.50,"x"],"d":{}}` {
		t.Errorf("a tree comes back as %s", got)
	}
	if n := len(v.objects(nil)); n != 3 {
		t.Errorf("%d objects, want 3", n)
	}
}
