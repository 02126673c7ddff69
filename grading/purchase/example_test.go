package purchase_test

import (
	"context"
	"encoding/json"
	"fmt"
	"time"

	"github.com/shopspring/decimal"

	"example.com/closefit/grading/purchase"
	"example.com/closefit/units"
)

// Fifteen filters come in twos, fours and tens. Every pack is even, so that sixteen
// are needed: the proof says so in one line.
func ExampleCheapest() {
	price := func(s string) *decimal.Decimal { return new(decimal.RequireFromString(s)) }
	holds := func(n int) []purchase.Count[name] { return []purchase.Count[name]{{Part: "filter", N: n}} }
	p, err := purchase.Cheapest(context.Background(), purchase.Request[name]{
		Needs: []purchase.Need[name]{{Name: "engines", N: 15, Alternatives: []purchase.Alternative[name]{{Parts: []name{"filter"}}}}},
		Packs: []purchase.Pack[name]{
			{Name: "two", Price: price("10"), Parts: holds(2)},
			{Name: "four", Price: price("20"), Parts: holds(4)},
			{Name: "ten", Price: price("50"), Parts: holds(10)},
			{Name: "kit", Price: price("22"), Parts: holds(4)},
		},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Print(p.Working().Text())
	// Output:
	// the cheapest purchase
	//   why nothing is cheaper
	//     filter
	//       whatever is bought
	//         16 × filter
	//         16 × 5
	//         = at least 80
	//         note: price of a pack less the worth of what it can add: two 0, four 0, ten 0
	//       = at least 80
	//       note: counted together, the first bought first: four, kit
	//     price >= Σ the least prices of the components, which share nothing
	//     = at least 80
	//     source: weak duality of linear programming, case by case; dynamic programming where there is a table
	//     note: packs that are not named here are sold out, or hold nothing that can be short
	//   price = Σ number × price of the pack
	//   1 × 10 + 1 × 20 + 1 × 50
	//   = 80
	//   note: buy 1 × two (2 × filter) at 10
	//   note: buy 1 × four (4 × filter) at 20
	//   note: buy 1 × ten (10 × filter) at 50
	//   note: left over: 1 × filter
}

// A search that is cut short has an answer all the same, and says how far it can be
// from the cheapest.
func ExamplePurchase() {
	noTime, cancel := context.WithDeadline(context.Background(), time.Unix(0, 0))
	defer cancel()
	p, err := purchase.Cheapest(noTime, mixed(1, 10, 20, 20))
	fmt.Println(err)
	fmt.Println("something was found:", p != nil)
	fmt.Println("it is at most so much dearer:", p.Gap.Equal(p.Price.Sub(p.Proof.Least)))
	// Output:
	// context deadline exceeded
	// something was found: true
	// it is at most so much dearer: true
}

// Four uppers and two lowers come in pairs or in fives of uppers. The proof goes through
// two cases, no five and one or more, and each can be checked by hand.
func ExamplePurchase_Working() {
	price := func(s string) *decimal.Decimal { return new(decimal.RequireFromString(s)) }
	p, err := purchase.Cheapest(context.Background(), purchase.Request[name]{
		Needs: []purchase.Need[name]{
			{Name: "uppers", N: 4, Alternatives: []purchase.Alternative[name]{{Parts: []name{"upper"}}}},
			{Name: "lowers", N: 2, Alternatives: []purchase.Alternative[name]{{Parts: []name{"lower"}}}}},
		Packs: []purchase.Pack[name]{
			{Name: "pair", Price: price("9.80"), Parts: []purchase.Count[name]{{Part: "upper", N: 1}, {Part: "lower", N: 1}}},
			{Name: "five uppers", Price: price("21.00"), Parts: []purchase.Count[name]{{Part: "upper", N: 5}}},
		},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Print(p.Working().Text())
	// Output:
	// the cheapest purchase
	//   why nothing is cheaper
	//     upper, lower
	//       with 0 of five uppers
	//         4 × upper
	//         4 × 9.80
	//         = at least 39.20
	//         note: price of a pack less the worth of what it can add: pair 0.00, five uppers -18.20
	//       with at least 1 of five uppers
	//         2 × lower + five uppers
	//         2 × 9.80 + 21.00
	//         = at least 40.60
	//         note: price of a pack less the worth of what it can add: pair 0.00, five uppers 21.00
	//       = at least 39.20
	//     price >= Σ the least prices of the components, which share nothing
	//     = at least 39.20
	//     source: weak duality of linear programming, case by case; dynamic programming where there is a table
	//     note: packs that are not named here are sold out, or hold nothing that can be short
	//   price = Σ number × price of the pack
	//   4 × 9.80
	//   = 39.20
	//   note: buy 4 × pair (1 × upper, 1 × lower) at 9.80
	//   note: left over: 2 × lower
}

// The cheapest purchase takes what is in stock; 5 more comes nearer to what is wanted.
func ExampleTrades() {
	request := purchase.Request[name]{
		Needs: []purchase.Need[name]{{Name: "main 1", N: 1, Alternatives: []purchase.Alternative[name]{
			{Parts: []name{"blue"}},
			{Parts: []name{"red"}, Distance: units.Micrometre.OfInt(4)},
		}}},
		Stock: []purchase.Count[name]{{Part: "red", N: 1}},
		Packs: []purchase.Pack[name]{{Name: "one blue", Price: new(decimal.RequireFromString("5")), Parts: []purchase.Count[name]{{Part: "blue", N: 1}}}},
	}
	cheapest, err := purchase.Cheapest(context.Background(), request)
	if err != nil {
		fmt.Println(err)
		return
	}
	trades, complete, err := purchase.Trades(context.Background(), request, cheapest, 10)
	for _, t := range trades {
		fmt.Println(t.Price, t.Distance, t.Served[0].Parts)
	}
	fmt.Println(complete, err)
	// Output:
	// 0 0.004 mm [red]
	// 5 0 mm [blue]
	// true <nil>
}

// A proof goes to somebody else as JSON. What it lacks is an error, and never a zero.
func ExampleProof() {
	p, err := purchase.Cheapest(context.Background(), purchase.Request[name]{})
	if err != nil {
		fmt.Println(err)
		return
	}
	text, err := json.Marshal(p.Proof)
	fmt.Println(string(text), err)
	var back purchase.Proof[name]
	fmt.Println(json.Unmarshal([]byte(`{"components":null,"examined":0}`), &back))
	// Output:
	// {"least":"0","components":null,"examined":0} <nil>
	// proof: not of the exchange form: no key "least"; write it, with null if there is nothing
}
