package units

import (
	"bytes"
	"encoding"
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"time"

	"github.com/shopspring/decimal"
)

// ErrNotWritten is the kind of error in text that is not of the exchange form: a key
// that is missing, unknown or there twice, a null where something must be, a word
// that no value has.
var ErrNotWritten = errors.New("not of the exchange form")

// maxDepth is how deep objects and lists may stand in one another.
const maxDepth = 64

// DecodeObject reads a JSON object strictly into the struct that into points to, for
// the UnmarshalJSON of a type of the exchange form:
//
//	func (p *Pair) UnmarshalJSON(data []byte) error { return units.DecodeObject(data, p) }
//
// Each field with a json tag must have its key, in the same capitals; no key may be
// unknown or stand twice; nothing may follow the object. Structs inside, in lists and
// maps too, are read as strictly. A missing value is written null, so a forgotten key is
// never taken for a zero. The fields of an embedded struct are read as its own. Types that are written as null read it back: a nil pointer or
// list, an empty Interval, a Reading that was not taken. For any other type null is an
// error. Objects and lists may be nested 64 deep.
//
// The error is an *Error of kind ErrNotWritten that names the key, or that of the field's
// own reader. It stores nothing unless it can read everything, and panics if into is not
// a pointer to a struct.
func DecodeObject(data []byte, into any) error {
	target := reflect.ValueOf(into)
	if target.Kind() != reflect.Pointer || target.Elem().Kind() != reflect.Struct {
		panic(fmt.Sprintf("units: DecodeObject into a %T; give a pointer to a struct", into))
	}
	target = target.Elem()
	if tooDeep(data) {
		return &Error{Kind: ErrNotWritten, Where: nameOf(target.Type()), Found: fmt.Sprintf("more than %d objects or lists in one another", maxDepth), Fix: "write the form that the library writes"}
	}
	return decodeStruct(data, target, nameOf(target.Type()))
}

// tooDeep reports whether the text stands more than maxDepth deep in brackets. Those
// in strings do not count.
func tooDeep(data []byte) bool {
	depth, inside := 0, false
	for i := 0; i < len(data); i++ {
		switch c := data[i]; {
		case inside && c == '\\':
			i++
		case c == '"':
			inside = !inside
		case inside:
		case c == '{' || c == '[':
			if depth++; depth > maxDepth {
				return true
			}
		case c == '}' || c == ']':
			depth--
		}
	}
	return false
}

// nameOf returns the name of a type for an error: without what it is generic over, and
// that of a writtenReading, which stands for a Reading, as Reading.
func nameOf(t reflect.Type) string {
	name, _, _ := strings.Cut(t.Name(), "[")
	return strings.TrimPrefix(name, "written")
}

func notWritten(where, found, fix string) error {
	return &Error{Kind: ErrNotWritten, Where: where, Found: found, Fix: fix}
}

// decodeStruct reads an object into a struct. where names it in errors.
func decodeStruct(data []byte, target reflect.Value, where string) error {
	keys, values, err := objectOf(data)
	if err != nil {
		return notWritten(where, err.Error(), "write a JSON object")
	}
	fresh := reflect.New(target.Type()).Elem()
	var wanted, missing []string
	for _, field := range reflect.VisibleFields(target.Type()) {
		key, _, _ := strings.Cut(field.Tag.Get("json"), ",")
		if key == "" || key == "-" {
			continue
		}
		wanted = append(wanted, key)
		at := slices.Index(keys, key)
		if at < 0 {
			missing = append(missing, fmt.Sprintf("%q", key))
			continue
		}
		if len(missing) > 0 {
			continue // only which are missing is still asked
		}
		if err := decodeValue(values[at], fresh.FieldByIndex(field.Index), fmt.Sprintf("%s, %q", where, key)); err != nil {
			return err
		}
	}
	if len(missing) > 0 {
		return noKeys(where, missing, keys, wanted)
	}
	for i, key := range keys {
		if !slices.Contains(wanted, key) {
			return notWritten(where, fmt.Sprintf("an unknown key %.40q", key), "the keys are "+strings.Join(wanted, ", "))
		}
		if slices.Contains(keys[:i], key) {
			return notWritten(where, fmt.Sprintf("the key %q twice", key), "write it once")
		}
	}
	target.Set(fresh)
	return nil
}

// noKeys is the error of keys that are missing: all of them, so that whoever writes the object for the first time
// need not ask for each, and a key that may have been meant for one of them.
func noKeys(where string, missing, keys, wanted []string) error {
	found := "no key " + strings.Join(missing, ", ")
	if i := slices.IndexFunc(keys, func(key string) bool { return !slices.Contains(wanted, key) }); i >= 0 {
		found += fmt.Sprintf(", and an unknown key %.40q", keys[i])
	}
	if len(missing) == 1 {
		return notWritten(where, found, "write it, with null if there is nothing")
	}
	return notWritten(where, found, "write each, with null if there is nothing, or [] for a list")
}

