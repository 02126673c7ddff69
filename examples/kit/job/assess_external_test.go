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

// finding returns the finding of a name.
func finding(t *testing.T, a *job.Assessment, name string) job.Finding {
	t.Helper()
	for _, f := range a.Verdicts() {
		if f.Name() == name {
			return f
		}
	}
	t.Fatalf("no finding is called %q", name)
	return job.Finding{}
}

// item returns the item of a name.
func item(t *testing.T, a *job.Assessment, name string) job.Item {
	t.Helper()
	for _, i := range a.Items {
		if i.Name == name {
			return i
		}
	}
	t.Fatalf("no item is called %q", name)
	return job.Item{}
}

// small is an engine of one cylinder and two mains, and what it is measured with.
const small = `
title = "t"
[engine]
cylinders = 1
mains = ["1", "2"]
thrust = "1"
rings = ["ring"]
passages = ["p"]
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

const asRead = "conditions = { bolts = \"tightened as for assembly\", crankshaft = \"not turned\", oil = \"wiped off\" }\n"

// strips is the mains measured with a strip.
func strips(limits, first, second string) string {
	return "[measure.\"main bearing clearance\"]\nlimits = \"" + limits + "\"\n" + asRead +
		"readings = { 1 = \"" + first + "\", 2 = \"" + second + "\" }\n"
}

// endPlay is an end play read with the instrument.
func endPlay(limits, with, reading string) string {
	return "[measure.\"crankshaft end play\"]\nlimits = \"" + limits + "\"\nwith = \"" + with + "\"\nconditions = { crankshaft = \"levered to its stops\" }\nreading = \"" + reading + "\"\n"
}

// TestUsualMarks: a strip read at 0.038 between 0.025 and 0.051 is inside 0.029..0.057
// however it is bracketed, one read at 0.025 is not proven inside; a blade of 0.155 that
// enters proves an end play of 0.15..0.32 from below alone. Limits of invented engines.
func TestUsualMarks(t *testing.T) {
	a := assess(t, small+strips("0.029..0.057 mm", "0.038 mm", "0.025 mm")+endPlay("0.15..0.32 mm", "blades", ">= 0.155 mm"))
	for name, want := range map[string]measure.Verdict{
		"main bearing 1 clearance": measure.Conforming, "main bearing 2 clearance": measure.Undecided, "crankshaft end play": measure.Undecided,
	} {
		if f := finding(t, a, name); f.Verdict != want {
			t.Errorf("%s: %s, want %s", name, f.Verdict, want)
		}
	}
	if !strings.Contains(said(a), "It is not below the limit; find what it does not reach.") {
		t.Errorf("what is proven of the end play is not said:\n%s", said(a))
	}
	a = assess(t, small+strips("0.029..0.057 mm", "0.038..0.051 mm", "?"))
	if f := finding(t, a, "main bearing 1 clearance"); f.Verdict != measure.Conforming {
		t.Errorf("between two prints: %s", f.Verdict)
	}
	if f := finding(t, a, "main bearing 2 clearance"); f.Taken {
		t.Error("a question mark was taken for a reading")
	}
}

// TestFewPlaces: however few places a job is shown with, its limits are shown whole,
// and nothing is called proven that is not.
func TestFewPlaces(t *testing.T) {
	for _, places := range []string{"0", "1", "2"} {
		a := assess(t, small+"[show]\nlength_places = "+places+"\n"+endPlay("0.151..0.159 mm", "blades", ">= 0.155 mm"))
		if f := finding(t, a, "crankshaft end play"); f.Tolerance.Text != "0.151..0.159 mm" {
			t.Errorf("%s places: limits %s", places, f.Tolerance.Text)
		}
		if text := said(a); strings.Contains(text, "0.16 mm") || strings.Contains(text, " 1 mm") {
			t.Errorf("%s places: %s", places, text)
		}
	}
}

// TestSilence: an engine of which nothing is measured has everything to be measured, and
// no gate but those that ask for nothing is open.
func TestSilence(t *testing.T) {
	a := assess(t, small)
	if a.Proven() || a.Gate(job.Final).Open || len(a.Gate(job.Final).Shut) != 8 {
		t.Errorf("proven %t, %+v", a.Proven(), a.Gate(job.Final))
	}
	for _, name := range []string{"passage p", "main bearing 1 clearance", "main bearing 2 clearance", "rod bearing 1 clearance",
		"crankshaft end play", "rod 1 side play", "ring 1 end gap", "tightening plan"} {
		if i := item(t, a, name); i.Standing != job.NotMeasured {
			t.Errorf("%s: %s", name, i.Standing)
		}
	}
	a = assess(t, small+"[measure.\"ring end gap\"]\nwith = \"blades\"\nconditions = { ring = \"square in its own bore\", depth = \"as the manual says\" }\nreading = \"0.155..0.20 mm\"\n")
	if i := item(t, a, "ring 1 end gap"); i.Standing != job.NotMeasured || !strings.Contains(i.Why, "no limits are stated") {
		t.Errorf("without limits: %+v", i)
	}
}

// TestExcuses: what somebody accepts or leaves out opens the gate and proves nothing.
func TestExcuses(t *testing.T) {
	src := small
	for _, what := range []string{"passage", "main bearing clearance", "rod bearing 1 clearance", "rod side play", "ring 1 end gap", "tightening plan"} {
		src += "[[left_out]]\nwhat = \"" + what + "\"\nby = \"the builder\"\nreason = \"a trial\"\n"
	}
	src += "[[accepted]]\nwhat = \"crankshaft end play\"\nby = \"the builder\"\nreason = \"as it came\"\n"
	a := assess(t, src)
	if g := a.Gate(job.Final); !g.Open || a.Proven() || len(g.Accepted) != 8 || g.Proven != 0 {
		t.Errorf("proven %t, %+v", a.Proven(), g)
	}
	if i := item(t, a, "main bearing 2 clearance"); i.Excuse == nil || !i.Excuse.LeftOut || i.Excuse.By != "the builder" {
		t.Errorf("%+v", i)
	}
}

// TestNeedlessExcuses: a word for what is proven is said to be needless, changes nothing, and
// serves again once a reading leaves it open; one for several things, when all are proven. The
// blade of 0.155 goes and that of 0.20 does not: inside 0.15..0.32, and not proven in 0.16..0.32.
func TestNeedlessExcuses(t *testing.T) {
	excused := func(table, what string) string {
		return "[[" + table + "]]\nwhat = \"" + what + "\"\nby = \"the builder\"\nreason = \"as it came\"\n"
	}
	said := func(a *job.Assessment) (needless []string) {
		for _, n := range a.Next {
			if strings.Contains(n.Text, "can be taken out") {
				if n.Kind != job.GoOn {
					t.Errorf("%s: %s", n.Kind, n.Text)
				}
				needless = append(needless, n.Text)
			}
		}
		return needless
	}
	play := func(limits string) string { return small + endPlay(limits, "blades", "0.155..0.20 mm") }
	bare := assess(t, play("0.15..0.32 mm"))
	for table, done := range map[string]string{"accepted": "accepted", "left_out": "left out"} {
		a := assess(t, play("0.15..0.32 mm")+excused(table, "crankshaft end play"))
		want := "crankshaft end play: proven, and " + done + " by the builder all the same: its [[" + table + "]] can be taken out. While it stands it opens the gate again, should a later reading not prove it."
		if s := said(a); len(s) != 1 || s[0] != want {
			t.Errorf("%q, want %q", s, want)
		}
		if len(a.Card().Words) != 0 || item(t, a, "crankshaft end play").Excuse != nil {
			t.Error("what is proven stands on a word")
		}
		for _, p := range job.Phases() {
			if g, without := a.Gate(p), bare.Gate(p); g.Open != without.Open || g.Proven != without.Proven || len(g.Shut) != len(without.Shut) || len(g.Accepted) != 0 {
				t.Errorf("%s: %+v, without %+v", p, g, without)
			}
		}
		a = assess(t, play("0.16..0.32 mm")+excused(table, "crankshaft end play"))
		if i := item(t, a, "crankshaft end play"); len(said(a)) != 0 || i.Standing == job.Proven || !i.Passes() {
			t.Errorf("not proven: %q, %+v", said(a), i)
		}
	}
	const limits, proven, open = "0.029..0.057 mm", "0.038 mm", "0.025 mm"
	if s := said(assess(t, small+strips(limits, proven, open)+excused("accepted", "main bearing clearance"))); len(s) != 0 {
		t.Errorf("one of two is proven: %q", s)
	}
	if s := said(assess(t, small+strips(limits, proven, proven)+excused("accepted", "main bearing clearance"))); len(s) != 1 {
		t.Errorf("both are proven: %q", s)
	}
	bolts := "[bolts.rods]\nnew = \"all\"\n[[tightening]]\ngroup = \"rods\"\nbolts = [\"1a\", \"1b\"]\nsingle_use = false\nstages = [{ torque = \"20 N·m\" }]\n"
	if s := said(assess(t, small+bolts+excused("accepted", "rods 1a"))); len(s) != 1 || !strings.HasSuffix(s[0], "not prove it; only a bolt that is proven wrong it does not let through.") {
		t.Errorf("a bolt: %q", s)
	}
}

// jobOfShells is the small engine with one code on the block.
func jobOfShells(code string) string {
	return small + `
