package main

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"

	"example.com/closefit/examples/kit/walk"
	"example.com/closefit/torque"
	"example.com/closefit/torque/ledger"
	"example.com/closefit/units"
)

// An event is an act that records one fact.
type event struct {
	name, usage string
	read        func(c *program, f *fact) error // reads what was said
	tell        func(c *program, l *ledger.Ledger, f fact) error
	then        func(c *program, l *ledger.Ledger, f fact) error // once it is recorded; nil for nothing
	with        []string
}

// A fact is what an event was said to be.
type fact struct {
	ledger.What
	reached ledger.Reached
	tool    ledger.Tool
	word    ledger.Word
}

// events are all that a call may record.
var events = []event{
	{name: "begin", usage: "step `ID` begins now, before the wrench moves", read: ofStep, tell: (*program).begin},
	{name: "done", usage: "step `ID` is done, to the full; of a check, that it is so", read: ofDone, with: []string{"torque", "angle", "by"},
		tell: func(_ *program, l *ledger.Ledger, f fact) error { return l.Done(f.Step, f.reached) },
		then: (*program).compare},
	{name: "no", usage: "the check `ID` was answered no", read: ofStep,
		tell: func(_ *program, l *ledger.Ledger, f fact) error { return l.No(f.Step) }},
	{name: "skipped", usage: "step `ID`, a wait, is cut short knowingly", read: ofStep,
		tell: func(_ *program, l *ledger.Ledger, f fact) error { return l.Skip(f.Step) }},
	{name: "notmoved", usage: "step `ID` was begun, and its bolt has not moved", read: ofStep, tell: mishap(ledger.NotMoved)},
	{name: "partway", usage: "step `ID` was begun, and its bolt moved part-way, or nobody knows how far", read: ofStep, tell: mishap(ledger.PartWay)},
	{name: "slipped", usage: "the tool slipped or clicked early in step `ID`", read: ofStep, tell: mishap(ledger.Slipped)},
	{name: "toofar", usage: "step `ID` was begun, and its bolt was pulled or turned too far, or may have been", read: ofStep, tell: mishap(ledger.TooFar)},
	{name: "wrongbolt", usage: "the pull of a step that is begun was given to another bolt: \"`ID: BOLT`\"", read: ofStepAndBolt, tell: mishap(ledger.WrongBolt)},
	{name: "wrongstep", usage: "another step was done in the place of one that is begun: \"`ID: ID`\"", read: ofTwoSteps, tell: mishap(ledger.WrongStep)},
	{name: "toosoon", usage: "a step was said to be done and was not: \"`ID: not moved`\", or \"ID: part-way\"", read: ofTooSoon,
		tell: func(_ *program, l *ledger.Ledger, f fact) error { return l.Mishap(f.What) }},
	{name: "replaced", usage: "a new `BOLT` is fitted", read: ofBolt,
		tell: func(_ *program, l *ledger.Ledger, f fact) error { return l.Replace(f.Bolt) }},
	{name: "loosened", usage: "`BOLT` was backed off until it turns freely", read: ofBolt,
		tell: func(_ *program, l *ledger.Ledger, f fact) error { return l.Loosen(f.Bolt) }},
	{name: "kept", usage: "a bolt whose partner was loosened stays, because the maker's manual says so: \"`BOLT: NAME: REASON`\"", read: ofKept,
		tell: func(_ *program, l *ledger.Ledger, f fact) error { return l.Keep(f.Bolt, f.word) }},
	{name: "tool", usage: "from now on the bolts are pulled with the tool of this `NAME`, or it was checked", read: ofTool, with: []string{"set", "certificate"},
		tell: func(_ *program, l *ledger.Ledger, f fact) error { return l.UseTool(f.tool) }},
	{name: "settled", usage: "it is known why what step `ID` reached does not fit its bolt or the plan, and the bolt is good", read: ofStep, tell: (*program).settle},
}

func mishap(m ledger.Mishap) func(*program, *ledger.Ledger, fact) error {
	return func(_ *program, l *ledger.Ledger, f fact) error {
		f.Mishap = m
		return l.Mishap(f.What)
	}
}

// number reads the number of a step.
func number(text string) (int, error) {
	n, err := strconv.Atoi(strings.TrimSpace(text))
	if err != nil {
		return 0, fmt.Errorf("%q is no step; write its number", strings.TrimSpace(text))
	}
	return n, nil
}

func ofStep(c *program, f *fact) (err error) {
	f.Step, err = number(c.value)
	return err
}

func ofBolt(c *program, f *fact) error {
	f.Bolt = walk.Bolt(c.plan, c.value)
	return nil
}

