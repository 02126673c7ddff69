package clearance

import "example.com/closefit/units"

// The exchange form: plain objects whose keys are all there. A size that was not read and
// a bound that there is not are null; a missing or unknown key is an error. The types here
// ask for that themselves, because a zero would stand for what is not there; the others
// are read by units.DecodeObject, or within these.

func (f *Fit) UnmarshalJSON(data []byte) error {
	type plain Fit
	return units.DecodeObject(data, (*plain)(f))
}

func (r *SizeRule) UnmarshalJSON(data []byte) error {
	type plain SizeRule
	return units.DecodeObject(data, (*plain)(r))
}

func (g *RingGap) UnmarshalJSON(data []byte) error {
	type plain RingGap
	return units.DecodeObject(data, (*plain)(g))
}

func (l *RingLayout) UnmarshalJSON(data []byte) error {
	type plain RingLayout
	return units.DecodeObject(data, (*plain)(l))
}
