package job

import (
	"errors"
	"fmt"

	"example.com/closefit/torque"
	"example.com/closefit/units"
)

// readPlan lays out the tightening; nil without any group.
func (r *reader) readPlan(title string, tables []tighteningTable, s show) *torque.Plan {
	if len(tables) == 0 {
		return nil
	}
	before := len(r.errs)
	index := map[string]int{}
	var groups []torque.Group
	for i, t := range tables {
		path := fmt.Sprintf("tightening[%d]", i)
		r.present(path+".group", t.Group)
		index[t.Group] = i
		groups = append(groups, r.group(path, t, s))
	}
	if len(r.errs) > before {
		return nil
	}
	plan, err := torque.NewPlan(title, groups...)
	r.planErrors(err, index)
	return plan
}

// group reads one group of bolts.
func (r *reader) group(path string, t tighteningTable, s show) torque.Group {
	g := torque.Group{Name: t.Group, On: t.On, Yielding: t.SingleUse}
	switch {
	case len(t.Caps) > 0 && len(t.Bolts) > 0:
		r.fail(path+".bolts", "bolts named in two ways: %w; keep bolts, for a row, or caps", ErrAmbiguous)
	case len(t.Caps) > 0:
		g.Pattern = torque.Caps(t.Caps...)
	default:
		g.Pattern = torque.Row(t.Bolts...)
	}
	g.Order = r.order(path+".order", t.Order)
	for i, t := range t.Stages {
		at := fmt.Sprintf("%s.stages[%d]", path, i)
		stage := torque.Stage{Pull: r.pull(at, t, s)}
		if t.During != nil {
			stage.During = torque.Tie{Group: t.During.Group, Stage: t.During.Stage}
		}
		if t.Check != "" {
			stage.Then = []torque.Pause{torque.Check{Ask: t.Check}}
		}
		g.Stages = append(g.Stages, stage)
	}
	return g
}

// order reads the name of an order, or a list of bolts.
func (r *reader) order(path string, v any) torque.Order {
	switch v := v.(type) {
	case nil:
		return torque.InsideOut{}
	case string:
		order, err := torque.ParseOrder(v)
		r.check(path, err)
		return order
	case []any:
		var order torque.Given
		for i, bolt := range v {
			name, ok := bolt.(string)
			if !ok {
				r.fail(fmt.Sprintf("%s[%d]", path, i), "%v, where the name of a bolt belongs; write it in quotes", bolt)
				return nil
			}
			order = append(order, name)
		}
		return order
	}
	r.fail(path, `%v is no order; write "inside out", or list the bolts`, v)
	return nil
}

// pull reads what one stage does: a torque or a turn.
func (r *reader) pull(path string, t stageTable, s show) torque.Pull {
	switch {
	case t.Torque != "" && t.Turn != "":
		r.fail(path, "a torque and a turn in one stage: %w; write the turn as a stage after the torque", ErrAmbiguous)
	case t.Torque != "":
		if within, ok := read(r, path+".torque", t.Torque, units.ParseTorqueInterval); ok {
			if !within.Bounded() {
				r.fail(path+".torque", "%s has no end; write a torque, or both limits", t.Torque)
				return nil
			}
			return torque.TightenWithin(within, s.torque)
		}
	case t.Turn != "":
		if within, ok := read(r, path+".turn", t.Turn, units.ParseAngleInterval); ok {
			if !within.Bounded() {
				r.fail(path+".turn", "%s has no end; write an angle, or both limits", t.Turn)
				return nil
			}
			return torque.TurnWithin(within)
		}
	default:
		r.fail(path, `a stage that does nothing: %w; write torque = "30 N·m" or turn = "90°"`, ErrMissing)
	}
	return nil
}

// planErrors notes what is wrong with a plan where the file says it.
func (r *reader) planErrors(err error, index map[string]int) {
	if err == nil {
		return
	}
	var all interface{ Unwrap() []error }
	if errors.As(err, &all) {
		for _, err := range all.Unwrap() {
			r.planErrors(err, index)
		}
		return
	}
	path := "tightening"
	var bad *torque.PlanError
	if errors.As(err, &bad) {
		if i, ok := index[bad.Group]; ok {
			path = fmt.Sprintf("tightening[%d]", i)
			switch {
			case bad.Stage > 0:
				path += fmt.Sprintf(".stages[%d]", bad.Stage-1)
			case errors.Is(bad, torque.ErrTwice), errors.Is(bad, torque.ErrNoBolts):
				path += ".bolts"
			case errors.Is(bad, torque.ErrUnknownBolt), errors.Is(bad, torque.ErrOrderMisses), errors.Is(bad, torque.ErrOrderRepeats):
				path += ".order"
			}
		}
	}
	r.check(path, err)
}
