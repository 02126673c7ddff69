package jobtest

import (
	"fmt"
	"math/rand/v2"
	"strings"

	"pgregory.net/rapid"
)

// Wide draws a job that somebody could honestly type, of much that Draw leaves out: from one
// cylinder to sixteen, inches with fractions, six decimals, parts that were measured far from
// 20 °C, gauges set on one another, shells by codes, by sizes or both, grades of which one half
// exists, ground journals, stock and many packs, limits with one side. Its readings are what
// they are: little of it is proven, and some of it is refused.
func Wide(t *rapid.T) string {
	w := wide{rand: rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 7))}
	return w.job()
}

// A wide job is drawn from one number, which is quicker than to draw each of its words.
type wide struct {
	rand *rand.Rand
	text strings.Builder
	inch bool
	warm bool
}

func (w *wide) say(format string, args ...any) { fmt.Fprintf(&w.text, format+"\n", args...) }

// one is one of the texts; once says yes one time in n; between is a whole number; about is
// within the spread of a number.
func (w *wide) one(texts ...string) string       { return texts[w.rand.IntN(len(texts))] }
func (w *wide) once(n int) bool                  { return w.rand.IntN(n) == 0 }
func (w *wide) between(lo, hi int) int           { return lo + w.rand.IntN(hi-lo+1) }
func (w *wide) about(mm, spread float64) float64 { return mm + spread*(2*w.rand.Float64()-1) }

// length writes a length with up to six decimals, in the job's unit or now and then in another.
func (w *wide) length(mm float64) string {
	places := w.one("3", "3", "4", "6")
	switch inch := w.inch != w.once(12); {
	case inch && mm < 0.1:
		return fmt.Sprintf("%.6f in", mm/25.4)
	case mm < 0.1 && w.once(2):
		return fmt.Sprintf("%.2f µm", mm*1000)
	case mm < 0.1:
		return fmt.Sprintf("%.5f mm", mm)
	case inch && w.once(8): // to the nearest 64th
		n := int(mm/25.4*64 + 0.5)
		return strings.TrimSpace(fmt.Sprintf("%d %d/64 in", n/64, n%64))
	case inch:
		return fmt.Sprintf("%."+w.one("4", "4", "5", "6")+"f in", mm/25.4)
	case w.once(12):
		return fmt.Sprintf("%.1f µm", mm*1000)
	}
	return fmt.Sprintf("%."+places+"f mm", mm)
}

// span writes what lies between two lengths.
func (w *wide) span(lo, hi float64) string {
	unit, per := "mm", 1.0
	if w.inch {
		unit, per = "in", 25.4
	}
	switch w.rand.IntN(6) {
	case 0:
		return fmt.Sprintf("%.6f..%.6f %s", lo/per, hi/per, unit)
	case 1:
		return fmt.Sprintf("%.5f ±%.6f %s", (lo+hi)/2/per, (hi-lo)/2/per, unit)
	}
	return fmt.Sprintf("%.4f..%.4f %s", lo/per, hi/per+0.0001, unit)
}

// names writes a table of a text for each name.
func names(list []string, each func(name string) string) string {
	texts := make([]string, len(list))
	for i, name := range list {
		texts[i] = fmt.Sprintf("%q = %s", name, each(name))
	}
	return "{ " + strings.Join(texts, ", ") + " }"
}

