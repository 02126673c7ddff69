package demo_test

import (
	"cmp"
	"fmt"
	"maps"
	"math/big"
	"slices"
	"strings"

	"example.com/closefit/units"
)

// instrument is an instrument as a job has it, and the step that it is read to.
type instrument struct {
	Kind        string   `toml:"kind"`
	Uncertainty string   `toml:"uncertainty"`
	Repeats     string   `toml:"repeats"`
	Widths      []string `toml:"widths"`
	Blades      []string `toml:"blades"`
	Reads       string   `toml:"reads"`
}

// instruments adds their lines.
func (d *design) instruments() {
	for _, name := range slices.Sorted(maps.Keys(d.Instruments)) {
		in := d.Instruments[name]
		if in.Reads != "" {
			d.followf("%s, good to ±%s, read to %s", name, in.Uncertainty, in.Reads)
		}
		key := "instruments." + name
		d.line(key+".kind", in.Kind)
		d.line(key+".uncertainty", in.Uncertainty)
		d.line(key+".repeats", in.Repeats)
		for i, w := range in.Widths {
			d.line(fmt.Sprintf("%s.widths[%d]", key, i), w)
		}
		for i, b := range in.Blades {
			d.line(fmt.Sprintf("%s.blades[%d]", key, i), b)
		}
	}
}

func (d *design) named(name string) instrument {
	in, ok := d.Instruments[name]
	if !ok {
		panic(fmt.Errorf("no instrument %q", name))
	}
	return in
}

// only returns the one instrument of a kind.
func (d *design) only(kind string) instrument {
	var found []instrument
	for _, in := range d.Instruments {
		if in.Kind == kind {
			found = append(found, in)
		}
	}
	if len(found) != 1 {
		panic(fmt.Errorf("%d instruments of the kind %s, want 1", len(found), kind))
	}
	return found[0]
}

// shows returns what the instrument shows of a true size: it is read to the nearest step,
// which lies within its uncertainty of the truth.
func (in instrument) shows(size units.Length) string {
	g := newGrain[units.LengthDim](in.Reads)
	shown := g.near(size)
	if length(in.Uncertainty).Less(shown.Sub(size).Abs()) {
		panic(fmt.Errorf("%s is read as %s, further off than %s", size, shown, in.Uncertainty))
	}
	return g.write(shown)
}

// around returns the index of the first of the marks that is above the value: the marks
// of a strip by their clearances, or blades by their thickness.
func around(marks []string, value units.Length) int {
	i := slices.IndexFunc(marks, func(m string) bool { return value.Less(length(m)) })
	if i <= 0 {
		panic(fmt.Errorf("%s is not between two of %v", value, marks))
	}
	return i
}

// strip returns how a strip crushed to a clearance is read: between two of its prints, or
// nearest to one. Where that is in doubt, because half-way between two widths is not
// half-way between their clearances, the design has to choose another clearance.
func (in instrument) strip(gap units.Length, way string) string {
	i := around(in.Widths, gap)
	lo, hi := length(in.Widths[i-1]), length(in.Widths[i])
	if way == "between" {
		number, _, _ := strings.Cut(in.Widths[i-1], " ")
		return number + ".." + in.Widths[i]
	}
	if way != "nearest" {
		panic(fmt.Errorf("a strip read %q", way))
	}
	arithmetic := lo.Add(hi).MulRat(big.NewRat(1, 2))
	harmonic := lo.MulRat(hi.Ratio(lo.Add(hi))).MulInt(2)
	switch {
	case gap.Less(harmonic):
		return in.Widths[i-1]
	case arithmetic.Less(gap):
		return in.Widths[i]
	}
	panic(fmt.Errorf("%s is half-way between %s and %s", gap, lo, hi))
}

// A play is judged by limits that are parts of some size.
type playFigures struct {
	Line  string      `toml:"line"` // "crankshaft end play", "top ring end gap"
	Of    string      `toml:"of"`   // "bore", or bearings by name and "journal" or "width"
	Rule  rule        `toml:"rule"`
	Built []builtPlay `toml:"built"`
}

// builtPlay is a play as it was built, and how it was read.
type builtPlay struct {
	Location string `toml:"location"`
	Gap      string `toml:"gap"`
	Read     string `toml:"read"` // "blades", "blades but one", "goes", "stops" or "dial"
	From     string `toml:"from"` // what the dial shows before
	With     string `toml:"with"`
}

