package grading_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"example.com/closefit/grading"
	"example.com/closefit/grading/purchase"
	"example.com/closefit/units"
)

func counts(t testing.TB, texts ...string) []count {
	t.Helper()
	var list []count
	for _, text := range texts {
		number, part, _ := strings.Cut(text, " × ")
		n := decimal.RequireFromString(number).IntPart()
		list = append(list, count{Part: mustPart(part), N: int(n)})
	}
	return list
}

func pack(t testing.TB, name, price string, parts ...string) box {
	t.Helper()
	return box{Name: name, Price: new(decimal.RequireFromString(price)), Parts: counts(t, parts...)}
}

func limited(p box, n int) box {
	p.Limit = new(n)
	return p
}

func TestBuyErrors(t *testing.T) {
	part := mustPart
	good := pack(t, "good", "5", "1 × A upper")
	tests := []struct {
		name  string
		order order
		kind  error
		says  string
	}{
		{"a pack of nothing", order{Packs: []box{good, pack(t, "bare", "5")}}, purchase.ErrRequest, `pack 2, "bare"`},
		{"a pack of none", order{Packs: []box{pack(t, "none", "5", "0 × A upper")}}, purchase.ErrRequest, `pack 1, "none"`},
		{"fewer than none", order{Packs: []box{pack(t, "minus", "5", "-1 × A upper", "3 × B upper")}}, purchase.ErrRequest, "-1 × A upper"},
		{"no grade", order{Packs: []box{{Name: "x", Parts: []count{{N: 1}}}}}, purchase.ErrRequest, `"x"`},
		{"no price", order{Packs: []box{good, {Name: "unpriced", Parts: counts(t, "1 × A upper")}}}, purchase.ErrRequest, `pack 2, "unpriced": not a request that can be used: no price; write the price of one pack, 0 if it is free`},
		{"a negative price", order{Packs: []box{pack(t, "gift", "-0.01", "1 × A upper")}}, purchase.ErrRequest, `"gift": not a request that can be used: a price of -0.01`},
		{"a name twice", order{Packs: []box{good, good}}, purchase.ErrRequest, "pack 1 has the same name"},
		{"a negative limit", order{Packs: []box{limited(good, -2)}}, purchase.ErrRequest, "a limit of -2"},
		{"an absurd price", order{Packs: []box{pack(t, "x", "1e40", "1 × A upper")}}, purchase.ErrTooLarge, "exponent of 40"},
		{"prices too far apart", order{Packs: []box{good, pack(t, "x", "0.00000000001", "1 × A upper")}}, purchase.ErrTooLarge, "as fine as 0.00000000001"},
		{"an absurd make-up", order{Packs: []box{pack(t, "x", "1", "100001 × A upper")}}, purchase.ErrTooLarge, "100001"},
		{"an absurd make-up in two lines", order{Packs: []box{pack(t, "x", "1", "60000 × A upper", "60000 × A upper")}}, purchase.ErrTooLarge, "120000"},
		{"demand that wraps round", order{Demand: []count{{Part: part("A upper"), N: math.MaxInt}, {Part: part("A upper"), N: math.MaxInt}}}, purchase.ErrTooLarge, "need of A upper"},
		{"prices that do not add up", tooMuch(t), purchase.ErrTooLarge, "the price of all that could be bought"},
		{"negative demand", order{Demand: counts(t, "2 × B upper", "-1 × A upper")}, purchase.ErrRequest, "need of A upper"},
		{"negative stock", order{Stock: counts(t, "-3 × A lower")}, purchase.ErrRequest, "stock of A lower"},
		{"absurd demand in two lines", order{Demand: counts(t, "60000 × A upper", "60000 × A upper")}, purchase.ErrTooLarge, "120000"},
		{"no pack serves", order{Demand: counts(t, "2 × B upper", "1 × A upper"), Stock: counts(t, "1 × B upper"), Packs: []box{good}},
			purchase.ErrUnserved, "B upper: 2 wanted, 1 to be had; no pack on sale holds it"},
		{"not enough packs", order{Demand: counts(t, "3 × A upper"), Packs: []box{limited(good, 2)}},
			purchase.ErrUnserved, "A upper: 3 wanted, 2 to be had; the packs on sale that hold it are not enough"},
		{"two that compete for one substitute", order{
			Demand: counts(t, "2 × A upper", "1 × B upper", "1 × C upper"), Packs: []box{good, limited(pack(t, "d", "1", "1 × D upper"), 1)},
			Substitutes: []substitute{
				{For: mustPart("B upper"), Use: mustPart("D upper")},
				{For: mustPart("C upper"), Use: mustPart("D upper")}}},
			purchase.ErrUnserved, "B upper and C upper: 2 wanted, 1 to be had"},
		{"a part that has been moved over already", order{
			Demand: counts(t, "1 × X", "1 × U", "1 × V"), Stock: counts(t, "1 × X", "2 × Y"),
			Substitutes: []substitute{{For: part("X"), Use: part("Y")}, {For: part("U"), Use: part("X")}, {For: part("V"), Use: part("X")}}},
			purchase.ErrUnserved, "U and V: 2 wanted, 1 to be had"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			p, err := buy(t.Context(), test.order)
			if p != nil || !errors.Is(err, test.kind) || !strings.Contains(err.Error(), test.says) {
				t.Errorf("%v with error %v; want kind %v saying %q", p, err, test.kind, test.says)
			}
			if _, err := choose(t.Context(), nil, test.order); !errors.Is(err, test.kind) {
				t.Errorf("Choose: error %v; want kind %v", err, test.kind)
			}
		})
	}
}

