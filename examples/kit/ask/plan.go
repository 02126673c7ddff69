package ask

import (
	"context"
	"errors"

	"example.com/closefit/torque"
)

// A Plan asks for a tightening, laid out step by step.
type Plan struct {
	Name   string         `json:"name"`   // "short block"
	Groups []torque.Group `json:"groups"` // in the order in which they are done
}

// Planned is the answer to Plan.
type Planned struct {
	Digest   string        `json:"digest"`   // names the plan, so that a ledger knows which one it belongs to
	Steps    []PlannedStep `json:"steps"`    // the first numbered 1
	Text     string        `json:"text"`     // the plan to print, with a heading for each stage
	Cautions []string      `json:"cautions"` // to be shown with the plan wherever it is shown
}

// A PlannedStep is one pull on one bolt, or a pause.
type PlannedStep struct {
	Number int           `json:"number"`
	Group  string        `json:"group"`
	Stage  int           `json:"stage"` // in its group, from 1; 0 before the first
	Bolt   string        `json:"bolt"`  // empty for a pause
	Do     torque.Action `json:"do"`
	Mark   bool          `json:"mark"`   // mark the bolt and the part under it before the pull
	Spends bool          `json:"spends"` // once this pull has begun, a loosened bolt is scrap
	Says   string        `json:"says"`   // "12. main 3 left: mark it, then turn 55° further"
}

// The most that a Plan may have.
const (
	maxGroups    = 100
	maxBolts     = 500 // of all groups
	maxPlanSteps = 5000
)

func planning(_ context.Context, q Plan) (p Planned, err error) {
	if err := q.bounded(); err != nil {
		return p, err
	}
	plan, err := torque.NewPlan(q.Name, q.Groups...)
	if err != nil {
		return p, err
	}
	p = Planned{Text: plan.Text(), Digest: plan.Digest(), Cautions: plan.Cautions()}
	for _, s := range plan.Steps() {
		p.Steps = append(p.Steps, PlannedStep{s.Number, s.Group, s.Stage, s.Bolt, s.Do, s.Mark, s.Spends, s.String()})
	}
	return p, nil
}

// bounded returns what is too much.
func (q Plan) bounded() error {
	bolts, steps := 0, 0
	for _, g := range q.Groups {
		bolts += len(g.Pattern)
		steps += len(g.First) + len(g.Stages)*len(g.Pattern)
		for _, s := range g.Stages {
			steps += len(s.Then) * max(1, len(g.Pattern)) // cap by cap, the pauses come after each cap
		}
	}
	return errors.Join(few(`Plan, "groups"`, len(q.Groups), maxGroups), few("Plan, the bolts of all groups", bolts, maxBolts), few("Plan, all steps", steps, maxPlanSteps))
}
