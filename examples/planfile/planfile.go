package planfile

import (
	"errors"
	"fmt"
	"time"

	"example.com/closefit/examples/tomlfile"
	"example.com/closefit/torque"
	"example.com/closefit/units"
)

// The kinds of error in a plan file that neither TOML nor package torque finds. A
// *tomlfile.Error wraps one of them.
var (
	ErrMissing   = errors.New("missing")
	ErrAmbiguous = errors.New("more than one answer")
)

type planTable struct {
	Title      string   `toml:"title"`
	Bolts      []string `toml:"bolts"`
	Tightening []Group  `toml:"tightening"`
}

// A Group is a group of bolts as a file writes it, for files of one's own that have
// a list of them.
type Group struct {
	Group     string     `toml:"group"`
	On        string     `toml:"on"`
	Bolts     []string   `toml:"bolts"`
	Caps      [][]string `toml:"caps"`
	Circle    *Circle    `toml:"circle"`
	Places    []Place    `toml:"places"`
	Order     any        `toml:"order"`
	SingleUse bool       `toml:"single_use"`
	First     []string   `toml:"first"`
	Stages    []Stage    `toml:"stages"`
}

// A Circle is bolts evenly spaced, clockwise from the top.
type Circle struct {
	Diameter string   `toml:"diameter"`
	Bolts    []string `toml:"bolts"`
}

// A Place is one bolt and where it stands.
type Place struct {
	Bolt string `toml:"bolt"`
	X    string `toml:"x"`
	Y    string `toml:"y"`
	Part string `toml:"part"`
}

// A Stage is what is done to each bolt of a group, and what follows.
type Stage struct {
	Torque  string  `toml:"torque"`
	Turn    string  `toml:"turn"`
	BackOff string  `toml:"back_off"`
	Order   any     `toml:"order"`
	During  *During `toml:"during"`
	Wait    string  `toml:"wait"`
	Check   string  `toml:"check"`
	Within  string  `toml:"within"`
	IfNot   string  `toml:"if_not"`
}

// During names the stage of another group.
type During struct {
	Group string `toml:"group"`
	Stage int    `toml:"stage"`
}

// Read makes the plan that src describes. The name is the file's, for errors.
func Read(name string, src []byte) (*torque.Plan, error) {
	var t planTable
	places, err := tomlfile.Decode(name, src, &t)
	if err != nil {
		return nil, err
	}
	var errs tomlfile.Errors
	if t.Title == "" {
		errs = append(errs, places.Errorf("title", "title: %w; name the plan, so that its ledger can be told from others", ErrMissing))
	}
	plan, bad := Plan(t.Title, t.Tightening, places)
	errs = append(errs, bad...)
	if plan != nil {
		r := &reader{places: places}
		r.planErrors(plan.Covers(t.Bolts))
		errs = append(errs, r.errs...)
	}
	if err := errs.Sorted(); err != nil {
		return nil, err
	}
	return plan, nil
}

// Plan makes a plan of the groups that a file lists as "tightening". The plan is nil
// if anything is wrong with it.
func Plan(title string, groups []Group, places *tomlfile.Places) (*torque.Plan, tomlfile.Errors) {
	r := &reader{places: places, index: map[string]int{}}
	made := r.groups(groups)
	if len(r.errs) > 0 {
		return nil, r.errs
	}
	plan, err := torque.NewPlan(title, made...)
	if err != nil {
		r.planErrors(err)
		return nil, r.errs
	}
	return plan, nil
}

// reader makes what a file says into groups, and gathers all that is wrong.
type reader struct {
	places *tomlfile.Places
	errs   tomlfile.Errors
	index  map[string]int // of each group
}

func (r *reader) fail(path, format string, args ...any) {
	r.errs = append(r.errs, r.places.Errorf(path, format, args...))
}

