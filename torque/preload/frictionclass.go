package preload

import (
	"fmt"
	"strings"

	"example.com/closefit/units"
)

// FrictionClass returns the range of friction that VDI 2230 gives a class of surfaces and
// lubricants, in the thread as under the head:
//
//	A  0.04..0.10  lubricating coatings, waxes, solid lubricants
//	B  0.08..0.16  plain or phosphated steel, oiled or greased: the class to aim at
//	C  0.14..0.24  plain or zinc-plated, as delivered or thinly oiled
//	D  0.20..0.35  plain or hot-dip galvanised, dry
//
// Class E, above 0.30 (austenitic steel and light metals, dry), has no upper end and is left
// out. A range is no measurement: friction tested on the parts in hand is narrower.
//
// The error wraps ErrImpossible for any other letter.
//
// Source: VDI 2230-1:2003, table A5, as recalled.
func FrictionClass(letter string) (units.RatioInterval, error) {
	ranges := map[string]string{"A": "0.04..0.10", "B": "0.08..0.16", "C": "0.14..0.24", "D": "0.20..0.35"}
	text, known := ranges[strings.TrimSpace(letter)]
	if !known {
		return units.RatioInterval{}, impossible("friction class of VDI 2230", fmt.Sprintf("%.20q", letter), `write "A", "B", "C" or "D", or a range such as "0.10..0.16"`)
	}
	return ParseFriction(text)
}
