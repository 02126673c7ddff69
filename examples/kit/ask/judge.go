package ask

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A Judge asks what readings prove about limits: one reading, or several that are added and
// subtracted.
type Judge struct {
	Name        string       `json:"name"`         // "main 3, running clearance"
	Limits      string       `json:"limits"`       // "0.024..0.048 mm", "<= 0.05 mm"; its unit says what is judged, a length or another quantity
	Unit        *string      `json:"unit"`         // of the answer; null for that of the limits
	Instruments []Instrument `json:"instruments"`  // what was read with
	Terms       []JudgeTerm  `json:"terms"`        // the readings, one or more
	NonNegative bool         `json:"non_negative"` // the quantity cannot be below zero
	AtWorst     bool         `json:"at_worst"`     // every doubt at its worst, instead of by root-sum-square
}

// A JudgeTerm is one reading and how often it counts.
type JudgeTerm struct {
	Symbol string      `json:"symbol"` // "D"
	Name   string      `json:"name"`   // "housing bore"
	Times  units.Ratio `json:"times"`  // "1", "-1", "1/2"

	// With names the instrument; null for a part's own tolerance, "2.494 ±0.002 mm".
	With *string `json:"with"`

	// Read is what it showed. Of a gauge, one or more readings of the same thing. Of a strip
	// one text: "0.050 mm" nearest to that print, "0.050..0.075 mm" between two. Of blades one
	// text: "0.20..0.25 mm", the blade that goes and the one that does not; ">= 0.20 mm".
	Read []string `json:"read"`
}

// Judged is the answer to Judge.
type Judged struct {
	Verdict    measure.Verdict `json:"verdict"`
	Kind       string          `json:"kind"`        // what was judged: "length"
	Measured   Bounds          `json:"measured"`    // what the readings prove, rounded outward to nine places
	Limits     Bounds          `json:"limits"`      // exact
	MeetsLower bool            `json:"meets_lower"` // proven not to be below the lower limit
	MeetsUpper bool            `json:"meets_upper"` // proven not to be above the upper limit
	Margin     *string         `json:"margin"`      // of what conforms: how far inside at the least
	Outside    *Bounds         `json:"outside"`     // of what is outside: by how much

	// Conforming is the probability that the true value is within the limits (JCGM 106:2012);
	// null where there is none, for a reading without a bound.
	Conforming *Probabilities `json:"conforming"`

	// Settles is, of what is undecided, the expanded uncertainty (k = 2) of another reading
	// that would decide it nine times in ten; null where no reading is known to.
	Settles *string         `json:"settles"`
	Working []units.Working `json:"working"` // of the sum, and of the verdict
}

// Bounds are the ends of an interval, each a text with a unit, or null where there is none.
type Bounds struct {
	Lo *string `json:"lo"`
	Hi *string `json:"hi"`
}

// Probabilities are the least and the greatest that what is not known allows.
type Probabilities struct {
	Least    Float `json:"least"`
	Greatest Float `json:"greatest"`
}

// The most that a Judge may have.
const (
	maxTerms       = 200
	maxReadings    = 200 // of one term
	maxInstruments = 100
	maxMarks       = 200 // of one strip, or one set of blades
)

func judging(_ context.Context, q Judge) (Judged, error) {
	k, err := kindOf(q.Limits)
	switch {
	case err != nil:
		return Judged{}, at(err, `Judge, "limits"`)
	case k.judge == nil:
		return Judged{}, wrong(`Judge, "limits"`, "a "+k.name, "judge one of: "+judgedKinds())
	}
	j, err := k.judge(q)
	j.Kind = k.name
	return j, err
}

