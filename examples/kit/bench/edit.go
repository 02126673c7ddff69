package bench

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/examples/kit/job"
	"example.com/closefit/units"
)

// An Edit puts one thing that was found into a job.
type Edit struct {
	Key   Key    `json:"key"`
	Line  string `json:"line"`  // of the inspection, as the job calls it; of bolts their group; of an instrument its name; of codes "main" or "rod"
	Place string `json:"place"` // where it was read; which bolt; which condition; of what kind an instrument is; of codes "upper" or "lower"; what is said of the job
	Was   string `json:"was"`   // what the job says now: "?" where it says nothing
	Now   string `json:"now"`   // what it shall say; "?" or nothing for not known
	Sure  bool   `json:"sure"`  // it was questioned, and stands
}

// A Key says what an Edit is of.
type Key string

// The keys. Limits are called as in the job file.
const (
	Reading    Key = "reading"
	Limits     Key = "limits"
	Taper      Key = "taper"
	OutOfRound Key = "out_of_round"
	With       Key = "with"       // the instrument of a line
	Condition  Key = "condition"  // how a line was read
	Instrument Key = "instrument" // a new one: its uncertainty, or its marks with ; between
	BoltState  Key = "bolt"       // new, sound, scrap or ?
	BoltLength Key = "length"
	Codes      Key = "codes"      // a row of grade codes as stamped
	Begins     Key = "begins"     // the location to which the first code of a row belongs
	Upright    Key = "upright"    // "yes" where a row is known to stand the right way up
	Planes     Key = "planes"     // the names of the stations of a size, with ; between
	Directions Key = "directions" // likewise
	About      Key = "about"      // what the job says of itself, as job.Said calls it
)

// keys are all of them.
var keys = []Key{Reading, Limits, Taper, OutOfRound, With, Condition, Instrument, BoltState, BoltLength, Codes, Begins, Upright, Planes, Directions, About}

// Words are the keys.
func (Key) Words() (words []string) {
	for _, k := range keys {
		words = append(words, string(k))
	}
	return words
}

// UnmarshalText reads one of the keys.
func (k *Key) UnmarshalText(text []byte) error {
	if !slices.Contains(keys, Key(text)) {
		return &units.Error{Kind: units.ErrNotWritten, Where: "key", Found: fmt.Sprintf("%.40q", text), Fix: `write "` + strings.Join(k.Words(), `" or "`) + `"`}
	}
	*k = Key(text)
	return nil
}

// ErrOther is the error of an Edit of something that is not what it was taken for: somebody else changed it.
var ErrOther = errors.New("it was changed meanwhile")

// ErrNoPlace is the error of an Edit of what the job does not have.
var ErrNoPlace = errors.New("the job has no such place")

// open stands for what is not known.
const open = "?"

// states are what a bolt may be.
var states = []string{"new", "sound", "scrap"}

// Set returns the job's text with an edit in it, and the change that was made. An error leaves all as it was:
// of kind ErrOther where Was is not what the job says, ErrNoPlace, or what the reader of jobs says of the result.
func Set(s Source, e Edit) ([]byte, Change, error) {
	j, err := s.Read()
	if err != nil {
		return nil, Change{}, err
	}
	e.Now = strings.TrimSpace(e.Now)
	if e.Now == "" {
		e.Now = open
	}
	if e.Key == Planes || e.Key == Directions {
		e.Now = stationsText(stationNames(e.Now))
	}
	out, err := apply(s, j, e)
	if err != nil {
		return nil, Change{}, err
	}
	after, err := Source{s.Name, out, s.Beside}.Read()
	if err != nil {
		return nil, Change{}, err
	}
	if now, err := present(after, e); err != nil || now != e.Now && e.Key != Instrument {
		return nil, Change{}, fmt.Errorf("%q would be read as %q; change it in an editor", e.Now, now)
	}
	return out, between(s.Text, out), nil
}

// Present returns what the job says of what an edit is of: "?" where it says nothing.
func Present(s Source, e Edit) (string, error) {
	j, err := s.Read()
	if err != nil {
		return "", err
	}
	return present(j, e)
}

// measurable finds a line.
func measurable(j *job.Job, line string) (job.Measurable, error) {
	all := j.Measurables()
	if i := slices.IndexFunc(all, func(m job.Measurable) bool { return m.Name == line }); i >= 0 {
		return all[i], nil
	}
	return job.Measurable{}, fmt.Errorf("%w: %.80q is not measured here", ErrNoPlace, line)
}

