package lesson

import (
	"strconv"

	"github.com/shopspring/decimal"

	"example.com/closefit/examples/kit/page"
	"example.com/closefit/fasteners"
	"example.com/closefit/torque/preload"
	"example.com/closefit/units"
)

func tightening() *Lesson {
	return &Lesson{
		Key: "tightening", Title: "Torque, angle and yield",
		Question: "Two bolts, the same click of the wrench. Do they hold the same?",
		Reads: []string{
			"A bolt holds by its preload: it is a spring that was drawn out. The wrench does not know the preload. It knows the torque, and most of a torque rubs in the thread and under the head; only a small part stretches the bolt. So a little more or less oil makes a large difference in what the bolt holds.",
			"A turn is another matter. Once the parts lie flat, a turn draws the bolt out by the pitch of its thread, whatever the friction is. So the plan asks for a small torque, to seat everything, and then for a turn. Friction only enters by the small torque.",
			"Where the turn goes on until the bolt yields, its strength decides and neither friction nor angle matters much. That is the closest that a bolt can be tightened with a wrench, and it costs the bolt: it has stretched for good.",
		},
		Try: []string{
			"Make the friction less certain. Which of the two ways loses more?",
			"Turn further, until the bolt yields for certain. What happens to the width of the preload?",
			"Make the snug torque larger, and the turn smaller, so that the preload stays. Which doubt comes back?",
		},
		Caution: fasteners.Caution + ". Wear eye protection. The bolt on this page is invented: never carry its figures to an engine.",
		Controls: []Control{
			slider("Least friction", 8, 20, 1, 10, 2, ""),
			slider("How much more it may be at the most", 0, 10, 1, 4, 2, ""),
			slider("Snug torque", 4, 20, 1, 12, 0, "N·m"),
			slider("Turn after it", 10, 110, 5, 65, 0, "°"),
		},
		show:      showTightening,
		exercises: [2]func(*draws) setter{torqueTask, turnTask},
	}
}

// rodBolt is a rod bolt of the tide mill, M8 of class 10.9, with a joint of springs known to a tenth.
func rodBolt(friction units.RatioInterval) (preload.YieldBolt, error) {
	thread := metric(8, 125)
	strength, err := fasteners.StrengthOf("10.9", thread)
	if err != nil {
		return preload.YieldBolt{}, err
	}
	k, err := joint().Tightening()
	if err != nil {
		return preload.YieldBolt{}, err
	}
	return preload.YieldBolt{
		Screw:     preload.Screw{Thread: thread, Face: millimetres(122, 1), Hole: millimetres(85, 1)},
		Friction:  preload.Friction{Thread: friction, Bearing: friction},
		Stiffness: units.PlusMinus(k, k.MulRat(ratio(1, 10))),
		Yield:     units.Between(strength.Yield, strength.Tensile),
	}, nil
}

// metric is the thread of so many millimetres, and so many hundredths of pitch.
func metric(diameter, pitch int64) fasteners.Thread {
	t, err := fasteners.MetricThread(millimetres(diameter, 0), millimetres(pitch, 2))
	if err != nil {
		panic("lesson: " + err.Error())
	}
	return t
}

func joint() fasteners.Joint {
	return fasteners.Joint{Bolt: units.MustParse[units.Stiffness]("217 kN/mm"), Members: units.MustParse[units.Stiffness]("1229 kN/mm")}
}

