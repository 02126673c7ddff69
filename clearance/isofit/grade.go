package isofit

import (
	"fmt"

	"example.com/closefit/units"
)

// A grade is a standard tolerance grade of ISO 286-1, "IT7": how wide a tolerance is
// for its size.
type grade uint8

const (
	noGrade grade = iota
	it01
	it0
	it1
	it2
	it3
	it4
	it5
	it6
	it7
	it8
	it9
	it10
	it11
	it12
	it13
	it14
	it15
	it16
	it17
	it18
)

// parseGrade reads "7"; "01" is finer than "0".
func parseGrade(digits string) (g grade, ok bool) {
	for g := it01; g <= it18; g++ {
		if g.digits() == digits {
			return g, true
		}
	}
	return noGrade, false
}

// digits returns the grade without IT: "7", "01".
func (g grade) digits() string {
	if g == it01 {
		return "01"
	}
	return fmt.Sprint(int(g) - int(it0))
}

// String returns "IT7".
func (g grade) String() string { return "IT" + g.digits() }

// tolerance returns the width of the tolerance interval of the grade at the
// nominal size (ISO 286-1:2010, table 1). The error is of kind [ErrNotGiven] outside
// 0..500 mm and for IT14 to IT18 up to 1 mm.
func (g grade) tolerance(nominal units.Length) (units.Length, error) {
	r, err := rangeOf(nominal)
	if err != nil {
		return units.Length{}, err
	}
	if g >= it14 && upToOne(nominal) {
		return units.Length{}, wrong(ErrNotGiven, nominal.String()+" "+g.String(), "grades IT14 to IT18 are not used up to 1 mm", "write IT13 or a finer grade")
	}
	return tenths(tolerances[g][mainOf[r]]), nil
}

// tenths returns n tenths of a micrometre.
func tenths(n int32) units.Length { return units.Nanometre.OfInt(100 * int64(n)) }

// tolerances has the standard tolerances in tenths of a micrometre, by grade and
// range (ISO 286-1:2010, table 1; IT4 to IT12 checked against reproductions in
// testdata/evidence, the others from memory; all computed again in a test).
//
//	i   = 0.45 D^(1/3) + 0.001 D        µm
//	IT5 = 7i, IT6 = 10i, IT7 = 16i, IT8 = 25i, IT9 = 40i, IT10 = 64i, then ×10 every five grades
//	IT01 = 0.3 + 0.008 D, IT0 = 0.5 + 0.012 D, IT1 = 0.8 + 0.020 D; IT2 to IT4 in geometric steps to IT5
//
// D is the geometric mean of the ends of the range in mm; the first range begins
// at 1 mm (ISO 286-1:1988, annex A, from memory). What is printed is rounded, and
// is what counts.
var tolerances = [it18 + 1][mainRanges]int32{
	//     3      6     10     18     30     50     80    120    180    250    315    400    500 mm
	it01: {3, 4, 4, 5, 6, 6, 8, 10, 12, 20, 25, 30, 40},
	it0:  {5, 6, 6, 8, 10, 10, 12, 15, 20, 30, 40, 50, 60},
	it1:  {8, 10, 10, 12, 15, 15, 20, 25, 35, 45, 60, 70, 80},
	it2:  {12, 15, 15, 20, 25, 25, 30, 40, 50, 70, 80, 90, 100},
	it3:  {20, 25, 25, 30, 40, 40, 50, 60, 80, 100, 120, 130, 150},
	it4:  {30, 40, 40, 50, 60, 70, 80, 100, 120, 140, 160, 180, 200},
	it5:  {40, 50, 60, 80, 90, 110, 130, 150, 180, 200, 230, 250, 270},
	it6:  {60, 80, 90, 110, 130, 160, 190, 220, 250, 290, 320, 360, 400},
	it7:  {100, 120, 150, 180, 210, 250, 300, 350, 400, 460, 520, 570, 630},
	it8:  {140, 180, 220, 270, 330, 390, 460, 540, 630, 720, 810, 890, 970},
	it9:  {250, 300, 360, 430, 520, 620, 740, 870, 1000, 1150, 1300, 1400, 1550},
	it10: {400, 480, 580, 700, 840, 1000, 1200, 1400, 1600, 1850, 2100, 2300, 2500},
	it11: {600, 750, 900, 1100, 1300, 1600, 1900, 2200, 2500, 2900, 3200, 3600, 4000},
	it12: {1000, 1200, 1500, 1800, 2100, 2500, 3000, 3500, 4000, 4600, 5200, 5700, 6300},
	it13: {1400, 1800, 2200, 2700, 3300, 3900, 4600, 5400, 6300, 7200, 8100, 8900, 9700},
	it14: {2500, 3000, 3600, 4300, 5200, 6200, 7400, 8700, 10000, 11500, 13000, 14000, 15500},
	it15: {4000, 4800, 5800, 7000, 8400, 10000, 12000, 14000, 16000, 18500, 21000, 23000, 25000},
	it16: {6000, 7500, 9000, 11000, 13000, 16000, 19000, 22000, 25000, 29000, 32000, 36000, 40000},
	it17: {10000, 12000, 15000, 18000, 21000, 25000, 30000, 35000, 40000, 46000, 52000, 57000, 63000},
	it18: {14000, 18000, 22000, 27000, 33000, 39000, 46000, 54000, 63000, 72000, 81000, 89000, 97000},
}
