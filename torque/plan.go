package torque

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/closefit/units"
)

// A Group is bolts that are tightened alike.
type Group struct {
	Name     string  // unique in the plan
	Pattern  Pattern // its bolts
	Order    Order   // the order to pull them in; InsideOut if nil
	Stages   []Stage // what is done to each bolt, in order
	Yielding bool    // the turn takes the bolts past yield: each is used once
	On       string  // the part they stand on; groups on one part share a drawing
	First    []Pause // what must be so before the first stage: "oil the threads"
}

// A Stage is one pull given to every bolt of a group once, before the next stage
// begins.
type Stage struct {
	Pull   Pull
	Order  Order   // if not that of the group
	During Tie     // the stage of another group during which this one is done
	Then   []Pause // what is waited for or checked once the stage is done
}

// A Tie names a stage of a group. The zero Tie names none.
type Tie struct {
	Group string
	Stage int // from 1
}

// A Step is one numbered thing to do: a pull on one bolt, or a pause.
type Step struct {
	Number int    // in the plan, from 1
	Group  string // the name of its group
	Stage  int    // in its group, from 1; 0 before the first
	Bolt   string // empty for a pause
	Do     Action
	Mark   bool // mark the bolt and what it stands on before the pull
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
	pauses []int            // the numbers of the pauses
	group  map[string]int   // the index of each group
}

// NewPlan lays out the groups' stages step by step.
//
// The groups are done in the order given, each stage by stage. A stage that is tied
// to another group's is done together with it: right after the last bolt of that
// stage has been pulled, and before what follows there. What a stage has to wait
// for is done before it.
//
// The error joins a *PlanError for everything that is wrong.
func NewPlan(name string, groups ...Group) (*Plan, error) {
	p := &Plan{name: name, ofBolt: map[string][]int{}, group: map[string]int{}}
	if err := p.take(groups); err != nil {
		return nil, err
	}
	l := layout{plan: p, orders: map[node][]string{}, tied: map[node][]node{}, state: map[node]state{}}
	if err := l.run(); err != nil {
		return nil, err
	}
	p.digest = p.sum()
	return p, nil
}

// Name returns the plan's name.
func (p *Plan) Name() string { return p.name }

// Groups returns the plan's groups.
func (p *Plan) Groups() []Group { return slices.Clone(p.groups) }

// Steps returns every step, the first numbered 1.
func (p *Plan) Steps() []Step { return slices.Clone(p.steps) }

// Len returns how many steps there are.
func (p *Plan) Len() int { return len(p.steps) }

// Step returns the step of that number; ok is false if there is none.
func (p *Plan) Step(number int) (s Step, ok bool) {
	if number < 1 || number > len(p.steps) {
		return Step{}, false
	}
	return p.steps[number-1], true
}

// groupOf returns the group of a step.
func (p *Plan) groupOf(s Step) Group { return p.groups[p.group[s.Group]] }

// Covers returns nil if the plan has every one of the bolts. The error joins a
// *PlanError that wraps ErrOnNoGroup for each bolt that it has not.
func (p *Plan) Covers(bolts []string) error {
	var bad []error
	for _, b := range bolts {
		if p.ofBolt[b] == nil {
			bad = append(bad, &PlanError{Kind: ErrOnNoGroup, Bolt: b, What: "on no group, so nobody would tighten it",
				Fix: "name it in a group"})
		}
	}
	return errors.Join(bad...)
}

// Digest returns what identifies the plan: 64 hexadecimal digits that are the same
// for two plans with the same steps, and for no others.
func (p *Plan) Digest() string { return p.digest }

// Text returns the plan as lines of text, one for each step, under a heading for
// each stage.
func (p *Plan) Text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s (plan %s)\n", p.name, p.digest[:12])
	group, stage := "", -1
	for _, s := range p.steps {
		if s.Group != group || s.Stage != stage {
			group, stage = s.Group, s.Stage
			b.WriteString("\n" + p.heading(s) + "\n")
		}
		fmt.Fprintf(&b, "  %s\n", s)
	}
	return b.String()
}

