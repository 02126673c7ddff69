package units

import (
	"fmt"
	"math"
	"math/big"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"
)

// The slow, plain reference: a quantity is a big.Rat of the SI unit (degrees for
// angles, r/min for rotational speeds), an interval is two of them, and the
// factors are written out again here from NIST SP 811 (2008), B.8, and from their
// definitions: 1 in = 0.0254 m, 1 lb = 0.45359237 kg, g = 9.80665 m/s². It shares
// no code with the package.

// A slowDimension has the size of each unit and of the grid step, whose int64
// edge the generators look for.
type slowDimension struct {
	grid  string
	units map[string]string
}

const (
	slowPound = "4.4482216152605"                                      // N: 0.45359237 × 9.80665
	slowPsi   = "4.4482216152605/0.00064516"                           // Pa: lbf over 0.0254² m²
	slowPi    = "3.14159265358979323846264338327950288419716939937511" // TestPi computes it
)

func slowDimensions() map[string]slowDimension {
	return map[string]slowDimension{
		"length": {"1e-12", map[string]string{
			"mm": "0.001", "µm": "0.000001", "nm": "0.000000001", "cm": "0.01", "m": "1",
			"in": "0.0254", "thou": "0.0254/1000", "tenth": "0.0254/10000", "µin": "0.0254/1000000", "ft": "12*0.0254", "yd": "36*0.0254",
		}},
		"angle": {"1/3600000000000", map[string]string{
			"°": "1", "turn": "360", "rad": "180/" + slowPi, "′": "1/60", "″": "1/3600", "gon": "0.9",
		}},
		"torque": {"1e-16", map[string]string{
			"N·m": "1", "lbf·ft": slowPound + "*12*0.0254", "lbf·in": slowPound + "*0.0254", "ozf·in": slowPound + "/16*0.0254",
			"kgf·m": "9.80665", "kgf·cm": "0.0980665", "gf·cm": "0.0000980665",
			"N·cm": "0.01", "N·mm": "0.001", "cN·m": "0.01", "kN·m": "1000",
		}},
		"force": {"1e-13", map[string]string{
			"N": "1", "kN": "1000", "MN": "1000000", "lbf": slowPound, "kip": "1000*" + slowPound, "ozf": slowPound + "/16",
			"kgf": "9.80665", "gf": "0.00980665", "US tonf": "2000*" + slowPound, "dyn": "0.00001",
		}},
		"pressure": {"1/1290320000", map[string]string{
			"Pa": "1", "kPa": "1000", "MPa": "1000000", "GPa": "1000000000", "bar": "100000", "mbar": "100",
			"psi": slowPsi, "ksi": "1000*" + slowPsi, "Mpsi": "1000000*" + slowPsi, "psf": slowPsi + "/144",
			"kgf/cm²": "9.80665/0.0001", "kgf/mm²": "9.80665/0.000001", "atm": "101325", "Torr": "101325/760",
			"inHg": "25.4*133.322387415", "mmHg": "133.322387415", // 13.5951 g/cm³ × g × 1 mm
			"inH2O": "1000*9.80665*0.0254", // 1 g/cm³ × g × 1 in
		}},
		"temperature difference": {"1/9000000000", map[string]string{"K": "1", "°C": "1", "°F": "5/9"}},
		"rotational speed": {"1/6000000000", map[string]string{
			"r/min": "1", "r/s": "60", "°/s": "60/360", "rad/s": "30/" + slowPi,
		}},
		"dynamic viscosity": {"1/1290320000000000", map[string]string{
			"mPa·s": "0.001", "Pa·s": "1", "P": "0.1", "cP": "0.001", "reyn": slowPsi, "µreyn": slowPsi + "/1000000",
		}},
		"area": {"1e-18", map[string]string{
			"mm²": "0.000001", "cm²": "0.0001", "m²": "1", "in²": "0.0254*0.0254",
		}},
		"volume": {"1e-18", map[string]string{
			"mm³": "0.000000001", "cm³": "0.000001", "L": "0.001", "m³": "1", "in³": "0.0254*0.0254*0.0254",
		}},
		"volume flow": {"1/60000000000000000", map[string]string{
			"L/min": "0.001/60", "mm³/s": "0.000000001", "cm³/s": "0.000001", "m³/s": "1", "in³/s": "0.0254*0.0254*0.0254", "US gal/min": "231*0.0254*0.0254*0.0254/60",
		}},
		"power": {"1e-14", map[string]string{"W": "1", "kW": "1000", "hp": "550*12*0.0254*" + slowPound}},
		"kinematic viscosity": {"1e-18", map[string]string{
			"mm²/s": "0.000001", "m²/s": "1", "St": "0.0001", "cSt": "0.000001",
		}},
		"density":     {"1e-9", map[string]string{"kg/m³": "1", "g/cm³": "0.001/0.000001"}},
		"mass":        {"1e-12", map[string]string{"g": "0.001", "kg": "1", "lb": "0.45359237", "oz": "0.45359237/16"}},
		"pure number": {"1e-12", map[string]string{"": "1", "%": "0.01", "ppm": "0.000001"}},
		"stiffness": {"1/50800000", map[string]string{
			"N/mm": "1000", "N/m": "1", "kN/mm": "1000000", "lbf/in": slowPound + "/0.0254",
		}},
	}
}

