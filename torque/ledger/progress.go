package ledger

import (
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"example.com/closefit/torque"
)

// progress is how far a plan has been carried out.
type progress struct {
	plan   *torque.Plan
	status []Status // of each step
	next   int      // the first step that is neither done nor skipped, as an index
	done   int      // how many are done
	skips  int      // how many are skipped
	open   int      // the number of the step that is begun; 0 if none

	began   time.Time     // when the open step was begun
	late    time.Duration // by how much later it may have been; 0 if this program began it
	beganUp uptime        // of the machine at that time, if a wait was begun and the system tells

	bolts     map[string]*bolt // of those that have had more than their done steps say, or are in trouble
	troubled  []string         // the bolts in trouble, as it came
	slipped   bool             // the tool slipped, and was not checked since
	slippedIn int              // the step; 0 if the plan has it no longer
	replaced  map[string]bool  // the bolts in whose place a new one was fitted
	tool      Tool
	notes     []string
	layout    *layout              // of the plan, once it is asked for
	reached   map[string]pullKinds // details of a finish that are good, and of what steps
}

// newProgress returns the progress of a plan of which nothing is done.
func newProgress(p *torque.Plan) *progress {
	return &progress{plan: p, status: make([]Status, len(p.Steps())), bolts: map[string]*bolt{}, replaced: map[string]bool{}, reached: map[string]pullKinds{}}
}

// step returns the step of a number that the plan has.
func (p *progress) step(number int) torque.Step {
	s, _ := p.plan.Step(number)
	return s
}

// statusOf returns the status of a step; Unknown of one that went wrong and left its bolt in
// trouble.
func (p *progress) statusOf(number int) Status {
	if number < 1 || number > len(p.status) {
		return Pending
	}
	for _, name := range p.troubled {
		if p.bolts[name].trouble.Step == number {
			return Unknown
		}
	}
	return p.status[number-1]
}

func (p *progress) finished() bool { return p.done+p.skips == len(p.status) }

func (p *progress) nextStep() (s torque.Step, ok bool) {
	if p.finished() {
		if len(p.troubled) == 0 {
			return torque.Step{}, false
		}
		numbers, _ := p.plan.StepsOf(p.troubled[0]) // they begin again once the bolt is mended
		return p.step(numbers[0]), true
	}
	return p.step(p.next + 1), true
}

// waitOf returns the wait of a step; ok is false if it is none.
func (p *progress) waitOf(number int) (w torque.Wait, ok bool) {
	s, ok := p.plan.Step(number)
	if !ok {
		return w, false
	}
	return torque.As[torque.Wait](s.Do)
}

// waitOver returns when the wait that is begun will be over, by the clock of the machine as
// it stands; ok is false if none is begun.
func (p *progress) waitOver(now time.Time, up uptime) (at time.Time, ok bool) {
	wait, ok := p.waitOf(p.open)
	if !ok {
		return time.Time{}, false
	}
	waited, _ := p.waited(now, up)
	return now.Add(wait.For - waited), true
}

// waited returns for how long the open step has certainly gone on. What nobody can set counts
// where there is one: this program's own clock, which may stand while the machine sleeps, and
// the machine's uptime, in whole seconds, since the same start; the longer of the two. Else
// the clock of the machine counts; the time is negative if that was set back.
func (p *progress) waited(now time.Time, up uptime) (waited time.Duration, sure bool) {
	if p.late == 0 {
		waited, sure = now.Sub(p.began), true
	}
	if up.Boot != "" && up.Boot == p.beganUp.Boot {
		since := time.Duration(up.Seconds-p.beganUp.Seconds-1) * time.Second
		waited, sure = max(waited, since), true
	}
	if sure {
		return waited, true
	}
	return now.Sub(p.began) - p.late, false
}

// check returns why h cannot happen now: an error without a path. Nothing that check lets
// pass is refused when the ledger is read again.
func (p *progress) check(h happening) error {
	switch h.event {
	case begin, finish, answerNo, skip:
		return p.checkStep(h)
	case replace, loosen, keep, doubt:
		return p.checkBolt(h)
	case useTool, note, takeOver, revise:
		return p.checkOther(h)
	}
	if m, ok := h.event.mishap(); ok {
		return p.checkMishap(h, m)
	}
	return fault{kind: ErrRefused, found: fmt.Sprintf("%q cannot be recorded here", h.event), fix: "record what happened to a step or a bolt"}.err()
}

// longestText bounds a text, in bytes.
const longestText = 32 << 10

