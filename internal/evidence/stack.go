package evidence

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/big"
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"example.com/closefit/clearance/stack"
	"example.com/closefit/units"
)

// stackChecks are the checks of package clearance/stack.
func stackChecks() map[string]Check {
	known := runs{}
	return map[string]Check{
		"middle": signedStack(func(s stack.Stack) (units.Length, error) { return s.WorstCase().Interval().Mid(), nil }),
		"worst case tolerance": signedStack(func(s stack.Stack) (units.Length, error) {
			return s.WorstCase().Interval().Radius(), nil
		}),
		"smallest gap": signedStack(func(s stack.Stack) (units.Length, error) { return s.WorstCase().Interval().Lo(), nil }),
		"largest gap":  signedStack(func(s stack.Stack) (units.Length, error) { return s.WorstCase().Interval().Hi(), nil }),
		"root-sum-square tolerance": signedStack(func(s stack.Stack) (units.Length, error) {
			gap, err := s.RSS(units.One.OfInt(1))
			if err != nil {
				return units.Length{}, err
			}
			return gap.Interval().Radius(), nil
		}),
		"standard deviation":                  additive(func(l *stack.Law) (units.Length, error) { return l.StdDev, nil }),
		"lower end of 95 %":                   additive(coverageEnd(units.LengthInterval.Lo)),
		"upper end of 95 %":                   additive(coverageEnd(units.LengthInterval.Hi)),
		"simulated standard deviation":        known.simulated(func(o *stack.Outcome) (float64, error) { return o.StdDev, nil }),
		"simulated lower end of 95 %":         known.simulated(simulatedQuantile(0.025)),
		"simulated upper end of 95 %":         known.simulated(simulatedQuantile(0.975)),
		"mass calibration mean":               known.massCalibration(func(o *stack.Outcome) (float64, error) { return o.Mean, nil }),
		"mass calibration standard deviation": known.massCalibration(func(o *stack.Outcome) (float64, error) { return o.StdDev, nil }),
		"mass calibration width of 95 %": known.massCalibration(func(o *stack.Outcome) (float64, error) {
			lo, errLo := simulatedQuantile(0.025)(o)
			hi, errHi := simulatedQuantile(0.975)(o)
			return hi - lo, errors.Join(errLo, errHi)
		}),
		"gauge block mean":                known.gaugeBlock(func(o *stack.Outcome) (float64, error) { return o.Mean, nil }),
		"gauge block standard deviation":  known.gaugeBlock(func(o *stack.Outcome) (float64, error) { return o.StdDev, nil }),
		"gauge block lower end of 99 %":   known.gaugeBlock(simulatedQuantile(0.005)),
		"gauge block upper end of 99 %":   known.gaugeBlock(simulatedQuantile(0.995)),
		"mass calibration, first order":   massCalibrationLine(func(l *stack.Linear) float64 { return l.StdDev }),
		"mass calibration, second order":  massCalibrationLine(func(l *stack.Linear) float64 { return l.SecondOrder }),
		"tail of ten normal parts":        tenNormalParts,
		"proven probability above":        provenAbove,
		"first exceeds":                   firstExceeds,
		"proven density":                  provenDensity,
		"comparison loss, first order":    comparisonLossLine(func(l *stack.Linear) float64 { return l.StdDev }),
		"comparison loss, second order":   comparisonLossLine(func(l *stack.Linear) float64 { return l.SecondOrder }),
		"comparison loss, simulated":      known.comparisonLoss(func(o *stack.Outcome) float64 { return o.StdDev }),
		"comparison loss, simulated mean": known.comparisonLoss(func(o *stack.Outcome) float64 { return o.Mean }),
	}
}

// signedStack is for a stack whose contributors are the inputs but the last,
// "signs", which has a + or - for each.
func signedStack(quantity func(stack.Stack) (units.Length, error)) Check {
	return func(r *Row) (Result, error) {
		signs, err := r.Input("signs")
		if err != nil {
			return Result{}, err
		}
		var s stack.Stack
		for i, key := range r.Keys() {
			if key == "signs" {
				continue
			}
			limits, err := Parse(r, key, units.ParseLengthInterval)
			if err != nil {
				return Result{}, err
			}
			if i >= len(signs) {
				return Result{}, fmt.Errorf("no sign for %s", key)
			}
			part := stack.Adds
			if signs[i] == '-' {
				part = stack.Takes
			}
			s = append(s, part(key, limits, stack.Normal(3)))
		}
		q, err := quantity(s)
		if err != nil {
			return Result{}, err
		}
		return inUnit(r, q)
	}
}

