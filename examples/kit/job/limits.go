package job

import (
	"regexp"

	"example.com/closefit/clearance/isofit"
	"example.com/closefit/units"
)

// endsInClass is a text that ends as a fit does, in a letter and a grade. Limits that
// are written as lengths end in a unit.
var endsInClass = regexp.MustCompile(`\pL\d+$`)

// parseLimits reads the limits of a clearance: "0.053..0.087 mm", or the fit that a
// drawing names, "55 H6/f6", whose smallest and largest clearance they are.
func parseLimits(text string) (units.LengthInterval, error) {
	if !endsInClass.MatchString(text) {
		return units.ParseLengthInterval(text)
	}
	fit, err := isofit.ParseDesignation(text)
	if err != nil {
		return units.LengthInterval{}, err
	}
	return fit.Clearance().Interval(), nil
}
