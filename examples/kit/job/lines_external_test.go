package job_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/units/measure"
)

// bench is an engine of two cylinders and three mains, and what it is measured with, each
// instrument with the doubts that the tests below reckon with: "fine" repeats to 0.002 mm
// and has no other doubt, "sure" is never off by more than 0.0005 mm.
func bench(inspect string) string {
	return `
title = "t"
[engine]
cylinders = 2
mains = 3
thrust = "2"
rings = ["ring"]
passages = ["p"]
inspect = [` + inspect + `]
[instruments.strip]
kind = "crush strip"
widths = ["0.025 mm", "0.038 mm", "0.051 mm", "0.076 mm"]
tolerance = "0.002 mm"
[instruments.dial]
kind = "dial"
uncertainty = "0.005 mm"
[instruments.fine]
kind = "micrometer"
uncertainty = "0.002 mm"
repeats = "0.002 mm"
[instruments."fine gauge"]
kind = "gauge"
uncertainty = "0.002 mm"
repeats = "0.002 mm"
[instruments.sure]
kind = "micrometer"
limit_of_error = "0.0005 mm"
[instruments."sure gauge"]
kind = "gauge"
limit_of_error = "0.0005 mm"
`
}

// measuring is a line of a job file with one reading.
func measuring(line, rest string) string { return "[measure.\"" + line + "\"]\n" + rest + "\n" }

// judgement is what a test expects of a finding.
type judgement struct {
	item    string
	text    string // what was measured
	verdict measure.Verdict
	says    string // in its advice, how or working
}

// judging reads a job and holds its findings against what is expected.
func judging(t *testing.T, name, src string, want ...judgement) *job.Assessment {
	t.Helper()
	a := assess(t, src)
	for _, w := range want {
		f := finding(t, a, w.item)
		text := f.Advice + "\n" + f.How + "\n" + f.Slip + "\n" + strings.Join(f.Remedies, "\n")
		if f.Working != nil {
			text += "\n" + f.Working.Text()
		}
		if f.Measured.Text != w.text || f.Verdict != w.verdict || !strings.Contains(text, w.says) {
			t.Errorf("%s: %s is %s, %s, want %s, %s, saying %q:\n%s", name, w.item, f.Measured.Text, f.Verdict, w.text, w.verdict, w.says, text)
		}
	}
	return a
}

const capsDone = "conditions = { bolts = \"tightened as for assembly\" }\n"

// TestSizesByStation: four stations of a repeatability of u = 1 µm. Three kinds of claim
// share the level of k = 2, 0.0455/3 = 0.015167 each: the largest of four magnitudes is then
// within 2.8932 u, the normal quantile of (1 + (1 - 0.015167)^(1/4))/2; a range of two in either
// of two directions within √2·2.6688 u = 3.7742 u, that of 1 - (1 - √(1 - 0.015167))/2. By hand, the
// directions taper by 55.970 - 55.966 = 0.004 and 55.968 - 55.965 = 0.003, the planes are out
// of round by 0.002 and 0.001 mm.
func TestSizesByStation(t *testing.T) {
	const readings = "readings = { 1 = \"55.970 55.968; 55.966 55.965 mm\", 2 = \"55.970 mm\", 3 = \"?\" }\n"
	journal := func(limits, rest string) string {
		return bench(`"main journal"`) + measuring("main journal", "with = \"fine\"\nlimits = \""+limits+"\"\ntaper = \"<= 0.010 mm\"\nout_of_round = \"<= 0.010 mm\"\n"+readings+rest)
	}
	const named = "planes = [\"front\", \"rear\"]\ndirections = [\"with the throw\", \"across\"]"
	judging(t, "inside", journal("55.960..55.975 mm", named),
		judgement{"main journal 1 diameter", "55.9621..55.9729 mm", measure.Conforming, "4 stations, fine"},
		judgement{"main journal 1 taper", "0.0002..0.0078 mm", measure.Conforming, "taper"},
		judgement{"main journal 1 out-of-round", "0.000..0.0058 mm", measure.Conforming, "out-of-round"},
		judgement{"main journal 2 diameter", "55.968..55.972 mm", measure.Conforming, ""},
		judgement{"main journal 2 taper", "not measured", measure.Undecided, ""},
		judgement{"main journal 2 out-of-round", "not measured", measure.Undecided, ""},
		judgement{"main journal 3 diameter", "not measured", measure.Undecided, ""})
	// The smallest, at most 55.9679, is below; the largest is not.
	judging(t, "worn at one station", journal("55.969..55.975 mm", named),
		judgement{"main journal 1 diameter", "55.9621..55.9729 mm", measure.BelowLimit, "where it is smallest"})
	judging(t, "thick at one station", journal("55.950..55.967 mm", named),
		judgement{"main journal 1 diameter", "55.9621..55.9729 mm", measure.AboveLimit, "where it is largest"})
	// Of directions without names it is not known that they go round the journal.
	judging(t, "unnamed", journal("55.960..55.975 mm", ""),
		judgement{"main journal 1 diameter", "55.9621..55.9729 mm", measure.Conforming, ""},
		judgement{"main journal 1 out-of-round", "0.000..0.0058 mm", measure.Undecided, "directions: named is needed, and not stated"},
		judgement{"main journal 1 taper", "0.0002..0.0078 mm", measure.Conforming, ""})
}