[shells.main]
stock = [{ half = "upper", grade = "a", count = 2 }, { half = "lower", grade = "a", count = 2 }]
[shells.main.codes]
upper = "` + code + ` 78"
lower = "94 94"
upper_row = { begins = "1" }
[shells.main.grades]
upper = { 78 = "a", 84 = "b" }
lower = { 94 = "a" }
`
}

// TestShellItem: shells are proven when they are known and on hand.
func TestShellItem(t *testing.T) {
	for _, test := range []struct {
		code string
		want job.Standing
	}{
		{"78", job.Proven},   // on hand
		{"?", job.Undecided}, // illegible
		{"84", job.ToOrder},  // nobody sells it
	} {
		a := assess(t, jobOfShells(test.code))
		if i := item(t, a, "main bearing 1 shells"); i.Standing != test.want {
			t.Errorf("code %s: %s, want %s: %s", test.code, i.Standing, test.want, i.Why)
		}
		if i := item(t, a, "main bearing 2 shells"); i.Standing != job.Proven {
			t.Errorf("code %s hides the other location: %s, %s", test.code, i.Standing, i.Why)
		}
	}
}

// TestARowFromEitherEnd: a row of codes that reads from either end gives no shells
// and no shopping list until it is said, or a mark tells, where it begins. By hand:
// forwards the first location has P, a thin upper shell, and backwards Q, a thick one.
func TestARowFromEitherEnd(t *testing.T) {
	const engine = `
