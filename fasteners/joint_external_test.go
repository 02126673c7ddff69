package fasteners_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/fasteners"
	"example.com/closefit/units"
)

// ratio reads a pure number.
func ratio(s string) (r units.Ratio) {
	if err := r.UnmarshalText([]byte(s)); err != nil {
		panic(err)
	}
	return r
}

// near fails unless got is want within a relative error.
func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if math.Abs(got-want) > within*math.Abs(want) {
		t.Errorf("%s %g, want %g", what, got, want)
	}
}

func perMillimetre(k units.Stiffness) float64 { return k.Float64(units.NewtonPerMillimetre) }

// Two segments by hand: 40 mm of 113.097 mm² and 20 mm of 84.267 mm² at 205 GPa give
// 40/(113.097·205000) + 20/(84.267·205000) = 1.72527e-6 + 1.15775e-6 mm/N, 346858 N/mm.
func TestBoltStiffness(t *testing.T) {
	steel := units.MustParsePressure("205 GPa")
	m12 := fasteners.MustParseThread("M12")
	k, err := fasteners.BoltStiffness(
		fasteners.Segment{Name: "shank", Length: units.MustParseLength("40 mm"), Area: m12.ShankArea(), Modulus: steel},
		fasteners.Segment{Name: "thread", Length: units.MustParseLength("20 mm"), Area: m12.StressArea(), Modulus: steel})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "stiffness", perMillimetre(k), 346858, 1e-5)
}

// A shape's substitutes by hand for M10 with a hexagon head into a nut, 25 mm of shank and
// 15 mm of free thread, E = 205 GPa: (0.5·10 + 25 + 0.4·10)/78.5398 + (15 + 0.5·10)/52.292
// = 0.432902 + 0.382467 per mm, over 205000: 251423 N/mm.
func TestBoltShape(t *testing.T) {
	m10, steel := fasteners.MustParseThread("M10"), units.MustParsePressure("205 GPa")
	shape := fasteners.BoltShape{
		Thread: m10, Head: fasteners.HexHead, Seat: fasteners.IntoNut, Grip: units.MustParseLength("40 mm"), Modulus: steel, SeatModulus: steel,
		Shank:      []fasteners.Segment{{Name: "shank", Length: units.MustParseLength("25 mm"), Area: m10.ShankArea(), Modulus: steel}},
		FreeThread: units.MustParseLength("15 mm"),
	}
	hex, err := shape.Stiffness()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "stiffness", perMillimetre(hex), 251423, 2e-5)

	// A socket head is 0.1 d shorter, a tapped hole 0.07 d: both make the bolt stiffer.
	shape.Head, shape.Seat = fasteners.SocketHead, fasteners.IntoTapped
	socket, err := shape.Stiffness()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "stiffness", 1/perMillimetre(hex)-1/perMillimetre(socket), 1.7/78.5398/205000, 1e-4)
}

// The three branches of VDI 2230's cone meet: at the edge of the face and at the limiting
// diameter, the formulas on both sides give the same stiffness.
func TestDeformationConeIsContinuous(t *testing.T) {
	cone := func(outside string) float64 {
		k, err := fasteners.DeformationCone{
			Seat: fasteners.IntoNut, Hole: units.MustParseLength("11 mm"), Face: units.MustParseLength("14.6 mm"),
			Outside: units.MustParseLength(outside), Grip: units.MustParseLength("40 mm"), Modulus: units.MustParsePressure("205 GPa"),
		}.Stiffness()
		if err != nil {
			t.Fatal(err)
		}
		return perMillimetre(k)
	}
	near(t, "stiffness past the face", cone("14.60001 mm"), cone("14.6 mm"), 1e-4)
	// The sleeve by hand: 205000·72.3823/40, where 72.3823 = π/4 (14.6² - 11²).
	near(t, "stiffness of the sleeve", cone("14.6 mm"), 370959, 1e-5)
	previous := 0.0
	for _, outside := range []string{"12 mm", "14 mm", "15 mm", "18 mm", "22 mm", "30 mm", "40 mm", "43 mm", "60 mm"} {
		k := cone(outside)
		if k <= previous {
			t.Errorf("a part %s wide is no stiffer than a narrower one: %g after %g", outside, k, previous)
		}
		previous = k
	}
}

