package job

import (
	"cmp"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// open is what stands for a reading that was not taken yet.
const open = "?"

// A typed reading is one text of a job file. It begins with the instrument and a colon
// where that is not the line's: "dial: 0.06 to 0.33 mm". How the rest is read is the
// instrument's affair:
//
//	crush strip    "0.060 mm" nearest to that print, "0.060..0.080 mm" between two,
//	               "<= 0.045 mm" tighter than the first, ">= 0.110 mm" looser than the last
//	feeler blades  "0.20..0.25 mm", the blade that goes and the one that does not;
//	               ">= 0.20 mm" goes and nothing thicker was tried, "<= 0.05 mm" does not go
//	pressure gauge "2.8..3.0 bar", shut at the one and open at the other
//	any other      "62.893 mm", what it shows; "0.06 to 0.33 mm", a travel from stop to stop
//
// A size with limits of its own, "2.494 ±0.002 mm" or "1.8740..1.8747 in", is a part's
// tolerance, without an instrument.
type typed struct {
	path, text string // where it stands, and all of it
	with       string // the instrument
	withPath   string // where that is named
	body       string
	batch      string // of several places along one strip, the strip
}

// typed takes a text apart. The instrument is the line's unless the text names one.
func (r *reader) typed(path, text, withPath, with string) typed {
	t := typed{path: path, text: text, with: with, withPath: withPath, body: text}
	if name, rest, ok := strings.Cut(text, ":"); ok {
		t.with, t.withPath, t.body = strings.TrimSpace(name), path, strings.TrimSpace(rest)
	}
	return t
}

// gap reads a gap, a play or a clearance where it is. what says which, so that two
// readings of one thing are known for what they are; below says that it may be below zero.
func (r *reader) gap(what string, t typed, kinds []string, below bool) (e entry, ok bool) {
	if iv, err := units.ParseLengthInterval(t.body); err == nil && strings.ContainsAny(t.body, "±") {
		return r.given(t, iv)
	}
	in, ok := r.named(t.withPath, t.with, kinds...)
	if !ok {
		r.quantities(t)
		return e, false
	}
	e.with = in.name
	var err error
	switch in.kind {
	case crushStrip:
		in.strip.Batch = t.batch
		e.reading, ok, err = r.onStrip(what, t, in)
	case feelerBlades:
		e.reading, e.untried, ok, err = r.onBlades(what, t, in)
	default:
		e.turns = in.turns
		if e.reading, ok = r.onGauge(what, t, in, below); !below {
			e.reading = e.reading.NonNegative()
		}
	}
	return e, ok && r.check(t.path, err)
}

// quantities notes what is wrong with the quantities of a text whose instrument is not
// known, so that it is said at once.
func (r *reader) quantities(t typed) {
	if !strings.Contains(t.body, " to ") {
		read(r, t.path, t.body, units.ParseLengthInterval)
	}
}

// between is a way to read an interval that says what belongs between two numbers that stand
// side by side, as in "0.20 goes 0.25 not".
func (r *reader) between(joint string, parse func(string) (units.LengthInterval, error)) func(string) (units.LengthInterval, error) {
	return func(text string) (units.LengthInterval, error) {
		iv, err := parse(text)
		var wrong *units.Error
		found := twoNumbers.FindStringSubmatch(text)
		if !errors.As(err, &wrong) || wrong.Found != "a second number" && wrong.Found != "a limit in words" || found == nil {
			return iv, err
		}
		unit := cmp.Or(found[4], found[2], r.usual())
		if _, err := parse(found[1] + ".." + found[3] + " " + unit); err != nil {
			return iv, wrong
		}
		wrong.Fix = fmt.Sprintf("write %q", found[1]+joint+found[3]+" "+unit)
		return iv, wrong
	}
}

// twoNumbers is a text of two numbers with words about them, each with a unit or not.
var twoNumbers = regexp.MustCompile(`^(?:\pL+ )*([0-9.]+) ?(mm|in)?(?:[,;]? \pL+)*[,;]? ([0-9.]+) ?(mm|in)?(?: \pL+)*$`)

// usual is the unit of length that the job is in.
func (r *reader) usual() string {
	if r.inches {
		return "in"
	}
	return "mm"
}

// onStrip reads a crush strip.
func (r *reader) onStrip(what string, t typed, in instrument) (reading measure.LengthReading, ok bool, err error) {
	iv, ok := read(r, t.path, t.body, r.between("..", units.ParseLengthInterval))
	if !ok {
		return reading, false, nil
	}
	reading, err = in.strip.Read(what, iv)
	return reading, true, err
}

// onBlades reads a gap between the blade that goes and the one that does not, and returns
// the blades between them that were not tried.
func (r *reader) onBlades(what string, t typed, in instrument) (reading measure.LengthReading, untried []units.Length, ok bool, err error) {
	iv, ok := read(r, t.path, t.body, r.between("..", units.ParseLengthInterval))
	switch {
	case !ok:
		return reading, nil, false, nil
	case iv.IsPoint():
		r.fail(t.path, "%s: one blade does not say whether it goes; write %q if it goes and no thicker one was tried, %q if it does not, or both blades, as in \"0.20..0.25 mm\"",
			t.body, ">= "+t.body, "<= "+t.body)
		return reading, nil, false, nil
	}
	goes, refused := bounds(iv)
	if goes != nil && refused != nil {
		for _, blade := range in.feelers.Blades {
			if goes.Less(blade) && blade.Less(*refused) {
				untried = append(untried, blade)
			}
		}
	}
	reading, err = in.feelers.Gap(what, goes, refused)
	return reading, untried, true, err
}

// onGauge reads what an instrument shows: a size, or the travel from one indication to
// another.
func (r *reader) onGauge(what string, t typed, in instrument, below bool) (reading measure.LengthReading, ok bool) {
	if from, to, travel := strings.Cut(t.body, " to "); travel {
		if unit := unitOf(to); unitOf(from) == "" && unit != "" {
			from += " " + unit
		}
		a, ok1 := read(r, t.path, from, units.ParseLength)
		b, ok2 := read(r, t.path, to, units.ParseLength)
		if !ok1 || !ok2 {
			return reading, false
		}
		reading, err := in.gauge.Travel(what, a, b)
		return reading, r.check(t.path, err)
	}
	iv, ok := read(r, t.path, t.body, r.between(" to ", units.ParseLengthInterval))
	if !ok {
		return reading, false
	}
	if !iv.IsPoint() {
		r.fail(t.path, "%s: the %s shows one figure; write that, as in \"62.893 mm\", or its travel from stop to stop, as in \"0.06 to 0.33 mm\"", t.body, in.gauge.Name)
		return reading, false
	}
	if largest.Less(iv.Hi()) {
		r.fail(t.path, "%s: a size beyond %s; look at its unit", t.body, largest)
		return reading, false
	}
	if below {
		reading, err := in.gauge.Indicate(what, iv.Lo())
		return reading, r.check(t.path, err)
	}
	reading, err := in.gauge.Read(what, iv.Lo())
	return reading, r.check(t.path, err)
}

// unitOf returns what follows the number of a text: "mm" of "0.33 mm".
func unitOf(text string) string {
	return strings.TrimSpace(strings.TrimLeft(strings.TrimSpace(text), "+-0123456789./ "))
}

// size reads the size of a part: what an instrument shows, or a tolerance.
func (r *reader) size(what string, t typed, kinds []string) (e entry, ok bool) {
	iv, err := units.ParseLengthInterval(t.body)
	if err == nil && (!iv.IsPoint() || strings.ContainsAny(t.body, "±+")) {
		return r.given(t, iv)
	}
	if t.with == "" && r.places.Unread(t.withPath) {
		return e, false // said
	}
	if t.with == "" {
		if _, ok := read(r, t.path, t.body, units.ParseLength); ok {
			r.fail(t.path, "%s: %w; name the instrument with \"with\", or write how good it is, as in \"60.012 ±0.003 mm\"", t.body, ErrNotSure)
		}
		return e, false
	}
	in, ok := r.named(t.withPath, t.with, kinds...)
	if !ok {
		r.quantities(t)
		return e, false
	}
	e.turns, e.by, e.with = in.turns, in.gauge.Name, in.name
	e.reading, ok = r.onGauge(what, t, in, false)
	return e, ok
}

// given is a size with limits of its own.
func (r *reader) given(t typed, iv units.LengthInterval) (e entry, ok bool) {
	switch {
	case t.withPath == t.path:
		r.fail(t.path, "%s has its own uncertainty, and %q has another; leave one out", t.body, t.with)
	case iv.IsPoint():
		r.fail(t.path, "%s is exact, and no size is; write how far it may be off, as in \"60.012 ±0.003 mm\", or the size alone with its instrument", t.body)
	case !iv.Bounded() || iv.Lo().Sign() <= 0:
		r.fail(t.path, "%s: a size has two bounds, both above zero; write \"60.012 ±0.003 mm\"", t.body)
	case largest.Less(iv.Hi()):
		r.fail(t.path, "%s: a size beyond %s; look at its unit", t.body, largest)
	default:
		return entry{reading: measure.Given(iv, "given as "+t.body)}, true
	}
	return e, false
}

// pressures reads a valve: shut at the one pressure, open at the other.
func (r *reader) pressures(what string, t typed, kinds []string) (e entry, ok bool) {
	in, ok := r.named(t.withPath, t.with, kinds...)
	iv, good := read(r, t.path, t.body, units.Parse[units.PressureInterval])
	if !ok || !good {
		return e, false
	}
	if iv.IsPoint() {
		r.fail(t.path, "%s: one pressure does not say whether it was open; write both, as in \"2.8..3.0 bar\" for shut at 2.8 and open at 3.0, or %q if it was still shut, %q if it was open",
			t.body, ">= "+t.body, "<= "+t.body)
		return e, false
	}
	shut, opened := bounds(iv)
	reading, err := measure.Valve(&in.pressure, what, shut, opened)
	return entry{pressure: reading, with: in.name}, r.check(t.path, err)
}

// looked reads what was seen.
func (r *reader) looked(t typed, l *line) (e entry, ok bool) {
	words := l.words()
	if !slices.Contains(words, t.text) {
		r.fail(t.path, "state %q: %w; write %s, or %q while it was not looked at", t.text, ErrUnknown, choices(words), open)
		return e, false
	}
	return entry{state: t.text}, true
}

// bounds are the bounds of an interval; nil for one that it does not have.
func bounds[D units.Dimension](a units.Interval[D]) (lo, hi *units.Quantity[D]) {
	if a.HasLo() {
		q := a.Lo()
		lo = &q
	}
	if a.HasHi() {
		q := a.Hi()
		hi = &q
	}
	return lo, hi
}
