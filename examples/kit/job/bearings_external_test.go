package job_test

import (
	"strings"
	"testing"

	"example.com/closefit/units/measure"
)

// byStation is a first main of which bore and journal were read in two planes and two
// directions. By hand, bore less both walls less journal:
//
//	         at the crown                            30° from the joint
//	front    60.012 - 2.001 - 2.002 - 55.971 = 0.038   60.016 - 1.996 - 1.995 - 55.970 = 0.055
//	rear     60.010 - 2.001 - 2.002 - 55.969 = 0.038   60.014 - 1.996 - 1.995 - 55.972 = 0.051
//
// each ±4 × 0.0005 mm by the instruments' limits of error.
func byStation(limits, boreNames, journalNames, joint string) string {
	return bench(`"main bearing clearance taper"`) +
		strings.Replace(measuring("main bearing clearance", "limits = \""+limits+"\""), "\n\n", "\n", 1) +
		measuring("main bore", "with = \"sure gauge\"\n"+proper+"\n"+boreNames+"\nreadings = { 1 = \"60.012 60.016; 60.010 60.014 mm\" }") +
		measuring("main journal", "with = \"sure\"\n"+journalNames+"\nreadings = { 1 = \"55.971 55.970; 55.969 55.972 mm\" }") +
		measuring("main upper wall thickness", "with = \"sure\"\nreadings = { 1 = \"2.001 mm\" }") + measuring("main lower wall thickness", "with = \"sure\"\nreadings = { 1 = \"2.002 mm\" }") +
		joint
}

const (
	stationNames = "planes = [\"front\", \"rear\"]\ndirections = [\"crown\", \"30° from the joint\"]"
	jointWalls   = "[measure.\"main upper wall joint thickness\"]\nwith = \"sure\"\nreadings = { 1 = \"1.996 mm\" }\n[measure.\"main lower wall joint thickness\"]\nwith = \"sure\"\nreadings = { 1 = \"1.995 mm\" }\n"
)

func TestBearingByStation(t *testing.T) {
	judging(t, "all stations", byStation("0.030..0.060 mm", stationNames, stationNames, jointWalls),
		judgement{"main bearing 1 clearance", "0.036..0.057 mm", measure.Conforming, "4 stations"})
	judging(t, "tight at the crown", byStation("0.041..0.060 mm", stationNames, stationNames, jointWalls),
		judgement{"main bearing 1 clearance", "0.036..0.057 mm", measure.BelowLimit, "where it is smallest"})
	judging(t, "wide at the joint", byStation("0.030..0.052 mm", stationNames, stationNames, jointWalls),
		judgement{"main bearing 1 clearance", "0.036..0.057 mm", measure.AboveLimit, "where it is largest"})
	judging(t, "no walls near the joint", byStation("0.030..0.060 mm", stationNames, stationNames, ""),
		judgement{"main bearing 1 clearance", "not measured", measure.Undecided, "still to read: main upper wall joint thickness, main lower wall joint thickness"})
	// A direction that is neither has no walls: the crown alone is judged.
	across := strings.Replace(stationNames, "30° from the joint", "across", 1)
	judging(t, "crown and across", byStation("0.030..0.060 mm", across, across, ""), judgement{"main bearing 1 clearance", "0.036..0.040 mm", measure.Conforming, "2 stations"})
	// Read at other stations, or at none with a name, every bore goes with every journal:
	// 60.0095 - 2.0015 - 2.0025 - 55.9725 = 0.033, 60.0165 - 2.0005 - 2.0015 - 55.9685 = 0.046.
	for name, names := range map[string]string{"other names": "planes = [\"front\", \"rear\"]\ndirections = [\"with the throw\", \"across\"]", "no names": ""} {
		judging(t, name, byStation("0.030..0.060 mm", stationNames, names, jointWalls), judgement{"main bearing 1 clearance", "0.033..0.046 mm", measure.Conforming, "from its sizes"})
	}
	// Without the conditions of the bore nothing is proven by any station.
	src := strings.Replace(byStation("0.030..0.060 mm", stationNames, stationNames, jointWalls), proper, "", 1)
	judging(t, "caps not said", src, judgement{"main bearing 1 clearance", "0.033..0.046 mm", measure.Undecided, "bolts: tightened as for assembly is needed"})
}

