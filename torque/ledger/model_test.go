package ledger

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/torque"
	"example.com/closefit/units"
)

// model is a ledger told as a list of what was acknowledged, with everything worked
// out from the list anew each time. It is the plain reference that the ledger is
// compared with.
type model struct {
	plan   *torque.Plan
	events []happening
}

// What is refused without a kind of its own, by what the error says was found.
var (
	errNoSuchBolt   = errors.New("the plan has no such bolt")
	errNoSuchStep   = errors.New("the plan has no step")
	errScrap        = errors.New("cannot be used again")
	errOtherBegun   = errors.New("is begun and not done")
	errAlreadyDone  = errors.New("the step is done already")
	errAlreadySkip  = errors.New("the step is skipped already")
	errAlreadyBegun = errors.New("the step is begun already")
	errNotBegun     = errors.New("the step was not begun")
	errNotWait      = errors.New("only a wait can be skipped")
	errOutOfOrder   = errors.New("it is not its turn")
)

// isOf reports whether an error is of a kind, one of the above among them, or none is wanted
// and none is there.
func isOf(err, want error) bool {
	if errors.Is(err, want) {
		return true
	}
	var e *units.Error
	return want != nil && errors.As(err, &e) && (e.Kind == ErrRefused || e.Kind == ErrNotInPlan) && strings.Contains(e.Found, want.Error())
}

// stepOf returns a step that the plan has.
func stepOf(p *torque.Plan, number int) torque.Step {
	s, ok := p.Step(number)
	if !ok {
		panic(fmt.Sprintf("the plan has no step %d", number))
	}
	return s
}

// status works out the status of a step from all that happened.
func (m *model) status(n int) Status {
	step := stepOf(m.plan, n)
	_, turn := torque.As[torque.Turn](step.Do)
	status := Pending
	for i, e := range m.events {
		switch {
		case e.step == n:
			switch e.event {
			case begin:
				status = Begun
			case finish:
				status = Done
			case skip:
				status = Skipped
			case stop, lose:
				status = Pending
				if turn {
					status = Unknown
				}
			}
		case e.event != replace && e.event != loosen:
		case e.bolt == step.Bolt:
			status = Pending
		case step.Bolt == "":
			// A pause is undone if the bolt had been pulled before it.
			numbers, _ := m.plan.StepsOf(e.bolt)
			first := numbers[0]
			before := &model{m.plan, m.events[:i]}
			if first < n && before.status(first) != Pending {
				status = Pending
			}
		}
	}
	return status
}

// open returns the step that is begun or in doubt, or 0, and whether it was held.
func (m *model) open() (number int, held bool) {
	for n := range len(m.plan.Steps()) {
		if s := m.status(n + 1); s == Begun || s == Unknown {
			for _, e := range m.events {
				if e.step == n+1 {
					held = e.event == hold
				}
			}
			return n + 1, held
		}
	}
	return 0, false
}

// crash is what opening the ledger again adds after a program that did not close it.
func (m *model) crash() {
	if n, held := m.open(); n != 0 && m.status(n) == Begun && !held {
		m.add(lose, n)
	}
}

// exit is what closing the ledger adds.
func (m *model) exit() {
	if n, held := m.open(); n != 0 && m.status(n) == Begun && !held {
		m.add(hold, n)
	}
}

func (m *model) add(e event, n int) {
	m.events = append(m.events, happening{event: e, step: n, bolt: stepOf(m.plan, n).Bolt})
}

// next returns the first step that is not done, or 0.
func (m *model) next() int {
	for n := range len(m.plan.Steps()) {
		if s := m.status(n + 1); s != Done && s != Skipped {
			return n + 1
		}
	}
	return 0
}

// kind returns the kind of error with which h has to be refused, or nil.
func (m *model) kind(h happening) error {
	open, _ := m.open()
	if h.event == replace || h.event == loosen {
		numbers, _ := m.plan.StepsOf(h.bolt)
		switch {
		case numbers == nil:
			return errNoSuchBolt
		case open != 0 && stepOf(m.plan, open).Bolt != h.bolt && m.status(open) == Unknown:
			return ErrInDoubt
		case open != 0 && stepOf(m.plan, open).Bolt != h.bolt:
			return errOtherBegun
		}
		if h.event == loosen && m.spent(h.bolt) {
			return errScrap
		}
		return nil
	}
	if h.step < 1 || h.step > len(m.plan.Steps()) {
		return errNoSuchStep
	}
	switch m.status(h.step) {
	case Done:
		return errAlreadyDone
	case Skipped:
		return errAlreadySkip
	case Unknown:
		return ErrInDoubt
	case Begun:
		if h.event == begin {
			return errAlreadyBegun
		}
		if _, wait := torque.As[torque.Wait](stepOf(m.plan, h.step).Do); h.event == skip && !wait {
			return errNotWait
		}
		return nil
	}
	switch {
	case h.event != begin:
		return errNotBegun
	case open != 0 && m.status(open) == Unknown:
		return ErrInDoubt
	case open != 0:
		return errOtherBegun
	case h.step != m.next():
		return errOutOfOrder
	}
	return nil
}

// spent reports whether a bolt of a single-use group has had a turn begun, or, where the
// group has none, its greatest torque, since it was last replaced.
func (m *model) spent(bolt string) (spent bool) {
	for _, e := range m.events {
		if e.bolt != bolt {
			continue
		}
		if e.event == replace {
			spent = false
		}
		if e.event != begin {
			continue
		}
		groups := m.plan.Groups()
		group := groups[slices.IndexFunc(groups, func(g torque.Group) bool { return g.Name == stepOf(m.plan, e.step).Group })]
		if group.Use != torque.SingleUse {
			continue
		}
		turns, greatest := false, units.Torque{}
		for _, s := range group.Stages {
			if _, is := torque.As[torque.Turn](s.Pull); is {
				turns = true
			}
			if t, is := torque.As[torque.Tighten](s.Pull); is && greatest.Less(t.To) {
				greatest = t.To
			}
		}
		pull := stepOf(m.plan, e.step).Do
		if _, is := torque.As[torque.Turn](pull); is {
			spent = true
		}
		if t, is := torque.As[torque.Tighten](pull); is && !turns && t.To.Equal(greatest) {
			spent = true
		}
	}
	return spent
}

// compare returns what of p is not as the model has it.
func (m *model) compare(p *progress) error {
	done, skipped := 0, 0
	for n := 1; n <= len(m.plan.Steps()); n++ {
		if got, want := p.statusOf(n), m.status(n); got != want {
			return fmt.Errorf("step %d is %v, want %v, after %v", n, got, want, m.events)
		}
		if m.status(n) == Done {
			done++
		}
		if m.status(n) == Skipped {
			skipped++
		}
	}
	if p.done != done || p.skips != skipped || p.finished() != (done+skipped == len(m.plan.Steps())) {
		return fmt.Errorf("%d done and %d skipped, want %d and %d", p.done, p.skips, done, skipped)
	}
	step, ok := p.nextStep()
	if want := m.next(); ok != (want != 0) || step.Number != want {
		return fmt.Errorf("step %d is next, want %d", step.Number, want)
	}
	open, _ := m.open()
	turn, _, ok := p.trouble()
	if want := open != 0 && m.status(open) == Unknown; ok != want || ok && turn.Number != open {
		return fmt.Errorf("trouble %v %v, want %v with step %d", ok, turn, want, open)
	}
	return nil
}