// additiveStack is the sum of quantities of mean zero with one kind of
// distribution and the standard deviations given; a millimetre stands for one.
func additiveStack(r *Row) (stack.Stack, error) {
	name, errName := r.Input("distribution")
	deviations, errDeviations := r.Input("deviations")
	if err := errors.Join(errName, errDeviations, r.ExpectUnit("")); err != nil {
		return nil, err
	}
	var distribution stack.Distribution
	var halfWidth float64 // over the standard deviation
	switch name {
	case "normal":
		distribution, halfWidth = stack.Normal(3), 3
	case "rectangular":
		distribution, halfWidth = stack.Uniform(), math.Sqrt(3)
	default:
		return nil, fmt.Errorf("distribution %q", name)
	}
	var s stack.Stack
	for _, u := range strings.Fields(deviations) {
		d, err := decimal.NewFromString(u)
		if err != nil {
			return nil, err
		}
		half, err := units.Millimetre.OfFloat64(halfWidth*d.InexactFloat64(), 9)
		if err != nil {
			return nil, err
		}
		s = append(s, stack.Adds("x", units.PlusMinus(units.Length{}, half), distribution))
	}
	return s, nil
}

func additive(quantity func(*stack.Law) (units.Length, error)) Check {
	return func(r *Row) (Result, error) {
		s, err := additiveStack(r)
		if err != nil {
			return Result{}, err
		}
		law, err := s.Law()
		if err != nil {
			return Result{}, err
		}
		q, err := quantity(law)
		return Float64(q.Float64(units.Millimetre)), err
	}
}

func coverageEnd(end func(units.LengthInterval) units.Length) func(*stack.Law) (units.Length, error) {
	return func(l *stack.Law) (units.Length, error) {
		c, err := l.Coverage(0.95)
		return end(c), err
	}
}

func simulation(r *Row) (stack.Simulation, error) {
	trials, errTrials := r.Int("trials")
	seed, errSeed := r.Int("seed")
	return stack.Simulation{Trials: int64(trials), Seed: uint64(seed)}, errors.Join(errTrials, errSeed)
}

// runs keeps what simulations found. Rows that differ in nothing but what they read off
// an outcome share one run: a run depends on its model, its inputs, its number of trials
// and its seed alone.
type runs map[string]*stack.Outcome

// of returns the outcome of the model for the row, whose inputs it has read, run at the
// first row that asks for it.
func (known runs) of(model string, r *Row, run func() (*stack.Outcome, error)) (*stack.Outcome, error) {
	key := model
	for _, name := range r.Keys() {
		v, err := r.Input(name)
		if err != nil {
			return nil, err
		}
		key += fmt.Sprintf("; %s=%q", name, v)
	}
	if o, ok := known[key]; ok {
		return o, nil
	}
	o, err := run()
	if err == nil {
		known[key] = o
	}
	return o, err
}

func (known runs) simulated(quantity func(*stack.Outcome) (float64, error)) Check {
	return func(r *Row) (Result, error) {
		s, errStack := additiveStack(r)
		sim, errSim := simulation(r)
		if err := errors.Join(errStack, errSim); err != nil {
			return Result{}, err
		}
		o, err := known.of("sum", r, func() (*stack.Outcome, error) {
			return s.Simulate(context.Background(), units.LengthInterval{}, sim)
		})
		if err != nil {
			return Result{}, err
		}
		q, err := quantity(o)
		return Float64(q), err
	}
}

func simulatedQuantile(p float64) func(*stack.Outcome) (float64, error) {
	return func(o *stack.Outcome) (float64, error) {
		v, _, err := o.Quantile(p)
		return v, err
	}
}