// TestInsideTheShells: 56.010 - 55.970 = 0.040, with 2 × 0.0005.
func TestInsideTheShells(t *testing.T) {
	const in = "conditions = { bolts = \"tightened as for assembly\", shells = \"in\" }\n"
	src := func(conditions, clearance string) string {
		return bench("") + measuring("main bearing clearance", "limits = \"0.030..0.060 mm\"\n"+clearance) +
			measuring("main bearing bore", "with = \"sure gauge\"\n"+conditions+"readings = { 1 = \"56.010 mm\" }") +
			measuring("main journal", "with = \"sure\"\nreadings = { 1 = \"55.970 mm\" }")
	}
	judging(t, "inside", src(in, ""), judgement{"main bearing 1 clearance", "0.039..0.041 mm", measure.Conforming, "bore inside its shells less journal"})
	judging(t, "shells not said to be in", src(capsDone, ""), judgement{"main bearing 1 clearance", "0.039..0.041 mm", measure.Undecided, "shells: in is needed"})
	judging(t, "beside a strip that agrees", src(in, asRead+"readings = { 1 = \"0.038..0.051 mm\" }"), judgement{"main bearing 1 clearance", "0.039..0.041 mm", measure.Conforming, ""})
	walls := measuring("main bore", "with = \"sure gauge\"\n"+proper+"\nreadings = { 1 = \"60.013 mm\" }") +
		measuring("main upper wall thickness", "with = \"sure\"\nreadings = { 1 = \"2.001 mm\" }") + measuring("main lower wall thickness", "with = \"sure\"\nreadings = { 1 = \"2.002 mm\" }")
	judging(t, "beside walls that agree", src(in, "")+walls, judgement{"main bearing 1 clearance", "0.039..0.041 mm", measure.Conforming, "which agree"}) // by walls 0.038..0.042
	judging(t, "beside walls that do not", src(in, "")+strings.Replace(walls, "60.013", "60.030", 1), judgement{"main bearing 1 clearance", "not known", measure.Undecided, "the bore inside the shells and the sizes do not agree"})
	judging(t, "beside a strip that does not", src(in, asRead+"readings = { 1 = \"0.051..0.076 mm\" }"), judgement{"main bearing 1 clearance", "not known", measure.Undecided, "do not agree: they differ by"})
}

// TestAlongTheStrip: the least lies between the first pair of prints and the greatest
// between the second, each off by the strip's 0.002 mm; along one strip that is one error,
// and the taper is 0.051 - 0.038 to 0.076 - 0.025.
func TestAlongTheStrip(t *testing.T) {
	src := func(limits, reading, conditions string) string {
		return bench(`"main bearing clearance taper"`) + measuring("main bearing clearance", "limits = \""+limits+"\"\n"+conditions+"readings = { 1 = \""+reading+"\" }") +
			measuring("main bearing clearance taper", "limits = \"<= 0.060 mm\"")
	}
	const places = "0.025..0.038; 0.051..0.076 mm"
	judging(t, "inside", src("0.020..0.080 mm", places, asRead),
		judgement{"main bearing 1 clearance", "0.023..0.078 mm", measure.Conforming, "2 stations"}, judgement{"main bearing 1 clearance taper", "0.013..0.051 mm", measure.Conforming, ""})
	judging(t, "tight at one end", src("0.045..0.080 mm", places, asRead), judgement{"main bearing 1 clearance", "0.023..0.078 mm", measure.BelowLimit, "where it is smallest"})
	judging(t, "wide at one end", src("0.020..0.045 mm", places, asRead), judgement{"main bearing 1 clearance", "0.023..0.078 mm", measure.AboveLimit, "where it is largest"})
	judging(t, "looser than the last print", src("0.020..0.045 mm", "0.025..0.038; >= 0.076 mm", asRead), judgement{"main bearing 1 clearance", "at least 0.023 mm", measure.AboveLimit, "where it is largest"})
	judging(t, "one place", src("0.020..0.080 mm", "0.025..0.038 mm", asRead), judgement{"main bearing 1 clearance taper", "not measured", measure.Undecided, ""})
	judging(t, "turned", src("0.045..0.080 mm", places, strings.Replace(asRead, "not turned", "turned", 1)),
		judgement{"main bearing 1 clearance", "0.023..0.078 mm", measure.Undecided, "crankshaft: turned"}, judgement{"main bearing 1 clearance taper", "0.013..0.051 mm", measure.Undecided, ""})
}

