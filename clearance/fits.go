package clearance

import (
	"cmp"
	"fmt"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// The fits of an engine. Each takes readings and returns a Fit; a size that was
// not read is the zero Reading, and the fit is then not known.

// sum returns a fit of the terms.
func sum(name, symbol string, terms ...measure.Term[units.LengthDim]) Fit {
	return Fit{Sum: measure.Sum[units.LengthDim]{Name: name, Symbol: symbol, Terms: terms}}
}

// DirectFit returns a fit whose gap was measured itself: by a strip, blades or a dial.
func DirectFit(name string, reading measure.LengthReading) Fit {
	f := sum(name, "C")
	f.Direct = reading
	return f
}

// BoreFit returns the clearance of a shaft in a bore, C = D - d; below zero, an
// interference, as of a pin pressed into its rod. Both are diameters, or the width of a
// groove and the height of the ring in it.
func BoreFit(name string, bore, shaft measure.LengthReading) Fit {
	return sum(name, "C", measure.Plus("D", "bore", bore), measure.Minus("d", "shaft", shaft))
}

// PistonFit returns the clearance of a piston in its cylinder, C = D - d, with the piston
// measured at its gauge point. at says where, in the words of its maker ("12 mm above the
// skirt's lower edge, across the pin"). A piston is oval and tapered, and a diameter
// taken elsewhere says nothing about its clearance. The reading of the piston must state
// GaugePoint(at); without words, "its gauge point".
func PistonFit(cylinder, piston measure.LengthReading, at string) Fit {
	f := sum("piston clearance", "C", measure.Plus("D", "cylinder bore", cylinder), measure.Minus("d", "piston", piston))
	f.Sum.Terms[1].Needs = []measure.Condition{GaugePoint(cmp.Or(at, "its gauge point"))}
	return f
}

// PlayFit returns the play along an axis, P = L - w1 - w2 - …, with L the length between
// two faces and w1, w2 and so on the widths of the parts between them: for the end play
// of a crankshaft, its thrust bearing and the washers; for the side play of connecting
// rods, the big ends on one crankpin.
//
// If a dial or blades read the play itself, put that in Direct; the length may then be
// missing. Wanted and Remedies say which washers to fit in place of the present ones.
func PlayFit(name string, length measure.LengthReading, widths ...measure.LengthReading) Fit {
	f := sum(name, "P", measure.Plus("L", "length between the faces", length))
	for i, w := range widths {
		f.Sum.Terms = append(f.Sum.Terms, measure.Minus(fmt.Sprintf("w%d", i+1), fmt.Sprintf("width %d", i+1), w))
	}
	return f
}

// DeckFit returns the height of the deck over the piston's crown at top dead
// centre, H = B - r - l - k: the block's height from the crankshaft's centre to
// the deck, less the crank's throw (half the stroke), the rod's length between centres
// and the piston's compression height. Below zero, the crown stands proud. For a cylinder
// whose axis meets the crankshaft's.
func DeckFit(block, throw, rod, compressionHeight measure.LengthReading) Fit {
	return sum("deck height", "H",
		measure.Plus("B", "block height", block),
		measure.Minus("r", "crank throw", throw),
		measure.Minus("l", "rod length", rod),
		measure.Minus("k", "compression height", compressionHeight),
	)
}
