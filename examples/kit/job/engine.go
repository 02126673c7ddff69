package job

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// An Engine is what a job declares once: its parts, by the names that everything else
// in the file uses. What must be known before it is closed follows from it.
type Engine struct {
	Cylinders []string `json:"cylinders"` // in the order of the engine; a rod and a piston have the name of their cylinder
	Mains     []string `json:"mains"`     // the main bearings, from the front
	Pins      []Pin    `json:"pins"`      // the crankpins, from the front
	Thrust    string   `json:"thrust"`    // the main that takes the crankshaft's thrust
	Rings     []string `json:"rings"`     // of each piston, those with an end gap: "top ring"
	Passages  []string `json:"passages"`  // of the oil
	Jets      []string `json:"jets"`      // that cool the pistons; none where there are none
	Decks     []string `json:"decks"`     // the faces that carry a head: one, or one for each bank
	Pumps     []string `json:"pumps"`     // of the oil: one, or each rotor of several

	bore measure.LengthReading // the nominal bore of the cylinders, where the job states it
}

// A Pin is a crankpin and the rods on it.
type Pin struct {
	Name string   `json:"name"` // that of its rod; of several, their names with a dash between: "1-4"
	Rods []string `json:"rods"`
}

// pinOf returns the name of the pin that a rod is on.
func (e *Engine) pinOf(rod string) string {
	for _, p := range e.Pins {
		if slices.Contains(p.Rods, rod) {
			return p.Name
		}
	}
	return ""
}

// placesOf are, of the places at which the lines of a group are measured, those that belong
// to the place of another line: the place itself, else the pin of a rod, or the rods of a
// pin, or the only place of a part that there is one of.
func (e *Engine) placesOf(at []string, group, location string) []string {
	if slices.Contains(at, location) {
		return []string{location}
	}
	if pin := e.pinOf(location); slices.Contains(at, pin) {
		return []string{pin}
	}
	for _, p := range e.Pins {
		if p.Name == location && slices.Contains(at, p.Rods[0]) {
			return p.Rods
		}
	}
	if len(at) == 1 && at[0] == group {
		return at
	}
	return nil
}

// pinNames are the names of the pins.
func (e *Engine) pinNames() []string {
	var names []string
	for _, p := range e.Pins {
		names = append(names, p.Name)
	}
	return names
}

// engineTable is the engine as a job file declares it.
type engineTable struct {
	Name      string     `toml:"name"`      // which one it is, among others of its kind
	Cylinders any        `toml:"cylinders"` // how many, or their names
	Mains     any        `toml:"mains"`
	Pins      [][]string `toml:"pins"`
	Thrust    string     `toml:"thrust"`
	Rings     []string   `toml:"rings"`
	Passages  []string   `toml:"passages"`
	Jets      any        `toml:"jets"`
	Decks     []string   `toml:"decks"`
	Pumps     []string   `toml:"pumps"`
	Bore      string     `toml:"bore"`
	Inspect   []string   `toml:"inspect"`
}

// mostOf is how many of one part an engine may have.
const mostOf = 64

// readEngine reads the engine. Without one, nothing says what has to be known.
func (r *reader) readEngine(t *engineTable) Engine {
	var e Engine
	if t == nil {
		r.fail("engine", "%w; write [engine] with cylinders = 4, mains = 5, thrust = \"3\", rings = [\"top ring\", \"second ring\"] and passages = [\"main gallery\"]", ErrMissing)
		return e
	}
	e.Cylinders = r.partNames("engine.cylinders", t.Cylinders, "cylinder", "cylinders = 4")
	e.Mains = r.partNames("engine.mains", t.Mains, "main bearing", "mains = 5")
	e.Pins = r.pins(t.Pins, e.Cylinders)
	if len(e.Mains) > 0 && r.present("engine.thrust", t.Thrust) && r.oneOf("engine.thrust", t.Thrust, "main bearing", e.Mains) {
		e.Thrust = t.Thrust
	}
	e.Rings, e.Passages = t.Rings, t.Passages
	if len(t.Rings) == 0 {
		r.fail("engine.rings", "%w; name the rings of a piston that have an end gap, from the top: rings = [\"top ring\", \"second ring\"]", ErrMissing)
	}
	r.names("engine.rings", t.Rings, "ring")
	if len(t.Passages) == 0 {
		r.fail("engine.passages", "%w; name the oil passages that must be proven clean: passages = [\"main gallery\", \"crankshaft drillings\"]", ErrMissing)
	}
	r.names("engine.passages", t.Passages, "passage")
	if t.Jets != nil {
		e.Jets = r.partNames("engine.jets", t.Jets, "jet", "jets = 4")
	}
	e.Decks = t.Decks
	r.names("engine.decks", t.Decks, "deck")
	if len(e.Decks) == 0 {
		e.Decks = []string{"deck"}
	}
	e.Pumps = t.Pumps
	r.names("engine.pumps", t.Pumps, "pump")
	if len(e.Pumps) == 0 {
		e.Pumps = []string{"oil pump"}
	}
	if bore, ok := readIf(r, "engine.bore", t.Bore, units.ParseLength); ok {
		if bore.Sign() <= 0 || largest.Less(bore) {
			r.fail("engine.bore", "%s: write the nominal bore of the cylinders, such as 84 mm", t.Bore)
		} else {
			e.bore, r.bore = measure.Given(units.Exactly(bore), "nominal bore"), measure.Given(units.Exactly(bore), "nominal bore")
		}
	}
	return e
}

