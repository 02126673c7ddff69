package lesson

import (
	"math/big"

	"example.com/closefit/examples/kit/page"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// clearanceLimits are those of the running clearance of the tide mill's main bearing.
func clearanceLimits() units.LengthInterval {
	return units.Between(millimetres(51, 3), millimetres(87, 3))
}

// prints are those of its crush strip.
func prints() []units.Length {
	return []units.Length{millimetres(25, 3), millimetres(35, 3), millimetres(50, 3), millimetres(65, 3), millimetres(90, 3), millimetres(125, 3)}
}

func interval() *Lesson {
	return &Lesson{
		Key: "interval", Title: "A reading is an interval",
		Question: "The gauge shows a number. Is the bearing good?",
		Reads: []string{
			"A journal of the crankshaft turns in its bearing with a thin gap all round, which the oil fills: the running clearance. Too narrow, and it seizes; too wide, and it loses its oil. So the engine maker states limits, a least and a greatest, and what lies between them is the tolerance.",
			"No instrument tells you the size. It tells you where the size lies: between two ends that are as far apart as the instrument is doubtful. That is what we call a reading, and it is an interval. The crush strip is the plainest one: the thread is wider than one print and narrower than the next, and the clearance lies between the two.",
			"Limits are an interval as well. A verdict compares the two. If all of the reading lies inside the limits, the bearing is proven good. If all of it lies outside, it is proven bad. If it lies across a limit, nothing is proven: the bearing is undecided, and you need a closer reading before you know.",
			"Below you play the bench. The size is a thing that nobody knows in the workshop; here you may set it. The gauge shows the size with an error, and the error is at most its uncertainty.",
		},
		Try: []string{
			"Put the size in the middle of the limits and make the gauge worse, until the verdict is lost. The part has not changed.",
			"Put the size on a limit. How good would the gauge have to be?",
			"Move the error from one end to the other. The reading moves; does it ever lose the size?",
		},
		Controls: []Control{
			slider("Size, which nobody knows", 30, 110, 1, 58, 3, "mm"),
			slider("Uncertainty of the gauge, ±", 1, 20, 1, 4, 3, "mm"),
			slider("Error of this reading, as a share of the uncertainty", -100, 100, 10, -40, 0, "%"),
		},
		show:      showInterval,
		exercises: [2]func(*draws) setter{bladesTask, needTask},
	}
}

func showInterval(at []int64) (view, error) {
	size, limits := millimetres(at[0], 3), clearanceLimits()
	u := millimetres(at[1], 3)
	gauge := measure.LengthInstrument{Name: "bore gauge and micrometer", Uncertainty: u}
	read, err := gauge.Read("clearance", size.Add(u.MulRat(big.NewRat(at[2], 100))))
	if err != nil {
		return view{}, err
	}
	strip := measure.Strip{Prints: prints()}
	var seen units.LengthInterval
	for i, p := range strip.Prints[1:] {
		if before := strip.Prints[i]; !size.Less(before) && !p.Less(size) {
			seen = units.Between(before, p)
		}
	}
	crushed, err := strip.Read("clearance", seen)
	if err != nil {
		return view{}, err
	}
	byGauge, byStrip := measure.Assess(read, limits), measure.Assess(crushed, limits)
	v := view{working: func() ([]units.Working, error) {
		gauge, strip := byGauge.Working(units.Millimetre), byStrip.Working(units.Millimetre)
		gauge.Name, strip.Name = "verdict by the gauge", "verdict by the strip"
		return []units.Working{gauge, strip}, nil
	}}
	say := func(name string, a measure.Assessment[units.LengthDim]) string {
		text := "By the " + name + " the clearance is " + a.Reading.Interval().FormatOutward(units.Millimetre, 4) + ": "
		switch {
		case a.Verdict == measure.Undecided:
			text += "undecided."
			if closer, ok := a.Settling(measure.NineInTen); ok {
				text += " A reading good to ±" + closer.Format(units.Millimetre, 4, units.Floor) + " would settle it nine times in ten."
			}
			return text
		case a.Verdict.Outside():
			by, _ := a.Outside()
			return text + a.Verdict.String() + ", proven, by " + by.Lo().Format(units.Millimetre, 4, units.Floor) + " at the least."
		}
		margin, _ := a.Margin()
		return text + "conforming, proven, with " + margin.Format(units.Millimetre, 4, units.Floor) + " to spare at the least."
	}
	v.said = []string{say("gauge", byGauge), say("strip", byStrip)}
	if read.Interval().Contains(size) && crushed.Interval().Contains(size) {
		v.said = append(v.said, "Both readings hold the size, "+size.String()+", although they are not the same and neither names it.")
	}
	v.charts = []page.Chart{page.Intervals{ID: "interval-1", Title: "Two readings of one bearing, on its limits", X: page.Axis{Name: "running clearance", Unit: "mm"},
		Rows: []page.Interval{on("gauge", read.Interval(), limits, units.Millimetre, 4), on("strip", crushed.Interval(), limits, units.Millimetre, 4), on("the size itself", units.Exactly(size), limits, units.Millimetre, 4)}}}
	return v, nil
}

func bladesTask(d *draws) setter {
	goes, step, tolerance := d.from(10, 60, 1), d.from(3, 10, 1), d.from(2, 6, 1)
	blade, next, off := millimetres(goes, 2), millimetres(goes+step, 2), millimetres(tolerance, 3)
	blades := measure.Feelers{Blades: []units.Length{blade, next}, Tolerance: off}
	gap, err := blades.Gap("end play", &blade, &next)
	if err != nil {
		panic("lesson: " + err.Error())
	}
	marks := units.Between(blade, next)
	t := &task[units.LengthDim]{unit: units.Millimetre, places: 3, round: outward, exact: gap.Interval(),
		text:  "You try the end play of the crankshaft with feeler blades. One goes in with a light drag, the next one does not. What is the end play?",
		given: [][2]string{{"the blade that goes", blade.String()}, {"the blade that does not go", next.String()}, {"each blade's thickness is good to", "±" + off.String()}},
		working: units.Working{Name: "end play", Formula: "from the blade that goes, less what it may lack, to the blade that does not, and what it may have more",
			Numbers: blade.WrittenBare(units.Millimetre) + " - " + off.WrittenBare(units.Millimetre) + " .. " + next.WrittenBare(units.Millimetre) + " + " + off.WrittenBare(units.Millimetre),
			Result:  gap.Interval().Written(units.Millimetre), Notes: []string{gap.How(units.Millimetre)}},
	}
	t.mistaken(marks, "You took the blades as exact. Each may be thinner or thicker than its mark, so the gap may be a little outside both marks.")
	t.mistaken(units.Between(blade.Add(off), next.Sub(off)), "You turned the tolerance inward. What you do not know makes the gap's interval wider, never narrower.")
	t.mistaken(units.Exactly(marks.Mid()), "You took the middle between the blades for a reading. Nothing says that the gap lies there: it may be anywhere between them.")
	return t
}

func needTask(d *draws) setter {
	lo, width := d.from(47, 55, 1), d.from(24, 40, 1)
	limits := units.Between(millimetres(lo, 3), millimetres(lo+width, 3))
	shown := millimetres(lo+d.from(3, width/3, 1), 3)
	if d.IntN(2) == 0 {
		shown = limits.Lo().Add(limits.Hi()).Sub(shown)
	}
	near, far := units.Min(shown.Sub(limits.Lo()), limits.Hi().Sub(shown)), units.Max(shown.Sub(limits.Lo()), limits.Hi().Sub(shown))
	ends := "U = " + shown.WrittenBare(units.Millimetre) + " - " + limits.Lo().WrittenBare(units.Millimetre)
	if limits.Hi().Sub(shown).Equal(near) {
		ends = "U = " + limits.Hi().WrittenBare(units.Millimetre) + " - " + shown.WrittenBare(units.Millimetre)
	}
	t := &task[units.LengthDim]{unit: units.Millimetre, places: 4, round: down, exact: units.Exactly(near),
		text:    "A bearing's clearance was read once. How large may the expanded uncertainty of the reading be, at the most, for it to prove that the bearing conforms?",
		given:   [][2]string{{"the value read", shown.String()}, {"the limits", limits.String()}},
		working: units.Working{Name: "largest uncertainty", Formula: "U = distance from the value to the nearer limit", Numbers: ends, Result: near.Written(units.Millimetre)},
	}
	t.mistakenFor(far, "That is the distance to the limit farther away. The reading would reach beyond the nearer one long before.")
	t.mistakenFor(limits.Radius(), "That is half the width of the limits. It would do for a value in their middle, and this one is not there.")
	t.mistakenFor(limits.Width(), "That is the whole width of the limits: a reading so wide, to both sides, fits into no tolerance.")
	t.mistakenFor(near.MulRat(big.NewRat(1, 2)), "That is half of it. An uncertainty of ±U reaches by U to each side; it is not shared between the two.")
	return t
}
