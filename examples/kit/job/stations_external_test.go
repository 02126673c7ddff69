package job_test

import (
	"errors"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/examples/kit/job"
	"example.com/closefit/units/measure"
)

// refusing reads a job that is wrong in one place: the message says so, on the line that
// begins with at.
func refusing(t *testing.T, src, says, at string) {
	t.Helper()
	_, err := job.Read("job.toml", []byte(src))
	var errs tomlfile.Errors
	if !errors.As(err, &errs) {
		t.Errorf("%q was read: %v", at, err)
		return
	}
	for _, e := range errs {
		if lines := strings.Split(src, "\n"); e.Line > 0 && strings.Contains(lines[e.Line-1], at) && strings.Contains(e.Error(), says) {
			return
		}
	}
	t.Errorf("want %q on the line %q:\n%v", says, at, err)
}

// TestBadLines: what is not there, said twice or said wrongly.
func TestBadLines(t *testing.T) {
	journal := func(rest string) string {
		return bench(`"main journal"`) + measuring("main journal", "with = \"fine\"\n"+rest)
	}
	for _, test := range []struct{ name, src, says, at string }{
		{"three planes where two are named", journal("planes = [\"front\", \"rear\"]\nreadings = { 1 = \"55.9; 55.9; 55.9 mm\" }"), "3 planes where 2 are named, front, rear", "readings"},
		{"a direction too few", journal("directions = [\"a\", \"b\", \"c\"]\nreadings = { 1 = \"55.9 55.9 mm\" }"), "2 directions where 3 are named", "readings"},
		{"planes that differ in their directions", journal("readings = { 1 = \"55.9 55.9; 55.9 mm\" }"), "read each plane in the same directions", "readings"},
		{"a plane named twice", journal("planes = [\"front\", \"front\"]\nreadings = { 1 = \"55.9; 55.9 mm\" }"), "given twice", "planes"},
		{"an open station", journal("readings = { 1 = \"55.9 ?; 55.9 55.9 mm\" }"), "a station that was not read", "readings"},
		{"stations without a unit", journal("readings = { 1 = \"55.9 55.9; 55.9 55.9\" }"), "no unit at its end", "readings"},
		{"planes of a gap", bench("") + measuring("rod side play", "planes = [\"front\"]"), "not read by planes and directions", "planes"},
		{"a journal that is not there", journal("readings = { 4 = \"55.9 mm\" }"), "write one of 1, 2, 3", "readings"},
		{"a sum that is read", bench(`"main bore alignment"`) + measuring("main bore alignment", "readings = { 2 = \"0.01 mm\" }"), "is worked out from main bore height", "readings"},
		{"a line without a place", strings.Replace(bench(`"main bore alignment"`), "mains = 3", "mains = 2", 1), "the engine has no place for \"main bore alignment\"", "inspect"},
		{"a bow where the crankshaft lay", bench(`"crankshaft bow"`) + measuring("crankshaft bow", "with = \"dial\"\nconditions = { supported = \"1 and 3\" }\nreadings = { 1 = \"0.01 to 0.07 mm\" }"), `write one of 2`, "readings"},
		{"a support that is not there", bench(`"crankshaft bow"`) + measuring("crankshaft bow", "conditions = { supported = \"1 and 5\" }"), "write one of 1, 2, 3", "conditions"},
		{"one support", bench(`"crankshaft bow"`) + measuring("crankshaft bow", "conditions = { supported = \"1\" }"), `as in "1 and 3"`, "conditions"},
		{"a place of the strip left open", bench("") + measuring("main bearing clearance", "readings = { 1 = \"0.038; ?; 0.051 mm\" }"), "a place that was not read", "readings"},
		{"places without a unit", bench("") + measuring("main bearing clearance", "readings = { 1 = \"0.038; 0.051\" }"), "no unit at its end", "readings"},
		{"a material that is not there", bench("") + "[temperatures]\nroom = \"20 °C\"\n[materials]\nsteel = \"11.5 ppm\"\n[warmth]\nblock = { material = \"steal\", measured = \"room\" }\n", `write "steel"`, "block"},
		{"no temperatures", bench("") + "[materials]\nsteel = \"11.5 ppm\"\n[warmth]\nblock = { material = \"steel\", measured = \"room\" }\n", "add [temperatures] with room", "block"},
		{"the warmth of no part", bench("") + "[temperatures]\nroom = \"20 °C\"\n[materials]\nsteel = \"11.5 ppm\"\n[warmth]\nblok = { material = \"steel\", measured = \"room\" }\n", `write "block"`, "blok"},
		{"a coefficient of no metal", bench("") + "[temperatures]\nroom = \"20 °C\"\n[materials]\nsteel = \"11.5\"\n[warmth]\nblock = { material = \"steel\", measured = \"room\" }\n", "give it per kelvin", "block"},
		{"one washer fitted", bench("") + "[washers]\nfitted = [\"a\"]\non_hand = [{ step = \"a\", thickness = \"2.3 ±0.01 mm\" }]\n", "1 washers fitted", "fitted"},
		{"a fitted washer that is not listed", bench("") + "[washers]\nfitted = [\"a\", \"b\"]\non_hand = [{ step = \"a\", thickness = \"2.3 ±0.01 mm\" }]\n", "write one of a", "fitted"},
	} {
		t.Run(test.name, func(t *testing.T) { refusing(t, test.src, test.says, test.at) })
	}
}

