package torque_test

import (
	"errors"
	"math"
	"math/big"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"example.com/closefit/fasteners"
	"example.com/closefit/torque"
	"example.com/closefit/units"
)

func TestParseCoefficient(t *testing.T) {
	tests := []struct{ text, lo, hi string }{
		{"0.12", "0.12", "0.12"}, {".12", "0.12", "0.12"}, {"0.10..0.16", "0.1", "0.16"}, {" 0.10 .. 0.16 ", "0.1", "0.16"},
		{"0.14 ±0.02", "0.12", "0.16"}, {"0.14+/-0.02", "0.12", "0.16"}, {"1", "1", "1"},
	}
	for _, test := range tests {
		got, err := torque.ParseCoefficient(test.text)
		if err != nil {
			t.Errorf("%q: %v", test.text, err)
			continue
		}
		want, err := torque.NewCoefficient(decimal.RequireFromString(test.lo), decimal.RequireFromString(test.hi))
		if err != nil || !got.Equal(want) {
			t.Errorf("%q is %v, want %v, %v", test.text, got, want, err)
		}
	}
}

// A coefficient above zero never reads as zero.
func TestSmallCoefficientsRead(t *testing.T) {
	for text, want := range map[string]string{
		"0.000000000001": "0.000000000001", "0.00005..0.12": "0.00005..0.12", "0.123449": "0.1234", "0.0012345": "0.0012", "1": "1",
	} {
		if got := torque.MustParseCoefficient(text).String(); got != want {
			t.Errorf("%s reads %s, want %s", text, got, want)
		}
	}
}

// A coefficient above 1 is a slip of the point, and the error says what to write; what it
// says is accepted.
func TestCoefficientAboveOne(t *testing.T) {
	for text, fix := range map[string]string{
		"12": `write "0.12"`, "1.2": `write "0.12"`, "120": `write "0.12"`, "14..16": `write "0.14..0.16"`, "0.10..16": `write "0.1..0.16"`,
		"8": `write "0.08"`, "20": `write "0.2"`, "5": `write "0.5" or "0.05"`, "12 ±2": `write "0.1..0.14"`,
		"0.9..1.1": `write it as a part of one, as in "0.12" or "0.10..0.16"`, "1.000001": `write "0.1000001"`,
	} {
		_, err := torque.ParseCoefficient(text)
		var got *torque.FrictionError
		if !errors.Is(err, torque.ErrAboveOne) || !errors.Is(err, torque.ErrFriction) || !errors.As(err, &got) || got.Fix != fix {
			t.Errorf("%s: %v, want %s", text, err, fix)
			continue
		}
		for i, advised := range strings.Split(got.Fix, `"`) {
			if _, err := torque.ParseCoefficient(advised); i%2 == 1 && err != nil {
				t.Errorf("%s: the advice %s is refused: %v", text, advised, err)
			}
		}
	}
	for _, text := range []string{"1", "0.04..1", "0.12", "0", "0.16..0.12"} {
		if _, err := torque.ParseCoefficient(text); errors.Is(err, torque.ErrAboveOne) {
			t.Errorf("%s: %v", text, err)
		}
	}
}

func TestFrictionErrors(t *testing.T) {
	parse := func(s string) error { _, err := torque.ParseCoefficient(s); return err }
	m10 := screwOf("M10", "13.5 mm")
	preload := func(f torque.Friction) error {
		_, err := m10.Preload(units.MustParseTorqueInterval("30 N·m"), f)
		return err
	}
	good := torque.MustParseCoefficient("0.12")
	_, noClass := torque.FrictionClass("E")
	_, leavesNone := m10.FrictionFromNutFactor(torque.MustParseCoefficient("0.02"))
	_, noFactor := torque.PreloadByNutFactor(units.MustParseTorqueInterval("30 N·m"), torque.Coefficient{}, units.MustParseLength("10 mm"))
	tests := []struct {
		name string
		err  error
		what string
	}{
		{"zero", parse("0"), "not above zero"},
		{"below zero", parse("-0.1"), "not above zero"},
		{"down to zero", parse("0.1 ±0.1"), "not above zero"},
		{"wrong way round", parse("0.16..0.10"), "lower bound above upper bound"},
		{"decimal comma", parse("0,12"), "a decimal comma"},
		{"word", parse("slippery"), "not a number"},
		{"empty", parse(""), "not a number"},
		{"long", parse("0.1000000000000000000000000000000000000000000000000000000000000000000000000000"), "too long"},
		{"none in the thread", preload(torque.Friction{Bearing: good}), "missing"},
		{"none under the head", preload(torque.Friction{Thread: good}), "missing"},
		{"no nut factor", noFactor, "missing"},
		{"no class", noClass, "no friction class of VDI 2230"},
		{"nut factor too small", leavesNone, "a nut factor that leaves no friction"},
	}
	for _, test := range tests {
		var got *torque.FrictionError
		if !errors.Is(test.err, torque.ErrFriction) || !errors.As(test.err, &got) {
			t.Errorf("%s: error %v, want a FrictionError", test.name, test.err)
			continue
		}
		if got.What != test.what {
			t.Errorf("%s: what %q, want %q", test.name, got.What, test.what)
		}
	}
}

