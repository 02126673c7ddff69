// Package demo has the demonstrations: invented engines, each with its design and a
// job that is drawn from it. It has no code but tests.
//
//	NAME.toml  the job, which package job builds in and shortblock shows with -demo NAME
//	NAME.md    the design of the engine: what it is for, and the figures it is drawn from
//
// The figures of a design are a block of TOML in its page. The tests here work out
// everything else from them with the library: loads on the bearings, clearances, shells
// and codes, sizes by plane and direction, plays, gaps, pressures, torques, angles, and what
// each instrument shows of the parts as they were built. A line of the job that does not follow from the design,
// or is missing, is a failure; so is a page that does not say what follows.
//
// The job of which everything is proven is also taken apart: without any reading, limit,
// place or bolt it is not proven, and no misspelt name and no slip of the pen passes that
// anybody could notice.
//
// To add an engine, write its page with the figures, its job, and run
//
//	go test ./examples/kit/job/demo -update
//
// which writes what follows into the page. Invent the engine: take no figure of one that
// exists, nor its codes and their arrangement.
package demo
