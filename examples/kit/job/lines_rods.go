package job

import (
	"strings"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// rodRemedy is what the trade does about a rod.
var rodRemedy = Remedy{Stop, "Ask a machine shop, or fit another rod.", "Ask a machine shop, or fit another rod."}

// rodLines are the lines of the connecting rods. Their big ends are the rod bores.
func rodLines() []line {
	bolted := []fact{boltsDone}
	return []line{
		{group: "rod", quantity: "side play", where: atPins, form: direct, always: true, before: Final, kinds: gapKinds,
			terms: []string{"crankpin width", "big end width"}, fit: sidePlay,
			how: "rods pushed to one side of their pin; blade between rod and cheek; or the pin's width less those of its big ends", remedy: sidePlayRemedy},
		{group: "crankpin", quantity: "width", where: atPins, form: plain, before: Choose, kinds: boreKinds, body: ofCrank, how: "between the cheeks, clear of the fillets"},
		{group: "big end", quantity: "width", where: atRods, form: plain, before: Choose, kinds: sizeKinds, body: ofRods, how: "between the faces that stand beside the cheeks"},
		{group: "small end", where: atRods, form: size, before: Choose, kinds: boreKinds, body: ofRods, named: byDirection,
			how: "front and rear; along the rod and across it", remedy: rodRemedy},
		{group: "rod", quantity: "bore distance", where: atRods, form: plain, before: Choose, kinds: boreKinds, needs: bolted, body: ofRods,
			how: "cap tightened as for assembly; the shortest way from the one bore to the other, along the rod"},
		{group: "rod", quantity: "length", where: atRods, form: direct, before: Choose, kinds: []string{"gauge", "caliper", "micrometer"}, needs: bolted,
			terms: []string{"rod bore distance", "rod bore", "small end"}, fit: made(rodLength),
			how: "between the centres of its ends; or the distance between the bores with half of each", remedy: rodRemedy},
		{group: "rod", quantity: "bend", where: atRods, form: slope, before: Choose, kinds: gapKinds, needs: bolted,
			how: "arbors in both ends, upright: the difference between two places of the upper one over the distance between these, \"0.02 mm over 100 mm\"", remedy: rodRemedy},
		{group: "rod", quantity: "twist", where: atRods, form: slope, before: Choose, kinds: gapKinds, needs: bolted,
			how: "arbors in both ends, lying: the difference between two places of the upper one over the distance between these, \"0.02 mm over 100 mm\"", remedy: rodRemedy},
		{group: "rod", quantity: "condition", where: atRods, form: state, before: Choose, how: "cracks, marks of cap and rod, threads"},
	}
}

// sidePlay is the width of a crankpin less those of the big ends on it.
func sidePlay(j *Job, m *measured, location string) clearance.Fit {
	return made(func(r [][]measure.LengthReading) measure.Sum[units.LengthDim] {
		return clearance.PlayFit("side play", only(r[0]), r[1]...).Sum
	})(j, m, location)
}

// only is the one reading of a term that has one place; none where it has no place.
func only(list []measure.LengthReading) measure.LengthReading {
	if len(list) != 1 {
		return measure.LengthReading{}
	}
	return list[0]
}

// rodLength is the distance between the bores of a rod with half of each:
//
//	l = s + D/2 + d/2
func rodLength(r [][]measure.LengthReading) measure.Sum[units.LengthDim] {
	half := units.MustParseRatio("1/2")
	return measure.Sum[units.LengthDim]{Symbol: "l", Terms: []measure.Term[units.LengthDim]{
		measure.Plus("s", "bore distance", only(r[0])),
		{Symbol: "D", Name: "big end", Factor: half, Reading: only(r[1])},
		{Symbol: "d", Name: "small end", Factor: half, Reading: only(r[2])},
	}}
}

// slope reads a difference over the distance between the two places that it was read at.
// The quotient is certain as far as the two are: at the coverage of their intervals.
func (r *reader) slope(what string, t typed, kinds []string) (e entry, ok bool) {
	rise, run, found := strings.Cut(t.body, " over ")
	if !found {
		r.fail(t.path, "%s: a difference without the distance that it was read over; write both, as in \"0.02 mm over 100 mm\"", t.body)
		return e, false
	}
	over, ok := read(r, t.path, strings.TrimSpace(run), units.Parse[units.LengthInterval])
	if !ok {
		return e, false
	}
	if !over.Bounded() || over.Lo().Sign() <= 0 || largest.Less(over.Hi()) {
		r.fail(t.path, "%s: the distance lies between zero and %s; write it as in \"0.02 mm over 100 mm\"", t.body, largest)
		return e, false
	}
	t.body = strings.TrimSpace(rise)
	e, ok = r.gap(what, t, kinds, true)
	if !ok {
		return e, false
	}
	if lo := e.reading.Bracket(); lo.HasLo() && lo.Lo().Sign() < 0 {
		r.fail(t.path, "%s: a difference below zero; write its size, without the sign", t.body)
		return e, false
	}
	e = entry{reading: e.reading, over: over, with: e.with}
	return e.sloped(t.text), true
}

// sloped is a difference with its ratio to the distance that it was read over.
func (e entry) sloped(text string) entry {
	e.ratio = measure.Given(per(e.reading.NonNegative().Interval(), e.over), "given as "+text)
	return e
}

// per is a difference over a distance above zero.
func per(rise, run units.LengthInterval) units.RatioInterval {
	switch {
	case rise.IsEmpty():
		return units.RatioInterval{}
	case !rise.HasHi():
		return units.AtLeast(units.One.OfRat(rise.Lo().Ratio(run.Hi())))
	}
	return units.MustInterval(units.One.OfRat(rise.Lo().Ratio(run.Hi())), units.One.OfRat(rise.Hi().Ratio(run.Lo())))
}

// The places that ratios are shown with.
const (
	slopePlaces    = 6
	quotientPlaces = 2
)

// ratioGroup judges the slopes and the quotients.
func (j *Job) ratioGroup(m *measured) Group {
	places := int32(slopePlaces)
	if m.form == quotient {
		places = quotientPlaces
	}
	return valueGroup(m, units.One, places, m.ratios, func(location string) value[units.RatioDim] {
		if m.quotient != nil {
			return m.quotient(j, m, location)
		}
		v := value[units.RatioDim]{reading: stated(m, m.taken[location].ratio)}
		if v.reading.Taken() {
			e := m.taken[location]
			v.how = e.reading.How(j.show.length) + ", over " + e.over.Written(j.show.length)
		}
		if !m.taken[location].sure {
			v.slip = slip(v.reading, m.ratios, units.One, nil)
		}
		return v
	})
}
