package ask

import (
	"context"
	"errors"
	"fmt"

	"example.com/closefit/grading/purchase"
	"example.com/closefit/units"
	"github.com/shopspring/decimal"
)

// A Buy asks for the cheapest purchase that, with the stock, serves all needs.
type Buy struct {
	Needs []purchase.Need[Item]  `json:"needs"`
	Stock []purchase.Count[Item] `json:"stock"`
	Packs []purchase.Pack[Item]  `json:"packs"`

	// Trades is how many purchases to list, the cheapest among them, of those that cost more
	// and come nearer (by the distances of the alternatives): 0 for none, else 2 to 20.
	Trades int `json:"trades"`
}

// An Item is the name of a thing that is bought: "B upper", an order number.
type Item string

// String returns the name.
func (i Item) String() string { return string(i) }

// Bought is the answer to Buy.
type Bought struct {
	Packs    []PackCount              `json:"packs"`    // what to buy
	Price    decimal.Decimal          `json:"price"`    // of all of it
	Leftover []purchase.Count[Item]   `json:"leftover"` // of stock and packs
	Served   []purchase.Serving[Item] `json:"served"`   // which parts serve which need
	Distance units.Length             `json:"distance"` // of the alternatives that are taken, together
	Cheapest bool                     `json:"cheapest"` // proven: nothing that serves costs less
	Gap      decimal.Decimal          `json:"gap"`      // by how much it may be dearer than the cheapest; "0" if it is proven
	Unproven *string                  `json:"unproven"` // the first aim in which another purchase might do better: "price", "distance", "parts left over"; null if none
	Proof    purchase.Proof[Item]     `json:"proof"`
	Trades   []Trade                  `json:"trades" null:"meant"` // null if they were not asked for
	Complete *bool                    `json:"complete"`            // whether these are all trades; null if they were not asked for
	Working  []units.Working          `json:"working"`
}

// A PackCount is a number of one pack.
type PackCount struct {
	Name  string          `json:"name"`
	N     int             `json:"n"`
	Price decimal.Decimal `json:"price"` // of one
}

// A Trade is a purchase that costs more and comes nearer.
type Trade struct {
	Packs    []PackCount     `json:"packs"`
	Price    decimal.Decimal `json:"price"`
	Distance units.Length    `json:"distance"`
}

// The most that a Buy may have.
const (
	maxNeeds        = 200
	maxPacks        = 200
	maxAlternatives = 1000 // of all needs
	maxContents     = 2000 // parts of all packs and alternatives
	maxStock        = 500
	maxTrades       = 20
	maxCases        = 10_000     // that the search for the cheapest looks at, and that for trades
	maxEffort       = 30_000_000 // what these cases cost together, counted as the cells of their tables
)

func buying(ctx context.Context, q Buy) (b Bought, err error) {
	if err := q.bounded(); err != nil {
		return b, err
	}
	order := purchase.Request[Item]{Needs: q.Needs, Stock: q.Stock, Packs: q.Packs}
	cases := q.cases()
	p, err := purchase.Cheapest(WithWork(ctx, cases), order)
	switch {
	case err != nil && !errors.Is(err, context.DeadlineExceeded):
		return b, err
	case p == nil:
		return b, &units.Error{Kind: ErrTooMuch, Where: "Buy", Found: fmt.Sprintf("no purchase among the first %d cases", cases), Fix: "ask for fewer needs at once, or with fewer alternatives"}
	}
	b = Bought{Packs: packsOf(p), Price: p.Price, Leftover: p.Leftover, Served: p.Served, Distance: p.Distance, Cheapest: p.Gap.IsZero(), Gap: p.Gap, Proof: p.Proof, Working: []units.Working{p.Working()}}
	if p.Unproven != "" {
		b.Unproven = &p.Unproven
	}
	if q.Trades == 0 {
		return b, nil
	}
	b.Trades, b.Complete = []Trade{}, ptr(false)
	if p.Unproven == "price" || p.Unproven == "distance" {
		return b, nil
	}
	trades, complete, err := purchase.Trades(WithWork(ctx, cases), order, p, q.Trades)
	if err != nil && !errors.Is(err, context.DeadlineExceeded) {
		return b, err
	}
	for _, t := range trades {
		b.Trades = append(b.Trades, Trade{packsOf(t), t.Price, t.Distance})
	}
	b.Complete = &complete
	return b, nil
}

func packsOf(p *purchase.Purchase[Item]) []PackCount {
	list := []PackCount{}
	for _, bought := range p.Packs {
		list = append(list, PackCount{bought.Pack.Name, bought.N, *bought.Pack.Price})
	}
	return list
}

// cases is how many cases the search may look at: fewer of a large request, where each costs
// more.
func (q Buy) cases() int64 {
	parts := map[Item]bool{}
	columns := len(q.Packs)
	for _, n := range q.Needs {
		columns += len(n.Alternatives)
		for _, a := range n.Alternatives {
			for _, p := range a.Parts {
				parts[p] = true
			}
		}
	}
	return int64(min(maxCases, maxEffort/(columns*len(parts)+1)))
}

// bounded returns what is too much.
func (q Buy) bounded() error {
	alternatives, contents := 0, 0
	for _, n := range q.Needs {
		alternatives += len(n.Alternatives)
		for _, a := range n.Alternatives {
			contents += len(a.Parts)
		}
	}
	for _, p := range q.Packs {
		contents += len(p.Parts)
	}
	if q.Trades != 0 && (q.Trades < 2 || q.Trades > maxTrades) {
		return wrong(`Buy, "trades"`, fmt.Sprint(q.Trades), fmt.Sprintf("write 0 for none, or 2 to %d", maxTrades))
	}
	return errors.Join(few(`Buy, "needs"`, len(q.Needs), maxNeeds), few(`Buy, "packs"`, len(q.Packs), maxPacks), few(`Buy, "stock"`, len(q.Stock), maxStock),
		few(`Buy, "needs", all alternatives`, alternatives, maxAlternatives), few("Buy, the parts of all packs and alternatives", contents, maxContents))
}