// TestBarrel: the middle less the mean of the ends. In one direction, 55.996 - (55.990 +
// 55.992)/2 = 0.005, with √(1 + 1/4 + 1/4)·2 = 2.4494.. µm; in a second one 55.990 - (55.991 +
// 55.993)/2 = -0.002. Of two, the larger magnitude is within 2.2732 standard uncertainties,
// 2.2732·1.22474 = 2.7841 µm.
func TestBarrel(t *testing.T) {
	src := func(reading string) string {
		return bench(`"main journal barrel"`) + measuring("main journal", "with = \"fine\"\nreadings = { 1 = \""+reading+"\" }") +
			measuring("main journal barrel", "limits = \"-0.010..0.010 mm\"")
	}
	judging(t, "one direction", src("55.990; 55.996; 55.992 mm"), judgement{"main journal 1 barrel", "0.0025..0.0075 mm", measure.Conforming, "dm - 1/2·d1 - 1/2·d2"})
	judging(t, "two directions", src("55.990 55.991; 55.996 55.990; 55.992 55.993 mm"), judgement{"main journal 1 barrel", "-0.0048..0.0078 mm", measure.Conforming, "2 directions"})
	judging(t, "two planes", src("55.990; 55.996 mm"), judgement{"main journal 1 barrel", "not measured", measure.Undecided, ""})
	// Four planes: (55.996 + 55.998)/2 - (55.990 + 55.992)/2 = 0.006, with √(4/4)·2 µm.
	judging(t, "four planes", src("55.990; 55.996; 55.998; 55.992 mm"), judgement{"main journal 1 barrel", "0.004..0.008 mm", measure.Conforming, ""})
}

// TestBarrelOfABore: a housing bore that was not read with its bolts tightened and its shells out proves nothing
// about its barrel either, in one direction or in several.
func TestBarrelOfABore(t *testing.T) {
	src := func(conditions, reading string) string {
		return bench(`"main bore barrel"`) + measuring("main bore", "with = \"fine\"\n"+conditions+"\nreadings = { 1 = \""+reading+"\" }") +
			measuring("main bore barrel", "limits = \"-0.010..0.010 mm\"")
	}
	const tight, loose = `conditions = { bolts = "tightened as for assembly", shells = "out" }`, `conditions = { bolts = "loose", shells = "out" }`
	for _, reading := range []string{"59.990; 59.996; 59.992 mm", "59.990 59.991; 59.996 59.990; 59.992 59.993 mm"} {
		for conditions, want := range map[string]measure.Verdict{tight: measure.Conforming, loose: measure.Undecided, "": measure.Undecided} {
			a := assess(t, src(conditions, reading))
			f := finding(t, a, "main bore 1 barrel")
			if f.Verdict != want || want == measure.Undecided && !strings.Contains(f.Advice+f.How, "bolts: tightened as for assembly is needed") {
				t.Errorf("%s, %s: %s; %s; %s", reading, conditions, f.Verdict, f.Advice, f.How)
			}
		}
	}
}

