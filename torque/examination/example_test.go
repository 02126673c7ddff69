package examination_test

import (
	"errors"
	"fmt"

	"example.com/closefit/fasteners"
	"example.com/closefit/torque"
	"example.com/closefit/torque/examination"
	"example.com/closefit/torque/preload"
	"example.com/closefit/units"
)

// Two torques and a turn: what each is expected to do.
func ExampleFollow() {
	screw, err := preload.HexScrew(fasteners.MustParseThread("M10"))
	if err != nil {
		fmt.Println(err)
		return
	}
	oiled := units.MustParse[units.RatioInterval]("0.10..0.14")
	bolt := preload.YieldBolt{Screw: screw, Friction: preload.Friction{Thread: oiled, Bearing: oiled},
		Stiffness: units.MustParse[units.StiffnessInterval]("140..160 kN/mm"), Yield: units.MustParse[units.PressureInterval]("940..1100 MPa")}
	states, err := examination.Follow(bolt, torque.Do(torque.Tighten{To: units.MustParseTorque("20 N·m")}), torque.Do(torque.Tighten{To: units.MustParseTorque("35 N·m")}), torque.Do(torque.Turn{By: units.MustParseAngle("30°")}))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(states[1].Added.FormatOutward(units.Degree, 0), states[1].Preload.FormatOutward(units.Kilonewton, 1))
	fmt.Println(states[2].Torque.FormatOutward(units.NewtonMetre, 0), states[2].Preload.FormatOutward(units.Kilonewton, 1), states[2].Elastic)
	// Output:
	// 12..19 ° 18.7..25.0 kN
	// 59..73 N·m 36.2..45.0 kN conforming
}

// What a plan for two cap bolts means for them, with what they are known to be.
func ExampleInstalled_Examine() {
	thread := fasteners.MustParseThread("M8")
	screw, errScrew := preload.HexScrew(thread)
	strength, errClass := fasteners.StrengthOf("10.9", thread)
	plan, errPlan := torque.NewPlan("caps", torque.Group{
		Name: "caps", Pattern: torque.Caps([]string{"1L", "1R"}), Use: torque.SingleUse,
		Stages: []torque.Stage{
			{Pull: torque.Do(torque.Tighten{Within: units.MustParse[units.TorqueInterval]("9..11 N·m")})},
			{Pull: torque.Do(torque.Turn{Within: units.MustParse[units.AngleInterval]("85..95°")})},
		},
	})
	if err := errors.Join(errScrew, errClass, errPlan); err != nil {
		fmt.Println(err)
		return
	}
	oiled := units.MustParse[units.RatioInterval]("0.10..0.14")
	bolt := examination.Installed{
		Bolt: preload.YieldBolt{Screw: screw, Friction: preload.Friction{Thread: oiled, Bearing: oiled},
			Stiffness: units.MustParse[units.StiffnessInterval]("130..160 kN/mm"), Yield: units.MustInterval(strength.Yield, strength.Tensile)},
		Strength: strength,
		Seating:  units.MustParseForce("8 kN"),
	}
	x, err := bolt.Examine(plan, "caps")
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, q := range x.Questions {
		fmt.Println(q.Ask)
	}
	for _, what := range x.NotAsked {
		fmt.Println("not compared:", what)
	}
	// Output:
	// the torque of stage 1 leaves 5.9..9.8 kN, which may be less than the 8.0 kN that seats the cap: are the parts drawn together some other way before the turn is counted?
	// stage 2 takes the bolt to 29.5..34.5 kN, which may be beyond its proof load of 30.4 kN: does the maker mean these bolts to be tightened so far?
	// stage 2 takes 35.1..49.3 N·m, and a bolt whose thread binds has to stand no more than 39.8 N·m: are thread, class and lubricant right?
	// not compared: the loss when neighbours are tightened: only the stiffness of the whole joint is given
	// not compared: the loss by embedding: no roughness is given
	// not compared: stripping: no length of engagement and strength of the hole are given
	// not compared: what the head and its drive stand: no hexagon socket is given, and for other drives no source was found
}

