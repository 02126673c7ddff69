package torque

// A Pull is what a stage does to each bolt of its group: a [Tighten], a [Turn] or a
// [BackOff]. [PullOf] makes one. It holds a value of its own, so no later change of
// what it was made from reaches it. The zero Pull is none of the three, and [NewPlan]
// refuses it with ErrNoPull.
type Pull struct {
	do action
	_  [0]func() // two pulls are not compared with ==
}

// PullOf returns the pull that tightens, turns or backs off. A pointer to one of them
// does not compile.
func PullOf[P Tighten | Turn | BackOff](p P) Pull { return Pull{do: any(p).(action)} }

// IsZero reports whether p is the zero Pull, which does nothing.
func (p Pull) IsZero() bool { return p.do == nil }

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

// Brief says it in so few letters that they can be shown large: "23 N·m".
func (p Pull) Brief() string { return brief(p.do) }

// A Pause stops the pulling until something was waited for or looked at: a [Wait] or a
// [Check]. [PauseOf] makes one. The zero Pause is neither, and [NewPlan] refuses it.
type Pause struct {
	do action
	_  [0]func()
}

// PauseOf returns the pause that waits or asks. A pointer to one of them does not
// compile.
func PauseOf[P Wait | Check](p P) Pause { return Pause{do: any(p).(action)} }

// IsZero reports whether p is the zero Pause, which asks for nothing.
func (p Pause) IsZero() bool { return p.do == nil }

// Wait returns how long to wait; ok is false for a check.
func (p Pause) Wait() (w Wait, ok bool) {
	w, ok = p.do.(Wait)
	return w, ok
}

// Check returns what to look at; ok is false for a wait.
func (p Pause) Check() (c Check, ok bool) {
	c, ok = p.do.(Check)
	return c, ok
}

// String says what to wait for or to look at: "wait 10m".
func (p Pause) String() string { return words(p.do) }

// Brief says it in so few letters that they can be shown large: "check".
func (p Pause) Brief() string { return brief(p.do) }

// An action is one of the five things that a Pull or a Pause holds, always by value.
type action interface {
	String() string
	Brief() string
	// exact names the kind and gives every digit of the rest, field by field, for the
	// plan's digest.
	exact() []string
	check() error
}

func words(do action) string {
	if do == nil {
		return "nothing"
	}
	return do.String()
}

func brief(do action) string {
	if do == nil {
		return "nothing"
	}
	return do.Brief()
}
