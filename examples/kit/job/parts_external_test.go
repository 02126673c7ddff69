package job_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/job/jobtest"
	"example.com/closefit/units/measure"
)

// twin is an engine of two rods on one pin, and what it is measured with: each instrument
// is good to the same in every reading, and nothing more is known of it, so what is read
// with one twice is added at its worst.
func twin(inspect ...string) string {
	return `
title = "t"
[engine]
cylinders = 2
mains = 3
pins = [["1", "2"]]
thrust = "1"
rings = ["top ring"]
passages = ["p"]
bore = "80 mm"
inspect = [` + jobtest.Quoted(inspect) + `]
[instruments]
micrometer = { kind = "micrometer", uncertainty = "0.002 mm" }
"bore gauge" = { kind = "bore gauge", uncertainty = "0.003 mm" }
dial = { kind = "dial", uncertainty = "0.004 mm" }
depth = { kind = "depth gauge", uncertainty = "0.02 mm" }
blades = { kind = "feeler blades", blades = ["0.05 mm", "0.10 mm", "0.15 mm", "0.20 mm", "0.25 mm", "0.30 mm", "0.35 mm", "0.40 mm"] }
scale = { kind = "scale", uncertainty = "0.2 g" }
"test gauge" = { kind = "pressure gauge", uncertainty = "0.1 bar" }
`
}

// read is a line of a job file.
func line(name string, lines ...string) string {
	return "[measure.\"" + name + "\"]\n" + strings.Join(lines, "\n") + "\n"
}

