package fasteners_test

import (
	"encoding"
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/fasteners"
	"example.com/closefit/units"
)

// values draws one value of every exported type that is written.
var values = map[string]func(*rapid.T) any{
	"Thread":  func(t *rapid.T) any { return anyThread().Draw(t, "thread") },
	"Segment": func(t *rapid.T) any { return segment(t, "segment") },
	"Layer":   func(t *rapid.T) any { return layer(t, "layer") },
	"Head":    func(t *rapid.T) any { return one(t, "head", fasteners.HexHead, fasteners.SocketHead) },
	"Seat":    func(t *rapid.T) any { return one(t, "seat", fasteners.IntoNut, fasteners.IntoTapped) },
	"Contact": func(t *rapid.T) any {
		return one(t, "contact", fasteners.ContactUndecided, fasteners.Clamped, fasteners.Parted)
	},
	"Reuse": func(t *rapid.T) any {
		return one(t, "reuse", fasteners.Undecided, fasteners.Reusable, fasteners.Replace)
	},
	"Question": func(t *rapid.T) any { return one(t, "question", fasteners.Questions()...) },
	"Joint":    func(t *rapid.T) any { return joint(t) },
	"Heated": func(t *rapid.T) any {
		return fasteners.Heated{Length: drawn(t, "length", units.Micrometre), Expansion: drawn(t, "expansion", units.PartsPerMillion),
			From: units.MustParseTemperature("20 °C"), To: units.MustParseTemperature("-7.5 °C")}
	},
	"Frusta": func(t *rapid.T) any {
		f := fasteners.Frusta{Hole: drawn(t, "hole", units.Thou), Face: drawn(t, "face", units.Micrometre), HalfAngle: drawn(t, "angle", units.Degree)}
		for i := range rapid.IntRange(0, 3).Draw(t, "layers") {
			f.Layers = append(f.Layers, layer(t, fmt.Sprint("layer ", i)))
		}
		return f
	},
	"DeformationCone": func(t *rapid.T) any {
		return fasteners.DeformationCone{Seat: one(t, "seat", fasteners.IntoNut, fasteners.IntoTapped), Hole: drawn(t, "hole", units.Micrometre),
			Face: drawn(t, "face", units.Micrometre), Outside: drawn(t, "outside", units.Micrometre), Grip: drawn(t, "grip", units.Micrometre), Modulus: drawn(t, "modulus", units.Megapascal)}
	},
	"BoltShape": func(t *rapid.T) any {
		b := fasteners.BoltShape{Thread: anyThread().Draw(t, "thread"), Head: one(t, "head", fasteners.HexHead, fasteners.SocketHead),
			Seat: one(t, "seat", fasteners.IntoNut, fasteners.IntoTapped), Grip: drawn(t, "grip", units.Micrometre), FreeThread: drawn(t, "free", units.Thou),
			Modulus: drawn(t, "modulus", units.Megapascal), SeatModulus: drawn(t, "seat modulus", units.Pascal)}
		for i := range rapid.IntRange(0, 3).Draw(t, "shank") {
			b.Shank = append(b.Shank, segment(t, fmt.Sprint("segment ", i)))
		}
		return b
	},
	"Limits": func(t *rapid.T) any {
		thread := one(t, "thread", "M10", "M10x1.12", "M1.2", "3/8-24 UNF", "7/16-24 UNS", "#4-40")
		class := one(t, "class", "6g", "6H")
		if !strings.HasPrefix(thread, "M") {
			class = one(t, "inch class", "2A", "2B")
		}
		return must(t)(fasteners.MustParseThread(thread).Limits(class))
	},
	"Strength": func(t *rapid.T) any {
		if rapid.Bool().Draw(t, "metric") {
			return must(t)(fasteners.ISO898(one(t, "class", "4.6", "4.8", "8.8", "10.9"), fasteners.MustParseThread(one(t, "thread", "M10", "M20", "M12x1.25"))))
		}
		return must(t)(fasteners.SAEJ429(one(t, "grade", "1", "5", "8"), fasteners.MustParseThread(one(t, "thread", "3/8-24", "1-8"))))
	},
	"LoadedJoint": func(t *rapid.T) any {
		preload, outer := drawn(t, "preload", units.Newton), drawn(t, "outer", units.PoundForce)
		return must(t)(joint(t).Under(units.MustInterval(preload, preload.MulInt(2)), units.MustInterval(outer.Neg(), outer)))
	},
}