// TestEachLineIsAsked: a line that inspect names is asked for at each of its places, and is
// not measured until it is read and has limits.
func TestEachLineIsAsked(t *testing.T) {
	for _, name := range []string{"cylinder", "cylinder barrel", "main bore barrel", "main bore alignment", "deck height", "deck height spread", "crankshaft bow", "crankpin stroke",
		"crankpin index", "main journal roughness", "crankshaft cracks", "main upper wall joint thickness", "main upper wall eccentricity", "rod lower shell free spread", "rod shells crush",
		"main bearing clearance taper", "main bearing warm clearance", "main bearing bore", "crankshaft thrust width", "front thrust washer thickness"} {
		a := assess(t, bench(`"`+name+`"`))
		without := assess(t, bench(""))
		if len(a.Items) <= len(without.Items) {
			t.Errorf("%s asks for nothing", name)
		}
		for _, i := range a.Items {
			if i.Standing != job.NotMeasured {
				t.Errorf("%s: %s is %s", name, i.Name, i.Standing)
			}
		}
	}
}

// TestStationSlip: a station with its decimal point lost is named, though the whole part
// lies about its limits.
func TestStationSlip(t *testing.T) {
	src := bench(`"main journal"`) + measuring("main journal", "with = \"fine\"\nlimits = \"55.960..55.975 mm\"\nreadings = { 1 = \"55.970 55.968; 5.5966 55.965 mm\" }")
	f := finding(t, assess(t, src), "main journal 1 diameter")
	if f.Verdict != measure.Undecided || !strings.Contains(f.Slip, "station 3") || !strings.Contains(f.Slip, "55.964..55.968 mm") {
		t.Errorf("%s, %q", f.Verdict, f.Slip)
	}
	src = strings.Replace(src, "limits = \"55.960..55.975 mm\"\n", "", 1)
	if f = finding(t, assess(t, src), "main journal 1 diameter"); !strings.Contains(f.Slip, "far from its neighbour") {
		t.Errorf("without limits: %q", f.Slip)
	}
}

