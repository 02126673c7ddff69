package job

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/examples/kit/page"
)

// A Beginning describes an engine in a few texts, from which a job file is begun. Where a
// number of parts may be written, so may their names, with commas between.
type Beginning struct {
	Title     string
	Cylinders string // "4"
	Mains     string // "5"
	Pins      string // the rods that share a crankpin, "1-4 2-5 3-6"; empty if each rod has its own
	Thrust    string // a main; the middle one if empty, to be looked at
	Rings     string // of each piston, from the top: "top ring, second ring"
	Passages  string
	Jets      string // empty if there are none
	Decks     string // empty if there is one
	Inspect   string // further lines to ask for: their names, or "all"
	Inches    bool
}

// File writes a job file with every expected reading open. It proves nothing. The error
// names the field of the Beginning that is wrong as an option, "-cylinders".
func (b Beginning) File() ([]byte, error) {
	t := engineTable{Cylinders: counted(b.Cylinders), Mains: counted(b.Mains), Thrust: b.Thrust,
		Rings: listed(b.Rings), Passages: listed(b.Passages), Decks: listed(b.Decks)}
	if b.Jets != "" && b.Jets != "0" {
		t.Jets = counted(b.Jets)
	}
	for _, pin := range strings.Fields(strings.ReplaceAll(b.Pins, ",", " ")) {
		t.Pins = append(t.Pins, strings.Split(pin, "-"))
	}
	for _, said := range []string{b.Title, b.Cylinders, b.Mains, b.Pins, b.Thrust, b.Rings, b.Passages, b.Jets, b.Decks} {
		if strings.ContainsFunc(said, func(c rune) bool { return !unicode.IsPrint(c) || c == unicode.ReplacementChar }) {
			return nil, fmt.Errorf("%q: a letter that cannot be printed; write names in letters, figures and blanks", said)
		}
	}
	if err := errors.Join(alone("cylinders", b.Cylinders), alone("mains", b.Mains), alone("jets", b.Jets)); err != nil {
		return nil, err
	}
	var places tomlfile.Places
	r := &reader{places: &places}
	mains := r.partNames("engine.mains", t.Mains, "main bearing", "mains = 5")
	if t.Thrust == "" && len(mains) > 0 {
		t.Thrust = mains[len(mains)/2]
	}
	r.errs = nil // said by readEngine
	e := r.readEngine(&t)
	if len(r.errs) == 0 {
		t.Inspect = r.asked(&e, b.Inspect)
	}
	if err := asOptions(r.errs.Sorted()); err != nil {
		return nil, err
	}
	w := &blankFile{e: &e, inches: b.Inches}
	w.begin(b, t)
	w.lines(t.Inspect)
	w.rules()
	w.parts()
	return []byte(w.String()), nil
}

// counted is a number of parts, or the list of their names.
func counted(text string) any {
	var n int64
	if _, err := fmt.Sscanf(text, "%d", &n); err == nil && fmt.Sprint(n) == strings.TrimSpace(text) {
		return n
	}
	var list []any
	for _, name := range listed(text) {
		list = append(list, name)
	}
	if list == nil {
		return nil
	}
	return list
}

// alone returns an error for one name where a number may be meant, as "four" is: one part would be made of it,
// called four. A comma behind the name says that there is one.
func alone(option, text string) error {
	names := listed(text)
	if _, number := counted(text).(int64); number || len(names) != 1 || strings.Contains(text, ",") {
		return nil
	}
	return fmt.Errorf("-%s: %q: one name, and no number; write how many there are in figures, as in 4, or their names with commas between; %q is one that is called so", option, names[0], names[0]+",")
}

// listed takes names apart that have commas between.
func listed(text string) (names []string) {
	for _, name := range strings.Split(text, ",") {
		if name = strings.TrimSpace(name); name != "" {
			names = append(names, name)
		}
	}
	return names
}

// asked are the further lines that are asked for.
func (r *reader) asked(e *Engine, text string) (names []string) {
	lines := linesOf(e)
	var known []string
	for i := range lines {
		if l := &lines[i]; l.optional(e) {
			known = append(known, l.name())
		}
	}
	if text == "all" {
		return known
	}
	for _, name := range listed(text) {
		if l := find(lines, name); l == nil || !l.always { // always is asked for as it is
			r.oneOf("engine.inspect", name, "line", known)
			names = append(names, name)
		}
	}
	return names
}

// option is the path of what an option says, in an error.
var option = regexp.MustCompile(`^engine\.([a-z]+)(\[\d+\])*$`)

