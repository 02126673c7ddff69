package clearance

import (
	"math/big"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
)

// An Expansion is a coefficient of linear thermal expansion, known within
// bounds. The zero Expansion is that of a part that does not expand.
type Expansion struct {
	lo, hi decimal.Decimal // per kelvin
}

// PerKelvin returns the coefficient between two values per kelvin, the same twice
// for one that is taken as exact: 0.0000117 for a plain steel, 11.7 millionths.
// The error is an *Error of kind ErrExpansion if lo > hi, or if one lies outside
// 0..0.0005, where those of the metals are.
func PerKelvin(lo, hi decimal.Decimal) (Expansion, error) {
	const where = "coefficient of expansion"
	most := decimal.New(5, -4)
	for _, c := range []decimal.Decimal{lo, hi} {
		if c.Sign() < 0 || c.Cmp(most) > 0 {
			return Expansion{}, &Error{Kind: ErrExpansion, Where: where, Found: c.String() + " per K", Fix: "give it per kelvin, such as 0.0000117 for 11.7 millionths"}
		}
	}
	if lo.Cmp(hi) > 0 {
		return Expansion{}, &Error{Kind: ErrOrder, Where: where, Found: lo.String() + " before " + hi.String(), Fix: "give the smaller one first"}
	}
	return Expansion{lo, hi}, nil
}

// PerFahrenheit returns the coefficient between two values per degree Fahrenheit;
// one of these is 9/5 of that per kelvin, exactly. The error is that of PerKelvin.
func PerFahrenheit(lo, hi decimal.Decimal) (Expansion, error) {
	nineFifths := decimal.New(18, -1)
	return PerKelvin(lo.Mul(nineFifths), hi.Mul(nineFifths))
}

// PerKelvin returns the bounds of the coefficient, per kelvin.
func (e Expansion) PerKelvin() (lo, hi decimal.Decimal) { return e.lo, e.hi }

// PerFahrenheit returns the bounds of the coefficient per degree Fahrenheit,
// rounded half to even to so many places.
func (e Expansion) PerFahrenheit(places int32) (lo, hi decimal.Decimal) {
	per := func(d decimal.Decimal) decimal.Decimal {
		return decimal.NewFromBigRat(new(big.Rat).Mul(d.Rat(), big.NewRat(5, 9)), places)
	}
	return per(e.lo), per(e.hi)
}

// A Condition is what a part is made of and how warm it is.
type Condition struct {
	Material    string // for the record: "cast iron"
	Expansion   Expansion
	Temperature units.TemperatureInterval
}

// referenceTemperature is 20 °C, at which sizes are stated (ISO 1:2022).
func referenceTemperature() units.TemperatureInterval {
	t := units.Celsius.Of(decimal.NewFromInt(20))
	a, err := units.NewTemperatureInterval(t, t)
	if err != nil {
		panic("clearance: " + err.Error()) // a temperature is not hotter than itself
	}
	return a
}

// Check returns an *Error of kind ErrAbsoluteZero for a temperature below
// absolute zero, of kind ErrNotMeasured for one that lacks a bound or was not
// given.
func (c Condition) Check() error {
	switch t := c.Temperature; {
	case t.IsEmpty():
		return &Error{Kind: ErrNotMeasured, Where: c.label(), Fix: "give the temperature"}
	case !t.HasLo() || !t.HasHi():
		return &Error{Kind: ErrNotMeasured, Where: c.label(), Found: t.String(), Fix: "give the lowest and the highest temperature"}
	case t.Lo().Sign() < 0:
		return &Error{Kind: ErrAbsoluteZero, Where: c.label(), Found: t.Lo().String(), Fix: "give one of -273.15 °C or more"}
	}
	return nil
}

func (c Condition) label() string {
	if c.Material == "" {
		return "temperature"
	}
	return "temperature, " + c.Material
}

