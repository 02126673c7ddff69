package torque

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/closefit/units"
)

// A Group is a set of bolts that are tightened alike.
type Group struct {
	Name    string     `json:"name"`    // unique in the plan, by more than case or blanks
	Pattern []Position `json:"pattern"` // its bolts
	Order   Sequence   `json:"order"`   // the order to pull them in; InsideOut if nil
	Stages  []Stage    `json:"stages"`  // what is done to each bolt, in order
	Use     BoltUse    `json:"use"`     // whether the bolts may be used again; required if a stage is a Turn
	On      string     `json:"on"`      // the part they stand on; groups on one part share a drawing
	First   []Action   `json:"first"`   // the pauses before the first stage: "are the threads oiled?"
}

// clone returns a copy that shares nothing with g that can be changed.
func (g Group) clone() Group {
	g.Pattern, g.Stages, g.First, g.Order = slices.Clone(g.Pattern), slices.Clone(g.Stages), slices.Clone(g.First), cloneOrder(g.Order)
	for i := range g.Stages {
		stage := &g.Stages[i]
		stage.Order, stage.Then = cloneOrder(stage.Order), slices.Clone(stage.Then)
	}
	return g
}

// caps returns the bolts of each part, in the order of the pattern.
func (g Group) caps() (caps [][]string) {
	at := map[string]int{}
	for _, place := range g.Pattern {
		i, known := at[place.Part]
		if !known {
			i = len(caps)
			at[place.Part] = i
			caps = append(caps, nil)
		}
		caps[i] = append(caps[i], place.Bolt)
	}
	return caps
}

// capOf returns the bolts of the part that a bolt holds, where the group is done cap by cap.
func (g Group) capOf(bolt string) []string {
	if g.Order != CapByCap {
		return nil
	}
	caps := g.caps()
	if i := slices.IndexFunc(caps, func(bolts []string) bool { return slices.Contains(bolts, bolt) }); i >= 0 {
		return caps[i]
	}
	return nil
}

// cloneOrder copies a list of bolts. The other orders hold nothing.
func cloneOrder(o Sequence) Sequence {
	if given, is := o.(Given); is {
		return slices.Clone(given)
	}
	return o
}

// A Stage pulls every bolt of a group once before the next stage begins; in a group done
// cap by cap, every bolt of one cap. It may be tied to a stage of another group, and is
// then done together with it.
type Stage struct {
	Pull        Action   // a Tighten, a Turn or a BackOff
	Order       Sequence // the order to pull the bolts in; that of the group if nil
	DuringGroup string   // the group during whose stage this one is done; empty if it is not tied
	DuringStage int      // that stage, from 1; 0 if it is not tied
	Then        []Action // the pauses once the stage is done
}

// tied reports whether the stage is done during another.
func (s Stage) tied() bool { return s.DuringGroup != "" || s.DuringStage != 0 }

// A Step is one numbered thing to do: a pull on one bolt, or a pause.
type Step struct {
	Number int    `json:"number"` // in the plan, from 1
	Group  string `json:"group"`  // the name of its group
	Stage  int    `json:"stage"`  // in its group, from 1; 0 before the first
	Bolt   string `json:"bolt"`   // empty for a pause
	Do     Action `json:"do"`     // the pull or the pause
	Mark   bool   `json:"mark"`   // mark the bolt and the part under it before the pull
	Spends bool   `json:"spends"` // once this pull has begun, a loosened bolt is scrap
}

// Brief says the step in a few letters, to show large: "+55°".
func (s Step) Brief() string {
	if s.Do.do == nil {
		return s.Do.String()
	}
	return s.Do.do.brief()
}

// String returns the step in words: "12. main 3 left: mark it, then turn 55° further".
func (s Step) String() string {
	text := strconv.Itoa(s.Number) + ". "
	if s.Bolt != "" {
		text += s.Bolt + ": "
	}
	if s.Mark {
		text += "mark it, then "
	}
	return text + s.Do.String()
}

