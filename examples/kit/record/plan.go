package record

import (
	"fmt"

	"example.com/closefit/examples/kit/job"
)

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

// holds are the first steps of a plan at which a bolt is held, by the reason.
type holds map[string]int

func holdsOf(steps []job.PlanStep) holds {
	first := holds{}
	for _, s := range steps {
		if _, told := first[s.Hold]; !told {
			first[s.Hold] = s.Number
		}
	}
	return first
}

// long is a reason that is told once.
const long = 40

// instruction says what a step asks for: "mark the bolt, then turn 55° further". A long reason to hold its bolt is
// told in full once, and after that by the number of the step that tells it.
func (h holds) instruction(s job.PlanStep) string {
	text := s.Do
	if s.Mark != "" {
		text = s.Mark + ", then " + text
	}
	if s.Hold != "" {
		if first := h[s.Hold]; first != s.Number && len(s.Hold) > long {
			return fmt.Sprintf("HOLD, as at step %d. Then %s", first, text)
		}
		text = "HOLD: " + s.Hold + ". Then " + text
	}
	return text
}
