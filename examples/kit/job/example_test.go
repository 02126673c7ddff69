package job_test

import (
	"context"
	"fmt"

	"example.com/closefit/examples/kit/job"
)

// A job of one crush strip and one set of blades, assessed. Invented data.
func Example() {
	const src = `
title = "bench trial"

[engine]
cylinders = 1
mains = 2
thrust = "1"
rings = ["ring"]
passages = ["drilling"]

[instruments]
strip = { kind = "crush strip", widths = ["0.020 mm", "0.030 mm", "0.050 mm"] }
blades = { kind = "feeler blades", blades = ["0.10 mm", "0.15 mm", "0.20 mm"] }

[measure."main bearing clearance"]
limits = "0.024..0.048 mm"
conditions = { bolts = "tightened as for assembly", crankshaft = "not turned", oil = "wiped off" }
readings = { 1 = "0.030..0.050 mm", 2 = "0.020..0.030 mm" }

[measure."crankshaft end play"]
limits = "0.08..0.25 mm"
with = "blades"
conditions = { crankshaft = "levered to its stops" }
reading = "0.15..0.20 mm"
`
	j, err := job.Read("trial.toml", []byte(src))
	if err != nil {
		fmt.Println(err)
		return
	}
	a, err := j.Assess(context.Background())
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range a.Verdicts() {
		fmt.Printf("%s: %s, %s\n", f.Name(), f.Measured.Text, f.Verdict)
	}
	gate := a.Gate(job.Final)
	fmt.Printf("final assembly: %d proven, %d stand against it\n", gate.Proven, len(gate.Shut))
	// Output:
	// main bearing 1 clearance: 0.030..0.050 mm, undecided
	// main bearing 2 clearance: 0.020..0.030 mm, undecided
	// rod bearing 1 clearance: not measured, undecided
	// crankshaft end play: 0.150..0.200 mm, conforming
	// rod 1 side play: not measured, undecided
	// ring 1 end gap: not measured, undecided
	// final assembly: 1 proven, 7 stand against it
}

// An error names the file, the line and what to write instead.
func ExampleRead() {
	_, err := job.Read("trial.toml", []byte(`title = "bench trial"

[engine]
cylinders = 1
mains = 2
thrust = "1"
rings = ["ring"]
passages = ["drilling"]

[measure."crankshaft end play"]
limits = "0,08..0,25 mm"
`))
	fmt.Println(err)
	// Output:
	// trial.toml:11: measure.crankshaft end play.limits: "0,08..0,25 mm", column 2: a decimal comma; write "0.08..0.25 mm"
}
