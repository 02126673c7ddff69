package conform

import (
	"errors"
	"strconv"
	"strings"

	"example.com/closefit/fasteners"
	"example.com/closefit/torque"
	"example.com/closefit/torque/preload"
	"example.com/closefit/units"
	"github.com/shopspring/decimal"
)

func torqueKinds() map[string]answerer {
	return map[string]answerer{
		"nut factor": kind(nutFactor), "tighten": kind(tighten), "yield": kind(yield), "run on": kind(runOn), "extension": kind(extension),
		"turn": kind(turn), "load factor": kind(loadFactor), "shear area": kind(shearArea), "breaking": kind(breaking),
	}
}

// nutFactor goes by the friction that a nut factor stands for, whatever the face under the head.
func nutFactor(q struct{ Factor, Thread, Area, Stress, Share, Unit string }) (answer, error) {
	factor, err := units.Parse[units.RatioInterval](q.Factor)
	t, err2 := fasteners.ParseThread(q.Thread)
	area, err3 := units.Parse[units.Area](q.Area)
	stress, err4 := units.ParsePressure(q.Stress)
	share, err5 := units.ParseRatio(q.Share)
	u, err6 := units.Parse[units.TorqueUnit](q.Unit)
	if err := errors.Join(err, err2, err3, err4, err5, err6); err != nil {
		return nil, err
	}
	screw := preload.Screw{Thread: t, Face: t.Major().MulInt(2), Hole: t.Major()}
	friction, err := screw.FrictionFromNutFactor(factor)
	if err != nil {
		return nil, err
	}
	n := area.Rat(units.SquareMillimetre)
	n.Mul(n, stress.Rat(units.Megapascal)).Mul(n, share.Rat(units.One))
	m, err := screw.Torque(units.Exactly(units.Newton.OfRat(n)), preload.Friction{Thread: friction, Bearing: friction})
	if err != nil {
		return nil, err
	}
	// The bounds lie a few nanonewton metres around K F d.
	return answer{"torque": m.Mid().In(u, 6).String()}, nil
}

func tighten(q struct {
	Thread, Face, Hole, Preload, Unit string
	ThreadFriction                    string `json:"thread_friction"`
	BearingFriction                   string `json:"bearing_friction"`
}) (answer, error) {
	t, err := fasteners.ParseThread(q.Thread)
	face, err2 := units.ParseLength(q.Face)
	hole, err3 := units.ParseLength(q.Hole)
	force, err4 := units.Parse[units.ForceInterval](q.Preload)
	u, err5 := units.Parse[units.TorqueUnit](q.Unit)
	inThread, err6 := units.Parse[units.RatioInterval](q.ThreadFriction)
	under, err7 := units.Parse[units.RatioInterval](q.BearingFriction)
	if err := errors.Join(err, err2, err3, err4, err5, err6, err7); err != nil {
		return nil, err
	}
	m, err := preload.Screw{Thread: t, Face: face, Hole: hole}.Torque(force, preload.Friction{Thread: inThread, Bearing: under})
	if err != nil {
		return nil, err
	}
	return answer{"torque": in(m.Mid(), u)}, nil
}

func yield(q struct{ Thread, Class, Friction, Share, Face, Hole string }) (answer, error) {
	s, err := thread{Thread: q.Thread, Class: q.Class}.strength()
	if err != nil {
		return nil, err
	}
	t, err := fasteners.ParseThread(q.Thread)
	friction, err2 := units.Parse[units.RatioInterval](q.Friction)
	share, err3 := units.ParseRatio(q.Share)
	if err := errors.Join(err, err2, err3); err != nil {
		return nil, err
	}
	screw := preload.Screw{Thread: t, Face: t.Major().MulInt(2), Hole: t.Major()} // of any face: it does not twist the thread
	f, err := screw.YieldPreload(units.Exactly(s.Yield), share, units.Length{}, friction)
	if err != nil {
		return nil, err
	}
	reply := answer{"preload": in(f.Mid(), units.Kilonewton)}
	if q.Face == "" {
		return reply, nil
	}
	if err := errors.Join(screw.Face.UnmarshalText([]byte(q.Face)), screw.Hole.UnmarshalText([]byte(q.Hole))); err != nil {
		return nil, err
	}
	m, err := screw.Torque(f, preload.Friction{Thread: friction, Bearing: friction})
	if err != nil {
		return nil, err
	}
	reply["torque"] = in(m.Mid(), units.NewtonMetre)
	return reply, nil
}

func runOn(q struct {
	Torque string
	RunOn  string `json:"run_on"`
	Unit   string
}) (answer, error) {
	within, err := units.Parse[units.TorqueInterval](q.Torque)
	drag, err2 := units.ParseTorque(q.RunOn)
	u, err3 := units.Parse[units.TorqueUnit](q.Unit)
	if err := errors.Join(err, err2, err3); err != nil {
		return nil, err
	}
	return ends(torque.Tighten{Within: within}.WithRunOn(drag).Within, u), nil
}

