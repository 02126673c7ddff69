package job

import (
	"fmt"
	"slices"
)

// triedOut notes an error for each group and each bolt of the trial assembly that the
// tightening does not have: the trial is of the same engine, and what is said there of a
// bolt is known here by its name. Without a tightening there is nothing to hold it to.
func (r *reader) triedOut(j *Job) {
	if j.trial == nil || j.plan == nil {
		return
	}
	var groups, bolts []string
	for _, g := range j.plan.Groups() {
		groups = append(groups, g.Name)
		for _, p := range g.Pattern {
			bolts = append(bolts, p.Bolt)
		}
	}
	for i, g := range j.trial.Groups() {
		at := fmt.Sprintf("trial[%d]", i)
		if !slices.Contains(groups, g.Name) {
			r.unknown(at+".group", "group of bolts", g.Name, groups)
			continue
		}
		for _, p := range g.Pattern {
			if !slices.Contains(bolts, p.Bolt) {
				r.unknown(at, "bolt", p.Bolt, bolts)
			}
		}
	}
}
