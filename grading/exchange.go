package grading

import (
	"fmt"

	"example.com/closefit/units"
)

// The words of a scheme, and each type that is exchanged, are read strictly, as
// units.DecodeObject has it.

// MarshalText returns an error for an unknown side.
func (s Side) MarshalText() ([]byte, error) {
	var read Side
	err := read.UnmarshalText([]byte(s))
	return []byte(read), err
}

func (s *Side) UnmarshalText(text []byte) error {
	switch side := Side(text); side {
	case Housing, Journal:
		*s = side
		return nil
	}
	return fault(units.ErrNotWritten, "side", fmt.Sprintf("write %q or %q", Housing, Journal), "%q", shortened(string(text)))
}

func (p *Pair) UnmarshalJSON(data []byte) error {
	type pair Pair
	return units.DecodeObject(data, (*pair)(p))
}

func (s *Scheme) UnmarshalJSON(data []byte) error {
	type scheme Scheme
	return units.DecodeObject(data, (*scheme)(s))
}

func (c *Code) UnmarshalJSON(data []byte) error {
	type code Code
	return units.DecodeObject(data, (*code)(c))
}

func (r *SumRow) UnmarshalJSON(data []byte) error {
	type sumRow SumRow
	return units.DecodeObject(data, (*sumRow)(r))
}

func (s *Shell) UnmarshalJSON(data []byte) error {
	type shell Shell
	return units.DecodeObject(data, (*shell)(s))
}

func (f *Family) UnmarshalJSON(data []byte) error {
	type family Family
	return units.DecodeObject(data, (*family)(f))
}

func (r *Row) UnmarshalJSON(data []byte) error {
	type row Row
	return units.DecodeObject(data, (*row)(r))
}

func (s *Stamp) UnmarshalJSON(data []byte) error {
	type stamp Stamp
	return units.DecodeObject(data, (*stamp)(s))
}

func (r *RowReading) UnmarshalJSON(data []byte) error {
	type rowReading RowReading
	return units.DecodeObject(data, (*rowReading)(r))
}

func (a *Assignment) UnmarshalJSON(data []byte) error {
	type assignment Assignment
	return units.DecodeObject(data, (*assignment)(a))
}

func (s *Site) UnmarshalJSON(data []byte) error {
	type site Site
	return units.DecodeObject(data, (*site)(s))
}

func (f *PairFit) UnmarshalJSON(data []byte) error {
	type pairFit PairFit
	return units.DecodeObject(data, (*pairFit)(f))
}

func (a *Audit) UnmarshalJSON(data []byte) error {
	type audit Audit
	return units.DecodeObject(data, (*audit)(a))
}

func (c *Comparison) UnmarshalJSON(data []byte) error {
	type comparison Comparison
	return units.DecodeObject(data, (*comparison)(c))
}

func (p *Plan) UnmarshalJSON(data []byte) error {
	type plan Plan
	return units.DecodeObject(data, (*plan)(p))
}
