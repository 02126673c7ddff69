package demo_test

import (
	"fmt"
	"math"
	"strings"

	"github.com/shopspring/decimal"

	"example.com/closefit/fasteners"
	"example.com/closefit/torque/preload"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// fastenerFigures are a group of bolts. Its torques and turns follow from the thread, the
// class, friction and the joint.
type fastenerFigures struct {
	Group     string         `toml:"group"`
	Pattern   map[string]any `toml:"pattern"` // on, bolts, caps, circle, places, order: as the job has them
	SingleUse bool           `toml:"single_use"`
	Trial     bool           `toml:"trial"` // drawn up so for the trial assembly too
	Each      bool           `toml:"each"`  // each bolt was looked at by its name
	Thread    string         `toml:"thread"`
	Class     string         `toml:"class"`
	Friction  string         `toml:"friction"` // in the thread as under the head
	Face      string         `toml:"face"`     // the outside of the face under the head
	Hole      string         `toml:"hole"`

	// A torque to end with is what gives this share of the proof load where friction is
	// least; the stages before it are parts of it.
	Share  string   `toml:"share"`
	Stages []string `toml:"stages"`
	Step   string   `toml:"step"`

	Turn   *turnFigures   `toml:"turn"`
	During map[string]any `toml:"during"`
	Wait   string         `toml:"wait"` // after the first stage
	Used   *usedFigures   `toml:"used"`
}

// turnFigures are a turn after the last torque, and the joint that it stretches.
type turnFigures struct {
	// Of these one: the share of the proof load to reach, or how much the bolt is to
	// lengthen for good.
	Share   string `toml:"share"`
	Stretch string `toml:"stretch"`

	Step   string `toml:"step"`
	Most   string `toml:"most"`   // in one stage
	Within string `toml:"within"` // to both sides, if it is said

	Nut          bool   `toml:"nut"` // a through bolt; else it is screwed into a part
	Shank        string `toml:"shank"`
	FreeThread   string `toml:"free_thread"`
	Outside      string `toml:"outside"` // of the clamped part around the bolt
	BoltModulus  string `toml:"bolt_modulus"`
	PartsModulus string `toml:"parts_modulus"`
	Doubt        string `toml:"doubt"` // of the joint's stiffness, as a part of it
}

// usedFigures are how used bolts are judged: the longest stretch is a part of the free
// length.
type usedFigures struct {
	Length   string      `toml:"length"`    // when new, with its tolerance
	Stretch  string      `toml:"stretch"`   // the most, as a part of the length
	Step     string      `toml:"step"`      // that it is rounded down to
	ByLength bool        `toml:"by_length"` // the job states the longest length
	With     string      `toml:"with"`
	Built    []builtBolt `toml:"built"`
}

type builtBolt struct {
	Bolt   string `toml:"bolt"`
	Length string `toml:"length"`
	Again  bool   `toml:"again"` // it was read again, and stands
}

// fasteners works out every group.
func (d *design) fasteners() {
	trial := 0
	for i, f := range d.Fasteners {
		d.group(fmt.Sprintf("tightening[%d]", i), f)
		if f.Trial {
			d.follows = d.follows[:d.group(fmt.Sprintf("trial[%d]", trial), f)] // it is said
			d.followf("  drawn up so for the trial assembly too")
			trial++
		}
		switch key := "bolts." + f.Group; {
		case f.Used != nil:
			d.used(key, *f.Used)
		case f.SingleUse:
			d.looked(key+".new", f)
		default:
			d.looked(key+".sound", f)
		}
	}
}

// group adds the lines of one group, and returns how much followed before it.
func (d *design) group(key string, f fastenerFigures) int {
	before := len(d.follows)
	d.line(key+".group", f.Group)
	d.verbatim(key, f.Pattern)
	if f.Turn != nil || f.SingleUse {
		d.line(key+".single_use", fmt.Sprint(f.SingleUse))
	}
	d.tightening(key, f)
	return before
}

// looked says which bolts somebody looked at: all, or each by its name.
func (d *design) looked(key string, f fastenerFigures) {
	if !f.Each {
		d.line(key, "all")
		return
	}
	var names []string
	for _, cap := range f.Pattern["caps"].([]any) {
		for _, bolt := range cap.([]any) {
			names = append(names, bolt.(string))
		}
	}
	d.stated(key, names)
}

// tightening works out the stages of a group.
func (d *design) tightening(key string, f fastenerFigures) {
	screw := preload.Screw{Thread: must(fasteners.ParseThread(f.Thread)),
		Face: length(f.Face), Hole: length(f.Hole)}
	class := must(fasteners.StrengthOf(strings.TrimPrefix(f.Class, "grade "), screw.Thread))
	rub := must(preload.ParseFriction(f.Friction))
	friction := preload.Friction{Thread: rub, Bearing: rub}
	proof := must(class.Load(class.Proof))
	g := newGrain[units.TorqueDim](f.Step)

	slick := preload.Friction{Thread: units.Exactly(rub.Lo()), Bearing: units.Exactly(rub.Lo())}
	last := g.down(must(screw.Torque(units.Exactly(proof.MulRat(part(f.Share))), slick)).Lo())
	var torques []units.Torque
	for _, share := range f.Stages {
		torques = append(torques, g.near(last.MulRat(part(share))))
	}
	torques = append(torques, last)
	for i, t := range torques {
		d.line(fmt.Sprintf("%s.stages[%d].torque", key, i), g.write(t))
	}
	if f.Wait != "" {
		d.line(key+".stages[0].wait", f.Wait)
	}
	d.verbatim(fmt.Sprintf("%s.stages[%d].during", key, len(torques)-1), f.During)

	force := must(screw.Preload(units.Exactly(last), friction))
	d.followf("%s: %s of %s, proof load %s", f.Group, f.Thread, f.Class, d.force(proof.Float64(units.Newton)))
	d.followf("  friction %s, on a face from %s to %s", f.Friction, f.Hole, f.Face)
	d.followf("  last torque for %s of the proof load, to %s: %s, a preload of %s", f.Share, f.Step, g.write(last), d.forces(force))
	for i, share := range f.Stages {
		d.followf("  stage %d: %s of it, to %s: %s", i+1, share, f.Step, g.write(torques[i]))
	}
	if f.Turn == nil {
		if f.SingleUse {
			panic(fmt.Errorf("%s: single use by torque alone", f.Group))
		}
		return
	}
	d.turn(key, f, screw, class, friction, last, len(torques))
}

// turn works out the turn after a preload. To reach a share of the proof load it is, at
// middle friction and below yield,
//
//	θ = 360° (F - F0) / (k P)
//
// and to lengthen the bolt for good by Δl wherever within the ranges yield begins,
//
//	θ = θy + 360° Δl / P
//
// F0 is the preload of the torque, k the joint's stiffness, P the pitch, θy the latest
// onset of yield. The bolt yields between the least yield and the least tensile strength of
// its class.
func (d *design) turn(key string, f fastenerFigures, screw preload.Screw, class fasteners.Strength, friction preload.Friction, snug units.Torque, stage int) {
	joint := f.Turn.joint(f, screw.Thread)
	k := must(joint.Tightening())
	bolt := preload.YieldBolt{Screw: screw, Friction: friction,
		Stiffness: units.PlusMinus(k, k.Mul(must(decimal.NewFromString(f.Turn.Doubt)))), Yield: must(units.NewInterval(class.Yield, class.Tensile))}
	pitch := screw.Thread.Pitch()
	g := newGrain[units.AngleDim](f.Turn.Step)
	var whole units.Angle
	switch {
	case (f.Turn.Share == "") == (f.Turn.Stretch == ""):
		panic(fmt.Errorf("%s: a turn has share or stretch", f.Group))
	case f.Turn.Share != "":
		middle := preload.Friction{Thread: units.Exactly(friction.Thread.Mid()), Bearing: units.Exactly(friction.Bearing.Mid())}
		begin := must(screw.Preload(units.Exactly(snug), middle)).Lo()
		gain := must(class.Load(class.Proof)).MulRat(part(f.Turn.Share)).Sub(begin).Float64(units.Newton)
		whole = g.near(must(units.Degree.OfFloat64(360*gain/(k.Float64(units.NewtonPerMillimetre)*pitch.Float64(units.Millimetre)), 6)))
	default:
		onset := must(bolt.Forecast(units.Exactly(snug))).Onset.Hi()
		whole = g.up(onset.Add(units.Turn.OfRat(length(f.Turn.Stretch).Ratio(pitch))))
	}
	if whole.Sign() <= 0 {
		panic(fmt.Errorf("%s: a turn of %s", f.Group, whole))
	}
	var doubt units.Angle
	if f.Turn.Within != "" {
		doubt = must(units.ParseAngle(f.Turn.Within))
	}
	forecast := must(bolt.Forecast(units.Exactly(snug), units.PlusMinus(whole, doubt)))
	state := forecast.States[1]
	yielded := map[measure.Verdict]string{measure.Conforming: "not yielded", measure.Undecided: "perhaps yielded", measure.AboveLimit: "yielded"}[state.Elastic]
	if yields := state.Elastic != measure.Conforming; yields != f.SingleUse {
		panic(fmt.Errorf("%s: %s after the turn, and single use is %t", f.Group, yielded, f.SingleUse))
	}
	swings := must(preload.Swings(whole, must(units.ParseAngle(f.Turn.Most)), g.step))
	var texts []string
	for i, swing := range swings {
		text := degrees(swing) + "°"
		if f.Turn.Within != "" {
			text = degrees(swing) + " ±" + degrees(doubt) + " °"
		}
		texts = append(texts, text)
		d.line(fmt.Sprintf("%s.stages[%d].turn", key, stage+i), text)
	}
	aim := "for " + f.Turn.Share + " of the proof load"
	if f.Turn.Stretch != "" {
		aim = "to lengthen by " + f.Turn.Stretch
	}
	d.followf("  bolt of %s and %s of thread, of %s: %s", f.Turn.Shank, f.Turn.FreeThread, f.Turn.BoltModulus, d.stiffness(joint.Bolt))
	d.followf("  parts of %s around it, of %s: %s; together to a part of %s", f.Turn.Outside, f.Turn.PartsModulus, d.stiffness(joint.Members), f.Turn.Doubt)
	d.followf("  turned %s, to %s, at most %s at once: %s", aim, f.Turn.Step, f.Turn.Most, strings.Join(texts, ", then "))
	d.followf("  %s, a preload of %s", yielded, d.forces(state.Preload))
}

// joint works out the stiffnesses.
func (t turnFigures) joint(f fastenerFigures, thread fasteners.Thread) fasteners.Joint {
	steel, parts := must(units.ParsePressure(t.BoltModulus)), must(units.ParsePressure(t.PartsModulus))
	seat, seatModulus := fasteners.TappedHole, parts
	if t.Nut {
		seat, seatModulus = fasteners.Nut, steel
	}
	shank, free := length(t.Shank), length(t.FreeThread)
	bolt := must(fasteners.BoltShape{Thread: thread, Head: fasteners.HexHead, Seat: seat, Modulus: steel, SeatModulus: seatModulus, Grip: shank.Add(free),
		Shank: []fasteners.Segment{{Name: "shank", Length: shank, Area: thread.ShankArea(), Modulus: steel}}, FreeThread: free}.Stiffness())
	members := must(fasteners.ClampedParts{Seat: seat, Hole: length(f.Hole), Face: length(f.Face), Outside: length(t.Outside),
		Layers: []fasteners.Layer{{Name: "parts", Thickness: shank.Add(free), Modulus: parts}}}.Stiffness())
	return fasteners.Joint{Bolt: bolt, Members: members}
}

// used works out how used bolts are judged, and what is read of them.
func (d *design) used(key string, u usedFigures) {
	whenNew := must(units.ParseLengthInterval(u.Length))
	g := newGrain[units.LengthDim](u.Step)
	stretch := g.down(whenNew.Mid().MulRat(part(u.Stretch)))
	if u.ByLength {
		longest := g.write(g.down(whenNew.Hi().Add(stretch)))
		d.line(key+".longest_length", longest)
		d.followf("  a used bolt, %s when new, has stretched by %s at most: %s long", u.Length, u.Stretch, longest)
	} else {
		d.line(key+".new_length", u.Length)
		d.line(key+".longest_stretch", g.write(stretch))
		d.followf("  a used bolt, %s when new, has stretched by %s at most: %s", u.Length, u.Stretch, g.write(stretch))
	}
	d.line(key+".with", u.With)
	sure := 0
	for _, b := range u.Built {
		if b.Again {
			d.line(fmt.Sprintf("%s.sure[%d]", key, sure), b.Bolt)
			sure++
		}
		d.line(key+".lengths."+b.Bolt, d.named(u.With).shows(length(b.Length)))
		d.followf("  %s is %s long", b.Bolt, b.Length)
	}
}

// degrees writes an angle as a number.
func degrees(a units.Angle) string { return a.In(units.Degree, 3).String() }

func (d *design) forces(f units.ForceInterval) string {
	return d.force(f.Lo().Float64(units.Newton)) + " to " + d.force(f.Hi().Float64(units.Newton))
}

func (d *design) stiffness(k units.Stiffness) string {
	if d.Engine.Inch {
		return fmt.Sprintf("%.0f lbf/thou", math.Round(k.Float64(units.NewtonPerMillimetre)/4.4482216152605*0.0254))
	}
	return k.Format(units.KilonewtonPerMillimetre, 0, units.HalfEven)
}
