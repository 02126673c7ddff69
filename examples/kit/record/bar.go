package record

import (
	"math"

	"example.com/closefit/examples/kit/job"
)

// barWide is how many characters a bar takes.
const barWide = 12

// bar draws a reading between its limits, in characters that every printer has: "[--##---]".
// All bars of a group have one scale. An end of the limits that stands under the reading is
// not seen, and where limits have no end there is no bracket.
func bar(d *job.Drawing) string {
	if d == nil {
		return ""
	}
	cell := func(at float64) int { return min(max(int(math.Floor(at*barWide)), 0), barWide-1) }
	cells := make([]byte, barWide)
	from, to := cell(d.LimitsFrom), cell(d.LimitsFrom+d.LimitsWide)
	first, last := cell(d.ReadingFrom), cell(d.ReadingFrom+d.ReadingWide)
	for i := range cells {
		switch {
		case first <= i && i <= last:
			cells[i] = '#'
		case i == from && d.LimitsFrom > 0:
			cells[i] = '['
		case i == to && d.LimitsFrom+d.LimitsWide < 1:
			cells[i] = ']'
		case from <= i && i <= to:
			cells[i] = '-'
		default:
			cells[i] = ' '
		}
	}
	return string(cells)
}

// barred reports whether a group has room for bars beside what else its rows say.
func barred(g job.Group) bool {
	left, drawn := width-2-barWide-2-lastWide, false
	var widest [3]int
	for _, f := range g.Findings {
		drawn = drawn || f.Drawing != nil
		for i, text := range []string{f.Location, f.Measured.Text, f.Verdict.String()} {
			widest[i] = max(widest[i], len([]rune(text))+2)
		}
	}
	return drawn && widest[0]+widest[1]+widest[2] <= left
}
