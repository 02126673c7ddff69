package grading_test

import (
	"context"

	"example.com/closefit/grading"
	"example.com/closefit/grading/purchase"
)

type (
	count  = purchase.Count[grading.Part]
	box    = purchase.Pack[grading.Part]
	bought = purchase.Purchase[grading.Part]
)

// An order is a request for parts, with its demand as the tests vary it.
type order struct {
	Demand, Stock []count
	Packs         []box
	Substitutes   []substitute
	Progress      func(aim string, examined, open int)
}

// A substitute may be used where another part is demanded.
type substitute struct{ For, Use grading.Part }

func (o order) request() purchase.Request[grading.Part] {
	substitutes := map[grading.Part][]grading.Part{}
	for _, s := range o.Substitutes {
		substitutes[s.For] = append(substitutes[s.For], s.Use)
	}
	return purchase.Request[grading.Part]{Needs: grading.Needs(o.Demand, substitutes), Stock: o.Stock, Packs: o.Packs, Progress: o.Progress}
}

func buy(ctx context.Context, o order) (*bought, error) { return purchase.Cheapest(ctx, o.request()) }

func choose(ctx context.Context, places [][]grading.PairFit, o order) (*grading.Plan, error) {
	return grading.Choose(ctx, places, o.request())
}

// A use is a number of parts that serve the demand for a part.
type use struct {
	For, Use grading.Part
	N        int
}

// usesOf returns what serves the demand, whose needs stand first.
func usesOf(o order, p *bought) []use {
	var uses []use
	needs := o.request().Needs
	for _, s := range p.Served {
		if s.Need < len(needs) {
			uses = append(uses, use{For: needs[s.Need].Alternatives[0].Parts[0], Use: s.Parts[0], N: s.N})
		}
	}
	return uses
}

// mostPlans is how many plans Choose lists at the most.
const mostPlans = 12

// plansOf returns a plan and its trades.
func plansOf(p *grading.Plan) []grading.Plan { return append([]grading.Plan{*p}, p.Trades...) }

// parsePart reads a part as its text is read.
func parsePart(text string) (p grading.Part, err error) {
	err = p.UnmarshalText([]byte(text))
	return p, err
}

// mustPart reads a part.
func mustPart(text string) grading.Part {
	p, err := parsePart(text)
	if err != nil {
		panic(err)
	}
	return p
}

func orderOf(packs []box) order { return order{Packs: packs} }

// An end of the row, before it is known which location that is.
const firstEnd, lastEnd = "the first", "the last"

// placed says the ends of a row by their locations.
func placed(r grading.Row) grading.Row {
	for _, end := range []*string{&r.From, &r.MarkAt} {
		switch {
		case len(r.Locations) == 0:
			*end = ""
		case *end == firstEnd:
			*end = r.Locations[0]
		case *end == lastEnd:
			*end = r.Locations[len(r.Locations)-1]
		}
	}
	return r
}