// parse parses a text, which must be there.
func parse[T any](r *reader, path, text string, parse func(string) (T, error)) (v T) {
	if text == "" {
		r.fail(path, "%w", ErrMissing)
		return v
	}
	v, err := parse(text)
	if err != nil {
		r.errs = append(r.errs, r.places.Wrap(path, err))
	}
	return v
}

func (r *reader) groups(tables []Group) []torque.Group {
	var groups []torque.Group
	for i, t := range tables {
		path := fmt.Sprintf("tightening[%d]", i)
		if _, taken := r.index[t.Group]; !taken {
			r.index[t.Group] = i
		}
		g := torque.Group{Name: t.Group, On: t.On, Yielding: t.SingleUse,
			Pattern: r.pattern(path, t), Order: r.order(path+".order", t.Order)}
		for _, ask := range t.First {
			g.First = append(g.First, torque.Check{Ask: ask})
		}
		for j, s := range t.Stages {
			g.Stages = append(g.Stages, r.stage(fmt.Sprintf("%s.stages[%d]", path, j), s))
		}
		groups = append(groups, g)
	}
	return groups
}

// pattern reads a group's bolts, given in one of four ways.
func (r *reader) pattern(path string, t Group) torque.Pattern {
	ways := 0
	for _, given := range []bool{len(t.Bolts) > 0, len(t.Caps) > 0, t.Circle != nil, len(t.Places) > 0} {
		if given {
			ways++
		}
	}
	switch {
	case ways > 1:
		r.fail(path, "bolts named in %d ways: %w; keep one of bolts, caps, circle and places", ways, ErrAmbiguous)
	case len(t.Caps) > 0:
		return torque.Caps(t.Caps...)
	case t.Circle != nil:
		diameter := parse(r, path+".circle.diameter", t.Circle.Diameter, units.ParseLength)
		return torque.Circle(diameter, t.Circle.Bolts...)
	case len(t.Places) > 0:
		var p torque.Pattern
		for i, at := range t.Places {
			place := fmt.Sprintf("%s.places[%d]", path, i)
			p = append(p, torque.Place{Bolt: at.Bolt, Part: at.Part,
				X: parse(r, place+".x", at.X, units.ParseLength), Y: parse(r, place+".y", at.Y, units.ParseLength)})
		}
		return p
	}
	return torque.Row(t.Bolts...)
}

// order reads the name of an order or a list of bolts; nil if there is neither.
func (r *reader) order(path string, v any) torque.Order {
	switch v := v.(type) {
	case nil:
		return nil
	case string:
		order, err := torque.ParseOrder(v)
		if err != nil {
			r.errs = append(r.errs, r.places.Wrap(path, err))
		}
		return order
	case []any:
		order := torque.Given{}
		for i, bolt := range v {
			name, ok := bolt.(string)
			if !ok {
				r.fail(fmt.Sprintf("%s[%d]", path, i), "%v, where the name of a bolt belongs; write it in quotes", bolt)
			}
			order = append(order, name)
		}
		return order
	}
	r.fail(path, `%v is no order; write "inside out", "outside in", "spiral", "cross" or "rows", or list the bolts`, v)
	return nil
}

func (r *reader) stage(path string, t Stage) torque.Stage {
	s := torque.Stage{Pull: r.pull(path, t), Order: r.order(path+".order", t.Order)}
	if t.During != nil {
		s.During = torque.Tie{Group: t.During.Group, Stage: t.During.Stage}
	}
	if t.Wait != "" {
		s.Then = append(s.Then, torque.Wait{For: parse(r, path+".wait", t.Wait, parseWait)})
	}
	if t.Check != "" {
		check := torque.Check{Ask: t.Check, IfNot: t.IfNot}
		if t.Within != "" {
			check.Within = parse(r, path+".within", t.Within, units.ParseLengthInterval)
			check.In = unitOf[units.LengthDim](t.Within)
		}
		s.Then = append(s.Then, check)
	} else if t.Within+t.IfNot != "" {
		r.fail(path, "limits of a check, or what to do if it fails, and no check: %w; write check = \"…?\" with them", ErrMissing)
	}
	return s
}