func present(j *job.Job, e Edit) (string, error) {
	nowhere := fmt.Errorf("%w: %.80q of %.80q", ErrNoPlace, e.Place, e.Line)
	switch e.Key {
	case BoltState, BoltLength:
		for _, b := range j.BoltPlaces() {
			if b.Group == e.Line && b.Bolt == e.Place {
				if e.Key == BoltLength {
					return b.Length, nil
				}
				return orOpen(b.State), nil
			}
		}
		return "", nowhere
	case Codes, Begins, Upright:
		row, there := codeRow(j, e)
		switch {
		case !there:
			return "", nowhere
		case e.Key == Begins:
			return row.Begins, nil
		case e.Key == Upright && row.Upright:
			return "yes", nil
		case e.Key == Upright:
			return open, nil
		}
		return row.Text, nil
	case About:
		for _, said := range j.About() {
			if said.Name == e.Place {
				return said.Text, nil
			}
		}
		return "", nowhere
	case Instrument:
		return open, nil // there is none yet; whether there is is asked when it is added
	}
	m, err := measurable(j, e.Line)
	if err != nil {
		return "", err
	}
	switch e.Key {
	case Reading:
		for _, p := range m.Places {
			if p.Location == e.Place {
				return p.Text, nil
			}
		}
	case With:
		return orOpen(m.Named), nil
	case Planes, Directions:
		if m.Stations && e.Key == Planes {
			return stationsText(m.Planes), nil
		} else if m.Stations {
			return stationsText(m.Directions), nil
		}
	case Condition:
		for _, f := range m.Facts {
			if f.What == e.Place {
				return f.Said, nil
			}
		}
	default:
		for _, l := range m.LimitKeys {
			if l.Key == string(e.Key) {
				return l.Text, nil
			}
		}
	}
	return "", nowhere
}

// codeRow finds a row of codes.
func codeRow(j *job.Job, e Edit) (job.CodeRow, bool) {
	all := j.CodeRows()
	i := slices.IndexFunc(all, func(r job.CodeRow) bool { return r.Part == e.Line && r.Half == e.Place })
	if i < 0 {
		return job.CodeRow{}, false
	}
	return all[i], true
}

// stationNames are the names in a text of them, none of an open one.
func stationNames(text string) (names []string) {
	for name := range strings.SplitSeq(text, ";") {
		if name = strings.TrimSpace(name); name != "" && name != open {
			names = append(names, name)
		}
	}
	return names
}

func stationsText(names []string) string { return orOpen(strings.Join(names, "; ")) }

func orOpen(text string) string {
	if text == "" {
		return open
	}
	return text
}

// apply makes the text, whatever it means.
func apply(s Source, j *job.Job, e Edit) ([]byte, error) {
	was, err := present(j, e)
	if err != nil {
		return nil, err
	}
	if was != e.Was {
		return nil, fmt.Errorf("%w: it is %q now, and not %q; look at it, and type again", ErrOther, was, e.Was)
	}
	text := func(src []byte, value string, path ...string) ([]byte, error) {
		return tomlfile.SetText(s.Name, src, path, value)
	}
	switch e.Key {
	case BoltLength:
		return text(s.Text, e.Now, "bolts", e.Line, "lengths", e.Place)
	case BoltState:
		if e.Now != open && !slices.Contains(states, e.Now) {
			return nil, fmt.Errorf("%q is no state of a bolt; say new, sound or scrap", e.Now)
		}
		src := s.Text
		for _, state := range states {
			if state == was || state == e.Now {
				if bolts, all := toName(s, j, e.Line, state); all {
					if src, err = tomlfile.SetList(s.Name, src, []string{"bolts", e.Line, state}, bolts); err != nil {
						return nil, err
					}
				}
				if src, err = tomlfile.SetListed(s.Name, src, []string{"bolts", e.Line, state}, e.Place, state == e.Now); err != nil {
					return nil, err
				}
			}
		}
		return src, nil
	case Instrument:
		return addInstrument(s, j, e)
	case Codes, Begins, Upright:
		return setCodes(s, j, e)
	case About:
		if e.Place == "title" && e.Now == open {
			return nil, errors.New("a job has a title; write what it is called")
		}
		all := j.About()
		i := slices.IndexFunc(all, func(x job.Said) bool { return x.Name == e.Place })
		return text(s.Text, e.Now, all[i].Keys...)
	}
	m, err := measurable(j, e.Line)
	if err != nil {
		return nil, err
	}
	under := func(more ...string) []string { return append(slices.Clone(m.Keys), more...) }
	sure, src := e.Place, s.Text
	switch e.Key {
	case Reading:
		i := slices.IndexFunc(m.Places, func(p job.Place) bool { return p.Location == e.Place })
		src, err = text(src, e.Now, m.Places[i].Keys...)
	case With:
		return text(src, e.Now, under("with")...)
	case Condition:
		return text(src, e.Now, under("conditions", e.Place)...)
	case Planes, Directions:
		return tomlfile.SetList(s.Name, src, under(string(e.Key)), stationNames(e.Now))
	default:
		sure = string(e.Key)
		src, err = text(src, e.Now, under(string(e.Key))...)
	}
	if err != nil {
		return nil, err
	}
	return tomlfile.SetListed(s.Name, src, under("sure"), sure, e.Sure) // a new text is not sure because the old one was
}

