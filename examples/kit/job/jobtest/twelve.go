package jobtest

import (
	"fmt"
	"strconv"
	"strings"
)

// Twelve returns the job of an invented engine of twelve cylinders whose rods share six pins,
// with what is always asked for and the lines of its bearings, cylinders, pistons, pins, rods,
// rings and decks read, sizes at four stations, shells by their codes and used bolts by their
// lengths. Everything in it is proven but its shells, which are
// still to be bought.
func Twelve() string {
	var g Job
	names := func(n int) (list []string) {
		for i := range n {
			list = append(list, strconv.Itoa(i+1))
		}
		return list
	}
	rods, mains := names(12), names(7)
	var pins, shared []string
	for i := 1; i <= 6; i++ {
		pins = append(pins, fmt.Sprintf("%d-%d", i, i+6))
		shared = append(shared, fmt.Sprintf(`["%d", "%d"]`, i, i+6))
	}
	inspect := []string{"main bore", "main journal", "main upper wall thickness", "main lower wall thickness",
		"rod bore", "rod journal", "rod upper wall thickness", "rod lower wall thickness",
		"cylinder", "main cap register fit", "deck flatness", "deck piston height", "crankshaft flange run-out", "crankshaft condition", "block condition",
		"piston clearance", "pin in piston fit", "pin in rod fit", "rod length", "rod condition",
		"top ring side clearance", "top ring back clearance", "second ring side clearance", "second ring back clearance"}
	g.add("title = \"Twelve cylinders\"\nby = \"the builder\"\n[engine]\ncylinders = 12\nmains = 7\nthrust = \"4\"\nrings = [\"top ring\", \"second ring\"]\npassages = [\"main gallery\", \"drillings\"]\njets = 12\ndecks = [\"left deck\", \"right deck\"]")
	g.add("pins = [%s]\ninspect = [%s]", strings.Join(shared, ", "), Quoted(inspect))
	g.add("[instruments]\ngauge = { kind = \"bore gauge\", uncertainty = \"0.002 mm\" }\nmicrometer = { kind = \"micrometer\", uncertainty = \"0.002 mm\" }\ndial = { kind = \"dial\", uncertainty = \"0.005 mm\" }\n\"depth gauge\" = { kind = \"depth gauge\", uncertainty = \"0.01 mm\" }")
	g.add("blades = { kind = \"feeler blades\", blades = [\"0.03 mm\", \"0.05 mm\", \"0.10 mm\", \"0.20 mm\", \"0.25 mm\", \"0.30 mm\"] }\n\"test gauge\" = { kind = \"pressure gauge\", uncertainty = \"0.05 bar\" }")
	line := func(name, head string, at []string, text func(i int) string) {
		g.add("[measure.%q]\n%s\n[measure.%q.readings]", name, head, name)
		for i, l := range at {
			g.add("%q = %q", l, text(i))
		}
	}
	constant := func(text string) func(int) string { return func(int) string { return text } }
	stations := func(thousandths int) func(int) string { // one of the four is a micrometre larger
		return func(i int) string {
			var at [4]string
			for k := range at {
				n := thousandths
				if k == i%4 {
					n++
				}
				at[k] = fmt.Sprintf("%d.%03d", n/1000, n%1000)
			}
			return fmt.Sprintf("%s %s; %s %s mm", at[0], at[1], at[2], at[3])
		}
	}
	sized := func(middle int) string {
		return fmt.Sprintf("limits = \"%d.%03d..%d.%03d mm\"\ntaper = \"<= 0.015 mm\"\nout_of_round = \"<= 0.015 mm\"\nplanes = [\"front\", \"rear\"]\ndirections = [\"across\", \"upright\"]\n", (middle-20)/1000, (middle-20)%1000, (middle+20)/1000, (middle+20)%1000)
	}
	const bored = "with = \"gauge\"\nconditions = { bolts = \"tightened as for assembly\", shells = \"out\" }"
	line("passage", "", []string{"main gallery", "drillings"}, constant("clean"))
	line("oil jet opening pressure", "limits = \"2.5..3.5 bar\"\nwith = \"test gauge\"", rods, constant("2.8..3.0 bar"))
	bearing := func(group, part string, at, journals []string, bore, journal int) {
		g.add("[measure.\"%s clearance\"]\nlimits = \"0.030..0.090 mm\"", group)
		line(part+" bore", sized(bore)+bored, at, stations(bore))
		line(part+" journal", sized(journal)+"with = \"micrometer\"", journals, stations(journal))
		for _, half := range []string{"upper", "lower"} {
			line(part+" "+half+" wall thickness", "limits = \"1.990..2.010 mm\"\nwith = \"micrometer\"", at, constant("2.000 mm"))
		}
	}
	bearing("main bearing", "main", mains, mains, 74060, 70000)
	bearing("rod bearing", "rod", rods, pins, 54060, 50000)
	line("crankshaft end play", "limits = \"0.10..0.30 mm\"\nwith = \"dial\"", []string{"crankshaft"}, constant("0.05 to 0.25 mm"))
	const play = "limits = \"0.15..0.32 mm\"\nwith = \"blades\""
	line("rod side play", play, pins, constant("0.20..0.25 mm"))
	for _, ring := range []string{"top ring", "second ring"} {
		line(ring+" end gap", play+"\nconditions = { ring = \"square in its own bore\", depth = \"as the manual says\" }", rods, constant("0.25..0.30 mm"))
		line(ring+" side clearance", "limits = \"0.02..0.06 mm\"\nwith = \"blades\"", rods, constant("0.03..0.05 mm"))
		line(ring+" back clearance", "limits = \"0.1..0.4 mm\"\nwith = \"depth gauge\"", rods, constant("0.25 mm"))
	}
	line("cylinder", sized(86000)+"with = \"gauge\"\nconditions = { \"torque plate\" = \"fitted\" }", rods, stations(86000))
	line("piston diameter", "with = \"micrometer\"\nconditions = { \"gauge point\" = \"the maker's\" }", rods, constant("85.960 mm"))
	line("piston clearance", "limits = \"0.02..0.08 mm\"", nil, nil)
	line("main register width", "with = \"gauge\"", mains, constant("110.000 mm"))
	line("main cap width", "with = \"micrometer\"", mains, constant("110.010 mm"))
	line("main cap register fit", "limits = \"0.000..0.030 mm\"", nil, nil)
	line("deck flatness", "limits = \"<= 0.10 mm\"\nwith = \"blades\"", []string{"left deck", "right deck"}, constant("<= 0.05 mm"))
	line("deck piston height", "limits = \"-0.20..0.20 mm\"\nwith = \"depth gauge\"", rods, constant("-0.05 mm"))
	line("crankshaft flange run-out", "limits = \"<= 0.05 mm\"\nwith = \"dial\"", []string{"crankshaft"}, constant("0.01 to 0.03 mm"))
	for _, l := range []string{"crankshaft condition", "block condition"} {
		name, _, _ := strings.Cut(l, " ")
		line(l, "", []string{name}, constant("sound"))
	}
	line("rod condition", "", rods, constant("sound"))
	line("pin hole diameter", "with = \"gauge\"", rods, constant("22.010 mm"))
	line("piston pin diameter", "with = \"micrometer\"", rods, constant("22.000 mm"))
	line("small end", "with = \"gauge\"", rods, stations(22020))
	line("pin in piston fit", "limits = \"0.000..0.025 mm\"", nil, nil)
	line("pin in rod fit", "limits = \"0.005..0.035 mm\"", nil, nil)
	line("rod length", "limits = \"149.95..150.05 mm\"\nwith = \"micrometer\"\nconditions = { bolts = \"tightened as for assembly\" }", rods, constant("150.000 mm"))
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
	return g.String()
}