// decodeValue reads any value into a fresh one.
func decodeValue(data []byte, v reflect.Value, where string) error {
	if string(data) == "null" {
		return decodeNull(v, where)
	}
	if readsItself(v) {
		return decodePlain(data, v, where)
	}
	switch v.Kind() {
	case reflect.Struct:
		return decodeStruct(data, v, where)
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		return decodeValue(data, v.Elem(), where)
	case reflect.Slice:
		element := reflect.New(v.Type().Elem()).Elem()
		if element.Kind() != reflect.Uint8 || readsItself(element) { // plain bytes are written as text
			return decodeList(data, v, where)
		}
	case reflect.Array:
		return decodeList(data, v, where)
	case reflect.Map:
		return decodeMap(data, v, where)
	}
	return decodePlain(data, v, where)
}

// readsItself reports whether the value has a reader of its own.
func readsItself(v reflect.Value) bool {
	switch v.Addr().Interface().(type) {
	case json.Unmarshaler, encoding.TextUnmarshaler:
		return true
	}
	return false
}

func decodePlain(data []byte, v reflect.Value, where string) error {
	err := json.Unmarshal(data, v.Addr().Interface())
	if err == nil {
		return nil
	}
	plain := !readsItself(v)
	switch v.Interface().(type) {
	case decimal.Decimal, time.Time: // whose readers do not say what to write
		plain = true
	}
	if plain && v.Kind() != reflect.Interface { // the words of package json, of a number that is none
		return notWritten(where, fmt.Sprintf("%.40s", data), "write "+wordsFor(v))
	}
	return fmt.Errorf("%s: %w", where, err)
}

// wordsFor says what a plain value is written as.
func wordsFor(v reflect.Value) string {
	switch v.Interface().(type) {
	case decimal.Decimal:
		return `a number in quotes, such as "13.40"`
	case time.Time:
		return `a time in quotes, such as "2026-03-09T14:05:00Z"`
	}
	switch {
	case v.Kind() == reflect.Bool:
		return "true or false"
	case v.CanInt():
		return "a whole number"
	case v.CanUint():
		return "a whole number of zero or more"
	case v.CanFloat():
		return "a number"
	}
	return "a text in quotes"
}

// decodeNull reads null into what is written as null and refuses it of all else: many
// readers leave a value as it was, which would be a zero.
func decodeNull(v reflect.Value, where string) error {
	if err := json.Unmarshal([]byte("null"), v.Addr().Interface()); err == nil {
		if written, err := json.Marshal(v.Addr().Interface()); err == nil && string(written) == "null" {
			return nil
		}
	}
	return notWritten(where, "null", "give it")
}

func decodeList(data []byte, v reflect.Value, where string) error {
	var elements []json.RawMessage
	if err := json.Unmarshal(data, &elements); err != nil {
		return notWritten(where, "no list", "write a JSON list")
	}
	if v.Kind() == reflect.Slice {
		v.Set(reflect.MakeSlice(v.Type(), len(elements), len(elements)))
	} else if v.Len() != len(elements) {
		return notWritten(where, fmt.Sprintf("a list of %d", len(elements)), fmt.Sprintf("write %d", v.Len()))
	}
	for i, e := range elements {
		if err := decodeValue(e, v.Index(i), fmt.Sprintf("%s, number %d", where, i+1)); err != nil {
			return err
		}
	}
	return nil
}

// decodeMap reads an object whose keys are names.
func decodeMap(data []byte, v reflect.Value, where string) error {
	keys, values, err := objectOf(data)
	if err != nil {
		return notWritten(where, err.Error(), "write a JSON object")
	}
	v.Set(reflect.MakeMap(v.Type()))
	seen := make(map[string]bool, len(keys))
	for i, key := range keys {
		if seen[key] {
			return notWritten(where, fmt.Sprintf("the key %.40q twice", key), "write it once")
		}
		seen[key] = true
		k := reflect.New(v.Type().Key()).Elem()
		quoted, err := json.Marshal(key)
		if err != nil {
			return err
		}
		e := reflect.New(v.Type().Elem()).Elem()
		if err := decodeValue(quoted, k, where); err != nil {
			return err
		}
		if err := decodeValue(values[i], e, fmt.Sprintf("%s, %.40q", where, key)); err != nil {
			return err
		}
		v.SetMapIndex(k, e)
	}
	return nil
}

// objectOf splits a JSON object into its keys and values, in order.
func objectOf(data []byte) (keys []string, values []json.RawMessage, err error) {
	d := json.NewDecoder(bytes.NewReader(data))
	t, err := d.Token()
	if err != nil || t != json.Delim('{') {
		return nil, nil, errors.New("no object")
	}
	for d.More() {
		t, err := d.Token()
		if err != nil {
			return nil, nil, err
		}
		var v json.RawMessage
		if err := d.Decode(&v); err != nil {
			return nil, nil, err
		}
		keys, values = append(keys, t.(string)), append(values, v)
	}
	if _, err := d.Token(); err != nil {
		return nil, nil, err
	}
	if rest := bytes.TrimSpace(data[d.InputOffset():]); len(rest) > 0 {
		return nil, nil, fmt.Errorf("text behind the object: %.20q", rest)
	}
	return keys, values, nil
}
