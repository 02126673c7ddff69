package stack_test

import (
	"context"
	"encoding/json"
	"fmt"

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

func ExampleCapability_Working() {
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
	fmt.Print(c.Working())
	// Output:
	// capability
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
	// contributor: not of the exchange form: no key "limits"; write it, with null if there is nothing
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