// growth returns the bounds of αθ, θ being the temperature less 20 °C.
func (c Condition) growth() (lo, hi *big.Rat) {
	rise := c.Temperature.Sub(referenceTemperature())
	for _, alpha := range []*big.Rat{c.Expansion.lo.Rat(), c.Expansion.hi.Rat()} {
		for _, theta := range []*big.Rat{rise.Lo().Rat(units.KelvinDifference), rise.Hi().Rat(units.KelvinDifference)} {
			g := new(big.Rat).Mul(alpha, theta)
			if lo == nil || g.Cmp(lo) < 0 {
				lo = g
			}
			if hi == nil || g.Cmp(hi) > 0 {
				hi = g
			}
		}
	}
	return lo, hi
}

// Growth returns by how much a size stated at 20 °C is larger in the condition,
// exactly: L·α·(T - 20 °C), for every size, coefficient and temperature of the
// intervals. The size must not be negative. The error is that of Check, or of kind
// ErrNotMeasured for a size that lacks a bound.
func (c Condition) Growth(size units.LengthInterval) (units.LengthInterval, error) {
	if err := c.Check(); err != nil {
		return units.LengthInterval{}, err
	}
	if !size.Bounded() {
		return units.LengthInterval{}, &Error{Kind: ErrNotMeasured, Where: "size to grow", Fix: "give it with both its bounds"}
	}
	lo, hi := c.growth()
	return times(size, lo, hi), nil
}

// AtReference returns the reading of a size that was measured in the condition,
// corrected to 20 °C (ISO 1:2022): L/(1 + α·(T - 20 °C)), exactly. The size must
// not be negative. The error is that of Check. It is the part that is warm; the
// instrument is taken to be at 20 °C or to have been set on a warm master.
func (c Condition) AtReference(r LengthReading) (LengthReading, error) {
	if err := c.Check(); err != nil {
		return LengthReading{}, err
	}
	lo, hi := c.growth()
	return r.scaled(inverse(hi), inverse(lo), "corrected to 20 °C from "+c.Temperature.String()), nil
}

// Warmed returns the reading of a size stated at 20 °C, in the condition:
// L·(1 + α·(T - 20 °C)), exactly. The size must not be negative. The error is
// that of Check.
func (c Condition) Warmed(r LengthReading) (LengthReading, error) {
	if err := c.Check(); err != nil {
		return LengthReading{}, err
	}
	lo, hi := c.growth()
	return r.scaled(new(big.Rat).Add(lo, one()), new(big.Rat).Add(hi, one()), "at "+c.Temperature.String()), nil
}

// inverse returns 1/(1 + g), which is above zero for every growth of a Condition
// that Check passes.
func inverse(g *big.Rat) *big.Rat { return new(big.Rat).Inv(new(big.Rat).Add(g, one())) }

// scaled returns the reading times a factor from lo to hi, both above zero.
func (r Reading[D]) scaled(lo, hi *big.Rat, name string) Reading[D] {
	if !r.Taken() {
		return r
	}
	r = r.made(byCondition, name, r)
	r.bracket = r.bracket.MulRat(lo).Hull(r.bracket.MulRat(hi))
	r.expanded = r.expanded.MulRat(hi)
	return r
}

// Warm returns the fit with each of its sizes, stated at 20 °C, in the condition
// that its term's symbol has; a term without one stays at 20 °C. A direct reading
// is taken to have been made at 20 °C, and opens by what Opening says. The error
// is that of Check, or of kind ErrNoTerm for a symbol that no term has, or
// ErrNotMeasured if a direct reading has no sizes to reckon its opening from.
//
// Shells are taken to follow their housing, growing in thickness only. In
// aluminium on a steel crankshaft the clearance opens as the engine warms.
func (f Fit) Warm(conditions map[string]Condition) (Fit, error) {
	if err := f.checkConditions(conditions); err != nil {
		return Fit{}, err
	}
	warm := f
	warm.Name = f.Name + ", warm"
	warm.Terms = append([]Term(nil), f.Terms...)
	for i, t := range f.Terms {
		if c, ok := conditions[t.Symbol]; ok {
			r, err := c.Warmed(t.Reading)
			if err != nil {
				return Fit{}, err
			}
			warm.Terms[i].Reading = r
		}
	}
	if f.Direct.Taken() {
		opening, err := f.Opening(conditions)
		if err != nil {
			return Fit{}, err
		}
		warm.Direct = f.Direct.made(byOpening, "", f.Direct)
		warm.Direct.seen.a, warm.Direct.seen.b = opening.Lo(), opening.Hi()
		warm.Direct.bracket = f.Direct.bracket.Add(opening)
		warm.Direct.floored = false
	}
	return warm, nil
}

