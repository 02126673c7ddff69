package torque

import (
	"fmt"
	"math/big"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"example.com/closefit/units"
)

// Tighten pulls a bolt until the wrench shows a torque.
type Tighten struct {
	To     units.Torque         // what to set the wrench to, above zero; left out, the middle of Within
	Within units.TorqueInterval // what is allowed, To in it; empty if no tolerance is given
	In     units.TorqueUnit     // the unit to print in; N·m if left out
	High   bool                 // the torque is meant although it is above 1000 N·m
}

// Turn turns a bolt further by an angle, from where the stage before left it.
type Turn struct {
	By     units.Angle         // how far, above zero; left out, the middle of Within
	Within units.AngleInterval // what is allowed, By in it; empty if no tolerance is given
	Beyond bool                // it is meant although it takes the bolt more than a full turn past snug
}

// BackOff loosens a bolt.
type BackOff struct {
	By units.Angle // how far, a full turn at the most; zero for until it turns freely
}

// Wait lets time pass, for a gasket or a sealant to settle.
type Wait struct {
	For time.Duration // above zero
	Why string        // may be empty
}

// An Inspection asks for something to be seen or measured before the work goes on.
type Inspection struct {
	Ask    string               // "does the crank turn freely by hand?"
	Within units.LengthInterval // what a measured length must lie in; empty if none is measured
	In     units.LengthUnit     // the unit to print it in; mm if left out
	IfNot  string               // what to do otherwise; "stop and find out why" if empty
}

// words returns "tighten to 23 N·m", with the tolerance if there is one.
func (t Tighten) words() string {
	s := "tighten to " + shown(t.To, t.In)
	if !t.Within.IsEmpty() {
		s += " (" + limits(t.Within, t.In) + ")"
	}
	return s
}

// words returns "turn 55° further", with the tolerance if there is one.
func (t Turn) words() string {
	s := "turn " + degrees(t.By) + " further"
	if !t.Within.IsEmpty() {
		s += " (" + degrees(t.Within.Lo()) + " to " + degrees(t.Within.Hi()) + ")"
	}
	return s
}

// words returns "back off until it turns freely" or "back off 90°".
func (b BackOff) words() string {
	if b.By.IsZero() {
		return "back off until it turns freely"
	}
	return "back off " + degrees(b.By)
}

// words returns "wait 10m" and why.
func (w Wait) words() string { return joined(w.brief(), w.Why) }

// brief returns "23 N·m".
func (t Tighten) brief() string { return shown(t.To, t.In) }

// brief returns "+55°".
func (t Turn) brief() string { return "+" + degrees(t.By) }

// brief returns "back off".
func (BackOff) brief() string { return "back off" }

// brief returns "wait 10m".
func (w Wait) brief() string { return "wait " + w.time() }

// brief returns "check".
func (Inspection) brief() string { return "check" }

// time returns the time to wait without the seconds and minutes that it has not.
func (w Wait) time() string {
	s := w.For.String()
	if strings.HasSuffix(s, "m0s") {
		s = strings.TrimSuffix(s, "0s")
	}
	if strings.HasSuffix(s, "h0m") {
		s = strings.TrimSuffix(s, "0m")
	}
	return s
}

// words returns the question, what a measured length must lie in, and what to do
// if it does not.
func (c Inspection) words() string {
	s := c.Ask
	if !c.Within.IsEmpty() {
		s += " It must be " + limits(c.Within, c.In) + "."
	}
	return s + " If not: " + c.ifNot() + "."
}

func (c Inspection) ifNot() string {
	if c.IfNot == "" {
		return "stop and find out why"
	}
	return strings.TrimSuffix(c.IfNot, ".")
}

func (t Tighten) exact() []string {
	return []string{"tighten", t.To.Exact(), exactly(t.Within), t.In.String(), strconv.FormatBool(t.High)}
}

func (t Turn) exact() []string {
	return []string{"turn", t.By.Exact(), exactly(t.Within), strconv.FormatBool(t.Beyond)}
}

func (b BackOff) exact() []string { return []string{"back off", b.By.Exact()} }
func (w Wait) exact() []string    { return []string{"wait", w.For.String(), w.Why} }

func (c Inspection) exact() []string {
	return []string{"check", c.Ask, exactly(c.Within), c.In.String(), c.IfNot}
}