// asOptions names the options in errors that name keys of the engine.
func asOptions(err error) error {
	var errs tomlfile.Errors
	if !errors.As(err, &errs) {
		return err
	}
	var all []error
	for _, e := range errs {
		name := e.Path
		if m := option.FindStringSubmatch(e.Path); m != nil {
			name = "-" + m[1]
		}
		all = append(all, fmt.Errorf("%s: %w", name, e.Err))
	}
	return errors.Join(all...)
}

// A blankFile is a job file being begun. What begins with # and no blank is offered: it
// counts once the # is taken away.
type blankFile struct {
	strings.Builder
	e      *Engine
	inches bool
}

func (w *blankFile) line(format string, args ...any) {
	fmt.Fprintf(w, strings.TrimRight(format, " ")+"\n", args...)
}

// remark writes a remark, in lines that fit a screen.
func (w *blankFile) remark(text string) {
	const wide = 78
	for _, l := range page.Wrap(text, wide) {
		w.line("# %s", l)
	}
}

// unit is the unit of length of the file, and how many places it is shown with.
func (w *blankFile) unit() (string, int) {
	if w.inches {
		return "in", 4
	}
	return "mm", 3
}

// begin writes what stands before the readings.
func (w *blankFile) begin(b Beginning, t engineTable) {
	w.remark(`A job: one engine, what must be known of it, and what is. Write over each "?"; what is left as "?" was not measured, and proves nothing. A quantity has its unit, "62.893 mm". A line that begins with # and no blank after it is an offer: take the # away to use it. Everything else behind # is a remark, and can go.`)
	w.line("")
	title := b.Title
	if title == "" {
		title = fmt.Sprintf("An engine of %d cylinders", len(w.e.Cylinders))
		if len(w.e.Cylinders) == 1 {
			title = "An engine of 1 cylinder"
		}
	}
	unit, places := w.unit()
	w.line("title = %q", title)
	w.line(`#date = "?"`)
	w.line(`#by = "?"`)
	w.line(`build = "?" # which build of the engine this is, as in "rebuild of autumn"; the ledger of its bolts needs it`)
	w.line("show = { length = %q, length_places = %d }", unit, places)
	w.line("")
	w.line("[engine] # what has to be known follows from this")
	w.line(`name = "?" # which one it is, as in "lock gate engine 4711"; the ledger of its bolts needs it`)
	w.line("cylinders = %s", counts(t.Cylinders))
	w.line("mains = %s", counts(t.Mains))
	if t.Pins != nil {
		pins := make([]string, len(t.Pins))
		for i, p := range t.Pins {
			pins[i] = "[" + quotedNames(p) + "]"
		}
		w.line("pins = [%s] # the rods on each crankpin", strings.Join(pins, ", "))
	}
	remark := ""
	if b.Thrust == "" {
		remark = " # the main that takes the thrust: the middle one is a guess; look"
	}
	w.line("thrust = %q%s", t.Thrust, remark)
	w.line("rings = [%s]", quotedNames(t.Rings))
	w.line("passages = [%s]", quotedNames(t.Passages))
	if t.Jets != nil {
		w.line("jets = %s", counts(t.Jets))
	}
	if len(t.Decks) > 0 {
		w.line("decks = [%s]", quotedNames(t.Decks))
	}
	w.inspect(t.Inspect)
	w.line("")
	w.remark("What was measured with. An uncertainty is the expanded one, k = 2, of the instrument as it is used. \"reading\" and \"readings\" name theirs by with = \"…\", or before a colon: \"dial: 0.06 to 0.33 mm\".")
	w.line("#[instruments]")
	for _, kind := range []string{"micrometer", "bore gauge", "dial", "caliper"} {
		w.line(`#%s = { kind = %q, uncertainty = "?" }`, key(kind), kind)
	}
	w.line(`#"crush strip" = { kind = "crush strip", widths = [] } # the clearances printed beside the widths, smallest first`)
	w.line(`#blades = { kind = "feeler blades", blades = [] } # likewise: ["0.05 %s", …]`, unit)
	if len(w.e.Jets) > 0 {
		w.line(`#"pressure gauge" = { kind = "pressure gauge", uncertainty = "?" }`)
	}
	w.line("")
}

