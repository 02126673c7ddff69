package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"time"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/walk"
	"example.com/closefit/torque"
	"example.com/closefit/torque/ledger"
)

// next is what is next, as -format json writes it.
type next struct {
	Work     ledger.Work `json:"work"`
	Ledger   string      `json:"ledger"`
	Plan     string      `json:"plan"` // its digest
	Finished bool        `json:"finished"`
	Step     int         `json:"step,omitempty"` // the ID for -begin and the others; none while something holds it
	Status   string      `json:"status,omitempty"`
	Group    string      `json:"group,omitempty"`
	Stage    int         `json:"stage,omitempty"`
	Bolt     string      `json:"bolt,omitempty"`
	Mark     bool        `json:"mark,omitempty"`
	Do       string      `json:"do,omitempty"`
	Brief    string      `json:"brief,omitempty"`
	NotUntil string      `json:"not_until,omitempty"` // when a wait that is begun is over, RFC 3339
	Last     string      `json:"last,omitempty"`      // what is recorded last
	Done     *int        `json:"done"`                // null where the ledger cannot be read: then nobody knows
	Skipped  int         `json:"skipped"`
	Of       int         `json:"of"`

	Stop     string           `json:"stop,omitempty"` // why no step is offered
	Troubles []ledger.Trouble `json:"troubles"`
	Said     []string         `json:"said"` // what was found when the ledger was read
	Cautions []string         `json:"cautions"`

	// Of a job.
	Phase   string       `json:"phase,omitempty"`
	Gate    *job.Gate    `json:"gate,omitempty"`
	Against *ledger.Word `json:"against,omitempty"` // who goes on while it is shut
	Held    string       `json:"held,omitempty"`    // the bolt, which has to be replaced first
	Hold    string       `json:"hold,omitempty"`    // and why
	After   string       `json:"after,omitempty"`   // what follows the end of the plan

	why  error // of the kind of Stop
	step torque.Step
}

// look returns what is next. The error is for what could not be read; whatever else does not let
// the step begin stands in Stop. It writes nothing, so that no disk has to be one that can be
// written.
func (c *program) look() (n next, err error) {
	n = next{Work: c.work, Ledger: c.home.Path, Plan: c.plan.Digest(), Of: len(c.plan.Steps()), Troubles: []ledger.Trouble{}, Said: []string{}, Cautions: c.plan.Cautions(), After: c.end}
	if c.notice != "" {
		n.Said = append(n.Said, c.notice)
	}
	l, entries, err := ledger.Read(c.home, c.work)
	if l != nil {
		n.Said = append(n.Said, l.Said...)
		var done int
		done, n.Skipped, n.Of = l.Counts()
		n.Done = &done
		n.Last = walk.Last(entries)
		n.Troubles = append(n.Troubles, l.Troubles()...)
	}
	switch {
	case err != nil:
		n.Stop, n.why = err.Error(), err
		if errors.Is(err, ledger.ErrNotStarted) {
			n.Done = new(int)
		}
		return n, n.ask(c.gate, nil, torque.Step{})
	case c.otherPlan(l) != nil:
		n.why = c.otherPlan(l)
		n.Stop = n.why.Error()
		return n, n.ask(c.gate, nil, torque.Step{})
	}
	step, ok := l.Next()
	n.Finished = !ok
	status := l.Status(step.Number)
	if n.Stop = holds(l); n.Stop != "" {
		n.why = errStop
	}
	begun := status == ledger.Begun || status == ledger.Failed
	if err := n.ask(c.gate, l, step); err != nil || !ok || len(n.Troubles) > 0 || n.Stop != "" && !begun {
		return n, err
	}
	if over, waits := l.WaitOver(); waits {
		n.NotUntil = over.Format(time.RFC3339)
	}
	n.Step, n.Status, n.Group, n.Stage, n.Bolt = step.Number, status.String(), step.Group, step.Stage, step.Bolt
	n.Mark, n.Do, n.Brief, n.step = step.Mark, step.Do.String(), step.Brief(), step
	return n, nil
}

// ask asks a job's gate, and notes what it says against a step that is not begun.
func (n *next) ask(gate *walk.Gate, l *ledger.Ledger, step torque.Step) error {
	if gate == nil {
		return nil
	}
	a, err := gate.Ask(l, step)
	if err != nil {
		return err
	}
	n.Phase, n.Gate, n.Against, n.After = gate.Phase.String(), &a.Gate, a.Against, a.End
	if n.Finished || n.Stop != "" || a.Passes() || l.Status(step.Number) == ledger.Begun {
		return nil
	}
	n.Stop, n.why = a.Why(step), walk.ErrShut
	if a.Hold != "" {
		n.Held, n.Hold = step.Bolt, a.Hold
	}
	return nil
}

// sayNext says what is next. What does not let it begin is an error once it is said.
func sayNext(c *program) error {
	n, err := c.look()
	if err != nil {
		return err
	}
	if c.format == "json" {
		text, err := json.MarshalIndent(n, "", "  ")
		if err != nil {
			return err
		}
		c.say("%s", text)
	} else {
		c.say("%s", n.text())
	}
	if n.why != nil {
		return stopped{c.name, n.why}
	}
	return nil
}

// stopped is the error of what was said in full.
type stopped struct {
	name string
	why  error
}

func (s stopped) Error() string { return s.name + ": the work may not go on" }
func (s stopped) Unwrap() error { return s.why }

// text is what is next, for reading.
func (n next) text() string {
	var b strings.Builder
	say := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	say("%s", n.Work)
	for _, said := range n.Said {
		say("%s", said)
	}
	if n.Last != "" {
		say("last: %s", n.Last)
	}
	if n.Done != nil {
		say("%d of %d steps done%s", *n.Done, n.Of, walk.Skipped(n.Skipped))
	}
	if n.Stop != "" {
		say("STOP. %s", n.Stop)
		if n.Held != "" {
			say("to record a new bolt: -replaced %q", n.Held)
		}
		if errors.Is(n.why, walk.ErrShut) && !n.Gate.Open && n.Against == nil {
			say(`to go on against the gate, which is recorded: -against "NAME: REASON"`)
		}
	}
	switch {
	case n.Finished && n.Stop == "":
		say("finished")
		if n.After != "" {
			say("%s", n.After)
		}
	case n.Step != 0:
		n.sayStep(say)
	}
	for _, caution := range n.Cautions {
		say("! %s", caution)
	}
	return strings.TrimSuffix(b.String(), "\n")
}

// sayStep says which step is next, and what may be recorded of it.
func (n next) sayStep(say func(format string, args ...any)) {
	stage := "before the first stage"
	if n.Stage > 0 {
		stage = fmt.Sprintf("stage %d", n.Stage)
	}
	say("%s", n.step)
	say("%s; %s, %s", n.Status, n.Group, stage)
	_, waits := torque.As[torque.Wait](n.step.Do)
	switch begun := n.Status == ledger.Begun.String(); {
	case !begun && n.step.IsPause():
		say("record -begin %d, then its end", n.Step)
	case !begun:
		say("do not pull before -begin %d is recorded", n.Step)
	case waits:
		say("it is over at %s; then record -done %d; to cut it short, -skipped %d", n.NotUntil, n.Step, n.Step)
	case n.step.IsPause():
		say("record -done %d if it is so, -no %d if it is not", n.Step, n.Step)
	default:
		say("when the pull has ended record how, by the witness mark: -done, -notmoved, -partway, -slipped, -wrongbolt or -wrongstep; if nobody knows, -partway %d", n.Step)
	}
}
