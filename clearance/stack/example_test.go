package stack_test

import (
	"context"
	"fmt"

	"github.com/shopspring/decimal"

	"example.com/closefit/clearance/stack"
	"example.com/closefit/units"
)

// endPlay is the end play of an invented shaft: the width of its journal, less the
// bearing between the washers and the two washers.
func endPlay() *stack.Stack {
	mm := units.MustParseLengthInterval
	s, err := stack.New(
		stack.Adds("journal", mm("32.00 +0.05/0 mm"), stack.Normal(3)),
		stack.Takes("bearing", mm("27.00 +0/-0.08 mm"), stack.Uniform()),
		stack.Takes("front washer", mm("2.42 ±0.02 mm"), stack.NormalWithin(3)),
		stack.Takes("rear washer", mm("2.42 ±0.02 mm"), stack.NormalWithin(3)),
	)
	if err != nil {
		panic(err)
	}
	return s
}

func ExampleStack_WorstCase() {
	s := endPlay()
	plain, _ := s.RSS(decimal.NewFromInt(1))
	fmt.Println("worst case", s.WorstCase())
	fmt.Println("root-sum-square", plain.Format(units.Millimetre, 4))
	// Output:
	// worst case 0.12..0.33 mm
	// root-sum-square 0.1700..0.2800 mm
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
	fmt.Printf("Cp %.3f, Cpk %.3f, %.0f parts per million outside\n", c.Cp, c.Cpk, c.PPM())
	fmt.Printf("above 0.31 mm: %.2e\n", law.Above(units.MustParseLength("0.31 mm")).Value)
	most, _ := law.Coverage(0.95)
	fmt.Println("95 % lie in", most.Format(units.Millimetre, 4))
	// Output:
	// Cp 0.952, Cpk 0.952, 216 parts per million outside
	// above 0.31 mm: 4.69e-06
	// 95 % lie in 0.1771..0.2729 mm
}

func ExampleStack_Proportional() {
	a, err := endPlay().Proportional(stack.Target{
		Limits: units.MustParseLengthInterval("0.17..0.28 mm"),
		Yield:  0.9973,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("all tolerances times %.3f\n", a.Factors[0])
	fmt.Println("bearing", a.Stack.Contributors()[1].Limits.FormatRounded(units.Millimetre, 4, units.Ceiling, units.Floor))
	// Output:
	// all tolerances times 0.849
	// bearing 26.9261..26.9939 mm
}

func ExampleStack_SimulateFunc() {
	// The oblique length of a rocker's arm: no sum at all.
	mm := units.MustParseLengthInterval
	s, err := stack.New(
		stack.Adds("along", mm("30 ±0.1 mm"), stack.Uniform()),
		stack.Adds("across", mm("40 ±0.1 mm"), stack.Triangular()),
	)
	if err != nil {
		fmt.Println(err)
		return
	}
	o, err := s.SimulateFunc(context.Background(), func(x []float64) float64 {
		return x[0]*x[0] + x[1]*x[1]
	}, stack.Simulation{Trials: 1_000_000, Seed: 7})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("mean %.1f mm²\n", o.Mean)
	// Output:
	// mean 2500.0 mm²
}

func ExampleNew_refused() {
	_, err := stack.New(stack.Adds("shim", units.MustParseLengthInterval("1.5 mm"), stack.Uniform()))
	fmt.Println(err)
	// Output:
	// contributor 1 (shim): limits of no width: 1.5 mm; give the limits it may have, such as 2.5 ±0.02 mm
}
