package preload_test

import (
	"errors"
	"math"
	"math/big"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"example.com/closefit/fasteners"
	"example.com/closefit/torque/preload"
	"example.com/closefit/units"
)

func TestParseFriction(t *testing.T) {
	tests := []struct{ text, lo, hi string }{
		{"0.12", "0.12", "0.12"}, {".12", "0.12", "0.12"}, {"0.10..0.16", "0.1", "0.16"}, {" 0.10 .. 0.16 ", "0.1", "0.16"},
		{"0.14 ±0.02", "0.12", "0.16"}, {"0.14+/-0.02", "0.12", "0.16"}, {"1", "1", "1"},
	}
	for _, test := range tests {
		got, err := preload.ParseFriction(test.text)
		if err != nil {
			t.Errorf("%q: %v", test.text, err)
			continue
		}
		if want := units.MustInterval(units.MustParseRatio(test.lo), units.MustParseRatio(test.hi)); !got.Equal(want) {
			t.Errorf("%q is %v, want %v", test.text, got, want)
		}
	}
}

// friction reads a coefficient that is one.
func friction(s string) units.RatioInterval {
	c, err := preload.ParseFriction(s)
	if err != nil {
		panic(err)
	}
	return c
}

// A coefficient above 1 is a slip of the point, and the error says what to write; what it
// says is accepted.
func TestFrictionAboveOne(t *testing.T) {
	for text, fix := range map[string]string{
		"12": `write "0.12"`, "1.2": `write "0.12"`, "120": `write "0.12"`, "14..16": `write "0.14..0.16"`, "0.10..16": `write "0.1..0.16"`,
		"8": `write "0.08"`, "20": `write "0.2"`, "5": `write "0.5" or "0.05"`, "12 ±2": `write "0.1..0.14"`,
		"0.9..1.1": `write it as a part of one, as in "0.12" or "0.10..0.16"`, "1.000001": `write "0.1000001"`,
	} {
		_, err := preload.ParseFriction(text)
		var got *units.Error
		if !errors.Is(err, preload.ErrAboveOne) || !errors.Is(err, preload.ErrImpossible) || !errors.As(err, &got) || got.Fix != fix {
			t.Errorf("%s: %v, want %s", text, err, fix)
			continue
		}
		for i, advised := range strings.Split(got.Fix, `"`) {
			if _, err := preload.ParseFriction(advised); i%2 == 1 && err != nil {
				t.Errorf("%s: the advice %s is refused: %v", text, advised, err)
			}
		}
	}
	for _, text := range []string{"1", "0.04..1", "0.12", "0", "0.16..0.12"} {
		if _, err := preload.ParseFriction(text); errors.Is(err, preload.ErrAboveOne) {
			t.Errorf("%s: %v", text, err)
		}
	}
}

func TestFrictionErrors(t *testing.T) {
	parse := func(s string) error { _, err := preload.ParseFriction(s); return err }
	m10 := screwOf("M10", "13.5 mm")
	given := func(f preload.Friction) error {
		_, err := m10.Preload(units.MustParse[units.TorqueInterval]("30 N·m"), f)
		return err
	}
	good := friction("0.12")
	_, noClass := preload.FrictionClass("E")
	_, leavesNone := m10.FrictionFromNutFactor(friction("0.02"))
	_, noFactor := preload.TorqueByNutFactor(units.MustParse[units.ForceInterval]("30 kN"), units.RatioInterval{}, units.MustParseLength("10 mm"))
	_, noSurface := preload.NutFactorOf("polished")
	tests := []struct {
		name  string
		err   error
		kind  error
		where string
		found string
	}{
		{"zero", parse("0"), preload.ErrImpossible, "friction", "0, not above zero"},
		{"below zero", parse("-0.1"), preload.ErrImpossible, "friction", "-0.1, not above zero"},
		{"down to zero", parse("0.1 ±0.1"), preload.ErrImpossible, "friction", "0..0.2, not above zero"},
		{"half a range", parse(">= 0.1"), preload.ErrImpossible, "friction", ">= 0.1"},
		{"none in the thread", given(preload.Friction{Bearing: good}), preload.ErrImpossible, "friction in the thread", "none"},
		{"none under the head", given(preload.Friction{Thread: good}), preload.ErrImpossible, "friction under the head", "none"},
		{"above 1 under the head", given(preload.Friction{Thread: good, Bearing: units.MustParse[units.RatioInterval]("12")}), preload.ErrAboveOne, "friction under the head", "12"},
		{"no nut factor", noFactor, preload.ErrImpossible, "nut factor", "none"},
		{"no class", noClass, preload.ErrImpossible, "friction class of VDI 2230", `"E"`},
		{"no surface", noSurface, preload.ErrImpossible, "surface", `"polished"`},
		{"nut factor too small", leavesNone, preload.ErrImpossible, "nut factor", "0.02, which leaves no friction"},
	}
	for _, test := range tests {
		var got *units.Error
		if !errors.Is(test.err, test.kind) || !errors.As(test.err, &got) {
			t.Errorf("%s: error %v, want the kind %v", test.name, test.err, test.kind)
			continue
		}
		if got.Where != test.where || got.Found != test.found || got.Fix == "" {
			t.Errorf("%s: %+v, want %q of %q", test.name, got, test.found, test.where)
		}
	}
	for text, want := range map[string]error{"0,12": units.ErrSyntax, "slippery": units.ErrSyntax, "": units.ErrSyntax, "0.16..0.10": units.ErrOrder, "0.12 mm": units.ErrWrongDimension} {
		if err := parse(text); !errors.Is(err, want) {
			t.Errorf("%q: %v, want %v", text, err, want)
		}
	}
}

