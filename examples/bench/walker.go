package main

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"sync"

	"example.com/closefit/examples/kit/bench"
	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/page"
	"example.com/closefit/examples/kit/walk"
	"example.com/closefit/torque"
	"example.com/closefit/torque/ledger"
)

// A walker walks the tightening of the job, on the ledger that torquewalk keeps. It holds a ledger from the first
// time that it is asked for it until the program ends, so that no other program pulls beside it.
type walker struct {
	keeper *keeper

	mu    sync.Mutex
	open  map[job.Phase]*walked
	heard map[chan bool]bool
}

// walked is the work of one phase.
type walked struct {
	ledger *ledger.Ledger
	home   ledger.Home
	work   ledger.Work
	notice string
	begun  int // the step that was begun on this page; of one that was begun before, nobody here saw the pull
}

func newWalker(k *keeper) *walker {
	return &walker{keeper: k, open: map[job.Phase]*walked{}, heard: map[chan bool]bool{}}
}

// close gives the ledgers up.
func (w *walker) close() (err error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	for phase, x := range w.open {
		if x.ledger != nil {
			err = errors.Join(err, x.ledger.Close())
		}
		delete(w.open, phase)
	}
	return err
}

// listen returns a channel that says that a ledger has changed.
func (w *walker) listen(ctx context.Context) <-chan bool {
	to := make(chan bool, 1)
	w.mu.Lock()
	w.heard[to] = true
	w.mu.Unlock()
	context.AfterFunc(ctx, func() {
		w.mu.Lock()
		defer w.mu.Unlock()
		delete(w.heard, to)
	})
	return to
}

func (w *walker) tell() {
	for to := range w.heard {
		select {
		case to <- true:
		default:
		}
	}
}

// An act is what a person says of the tightening.
type act struct {
	Act    string    `json:"act"`
	Phase  job.Phase `json:"phase"`
	Step   int       `json:"step"`
	Text   string    `json:"text"`   // a bolt, a step, what was reached, which were turned
	By     string    `json:"by"`     // who says so, or pulls
	Reason string    `json:"reason"` // of going on against a gate, and of keeping a bolt
	Seen   bool      `json:"seen"`   // somebody saw the pull of a step that was begun before
}

// state is the tightening of a phase as the page shows it.
type state struct {
	HTML    string `json:"html"`
	Said    string `json:"said"`    // what was said of the last act
	Refused bool   `json:"refused"` // Said is why the act was not taken
}

func (s *server) sendWalk(w http.ResponseWriter, r *http.Request) {
	phase := job.Final
	if r.URL.Query().Get("phase") == job.Trial.String() {
		phase = job.Trial
	}
	answer(w, http.StatusOK, state{HTML: s.walker.show(phase).String()})
}

func (s *server) takeWalk(w http.ResponseWriter, r *http.Request) {
	var a act
	if !asked(w, r, &a) {
		return
	}
	said, err := s.walker.do(a)
	if err != nil {
		said = err.Error()
	}
	answer(w, http.StatusOK, state{HTML: s.walker.show(a.Phase).String(), Said: said, Refused: err != nil})
}

// A session is the job as it is now, with its plan and its ledger.
type session struct {
	*walked
	job   *job.Job
	plan  *torque.Plan
	bolts walk.Bolts
	gate  *walk.Gate
}

// errMemory is why a demonstration has no ledger.
var errMemory = errors.New("this is a demonstration, which has no ledger: name a job file to walk its tightening")

// at reads the job, and opens its ledger if there is one.
func (w *walker) at(phase job.Phase) (*session, error) {
	if w.keeper.path == "" {
		return nil, errMemory
	}
	gate := &walk.Gate{Phase: phase, Read: func() (*job.Job, error) {
		now, err := w.keeper.now()
		if err != nil {
			return nil, err
		}
		return now.Read()
	}}
	j, err := gate.Read()
	if err != nil {
		return nil, err
	}
	plan, _, err := walk.PlanOf(j, phase)
	if err != nil {
		return nil, err
	}
	x := w.open[phase]
	if x == nil {
		x = &walked{}
		if x.work, err = j.Identity().Work(phase.String()); err != nil {
			return nil, err
		}
		if x.home.Witness, err = walk.WitnessOf(w.keeper.path, j.Identity()); err != nil {
			return nil, err
		}
		if x.home.Path, x.notice, err = walk.Locate(walk.Usual(w.keeper.path, phase), x.work); err != nil {
			return nil, err
		}
	}
	s := &session{x, j, plan, j.KnownBolts(phase), gate}
	if x.ledger == nil {
		x.ledger, err = ledger.Open(x.home, x.work, plan)
		if err != nil && !errors.Is(err, ledger.ErrNotStarted) {
			return nil, err
		}
		if err == nil {
			w.open[phase] = x
		}
		return s, nil
	}
	if work, err := j.Identity().Work(phase.String()); err != nil || work != x.work {
		return nil, fmt.Errorf("the job is now of another engine or build than the ledger of %s; put it back, or start the program again", x.work)
	}
	_, _, err = ledger.Read(x.home, x.work)
	return s, err
}

