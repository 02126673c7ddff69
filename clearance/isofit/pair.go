package isofit

import (
	"fmt"

	"example.com/closefit/units"
)

// A Pair is the limits of size of a hole and of the shaft that goes into it,
// wherever they come from: a tolerance class, a drawing, measurement. Both must
// have two bounds.
type Pair struct {
	Hole, Shaft units.LengthInterval
}

// Clearance returns the clearances that the limits allow, from the smallest to
// the largest; a negative one is an interference.
//
//	smallest = hole min - shaft max
//	largest  = hole max - shaft min
//
// All lengths are diameters. Source: ISO 286-1:2010, 3.3.
func (p Pair) Clearance() units.LengthInterval { return p.Hole.Sub(p.Shaft) }

// Kind returns the kind of fit. Limits that touch count as the standard counts
// them: a smallest clearance of zero is still a clearance fit, a smallest
// interference of zero still an interference fit (ISO 286-1:2010, 3.3). It is
// Unknown if a bound is missing.
func (p Pair) Kind() Kind {
	c := p.Clearance()
	switch {
	case !c.Bounded():
		return Unknown
	case c.Lo().Sign() >= 0:
		return Clearance
	case c.Hi().Sign() <= 0:
		return Interference
	}
	return Transition
}

// describe writes the clearance in the words of the kind of fit.
func (p Pair) describe() string {
	c := p.Clearance()
	switch p.Kind() {
	case Unknown:
		return "a limit is missing"
	case Clearance:
		return fmt.Sprintf("smallest clearance %s, largest clearance %s", c.Lo(), c.Hi())
	case Interference:
		return fmt.Sprintf("smallest interference %s, largest interference %s", c.Hi().Neg(), c.Lo().Neg())
	}
	return fmt.Sprintf("largest interference %s, largest clearance %s", c.Lo().Neg(), c.Hi())
}

// A Kind is a kind of fit. The zero Kind is Unknown.
type Kind uint8

const (
	Unknown      Kind = iota // a limit of size is missing
	Clearance                // there is a clearance, or contact, whatever the actual sizes
	Transition               // there is a clearance or an interference, as the sizes fall
	Interference             // there is an interference, or contact, whatever the actual sizes
)

// String returns "clearance fit", "transition fit", "interference fit" or "unknown
// fit".
func (k Kind) String() string {
	switch k {
	case Unknown:
		return "unknown fit"
	case Clearance:
		return "clearance fit"
	case Transition:
		return "transition fit"
	case Interference:
		return "interference fit"
	}
	return fmt.Sprintf("(no kind of fit: %d)", uint8(k))
}

// A Design is a fit wanted by its smallest clearance and its two tolerances,
// before limits of size are chosen. An interference is a negative clearance: the
// largest interference is the smallest clearance.
type Design struct {
	Nominal           units.Length
	HoleTolerance     units.Length
	ShaftTolerance    units.Length
	SmallestClearance units.Length
}

// HoleBasis returns the pair whose hole begins at the nominal size, as all holes
// of letter H do. The error is an *Error of kind ErrNegative for a negative
// tolerance.
//
//	hole  = nominal .. nominal + hole tolerance
//	shaft max = nominal - smallest clearance, shaft min = shaft max - shaft tolerance
func (d Design) HoleBasis() (Pair, error) {
	if err := d.check(); err != nil {
		return Pair{}, err
	}
	shaft := d.Nominal.Sub(d.SmallestClearance)
	return Pair{
		Hole:  units.MustInterval(d.Nominal, d.Nominal.Add(d.HoleTolerance)),
		Shaft: units.MustInterval(shaft.Sub(d.ShaftTolerance), shaft),
	}, nil
}

// ShaftBasis returns the pair whose shaft ends at the nominal size, as all
// shafts of letter h do. The error is as HoleBasis's.
//
//	shaft = nominal - shaft tolerance .. nominal
//	hole min = nominal + smallest clearance, hole max = hole min + hole tolerance
func (d Design) ShaftBasis() (Pair, error) {
	if err := d.check(); err != nil {
		return Pair{}, err
	}
	hole := d.Nominal.Add(d.SmallestClearance)
	return Pair{
		Hole:  units.MustInterval(hole, hole.Add(d.HoleTolerance)),
		Shaft: units.MustInterval(d.Nominal.Sub(d.ShaftTolerance), d.Nominal),
	}, nil
}

func (d Design) check() error {
	for _, t := range []units.Length{d.HoleTolerance, d.ShaftTolerance} {
		if t.Sign() < 0 {
			return wrong(ErrNegative, t.String(), "a negative tolerance", "write the width of the limits, such as 0.02 mm")
		}
	}
	return nil
}