func screwOf(thread, bearing string) preload.Screw {
	return preload.Screw{Thread: fasteners.MustParseThread(thread), Bearing: units.MustParseLength(bearing)}
}

// Torque by hand for M12, Db = 15 mm, μth = 0.12, μb = 0.10, F = 40 kN: P/(2π) = 0.278521,
// 0.577·10.86334·0.12 = 0.752178, 0.5·15·0.10 = 0.75; the sum 1.780699 mm gives 71.228 N·m.
func TestTorqueByHand(t *testing.T) {
	f := preload.Friction{Thread: friction("0.12"), Bearing: friction("0.10")}
	got, err := screwOf("M12", "15 mm").Torque(units.MustParse[units.ForceInterval]("40 kN"), f)
	if err != nil {
		t.Fatal(err)
	}
	if s := got.Lo().Format(units.NewtonMetre, 3, units.HalfEven); s != "71.228 N·m" || units.NewtonMetre.Of(decimal.New(1, -9)).Less(got.Width()) {
		t.Errorf("torque %v, want 71.228 N·m", got)
	}
}

// A waist by hand: M12, 940 MPa, μth = 0.12, a waist of 8.5 mm: A0 = 56.745 mm², slope
// 1.75/(π·10.86334) + 1.155·0.12 = 0.051277 + 0.1386 = 0.189877, 3/2·10.86334/8.5·0.189877 =
// 0.364004, √(1 + 3·0.132499) = 1.182162; 940·56.745/1.182162 = 45121 N.
func TestWaistYieldsFirst(t *testing.T) {
	s := screwOf("M12", "15 mm")
	friction := friction("0.12")
	at := func(section units.Length) units.Force {
		f, err := s.YieldPreload(units.MustParse[units.PressureInterval]("940 MPa"), units.MustParseRatio("1"), section, friction)
		if err != nil {
			t.Fatal(err)
		}
		return f.Lo()
	}
	waist := at(units.MustParseLength("8.5 mm"))
	if got := waist.Format(units.Newton, 0, units.HalfEven); got != "45121 N" {
		t.Errorf("yields at %s, want 45121 N", got)
	}
	if thread := at(units.Length{}); !waist.Less(thread) {
		t.Errorf("the waist yields at %v, the thread already at %v", waist, thread)
	}
}

// Errors say what was found and what to write instead.
func TestPhysicsErrorsReadWell(t *testing.T) {
	_, friction := preload.ParseFriction("12")
	_, screw := preload.Screw{}.Promise(units.TorqueInterval{}, preload.Friction{})
	_, swing := preload.Swings(units.MustParseAngle("90°"), units.MustParseAngle("20°"), units.MustParseAngle("30°"))
	_, method := preload.FactorOfScatter(units.MustParseRatio("23"))
	tests := []struct {
		err  error
		want string
	}{
		{friction, `friction: not possible: friction above 1: 12; write "0.12"`},
		{screw, `screw: not possible: no thread; give it one, as in fasteners.MustParseThread("M10")`},
		{swing, `swing: not possible: 20 ° in steps of 30 °; take a swing of at least one step, or finer steps`},
		{method, `scatter: not possible: 23; write a part of one, as in 0.23 for ±23 %`},
	}
	for _, test := range tests {
		if test.err == nil || test.err.Error() != test.want {
			t.Errorf("got  %v\nwant %s", test.err, test.want)
		}
	}
}