// heading returns "main cap bolts, stage 2 of 3".
func (p *Plan) heading(s Step) string {
	if s.Stage == 0 {
		return s.Group + ", first"
	}
	g := p.groupOf(s)
	text := fmt.Sprintf("%s, stage %d of %d", s.Group, s.Stage, len(g.Stages))
	if tie := g.Stages[s.Stage-1].During; tie != (Tie{}) {
		text += fmt.Sprintf(", during stage %d of %s", tie.Stage, tie.Group)
	}
	return text
}

// Cautions returns what must be said with the plan.
func (p *Plan) Cautions() []string {
	cautions := []string{
		"The engine maker's manual and licensed practice come first: check every torque, angle and order here against them.",
		"Torque means what the manual says of threads and seats: dry, oiled or with the maker's lubricant. Oil that was not meant raises preload.",
	}
	yielding := slices.ContainsFunc(p.groups, func(g Group) bool { return g.Yielding })
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
		bad = append(bad, &PlanError{Kind: ErrNoGroups, Fix: "give it at least one group of bolts"})
	}
	if err := checkText(p.name); err != nil {
		bad = append(bad, &PlanError{Kind: ErrName, What: "the plan's name has " + err.Error()})
	}
	owner := map[string]string{}
	for i, g := range groups {
		if _, taken := p.group[g.Name]; taken {
			bad = append(bad, &PlanError{Kind: ErrName, Group: g.Name, What: "two groups have this name", Fix: "rename one"})
		}
		p.group[g.Name] = i
		g.Pattern, g.Stages = slices.Clone(g.Pattern), slices.Clone(g.Stages)
		if g.Order == nil {
			g.Order = InsideOut{}
		}
		bad = append(bad, checkGroup(g, owner)...)
		p.groups = append(p.groups, g)
	}
	return errors.Join(bad...)
}

// checkGroup returns what is wrong with a group by itself. The owner of each bolt
// is noted.
func checkGroup(g Group, owner map[string]string) (bad []error) {
	fail := func(e *PlanError) {
		e.Group = g.Name
		bad = append(bad, e)
	}
	if strings.TrimSpace(g.Name) == "" {
		fail(&PlanError{Kind: ErrName, What: "a group without a name", Fix: "name it, so that its steps can be told from others'"})
	} else if err := checkText(g.Name + g.On); err != nil {
		fail(&PlanError{Kind: ErrName, What: err.Error()})
	}
	if len(g.Pattern) == 0 {
		fail(&PlanError{Kind: ErrNoBolts, Fix: "name its bolts"})
	}
	if len(g.Stages) == 0 {
		fail(&PlanError{Kind: ErrNoStages, Fix: "say how it is tightened"})
	}
	at := map[[2]int64]string{}
	for _, place := range g.Pattern {
		if e := checkPlace(place, at); e != nil {
			fail(e)
			continue
		}
		if first, taken := owner[place.Bolt]; taken {
			e := &PlanError{Kind: ErrTwice, Bolt: place.Bolt, What: fmt.Sprintf("also in group %q", first), Fix: "leave it in one"}
			if first == g.Name {
				e.What, e.Fix = "named twice in its group", "give each bolt a name of its own"
			}
			fail(e)
		}
		owner[place.Bolt] = g.Name
	}
	for _, pause := range g.First {
		if pause == nil {
			fail(&PlanError{Kind: ErrAction, What: "an empty pause before the first stage", Fix: "take it out"})
		} else if err := pause.check(); err != nil {
			fail(&PlanError{Kind: ErrAction, What: "before the first stage, " + err.Error()})
		}
	}
	for _, e := range checkStages(g.Stages) {
		fail(e)
	}
	return bad
}

