package lesson

import (
	"hash/fnv"
	"math/big"
	"math/rand/v2"
	"strconv"
	"strings"

	"example.com/closefit/units"
)

// An Exercise is a task with the numbers of one seed.
type Exercise struct {
	Task    string        // what is asked
	Given   [][2]string   // names and values
	Write   string        // how the answer is to be written
	Right   string        // an answer that is right
	Usual   []Mistake     // what usual mistakes lead to
	Working units.Working // how to come to the answer
	judge   func(typed string) Answer
}

// A Mistake is a usual one, with the answer that it leads to.
type Mistake struct{ Answer, Why string }

// An Answer is what was found about a student's answer.
type Answer struct {
	Right  bool   `json:"right"`
	Reason string `json:"reason"`
}

// Judge judges what a student typed.
func (e *Exercise) Judge(typed string) Answer { return e.judge(typed) }

// MaxSeed is the largest seed.
const MaxSeed = 999_999

// Exercises returns the two exercises for a seed from 0 to MaxSeed.
func (l *Lesson) Exercises(seed int64) ([2]Exercise, error) {
	var both [2]Exercise
	if seed < 0 || seed > MaxSeed {
		return both, &units.Error{Kind: ErrNoSuch, Where: "seed", Found: strconv.FormatInt(seed, 10), Fix: "a whole number from 0 to " + strconv.Itoa(MaxSeed)}
	}
	for i, draw := range l.exercises {
		h := fnv.New64a()
		h.Write([]byte(l.Key + strconv.Itoa(i)))
		d := &draws{rand.New(rand.NewPCG(uint64(seed), h.Sum64()))}
		for {
			if s := draw(d); s.clear() {
				both[i] = s.set()
				break
			}
		}
	}
	return both, nil
}

// draws draws numbers.
type draws struct{ *rand.Rand }

// from is a whole number of a range, both ends included, in steps.
func (d *draws) from(lo, hi, step int64) int64 { return lo + step*d.Int64N((hi-lo)/step+1) }

// setter is a task that was drawn, whose numbers may still be mistaken for each other.
type setter interface {
	clear() bool
	set() Exercise
}

// rounding is how an answer is rounded, and to which side it may therefore lie.
type rounding uint8

const (
	inward  rounding = iota // both ends of limits
	outward                 // both ends of a reading
	up                      // one value
	down
	nearest
)

// task is an exercise whose answer is a quantity.
type task[D units.Dimension] struct {
	text     string
	given    [][2]string
	working  units.Working
	unit     units.Unit[D]
	places   int32
	round    rounding
	exact    units.Interval[D] // two ends, or one value; of one known in float64, where it lies
	mistakes []mistake[D]
}

type mistake[D units.Dimension] struct {
	exact units.Interval[D]
	why   string
}

// taskIn is a task whose answer is in a unit, for dimensions that have no name to write.
func taskIn[D units.Dimension](u units.Unit[D]) *task[D] { return &task[D]{unit: u} }

// counts reports whether the answer is a number of things.
func (t *task[D]) counts() bool { return t.unit.String() == "" && t.places == 0 }

func (t *task[D]) two() bool { return t.round == inward || t.round == outward }

// mistaken adds a usual mistake.
func (t *task[D]) mistaken(exact units.Interval[D], why string) {
	t.mistakes = append(t.mistakes, mistake[D]{exact, why})
}

// mistakenFor adds a usual mistake of one value.
func (t *task[D]) mistakenFor(q units.Quantity[D], why string) { t.mistaken(units.Exactly(q), why) }

func (t *task[D]) floor(q units.Quantity[D]) units.Quantity[D] {
	return t.unit.Of(q.Rounded(t.unit, t.places, units.Floor))
}

func (t *task[D]) ceiling(q units.Quantity[D]) units.Quantity[D] {
	return t.unit.Of(q.Rounded(t.unit, t.places, units.Ceiling))
}

// box is where the ends of an answer may lie; of one value only lo counts.
type box[D units.Dimension] struct{ lo, hi units.Interval[D] }

