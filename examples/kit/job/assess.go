package job

import (
	"context"
	"fmt"
	"strings"

	"example.com/closefit/clearance"
	pictures "example.com/closefit/examples/kit/drawing"
	"example.com/closefit/fasteners"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// Assess judges every reading, chooses every shell, finds the cheapest purchase,
// and says what to do next. The error is that of the context, if it ends before
// the purchase is proven cheapest, or says which shells cannot be bought.
func (j *Job) Assess(ctx context.Context) (*Assessment, error) {
	a := &Assessment{Title: j.title, Note: j.note, Date: j.date, By: j.by, Passages: j.passages}
	if j.jets != nil {
		a.Groups = append(a.Groups, j.jetGroup())
	}
	for _, set := range j.bearings {
		a.Groups = append(a.Groups, j.clearanceGroup(set))
	}
	for _, g := range j.gaps {
		a.Groups = append(a.Groups, j.gapGroup(g))
	}
	var bolts []Group
	for _, set := range j.bolts {
		bolts = append(bolts, j.boltGroup(set))
	}
	a.Groups = append(a.Groups, bolts...)
	for _, set := range j.bearings {
		s, err := j.shellsOf(ctx, set, a.outside(set.name))
		if err != nil {
			return nil, err
		}
		if s != nil {
			a.Shells = append(a.Shells, *s)
		}
	}
	a.Next = next(a)
	if j.plan != nil {
		a.Plan = j.planSteps(bolts)
		a.Hold = hold(a.Next)
		for _, d := range pictures.Of(j.plan) {
			a.Pictures = append(a.Pictures, Picture{On: d.On, SVG: d.SVG})
		}
	}
	a.Cautions = j.cautions()
	return a, nil
}

func (j *Job) jetGroup() Group {
	u := j.show.pressure
	g := Group{Name: "oil jet", Quantity: "opening pressure", Remedy: jetRemedy, Limits: tolerance(j.jets.opens, u, pressurePlaces)}
	var d drawing
	for _, t := range j.jets.tests {
		g.Findings = append(g.Findings, j.jetFinding(g, t))
		add(&d, t.reading.Interval(), j.jets.opens, u)
	}
	d.into(g.Findings)
	return g
}

func (j *Job) jetFinding(g Group, t jetTest) Finding {
	u := j.show.pressure
	f := find(subject{g.Name, t.jet, g.Quantity}, t.reading, j.jets.opens, u, pressurePlaces, func(a clearance.Assessment[units.PressureDim]) string {
		if !a.Reading.Interval().HasHi() {
			return openEnded(a, u, pressurePlaces)
		}
		return "try pressures between, in smaller steps"
	})
	f.Slip = slip(t.reading, j.jets.opens, u, units.Bar, units.PoundForcePerSquareInch, units.Kilopascal)
	return f
}

func (j *Job) gapGroup(t gapGroup) Group {
	g := Group{Name: t.name, Quantity: t.quantity, Remedy: t.remedy}
	j.fill(&g, t.limits, t.gaps, func(i int, a clearance.Assessment[units.LengthDim]) string {
		return j.retry(t.gaps[i], a)
	})
	return g
}

// retry says what would settle an undecided gap: the blades that were not tried,
// or a better measurement, with the dial if that is good enough.
func (j *Job) retry(g gap, a clearance.Assessment[units.LengthDim]) string {
	u, places := j.show.length, j.show.places
	if len(g.untried) > 0 {
		return "try the blades between: " + list(g.untried, u)
	}
	if !a.Reading.Interval().HasHi() {
		return openEnded(a, u, places)
	}
	words := enough(a, u, places)
	if in := finest(j.gauges, "dial"); in != nil && a.SettledBy(in.gauge.Uncertainty) {
		words += fmt.Sprintf(": the %s is good to ±%s", in.gauge.Name, in.gauge.Uncertainty.Format(u, places+1, units.Ceiling))
	}
	return words
}

// fill judges readings of lengths against the limits that they share. advise says
// what would settle the reading of that index if it is undecided.
func (j *Job) fill(g *Group, limits units.LengthInterval, readings []gap, advise func(int, clearance.Assessment[units.LengthDim]) string) {
	u, places := j.show.length, j.show.places
	g.Limits = tolerance(limits, u, places)
	var d drawing
	for i, x := range readings {
		s := subject{g.Name, x.location, g.Quantity}
		f := find(s, x.reading, limits, u, places, func(a clearance.Assessment[units.LengthDim]) string { return advise(i, a) })
		if !x.computed {
			f.Slip = slip(x.reading, limits, u, units.Millimetre, units.Inch)
		}
		g.Findings = append(g.Findings, f)
		add(&d, x.reading.Interval(), limits, u)
	}
	d.into(g.Findings)
}

// remeasureBolt says what would settle an undecided bolt. However well its length is
// measured now, the doubt of its length when new remains.
func (j *Job) remeasureBolt(c boltCheck, limit units.Length) string {
	u, places := j.show.length, j.show.places
	a := measure.Assess(c.size().Reading(), units.AtMost(limit))
	switch {
	case a.Reading.Problem() != "":
		return "the bolt measures shorter than when new: measure again, and make sure that it is the same bolt"
	case !c.whenNew.IsEmpty():
		least, most := c.whenNew.Lo().Add(limit), c.whenNew.Hi().Add(limit)
		return fmt.Sprintf("a length of at most %s, uncertainty counted, proves it good, and one above %s scrap; between them nothing does, because the length when new is only known to %s: measure new bolts from the same box, or replace it",
			least.Format(u, places, units.Floor), most.Format(u, places, units.Ceiling), reading(c.whenNew, u, places))
	}
	needed, ok := a.Settling(measure.NineInTen)
	if !ok {
		return "no measurement can settle it"
	}
	shown := places + 1
	for needed.Rounded(u, shown, units.Floor).IsZero() {
		shown++ // a size at its limit needs more than anyone can measure; say so in figures
	}
	return fmt.Sprintf("a measurement good to ±%s settles it nine times in ten", needed.Format(u, shown, units.Floor))
}

// list writes lengths with the digits that they have.
func list(lengths []units.Length, u units.LengthUnit) string {
	texts := make([]string, len(lengths))
	for i, l := range lengths {
		texts[i] = l.Format(u, decimals(l, u, mostPlaces), units.HalfEven)
	}
	return strings.Join(texts, ", ")
}

// boltGroup judges used bolts. That a bolt may not go back is a limit passed.
func (j *Job) boltGroup(set boltSet) Group {
	g := Group{Name: set.name, Quantity: set.quantity, Remedy: boltRemedy}
	limits := units.AtMost(set.limit)
	contradicts := func(c boltCheck) bool { return c.now.Taken() && c.size().Reading().Problem() != "" }
	var readings []gap
	for _, c := range set.checks {
		size := c.size()
		if contradicts(c) {
			size.NonNegative = false // so that the record shows the difference
		}
		readings = append(readings, gap{location: c.bolt, reading: clearance.Given(size.Interval(), c.now.How(j.show.length))})
	}
	j.fill(&g, limits, readings, func(i int, _ clearance.Assessment[units.LengthDim]) string {
		return j.remeasureBolt(set.checks[i], set.limit)
	})
	for i, c := range set.checks {
		if contradicts(c) {
			g.Findings[i].Verdict = clearance.Undecided
			g.Findings[i].Advice = j.remeasureBolt(c, set.limit)
		}
	}
	return g
}

// cautions are what must be said with the record, those of the plan among them.
func (j *Job) cautions() []string {
	cautions := []string{
		"The engine maker's manual and licensed practice come first. closefit holds no limits of its own: check every limit, torque and angle in this record against the manual.",
		"An undecided fit is not a good fit, and a reading that was not taken proves nothing.",
	}
	if len(j.passages) > 0 || j.jets != nil {
		cautions = append(cautions,
			"Compressed air throws dirt and oil: wear eye protection, and keep the nozzle from skin.",
			"No petrol as a solvent: it burns at room temperature. Use a cleaning solvent made for parts, with air moving.")
	}
	cautions = append(cautions, "The crankshaft must turn freely by hand before going on, after each cap and each stage.")
	if len(j.bolts) > 0 {
		cautions = append(cautions, sentence(fasteners.Caution))
	}
	if j.plan != nil {
		for _, c := range j.plan.Cautions() {
			if !repeats(c) {
				cautions = append(cautions, c)
			}
		}
	}
	return cautions
}

// repeats reports whether a plan's caution says what the record says already.
func repeats(c string) bool {
	return strings.HasPrefix(c, "The engine maker's manual") || strings.HasPrefix(c, "The crank must turn freely")
}

// sentence makes a sentence of words that begin small and have no stop.
func sentence(s string) string {
	s = strings.ToUpper(s[:1]) + s[1:]
	if !strings.HasSuffix(s, ".") {
		s += "."
	}
	return s
}