// plays works out end play, side play and ring gaps.
func (d *design) plays() {
	rings := 0
	for _, p := range d.Plays {
		line := "measure." + p.Line
		of := d.size(p.Of)
		allowed, g := limits(p.Rule, length(of))
		d.line(line+".limits", g.span(allowed))
		d.followf("%s %s: %s", p.Line, p.Rule.of(of), g.span(allowed))
		group, quantity := judged(p.Line)
		if quantity == "end gap" {
			d.line(line+".conditions.ring", "square in its own bore")
			d.line(line+".conditions.depth", "as the manual says")
			d.line(fmt.Sprintf("engine.rings[%d]", rings), group)
			rings++
		}
		with := p.Built[0].With
		for _, x := range p.Built {
			if quantity == "end play" && x.Read != "dial" { // a travel of the dial says it itself
				d.line(line+".conditions.crankshaft", "levered to its stops")
			}
			if x.With == "" {
				with = d.nameOf("feeler blades")
			}
		}
		d.line(line+".with", with)
		for _, x := range p.Built {
			text := d.readPlay(x)
			if x.With != "" && x.With != with {
				text = x.With + ": " + text
			}
			d.line(readings(line, x.Location, len(p.Built)), text)
			d.truths[at(p.Line, x.Location)] = truth{units.Exactly(length(x.Gap)), allowed}
			from := ""
			if x.From != "" {
				from = ", read from " + x.From + " on"
			}
			d.followf("  %s has %s%s", cmp.Or(x.Location, group), x.Gap, from)
		}
	}
}

// judged is what a line is about, and what of it: "top ring" and "end gap".
func judged(line string) (group, quantity string) {
	for _, quantity := range []string{"end gap", "end play", "side play", "clearance", "diameter", "flatness"} {
		if group, ok := strings.CutSuffix(line, " "+quantity); ok {
			return group, quantity
		}
	}
	return line, ""
}

// at is what a line is called at a place: "rod 2 side play" of "rod side play".
func at(line, location string) string {
	group, quantity := judged(line)
	return strings.Join(strings.Fields(group+" "+location+" "+quantity), " ")
}

// size returns what limits are parts of.
func (d *design) size(of string) string {
	if of == "bore" {
		return d.Engine.Bore
	}
	for _, b := range d.Bearings {
		switch of {
		case b.Name + " journal":
			return b.Journal
		case b.Name + " width":
			return b.Width
		}
	}
	panic(fmt.Errorf("no size %q", of))
}

// readPlay returns the text of a reading.
func (d *design) readPlay(x builtPlay) string {
	gap := length(x.Gap)
	if x.Read == "dial" {
		in := d.named(x.With)
		return between(in.shows(length(x.From)), " to ", in.shows(length(x.From).Add(gap)))
	}
	blades := d.only("feeler blades").Blades
	if x.Read == "stops" && gap.Less(length(blades[0])) {
		return "<= " + blades[0]
	}
	i := around(blades, gap)
	switch x.Read {
	case "blades":
		return between(blades[i-1], "..", blades[i])
	case "blades but one":
		return between(blades[i-1], "..", blades[i+1])
	case "goes":
		return ">= " + blades[i-1]
	case "stops":
		return "<= " + blades[i]
	}
	panic(fmt.Errorf("a play read %q", x.Read))
}

// between writes two quantities of one unit, which stands once.
func between(a, word, b string) string {
	number, _, _ := strings.Cut(a, " ")
	return number + word + b
}

// nameOf returns the name of the one instrument of a kind.
func (d *design) nameOf(kind string) string {
	d.only(kind)
	for name, in := range d.Instruments {
		if in.Kind == kind {
			return name
		}
	}
	panic("it is there")
}

// jetFigures are the oil jets: their valves open between two parts of the pressure that
// the oil has at working speed.
type jetFigures struct {
	OilPressure string     `toml:"oil_pressure"`
	Rule        rule       `toml:"rule"`
	Built       []builtJet `toml:"built"`
}

// builtJet is a jet as it was built, and the steps of pressure that it was tried in.
type builtJet struct {
	Jet   string `toml:"jet"`
	Opens string `toml:"opens"`
	Steps string `toml:"steps"`
	Read  string `toml:"read"` // "both" or "shut"
}

// jets works out the pressures.
func (d *design) jets() {
	if d.Jets == nil {
		return
	}
	allowed, g := limits(d.Jets.Rule, must(units.ParsePressure(d.Jets.OilPressure)))
	const line = "measure.oil jet opening pressure"
	d.line(line+".limits", g.span(allowed))
	d.followf("oil jets open at %s: %s", d.Jets.Rule.of(d.Jets.OilPressure), g.span(allowed))
	var names []string
	for _, x := range d.Jets.Built {
		names = append(names, x.Jet)
		opens, steps := must(units.ParsePressure(x.Opens)), newGrain[units.PressureDim](x.Steps)
		shut := steps.write(steps.down(opens))
		switch x.Read {
		case "both":
			d.line(line+".readings."+x.Jet, between(shut, "..", steps.write(steps.up(opens))))
		case "shut":
			d.line(line+".readings."+x.Jet, ">= "+shut)
		default:
			panic(fmt.Errorf("a jet read %q", x.Read))
		}
		d.followf("  jet %s opens at %s, tried in steps of %s", x.Jet, x.Opens, x.Steps)
	}
	d.declared("engine.jets", names)
}
