package ledger

import (
	"cmp"
	"crypto/sha256"
	"fmt"
	"maps"
	"slices"
	"strings"

	"example.com/closefit/torque"
	"example.com/closefit/units"
)

// A Choice is what becomes of a bolt whose pulls are others in a corrected plan. It travels as
// its words.
type Choice uint8

const (
	Leave   Choice = iota + 1 // what was done stands for its new pulls, which count as done
	Finish                    // its new pulls go on from the first that differs
	BackOff                   // it was backed off until it turns freely; its new pulls begin
	Replace                   // a new bolt was fitted; its new pulls begin
)

var choiceWords = [...]string{Leave: "leave", Finish: "finish", BackOff: "back off", Replace: "replace"}

// String returns the choice in words.
func (c Choice) String() string {
	if c < Leave || c > Replace {
		return "no choice"
	}
	return choiceWords[c]
}

// MarshalText returns the words of String. A number that is no Choice is an error.
func (c Choice) MarshalText() ([]byte, error) {
	if c < Leave || c > Replace {
		return nil, &units.Error{Kind: units.ErrNotWritten, Where: "choice", Found: fmt.Sprintf("Choice(%d)", c), Fix: "take one of Leave to Replace"}
	}
	return []byte(c.String()), nil
}

// UnmarshalText reads the words of String.
func (c *Choice) UnmarshalText(text []byte) error {
	for known := Leave; known <= Replace; known++ {
		if known.String() == string(text) {
			*c = known
			return nil
		}
	}
	return &units.Error{Kind: units.ErrNotWritten, Where: "choice", Found: fmt.Sprintf("%.40q", text), Fix: fmt.Sprintf("write one of %q", choiceWords[Leave:])}
}

// A Change is a bolt of which what was done is not the beginning of what a corrected plan
// asks, with what can be done.
type Change struct {
	Bolt    string   `json:"bolt"`
	Was     string   `json:"was"` // what was done to it; empty if the old plan does not have it
	Is      string   `json:"is"`  // all that the new plan asks; empty if the new plan does not have it
	Choices []Choice `json:"choices"`
	Left    int      `json:"left"` // how many of the new pulls count as done where Leave is chosen
}

// UnmarshalJSON reads {"bolt":…,"was":…,"is":…,"choices":[…]}.
func (c *Change) UnmarshalJSON(data []byte) error {
	type change Change
	return units.DecodeObject(data, (*change)(c))
}

// revision is the detail of revise.
type revision struct {
	Plan    *torque.Plan      `json:"plan"`
	Choices map[string]Choice `json:"choices"`
	By      string            `json:"by"`
	Reason  string            `json:"reason"`
}

// longestRevision bounds the detail of revise, in bytes.
const longestRevision = 15 << 20

// revises is the record of a corrected plan.
func revises(plan *torque.Plan, choices map[string]Choice, w Word) happening {
	if choices == nil {
		choices = map[string]Choice{}
	}
	for _, c := range choices {
		if _, err := c.MarshalText(); err != nil {
			return happening{event: revise} // which check refuses
		}
	}
	return happening{event: revise, detail: compact(revision{plan, choices, w.By, w.Reason})}
}

// changes returns the bolts of which a choice has to be made, in the order of the plans.
func (p *progress) changes(plan *torque.Plan) []Change {
	var all []Change
	for _, b := range p.lay(plan) {
		if b.choices != nil {
			all = append(all, b.change(p))
		}
	}
	return all
}

// checkRevision checks a corrected plan and the choices made for it.
func (p *progress) checkRevision(h happening) error {
	fail := func(found, fix string) error { return fault{kind: ErrRefused, found: found, fix: fix}.err() }
	if p.open != 0 {
		return p.busy(spot{})
	}
	if len(h.detail) > longestRevision {
		return fail(fmt.Sprintf("a plan of %d bytes", len(h.detail)), fmt.Sprintf("give one of at most %d", longestRevision))
	}
	r, err := detailOf[revision](h)
	if err != nil {
		return err
	}
	if r.Plan == nil {
		return fail("no corrected plan", "give the plan")
	}
	if err := (Word{r.By, r.Reason}).check(); err != nil {
		return err
	}
	asked := map[string]bool{}
	for _, c := range p.changes(r.Plan) {
		asked[c.Bolt] = true
		choice, made := r.Choices[c.Bolt]
		may := fmt.Sprintf("choose one of %v for it", c.Choices)
		switch {
		case !made:
			return fault{kind: ErrRefused, bolt: c.Bolt, found: fmt.Sprintf("it had %q, the corrected plan asks %q, and nobody said what becomes of it", c.Was, c.Is), fix: may}.err()
		case !slices.Contains(c.Choices, choice):
			return fault{kind: ErrRefused, bolt: c.Bolt, found: fmt.Sprintf("it had %q, the corrected plan asks %q, and %q is not possible", c.Was, c.Is, choice), fix: may}.err()
		}
	}
	for _, name := range slices.Sorted(maps.Keys(r.Choices)) {
		if !asked[name] {
			return fault{kind: ErrRefused, bolt: name, found: "there is nothing to choose for it", fix: "leave it out"}.err()
		}
	}
	return nil
}

