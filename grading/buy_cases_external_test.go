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
)

func counts(t testing.TB, texts ...string) []grading.Count {
	t.Helper()
	var list []grading.Count
	for _, text := range texts {
		number, part, _ := strings.Cut(text, " × ")
		n := decimal.RequireFromString(number).IntPart()
		list = append(list, grading.Count{Part: grading.MustParsePart(part), N: int(n)})
	}
	return list
}

func pack(t testing.TB, name, price string, parts ...string) grading.Pack {
	t.Helper()
	return grading.Pack{Name: name, Price: new(decimal.RequireFromString(price)), Parts: counts(t, parts...)}
}

func limited(p grading.Pack, n int) grading.Pack {
	p.Limit = new(n)
	return p
}

func TestBuyErrors(t *testing.T) {
	part := grading.MustParsePart
	good := pack(t, "good", "5", "1 × A upper")
	tests := []struct {
		name  string
		order grading.Order
		kind  error
		says  string
	}{
		{"a pack of nothing", grading.Order{Packs: []grading.Pack{good, pack(t, "bare", "5")}}, purchase.ErrEmptyPack, `pack 2, "bare"`},
		{"a pack of none", grading.Order{Packs: []grading.Pack{pack(t, "none", "5", "0 × A upper")}}, purchase.ErrEmptyPack, `pack 1, "none"`},
		{"fewer than none", grading.Order{Packs: []grading.Pack{pack(t, "minus", "5", "-1 × A upper", "3 × B upper")}}, purchase.ErrNegativeCount, "-1 × A upper"},
		{"no grade", grading.Order{Packs: []grading.Pack{{Name: "x", Parts: []grading.Count{{N: 1}}}}}, grading.ErrNoGrade, `"x"`},
		{"no price", grading.Order{Packs: []grading.Pack{good, {Name: "unpriced", Parts: counts(t, "1 × A upper")}}}, purchase.ErrNoPrice, `pack 2, "unpriced": no price is stated: write what one pack costs, 0 if it is free`},
		{"a negative price", grading.Order{Packs: []grading.Pack{pack(t, "gift", "-0.01", "1 × A upper")}}, purchase.ErrPrice, `"gift": not a price: -0.01`},
		{"a name twice", grading.Order{Packs: []grading.Pack{good, good}}, grading.ErrDuplicate, "pack 1 has the same name"},
		{"a negative limit", grading.Order{Packs: []grading.Pack{limited(good, -2)}}, purchase.ErrNegativeCount, "-2 of them"},
		{"an absurd price", grading.Order{Packs: []grading.Pack{pack(t, "x", "1e40", "1 × A upper")}}, grading.ErrTooLarge, "exponent of 40"},
		{"prices too far apart", grading.Order{Packs: []grading.Pack{good, pack(t, "x", "0.00000000001", "1 × A upper")}}, grading.ErrTooLarge, "as fine as 0.00000000001"},
		{"an absurd make-up", grading.Order{Packs: []grading.Pack{pack(t, "x", "1", "100001 × A upper")}}, grading.ErrTooLarge, "100001"},
		{"an absurd make-up in two lines", grading.Order{Packs: []grading.Pack{pack(t, "x", "1", "60000 × A upper", "60000 × A upper")}}, grading.ErrTooLarge, "120000"},
		{"demand that wraps round", grading.Order{Demand: []grading.Count{{Part: part("A upper"), N: math.MaxInt}, {Part: part("A upper"), N: math.MaxInt}}}, grading.ErrTooLarge, "demand of A upper"},
		{"prices that do not add up", tooMuch(t), grading.ErrTooLarge, "the price of all that could be bought"},
		{"negative demand", grading.Order{Demand: counts(t, "2 × B upper", "-1 × A upper")}, purchase.ErrNegativeCount, "demand of A upper"},
		{"negative stock", grading.Order{Stock: counts(t, "-3 × A lower")}, purchase.ErrNegativeCount, "stock of A lower"},
		{"absurd demand in two lines", grading.Order{Demand: counts(t, "60000 × A upper", "60000 × A upper")}, grading.ErrTooLarge, "120000"},
		{"no pack serves", grading.Order{Demand: counts(t, "2 × B upper", "1 × A upper"), Stock: counts(t, "1 × B upper"), Packs: []grading.Pack{good}},
			purchase.ErrUnserved, "B upper: 2 wanted, 1 to be had; no pack on sale holds it"},
		{"not enough packs", grading.Order{Demand: counts(t, "3 × A upper"), Packs: []grading.Pack{limited(good, 2)}},
			purchase.ErrUnserved, "A upper: 3 wanted, 2 to be had; the packs on sale that hold it are not enough"},
		{"two that compete for one substitute", grading.Order{
			Demand: counts(t, "2 × A upper", "1 × B upper", "1 × C upper"), Packs: []grading.Pack{good, limited(pack(t, "d", "1", "1 × D upper"), 1)},
			Substitutes: []grading.Substitute{
				{For: grading.MustParsePart("B upper"), Use: grading.MustParsePart("D upper")},
				{For: grading.MustParsePart("C upper"), Use: grading.MustParsePart("D upper")}}},
			purchase.ErrUnserved, "B upper and C upper: 2 wanted, 1 to be had"},
		{"a part that has been moved over already", grading.Order{
			Demand: counts(t, "1 × X", "1 × U", "1 × V"), Stock: counts(t, "1 × X", "2 × Y"),
			Substitutes: []grading.Substitute{{For: part("X"), Use: part("Y")}, {For: part("U"), Use: part("X")}, {For: part("V"), Use: part("X")}}},
			purchase.ErrUnserved, "U and V: 2 wanted, 1 to be had"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			p, err := grading.Buy(t.Context(), test.order)
			if p != nil || !errors.Is(err, test.kind) || !strings.Contains(err.Error(), test.says) {
				t.Errorf("%v with error %v; want kind %v saying %q", p, err, test.kind, test.says)
			}
			if _, err := grading.Choose(t.Context(), nil, test.order); !errors.Is(err, test.kind) {
				t.Errorf("Choose: error %v; want kind %v", err, test.kind)
			}
		})
	}
}