// TestPartsJudged: every line of rods, pistons, rings, masses, oil and compression, with
// what its readings come to by hand. An instrument's uncertainty is U(k = 2).
func TestPartsJudged(t *testing.T) {
	const bolted = `conditions = { bolts = "tightened as for assembly" }`
	const bored = `conditions = { bolts = "tightened as for assembly", shells = "out" }`
	const atPoint = `conditions = { "gauge point" = "the maker's" }`
	const plate = `conditions = { "torque plate" = "fitted" }`
	const square = `conditions = { ring = "square in its own bore", depth = "as the manual says" }`
	for _, test := range []struct {
		name    string
		inspect []string
		src     string
		item    string
		lo, hi  string
		verdict measure.Verdict
	}{
		{"side play where it is", nil, line("rod side play", `limits = "0.20..0.40 mm"`, `with = "blades"`, `reading = "0.25..0.30 mm"`),
			"rod 1-2 side play", "0.25 mm", "0.3 mm", measure.Conforming},
		// 50.30 - 25.02 - 25.01 = 0.27; the pin is good to 0.003, the two big ends share what
		// one micrometer errs by, 2 × 0.002, and √(0.003² + 0.004²) = 0.005.
		{"side play of two rods by width", nil, line("rod side play", `limits = "0.20..0.40 mm"`) + line("crankpin width", `with = "bore gauge"`, `reading = "50.30 mm"`) +
			line("big end width", `with = "micrometer"`, `readings = { 1 = "25.02 mm", 2 = "25.01 mm" }`),
			"rod 1-2 side play", "0.265 mm", "0.275 mm", measure.Conforming},
		// The blades bear the sizes out, which are the closer of the two.
		{"side play by both, which agree", nil, line("rod side play", `limits = "0.20..0.40 mm"`, `with = "blades"`, `reading = "0.25..0.30 mm"`) + line("crankpin width", `with = "bore gauge"`, `reading = "50.30 mm"`) +
			line("big end width", `with = "micrometer"`, `readings = { 1 = "25.02 mm", 2 = "25.01 mm" }`),
			"rod 1-2 side play", "0.265 mm", "0.275 mm", measure.Conforming},
		// 0.35..0.40 is not 0.27: one of them is wrong, and neither proves anything.
		{"side play by both, which do not agree", nil, line("rod side play", `limits = "0.20..0.40 mm"`, `with = "blades"`, `reading = "0.35..0.40 mm"`) + line("crankpin width", `with = "bore gauge"`, `reading = "50.30 mm"`) +
			line("big end width", `with = "micrometer"`, `readings = { 1 = "25.02 mm", 2 = "25.01 mm" }`),
			"rod 1-2 side play", "", "", measure.Undecided},
		{"small end", []string{"small end"}, line("small end", `limits = "20.00..20.02 mm"`, `with = "bore gauge"`, `readings = { 1 = "20.010 mm" }`),
			"small end 1 diameter", "20.007 mm", "20.013 mm", measure.Conforming},
		// 110.020 + 46.010/2 + 20.010/2 = 143.030. All by one bore gauge: 0.003·(1 + ½ + ½) = 0.006.
		{"centre distance", []string{"rod length"}, line("rod length", `limits = "143.00..143.05 mm"`) + line("rod bore distance", `with = "bore gauge"`, bolted, `readings = { 2 = "110.020 mm" }`) +
			line("rod bore", `with = "bore gauge"`, bored, `readings = { 2 = "46.010 mm" }`) + line("small end", `with = "bore gauge"`, `readings = { 2 = "20.010 mm" }`),
			"rod 2 length", "143.024 mm", "143.036 mm", measure.Conforming},
		{"centre distance, bolts not told", []string{"rod length"}, line("rod length", `limits = "143.00..143.05 mm"`) + line("rod bore distance", `with = "bore gauge"`, `readings = { 2 = "110.020 mm" }`) +
			line("rod bore", `with = "bore gauge"`, bored, `readings = { 2 = "46.010 mm" }`) + line("small end", `with = "bore gauge"`, `readings = { 2 = "20.010 mm" }`),
			"rod 2 length", "143.024 mm", "143.036 mm", measure.Undecided},
		// (0.030 ± 0.004)/100 = 0.00026..0.00034.
		{"bend", []string{"rod bend"}, line("rod bend", `limits = "<= 0.0005"`, `with = "dial"`, bolted, `readings = { 1 = "0.03 mm over 100 mm" }`),
			"rod 1 bend", "0.00026", "0.00034", measure.Conforming},
		// The travel is 0.06: 0.056/200 and 0.064/200.
		{"twist, from one indication to another", []string{"rod twist"}, line("rod twist", `limits = "<= 0.00025"`, `with = "dial"`, bolted, `readings = { 1 = "0.10 to 0.04 mm over 200 mm" }`),
			"rod 1 twist", "0.00028", "0.00032", measure.AboveLimit},
		{"bend, bolts not told", []string{"rod bend"}, line("rod bend", `limits = "<= 0.0005"`, `with = "dial"`, `readings = { 1 = "0.03 mm over 100 mm" }`),
			"rod 1 bend", "0.00026", "0.00034", measure.Undecided},
		// A blade between 0.05 and 0.10 under an arbor, over 199..201 mm: 0.05/201 = 0.000248756…
		{"bend by a blade", []string{"rod bend"}, line("rod bend", `limits = "<= 0.0004"`, `with = "blades"`, bolted, `readings = { 1 = "0.05..0.10 mm over 200 ±1 mm" }`),
			"rod 1 bend", "0.000248756", "0.000502513", measure.Undecided},
		// 80.045 - 79.990 = 0.055, √(0.003² + 0.002²) = 0.003606 rounded up to 0.0036056.
		{"piston in its bore", []string{"piston clearance"}, line("piston clearance", `limits = "0.04..0.07 mm"`) + line("cylinder", `with = "bore gauge"`, plate, `readings = { 1 = "80.045 mm" }`) +
			line("piston diameter", `with = "micrometer"`, atPoint, `readings = { 1 = "79.990 mm" }`),
			"piston 1 clearance", "0.0513944 mm", "0.0586056 mm", measure.Conforming},
		{"piston measured nobody knows where", []string{"piston clearance"}, line("piston clearance", `limits = "0.04..0.07 mm"`) + line("cylinder", `with = "bore gauge"`, plate, `readings = { 1 = "80.045 mm" }`) +
			line("piston diameter", `with = "micrometer"`, `readings = { 1 = "79.990 mm" }`),
			"piston 1 clearance", "0.0513944 mm", "0.0586056 mm", measure.Undecided},
		// 0.0005·80 = 0.04 and 0.0008·80 = 0.064.
		{"piston by a rule of the bore", []string{"piston clearance"}, line("piston clearance", `limits = "0.0005..0.0008 of the bore"`, `with = "blades"`, `readings = { 1 = "0.05..0.10 mm" }`),
			"piston 1 clearance", "0.05 mm", "0.1 mm", measure.Undecided},
		// 79.990 - 79.640 = 0.350, one micrometer at its worst: 2·0.002.
		{"ovality", []string{"piston ovality"}, line("piston ovality", `limits = "0.30..0.40 mm"`) + line("piston diameter", `with = "micrometer"`, atPoint, `readings = { 1 = "79.990 mm" }`) +
			line("piston diameter along the pin", `with = "micrometer"`, atPoint, `readings = { 1 = "79.640 mm" }`),
			"piston 1 ovality", "0.346 mm", "0.354 mm", measure.Conforming},
		// 20.006 - 20.001 = 0.005 ± √(0.003² + 0.002²).
		{"pin in its piston", []string{"pin in piston fit"}, line("pin in piston fit", `limits = "0.000..0.010 mm"`) + line("pin hole diameter", `with = "bore gauge"`, `readings = { 2 = "20.006 mm" }`) +
			line("piston pin diameter", `with = "micrometer"`, `readings = { 2 = "20.001 mm" }`),
			"pin in piston 2 fit", "0.0013944 mm", "0.0086056 mm", measure.Conforming},
		// 19.970 - 20.001 = -0.031: pressed in.
		{"pin pressed into its rod", []string{"pin in rod fit"}, line("pin in rod fit", `limits = "-0.040..-0.020 mm"`) + line("small end", `with = "bore gauge"`, `readings = { 2 = "19.970 mm" }`) +
			line("piston pin diameter", `with = "micrometer"`, `readings = { 2 = "20.001 mm" }`),
			"pin in rod 2 fit", "-0.0346056 mm", "-0.0273944 mm", measure.Conforming},
		{"ring side clearance by a blade", []string{"top ring side clearance"}, line("top ring side clearance", `limits = "0.03..0.12 mm"`, `with = "blades"`, `readings = { 1 = "0.05..0.10 mm" }`),
			"top ring 1 side clearance", "0.05 mm", "0.1 mm", measure.Conforming},
		// 1.530 - 1.475 = 0.055.
		{"ring side clearance, groove less ring", []string{"top ring side clearance"}, line("top ring side clearance", `limits = "0.03..0.08 mm"`) + line("top ring groove width", `with = "bore gauge"`, `readings = { 1 = "1.530 mm" }`) +
			line("top ring height", `with = "micrometer"`, `readings = { 1 = "1.475 mm" }`),
			"top ring 1 side clearance", "0.0513944 mm", "0.0586056 mm", measure.Conforming},
		// 3.60 - 3.20 = 0.40 ± √(0.02² + 0.002²) = 0.0200998 rounded up.
		{"ring back clearance", []string{"top ring back clearance"}, line("top ring back clearance", `limits = ">= 0.30 mm"`) + line("top ring groove depth", `with = "depth"`, `readings = { 1 = "3.60 mm" }`) +
			line("top ring thickness", `with = "micrometer"`, `readings = { 1 = "3.20 mm" }`),
			"top ring 1 back clearance", "0.3799002 mm", "0.4200998 mm", measure.Conforming},
		// 0.0040·80 = 0.32 and 0.0045·80 = 0.36: a gap between the blades 0.30 and 0.35 may be below.
		{"end gap by a rule of the bore", nil, line("top ring end gap", `limits = "0.0040..0.0045 of the bore"`, `with = "blades"`, square, `readings = { 1 = "0.30..0.35 mm" }`),
			"top ring 1 end gap", "0.3 mm", "0.35 mm", measure.Undecided},
		{"end gap at no depth", nil, line("top ring end gap", `limits = "0.20..0.45 mm"`, `with = "blades"`, `conditions = { ring = "square in its own bore" }`, `readings = { 1 = "0.30..0.35 mm" }`),
			"top ring 1 end gap", "0.3 mm", "0.35 mm", measure.Undecided},
		{"end gap", nil, line("top ring end gap", `limits = "0.20..0.45 mm"`, `with = "blades"`, square, `readings = { 1 = "0.30..0.35 mm" }`),
			"top ring 1 end gap", "0.3 mm", "0.35 mm", measure.Conforming},
		{"a piston's mass", []string{"piston mass"}, line("piston mass", `limits = "300..310 g"`, `readings = { 1 = "304.5 g" }`), "piston 1 mass", "304.3 g", "304.7 g", measure.Conforming},
		{"relief valve", []string{"relief valve opening pressure"}, line("relief valve opening pressure", `limits = "4.5..5.5 bar"`, `reading = "4.8..5.2 bar"`),
			"relief valve opening pressure", "4.7 bar", "5.3 bar", measure.Conforming},
		{"pump tips", []string{"oil pump tip clearance"}, line("oil pump tip clearance", `limits = "<= 0.15 mm"`, `with = "blades"`, `reading = "0.05..0.10 mm"`),
			"oil pump tip clearance", "0.05 mm", "0.1 mm", measure.Conforming},
		// 60.120 - 60.000 = 0.120.
		{"pump rotor to body", []string{"oil pump body clearance"}, line("oil pump body clearance", `limits = "0.10..0.18 mm"`) + line("oil pump body bore", `with = "bore gauge"`, `reading = "60.120 mm"`) +
			line("oil pump rotor diameter", `with = "micrometer"`, `reading = "60.000 mm"`),
			"oil pump body clearance", "0.1163944 mm", "0.1236056 mm", measure.Conforming},
		// 15.06 - 15.00 = 0.06 ± 0.0200998.
		{"pump end", []string{"oil pump end clearance"}, line("oil pump end clearance", `limits = "0.03..0.09 mm"`) + line("oil pump body depth", `with = "depth"`, `reading = "15.06 mm"`) +
			line("oil pump rotor height", `with = "micrometer"`, `reading = "15.00 mm"`),
			"oil pump end clearance", "0.0399002 mm", "0.0800998 mm", measure.Conforming},
	} {
		t.Run(test.name, func(t *testing.T) {
			f := finding(t, assess(t, twin(test.inspect...)+test.src), test.item)
			if f.Verdict != test.verdict {
				t.Errorf("%s, want %s: %s", f.Verdict, test.verdict, f.Advice)
			}
			if test.lo == "" {
				return
			}
			if f.Measured.Lo == nil || f.Measured.Hi == nil || *f.Measured.Lo != test.lo || *f.Measured.Hi != test.hi {
				t.Errorf("%s (%v %v), want %s to %s", f.Measured.Text, deref(f.Measured.Lo), deref(f.Measured.Hi), test.lo, test.hi)
			}
		})
	}
}

