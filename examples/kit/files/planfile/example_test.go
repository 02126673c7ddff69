package planfile_test

import (
	"fmt"

	"example.com/closefit/examples/kit/files/planfile"
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
