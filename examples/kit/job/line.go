package job

import (
	"slices"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
)

// A line is one row of the inspection: what is measured, where, how, and when it must be
// known. Its name stands in the job file, under measure and inspect, and in the record.
type line struct {
	group    string // "main bearing"
	quantity string // "clearance"; of a size that is judged for its form too, empty
	where    places
	form     form
	always   bool     // no engine is closed without it
	before   Phase    // the first gate that asks for it
	kinds    []string // the instruments that read it, the usual one first
	terms    []string // the lines that it is the sum of
	fit      fitOf    // that sum, of lengths; nil where the line is only read where it is
	sum      massOf   // that sum, of masses
	quotient ratioOf  // that quotient
	ofBore   bool     // its limits may be stated by the bore
	filed    bool     // a ring's gap, which a file makes wider
	also     []string // other lines that it can be known by, which are not offered
	each     eachOf   // that sum at each of several stations of a part
	needs    []fact   // what must be said of how it was read
	body     string   // the part that it is a size of, with whose temperature it changes
	many     bool     // of a plain size: it may be read at several places of the part
	smooth   bool     // so small that it is shown in micrometres
	warm     bool     // its first term as warm as the engine runs
	within   bool     // what is read is a term of the sum, and not the sum itself
	named    string   // what must be named for its form to be proven: planes or directions
	how      string   // where and how to measure it, for the measuring sheet
	remedy   Remedy
	called   string // its name, once it is one of an engine's lines
}

// workedOut reports whether a line is not read, and follows from others alone.
func (l *line) workedOut() bool { return len(l.kinds) == 0 && len(l.terms) > 0 }

// name is what the line is called.
func (l *line) name() string {
	if l.called != "" {
		return l.called
	}
	return itemName(l.group, "", l.quantity)
}

// itemName is what one judged quantity at one place is called: "main bearing 2 clearance".
func itemName(group, location, quantity string) string {
	name := group
	if location != "" && location != group {
		name += " " + location
	}
	if quantity != "" {
		name += " " + quantity
	}
	return name
}

// places says where a line is measured.
type places func(*Engine) []string

func atMains(e *Engine) []string     { return e.Mains }
func atRods(e *Engine) []string      { return e.Cylinders }
func atCylinders(e *Engine) []string { return e.Cylinders } // each with the piston and the rod of its name
func atPins(e *Engine) []string      { return e.pinNames() }
func atPassages(e *Engine) []string  { return e.Passages }
func atJets(e *Engine) []string      { return e.Jets }
func atDecks(e *Engine) []string     { return e.Decks }
func atOnce(name string) places      { return func(*Engine) []string { return []string{name} } }
func betweenMains(e *Engine) []string { // the mains that have a neighbour on either side
	if len(e.Mains) < 3 {
		return nil
	}
	return e.Mains[1 : len(e.Mains)-1]
}

// fitOf makes the sum that a line is at a place, of what other lines have been read to.
// Sizes that were not read are missing terms.
type fitOf func(j *Job, m *measured, location string) clearance.Fit

// massOf makes the sum of masses that a line is at a place, and ratioOf the quotient.
type (
	massOf  func(j *Job, m *measured, location string) value[units.MassDim]
	ratioOf func(j *Job, m *measured, location string) value[units.RatioDim]
)

// A form is how a line is read and judged.
type form uint8

const (
	direct   form = iota // a gap, a play or a clearance, read where it is, or the sum of other lines, or both
	size                 // one size, or several around and along a part: diameter, taper, out-of-round
	plain                // one size that has no form: a wall, a width
	signed               // as direct, of what may be below zero: a height, an interference
	state                // looked at: a word
	pressure             // a valve's opening pressure
	mass                 // of a part, or made of those of parts
	slope                // a difference over a length, as bend is
	quotient             // a ratio that is made of other lines
	layout               // where the gaps of a piston's rings stand
)

// The words of what was looked at, the good one first.
var states = map[string][]string{
	"passage": {"clean", "blocked"},
}

// words are the words for a line that was looked at.
func (l *line) words() []string {
	if w := states[l.group]; w != nil {
		return w
	}
	return []string{"sound", "not sound"}
}

// The quantities of a size.
const (
	diameter   = "diameter"
	taper      = "taper"
	outOfRound = "out-of-round"
)

var (
	gapKinds  = []string{feelerBlades, "dial", "caliper", "depth gauge", "gauge"}
	sizeKinds = []string{"micrometer", "bore gauge", "caliper", "gauge"}
	boreKinds = []string{"bore gauge", "micrometer", "caliper", "gauge"}
)

// linesOf are the lines that an engine has, in the order of the record.
func linesOf(e *Engine) []line {
	lines := []line{
		{group: "passage", where: atPassages, form: state, always: true, before: Final, how: "what goes in at one end, solvent or air, must come out at every other"},
		{group: "oil jet", quantity: "opening pressure", where: atJets, form: pressure, before: Final, kinds: []string{pressureGauge},
			how: "raise the pressure in steps: the highest at which it is shut, the lowest at which it is open", remedy: jetRemedy},
	}
	lines = append(lines, bearingLines("main bearing", "main", "block", atMains, atMains)...)
	lines = append(lines, bearingLines("rod bearing", "rod", "rods", atRods, atPins)...)
	lines = append(lines, thrustLines()...)
	return slices.Concat(lines, rodLines(), ringLines(e), blockLines(), crankLines(), pistonLines(), massLines(), oilLines(), compressionLines())
}

// find returns the line of a name.
func find(lines []line, name string) *line {
	for i := range lines {
		if lines[i].name() == name {
			return &lines[i]
		}
	}
	return nil
}
