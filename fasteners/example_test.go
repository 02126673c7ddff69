package fasteners_test

import (
	"encoding/json"
	"errors"
	"fmt"

	"github.com/shopspring/decimal"

	"example.com/closefit/fasteners"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A rod bolt of an invented engine, measured with one micrometer when it was new and now; its
// invented manual allows 0.15 mm. What the micrometer errs by in every reading cancels.
func ExampleStretch() {
	mm := units.MustParseLength
	micrometer := measure.LengthInstrument{Name: "micrometer", Common: mm("0.008 mm"), Repeats: mm("0.006 mm")}
	whenNew, errNew := micrometer.Read("bolt 2b when new", mm("48.49 mm"))
	now, errNow := micrometer.Read("bolt 2b now", mm("48.65 mm"))
	if err := errors.Join(errNew, errNow); err != nil {
		fmt.Println(err)
		return
	}
	stretch := fasteners.Stretch(now, whenNew)
	fmt.Println(stretch.Interval().FormatOutward(units.Millimetre, 3))
	fmt.Println(measure.Assess(stretch.Reading(), units.MustParseLengthInterval("<= 0.15 mm")).Verdict)
	// Output:
	// 0.151..0.169 mm
	// above limit
}

func ExampleNeckDown() {
	shank := measure.Given(units.MustParseLengthInterval("8.40 ±0.01 mm"), "caliper")
	thinnest := measure.Given(units.MustParseLengthInterval("8.31 ±0.02 mm"), "caliper")
	neck := fasteners.NeckDown(shank, thinnest)
	fmt.Println(neck.Interval(), measure.Assess(neck.Reading(), units.MustParseLengthInterval("<= 0.05 mm")).Verdict)
	// Output:
	// 0.06..0.12 mm above limit
}

// A bolt that runs badly and was not rolled, whose length nobody can tell from its limit.
func ExampleInspect() {
	answers := map[string]bool{}
	for _, q := range fasteners.Questions() {
		answers[q.Key] = q.Good
	}
	length := measure.Given(units.MustParseLengthInterval("62.10..62.20 mm"), "caliper")
	limits := units.MustParseLengthInterval("<= 62.15 mm")
	reuse, findings, err := fasteners.Inspect(answers, measure.Assess(length, limits))
	fmt.Println(reuse, findings, err)

	answers["runs"] = false // it binds in the nut
	delete(answers, "straight")
	reuse, findings, err = fasteners.Inspect(answers, measure.Assess(length, limits))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(reuse)
	for _, f := range findings {
		fmt.Println(f)
	}
	// Output:
	// undecided [size 1: undecided: 62.1..62.2 mm, limits <= 62.15 mm] <nil>
	// replace
	// runs: replace: the thread is stretched or damaged
	// straight: not answered: Rolled on a flat plate, does it run straight?
	// size 1: undecided: 62.1..62.2 mm, limits <= 62.15 mm
}

func ExampleParseThread() {
	for _, s := range []string{"M10", "M10x1.25", "3/8-24 UNF", "10-32", "M10x1,5"} {
		t, err := fasteners.ParseThread(s)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(t, t.PitchDiameter().Format(units.Millimetre, 3, units.HalfEven), t.StressArea().Format(units.SquareMillimetre, 2, units.HalfEven))
	}
	// Output:
	// M10 9.026 mm 57.99 mm²
	// M10x1.25 9.188 mm 61.20 mm²
	// 3/8-24 UNF 8.838 mm 56.65 mm²
	// #10-32 UNF 4.310 mm 12.90 mm²
	// thread "M10x1,5": not possible: a decimal comma; write "M10"
}

func ExampleThread_Limits() {
	l, err := fasteners.MustParseThread("M10").Limits("6g")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("major", l.Major)
	fmt.Println("pitch", l.Pitch)
	fmt.Println("minor", l.Minor)
	fmt.Println("from the standard's tables:", l.Tabulated)
	// Output:
	// major 9.732..9.968 mm
	// pitch 8.862..8.994 mm
	// minor <= 8.344 mm
	// from the standard's tables: true
}

func ExampleStrengthOf() {
	for _, bolt := range []struct{ class, thread string }{{"10.9", "M10"}, {"8", "7/16-20 UNF"}} {
		s, err := fasteners.StrengthOf(bolt.class, fasteners.MustParseThread(bolt.thread))
		if err != nil {
			fmt.Println(err)
			return
		}
		proof, err := s.Load(s.Proof)
		fmt.Println(s.Thread, s.Class, s.Standard, proof.Format(units.Kilonewton, 2, units.HalfEven), err)
	}
	// Output:
	// M10 10.9 ISO 898-1:2013 48.14 kN <nil>
	// 7/16-20 UNF 8 SAE J429:2014 63.36 kN <nil>
}

// The joint of a main bearing cap, of invented sizes: an M11 bolt in a tapped block of cast
// iron through a cap of the same.
func ExampleBoltShape() {
	steel, iron := units.MustParse[units.Pressure]("205 GPa"), units.MustParse[units.Pressure]("110 GPa")
	m11 := fasteners.MustParseThread("M11")
	bolt, errBolt := fasteners.BoltShape{
		Thread: m11, Head: fasteners.HexHead, Seat: fasteners.TappedHole, Modulus: steel, SeatModulus: iron,
		Grip:       units.MustParseLength("60 mm"),
		Shank:      []fasteners.Segment{{Name: "shank", Length: units.MustParseLength("52 mm"), Area: m11.ShankArea(), Modulus: steel}},
		FreeThread: units.MustParseLength("8 mm"),
	}.Stiffness()
	parts, errParts := fasteners.ClampedParts{
		Seat: fasteners.TappedHole, Hole: units.MustParseLength("12 mm"), Face: units.MustParseLength("18 mm"), Outside: units.MustParseLength("30 mm"),
		Layers: []fasteners.Layer{{Name: "cap", Thickness: units.MustParseLength("60 mm"), Modulus: iron}},
	}.Stiffness()
	factor, errFactor := fasteners.Joint{Bolt: bolt, Members: parts}.LoadFactor()
	stretch, errStretch := fasteners.StretchFromPreload(units.Exactly(bolt), units.MustParse[units.ForceInterval]("45..52 kN"))
	if err := errors.Join(errBolt, errParts, errFactor, errStretch); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("bolt ", bolt.Format(units.KilonewtonPerMillimetre, 1, units.HalfEven))
	fmt.Println("parts", parts.Format(units.KilonewtonPerMillimetre, 1, units.HalfEven))
	fmt.Println("the bolt feels", factor.In(units.One, 3), "of an outer load")
	fmt.Println("stretch", stretch.FormatOutward(units.Millimetre, 3))
	// Output:
	// bolt  232.7 kN/mm
	// parts 894.9 kN/mm
	// the bolt feels 0.206 of an outer load
	// stretch 0.193..0.224 mm
}

// A waisted bolt, piece by piece, by its drawing.
func ExampleBoltStiffness() {
	mm, steel := units.MustParseLength, units.MustParse[units.Pressure]("205 GPa")
	k, err := fasteners.BoltStiffness(
		fasteners.Segment{Name: "waist", Length: mm("34 mm"), Area: units.SquareMillimetre.Of(decimal.RequireFromString("44.2")), Modulus: steel},
		fasteners.Segment{Name: "thread", Length: mm("9 mm"), Area: fasteners.MustParseThread("M9x1").StressArea(), Modulus: steel})
	fmt.Println(k.Format(units.KilonewtonPerMillimetre, 0, units.HalfEven), err)
	// Output:
	// 217 kN/mm <nil>
}

// Two plates of 12 and 15 mm, the lower of cast iron, under a head of 16 mm and over a nut: with
// the half angle of VDI 2230, and with the 30° of textbooks.
func ExampleClampedParts() {
	mm, textbook := units.MustParseLength, units.MustParseAngle("30°")
	parts := fasteners.ClampedParts{
		Seat: fasteners.Nut, Hole: mm("10 mm"), Face: mm("16 mm"), Outside: mm("45 mm"),
		Layers: []fasteners.Layer{
			{Name: "cap", Thickness: mm("12 mm"), Modulus: units.MustParse[units.Pressure]("205 GPa")},
			{Name: "block", Thickness: mm("15 mm"), Modulus: units.MustParse[units.Pressure]("110 GPa")},
		},
	}
	for _, angle := range []*units.Angle{nil, &textbook} {
		parts.HalfAngle = angle
		k, err := parts.Stiffness()
		fmt.Println(k.Format(units.KilonewtonPerMillimetre, 0, units.HalfEven), err)
	}
	// Output:
	// 1478 kN/mm <nil>
	// 1578 kN/mm <nil>
}

// An outer load of 12 kN on a bolt preloaded to 40 to 46 kN.
func ExampleLoadedJoint_Working() {
	joint := fasteners.Joint{Bolt: units.MustParse[units.Stiffness]("240 kN/mm"), Members: units.MustParse[units.Stiffness]("960 kN/mm")}
	loaded, err := joint.Under(units.MustParse[units.ForceInterval]("40..46 kN"), units.MustParse[units.ForceInterval]("12 kN"))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(loaded.Working(units.Kilonewton, 1))
	// Output:
	// how the joint shares a load of 12.0 kN
	//   load factor
	//     Φ = kb / (kb + km)
	//     240.0 kN/mm / (240.0 kN/mm + 960.0 kN/mm)
	//     = 0.200
	//   load at which the parts separate
	//     P0 = Fi / (1 - Φ)
	//     40.0..46.0 kN / (1 - 0.200)
	//     = 50.0..57.5 kN
	//   tension of the bolt
	//     F = Fi + Φ P
	//     40.0..46.0 kN + 0.200 · 12.0 kN
	//     = 42.4..48.4 kN
	//   what still presses the parts together
	//     Fm = Fi - (1 - Φ) P
	//     40.0..46.0 kN - (1 - 0.200) · 12.0 kN
	//     = 30.4..36.4 kN
	//   source: Mechanical Engineering Design, 9th ed., 8-7 and 8-8
	//   note: the parts stay clamped
	//   note: stiffnesses come from idealised cones of pressure, good to some 10 % for solid metal parts
}

// A load beyond the separation load: the bolt bears the whole of it.
func ExampleJoint_Under() {
	joint := fasteners.Joint{Bolt: units.MustParse[units.Stiffness]("240 kN/mm"), Members: units.MustParse[units.Stiffness]("960 kN/mm")}
	for _, outer := range []string{"12 kN", "60 kN"} {
		loaded, err := joint.Under(units.MustParse[units.ForceInterval]("40..46 kN"), units.MustParse[units.ForceInterval](outer))
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Println(loaded.Clamped, loaded.Bolt, loaded.Clamp)
	}
	// Output:
	// conforming 42400..48400 N 30400..36400 N
	// below limit 60000 N 0 N
}

// A bolt that stretched by 0.19 ±0.01 mm while it was tightened, its stiffness known to a
// twentieth.
func ExamplePreloadFromStretch() {
	stiffness := units.MustParse[units.StiffnessInterval]("220 ±11 kN/mm")
	stretch := units.MustParseLengthInterval("0.19 ±0.01 mm")
	preload, err := fasteners.PreloadFromStretch(stiffness, stretch)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(preload.FormatOutward(units.Kilonewton, 1))
	// Output:
	// 37.6..46.2 kN
}

// A steel bolt through 55 mm of aluminium, both warming by 70 K.
func ExampleJoint_ThermalChange() {
	joint := fasteners.Joint{Bolt: units.MustParse[units.Stiffness]("240 kN/mm"), Members: units.MustParse[units.Stiffness]("720 kN/mm")}
	heated := func(expansion int64) fasteners.Heated {
		return fasteners.Heated{
			Length: units.MustParseLength("55 mm"), Expansion: units.PartsPerMillion.Of(decimal.New(expansion, -1)),
			From: units.MustParse[units.Temperature]("20 °C"), To: units.MustParse[units.Temperature]("90 °C"),
		}
	}
	change, err := joint.ThermalChange(heated(115), heated(215)) // 11.5 and 21.5 ppm for each kelvin
	fmt.Println(change, err)
	// Output:
	// 6930 N <nil>
}

// A joint as two springs, written for another program and read back.
func ExampleJoint() {
	joint := fasteners.Joint{Bolt: units.MustParse[units.Stiffness]("240 kN/mm"), Members: units.MustParse[units.Stiffness]("960 kN/mm")}
	text, err := json.Marshal(joint)
	fmt.Println(string(text), err)
	err = json.Unmarshal([]byte(`{"bolt": "240 kN/mm"}`), &joint)
	fmt.Println(err)
	// Output:
	// {"bolt":"240000 N/mm","members":"960000 N/mm"} <nil>
	// joint: not of the exchange form: no key "members"; write it, with null if there is nothing
}

// How much warmer than the parts a bolt of 80 mm must be to be 0.12 mm longer.
func ExampleRiseForStretch() {
	rise, err := fasteners.RiseForStretch(units.MustParseLength("0.12 mm"), units.MustParseLength("80 mm"), units.PartsPerMillion.Of(decimal.New(115, -1)))
	fmt.Println(rise.Format(units.KelvinDifference, 0, units.HalfEven), err)
	// Output:
	// 130 K <nil>
}

func ExampleThread_Working() {
	fmt.Println(fasteners.MustParseThread("3/8-24 UNF").Working())
	// Output:
	// 3/8-24 UNF
	//   height of the triangle
	//     H = 0.866025404 P
	//     0.866025404 · 0.041667 in
	//     = 0.036084 in
	//     source: ISO 68-1:1998
	//   pitch diameter
	//     d2 = d - 3/4 H
	//     0.3750 in - 3/4 · 0.036084 in
	//     = 0.3479 in
	//     source: ASME B1.1-2003
	//   minor diameter of the nut
	//     D1 = d - 5/4 H
	//     0.3750 in - 5/4 · 0.036084 in
	//     = 0.3299 in
	//     source: ASME B1.1-2003
	//   root diameter of the bolt
	//     d3 = D1 - H/8
	//     0.3299 in - 1/8 · 0.036084 in
	//     = 0.3254 in
	//     source: ASME B1.1-2003, appendix B
	//   stress area
	//     As = π/4 (d2 - 3/8 H)²
	//     d2 = 0.3479 in, H = 0.036084 in
	//     = 0.0878 in²
	//     source: ASME B1.1-2003, appendix B
	//   lead angle
	//     φ = arctan(P / (π d2))
	//     arctan(0.041667 in / (π · 0.3479 in))
	//     = 2.1830 °
	//     source: definition of the lead angle
}

func ExampleStrength_Working() {
	m9 := fasteners.MustParseThread("M9x1")
	s, err := fasteners.StrengthOf("10.9", m9)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(s.Working(units.Kilonewton))
	// Output:
	// M9x1 of class 10.9
	//   proof load
	//     Fp = As Sp
	//     51.0 mm² · 830 MPa
	//     = 42.3 kN
	//   yield, without torsion
	//     Fy = As Re
	//     51.0 mm² · 940 MPa
	//     = 47.9 kN
	//   ultimate load
	//     Fm = As Rm
	//     51.0 mm² · 1040 MPa
	//     = 53.0 kN
	//   source: ISO 898-1:2013
	//   note: least values, of a new bolt that bears the mark; tightening twists the bolt as well and reaches yield earlier
}

// A thread whose diameter and pitch were measured or computed, and not read as a designation.
func ExampleMetricThread() {
	t, err := fasteners.MetricThread(units.MustParseLength("12 mm"), units.MustParseLength("1.25 mm"))
	fmt.Println(t, t.Written(t.PitchDiameter()), err)
	// Output: M12x1.25 11.188 mm <nil>
}
