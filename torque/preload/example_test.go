package preload_test

import (
	"errors"
	"fmt"

	"github.com/shopspring/decimal"

	"example.com/closefit/fasteners"
	"example.com/closefit/torque/preload"
	"example.com/closefit/units"
)

// What 23 N·m promises on an oiled M11 bolt whose friction is known to a range.
func ExampleScrew_Working() {
	screw := preload.Screw{Thread: fasteners.MustParseThread("M11"), Face: units.MustParseLength("17.4 mm"), Hole: units.MustParseLength("12 mm")}
	oiled := units.MustParse[units.RatioInterval]("0.09..0.13")
	w, err := screw.Working(units.MustParse[units.TorqueInterval]("23 N·m"), preload.Friction{Thread: oiled, Bearing: oiled}, units.NewtonMetre, units.Kilonewton, 1)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(w)
	// Output:
	// what 23.0 N·m promises on M11
	//   F = T / ( P/(2π) + 0.577 d2 μth + 0.5 Db μb )
	//   T = 23.0 N·m, P = 1.500 mm, d2 = 10.026 mm, Db = 14.700 mm, μth = 0.09..0.13, μb = 0.09..0.13
	//   = 11.8..16.2 kN
	//   source: ISO 16047:2005
	//   note: of the torque, 14 % stretches the bolt, 38 % rubs in the thread and 48 % under the head
	//   note: the largest preload is 1.37 times the smallest
}

func ExampleScrew_YieldPreload() {
	m12 := preload.Screw{Thread: fasteners.MustParseThread("M12"), Face: units.MustParseLength("16.7 mm"), Hole: units.MustParseLength("13.5 mm")}
	class, err := fasteners.StrengthOf("8.8", m12.Thread)
	if err != nil {
		fmt.Println(err)
		return
	}
	force, err := m12.YieldPreload(units.Exactly(class.Yield), units.MustParseRatio("90 %"), units.Length{}, units.MustParse[units.RatioInterval]("0.12"))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(force.FormatOutward(units.Kilonewton, 1))
	// Output:
	// 43.1..43.2 kN
}

// A rod bolt of an invented engine: 14 N·m, then 85°.
func ExampleYieldBolt_Forecast() {
	k, err := fasteners.Joint{Bolt: units.MustParse[units.Stiffness]("210 kN/mm"), Members: units.MustParse[units.Stiffness]("790 kN/mm")}.Tightening()
	if err != nil {
		fmt.Println(err)
		return
	}
	bolt := preload.YieldBolt{
		Screw:     preload.Screw{Thread: fasteners.MustParseThread("M9x1"), Face: units.MustParseLength("15.3 mm"), Hole: units.MustParseLength("9.5 mm")},
		Friction:  preload.Friction{Thread: units.MustParse[units.RatioInterval]("0.10..0.16"), Bearing: units.MustParse[units.RatioInterval]("0.10..0.16")},
		Stiffness: units.PlusMinus(k, k.Mul(decimal.New(1, -1))),
		Yield:     units.MustParse[units.PressureInterval]("940..1080 MPa"),
	}
	snug, turn := units.MustParse[units.TorqueInterval]("14 ±0.6 N·m"), units.MustParse[units.AngleInterval]("85 ±4 °")
	f, err := bolt.Forecast(snug, turn)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(f.Working(units.NewtonMetre, units.Kilonewton, 1))
	why, err := bolt.Scattering(snug, turn)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(why.Working(units.NewtonMetre, units.Kilonewton, 1))
	// Output:
	// what to expect of M9x1
	//   snug 13.4..14.6 N·m
	//     = 6.9..11.6 kN, not yielded
	//   turn 81..89 °
	//     = 40.5..51.0 kN, perhaps yielded; 0..30 % of the turn is plastic and leaves 0.000..0.074 mm
	//   F = min( F0 + k P θ/360°, Fy )
	//   k = 149.3..182.5 kN/mm, P = 1.000 mm, Fy = 41.1..51.0 kN, μth = 0.1..0.16, μb = 0.1..0.16
	//   = yield begins after a turn of 62..104 °
	//   source: VDI 2230-1:2015, 5.4.3 and 5.5.1
	//   note: a bolt that was tightened past yield is scrap once it is loosened: never use it again
	//   note: this is what to expect, not what to do: the engine maker's manual comes first
	//
	// why the turn scatters less than the torque
	//   by torque alone, 70.0..76.4 N·m
	//     friction
	//       = 38.0..58.1 kN, αA = 1.52
	//     the tool's torque
	//       = 44.0..48.0 kN, αA = 1.09
	//     all together
	//       = 36.4..60.6 kN, αA = 1.66
	//   by snug torque and turn
	//     friction
	//       = 44.2..47.7 kN, αA = 1.08
	//     the tool's snug torque
	//       = 45.9..46.0 kN, αA = 1.00
	//     the angle
	//       = 45.9..46.0 kN, αA = 1.00
	//     the joint's stiffness
	//       = 44.0..46.0 kN, αA = 1.04
	//     the bolt's yield strength
	//       = 42.8..48.0 kN, αA = 1.12
	//     all together
	//       = 40.5..51.0 kN, αA = 1.26
	//   source: VDI 2230-1:2015, 5.4.3, for the tightening factor αA = Fmax/Fmin
	//   note: the torque alone may ask for up to 60.6 kN of a bolt that yields at 41.1..51.0 kN: slick threads would be past yield and nobody would know
	//   note: a bolt that the turn takes past yield is scrap once it is loosened; the engine maker's manual comes first
}

