package ledger

import (
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/torque"
	"example.com/closefit/units"
)

// A bolt is what is known of a bolt beyond its steps.
type bolt struct {
	moved   bool         // it may have been moved, since it was last free, by more than its done steps say
	torque  units.Torque // that it was given so
	spent   bool         // a pull that spends it may have been begun
	trouble *Trouble     // nil if none
}

// A layout is what progress asks of its plan, group by group.
type layout struct {
	pauses      []int               // the numbers of all waits and checks
	firstChecks map[string][]int    // of each group, the checks before its first stage
	partners    map[string][]string // of each bolt, the others of its group under the same cap
	group       map[string]string   // of each bolt
	singleUse   map[string]bool     // the bolts that a step of theirs spends
}

func newLayout(p *torque.Plan) *layout {
	l := &layout{firstChecks: map[string][]int{}, partners: map[string][]string{}, group: map[string]string{}, singleUse: map[string]bool{}}
	for n := 1; ; n++ {
		s, ok := p.Step(n)
		if !ok {
			break
		}
		if !s.IsPause() {
			if s.Spends {
				l.singleUse[s.Bolt] = true
			}
			continue
		}
		l.pauses = append(l.pauses, n)
		if _, checks := torque.As[torque.Inspection](s.Do); checks && s.Stage == 0 {
			l.firstChecks[s.Group] = append(l.firstChecks[s.Group], n)
		}
	}
	for _, g := range p.Groups() {
		caps := map[string][]string{}
		for _, at := range g.Pattern {
			l.group[at.Bolt] = g.Name
			if at.Part != "" {
				caps[at.Part] = append(caps[at.Part], at.Bolt)
			}
		}
		for _, bolts := range caps {
			for i, name := range bolts {
				l.partners[name] = slices.Concat(bolts[:i], bolts[i+1:])
			}
		}
	}
	return l
}

// laidOut returns the plan's layout, which a walk without a mishap never asks for.
func (p *progress) laidOut() *layout {
	if p.layout == nil {
		p.layout = newLayout(p.plan)
	}
	return p.layout
}

// stand is where a bolt stands, as far as its present fitting goes.
type stand struct {
	steps   []int        // the numbers of its steps
	done    int          // how many of them are done; they are the first
	touched bool         // it may have been pulled since it was free
	torque  units.Torque // the greatest that it has certainly had since it was free, or backed off by an angle
	turned  bool         // it has been turned by an angle since it was free
	spent   bool
}

// standOf works out where a bolt of the plan stands.
func (p *progress) standOf(name string) (s stand) {
	s.steps, _ = p.plan.StepsOf(name)
	for _, n := range s.steps {
		if p.status[n-1] != Done {
			continue
		}
		s.done++
		step := p.step(n)
		s.spent = s.spent || step.Spends
		switch kindOf(step.Do) {
		case tightens:
			s.touched, s.torque = true, units.Max(s.torque, torqueOf(step.Do))
		case turns:
			s.touched, s.turned = true, true
		case backsOffBy:
			s.torque = units.Torque{}
		case frees:
			s.touched, s.torque, s.turned = false, units.Torque{}, false
		}
	}
	if b := p.bolts[name]; b != nil {
		s.touched, s.spent, s.torque = s.touched || b.moved, s.spent || b.spent, units.Max(s.torque, b.torque)
	}
	return s
}

// kindOf returns what an action does.
func kindOf(a torque.Action) pullKinds {
	if _, ok := torque.As[torque.Tighten](a); ok {
		return tightens
	}
	if _, ok := torque.As[torque.Turn](a); ok {
		return turns
	}
	if b, ok := torque.As[torque.BackOff](a); ok && b.By.IsZero() {
		return frees
	} else if ok {
		return backsOffBy
	}
	if _, ok := torque.As[torque.Wait](a); ok {
		return waits
	}
	return checks
}

// torqueOf returns the torque of a Tighten, and angleOf the angle of a Turn; zero of any
// other.
func torqueOf(a torque.Action) units.Torque {
	t, _ := torque.As[torque.Tighten](a)
	return t.To
}