// TestBlock: by hand beside each.
func TestBlock(t *testing.T) {
	heights := func(with, conditions string) string {
		return bench(`"main bore alignment"`) + measuring("main bore height", "with = \""+with+"\"\n"+conditions+"readings = { 1 = \"0.012 mm\", 2 = \"0.020 mm\", 3 = \"-0.008 mm\" }") +
			measuring("main bore alignment", "limits = \"-0.030..0.030 mm\"")
	}
	// 0.020 - (0.012 - 0.008)/2 = 0.018; repeats √(1 + 1/4 + 1/4)·2 = 2.4494.. µm; one doubt of
	// which nothing is known, (1 + 1/2 + 1/2)·5 = 10 µm.
	judging(t, "line of the bores", heights("fine gauge", capsDone), judgement{"main bore 2 alignment", "0.0155..0.0205 mm", measure.Conforming, ""})
	judging(t, "by a dial of which little is known", heights("dial", capsDone), judgement{"main bore 2 alignment", "0.008..0.028 mm", measure.Conforming, ""})
	judging(t, "caps not torqued", heights("fine gauge", ""), judgement{"main bore 2 alignment", "0.0155..0.0205 mm", measure.Undecided, "bolts: tightened as for assembly is needed"})

	// Cap less block: 120.010 - 119.995 = 0.015, a press; 2 × 0.0005 of the instruments.
	judging(t, "cap register", bench(`"main cap register fit"`)+measuring("main cap width", "with = \"sure\"\nreadings = { 1 = \"120.010 mm\" }")+
		measuring("main register width", "with = \"sure gauge\"\nreadings = { 1 = \"119.995 mm\" }")+measuring("main cap register fit", "limits = \"0.005..0.030 mm\""),
		judgement{"main cap 1 register fit", "0.014..0.016 mm", measure.Conforming, "D - d"}, judgement{"main cap 2 register fit", "not measured", measure.Undecided, ""})

	// Heights 225.010 to 225.018: within 2.5249·1 µm at four stations; their spread 0.008 within
	// 3.6830 µm, the studentized range. The crown: 80.000/2 + 140.000 + 34.990 - 225.0 as they come.
	deck := bench(`"deck height", "deck height spread", "deck piston height"`) +
		measuring("deck height", "with = \"fine gauge\"\nlimits = \"225.000..225.030 mm\"\nreading = \"225.012 225.018 225.010 225.015 mm\"") +
		measuring("deck height spread", "limits = \"<= 0.015 mm\"") +
		measuring("crankpin stroke", "with = \"sure gauge\"\nreadings = { 1 = \"24.031 to 104.031 mm\", 2 = \"?\" }") +
		measuring("rod length", "with = \"sure\"\n"+capsDone+"\nreadings = { 1 = \"150.000 mm\" }") +
		measuring("piston compression height", "with = \"sure gauge\"\nreadings = { 1 = \"34.990 mm\" }") +
		measuring("deck piston height", "limits = \"-0.10..0.10 mm\"")
	judging(t, "deck", deck,
		judgement{"deck height", "225.0074..225.0206 mm", measure.Conforming, ""},
		judgement{"deck height spread", "0.0043..0.0117 mm", measure.Conforming, "largest less smallest"},
		// 40 + 150 + 34.990 - (225.0074751..225.0205249), and 0.00025 + 2 × 0.0005 to either side.
		judgement{"deck 1 piston height", "-0.0318..-0.0162 mm", measure.Conforming, "1/2·s"},
		judgement{"deck 2 piston height", "not measured", measure.Undecided, ""})
	judging(t, "one height", strings.Replace(deck, "225.012 225.018 225.010 225.015 mm", "225.012 mm", 1), judgement{"deck height spread", "not measured", measure.Undecided, ""})
}

