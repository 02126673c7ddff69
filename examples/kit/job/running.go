package job

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// readClearances reads the running clearance of every location, in the order of the
// engine; those that were not measured among them.
func (r *reader) readClearances(path string, t bearingsTable) []fitting {
	readings, paths := map[string]clearanceReading{}, map[string]string{}
	seen := map[string]string{}
	for i, x := range t.Readings {
		at := fmt.Sprintf("%s.readings[%d]", path, i)
		if r.present(at+".location", x.Location) &&
			r.oneOf(at+".location", x.Location, "location", t.Locations) &&
			r.once(at+".location", x.Location, "location", seen) {
			readings[x.Location], paths[x.Location] = x, at
		}
	}
	states := r.bores(path+".bores", t.Bores)
	var fits []fitting
	for _, location := range t.Locations {
		x := fitting{location: location, Fit: (&clearance.MeasuredBearing{}).Fit()}
		if at, ok := paths[location]; ok {
			x.Fit = r.clearance(at, t.Name+" "+location, readings[location], states)
		}
		fits = append(fits, x)
	}
	return fits
}

// bores reads how the housing bores of a set were read.
func (r *reader) bores(path string, t *boresTable) []measure.Condition {
	if t == nil {
		return nil
	}
	var states []measure.Condition
	switch t.Bolts {
	case "":
	case "as for assembly":
		states = append(states, clearance.BoltsAsAssembled())
	case "loose":
		states = append(states, clearance.BoltsLoose())
	default:
		torque, err := units.ParseTorque(t.Bolts)
		if err != nil {
			r.fail(path+".bolts", "%q: %w; write \"as for assembly\", \"loose\", or the torque, as in \"40 N·m\"", t.Bolts, ErrUnknown)
			break
		}
		states = append(states, clearance.BoltsTightened(torque))
	}
	if t.Shells != "" && r.oneOf(path+".shells", t.Shells, "state of the shells", []string{"out", "in"}) {
		if t.Shells == "out" {
			states = append(states, clearance.ShellsOut())
		} else {
			states = append(states, clearance.ShellsIn())
		}
	}
	return states
}

// clearance reads one running clearance: from a strip, from sizes, or from both. states
// is how the bore was read.
func (r *reader) clearance(path, name string, t clearanceReading, states []measure.Condition) clearance.Fit {
	with := withTable{}
	if t.With != nil {
		with = *t.With
	}
	fit := (&clearance.MeasuredBearing{}).Fit()
	fit.Sum.AtWorst = r.atWorst
	if t.Bore != "" || t.UpperWall != "" || t.LowerWall != "" || t.Journal != "" {
		sized := true
		for i, size := range []struct{ key, text, withKey, with string }{ // in the order of the terms
			{"bore", t.Bore, "bore", with.Bore}, {"upper_wall", t.UpperWall, "walls", with.Walls},
			{"lower_wall", t.LowerWall, "walls", with.Walls}, {"journal", t.Journal, "journal", with.Journal},
		} {
			term := &fit.Sum.Terms[i]
			var ok bool
			term.Reading, ok = r.size(name+", "+term.Name, path+"."+size.key, size.text, path+".with."+size.withKey, size.with)
			sized = sized && ok
		}
		fit.Sum.Terms[0].Reading = fit.Sum.Terms[0].Reading.With(states...)
		if sized {
			r.check(path, fit.Check())
		}
	}
	if t.Strip != "" {
		fit.Direct, _ = r.strip(path, name+", crush strip", t.Strip, with)
	}
	return fit
}

// strip reads a crush strip: "0.038 mm" is nearest to that print, "0.025..0.038
// mm" lies between two.
func (r *reader) strip(path, what, text string, with withTable) (reading measure.LengthReading, ok bool) {
	in, known := r.named(path+".with.strip", with.Strip, crushStrip)
	iv, ok := read(r, path+".strip", text, units.ParseLengthInterval)
	if !known || !ok {
		return reading, false
	}
	reading, err := in.strip.Read(what, iv)
	return reading, r.check(path+".strip", err)
}

// clearanceGroup judges the running clearance of every location.
func (j *Job) clearanceGroup(set bearingSet) Group {
	g := j.group(fitGroup{set.name, "running clearance", set.limits, bearingRemedy, set.fits}, j.remeasure)
	for i, x := range set.fits {
		if f := &g.Findings[i]; f.Taken && f.Verdict != measure.Conforming {
			f.Remedies = j.remedies(set, x)
		}
	}
	return g
}