func screwOf(thread, bearing string) torque.Screw {
	return torque.Screw{Thread: fasteners.MustParseThread(thread), Bearing: units.MustParseLength(bearing)}
}

// Torque by hand for M12, Db = 15 mm, μth = 0.12, μb = 0.10, F = 40 kN: P/(2π) = 0.278521,
// 0.577·10.86334·0.12 = 0.752178, 0.5·15·0.10 = 0.75; the sum 1.780699 mm gives 71.228 N·m.
func TestTorqueByHand(t *testing.T) {
	f := torque.Friction{Thread: torque.MustParseCoefficient("0.12"), Bearing: torque.MustParseCoefficient("0.10")}
	got, err := screwOf("M12", "15 mm").Torque(units.MustParseForceInterval("40 kN"), f)
	if err != nil {
		t.Fatal(err)
	}
	if s := got.Lo().Format(units.NewtonMetre, 3, units.HalfEven); !got.IsPoint() || s != "71.228 N·m" {
		t.Errorf("torque %v, want 71.228 N·m", got)
	}
	// Without the head's 0.75 mm, the shank is twisted by 1.030699 mm · 40 kN.
	twist, err := screwOf("M12", "15 mm").Twist(units.MustParseForceInterval("40 kN"), f.Thread)
	if err != nil {
		t.Fatal(err)
	}
	if s := twist.Hi().Format(units.NewtonMetre, 3, units.HalfEven); s != "41.228 N·m" {
		t.Errorf("twist %s, want 41.228 N·m", s)
	}
}

// A waist by hand: M12, 940 MPa, μth = 0.12, a waist of 8.5 mm: A0 = 56.745 mm², slope
// 1.75/(π·10.86334) + 1.155·0.12 = 0.051277 + 0.1386 = 0.189877, 3/2·10.86334/8.5·0.189877 =
// 0.364004, √(1 + 3·0.132499) = 1.182162; 940·56.745/1.182162 = 45121 N.
func TestWaistYieldsFirst(t *testing.T) {
	s := screwOf("M12", "15 mm")
	friction := torque.MustParseCoefficient("0.12")
	at := func(section torque.Section) units.Force {
		f, err := s.YieldPreload(units.MustParsePressureInterval("940 MPa"), decimal.New(1, 0), section, friction)
		if err != nil {
			t.Fatal(err)
		}
		return f.Lo()
	}
	waist := at(torque.WaistSection(units.MustParseLength("8.5 mm")))
	if got := waist.Format(units.Newton, 0, units.HalfEven); got != "45121 N" {
		t.Errorf("yields at %s, want 45121 N", got)
	}
	if thread := at(s.ThreadSection()); !waist.Less(thread) {
		t.Errorf("the waist yields at %v, the thread already at %v", waist, thread)
	}
}

// Errors say what was found and what to write instead.
func TestPhysicsErrorsReadWell(t *testing.T) {
	_, friction := torque.ParseCoefficient("0,12")
	_, screw := torque.Screw{}.Shares(torque.Friction{})
	_, swing := torque.Swings(units.MustParseAngle("90°"), units.MustParseAngle("20°"), units.MustParseAngle("30°"))
	_, method := torque.FactorOfScatter(decimal.New(23, 0))
	tests := []struct {
		err  error
		want string
	}{
		{friction, `friction "0,12": a decimal comma; write "0.12", "0.10..0.16" or "0.14 ±0.02"`},
		{screw, `screw without a thread: not a possible screw or pull; give it one, as in fasteners.MustParseThread("M10")`},
		{swing, `a swing of 20 ° in steps of 30 °: not a possible swing; take a swing of at least one step, or finer steps`},
		{method, `scatter 23: no such method or scatter; write a part of one, as in 0.23 for ±23 %`},
	}
	for _, test := range tests {
		if test.err == nil || test.err.Error() != test.want {
			t.Errorf("got  %v\nwant %s", test.err, test.want)
		}
	}
}

