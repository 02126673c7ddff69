package job

import (
	"maps"
	"slices"
)

// A Measurable is a line of the inspection as somebody measures it at the bench: where, with what, how
// it is typed, and where the job's file has what is said of it.
type Measurable struct {
	SheetLine
	Group, Quantity string
	Part            string       // of the engine, as a Sheet has them
	Asked           bool         // it is judged by limits of its own; else it is a size of what For names
	Keys            []string     // of its table in the file, as tomlfile.SetText takes them
	Named           string       // the instrument that the line names; may be empty
	Instruments     []Instrument // those of the job that can read it, the one that it is read with first
	Kinds           []string     // the kinds that can read it, the usual one first
	Words           []string     // of what is looked at, the good one first; none of what is measured
	Facts           []Fact
	LimitKeys       []LimitKey
	Several         bool // one place may have several readings: planes with ; between, directions with a blank
	Negative        bool // a reading may be below zero
	Stations        bool // it may be read in planes and directions that have names
	Planes          []string
	Directions      []string
	Places          []Place
}

// An Instrument is one of the job's.
type Instrument struct {
	Name, Kind string
	Marks      []string // of a strip its prints, of blades their thicknesses, as the file has them
	Doubt      string   // how far it may be off to either side, as the file has it; empty where that is not said
}

// A Fact is something that must be said of how a line was read.
type Fact struct {
	What string
	Is   []string // what may be said, the one that proves something first
	Said string   // "?" while nothing is
}

// A LimitKey is one of the limits of a line.
type LimitKey struct {
	Key      string // in the file
	Quantity string // "taper"; empty of the line's own quantity
	Text     string // as the file has it; "?" where they are open
	Sure     bool   // they were questioned, and looked up again
}

// A Place is where a line is read.
type Place struct {
	Location string
	Name     string   // "main bearing 2 clearance"
	Keys     []string // of the reading in the file
	Text     string   // as the file has it; "?" while it is open
	Sure     bool     // it was questioned, and read again
}

// Measurables are the lines that are read of the job's engine: those that are asked for, and the sizes
// that they may be worked out from with the job's instruments.
func (j *Job) Measurables() []Measurable {
	var all []Measurable
	for _, m := range j.lines {
		if len(m.at) == 0 || m.workedOut() || len(m.kinds) == 0 && m.form != state && m.form != layout || !m.expected && !j.offersSize(m) {
			continue
		}
		t := m.source.table
		x := Measurable{SheetLine: j.sheetLine(m, m.at), Group: m.group, Quantity: m.quantity, Part: m.part(), Asked: m.expected, Keys: m.source.keys, Named: m.with,
			Kinds: m.kinds, Several: m.form == size || m.many || m.isBearing(), Negative: m.form == signed,
			Stations: m.form == size, Planes: m.planes, Directions: m.directions}
		if m.form == state {
			x.Words = m.words()
		}
		x.Instruments = j.instrumentsFor(m)
		for _, f := range m.needs {
			fact := Fact{What: f.what, Is: f.is, Said: or(t.Conditions[f.what], open)}
			if f.places {
				fact.Is = nil
			}
			x.Facts = append(x.Facts, fact)
		}
		if m.expected && m.form != state && m.form != layout {
			texts := map[string]string{"limits": t.Limits, "taper": t.Taper, "out_of_round": t.OutOfRound}
			for _, q := range m.quantities() {
				x.LimitKeys = append(x.LimitKeys, LimitKey{q.key, q.quantity, or(texts[q.key], open), slices.Contains(t.Sure, q.key)})
			}
		}
		for _, location := range m.at {
			keys := append(slices.Clone(m.source.keys), "readings", location)
			text := t.Readings[location]
			if t.Reading != "" || len(m.at) == 1 && text == "" {
				keys, text = append(slices.Clone(m.source.keys), "reading"), t.Reading
			}
			x.Places = append(x.Places, Place{location, itemName(m.group, location, m.quantity), keys, or(text, open), slices.Contains(t.Sure, location)})
		}
		all = append(all, x)
	}
	return all
}

func or(text, otherwise string) string {
	if text == "" {
		return otherwise
	}
	return text
}

// offersSize reports whether a line that is not asked for itself is read, or may be, for one that is:
// it was read, or the job measures that one by its sizes, or has gauges for those of a bearing.
func (j *Job) offersSize(m *measured) bool {
	if m.source.table.Readings != nil || m.source.table.Reading != "" || len(m.taken) > 0 {
		return true
	}
	return slices.ContainsFunc(j.lines, func(sum *measured) bool {
		return sum.expected && slices.Contains(sum.terms, m.name()) && (sum.workedOut() || j.bySize(sum) || sum.isBearing() && len(j.gauges) > 0)
	})
}

// instrumentsFor are the job's instruments that can read a line.
func (j *Job) instrumentsFor(m *measured) []Instrument {
	var all []Instrument
	for _, kind := range m.kinds {
		for _, name := range slices.Sorted(maps.Keys(j.reader.declared)) {
			t := j.reader.declared[name]
			if t.Kind != kind || j.instruments[name].bad {
				continue
			}
			in := t.named(name)
			if name == m.with {
				all = append([]Instrument{in}, all...)
			} else {
				all = append(all, in)
			}
		}
	}
	return all
}

// A BoltPlace is a bolt of the tightening, as somebody looks at it at the bench.
type BoltPlace struct {
	Group, Bolt string
	State       string // "new", "sound", "scrap", or empty
	Judged      string // "stretch" or "length", where a used one is judged by it; else empty
	Length      string // as the file has it; "?" while it is open
	Unit        string
}

// BoltPlaces are the bolts of the final assembly.
func (j *Job) BoltPlaces() []BoltPlace {
	var all []BoltPlace
	for _, set := range j.bolts {
		for _, c := range set.bolts {
			b := BoltPlace{Group: set.group, Bolt: c.bolt, State: c.state, Judged: set.quantity, Length: or(c.entry.text, open), Unit: j.show.length.String()}
			all = append(all, b)
		}
	}
	return all
}

// named is an instrument as somebody at the bench knows it.
func (t instrumentTable) named(name string) Instrument {
	_, doubt := doubtKey(t)
	return Instrument{name, t.Kind, append(slices.Clone(t.Widths), t.Blades...), doubt}
}

// Instruments are all that the job has, by name.
func (j *Job) Instruments() []Instrument {
	var all []Instrument
	for _, name := range slices.Sorted(maps.Keys(j.reader.declared)) {
		t := j.reader.declared[name]
		all = append(all, t.named(name))
	}
	return all
}
