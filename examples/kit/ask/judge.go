package ask

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/clearance"
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

	// Direct is the same quantity read by itself, beside the sum of the terms: a clearance on a
	// crush strip, an end play on a dial. If the two agree the closer one is judged; if not, one
	// of them is wrong, and neither proves anything. Null if it was not read.
	Direct *Direct `json:"direct"`

	// Wanted asks which size would bring a sum of lengths inside its limits: the symbols of the
	// terms that could have another, whose sizes are added if there are several. Empty if nobody asks.
	Wanted []string `json:"wanted"`
}

// A JudgeTerm is one reading and how often it counts.
type JudgeTerm struct {
	Symbol string      `json:"symbol"` // "D"
	Name   string      `json:"name"`   // "housing bore"
	Times  units.Ratio `json:"times"`  // "1", "-1", "1/2"

	// With names the instrument; null for a part's own tolerance, "2.494 ±0.002 mm".
	With *string `json:"with"`

	How How `json:"how"` // what the texts of "read" mean; "shown" unless a gauge read a travel or an opening

	// Read is what was shown. Of a gauge, one or more readings of the same thing. Of a strip
	// one text: "0.050 mm" nearest to that print, "0.050..0.075 mm" between two. Of blades one
	// text: "0.20..0.25 mm", the blade that goes and the one that does not; ">= 0.20 mm". Of a
	// travel two, from and to: "-0.02 mm", "0.13 mm". Of an opening one: "2.1..2.4 bar", shut at the one
	// and open at the other; ">= 2.1 bar" if it never opened, "<= 2.4 bar" if it was never shut.
	Read []string `json:"read"`

	// Stated is how it was read; Needs is how it must have been, for the sum to prove anything.
	// A condition is met if it is stated in the same words. Both may be empty.
	Stated []measure.Condition `json:"stated"`
	Needs  []measure.Condition `json:"needs"`
}

// A Direct is a reading of the whole quantity. Its keys are as those of a JudgeTerm.
type Direct struct {
	Name   string              `json:"name"` // "crush strip"
	With   *string             `json:"with"`
	How    How                 `json:"how"`
	Read   []string            `json:"read"`
	Stated []measure.Condition `json:"stated"`
}

// A How says what a gauge read.
type How string

// Shown is the value that an instrument shows, or what a strip or blades say. Travel is how far a
// dial moved, which has no sign: end play. Opening is the pressure at which a valve opens, between
// the highest at which it was shut and the lowest at which it was open.
const (
	Shown   How = "shown"
	Travel  How = "travel"
	Opening How = "opening"
)

// Words are the words.
func (How) Words() []string { return []string{string(Shown), string(Travel), string(Opening)} }

// UnmarshalText reads one of the words.
func (h *How) UnmarshalText(text []byte) error { return word(h, text, "how") }

// Judged is the answer to Judge.
type Judged struct {
	Verdict    measure.Verdict `json:"verdict"`
	Problem    *string         `json:"problem"`     // why the readings prove nothing, whatever the limits: a condition that is not stated, a gap below zero; null if they may prove something
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

	Compared *Compared `json:"compared"` // the direct reading beside the sum; null without one

	// Wanted is the size that the wanted terms must have together, for the sum to be proven inside the
	// limits with all else as it is known; null if no size does it, or if it was not asked.
	Wanted *Bounds `json:"wanted"`

	// Settles is, of what is undecided, the expanded uncertainty (k = 2) of another reading
	// that would decide it nine times in ten; null where no reading is known to.
	Settles *string         `json:"settles"`
	Working []units.Working `json:"working"` // of the sum, and of the verdict
}

