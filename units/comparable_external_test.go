package units_test

import (
	"reflect"
	"testing"

	"example.com/closefit/units"
)

// TestNotComparable: == between quantities must not compile, because two equal ones
// can be held in different memory.
func TestNotComparable(t *testing.T) {
	for _, v := range []any{units.Length{}, units.Torque{}, units.LengthInterval{}, units.Temperature{}, units.TemperatureInterval{}} {
		if reflect.TypeOf(v).Comparable() {
			t.Errorf("%T can be compared with ==", v)
		}
	}
}
