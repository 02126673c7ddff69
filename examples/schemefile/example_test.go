package schemefile_test

import (
	"fmt"
	"strings"

	"example.com/closefit/examples/schemefile"
)

func ExampleRead() {
	scheme, err := schemefile.Read(strings.NewReader(`
name = "pump-set mains"
rule = "each half"
housing = [{code = "A", shell = "red"}, {code = "B", shell = "blue"}]
journal = [{code = "1", shell = "red"}, {code = "2", shell = "green"}]
`))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(scheme.Pair("B", "2"))

	_, err = schemefile.Read(strings.NewReader("name = \"mains\"\nrules = \"sum\"\n"))
	fmt.Println(err)
	// Output:
	// blue upper + green lower <nil>
	// line 2, column 1: unknown key rules: the nearest is rule; there are name, source, rule, interchangeable, mix, limits, wanted, housing, journal, matrix, sum, shell, family
}