// Layers of one material are one layer.
func TestFrustaSplit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		micron := func(n int64) units.Length { return units.Micrometre.OfInt(n) }
		hole := rapid.Int64Range(3_000, 20_000).Draw(t, "hole")
		first := rapid.Int64Range(1, 50_000).Draw(t, "first")
		second := rapid.Int64Range(1, 50_000).Draw(t, "second")
		f := fasteners.Frusta{Hole: micron(hole), Face: micron(hole + hole/2), HalfAngle: units.MustParseAngle("30°")}
		e := units.MustParsePressure("110 GPa")
		f.Layers = []fasteners.Layer{{Thickness: micron(first), Modulus: e}, {Thickness: micron(second), Modulus: e}}
		split, err := f.Stiffness()
		if err != nil {
			t.Fatal(err)
		}
		f.Layers = []fasteners.Layer{{Thickness: micron(first + second), Modulus: e}}
		whole, err := f.Stiffness()
		if err != nil {
			t.Fatal(err)
		}
		if off := math.Abs(perMillimetre(split)/perMillimetre(whole) - 1); off > 1e-9 {
			t.Fatalf("split %v, whole %v", split, whole)
		}
	})
}

func TestJointErrors(t *testing.T) {
	mm, e := units.MustParseLength, units.MustParsePressure("205 GPa")
	area := units.SquareMillimetre.OfInt(50)
	segment := func(length string, a units.Area, modulus units.Pressure) error {
		_, err := fasteners.BoltStiffness(fasteners.Segment{Name: "neck", Length: mm(length), Area: a, Modulus: modulus})
		return err
	}
	frusta := func(hole, face, angle string, layers ...fasteners.Layer) error {
		_, err := fasteners.Frusta{Hole: mm(hole), Face: mm(face), HalfAngle: units.MustParseAngle(angle), Layers: layers}.Stiffness()
		return err
	}
	cone := func(hole, face, outside, grip string, modulus units.Pressure) error {
		_, err := fasteners.DeformationCone{Seat: fasteners.IntoNut, Hole: mm(hole), Face: mm(face), Outside: mm(outside), Grip: mm(grip), Modulus: modulus}.Stiffness()
		return err
	}
	joint := func(bolt, members string) error {
		_, err := fasteners.NewJoint(units.MustParse[units.Stiffness](bolt), units.MustParse[units.Stiffness](members))
		return err
	}
	warm := func(length string) fasteners.Heated {
		return fasteners.Heated{Length: mm(length), Expansion: ratio("11.5 ppm"), From: units.MustParseTemperature("20 °C"), To: units.MustParseTemperature("90 °C")}
	}
	thermal := func() error {
		j, err := fasteners.NewJoint(units.MustParse[units.Stiffness]("200 kN/mm"), units.MustParse[units.Stiffness]("800 kN/mm"))
		if err != nil {
			return nil
		}
		_, err = j.ThermalChange(warm("50 mm"), warm("49 mm"))
		return err
	}
	_, none := fasteners.BoltStiffness()
	_, stretch := fasteners.StretchFromPreload(units.MustParse[units.StiffnessInterval]("0..5 N/mm"), units.MustParse[units.ForceInterval]("1 kN"))
	_, half := fasteners.PreloadFromStretch(units.MustParse[units.StiffnessInterval]("5 N/mm"), units.MustParseLengthInterval("<= 0.2 mm"))
	_, open := fasteners.StretchFromPreload(units.MustParse[units.StiffnessInterval](">= 5 N/mm"), units.MustParse[units.ForceInterval]("1 kN"))
	_, rise := fasteners.RiseForStretch(mm("0.1 mm"), mm("0 mm"), ratio("11.5 ppm"))
	tests := []struct {
		name string
		err  error
		what string
	}{
		{"no segment", none, "bolt"},
		{"length below zero", segment("-1 mm", area, e), "length of bolt segment neck"},
		{"no area", segment("5 mm", units.Area{}, e), "section of bolt segment neck"},
		{"no modulus", segment("5 mm", area, units.Pressure{}), "modulus of bolt segment neck"},
		{"no length", segment("0 mm", area, e), "length of bolt segment neck"},
		{"no hole", frusta("0 mm", "15 mm", "30°", fasteners.Layer{Thickness: mm("9 mm"), Modulus: e}), "hole"},
		{"narrow face", frusta("10 mm", "10 mm", "30°", fasteners.Layer{Thickness: mm("9 mm"), Modulus: e}), "bearing face"},
		{"right angle", frusta("10 mm", "15 mm", "90°", fasteners.Layer{Thickness: mm("9 mm"), Modulus: e}), "half angle of the cones"},
		{"no layer", frusta("10 mm", "15 mm", "30°"), "grip"},
		{"layer below zero", frusta("10 mm", "15 mm", "30°", fasteners.Layer{Name: "cap", Thickness: mm("-9 mm"), Modulus: e}), "thickness of cap"},
		{"layer without modulus", frusta("10 mm", "15 mm", "30°", fasteners.Layer{Name: "cap", Thickness: mm("9 mm")}), "modulus of cap"},
		{"cone: narrow face", cone("11 mm", "11 mm", "40 mm", "40 mm", e), "bearing face"},
		{"cone: narrow part", cone("11 mm", "15 mm", "11 mm", "40 mm", e), "outside diameter"},
		{"cone: no grip", cone("11 mm", "15 mm", "40 mm", "0 mm", e), "grip"},
		{"cone: no modulus", cone("11 mm", "15 mm", "40 mm", "40 mm", units.Pressure{}), "modulus of the clamped part"},
		{"no bolt stiffness", joint("0 N/mm", "5 N/mm"), "stiffness of the bolt"},
		{"no members' stiffness", joint("5 N/mm", "0 N/mm"), "stiffness of the clamped parts"},
		{"lengths that do not add up", thermal(), "clamped parts"},
		{"stretch of nothing", stretch, "stiffness of the bolt"},
		{"half a stretch", half, "stretch"},
		{"half a stiffness", open, "stiffness of the bolt"},
		{"heated nothing", rise, "heated bolt"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			var got *units.Error
			if !errors.Is(test.err, fasteners.ErrJoint) || !errors.As(test.err, &got) {
				t.Fatalf("error %v, want one of kind ErrJoint", test.err)
			}
			if got.Where != test.what {
				t.Errorf("where %q, want %q", got.Where, test.what)
			}
		})
	}
}