// inspect writes the further lines that are asked for, and offers the others, by the part
// of the engine that they are measured on.
func (w *blankFile) inspect(asked []string) {
	const wide = 96
	w.remark("Further lines to measure, which -new -inspect NAME writes the tables of too. Take the # away before a row of names, and out what you do not measure; -blank says where and how each is measured.")
	w.line("inspect = [")
	lines := linesOf(w.e)
	for _, part := range sheetParts {
		if !slices.ContainsFunc(lines, func(l line) bool { return l.part() == part && l.optional(w.e) }) {
			continue
		}
		w.line("  # %s", part)
		for _, taken := range []bool{true, false} {
			row, mark := "", map[bool]string{false: "#"}[taken]
			for i := range lines {
				l := &lines[i]
				if l.part() != part || !l.optional(w.e) || slices.Contains(asked, l.name()) != taken {
					continue
				}
				if name := fmt.Sprintf("%q, ", l.name()); len(row)+len(name) > wide {
					w.line("  %s%s", mark, strings.TrimSuffix(row, " "))
					row = name
				} else {
					row += name
				}
			}
			if row != "" {
				w.line("  %s%s", mark, strings.TrimSuffix(row, " "))
			}
		}
	}
	w.line("]")
}

// optional reports whether a line is asked for only by inspect, and the engine has a place
// for it.
func (l *line) optional(e *Engine) bool {
	return !l.always && len(l.where(e)) > 0 && l.group != "oil jet"
}

// counts writes a number of parts, or their names.
func counts(v any) string {
	if n, ok := v.(int64); ok {
		return fmt.Sprint(n)
	}
	var names []string
	for _, x := range v.([]any) {
		names = append(names, x.(string))
	}
	return "[" + quotedNames(names) + "]"
}

func quotedNames(names []string) string {
	quoted := make([]string, len(names))
	for i, n := range names {
		quoted[i] = fmt.Sprintf("%q", n)
	}
	return strings.Join(quoted, ", ")
}

// lines writes the lines of the inspection: those that are asked for open, and as an offer
// those that they are the sum of.
func (w *blankFile) lines(inspect []string) {
	all := linesOf(w.e)
	open := map[string]bool{}
	terms := map[string]bool{}
	for i := range all {
		if l := &all[i]; len(l.where(w.e)) > 0 && (!l.optional(w.e) || slices.Contains(inspect, l.name())) {
			open[l.name()] = true
			for _, t := range l.terms {
				terms[t] = l.isBearing() || l.workedOut() || terms[t]
			}
		}
	}
	w.remark("1. What has to be measured. What a clearance is the sum of (bore, walls, journal) may be measured instead of it, or as well: take the # away.")
	w.line("")
	for i := range all {
		switch l := &all[i]; {
		case open[l.name()]:
			w.measure(l, "")
		case terms[l.name()]:
			w.measure(l, "#")
		}
	}
}

// mostInline is how many readings of several stations stand on one line.
const mostInline = 6

// measure writes a line of the inspection, every line of it behind the mark given.
func (w *blankFile) measure(l *line, mark string) {
	w.remark(l.how)
	w.line("%s[measure.%s]", mark, key(l.name()))
	if l.form != state && l.form != layout {
		for _, q := range l.quantities() {
			if mark == "" { // a term has no need of limits
				w.line("%s = \"?\"", q.key)
			}
		}
		if len(l.kinds) > 0 {
			w.line("#with = \"?\" # %s, by its name above", either(l.kinds))
		}
	}
	if l.named != "" {
		w.remark(map[string]string{byDirection: `directions = ["crown", "30° from the joint"], or other names`, byPlane: `planes = ["top", "middle", "foot"], or other names`}[l.named])
	}
	if l.fit != nil && len(l.kinds) == 0 { // worked out, and not read
		w.line("")
		return
	}
	if len(l.needs) > 0 {
		var open, once []string
		for _, f := range l.needs {
			open = append(open, key(f.what)+` = "?"`)
			once = append(once, fmt.Sprintf("%s = %q", key(f.what), f.is[0]))
		}
		w.line("%sconditions = { %s } # once it was so: %s", mark, strings.Join(open, ", "), strings.Join(once, ", "))
	}
	at := l.where(w.e)
	switch {
	case l.workedOut():
	case len(at) == 1:
		w.line("%sreading = \"?\"%s", mark, w.example(l))
	case l.form == size && len(at) > mostInline: // of several stations each is long
		w.line("%s[measure.%s.readings]%s", mark, key(l.name()), w.example(l))
		for _, location := range at {
			w.line("%s%s = \"?\"", mark, key(location))
		}
	default:
		var open []string
		for _, location := range at {
			open = append(open, key(location)+` = "?"`)
		}
		w.line("%sreadings = { %s }%s", mark, strings.Join(open, ", "), w.example(l))
	}
	w.line("")
}

