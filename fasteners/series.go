package fasteners

import (
	"math/big"
	"slices"
	"strings"

	"example.com/closefit/units"
)

// A series is a standard choice of pitch for each diameter.
type series string

const (
	metricCoarse series = "coarse" // ISO 261, the pitch that a designation leaves out
	metricFine   series = "fine"   // any other metric pitch
	unc          series = "UNC"    // unified coarse
	unf          series = "UNF"    // unified fine
	unef         series = "UNEF"   // unified extra fine
	un           series = "UN"     // unified constant pitch: 4, 6, 8, 12, 16, 20, 28 or 32 to the inch, in the sizes that have it
	uns          series = "UNS"    // unified special: any other pair of size and pitch
)

// coarsePitches are the coarse pitches by nominal diameter, both in hundredths of a
// millimetre. Source: ISO 261:1998, table 2.
var coarsePitches = [][2]int64{
	{100, 25}, {110, 25}, {120, 25}, {140, 30}, {160, 35}, {180, 35}, {200, 40}, {220, 45}, {250, 45}, {300, 50}, {350, 60}, {400, 70},
	{450, 75}, {500, 80}, {600, 100}, {700, 100}, {800, 125}, {900, 125}, {1000, 150}, {1100, 150}, {1200, 175}, {1400, 200}, {1600, 200}, {1800, 250},
	{2000, 250}, {2200, 250}, {2400, 300}, {2700, 300}, {3000, 350}, {3300, 350}, {3600, 400}, {3900, 400}, {4200, 450}, {4500, 450}, {4800, 500}, {5200, 500},
	{5600, 550}, {6000, 550}, {6400, 600}, {6800, 600},
}

// coarsePitch returns the coarse pitch of a metric diameter.
func coarsePitch(diameter units.Length) (pitch units.Length, ok bool) {
	hundredths := diameter.Rat(units.Millimetre)
	hundredths.Mul(hundredths, big.NewRat(100, 1))
	if !hundredths.IsInt() || !hundredths.Num().IsInt64() {
		return units.Length{}, false
	}
	for _, row := range coarsePitches {
		if row[0] == hundredths.Num().Int64() {
			return units.Micrometre.OfInt(row[1] * 10), true
		}
	}
	return units.Length{}, false
}

// unifiedPitches are the threads of the series that have one pitch for each nominal size: the size, and
// behind the last dash the threads per inch. Source: ASME B1.1-2003, tables 1 and 2 (number sizes
// and inches).
var unifiedPitches = []struct {
	series  series
	threads string
}{
	{unc, "#1-64 #2-56 #3-48 #4-40 #5-40 #6-32 #8-32 #10-24 #12-24" +
		" 1/4-20 5/16-18 3/8-16 7/16-14 1/2-13 9/16-12 5/8-11 3/4-10" +
		" 7/8-9 1-8 1-1/8-7 1-1/4-7 1-3/8-6 1-1/2-6 1-3/4-5 2-4.5" +
		" 2-1/4-4.5 2-1/2-4 2-3/4-4 3-4 3-1/4-4 3-1/2-4 3-3/4-4 4-4"},
	{unf, "#0-80 #1-72 #2-64 #3-56 #4-48 #5-44 #6-40 #8-36 #10-32 #12-28" +
		" 1/4-28 5/16-24 3/8-24 7/16-20 1/2-20 9/16-18 5/8-18 3/4-16" +
		" 7/8-14 1-12 1-1/8-12 1-1/4-12 1-3/8-12 1-1/2-12"},
	{unef, "#12-32 1/4-32 5/16-32 3/8-32 7/16-28 1/2-28 9/16-24 5/8-24" +
		" 11/16-24 3/4-20 13/16-20 7/8-20 15/16-20 1-20 1-1/16-18 1-1/8-18" +
		" 1-3/16-18 1-1/4-18 1-5/16-18 1-3/8-18 1-7/16-18 1-1/2-18 1-9/16-18" +
		" 1-5/8-18 1-11/16-18"},
}

// perInch returns the threads per inch that one of UNC, UNF and UNEF has for a size.
func perInch(named series, size string) (tpi string, ok bool) {
	for _, s := range unifiedPitches {
		if s.series != named {
			continue
		}
		for thread := range strings.FieldsSeq(s.threads) {
			if dash := strings.LastIndexByte(thread, '-'); thread[:dash] == size {
				return thread[dash+1:], true
			}
		}
	}
	return "", false
}

// A constantSeries is a constant pitch series: threads per inch, and the sizes in inches from
// which and up to which the standard has it.
type constantSeries struct {
	perInch       string
	from, upTo    string
	quartersAlone bool // no eighths between the quarters
}

// constantSeriesList are the constant pitch series. Their sizes are all sixteenths of an inch
// below 2 in and all eighths from there, or all quarters.
//
// Source: ASME B1.1-2003, table 1. The sizes were read in the limits of table 2, up to 4 in; of
// Machinery's Handbook, 27th edition, on pages 1762 (12 and 16 to the inch at 5-3/4 and 6 in),
// 1767 (6 to the inch) and 1772 (28); and of its 31st edition on page 1983 (8). That 4 and 6 to
// the inch go on to 6 in is from memory.
var constantSeriesList = []constantSeries{
	{perInch: "4", from: "5/2", upTo: "6", quartersAlone: true},
	{perInch: "6", from: "11/8", upTo: "6"},
	{perInch: "8", from: "1", upTo: "6"},
	{perInch: "12", from: "9/16", upTo: "6"},
	{perInch: "16", from: "3/8", upTo: "6"},
	{perInch: "20", from: "1/4", upTo: "3"},
	{perInch: "28", from: "1/4", upTo: "3/2"},
	{perInch: "32", from: "1/4", upTo: "1"},
}

// isConstant reports whether a constant pitch series of so many threads per inch has a size.
func isConstant(inches, tpi *big.Rat) bool {
	i := slices.IndexFunc(constantSeriesList, func(s constantSeries) bool { return s.perInch == numberText(tpi) })
	if i < 0 {
		return false
	}
	s := constantSeriesList[i]
	if inches.Cmp(ratio(s.from)) < 0 || inches.Cmp(ratio(s.upTo)) > 0 {
		return false
	}
	step := int64(16)
	switch {
	case s.quartersAlone:
		step = 4
	case inches.Cmp(big.NewRat(2, 1)) >= 0:
		step = 8
	}
	return times(step, inches).IsInt()
}