// drop gives up a ledger that takes nothing more, so that it is opened again.
func (w *walker) drop(phase job.Phase, err error) {
	if x := w.open[phase]; x != nil && (errors.Is(err, ledger.ErrStorage) || errors.Is(err, ledger.ErrUnsure)) {
		if x.ledger != nil {
			_ = x.ledger.Close() // what it holds is on the disk, or in question
		}
		delete(w.open, phase)
	}
}

// do records what a person says, by the rules of the ledger and of the job's gate.
func (w *walker) do(a act) (said string, err error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	defer w.tell()
	defer func() { w.drop(a.Phase, err) }()
	s, err := w.at(a.Phase)
	if err != nil {
		return "", err
	}
	by, there := acts[a.Act]
	switch {
	case !there:
		return "", fmt.Errorf("%q is nothing that can be recorded", a.Act)
	case s.ledger == nil && a.Act != "start":
		return "", ledger.ErrNotStarted
	}
	return by(w, s, a)
}

// acts are all that can be said.
var acts = map[string]func(*walker, *session, act) (string, error){
	"start": (*walker).start,
	"begin": func(_ *walker, s *session, a act) (string, error) { return s.begin(a) },
	"done":  func(_ *walker, s *session, a act) (string, error) { return s.done(a) },
	"no":    func(_ *walker, s *session, a act) (string, error) { return s.no(a) },
	"skip": func(_ *walker, s *session, a act) (string, error) {
		return "Skipped, which is recorded.", s.ledger.Skip(a.Step)
	},
	"against": func(_ *walker, s *session, a act) (string, error) { return s.against(a) },
	"replaced": func(_ *walker, s *session, a act) (string, error) {
		return s.mend(a, (*ledger.Ledger).Replace, "a new bolt is fitted")
	},
	"loosened": func(_ *walker, s *session, a act) (string, error) {
		return s.mend(a, (*ledger.Ledger).Loosen, "it was backed off")
	},
	"kept": func(_ *walker, s *session, a act) (string, error) {
		word, err := ledger.ParseWord(a.By + ": " + a.Reason)
		if err != nil {
			return "", err
		}
		return "It stays, which is recorded.", s.ledger.Keep(walk.Bolt(s.plan, a.Text), word)
	},
	"tool": func(_ *walker, s *session, a act) (string, error) {
		return "The tool is recorded.", s.ledger.UseTool(ledger.Tool{Name: strings.TrimSpace(a.Text)})
	},
	"not moved":           mishap(ledger.NotMoved),
	"part-way":            mishap(ledger.PartWay),
	"slipped":             mishap(ledger.Slipped),
	"too far":             mishap(ledger.TooFar),
	"wrong bolt":          mishap(ledger.WrongBolt),
	"wrong step":          mishap(ledger.WrongStep),
	"too soon, not moved": mishap(ledger.TooSoonNotMoved),
	"too soon, part-way":  mishap(ledger.TooSoonPartWay),
	"unknown": func(_ *walker, s *session, a act) (string, error) {
		if err := s.ledger.Note(fmt.Sprintf("step %d: nobody knows how it ended; it counts as moved part-way", a.Step)); err != nil {
			return "", err
		}
		return "Nobody knows how it ended, so it counts as moved part-way.", s.ledger.Mishap(ledger.What{Mishap: ledger.PartWay, Step: a.Step})
	},
}

