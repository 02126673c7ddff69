package check

import (
	"strconv"

	"example.com/closefit/units"
)

// residue: computed in binary floating point, as spreadsheets do, a value that is
// exactly on a limit can come out a hair beside it. This is the one place where
// float64 arithmetic is done, to make the mistake as the spreadsheet makes it.
func (s *misjudgement[D]) residue() {
	l := s.limits
	onLimit := l.HasLo() && s.judged.value.Equal(l.Lo()) || l.HasHi() && s.judged.value.Equal(l.Hi())
	if !onLimit {
		return
	}
	for _, value := range s.binary() {
		low := l.HasLo() && value < l.Lo().Float64(s.column.unit)
		high := l.HasHi() && value > l.Hi().Float64(s.column.unit)
		flipped := low && s.said == saysBelow || high && s.said == saysAbove || (low || high) && s.said == saysOut
		if flipped {
			s.add(Residue, "the value is exactly on the limit; in binary arithmetic it comes to "+strconv.FormatFloat(value, 'g', 17, 64))
			return
		}
	}
}

// binary returns the value as a spreadsheet has it: as stored, and as its readings
// give it one after the other.
func (s *misjudgement[D]) binary() []float64 {
	var all []float64
	if stored, err := strconv.ParseFloat(s.window.at(s.column.spot).Text, 64); err == nil {
		all = append(all, stored)
	}
	a := s.verdict.value
	if a == nil || len(a.formula.share) != len(a.in) {
		return all
	}
	var sum float64
	for i, q := range a.in {
		sum += float64(a.formula.share[i]) * q.Float64(a.inputs[i].unit) * ratio(a.inputs[i].unit, s.column.unit)
	}
	return append(all, sum)
}

func ratio[D units.Dimension](from, to units.Unit[D]) float64 {
	if from == to {
		return 1
	}
	r, _ := from.OfInt(1).Ratio(to.OfInt(1)).Float64()
	return r
}
