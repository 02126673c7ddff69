package ask_test

import (
	"context"
	"errors"
	"fmt"
	"testing"

	"example.com/closefit/examples/kit/ask"
	"example.com/closefit/grading/purchase"
	"github.com/shopspring/decimal"
)

// TestWork: a search whose work is over answers with the best that it has, and says by how much it
// may be dearer; the same work gives the same answer. A context that ended before ends it too.
func TestWork(t *testing.T) {
	var order purchase.Request[ask.Item]
	item := func(i int) ask.Item { return ask.Item(fmt.Sprintf("p%d", i%7)) }
	for i := range 12 {
		var need purchase.Need[ask.Item]
		need.Name, need.N = fmt.Sprintf("n%d", i), 1+i*i%4
		for k := range 3 {
			need.Alternatives = append(need.Alternatives, purchase.Alternative[ask.Item]{Parts: []ask.Item{item(i + k), item(3*i + 2*k)}})
		}
		order.Needs = append(order.Needs, need)
		price := decimal.New(int64(1000+i*i*37%700), -2)
		order.Packs = append(order.Packs, purchase.Pack[ask.Item]{Name: fmt.Sprintf("k%d", i), Price: &price, Parts: []purchase.Count[ask.Item]{{Part: item(i), N: 1 + i%3}, {Part: item(i + 2), N: 1 + i%2}}})
	}
	proven, err := purchase.Cheapest(t.Context(), order)
	if err != nil || !proven.Gap.IsZero() {
		t.Fatal(err, proven)
	}
	const few = 1
	short, err := purchase.Cheapest(ask.WithWork(t.Context(), few), order)
	if !errors.Is(err, context.DeadlineExceeded) || short == nil || short.Unproven != "price" || short.Price.LessThan(proven.Price) {
		t.Fatalf("%v, %+v", err, short)
	}
	if short.Price.Sub(short.Gap).GreaterThan(proven.Price) {
		t.Errorf("%s less %s is more than the cheapest, %s", short.Price, short.Gap, proven.Price)
	}
	again, _ := purchase.Cheapest(ask.WithWork(t.Context(), few), order)
	same(t, "price of the same work", again.Price.String(), short.Price.String())
	if enough, err := purchase.Cheapest(ask.WithWork(t.Context(), 1_000_000), order); err != nil || !enough.Price.Equal(proven.Price) {
		t.Errorf("with work enough: %v", err)
	}
	ended, cancel := context.WithCancel(t.Context())
	cancel()
	if err := ask.WithWork(ended, 10).Err(); !errors.Is(err, context.Canceled) {
		t.Errorf("a context that ended: %v", err)
	}
}
