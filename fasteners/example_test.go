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
	limits := units.MustParseLengthInterval("<= 0.15 mm")
	fmt.Println(stretch.Interval().FormatOutward(units.Millimetre, 3))
	fmt.Println(fasteners.ReuseOf(measure.Assess(stretch.Reading(), limits)))
	// Output:
	// 0.151..0.169 mm
	// replace
}

func ExampleNeckDown() {
	shank := measure.Given(units.MustParseLengthInterval("8.40 ±0.01 mm"), "caliper")
	thinnest := measure.Given(units.MustParseLengthInterval("8.31 ±0.02 mm"), "caliper")
	neck := fasteners.NeckDown(shank, thinnest)
	fmt.Println(neck.Interval(), fasteners.ReuseOf(measure.Assess(neck.Reading(), units.MustParseLengthInterval("<= 0.05 mm"))))
	// Output:
	// 0.06..0.12 mm replace
}

// A diameter, or a length, that a manual limits by itself is a reading like any other.
func ExampleReuseOf() {
	pilot := measure.Given(units.MustParseLengthInterval("0.6241..0.6243 in"), "micrometer")
	limits := units.MustParseLengthInterval(">= 0.6242 in")
	fmt.Println(fasteners.ReuseOf(measure.Assess(pilot, limits)))
	var unmeasured measure.LengthReading
	fmt.Println(fasteners.ReuseOf(measure.Assess(unmeasured, limits)))
	// Output:
	// undecided
	// undecided
}

func ExampleReuseWorking() {
	now := measure.Given(units.MustParseLengthInterval("48.63 ±0.01 mm"), "micrometer")
	whenNew := measure.Given(units.MustParseLengthInterval("48.49 ±0.01 mm"), "micrometer, when new")
	limits := units.MustParseLengthInterval("<= 0.15 mm")
	fmt.Println(fasteners.ReuseWorking(fasteners.Stretch(now, whenNew), limits, units.Millimetre))
	// Output:
	// permanent stretch
	//   permanent stretch
	//     L, length now
	//       micrometer
	//       = 48.62..48.64 mm
	//     L0, length when new
	//       micrometer, when new
	//       = 48.48..48.5 mm
	//     smallest
	//       48.62 - 48.5
	//       = 0.12 mm
	//     largest
	//       48.64 - 48.48
	//       = 0.16 mm
	//     ΔL = L - L0
	//     = 0.12..0.16 mm
	//     source: interval arithmetic
	//     note: it cannot be below zero
	//   verdict
	//     all of the reading within the limits: conforming; none of it: outside
	//     0.12..0.16 mm against <= 0.15 mm
	//     = undecided
	//     source: ISO 14253-1:2017, default rule
	//     note: another instrument with an expanded uncertainty of 0.002 mm would settle it nine times in ten
	//   = undecided
	//   source: common practice, no source; the limits are the engine maker's
	//   note: a bolt that was tightened beyond yield, or is marked single use, is scrap whatever it measures; the engine maker's manual comes first
}

func ExampleInspect() {
	answers := map[string]bool{}
	for _, q := range fasteners.Questions() {
		answers[q.Key] = q.Good
	}
	answers["runs"] = false // it binds in the nut
	delete(answers, "straight")
	reuse, findings, err := fasteners.Inspect(answers)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(reuse)
	for _, f := range findings {
		fmt.Println(f)
	}
	// Output:
	// replace
	// runs: replace: the thread is stretched or damaged
	// straight: not answered: Rolled on a flat plate, does it run straight?
}

func ExampleTogether() {
	fmt.Println(fasteners.Together(fasteners.Reusable, fasteners.Undecided))
	fmt.Println(fasteners.Together(fasteners.Reusable, fasteners.Undecided, fasteners.Replace))
	// Output:
	// undecided
	// replace
}

