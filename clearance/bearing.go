package clearance

import (
	"fmt"

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
// with D the housing bore, t1 and t2 the walls of the upper and the lower shell,
// and d the journal, all diameters and thicknesses at one temperature. Valid for
// shells that lie against their housing; crush is taken to be in the bore as it
// was measured. The result holds the clearance of every choice of sizes from the
// four intervals, and nothing wider; if one of them is empty, so is the result. A
// negative clearance is an interference.
func (b Bearing) Clearance() units.LengthInterval {
	return b.HousingBore.Sub(b.UpperWall).Sub(b.LowerWall).Sub(b.Journal)
}

// Check returns an error naming the first part that is wrong: of kind
// measure.ErrNotMeasured for a size that was not given, measure.ErrNotPositive for
// one that may be zero or less.
func (b Bearing) Check() error {
	for _, part := range []struct {
		name string
		size units.LengthInterval
	}{
		{"housing bore", b.HousingBore}, {"upper wall", b.UpperWall}, {"lower wall", b.LowerWall}, {"journal", b.Journal},
	} {
		if part.size.IsEmpty() {
			return notGiven(part.name)
		}
		if !part.size.HasLo() || part.size.Lo().Sign() <= 0 {
			return &units.Error{Kind: measure.ErrNotPositive, Where: part.name, Found: part.size.String(), Fix: "give a size above zero"}
		}
	}
	return nil
}

// Working shows Clearance with its numbers in the unit.
func (b Bearing) Working(u units.LengthUnit) units.Working {
	of := func(size units.LengthInterval) measure.LengthReading { return measure.Given(size, "") }
	m := MeasuredBearing{HousingBore: of(b.HousingBore), UpperWall: of(b.UpperWall), LowerWall: of(b.LowerWall), Journal: of(b.Journal)}
	s := measure.Sum[units.LengthDim]{Name: runningClearance, Symbol: "C", Terms: m.terms()}
	w := s.Working(u)
	w.Steps = w.Steps[len(s.Terms):] // the sizes themselves say nothing more
	w.Source = "worst case: the smallest bore with the largest walls and journal, and the other way round"
	if c := b.Clearance(); c.Bounded() && c.IsPoint() {
		w.Numbers, w.Steps, w.Source = w.Steps[0].Numbers, nil, "sizes taken as exact"
	}
	return w
}

// A MeasuredBearing is a Bearing of readings, each with what is known of how it was
// taken.
type MeasuredBearing struct {
	HousingBore measure.LengthReading `json:"housing_bore"`
	UpperWall   measure.LengthReading `json:"upper_wall"`
	LowerWall   measure.LengthReading `json:"lower_wall"`
	Journal     measure.LengthReading `json:"journal"`

	// Bolts is what the housing bore must have been read with: BoltsTightened to the
	// plan's torque. The zero Condition asks for BoltsAsAssembled.
	Bolts measure.Condition `json:"bolts"`

	// Place is what all four must have been read at, for a bearing at one of several
	// stations: its plane and its direction, {What: "plane", Is: "front"}.
	Place []measure.Condition `json:"place"`
}

const runningClearance = "running clearance"

// Fit returns the running clearance C = D - t1 - t2 - d. Nothing is proven by it
// unless the housing bore states that its bolts were tightened as Bolts asks and that
// the shells were out, and every size states its Place: a bore with loose caps is
// larger across the joint than along it, and by an amount that nobody knows.
func (b *MeasuredBearing) Fit() Fit {
	return Fit{Sum: measure.Sum[units.LengthDim]{Name: runningClearance, Symbol: "C", Terms: b.needing(b.terms())}}
}

// Clearance returns Fit().Computed().Interval().
func (b *MeasuredBearing) Clearance() units.LengthInterval {
	terms := [...]lengthTerm{
		measure.Plus("D", "housing bore", b.HousingBore), measure.Minus("t1", "upper wall", b.UpperWall),
		measure.Minus("t2", "lower wall", b.LowerWall), measure.Minus("d", "journal", b.Journal),
	}
	s := measure.Sum[units.LengthDim]{Name: runningClearance, Symbol: "C", Terms: terms[:]}
	if terms[0].Needs = boreAsAssembled; b.Bolts != (measure.Condition{}) || len(b.Place) > 0 {
		b.needing(terms[:])
	}
	return s.Interval()
}

// boreAsAssembled is what a bore must have been read with where nothing else is asked.
var boreAsAssembled = []measure.Condition{BoltsAsAssembled(), ShellsOut()}

type lengthTerm = measure.Term[units.LengthDim]

func (b *MeasuredBearing) terms() []lengthTerm {
	return []lengthTerm{
		measure.Plus("D", "housing bore", b.HousingBore), measure.Minus("t1", "upper wall", b.UpperWall),
		measure.Minus("t2", "lower wall", b.LowerWall), measure.Minus("d", "journal", b.Journal),
	}
}

// bolts is what the bore's bolts must have been.
func (b *MeasuredBearing) bolts() measure.Condition {
	if b.Bolts == (measure.Condition{}) {
		return BoltsAsAssembled()
	}
	return b.Bolts
}

// needing gives the terms of a bearing what their readings must state.
func (b *MeasuredBearing) needing(terms []lengthTerm) []lengthTerm {
	terms[0].Needs = append([]measure.Condition{b.bolts(), ShellsOut()}, b.Place...)
	for i := range terms[1:] {
		terms[1+i].Needs = b.Place
	}
	return terms
}

// BearingStations returns the clearances of one bearing at several planes along it
// and in several directions around it in each plane, the same directions in every
// plane: bore less walls less journal at each. A shell is thinner toward its parting
// line than at its crown, and a clearance of crown walls and the smallest bore says
// nothing about the one near the joint. The claims Smallest and Largest of the
// result are the least and the greatest clearance, held by the stations at the stated
// coverage together.
//
// The error is of kind measure.ErrNotMeasured, naming the station, where a size was not
// read or does not state what the bearing asks for, or what measure.NewStations
// returns.
func BearingStations(planes ...[]MeasuredBearing) (measure.Stations[units.LengthDim], error) {
	clearances := make([][]measure.LengthReading, len(planes))
	for i, plane := range planes {
		for j := range plane {
			f := plane[j].Fit()
			r := f.Computed()
			if missing := f.Sum.Missing(); len(missing) > 0 {
				return measure.Stations[units.LengthDim]{}, notGiven(fmt.Sprintf("plane %d, direction %d, %s", i+1, j+1, missing[0]))
			}
			clearances[i] = append(clearances[i], r)
		}
	}
	return measure.NewStations(clearances, measure.Largest, measure.Smallest)
}
