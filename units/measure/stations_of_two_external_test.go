package measure_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// The range of two stations is a plain difference: with one figure of 3 µm, which may be
// opposed, 3 + 3 = 6 µm, and not 2·m·u = 2 · 2.2732 · 1.5 = 6.8196 µm. It is so for two
// directions and for two planes, when that is the one claim made.
func TestARangeOfTwoStationsIsADifference(t *testing.T) {
	in := measure.LengthInstrument{Name: "micrometer", Uncertainty: mm("0.003")}
	a, b := read(t, in, "main 1, 0°", "47.986"), read(t, in, "main 1, 90°", "47.978")
	round, err := measure.NewStations([][]measure.LengthReading{{a, b}})
	if err != nil {
		t.Fatal(err)
	}
	for name, r := range map[string]measure.LengthReading{
		"out-of-round": shows(t, measure.OutOfRound, []measure.LengthReading{a, b}), "taper": shows(t, measure.Taper, []measure.LengthReading{a}, []measure.LengthReading{b}),
	} {
		if got := r.Interval(); !got.Equal(units.MustInterval(mm("0.002"), mm("0.014"))) { // 8 ± 6 µm
			t.Errorf("%s is %s", name, got)
		}
	}

	// Two claims share the level: 0.0455003/2 is outside of 2.277605 standard deviations
	// (Python's statistics.NormalDist, inv_cdf(1 - 0.0455003/4)); 2.277605 · 3 = 6.83281 µm.
	if got := round.Find(measure.OutOfRound).Expanded().Float64(units.Micrometre); math.Abs(got-6.83281) > 0.0001 {
		t.Errorf("beside the extremes it is good to %v µm", got)
	}

	// Two stations of one name that show the same are one act to a Sum, and cancel. A range
	// never takes them so.
	if got := shows(t, measure.OutOfRound, []measure.LengthReading{a, a}).Expanded(); got.Less(mm("0.006")) {
		t.Errorf("a station given twice is good to %s", got)
	}
}

// The range of three stations is no difference of two: q(3) = 3.3668 of u = 1 µm, and not
// √2 · 2 = 2.8284 (Harter's table, 1960), whichever two are farthest apart.
func TestARangeOfThreeStations(t *testing.T) {
	in := measure.LengthInstrument{Name: "micrometer", Common: mm("0.003"), Repeats: mm("0.002")}
	for _, values := range [][]string{{"50", "50.001", "50.004"}, {"50.004", "50", "50.001"}, {"50.001", "50.001", "50.009"}} {
		var row []measure.LengthReading
		for i, v := range values {
			row = append(row, read(t, in, fmt.Sprint("direction ", i+1), v))
		}
		if got := shows(t, measure.OutOfRound, row).Expanded().Float64(units.Micrometre); math.Abs(got-3.3668) > 0.0002 {
			t.Errorf("%v: U = %v µm, want 3.3668", values, got)
		}
	}
}

// The claims of two planes of two directions hold together at the stated coverage,
// however the errors of an instrument with one figure hang together: opposed along, across
// or both, or independent. 10,000 trials as in TestStationsHoldTheTruth.
func TestStationsOfTwoHoldTheTruth(t *testing.T) {
	const trials, slack = 10_000, 0.0063
	in := measure.LengthInstrument{Name: "micrometer", Uncertainty: mm("0.003")} // u = 1.5 µm
	size := [2][2]float64{{50_000, 50_004}, {50_007, 50_009}}                    // µm: taper 7, out-of-round 4
	for name, signs := range map[string][2][2]float64{
		"along": {{1, 1}, {-1, -1}}, "across": {{1, -1}, {1, -1}}, "both": {{1, -1}, {-1, 1}}, "independent": {},
	} {
		rnd := rand.New(rand.NewPCG(11, 4))
		held, alone := 0, 0
		var taper, round, single units.Length
		for trial := range trials {
			shared := rnd.NormFloat64() * 1.5
			var x [2][2]float64
			planes := make([][]measure.LengthReading, 2)
			for i := range x {
				for j := range x[i] {
					e := signs[i][j] * shared
					if signs[i][j] == 0 {
						e = rnd.NormFloat64() * 1.5
					}
					x[i][j] = size[i][j] + e
					if trial == 0 {
						planes[i] = append(planes[i], read(t, in, fmt.Sprint(i, j), fmt.Sprintf("%.4f", x[i][j]/1000)))
					}
				}
			}
			if trial == 0 { // the doubts do not depend on what is read
				s, err := measure.NewStations(planes, measure.Taper, measure.OutOfRound)
				if err != nil {
					t.Fatal(err)
				}
				taper, round = s.Find(measure.Taper).Expanded(), s.Find(measure.OutOfRound).Expanded()
				single = shows(t, measure.OutOfRound, planes[0]).Expanded()
			}
			apart := func(a, b float64) float64 { return math.Abs(a - b) }
			seenTaper := max(apart(x[0][0], x[1][0]), apart(x[0][1], x[1][1]))
			seenRound := max(apart(x[0][0], x[0][1]), apart(x[1][0], x[1][1]))
			if apart(seenTaper, 7) <= taper.Float64(units.Micrometre) && apart(seenRound, 4) <= round.Float64(units.Micrometre) {
				held++
			}
			if apart(apart(x[0][0], x[0][1]), 4) <= single.Float64(units.Micrometre) {
				alone++
			}
		}
		for what, n := range map[string]int{"both claims": held, "one claim": alone} {
			if got := float64(n) / trials; got < math.Erf(math.Sqrt2)-slack {
				t.Errorf("%s, %s: %.4f", name, what, got)
			}
		}
	}
}