// allowed is where a right answer lies.
func (t *task[D]) allowed() box[D] {
	lo, hi := t.exact.Lo(), t.exact.Hi()
	switch t.round {
	case inward:
		return box[D]{units.Between(lo, t.ceiling(lo)), units.Between(t.floor(hi), hi)}
	case outward:
		return box[D]{units.Between(t.floor(lo), lo), units.Between(hi, t.ceiling(hi))}
	case up:
		return box[D]{lo: units.Between(lo, t.ceiling(hi))}
	case down:
		return box[D]{lo: units.Between(t.floor(lo), hi)}
	}
	half := t.half()
	return box[D]{lo: units.Between(lo.Sub(half), hi.Add(half))}
}

// half is half a step of the last place.
func (t *task[D]) half() units.Quantity[D] {
	return quantity(t.unit, 1, t.places).MulRat(big.NewRat(1, 2))
}

// near is where an answer lies that was rounded either way.
func (t *task[D]) near(exact units.Interval[D]) box[D] {
	b := box[D]{units.Between(t.floor(exact.Lo()), t.ceiling(exact.Lo())), units.Between(t.floor(exact.Hi()), t.ceiling(exact.Hi()))}
	if !t.two() {
		b.lo = b.lo.Hull(b.hi)
	}
	return b
}

// holds reports whether an answer lies in a box.
func (t *task[D]) holds(b box[D], got units.Interval[D]) bool {
	if !t.two() {
		return got.Within(b.lo)
	}
	return b.lo.Contains(got.Lo()) && b.hi.Contains(got.Hi())
}

// apart reports whether no answer lies in both.
func (t *task[D]) apart(a, b box[D]) bool {
	return !a.lo.Overlaps(b.lo) || t.two() && !a.hi.Overlaps(b.hi)
}

// clear reports whether no mistake can be taken for the right answer or for another mistake.
func (t *task[D]) clear() bool {
	all := []box[D]{t.near(t.exact)}
	if t.round == nearest {
		all[0] = t.allowed()
	}
	for _, m := range t.mistakes {
		b := t.near(m.exact)
		for _, other := range all {
			if !t.apart(b, other) {
				return false
			}
		}
		all = append(all, b)
	}
	return true
}

// written is an answer as a student would write it, rounded in the task's way.
func (t *task[D]) written(exact units.Interval[D]) string {
	switch t.round {
	case inward:
		return exact.FormatInward(t.unit, t.places)
	case outward:
		return exact.FormatOutward(t.unit, t.places)
	case up:
		return exact.Hi().Format(t.unit, t.places, units.Ceiling)
	case down:
		return exact.Lo().Format(t.unit, t.places, units.Floor)
	}
	return exact.Mid().Format(t.unit, t.places, units.HalfEven)
}

// wrongWay are the reasons for an answer on the wrong side of the exact one.
var wrongWay = map[rounding]string{
	inward:  "Rounded the wrong way. Limits are rounded inward, so that nothing passes which the exact limits refuse.",
	outward: "Rounded the wrong way. A reading is rounded outward, so that it still holds the size.",
	up:      "Rounded the wrong way. An uncertainty or a guard band is rounded up: a smaller one claims more than is known.",
	down:    "Rounded the wrong way. What there must be at the least, or may be at the most, is rounded to the safe side: here down.",
}

func (t *task[D]) set() Exercise {
	how := map[rounding]string{inward: "two ends, rounded inward", outward: "two ends, rounded outward", up: "one value, rounded up", down: "one value, rounded down", nearest: "one value, rounded to the nearest"}[t.round]
	e := Exercise{Task: t.text, Given: t.given, Right: t.written(t.exact), Working: t.working, judge: t.judge,
		Write: how + " to " + quantity(t.unit, 1, t.places).Written(t.unit) + ", with the unit"}
	if t.counts() {
		e.Write = "a whole number"
	} else if t.two() {
		e.Write += ": lower..upper " + t.unit.String()
	}
	for _, m := range t.mistakes {
		e.Usual = append(e.Usual, Mistake{t.written(m.exact), m.why})
	}
	return e
}

