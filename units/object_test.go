package units

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
)

// A pair and what it holds have no reader of their own: DecodeObject goes into them.
type pair struct {
	Name   string           `json:"name"`
	Size   Length           `json:"size"`
	Limits LengthInterval   `json:"limits"`
	Count  int              `json:"count"`
	Factor decimal.Decimal  `json:"factor"`
	Note   *string          `json:"note"`
	Parts  []inner          `json:"parts"`
	Ends   [2]Length        `json:"ends"`
	ByName map[string]inner `json:"by_name"`
	Hidden int              `json:"-"`
}

type inner struct {
	Code string `json:"code"`
	At   Angle  `json:"at"`
}

func (p *pair) UnmarshalJSON(data []byte) error { return DecodeObject(data, p) }

const pairJSON = `{"name":"main 3","size":"60.012 mm","limits":"0.024..0.048 mm","count":2,"factor":"1.5","note":"cap on","parts":[{"code":"B","at":"90 °"},{"code":"C","at":"45 °"}],"ends":["1 mm","2 mm"],"by_name":{"upper":{"code":"D","at":"0 °"}}}`

func TestDecodeObject(t *testing.T) {
	var p pair
	if err := json.Unmarshal([]byte(pairJSON), &p); err != nil {
		t.Fatal(err)
	}
	if again, err := json.Marshal(p); err != nil || string(again) != pairJSON {
		t.Errorf("%s, %v", again, err)
	}
	spaced := "\n\t" + strings.ReplaceAll(pairJSON, `,"`, ` , "`) + " \n"
	if err := DecodeObject([]byte(spaced), &p); err != nil {
		t.Error(err)
	}
	if err := DecodeObject([]byte(strings.Replace(pairJSON, `"name"`, `"n\u0061me"`, 1)), &p); err != nil {
		t.Error(err)
	}
	// null is read by what is written as null.
	for old, new := range map[string]string{`"note":"cap on"`: `"note":null`, `"limits":"0.024..0.048 mm"`: `"limits":null`,
		`"parts":[{"code":"B","at":"90 °"},{"code":"C","at":"45 °"}]`: `"parts":null`, `{"upper":{"code":"D","at":"0 °"}}`: `null`} {
		text := strings.Replace(pairJSON, old, new, 1)
		var p pair
		if err := json.Unmarshal([]byte(text), &p); err != nil {
			t.Errorf("%s: %v", new, err)
		} else if again, err := json.Marshal(p); err != nil || string(again) != text {
			t.Errorf("%s, %v", again, err)
		}
	}
}

