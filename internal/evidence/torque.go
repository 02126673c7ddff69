package evidence

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"example.com/closefit/torque"
	"example.com/closefit/units"
)

// torqueChecks are the checks of package torque's plans: tightening and checking
// procedures of manuals, expressed as plans and compared step by step.
//
// A row gives the stages of a procedure with ">" between them, in the words
//
//	prepare, tighten 30 ±3 lbf·ft, turn 60 ±5 °, back off, check 0.012..0.020 in
//
// and the plan has as many bolts as the row says, in one row.
func torqueChecks() map[string]Check {
	return map[string]Check{
		"plan_steps":      planSteps,
		"plan_alternates": planAlternates,
		"plan_torque":     planTorque,
		"plan_angle":      planAngle,
		"plan_limit":      planLimit,
		"plan_order":      planOrder,
		"plan_tie":        planTie,
		"run_on":          runOnTorque,
	}
}

// procedure makes the plan of a row.
func procedure(row *Row) (*torque.Plan, error) {
	stages, errStages := Parse(row, "stages", parseStages)
	bolts, errBolts := row.Int("bolts")
	if err := errors.Join(errStages, errBolts); err != nil {
		return nil, err
	}
	g := torque.Group{Name: "bolts", Stages: stages.pulls, First: stages.first, Use: stages.use()}
	var names []string
	for i := range bolts {
		names = append(names, strconv.Itoa(i+1))
	}
	g.Pattern = torque.Row(names...)
	return torque.NewPlan(row.ID, g)
}

type procedureStages struct {
	first []torque.Action
	pulls []torque.Stage
}

// use is the safe one where the manual turns bolts: the rows say nothing of it.
func (p procedureStages) use() torque.BoltUse {
	for _, s := range p.pulls {
		if _, turns := torque.As[torque.Turn](s.Pull); turns {
			return torque.SingleUse
		}
	}
	return torque.NotSaid
}

// parseStages reads "tighten 30 N·m > turn 60 °".
func parseStages(text string) (all procedureStages, err error) {
	for part := range strings.SplitSeq(text, " > ") {
		word, rest, _ := strings.Cut(part, " ")
		switch {
		case word == "tighten":
			within, err := units.Parse[units.TorqueInterval](rest)
			if err != nil {
				return all, err
			}
			all.pulls = append(all.pulls, torque.Stage{Pull: torque.Do(torque.Tighten{Within: within})})
		case word == "turn":
			within, err := units.Parse[units.AngleInterval](rest)
			if err != nil {
				return all, err
			}
			all.pulls = append(all.pulls, torque.Stage{Pull: torque.Do(torque.Turn{Within: within})})
		case part == "back off":
			all.pulls = append(all.pulls, torque.Stage{Pull: torque.Do(torque.BackOff{})})
		case part == "prepare":
			all.first = append(all.first, torque.Do(torque.Inspection{Ask: "Are threads and faces oiled?"}))
		case word == "check" && len(all.pulls) > 0:
			within, err := units.ParseLengthInterval(rest)
			if err != nil {
				return all, err
			}
			last := &all.pulls[len(all.pulls)-1]
			last.Then = append(last.Then, torque.Do(torque.Inspection{Ask: "Does it lie within the limits?", Within: within}))
		default:
			return all, fmt.Errorf("%q is no stage; write prepare, tighten, turn, back off or check", part)
		}
	}
	return all, nil
}

// planSteps gives the steps of a plan in words, the same word for every bolt of a
// stage once: "tighten 2, mark 2, turn 2".
func planSteps(row *Row) (Result, error) {
	plan, err := procedure(row)
	if err != nil {
		return Result{}, err
	}
	var words []string
	count := map[string]int{}
	var seen []string
	flush := func() {
		for _, w := range seen {
			words = append(words, fmt.Sprintf("%s %d", w, count[w]))
		}
		clear(count)
		seen = nil
	}
	add := func(w string) {
		if count[w]++; count[w] == 1 {
			seen = append(seen, w)
		}
	}
	stage := 0
	for _, s := range plan.Steps() {
		if s.Stage != stage {
			flush()
			stage = s.Stage
		}
		_, tightens := torque.As[torque.Tighten](s.Do)
		_, turns := torque.As[torque.Turn](s.Do)
		_, loosens := torque.As[torque.BackOff](s.Do)
		_, checks := torque.As[torque.Inspection](s.Do)
		switch {
		case tightens:
			add("tighten")
		case turns:
			if s.Mark {
				add("mark")
			}
			add("turn")
		case loosens:
			add("loosen")
		case checks:
			flush()
			words = append(words, [2]string{"prepare", "check"}[min(stage, 1)])
		}
	}
	flush()
	return Text(strings.Join(words, ", ")), nil
}

// planAlternates tells whether each stage is done on every bolt before the next.
func planAlternates(row *Row) (Result, error) {
	plan, err := procedure(row)
	if err != nil {
		return Result{}, err
	}
	stage := 0
	for _, s := range plan.Steps() {
		if s.Stage < stage {
			return Text("no"), nil
		}
		stage = s.Stage
	}
	return Text("yes"), nil
}

// procedurePull returns what the plan does in the row's stage.
func procedurePull(row *Row) (torque.Action, error) {
	plan, errPlan := procedure(row)
	stage, errStage := row.Int("stage")
	if err := errors.Join(errPlan, errStage); err != nil {
		return torque.Action{}, err
	}
	for _, s := range plan.Steps() {
		if s.Stage == stage && !s.IsPause() {
			return s.Do, nil
		}
	}
	return torque.Action{}, fmt.Errorf("the plan has no stage %d", stage)
}

