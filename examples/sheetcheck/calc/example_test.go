package calc_test

import (
	"context"
	"fmt"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/sheet"
)

func ExampleParse() {
	e, err := calc.Parse("of:=IF([.F7]>=[$Limits.$B$2];\"OK\";\"low\")")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(e)
	calc.Walk(e, func(x calc.Expr) bool {
		if a, ok := x.(*calc.Area); ok {
			fmt.Printf("%s: sheet %q, row fixed %t\n", a, a.Sheet, a.From.RowFixed)
		}
		return true
	})
	_, err = calc.Parse("SUM(B7;C7)")
	fmt.Println(err)
	// Output:
	// IF(F7>=Limits!$B$2,"OK","low")
	// F7: sheet "", row fixed false
	// Limits!$B$2: sheet "Limits", row fixed true
	// "SUM(B7;C7)", column 7: ";"; look for a bracket, a quotation mark or an operator that is missing or one too many
}

func ExampleEvaluator_At() {
	f, err := sheet.Open("../testdata/metric.xlsx", sheet.Dialect{}, sheet.DefaultBounds())
	if err != nil {
		fmt.Println(err)
		return
	}
	defer f.Close()
	model, err := f.Load(context.Background())
	if err != nil {
		fmt.Println(err)
		return
	}
	e := calc.New(model, calc.DefaultBounds())
	p, err := e.At(context.Background(), "Mains", sheet.Place{Row: 6, Column: 6})
	fmt.Println(p.Exact, p.Binary, err)
	// Output: 0.034 0.03399999999999892 <nil>
}
