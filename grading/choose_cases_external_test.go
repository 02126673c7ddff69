package grading_test

import (
	"context"
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/closefit/grading"
	"example.com/closefit/grading/purchase"
	"example.com/closefit/units"
)

// oddHalf is an invented engine of three mains that needs one odd half: measured,
// two mains want red and red, and the third red and blue, though red and red are
// inside there too. Red comes as a set of three pairs, blue as a pair.
func oddHalf(t testing.TB) ([][]grading.PairFit, order) {
	places, err := stepped().Fits([]grading.Site{
		{Location: "main 1", Housing: size("64.001 ±0.001 mm"), Journal: size("59.975 ±0.001 mm")},
		{Location: "main 2", Housing: size("64.002 ±0.001 mm"), Journal: size("59.975 ±0.001 mm")},
		{Location: "main 3", Housing: size("64.006 ±0.001 mm"), Journal: size("59.974 ±0.001 mm")},
	})
	if err != nil {
		t.Fatal(err)
	}
	return places, order{Packs: []box{
		pack(t, "red set", "48.00", "3 × red upper", "3 × red lower"),
		pack(t, "blue pair", "21.50", "1 × blue upper", "1 × blue lower"),
	}}
}

// By hand: main 1 has a room of 4.024..4.028, so red and red (3.994..3.998) leave
// 0.026..0.034, off by 0 from 0.030; main 2 with 4.025..4.029 has 0.027..0.035 and
// is off by 0.001; main 3 (see TestFits) has 0.032..0.040, off by 0.006, or with one
// blue half 0.028..0.036, off by 0.002. So 48.00 buys a distance of 0.007, and
// 21.50 more bring it to 0.003. Blue in main 2 would be 0.023..0.031, off by 0.003:
// no gain.
func TestChooseAvoidsTheExtraSet(t *testing.T) {
	places, order := oddHalf(t)
	plan, err := choose(t.Context(), places, order)
	if err != nil {
		t.Fatal(err)
	}
	if boughtText(plan.Purchase.Packs) != "1 × red set" || plan.Purchase.Price.String() != "48" || plan.Purchase.Distance.String() != "0.007 mm" {
		t.Errorf("bought %s for %s at %s", boughtText(plan.Purchase.Packs), plan.Purchase.Price, plan.Purchase.Distance)
	}
	var trades []string
	for _, trade := range plansOf(plan) {
		trades = append(trades, trade.Purchase.Price.StringFixed(2)+" "+trade.Purchase.Distance.String()+" "+trade.Choices[2].Off.String())
	}
	want := []string{"48.00 0.007 mm 0.006 mm", "69.50 0.003 mm 0.002 mm"}
	if diff := cmp.Diff(want, trades); diff != "" || !plan.Complete {
		t.Errorf("complete %v\n%s", plan.Complete, diff)
	}
	// 4 µm for 21.50 is 8/43 µm for each 1.
	for _, line := range []string{"main 3: red upper + red lower, 0.032..0.04 mm", "for 69.50: 0.003 mm from what is wanted", "21.50 more buys 0.004 mm, 0.186 µm for each 1", "= at least 48.00"} {
		if !strings.Contains(plan.Working().Text(), line) {
			t.Errorf("working lacks %q:\n%s", line, plan.Working().Text())
		}
	}

	// A blue half on the shelf makes the nearest choice the cheapest.
	order.Stock = counts(t, "1 × blue lower")
	plan, err = choose(t.Context(), places, order)
	if err != nil || plan.Choices[2].Pair.String() != "red upper + blue lower" || len(plan.Trades) != 0 {
		t.Errorf("%+v, %v", plan, err)
	}
}

func TestChooseCanBeCancelled(t *testing.T) {
	places, order := oddHalf(t)
	reason := errors.New("the shop has closed")
	ctx, cancel := context.WithCancelCause(t.Context())
	cancel(reason)
	plan, err := choose(ctx, places, order)
	if !errors.Is(err, reason) || plan == nil || plan.Purchase.Gap.Sign() < 0 || plan.Complete {
		t.Fatalf("%v, %v", plan, err)
	}
	checkServed(t, order, plan)
}

// When only trades are still sought, what has been found is not lost. A search for
// the price that follows one for something else is for a trade.
func TestChooseCancelledLate(t *testing.T) {
	reason := errors.New("time to decide")
	for seed := range uint64(50) {
		ctx, cancel := context.WithCancelCause(t.Context())
		order := mixedOrder(seed, 10, 1, 8)
		order.Demand, order.Stock = nil, nil
		before, cancelled := "price", false
		order.Progress = func(aim string, examined, open int) {
			if aim == "price" && before != "price" {
				cancelled = true
				cancel(reason)
			}
			before = aim
		}
		places := gradedPlaces(t, seed, 7, 5)
		plan, err := choose(ctx, places, order)
		cancel(nil)
		if !cancelled {
			continue
		}
		whole, errWhole := choose(t.Context(), places, orderOf(order.Packs))
		if errWhole != nil {
			t.Fatal(errWhole)
		}
		if !errors.Is(err, reason) || plan == nil || plan.Complete || !plan.Purchase.Price.Equal(whole.Purchase.Price) ||
			len(plan.Trades) > len(whole.Trades) {
			t.Errorf("seed %d: %v with error %v", seed, plan, err)
		}
		return
	}
	t.Error("no search for a trade took long enough for a report")
}

