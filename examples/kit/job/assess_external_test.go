package job_test

import (
	"strings"
	"testing"

	"example.com/closefit/clearance"
	"example.com/closefit/examples/kit/job"
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
	for i, want := range []clearance.Verdict{clearance.Conforming, clearance.Undecided, clearance.Conforming, clearance.Undecided} {
		if f := a.Verdicts()[i]; f.Verdict != want {
			t.Errorf("%s %s: %s, want %s", f.Group, f.Location, f.Verdict, want)
		}
	}
	if !strings.Contains(said(a), "proven not to be below the limit") {
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
clearance = "0.030..0.052 mm"
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

// TestCaveat: 60 - 2 - 2 - 55.9585 = 0.0415 mm. By root-sum-square it is good to
// √(0.003² + 3 × 0.002²) = 0.00458 mm, inside 0.034..0.047; by worst case to 0.009 mm,
// which is not inside, and three of the sizes are from one micrometer.
func TestCaveat(t *testing.T) {
	src := `title = "t"` + gauges + `
[[bearings]]
name = "main"
locations = ["1"]
clearance = "0.034..0.047 mm"
readings = [{ location = "1", bore = "60 mm", upper_wall = "2 mm", lower_wall = "2 mm", journal = "55.9585 mm", with = { bore = "bore gauge", walls = "micrometer", journal = "micrometer" } }]
`
	a := assess(t, src)
	f := a.Verdicts()[0]
	if f.Verdict != clearance.Conforming || !strings.Contains(f.Caveat, "by worst case it is 0.0325..0.0505 mm, undecided") {
		t.Errorf("%s, caveat %q", f.Verdict, f.Caveat)
	}
	if !strings.Contains(said(a), "if its readings are independent") {
		t.Errorf("the caveat is not said:\n%s", said(a))
	}
	f = assess(t, "combine = \"worst case\"\n"+src).Verdicts()[0]
	if f.Verdict != clearance.Undecided || f.Caveat != "" {
		t.Errorf("by worst case: %s, caveat %q", f.Verdict, f.Caveat)
	}
}

// TestStripTolerance: nearest to 0.038 mm is 0.0301587… and more, inside 0.030..0.052 mm;
// a strip that may be off by 0.001 mm leaves it open.
func TestStripTolerance(t *testing.T) {
	bearings := `
[[bearings]]
name = "main"
locations = ["1"]
clearance = "0.030..0.052 mm"
readings = [{ location = "1", strip = "0.038 mm" }]
`
	const widths = `widths = ["0.025 mm", "0.038 mm", "0.051 mm"]`
	exact := assess(t, `title = "t"`+gauges+bearings).Verdicts()[0]
	off := assess(t, `title = "t"`+strings.Replace(gauges, widths, widths+"\ntolerance = \"0.001 mm\"", 1)+bearings).Verdicts()[0]
	if exact.Verdict != clearance.Conforming || off.Verdict != clearance.Undecided {
		t.Errorf("%s, and with a tolerance %s", exact.Verdict, off.Verdict)
	}
	if !strings.Contains(off.How, "good to ±0.001 mm") {
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
readings = [{ location = "1", strip = "0.038 mm", bore = "60.1 mm", upper_wall = "2 mm", lower_wall = "2 mm", journal = "56 mm", with = { bore = "bore gauge", walls = "micrometer", journal = "micrometer" } }]
`)
	if f := a.Verdicts()[0]; f.Verdict != clearance.Undecided || !strings.Contains(f.Advice, "do not agree") {
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
	if f := a.Verdicts()[0]; f.Verdict != clearance.AboveLimit || !strings.Contains(f.Slip, "decimal point one place to the left") {
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
		verdict clearance.Verdict
		text    string
		advice  string
	}{
		{clearance.Conforming, "0.000..0.110 mm", ""},
		{clearance.Undecided, "0.030..0.210 mm", "at most 44.370 mm, uncertainty counted, proves it good, and one above 44.490 mm scrap"},
		{clearance.AboveLimit, "0.210..0.390 mm", "by 0.080..0.260 mm"},
		{clearance.Undecided, "-0.230..-0.050 mm", "shorter than when new"},
		{clearance.Undecided, "not measured", ""},
		// Spread evenly over 0.1 mm, it is settled by ±U unless within U of the limit: 1 - 2U/0.1 = 0.9.
		{clearance.Undecided, "62.100..62.200 mm", "a measurement good to ±0.0050 mm settles it nine times in ten"},
	} {
		f := a.Verdicts()[i]
		if f.Verdict != want.verdict || f.Measured.Text != want.text || !strings.Contains(f.Advice, want.advice) {
			t.Errorf("%s %s: %s of %s, %q; want %s of %s, %q", f.Group, f.Location, f.Verdict, f.Measured.Text, f.Advice, want.verdict, want.text, want.advice)
		}
	}
}
