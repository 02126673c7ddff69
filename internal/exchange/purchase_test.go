package exchange

import (
	"context"
	"fmt"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"example.com/closefit/grading"
	"example.com/closefit/grading/purchase"
	"example.com/closefit/units"
)

type (
	partCount       = purchase.Count[grading.Part]
	partPack        = purchase.Pack[grading.Part]
	partNeed        = purchase.Need[grading.Part]
	partAlternative = purchase.Alternative[grading.Part]
	partRequest     = purchase.Request[grading.Part]
	partPurchase    = purchase.Purchase[grading.Part]
)

func purchaseForms() []form {
	return []form{
		valueBy("Count", drawCount, same),
		valueBy("Pack", func(t *rapid.T) partPack { return drawPack(t, 1) }, same),
		valueBy("Alternative", drawPartAlternative, same),
		valueBy("Need", func(t *rapid.T) partNeed { return drawNeed(t, 1) }, same),
		valueBy("Request", drawRequest, func(a, b partRequest) bool {
			return same(a.Needs, b.Needs) && same(a.Stock, b.Stock) && same(a.Packs, b.Packs) // what progress is told to does not travel
		}),
		valueBy("Purchase", drawPurchase, same),
		valueBy("Bought", func(t *rapid.T) purchase.Bought[grading.Part] {
			return purchase.Bought[grading.Part]{Pack: drawPack(t, 1), N: rapid.IntRange(1, 9).Draw(t, "n")}
		}, same),
		valueBy("Serving", func(t *rapid.T) purchase.Serving[grading.Part] {
			return purchase.Serving[grading.Part]{Need: rapid.IntRange(0, 9).Draw(t, "need"), Name: "main 3", Alternative: rapid.IntRange(0, 9).Draw(t, "alternative"),
				Parts: drawSome(t, "parts", drawPart), N: rapid.IntRange(0, 9).Draw(t, "n")}
		}, same),
		valueBy("Proof", func(t *rapid.T) purchase.Proof[grading.Part] { return drawPurchase(t).Proof }, same),
		valueBy("Component", drawComponent, same),
		valueBy("Case", drawCase, same),
	}
}

func drawInt(t *rapid.T) int { return rapid.IntRange(0, 9).Draw(t, "int") }

// drawWhole draws whole numbers that a binary fraction does not hold too.
func drawWhole(t *rapid.T) int64 { return rapid.Int64().Draw(t, "whole") }

func drawCount(t *rapid.T) partCount {
	return partCount{Part: drawPart(t), N: rapid.IntRange(0, 4).Draw(t, "n")}
}

func drawPack(t *rapid.T, number int) partPack {
	p := partPack{Name: fmt.Sprint("pack ", number), Parts: []partCount{drawCount(t)}}
	p.Parts[0].N++
	if rapid.Bool().Draw(t, "priced") {
		p.Price = new(decimal.New(rapid.Int64Range(0, 9_999).Draw(t, "price"), -rapid.Int32Range(0, 4).Draw(t, "places")))
	}
	if rapid.Bool().Draw(t, "limited") {
		p.Limit = new(rapid.IntRange(0, 3).Draw(t, "limit"))
	}
	return p
}

func drawPartAlternative(t *rapid.T) partAlternative {
	return partAlternative{Parts: []grading.Part{drawPart(t)}, Distance: units.Micrometre.OfInt(rapid.Int64Range(0, 3).Draw(t, "distance"))}
}

func drawNeed(t *rapid.T, number int) partNeed {
	return partNeed{Name: fmt.Sprint("need ", number), N: rapid.IntRange(0, 2).Draw(t, "n"), Alternatives: drawSome(t, "alternatives", drawPartAlternative)}
}

func drawRequest(t *rapid.T) partRequest {
	var r partRequest
	for i := range rapid.IntRange(0, 2).Draw(t, "needs") {
		r.Needs = append(r.Needs, drawNeed(t, i))
	}
	r.Stock = drawSome(t, "stock", drawCount)
	for i := range rapid.IntRange(0, 2).Draw(t, "packs") {
		r.Packs = append(r.Packs, drawPack(t, i))
	}
	return r
}

// drawPurchase draws the answer to a request of a need that has a choice, or of an odd
// number from even packs. Its proof has cases: drawComponent draws tables too.
func drawPurchase(t *rapid.T) partPurchase {
	red, blue := grading.Part{Grade: "red", Half: grading.Upper}, grading.Part{Grade: "blue", Half: grading.Upper}
	pack := func(name string, price int64, parts ...partCount) partPack {
		return partPack{Name: name, Parts: parts, Price: new(decimal.New(price, -2))}
	}
	alternatives := []partAlternative{{Parts: []grading.Part{red}}, {Parts: []grading.Part{blue}, Distance: units.MustParseLength("(1/3) µm")}}
	r := partRequest{Needs: []partNeed{{Name: "main 1"}}}
	if rapid.Bool().Draw(t, "choice") {
		r.Needs[0].N, r.Needs[0].Alternatives = rapid.IntRange(1, 3).Draw(t, "n"), alternatives
		r.Stock = []partCount{{Part: blue, N: rapid.IntRange(1, 3).Draw(t, "stock")}}
		r.Packs = []partPack{pack("two", rapid.Int64Range(1, 999).Draw(t, "price of two"), partCount{Part: red, N: 2}),
			pack("pair", rapid.Int64Range(1, 999).Draw(t, "price of a pair"), partCount{Part: red, N: 1}, partCount{Part: blue, N: 1})}
	} else {
		r.Needs[0].N, r.Needs[0].Alternatives = 2*rapid.IntRange(5, 8).Draw(t, "half of n")+1, alternatives[:1]
		r.Packs = []partPack{pack("two", 1000, partCount{Part: red, N: 2}), pack("four", 1900, partCount{Part: red, N: 4}), pack("ten", 4500, partCount{Part: red, N: 10})}
	}
	p, err := purchase.Cheapest(context.Background(), r)
	fatal(t, err)
	return *p
}

func drawComponent(t *rapid.T) purchase.Component[grading.Part] {
	c := purchase.Component[grading.Part]{Unit: decimal.New(rapid.Int64Range(1, 99).Draw(t, "unit"), -2), Least: drawWhole(t), Parts: drawSome(t, "parts", drawPart),
		Lines: [][]string{{"pack 0", "pack 1"}}}
	if rapid.Bool().Draw(t, "cases") {
		c.Choices = drawSome(t, "choices", func(t *rapid.T) partNeed { return drawNeed(t, 1) })
		c.Cases = drawSome(t, "cases", drawCase)
	} else {
		c.Counted, c.Lot, c.Missing = drawInt(t), drawWhole(t), drawWhole(t)
		c.Stages, c.Prices = [][]string{{"red pair"}, nil, {}}, [][]int64{drawSome(t, "prices", drawWhole)}
	}
	return c
}

func drawCase(t *rapid.T) purchase.Case {
	if rapid.Bool().Draw(t, "divided") {
		return purchase.Case{Of: drawInt(t), AtMost: new(drawWhole(t))}
	}
	return purchase.Case{Scale: drawWhole(t), Worth: drawSome(t, "worth", drawWhole), Missing: drawSome(t, "missing", drawWhole), Dearer: drawSome(t, "dearer", drawWhole),
		Bought: drawSome(t, "bought", drawWhole), Served: drawSome(t, "served", drawWhole), Sum: drawWhole(t), Least: drawWhole(t)}
}
