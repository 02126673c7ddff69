package purchase_test

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"example.com/closefit/grading/purchase"
	"example.com/closefit/units"
)

// A name is a part.
type name string

func (n name) String() string { return string(n) }

type (
	need        = purchase.Need[name]
	alternative = purchase.Alternative[name]
	pack        = purchase.Pack[name]
	some        = purchase.Count[name]
)

var few = []name{"A", "B", "C"}

// drawOrder draws an order small enough to try every purchase.
func drawOrder(t *rapid.T) order {
	var o order
	for i := range rapid.IntRange(0, 4).Draw(t, "needs") {
		n := need{Name: fmt.Sprint("need ", i), N: rapid.IntRange(0, 4).Draw(t, "n")}
		for range rapid.IntRange(1, 3).Draw(t, "alternatives") {
			w := alternative{Distance: units.Micrometre.OfInt(rapid.Int64Range(0, 3).Draw(t, "distance"))}
			for range rapid.IntRange(1, 2).Draw(t, "parts") {
				w.Parts = append(w.Parts, rapid.SampledFrom(few).Draw(t, "part"))
			}
			n.Alternatives = append(n.Alternatives, w)
		}
		o.Needs = append(o.Needs, n)
	}
	for _, p := range few {
		if n := rapid.IntRange(-3, 3).Draw(t, "stock"); n > 0 {
			o.Stock = append(o.Stock, some{Part: p, N: n})
		}
	}
	scale := rapid.SampledFrom([]int64{1, 5, 10}).Draw(t, "scale")
	for i := range rapid.IntRange(0, 4).Draw(t, "packs") {
		p := pack{Name: fmt.Sprint("pack ", i), Price: new(decimal.New(scale*rapid.Int64Range(0, 12).Draw(t, "price"), -2))}
		for _, part := range few {
			if n := rapid.IntRange(-2, 4).Draw(t, "holds"); n > 0 {
				p.Parts = append(p.Parts, some{Part: part, N: n})
			}
		}
		if len(p.Parts) == 0 {
			p.Parts = []some{{Part: few[i%3], N: 2}}
		}
		if rapid.Bool().Draw(t, "limited") {
			p.Limit = new(rapid.IntRange(0, 3).Draw(t, "limit"))
		}
		o.Packs = append(o.Packs, p)
	}
	return o
}

// slow tries every set of packs, and for each whether it serves: the plain reference.
func slow(o order) (least decimal.Decimal, ok bool) {
	supply := map[name]int{}
	for _, s := range o.Stock {
		supply[s.Part] += s.N
	}
	var places [][]alternative
	for _, n := range o.Needs {
		for range n.N {
			places = append(places, n.Alternatives)
		}
	}
	most := 2 * len(places)
	var buy func(j int, cost decimal.Decimal)
	buy = func(j int, cost decimal.Decimal) {
		if ok && !cost.LessThan(least) {
			return
		}
		if j == len(o.Packs) {
			if serves(places, supply, map[string]bool{}) {
				least, ok = cost, true
			}
			return
		}
		p := o.Packs[j]
		limit := 0
		for _, c := range p.Parts {
			limit = max(limit, (most+c.N-1)/c.N)
		}
		if p.Limit != nil {
			limit = min(limit, *p.Limit)
		}
		for n := 0; n <= limit; n++ {
			buy(j+1, cost.Add(p.Price.Mul(decimal.NewFromInt(int64(n)))))
			for _, c := range p.Parts {
				supply[c.Part] += c.N
			}
		}
		for _, c := range p.Parts {
			supply[c.Part] -= (limit + 1) * c.N
		}
	}
	buy(0, decimal.Zero)
	return least, ok
}

// serves reports whether the supply serves all places; vain holds what does not.
func serves(places [][]alternative, supply map[name]int, vain map[string]bool) bool {
	if len(places) == 0 {
		return true
	}
	state := fmt.Sprint(len(places), supply)
	if vain[state] {
		return false
	}
	for _, w := range places[0] {
		there := true
		for _, p := range w.Parts {
			supply[p]--
			there = there && supply[p] >= 0
		}
		there = there && serves(places[1:], supply, vain)
		for _, p := range w.Parts {
			supply[p]++
		}
		if there {
			return true
		}
	}
	vain[state] = true
	return false
}

