package lesson

import (
	"math/big"

	"example.com/closefit/clearance"
	"example.com/closefit/examples/kit/page"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

func doubts() *Lesson {
	return &Lesson{
		Key: "doubts", Title: "Doubts, and where they come from",
		Question: "You measured all the sizes with one micrometer. How good is the clearance?",
		Reads: []string{
			"The clearance of a bearing is a sum: the bore of its housing, less two walls, less the journal. If the doubts of the four readings had nothing to do with each other, you would add their squares and take the root. But they have. A micrometer that reads a little too much does so every time.",
			"So ask where each doubt comes from. A part of it is new in every reading: the feel of the thimble, a speck of dust. How far that part reaches is the repeatability. The rest is the instrument's own, and it is the same in everything that it reads. Doubts of one source are added with their signs first; only then do different sources add by squares.",
			"The same rule can help you. Set a bore gauge in the micrometer that reads the journal: what the micrometer reads too much in the one, it reads too much in the other, and in the clearance the two cancel.",
			"And if the certificate states one figure and no more? Then nobody knows how much of it is repeatability, and the readings of that instrument may share any of it. The library takes that at its worst.",
		},
		Try: []string{
			"Set the gauge in the micrometer, then on a ring of its own. Which source goes away?",
			"Let all of the micrometer's uncertainty be repeatability. Which ways of adding now agree?",
			"Give the certificate one figure only. How much does it cost you not to know?",
		},
		Controls: []Control{
			slider("Uncertainty of the micrometer, ±", 1, 6, 1, 3, 3, "mm"),
			slider("Share of it that is repeatability", 0, 100, 10, 30, 0, "%"),
			slider("Repeatability of the bore gauge, ±", 5, 40, 5, 15, 4, "mm"),
			choice("The bore gauge was set in", "a ring of its own", "the same micrometer"),
			choice("The micrometer's certificate states", "repeatability and common part", "one figure only"),
		},
		show:      showDoubts,
		exercises: [2]func(*draws) setter{oneMicrometerTask, setGaugeTask},
	}
}

// parts splits an uncertainty into what is common and what repeats, both rounded to the
// tenth of a micrometre as a certificate has them.
func parts(u units.Length, percent int64) (common, repeats units.Length, err error) {
	repeats = units.Millimetre.Of(u.MulRat(big.NewRat(percent, 100)).In(units.Millimetre, 5))
	common, err = measure.Split(u, repeats)
	return common, repeats, err
}

func showDoubts(at []int64) (view, error) {
	u := millimetres(at[0], 3)
	common, repeats, err := parts(u, at[1])
	if err != nil {
		return view{}, err
	}
	micrometer := measure.LengthInstrument{Name: "micrometer", Common: common, Repeats: repeats}
	if at[4] == 1 {
		micrometer = measure.LengthInstrument{Name: "micrometer", Uncertainty: u}
	}
	bore, wall, other, journal := millimetres(567994, 4), millimetres(19687, 4), millimetres(19644, 4), millimetres(527966, 4)
	var setting measure.LengthReading
	if at[3] == 1 {
		setting, err = micrometer.Read("setting of the bore gauge", millimetres(568, 1))
	} else {
		setting, err = measure.Estimated(millimetres(568, 1), millimetres(1, 3), "setting ring")
	}
	if err != nil {
		return view{}, err
	}
	gauge := measure.LengthInstrument{Name: "bore gauge", Common: millimetres(1, 3), Repeats: millimetres(at[2], 4), SetOn: setting}
	var failed error
	read := func(by *measure.LengthInstrument, what string, size units.Length) measure.LengthReading {
		r, err := by.Read(what, size)
		if err != nil {
			failed = err
		}
		return r
	}
	b := clearance.MeasuredBearing{
		HousingBore: read(&gauge, "housing bore", bore).With(clearance.BoltsAsAssembled(), clearance.ShellsOut()),
		UpperWall:   read(&micrometer, "upper wall", wall), LowerWall: read(&micrometer, "lower wall", other), Journal: read(&micrometer, "journal", journal),
	}
	if failed != nil {
		return view{}, failed
	}
	fit := b.Fit()
	sum := fit.Sum
	doubt := sum.Reading().Expanded()
	worst := sum
	worst.AtWorst = true
	// As if nothing hung together: each reading's whole doubt, by squares.
	independent := units.RootSumSquare(units.Millimetre, 7, b.HousingBore.Expanded(), b.UpperWall.Expanded(), b.LowerWall.Expanded(), b.Journal.Expanded())
	bar := func(name string, q units.Length) page.Bar {
		return page.Bar{Name: name, Value: q.Float64(units.Micrometre), Says: micrometres(q, 2)}
	}
	shares := []page.Bar{bar("as if independent", independent), bar("with its sources", doubt), bar("all at its worst", worst.Reading().Expanded())}
	read4 := []page.Bar{bar("housing bore", b.HousingBore.Expanded()), bar("upper wall", b.UpperWall.Expanded()), bar("lower wall", b.LowerWall.Expanded()), bar("journal", b.Journal.Expanded())}
	v := view{said: []string{"The clearance is " + sum.Interval().FormatOutward(units.Millimetre, 4) + ", good to ±" + micrometres(doubt, 2) + "."}}
	switch {
	case independent.MulRat(ratio(102, 100)).Less(doubt):
		v.said = append(v.said, "Taken as independent, the readings would promise ±"+micrometres(independent, 2)+", and that is a promise that they cannot keep: the true doubt is "+number(doubt.Float64(units.Micrometre)/independent.Float64(units.Micrometre), 3)+" times as large.")
	case doubt.MulRat(ratio(102, 100)).Less(independent):
		v.said = append(v.said, "Taken as independent, the readings would be good to ±"+micrometres(independent, 2)+" only. Here what they share cancels, and you know the clearance better than that.")
	default:
		v.said = append(v.said, "Taken as independent, the readings would be good to ±"+micrometres(independent, 2)+": nearly the same, because here what adds and what cancels make up for each other.")
	}
	v.said = append(v.said, "Against the limits, "+clearanceLimits().String()+": "+measure.Judge(sum.Interval(), clearanceLimits()).String()+".")
	v.charts = []page.Chart{
		page.Bars{ID: "doubts-1", Title: "Doubt of the clearance, by three ways of adding", X: page.Axis{Name: "expanded uncertainty", Unit: "µm"}, Bars: shares},
		page.Bars{ID: "doubts-2", Title: "Doubt of each reading alone", X: page.Axis{Name: "expanded uncertainty", Unit: "µm"}, Bars: read4},
	}
	v.working = func() ([]units.Working, error) {
		return []units.Working{fit.Working(units.Millimetre)}, nil
	}
	return v, nil
}

// sumOf is a signed sum of readings for a task.
func sumOf(terms ...measure.Term[units.LengthDim]) *measure.Sum[units.LengthDim] {
	return &measure.Sum[units.LengthDim]{Name: "clearance", Symbol: "C", Terms: terms}
}

// mustRead reads for a task, whose instruments can always read.
func mustRead(in *measure.LengthInstrument, at string, size units.Length) measure.LengthReading {
	r, err := in.Read(at, size)
	if err != nil {
		panic("lesson: " + err.Error())
	}
	return r
}

// squares is the root of the sum of the squares, rounded up to the tenth of a nanometre.
func squares(terms ...units.Length) units.Length {
	return units.RootSumSquare(units.Millimetre, 7, terms...)
}

func oneMicrometerTask(d *draws) setter {
	m, g := millimetres(d.from(20, 90, 1), 4), millimetres(d.from(20, 120, 1), 4)
	micrometer, gauge := measure.LengthInstrument{Name: "micrometer", Uncertainty: m}, measure.LengthInstrument{Name: "bore gauge", Uncertainty: g}
	sum := sumOf(
		measure.Plus("D", "housing bore", mustRead(&gauge, "housing bore", millimetres(567990+d.from(0, 9, 1), 4))),
		measure.Minus("t1", "upper wall", mustRead(&micrometer, "upper wall", millimetres(19670+d.from(0, 9, 1), 4))),
		measure.Minus("t2", "lower wall", mustRead(&micrometer, "lower wall", millimetres(19650+d.from(0, 9, 1), 4))),
		measure.Minus("d", "journal", mustRead(&micrometer, "journal", millimetres(527960+d.from(0, 9, 1), 4))))
	t := &task[units.LengthDim]{unit: units.Millimetre, places: 4, round: up, exact: units.Exactly(sum.Reading().Expanded()),
		text:    "One micrometer read both walls and the journal, and a bore gauge the bore of the housing. Each certificate states one figure and says nothing of repeatability. How good is the clearance? Give its expanded uncertainty U.",
		given:   [][2]string{{"micrometer, expanded uncertainty", "±" + m.String()}, {"bore gauge, expanded uncertainty", "±" + g.String()}, {"the clearance", "C = D - t1 - t2 - d"}},
		working: sum.Working(units.Millimetre),
	}
	t.mistakenFor(squares(m, m, m, g), "You took the three readings of the micrometer as independent. It is one instrument, and what it reads wrong it may read wrong in all three: add the three first.")
	t.mistakenFor(squares(m, g), "You counted the micrometer once. It read three of the four sizes.")
	t.mistakenFor(units.Sum(m, m, m, g), "You added everything at its worst. The bore gauge is another instrument, so the two add by squares.")
	t.mistakenFor(units.Sum(m, g), "You counted the micrometer once, and added the bore gauge without squares.")
	return t
}

func setGaugeTask(d *draws) setter {
	mc, mr, gc, gr := millimetres(d.from(20, 50, 5), 4), millimetres(d.from(5, 15, 1), 4), millimetres(d.from(5, 15, 5), 4), millimetres(d.from(6, 20, 1), 4)
	micrometer := measure.LengthInstrument{Name: "micrometer", Common: mc, Repeats: mr}
	gauge := measure.LengthInstrument{Name: "bore gauge", Common: gc, Repeats: gr, SetOn: mustRead(&micrometer, "setting of the bore gauge", millimetres(20, 0))}
	sum := sumOf(measure.Plus("D", "bush", mustRead(&gauge, "bush", millimetres(20021, 3))), measure.Minus("d", "shaft", mustRead(&micrometer, "shaft", millimetres(19995, 3))))
	t := &task[units.LengthDim]{unit: units.Millimetre, places: 4, round: up, exact: units.Exactly(sum.Reading().Expanded()),
		text: "A bore gauge was set in a micrometer. The gauge read a bush and the micrometer read its shaft. How good is the clearance, bush less shaft? Give its expanded uncertainty U.",
		given: [][2]string{{"micrometer, common to its readings", "±" + mc.String()}, {"micrometer, repeatability", "±" + mr.String()},
			{"bore gauge, common to its readings", "±" + gc.String()}, {"bore gauge, repeatability", "±" + gr.String()}},
		working: sum.Working(units.Millimetre),
	}
	t.mistakenFor(squares(mc, mc, mr, mr, gc, gr, gr), "You took the micrometer's common error in the gauge and in the shaft as independent. It is one and the same error, once with plus and once with minus: it cancels.")
	t.mistakenFor(squares(mc.MulInt(2), mr, mr, gc, gr, gr), "You added the micrometer's common error in both. The shaft is subtracted, so there it counts with a minus: it cancels.")
	t.mistakenFor(squares(mr, gc, gr), "You forgot the setting. Setting the gauge takes a reading of each: the repeatability of both counts once more.")
	t.mistakenFor(squares(mc, mr, gc, gr), "You counted each figure once, as if the gauge had not been set in the micrometer.")
	return t
}
