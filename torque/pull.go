package torque

import "example.com/closefit/units"

// A Pull is what a stage does to each bolt of its group: a [Tighten], a [Turn] or a
// [BackOff]. [PullOf] makes one. It holds a value of its own, so no later change of
// what it was made from reaches it. The zero Pull is none of the three, and [NewPlan]
// refuses it with ErrNoPull.
type Pull struct {
	do action
	_  [0]func() // two pulls are not compared with ==
}

// PullOf returns the pull that tightens, turns or backs off. A pointer to one of them
// does not compile. A target that is left out is the middle of its tolerance, and a
// tolerance of one value is none.
func PullOf[P Tighten | Turn | BackOff](p P) Pull {
	switch do := any(p).(type) {
	case Tighten:
		do.To, do.Within = aimed(do.To, do.Within), unlessPoint(do.Within, do.To)
		return Pull{do: do}
	case Turn:
		do.By, do.Within = aimed(do.By, do.Within), unlessPoint(do.Within, do.By)
		return Pull{do: do}
	}
	return Pull{do: any(p).(action)}
}

// aimed returns the target of a pull, which is the middle of its tolerance if left out.
func aimed[D units.Dimension](target units.Quantity[D], within units.Interval[D]) units.Quantity[D] {
	if target.IsZero() && within.Bounded() {
		return within.Mid()
	}
	return target
}

// unlessPoint returns the tolerance of a pull, and none for one that holds the target alone.
func unlessPoint[D units.Dimension](within units.Interval[D], target units.Quantity[D]) units.Interval[D] {
	if within.Bounded() && within.IsPoint() && aimed(target, within).Equal(within.Lo()) {
		return units.Interval[D]{}
	}
	return within
}

// Tighten returns the torque to tighten to; ok is false for another kind of pull.
func (p Pull) Tighten() (t Tighten, ok bool) {
	t, ok = p.do.(Tighten)
	return t, ok
}

// Turn returns how far to turn; ok is false for another kind of pull.
func (p Pull) Turn() (t Turn, ok bool) {
	t, ok = p.do.(Turn)
	return t, ok
}

// BackOff returns how far to loosen; ok is false for another kind of pull.
func (p Pull) BackOff() (b BackOff, ok bool) {
	b, ok = p.do.(BackOff)
	return b, ok
}

// turns reports whether p turns by an angle, so that giving it twice does harm.
func (p Pull) turns() bool {
	_, turns := p.Turn()
	return turns
}

// String says what to do: "tighten to 23 N·m".
func (p Pull) String() string { return words(p.do) }

// A Pause stops the pulling until something was waited for or looked at: a [Wait] or an
// [Inspection]. [PauseOf] makes one. The zero Pause is neither, and [NewPlan] refuses it.
type Pause struct {
	do action
	_  [0]func()
}

// PauseOf returns the pause that waits or asks. A pointer to one of them does not
// compile.
func PauseOf[P Wait | Inspection](p P) Pause { return Pause{do: any(p).(action)} }

// Wait returns how long to wait; ok is false for a check.
func (p Pause) Wait() (w Wait, ok bool) {
	w, ok = p.do.(Wait)
	return w, ok
}

// Inspection returns what to look at; ok is false for a wait.
func (p Pause) Inspection() (c Inspection, ok bool) {
	c, ok = p.do.(Inspection)
	return c, ok
}

// String says what to wait for or to look at: "wait 10m".
func (p Pause) String() string { return words(p.do) }

// An action is one of the five things that a Pull or a Pause holds, always by value.
type action interface {
	words() string
	brief() string
	// exact names the kind and gives every digit of the rest, field by field, for the
	// plan's digest.
	exact() []string
	check() *fault
	form() any // in which it travels as JSON
}

func words(do action) string {
	if do == nil {
		return "nothing"
	}
	return do.words()
}

func brief(do action) string {
	if do == nil {
		return "nothing"
	}
	return do.brief()
}