// slowRat works out a product or quotient of decimals, from left to right.
func slowRat(s string) *big.Rat {
	r := big.NewRat(1, 1)
	operator := byte('*')
	for s != "" {
		end := strings.IndexAny(s, "*/")
		number, next := s, byte(0)
		if end >= 0 {
			number, next, s = s[:end], s[end], s[end+1:]
		} else {
			s = ""
		}
		f, ok := new(big.Rat).SetString(number)
		if !ok {
			panic("not a number: " + number)
		}
		if operator == '*' {
			r.Mul(r, f)
		} else {
			r.Quo(r, f)
		}
		operator = next
	}
	return r
}

// slowFactor returns the size of a unit in the reference.
func slowFactor[D Dimension](u Unit[D]) *big.Rat {
	return slowRat(slowDimensions()[dimensionOf[D]().name].units[u.String()])
}

// slowGrid returns the grid step in the reference.
func slowGrid[D Dimension]() *big.Rat { return slowRat(slowDimensions()[dimensionOf[D]().name].grid) }

// slowOf returns the amount that q stands for.
func slowOf[D Dimension](q Quantity[D]) *big.Rat {
	return new(big.Rat).Mul(q.Rat(0), slowFactor(Unit[D](0)))
}

// slowRound rounds to an integer.
func slowRound(r *big.Rat, m Rounding) *big.Int {
	down := new(big.Int).Div(r.Num(), r.Denom()) // Euclidean: towards minus infinity
	if r.IsInt() {
		return down
	}
	up := new(big.Int).Add(down, big.NewInt(1))
	above := new(big.Rat).Sub(r, new(big.Rat).SetInt(down))
	side := above.Cmp(big.NewRat(1, 2))
	awayFromZero := up
	if r.Sign() < 0 {
		awayFromZero = down
	}
	switch m {
	case Floor:
		return down
	case Ceiling:
		return up
	case TowardZero:
		if r.Sign() < 0 {
			return up
		}
		return down
	}
	switch {
	case side < 0:
		return down
	case side > 0:
		return up
	case m == HalfAwayZero:
		return awayFromZero
	case down.Bit(0) == 0:
		return down
	}
	return up
}

// slowText prints r rounded to places >= 0.
func slowText(r *big.Rat, places int, m Rounding) string {
	scale := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(places)), nil)
	n := slowRound(new(big.Rat).Mul(r, new(big.Rat).SetInt(scale)), m)
	return new(big.Rat).SetFrac(n, scale).FloatString(places)
}

// slowWritten prints r without trailing zeros, to so many places at the most and
// marked if that drops something.
func slowWritten(r *big.Rat, most int) string {
	text := strings.TrimRight(strings.TrimRight(slowText(r, most, HalfEven), "0"), ".")
	if slowRat(strings.TrimPrefix(text, "-")).Cmp(new(big.Rat).Abs(r)) != 0 {
		return "≈" + text
	}
	return text
}

// drawUnit draws a unit of the dimension.
func drawUnit[D Dimension](t *rapid.T) Unit[D] { return rapid.SampledFrom(Units[D]()).Draw(t, "unit") }