// A carried is a bolt as it goes from one plan to a corrected one.
type carried struct {
	old, new string   // its name; empty in a plan that does not have it
	had      stand    // in the old plan
	choices  []Choice // that somebody has to make one of; nil if it carries over by itself
	done     int      // how many of its new pulls are done if it carries over
	left     int      // how many, if it is left
	differs  int      // the first of its new pulls that is not as the old one
	is       []torque.Action
}

// change says what somebody has to decide.
func (c carried) change(p *progress) Change {
	text := func(pulls []torque.Action) string {
		words := make([]string, len(pulls))
		for i, a := range pulls {
			words[i] = a.String()
		}
		return strings.Join(words, ", ")
	}
	ch := Change{Bolt: cmp.Or(c.new, c.old), Is: text(c.is), Choices: c.choices, Left: c.left}
	if c.old != "" {
		ch.Was = text(pullsOf(p.plan, c.old)[:c.had.done])
		if t := p.troubleOf(c.old); t != nil {
			ch.Was = strings.TrimPrefix(ch.Was+"; in doubt", "; ")
		} else if c.had.touched && c.had.done == 0 {
			ch.Was = "pulled out of its turn"
		}
	}
	return ch
}

// troubleOf returns the trouble of a bolt, nil if it is in none.
func (p *progress) troubleOf(name string) *Trouble {
	if b := p.bolts[name]; b != nil {
		return b.trouble
	}
	return nil
}

// pullsOf returns the pulls of a bolt in order; none if the plan does not have it.
func pullsOf(plan *torque.Plan, name string) []torque.Action {
	numbers, err := plan.StepsOf(name)
	if err != nil {
		return nil
	}
	pulls := make([]torque.Action, len(numbers))
	for i, n := range numbers {
		step, _ := plan.Step(n)
		pulls[i] = step.Do
	}
	return pulls
}

// exactly returns what a pull does to a bolt, with every digit: not the unit that it is
// printed in, nor the words that let it be high.
func exactly(a torque.Action) string {
	if t, ok := torque.As[torque.Tighten](a); ok {
		return "tighten " + t.To.Exact() + " in " + t.Within.Exact()
	}
	if t, ok := torque.As[torque.Turn](a); ok {
		return "turn " + t.By.Exact() + " in " + t.Within.Exact()
	}
	if b, ok := torque.As[torque.BackOff](a); ok {
		return "back off " + b.By.Exact()
	}
	return compact(a)
}

func sameExactly(a, b torque.Action) bool { return exactly(a) == exactly(b) }

func sameKind(a, b torque.Action) bool { return kindOf(a) == kindOf(b) }

// isTurn reports whether a pull turns a bolt by an angle.
func isTurn(a torque.Action) bool { return kindOf(a) == turns }

// names returns the bolts of a plan in its order.
func names(plan *torque.Plan) []string {
	var all []string
	for _, g := range plan.Groups() {
		for _, at := range g.Pattern {
			all = append(all, at.Bolt)
		}
	}
	return all
}

