package walk

import (
	"fmt"
	"strings"

	"example.com/closefit/torque"
	"example.com/closefit/torque/examination"
	"example.com/closefit/torque/preload"
	"example.com/closefit/units"
)

// Bolts are what is known of the bolts of each group, by the group's name: what planfile.File.Bolts
// and job.Job.KnownBolts hold. A group that is not in it is not known.
type Bolts map[string]examination.Installed

// Meaning returns what a plan's numbers mean for the bolts, group by group in the plan's order:
// what to expect of each stage, what embedding and neighbours take away again, the margin against
// stripping, and what has to be answered first. Of a group whose bolts are not known it says that
// nothing was compared.
func (b Bolts) Meaning(plan *torque.Plan) []units.Working {
	var all []units.Working
	for _, g := range plan.Groups() {
		w := units.Working{Name: g.Name}
		if known, ok := b[g.Name]; !ok {
			w.Notes = []string{"not compared: nothing is known of these bolts; write bolt = { thread = …, class = …, friction = … } in the group"}
		} else if x, err := known.Examine(plan, g.Name); err != nil {
			w.Notes = []string{"not compared: " + err.Error()}
		} else {
			w = x.Working(plan)
		}
		all = append(all, w)
	}
	return all
}

// Questions returns what has to be answered before the plan is carried out, a sentence each, and what
// was not compared, which is no answer.
func (b Bolts) Questions(plan *torque.Plan) (questions, notCompared []string) {
	for _, g := range plan.Groups() {
		known, ok := b[g.Name]
		if !ok {
			notCompared = append(notCompared, g.Name+": nothing is known of these bolts")
			continue
		}
		x, err := known.Examine(plan, g.Name)
		if err != nil {
			notCompared = append(notCompared, g.Name+": "+err.Error())
			continue
		}
		for _, q := range x.Questions {
			questions = append(questions, g.Name+": "+q.Ask)
		}
		for _, what := range x.NotAsked {
			notCompared = append(notCompared, g.Name+": "+what)
		}
	}
	return questions, notCompared
}

// Compare holds what was reached at a pull against the plan, and against what the bolt should have
// done: a text for each thing that does not fit, which begins with STOP, with what it may be, and a
// sentence for what was not compared. It is silent only if all was compared and fits. An empty
// torque or turn was not measured. What was measured and what is expected are ranges, and they fit
// if they meet. Where the plan states no tolerance, a torque is held against what ISO 6789-1 allows a
// torque tool, a turn against what can be read on a gauge, and the text says so.
//
// A pause is not compared, and neither is a back-off.
func (b Bolts) Compare(plan *torque.Plan, step torque.Step, reached units.TorqueInterval, turned units.AngleInterval) []string {
	c := comparison{plan: plan, step: step, in: units.NewtonMetre}
	for _, g := range plan.Groups() {
		for _, s := range g.Stages {
			if t, ok := torque.As[torque.Tighten](s.Pull); ok && g.Name == step.Group {
				c.in = t.In
				break
			}
		}
	}
	tighten, tightens := torque.As[torque.Tighten](step.Do)
	turn, turns := torque.As[torque.Turn](step.Do)
	switch {
	case !tightens && !turns:
		return nil
	case reached.IsEmpty() && turned.IsEmpty():
		return []string{fmt.Sprintf("Not compared: neither torque nor turn of %s was noted.", step.Bolt)}
	case !usable(reached) || !usable(turned):
		return []string{fmt.Sprintf("Not compared: what was noted of %s has no two bounds of zero or more.", step.Bolt)}
	case tightens:
		allowed, basis, err := ofTool(tighten.To)
		if err != nil {
			return []string{fmt.Sprintf("Not compared: %v.", err)}
		}
		outside(&c, "torque", reached, tighten.Within, allowed, basis, c.torque)
	default:
		allowed, basis := ofGauge(turn.By)
		outside(&c, "turn", turned, turn.Within, allowed, basis, angle)
	}
	known, ok := b[step.Group]
	if !ok {
		c.say("Not compared with what the bolt should do: nothing is known of the bolts of %s.", step.Group)
		return c.said
	}
	expected, err := c.expect(known, reached, turned)
	switch {
	case err != nil:
		c.say("Not compared with what the bolt should do: %v.", err)
	case tightens:
		c.turnOfTorque(expected, turned)
	default:
		c.torqueOfTurn(expected, reached)
	}
	return c.said
}

// usable reports whether a measured value is empty or has two bounds of zero or more.
func usable[D units.Dimension](a units.Interval[D]) bool {
	return a.IsEmpty() || a.Bounded() && a.Lo().Sign() >= 0
}

// A comparison is Compare under way.
type comparison struct {
	plan *torque.Plan
	step torque.Step
	in   units.TorqueUnit
	said []string
}

func (c *comparison) say(format string, args ...any) {
	c.said = append(c.said, fmt.Sprintf(format, args...))
}

func (c *comparison) torque(t units.TorqueInterval) string { return t.FormatOutward(c.in, 1) }

func angle(a units.AngleInterval) string {
	if !a.HasHi() {
		return "at least " + units.Exactly(a.Lo()).FormatOutward(units.Degree, 1)
	}
	return a.FormatOutward(units.Degree, 1)
}