// TestCapsTorque: a torque counts as assembly's where every group of the plan that is called
// after the bearing ends with it.
func TestCapsTorque(t *testing.T) {
	for _, test := range []struct {
		name, said, plan string
		want             measure.Verdict
	}{
		{"the plan's", "60 N·m", `group = "main cap bolts"|stages = [{ torque = "20 N·m" }, { torque = "60 N·m" }]`, measure.Conforming},
		{"another unit", "60 Nm", `group = "main cap bolts"|stages = [{ torque = "60 N·m" }]`, measure.Conforming},
		{"another torque", "55 N·m", `group = "main cap bolts"|stages = [{ torque = "60 N·m" }]`, measure.Undecided},
		{"not the last", "20 N·m", `group = "main cap bolts"|stages = [{ torque = "20 N·m" }, { torque = "60 N·m" }]`, measure.Undecided},
		{"then a turn", "20 N·m", `group = "main cap bolts"|stages = [{ torque = "20 N·m" }, { turn = "60°" }]`, measure.Undecided},
		{"of other bolts", "60 N·m", `group = "rod bolts"|stages = [{ torque = "60 N·m" }]`, measure.Undecided},
		{"no plan", "60 N·m", "", measure.Undecided},
	} {
		said := strings.Replace(asRead, "tightened as for assembly", "tightened to "+test.said, 1)
		src := bench("") + measuring("main bearing clearance", "limits = \"0.020..0.080 mm\"\n"+said+"readings = { 1 = \"0.038..0.051 mm\" }")
		if test.plan != "" {
			src += "[[tightening]]\n" + strings.ReplaceAll(test.plan, "|", "\nbolts = [\"a\", \"b\"]\nsingle_use = false\n") + "\n"
		}
		judging(t, test.name, src, judgement{"main bearing 1 clearance", "0.036..0.053 mm", test.want, ""})
	}
}

// warmed is a first main by sizes, or by a strip too, in an engine of light metal.
func warmed(limits, strip, warmth string) string {
	return bench(`"main bearing warm clearance"`) + measuring("main bearing clearance", "limits = \"0.020..0.060 mm\"\n"+strip) +
		measuring("main bearing warm clearance", "limits = \""+limits+"\"") +
		measuring("main bore", proper+"\nreadings = { 1 = \"60.012 ±0.0005 mm\" }") + measuring("main journal", "readings = { 1 = \"55.971 ±0.0005 mm\" }") +
		measuring("main upper wall thickness", "readings = { 1 = \"2.001 ±0.0005 mm\" }") + measuring("main lower wall thickness", "readings = { 1 = \"2.002 ±0.0005 mm\" }") +
		"[temperatures]\nhot = \"90 °C\"\nroom = \"30 °C\"\nengine = \"80..100 °C\"\n[materials]\nsteel = \"11.5 ppm\"\nlight = \"23 ppm\"\niron = \"10..12 ppm\"\n[warmth]\n" + warmth
}

