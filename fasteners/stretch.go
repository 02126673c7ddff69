package fasteners

import (
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// Stretch returns how much longer a bolt is than when it was new, its permanent stretch:
//
//	ΔL = L - L0
//
// L is its length now and L0 its length when new, measured in the same way over the same
// faces. L0 may be a nominal length if it carries the tolerance that bolts are made to
// ("62 ±0.15 mm", by [measure.Given]): a nominal length alone is not what this bolt measured.
// An error that one micrometer makes in both readings cancels, as far as its instrument states
// it.
//
// A bolt does not get shorter. A reading that says so contradicts itself and proves nothing:
// one of the lengths was measured wrong, or is another bolt's.
//
// Source: common practice, no source; the limit is the engine maker's.
func Stretch(now, whenNew measure.LengthReading) *measure.Sum[units.LengthDim] {
	return &measure.Sum[units.LengthDim]{
		Name: "permanent stretch", Symbol: "ΔL", NonNegative: true,
		Terms: []measure.Term[units.LengthDim]{
			measure.Plus("L", "length now", now),
			measure.Minus("L0", "length when new", whenNew),
		},
	}
}

// NeckDown returns how much thinner a bolt is at its thinnest than where it cannot have
// stretched:
//
//	Δd = d - dmin
//
// d is the diameter at an unstretched place of the same nominal size, dmin the smallest
// diameter found along the stretched length. A reading that makes the thinnest place the
// thicker one proves nothing: the places were wrong.
//
// Source: common practice, no source; the limit is the engine maker's.
func NeckDown(shank, thinnest measure.LengthReading) *measure.Sum[units.LengthDim] {
	return &measure.Sum[units.LengthDim]{
		Name: "neck-down", Symbol: "Δd", NonNegative: true,
		Terms: []measure.Term[units.LengthDim]{
			measure.Plus("d", "diameter of the shank", shank),
			measure.Minus("dmin", "thinnest diameter", thinnest),
		},
	}
}
