package demo_test

import (
	"fmt"
	"strings"

	"example.com/closefit/units"
)

// stations are the true sizes of one part: by plane along it, and in each plane by
// direction around it. A design writes them as a job writes its readings, only finer:
// "52.7962 52.7968; 52.7959 52.7966 mm".
type stations [][]units.Length

// newStations reads them.
func newStations(text string) stations {
	body, unit, ok := cutLast(text, " ")
	if !ok {
		panic(fmt.Errorf("%q: stations without a unit", text))
	}
	var s stations
	for _, plane := range strings.Split(body, ";") {
		var row []units.Length
		for _, number := range strings.Fields(plane) {
			row = append(row, length(number+" "+unit))
		}
		if len(row) == 0 || len(s) > 0 && len(row) != len(s[0]) {
			panic(fmt.Errorf("%q: planes of different directions", text))
		}
		s = append(s, row)
	}
	return s
}

func cutLast(text, sep string) (before, after string, ok bool) {
	if i := strings.LastIndex(text, sep); i >= 0 {
		return text[:i], text[i+len(sep):], true
	}
	return text, "", false
}

// all are the sizes in a row.
func (s stations) all() []units.Length {
	var list []units.Length
	for _, plane := range s {
		list = append(list, plane...)
	}
	return list
}

// spread runs from the smallest of sizes to the largest.
func spread(sizes []units.Length) units.LengthInterval {
	whole := units.Exactly(sizes[0])
	for _, size := range sizes[1:] {
		whole = whole.Hull(units.Exactly(size))
	}
	return whole
}

// widest is the widest spread of several rows.
func widest(rows [][]units.Length) units.Length {
	var most units.Length
	for _, row := range rows {
		if w := spread(row).Width(); most.Less(w) {
			most = w
		}
	}
	return most
}

// taper is how much the size changes along the part: of its directions, the most.
func (s stations) taper() units.Length {
	lines := make([][]units.Length, len(s[0]))
	for _, plane := range s {
		for i, size := range plane {
			lines[i] = append(lines[i], size)
		}
	}
	return widest(lines)
}

// outOfRound is how far the part is from round: of its planes, the most.
func (s stations) outOfRound() units.Length { return widest(s) }

// shownBy is what an instrument shows of every station, as a job has it.
func (s stations) shownBy(in instrument) string {
	var planes []string
	var unit string
	for _, plane := range s {
		var row []string
		for _, size := range plane {
			number, u, _ := strings.Cut(in.shows(size), " ")
			row, unit = append(row, number), u
		}
		planes = append(planes, strings.Join(row, " "))
	}
	return strings.Join(planes, "; ") + " " + unit
}

// formFigures are limits of form, as parts of the size, and the names of the planes and
// the directions that it is read in.
type formFigures struct {
	Taper      string   `toml:"taper"`
	OutOfRound string   `toml:"out_of_round"`
	Planes     []string `toml:"planes"`
	Directions []string `toml:"directions"`
}

// form adds the limits of form of a line, and what was built of it. Limits are rounded
// down to a step of the grain.
func (d *design) form(name string, f formFigures, size string, g grain[units.LengthDim], built map[string]stations) {
	d.stated("measure."+name+".planes", f.Planes)
	d.stated("measure."+name+".directions", f.Directions)
	for location, s := range built {
		if len(s) != len(f.Planes) || len(s[0]) != len(f.Directions) {
			panic(fmt.Errorf("%s %s: not in the planes and the directions that are named", name, location))
		}
	}
	for _, x := range []struct {
		key, word, part string
		of              func(stations) units.Length
	}{
		{"taper", "taper", f.Taper, stations.taper},
		{"out_of_round", "out-of-round", f.OutOfRound, stations.outOfRound},
	} {
		most := units.AtMost(g.down(length(size).MulRat(part(x.part))))
		d.line("measure."+name+"."+x.key, "<= "+g.write(most.Hi()))
		d.followf("  %s %s %s of %s at most, to %s: %s", name, x.word, x.part, size, g.write(g.step), g.write(most.Hi()))
		for location, s := range built {
			d.truths[name+" "+location+" "+x.word] = truth{units.Exactly(x.of(s)), most}
		}
	}
}

// sizeFigures are a size of every part of a kind, read where it is: cylinders at their
// stations, pistons at one.
type sizeFigures struct {
	Line       string         `toml:"line"` // "cylinder", "piston diameter"
	Of         string         `toml:"of"`   // the size that its limits are parts of
	Rule       *rule          `toml:"rule"` // none where it is only a term of a fit
	Form       *formFigures   `toml:"form"` // of a size that has stations
	With       string         `toml:"with"`
	Conditions map[string]any `toml:"conditions"`
	Built      []builtSize    `toml:"built"`
	Fit        *fitFigures    `toml:"fit"` // between it and the size before it
}

// builtSize is a part as it was built.
type builtSize struct {
	Location string `toml:"location"`
	Sizes    string `toml:"sizes"`
}

// fitFigures are how much smaller the part is than the one before it.
type fitFigures struct {
	Line string `toml:"line"` // "piston clearance"
	Rule rule   `toml:"rule"`
}

// sizes works out every size.
func (d *design) sizes() {
	var before map[string]stations
	for _, f := range d.Sizes {
		line, with := "measure."+f.Line, d.named(f.With)
		of := d.size(f.Of)
		d.line(line+".with", f.With)
		d.verbatim(line+".conditions", f.Conditions)
		built := map[string]stations{}
		for _, x := range f.Built {
			built[x.Location] = newStations(x.Sizes)
			d.line(readings(line, x.Location, len(f.Built)), built[x.Location].shownBy(with))
		}
		d.followf("%s, read with the %s", f.Line, f.With)
		if f.Rule != nil {
			allowed, g := limits(*f.Rule, length(of))
			d.line(line+".limits", g.span(allowed))
			d.followf("  %s: %s", f.Rule.of(of), g.span(allowed))
			quantity := ""
			if f.Form != nil {
				quantity = " diameter"
				d.form(f.Line, *f.Form, of, g, built)
			}
			for _, x := range f.Built {
				d.truths[at(f.Line, x.Location)+quantity] = truth{spread(built[x.Location].all()), allowed}
			}
		}
		for _, x := range f.Built {
			d.followf("  %s has %s", x.Location, x.Sizes)
		}
		if f.Fit != nil {
			d.fit(*f.Fit, of, f.Built, before, built)
		}
		before = built
	}
}

// fit works out how much smaller the inner of two parts is than the outer.
func (d *design) fit(f fitFigures, of string, order []builtSize, outer, inner map[string]stations) {
	allowed, g := limits(f.Rule, length(of))
	d.line("measure."+f.Line+".limits", g.span(allowed))
	d.followf("%s %s: %s", f.Line, f.Rule.of(of), g.span(allowed))
	for _, x := range order {
		if outer[x.Location] == nil {
			panic(fmt.Errorf("%s %s: no part around it", f.Line, x.Location))
		}
		left := spread(outer[x.Location].all()).Sub(spread(inner[x.Location].all()))
		d.truths[at(f.Line, x.Location)] = truth{left, allowed}
		d.followf("  %s has %s", x.Location, g.finer(1).span(left))
	}
}