// outside says if what was reached is not what the plan asks: asked, or, if that is empty, what is
// allowed where a plan states no tolerance.
func outside[D units.Dimension](c *comparison, what string, got, asked, allowed units.Interval[D], basis string, show func(units.Interval[D]) string) {
	if got.IsEmpty() {
		c.say("Not compared with the plan: the %s of %s was not noted.", what, c.step.Bolt)
		return
	}
	than := ""
	if asked.IsEmpty() {
		asked, than = allowed, fmt.Sprintf("%s, and the plan states no tolerance (%s)", show(allowed), basis)
	} else {
		than = "the plan's " + show(asked)
	}
	switch {
	case got.Below(asked):
		c.say("STOP. %s is less than %s: the pull of %s is not finished, or the tool clicked early. Say that step %d was said to be done too soon, or ask the maker's manual whether it may stay.", show(got), than, c.step.Bolt, c.step.Number)
	case asked.Below(got):
		c.say("STOP. %s is more than %s: %s was pulled too far. Ask the maker's manual before the next pull whether it may stay.", show(got), than, c.step.Bolt)
	}
}

// ofTool returns what a torque tool may give that is set to a torque, or shows it, and by what
// that is known: ±4 % as its deviation, ±6 % for a torque of up to 10 N·m, of the torque that is
// given (see preload.Wrench).
//
// Source: ISO 6789-1:2017, type II class A (from memory). There ±6 % goes with a tool whose largest torque is
// no more than 10 N·m; which tool it was is not known here.
func ofTool(set units.Torque) (units.TorqueInterval, string, error) {
	percent := int64(4)
	if !units.NewtonMetre.OfInt(10).Less(set) {
		percent = 6
	}
	wrench := preload.Wrench{Range: units.Exactly(set), Graduation: set, Accuracy: units.Percent.OfInt(percent)}
	allowed, err := wrench.Applied(set)
	return allowed, fmt.Sprintf("taken: ±%d %%, as ISO 6789-1 allows a torque tool", percent), err
}

// ofGauge returns the turns that may be read where a turn was meant, and by what: within one division
// of a gauge that is divided by 2° (common practice, no source).
func ofGauge(by units.Angle) (units.AngleInterval, string) {
	division := units.Degree.OfInt(2)
	return units.MustInterval(by.Sub(division), by.Add(division)), "taken: ±2°, a division of an angle gauge; common practice, no source"
}

// expect returns what to expect of the step: with what was reached in the place of what the plan
// asks, for a turn that was longer takes more torque.
func (c *comparison) expect(known examination.Installed, reached units.TorqueInterval, turned units.AngleInterval) (preload.State, error) {
	pull := c.step.Do
	if t, ok := torque.As[torque.Tighten](pull); ok && !reached.IsEmpty() {
		t.To, t.Within = reached.Mid(), reached
		pull = torque.Do(t)
	}
	if t, ok := torque.As[torque.Turn](pull); ok && !turned.IsEmpty() {
		t.By, t.Within = turned.Mid(), turned
		pull = torque.Do(t)
	}
	return known.Expect(c.plan, c.step, pull)
}

// What a pull that does not fit may mean: common practice, no source.
var (
	tooLittleTorque = []string{"the bolt yields early (a wrong class, a bolt that was used before)", "the thread strips", "the threads or the head are slicker than was given", "the parts did not lie flat when the turn began"}
	tooMuchTorque   = []string{"the thread binds", "the bolt stands on the bottom of its hole", "the threads or the head are drier than was given", "the bolt is stronger or was turned further than was noted"}
	tooLittleTurn   = []string{"the thread binds or is crossed", "the bolt stands on the bottom of its hole", "the cap sticks, and is not seated", "the threads or the head are drier than was given"}
	tooMuchTurn     = []string{"the cap was not seated by the torque before, or dirt or a burr lies under it", "the bolt yields", "the thread strips", "the threads or the head are slicker than was given"}
)

// misfit says what was reached in the place of what was expected, and what that may be.
func (c *comparison) misfit(what string, causes []string) {
	c.say("STOP. %s. It may be that %s; or that a figure was misread. Do not go on with %s before it is known.", what, strings.Join(causes, ", that "), c.step.Bolt)
}

func (c *comparison) torqueOfTurn(expected preload.State, reached units.TorqueInterval) {
	bolt := c.step.Bolt
	switch {
	case reached.IsEmpty():
		c.say("Not compared with what the bolt should do: the torque at the end of the turn of %s was not noted.", bolt)
	case reached.Below(expected.Torque):
		c.misfit(fmt.Sprintf("%s took %s at the end of its turn, less than the %s that it should", bolt, c.torque(reached), c.torque(expected.Torque)), tooLittleTorque)
	case expected.Torque.Below(reached):
		c.misfit(fmt.Sprintf("%s took %s at the end of its turn, more than the %s that it should", bolt, c.torque(reached), c.torque(expected.Torque)), tooMuchTorque)
	}
}

func (c *comparison) turnOfTorque(expected preload.State, turned units.AngleInterval) {
	bolt := c.step.Bolt
	switch {
	case expected.Added.IsEmpty():
		c.say("Not compared with what the bolt should do: no smaller torque goes right before this one, so the turn that it takes is not known.")
	case turned.IsEmpty():
		c.say("Not compared with what the bolt should do: the turn of %s to its torque was not noted.", bolt)
	case turned.Hi().Less(expected.Added.Lo()):
		c.misfit(fmt.Sprintf("%s came to its torque after %s, less than the %s that it should take", bolt, angle(turned), angle(expected.Added)), tooLittleTurn)
	case expected.Added.HasHi() && expected.Added.Hi().Less(turned.Lo()):
		c.misfit(fmt.Sprintf("%s came to its torque after %s, more than the %s that it should take", bolt, angle(turned), angle(expected.Added)), tooMuchTurn)
	}
}
