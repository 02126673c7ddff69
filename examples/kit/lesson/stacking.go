package lesson

import (
	"context"
	"math"
	"strconv"

	"example.com/closefit/clearance/stack"
	"example.com/closefit/examples/kit/page"
	"example.com/closefit/units"
)

func stacking() *Lesson {
	return &Lesson{
		Key: "stacking", Title: "Stacking tolerances",
		Question: "Five parts, each within its limits. What does the gap come to?",
		Reads: []string{
			"The worst case is simple: take the largest of what opens the gap and the smallest of what closes it. Then the other way. No part that passed its own inspection can make a gap outside. It asks nothing about how the parts are made, and it is often far wider than what you will ever see.",
			"Root-sum-square takes the tolerances as spreads that add by squares. It is narrower, and it may be wrong: it holds for sizes that are normal, sit in the middle of their limits and know nothing of each other. Each of these three is a claim about the shop that made the parts.",
			"The exact distribution says how often a gap lies outside the limits, if you know how the sizes lie within theirs. Sampling does the same by trying: it draws a set of parts, assembles it, and counts. It costs more and says less sharply, but it also works where nobody can do the sum.",
			"Two things ruin a stack that looks good on paper. A process that runs off the middle shifts every gap the same way; tolerances do not average that out. And sizes that hang together, because one fixture made them all, do not add by squares.",
		},
		Try: []string{
			"Move all parts off centre, each to the side that closes the gap. What happens to the distribution, and what to root-sum-square?",
			"Make the sizes hang together. Two parts that grow together, of which one opens the gap and one closes it, cancel; two that both close it do not.",
			"Choose the distribution to take if only limits are known. Which interval grows, and which stays?",
		},
		Controls: []Control{
			choice("Stack", "end play of the crankshaft", "height of the deck over the piston"),
			choice("Sizes within their limits", "normal, three standard deviations", "evenly spread", "triangular"),
			slider("All tolerances, as a share of the drawing's", 50, 200, 10, 100, 0, "%"),
			slider("Off centre, towards closing the gap, as a share of the tolerance", 0, 50, 5, 0, 0, "%"),
			slider("Correlation of all sizes with each other", 0, 90, 10, 0, 0, "%"),
		},
		show:      showStacking,
		exercises: [2]func(*draws) setter{worstTask, squaresTask},
	}
}

// size is a part in a stack: its middle and tolerance in thousandths of a millimetre.
type size struct {
	name      string
	middle    int64
	tolerance int64
	closes    bool
}

// chain is a gap with its limits.
type chain struct {
	name   string
	sizes  []size
	limits units.LengthInterval
}

func chains() []chain {
	return []chain{
		{"end play", []size{
			{"length between the crank's thrust faces", 31_180, 25, false},
			{"thrust wall of the block", 25_000, 20, true},
			{"front washer", 2_000, 12, true},
			{"rear washer", 2_000, 12, true},
			{"spacer ring", 2_000, 15, true},
		}, units.Between(millimetres(135, 3), millimetres(225, 3))},
		{"deck height", []size{
			{"crankshaft's centre to the deck", 230_450, 50, false},
			{"throw of the crank", 44_150, 30, true},
			{"rod between centres", 144_000, 35, true},
			{"compression height of the piston", 42_100, 30, true},
			{"half the play of the bearings", 60, 20, true},
		}, units.Between(millimetres(60, 3), millimetres(220, 3))},
	}
}

// built is the stack at the places of the sliders. Sizes that all hang together alike follow one source, each with the root
// of their correlation as its part.
func built(c chain, kind, scale, off, correlation int64) stack.Stack {
	var s stack.Stack
	part := math.Sqrt(float64(correlation) / 100)
	for _, x := range c.sizes {
		tolerance := millimetres(x.tolerance*scale, 5)
		limits := units.PlusMinus(millimetres(x.middle, 3), tolerance)
		shift := tolerance.MulRat(ratio(off, 100))
		if !x.closes {
			shift = shift.Neg()
		}
		d := stack.Normal(3)
		switch {
		case kind == 1:
			d = stack.Uniform()
		case kind == 2:
			d = stack.Triangular()
		}
		if off != 0 {
			if kind == 0 {
				d = d.About(limits.Mid().Add(shift))
			} else {
				limits = limits.Shift(shift) // such a process is known by its ends alone, so they move
			}
		}
		contributor := stack.Adds(x.name, limits, d)
		if x.closes {
			contributor = stack.Takes(x.name, limits, d)
		}
		if correlation != 0 {
			contributor.Sources = []stack.Source{{Name: "what they share", Part: &part}}
		}
		s = append(s, contributor)
	}
	return s
}

