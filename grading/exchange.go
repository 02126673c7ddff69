package grading

import (
	"slices"

	"example.com/closefit/units"
)

// The words of a scheme, and each type that is exchanged, are read strictly, as
// units.DecodeObject has it.

// MarshalText returns the word; the error is for a side that is none.
func (s Side) MarshalText() ([]byte, error) { return writeWord(s, Housing, Journal) }

func (s *Side) UnmarshalText(text []byte) error { return readWord(s, text, Housing, Journal) }

// MarshalText returns the words; the error is for a rule that is none.
func (r Rule) MarshalText() ([]byte, error) { return writeWord(r, EachHalf, ByMatrix, BySum) }

func (r *Rule) UnmarshalText(text []byte) error { return readWord(r, text, EachHalf, ByMatrix, BySum) }

// MarshalText writes SameGrade as "same"; the error is for a mix that is none.
func (m Mix) MarshalText() ([]byte, error) {
	if m == SameGrade {
		return []byte("same"), nil
	}
	return writeWord(m, Neighbours, AnyGrades)
}

func (m *Mix) UnmarshalText(text []byte) error {
	if string(text) == "same" {
		*m = SameGrade
		return nil
	}
	return readWord(m, text, "same", Neighbours, AnyGrades)
}

// writeWord writes one of some words, so that nothing is written that cannot be read.
func writeWord[W ~string](w W, words ...W) ([]byte, error) {
	var read W
	err := readWord(&read, []byte(w), words...)
	return []byte(read), err
}

// readWord reads one of some words.
func readWord[W ~string](into *W, text []byte, words ...W) error {
	if !slices.Contains(words, W(text)) {
		fixes := make([]string, len(words))
		for i, w := range words {
			fixes[i] = string(w)
		}
		return fault(units.ErrNotWritten, "", "write one of "+orNone(fixes), "%q", shortened(string(text)))
	}
	*into = W(text)
	return nil
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

func (c *Cell) UnmarshalJSON(data []byte) error {
	type cell Cell
	return units.DecodeObject(data, (*cell)(c))
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

func (w *Washers) UnmarshalJSON(data []byte) error {
	type washers Washers
	return units.DecodeObject(data, (*washers)(w))
}

func (t *Thrust) UnmarshalJSON(data []byte) error {
	type thrust Thrust
	return units.DecodeObject(data, (*thrust)(t))
}
