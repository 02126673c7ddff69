package lesson

import (
	"github.com/shopspring/decimal"

	"example.com/closefit/examples/kit/page"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

func deciding() *Lesson {
	var curves memo[[2]int64, []risks] // by what neither the guard band nor the price changes
	return &Lesson{
		Key: "deciding", Title: "Deciding",
		Question: "The journal reads right at its limit. Do you fit it?",
		Reads: []string{
			"At the limit the reading says nothing: the journal is as likely to be outside as inside. So the limit for what you read must not be the limit for the size. Between the two lies the guard band. Move the limit for readings inward, and fewer bad journals pass; but good ones near the limit are ground or scrapped for nothing.",
			"There are two ways to be wrong, and they have names. The consumer's risk is the share of parts that are outside and were accepted; whoever runs the engine bears it. The producer's risk is the share that are inside and were refused; the shop bears it. No guard band makes both small. Only a better instrument does.",
			"What you should choose depends on what a wrong verdict costs. A main journal that seizes costs an engine. A good journal that is ground costs an afternoon.",
		},
		Try: []string{
			"Move the guard band from accepting too much to accepting too little. Which risk pays for the other?",
			"Make the instrument better. What happens to both risks?",
			"Raise the cost of the bad part. Where does the cheapest guard band go?",
		},
		Controls: []Control{
			slider("Spread of the journals, one standard deviation", 20, 100, 5, 60, 4, "mm"),
			slider("Uncertainty of the reading, ±", 10, 60, 5, 30, 4, "mm"),
			slider("Guard band, as a share of the uncertainty", -100, 140, 10, 100, 0, "%"),
			slider("Cost of one bad part fitted, in good parts scrapped", 1, 60, 1, 20, 0, ""),
		},
		show:      func(at []int64) (view, error) { return showDeciding(at, &curves) },
		exercises: [2]func(*draws) setter{acceptTask, guardTask},
	}
}

// journalLimits are those of the tide mill's main journals.
func journalLimits() units.LengthInterval {
	return units.Between(millimetres(52781, 3), millimetres(52800, 3))
}

// risks are both risks of a guard band.
type risks struct {
	part               int64 // of the uncertainty, in hundredths
	guard              units.Length
	consumer, producer float64
}

// risksOf are those of the guard bands that a chart is drawn of, until nothing is left to accept.
func risksOf(process measure.Process[units.LengthDim], u units.Length) (all []risks) {
	for part := int64(-100); part <= 140; part += 10 {
		g := u.MulRat(ratio(part, 100))
		consumer, producer, err := process.Risks(journalLimits(), g, u)
		if err != nil {
			break
		}
		all = append(all, risks{part, g, consumer, producer})
	}
	return all
}

func showDeciding(at []int64, curves *memo[[2]int64, []risks]) (view, error) {
	mm, limits := units.Millimetre, journalLimits()
	process := measure.Process[units.LengthDim]{Mean: limits.Mid(), Spread: millimetres(at[0], 4)}
	u, price := millimetres(at[1], 4), float64(at[3])
	guard := u.MulRat(ratio(at[2], 100))
	accepted, err := measure.Accepting(limits, guard)
	if err != nil {
		return view{}, err
	}
	consumer, producer, err := process.Risks(limits, guard, u)
	if err != nil {
		return view{}, err
	}
	var x, bad, good, cost []float64
	best, bestCost := units.Length{}, -1.0
	all, err := curves.of([2]int64(at), func() ([]risks, error) { return risksOf(process, u), nil })
	if err != nil {
		return view{}, err
	}
	for _, r := range all {
		total := price*r.consumer + r.producer
		x, bad, good, cost = append(x, float64(r.part)), append(bad, 100*r.consumer), append(good, 100*r.producer), append(cost, 100*total)
		if bestCost < 0 || total < bestCost {
			best, bestCost = r.guard, total
		}
	}
	edge, err := measure.Estimated(accepted.Hi(), u, "the reading")
	if err != nil {
		return view{}, err
	}
	least, _, err := measure.Conformity(edge, limits)
	if err != nil {
		return view{}, err
	}
	v := view{said: []string{
		"Accept what reads " + accepted.FormatInward(mm, 4) + ". The limits are " + limits.String() + ": a journal that reads exactly " + accepted.Hi().Format(mm, 4, units.Floor) + " lies inside them with a probability of " + percent(least) + ".",
		"Of all journals, " + percent(consumer) + " are outside and fitted, and " + percent(producer) + " are inside and refused.",
		"At your prices that costs as much as scrapping " + percent(price*consumer+producer) + " of all journals. Of the guard bands drawn here, the cheapest is " + micrometres(best, 1) + ", at " + percent(bestCost) + ".",
	}}
	fitted, refused, both := page.Series{Name: "bad and fitted", X: x, Y: bad}, page.Series{Name: "good and refused", X: x, Y: good}, page.Series{Name: "cost", X: x, Y: cost}
	stands := float64(at[2])
	v.charts = []page.Chart{
		page.Lines{ID: "deciding-1", Title: "Both risks, over the guard band", X: page.Axis{Name: "guard band, share of U", Unit: "%"}, Y: page.Axis{Name: "share of all parts", Unit: "%"}, FromZero: true,
			Lines: []page.Series{fitted, refused, here(stands, fitted, refused)}},
		page.Lines{ID: "deciding-2", Title: "What both cost together", X: page.Axis{Name: "guard band, share of U", Unit: "%"}, Y: page.Axis{Name: "cost, as good parts scrapped", Unit: "%"}, FromZero: true,
			Lines: []page.Series{both, here(stands, both)}},
	}
	v.working = func() ([]units.Working, error) {
		working, err := process.Working(limits, guard, u, mm)
		if err != nil {
			return nil, err
		}
		return []units.Working{working, {Name: "cost of wrong verdicts", Formula: "K = k · R_C + R_P", Numbers: number(price, 3) + " · " + percent(consumer) + " + " + percent(producer), Result: percent(price*consumer + producer),
			Source: "JCGM 106:2012, 9, for the two risks", Notes: []string{"R_C and R_P are the consumer's and the producer's risk, as JCGM 106 writes them; k is what a bad part that is fitted costs, in good ones that are scrapped"}}}, nil
	}
	return v, nil
}

// acceptance is the working of an acceptance interval.
func acceptance(limits units.LengthInterval, guard units.Length, accepted units.LengthInterval) units.Working {
	g := guard.WrittenBare(units.Millimetre)
	return units.Working{Name: "acceptance interval", Formula: "A = L + g .. U - g", Numbers: limits.Lo().WrittenBare(units.Millimetre) + " + " + g + " .. " + limits.Hi().WrittenBare(units.Millimetre) + " - " + g,
		Result: accepted.Written(units.Millimetre), Source: "JCGM 106:2012, 8.3"}
}

func mustAccept(limits units.LengthInterval, guard units.Length) units.LengthInterval {
	a, err := measure.Accepting(limits, guard)
	if err != nil {
		panic("lesson: " + err.Error())
	}
	return a
}

func acceptTask(d *draws) setter {
	lo, u := d.from(52770, 52790, 1), millimetres(d.from(21, 49, 1), 4)
	limits := units.Between(millimetres(lo, 3), millimetres(lo+d.from(18, 26, 1), 3))
	a := mustAccept(limits, u)
	t := &task[units.LengthDim]{unit: units.Millimetre, places: 3, round: inward, exact: a, working: acceptance(limits, u, a),
		text:  "You must be able to prove that the journals you accept conform: the guard band is the expanded uncertainty. Which readings may you accept, from where to where?",
		given: [][2]string{{"the limits of the journal", limits.String()}, {"expanded uncertainty of a reading", "±" + u.String()}}}
	t.mistaken(mustAccept(limits, u.MulRat(ratio(1, 2))), "You took the standard uncertainty for the guard band. To prove conformity it has to be the expanded one.")
	t.mistaken(mustAccept(limits, u.Neg()), "You widened the interval. That accepts everything that may be good, and with it much that is bad.")
	t.mistaken(units.Between(limits.Lo(), a.Hi()), "You left the lower limit as it was. A journal can be too small as well.")
	t.mistaken(units.Between(a.Lo(), limits.Hi()), "You left the upper limit as it was. A journal can be too large as well.")
	t.mistaken(limits, "Those are the limits of the size. A reading at a limit proves nothing: there has to be a guard band.")
	return t
}

func guardTask(d *draws) setter {
	u := millimetres(d.from(200, 800, 1), 5)
	risk := d.from(1, 5, 1) // percent
	factor := func(p decimal.Decimal) units.Ratio {
		k, err := measure.CoverageFactor(p, 0)
		if err != nil {
			panic("lesson: " + err.Error())
		}
		return units.One.Of(k)
	}
	one := decimal.NewFromInt(1)
	oneSided, twoSided := factor(one.Sub(decimal.New(2*risk, -2))), factor(one.Sub(decimal.New(risk, -2)))
	standard := u.MulRat(ratio(1, 2))
	guard := standard.Times(oneSided)
	share := units.One.Of(decimal.New(risk, -2))
	t := &task[units.LengthDim]{unit: units.Millimetre, places: 5, round: up, exact: units.Exactly(guard),
		text: "A journal that reads exactly at the end of the acceptance interval may lie beyond its limit with the stated probability, and no more. How wide is the guard band at that limit? The other limit is far away.",
		given: [][2]string{{"expanded uncertainty of a reading, k = " + units.One.OfInt(2).String(), "±" + u.String()}, {"probability", percent(share.Float64(units.One))},
			{"factor of the normal distribution for one side", oneSided.String()}, {"factor for two sides", twoSided.String()}},
		working: units.Working{Name: "guard band", Formula: "g = z · u, u = U / k", Numbers: oneSided.WrittenBare(units.One) + " · " + u.WrittenBare(units.Millimetre) + " / " + units.One.OfInt(2).WrittenBare(units.One), Result: guard.Format(units.Millimetre, 7, units.HalfEven), Source: "JCGM 106:2012, 8.3.2"},
	}
	t.mistakenFor(u, "That is the expanded uncertainty. It would do for another probability; here one is stated, and with it the factor.")
	t.mistakenFor(standard.Times(twoSided), "You took the factor for two sides. The journal can leave at this limit only, so the whole probability lies on one side.")
	t.mistakenFor(u.Times(oneSided), "You took the factor times the expanded uncertainty. The factor belongs to the standard uncertainty, which is U / k.")
	t.mistakenFor(standard, "That is the standard uncertainty. It still wants the factor.")
	return t
}