// trials are so few that a slider stays quick; the picture says how well they tell.
const trials = 2000

func showStacking(at []int64) (view, error) {
	c := chains()[at[0]]
	drawing := built(c, at[1], at[2], 0, 0)
	s := drawing
	if at[3] != 0 || at[4] != 0 {
		s = built(c, at[1], at[2], at[3], at[4])
	}
	worst := drawing.WorstCase()
	plain, err := drawing.RSS(units.MustParseRatio("1"))
	if err != nil {
		return view{}, err
	}
	mm := units.Millimetre
	rows := []page.Interval{on("worst case", worst.Interval(), c.limits, mm, 3), on("root-sum-square", plain.Interval(), c.limits, mm, 3)}
	v := view{said: []string{"The worst case is " + rows[0].Reads + ", root-sum-square " + rows[1].Reads + ". The limits are " + c.limits.String() + ": the worst case is " + rows[0].Verdict + ", root-sum-square " + rows[1].Verdict + "."}}

	run, err := s.Simulate(context.Background(), c.limits, stack.Simulation{Trials: trials, Seed: 1, Workers: 1})
	if err != nil {
		return view{}, err
	}
	sampled := "Of " + strconv.Itoa(trials) + " sets of parts that were drawn, " + strconv.FormatInt(run.Below+run.Above, 10) + " make a gap outside the limits: " + percent(*run.Outside) + ", give or take " + percent(*run.Uncertainty) + "."
	h := page.Histogram{ID: "stacking-1", Title: "How the gap is spread", X: page.Axis{Name: c.name, Unit: "mm"}, Y: page.Axis{Name: "density", Unit: "1/mm"}, Bars: "of the sets that were drawn", Limits: span(c.limits, mm), LimitsName: "the limits"}
	edges, heights := counted(run)
	h.Edges, h.Heights = edges, heights
	law, err := s.Law()
	v.working = func() ([]units.Working, error) {
		all := []units.Working{worst.Working(mm), plain.Working(mm), run.Working()}
		if law == nil {
			return all, nil
		}
		working, err := law.Working(c.limits)
		return append([]units.Working{working}, all...), err
	}
	if err != nil {
		v.said = append(v.said, "Sizes that hang together and are not normal have no exact sum here; what they do is sampled.", sampled)
	} else {
		capability, err := law.Capability(c.limits)
		if err != nil {
			return view{}, err
		}
		cover, err := law.Coverage(0.9973)
		if err != nil {
			return view{}, err
		}
		rows = append(rows, on("exact, "+percent(0.9973)+" of all gaps", cover, c.limits, mm, 3))
		v.said = append(v.said, "By the exact distribution, "+percent(capability.Outside.Value)+" of all gaps lie outside the limits. "+sampled)
		curve := page.Series{Name: "of the exact distribution"}
		const points = 48
		start, err := mm.OfFloat64(edges[0], 6)
		if err != nil {
			return view{}, err
		}
		step, err := mm.OfFloat64((edges[len(edges)-1]-edges[0])/points, 6)
		if err != nil {
			return view{}, err
		}
		gaps := make([]units.Length, points+1)
		for i := range gaps {
			gaps[i] = start.Add(step.MulInt(int64(i)))
		}
		densities, err := law.Densities(gaps...)
		if err != nil {
			return view{}, err
		}
		for i, gap := range gaps {
			curve.X, curve.Y = append(curve.X, gap.Float64(mm)), append(curve.Y, densities[i].Value)
		}
		h.Over = &curve
	}
	if at[3] != 0 || at[4] != 0 {
		v.said = append(v.said, "Root-sum-square was worked out as the drawing has it, in the middle and independent. It does not know what you moved.")
	}
	h.X.Least = steady(h.Limits, append(rows, page.Interval{Reading: page.Span{From: edges[0], To: edges[len(edges)-1]}}))
	v.charts = []page.Chart{h, page.Intervals{ID: "stacking-2", Title: "What each method promises, on the limits", X: h.X, Read: "what is promised", Rows: rows}}
	return v, nil
}

// steady is a scale about the limits that shows all the rows, as wide as the limits, or twice, four times … as wide: what grows
// is then seen to grow, and the scale seldom changes.
func steady(limits page.Span, rows []page.Interval) page.Span {
	middle, half := (limits.From+limits.To)/2, (limits.To-limits.From)/2*1.1 // so that an end is seen to be one
	for _, r := range rows {
		for r.Reading.From < middle-half || r.Reading.To > middle+half {
			half *= 2
		}
	}
	return page.Span{From: middle - half, To: middle + half}
}

