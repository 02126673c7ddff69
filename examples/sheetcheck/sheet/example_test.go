package sheet_test

import (
	"fmt"

	"example.com/closefit/examples/sheetcheck/sheet"
)

func ExampleCell_Numeral() {
	for _, text := range []string{" 60.0120", "59.999000000000002", "3.79E-2", "OK"} {
		c := sheet.Cell{Text: text} // the second as a workbook holds 59.999
		fmt.Println(c.Numeral())
	}
	// Output:
	// 60.0120 true
	// 59.999 true
	// 0.0379 true
	//  false
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
