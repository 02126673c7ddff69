package clearance

import (
	"fmt"

	"example.com/closefit/units"
)

// An Instrument is a measuring instrument as far as its readings go: what it is
// called, the smallest step it shows, and how far its readings can be trusted.
// Micrometers and bore gauges are length instruments, pressure gauges are
// pressure instruments.
type Instrument[D units.Dimension] struct {
	// Name is what the record calls it: "outside micrometer 50-75 mm".
	Name string

	// Graduation is its smallest step; zero if that is not known.
	Graduation units.Quantity[D]

	// Uncertainty is the expanded uncertainty of one reading with the coverage
	// factor k = 2 (JCGM 100:2008, 6.2), graduation and handling included: what
	// a calibration certificate states, or what repeated readings of a known
	// piece have shown. It must be above zero.
	Uncertainty units.Quantity[D]

	// Freedom is the degrees of freedom behind the uncertainty, where its
	// certificate states them; zero for unlimited ones, as is usual. Uncertainty
	// is then twice the standard uncertainty all the same, and intervals are
	// widened by Student's t (JCGM 100:2008, G.3).
	Freedom int
}

// A LengthInstrument measures lengths.
type LengthInstrument = Instrument[units.LengthDim]

// A PressureInstrument measures pressures.
type PressureInstrument = Instrument[units.PressureDim]

// Check returns an *Error of kind ErrNoUncertainty if the instrument has no
// uncertainty above zero, of kind ErrNotPositive if its graduation is negative, of
// kind ErrTooFew if its degrees of freedom are.
func (in Instrument[D]) Check() error {
	if in.Uncertainty.Sign() <= 0 {
		fix := "give its expanded uncertainty (k = 2), as its certificate states it"
		if in.Graduation.Sign() > 0 {
			fix += "; the graduation alone accounts for half of " + in.Graduation.String()
		}
		found := ""
		if !in.Uncertainty.IsZero() {
			found = in.Uncertainty.String()
		}
		return &Error{Kind: ErrNoUncertainty, Where: in.label(), Found: found, Fix: fix}
	}
	if in.Freedom < 0 {
		return &Error{Kind: ErrTooFew, Where: in.label() + ", degrees of freedom", Found: fmt.Sprint(in.Freedom), Fix: "give one or more, or none for unlimited ones"}
	}
	if in.Graduation.Sign() < 0 {
		return &Error{Kind: ErrNotPositive, Where: in.label() + ", graduation", Found: in.Graduation.String(), Fix: "give one above zero, or none"}
	}
	return nil
}

// unlimited is how many degrees of freedom count as unlimited: Student's t is then
// normal to six places.
const unlimited = 1_000_000

// freedom returns degrees of freedom as a reading keeps them.
func freedom(n int) int32 {
	if n >= unlimited {
		return 0
	}
	return int32(n)
}

// reach returns how far a reading's interval reaches to either side. The
// instrument must be one that Check passes.
func (in Instrument[D]) reach() units.Quantity[D] {
	return widen(Coverage{}, in.Uncertainty, freedom(in.Freedom))
}

// label names the instrument also if the caller did not.
func (in Instrument[D]) label() string {
	if in.Name == "" {
		return "instrument"
	}
	return in.Name
}

// Read returns the reading of a size: value ± Uncertainty. The error is an *Error:
// what Check returns, or ErrNotPositive for a value of zero or less.
func (in Instrument[D]) Read(value units.Quantity[D]) (r Reading[D], err error) {
	if in.Uncertainty.Sign() <= 0 || in.Graduation.Sign() < 0 || in.Freedom < 0 {
		return r, in.Check()
	}
	if value.Sign() <= 0 {
		return r, positive(in.label(), value)
	}
	r.bracket = units.Exactly(value)
	r.expanded = in.Uncertainty
	r.freedom = freedom(in.Freedom)
	r.how = byInstrument
	r.name = in.label()
	return r, nil
}

// Difference returns the reading of the travel from one indication to another,
// as a dial shows end play: |to - from| ± Uncertainty. Indications may have
// either sign. Uncertainty is that of the travel, which is what certificates of
// dials state; where it is that of one indication, give √2 times it. Travel is
// never negative, so the interval is cut at zero.
func (in Instrument[D]) Difference(from, to units.Quantity[D]) (Reading[D], error) {
	if err := in.Check(); err != nil {
		return Reading[D]{}, err
	}
	travel := to.Sub(from).Abs()
	return Reading[D]{
		bracket:  units.Exactly(travel),
		expanded: in.Uncertainty,
		freedom:  freedom(in.Freedom),
		floored:  true,
		how:      byDifference,
		name:     in.label(),
		seen:     &seen[D]{a: from, b: to},
	}, nil
}
