package jobtest

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Twelve returns the job of an invented engine of twelve cylinders whose rods share six pins,
// with every line of the inspection read: bearings by sizes at six stations each, by strip and
// inside their shells, cold and warm; masses, volumes, ring positions and a fit of its own;
// shells by their codes, used bolts by their lengths, a trial assembly. Everything in it is
// proven but its shells, which are still to be bought.
func Twelve() string {
	var g Job
	names := func(n int) (list []string) {
		for i := range n {
			list = append(list, strconv.Itoa(i+1))
		}
		return list
	}
	rods, mains, decks := names(12), names(7), []string{"left deck", "right deck"}
	var pins, shared []string
	for i := 1; i <= 6; i++ {
		pins = append(pins, fmt.Sprintf("%d-%d", i, i+6))
		shared = append(shared, fmt.Sprintf(`["%d", "%d"]`, i, i+6))
	}
	var inspect []string
	var lines Job // what follows the head of the file
	line := func(name, limits, rest string, at []string, text func(i int) string) {
		if limits != "" {
			limits = "limits = " + strconv.Quote(limits) + "\n"
		}
		lines.add("[measure.%q]\n%s%s\n[measure.%q.readings]", name, limits, rest, name)
		for i, l := range at {
			lines.add("%q = %q", l, text(i))
		}
		inspect = append(inspect, name)
	}
	constant := func(text string) func(int) string { return func(int) string { return text } }
	sum := func(name, limits string) { line(name, limits, "", nil, nil) }
	once := func(name, limits, with, text string) {
		lines.add("[measure.%q]\nlimits = %q\nwith = %q\nreading = %q", name, limits, with, text)
		inspect = append(inspect, name)
	}
	const (
		byMicrometer = "with = \"micrometer\""
		byGauge      = "with = \"gauge\""
		byBlades     = "with = \"blades\""
		byDepth      = "with = \"depth gauge\""
		byDial       = "with = \"dial\""
		byScale      = "with = \"scale\""
		done         = "\nconditions = { bolts = \"tightened as for assembly\" }"
		asBored      = "\nconditions = { bolts = \"tightened as for assembly\", shells = \"out\" }"
		inside       = "\nconditions = { bolts = \"tightened as for assembly\", shells = \"in\" }"
	)
	// stations are three planes of two directions, the second so many micrometres off; one of
	// the six is a micrometre larger.
	stations := func(thousandths, off int) func(int) string {
		return func(i int) string {
			var at [6]string
			for k := range at {
				n := thousandths + k%2*off
				if k == i%6 {
					n++
				}
				at[k] = Length(false, n)[:len(Length(false, n))-len(" mm")]
			}
			return fmt.Sprintf("%s %s; %s %s; %s %s mm", at[0], at[1], at[2], at[3], at[4], at[5])
		}
	}
	sized := func(name string, at []string, middle, off int, rest string) {
		line(name, Span(false, middle-20, middle+20), "taper = \"<= 0.015 mm\"\nout_of_round = \"<= 0.020 mm\"\nplanes = [\"front\", \"middle\", \"rear\"]\ndirections = [\"crown\", \"30° from the joint\"]\n"+rest, at, stations(middle, off))
	}
	barrel := func(name string) { sum(name+" barrel", "-0.010..0.010 mm") }

	line("passage", "", "", []string{"main gallery", "drillings"}, constant("clean"))
	line("oil jet opening pressure", "2.5..3.5 bar", "with = \"test gauge\"", rods, constant("2.8..3.0 bar"))
	bearing := func(group, part string, at, journals []string, bore, journal int) {
		sized(part+" bore", at, bore, 0, byGauge+asBored)
		barrel(part + " bore")
		sized(part+" journal", journals, journal, 0, byMicrometer)
		barrel(part + " journal")
		for _, half := range []string{"upper", "lower"} {
			line(part+" "+half+" wall thickness", "1.990..2.010 mm", byMicrometer, at, constant("2.000 mm"))
			line(part+" "+half+" wall joint thickness", "1.985..2.005 mm", byMicrometer, at, constant("1.995 mm"))
			sum(part+" "+half+" wall eccentricity", "0.000..0.015 mm")
			line(part+" "+half+" shell free spread", Span(false, bore+300, bore+1500), "with = \"caliper\"", at, constant(Length(false, bore+840)))
			line(part+" "+half+" shell crush height", "0.02..0.09 mm", byDial+"\nconditions = { load = \"as the maker says\" }", at, constant("0.05 mm"))
		}
		sum(part+" shells crush", "0.01..0.06 mm")
		sized(group+" bore", at, bore-4000, 10, byGauge+inside)
		line(group+" clearance", "0.030..0.090 mm", "with = \"crush strip\"\nconditions = { bolts = \"tightened as for assembly\", crankshaft = \"not turned\", oil = \"wiped off\" }", at, constant("0.060; 0.060..0.080; 0.060 mm"))
		sum(group+" clearance taper", "<= 0.060 mm")
		sum(group+" warm clearance", "0.020..0.160 mm")
	}
	bearing("main bearing", "main", mains, mains, 74060, 70000)
	bearing("rod bearing", "rod", rods, pins, 54060, 50000)
	once("crankshaft thrust width", "30.150..30.250 mm", "gauge", "30.200 mm")
	once("thrust main width", "24.970..25.030 mm", "micrometer", "25.000 mm")
	once("front thrust washer thickness", "2.480..2.520 mm", "micrometer", "2.500 2.501 mm")
	once("rear thrust washer thickness", "2.480..2.520 mm", "micrometer", "2.501 2.500 mm")
	line("crankshaft end play", "0.10..0.30 mm", byDial, []string{"crankshaft"}, constant("0.05 to 0.25 mm"))

	const play = "0.15..0.32 mm"
	line("rod side play", play, byBlades, pins, constant("0.20..0.25 mm"))
	line("crankpin width", "50.180..50.280 mm", byGauge, pins, constant("50.230 mm"))
	line("big end width", "24.950..25.050 mm", byMicrometer, rods, constant("25.000 mm"))
	sized("small end", rods, 22020, 0, byGauge)
	line("rod bore distance", "111.90..112.02 mm", byGauge+done, rods, constant("111.960 mm"))
	line("rod length", "149.90..150.10 mm", byMicrometer+done, rods, constant("150.000 mm"))
	line("rod bend", "<= 0.0004", byBlades+done, rods, constant("<= 0.03 mm over 100 mm"))
	line("rod twist", "<= 0.0008", byBlades+done, rods, constant("<= 0.05 mm over 100 mm"))
	line("rod condition", "", "", rods, constant("sound"))
	for _, ring := range []string{"top ring", "second ring"} {
		line(ring+" end gap", play, byBlades+"\nconditions = { ring = \"square in its own bore\", depth = \"as the manual says\" }", rods, constant("0.25..0.30 mm"))
		line(ring+" groove width", "1.52..1.56 mm", byGauge, rods, constant("1.540 mm"))
		line(ring+" height", "1.48..1.52 mm", byMicrometer, rods, constant("1.500 mm"))
		line(ring+" side clearance", "0.02..0.06 mm", byBlades, rods, constant("0.03..0.05 mm"))
		line(ring+" groove depth", "3.15..3.35 mm", byDepth, rods, constant("3.25 mm"))
		line(ring+" thickness", "2.95..3.05 mm", byMicrometer, rods, constant("3.000 mm"))
		line(ring+" back clearance", "0.1..0.4 mm", byDepth, rods, constant("0.25 mm"))
	}

	line("cylinder", "85.980..86.020 mm", "taper = \"<= 0.015 mm\"\nout_of_round = \"<= 0.015 mm\"\nplanes = [\"top\", \"middle\", \"foot\"]\ndirections = [\"along the crank\", \"across it\"]\nconditions = { \"torque plate\" = \"fitted\" }\n"+byGauge, rods, stations(86000, 0))
	barrel("cylinder")
	line("main register width", "109.98..110.02 mm", byGauge, mains, constant("110.000 mm"))
	line("main cap width", "109.99..110.03 mm", byMicrometer, mains, constant("110.010 mm"))
	sum("main cap register fit", "0.000..0.030 mm")
	line("main bore height", "-0.05..0.05 mm", byDial+done, mains, constant("0.005 mm"))
	sum("main bore alignment", "-0.03..0.03 mm")
	line("deck flatness", "<= 0.10 mm", byBlades, decks, constant("<= 0.05 mm"))
	line("deck height", "224.90..225.10 mm", byDepth, decks, constant("225.00 225.01 225.00 225.00 mm"))
	sum("deck height spread", "<= 0.08 mm")
	line("deck piston height", "-0.20..0.20 mm", byDepth, rods, constant("-0.05 mm"))
	line("piston compression height", "34.90..35.10 mm", byDepth, rods, constant("35.00 mm"))
	line("crankshaft bow", "<= 0.03 mm", byDial+"\nconditions = { supported = \"1 and 7\" }", mains[1:6], constant("0.00 to 0.02 mm"))
	line("crankpin stroke", "79.90..80.10 mm", byDepth, pins, constant("20.00 to 100.00 mm"))
	line("crankpin index", "-0.15..0.15 mm", byDial, pins, constant("0.02 mm"))
	once("crankshaft flange run-out", "<= 0.05 mm", "dial", "0.01 to 0.03 mm")
	line("main journal roughness", "<= 0.0005 mm", "with = \"roughness tester\"", mains, constant("0.0003 mm"))
	line("crankpin roughness", "<= 0.0005 mm", "with = \"roughness tester\"", pins, constant("0.0003 mm"))
	for _, l := range []string{"crankshaft fillets", "crankshaft hardness", "crankshaft cracks", "crankshaft condition", "block condition"} {
		name, _, _ := strings.Cut(l, " ")
		line(l, "", "", []string{name}, constant("sound"))
	}

	const atPoint = byMicrometer + "\nconditions = { \"gauge point\" = \"the maker's\" }"
	line("piston diameter", "85.940..85.980 mm", atPoint, rods, constant("85.960 mm"))
	sum("piston clearance", "0.02..0.08 mm")
	line("piston diameter along the pin", "85.700..85.780 mm", atPoint, rods, constant("85.740 mm"))
	sum("piston ovality", "0.15..0.30 mm")
	line("pin hole diameter", "22.000..22.020 mm", byGauge, rods, constant("22.010 mm"))
	line("piston pin diameter", "21.990..22.010 mm", byMicrometer, rods, constant("22.000 mm"))
	sum("pin in piston fit", "0.000..0.025 mm")
	sum("pin in rod fit", "0.005..0.035 mm")
	line("piston ring positions", "", "", rods, constant("45° 225°"))
	for _, part := range []struct {
		line, limits, mass, spread string
	}{
		{"rod mass", "590..610 g", "600.0 g", "rods mass spread"}, {"rod big end mass", "400..420 g", "410.0 g", "rods big end mass spread"},
		{"rod small end mass", "180..200 g", "190.0 g", "rods small end mass spread"}, {"rod shells mass", "50..60 g", "55.0 g", ""},
		{"piston mass", "380..420 g", "400.0 g", "pistons mass spread"}, {"piston pin mass", "90..110 g", "100.0 g", "piston pins mass spread"},
		{"piston rings mass", "30..40 g", "35.0 g", ""},
	} {
		line(part.line, part.limits, byScale, rods, constant(part.mass))
		if part.spread != "" {
			sum(part.spread, "<= 4 g")
		}
	}
	sum("crankpin bobweight", "1600..1720 g") // 2 (410 + 55 + (190 + 400 + 100 + 35)/2) + 4
	once("relief valve opening pressure", "4.0..5.0 bar", "test gauge", "4.4..4.6 bar")
	once("oil pump body bore", "60.05..60.15 mm", "gauge", "60.100 mm")
	once("oil pump rotor diameter", "59.85..59.95 mm", "micrometer", "59.900 mm")
	once("oil pump body clearance", "0.10..0.30 mm", "blades", "0.15..0.25 mm")
	once("oil pump tip clearance", "0.05..0.25 mm", "blades", "0.10..0.15 mm")
	once("oil pump body depth", "25.00..25.10 mm", "depth gauge", "25.05 mm")
	once("oil pump rotor height", "24.95..25.05 mm", "micrometer", "25.000 mm")
	once("oil pump end clearance", "0.02..0.10 mm", "blades", "0.03..0.07 mm")
	sum("cylinder compression ratio", "9..11")
	lines.add("[[fits]]\nname = \"idler float\"\nformula = \"C = s - w - 2*t\"\nlimits = \"0.05..0.25 mm\"\nterms = { s = { with = \"gauge\", reading = \"18.400 mm\" }, w = { with = \"micrometer\", reading = \"15.250 mm\" }, t = { with = \"micrometer\", reading = \"1.500 mm\" } }")
	lines.add("[ring_positions]\nmark = \"the arrow on the crown\"\nneighbours = \"120°\"\nforbidden = [{ name = \"thrust side\", centre = \"90°\", reach = \"20°\" }]")
	lines.add("[bobweight]\nshare = \"50 %%\"\noil = \"4 ±1 g\"")
	lines.add("[compression]\ngasket_bore = \"87.5 ±0.1 mm\"\ngasket_thickness = \"1.20 ±0.05 mm\"\nchamber = \"42.0 ±0.2 cm³\"\ndish = \"1.5 ±0.1 cm³\"")
	lines.add("[temperatures]\nhot = \"85..95 °C\"\n[materials]\nsteel = \"11..12 ppm\"\nlight = \"21..22 ppm\"\n[warmth]\nblock = { material = \"light\", running = \"hot\" }")
	for _, part := range []string{"rods", "crankshaft", "main shells", "rod shells"} {
		lines.add("%q = { material = \"steel\", running = \"hot\" }", part)
	}

	g.add("title = \"Twelve cylinders\"\nby = \"the builder\"\n[engine]\ncylinders = 12\nmains = 7\nthrust = \"4\"\nrings = [\"top ring\", \"second ring\"]\npassages = [\"main gallery\", \"drillings\"]\njets = 12\ndecks = [%s]", Quoted(decks))
	g.add("pins = [%s]\ninspect = [%s]", strings.Join(shared, ", "), Quoted(optional(inspect)))
	for _, in := range []struct{ name, kind, uncertainty string }{
		{"gauge", "bore gauge", "0.002 mm"}, {"micrometer", "micrometer", "0.002 mm"}, {"dial", "dial", "0.005 mm"}, {"depth gauge", "depth gauge", "0.01 mm"},
		{"caliper", "caliper", "0.02 mm"}, {"roughness tester", "gauge", "0.00005 mm"}, {"test gauge", "pressure gauge", "0.05 bar"}, {"scale", "scale", "0.2 g"},
	} {
		g.add("[instruments.%q]\nkind = %q\nuncertainty = %q", in.name, in.kind, in.uncertainty)
	}
	g.add("[instruments.blades]\nkind = \"feeler blades\"\nblades = [\"0.03 mm\", \"0.05 mm\", \"0.07 mm\", \"0.10 mm\", \"0.15 mm\", \"0.20 mm\", \"0.25 mm\", \"0.30 mm\"]")
	g.add("[instruments.\"crush strip\"]\nkind = \"crush strip\"\nwidths = [\"0.030 mm\", \"0.045 mm\", \"0.060 mm\", \"0.080 mm\", \"0.110 mm\"]")
	g.Lines = append(g.Lines, lines.Lines...)
	for _, shells := range []struct {
		name  string
		codes int
	}{{"main", 7}, {"rod", 12}} {
		codes := strings.TrimSpace(strings.Repeat("A B C ", 4))
		codes = codes[:2*shells.codes-1]
		lower, first := codes, "1"
		if shells.name == "rod" { // a code for each pin
			lower, first = codes[:2*len(pins)-1], pins[0]
		}
		g.add("[shells.%s.codes]\nupper = %q\nupper_row = { begins = \"1\" }\nlower = %q\nlower_row = { begins = %q }", shells.name, codes, lower, first)
		g.add("[shells.%s.grades]\nupper = { A = \"ash\", B = \"beech\", C = \"cedar\" }\nlower = { A = \"ash\", B = \"beech\", C = \"cedar\" }", shells.name)
		for i, grade := range []string{"ash", "beech", "cedar"} {
			g.add("[[shells.%s.packs]]\nname = \"pair, %s\"\nprice = \"1%d.50\"\nholds = [{ half = \"upper\", grade = %q }, { half = \"lower\", grade = %q }]", shells.name, grade, i, grade, grade)
		}
	}
	var rodBolts, capBolts []string
	for _, rod := range rods {
		rodBolts = append(rodBolts, rod+"a", rod+"b")
	}
	for _, m := range mains {
		capBolts = append(capBolts, fmt.Sprintf("[\"M%sA\", \"M%sB\", \"M%sC\", \"M%sD\"]", m, m, m, m))
	}
	g.add("[bolts.\"main cap bolts\"]\nnew = \"all\"\n[bolts.\"rod bolts\"]\nwith = \"micrometer\"\nlongest_length = \"45.100 mm\"\n[bolts.\"rod bolts\".lengths]")
	for _, b := range rodBolts {
		g.add("%q = \"45.000 mm\"", b)
	}
	const check = "check = \"Does the crankshaft turn freely by hand?\""
	g.add("[[tightening]]\ngroup = \"main cap bolts\"\ncaps = [%s]\nsingle_use = true\nstages = [{ torque = \"20 N·m\" }, { torque = \"40 N·m\", %s }, { turn = \"60°\" }, { turn = \"60°\", %s }]", strings.Join(capBolts, ", "), check, check)
	g.add("[[tightening]]\ngroup = \"rod bolts\"\nbolts = [%s]\norder = [%s]\nsingle_use = false\nstages = [{ torque = \"20 N·m\" }, { turn = \"60°\", %s }]", Quoted(rodBolts), Quoted(rodBolts), check)
	g.add("[[trial]]\ngroup = \"main cap bolts\"\ncaps = [%s]\nold_bolts = true\nturn_in_trial = true\nstages = [{ torque = \"20 N·m\" }, { torque = \"40 N·m\" }, { turn = \"60°\" }, { turn = \"60°\" }]", strings.Join(capBolts, ", "))
	g.add("[[trial]]\ngroup = \"rod bolts\"\nbolts = [%s]\norder = [%s]\nsingle_use = false\nstages = [{ torque = \"20 N·m\" }, { turn = \"60°\" }]", Quoted(rodBolts), Quoted(rodBolts))
	return g.String()
}

// optional are the lines that are asked for only where the engine names them.
func optional(lines []string) []string {
	return slices.DeleteFunc(lines, func(l string) bool {
		return slices.Contains([]string{"passage", "main bearing clearance", "rod bearing clearance", "crankshaft end play", "rod side play"}, l) || strings.HasSuffix(l, " end gap") || strings.HasPrefix(l, "oil jet ")
	})
}
