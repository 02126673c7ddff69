package job

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"example.com/closefit/examples/kit/files/planfile"
	"example.com/closefit/torque"
	"example.com/closefit/torque/examination"
)

// readPlan reads a list of groups of bolts into a plan; nil if there are none. Rods are
// finished one by one unless their group says another order.
func (r *reader) readPlan(title, key string, groups []planfile.Group) *torque.Plan {
	if len(groups) == 0 {
		return nil
	}
	tied := map[string]bool{}
	for _, g := range groups {
		for _, s := range g.Stages {
			if s.During != nil {
				tied[g.Group], tied[s.During.Group] = true, true
			}
		}
	}
	groups = slices.Clone(groups)
	for i, g := range groups {
		if g.Order == nil && holdRods(g) && !tied[g.Group] {
			groups[i].Order = torque.CapByCap.String()
		}
	}
	plan, errs := planfile.Plan(title, key, groups, r.places)
	r.errs = append(r.errs, errs...)
	return plan
}

// knownBolts reads what a list of groups says of their bolts. What is wrong with it was found when
// the plan was read.
func (r *reader) knownBolts(key string, groups []planfile.Group) map[string]examination.Installed {
	known, _ := planfile.Bolts(key, groups, r.places)
	return known
}

// KnownBolts returns what the job says of the bolts of each group of the trial or the final
// assembly, by the group's name, where it says anything.
func (j *Job) KnownBolts(p Phase) map[string]examination.Installed {
	return maps.Clone(j.knownBolts[p])
}

// holdRods reports whether a group's bolts hold the caps of rods: its name says so, and each
// bolt is known to hold a cap.
func holdRods(g planfile.Group) bool {
	named := slices.ContainsFunc(strings.FieldsFunc(strings.ToLower(g.Group), func(r rune) bool { return r == ' ' || r == '-' }), func(word string) bool {
		return slices.Contains([]string{"rod", "rods", "conrod", "conrods"}, word)
	})
	inPlaces := len(g.Places) > 0 && !slices.ContainsFunc(g.Places, func(p planfile.Place) bool { return p.Part == "" })
	return named && (len(g.Caps) > 0 || inPlaces)
}

// usedOnce makes the groups of a trial assembly single use where the tightening says that a
// bolt of theirs is. A group that says otherwise is an error.
func (r *reader) usedOnce(trial, tightening []planfile.Group) []planfile.Group {
	trial = slices.Clone(trial)
	in := map[string]string{} // the single-use group of each bolt
	for _, g := range tightening {
		for _, bolt := range g.Named() {
			if g.SingleUse != nil && *g.SingleUse {
				in[bolt] = g.Group
			}
		}
	}
	once := true
	for i, g := range trial {
		k := slices.IndexFunc(g.Named(), func(bolt string) bool { return in[bolt] != "" })
		switch {
		case k < 0:
		case g.SingleUse == nil:
			trial[i].SingleUse = &once
		case !*g.SingleUse:
			bolt := g.Named()[k]
			r.fail(fmt.Sprintf("%s[%d].single_use", planfile.Trial, i), "single_use = false, and %q of the tightening, which has bolt %q too, is used once: %w; write single_use = true, and old_bolts with it", in[bolt], bolt, ErrAmbiguous)
		}
	}
	return trial
}

// fitted is what goes into a group of a trial assembly.
type fitted struct {
	said bool // whether the bolts are old or new; those that are not used once may be either
	old  bool
}

// readFitted reads what bolts go into each group of a trial assembly.
func readFitted(groups []planfile.Group) []fitted {
	list := make([]fitted, len(groups))
	for i, g := range groups {
		if g.OldBolts != nil {
			list[i] = fitted{true, *g.OldBolts}
		}
	}
	return list
}

// heldInTrial are the bolts that must not be tightened even in the trial assembly, and why:
// those that are proven scrap and would go in, because their group says nothing of old ones
// or new ones.
func (j *Job) heldInTrial(a *Assessment) map[string]string {
	held := map[string]string{}
	if j.trial == nil {
		return held
	}
	scrap := map[string]string{}
	for _, i := range a.Items {
		if i.Bolt != "" && i.Standing == Wrong && !i.Passes() {
			scrap[i.Bolt] = i.Why
		}
	}
	for i, g := range j.trial.Groups() {
		for _, p := range g.Pattern {
			if why, is := scrap[p.Bolt]; is && !j.fitted[i].said {
				held[p.Bolt] = why
			}
		}
	}
	return held
}

// TrialEnd says what follows when the trial assembly has been read; empty without one.
func (j *Job) TrialEnd() string {
	if j.trial == nil {
		return ""
	}
	text := "After the trial assembly: read strips, blades and dials, write the readings into the job, and take everything off again."
	for i, g := range j.trial.Groups() {
		turned := slices.ContainsFunc(g.Stages, func(s torque.Stage) bool {
			_, turns := torque.As[torque.Turn](s.Pull)
			return turns
		})
		switch {
		case g.Use != torque.SingleUse:
		case j.fitted[i].old:
			text += fmt.Sprintf(" The %s in it are old and are used once: none of them goes back.", g.Name)
		case turned:
			text += fmt.Sprintf(" The %d %s went in new and were turned: they are scrap, and none of them goes back.", len(g.Pattern), g.Name)
		default:
			text += fmt.Sprintf(" The %d %s went in new and are used once: see in the manual whether this torque has used them up.", len(g.Pattern), g.Name)
		}
		if j.pulledOtherwise(g) {
			text += fmt.Sprintf(" The %s are not pulled as in the final assembly: a clearance that is read so is not proven by it.", g.Name)
		}
	}
	return text
}

// pulledOtherwise reports whether a group of the trial assembly ends with other pulls than its
// bolts get in the final one.
func (j *Job) pulledOtherwise(trial torque.Group) bool {
	if j.plan == nil {
		return false
	}
	last := func(p *torque.Plan, bolt string) (pulls []string) {
		numbers, _ := p.StepsOf(bolt)
		for _, n := range numbers {
			s, _ := p.Step(n)
			switch _, tightens := torque.As[torque.Tighten](s.Do); {
			case tightens:
				pulls = []string{s.Do.String()} // nothing is left of those before it
			default:
				pulls = append(pulls, s.Do.String())
			}
		}
		return pulls
	}
	return slices.ContainsFunc(trial.Pattern, func(p torque.Position) bool {
		final := last(j.plan, p.Bolt)
		return final != nil && !slices.Equal(final, last(j.trial, p.Bolt))
	})
}

// Steps returns the steps of a phase: those of the trial assembly or of the final one, each
// with what holds it.
func (a *Assessment) Steps(p Phase) []PlanStep {
	if p == Trial {
		return a.Trial
	}
	return a.Plan
}

// WithNew returns the job with new bolts fitted in the place of those named: what the file
// says of the old ones no longer counts. It is what a ledger tells of a walk. The job itself
// stays as it was read.
func (j *Job) WithNew(bolts ...string) *Job {
	fitted := *j
	fitted.bolts = slices.Clone(j.bolts)
	for i := range fitted.bolts {
		set := &fitted.bolts[i]
		set.bolts = slices.Clone(set.bolts)
		for k, c := range set.bolts {
			if slices.Contains(bolts, c.bolt) {
				set.bolts[k] = boltCheck{bolt: c.bolt, state: "new"}
			}
		}
	}
	return &fitted
}

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
	if g.Order == torque.CapByCap {
		name += "; cap by cap"
	}
	if g.Use == torque.SingleUse {
		name += "; new bolts, used once"
	}
	return name
}
