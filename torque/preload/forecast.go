package preload

import (
	"fmt"
	"math"

	"example.com/closefit/fasteners"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A YieldBolt is a bolt that is tightened by torque and then by angle, into yield or not,
// with what is known of it as ranges.
type YieldBolt struct {
	Screw    Screw    `json:"screw"`
	Friction Friction `json:"friction"`
	// Stiffness is that of the joint while it is tightened, with how far that may lie from
	// what was worked out: units.PlusMinus of fasteners.Joint.Tightening and a part of it.
	Stiffness units.StiffnessInterval `json:"stiffness"`
	// Yield is the range of the bolt's yield strength, from the least its class promises to
	// the most it may have. A bolt hardens as it yields: with the tensile strength for the
	// upper bound, the range holds that as well.
	Yield units.PressureInterval `json:"yield"`
	// Section is the diameter of what yields first, such as a waist; zero for the thread.
	Section units.Length `json:"section"`
}

// A State is what is known of a bolt after one pull of its tightening.
type State struct {
	// Added is the turn of this pull. For a torque that follows a smaller one it is the turn that the
	// torque takes, without an upper bound where it may reach yield; it is zero for the snug torque of
	// a Forecast, and empty where nothing is known of it.
	Added units.AngleInterval `json:"added"`
	Turn  units.AngleInterval `json:"turn"` // turned since snug, in all
	// Torque is that of the wrench at the end of the pull: the torque that was asked for, or what the
	// turn takes; empty after a back-off.
	Torque  units.TorqueInterval `json:"torque"`
	Preload units.ForceInterval  `json:"preload"`
	// Elastic is the verdict, by measure.Judge, on the turn less the turn at which yield
	// begins, which may not be above zero: Conforming if the bolt has not yielded, AboveLimit
	// if it has, Undecided if the ranges allow both.
	Elastic measure.Verdict      `json:"elastic"`
	Plastic units.AngleInterval  `json:"plastic"` // of the turn so far, the part beyond yield
	Share   units.RatioInterval  `json:"share"`   // Plastic as a part of Turn: the least at the smallest turn, the most at the largest
	Stretch units.LengthInterval `json:"stretch"` // permanent: what the plastic part of the turn leaves
}

// A Forecast is what to expect of a bolt, pull by pull.
type Forecast struct {
	Bolt     YieldBolt            `json:"bolt"`
	Snug     units.TorqueInterval `json:"snug"`
	Envelope units.ForceInterval  `json:"envelope"` // the preload at which the bolt yields: it bears no more
	Onset    units.AngleInterval  `json:"onset"`    // the turn after snug at which yield begins; below zero if the torque reaches it
	States   []State              `json:"states"`   // after the snug torque, then after each turn
}

// Forecast returns what to expect after a snug torque and after each of the turns that
// follow it, all as ranges that hold whatever friction, strength, stiffness, torque and
// angle may be within theirs. It works in float64 and rounds outward to 0.001 N and
// 0.000001°, and the torque to 0.001 N·m.
//
//	F0 = T / ( P/(2π) + 0.577 d2 μth + 0.5 Db μb )        after the snug torque T
//	F  = min( F0 + k P θ/360°, Fy )                       after turning by θ in all
//	θy = 360° (Fy - F0) / (k P)                           the turn at which yield begins
//	Δl = P (θ - θy)/360°, but at least 0                  permanent stretch
//	Tθ = F ( P/(2π) + 0.577 d2 μth + 0.5 Db μb )          the torque that the turn takes
//
// F is the preload in N, Fy the yield preload of Screw.YieldPreload with the whole of the
// yield strength, k the stiffness in N/mm, P the pitch in mm, θ the
// turn in degrees. The bolt is taken to bear Fy unchanged once it yields, and the parts to
// lie flat from the snug torque on: a snug torque too small for that makes θy come later,
// as does a wrench or extension that winds up while the angle is read on its handle.
//
// The error is of kind ErrImpossible for a stiffness, a torque or a turn that cannot be, for a
// snug torque that the bolt cannot bear, and as Screw.Preload and Screw.YieldPreload say.
//
// Source: VDI 2230-1:2015, 5.4.3 and 5.5.1, for the formulas of F0, Fy and k; the rest is
// the geometry of the screw.
func (b YieldBolt) Forecast(snug units.TorqueInterval, turns ...units.AngleInterval) (Forecast, error) {
	if err := positive("stiffness of the joint", b.Stiffness, "write both bounds above zero, as in units.PlusMinus of fasteners.Joint.Tightening and a tenth of it"); err != nil {
		return Forecast{}, err
	}
	torqued, err := b.Screw.Preload(snug, b.Friction)
	if err != nil {
		return Forecast{}, err
	}
	envelope, err := b.Screw.YieldPreload(b.Yield, units.One.OfInt(1), b.Section, b.Friction.Thread)
	if err != nil {
		return Forecast{}, err
	}
	if envelope.Below(torqued) {
		return Forecast{}, impossible("snug torque", snug.String(), fmt.Sprintf("it yields the bolt before any turn; the bolt bears %v at the most", envelope))
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
	reached := newtons(
		snug.Lo().Float64(units.Newton)+slackest*turned.Lo().Float64(units.Degree),
		snug.Hi().Float64(units.Newton)+stiffest*turned.Hi().Float64(units.Degree))
	s.Preload = units.MustInterval(units.Min(reached.Lo(), f.Envelope.Lo()), units.Min(reached.Hi(), f.Envelope.Hi()))
	s.Torque = f.torque(turned)

	// A snug torque may reach yield by itself. What it stretched is not counted as turned.
	var zero units.Angle
	s.Plastic = units.MustInterval(
		units.Max(zero, turned.Lo().Sub(units.Max(zero, f.Onset.Hi()))),
		units.Max(zero, turned.Hi().Sub(units.Max(zero, f.Onset.Lo()))))
	s.Share = share(s.Plastic, turned)
	s.Stretch = f.Bolt.advance(s.Plastic)
	s.Elastic = measure.Judge(turned.Sub(f.Onset), units.AtMost(zero))
	return s
}

// torque returns what the wrench shows after so much of a turn: the snug torque and what the turn
// adds, or what the bolt takes when it yields. Friction raises the lever and lowers the yield
// preload, and so is taken in parts, as by onset.
func (f Forecast) torque(turned units.AngleInterval) units.TorqueInterval {
	if turned.IsPoint() && turned.Lo().IsZero() {
		return f.Snug
	}
	b := f.Bolt
	sizes := b.Screw.sizes(b.Section)
	slackest, stiffest := b.perDegree()
	weakest, strongest := b.Yield.Lo().Float64(units.Megapascal), b.Yield.Hi().Float64(units.Megapascal)
	slick, rough := b.Friction.Thread.Lo().Float64(units.One), b.Friction.Thread.Hi().Float64(units.One)
	slickHead, roughHead := b.Friction.Bearing.Lo().Float64(units.One), b.Friction.Bearing.Hi().Float64(units.One)
	least := 1000 * f.Snug.Lo().Float64(units.NewtonMetre)
	most := 1000 * f.Snug.Hi().Float64(units.NewtonMetre)
	addsLeast := slackest * turned.Lo().Float64(units.Degree)
	addsMost := stiffest * turned.Hi().Float64(units.Degree)

	lo, hi := math.Inf(1), math.Inf(-1)
	step := (rough - slick) / onsetParts
	for i := range onsetParts {
		from, to := slick+step*float64(i), slick+step*float64(i+1)
		short, long := sizes.lever(from, slickHead), sizes.lever(to, roughHead)
		lo = math.Min(lo, math.Min(least+addsLeast*short, sizes.yieldPreload(weakest, to)*short))
		hi = math.Max(hi, math.Min(most+addsMost*long, sizes.yieldPreload(strongest, from)*long))
	}
	return units.MustInterval(nearly(units.NewtonMetre, math.Floor(lo)/1000, 3), nearly(units.NewtonMetre, math.Ceil(hi)/1000, 3))
}

// share returns a plastic turn as a part of the whole, rounded outward to the ninth place; zero
// if nothing was turned.
func share(plastic, turn units.AngleInterval) units.RatioInterval {
	part := func(plastic, turn units.Angle) units.Ratio {
		if turn.Sign() <= 0 {
			return units.Ratio{}
		}
		return units.One.OfRat(plastic.Ratio(turn))
	}
	return units.MustInterval(part(plastic.Lo(), turn.Lo()), part(plastic.Hi(), turn.Hi())).Outward(units.One, 9)
}

// perDegree returns the least and the most preload, in newtons, that a degree adds below
// yield.
func (b YieldBolt) perDegree() (least, most float64) {
	pitch := b.Screw.Thread.Pitch().Float64(units.Millimetre)
	of := func(k units.Stiffness) float64 { return k.Float64(units.NewtonPerMillimetre) * pitch / 360 }
	return of(b.Stiffness.Lo()), of(b.Stiffness.Hi())
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
	slick := b.Friction.Thread.Lo().Float64(units.One)
	rough := b.Friction.Thread.Hi().Float64(units.One)
	slickHead := b.Friction.Bearing.Lo().Float64(units.One)
	roughHead := b.Friction.Bearing.Hi().Float64(units.One)

	lo, hi := math.Inf(1), math.Inf(-1)
	step := (rough - slick) / onsetParts
	for i := range onsetParts {
		from, to := slick+step*float64(i), slick+step*float64(i+1)
		lo = math.Min(lo, sizes.yieldPreload(weakest, to)-sizes.preload(most, from, slickHead))
		hi = math.Max(hi, sizes.yieldPreload(strongest, from)-sizes.preload(least, to, roughHead))
	}
	// To reach yield is the longest way in the slackest joint, and so is the way back from beyond.
	slackest, stiffest := b.perDegree()
	lo, hi = min(lo/slackest, lo/stiffest), max(hi/slackest, hi/stiffest)
	return units.MustInterval(nearly(units.Degree, math.Floor(lo*1e6)/1e6, 6), nearly(units.Degree, math.Ceil(hi*1e6)/1e6, 6))
}

// Working returns the forecast as a list to read, pull by pull, in the units, with torque to
// one place and forces to so many. Lengths are in inches for a unified thread, else in
// millimetres.
func (f Forecast) Working(torque units.TorqueUnit, force units.ForceUnit, places int32) units.Working {
	thread := f.Bolt.Screw.Thread
	w := units.Working{
		Name:    fmt.Sprintf("what to expect of %v", thread),
		Formula: "F = min( F0 + k P θ/360°, Fy )",
		Numbers: fmt.Sprintf("k = %s, P = %s, Fy = %s, μth = %v, μb = %v",
			f.Bolt.Stiffness.FormatOutward(units.KilonewtonPerMillimetre, 1),
			thread.Written(thread.Pitch()), f.Envelope.FormatOutward(force, places), f.Bolt.Friction.Thread, f.Bolt.Friction.Bearing),
		Result: fmt.Sprintf("yield begins after a turn of %s", f.turnToYield().FormatOutward(units.Degree, 0)),
		Source: "VDI 2230-1:2015, 5.4.3 and 5.5.1",
	}
	for i, s := range f.States {
		step := units.Working{Name: "snug " + f.Snug.FormatOutward(torque, 1)}
		if i > 0 {
			step.Name = "turn " + s.Added.FormatOutward(units.Degree, 0)
		}
		step.Result = s.Preload.FormatOutward(force, places) + ", " + s.Yielded()
		if s.Plastic.Hi().Sign() > 0 {
			step.Result += fmt.Sprintf("; %s of the turn is plastic and leaves %s", s.Share.FormatOutward(units.Percent, 0), stretchOf(thread, s.Stretch))
		}
		w.Steps = append(w.Steps, step)
	}
	if f.last().Elastic != measure.Conforming {
		w.Notes = append(w.Notes, "a bolt that was tightened past yield is scrap once it is loosened: never use it again")
	}
	w.Notes = append(w.Notes, "this is what to expect, not what to do: the engine maker's manual comes first")
	return w
}

// Yielded says in words whether the bolt has yielded: "not yielded", "yielded" or "perhaps yielded".
func (s State) Yielded() string {
	switch s.Elastic {
	case measure.Conforming:
		return "not yielded"
	case measure.AboveLimit:
		return "yielded"
	}
	return "perhaps yielded"
}

// turnToYield returns the turn at which yield begins as people read it, from zero on.
func (f Forecast) turnToYield() units.AngleInterval {
	var zero units.Angle
	return units.MustInterval(units.Max(zero, f.Onset.Lo()), units.Max(zero, f.Onset.Hi()))
}

// stretchOf returns a range of lengths in the unit of a thread's standard.
func stretchOf(t fasteners.Thread, l units.LengthInterval) string {
	if t.IsUnified() {
		return l.FormatOutward(units.Inch, 4)
	}
	return l.FormatOutward(units.Millimetre, 3)
}