func angleOf(a torque.Action) units.Angle {
	t, _ := torque.As[torque.Turn](a)
	return t.By
}

// use returns whether a bolt may be used again.
func use(isSpent bool) reuse {
	if isSpent {
		return spent
	}
	return reusable
}

// ruleOf returns the row for a mishap with a step, the bolt that it falls on, and the pull
// that this was given.
func (p *progress) ruleOf(m Mishap, step torque.Step, o other) (r rule, name string, given torque.Action) {
	name, given = step.Bolt, step.Do
	switch m {
	case NotMoved, PartWay, Slipped, TooFar:
		return ruleFor(m, kindOf(given), anywhere, use(step.Spends || name != "" && p.standOf(name).spent)), name, given
	case WrongBolt:
		if step.IsPause() {
			return ruleFor(m, kindOf(given), anywhere, reusable), name, given
		}
		return p.ruleForGiven(o.Bolt, given), o.Bolt, given
	case WrongStep:
		did := p.step(o.Instead)
		name, given = did.Bolt, did.Do
		if did.IsPause() {
			return ruleFor(m, kindOf(given), anywhere, reusable), name, given
		}
		at := p.standOf(name)
		where := notNext
		if at.done < len(at.steps) && at.steps[at.done] == o.Instead {
			where = isNext
		}
		if r = ruleFor(m, kindOf(given), where, use(at.spent)); r.asFor != 0 {
			return p.ruleForGiven(name, given), name, given
		}
		return r, name, given
	}
	where, isSpent := latest, false
	if !step.IsPause() {
		at := p.standOf(name)
		isSpent = at.spent
		if at.steps[at.done-1] != step.Number {
			where = followed
		}
	}
	return ruleFor(m, kindOf(given), where, use(isSpent)), name, given
}

// ruleForGiven returns the row for a pull that was given to a bolt for which it was not meant.
func (p *progress) ruleForGiven(name string, pull torque.Action) rule {
	at := p.standOf(name)
	switch kind := kindOf(pull); kind {
	case tightens:
		return ruleFor(WrongBolt, kind, p.torqueStands(at, torqueOf(pull)), use(at.spent || p.spendsAt(at, torqueOf(pull))))
	case turns:
		where := beyond
		if !at.turned && !p.turnAhead(at).Less(angleOf(pull)) {
			where = within
		}
		return ruleFor(WrongBolt, kind, where, use(at.spent || p.laidOut().singleUse[name]))
	default:
		where := untouched
		if at.touched {
			where = pulled
		}
		return ruleFor(WrongBolt, kind, where, use(at.spent))
	}
}

// torqueStands says how a torque compares with what a bolt has had and its plan gives it.
func (p *progress) torqueStands(at stand, to units.Torque) standing {
	if at.turned {
		return turned
	}
	if !at.torque.Less(to) || at.done < len(at.steps) && !torqueOf(p.step(at.steps[at.done]).Do).Less(to) {
		return noFurther
	}
	var most units.Torque
	for _, n := range at.steps {
		step := p.step(n)
		most = units.Max(most, torqueOf(step.Do))
		if step.Spends {
			break
		}
	}
	if most.Less(to) {
		return beyond
	}
	return further
}

// spendsAt reports whether a torque spends a bolt that is single use by torque alone.
func (p *progress) spendsAt(at stand, to units.Torque) bool {
	return slices.ContainsFunc(at.steps, func(n int) bool {
		step := p.step(n)
		return step.Spends && kindOf(step.Do) == tightens && !to.Less(torqueOf(step.Do))
	})
}

// turnAhead returns the angle that a bolt is still to be turned by before it is backed off.
func (p *progress) turnAhead(at stand) (sum units.Angle) {
	for _, n := range at.steps[at.done:] {
		step := p.step(n)
		if kind := kindOf(step.Do); kind == backsOffBy || kind == frees {
			break
		}
		sum = sum.Add(angleOf(step.Do))
	}
	return sum
}

