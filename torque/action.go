package torque

import "example.com/closefit/units"

// An Action is the work of one step. A [Tighten], a [Turn] and a [BackOff] are pulls,
// each of one bolt; a [Wait] and an [Inspection] are pauses between pulls. [Do] makes an
// Action, and [As] tells which it is. Its JSON names the kind; the five kinds have no
// JSON of their own. The zero Action does nothing, and [NewPlan] refuses it.
type Action struct {
	do action
	_  [0]func() // two actions are not compared with ==
}

// Do returns the action. It keeps a copy, and a pointer does not compile. A missing
// target becomes the middle of its tolerance, and a tolerance of one value counts as
// none.
func Do[A Tighten | Turn | BackOff | Wait | Inspection](what A) Action {
	switch do := any(what).(type) {
	case Tighten:
		do.To, do.Within = aim(do.To, do.Within)
		return Action{do: do}
	case Turn:
		do.By, do.Within = aim(do.By, do.Within)
		return Action{do: do}
	}
	return Action{do: any(what).(action)}
}

// As returns the action as a Tighten, a Turn and so on; ok is false if it is of another
// kind.
//
//	turn, ok := torque.As[torque.Turn](step.Do)
func As[A Tighten | Turn | BackOff | Wait | Inspection](a Action) (what A, ok bool) {
	what, ok = any(a.do).(A)
	return what, ok
}

// aim returns the target of a pull, which is the middle of its tolerance if left out, and
// the tolerance, which is none if it holds the target alone.
func aim[D units.Dimension](target units.Quantity[D], within units.Interval[D]) (units.Quantity[D], units.Interval[D]) {
	if !within.Bounded() {
		return target, within
	}
	if target.IsZero() {
		target = within.Mid()
	}
	if within.IsPoint() && target.Equal(within.Lo()) {
		within = units.Interval[D]{}
	}
	return target, within
}

// is reports whether the action is of a kind.
func is[A action](a Action) bool {
	_, ok := a.do.(A)
	return ok
}

// kind names the action's kind.
func (a Action) kind() string {
	if a.do == nil {
		return "nothing"
	}
	return a.do.kind()
}

// pulls reports whether the action is done to a bolt.
func (a Action) pulls() bool { return is[Tighten](a) || is[Turn](a) || is[BackOff](a) }

// pauses reports whether the action is done between pulls.
func (a Action) pauses() bool { return is[Wait](a) || is[Inspection](a) }

// noAction is the fault of something else where an action belongs.
func noAction(found string) *fault {
	return &fault{kind: ErrNoPull, found: found + ", where an action belongs", fix: "give it one of tighten, turn, back off, wait and check"}
}

// noPull is the fault of another action where a pull belongs, and noPause that of another
// where a pause belongs.
func noPull(a Action) *fault {
	return &fault{kind: ErrNoPull, found: a.kind() + ", where a pull belongs", fix: "give it one of tighten, turn and back off"}
}

func noPause(a Action) *fault {
	return &fault{found: a.kind() + ", where a pause belongs", fix: "give it a wait or a check, or take it out"}
}

// String says what to do: "tighten to 23 N·m", "wait 10m".
func (a Action) String() string {
	if a.do == nil {
		return "nothing"
	}
	return a.do.words()
}

// An action is one of the five kinds, always by value.
type action interface {
	kind() string // as JSON and the digest name it
	words() string
	brief() string
	exact() []string // every digit, field by field, for the plan's digest
	check() *fault
}