// parseWait reads a time to wait.
func parseWait(s string) (time.Duration, error) {
	d, err := time.ParseDuration(s)
	if err != nil {
		return 0, fmt.Errorf(`%q is no time to wait; write "10m", "90s" or "1h30m"`, s)
	}
	return d, nil
}

// Bounds on what a wrench can do to a bolt of an engine, large ones included.
var (
	mostTorque = units.NewtonMetre.OfInt(100_000)
	mostTurn   = units.Turn.OfInt(3)
)

// pull reads what a stage does.
func (r *reader) pull(path string, t Stage) torque.Pull {
	ways := 0
	for _, text := range []string{t.Torque, t.Turn, t.BackOff} {
		if text != "" {
			ways++
		}
	}
	switch {
	case ways > 1:
		r.fail(path, "%d things to do in one stage: %w; make a stage of each", ways, ErrAmbiguous)
	case t.Torque != "":
		within := parse(r, path+".torque", t.Torque, units.ParseTorqueInterval)
		if within.IsEmpty() {
			return nil // which parse has said
		}
		if !within.Bounded() {
			r.fail(path+".torque", "%s has only one limit; write a torque, or both limits", t.Torque)
			return nil
		}
		if mostTorque.Less(within.Hi()) {
			r.fail(path+".torque", "%s: a torque beyond %s; look at its unit", t.Torque, mostTorque)
			return nil
		}
		return torque.TightenWithin(within, unitOf[units.TorqueDim](t.Torque))
	case t.Turn != "":
		within := parse(r, path+".turn", t.Turn, units.ParseAngleInterval)
		if within.IsEmpty() {
			return nil // which parse has said
		}
		if !within.Bounded() {
			r.fail(path+".turn", "%s has only one limit; write an angle, or both limits", t.Turn)
			return nil
		}
		if mostTurn.Less(within.Hi()) {
			r.fail(path+".turn", "%s: a turn beyond %s; look at its unit", t.Turn, mostTurn)
			return nil
		}
		return torque.TurnWithin(within)
	case t.BackOff == "free":
		return torque.BackOff{}
	case t.BackOff != "":
		return torque.BackOff{By: parse(r, path+".back_off", t.BackOff, units.ParseAngle)}
	default:
		r.fail(path, `a stage that does nothing: %w; write torque = "30 N·m", turn = "90°" or back_off = "free"`, ErrMissing)
	}
	return nil
}

// unitOf returns the unit that a quantity is written in, to print it in the same; the
// dimension's first if there is none.
func unitOf[D units.Dimension](text string) units.Unit[D] {
	for i := range text {
		if unit, err := units.ParseUnit[D](text[i:]); err == nil {
			return unit
		}
	}
	return 0
}

// planErrors notes what is wrong with a plan where the file says it.
func (r *reader) planErrors(err error) {
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		for _, err := range joined.Unwrap() {
			r.planErrors(err)
		}
		return
	}
	var bad *torque.PlanError
	if !errors.As(err, &bad) {
		return
	}
	path := "tightening"
	if i, ok := r.index[bad.Group]; ok {
		path = fmt.Sprintf("tightening[%d]", i)
	}
	switch {
	case errors.Is(bad, torque.ErrOnNoGroup):
		path = "bolts"
	case bad.Stage > 0:
		path += fmt.Sprintf(".stages[%d]", bad.Stage-1)
	case errors.Is(bad, torque.ErrTwice), errors.Is(bad, torque.ErrNoBolts):
		path += ".bolts"
	case errors.Is(bad, torque.ErrUnknownBolt), errors.Is(bad, torque.ErrOrderMisses), errors.Is(bad, torque.ErrOrderRepeats):
		path += ".order"
	}
	r.errs = append(r.errs, r.places.Wrap(path, err))
}
