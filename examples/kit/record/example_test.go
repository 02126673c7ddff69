package record_test

import (
	"context"
	"fmt"
	"strings"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/record"
)

// The first lines of the record of a job with one reading. Invented data.
func ExampleWrite() {
	const src = `
title = "bench trial"
date = "2 March"
[engine]
cylinders = 1
mains = 2
thrust = "1"
rings = ["ring"]
passages = ["gallery"]
[measure.passage]
reading = "clean"
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
	var text strings.Builder
	if err := record.Write(&text, record.Text, a); err != nil {
		fmt.Println(err)
	}
	card, _, _ := strings.Cut(text.String(), "\nTHE CRANKSHAFT")
	fmt.Println(card)
	// Output:
	// BENCH CARD: bench trial
	// Measured 2 March.
	// The engine maker's manual and licensed practice come first. closefit holds no
	// limits of its own: check every limit, torque and angle in this record against
	// the manual.
	//
	// GATES
	// -----
	//   inspection           open  nothing is asked for
	//   choosing and buying  open  nothing is asked for
	//   trial assembly       open  nothing is asked for
	//   final assembly       SHUT  not measured: main bearing 1, 2 clearance; rod
	//                              bearing 1 clearance; crankshaft end play; rod 1
	//                              side play; ring 1 end gap; tightening plan
	//   first oil pressure   SHUT  until the gate before it is open
}