// tooMuch is an order whose numbers are each within bounds, but not their sum.
func tooMuch(t testing.TB) order {
	var o order
	for i := range 40 {
		want := grading.Part{Grade: fmt.Sprint(i)}
		o.Demand = append(o.Demand, count{Part: want, N: 100_000})
		o.Substitutes = append(o.Substitutes, substitute{For: want, Use: mustPart("fits all")})
	}
	for j := range 300 { // each holds something of its own, so that none is better than another
		own := fmt.Sprint("own ", j)
		o.Demand = append(o.Demand, count{Part: mustPart(own), N: 100_000})
		o.Packs = append(o.Packs, pack(t, fmt.Sprint("pack ", j), fmt.Sprint(int64(9_999_999_000)+int64(j)), "1 × fits all", "1 × "+own))
	}
	return o
}

// A limit that never binds, however large, is as none.
func TestBuyWithVastLimits(t *testing.T) {
	o := order{Demand: counts(t, "3 × A upper"), Packs: []box{limited(pack(t, "two", "5", "2 × A upper"), math.MaxInt)}}
	p, err := buy(t.Context(), o)
	if err != nil || boughtText(p.Packs) != "2 × two" {
		t.Errorf("%v, %v", p, err)
	}
}

func TestPackErrorNamesThePlace(t *testing.T) {
	_, err := buy(t.Context(), order{Packs: []box{pack(t, "a", "1", "1 × A upper"), pack(t, "b", "1")}})
	e, ok := errors.AsType[*units.Error](err)
	if !ok || e.Where != `pack 2, "b"` || e.Fix != "write which parts it holds, and how many of each" {
		t.Errorf("%#v", err)
	}
}

func TestBuyTies(t *testing.T) {
	tests := []struct {
		name  string
		order order
		want  string
	}{
		{"the cheaper", order{Demand: counts(t, "2 × A upper"), Packs: []box{
			pack(t, "one", "3.00", "1 × A upper"), pack(t, "two", "5.99", "2 × A upper")}}, "1 × two"},
		{"fewest left over", order{Demand: counts(t, "2 × A upper"), Packs: []box{
			pack(t, "three", "6.00", "3 × A upper"), pack(t, "one", "3.00", "1 × A upper")}}, "2 × one"},
		{"fewest packs", order{Demand: counts(t, "2 × A upper"), Packs: []box{
			pack(t, "one", "3.00", "1 × A upper"), pack(t, "two", "6.00", "2 × A upper")}}, "1 × two"},
		{"the earlier", order{Demand: counts(t, "2 × A upper"), Packs: []box{
			pack(t, "late", "6.00", "2 × A upper"), pack(t, "later", "6.00", "2 × A upper")}}, "1 × late"},
		{"the earlier together", order{Demand: counts(t, "5 × A upper"), Packs: []box{
			limited(pack(t, "three", "6", "3 × A upper"), 1), limited(pack(t, "two", "4", "2 × A upper"), 1),
			pack(t, "four", "8", "4 × A upper"), limited(pack(t, "one", "2", "1 × A upper"), 1)}}, "1 × three, 1 × two"},
		// P and Q each serve alone and leave one over. In P one B upper stands in for an
		// A upper (place 1 in its list) and one for the B lower (place 2), in Q three for
		// A upper (place 1 each): 3 for both. The search meets Q first.
		{"the earlier, met later", order{Demand: counts(t, "3 × A upper", "1 × B lower"), Packs: []box{
			pack(t, "P", "5.00", "2 × A upper", "1 × A lower", "2 × B upper"), pack(t, "Q", "5.00", "3 × B upper", "2 × B lower"),
			pack(t, "R", "5.00", "2 × A upper", "3 × B lower"), pack(t, "S", "5.00", "2 × A lower", "3 × B lower")},
			Substitutes: []substitute{
				{For: mustPart("A upper"), Use: mustPart("B upper")},
				{For: mustPart("B lower"), Use: mustPart("A upper")},
				{For: mustPart("B lower"), Use: mustPart("B upper")}}}, "1 × P"},
		{"the part itself, though it stands later", order{Demand: counts(t, "1 × B upper"), Packs: []box{
			pack(t, "A", "2", "1 × A upper"), pack(t, "B", "2", "1 × B upper")},
			Substitutes: []substitute{{For: mustPart("B upper"), Use: mustPart("A upper")}}}, "1 × B"},
		{"what is free is not bought in vain", order{Demand: counts(t, "1 × A upper"), Packs: []box{
			pack(t, "free", "0", "1 × A upper"), pack(t, "free lower", "0", "1 × A lower")}}, "1 × free"},
		{"the stock serves", order{Demand: counts(t, "1 × A upper"), Stock: counts(t, "1 × A upper"), Packs: []box{
			pack(t, "one", "3.00", "1 × A upper")}}, ""},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			p, err := buy(t.Context(), test.order)
			if err != nil {
				t.Fatal(err)
			}
			if got := boughtText(p.Packs); got != test.want {
				t.Errorf("bought %q, want %q", got, test.want)
			}
			plan, err := choose(t.Context(), nil, test.order)
			if err != nil {
				t.Fatal(err)
			}
			if got := boughtText(plan.Purchase.Packs); got != test.want {
				t.Errorf("Choose bought %q, want %q", got, test.want)
			}
		})
	}
}

