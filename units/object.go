package units

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"
)

// ErrNotWritten is the kind of error in text that is not of the exchange form: a key
// that is missing, unknown or there twice, a word that is none.
var ErrNotWritten = errors.New("not of the exchange form")

// DecodeObject reads a JSON object into the struct that into points to, strictly:
// every field with a json tag must have its key, no key may be unknown, none may stand
// twice, and null is for what may be missing: a pointer, a slice, or a type that reads
// it. Where nothing is there null is written, so that a key that was forgotten is never
// taken for a zero. The error is an *Error of kind ErrNotWritten that names the key, or
// wraps that of the field. Nothing is stored unless all of it can be read.
func DecodeObject(data []byte, into any) error {
	target := reflect.ValueOf(into).Elem()
	where := target.Type().Name()
	if i := strings.IndexByte(where, '['); i >= 0 {
		where = where[:i]
	}
	fail := func(found, fix string) error {
		return &Error{Kind: ErrNotWritten, Where: where, Found: found, Fix: fix}
	}
	keys, values, err := objectOf(data)
	if err != nil {
		return fail(err.Error(), "write a JSON object")
	}
	fresh := reflect.New(target.Type()).Elem()
	var wanted []string
	for i := range target.NumField() {
		field := target.Type().Field(i)
		key, _, _ := strings.Cut(field.Tag.Get("json"), ",")
		if key == "" || key == "-" {
			continue
		}
		wanted = append(wanted, key)
		at := slices.Index(keys, key)
		if at < 0 {
			return fail(fmt.Sprintf("no key %q", key), "write it, with null if there is nothing")
		}
		if string(values[at]) == "null" && !nullable(field.Type) {
			return fail(fmt.Sprintf("%q is null", key), "give it")
		}
		if err := json.Unmarshal(values[at], fresh.Field(i).Addr().Interface()); err != nil {
			return fmt.Errorf("%s, %q: %w", where, key, err)
		}
	}
	for i, key := range keys {
		if !slices.Contains(wanted, key) {
			return fail(fmt.Sprintf("an unknown key %.40q", key), "the keys are "+strings.Join(wanted, ", "))
		}
		if slices.Contains(keys[:i], key) {
			return fail(fmt.Sprintf("the key %q twice", key), "write it once")
		}
	}
	target.Set(fresh)
	return nil
}

// nullable reports whether null means something for a field: nothing there.
func nullable(t reflect.Type) bool {
	switch t.Kind() {
	case reflect.Pointer, reflect.Slice, reflect.Map, reflect.Interface:
		return true
	}
	reads := reflect.TypeFor[interface{ ReadsNull() }]()
	return t.Implements(reads) || reflect.PointerTo(t).Implements(reads)
}

// objectOf splits a JSON object into its keys and values, in order.
func objectOf(data []byte) (keys []string, values []json.RawMessage, err error) {
	d := json.NewDecoder(bytes.NewReader(data))
	t, err := d.Token()
	if err != nil {
		return nil, nil, err
	}
	if t != json.Delim('{') {
		return nil, nil, errors.New("not an object")
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
	_, err = d.Token()
	return keys, values, err
}
