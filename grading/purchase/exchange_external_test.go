package purchase_test

import (
	"bytes"
	"context"
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/grading/purchase"
)

// survives checks that a value survives JSON, and that no key of it, nor of what lies in
// it, can be left out or written twice, and none added.
func survives[T any](t *rapid.T, value T) {
	text, err := json.Marshal(value)
	if err != nil {
		t.Fatal(err)
	}
	var back T
	if err := json.Unmarshal(text, &back); err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	if again, err := json.Marshal(back); err != nil || !bytes.Equal(again, text) {
		t.Fatalf("%v\n%s\nbecame\n%s", err, text, again)
	}
	var object any
	if err := json.Unmarshal(text, &object); err != nil {
		t.Fatal(err)
	}
	check := func(what string) {
		altered, err := json.Marshal(object)
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(altered, &back); err == nil {
			t.Fatalf("%s, and it was taken: %s", what, altered)
		}
	}
	// Of a small value every key in turn, of a large one some of them.
	var tries []func()
	eachObject(object, func(object map[string]any) {
		for key, value := range object {
			tries = append(tries, func() {
				delete(object, key)
				check("without " + key)
				object[key] = value
			})
		}
		tries = append(tries, func() {
			object["more"] = 1
			check("one key more")
			delete(object, "more")
		})
	})
	const most = 20
	from := rapid.IntRange(0, max(0, len(tries)-most)).Draw(t, "keys from")
	for _, try := range tries[from:min(len(tries), from+most)] {
		try()
	}
	if err := json.Unmarshal([]byte("{}"), &back); err == nil {
		t.Fatalf("{} is a %T", back)
	}
}

func eachObject(v any, do func(map[string]any)) {
	switch v := v.(type) {
	case map[string]any:
		for _, inner := range v {
			eachObject(inner, do)
		}
		do(v)
	case []any:
		for _, inner := range v {
			eachObject(inner, do)
		}
	}
}

func TestExchangeForm(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawOrder(t)
		survives(t, o)
		p, err := purchase.Cheapest(context.Background(), o)
		if err != nil {
			return
		}
		survives(t, *p)
		text, _ := json.Marshal(p)
		var back purchase.Purchase[name]
		if err := json.Unmarshal(text, &back); err != nil {
			t.Fatal(err)
		}
		keeps(t, o, &back)
		if err := refute(o, back.Proof); err != nil {
			t.Fatalf("the proof does not hold any more: %v", err)
		}
	})
}

// What progress is told to stays what it was: it is nothing that can be written.
func TestProgressIsNotExchanged(t *testing.T) {
	told := false
	o := order{Progress: func(string, int, int) { told = true }}
	if err := json.Unmarshal([]byte(`{"needs":null,"stock":null,"packs":null}`), &o); err != nil || o.Progress == nil {
		t.Fatal(err)
	}
	o.Progress("", 0, 0)
	if !told || !reflect.DeepEqual(o.Needs, []need(nil)) {
		t.Error("another progress, or needs")
	}
}

func TestExchangeErrors(t *testing.T) {
	tests := []struct{ name, text, says string }{
		{"a price that would fill the memory", `{"name":"x","parts":null,"price":"1e999999999","limit":null}`, "exponent 999999999 exceeds"},
		{"no price, not said", `{"name":"x","parts":null,"limit":null}`, `no key "price"`},
		{"a name that is none", `{"name":null,"parts":null,"price":"1","limit":null}`, `"name": not of the exchange form: null`},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			p := pack{Name: "as it was"}
			if err := json.Unmarshal([]byte(test.text), &p); err == nil || !strings.Contains(err.Error(), test.says) || p.Name != "as it was" {
				t.Errorf("%v with error %v", p, err)
			}
		})
	}
}
