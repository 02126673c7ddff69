package isofit

import (
	"fmt"
	"math"
	"slices"
	"testing"
)

// The printed tables follow from the formulas of ISO 286-1:1988, annex A, by
// rounding that is partly to a scale of preferred numbers. Here they are computed
// again, to catch a digit that was recalled wrongly; the values that part from
// their formula by more than the scale of rounding are listed, and each must
// really part from it.

// geometricMean returns D of a range of nominal size.
func geometricMean(ends []int64, i int) float64 {
	begin := 1.0
	if i > 0 {
		begin = float64(ends[i-1])
	}
	return math.Sqrt(begin * float64(ends[i]))
}

var mainUpTo = []int64{3, 6, 10, 18, 30, 50, 80, 120, 180, 250, 315, 400, 500}

func TestTolerancesFollowTheirFormula(t *testing.T) {
	multiples := map[grade]float64{it5: 7, it6: 10, it7: 16, it8: 25, it9: 40, it10: 64, it11: 100,
		it12: 160, it13: 250, it14: 400, it15: 640, it16: 1000, it17: 1600, it18: 2500}
	linear := map[grade][2]float64{it01: {0.3, 0.008}, it0: {0.5, 0.012}, it1: {0.8, 0.020}}
	for main := range mainRanges {
		d := geometricMean(mainUpTo, main)
		i := 0.45*math.Cbrt(d) + 0.001*d
		at := func(g grade) float64 { return float64(tolerances[g][main]) / 10 }
		for g, m := range multiples {
			allowed := max(0.5, 0.045*m*i)
			if main == 0 {
				allowed = 0.16 * m * i // up to 3 mm the printed tolerances are wider throughout
			} else if main == 1 {
				allowed = max(0.7, 0.03*m*i)
			}
			if diff := math.Abs(at(g) - m*i); diff > allowed {
				t.Errorf("%s to %d mm: printed %g, formula %.2f", g, mainUpTo[main], at(g), m*i)
			}
		}
		for g, ab := range linear {
			if f := ab[0] + ab[1]*d; math.Abs(at(g)-f) > 0.29*f {
				t.Errorf("%s to %d mm: printed %g, formula %.2f", g, mainUpTo[main], at(g), f)
			}
		}
		for g := it2; g <= it4; g++ {
			f := at(it1) * math.Pow(at(it5)/at(it1), float64(g-it1)/4)
			if math.Abs(at(g)-f) > 0.20*f {
				t.Errorf("%s to %d mm: printed %g, geometric step %.2f", g, mainUpTo[main], at(g), f)
			}
		}
		for g := it12; g <= it18; g++ {
			if at(g) != 10*at(g-5) {
				t.Errorf("%s to %d mm: printed %g, ten times %s is %g", g, mainUpTo[main], at(g), g-5, 10*at(g-5))
			}
		}
	}
}

