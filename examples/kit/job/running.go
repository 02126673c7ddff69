package job

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
)

// readClearances reads the running clearance of every location that has one.
func (r *reader) readClearances(path string, t bearingsTable) map[string]clearance.Fit {
	fits := map[string]clearance.Fit{}
	seen := map[string]string{}
	for i, x := range t.Readings {
		at := fmt.Sprintf("%s.readings[%d]", path, i)
		if r.present(at+".location", x.Location) &&
			r.oneOf(at+".location", x.Location, "location", t.Locations) &&
			r.once(at+".location", x.Location, "location", seen) {
			fits[x.Location] = r.clearance(at, x)
		}
	}
	return fits
}

// clearance reads one running clearance: from a strip, from sizes, or from both.
func (r *reader) clearance(path string, t clearanceReading) clearance.Fit {
	with := withTable{}
	if t.With != nil {
		with = *t.With
	}
	var b clearance.MeasuredBearing
	sized := true
	if t.Bore != "" || t.UpperWall != "" || t.LowerWall != "" || t.Journal != "" {
		size := func(key, text, withKey, with string) (reading clearance.LengthReading) {
			reading, ok := r.size(path+"."+key, text, path+".with."+withKey, with)
			sized = sized && ok
			return reading
		}
		b.HousingBore = size("bore", t.Bore, "bore", with.Bore)
		b.UpperWall = size("upper_wall", t.UpperWall, "walls", with.Walls)
		b.LowerWall = size("lower_wall", t.LowerWall, "walls", with.Walls)
		b.Journal = size("journal", t.Journal, "journal", with.Journal)
	}
	fit := b.Fit()
	if t.Strip != "" {
		fit.Direct, _ = r.strip(path, t.Strip, with)
	}
	if sized && t.Journal != "" {
		r.check(path, fit.Check())
	}
	return fit
}

// strip reads a crush strip: "0.038 mm" is nearest to that print, "0.025..0.038
// mm" lies between two.
func (r *reader) strip(path, text string, with withTable) (reading clearance.LengthReading, ok bool) {
	in, known := r.named(path+".with.strip", with.Strip, crushStrip)
	iv, ok := read(r, path+".strip", text, units.ParseLengthInterval)
	if !known || !ok {
		return reading, false
	}
	var err error
	switch {
	case !iv.HasLo():
		reading, err = in.strip.Tighter()
	case !iv.HasHi():
		reading, err = in.strip.Looser()
	case iv.IsPoint():
		reading, err = in.strip.Nearest(iv.Lo())
	default:
		reading, err = in.strip.Between(iv.Lo(), iv.Hi())
	}
	return reading, r.check(path+".strip", err)
}

// clearanceGroup judges the running clearance of every location.
func (j *Job) clearanceGroup(set bearingSet) Group {
	g := Group{Name: set.name, Quantity: "running clearance", Remedy: bearingRemedy}
	var readings []gap
	for _, location := range set.locations {
		fit := set.fits[location]
		readings = append(readings, gap{location: location, reading: fit.Best(j.rule), computed: fit.Computed(j.rule).Taken()})
	}
	j.fill(&g, set.limits, readings, func(i int, a clearance.Assessment[units.LengthDim]) string {
		return j.remeasure(set.fits[set.locations[i]], a)
	})
	for i, location := range set.locations {
		fit := set.fits[location]
		f := &g.Findings[i]
		if fit.Computed(j.rule).Taken() {
			fit.Name = fmt.Sprintf("%s %s, running clearance", set.name, location)
			w := fit.Working(j.rule, j.show.length)
			f.Working = &w
			f.Caveat = j.caveat(fit, set.limits, f.Verdict, w)
		}
		if a := fit.Agreement(j.rule); a.Known && !a.Agree {
			f.Advice = fmt.Sprintf("the strip and the sizes do not agree: they lie %s apart, so one is wrong; measure both again",
				a.Apart.Format(j.show.length, j.show.places+1, units.HalfEven))
		}
		if f.Taken && f.Verdict != clearance.Conforming {
			f.Remedies = j.remedies(set, location)
		}
	}
	return g
}

// caveat says that a verdict stands only if the readings are independent, where
// some of them are from one instrument and share its error.
func (j *Job) caveat(fit clearance.Fit, limits units.LengthInterval, v clearance.Verdict, w units.Working) string {
	if j.rule == clearance.WorstCase || len(w.Notes) == 0 || !v.Proven() {
		return ""
	}
	worst := fit.Assess(clearance.WorstCase, limits)
	if worst.Verdict == v {
		return ""
	}
	return fmt.Sprintf("%s if its readings are independent: %s; by worst case it is %s, %s", v, w.Notes[len(w.Notes)-1],
		reading(worst.Reading.Interval(), j.show.length, j.show.places), worst.Verdict)
}

