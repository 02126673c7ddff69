package job

import (
	"slices"
	"strings"

	"example.com/closefit/clearance"
	"example.com/closefit/torque"
	"example.com/closefit/units/measure"
)

// torqued takes caps that are said to have been tightened to a torque for tightened as for
// assembly, where that is what the plan tightens them to. It is if every group of the plan
// that is called after the bearing, "main cap bolts" or "rod bolts", ends with that
// torque: a torque says nothing of a group that ends with a turn.
func (j *Job) torqued() {
	for _, m := range j.lines {
		i := slices.IndexFunc(m.states, func(s measure.Condition) bool { return s.What == boltsDone.what })
		if i < 0 || !j.planned(strings.Fields(m.group)[0], m.states[i]) {
			continue
		}
		m.states[i] = boltsDone.condition()
		for location, e := range m.taken {
			e.reading = e.reading.With(m.states[i])
			for _, row := range e.along {
				for k := range row {
					row[k] = row[k].With(m.states[i])
				}
			}
			m.taken[location] = e
		}
	}
}

// planned reports whether the bolts of a kind of bearing end the plan as a condition says.
func (j *Job) planned(bearing string, said measure.Condition) bool {
	if j.plan == nil {
		return false
	}
	found := false
	for _, g := range j.plan.Groups() {
		if !strings.Contains(strings.ToLower(g.Name), bearing) || len(g.Stages) == 0 {
			continue
		}
		last, ok := torque.As[torque.Tighten](g.Stages[len(g.Stages)-1].Pull)
		if found = true; !ok || clearance.BoltsTightened(last.To) != said {
			return false
		}
	}
	return found
}