title = "t"
[engine]
cylinders = 3
mains = ["front", "2", "3", "rear"]
thrust = "rear"
rings = ["ring"]
passages = ["p"]
`
	const bearings = `
[shells.main]
codes = { upper = "P P Q Q", lower = "6 6 6 8"LOWER }
grades = { upper = { P = "thin", Q = "thick" }, lower = { 6 = "a", 8 = "a" } }
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
			`measure main bearing shells: housing codes "P P Q Q" can be read in more than one way: P P Q Q, or from the other end Q Q P P. At front the code is P or Q accordingly.`,
			`measure the housing at front`, `write it under codes, in upper_row: begins = "front" or "rear".`}},
		{"begins in front", "P P Q Q", `, upper_row = { begins = "front" }`, "thin", true, nil},
		{"begins at the rear", "P P Q Q", `, upper_row = { begins = "rear" }`, "thick", true, nil},
		{"a mark at the rear, before it", "* P P Q Q", `, upper_row = { mark = "*", mark_at = "rear" }`, "thick", true, nil},
		{"a mark of no known place", "P P Q Q *", "", "thin or thick", false, []string{"the mark * may show it"}},
		{"an illegible code too", "P ? Q Q", `, upper_row = { begins = "front" }`, "thin", true, []string{"location 2, housing code ? is not legible: find it, or measure"}},
	} {
		src := strings.Replace(bearings, `upper = "P P Q Q"`, `upper = "`+test.upper+`"`, 1)
		a := assess(t, engine+strings.Replace(src, "LOWER", test.row, 1))
		shells := a.Shells[0]
		if shells.Choices[0].Grade != test.first || (shells.Purchase != nil) != test.bought || (len(questions(a)) == 0) != (test.says == nil) || a.Proven() {
			t.Errorf("%s: in front %s, purchase %v, open %v", test.name, shells.Choices[0].Grade, shells.Purchase, questions(a))
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
	if a := assess(t, engine+src); len(questions(a)) == 0 || !strings.Contains(said(a), `in lower_row: upright = true once it is read the right way up`) {
		t.Errorf("%s", said(a))
	}
	src = strings.Replace(src, `lower_row = { begins = "front" }`, `lower_row = { begins = "front", upright = true }`, 1)
	if a := assess(t, engine+src); len(questions(a)) > 0 {
		t.Errorf("%s", said(a))
	}
}

// sized is the first main by sizes, with what is said of its bore.
func sized(limits, conditions, bore, upper, lower, journal string) string {
	return `
[measure."main bearing clearance"]
limits = "` + limits + `"
[measure."main bore"]
with = "bore gauge"
` + conditions + `
readings = { 1 = "` + bore + `" }
[measure."main upper wall thickness"]
with = "micrometer"
readings = { 1 = "` + upper + `" }
[measure."main lower wall thickness"]
with = "micrometer"
readings = { 1 = "` + lower + `" }
[measure."main journal"]
with = "micrometer"
readings = { 1 = "` + journal + `" }
`
}

const proper = `conditions = { bolts = "tightened as for assembly", shells = "out" }`

// main1 is the finding on the first main's clearance.
func main1(t *testing.T, src string) job.Finding {
	t.Helper()
	return finding(t, assess(t, src), "main bearing 1 clearance")
}

// TestHeldBack: shells that are proven wrong are not bought again. The bore is out by more
// than any doubt.
func TestHeldBack(t *testing.T) {
	a := assess(t, small+sized("0.029..0.057 mm", proper, "60.2 mm", "2 mm", "2 mm", "56 mm")+`
[shells.main]
packs = [{ name = "pair", price = "5", holds = [{ half = "upper", grade = "a" }, { half = "lower", grade = "a" }] }]
codes = { upper = "78 78", lower = "94 94" }
grades = { upper = { 78 = "a" }, lower = { 94 = "a" } }
`)
	p := a.Shells[0].Purchase
	if p == nil || len(p.Lines) != 1 || p.Lines[0].Count != 1 || a.Shells[0].HeldBack[0] != "1" {
		t.Errorf("purchase %+v, held back %v", p, a.Shells[0].HeldBack)
	}
}

// TestOneMicrometerForThreeSizes: 60 - 2 - 2 - 55.9585 = 0.0415 mm. The bore gauge is good to
// 0.003 mm, and the micrometer, of which nothing more is known, to 3 × 0.002 mm in three
// sizes: √(3² + 6²) = 6.7082.. µm in all, which is not inside 0.034..0.047. Where the
// micrometer repeats to 0.001 mm and the gauge was set in it, its common part, √(2² - 1²) =
// √3 µm, counts +1 - 1 - 1 - 1 = -2 times, its repeats once for the setting and three times
// for the sizes; the gauge's 3 µm once for its setting and once for its reading, at their
// worst: √(4·3 + 4·1 + 6²) = √52 = 7.2111 µm.
func TestOneMicrometerForThreeSizes(t *testing.T) {
	src := small + sized("0.034..0.047 mm", proper, "60 mm", "2 mm", "2 mm", "55.9585 mm")
	f := main1(t, src)
	if f.Verdict != measure.Undecided || *f.Measured.Lo != "0.0347917 mm" || *f.Measured.Hi != "0.0482083 mm" {
		t.Errorf("%s, %s to %s", f.Verdict, *f.Measured.Lo, *f.Measured.Hi)
	}
	if !strings.Contains(f.Advice, "settles it nine times in ten") {
		t.Errorf("advice %q", f.Advice)
	}
	f = main1(t, "combine = \"at worst\"\n"+src)
	if *f.Measured.Lo != "0.0325 mm" || *f.Measured.Hi != "0.0505 mm" { // 0.003 + 3 × 0.002
		t.Errorf("at worst: %s to %s", *f.Measured.Lo, *f.Measured.Hi)
	}
	set := strings.Replace(src, `uncertainty = "0.002 mm"`, "uncertainty = \"0.002 mm\"\nrepeats = \"0.001 mm\"", 1)
	set = strings.Replace(set, `kind = "bore gauge"`, "kind = \"bore gauge\"\nset_on = \"micrometer\"", 1)
	f = main1(t, set)
	if f.Working == nil || *f.Measured.Lo != "0.0342888 mm" || *f.Measured.Hi != "0.0487112 mm" { // 7.2112, rounded up
		t.Errorf("set in the micrometer: %s to %s\n%s", *f.Measured.Lo, *f.Measured.Hi, f.Working)
	}
	// The same at k = 4, with its few degrees of freedom, is half as wide or less.
	few := strings.Replace(src, `uncertainty = "0.003 mm"`, "uncertainty = \"0.003 mm\"\nk = 4\nfreedom = 5", 1)
	few = strings.Replace(few, `uncertainty = "0.002 mm"`, "limit_of_error = \"0.001 mm\"", 1)
	// t(0.9545, 5) = 2.6487, of u = 0.75 µm: 1.9865 µm; and 3 × 1 µm of brackets.
	if f = main1(t, few); f.Measured.Text != "0.0365..0.0465 mm" {
		t.Errorf("k, freedom and a limit of error: %s", f.Measured.Text)
	}
}

// TestConditionsOfBores: what is not said of the bores, or said otherwise, proves nothing,
// and the record says what to write. 60.010 - 2 - 2 - 55.970 = 0.040 is well inside.
func TestConditionsOfBores(t *testing.T) {
	sizes := func(limits, conditions string) string {
		return small + sized(limits, conditions, "60.010 mm", "2 mm", "2 mm", "55.970 mm")
	}
	for _, test := range []struct {
		name, says string
		want       measure.Verdict
		advice     string
	}{
		{"nothing", "", measure.Undecided, `housing bore: bolts: tightened as for assembly is needed, and not stated; once it was read so, say it under conditions`},
		{"loose", `conditions = { bolts = "loose", shells = "out" }`, measure.Undecided, "it was read with bolts: loose"},
		{"a torque", `conditions = { bolts = "tightened to 40 N·m", shells = "out" }`, measure.Undecided, "bolts: tightened to 40 N·m"},
		{"no shells", `conditions = { bolts = "tightened as for assembly" }`, measure.Undecided, "shells: out is needed, and not stated"},
		{"open", `conditions = { bolts = "tightened as for assembly", shells = "?" }`, measure.Undecided, "shells: out is needed, and not stated"},
		{"shells in", `conditions = { bolts = "tightened as for assembly", shells = "in" }`, measure.Undecided, "it was read with shells: in"},
		{"all", proper, measure.Conforming, ""},
	} {
		f := main1(t, sizes("0.029..0.057 mm", test.says))
		if f.Verdict != test.want || !strings.Contains(f.Advice, test.advice) {
			t.Errorf("%s: %s, %q", test.name, f.Verdict, f.Advice)
		}
		if f.Measured.Lo == nil || *f.Measured.Lo != "0.0332917 mm" {
			t.Errorf("%s: what was read is not shown: %+v", test.name, f.Measured)
		}
	}
	// Without the conditions no shell is offered and none is found wanting.
	const walls = "[shells.main]\nwalls = { upper = { a = \"1.99 mm\" }, lower = { a = \"1.99 mm\" } }\n"
	if f := main1(t, sizes("0.060..0.070 mm", "")+walls); len(f.Remedies) > 0 {
		t.Errorf("bores of which nothing is said: %q", f.Remedies)
	}
	// With both, 0.060 ± √(3² + 2²) µm; with one, 0.050 and less.
	if f := main1(t, sizes("0.050..0.070 mm", proper)+walls); len(f.Remedies) != 1 || !strings.Contains(f.Remedies[0], "upper shell a and lower shell a") {
		t.Errorf("bores read as for assembly: %q", f.Remedies)
	}
	both := strings.Replace(sizes("0.029..0.057 mm", ""), `limits = "0.029..0.057 mm"`, "limits = \"0.029..0.057 mm\"\n"+asRead+`readings = { 1 = "0.038 mm" }`, 1)
	if f := main1(t, both); f.Verdict != measure.Conforming || !strings.Contains(f.Working.Text(), "the parts prove nothing") {
		t.Errorf("a strip beside them: %s\n%s", f.Verdict, f.Working)
	}
}

// TestConditionsOfAStrip: a strip of which it is not said that the crankshaft was not
// turned proves nothing.
func TestConditionsOfAStrip(t *testing.T) {
	src := small + strips("0.029..0.057 mm", "0.038 mm", "0.038 mm")
	if f := main1(t, src); f.Verdict != measure.Conforming {
		t.Fatalf("%s", f.Verdict)
	}
	for _, without := range []string{`crankshaft = "not turned", `, `, oil = "wiped off"`, `bolts = "tightened as for assembly", `} {
		if f := main1(t, strings.Replace(src, without, "", 1)); f.Verdict != measure.Undecided || !strings.Contains(f.Advice, "is needed, and not stated") {
			t.Errorf("without %s: %s, %q", without, f.Verdict, f.Advice)
		}
	}
}

// TestStripTolerance: nearest to 0.038 mm is 0.0301587… and more, inside 0.029..0.057 mm;
// a strip that may be off by 0.002 mm leaves it open.
func TestStripTolerance(t *testing.T) {
	const widths = `widths = ["0.025 mm", "0.038 mm", "0.051 mm"]`
	src := small + strips("0.029..0.057 mm", "0.038 mm", "?")
	exact, off := main1(t, src), main1(t, strings.Replace(src, widths, widths+"\ntolerance = \"0.002 mm\"", 1))
	if exact.Verdict != measure.Conforming || off.Verdict != measure.Undecided {
		t.Errorf("%s, and with a tolerance %s", exact.Verdict, off.Verdict)
	}
	if !strings.Contains(off.How, "±0.002 mm at most") {
		t.Errorf("how: %q", off.How)
	}
}

// TestDisagreement: a strip and sizes that cannot both be right prove nothing.
func TestDisagreement(t *testing.T) {
	src := strings.Replace(small+sized("0.029..0.057 mm", proper, "60.1 mm", "2 mm", "2 mm", "56 mm"),
		`limits = "0.029..0.057 mm"`, "limits = \"0.029..0.057 mm\"\n"+asRead+`readings = { 1 = "0.038 mm" }`, 1)
	if f := main1(t, src); f.Verdict != measure.Undecided || !strings.Contains(f.Advice, "do not agree") {
		t.Errorf("%s, %q", f.Verdict, f.Advice)
	}
}

// TestSlip: a reading ten times what it should be is called a probable slip and proves
// nothing, until it was read again.
func TestSlip(t *testing.T) {
	const gauge = "[instruments.dial]\nkind = \"dial\"\nuncertainty = \"0.005 mm\"\nturn = \"5 mm\"\n"
	src := small + gauge + endPlay("0.15..0.32 mm", "dial", "0 to 1.5 mm")
	if f := finding(t, assess(t, src), "crankshaft end play"); f.Verdict != measure.Undecided || !strings.Contains(f.Slip, "decimal point one place to the left") {
		t.Errorf("%s, slip %q", f.Verdict, f.Slip)
	}
	if f := finding(t, assess(t, src+"sure = [\"crankshaft\"]\n"), "crankshaft end play"); f.Verdict != measure.AboveLimit || f.Slip != "" {
		t.Errorf("read again: %s, slip %q", f.Verdict, f.Slip)
	}
}

// TestLostTurn: a dial whose hand went round once more than was counted.
func TestLostTurn(t *testing.T) {
	const gauge = "[instruments.dial]\nkind = \"dial\"\nuncertainty = \"0.005 mm\"\n"
	f := finding(t, assess(t, small+gauge+endPlay("0.15..0.32 mm", "dial", "0.10 to 1.30 mm")), "crankshaft end play")
	if f.Verdict != measure.Undecided || !strings.Contains(f.Slip, "one turn of 1 mm less would make it 0.195..0.205 mm, conforming") {
		t.Errorf("%s, slip %q", f.Verdict, f.Slip)
	}
}

// TestUsedBolts: a stretch of at most 0.13 mm from 44.30 ±0.06 mm, by hand. 44.32 ±0.03 mm is
// longer by at most 44.35 - 44.24 = 0.11 mm; 44.42 by 0.03..0.21 mm, and 44.60 by 44.57 - 44.36
// = 0.21 mm at least. 44.16 would be shorter by 0.05 mm at least, which no bolt gets. The length
// proves a bolt good up to 44.24 + 0.13 = 44.37 mm and scrap above 44.36 + 0.13 = 44.49 mm.
func TestUsedBolts(t *testing.T) {
	a := assess(t, small+`
[instruments.caliper]
kind = "caliper"
uncertainty = "0.03 mm"
[bolts.rods]
new_length = "44.30 ±0.06 mm"
longest_stretch = "0.13 mm"
with = "caliper"
lengths = { 1a = "44.32 mm", 1b = "44.42 mm", 2a = "44.60 mm", 2b = "44.16 mm" }
[bolts.mains]
longest_length = "62.12 mm"
lengths = { m1 = "62.10..62.20 mm" }
new = ["m2"]
[bolts.yields]
sound = "all"
[[tightening]]
group = "rods"
bolts = ["1a", "1b", "2a", "2b", "3a"]
single_use = false
stages = [{ torque = "20 N·m" }]
[[tightening]]
group = "mains"
bolts = ["m1", "m2", "m3"]
single_use = false
stages = [{ torque = "20 N·m" }]
[[tightening]]
group = "yields"
bolts = ["y"]
single_use = true
stages = [{ torque = "20 N·m" }]
`)
	for _, want := range []struct {
		name     string
		verdict  measure.Verdict
		text     string
		advice   string
		item     string
		standing job.Standing
	}{
		{"rods 1a stretch", measure.Conforming, "0.000..0.110 mm", "", "rods 1a", job.Proven},
		{"rods 1b stretch", measure.Undecided, "0.030..0.210 mm", "at most 44.370 mm, uncertainty counted, is good, and above 44.490 mm is scrap", "rods 1b", job.Undecided},
		{"rods 2a stretch", measure.AboveLimit, "0.210..0.390 mm", "by 0.080..0.260 mm", "rods 2a", job.Wrong},
		{"rods 2b stretch", measure.Undecided, "-0.230..-0.050 mm", "shorter than when new", "rods 2b", job.Undecided},
		{"rods 3a stretch", measure.Undecided, "not measured", "", "rods 3a", job.NotMeasured},
		// Spread evenly over 0.1 mm, it is settled by ±U unless within U of the limit: 1 - 2U/0.1 = 0.9.
		{"mains m1 length", measure.Undecided, "62.100..62.200 mm", "measure it to ±0.0050 mm, which settles it nine times in ten", "mains m1", job.Undecided},
	} {
		f := finding(t, a, want.name)
		if f.Verdict != want.verdict || f.Measured.Text != want.text || !strings.Contains(f.Advice, want.advice) {
			t.Errorf("%s: %s of %s, %q; want %s of %s, %q", want.name, f.Verdict, f.Measured.Text, f.Advice, want.verdict, want.text, want.advice)
		}
		if i := item(t, a, want.item); i.Standing != want.standing {
			t.Errorf("%s: %s, want %s", want.item, i.Standing, want.standing)
		}
	}
	for name, want := range map[string]job.Standing{"mains m2": job.Proven, "mains m3": job.NotMeasured, "yields y": job.Wrong} {
		if i := item(t, a, name); i.Standing != want {
			t.Errorf("%s: %s, want %s: %s", name, i.Standing, want, i.Why)
		}
	}
	if held := a.Held(); len(held) != 7 || !strings.Contains(held["y"], "its group is used once") || !strings.Contains(held["2a"], "scrap: fit a new one") {
		t.Errorf("held: %q", held)
	}
}

// TestNoWordForAScrapBolt: nobody's word puts back a bolt that is proven wrong.
func TestNoWordForAScrapBolt(t *testing.T) {
	a := assess(t, small+`
[bolts.rods]
scrap = ["1a"]
[[tightening]]
group = "rods"
bolts = ["1a", "1b"]
single_use = false
stages = [{ torque = "20 N·m" }]
[[accepted]]
what = "rods 1a"
by = "the builder"
reason = "it looks good"
[[accepted]]
what = "rods 1b"
by = "the builder"
reason = "new out of the box"
`)
	if i := item(t, a, "rods 1a"); i.Excuse != nil || a.Held()["1a"] == "" {
		t.Errorf("scrap is accepted: %+v", i)
	}
	if i := item(t, a, "rods 1b"); i.Excuse == nil || a.Held()["1b"] != "" {
		t.Errorf("a bolt of which nothing is known is not accepted: %+v", i)
	}
}
