package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"time"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/walk"
	"example.com/closefit/torque"
	"example.com/closefit/torque/ledger"
)

// next is what is next. Text and JSON are both written from it: what the text says stands in a field,
// and each field says in -help what it means.
type next struct {
	Work     ledger.Work    `json:"work" means:"the engine, the build and the assembly"`
	Ledger   string         `json:"ledger" means:"the path of the ledger"`
	Plan     string         `json:"plan" means:"the digest of the plan"`
	Finished bool           `json:"finished" means:"no step is left"`
	Step     int            `json:"step,omitempty" means:"the ID of the step, for -begin and the others; left out, like all that is said of the step, while something holds it"`
	Text     string         `json:"text,omitempty" means:"the step in full: its number, its bolt, whether to mark it, and what to do, with its limits"`
	Status   string         `json:"status,omitempty" means:"of the step: pending, begun or failed"`
	Place    string         `json:"place,omitempty" means:"its group and its stage, in words"`
	Group    string         `json:"group,omitempty" means:"its group"`
	Stage    int            `json:"stage,omitempty" means:"its stage, from 1; left out before the first"`
	Bolt     string         `json:"bolt,omitempty" means:"its bolt; left out for a wait and a check"`
	Mark     bool           `json:"mark,omitempty" means:"mark the bolt, and the part under it, before the pull"`
	Do       string         `json:"do,omitempty" means:"what to do, with its limits, in words"`
	Brief    string         `json:"brief,omitempty" means:"the same in a few letters"`
	Action   *torque.Action `json:"action,omitempty" means:"the same by its kind (tighten, turn, back off, wait or check), its torque, angle, time or question, and its limits"`
	NotUntil string         `json:"not_until,omitempty" means:"when a wait that is begun is over, as RFC 3339 writes times"`
	Now      string         `json:"now,omitempty" means:"what to heed before the next call"`
	Record   []followUp     `json:"record" means:"the calls that may follow, each with its flag, its value (words in capitals are for you to put in) and what it means; what may be recorded at any time stands above"`
	Tool     *ledger.Tool   `json:"tool" means:"the tool that was recorded last; null if none was"`
	Last     string         `json:"last,omitempty" means:"what is recorded last, and below it what did not fit at any pull and is not settled"`
	Done     *int           `json:"done" means:"how many steps are done; null if the ledger cannot be read, for then nobody knows"`
	Skipped  int            `json:"skipped" means:"how many waits were cut short"`
	Of       int            `json:"of" means:"how many steps there are"`

	Stop     string           `json:"stop,omitempty" means:"why the work may not go on; left out if it may"`
	Troubles []ledger.Trouble `json:"troubles" means:"the bolts, or the tool, with which something has to be done first"`
	Said     []string         `json:"said" means:"what was found when the ledger was read"`
	Cautions []string         `json:"cautions" means:"what to heed throughout the plan"`

	Phase   string       `json:"phase,omitempty" means:"of a job: the assembly"`
	Gate    *job.Gate    `json:"gate,omitempty" means:"of a job: its gate, with what keeps it shut and what was accepted"`
	Against *ledger.Word `json:"against,omitempty" means:"of a job: who goes on while the gate is shut, and why"`
	Held    string       `json:"held,omitempty" means:"of a job: the bolt that must be replaced before the step"`
	Hold    string       `json:"hold,omitempty" means:"of a job: why it is held"`
	After   string       `json:"after,omitempty" means:"of a job: what follows the end of the plan"`

	why error // of the kind of Stop
}

// keys lists what -format json writes, by key.
func keys() string {
	var b strings.Builder
	for _, field := range reflect.VisibleFields(reflect.TypeFor[next]()) {
		if key, _, _ := strings.Cut(field.Tag.Get("json"), ","); key != "" {
			fmt.Fprintf(&b, "  %s\n    \t%s\n", key, field.Tag.Get("means")) // as the options above
		}
	}
	return b.String()
}

// look returns what is next. The error is for what could not be read; whatever else does not let
// the step begin stands in Stop. It writes nothing, so that no disk has to be one that can be
// written.
func (c *program) look() (n next, err error) {
	n = next{Work: c.work, Ledger: c.home.Path, Plan: c.plan.Digest(), Of: len(c.plan.Steps()), Record: []followUp{}, Troubles: []ledger.Trouble{}, Said: []string{}, Cautions: c.plan.Cautions(), After: c.end}
	if c.notice != "" {
		n.Said = append(n.Said, c.notice)
	}
	l, entries, err := ledger.Read(c.home, c.work)
	if l != nil {
		n.Said = append(n.Said, l.Said...)
		var done int
		done, n.Skipped, n.Of = l.Counts()
		n.Done = &done
		n.Last, n.Tool = walk.Last(entries), walk.ToolOf(entries)
		n.Troubles = append(n.Troubles, l.Troubles()...)
	}
	if err == nil {
		err = c.otherPlan(l)
	}
	if err != nil {
		n.Stop, n.why = err.Error(), err
		if errors.Is(err, ledger.ErrOtherPlan) && l != nil {
			n.endFirst(l)
		}
		n.Record = append(n.Record, after(err)...)
		if errors.Is(err, ledger.ErrNotStarted) {
			n.Done = new(int)
		}
		return n, n.ask(c.gate, nil, torque.Step{})
	}
	step, ok := l.Next()
	n.Finished = !ok
	stop, mend := holds(l)
	if n.Record = append(n.Record, mend...); stop != "" {
		n.Stop, n.why = stop, errStop
	}
	status := l.Status(step.Number)
	if err := n.ask(c.gate, l, step); err != nil {
		return n, err
	}
	if ok && len(n.Troubles) == 0 && !errors.Is(n.why, walk.ErrShut) {
		n.notUntil(l)
		n.offer(step, status)
	}
	for _, open := range walk.Unsettled(entries) {
		n.Record = append(n.Record, aboutStep(open, "settled")...)
	}
	return n, nil
}