func deref(s *string) string {
	if s == nil {
		return "none"
	}
	return *s
}

// TestSlopeSlip: 0.3 mm over 100 mm against 0.0005 is six times the limit; with the decimal
// point one place to the left it would be inside.
func TestSlopeSlip(t *testing.T) {
	bend := func(sure string) job.Finding {
		return finding(t, assess(t, twin("rod bend")+line("rod bend", `limits = "<= 0.0005"`, `with = "dial"`, `conditions = { bolts = "tightened as for assembly" }`, sure,
			`readings = { 1 = "0.3 mm over 100 mm" }`)), "rod 1 bend")
	}
	if f := bend(""); f.Verdict != measure.Undecided || !strings.Contains(f.Slip, "decimal point") {
		t.Errorf("%s: %s", f.Verdict, f.Slip)
	}
	if f := bend(`sure = ["1"]`); f.Verdict != measure.AboveLimit || f.Slip != "" {
		t.Errorf("read again: %s: %s", f.Verdict, f.Slip)
	}
}

// TestPartsSilence: a line that is asked for is an item wherever it has a place, and is not
// measured without a reading or without limits; one that nothing asks for is an error.
func TestPartsSilence(t *testing.T) {
	inspect := []string{"small end", "rod length", "rod bend", "rod twist", "piston clearance", "piston ovality", "pin in piston fit", "pin in rod fit",
		"top ring side clearance", "top ring back clearance", "piston ring positions", "rods mass spread", "rods big end mass spread", "rods small end mass spread",
		"pistons mass spread", "piston pins mass spread", "crankpin bobweight", "relief valve opening pressure", "oil pump body clearance", "oil pump tip clearance",
		"oil pump end clearance", "cylinder compression ratio"}
	a := assess(t, twin(inspect...))
	for _, name := range []string{"small end 1 diameter", "small end 2 taper", "small end 2 out-of-round", "rod 1 length", "rod 2 bend", "rod 1 twist", "piston 2 clearance", "piston 1 ovality",
		"pin in piston 1 fit", "pin in rod 2 fit", "top ring 1 side clearance", "top ring 2 back clearance", "piston 1 ring positions", "rods mass spread",
		"rods big end mass spread", "rods small end mass spread", "pistons mass spread", "piston pins mass spread", "crankpin 1-2 bobweight",
		"relief valve opening pressure", "oil pump body clearance", "oil pump tip clearance", "oil pump end clearance", "cylinder 2 compression ratio"} {
		if i := item(t, a, name); i.Standing != job.NotMeasured {
			t.Errorf("%s: %s", name, i.Standing)
		}
	}
	a = assess(t, twin("relief valve opening pressure", "piston mass")+line("relief valve opening pressure", `reading = "4.8..5.2 bar"`)+line("piston mass", `readings = { 1 = "304 g" }`))
	for _, name := range []string{"relief valve opening pressure", "piston 1 mass"} {
		if i := item(t, a, name); i.Standing != job.NotMeasured || !strings.Contains(i.Why, "no limits are stated") {
			t.Errorf("%s without limits: %s, %s", name, i.Standing, i.Why)
		}
	}
}