// checkMishap checks a mishap.
func (p *progress) checkMishap(h happening, m Mishap) error {
	step, at, err := p.stepNamed(h)
	if err != nil {
		return err
	}
	after := m == TooSoonNotMoved || m == TooSoonPartWay
	switch status := p.status[h.step-1]; {
	case after && status != Done && status != Skipped:
		return at.fail(ErrRefused, "the step is not said to be done", "say of a step that is begun what went wrong with it; else there is nothing to take back")
	case after && p.open != 0:
		return p.busy(at)
	case !after && status != Begun:
		return at.fail(ErrRefused, "the step is not begun", `of a step that is done, say "too soon"; else there is nothing to say`)
	}
	var o other
	if h.detail != "" {
		if o, err = detailOf[other](h); err != nil {
			return err
		}
		if o == (other{}) {
			return at.fail(ErrRefused, "a detail that names nothing", "record it without")
		}
	}
	if err := p.checkOtherNamed(step, m, o, at); err != nil {
		return err
	}
	if r, _, _ := p.ruleOf(m, step, o); r.then == refused {
		return at.fail(ErrRefused, fmt.Sprintf("%q cannot be said of it: %s", m, r.why), "say what else happened")
	}
	return nil
}

// checkOtherNamed checks that the bolt or the step that was pulled instead is named where it
// has to be, and nowhere else.
func (p *progress) checkOtherNamed(step torque.Step, m Mishap, o other, at spot) error {
	switch {
	case m != WrongBolt && o.Bolt != "":
		return at.fail(ErrRefused, fmt.Sprintf("%q names the bolt %q", m, o.Bolt), "name another bolt only where it was pulled instead")
	case m != WrongStep && o.Instead != 0:
		return at.fail(ErrRefused, fmt.Sprintf("%q names the step %d", m, o.Instead), "name another step only where it was done instead")
	case m == WrongBolt && o.Bolt == "":
		return at.fail(ErrRefused, "the bolt that was pulled is not named", "name it")
	case m == WrongBolt && o.Bolt == step.Bolt:
		return at.fail(ErrRefused, "the bolt that was pulled is the step's own", "name the other one, or say that the step is done")
	case m == WrongBolt:
		if _, err := p.plan.StepsOf(o.Bolt); err != nil {
			return fault{kind: ErrNotInPlan, bolt: o.Bolt, found: "the plan has no such bolt", fix: fixOf(err) + `; if it is none of them, say "not moved", and note what was pulled`}.err()
		}
	case m == WrongStep && o.Instead == 0:
		return at.fail(ErrRefused, "the step that was done is not named", "name its number")
	case m == WrongStep && o.Instead == step.Number:
		return at.fail(ErrRefused, "the step that was done is this one", "name the other one, or say that this is done")
	case m == WrongStep:
		if _, ok := p.plan.Step(o.Instead); !ok {
			return fault{kind: ErrNotInPlan, found: fmt.Sprintf("the plan has no step %d", o.Instead), fix: fmt.Sprintf("name a step from 1 to %d", len(p.status))}.err()
		}
	}
	return nil
}

// fixOf returns what a plan's error says to write instead.
func fixOf(err error) string {
	if e, ok := err.(*torque.PlanError); ok {
		return e.Err.Fix
	}
	return "name one of the plan's bolts"
}