func ExampleStretchWorking() {
	w, err := preload.StretchWorking(units.MustParseLength("14 mm"), units.MustParseRatio("9 %"), units.MustParseLengthInterval("0.08..0.21 mm"), 3, units.Millimetre, 2)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(w)
	// Output:
	// stretch left in a yielded bolt, at the most
	//   after use 1
	//     = 83..94 %
	//   after use 2
	//     = 66..88 %
	//   after use 3
	//     = 50..81 %
	//   1 - n Δl / (A l)
	//   Δl = 0.08..0.21 mm, A = 9 %, l = 14.00 mm, A l = 1.26 mm
	//   source: ISO 898-1:2013, 9.7, for the elongation
	//   note: a bolt that was tightened past yield is scrap: this shows why, and permits nothing
	//   note: the engine maker's manual comes first
}

// A torque with its tolerance, and one without.
func ExampleWrench_Settings() {
	w := preload.Wrench{Range: units.MustParse[units.TorqueInterval]("20..100 N·m"), Graduation: units.MustParseTorque("2 N·m"), Accuracy: units.MustParseRatio("4 %")}
	for _, target := range []string{"29 N·m", "26.5..31 N·m", "28..30 N·m", "10 N·m"} {
		settings, err := w.Settings(units.MustParse[units.TorqueInterval](target))
		if err != nil {
			fmt.Println(err)
			continue
		}
		gets, err := w.Applied(settings[0])
		fmt.Println(target, "set", settings, "and the bolt gets", gets.FormatOutward(units.NewtonMetre, 2), err)
	}
	// Output:
	// 29 N·m set [28 N·m 30 N·m] and the bolt gets 26.92..29.17 N·m <nil>
	// 26.5..31 N·m set [28 N·m] and the bolt gets 26.92..29.17 N·m <nil>
	// target: not possible: 28..30 N·m, where the nearest setting 28 N·m gives 26.923..29.167 N·m; take a finer or more accurate wrench
	// target: not possible: 10 N·m on a wrench for 20..100 N·m; take a wrench whose range holds it, best in its middle
}

// A crow's foot of 50 mm straight on a wrench whose lever is 400 mm.
func ExampleExtension() {
	w := preload.Wrench{
		Range: units.MustParse[units.TorqueInterval]("20..200 N·m"), Graduation: units.MustParseTorque("1 N·m"), Accuracy: units.MustParseRatio("4 %"),
		Extension: &preload.Extension{Lever: units.MustParseLength("400 mm"), Offset: units.MustParseLength("50 mm")},
	}
	working, err := w.Working(units.MustParse[units.TorqueInterval]("90.3 N·m"), units.NewtonMetre, 1)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(working)
	// Output:
	// setting of the wrench for 90.3 N·m
	//   with the extension
	//     TW = TB L / ( L + E cos β )
	//     TB = 90.3 N·m, L = 400 mm, E = 50 mm, β = 0 °
	//     = 80.3 N·m
	//     source: moments about the bolt
	//     note: the hand must be where L was measured to
	//   set 80.0 N·m
	//     T = S/(1 + a) (L + E cos β)/L .. S/(1 - a) (L + E cos β)/L
	//     S = 80.0 N·m, a = 4 %
	//     = 86.5..93.8 N·m at the bolt
	//     note: the setting lies 0.33 % below the target
	//   set 81.0 N·m
	//     T = S/(1 + a) (L + E cos β)/L .. S/(1 - a) (L + E cos β)/L
	//     S = 81.0 N·m, a = 4 %
	//     = 87.6..95.0 N·m at the bolt
	//     note: the setting lies 0.91 % above the target
	//   source: ISO 6789-1:2017, for the accuracy
}

