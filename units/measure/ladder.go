package measure

import (
	"slices"
	"strings"

	"example.com/closefit/units"
)

// ladder is an ascending list of lengths that things are compared with: the prints
// of a strip, the blades of a feeler set.
type ladder struct {
	name      string
	rungs     []units.Length
	tolerance units.Length // of each rung; zero for none stated
	set       string       // what shares a rung's tolerance; "" for one of its own in each reading
}

// check returns an error unless each rung is above zero and above the one before, and
// the tolerance is not below zero.
func (l ladder) check() error {
	if len(l.rungs) == 0 {
		return l.fail(ErrEmpty, "", "list every one, smallest first")
	}
	for i, rung := range l.rungs {
		if rung.Sign() <= 0 {
			return l.fail(ErrNotPositive, l.write(rung), "give one above zero")
		}
		if i > 0 && rung.Cmp(l.rungs[i-1]) <= 0 {
			return l.fail(ErrOrder, l.write(rung)+" after "+l.write(l.rungs[i-1]), "list every one once, smallest first")
		}
	}
	if l.tolerance.Sign() < 0 {
		return &units.Error{Kind: ErrNotPositive, Where: l.name + ", tolerance", Found: l.write(l.tolerance),
			Fix: "give how far one may be off to either side, such as " + l.write(l.tolerance.Neg())}
	}
	return nil
}

func (l ladder) fail(kind error, found, fix string) error {
	return &units.Error{Kind: kind, Where: l.name, Found: found, Fix: fix}
}

// write writes a length in the unit of the set: the inch if every member has an end as
// a decimal of inches, which a size in millimetres has by rare chance only.
func (l ladder) write(q units.Length) string {
	for _, rung := range l.rungs {
		if _, finite := rung.Rat(units.Inch).FloatPrec(); !finite {
			return q.Written(units.Millimetre)
		}
	}
	return q.Written(units.Inch)
}

// find returns the index of a rung.
func (l ladder) find(rung units.Length) (int, error) {
	i, found := slices.BinarySearchFunc(l.rungs, rung, units.Length.Cmp)
	if found {
		return i, nil
	}
	return 0, l.fail(ErrNotInSet, l.write(rung), l.nearest(i))
}

// nearest suggests what to give instead of a value that would stand at index i.
func (l ladder) nearest(i int) string {
	switch i {
	case 0:
		return "the first is " + l.write(l.rungs[0]) + "; give <= " + l.write(l.rungs[0]) + " for less"
	case len(l.rungs):
		return "the last is " + l.write(l.rungs[i-1]) + "; give >= " + l.write(l.rungs[i-1]) + " for more"
	}
	below, above := l.write(l.rungs[i-1]), l.write(l.rungs[i])
	number, _, _ := strings.Cut(below, " ") // the unit stands behind the other
	return "the nearest are " + below + " and " + above + "; give " + number + ".." + above + " for between them"
}

// end says which end of a reading a rung sets.
type end uint8

const (
	lower end = 1 << iota
	upper
	both = lower | upper
)

// off returns what a rung's tolerance does to a reading that has it at an end.
// Every reading with that rung of one set shares it; a set without a name shares
// nothing.
func (l ladder) off(rung string, at end) []doubt[units.LengthDim] {
	if l.tolerance.IsZero() {
		return nil
	}
	d := doubt[units.LengthDim]{source: source{kind: piece}}
	if l.set != "" {
		// One name with two tolerances is two things: nothing cancels between them.
		d.of = l.set + ", " + rung + ", ±" + l.tolerance.Exact()
	}
	if at&lower != 0 {
		d.lo = l.tolerance
	}
	if at&upper != 0 {
		d.hi = l.tolerance
	}
	return []doubt[units.LengthDim]{d}
}

// seen returns the reading of a clearance or gap, which cannot be below zero,
// between rungs.
func (l ladder) seen(by means, at string, bracket units.LengthInterval, a, b units.Length, off ...[]doubt[units.LengthDim]) LengthReading {
	return LengthReading{nonNegative: true, act: act[units.LengthDim]{
		means: by, by: l.name, at: at, bracket: bracket, more: &more[units.LengthDim]{seen: [2]units.Length{a, b}, doubts: slices.Concat(off...)},
	}}
}