func (t *task[D]) judge(typed string) Answer {
	got, err := units.Parse[units.Interval[D]](typed)
	if err != nil {
		return Answer{Reason: t.unread(strings.TrimSpace(typed), err)}
	}
	if !got.Bounded() {
		return Answer{Reason: "An end is missing. The answer has to say where the quantity begins and where it ends."}
	}
	if t.holds(t.allowed(), got) {
		return Answer{true, "Right: " + got.Written(t.unit) + " lies inside what is allowed."}
	}
	if t.two() && got.IsPoint() {
		for _, m := range t.mistakes {
			if m.exact.IsPoint() && t.holds(t.near(m.exact), got) {
				return Answer{Reason: m.why}
			}
		}
		return Answer{Reason: "This is one value. The answer is an interval: write both ends, lower..upper, with the unit."}
	}
	if why := wrongWay[t.round]; why != "" && t.holds(t.near(t.exact), got) {
		return Answer{Reason: why}
	}
	for _, m := range t.mistakes {
		if t.holds(t.near(m.exact), got) {
			return Answer{Reason: m.why}
		}
	}
	if in, err := units.Parse[units.Interval[D]](typed[:strings.LastIndexAny(typed, "0123456789")+1] + " " + t.unit.String()); err == nil && t.holds(t.near(t.exact), in) {
		return Answer{Reason: "The figures are those of an answer in " + t.unit.String() + ", and the unit that was typed is another one."}
	}
	if t.exact.Lo().Sign() != 0 && t.holds(t.near(t.exact.Neg()), got) {
		return Answer{Reason: "The sign is turned round: what was to be subtracted was added, or the other way."}
	}
	for _, power := range []int64{10, 100, 1000} {
		for _, r := range []*big.Rat{big.NewRat(power, 1), big.NewRat(1, power)} {
			// A slip shifts whole figures, so that what was typed, shifted back, is the answer.
			if back := got.MulRat(new(big.Rat).Inv(r)); t.holds(t.near(t.exact), back) {
				return Answer{Reason: "The figures are right and the decimal point is not: it slipped by " + strconv.Itoa(len(strconv.FormatInt(power, 10))-1) + " places."}
			}
		}
	}
	return Answer{Reason: t.off(got)}
}

// unread says why an answer cannot be read. Where only the unit is missing, it is the task's that is named: the reader
// of quantities does not know it.
func (t *task[D]) unread(typed string, err error) string {
	unit := t.unit.String()
	reads := func(text string) bool { _, err := units.Parse[units.Interval[D]](text); return err == nil }
	switch bare, marked := strings.CutPrefix(typed, "±"); {
	case typed == "" && t.counts():
		return "Nothing was typed. Write a number."
	case typed == "":
		return "Nothing was typed. Write a number with its unit."
	case t.counts():
		return "This cannot be read as a number. Write a whole number in figures, and nothing behind it."
	case reads(typed + " " + unit):
		return "The unit is missing. Write " + typed + " " + unit + ", if that is what you mean."
	case marked && !t.two() && (reads(bare) || reads(bare+" "+unit)):
		return "Write the value alone, without ± before it."
	}
	return "This cannot be read as an answer: " + err.Error()
}

// off says in which direction an answer that nothing explains is wrong.
func (t *task[D]) off(got units.Interval[D]) string {
	b := t.allowed()
	side := func(what string, end units.Quantity[D], in units.Interval[D]) string {
		switch {
		case end.Less(in.Lo()):
			return what + " is too low."
		case in.Hi().Less(end):
			return what + " is too high."
		}
		return ""
	}
	if t.two() {
		text := strings.TrimSpace(side("The lower end", got.Lo(), b.lo) + " " + side("The upper end", got.Hi(), b.hi))
		return "Not inside what is allowed. " + text
	}
	if !got.IsPoint() {
		return "This is an interval, and the answer is one value. Write one value."
	}
	return "Not inside what is allowed. " + side("This", got.Lo(), b.lo)
}
