package record

import "example.com/closefit/examples/kit/job"

// stage is the steps of one stage of a group, as they follow one another.
type stage []job.PlanStep

// stages divides a plan where the stage changes.
func stages(steps []job.PlanStep) []stage {
	var all []stage
	for i, s := range steps {
		if i == 0 || s.Stage != steps[i-1].Stage {
			all = append(all, nil)
		}
		all[len(all)-1] = append(all[len(all)-1], s)
	}
	return all
}

// heading names the stage.
func (s stage) heading() string { return title(s[0].Stage) }

// instruction says what a step asks for: "mark the bolt, then turn 55° further".
func instruction(s job.PlanStep) string {
	text := s.Do
	if s.Mark != "" {
		text = s.Mark + ", then " + text
	}
	if s.Hold != "" {
		text = "HOLD: " + s.Hold + ". Then " + text
	}
	return text
}