// Opening returns by how much the fit is larger in the conditions than at 20 °C:
// the sum of what its sizes grow by. It is narrower than the difference of the two
// fits, because each size is the same in both. The error is that of Warm; of kind
// ErrNotMeasured if a size that grows was not taken or lacks a bound.
func (f Fit) Opening(conditions map[string]Condition) (units.LengthInterval, error) {
	if err := f.checkConditions(conditions); err != nil {
		return units.LengthInterval{}, err
	}
	sum := units.Exactly(units.Length{})
	for _, t := range f.Terms {
		c, ok := conditions[t.Symbol]
		if !ok {
			continue
		}
		size := t.Reading.Interval()
		if !size.Bounded() {
			return units.LengthInterval{}, &Error{Kind: ErrNotMeasured, Where: f.Name + ", " + t.Name, Fix: "give its size; a drawing's is close enough to reckon its growth from"}
		}
		growth, err := c.Growth(size)
		if err != nil {
			return units.LengthInterval{}, err
		}
		sum = addTimes(sum, &growth, t.Times)
	}
	return sum, nil
}

// OpeningWorking shows Opening with its numbers in the unit. The error is that of
// Opening.
func (f Fit) OpeningWorking(conditions map[string]Condition, u units.LengthUnit) (units.Working, error) {
	opening, err := f.Opening(conditions)
	if err != nil {
		return units.Working{}, err
	}
	w := units.Working{
		Name:    f.Name + ", opening from 20 °C",
		Formula: f.sumOf(conditions),
		Result:  span(opening.Outward(u, writtenPlaces), u),
		Source:  "linear expansion; sizes are stated at 20 °C (ISO 1:2022)",
	}
	for _, t := range f.Terms {
		c, ok := conditions[t.Symbol]
		if !ok {
			continue
		}
		growth, err := c.Growth(t.Reading.Interval())
		if err != nil {
			return units.Working{}, err
		}
		alpha := c.Expansion.lo.String()
		if !c.Expansion.lo.Equal(c.Expansion.hi) {
			alpha += ".." + c.Expansion.hi.String()
		}
		name := "Δ" + t.Symbol + ", " + t.Name
		if c.Material != "" {
			name += ", " + c.Material
		}
		w.Steps = append(w.Steps, units.Working{
			Name:    name,
			Formula: t.Symbol + "·α·(T - 20 °C)",
			Numbers: span(t.Reading.Interval(), u) + " × " + alpha + "/K × (" + c.Temperature.String() + " - 20 °C)",
			Result:  span(growth.Outward(u, writtenPlaces), u),
		})
	}
	return w, nil
}

// sumOf writes the sum of what the terms with conditions grow by.
func (f Fit) sumOf(conditions map[string]Condition) string {
	growing := Fit{Symbol: "Δ" + f.Symbol}
	for _, t := range f.Terms {
		if _, ok := conditions[t.Symbol]; ok {
			growing.Terms = append(growing.Terms, Term{Symbol: "Δ" + t.Symbol, Times: t.Times})
		}
	}
	return growing.Formula()
}

// checkConditions refuses a condition for a term that there is not.
func (f Fit) checkConditions(conditions map[string]Condition) error {
	for _, symbol := range sortedKeys(conditions) {
		if _, err := f.term(symbol); err != nil {
			return err
		}
		if err := conditions[symbol].Check(); err != nil {
			return err
		}
	}
	return nil
}