// TestFiling: the gap 0.25..0.30 is to come between 0.32 and 0.36. What must be filed off is
// 0.32 - 0.25 = 0.07 at least, so that the narrowest is wide enough, and 0.36 - 0.30 = 0.06
// at most, so that the widest is not too wide: blades 0.05 apart cannot promise it. To
// 0.32..0.44 it is 0.07..0.14.
func TestFiling(t *testing.T) {
	gap := func(limits, reading string) string {
		return said(assess(t, twin()+line("top ring end gap", `limits = "`+limits+`"`, `with = "blades"`, `conditions = { ring = "square in its own bore", depth = "as the manual says" }`,
			`readings = { 1 = "`+reading+`" }`)))
	}
	if text := gap("0.0040..0.0045 of the bore", "0.25..0.30 mm"); strings.Contains(text, "off the ends") || !strings.Contains(text, "limits 0.320..0.360 mm: below limit") {
		t.Errorf("more filing than can be promised:\n%s", text)
	}
	if text := gap("0.0040..0.0055 of the bore", "0.25..0.30 mm"); !strings.Contains(text, "file 0.070..0.140 mm off the ends in all") {
		t.Errorf("no filing:\n%s", text)
	}
	// It may be inside: then only what brings the narrowest inside is to be filed, 0.32 - 0.30.
	if text := gap("0.0040..0.0055 of the bore", "0.30..0.35 mm"); !strings.Contains(text, "file 0.020..0.090 mm off the ends in all") {
		t.Errorf("no filing of an undecided gap:\n%s", text)
	}
	if text := gap("0.20..0.40 mm", "0.30..0.35 mm"); strings.Contains(text, "off the ends") {
		t.Errorf("filing of a good gap:\n%s", text)
	}
}

// TestGapGrowth: a bore of 80.100 ± 0.003 is 0.097..0.103 larger than nominal, and opens the
// gap by π times that, 0.3047..0.3236.
func TestGapGrowth(t *testing.T) {
	text := said(assess(t, twin("cylinder")+line("cylinder", `with = "bore gauge"`, `conditions = { "torque plate" = "fitted" }`, `readings = { 1 = "80.100 mm" }`)+
		line("top ring end gap", `limits = "0.10..0.25 mm"`, `with = "blades"`, `conditions = { ring = "square in its own bore", depth = "as the manual says" }`,
			`readings = { 1 = "0.30..0.35 mm", 2 = "0.30..0.35 mm" }`)))
	const want = "its cylinder is larger than nominal by 0.097..0.103 mm, which alone opens the gap by 0.3047..0.3236 mm"
	if strings.Count(text, want) != 1 {
		t.Errorf("want once %q:\n%s", want, text)
	}
}

// TestMasses: three masses spread as far as the largest is from the smallest, once all
// are weighed.
func TestMasses(t *testing.T) {
	inspect := twin("pistons mass spread")
	given := func(limits, one, two string) string {
		return inspect + line("pistons mass spread", `limits = "`+limits+`"`) + line("piston mass", `readings = { 1 = "`+one+`", 2 = "`+two+`" }`)
	}
	// Given brackets: the largest less the smallest lies between 301.9 - 300.6 and 302.1 - 300.4.
	f := finding(t, assess(t, given("<= 2 g", "300.5 ±0.1 g", "302.0 ±0.1 g")), "pistons mass spread")
	if f.Verdict != measure.Conforming || deref(f.Measured.Lo) != "1.3 g" || deref(f.Measured.Hi) != "1.7 g" {
		t.Errorf("%s: %s", f.Measured.Text, f.Verdict)
	}
	if f := finding(t, assess(t, given("<= 1 g", "300.5 ±0.1 g", "302.0 ±0.1 g")), "pistons mass spread"); f.Verdict != measure.AboveLimit {
		t.Errorf("%s: %s", f.Measured.Text, f.Verdict)
	}
	a := assess(t, given("<= 2 g", "300.5 ±0.1 g", "?"))
	if i := item(t, a, "pistons mass spread"); i.Standing != job.NotMeasured || !strings.Contains(said(a), "still to weigh: piston mass of 2") {
		t.Errorf("%s, %s\n%s", i.Standing, i.Why, said(a))
	}
	// A decimal point lost is no spread that passes.
	if f := finding(t, assess(t, given("<= 2 g", "30.05 g", "302.0 g")), "pistons mass spread"); f.Verdict == measure.Conforming {
		t.Error("a lost decimal point passes")
	}
}

// TestBobweight: two rods on a pin. What turns: 2·(400 + 30) g; half of what goes up and
// down, 2·(200 + 300 + 100 + 20)/2; and 4 ± 1 g of oil: 860 + 620 + 4 = 1484. The masses
// are given to ±0.5 g but the rings: 2·(0.5 + 0.5) + ½·2·(3·0.5) + 1 = 4.5.
func TestBobweight(t *testing.T) {
	masses := ""
	for name, m := range map[string]string{"rod big end mass": "400", "rod shells mass": "30", "rod small end mass": "200", "piston mass": "300", "piston pin mass": "100"} {
		masses += line(name, `readings = { 1 = "`+m+` ±0.5 g", 2 = "`+m+` ±0.5 g" }`)
	}
	rings := line("piston rings mass", `readings = { 1 = "20 ±0.0 g", 2 = "20 ±0 g" }`)
	table := "[bobweight]\nshare = \"50 %\"\noil = \"4 ±1 g\"\n"
	limits := line("crankpin bobweight", `limits = "1470..1500 g"`)
	a := assess(t, twin()+limits+table+masses+strings.ReplaceAll(strings.ReplaceAll(rings, "±0.0 ", ""), "±0 ", ""))
	f := finding(t, a, "crankpin 1-2 bobweight")
	// The rings are read by the scale, ±0.2 g each, which may err alike: ½·2·0.2 = 0.2 beside.
	if f.Verdict != measure.Conforming || deref(f.Measured.Lo) != "1479.3 g" || deref(f.Measured.Hi) != "1488.7 g" || f.Working == nil {
		t.Errorf("%s: %s", f.Measured.Text, f.Verdict)
	}
	a = assess(t, twin()+limits+table+masses)
	if i := item(t, a, "crankpin 1-2 bobweight"); i.Standing != job.NotMeasured || !strings.Contains(said(a), "still to weigh: piston 1 rings mass, piston 2 rings mass") {
		t.Errorf("without the rings: %s\n%s", i.Standing, said(a))
	}
	a = assess(t, twin()+limits+table+"without = [\"piston rings mass\"]\n"+masses)
	if f := finding(t, a, "crankpin 1-2 bobweight"); deref(f.Measured.Lo) != "1459.5 g" || deref(f.Measured.Hi) != "1468.5 g" || f.Verdict != measure.BelowLimit {
		t.Errorf("rings left out on purpose: %s %s", f.Measured.Text, f.Verdict)
	}
}

