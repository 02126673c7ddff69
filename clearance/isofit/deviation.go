package isofit

import (
	"strings"

	"example.com/closefit/units"
)

// none marks a range for which the standard gives no value.
const none = -1

// ranged has one value in micrometres for each fine range of nominal size.
type ranged = [len(fineUpTo)]int32

// awayFromMaterial has the fundamental deviations of the letters that leave a
// clearance, in micrometres without their sign: es = -value for the shaft, EI =
// +value for the hole (ISO 286-1:2010, tables 2 and 4; see doc.go for what was
// read and what is from memory).
//
// Formulas (ISO 286-1:1988, annex A, table 6, from memory), D the geometric mean
// of the range in mm, result in µm:
//
//	a = 265 + 1.3 D (to 120 mm), 3.5 D      b ≈ 140 + 0.85 D (to 160 mm), 1.8 D
//	c = 52 D^0.2 (to 40 mm), 95 + 0.8 D     d = 16 D^0.44
//	e = 11 D^0.41     f = 5.5 D^0.41        g = 2.5 D^0.34
var awayFromMaterial = map[string]ranged{
	"a": {270, 270, 280, 290, 290, 300, 300, 310, 320, 340, 360, 380, 410, 460, 520, 580, 660, 740, 820, 920, 1050, 1200, 1350, 1500, 1650},
	"b": {140, 140, 150, 150, 150, 160, 160, 170, 180, 190, 200, 220, 240, 260, 280, 310, 340, 380, 420, 480, 540, 600, 680, 760, 840},
	"c": {60, 70, 80, 95, 95, 110, 110, 120, 130, 140, 150, 170, 180, 200, 210, 230, 240, 260, 280, 300, 330, 360, 400, 440, 480},
	"d": {20, 30, 40, 50, 50, 65, 65, 80, 80, 100, 100, 120, 120, 145, 145, 145, 170, 170, 170, 190, 190, 210, 210, 230, 230},
	"e": {14, 20, 25, 32, 32, 40, 40, 50, 50, 60, 60, 72, 72, 85, 85, 85, 100, 100, 100, 110, 110, 125, 125, 135, 135},
	"f": {6, 10, 13, 16, 16, 20, 20, 25, 25, 30, 30, 36, 36, 43, 43, 43, 50, 50, 50, 56, 56, 62, 62, 68, 68},
	"g": {2, 4, 5, 6, 6, 7, 7, 9, 9, 10, 10, 12, 12, 14, 14, 14, 15, 15, 15, 17, 17, 18, 18, 20, 20},
}

// intoMaterial has the fundamental deviations of the letters m to zc in
// micrometres: ei = +value for the shaft, ES = -value + Δ for the hole (ISO
// 286-1:2010, tables 3 and 5).
//
// Formulas (as above):
//
//	m = IT7 - IT6     n = 5 D^0.34       p = IT7 + 0 to 5     r = geometric mean of p and s
//	s = IT8 + 1 to 4 (to 50 mm), IT7 + 0.4 D                  t = IT7 + 0.63 D
//	u = IT7 + D       v = IT7 + 1.25 D   x = IT7 + 1.6 D      y = IT7 + 2 D
//	z = IT7 + 2.5 D   za = IT8 + 3.15 D  zb = IT9 + 4 D       zc = IT10 + 5 D
var intoMaterial = map[string]ranged{
	"m":  {2, 4, 6, 7, 7, 8, 8, 9, 9, 11, 11, 13, 13, 15, 15, 15, 17, 17, 17, 20, 20, 21, 21, 23, 23},
	"n":  {4, 8, 10, 12, 12, 15, 15, 17, 17, 20, 20, 23, 23, 27, 27, 27, 31, 31, 31, 34, 34, 37, 37, 40, 40},
	"p":  {6, 12, 15, 18, 18, 22, 22, 26, 26, 32, 32, 37, 37, 43, 43, 43, 50, 50, 50, 56, 56, 62, 62, 68, 68},
	"r":  {10, 15, 19, 23, 23, 28, 28, 34, 34, 41, 43, 51, 54, 63, 65, 68, 77, 80, 84, 94, 98, 108, 114, 126, 132},
	"s":  {14, 19, 23, 28, 28, 35, 35, 43, 43, 53, 59, 71, 79, 92, 100, 108, 122, 130, 140, 158, 170, 190, 208, 232, 252},
	"t":  {none, none, none, none, none, none, 41, 48, 54, 66, 75, 91, 104, 122, 134, 146, 166, 180, 196, 218, 240, 268, 294, 330, 360},
	"u":  {18, 23, 28, 33, 33, 41, 48, 60, 70, 87, 102, 124, 144, 170, 190, 210, 236, 258, 284, 315, 350, 390, 435, 490, 540},
	"v":  {none, none, none, none, 39, 47, 55, 68, 81, 102, 120, 146, 172, 202, 228, 252, 284, 310, 340, 385, 425, 475, 530, 595, 660},
	"x":  {20, 28, 34, 40, 45, 54, 64, 80, 97, 122, 146, 178, 210, 248, 280, 310, 350, 385, 425, 475, 525, 590, 660, 740, 820},
	"y":  {none, none, none, none, none, 63, 75, 94, 114, 144, 174, 214, 254, 300, 340, 380, 425, 470, 520, 580, 650, 730, 820, 920, 1000},
	"z":  {26, 35, 42, 50, 60, 73, 88, 112, 136, 172, 210, 258, 310, 365, 415, 465, 520, 575, 640, 710, 790, 900, 1000, 1100, 1250},
	"za": {32, 42, 52, 64, 77, 98, 118, 148, 180, 226, 274, 335, 400, 470, 535, 600, 670, 740, 820, 920, 1000, 1150, 1300, 1450, 1600},
	"zb": {40, 50, 67, 90, 108, 136, 160, 200, 242, 300, 360, 445, 525, 620, 700, 780, 880, 960, 1050, 1200, 1300, 1500, 1650, 1850, 2100},
	"zc": {60, 80, 97, 130, 150, 188, 218, 274, 325, 405, 480, 585, 690, 800, 900, 1000, 1150, 1250, 1350, 1550, 1700, 1900, 2100, 2400, 2600},
}