func (w *wide) job() string {
	w.inch, w.warm = w.once(2), !w.once(3)
	cylinders := []int{1, 1, 2, 3, 4, 6, 8, 12, 16}[w.rand.IntN(9)]
	mains := w.between(2, 9)
	number := func(prefix string, n int) (list []string) {
		for i := range n {
			list = append(list, fmt.Sprint(prefix, i+1))
		}
		return list
	}
	rods, bearings := number("", cylinders), number(w.one("", "M", "bearing "), mains)
	pins := rods
	w.say(`title = "wide"`)
	if w.once(5) {
		w.say(`combine = "at worst"`)
	}
	if w.once(2) {
		w.say("[show]\nlength = %q\nlength_places = %d", w.one("mm", "in", "thou", "µm"), w.between(0, 6))
	}
	w.say("[engine]\ncylinders = %d\nmains = [%s]\nthrust = %q\nrings = [\"top ring\"]\npassages = [\"gallery\"]", cylinders, Quoted(bearings), bearings[w.rand.IntN(mains)])
	if cylinders%2 == 0 && w.once(2) {
		pins = nil
		var shared []string
		for i := 0; i < cylinders; i += 2 {
			shared = append(shared, fmt.Sprintf("[%q, %q]", rods[i], rods[i+1]))
			pins = append(pins, rods[i]+"-"+rods[i+1])
		}
		w.say("pins = [%s]", strings.Join(shared, ", "))
	}
	inspect := []string{"main journal", "main bore"}
	if w.warm && w.once(2) {
		inspect = append(inspect, "main bearing warm clearance")
	}
	w.say("inspect = [%s]", Quoted(inspect))
	w.say("[instruments]")
	gauges := []string{"gauge", "micrometer", "wall gauge"}
	w.say(`piece = { kind = "setting piece", uncertainty = %q }`, w.length(w.scaled(0.0004)))
	w.say(`micrometer = { kind = "micrometer", uncertainty = %q%s }`, w.length(w.scaled(0.001)), w.one("", `, set_on = "piece"`))
	w.say(`gauge = { kind = "bore gauge", uncertainty = %q%s }`, w.length(w.scaled(0.0015)), w.one("", `, set_on = "micrometer"`, `, limit_of_error = "0.0003 mm"`, `, k = 2.576, freedom = 7`))
	w.say(`"wall gauge" = { kind = "micrometer", uncertainty = %q }`, w.length(w.scaled(0.001)))
	if w.warm {
		w.warmth(gauges)
	}
	for _, kind := range []struct {
		part         string
		at, journals []string
	}{{"main", bearings, bearings}, {"rod", rods, pins}} {
		if kind.part == "main" || w.once(2) {
			w.bearings(kind.part, kind.at, kind.journals)
		}
	}
	return w.text.String()
}

// scaled is a number between half and one and a half times another.
func (w *wide) scaled(mm float64) float64 { return mm * (0.5 + w.rand.Float64()) }

// warmth writes how warm parts and gauges were, and how little of it is known.
func (w *wide) warmth(gauges []string) {
	degree := func() string {
		c := w.about(12, 40)
		wide := w.rand.Float64() * w.rand.Float64() * 8
		switch w.rand.IntN(5) {
		case 0:
			return fmt.Sprintf("%.0f..%.0f °F", c*1.8+32, (c+wide)*1.8+32)
		case 1:
			return fmt.Sprintf("%.6f °F", c*1.8+32)
		case 2:
			return fmt.Sprintf("%.2f K", c+273.15)
		case 3:
			return fmt.Sprintf("%.6f..%.6f °C", c, c+wide)
		}
		return fmt.Sprintf("%.0f °C", c)
	}
	w.say("[temperatures]\nshop = %q\nshed = %q\nhot = \"85..95 °C\"", degree(), degree())
	w.say("[materials]\niron = %q\nsteel = %q\nlight = %q", w.one("10..11 ppm", "10.4 ppm", "0.0000104"), w.one("11..12 ppm", "11.65 ppm"), w.one("21..24 ppm", "23.123456 ppm"))
	w.say("[warmth]")
	body := func(name, material string) {
		w.say("%q = { material = %q, measured = %q%s }", name, material, w.one("shop", "shop", "shed"), w.one("", `, running = "hot"`))
	}
	body("block", w.one("iron", "light"))
	body("crankshaft", "steel")
	for _, part := range []string{"rods", "main shells", "rod shells"} {
		if w.once(2) {
			body(part, "steel")
		}
	}
	for _, g := range append(gauges, "piece") {
		body(g, w.one("steel", "steel", "iron"))
	}
}

// bearings writes one kind of bearing, with its shells.
func (w *wide) bearings(part string, at, journals []string) {
	journal := w.about(50, 15)
	wall := w.about(2, 0.5)
	step := w.about(0.004, 0.003)
	n := w.between(1, 6)
	bore := journal + 2*wall + step*float64(n-1) + w.about(0.045, 0.01)
	w.say("[measure.\"%s bearing clearance\"]", part)
	limits := w.span(0.02, 0.02+w.about(0.05, 0.02))
	oneSided := w.once(6)
	if oneSided {
		limits = ">= " + w.length(0.02)
	}
	w.say("limits = %q", limits)
	planes, directions := w.between(1, 2), w.between(1, 2)
	size := func(line, with, conditions string, at []string, mm float64) {
		if w.once(8) {
			return
		}
		w.say("[measure.%q]\nwith = %q", part+" "+line, with)
		if conditions != "" {
			w.say("conditions = %s", conditions)
		}
		several := strings.HasSuffix(line, "journal") && w.once(2)
		w.say("readings = %s", names(at, func(string) string {
			if !several {
				return fmt.Sprintf("%q", w.length(w.about(mm, 0.004)))
			}
			var rows []string
			for range planes {
				var row []string
				for range directions {
					row = append(row, fmt.Sprintf("%.5f", w.about(mm, 0.002)))
				}
				rows = append(rows, strings.Join(row, " "))
			}
			return fmt.Sprintf("%q", strings.Join(rows, "; ")+" mm")
		}))
	}
	size("bore", "gauge", `{ bolts = "tightened as for assembly", shells = "out" }`, at, bore)
	size("journal", "micrometer", "", journals, journal)
	if w.once(2) {
		size("upper wall thickness", "wall gauge", "", at, wall+step)
		size("lower wall thickness", "wall gauge", "", at, wall+step)
	}
	if w.once(6) {
		return
	}
	w.shells(part, at, journals, oneSided, wall, step, n)
}