// tooMuch is an order whose numbers are each within bounds, but not their sum.
func tooMuch(t testing.TB) grading.Order {
	var o grading.Order
	for i := range 40 {
		want := grading.Part{Grade: fmt.Sprint(i)}
		o.Demand = append(o.Demand, grading.Count{Part: want, N: 100_000})
		o.Substitutes = append(o.Substitutes, grading.Substitute{For: want, Use: grading.MustParsePart("fits all")})
	}
	for j := range 300 { // each holds something of its own, so that none is better than another
		own := fmt.Sprint("own ", j)
		o.Demand = append(o.Demand, grading.Count{Part: grading.MustParsePart(own), N: 100_000})
		o.Packs = append(o.Packs, pack(t, fmt.Sprint("pack ", j), fmt.Sprint(9_999_999_000+j), "1 × fits all", "1 × "+own))
	}
	return o
}

// A limit that never binds, however large, is as none.
func TestBuyWithVastLimits(t *testing.T) {
	o := grading.Order{Demand: counts(t, "3 × A upper"), Packs: []grading.Pack{limited(pack(t, "two", "5", "2 × A upper"), math.MaxInt)}}
	p, err := grading.Buy(t.Context(), o)
	if err != nil || boughtText(p.Packs) != "2 × two" {
		t.Errorf("%v, %v", p, err)
	}
}

func TestPackErrorNamesThePlace(t *testing.T) {
	_, err := grading.Buy(t.Context(), grading.Order{Packs: []grading.Pack{pack(t, "a", "1", "1 × A upper"), pack(t, "b", "1")}})
	e, ok := errors.AsType[*purchase.PackError](err)
	if !ok || e.Pack != "b" || e.Index != 1 {
		t.Errorf("%#v", err)
	}
}