// drawQuantity draws a quantity and what it stands for in the reference: plain
// decimals of all units, fractions, values beyond any machine integer, and most of
// all values within a few steps of where the machine integer ends.
func drawQuantity[D Dimension](t *rapid.T, label string) (Quantity[D], *big.Rat) {
	u := drawUnit[D](t)
	factor := slowFactor(u)
	switch rapid.IntRange(0, 5).Draw(t, label+": kind") {
	case 0:
		r := big.NewRat(rapid.Int64().Draw(t, "numerator"), rapid.Int64Range(1, 1_000_000).Draw(t, "denominator"))
		return u.OfRat(r), new(big.Rat).Mul(r, factor)
	case 1:
		d := decimal.New(rapid.Int64().Draw(t, "coefficient"), rapid.Int32Range(-40, 40).Draw(t, "exponent"))
		return u.Of(d), new(big.Rat).Mul(d.Rat(), factor)
	case 2, 3:
		edge := rapid.SampledFrom([]int64{math.MaxInt64, math.MinInt64, math.MaxInt64 / 2, math.MinInt64 / 2, 0}).Draw(t, "edge")
		steps := new(big.Rat).SetInt64(edge)
		steps.Add(steps, big.NewRat(rapid.Int64Range(-4, 4).Draw(t, "steps past it"), rapid.Int64Range(1, 2).Draw(t, "parts of one")))
		r := steps.Mul(steps, slowGrid[D]())
		return u.OfRat(new(big.Rat).Quo(r, factor)), r
	}
	n, places := rapid.Int64Range(-2_000_000, 2_000_000).Draw(t, "coefficient"), rapid.Int32Range(0, 6).Draw(t, "places")
	d := decimal.New(n, -places)
	return u.Of(d), new(big.Rat).Mul(d.Rat(), factor)
}

// same fails unless q stands for want and is held in its one form.
func same[D Dimension](t *rapid.T, operation string, q Quantity[D], want *big.Rat) {
	t.Helper()
	if got := slowOf(q); got.Cmp(want) != 0 {
		t.Fatalf("%s: %s, want %s", operation, got, want)
	}
	steps := new(big.Rat).Quo(want, slowGrid[D]())
	if whole := steps.IsInt() && steps.Num().IsInt64(); whole != (q.x == nil) {
		t.Fatalf("%s: %s steps, held as a machine integer: %v", operation, steps, q.x == nil)
	}
}

// checkQuantity checks every operation on quantities against the reference.
func checkQuantity[D Dimension](t *rapid.T) {
	a, ra := drawQuantity[D](t, "a")
	b, rb := drawQuantity[D](t, "b")
	same(t, "a", a, ra)
	same(t, "b", b, rb)

	same(t, "a+b", a.Add(b), new(big.Rat).Add(ra, rb))
	same(t, "a-b", a.Sub(b), new(big.Rat).Sub(ra, rb))
	same(t, "a+b-b", a.Add(b).Sub(b), ra)
	same(t, "-a", a.Neg(), new(big.Rat).Neg(ra))
	same(t, "|a|", a.Abs(), new(big.Rat).Abs(ra))
	same(t, "Sum", Sum(a, b, a), new(big.Rat).Add(new(big.Rat).Add(ra, rb), ra))

	k := rapid.Int64().Draw(t, "k")
	same(t, "k·a", a.MulInt(k), new(big.Rat).Mul(ra, new(big.Rat).SetInt64(k)))
	d := decimal.New(k, rapid.Int32Range(-30, 5).Draw(t, "exponent"))
	same(t, "d·a", a.Mul(d), new(big.Rat).Mul(ra, d.Rat()))
	r := big.NewRat(k, rapid.Int64Range(1, math.MaxInt64).Draw(t, "denominator"))
	same(t, "r·a", a.MulRat(r), new(big.Rat).Mul(ra, r))
	same(t, "OfInt", Unit[D](0).OfInt(k), new(big.Rat).Mul(new(big.Rat).SetInt64(k), slowFactor(Unit[D](0))))

	order := ra.Cmp(rb)
	if got := a.Cmp(b); got != order || b.Cmp(a) != -order {
		t.Fatalf("Cmp: %d, want %d", got, order)
	}
	if a.Equal(b) != (order == 0) || a.Less(b) != (order < 0) || a.Sign() != ra.Sign() || a.IsZero() != (ra.Sign() == 0) {
		t.Fatalf("Equal, Less, Sign or IsZero of %s and %s", ra, rb)
	}
	small, large := ra, rb
	if order > 0 {
		small, large = rb, ra
	}
	same(t, "Min", Min(a, b), small)
	same(t, "Max", Max(a, b), large)
	if rb.Sign() != 0 {
		if got, want := a.Ratio(b), new(big.Rat).Quo(ra, rb); got.Cmp(want) != 0 {
			t.Fatalf("Ratio: %s, want %s", got, want)
		}
	}
}