// TestAtWorst: a micrometer with 3 µm in common and repeats of 1 µm is off by 4 µm at the worst; of two
// stations the common part counts as much.
func TestAtWorst(t *testing.T) {
	src := "combine = \"at worst\"\n" + bench(`"main journal"`) + "[instruments.M]\nkind = \"micrometer\"\nuncertainty = \"0.00316227766 mm\"\nrepeats = \"0.001 mm\"\n" +
		measuring("main journal", "with = \"M\"\nlimits = \"55.960..55.980 mm\"\nreadings = { 1 = \"55.970 mm\" }")
	judging(t, "at worst", src, judgement{"main journal 1 diameter", "55.966..55.974 mm", measure.Conforming, ""})
	judging(t, "by root-sum-square", strings.Replace(src, "combine", "#", 1), judgement{"main journal 1 diameter", "55.9668..55.9732 mm", measure.Conforming, ""})
}

// TestWorkedCases are A to D of the rules of sums, in millimetres at k = 2, by hand:
//
//	A  √(1² + 1.5² + 1.5² + 1² + 2² + 0.5² + 0.5² + 1²) = √12 µm, the micrometer's 3 µm cancelling
//	B  one micrometer for three sizes, of which nothing else is known: √((3 × 3)² + 4²) = √97 µm
//	C  √(1² + 1.5² + 1.5² + 1² + 1²) = √7.5 µm
//	D  two readings that took over one error of 10 µm: 20 µm, and not √2 × 10
//
// M has a common part of 3 µm and repeats to 1 µm, √10 µm in all; the gauge set in it 1 and
// 1.5, √3.25; the ball micrometer 1 and 0.5, √1.25.
func TestWorkedCases(t *testing.T) {
	const instruments = `
[instruments.M]
kind = "micrometer"
uncertainty = "0.00316227766 mm"
repeats = "0.001 mm"
[instruments.G]
kind = "bore gauge"
uncertainty = "0.0018027756 mm"
repeats = "0.0015 mm"
set_on = "M"
[instruments.B]
kind = "micrometer"
uncertainty = "0.0011180339 mm"
repeats = "0.0005 mm"
[instruments.unsplit]
kind = "micrometer"
uncertainty = "0.003 mm"
[instruments.bore]
kind = "bore gauge"
uncertainty = "0.004 mm"
[instruments.piece]
kind = "setting piece"
uncertainty = "0.010 mm"
[instruments.close]
kind = "micrometer"
limit_of_error = "0.0000001 mm"
set_on = "piece"
`
	sizes := func(bore, wall, journal string) string {
		return bench("") + instruments + measuring("main bearing clearance", "limits = \"0.020..0.060 mm\"") +
			measuring("main bore", bore+proper+"\nreadings = { 1 = \"60.012 mm\" }") + measuring("main upper wall thickness", wall+"readings = { 1 = \"2.001 mm\" }") +
			measuring("main lower wall thickness", wall+"readings = { 1 = \"2.002 mm\" }") + measuring("main journal", journal+"readings = { 1 = \"55.971 mm\" }")
	}
	with := func(name string) string { return "with = \"" + name + "\"\n" }
	given := strings.NewReplacer("60.012 mm", "60.012 ±0.0001 mm", "55.971 mm", "55.971 ±0.0001 mm")
	for _, test := range []struct{ name, src, item, lo, hi string }{
		{"A", sizes(with("G"), with("B"), with("M")), "main bearing 1 clearance", "0.0345358 mm", "0.0414642 mm"},
		{"B", sizes(with("bore"), with("unsplit"), with("unsplit")), "main bearing 1 clearance", "0.0281511 mm", "0.0478489 mm"},
		{"C", bench(`"pin in rod fit"`) + instruments + measuring("small end", with("G")+"readings = { 1 = \"22.010 mm\" }") + measuring("piston pin diameter", with("M")+"readings = { 1 = \"22.000 mm\" }"),
			"pin in rod 1 fit", "0.0072613 mm", "0.0127387 mm"},
		{"D", given.Replace(sizes("", with("close"), "")), "main bearing 1 clearance", "0.0177998 mm", "0.0582002 mm"}, // 0.020, 2 × 0.0001 and 2 × 0.1 nm
	} {
		f := finding(t, assess(t, test.src), test.item)
		if f.Measured.Lo == nil || *f.Measured.Lo != test.lo || *f.Measured.Hi != test.hi {
			t.Errorf("%s: %+v, want %s to %s", test.name, f.Measured, test.lo, test.hi)
		}
	}
}

