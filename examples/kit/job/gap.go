package job

import (
	"fmt"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
)

// gapGroup is gaps judged against the same limits: end play, the side play of
// the rods, the gaps of one ring in its bores.
type gapGroup struct {
	name     string
	quantity string
	limits   units.LengthInterval
	remedy   Remedy
	gaps     []gap
}

type gap struct {
	location string
	reading  clearance.LengthReading
	computed bool           // worked out from sizes: what was mistyped would be one of those
	untried  []units.Length // blades of the set between the one that goes and the one that does not
}

// readEndPlay reads the end play of the crankshaft.
func (r *reader) readEndPlay(t *endPlayTable) *gapGroup {
	const path = "end_play"
	g := &gapGroup{name: "crankshaft", quantity: "end play", remedy: endPlayRemedy}
	g.limits, _ = r.limits(path+".limits", t.Limits)
	if t.Reading.Location != "" {
		r.fail(path+".reading.location", "a crankshaft has one end play; leave the location out")
	}
	t.Reading.Location = "crankshaft"
	g.gaps = []gap{r.gap(path+".reading", t.Reading)}
	return g
}

// readGaps reads a list of gaps.
func (r *reader) readGaps(path, name, quantity string, remedy Remedy, t gapsTable) gapGroup {
	g := gapGroup{name: name, quantity: quantity, remedy: remedy}
	g.limits, _ = r.limits(path+".limits", t.Limits)
	if len(t.Readings) == 0 {
		r.fail(path+".readings", "%w; list one for each location", ErrMissing)
	}
	seen := map[string]string{}
	for i, t := range t.Readings {
		at := fmt.Sprintf("%s.readings[%d]", path, i)
		if r.present(at+".location", t.Location) && r.once(at+".location", t.Location, "location", seen) {
			g.gaps = append(g.gaps, r.gap(at, t))
		}
	}
	return g
}

// gap reads one gap in the way that its keys tell. With no key but the location
// it was not measured.
func (r *reader) gap(path string, t gapReading) gap {
	g := gap{location: t.Location}
	blades := t.Goes != "" || t.Stops != ""
	dial := t.From != "" || t.To != ""
	given := t.Gap != ""
	switch {
	case !blades && !dial && !given:
	case blades && !dial && !given:
		g.reading, g.untried = r.blades(path, t)
	case dial && !blades && !given:
		g.reading = r.dial(path, t)
	case given && !blades && !dial:
		g.reading, _ = r.size(path+".gap", t.Gap, path+".with", t.With)
	default:
		r.fail(path, "a gap read in two ways: %w; keep goes and stops, or from and to, or gap", ErrAmbiguous)
	}
	return g
}

// blades reads a gap between the blade that goes and the one that does not.
func (r *reader) blades(path string, t gapReading) (reading clearance.LengthReading, untried []units.Length) {
	in, ok := r.named(path+".with", t.With, feelerBlades)
	if !ok {
		return reading, nil
	}
	goes, hasGoes := readIf(r, path+".goes", t.Goes, units.ParseLength)
	stops, hasStops := readIf(r, path+".stops", t.Stops, units.ParseLength)
	var err error
	switch {
	case hasGoes && hasStops:
		reading, err = in.feelers.Gap(goes, stops)
		for _, blade := range in.feelers.Blades() {
			if goes.Less(blade) && blade.Less(stops) {
				untried = append(untried, blade)
			}
		}
	case hasGoes && t.Stops == "":
		reading, err = in.feelers.Goes(goes)
	case hasStops && t.Goes == "":
		reading, err = in.feelers.Refuses(stops)
	}
	r.check(path, err)
	return reading, untried
}

func (r *reader) dial(path string, t gapReading) (reading clearance.LengthReading) {
	in, ok := r.named(path+".with", t.With, "dial")
	from, hasFrom := read(r, path+".from", t.From, units.ParseLength)
	to, hasTo := read(r, path+".to", t.To, units.ParseLength)
	if !ok || !hasFrom || !hasTo {
		return reading
	}
	reading, err := in.gauge.Difference(from, to)
	r.check(path, err)
	return reading
}
