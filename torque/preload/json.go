package preload

import "example.com/closefit/units"

// Every type here travels as an object with a key for each field. Reading one is strict
// (units.DecodeObject): a key that is missing, unknown or there twice is an error, and null
// is for what there is not.

// UnmarshalJSON reads what encoding/json writes of a Friction.
func (f *Friction) UnmarshalJSON(data []byte) error {
	type friction Friction
	return units.DecodeObject(data, (*friction)(f))
}

// UnmarshalJSON reads what encoding/json writes of a Screw.
func (s *Screw) UnmarshalJSON(data []byte) error {
	type screw Screw
	return units.DecodeObject(data, (*screw)(s))
}

// UnmarshalJSON reads what encoding/json writes of a YieldBolt.
func (b *YieldBolt) UnmarshalJSON(data []byte) error {
	type yieldBolt YieldBolt
	return units.DecodeObject(data, (*yieldBolt)(b))
}

// UnmarshalJSON reads what encoding/json writes of a State.
func (s *State) UnmarshalJSON(data []byte) error {
	type state State
	return units.DecodeObject(data, (*state)(s))
}

// UnmarshalJSON reads what encoding/json writes of a Forecast.
func (f *Forecast) UnmarshalJSON(data []byte) error {
	type forecast Forecast
	return units.DecodeObject(data, (*forecast)(f))
}

// UnmarshalJSON reads what encoding/json writes of a Cause.
func (c *Cause) UnmarshalJSON(data []byte) error {
	type cause Cause
	return units.DecodeObject(data, (*cause)(c))
}

// UnmarshalJSON reads what encoding/json writes of a Scattering.
func (s *Scattering) UnmarshalJSON(data []byte) error {
	type scattering Scattering
	return units.DecodeObject(data, (*scattering)(s))
}

// UnmarshalJSON reads what encoding/json writes of a Method.
func (m *Method) UnmarshalJSON(data []byte) error {
	type method Method
	var w method
	if err := units.DecodeObject(data, &w); err != nil {
		return err
	}
	if w.Factor.IsEmpty() == w.Scatter.IsEmpty() {
		return &units.Error{Kind: units.ErrNotWritten, Where: "method", Found: "not one of a factor and a scatter", Fix: "write the one that its source gives, and null for the other"}
	}
	*m = Method(w)
	return nil
}

// UnmarshalJSON reads what encoding/json writes of a Wrench.
func (w *Wrench) UnmarshalJSON(data []byte) error {
	type wrench Wrench
	return units.DecodeObject(data, (*wrench)(w))
}

// UnmarshalJSON reads what encoding/json writes of an Extension.
func (e *Extension) UnmarshalJSON(data []byte) error {
	type extension Extension
	return units.DecodeObject(data, (*extension)(e))
}
