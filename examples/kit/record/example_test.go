package record_test

import (
	"context"
	"fmt"
	"os"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/record"
)

// The record of a job with one reading. Invented data.
func ExampleWrite() {
	const src = `
title = "bench trial"

[instruments.blades]
kind = "feeler blades"
blades = ["0.10 mm", "0.15 mm", "0.20 mm"]

[end_play]
limits = "0.08..0.18 mm"
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
	a.Cautions = a.Cautions[:1] // for the length of this example
	if err := record.Write(os.Stdout, record.Text, a); err != nil {
		fmt.Println(err)
	}
	// Output:
	// BUILD RECORD: bench trial
	//
	// VERDICTS
	// --------
	// Crankshaft, end play, limits 0.080..0.180 mm
	//   crankshaft  0.150..0.200 mm  undecided  feeler blades: 0.15 mm goes, 0.2 mm does not
	//
	// WHAT TO DO NEXT, WORST FIRST
	// ----------------------------
	//  1. MEASURE crankshaft, end play 0.150..0.200 mm, limits 0.080..0.180 mm: undecided. Feeler
	//             blades: 0.15 mm goes, 0.2 mm does not; a measurement good to ±0.0025 mm settles it
	//             nine times in ten.
	//
	// CAUTIONS
	// --------
	//   - The engine maker's manual and licensed practice come first. closefit holds no limits of its
	//     own: check every limit, torque and angle in this record against the manual.
}