func TestDeviationsFollowTheirFormula(t *testing.T) {
	type size struct{ d, main, it6, it7, it8, it9, it10 float64 }
	formulas := map[string]func(s size) float64{
		"a": func(s size) float64 {
			if s.d <= 120 {
				return 265 + 1.3*s.d
			}
			return 3.5 * s.d
		},
		"b": func(s size) float64 {
			if s.d <= 160 {
				return 140 + 0.85*s.d
			}
			return 1.8 * s.d
		},
		"c": func(s size) float64 {
			if s.d <= 40 {
				return 52 * math.Pow(s.d, 0.2)
			}
			return 95 + 0.8*s.d
		},
		"d": func(s size) float64 { return 16 * math.Pow(s.main, 0.44) },
		"e": func(s size) float64 { return 11 * math.Pow(s.main, 0.41) },
		"f": func(s size) float64 { return 5.5 * math.Pow(s.main, 0.41) },
		"g": func(s size) float64 { return 2.5 * math.Pow(s.main, 0.34) },
		"k": func(s size) float64 { return 0.6 * math.Cbrt(s.main) },
		"m": func(s size) float64 { return s.it7 - s.it6 },
		"n": func(s size) float64 { return 5 * math.Pow(s.main, 0.34) },
		"s": func(s size) float64 {
			if s.d <= 50 {
				return s.it8 + 2
			}
			return s.it7 + 0.4*s.d
		},
		"t":  func(s size) float64 { return s.it7 + 0.63*s.d },
		"u":  func(s size) float64 { return s.it7 + s.d },
		"v":  func(s size) float64 { return s.it7 + 1.25*s.d },
		"x":  func(s size) float64 { return s.it7 + 1.6*s.d },
		"y":  func(s size) float64 { return s.it7 + 2*s.d },
		"z":  func(s size) float64 { return s.it7 + 2.5*s.d },
		"za": func(s size) float64 { return s.it8 + 3.15*s.d },
		"zb": func(s size) float64 { return s.it9 + 4*s.d },
		"zc": func(s size) float64 { return s.it10 + 5*s.d },
	}
	var parting []string
	for letter, formula := range formulas {
		printed, ok := awayFromMaterial[letter]
		if !ok {
			printed, ok = intoMaterial[letter]
		}
		if letter == "k" {
			printed, ok = shaftK, true
		}
		if !ok {
			t.Fatalf("no table for %s", letter)
		}
		for r, p := range printed {
			if p == none {
				continue
			}
			main := mainOf[r]
			at := func(g grade) float64 { return float64(tolerances[g][main]) / 10 }
			f := formula(size{geometricMean(fineUpTo[:], r), geometricMean(mainUpTo, main), at(it6), at(it7), at(it8), at(it9), at(it10)})
			if math.Abs(float64(p)-f) > max(1, 0.025*f) {
				parting = append(parting, fmt.Sprintf("%s to %d: %d, formula %.0f", letter, fineUpTo[r], p, f))
			}
		}
	}
	slices.Sort(parting)
	want := []string{
		"a to 14: 290, formula 280",
		"a to 24: 300, formula 292",
		"a to 355: 1200, formula 1170",
		"b to 120: 240, formula 233",
		"b to 140: 260, formula 250",
		"b to 160: 280, formula 267",
		"b to 6: 140, formula 144",
		"c to 14: 95, formula 85",
		"c to 18: 95, formula 90",
		"c to 200: 240, formula 247",
		"c to 24: 110, formula 95",
		"c to 30: 110, formula 100",
		"c to 3: 60, formula 58",
		"c to 40: 120, formula 106",
		"g to 3: 2, formula 3",
		"m to 3: 2, formula 4",
		"n to 3: 4, formula 6",
		"s to 3: 14, formula 16",
		"s to 40: 43, formula 41",
		"s to 50: 43, formula 41",
		"t to 30: 41, formula 38",
		"t to 40: 48, formula 47",
		"u to 10: 28, formula 23",
		"u to 14: 33, formula 30",
		"u to 3: 18, formula 12",
		"u to 6: 23, formula 16",
		"v to 18: 39, formula 38",
		"x to 10: 34, formula 27",
		"x to 14: 40, formula 37",
		"x to 18: 45, formula 43",
		"x to 3: 20, formula 13",
		"x to 6: 28, formula 19",
		"z to 10: 42, formula 34",
		"z to 14: 50, formula 48",
		"z to 18: 60, formula 58",
		"z to 3: 26, formula 14",
		"z to 6: 35, formula 23",
		"za to 10: 52, formula 46",
		"za to 3: 32, formula 19",
		"za to 6: 42, formula 31",
		"zb to 3: 40, formula 32",
		"zb to 6: 50, formula 47",
		"zc to 3: 60, formula 49",
		"zc to 6: 80, formula 69",
	}
	if !slices.Equal(parting, want) {
		t.Errorf("values that part from their formula:\n%q\nwant\n%q", parting, want)
	}
	for r := range fineUpTo {
		p, s := float64(intoMaterial["p"][r]), float64(intoMaterial["s"][r])
		if mean := math.Sqrt(p * s); math.Abs(float64(intoMaterial["r"][r])-mean) > 1.2 {
			t.Errorf("r to %d: printed %d, geometric mean of p and s %.1f", fineUpTo[r], intoMaterial["r"][r], mean)
		}
		if over := p - float64(tolerances[it7][mainOf[r]])/10; r > 0 && (over < 0 || over > 5) {
			t.Errorf("p to %d: %g beyond IT7, want 0 to 5", fineUpTo[r], over)
		}
	}
}

// The Δ that ISO 286-1:2010 prints beside the deviations of holes, grades 3 to 8
// (table 3, from memory), are differences of the printed tolerances.
func TestDeltas(t *testing.T) {
	printed := [mainRanges][6]float64{
		1:  {1, 1.5, 1, 3, 4, 6},
		2:  {1, 1.5, 2, 3, 6, 7},
		3:  {1, 2, 3, 3, 7, 9},
		4:  {1.5, 2, 3, 4, 8, 12},
		5:  {1.5, 3, 4, 5, 9, 14},
		6:  {2, 3, 5, 6, 11, 16},
		7:  {2, 4, 5, 7, 13, 19},
		8:  {3, 4, 6, 7, 15, 23},
		9:  {3, 4, 6, 9, 17, 26},
		10: {4, 4, 7, 9, 20, 29},
		11: {4, 5, 7, 11, 21, 32},
		12: {5, 5, 7, 13, 23, 34},
	}
	for main := 1; main < mainRanges; main++ {
		for i, want := range printed[main] {
			g := it3 + grade(i)
			if got := float64(tolerances[g][main]-tolerances[g-1][main]) / 10; got != want {
				t.Errorf("Δ of %s to %d mm: %g, printed %g", g, mainUpTo[main], got, want)
			}
		}
	}
}

func TestRangesNest(t *testing.T) {
	for r, end := range fineUpTo {
		main := mainOf[r]
		if end > mainUpTo[main] || main > 0 && end <= mainUpTo[main-1] {
			t.Errorf("range to %d mm lies in the main range to %d mm", end, mainUpTo[main])
		}
	}
}