// checkPrinting checks every way to leave the exact world against the reference.
func checkPrinting[D Dimension](t *rapid.T) {
	a, ra := drawQuantity[D](t, "a")
	u := drawUnit[D](t)
	in := new(big.Rat).Quo(ra, slowFactor(u))
	if got := a.Rat(u); got.Cmp(in) != 0 {
		t.Fatalf("Rat: %s, want %s", got, in)
	}
	if got, want := a.Float64(u), must64(in); got != want {
		t.Fatalf("Float64: %v, want %v", got, want)
	}
	places := rapid.IntRange(0, 20).Draw(t, "places")
	m := rapid.SampledFrom([]Rounding{HalfEven, HalfAwayZero, Floor, Ceiling, TowardZero}).Draw(t, "rounding")
	want := slowText(in, places, m)
	symbol := " " + u.String()
	if symbol == " " {
		symbol = "" // a bare number
	}
	if got := a.Format(u, int32(places), m); got != want+symbol {
		t.Fatalf("Format: %q, want %q", got, want)
	}
	if got := string(a.appendFormat([]byte("x"), u, int32(places), m)); got != "x"+want+symbol {
		t.Fatalf("appendFormat: %q, want %q", got, want)
	}
	if got, want := a.Written(u), slowWritten(in, 9)+symbol; got != want {
		t.Fatalf("Written: %q, want %q", got, want)
	}
	if got, want := a.WrittenBare(u), slowWritten(in, 9); got != want {
		t.Fatalf("WrittenBare: %q, want %q", got, want)
	}
	first := Unit[D](0).String()
	if number, ok := strings.CutSuffix(a.String(), " "+first); first != "" && (!ok || number != slowWritten(a.Rat(0), 6)) {
		t.Fatalf("String: %q, want %q", number, slowWritten(a.Rat(0), 6))
	}
	if got := a.Rounded(u, int32(places), m); got.StringFixed(int32(places)) != want || got.Exponent() != -int32(places) {
		t.Fatalf("Rounded: %s, want %s", got, want)
	}
	if got := a.In(u, int32(places)); got.StringFixed(int32(places)) != slowText(in, places, HalfEven) {
		t.Fatalf("In: %s", got)
	}
	tens := rapid.Int32Range(1, 5).Draw(t, "tens")
	coarse := slowRound(new(big.Rat).Quo(in, decimal.New(1, tens).Rat()), m)
	if got := a.Rounded(u, -tens, m); got.Rat().Cmp(new(big.Rat).Mul(new(big.Rat).SetInt(coarse), decimal.New(1, tens).Rat())) != 0 {
		t.Fatalf("Rounded to 10^%d: %s, want %s of them", tens, got, coarse)
	}
}

func must64(r *big.Rat) float64 {
	f, _ := r.Float64()
	return f
}

// checkText checks that every text form gives the value back.
func checkText[D Dimension](t *rapid.T) {
	a, ra := drawQuantity[D](t, "a")
	text := a.Exact()
	back, err := Parse[Quantity[D]](text)
	if err != nil {
		t.Fatal(err)
	}
	same(t, text, back, ra)
	// With a space before it, the text goes past the parser's fast path.
	back, err = Parse[Quantity[D]](" " + text)
	if err != nil {
		t.Fatal(err)
	}
	same(t, text+" in full", back, ra)

	u := drawUnit[D](t)
	d := decimal.New(rapid.Int64().Draw(t, "coefficient"), -rapid.Int32Range(0, 22).Draw(t, "places"))
	space := rapid.SampledFrom([]string{"", " ", "  ", "\u00a0"}).Draw(t, "space")
	read, err := Parse[Quantity[D]](d.String() + space + u.String())
	if err != nil {
		t.Fatal(err)
	}
	same(t, "parse", read, new(big.Rat).Mul(d.Rat(), slowFactor(u)))
}