// An inch thread's promise is told in its own units.
func TestPromiseInInches(t *testing.T) {
	p, err := screwOf("7/16-20 UNF", "0.57 in").Promise(units.MustParseTorqueInterval("45..55 lbf·ft"), torque.EqualFriction(torque.MustParseCoefficient("0.12")))
	if err != nil {
		t.Fatal(err)
	}
	text := p.Working(units.PoundForceFoot, units.PoundForce, 0).Text()
	for _, want := range []string{"what 45.0..55.0 lbf·ft promises on 7/16-20 UNF", "P = 0.0500 in, d2 = 0.4050 in, Db = 0.5700 in", " lbf\n"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
}

// M12's face, 16.63 mm outside and 13.5 mm inside, has the mean diameter 15.065 mm.
func TestHexScrew(t *testing.T) {
	s, err := torque.HexScrew(fasteners.MustParseThread("M12x1.25"))
	if err != nil || !s.Bearing.Equal(units.MustParseLength("15.065 mm")) || s.Thread.String() != "M12x1.25" {
		t.Errorf("%v on %v, %v; want M12x1.25 on 15.065 mm", s.Thread, s.Bearing, err)
	}
}

// The linear equation lies below the full one of ISO 16047,
//
//	T = F ( 1/2 (P + 1.154 π μth d2)/(π - 1.154 μth P/d2) + Db μb/2 )
//
// by less than 1 % for coarse threads and friction up to 0.2.
func TestLinearEquationAgainstFull(t *testing.T) {
	for _, thread := range []string{"M4", "M6", "M10", "M14", "M24", "M39", "1/4-20", "1/2-13", "1-8"} {
		for _, mu := range []string{"0.04", "0.08", "0.12", "0.16", "0.20"} {
			s := torque.Screw{Thread: fasteners.MustParseThread(thread)}
			s.Bearing = s.Thread.Major().Mul(decimal.New(13, -1))
			got, err := s.Torque(units.MustParseForceInterval("1 kN"), torque.EqualFriction(torque.MustParseCoefficient(mu)))
			if err != nil {
				t.Fatal(err)
			}
			f := decimal.RequireFromString(mu).InexactFloat64()
			p, d2 := s.Thread.Pitch().Float64(units.Millimetre), s.Thread.PitchDiameter().Float64(units.Millimetre)
			full := (p+1.154*math.Pi*f*d2)/(math.Pi-1.154*f*p/d2)/2 + s.Bearing.Float64(units.Millimetre)*f/2
			if off := 1 - got.Lo().Float64(units.NewtonMetre)/full; off < 0 || off > 0.01 {
				t.Errorf("%s, friction %s: %.3f %% below", thread, mu, 100*off)
			}
		}
	}
}

// anyScrew draws a screw whose bearing face is wider than its thread.
func anyScrew() *rapid.Generator[torque.Screw] {
	return rapid.Custom(func(t *rapid.T) torque.Screw {
		thread := fasteners.MustParseThread(rapid.SampledFrom([]string{"M6", "M8x1", "M11", "M20x1.5", "#10-32", "7/16-20", "1-8"}).Draw(t, "thread"))
		wider := rapid.Int64Range(1, 1000).Draw(t, "bearing")
		return torque.Screw{Thread: thread, Bearing: thread.Major().MulRat(big.NewRat(1000+wider, 1000))}
	})
}

// anyCoefficient draws a coefficient of friction.
func anyCoefficient(name string) *rapid.Generator[torque.Coefficient] {
	return rapid.Custom(func(t *rapid.T) torque.Coefficient {
		lo := rapid.Int64Range(1, 500).Draw(t, name+" in thousandths")
		hi := rapid.Int64Range(lo, 600).Draw(t, name+" hi")
		c, err := torque.NewCoefficient(decimal.New(lo, -3), decimal.New(hi, -3))
		if err != nil {
			t.Fatal(err)
		}
		return c
	})
}

// exactly narrows a coefficient to its lower bound.
func exactly(t *rapid.T, c torque.Coefficient) torque.Coefficient {
	thousandths := new(big.Rat).Mul(c.Lo(), big.NewRat(1000, 1)).Num().Int64()
	point, err := torque.NewCoefficient(decimal.New(thousandths, -3), decimal.New(thousandths, -3))
	if err != nil {
		t.Fatal(err)
	}
	return point
}

func TestTorqueOfPreloadOfTorque(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyScrew().Draw(t, "screw")
		f := torque.Friction{Thread: anyCoefficient("thread").Draw(t, "thread"), Bearing: anyCoefficient("bearing").Draw(t, "bearing")}
		want := units.Exactly(units.NewtonMetre.Of(decimal.New(rapid.Int64Range(0, 1_000_000).Draw(t, "torque"), -3)))

		preload, err := s.Preload(want, f)
		if err != nil {
			t.Fatal(err)
		}
		wide, err := s.Torque(preload, f)
		if err != nil {
			t.Fatal(err)
		}
		if !want.Within(wide) {
			t.Fatalf("%v gives %v, which takes %v", want, preload, wide)
		}

		f = torque.Friction{Thread: exactly(t, f.Thread), Bearing: exactly(t, f.Bearing)}
		preload, err = s.Preload(want, f)
		if err != nil {
			t.Fatal(err)
		}
		back, err := s.Torque(preload, f)
		if err != nil {
			t.Fatal(err)
		}
		if !back.Equal(want) {
			t.Fatalf("%v gives %v, which takes %v", want, preload, back)
		}

		factor, err := s.NutFactor(f)
		if err != nil {
			t.Fatal(err)
		}
		short, err := torque.PreloadByNutFactor(want, factor, s.Thread.Major())
		if err != nil {
			t.Fatal(err)
		}
		if !short.Equal(preload) {
			t.Fatalf("by friction %v, by its nut factor %v", preload, short)
		}
	})
}