// ofTwo reads "ID: REST".
func ofTwo(c *program, f *fact, form string) (rest string, err error) {
	id, rest, two := strings.Cut(c.value, ":")
	if !two || strings.TrimSpace(rest) == "" {
		return "", fmt.Errorf("%q does not say both; write %q", c.value, form)
	}
	f.Step, err = number(id)
	return strings.TrimSpace(rest), err
}

func ofStepAndBolt(c *program, f *fact) error {
	bolt, err := ofTwo(c, f, "ID: BOLT")
	f.Bolt = walk.Bolt(c.plan, bolt)
	return err
}

func ofTwoSteps(c *program, f *fact) error {
	other, err := ofTwo(c, f, "ID: ID")
	if err == nil {
		f.Instead, err = number(other)
	}
	return err
}

func ofTooSoon(c *program, f *fact) error {
	how, err := ofTwo(c, f, "ID: not moved")
	if err != nil {
		return err
	}
	switch how {
	case ledger.NotMoved.String():
		f.Mishap = ledger.TooSoonNotMoved
	case ledger.PartWay.String():
		f.Mishap = ledger.TooSoonPartWay
	default:
		return fmt.Errorf("%q does not say how far it is; write %q or %q", how, ledger.NotMoved, ledger.PartWay)
	}
	return nil
}

func ofKept(c *program, f *fact) (err error) {
	bolt, text, _ := strings.Cut(c.value, ":")
	if strings.TrimSpace(text) == "" {
		return fmt.Errorf("%q does not say which bolt, who and why; write \"BOLT: NAME: REASON\"", c.value)
	}
	f.Bolt = walk.Bolt(c.plan, bolt)
	f.word, err = ledger.ParseWord(text)
	return err
}

func ofTool(c *program, f *fact) (err error) {
	if f.tool, err = walk.ParseTool(c.value, c.with["set"], c.with["certificate"]); err != nil {
		err = fmt.Errorf("-set: %w", err)
	}
	return err
}

func ofDone(c *program, f *fact) (err error) {
	if f.Step, err = number(c.value); err != nil {
		return err
	}
	f.reached.By = strings.TrimSpace(c.with["by"])
	if text, said := c.with["torque"]; said {
		if f.reached.Torque, err = units.Parse[units.TorqueInterval](text); err != nil {
			return fmt.Errorf("-torque: %w", err)
		}
	}
	if text, said := c.with["angle"]; said {
		if f.reached.Angle, err = units.Parse[units.AngleInterval](text); err != nil {
			return fmt.Errorf("-angle: %w", err)
		}
	}
	return nil
}

// record records an event, and says what it leads to.
func (c *program) record(e event) error {
	var f fact
	if err := e.read(c, &f); err != nil {
		return fmt.Errorf("-%s: %w", e.name, err)
	}
	other := c.endsByOldPlan(e, f)
	return c.opened(func(l *ledger.Ledger) error {
		if err := e.tell(c, l, f); err != nil {
			return err
		}
		c.say("recorded: %s %s", e.name, c.value)
		if f.Mishap != 0 && len(l.Troubles()) == 0 {
			c.say("no bolt is the worse for it")
		}
		if e.then != nil {
			if err := e.then(c, l, f); err != nil {
				return errors.Join(err, other)
			}
		}
		if other != nil {
			return other
		}
		return c.follows(l)
	})
}

// endsByOldPlan lets a step that is begun be ended where the plan was corrected in the meantime, for
// it has to be ended before the plan is revised: the ledger's own plan then takes the place of the
// corrected one, and other says that it is another.
func (c *program) endsByOldPlan(e event, f fact) (other error) {
	l, _, err := ledger.Read(c.home, c.work)
	if err != nil || c.otherPlan(l) == nil || e.name == "begin" || f.Step == 0 || l.Status(f.Step) != ledger.Begun {
		return nil // what is wrong is said when it is opened
	}
	other = c.otherPlan(l)
	c.plan, c.bolts, c.gate = l.Plan, nil, nil
	step, _ := l.Plan.Step(f.Step)
	c.say("by the plan of the ledger: %s", step)
	return other
}

// compare holds what was reached against what is known of the bolt. What does not fit stops the
// work: it has to be known why before the bolt is touched again.
func (c *program) compare(l *ledger.Ledger, f fact) error {
	step, _ := l.Plan.Step(f.Step)
	said, stop, err := c.bolts.Check(l, step, f.reached)
	for _, line := range said {
		c.say("%s", line)
	}
	if stop && err == nil {
		err = fmt.Errorf("%w: what step %d reached does not fit its bolt or the plan; it is recorded as done, and noted; once it is known why, and the bolt is good, -settled %[2]d", errStop, f.Step)
	}
	return err
}

