package job

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A fact about how a line was read, and the words that a job file has for it, the one
// that proves something first.
type fact struct {
	what   string
	is     []string
	places bool // its words are names of the line's places, "1 and 5", not those of is
	either bool // any of its words will do, as long as one is said
}

// The facts that lines ask for (common practice, no source).
var (
	boltsDone   = fact{what: "bolts", is: []string{clearance.BoltsAsAssembled().Is, clearance.BoltsLoose().Is}}
	shellsOut   = fact{what: "shells", is: []string{clearance.ShellsOut().Is, clearance.ShellsIn().Is}}
	notTurned   = fact{what: "crankshaft", is: []string{"not turned", "turned"}}
	wipedOff    = fact{what: "oil", is: []string{"wiped off", "not wiped off"}}
	ringDepth   = fact{what: "depth", is: []string{"as the manual says", "elsewhere"}}
	ringSquare  = fact{what: "ring", is: []string{"square in its own bore", "not square"}}
	plateFitted = fact{what: "torque plate", is: []string{"fitted", "not fitted"}, either: true}
	atGauge     = fact{what: "gauge point", is: []string{"the maker's"}}
)

// condition is the fact as it must be.
func (f fact) condition() measure.Condition { return measure.Condition{What: f.what, Is: f.is[0]} }

// conditions reads how a line was read. What the line does not ask for is an error.
func (r *reader) conditions(path string, said map[string]string, l *line) []measure.Condition {
	var list []measure.Condition
	for _, what := range slices.Sorted(maps.Keys(said)) {
		is, at := said[what], path+"."+what
		i := slices.IndexFunc(l.needs, func(f fact) bool { return f.what == what })
		switch {
		case len(l.needs) == 0:
			r.fail(at, "%s asks for no conditions; leave it out", l.name())
			continue
		case i < 0:
			var known []string
			for _, f := range l.needs {
				known = append(known, f.what)
			}
			r.fail(at, "condition %q: %w; write one of %s", what, ErrUnknown, strings.Join(known, ", "))
			continue
		}
		f := l.needs[i]
		if f.places {
			if is != open && r.twoPlaces(at, is, l) {
				list = append(list, measure.Condition{What: what, Is: is})
			}
			continue
		}
		if slices.Contains(f.is, is) {
			list = append(list, measure.Condition{What: what, Is: is})
			continue
		}
		if to, ok := strings.CutPrefix(is, "tightened to "); ok && what == boltsDone.what {
			if torque, err := units.ParseTorque(to); err == nil {
				list = append(list, clearance.BoltsTightened(torque))
				continue
			}
		}
		if is != open {
			r.fail(at, "%s %q: %w; write %s", what, is, ErrUnknown, choices(f.is))
		}
	}
	return list
}

// choices lists texts to choose from: "a", "b" or "c".
func choices(texts []string) string {
	quoted := make([]string, len(texts))
	for i, t := range texts {
		quoted[i] = fmt.Sprintf("%q", t)
	}
	if len(quoted) == 1 {
		return quoted[0]
	}
	return strings.Join(quoted[:len(quoted)-1], ", ") + " or " + quoted[len(quoted)-1]
}

// placesIn are the places that a condition names: "1" and "5" of "1 and 5".
func placesIn(is string) []string { return strings.Split(is, " and ") }

// twoPlaces checks that a condition names two of a line's places.
func (r *reader) twoPlaces(path, is string, l *line) bool {
	places := l.where(r.engine)
	named := placesIn(is)
	if len(named) != 2 || named[0] == named[1] {
		r.fail(path, "%q: %w; name the two that carried it, as in \"%s and %s\"", is, ErrCount, places[0], places[len(places)-1])
		return false
	}
	for _, name := range named {
		if !r.oneOf(path, name, l.group, places) {
			return false
		}
	}
	return true
}

// conditions are what the line asks for. Where it only has to be known how it was, that is
// what the job states.
func (m *measured) conditions() []measure.Condition {
	var list []measure.Condition
	for _, f := range m.needs {
		c := f.condition()
		if i := slices.IndexFunc(m.states, func(s measure.Condition) bool { return s.What == f.what }); (f.places || f.either) && i >= 0 {
			c = m.states[i]
		}
		list = append(list, c)
	}
	return list
}

// unsupported are the line's places less those that its conditions name.
func (m *measured) unsupported() []string {
	at := slices.Clone(m.at)
	for _, f := range m.needs {
		for _, s := range m.states {
			if f.places && s.What == f.what {
				at = slices.DeleteFunc(at, func(p string) bool { return slices.Contains(placesIn(s.Is), p) })
			}
		}
	}
	return at
}
