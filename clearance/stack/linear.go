package stack

import (
	"fmt"
	"math"
	"math/big"
	"slices"
	"strings"

	"example.com/closefit/units"
)

// A Linear is a function of a stack's sizes as a straight line through its value at their
// means, and how far that can be trusted. float64; all in the unit of the function, a
// sensitivity for each millimetre.
type Linear struct {
	Value         float64    `json:"value"`         // of the function at the means
	Sensitivities []Computed `json:"sensitivities"` // to each size, in order

	// StdDev is the standard deviation of the straight line.
	StdDev float64 `json:"stdDev"`

	// Mean and SecondOrder are the mean and the standard deviation with the next terms of
	// the series of the function.
	Mean        float64 `json:"mean"`
	SecondOrder float64 `json:"secondOrder"`

	// Enough reports whether the straight line is good to two digits of StdDev: whether
	// those terms move neither end of Value ± 2·StdDev by more than half a unit of the
	// second digit (the numerical tolerance of JCGM 101:2008, 7.9.2). Where it is not,
	// simulate.
	Enough bool `json:"enough"`

	// Stack is the straight line, for the other methods: the sizes with their sensitivities,
	// rounded to twelve places, and an exact size that brings the sum to the value at the
	// means. A size to which the function is flat at the means is left out. It makes sense
	// only for a function in millimetres.
	Stack Stack `json:"stack"`
}

// UnmarshalJSON reads the exchange form; a missing key is an error.
func (l *Linear) UnmarshalJSON(data []byte) error {
	type linear Linear
	return units.DecodeObject(data, (*linear)(l))
}

// Linearise returns a function of the sizes as a straight line at their means. f is as for
// SimulateFunc, and is called a few times for each size and four times for each two.
//
//	u²  = Σ fᵢ²
//	u₂² = u² + Σ (fᵢ·fᵢᵢ·γᵢ + fᵢᵢ²·(κᵢ-1)/4 + fᵢ·fᵢᵢᵢ·κᵢ/3) + Σ (½·fᵢⱼ² + fᵢ·fᵢⱼⱼ), j ≠ i
//	mean = f + ½·Σ fᵢᵢ
//
// Each index is a derivative by one of the independent variables that move the sizes, in
// its standard deviations: a size of its own, or a source and what is left of a size beside
// it; γ, κ: skewness and kurtosis of the variable, 0 and 3 if it is normal, for which u₂ is
// that of JCGM 100:2008, 5.1.2, note. Derivatives are central differences over half and a
// quarter of a standard deviation (5.1.3, note 2, takes a whole one). The error of a
// sensitivity is an estimate: by how much the two steps differ, and what rounding may do to
// the value and to the part of each size in it. What f does beyond a standard deviation, and
// any corner of it, goes unseen: hold the result against SimulateFunc.
//
// Errors are those of Law; and of kind [units.ErrSyntax] for a result that is not finite or
// is beyond ±1e140.
func (s Stack) Linearise(f func(sizes []float64) float64) (*Linear, error) {
	if _, err := s.Law(); err != nil {
		return nil, err
	}
	j := s.joint()
	at := slices.Clone(j.about)
	scale := make([]float64, len(s)) // of each size's steps
	for i, t := range j.terms {
		at[i] += t.mean()
		if scale[i] = math.Sqrt(t.variance()); scale[i] == 0 {
			scale[i] = max(math.Abs(at[i]), 1) * 1e-4 // an exact size, or equal values
		}
	}
	p := &probe{f: f, at: at}
	l := &Linear{Value: p.value(nil, 0, nil, 0)}
	for i := range s {
		along := make([]float64, len(s))
		along[i] = scale[i]
		d := p.slope(along)
		d.Value, d.Error = d.Value/scale[i], d.Error/scale[i]
		l.Sensitivities = append(l.Sensitivities, d)
	}
	// Large parts that cancel are rounded as well, and no value of f shows them.
	var parts float64
	for i, d := range l.Sensitivities {
		parts += math.Abs(d.Value * at[i])
	}
	for i := range l.Sensitivities {
		l.Sensitivities[i].Error += 8 * halfUlp * parts / scale[i]
	}
	first, second, bias := p.moments(s.variables(j))
	if p.err != nil {
		return nil, p.err
	}
	l.StdDev, l.SecondOrder, l.Mean = math.Sqrt(first), math.Sqrt(max(0, second)), l.Value+bias
	l.Enough = math.Abs(bias)+2*math.Abs(l.SecondOrder-l.StdDev) <= numericalTolerance(l.StdDev)
	l.Stack = s.line(l, at)
	return l, nil
}

