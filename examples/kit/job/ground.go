package job

import (
	"maps"
	"slices"
	"strings"

	"example.com/closefit/grading"
	"example.com/closefit/units"
)

// families reads the undersizes of which shells are listed: each by its name, which is the
// undersize, with its walls. Those that are not listed follow from the standard shells.
func (r *reader) families(at string, t shellsTable, s *grading.Scheme) {
	for _, name := range slices.Sorted(maps.Keys(t.Undersizes)) {
		here := at + "." + name
		by, ok := read(r, here, name, units.ParseLength)
		if !ok {
			continue
		}
		walls := t.Undersizes[name]
		s.Families = append(s.Families, grading.Family{Name: name, Undersize: by})
		s.Shells = append(s.Shells, r.walls(here, &walls, name, t.Interchangeable)...)
	}
}

// readGround reads which journals were ground and to which undersize, and finds the scheme
// for each. One without the other is an error: whoever says both has looked.
func (r *reader) readGround(j *Job, set *shellSet, t shellsTable, whole *grading.Scheme) {
	at := set.path()
	journals := set.locations
	if set.part == "rod" {
		journals = j.engine.pinNames()
	}
	ground := r.someOf(at+".ground", t.Ground, "journal", journals)
	undersizes := map[string]string{}
	paths := map[string]string{}
	switch v := t.Undersize.(type) {
	case nil:
	case string:
		if len(ground) == 0 {
			r.fail(at+".undersize", "an undersize, and no journal that was ground: %w; write ground = [%q], or \"all\", once they are, or leave undersize out", ErrMissing, journals[0])
			return
		}
		for _, journal := range ground {
			undersizes[journal], paths[journal] = v, at+".undersize"
		}
	case map[string]any:
		for _, journal := range slices.Sorted(maps.Keys(v)) {
			here := at + ".undersize." + journal
			text, ok := v[journal].(string)
			switch {
			case !r.oneOf(here, journal, "journal", journals):
			case !ok:
				r.fail(here, "%v, where a text belongs; write \"0.25 mm\"", v[journal])
			case !slices.Contains(ground, journal):
				r.fail(here, "an undersize of journal %q, which is not said to be ground: %w; write ground = [%q] once it is, or leave the undersize out", journal, ErrMissing, journal)
			default:
				undersizes[journal], paths[journal] = text, here
			}
		}
	default:
		r.fail(at+".undersize", "%v; write \"0.25 mm\", or one for each journal, { %s = \"0.25 mm\" }", v, key(journals[0]))
		return
	}
	for _, journal := range ground {
		if undersizes[journal] == "" {
			if _, wrong := t.Undersize.(string); !wrong {
				r.fail(at+".ground", "journal %q is ground, and its undersize is not said: %w; write undersize = \"0.25 mm\", or { %s = \"0.25 mm\" }", journal, ErrMissing, key(journal))
			}
			continue
		}
		s := r.undersized(paths[journal], undersizes[journal], whole)
		if s == nil {
			return
		}
		if set.ground == nil {
			set.ground = map[string]*grading.Scheme{}
		}
		for _, location := range set.locations {
			if location == journal || set.part == "rod" && j.engine.pinOf(location) == journal {
				set.ground[location] = s
			}
		}
	}
}

// undersized is the scheme for an undersize, which is typed by its name or by its size.
func (r *reader) undersized(at, text string, whole *grading.Scheme) *grading.Scheme {
	var names []string
	for _, f := range whole.Families {
		names = append(names, f.Name)
	}
	name := text
	if !slices.Contains(names, text) {
		by, ok := read(r, at, text, units.ParseLength)
		if !ok {
			return nil
		}
		i := slices.IndexFunc(whole.Families, func(f grading.Family) bool { return f.Undersize.Equal(by) })
		switch {
		case i >= 0:
			name = names[i]
		case len(names) > 0:
			r.unknown(at, "undersize", text, names)
			return nil
		default:
			if strings.Contains(name, "/") { // "1/64 in": a stroke stands between the grades of two halves
				name = by.Format(r.unit(), decimals(by, r.unit(), mostPlaces), units.HalfEven)
			}
			made := *whole
			made.Families = []grading.Family{{Name: name, Undersize: by}}
			whole = &made
		}
	}
	s, err := whole.InFamily(name)
	if !r.check(at, err) {
		return nil
	}
	return s
}