// The bolt of a cap whose partner was pulled after it: how far it turns to its next torque, alone and
// with what its partner took from it.
func ExampleInstalled_Expect() {
	thread := fasteners.MustParseThread("M8")
	screw, errScrew := preload.HexScrew(thread)
	strength, errClass := fasteners.StrengthOf("10.9", thread)
	plan, errPlan := torque.NewPlan("caps", torque.Group{Name: "caps", Pattern: torque.Caps([]string{"1L", "1R"}), Stages: []torque.Stage{
		{Pull: torque.Do(torque.Tighten{To: units.MustParseTorque("10 N·m")})}, {Pull: torque.Do(torque.Tighten{To: units.MustParseTorque("20 N·m")})},
	}})
	if err := errors.Join(errScrew, errClass, errPlan); err != nil {
		fmt.Println(err)
		return
	}
	oiled := units.MustParse[units.RatioInterval]("0.12")
	joint := fasteners.Joint{Bolt: units.MustParse[units.Stiffness]("200 kN/mm"), Members: units.MustParse[units.Stiffness]("600 kN/mm")}
	bolt := examination.Installed{
		Bolt: preload.YieldBolt{Screw: screw, Friction: preload.Friction{Thread: oiled, Bearing: oiled},
			Stiffness: units.MustParse[units.StiffnessInterval]("150 kN/mm"), Yield: units.MustInterval(strength.Yield, strength.Tensile)},
		Strength: strength, Joint: &joint,
	}
	step, _ := plan.Step(3)
	for _, share := range []string{"0", "0.5"} {
		bolt.Share = units.MustParse[units.RatioInterval](share)
		state, err := bolt.Expect(plan, step, step.Do)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Println(step, "with a share of", share, "takes", state.Added.FormatOutward(units.Degree, 1))
	}
	// Output:
	// 3. 1L: tighten to 20 N·m with a share of 0 takes 14.5..14.6 °
	// 3. 1L: tighten to 20 N·m with a share of 0.5 takes 16.1..16.5 °
}

// Three bolts in a row, twice round: what each pull costs its neighbours, and what the second pass
// gives back.
func ExampleNeighbours_Tighten() {
	n := examination.Neighbours{
		Joint:   fasteners.Joint{Bolt: units.MustParse[units.Stiffness]("200 kN/mm"), Members: units.MustParse[units.Stiffness]("600 kN/mm")},
		Pattern: torque.Row("a", "b", "c"),
		Share:   units.MustParse[units.RatioInterval]("0.2..0.4"),
	}
	var pulls []examination.BoltPull
	for range 2 {
		for _, bolt := range []string{"b", "a", "c"} {
			pulls = append(pulls, examination.BoltPull{Bolt: bolt, To: units.MustParseForce("40 kN")})
		}
	}
	i, err := n.Tighten(pulls...)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(i.Working(units.Kilonewton, 1))
	for pass, kept := range i.Passes() {
		fmt.Println("pass", pass+1, kept.FormatOutward(units.Percent, 1))
	}
	// Output:
	// preload lost when neighbours are tightened
	//   pull 1: b to 40.0 kN
	//     = b 40.0 kN
	//   pull 2: a to 40.0 kN
	//     = a 40.0 kN, b 36.0..38.0 kN
	//   pull 3: c to 40.0 kN
	//     = a 38.7..39.7 kN, b 32.1..36.1 kN, c 40.0 kN
	//   pull 4: b to 40.0 kN
	//     = a 38.0..39.6 kN, b 40.0 kN, c 39.2..39.9 kN
	//   pull 5: a to 40.0 kN
	//     = a 40.0 kN, b 39.8..40.0 kN, c 39.1..39.8 kN
	//   pull 6: c to 40.0 kN
	//     = a 39.9..40.0 kN, b 39.7..40.0 kN, c 40.0 kN
	//   F_i/kb + Σ s_ij F_j/km = u_i, s_ij = Share^(d_ij/a)
	//   kb = 200.0 kN/mm, km = 600.0 kN/mm, Share = 0.2..0.4
	//   = the loosest bolt keeps 80..91 % after pass 1, 99..100 % after pass 2 of what it was pulled to
	//   source: Hooke's law; the fall with distance is a choice of this library
	//   note: an estimate of linear springs in float64: parts that tilt, gaskets and yield are left out
	//
	// pass 1 80.3..90.1 %
	// pass 2 99.3..100.0 %
}