// A slowInterval has a nil bound where one is missing.
type slowInterval struct{ lo, hi *big.Rat }

func drawInterval[D Dimension](t *rapid.T, label string) (Interval[D], slowInterval) {
	a, ra := drawQuantity[D](t, label+": a bound")
	b, rb := drawQuantity[D](t, label+": a bound")
	switch rapid.IntRange(0, 9).Draw(t, label+": bounds") {
	case 0:
		return AtMost(a), slowInterval{nil, ra}
	case 1:
		return AtLeast(a), slowInterval{ra, nil}
	case 2:
		return Exactly(a), slowInterval{ra, ra}
	case 3:
		return PlusMinus(a, b), slowInterval{new(big.Rat).Sub(ra, new(big.Rat).Abs(rb)), new(big.Rat).Add(ra, new(big.Rat).Abs(rb))}
	}
	if ra.Cmp(rb) > 0 {
		ra, rb = rb, ra
	}
	return Between(a, b), slowInterval{ra, rb}
}

func (s slowInterval) String() string {
	bound := func(r *big.Rat) string {
		if r == nil {
			return "none"
		}
		return r.String()
	}
	return bound(s.lo) + ".." + bound(s.hi)
}

// sameInterval fails unless a has the bounds wanted and is held in its one form.
func sameInterval[D Dimension](t *rapid.T, operation string, a Interval[D], want slowInterval) {
	t.Helper()
	if a.HasLo() != (want.lo != nil) || a.HasHi() != (want.hi != nil) {
		t.Fatalf("%s: bounds %v %v, want %s", operation, a.HasLo(), a.HasHi(), want)
	}
	machine := true
	check := func(q Quantity[D], r *big.Rat) {
		same(t, operation, q, r)
		machine = machine && q.x == nil
	}
	if a.HasLo() {
		check(a.Lo(), want.lo)
	}
	if a.HasHi() {
		check(a.Hi(), want.hi)
	}
	if machine = machine && a.Bounded(); machine != (a.x == &grid) {
		t.Fatalf("%s: %s held as machine integers: %v", operation, want, a.x == &grid)
	}
}

func both(a, b *big.Rat, f func(a, b *big.Rat) *big.Rat) *big.Rat {
	if a == nil || b == nil {
		return nil
	}
	return f(a, b)
}

