package measure_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A value read with u = 1 µm at a distance δ from one limit. The chances are hand
// arithmetic with the normal distribution: y' is normal about δ with the standard
// deviation √(1 + (U'/2)²), and settles when |y'| >= U'.
func TestChanceOfAValue(t *testing.T) {
	in := measure.LengthInstrument{Name: "micrometer", Uncertainty: mm("0.002")}
	for _, c := range []struct {
		delta       string
		chance, u90 float64 // 0: not asked
	}{
		{"0", 0, 0.12591}, {"0.0005", 0.6660, 0.14265}, {"0.001", 0.5368, 0.20666}, {"0.0015", 0.5082, 0.36904},
	} {
		r := read(t, in, "size", "10")
		a := measure.Assess(r, units.AtMost(mm("10").Add(mm(c.delta))))
		if c.chance > 0 {
			got, ok := a.Chance(mm(c.delta))
			if !ok || math.Abs(got-c.chance) > 0.00006 {
				t.Errorf("δ = %s mm: chance %.5f, %v, want %.4f", c.delta, got, ok, c.chance)
			}
		}
		u, ok := a.Settling(measure.NineInTen)
		if got := u.Float64(units.Micrometre); !ok || math.Abs(got-c.u90) > 0.0002 {
			t.Errorf("δ = %s mm: U' = %.5f µm, %v, want %.5f", c.delta, got, ok, c.u90)
		}
	}
}

// A bracket of 0..1 mm with one limit in it, and half the narrower part as U'.
func TestChanceOfABracket(t *testing.T) {
	for _, c := range []struct {
		limit, half string
		chance, u90 float64
	}{{"0.1", "0.05", 0.9002, 0.05011}, {"0.3", "0.15", 0.7006, 0.05000}, {"0.5", "0.25", 0.5021, 0.05000}} {
		a := measure.Assess(measure.Given(span("0..1"), "a gap"), units.AtMost(mm(c.limit)))
		if got, ok := a.Chance(mm(c.half)); !ok || math.Abs(got-c.chance) > 0.00006 {
			t.Errorf("limit at %s: chance %.5f, %v, want %.4f", c.limit, got, ok, c.chance)
		}
		u, ok := a.Settling(measure.NineInTen)
		if got := u.Float64(units.Millimetre); !ok || math.Abs(got-c.u90) > 0.00006 {
			t.Errorf("limit at %s: U' = %.5f, %v, want %.5f", c.limit, got, ok, c.u90)
		}
	}
}

// The chance is one of what happens: sizes drawn as planned for, read again with U',
// settle about as often as it says (20,000 draws, four standard deviations).
func TestChanceIsWhatHappens(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 1))
	in := measure.LengthInstrument{Name: "micrometer", Uncertainty: mm("0.006")}
	limits := span("9.998..10.004")
	a := measure.Assess(read(t, in, "size", "10.003"), limits)
	const reach = 0.0015
	want, ok := a.Chance(mm("0.0015"))
	if !ok {
		t.Fatal("no chance")
	}
	settled := 0
	const draws = 20_000
	for range draws {
		y := 10.003 + 0.003*rnd.NormFloat64() + reach/2*rnd.NormFloat64()
		if y+reach < 9.998 || y-reach > 10.004 || y-reach >= 9.998 && y+reach <= 10.004 {
			settled++
		}
	}
	got := float64(settled) / draws
	if math.Abs(got-want) > 4*math.Sqrt(want*(1-want)/draws) {
		t.Errorf("settled %.4f, said %.4f", got, want)
	}
}

func TestNoChance(t *testing.T) {
	in := measure.LengthInstrument{Name: "micrometer", Uncertainty: mm("0.002")}
	for name, a := range map[string]measure.Assessment[units.LengthDim]{
		"proven":         measure.Assess(read(t, in, "size", "10"), span("9..11")),
		"not measured":   measure.Assess(measure.LengthReading{}, span("9..11")),
		"no limits":      measure.Assess(read(t, in, "size", "10"), units.LengthInterval{}),
		"no upper bound": measure.Assess(measure.Given(units.AtLeast(mm("10")), "a blade"), units.AtMost(mm("11"))),
	} {
		if c, ok := a.Chance(mm("0.001")); ok {
			t.Errorf("%s: chance %v", name, c)
		}
		if u, ok := a.Settling(measure.NineInTen); ok {
			t.Errorf("%s: %s would settle it", name, u)
		}
	}
}