// Preload rises with torque, and falls with friction in either place.
func TestPreloadIsMonotonic(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyScrew().Draw(t, "screw")
		at := func(nm, thread, bearing int64) units.Force {
			c := func(n int64) torque.Coefficient {
				c, err := torque.NewCoefficient(decimal.New(n, -3), decimal.New(n, -3))
				if err != nil {
					t.Fatal(err)
				}
				return c
			}
			p, err := s.Preload(units.Exactly(units.NewtonMetre.OfInt(nm)), torque.Friction{Thread: c(thread), Bearing: c(bearing)})
			if err != nil {
				t.Fatal(err)
			}
			return p.Lo()
		}
		nm := rapid.Int64Range(1, 500).Draw(t, "torque")
		thread := rapid.Int64Range(1, 400).Draw(t, "thread")
		bearing := rapid.Int64Range(1, 400).Draw(t, "bearing")
		here := at(nm, thread, bearing)
		if !here.Less(at(nm+1, thread, bearing)) {
			t.Fatal("more torque gives no more preload")
		}
		if !at(nm, thread+1, bearing).Less(here) {
			t.Fatal("more friction in the thread gives no less preload")
		}
		if !at(nm, thread, bearing+1).Less(here) {
			t.Fatal("more friction under the head gives no less preload")
		}
	})
}

func TestSharesAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shares, err := anyScrew().Draw(t, "screw").Shares(torque.Friction{
			Thread: anyCoefficient("thread").Draw(t, "thread"), Bearing: anyCoefficient("bearing").Draw(t, "bearing")})
		if err != nil {
			t.Fatal(err)
		}
		whole := new(big.Rat).Add(shares.Stretch, shares.Thread)
		if whole.Add(whole, shares.Bearing).Cmp(big.NewRat(1, 1)) != 0 {
			t.Fatalf("shares %v add up to %v", shares, whole)
		}
	})
}

// A nut factor and the friction it stands for are inverse.
func TestFrictionFromNutFactor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyScrew().Draw(t, "screw")
		want := anyCoefficient("friction").Draw(t, "friction")
		k, err := s.NutFactor(torque.EqualFriction(want))
		if err != nil {
			t.Fatal(err)
		}
		got, err := s.FrictionFromNutFactor(k)
		if err != nil {
			t.Fatal(err)
		}
		if !got.Equal(want) {
			t.Fatalf("%v has the nut factor %v, which stands for %v", want, k, got)
		}
	})
}