// TestBow: a swing of 0.06 ±0.005 mm is a bow of 0.030 ±0.0025 mm where the journal is round. One
// whose diameters differ by 0.008 mm and √(2² + 2²) = 2.8285 µm of doubt may add 10.8285/4 =
// 2.707125 µm.
func TestBow(t *testing.T) {
	src := func(conditions, readings, journal string) string {
		return bench(`"crankshaft bow"`) + measuring("crankshaft bow", "with = \"dial\"\nlimits = \"<= 0.040 mm\"\n"+conditions+"readings = { "+readings+" }") + journal
	}
	const ends = "conditions = { supported = \"1 and 3\" }\n"
	oval := measuring("main journal", "with = \"fine\"\nreadings = { 2 = \"55.990 55.998 mm\" }")
	a := judging(t, "oval", src(ends, `2 = "0.01 to 0.07 mm"`, oval), judgement{"crankshaft 2 bow", "0.0247..0.0325 mm", measure.Conforming, "odd number"})
	if f := finding(t, a, "crankshaft 2 bow"); *f.Measured.Lo != "0.024792875 mm" {
		t.Errorf("from %s", *f.Measured.Lo)
	}
	for _, i := range a.Items {
		if i.Name == "crankshaft 1 bow" || i.Name == "crankshaft 3 bow" {
			t.Errorf("%s is asked for where the crankshaft lay", i.Name)
		}
	}
	judging(t, "not measured for roundness", src(ends, `2 = "0.01 to 0.07 mm"`, ""), judgement{"crankshaft 2 bow", "0.000..0.0325 mm", measure.Conforming, "was not measured for its roundness"})
	judging(t, "no supports said", src("", `2 = "0.01 to 0.07 mm"`, oval), judgement{"crankshaft 2 bow", "0.0247..0.0325 mm", measure.Undecided, "supported: the two main journals that carry it, as in 1 and 3 is needed"},
		judgement{"crankshaft 1 bow", "not measured", measure.Undecided, ""})
	judging(t, "bent", src(ends, `2 = "0.01 to 0.12 mm"`, oval), judgement{"crankshaft 2 bow", "0.0497..0.0575 mm", measure.AboveLimit, ""})
}

// TestBowOfAnOval turns an oval journal on a bowed axis, and reads the swing: the bow lies
// in the bracket, however the oval stands to it.
func TestBowOfAnOval(t *testing.T) {
	for _, phase := range []float64{0, 0.4, math.Pi / 2, 2.2} {
		for _, bow := range []float64{0.002, 0.011, 0.030} {
			const delta = 0.020 // of diameters
			lo, hi := math.Inf(1), math.Inf(-1)
			for i := range 3600 {
				angle := float64(i) * math.Pi / 1800
				r := bow*math.Cos(angle) + delta/4*math.Cos(2*angle+phase)
				lo, hi = math.Min(lo, r), math.Max(hi, r)
			}
			src := bench(`"crankshaft bow"`) + measuring("crankshaft bow", fmt.Sprintf("with = \"sure gauge\"\nlimits = \"<= 0.1 mm\"\nconditions = { supported = \"1 and 3\" }\nreadings = { 2 = \"%.6f to %.6f mm\" }", 0.5+lo, 0.5+hi)) +
				measuring("main journal", "with = \"sure\"\nreadings = { 2 = \"55.980 56.000 mm\" }")
			f := finding(t, assess(t, src), "crankshaft 2 bow")
			var from, to float64
			fmt.Sscanf(*f.Measured.Lo, "%f", &from)
			fmt.Sscanf(*f.Measured.Hi, "%f", &to)
			// The bracket is the oval's 0.005 mm wide, with 0.0005 of the gauge and 0.001/4 of the journal.
			if bow < from || bow > to || to-from > 0.00576 {
				t.Errorf("bow %.3f, oval at %.1f: %s", bow, phase, f.Measured.Text)
			}
		}
	}
}