// setCodes writes a row of codes, or how it is read. A job has both rows of its shells or none, so that with the
// first the other is open.
func setCodes(s Source, j *job.Job, e Edit) ([]byte, error) {
	row, _ := codeRow(j, e)
	under := func(more ...string) []string { return append(slices.Clone(row.Keys), more...) }
	if e.Key == Begins {
		if e.Now == open {
			e.Now = "" // it is not said
		}
		return tomlfile.SetText(s.Name, s.Text, under(e.Place+"_row", "begins"), e.Now)
	}
	if e.Key == Upright {
		return tomlfile.SetTruth(s.Name, s.Text, under(e.Place+"_row", "upright"), e.Now == "yes")
	}
	src, err := tomlfile.SetText(s.Name, s.Text, under(e.Place), e.Now)
	for _, other := range j.CodeRows() {
		if err == nil && other.Part == e.Line && other.Half != e.Place && other.Text == open {
			src, err = tomlfile.SetText(s.Name, src, under(other.Half), open)
		}
	}
	return src, err
}

// toName returns the bolts of a group that are of a state because the job says "all" of it, so that it must name
// them before it can say something else of one.
func toName(s Source, j *job.Job, group, state string) (bolts []string, all bool) {
	if text, there := tomlfile.Text(s.Name, s.Text, []string{"bolts", group, state}); !there || text != "all" {
		return nil, false
	}
	for _, b := range j.BoltPlaces() {
		if b.Group == group {
			bolts = append(bolts, b.Bolt)
		}
	}
	return bolts, true
}

// The kinds of instrument that a bench adds, with the key of what must be known of each.
var kinds = map[string]string{
	"micrometer": "uncertainty", "bore gauge": "uncertainty", "dial": "uncertainty", "caliper": "uncertainty", "depth gauge": "uncertainty",
	"pressure gauge": "uncertainty", "scale": "uncertainty", "crush strip": "widths", "feeler blades": "blades",
}

// addInstrument adds an instrument to the job.
func addInstrument(s Source, j *job.Job, e Edit) (src []byte, err error) {
	key, known := kinds[e.Place]
	switch {
	case !known:
		return nil, fmt.Errorf("%.40q is no kind of instrument; choose one of %s", e.Place, strings.Join(slices.Sorted(maps.Keys(kinds)), ", "))
	case e.Line == "":
		return nil, errors.New("an instrument without a name; give it one")
	case slices.ContainsFunc(j.Instruments(), func(in job.Instrument) bool { return in.Name == e.Line }):
		return nil, fmt.Errorf("%w: the job has a %q; give this one another name", ErrOther, e.Line)
	}
	path := []string{"instruments", e.Line}
	if e.Sure {
		defer func() {
			if err == nil {
				src, err = tomlfile.SetListed(s.Name, src, append(slices.Clone(path), "sure"), key, true)
			}
		}()
	}
	src, err = tomlfile.SetText(s.Name, s.Text, append(slices.Clone(path), "kind"), e.Place)
	if err != nil || key == "uncertainty" {
		if err == nil {
			src, err = tomlfile.SetText(s.Name, src, append(slices.Clone(path), key), e.Now)
		}
		return src, err
	}
	marks := strings.Split(e.Now, ";")
	unit := unitOf(marks[len(marks)-1])
	for _, mark := range marks {
		if mark = strings.TrimSpace(mark); unitOf(mark) == "" {
			mark += " " + unit
		}
		if src, err = tomlfile.SetListed(s.Name, src, append(slices.Clone(path), key), mark, true); err != nil {
			return nil, err
		}
	}
	return src, nil
}

// unitOf is what follows the number of a text.
func unitOf(text string) string { return strings.TrimLeft(strings.TrimSpace(text), "+-0123456789., ") }

func sortedNames[T any](m map[string]T) []string { return slices.Sorted(maps.Keys(m)) }
