package job_test

import (
	"strings"
	"testing"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/units/measure"
)

// TestLimitsAskedAfter: limits that are implausible by themselves, beside those of the
// diameter, or beside all that was read are asked after, once, and answered by their key.
// By hand: 0.51 is 0.51/0.051 = 10 times the lower limit, which is not more than ten.
func TestLimitsAskedAfter(t *testing.T) {
	const named = "planes = [\"front\", \"rear\"]\ndirections = [\"with the throw\", \"across\"]\nreadings = { 1 = \"55.970 55.968; 55.966 55.965 mm\" }\n"
	journal := func(limits, rest string) string {
		return bench(`"main journal"`) + measuring("main journal", "with = \"fine\"\n"+limits+named+rest)
	}
	strip := func(limits, rest string) string {
		return bench("") + measuring("main bearing clearance", "with = \"strip\"\nlimits = \""+limits+"\"\nconditions = { bolts = \"tightened as for assembly\", crankshaft = \"not turned\", oil = \"wiped off\" }\nreadings = { 1 = \"0.051 mm\", 2 = \"0.051 mm\" }\n"+rest)
	}
	deck := func(limits, reading, rest string) string {
		return bench(`"deck flatness"`) + measuring("deck flatness", "with = \"sure gauge\"\nlimits = \""+limits+"\"\nreading = \""+reading+"\"\n"+rest)
	}
	for _, test := range []struct{ name, src, item, says string }{
		{"the upper one ten times too large", strip("0.031..0.71 mm", ""), "main bearing 1 clearance", "limits are 0.031 mm and 0.71 mm, one more than ten times the other; was 0.071 mm meant, or 0.31 mm?"},
		{"the lower one ten times too small", strip("0.0031..0.071 mm", ""), "main bearing 2 clearance", "was 0.0071 mm meant, or 0.031 mm?"},
		{"ten times, and no more", strip("0.031..0.31 mm", ""), "main bearing 1 clearance", ""},
		{"answered", strip("0.031..0.71 mm", `sure = ["limits"]`), "main bearing 1 clearance", ""},
		{"a taper wider than the diameter may be", journal("limits = \"55.950..55.990 mm\"\ntaper = \"<= 0.10 mm\"\nout_of_round = \"<= 0.010 mm\"\n", ""), "main journal 1 taper", "its limit, 0.1 mm, is wider than those of its diameter, 0.04 mm, are apart"},
		{"a taper, answered", journal("limits = \"55.950..55.990 mm\"\ntaper = \"<= 0.10 mm\"\nout_of_round = \"<= 0.010 mm\"\n", `sure = ["taper"]`), "main journal 1 taper", ""},
		{"another key answers nothing", journal("limits = \"55.950..55.990 mm\"\ntaper = \"<= 0.10 mm\"\nout_of_round = \"<= 0.010 mm\"\n", `sure = ["out_of_round"]`), "main journal 1 taper", "sure = [\"taper\"]"},
		{"a diameter by a coarse limit", journal("limits = \"55.950..57.990 mm\"\ntaper = \"<= 0.010 mm\"\nout_of_round = \"<= 0.010 mm\"\n", ""), "main journal 1 diameter", "more than a fiftieth apart"},
		// 0.019 ± 0.0005 reaches 0.0195, less than a tenth of 0.20 and more than one of 0.19.
		{"a limit alone, of which less than a tenth is used", deck("<= 0.20 mm", "0.019 mm", ""), "deck flatness", "0.2 mm, ten times as wide as what was read needs; was 0.02 mm meant?"},
		{"a limit alone, of which more is used", deck("<= 0.19 mm", "0.019 mm", ""), "deck flatness", ""},
		{"a limit alone, in inches", deck("<= 0.04 in", "0.019 mm", ""), "deck flatness", "ten times as wide"},
	} {
		f := finding(t, assess(t, test.src), test.item)
		if asked := f.Slip != ""; asked != (test.says != "") || !strings.Contains(f.Slip, test.says) || asked != (f.Verdict == measure.Undecided) {
			t.Errorf("%s: %s, %q", test.name, f.Verdict, f.Slip)
		}
	}
	var said []string
	for _, n := range assess(t, strip("0.031..0.71 mm", "")).Next {
		if strings.Contains(n.Text, "one more than ten times the other") {
			said = append(said, n.Text)
		}
	}
	if len(said) != 1 || !strings.Contains(said[0], "at 1, 2") {
		t.Errorf("said %d times: %q", len(said), said)
	}
}

