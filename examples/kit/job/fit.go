package job

import (
	"fmt"
	"strings"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// fitGroup is fits judged against the same limits: the running clearances of the mains,
// the gaps of one ring in its bores, used bolts.
type fitGroup struct {
	name     string
	quantity string
	limits   units.LengthInterval
	remedy   Remedy
	fits     []fitting
}

// fitting is one fit and where it is.
type fitting struct {
	location string
	clearance.Fit
	untried []units.Length // blades of the set between the one that goes and the one that does not
	turns   []units.Length // in what steps its instrument loses a turn
}

// group judges the fits of a group. advise says what would settle one that is undecided.
func (j *Job) group(g fitGroup, advise func(fitting, measure.Assessment[units.LengthDim]) string) Group {
	u, places := j.show.length, j.show.places
	made := Group{Name: g.name, Quantity: g.quantity, Remedy: g.remedy, Limits: tolerance(g.limits, u, places)}
	var d drawing
	for _, x := range g.fits {
		x.Fit.Sum.AtWorst = j.atWorst
		a := x.Fit.Assess(g.limits)
		f := found(subject{g.name, x.location, g.quantity}, a, u, places)
		if f.Taken {
			f.How = how(x.Fit, a, u)
		}
		if a.Verdict == measure.Undecided && f.Taken {
			f.Advice = advise(x, a)
		}
		if x.Agreement().Second.Taken() {
			w := x.Working(u)
			w.Name = where(f) + ", " + g.quantity
			f.Working = &w
		} else {
			f.Slip = slip(a.Reading, g.limits, u, x.turns, units.Millimetre, units.Inch)
		}
		made.Findings = append(made.Findings, f)
		add(&d, a.Reading.Supposed(), g.limits, u)
	}
	d.into(made.Findings)
	return made
}

// how says how a fit came to be known: by the reading made where it is, by its sizes, or
// by both.
func how(f clearance.Fit, a measure.Assessment[units.LengthDim], u units.LengthUnit) string {
	const sizes = "from its sizes"
	computed := f.Sum.Reading()
	switch {
	case !f.Direct.Taken():
		return sizes
	case !computed.Taken() || len(computed.Unmet()) > 0:
		return f.Direct.How(u)
	case a.Reading.Problem() != "":
		return f.Direct.How(u) + "; and " + sizes
	case a.Reading.String() == f.Direct.String():
		return f.Direct.How(u) + ", which its sizes bear out"
	}
	return sizes + ", which the " + f.Direct.How(u) + " bears out"
}

// readEndPlay reads the end play of the crankshaft.
func (r *reader) readEndPlay(t *endPlayTable) fitGroup {
	const path = "end_play"
	g := fitGroup{name: "crankshaft", quantity: "end play", remedy: endPlayRemedy}
	g.limits, _ = r.limits(path+".limits", t.Limits)
	if t.Reading.Location != "" {
		r.fail(path+".reading.location", "a crankshaft has one end play; leave the location out")
	}
	t.Reading.Location = "crankshaft"
	g.fits = []fitting{r.gap(path+".reading", "crankshaft, end play", t.Reading)}
	return g
}

// readGaps reads a list of gaps.
func (r *reader) readGaps(path, name, quantity string, remedy Remedy, t gapsTable) fitGroup {
	g := fitGroup{name: name, quantity: quantity, remedy: remedy}
	g.limits, _ = r.limits(path+".limits", t.Limits)
	if len(t.Readings) == 0 {
		r.fail(path+".readings", "%w; list one for each location", ErrMissing)
	}
	seen := map[string]string{}
	for i, t := range t.Readings {
		at := fmt.Sprintf("%s.readings[%d]", path, i)
		if r.present(at+".location", t.Location) && r.once(at+".location", t.Location, "location", seen) {
			g.fits = append(g.fits, r.gap(at, name+" "+t.Location+", "+quantity, t))
		}
	}
	return g
}

// gap reads one gap in the way that its keys tell. With no key but the location
// it was not measured.
func (r *reader) gap(path, what string, t gapReading) fitting {
	g := fitting{location: t.Location, Fit: clearance.DirectFit(what, measure.LengthReading{})}
	blades := t.Goes != "" || t.Stops != ""
	dial := t.From != "" || t.To != ""
	given := t.Gap != ""
	switch {
	case !blades && !dial && !given:
	case blades && !dial && !given:
		g.Direct, g.untried = r.blades(path, what, t)
	case dial && !blades && !given:
		g.Direct, g.turns = r.dial(path, what, t)
	case given && !blades && !dial:
		g.Direct, _ = r.size(what, path+".gap", t.Gap, path+".with", t.With)
		g.Direct = g.Direct.NonNegative()
		g.turns = r.instruments[t.With].turns
	default:
		r.fail(path, "a gap read in two ways: %w; keep goes and stops, or from and to, or gap", ErrAmbiguous)
	}
	return g
}

// blades reads a gap between the blade that goes and the one that does not.
func (r *reader) blades(path, what string, t gapReading) (reading measure.LengthReading, untried []units.Length) {
	in, ok := r.named(path+".with", t.With, feelerBlades)
	if !ok {
		return reading, nil
	}
	goes, goesRead := readBound(r, path+".goes", t.Goes, units.ParseLength)
	stops, stopsRead := readBound(r, path+".stops", t.Stops, units.ParseLength)
	if !goesRead || !stopsRead {
		return reading, nil
	}
	if goes != nil && stops != nil {
		for _, blade := range in.feelers.Blades {
			if goes.Less(blade) && blade.Less(*stops) {
				untried = append(untried, blade)
			}
		}
	}
	reading, err := in.feelers.Gap(what, goes, stops)
	r.check(path, err)
	return reading, untried
}

// dial reads a play as the travel of a dial.
func (r *reader) dial(path, what string, t gapReading) (reading measure.LengthReading, turns []units.Length) {
	in, ok := r.named(path+".with", t.With, "dial")
	from, hasFrom := read(r, path+".from", t.From, units.ParseLength)
	to, hasTo := read(r, path+".to", t.To, units.ParseLength)
	if !ok || !hasFrom || !hasTo {
		return reading, nil
	}
	reading, err := in.gauge.Travel(what, from, to)
	r.check(path, err)
	return reading, in.turns
}

// retry says what would settle an undecided gap: the blades that were not tried,
// or a better measurement, with the dial if that is good enough.
func (j *Job) retry(g fitting, a measure.Assessment[units.LengthDim]) string {
	u, places := j.show.length, j.show.places
	if len(g.untried) > 0 {
		return "try the blades between: " + list(g.untried, u)
	}
	if !a.Reading.Interval().HasHi() {
		return openEnded(a, u, places)
	}
	words := settles(a, u, places)
	if dial := j.finest("dial"); dial != nil {
		reach := reach(dial)
		if chance, ok := a.Chance(reach); ok && chance >= measure.NineInTen {
			words += fmt.Sprintf(": the %s is good to ±%s", dial.Name, reach.Format(u, places+1, units.Ceiling))
		}
	}
	return words
}

// finest returns the gauge of the kind that reaches the least to either side, or nil.
func (j *Job) finest(kind string) *measure.LengthInstrument {
	var best *measure.LengthInstrument
	for i := range j.gauges {
		if in := &j.gauges[i]; in.kind == kind && !in.bad && (best == nil || reach(&in.gauge).Less(reach(best))) {
			best = &in.gauge
		}
	}
	return best
}

// reach returns how far a reading of the instrument reaches to either side.
func reach(in *measure.LengthInstrument) units.Length {
	r, err := in.Read("", units.Millimetre.OfInt(1))
	if err != nil {
		return largest
	}
	return r.Interval().Radius()
}

// list writes lengths with the digits that they have.
func list(lengths []units.Length, u units.LengthUnit) string {
	texts := make([]string, len(lengths))
	for i, l := range lengths {
		texts[i] = l.Format(u, decimals(l, u, mostPlaces), units.HalfEven)
	}
	return strings.Join(texts, ", ")
}
