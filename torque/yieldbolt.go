package torque

import (
	"fmt"
	"math"
	"math/big"

	"github.com/shopspring/decimal"

	"example.com/closefit/fasteners"
	"example.com/closefit/units"
)

// A YieldBolt is a bolt that is tightened by torque and then by angle, into yield or not,
// with what is known of it as ranges.
type YieldBolt struct {
	Screw    Screw
	Friction Friction
	Joint    fasteners.Joint
	// Doubt is how far the joint's stiffness may lie to both sides of what was worked out,
	// as a part of it: 0.1 for ±10 %. It must be at least zero and at most 0.9.
	Doubt decimal.Decimal
	// Yield is the range of the bolt's yield strength, from the least its class promises to
	// the most it may have. A bolt hardens as it yields: with the tensile strength for the
	// upper bound, the range holds that as well.
	Yield units.PressureInterval
	// Section is what yields first; the zero Section is the thread.
	Section Section
}

// A State is what is known of a bolt after one pull of its tightening.
type State struct {
	Added   units.AngleInterval // the turn of this pull; zero after the snug torque
	Turn    units.AngleInterval // turned since snug, in all
	Preload units.ForceInterval
	Yielded Yielded
	Plastic units.AngleInterval  // of the turn so far, the part beyond yield
	Stretch units.LengthInterval // permanent: what the plastic part of the turn leaves
}

// Yielded says whether a bolt has begun to yield.
type Yielded int

const (
	PerhapsYielded Yielded = iota // the ranges allow both
	NotYielded                    // not within the ranges
	SurelyYielded                 // everywhere within the ranges
)

// String returns "perhaps yielded", "not yielded" or "yielded".
func (y Yielded) String() string {
	switch y {
	case PerhapsYielded:
		return "perhaps yielded"
	case NotYielded:
		return "not yielded"
	case SurelyYielded:
		return "yielded"
	}
	return fmt.Sprintf("Yielded(%d)", int(y))
}

// A Forecast is what to expect of a bolt, pull by pull.
type Forecast struct {
	Bolt     YieldBolt
	Snug     units.TorqueInterval
	Envelope units.ForceInterval // the preload at which the bolt yields: it bears no more
	Onset    units.AngleInterval // the turn after snug at which yield begins
	States   []State             // after the snug torque, then after each turn
}

// Forecast returns what to expect after a snug torque and after each of the turns that
// follow it, all as ranges that hold whatever friction, strength, stiffness, torque and
// angle may be within theirs. It works in float64 and rounds to 0.001 N and 0.000001°.
//
//	F0 = T / ( P/(2π) + 0.577 d2 μth + 0.5 Db μb )        after the snug torque T
//	F  = min( F0 + k P θ/360°, Fy )                       after turning by θ in all
//	θy = 360° (Fy - F0) / (k P)                           the turn at which yield begins
//	Δl = P (θ - θy)/360°, but at least 0                  permanent stretch
//
// F is the preload in N, Fy the yield preload of Screw.YieldPreload with the whole of the
// yield strength, k the stiffness of Joint.Tightening in N/mm, P the pitch in mm, θ the
// turn in degrees. The bolt is taken to bear Fy unchanged once it yields, and the parts to
// lie flat from the snug torque on: a snug torque too small for that makes θy come later,
// as does a wrench or extension that winds up while the angle is read on its handle.
//
// The error wraps ErrScrew for a doubt, a joint, a torque or a turn that cannot be, for a
// snug torque that breaks the bolt before it is reached, and
// whatever Screw.Preload and Screw.YieldPreload return.
//
// Source: VDI 2230-1:2015, 5.4.3 and 5.5.1, for the formulas of F0, Fy and k; the rest is
// the geometry of the screw.
func (b YieldBolt) Forecast(snug units.TorqueInterval, turns ...units.AngleInterval) (Forecast, error) {
	if b.Section.Diameter.IsZero() {
		if err := b.Screw.check(); err != nil {
			return Forecast{}, err
		}
		b.Section = b.Screw.ThreadSection()
	}
	if b.Doubt.Sign() < 0 || b.Doubt.Cmp(decimal.New(9, -1)) > 0 {
		return Forecast{}, &ScrewError{What: "doubt of the stiffness", Value: b.Doubt.String(), Fix: "write a part of one up to 0.9, as in 0.1 for ±10 %"}
	}
	if b.Joint.Bolt.Sign() <= 0 {
		return Forecast{}, &ScrewError{What: "joint", Value: "without stiffness", Fix: "make it with fasteners.NewJoint"}
	}
	torqued, err := b.Screw.Preload(snug, b.Friction)
	if err != nil {
		return Forecast{}, err
	}
	envelope, err := b.Screw.YieldPreload(b.Yield, decimal.New(1, 0), b.Section, b.Friction.Thread)
	if err != nil {
		return Forecast{}, err
	}
	if envelope.Below(torqued) {
		return Forecast{}, &ScrewError{What: "snug torque", Value: snug.String(), Fix: fmt.Sprintf("it yields the bolt before any turn; the bolt bears %v at the most", envelope)}
	}
	f := Forecast{Bolt: b, Snug: snug, Envelope: envelope, Onset: b.onset(snug)}

	turned := units.Exactly(units.Angle{})
	f.States = append(f.States, f.state(turned, torqued, turned))
	for i, turn := range turns {
		if err := notNegative(fmt.Sprintf("turn %d", i+1), turn); err != nil {
			return Forecast{}, err
		}
		turned = turned.Add(turn)
		f.States = append(f.States, f.state(turn, torqued, turned))
	}
	return f, nil
}