// TestSlipAtOneStation: exchanged digits at one of several stations are named, though no
// limits say so. By hand: 55.970 typed as 55.907 is 0.063 off, the others are 0.005 apart.
func TestSlipAtOneStation(t *testing.T) {
	src := func(reading string) string {
		return bench(`"main journal"`) + measuring("main journal", "with = \"fine\"\nreadings = { 1 = \""+reading+"\" }")
	}
	for reading, says := range map[string]string{
		"55.907 55.968; 55.966 55.971 mm": "station 1: 55.907 mm is far from its likes, 55.966..55.971 mm",
		"55.970 55.968; 55.966 55.917 mm": "with two digits exchanged it would be 55.971 mm",
		"55.970 55.968; 5.5966 55.971 mm": "station 3",
		"55.970 55.968; 55.966 55.971 mm": "",
		"55.930 55.968; 55.966 55.971 mm": "", // no slip of the pen
	} {
		f := finding(t, assess(t, src(reading)), "main journal 1 diameter")
		if (f.Slip != "") != (says != "") || !strings.Contains(f.Slip, says) {
			t.Errorf("%s: %q", reading, f.Slip)
		}
	}
}

// TestSizesFarApart: a wall that may be half as thick again is no wall.
func TestSizesFarApart(t *testing.T) {
	src := strings.Replace(bench(""), "[instruments.strip]", "[shells.main.walls]\nboth = { red = \"1.994..3.000 mm\" }\n[instruments.strip]", 1)
	if _, err := job.Read("job.toml", []byte(src)); err == nil || !strings.Contains(err.Error(), "look at the decimal points") {
		t.Error(err)
	}
}

// TestSlipsOfMasses: a mass is compared with its likes, though it has no limits, and its slip
// leaves open what the mass is a term of.
func TestSlipsOfMasses(t *testing.T) {
	src := func(fourth, rest string) string {
		return strings.Replace(bench(`"rods mass spread"`), "cylinders = 2", "cylinders = 4", 1) + "[instruments.scale]\nkind = \"scale\"\nuncertainty = \"0.2 g\"\n" +
			measuring("rod mass", "with = \"scale\"\nreadings = { 1 = \"612.4 g\", 2 = \"613.0 g\", 3 = \"612.1 g\", 4 = \""+fourth+"\" }\n"+rest) + measuring("rods mass spread", "limits = \"<= 8 g\"")
	}
	for fourth, says := range map[string]string{
		"621.8 g":  "with two digits exchanged it would be 612.8 g",
		"61.28 g":  "with the decimal point moved it would be 612.80 g",
		"0.6128 g": "with kilograms for grams it would be 0.6128 kg",
		"613.4 g":  "",
		"650.0 g":  "", // heavier, and no slip of the pen
	} {
		f := finding(t, assess(t, src(fourth, "")), "rods mass spread")
		if (f.Slip != "") != (says != "") || !strings.Contains(f.Slip, says) || says != "" && f.Verdict != measure.Undecided {
			t.Errorf("%s: %s, %q", fourth, f.Verdict, f.Slip)
		}
	}
	if f := finding(t, assess(t, src("621.8 g", `sure = ["4"]`)), "rods mass spread"); f.Slip != "" || f.Verdict != measure.AboveLimit { // 621.8 - 612.1 = 9.7
		t.Errorf("read again: %s, %q", f.Verdict, f.Slip)
	}
}
