package job

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"example.com/closefit/clearance"
	"example.com/closefit/grading"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// wallsTable has the wall of each grade of shell that exists. A grade of which both halves
// have one wall stands once, under both.
type wallsTable struct {
	Upper map[string]string `toml:"upper"`
	Lower map[string]string `toml:"lower"`
	Both  map[string]string `toml:"both"`
}

// grades are those that the table names, whether their walls are known or open.
func (t *wallsTable) grades() []string {
	var grades []string
	if t != nil {
		for _, walls := range []map[string]string{t.Upper, t.Lower, t.Both} {
			for _, grade := range slices.Sorted(maps.Keys(walls)) {
				if !slices.Contains(grades, grade) {
					grades = append(grades, grade)
				}
			}
		}
	}
	return grades
}

// walls reads the shells that exist, those of an undersize by its name; none while one of
// them is open.
func (r *reader) walls(path string, t *wallsTable, family string, interchangeable bool) []grading.Shell {
	if t == nil {
		return nil
	}
	var list []grading.Shell
	unread := false
	for _, half := range []struct {
		name  string
		walls map[string]string
		half  grading.Half
	}{{"upper", t.Upper, grading.Upper}, {"lower", t.Lower, grading.Lower}, {"both", t.Both, grading.Either}} {
		if interchangeable && half.half != grading.Either && len(half.walls) > 0 {
			r.fail(path+"."+half.name, "walls of the %s half, and halves that are interchangeable: %w; write them under both", half.name, ErrAmbiguous)
			continue
		}
		for _, grade := range slices.Sorted(maps.Keys(half.walls)) {
			at, text := path+"."+half.name+"."+grade, half.walls[grade]
			if text == open {
				unread = true
				continue
			}
			wall, ok := read(r, at, text, units.ParseLengthInterval)
			if !ok {
				continue
			}
			switch {
			case !wall.Bounded() || wall.Lo().Sign() <= 0:
				r.fail(at, "%s: a wall has two bounds, both above zero; write \"2.494..2.498 mm\"", text)
			case tooWide(wall):
				r.fail(at, "%s: %w", text, errTooWide)
			case half.half == grading.Either && (t.Upper[grade] != "" || t.Lower[grade] != ""):
				r.fail(at, "the wall of grade %q: %w, under both and for one half; keep one", grade, ErrTwice)
			default:
				list = append(list, grading.Shell{Grade: grade, Half: half.half, Family: family, Wall: wall})
			}
		}
	}
	if unread {
		return nil
	}
	return list
}

// wallOf is the wall of a shell of a scheme; empty if none is listed.
func wallOf(s *grading.Scheme, p grading.Part) units.LengthInterval {
	for _, sh := range s.Shells {
		if sh.Family == "" && sh.Grade == p.Grade && (sh.Half == p.Half || sh.Half == grading.Either) {
			return sh.Wall
		}
	}
	return units.LengthInterval{}
}

// remedies lists the changes of shells after which a location is proven inside,
// the smallest first; nil if the job does not say what shells exist, if its sizes prove
// nothing, or while a doubt of its sizes or its codes stands unanswered.
func (j *Job) remedies(m *measured, x *fitting) (remedies []clearance.Remedy, none string) {
	at := slices.IndexFunc(j.shells, func(s shellSet) bool { return s.name() == m.group })
	if at < 0 || len(x.slipped) > 0 {
		return nil, ""
	}
	set := &j.shells[at]
	both, computed := x.Agreement(), x.Sum.Reading()
	if s := set.at(x.location); s == nil || len(s.Shells) == 0 || !computed.Taken() || len(computed.Unmet()) > 0 || both.Known && !both.Agree || len(j.doubts(set, x.location)) > 0 {
		return nil, "" // what the sizes say is not known well enough to choose by
	}
	fit := x.Fit
	fit.Direct, fit.Sum.AtWorst = measure.LengthReading{}, j.atWorst
	remedies, err := fit.Remedies(m.limits[m.quantity], set.others(x.location)...)
	if err != nil {
		return nil, err.Error()
	}
	if len(remedies) == 0 {
		return nil, "no shell that exists brings it inside: a machine shop"
	}
	return remedies, ""
}

// remedyTexts says what remedies there are; that there are none only of what is wrong, for
// what is undecided may be right as it is.
func (j *Job) remedyTexts(m *measured, x *fitting, v measure.Verdict) []string {
	remedies, none := j.remedies(m, x)
	if none != "" && v.Outside() {
		return []string{none}
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
func (set *shellSet) others(location string) []clearance.Alternative {
	fitted := map[string]bool{}
	for _, a := range set.coded {
		if a.Location == location && len(a.Pairs) == 1 && set.ground[location] == nil {
			for _, p := range partsOf(a.Pairs[0]) {
				fitted[shellName(p.half, p.part.Grade)] = true
			}
		}
	}
	var list []clearance.Alternative
	for _, half := range []struct{ term, name string }{{"t1", "upper"}, {"t2", "lower"}} {
		for _, sh := range set.at(location).Shells {
			name := shellName(half.name, sh.Grade)
			if fitted[name] || sh.Half != grading.Either && sh.Half.String() != half.name {
				continue
			}
			list = append(list, clearance.Alternative{Term: half.term, Name: name, Reading: measure.Given(sh.Wall, "wall of "+sh.Grade), Effort: clearance.Exchange})
		}
	}
	return list
}

// changesOf are the grades that a remedy puts into the halves.
func changesOf(r clearance.Remedy) map[string]string {
	grades := map[string]string{}
	for _, c := range r.Changes {
		for _, half := range []string{"upper", "lower"} {
			if grade, ok := strings.CutPrefix(c.Name, shellName(half, "")); ok {
				grades[half] = grade
			}
		}
	}
	return grades
}

func shellName(half, grade string) string { return half + " shell " + grade }

func changes(r clearance.Remedy) string {
	text := ""
	for i, c := range r.Changes {
		if i > 0 {
			text += " and "
		}
		text += c.Name
	}
	return text
}