// lay lays a corrected plan against what is done, bolt by bolt: those of the old plan, and
// then those that it does not have. Names that differ by case or blanks alone are of one bolt.
//
// Where a bolt that was pulled is not in the corrected plan, a bolt that only this has may be
// the same by another name. Somebody has to say whether it is. It may be left only if a bolt that
// is gone was given all its pulls: left, it counts as given all of its new ones.
func (p *progress) lay(plan *torque.Plan) []carried {
	byName := map[string]string{}
	for _, name := range names(plan) {
		byName[torque.Folded(name)] = name
	}
	var all []carried
	gone, goneSpent, goneWhole := false, false, false
	for _, name := range names(p.plan) {
		c := carried{old: name, new: byName[torque.Folded(name)], had: p.standOf(name)}
		delete(byName, torque.Folded(name))
		c.is = pullsOf(plan, c.new)
		p.weigh(&c)
		if c.new == "" && c.choices != nil {
			gone, goneSpent = true, goneSpent || !slices.Contains(c.choices, BackOff)
			goneWhole = goneWhole || slices.Contains(c.choices, Leave) && c.had.done == len(pullsOf(p.plan, name))
		}
		all = append(all, c)
	}
	layout := newLayout(plan)
	for _, name := range names(plan) {
		if byName[torque.Folded(name)] == "" {
			continue
		}
		c := carried{new: name, is: pullsOf(plan, name)}
		if gone {
			c.choices = []Choice{BackOff, Replace}
			if goneSpent && layout.singleUse[name] {
				c.choices = []Choice{Replace}
			}
			if goneWhole {
				c.left, c.choices = len(c.is), append([]Choice{Leave}, c.choices...)
			}
		}
		all = append(all, c)
	}
	return all
}

// weigh says what may become of a bolt of the old plan.
func (p *progress) weigh(c *carried) {
	pulls := pullsOf(p.plan, c.old)
	did, rest := pulls[:c.had.done], pulls[c.had.done:]
	trouble := p.troubleOf(c.old)
	moved := p.bolts[c.old] != nil && p.bolts[c.old].moved
	if c.new == "" {
		if len(did) == 0 && !moved {
			return
		}
		c.choices = p.mend(c)
		if trouble == nil {
			c.choices = append([]Choice{Leave}, c.choices...)
		}
		return
	}
	for c.differs < len(did) && c.differs < len(c.is) && sameExactly(did[c.differs], c.is[c.differs]) {
		c.differs++
	}
	begins := c.differs == len(did)
	if begins && (trouble != nil || !moved || slices.EqualFunc(rest, c.is[len(did):], sameExactly)) {
		c.done = len(did)
		return
	}
	c.choices = p.mend(c)
	if trouble != nil {
		return
	}
	if p.mayFinish(c, did) {
		c.choices = append([]Choice{Finish}, c.choices...)
	}
	if p.mayLeave(c, did, rest) {
		c.choices = append([]Choice{Leave}, c.choices...)
	}
}

// mend returns the choices that make a bolt begin again.
func (p *progress) mend(c *carried) []Choice {
	if t := p.troubleOf(c.old); c.had.spent || t != nil && t.Scrap {
		return []Choice{Replace}
	}
	return []Choice{BackOff, Replace}
}

// mayFinish reports whether the pulls from the first that differs on can be given to the bolt
// as it stands: it was only ever tightened since, to no more than the new torque.
func (p *progress) mayFinish(c *carried, did []torque.Action) bool {
	other := func(a torque.Action) bool { return kindOf(a) != tightens }
	if c.differs == len(c.is) || other(c.is[c.differs]) || slices.ContainsFunc(did[c.differs:], other) || slices.ContainsFunc(did, isTurn) {
		return false
	}
	return !torqueOf(c.is[c.differs]).Less(c.had.torque)
}

// mayLeave reports whether what was done may stand for the new pulls, and for how many: for
// as many, where they are of the same kinds and no bolt that was turned is turned but as the
// old plan had it; else for all, where all of the old plan was done.
func (p *progress) mayLeave(c *carried, did, rest []torque.Action) bool {
	most := min(len(did), len(c.is))
	if !slices.EqualFunc(did[:most], c.is[:most], sameKind) {
		c.left = len(c.is)
		return len(rest) == 0
	}
	c.left = most
	after := c.is[most:]
	if !slices.ContainsFunc(did, isTurn) || !slices.ContainsFunc(after, isTurn) || slices.EqualFunc(rest, after, sameExactly) {
		return true
	}
	c.left = len(c.is)
	return len(rest) == 0
}