// counted is the density of the trials over four standard deviations to either side, in whole
// numbers of an Outcome's own bins.
func counted(run *stack.Outcome) (edges, heights []float64) {
	const n = 24
	own := run.StdDev * 8 / n / run.BinWidth
	step := max(1, int(own+0.5))
	first := (len(run.Bins) - n*step) / 2
	for i := range n + 1 {
		edges = append(edges, run.BinStart+float64(first+i*step-1)*run.BinWidth)
	}
	for i := range n {
		in := int64(0)
		for _, trials := range run.Bins[first+i*step : first+(i+1)*step] {
			in += trials
		}
		heights = append(heights, float64(in)/float64(run.Trials)/(float64(step)*run.BinWidth))
	}
	return edges, heights
}

// drawn is a stack for a task, in hundredths.
func drawn(d *draws) (chain, stack.Stack, [][2]string) {
	c := chains()[d.IntN(2)]
	c.sizes = append([]size(nil), c.sizes[:4]...)
	var given [][2]string
	for i := range c.sizes {
		x := &c.sizes[i]
		x.middle += d.from(-20, 20, 1)
		x.tolerance = d.from(10, 60, 5)
	}
	if !c.sizes[0].closes && c.name == "end play" {
		c.sizes[0].middle -= 2_000 // without the spacer ring
	}
	var s stack.Stack
	for _, x := range c.sizes {
		limits, sign := around(x.middle, x.tolerance, 3), "opens the gap: "
		if x.closes {
			s, sign = append(s, stack.Takes(x.name, limits, stack.Distribution{})), "closes the gap: "
		} else {
			s = append(s, stack.Adds(x.name, limits, stack.Distribution{}))
		}
		given = append(given, [2]string{sign + x.name, millimetres(x.middle, 3).WrittenBare(units.Millimetre) + " ±" + millimetres(x.tolerance, 3).String()})
	}
	return c, s, given
}

func worstTask(d *draws) setter {
	c, s, given := drawn(d)
	worst := s.WorstCase()
	t := &task[units.LengthDim]{unit: units.Millimetre, places: 3, round: outward, exact: worst.Interval(), given: given, working: worst.Working(units.Millimetre),
		text: "What is the " + c.name + " in the worst case, from the least to the most?"}
	rss, err := s.RSS(units.MustParseRatio("1"))
	if err != nil {
		panic("lesson: " + err.Error())
	}
	mid := worst.Interval().Mid()
	t.mistaken(rss.Interval(), "That is root-sum-square. The worst case adds the tolerances as they are, without squares.")
	t.mistaken(units.PlusMinus(mid, worst.Interval().Width()), "You took each tolerance twice. ±t is t to each side.")
	t.mistaken(units.PlusMinus(mid, worst.Interval().Width().MulRat(ratio(1, 4))), "You halved the tolerances. ±t is t to each side, and not t in all.")
	// The largest of everything, then the smallest of everything.
	lo, hi := units.Length{}, units.Length{}
	for _, x := range s {
		if x.Sensitivity.Sign() > 0 {
			lo, hi = lo.Add(x.Limits.Lo()), hi.Add(x.Limits.Hi())
		} else {
			lo, hi = lo.Sub(x.Limits.Lo()), hi.Sub(x.Limits.Hi())
		}
	}
	t.mistaken(units.Between(lo, hi), "You took all parts at their largest together, then all at their smallest. The gap is least where what opens it is smallest and what closes it is largest.")
	t.mistaken(units.Exactly(mid), "That is the gap if every size were in the middle. The question is how far it can be from there.")
	return t
}

func squaresTask(d *draws) setter {
	c, s, given := drawn(d)
	rss, err := s.RSS(units.MustParseRatio("1"))
	if err != nil {
		panic("lesson: " + err.Error())
	}
	worst := s.WorstCase().Interval().Radius()
	root := rss.Reading().Expanded()
	t := &task[units.LengthDim]{unit: units.Millimetre, places: 4, round: up, exact: units.Exactly(root), given: given, working: rss.Working(units.Millimetre),
		text: "By how much does the " + c.name + " vary to either side of its middle, by root-sum-square?"}
	t.mistakenFor(worst, "That is the worst case. Root-sum-square adds the squares of the tolerances and takes the root.")
	t.mistakenFor(root.MulInt(2), "You took the whole widths of the limits, and the answer is to either side: ±t enters with t.")
	t.mistakenFor(root.MulRat(ratio(1, 2)), "You took half of each tolerance. ±t enters with t.")
	t.mistakenFor(worst.MulRat(ratio(1, int64(len(s)))), "That is the mean of the tolerances. A sum of four parts varies by more than one part does.")
	return t
}