// TestCrankshaft: what is read where it is.
func TestCrankshaft(t *testing.T) {
	src := bench(`"crankpin stroke", "crankpin index", "main journal roughness", "crankshaft fillets", "crankshaft cracks", "crankshaft hardness"`) +
		measuring("crankpin stroke", "with = \"dial\"\nlimits = \"79.95..80.05 mm\"\nreadings = { 1 = \"24.031 to 104.055 mm\", 2 = \"24.0 to 104.2 mm\" }") +
		measuring("crankpin index", "with = \"dial\"\nlimits = \"-0.10..0.10 mm\"\nreadings = { 1 = \"0 mm\", 2 = \"-0.14 mm\" }") +
		measuring("main journal roughness", "with = \"fine gauge\"\nlimits = \"<= 0.25 um\"\nreadings = { 1 = \"0.18 um\" }") +
		measuring("crankshaft fillets", "reading = \"sound\"") + measuring("crankshaft cracks", "reading = \"not sound\"")
	src = strings.Replace(src, "uncertainty = \"0.002 mm\"\nrepeats = \"0.002 mm\"\n[instruments.sure]", "uncertainty = \"0.02 um\"\n[instruments.sure]", 1)
	a := judging(t, "crankshaft", src,
		judgement{"crankpin 1 stroke", "80.019..80.029 mm", measure.Conforming, ""}, judgement{"crankpin 2 stroke", "80.195..80.205 mm", measure.AboveLimit, ""},
		judgement{"crankpin 1 index", "-0.005..0.005 mm", measure.Conforming, ""}, judgement{"crankpin 2 index", "-0.145..-0.135 mm", measure.BelowLimit, ""},
		judgement{"main journal 1 roughness", "0.16..0.20 µm", measure.Conforming, ""})
	for name, want := range map[string]job.Standing{"crankshaft fillets": job.Proven, "crankshaft cracks": job.Wrong, "crankshaft hardness": job.NotMeasured} {
		if i := item(t, a, name); i.Standing != want {
			t.Errorf("%s: %s", name, i.Standing)
		}
	}
}

// TestShells: 2.005 - 1.993 = 0.012 with 2 × 0.0005; crush heights of 0.040..0.050 and
// 0.050..0.060 are (0.090..0.110)/π = 0.028648..0.035014 mm on the diameter.
func TestShells(t *testing.T) {
	const load = "conditions = { load = \"as the maker says\" }\n"
	src := func(load string) string {
		return bench(`"main upper wall joint thickness", "main upper wall eccentricity", "main upper shell free spread", "main shells crush"`) +
			measuring("main upper wall thickness", "with = \"sure\"\nreadings = { 1 = \"2.005 mm\" }") +
			measuring("main upper wall joint thickness", "with = \"sure\"\nlimits = \"1.985..1.998 mm\"\nreadings = { 1 = \"1.993 mm\" }") +
			measuring("main upper wall eccentricity", "limits = \"0.005..0.020 mm\"") +
			measuring("main upper shell free spread", "with = \"sure\"\nlimits = \"60.2..61.5 mm\"\nreadings = { 1 = \"60.80 mm\", 2 = \"60.1 mm\" }") +
			measuring("main upper shell crush height", load+"readings = { 1 = \"0.045 ±0.005 mm\" }") + measuring("main lower shell crush height", load+"readings = { 1 = \"0.055 ±0.005 mm\" }") +
			measuring("main shells crush", "limits = \"0.020..0.040 mm\"")
	}
	judging(t, "shells", src(load),
		judgement{"main upper wall 1 joint thickness", "1.9925..1.9935 mm", measure.Conforming, ""}, judgement{"main upper wall 1 eccentricity", "0.011..0.013 mm", measure.Conforming, ""},
		judgement{"main upper shell 1 free spread", "60.7995..60.8005 mm", measure.Conforming, ""}, judgement{"main upper shell 2 free spread", "60.0995..60.1005 mm", measure.BelowLimit, ""},
		judgement{"main shells 1 crush", "0.0286..0.0351 mm", measure.Conforming, "(h1 + h2)/π"}, judgement{"main shells 2 crush", "not measured", measure.Undecided, ""})
	judging(t, "loaded in no known way", src(""), judgement{"main shells 1 crush", "0.0286..0.0351 mm", measure.Undecided, "load: as the maker says is needed, and not stated"})
}

// TestSlipAsksOnce: a probable slip asks once to read again, and says what to write if it stands.
func TestSlipAsksOnce(t *testing.T) {
	a := assess(t, bench("")+measuring("crankshaft end play", "with = \"dial\"\nlimits = \"0.05..0.30 mm\"\nconditions = { crankshaft = \"levered to its stops\" }\nreading = \"1.4 mm\""))
	f := finding(t, a, "crankshaft end play")
	if strings.Count(f.Slip, "read it again") != 1 || !strings.HasSuffix(f.Slip, `read it again, and if it stands write sure = ["crankshaft"]`) {
		t.Error(f.Slip)
	}
}