func extension(q struct{ Set, Lever, Offset, Angle, Unit string }) (answer, error) {
	set, err := units.ParseTorque(q.Set)
	lever, err2 := units.ParseLength(q.Lever)
	offset, err3 := units.ParseLength(q.Offset)
	angle, err4 := units.ParseAngle(q.Angle)
	u, err5 := units.Parse[units.TorqueUnit](q.Unit)
	if err := errors.Join(err, err2, err3, err4, err5); err != nil {
		return nil, err
	}
	w := preload.Wrench{Range: units.MustInterval(set, set.MulInt(2)), Graduation: set, Extension: &preload.Extension{Lever: lever, Offset: offset, Angle: angle}}
	got, err := w.Applied(set)
	if err != nil {
		return nil, err
	}
	return answer{"torque": in(got.Mid(), u)}, nil
}

func jointOf(bolt, members string) (fasteners.Joint, error) {
	b, err := units.Parse[units.Stiffness](bolt)
	m, err2 := units.Parse[units.Stiffness](members)
	return fasteners.Joint{Bolt: b, Members: m}, errors.Join(err, err2)
}

func turn(q struct{ Pitch, Angle, Bolt, Members, Unit string }) (answer, error) {
	j, err := jointOf(q.Bolt, q.Members)
	pitch, err2 := units.ParseLength(q.Pitch)
	angle, err3 := units.ParseAngle(q.Angle)
	u, err4 := units.Parse[units.ForceUnit](q.Unit)
	if err := errors.Join(err, err2, err3, err4); err != nil {
		return nil, err
	}
	k, err := j.Tightening()
	if err != nil {
		return nil, err
	}
	n := k.Rat(units.NewtonPerMillimetre)
	n.Mul(n, pitch.Rat(units.Millimetre)).Mul(n, angle.Rat(units.Turn))
	return answer{"rise": in(units.Newton.OfRat(n), u)}, nil
}

func loadFactor(q struct{ Bolt, Members string }) (answer, error) {
	j, err := jointOf(q.Bolt, q.Members)
	if err != nil {
		return nil, err
	}
	f, err := j.LoadFactor()
	return answer{"factor": in(f, units.One)}, err
}

func shearArea(q struct{ Thread, Of string }) (answer, error) {
	t, err := fasteners.ParseThread(q.Thread)
	if err != nil {
		return nil, err
	}
	bolt, nut, err := preload.ShearAreas(t, units.Exactly(t.Major()))
	if err != nil {
		return nil, err
	}
	if q.Of == "nut" {
		bolt = nut
	}
	return answer{"area": in(bolt.Lo(), units.SquareMillimetre)}, nil
}

func breaking(q thread) (answer, error) {
	s, err := q.strength()
	if err != nil {
		return nil, err
	}
	t, err := preload.BreakingTorque(s)
	return answer{"torque": in(t, units.NewtonMetre)}, err
}

func planKinds() map[string]answerer {
	return map[string]answerer{"order": kind(planOrder), "star": kind(planStar), "steps": kind(planSteps)}
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

func planSteps(q struct{ Bolts, Stages []string }) (answer, error) {
	g := torque.Group{Name: "bolts", Pattern: torque.Row(q.Bolts...), Order: torque.Given(q.Bolts), Use: torque.SingleUse}
	turns := false
	for _, text := range q.Stages {
		word, rest, _ := strings.Cut(text, " ")
		var do torque.Action
		switch word {
		case "tighten":
			within, err := units.Parse[units.TorqueInterval](rest)
			if err != nil {
				return nil, err
			}
			do = torque.Do(torque.Tighten{Within: within})
		case "turn":
			within, err := units.Parse[units.AngleInterval](rest)
			if err != nil {
				return nil, err
			}
			do, turns = torque.Do(torque.Turn{Within: within}), true
		case "back":
			do = torque.Do(torque.BackOff{})
		default:
			return nil, errors.New("no such stage")
		}
		g.Stages = append(g.Stages, torque.Stage{Pull: do})
	}
	if !turns {
		g.Use = torque.NotSaid
	}
	plan, err := torque.NewPlan("plan", g)
	if err != nil {
		return nil, err
	}
	steps := []any{}
	for _, s := range plan.Steps() {
		if s.Stage > 0 {
			steps = append(steps, []any{s.Bolt, numbers(s.Stage)})
		}
	}
	return answer{"steps": steps}, nil
}

func numbers(n int) string { return strconv.Itoa(n) }

func numbered(n int) []string {
	names := make([]string, n)
	for i := range names {
		names[i] = strconv.Itoa(i + 1)
	}
	return names
}
