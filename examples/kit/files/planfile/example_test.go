package planfile_test

import (
	"fmt"

	"example.com/closefit/examples/kit/files/planfile"
	"example.com/closefit/units"
)

func ExampleRead() {
	file, err := planfile.Read("rods.toml", []byte(`
title = "rods"
engine = "hay press 12"
build = "new rings"

[[tightening]]
group = "rod bolts"
caps = [["1 A", "1 B"]]
single_use = true
stages = [{ torque = "8 N·m" }, { turn = "75°" }]
`))
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, step := range file.Plan.Steps() {
		fmt.Println(step)
	}
	work, err := file.Work("")
	fmt.Println(work, err)
	// Output:
	// 1. 1 A: tighten to 8 N·m
	// 2. 1 B: tighten to 8 N·m
	// 3. 1 A: mark it, then turn 75° further
	// 4. 1 B: mark it, then turn 75° further
	// hay press 12, new rings <nil>
}

// What a plan says of its bolts, beside the plan and not in it.
func ExampleFile() {
	file, err := planfile.Read("caps.toml", []byte(`
title = "caps"

[[tightening]]
group = "cap bolts"
caps = [["1L", "1R"]]
single_use = true
stages = [{ torque = "20 N·m" }, { turn = "60°" }]

[tightening.bolt]
thread = "M8x1.25"
class = "10.9"
friction = "0.10..0.14"
clamped = "38 mm"
outside = "24 mm"
modulus = "110 GPa"
seat = "tapped hole"
seating = "12 kN"
`))
	if err != nil {
		fmt.Println(err)
		return
	}
	b := file.Bolts["cap bolts"]
	fmt.Println(b.Bolt.Screw.Thread, b.Strength.Class, b.Bolt.Friction.Thread, b.Bolt.Stiffness.FormatOutward(units.KilonewtonPerMillimetre, 0), b.Seating.Format(units.Kilonewton, 0, units.HalfEven))
	// Output:
	// M8 10.9 0.1..0.14 105..130 kN/mm 12 kN
}
