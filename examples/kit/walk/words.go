package walk

import (
	"encoding/json"
	"fmt"
	"iter"
	"maps"
	"slices"
	"strings"
	"time"

	"example.com/closefit/torque"
	"example.com/closefit/torque/ledger"
	"example.com/closefit/units"
)

// Skipped says how many waits were skipped, if any were.
func Skipped(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprintf(", %d skipped", n)
}

// Check holds what a pull reached, which the ledger keeps, against what is known of its bolt, as
// Compare does. Where it does not fit, stop is true, and the ledger notes it. Of a pull of which
// nothing was measured it says nothing: that is asked, and left open knowingly.
func (b Bolts) Check(l *ledger.Ledger, step torque.Step, r ledger.Reached) (said []string, stop bool, err error) {
	if r.Torque.IsEmpty() && r.Angle.IsEmpty() {
		return nil, false, nil
	}
	said = b.Compare(l.Plan, step, r.Torque, r.Angle)
	for _, line := range said {
		if err == nil && strings.HasPrefix(line, "STOP.") {
			stop = true
			err = l.Note(fmt.Sprintf("step %d: %s", step.Number, line))
		}
	}
	return said, stop, err
}

// Leads says what a mishap that was recorded leads to, where it leads to no trouble.
func Leads(l *ledger.Ledger, what ledger.What) string {
	said := fmt.Sprintf("Recorded of step %d: %s", what.Step, what.Mishap)
	switch {
	case what.Bolt != "":
		said += fmt.Sprintf(" (%s)", what.Bolt)
	case what.Instead != 0:
		said += fmt.Sprintf(" (step %d)", what.Instead)
	}
	said += "."
	if len(l.Troubles()) > 0 {
		return said + " It holds what follows until it is put right."
	}
	return said + " No bolt is the worse for it."
}

// Last says what a ledger records last of the work, and below it what did not fit at any pull and
// is not settled; nothing if the work has not begun.
func Last(entries []ledger.Entry) (last string) {
	for e, plan := range entriesOf(entries) {
		if e.What != "note" && e.What != "plan" {
			about, particulars := on(plan, e)
			for i := range about { // a check ends with a full stop
				about[i] = strings.TrimSuffix(about[i], ".")
			}
			last = strings.Join(slices.Concat(about, []string{wordOf(e.What)}, particulars), "; ")
		}
	}
	for _, m := range misfits(entries) {
		last += "\n" + m.text
	}
	return last
}

// wordOf is the word for what an entry records, after the step or the bolt.
func wordOf(what string) string {
	switch what {
	case "begin":
		return "begun"
	case "no":
		return "answered no"
	}
	return what
}

// misfits returns what did not fit at any pull and is not settled.
func misfits(entries []ledger.Entry) (open []misfit) {
	for e, plan := range entriesOf(entries) {
		open = slices.DeleteFunc(open, func(m misfit) bool { return m.settledBy(e) })
		if e.What == "note" && strings.Contains(e.Detail, misfitting) {
			open = append(open, misfitOf(e, plan))
		}
		if e.What == "revised" { // the steps have other numbers from here
			for i := range open {
				open[i].step = 0
			}
		}
	}
	return open
}

// Unsettled returns the steps at which something did not fit of which nobody knows why.
func Unsettled(entries []ledger.Entry) (steps []int) {
	for _, m := range misfits(entries) {
		if m.step != 0 && !slices.Contains(steps, m.step) {
			steps = append(steps, m.step)
		}
	}
	return steps
}

// Settle records that it is known why what a step reached does not fit, and that its bolt is good.
// Where nothing is open at the step there is nothing to record, and the error says so.
func Settle(l *ledger.Ledger, entries []ledger.Entry, step int) error {
	if !slices.Contains(Unsettled(entries), step) {
		return &units.Error{Kind: ledger.ErrRefused, Where: fmt.Sprintf("step %d", step), Found: "nothing that does not fit, or it is settled", Fix: "there is nothing to say of it"}
	}
	return l.Note(knownWhy(step))
}

// A misfit is what did not fit at a pull. It stays until its bolt is replaced or backed off, its step
// is done again, or somebody says that it is known why.
type misfit struct {
	step int // 0 if it has no number any more
	bolt string
	text string
}

func misfitOf(e ledger.Entry, plan *torque.Plan) misfit {
	m := misfit{text: e.Detail}
	if _, err := fmt.Sscanf(e.Detail, "step %d"+misfitting, &m.step); err == nil && plan != nil {
		step, _ := plan.Step(m.step)
		m.bolt = step.Bolt
	}
	return m
}

