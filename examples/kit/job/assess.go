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
		a.Groups = append(a.Groups, j.group(g, j.retry))
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
		a := measure.Assess(t.reading, j.jets.opens)
		f := found(subject{g.Name, t.jet, g.Quantity}, a, u, pressurePlaces)
		if f.Taken && a.Verdict == measure.Undecided {
			f.Advice = "try pressures between, in smaller steps"
			if !a.Reading.Interval().HasHi() {
				f.Advice = openEnded(a, u, pressurePlaces)
			}
		}
		f.Slip = slip(t.reading, j.jets.opens, u, nil, units.Bar, units.PoundForcePerSquareInch, units.Kilopascal)
		g.Findings = append(g.Findings, f)
		add(&d, t.reading.Interval(), j.jets.opens, u)
	}
	d.into(g.Findings)
	return g
}

// remeasureBolt says what would settle an undecided bolt. However well its length is
// measured now, the doubt of its length when new remains.
func (j *Job) remeasureBolt(c boltCheck, limit units.Length, a measure.Assessment[units.LengthDim]) string {
	u, places := j.show.length, j.show.places
	if !c.whenNew.IsEmpty() {
		least, most := c.whenNew.Lo().Add(limit), c.whenNew.Hi().Add(limit)
		return fmt.Sprintf("a length of at most %s, uncertainty counted, proves it good, and one above %s scrap; between them nothing does, because the length when new is only known to %s: measure new bolts from the same box, or replace it",
			least.Format(u, places, units.Floor), most.Format(u, places, units.Ceiling), reading(c.whenNew, u, places))
	}
	return settles(a, u, places)
}

// boltGroup judges used bolts. That a bolt may not go back is a limit passed.
func (j *Job) boltGroup(set boltSet) Group {
	g := fitGroup{name: set.name, quantity: set.quantity, limits: units.AtMost(set.limit), remedy: boltRemedy}
	checks := map[string]boltCheck{}
	for _, c := range set.checks {
		sum := *c.size()
		if c.contradicts() {
			sum.NonNegative = false // so that the record shows the difference
		}
		g.fits, checks[c.bolt] = append(g.fits, fitting{location: c.bolt, Fit: clearance.Fit{Sum: sum}}), c
	}
	made := j.group(g, func(x fitting, a measure.Assessment[units.LengthDim]) string {
		return j.remeasureBolt(checks[x.location], set.limit, a)
	})
	for i, c := range set.checks {
		f := &made.Findings[i]
		if f.Taken {
			f.How, f.Working = c.now.How(j.show.length), nil // one reading less one figure needs no more
		}
		if c.contradicts() {
			f.Verdict = measure.Undecided
			f.Advice = "the bolt measures shorter than when new: measure again, and make sure that it is the same bolt"
		}
	}
	return made
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