// exactly returns an interval with every digit; no text for none.
func exactly[D units.Dimension](a units.Interval[D]) string {
	if a.IsEmpty() {
		return ""
	}
	return a.Exact()
}

func (t Tighten) check() *fault {
	if e := checkTarget(t.To, t.Within, "a torque"); e != nil {
		return e
	}
	return t.checkHigh()
}

func (t Turn) check() *fault { return checkTarget(t.By, t.Within, "an angle") }

func (b BackOff) check() *fault {
	switch {
	case b.By.Sign() < 0:
		return &fault{found: "a negative angle, " + degrees(b.By), fix: "write how far to loosen, without a sign"}
	case fullTurn.Less(b.By):
		return &fault{kind: ErrBeyondTurn, found: fmt.Sprintf("it backs off by %s, more than a full turn", degrees(b.By)),
			fix: "look at the unit; if it is meant, back off until it turns freely"}
	}
	return nil
}

func (w Wait) check() *fault {
	if w.For <= 0 {
		return &fault{found: fmt.Sprintf("a wait of %s", w.For), fix: "write a time above zero"}
	}
	return checkText(w.Why)
}

func (c Inspection) check() *fault {
	if strings.TrimSpace(c.Ask) == "" {
		return &fault{found: "a check that asks nothing", fix: "write the question"}
	}
	return checkText(c.Ask + c.IfNot)
}

// checkTarget checks that a target is above zero and lies in its tolerance.
func checkTarget[D units.Dimension](target units.Quantity[D], within units.Interval[D], what string) *fault {
	switch {
	case !within.IsEmpty() && !within.Bounded():
		return &fault{found: fmt.Sprintf("a tolerance of %s", within), fix: "write both of its bounds"}
	case target.Sign() <= 0:
		return &fault{found: fmt.Sprintf("%s of %s", what, target), fix: "write one above zero"}
	case !within.IsEmpty() && !within.Contains(target):
		return &fault{found: fmt.Sprintf("a target of %s outside its own tolerance, %s", target, within), fix: "write a target in it"}
	}
	return nil
}

// longestText bounds a name and a question, in bytes.
const longestText = 500

// checkText refuses what would break a line of a plan or a ledger, or play tricks on
// a terminal.
func checkText(s string) *fault {
	if len(s) > longestText {
		return &fault{found: fmt.Sprintf("a text of %d bytes, %q…", len(s), s[:20]), fix: fmt.Sprintf("write at most %d", longestText)}
	}
	if !utf8.ValidString(s) {
		return &fault{found: fmt.Sprintf("%q, which is not UTF-8", s), fix: "save the text so"}
	}
	for _, r := range s {
		if !unicode.IsPrint(r) && !unicode.Is(unicode.Zs, r) {
			return &fault{found: fmt.Sprintf("the character %U in %q", r, s), fix: "write it on one line, without tabs"}
		}
	}
	return nil
}

// shown returns a quantity in the unit, with the digits it has, or, if it has more than
// four places, two places marked "≈", and more for less
// than one.
func shown[D units.Dimension](q units.Quantity[D], in units.Unit[D]) string {
	if places, finite := q.Rat(in).FloatPrec(); finite && places <= 4 {
		return q.Format(in, int32(places), units.HalfEven)
	}
	places := int32(2)
	for tenth := in.OfInt(1); places < 12 && q.Abs().Less(tenth); tenth = tenth.MulRat(big.NewRat(1, 10)) {
		places++
	}
	return "≈" + q.Format(in, places, units.HalfEven)
}

// limits returns an interval in the unit.
func limits[D units.Dimension](a units.Interval[D], in units.Unit[D]) string {
	switch {
	case a.Bounded():
		return shown(a.Lo(), in) + " to " + shown(a.Hi(), in)
	case a.HasLo():
		return "at least " + shown(a.Lo(), in)
	case a.HasHi():
		return "at most " + shown(a.Hi(), in)
	}
	return a.String()
}

// degrees returns an angle as "90°".
func degrees(a units.Angle) string { return strings.Replace(a.String(), " °", "°", 1) }

// joined joins with a comma what is not empty.
func joined(parts ...string) string {
	var kept []string
	for _, p := range parts {
		if p != "" {
			kept = append(kept, p)
		}
	}
	return strings.Join(kept, ", ")
}