func TestChooseShort(t *testing.T) {
	places, order := oddHalf(t)
	order.Packs[0] = limited(pack(t, "red pair", "17.00", "1 × red upper", "1 × red lower"), 1)
	order.Packs[1] = limited(order.Packs[1], 1)
	_, err := choose(t.Context(), places, order)
	e, ok := errors.AsType[*units.Error](err)
	if !ok || e.Where != "main 3" || !errors.Is(err, purchase.ErrUnserved) ||
		!strings.Contains(err.Error(), "once the 2 before it are served, nothing is left") {
		t.Errorf("%v", err)
	}
	// Demand beside the places is told apart.
	order.Demand = counts(t, "1 × STD front")
	if _, err = choose(t.Context(), places, order); !errors.Is(err, purchase.ErrUnserved) || !strings.Contains(err.Error(), "STD front: 1 wanted, 0 to be had") {
		t.Errorf("%v", err)
	}
	if _, err := choose(t.Context(), [][]grading.PairFit{{}}, order); !errors.Is(err, grading.ErrNoFit) {
		t.Errorf("a place without fits: %v", err)
	}
}

// Distances that share no unit of any use are compared all the same: the nearest is taken.
func TestChooseDistancesWithoutAUnit(t *testing.T) {
	fit := func(upper, off string) grading.PairFit {
		return grading.PairFit{Location: "main 1", Pair: grading.Pair{Upper: mustPart(upper), Lower: mustPart("b")}, Off: units.MustParseLength(off)}
	}
	places := [][]grading.PairFit{{fit("far", "1 m"), fit("near", "1e-20 mm")}}
	plan, err := choose(t.Context(), places, order{Packs: []box{pack(t, "far pair", "2", "1 × far", "1 × b"), pack(t, "near pair", "2", "1 × near", "1 × b")}})
	if err != nil || plan.Choices[0].Pair.Upper != mustPart("near") || !plan.Purchase.Distance.Equal(units.MustParseLength("1e-20 mm")) {
		t.Errorf("%v, %v", plan, err)
	}
}

// Twelve engines alike are one problem of a few kinds of place, not of sixty.
func TestChooseForAFleet(t *testing.T) {
	one, order := oddHalf(t)
	var fleet [][]grading.PairFit
	for range 12 {
		fleet = append(fleet, one...)
	}
	plan, err := choose(t.Context(), fleet, order)
	if err != nil {
		t.Fatal(err)
	}
	if boughtText(plan.Purchase.Packs) != "12 × red set" || len(plan.Choices) != 36 {
		t.Errorf("%s, %d choices", boughtText(plan.Purchase.Packs), len(plan.Choices))
	}
	checkServed(t, order, plan)
	for i, c := range plan.Choices {
		if c.Location != fleet[i][0].Location || c.Pair == (grading.Pair{}) {
			t.Errorf("choice %d is %v", i, c)
		}
	}
}

// By hand: forty places that each take a dear part at no distance, or the stock at a
// distance of 1 µm: 41 trades, a unit of money for each micrometre. The list has the
// cheapest 11 and the nearest.
func TestChooseManyTrades(t *testing.T) {
	var places [][]grading.PairFit
	for range 40 {
		places = append(places, []grading.PairFit{
			{Pair: grading.Pair{Upper: mustPart("new"), Lower: mustPart("cap")}},
			{Pair: grading.Pair{Upper: mustPart("old"), Lower: mustPart("cap")}, Off: micrometres(1)},
		})
	}
	plan, err := choose(t.Context(), places, order{
		Stock: counts(t, "40 × old", "40 × cap"), Packs: []box{pack(t, "one", "1", "1 × new")}})
	if err != nil {
		t.Fatal(err)
	}
	if plan.Complete || len(plan.Trades) != mostPlans-1 {
		t.Fatalf("%d trades, complete %v", len(plan.Trades), plan.Complete)
	}
	for i, trade := range plansOf(plan) {
		price := int64(i)
		if i == mostPlans-1 {
			price = 40
		}
		if trade.Purchase.Price.IntPart() != price || !trade.Purchase.Distance.Equal(micrometres(40-price)) {
			t.Errorf("trade %d: %s at %s", i, trade.Purchase.Price, trade.Purchase.Distance)
		}
	}
}