func ExampleSwings() {
	turn := units.MustParseAngle("90°")
	swings, err := preload.Swings(turn, units.MustParseAngle("50°"), units.MustParseAngle("15°"))
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, line := range preload.SwingInstructions(swings, 6) {
		fmt.Println(line)
	}
	eye := units.MustParseAngle("3°") // what the eye can tell on a paint mark, once a swing
	fmt.Println("turned", units.PlusMinus(turn, eye.MulInt(int64(len(swings)))))
	// Output:
	// mark the bolt's head and the part beside it in one line of paint before the first swing
	// swing 1 of 2: turn 45 ° (3/4 of the head's 6 points)
	// swing 2 of 2: turn 45 ° further, to 90 ° in all (3/4 of the head's 6 points)
	// the paint must now stand at the whole turn; if nobody is sure how far a bolt has turned, do not turn it again: replace it, as the engine maker's manual says
	// turned 84..96 °
}

// Two ways to write the same friction: coefficients, and the nut factor of the screw.
func ExampleScrew_NutFactor() {
	screw := preload.Screw{Thread: fasteners.MustParseThread("7/16-20 UNF"), Face: units.MustParseLength("0.68 in"), Hole: units.MustParseLength("0.46 in")}
	friction := units.MustParse[units.RatioInterval]("0.10..0.14")
	k, err := screw.NutFactor(preload.Friction{Thread: friction, Bearing: friction})
	if err != nil {
		fmt.Println(err)
		return
	}
	back, err := screw.FrictionFromNutFactor(k)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("K", k.FormatOutward(units.One, 4))
	fmt.Println("μ", back.FormatOutward(units.One, 4))
	// Output:
	// K 0.1367..0.1842
	// μ 0.0999..0.1401
}

func ExampleMethods() {
	for _, m := range preload.Methods() {
		if m.Key != "torque-estimated" {
			continue
		}
		fmt.Println(m.Name, m.Factor)
		least, err := m.LeastPreload(units.MustParseForce("41.9 kN"))
		fmt.Println("least preload", least.FormatOutward(units.Kilonewton, 1), err)
	}
	// Output:
	// torque wrench, friction estimated within 0.08 to 0.16 1.6..2
	// least preload 20.9..26.2 kN <nil>
}

// A range is what friction is known to: measured, or by a handbook's class.
func ExampleParseFriction() {
	measured, err := preload.ParseFriction("0.14 ±0.02")
	fmt.Println(measured, err)
	class, err := preload.ParseFriction("B")
	fmt.Println(class, err)
	_, err = preload.ParseFriction("12")
	fmt.Println(err)
	// Output:
	// 0.12..0.16 <nil>
	// 0.08..0.16 <nil>
	// friction: not possible: 12, above 1; write "0.12"
}

// The torque for a preload of 30 kN on a plain M10 bolt, at every friction of class B.
func ExampleHexScrew() {
	screw, err := preload.HexScrew(fasteners.MustParseThread("M10"))
	if err != nil {
		fmt.Println(err)
		return
	}
	friction, err := preload.ParseFriction("B")
	if err != nil {
		fmt.Println(err)
		return
	}
	torque, err := screw.Torque(units.MustParse[units.ForceInterval]("30 kN"), preload.Friction{Thread: friction, Bearing: friction})
	fmt.Println(screw.Face, screw.Hole, torque.FormatOutward(units.NewtonMetre, 1), err)
	// By hand: Db = (14.63 + 11)/2 = 12.815 mm, P/2π = 0.238732, 0.577·9.025721 = 5.207841; with
	// 0.08 the lever is 1.167959 mm, with 0.16 it is 2.097187 mm, times 30 kN.
	// Output:
	// 14.63 mm 11 mm 35.0..63.0 N·m <nil>
}

