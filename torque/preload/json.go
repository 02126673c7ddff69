package preload

import "example.com/closefit/units"

// Every type here travels as an object with a key for each field. Reading one is strict
// (units.DecodeObject): a key that is missing, unknown or there twice is an error, and null
// is for what there is not.

// UnmarshalJSON reads what encoding/json writes of a Friction.
func (f *Friction) UnmarshalJSON(data []byte) error {
	type plain Friction
	return units.DecodeObject(data, (*plain)(f))
}

// UnmarshalJSON reads what encoding/json writes of a Screw.
func (s *Screw) UnmarshalJSON(data []byte) error {
	type plain Screw
	return units.DecodeObject(data, (*plain)(s))
}

// UnmarshalJSON reads what encoding/json writes of a Promise.
func (p *Promise) UnmarshalJSON(data []byte) error {
	type plain Promise
	return units.DecodeObject(data, (*plain)(p))
}

// UnmarshalJSON reads what encoding/json writes of a YieldBolt.
func (b *YieldBolt) UnmarshalJSON(data []byte) error {
	type plain YieldBolt
	return units.DecodeObject(data, (*plain)(b))
}

// UnmarshalJSON reads what encoding/json writes of a State.
func (s *State) UnmarshalJSON(data []byte) error {
	type plain State
	return units.DecodeObject(data, (*plain)(s))
}

// UnmarshalJSON reads what encoding/json writes of a Forecast.
func (f *Forecast) UnmarshalJSON(data []byte) error {
	type plain Forecast
	return units.DecodeObject(data, (*plain)(f))
}

// UnmarshalJSON reads what encoding/json writes of a Cause.
func (c *Cause) UnmarshalJSON(data []byte) error {
	type plain Cause
	return units.DecodeObject(data, (*plain)(c))
}

// UnmarshalJSON reads what encoding/json writes of a Scattering.
func (s *Scattering) UnmarshalJSON(data []byte) error {
	type plain Scattering
	return units.DecodeObject(data, (*plain)(s))
}

// UnmarshalJSON reads what encoding/json writes of a Method.
func (m *Method) UnmarshalJSON(data []byte) error {
	type plain Method
	return units.DecodeObject(data, (*plain)(m))
}

// UnmarshalJSON reads what encoding/json writes of a Wrench.
func (w *Wrench) UnmarshalJSON(data []byte) error {
	type plain Wrench
	return units.DecodeObject(data, (*plain)(w))
}

// UnmarshalJSON reads what encoding/json writes of a Setting.
func (s *Setting) UnmarshalJSON(data []byte) error {
	type plain Setting
	return units.DecodeObject(data, (*plain)(s))
}

// UnmarshalJSON reads what encoding/json writes of a Extension.
func (e *Extension) UnmarshalJSON(data []byte) error {
	type plain Extension
	return units.DecodeObject(data, (*plain)(e))
}