// massCalibration is the example of JCGM 101:2008, 9.3, with millimetres standing
// for milligrams and for kilograms per cubic metre:
//
//	δm = (mR + δmR)·(1 + (ρa - 1.2)·(1/ρW - 1/ρR)) - 100 000 mg
//
// Inputs, table 5: mR 100 000.000 mg with u = 0.050, δmR 1.234 mg with u = 0.020,
// both normal; the densities ρa 1.10..1.30 of air, ρW 7000..9000 and ρR 7950..8050
// of the weights, in kg/m³, rectangular.
func (known runs) massCalibration(quantity func(*stack.Outcome) (float64, error)) Check {
	return func(r *Row) (Result, error) {
		sim, err := simulation(r)
		if err != nil {
			return Result{}, err
		}
		o, err := known.of("mass calibration", r, func() (*stack.Outcome, error) {
			return massInputs().SimulateFunc(context.Background(), massDeviation, units.RatioInterval{}, sim)
		})
		if err != nil {
			return Result{}, err
		}
		q, err := quantity(o)
		return Float64(q), errors.Join(err, r.ExpectUnit("mg"))
	}
}

func massInputs() stack.Stack {
	of := units.MustParseLengthInterval
	return stack.Stack{
		stack.Adds("mR", of("100000 ±0.150 mm"), stack.Normal(3)),
		stack.Adds("δmR", of("1.234 ±0.060 mm"), stack.Normal(3)),
		stack.Adds("ρa", of("1.10..1.30 mm"), stack.Uniform()),
		stack.Adds("ρW", of("7000..9000 mm"), stack.Uniform()),
		stack.Adds("ρR", of("7950..8050 mm"), stack.Uniform()),
	}
}

func massDeviation(x []float64) float64 {
	return (x[0]+x[1])*(1+(x[2]-1.2)*(1/x[3]-1/x[4])) - 100_000
}

// massCalibrationLine is the same as a straight line.
func massCalibrationLine(quantity func(*stack.Linear) float64) Check {
	return func(r *Row) (Result, error) {
		l, err := massInputs().Linearise(massDeviation)
		if err != nil {
			return Result{}, err
		}
		return Float64(quantity(l)), r.ExpectUnit("mg")
	}
}

// comparisonLossInputs are those of JCGM 101:2008, 9.4: X1 about x1 and X2 about zero, both
// normal with u = 0.005, and their correlation r; a millimetre stands for one.
func comparisonLossInputs(r *Row) (stack.Stack, error) {
	x1, errX := r.Decimal("x1")
	correlation, errR := r.Float64("r")
	if err := errors.Join(errX, errR, r.ExpectUnit("1e-6")); err != nil {
		return nil, err
	}
	half := units.Micrometre.OfInt(15)
	return stack.Stack{
		stack.Adds("X1", units.PlusMinus(units.Millimetre.Of(x1), half), stack.Normal(3)),
		stack.Adds("X2", units.PlusMinus(units.Length{}, half), stack.Normal(3)),
	}.Correlated([][]float64{{1, correlation}, {correlation, 1}})
}

// comparisonLoss is δY = X1² + X2², in millionths.
func comparisonLoss(x []float64) float64 { return 1e6 * (x[0]*x[0] + x[1]*x[1]) }

func comparisonLossLine(quantity func(*stack.Linear) float64) Check {
	return func(r *Row) (Result, error) {
		s, err := comparisonLossInputs(r)
		if err != nil {
			return Result{}, err
		}
		l, err := s.Linearise(comparisonLoss)
		if err != nil {
			return Result{}, err
		}
		return Float64(quantity(l)), nil
	}
}

func (known runs) comparisonLoss(quantity func(*stack.Outcome) float64) Check {
	return func(r *Row) (Result, error) {
		s, errStack := comparisonLossInputs(r)
		sim, errSim := simulation(r)
		if err := errors.Join(errStack, errSim); err != nil {
			return Result{}, err
		}
		o, err := known.of("comparison loss", r, func() (*stack.Outcome, error) {
			return s.SimulateFunc(context.Background(), comparisonLoss, units.RatioInterval{}, sim)
		})
		if err != nil {
			return Result{}, err
		}
		return Float64(quantity(o)), nil
	}
}

