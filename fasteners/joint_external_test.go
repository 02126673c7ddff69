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

func degrees(s string) *units.Angle {
	a := units.MustParseAngle(s)
	return &a
}

func perMillimetre(k units.Stiffness) float64 { return k.Float64(units.NewtonPerMillimetre) }

// Two segments by hand: 40 mm of 113.097 mm² and 20 mm of 84.267 mm² at 205 GPa give
// 40/(113.097·205000) + 20/(84.267·205000) = 1.72527e-6 + 1.15775e-6 mm/N, 346858 N/mm.
func TestBoltStiffness(t *testing.T) {
	steel := units.MustParse[units.Pressure]("205 GPa")
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
	m10, steel := fasteners.MustParseThread("M10"), units.MustParse[units.Pressure]("205 GPa")
	shape := fasteners.BoltShape{
		Thread: m10, Head: fasteners.HexHead, Seat: fasteners.Nut, Grip: units.MustParseLength("40 mm"), Modulus: steel, SeatModulus: steel,
		Shank:      []fasteners.Segment{{Name: "shank", Length: units.MustParseLength("25 mm"), Area: m10.ShankArea(), Modulus: steel}},
		FreeThread: units.MustParseLength("15 mm"),
	}
	hex, err := shape.Stiffness()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "stiffness", perMillimetre(hex), 251423, 2e-5)

	// A socket head is 0.1 d shorter, a tapped hole 0.07 d: both make the bolt stiffer.
	shape.Head, shape.Seat = fasteners.SocketHead, fasteners.TappedHole
	socket, err := shape.Stiffness()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "stiffness", 1/perMillimetre(hex)-1/perMillimetre(socket), 1.7/78.5398/205000, 1e-4)
}

// The stud by hand, as TestBoltShape has it: the upper nut is 0.4·10 long on 78.5398 mm², with
// 0.5·10 of engaged thread on 52.292 mm², where the head was 0.5·10 on 78.5398 mm².
func TestStud(t *testing.T) {
	m10, steel := fasteners.MustParseThread("M10"), units.MustParse[units.Pressure]("205 GPa")
	stud := fasteners.BoltShape{
		Thread: m10, Head: fasteners.Nut, Seat: fasteners.TappedHole, Grip: mm("40 mm"), Modulus: steel, SeatModulus: units.MustParse[units.Pressure]("110 GPa"),
		Shank: []fasteners.Segment{{Name: "shank", Length: mm("25 mm"), Area: m10.ShankArea(), Modulus: steel}}, FreeThread: mm("15 mm"),
	}
	k, err := stud.Stiffness()
	if err != nil {
		t.Fatal(err)
	}
	// (4 + 25)/78.5398 + (5 + 15 + 5)/52.292 over 205000, and 3.3/78.5398 over 110000.
	near(t, "compliance", 1/perMillimetre(k), (29/78.5398+25/52.292)/205000+3.3/78.5398/110000, 2e-5)
}

// partsOf are clamped parts 40 mm thick, of steel, with the angle of VDI 2230.
func partsOf(seat fasteners.End, outside string) fasteners.ClampedParts {
	return fasteners.ClampedParts{
		Seat: seat, Hole: mm("11 mm"), Face: mm("14.6 mm"), Outside: mm(outside),
		Layers: []fasteners.Layer{{Name: "part", Thickness: mm("40 mm"), Modulus: units.MustParse[units.Pressure]("205 GPa")}},
	}
}

// VDI 2230-1:2015, 5.1.2.1, has a closed form for each of three widths of parts of one material.
// They are worked out here as the guideline writes them, with w = 1 for a nut and 2 for a tapped
// hole.
func TestClampedPartsByTheGuideline(t *testing.T) {
	const dh, dW, lK, e = 11.0, 14.6, 40.0, 205000.0
	for seat, w := range map[fasteners.End]float64{fasteners.Nut: 1, fasteners.TappedHole: 2} {
		for _, outside := range []string{"13 mm", "14.6 mm", "15 mm", "20 mm", "31 mm", "43 mm", "60 mm", "90 mm"} {
			parts := partsOf(seat, outside)
			dA := parts.Outside.Float64(units.Millimetre)
			y := math.Min(dA/dW, 3)
			tan := 0.362 + 0.032*math.Log(lK/dW/2) + 0.153*math.Log(y)
			if w == 2 {
				tan = 0.348 + 0.013*math.Log(lK/dW) + 0.193*math.Log(y)
			}
			var compliance float64
			switch limit := dW + w*lK*tan; {
			case dA <= dW:
				compliance = 4 * lK / (e * math.Pi * (dA*dA - dh*dh))
			case dA >= limit:
				compliance = 2 * math.Log((dW+dh)*(limit-dh)/((dW-dh)*(limit+dh))) / (w * e * math.Pi * dh * tan)
			default:
				compliance = (2/(w*dh*tan)*math.Log((dW+dh)*(dA-dh)/((dW-dh)*(dA+dh))) + 4/(dA*dA-dh*dh)*(lK-(dA-dW)/(w*tan))) / (e * math.Pi)
			}
			k, err := parts.Stiffness()
			if err != nil {
				t.Fatal(err)
			}
			near(t, string(seat)+", "+outside, perMillimetre(k), 1/compliance, 1e-8)
		}
	}
}