// What a handbook says of a surface in one number: T = K F d, 0.18 · 30 kN · 10 mm.
func ExampleNutFactorOf() {
	k, errFactor := preload.NutFactorOf("lubricated")
	screw, errScrew := preload.HexScrew(fasteners.MustParseThread("M10"))
	if err := errors.Join(errFactor, errScrew); err != nil {
		fmt.Println(err)
		return
	}
	friction, err := screw.FrictionFromNutFactor(k)
	if err != nil {
		fmt.Println(err)
		return
	}
	torque, err := screw.Torque(units.MustParse[units.ForceInterval]("30 kN"), preload.Friction{Thread: friction, Bearing: friction})
	fmt.Println(friction.FormatOutward(units.One, 4), torque.Mid().Format(units.NewtonMetre, 3, units.HalfEven), err)
	// Output:
	// 0.1344..0.1345 54.000 N·m <nil>
}

// A milled cap on a milled block, in shear: what the joint embeds, and what that costs.
func ExampleEmbedding() {
	milled := units.MustParseLengthInterval("10..25 µm")
	e := preload.Embedding{Load: preload.Shear, Thread: units.MustParseLengthInterval("6..10 µm"), Faces: []units.LengthInterval{milled}, Inner: []units.LengthInterval{milled}}
	w, err := e.Working(units.MustParse[units.StiffnessInterval]("150..180 kN/mm"), units.Kilonewton, 2)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(w)
	// Output:
	// preload lost by embedding, load in shear
	//   thread, Rz 6..10 µm
	//     = 3 µm
	//   head or nut, Rz 10..25 µm
	//     = 4.5 µm
	//   inner joint, Rz 10..25 µm
	//     = 2.5 µm
	//   FZ = fZ / (δS + δP) = fZ k
	//   fZ = 10 µm, k = 150.0..180.0 kN/mm
	//   = 1.50..1.80 kN
	//   source: VDI 2230-1:2003, table 5, from memory; VDI 2230-1:2015, 5.4.2.1
	//   note: guide values of solid steel parts: a single joint may embed less or more, and paint, gaskets and burrs embed far more
}

// An M8 bolt of class 10.9 in a tapped hole of an aluminium part: how deep it has to go in.
func ExampleEngagement_Stripping() {
	e := preload.Engagement{
		Thread: fasteners.MustParseThread("M8"), Length: units.MustParseLengthInterval("14 mm"),
		Bolt: units.MustParse[units.PressureInterval]("1040..1248 MPa"), Hole: units.MustParse[units.PressureInterval]("240..290 MPa"),
		BoltShear: units.MustParse[units.RatioInterval]("0.6..0.65"), HoleShear: units.MustParse[units.RatioInterval]("0.6..0.7"),
	}
	s, err := e.Stripping()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(s.Working(units.Kilonewton, 1))
	// Output:
	// M8 over 14.000 mm in a tapped hole
	//   the bolt breaks
	//     F = Rm As
	//     Rm = 1040..1248 MPa
	//     = 38.0..45.7 kN
	//   its thread strips
	//     F = C1 C2 τ AS (L - 0.8 P)/L
	//     τ = 0.6..0.65 · 1040..1248 MPa
	//     = 88.4..145.6 kN
	//   the hole's thread strips
	//     F = C1 C3 τ AN (L - 0.8 P)/L
	//     τ = 0.6..0.7 · 240..290 MPa
	//     = 31.5..60.2 kN
	//   = a thread may strip before the bolt breaks
	//   source: VDI 2230-1:2015, 5.5.5, from memory
	//   note: from an engagement of 19.854 mm on the bolt breaks first
}

// The shear areas of M6 over one diameter, least and greatest.
func ExampleShearAreas() {
	bolt, nut, err := preload.ShearAreas(fasteners.MustParseThread("M6"), units.MustParseLengthInterval("6 mm"))
	fmt.Println(bolt.FormatOutward(units.SquareMillimetre, 1), nut.FormatOutward(units.SquareMillimetre, 1), err)
	// Output:
	// 51.8..68.2 mm² 73.1..96.9 mm² <nil>
}

// What M6 of class 8.8 must stand in torsion, and the key for its socket.
func ExampleBreakingTorque() {
	s, errClass := fasteners.StrengthOf("8.8", fasteners.MustParseThread("M6"))
	bolt, errBolt := preload.BreakingTorque(s)
	key, errKey := preload.KeyTorque(units.MustParseLength("5 mm"))
	fmt.Println(bolt.Format(units.NewtonMetre, 0, units.HalfEven), key, errors.Join(errClass, errBolt, errKey))
	// Output:
	// 13 N·m 30 N·m <nil>
}