// IsPause reports whether the step is a wait or a check, on no bolt.
func (s Step) IsPause() bool { return s.Bolt == "" }

// A Plan is a whole tightening, laid out step by step. It does not change once
// made, and any number of goroutines may read it.
type Plan struct {
	name   string
	groups []Group
	steps  []Step
	digest string

	ofBolt map[string][]int // the numbers of each bolt's steps
	group  map[string]int   // the index of each group
}

// NewPlan lays out the groups' stages step by step.
//
// The groups are done in the order given, each stage by stage. A stage that is tied to
// another group's is done together with it: right after the last bolt of that stage, and
// before the next step there. The earlier stages of its own group are done before both. A
// group in the order CapByCap is done cap by cap, each with all its stages.
//
// The error joins a *PlanError for each fault.
func NewPlan(name string, groups ...Group) (*Plan, error) {
	p := &Plan{name: name, ofBolt: map[string][]int{}, group: map[string]int{}}
	if err := p.take(groups); err != nil {
		return nil, err
	}
	l := layout{plan: p, orders: map[node][]string{}, tied: map[node][]node{}, done: map[node]bool{}}
	if err := l.run(); err != nil {
		return nil, err
	}
	p.digest = p.sum()
	return p, nil
}

// Name returns the plan's name.
func (p *Plan) Name() string { return p.name }

// Groups returns the plan's groups, as a copy that is the caller's own.
func (p *Plan) Groups() []Group {
	groups := make([]Group, len(p.groups))
	for i, g := range p.groups {
		groups[i] = g.clone()
	}
	return groups
}

// Steps returns every step, the first numbered 1.
func (p *Plan) Steps() []Step { return slices.Clone(p.steps) }

// Step returns the step of that number; ok is false if there is none.
func (p *Plan) Step(number int) (s Step, ok bool) {
	if number < 1 || number > len(p.steps) {
		return Step{}, false
	}
	return p.steps[number-1], true
}

// bolts returns the names of the plan's bolts, group by group.
func (p *Plan) bolts() []string {
	var names []string
	for _, g := range p.groups {
		names = append(names, namesOf(g.Pattern)...)
	}
	return names
}

// StepsOf returns the numbers of a bolt's steps. Ask for every bolt of the engine: a bolt
// missing from the plan, which nobody would tighten, is a *PlanError.
func (p *Plan) StepsOf(bolt string) ([]int, error) {
	steps := p.ofBolt[bolt]
	if steps == nil {
		return nil, (&fault{bolt: bolt, found: "the plan has no such bolt, so nobody would tighten it",
			fix: meant(bolt, p.bolts(), "name one of the plan's bolts, or add it to a group")}).err()
	}
	return slices.Clone(steps), nil
}

// Text returns the plan as lines of text, one for each step, under a heading for
// each stage.
func (p *Plan) Text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s (plan %s)\n", p.name, p.digest[:12])
	last := ""
	for _, s := range p.steps {
		heading := p.heading(s)
		if s.IsPause() && s.Stage > 0 && p.groups[p.group[s.Group]].Order == CapByCap {
			heading = last // it belongs to the cap before it
		}
		if heading != last {
			last = heading
			b.WriteString("\n" + heading + "\n")
		}
		fmt.Fprintf(&b, "  %s\n", s)
	}
	return b.String()
}

// heading returns "main cap bolts, stage 2 of 3", or, of a pull cap by cap, "rod bolts, cap of
// 2a and 2b, stage 1 of 2".
func (p *Plan) heading(s Step) string {
	if s.Stage == 0 {
		return s.Group + ", first"
	}
	g := p.groups[p.group[s.Group]]
	name := s.Group
	if bolts := g.capOf(s.Bolt); bolts != nil {
		name += ", cap of " + listed(bolts)
	}
	text := fmt.Sprintf("%s, stage %d of %d", name, s.Stage, len(g.Stages))
	if stage := g.Stages[s.Stage-1]; stage.tied() {
		text += fmt.Sprintf(", during stage %d of %s", stage.DuringStage, stage.DuringGroup)
	}
	return text
}

