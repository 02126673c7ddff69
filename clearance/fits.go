package clearance

import (
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

// DirectFit returns a fit that was measured where it is: by a strip, blades or a
// dial.
func DirectFit(name string, reading measure.LengthReading) Fit {
	f := sum(name, "C")
	f.Direct = reading
	return f
}

// BoreFit returns the clearance of a shaft in a bore, C = D - d; below zero, an
// interference. Both are diameters, or the width of a groove and the height of the ring in it.
func BoreFit(name string, bore, shaft measure.LengthReading) Fit {
	return sum(name, "C",
		measure.Plus("D", "bore", bore),
		measure.Minus("d", "shaft", shaft),
	)
}

// PinFit returns the clearance of a piston pin in its bore, in the piston or the
// rod, C = D - d; below zero, an interference, as of a pin pressed into its rod.
func PinFit(bore, pin measure.LengthReading) Fit {
	return sum("pin clearance", "C",
		measure.Plus("D", "pin bore", bore),
		measure.Minus("d", "pin", pin),
	)
}

// PistonFit returns the clearance of a piston in its cylinder, C = D - d, with the
// piston measured at its gauge point: at says where that is, in the words of its
// maker ("12 mm above the skirt's lower edge, across the pin"). A piston is oval
// and tapered, and a diameter taken elsewhere says nothing about its clearance.
func PistonFit(cylinder, piston measure.LengthReading, at string) Fit {
	if at == "" {
		at = "its gauge point"
	}
	f := sum("piston clearance", "C",
		measure.Plus("D", "cylinder bore", cylinder),
		measure.Minus("d", "piston", piston),
	)
	f.Sum.Terms[1].Needs = []measure.Condition{GaugePoint(at)}
	return f
}

// EndPlayFit returns the end play of a shaft from widths, E = L - w - t1 - t2 - …,
// with L the length between its thrust faces, w the width of the bearing or
// housing between them, and the thicknesses of the thrust washers, if they are
// separate, in the order given.
func EndPlayFit(length, width measure.LengthReading, washers ...measure.LengthReading) Fit {
	f := sum("end play", "E",
		measure.Plus("L", "length between thrust faces", length),
		measure.Minus("w", "width between them", width),
	)
	for i, w := range washers {
		f.Sum.Terms = append(f.Sum.Terms, measure.Minus(fmt.Sprintf("t%d", i+1), fmt.Sprintf("thrust washer %d", i+1), w))
	}
	return f
}

// MeasuredEndPlay returns the end play as a dial or blades show it, with the
// washers that are fitted, so that Wanted and Remedies can tell which ones to fit
// instead.
func MeasuredEndPlay(play measure.LengthReading, washers ...measure.LengthReading) Fit {
	f := sum("end play", "E")
	f.Direct, f.Partial = play, true
	for i, w := range washers {
		f.Sum.Terms = append(f.Sum.Terms, measure.Minus(fmt.Sprintf("t%d", i+1), fmt.Sprintf("thrust washer %d", i+1), w))
	}
	return f
}

// SidePlayFit returns the side play of the connecting rods on one crankpin,
// S = L - b1 - b2 - …, with L the pin's length and b the widths of the big ends.
func SidePlayFit(pin measure.LengthReading, bigEnds ...measure.LengthReading) Fit {
	f := sum("rod side play", "S",
		measure.Plus("L", "crankpin length", pin),
	)
	for i, b := range bigEnds {
		f.Sum.Terms = append(f.Sum.Terms, measure.Minus(fmt.Sprintf("b%d", i+1), fmt.Sprintf("big end %d", i+1), b))
	}
	return f
}

// DeckFit returns the height of the deck over the piston's crown at top dead
// centre, H = B - r - l - k: the block's height from the crankshaft's centre to
// the deck, less the crank's throw (half the stroke),
// the rod's length between centres and the piston's compression height. Below zero,
// the crown stands proud. For a cylinder whose axis meets the crankshaft's.
func DeckFit(block, throw, rod, compressionHeight measure.LengthReading) Fit {
	return sum("deck height", "H",
		measure.Plus("B", "block height", block),
		measure.Minus("r", "crank throw", throw),
		measure.Minus("l", "rod length", rod),
		measure.Minus("k", "compression height", compressionHeight),
	)
}
