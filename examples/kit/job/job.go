package job

import (
	"fmt"
	"maps"
	"slices"

	"example.com/closefit/clearance"
	"example.com/closefit/examples/kit/files/planfile"
	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/torque"
)

// A Job is what one job file describes: an engine's codes, limits, readings and
// tightening, every quantity parsed. It is made by Read.
type Job struct {
	title, note string
	date, by    string
	show        show
	rule        clearance.Combination
	gauges      []instrument // by name
	passages    []Passage
	jets        *jets
	bearings    []bearingSet
	gaps        []gapGroup
	bolts       []boltSet
	plan        *torque.Plan
}

// Title returns what the job calls itself.
func (j *Job) Title() string { return j.title }

// Plan returns the tightening plan; nil if the job has none.
func (j *Job) Plan() *torque.Plan { return j.plan }

// Read reads a job from the TOML text src of the file named. The error is
// tomlfile.Errors: everything that is wrong, each with its line and what to
// write instead.
func Read(name string, src []byte) (*Job, error) {
	var f file
	places, err := tomlfile.Decode(name, src, &f)
	if err != nil {
		return nil, err
	}
	r := &reader{places: places}
	j := r.job(f)
	if err := r.errs.Sorted(); err != nil {
		return nil, err
	}
	return j, nil
}

// job reads every part of the file.
func (r *reader) job(f file) *Job {
	r.present("title", f.Title)
	j := &Job{title: f.Title, note: f.Note, date: f.Date, by: f.By, show: r.readShow(f.Show)}
	j.rule = r.readRule(f.Combine)
	r.readInstruments(f.Instruments)
	for _, name := range slices.Sorted(maps.Keys(r.instruments)) {
		if in := r.instruments[name]; slices.Contains(gauges, in.kind) {
			j.gauges = append(j.gauges, in)
		}
	}
	j.passages = r.readPassages(f.Passages)
	if f.Jets != nil {
		j.jets = r.readJets(f.Jets)
	}
	seen := map[string]string{}
	for i, t := range f.Bearings {
		path := fmt.Sprintf("bearings[%d]", i)
		if r.present(path+".name", t.Name) && r.once(path+".name", t.Name, "bearings", seen) {
			j.bearings = append(j.bearings, r.readBearings(path, t))
		}
	}
	if f.EndPlay != nil {
		j.gaps = append(j.gaps, *r.readEndPlay(f.EndPlay))
	}
	if f.RodSidePlay != nil {
		j.gaps = append(j.gaps, r.readGaps("rod_side_play", "rod", "side play", sidePlayRemedy, *f.RodSidePlay))
	}
	for i, t := range f.RingGaps {
		path := fmt.Sprintf("ring_gaps[%d]", i)
		if r.present(path+".name", t.Name) && r.once(path+".name", t.Name, "ring gap", seen) {
			j.gaps = append(j.gaps, r.readGaps(path, t.Name, "end gap", ringGapRemedy, t))
		}
	}
	for i, t := range f.Bolts {
		path := fmt.Sprintf("bolts[%d]", i)
		if r.present(path+".name", t.Name) && r.once(path+".name", t.Name, "bolts", seen) {
			j.bolts = append(j.bolts, r.readBolts(path, t))
		}
	}
	if len(f.Tightening) > 0 {
		plan, errs := planfile.Plan(f.Title, f.Tightening, r.places)
		j.plan = plan
		r.errs = append(r.errs, errs...)
	}
	return j
}

// rules are the ways to combine the doubts of several sizes, by their names in a
// job file.
var rules = map[string]clearance.Combination{
	"by kind":         clearance.ByKind,
	"worst case":      clearance.WorstCase,
	"root-sum-square": clearance.RootSumSquare,
}

// readRule reads how the doubts of several sizes are combined: by kind, unless
// the job says otherwise.
func (r *reader) readRule(name string) clearance.Combination {
	if name != "" {
		r.oneOf("combine", name, "way to combine", slices.Sorted(maps.Keys(rules)))
	}
	return rules[name] // of no name, the zero rule: by kind
}