// shells writes the shells of one kind of bearing: n grades of which all or some halves exist.
func (w *wide) shells(part string, at, journals []string, oneSided bool, wall, step float64, n int) {
	grades := []string{"red", "blue", "green", "white", "extra thick", "6"}[:n]
	alike := w.once(4)
	halves := map[string][]string{} // by half
	for _, g := range grades {
		switch {
		case alike:
			halves["both"] = append(halves["both"], g)
		case w.once(6):
			half := w.one("upper", "lower")
			halves[half] = append(halves[half], g)
		default:
			halves["upper"], halves["lower"] = append(halves["upper"], g), append(halves["lower"], g)
		}
	}
	w.say("[shells.%s]", part)
	if alike {
		w.say("interchangeable = true")
	}
	if w.once(2) {
		w.say("choose = \"by sizes\"")
	}
	if oneSided || w.once(6) {
		w.say("wanted = %q", w.length(0.035))
	}
	if w.once(2) {
		w.say("mix = %d", w.between(0, n))
	}
	if w.once(8) {
		w.say("ground = [%q]\nundersize = %q", journals[0], w.one("0.25 mm", "0.010 in", "1/64 in"))
	}
	if w.once(8) {
		w.say("fit = { %q = %q }", at[0], w.one(grades...))
	}
	one := func() (half, grade string) {
		half = w.one("upper", "lower")
		if alike {
			half = "both"
		}
		if list := halves[half]; len(list) > 0 {
			return half, w.one(list...)
		}
		return "", ""
	}
	shell := func(most int) string {
		half, grade := one()
		if grade == "" {
			return ""
		}
		text := fmt.Sprintf("grade = %q, count = %d", grade, w.between(1, most))
		if half != "both" {
			text = fmt.Sprintf("half = %q, ", half) + text
		}
		return "{ " + text + " }"
	}
	several := func(n, most int) string {
		var list []string
		for range n {
			if p := shell(most); p != "" {
				list = append(list, p)
			}
		}
		return strings.Join(list, ", ")
	}
	if w.once(2) {
		w.say("stock = [%s]", several(w.between(0, 5), 4))
	}
	if packs := w.between(0, 12); packs > 0 {
		w.say("packs = [")
		for i := range packs {
			if holds := several(w.between(1, 4), w.between(1, 6)); holds != "" {
				w.say("  { name = \"pack %d\", price = %q, holds = [%s] },", i+1, w.one("17.50", "9", "0", "1234567.89", "3.125", fmt.Sprintf("%.2f", w.about(20, 15))), holds)
			}
		}
		w.say("]")
	}
	coded := !alike && len(halves["upper"]) > 0 && len(halves["lower"]) > 0 && w.once(2)
	if coded {
		row := func(n int, codes ...string) string {
			var list []string
			for range n {
				list = append(list, w.one(codes...))
			}
			return strings.Join(list, " ")
		}
		w.say("[shells.%s.codes]\nupper = %q\nlower = %q", part, row(len(at), "A", "A", "B", "?"), row(len(journals), "1", "2"))
		if w.once(2) {
			w.say("upper_row = { begins = %q }\nlower_row = { begins = %q }", at[0], journals[0])
		}
		w.say("[shells.%s.grades]\nupper = { A = %q, B = %q }\nlower = { 1 = %q, 2 = %q }", part, w.one(halves["upper"]...), w.one(halves["upper"]...), w.one(halves["lower"]...), w.one(halves["lower"]...))
	}
	w.say("[shells.%s.walls]", part)
	for _, half := range []string{"upper", "lower", "both"} {
		if list := halves[half]; len(list) > 0 {
			wide := w.rand.Float64() * 0.003
			w.say("%s = %s", half, names(list, func(g string) string {
				k := 0
				for grades[k] != g {
					k++
				}
				thin := wall + step*float64(k)
				return fmt.Sprintf("%q", w.span(thin, thin+wide))
			}))
		}
	}
}