func mishap(m ledger.Mishap) func(*walker, *session, act) (string, error) {
	return func(_ *walker, s *session, a act) (string, error) {
		what := ledger.What{Mishap: m, Step: a.Step}
		switch m {
		case ledger.WrongBolt:
			what.Bolt = walk.Bolt(s.plan, a.Text)
		case ledger.WrongStep:
			n, err := strconv.Atoi(strings.TrimSpace(a.Text))
			if err != nil {
				return "", fmt.Errorf("%q is no step; write its number", a.Text)
			}
			what.Instead = n
		case ledger.TooSoonNotMoved, ledger.TooSoonPartWay:
			n, err := strconv.Atoi(strings.TrimSpace(a.Text))
			if err != nil {
				return "", fmt.Errorf("%q is no step; write its number", a.Text)
			}
			what.Step = n
		}
		if err := s.ledger.Mishap(what); err != nil {
			return "", err
		}
		return walk.Leads(s.ledger, what), nil
	}
}

// start starts the ledger, if the gate lets it or somebody goes on against it.
func (w *walker) start(s *session, a act) (string, error) {
	if s.ledger != nil {
		return "", fmt.Errorf("%w: the ledger is started already", ledger.ErrRefused)
	}
	gate, err := s.gate.Ask(nil, torque.Step{})
	if err != nil {
		return "", err
	}
	var word *ledger.Word
	if !gate.Starts() {
		if a.By == "" && a.Reason == "" {
			return "", fmt.Errorf("%w: no ledger is started", walk.ErrShut)
		}
		given, err := ledger.ParseWord(a.By + ": " + a.Reason)
		if err != nil {
			return "", err
		}
		word = &given
	}
	if strings.TrimSpace(a.Text) == "" {
		return "", errors.New("it has to be said which bolts have been turned already: none, or their names")
	}
	turned, err := walk.Turned(s.plan, a.Text)
	if err != nil {
		return "", err
	}
	if s.ledger, err = ledger.Start(s.home, s.work, s.plan, turned); err != nil {
		return "", err
	}
	w.open[a.Phase] = s.walked
	if word != nil {
		if gate, err = s.gate.Ask(s.ledger, torque.Step{}); err == nil && !gate.Gate.Open {
			err = gate.GoAgainst(s.ledger, *word)
		}
	}
	return "The ledger is started: " + s.home.Path + ".", err
}

// begin records that a step begins, if the gate lets it.
func (s *session) begin(a act) (string, error) {
	step, known := s.plan.Step(a.Step)
	if next, _ := s.ledger.Next(); !known || next.Number != a.Step || s.ledger.Status(a.Step) == ledger.Begun {
		return "", s.ledger.Begin(a.Step) // which refuses what is not next
	}
	gate, err := s.gate.Ask(s.ledger, step)
	if err != nil {
		return "", err
	}
	if !gate.Passes() {
		return "", fmt.Errorf("%w: %s", walk.ErrShut, gate.Why(step))
	}
	if err := gate.Record(s.ledger); err != nil {
		return "", err
	}
	if err := s.ledger.Begin(a.Step); err != nil {
		return "", err
	}
	s.begun = a.Step
	if step.IsPause() {
		return "", nil
	}
	return "BEGUN. Pull now.", nil
}

// done records that a step is done.
func (s *session) done(a act) (string, error) {
	step, _ := s.plan.Step(a.Step)
	_, waits := torque.As[torque.Wait](step.Do)
	if step.IsPause() && !waits && s.ledger.Status(a.Step) != ledger.Begun {
		if _, err := s.begin(a); err != nil {
			return "", err
		}
	}
	if !step.IsPause() && s.begun != a.Step && !a.Seen {
		return "", fmt.Errorf("%w: it was begun before this page was opened; say that somebody saw or felt the whole pull, and that the mark bears it out, or that nobody knows", ledger.ErrRefused)
	}
	reached, err := walk.ParseReached(a.Text)
	if err != nil {
		return "", err
	}
	reached.By = strings.TrimSpace(a.By)
	if err := s.ledger.Done(a.Step, reached); err != nil {
		return "", err
	}
	said, stop, err := s.bolts.Check(s.ledger, step, reached)
	text := strings.Join(said, "\n")
	if stop {
		text = "STOP. What was reached does not fit its bolt or the plan; it is recorded as done, and noted. It has to be known why before the bolt is touched again.\n" + text
	}
	return text, err
}

