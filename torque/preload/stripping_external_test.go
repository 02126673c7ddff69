package preload_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/fasteners"
	"example.com/closefit/torque/preload"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// engagement is an M10 bolt of class 8.8 in a hole of its own strength, and a softer one.
func engagement(length, hole string) preload.Engagement {
	return preload.Engagement{
		Thread: fasteners.MustParseThread("M10"), Length: lengths(length),
		Bolt: units.MustParse[units.PressureInterval]("800..960 MPa"), Hole: units.MustParse[units.PressureInterval](hole),
		BoltShear: friction("0.6..0.65"), HoleShear: friction("0.58..0.7"),
	}
}

// By hand, with the limits of M10 in 6g and 6H: D1 = 8.376..8.676, d2 = 8.862..8.994, d = 9.732..9.968,
// D2 = 9.026..9.206 mm. The least areas of 12 mm are π 12/1.5 · 8.676 (0.75 + 0.186·0.57735) = 186.95
// mm² and π 12/1.5 · 9.732 (0.75 + 0.526·0.57735) = 257.72 mm²; the greatest π 8 · 8.376 (0.75 +
// 0.618·0.57735) = 232.99 mm² and π 8 · 9.968 (0.75 + 0.942·0.57735) = 324.14 mm².
func TestShearAreasByHand(t *testing.T) {
	bolt, nut, err := preload.ShearAreas(fasteners.MustParseThread("M10"), lengths("12 mm"))
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name string
		got  units.Area
		want float64
	}{{"bolt, least", bolt.Lo(), 186.95}, {"bolt, greatest", bolt.Hi(), 232.99}, {"nut, least", nut.Lo(), 257.72}, {"nut, greatest", nut.Hi(), 324.14}} {
		if got := tt.got.Float64(units.SquareMillimetre); math.Abs(got-tt.want) > 0.01 {
			t.Errorf("%s: %.3f mm², want %.2f", tt.name, got, tt.want)
		}
	}
}

// By hand, a hole as strong as the bolt at its strongest, so that Rs >= 1 and C3 = 0.897 throughout:
// 0.897 · 0.58 · 960 MPa · 257.72 mm² · (12 - 1.2)/12 = 115.8 kN strip it at the least. The bolt's
// thread, at its weakest, has Rs = 960·324.14/(800·186.95) = 2.08 at the most and 960·257.72/(960·232.99)
// = 1.106 at the least, where C2 = 5.594 - 15.134 + 17.259 - 8.197 + 1.400
// = 0.922: 0.922 · 0.6 · 800 MPa · 186.95 mm² · 0.9 = 74.5 kN.
func TestStrippingByHand(t *testing.T) {
	s, err := engagement("12 mm", "960 MPa").Stripping()
	if err != nil {
		t.Fatal(err)
	}
	kilonewtons := func(f units.Force) float64 { return f.Float64(units.Kilonewton) }
	if got := kilonewtons(s.HoleThread.Lo()); math.Abs(got-115.8) > 0.1 {
		t.Errorf("the hole's thread strips at %.2f kN, want 115.8", got)
	}
	if got := kilonewtons(s.BoltThread.Lo()); math.Abs(got-74.5) > 0.1 {
		t.Errorf("the bolt's thread strips at %.2f kN, want 74.5", got)
	}
	// As = 57.990 mm².
	if lo, hi := kilonewtons(s.Break.Lo()), kilonewtons(s.Break.Hi()); math.Abs(lo-46.392) > 0.002 || math.Abs(hi-55.670) > 0.002 {
		t.Errorf("the bolt breaks at %.3f..%.3f kN, want 46.392..55.670", lo, hi)
	}
	if s.BreaksFirst != measure.Conforming {
		t.Errorf("%v, want the bolt to break first", s.BreaksFirst)
	}
}