func TestCheapestAgainstEveryPurchase(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawOrder(t)
		least, ok := slow(o)
		p, err := purchase.Cheapest(context.Background(), o)
		if !ok {
			if !errors.Is(err, purchase.ErrUnserved) {
				t.Fatalf("%v with error %v, where nothing serves", p, err)
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		if !p.Price.Equal(least) || p.Unproven != "" || p.Gap.Sign() != 0 {
			t.Fatalf("%s with a gap of %s, %q unproven; %s is the least", p.Price, p.Gap, p.Unproven, least)
		}
		keeps(t, o, p)
		if err := refute(o, p.Proof); err != nil {
			t.Fatalf("the proof does not hold: %v\n%s", err, p.Working().Text())
		}
	})
}

// keeps checks that a purchase serves its order, and says rightly what it comes to.
func keeps(t interface{ Fatalf(string, ...any) }, o order, p *purchase.Purchase[name]) {
	left := map[name]int{}
	for _, s := range o.Stock {
		left[s.Part] += s.N
	}
	price := decimal.Zero
	for _, b := range p.Packs {
		price = price.Add(b.Pack.Price.Mul(decimal.NewFromInt(int64(b.N))))
		for _, c := range b.Pack.Parts {
			left[c.Part] += b.N * c.N
		}
		if b.Pack.Limit != nil && b.N > *b.Pack.Limit {
			t.Fatalf("%d of %s", b.N, b.Pack.Name)
		}
	}
	var distance units.Length
	for i, n := range o.Needs {
		served := 0
		for _, s := range p.Served {
			if s.Need != i {
				continue
			}
			served += s.N
			distance = distance.Add(n.Alternatives[s.Alternative].Distance.MulInt(int64(s.N)))
			for _, part := range n.Alternatives[s.Alternative].Parts {
				left[part] -= s.N
			}
			if s.Name != n.Name || !slices.Equal(s.Parts, n.Alternatives[s.Alternative].Parts) || s.N <= 0 {
				t.Fatalf("%v serves %v", s, n)
			}
		}
		if served != n.N {
			t.Fatalf("%s: %d of %d served", n.Name, served, n.N)
		}
	}
	for _, c := range p.Leftover {
		if c.N <= 0 {
			t.Fatalf("%s left over", c)
		}
		left[c.Part] -= c.N
	}
	for part, n := range left {
		if n != 0 {
			t.Fatalf("%s: %d unaccounted for", part, n)
		}
	}
	if !price.Equal(p.Price) || !distance.Equal(p.Distance) || p.Gap.Sign() < 0 {
		t.Fatalf("%s at %s with a gap of %s; it comes to %s at %s", p.Price, p.Distance, p.Gap, price, distance)
	}
}

// mixed is an order at random of the size that people have.
func mixed(seed uint64, parts, packs, most int) order {
	r := rand.New(rand.NewPCG(seed, 3))
	part := func(i int) name { return name(fmt.Sprint("part ", i)) }
	var o order
	for i := range parts {
		o.Needs = append(o.Needs, need{Name: part(i).String(), N: r.IntN(most + 1), Alternatives: []alternative{{Parts: []name{part(i)}}}})
	}
	for j := range packs {
		p := pack{Name: fmt.Sprint("pack ", j), Price: new(decimal.New(500+r.Int64N(3000), -2))}
		for _, i := range append(r.Perm(parts)[:min(parts, 1+r.IntN(3))], j%parts) {
			p.Parts = append(p.Parts, some{Part: part(i), N: 1 + r.IntN(6)})
		}
		o.Packs = append(o.Packs, p)
	}
	for j := packs; j < parts; j++ {
		o.Packs = append(o.Packs, pack{Name: fmt.Sprint("single ", j), Price: new(decimal.New(2500, -2)), Parts: []some{{Part: part(j), N: 1}}})
	}
	return o
}

// tight is an order at random of one or two parts, whose packs cost nearly the same
// for each part: many cases are nearly the best.
func tight(seed uint64) order {
	r := rand.New(rand.NewPCG(seed, 5))
	parts := 1 + max(0, r.IntN(3)-1)
	var o order
	for i := range parts {
		part := name(fmt.Sprint("part ", i))
		o.Needs = append(o.Needs, need{Name: part.String(), N: 40 + r.IntN(40), Alternatives: []alternative{{Parts: []name{part}}}})
	}
	for j := range 3 + r.IntN(4) {
		p := pack{Name: fmt.Sprint("pack ", j)}
		for i := range parts {
			if n := r.IntN(17); n > 0 || i == 0 {
				p.Parts = append(p.Parts, some{Part: name(fmt.Sprint("part ", i)), N: 3 + n})
			}
		}
		price := int64(0)
		for _, c := range p.Parts {
			price += int64(100*c.N) + r.Int64N(15)
		}
		p.Price = new(decimal.New(price, -2))
		if r.IntN(4) == 0 {
			p.Limit = new(1 + r.IntN(5))
		}
		o.Packs = append(o.Packs, p)
	}
	return o
}

