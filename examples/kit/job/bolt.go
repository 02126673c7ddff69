package job

import (
	"fmt"
	"maps"
	"slices"

	"example.com/closefit/examples/kit/files/planfile"
	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/fasteners"
	"example.com/closefit/torque"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// boltSet is the bolts of one group of the final assembly.
type boltSet struct {
	group    string
	use      torque.BoltUse
	quantity string       // "stretch" or "length"; empty where no length is judged
	limit    units.Length // of that
	bolts    []boltCheck  // in the order of the plan
}

// A boltCheck is what is known of one bolt. A used one is measured where its group has a
// limit; else somebody looked at it.
type boltCheck struct {
	bolt    string
	state   string // "new", "sound", "scrap", or empty where nothing is said
	entry   entry
	whenNew units.LengthInterval
}

// size returns what is judged of the bolt.
func (c boltCheck) size() *measure.Sum[units.LengthDim] {
	if !c.whenNew.IsEmpty() {
		return fasteners.Stretch(c.entry.reading, measure.Given(c.whenNew, "length when new"))
	}
	return &measure.Sum[units.LengthDim]{Name: "length", Symbol: "L", Terms: []measure.Term[units.LengthDim]{measure.Plus("L", "length", c.entry.reading)}}
}

// contradicts reports whether the bolt measures shorter than when it was new.
func (c boltCheck) contradicts() bool {
	return c.entry.reading.Taken() && c.size().Reading().Problem() != ""
}

// readBolts reads what is known of every bolt of the plan. A bolt of which nothing is said
// is not known to be fit for use. Where something is wrong with the plan, and that has been
// said, only what is wrong with the bolts that it lists is found out.
func (r *reader) readBolts(plan *torque.Plan, listed []planfile.Group, tables map[string]boltsTable) []boltSet {
	if plan == nil {
		for name := range tables {
			i := slices.IndexFunc(listed, func(g planfile.Group) bool { return g.Group == name })
			if i >= 0 {
				set := boltSet{group: name}
				for _, bolt := range listed[i].Named() {
					set.bolts = append(set.bolts, boltCheck{bolt: bolt})
				}
				if len(set.bolts) > 0 {
					r.readBoltSet("bolts."+name, &set, tables[name])
				}
			} else if len(listed) == 0 {
				r.fail("bolts."+name, "bolts without a tightening: %w; add [[tightening]] with group = %q", ErrMissing, name)
			}
		}
		return nil
	}
	var groups []string
	var sets []boltSet
	for _, g := range plan.Groups() {
		groups = append(groups, g.Name)
		set := boltSet{group: g.Name, use: g.Use}
		for _, p := range g.Pattern {
			set.bolts = append(set.bolts, boltCheck{bolt: p.Bolt})
		}
		if t, ok := tables[g.Name]; ok {
			r.readBoltSet("bolts."+g.Name, &set, t)
		}
		sets = append(sets, set)
	}
	for _, name := range slices.Sorted(maps.Keys(tables)) {
		if !slices.Contains(groups, name) {
			r.unknown("bolts."+name, "group of bolts", name, groups)
		}
	}
	return sets
}

// readBoltSet reads one group.
func (r *reader) readBoltSet(path string, set *boltSet, t boltsTable) {
	index := map[string]int{}
	var names []string
	for i, c := range set.bolts {
		index[c.bolt] = i
		names = append(names, c.bolt)
	}
	for _, said := range []struct {
		state string
		v     any
	}{{"new", t.New}, {"sound", t.Sound}, {"scrap", t.Scrap}} {
		for _, bolt := range r.someOf(path+"."+said.state, said.v, "bolt", names) {
			c := &set.bolts[index[bolt]]
			if c.state != "" {
				r.fail(path+"."+said.state, "bolt %q is %s and %s: %w; keep one", bolt, c.state, said.state, ErrTwice)
				continue
			}
			c.state = said.state
		}
	}
	for _, text := range []*string{&t.LongestStretch, &t.LongestLength, &t.With} {
		if *text == open {
			*text = ""
		}
	}
	byStretch, byLength := t.LongestStretch != "", t.LongestLength != ""
	var ok bool
	switch {
	case byStretch && byLength:
		r.fail(path, "two limits: %w; keep longest_stretch or longest_length", ErrAmbiguous)
		return
	case byStretch:
		set.quantity = "stretch"
		set.limit, ok = read(r, path+".longest_stretch", t.LongestStretch, units.ParseLength)
	case byLength:
		set.quantity = "length"
		set.limit, ok = read(r, path+".longest_length", t.LongestLength, units.ParseLength)
	case len(t.Lengths) > 0:
		r.fail(path+".lengths", "lengths without a limit: %w; write longest_stretch = \"...\" or longest_length = \"...\"", ErrMissing)
		return
	default:
		return
	}
	if ok && set.limit.Sign() < 0 {
		r.fail(path, "a limit of %s; write zero or more", set.limit)
		ok = false
	}
	for _, bolt := range slices.Sorted(maps.Keys(t.Lengths)) {
		at, text := path+".lengths."+bolt, t.Lengths[bolt]
		i, there := index[bolt]
		if !there {
			r.unknown(at, "bolt", bolt, names)
			continue
		}
		if text == open || !r.present(at, text) || !ok {
			continue
		}
		c := &set.bolts[i]
		if c.entry, there = r.size(set.group+" "+bolt+", length", r.typed(at, text, path+".with", t.With), sizeKinds); there && byStretch {
			c.whenNew, _ = r.lengthWhenNew(path, bolt, t)
		}
		c.entry.path, c.entry.text = at, text
		c.entry.sure = slices.Contains(t.Sure, bolt)
	}
	for i, bolt := range t.Sure {
		r.oneOf(fmt.Sprintf("%s.sure[%d]", path, i), bolt, "bolt", names)
	}
	for _, bolt := range slices.Sorted(maps.Keys(t.NewLengths)) {
		r.oneOf(path+".new_lengths."+bolt, bolt, "bolt", names)
	}
}

// someOf reads "all", or a list of names of those there are.
func (r *reader) someOf(path string, v any, what string, names []string) []string {
	switch v := v.(type) {
	case nil:
		return nil
	case string:
		if v == "all" {
			return names
		}
		r.fail(path, "%q; write \"all\", or a list of %ss in brackets, as in [%q]", v, what, names[0])
		return nil
	case []any:
		var list []string
		for i, x := range v {
			name, ok := x.(string)
			if !ok {
				r.fail(fmt.Sprintf("%s[%d]", path, i), "%s, where the name of a %s belongs; write it in quotes", tomlfile.Said(x), what)
			} else if r.oneOf(fmt.Sprintf("%s[%d]", path, i), name, what, names) && !slices.Contains(list, name) {
				list = append(list, name)
			}
		}
		return list
	}
	r.fail(path, "%s; write \"all\", or a list of %ss in brackets", tomlfile.Said(v), what)
	return nil
}

// lengthWhenNew reads the length that a bolt had when it was new.
func (r *reader) lengthWhenNew(path, bolt string, t boltsTable) (units.LengthInterval, bool) {
	newPath, newText := path+".new_lengths."+bolt, t.NewLengths[bolt]
	if newText == "" {
		newPath, newText = path+".new_length", t.NewLength
	}
	whenNew, ok := read(r, newPath, newText, units.ParseLengthInterval)
	switch {
	case !ok:
		return whenNew, false
	case !whenNew.Bounded() || whenNew.Lo().Sign() <= 0:
		r.fail(newPath, "%s: a length has two bounds, both above zero; write \"44.30 ±0.06 mm\"", newText)
		return whenNew, false
	case whenNew.IsPoint():
		r.fail(newPath, "%s: %w; write the length with the tolerance that new bolts have, as in \"44.30 ±0.06 mm\"", newText, ErrNotSure)
		return whenNew, false
	}
	return whenNew, true
}

// boltGroup judges the measured bolts of a group; ok is false if none is to be measured.
func (j *Job) boltGroup(set boltSet) (g Group, ok bool) {
	if set.quantity == "" {
		return g, false
	}
	u, places := j.show.length, j.show.places
	limits := units.AtMost(set.limit)
	g = Group{Name: set.group, Quantity: set.quantity, Remedy: boltRemedy, Limits: tolerance(limits, u, places), before: Final}
	var d drawing
	shown, at := map[string]units.LengthInterval{}, []string(nil)
	for _, c := range set.bolts {
		shown[c.bolt] = c.entry.shown()
		at = append(at, c.bolt)
	}
	for _, c := range set.bolts {
		if c.state != "" && !c.entry.reading.Taken() {
			continue // it is known by what was said of it
		}
		sum := *c.size()
		sum.AtWorst = j.atWorst
		if c.contradicts() {
			sum.NonNegative = false // so that the record shows the difference
		}
		a := measure.Assess(sum.Reading(), limits)
		f := found(subject{g.Name, c.bolt, g.Quantity}, a, toleranceRange(a.Tolerance, u, places), u, places)
		if f.Taken {
			f.How = c.entry.told(c.entry.reading.How(u))
		}
		switch {
		case c.contradicts():
			f.Verdict = measure.Undecided
			f.Advice = "the bolt measures shorter than when new: measure again, and make sure that it is the same bolt"
		case f.Taken && a.Verdict == measure.Undecided:
			f.Advice = j.remeasureBolt(c, set.limit, a)
		}
		s := j.unlike(c.entry.text, shown, at, c.bolt)
		if length := c.entry.reading.Interval(); s == "" && c.whenNew.IsEmpty() && length.HasHi() && length.Hi().MulInt(20).Less(set.limit.MulInt(19)) {
			s = fmt.Sprintf("%s is far below the longest that it may be, %s", c.entry.text, reading(limits, u, places))
		}
		if s == "" && !c.whenNew.IsEmpty() && c.whenNew.Lo().Less(set.limit.MulInt(coarse)) {
			s = fmt.Sprintf("the stretch that it may have, %s, is more than a fiftieth of its length", reading(limits, u, places))
		}
		if s != "" && !c.entry.sure && f.Taken {
			f.Slip = fmt.Sprintf("%s: %s; read it again, and if it stands write sure = [%q]", f.Name(), s, c.bolt)
			f.Verdict = measure.Undecided
		}
		g.Findings = append(g.Findings, f)
		add(&d, a.Reading.Supposed(), limits, u)
	}
	d.into(g.Findings)
	return g, len(g.Findings) > 0
}

// remeasureBolt says what would settle an undecided bolt. However well its length is
// measured now, the doubt of its length when new remains.
func (j *Job) remeasureBolt(c boltCheck, limit units.Length, a measure.Assessment[units.LengthDim]) string {
	u, places := j.show.length, j.show.places
	if !c.whenNew.IsEmpty() {
		least, most := c.whenNew.Lo().Add(limit), c.whenNew.Hi().Add(limit)
		return fmt.Sprintf("replace it, or measure new bolts from the same box: its length when new is only known to %s; at most %s, uncertainty counted, is good, and above %s is scrap",
			reading(c.whenNew, u, places), least.Format(u, places, units.Floor), most.Format(u, places, units.Ceiling))
	}
	return settles(a, u, places)
}