// TestCompression: bore 80, stroke 80, both exact but for a nanometre, so that V is
// π/4·80²·80 = 402.124 cm³; V_c = 40 + 0 + π/4·(82²·1.0 + 80²·0.5) = 40 + 5.281 + 2.513 =
// 47.794; (402.124 + 47.794)/47.794 = 9.41. Chamber to ±0.2: 9.34..9.50 at the outside,
// with the bore ±0.003 by its gauge.
func TestCompression(t *testing.T) {
	table := "[compression]\nstroke = \"80 ±0.000001 mm\"\ngasket_bore = \"82 ±0.000001 mm\"\ngasket_thickness = \"1.0 ±0.000001 mm\"\ndish = \"0 cm³\"\ndeck = \"0.5 ±0.000001 mm\"\n"
	bore := line("cylinder", `with = "bore gauge"`, `conditions = { "torque plate" = "fitted" }`, `readings = { 1 = "80.000 mm", 2 = "80.000 mm" }`)
	limits := line("cylinder compression ratio", `limits = "9.2..9.6"`)
	a := assess(t, twin()+table+"chambers = { 1 = \"40 ±0.2 cm³\" }\n"+bore+limits)
	f := finding(t, a, "cylinder 1 compression ratio")
	// V/(V_c ± 0.2) + 1 with the bore ±0.003: 402.094/47.9945 + 1 = 9.3779, 402.154/47.5937 + 1 = 9.4497.
	if f.Verdict != measure.Conforming || f.Measured.Text != "9.377..9.450" || f.Working == nil {
		t.Errorf("%s: %s %s", f.Measured.Text, f.Verdict, f.Advice)
	}
	if text := said(assess(t, twin()+table+"chamber = \"40 ±0.2 cm³\"\n"+strings.Replace(bore, `conditions = { "torque plate" = "fitted" }`, "", 1)+limits)); !strings.Contains(text, "cylinder 1 compression ratio: not measured; the limits are 9.20..9.60; ") || !strings.Contains(text, "torque plate") {
		t.Errorf("a bore read nobody knows how:\n%s", text)
	}
	if i := item(t, a, "cylinder 2 compression ratio"); i.Standing != job.NotMeasured || !strings.Contains(said(a), "chamber") {
		t.Errorf("no chamber: %s, %s\n%s", i.Standing, i.Why, said(a))
	}
	// The stroke measured on the shared pin, as good as stated: 80 ± 0.004.
	a = assess(t, twin()+strings.Replace(table, "stroke = \"80 ±0.000001 mm\"\n", "", 1)+"chamber = \"40 ±0.2 cm³\"\n"+bore+limits+line("crankpin stroke", `with = "dial"`, `reading = "0.000 to 80.000 mm"`))
	if f := finding(t, a, "cylinder 2 compression ratio"); f.Verdict != measure.Conforming || !strings.HasPrefix(f.Measured.Text, "9.37") {
		t.Errorf("%s: %s %s", f.Measured.Text, f.Verdict, f.Advice)
	}
	// The crown proud of the deck by 0.5: h = -0.5, V_c = 40 + 5.281 - 2.513 = 42.768, 10.40.
	proud := strings.Replace(table, "deck = \"0.5 ±0.000001 mm\"\n", "", 1)
	a = assess(t, twin()+proud+"chamber = \"40 ±0.000001 cm³\"\n"+bore+limits+line("deck piston height", `with = "depth"`, `readings = { 1 = "0.500 ±0.000001 mm" }`))
	if f := finding(t, a, "cylinder 1 compression ratio"); f.Verdict != measure.AboveLimit || !strings.HasPrefix(f.Measured.Text, "10.40") {
		t.Errorf("%s: %s %s", f.Measured.Text, f.Verdict, f.Advice)
	}
}

// TestRingPositions: gaps 180° apart at 90° and 270° obey 150° between neighbours and an arc
// of 20° about the pin at 0°; at 10° one stands in the arc, and 90° and 200° are 110° apart.
func TestRingPositions(t *testing.T) {
	const rules = "[ring_positions]\nrings = [\"top ring\", \"oil ring\"]\nmark = \"the front\"\nneighbours = \"150°\"\nforbidden = [{ name = \"pin, front\", centre = \"0°\", reach = \"20°\" }]\n"
	at := func(one, two string) *job.Assessment {
		return assess(t, twin()+rules+line("piston ring positions", `readings = { 1 = "`+one+`", 2 = "`+two+`" }`))
	}
	a := at("90° 270°", "?")
	if i := item(t, a, "piston 1 ring positions"); i.Standing != job.Proven || i.Before != job.After || i.Why != "top ring 90 °, oil ring 270 °" {
		t.Errorf("%+v", i)
	}
	if i := item(t, a, "piston 2 ring positions"); i.Standing != job.NotMeasured || !strings.Contains(said(a), "piston 2 ring positions: not said; set the gaps at top ring ") ||
		!strings.Contains(said(a), "clockwise from the front") {
		t.Errorf("%+v\n%s", i, said(a))
	}
	picture := a.Pictures[len(a.Pictures)-1]
	if picture.On != "ring gaps, from above" || !strings.Contains(picture.SVG, "no gap, pin, front, 0 ° ± 20 °") || !strings.Contains(picture.SVG, "The black mark is the front") {
		t.Errorf("%s: %s", picture.On, picture.SVG)
	}
	a = at("10° 190°", "90° 200°")
	for name, why := range map[string]string{"piston 1 ring positions": "stands in the arc of pin, front", "piston 2 ring positions": "are 110 ° apart, and must be 150 °"} {
		if i := item(t, a, name); i.Standing != job.Wrong || !strings.Contains(said(a), why) {
			t.Errorf("%+v\n%s", i, said(a))
		}
	}
}