// remeasure says what would settle an undecided running clearance: another
// measurement with the job's own instruments if they are good enough.
func (j *Job) remeasure(fit clearance.Fit, a clearance.Assessment[units.LengthDim]) string {
	u, places := j.show.length, j.show.places
	if found := fit.Remeasurements(j.rule, a.Tolerance, j.offered()); len(found) > 0 && !fit.Direct.Taken() {
		var uses []string
		for _, use := range found[0].Uses {
			uses = append(uses, fmt.Sprintf("%s with the %s", termName(fit, use.Term), use.Instrument.Name))
		}
		return fmt.Sprintf("measuring the %s, which makes it good to ±%s in all, would settle it if its values stay where they are",
			strings.Join(uses, " and the "), found[0].Expanded.Format(u, places+1, units.Ceiling))
	}
	words := enough(a, u, places)
	bore, micrometer := finest(j.gauges, "bore gauge"), finest(j.gauges, "micrometer")
	if bore == nil || micrometer == nil {
		return words
	}
	together := j.together(bore.gauge, micrometer.gauge, micrometer.gauge, micrometer.gauge)
	mine := fmt.Sprintf("%s and %s are good to ±%s together", bore.gauge.Name, micrometer.gauge.Name, together.Format(u, places+1, units.Ceiling))
	if a.SettledBy(together) {
		return words + ": " + mine
	}
	return words + "; " + mine + ", and settle it only if it lies further than that from the limit"
}

// together is how good measurements with the instruments are in all, by the job's
// rule.
func (j *Job) together(instruments ...clearance.LengthInstrument) units.Length {
	if j.rule != clearance.WorstCase {
		return clearance.Together(instruments...)
	}
	var sum units.Length
	for _, in := range instruments {
		sum = sum.Add(in.Uncertainty)
	}
	return sum
}

func termName(fit clearance.Fit, symbol string) string {
	for _, t := range fit.Terms {
		if t.Symbol == symbol {
			return t.Name
		}
	}
	return symbol
}

// offered are the job's gauges for each size of a bearing.
func (j *Job) offered() map[string][]clearance.LengthInstrument {
	of := func(kind string) (list []clearance.LengthInstrument) {
		for _, in := range j.gauges {
			if in.kind == kind {
				list = append(list, in.gauge)
			}
		}
		return list
	}
	return map[string][]clearance.LengthInstrument{
		"D": of("bore gauge"), "t1": of("micrometer"), "t2": of("micrometer"), "d": of("micrometer"),
	}
}

// finest returns the gauge of the kind with the smallest uncertainty.
func finest(gauges []instrument, kind string) *instrument {
	var best *instrument
	for i, in := range gauges {
		if in.kind == kind && (best == nil || in.gauge.Uncertainty.Less(best.gauge.Uncertainty)) {
			best = &gauges[i]
		}
	}
	return best
}

// remedies lists the changes of shells after which a location is proven inside,
// the smallest first; nil if the job does not say what shells exist.
func (j *Job) remedies(set bearingSet, location string) []string {
	if len(set.walls) == 0 {
		return nil
	}
	fit := set.fits[location]
	if !fit.Computed(j.rule).Taken() {
		return nil
	}
	fit.Direct = clearance.LengthReading{}
	remedies, err := fit.Remedies(j.rule, set.limits, set.others(location)...)
	if err != nil {
		return []string{err.Error()}
	}
	if remedies.MachineShop() {
		return []string{"no shell that exists brings it inside: a machine shop"}
	}
	const most = 3
	var texts []string
	for _, r := range remedies[:min(most, len(remedies))] {
		texts = append(texts, fmt.Sprintf("%s: then %s, inside by %s at least", changes(r),
			reading(r.Result.Interval(), j.show.length, j.show.places), r.Margin.Format(j.show.length, j.show.places+1, units.Floor)))
	}
	return texts
}

// others returns the shells that exist, without those that the codes of a location
// have put there already.
func (set bearingSet) others(location string) []clearance.Alternative {
	fitted := map[string]bool{}
	for _, a := range set.shells {
		if a.Location == location && len(a.Pairs) == 1 {
			fitted[shellName("upper", a.Pairs[0].Upper.Grade)] = true
			fitted[shellName("lower", a.Pairs[0].Lower.Grade)] = true
		}
	}
	var list []clearance.Alternative
	for _, w := range set.walls {
		if !fitted[w.Name] {
			list = append(list, w)
		}
	}
	return list
}

func shellName(half, grade string) string { return half + " shell " + grade }

func changes(r clearance.Remedy) string {
	names := make([]string, len(r.Changes))
	for i, c := range r.Changes {
		names[i] = c.Name
	}
	return strings.Join(names, " and ")
}

// readWalls reads the shells that exist, as what could be fitted instead.
func (r *reader) readWalls(path string, t *wallsTable) []clearance.Alternative {
	if t == nil {
		return nil
	}
	var list []clearance.Alternative
	for _, half := range []struct {
		symbol, name string
		walls        map[string]string
	}{{"t1", "upper", t.Upper}, {"t2", "lower", t.Lower}} {
		for _, grade := range slices.SortedFunc(maps.Keys(half.walls), cmp.Compare[string]) {
			at := path + "." + half.name + "." + grade
			wall, ok := read(r, at, half.walls[grade], units.ParseLengthInterval)
			if !ok {
				continue
			}
			if !wall.Bounded() || wall.Lo().Sign() <= 0 {
				r.fail(at, "%s: a wall has two bounds, both above zero; write \"2.494..2.498 mm\"", half.walls[grade])
				continue
			}
			list = append(list, clearance.Alternative{
				Term: half.symbol, Name: shellName(half.name, grade),
				Reading: clearance.Given(wall, "wall of "+grade), Effort: clearance.Exchange,
			})
		}
	}
	return list
}
