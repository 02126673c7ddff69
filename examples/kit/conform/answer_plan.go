package conform

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"example.com/closefit/torque"
	"example.com/closefit/units"
)

func planKinds() map[string]answerer {
	return map[string]answerer{"order": kind(planOrder), "star": kind(planStar), "steps": kind(planSteps),
		"actions": kind(planActions), "stage": kind(planStage), "turned": kind(planTurned), "tied": kind(planTied)}
}

// ordered is the order in which a plan of one pull takes the bolts.
func ordered(pattern []torque.Position, by torque.Sequence) (answer, error) {
	plan, err := torque.NewPlan("plan", torque.Group{Name: "bolts", Pattern: pattern, Order: by,
		Stages: []torque.Stage{{Pull: torque.Do(torque.Tighten{To: units.NewtonMetre.OfInt(1)})}}})
	if err != nil {
		return nil, err
	}
	order := []any{}
	for _, s := range plan.Steps() {
		order = append(order, s.Bolt)
	}
	return answer{"order": order}, nil
}

func planOrder(q struct {
	Positions []struct {
		Bolt string
		X, Y decimal.Decimal
	}
	Order string
}) (answer, error) {
	var pattern []torque.Position
	for _, p := range q.Positions {
		pattern = append(pattern, torque.Position{Bolt: p.Bolt, X: units.Millimetre.Of(p.X), Y: units.Millimetre.Of(p.Y)})
	}
	var by torque.Arrangement
	if err := by.UnmarshalText([]byte(q.Order)); err != nil {
		return nil, err
	}
	return ordered(pattern, by)
}

func planStar(q struct{ Bolts int }) (answer, error) {
	if q.Bolts < 1 || q.Bolts > 1000 {
		return nil, errors.New("1 to 1000 bolts")
	}
	return ordered(torque.Circle(units.Metre.OfInt(1), numbered(q.Bolts)...), torque.Cross)
}

// A procedure is the stages of a plan as they are written: "prepare", "tighten 30 ±3 N·m", "turn 60°",
// "back off", "check 0.012..0.020 in".
type procedure struct {
	group torque.Group
	step  []place // of each stage, by its place in the list
}

// A place is where a plan does what a stage of the list says.
type place struct {
	stage int // of the plan: 0 before the first pull
	pulls bool
}

func readProcedure(bolts, stages []string) (p procedure, err error) {
	p.group = torque.Group{Name: "bolts", Pattern: torque.Row(bolts...), Order: torque.Given(bolts)}
	for _, text := range stages {
		word, rest, _ := strings.Cut(text, " ")
		pull := true
		switch last := len(p.group.Stages); {
		case word == "tighten":
			within, err := units.Parse[units.TorqueInterval](rest)
			if err != nil {
				return p, err
			}
			p.group.Stages = append(p.group.Stages, torque.Stage{Pull: torque.Do(torque.Tighten{Within: within})})
		case word == "turn":
			within, err := units.Parse[units.AngleInterval](rest)
			if err != nil {
				return p, err
			}
			p.group.Stages = append(p.group.Stages, torque.Stage{Pull: torque.Do(torque.Turn{Within: within})})
			p.group.Use = torque.SingleUse
		case text == "back off":
			p.group.Stages = append(p.group.Stages, torque.Stage{Pull: torque.Do(torque.BackOff{})})
		case text == "prepare" && last == 0:
			p.group.First, pull = append(p.group.First, torque.Do(torque.Inspection{Ask: "Are threads and faces oiled?"})), false
		case word == "check" && last > 0:
			within, err := units.ParseLengthInterval(rest)
			if err != nil {
				return p, err
			}
			of := &p.group.Stages[last-1]
			of.Then, pull = append(of.Then, torque.Do(torque.Inspection{Ask: "Does it lie within the limits?", Within: within})), false
		default:
			return p, fmt.Errorf("no such stage here: %q", text)
		}
		p.step = append(p.step, place{len(p.group.Stages), pull})
	}
	return p, nil
}

// planned is the plan of stages for bolts.
func planned(bolts, stages []string) (procedure, *torque.Plan, error) {
	p, err := readProcedure(bolts, stages)
	if err != nil {
		return p, nil, err
	}
	plan, err := torque.NewPlan("plan", p.group)
	return p, plan, err
}

// pulled lists a plan's pulls: each bolt, with its stage.
func pulled(plan *torque.Plan) answer {
	steps := []any{}
	for _, s := range plan.Steps() {
		if s.Stage > 0 && !s.IsPause() {
			steps = append(steps, []any{s.Bolt, numbers(s.Stage)})
		}
	}
	return answer{"steps": steps}
}

