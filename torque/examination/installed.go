package examination

import (
	"errors"
	"fmt"
	"slices"

	"example.com/closefit/fasteners"
	"example.com/closefit/torque"
	"example.com/closefit/torque/preload"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// An Installed bolt is all that is known of the bolts of a group and of what they hold. Only Bolt
// and Strength must be there; what else is left out is not asked about, and Examine says so.
type Installed struct {
	Bolt       preload.YieldBolt   `json:"bolt"`
	Strength   fasteners.Strength  `json:"strength"`
	Joint      *fasteners.Joint    `json:"joint"`      // nil if only the stiffness of the whole is known
	Share      units.RatioInterval `json:"share"`      // felt by a neighbour; empty if it is not known, and then 0 to 1
	Seating    units.Force         `json:"seating"`    // the least preload that seats the cap; zero if it is not known
	Engagement *preload.Engagement `json:"engagement"` // nil if it is not known
	Key        units.Length        `json:"key"`        // the width across flats of a hexagon socket in the head; zero for another head
	Embedding  *preload.Embedding  `json:"embedding"`  // nil if it is not known
}

// UnmarshalJSON reads what encoding/json writes of an Installed.
func (b *Installed) UnmarshalJSON(data []byte) error {
	type installed Installed
	return units.DecodeObject(data, (*installed)(b))
}

// A Question is something about a plan that has to be answered before it is carried out: its numbers
// ask more of the bolt than is known to be good. It does not say that the plan is wrong; the engine
// maker's manual comes first.
type Question struct {
	About string `json:"about"` // "proof load", "yield", "seating", "stripping", "breaking torque" or "key"
	Stage int    `json:"stage"` // of the group, from 1
	// Proven is true if it is so for every bolt within the ranges, false if it is for some.
	Proven  bool          `json:"proven"`
	Ask     string        `json:"ask"` // one sentence for what was found, and a question
	Working units.Working `json:"working"`
}

// UnmarshalJSON reads what encoding/json writes of a Question.
func (q *Question) UnmarshalJSON(data []byte) error {
	type question Question
	return units.DecodeObject(data, (*question)(q))
}

// An Examination is what a plan's numbers mean for the bolts of one group.
type Examination struct {
	Group string    `json:"group"`
	Bolt  Installed `json:"bolt"`
	// States are what to expect after each stage, as Follow has them, with what neighbours
	// took before.
	States      []preload.State     `json:"states"`
	Embedded    units.ForceInterval `json:"embedded"`    // lost by embedding; empty if it is not known
	Interaction *Interaction        `json:"interaction"` // of the neighbours; nil if it is not known, or a bolt stands alone
	// Again is what part of its preload the loosest bolt would keep if the last torque went round once
	// more; empty if no torque comes last, or nothing is known of the neighbours.
	Again     units.RatioInterval `json:"again"`
	Stripping *preload.Stripping  `json:"stripping"` // nil if it is not known
	// Left is the preload that is left of the last stage's, after embedding and neighbours as far as
	// they are known.
	Left      units.ForceInterval `json:"left"`
	Questions []Question          `json:"questions"`
	NotAsked  []string            `json:"not_asked"` // what was not compared, and why
}

// UnmarshalJSON reads what encoding/json writes of an Examination.
func (e *Examination) UnmarshalJSON(data []byte) error {
	type examination Examination
	return units.DecodeObject(data, (*examination)(e))
}

// Examine returns what the numbers of a plan's group mean for its bolts: what to expect after each
// stage, what embedding and neighbours take away again, and what has to be answered first:
//
//   - a stage that takes the bolt beyond its proof load
//   - a stage that takes it to yield in a group whose bolts are not single use
//   - a last torque before the turns, or at the end, that leaves less than seats the cap
//   - a preload at which the thread of the bolt or of its hole strips
//   - a torque beyond the breaking torque of the bolt, or beyond what its key stands
//
// Each holds for what the ranges allow. It is proven if it is so throughout them, and asked if it is
// so somewhere in them. What neighbours take from a bolt before its next pull is in the states of
// that pull; for that alone, each pull is taken as one to the middle of the preload of its stage.
//
// The error is of kind ErrImpossible for a group that the plan does not have, a strength of another
// thread than the screw's, and as the functions that it stands on say.
func (b Installed) Examine(plan *torque.Plan, group string) (Examination, error) {
	groups := plan.Groups()
	at := slices.IndexFunc(groups, func(g torque.Group) bool { return g.Name == group })
	if at < 0 {
		return Examination{}, impossible("group", fmt.Sprintf("%q", group), "name a group of the plan")
	}
	if !b.Strength.Thread.Equal(b.Bolt.Screw.Thread) {
		return Examination{}, impossible("strength", fmt.Sprintf("of %v on a screw of %v", b.Strength.Thread, b.Bolt.Screw.Thread), "ask fasteners.StrengthOf for the screw's thread")
	}
	g := groups[at]
	among, err := b.among(plan, g)
	if err != nil {
		return Examination{}, err
	}
	states, err := follow(among.bolt, pullsOf(g.Stages), among.keptByStage)
	if err != nil {
		return Examination{}, err
	}
	x := examiner{Examination: Examination{Group: group, Bolt: b, States: states, Questions: []Question{}, NotAsked: []string{}}, group: g}
	if among.unknown != "" {
		x.notAsked("the loss when neighbours are tightened: %s", among.unknown)
	}
	x.Interaction, x.Again = among.interaction, among.again
	if err := errors.Join(x.embedding(), x.stripping()); err != nil {
		return Examination{}, err
	}
	x.left()
	if err := x.proofLoad(); err != nil {
		return Examination{}, err
	}
	x.yield()
	x.seating()
	x.strips()
	x.head()
	slices.SortStableFunc(x.Questions, func(a, b Question) int { return a.Stage - b.Stage })
	return x.Examination, nil
}

// An examiner is an Examination under way.
type examiner struct {
	Examination
	group torque.Group
}

func (x *examiner) notAsked(format string, args ...any) {
	x.NotAsked = append(x.NotAsked, fmt.Sprintf(format, args...))
}

// force writes a preload in the unit of the thread's standard.
func (x *examiner) force(f units.ForceInterval) string {
	u, places := forceUnit(x.Bolt.Bolt.Screw.Thread)
	return f.FormatOutward(u, places)
}

// oneForce writes a force that is one value.
func (x *examiner) oneForce(f units.Force) string {
	u, places := forceUnit(x.Bolt.Bolt.Screw.Thread)
	return f.Format(u, places, units.HalfEven)
}

func forceUnit(t fasteners.Thread) (units.ForceUnit, int32) {
	if t.IsUnified() {
		return units.PoundForce, 0
	}
	return units.Kilonewton, 1
}

// torqueUnit returns the unit that the group's first torque is written in.
func torqueUnit(g torque.Group) units.TorqueUnit {
	for _, s := range g.Stages {
		if t, ok := torque.As[torque.Tighten](s.Pull); ok {
			return t.In
		}
	}
	return units.NewtonMetre
}

func (x *examiner) torque(t units.TorqueInterval) string {
	return t.FormatOutward(torqueUnit(x.group), 1)
}

func (x *examiner) embedding() (err error) {
	if x.Bolt.Embedding == nil {
		x.notAsked("the loss by embedding: no roughness is given")
		return nil
	}
	x.Embedded, err = x.Bolt.Embedding.Loss(x.Bolt.Bolt.Stiffness)
	return err
}

func (x *examiner) stripping() error {
	if x.Bolt.Engagement == nil {
		x.notAsked("stripping: no length of engagement and strength of the hole are given")
		return nil
	}
	s, err := x.Bolt.Engagement.Stripping()
	if err != nil {
		return err
	}
	x.Stripping = &s
	return nil
}

// kept returns which part of the preloads the bolts keep after all of the group's pulls up to a
// stage, counted from 1, when the last of them has been given: that of the loosest bolt, up to all.
func (x *examiner) kept(stage int) units.RatioInterval {
	whole := units.Exactly(units.One.OfInt(1))
	if x.Interaction == nil {
		return whole
	}
	last, count := -1, len(x.group.Pattern)
	given := map[string]int{}
	for k, p := range x.Interaction.Pulls {
		given[p.Bolt]++
		if given[p.Bolt] == stage {
			if count--; count == 0 {
				last = k
			}
		}
	}
	if last < 0 {
		return whole
	}
	least := units.One.OfInt(1)
	aims := map[string]units.Force{}
	for _, p := range x.Interaction.Pulls[:last+1] {
		aims[p.Bolt] = p.To
	}
	for b, p := range x.group.Pattern {
		if aim := aims[p.Bolt]; aim.Sign() > 0 {
			least = units.Min(least, units.One.OfRat(x.Interaction.Preloads[last][b].Lo().Ratio(aim)))
		}
	}
	return unlike(units.MustInterval(least, units.One.OfInt(1)), x.States[stage-1].Preload)
}

// left works out what is left after the last stage.
func (x *examiner) left() {
	if len(x.States) == 0 {
		return
	}
	x.Left = x.remains(len(x.States))
	if !x.Embedded.IsEmpty() {
		lo, hi := x.Left.Lo().Sub(x.Embedded.Hi()), x.Left.Hi().Sub(x.Embedded.Lo())
		x.Left = units.MustInterval(units.Max(lo, units.Force{}), units.Max(hi, units.Force{}))
	}
}

// remains returns what neighbours leave of the preload of a stage.
func (x *examiner) remains(stage int) units.ForceInterval {
	f, kept := x.States[stage-1].Preload, x.kept(stage)
	return units.MustInterval(f.Lo().MulRat(kept.Lo().Rat(units.One)), f.Hi()).Outward(units.Newton, 3)
}

// question adds one question about the first stage at which it is proven, else the first at which it
// is possible. The verdict on a stage is AboveLimit where proven, Undecided where possible.
func (x *examiner) question(about string, verdict func(stage int, s preload.State) measure.Verdict, ask func(stage int, s preload.State, proven bool) (string, units.Working)) {
	stage, proven := 0, false
	for i, s := range x.States {
		v := verdict(i+1, s)
		if v == measure.AboveLimit && !proven {
			stage, proven = i+1, true
		} else if v == measure.Undecided && stage == 0 {
			stage = i + 1
		}
	}
	if stage == 0 {
		return
	}
	text, w := ask(stage, x.States[stage-1], proven)
	w.Name = about + ", stage " + fmt.Sprint(stage)
	x.Questions = append(x.Questions, Question{About: about, Stage: stage, Proven: proven, Ask: text, Working: w})
}

// is says that something is so, or may be.
func is(proven bool) string {
	if proven {
		return "is"
	}
	return "may be"
}

func (x *examiner) proofLoad() error {
	proof, err := x.Bolt.Strength.Load(x.Bolt.Strength.Proof)
	if err != nil {
		return err
	}
	x.question("proof load", func(_ int, s preload.State) measure.Verdict {
		return measure.Judge(s.Preload, units.AtMost(proof))
	}, func(stage int, s preload.State, proven bool) (string, units.Working) {
		ask := fmt.Sprintf("stage %d takes the bolt to %s, which %s beyond its proof load of %s: does the maker mean these bolts to be tightened so far?",
			stage, x.force(s.Preload), is(proven), x.oneForce(proof))
		return ask, units.Working{Formula: "F <= Fp = As Sp", Numbers: fmt.Sprintf("%s <= %s, Sp = %s", x.force(s.Preload), x.oneForce(proof), x.Bolt.Strength.Proof.Format(units.Megapascal, 0, units.HalfEven)),
			Source: x.Bolt.Strength.Standard, Notes: []string{"the proof load leaves no stretch in a new bolt of class " + x.Bolt.Strength.Class + "; above it nothing is promised"}}
	})
	return nil
}

func (x *examiner) yield() {
	if x.group.Use == torque.SingleUse {
		return
	}
	x.question("yield", func(_ int, s preload.State) measure.Verdict {
		if s.Elastic == measure.BelowLimit {
			return measure.Undecided
		}
		return s.Elastic
	}, func(stage int, s preload.State, proven bool) (string, units.Working) {
		ask := fmt.Sprintf("stage %d %s the bolt to yield, and the plan does not say that its bolts are used once: is the class right, and does the maker say that they may be used again?", stage, map[bool]string{true: "takes", false: "may take"}[proven])
		w := units.Working{Formula: "F < Fy", Numbers: fmt.Sprintf("F = %s", x.force(s.Preload)), Source: "VDI 2230-1:2015, 5.5.1"}
		if envelope, err := x.Bolt.Bolt.Screw.YieldPreload(x.Bolt.Bolt.Yield, units.One.OfInt(1), x.Bolt.Bolt.Section, x.Bolt.Bolt.Friction.Thread); err == nil {
			w.Numbers += ", Fy = " + x.force(envelope)
		}
		return ask, w
	})
}

// seating asks about the last torque before the first turn, or the last of all.
func (x *examiner) seating() {
	if x.Bolt.Seating.Sign() <= 0 {
		x.notAsked("whether the torque seats the cap: no seating force is given")
		return
	}
	last, way := 0, "some other way"
	for i, s := range x.group.Stages {
		if _, turns := torque.As[torque.Turn](s.Pull); turns {
			way = "some other way before the turn is counted"
			break
		}
		if _, tightens := torque.As[torque.Tighten](s.Pull); tightens {
			last = i + 1
		}
	}
	if last == 0 {
		return
	}
	whole, left := x.States[last-1].Preload, x.remains(last)
	verdict := measure.Undecided
	switch {
	case whole.Hi().Less(x.Bolt.Seating):
		verdict = measure.AboveLimit
	case left.Lo().Cmp(x.Bolt.Seating) >= 0:
		verdict = measure.Conforming
	}
	x.question("seating", func(stage int, _ preload.State) measure.Verdict {
		if stage == last {
			return verdict
		}
		return measure.Conforming
	}, func(stage int, _ preload.State, proven bool) (string, units.Working) {
		ask := fmt.Sprintf("the torque of stage %d leaves %s, which %s less than the %s that seats the cap: are the parts drawn together %s?",
			stage, x.force(left), is(proven), x.oneForce(x.Bolt.Seating), way)
		return ask, units.Working{Formula: "F kept >= Fs", Numbers: fmt.Sprintf("F = %s, kept = %s among neighbours, Fs = %s", x.force(whole), x.kept(stage).FormatOutward(units.Percent, 0), x.oneForce(x.Bolt.Seating)),
			Result: x.force(left), Source: "ISO 16047:2005; the seating force is the user's"}
	})
}

func (x *examiner) strips() {
	if x.Stripping == nil {
		return
	}
	weakest := x.Stripping.Weakest()
	x.question("stripping", func(_ int, s preload.State) measure.Verdict {
		return measure.Judge(s.Preload.Sub(weakest), units.AtMost(units.Force{}))
	}, func(stage int, s preload.State, _ bool) (string, units.Working) {
		which := "the hole's thread"
		if x.Stripping.BoltThread.Lo().Less(x.Stripping.HoleThread.Lo()) {
			which = "the bolt's thread"
		}
		ask := fmt.Sprintf("stage %d pulls with %s, and %s strips at %s: is the engagement longer, or the part stronger, than was given?",
			stage, x.force(s.Preload), which, x.force(weakest))
		u, places := forceUnit(x.Bolt.Bolt.Screw.Thread)
		return ask, units.Working{Formula: "F < Fstrip", Numbers: x.force(s.Preload) + " < " + x.force(weakest), Source: "VDI 2230-1:2015, 5.5.5, from memory",
			Steps: []units.Working{x.Stripping.Working(u, places)}}
	})
}

// head asks whether a torque is more than the bolt and its key stand.
func (x *examiner) head() {
	limit := func(about string, most units.Torque, limits, ask, source string) {
		x.question(about, func(_ int, s preload.State) measure.Verdict {
			if s.Torque.IsEmpty() {
				return measure.Conforming
			}
			return measure.Judge(s.Torque, units.AtMost(most))
		}, func(stage int, s preload.State, _ bool) (string, units.Working) {
			least := most.Format(torqueUnit(x.group), 1, units.HalfEven)
			return fmt.Sprintf("stage %d takes %s, and %s no more than %s: %s", stage, x.torque(s.Torque), limits, least, ask),
				units.Working{Formula: "T <= Tmin", Numbers: x.torque(s.Torque) + " <= " + least, Source: source}
		})
	}
	if most, err := preload.BreakingTorque(x.Bolt.Strength); err == nil {
		limit("breaking torque", most, "a bolt whose thread binds has to stand", "are thread, class and lubricant right?", "ISO 898-7:1992")
	} else {
		x.notAsked("the breaking torque: the standard has none for %v of class %s", x.Bolt.Strength.Thread, x.Bolt.Strength.Class)
	}
	if x.Bolt.Key.IsZero() {
		x.notAsked("what the head and its drive stand: no hexagon socket is given, and for other drives no source was found")
		return
	}
	if most, err := preload.KeyTorque(x.Bolt.Key); err == nil {
		limit("key", most, "a standard key for its socket has to stand", "is the bit made for more?", "ISO 2936, read as JIS B 4648:2008")
	} else {
		x.notAsked("what the key stands: the standard has none of %v", x.Bolt.Key)
	}
}

// Working shows the whole examination: what to expect, what is lost again, and each question.
func (e Examination) Working(plan *torque.Plan) units.Working {
	w := units.Working{Name: e.Group + ": what the plan's numbers mean for these bolts"}
	thread := e.Bolt.Bolt.Screw.Thread
	force, places := forceUnit(thread)
	in := units.NewtonMetre
	var stages []torque.Stage
	for _, g := range plan.Groups() {
		if g.Name == e.Group {
			in, stages = torqueUnit(g), g.Stages
		}
	}
	expect := units.Working{
		Name:    fmt.Sprintf("what to expect of %v, class %s", thread, e.Bolt.Strength.Class),
		Formula: "F = T / ( P/(2π) + 0.577 d2 μth + 0.5 Db μb ), then F = min( F0 + k P θ/360°, Fy )",
		Numbers: fmt.Sprintf("k = %s, Db = %s, μth = %v, μb = %v, Re = %s", e.Bolt.Bolt.Stiffness.FormatOutward(units.KilonewtonPerMillimetre, 1), thread.Written(e.Bolt.Bolt.Screw.Bearing()),
			e.Bolt.Bolt.Friction.Thread, e.Bolt.Bolt.Friction.Bearing, e.Bolt.Bolt.Yield.FormatOutward(units.Megapascal, 0)),
		Source: "ISO 16047:2005; VDI 2230-1:2015, 5.4.3 and 5.5.1",
	}
	for i, s := range e.States {
		step := units.Working{Name: fmt.Sprintf("stage %d", i+1), Result: s.Preload.FormatOutward(force, places) + ", " + s.Yielded()}
		if i < len(stages) {
			step.Name += ": " + stages[i].Pull.String()
			if _, turns := torque.As[torque.Turn](stages[i].Pull); turns {
				step.Result += "; the wrench shows " + s.Torque.FormatOutward(in, 0)
			} else if !s.Added.IsEmpty() {
				step.Result += "; it takes a turn of " + turnText(s.Added)
			}
		}
		expect.Steps = append(expect.Steps, step)
	}
	w.Steps = append(w.Steps, expect)
	if e.Bolt.Embedding != nil {
		if lost, err := e.Bolt.Embedding.Working(e.Bolt.Bolt.Stiffness, force, places); err == nil {
			w.Steps = append(w.Steps, lost)
		}
	}
	if e.Interaction != nil {
		lost := e.Interaction.Working(force, places)
		if !e.Again.IsEmpty() {
			lost.Notes = append(lost.Notes, "if the last torque went round once more, the loosest bolt would keep "+e.Again.FormatOutward(units.Percent, 0))
		}
		w.Steps = append(w.Steps, lost)
	}
	if e.Stripping != nil {
		w.Steps = append(w.Steps, e.Stripping.Working(force, places))
	}
	for _, q := range e.Questions {
		how := "possible"
		if q.Proven {
			how = "proven"
		}
		q.Working.Notes = append([]string{q.Ask}, q.Working.Notes...)
		q.Working.Name = how + ": " + q.Working.Name
		w.Steps = append(w.Steps, q.Working)
	}
	if !e.Left.IsEmpty() {
		w.Result = "left of the preload " + e.Left.FormatOutward(force, places)
	}
	for _, what := range e.NotAsked {
		w.Notes = append(w.Notes, "not compared: "+what)
	}
	w.Notes = append(w.Notes, "this is what to expect, not what to do: the engine maker's manual comes first")
	return w
}

// turnText returns a turn that may have no upper bound.
func turnText(a units.AngleInterval) string {
	if !a.HasHi() {
		return "at least " + units.Exactly(a.Lo()).FormatOutward(units.Degree, 0)
	}
	return a.FormatOutward(units.Degree, 0)
}
