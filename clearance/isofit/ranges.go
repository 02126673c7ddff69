package isofit

import (
	"fmt"

	"example.com/closefit/units"
)

// fineUpTo has the upper ends, in mm, of the ranges of nominal size that the
// tables of fundamental deviations use: above the one before, up to and
// including it (ISO 286-1:2010, tables 2 to 5).
var fineUpTo = [...]int64{
	3, 6, 10, 14, 18, 24, 30, 40, 50, 65, 80, 100, 120,
	140, 160, 180, 200, 225, 250, 280, 315, 355, 400, 450, 500,
}

// mainOf says in which range of the table of standard tolerances each fine range
// lies (ISO 286-1:2010, table 1).
var mainOf = [len(fineUpTo)]int{0, 1, 2, 3, 3, 4, 4, 5, 5, 6, 6, 7, 7, 8, 8, 8, 9, 9, 9, 10, 10, 11, 11, 12, 12}

// mainRanges is how many ranges the table of standard tolerances has.
const mainRanges = 13

// rangeOf returns the fine range that a nominal size lies in. The error is of kind
// ErrNotGiven.
func rangeOf(nominal units.Length) (int, error) {
	if nominal.Sign() <= 0 {
		return 0, wrong(ErrNotGiven, nominal.String(), "a nominal size that is not above zero", "write the size of the feature, such as 55 mm")
	}
	for i, end := range fineUpTo {
		if nominal.Cmp(units.Millimetre.OfInt(end)) <= 0 {
			return i, nil
		}
	}
	return 0, wrong(ErrNotGiven, nominal.String(), fmt.Sprintf("a nominal size above %d mm", fineUpTo[len(fineUpTo)-1]),
		"write limits of size instead of a tolerance class: the tables here end at 500 mm")
}

// upToOne reports whether the nominal size is 1 mm or less, where the standard
// leaves out some classes.
func upToOne(nominal units.Length) bool { return nominal.Cmp(units.Millimetre.OfInt(1)) <= 0 }
