package conform

import (
	"errors"

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
		"setting": kind(setting), "least preload": kind(leastPreload), "mean nut factor": kind(meanNutFactor), "strip": kind(strip),
		"embedding": kind(embedding), "embedding loss": kind(embeddingLoss),
		"friction class": kind(frictionClass), "method": kind(method), "accuracy": kind(accuracy), "surface": kind(surface), "key": kind(key),
		"cones": kind(cones), "loaded bolt": kind(loadedBolt), "heating": kind(heating),
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

// An extended wrench is the question of what a bolt gets through an extension, or of what to set for it.
type extended struct{ Set, Torque, Lever, Offset, Angle, Unit string }

// on makes the wrench: without a deviation, with marks so far apart, up to ten times the torque.
func (q extended) on(torque, mark units.Torque) (preload.Wrench, error) {
	lever, err := units.ParseLength(q.Lever)
	offset, err2 := units.ParseLength(q.Offset)
	angle, err3 := units.ParseAngle(q.Angle)
	return preload.Wrench{Range: units.MustInterval(mark, units.Max(mark, torque.MulInt(10))), Graduation: mark,
		Extension: &preload.Extension{Lever: lever, Offset: offset, Angle: angle}}, errors.Join(err, err2, err3)
}

func extension(q extended) (answer, error) {
	set, err := units.ParseTorque(q.Set)
	u, err2 := units.Parse[units.TorqueUnit](q.Unit)
	w, err3 := q.on(set, set)
	if err := errors.Join(err, err2, err3); err != nil {
		return nil, err
	}
	got, err := w.Applied(set)
	if err != nil {
		return nil, err
	}
	return answer{"torque": in(got.Mid(), u)}, nil
}

// setting is to the nearest millionth of the unit, where a wrench has marks.
func setting(q extended) (answer, error) {
	target, err := units.ParseTorque(q.Torque)
	u, err2 := units.Parse[units.TorqueUnit](q.Unit)
	w, err3 := q.on(target, u.Of(decimal.New(1, -6)))
	if err := errors.Join(err, err2, err3); err != nil {
		return nil, err
	}
	settings, err := w.Settings(units.Exactly(target))
	if err != nil {
		return nil, err
	}
	return answer{"set": in(settings[0], u)}, nil
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
