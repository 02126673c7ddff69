package clearance

import "example.com/closefit/units"

// The exchange form: plain objects whose keys are all there. A size that was not read and
// a bound that there is not are null; a missing or unknown key is an error, also where a
// type stands alone.

func (f *Fit) UnmarshalJSON(data []byte) error             { return units.DecodeObject(data, f) }
func (s *SizeRule) UnmarshalJSON(data []byte) error        { return units.DecodeObject(data, s) }
func (r *RingLayout) UnmarshalJSON(data []byte) error      { return units.DecodeObject(data, r) }
func (b *Bearing) UnmarshalJSON(data []byte) error         { return units.DecodeObject(data, b) }
func (m *MeasuredBearing) UnmarshalJSON(data []byte) error { return units.DecodeObject(data, m) }
func (a *Alternative) UnmarshalJSON(data []byte) error     { return units.DecodeObject(data, a) }
func (r *Remedy) UnmarshalJSON(data []byte) error          { return units.DecodeObject(data, r) }
func (r *Remeasurement) UnmarshalJSON(data []byte) error   { return units.DecodeObject(data, r) }
func (b *Body) UnmarshalJSON(data []byte) error            { return units.DecodeObject(data, b) }
func (f *Filing) UnmarshalJSON(data []byte) error          { return units.DecodeObject(data, f) }
func (c *Compression) UnmarshalJSON(data []byte) error     { return units.DecodeObject(data, c) }
func (c *Crush) UnmarshalJSON(data []byte) error           { return units.DecodeObject(data, c) }
func (a *Arc) UnmarshalJSON(data []byte) error             { return units.DecodeObject(data, a) }
func (s *Slip[D]) UnmarshalJSON(data []byte) error         { return units.DecodeObject(data, s) }
