package job

import (
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/units"
)

// How far an instrument may be off is typed too, and a slip in it makes every reading worthless, or worth more than it
// is. It is never changed: whoever typed it is asked, and answers by its key under sure. What is asked after follows from
// the limits that the instrument is to judge, and from what such instruments are known to do (common practice, no
// source; coarse, so that an honest one is not asked after):
//
//   - what it may be off by, to both sides, is as wide as the widest limits that it is to judge, or wider: no
//     reading with it can be proven inside any of them;
//   - it is off by more than any of its kind, or its prints and blades are thicker than any;
//   - it is better than a tenth of a micrometre, which no bench can know.
var coarsest = map[string]units.Length{
	"micrometer": units.MustParseLength("0.05 mm"), "bore gauge": units.MustParseLength("0.05 mm"), "dial": units.MustParseLength("0.1 mm"),
	"depth gauge": units.MustParseLength("0.1 mm"), "caliper": units.MustParseLength("0.3 mm"), settingPiece: units.MustParseLength("0.05 mm"),
	crushStrip: units.MustParseLength("0.05 mm"), feelerBlades: units.MustParseLength("0.05 mm"),
}

// thickest is what no print of a strip and no blade is marked above.
var thickest = map[string]units.Length{crushStrip: units.MustParseLength("0.5 mm"), feelerBlades: units.MustParseLength("3 mm")}

// lookAt begins what a job's author is told to do about a doubt.
const lookAt = "; look at its certificate or its marks"

// AskedOf says why a person is asked after what the job says of an instrument; nothing if it is plausible or stands.
func (j *Job) AskedOf(name string) string {
	said, _, _ := strings.Cut(j.asked(name), lookAt)
	return said
}

// asked is AskedOf with what to do about it.
func (j *Job) asked(name string) string {
	t, in := j.reader.declared[name], j.instruments[name]
	key, text := doubtKey(t)
	if in.bad || slices.Contains(t.Sure, key) {
		return ""
	}
	why := j.tooThick(in)
	if why == "" && text != "" && in.kind == pressureGauge {
		why = overlong(j, name, text, units.ParsePressure, func(m *measured) units.PressureInterval { return m.pressures })
	} else if why == "" && text != "" && in.kind != scale {
		if why = offBy(in.kind, text); why == "" {
			why = overlong(j, name, text, units.ParseLength, func(m *measured) units.LengthInterval { return m.limits[m.quantities()[0].quantity] })
		}
	}
	if why == "" {
		return ""
	}
	return fmt.Sprintf("%s: %s%s, and if it stands write sure = [%q] in its table", name, why, lookAt, key)
}

// doubtKey is the key under which an instrument's doubt stands, and its text.
func doubtKey(t instrumentTable) (key, text string) {
	switch {
	case t.Tolerance != "":
		return "tolerance", t.Tolerance
	case t.Uncertainty != "":
		return "uncertainty", t.Uncertainty
	case t.LimitOfError != "":
		return "limit_of_error", t.LimitOfError
	case t.Kind == crushStrip:
		return "widths", ""
	case t.Kind == feelerBlades:
		return "blades", ""
	}
	return "uncertainty", ""
}

// tooThick says that a mark is thicker than any of its kind.
func (j *Job) tooThick(in instrument) string {
	most, marked := thickest[in.kind]
	if !marked || len(in.marks) == 0 {
		return ""
	}
	last := slices.MaxFunc(in.marks, units.Length.Cmp)
	if !most.Less(last) {
		return ""
	}
	return fmt.Sprintf("it has a mark of %s, and %s are not made above %s", last.Written(j.show.length), map[string]string{crushStrip: "the prints of strips", feelerBlades: "blades"}[in.kind], most.Written(j.show.length))
}

// offBy says that an instrument is off by more than any of its kind, or by less than anybody can know.
func offBy(kind, text string) string {
	u, err := units.ParseLength(text)
	if err != nil {
		return ""
	}
	if most, known := coarsest[kind]; known && most.Less(u) {
		return fmt.Sprintf("it is said to be off by as much as ±%s, and one of the kind %s that is off by more than ±%s is broken", text, kind, most)
	}
	if finest := units.MustParseLength("0.0001 mm"); u.Less(finest) {
		return fmt.Sprintf("it is said to be off by no more than ±%s, and no bench can know a size to less than ±%s", text, finest)
	}
	return ""
}

// overlong says that an instrument is to judge limits none of which is wider than its doubt, to both sides of a reading.
func overlong[D units.Dimension](j *Job, name, text string, parse func(string) (units.Quantity[D], error), limitsOf func(*measured) units.Interval[D]) string {
	u, err := parse(text)
	if err != nil {
		return ""
	}
	for _, reads := range []func(*measured) bool{
		func(m *measured) bool { return j.readWith(m, name) },
		func(m *measured) bool { return j.mayRead(m, name) }, // an instrument that nothing was read with yet
	} {
		var widest units.Quantity[D]
		of := ""
		for _, m := range j.lines {
			if limits := limitsOf(m); m.expected && limits.Bounded() && reads(m) && (of == "" || widest.Less(limits.Width())) {
				widest, of = limits.Width(), m.name()
			}
		}
		if of == "" {
			continue
		}
		if u.MulInt(2).Less(widest) {
			return ""
		}
		return fmt.Sprintf("it is said to be off by as much as ±%s, and the limits that it is to judge, of %s, are %s apart: no reading with it could be proven inside", text, of, widest)
	}
	return ""
}

// readWith reports whether a line, or a size that it is worked out from, is read with an instrument.
func (j *Job) readWith(m *measured, name string) bool {
	if m.with == name {
		return true
	}
	for _, e := range m.taken {
		if e.with == name {
			return true
		}
	}
	return slices.ContainsFunc(slices.Concat(m.terms, m.also), func(term string) bool {
		part := j.line(term)
		return part != nil && j.readWith(part, name)
	})
}

// mayRead reports whether a line, or a size that it is worked out from, may be read with an instrument.
func (j *Job) mayRead(m *measured, name string) bool {
	return slices.Contains(m.kinds, j.instruments[name].kind) || slices.ContainsFunc(slices.Concat(m.terms, m.also), func(term string) bool {
		part := j.line(term)
		return part != nil && j.mayRead(part, name)
	})
}