func TestLargerProofsHold(t *testing.T) {
	kinds := map[string]int{}
	for seed := range uint64(230) {
		o := mixed(seed, 1+int(seed%10), 1+int(seed%13), 3+int(seed%17))
		if seed >= 150 {
			o = tight(seed)
		}
		if seed < 150 && seed%3 == 0 {
			o.Needs[0].Alternatives = append(o.Needs[0].Alternatives, alternative{Parts: []name{"part 1", "part 0"}}, alternative{Parts: []name{"part 2"}, Distance: units.Micrometre.OfInt(2)})
			o.Packs = append(o.Packs, pack{Name: "more", Price: new(decimal.New(1234, -2)), Parts: []some{{Part: "part 1", N: 3}, {Part: "part 2", N: 1}}})
		}
		if seed < 150 && seed%4 == 1 {
			for j := range o.Packs {
				o.Packs[j].Limit = new(30)
			}
			o.Packs[0].Limit = new(1)
		}
		p, err := purchase.Cheapest(t.Context(), o)
		if errors.Is(err, purchase.ErrUnserved) {
			continue
		}
		if err != nil || p.Gap.Sign() != 0 {
			t.Fatal(seed, err)
		}
		keeps(t, o, p)
		if err := refute(o, p.Proof); err != nil {
			t.Fatalf("seed %d: the proof does not hold: %v", seed, err)
		}
		for _, c := range p.Proof.Components {
			switch {
			case c.Prices != nil:
				kinds["table"]++
			case len(c.Cases) > 1:
				kinds["cases"]++
			default:
				kinds["one case"]++
			}
		}
	}
	for _, kind := range []string{"table", "cases", "one case"} {
		if kinds[kind] < 5 {
			t.Errorf("%d proofs by %s", kinds[kind], kind)
		}
	}
}

// figures returns every number, word and list of a value that can be altered.
func figures(v reflect.Value, found *[]reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			figures(v.Elem(), found)
		}
	case reflect.Struct:
		if t := v.Type(); t == reflect.TypeFor[decimal.Decimal]() || t == reflect.TypeFor[units.Length]() {
			*found = append(*found, v)
			return
		}
		for i := range v.NumField() {
			figures(v.Field(i), found)
		}
	case reflect.Slice:
		if v.Len() > 0 {
			*found = append(*found, v)
		}
		for i := range v.Len() {
			figures(v.Index(i), found)
		}
	default:
		*found = append(*found, v)
	}
}

// What the third person takes is true, however a proof was altered: nothing costs less
// than it says. Nearly every alteration is noticed; a component that says nothing may be
// left out, and a worth that no line depends on may be another one.
func TestAlteredProofsProveNothingFalse(t *testing.T) {
	altered, taken := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		var o order
		switch rapid.SampledFrom([]string{"small", "large", "tight"}).Draw(t, "order") {
		case "large":
			o = mixed(rapid.Uint64Range(0, 1<<20).Draw(t, "seed"), rapid.IntRange(1, 6).Draw(t, "parts"), rapid.IntRange(1, 8).Draw(t, "packs"), 9)
		case "tight":
			o = tight(rapid.Uint64Range(0, 1<<20).Draw(t, "seed"))
		default:
			o = drawOrder(t)
		}
		p, err := purchase.Cheapest(context.Background(), o)
		if err != nil {
			return
		}
		proof, before := p.Proof, asJSON(p.Proof)
		for range rapid.SampledFrom([]int{1, 1, 1, 2, 4}).Draw(t, "alterations") {
			alter(t, &proof)
		}
		proof.Examined = p.Proof.Examined
		if asJSON(proof) == before {
			return
		}
		altered++
		if refute(o, proof) == nil {
			taken++
			if proof.Least.GreaterThan(p.Price) {
				t.Fatalf("the third person took it:\n%s", asJSON(proof))
			}
		}
	})
	if altered == 0 || taken*10 > altered {
		t.Errorf("%d of %d altered proofs taken", taken, altered)
	}
}

func asJSON(v any) string {
	text, err := json.MarshalIndent(v, "", " ")
	return fmt.Sprint(string(text), err)
}

