package clearance

import "example.com/closefit/units"

// A Bearing is a plain bearing of two half shells: the bore of its housing with
// the cap tightened, the wall of each shell at its crown, and the journal. Each
// is an interval; an exact size is units.Exactly of it.
type Bearing struct {
	HousingBore, UpperWall, LowerWall, Journal units.LengthInterval
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

// Check returns an *Error naming the first part that is wrong: of kind
// ErrNotMeasured for a size that was not given, ErrNotPositive for one that may be
// zero or less.
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
			return &Error{Kind: ErrNotPositive, Where: part.name, Found: part.size.String(), Fix: "give a size above zero"}
		}
	}
	return nil
}

// Working shows Clearance with its numbers in the unit.
func (b Bearing) Working(u units.LengthUnit) units.Working {
	c := b.Clearance()
	w := units.Working{
		Name:    "running clearance",
		Formula: "C = D - t1 - t2 - d",
		Result:  span(c, u),
		Source:  "worst case: the smallest bore with the largest walls and journal, and the other way round",
	}
	smallest := func() string {
		return minus(number(b.HousingBore.Lo(), u), number(b.UpperWall.Hi(), u), number(b.LowerWall.Hi(), u), number(b.Journal.Hi(), u))
	}
	largest := func() string {
		return minus(number(b.HousingBore.Hi(), u), number(b.UpperWall.Lo(), u), number(b.LowerWall.Lo(), u), number(b.Journal.Lo(), u))
	}
	if c.Bounded() && c.IsPoint() {
		w.Numbers = smallest()
		w.Source = "sizes taken as exact"
		return w
	}
	if c.HasLo() {
		w.Steps = append(w.Steps, units.Working{Name: "smallest", Numbers: smallest(), Result: written(c.Lo(), u)})
	}
	if c.HasHi() {
		w.Steps = append(w.Steps, units.Working{Name: "largest", Numbers: largest(), Result: written(c.Hi(), u)})
	}
	return w
}