func planSteps(q struct{ Bolts, Stages []string }) (answer, error) {
	_, plan, err := planned(q.Bolts, q.Stages)
	if err != nil {
		return nil, err
	}
	return pulled(plan), nil
}

// planActions counts what is done in each stage, a pause by itself.
func planActions(q struct {
	Bolts  int
	Stages []string
}) (answer, error) {
	if q.Bolts < 1 || q.Bolts > 1000 {
		return nil, errors.New("1 to 1000 bolts")
	}
	_, plan, err := planned(numbered(q.Bolts), q.Stages)
	if err != nil {
		return nil, err
	}
	actions := []any{}
	var words []string
	count := map[string]int{}
	flush := func() {
		for _, w := range words {
			actions = append(actions, w+" "+numbers(count[w]))
		}
		clear(count)
		words = nil
	}
	add := func(word string) {
		if count[word]++; count[word] == 1 {
			words = append(words, word)
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
		case s.IsPause():
			flush()
			actions = append(actions, [2]string{"prepare", "check"}[min(stage, 1)])
		}
	}
	flush()
	return answer{"actions": actions}, nil
}

// planStage is the aim and the limits of a stage in a list.
func planStage(q struct {
	Stages []string
	Stage  int
	Unit   string
}) (answer, error) {
	p, plan, err := planned(numbered(1), q.Stages)
	if err != nil {
		return nil, err
	}
	if q.Stage < 1 || q.Stage > len(p.step) {
		return nil, errors.New("no such stage in the list")
	}
	at := p.step[q.Stage-1]
	pauses := 0 // of the same stage of the plan, before it in the list
	for _, other := range p.step[:q.Stage-1] {
		if other.stage == at.stage && !other.pulls {
			pauses++
		}
	}
	for _, s := range plan.Steps() {
		if s.Stage != at.stage || s.IsPause() == at.pulls {
			continue
		}
		if !at.pulls && pauses > 0 {
			pauses--
			continue
		}
		if pull, is := torque.As[torque.Tighten](s.Do); is {
			return aimed(pull.To, pull.Within, q.Unit)
		}
		if turn, is := torque.As[torque.Turn](s.Do); is {
			return aimed(turn.By, turn.Within, q.Unit)
		}
		if check, is := torque.As[torque.Inspection](s.Do); is {
			u, err := units.Parse[units.LengthUnit](q.Unit)
			if err != nil {
				return nil, err
			}
			reply := ends(check.Within, u)
			reply["aim"] = nil
			return reply, nil
		}
	}
	return nil, errors.New("the stage has no limits")
}

func aimed[D units.Dimension](aim units.Quantity[D], within units.Interval[D], unit string) (answer, error) {
	u, err := units.Parse[units.Unit[D]](unit)
	if err != nil {
		return nil, err
	}
	reply := ends(within, u)
	reply["aim"] = in(aim, u)
	return reply, nil
}

// planTurned is what one bolt is turned in all, past its torques.
func planTurned(q struct {
	Stages []string
	Unit   string
}) (answer, error) {
	_, plan, err := planned(numbered(1), q.Stages)
	u, err2 := units.Parse[units.Unit[units.AngleDim]](q.Unit)
	if err := errors.Join(err, err2); err != nil {
		return nil, err
	}
	var sum units.Angle
	for _, s := range plan.Steps() {
		if turn, is := torque.As[torque.Turn](s.Do); is {
			sum = sum.Add(turn.By)
		}
	}
	return answer{"angle": in(sum, u)}, nil
}

// planTied is the plan of two groups of one bolt each.
func planTied(q struct {
	Inner, Side []string
	During      int
}) (answer, error) {
	inner, err := readProcedure([]string{"inner"}, q.Inner)
	side, err2 := readProcedure([]string{"side"}, q.Side)
	if err := errors.Join(err, err2); err != nil {
		return nil, err
	}
	inner.group.Name, side.group.Name = "inner", "side"
	if len(side.group.Stages) == 0 {
		return nil, errors.New("the side group has no stage")
	}
	side.group.Stages[0].DuringGroup, side.group.Stages[0].DuringStage = "inner", q.During
	plan, err := torque.NewPlan("plan", inner.group, side.group)
	if err != nil {
		return nil, err
	}
	return pulled(plan), nil
}

func numbers(n int) string { return strconv.Itoa(n) }

func numbered(n int) []string {
	names := make([]string, n)
	for i := range names {
		names[i] = strconv.Itoa(i + 1)
	}
	return names
}
