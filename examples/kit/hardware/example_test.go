package hardware_test

import (
	"fmt"

	"example.com/closefit/examples/kit/hardware"
)

// Prices in whatever currency, invented: bolts to be used once against a set that may be
// used six times.
func ExampleCompare() {
	price := number
	once := hardware.Hardware{Name: "single use", Set: price("41.50"), Uses: 1}
	again := hardware.Hardware{Name: "reusable", Set: price("168"), Uses: 6, PerBuild: price("6.25")}
	c, err := hardware.Compare(once, again, []int{2, 2, 2})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(c.Working())
	// Output:
	// single-use against reusable hardware
	//   year 1, 2 builds in all
	//     = 83 against 180.5, saved -97.5
	//   year 2, 4 builds in all
	//     = 166 against 193, saved -27
	//   year 3, 6 builds in all
	//     = 249 against 205.5, saved 43.5
	//   C = once + per build · n + set · ⌈n / uses⌉
	//   single use: 41.5 a set for each build; reusable: 168 a set for 6 builds, 6.25 a build
	//   = reusable hardware costs less or the same from build 5 on
	//   source: sum of the prices
	//   note: hardware that the engine was not designed for may need bores machined again; a bolt that the maker calls single use is replaced whatever it costs
}
