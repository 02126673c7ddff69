// Package planfile reads tightening plans that people write by hand, as TOML:
//
//	title = "pump engine, main caps"
//	bolts = ["1L", "1R"]            # optional: every bolt there is; one on no group is an error
//
//	[[tightening]]
//	group = "main cap bolts"
//	on = "block"                    # optional: groups on one part share a drawing
//	caps = [["1L", "1R"], ["2L", "2R"]]
//	order = "inside out"            # or "outside in", "spiral", "cross", "rows", or a list of bolts
//	single_use = true               # taken past yield
//	first = ["Are the threads oiled?"]
//	stages = [
//	  { torque = "23 ±2 N·m" },
//	  { turn = "55°", check = "Does the crank turn freely?" },
//	]
//
// The bolts of a group are given in one of four ways: bolts, in a row; caps, cap
// after cap from the front, each a list from left to right; circle, a table with a
// diameter and a list of bolts, clockwise from the top; or places, a list of tables
// with bolt, x, y and, if a cap is to be pulled together, part.
//
// A stage has one of torque, turn and back_off ("55°", or "free" for until the bolt
// turns freely), and may have an order of its own, during (a table with group and
// stage: the stage of another group with which it is done), wait ("10m", in the
// notation of Go's durations) and check, what to ask once the stage is done; with a
// check go within, what a measured length must lie in ("0.10..0.25 mm"), and if_not,
// what to do otherwise. A torque or an angle with a tolerance is aimed at its middle.
//
// Files are read strictly. The error is a tomlfile.Errors: everything that is wrong,
// by line, each with what to write instead.
package planfile