// Stretch and preload are inverse for a stiffness known exactly, and wider back and forth
// for one that is not.
func TestStretchAndPreload(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lo := rapid.Int64Range(1, 1_000_000).Draw(t, "stiffness")
		hi := rapid.Int64Range(lo, 1_100_000).Draw(t, "stiffness hi")
		k := units.MustInterval(units.NewtonPerMillimetre.OfInt(lo), units.NewtonPerMillimetre.OfInt(hi))
		a := rapid.Int64Range(-1_000, 500_000).Draw(t, "preload")
		b := rapid.Int64Range(a, 500_000).Draw(t, "preload hi")
		preload := units.MustInterval(units.Newton.OfInt(a), units.Newton.OfInt(b))
		stretch, err := fasteners.StretchFromPreload(k, preload)
		if err != nil {
			t.Fatal(err)
		}
		back, err := fasteners.PreloadFromStretch(k, stretch)
		if err != nil {
			t.Fatal(err)
		}
		if !preload.Within(back) || k.IsPoint() && !preload.Equal(back) {
			t.Fatalf("%v is %v, which is %v", preload, stretch, back)
		}
	})
}

// An aluminium part of 50 mm under a steel bolt, both 80 K warmer, by hand: the part grows
// 23.1e-6·50·80 = 0.0924 mm, the bolt 11.5e-6·50·80 = 0.046 mm; 200 and 600 kN/mm in series
// are 150 kN/mm; 150000·0.0464 = 6960 N.
func TestThermalChange(t *testing.T) {
	j, err := fasteners.NewJoint(units.MustParse[units.Stiffness]("200 kN/mm"), units.MustParse[units.Stiffness]("600 kN/mm"))
	if err != nil {
		t.Fatal(err)
	}
	part := func(length, expansion string) fasteners.Heated {
		return fasteners.Heated{
			Length: units.MustParseLength(length), Expansion: ratio(expansion),
			From: units.MustParseTemperature("18 °C"), To: units.MustParseTemperature("98 °C"),
		}
	}
	got, err := j.ThermalChange(part("50 mm", "11.5 ppm"), part("30 mm", "23.1 ppm"), part("20 mm", "23.1 ppm"))
	if err != nil {
		t.Fatal(err)
	}
	if want := units.MustParseForce("6960 N"); !got.Equal(want) {
		t.Errorf("change %v, want %v", got, want)
	}
}