// stripsAt is one bolt in one hole, with the formulas read plainly: its forces in N for each factor.
func stripsAt(l, d1, d2, d, d2nut, bolt, hole, boltShear, holeShear float64) (breaks, strips float64) {
	const p, stress = 1.5, 57.98959
	outer := math.Pi * l / p * d1 * (p/2 + (d2-d1)/math.Sqrt(3))
	inner := math.Pi * l / p * d * (p/2 + (d-d2nut)/math.Sqrt(3))
	rs := hole * inner / (bolt * outer)
	c2, c3 := 0.897, 0.897
	if rs > 1 {
		c2 = 5.594 - 13.682*rs + 14.107*rs*rs - 6.057*math.Pow(rs, 3) + 0.9353*math.Pow(rs, 4)
	}
	if rs >= 2.2 {
		c2 = 1
	}
	if rs < 1 {
		c3 = 0.728 + 1.769*rs - 2.896*rs*rs + 1.296*math.Pow(rs, 3)
	}
	if rs <= 0.4 {
		c3 = 1
	}
	whole := (l - 0.8*p) / l
	return bolt * stress, math.Min(c2*boltShear*bolt*outer, c3*holeShear*hole*inner) * whole
}

// Whatever thread, strength and length are within their ranges, what breaks and what strips lie in
// the ranges found, and what breaks first is what the verdict says.
func TestStrippingHoldsEveryCase(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		weak := rapid.Int64Range(90, 1100).Draw(t, "hole")
		strong := weak + rapid.Int64Range(0, 200).Draw(t, "hole range")
		from := rapid.Int64Range(30, 300).Draw(t, "length")
		to := from + rapid.Int64Range(0, 20).Draw(t, "length range")
		e := engagement("12 mm", "500 MPa")
		e.Hole = units.MustInterval(units.Megapascal.OfInt(weak), units.Megapascal.OfInt(strong))
		tenth := func(n int64) units.Length { return units.Micrometre.OfInt(100 * n) }
		e.Length = units.MustInterval(tenth(from), tenth(to))
		s, err := e.Stripping()
		if err != nil {
			t.Fatal(err)
		}
		for range 20 {
			in := func(lo, hi float64) float64 { return lo + (hi-lo)*float64(rapid.IntRange(0, 4).Draw(t, "at"))/4 }
			l := in(float64(from), float64(to)) / 10
			breaks, strips := stripsAt(l, in(8.376, 8.676), in(8.862, 8.994), in(9.732, 9.968), in(9.026, 9.206),
				in(800, 960), in(float64(weak), float64(strong)), in(0.6, 0.65), in(0.58, 0.7))
			within := func(f units.ForceInterval, n float64) bool {
				return f.Lo().Float64(units.Newton) <= n*1.0001 && n <= f.Hi().Float64(units.Newton)*1.0001
			}
			weakest := units.MustInterval(units.Min(s.BoltThread.Lo(), s.HoleThread.Lo()), units.Min(s.BoltThread.Hi(), s.HoleThread.Hi()))
			if !within(s.Break, breaks) || !within(weakest, strips) {
				t.Fatalf("breaks at %g, strips at %g, found %v and %v", breaks, strips, s.Break, weakest)
			}
			if s.BreaksFirst == measure.Conforming && strips < breaks*0.9999 || s.BreaksFirst == measure.BelowLimit && strips > breaks*1.0001 {
				t.Fatalf("breaks at %g, strips at %g, and the verdict is %v", breaks, strips, s.BreaksFirst)
			}
		}
		// The length that is needed is enough, and a little less is not proven.
		e.Length = units.Exactly(s.Needed.Hi())
		if again, err := e.Stripping(); err != nil || again.BreaksFirst != measure.Conforming {
			t.Fatalf("%v over the length that is needed, %v", again.BreaksFirst, err)
		}
		e.Length = units.Exactly(s.Needed.Hi().Sub(units.Micrometre.OfInt(10)))
		if again, err := e.Stripping(); err != nil || again.BreaksFirst == measure.Conforming {
			t.Fatalf("%v over less than the length that is needed, %v", again.BreaksFirst, err)
		}
	})
}

