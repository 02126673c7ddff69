package job

import (
	"math/big"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// half and minusHalf count a reading half.
var (
	half      = units.One.OfRat(big.NewRat(1, 2))
	minusHalf = half.Neg()
)

// term is a line's size at a place as a term of a sum, with what the line asks for.
func (j *Job) term(symbol, name, location string, factor units.Ratio) measure.Term[units.LengthDim] {
	t := measure.Term[units.LengthDim]{Symbol: symbol, Name: name, Factor: factor, Reading: j.sized(name, location)}
	if part := j.line(name); part != nil {
		t.Needs = part.conditions()
	}
	return t
}

// difference is the size of the first of a line's terms less that of the second.
func difference(j *Job, m *measured, location string) clearance.Fit {
	return clearance.Fit{Sum: measure.Sum[units.LengthDim]{Symbol: "C", Terms: []measure.Term[units.LengthDim]{
		j.term("D", m.terms[0], location, units.One.OfInt(1)), j.term("d", m.terms[1], location, units.One.OfInt(-1)),
	}}}
}

// made makes a sum of what lines have been read to, of which each reading must state what
// its own line asks for. Where a term has several places, as a pin has rods, each counts.
func made(build func(terms [][]measure.LengthReading) measure.Sum[units.LengthDim]) fitOf {
	return func(j *Job, m *measured, location string) clearance.Fit {
		var readings [][]measure.LengthReading
		var asked []measure.Term[units.LengthDim] // what each term is called, and asks for
		for _, term := range m.terms {
			list, part := []measure.LengthReading{}, j.line(term)
			for _, at := range j.placesOf(part, location) {
				list = append(list, j.sized(term, at))
				asked = append(asked, measure.Term[units.LengthDim]{Name: itemName(part.group, at, part.quantity), Needs: part.conditions()})
			}
			readings = append(readings, list)
		}
		sum := build(readings)
		for i := range sum.Terms {
			sum.Terms[i].Name = asked[i].Name
			sum.Terms[i].Needs = asked[i].Needs
		}
		return clearance.Fit{Sum: sum}
	}
}