func TestBuyTies(t *testing.T) {
	tests := []struct {
		name  string
		order grading.Order
		want  string
	}{
		{"the cheaper", grading.Order{Demand: counts(t, "2 × A upper"), Packs: []grading.Pack{
			pack(t, "one", "3.00", "1 × A upper"), pack(t, "two", "5.99", "2 × A upper")}}, "1 × two"},
		{"fewest left over", grading.Order{Demand: counts(t, "2 × A upper"), Packs: []grading.Pack{
			pack(t, "three", "6.00", "3 × A upper"), pack(t, "one", "3.00", "1 × A upper")}}, "2 × one"},
		{"fewest packs", grading.Order{Demand: counts(t, "2 × A upper"), Packs: []grading.Pack{
			pack(t, "one", "3.00", "1 × A upper"), pack(t, "two", "6.00", "2 × A upper")}}, "1 × two"},
		{"the earlier", grading.Order{Demand: counts(t, "2 × A upper"), Packs: []grading.Pack{
			pack(t, "late", "6.00", "2 × A upper"), pack(t, "later", "6.00", "2 × A upper")}}, "1 × late"},
		{"the earlier together", grading.Order{Demand: counts(t, "5 × A upper"), Packs: []grading.Pack{
			limited(pack(t, "three", "6", "3 × A upper"), 1), limited(pack(t, "two", "4", "2 × A upper"), 1),
			pack(t, "four", "8", "4 × A upper"), limited(pack(t, "one", "2", "1 × A upper"), 1)}}, "1 × three, 1 × two"},
		// P and Q each serve alone and leave one over. In P one B upper stands in for an
		// A upper (place 1 in its list) and one for the B lower (place 2), in Q three for
		// A upper (place 1 each): 3 for both. The search meets Q first.
		{"the earlier, met later", grading.Order{Demand: counts(t, "3 × A upper", "1 × B lower"), Packs: []grading.Pack{
			pack(t, "P", "5.00", "2 × A upper", "1 × A lower", "2 × B upper"), pack(t, "Q", "5.00", "3 × B upper", "2 × B lower"),
			pack(t, "R", "5.00", "2 × A upper", "3 × B lower"), pack(t, "S", "5.00", "2 × A lower", "3 × B lower")},
			Substitutes: []grading.Substitute{
				{For: grading.MustParsePart("A upper"), Use: grading.MustParsePart("B upper")},
				{For: grading.MustParsePart("B lower"), Use: grading.MustParsePart("A upper")},
				{For: grading.MustParsePart("B lower"), Use: grading.MustParsePart("B upper")}}}, "1 × P"},
		{"the part itself, though it stands later", grading.Order{Demand: counts(t, "1 × B upper"), Packs: []grading.Pack{
			pack(t, "A", "2", "1 × A upper"), pack(t, "B", "2", "1 × B upper")},
			Substitutes: []grading.Substitute{{For: grading.MustParsePart("B upper"), Use: grading.MustParsePart("A upper")}}}, "1 × B"},
		{"what is free is not bought in vain", grading.Order{Demand: counts(t, "1 × A upper"), Packs: []grading.Pack{
			pack(t, "free", "0", "1 × A upper"), pack(t, "free lower", "0", "1 × A lower")}}, "1 × free"},
		{"the stock serves", grading.Order{Demand: counts(t, "1 × A upper"), Stock: counts(t, "1 × A upper"), Packs: []grading.Pack{
			pack(t, "one", "3.00", "1 × A upper")}}, ""},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			p, err := grading.Buy(t.Context(), test.order)
			if err != nil {
				t.Fatal(err)
			}
			if got := boughtText(p.Packs); got != test.want {
				t.Errorf("bought %q, want %q", got, test.want)
			}
			plan, err := grading.Choose(t.Context(), nil, test.order)
			if err != nil {
				t.Fatal(err)
			}
			if got := boughtText(plan.Purchase.Packs); got != test.want {
				t.Errorf("Choose bought %q, want %q", got, test.want)
			}
		})
	}
}

func boughtText(packs []grading.Bought) string {
	texts := make([]string, len(packs))
	for i, b := range packs {
		texts[i] = decimal.NewFromInt(int64(b.N)).String() + " × " + b.Pack.Name
	}
	return strings.Join(texts, ", ")
}

// What stands in for a part is used where it saves something, and no more of it
// than that.
func TestBuySubstitutes(t *testing.T) {
	upper, lower := grading.MustParsePart("A upper"), grading.MustParsePart("A lower")
	o := grading.Order{
		Demand:      counts(t, "1 × A upper", "1 × A lower", "1 × B upper"),
		Packs:       []grading.Pack{pack(t, "four", "0.70", "2 × A upper", "1 × A lower", "1 × B upper")},
		Substitutes: []grading.Substitute{{For: lower, Use: upper}},
	}
	p, err := grading.Buy(t.Context(), o)
	if err != nil {
		t.Fatal(err)
	}
	for _, u := range p.Uses {
		if u.For != u.Use || u.N != 1 {
			t.Errorf("%d × %s for %s, without need", u.N, u.Use, u.For)
		}
	}
	if len(p.Leftover) != 1 || p.Leftover[0] != (grading.Count{Part: upper, N: 1}) {
		t.Errorf("left over: %v", p.Leftover)
	}

	o.Packs = append(o.Packs, pack(t, "two", "0.30", "1 × A upper", "1 × B upper"), pack(t, "upper", "0.20", "1 × A upper"))
	p, err = grading.Buy(t.Context(), o)
	if err != nil || boughtText(p.Packs) != "1 × two, 1 × upper" {
		t.Fatalf("%v, %v", p, err)
	}
	if !slices.Contains(p.Uses, grading.Use{For: lower, Use: upper, N: 1}) || !strings.Contains(p.Working().Text(), "1 × A upper in place of A lower") {
		t.Errorf("uses %v", p.Uses)
	}
}

// What was found until then is the answer, with the gap that is proven.
func TestBuyCanBeCancelled(t *testing.T) {
	reason := errors.New("the user went home")
	ctx, cancel := context.WithCancelCause(context.Background())
	cancel(reason)
	if p, err := grading.Buy(ctx, mixedOrder(1, 10, 20, 12)); !errors.Is(err, reason) || p == nil || p.Gap().Sign() <= 0 || p.Unproven != "price" {
		t.Errorf("%v with error %v", p, err)
	}
	// Once under way, from the first report of progress.
	ctx, cancel = context.WithCancelCause(context.Background())
	defer cancel(nil)
	for seed := range uint64(200) {
		o := mixedOrder(seed, 10, 20, 24)
		told := false
		o.Progress = func(p purchase.Progress) {
			told = p.Aim != "" && p.Examined > 0
			cancel(reason)
		}
		p, err := grading.Buy(ctx, o)
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