// A nut widens: of 16 mm on M10, C1 = 3.8 · 1.6 - 1.6² - 2.61 = 0.91.
func TestNutWidens(t *testing.T) {
	hole, err := engagement("12 mm", "960 MPa").Stripping()
	if err != nil {
		t.Fatal(err)
	}
	e := engagement("12 mm", "960 MPa")
	e.Flats = units.MustParseLength("16 mm")
	nut, err := e.Stripping()
	if err != nil {
		t.Fatal(err)
	}
	if got, want := nut.HoleThread.Lo().Float64(units.Newton), 0.91*hole.HoleThread.Lo().Float64(units.Newton); math.Abs(got-want) > 2 {
		t.Errorf("%g N, want %g", got, want)
	}
}

func TestStrippingErrors(t *testing.T) {
	for _, tt := range []struct {
		name string
		e    func(*preload.Engagement)
		want string
	}{
		{"no thread", func(e *preload.Engagement) { e.Thread = fasteners.Thread{} }, "no thread"},
		{"no length", func(e *preload.Engagement) { e.Length = units.LengthInterval{} }, "length of engagement"},
		{"no whole thread", func(e *preload.Engagement) { e.Length = lengths("1.2..12 mm") }, "0.8 pitches"},
		{"a strength of the bolt below zero", func(e *preload.Engagement) { e.Bolt = units.Exactly(units.Pressure{}) }, "tensile strength of the bolt"},
		{"no strength of the hole", func(e *preload.Engagement) { e.Hole = units.PressureInterval{} }, "tapped part"},
		{"a shear strength in percent", func(e *preload.Engagement) { e.HoleShear = units.MustParse[units.RatioInterval]("0.58..60") }, "at most 1"},
		{"no shear strength", func(e *preload.Engagement) { e.BoltShear = units.RatioInterval{} }, "shear strength of the bolt"},
		{"a wide nut", func(e *preload.Engagement) { e.Flats = units.MustParseLength("19.1 mm") }, "1.9 diameters"},
		{"a narrow nut", func(e *preload.Engagement) { e.Flats = units.MustParseLength("13.9 mm") }, "1.4"},
	} {
		e := engagement("12 mm", "300 MPa")
		tt.e(&e)
		if _, err := e.Stripping(); err == nil || !strings.Contains(err.Error(), tt.want) ||
			!errors.Is(err, preload.ErrImpossible) && !errors.Is(err, fasteners.ErrImpossible) {
			t.Errorf("%s: %v, want %q", tt.name, err, tt.want)
		}
	}
}

func TestHeadErrors(t *testing.T) {
	for _, of := range [][2]string{{"5.8", "M8"}, {"8.8", "M11"}, {"10.9", "M12"}, {"8", "3/8-24 UNF"}} {
		s, err := fasteners.StrengthOf(of[0], fasteners.MustParseThread(of[1]))
		if err != nil {
			t.Fatal(err)
		}
		if got, err := preload.BreakingTorque(s); !errors.Is(err, preload.ErrImpossible) {
			t.Errorf("%s of class %s: %v, %v", of[1], of[0], got, err)
		}
	}
	s, err := fasteners.StrengthOf("8.8", fasteners.MustParseThread("M8"))
	if err != nil {
		t.Fatal(err)
	}
	s.Tensile = s.Tensile.MulInt(2)
	if got, err := preload.BreakingTorque(s); !errors.Is(err, fasteners.ErrImpossible) {
		t.Errorf("a strength set by hand: %v, %v", got, err)
	}
	for _, width := range []string{"0 mm", "5.5 mm", "27 mm", "1/4 in"} {
		if got, err := preload.KeyTorque(units.MustParseLength(width)); !errors.Is(err, preload.ErrImpossible) {
			t.Errorf("a key of %s: %v, %v", width, got, err)
		}
	}
}