// remeasure says what would settle an undecided running clearance: another
// measurement with the job's own instruments if they are good enough.
func (j *Job) remeasure(x fitting, a measure.Assessment[units.LengthDim]) string {
	u, places := j.show.length, j.show.places
	if both := x.Agreement(); both.Known && !both.Agree {
		return fmt.Sprintf("the strip and the sizes do not agree: they differ by %s, so one is wrong; measure both again",
			reading(both.Difference.Interval(), u, places))
	}
	if len(a.Reading.Unmet()) > 0 {
		return a.Reading.Problem() + "; once they were read so, write bores = { bolts = \"as for assembly\", shells = \"out\" } under [[bearings]]"
	}
	if found := x.Remeasurements(a.Tolerance, measure.NineInTen, j.offered()); len(found) > 0 && !x.Direct.Taken() {
		var uses []string
		for _, t := range x.Sum.Terms {
			if with, ok := found[0].With[t.Symbol]; ok {
				uses = append(uses, fmt.Sprintf("%s with the %s", t.Name, with.Name))
			}
		}
		return fmt.Sprintf("measuring the %s, which makes it good to ±%s in all, settles it nine times in ten",
			strings.Join(uses, " and the "), found[0].Expanded.Format(u, places+1, units.Ceiling))
	}
	words := settles(a, u, places)
	bore, micrometer := j.finest("bore gauge"), j.finest("micrometer")
	if bore == nil || micrometer == nil {
		return words
	}
	together, ok := j.together(bore, micrometer)
	chance, known := a.Chance(together)
	if !ok || !known {
		return words
	}
	mine := fmt.Sprintf("%s and %s are good to ±%s together", bore.Name, micrometer.Name, together.Format(u, places+1, units.Ceiling))
	if chance >= measure.NineInTen {
		return words + ": " + mine
	}
	return words + "; " + mine + ", and settle it " + chances(chance)
}

// together returns how good a clearance is whose bore is read with one instrument, and
// whose walls and journal are read with another.
func (j *Job) together(bore, micrometer *measure.LengthInstrument) (units.Length, bool) {
	fit := (&clearance.MeasuredBearing{}).Fit()
	fit.Sum.AtWorst = j.atWorst
	for i := range fit.Sum.Terms {
		term, in := &fit.Sum.Terms[i], micrometer
		if i == 0 {
			in = bore
		}
		r, err := in.Read(term.Name, units.Millimetre.OfInt(1))
		if err != nil {
			return units.Length{}, false
		}
		term.Reading = r.With(term.Needs...)
	}
	c := fit.Sum.Interval()
	if !c.Bounded() {
		return units.Length{}, false
	}
	return c.Radius(), true
}

// offered are the job's gauges for each size of a bearing.
func (j *Job) offered() map[string][]measure.LengthInstrument {
	of := func(kind string) (list []measure.LengthInstrument) {
		for _, in := range j.gauges {
			if in.kind == kind {
				list = append(list, in.gauge)
			}
		}
		return list
	}
	return map[string][]measure.LengthInstrument{
		"D": of("bore gauge"), "t1": of("micrometer"), "t2": of("micrometer"), "d": of("micrometer"),
	}
}

// remedies lists the changes of shells after which a location is proven inside,
// the smallest first; nil if the job does not say what shells exist, or if its sizes prove
// nothing.
func (j *Job) remedies(set bearingSet, x fitting) []string {
	both := x.Agreement()
	if len(set.walls) == 0 || !both.Second.Taken() || len(both.Second.Unmet()) > 0 || both.Known && !both.Agree {
		return nil // what the sizes say is not known well enough to choose by
	}
	fit := x.Fit
	fit.Direct, fit.Sum.AtWorst = measure.LengthReading{}, j.atWorst
	remedies, err := fit.Remedies(set.limits, set.others(x.location)...)
	if err != nil {
		return []string{err.Error()}
	}
	if len(remedies) == 0 {
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
				Reading: measure.Given(wall, "wall of "+grade), Effort: clearance.Exchange,
			})
		}
	}
	return list
}
