package job

import (
	"fmt"
	"maps"
	"slices"

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
	atWorst     bool         // every doubt is added at its worst
	gauges      []instrument // by name
	passages    []Passage
	jets        *jets
	bearings    []bearingSet
	gaps        []fitGroup
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
	if f.Combine != "" {
		j.atWorst = r.oneOf("combine", f.Combine, "way to combine doubts", []string{atWorst})
	}
	r.atWorst = j.atWorst
	r.readInstruments(f.Instruments)
	for _, name := range slices.Sorted(maps.Keys(r.instruments)) {
		if in := r.instruments[name]; slices.Contains(gaugeKinds, in.kind) {
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
		j.gaps = append(j.gaps, r.readEndPlay(f.EndPlay))
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

// atWorst is the one choice that a job has of how doubts add up: everything at its worst.
const atWorst = "at worst"
