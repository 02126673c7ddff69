package measure_test

import (
	"fmt"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A bore gauge set in the micrometer that reads the journal: the micrometer's common
// error is in both, and cancels in the clearance.
func ExampleSum() {
	micrometer := measure.LengthInstrument{
		Name:   "micrometer",
		Common: units.MustParseLength("0.003 mm"), Repeats: units.MustParseLength("0.001 mm"),
	}
	setting, _ := micrometer.Read("setting of the bore gauge", units.MustParseLength("20 mm"))
	gauge := measure.LengthInstrument{
		Name:   "bore gauge",
		Common: units.MustParseLength("0.001 mm"), Repeats: units.MustParseLength("0.0015 mm"),
		SetOn: setting,
	}
	bush, _ := gauge.Read("bush", units.MustParseLength("20.021 mm"))
	shaft, _ := micrometer.Read("shaft", units.MustParseLength("19.995 mm"))

	clearance := measure.Sum[units.LengthDim]{Name: "bush, clearance", Symbol: "C", Terms: []measure.Term[units.LengthDim]{
		measure.Plus("D", "bush", bush),
		measure.Minus("d", "shaft", shaft),
	}}
	limits := units.MustParseLengthInterval("0.020..0.033 mm")
	fmt.Println(measure.Judge(clearance.Interval(), limits))
	fmt.Print(clearance.Working(units.Millimetre))
	// Output:
	// conforming
	// bush, clearance
	//   D, bush
	//     bore gauge, 20.021 mm ±0.0039371 mm (k = 2)
	//     = 20.0170629..20.0249371 mm
	//   d, shaft
	//     micrometer, 19.995 mm ±0.0031623 mm (k = 2)
	//     = 19.9918377..19.9981623 mm
	//   value
	//     20.021 - 19.995
	//     = 0.026 mm
	//   bore gauge, common to its readings
	//     = 0.001 mm
	//   bore gauge, reading bush, 20.021 mm
	//     = 0.0015 mm
	//   micrometer, common to its readings
	//     0.003 - 0.003
	//     = 0: it cancels
	//   micrometer, reading setting of the bore gauge, 20 mm
	//     = 0.001 mm
	//   bore gauge, set on setting of the bore gauge, 20 mm
	//     = 0.0015 mm
	//   micrometer, reading shaft, 19.995 mm
	//     = 0.001 mm
	//   expanded uncertainty, k = 2, rounded up
	//     U = √(U1² + U2² + …)
	//     √(0.001² + 0.0015² + 0.001² + 0.0015² + 0.001²)
	//     = 0.0027387 mm
	//   C = D - d
	//   = 0.0232613..0.0287387 mm
	//   source: JCGM 100:2008, 5.2.2; what is not known of a correlation is taken at its worst
}

// A clearance by crush strip, judged: the limit lies within what the strip can tell.
func ExampleStrip() {
	strip := measure.Strip{Prints: []units.Length{
		units.MustParseLength("0.025 mm"), units.MustParseLength("0.038 mm"), units.MustParseLength("0.051 mm"),
	}}
	between, _ := strip.Read("main 3", units.MustParseLengthInterval("0.025..0.038 mm"))
	a := measure.Assess(between, units.MustParseLengthInterval("0.024..0.036 mm"))
	fmt.Println(a.Verdict)
	fmt.Println(a.Meets())

	nearest, _ := strip.Read("main 3", units.MustParseLengthInterval("0.038 mm"))
	fmt.Println(nearest)
	_, err := strip.Read("main 3", units.MustParseLengthInterval("0.025..0.051 mm"))
	fmt.Println(err)
	// Output:
	// undecided
	// true false
	// 0.030158..0.0445 mm, crush strip nearest its 0.038 mm print
	// crush strip: not in the set: 0.025 mm and 0.051 mm as neighbours; the print after 0.025 mm is 0.038 mm
}

func ExampleFeelers() {
	blades := measure.Feelers{Blades: []units.Length{
		units.MustParseLength("0.20 mm"), units.MustParseLength("0.25 mm"), units.MustParseLength("0.30 mm"),
	}}
	goes, refused := units.MustParseLength("0.25 mm"), units.MustParseLength("0.30 mm")
	gap, _ := blades.Gap("ring 1", &goes, &refused)
	fmt.Println(gap)
	wide, _ := blades.Gap("ring 2", &refused, nil)
	fmt.Println(wide)
	// Output:
	// 0.25..0.3 mm, feeler blades: 0.25 mm goes, 0.3 mm does not
	// >= 0.3 mm, feeler blades: 0.3 mm goes; no thicker one was tried
}

// A journal read in two planes and two directions.
func ExampleStations() {
	in := measure.LengthInstrument{Name: "micrometer", Common: units.MustParseLength("0.002 mm"), Repeats: units.MustParseLength("0.001 mm")}
	planes := make([][]measure.LengthReading, 2)
	for i, plane := range [][]string{{"47.986 mm", "47.984 mm"}, {"47.985 mm", "47.979 mm"}} {
		for j, size := range plane {
			r, _ := in.Read(fmt.Sprintf("main 3, plane %d, direction %d", i+1, j+1), units.MustParseLength(size))
			planes[i] = append(planes[i], r)
		}
	}
	s, _ := measure.NewStations(planes, measure.OutOfRound)
	round := s.Find(measure.OutOfRound)
	fmt.Println(round.Bracket())
	fmt.Println(measure.Judge(round.Interval(), units.MustParseLengthInterval("<= 0.010 mm")))
	fmt.Println(s.Find(measure.Taper).Problem())
	// Output:
	// 0.006 mm
	// conforming
	// not measured
}

// A strip and two instruments tell of one clearance, and one of them is wrong.
func ExampleAgreement() {
	strip := measure.Given(units.MustParseLengthInterval("0.025..0.038 mm"), "crush strip")
	sizes, _ := measure.Estimated(units.MustParseLength("0.045 mm"), units.MustParseLength("0.003 mm"), "bore gauge and micrometer")
	both := measure.Compare(strip, sizes)
	fmt.Println(both.Known, both.Agree)
	fmt.Println(both.Best().Interval())
	// Output:
	// true false
	// none
}

// A bore counts only if it was read with its cap tightened.
func ExampleCondition() {
	in := measure.LengthInstrument{Name: "bore gauge", Uncertainty: units.MustParseLength("0.003 mm")}
	loose, _ := in.Read("main 3, bore", units.MustParseLength("52.012 mm"))
	term := measure.Plus("D", "bore", loose)
	term.Needs = []measure.Condition{{What: "bolts", Is: "tightened to 60 N·m"}}
	s := measure.Sum[units.LengthDim]{Name: "bore", Symbol: "D", Terms: []measure.Term[units.LengthDim]{term}}
	fmt.Println(s.Interval())
	fmt.Println(s.Reading().Problem())

	term.Reading = loose.With(term.Needs...)
	s.Terms[0] = term
	fmt.Println(s.Interval())
	// Output:
	// none
	// bore: bolts: tightened to 60 N·m is needed, and not stated
	// 52.009..52.015 mm
}

// Five readings of one size: their mean, their scatter, and what that makes of the mean.
// s²/n = 0.5 µm², by t(95.45 %, 4) = 2.869: √(2² + 2.029²) = 2.849 µm.
func ExampleSeries() {
	var s measure.Series[units.LengthDim]
	for _, text := range []string{"10.003 mm", "10.001 mm", "10.002 mm", "10.005 mm", "10.004 mm"} {
		s = append(s, units.MustParseLength(text))
	}
	fmt.Println(s.Mean(), "s² =", s.Variance(units.Micrometre).RatString(), "µm²")
	in := measure.LengthInstrument{Name: "micrometer", Common: units.MustParseLength("0.002 mm")}
	r, _ := in.Read("pin", s...)
	fmt.Println(r)
	// Output:
	// 10.003 mm s² = 5/2 µm²
	// 10.0001509..10.0058491 mm, micrometer, mean 10.003 mm of 5 readings ±0.0028491 mm (95.45 %)
}

// How many parts are judged wrongly, with a guard band for a risk of 5 % at a limit: 1.65
// standard uncertainties.
func ExampleProcess() {
	limits := units.MustParseLengthInterval("9.990..10.010 mm")
	parts := measure.Process[units.LengthDim]{Mean: units.MustParseLength("10 mm"), Spread: units.MustParseLength("0.005 mm")}
	expanded := units.MustParseLength("0.004 mm")
	k, _ := measure.CoverageFactor(decimal.RequireFromString("0.90"), 0)
	guard := units.Micrometre.Of(k.Mul(decimal.NewFromInt(2)).RoundUp(1)) // of u = 2 µm
	for _, band := range []units.Length{{}, guard} {
		accept, _ := measure.Accepting(limits, band)
		consumer, producer, _ := parts.Risks(limits, band, expanded)
		fmt.Printf("within %s: %.2f %% of the parts accepted by mistake, %.2f %% refused by mistake\n", accept, 100*consumer, 100*producer)
	}
	// Output:
	// within 9.99..10.01 mm: 1.09 % of the parts accepted by mistake, 2.87 % refused by mistake
	// within 9.9933..10.0067 mm: 0.07 % of the parts accepted by mistake, 16.86 % refused by mistake
}

func ExampleProcess_Working() {
	mm := units.MustParseLength
	process := measure.Process[units.LengthDim]{Mean: mm("52.002 mm"), Spread: mm("0.004 mm")}
	w, err := process.Working(units.MustParseLengthInterval("51.990..52.010 mm"), mm("0.002 mm"), mm("0.002 mm"), units.Millimetre)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Print(w)
	// Output:
	// risks of accepting what is measured inside
	//   acceptance interval
	//     A_L = L + w; A_U = U - w
	//     51.99 + 0.002; 52.01 - 0.002
	//     = 51.992..52.008 mm
	//     source: JCGM 106:2012, 8.3
	//   share of the process outside the limits
	//     Φ((L - μ)/σ) + Φ((μ - U)/σ)
	//     Φ((51.99 - 52.002) / 0.004) + Φ((52.002 - 52.01) / 0.004)
	//     = 0.0241
	//     source: normal distribution
	//   R_C = ∫ g(η)·F(η) dη outside the limits; R_P = ∫ g(η)·(1 - F(η)) dη inside
	//   g: density of the process, normal about 52.002 mm with σ = 0.004; F: probability that a part of size η is measured within the acceptance interval, with u = 0.002 / 2
	//   = consumer's risk 0.0001047, producer's risk 0.05646
	//   source: JCGM 106:2012, 9
	//   note: of all parts, the consumer's risk R_C is the share that is outside the limits and accepted, the producer's R_P the share that is inside and refused
	//   note: 0.9195 of all parts are accepted; of these 0.000114 are outside the limits
}