// knownWhy is the note by which somebody settles what did not fit at a step.
func knownWhy(step int) string {
	return fmt.Sprintf("step %d: it is known why, and the bolt is good", step)
}

func (m misfit) settledBy(e ledger.Entry) bool {
	switch e.What {
	case "replaced", "loosened":
		return m.bolt != "" && e.Bolt == m.bolt
	case "begin", ledger.TooSoonNotMoved.String(), ledger.TooSoonPartWay.String():
		return m.step != 0 && e.Step == m.step
	case "note":
		return m.step != 0 && e.Detail == knownWhy(m.step)
	}
	return false
}

// ToolOf returns the tool that a ledger records last; nil if it records none.
func ToolOf(entries []ledger.Entry) *ledger.Tool {
	for _, e := range slices.Backward(entries) {
		tool := new(ledger.Tool)
		if e.What == "tool" && json.Unmarshal([]byte(e.Detail), tool) == nil {
			return tool
		}
	}
	return nil
}

// misfitting is what the note of a pull that does not fit its bolt has in it.
const misfitting = ": STOP. "

// History returns the lines of a ledger for reading, each with what its step asked for when it
// was written: a plan that was corrected since has other steps.
func History(entries []ledger.Entry) (lines []string) {
	for e, plan := range entriesOf(entries) {
		about, particulars := on(plan, e)
		lines = append(lines, fmt.Sprintf("%s  %-10s  %s", e.Time.Local().Format(time.DateTime), e.What, strings.Join(append(about, particulars...), "; ")))
	}
	return lines
}

// entriesOf goes through entries, each with the plan that it belongs to, and its particulars.
func entriesOf(entries []ledger.Entry) iter.Seq2[ledger.Entry, *torque.Plan] {
	return func(yield func(ledger.Entry, *torque.Plan) bool) {
		var plan *torque.Plan
		for _, e := range entries {
			switch e.What {
			case "plan":
				plan = planIn(e.Detail)
			case "revised":
				var revised struct{ Plan json.RawMessage }
				if json.Unmarshal([]byte(e.Detail), &revised) == nil {
					plan = planIn(string(revised.Plan))
				}
			}
			if !yield(e, plan) {
				return
			}
		}
	}
}

// planIn reads a plan that a ledger holds.
func planIn(text string) *torque.Plan {
	plan := new(torque.Plan)
	if json.Unmarshal([]byte(text), plan) != nil {
		return nil
	}
	return plan
}

// particulars are what the records of a ledger may hold beside step and bolt, each a key of its
// own.
type particulars struct {
	Torque  units.TorqueInterval
	Angle   units.AngleInterval
	By      string
	Bolt    string
	Instead int
	Name    string
	Set     string
	Cert    string `json:"certificate"`
	Reason  string
	Found   string
	Choices map[string]string
}

// on says what an entry is about, its plan, its step or its bolt, and its particulars.
func on(plan *torque.Plan, e ledger.Entry) (about, all []string) {
	if e.What == "note" {
		return nil, []string{gateSaid(e.Detail)}
	}
	say := func(format string, args ...any) { all = append(all, fmt.Sprintf(format, args...)) }
	if plan != nil && (e.What == "plan" || e.What == "revised") {
		say("%s (plan %.12s)", plan.Name(), plan.Digest())
	}
	step, ok := torque.Step{}, false
	if plan != nil {
		step, ok = plan.Step(e.Step)
	}
	switch {
	case ok:
		say("%s", step)
	case e.Bolt != "":
		say("%s", e.Bolt)
	}
	about, all = all, nil
	if e.What == "doubt" {
		say("%s", e.Detail)
	}
	var p particulars
	if e.What != "plan" && e.What != "doubt" {
		json.Unmarshal([]byte(e.Detail), &p) // what is not there is not said
	}
	for _, part := range []struct{ format, text string }{
		{"%s", p.Name}, {"set to %s", p.Set}, {"certificate %s", p.Cert}, {"instead: %s", p.Bolt},
	} {
		if part.text != "" {
			say(part.format, part.text)
		}
	}
	if p.Instead != 0 {
		say("instead: step %d", p.Instead)
	}
	if !p.Torque.IsEmpty() {
		say("reached %s", p.Torque)
	}
	if !p.Angle.IsEmpty() {
		say("turned %s", p.Angle)
	}
	for _, bolt := range slices.Sorted(maps.Keys(p.Choices)) {
		say("%s: %s", bolt, p.Choices[bolt])
	}
	if p.Found != "" {
		say("%s", p.Found)
	}
	switch {
	case p.Reason != "":
		say("%s: %s", p.By, p.Reason)
	case p.By != "":
		say("by %s", p.By)
	}
	return about, all
}
