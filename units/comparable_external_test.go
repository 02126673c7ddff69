package units_test

import (
	"reflect"
	"testing"

	"example.com/closefit/units"
)

// TestDimensionsDoNotMix: no quantity can be assigned or converted to one of another
// dimension, nor its interval or unit, so that adding the two does not compile.
func TestDimensionsDoNotMix(t *testing.T) {
	for _, family := range [][]any{
		{units.Length{}, units.Angle{}, units.Torque{}, units.Force{}, units.Pressure{}, units.TemperatureDifference{}, units.Temperature{},
			units.RotationalSpeed{}, units.DynamicViscosity{}, units.Area{}, units.Volume{}, units.Stiffness{}, units.Mass{}, units.Ratio{},
			units.VolumeFlow{}, units.Power{}, units.KinematicViscosity{}, units.Density{}},
		{units.LengthInterval{}, units.ForceInterval{}, units.Interval[units.MassDim]{}, units.RatioInterval{}, units.TemperatureInterval{}},
	} {
		for i, a := range family {
			for j, b := range family {
				from, to := reflect.TypeOf(a), reflect.TypeOf(b)
				if i != j && (from.AssignableTo(to) || from.ConvertibleTo(to)) {
					t.Errorf("%s can be made %s", from, to)
				}
			}
		}
	}
}

// TestNotComparable: == between quantities must not compile, because two equal ones
// can be held in different memory.
func TestNotComparable(t *testing.T) {
	for _, v := range []any{units.Length{}, units.Torque{}, units.LengthInterval{}, units.Temperature{}, units.TemperatureInterval{}} {
		if reflect.TypeOf(v).Comparable() {
			t.Errorf("%T can be compared with ==", v)
		}
	}
}