// Compared is what two ways of reading one quantity say.
type Compared struct {
	Agree      *bool  `json:"agree"`      // whether both can be right; null if either proves nothing
	Direct     Bounds `json:"direct"`     // of the direct reading
	Sum        Bounds `json:"sum"`        // of the sum of the terms
	Difference Bounds `json:"difference"` // of direct less sum, without what both share
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
	maxConditions  = 20  // of one term
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
		what := t.Name
		if what == "" {
			what = t.Symbol
		}
		r, err := with.read(where, what, seen{t.With, t.How, t.Read, t.Stated})
		if err != nil {
			return j, err
		}
		if err := conditions(where+`, "needs"`, t.Needs); err != nil {
			return j, err
		}
		sum.Terms = append(sum.Terms, measure.Term[D]{Symbol: t.Symbol, Name: t.Name, Factor: t.Times, Reading: r, Needs: t.Needs})
	}
	reading := sum.Reading()
	j.Working = []units.Working{sum.Working(unit)}
	var direct measure.Reading[D]
	if q.Direct != nil {
		name := q.Direct.Name
		if name == "" {
			name = "direct reading"
		}
		if direct, err = with.read(`Judge, "direct"`, name, seen{q.Direct.With, q.Direct.How, q.Direct.Read, q.Direct.Stated}); err != nil {
			return j, err
		}
		if q.NonNegative {
			direct = direct.NonNegative()
		}
		reading = compare(&j, direct, reading, name, unit)
	}
	if len(q.Wanted) > 0 {
		if j.Wanted, err = wanted(q, sum, direct, limits, unit); err != nil {
			return j, err
		}
	}
	a := measure.Assess(reading, limits)
	if problem := reading.Problem(); problem != "" {
		j.Problem = &problem
	}
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
	j.Working = append(j.Working, a.Working(unit))
	return j, nil
}

// compare holds a direct reading against the sum, and returns what is judged: the closer one if
// they agree, and a reading that proves nothing if they do not. A sum whose conditions are not met is
// no second opinion.
func compare[D units.Dimension](j *Judged, direct, sum measure.Reading[D], name string, unit units.Unit[D]) measure.Reading[D] {
	a := measure.Compare(direct, sum)
	j.Compared = &Compared{Direct: shownOutward(direct.Interval(), unit), Sum: shownOutward(sum.Interval(), unit), Difference: shownOutward(a.Difference.Interval(), unit)}
	w := units.Working{Name: name, Numbers: direct.How(unit), Result: direct.Interval().Written(unit)}
	best := a.Best()
	switch unmet := sum.Unmet(); {
	case len(unmet) > 0:
		best = direct
		w.Notes = []string{"the terms prove nothing, so the direct reading stands alone: " + unmet[0]}
	case !a.Known:
		w.Notes = []string{"one of the two proves nothing, so they cannot be compared"}
	case !a.Agree:
		j.Compared.Agree = ptr(false)
		w.Notes = []string{"it does not agree with the sum: they differ by " + a.Difference.Interval().Written(unit) + ", so one is wrong, and neither counts"}
	default:
		j.Compared.Agree = ptr(true)
		w.Notes = []string{"it agrees with the sum; the closer one stands"}
	}
	j.Working = append(j.Working, w)
	return best
}

// wanted returns the sizes that terms must have.
func wanted[D units.Dimension](q Judge, sum measure.Sum[D], direct measure.Reading[D], limits units.Interval[D], unit units.Unit[D]) (*Bounds, error) {
	const where = `Judge, "wanted"`
	lengths, is := any(sum).(measure.Sum[units.LengthDim])
	if !is {
		return nil, wrong(where, "a sum of another quantity than lengths", "write [], or judge lengths")
	}
	for i, symbol := range q.Wanted {
		of := 0
		for _, t := range q.Terms {
			if t.Symbol == symbol {
				of++
			}
		}
		if of != 1 || slices.Contains(q.Wanted[:i], symbol) {
			return nil, wrong(where, fmt.Sprintf("%s, the symbol of %d terms", shortened(symbol), of), "name terms by symbols that only they have, each once")
		}
	}
	fit := clearance.Fit{Sum: lengths, Direct: any(direct).(measure.LengthReading)}
	sizes, ok, err := fit.Wanted(any(limits).(units.LengthInterval), q.Wanted...)
	if err != nil || !ok {
		return nil, at(err, where)
	}
	return shownInward(sizes, any(unit).(units.LengthUnit)), nil
}