func boughtText(packs []purchase.Bought[grading.Part]) string {
	texts := make([]string, len(packs))
	for i, b := range packs {
		texts[i] = decimal.NewFromInt(int64(b.N)).String() + " × " + b.Pack.Name
	}
	return strings.Join(texts, ", ")
}

// What stands in for a part is used where it saves something, and no more of it
// than that.
func TestBuySubstitutes(t *testing.T) {
	upper, lower := mustPart("A upper"), mustPart("A lower")
	o := order{
		Demand:      counts(t, "1 × A upper", "1 × A lower", "1 × B upper"),
		Packs:       []box{pack(t, "four", "0.70", "2 × A upper", "1 × A lower", "1 × B upper")},
		Substitutes: []substitute{{For: lower, Use: upper}},
	}
	p, err := buy(t.Context(), o)
	if err != nil {
		t.Fatal(err)
	}
	for _, u := range usesOf(o, p) {
		if u.For != u.Use || u.N != 1 {
			t.Errorf("%d × %s for %s, without need", u.N, u.Use, u.For)
		}
	}
	if len(p.Leftover) != 1 || p.Leftover[0] != (count{Part: upper, N: 1}) {
		t.Errorf("left over: %v", p.Leftover)
	}

	o.Packs = append(o.Packs, pack(t, "two", "0.30", "1 × A upper", "1 × B upper"), pack(t, "upper", "0.20", "1 × A upper"))
	p, err = buy(t.Context(), o)
	if err != nil || boughtText(p.Packs) != "1 × two, 1 × upper" {
		t.Fatalf("%v, %v", p, err)
	}
	if !slices.Contains(usesOf(o, p), use{For: lower, Use: upper, N: 1}) || !strings.Contains(p.Working().Text(), "A lower: 1 served by A upper") {
		t.Errorf("uses %v", usesOf(o, p))
	}
}

// What was found until then is the answer, with the gap that is proven.
func TestBuyCanBeCancelled(t *testing.T) {
	reason := errors.New("the user went home")
	ctx, cancel := context.WithCancelCause(context.Background())
	cancel(reason)
	if p, err := buy(ctx, mixedOrder(1, 10, 20, 12)); !errors.Is(err, reason) || p == nil || p.Gap.Sign() <= 0 || p.Unproven != "price" {
		t.Errorf("%v with error %v", p, err)
	}
	// Once under way, from the first report of progress.
	ctx, cancel = context.WithCancelCause(context.Background())
	defer cancel(nil)
	for seed := range uint64(200) {
		o := mixedOrder(seed, 10, 20, 24)
		told := false
		o.Progress = func(aim string, examined, open int) {
			told = aim != "" && examined > 0
			cancel(reason)
		}
		p, err := buy(ctx, o)
		if told {
			if p == nil || !errors.Is(err, reason) || p.Unproven == "" {
				t.Errorf("%v with error %v", p, err)
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	t.Error("no order took long enough for a report")
}
