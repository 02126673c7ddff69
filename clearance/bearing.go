package clearance

import (
	"cmp"
	"fmt"
	"math/big"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A Bearing is a plain bearing of two half shells: the bore of its housing with
// the cap tightened, the wall of each shell at its crown, and the journal. Each
// is an interval; an exact size is units.Exactly of it.
type Bearing struct {
	HousingBore units.LengthInterval `json:"housing_bore"`
	UpperWall   units.LengthInterval `json:"upper_wall"`
	LowerWall   units.LengthInterval `json:"lower_wall"`
	Journal     units.LengthInterval `json:"journal"`
}

// Clearance returns the diametral running clearance, by worst case:
//
//	C = D - t1 - t2 - d
//
// with D the housing bore, t1 and t2 the walls of the upper and the lower shell, and d
// the journal, all diameters and thicknesses at one temperature. Valid for shells that
// lie against their housing, in a bore measured as crush leaves it. The result is the
// narrowest interval that holds the clearance of every choice of sizes from the four; if
// one of them is empty, so is the result. A negative clearance is an interference.
func (b Bearing) Clearance() units.LengthInterval {
	return b.HousingBore.Sub(b.UpperWall).Sub(b.LowerWall).Sub(b.Journal)
}

// Undersized returns the bearing with its journal ground to an undersize, which is
// stated on the diameter, and shells of that undersize: the journal less the undersize,
// and each wall thicker by half of it, since two of them go round the journal. An
// oversize of a cylinder, a piston or a thrust washer only shifts its limits.
func (b Bearing) Undersized(by units.Length) Bearing {
	half := by.MulRat(big.NewRat(1, 2))
	b.Journal, b.UpperWall, b.LowerWall = b.Journal.Shift(by.Neg()), b.UpperWall.Shift(half), b.LowerWall.Shift(half)
	return b
}

// Working shows Clearance with its numbers in the unit.
func (b Bearing) Working(u units.LengthUnit) units.Working {
	of := func(size units.LengthInterval) measure.LengthReading { return measure.Given(size, "") }
	m := MeasuredBearing{HousingBore: of(b.HousingBore), UpperWall: of(b.UpperWall), LowerWall: of(b.LowerWall), Journal: of(b.Journal)}
	var terms [4]measure.Term[units.LengthDim]
	m.fill(&terms)
	w := sum(runningClearance, "C", terms[:]...).Working(u)
	w.Steps = w.Steps[len(terms):] // the sizes themselves say nothing more
	w.Source = "worst case: the smallest bore with the largest walls and journal, and the other way round"
	if c := b.Clearance(); c.Bounded() && c.IsPoint() {
		w.Numbers, w.Steps, w.Source = w.Steps[0].Numbers, nil, "sizes taken as exact"
	}
	return w
}

// A MeasuredBearing is a Bearing of readings, each with the conditions under which it was
// taken.
type MeasuredBearing struct {
	HousingBore measure.LengthReading `json:"housing_bore"`
	UpperWall   measure.LengthReading `json:"upper_wall"`
	LowerWall   measure.LengthReading `json:"lower_wall"`
	Journal     measure.LengthReading `json:"journal"`

	// Bolts is the state of the bolts that the housing bore must state: BoltsTightened to
	// the plan's torque. The zero Condition asks for BoltsAsAssembled.
	Bolts measure.Condition `json:"bolts"`

	// Place is the station at which all four must have been read, for a bearing judged by
	// stations: its plane and its direction, {What: "plane", Is: "front"}.
	Place []measure.Condition `json:"place"`
}

const runningClearance = "running clearance"

// fill writes the terms of a clearance where they are to stand, since a Term is large
// to copy. Every size must state its Place.
func (b *MeasuredBearing) fill(to *[4]measure.Term[units.LengthDim]) {
	for i := range to {
		t := &to[i]
		t.Symbol, t.Name, t.Factor, t.Needs = bearingTerms[i].symbol, bearingTerms[i].name, bearingTerms[i].factor, b.Place
	}
	to[0].Reading, to[1].Reading, to[2].Reading, to[3].Reading = b.HousingBore, b.UpperWall, b.LowerWall, b.Journal
}

var bearingTerms = [4]struct {
	symbol, name string
	factor       units.Ratio
}{
	{"D", "housing bore", units.One.OfInt(1)}, {"t1", "upper wall", units.One.OfInt(-1)},
	{"t2", "lower wall", units.One.OfInt(-1)}, {"d", "journal", units.One.OfInt(-1)},
}

// bore returns what the housing bore must state.
func (b *MeasuredBearing) bore() []measure.Condition {
	return append([]measure.Condition{cmp.Or(b.Bolts, BoltsAsAssembled()), ShellsOut()}, b.Place...)
}

// asAssembled is what a bore must state where nothing else is asked.
var asAssembled = (&MeasuredBearing{}).bore()

// Fit returns the running clearance C = D - t1 - t2 - d. It proves nothing unless the
// housing bore states that its bolts were tightened as Bolts asks and that the shells
// were out, and every size states its Place: with loose caps, a bore is larger across
// the joint than along it, by an unknown amount.
func (b *MeasuredBearing) Fit() Fit {
	var terms [4]measure.Term[units.LengthDim]
	b.fill(&terms)
	terms[0].Needs = b.bore()
	return sum(runningClearance, "C", terms[:]...)
}

// Clearance returns Fit().Best().Interval(), quicker.
func (b *MeasuredBearing) Clearance() units.LengthInterval {
	if len(b.Place) > 0 {
		return b.Fit().Best().Interval()
	}
	needs := asAssembled
	if b.Bolts != (measure.Condition{}) {
		needs = b.bore()
	}
	return measure.Difference(needs, &b.HousingBore, &b.UpperWall, &b.LowerWall, &b.Journal)
}

// BearingStations returns the clearances of one bearing at several planes along it and in
// several directions around it in each plane, the same directions in every plane: bore
// less walls less journal at each. A shell is thinner toward its parting line than at its
// crown, so a clearance worked out from crown walls and the smallest bore says nothing
// about the clearance near the joint. The claims Smallest and Largest of the result are
// the least and the greatest clearance; both hold together at the stated coverage.
//
// The error is of kind measure.ErrNotMeasured, naming the station, if a size was not read
// or does not state what the bearing asks for; other errors are those of
// measure.NewStations.
func BearingStations(planes ...[]MeasuredBearing) (measure.Stations[units.LengthDim], error) {
	clearances := make([][]measure.LengthReading, len(planes))
	for i, plane := range planes {
		for j := range plane {
			f := plane[j].Fit()
			if missing := f.Sum.Missing(); len(missing) > 0 {
				return measure.Stations[units.LengthDim]{}, notGiven(fmt.Sprintf("plane %d, direction %d, %s", i+1, j+1, missing[0]))
			}
			clearances[i] = append(clearances[i], f.Sum.Reading())
		}
	}
	return measure.NewStations(clearances, measure.Largest, measure.Smallest)
}