// shaftK has ei of k in grades IT4 to IT7, in micrometres; in all other grades
// it is 0 (ISO 286-1:2010, table 5). Formula: 0.6 D^(1/3).
var shaftK = ranged{0, 1, 1, 1, 1, 2, 2, 2, 2, 2, 2, 3, 3, 3, 3, 3, 4, 4, 4, 4, 4, 4, 4, 5, 5}

// shaftJ has -ei of j5 and j6, of j7 and of j8, in micrometres (ISO 286-1:2010,
// table 5, from memory). They follow no formula.
var shaftJ = map[grade]ranged{
	it5: shaftJ5,
	it6: shaftJ5,
	it7: {4, 4, 5, 6, 6, 8, 8, 10, 10, 12, 12, 15, 15, 18, 18, 18, 21, 21, 21, 26, 26, 28, 28, 32, 32},
	it8: {6, none, none, none, none, none, none, none, none, none, none, none, none, none, none, none, none, none, none, none, none, none, none, none, none},
}

var shaftJ5 = ranged{2, 2, 2, 3, 3, 4, 4, 5, 5, 7, 7, 9, 9, 11, 11, 11, 13, 13, 13, 16, 16, 18, 18, 20, 20}

// holeJ has ES of J6, J7 and J8, in micrometres (ISO 286-1:2010, table 3, from
// memory). They follow no formula.
var holeJ = map[grade]ranged{
	it6: {2, 5, 5, 6, 6, 8, 8, 10, 10, 13, 13, 16, 16, 18, 18, 18, 22, 22, 22, 25, 25, 29, 29, 33, 33},
	it7: {4, 6, 8, 10, 10, 12, 12, 14, 14, 18, 18, 22, 22, 26, 26, 26, 30, 30, 30, 36, 36, 39, 39, 43, 43},
	it8: {6, 10, 12, 15, 15, 20, 20, 24, 24, 28, 28, 34, 34, 41, 41, 41, 47, 47, 47, 55, 55, 60, 60, 66, 66},
}

// letters returns every letter of a shaft, in the order of the standard.
func letters() []string {
	return strings.Fields("a b c d e f g h js j k m n p r s t u v x y z za zb zc")
}

// deviations returns the lower and the upper limit deviation of the class at a
// nominal size, in micrometre grid lengths: what is added to the nominal size.
func (c ToleranceClass) deviations(nominal units.Length) (lower, upper units.Length, err error) {
	width, err := c.grade.tolerance(nominal)
	if err != nil {
		return lower, upper, err
	}
	if c.letter == "js" {
		half := units.Between(units.Length{}, width).Mid()
		return half.Neg(), half, nil
	}
	r, err := rangeOf(nominal)
	if err != nil {
		return lower, upper, err
	}
	fundamental, isLower, err := c.fundamental(nominal, r)
	if err != nil {
		return lower, upper, err
	}
	if isLower {
		return fundamental, fundamental.Add(width), nil
	}
	return fundamental.Sub(width), fundamental, nil
}