// no records that a check was answered no.
func (s *session) no(a act) (string, error) {
	if s.ledger.Status(a.Step) != ledger.Begun {
		if _, err := s.begin(a); err != nil {
			return "", err
		}
	}
	return "", s.ledger.No(a.Step)
}

// against records who goes on against the gate.
func (s *session) against(a act) (string, error) {
	word, err := ledger.ParseWord(a.By + ": " + a.Reason)
	if err != nil {
		return "", err
	}
	gate, err := s.gate.Ask(s.ledger, torque.Step{})
	if err != nil {
		return "", err
	}
	return word.By + " goes on against the gate, which is recorded. Bolts that are held stay held.", gate.GoAgainst(s.ledger, word)
}

func (s *session) mend(a act, record func(*ledger.Ledger, string) error, what string) (string, error) {
	bolt := walk.Bolt(s.plan, a.Text)
	return bolt + ": " + what + ", and its steps begin again.", record(s.ledger, bolt)
}

// show is the tightening of a phase as it stands.
func (w *walker) show(phase job.Phase) page.Markup {
	w.mu.Lock()
	defer w.mu.Unlock()
	s, err := w.at(phase)
	if err != nil {
		w.drop(phase, err)
		return page.Join(stopped(), page.El("p", page.Text(capital(bench.InWords(err))+".")), hint(err))
	}
	var phases []page.Part
	for _, p := range []job.Phase{job.Trial, job.Final} {
		if _, _, err := walk.PlanOf(s.job, p); err == nil {
			phases = append(phases, page.El("button", page.Attr("type", "button"), page.Class("small choice"), page.Attr("data-phase", p.String()), page.Attr("aria-pressed", strconv.FormatBool(p == phase)), page.Text(p.String())))
		}
	}
	if len(phases) == 1 {
		phases = nil // there is nothing to choose
	}
	return page.Join(page.If(len(phases) > 0, page.El("div", page.Class("ats"), page.Attr("role", "group"), page.Attr("aria-label", "which assembly"), page.Join(phases...))), page.El("p", page.Class("note"), page.Text(s.work.String())), s.html(phase))
}

func capital(text string) string { return strings.ToUpper(text[:1]) + text[1:] }

func stopped() page.Markup { return page.El("p", page.Class("stop"), page.Text("STOP")) }

// hint says where what a page does not do is done.
func hint(err error) page.Markup {
	for kind, do := range map[error]string{
		ledger.ErrUnsure:    "Look at the witness marks; then take over what is there with torquewalk -job -takeover.",
		ledger.ErrDamaged:   "Look at the witness marks; then take over what is there with torquewalk -job -takeover.",
		ledger.ErrOtherPlan: "Put the plan back as it was, or lay the new one against the ledger with torquewalk -job -revise.",
		ledger.ErrLocked:    "Another program walks this tightening. End that one first.",
	} {
		if errors.Is(err, kind) {
			return page.El("p", page.Text(do))
		}
	}
	return page.Markup{}
}

// says is a button that records something.
func says(class, do string, step int, text string, more ...page.Part) page.Markup {
	return page.El("button", append([]page.Part{page.Attr("type", "button"), page.Class(class), page.Attr("data-act", do), page.Attr("data-step", strconv.Itoa(step)), page.Text(text)}, more...)...)
}

// line is a field of a form of the tightening.
func line(name, label string) page.Markup {
	return page.El("label", page.Class("line"), page.Text(label), page.El("input", page.Attr("type", "text"), page.Attr("name", name), page.Attr("autocomplete", "off"), page.Attr("maxlength", "200")))
}

// form is fields, whose button says something with what stands in them.
func form(summary string, parts ...page.Part) page.Markup {
	return page.El("details", page.El("summary", page.Text(summary)), page.El("div", page.Class("form"), page.Join(parts...)))
}

