// Package job reads the job of closing a short block from one file and assesses
// it: every reading judged against its limits, a shell for every half and the
// cheapest way to buy them, the tightening laid out step by step, and what to do
// next, worst first.
//
//	j, err := job.ReadBeside(os.DirFS("."), "engine.toml", src)
//	a, err := j.Assess(ctx)
//	err = record.Write(os.Stdout, record.Text, a)
//
// A Beginning writes the first file of an engine, with everything open, and Job.Sheet is
// what is still to be measured.
//
// # The file
//
// It is TOML. Every quantity is a text with its unit. The file is read strictly:
// what cannot be understood is an error with its line, never a guess. Every part
// but the title and the engine may be left out; what is then not known is not proven.
//
//	title, note, date, by
//	build               which build of the engine this is, "rebuild of autumn". A ledger of the
//	                    tightening belongs to engine and build, and is not kept without both
//	witness             the folder that keeps the second copy of each ledger, from the job's
//	                    own, where it is not the user's
//	combine             "at worst": every doubt is added at its worst. Without it, what
//	                    readings share is added with its signs, the rest by root-sum-square,
//	                    and what is not known at its worst
//	[show]              length, length_places, pressure, mass: the units of the record; currency
//	[engine]            what has to be known follows from it:
//	  name              which one it is, "lock gate engine 4711"
//	  cylinders, mains  how many, or a list of their names
//	  pins              the rods that share a crankpin, [["1", "4"], ["2", "5"]]; left out, each
//	                    rod has a pin of its own. A shared pin is called "1-4"
//	  thrust            the main that takes the crankshaft's thrust
//	  rings             those of each piston that have an end gap, from the top
//	  passages          the oil passages that must be proven clean
//	  jets              how many oil jets, or their names; none if left out
//	  pumps             the oil pumps, or the rotors of one, by name; one pump if left out
//	  bore              the nominal bore of the cylinders, by which limits may be stated
//	  inspect           further lines to measure, such as "main journal" or "cylinder"
//	[instruments.NAME]  kind = "crush strip" with widths, the clearances printed beside them;
//	                    "feeler blades" with blades; both with tolerance, how far a mark may
//	                    be off to either side, as in "0.004 mm", where it is stated; or
//	                    "micrometer", "bore gauge", "dial", "caliper", "depth gauge", "gauge",
//	                    "pressure gauge", "scale", "setting piece" (a ring or a rod, only to set on) with
//	  uncertainty       the expanded one, with k (2 if it is not said) and freedom, its degrees
//	                    of freedom, where a certificate states them
//	  repeats           the part of it that differs from reading to reading. The rest is common
//	                    to all readings; of an instrument that is set, it is what remains
//	                    after setting. Without repeats, readings by one instrument may share
//	                    any of its uncertainty, and it is added at its worst
//	  set_on            the instrument or the setting piece that it was set on, whose error it
//	                    took over
//	  limit_of_error    what its maker promises that no reading exceeds: never cancelled
//	  turn              how far one turn of its thimble or its hand goes, where that is unusual
//	  sure              its keys that were questioned, and stand: sure = ["uncertainty"]
//	[measure."LINE"]    a line of the inspection: "main bearing clearance", "crankshaft end play",
//	                    "rod side play", "top ring end gap", "passage" and so on, with
//	  limits            its limits, or the fit that a drawing names, "55 H6/f6"; of a ring's end
//	                    gap and of a piston's clearance "0.0040..0.0045 of the bore" too. A size
//	                    that is judged for its form has taper and out_of_round too
//	  with              the instrument
//	  conditions        how it was read, { bolts = "tightened as for assembly", shells = "out" }:
//	                    without those that a line asks for it proves nothing. Of caps,
//	                    "tightened to 60 N·m" will do if every group of the plan that is called
//	                    after the bearing (main, rod) ends with that torque
//	                    A dial's travel says itself that the crankshaft was levered to its stops
//	  readings          one text for each place, { 1 = "0.060 mm", 2 = "?" }; reading for the one
//	                    place of a line that has one
//	  planes,           the names of the planes and of the directions in which a size is read,
//	  directions        ["front", "rear"], ["crown", "30° from the joint"], counted from the deck
//	                    and from the parting line. A cylinder's taper proves nothing without the
//	                    names of its planes, an out-of-round of bores and journals without those
//	                    of their directions
//	  sure              the places whose reading was questioned, and read again; and the keys of
//	                    limits that were questioned, and looked up again: "limits", "taper"
//	[ring_positions]    rules for where the gaps of a piston's rings stand, which the line "piston
//	                    ring positions" is judged by: mark, what the angles count from, clockwise
//	                    and seen from above; neighbours, the least angle between the gaps of rings
//	                    next to each other; any, between any two; forbidden, a list of name,
//	                    centre, reach; rings, rails among them, where they are not the engine's
//	[bobweight]         share, how much of what goes up and down the "crankpin bobweight" holds,
//	                    "50 %"; oil, what is in the pin; without, a list of lines that it does not
//	                    hold
//	[compression]       what the "cylinder compression ratio" needs: gasket_bore,
//	                    gasket_thickness, chamber of every cylinder or chambers of each, dish; bore,
//	                    stroke and deck where "cylinder", "crankpin stroke" and "deck piston height"
//	                    are not measured. Each with how good it is, "40 ±0.2 cm³", or zero
//	[[fits]]            a fit of the job's own, which is always asked for: name, "idler float", of
//	                    a part and what is judged of it; formula, a signed sum of symbols with
//	                    rational factors, "C = D - 2*t - d", left out with lines and terms where
//	                    it is read as it is; limits; and with
//	  lines             the symbols that are lines, { D = "main bore" }
//	  terms             those that are not: each with, reading or readings, conditions, sure, name
//	  at                its places; left out, those of the first line in it, or one
//	  needs             what its own readings must state to prove anything, as conditions do
//	  with, conditions, reading, readings, sure
//	                    of the fit itself, where it is read; conditions are those of its terms too
//	[temperatures]      of parts that were not measured at 20 °C, and of those that run warm: a
//	                    name for each temperature, hot = "85..95 °C". Whatever has one name is
//	                    equally warm
//	[materials]         a name for each coefficient of expansion per kelvin, steel = "11..12 ppm"
//	[warmth]            of block, crankshaft, rods, pistons, main shells, rod shells and of the
//	                    instruments, { material, measured, running }, by those names: how warm
//	                    each was when it was measured, and is when the engine runs. A size of a
//	                    part that was measured warm is corrected to 20 °C, which takes the
//	                    warmth of its instrument and of what that was set on
//	[washers]           fitted, the steps of the front and the rear thrust washer that the end play
//	                    was read with; on_hand (step, thickness, count), those to choose from,
//	                    beside the fitted ones; mix, how many steps apart the two may be, 0 if it is
//	                    not said
//	[shells.main] and [shells.rod]
//	  codes             upper, lower: the rows of codes as stamped, on the housings and on the
//	                    journals, ? for one that is illegible; a pin that rods share has one
//	                    code. upper_row, lower_row say how to read each: begins, the location
//	                    to which its first code belongs; or mark, a mark at one end of it, with
//	                    mark_at, the location beside which that stands; upright = true where
//	                    it would be a row upside down as well. A row that reads from either
//	                    end leaves its shells open until it is said where it begins, or sizes
//	                    tell
//	  grades            upper, lower: the grade of shell for each code, each half by its own; or
//	  matrix            both halves by both codes, [["", "1", "2"], ["A", "red", "red/blue"]]; or
//	  sum               by the sum of both, [{ from = 2, to = 3, shells = "red/blue" }], with
//	                    numbers, upper and lower: the number of each code
//	  sizes             upper, lower: the bores and the journals that each code stands for. A
//	                    size that its code does not have is questioned
//	  walls             upper, lower, or both where they are alike: the wall of each grade that
//	                    exists. A wall that was measured is compared with the grade called for
//	  interchangeable   true where both halves of a grade are one part
//	  mix               how many steps of grade apart two halves may be that are chosen by
//	                    sizes; left out, as many as those that codes call for
//	  wanted            the clearance aimed at, if not the middle of the limits
//	  scheme            the name of a file in the job's folder that holds all this from grades
//	                    on, as package schemefile reads it, or as grading.ReadCSV does if its
//	                    name ends in .csv
//	  choose            "by codes" or "by sizes". If nothing is said it is by codes where there
//	                    are any, and what the two call for differently is open
//	  fit               the shells that somebody chose for a location, before all else,
//	                    { 3 = "upper yew, lower oak" }, one of them, or a grade for both
//	  sure              the locations whose code or size was questioned, and looked at again
//	  ground, undersize the journals that were ground, "all" or a list, and their undersize,
//	                    "0.25 mm", or one for each. Their stamped codes no longer count; their
//	                    shells are called by the undersize, "0.25 mm red"
//	  undersizes."SIZE" walls of the shells of an undersize, where they are not the standard
//	                    ones thicker by half of it
//	  stock             half, grade, count of what is on hand
//	  packs             name, price, holds (half, grade, count) of what is on sale
//	[bolts."GROUP"]     of each group of the tightening, which bolts are new, which are sound
//	                    (thread and head undamaged, no neck, run down by hand) and which are
//	                    scrap: "all", or a list; longest_stretch with new_length (or
//	                    new_lengths), or longest_length, with lengths, for used ones
//	[[trial]]           the groups of bolts of the trial assembly, and
//	[[tightening]]      of the final one, in the form of package planfile: group, caps or
//	                    bolts, order, single_use, stages. Rods whose caps are given are finished
//	                    one by one unless order says otherwise. In a trial, bolts that are used
//	                    once have to be old_bolts = true or false, and turn_in_trial = true if
//	                    they are turned there. bolt says what is known of the bolts, so that
//	                    the plan's numbers can be held against them
//	[film]              what a model of the oil film needs, which Job.Films is; it judges nothing:
//	  speed, inlet      of the crankshaft; the temperature of the oil that reaches the bearings
//	  oil               cool and warm, "92 mm²/s at 40 °C" and at another temperature, with name; or
//	                    grade, "15W-40", for two oils at its limits; and density, at 15 °C, and
//	                    heat, that a volume takes up for one kelvin, near "1.7 MPa"
//	  roughness         journal, bearing: Rq of each
//	  main and rod      diameter, width, load, a steady one; groove, the width of one round the
//	                    bearing, with supply, the pressure in it; pump, with delivery to all
//	                    bearings of the kind and relief, its pressure
//	[[accepted]], [[left_out]]
//	                    what, by, reason: somebody's word for an item that is not proven. It
//	                    opens the gate, and proves nothing. The record says which are for what is
//	                    proven already, and can be taken out
//
// # A reading
//
// A reading is one text, and "?" is one that was not taken. Its instrument is the line's,
// or is named before a colon: "dial: 0.06 to 0.33 mm". The instrument decides how the rest
// is read:
//
//	crush strip     "0.060 mm" nearest to that print, "0.060..0.080 mm" between two,
//	                "<= 0.045 mm" tighter than the first, ">= 0.110 mm" looser than the last
//	feeler blades   "0.20..0.25 mm", the blade that goes and the one that does not;
//	                ">= 0.20 mm" goes and nothing thicker was tried, "<= 0.05 mm" does not go
//	pressure gauge  "2.8..3.0 bar", shut at the one and open at the other
//	scale           "412.6 g"
//	any other       "62.893 mm", what it shows; "0.06 to 0.33 mm", a travel from stop to stop;
//	                "62.893 62.891; 62.894 62.892 mm", a size at several stations, with a
//	                semicolon between planes and a blank between directions
//
// A bend or a twist is a difference over a distance, "0.02 mm over 100 mm", and its limits
// are a ratio, "<= 0.0002". Ring positions are the angle of each gap, "45° 165° 285°".
//
// A gap or a clearance may be read at several places of a part, "0.060; 0.060..0.080 mm", on a
// crush strip at places along it. Of several places or stations the least and the greatest
// are each judged.
//
// A size with limits of its own ("2.494 ±0.002 mm", "1.8740..1.8747 in") is a part's
// tolerance, without an instrument, and counts at its worst. A plain size without an
// instrument is an error. The demonstration jobs show most of this in use.
//
// # What follows from other lines
//
// Some lines are worked out, and only their limits stand in the file:
//
//	barrel              of a bore, a journal or a cylinder read in three planes or more: the
//	                    middle less the mean of the ends
//	main bore alignment the height of a bore less the mean of its neighbours
//	deck height spread  the largest height of a deck less the smallest
//	eccentricity        of a shell: the wall at the crown less that near the joint
//	shells crush        both crush heights over π
//	clearance taper     the greatest clearance along a strip less the least
//	warm clearance      the clearance with each part as warm as [warmth] says it runs
//
// A running clearance by sizes is that of every station if bore and journal were read in
// planes and directions of the same names; the walls at the "crown" are then those at the
// crown, and in a direction whose name has "joint" in it those near the joint. Of other
// stations, or none with a name, every bore goes with every journal. A bore that was read
// inside its shells makes a clearance with its journal alone. The crankshaft's bow is half the
// dial's swing, less a quarter at the most of what its journal is out of round by; where the
// crankshaft lay while it turned stands in its conditions, supported = "1 and 5".
//
// # Items and gates
//
// Everything that has to be known is an Item, with a name that is the same everywhere:
// "main bearing 2 clearance", "main bearing 2 shells", "main upper wall 2 grade". Before
// each Phase of the build stands a Gate, which asks for items: what was not read, not said
// or has no limits keeps it shut. Assessment.Gate is the one answer to whether a phase may
// begin.
package job
