package clearance

import (
	"slices"

	"example.com/closefit/units"
)

// ladder is an ascending list of lengths: the printed widths of a strip, the
// blades of a feeler set.
type ladder []units.Length

// newLadder copies the rungs. Each must be above zero and above the one before.
func newLadder(where string, rungs []units.Length) (ladder, error) {
	if len(rungs) == 0 {
		return nil, noRungs(where)
	}
	for i, rung := range rungs {
		if err := positive(where, rung); err != nil {
			return nil, err
		}
		if i > 0 && rung.Cmp(rungs[i-1]) <= 0 {
			return nil, &Error{Kind: ErrOrder, Where: where,
				Found: rung.String() + " after " + rungs[i-1].String(), Fix: "list every one once, smallest first"}
		}
	}
	return slices.Clone(rungs), nil
}

func noRungs(where string) error {
	return &Error{Kind: ErrEmpty, Where: where, Fix: "list every one, smallest first"}
}

// find returns the index of a rung.
func (l ladder) find(where string, rung units.Length) (int, error) {
	if len(l) == 0 {
		return 0, noRungs(where)
	}
	i, found := slices.BinarySearchFunc(l, rung, units.Length.Cmp)
	if found {
		return i, nil
	}
	return 0, &Error{Kind: ErrNotInSet, Where: where, Found: rung.String(), Fix: l.nearest(i)}
}

// nearest suggests what to give instead of a value that would stand at index i.
func (l ladder) nearest(i int) string {
	switch i {
	case 0:
		return "the first is " + l[0].String()
	case len(l):
		return "the last is " + l[len(l)-1].String()
	}
	return "the nearest are " + l[i-1].String() + " and " + l[i].String()
}