func TestScrewErrors(t *testing.T) {
	f := torque.EqualFriction(torque.MustParseCoefficient("0.12"))
	ok := screwOf("M10", "13.5 mm")
	yield := func(s torque.Screw, strength, share string, section torque.Section) error {
		_, err := s.YieldPreload(units.MustParsePressureInterval(strength), decimal.RequireFromString(share), section, f.Thread)
		return err
	}
	toTorque := func(s torque.Screw, preload string) error {
		_, err := s.Torque(units.MustParseForceInterval(preload), f)
		return err
	}
	toPreload := func(s torque.Screw, nm string) error {
		_, err := s.Preload(units.MustParseTorqueInterval(nm), f)
		return err
	}
	hex := func(thread string) error {
		_, err := torque.HexScrew(fasteners.MustParseThread(thread))
		return err
	}
	_, diameter := torque.TorqueByNutFactor(units.MustParseForceInterval("1 kN"), f.Thread, units.Length{})
	tests := []struct {
		name string
		err  error
		what string
	}{
		{"no thread", toPreload(torque.Screw{}, "30 N·m"), "screw"},
		{"no bearing face", toPreload(torque.Screw{Thread: ok.Thread}, "30 N·m"), "bearing diameter"},
		{"face inside the thread", toPreload(screwOf("M10", "9 mm"), "30 N·m"), "bearing diameter"},
		{"negative torque", toPreload(ok, "-1..30 N·m"), "torque"},
		{"half a torque", toPreload(ok, "<= 30 N·m"), "torque"},
		{"negative preload", toTorque(ok, "-2 kN"), "preload"},
		{"no strength", yield(ok, "0 MPa", "1", ok.ThreadSection()), "yield strength"},
		{"half a strength", yield(ok, ">= 940 MPa", "1", ok.ThreadSection()), "yield strength"},
		{"no share", yield(ok, "940 MPa", "0", ok.ThreadSection()), "share of the yield strength"},
		{"no section", yield(ok, "940 MPa", "1", torque.Section{}), "diameter of the section"},
		{"no diameter", diameter, "diameter"},
		{"no such head", hex("M11"), "hexagon head for"},
		{"no round size", hex("M3.5"), "hexagon head for"},
		{"no metric head", hex("3/8-24"), "hexagon head for"},
	}
	for _, test := range tests {
		var got *torque.ScrewError
		if !errors.Is(test.err, torque.ErrScrew) || !errors.As(test.err, &got) {
			t.Errorf("%s: error %v, want a ScrewError", test.name, test.err)
			continue
		}
		if got.What != test.what {
			t.Errorf("%s: what %q, want %q", test.name, got.What, test.what)
		}
	}
}

func TestMethodErrors(t *testing.T) {
	_, unknown := torque.MethodByKey("guess")
	_, scatter := torque.FactorOfScatter(decimal.New(1, 0))
	_, negative := torque.FactorOfScatter(decimal.New(-1, -1))
	_, factor := torque.Factor(units.MustParseForceInterval("0..5 kN"))
	_, around := torque.Scatter(units.MustParseForceInterval("-1..5 kN"))
	_, _, few := torque.MeanAndDeviation([]units.Force{units.MustParseForce("30 kN")})
	for name, err := range map[string]error{"unknown": unknown, "all of it": scatter, "negative": negative, "loose": factor, "pushed": around, "one": few} {
		if !errors.Is(err, torque.ErrMethod) {
			t.Errorf("%s: error %v, want ErrMethod", name, err)
		}
	}
}

// Factor and Scatter say the same in two ways: αA = (1+t)/(1-t).
func TestFactorAndScatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lo := rapid.Int64Range(1, 100_000).Draw(t, "lo")
		hi := rapid.Int64Range(lo, 200_000).Draw(t, "hi")
		preload := units.MustInterval(units.Newton.OfInt(lo), units.Newton.OfInt(hi))
		factor, err := torque.Factor(preload)
		if err != nil {
			t.Fatal(err)
		}
		scatter, err := torque.Scatter(preload)
		if err != nil {
			t.Fatal(err)
		}
		one := big.NewRat(1, 1)
		want := new(big.Rat).Quo(new(big.Rat).Add(one, scatter), new(big.Rat).Sub(one, scatter))
		if factor.Cmp(want) != 0 {
			t.Fatalf("factor %v, scatter %v", factor, scatter)
		}
	})
}

func FuzzParseCoefficient(f *testing.F) {
	for _, s := range []string{"0.12", ".12", "0.10..0.16", "0.14 ±0.02", "0.1 +/- 0.05", "-1", "0,1", "1e9", "12", "0.1..16"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		c, err := torque.ParseCoefficient(s)
		if err != nil {
			if !errors.Is(err, torque.ErrFriction) {
				t.Fatalf("%q: error %v is no FrictionError", s, err)
			}
			return
		}
		if c.Lo().Sign() <= 0 || c.Hi().Cmp(c.Lo()) < 0 || c.Hi().Cmp(big.NewRat(1, 1)) > 0 {
			t.Fatalf("%q is %v", s, c)
		}
	})
}
