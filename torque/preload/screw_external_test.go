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
		{"A", "0.04", "0.1"}, {" B ", "0.08", "0.16"}, {"C", "0.14", "0.24"}, {"D", "0.2", "0.35"}, // VDI 2230-1:2003, table A5
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

// equal is the same friction in the thread and under the head.
func equal(total units.RatioInterval) preload.Friction {
	return preload.Friction{Thread: total, Bearing: total}
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
		if !errors.Is(err, preload.ErrImpossible) || !errors.As(err, &got) || !strings.HasSuffix(got.Found, ", above 1") || got.Fix != fix {
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
		if _, err := preload.ParseFriction(text); err != nil && strings.Contains(err.Error(), "above 1") {
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
	_, leavesNone := m10.FrictionFromNutFactor(friction("0.02"))
	_, noFactor := m10.FrictionFromNutFactor(units.RatioInterval{})
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
		{"above 1 under the head", given(preload.Friction{Thread: good, Bearing: units.MustParse[units.RatioInterval]("12")}), preload.ErrImpossible, "friction under the head", "12, above 1"},
		{"no nut factor", noFactor, preload.ErrImpossible, "nut factor", "none"},
		{"no class", parse("E"), preload.ErrImpossible, "friction class of VDI 2230", `"E"`},
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

// screwOf is a screw whose bearing face has a mean diameter, with a hole of the nominal size.
func screwOf(thread, bearing string) preload.Screw {
	t := fasteners.MustParseThread(thread)
	return preload.Screw{Thread: t, Hole: t.Major(), Face: units.MustParseLength(bearing).MulInt(2).Sub(t.Major())}
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
	_, screw := preload.Screw{}.Preload(units.TorqueInterval{}, preload.Friction{})
	_, swing := preload.Swings(units.MustParseAngle("90°"), units.MustParseAngle("20°"), units.MustParseAngle("30°"))
	_, method := preload.Method{Scatter: units.MustParse[units.RatioInterval]("23")}.LeastPreload(units.MustParseForce("40 kN"))
	tests := []struct {
		err  error
		want string
	}{
		{friction, `friction: not possible: 12, above 1; write "0.12"`},
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

// An inch thread's working is told in its own units.
func TestWorkingInInches(t *testing.T) {
	w, err := screwOf("7/16-20 UNF", "0.57 in").Working(units.MustParse[units.TorqueInterval]("45..55 lbf·ft"), equal(friction("0.12")), units.PoundForceFoot, units.PoundForce, 0)
	if err != nil {
		t.Fatal(err)
	}
	text := w.Text()
	for _, want := range []string{"what 45.0..55.0 lbf·ft promises on 7/16-20 UNF", "P = 0.0500 in, d2 = 0.4050 in, Db = 0.5700 in", " lbf\n"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
}

// M12's face is 16.63 mm outside and 13.5 mm inside, whatever its pitch; ISO 4014 and ISO 273.
func TestHexScrew(t *testing.T) {
	s, err := preload.HexScrew(fasteners.MustParseThread("M12x1.25"))
	if err != nil || !s.Face.Equal(units.MustParseLength("16.63 mm")) || !s.Hole.Equal(units.MustParseLength("13.5 mm")) || s.Thread.String() != "M12x1.25" {
		t.Errorf("%+v, %v; want M12x1.25 on 13.5 to 16.63 mm", s, err)
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
			s.Hole, s.Face = s.Thread.Major().Mul(decimal.New(11, -1)), s.Thread.Major().Mul(decimal.New(15, -1))
			got, err := s.Torque(units.MustParse[units.ForceInterval]("1 kN"), equal(friction(mu)))
			if err != nil {
				t.Fatal(err)
			}
			f := decimal.RequireFromString(mu).InexactFloat64()
			p, d2 := s.Thread.Pitch().Float64(units.Millimetre), s.Thread.PitchDiameter().Float64(units.Millimetre)
			full := (p+1.154*math.Pi*f*d2)/(math.Pi-1.154*f*p/d2)/2 + 1.3*s.Thread.Major().Float64(units.Millimetre)*f/2
			if off := 1 - got.Lo().Float64(units.NewtonMetre)/full; off < 0 || off > 0.01 {
				t.Errorf("%s, friction %s: %.3f %% below", thread, mu, 100*off)
			}
		}
	}
}

// anyScrew draws a screw whose hole passes its thread, and whose face is wider than the hole.
func anyScrew() *rapid.Generator[preload.Screw] {
	return rapid.Custom(func(t *rapid.T) preload.Screw {
		thread := fasteners.MustParseThread(rapid.SampledFrom([]string{"M6", "M8x1", "M11", "M20x1.5", "#10-32", "7/16-20", "1-8"}).Draw(t, "thread"))
		hole := rapid.Int64Range(1000, 1500).Draw(t, "hole")
		face := rapid.Int64Range(hole+1, 2500).Draw(t, "face")
		return preload.Screw{Thread: thread, Hole: thread.Major().MulRat(big.NewRat(hole, 1000)), Face: thread.Major().MulRat(big.NewRat(face, 1000))}
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
		short := factor.Hi().Float64(units.One) * force.Hi().Float64(units.Newton) * s.Thread.Major().Float64(units.Metre)
		if math.Abs(short-want.Lo().Float64(units.NewtonMetre)) > 0.0001 {
			t.Fatalf("by friction %v, by its nut factor %g N·m", back, short)
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
		stretch, thread, bearing, err := s.Shares(f)
		if err != nil {
			t.Fatal(err)
		}
		if whole := units.Sum(stretch, thread, bearing); !whole.Equal(units.One.OfInt(1)) {
			t.Fatalf("%v, %v and %v add up to %v", stretch, thread, bearing, whole)
		}
		// Of each newton metre the thread's friction takes 0.577 d2 μ of the lever.
		mid := preload.Friction{Thread: units.Exactly(f.Thread.Mid()), Bearing: units.Exactly(f.Bearing.Mid())}
		whole, err := s.Torque(units.MustParse[units.ForceInterval]("1 kN"), mid)
		if err != nil {
			t.Fatal(err)
		}
		rubs := 0.577 * s.Thread.PitchDiameter().Float64(units.Millimetre) * f.Thread.Mid().Float64(units.One) / whole.Lo().Float64(units.NewtonMetre)
		if got := thread.Float64(units.One); math.Abs(got-rubs) > 1e-8 {
			t.Fatalf("%g rubs in the thread, want %g", got, rubs)
		}
	})
}

// A nut factor and the friction it stands for are inverse.
func TestFrictionFromNutFactor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyScrew().Draw(t, "screw")
		want := anyCoefficient("friction").Draw(t, "friction")
		k, err := s.NutFactor(equal(want))
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
	f := equal(friction("0.12"))
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
	tests := []struct {
		name string
		err  error
		what string
	}{
		{"no thread", toPreload(preload.Screw{}, "30 N·m"), "screw"},
		{"no hole", toPreload(preload.Screw{Thread: ok.Thread, Face: ok.Face}, "30 N·m"), "hole under the head"},
		{"a hole that the bolt does not pass", toPreload(preload.Screw{Thread: ok.Thread, Face: ok.Face, Hole: units.MustParseLength("9.9 mm")}, "30 N·m"), "hole under the head"},
		{"no bearing face", toPreload(preload.Screw{Thread: ok.Thread, Hole: ok.Hole}, "30 N·m"), "face under the head"},
		{"a face as wide as its hole", toPreload(screwOf("M10", "10 mm"), "30 N·m"), "face under the head"},
		{"shares of no screw", func() error { _, _, _, err := preload.Screw{}.Shares(f); return err }(), "screw"},
		{"negative torque", toPreload(ok, "-1..30 N·m"), "torque"},
		{"half a torque", toPreload(ok, "<= 30 N·m"), "torque"},
		{"negative preload", toTorque(ok, "-2 kN"), "preload"},
		{"no strength", yield(ok, "0 MPa", "1", units.Length{}), "yield strength"},
		{"half a strength", yield(ok, ">= 940 MPa", "1", units.Length{}), "yield strength"},
		{"no share", yield(ok, "940 MPa", "0", units.Length{}), "share of the yield strength"},
		{"section below zero", yield(ok, "940 MPa", "1", units.MustParseLength("-8 mm")), "diameter of the section"},
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
	factor := func(s string) preload.Method { return preload.Method{Factor: units.MustParse[units.RatioInterval](s)} }
	scatter := func(s string) preload.Method { return preload.Method{Scatter: units.MustParse[units.RatioInterval](s)} }
	both := factor("1.2")
	both.Scatter = units.MustParse[units.RatioInterval]("0.1")
	for name, test := range map[string]struct {
		method  preload.Method
		largest string
	}{
		"all of it": {scatter("0.2..1"), "40 kN"}, "below zero": {scatter("-0.1"), "40 kN"}, "half a scatter": {scatter(">= 0.1"), "40 kN"},
		"a factor below 1": {factor("0.9..1.2"), "40 kN"}, "half a factor": {factor(">= 1.2"), "40 kN"},
		"neither": {preload.Method{}, "40 kN"}, "both": {both, "40 kN"}, "no preload": {factor("1.2"), "0 kN"}, "a push": {factor("1.2"), "-40 kN"},
	} {
		if got, err := test.method.LeastPreload(units.MustParseForce(test.largest)); !errors.Is(err, preload.ErrImpossible) {
			t.Errorf("%s: %v, error %v, want ErrImpossible", name, got, err)
		}
	}
}

// By hand: 42 kN over 1.4 to 1.6 is 30 to 26.25 kN; a scatter of a fifth to a quarter to both
// sides is a factor of 1.2/0.8 = 1.5 to 1.25/0.75 = 5/3, which leave 28 to 25.2 kN.
func TestLeastPreload(t *testing.T) {
	for want, m := range map[string]preload.Method{
		"26.25..30 kN": {Factor: units.MustParse[units.RatioInterval]("1.4..1.6")},
		"25.2..28 kN":  {Scatter: units.MustParse[units.RatioInterval]("0.2..0.25")},
		"42 kN":        {Factor: units.MustParse[units.RatioInterval]("1")},
	} {
		if got, err := m.LeastPreload(units.MustParseForce("42 kN")); err != nil || !got.Equal(units.MustParse[units.ForceInterval](want)) {
			t.Errorf("%+v: %v, %v; want %s", m, got, err, want)
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

// The scatter of preloads to both sides of their middle, (hi - lo)/(hi + lo), leaves the smallest
// of them.
func TestFactorAndScatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lo := rapid.Int64Range(1, 100_000).Draw(t, "lo")
		hi := rapid.Int64Range(lo, 200_000).Draw(t, "hi")
		for _, m := range []preload.Method{
			{Scatter: units.Exactly(units.One.OfRat(big.NewRat(hi-lo, hi+lo)))}, {Factor: units.Exactly(units.One.OfRat(big.NewRat(hi, lo)))},
		} {
			least, err := m.LeastPreload(units.Newton.OfInt(hi))
			if err != nil || !least.Equal(units.Exactly(units.Newton.OfInt(lo))) {
				t.Fatalf("%+v: %v, %v; want %d N", m, least, err, lo)
			}
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

// A torque that may be none promises a preload that may be none, and nothing is so many times as much.
func TestWorkingFromNoTorque(t *testing.T) {
	for torque, wanted := range map[string]bool{"0..55 lbf·ft": false, "45..55 lbf·ft": true} {
		w, err := screwOf("7/16-20 UNF", "0.57 in").Working(units.MustParse[units.TorqueInterval](torque), equal(friction("0.12")), units.PoundForceFoot, units.PoundForce, 0)
		if err != nil {
			t.Fatal(err)
		}
		if strings.Contains(w.Text(), "times the smallest") != wanted {
			t.Errorf("%s:\n%s", torque, w.Text())
		}
	}
}
