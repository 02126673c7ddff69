package isofit

import (
	"fmt"

	"example.com/closefit/units"
)

// The kinds of fit.
const (
	unknownFit      = "unknown fit"      // a limit of size is missing
	clearanceFit    = "clearance fit"    // there is a clearance, or contact, whatever the actual sizes
	transitionFit   = "transition fit"   // there is a clearance or an interference, as the sizes fall
	interferenceFit = "interference fit" // there is an interference, or contact, whatever the actual sizes
)

// KindOf returns the kind of fit with these clearances: "clearance fit", "transition fit"
// or "interference fit". Limits that touch count as the standard counts them: a smallest
// clearance of zero is still a clearance fit, a smallest interference of zero still an
// interference fit (ISO 286-1:2010, 3.3). It is "unknown fit" if a bound is missing.
func KindOf(clearance units.LengthInterval) string {
	switch {
	case !clearance.Bounded():
		return unknownFit
	case clearance.Lo().Sign() >= 0:
		return clearanceFit
	case clearance.Hi().Sign() <= 0:
		return interferenceFit
	}
	return transitionFit
}

// describe writes a clearance in the words of its kind of fit.
func describe(clearance units.LengthInterval) string {
	kind := KindOf(clearance)
	switch kind {
	case unknownFit:
		return kind + ": a limit is missing"
	case clearanceFit:
		return fmt.Sprintf("%s: smallest clearance %s, largest clearance %s", kind, clearance.Lo(), clearance.Hi())
	case interferenceFit:
		return fmt.Sprintf("%s: smallest interference %s, largest interference %s", kind, clearance.Hi().Neg(), clearance.Lo().Neg())
	}
	return fmt.Sprintf("%s: largest interference %s, largest clearance %s", kind, clearance.Lo().Neg(), clearance.Hi())
}