// What is not of the form is refused, says which key, and leaves what was there.
func TestDecodeObjectRefuses(t *testing.T) {
	change := func(old, new string) string {
		if !strings.Contains(pairJSON, old) {
			t.Fatalf("no %s", old)
		}
		return strings.Replace(pairJSON, old, new, 1)
	}
	deep := func(open, close string, n int) string {
		return strings.Repeat(open, n) + strings.Repeat(close, n)
	}
	for _, test := range []struct {
		name, text, says string
	}{
		{"missing", change(`"count":2,`, ``), `pair: not of the exchange form: no key "count"; write it, with null if there is nothing`},
		{"several missing", `{"name":"x","parts":null,"ends":["1 mm","2 mm"],"by_name":null,"note":null,"size":"60 mm"}`, `pair: not of the exchange form: no key "limits", "count", "factor"; write each, with null if there is nothing, or [] for a list`},
		{"missing under another name", change(`"count":`, `"kount":`), `no key "count", and an unknown key "kount"; write it`},
		{"in other capitals", change(`"count"`, `"Count"`), `no key "count", and an unknown key "Count"`},
		{"unknown", change(`"count":2`, `"count":2,"kount":2`), `an unknown key "kount"; the keys are name, size, limits`},
		{"field without a tag", change(`"count":2`, `"count":2,"Hidden":2`), `an unknown key "Hidden"`},
		{"twice", change(`"count":2`, `"count":2,"count":3`), `the key "count" twice; write it once`},
		{"twice, once escaped", change(`"count":2`, `"count":2,"c\u006funt":2`), `the key "count" twice`},
		{"null number", change(`"count":2`, `"count":null`), `pair, "count": not of the exchange form: null; give it`},
		{"null text", change(`"main 3"`, `null`), `"name": not of the exchange form: null`},
		{"null quantity", change(`"60.012 mm"`, `null`), `"size": not of the exchange form: null`},
		{"null decimal, whose reader lets it pass", change(`"1.5"`, `null`), `"factor": not of the exchange form: null`},
		{"null in a list", change(`{"code":"B","at":"90 °"}`, `null`), `"parts", number 1: not of the exchange form: null`},
		{"null in an array", change(`"2 mm"]`, `null]`), `"ends", number 2: not of the exchange form: null`},
		{"short array", change(`["1 mm","2 mm"]`, `["1 mm"]`), `"ends": not of the exchange form: a list of 1; write 2`},
		{"long array", change(`["1 mm","2 mm"]`, `["1 mm","2 mm","3 mm"]`), `a list of 3; write 2`},
		{"missing inside", change(`{"code":"B","at":"90 °"}`, `{"code":"B"}`), `"parts", number 1: not of the exchange form: no key "at"`},
		{"unknown inside", change(`{"code":"D",`, `{"code":"D","x":1,`), `"by_name", "upper": not of the exchange form: an unknown key "x"`},
		{"name twice", change(`"upper":`, `"upper":{"code":"D","at":"0 °"},"upper":`), `"by_name": not of the exchange form: the key "upper" twice`},
		{"wrong kind", change(`"count":2`, `"count":2.5`), `"count": not of the exchange form: 2.5; write a whole number`},
		{"text for a decimal", change(`"1.5"`, `""`), `"factor": not of the exchange form: ""; write a number in quotes`},
		{"bytes that are no text", change(`"count":2`, "\"count\":\"\x86\""), "\"count\": not of the exchange form: \"\uFFFD\"; write a whole number"},
		{"number for a quantity", change(`"60.012 mm"`, `60.012`), `pair, "size": length: no unit: JSON 60.012`},
		{"wrong dimension", change(`"60.012 mm"`, `"60 N"`), `a unit of force where a length is wanted`},
		{"list for an object", change(`{"upper":{"code":"D","at":"0 °"}}`, `[]`), `"by_name": not of the exchange form: no object`},
		{"object for a list", change(`["1 mm","2 mm"]`, `{}`), `"ends": not of the exchange form: no list`},
		{"empty object", `{}`, `no key "name"`},
		{"list", `[]`, `pair: not of the exchange form: no object; write a JSON object`},
		{"text", `"x"`, `no object`},
		{"null", `null`, `no object`},
		{"nothing", ``, `no object`},
		{"cut off", pairJSON[:len(pairJSON)-1], `not of the exchange form`},
		{"text behind", pairJSON + ` {}`, `text behind the object: "{}"`},
		{"deep", change(`"count":2`, `"count":`+deep("[", "]", 100_000)), `more than 64 objects or lists in one another`},
		{"brackets in text are not depth", change(`"main 3"`, `"\"`+strings.Repeat("[", 100)+`"`) + "x", `text behind`},
	} {
		t.Run(test.name, func(t *testing.T) {
			p := pair{Name: "as it was"}
			err := DecodeObject([]byte(test.text), &p)
			if err == nil || !strings.Contains(err.Error(), test.says) {
				t.Errorf("%v\nwant it to say %s", err, test.says)
			}
			if e, ok := errors.AsType[*Error](err); !ok || e.Fix == "" {
				if _, ok := errors.AsType[*Error](err); !ok {
					t.Errorf("%v has no advice", err)
				}
			}
			if p.Name != "as it was" || p.Count != 0 || p.Parts != nil {
				t.Errorf("it left %+v", p)
			}
		})
	}
	panics(t, "units: DecodeObject into a units.pair; give a pointer to a struct", func() { DecodeObject([]byte(`{}`), pair{}) })
}

// A tree is what a hostile text would be deep in.
type tree struct {
	Below []tree `json:"below"`
}

func (w *tree) UnmarshalJSON(data []byte) error { return DecodeObject(data, w) }

// A megabyte of objects in one another is refused before any is read, which would
// take the square of its length; one as wide is read.
func TestDecodeObjectIsBounded(t *testing.T) {
	const n = 1 << 16
	var w tree
	if err := DecodeObject([]byte(strings.Repeat(`{"below":[`, n)+strings.Repeat(`]}`, n)), &w); !errors.Is(err, ErrNotWritten) {
		t.Error(err)
	}
	wide := `{"below":[` + strings.Repeat(`{"below":null},`, n) + `{"below":null}]}`
	if err := DecodeObject([]byte(wide), &w); err != nil || len(w.Below) != n+1 {
		t.Errorf("%d, %v", len(w.Below), err)
	}
	many := `{"below":null` + strings.Repeat(`,"x":1`, n) + `}`
	if err := DecodeObject([]byte(many), &w); !errors.Is(err, ErrNotWritten) {
		t.Error(err)
	}
}

func FuzzDecodeObject(f *testing.F) {
	f.Add(pairJSON)
	f.Add(`{"name":null}`)
	f.Fuzz(func(t *testing.T, text string) {
		var p pair
		if err := DecodeObject([]byte(text), &p); err != nil {
			return
		}
		written, err := json.Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
		var back pair
		if err := DecodeObject(written, &back); err != nil {
			t.Fatalf("%q is read and written as %s, which is refused: %v", text, written, err)
		}
		if again, err := json.Marshal(back); err != nil || string(again) != string(written) {
			t.Fatalf("%s comes back as %s, %v", written, again, err)
		}
	})
}
