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
	what string
	is   []string
}

// The facts that lines ask for (common practice, no source).
var (
	boltsDone  = fact{what: "bolts", is: []string{clearance.BoltsAsAssembled().Is, clearance.BoltsLoose().Is}}
	shellsOut  = fact{what: "shells", is: []string{clearance.ShellsOut().Is, clearance.ShellsIn().Is}}
	notTurned  = fact{what: "crankshaft", is: []string{"not turned", "turned"}}
	wipedOff   = fact{what: "oil", is: []string{"wiped off", "not wiped off"}}
	ringDepth  = fact{what: "depth", is: []string{"as the manual says", "elsewhere"}}
	ringSquare = fact{what: "ring", is: []string{"square in its own bore", "not square"}}
)

// condition is the fact as it must be.
func (f fact) condition() measure.Condition { return measure.Condition{What: f.what, Is: f.is[0]} }

// conditions are what the line asks for.
func (m *measured) conditions() []measure.Condition {
	var list []measure.Condition
	for _, f := range m.needs {
		list = append(list, f.condition())
	}
	return list
}

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
