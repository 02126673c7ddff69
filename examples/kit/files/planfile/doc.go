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
// A group may say what is known of its bolts, so that the plan's numbers can be held against them.
// It changes neither the plan nor its digest:
//
//	[tightening.bolt]               # below the group; or bolt = { … } on one line in it
//	thread = "M8x1.25"
//	class = "10.9"
//	friction = "0.10..0.14"
//	clamped = "38 mm"
//	outside = "24 mm"
//	modulus = "110 GPa"
//	seat = "tapped hole"
//	seating = "12 kN"
//	engagement = "16 mm"
//	hole_strength = "250..320 MPa"
//
//	thread, class    as marked on the bolt; the class of ISO 898-1 or the grade of SAE J429
//	friction         a coefficient, or a class "A" to "D" of VDI 2230; head_friction, where it is another
//	face, hole       the outside of the bearing face and the hole under it; a plain hexagon head on a
//	                 medium hole, M5 to M24, needs neither
//	yield            the range of the yield strength; left out, from the least of the class to 1.2 times
//	                 its tensile strength
//	stiffness        of bolt and parts together, "140..170 kN/mm"; or clamped, the thickness of what is
//	                 clamped, with outside, how wide the parts are around the bolt, modulus, Young's of
//	                 the parts, and seat, "tapped hole" or "nut"; from these it is worked out, and taken
//	                 as good to 10 %
//	shank, waist     with clamped: the length without thread, and its diameter where it is a waist
//	hole_modulus     with clamped: Young's modulus of the tapped part, where it is not that of the parts;
//	                 nuts and bolts are of steel
//	seating          the least preload that seats the cap
//	neighbours       which share of the settling under a bolt its nearest neighbour feels, "0.2..0.5";
//	                 left out, 0..1; with a stiffness alone only "0" can be said, that they feel nothing
//	                 of each other
//	engagement       the length of thread engaged, with hole_strength, the tensile strength of the tapped
//	                 part or the nut, hole_shear, its shear strength as a part of that (0.577..0.65 if
//	                 left out), and nut, the width across flats of a nut
//	key              the width across flats of a hexagon socket in the head
//	roughness        Rz of thread, faces and joints, "6..16 µm", with load, "tension" or "shear", and
//	                 joints, how many there are between the clamped parts
//
// Thread, class, friction and a stiffness have to be said. Read returns what is said in File.Bolts.
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