// state returns what is known after a pull that adds a turn to a snug preload, of so much in
// all.
func (f Forecast) state(added units.AngleInterval, snug units.ForceInterval, turned units.AngleInterval) State {
	s := State{Added: added, Turn: turned}
	slackest, stiffest := f.Bolt.perDegree()
	lo := snug.Lo().Add(newtons(slackest * turned.Lo().Float64(units.Degree)))
	hi := snug.Hi().Add(newtons(stiffest * turned.Hi().Float64(units.Degree)))
	s.Preload = units.MustInterval(units.Min(lo, f.Envelope.Lo()), units.Min(hi, f.Envelope.Hi()))

	var zero units.Angle
	s.Plastic = units.MustInterval(
		units.Max(zero, turned.Lo().Sub(f.Onset.Hi())),
		units.Max(zero, turned.Hi().Sub(f.Onset.Lo())))
	s.Stretch = f.Bolt.advance(s.Plastic)
	switch {
	case turned.Hi().Less(f.Onset.Lo()):
		s.Yielded = NotYielded
	case f.Onset.Hi().Less(turned.Lo()):
		s.Yielded = SurelyYielded
	}
	return s
}

// PlasticShare returns how much of the turn so far is beyond yield, as parts of one: the
// least at the smallest turn, the most at the largest. Of no turn, it is zero.
func (s State) PlasticShare() (lo, hi *big.Rat) {
	share := func(plastic, turn units.Angle) *big.Rat {
		if turn.Sign() <= 0 {
			return new(big.Rat)
		}
		return plastic.Ratio(turn)
	}
	return share(s.Plastic.Lo(), s.Turn.Lo()), share(s.Plastic.Hi(), s.Turn.Hi())
}

// perDegree returns the least and the most preload, in newtons, that a degree adds below
// yield.
func (b YieldBolt) perDegree() (least, most float64) {
	k := b.Joint.Tightening().Float64(units.NewtonPerMillimetre)
	each := k * b.Screw.Thread.Pitch().Float64(units.Millimetre) / 360
	doubt, _ := b.Doubt.Float64()
	return each * (1 - doubt), each * (1 + doubt)
}

// advance returns how far the thread advances in a turn.
func (b YieldBolt) advance(turn units.AngleInterval) units.LengthInterval {
	of := func(a units.Angle) units.Length { return b.Screw.Thread.Pitch().MulRat(a.Rat(units.Turn)) }
	return units.MustInterval(of(turn.Lo()), of(turn.Hi()))
}

// onsetParts is into how many parts the range of thread friction is cut to find where
// yield begins: friction lowers both the snug preload and the yield preload, and taking
// the extremes of both at once would widen the answer for nothing. Within a part they are
// so taken, so that the answer holds every value.
const onsetParts = 64