// checkInterval checks every operation on intervals against the reference.
func checkInterval[D Dimension](t *rapid.T) {
	a, sa := drawInterval[D](t, "a")
	b, sb := drawInterval[D](t, "b")
	q, rq := drawQuantity[D](t, "q")
	sameInterval(t, "a", a, sa)
	sameInterval(t, "b", b, sb)

	add := func(x, y *big.Rat) *big.Rat { return new(big.Rat).Add(x, y) }
	sub := func(x, y *big.Rat) *big.Rat { return new(big.Rat).Sub(x, y) }
	sameInterval(t, "a+b", a.Add(b), slowInterval{both(sa.lo, sb.lo, add), both(sa.hi, sb.hi, add)})
	sameInterval(t, "a-b", a.Sub(b), slowInterval{both(sa.lo, sb.hi, sub), both(sa.hi, sb.lo, sub)})
	zero := new(big.Rat)
	sameInterval(t, "-a", a.Neg(), slowInterval{both(zero, sa.hi, sub), both(zero, sa.lo, sub)})
	sameInterval(t, "a shifted", a.Shift(q), slowInterval{both(sa.lo, rq, add), both(sa.hi, rq, add)})

	r := big.NewRat(rapid.Int64Range(-9, 9).Draw(t, "numerator"), rapid.Int64Range(1, 9).Draw(t, "denominator"))
	times := func(x, y *big.Rat) *big.Rat { return new(big.Rat).Mul(x, y) }
	multiple := slowInterval{both(sa.lo, r, times), both(sa.hi, r, times)}
	switch r.Sign() {
	case -1:
		multiple.lo, multiple.hi = multiple.hi, multiple.lo
	case 0:
		multiple = slowInterval{zero, zero}
	}
	sameInterval(t, "r·a", a.MulRat(r), multiple)
	if a.Bounded() {
		width := sub(sa.hi, sa.lo)
		same(t, "Width", a.Width(), width)
		same(t, "Radius", a.Radius(), new(big.Rat).Quo(width, big.NewRat(2, 1)))
		same(t, "Mid", a.Mid(), new(big.Rat).Quo(add(sa.lo, sa.hi), big.NewRat(2, 1)))
		if a.IsPoint() != (width.Sign() == 0) {
			t.Fatal("IsPoint")
		}
	}

	noLess := func(x, y *big.Rat) bool { return x.Cmp(y) >= 0 }
	within := (sb.lo == nil || sa.lo != nil && noLess(sa.lo, sb.lo)) && (sb.hi == nil || sa.hi != nil && noLess(sb.hi, sa.hi))
	contains := (sa.lo == nil || noLess(rq, sa.lo)) && (sa.hi == nil || noLess(sa.hi, rq))
	below := sa.hi != nil && sb.lo != nil && !noLess(sa.hi, sb.lo)
	above := sb.hi != nil && sa.lo != nil && !noLess(sb.hi, sa.lo)
	for _, c := range []struct {
		name      string
		got, want bool
	}{
		{"Within", a.Within(b), within},
		{"Contains", a.Contains(q), contains},
		{"Below", a.Below(b), below},
		{"above", b.Below(a), above},
		{"Overlaps", a.Overlaps(b), !below && !above},
		{"Equal to itself", a.Equal(a), true},
		{"Equal", a.Equal(b), sa.String() == sb.String()},
	} {
		if c.got != c.want {
			t.Fatalf("%s of %s and %s: %v, want %v", c.name, sa, sb, c.got, c.want)
		}
	}

	least := func(x, y *big.Rat) *big.Rat {
		if x.Cmp(y) < 0 {
			return x
		}
		return y
	}
	most := func(x, y *big.Rat) *big.Rat {
		if x.Cmp(y) > 0 {
			return x
		}
		return y
	}
	sameInterval(t, "Hull", a.Hull(b), slowInterval{both(sa.lo, sb.lo, least), both(sa.hi, sb.hi, most)})

	for _, text := range []string{a.Exact(), "\t" + a.Exact()} { // with a tab before it, past the fast path
		back, err := Parse[Interval[D]](text)
		if err != nil {
			t.Fatal(err)
		}
		sameInterval(t, text, back, sa)
	}
}

// checkConversion checks the conversions of limits.
func checkConversion[D Dimension](t *rapid.T) {
	a, sa := drawInterval[D](t, "a")
	u, places := drawUnit[D](t), rapid.Int32Range(0, 8).Draw(t, "places")
	factor := slowFactor(u)
	bound := func(r *big.Rat, m Rounding) *big.Rat {
		if r == nil {
			return nil
		}
		return new(big.Rat).Mul(slowRat(slowText(new(big.Rat).Quo(r, factor), int(places), m)), factor)
	}
	inward := slowInterval{bound(sa.lo, Ceiling), bound(sa.hi, Floor)}
	got, err := a.Inward(u, places)
	if room := inward.lo == nil || inward.hi == nil || inward.lo.Cmp(inward.hi) <= 0; room != (err == nil) {
		t.Fatalf("Inward of %s to %d places of %s: %v", sa, places, u, err)
	}
	if err == nil {
		sameInterval(t, "Inward", got, inward)
		if !got.Within(a) {
			t.Fatalf("Inward %s reaches out of %s", got, a)
		}
	}
	outward := a.Outward(u, places)
	sameInterval(t, "Outward", outward, slowInterval{bound(sa.lo, Floor), bound(sa.hi, Ceiling)})
	if !a.Within(outward) {
		t.Fatalf("Outward %s does not hold %s", outward, a)
	}
}

// checks returns every property, by name.
func checks[D Dimension]() map[string]func(*rapid.T) {
	return map[string]func(*rapid.T){
		"quantity": checkQuantity[D], "printing": checkPrinting[D], "text": checkText[D],
		"interval": checkInterval[D], "conversion": checkConversion[D],
	}
}