// conditions returns what is wrong with a list of them.
func conditions(where string, list []measure.Condition) error {
	for i, c := range list {
		switch {
		case strings.TrimSpace(c.What) == "" || strings.TrimSpace(c.Is) == "":
			return wrong(fmt.Sprintf("%s, number %d", where, i+1), "a condition without words", `write both, as in {"what": "bolts", "is": "tightened to 60 N·m"}`)
		case slices.ContainsFunc(list[:i], func(o measure.Condition) bool { return o.What == c.What }):
			return wrong(where, shortened(c.What)+" twice", "say it once")
		}
	}
	return few(where, len(list), maxConditions)
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

// seen is what was read, and how.
type seen struct {
	with   *string
	how    How
	read   []string
	stated []measure.Condition
}

// read makes a reading of what stands at a place.
func (s *instruments[D]) read(where, what string, of seen) (r measure.Reading[D], err error) {
	if err := conditions(where+`, "stated"`, of.stated); err != nil {
		return r, err
	}
	place := where
	where += `, "read"`
	if len(of.read) == 0 {
		return r, wrong(where, "no reading", "give one or more, or leave the term out: what was not read proves nothing")
	}
	if err := few(where, len(of.read), maxReadings); err != nil {
		return r, err
	}
	var in Instrument
	if of.with != nil {
		if in, _, err = s.find(place+`, "with"`, *of.with); err != nil {
			return r, err
		}
	}
	switch {
	case of.how != Shown && in.Gauge == nil:
		return r, wrong(place+`, "how"`, string(of.how)+" without a gauge", `write "shown", or name the gauge under "with"`)
	case of.with == nil:
		r, err = given[D](where, of.read)
	case in.CrushStrip != nil || in.FeelerBlades != nil:
		r, err = s.marked(where, what, in, of.read)
	default:
		var gauge *measure.Instrument[D]
		if gauge, err = s.gauge(where, *of.with); err != nil {
			return r, err
		}
		if of.how == Opening {
			r, err = opening(where, what, gauge, of.read)
		} else {
			r, err = shown(where, what, gauge, of)
		}
	}
	if err != nil || len(of.stated) == 0 {
		return r, err
	}
	return r.With(of.stated...), nil
}

// given reads the tolerance of a part.
func given[D units.Dimension](where string, read []string) (r measure.Reading[D], err error) {
	iv, err := units.Parse[units.Interval[D]](read[0])
	switch {
	case err != nil:
		return r, at(err, "%s", where)
	case len(read) > 1:
		return r, wrong(where, fmt.Sprintf("%d tolerances", len(read)), "write one, or name the instrument")
	case iv.IsPoint() && !strings.ContainsAny(read[0], "±+"):
		return r, wrong(where, shortened(read[0])+" without an instrument", `name it under "with", or write how good it is, as in "60.012 ±0.003 mm"`)
	}
	return measure.Given(iv, "as given"), nil
}

// shown reads what a gauge shows, or how far it moved.
func shown[D units.Dimension](where, what string, gauge *measure.Instrument[D], of seen) (r measure.Reading[D], err error) {
	var values []units.Quantity[D]
	for i, text := range of.read {
		q, err := units.Parse[units.Quantity[D]](text)
		if err != nil {
			return r, at(err, "%s, number %d", where, i+1)
		}
		values = append(values, q)
	}
	switch {
	case of.how == Travel && len(values) != 2:
		return r, wrong(where, fmt.Sprintf("%d readings of a travel", len(values)), "write two: what it showed at one end, and at the other")
	case of.how == Travel:
		r, err = gauge.Travel(what, values[0], values[1])
	case len(values) == 1:
		r, err = gauge.Indicate(what, values[0])
	default:
		r, err = gauge.Read(what, values...)
	}
	return r, at(err, "%s", where)
}

// opening reads the pressure at which a valve opens.
func opening[D units.Dimension](where, what string, gauge *measure.Instrument[D], read []string) (r measure.Reading[D], err error) {
	pressures, is := any(gauge).(*measure.Instrument[units.PressureDim])
	if !is {
		return r, wrong(where, "an opening that is no pressure", `judge a pressure, or write "shown" under "how"`)
	}
	if len(read) > 1 {
		return r, wrong(where, fmt.Sprintf("%d openings", len(read)), "write one, as in 2.1..2.4 bar, and a term for each valve")
	}
	tried, err := units.Parse[units.PressureInterval](read[0])
	switch {
	case err != nil:
		return r, at(err, "%s", where)
	case tried.IsPoint():
		return r, wrong(where, "one pressure", fmt.Sprintf("write >= %s if it is shut there and did not open at any other, <= %[1]s if it is open there and was not seen shut, or both, as in 2.1..2.4 bar", strings.TrimSpace(read[0])))
	}
	var shut, open *units.Pressure
	if tried.HasLo() {
		shut = ptr(tried.Lo())
	}
	if tried.HasHi() {
		open = ptr(tried.Hi())
	}
	made, err := measure.Valve(pressures, what, shut, open)
	return any(made).(measure.Reading[D]), at(err, "%s", where)
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