// listed returns names as "a, b and c".
func listed(names []string) string {
	last := len(names) - 1
	if last == 0 {
		return names[0]
	}
	return strings.Join(names[:last], ", ") + " and " + names[last]
}

// Cautions returns the warnings to print with the plan.
func (p *Plan) Cautions() []string {
	cautions := []string{
		"The engine maker's manual and licensed practice come first: check every torque, angle and order here against them.",
		"Torque means what the manual says of threads and seats: dry, oiled or with the maker's lubricant. Oil that was not meant raises preload.",
	}
	yielding := slices.ContainsFunc(p.groups, Group.singleUse)
	turning := slices.ContainsFunc(p.steps, func(s Step) bool { return s.Mark })
	if yielding {
		cautions = append(cautions, "A bolt that has been tightened past yield is scrap once it is loosened: never use it again.")
	}
	if turning {
		cautions = append(cautions, "Never turn a bolt whose turn is in doubt: an angle given twice can break it, now or when the engine runs.")
	}
	return append(cautions, "The crank must turn freely by hand after each stage on its caps: if it does not, stop and find out why.")
}

// take checks the groups, one by one, and keeps them.
func (p *Plan) take(groups []Group) error {
	var bad []error
	if len(groups) == 0 {
		bad = append(bad, (&fault{found: "a plan without groups", fix: "give it at least one group of bolts"}).err())
	}
	if e := checkText(p.name); e != nil {
		e.found = "the plan's name has " + e.found
		bad = append(bad, e.err())
	}
	names := namesakes{}
	groupNames := map[string]string{}
	for i, g := range groups {
		if first, taken := groupNames[folded(g.Name)]; taken && first != g.Name {
			bad = append(bad, alike("the groups", g.Name, first).in(g))
		} else if taken {
			bad = append(bad, (&fault{found: "two groups have this name", fix: "rename one"}).in(g))
		}
		groupNames[folded(g.Name)] = g.Name
		p.group[g.Name] = i
		g = g.clone()
		if g.Order == nil {
			g.Order = InsideOut
		}
		bad = append(bad, checkGroup(g, names)...)
		p.groups = append(p.groups, g)
	}
	return errors.Join(bad...)
}

// in returns the fault as an error of a group.
func (f *fault) in(g Group) error {
	f.group = g.Name
	return f.err()
}

// namesakes are the bolts and the parts of a plan by their folded names.
type namesakes map[string]namesake

type namesake struct{ name, group string }

// checkGroup returns what is wrong with a group by itself, and with the names that it
// shares with those before it.
func checkGroup(g Group, names namesakes) (bad []error) {
	fail := func(e *fault) { bad = append(bad, e.in(g)) }
	if e := checkName(g.Name, "a group"); e != nil {
		fail(e)
	}
	if g.On != "" {
		if e := checkName(g.On, "a part"); e != nil {
			fail(e)
		} else if e := names.part("on "+folded(g.On), g.On); e != nil {
			fail(e)
		}
	}
	if len(g.Pattern) == 0 {
		fail(&fault{part: "Pattern", found: "a group without bolts", fix: "name its bolts"})
	}
	if len(g.Stages) == 0 {
		fail(&fault{found: "a group without stages", fix: "say how it is tightened"})
	}
	at := map[[2]int64]string{}
	for _, place := range g.Pattern {
		fail := func(e *fault) {
			e.part, e.bolt = "Pattern", place.Bolt
			fail(e)
		}
		if e := checkPlace(place, at); e != nil {
			fail(e)
			continue
		}
		if e := names.bolt(g, place.Bolt); e != nil {
			fail(e)
		}
		if g.Order == CapByCap && place.Part == "" {
			fail(&fault{found: "its group is done cap by cap, and it belongs to no cap", fix: "set the Part of each bolt, or use Caps"})
		}
		if e := names.part("part of "+g.Name+" "+folded(place.Part), place.Part); e != nil {
			fail(e)
		}
	}
	for _, pause := range g.First {
		if e := checkPause(pause); e != nil {
			e.found = "before the first stage, " + e.found
			fail(e)
		}
	}
	for _, e := range checkStages(g.Stages) {
		fail(e)
	}
	for _, e := range checkUse(g) {
		fail(e)
	}
	return bad
}

