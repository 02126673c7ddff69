package exchange

import (
	"context"
	"errors"
	"reflect"
	"slices"

	"pgregory.net/rapid"

	"example.com/closefit/clearance/stack"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

func stackForms() []form {
	return []form{
		valueBy("Distribution", drawDistribution, sameDistribution),
		valueBy("Contributor", func(t *rapid.T) stack.Contributor {
			c := drawContributor(t)
			c.Sources = drawSources(t)
			switch rapid.IntRange(-1, 3).Draw(t, "missing") {
			case -1:
				return stack.Contributor{}
			case 0:
				c.Limits = units.LengthInterval{}
			case 1:
				c.Limits = units.AtLeast(millimetres(7))
			}
			return c
		}, sameContributor),
		valueBy("Source", func(t *rapid.T) stack.Source {
			if sources := drawSources(t); sources != nil {
				return sources[0]
			}
			return stack.Source{Name: "setting"}
		}, func(a, b stack.Source) bool { return reflect.DeepEqual(a, b) }),
		valueBy("Stack", drawStack, sameStack),
		valueBy("Law", func(t *rapid.T) stack.Law { return *drawLaw(t, drawStack(t)) }, func(a, b stack.Law) bool {
			return sameStack(a.Stack, b.Stack) && a.Mean.Equal(b.Mean) && a.StdDev.Equal(b.StdDev) && a.Above(a.Mean) == b.Above(b.Mean)
		}),
		valueBy("Computed", drawTail, func(a, b stack.Computed) bool { return a == b }),
		valueBy("Capability", func(t *rapid.T) stack.Capability {
			limits := []units.LengthInterval{units.Between(millimetres(-30), millimetres(90)), units.AtMost(millimetres(41)), units.AtLeast(millimetres(-12))}
			c, err := drawLaw(t, drawStack(t)).Capability(rapid.SampledFrom(limits).Draw(t, "limits"))
			if err != nil {
				t.Fatal(err)
			}
			return c
		}, func(a, b stack.Capability) bool {
			return a.Limits.Equal(b.Limits) && a.Mean.Equal(b.Mean) && a.StdDev.Equal(b.StdDev) && reflect.DeepEqual(a.Cp, b.Cp) && a.Cpk == b.Cpk &&
				a.Below == b.Below && a.Above == b.Above && a.Outside == b.Outside
		}),
		valueBy("Cost", func(t *rapid.T) stack.Cost {
			return stack.Cost{Scale: rapid.Float64Range(1e-60, 1e60).Draw(t, "scale"), Exponent: rapid.Float64Range(0.01, 6).Draw(t, "exponent")}
		}, func(a, b stack.Cost) bool { return a == b }),
		valueBy("Allocation", func(t *rapid.T) stack.Allocation {
			s := drawStack(t)
			a := stack.Allocation{Stack: s, Outside: drawTail(t)}
			for range s {
				a.Factors = append(a.Factors, rapid.Float64Range(0, 9).Draw(t, "factor"))
			}
			if rapid.Bool().Draw(t, "with its cost") {
				cost := rapid.Float64Range(0, 1e6).Draw(t, "cost")
				a.Cost = &cost
			}
			return a
		}, func(a, b stack.Allocation) bool {
			return sameStack(a.Stack, b.Stack) && reflect.DeepEqual(a.Factors, b.Factors) && a.Outside == b.Outside && reflect.DeepEqual(a.Cost, b.Cost)
		}),
		valueBy("Linear", func(t *rapid.T) stack.Linear {
			l, err := drawStack(t).Linearise(func(x []float64) float64 {
				y := x[0]
				for _, size := range x {
					y += size * size / 7
				}
				return y
			})
			if errors.Is(err, measure.ErrEmpty) {
				t.Skip(err)
			}
			if err != nil {
				t.Fatal(err)
			}
			return *l
		}, func(a, b stack.Linear) bool {
			return a.Value == b.Value && slices.Equal(a.Sensitivities, b.Sensitivities) && a.StdDev == b.StdDev && a.Mean == b.Mean && a.SecondOrder == b.SecondOrder &&
				a.Enough == b.Enough && sameStack(a.Stack, b.Stack)
		}),
		valueBy("Outcome", func(t *rapid.T) stack.Outcome {
			s := drawStack(t)
			limits := rapid.SampledFrom([]units.LengthInterval{{}, units.AtMost(millimetres(41)), units.Between(millimetres(-12), millimetres(23))}).Draw(t, "limits")
			o, err := s.Simulate(context.Background(), limits, stack.Simulation{Trials: rapid.Int64Range(2, 300).Draw(t, "trials"), Seed: rapid.Uint64().Draw(t, "seed"), Workers: 1})
			if errors.Is(err, measure.ErrEmpty) {
				t.Skip(err)
			}
			if err != nil {
				t.Fatal(err)
			}
			return *o
		}, sameOutcome),
	}
}

func drawLaw(t *rapid.T, s stack.Stack) *stack.Law {
	l, err := s.Law()
	if errors.Is(err, measure.ErrEmpty) {
		t.Skip(err)
	}
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func stackExceptions() map[string]string {
	return map[string]string{"Simulation": "says how to run, not what was found, and may hold a function, which package json refuses"}
}

func sameDistribution(a, b stack.Distribution) bool { return reflect.DeepEqual(a, b) }

func sameContributor(a, b stack.Contributor) bool {
	return a.Name == b.Name && a.Sensitivity.Equal(b.Sensitivity) && a.Limits.Equal(b.Limits) &&
		sameDistribution(a.Distribution, b.Distribution) && a.Fixed == b.Fixed && reflect.DeepEqual(a.Sources, b.Sources)
}

func sameStack(a, b stack.Stack) bool { return slices.EqualFunc(a, b, sameContributor) }

// sameOutcome compares what is read off two outcomes.
func sameOutcome(a, b stack.Outcome) bool {
	for p := 0.01; p < 1; p += 0.07 {
		x, fineX, errX := a.Quantile(p)
		y, fineY, errY := b.Quantile(p)
		if x != y || fineX != fineY || errX != nil || errY != nil {
			return false
		}
	}
	return a.Trials == b.Trials && a.Mean == b.Mean && a.StdDev == b.StdDev && a.Min == b.Min && a.Max == b.Max && a.Below == b.Below && a.Above == b.Above &&
		reflect.DeepEqual(a.Outside, b.Outside) && reflect.DeepEqual(a.Uncertainty, b.Uncertainty)
}

func drawTail(t *rapid.T) stack.Computed {
	return stack.Computed{Value: rapid.Float64Range(0, 1).Draw(t, "value"), Error: rapid.Float64Range(0, 1e-3).Draw(t, "error"), Proven: rapid.Bool().Draw(t, "proven")}
}

// sampled are three measured values within every limits that drawContributor draws.
func sampled() []units.Length {
	return []units.Length{millimetres(10), millimetres(10), millimetres(13)}
}

// drawDistribution draws no distribution, too.
func drawDistribution(t *rapid.T) stack.Distribution {
	k := rapid.Float64Range(0.01, 1000).Draw(t, "k")
	return rapid.SampledFrom([]stack.Distribution{{}, stack.Uniform(), stack.Normal(k), stack.NormalWithin(k), stack.Triangular(), stack.Arcsine(),
		stack.Trapezoidal(rapid.Float64Range(0.001, 0.999).Draw(t, "top")), stack.Normal(k).About(millimetres(30)), stack.NormalWithin(k).About(millimetres(11)),
		stack.Sample(sampled()...)}).Draw(t, "distribution")
}

func drawContributor(t *rapid.T) stack.Contributor {
	c := stack.Contributor{Name: rapid.SampledFrom([]string{"", "journal", "shim \"2\" <b>"}).Draw(t, "name"),
		Sensitivity:  units.One.OfRat(drawRat(t)),
		Limits:       units.Between(millimetres(rapid.Int64Range(1, 9).Draw(t, "least")), millimetres(rapid.Int64Range(13, 19).Draw(t, "most"))),
		Distribution: drawDistribution(t), Fixed: rapid.Bool().Draw(t, "fixed")}
	if c.Sensitivity.Sign() == 0 {
		c.Sensitivity = units.One.OfInt(-1)
	}
	return c
}

// drawSources draws parts of sources that are known, that are not, or none.
func drawSources(t *rapid.T) []stack.Source {
	part := rapid.Float64Range(-0.7, 0.7).Draw(t, "part")
	return rapid.SampledFrom([][]stack.Source{nil, {{Name: "heat"}}, {{Name: "heat", Part: new(-0.6)}, {Name: "setting", Part: &part}}}).Draw(t, "sources")
}

// drawStack draws a stack with a Law: all sizes are independent, or all that share sources
// are normal.
func drawStack(t *rapid.T) stack.Stack {
	var s stack.Stack
	for range rapid.IntRange(1, 3).Draw(t, "contributors") {
		c := drawContributor(t)
		if rapid.Bool().Draw(t, "correlated") {
			c.Distribution = stack.Normal(3)
			c.Sources = []stack.Source{{Name: "setting", Part: new(rapid.Float64Range(-0.9, 0.9).Draw(t, "part"))}}
		}
		s = append(s, c)
	}
	return s
}
