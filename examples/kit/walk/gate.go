package walk

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/torque"
	"example.com/closefit/torque/ledger"
)

// A Gate asks a job, before each step, whether the step may be begun. Read is called anew
// each time, so that what was measured, accepted or found in the meantime counts; the job
// that it returns is not changed, and may be one that others use.
type Gate struct {
	Phase job.Phase // job.Trial or job.Final
	Read  func() (*job.Job, error)
}

// ErrShut is the error of a step that the gate does not let begin. It is of the kind
// ledger.ErrRefused.
var ErrShut = fmt.Errorf("%w: gate shut", ledger.ErrRefused)

// ErrNoPlan is the error of a job that has no plan for the phase.
var ErrNoPlan = errors.New("no plan")

// An Answer is what a gate says before a step.
type Answer struct {
	Gate    job.Gate
	Plan    *torque.Plan
	Hold    string       // why the step's bolt must not be tightened; empty if nothing holds it
	Held    []string     // every bolt of the plan that is held, with why
	Against *ledger.Word // of who went on against the gate as it stands; nil if nobody did
	End     string       // what follows when the plan is finished
}

// Passes reports whether the step may be begun.
func (a Answer) Passes() bool { return a.Hold == "" && (a.Gate.Open || a.Against != nil) }

// Starts reports whether a ledger may be started: the gate is open, or only bolts keep it shut,
// of which the ledger has to record that new ones are fitted.
func (a Answer) Starts() bool {
	return a.Gate.Open || !slices.ContainsFunc(a.Gate.Shut, func(i job.Item) bool { return i.Bolt == "" })
}

// PlanOf returns a job's plan for a phase, and what follows when it is finished. The error is
// of the kind ErrNoPlan.
func PlanOf(j *job.Job, p job.Phase) (plan *torque.Plan, end string, err error) {
	plan, end, key := j.Plan(), "", "tightening"
	if p == job.Trial {
		plan, end, key = j.Trial(), j.TrialEnd(), "trial"
	}
	if plan == nil {
		return nil, "", fmt.Errorf("%w for the %s in this job; give it a [[%s]] table", ErrNoPlan, p, key)
	}
	return plan, end, nil
}

// Ask asks before a step. The ledger may be nil, where nothing has been done. A bolt that it
// records as replaced is a new one. A step of no number asks for the gate alone.
func (g Gate) Ask(l *ledger.Ledger, step torque.Step) (Answer, error) {
	var a Answer
	j, err := g.Read()
	if err != nil {
		return a, err
	}
	if a.Plan, a.End, err = PlanOf(j, g.Phase); err != nil {
		return a, err
	}
	if l != nil {
		if is, was := a.Plan.Digest(), l.Plan.Digest(); is != was {
			return a, fmt.Errorf("%w: the job's plan for the %s is another now (%.12s) than the ledger's (%.12s); put the plan back as it was, or lay the new one against the ledger: -revise \"NAME: REASON\"", ledger.ErrOtherPlan, g.Phase, is, was)
		}
		var replaced []string
		for _, group := range a.Plan.Groups() {
			for _, p := range group.Pattern {
				if l.Replaced(p.Bolt) {
					replaced = append(replaced, p.Bolt)
				}
			}
		}
		j = j.WithNew(replaced...)
	}
	assessed, err := j.Assess(context.Background())
	if err != nil {
		return a, err
	}
	a.Gate = assessed.Gate(g.Phase)
	for _, s := range assessed.Steps(g.Phase) {
		if s.Number == step.Number {
			a.Hold = s.Hold
		}
		if held := s.Bolt + ": " + s.Hold; s.Hold != "" && !slices.Contains(a.Held, held) {
			a.Held = append(a.Held, held)
		}
	}
	if l != nil {
		a.Against = a.wentOn(l)
	}
	return a, nil
}

// A gateNote is what the ledger keeps of a gate: what it said, and who went on against it.
type gateNote struct {
	Gate     string       `json:"gate"` // the phase
	Open     bool         `json:"open"`
	Proven   int          `json:"proven"`
	Shut     []string     `json:"shut"`     // what kept it shut, with its standing, worst first
	Accepted []job.Excuse `json:"accepted"` // what opened it on somebody's word alone
	Against  *ledger.Word `json:"against"`
}

// note is the answer as the ledger keeps it.
func (a Answer) note() gateNote {
	n := gateNote{Gate: a.Gate.Before.String(), Open: a.Gate.Open, Proven: a.Gate.Proven, Shut: []string{}, Accepted: []job.Excuse{}}
	for _, i := range a.Gate.Shut {
		n.Shut = append(n.Shut, i.Name+": "+i.Standing.String())
	}
	for _, i := range a.Gate.Accepted {
		if !slices.Contains(n.Accepted, *i.Excuse) {
			n.Accepted = append(n.Accepted, *i.Excuse)
		}
	}
	return n
}

