package ask

import (
	"encoding"
	"encoding/json"
	"reflect"
)

// listed returns the answer with an empty list in the place of every nil one, so that whoever
// reads it need not ask whether there is a list before walking it.
func listed(answer any) any {
	v := reflect.New(reflect.TypeOf(answer)).Elem()
	v.Set(reflect.ValueOf(answer))
	fill(v)
	return v.Interface()
}

func fill(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() && !writesItself(v.Type()) {
			fresh := reflect.New(v.Type().Elem()) // what it points to may be the library's
			fresh.Elem().Set(v.Elem())
			fill(fresh.Elem())
			v.Set(fresh)
		}
	case reflect.Struct:
		if writesItself(v.Type()) {
			return
		}
		for i := range v.NumField() {
			f := v.Type().Field(i)
			if !f.IsExported() || v.Field(i).Kind() == reflect.Slice && v.Field(i).IsNil() && f.Tag.Get("null") == "meant" {
				continue
			}
			fill(v.Field(i))
		}
	case reflect.Slice:
		fresh := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
		reflect.Copy(fresh, v)
		for i := range fresh.Len() {
			fill(fresh.Index(i))
		}
		v.Set(fresh)
	}
}

// writesItself reports whether a type has a form of its own in JSON.
func writesItself(t reflect.Type) bool {
	return t.Implements(reflect.TypeFor[json.Marshaler]()) || t.Implements(reflect.TypeFor[encoding.TextMarshaler]())
}