// TestWarmClearance: at 90 °C a bore of light metal is larger by 60.012·23e-6·70 = 0.0966193, the
// walls thicker by 4.003·11.5e-6·70 = 0.0032224, the journal by 55.971·11.5e-6·70 = 0.0450567: the
// clearance of 0.038 is 0.0863403, ±0.0005·(1.00161 + 3·1.000805) = 0.0020020 mm. A strip of
// 0.038..0.051 with 0.002 opens by 0.0483403 with what 4 × 0.0005 mm makes of that, 36 nm at most.
func TestWarmClearance(t *testing.T) {
	const all = "block = { material = \"light\", running = \"hot\" }\ncrankshaft = { material = \"steel\", running = \"hot\" }\n\"main shells\" = { material = \"steel\", running = \"hot\" }\n"
	a := judging(t, "hot", warmed("0.070..0.100 mm", "", all), judgement{"main bearing 1 warm clearance", "0.0843..0.0884 mm", measure.Conforming, "warm"},
		judgement{"main bearing 1 clearance", "0.036..0.040 mm", measure.Conforming, ""}, judgement{"main bearing 2 warm clearance", "not measured", measure.Undecided, ""})
	if f := finding(t, a, "main bearing 1 warm clearance"); f.Working == nil {
		t.Error("no working")
	}
	judging(t, "too wide when hot", warmed("0.040..0.080 mm", "", all), judgement{"main bearing 1 warm clearance", "0.0843..0.0884 mm", measure.AboveLimit, "by "})
	// The strip alone, its own sum being wider: 0.036 + 0.0483403 to 0.053 + 0.0483403.
	strip := strings.ReplaceAll(warmed("0.070..0.110 mm", asRead+"readings = { 1 = \"0.038..0.051 mm\" }", all), "±0.0005", "±0.02")
	judging(t, "by strip", strip, judgement{"main bearing 1 warm clearance", "0.0842..0.1015 mm", measure.Conforming, ""})
	for _, part := range []string{"block", "crankshaft", "\"main shells\""} {
		var some []string
		for _, l := range strings.Split(all, "\n") {
			if !strings.HasPrefix(l, part) {
				some = append(some, l)
			}
		}
		judging(t, "without "+part, warmed("0.070..0.100 mm", "", strings.Join(some, "\n")), judgement{"main bearing 1 warm clearance", "not measured", measure.Undecided, ""})
	}
	// All of one iron, equally warm: what is not known of either cancels, 0.038·11e-6·70 = 0.00003.
	iron := strings.NewReplacer("light", "iron", "steel", "iron", "hot", "engine").Replace(all)
	judging(t, "all of one iron", warmed("0.030..0.050 mm", "", iron), judgement{"main bearing 1 warm clearance", "0.0360..0.0401 mm", measure.Conforming, ""})
}

// TestWarmthInInches: what is said of a size that was corrected, or that is warm, has its figures
// in the job's unit: 2.5003 in × 25.4 mm/in is 63.50762 mm. Corrected as in TestCorrectedSizes the
// bore is 2.5003·1.000115/1.00023 = 2.5000125 in, ±0.0005 and 0.0001 mm, 0.0000236 in.
func TestWarmthInInches(t *testing.T) {
	const show = "[show]\nlength = \"in\"\nlength_places = 4\n"
	warmth := "[temperatures]\nroom = \"30 °C\"\n[materials]\nsteel = \"11.5 ppm\"\nlight = \"23 ppm\"\n[warmth]\nblock = { material = \"light\", measured = \"room\" }\n" +
		"\"sure gauge\" = { material = \"steel\", measured = \"room\" }\npiece = { material = \"steel\", measured = \"room\" }\n"
	bore := func(readings string) string {
		set := strings.ReplaceAll(bench(`"main bore"`), "limit_of_error = \"0.0005 mm\"\n", "limit_of_error = \"0.0005 mm\"\nset_on = \"piece\"\n")
		return set + show + "[instruments.piece]\nkind = \"setting piece\"\nlimit_of_error = \"0.0001 mm\"\n" +
			measuring("main bore", "with = \"sure gauge\"\nlimits = \"2.4998..2.5002 in\"\n"+proper+"\nreadings = { 1 = \""+readings+"\" }") + warmth
	}
	told := func(src, item string) string {
		f := finding(t, assess(t, src), item)
		text := f.How + "\n" + f.Advice
		if f.Working != nil {
			text += "\n" + f.Working.Text()
		}
		return text
	}
	for _, readings := range []string{"2.5003 in", "63.50762 mm"} {
		const says = "corrected to 20 °C from 30 °C: sure gauge, 2.5003 in"
		if text := told(bore(readings), "main bore 1 diameter"); !strings.Contains(text, says) || strings.Contains(text, " mm") {
			t.Errorf("%s: want %q and no millimetres:\n%s", readings, says, text)
		}
	}
	judging(t, "in inches", bore("2.5003 in"), judgement{"main bore 1 diameter", "2.49998..2.50004 in", measure.Conforming, ""})
	const running = "block = { material = \"light\", running = \"hot\" }\ncrankshaft = { material = \"steel\", running = \"hot\" }\n\"main shells\" = { material = \"steel\", running = \"hot\" }\n"
	sizes := strings.Replace(warmed("0.070..0.100 mm", "", running), "readings = { 1 = \"55.971 ±0.0005 mm\" }", "with = \"sure\"\nreadings = { 1 = \"2.2036 in\" }", 1)
	if text := told(sizes+show, "main bearing 1 warm clearance"); !strings.Contains(text, "at 90 °C: sure, 2.2036 in") {
		t.Errorf("warm, by its sizes:\n%s", text)
	}
	// A strip opens by the 0.0483403 mm of TestWarmClearance, 0.0019032 in.
	strip := warmed("0.070..0.110 mm", asRead+"readings = { 1 = \"0.038..0.051 mm\" }", running)
	if text := told(strip+show, "main bearing 1 warm clearance"); !strings.Contains(text, "; warm, by ") || !strings.Contains(text, "0.001903") || strings.Contains(text, "0.0483") {
		t.Errorf("warm, by strip:\n%s", text)
	}
}

