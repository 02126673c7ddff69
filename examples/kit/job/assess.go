package job

import (
	"context"
	"strings"

	pictures "example.com/closefit/examples/kit/drawing"

	"example.com/closefit/fasteners"
	"example.com/closefit/torque"
)

// Assess judges every reading, chooses every shell, finds the cheapest purchase, and says
// what each gate asks for and what to do next. The error is that of the context, if it
// ends before the purchase is proven cheapest, or says which shells cannot be bought.
func (j *Job) Assess(ctx context.Context) (*Assessment, error) {
	a := &Assessment{Title: j.title, Note: j.note, Date: j.date, By: j.by, Engine: j.engine}
	a.Looked = j.looked()
	for _, in := range j.Instruments() {
		if why := j.asked(in.Name); why != "" {
			a.doubts = append(a.doubts, why)
		}
	}
	a.typed, a.Bolts = j.typed, j.boltsSaid()
	a.Groups = j.groups()
	for _, set := range j.bolts {
		if g, ok := j.boltGroup(set); ok {
			a.Groups = append(a.Groups, g)
		}
	}
	for i := range j.shells {
		set := &j.shells[i]
		s, chosen, err := j.shellsOf(ctx, set, a.inside(set.name()), a.outside(set.name()))
		if err != nil {
			return nil, err
		}
		if s != nil {
			a.Shells = append(a.Shells, *s)
			a.Groups = append(a.Groups, j.gradeGroups(set, chosen)...)
		}
	}
	a.Items = j.items(a)
	a.Next = append(next(a), j.needless(a.Items)...) // it ends with what is proven, and so do these
	a.Trial = j.planSteps(j.trial, j.heldInTrial(a))
	a.Plan = j.planSteps(j.plan, a.Held())
	trial := tightenings(Trial, j.trial)
	for i := range trial {
		if j.fitted[i].old {
			trial[i].Old, trial[i].Once = true, false
		}
	}
	a.Tightening = append(trial, tightenings(Final, j.plan)...)
	if j.rings != nil {
		d := pictures.OfRings(j.rings.RingLayout, j.rings.at, j.rings.mark)
		a.Pictures = append(a.Pictures, Picture{On: d.On, SVG: d.SVG})
	}
	a.Cautions = j.cautions()
	return a, nil
}

// looked are the lines that somebody looked at.
func (j *Job) looked() []Looked {
	var list []Looked
	for _, m := range j.lines {
		if m.form == layout && m.expected {
			list = append(list, j.ringsLooked(m)...)
		}
		if m.form != state || !m.expected {
			continue
		}
		for _, location := range m.at {
			s := m.taken[location].state
			l := Looked{Group: m.group, Location: location, Quantity: m.quantity, State: s, Good: s == m.words()[0], GoodIs: m.words()[0], do: "Ask a machine shop"}
			if s == "" {
				l.State, l.open, l.do = "not looked at", true, ""
			}
			list = append(list, l)
		}
	}
	return list
}

// cautions are what must be said with the record, those of the plan among them.
func (j *Job) cautions() []string {
	cautions := []string{
		"The engine maker's manual and licensed practice come first. closefit holds no limits of its own: check every limit, torque and angle in this record against the manual.",
		"An undecided fit is not a good fit, and a reading that was not taken proves nothing.",
		"Compressed air throws dirt and oil: wear eye protection, and keep the nozzle from skin.",
		"No petrol as a solvent: it burns at room temperature. Use a cleaning solvent made for parts, with air moving.",
		"The crankshaft must turn freely by hand before going on, after each cap and each stage.",
		sentence(fasteners.Caution),
	}
	cautions = append(cautions, j.sharedWarmth()...)
	if j.trial != nil {
		cautions = append(cautions, j.TrialEnd())
	}
	for _, plan := range []*torque.Plan{j.trial, j.plan} {
		if plan == nil {
			continue
		}
		for _, c := range plan.Cautions() {
			if !repeats(c, cautions) {
				cautions = append(cautions, c)
			}
		}
	}
	return cautions
}

// repeats reports whether a plan's caution says what the record says already.
func repeats(c string, said []string) bool {
	if strings.HasPrefix(c, "The engine maker's manual") || strings.HasPrefix(c, "The crank must turn freely") {
		return true
	}
	for _, s := range said {
		if s == c {
			return true
		}
	}
	return false
}

// sentence makes a sentence of words that begin small and have no stop.
func sentence(s string) string {
	s = strings.ToUpper(s[:1]) + s[1:]
	if !strings.HasSuffix(s, ".") {
		s += "."
	}
	return s
}