func showTightening(at []int64) (view, error) {
	kn := units.Kilonewton
	coefficient := func(n int64) units.Ratio { return units.One.Of(decimal.New(n, -2)) }
	friction := units.Between(coefficient(at[0]), coefficient(at[0]+at[1]))
	bolt, err := rodBolt(friction)
	if err != nil {
		return view{}, err
	}
	torque := units.NewtonMetre.OfInt(at[2])
	snug := units.PlusMinus(torque, torque.MulRat(ratio(4, 100)))
	turn := units.PlusMinus(units.Degree.OfInt(at[3]), units.Degree.OfInt(5))
	why, err := bolt.Scattering(snug, turn)
	if err != nil {
		return view{}, err
	}
	forecast, err := bolt.Forecast(snug, turn)
	if err != nil {
		return view{}, err
	}
	byTorque, byAngle := why.ByTorque[len(why.ByTorque)-1].Preload, why.ByAngle[len(why.ByAngle)-1].Preload
	end := forecast.States[len(forecast.States)-1]
	stretch, _, _, err := bolt.Screw.Shares(bolt.Friction)
	if err != nil {
		return view{}, err
	}
	stays := units.AtMost(why.Envelope.Lo())
	v := view{said: []string{
		"By torque and turn the bolt holds " + byAngle.FormatOutward(kn, 1) + ". By a torque alone that aims at the same, " + why.Torque.FormatOutward(units.NewtonMetre, 1) + ", it would hold " + byTorque.FormatOutward(kn, 1) + ". The largest over the smallest is " + spreadOf(byAngle) + " against " + spreadOf(byTorque) + ".",
		"Of a torque, " + percent(stretch.Float64(units.One)) + " stretches this bolt. The rest is friction.",
	}}
	switch yielded := end.Elastic.String(); yielded {
	case "conforming":
		v.said = append(v.said, "The bolt has not yielded, proven: yield begins at "+why.Envelope.FormatOutward(kn, 1)+", after a turn of "+forecast.Onset.FormatOutward(units.Degree, 0)+".")
	case "above limit":
		v.said = append(v.said, "The bolt has yielded, proven, and stretched for good by "+end.Stretch.FormatOutward(units.Millimetre, 3)+". Yield begins after a turn of "+forecast.Onset.FormatOutward(units.Degree, 0)+". Once it is loosened it is scrap.")
	default:
		v.said = append(v.said, "The bolt may have yielded or not: yield begins after a turn of "+forecast.Onset.FormatOutward(units.Degree, 0)+". Treat it as yielded: once it is loosened it is scrap.")
	}
	if !byTorque.Within(stays) {
		v.said = append(v.said, "The torque alone may ask for more than the bolt bears before it yields, and nobody at the wrench would know.")
	}
	// A row says in words what its preload means for the bolt: a verdict on a limit would read as one on the tightening.
	reaches := func(name string, reached units.ForceInterval, yielded bool) page.Interval {
		row := on(name, reached, stays, kn, 1)
		switch {
		case yielded:
			row.Verdict = "has yielded"
		case reached.Within(stays):
			row.Verdict = "has not yielded"
		default:
			row.Verdict = "may have yielded"
		}
		return row
	}
	above := why.Envelope.Hi().Less(byTorque.Lo())
	slick, err := curveOf(friction.Lo(), torque)
	if err != nil {
		return view{}, err
	}
	dry, err := curveOf(friction.Hi(), torque)
	if err != nil {
		return view{}, err
	}
	slick.Name, dry.Name = "least friction", "most friction"
	v.charts = []page.Chart{
		page.Intervals{ID: "tightening-1", Title: "Preload by two ways, against where the bolt begins to yield", X: page.Axis{Name: "preload", Unit: "kN"}, Read: "preload", Limit: "below yield", Rows: []page.Interval{reaches("torque alone", byTorque, above), reaches("torque, then turn", byAngle, end.Elastic.String() == "above limit")}},
		page.Lines{ID: "tightening-2", Title: "Preload while the bolt turns, from the snug torque on", X: page.Axis{Name: "turn", Unit: "°"}, Y: page.Axis{Name: "preload", Unit: "kN"}, FromZero: true, Lines: []page.Series{slick, dry, here(float64(at[3]), slick, dry)}},
	}
	v.working = func() ([]units.Working, error) {
		return []units.Working{why.Working(units.NewtonMetre, kn, 1), forecast.Working(units.NewtonMetre, kn, 1)}, nil
	}
	return v, nil
}

// spreadOf is the largest preload over the smallest.
func spreadOf(in units.ForceInterval) string {
	if in.Lo().IsZero() {
		return "without end"
	}
	r, _ := in.Hi().Ratio(in.Lo()).Float64()
	return fixed(r, 2)
}

// curveOf is the preload over the turn, at one friction and in the middle of all else.
func curveOf(friction units.Ratio, torque units.Torque) (page.Series, error) {
	bolt, err := rodBolt(units.Exactly(friction))
	if err != nil {
		return page.Series{}, err
	}
	bolt.Stiffness, bolt.Yield = units.Exactly(bolt.Stiffness.Mid()), units.Exactly(bolt.Yield.Mid())
	const step, steps = 5, 24
	turns := make([]units.AngleInterval, steps)
	for i := range turns {
		turns[i] = units.Exactly(units.Degree.OfInt(step))
	}
	forecast, err := bolt.Forecast(units.Exactly(torque), turns...)
	if err != nil {
		return page.Series{}, err
	}
	s := page.Series{}
	for i, state := range forecast.States {
		s.X, s.Y = append(s.X, float64(i*step)), append(s.Y, state.Preload.Mid().Float64(units.Kilonewton))
	}
	return s, nil
}