// Layers in any number are a stack of thin discs, each of the section that the cone or the sleeve
// has at its depth: the sum over 200,000 of them, without a closed form.
func TestClampedPartsByDiscs(t *testing.T) {
	parts := fasteners.ClampedParts{
		Hole: mm("9 mm"), Face: mm("13 mm"), Outside: mm("27 mm"),
		Layers: []fasteners.Layer{
			{Name: "washer", Thickness: mm("2 mm"), Modulus: units.MustParse[units.Pressure]("205 GPa")},
			{Name: "cap", Thickness: mm("17 mm"), Modulus: units.MustParse[units.Pressure]("110 GPa")},
			{Name: "block", Thickness: mm("23 mm"), Modulus: units.MustParse[units.Pressure]("70 GPa")},
		},
	}
	for _, test := range []struct {
		seat  fasteners.End
		angle string
	}{{fasteners.Nut, "30°"}, {fasteners.TappedHole, "30°"}, {fasteners.Nut, "12°"}, {fasteners.TappedHole, "8°"}} {
		angle := units.MustParseAngle(test.angle)
		parts.Seat, parts.HalfAngle = test.seat, &angle
		const n, grip = 200_000, 42.0
		compliance, slope := 0.0, math.Tan(angle.Float64(units.Radian))
		for i := range n {
			depth := grip * (float64(i) + 0.5) / n
			e := 70000.0
			switch {
			case depth < 2:
				e = 205000
			case depth < 19:
				e = 110000
			}
			if test.seat == fasteners.Nut {
				depth = min(depth, grip-depth)
			}
			d := min(13+2*depth*slope, 27)
			compliance += grip / n / (e * math.Pi / 4 * (d*d - 9*9))
		}
		k, err := parts.Stiffness()
		if err != nil {
			t.Fatal(err)
		}
		near(t, string(test.seat)+", "+test.angle, perMillimetre(k), 1/compliance, 1e-5)
	}
}

// Under a face that overhangs them the parts are a sleeve, however thin: 4·0.0001/(π·205000·(14² -
// 11²)) mm/N. There is no cone, and so no angle to ask for.
func TestThinSleeve(t *testing.T) {
	foil := partsOf(fasteners.Nut, "14 mm")
	foil.Face, foil.Layers[0].Thickness = mm("15 mm"), mm("0.0001 mm")
	k, err := foil.Stiffness()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "stiffness", perMillimetre(k), math.Pi*205000*(14*14-11*11)/4/0.0001, 1e-9)
}

// A part that is wider is stiffer, past the face and past the cone's edge too.
func TestWiderPartsAreStiffer(t *testing.T) {
	previous := 0.0
	for _, outside := range []string{"12 mm", "14 mm", "14.6 mm", "14.60001 mm", "15 mm", "18 mm", "22 mm", "30 mm", "40 mm", "43 mm", "60 mm"} {
		k, err := partsOf(fasteners.Nut, outside).Stiffness()
		if err != nil {
			t.Fatal(err)
		}
		if perMillimetre(k) <= previous {
			t.Errorf("parts %s wide are no stiffer than narrower ones: %g after %g", outside, perMillimetre(k), previous)
		}
		previous = perMillimetre(k)
	}
}