// either lists kinds of instrument: "dial, caliper or gauge".
func either(kinds []string) string {
	if len(kinds) == 1 {
		return kinds[0]
	}
	return strings.Join(kinds[:len(kinds)-1], ", ") + " or " + kinds[len(kinds)-1]
}

// example is a remark on how a reading of the line is written.
func (w *blankFile) example(l *line) string {
	unit, _ := w.unit()
	switch l.form {
	case state:
		return " # " + choices(l.words())
	case pressure:
		return ` # shut at the one and open at the other: "2.4..2.6 bar"`
	case mass:
		return ` # "412.6 g"`
	case slope:
		return fmt.Sprintf(" # \"0.02 %s over 100 %s\"", unit, unit)
	case layout:
		return ` # "45° 165° 285°", by the rules of [ring_positions]`
	case size:
		text := " # planes with ; between, directions with a blank"
		if l.named != "" {
			text += "; name the " + l.named
		}
		return text
	}
	switch {
	case l.isBearing():
		return fmt.Sprintf(" # nearest to a print, \"0.05 %s\", or between two, \"0.05..0.07 %s\"", unit, unit)
	case slices.Contains(l.kinds, feelerBlades):
		return fmt.Sprintf(" # blades: goes and does not, \"0.20..0.25 %s\"", unit)
	}
	return ""
}

// rules offers what some lines of the inspection follow from.
func (w *blankFile) rules() {
	unit, _ := w.unit()
	w.remark("3. What some further lines follow from: where the gaps of rings may stand, what a bobweight holds, the volumes of the compression, how warm parts run, and fits that other engines do not have.")
	w.line("")
	for _, l := range []string{
		`[ring_positions]`,
		`mark = "?" # what the angles count from, "the arrow on the crown"`,
		`neighbours = "?" # the least angle between the gaps of neighbours, "120°"`,
		`forbidden = [] # { name = "loaded side", centre = "90°", reach = "20°" }`,
		"",
		`[bobweight]`,
		`share = "?" # of what goes up and down, "50 %"`,
		`oil = "?" # what hangs in the pin, "4 ±1 g", or "0 g"`,
		"",
		`[compression] # each with how good it is, "40.0 ±0.2 cm³"`,
		`bore = "?" # unless "cylinder" is measured; stroke and deck likewise`,
		`stroke = "?"`,
		`deck = "?" # over the crown`,
		`gasket_bore = "?"`,
		`gasket_thickness = "?"`,
		`chamber = "?" # of every cylinder; chambers = {} for each`,
		`dish = "?" # in the crown; "0 cm³" for a flat one`,
		"",
		`[temperatures] # of what was not measured at 20 °C, and of what runs warm`,
		`hot = "?" # a name, and "85..95 °C"`,
		`[materials] # by how much they grow per kelvin`,
		`steel = "?" # "11..12 ppm"`,
		`[warmth] # of ` + strings.Join(partsWithWarmth, ", ") + `, and of instruments`,
		`block = { material = "?", measured = "?", running = "?" } # likewise each instrument that measured it: material and measured`,
		"",
		`[[fits]]`,
		`name = "?" # the part and what is judged of it, "idler float"`,
		`formula = "?" # "C = D - 2*t - d"; leave it out, and lines and terms, for what is read as it is: at, with and readings`,
		`limits = "?"`,
		`lines = {} # the symbols that are lines, { D = "main bore" }`,
		`terms = {} # the others, { t = { with = "micrometer", reading = "1.500 ` + unit + `" } }`,
		"",
	} {
		if l != "" {
			l = "#" + l
		}
		w.WriteString(l + "\n")
	}
}