// numericalTolerance returns half a unit of the second digit of u (JCGM 101:2008, 7.9.2).
func numericalTolerance(u float64) float64 {
	if u <= 0 {
		return 0
	}
	return 0.5 * math.Pow(10, math.Floor(math.Log10(u))-1)
}

// line returns the straight line as a stack.
func (s Stack) line(l *Linear, at []float64) Stack {
	var line Stack
	rest := new(big.Rat).SetFloat64(l.Value)
	for i, c := range s {
		c.Sensitivity = ratioOf(l.Sensitivities[i].Value)
		if c.Sensitivity.IsZero() || c.exact() || !c.computable() {
			continue
		}
		line = append(line, c)
		moved := c.Sensitivity.Rat(units.One)
		rest.Sub(rest, moved.Mul(moved, new(big.Rat).SetFloat64(at[i])))
	}
	constant := units.Millimetre.OfRat(rest)
	constant = units.Millimetre.Of(constant.Rounded(units.Millimetre, 9, units.HalfEven))
	return append(line, Contributor{Name: "what the straight line leaves", Sensitivity: units.One.OfInt(1), Limits: units.Exactly(constant), Fixed: true})
}

func ratioOf(f float64) units.Ratio {
	const places = 12
	r, err := units.One.OfFloat64(f, places)
	if err != nil {
		panic("stack: " + err.Error())
	}
	return r
}

// A variable moves sizes, independently of all others: along is how far for each of its
// standard deviations.
type variable struct {
	along          []float64
	skew, kurtosis float64
}

// variables returns the independent variables that move the sizes of a stack that has a
// Law.
func (s Stack) variables(j joint) []variable {
	var all []variable
	add := func(shape term, of func(i int) float64) {
		v := variable{along: make([]float64, len(s))}
		moves := false
		for i := range s {
			v.along[i] = of(i)
			moves = moves || v.along[i] != 0
		}
		if moves {
			v.skew, v.kurtosis = shape.shape()
			all = append(all, v)
		}
	}
	deviation := func(i int) float64 { return math.Sqrt(j.terms[i].variance()) }
	for _, group := range s.together() {
		for _, i := range group {
			own := 1.0
			if len(group) > 1 {
				own = j.own[i]
			}
			add(j.terms[i], func(k int) float64 {
				if k != i {
					return 0
				}
				return own * deviation(i)
			})
		}
	}
	for k := range j.others {
		shape := term{kind: normal, sigma: 1}
		for i := range s {
			if j.parts[i] != nil && j.parts[i][k] != 0 {
				shape = j.terms[i] // all have one shape
			}
		}
		add(shape, func(i int) float64 {
			if j.parts[i] == nil {
				return 0
			}
			return j.parts[i][k] * deviation(i)
		})
	}
	return all
}

// shape returns the skewness and the kurtosis of a term, from its central moments:
//
//	uniform T⁴/5, triangular T⁴/15, arcsine 3T⁴/8; normal 3σ⁴
//	trapezoidal: of its two sides a, b: a⁴/5 + b⁴/5 + 6·(a²/3)·(b²/3)
func (t term) shape() (skew, kurtosis float64) {
	variance := t.variance()
	var third, fourth float64
	square := t.half * t.half
	switch t.kind {
	case normal:
		return 0, 3
	case uniform:
		fourth = square * square / 5
	case triangular:
		fourth = square * square / 15
	case arcsine:
		fourth = 3 * square * square / 8
	case trapezoidal:
		a, b := t.half*(1+t.top)/2, t.half*(1-t.top)/2
		fourth = (a*a*a*a+b*b*b*b)/5 + a*a*b*b*2/3
	default:
		mean := t.mean()
		add := func(x, w float64) {
			d := x - mean
			third, fourth = third+w*d*d*d, fourth+w*d*d*d*d
		}
		for _, a := range t.atoms {
			add(a, 1/float64(len(t.atoms)))
		}
		if t.kind == normalWithin {
			t.measure(-t.half, t.half, add)
		}
	}
	if variance == 0 {
		return 0, 3
	}
	return third / math.Pow(variance, 1.5), fourth / (variance * variance)
}

// A probe asks a function for values about a point, and keeps the first error.
type probe struct {
	f       func([]float64) float64
	at      []float64
	largest float64 // of the values
	err     error
}

// value returns f at so many steps along two directions.
func (p *probe) value(along []float64, steps float64, other []float64, otherSteps float64) float64 {
	if p.err != nil {
		return 0
	}
	x := slices.Clone(p.at)
	for i := range x {
		if along != nil {
			x[i] += steps * along[i]
		}
		if other != nil {
			x[i] += otherSteps * other[i]
		}
	}
	y := p.f(slices.Clone(x))
	if !(math.Abs(y) <= mostResult) {
		p.err = notFinite("linear form", y, x)
		return 0
	}
	p.largest = max(p.largest, math.Abs(y))
	return y
}