func judge[D units.Dimension](q Judge) (j Judged, err error) {
	limits, err := units.Parse[units.Interval[D]](q.Limits)
	if err != nil {
		return j, at(err, `Judge, "limits"`)
	}
	unit, err := unitFor[D](q)
	if err != nil {
		return j, at(err, `Judge, "unit"`)
	}
	if len(q.Terms) == 0 {
		return j, wrong(`Judge, "terms"`, "none", "give one reading or more")
	}
	if err := errors.Join(few(`Judge, "terms"`, len(q.Terms), maxTerms), few(`Judge, "instruments"`, len(q.Instruments), maxInstruments)); err != nil {
		return j, err
	}
	with, err := newInstruments[D](q.Instruments)
	if err != nil {
		return j, err
	}
	sum := measure.Sum[D]{Name: q.Name, Symbol: "x", NonNegative: q.NonNegative, AtWorst: q.AtWorst}
	for i, t := range q.Terms {
		where := fmt.Sprintf(`Judge, "terms", number %d`, i+1)
		if t.Times.IsZero() {
			return j, wrong(where+`, "times"`, "0", "write how often it counts, or leave the term out")
		}
		r, err := with.read(where, t)
		if err != nil {
			return j, err
		}
		sum.Terms = append(sum.Terms, measure.Term[D]{Symbol: t.Symbol, Name: t.Name, Factor: t.Times, Reading: r})
	}
	reading := sum.Reading()
	a := measure.Assess(reading, limits)
	j.Verdict = a.Verdict
	j.Measured, j.Limits = shownOutward(reading.Interval(), unit), exactly(limits, unit)
	j.MeetsLower, j.MeetsUpper = a.Meets()
	if margin, ok := a.Margin(); ok {
		j.Margin = ptr(inUnit(margin.Rounded(unit, shownPlaces, units.Floor), unit))
	}
	if by, ok := a.Outside(); ok {
		j.Outside = ptr(shownOutward(by, unit))
	}
	if least, greatest, err := measure.Conformity(reading, limits); err == nil {
		j.Conforming = &Probabilities{Float(least), Float(greatest)}
	}
	if needed, ok := a.Settling(measure.NineInTen); ok {
		j.Settles = ptr(inUnit(significant(needed.Rounded(unit, shownPlaces, units.Floor)), unit))
	}
	j.Working = []units.Working{sum.Working(unit), a.Working(unit)}
	return j, nil
}

func ptr[T any](v T) *T { return &v }

// unitFor returns the unit of the answer: the one that is asked for, or that of the limits.
func unitFor[D units.Dimension](q Judge) (units.Unit[D], error) {
	if q.Unit != nil {
		return units.Parse[units.Unit[D]](*q.Unit)
	}
	last := q.Limits[strings.LastIndexFunc(q.Limits, func(c rune) bool { return c >= '0' && c <= '9' })+1:]
	for from := range q.Limits { // "45 N·m", "1e3 mm²": the longest end that is a unit
		if u, ok := units.LookUp[D](strings.TrimSpace(q.Limits[from:])); ok && strings.TrimSpace(q.Limits[from:]) != "" {
			return u, nil
		}
	}
	if u, ok := units.LookUp[D](strings.TrimSpace(last)); ok {
		return u, nil
	}
	return 0, nil // written in another way than by its symbol, such as 1'2": the dimension's first unit
}