// html is where the work stands and what can be said of it.
func (s *session) html(phase job.Phase) page.Markup {
	if s.ledger == nil {
		return s.notStarted()
	}
	done, skipped, of := s.ledger.Counts()
	parts := []page.Part{page.El("p", page.Text(fmt.Sprintf("%d of %d done%s.", done, of, walk.Skipped(skipped))))}
	for _, said := range slices.Concat([]string{s.notice}, s.ledger.Said) {
		if said != "" {
			parts = append(parts, page.El("p", page.Class("note"), page.Text(said)))
		}
	}
	if _, entries, err := ledger.Read(s.home, s.work); err == nil {
		if last := walk.Last(entries); last != "" {
			parts = append(parts, page.El("p", page.Class("note"), page.Text("Last: "+last)))
		}
	}
	step, more := s.ledger.Next()
	if troubles := s.ledger.Troubles(); len(troubles) > 0 {
		return page.Join(append(parts, s.troubles(troubles))...)
	}
	if !more {
		parts = append(parts, page.El("p", page.Class("big"), page.Text("All done")))
		if _, end, err := walk.PlanOf(s.job, phase); err == nil && end != "" {
			parts = append(parts, page.El("p", page.Text(end)))
		}
		return page.Join(append(parts, s.tooSoon())...)
	}
	status := s.ledger.Status(step.Number)
	if status != ledger.Begun {
		gate, err := s.gate.Ask(s.ledger, step)
		if err != nil {
			return page.Join(append(parts, stopped(), page.El("p", page.Text(err.Error())), hint(err))...)
		}
		if !gate.Passes() {
			return page.Join(append(parts, stopped(), page.El("pre", page.Class("why"), page.Text(gate.Why(step))), s.goOn(gate), form("A new bolt is fitted", line("text", "which bolt"), says("wide", "replaced", step.Number, "A new bolt is fitted")))...)
		}
	}
	parts = append(parts, page.El("p", page.Class("note"), page.Text(fmt.Sprintf("Step %d, %s, stage %d", step.Number, step.Group, step.Stage))))
	if step.Bolt != "" {
		parts = append(parts, page.El("p", page.Class("big"), page.Text(step.Bolt)))
	}
	parts = append(parts, page.El("p", page.Class("big"), page.Text(step.Brief())))
	_, waits := torque.As[torque.Wait](step.Do)
	switch {
	case step.IsPause() && !waits:
		if status == ledger.Failed {
			parts = append(parts, stopped(), page.El("p", page.Text("It was answered no. Nothing goes on until it is put right and answered yes.")))
		}
		parts = append(parts, page.El("p", page.Text(step.Do.String())), says("wide", "done", step.Number, "Yes, it is so"), says("wide", "no", step.Number, "No, it is not"))
	case waits && status == ledger.Begun:
		over, _ := s.ledger.WaitOver()
		parts = append(parts, page.El("p", page.Text("The wait is over at "+over.Format("15:04:05")+".")), says("wide", "done", step.Number, "The time is over"), says("wide", "skip", step.Number, "Go on without the rest, which is recorded"))
	case status == ledger.Begun:
		parts = append(parts, s.ending(step))
	default:
		say := "Do not pull yet."
		if step.Mark {
			say = "Mark " + step.Bolt + " first, across its head and the part. " + say
		}
		parts = append(parts, page.El("p", page.Text(say)), says("wide", "begin", step.Number, "Record that it begins"))
	}
	if status != ledger.Begun {
		parts = append(parts, form("Something else happened", line("text", "which bolt"), says("wide", "replaced", step.Number, "A new bolt is fitted"), says("wide", "loosened", step.Number, "It was backed off until it turns freely")),
			form("The tool", line("text", "which tool"), says("wide", "tool", step.Number, "From now on this one, or it was checked")), s.tooSoon())
	}
	return page.Join(parts...)
}

// notStarted asks what has to be known before a ledger is started.
func (s *session) notStarted() page.Markup {
	parts := []page.Part{page.El("p", page.Text("There is no ledger of this work. If any of it was tightened before, by another machine or with a ledger that was moved, bring that ledger here first."))}
	gate, err := s.gate.Ask(nil, torque.Step{})
	if err != nil {
		return page.Join(append(parts, stopped(), page.El("p", page.Text(err.Error())))...)
	}
	starts := []page.Part{page.El("p", page.El("b", page.Text("Has any of these bolts been turned already?")))}
	for _, group := range s.plan.Groups() {
		var names []string
		for _, p := range group.Pattern {
			names = append(names, p.Bolt)
		}
		starts = append(starts, page.El("p", page.Class("note"), page.Text(group.Name+": "+strings.Join(names, ", "))))
	}
	starts = append(starts, line("text", "none, all, or their names with commas between"))
	if !gate.Starts() {
		parts = append(parts, stopped(), page.El("pre", page.Class("why"), page.Text(gate.Why(torque.Step{}))))
		starts = append(starts, line("by", "who goes on against the gate"), line("reason", "why"), says("wide", "start", 0, "Start all the same, which is recorded"))
		return page.Join(append(parts, form("Go on against the gate; not with a bolt that is held", starts...))...)
	}
	for _, c := range s.plan.Cautions() {
		parts = append(parts, page.El("p", page.Class("note"), page.Text("! "+c)))
	}
	return page.Join(append(parts, page.El("div", page.Class("form"), page.Join(append(starts, says("wide", "start", 0, "Start the ledger with these"), says("wide", "start", 0, "None of them was turned: start the ledger", page.Attr("data-text", "none")))...)))...)
}