// gaugeBlock is the example of JCGM 101:2008, 9.5, in nanometres:
//
//	δL = ls + D + d1 + d2 - ls·(δα·(θ0 + Δ) + αs·δθ) - 50 000 000 nm
//
// Inputs, table 10 (from memory): ls, D, d1 and d2 scaled and shifted Student's t,
// t18(50 000 623, 25), t24(215, 6), t5(0, 4), t8(0, 7); αs rectangular in 9.5..13.5
// millionths per kelvin; θ0 normal, -0.1 K and 0.2 K; Δ arcsine in ±0.5 K; δα and δθ
// curvilinear trapezoids, ±1 millionth per kelvin with limits good to 0.1, and ±0.05 K
// with limits good to 0.025. A curvilinear trapezoid is made of two uniform numbers as in
// 6.4.3.4, and so is Student's t: see studentOf.
func (known runs) gaugeBlock(quantity func(*stack.Outcome) (float64, error)) Check {
	return func(r *Row) (Result, error) {
		sim, err := simulation(r)
		if err != nil {
			return Result{}, err
		}
		var s stack.Stack
		for range 13 {
			s = append(s, stack.Adds("uniform number", units.MustParseLengthInterval("0..1 mm"), stack.Uniform()))
		}
		s = append(s,
			stack.Adds("θ0", units.MustParseLengthInterval("-0.1 ±0.6 mm"), stack.Normal(3)),
			stack.Adds("Δ", units.MustParseLengthInterval("0 ±0.5 mm"), stack.Arcsine()))
		student := func(freedom, mean, scale, p, q float64) float64 { return mean + scale*studentOf(freedom, p, q) }
		trapezoid := func(half, inexact, p, q float64) float64 {
			end := half + inexact*(2*p-1)
			return end * (2*q - 1)
		}
		o, err := known.of("gauge block", r, func() (*stack.Outcome, error) {
			return s.SimulateFunc(context.Background(), func(x []float64) float64 {
				ls := student(18, 50_000_623, 25, x[0], x[1])
				others := student(24, 215, 6, x[2], x[3]) + student(5, 0, 4, x[4], x[5]) + student(8, 0, 7, x[6], x[7])
				alpha := 11.5e-6 + 2e-6*(2*x[8]-1)
				deltaAlpha, deltaTheta := trapezoid(1e-6, 0.1e-6, x[9], x[10]), trapezoid(0.05, 0.025, x[11], x[12])
				return ls + others - ls*(deltaAlpha*(x[13]+x[14])+alpha*deltaTheta) - 50_000_000
			}, units.RatioInterval{}, sim)
		})
		if err != nil {
			return Result{}, err
		}
		q, err := quantity(o)
		return Float64(q), errors.Join(err, r.ExpectUnit("nm"))
	}
}

// studentOf makes Student's t of two uniform numbers, p and q. The point of Student's t in
// a plane lies farther than r from the centre with probability (1 + r²/ν)^(-ν/2), in any
// direction alike; one of its coordinates is Student's t.
func studentOf(freedom, p, q float64) float64 {
	return math.Sqrt(freedom*(math.Pow(p, -2/freedom)-1)) * math.Cos(2*math.Pi*q)
}

// tenNormalParts is the upper tail of a sum of ten normal parts of unequal
// deviation, so many deviations of the sum above its mean.
func tenNormalParts(r *Row) (Result, error) {
	sigmas, err := r.Float64("sigmas")
	if err != nil {
		return Result{}, err
	}
	var s stack.Stack
	for i := range int64(10) {
		s = append(s, stack.Adds("x", units.PlusMinus(units.Length{}, units.Micrometre.OfInt(6+3*i)), stack.Normal(3)))
	}
	law, err := s.Law()
	if err != nil {
		return Result{}, err
	}
	at, err := units.Millimetre.OfFloat64(sigmas*law.StdDev.Float64(units.Millimetre), 9)
	return Float64(law.Above(at).Value), err
}