// bolt notes a bolt's name, and refuses one that is taken or that people take for another.
func (n namesakes) bolt(g Group, name string) *fault {
	key := "bolt " + folded(name)
	first, taken := n[key]
	n[key] = namesake{name, g.Name}
	switch {
	case !taken:
		return nil
	case first.name != name:
		return alike("the bolts", name, first.name)
	case first.group == g.Name:
		return &fault{found: "named twice in its group", fix: "give each bolt a name of its own"}
	}
	return &fault{found: fmt.Sprintf("also in group %q", first.group), fix: "leave it in one"}
}

// part notes the name of a part, which several bolts may share if they write it alike.
func (n namesakes) part(key, name string) *fault {
	first, taken := n[key]
	if taken && first.name != name {
		return alike("the parts", name, first.name)
	}
	n[key] = namesake{name: name}
	return nil
}

// checkPlace checks a bolt's name, its part's and its position, and notes where it stands.
func checkPlace(place Position, at map[[2]int64]string) *fault {
	e := checkName(place.Bolt, "a bolt")
	if e == nil && place.Part != "" {
		e = checkName(place.Part, "a part")
	}
	if e != nil {
		return e
	}
	most := units.Millimetre.OfInt(farthest)
	if most.Less(place.X.Abs()) || most.Less(place.Y.Abs()) {
		return &fault{found: fmt.Sprintf("it stands at %s, %s", place.X, place.Y),
			fix: "give positions within a kilometre"}
	}
	where := [2]int64{micrometres(place.X), micrometres(place.Y)}
	if other, taken := at[where]; taken && other != place.Bolt {
		return &fault{found: fmt.Sprintf("it stands at %s, %s, where %q stands", place.X, place.Y, other),
			fix: "give each bolt its own position, or use Row, Caps or Circle"}
	}
	at[where] = place.Bolt
	return nil
}

// checkStages returns what is wrong with a group's stages in themselves.
func checkStages(stages []Stage) (bad []*fault) {
	snug, tightened := false, false
	var torque units.Torque // the last one, if nothing has moved the bolt since
	var turned units.Angle  // since the last torque
	for i, stage := range stages {
		fail := func(e *fault) {
			e.stage = i + 1
			bad = append(bad, e)
		}
		if !stage.Pull.pulls() {
			fail(noPull(stage.Pull))
			continue
		}
		if e := stage.Pull.do.check(); e != nil {
			fail(e)
		}
		for _, pause := range stage.Then {
			if e := checkPause(pause); e != nil {
				fail(e)
			}
		}
		switch pull := stage.Pull.do.(type) {
		case Tighten:
			if pull.To.Less(torque) {
				fail(&fault{found: fmt.Sprintf("%s, when the stage before went to %s: the wrench would click at once",
					pull.words(), shown(torque, pull.In)), fix: "raise it, or back the bolts off first"})
			}
			snug, tightened, torque, turned = true, true, pull.To, units.Angle{}
		case Turn:
			if !snug {
				fail(&fault{found: "it turns a bolt that has not been tightened to a torque, so the angle means nothing",
					fix: "put a torque stage before it"})
			}
			if e := pull.checkBeyond(turned); e != nil {
				fail(e)
			}
			tightened, torque, turned = true, units.Torque{}, turned.Add(pull.furthest())
		case BackOff:
			snug, torque, turned = false, units.Torque{}, units.Angle{}
		}
	}
	if tightened && !snug && len(bad) == 0 {
		bad = append(bad, &fault{stage: len(stages),
			found: "the last stage backs off, and the bolts stay loose", fix: "tighten them again after it"})
	}
	return bad
}

// checkPause checks what stands between pulls.
func checkPause(a Action) *fault {
	if !a.pauses() {
		return noPause(a)
	}
	return a.do.check()
}