// An inch thread's promise is told in its own units.
func TestPromiseInInches(t *testing.T) {
	p, err := screwOf("7/16-20 UNF", "0.57 in").Promise(units.MustParse[units.TorqueInterval]("45..55 lbf·ft"), preload.EqualFriction(friction("0.12")))
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
	s, err := preload.HexScrew(fasteners.MustParseThread("M12x1.25"))
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
			s := preload.Screw{Thread: fasteners.MustParseThread(thread)}
			s.Bearing = s.Thread.Major().Mul(decimal.New(13, -1))
			got, err := s.Torque(units.MustParse[units.ForceInterval]("1 kN"), preload.EqualFriction(friction(mu)))
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
func anyScrew() *rapid.Generator[preload.Screw] {
	return rapid.Custom(func(t *rapid.T) preload.Screw {
		thread := fasteners.MustParseThread(rapid.SampledFrom([]string{"M6", "M8x1", "M11", "M20x1.5", "#10-32", "7/16-20", "1-8"}).Draw(t, "thread"))
		wider := rapid.Int64Range(1, 1000).Draw(t, "bearing")
		return preload.Screw{Thread: thread, Bearing: thread.Major().MulRat(big.NewRat(1000+wider, 1000))}
	})
}

// anyCoefficient draws a coefficient of friction.
func anyCoefficient(name string) *rapid.Generator[units.RatioInterval] {
	return rapid.Custom(func(t *rapid.T) units.RatioInterval {
		lo := rapid.Int64Range(1, 500).Draw(t, name+" in thousandths")
		hi := rapid.Int64Range(lo, 600).Draw(t, name+" hi")
		return units.MustInterval(thousandths(lo), thousandths(hi))
	})
}

func thousandths(n int64) units.Ratio { return units.One.Of(decimal.New(n, -3)) }

func TestTorqueOfPreloadOfTorque(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyScrew().Draw(t, "screw")
		f := preload.Friction{Thread: anyCoefficient("thread").Draw(t, "thread"), Bearing: anyCoefficient("bearing").Draw(t, "bearing")}
		want := units.Exactly(units.NewtonMetre.Of(decimal.New(rapid.Int64Range(0, 1_000_000).Draw(t, "torque"), -3)))

		force, err := s.Preload(want, f)
		if err != nil {
			t.Fatal(err)
		}
		wide, err := s.Torque(force, f)
		if err != nil {
			t.Fatal(err)
		}
		if !want.Within(wide) {
			t.Fatalf("%v gives %v, which takes %v", want, force, wide)
		}

		// With one friction, the way there and back comes out where it began, but for what is
		// rounded: 1 µN on a lever of 30 mm at the most, and 1 nN·m twice.
		f = preload.Friction{Thread: units.Exactly(f.Thread.Lo()), Bearing: units.Exactly(f.Bearing.Lo())}
		force, err = s.Preload(want, f)
		if err != nil {
			t.Fatal(err)
		}
		back, err := s.Torque(force, f)
		if err != nil {
			t.Fatal(err)
		}
		if !want.Within(back) || units.MustParseTorque("0.0000001 N·m").Less(back.Width()) {
			t.Fatalf("%v gives %v, which takes %v", want, force, back)
		}

		// The short equation with the screw's nut factor takes the same torque.
		factor, err := s.NutFactor(f)
		if err != nil {
			t.Fatal(err)
		}
		if units.One.OfInt(1).Less(factor.Hi()) {
			return
		}
		short, err := preload.TorqueByNutFactor(force, factor, s.Thread.Major())
		if err != nil {
			t.Fatal(err)
		}
		if !want.Within(short) || units.MustParseTorque("0.0001 N·m").Less(short.Width()) {
			t.Fatalf("by friction %v, by its nut factor %v", back, short)
		}
	})
}

