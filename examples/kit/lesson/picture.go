package lesson

import (
	"math"
	"math/big"
	"strconv"

	"example.com/closefit/examples/kit/page"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// span is where an interval lies on an axis in the unit.
func span[D units.Dimension](in units.Interval[D], u units.Unit[D]) page.Span {
	s := page.Span{From: math.Inf(-1), To: math.Inf(1)}
	if in.IsEmpty() {
		return page.Span{From: math.NaN(), To: math.NaN()}
	}
	if in.HasLo() {
		s.From = in.Lo().Float64(u)
	}
	if in.HasHi() {
		s.To = in.Hi().Float64(u)
	}
	return s
}

// on is a row of a chart: a reading over its limits, with the verdict.
func on[D units.Dimension](name string, reading, limits units.Interval[D], u units.Unit[D], places int32) page.Interval {
	row := page.Interval{Name: name, Reading: span(reading, u), Reads: reading.FormatOutward(u, places)}
	if !limits.IsEmpty() {
		verdict := measure.Judge(reading, limits)
		row.Limits, row.Limited, row.Verdict = span(limits, u), limits.FormatInward(u, places), verdict.String()
	}
	return row
}

// percent writes a part of one as a percentage with three figures, and what is rarer in parts of a million.
func percent(p float64) string {
	switch {
	case p > 0 && p < 1e-9:
		return "less than one in a thousand million"
	case p > 0 && p < 1e-5:
		return number(1e6*p, 3) + " in a million"
	}
	return strconv.FormatFloat(100*p, 'g', 3, 64) + " %"
}

// number writes a number computed in floating point with so many figures.
func number(v float64, figures int) string { return strconv.FormatFloat(v, 'g', figures, 64) }

// fixed writes a number computed in floating point with so many places.
func fixed(v float64, places int) string { return strconv.FormatFloat(v, 'f', places, 64) }

// ratio is an exact fraction.
func ratio(a, b int64) *big.Rat { return big.NewRat(a, b) }

// micrometres writes a length in micrometres.
func micrometres(q units.Length, places int32) string {
	return q.Format(units.Micrometre, places, units.HalfEven)
}

// here is an upright line where a slider stands, as high as the highest of the lines.
func here(at float64, lines ...page.Series) page.Series {
	s := page.Series{Name: "where the slider stands", Mark: true, X: []float64{at, at}, Y: []float64{math.Inf(1), math.Inf(-1)}}
	for _, l := range lines {
		for _, y := range l.Y {
			if !math.IsNaN(y) {
				s.Y = []float64{min(s.Y[0], y), max(s.Y[1], y)}
			}
		}
	}
	if s.Y[0] > s.Y[1] {
		return page.Series{Name: s.Name, Mark: true}
	}
	return s
}