// TestPartsBadInput: what cannot be of rods, pistons, rings, masses, oil and compression.
func TestPartsBadInput(t *testing.T) {
	rings := "[ring_positions]\nmark = \"front\"\nneighbours = \"120°\"\n"
	for _, test := range []struct {
		name, src string
		kind      error
		say       string
	}{
		{"a reading at no place", twin() + line("big end width", `with = "micrometer"`, `readings = { 3 = "25 mm" }`), job.ErrUnknown, "write one of 1, 2"},
		{"a rod where a pin belongs", twin() + line("rod side play", `with = "blades"`, `readings = { 1 = "0.20..0.25 mm" }`), job.ErrUnknown, "write one of 1-2"},
		{"what nothing asks for", twin() + line("piston pin diameter", `with = "micrometer"`, `readings = { 1 = "20 mm" }`), nil, `inspect = ["piston pin diameter"]`},
		{"a bend without its distance", twin("rod bend") + line("rod bend", `with = "dial"`, `readings = { 1 = "0.03 mm" }`), nil, `"0.02 mm over 100 mm"`},
		{"a bend over nothing", twin("rod bend") + line("rod bend", `with = "dial"`, `readings = { 1 = "0.03 mm over 0 mm" }`), nil, "lies between zero"},
		{"a bend below zero", twin("rod bend") + line("rod bend", `with = "dial"`, `readings = { 1 = "-0.03 mm over 100 mm" }`), nil, "without the sign"},
		{"limits of a bend as a length", twin("rod bend") + line("rod bend", `limits = "0.05 mm"`), nil, "pure number"},
		{"a rule of the bore for what has none", twin("rod length") + line("rod length", `limits = "0.0040..0.0045 of the bore"`), nil, "belong to ring gaps"},
		{"a rule without a bore", strings.Replace(twin(), `bore = "80 mm"`, "", 1) + line("top ring end gap", `limits = "0.0040..0.0045 of the bore"`), job.ErrMissing, `bore = "84 mm"`},
		{"a bore of nothing", strings.Replace(twin(), `bore = "80 mm"`, `bore = "0 mm"`, 1), nil, "such as 84 mm"},
		{"a mass of nothing", twin("piston mass") + line("piston mass", `readings = { 1 = "0 g" }`), nil, "between zero and"},
		{"a mass with a length's instrument", twin("piston mass") + line("piston mass", `with = "dial"`, `readings = { 1 = "300 g" }`), nil, "of the kind scale"},
		{"a length on a scale", twin("small end") + line("small end", `with = "scale"`, `readings = { 1 = "20 mm" }`), nil, "is of the kind scale"},
		{"a spread that is typed", twin("pistons mass spread") + line("pistons mass spread", `reading = "2 g"`), nil, "is worked out from piston mass"},
		{"a spread of one", strings.Replace(strings.Replace(twin("pistons mass spread"), "cylinders = 2", "cylinders = 1", 1), `pins = [["1", "2"]]`, "", 1), nil, "has no place for \"pistons mass spread\""},
		{"a share above all", twin() + "[bobweight]\nshare = \"150 %\"\n", nil, "up to 100 %"},
		{"no word of oil", twin() + "[bobweight]\nshare = \"50 %\"\n", job.ErrMissing, "where the manual counts none"},
		{"oil below zero", twin() + "[bobweight]\nshare = \"50 %\"\noil = \"-2 ±1 g\"\n", nil, "4 ±1 g"},
		{"oil known exactly", twin() + "[bobweight]\nshare = \"50 %\"\noil = \"4 g\"\n", job.ErrNotSure, "±"},
		{"a deck twice", twin() + "[compression]\ndeck = \"0.5 ±0.1 mm\"\n" + line("deck piston height", `with = "depth"`, `readings = { 2 = "0.1 mm" }`), job.ErrTwice, "deck piston height"},
		{"a stroke twice", twin("crankpin stroke") + "[compression]\nstroke = \"80 ±0.1 mm\"\n" + line("crankpin stroke", `with = "dial"`, `reading = "0.00 to 80.00 mm"`), job.ErrTwice, "crankpin stroke"},
		{"a bore twice", twin("cylinder") + "[compression]\nbore = \"80 ±0.1 mm\"\n" + line("cylinder", `with = "bore gauge"`, `readings = { 2 = "80.00 mm" }`), job.ErrTwice, "cylinder"},
		{"no share", twin() + "[bobweight]\noil = \"4 ±1 g\"\n", job.ErrMissing, "write share"},
		{"without what there is not", twin() + "[bobweight]\nshare = \"50 %\"\nwithout = [\"rod mass\"]\n", job.ErrUnknown, "write"},
		{"a chamber known exactly", twin() + "[compression]\nchamber = \"40 cm³\"\n", job.ErrNotSure, "±"},
		{"a chamber of no cylinder", twin() + "[compression]\nchambers = { 3 = \"40 ±0.2 cm³\" }\n", job.ErrUnknown, "write one of 1, 2"},
		{"a chamber and chambers", twin() + "[compression]\nchamber = \"40 ±0.2 cm³\"\nchambers = { 1 = \"40 ±0.2 cm³\" }\n", job.ErrTwice, "keep one"},
		{"a ratio that is typed", twin("cylinder compression ratio") + line("cylinder compression ratio", `readings = { 1 = "9.4" }`), nil, "is worked out from"},
		{"ring positions without rules", twin("piston ring positions") + line("piston ring positions", `readings = { 1 = "90°" }`), job.ErrMissing, "[ring_positions]"},
		{"more gaps than rings", twin() + rings + line("piston ring positions", `readings = { 1 = "90° 180°" }`), job.ErrCount, "one angle for each of top ring"},
		{"a gap beyond a turn", twin() + rings + line("piston ring positions", `readings = { 1 = "400°" }`), nil, "0° to 360°"},
		{"rules without a mark", twin() + "[ring_positions]\nneighbours = \"120°\"\n", job.ErrMissing, "write mark"},
		{"rules that nothing obeys", twin() + "[ring_positions]\nmark = \"front\"\nrings = [\"a\", \"b\", \"c\", \"d\"]\nneighbours = \"120°\"\nany = \"100°\"\n", nil, "check the separations"},
		{"limits of ring positions", twin() + rings + line("piston ring positions", `limits = "0.1 mm"`), nil, "under [ring_positions]"},
		{"a passage where pumps are", twin("oil pump tip clearance") + line("oil pump tip clearance", `with = "blades"`, `readings = { rotor = "0.05..0.10 mm" }`), job.ErrUnknown, "write one of oil pump"},
	} {
		t.Run(test.name, func(t *testing.T) {
			_, err := job.Read("job.toml", []byte(test.src))
			if err == nil {
				t.Fatal("no error")
			}
			if test.kind != nil && !errors.Is(err, test.kind) {
				t.Errorf("not %q:\n%v", test.kind, err)
			}
			if !strings.Contains(err.Error(), test.say) {
				t.Errorf("does not say %q:\n%v", test.say, err)
			}
		})
	}
}

