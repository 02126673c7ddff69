package job

import (
	"maps"
	"slices"
	"strings"

	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/units"
)

// Tried is what a reading would lead to, before it is written into the job.
type Tried struct {
	Problem  string    // why the text is no reading, and what to write instead; empty if it is one
	Slips    []string  // what it may have been meant as; a person has to say that it stands
	Looked   []Looked  // of what is looked at
	Findings []Finding // of the line at its place, and of what is worked out from it there, those of fits without Working and Remedies
}

// Try reads a text as the reading of a line at a place, and judges it there, with everything that is
// asked for and worked out from it at that place. sure says that a person was asked after it and it
// stands. The job stays as it is.
//
// What it says is what Assess says of the job with that reading in it, except that limits are not
// asked after: whether they are plausible follows from all readings. Working and Remedies of fits are left out: they
// take longer than the verdict, which answers each key.
func (j *Job) Try(line, location, text string, sure bool) Tried {
	m := j.line(line)
	if m == nil || m.workedOut() || !slices.Contains(m.at, location) {
		return Tried{Problem: "The engine has no such place to read: " + itemName(line, location, "") + "."}
	}
	r := *j.reader
	r.errs, r.cold = nil, map[string]bool{}
	path := m.source.path + ".readings." + location
	e, ok := entry{}, r.present(path, text)
	if ok {
		e, ok = r.entry(m, location, r.typed(path, text, m.source.path+".with", m.with))
	}
	if ok {
		if j.atWorst {
			e = r.each(e, m.worst)
		}
		e.path, e.text, e.sure = path, text, sure
		if m.correctedFor(j.bodies) {
			e = r.correctedEntry(m, e, j.bodies, r.declared, j.show.length)
		}
		if e.stationCount() > 1 && !e.reading.Taken() {
			e.reading = e.whole(m.states)
		}
	}
	if len(r.errs) > 0 || !ok {
		return Tried{Problem: problem(r.errs)}
	}
	return j.with(m.name(), location, e).tried(line, location)
}

// problem is the first of what is wrong with a text.
func problem(errs tomlfile.Errors) string {
	if len(errs) == 0 {
		return "It cannot be read; look at it again."
	}
	return capital(errs[0].What) + "."
}

// copied is the job with lines of its own, whose entries are still those of the job.
func (j *Job) copied() *Job {
	c := *j
	c.lines, c.byName = make([]*measured, len(j.lines)), make(map[string]*measured, len(j.lines))
	for i, m := range j.lines {
		own := *m
		c.lines[i], c.byName[m.name()] = &own, &own
	}
	return &c
}

// with is the job with another entry of a line at a place.
func (j *Job) with(name, location string, e entry) *Job {
	c := j.copied()
	c.trying = true
	m := c.byName[name]
	m.taken = maps.Clone(m.taken)
	m.taken[location] = e
	m.slips = map[string][]string{}
	shown := make(map[string]units.LengthInterval, len(m.taken))
	for at, e := range m.taken {
		shown[at] = e.shown()
	}
	for at := range m.taken { // a reading is among the likes of the others
		if said := c.slipsIn(m, shown, at); said != nil {
			m.slips[at] = said
		}
	}
	c.share()
	return c
}

// tried judges a line at a place, and what is worked out from it there.
func (j *Job) tried(line, location string) Tried {
	m := j.line(line)
	var t Tried
	for _, said := range m.slips[location] {
		said, _, _ = strings.Cut(said, againAndSure)
		t.Slips = append(t.Slips, said)
	}
	for _, x := range j.lines {
		if !x.expected || x != m && !j.restsOn(x, line) {
			continue
		}
		own := *x
		own.at = nil
		for _, at := range x.at {
			if x == m && at != location {
				continue
			}
			from := j.placesOf(m, at)
			if slices.Contains(from, location) || from == nil && len(x.at) == 1 {
				own.at = append(own.at, at)
			}
		}
		for _, q := range own.quantities() { // no question about limits
			own.sureOf = append(slices.Clone(own.sureOf), q.key)
		}
		if len(own.at) == 0 {
			continue
		}
		for _, g := range j.groupsOf(&own) {
			t.Findings = append(t.Findings, g.Findings...)
			if m.form == pressure && g.Findings[0].Slip != "" {
				t.Slips = append(t.Slips, g.Findings[0].Slip)
			}
		}
		if x == m && (m.form == state || m.form == layout) {
			for _, l := range j.looked() {
				if l.Name() == itemName(m.group, location, m.quantity) {
					t.Looked = append(t.Looked, l)
				}
			}
		}
	}
	return t
}

// restsOn reports whether a line is worked out from another, by whatever way.
func (j *Job) restsOn(x *measured, line string) bool {
	for _, name := range slices.Concat(x.terms, x.also) {
		if name == line {
			return true
		}
		if term := j.line(name); term != nil && j.restsOn(term, line) {
			return true
		}
	}
	return false
}
