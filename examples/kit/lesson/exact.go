package lesson

import (
	"math/big"
	"strconv"

	"github.com/shopspring/decimal"

	"example.com/closefit/examples/kit/page"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

func exact() *Lesson {
	return &Lesson{
		Key: "exact", Title: "Exact numbers, and rounding inward",
		Question: "The manual speaks inches and your gauge speaks millimetres. What do you write on the wall?",
		Reads: []string{
			"An inch is defined as a number of millimetres, exactly. So a converted limit is known with all its digits, and the only question is where you cut them off. Cut to the nearest, and the new limits may let a part pass that the old ones refuse. Round each limit inward instead: the lower one up, the upper one down. A part that passes the new limits then passes the old ones, always.",
			"A reading goes the other way. It has to keep holding the size, so its lower end is rounded down and its upper end up. One rule protects the part, the other one the truth.",
			"Computers have a trap of their own. They mostly keep binary fractions, and a tenth is none. Add up shims of a tenth and the sum is a little off; a shim pack that is right at its limit then fails, or passes, by the last bit of the machine. This library keeps decimals, and fractions without an end as fractions.",
		},
		Try: []string{
			"Choose fewer places. How far do limits that were rounded to the nearest reach beyond the true ones?",
			"Find limits that are so close together that nothing is left inside with so few places.",
			"Add shims one by one. At which numbers does the binary sum miss the limit?",
		},
		Controls: []Control{
			slider("Lower limit", 8, 30, 1, 21, 4, "in"),
			slider("Width of the limits", 1, 30, 1, 14, 4, "in"),
			slider("Decimal places in millimetres", 2, 5, 1, 3, 0, ""),
			slider("Shims of a tenth of a millimetre", 1, 20, 1, 8, 0, ""),
		},
		show:      showExact,
		exercises: [2]func(*draws) setter{limitsTask, readingTask},
	}
}

// toNearest converts limits the wrong way.
func toNearest(in units.LengthInterval, u units.LengthUnit, places int32) units.LengthInterval {
	return units.Between(u.Of(in.Lo().In(u, places)), u.Of(in.Hi().In(u, places)))
}

func showExact(at []int64) (view, error) {
	limits := units.Between(quantity(units.Inch, at[0], 4), quantity(units.Inch, at[0]+at[1], 4))
	places := int32(at[2])
	naive := toNearest(limits, units.Millimetre, places)
	rows := []page.Interval{{Name: "exact", Reading: span(limits, units.Millimetre), Reads: limits.Written(units.Millimetre)}}
	add := func(name string, in units.LengthInterval) {
		row := page.Interval{Name: name, Reading: span(in, units.Millimetre), Limits: span(limits, units.Millimetre), Reads: in.String(), Limited: limits.Written(units.Millimetre), Verdict: "allows more"}
		if in.Within(limits) {
			row.Verdict = "allows no more"
		}
		rows = append(rows, row)
	}
	v := view{said: []string{"The limits are " + limits.Written(units.Inch) + ", which is " + limits.Written(units.Millimetre) + " exactly."}}
	factor := quantity(units.Inch, 1, 0).WrittenBare(units.Millimetre)
	working := units.Working{Name: "limits in millimetres", Formula: "limit · " + factor + " mm/in; the lower one rounded up, the upper one down", Source: units.Inch.Source()}
	working.Numbers = limits.Lo().WrittenBare(units.Inch) + " · " + factor + " .. " + limits.Hi().WrittenBare(units.Inch) + " · " + factor + " = " + limits.Written(units.Millimetre)
	if kept, err := limits.Inward(units.Millimetre, places); err == nil {
		add("inward", kept)
		v.said = append(v.said, "Write "+kept.String()+" on the wall.")
		working.Result = kept.String()
	} else {
		v.said = append(v.said, "With so few places no value is left inside: write "+limits.FormatInward(units.Millimetre, places)+".")
		working.Result = limits.FormatInward(units.Millimetre, places)
	}
	add("to the nearest", naive)
	add("outward", limits.Outward(units.Millimetre, places))
	below, above := limits.Lo().Sub(naive.Lo()), naive.Hi().Sub(limits.Hi())
	if wider := units.Max(below, above); wider.Sign() > 0 {
		v.said = append(v.said, "Rounded to the nearest, "+naive.String()+" would pass parts that the manual refuses, by up to "+wider.Written(units.Micrometre)+".")
	} else {
		v.said = append(v.said, "Here the nearest values happen to lie inside as well. That is luck: move a limit.")
	}

	tenth, sum := millimetres(1, 1), 0.0
	for range at[3] {
		sum += tenth.Float64(units.Millimetre)
	}
	pack := tenth.MulInt(at[3])
	binary, err := decimalOf(sum)
	if err != nil {
		return view{}, err
	}
	text := strconv.FormatInt(at[3], 10) + " shims are " + pack.String() + " together. Added in binary they come to " + strconv.FormatFloat(sum, 'g', -1, 64) + " mm"
	limit := units.AtMost(pack)
	if verdict := measure.Judge(units.Exactly(binary), limit); verdict != measure.Conforming {
		text += ", which a limit of at most " + pack.String() + " refuses: " + verdict.String() + ". The exact sum is conforming."
	} else if binary.Less(pack) {
		text += ", which a limit of at least " + pack.String() + " refuses. The exact sum is conforming."
	} else {
		text += ": the same, this time."
	}
	v.said = append(v.said, text)
	v.charts = []page.Chart{page.Intervals{ID: "exact-1", Title: "What each way of rounding allows", X: page.Axis{Name: "limits", Unit: "mm"}, Read: "what may pass", Limit: "exact limits", Rows: rows}, shims(at[3])}
	v.working = func() ([]units.Working, error) {
		return []units.Working{working, {Name: "shims, in binary", Formula: "the number nearest to a tenth that the machine has, added again and again",
			Numbers: "off by " + number(sum-pack.Float64(units.Millimetre), 3) + " mm", Result: strconv.FormatFloat(sum, 'g', -1, 64) + " mm", Notes: []string{"exactly: " + pack.String()}}}, nil
	}
	return v, nil
}

// decimalOf is the decimal that a person reads of a binary number, as a length in millimetres.
func decimalOf(v float64) (units.Length, error) {
	d, err := decimal.NewFromString(strconv.FormatFloat(v, 'g', -1, 64))
	return units.Millimetre.Of(d), err
}

// shims draws how far the binary sum is off, shim by shim.
func shims(n int64) page.Chart {
	var x, y []float64
	sum, tenth := 0.0, millimetres(1, 1)
	for i := int64(1); i <= n; i++ {
		sum += tenth.Float64(units.Millimetre)
		off, err := decimalOf(sum)
		if err != nil {
			continue
		}
		x, y = append(x, float64(i)), append(y, off.Sub(tenth.MulInt(i)).MulInt(1e16).Float64(units.Millimetre))
	}
	return page.Lines{ID: "exact-2", Title: "How far the binary sum is off", X: page.Axis{Name: "shims"}, Y: page.Axis{Name: "binary less exact", Unit: "10⁻¹⁶ mm"},
		Lines: []page.Series{{Name: "binary sum less the exact one", X: x, Y: y}}}
}

func limitsTask(d *draws) setter {
	lo := d.from(8, 60, 1)
	limits := units.Between(quantity(units.Inch, lo, 4), quantity(units.Inch, lo+d.from(9, 40, 1), 4))
	factor := quantity(units.Inch, 1, 0).WrittenBare(units.Millimetre)
	t := &task[units.LengthDim]{unit: units.Millimetre, places: 3, round: inward, exact: limits,
		text:    "A manual states the limits of a clearance in inches. Convert them for a gauge that reads millimetres, so that the gauge passes no bearing that the manual refuses.",
		given:   [][2]string{{"the limits", limits.Written(units.Inch)}},
		working: units.Working{Name: "limits in millimetres", Formula: "limit · " + factor + " mm/in", Numbers: limits.Lo().WrittenBare(units.Inch) + " · " + factor + " .. " + limits.Hi().WrittenBare(units.Inch) + " · " + factor, Result: limits.Written(units.Millimetre), Source: units.Inch.Source()},
	}
	t.mistaken(limits.MulRat(big.NewRat(250, 254)), "You took an inch for 25 mm. It is "+factor+" mm, exactly.")
	t.mistaken(units.Exactly(limits.Mid()), "That is the middle of the limits. A converted pair of limits is still a pair.")
	return t
}

func readingTask(d *draws) setter {
	u := d.from(2, 9, 1)
	value, doubt := millimetres(d.from(450, 900, 1), 4), millimetres(u, 3)
	gauge := measure.LengthInstrument{Name: "gauge", Uncertainty: doubt}
	read, err := gauge.Read("clearance", value)
	if err != nil {
		panic("lesson: " + err.Error())
	}
	in := read.Interval()
	t := &task[units.LengthDim]{unit: units.Inch, places: 5, round: outward, exact: in,
		text:    "A clearance was read in millimetres. Write the reading in inches, for somebody whose limits are in inches.",
		given:   [][2]string{{"the value read", value.String()}, {"its expanded uncertainty", "±" + doubt.String()}},
		working: units.Working{Name: "reading in inches", Formula: "(value ± U) / " + quantity(units.Inch, 1, 0).WrittenBare(units.Millimetre) + " mm/in, rounded outward", Numbers: in.Written(units.Millimetre), Result: in.FormatOutward(units.Inch, 9)},
	}
	t.mistaken(units.Exactly(value), "You left the uncertainty out. A converted reading is still an interval.")
	t.mistaken(units.PlusMinus(value, doubt.MulInt(2)), "You applied the uncertainty twice. What is stated is already the expanded uncertainty.")
	t.mistaken(units.PlusMinus(value, doubt.MulRat(big.NewRat(1, 2))), "You halved the uncertainty. ±U reaches by U to each side.")
	t.mistaken(in.MulRat(big.NewRat(254, 250)), "You took an inch for 25 mm. It is "+quantity(units.Inch, 1, 0).Written(units.Millimetre)+", exactly.")
	return t
}