// settle records that it is known why what a step reached does not fit.
func (c *program) settle(l *ledger.Ledger, f fact) error {
	_, entries, err := ledger.Read(c.home, c.work)
	if err != nil {
		return err
	}
	return walk.Settle(l, entries, f.Step)
}

// opened does something with the ledger. A program that is about to leave it is waited for.
func (c *program) opened(do func(*ledger.Ledger) error) error {
	l, err := ledger.Open(c.home, c.work, c.plan)
	for try := 0; errors.Is(err, ledger.ErrLocked) && try < 20; try++ {
		time.Sleep(50 * time.Millisecond)
		l, err = ledger.Open(c.home, c.work, c.plan)
	}
	if err != nil {
		return err
	}
	return c.using(l, do)
}

// using does something with a ledger that is open, and closes it.
func (c *program) using(l *ledger.Ledger, do func(*ledger.Ledger) error) error {
	for _, said := range append([]string{c.notice}, l.Said...) {
		if said != "" {
			c.say("%s", said)
		}
	}
	return errors.Join(do(l), l.Close())
}

// follows says what is next, or why nothing is; the latter is an error of kind errStop.
func (c *program) follows(l *ledger.Ledger) error {
	if stop, mend := holds(l); stop != "" {
		for _, c := range mend {
			stop += "\n" + c.String()
		}
		return fmt.Errorf("%w: %s", errStop, stop)
	}
	next, ok := l.Next()
	if _, entries, err := ledger.Read(c.home, c.work); err == nil && ok {
		if wrong := walk.SetWrong(walk.ToolOf(entries), next); wrong != "" {
			c.say("%s", wrong)
		}
	}
	switch {
	case !ok:
		c.say("finished")
	case l.Status(next.Number) == ledger.Begun:
		c.say("BEGUN: %s", next)
	default:
		c.say("next: %s", next)
	}
	return nil
}

// holds says what holds all else, as far as the ledger knows, and the calls that record what was done
// about it; nothing if nothing does.
func holds(l *ledger.Ledger) (stop string, mend []followUp) {
	var all []string
	for _, t := range l.Troubles() {
		all = append(all, strings.TrimPrefix(fmt.Sprintf("%s: %s. %s", t.Bolt, t.Why, t.Advice), ": "))
		mend = append(mend, mending(t)...)
	}
	if next, ok := l.Next(); ok && l.Status(next.Number) == ledger.Failed {
		all = append(all, fmt.Sprintf("it was answered no, and is asked again before anything else: %s", next))
	}
	return strings.Join(all, "\n"), mend
}

// begin begins a step, if the job's gate lets it, and records what the gate says.
func (c *program) begin(l *ledger.Ledger, f fact) error {
	step, known := c.plan.Step(f.Step)
	if next, _ := l.Next(); c.gate == nil || !known || next.Number != f.Step || l.Status(f.Step) == ledger.Begun {
		return l.Begin(f.Step) // which refuses what is not next
	}
	a, err := c.gate.Ask(l, step)
	if err != nil {
		return err
	}
	if !a.Passes() {
		return fmt.Errorf("%w: %s", walk.ErrShut, a.Why(step))
	}
	if err := a.Record(l); err != nil {
		return err
	}
	return l.Begin(f.Step)
}

// start starts the ledger. The gate is asked before.
func start(c *program) error {
	turned, err := walk.Turned(c.plan, c.value)
	if err != nil {
		return fmt.Errorf("-start: %w", err)
	}
	var word *ledger.Word
	if text, said := c.with["against"]; said {
		given, err := ledger.ParseWord(text)
		if err != nil {
			return fmt.Errorf("-against: %w", err)
		}
		word = &given
	}
	if c.gate != nil {
		a, err := c.gate.Ask(nil, torque.Step{})
		if err != nil {
			return err
		}
		if !a.Starts() && word == nil {
			return fmt.Errorf("%w: no ledger is started: %s\n%s", walk.ErrShut, a.Why(torque.Step{}), againstAtStart())
		}
	}
	l, err := ledger.Start(c.home, c.work, c.plan, turned)
	if err != nil {
		return err
	}
	return c.using(l, func(l *ledger.Ledger) error {
		c.say("started: %s, of %s; its witness is kept in %s", c.home.Path, c.work, c.home.Witness)
		if word != nil {
			if err := c.against(l, *word); err != nil {
				return err
			}
		}
		return c.follows(l)
	})
}

// takeOver takes over what is there of a ledger.
func takeOver(c *program) error {
	word, err := ledger.ParseWord(c.value)
	if err != nil {
		return fmt.Errorf("-takeover: %w", err)
	}
	l, err := ledger.TakeOver(c.home, c.work, nil, word) // whatever its plan is now
	if err != nil {
		return err
	}
	return c.using(l, func(l *ledger.Ledger) error {
		c.say("recorded: %s takes over %s", word.By, c.home.Path)
		if err := c.otherPlan(l); err != nil {
			return err
		}
		return c.follows(l)
	})
}