func testAgainstReference[D Dimension](t *testing.T) {
	d := dimensionOf[D]()
	for _, u := range Units[D]() {
		if u.Factor().Cmp(slowFactor(u)) != 0 {
			t.Errorf("%s: factor %s, want %s", u, u.Factor(), slowFactor(u))
		}
	}
	if len(slowDimensions()[d.name].units) != len(d.units) {
		t.Errorf("%d units of %s, the reference has %d", len(d.units), d.name, len(slowDimensions()[d.name].units))
	}
	if d.grid.Cmp(slowGrid[D]()) != 0 {
		t.Errorf("grid %s, the reference has %s", d.grid, slowGrid[D]())
	}
	for name, check := range checks[D]() {
		t.Run(name, rapid.MakeCheck(check))
	}
}

// TestAgainstReference checks every operation in every dimension.
func TestAgainstReference(t *testing.T) {
	t.Run("length", testAgainstReference[LengthDim])
	t.Run("angle", testAgainstReference[AngleDim])
	t.Run("torque", testAgainstReference[TorqueDim])
	t.Run("force", testAgainstReference[ForceDim])
	t.Run("pressure", testAgainstReference[PressureDim])
	t.Run("temperature difference", testAgainstReference[temperatureDifferenceDim])
	t.Run("rotational speed", testAgainstReference[rotationalSpeedDim])
	t.Run("dynamic viscosity", testAgainstReference[dynamicViscosityDim])
	t.Run("area", testAgainstReference[AreaDim])
	t.Run("volume", testAgainstReference[VolumeDim])
	t.Run("stiffness", testAgainstReference[stiffnessDim])
	t.Run("mass", testAgainstReference[MassDim])
	t.Run("volume flow", testAgainstReference[volumeFlowDim])
	t.Run("power", testAgainstReference[powerDim])
	t.Run("kinematic viscosity", testAgainstReference[kinematicViscosityDim])
	t.Run("density", testAgainstReference[densityDim])
	t.Run("pure number", testAgainstReference[RatioDim])
}

// The same properties, driven by the fuzzer: a length has a decimal grid, a
// pressure one that is not.

func FuzzLengthArithmetic(f *testing.F)   { f.Fuzz(rapid.MakeFuzz(checkQuantity[LengthDim])) }
func FuzzLengthPrinting(f *testing.F)     { f.Fuzz(rapid.MakeFuzz(checkPrinting[LengthDim])) }
func FuzzLengthText(f *testing.F)         { f.Fuzz(rapid.MakeFuzz(checkText[LengthDim])) }
func FuzzLengthIntervals(f *testing.F)    { f.Fuzz(rapid.MakeFuzz(checkInterval[LengthDim])) }
func FuzzLengthConversion(f *testing.F)   { f.Fuzz(rapid.MakeFuzz(checkConversion[LengthDim])) }
func FuzzPressureArithmetic(f *testing.F) { f.Fuzz(rapid.MakeFuzz(checkQuantity[PressureDim])) }
func FuzzPressureIntervals(f *testing.F)  { f.Fuzz(rapid.MakeFuzz(checkInterval[PressureDim])) }
func FuzzPressureConversion(f *testing.F) { f.Fuzz(rapid.MakeFuzz(checkConversion[PressureDim])) }

// TestPi computes the constant of the radian again, by Machin's formula:
// π = 16 arctan 1/5 - 4 arctan 1/239, in integers of 10⁻⁷⁰.
func TestPi(t *testing.T) {
	one := new(big.Int).Exp(big.NewInt(10), big.NewInt(70), nil)
	arctan := func(x int64) *big.Int {
		sum, term := new(big.Int), new(big.Int).Div(one, big.NewInt(x))
		for k := int64(1); term.Sign() != 0; k += 2 {
			part := new(big.Int).Div(term, big.NewInt(k))
			if k%4 == 1 {
				sum.Add(sum, part)
			} else {
				sum.Sub(sum, part)
			}
			term.Div(term, big.NewInt(x*x))
		}
		return sum
	}
	pi := new(big.Int).Sub(new(big.Int).Mul(arctan(5), big.NewInt(16)), new(big.Int).Mul(arctan(239), big.NewInt(4)))
	got := new(big.Rat).SetFrac(pi, one).FloatString(50)
	for _, constant := range []string{pi50, slowPi} {
		if got != constant {
			t.Errorf("π is %s, not %s", got, constant)
		}
	}
	if fmt.Sprintf("%.15f", math.Pi) != pi50[:17] {
		t.Error("not even that of package math")
	}
}
