package fasteners

import (
	"fmt"

	"example.com/closefit/units"
)

// approximately returns what was worked out in float64 as a quantity rounded to so many
// places. Callers have made sure that it is finite.
func approximately[D units.Dimension](u units.Unit[D], f float64, places int32) units.Quantity[D] {
	q, err := u.OfFloat64(f, places)
	if err != nil {
		panic(fmt.Sprintf("fasteners: worked out %v %v: %v", f, u, err))
	}
	return q
}
