// Package planfile reads tightening plans that people write by hand, as TOML:
//
//	title = "pump engine, main caps"
//	engine = "pump engine 4711"     # which one it is, as it is told from others of its kind
//	build = "rebuild of autumn"     # which of its builds
//	bolts = ["1L", "1R"]            # optional: every bolt there is; one on no group is an error
//
//	[[tightening]]
//	group = "main cap bolts"
//	on = "block"                    # optional: groups on one part share a drawing
//	caps = [["1L", "1R"], ["2L", "2R"]]
//	order = "inside out"            # or "outside in", "spiral", "cross", "rows", "cap by cap", or a list of bolts
//	single_use = true               # new bolts each time; false if the maker says they may be used again
//	first = ["Are the threads oiled?"]
//	stages = [
//	  { torque = "23 ±2 N·m" },
//	  { turn = "55°", check = "Does the crank turn freely?" },
//	]
//
// A ledger of the plan belongs to the engine and the build, which have to be said as soon as one
// is kept or looked for. witness names the folder that keeps the second copy of the ledger, where
// that is not the user's own; it is counted from the folder of the file.
//
// The bolts of a group are given in one of four ways: bolts, in a row; caps, cap
// after cap from the front, each a list from left to right; circle, a table with a
// diameter and a list of bolts, clockwise from the top; or places, a list of tables
// with bolt, x, y and, if a cap is to be pulled together, part. The order "cap by cap" finishes
// one cap, all stages, before it begins the next, in the order in which they are listed.
//
// A group with a turn has to say single_use, true or false: an angle takes most bolts past
// yield, and silence would hide which. Without a turn it may be left out, and the bolts
// may then be loosened and pulled again. The plan of single-use bolts may not back them off once
// they have had their turn or, where there is none, their greatest torque.
//
// Groups under the key trial are those of a trial assembly, which comes apart again. If its
// bolts are used once, a group there has to say old_bolts, true for those that came out or false
// for new ones, and, if it turns them, turn_in_trial = true. Anywhere else both are errors.
//
// The names of bolts, groups and parts may not begin or end in a blank, and may not differ
// by case or blanks alone.
//
// A stage has one of torque, turn and back_off ("55°", or "free" for until the bolt
// turns freely), and may have an order of its own, during (a table with group and
// stage: the stage of another group with which it is done), wait ("10m", in the
// notation of Go's durations) and check, what to ask once the stage is done; with a
// check go within, what a measured length must lie in ("0.10..0.25 mm"), and if_not,
// what to do otherwise. A torque or an angle with a tolerance is aimed at its middle.
//
// A torque above 1000 N·m is taken for a slip of the unit or the point unless the stage
// says high_torque = true; a turn that takes a bolt more than a full turn past snug, with
// the turns before it, unless the stage says beyond_full_turn = true. Either word where it is
// not needed is an error too, for it would let the next slip pass. Above 100,000 N·m or
// three turns nothing helps.
//
// Files are read strictly. The error is a tomlfile.Errors: everything that is wrong,
// by line, each with what to write instead.
package planfile