// Every exported type of the package is among the values, so that none is written untested.
func TestExchangeIsComplete(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range file.Decls {
			types, _ := d.(*ast.GenDecl)
			if types == nil || types.Tok != token.TYPE {
				continue
			}
			for _, s := range types.Specs {
				if name := s.(*ast.TypeSpec).Name.Name; ast.IsExported(name) && values[name] == nil {
					t.Errorf("%s is not among the values that are written and read back", name)
				}
			}
		}
	}
}

// must makes the result of a call that cannot fail here.
func must(t *rapid.T) func(any, error) any {
	return func(v any, err error) any {
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func one[T any](t *rapid.T, name string, choice ...T) T {
	return choice[rapid.IntRange(0, len(choice)-1).Draw(t, name)]
}

func drawn[D units.Dimension](t *rapid.T, name string, u units.Unit[D]) units.Quantity[D] {
	return u.OfInt(rapid.Int64Range(1, 99_999).Draw(t, name))
}

func segment(t *rapid.T, name string) fasteners.Segment {
	return fasteners.Segment{Name: name, Length: drawn(t, name+" length", units.Micrometre), Area: drawn(t, name+" area", units.SquareMillimetre), Modulus: drawn(t, name+" modulus", units.Megapascal)}
}

func layer(t *rapid.T, name string) fasteners.Layer {
	return fasteners.Layer{Name: name, Thickness: drawn(t, name+" thickness", units.Thou), Modulus: drawn(t, name+" modulus", units.KipPerSquareInch)}
}

func joint(t *rapid.T) fasteners.Joint {
	return fasteners.Joint{Bolt: drawn(t, "bolt", units.NewtonPerMillimetre), Members: drawn(t, "members", units.NewtonPerMillimetre)}
}

// Every value survives JSON unchanged; the text says the same, and so do the fields.
func TestExchange(t *testing.T) {
	for name, draw := range values {
		t.Run(name, rapid.MakeCheck(func(t *rapid.T) {
			v := draw(t)
			text, err := json.Marshal(v)
			if err != nil {
				t.Fatal(err)
			}
			back := reflect.New(reflect.TypeOf(v))
			if err := json.Unmarshal(text, back.Interface()); err != nil {
				t.Fatalf("%s: %v", text, err)
			}
			again, err := json.Marshal(back.Interface())
			if err != nil || string(again) != string(text) || !same(reflect.ValueOf(v), back.Elem()) {
				t.Fatalf("%s comes back as %s, %v", text, again, err)
			}
			if string(text) == "{}" || string(text) == "null" {
				t.Fatalf("%v is written as %s", v, text)
			}
		}))
	}
}

// same compares two values by their Equal methods, else field by field.
func same(a, b reflect.Value) bool {
	if equal := a.MethodByName("Equal"); equal.IsValid() && a.Kind() != reflect.Pointer {
		return equal.Call([]reflect.Value{b})[0].Bool()
	}
	switch a.Kind() {
	case reflect.Pointer:
		return a.IsNil() == b.IsNil() && (a.IsNil() || same(a.Elem(), b.Elem()))
	case reflect.Struct:
		for i := range a.NumField() {
			if !same(a.Field(i), b.Field(i)) {
				return false
			}
		}
		return true
	case reflect.Slice:
		if a.Len() != b.Len() || a.IsNil() != b.IsNil() {
			return false
		}
		for i := range a.Len() {
			if !same(a.Index(i), b.Index(i)) {
				return false
			}
		}
		return true
	}
	return a.Equal(b)
}

// An object of which a key is missing, null where nothing may be missing, there twice or
// unknown is an error, for each key of each type in turn, and leaves the value as it was.
func TestExchangeIsStrict(t *testing.T) {
	for name, draw := range values {
		v := rapid.Custom(func(t *rapid.T) any { return draw(t) }).Example(1)
		text, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		var keys map[string]json.RawMessage
		if json.Unmarshal(text, &keys) != nil {
			continue // a word
		}
		refuse := func(what string, keys map[string]json.RawMessage, more string) {
			changed, err := json.Marshal(keys)
			if err != nil {
				t.Fatal(err)
			}
			changed = append(changed[:len(changed)-1], more+"}"...)
			back := reflect.New(reflect.TypeOf(v))
			if err := json.Unmarshal(changed, back.Interface()); err == nil {
				t.Errorf("%s, %s is read: %s", name, what, changed)
			}
			if !back.Elem().IsZero() {
				t.Errorf("%s, %s: left half read", name, what)
			}
		}
		for key, value := range keys {
			without := map[string]json.RawMessage{}
			for k, v := range keys {
				if k != key {
					without[k] = v
				}
			}
			refuse("without "+key, without, "")
			refuse(key+" twice", keys, fmt.Sprintf(`, %q: %s`, key, value))
			if mayBeNull := map[string]bool{"layers": true, "shank": true, "elongation": true, "hardness": true}; !mayBeNull[key] {
				without[key] = json.RawMessage("null")
				refuse(key+" null", without, "")
			}
		}
		refuse("an unknown key", keys, `, "colour": "red"`)
	}
}

// A value that nobody set, or that no library function gives, is never written or read as if it
// were one.
func TestExchangeOfWhatIsNot(t *testing.T) {
	for name, v := range map[string]any{
		"no thread": fasteners.Thread{}, "no head": fasteners.Head(""), "a head that is none": fasteners.Head("round"), "no seat": fasteners.Seat(""),
		"no shape": fasteners.BoltShape{}, "no strength": fasteners.Strength{}, "no limits": fasteners.Limits{}, "no cone": fasteners.DeformationCone{},
		"a contact that is none": fasteners.Contact(7), "an outcome that is none": fasteners.Reuse(-1),
	} {
		if text, err := json.Marshal(v); err == nil {
			t.Errorf("%s is written as %s", name, text)
		}
	}
	for name, test := range map[string]struct {
		into any
		text string
		kind error
	}{
		"a thread that is none":   {new(fasteners.Thread), `"8 by 1"`, fasteners.ErrThread},
		"a word that is none":     {new(fasteners.Reuse), `"good"`, units.ErrNotWritten},
		"a contact in capitals":   {new(fasteners.Contact), `"Clamped"`, units.ErrNotWritten},
		"a round head":            {new(fasteners.Head), `"round"`, units.ErrNotWritten},
		"a seat of nothing":       {new(fasteners.Seat), `""`, units.ErrNotWritten},
		"a joint of no stiffness": {new(fasteners.Joint), `{"bolt": "0 N/mm", "members": "5 N/mm"}`, fasteners.ErrJoint},
		"a strength of another thread": {new(fasteners.Strength),
			`{"thread": "M20", "class": "8.8", "standard": "ISO 898-1:2013", "proof": "580 MPa", "yield": "640 MPa", "tensile": "800 MPa", "elongation": "12 %", "hardness": "250..320"}`, fasteners.ErrClass},
		"limits that were altered": {new(fasteners.Limits),
			`{"thread": "M10", "class": "6g", "major": "9.732..9.968 mm", "pitch": "8.862..8.995 mm", "minor": "<= 8.344 mm", "tabulated": true}`, units.ErrNotWritten},
		"forces that do not follow": {new(fasteners.LoadedJoint),
			`{"joint": {"bolt": "200 kN/mm", "members": "800 kN/mm"}, "preload": "20 kN", "outer": "10 kN", "contact": "clamped", "bolt": "22 kN", "clamp": "13 kN", "separation": "25 kN"}`, units.ErrNotWritten},
	} {
		if err := json.Unmarshal([]byte(test.text), test.into); !errors.Is(err, test.kind) {
			t.Errorf("%s: error %v, want %v", name, err, test.kind)
		}
	}
	// The same three as the standards and the joint have them are read.
	for _, test := range []struct {
		into any
		text string
	}{
		{new(fasteners.Strength), `{"thread": "M10", "class": "8.8", "standard": "ISO 898-1:2013", "proof": "580 MPa", "yield": "640 MPa", "tensile": "800 MPa", "elongation": "12 %", "hardness": "250..320"}`},
		{new(fasteners.Limits), `{"thread": "M10", "class": "6g", "major": "9.732..9.968 mm", "pitch": "8.862..8.994 mm", "minor": "<= 8.344 mm", "tabulated": true}`},
		{new(fasteners.LoadedJoint), `{"joint": {"bolt": "200 kN/mm", "members": "800 kN/mm"}, "preload": "20 kN", "outer": "10 kN", "contact": "clamped", "bolt": "22 kN", "clamp": "12 kN", "separation": "25 kN"}`},
	} {
		if err := json.Unmarshal([]byte(test.text), test.into); err != nil {
			t.Errorf("%s: %v", test.text, err)
		}
	}
}

// Words are words: each enumerated type is text in both directions.
func TestWords(t *testing.T) {
	for _, v := range []any{new(fasteners.Head), new(fasteners.Seat), new(fasteners.Contact), new(fasteners.Reuse), new(fasteners.Thread)} {
		_, writes := v.(encoding.TextMarshaler)
		_, reads := v.(encoding.TextUnmarshaler)
		if !writes || !reads {
			t.Errorf("%T is no text", v)
		}
	}
}
