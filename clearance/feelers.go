package clearance

import "example.com/closefit/units"

// Feelers are a set of feeler blades, thinnest first. Each blade is taken to
// have the thickness marked on it; where the set has a tolerance, widen the
// reading by it. A blade "goes" when it slides through with a light drag.
type Feelers struct {
	blades ladder
}

const feelersName = "feeler set"

// NewFeelers returns a set of the blades given, ascending. The error is an
// *Error of kind ErrEmpty, ErrNotPositive or ErrOrder.
func NewFeelers(blades ...units.Length) (Feelers, error) {
	l, err := newLadder(feelersName, blades)
	return Feelers{l}, err
}

// Blades returns the blades, ascending.
func (f Feelers) Blades() []units.Length { return append([]units.Length(nil), f.blades.rungs...) }

// Gap returns the reading of a gap that the blade goes enters and the blade
// refused does not. They need not be neighbours: where blades between them were
// not tried, the interval is wider for it. The error is an *Error of kind
// ErrNotInSet, or ErrContradiction if the blade that goes is not the thinner.
func (f Feelers) Gap(goes, refused units.Length) (LengthReading, error) {
	if _, err := f.blades.find(feelersName, goes); err != nil {
		return LengthReading{}, err
	}
	if _, err := f.blades.find(feelersName, refused); err != nil {
		return LengthReading{}, err
	}
	if refused.Cmp(goes) <= 0 {
		return LengthReading{}, &Error{Kind: ErrContradiction, Where: feelersName,
			Found: f.blades.write(goes) + " goes and " + f.blades.write(refused) + " does not",
			Fix:   "the blade that does not go is the thicker one; exchange them or try again"}
	}
	return bracketed(units.MustInterval(goes, refused), bladeBetween, goes, refused), nil
}

// Goes returns the reading of a gap of which only the thickest blade that went
// is known: it is at least that, and has no upper bound.
func (f Feelers) Goes(blade units.Length) (LengthReading, error) {
	if _, err := f.blades.find(feelersName, blade); err != nil {
		return LengthReading{}, err
	}
	return bracketed(units.AtLeast(blade), bladeGoes, blade, units.Length{}), nil
}

// Refuses returns the reading of a gap of which only a blade that did not go is
// known: it lies between nothing and that.
func (f Feelers) Refuses(blade units.Length) (LengthReading, error) {
	if _, err := f.blades.find(feelersName, blade); err != nil {
		return LengthReading{}, err
	}
	return bracketed(units.MustInterval(units.Length{}, blade), bladeRefused, blade, units.Length{}), nil
}
