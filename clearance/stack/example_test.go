package stack_test

import (
	"context"
	"encoding/json"
	"fmt"
	"math"

	"example.com/closefit/clearance/stack"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// endPlay is the end play of an invented shaft: the width of its journal, less the
// bearing between the washers and the two washers.
func endPlay() stack.Stack {
	mm := units.MustParseLengthInterval
	return stack.Stack{
		stack.Adds("journal", mm("32.00 +0.05/0 mm"), stack.Normal(3)),
		stack.Takes("bearing", mm("27.00 +0/-0.08 mm"), stack.Uniform()),
		stack.Takes("front washer", mm("2.42 ±0.02 mm"), stack.NormalWithin(3)),
		stack.Takes("rear washer", mm("2.42 ±0.02 mm"), stack.NormalWithin(3)),
	}
}

func ExampleStack_WorstCase() {
	s := endPlay()
	worst := s.WorstCase().Interval()
	fmt.Println(worst, measure.Judge(worst, units.MustParseLengthInterval("0.10..0.30 mm")))
	// Output:
	// 0.12..0.33 mm undecided
}

// Shims as they were measured: no others will be fitted.
func ExampleSample() {
	mm := units.MustParseLength
	shims := stack.Sample(mm("0.103 mm"), mm("0.108 mm"), mm("0.104 mm"), mm("0.119 mm"))
	s := stack.Stack{stack.Adds("shim", units.MustParseLengthInterval("0.10..0.12 mm"), shims)}
	law, err := s.Law()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(law.Above(mm("0.105 mm")))
	// Output:
	// 0.5 ± 0e+00
}

func ExampleLaw_Working() {
	law, err := endPlay().Law()
	if err != nil {
		fmt.Println(err)
		return
	}
	w, err := law.Working(units.MustParseLengthInterval("0.15..0.30 mm"))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Print(w)
	// Output:
	// gap and its limits
	//   mean of the gap
	//     μ = Σ s·m
	//     32.025 - 26.96 - 2.42 - 2.42
	//     = 0.225 mm
	//   standard deviation of the gap
	//     journal, normal, limits at 3 standard deviations
	//       T/k
	//       0.025 / 3
	//       = 0.00833 mm
	//     bearing, uniform
	//       T/√3
	//       0.04 / √3
	//       = 0.02309 mm
	//     front washer, normal, cut off at limits at 3 standard deviations
	//       T/k·√(1 - 2k·φ(k)/(1 - 2·Q(k)))
	//       0.02 / 3 × 0.98658
	//       = 0.00658 mm
	//     rear washer, normal, cut off at limits at 3 standard deviations
	//       T/k·√(1 - 2k·φ(k)/(1 - 2·Q(k)))
	//       0.02 / 3 × 0.98658
	//       = 0.00658 mm
	//     σ = √(Σ (s·σᵢ)²)
	//     √(0.0083333² + 0.023094² + 0.0065772² + 0.0065772²)
	//     = 0.02625 mm
	//   below the limit
	//     (μ - L) / σ
	//     (0.225 - 0.15) / 0.02625 = 2.8567 standard deviations
	//     = 0.00010807 ± 7e-17
	//   above the limit
	//     (U - μ) / σ
	//     (0.3 - 0.225) / 0.02625 = 2.8567 standard deviations
	//     = 0.00010807 ± 7e-17
	//   Cp = (U - L) / 6σ; Cpk = min(U - μ, μ - L) / 3σ
	//   (0.3 - 0.15) / (6 × 0.02625) = 0.952; min(0.3 - 0.225, 0.225 - 0.15) / (3 × 0.02625) = 0.952
	//   = Cpk = 0.952; 216 parts per million outside
	//   source: ISO 22514-2:2017 (from memory); parts per million from the distribution of the sum, proven
	//   note: mean 0.225 mm, standard deviation 0.02625 mm, in float64
}

// What a person may write in a file, and what is missed in it.
func ExampleContributor_UnmarshalJSON() {
	var s stack.Stack
	err := json.Unmarshal([]byte(`[
		{"name": "pad", "sensitivity": "1", "limits": "8 +0.2/0 mm",
		 "distribution": {"kind": "normal", "k": 3, "mean": null, "top": null, "sample": null}, "fixed": false, "sources": null},
		{"name": "plate", "sensitivity": "-1", "limits": "5 ±0.1 mm",
		 "distribution": null, "fixed": true, "sources": [{"name": "batch", "part": 0.5}]}]`), &s)
	fmt.Println(s.WorstCase().Interval(), err)
	err = json.Unmarshal([]byte(`[{"name": "pad", "sensitivity": "1"}]`), &s)
	fmt.Println(err)
	// Output:
	// 2.9..3.3 mm <nil>
	// contributor: not of the exchange form: no key "limits", "distribution", "fixed", "sources"; write each, with null if there is nothing, or [] for a list
}

func ExampleStack_RSS() {
	for _, percent := range []int64{100, 150} {
		sum, err := endPlay().RSS(units.Percent.OfInt(percent))
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Println(sum.Interval())
	}
	// Output:
	// 0.17..0.28 mm
	// 0.1425..0.3075 mm
}

func ExampleLaw() {
	law, err := endPlay().Law()
	if err != nil {
		fmt.Println(err)
		return
	}
	c, err := law.Capability(units.MustParseLengthInterval("0.15..0.30 mm"))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("Cp %.3f, Cpk %.3f, %.0f parts per million outside\n", *c.Cp, c.Cpk, 1e6*c.Outside.Value)
	p := law.Above(units.MustParseLength("0.31 mm"))
	fmt.Printf("above 0.31 mm: %.10e, proven %t, error below 1e-10 of it %t\n", p.Value, p.Proven, p.Error < 1e-10*p.Value)
	most, _ := law.Coverage(0.95)
	fmt.Println("95 % lie in", most.FormatOutward(units.Millimetre, 4))
	// Output:
	// Cp 0.952, Cpk 0.952, 216 parts per million outside
	// above 0.31 mm: 4.6866239458e-06, proven true, error below 1e-10 of it true
	// 95 % lie in 0.1771..0.2729 mm
}

func ExampleStack_Allocate() {
	s, limits := endPlay(), units.MustParseLengthInterval("0.17..0.28 mm")
	same, err := s.Allocate(limits, 0.9973)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("all tolerances times %.3f\n", same.Factors[0])
	fmt.Println("bearing", same.Stack[1].Limits.FormatInward(units.Millimetre, 4))
	cheapest, err := s.Allocate(limits, 0.9973,
		stack.Cost{Scale: 0.04, Exponent: 1}, // a journal is dear to hold
		stack.Cost{Scale: 0.01, Exponent: 1},
		stack.Cost{Scale: 0.01, Exponent: 1},
		stack.Cost{Scale: 0.01, Exponent: 1},
	)
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, c := range s {
		fmt.Printf("%s: tolerance times %.2f\n", c.Name, cheapest.Factors[i])
	}
	// Output:
	// all tolerances times 0.849
	// bearing 26.9261..26.9939 mm
	// journal: tolerance times 1.42
	// bearing: tolerance times 0.44
	// front washer: tolerance times 1.14
	// rear washer: tolerance times 1.14
}

func ExampleStack_Shares() {
	s := endPlay()
	ofWidth, ofVariance, err := s.Shares()
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, c := range s {
		fmt.Printf("%-12s %2.0f %% of the worst case, %2.0f %% of the variance\n", c.Name, 100*ofWidth[i], 100*ofVariance[i])
	}
	// Output:
	// journal      24 % of the worst case, 10 % of the variance
	// bearing      38 % of the worst case, 77 % of the variance
	// front washer 19 % of the worst case,  6 % of the variance
	// rear washer  19 % of the worst case,  6 % of the variance
}

func ExampleStack_Simulate() {
	o, err := endPlay().Simulate(context.Background(), units.MustParseLengthInterval("0.15..0.30 mm"), stack.Simulation{
		Trials: 1_000_000,
		Seed:   1,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f ± %.0f parts per million outside\n", 1e6**o.Outside, 1e6**o.Uncertainty)
	median, _, _ := o.Quantile(0.5)
	fmt.Printf("half are below %.3f mm\n", median)
	// Output:
	// 200 ± 14 parts per million outside
	// half are below 0.225 mm
}

// The trials of one uniform size, counted in quarters of its limits.
func ExampleOutcome() {
	s := stack.Stack{stack.Adds("pad", units.MustParseLengthInterval("2..6 mm"), stack.Uniform())}
	o, err := s.Simulate(context.Background(), units.LengthInterval{}, stack.Simulation{Trials: 1_000_000, Seed: 3})
	if err != nil {
		fmt.Println(err)
		return
	}
	var quarters [4]int64
	for i, n := range o.Bins {
		middle := o.BinStart + (float64(i)-0.5)*o.BinWidth
		if n > 0 {
			quarters[max(0, min(3, int(middle-2)))] += n
		}
	}
	for i, n := range quarters {
		fmt.Printf("%d..%d mm: %.0f %%\n", 2+i, 3+i, 100*float64(n)/float64(o.Trials))
	}
	// Output:
	// 2..3 mm: 25 %
	// 3..4 mm: 25 %
	// 4..5 mm: 25 %
	// 5..6 mm: 25 %
}

func ExampleStack_SimulateFunc() {
	// The square of a diagonal, which is no sum of the sizes.
	mm := units.MustParseLengthInterval
	s := stack.Stack{
		stack.Adds("along", mm("30 ±0.1 mm"), stack.Uniform()),
		stack.Adds("across", mm("40 ±0.1 mm"), stack.Triangular()),
	}
	o, err := s.SimulateFunc(context.Background(), func(x []float64) float64 {
		return x[0]*x[0] + x[1]*x[1]
	}, units.RatioInterval{}, stack.Simulation{Trials: 1_000_000, Seed: 7})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("mean %.1f mm²\n", o.Mean)
	// Output:
	// mean 2500.0 mm²
}

func ExampleStack_Law_refused() {
	_, err := stack.Stack{stack.Adds("shim", units.MustParseLengthInterval("1.5 mm"), stack.Uniform())}.Law()
	fmt.Println(err)
	// Output:
	// contributor 1 (shim): cannot be used: limits of no width: 1.5 mm; give the limits it may have, such as 2.5 ±0.02 mm; set Fixed and give no distribution if it is exact
}

// The deck height of a piston on a tilted rod, which no sum gives: the crank's throw, the
// rod's length and the pin's offset are in it with a root.
func ExampleStack_Linearise() {
	mm := units.MustParseLengthInterval
	s := stack.Stack{
		stack.Adds("deck", mm("211.47 ±0.05 mm"), stack.Uniform()),
		stack.Adds("throw", mm("43.00 ±0.03 mm"), stack.Normal(3)),
		stack.Adds("rod", mm("136.00 ±0.03 mm"), stack.Normal(3)),
		stack.Adds("height of the piston", mm("32.40 ±0.02 mm"), stack.Normal(3)),
		stack.Adds("offset of the pin", mm("0.60 ±0.05 mm"), stack.Uniform()),
	}
	l, err := s.Linearise(func(x []float64) float64 {
		return x[0] - math.Sqrt((x[1]+x[2])*(x[1]+x[2])-x[4]*x[4]) - x[3]
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("below the deck by %.4f mm, standard deviation %.4f mm, enough: %t\n", l.Value, l.StdDev, l.Enough)
	fmt.Printf("a pin that is off by 0.1 mm more moves it by %.5f mm\n", 0.1*l.Sensitivities[4].Value)
	law, err := l.Stack.Law()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("above the deck: %.4f\n", law.Below(units.Length{}).Value)
	// Output:
	// below the deck by 0.0710 mm, standard deviation 0.0328 mm, enough: true
	// a pin that is off by 0.1 mm more moves it by 0.00034 mm
	// above the deck: 0.0065
}

// Two bores that one setting of a machine makes, and what lies between them.
func ExampleSource() {
	mm := units.MustParseLengthInterval
	left, right := stack.Adds("left bore", mm("52.000 ±0.015 mm"), stack.Normal(3)), stack.Takes("right bore", mm("52.000 ±0.015 mm"), stack.Normal(3))
	independent, err := stack.Stack{left, right}.Law()
	if err != nil {
		fmt.Println(err)
		return
	}
	setting := []stack.Source{{Name: "setting of the machine", Part: new(0.9)}}
	left.Sources, right.Sources = setting, setting
	together, err := stack.Stack{left, right}.Law()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(independent.StdDev.In(units.Micrometre, 2), together.StdDev.In(units.Micrometre, 2))
	// Without the parts, RSS takes the worst, and Law says that it does not know.
	unknown := []stack.Source{{Name: "setting of the machine"}}
	left.Sources, right.Sources = unknown, unknown
	worst, err := stack.Stack{left, right}.RSS(units.One.OfInt(1))
	if err != nil {
		fmt.Println(err)
		return
	}
	_, err = stack.Stack{left, right}.Law()
	fmt.Println(worst.Interval(), err)
	// Output:
	// 7.07 3.08
	// -0.03..0.03 mm contributor 1 (left bore): cannot be used: parts of setting of the machine that are not known, shared with contributor 2 (right bore); give the parts, or use RSS or WorstCase, which take them at their worst
}

func ExampleTrialsFor() {
	trials, working, err := stack.TrialsFor(0.0027, 0.0001)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(trials)
	fmt.Println(working.Numbers)
	// Output:
	// 269271
	// 0.0027 × 0.9973 / 0.0001²
}

// A law and a simulation of it, in the same bins.
func ExampleLaw_Histogram() {
	s := stack.Stack{
		stack.Adds("bore", units.MustParseLengthInterval("52.03 ±0.03 mm"), stack.Uniform()),
		stack.Takes("pin", units.MustParseLengthInterval("51.97 ±0.01 mm"), stack.Triangular()),
	}
	law, err := s.Law()
	if err != nil {
		fmt.Println(err)
		return
	}
	mm := units.MustParseLength
	edges, exact, err := law.Histogram(mm("0.03 mm"), mm("0.05 mm"), mm("0.07 mm"), mm("0.09 mm"))
	if err != nil {
		fmt.Println(err)
		return
	}
	o, err := s.Simulate(context.Background(), units.LengthInterval{}, stack.Simulation{Trials: 100_000, Seed: 4})
	if err != nil {
		fmt.Println(err)
		return
	}
	counted, err := o.Histogram(edges...)
	if err != nil {
		fmt.Println(err)
		return
	}
	for i := range exact {
		fmt.Printf("%.4f %.3f\n", exact[i].Value, counted[i].Value)
	}
	density, err := law.Density(mm("0.06 mm"))
	fmt.Printf("%.4f for each millimetre at 0.06 mm, proven %t, %v\n", density.Value, density.Proven, err)
	// Output:
	// 0.0278 0.028
	// 0.3056 0.306
	// 0.3333 0.336
	// 0.3056 0.302
	// 0.0278 0.028
	// 16.6667 for each millimetre at 0.06 mm, proven true, <nil>
}

func ExampleLaw_Densities() {
	var fit stack.Stack
	for _, name := range []string{"front washer", "rear washer", "spacer ring"} {
		fit = append(fit, stack.Adds(name, units.MustParseLengthInterval("2 ±0.012 mm"), stack.Uniform()))
	}
	law, err := fit.Law()
	if err != nil {
		fmt.Println(err)
		return
	}
	curve, err := law.Densities(units.MustParseLength("5.964 mm"), units.MustParseLength("5.988 mm"), units.MustParseLength("6 mm"), units.MustParseLength("6.012 mm"))
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, d := range curve {
		fmt.Println(d, "for each millimetre")
	}
	// Output:
	// 0 ± 0e+00 for each millimetre
	// 20.8333 ± 2e-15 for each millimetre
	// 31.25 ± 0e+00 for each millimetre
	// 20.8333 ± 2e-15 for each millimetre
}
