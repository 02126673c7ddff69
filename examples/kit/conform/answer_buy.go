package conform

import (
	"context"
	"errors"

	"example.com/closefit/examples/kit/ask"
	"example.com/closefit/grading/purchase"
	"example.com/closefit/units"
	"github.com/shopspring/decimal"
)

type count struct {
	Part ask.Item
	N    int
}

func buyCheapest(q struct {
	Needs []struct {
		Name         string
		N            int
		Alternatives []struct {
			Parts    []ask.Item
			Distance units.Length
		}
	}
	Stock []count
	Packs []struct {
		Name  string
		Price decimal.Decimal
		Parts []count
		Limit *int
	}
}) (answer, error) {
	var r purchase.Request[ask.Item]
	for _, n := range q.Needs {
		need := purchase.Need[ask.Item]{Name: n.Name, N: n.N}
		for _, a := range n.Alternatives {
			need.Alternatives = append(need.Alternatives, purchase.Alternative[ask.Item]{Parts: a.Parts, Distance: a.Distance})
		}
		r.Needs = append(r.Needs, need)
	}
	for _, c := range q.Stock {
		r.Stock = append(r.Stock, purchase.Count[ask.Item](c))
	}
	for _, p := range q.Packs {
		pack := purchase.Pack[ask.Item]{Name: p.Name, Price: &p.Price, Limit: p.Limit}
		for _, c := range p.Parts {
			pack.Parts = append(pack.Parts, purchase.Count[ask.Item](c))
		}
		r.Packs = append(r.Packs, pack)
	}
	best, err := purchase.Cheapest(context.Background(), r)
	switch {
	case errors.Is(err, purchase.ErrUnserved):
		return none(), nil
	case err != nil:
		return nil, err
	case !best.Gap.IsZero():
		return nil, errors.New("the cheapest is not proven")
	}
	return answer{"price": best.Price.String()}, nil
}