// procedureBound returns the aim, or a bound of the tolerance, as the row's value says.
func procedureBound[D units.Dimension](row *Row, aim units.Quantity[D], within units.Interval[D]) (units.Quantity[D], error) {
	which, err := row.Input("value")
	switch {
	case err != nil:
		return aim, err
	case which == "aim":
		return aim, nil
	case which == "lo" && within.HasLo():
		return within.Lo(), nil
	case which == "hi" && within.HasHi():
		return within.Hi(), nil
	}
	return aim, fmt.Errorf("value=%s: write aim, lo or hi", which)
}

func planTorque(row *Row) (Result, error) {
	do, err := procedurePull(row)
	if err != nil {
		return Result{}, err
	}
	if pull, is := torque.As[torque.Tighten](do); is {
		q, err := procedureBound(row, pull.To, pull.Within)
		if err != nil {
			return Result{}, err
		}
		return inUnit(row, q)
	}
	return Result{}, fmt.Errorf("the stage is %v, no torque", do)
}

// planAngle gives the angle of a stage, or with stage=0 the sum over all.
func planAngle(row *Row) (Result, error) {
	if stage, err := row.Int("stage"); err != nil || stage == 0 {
		plan, errPlan := procedure(row)
		if err := errors.Join(err, errPlan); err != nil {
			return Result{}, err
		}
		var sum units.Angle
		for _, s := range plan.Steps() {
			if turn, is := torque.As[torque.Turn](s.Do); is && s.Bolt == "1" {
				sum = sum.Add(turn.By)
			}
		}
		return inUnit(row, sum)
	}
	do, err := procedurePull(row)
	if err != nil {
		return Result{}, err
	}
	turn, is := torque.As[torque.Turn](do)
	if !is {
		return Result{}, fmt.Errorf("the stage is %v, no turn", do)
	}
	q, err := procedureBound(row, turn.By, turn.Within)
	if err != nil {
		return Result{}, err
	}
	return inUnit(row, q)
}

// planLimit gives a bound of the check that ends the plan.
func planLimit(row *Row) (Result, error) {
	plan, err := procedure(row)
	if err != nil {
		return Result{}, err
	}
	last, _ := plan.Step(len(plan.Steps()))
	check, is := torque.As[torque.Inspection](last.Do)
	if !is {
		return Result{}, fmt.Errorf("the plan ends with %v, no check", last)
	}
	q, err := procedureBound(row, units.Length{}, check.Within)
	if err != nil {
		return Result{}, err
	}
	return inUnit(row, q)
}

// planOrder gives the bolts in the order that they are pulled in, numbered in a row, or
// on a circle clockwise.
func planOrder(row *Row) (Result, error) {
	bolts, errBolts := row.Int("bolts")
	shape, errShape := row.Input("shape")
	order, errOrder := Parse(row, "order", func(text string) (torque.Arrangement, error) {
		var a torque.Arrangement
		err := a.UnmarshalText([]byte(text))
		return a, err
	})
	if err := errors.Join(errBolts, errShape, errOrder); err != nil {
		return Result{}, err
	}
	var names []string
	for i := range bolts {
		names = append(names, strconv.Itoa(i+1))
	}
	var pattern []torque.Position
	switch shape {
	case "row":
		pattern = torque.Row(names...)
	case "circle":
		pattern = torque.Circle(units.MustParseLength("100 mm"), names...)
	default:
		return Result{}, fmt.Errorf("shape=%s: write row or circle", shape)
	}
	plan, err := torque.NewPlan(row.ID, torque.Group{Name: "bolts", Pattern: pattern, Order: order,
		Stages: []torque.Stage{{Pull: torque.Do(torque.Tighten{To: units.NewtonMetre.OfInt(1)})}}})
	if err != nil {
		return Result{}, err
	}
	var pulled []string
	for _, s := range plan.Steps() {
		pulled = append(pulled, s.Bolt)
	}
	return Text(strings.Join(pulled, " ")), nil
}

// planTie gives the steps of two groups, one bolt each, the second's only stage tied to
// a stage of the first.
func planTie(row *Row) (Result, error) {
	inner, errInner := Parse(row, "inner", parseStages)
	side, errSide := Parse(row, "side", parseStages)
	during, errDuring := row.Int("during")
	if err := errors.Join(errInner, errSide, errDuring); err != nil {
		return Result{}, err
	}
	side.pulls[0].DuringGroup, side.pulls[0].DuringStage = "inner", during
	plan, err := torque.NewPlan(row.ID,
		torque.Group{Name: "inner", Pattern: torque.Row("inner"), Stages: inner.pulls, Use: inner.use()},
		torque.Group{Name: "side", Pattern: torque.Row("side"), Stages: side.pulls, Use: side.use()})
	if err != nil {
		return Result{}, err
	}
	var steps []string
	for _, s := range plan.Steps() {
		steps = append(steps, s.Bolt+" "+s.Brief())
	}
	return Text(strings.Join(steps, ", ")), nil
}

// runOnTorque gives a bound of the torque to set for a nut that drags.
func runOnTorque(row *Row) (Result, error) {
	within, errWithin := Parse(row, "torque", units.Parse[units.TorqueInterval])
	runOn, errRunOn := Parse(row, "run_on", units.ParseTorque)
	if err := errors.Join(errWithin, errRunOn); err != nil {
		return Result{}, err
	}
	t := torque.Tighten{Within: within}.WithRunOn(runOn)
	q, err := procedureBound(row, t.To, t.Within)
	if err != nil {
		return Result{}, err
	}
	return inUnit(row, q)
}
