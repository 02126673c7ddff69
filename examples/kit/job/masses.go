package job

import (
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// scale is the kind of instrument that weighs.
const scale = "scale"

// massPlaces is how many decimal places a mass is shown with.
const massPlaces = 1

// The lines that a bobweight is made of: of what turns with the crankpin all of it counts,
// of what goes up and down the share that the job states.
var (
	turning     = []string{"rod big end mass", "rod shells mass"}
	upAndDown   = []string{"rod small end mass", "piston mass", "piston pin mass", "piston rings mass"}
	bobweightOf = "crankpin bobweight"
)

// massLines are the lines of what is weighed.
func massLines() []line {
	lighten := Remedy{Stop,
		"Take the heavier ones down where the manual allows it, or choose others; weigh again.",
		"Take the heaviest down to the lightest, where the manual allows it, or choose others; weigh again."}
	weighed := func(group, quantity, how string) line {
		return line{group: group, quantity: quantity, where: atCylinders, form: mass, before: Choose, kinds: []string{scale}, how: how, remedy: lighten}
	}
	spread := func(group, quantity, of string) line {
		return line{group: group, quantity: quantity, where: atSeveral(group), form: mass, before: Choose, terms: []string{of}, sum: spreadOf,
			how: "the heaviest less the lightest", remedy: lighten}
	}
	return []line{
		weighed("rod", "mass", "without shells, cap and bolts on"),
		weighed("rod", "big end mass", "small end hung level from a hook, big end on the scale; cap and bolts on, without shells"),
		weighed("rod", "small end mass", "big end hung level from a hook, small end on the scale; cap and bolts on"),
		weighed("rod", "shells mass", "both shells of the rod"),
		weighed("piston", "mass", "without pin, clips and rings"),
		weighed("piston pin", "mass", "with its clips"),
		weighed("piston", "rings mass", "all rings of the piston"),
		spread("rods", "mass spread", "rod mass"),
		spread("rods", "big end mass spread", "rod big end mass"),
		spread("rods", "small end mass spread", "rod small end mass"),
		spread("pistons", "mass spread", "piston mass"),
		spread("piston pins", "mass spread", "piston pin mass"),
		{group: "crankpin", quantity: "bobweight", where: atPins, form: mass, before: Choose, terms: slices.Concat(turning, upAndDown), sum: bobweightAt,
			how: "what turns with the pin, and the share of what goes up and down", remedy: Remedy{Stop, "Have the crankshaft balanced for these parts.", "Have the crankshaft balanced for these parts."}},
	}
}

// atSeveral is a place for the parts of all cylinders, where there are several.
func atSeveral(name string) places {
	return func(e *Engine) []string {
		if len(e.Cylinders) < 2 {
			return nil
		}
		return []string{name}
	}
}

// weighed reads what a scale shows, or a mass with limits of its own.
func (r *reader) weighed(what string, t typed, kinds []string) (e entry, ok bool) {
	iv, ok := read(r, t.path, t.body, units.Parse[units.Interval[units.MassDim]])
	if !ok {
		return e, false
	}
	if !iv.Bounded() || iv.Lo().Sign() <= 0 || heaviest.Less(iv.Hi()) {
		r.fail(t.path, "%s: a mass between zero and %s belongs here; look at its unit", t.body, heaviest)
		return e, false
	}
	if !iv.IsPoint() {
		if t.withPath == t.path {
			r.fail(t.path, "%s has its own uncertainty, and %q has another; leave one out", t.body, t.with)
			return e, false
		}
		return entry{mass: measure.Given(iv, "given as "+t.body)}, true
	}
	in, ok := r.named(t.withPath, t.with, kinds...)
	if !ok {
		return e, false
	}
	var err error
	e.with = in.name
	e.mass, err = in.mass.Read(what, iv.Lo())
	return e, r.check(t.path, err)
}

// heaviest is the largest mass that a job may have: no rod or piston has more.
var heaviest = units.Gram.OfInt(1_000_000)

// massGroup judges what was weighed.
func (j *Job) massGroup(m *measured) Group {
	return valueGroup(m, j.show.mass, massPlaces, m.masses, func(location string) value[units.MassDim] {
		v, slips := value[units.MassDim]{reading: m.taken[location].mass}, m.slips[location]
		if m.sum != nil {
			v, slips = m.sum(j, m, location), j.massSlipsOf(m, location)
		}
		if len(slips) > 0 && v.reading.Taken() {
			v.slip = slips[0]
		}
		return v
	})
}

// massSlips says what a mass may have been meant as: by its limits, or by its likes.
func (j *Job) massSlips(m *measured, location string) []string {
	e := m.taken[location]
	if s := slip(e.mass, m.masses, j.show.mass, nil, massUnits()...); s != "" {
		return []string{s}
	}
	var others []units.Interval[units.MassDim]
	for _, other := range m.at {
		if other != location {
			others = append(others, m.taken[other].mass.Bracket())
		}
	}
	s := unlikeOthers(e.text, e.mass.Bracket(), others, units.Parse[units.Interval[units.MassDim]], func(a units.Interval[units.MassDim]) string { return reading(a, j.show.mass, massPlaces) })
	if s == "" {
		return nil
	}
	return []string{s}
}

// massSlipsOf are the slips of the masses that a spread or a bobweight is made of.
func (j *Job) massSlipsOf(m *measured, location string) (all []string) {
	for _, name := range m.terms {
		part := j.line(name)
		at := j.placesOf(part, location)
		if len(m.terms) == 1 { // a spread is of all places
			at = part.at
		}
		for _, place := range at {
			all = append(all, part.slips[place]...)
		}
	}
	return all
}

// spreadOf is the largest of the masses of a line less the smallest, once each was weighed.
func spreadOf(j *Job, m *measured, _ string) value[units.MassDim] {
	part := j.line(m.terms[0])
	var all []measure.Reading[units.MassDim]
	var missing []string
	for _, location := range part.at {
		r := part.taken[location].mass
		if !r.Taken() {
			missing = append(missing, location)
		}
		all = append(all, r)
	}
	if len(missing) > 0 {
		return value[units.MassDim]{open: fmt.Sprintf("still to weigh: %s of %s", part.name(), strings.Join(missing, ", "))}
	}
	// The masses are one plane of stations, and their out-of-round is the largest less the smallest.
	s, err := measure.NewStations([][]measure.Reading[units.MassDim]{all}, measure.OutOfRound)
	if err != nil {
		return value[units.MassDim]{open: err.Error()}
	}
	return value[units.MassDim]{reading: s.Find(measure.OutOfRound), how: fmt.Sprintf("the largest of %d less the smallest", len(all))}
}

// bobweightTable says how bobweights are made up.
type bobweightTable struct {
	Share   string   `toml:"share"`   // of what goes up and down
	Oil     string   `toml:"oil"`     // what hangs in the pin
	Without []string `toml:"without"` // lines that it does not hold
}

// bobweight is the same, read.
type bobweight struct {
	share   units.Ratio
	oil     units.Interval[units.MassDim]
	without []string
}

// readBobweight reads how bobweights are made up; nil where the job does not say.
func (r *reader) readBobweight(t *bobweightTable, declared []string) (*bobweight, []string) {
	if t == nil {
		return nil, declared
	}
	b := bobweight{without: t.Without}
	share, ok := read(r, "bobweight.share", t.Share, units.ParseRatio)
	if ok && (share.Sign() <= 0 || units.One.OfInt(1).Less(share)) {
		r.fail("bobweight.share", "%s: the share of what goes up and down lies above 0 %% and up to 100 %%; write the maker's, such as \"50 %%\"", t.Share)
	}
	b.share = share
	if t.Oil == "" {
		r.fail("bobweight.oil", "%w; write how much oil the pin holds, oil = \"4 ±1 g\", or \"0 g\" where the manual counts none", ErrMissing)
	}
	if b.oil = toleranced(r, "bobweight.oil", t.Oil, units.Parse[units.Interval[units.MassDim]]); !b.oil.IsEmpty() && (b.oil.Lo().Sign() < 0 || heaviest.Less(b.oil.Hi())) {
		r.fail("bobweight.oil", "%s: write how much oil the pin holds, as in \"4 ±1 g\"", t.Oil)
	}
	seen := map[string]string{}
	for i, name := range t.Without {
		at := fmt.Sprintf("bobweight.without[%d]", i)
		if r.oneOf(at, name, "line", slices.Concat(turning, upAndDown)) {
			r.once(at, name, "line", seen)
		}
	}
	return &b, append(declared, bobweightOf)
}

// bobweightAt is what a bobweight on a crankpin stands for, for each rod on it
//
//	W = Σ turning + share·Σ up and down + oil
func bobweightAt(j *Job, m *measured, location string) value[units.MassDim] {
	if j.bobweight == nil {
		return value[units.MassDim]{open: "write under [bobweight] which share of what goes up and down it holds, share = \"50 %\""}
	}
	sum := measure.Sum[units.MassDim]{Name: itemName(m.group, location, m.quantity), Symbol: "W", AtWorst: j.atWorst}
	for _, name := range m.terms {
		if slices.Contains(j.bobweight.without, name) {
			continue
		}
		factor := units.One.OfInt(1)
		if slices.Contains(upAndDown, name) {
			factor = j.bobweight.share
		}
		part := j.line(name)
		for _, at := range j.placesOf(part, location) {
			called := itemName(part.group, at, part.quantity)
			sum.Terms = append(sum.Terms, measure.Term[units.MassDim]{Symbol: fmt.Sprintf("m%d", len(sum.Terms)+1), Name: called, Factor: factor, Reading: part.taken[at].mass})
		}
	}
	sum.Terms = append(sum.Terms, measure.Plus("o", "oil in the pin", measure.Given(j.bobweight.oil, "as stated")))
	if missing := sum.Missing(); len(missing) > 0 {
		return value[units.MassDim]{open: "still to weigh: " + strings.Join(missing, ", ")}
	}
	w := sum.Working(j.show.mass)
	return value[units.MassDim]{reading: sum.Reading(), how: "from what was weighed", working: &w}
}

// massUnits are the units that a mass may have been meant in.
func massUnits() []units.Unit[units.MassDim] {
	list := []units.Unit[units.MassDim]{units.Gram}
	for _, symbol := range []string{"kg", "oz", "lb"} {
		if u, err := units.Parse[units.Unit[units.MassDim]](symbol); err == nil {
			list = append(list, u)
		}
	}
	return list
}
