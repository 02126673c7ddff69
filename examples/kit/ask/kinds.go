package ask

import (
	"errors"
	"slices"
	"strings"

	"example.com/closefit/units"
)

// A kind is a kind of quantity: what can be done with a text of which only the unit says what it is.
type kind struct {
	name    string
	reads   func(text string) error // whether it is an interval of this kind
	unit    func(spelling string) bool
	convert func(Convert) (Converted, error)
	judge   func(Judge) (Judged, error) // nil where nothing is judged
}

// kinds are those that are known, the usual ones first.
func kinds() []kind {
	return []kind{
		measured[units.LengthDim]("length"), measured[units.AngleDim]("angle"), measured[units.TorqueDim]("torque"), measured[units.ForceDim]("force"),
		measured[units.PressureDim]("pressure"), measured[units.MassDim]("mass"), measured[units.VolumeDim]("volume"), measured[units.AreaDim]("area"), measured[units.RatioDim]("ratio"),
		only(units.Temperature{}, "temperature"), only(units.Density{}, "density"), only(units.DynamicViscosity{}, "dynamic viscosity"),
		only(units.KinematicViscosity{}, "kinematic viscosity"), only(units.Power{}, "power"), only(units.RotationalSpeed{}, "rotational speed"),
		only(units.Stiffness{}, "stiffness"), only(units.VolumeFlow{}, "volume flow"),
	}
}

// measured is a kind of quantity that instruments show.
func measured[D units.Dimension](name string) kind {
	k := only(units.Quantity[D]{}, name)
	k.judge = judge[D]
	return k
}

// only is a kind of quantity whose texts are converted. The value tells which.
func only[D, E units.Dimension](_ units.Value[D, E], name string) kind {
	return kind{
		name:    name,
		reads:   func(text string) error { _, err := units.Parse[units.ClosedInterval[D, E]](text); return err },
		unit:    func(spelling string) bool { _, err := units.Parse[units.Scale[D, E]](spelling); return err == nil },
		convert: convert[D, E],
	}
}

// kindOf returns the kind that a text is of, by its unit.
func kindOf(text string) (kind, error) {
	all := kinds()
	var first error
	for _, k := range all {
		switch err := k.reads(text); {
		case err == nil:
			return k, nil
		case !errors.Is(err, units.ErrWrongDimension):
			return kind{}, err
		case first == nil:
			first = err
		}
	}
	return kind{}, first
}

// names are the kinds that can be judged, in words.
func judgedKinds() string {
	var names []string
	for k := range slices.Values(kinds()) {
		if k.judge != nil {
			names = append(names, k.name)
		}
	}
	return strings.Join(names, ", ")
}