// slope returns the derivative along a direction, for each step of it.
func (p *probe) slope(along []float64) Computed {
	half := p.value(along, 0.5, nil, 0) - p.value(along, -0.5, nil, 0)
	quarter := 2 * (p.value(along, 0.25, nil, 0) - p.value(along, -0.25, nil, 0))
	d := Computed{Value: (4*quarter - half) / 3}
	// The point is rounded as well as the value: by half a unit of each coordinate.
	var off float64
	for i, a := range along {
		if a != 0 {
			off = max(off, halfUlp*math.Abs(p.at[i])/math.Abs(a))
		}
	}
	d.Error = math.Abs(d.Value-quarter) + 8*halfUlp*p.largest + 8*off*math.Abs(d.Value)
	return d
}

// moments returns the variance of the function by the first order, and with the second, and
// by how much its mean lies above the value.
func (p *probe) moments(variables []variable) (first, second, bias float64) {
	const h = 0.5
	middle := p.value(nil, 0, nil, 0)
	slopes := make([]float64, len(variables))
	up, down := slices.Clone(slopes), slices.Clone(slopes)
	for i, v := range variables {
		a := v.along
		up[i], down[i] = p.value(a, h, nil, 0), p.value(a, -h, nil, 0)
		slopes[i] = p.slope(a).Value
		curve := (up[i] - 2*middle + down[i]) / (h * h)
		third := (p.value(a, 2*h, nil, 0) - 2*up[i] + 2*down[i] - p.value(a, -2*h, nil, 0)) / (2 * h * h * h)
		first += slopes[i] * slopes[i]
		second += slopes[i]*curve*v.skew + curve*curve*(v.kurtosis-1)/4 + slopes[i]*third*v.kurtosis/3
		bias += curve / 2
	}
	for i, v := range variables {
		for j, w := range variables[:i] {
			pp, pm := p.value(v.along, h, w.along, h), p.value(v.along, h, w.along, -h)
			mp, mm := p.value(v.along, -h, w.along, h), p.value(v.along, -h, w.along, -h)
			mixed := (pp - pm - mp + mm) / (4 * h * h)
			ijj := (pp - 2*up[i] + pm - mp + 2*down[i] - mm) / (2 * h * h * h)
			jii := (pp - 2*up[j] + mp - pm + 2*down[j] - mm) / (2 * h * h * h)
			second += mixed*mixed + slopes[i]*ijj + slopes[j]*jii
		}
	}
	return first, first + second, bias
}

// Working shows the steps to the standard deviation of the straight line, and what the next
// terms make of it.
func (l *Linear) Working() units.Working {
	w := units.Working{
		Name:    "straight line through the means",
		Formula: "y = f(x̄); u(y) = √(Σ (cᵢ·u(xᵢ))²), cᵢ = ∂f/∂xᵢ",
		Result:  fmt.Sprintf("y = %.7g, u(y) = %.3g", l.Value, l.StdDev),
		Source:  "JCGM 100:2008, 5.1.2 and 5.1.3, with the higher terms of the note to 5.1.2; in float64",
		Notes:   []string{fmt.Sprintf("with the next terms of the series: mean %.7g, standard deviation %.3g", l.Mean, l.SecondOrder)},
	}
	if l.Enough {
		w.Notes = append(w.Notes, "the straight line is good to two digits of the standard deviation")
	} else {
		w.Notes = append(w.Notes, "the straight line is not enough: simulate")
	}
	var squares []string
	for _, c := range l.Stack {
		if c.exact() {
			continue
		}
		s, u := c.Sensitivity.Float64(units.One), math.Sqrt(newTerm(c.asItself()).variance())
		w.Steps = append(w.Steps, units.Working{Name: c.Name, Formula: "c·u(x)", Numbers: fmt.Sprintf("%.5g × %.4g", s, u), Result: fmt.Sprintf("%.4g", s*u)})
		squares = append(squares, fmt.Sprintf("(%.4g)²", s*u))
	}
	w.Numbers = "√(" + strings.Join(squares, " + ") + ")"
	if len(squares) == 0 {
		w.Numbers = "the function is flat to every size"
	}
	if !l.Stack.independent() {
		w.Formula = "y = f(x̄); u(y) = √(Σ Σ rᵢⱼ·cᵢ·u(xᵢ)·cⱼ·u(xⱼ)), cᵢ = ∂f/∂xᵢ"
		w.Numbers = l.Stack.squared(func(c Contributor) float64 {
			return c.Sensitivity.Float64(units.One) * math.Sqrt(newTerm(c.asItself()).variance())
		})
	}
	return w
}
