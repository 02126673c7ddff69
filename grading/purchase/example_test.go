package purchase_test

import (
	"context"
	"fmt"
	"time"

	"github.com/shopspring/decimal"

	"example.com/closefit/grading/purchase"
)

// Fifteen filters come in twos, fours and tens. Every pack is even, so that sixteen
// are needed: the proof says so in one line.
func ExampleCheapest() {
	price := func(s string) *decimal.Decimal { return new(decimal.RequireFromString(s)) }
	holds := func(n int) []purchase.Count[name] { return []purchase.Count[name]{{Part: "filter", N: n}} }
	p, err := purchase.Cheapest(context.Background(), purchase.Order[name]{
		Needs: []purchase.Need[name]{{Name: "engines", N: 15, Ways: []purchase.Way[name]{{Parts: []name{"filter"}}}}},
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
	//     price >= Σ the least prices of the components, which share nothing
	//     = at least 80
	//     source: weak duality of linear programming, case by case; dynamic programming where there is a table
	//     note: kit is left out: four holds as much for no more
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
func ExamplePurchase_Gap() {
	noTime, cancel := context.WithDeadline(context.Background(), time.Unix(0, 0))
	defer cancel()
	p, err := purchase.Cheapest(noTime, mixed(1, 10, 20, 20))
	fmt.Println(err)
	fmt.Println("something was found:", p != nil)
	fmt.Println("it is at most so much dearer:", p.Gap().Equal(p.Price.Sub(p.Proof.Least)))
	// Output:
	// context deadline exceeded
	// something was found: true
	// it is at most so much dearer: true
}
