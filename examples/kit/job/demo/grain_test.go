package demo_test

import (
	"fmt"
	"math/big"
	"strings"

	"example.com/closefit/units"
)

// A grain is a step that quantities are rounded to, with the unit and the places that
// they are written with: "0.001 mm".
type grain[D units.Dimension] struct {
	step   units.Quantity[D]
	unit   units.Unit[D]
	places int32
}

// newGrain reads a step as it is written.
func newGrain[D units.Dimension](text string) grain[D] {
	at := strings.LastIndexAny(text, "0123456789") + 1
	number, unit := text[:at], strings.TrimSpace(text[at:])
	u := must(units.Parse[units.Unit[D]](unit))
	_, decimals, _ := strings.Cut(number, ".")
	return grain[D]{u.OfRat(part(number)), u, int32(len(decimals))}
}

func (g grain[D]) times(n *big.Int) units.Quantity[D] {
	return g.step.MulRat(new(big.Rat).SetInt(n))
}

// down returns the largest whole number of steps that is not above q.
func (g grain[D]) down(q units.Quantity[D]) units.Quantity[D] {
	r := q.Ratio(g.step)
	return g.times(new(big.Int).Div(r.Num(), r.Denom())) // Euclidean, and so downward
}

// up returns the smallest whole number of steps that is not below q.
func (g grain[D]) up(q units.Quantity[D]) units.Quantity[D] { return g.down(q.Neg()).Neg() }

// near returns the whole number of steps nearest to q, the larger of two.
func (g grain[D]) near(q units.Quantity[D]) units.Quantity[D] {
	return g.down(q.Add(g.step.MulRat(big.NewRat(1, 2))))
}

func (g grain[D]) write(q units.Quantity[D]) string {
	return q.Format(g.unit, g.places, units.HalfEven)
}

// span writes an interval: "0.053..0.087 mm", "<= 0.06 mm".
func (g grain[D]) span(a units.Interval[D]) string {
	if !a.HasLo() {
		return "<= " + g.write(a.Hi())
	}
	lo, _, _ := strings.Cut(g.write(a.Lo()), " ")
	return lo + ".." + g.write(a.Hi())
}

// exactly writes what may be one quantity, or an interval.
func (g grain[D]) exactly(a units.Interval[D]) string {
	if a.IsPoint() {
		return g.write(a.Lo())
	}
	return g.span(a)
}

// finer returns the grain with more places to write.
func (g grain[D]) finer(more int32) grain[D] {
	g.places += more
	return g
}

// A rule states limits as parts of something, rounded inward to a step.
type rule struct {
	Lo   string `toml:"lo"` // none where only too much is wrong
	Hi   string `toml:"hi"`
	Step string `toml:"step"`
}

// limits returns the limits that the rule gives for q.
func limits[D units.Dimension](r rule, q units.Quantity[D]) (units.Interval[D], grain[D]) {
	g := newGrain[D](r.Step)
	if r.Lo == "" {
		return units.AtMost(g.down(q.MulRat(part(r.Hi)))), g
	}
	return must(units.NewInterval(g.up(q.MulRat(part(r.Lo))), g.down(q.MulRat(part(r.Hi))))), g
}

// of says what the rule takes its parts of: "0.0009..0.0015 of 58.400 mm, to 0.001 mm".
func (r rule) of(text string) string {
	if r.Lo == "" {
		return fmt.Sprintf("%s of %s at most, to %s", r.Hi, text, r.Step)
	}
	return fmt.Sprintf("%s..%s of %s, to %s", r.Lo, r.Hi, text, r.Step)
}

// part reads a pure number above zero.
func part(text string) *big.Rat {
	r, ok := new(big.Rat).SetString(text)
	if !ok || r.Sign() <= 0 {
		panic(fmt.Errorf("%q is no number above zero", text))
	}
	return r
}

// must returns v. What is wrong with a design ends its working out, in one place: see
// workOut.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

func length(text string) units.Length { return must(units.ParseLength(text)) }