// TestCorrectedSizes: a bore of light metal read as 60.012 in a room of 30 °C by a steel gauge that
// was set on a steel piece there is 60.012·(1 + 11.5e-6·10)/(1 + 23e-6·10) = 60.0051002 mm at 20 °C.
// Steel read by steel needs no correction.
func TestCorrectedSizes(t *testing.T) {
	const warmth = "[temperatures]\nroom = \"30 °C\"\n[materials]\nsteel = \"11.5 ppm\"\nlight = \"23 ppm\"\n[warmth]\nblock = { material = \"light\", measured = \"room\" }\n" +
		"crankshaft = { material = \"steel\", measured = \"room\" }\nsure = { material = \"steel\", measured = \"room\" }\n\"sure gauge\" = { material = \"steel\", measured = \"room\" }\npiece = { material = \"steel\", measured = \"room\" }\n"
	src := func(warmth string) string {
		set := strings.ReplaceAll(bench(`"main bore", "main journal"`), "limit_of_error = \"0.0005 mm\"\n", "limit_of_error = \"0.0005 mm\"\nset_on = \"piece\"\n")
		return set + "[instruments.piece]\nkind = \"setting piece\"\nlimit_of_error = \"0.0001 mm\"\n" +
			measuring("main bore", "with = \"sure gauge\"\nlimits = \"59.990..60.010 mm\"\n"+proper+"\nreadings = { 1 = \"60.012 mm\" }") +
			measuring("main journal", "with = \"sure\"\nlimits = \"55.960..55.980 mm\"\nreadings = { 1 = \"55.970 mm\" }") + warmth
	}
	judging(t, "warm", src(warmth), judgement{"main bore 1 diameter", "60.0045..60.0058 mm", measure.Conforming, "corrected to 20 °C"}, judgement{"main journal 1 diameter", "55.9694..55.9706 mm", measure.Conforming, ""})
	// Read at two stations it enters its clearance corrected too: 60.0051002 - 2 × 2.000 - 55.970 is
	// 0.0351002, ± 0.0006 of each gauge with its piece and 0.0001 of each wall.
	two := strings.Replace(src(warmth), "60.012 mm", "60.012 60.012 mm", 1) + measuring("main bearing clearance", "limits = \"0.020..0.040 mm\"") +
		measuring("main upper wall thickness", "readings = { 1 = \"2.000 ±0.0001 mm\" }") + measuring("main lower wall thickness", "readings = { 1 = \"2.000 ±0.0001 mm\" }")
	judging(t, "warm at two stations", two, judgement{"main bearing 1 clearance", "0.0337..0.0366 mm", measure.Conforming, "sizes"})
	judging(t, "not said", src(""), judgement{"main bore 1 diameter", "60.0114..60.0126 mm", measure.AboveLimit, ""})
	refusing(t, strings.Replace(src(warmth), "piece = { material = \"steel\", measured = \"room\" }\n", "", 1), `that of "piece" is not said`, "readings = { 1 = \"60.012 mm\"")
	refusing(t, strings.Replace(src(warmth), "\"sure gauge\" = { material = \"steel\", measured = \"room\" }\n", "", 1), `that of "sure gauge" is not said`, "readings = { 1 = \"60.012 mm\"")
}

