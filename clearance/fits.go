package clearance

import "fmt"

// The fits of an engine. Each takes readings and returns a Fit; a size that was
// not read is the zero Reading, and the fit is then not known.

// DirectFit returns a fit that was measured where it is: by a strip, blades or a
// dial.
func DirectFit(name string, reading LengthReading) Fit {
	return Fit{Name: name, Symbol: "C", Direct: reading}
}

// BoreFit returns the clearance of a shaft in a bore, C = D - d; below zero, an
// interference. Both are diameters.
func BoreFit(name string, bore, shaft LengthReading) Fit {
	return Fit{Name: name, Symbol: "C", Terms: []Term{
		{Symbol: "D", Name: "bore", Times: +1, Reading: bore},
		{Symbol: "d", Name: "shaft", Times: -1, Reading: shaft},
	}}
}

// PinFit returns the clearance of a piston pin in its bore, in the piston or the
// rod, C = D - d; below zero, an interference, as of a pin pressed into its rod.
func PinFit(bore, pin LengthReading) Fit {
	return Fit{Name: "pin clearance", Symbol: "C", Terms: []Term{
		{Symbol: "D", Name: "pin bore", Times: +1, Reading: bore},
		{Symbol: "d", Name: "pin", Times: -1, Reading: pin},
	}}
}

// PistonFit returns the clearance of a piston in its cylinder, C = D - d, with the
// piston measured at its gauge point: at says where that is, in the words of its
// maker ("12 mm above the skirt's lower edge, across the pin"). A piston is oval
// and tapered, and a diameter taken elsewhere says nothing about its clearance.
func PistonFit(cylinder, piston LengthReading, at string) Fit {
	if at == "" {
		at = "its gauge point"
	}
	return Fit{Name: "piston clearance", Symbol: "C", Terms: []Term{
		{Symbol: "D", Name: "cylinder bore", Times: +1, Reading: cylinder},
		{Symbol: "d", Name: "piston", Times: -1, Reading: piston},
	}, Notes: []string{"piston measured at " + at}}
}

// RingSideFit returns the clearance of a ring in its groove, C = g - h, with g the
// groove's width and h the ring's height along the bore.
func RingSideFit(groove, ring LengthReading) Fit {
	return Fit{Name: "ring side clearance", Symbol: "C", Terms: []Term{
		{Symbol: "g", Name: "groove width", Times: +1, Reading: groove},
		{Symbol: "h", Name: "ring height", Times: -1, Reading: ring},
	}}
}

// EndPlayFit returns the end play of a shaft from widths, E = L - w - t1 - t2 - …,
// with L the length between its thrust faces, w the width of the bearing or
// housing between them, and the thicknesses of the thrust washers, if they are
// separate, in the order given.
func EndPlayFit(length, width LengthReading, washers ...LengthReading) Fit {
	f := Fit{Name: "end play", Symbol: "E", Terms: []Term{
		{Symbol: "L", Name: "length between thrust faces", Times: +1, Reading: length},
		{Symbol: "w", Name: "width between them", Times: -1, Reading: width},
	}}
	for i, w := range washers {
		f.Terms = append(f.Terms, Term{Symbol: fmt.Sprintf("t%d", i+1), Name: fmt.Sprintf("thrust washer %d", i+1), Times: -1, Reading: w})
	}
	return f
}

// MeasuredEndPlay returns the end play as a dial or blades show it, with the
// washers that are fitted, so that Wanted and Remedies can tell which ones to fit
// instead.
func MeasuredEndPlay(play LengthReading, washers ...LengthReading) Fit {
	f := Fit{Name: "end play", Symbol: "E", Direct: play, Partial: true}
	for i, w := range washers {
		f.Terms = append(f.Terms, Term{Symbol: fmt.Sprintf("t%d", i+1), Name: fmt.Sprintf("thrust washer %d", i+1), Times: -1, Reading: w})
	}
	return f
}

// SidePlayFit returns the side play of the connecting rods on one crankpin,
// S = L - b1 - b2 - …, with L the pin's length and b the widths of the big ends.
func SidePlayFit(pin LengthReading, bigEnds ...LengthReading) Fit {
	f := Fit{Name: "rod side play", Symbol: "S", Terms: []Term{
		{Symbol: "L", Name: "crankpin length", Times: +1, Reading: pin},
	}}
	for i, b := range bigEnds {
		f.Terms = append(f.Terms, Term{Symbol: fmt.Sprintf("b%d", i+1), Name: fmt.Sprintf("big end %d", i+1), Times: -1, Reading: b})
	}
	return f
}

// DeckFit returns the height of the deck over the piston's crown at top dead
// centre, H = B - r - l - k: the block's height from the crankshaft's centre to
// the deck, less the crank's throw (half the stroke: Times one half of its reading),
// the rod's length between centres and the piston's compression height. Below zero,
// the crown stands proud. For a cylinder whose axis meets the crankshaft's.
func DeckFit(block, throw, rod, compressionHeight LengthReading) Fit {
	return Fit{Name: "deck height", Symbol: "H", Terms: []Term{
		{Symbol: "B", Name: "block height", Times: +1, Reading: block},
		{Symbol: "r", Name: "crank throw", Times: -1, Reading: throw},
		{Symbol: "l", Name: "rod length", Times: -1, Reading: rod},
		{Symbol: "k", Name: "compression height", Times: -1, Reading: compressionHeight},
	}}
}