// alter alters a figure, or a list.
func alter(t *rapid.T, p *proof) {
	var found []reflect.Value
	figures(reflect.ValueOf(p).Elem(), &found)
	at := found[rapid.IntRange(0, len(found)-1).Draw(t, "figure")]
	switch {
	case at.Type() == reflect.TypeFor[decimal.Decimal]():
		at.Set(reflect.ValueOf(at.Interface().(decimal.Decimal).Add(decimal.New(rapid.SampledFrom([]int64{-1, 1, 100}).Draw(t, "by"), -2))))
	case at.Type() == reflect.TypeFor[units.Length]():
		at.Set(reflect.ValueOf(at.Interface().(units.Length).Add(units.Micrometre.OfInt(1))))
	case at.Kind() == reflect.Int || at.Kind() == reflect.Int64:
		at.SetInt(at.Int() + rapid.SampledFrom([]int64{-1, 1, 7}).Draw(t, "by"))
	case at.Kind() == reflect.String:
		at.SetString(at.String() + "x")
	case at.Len() > 0 && rapid.Bool().Draw(t, "twice"):
		at.Set(reflect.Append(at, at.Index(0)))
	case at.Len() > 0:
		at.Set(at.Slice(0, at.Len()-1))
	}
}

// The context has ended before the search begins: there is an answer all the same,
// with a bound that holds.
func TestNoTimeAtAll(t *testing.T) {
	reason := errors.New("closing time")
	ctx, cancel := context.WithCancelCause(t.Context())
	cancel(reason)
	past, cancelPast := context.WithDeadline(t.Context(), time.Now().Add(-time.Hour))
	defer cancelPast()
	gaps := 0
	rapid.Check(t, func(t *rapid.T) {
		o := drawOrder(t)
		if rapid.Bool().Draw(t, "large") {
			o = mixed(rapid.Uint64Range(0, 1<<20).Draw(t, "seed"), 10, 20, 15)
		}
		whole, err := purchase.Cheapest(context.Background(), o)
		if err != nil {
			return
		}
		for _, ctx := range []context.Context{ctx, past} {
			p, err := purchase.Cheapest(ctx, o)
			if err != nil && !errors.Is(err, context.Cause(ctx)) {
				t.Fatal(err)
			}
			if p == nil {
				if singleAlternatives(o) {
					t.Fatalf("no answer, where %s serves", whole.Price)
				}
				continue
			}
			keeps(t, o, p)
			if err := refute(o, p.Proof); err != nil {
				t.Fatalf("the proof of the bound does not hold: %v", err)
			}
			if p.Proof.Least.GreaterThan(whole.Price) || p.Price.LessThan(whole.Price) {
				t.Fatalf("%s, at least %s; the cheapest costs %s", p.Price, p.Proof.Least, whole.Price)
			}
			if (p.Unproven == "") != (err == nil) {
				t.Fatalf("%q unproven with error %v", p.Unproven, err)
			}
			if p.Gap.Sign() > 0 {
				gaps++
			}
		}
	})
	if gaps == 0 {
		t.Error("no answer had a gap: the test shows nothing")
	}
}

func TestOrdinaryOrders(t *testing.T) {
	a := []alternative{{Parts: []name{"A"}}}
	two := pack{Name: "two", Price: new(decimal.New(5, 0)), Parts: []some{{Part: "A", N: 2}}}
	free := pack{Name: "free", Price: new(decimal.Zero), Parts: []some{{Part: "A", N: 1}}}
	dear := pack{Name: "dear", Price: new(decimal.New(6, 0)), Parts: []some{{Part: "A", N: 2}}}
	other := pack{Name: "other", Price: new(decimal.New(1, 0)), Parts: []some{{Part: "B", N: 1}}}
	none := pack{Name: "none", Price: new(decimal.New(1, 0)), Limit: new(0), Parts: []some{{Part: "A", N: 9}}}
	tests := []struct {
		name   string
		order  order
		bought string
		price  string
		lines  string // of the proof
	}{
		{"nothing at all", order{}, "", "0", ""},
		{"nothing needed", order{Packs: []pack{two}}, "", "0", ""},
		{"none of it needed", order{Needs: []need{{Name: "A", Alternatives: a}}, Packs: []pack{two}}, "", "0", ""},
		{"the stock serves", order{Needs: []need{{Name: "A", N: 2, Alternatives: a}}, Stock: []some{{Part: "A", N: 2}}, Packs: []pack{two}}, "", "0", ""},
		{"even packs, odd need", order{Needs: []need{{Name: "A", N: 3, Alternatives: a}}, Packs: []pack{two}}, "2 two", "10", "[[two]]"},
		{"two needs of one part", order{Needs: []need{{Name: "main 1", N: 1, Alternatives: a}, {Name: "main 2", N: 2, Alternatives: a}}, Packs: []pack{two}}, "2 two", "10", "[[two]]"},
		{"stock in two lines", order{Needs: []need{{Name: "A", N: 4, Alternatives: a}}, Stock: []some{{Part: "A", N: 1}, {Part: "A", N: 1}}, Packs: []pack{two}}, "1 two", "5", "[[two]]"},
		{"a free pack, said so", order{Needs: []need{{Name: "A", N: 2, Alternatives: a}}, Packs: []pack{two, free}}, "2 free", "0", "[[two] [free]]"},
		{"all reasons", order{Needs: []need{{Name: "A", N: 2, Alternatives: a}}, Packs: []pack{dear, other, none, two}}, "1 two", "5",
			"[[two dear]]"},
		{"a need of two alike", order{Needs: []need{{Name: "pair", N: 2, Alternatives: []alternative{{Parts: []name{"A", "A"}}}}}, Packs: []pack{two}}, "2 two", "10", "[[two]]"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			p, err := purchase.Cheapest(t.Context(), test.order)
			if err != nil {
				t.Fatal(err)
			}
			var bought, lines []string
			for _, b := range p.Packs {
				bought = append(bought, fmt.Sprint(b.N, " ", b.Pack.Name))
			}
			for _, c := range p.Proof.Components {
				lines = append(lines, fmt.Sprint(c.Lines))
			}
			if got := strings.Join(bought, ", "); got != test.bought || p.Price.String() != test.price {
				t.Errorf("%s for %s; want %s for %s", got, p.Price, test.bought, test.price)
			}
			if got := strings.Join(lines, ", "); test.lines != got {
				t.Errorf("lines %s; want %s", got, test.lines)
			}
			keeps(t, test.order, p)
			if err := refute(test.order, p.Proof); err != nil {
				t.Errorf("the proof does not hold: %v", err)
			}
		})
	}
}