// TestThrustWashers: an end play of 0.33 ±0.005 with two washers of 2.310 ±0.005. Two of 2.360 make
// it 0.23, ±(0.005 + 4 × 0.005); one of them 0.28 ±(0.005 + 2 × 0.005) mm.
func TestThrustWashers(t *testing.T) {
	src := func(limits, count, mix string) string {
		return bench("") + measuring("crankshaft end play", "with = \"dial\"\nlimits = \""+limits+"\"\nreading = \"0.02 to 0.35 mm\"") +
			"[washers]\nfitted = [\"standard\", \"standard\"]\n" + mix + "on_hand = [{ step = \"standard\", thickness = \"2.310 ±0.005 mm\", count = 0 }, { step = \"+0.05\", thickness = \"2.360 ±0.005 mm\", count = " + count + " }]\n"
	}
	judging(t, "two on hand", src("0.15..0.31 mm", "2", ""), judgement{"crankshaft end play", "0.325..0.335 mm", measure.AboveLimit, "+0.05 in front and +0.05 behind: then 0.205..0.255 mm"})
	judging(t, "one on hand", src("0.15..0.31 mm", "1", ""), judgement{"crankshaft end play", "0.325..0.335 mm", measure.AboveLimit, "none brings it inside"})
	judging(t, "one of each", src("0.15..0.31 mm", "1", "mix = 1\n"), judgement{"crankshaft end play", "0.325..0.335 mm", measure.AboveLimit, "behind: then 0.265..0.295 mm"})
	judging(t, "not enough", src("0.10..0.20 mm", "2", ""), judgement{"crankshaft end play", "0.325..0.335 mm", measure.AboveLimit, "no listed part fits"})
	if f := finding(t, assess(t, src("0.15..0.36 mm", "2", "")), "crankshaft end play"); f.Verdict != measure.Conforming || len(f.Remedies) > 0 {
		t.Errorf("inside: %s, %q", f.Verdict, f.Remedies)
	}
}

// TestEndPlayBySizes: 30.000 - 25.180 - 2.310 - 2.312 = 0.198 with 4 × 0.0005; halves of 2.310 and
// 2.314 leave it between 0.196 and 0.200. Of a flanged bearing, 30.000 - 29.800.
func TestEndPlayBySizes(t *testing.T) {
	size := func(line, with, reading string) string {
		return measuring(line, "with = \""+with+"\"\nreading = \""+reading+"\"")
	}
	src := func(width, washers string) string {
		return bench("") + measuring("crankshaft end play", "limits = \"0.15..0.32 mm\"") + size("crankshaft thrust width", "sure gauge", "30.000 mm") + size("thrust main width", "sure", width) + washers
	}
	front := size("front thrust washer thickness", "sure", "2.310 mm")
	judging(t, "washers", src("25.180 mm", front+size("rear thrust washer thickness", "sure", "2.312 mm")), judgement{"crankshaft end play", "0.196..0.200 mm", measure.Conforming, "front thrust washer thickness"})
	judging(t, "halves", src("25.180 mm", front+size("rear thrust washer thickness", "sure", "2.310 2.314 mm")), judgement{"crankshaft end play", "0.194..0.202 mm", measure.Conforming, ""})
	judging(t, "one washer not read", src("25.180 mm", front), judgement{"crankshaft end play", "not measured", measure.Undecided, ""})
	judging(t, "flanged", src("29.800 mm", ""), judgement{"crankshaft end play", "0.199..0.201 mm", measure.Conforming, ""})
	// Which way it was pushed is said by a travel, not by a figure.
	for reading, want := range map[string]measure.Verdict{"0.02 to 0.22 mm": measure.Conforming, "0.20 mm": measure.Undecided} {
		judging(t, reading, bench("")+measuring("crankshaft end play", "with = \"dial\"\nlimits = \"0.15..0.32 mm\"\nreading = \""+reading+"\""), judgement{"crankshaft end play", "0.195..0.205 mm", want, ""})
	}
}