// TestNothingTakenAway: of a job of which everything is proven, each line of the file that
// states limits, readings or conditions is needed.
func TestNothingTakenAway(t *testing.T) {
	line := func(name string, rest ...string) string { return measuring(name, strings.Join(rest, "\n")) }
	const gauge, micrometer, dial = `with = "sure gauge"`, `with = "sure"`, `with = "dial"`
	three := func(text string) string {
		return `readings = { 1 = "` + text + `", 2 = "` + text + `", 3 = "` + text + `" }`
	}
	two := func(text string) string { return `readings = { 1 = "` + text + `", 2 = "` + text + `" }` }
	const names, bored = "planes = [\"front\", \"middle\", \"rear\"]\ndirections = [\"crown\", \"30° from the joint\"]", proper
	const caps = `conditions = { bolts = "tightened as for assembly" }`
	const strip = `conditions = { bolts = "tightened as for assembly", crankshaft = "not turned", oil = "wiped off" }`
	const load = `conditions = { load = "as the maker says" }`
	src := bench(`"main bore", "main bore barrel", "main journal", "main journal barrel", "main upper wall eccentricity", "main shells crush", "main bearing warm clearance", "rod bearing clearance taper",
  "cylinder", "main cap register fit", "main bore alignment", "deck flatness", "deck height", "deck height spread", "crankshaft bow", "crankpin stroke", "crankpin index",
  "crankshaft flange run-out", "crankshaft fillets", "main journal roughness", "crankshaft cracks"`) +
		"[measure.passage]\nreading = \"clean\"\n" +
		line("main bore", gauge, bored, names, `limits = "60.000..60.025 mm"`, `taper = "<= 0.006 mm"`, `out_of_round = "<= 0.008 mm"`, three("60.012 60.012; 60.010 60.010; 60.011 60.011 mm")) +
		line("main bore barrel", `limits = "-0.010..0.010 mm"`) +
		line("main journal", micrometer, names, `limits = "55.960..55.980 mm"`, `taper = "<= 0.006 mm"`, `out_of_round = "<= 0.006 mm"`, three("55.971 55.970; 55.972 55.971; 55.970 55.970 mm")) +
		line("main journal barrel", `limits = "-0.010..0.010 mm"`) +
		line("main upper wall thickness", micrometer, three("2.001 mm")) + line("main lower wall thickness", micrometer, three("2.001 mm")) +
		line("main upper wall joint thickness", micrometer, three("1.996 mm")) + line("main lower wall joint thickness", micrometer, three("1.996 mm")) +
		line("main upper wall eccentricity", `limits = "0.002..0.010 mm"`) +
		line("main upper shell crush height", gauge, load, three("0.045 mm")) + line("main lower shell crush height", gauge, load, three("0.050 mm")) + line("main shells crush", `limits = "0.020..0.040 mm"`) +
		line("main bearing clearance", `limits = "0.020..0.070 mm"`) + line("main bearing warm clearance", `limits = "0.060..0.120 mm"`) +
		line("rod bearing clearance", `limits = "0.020..0.060 mm"`, strip, two("0.038; 0.038 mm")) + line("rod bearing clearance taper", `limits = "<= 0.020 mm"`) +
		line("cylinder", gauge, `conditions = { "torque plate" = "not fitted" }`, "planes = [\"top\", \"foot\"]", `limits = "82.000..82.030 mm"`, `taper = "<= 0.010 mm"`, `out_of_round = "<= 0.010 mm"`, two("82.012 82.011; 82.010 82.012 mm")) +
		line("main cap width", micrometer, three("120.010 mm")) + line("main register width", gauge, three("120.000 mm")) + line("main cap register fit", `limits = "0.002..0.020 mm"`) +
		line("main bore height", gauge, caps, three("0.004 mm")) + line("main bore alignment", `limits = "-0.010..0.010 mm"`) +
		line("deck flatness", gauge, `limits = "<= 0.05 mm"`, `reading = "0.02 mm"`) + line("deck height", gauge, `limits = "224.990..225.030 mm"`, `reading = "225.012 225.010 225.011 mm"`) + line("deck height spread", `limits = "<= 0.010 mm"`) +
		line("crankshaft bow", gauge, `conditions = { supported = "1 and 3" }`, `limits = "<= 0.030 mm"`, `readings = { 2 = "0.010 to 0.030 mm" }`) +
		line("crankpin stroke", gauge, `limits = "79.950..80.050 mm"`, two("24.000 to 104.000 mm")) + line("crankpin index", gauge, `limits = "-0.050..0.050 mm"`, two("0.010 mm")) +
		line("crankshaft flange run-out", gauge, `limits = "<= 0.030 mm"`, `reading = "0.010 to 0.020 mm"`) + line("crankshaft fillets", `reading = "sound"`) + line("crankshaft cracks", `reading = "sound"`) +
		line("main journal roughness", gauge, `limits = "<= 1.0 um"`, three("0.2 um")) +
		line("crankshaft end play", gauge, `limits = "0.10..0.30 mm"`, `conditions = { crankshaft = "levered to its stops" }`, `reading = "0.20 mm"`) +
		line("rod side play", gauge, `limits = "0.10..0.30 mm"`, two("0.20 mm")) + line("ring end gap", gauge, `limits = "0.20..0.40 mm"`, `conditions = { ring = "square in its own bore", depth = "as the manual says" }`, two("0.30 mm")) +
		"[temperatures]\nhot = \"90 °C\"\n[materials]\nsteel = \"11.5 ppm\"\nlight = \"23 ppm\"\n[warmth]\nblock = { material = \"light\", running = \"hot\" }\ncrankshaft = { material = \"steel\", running = \"hot\" }\n\"main shells\" = { material = \"steel\", running = \"hot\" }\n" +
		"[bolts.caps]\nnew = \"all\"\n[[tightening]]\ngroup = \"caps\"\nbolts = [\"a\", \"b\"]\nsingle_use = false\nstages = [{ torque = \"20 N·m\" }]\n"
	a := assess(t, src)
	for _, i := range a.Items {
		if i.Standing != job.Proven {
			t.Fatalf("%s is %s: %s", i.Name, i.Standing, i.Why)
		}
	}
	lines, gone := strings.Split(src, "\n"), 0
	for i, l := range lines {
		key, _, _ := strings.Cut(l, " ")
		switch key {
		case "limits", "taper", "out_of_round", "conditions", "reading", "readings", "planes", "directions", "new", "block", "crankshaft", `"main`:
		default:
			continue
		}
		if strings.Contains(l, "middle") {
			continue // the planes of bores and journals need no names
		}
		without := strings.Join(append(append([]string{}, lines[:i]...), lines[i+1:]...), "\n")
		j, err := job.Read("job.toml", []byte(without))
		if err != nil {
			continue
		}
		gone++
		if a, err := j.Assess(t.Context()); err == nil && a.Proven() {
			t.Errorf("all is proven without line %d, %s", i+1, l)
		}
	}
	if gone < 70 {
		t.Errorf("only %d lines were taken away", gone)
	}
}

// TestNoFormBelowZero: a taper or an out-of-round is largest less smallest, and no reading
// of one begins below zero, whatever its line asks of how it was read.
func TestNoFormBelowZero(t *testing.T) {
	for _, name := range job.Demonstrations() {
		src, err := job.Demonstration(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range assess(t, string(src)).Verdicts() {
			if (f.Quantity == "taper" || f.Quantity == "out-of-round") && f.Taken && (f.Measured.Lo == nil || strings.HasPrefix(*f.Measured.Lo, "-")) {
				t.Errorf("%s: %s is read as %s", name, f.Name(), f.Measured.Text)
			}
		}
	}
}