// offer notes the step and what may be recorded of it.
func (n *next) offer(step torque.Step, status ledger.Status) {
	n.Step, n.Text, n.Status, n.Group, n.Stage, n.Bolt = step.Number, step.String(), status.String(), step.Group, step.Stage, step.Bolt
	n.Mark, n.Do, n.Brief, n.Action = step.Mark, step.Do.String(), step.Brief(), &step.Do
	n.Place = step.Group + ", before the first stage"
	if step.Stage > 0 {
		n.Place = fmt.Sprintf("%s, stage %d", step.Group, step.Stage)
	}
	if status == ledger.Begun {
		n.ends(step)
		return
	}
	n.Now = fmt.Sprintf("do not pull before -begin %d is recorded", step.Number)
	if step.IsPause() {
		n.Now = "record that it begins, then its end"
	}
	n.Record = append(n.Record, aboutStep(step.Number, "begin")...)
	wrong := walk.SetWrong(n.Tool, step)
	if wrong != "" {
		n.Now += "\n" + wrong
	}
	if !step.IsPause() && (n.Tool == nil || wrong != "") {
		n.Record = append(n.Record, callOf("tool", "", ""))
	}
}

// ends notes how a step that is begun may have ended.
func (n *next) ends(step torque.Step) {
	names := []string{"done", "notmoved", "partway", "slipped", "toofar", "wrongbolt", "wrongstep"}
	switch _, waits := torque.As[torque.Wait](step.Do); {
	case waits:
		n.Now, names = "it is over at "+n.NotUntil, []string{"done", "skipped"}
	case step.IsPause():
		n.Now, names = "record whether it is so", []string{"done", "no"}
	default:
		n.Now = fmt.Sprintf("when the pull has ended record how, by the witness mark; if nobody knows, -partway %d", step.Number)
	}
	n.Record = append(n.Record, aboutStep(step.Number, names...)...)
}

// endFirst notes the step that is begun by the plan of the ledger, where the plan is another now: it
// has to be ended before the plan is revised.
func (n *next) endFirst(l *ledger.Ledger) {
	step, ok := l.Next()
	if !ok || l.Status(step.Number) != ledger.Begun {
		return
	}
	n.notUntil(l)
	n.Stop += fmt.Sprintf("\nbegun by the plan of the ledger, and to be ended first: %s", step)
	n.ends(step)
}

// notUntil notes when a wait that is begun is over.
func (n *next) notUntil(l *ledger.Ledger) {
	if over, waits := l.WaitOver(); waits {
		n.NotUntil = over.Format(time.RFC3339)
	}
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
	if errors.Is(n.why, ledger.ErrNotStarted) && !a.Starts() {
		n.Stop += "\n" + a.Why(torque.Step{})
		n.Record = append(n.Record, againstAtStart())
	}
	if n.Finished || n.Stop != "" && (l == nil || l.Status(step.Number) != ledger.Failed) || a.Passes() || l.Status(step.Number) == ledger.Begun {
		return nil
	}
	n.Stop, n.why = strings.TrimPrefix(n.Stop+"\n"+a.Why(step), "\n"), walk.ErrShut
	switch {
	case a.Hold != "":
		n.Held, n.Hold = step.Bolt, a.Hold
		n.Record = append(n.Record, callOf("replaced", "BOLT", step.Bolt))
	case slices.ContainsFunc(a.Gate.Shut, func(i job.Item) bool { return i.Bolt != "" }):
		n.Record = append(n.Record, callOf("replaced", "", ""))
	}
	if !a.Gate.Open && a.Against == nil {
		n.Record = append(n.Record, against())
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
	if t := n.Tool; t != nil {
		say("tool: %s", t.Name)
		if t.Set != "" {
			say("it is set to %s", t.Set)
		}
		if t.Certificate != "" {
			say("its certificate: %s", t.Certificate)
		}
	}
	if n.Against != nil && !n.Gate.Open {
		say("! the gate is shut; %s goes on against it: %s", n.Against.By, n.Against.Reason)
	}
	if n.Stop != "" {
		say("STOP. %s", n.Stop)
	}
	if n.Finished && n.Stop == "" {
		say("finished")
		if n.After != "" {
			say("%s", n.After)
		}
	}
	if n.Step != 0 {
		say("%s\n%s; %s", n.Text, n.Status, n.Place)
	}
	if n.Now != "" {
		say("%s", n.Now)
	}
	for _, c := range n.Record {
		say("  %s", c)
	}
	for _, caution := range n.Cautions {
		say("! %s", caution)
	}
	return strings.TrimSuffix(b.String(), "\n")
}
