package job

import (
	"fmt"

	"example.com/closefit/torque"
)

// planSteps lays out a plan; none without one. A bolt that is held holds its steps.
func (j *Job) planSteps(plan *torque.Plan, held map[string]string) []PlanStep {
	if plan == nil {
		return nil
	}
	groups := map[string]torque.Group{}
	for _, g := range plan.Groups() {
		groups[g.Name] = g
	}
	var steps []PlanStep
	for _, s := range plan.Steps() {
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
