package job

import (
	"fmt"
	"strings"

	"example.com/closefit/torque"
	"example.com/closefit/units/measure"
)

// planSteps lays out the tightening. A bolt that was to be measured and is not proven
// good holds its steps.
func (j *Job) planSteps(bolts []Group) []PlanStep {
	groups := map[string]torque.Group{}
	for _, g := range j.plan.Groups() {
		groups[g.Name] = g
	}
	held := heldBolts(bolts)
	var steps []PlanStep
	for _, s := range j.plan.Steps() {
		p := PlanStep{Number: s.Number, Stage: stageName(groups[s.Group], s.Stage), Group: s.Group, Bolt: s.Bolt, Do: s.Do.String(), Hold: held[s.Bolt]}
		if s.Mark {
			p.Mark = "mark the bolt and what it stands on"
		}
		steps = append(steps, p)
	}
	return steps
}

// stageName names a stage of a group, and what must be known of it: which stage of
// another group it is done with, and that its bolts are used once.
func stageName(g torque.Group, stage int) string {
	name := fmt.Sprintf("%s, stage %d of %d", g.Name, stage, len(g.Stages))
	if stage == 0 {
		return g.Name + ", before the first stage"
	}
	if s := g.Stages[stage-1]; s.DuringGroup != "" {
		name += fmt.Sprintf(", during stage %d of %s", s.DuringStage, s.DuringGroup)
	}
	if g.Use == torque.SingleUse {
		name += "; new bolts, used once"
	}
	return name
}

// heldBolts are the bolts that may not go back, or are not proven to, and why.
func heldBolts(bolts []Group) map[string]string {
	held := map[string]string{}
	for _, g := range bolts {
		for _, f := range g.Findings {
			switch {
			case f.Verdict.Outside():
				held[f.Location] = "replace it first: it is scrap"
			case f.Verdict != measure.Conforming:
				held[f.Location] = "not before it is proven good, or replaced"
			}
		}
	}
	return held
}

// hold says why the plan must not be begun, from what is to be done next.
func hold(actions []Action) string {
	counts := map[ActionKind]int{}
	for _, x := range actions {
		counts[x.Kind]++
	}
	var open []string
	switch n := counts[Stop]; n {
	case 0:
	case 1:
		open = append(open, "1 stop")
	default:
		open = append(open, fmt.Sprint(n, " stops"))
	}
	if n := counts[Measure]; n > 0 {
		open = append(open, fmt.Sprint(n, " to measure"))
	}
	if n := counts[Order]; n > 0 {
		open = append(open, fmt.Sprint(n, " to order"))
	}
	if len(open) == 0 {
		return ""
	}
	return "Do not begin: " + strings.Join(open, ", ") + ". See what to do next."
}