// Layers of one material are one layer.
func TestLayersSplit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		micron := func(n int64) units.Length { return units.Micrometre.OfInt(n) }
		hole := rapid.Int64Range(3_000, 20_000).Draw(t, "hole")
		first := rapid.Int64Range(1, 50_000).Draw(t, "first")
		second := rapid.Int64Range(1, 50_000).Draw(t, "second")
		f := fasteners.ClampedParts{Seat: rapid.SampledFrom([]fasteners.End{fasteners.Nut, fasteners.TappedHole}).Draw(t, "seat"),
			Hole: micron(hole), Face: micron(hole + hole/2), Outside: micron(rapid.Int64Range(hole+1, 80_000).Draw(t, "outside")), HalfAngle: degrees("30°")}
		e := units.MustParse[units.Pressure]("110 GPa")
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
	mm, e := units.MustParseLength, units.MustParse[units.Pressure]("205 GPa")
	area := units.SquareMillimetre.OfInt(50)
	segment := func(length string, a units.Area, modulus units.Pressure) error {
		_, err := fasteners.BoltStiffness(fasteners.Segment{Name: "neck", Length: mm(length), Area: a, Modulus: modulus})
		return err
	}
	parts := func(hole, face, outside string, angle *units.Angle, layers ...fasteners.Layer) error {
		return second(fasteners.ClampedParts{Seat: fasteners.Nut, Hole: mm(hole), Face: mm(face), Outside: mm(outside), HalfAngle: angle, Layers: layers}.Stiffness())
	}
	layer := fasteners.Layer{Name: "cap", Thickness: mm("9 mm"), Modulus: e}
	warm := func(length string) fasteners.Heated {
		return fasteners.Heated{Length: mm(length), Expansion: ratio("11.5 ppm"), From: units.MustParse[units.Temperature]("20 °C"), To: units.MustParse[units.Temperature]("90 °C")}
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
		{"no hole", parts("0 mm", "15 mm", "40 mm", nil, layer), "hole"},
		{"narrow face", parts("11 mm", "11 mm", "40 mm", nil, layer), "bearing face"},
		{"narrow parts", parts("11 mm", "15 mm", "11 mm", nil, layer), "outside diameter"},
		{"no angle", parts("10 mm", "15 mm", "40 mm", degrees("0°"), layer), "half angle of the cones"},
		{"right angle", parts("10 mm", "15 mm", "40 mm", degrees("90°"), layer), "half angle of the cones"},
		{"no layer", parts("10 mm", "15 mm", "40 mm", nil), "layers"},
		{"layer below zero", parts("10 mm", "15 mm", "40 mm", nil, fasteners.Layer{Name: "cap", Thickness: mm("-9 mm"), Modulus: e}), "thickness of cap"},
		{"layer without modulus", parts("10 mm", "15 mm", "40 mm", nil, layer, fasteners.Layer{Name: "block", Thickness: mm("9 mm")}), "modulus of block"},
		// tan φ = 0.362 + 0.032 ln(0.0001/15/2) + 0.153 ln(16/15) = -0.032.
		{"a foil", parts("11 mm", "15 mm", "16 mm", nil, fasteners.Layer{Name: "foil", Thickness: mm("0.0001 mm"), Modulus: e}), "cone of pressure"},
		{"no bolt stiffness", second(jointOf("0 N/mm", "5 N/mm").LoadFactor()), "stiffness of the bolt"},
		{"no members' stiffness", second(jointOf("5 N/mm", "0 N/mm").Tightening()), "stiffness of the clamped parts"},
		{"lengths that do not add up", second(jointOf("200 kN/mm", "800 kN/mm").ThermalChange(warm("50 mm"), warm("49 mm"))), "clamped parts"},
		{"stretch of nothing", stretch, "stiffness of the bolt"},
		{"half a stretch", half, "stretch"},
		{"half a stiffness", open, "stiffness of the bolt"},
		{"heated nothing", rise, "heated bolt"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			var got *units.Error
			if !errors.Is(test.err, fasteners.ErrImpossible) || !errors.As(test.err, &got) {
				t.Fatalf("error %v, want one of kind ErrImpossible", test.err)
			}
			if got.Where != test.what {
				t.Errorf("where %q, want %q", got.Where, test.what)
			}
		})
	}
}

// A bolt of 100 to 200 kN/mm by hand: 100 kN/mm on 0.01 mm is 1 kN, 200 kN/mm on 0.03 mm is 6 kN,
// and below zero, where a reading's doubt may reach, the stiffest bolt gives the least.
func TestStretchAndPreloadByHand(t *testing.T) {
	k := units.MustParse[units.StiffnessInterval]("100..200 kN/mm")
	for stretch, preload := range map[string]string{"0.01..0.03 mm": "1..6 kN", "-0.02..0.03 mm": "-4..6 kN", "-0.03..-0.01 mm": "-6..-1 kN"} {
		if got, err := fasteners.PreloadFromStretch(k, interval(stretch)); err != nil || !got.Equal(units.MustParse[units.ForceInterval](preload)) {
			t.Errorf("%s is %v, %v; want %s", stretch, got, err, preload)
		}
	}
	for preload, stretch := range map[string]string{"2..6 kN": "0.01..0.06 mm", "-4..6 kN": "-0.04..0.06 mm", "-6..-2 kN": "-0.06..-0.01 mm"} {
		if got, err := fasteners.StretchFromPreload(k, units.MustParse[units.ForceInterval](preload)); err != nil || !got.Equal(interval(stretch)) {
			t.Errorf("%s is %v, %v; want %s", preload, got, err, stretch)
		}
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
	part := func(length, expansion string) fasteners.Heated {
		return fasteners.Heated{
			Length: units.MustParseLength(length), Expansion: ratio(expansion),
			From: units.MustParse[units.Temperature]("18 °C"), To: units.MustParse[units.Temperature]("98 °C"),
		}
	}
	got, err := jointOf("200 kN/mm", "600 kN/mm").ThermalChange(part("50 mm", "11.5 ppm"), part("30 mm", "23.1 ppm"), part("20 mm", "23.1 ppm"))
	if err != nil {
		t.Fatal(err)
	}
	if want := units.MustParseForce("6960 N"); !got.Equal(want) {
		t.Errorf("change %v, want %v", got, want)
	}
}
