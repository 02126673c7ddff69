package measure

import (
	"slices"

	"example.com/closefit/units"
)

// Feelers are a set of feeler blades, thinnest first. Each blade is taken to have
// the thickness marked on it unless WithTolerance says how far it may be off. A
// blade "goes" when it slides through with a light drag. No gap is below zero.
type Feelers struct{ blades ladder }

// NewFeelers returns a set of the blades given, ascending. The error is of kind
// ErrEmpty, ErrNotPositive or ErrOrder.
func NewFeelers(blades ...units.Length) (Feelers, error) {
	l, err := newLadder("feeler blades", blades)
	return Feelers{l}, err
}

// WithTolerance returns the set with the tolerance of a blade's thickness, to
// either side. It is a bracket. set names the set of blades: a blade of one set is
// the same blade wherever it stands, and what it is off by counts once, with its
// signs; without a name, every reading's blades are taken for others. The error is
// of kind ErrNotPositive for one below zero.
func (f Feelers) WithTolerance(tolerance units.Length, set string) (Feelers, error) {
	l, err := f.blades.withTolerance(tolerance, set)
	return Feelers{l}, err
}

// Blades returns the blades, ascending.
func (f Feelers) Blades() []units.Length { return slices.Clone(f.blades.rungs) }

// off returns what a blade's tolerance does at an end of a gap.
func (f Feelers) off(blade units.Length, at end) []doubt[units.LengthDim] {
	return f.blades.off("the "+f.blades.write(blade)+" blade", at)
}

// Gap returns the reading of a gap that the blade goes enters and the blade refused
// does not. They need not be neighbours: where blades between them were not tried,
// the interval is wider for it. The error is of kind ErrNotInSet, or
// ErrContradiction if the blade that goes is not the thinner.
func (f Feelers) Gap(at string, goes, refused units.Length) (LengthReading, error) {
	l := f.blades
	if _, err := l.find(goes); err != nil {
		return LengthReading{}, err
	}
	if _, err := l.find(refused); err != nil {
		return LengthReading{}, err
	}
	if refused.Cmp(goes) <= 0 {
		return LengthReading{}, l.fail(ErrContradiction, l.write(goes)+" goes and "+l.write(refused)+" does not",
			"the blade that does not go is the thicker one; exchange them or try again")
	}
	return l.seen(bladeBetween, at, units.MustInterval(goes, refused), goes, refused, f.off(goes, lower), f.off(refused, upper)), nil
}

// Goes returns the reading of a gap of which only the thickest blade that went is
// known: it is at least that, and has no upper bound. The error is of kind
// ErrNotInSet.
func (f Feelers) Goes(at string, blade units.Length) (LengthReading, error) {
	if _, err := f.blades.find(blade); err != nil {
		return LengthReading{}, err
	}
	return f.blades.seen(bladeGoes, at, units.AtLeast(blade), blade, units.Length{}, f.off(blade, lower)), nil
}

// Refuses returns the reading of a gap of which only a blade that did not go is
// known: it lies between nothing and that. The error is of kind ErrNotInSet.
func (f Feelers) Refuses(at string, blade units.Length) (LengthReading, error) {
	if _, err := f.blades.find(blade); err != nil {
		return LengthReading{}, err
	}
	return f.blades.seen(bladeRefused, at, units.MustInterval(units.Length{}, blade), blade, units.Length{}, f.off(blade, upper)), nil
}
