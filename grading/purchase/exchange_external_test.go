package purchase_test

import (
	"context"
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/grading/purchase"
)

// A purchase that went through JSON still serves, and its proof holds. (The exchange form
// itself is checked in internal/exchange.)
func TestProofSurvivesJSON(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawOrder(t)
		p, err := purchase.Cheapest(context.Background(), o)
		if err != nil {
			return
		}
		text, err := json.Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
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

// depth is how often the first case of a list is divided down to its ends, at the most;
// more are the cases behind all that.
func depth(list []purchase.Case) (deep int, more []purchase.Case) {
	k, more := list[0], list[1:]
	if k.AtMost == nil {
		return 0, more
	}
	fewer, more := depth(more)
	above, more := depth(more)
	return 1 + max(fewer, above), more
}

// A proof whose cases are divided more than a hundred times, one within another, can be
// read back: far more than objects may stand in one another.
func TestDeepProofSurvivesJSON(t *testing.T) {
	o := mixed(4, 10, 20, 20_000)
	p, err := purchase.Cheapest(t.Context(), o)
	if err != nil || p.Gap.Sign() != 0 {
		t.Fatal(p, err)
	}
	deepest := 0
	for _, c := range p.Proof.Components {
		if c.Cases != nil {
			deep, _ := depth(c.Cases)
			deepest = max(deepest, deep)
		}
	}
	if deepest < 100 {
		t.Fatalf("divided %d times: look for another order", deepest)
	}
	text, err := json.Marshal(p.Proof)
	if err != nil {
		t.Fatal(err)
	}
	var back proof
	if err := json.Unmarshal(text, &back); err != nil {
		t.Fatal(err)
	}
	if err := refute(o, back); err != nil {
		t.Errorf("the proof does not hold any more: %v", err)
	}
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
		{"a price that would fill the memory", `{"name":"x","parts":null,"price":"1e999999999","limit":null}`, "write a number in quotes"},
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