// otherPlan returns an error if a ledger's plan is not the one that was read.
func (c *program) otherPlan(l *ledger.Ledger) error {
	if l.Plan.Digest() == c.plan.Digest() {
		return nil
	}
	return fmt.Errorf("%w: the ledger's is %.12s, and this one is %.12s", ledger.ErrOtherPlan, l.Plan.Digest(), c.plan.Digest())
}

// goAgainst records who goes on against the job's gate.
func goAgainst(c *program) error {
	word, err := ledger.ParseWord(c.value)
	if err != nil {
		return fmt.Errorf("-against: %w", err)
	}
	return c.opened(func(l *ledger.Ledger) error { return c.against(l, word) })
}

func (c *program) against(l *ledger.Ledger, word ledger.Word) error {
	a, err := c.gate.Ask(l, torque.Step{})
	if err == nil {
		err = a.GoAgainst(l, word)
	}
	if err != nil {
		return err
	}
	c.say("recorded: %s goes on against the gate; not proven: %d; bolts that are held stay held", word.By, len(a.Gate.Shut))
	return nil
}

// revise lays a corrected plan against the ledger. While a bolt differs for which nothing was
// chosen, it lists them all and records nothing.
func revise(c *program) error {
	word, err := ledger.ParseWord(c.value)
	if err != nil {
		return fmt.Errorf("-revise: %w", err)
	}
	choices := map[string]ledger.Choice{}
	for _, text := range c.choose {
		bolt, said, _ := strings.Cut(text, ":")
		if bolt = walk.Bolt(c.plan, bolt); choices[bolt] != 0 {
			return fmt.Errorf("-choose: bolt %q is given twice; choose once", bolt)
		}
		var choice ledger.Choice
		if err := choice.UnmarshalText([]byte(strings.TrimSpace(said))); err != nil {
			return fmt.Errorf("-choose: %q is no choice for bolt %q; write \"BOLT: CHOICE\", and as the choice leave, finish, back off or replace", strings.TrimSpace(said), bolt)
		}
		choices[bolt] = choice
	}
	begun, _, err := ledger.Read(c.home, c.work)
	if err != nil {
		return err
	}
	if begun.Plan.Digest() == c.plan.Digest() {
		return fmt.Errorf("%w: the ledger is of this plan already; there is nothing to revise", ledger.ErrRefused)
	}
	corrected := c.plan
	c.plan = begun.Plan
	return c.opened(func(l *ledger.Ledger) error {
		changes := l.Changes(corrected)
		open := 0
		for _, change := range changes {
			if choices[change.Bolt] == 0 {
				open++
			}
		}
		if open > 0 {
			for _, change := range changes {
				c.say("%s", changed(change))
			}
			return fmt.Errorf("%w: nothing is recorded: %d of %d bolts that differ need a choice each; say -choose \"BOLT: CHOICE\" for every one, beside -revise", errStop, open, len(changes))
		}
		if err := l.Revise(corrected, choices, word); err != nil {
			return err
		}
		c.say("recorded: %s revises the plan; %d bolts differ", word.By, len(changes))
		return c.follows(l)
	})
}

// means says what a choice leads to.
func means(choice ledger.Choice, change ledger.Change) string {
	switch {
	case choice == ledger.Leave && change.Is == "":
		return "nothing is done to it"
	case choice == ledger.Leave && change.Was == "":
		return "it is a bolt of the old plan by another name, and was given all of this: it counts as done, and is not given"
	case choice == ledger.Leave:
		return fmt.Sprintf("what it was given stands: of its new pulls, the first %d count as done and are not given", change.Left)
	case choice == ledger.Finish:
		return "it stays as it is, and is given its new pulls from the first that differs"
	case choice == ledger.BackOff:
		return "it was backed off until it turns freely; its new pulls begin"
	}
	return "a new bolt is fitted; its new pulls begin"
}

// changed says how a bolt differs, and what can be done.
func changed(change ledger.Change) string {
	or := func(text, none string) string {
		if text == "" {
			return none
		}
		return text
	}
	var can []string
	for _, choice := range change.Choices {
		can = append(can, choice.String())
	}
	said := fmt.Sprintf("%s\n  was given: %s\n  is to get: %s\n  choose: %s", change.Bolt, or(change.Was, "nothing"), or(change.Is, "nothing"), strings.Join(can, ", "))
	for _, choice := range change.Choices {
		said += fmt.Sprintf("\n    %s: %s", choice, means(choice, change))
	}
	return said
}
