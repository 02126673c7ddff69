package job

import (
	"fmt"
	"math/big"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// crankLines are the lines of the crankshaft. Its journals are with their bearings.
func crankLines() []line {
	once := atOnce("crankshaft")
	return []line{
		{group: "crankshaft", quantity: "bow", where: atMains, form: direct, within: true, before: Choose, kinds: []string{"dial", "gauge"}, terms: []string{"main journal"}, fit: bowFit, needs: []fact{supported},
			how: "crankshaft on blocks at two of its journals, which the conditions name; the dial's swing over a whole turn at each of the others, from the lowest to the highest", remedy: bentRemedy},
		{group: "crankpin", quantity: "stroke", where: atPins, form: direct, before: Choose, kinds: []string{"gauge", "depth gauge", "dial", "caliper"},
			how: "height of the pin at the bottom and at the top of its travel, read from the one to the other", remedy: shopRemedy},
		{group: "crankpin", quantity: "index", where: atPins, form: signed, before: Choose, kinds: []string{"dial", "gauge"},
			how: "crankshaft turned until the pin should stand at the height that the dial was set to; what it stands above or below, at the throw's radius", remedy: shopRemedy},
		{group: "crankshaft", quantity: "flange run-out", where: once, form: direct, before: Choose, kinds: []string{"dial", "gauge"},
			how: "on the face, near its edge, over a whole turn; crank pushed one way", remedy: shopRemedy},
		{group: "crankshaft", quantity: "fillets", where: once, form: state, before: Choose, how: "radius of each journal by a radius gauge: no smaller than the maker's, no step, no tool mark"},
		{group: "main journal", quantity: "roughness", where: atMains, form: direct, smooth: true, before: Choose, kinds: []string{"gauge"}, how: "Ra along the journal, by a roughness tester", remedy: shopRemedy},
		{group: "crankpin", quantity: "roughness", where: atPins, form: direct, smooth: true, before: Choose, kinds: []string{"gauge"}, how: "Ra along the pin, by a roughness tester", remedy: shopRemedy},
		{group: "crankshaft", quantity: "hardness", where: once, form: state, before: Choose, how: "each journal by the maker's test, in the maker's scale; after grinding, again"},
		{group: "crankshaft", quantity: "cracks", where: once, form: state, before: Choose, how: "magnetic particles or penetrant, at every fillet and oil hole"},
		{group: "crankshaft", quantity: "condition", where: once, form: state, before: Choose, how: "surface of the journals, threads, plugs, keyway"},
	}
}

// bentRemedy is what the trade does about a bent crankshaft (common practice, no source).
var bentRemedy = Remedy{Stop, "Ask a machine shop.", "The crankshaft is bent: a machine shop straightens or grinds it, and tests it for cracks after."}

// pushed is how the end play was read. A travel of a dial from stop to stop says it itself.
var pushed = fact{what: "crankshaft", is: []string{"levered to its stops", "not levered"}}

// supported is on which journals a crankshaft lay when its bow was read.
var supported = fact{what: "supported", is: []string{"the two main journals that carry it, as in 1 and 3"}, places: true}

// bowFit is how far the crankshaft's axis is off at a journal: a swing of the dial, s, is
// twice that, but where the journal is oval. Its section adds δ/4·cos 2φ to the radius, which cancels
// across a diameter, so that a swing is at least 2·b and at most 2·b + δ/2:
//
//	s/2 - δ/4 <= b <= s/2
//
// with δ what the journal is out of round by; not known of a journal that was not measured
// for it, which leaves the upper bound alone.
func bowFit(j *Job, m *measured, location string) clearance.Fit {
	swing := measure.Term[units.LengthDim]{Symbol: "s", Name: "swing", Factor: half, Reading: m.taken[location].reading, Needs: m.conditions()}
	sum := measure.Sum[units.LengthDim]{Symbol: "b", NonNegative: true, Terms: []measure.Term[units.LengthDim]{swing}}
	var zero units.Length
	most := swing.Reading.Interval()
	less, words := units.LengthInterval{}, "the journal was not measured for its roundness"
	if most.HasHi() {
		less = units.MustInterval(zero, units.Max(zero, most.Hi().MulRat(big.NewRat(1, 2))))
	}
	if oval := roundness(j.line(m.terms[0]).taken[location]).Interval(); oval.HasHi() {
		less = units.MustInterval(zero, oval.Hi().MulRat(big.NewRat(1, 4)))
		words = fmt.Sprintf("the journal is out of round by %s at the most", oval.Hi().Format(j.show.length, j.show.places+1, units.Ceiling))
	}
	sum.Terms = append(sum.Terms, measure.Minus("o", "what an oval journal adds", measure.Given(less, words)))
	return clearance.Fit{Sum: sum, Notes: []string{"lobes of an odd number, which no diameter shows, add to the swing as a bow does"}}
}

// thrustLines are the crankshaft's end play and what it is the sum of.
func thrustLines() []line {
	once := atOnce("crankshaft")
	widths := []string{"crankshaft thrust width", "thrust main width", "front thrust washer thickness", "rear thrust washer thickness"}
	washer := func(end string) line {
		return line{group: end + " thrust washer", quantity: "thickness", where: atOnce(end + " thrust washer"), form: plain, many: true, before: Choose, kinds: sizeKinds, body: ofCrank,
			how: "upper half and lower half", remedy: wallRemedy}
	}
	return []line{
		{group: "crankshaft", quantity: "thrust width", where: once, form: plain, before: Choose, kinds: boreKinds, body: ofCrank, how: "between the two faces of the crankshaft that take the thrust", remedy: shopRemedy},
		{group: "thrust main", quantity: "width", where: atOnce("thrust main"), form: plain, before: Choose, kinds: sizeKinds, body: ofBlock, how: "of block and cap where the washers lie, or over the flanges of a flanged bearing", remedy: shopRemedy},
		washer("front"), washer("rear"),
		{group: "crankshaft", quantity: "end play", where: once, form: direct, always: true, before: Final, kinds: []string{"dial", feelerBlades, "gauge"},
			needs: []fact{pushed}, also: widths, fit: endPlayFit,
			how: "thrust main's cap tightened; lever the crank to one end and back, from stop to stop", remedy: endPlayRemedy},
	}
}

// endPlayFit is the end play by sizes: the width between the crankshaft's faces less that
// of the main, and of the washers if it has any.
func endPlayFit(j *Job, m *measured, location string) clearance.Fit {
	widths := []measure.LengthReading{j.sized(m.also[1], location)}
	names := m.also[:2]
	if j.hasWashers() {
		names = m.also
		widths = append(widths, j.sized(m.also[2], location), j.sized(m.also[3], location))
	}
	fit := clearance.PlayFit("end play", j.sized(m.also[0], location), widths...)
	for i := range fit.Sum.Terms {
		fit.Sum.Terms[i].Name = names[i]
	}
	return fit
}

// hasWashers reports whether the job says anything of thrust washers.
func (j *Job) hasWashers() bool {
	for _, name := range []string{"front thrust washer thickness", "rear thrust washer thickness"} {
		if m := j.line(name); m.expected || len(m.taken) > 0 {
			return true
		}
	}
	return j.washers != nil
}