func (n gateNote) text() string {
	text, err := json.Marshal(n)
	if err != nil {
		panic("walk: " + err.Error()) // texts and numbers alone
	}
	return string(text)
}

// readNote reads a note of the ledger; ok is false if it is about something else.
func readNote(text string) (n gateNote, ok bool) {
	err := json.Unmarshal([]byte(text), &n)
	return n, err == nil && n.Gate != ""
}

// wentOn returns who went on against the gate, last, if nothing keeps it shut that did not do
// so then, and as badly.
func (a Answer) wentOn(l *ledger.Ledger) *ledger.Word {
	for _, text := range slices.Backward(l.Notes()) {
		then, ok := readNote(text)
		if !ok || then.Against == nil {
			continue
		}
		for _, what := range a.note().Shut {
			if !slices.Contains(then.Shut, what) {
				return nil
			}
		}
		return then.Against
	}
	return nil
}

// Record keeps in the ledger what the gate said, unless its last note of the gate says so.
func (a Answer) Record(l *ledger.Ledger) error {
	now := a.note()
	for _, text := range slices.Backward(l.Notes()) {
		if last, ok := readNote(text); ok {
			if last.Against = nil; last.text() == now.text() {
				return nil
			}
			break
		}
	}
	return l.Note(now.text())
}

// mostAgainst is how many things may be unknown where somebody goes on. Nobody has weighed
// more of them.
const mostAgainst = 200

// GoAgainst keeps in the ledger who goes on against the gate, and why. A bolt that is held
// stays held. The error is of the kind ledger.ErrRefused where there is nothing to go against.
func (a Answer) GoAgainst(l *ledger.Ledger, word ledger.Word) error {
	switch {
	case a.Gate.Open:
		return fmt.Errorf("%w: the gate before the %s is open; there is nothing to go against", ledger.ErrRefused, a.Gate.Before)
	case len(a.Gate.Shut) > mostAgainst:
		return fmt.Errorf("%w: %d things keep the gate shut, which is more than anybody has weighed; measure, or accept them line by line in the job", ErrShut, len(a.Gate.Shut))
	}
	n := a.note()
	n.Against = &word
	return l.Note(n.text())
}

// mostShown is how many of the things that keep a gate shut are listed.
const mostShown = 20

// Why says what does not let a step begin, and what can be done about it; empty if it may be.
func (a Answer) Why(step torque.Step) string {
	var b strings.Builder
	say := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	if !a.Gate.Open && a.Against == nil {
		say("%s: the gate is shut. Not proven: %d; proven: %d.", a.Gate.Before, len(a.Gate.Shut), a.Gate.Proven)
		example, wrong, bolts := "", false, false
		for k, i := range a.Gate.Shut {
			if k < mostShown {
				say("  %s: %s: %s", i.Standing, i.Name, i.Why)
			}
			bolts = bolts || i.Bolt != ""
			if i.Bolt == "" && (example == "" || wrong) { // rather than what is proven wrong, what is not known
				example, wrong = i.Name, i.Standing == job.Wrong
			}
		}
		if more := len(a.Gate.Shut) - mostShown; more > 0 {
			say("  and %d more, which the record lists", more)
		}
		if bolts {
			say("Bolts: prove them good, or fit new ones and record each as replaced.")
		}
		if example != "" {
			say("The rest: measure, order or mend; or write in the job file who accepts it, and why:")
			say("  [[accepted]] # or [[left_out]]: nobody measures it")
			say("  what = %q", example)
			say("  by = \"NAME\"\n  reason = \"REASON\"")
		}
	}
	if a.Hold != "" {
		say("%s is held: %s. Once a new bolt is fitted, record it as replaced.", step.Bolt, a.Hold)
	}
	return strings.TrimSuffix(b.String(), "\n")
}

// gateSaid returns what a note of the ledger says, for reading.
func gateSaid(text string) string {
	n, ok := readNote(text)
	if !ok {
		return text
	}
	said := fmt.Sprintf("%s: gate shut by %s", n.Gate, strings.Join(n.Shut, "; "))
	if n.Open {
		said = fmt.Sprintf("%s: gate open", n.Gate)
	}
	said += fmt.Sprintf("; %d proven", n.Proven)
	for _, e := range n.Accepted {
		how := "accepted"
		if e.LeftOut {
			how = "left out"
		}
		said += fmt.Sprintf("; %s: %s, by %s: %s", how, e.What, e.By, e.Reason)
	}
	if n.Against != nil {
		said += fmt.Sprintf("; went on against it, %s: %s", n.Against.By, n.Against.Reason)
	}
	return said
}
