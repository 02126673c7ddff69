package preload

import (
	"fmt"
	"math"

	"example.com/closefit/torque"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// Follow returns what to expect of a bolt after each of its pulls, in their order: torques, turns
// and back-offs, as the stages of a torque.Group have them. A torque and the turns after it are those
// of Forecast. For a torque that follows a smaller one it adds the turn that it takes,
//
//	θ = 360° (T2 - T1) / (k P ( P/(2π) + 0.577 d2 μth + 0.5 Db μb ))
//
// with the symbols of Forecast and the parts lying flat from the smaller torque on. A torque that
// the bolt cannot bear leaves it yielded, which its State says. After a back-off until it turns
// freely the bolt bears nothing; after one by an angle, something between nothing and what it bore.
// A bolt that has yielded stays so.
//
// The error is of kind ErrImpossible for a pause, for a turn with no torque before it, and as
// Forecast says.
//
// Source: that of Forecast.
func (b YieldBolt) Follow(pulls ...torque.Action) ([]State, error) {
	return b.follow(pulls, func(int) units.RatioInterval { return units.Exactly(units.One.OfInt(1)) })
}

// follow is Follow of a bolt that has only so much of its preload left before each of its pulls,
// counted from 0: what its neighbours left it.
func (b YieldBolt) follow(pulls []torque.Action, kept func(pull int) units.RatioInterval) ([]State, error) {
	if err := positive("stiffness of the joint", b.Stiffness, "write both bounds above zero, as in units.PlusMinus of fasteners.Joint.Tightening and a tenth of it"); err != nil {
		return nil, err
	}
	envelope, err := b.Screw.YieldPreload(b.Yield, units.One.OfInt(1), b.Section, b.Friction.Thread)
	if err != nil {
		return nil, err
	}
	var states []State
	var last State
	var f Forecast                 // since the last torque
	var turned units.AngleInterval // since then, less what neighbours took of it
	var torqued units.ForceInterval
	for i, pull := range pulls {
		var s State
		left := kept(i)
		if t, ok := torque.As[torque.Tighten](pull); ok {
			to := t.Within
			if to.IsEmpty() {
				to = units.Exactly(t.To)
			}
			if torqued, err = b.Screw.Preload(to, b.Friction); err != nil {
				return nil, err
			}
			before := f.Snug
			f = Forecast{Bolt: b, Snug: to, Envelope: envelope, Onset: b.onset(to)}
			turned = units.Exactly(units.Angle{})
			s = f.state(turned, torqued, turned)
			s.Added = units.AngleInterval{}
			if len(states) > 0 && !before.IsEmpty() && last.Turn.IsPoint() && last.Turn.Lo().IsZero() {
				s.Added = b.turnBetween(partOf(before, left), to, s.Elastic)
			}
		} else if t, ok := torque.As[torque.Turn](pull); ok {
			if f.Snug.IsEmpty() {
				return nil, impossible(fmt.Sprintf("pull %d", i+1), "a turn with no torque before it", "give the snug torque first")
			}
			by := t.Within
			if by.IsEmpty() {
				by = units.Exactly(t.By)
			}
			if err := notNegative(fmt.Sprintf("pull %d", i+1), by); err != nil {
				return nil, err
			}
			// What neighbours took is as if the torque and the turns before had been so much smaller.
			f.Snug, torqued = partOf(f.Snug, left), partOf(torqued, left)
			f.Onset = b.onset(f.Snug)
			turned = partOf(turned, left).Add(by)
			s = f.state(by, torqued, turned)
			s.Turn = last.Turn.Add(by)
		} else if t, ok := torque.As[torque.BackOff](pull); ok {
			f = Forecast{}
			s.Turn = units.Exactly(units.Angle{})
			s.Preload = units.Exactly(units.Force{})
			s.Elastic = measure.Conforming
			if !t.By.IsZero() && len(states) > 0 {
				s.Preload = units.MustInterval(units.Force{}, last.Preload.Hi())
			}
			s.Plastic, s.Share, s.Stretch = s.Turn, units.Exactly(units.Ratio{}), units.Exactly(units.Length{})
		} else {
			return nil, impossible(fmt.Sprintf("pull %d", i+1), pull.String(), "leave the pauses out")
		}
		if len(states) > 0 {
			s.Elastic = worse(last.Elastic, s.Elastic)
		}
		states, last = append(states, s), s
	}
	return states, nil
}

// partOf returns a part of a range that is not below zero.
func partOf[D units.Dimension](a units.Interval[D], part units.RatioInterval) units.Interval[D] {
	return units.MustInterval(a.Lo().MulRat(part.Lo().Rat(units.One)), a.Hi().MulRat(part.Hi().Rat(units.One)))
}

// worse returns the verdict on a bolt that has had both: what has yielded has yielded.
func worse(a, b measure.Verdict) measure.Verdict {
	switch {
	case a == measure.AboveLimit || b == measure.AboveLimit:
		return measure.AboveLimit
	case a == measure.Undecided || b == measure.Undecided:
		return measure.Undecided
	}
	return measure.Conforming
}

// turnBetween returns the turn that takes a bolt from one torque to another. It has no upper bound
// if the bolt may yield on the way.
func (b YieldBolt) turnBetween(from, to units.TorqueInterval, elastic measure.Verdict) units.AngleInterval {
	sizes := b.Screw.sizes(b.Section)
	slackest, stiffest := b.perDegree()
	short := sizes.lever(b.Friction.Thread.Lo().Float64(units.One), b.Friction.Bearing.Lo().Float64(units.One))
	long := sizes.lever(b.Friction.Thread.Hi().Float64(units.One), b.Friction.Bearing.Hi().Float64(units.One))
	newtonMillimetres := func(t units.Torque) float64 { return 1000 * t.Float64(units.NewtonMetre) }
	least := (newtonMillimetres(to.Lo()) - newtonMillimetres(from.Hi())) / long
	if elastic != measure.Conforming { // yield may end the preload that the torque gives
		weakest := sizes.yieldPreload(b.Yield.Lo().Float64(units.Megapascal), b.Friction.Thread.Hi().Float64(units.One))
		least = math.Min(least, weakest-newtonMillimetres(from.Hi())/short)
	}
	lo := nearly(units.Degree, math.Floor(math.Max(0, least)/stiffest*1e6)/1e6, 6)
	if elastic != measure.Conforming {
		return units.AtLeast(lo)
	}
	most := math.Max(0, newtonMillimetres(to.Hi())-newtonMillimetres(from.Lo())) / short / slackest
	return units.MustInterval(lo, nearly(units.Degree, math.Ceil(most*1e6)/1e6, 6))
}