// TestEveryReadingOfThePartsCounts: of a job in which every line of these parts is proven,
// whatever single limit, condition, reading or rule is taken away, something is no longer.
func TestEveryReadingOfThePartsCounts(t *testing.T) {
	const (
		bolted  = `{ bolts = "tightened as for assembly" }`
		bored   = `{ bolts = "tightened as for assembly", shells = "out" }`
		atPoint = `{ "gauge point" = "the maker's" }`
		plate   = `{ "torque plate" = "fitted" }`
		square  = `{ ring = "square in its own bore", depth = "as the manual says" }`
	)
	type read struct{ name, limits, conditions, with, one, two string }
	var src []string
	var mutable []int // the lines that count
	add := func(counts bool, text string) {
		if counts {
			mutable = append(mutable, len(src))
		}
		src = append(src, text)
	}
	var inspect []string
	lines := []read{
		{"rod bore", "", bored, "bore gauge", "46.010 mm", "46.010 mm"},
		{"crankpin width", "", "", "bore gauge", "50.30 mm", ""},
		{"big end width", "", "", "micrometer", "25.02 mm", "25.01 mm"},
		{"rod side play", "0.20..0.40 mm", "", "", "", ""},
		{"rod bore distance", "", bolted, "bore gauge", "110.020 mm", "110.020 mm"},
		{"rod length", "143.00..143.05 mm", "", "", "", ""},
		{"rod bend", "<= 0.0005", bolted, "dial", "0.03 mm over 100 mm", "0.02 mm over 100 mm"},
		{"rod twist", "<= 0.0005", bolted, "dial", "0.03 mm over 100 mm", "0.02 mm over 100 mm"},
		{"cylinder", "", plate, "bore gauge", "80.045 mm", "80.045 mm"},
		{"piston diameter", "", atPoint, "micrometer", "79.990 mm", "79.990 mm"},
		{"piston clearance", "0.0005..0.0009 of the bore", "", "", "", ""},
		{"piston diameter along the pin", "", atPoint, "micrometer", "79.640 mm", "79.640 mm"},
		{"piston ovality", "0.30..0.40 mm", "", "", "", ""},
		{"pin hole diameter", "", "", "bore gauge", "20.006 mm", "20.006 mm"},
		{"piston pin diameter", "", "", "micrometer", "20.001 mm", "20.001 mm"},
		{"pin in piston fit", "0..0.010 mm", "", "", "", ""},
		{"small end", "", "", "bore gauge", "20.010 mm", "20.011 mm"},
		{"pin in rod fit", "0..0.020 mm", "", "", "", ""},
		{"top ring groove width", "", "", "bore gauge", "1.530 mm", "1.530 mm"},
		{"top ring height", "", "", "micrometer", "1.475 mm", "1.475 mm"},
		{"top ring side clearance", "0.03..0.08 mm", "", "", "", ""},
		{"top ring groove depth", "", "", "depth", "3.60 mm", "3.60 mm"},
		{"top ring thickness", "", "", "micrometer", "3.20 mm", "3.20 mm"},
		{"top ring back clearance", ">= 0.30 mm", "", "", "", ""},
		{"top ring end gap", "0.20..0.45 mm", square, "blades", "0.30..0.35 mm", "0.25..0.30 mm"},
		{"piston ring positions", "", "", "", "90° 270°", "100° 280°"},
		{"rod big end mass", "", "", "", "400.2 g", "400.5 g"}, {"rods big end mass spread", "<= 2 g", "", "", "", ""},
		{"rod small end mass", "", "", "", "200.2 g", "200.5 g"}, {"rods small end mass spread", "<= 2 g", "", "", "", ""},
		{"piston mass", "", "", "", "300.2 g", "300.5 g"}, {"pistons mass spread", "<= 2 g", "", "", "", ""},
		{"piston pin mass", "", "", "", "100.2 g", "100.5 g"}, {"piston pins mass spread", "<= 2 g", "", "", "", ""},
		{"rod mass", "", "", "", "600.2 g", "600.5 g"}, {"rods mass spread", "<= 2 g", "", "", "", ""},
		{"rod shells mass", "", "", "", "30 g", "30 g"}, {"piston rings mass", "", "", "", "20 g", "20 g"},
		{"crankpin bobweight", "1470..1500 g", "", "", "", ""},
		{"oil pump body bore", "", "", "bore gauge", "60.120 mm", ""}, {"oil pump rotor diameter", "", "", "micrometer", "60.000 mm", ""},
		{"oil pump body clearance", "0.10..0.18 mm", "", "", "", ""},
		{"oil pump tip clearance", "<= 0.15 mm", "", "blades", "0.05..0.10 mm", ""},
		{"oil pump body depth", "", "", "depth", "15.06 mm", ""}, {"oil pump rotor height", "", "", "micrometer", "15.00 mm", ""},
		{"oil pump end clearance", "0.03..0.09 mm", "", "", "", ""},
		{"relief valve opening pressure", "4.5..5.5 bar", "", "", "4.8..5.2 bar", ""},
		{"deck piston height", "", "", "depth", "-0.20 mm", "-0.20 mm"},
		{"cylinder compression ratio", "9.0..11.0", "", "", "", ""},
	}
	always := []string{"rod side play", "top ring end gap"}
	for _, l := range lines {
		add(false, "[measure.\""+l.name+"\"]")
		if l.limits != "" && !strings.Contains(strings.Join(always, ","), l.name) || l.name == "piston ring positions" {
			inspect = append(inspect, l.name)
		}
		if l.with != "" {
			add(false, "with = \""+l.with+"\"")
		}
		if l.limits != "" {
			add(true, "limits = \""+l.limits+"\"")
		}
		if l.conditions != "" {
			add(true, "conditions = "+l.conditions)
		}
		if l.two == "" && l.one != "" {
			add(true, "reading = \""+l.one+"\"")
		}
		if l.two != "" {
			add(false, "[measure.\""+l.name+"\".readings]")
			add(true, "1 = \""+l.one+"\"")
			add(true, "2 = \""+l.two+"\"")
		}
	}
	add(false, "[ring_positions]\nmark = \"the front\"\nrings = [\"top ring\", \"oil ring\"]\nneighbours = \"150°\"")
	add(false, "[bobweight]\nshare = \"50 %\"\noil = \"4 ±1 g\"")
	add(false, "[compression]")
	for _, text := range []string{"stroke = \"80 ±0.01 mm\"", "gasket_bore = \"82 ±0.1 mm\"", "gasket_thickness = \"1.0 ±0.05 mm\"", "chamber = \"40 ±0.2 cm³\"", "dish = \"0 cm³\""} {
		add(true, text)
	}
	add(false, "[[fits]]\nname = \"idler float\"\nformula = \"f = L - w\"\nlines = { L = \"oil pump body depth\" }\nneeds = { oil = \"wiped off\" }")
	add(true, "limits = \"0.03..0.09 mm\"")
	add(true, "conditions = { oil = \"wiped off\" }")
	add(false, "[fits.terms.w]\nwith = \"micrometer\"")
	add(true, "reading = \"15.00 mm\"")
	parts := []string{"rod 1-2 side", "rod 1 ", "rod 2 ", "piston", "pin in", "top ring", "rods", "crankpin", "oil pump", "relief", "cylinder 1 compression", "cylinder 2 compression", "idler"}
	unproven := func(without int) (names []string) {
		rest := strings.Join(append(append([]string{}, src[:without]...), src[without+1:]...), "\n")
		for _, i := range assess(t, twin(inspect...)+rest).Items {
			for _, p := range parts {
				if strings.HasPrefix(i.Name, p) && i.Standing != job.Proven {
					names = append(names, i.Name+": "+i.Why)
					break
				}
			}
		}
		return names
	}
	src = append(src, "")
	if names := unproven(len(src) - 1); len(names) > 0 {
		t.Fatalf("not all proven: %q", names)
	}
	for _, i := range mutable {
		if names := unproven(i); len(names) == 0 {
			t.Errorf("all is proven without line %d, %s", i, src[i])
		}
	}
	if len(mutable) < 80 {
		t.Errorf("only %d lines count", len(mutable))
	}
}

