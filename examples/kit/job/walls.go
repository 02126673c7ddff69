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

// remedies lists the changes of shells after which a location is proven inside,
// the smallest first; nil if the job does not say what shells exist, or if its sizes prove
// nothing.
func (j *Job) remedies(m *measured, x fitting) []string {
	at := slices.IndexFunc(j.shells, func(s shellSet) bool { return s.name == m.group })
	if at < 0 {
		return nil
	}
	set := j.shells[at]
	both, computed := x.Agreement(), x.Sum.Reading()
	if len(set.walls) == 0 || !computed.Taken() || len(computed.Unmet()) > 0 || both.Known && !both.Agree {
		return nil // what the sizes say is not known well enough to choose by
	}
	fit := x.Fit
	fit.Direct, fit.Sum.AtWorst = measure.LengthReading{}, j.atWorst
	remedies, err := fit.Remedies(m.limits[m.quantity], set.others(x.location)...)
	if err != nil {
		return []string{err.Error()}
	}
	if len(remedies) == 0 {
		return []string{"no shell that exists brings it inside: a machine shop"}
	}
	const most = 3
	var texts []string
	for _, r := range remedies[:min(most, len(remedies))] {
		texts = append(texts, fmt.Sprintf("%s (then %s, inside by %s)", changes(r),
			reading(r.Result.Interval(), j.show.length, j.show.places), r.Margin.Format(j.show.length, j.show.places+1, units.Floor)))
	}
	return texts
}

// others returns the shells that exist, without those that the codes of a location
// have put there already.
func (set shellSet) others(location string) []clearance.Alternative {
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