// goOn is how somebody goes on against a gate that is shut.
func (s *session) goOn(gate walk.Answer) page.Markup {
	if gate.Gate.Open || gate.Against != nil {
		return page.Markup{}
	}
	return form("Go on against the gate; not with a bolt that is held", line("by", "who"), line("reason", "why"), says("wide", "against", 0, "Go on all the same, which is recorded"))
}

// ending asks how a pull that is begun has ended.
func (s *session) ending(step torque.Step) page.Markup {
	parts := []page.Part{page.El("p", page.Class("stop"), page.Text("BEGUN"))}
	done := says("wide", "done", step.Number, "Done: the whole pull was given")
	if s.begun == step.Number {
		parts = append(parts, page.El("p", page.Text("Pull now, once. When it has ended, say how.")))
	} else {
		parts = append(parts, page.El("p", page.Text("It was begun before this page was opened. Do not pull. Look at the witness mark on "+step.Bolt+", and say only what is sure.")))
		done = says("wide", "done", step.Number, "Somebody saw or felt the whole pull, and the mark bears it out: done", page.Attr("data-seen", "true"))
	}
	parts = append(parts, page.El("div", page.Class("form"), line("text", "what was reached, \"95 N·m\" or \"88..92°\"; may be empty"), done))
	ask := func(do string, m ledger.Mishap, fields ...page.Part) {
		parts = append(parts, form(capital(m.String()), append([]page.Part{page.El("p", page.Text(m.Ask()))}, append(fields, says("wide", do, step.Number, "Yes"))...)...))
	}
	ask("not moved", ledger.NotMoved)
	ask("part-way", ledger.PartWay)
	ask("slipped", ledger.Slipped)
	ask("too far", ledger.TooFar)
	ask("wrong bolt", ledger.WrongBolt, line("text", "which bolt"))
	ask("wrong step", ledger.WrongStep, line("text", "the number of the step that was done"))
	return page.Join(append(parts, form("Nobody knows how it ended", page.El("p", page.Text("Then it counts as moved part-way, which is the worst that it can be.")), says("wide", "unknown", step.Number, "Nobody knows")))...)
}

// tooSoon takes back a step that was said to be done.
func (s *session) tooSoon() page.Markup {
	return form("A step was said to be done, and was not", line("text", "the number of the step"), says("wide", "too soon, not moved", 0, "Its bolt has not moved for it"), says("wide", "too soon, part-way", 0, "It moved part-way, or nobody knows"))
}

// troubles are the bolts that hold all else, and what can be done about each.
func (s *session) troubles(all []ledger.Trouble) page.Markup {
	parts := []page.Part{stopped()}
	for _, t := range all {
		name := t.Bolt
		if name == "" {
			parts = append(parts, page.El("h3", page.Text("The tool")), page.El("p", page.Text(t.Why)), page.El("p", page.Text(t.Advice)),
				page.El("div", page.Class("form"), line("text", "which tool"), says("wide", "tool", t.Step, "It was checked, or is another")))
			continue
		}
		bolt := page.Attr("data-text", name)
		parts = append(parts, page.El("h3", page.Text(name)), page.El("p", page.Text(t.Why)), page.El("p", page.Text(t.Advice)), says("wide", "replaced", t.Step, "A new bolt is fitted", bolt))
		if !t.Scrap {
			parts = append(parts, says("wide", "loosened", t.Step, "It was backed off until it turns freely", bolt))
		}
		if t.Stays {
			parts = append(parts, form("It stays as it is, because the maker's manual says so", line("by", "who says so"), line("reason", "what the manual says"), says("wide", "kept", t.Step, "It stays", bolt)))
		}
	}
	return page.Join(append(parts, s.tooSoon())...)
}