// revise puts the corrected plan in the place of the old one.
func (p *progress) revise(h happening) {
	r, _ := detailOf[revision](h)
	next := newProgress(r.Plan)
	next.tool, next.notes, next.slipped = p.tool, p.notes, p.slipped
	all := p.lay(r.Plan)
	renamed := map[string]string{}
	for _, c := range all {
		renamed[c.old] = c.new
	}
	renamed[""] = ""
	for _, name := range p.troubled { // in the order in which they came
		if renamed[name] != "" {
			next.troubled = append(next.troubled, renamed[name])
		}
	}
	var loosened []carried
	for _, c := range all {
		choice := r.Choices[cmp.Or(c.new, c.old)]
		done, numbers := c.done, []int(nil)
		switch choice {
		case Leave:
			done = c.left
		case Finish:
			done = c.differs
		}
		if c.new != "" {
			numbers, _ = r.Plan.StepsOf(c.new)
			for _, n := range numbers[:done] {
				next.set(n, Done)
			}
			next.replaced[c.new] = p.replaced[c.old] || choice == Replace
		}
		if choice == BackOff || choice == Replace {
			next.troubled = slices.DeleteFunc(next.troubled, func(n string) bool { return n == c.new })
			if c.had.touched || c.had.done > 0 {
				loosened = append(loosened, c)
			}
		} else if b := p.bolts[c.old]; b != nil && c.new != "" {
			next.bolts[c.new] = b.under(c, numbers, next.laidOut().singleUse[c.new] && !p.laidOut().singleUse[c.old])
		}
		if i := slices.Index(c.had.steps, p.slippedIn); i >= 0 && i < len(numbers) {
			next.slippedIn = numbers[i]
		}
	}
	p.carryPauses(next, r.Choices)
	for _, c := range loosened {
		how := "backed off"
		if r.Choices[cmp.Or(c.new, c.old)] == Replace {
			how = "replaced"
		}
		under := slices.Clone(next.laidOut().partners[c.new])
		for _, name := range p.laidOut().partners[c.old] {
			if other := renamed[name]; other != "" && other != c.new && !slices.Contains(under, other) {
				under = append(under, other)
			}
		}
		for _, name := range under {
			next.partner(name, fmt.Sprintf("%s, under the same cap, was %s", cmp.Or(c.old, c.new), how))
		}
	}
	*p = *next
}

// under returns what is known of a bolt, as the corrected plan names and numbers it. One of which
// it turns out only now that it is single use may have been spent.
func (b *bolt) under(c carried, numbers []int, nowSingleUse bool) *bolt {
	made := *b
	made.spent = b.spent || b.moved && nowSingleUse
	if b.trouble != nil {
		t := *b.trouble
		i := slices.Index(c.had.steps, t.Step)
		t.Bolt, t.Step, t.Scrap = c.new, 0, t.Scrap || made.spent
		if i >= 0 && i < len(numbers) {
			t.Step = numbers[i]
		}
		made.trouble = &t
	}
	return &made
}

// carryPauses gives next the waits and checks that were made after the same pulls, so far as
// all pulls before them are done. A group in which a bolt is new is checked anew before its
// first stage.
func (p *progress) carryPauses(next *progress, choices map[string]Choice) {
	made := map[string]Status{}
	p.eachPause(p.plan, func(key string, n int) bool {
		made[key] = p.status[n-1]
		return true
	})
	fresh := map[string]bool{}
	for name, choice := range choices {
		fresh[next.laidOut().group[name]] = fresh[next.laidOut().group[name]] || choice == Replace
	}
	last := 1
	p.eachPause(next.plan, func(key string, n int) bool {
		for ; last < n; last++ {
			if !next.step(last).IsPause() && next.status[last-1] != Done {
				return false
			}
		}
		if s := made[key]; s == Skipped || s == Done && !(fresh[next.step(n).Group] && next.step(n).Stage == 0) {
			next.set(n, s)
		}
		return true
	})
}

// eachPause calls visit with each wait and check of a plan, and a key that two of them have
// in common if they are the same after the same pulls; until visit returns false.
func (p *progress) eachPause(plan *torque.Plan, visit func(key string, number int) bool) {
	pulls := sha256.New()
	times := map[string]int{}
	for n := 1; ; n++ {
		step, ok := plan.Step(n)
		if !ok {
			return
		}
		if !step.IsPause() {
			fmt.Fprintf(pulls, "%q %q\n", torque.Folded(step.Bolt), exactly(step.Do))
			clear(times)
			continue
		}
		what := exactly(step.Do)
		times[what]++
		if !visit(fmt.Sprintf("%x %d %s", pulls.Sum(nil), times[what], what), n) {
			return
		}
	}
}
