// Package job reads the job of closing a short block from one file and assesses
// it: every reading judged against its limits, a shell for every half and the
// cheapest way to buy them, the tightening laid out step by step, and what to do
// next, worst first.
//
//	j, err := job.Read("engine.toml", src)
//	a, err := j.Assess(ctx)
//	err = record.Write(os.Stdout, record.Text, a)
//
// # The file
//
// It is TOML. Every quantity is a text with its unit. The file is read strictly:
// what cannot be understood is an error with its line, never a guess. Every part
// but the title may be left out; so may a reading, which is then not proven.
//
//	title, note, date, by
//	combine             "at worst": every doubt is added at its worst. Without it, what
//	                    readings share is added with its signs, the rest by root-sum-square,
//	                    and what is not known at its worst
//	[show]              length, length_places, pressure: the units of the record; currency
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
//	[[passages]]        name; state = "clean", "blocked" or "not checked"
//	[jets]              opens, the limits of the opening pressure; with, the pressure gauge
//	                    where there are several; tests, each with jet and
//	                    shut, the highest pressure at which it was shut, and open, the lowest
//	                    at which it was open
//	[[bearings]]        name, locations, clearance (the limits, or the fit that a drawing
//	                    names, "55 H6/f6"; so may those of plays and gaps be written), and
//	  codes             upper, lower: the rows of codes as stamped, ? for one that is illegible;
//	                    upper_row, lower_row say how to read each: begins, the location to
//	                    which its first code belongs; or mark, a mark at one end of it, with
//	                    mark_at, the location beside which that stands; upright = true where
//	                    it would be a row upside down as well. A row that reads from either
//	                    end leaves its shells open until it is said where it begins
//	  shells            upper, lower: the grade of shell for each code
//	  walls             upper, lower: the wall of each grade that exists, for what could be
//	                    fitted where a location is not proven inside
//	  stock             half, grade, count of what is on hand
//	  packs             name, price, holds (half, grade, count) of what is on sale
//	  bores             how the housing bores were read: bolts = "as for assembly", "loose" or a
//	                    torque, and shells = "out" or "in". Sizes prove a clearance only if the
//	                    bores were read as for assembly, with the shells out
//	  readings          location and either strip ("0.038 mm" is nearest to that print,
//	                    "0.025..0.038 mm" between two, "<= 0.025 mm" tighter than the first) or
//	                    bore, upper_wall, lower_wall, journal, or both, and then whether they
//	                    agree is said; with = { strip, bore, walls, journal } names the
//	                    instruments
//	[end_play]          limits and reading
//	[rod_side_play]     limits and readings, each with its location
//	[[ring_gaps]]       name, limits, readings
//	                    A gap is read by goes and stops, the blade that goes and the one that
//	                    does not; by from and to, on a dial; or is given as gap. with names the
//	                    instrument.
//	[[bolts]]           name, longest_stretch with new_length, or longest_length; lengths, each
//	                    with bolt, length, with
//	[[tightening]]      the groups of bolts, in the form of package planfile: group, caps or
//	                    bolts, order, single_use, stages
//
// A size without a "±" is a value read, as good as the instrument named for it. One
// with limits of its own ("2.494 ±0.002 mm", "1.8740..1.8747 in") is a part's
// tolerance, and counts at its worst. One with neither is an error. The demonstration
// jobs show most of this in use.
package job
