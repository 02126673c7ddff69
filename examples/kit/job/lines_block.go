package job

import (
	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// blockLines are the lines of the cylinder block: the registers of its caps, the line of
// its bores, its cylinders and its decks. The bores themselves are with their bearings.
func blockLines() []line {
	heightKinds := []string{"gauge", "depth gauge", "dial", "caliper"}
	cylinder := line{group: "cylinder", where: atCylinders, form: size, before: Choose, kinds: boreKinds, needs: []fact{plateFitted}, body: ofBlock, named: byPlane,
		how: "near the top of the ring's travel, in the middle and at its foot, planes named from the deck; along the crank and across it", remedy: cylinderRemedy}
	return []line{
		cylinder, barrelOf(cylinder),
		{group: "main cap", quantity: "width", where: atMains, form: plain, before: Choose, kinds: sizeKinds, body: ofBlock, how: "across the register"},
		{group: "main register", quantity: "width", where: atMains, form: plain, before: Choose, kinds: boreKinds, body: ofBlock, how: "in the block, between the faces that hold the cap"},
		{group: "main cap", quantity: "register fit", where: atMains, form: signed, before: Choose, kinds: gapKinds, terms: []string{"main cap width", "main register width"},
			fit: difference, how: "cap less block; above zero the cap is pressed in", remedy: shopRemedy},
		{group: "main bore", quantity: "height", where: atMains, form: signed, before: Choose, kinds: []string{"dial", "gauge"}, needs: []fact{boltsDone},
			how: "caps tightened as for assembly; a dial on a bar or a surface plate, set to zero at one bore; a higher bore is above zero", remedy: shopRemedy},
		{group: "main bore", quantity: "alignment", where: betweenMains, form: signed, before: Choose, terms: []string{"main bore height"}, fit: alignmentFit,
			how: "height of a bore less the mean of its neighbours", remedy: shopRemedy},
		{group: "deck", quantity: "flatness", where: atDecks, form: direct, before: Choose, kinds: gapKinds,
			how: "a straight edge along, across and from corner to corner; the thickest blade under it", remedy: shopRemedy},
		{group: "deck", quantity: "height", where: atDecks, form: plain, many: true, before: Choose, kinds: heightKinds, body: ofBlock,
			how: "from the crankshaft's centre to the deck, at each end and on both sides", remedy: shopRemedy},
		{group: "deck", quantity: "height spread", where: atDecks, form: direct, before: Choose, terms: []string{"deck height"}, fit: spreadFit,
			how: "largest height less smallest", remedy: shopRemedy},
		{group: "deck", quantity: "piston height", where: atCylinders, form: signed, before: Final, kinds: []string{"depth gauge", "dial", "gauge"},
			terms: []string{"crankpin stroke", "rod length", "piston compression height", "deck height"}, fit: pistonHeightFit,
			how: "piston at top dead centre, over the pin; from the deck up is above zero", remedy: shopRemedy},
		{group: "piston", quantity: "compression height", where: atCylinders, form: plain, before: Choose, kinds: heightKinds,
			how: "from the centre of the pin's hole to the crown", remedy: shopRemedy},
		{group: "block", quantity: "condition", where: atOnce("block"), form: state, before: Choose, how: "cracks, threads, core plugs"},
	}
}

// alignmentFit is how far a bore stands off the line of its neighbours: its height less
// the mean of theirs, in which what the comparator errs by in every reading cancels.
func alignmentFit(j *Job, m *measured, location string) clearance.Fit {
	mains := j.engine.Mains
	sum := measure.Sum[units.LengthDim]{Symbol: "a"}
	for i, at := range mains {
		if at != location || i == 0 || i == len(mains)-1 {
			continue
		}
		own, before, after := j.term("h", m.terms[0], at, units.One.OfInt(1)), j.term("h1", m.terms[0], mains[i-1], minusHalf), j.term("h2", m.terms[0], mains[i+1], minusHalf)
		own.Name, before.Name, after.Name = "main bore "+at+" height", "main bore "+mains[i-1]+" height", "main bore "+mains[i+1]+" height"
		sum.Terms = []measure.Term[units.LengthDim]{own, before, after}
	}
	return clearance.Fit{Sum: sum}
}

// spreadFit is the largest of a line's readings at a place less the smallest.
func spreadFit(j *Job, m *measured, location string) clearance.Fit {
	part := j.line(m.terms[0])
	return clearance.Fit{Sum: single("s", "largest less smallest", spread(part.taken[location]))}
}

// pistonHeightFit is how far the crown stands above the deck: the deck height of package
// clearance, B - r - l - k, with its sign turned. Of several decks it is not known which
// one a cylinder belongs to.
func pistonHeightFit(j *Job, m *measured, location string) clearance.Fit {
	var deck measure.LengthReading
	if len(j.engine.Decks) == 1 {
		deck = j.sized("deck height", j.engine.Decks[0])
	}
	fit := clearance.DeckFit(deck, j.sized("crankpin stroke", location), j.known("rod length", location), j.sized("piston compression height", location))
	fit.Sum.Symbol = "h"
	for i := range fit.Sum.Terms {
		t := &fit.Sum.Terms[i]
		t.Factor = t.Factor.Neg()
		if t.Symbol == "r" {
			t.Symbol, t.Name, t.Factor = "s", "stroke", half // the throw is half of it
		}
	}
	return fit
}