// parts writes the offers of what is not measured: shells, bolts and their tightening.
func (w *blankFile) parts() {
	w.remark("4. Shells, where stamped codes or sizes choose them: codes with grades, or choose = \"by sizes\", which takes walls, the limits of the clearance, bores and journals. What is on hand is stock = [{ half = \"upper\", grade = \"…\" }]; the clearance aimed at, if not the middle of its limits, wanted.")
	w.line("")
	for _, kind := range []struct {
		name         string
		upper, lower int
	}{{"main", len(w.e.Mains), len(w.e.Mains)}, {"rod", len(w.e.Cylinders), len(w.e.Pins)}} {
		codes := func(n int) string { return strings.TrimSpace(strings.Repeat("? ", n)) }
		w.line("#[shells.%s]", kind.name)
		w.line("#codes = { upper = %q, lower = %q } # as stamped; ? for one that cannot be read", codes(kind.upper), codes(kind.lower))
		w.line("#grades = { upper = {}, lower = {} } # the shell for each code: { CODE = \"GRADE\" }; or matrix, sum or scheme")
		w.line("#sizes = { upper = {}, lower = {} } # of each code, where the manual has them: { CODE = \"LEAST..MOST\" }")
		w.line("#walls = { upper = {}, lower = {} } # of each shell that exists: { GRADE = \"LEAST..MOST\" }; both = {} where halves are alike")
		w.line(`#packs = [] # on sale: { name = "…", price = "12.50", holds = [{ half = "upper", grade = "…" }] }`)
		w.line("")
	}
	w.remark("5. Tightening, as the manual has it: the trial assembly, to read strips and blades, and the final one. Then which bolts are new, which sound (looked at: thread, head and neck; run down by hand), which scrap: \"all\", or a list. Used bolts that have a limit are measured.")
	w.line("")
	mains, rods := make([]string, len(w.e.Mains)), make([]string, len(w.e.Cylinders))
	for i, m := range w.e.Mains {
		mains[i] = fmt.Sprintf("[%q, %q]", "M"+m+"L", "M"+m+"R")
	}
	for i, c := range w.e.Cylinders {
		rods[i] = fmt.Sprintf("[%q, %q]", c+"a", c+"b")
	}
	for _, phase := range []struct {
		key   string
		bolts []string // which they are
	}{
		{"trial", []string{"old_bolts = true # those that came out, where the manual allows it; false for new ones", "turn_in_trial = true # may break old bolts, and makes scrap of new ones; without it, leave the turn out"}},
		{"tightening", []string{"single_use = true # false if the manual lets them go back"}}} {
		for _, group := range []struct{ name, bolts, order string }{
			{"main cap bolts", fmt.Sprintf("caps = [%s]", strings.Join(mains, ", ")), `"inside out" # or as the manual has it, a list of the bolts`},
			{"rod bolts", fmt.Sprintf("caps = [%s]", strings.Join(rods, ", ")), `"cap by cap" # one rod is finished before the next`},
		} {
			w.line("#[[%s]]", phase.key)
			w.line("#group = %q", group.name)
			w.line("#%s", group.bolts)
			w.line("#order = %s", group.order)
			for _, said := range phase.bolts {
				w.line("#%s", said)
			}
			w.line(`#stages = [{ torque = "?" }, { turn = "?" }]`)
		}
		w.line("")
	}
	for _, group := range []string{"main cap bolts", "rod bolts"} {
		w.line("#[bolts.%q]", group)
		w.line("#new = []")
		w.line("#sound = []")
		w.line("#scrap = []")
		w.line("#longest_length = \"?\" # or longest_stretch with new_length, and with = the instrument")
		w.line(`#lengths = {}`)
		w.line("")
	}
	w.remark("6. What a model of the oil film needs, which -film shows over clearance. It judges nothing, and opens no gate.")
	w.line("")
	for _, l := range []string{
		`[film]`,
		`speed = "?" # of the crankshaft, "2600 rpm"`,
		`inlet = "?" # of the oil that reaches the bearings, "95 °C"`,
		`oil = { grade = "?", density = "?", heat = "?" } # "15W-40", "870 kg/m³", "1.7 MPa"; or cool = "105 mm²/s at 40 °C", warm = "14.2 mm²/s at 100 °C" for grade`,
		`roughness = { journal = "?", bearing = "?" } # Rq, "0.2 µm"`,
	} {
		w.line("#%s", l)
	}
	for _, kind := range []string{"main", "rod"} {
		w.line("#[film.%s]", kind)
		w.line(`#diameter = "?"`)
		w.line(`#width = "?"`)
		w.line(`#load = "?" # a steady one, "4.4 kN"`)
		w.line(`#groove = "?" # the width of one round the bearing, and supply, the pressure in it; or leave both out`)
		w.line(`#supply = "?"`)
		w.line(`#pump = { delivery = "?", relief = "?" } # for all bearings of the kind, "9 L/min", "4 bar"; or leave it out`)
	}
	w.line("")
	w.remark("7. What somebody takes on their word. It opens a gate, and proves nothing.")
	w.line("")
	for _, list := range []string{"accepted", "left_out"} {
		w.line("#[[%s]]", list)
		w.line(`#what = "?" # the name of the item, as the record has it`)
		w.line(`#by = "?"`)
		w.line(`#reason = "?"`)
	}
}
