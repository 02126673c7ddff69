package grading_test

import (
	"context"
	"fmt"

	"github.com/shopspring/decimal"

	"example.com/closefit/grading"
	"example.com/closefit/grading/purchase"
)

// pumpSet is a scheme of an invented pump-set engine: each half by its own code.
func pumpSet() *grading.Scheme {
	return &grading.Scheme{
		Name: "pump-set mains", Housing: []grading.Code{{Code: "A", Shell: "red"}, {Code: "B", Shell: "blue"}},
		Journal: []grading.Code{{Code: "1", Shell: "red"}, {Code: "2", Shell: "blue"}, {Code: "3", Shell: "green"}},
	}
}

func Example() {
	scheme := pumpSet()
	mains := []string{"main 1", "main 2", "main 3"}
	block, err := grading.Row{Text: "ABA", Side: grading.Housing, Locations: mains, Codes: scheme.Codes(grading.Housing)}.Read()
	if err != nil {
		fmt.Println(err)
		return
	}
	crank, err := grading.Row{Text: "1 3 2", Side: grading.Journal, From: "main 1", Locations: mains, Codes: scheme.Codes(grading.Journal)}.Read()
	if err != nil {
		fmt.Println(err)
		return
	}
	assigned, err := scheme.Assign(block, crank)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, a := range assigned {
		fmt.Printf("%s: %s\n", a.Location, a.Pairs[0])
	}
	demand, err := grading.Demand(assigned)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(demand)
	// Output:
	// main 1: red upper + red lower
	// main 2: blue upper + green lower
	// main 3: red upper + blue lower
	// [2 × red upper 1 × red lower 1 × blue upper 1 × green lower 1 × blue lower]
}

func ExampleNeeds() {
	upper, lower := grading.Part{Grade: "red", Half: grading.Upper}, grading.Part{Grade: "red", Half: grading.Lower}
	price := decimal.RequireFromString
	type (
		count = purchase.Count[grading.Part]
		pack  = purchase.Pack[grading.Part]
	)
	cheapest, err := purchase.Cheapest(context.Background(), purchase.Request[grading.Part]{
		Needs: grading.Needs([]count{{Part: upper, N: 3}, {Part: lower, N: 2}}, nil),
		Stock: []count{{Part: upper, N: 1}},
		Packs: []pack{
			{Name: "red pair", Price: new(price("9.80")), Parts: []count{{Part: upper, N: 1}, {Part: lower, N: 1}}},
			{Name: "red set of 3", Price: new(price("18.50")), Parts: []count{{Part: upper, N: 3}, {Part: lower, N: 3}}},
		},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, b := range cheapest.Packs {
		fmt.Printf("%d × %s\n", b.N, b.Pack.Name)
	}
	fmt.Println(cheapest.Price, cheapest.Leftover)
	// Output:
	// 1 × red set of 3
	// 18.5 [1 × red upper 1 × red lower]
}
