package sheet_test

import (
	"fmt"

	"example.com/closefit/examples/sheetcheck/sheet"
)

func ExampleNotation_Number() {
	typed, _ := sheet.Notation{Decimal: ','}.Number("60,012")
	stored, _ := sheet.Notation{}.Number("59.999000000000002") // as a workbook holds 59.999
	fmt.Println(typed.Coefficient, typed.Places)
	fmt.Println(stored.Coefficient, stored.Places)
	// Output:
	// 60012 3
	// 59999 3
}

func ExampleRanges() {
	for _, r := range sheet.Ranges("B7-SUM(C7:E7)-$E$6") {
		fmt.Println(r.From, r.To, r.From.RowFixed)
	}
	// Output:
	// B7 B7 false
	// C7 E7 false
	// E6 E6 true
}

func ExampleParsePlace() {
	p, _ := sheet.ParsePlace("AB12")
	fmt.Println(p.Row, p.Column, p)
	_, err := sheet.ParsePlace("12")
	fmt.Println(err)
	// Output:
	// 12 28 AB12
	// "12" is not a cell; write a column and a row, as in "C7"
}
