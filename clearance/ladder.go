package clearance

import (
	"slices"

	"example.com/closefit/units"
)

// ladder is an ascending list of lengths: the printed widths of a strip, the
// blades of a feeler set.
type ladder struct {
	rungs []units.Length
	unit  units.LengthUnit // that errors are written in: the one the set is made in
}

// newLadder copies the rungs. Each must be above zero and above the one before.
func newLadder(where string, rungs []units.Length) (ladder, error) {
	if len(rungs) == 0 {
		return ladder{}, noRungs(where)
	}
	l := ladder{slices.Clone(rungs), unitOf(rungs)}
	for i, rung := range rungs {
		if rung.Sign() <= 0 {
			return ladder{}, &Error{Kind: ErrNotPositive, Where: where, Found: l.write(rung), Fix: "give one above zero"}
		}
		if i > 0 && rung.Cmp(rungs[i-1]) <= 0 {
			return ladder{}, &Error{Kind: ErrOrder, Where: where,
				Found: l.write(rung) + " after " + l.write(rungs[i-1]), Fix: "list every one once, smallest first"}
		}
	}
	return l, nil
}

func noRungs(where string) error {
	return &Error{Kind: ErrEmpty, Where: where, Fix: "list every one, smallest first"}
}

// unitOf returns the inch for a set whose every member has an end as a decimal of
// inches, which a size in millimetres has by rare chance only; else the millimetre.
func unitOf(rungs []units.Length) units.LengthUnit {
	for _, rung := range rungs {
		if _, finite := rung.Rat(units.Inch).FloatPrec(); !finite {
			return units.Millimetre
		}
	}
	return units.Inch
}

// write writes a length in the unit of the set.
func (l ladder) write(q units.Length) string { return written(q, l.unit) }

// find returns the index of a rung.
func (l ladder) find(where string, rung units.Length) (int, error) {
	if len(l.rungs) == 0 {
		return 0, noRungs(where)
	}
	i, found := slices.BinarySearchFunc(l.rungs, rung, units.Length.Cmp)
	if found {
		return i, nil
	}
	return 0, &Error{Kind: ErrNotInSet, Where: where, Found: l.write(rung), Fix: l.nearest(i)}
}

// nearest suggests what to give instead of a value that would stand at index i.
func (l ladder) nearest(i int) string {
	switch i {
	case 0:
		return "the first is " + l.write(l.rungs[0])
	case len(l.rungs):
		return "the last is " + l.write(l.rungs[i-1])
	}
	return "the nearest are " + l.write(l.rungs[i-1]) + " and " + l.write(l.rungs[i])
}
