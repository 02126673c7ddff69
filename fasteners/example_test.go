package fasteners_test

import (
	"fmt"

	"example.com/closefit/fasteners"
	"example.com/closefit/units"
)

// A rod bolt of an invented engine, measured with a micrometer good to ±0.01 mm now
// and when it was new; its invented manual allows 0.15 mm.
func ExampleCheckStretch() {
	now := units.MustParseLengthInterval("48.63 ±0.01 mm")
	whenNew := units.MustParseLengthInterval("48.49 ±0.01 mm")
	c, err := fasteners.CheckStretch(now, whenNew, units.MustParseLength("0.15 mm"))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(c.Outcome)
	fmt.Println(c.Working(units.Millimetre, 2))
	// Output:
	// undecided
	// permanent stretch
	//   ΔL = L - L0
	//   48.62..48.64 mm - 48.48..48.50 mm
	//   = permanent stretch 0.12..0.16 mm, at most 0.15 mm is allowed, which lies between: undecided; readings good to ±0.010 mm together would settle it
	//   source: common practice, no source; the limit is the engine maker's
	//   note: a bolt that was tightened beyond yield, or is marked single use, is scrap whatever it measures; the engine maker's manual comes first
}