// mishap makes a mishap happen.
func (p *progress) mishap(h happening, m Mishap) {
	var o other
	if h.detail != "" {
		o, _ = detailOf[other](h)
	}
	step := p.step(h.step)
	r, name, given := p.ruleOf(m, step, o)
	after := p.open != h.step
	if !after {
		p.end(h.step, Pending)
	}
	if r.tool {
		p.slipped, p.slippedIn = true, h.step
	}
	said := fmt.Sprintf("Step %d, %s: %s", h.step, step.Do, m)
	number := h.step
	switch m {
	case WrongBolt:
		said, number = fmt.Sprintf("It was given the pull of step %d, %s", h.step, given), 0
	case WrongStep:
		said, number = fmt.Sprintf("Step %d was done to it instead of step %d", o.Instead, h.step), 0
	}
	switch r.then {
	case nothing:
		if kindOf(given) == tightens {
			b := p.boltOf(name)
			b.moved, b.torque = true, units.Max(b.torque, torqueOf(given))
			b.spent = b.spent || p.spendsAt(p.standOf(name), b.torque)
		}
	case again:
		if m != NotMoved && m != TooSoonNotMoved && kindOf(given) == tightens {
			b := p.boltOf(name)
			b.moved, b.spent = true, b.spent || step.Spends
		}
		if after {
			p.again(h.step)
			if kindOf(given)&(frees|backsOffBy) != 0 {
				p.boltOf(name).moved = true // what it had before is not known any more, and it was not freed
			}
		}
	case counts:
		p.set(o.Instead, Done)
		p.freed(p.step(o.Instead))
	case backOff, scrap:
		p.trouble(name, Trouble{Step: number, Scrap: r.then == scrap, Why: said + ": " + r.why})
	}
	if after && !step.IsPause() {
		p.missed(step)
	}
}

// missed puts the partners of a bolt in trouble that were pulled in a later stage while it
// had not had this one: the cap was drawn down askew.
func (p *progress) missed(step torque.Step) {
	for _, name := range p.laidOut().partners[step.Bolt] {
		at := p.standOf(name)
		if at.done > 0 && p.step(at.steps[at.done-1]).Stage > step.Stage {
			p.partner(name, fmt.Sprintf("It had a later stage while %s, under the same cap, had not had stage %d", step.Bolt, step.Stage))
		}
	}
}

// partner gives a bolt what becomes of it for the sake of another under the same cap.
func (p *progress) partner(name, said string) {
	at := p.standOf(name)
	where := untouched
	if at.touched {
		where = pulled
	}
	if r := ruleFor(partner, noPull, where, use(at.spent)); r.then != nothing {
		p.trouble(name, Trouble{Scrap: r.then == scrap, Stays: true, Why: said + ": " + r.why})
	}
}

// doubt puts a bolt in doubt. A step of its own that is begun is begun no longer.
func (p *progress) doubt(name, why string) {
	if p.open != 0 && p.step(p.open).Bolt == name {
		p.end(p.open, Pending)
	}
	at := p.standOf(name)
	r := ruleFor(unknown, noPull, anywhere, use(at.spent || p.laidOut().singleUse[name]))
	p.trouble(name, Trouble{Scrap: r.then == scrap, Why: why + ": " + r.why})
}

// boltOf returns what is known of a bolt beyond its steps.
func (p *progress) boltOf(name string) *bolt {
	b := p.bolts[name]
	if b == nil {
		b = &bolt{}
		p.bolts[name] = b
	}
	return b
}

// trouble puts a bolt in trouble. If it is in trouble already, the worse stays.
func (p *progress) trouble(name string, t Trouble) {
	t.Bolt = name
	b := p.boltOf(name)
	b.moved, b.spent = true, b.spent || t.Scrap
	switch was := b.trouble; {
	case was == nil:
		p.troubled = append(p.troubled, name)
	case was.Scrap || !t.Scrap:
		was.Stays = was.Stays && t.Stays
		return
	default:
		t.Stays = t.Stays && was.Stays
	}
	b.trouble = &t
}

// troubles returns the bolts in trouble with what to do, and the tool last.
func (p *progress) troubles() []Trouble {
	var all []Trouble
	for _, name := range p.troubled {
		t := *p.bolts[name].trouble
		t.Advice = p.advice(t)
		all = append(all, t)
	}
	if p.slipped {
		all = append(all, Trouble{Step: p.slippedIn, Why: "The tool slipped, or clicked early",
			Advice: "Check the tool or take another, and say which is used now. Think of the pulls that it made since it was last checked: say of each that is in doubt that it was said done too soon."})
	}
	return all
}

