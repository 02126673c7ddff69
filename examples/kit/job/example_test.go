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

[instruments.strip]
kind = "crush strip"
widths = ["0.020 mm", "0.030 mm", "0.050 mm"]

[instruments.blades]
kind = "feeler blades"
blades = ["0.10 mm", "0.15 mm", "0.20 mm"]

[[bearings]]
name = "main bearing"
locations = ["1", "3"]
clearance = "0.024..0.048 mm"
readings = [
  { location = "1", strip = "0.030..0.050 mm" },
  { location = "3", strip = "0.020..0.030 mm" },
]

[end_play]
limits = "0.08..0.25 mm"
reading = { goes = "0.15 mm", stops = "0.20 mm" }
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
		fmt.Printf("%s %s: %s, %s\n", f.Group, f.Location, f.Measured.Text, f.Verdict)
	}
	fmt.Println("all proven:", a.Proven())
	// Output:
	// main bearing 1: 0.030..0.050 mm, undecided
	// main bearing 3: 0.020..0.030 mm, undecided
	// crankshaft crankshaft: 0.150..0.200 mm, conforming
	// all proven: false
}

// An error names the file, the line and what to write instead.
func ExampleRead() {
	_, err := job.Read("trial.toml", []byte("title = \"bench trial\"\n[end_play]\nlimits = \"0,08..0,25 mm\"\n"))
	fmt.Println(err)
	// Output:
	// trial.toml:3: end_play.limits: "0,08..0,25 mm", column 2: a decimal comma; write "0.08..0.25 mm"
}
