package measure

import "example.com/closefit/units"

// Feelers are a set of feeler blades. A blade "goes" when it slides through with a
// light drag. No gap is below zero.
type Feelers struct {
	Blades []units.Length `json:"blades"` // thinnest first

	// Tolerance is how far a blade's thickness may lie from its mark, to either side. It
	// is a bracket; zero takes the marks as exact.
	Tolerance units.Length `json:"tolerance"`

	// Set names the set of blades. A blade of one set is the same blade wherever it
	// stands, and its tolerance counts once, with its signs. Without a name, the blades
	// of every reading count as different ones.
	Set string `json:"set"`
}

func (f Feelers) ladder() ladder { return ladder{"feeler blades", f.Blades, f.Tolerance, f.Set} }

// Check returns an error of kind ErrEmpty if there is no blade, ErrNotPositive for a
// blade of zero or less or a tolerance below zero, ErrOrder for blades that do not
// ascend.
func (f Feelers) Check() error { return f.ladder().check() }

// Gap returns the reading of a gap that the blade goes enters and the blade refused does
// not. They need not be neighbours; untried blades between them make the interval wider.
// A blade that was not found is nil: if no blade was refused there is no upper bound, and
// if none went in the gap may be nothing. Without both, Gap returns the zero Reading. The
// error is what Check returns, of kind ErrNotInSet for another blade, or ErrContradiction
// if the blade that goes is not the thinner.
func (f Feelers) Gap(at string, goes, refused *units.Length) (LengthReading, error) {
	l := f.ladder()
	if err := l.check(); err != nil {
		return LengthReading{}, err
	}
	for _, blade := range []*units.Length{goes, refused} {
		if blade == nil {
			continue
		}
		if _, err := l.find(*blade); err != nil {
			return LengthReading{}, err
		}
	}
	off := func(blade units.Length, at end) []doubt[units.LengthDim] {
		return l.off("the "+l.write(blade)+" blade", at)
	}
	switch {
	case goes == nil && refused == nil:
		return LengthReading{}, nil
	case refused == nil:
		return l.seen(bladeGoes, at, units.AtLeast(*goes), *goes, units.Length{}, off(*goes, lower)), nil
	case goes == nil:
		return l.seen(bladeRefused, at, units.Between(units.Length{}, *refused), *refused, units.Length{}, off(*refused, upper)), nil
	case refused.Cmp(*goes) <= 0:
		return LengthReading{}, l.fail(ErrContradiction, l.write(*goes)+" goes and "+l.write(*refused)+" does not",
			"the blade that does not go is the thicker one; exchange them or try again")
	}
	return l.seen(bladeBetween, at, units.Between(*goes, *refused), *goes, *refused, off(*goes, lower), off(*refused, upper)), nil
}