// advice says what to do with a bolt in trouble.
func (p *progress) advice(t Trouble) string {
	text := fmt.Sprintf("Back %s off until it turns freely and say that it was loosened. Its stages then begin again with the first.", t.Bolt)
	if t.Scrap {
		text = fmt.Sprintf("Do not turn %s further. Back it off and scrap it; fit a new bolt and say that it was replaced. Its stages then begin again.", t.Bolt)
	}
	if t.Stays {
		return text + " If the maker's manual lets it stay, say so, with who and why."
	}
	var also []string
	for _, name := range p.laidOut().partners[t.Bolt] {
		if p.standOf(name).touched {
			also = append(also, name)
		}
	}
	if len(also) > 0 {
		text += fmt.Sprintf(" The others under the same cap come next: %s.", strings.Join(also, ", "))
	}
	return text
}

// settle ends the trouble of a bolt.
func (p *progress) settle(name string) {
	p.boltOf(name).trouble = nil
	p.troubled = slices.DeleteFunc(p.troubled, func(n string) bool { return n == name })
}

// checkBolt checks what happens to a bolt by itself.
func (p *progress) checkBolt(h happening) error {
	at := spot{bolt: h.bolt}
	if h.step != 0 {
		return fault{kind: ErrRefused, step: h.step, bolt: h.bolt, found: fmt.Sprintf("%q is of no step", h.event), fix: "name the bolt alone"}.err()
	}
	if _, err := p.plan.StepsOf(h.bolt); err != nil {
		return at.fail(ErrNotInPlan, "the plan has no such bolt", fixOf(err))
	}
	if p.open != 0 && p.step(p.open).Bolt != h.bolt && h.event != doubt {
		return p.busy(at)
	}
	b := p.bolts[h.bolt]
	inTrouble := b != nil && b.trouble != nil
	switch h.event {
	case doubt:
		return checkNote(h.detail)
	case keep:
		if !inTrouble || !b.trouble.Stays {
			return at.fail(ErrRefused, "there is nothing about it that somebody's word could settle", "keep only a bolt whose partner under the same cap was loosened or replaced")
		}
		w, err := detailOf[Word](h)
		if err != nil {
			return err
		}
		return w.check()
	}
	if h.detail != "" {
		return at.fail(ErrRefused, fmt.Sprintf("%q has no detail", h.event), "record it without")
	}
	if h.event == loosen {
		switch {
		case inTrouble && b.trouble.Scrap:
			return at.fail(ErrRefused, "it is scrap: "+b.trouble.Why, "fit a new bolt and say that it was replaced")
		case p.standOf(h.bolt).spent, p.open != 0 && p.step(p.open).Spends:
			return at.fail(ErrRefused, "it is a single-use bolt that has been pulled to the full and cannot be used again", "fit a new bolt and say that it was replaced")
		}
	}
	return nil
}

// refit makes a bolt free, and new if so: all its steps are pending, and so are the pauses
// since the first of them; a new bolt is asked of anew before its group's first stage. Its
// partners under the same cap may have lost what they held.
func (p *progress) refit(name string, isNew bool) {
	at := p.standOf(name)
	begun := p.open != 0 && p.step(p.open).Bolt == name
	if begun {
		p.end(p.open, Pending)
	}
	p.settle(name)
	delete(p.bolts, name)
	for _, n := range at.steps {
		if p.status[n-1] != Pending {
			p.set(n, Pending)
		}
	}
	if isNew {
		p.replaced[name] = true
		for _, n := range p.laidOut().firstChecks[p.laidOut().group[name]] {
			p.set(n, Pending)
		}
	}
	if !at.touched && at.done == 0 && !begun {
		return
	}
	p.pausesAgain(at.steps[0])
	for _, other := range p.laidOut().partners[name] {
		how := "backed off"
		if isNew {
			how = "replaced"
		}
		p.partner(other, fmt.Sprintf("%s, under the same cap, was %s", name, how))
	}
}

// freed forgets what a bolt had beyond its steps once it was backed off by its plan.
func (p *progress) freed(step torque.Step) {
	b := p.bolts[step.Bolt]
	if b == nil {
		return
	}
	switch kindOf(step.Do) {
	case frees:
		b.moved, b.torque = false, units.Torque{}
	case backsOffBy:
		b.torque = units.Torque{}
	}
}
