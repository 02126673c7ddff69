package job_test

import (
	"strings"
	"testing"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/units/measure"
)

func assess(t *testing.T, src string) *job.Assessment {
	t.Helper()
	j, err := job.Read("job.toml", []byte(src))
	if err != nil {
		t.Fatal(err)
	}
	a, err := j.Assess(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// said joins what is to be done next.
func said(a *job.Assessment) string {
	var b strings.Builder
	for _, x := range a.Next {
		b.WriteString(x.Kind.String() + " " + x.Text + "\n")
	}
	return b.String()
}

const gauges = `
[instruments.strip]
kind = "crush strip"
widths = ["0.025 mm", "0.038 mm", "0.051 mm"]
[instruments.blades]
kind = "feeler blades"
blades = ["0.155 mm", "0.20 mm"]
[instruments."bore gauge"]
kind = "bore gauge"
uncertainty = "0.003 mm"
[instruments.micrometer]
kind = "micrometer"
uncertainty = "0.002 mm"
`

// TestUsualMarks: a strip read at 0.038 between 0.025 and 0.051 is inside 0.029..0.057
// however it is bracketed, one read at 0.025 is not proven inside; a blade of 0.155 that
// enters proves an end play of 0.15..0.32 from below alone. Limits of invented engines.
func TestUsualMarks(t *testing.T) {
	a := assess(t, `title = "t"`+gauges+`
[[bearings]]
name = "main"
locations = ["1", "2", "3"]
clearance = "0.029..0.057 mm"
readings = [
  { location = "1", strip = "0.038 mm" },
  { location = "2", strip = "0.025 mm" },
  { location = "3", strip = "0.038..0.051 mm" },
]
[end_play]
limits = "0.15..0.32 mm"
reading = { goes = "0.155 mm" }
`)
	for i, want := range []measure.Verdict{measure.Conforming, measure.Undecided, measure.Conforming, measure.Undecided} {
		if f := a.Verdicts()[i]; f.Verdict != want {
			t.Errorf("%s %s: %s, want %s", f.Group, f.Location, f.Verdict, want)
		}
	}
	if !strings.Contains(said(a), "so not below the limit; no upper bound was read") {
		t.Errorf("what is proven of the end play is not said:\n%s", said(a))
	}
}

// TestFewPlaces: however few places a job is shown with, its limits are shown whole,
// and nothing is called proven that is not.
func TestFewPlaces(t *testing.T) {
	for _, places := range []string{"0", "1", "2"} {
		a := assess(t, `title = "t"
[show]
length_places = `+places+gauges+`
[end_play]
limits = "0.151..0.159 mm"
reading = { goes = "0.155 mm" }
`)
		if g := a.Groups[0]; g.Limits != "0.151..0.159 mm" {
			t.Errorf("%s places: limits %s", places, g.Limits)
		}
		if text := said(a); strings.Contains(text, "0.16 mm") || strings.Contains(text, " 1 mm") {
			t.Errorf("%s places: %s", places, text)
		}
	}
}

// TestProven: what is not known, not measured or not to be had is not proven.
func TestProven(t *testing.T) {
	const shells = `
[[bearings]]
name = "main"
locations = ["1"]
clearance = "0.029..0.057 mm"
codes = { upper = "CODE", lower = "94" }
shells = { upper = { 78 = "a", 84 = "b" }, lower = { 94 = "a" } }
stock = [{ half = "upper", grade = "a" }, { half = "lower", grade = "a" }]
readings = [{ location = "1", strip = "0.038 mm" }]
`
	for _, test := range []struct {
		name, src string
		want      bool
	}{
		{"nothing asked", ``, false},
		{"all known", strings.Replace(shells, "CODE", "78", 1), true},
		{"an illegible code", strings.Replace(shells, "CODE", "?", 1), false},
		{"a shell that nobody sells", strings.Replace(shells, "CODE", "84", 1), false},
		{"a passage not checked", "[[passages]]\nname = \"p\"\nstate = \"not checked\"\n", false},
		{"a passage alone", "[[passages]]\nname = \"p\"\nstate = \"clean\"\n", true},
		{"not measured", "[end_play]\nlimits = \"0.1..0.2 mm\"\n", false},
	} {
		if got := assess(t, "title = \"t\"\n"+gauges+test.src).Proven(); got != test.want {
			t.Errorf("%s: Proven is %t, want %t", test.name, got, test.want)
		}
	}
}

// TestARowFromEitherEnd: a row of codes that reads from either end gives no shells
// and no shopping list until it is said, or a mark tells, where it begins. By hand:
// forwards the first location has P, a thin upper shell, and backwards Q, a thick one.
func TestARowFromEitherEnd(t *testing.T) {
	const bearings = `
[[bearings]]
name = "main"
locations = ["front", "2", "3", "rear"]
clearance = "0.029..0.057 mm"
codes = { upper = "P P Q Q", lower = "6 6 6 8"LOWER }
shells = { upper = { P = "thin", Q = "thick" }, lower = { 6 = "a", 8 = "a" } }
packs = [
  { name = "thin pair", price = "5", holds = [{ half = "upper", grade = "thin" }, { half = "lower", grade = "a" }] },
  { name = "thick pair", price = "6", holds = [{ half = "upper", grade = "thick" }, { half = "lower", grade = "a" }] },
]
`
	for _, test := range []struct {
		name, upper, row string // the row of upper codes, and what is said of it
		first            string // the upper shell in front
		bought           bool
		says             []string
	}{
		{"nothing said", "P P Q Q", "", "thin or thick", false, []string{
			`measure main shells: housing codes "P P Q Q" can be read in more than one way: P P Q Q, or from the other end Q Q P P. At front the code is P or Q accordingly.`,
			`measure the housing at front`, `write it under codes, in upper_row: begins = "front" or "rear". Until then nothing is ordered.`}},
		{"begins in front", "P P Q Q", `, upper_row = { begins = "front" }`, "thin", true, nil},
		{"begins at the rear", "P P Q Q", `, upper_row = { begins = "rear" }`, "thick", true, nil},
		{"a mark at the rear, before it", "* P P Q Q", `, upper_row = { mark = "*", mark_at = "rear" }`, "thick", true, nil},
		{"a mark of no known place", "P P Q Q *", "", "thin or thick", false, []string{"the mark * may show it"}},
		{"an illegible code too", "P ? Q Q", `, upper_row = { begins = "front" }`, "thin", false, []string{"location 2, housing code ? is not legible: find it, or measure"}},
	} {
		src := strings.Replace(bearings, `upper = "P P Q Q"`, `upper = "`+test.upper+`"`, 1)
		a := assess(t, "title = \"t\"\n"+gauges+strings.Replace(src, "LOWER", test.row, 1))
		shells := a.Shells[0]
		if shells.Choices[0].Grade != test.first || (shells.Purchase != nil) != test.bought || (shells.Open == nil) != test.bought || a.Proven() {
			t.Errorf("%s: in front %s, purchase %v, open %v", test.name, shells.Choices[0].Grade, shells.Purchase, shells.Open)
		}
		for _, say := range test.says {
			if !strings.Contains(said(a), say) {
				t.Errorf("%s: does not say %q:\n%s", test.name, say, said(a))
			}
		}
	}

	// A row of characters that are some upside down: 9 9 8 and 8 6 6 are one stamping.
	src := strings.Replace(bearings, "LOWER", `, upper_row = { begins = "front" }, lower_row = { begins = "front" }`, 1)
	src = strings.Replace(src, `lower = { 6 = "a", 8 = "a" }`, `lower = { 6 = "a", 8 = "a", 9 = "b" }`, 1)
	if a := assess(t, "title = \"t\"\n"+gauges+src); a.Shells[0].Open == nil || !strings.Contains(said(a), `in lower_row: upright = true once it is read the right way up`) {
		t.Errorf("%s", said(a))
	}
	src = strings.Replace(src, `lower_row = { begins = "front" }`, `lower_row = { begins = "front", upright = true }`, 1)
	if a := assess(t, "title = \"t\"\n"+gauges+src); a.Shells[0].Open != nil {
		t.Errorf("%s", said(a))
	}
}

// TestHeldBack: shells that are proven wrong are not bought again. The walls and the
// journal are out by more than any doubt.
func TestHeldBack(t *testing.T) {
	a := assess(t, `title = "t"`+gauges+`
[[bearings]]
name = "main"
locations = ["1", "2"]
clearance = "0.029..0.057 mm"
bores = { bolts = "as for assembly", shells = "out" }
codes = { upper = "78 78", lower = "94 94" }
shells = { upper = { 78 = "a" }, lower = { 94 = "a" } }
packs = [{ name = "pair", price = "5", holds = [{ half = "upper", grade = "a" }, { half = "lower", grade = "a" }] }]
readings = [{ location = "1", bore = "60.2 mm", upper_wall = "2 mm", lower_wall = "2 mm", journal = "56 mm", with = { bore = "bore gauge", walls = "micrometer", journal = "micrometer" } }]
`)
	p := a.Shells[0].Purchase
	if p == nil || len(p.Lines) != 1 || p.Lines[0].Count != 1 || a.Shells[0].HeldBack[0] != "1" {
		t.Errorf("purchase %+v, held back %v", p, a.Shells[0].HeldBack)
	}
}

// sized is a bearing by sizes, with what its set says of its bores.
func sized(limits, says, sizes string) string {
	return `
[[bearings]]
name = "main"
locations = ["1"]
clearance = "` + limits + `"
` + says + `
readings = [{ location = "1", ` + sizes + `, with = { bore = "bore gauge", walls = "micrometer", journal = "micrometer" } }]
`
}

const proper = `bores = { bolts = "as for assembly", shells = "out" }`

// TestOneMicrometerForThreeSizes: 60 - 2 - 2 - 55.9585 = 0.0415 mm. The bore gauge is good to
// 0.003 mm, and the micrometer, of which nothing more is known, to 3 × 0.002 mm in three
// sizes: √(3² + 6²) = 6.7082.. µm in all, which is not inside 0.034..0.047. Where the
// micrometer repeats to 0.001 mm and the gauge was set in it, its common part, √(2² - 1²) =
// √3 µm, counts +1 - 1 - 1 - 1 = -2 times, its repeats once for the setting and three times
// for the sizes; the gauge's 3 µm once for its setting and once for its reading, at their
// worst: √(4·3 + 4·1 + 6²) = √52 = 7.2111 µm.
func TestOneMicrometerForThreeSizes(t *testing.T) {
	const sizes = `bore = "60 mm", upper_wall = "2 mm", lower_wall = "2 mm", journal = "55.9585 mm"`
	src := `title = "t"` + gauges + sized("0.034..0.047 mm", proper, sizes)
	f := assess(t, src).Verdicts()[0]
	if f.Verdict != measure.Undecided || *f.Measured.Lo != "0.0347917 mm" || *f.Measured.Hi != "0.0482083 mm" {
		t.Errorf("%s, %s to %s", f.Verdict, *f.Measured.Lo, *f.Measured.Hi)
	}
	if !strings.Contains(f.Advice, "settles it nine times in ten") {
		t.Errorf("advice %q", f.Advice)
	}
	f = assess(t, "combine = \"at worst\"\n"+src).Verdicts()[0]
	if *f.Measured.Lo != "0.0325 mm" || *f.Measured.Hi != "0.0505 mm" { // 0.003 + 3 × 0.002
		t.Errorf("at worst: %s to %s", *f.Measured.Lo, *f.Measured.Hi)
	}
	set := strings.Replace(src, `uncertainty = "0.002 mm"`, "uncertainty = \"0.002 mm\"\nrepeats = \"0.001 mm\"", 1)
	set = strings.Replace(set, `kind = "bore gauge"`, "kind = \"bore gauge\"\nset_on = \"micrometer\"", 1)
	f = assess(t, set).Verdicts()[0]
	if f.Working == nil || *f.Measured.Lo != "0.0342888 mm" || *f.Measured.Hi != "0.0487112 mm" { // 7.2112, rounded up
		t.Errorf("set in the micrometer: %s to %s\n%s", *f.Measured.Lo, *f.Measured.Hi, f.Working)
	}
	// The same at k = 4, with its few degrees of freedom, is half as wide or less.
	few := strings.Replace(src, `uncertainty = "0.003 mm"`, "uncertainty = \"0.003 mm\"\nk = 4\nfreedom = 5", 1)
	few = strings.Replace(few, `uncertainty = "0.002 mm"`, "limit_of_error = \"0.001 mm\"", 1)
	// t(0.9545, 5) = 2.6487, of u = 0.75 µm: 1.9865 µm; and 3 × 1 µm of brackets.
	f = assess(t, few).Verdicts()[0]
	if f.Measured.Text != "0.0365..0.0465 mm" {
		t.Errorf("k, freedom and a limit of error: %s", f.Measured.Text)
	}
}

// TestConditionsOfBores: what is not said of the bores, or said otherwise, proves nothing,
// and the record says what to write. 60.010 - 2 - 2 - 55.970 = 0.040 is well inside.
func TestConditionsOfBores(t *testing.T) {
	const sizes = `bore = "60.010 mm", upper_wall = "2 mm", lower_wall = "2 mm", journal = "55.970 mm"`
	for _, test := range []struct {
		name, says string
		want       measure.Verdict
		advice     string
	}{
		{"nothing", "", measure.Undecided, `housing bore: bolts: tightened as for assembly is needed, and not stated; once they were read so, write bores = {`},
		{"loose", `bores = { bolts = "loose", shells = "out" }`, measure.Undecided, "it was read with bolts: loose"},
		{"a torque", `bores = { bolts = "40 N·m", shells = "out" }`, measure.Undecided, "bolts: tightened to 40 N·m"},
		{"no shells", `bores = { bolts = "as for assembly" }`, measure.Undecided, "shells: out is needed, and not stated"},
		{"shells in", `bores = { bolts = "as for assembly", shells = "in" }`, measure.Undecided, "it was read with shells: in"},
		{"all", proper, measure.Conforming, ""},
	} {
		f := assess(t, `title = "t"`+gauges+sized("0.029..0.057 mm", test.says, sizes)).Verdicts()[0]
		if f.Verdict != test.want || !strings.Contains(f.Advice, test.advice) {
			t.Errorf("%s: %s, %q", test.name, f.Verdict, f.Advice)
		}
		if f.Measured.Lo == nil || *f.Measured.Lo != "0.0332917 mm" {
			t.Errorf("%s: what was read is not shown: %+v", test.name, f.Measured)
		}
	}
	// Without the conditions no shell is offered and none is found wanting.
	walls := "walls = { upper = { a = \"1.99 mm\" }, lower = { a = \"1.99 mm\" } }\n"
	if f := assess(t, `title = "t"`+gauges+sized("0.060..0.070 mm", walls, sizes)).Verdicts()[0]; len(f.Remedies) > 0 {
		t.Errorf("bores of which nothing is said: %q", f.Remedies)
	}
	// With both, 0.060 ± √(3² + 2²) µm; with one, 0.050 and less.
	if f := assess(t, `title = "t"`+gauges+sized("0.050..0.070 mm", walls+proper, sizes)).Verdicts()[0]; len(f.Remedies) != 1 || !strings.Contains(f.Remedies[0], "upper shell a and lower shell a") {
		t.Errorf("bores read as for assembly: %q", f.Remedies)
	}
	strip := assess(t, `title = "t"`+gauges+sized("0.029..0.057 mm", "", sizes+`, strip = "0.038 mm"`)).Verdicts()[0]
	if strip.Verdict != measure.Conforming || !strings.Contains(strip.Working.Text(), "the parts prove nothing") {
		t.Errorf("a strip beside them: %s\n%s", strip.Verdict, strip.Working)
	}
}

// TestStripTolerance: nearest to 0.038 mm is 0.0301587… and more, inside 0.029..0.057 mm;
// a strip that may be off by 0.002 mm leaves it open.
func TestStripTolerance(t *testing.T) {
	bearings := `
[[bearings]]
name = "main"
locations = ["1"]
clearance = "0.029..0.057 mm"
readings = [{ location = "1", strip = "0.038 mm" }]
`
	const widths = `widths = ["0.025 mm", "0.038 mm", "0.051 mm"]`
	exact := assess(t, `title = "t"`+gauges+bearings).Verdicts()[0]
	off := assess(t, `title = "t"`+strings.Replace(gauges, widths, widths+"\ntolerance = \"0.002 mm\"", 1)+bearings).Verdicts()[0]
	if exact.Verdict != measure.Conforming || off.Verdict != measure.Undecided {
		t.Errorf("%s, and with a tolerance %s", exact.Verdict, off.Verdict)
	}
	if !strings.Contains(off.How, "±0.002 mm at most") {
		t.Errorf("how: %q", off.How)
	}
}

// TestDisagreement: a strip and sizes that cannot both be right prove nothing.
func TestDisagreement(t *testing.T) {
	a := assess(t, `title = "t"`+gauges+`
[[bearings]]
name = "main"
locations = ["1"]
clearance = "0.029..0.057 mm"
bores = { bolts = "as for assembly", shells = "out" }
readings = [{ location = "1", strip = "0.038 mm", bore = "60.1 mm", upper_wall = "2 mm", lower_wall = "2 mm", journal = "56 mm", with = { bore = "bore gauge", walls = "micrometer", journal = "micrometer" } }]
`)
	if f := a.Verdicts()[0]; f.Verdict != measure.Undecided || !strings.Contains(f.Advice, "do not agree") {
		t.Errorf("%s, %q", f.Verdict, f.Advice)
	}
}

// TestSlip: a reading ten times what it should be is called a probable slip, and is
// judged as it is.
func TestSlip(t *testing.T) {
	a := assess(t, `title = "t"
[end_play]
limits = "0.15..0.32 mm"
reading = { gap = "1.5..1.6 mm" }
`)
	if f := a.Verdicts()[0]; f.Verdict != measure.AboveLimit || !strings.Contains(f.Slip, "decimal point one place to the left") {
		t.Errorf("%s, slip %q", f.Verdict, f.Slip)
	}
}

// TestLostTurn: a dial whose hand went round once more than was counted.
func TestLostTurn(t *testing.T) {
	f := assess(t, `title = "t"
[instruments.dial]
kind = "dial"
uncertainty = "0.005 mm"
[end_play]
limits = "0.15..0.32 mm"
reading = { from = "0.10 mm", to = "1.30 mm" }
`).Verdicts()[0]
	if f.Verdict != measure.AboveLimit || !strings.Contains(f.Slip, "one turn of 1 mm less would make it 0.195..0.205 mm, conforming") {
		t.Errorf("%s, slip %q", f.Verdict, f.Slip)
	}
}

// TestUsedBolts: a stretch of at most 0.13 mm from 44.30 ±0.06 mm, by hand. 44.32 ±0.03 mm is
// longer by at most 44.35 - 44.24 = 0.11 mm; 44.42 by 0.03..0.21 mm, and 44.60 by 44.57 - 44.36
// = 0.21 mm at least. 44.16 would be shorter by 0.05 mm at least, which no bolt gets. The length
// proves a bolt good up to 44.24 + 0.13 = 44.37 mm and scrap above 44.36 + 0.13 = 44.49 mm.
func TestUsedBolts(t *testing.T) {
	a := assess(t, `title = "t"
[instruments.caliper]
kind = "caliper"
uncertainty = "0.03 mm"
[[bolts]]
name = "rod bolt"
new_length = "44.30 ±0.06 mm"
longest_stretch = "0.13 mm"
lengths = [
  { bolt = "1a", length = "44.32 mm", with = "caliper" },
  { bolt = "1b", length = "44.42 mm", with = "caliper" },
  { bolt = "2a", length = "44.60 mm", with = "caliper" },
  { bolt = "2b", length = "44.16 mm", with = "caliper" },
  { bolt = "3a" },
]
[[bolts]]
name = "main cap bolt"
longest_length = "62.12 mm"
lengths = [ { bolt = "1", length = "62.10..62.20 mm" } ]
`)
	for i, want := range []struct {
		verdict measure.Verdict
		text    string
		advice  string
	}{
		{measure.Conforming, "0.000..0.110 mm", ""},
		{measure.Undecided, "0.030..0.210 mm", "at most 44.370 mm, uncertainty counted, proves it good, and one above 44.490 mm scrap"},
		{measure.AboveLimit, "0.210..0.390 mm", "by 0.080..0.260 mm"},
		{measure.Undecided, "-0.230..-0.050 mm", "shorter than when new"},
		{measure.Undecided, "not measured", ""},
		// Spread evenly over 0.1 mm, it is settled by ±U unless within U of the limit: 1 - 2U/0.1 = 0.9.
		{measure.Undecided, "62.100..62.200 mm", "a measurement good to ±0.0050 mm settles it nine times in ten"},
	} {
		f := a.Verdicts()[i]
		if f.Verdict != want.verdict || f.Measured.Text != want.text || !strings.Contains(f.Advice, want.advice) {
			t.Errorf("%s %s: %s of %s, %q; want %s of %s, %q", f.Group, f.Location, f.Verdict, f.Measured.Text, f.Advice, want.verdict, want.text, want.advice)
		}
	}
}
