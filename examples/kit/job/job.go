package job

import (
	"fmt"
	"io/fs"
	"maps"
	"slices"

	"example.com/closefit/examples/kit/files/planfile"
	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/torque"
	"example.com/closefit/torque/examination"
	"example.com/closefit/units"
)

// A Job is what one job file describes: an engine, its limits, codes, readings and
// tightening, every quantity parsed. It is made by Read.
type Job struct {
	title, note string
	date, by    string
	show        show
	atWorst     bool // every doubt is added at its worst
	engine      Engine
	instruments map[string]instrument
	gauges      []instrument // those that show a length, by name
	lines       []*measured  // every line that the engine has, in the order of the record
	byName      map[string]*measured
	rings       *ringRules
	bobweight   *bobweight
	compression *compression
	bodies      map[string]warmBody
	atMiddle    func() *Job // exactlyWarm, worked out once
	washers     *thrustWashers
	shells      []shellSet
	bolts       []boltSet
	trial       *torque.Plan
	fitted      []fitted // what bolts go into each group of the trial assembly
	plan        *torque.Plan
	knownBolts  map[Phase]map[string]examination.Installed // what is said of the bolts of each group of a plan
	films       []filmOf
	excuses     []Excuse
	identity    planfile.Identity
	stated      [][2]string // what it states beside its readings, for the record in JSON
	reader      *reader     // that made it, for what is tried
	trying      bool        // it is there to judge one reading: its fits have no working and no remedies
}

// Title returns what the job calls itself.
func (j *Job) Title() string { return j.title }

// Engine returns the engine that the job declares.
func (j *Job) Engine() Engine { return j.engine }

// Identity returns which engine the job is of and which of its builds, for its ledgers. A ledger
// is of one assembly, which is called as its phase.
func (j *Job) Identity() planfile.Identity { return j.identity }

// Plan returns the plan of the final assembly; nil if the job has none.
func (j *Job) Plan() *torque.Plan { return j.plan }

// Trial returns the plan of the trial assembly; nil if the job has none.
func (j *Job) Trial() *torque.Plan { return j.trial }

// Read reads a job from the TOML text src of the file named. The error is
// tomlfile.Errors: everything that is wrong, each with its line and what to
// write instead.
func Read(name string, src []byte) (*Job, error) { return ReadBeside(nil, name, src) }

// ReadBeside is Read for a job that lies in a folder, in which the files that it names
// are looked for. Without a folder a job cannot name any.
func ReadBeside(folder fs.FS, name string, src []byte) (*Job, error) {
	var f file
	places, err := tomlfile.Decode(name, src, &f)
	if places == nil {
		return nil, err
	}
	r := &reader{places: places, folder: folder, cold: map[string]bool{}}
	j := r.job(f)
	j.reader = r
	if err := places.All(err, r.errs); err != nil {
		return nil, err
	}
	return j, nil
}

// job reads every part of the file.
func (r *reader) job(f file) *Job {
	r.inches = f.Show.Length == units.Inch.String()
	r.present("title", f.Title)
	j := &Job{title: f.Title, note: f.Note, date: f.Date, by: f.By, show: r.readShow(f.Show)}
	if f.Combine != "" {
		j.atWorst = r.oneOf("combine", f.Combine, "way to combine doubts", []string{atWorst})
	}
	r.atWorst = j.atWorst
	j.engine = r.readEngine(f.Engine)
	if f.Engine != nil {
		j.identity = planfile.Identify(r.places, "engine.name", f.Engine.Name, "build", f.Build, f.Witness)
	}
	r.readInstruments(f.Instruments)
	j.instruments = r.instruments
	for _, name := range slices.Sorted(maps.Keys(r.instruments)) {
		if in := r.instruments[name]; slices.Contains(gaugeKinds, in.kind) {
			j.gauges = append(j.gauges, in)
		}
	}
	if j.engine.whole() { // else every place would be unknown
		var declared []string
		j.rings, declared = r.readRings(&j.engine, f.RingPositions, declared)
		j.bobweight, declared = r.readBobweight(f.Bobweight, declared)
		j.compression, declared = r.readCompression(&j.engine, f.Compression, declared)
		j.lines, j.byName = r.readMeasured(&j.engine, f, declared), map[string]*measured{}
		for _, m := range j.lines {
			j.byName[m.name()] = m
		}
		r.compressionOnce(j)
		j.bodies = r.readWarmth(f.Temperatures, f.Materials, f.Warmth)
		r.corrected(j, f.Instruments)
		j.washers = r.readWashers(f.Washers)
		j.shells = r.readShells(j, f.Shells)
		j.films = r.readFilm(&j.engine, f.Film)
	}
	j.plan = r.readPlan(f.Title, "tightening", f.Tightening)
	trial := r.usedOnce(f.Trial, f.Tightening)
	j.trial, j.fitted = r.readPlan(f.Title+", trial assembly", planfile.Trial, trial), readFitted(trial)
	j.knownBolts = map[Phase]map[string]examination.Installed{
		Trial: r.knownBolts(planfile.Trial, trial), Final: r.knownBolts("tightening", f.Tightening),
	}
	j.torqued()
	j.wholes()
	j.questioned()
	j.share()
	j.bolts = r.readBolts(j.plan, f.Tightening, f.Bolts)
	seen := map[string]string{}
	j.excuses = append(r.readExcuses("accepted", f.Accepted, false, seen), r.readExcuses("left_out", f.LeftOut, true, seen)...)
	if len(r.errs) == 0 {
		j.stated = f.stated(j.shells)
		r.excused(j)
		r.triedOut(j)
	}
	return j
}

// excused checks that there is something for each word that was given for it.
func (r *reader) excused(j *Job) {
	items := j.itemNames()
	for i, e := range j.excuses {
		if slices.ContainsFunc(items, func(name string) bool { return e.covers(name) }) {
			continue
		}
		key, n := "accepted", i
		if e.LeftOut {
			key, n = "left_out", 0
			for _, x := range j.excuses[:i] {
				if x.LeftOut {
					n++
				}
			}
		}
		r.unknown(fmt.Sprintf("%s[%d].what", key, n), "item", e.What, items)
	}
}

// atWorst is the one choice that a job has of how doubts add up: everything at its worst.
const atWorst = "at worst"
