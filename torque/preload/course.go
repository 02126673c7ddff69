package preload

import (
	"fmt"
	"math"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A Course follows a bolt through the pulls of its tightening, in their order: torques, turns and
// back-offs. A torque and the turns after it are those of Forecast. For a torque that follows a smaller
// one it adds the turn that it takes,
//
//	θ = 360° (T2 - T1) / (k P ( P/(2π) + 0.577 d2 μth + 0.5 Db μb ))
//
// with the symbols of Forecast and the parts lying flat from the smaller torque on. A torque that
// the bolt cannot bear leaves it yielded, which its State says. A bolt that has yielded stays so.
//
// Source: that of Forecast.
type Course struct {
	bolt     YieldBolt
	envelope units.ForceInterval
	pulls    int
	last     State
	since    Forecast            // the last torque
	turned   units.AngleInterval // since then, less what neighbours took of it
	torqued  units.ForceInterval // the preload of the last torque, less what neighbours took of it
}

// Course begins with a bolt that bears nothing. The error is of kind ErrImpossible for a stiffness
// that cannot be, and as Screw.YieldPreload says.
func (b YieldBolt) Course() (*Course, error) {
	if err := positive("stiffness of the joint", b.Stiffness, "write both bounds above zero, as in units.PlusMinus of fasteners.Joint.Tightening and a tenth of it"); err != nil {
		return nil, err
	}
	envelope, err := b.Screw.YieldPreload(b.Yield, units.One.OfInt(1), b.Section, b.Friction.Thread)
	if err != nil {
		return nil, err
	}
	return &Course{bolt: b, envelope: envelope}, nil
}

// Tighten returns what is known after a torque. The errors are those of Screw.Preload.
func (c *Course) Tighten(to units.TorqueInterval) (State, error) {
	torqued, err := c.bolt.Screw.Preload(to, c.bolt.Friction)
	if err != nil {
		return State{}, err
	}
	before := c.since.Snug
	c.since = Forecast{Bolt: c.bolt, Snug: to, Envelope: c.envelope, Onset: c.bolt.onset(to)}
	c.torqued, c.turned = torqued, units.Exactly(units.Angle{})
	s := c.since.state(c.turned, c.torqued, c.turned)
	s.Added = units.AngleInterval{}
	if !before.IsEmpty() && c.last.Turn.IsPoint() && c.last.Turn.Lo().IsZero() {
		s.Added = c.bolt.turnBetween(before, to, s.Elastic)
	}
	return c.pulled(s), nil
}

// Turn returns what is known after a turn. The error is of kind ErrImpossible for a turn that cannot
// be, and for one with no torque before it.
func (c *Course) Turn(by units.AngleInterval) (State, error) {
	pull := fmt.Sprintf("pull %d", c.pulls+1)
	if c.since.Snug.IsEmpty() {
		return State{}, impossible(pull, "a turn with no torque before it", "give the snug torque first")
	}
	if err := notNegative(pull, by); err != nil {
		return State{}, err
	}
	c.turned = c.turned.Add(by)
	s := c.since.state(by, c.torqued, c.turned)
	s.Turn = c.last.Turn.Add(by)
	return c.pulled(s), nil
}

// BackOff returns what is known after a back-off by an angle, which leaves something between nothing
// and what the bolt bore; or by zero, until it turns freely, and then it bears nothing.
func (c *Course) BackOff(by units.Angle) State {
	c.since = Forecast{}
	none := units.Exactly(units.Angle{})
	s := State{Turn: none, Plastic: none, Preload: units.Exactly(units.Force{}), Elastic: measure.Conforming,
		Share: units.Exactly(units.Ratio{}), Stretch: units.Exactly(units.Length{})}
	if !by.IsZero() && c.pulls > 0 {
		s.Preload = units.MustInterval(units.Force{}, c.last.Preload.Hi())
	}
	return c.pulled(s)
}

// Keep says which part of its preload the bolt still has before its next pull: what neighbours that
// were tightened since left it. It is as if the torque and the turns before had been so much
// smaller.
func (c *Course) Keep(part units.RatioInterval) {
	if c.since.Snug.IsEmpty() {
		return
	}
	c.since.Snug, c.torqued, c.turned = partOf(c.since.Snug, part), partOf(c.torqued, part), partOf(c.turned, part)
	c.since.Onset = c.bolt.onset(c.since.Snug)
}

func (c *Course) pulled(s State) State {
	if c.pulls > 0 {
		s.Elastic = worse(c.last.Elastic, s.Elastic)
	}
	c.last = s
	c.pulls++
	return s
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