func ExampleParseThread() {
	for _, s := range []string{"M10", "M10x1.25", "3/8-24 UNF", "10-32", "M10x1,5"} {
		t, err := fasteners.ParseThread(s)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(t, t.PitchDiameter().Format(units.Millimetre, 3, units.HalfEven), t.TabulatedStressArea())
	}
	// Output:
	// M10 9.026 mm 58 mm²
	// M10x1.25 9.188 mm 61.2 mm²
	// 3/8-24 UNF 8.838 mm 56.645048 mm²
	// #10-32 UNF 4.310 mm ≈12.896748 mm²
	// thread "M10x1,5": not a thread: a decimal comma; write "M10"
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

func ExampleISO898() {
	m10 := fasteners.MustParseThread("M10")
	s, err := fasteners.ISO898("10.9", m10)
	if err != nil {
		fmt.Println(err)
		return
	}
	proof, err := s.Load(s.Proof)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(s.Thread, "of class", s.Class, "proof load", proof)
	// Output:
	// M10 of class 10.9 proof load 48140 N
}

func ExampleSAEJ429() {
	t := fasteners.MustParseThread("7/16-20 UNF")
	s, err := fasteners.SAEJ429("8", t)
	if err != nil {
		fmt.Println(err)
		return
	}
	proof, err := s.Load(s.Proof)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(proof.Format(units.PoundForce, 0, units.HalfEven))
	// Output:
	// 14244 lbf
}

// The joint of a main bearing cap, of invented sizes: an M11 bolt in a tapped block of cast
// iron through a cap of the same.
func ExampleBoltShape() {
	steel, iron := units.MustParsePressure("205 GPa"), units.MustParsePressure("110 GPa")
	m11 := fasteners.MustParseThread("M11")
	bolt, err := fasteners.BoltShape{
		Thread: m11, Head: fasteners.HexHead, Seat: fasteners.IntoTapped, Modulus: steel, SeatModulus: iron,
		Grip:       units.MustParseLength("60 mm"),
		Shank:      []fasteners.Segment{{Name: "shank", Length: units.MustParseLength("52 mm"), Area: m11.ShankArea(), Modulus: steel}},
		FreeThread: units.MustParseLength("8 mm"),
	}.Stiffness()
	if err != nil {
		fmt.Println(err)
		return
	}
	parts, err := fasteners.DeformationCone{
		Seat: fasteners.IntoTapped, Hole: units.MustParseLength("12 mm"), Face: units.MustParseLength("18 mm"),
		Outside: units.MustParseLength("30 mm"), Grip: units.MustParseLength("60 mm"), Modulus: iron,
	}.Stiffness()
	if err != nil {
		fmt.Println(err)
		return
	}
	joint, err := fasteners.NewJoint(bolt, parts)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("bolt ", bolt.Format(units.KilonewtonPerMillimetre, 1, units.HalfEven))
	fmt.Println("parts", parts.Format(units.KilonewtonPerMillimetre, 1, units.HalfEven))
	fmt.Println("the bolt feels", joint.LoadFactor().In(units.One, 3), "of an outer load")
	stretch, err := fasteners.StretchFromPreload(units.Exactly(bolt), units.MustParse[units.ForceInterval]("45..52 kN"))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("stretch", stretch.FormatOutward(units.Millimetre, 3))
	// Output:
	// bolt  232.7 kN/mm
	// parts 894.9 kN/mm
	// the bolt feels 0.206 of an outer load
	// stretch 0.193..0.224 mm
}

// A waisted bolt, piece by piece, by its drawing.
func ExampleBoltStiffness() {
	mm, steel := units.MustParseLength, units.MustParsePressure("205 GPa")
	k, err := fasteners.BoltStiffness(
		fasteners.Segment{Name: "waist", Length: mm("34 mm"), Area: units.SquareMillimetre.Of(decimal.RequireFromString("44.2")), Modulus: steel},
		fasteners.Segment{Name: "thread", Length: mm("9 mm"), Area: fasteners.MustParseThread("M9x1").StressArea(), Modulus: steel})
	fmt.Println(k.Format(units.KilonewtonPerMillimetre, 0, units.HalfEven), err)
	// Output:
	// 217 kN/mm <nil>
}

// One part of steel, 40 mm thick and 32 mm wide around the bolt, with a nut.
func ExampleDeformationCone() {
	mm := units.MustParseLength
	k, err := fasteners.DeformationCone{
		Seat: fasteners.IntoNut, Hole: mm("11 mm"), Face: mm("15 mm"), Outside: mm("32 mm"), Grip: mm("40 mm"),
		Modulus: units.MustParsePressure("205 GPa"),
	}.Stiffness()
	fmt.Println(k.Format(units.KilonewtonPerMillimetre, 0, units.HalfEven), err)
	// Output:
	// 1419 kN/mm <nil>
}

// Two plates of 12 and 15 mm, the lower of cast iron, under a head of 16 mm.
func ExampleFrusta() {
	k, err := fasteners.Frusta{
		Hole: units.MustParseLength("10 mm"), Face: units.MustParseLength("16 mm"), HalfAngle: units.MustParseAngle("30°"),
		Layers: []fasteners.Layer{
			{Name: "cap", Thickness: units.MustParseLength("12 mm"), Modulus: units.MustParsePressure("205 GPa")},
			{Name: "block", Thickness: units.MustParseLength("15 mm"), Modulus: units.MustParsePressure("110 GPa")},
		},
	}.Stiffness()
	fmt.Println(k.Format(units.KilonewtonPerMillimetre, 0, units.HalfEven), err)
	// Output:
	// 1578 kN/mm <nil>
}

// An outer load of 12 kN on a bolt preloaded to 40 to 46 kN.
func ExampleLoadedJoint_Working() {
	joint, err := fasteners.NewJoint(units.MustParse[units.Stiffness]("240 kN/mm"), units.MustParse[units.Stiffness]("960 kN/mm"))
	if err != nil {
		fmt.Println(err)
		return
	}
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
	joint, err := fasteners.NewJoint(units.MustParse[units.Stiffness]("240 kN/mm"), units.MustParse[units.Stiffness]("960 kN/mm"))
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, outer := range []string{"12 kN", "60 kN"} {
		loaded, err := joint.Under(units.MustParse[units.ForceInterval]("40..46 kN"), units.MustParse[units.ForceInterval](outer))
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Println(loaded.Contact, loaded.Bolt, loaded.Clamp)
	}
	// Output:
	// clamped 42400..48400 N 30400..36400 N
	// parted 60000 N 0 N
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
	joint, err := fasteners.NewJoint(units.MustParse[units.Stiffness]("240 kN/mm"), units.MustParse[units.Stiffness]("720 kN/mm"))
	if err != nil {
		fmt.Println(err)
		return
	}
	heated := func(expansion int64) fasteners.Heated {
		return fasteners.Heated{
			Length: units.MustParseLength("55 mm"), Expansion: units.PartsPerMillion.Of(decimal.New(expansion, -1)),
			From: units.MustParseTemperature("20 °C"), To: units.MustParseTemperature("90 °C"),
		}
	}
	change, err := joint.ThermalChange(heated(115), heated(215)) // 11.5 and 21.5 ppm for each kelvin
	fmt.Println(change, err)
	// Output:
	// 6930 N <nil>
}

// A joint as two springs, written for another program and read back.
func ExampleJoint() {
	joint, err := fasteners.NewJoint(units.MustParse[units.Stiffness]("240 kN/mm"), units.MustParse[units.Stiffness]("960 kN/mm"))
	if err != nil {
		fmt.Println(err)
		return
	}
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
	s, err := fasteners.ISO898("10.9", m9)
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
