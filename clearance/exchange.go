package clearance

import "example.com/closefit/units"

// The exchange form: plain objects whose keys are all there. A size that was not read and
// a bound that there is not are null; a missing or unknown key is an error.

func (b *Bearing) UnmarshalJSON(data []byte) error {
	type plain Bearing
	return units.DecodeObject(data, (*plain)(b))
}

func (b *MeasuredBearing) UnmarshalJSON(data []byte) error {
	type plain MeasuredBearing
	return units.DecodeObject(data, (*plain)(b))
}

func (f *Fit) UnmarshalJSON(data []byte) error {
	type plain Fit
	return units.DecodeObject(data, (*plain)(f))
}

func (a *Alternative) UnmarshalJSON(data []byte) error {
	type plain Alternative
	return units.DecodeObject(data, (*plain)(a))
}

func (r *Remedy) UnmarshalJSON(data []byte) error {
	type plain Remedy
	return units.DecodeObject(data, (*plain)(r))
}

func (u *Use) UnmarshalJSON(data []byte) error {
	type plain Use
	return units.DecodeObject(data, (*plain)(u))
}

func (r *Remeasurement) UnmarshalJSON(data []byte) error {
	type plain Remeasurement
	return units.DecodeObject(data, (*plain)(r))
}

func (s *Slip[D]) UnmarshalJSON(data []byte) error {
	type plain Slip[D]
	return units.DecodeObject(data, (*plain)(s))
}

func (b *Body) UnmarshalJSON(data []byte) error {
	type plain Body
	return units.DecodeObject(data, (*plain)(b))
}

func (w *Warmth) UnmarshalJSON(data []byte) error {
	type plain Warmth
	return units.DecodeObject(data, (*plain)(w))
}

func (f *Filing) UnmarshalJSON(data []byte) error {
	type plain Filing
	return units.DecodeObject(data, (*plain)(f))
}

func (c *Compression) UnmarshalJSON(data []byte) error {
	type plain Compression
	return units.DecodeObject(data, (*plain)(c))
}

func (c *Crush) UnmarshalJSON(data []byte) error {
	type plain Crush
	return units.DecodeObject(data, (*plain)(c))
}

func (r *SizeRule) UnmarshalJSON(data []byte) error {
	type plain SizeRule
	return units.DecodeObject(data, (*plain)(r))
}

func (g *RingGap) UnmarshalJSON(data []byte) error {
	type plain RingGap
	return units.DecodeObject(data, (*plain)(g))
}

func (a *Arc) UnmarshalJSON(data []byte) error {
	type plain Arc
	return units.DecodeObject(data, (*plain)(a))
}

func (l *RingLayout) UnmarshalJSON(data []byte) error {
	type plain RingLayout
	return units.DecodeObject(data, (*plain)(l))
}

func (f *GapFault) UnmarshalJSON(data []byte) error {
	type plain GapFault
	return units.DecodeObject(data, (*plain)(f))
}