// onset returns the turn after snug at which yield begins.
func (b YieldBolt) onset(snug units.TorqueInterval) units.AngleInterval {
	sizes := b.Screw.sizes(b.Section)
	weakest, strongest := b.Yield.Lo().Float64(units.Megapascal), b.Yield.Hi().Float64(units.Megapascal)
	least, most := snug.Lo().Float64(units.NewtonMetre), snug.Hi().Float64(units.NewtonMetre)
	slick, _ := b.Friction.Thread.lo.Float64()
	rough, _ := b.Friction.Thread.hi.Float64()
	slickHead, _ := b.Friction.Bearing.lo.Float64()
	roughHead, _ := b.Friction.Bearing.hi.Float64()

	lo, hi := math.Inf(1), math.Inf(-1)
	step := (rough - slick) / onsetParts
	for i := range onsetParts {
		from, to := slick+step*float64(i), slick+step*float64(i+1)
		lo = math.Min(lo, sizes.yieldPreload(weakest, to)-sizes.preload(most, from, slickHead))
		hi = math.Max(hi, sizes.yieldPreload(strongest, from)-sizes.preload(least, to, roughHead))
	}
	slackest, stiffest := b.perDegree()
	return units.MustInterval(degreesOf(lo/stiffest), degreesOf(hi/slackest))
}

// degreesOf returns an angle of zero or more that was worked out in float64.
func degreesOf(f float64) units.Angle { return nearly(units.Degree, math.Max(f, 0), 6) }

// Working returns the forecast as a list to read, pull by pull, in the units, with torque to
// one place and forces to so many. Lengths are in inches for a unified thread, else in
// millimetres.
func (f Forecast) Working(torque units.TorqueUnit, force units.ForceUnit, places int32) units.Working {
	thread := f.Bolt.Screw.Thread
	w := units.Working{
		Name:    fmt.Sprintf("what to expect of %v", thread),
		Formula: "F = min( F0 + k P θ/360°, Fy )",
		Numbers: fmt.Sprintf("k = %s ±%s, P = %s, Fy = %s, μth = %v, μb = %v",
			f.Bolt.Joint.Tightening().Format(units.KilonewtonPerMillimetre, 1, units.HalfEven), percent(f.Bolt.Doubt.Rat()),
			lengthOf(thread, thread.Pitch()), f.Envelope.FormatOutward(force, places), f.Bolt.Friction.Thread, f.Bolt.Friction.Bearing),
		Result: fmt.Sprintf("yield begins after a turn of %s", f.Onset.FormatOutward(units.Degree, 0)),
		Source: "VDI 2230-1:2015, 5.4.3 and 5.5.1",
	}
	for i, s := range f.States {
		step := units.Working{Name: "snug " + f.Snug.FormatOutward(torque, 1)}
		if i > 0 {
			step.Name = "turn " + s.Added.FormatOutward(units.Degree, 0)
		}
		step.Result = fmt.Sprintf("%s, %v", s.Preload.FormatOutward(force, places), s.Yielded)
		if s.Plastic.Hi().Sign() > 0 {
			lo, hi := s.PlasticShare()
			step.Result += fmt.Sprintf("; %s %% to %s %% of the turn is plastic and leaves %s", wholePercent(lo, false), wholePercent(hi, true), stretchOf(thread, s.Stretch))
		}
		w.Steps = append(w.Steps, step)
	}
	if f.last().Yielded != NotYielded {
		w.Notes = append(w.Notes, "a bolt that was tightened past yield is scrap once it is loosened: never use it again")
	}
	w.Notes = append(w.Notes, "this is what to expect, not what to do: the engine maker's manual comes first")
	return w
}

// wholePercent returns a part of one, zero or more, in whole percent, rounded down or up.
func wholePercent(r *big.Rat, up bool) string {
	n := new(big.Rat).Mul(r, big.NewRat(100, 1))
	whole := new(big.Int).Quo(n.Num(), n.Denom())
	if up && !n.IsInt() {
		whole.Add(whole, big.NewInt(1))
	}
	return whole.String()
}

// stretchOf returns a range of lengths in the unit of a thread's standard.
func stretchOf(t fasteners.Thread, l units.LengthInterval) string {
	if t.IsUnified() {
		return l.FormatOutward(units.Inch, 4)
	}
	return l.FormatOutward(units.Millimetre, 3)
}