// provenAbove is the probability of a gap above a length. Parts are divided by " + ", each
// a distribution, with its k if it is normal or its top if it is trapezoidal, its limits,
// and perhaps its mean: "normal 3 ±0.05 mm about 0.01 mm". The
// probability must be proven, and its error must reach the value wanted.
func provenAbove(r *Row) (Result, error) {
	return proven(r, "above", "", func(l *stack.Law, at units.Length) (stack.Computed, error) { return l.Above(at), nil })
}

// firstExceeds is the chance that a sum of uniform parts within 0..1 mm first exceeds a length with
// so many parts: that the sum of all is above it, less that the sum without the last one is.
func firstExceeds(r *Row) (Result, error) {
	n, errParts := r.Int("parts")
	at, errAt := Parse(r, "above", units.ParseLength)
	if err := errors.Join(errParts, errAt, r.ExpectUnit("")); err != nil {
		return Result{}, err
	}
	part := stack.Adds("x", units.MustParseLengthInterval("0..1 mm"), stack.Uniform())
	var chances [2]float64 // with one part less, and with all
	for i := range chances {
		law, err := stack.Stack(slices.Repeat([]stack.Contributor{part}, n-1+i)).Law()
		if err != nil {
			return Result{}, err
		}
		chances[i] = law.Above(at).Value
	}
	return Float64(chances[1] - chances[0]), nil
}

// provenDensity is the density of the gap at a length, as provenAbove is the probability.
func provenDensity(r *Row) (Result, error) { return proven(r, "at", "/mm", (*stack.Law).Density) }

func proven(r *Row, where, unit string, of func(*stack.Law, units.Length) (stack.Computed, error)) (Result, error) {
	text, errParts := r.Input("parts")
	at, errAt := Parse(r, where, units.ParseLength)
	if err := errors.Join(errParts, errAt, r.ExpectUnit(unit)); err != nil {
		return Result{}, err
	}
	var s stack.Stack
	for _, part := range strings.Split(text, " + ") {
		part, mean, offCentre := strings.Cut(part, " about ")
		name, half, _ := strings.Cut(part, " ±")
		distribution, err := distributionOf(name)
		if err != nil {
			return Result{}, err
		}
		limits, err := units.ParseLengthInterval("0 ±" + half)
		if err != nil {
			return Result{}, err
		}
		if offCentre {
			about, err := units.ParseLength(mean)
			if err != nil {
				return Result{}, err
			}
			distribution = distribution.About(about)
		}
		s = append(s, stack.Adds("x", limits, distribution))
	}
	law, err := s.Law()
	if err != nil {
		return Result{}, err
	}
	p, errOf := of(law, at)
	want, _, err := big.ParseFloat(r.Want, 10, 200, big.ToNearestEven)
	if err := errors.Join(err, errOf); err != nil {
		return Result{}, err
	}
	off := new(big.Float).SetPrec(200).SetFloat64(p.Value)
	off.Sub(off, want)
	// Ten digits and more are wanted; the last of them is rounded.
	rounded := new(big.Float).Mul(want, big.NewFloat(1e-13))
	if !p.Proven || off.Abs(off).Cmp(rounded.Add(rounded, big.NewFloat(p.Error))) > 0 {
		return Result{}, fmt.Errorf("%v (proven: %t) does not hold %s", p, p.Proven, r.Want)
	}
	return Float64(p.Value), nil
}

func distributionOf(name string) (stack.Distribution, error) {
	kind, k := name, 0.0
	if i := strings.LastIndex(name, " "); i >= 0 && (strings.Contains(name, "normal ") || strings.HasPrefix(name, "trapezoidal ")) {
		var err error
		if k, err = strconv.ParseFloat(name[i+1:], 64); err != nil {
			return stack.Distribution{}, err
		}
		kind = name[:i]
	}
	switch kind {
	case "uniform":
		return stack.Uniform(), nil
	case "triangular":
		return stack.Triangular(), nil
	case "trapezoidal":
		return stack.Trapezoidal(k), nil
	case "arcsine":
		return stack.Arcsine(), nil
	case "normal":
		return stack.Normal(k), nil
	case "cut-off normal":
		return stack.NormalWithin(k), nil
	}
	return stack.Distribution{}, fmt.Errorf("distribution %q", name)
}