// whole reports whether an engine has every part that readings are asked for by.
func (e *Engine) whole() bool {
	return len(e.Cylinders) > 0 && len(e.Mains) > 0 && len(e.Pins) > 0 && len(e.Rings) > 0 && len(e.Passages) > 0
}

// partNames reads how many there are of a part, which are then called 1, 2, 3 and so on, or
// their names.
func (r *reader) partNames(path string, v any, what, example string) []string {
	switch v := v.(type) {
	case int64:
		if v < 1 || v > mostOf {
			r.fail(path, "%d of them; write from 1 to %d, or their names", v, mostOf)
			return nil
		}
		names := make([]string, v)
		for i := range names {
			names[i] = strconv.Itoa(i + 1)
		}
		return names
	case []any:
		var names []string
		for i, x := range v {
			name, ok := x.(string)
			if !ok {
				r.fail(fmt.Sprintf("%s[%d]", path, i), "%s, where a name belongs; write it in quotes", tomlfile.Said(x))
				return nil
			}
			names = append(names, name)
		}
		if len(names) == 0 || len(names) > mostOf {
			r.fail(path, "%d names; write from 1 to %d", len(names), mostOf)
			return nil
		}
		errs := len(r.errs)
		r.names(path, names, what)
		if len(r.errs) > errs {
			return nil
		}
		return names
	case string: // read as what it was meant as, so that the rest of the job is read too
		key := path[strings.LastIndex(path, ".")+1:]
		if n, err := strconv.ParseInt(strings.TrimSpace(v), 10, 64); err == nil {
			r.fail(path, "%q, a text; write %s = %d", v, key, n)
			return r.partNames(path, n, what, example)
		}
		r.fail(path, "%q, a text; write how many there are, %s, or their names, %s = [%s]", v, example, key, quotedNames(listed(v)))
	case nil:
		r.fail(path, "%w; write how many there are, %s, or a list of their names", ErrMissing, example)
	default:
		r.fail(path, "%s; write how many there are, %s, or a list of their names", tomlfile.Said(v), example)
	}
	return nil
}

// pins reads which rods share a crankpin. Unless it is said, each has its own.
func (r *reader) pins(shared [][]string, rods []string) []Pin {
	var pins []Pin
	if shared == nil {
		for _, rod := range rods {
			pins = append(pins, Pin{rod, []string{rod}})
		}
		return pins
	}
	seen := map[string]string{}
	for i, on := range shared {
		for k, rod := range on {
			at := fmt.Sprintf("engine.pins[%d][%d]", i, k)
			if !r.oneOf(at, rod, "rod", rods) || !r.once(at, rod, "rod", seen) {
				return nil
			}
		}
		if len(on) == 0 {
			r.fail(fmt.Sprintf("engine.pins[%d]", i), "a crankpin without a rod: %w; name the rods on it", ErrMissing)
			return nil
		}
		pins = append(pins, Pin{strings.Join(on, "-"), on})
	}
	for _, rod := range rods {
		if _, ok := seen[rod]; !ok {
			r.fail("engine.pins", "rod %q is on no crankpin: %w; add it to the rods of its pin", rod, ErrMissing)
			return nil
		}
	}
	return pins
}