// checkText refuses a text that would break a line.
func checkText(text, what string) error {
	fail := func(found, fix string) error { return fault{kind: ErrRefused, found: found, fix: fix}.err() }
	switch i := strings.IndexFunc(text, unicode.IsControl); {
	case len(text) > longestText:
		return fail(fmt.Sprintf("%s of %d bytes", what, len(text)), fmt.Sprintf("write at most %d", longestText))
	case !utf8.ValidString(text):
		return fail(what+" that is not UTF-8", "write it as UTF-8")
	case i >= 0:
		return fail(fmt.Sprintf("the character %U in %s", []rune(text[i:])[0], what), "write it on one line, without tabs")
	}
	return nil
}

// checkNote refuses what would break a line, and a text that is "-" alone, which is how a
// ledger writes that there is none.
func checkNote(text string) error {
	switch text {
	case "":
		return fault{kind: ErrRefused, found: "an empty note", fix: "say what there is to remember"}.err()
	case "-":
		return fault{kind: ErrRefused, found: `"-", which stands for no note`, fix: "say what there is to remember"}.err()
	}
	return checkText(text, "a note")
}

// checkOther checks what concerns no step and no bolt.
func (p *progress) checkOther(h happening) error {
	if h.step != 0 || h.bolt != "" {
		return fault{kind: ErrRefused, step: h.step, bolt: h.bolt, found: fmt.Sprintf("%q is of no step and no bolt", h.event), fix: "name neither"}.err()
	}
	switch h.event {
	case note:
		return checkNote(h.detail)
	case useTool:
		t, err := detailOf[Tool](h)
		if err != nil {
			return err
		}
		return t.check()
	case takeOver:
		t, err := detailOf[takenOver](h)
		if err != nil {
			return err
		}
		return Word{t.By, t.Reason}.check()
	}
	return p.checkRevision(h)
}

// checkStep checks the beginning and the end of a step.
func (p *progress) checkStep(h happening) error {
	step, at, err := p.stepNamed(h)
	if err != nil {
		return err
	}
	status := p.status[h.step-1]
	switch {
	case status == Done, status == Skipped:
		return at.fail(ErrRefused, "the step is "+status.String()+" already", "do not do it again; go on with the next step")
	case status == Begun && h.event == begin:
		return at.fail(ErrRefused, "the step is begun already", "say how it ended: done, or what went wrong")
	case status == Begun:
		return p.checkEnd(h, step, at)
	case h.event != begin:
		return at.fail(ErrRefused, "the step was not begun", "begin it before the pull, so that an interruption is known of")
	case p.open != 0:
		return p.busy(at)
	case len(p.troubled) > 0 || p.slipped:
		t := p.troubles()[0]
		return at.fail(ErrInDoubt, strings.TrimPrefix(t.Bolt+": "+t.Why, ": "), t.Advice)
	case h.step != p.next+1:
		return at.fail(ErrRefused, "it is not its turn", fmt.Sprintf("do step %d first: %s", p.next+1, p.step(p.next+1)))
	}
	return p.checkBeginning(h, at)
}

// A spot is where an error is: a step, a bolt, or both.
type spot struct {
	step int
	bolt string
}

func (at spot) fail(kind error, found, fix string) error {
	return fault{kind: kind, step: at.step, bolt: at.bolt, found: found, fix: fix}.err()
}

// stepNamed returns the step of a happening, and where it is. The step has to be one of the
// plan, with its own bolt.
func (p *progress) stepNamed(h happening) (step torque.Step, at spot, err error) {
	step, ok := p.plan.Step(h.step)
	if !ok {
		return step, at, fault{kind: ErrNotInPlan, found: fmt.Sprintf("the plan has no step %d", h.step), fix: fmt.Sprintf("name a step from 1 to %d", len(p.status))}.err()
	}
	at = spot{h.step, step.Bolt}
	if h.bolt != step.Bolt {
		return step, at, at.fail(ErrNotInPlan, fmt.Sprintf("it is named with the bolt %q", h.bolt), "name the step's own bolt")
	}
	return step, at, nil
}

// checkBeginning checks the detail of a beginning, which only a wait has.
func (p *progress) checkBeginning(h happening, at spot) error {
	if h.detail == "" {
		return nil
	}
	if _, waits := p.waitOf(h.step); !waits {
		return at.fail(ErrRefused, "only the beginning of a wait keeps an uptime", "record it without")
	}
	up, err := detailOf[uptime](h)
	if err != nil {
		return err
	}
	return up.check()
}

