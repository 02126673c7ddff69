package mapfile_test

import (
	"fmt"

	"example.com/closefit/examples/sheetcheck/mapfile"
)

func ExampleRead() {
	_, _, err := mapfile.Read("mains.toml", []byte(`
[[table]]
rows = "7..5"
[table.column]
journal = { at = "E7x", unit = "mm" }
[[table.check]]
claim = "clearance"
by = "bearing clearance"
`))
	fmt.Println(err)
	// Output:
	// mains.toml:3: table[0].rows: "7..5" runs backwards; write the first before the last
	// mains.toml:5: table[0].column.journal.at: "E7x" is not a column; write its letters, as in "C"
	// mains.toml:7: table[0].check[0].claim: no column is called "clearance"; there are journal
}