// TestWarmthThatWasNotTyped: a fit by the sizes of several parts says that they are taken to
// be at 20 °C, and which of them nobody typed a temperature for; it proves what it proves all
// the same. Parts whose temperature is typed are not named, and of one part alone nothing is
// said.
func TestWarmthThatWasNotTyped(t *testing.T) {
	piston := func(warmth string) string {
		return bench(`"piston clearance"`) + measuring("cylinder", "with = \"sure gauge\"\nconditions = { \"torque plate\" = \"fitted\" }\nreadings = { 1 = \"82.050 mm\" }") +
			measuring("piston diameter", "with = \"sure\"\nconditions = { \"gauge point\" = \"the maker's\" }\nreadings = { 1 = \"82.000 mm\" }") + measuring("piston clearance", "limits = \"0.030..0.080 mm\"") + warmth
	}
	const at20 = "[temperatures]\nbench = \"20 °C\"\n[materials]\niron = \"10..11 ppm\"\nlight = \"21..23 ppm\"\n[warmth]\nblock = { material = \"iron\", measured = \"bench\" }\n" +
		"sure = { material = \"iron\", measured = \"bench\" }\n\"sure gauge\" = { material = \"iron\", measured = \"bench\" }\n"
	for _, test := range []struct{ name, src, says string }{
		{"nothing typed", piston(""), "block, pistons"},
		{"one typed", piston(at20), "pistons"},
		{"both typed", piston(at20 + "pistons = { material = \"light\", measured = \"bench\" }\n"), ""},
	} {
		a := assess(t, test.src)
		f := finding(t, a, "piston 1 clearance")
		note, caution := strings.Join(f.Working.Notes, "\n"), strings.Join(a.Cautions, "\n")
		if f.Verdict != measure.Conforming {
			t.Errorf("%s: %s", test.name, f.Verdict)
		}
		said := test.says != ""
		if strings.Contains(note, "taken to be at 20 °C, which was not typed: "+test.says+";") != said || strings.Contains(caution, "No temperature was typed for "+test.says+":") != said {
			t.Errorf("%s: note %q, cautions %q", test.name, note, caution)
		}
	}
	if a := assess(t, bench(`"main cap register fit"`)); strings.Contains(strings.Join(a.Cautions, "\n"), "No temperature") {
		t.Error("said of one part")
	}
}

// TestWhatIsWorkedOutIsNotMeasured: of a line that follows from others, those are to be
// measured, and not the line.
func TestWhatIsWorkedOutIsNotMeasured(t *testing.T) {
	a := assess(t, bench(`"main bearing warm clearance"`)+measuring("main bearing warm clearance", "limits = \"0.02..0.09 mm\""))
	const want = "main bearing 1, 2, 3 warm clearance: not measured. Measure what they follow from: main bore, main upper wall thickness, main lower wall thickness, main journal;"
	if !slices.ContainsFunc(a.Next, func(n job.Action) bool { return strings.HasPrefix(n.Text, want) }) {
		t.Errorf("%q is not among %q", want, a.Next)
	}
}