// read makes the reading of a term.
func (s *instruments[D]) read(where string, t JudgeTerm) (r measure.Reading[D], err error) {
	where += `, "read"`
	if len(t.Read) == 0 {
		return r, wrong(where, "no reading", "give one or more, or leave the term out: what was not read proves nothing")
	}
	if err := few(where, len(t.Read), maxReadings); err != nil {
		return r, err
	}
	what := t.Name
	if what == "" {
		what = t.Symbol
	}
	if t.With == nil {
		iv, err := units.Parse[units.Interval[D]](t.Read[0])
		switch {
		case err != nil:
			return r, at(err, "%s", where)
		case len(t.Read) > 1:
			return r, wrong(where, fmt.Sprintf("%d tolerances", len(t.Read)), "write one, or name the instrument")
		case iv.IsPoint() && !strings.ContainsAny(t.Read[0], "±+"):
			return r, wrong(where, shortened(t.Read[0])+" without an instrument", `name it under "with", or write how good it is, as in "60.012 ±0.003 mm"`)
		}
		return measure.Given(iv, "as given"), nil
	}
	in, _, err := s.find(strings.TrimSuffix(where, `"read"`)+`"with"`, *t.With)
	if err != nil {
		return r, err
	}
	if in.CrushStrip != nil || in.FeelerBlades != nil {
		return s.marked(where, what, in, t.Read)
	}
	gauge, err := s.gauge(where, *t.With)
	if err != nil {
		return r, err
	}
	var shown []units.Quantity[D]
	for i, text := range t.Read {
		q, err := units.Parse[units.Quantity[D]](text)
		if err != nil {
			return r, at(err, "%s, number %d", where, i+1)
		}
		shown = append(shown, q)
	}
	if len(shown) == 1 {
		r, err = gauge.Indicate(what, shown[0])
	} else {
		r, err = gauge.Read(what, shown...)
	}
	return r, at(err, "%s", where)
}

// marked reads what lies between marks: on a strip, or between blades.
func (s *instruments[D]) marked(where, what string, in Instrument, read []string) (r measure.Reading[D], err error) {
	if len(read) > 1 {
		return r, wrong(where, fmt.Sprintf("%d readings", len(read)), "write one, as in 0.050..0.075 mm, and a term for each place")
	}
	seen, err := units.Parse[units.LengthInterval](read[0])
	if err != nil {
		return r, at(err, "%s", where)
	}
	var l measure.LengthReading
	if in.CrushStrip != nil {
		strip, err := in.CrushStrip.made()
		if err != nil {
			return r, err
		}
		l, err = strip.Read(what, seen)
		if err != nil {
			return r, at(err, "%s", where)
		}
	} else {
		blades, err := in.FeelerBlades.made()
		if err != nil {
			return r, err
		}
		var goes, refused *units.Length
		if seen.IsPoint() {
			return r, wrong(where, "one blade", fmt.Sprintf("write >= %s if it goes and no thicker one was tried, <= %[1]s if it does not, or both blades, as in 0.20..0.25 mm", seen))
		}
		if seen.HasLo() {
			goes = ptr(seen.Lo())
		}
		if seen.HasHi() {
			refused = ptr(seen.Hi())
		}
		if l, err = blades.Gap(what, goes, refused); err != nil {
			return r, at(err, "%s", where)
		}
	}
	r, is := any(l).(measure.Reading[D])
	if !is {
		return r, wrong(where, "a length", "read the kind of quantity that the limits are of")
	}
	return r, nil
}

func (c *CrushStrip) made() (s measure.Strip, err error) {
	if s.Prints, s.Tolerance, err = ladder("prints", c.Prints, c.Tolerance); err != nil {
		return s, at(err, "crush strip %s", shortened(c.Name))
	}
	if c.Batch != nil {
		s.Batch = *c.Batch
	}
	return s, at(s.Check(), "crush strip %s", shortened(c.Name))
}

func (f *FeelerBlades) made() (b measure.Feelers, err error) {
	b.Set = f.Name
	if b.Blades, b.Tolerance, err = ladder("blades", f.Blades, f.Tolerance); err != nil {
		return b, at(err, "feeler blades %s", shortened(f.Name))
	}
	return b, at(b.Check(), "feeler blades %s", shortened(f.Name))
}

// ladder reads marks and how far they may be off.
func ladder(key string, texts []string, tolerance *string) (marks []units.Length, off units.Length, err error) {
	if err := few(fmt.Sprintf("%q", key), len(texts), maxMarks); err != nil {
		return nil, off, err
	}
	for i, text := range texts {
		l, err := units.ParseLength(text)
		if err != nil {
			return nil, off, at(err, "%q, number %d", key, i+1)
		}
		marks = append(marks, l)
	}
	if tolerance != nil {
		off, err = units.ParseLength(*tolerance)
	}
	return marks, off, at(err, `"tolerance"`)
}