func torqueTask(d *draws) setter {
	nm, kn := units.NewtonMetre, units.Kilonewton
	bolt := [...]struct{ diameter, pitch, face, hole int64 }{{8, 125, 116, 90}, {10, 150, 146, 110}, {12, 175, 166, 135}}[d.IntN(3)]
	thread := metric(bolt.diameter, bolt.pitch)
	lo := d.from(9, 14, 1)
	coefficient := func(n int64) units.Ratio { return units.One.Of(decimal.New(n, -2)) }
	friction := units.Between(coefficient(lo), coefficient(lo+d.from(3, 7, 1)))
	torque := units.Exactly(nm.OfInt(d.from(20, 60, 1)))
	screw := preload.Screw{Thread: thread, Face: millimetres(bolt.face, 1), Hole: millimetres(bolt.hole, 1)}
	of := func(in, under units.RatioInterval) units.ForceInterval {
		f, err := screw.Preload(torque, preload.Friction{Thread: in, Bearing: under})
		if err != nil {
			panic("lesson: " + err.Error())
		}
		return f
	}
	both := of(friction, friction)
	working, err := screw.Working(torque, preload.Friction{Thread: friction, Bearing: friction}, nm, kn, 2)
	if err != nil {
		panic("lesson: " + err.Error())
	}
	t := &task[units.ForceDim]{unit: kn, places: 1, round: outward, exact: both, working: working,
		text: "A bolt is tightened to a torque, and its friction is known to a range, the same in the thread and under the head. Which preload can it have, from the least to the most?",
		given: [][2]string{{"bolt", thread.String() + ", pitch " + thread.Pitch().String()}, {"pitch diameter d2", thread.PitchDiameter().Format(units.Millimetre, 3, units.HalfEven)}, {"mean diameter of the bearing face Db", screw.Bearing().String()},
			{"torque", torque.String()}, {"friction", friction.String()}, {"formula", "F = T / ( P/(2π) + 0.577 d2 μ + 0.5 Db μ )"}}}
	tiny := units.Exactly(units.One.Of(decimal.New(1, -12)))
	t.mistaken(of(friction, tiny), "You forgot the friction under the head. It takes about half of the torque.")
	t.mistaken(of(tiny, friction), "You forgot the friction in the thread. It takes nearly as much as the one under the head.")
	t.mistaken(units.Exactly(of(units.Exactly(friction.Mid()), units.Exactly(friction.Mid())).Mid()), "That is the preload at the middle of the friction. Friction is known to a range, and so is the preload.")
	t.mistaken(both.MulRat(ratio(1, 2)), "You took the diameters for radii twice over: the formula holds half of Db already.")
	return t
}

func turnTask(d *draws) setter {
	kn := units.Kilonewton
	per := func(n int64) units.Stiffness {
		return units.MustParse[units.Stiffness](strconv.FormatInt(n, 10) + " kN/mm")
	}
	b, p := d.from(150, 320, 10), d.from(700, 1600, 50)
	bolt, parts := per(b), per(p)
	k, err := fasteners.Joint{Bolt: bolt, Members: parts}.Tightening()
	if err != nil {
		panic("lesson: " + err.Error())
	}
	pitch := millimetres([]int64{100, 125, 150}[d.IntN(3)], 2)
	turn := units.Degree.OfInt(d.from(30, 100, 5))
	full := units.Degree.OfInt(360)
	// F = k P θ/360°
	gained := func(k units.Stiffness, full units.Angle) units.Force {
		r := turn.Ratio(full)
		r.Mul(r, pitch.Rat(units.Millimetre))
		r.Mul(r, k.Rat(units.NewtonPerMillimetre))
		return units.Newton.OfRat(r)
	}
	right := gained(k, full)
	t := &task[units.ForceDim]{unit: kn, places: 1, round: nearest, exact: units.Exactly(right),
		text:  "The parts lie flat and the bolt is turned further, below yield. How much preload does the turn add?",
		given: [][2]string{{"the turn", turn.String()}, {"pitch of the thread", pitch.String()}, {"stiffness of the bolt kb", bolt.Written(units.KilonewtonPerMillimetre)}, {"stiffness of the parts that it clamps km", parts.Written(units.KilonewtonPerMillimetre)}},
		working: units.Working{Name: "preload by a turn", Formula: "F = k P θ/" + full.String() + ", 1/k = 1/kb + 1/km", Numbers: k.Format(units.KilonewtonPerMillimetre, 1, units.HalfEven) + " · " + pitch.String() + " · " + turn.String() + " / " + full.String(),
			Result: right.Format(kn, 2, units.HalfEven), Source: "VDI 2230-1:2015, 5.4.3; the rest is the geometry of the screw"},
	}
	t.mistakenFor(gained(bolt, full), "You took the bolt's spring alone. The parts give as well, so the turn is shared between the two.")
	t.mistakenFor(gained(bolt.Add(parts), full), "You added the two stiffnesses. Bolt and parts are springs one behind the other: their compliances add.")
	t.mistakenFor(gained(k, units.Degree.OfInt(180)), "You took half a turn for a whole one. The bolt advances by one pitch in a whole turn.")
	t.mistakenFor(gained(k, units.Degree.OfInt(90)), "You took a quarter of a turn for a whole one. The bolt advances by one pitch in a whole turn.")
	return t
}
