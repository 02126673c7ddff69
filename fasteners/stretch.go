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
// faces. L0 may be a nominal length with the tolerance of such bolts ("62 ±0.15 mm", by
// [measure.Given]); a bare nominal length is not a reading of this bolt. An error that
// one micrometer makes in both readings cancels, as far as its instrument states it.
//
// A bolt does not get shorter. Readings that say so contradict each other and prove
// nothing: one of the lengths was measured wrong, or belongs to another bolt.
//
// Source: common practice, no source; the engine maker gives the limit.
func Stretch(now, whenNew measure.LengthReading) *measure.Sum[units.LengthDim] {
	return &measure.Sum[units.LengthDim]{
		Name: "permanent stretch", Symbol: "ΔL", NonNegative: true,
		Terms: []measure.Term[units.LengthDim]{
			measure.Plus("L", "length now", now),
			measure.Minus("L0", "length when new", whenNew),
		},
	}
}

// NeckDown returns how much thinner a bolt is at its thinnest place than at a place that
// cannot stretch:
//
//	Δd = d - dmin
//
// d is the diameter at an unstretched place of the same nominal size, dmin the smallest
// diameter found along the stretched length. If the thinnest place reads thicker, the
// readings prove nothing: the places were wrong.
//
// Source: common practice, no source; the engine maker gives the limit.
func NeckDown(shank, thinnest measure.LengthReading) *measure.Sum[units.LengthDim] {
	return &measure.Sum[units.LengthDim]{
		Name: "neck-down", Symbol: "Δd", NonNegative: true,
		Terms: []measure.Term[units.LengthDim]{
			measure.Plus("d", "diameter of the shank", shank),
			measure.Minus("dmin", "thinnest diameter", thinnest),
		},
	}
}
