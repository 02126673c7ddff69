package job

import (
	"maps"
	"slices"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// compressionLines are the lines of the compression.
func compressionLines() []line {
	shop := Remedy{Stop, "Check the volumes and the deck, and ask a machine shop.", "Check the volumes and the deck; a thicker gasket or another piston lowers it. Ask a machine shop."}
	return []line{{group: "cylinder", quantity: "compression ratio", where: atCylinders, form: quotient, before: Final,
		terms: []string{"cylinder", "crankpin stroke", "deck piston height"}, quotient: ratioAt,
		how: "from bore, stroke, deck and gasket, and the chamber filled from a burette", remedy: shop}}
}

// compressionRatio is the line that the volumes ask for.
const compressionRatio = "cylinder compression ratio"

// compressionTable has what the compression ratio needs beside what is measured under its
// own line.
type compressionTable struct {
	GasketBore      string            `toml:"gasket_bore"`
	GasketThickness string            `toml:"gasket_thickness"` // when tightened down
	Chamber         string            `toml:"chamber"`          // of every cylinder
	Chambers        map[string]string `toml:"chambers"`         // of each
	Dish            string            `toml:"dish"`             // in the crown; below zero for one that rises
	Bore            string            `toml:"bore"`             // where the cylinders are not measured
	Stroke          string            `toml:"stroke"`           // where that is not measured
	Deck            string            `toml:"deck"`             // over the crown, where that is not measured
}

// compression is the same, read: with its own chamber for each cylinder.
type compression struct {
	clearance.Compression
	chambers map[string]units.VolumeInterval
}

// readCompression reads the volumes; nil without them. What is open is missing.
func (r *reader) readCompression(e *Engine, t *compressionTable, declared []string) (*compression, []string) {
	if t == nil {
		return nil, declared
	}
	c := compression{chambers: map[string]units.VolumeInterval{}}
	const path = "compression."
	c.Stroke, c.GasketBore = toleranced(r, path+"stroke", t.Stroke, units.Parse[units.LengthInterval]), toleranced(r, path+"gasket_bore", t.GasketBore, units.Parse[units.LengthInterval])
	c.GasketThickness = toleranced(r, path+"gasket_thickness", t.GasketThickness, units.Parse[units.LengthInterval])
	c.Bore, c.Deck = toleranced(r, path+"bore", t.Bore, units.Parse[units.LengthInterval]), toleranced(r, path+"deck", t.Deck, units.Parse[units.LengthInterval])
	c.Dish = toleranced(r, path+"dish", t.Dish, units.Parse[units.VolumeInterval])
	every := toleranced(r, path+"chamber", t.Chamber, units.Parse[units.VolumeInterval])
	if t.Chamber != "" && len(t.Chambers) > 0 {
		r.fail(path+"chamber", "a chamber beside chambers: %w; keep one", ErrTwice)
	}
	for _, location := range e.Cylinders {
		c.chambers[location] = every
	}
	for _, location := range slices.Sorted(maps.Keys(t.Chambers)) {
		at := path + "chambers." + location
		if r.oneOf(at, location, "cylinder", e.Cylinders) {
			c.chambers[location] = toleranced(r, at, t.Chambers[location], units.Parse[units.VolumeInterval])
		}
	}
	return &c, append(declared, compressionRatio)
}

// compressionOnce notes an error for what is stated under compression and measured too.
func (r *reader) compressionOnce(j *Job) {
	if j.compression == nil {
		return
	}
	for _, x := range []struct {
		key, line string
		stated    bool
	}{{"bore", "cylinder", !j.compression.Bore.IsEmpty()}, {"stroke", "crankpin stroke", !j.compression.Stroke.IsEmpty()}, {"deck", "deck piston height", !j.compression.Deck.IsEmpty()}} {
		if x.stated && len(j.line(x.line).taken) > 0 {
			r.fail("compression."+x.key, "%q is measured too: %w; leave this out, or the readings", x.line, ErrTwice)
		}
	}
}

// toleranced reads a quantity with how good it is, or one that is zero by design; empty
// where it is open.
func toleranced[D units.Dimension](r *reader, path, text string, parse func(string) (units.Interval[D], error)) units.Interval[D] {
	if text == open {
		return units.Interval[D]{}
	}
	a, ok := readIf(r, path, text, parse)
	switch {
	case !ok:
	case !a.Bounded():
		r.fail(path, "%s: without one of its ends; write both, or how good it is, as in \"±\"", text)
	case a.IsPoint() && !a.Lo().IsZero():
		r.fail(path, "%s: %w; write it with how far it may be off, as in %q", text, ErrNotSure, "±")
	default:
		return a
	}
	return units.Interval[D]{}
}

// ratioAt is the compression ratio of a cylinder.
func ratioAt(j *Job, m *measured, location string) value[units.RatioDim] {
	if j.compression == nil {
		return value[units.RatioDim]{open: "write the volumes, the stroke and the gasket under [compression]"}
	}
	c := j.compression.Compression
	c.Chamber = j.compression.chambers[location]
	if bore := j.line("cylinder"); c.Bore.IsEmpty() {
		size := bore.asked(j.sized("cylinder", location))
		if size.Taken() && len(size.Unmet()) > 0 {
			return value[units.RatioDim]{open: size.Problem()}
		}
		c.Bore = size.Interval()
	}
	if c.Stroke.IsEmpty() {
		c.Stroke = j.known("crankpin stroke", location).Interval()
	}
	if c.Deck.IsEmpty() {
		// A crown that stands over the deck is above zero there, and below zero here.
		c.Deck = j.known("deck piston height", location).Interval().Neg()
	}
	ratio, err := c.Ratio()
	if err != nil {
		return value[units.RatioDim]{open: err.Error()}
	}
	w, err := c.Working(j.show.length, units.CubicCentimetre)
	if err != nil {
		return value[units.RatioDim]{open: err.Error()}
	}
	w.Name = itemName(m.group, location, m.quantity)
	return value[units.RatioDim]{reading: measure.Given(ratio, "from volumes"), how: "from bore, stroke, deck, gasket and volumes", working: &w}
}