// Preload rises with torque, and falls with friction in either place.
func TestPreloadIsMonotonic(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyScrew().Draw(t, "screw")
		at := func(nm, thread, bearing int64) units.Force {
			c := func(n int64) units.RatioInterval { return units.Exactly(thousandths(n)) }
			p, err := s.Preload(units.Exactly(units.NewtonMetre.OfInt(nm)), preload.Friction{Thread: c(thread), Bearing: c(bearing)})
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
		f := preload.Friction{Thread: anyCoefficient("thread").Draw(t, "thread"), Bearing: anyCoefficient("bearing").Draw(t, "bearing")}
		s := anyScrew().Draw(t, "screw")
		p, err := s.Promise(units.MustParse[units.TorqueInterval]("30 N·m"), f)
		if err != nil {
			t.Fatal(err)
		}
		if whole := units.Sum(p.Stretch, p.Thread, p.Bearing); !whole.Equal(units.One.OfInt(1)) {
			t.Fatalf("%+v add up to %v", p, whole)
		}
		// Of each newton metre the thread's friction takes 0.577 d2 μ of the lever.
		mid := preload.Friction{Thread: units.Exactly(f.Thread.Mid()), Bearing: units.Exactly(f.Bearing.Mid())}
		whole, err := s.Torque(units.MustParse[units.ForceInterval]("1 kN"), mid)
		if err != nil {
			t.Fatal(err)
		}
		rubs := 0.577 * s.Thread.PitchDiameter().Float64(units.Millimetre) * f.Thread.Mid().Float64(units.One) / whole.Lo().Float64(units.NewtonMetre)
		if got := p.Thread.Float64(units.One); math.Abs(got-rubs) > 1e-8 {
			t.Fatalf("%g rubs in the thread, want %g", got, rubs)
		}
	})
}

// A nut factor and the friction it stands for are inverse.
func TestFrictionFromNutFactor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyScrew().Draw(t, "screw")
		want := anyCoefficient("friction").Draw(t, "friction")
		k, err := s.NutFactor(preload.EqualFriction(want))
		if err != nil {
			t.Fatal(err)
		}
		if units.One.OfInt(1).Less(k.Hi()) {
			return
		}
		got, err := s.FrictionFromNutFactor(k)
		if err != nil {
			t.Fatal(err)
		}
		if !want.Within(got) || units.MustParseRatio("1e-11").Less(got.Width().Sub(want.Width())) {
			t.Fatalf("%v has the nut factor %v, which stands for %v", want, k, got)
		}
	})
}

func TestScrewErrors(t *testing.T) {
	f := preload.EqualFriction(friction("0.12"))
	ok := screwOf("M10", "13.5 mm")
	yield := func(s preload.Screw, strength, share string, section units.Length) error {
		_, err := s.YieldPreload(units.MustParse[units.PressureInterval](strength), units.MustParseRatio(share), section, f.Thread)
		return err
	}
	toTorque := func(s preload.Screw, preload string) error {
		_, err := s.Torque(units.MustParse[units.ForceInterval](preload), f)
		return err
	}
	toPreload := func(s preload.Screw, nm string) error {
		_, err := s.Preload(units.MustParse[units.TorqueInterval](nm), f)
		return err
	}
	hex := func(thread string) error {
		_, err := preload.HexScrew(fasteners.MustParseThread(thread))
		return err
	}
	_, diameter := preload.TorqueByNutFactor(units.MustParse[units.ForceInterval]("1 kN"), f.Thread, units.Length{})
	tests := []struct {
		name string
		err  error
		what string
	}{
		{"no thread", toPreload(preload.Screw{}, "30 N·m"), "screw"},
		{"no bearing face", toPreload(preload.Screw{Thread: ok.Thread}, "30 N·m"), "bearing diameter"},
		{"face inside the thread", toPreload(screwOf("M10", "9 mm"), "30 N·m"), "bearing diameter"},
		{"negative torque", toPreload(ok, "-1..30 N·m"), "torque"},
		{"half a torque", toPreload(ok, "<= 30 N·m"), "torque"},
		{"negative preload", toTorque(ok, "-2 kN"), "preload"},
		{"no strength", yield(ok, "0 MPa", "1", units.Length{}), "yield strength"},
		{"half a strength", yield(ok, ">= 940 MPa", "1", units.Length{}), "yield strength"},
		{"no share", yield(ok, "940 MPa", "0", units.Length{}), "share of the yield strength"},
		{"section below zero", yield(ok, "940 MPa", "1", units.MustParseLength("-8 mm")), "diameter of the section"},
		{"no diameter", diameter, "diameter"},
		{"no such head", hex("M11"), "hexagon head for M11"},
		{"no round size", hex("M3.5"), "hexagon head for M3.5"},
		{"no metric head", hex("3/8-24"), "hexagon head for " + fasteners.MustParseThread("3/8-24").String()},
	}
	for _, test := range tests {
		var got *units.Error
		if !errors.Is(test.err, preload.ErrImpossible) || !errors.As(test.err, &got) {
			t.Errorf("%s: error %v, want ErrImpossible", test.name, test.err)
			continue
		}
		if got.Where != test.what || got.Fix == "" {
			t.Errorf("%s: %v, want it of %q", test.name, got, test.what)
		}
	}
}