// checkEnd checks the end of a step that is begun.
func (p *progress) checkEnd(h happening, step torque.Step, at spot) error {
	wait, waits := torque.As[torque.Wait](step.Do)
	_, checks := torque.As[torque.Inspection](step.Do)
	switch {
	case h.event == skip && !waits:
		return at.fail(ErrRefused, "only a wait can be skipped", "do it, or say what went wrong")
	case h.event == answerNo && !checks:
		return at.fail(ErrRefused, "only a check is answered no", "say what went wrong")
	case h.event != finish && h.detail != "":
		return at.fail(ErrRefused, fmt.Sprintf("%q has no detail", h.event), "record it without")
	case h.event == finish && h.detail != "":
		if err := p.checkReached(h, step, at); err != nil {
			return err
		}
	}
	if h.event != finish || !waits || h.at.IsZero() {
		return nil
	}
	const clock = "2006-01-02 15:04:05"
	over, _ := p.waitOver(h.at, h.up)
	switch waited, _ := p.waited(h.at, h.up); {
	case waited < -p.late:
		return at.fail(ErrTooSoon, fmt.Sprintf("the clock says %s, and the wait began at %s: it was set back, and nobody knows how long the wait was",
			h.at.Local().Format(clock), p.began.Local().Format(clock)),
			"set the clock right; or say that it was not done and begin the wait again, or that it was skipped")
	case waited < wait.For:
		return at.fail(ErrTooSoon, fmt.Sprintf("%s of %s are over", max(waited, 0).Truncate(time.Second), strings.TrimPrefix(step.Brief(), "wait ")),
			fmt.Sprintf("wait until %s, or say that it was skipped", over.Local().Format(clock)))
	}
	return nil
}

// checkReached checks what was reached. The same is read once: most steps say the same.
func (p *progress) checkReached(h happening, step torque.Step, at spot) error {
	kind := kindOf(step.Do)
	if p.reached[h.detail]&kind != 0 {
		return nil
	}
	r, err := detailOf[Reached](h)
	if err == nil {
		err = r.check(step, at)
	}
	if err != nil {
		return err
	}
	const most = 4096 // remembered; the rest is read each time
	if _, known := p.reached[h.detail]; known || len(p.reached) < most {
		p.reached[h.detail] |= kind
	}
	return nil
}

// busy returns the error of something that has to wait for the step that is begun.
func (p *progress) busy(at spot) error {
	return at.fail(ErrRefused, fmt.Sprintf("step %d is begun, and its end not said", p.open), "say first how it ended: "+p.step(p.open).String())
}

// apply makes h happen. It has been checked.
func (p *progress) apply(h happening) {
	switch h.event {
	case begin:
		p.status[h.step-1] = Begun
		p.open, p.began, p.late, p.beganUp = h.step, h.at, h.late, uptime{}
		if h.detail != "" {
			p.beganUp, _ = detailOf[uptime](h)
		}
	case finish:
		p.end(h.step, Done)
		if h.bolt != "" && len(p.bolts) > 0 {
			p.freed(p.step(h.step))
		}
	case skip:
		p.end(h.step, Skipped)
	case answerNo:
		p.end(h.step, Failed)
	case replace:
		p.refit(h.bolt, true)
	case loosen:
		p.refit(h.bolt, false)
	case keep:
		p.settle(h.bolt)
	case doubt:
		p.doubt(h.bolt, h.detail)
	case useTool:
		p.slipped, p.slippedIn = false, 0
		p.tool, _ = detailOf[Tool](h)
	case note:
		p.notes = append(p.notes, h.detail)
	case revise:
		p.revise(h)
	default:
		if m, ok := h.event.mishap(); ok {
			p.mishap(h, m)
		}
	}
}

// end gives the open step its status.
func (p *progress) end(number int, s Status) {
	p.open = 0
	p.set(number, s)
}

// set gives a step its status, and keeps what is counted with it.
func (p *progress) set(number int, s Status) {
	count := func(s Status, by int) {
		switch s {
		case Done:
			p.done += by
		case Skipped:
			p.skips += by
		}
	}
	count(p.status[number-1], -1)
	count(s, 1)
	p.status[number-1] = s
	if s != Done && s != Skipped {
		p.next = min(p.next, number-1)
	}
	for p.next < len(p.status) && (p.status[p.next] == Done || p.status[p.next] == Skipped) {
		p.next++
	}
}

// again makes a step pending, and every pause that was made after it.
func (p *progress) again(number int) {
	p.set(number, Pending)
	p.pausesAgain(number)
}

// pausesAgain makes every pause after a step pending.
func (p *progress) pausesAgain(number int) {
	first, _ := slices.BinarySearch(p.laidOut().pauses, number)
	for _, n := range p.laidOut().pauses[first:] {
		if p.status[n-1] != Pending && n != p.open {
			p.set(n, Pending)
		}
	}
}
