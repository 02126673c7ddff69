package isofit

import (
	"fmt"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// Clearance returns the clearance of a hole and the shaft that goes into it, from
// limits of size or from what was measured; a negative one is an interference.
//
//	C = D - d
//
// D, d: diameters of hole and shaft. Source: ISO 286-1:2010, 3.3.
func Clearance(hole, shaft measure.LengthReading) *measure.Sum[units.LengthDim] {
	return &measure.Sum[units.LengthDim]{Name: "clearance", Symbol: "C", Terms: []measure.Term[units.LengthDim]{
		measure.Plus("D", "hole", hole), measure.Minus("d", "shaft", shaft),
	}}
}

// A FitKind is a kind of fit. The zero FitKind is UnknownFit.
type FitKind uint8

const (
	UnknownFit      FitKind = iota // a limit of size is missing
	ClearanceFit                   // there is a clearance, or contact, whatever the actual sizes
	TransitionFit                  // there is a clearance or an interference, as the sizes fall
	InterferenceFit                // there is an interference, or contact, whatever the actual sizes
)

var kindNames = [...]string{UnknownFit: "unknown fit", ClearanceFit: "clearance fit", TransitionFit: "transition fit", InterferenceFit: "interference fit"}

// KindOf returns the kind of fit that has these clearances. Limits that touch count as
// the standard counts them: a smallest clearance of zero is still a clearance fit, a
// smallest interference of zero still an interference fit (ISO 286-1:2010, 3.3). It is
// UnknownFit if a bound is missing.
func KindOf(clearance units.LengthInterval) FitKind {
	switch {
	case !clearance.Bounded():
		return UnknownFit
	case clearance.Lo().Sign() >= 0:
		return ClearanceFit
	case clearance.Hi().Sign() <= 0:
		return InterferenceFit
	}
	return TransitionFit
}

// describe writes a clearance in the words of its kind of fit.
func describe(clearance units.LengthInterval) string {
	kind := KindOf(clearance)
	switch kind {
	case UnknownFit:
		return kind.String() + ": a limit is missing"
	case ClearanceFit:
		return fmt.Sprintf("%s: smallest clearance %s, largest clearance %s", kind, clearance.Lo(), clearance.Hi())
	case InterferenceFit:
		return fmt.Sprintf("%s: smallest interference %s, largest interference %s", kind, clearance.Hi().Neg(), clearance.Lo().Neg())
	}
	return fmt.Sprintf("%s: largest interference %s, largest clearance %s", kind, clearance.Lo().Neg(), clearance.Hi())
}

// String returns "clearance fit", "transition fit", "interference fit" or "unknown
// fit".
func (k FitKind) String() string {
	if int(k) >= len(kindNames) {
		return fmt.Sprintf("FitKind(%d)", uint8(k))
	}
	return kindNames[k]
}

// MarshalText returns the words of String. The error is for a FitKind that is none of
// the constants.
func (k FitKind) MarshalText() ([]byte, error) {
	if int(k) >= len(kindNames) {
		return nil, &units.Error{Kind: units.ErrNotWritten, Where: "kind of fit", Found: k.String(), Fix: "use the package's constants"}
	}
	return []byte(k.String()), nil
}

// UnmarshalText reads the words of String.
func (k *FitKind) UnmarshalText(text []byte) error {
	for i, name := range kindNames {
		if string(text) == name {
			*k = FitKind(i)
			return nil
		}
	}
	return &units.Error{Kind: units.ErrNotWritten, Where: "kind of fit", Found: fmt.Sprintf("%.40q", text),
		Fix: `write "clearance fit", "transition fit", "interference fit" or "unknown fit"`}
}