// checkPlace checks a bolt's name and position, and notes where it stands.
func checkPlace(place Place, at map[[2]int64]string) *PlanError {
	if strings.TrimSpace(place.Bolt) == "" {
		return &PlanError{Kind: ErrName, What: "a bolt without a name", Fix: "name it"}
	}
	if err := checkText(place.Bolt); err != nil {
		return &PlanError{Kind: ErrName, Bolt: place.Bolt, What: err.Error()}
	}
	most := units.Millimetre.OfInt(farthest)
	if most.Less(place.X.Abs()) || most.Less(place.Y.Abs()) {
		return &PlanError{Kind: ErrPosition, Bolt: place.Bolt, What: fmt.Sprintf("it stands at %s, %s", place.X, place.Y),
			Fix: "give positions within a kilometre"}
	}
	where := [2]int64{micrometres(place.X), micrometres(place.Y)}
	if other, taken := at[where]; taken && other != place.Bolt {
		return &PlanError{Kind: ErrPosition, Bolt: place.Bolt, What: fmt.Sprintf("it stands at %s, %s, where %q stands", place.X, place.Y, other),
			Fix: "give each bolt its own position, or use Row, Caps or Circle"}
	}
	at[where] = place.Bolt
	return nil
}

// checkStages returns what is wrong with a group's stages in themselves.
func checkStages(stages []Stage) (bad []*PlanError) {
	snug, tightened := false, false
	var torque units.Torque // the last one, if nothing has moved the bolt since
	for i, stage := range stages {
		fail := func(kind error, what, fix string) {
			bad = append(bad, &PlanError{Kind: kind, Stage: i + 1, What: what, Fix: fix})
		}
		if stage.Pull == nil {
			fail(ErrAction, "it does nothing", "give it a Tighten, a Turn or a BackOff")
			continue
		}
		if err := stage.Pull.check(); err != nil {
			fail(ErrAction, err.Error(), "")
		}
		for _, pause := range stage.Then {
			if pause == nil {
				fail(ErrAction, "an empty pause after it", "take it out")
			} else if err := pause.check(); err != nil {
				fail(ErrAction, err.Error(), "")
			}
		}
		switch pull := stage.Pull.(type) {
		case Tighten:
			if pull.To.Less(torque) {
				fail(ErrNotRising, fmt.Sprintf("%s, when the stage before went to %s: the wrench would click at once",
					pull, shown(torque, pull.In)), "raise it, or back the bolts off first")
			}
			snug, tightened, torque = true, true, pull.To
		case Turn:
			if !snug {
				fail(ErrNotSnug, "it turns a bolt that has not been tightened to a torque, so the angle means nothing",
					"put a torque stage before it")
			}
			tightened, torque = true, units.Torque{}
		case BackOff:
			snug, torque = false, units.Torque{}
		}
	}
	if tightened && !snug && len(bad) == 0 {
		bad = append(bad, &PlanError{Kind: ErrLeftLoose, Stage: len(stages),
			What: "the last stage backs off, and the bolts stay loose", Fix: "tighten them again after it"})
	}
	return bad
}

// sum returns the digest: the SHA-256 of every step with every digit of its
// quantities, and of what decides what to do about a bolt in doubt.
func (p *Plan) sum() string {
	b := make([]byte, 0, 64*len(p.steps))
	line := func(fields ...string) {
		for _, f := range fields {
			b = append(append(b, f...), '\t')
		}
		b = append(b, '\n')
	}
	line("closefit tightening plan 1", p.name)
	for _, g := range p.groups {
		line("group", g.Name, strconv.FormatBool(g.Yielding))
	}
	var last Step
	var exact, stage string
	for _, s := range p.steps {
		if s.IsPause() || last.IsPause() || s.Group != last.Group || s.Stage != last.Stage {
			exact, stage = s.Do.exact(), strconv.Itoa(s.Stage)
		}
		last = s
		line("step", s.Group, stage, s.Bolt, exact)
	}
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:])
}
