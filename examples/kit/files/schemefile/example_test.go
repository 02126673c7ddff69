package schemefile_test

import (
	"fmt"

	"example.com/closefit/examples/kit/files/schemefile"
)

func ExampleRead() {
	scheme, err := schemefile.Read("mains.toml", []byte(`
name = "pump-set mains"
housing = [{code = "A", shell = "red"}, {code = "B", shell = "blue"}]
journal = [{code = "1", shell = "red"}, {code = "2", shell = "green"}]
`))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(scheme.Pair("B", "2"))

	_, err = schemefile.Read("mains.toml", []byte("name = \"mains\"\nsources = 'x'\n"))
	fmt.Println(err)
	// Output:
	// blue upper + green lower <nil>
	// mains.toml:2: unknown key "sources"; write source
}