func TestWrongOrders(t *testing.T) {
	a := []alternative{{Parts: []name{"A"}}}
	good := pack{Name: "one", Price: new(decimal.New(5, 0)), Parts: []some{{Part: "A", N: 1}}}
	change := func(f func(p *pack)) []pack {
		p := good
		f(&p)
		return []pack{p}
	}
	tests := []struct {
		name  string
		order order
		kind  error
		says  string
	}{
		{"no price", order{Packs: change(func(p *pack) { p.Price = nil })}, purchase.ErrRequest, "write the price of one pack, 0 if it is free"},
		{"a price below zero", order{Packs: change(func(p *pack) { p.Price = new(decimal.New(-1, -2)) })}, purchase.ErrRequest, "-0.01"},
		{"an empty pack", order{Packs: change(func(p *pack) { p.Parts = nil })}, purchase.ErrRequest, "which parts it holds"},
		{"a pack of fewer than none", order{Packs: change(func(p *pack) { p.Parts = []some{{Part: "A", N: -1}} })}, purchase.ErrRequest, "-1 × A"},
		{"a name twice", order{Packs: []pack{good, good}}, purchase.ErrRequest, "pack 1 has the same name"},
		{"a need below zero", order{Needs: []need{{Name: "main 1", N: -1, Alternatives: a}}}, purchase.ErrRequest, "need of main 1"},
		{"stock below zero", order{Stock: []some{{Part: "A", N: -2}}}, purchase.ErrRequest, "stock of A"},
		{"a distance below zero", order{Needs: []need{{Name: "main 1", N: 1, Alternatives: []alternative{{Parts: []name{"A"}, Distance: units.Micrometre.OfInt(-1)}}}}, Packs: []pack{good}}, purchase.ErrRequest, "main 1"},
		{"a need without an alternative", order{Needs: []need{{Name: "main 1", N: 1}}, Packs: []pack{good}}, purchase.ErrUnserved, "main 1: 1 wanted, 0 to be had"},
		{"a part that nothing holds", order{Needs: []need{{Name: "main 1", N: 3, Alternatives: []alternative{{Parts: []name{"B"}}}}}, Packs: []pack{good}}, purchase.ErrUnserved, "main 1: 3 wanted, 0 to be had; no pack on sale holds it"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			p, err := purchase.Cheapest(t.Context(), test.order)
			if p != nil || !errors.Is(err, test.kind) || !strings.Contains(err.Error(), test.says) {
				t.Errorf("%v with error %v; want %v saying %q", p, err, test.kind, test.says)
			}
		})
	}
}

// singleAlternatives reports whether each alternative takes one part, so that there always is an
// answer.
func singleAlternatives(o order) bool {
	for _, n := range o.Needs {
		for _, w := range n.Alternatives {
			if len(w.Parts) > 1 {
				return false
			}
		}
	}
	return true
}