func TestMethodErrors(t *testing.T) {
	_, all := preload.FactorOfScatter(units.MustParseRatio("1"))
	_, negative := preload.FactorOfScatter(units.MustParseRatio("-0.1"))
	_, loose := preload.Factor(units.MustParse[units.ForceInterval]("0..5 kN"))
	_, pushed := preload.Factor(units.MustParse[units.ForceInterval]("-1..5 kN"))
	_, half := preload.Factor(units.MustParse[units.ForceInterval](">= 5 kN"))
	_, none := preload.LeastPreload(units.MustParseForce("40 kN"), preload.Methods()[10].Factor)
	_, below := preload.LeastPreload(units.MustParseForce("40 kN"), units.MustParse[units.RatioInterval]("0.9..1.2"))
	for name, err := range map[string]error{"all of it": all, "negative": negative, "loose": loose, "pushed": pushed, "no upper bound": half, "no factor": none, "a factor below 1": below} {
		if !errors.Is(err, preload.ErrImpossible) {
			t.Errorf("%s: error %v, want ErrImpossible", name, err)
		}
	}
}

// Every method is given by its factor or by its scatter, and the key is its own.
func TestMethods(t *testing.T) {
	keys := map[string]bool{}
	for _, m := range preload.Methods() {
		if m.Factor.IsEmpty() == m.Scatter.IsEmpty() || (m.Key == "") != m.Factor.IsEmpty() || keys[m.Key] && m.Key != "" || m.Name == "" || m.Source == "" {
			t.Errorf("%+v", m)
		}
		keys[m.Key] = true
	}
	if len(keys) != 11 {
		t.Errorf("%d keys", len(keys)-1)
	}
}

// The scatter of preloads to both sides of their middle, (hi - lo)/(hi + lo), says the same as
// their factor: αA = (1+t)/(1-t).
func TestFactorAndScatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lo := rapid.Int64Range(1, 100_000).Draw(t, "lo")
		hi := rapid.Int64Range(lo, 200_000).Draw(t, "hi")
		factor, err := preload.Factor(units.MustInterval(units.Newton.OfInt(lo), units.Newton.OfInt(hi)))
		if err != nil {
			t.Fatal(err)
		}
		same, err := preload.FactorOfScatter(units.One.OfRat(big.NewRat(hi-lo, hi+lo)))
		if err != nil {
			t.Fatal(err)
		}
		if !factor.Equal(same) || !factor.Equal(units.One.OfRat(big.NewRat(hi, lo))) {
			t.Fatalf("factor %v, of the scatter %v", factor, same)
		}
	})
}

func FuzzParseFriction(f *testing.F) {
	for _, s := range []string{"0.12", ".12", "0.10..0.16", "0.14 ±0.02", "0.1 +/- 0.05", "-1", "0,1", "1e9", "12", "0.1..16"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		c, err := preload.ParseFriction(s)
		if err != nil {
			var syntax *units.Error
			if !errors.Is(err, preload.ErrImpossible) && !errors.As(err, &syntax) {
				t.Fatalf("%q: error %v", s, err)
			}
			return
		}
		if c.Lo().Sign() <= 0 || c.Hi().Less(c.Lo()) || units.One.OfInt(1).Less(c.Hi()) {
			t.Fatalf("%q is %v", s, c)
		}
	})
}