// fundamental returns the fundamental deviation of a class other than js: the
// limit deviation nearer the nominal size, and whether it is the lower one.
func (c ToleranceClass) fundamental(nominal units.Length, r int) (deviation units.Length, isLower bool, err error) {
	if upToOne(nominal) && (c.letter == "a" || c.letter == "b" || c.hole && c.letter == "n" && c.grade > it8) {
		return deviation, false, c.notGiven(nominal, "the standard leaves "+c.String()+" out up to 1 mm", "write a letter nearer h")
	}
	if c.hole {
		return c.holeFundamental(nominal, r)
	}
	return c.shaftFundamental(nominal, r)
}

func (c ToleranceClass) shaftFundamental(nominal units.Length, r int) (deviation units.Length, isLower bool, err error) {
	if away, ok := awayFromMaterial[c.letter]; ok {
		return micrometres(-away[r]), false, nil
	}
	switch c.letter {
	case "h":
		return units.Length{}, false, nil
	case "j":
		j, given := shaftJ[c.grade]
		if !given {
			return deviation, false, c.notGiven(nominal, "j has grades 5, 6, 7 and 8 alone", "write one of them, or js"+c.grade.digits())
		}
		if j[r] == none {
			return deviation, false, c.notGiven(nominal, "j8 ends at 3 mm", "write js8")
		}
		return micrometres(-j[r]), true, nil
	case "k":
		if c.grade < it4 || c.grade > it7 {
			return units.Length{}, true, nil
		}
		return micrometres(shaftK[r]), true, nil
	}
	into := intoMaterial[c.letter][r]
	if into == none {
		return deviation, false, c.beginsAbove(nominal)
	}
	return micrometres(into), true, nil
}

// holeFundamental follows the two rules of ISO 286-1 for holes. The general
// rule: the deviation is the shaft's with the other sign. The special rule, for
// K, M and N up to IT8 and P to ZC up to IT7 above 3 mm:
//
//	ES = -ei(letter) + Δ,  Δ = ITn - IT(n-1)
//
// where n is the grade; so that a hole one grade coarser than its shaft gives
// the same fit in the hole-basis and the shaft-basis system (ISO 286-1:1988,
// annex A.3; the Δ are printed in ISO 286-1:2010, table 3, for IT3 to IT8).
func (c ToleranceClass) holeFundamental(nominal units.Length, r int) (deviation units.Length, isLower bool, err error) {
	if away, ok := awayFromMaterial[c.letter]; ok {
		return micrometres(away[r]), true, nil
	}
	switch c.letter {
	case "h":
		return units.Length{}, true, nil
	case "j":
		j, given := holeJ[c.grade]
		if !given {
			return deviation, false, c.notGiven(nominal, "J has grades 6, 7 and 8 alone", "write one of them, or JS"+c.grade.digits())
		}
		return micrometres(j[r]), false, nil
	}
	into := intoMaterial[c.letter][r]
	finest, last := it3, it7
	switch c.letter {
	case "k":
		into, last = shaftK[r], it8
		if c.grade > it8 && r > 0 {
			return deviation, false, c.notGiven(nominal, "K ends at grade 8 above 3 mm", "write K8, or JS"+c.grade.digits())
		}
	case "m":
		last = it8
	case "n":
		last = it8
		if c.grade > it8 && r > 0 {
			return units.Length{}, false, nil // N9 and coarser: ES = 0 (ISO 286-1:2010, table 3)
		}
	}
	switch {
	case into == none:
		return deviation, false, c.beginsAbove(nominal)
	case c.grade > last || r == 0:
		return micrometres(-into), false, nil
	case c.grade < finest:
		return deviation, false, c.notGiven(nominal, "the standard gives the Δ of hole letters K to ZC from grade 3 on",
			"write "+c.withGrade(it3).String()+" or coarser")
	case c.letter == "m" && c.grade == it6 && fineUpTo[r] > 250 && fineUpTo[r] <= 315:
		return micrometres(-9), false, nil // printed so, where the rule gives -11 (ISO 286-1:2010, table 3, note)
	}
	main := mainOf[r]
	delta := tolerances[c.grade][main] - tolerances[c.grade-1][main]
	return tenths(delta - 10*into), false, nil
}

func micrometres(n int32) units.Length { return units.Micrometre.OfInt(int64(n)) }

// beginsAbove is the error for the letters that begin at a larger size.
func (c ToleranceClass) beginsAbove(nominal units.Length) error {
	from := 0
	for i, v := range intoMaterial[c.letter] {
		if v == none {
			from = i
		}
	}
	return c.notGiven(nominal, c.letterShown()+" begins above "+units.Millimetre.OfInt(fineUpTo[from]).String(),
		"write the next letter, whose values the standard uses there")
}

func (c ToleranceClass) notGiven(nominal units.Length, what, fix string) error {
	return wrong(ErrNotGiven, nominal.String()+" "+c.String(), what, fix)
}