// The chance of a quantity that cannot be negative is one of what happens: a new
// reading below zero is moved there, and one that contradicts itself settles nothing.
func TestChanceOfAPlay(t *testing.T) {
	dial := measure.LengthInstrument{Name: "dial", Uncertainty: mm("0.003")}
	r, err := dial.Travel("end play", mm("0"), mm("0.001"))
	if err != nil {
		t.Fatal(err)
	}
	a := measure.Assess(r, span("0..0.002"))
	rnd := rand.New(rand.NewPCG(5, 1))
	for _, reach := range []string{"0.0025", "0.0015", "0.0005"} {
		want, ok := a.Chance(mm(reach))
		if !ok {
			t.Fatal("no chance")
		}
		const draws = 4000
		settled := 0
		for range draws {
			again := measure.LengthInstrument{Name: "other", Uncertainty: mm(reach)}
			y, err := units.Micrometre.OfFloat64(1+1.5*rnd.NormFloat64()+mm(reach).Float64(units.Micrometre)/2*rnd.NormFloat64(), 3)
			if err != nil {
				t.Fatal(err)
			}
			r, err := again.Indicate("end play", y)
			if err != nil {
				t.Fatal(err)
			}
			if measure.Judge(r.NonNegative().Interval(), a.Tolerance) != measure.Undecided {
				settled++
			}
		}
		// Four standard deviations.
		if got := float64(settled) / draws; math.Abs(got-want) > 4*math.Sqrt(want*(1-want)/draws)+1e-9 {
			t.Errorf("U' = %s: settled %.4f, said %.4f", reach, got, want)
		}
	}
}

// A chance of nothing, of certainty or beyond is promised by no measurement.
func TestSettlingWithNoSuchChance(t *testing.T) {
	a := measure.Assess(measure.Given(span("0..1"), "a gap"), units.AtMost(mm("0.3")))
	for _, chance := range []float64{math.Inf(-1), -0.1, 0, 1, 1.1, math.NaN()} {
		if u, ok := a.Settling(chance); ok || !u.IsZero() {
			t.Errorf("with a chance of %v it is settled by %s", chance, u)
		}
	}
	if _, ok := a.Settling(1e-6); !ok {
		t.Error("a small chance is a chance")
	}
}

// A bracket has the chance that its parts have, on average: a tenth of a micrometre of it
// beside a u of a millimetre, a bracket of nothing, and one ten thousand times as wide as
// the reading's spread, each against the mean of a thousand values that lie in it.
func TestChanceOfABracketIsThatOfItsParts(t *testing.T) {
	normal := func(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }
	for _, c := range []struct{ lo, hi, expanded, limit, reach string }{
		{"10", "10.0000001", "2", "10.5", "0.4"}, {"10", "10.001", "0.002", "10.0015", "0.0008"}, {"10", "30", "0.002", "24", "0.3"}, {"10", "10.2", "0.1", "10.15", "0.06"},
	} {
		in := measure.LengthInstrument{Name: "micrometer", Uncertainty: mm(c.expanded)}
		s := sumOf([]measure.LengthReading{measure.Given(span(c.lo+".."+c.hi), "a gap"), read(t, in, "zero", "1")}, nil)
		got, ok := measure.Assess(s.Reading(), units.AtMost(mm(c.limit).Add(mm("1")))).Chance(mm(c.reach))
		lo, hi, limit, reach := mm(c.lo).Float64(units.Millimetre), mm(c.hi).Float64(units.Millimetre), mm(c.limit).Float64(units.Millimetre), mm(c.reach).Float64(units.Millimetre)
		sigma := math.Hypot(mm(c.expanded).Float64(units.Millimetre)/2, reach/2)
		want, parts := 0.0, 100_000
		for i := range parts {
			v := lo + (hi-lo)*(float64(i)+0.5)/float64(parts)
			want += (normal((limit-reach-v)/sigma) + normal((v-limit-reach)/sigma)) / float64(parts)
		}
		if !ok || math.Abs(got-want) > 1e-6 || got > 1 {
			t.Errorf("%s..%s mm, U = %s, limit %s, U' = %s: chance %.9f, %v, want %.9f", c.lo, c.hi, c.expanded, c.limit, c.reach, got, ok, want)
		}
	}
}

// A chance is never above one, however wide the limits and the bracket are.
func TestChanceIsAProbability(t *testing.T) {
	in := measure.LengthInstrument{Name: "micrometer", Uncertainty: mm("0.002")}
	for i := range int64(200) {
		s := sumOf([]measure.LengthReading{measure.Given(units.Between(mm("10"), mm("10").Add(units.Micrometre.OfInt(2+i))), "a gap"), read(t, in, "zero", "1")}, nil)
		a := measure.Assess(s.Reading(), units.AtLeast(mm("10.9995")))
		for _, reach := range []string{"0.0000001", "0.0001", "0.001"} {
			if c, ok := a.Chance(mm(reach)); !ok || c > 1 || c < 0 {
				t.Errorf("%d µm, U' = %s mm: %v, %v", 2+i, reach, c, ok)
			}
		}
	}
}

// An uncertainty is said in tenths of a nanometre, and none of zero is promised. At δ = 0 it is
// 0.12591 of u, as above: 0.126 nm for a value read with u = 1 nm, 0.006 nm for one with 0.05 nm.
func TestSettlingPromisesNoZero(t *testing.T) {
	settling := func(uncertainty string) (units.Length, bool) {
		in := measure.LengthInstrument{Name: "comparator", Uncertainty: mm(uncertainty)}
		return measure.Assess(read(t, in, "size", "10"), units.AtMost(mm("10"))).Settling(measure.NineInTen)
	}
	if u, ok := settling("0.000002"); !ok || !u.Equal(mm("0.0000001")) {
		t.Errorf("u = 1 nm: %s, %v", u.Exact(), ok)
	}
	if u, ok := settling("0.0000001"); ok {
		t.Errorf("u = 0.05 nm: %s", u.Exact())
	}
}
