// Package job reads the job of closing a short block from one file and assesses
// it: every reading judged against its limits, a shell for every half and the
// cheapest way to buy them, the tightening laid out step by step, and what to do
// next, worst first.
//
//	j, err := job.Read("engine.toml", src)
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
//	combine             "at worst": every doubt is added at its worst. Without it, what
//	                    readings share is added with its signs, the rest by root-sum-square,
//	                    and what is not known at its worst
//	[show]              length, length_places, pressure: the units of the record; currency
//	[engine]            what has to be known follows from it:
//	  cylinders, mains  how many, or a list of their names
//	  pins              the rods that share a crankpin, [["1", "4"], ["2", "5"]]; left out, each
//	                    rod has a pin of its own. A shared pin is called "1-4"
//	  thrust            the main that takes the crankshaft's thrust
//	  rings             those of each piston that have an end gap, from the top
//	  passages          the oil passages that must be proven clean
//	  jets              how many oil jets, or their names; none if left out
//	  inspect           further lines to measure, such as "main journal" or "cylinder"
//	[instruments.NAME]  kind = "crush strip" with widths, the clearances printed beside them;
//	                    "feeler blades" with blades; both with tolerance, how far a mark may
//	                    be off to either side, as in "0.004 mm", where it is stated; or
//	                    "micrometer", "bore gauge", "dial", "caliper", "depth gauge", "gauge",
//	                    "pressure gauge", "setting piece" (a ring or a rod, only to set on) with
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
//	[measure."LINE"]    a line of the inspection: "main bearing clearance", "crankshaft end play",
//	                    "rod side play", "top ring end gap", "passage" and so on, with
//	  limits            its limits, or the fit that a drawing names, "55 H6/f6". A size that is
//	                    judged for its form has taper and out_of_round too
//	  with              the instrument
//	  conditions        how it was read, { bolts = "tightened as for assembly", shells = "out" }:
//	                    without those that a line asks for it proves nothing
//	  readings          one text for each place, { 1 = "0.060 mm", 2 = "?" }; reading for the one
//	                    place of a line that has one
//	  sure              the places whose reading was questioned, and read again
//	[shells.main] and [shells.rod]
//	  codes             upper, lower: the rows of codes as stamped, ? for one that is illegible;
//	                    upper_row, lower_row say how to read each: begins, the location to
//	                    which its first code belongs; or mark, a mark at one end of it, with
//	                    mark_at, the location beside which that stands; upright = true where
//	                    it would be a row upside down as well. A row that reads from either
//	                    end leaves its shells open until it is said where it begins
//	  grades            upper, lower: the grade of shell for each code
//	  walls             upper, lower: the wall of each grade that exists, for what could be
//	                    fitted where a location is not proven inside
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
//	                    they are turned there
//	[[accepted]], [[left_out]]
//	                    what, by, reason: somebody's word for an item that is not proven. It
//	                    opens the gate, and proves nothing
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
//	any other       "62.893 mm", what it shows; "0.06 to 0.33 mm", a travel from stop to stop;
//	                "62.893 62.891; 62.894 62.892 mm", a size at several stations, with a
//	                semicolon between planes and a blank between directions
//
// A size with limits of its own ("2.494 ±0.002 mm", "1.8740..1.8747 in") is a part's
// tolerance, without an instrument, and counts at its worst. A plain size without an
// instrument is an error. The demonstration jobs show most of this in use.
//
// # Items and gates
//
// Everything that has to be known is an Item, with a name that is the same everywhere:
// "main bearing 2 clearance". Before each Phase of the build stands a Gate, which asks for
// items: what was not read, not said or has no limits keeps it shut. Assessment.Gate is the
// one answer to whether a phase may begin.
package job
