package record

import (
	"fmt"

	"example.com/closefit/examples/shortblock/job"
)

// stage is the steps of one stage of a group, as they follow one another.
type stage []job.PlanStep

// stages divides a plan where the stage changes.
func stages(steps []job.PlanStep) []stage {
	var all []stage
	for i, s := range steps {
		if i == 0 || s.Group != steps[i-1].Group || s.Stage != steps[i-1].Stage {
			all = append(all, nil)
		}
		all[len(all)-1] = append(all[len(all)-1], s)
	}
	return all
}

// heading names the stage: "Rod bolts, stage 2 of 3".
func (s stage) heading() string {
	return fmt.Sprintf("%s, stage %d of %d", title(s[0].Group), s[0].Stage, s[0].Stages)
}

// todo says what a step asks for: "mark the bolt, then turn 90° further".
func todo(s job.PlanStep) string {
	if s.Mark == "" {
		return s.Do
	}
	return s.Mark + ", then " + s.Do
}
