package job_test

import (
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/examples/kit/job"
	"example.com/closefit/grading"
	"example.com/closefit/units/measure"
)

// four is an invented engine of four mains and its gauges, good to 0.001 mm.
const four = `
title = "t"
[engine]
cylinders = 1
mains = 4
thrust = "1"
rings = ["ring"]
passages = ["p"]
[instruments.gauge]
kind = "bore gauge"
uncertainty = "0.001 mm"
[instruments.micrometer]
kind = "micrometer"
uncertainty = "0.001 mm"
[instruments.strip]
kind = "crush strip"
widths = ["0.020 mm", "0.040 mm", "0.060 mm"]
[measure."main bearing clearance"]
limits = "0.025..0.055 mm"
`

// The rows of its codes, and what they call for when each half has its own code.
const (
	stamped    = "[shells.main]\ncodes = { upper = \"A B A B\", lower = \"1 2 2 1\", upper_row = { begins = \"1\" }, lower_row = { begins = \"1\" } }\n"
	eachHalf   = "grades = { upper = { A = \"red\", B = \"blue\" }, lower = { 1 = \"red\", 2 = \"blue\" } }\n"
	codeSizes  = "sizes = { upper = { A = \"60.000..60.006 mm\", B = \"60.006..60.012 mm\" }, lower = { 1 = \"55.960..55.966 mm\", 2 = \"55.954..55.960 mm\" } }\n"
	threeWalls = "walls = { both = { red = \"2.000..2.002 mm\", blue = \"2.003..2.005 mm\", green = \"2.006..2.008 mm\" } }\n"
	pairPacks  = "packs = [" +
		"{ name = \"red pair\", price = \"5\", holds = [{ half = \"upper\", grade = \"red\" }, { half = \"lower\", grade = \"red\" }] }, " +
		"{ name = \"blue pair\", price = \"4\", holds = [{ half = \"upper\", grade = \"blue\" }, { half = \"lower\", grade = \"blue\" }] }, " +
		"{ name = \"green pair\", price = \"6\", holds = [{ half = \"upper\", grade = \"green\" }, { half = \"lower\", grade = \"green\" }] }]\n"
)

// measured is a line of readings, as "1 = 60.003, 2 = 60.009".
func measured(line, with, conditions, readings string) string {
	if readings == "" {
		return ""
	}
	text := "[measure.\"" + line + "\"]\nwith = \"" + with + "\"\n" + conditions + "\n[measure.\"" + line + "\".readings]\n"
	for one := range strings.SplitSeq(readings, ", ") {
		location, size, _ := strings.Cut(one, " = ")
		text += fmt.Sprintf("%s = \"%s mm\"\n", location, size)
	}
	return text
}

// boresAndJournals are those that were measured.
func boresAndJournals(bores, journals string) string {
	return measured("main bore", "gauge", proper, bores) + measured("main journal", "micrometer", "", journals)
}

// fitted are the shells of every location of the first set: "red/blue".
func fitted(a *job.Assessment) string {
	var texts []string
	for i := 0; i+1 < len(a.Shells[0].Choices); i += 2 {
		texts = append(texts, a.Shells[0].Choices[i].Grade+"/"+a.Shells[0].Choices[i+1].Grade)
	}
	return strings.Join(texts, " ")
}

// TestFormsOfCodes: each half by its own code, both by a matrix, and both by a sum, in the
// job and in a file beside it. By hand, of A1 B2 A2 B1: each half red red, blue blue, red
// blue, blue red; the matrix has its cells as they are written; the sums of A = 1, B = 2 and
// the numbers 1 and 2 are 2, 4, 3, 3.
func TestFormsOfCodes(t *testing.T) {
	const tomlScheme = `
name = "mains"
matrix = [["", "1", "2"], ["A", "red", "red/blue"], ["B", "green", "blue"]]
limits = "0.025..0.055 mm"
[[housing]]
code = "A"
[[housing]]
code = "B"
[[journal]]
code = "1"
[[journal]]
code = "2"
`
	const csvScheme = "scheme,mains\nhousing,A,,1\nhousing,B,,2\njournal,1\njournal,2\nsum,2,2,red\nsum,3,3,red/blue\nsum,4,4,blue\n"
	beside := fstest.MapFS{"mains.toml": {Data: []byte(tomlScheme)}, "schemes/mains.csv": {Data: []byte(csvScheme)}}
	for _, test := range []struct{ name, form, want string }{
		{"each half", eachHalf, "red/red blue/blue red/blue blue/red"},
		{"a matrix", `matrix = [["", "1", "2"], ["A", "red", "red/blue"], ["B", "green", "blue"]]`, "red/red blue/blue red/blue green/green"},
		{"a sum", "sum = [{ from = 2, shells = \"red\" }, { from = 3, shells = \"red/blue\" }, { from = 4, to = 5, shells = \"blue\" }]\n" +
			"numbers = { upper = { A = 1, B = 2 }, lower = { 1 = 1, 2 = 2 } }", "red/red blue/blue red/blue red/blue"},
		{"a matrix in a file", `scheme = "mains.toml"`, "red/red blue/blue red/blue green/green"},
		{"a sum in lines of values", `scheme = "schemes/mains.csv"`, "red/red blue/blue red/blue red/blue"},
	} {
		j, err := job.ReadBeside(beside, "job.toml", []byte(four+stamped+test.form))
		if err != nil {
			t.Errorf("%s: %v", test.name, err)
			continue
		}
		a, err := j.Assess(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		if got := fitted(a); got != test.want {
			t.Errorf("%s: %s, want %s", test.name, got, test.want)
		}
	}
	// The limits of a scheme are those of the job that has none of its own.
	src := strings.Replace(four, "limits = \"0.025..0.055 mm\"\n", "", 1) + stamped + `scheme = "mains.toml"`
	j, err := job.ReadBeside(beside, "job.toml", []byte(src))
	if err != nil {
		t.Fatal(err)
	}
	a, err := j.Assess(t.Context())
	if f := finding(t, a, "main bearing 1 clearance"); err != nil || f.Tolerance.Text != "0.025..0.055 mm" {
		t.Errorf("limits %s, %v", f.Tolerance.Text, err)
	}
}

// TestSchemeFiles: what is wrong with a file beside the job, or in it, is said with the
// name and the lines of that file.
func TestSchemeFiles(t *testing.T) {
	beside := fstest.MapFS{
		"bad.toml":    {Data: []byte("name = \"mains\"\n[[housing]]\ncod = \"A\"\n[[journal]]\nshel = \"x\"\n")},
		"bad.csv":     {Data: []byte("scheme,mains\nhousing,A,red\njornal,1,red\n")},
		"open.toml":   {Data: []byte("name = \"mains\"\n[[housing]]\ncode = \"A\"\nshell = \"red\"\n")},
		"limits.toml": {Data: []byte("name = \"mains\"\nlimits = \"0.024..0.055 mm\"\nhousing = [{ code = \"A\", shell = \"red\" }, { code = \"B\", shell = \"blue\" }]\njournal = [{ code = \"1\", shell = \"red\" }, { code = \"2\", shell = \"red\" }]\n")},
		"long.toml":   {Data: slices.Repeat([]byte("#\n"), 1<<20)},
		"folder":      {Mode: fs.ModeDir},
	}
	for _, test := range []struct {
		name   string
		beside fs.FS
		scheme string
		says   []string
		kind   error
	}{
		{"two faults in TOML", beside, `scheme = "bad.toml"`, []string{`bad.toml:3: `, `write code`, `bad.toml:5: `, `write shell`}, tomlfile.ErrUnknownKey},
		{"a fault in lines of values", beside, `scheme = "bad.csv"`, []string{"bad.csv: line 3", `"jornal"`}, grading.ErrScheme},
		{"a scheme that leaves out a side", beside, `scheme = "open.toml"`, []string{"open.toml: ", "journal: ", "no codes; list them"}, grading.ErrScheme},
		{"other limits than the job's", beside, `scheme = "limits.toml"`, []string{"job.toml:22: shells.main.scheme: limits of 0.024..0.055 mm in the scheme, and 0.025..0.055 mm under", "keep one"}, job.ErrTwice},
		{"no such file", beside, `scheme = "main.toml"`, []string{`shells.main.scheme: "main.toml": file does not exist; write the name of a file in the job's folder`}, fs.ErrNotExist},
		{"another folder", beside, `scheme = "../mains.toml"`, []string{"write the name of a file in the job's folder"}, fs.ErrInvalid},
		{"a folder", beside, `scheme = "folder"`, []string{"is a folder"}, nil},
		{"a long one", beside, `scheme = "long.toml"`, []string{"a scheme has at most 1048576"}, nil},
		{"a job without a folder", nil, `scheme = "limits.toml"`, []string{"was not read from a folder", "write the scheme into the job"}, nil},
		{"said twice", beside, "scheme = \"limits.toml\"\n" + eachHalf, []string{"shells.main.grades: grades beside a scheme", "keep one"}, job.ErrTwice},
	} {
		_, err := job.ReadBeside(test.beside, "job.toml", []byte(four+stamped+test.scheme))
		if err == nil {
			t.Errorf("%s: no error", test.name)
			continue
		}
		for _, say := range test.says {
			if !strings.Contains(err.Error(), say) {
				t.Errorf("%s: does not say %q:\n%v", test.name, say, err)
			}
		}
		if test.kind != nil && !errors.Is(err, test.kind) {
			t.Errorf("%s: error is not %q:\n%v", test.name, test.kind, err)
		}
	}
}

// TestShellInput: what is said wrongly of shells is an error at its key, with the nearest
// name.
func TestShellInput(t *testing.T) {
	const all = stamped + eachHalf + codeSizes + threeWalls + pairPacks
	for _, test := range []struct {
		name, src, at, say string
		kind               error
	}{
		{"a misspelt grade of a code", strings.Replace(all, `B = "blue"`, `B = "bleu"`, 1), "shells.main.grades.upper.B: ", `upper shell "bleu": unknown name; write "blue"`, job.ErrUnknown},
		{"a misspelt grade in a matrix", stamped + threeWalls + `matrix = [["", "1", "2"], ["A", "red", "red/bleu"], ["B", "green", "blue"]]`, "shells.main.matrix[1][2]: ", `write "blue"`, job.ErrUnknown},
		{"a misspelt grade of a sum", stamped + threeWalls + "numbers = { upper = { A = 1, B = 2 }, lower = { 1 = 1, 2 = 2 } }\nsum = [{ from = 2, to = 4, shells = \"gren\" }]", "shells.main.sum[0].shells: ", `write "green"`, job.ErrUnknown},
		{"a misspelt grade in a pack", strings.Replace(all, `grade = "green"`, `grade = "geen"`, 1), "shells.main.packs[2].holds[0].grade: ", `write "green"`, job.ErrUnknown},
		{"a misspelt grade on hand", all + `stock = [{ half = "upper", grade = "Red" }]`, "shells.main.stock[0].grade: ", `write "red"`, job.ErrUnknown},
		{"a misspelt grade to fit", all + `fit = { 3 = "upper gren, lower red" }`, "shells.main.fit.3: ", `write "green"`, job.ErrUnknown},
		{"a half twice to fit", all + `fit = { 3 = "upper green, upper red" }`, "shells.main.fit.3: ", "the upper shell: given twice", job.ErrTwice},
		{"a fit of no location", all + `fit = { 5 = "green" }`, "shells.main.fit.5: ", "write one of 1, 2, 3, 4", job.ErrUnknown},
		{"an answer for no location", all + `sure = ["7"]`, "shells.main.sure[0]: ", "write one of 1, 2, 3, 4", job.ErrUnknown},
		{"an unknown way to choose", all + `choose = "by size"`, "shells.main.choose: ", `write "by sizes"`, job.ErrUnknown},
		{"by codes without codes", "[shells.main]\n" + threeWalls + `choose = "by codes"`, "shells.main.choose: ", "add [shells.main.codes]", job.ErrMissing},
		{"by sizes without walls", stamped + eachHalf + `choose = "by sizes"`, "shells.main.choose: ", "add [shells.main.walls]", job.ErrMissing},
		{"two forms", all + `matrix = [["", "1"], ["A", "red"]]`, "shells.main.matrix: ", "grades and matrix: more than one answer", job.ErrAmbiguous},
		{"codes without a form", stamped + threeWalls, "shells.main.codes: ", "add [shells.main.grades]", job.ErrMissing},
		{"a form without codes", "[shells.main]\n" + eachHalf, "shells.main.grades: ", "add [shells.main.codes]", job.ErrMissing},
		{"a sum without numbers", stamped + `sum = [{ from = 2, shells = "red" }]`, "shells.main.sum: ", "add numbers =", job.ErrMissing},
		{"numbers without a sum", all + `numbers = { upper = { A = 1 } }`, "shells.main.numbers: ", "add sum", job.ErrMissing},
		{"a sum that nothing has", stamped + "numbers = { upper = { A = 1, B = 2 }, lower = { 1 = 1, 2 = 2 } }\nsum = [{ from = 2, to = 3, shells = \"red\" }]", "shells.main: ", "no range of sums holds 2 + 2 = 4", grading.ErrScheme},
		{"a short row of a matrix", stamped + `matrix = [["", "1", "2"], ["A", "red"], ["B", "green", "blue"]]`, "shells.main.matrix[1]: ", "2 cells in a matrix of 3 columns", job.ErrCount},
		{"a matrix without its corner", stamped + `matrix = [["1", "2"], ["A", "red"]]`, "shells.main.matrix: ", "behind an empty corner", nil},
		{"the size of no code", strings.Replace(all, `B = "60.006`, `C = "60.006`, 1), "shells.main.sizes.upper.C: ", "write one of A, B", job.ErrUnknown},
		{"a size without its range", strings.Replace(all, `"60.006..60.012 mm"`, `"60.006 mm"`, 1), "shells.main.sizes.upper.B: ", "two bounds", nil},
		{"a size in another unit", strings.Replace(all, `"60.006..60.012 mm"`, `"60.006..60.012 in"`, 1), "shells.main: ", "look at points and units", grading.ErrScheme},
		{"a wall twice", strings.Replace(all, `walls = { both = {`, `walls = { upper = { red = "2.000..2.003 mm" }, both = {`, 1), "shells.main.walls.both.red: ", "under both and for one half", job.ErrTwice},
		{"a wall for each half of shells alike", "[shells.main]\ninterchangeable = true\nwalls = { upper = { red = \"2.000..2.003 mm\" } }", "shells.main.walls.upper: ", "write them under both", job.ErrAmbiguous},
		{"a half of shells alike", "[shells.main]\ninterchangeable = true\n" + threeWalls + `stock = [{ half = "upper", grade = "red" }]`, "shells.main.stock[0].half: ", "leave it out", job.ErrAmbiguous},
		{"a half of a washer", all + `stock = [{ half = "front", grade = "red" }]`, "shells.main.stock[0].half: ", `write "upper" or "lower"`, nil},
		{"wanted outside the limits", all + `wanted = "0.06 mm"`, "shells.main.wanted: ", "outside the limits of 0.025..0.055 mm", nil},
		{"a mix below zero", all + "mix = -1", "shells.main.mix: ", "write 0 for one grade", nil},
		{"an undersize of nothing ground", all + `undersize = "0.25 mm"`, "shells.main.undersize: ", `write ground = ["1"]`, job.ErrMissing},
		{"an undersize of another journal", all + "ground = [\"2\"]\nundersize = { 3 = \"0.25 mm\", 2 = \"0.25 mm\" }", "shells.main.undersize.3: ", `write ground = ["3"]`, job.ErrMissing},
		{"ground to nothing", all + `ground = ["2"]`, "shells.main.ground: ", `write undersize = "0.25 mm"`, job.ErrMissing},
		{"ground at no journal", all + "ground = [\"6\"]\nundersize = \"0.25 mm\"", "shells.main.ground[0]: ", "write one of 1, 2, 3, 4", job.ErrUnknown},
		{"an undersize without its unit", all + "ground = [\"2\"]\nundersize = \"0.25\"", "shells.main.undersize: ", `write "0.25 mm"`, nil},
		{"an undersize that is a size", all + "ground = [\"2\"]\nundersize = \"55.71 mm\"", "shells.main.undersize: ", "by how much", grading.ErrScheme},
		{"an undersize that is not listed", all + "ground = [\"2\"]\nundersize = \"0.52 mm\"\nundersizes.\"0.25 mm\".both = { red = \"2.125..2.127 mm\", blue = \"2.128..2.130 mm\" }", "shells.main.undersize: ", `write "0.25 mm"`, job.ErrUnknown},
		{"shells of nothing", "[shells.cam]\n" + threeWalls, "shells.cam: ", "write one of main, rod", job.ErrUnknown},
	} {
		_, err := job.Read("job.toml", []byte(four+test.src))
		switch {
		case err == nil:
			t.Errorf("%s: no error", test.name)
		case !strings.Contains(err.Error(), test.at) || !strings.Contains(err.Error(), test.say):
			t.Errorf("%s: does not say %q at %q:\n%v", test.name, test.say, test.at, err)
		case test.kind != nil && !errors.Is(err, test.kind):
			t.Errorf("%s: error is not %q:\n%v", test.name, test.kind, err)
		}
	}
}

// questions are what keeps shells open, each once.
func questions(a *job.Assessment) []job.Action {
	var list []job.Action
	for _, l := range a.Shells[0].Locations {
		for _, do := range l.Do {
			if !slices.Contains(list, do) {
				list = append(list, do)
			}
		}
	}
	return list
}

// standings are those of the shells of each main.
func standings(t *testing.T, a *job.Assessment) string {
	t.Helper()
	var list []string
	for _, l := range a.Shells[0].Locations {
		if i := item(t, a, "main bearing "+l.Location+" shells"); i.Standing != l.Standing || i.Why != l.Why {
			t.Errorf("the item of %s is %s, %q, and the shells are %s, %q", l.Location, i.Standing, i.Why, l.Standing, l.Why)
		}
		list = append(list, l.Standing.String())
	}
	return strings.Join(list, ", ")
}

// TestBySizes: without codes, shells are chosen by the sizes. By hand at 1: 60.003 - 55.963
// = 4.040 mm, good to 0.002; less two walls of 2.001, 2.004 and 2.007, each good to 0.001:
// 0.038, 0.032 and 0.026 ±0.004 mm, so that red and blue are inside 0.025..0.055, and red is
// nearest to the middle; the cheapest is blue. At 2, 60.009 - 55.957 = 4.052: 0.050, 0.044
// and 0.038, and red is not. At 3 only the bore is known.
func TestBySizes(t *testing.T) {
	sizes := boresAndJournals("1 = 60.003, 2 = 60.009, 3 = 60.003", "1 = 55.963, 2 = 55.957")
	a := assess(t, four+sizes+"[shells.main]\n"+threeWalls+pairPacks)
	if got := fitted(a); got != "blue/blue blue/blue / /" {
		t.Errorf("%s", got)
	}
	if got := standings(t, a); got != "to order, to order, not measured, not measured" {
		t.Errorf("%s", got)
	}
	if s := a.Shells[0].Locations[0]; s.By != "sizes" || s.Codes != "" || s.Sizes != "upper red, lower red (0.034..0.042 mm); or upper blue, lower blue (0.028..0.036 mm)" {
		t.Errorf("%+v", s)
	}
	if p := a.Shells[0].Purchase; p == nil || p.Total != "8.00" || p.Lines[0].Count != 2 {
		t.Errorf("%+v", p)
	}
	if !strings.Contains(said(a), "main bearing 3 shells: no codes are stated. To choose them by sizes, add main journal 3; or write fit = { 3 = ") || !strings.Contains(said(a), "nothing for 3, 4, whose shells are open") {
		t.Errorf("%s", said(a))
	}
	// What is on hand costs nothing.
	a = assess(t, four+sizes+"[shells.main]\n"+threeWalls+pairPacks+`stock = [{ half = "upper", grade = "red" }, { half = "lower", grade = "red" }]`)
	if got := fitted(a); got != "red/red blue/blue / /" || standings(t, a) != "proven, to order, not measured, not measured" {
		t.Errorf("%s: %s", got, standings(t, a))
	}
	// Halves a step apart may be mixed if the job says so: 4.040 - 2.001 - 2.004 = 0.035.
	a = assess(t, four+sizes+"[shells.main]\nmix = 1\n"+threeWalls+pairPacks)
	if s := a.Shells[0].Locations[0].Sizes; !strings.Contains(s, "upper red, lower blue (0.031..0.039 mm)") {
		t.Errorf("%s", s)
	}
	// Bores of which it is not said how they were read prove nothing, and a slip neither.
	for _, src := range []string{strings.Replace(sizes, proper, "", 1), strings.Replace(sizes, "1 = \"60.003 mm\"", "1 = \"60.003 in\"", 1)} {
		if a := assess(t, four+src+"[shells.main]\n"+threeWalls+pairPacks); a.Shells[0].Locations[0].Sizes != "" {
			t.Errorf("chosen by %s", a.Shells[0].Locations[0].Sizes)
		}
	}
	// No pair is inside: 60.003 - 55.993 - 2 × 2.001 = 0.008.
	a = assess(t, four+boresAndJournals("1 = 60.003", "1 = 55.993")+"[shells.main]\n"+threeWalls+pairPacks)
	if i := item(t, a, "main bearing 1 shells"); i.Standing != job.Undecided || !strings.Contains(i.Why, "no pair that exists is proven inside; the nearest, upper red, lower red, would give 0.004..0.012 mm, below limit: look for another grade") {
		t.Errorf("%+v", i)
	}
}

// TestCodesAndSizes: where both are known both are shown. By hand at 2, B2 call for blue and
// blue; 60.009 - 55.957 - 4.008 = 0.044 ±0.004 is inside, so they agree. At 1, A1 call for red
// and red; 60.003 - 55.975 = 4.028, less 4.002 is 0.026 ±0.004 mm, not proven inside; nothing
// that exists is. With 55.942, red is 0.059 ±0.004, and green 4.061 - 4.014 = 0.047 ±0.004.
func TestCodesAndSizes(t *testing.T) {
	src := func(journal, say string) string {
		return four + boresAndJournals("1 = 60.003, 2 = 60.009", "1 = "+journal+", 2 = 55.957") + stamped + eachHalf + threeWalls + pairPacks + say
	}
	a := assess(t, src("55.942", ""))
	one, two := a.Shells[0].Locations[0], a.Shells[0].Locations[1]
	if two.By != "codes" || two.Codes != "upper blue, lower blue" || len(two.Notes) != 1 || two.Notes[0] != "by its sizes these are inside: 0.040..0.048 mm" || two.Standing != job.ToOrder {
		t.Errorf("where they agree: %+v", two)
	}
	if one.By != "" || one.Standing != job.Undecided || one.Codes != "upper red, lower red" || !strings.HasPrefix(one.Sizes, "upper green, lower green") ||
		!strings.Contains(one.Why, `write fit = { 1 = "upper green, lower green" }, or choose = "by codes" or "by sizes", under shells.main`) {
		t.Errorf("where they differ: %+v", one)
	}
	if n := len(questions(a)); n != 1 {
		t.Errorf("%d questions for one location:\n%s", n, said(a))
	}
	for say, want := range map[string]string{`choose = "by codes"`: "red/red", "choose = \"by sizes\"\nmix = 0": "green/green", `fit = { 1 = "blue" }`: "blue/blue", `fit = { 1 = "upper green" }`: "green/red"} {
		a := assess(t, src("55.942", say))
		if got, _, _ := strings.Cut(fitted(a), " "); got != want || a.Shells[0].Locations[0].By == "" {
			t.Errorf("%s: %s, want %s: %+v", say, got, want, a.Shells[0].Locations[0])
		}
	}
	// By sizes where nothing was measured is open, whatever the codes are.
	if got := standings(t, assess(t, src("55.942", `choose = "by sizes"`))); got != "to order, to order, not measured, not measured" {
		t.Errorf("%s", got)
	}
	// An illegible code is found by the size: of A and B, 60.009 is B.
	ruled := strings.Replace(four+boresAndJournals("2 = 60.009", "2 = 55.957")+stamped+eachHalf+codeSizes+threeWalls+pairPacks, "A B A B", "A ? A B", 1)
	if a := assess(t, ruled); fitted(a) != "red/red blue/blue red/blue blue/red" || a.Shells[0].Locations[1].Notes[0] != "by its size the code of the housing is B" {
		t.Errorf("%s, %+v", fitted(a), a.Shells[0].Locations[1])
	}
	// Of a row that reads from either end, one bore tells which it is: at 1, 60.009 is B.
	src2 := strings.Replace(four+boresAndJournals("1 = 60.009", "1 = 55.963")+stamped+eachHalf+codeSizes+threeWalls+pairPacks, `, upper_row = { begins = "1" }`, "", 1)
	if a := assess(t, src2); fitted(a) != "blue/red red/blue blue/blue red/red" || len(questions(a)) > 0 {
		t.Errorf("%s\n%s", fitted(a), said(a))
	}
}

// TestOutsideItsClass: a bore or a journal that does not have the size of its code is named
// with what it may be, and its shells are open until somebody has looked again. By hand: at
// 1 code A is 60.000..60.006 mm, and 1 is 55.960..55.966 mm.
func TestOutsideItsClass(t *testing.T) {
	for _, test := range []struct {
		name, bores, journals string
		says                  []string
		open                  string // locations
	}{
		{"in their classes", "1 = 60.003, 2 = 60.009", "1 = 55.963, 2 = 55.957", nil, ""},
		{"on the border", "1 = 60.007", "1 = 55.967", nil, ""}, // ±0.001 reaches it
		{"a worn journal", "", "1 = 55.945", []string{"main journal 1 measures 55.944..55.946 mm, and code 1 is 55.960..55.966 mm. It may be worn, or its code was read wrong. Look again", `write sure = ["1"] under shells.main`}, "1"},
		{"a journal that grew", "", "2 = 55.972", []string{"main journal 2 measures 55.971..55.973 mm, and code 2 is 55.954..55.960 mm. No journal grows: its code was read wrong, or it is of another crankshaft."}, "2"},
		{"another code", "", "2 = 55.964", []string{": it has the size of code 1."}, "2"},
		{"a stretched bore", "1 = 60.030", "", []string{"main bore 1 measures 60.029..60.031 mm, and code A is 60.000..60.006 mm. It may be worn, or its code was read wrong."}, "1"},
		{"a small bore", "2 = 59.990", "", []string{"There may be dirt under the cap, or a cap in the wrong place"}, "2"},
		{"one for the other", "1 = 60.0095, 2 = 60.0025", "", []string{
			"main bore 1 measures 60.0085..60.0105 mm, and code A is 60.000..60.006 mm. Exchanged with that of 2, both would have the sizes of their codes. It may be worn",
			"main bore 2 measures 60.0015..60.0035 mm, and code B is 60.006..60.012 mm. Exchanged with that of 1"}, "1 2"},
	} {
		src := four + boresAndJournals(test.bores, test.journals) + stamped + eachHalf + codeSizes + threeWalls + pairPacks
		a := assess(t, src)
		var opened []string
		for _, l := range a.Shells[0].Locations {
			if l.Standing == job.Undecided {
				opened = append(opened, l.Location)
			}
		}
		if got := strings.Join(opened, " "); got != test.open {
			t.Errorf("%s: open %q, want %q\n%s", test.name, got, test.open, said(a))
		}
		for _, say := range test.says {
			if !strings.Contains(said(a), say) {
				t.Errorf("%s: does not say %q:\n%s", test.name, say, said(a))
			}
		}
		if test.open == "" {
			continue
		}
		a = assess(t, src+"sure = [\"1\", \"2\"]\n")
		for _, l := range a.Shells[0].Locations {
			if l.By == "" {
				t.Errorf("%s: looked again, and still open: %s", test.name, l.Why)
			}
		}
	}
}

// TestGradeOfAWall: a wall that was measured is compared with the grade called for: red,
// 2.000..2.002 mm, and blue, 2.003..2.005 mm.
func TestGradeOfAWall(t *testing.T) {
	src := four + measured("main upper wall thickness", "micrometer", "", "1 = 2.001, 2 = 2.0065, 3 = 2.002") + measured("main lower wall thickness", "micrometer", "", "2 = 2.004") +
		stamped + eachHalf + threeWalls
	a := assess(t, src)
	for name, want := range map[string]struct {
		verdict  measure.Verdict
		standing job.Standing
		advice   string
	}{
		"main upper wall 1 grade": {measure.Conforming, job.Proven, ""},
		"main upper wall 2 grade": {measure.AboveLimit, job.Wrong, "by 0.0005..0.0025 mm, and not blue, which is called for; it measures as green"},
		"main upper wall 3 grade": {measure.Undecided, job.Undecided, "red is called for"}, // 2.001..2.003
		"main lower wall 2 grade": {measure.Conforming, job.Proven, ""},
	} {
		f, i := finding(t, a, name), item(t, a, name)
		if f.Verdict != want.verdict || i.Standing != want.standing || !strings.Contains(f.Advice, want.advice) {
			t.Errorf("%s: %s, %s, %q", name, f.Verdict, i.Standing, f.Advice)
		}
		if i.Before != job.Final {
			t.Errorf("%s is asked for before %s", name, i.Before)
		}
	}
	for _, i := range a.Items {
		if strings.HasPrefix(i.Name, "main upper wall 4") || strings.HasPrefix(i.Name, "main lower wall 1") {
			t.Errorf("%s: nobody measured it", i.Name)
		}
	}
	// Other shells to fit are other grades, and the wall that was measured is not theirs.
	if f := finding(t, assess(t, src+`fit = { 1 = "green" }`), "main upper wall 1 grade"); f.Verdict != measure.BelowLimit || !strings.Contains(f.Advice, "not green, which is called for; it measures as red") {
		t.Errorf("%s, %q", f.Verdict, f.Advice)
	}
	// While the code is open, so is the grade.
	a = assess(t, strings.Replace(src, "A B A B", "? B A B", 1))
	if i := item(t, a, "main upper wall 1 grade"); i.Standing != job.NotMeasured || !strings.Contains(i.Why, "which grade is called for is open") {
		t.Errorf("%+v", i)
	}
	// Without walls there is nothing to compare.
	for _, i := range assess(t, strings.Replace(src, threeWalls, "", 1)).Items {
		if strings.HasSuffix(i.Name, "grade") {
			t.Errorf("%s without walls", i.Name)
		}
	}
}

// wide are the walls of a first main that is too wide with them.
const wide = "1 = 2.001"

// TestOffer: what costs least with the smallest change of shells that brings a location
// inside. By hand, of 60.003 - 55.942 = 4.061 mm with red and red: 4.061 - 4.002 = 0.059 mm is
// above 0.055. One shell of green instead of red makes it 0.053 ±0.003 mm or more, which may
// be outside; so two change. Blue pairs at 4 and green pairs at 6 serve all that is needed:
// the codes call for red 1 (held back), blue and blue, red and blue, blue and red.
func TestOffer(t *testing.T) {
	src := four + boresAndJournals("1 = 60.003", "1 = 55.942") + measured("main upper wall thickness", "micrometer", "", wide) + measured("main lower wall thickness", "micrometer", "", wide) +
		stamped + eachHalf + threeWalls + pairPacks
	a := assess(t, src)
	s := a.Shells[0]
	if f := main1(t, src); f.Verdict != measure.AboveLimit || len(f.Remedies) == 0 {
		t.Fatalf("%s, %q", f.Verdict, f.Remedies)
	}
	// 2, 3 and 4 need two of each blue half and one of each red one: 2 × 4 + 5 = 13.
	if s.Purchase == nil || s.Purchase.Total != "13.00" || !slices.Equal(s.HeldBack, []string{"1"}) {
		t.Errorf("%+v, held back %v", s.Purchase, s.HeldBack)
	}
	if s.Locations[0].Standing != job.Wrong || s.Locations[1].Standing != job.ToOrder {
		t.Errorf("%s", standings(t, a))
	}
	// The smallest change that can be had: a pair of green costs 6 more.
	if s.Offer == nil || len(s.Offer.Fit) != 1 || s.Offer.Fit[0] != (job.FitAt{Location: "1", Shells: "upper green, lower green"}) || s.Offer.Purchase.Total != "19.00" {
		t.Fatalf("%+v", s.Offer)
	}
	if want := `order main bearing shells with upper green, lower green at 1, the smallest change that brings it inside, and the others as before: 1 of "red pair", 2 of "blue pair", 1 of "green pair"; 19.00 in all`; !strings.Contains(said(a), want) || !strings.Contains(said(a), `write fit = { 1 = "upper green, lower green" } under shells.main`) {
		t.Errorf("does not say %q:\n%s", want, said(a))
	}
	// Chosen, it is bought with the others; the clearance stays what was measured.
	a = assess(t, src+`fit = { 1 = "upper green, lower green" }`)
	s = a.Shells[0]
	if s.Purchase.Total != "19.00" || s.Offer != nil || len(s.HeldBack) > 0 || s.Locations[0].Standing != job.ToOrder || s.Locations[0].By != "fit" {
		t.Errorf("%+v", s)
	}
	if i := item(t, a, "main bearing 1 clearance"); i.Standing != job.Wrong {
		t.Errorf("%+v", i)
	}
	// Chosen shells that the sizes prove wrong are wrong: 60.003 - 55.940 - 4.002 = 0.061 ±0.004.
	a = assess(t, strings.Replace(src, "55.942", "55.940", 1)+`fit = { 1 = "red" }`)
	if i := item(t, a, "main bearing 1 shells"); i.Standing != job.Wrong || i.Why != "by its sizes the clearance with upper red, lower red would be 0.057..0.065 mm, above limit" {
		t.Errorf("%+v", i)
	}
	// Nobody sells green.
	a = assess(t, strings.Replace(src, pairPacks, strings.Replace(pairPacks, `"green"`, `"blue"`, 2), 1))
	if s := a.Shells[0]; s.Offer != nil || !strings.Contains(said(a), "is not on hand, and no pack that is listed holds it.") {
		t.Errorf("%+v\n%s", s.Offer, said(a))
	}
}

// TestNoRemedyOnDoubt: nothing is offered on readings that contradict each other, or while
// a slip or a doubt of the codes stands unanswered.
func TestNoRemedyOnDoubt(t *testing.T) {
	src := func(bore string) string {
		return four + boresAndJournals("1 = "+bore, "1 = 55.942") + measured("main upper wall thickness", "micrometer", "", wide) + measured("main lower wall thickness", "micrometer", "", wide) +
			stamped + eachHalf + threeWalls + pairPacks
	}
	const strip = "conditions = { bolts = \"tightened as for assembly\", crankshaft = \"not turned\", oil = \"wiped off\" }\nwith = \"strip\"\nreadings = { 1 = \"0.020 mm\" }\n"
	for name, text := range map[string]string{
		"a strip that contradicts them": strings.Replace(src("60.003"), "limits = \"0.025..0.055 mm\"\n", "limits = \"0.025..0.055 mm\"\n"+strip, 1),
		"a slip":                        src("600.03, 2 = 60.009, 3 = 60.003, 4 = 60.009"),
		"a worn journal, or its code":   src("60.003") + codeSizes,
	} {
		a := assess(t, text)
		if f := finding(t, a, "main bearing 1 clearance"); len(f.Remedies) > 0 || a.Shells[0].Offer != nil || strings.Contains(said(a), "Of the shells that exist") {
			t.Errorf("%s: %q, %+v", name, f.Remedies, a.Shells[0].Offer)
		}
		// Whatever somebody chose, a doubt of the codes stands until it is answered.
		if i := item(t, assess(t, text+"fit = { 1 = \"green\" }\n"), "main bearing 1 shells"); strings.Contains(name, "its code") && i.Standing != job.Undecided {
			t.Errorf("%s: %+v", name, i)
		}
	}
	// Answered, it is offered.
	if a := assess(t, src("60.003")+codeSizes+`sure = ["1"]`); a.Shells[0].Offer == nil {
		t.Errorf("%s", said(a))
	}
}

// TestUndersize: a journal ground by 0.25 mm takes shells whose walls are thicker by half of
// that, and its stamped code no longer counts. By hand at 1: 60.003 - 55.713 = 4.290, less two
// of 2.001 + 0.125 is 0.038 mm.
func TestUndersize(t *testing.T) {
	const under = `packs = [{ name = "ground pair", price = "9", holds = [{ half = "upper", grade = "0.25 mm red" }, { half = "lower", grade = "0.25 mm red" }] },
	{ name = "red pair", price = "5", holds = [{ half = "upper", grade = "red" }, { half = "lower", grade = "red" }] },
	{ name = "blue pair", price = "4", holds = [{ half = "upper", grade = "blue" }, { half = "lower", grade = "blue" }] }]
	undersizes."0.25 mm".both = { red = "2.125..2.127 mm", blue = "2.128..2.130 mm" }
`
	ground := func(journal, say string) string {
		return four + boresAndJournals("1 = 60.003", "1 = "+journal) + stamped + eachHalf + codeSizes + threeWalls + under + say
	}
	a := assess(t, ground("55.713", "ground = [\"1\"]\nundersize = \"0.25 mm\"\n"))
	s := a.Shells[0]
	if got := fitted(a); got != "0.25 mm red/0.25 mm red blue/blue red/blue blue/red" {
		t.Errorf("%s\n%s", got, said(a))
	}
	if s.Locations[0].By != "sizes" || s.Locations[0].Codes != "" || !strings.HasPrefix(s.Locations[0].Sizes, "upper 0.25 mm red, lower 0.25 mm red (0.034..0.042 mm)") {
		t.Errorf("%+v", s.Locations[0])
	}
	if s.Purchase == nil || s.Purchase.Total != "22.00" { // 9 + 5 + 2 × 4
		t.Errorf("%+v", s.Purchase)
	}
	// Not measured, nothing says which: its code does not.
	a = assess(t, four+stamped+eachHalf+codeSizes+threeWalls+under+"ground = [\"1\"]\nundersize = { 1 = \"0.25 mm\" }\n")
	if i := item(t, a, "main bearing 1 shells"); i.Standing != job.NotMeasured || !strings.Contains(i.Why, "its journal was ground, so that its code no longer counts") {
		t.Errorf("%+v", i)
	}
	// A journal that measures as new was not ground to it.
	a = assess(t, ground("55.963", "ground = [\"1\"]\nundersize = \"0.25 mm\"\n"))
	if i := item(t, a, "main bearing 1 shells"); i.Standing != job.Undecided || !strings.Contains(i.Why, "ground to 0.25 mm it would be 55.704..55.716 mm") {
		t.Errorf("%+v", i)
	}
	// A fraction of an inch is named by its digits: a stroke stands between two grades. By hand
	// 1/64 in is 0.396875 mm; 60.003 - 55.566 = 4.437, less two of 2.0010 + 0.1984375 is 0.0381 mm. A pack may hold them,
	// though no walls are listed for them.
	a = assess(t, four+boresAndJournals("1 = 60.003", "1 = 55.566")+"[shells.main]\n"+threeWalls+"ground = [\"1\"]\nundersize = \"1/64 in\"\n"+
		`packs = [{ name = "ground pair", price = "9", holds = [{ half = "upper", grade = "0.396875 mm red" }, { half = "lower", grade = "0.396875 mm red" }] }]`)
	if l, p := a.Shells[0].Locations[0], a.Shells[0].Purchase; !strings.HasPrefix(l.Sizes, "upper 0.396875 mm red, lower 0.396875 mm red (0.0341..0.0422 mm)") || p == nil || p.Total != "9.00" {
		t.Errorf("%+v, %+v", l, p)
	}
	// Without it said, the same journal is far out of its class.
	if i := item(t, assess(t, ground("55.713", "")), "main bearing 1 shells"); i.Standing != job.Undecided || !strings.Contains(i.Why, "It may be worn") {
		t.Errorf("%+v", i)
	}
	// Walls that are not listed follow from the standard ones, and the name is the undersize.
	a = assess(t, strings.NewReplacer("undersizes.\"0.25 mm\".both = { red = \"2.125..2.127 mm\", blue = \"2.128..2.130 mm\" }\n", "", "{ name = \"ground pair\", price = \"9\", holds = [{ half = \"upper\", grade = \"0.25 mm red\" }, { half = \"lower\", grade = \"0.25 mm red\" }] },", "").
		Replace(ground("55.713", "ground = [\"1\"]\nundersize = \"0.25 mm\"\n")))
	if l := a.Shells[0].Locations[0]; !strings.HasPrefix(l.Sizes, "upper 0.25 mm red, lower 0.25 mm red (0.034..0.042 mm)") || l.Standing != job.ToOrder {
		t.Errorf("%+v", l)
	}
}

// TestSharedPins: a pin that two rods share has one code, and both rods run on it. By hand:
// the pins are P and Q, 1 for each of the first two rods' pins in turn.
func TestSharedPins(t *testing.T) {
	a := assess(t, `
title = "t"
[engine]
cylinders = 4
mains = 3
pins = [["1", "3"], ["2", "4"]]
thrust = "1"
rings = ["ring"]
passages = ["p"]
[shells.rod]
codes = { upper = "A B B A", lower = "P Q", lower_row = { begins = "1-3" } }
grades = { upper = { A = "red", B = "blue" }, lower = { P = "thin", Q = "thick" } }
`)
	if got := fitted(a); got != "red/thin blue/thick blue/thin red/thick" {
		t.Errorf("%s", got)
	}
	if i := item(t, a, "rod bearing 3 shells"); i.Before != job.Trial {
		t.Errorf("%+v", i)
	}
}

// TestSharedPinOutsideItsClass: the size of a pin that two rods share is questioned once, by
// the name of the pin, and one answer names both rods. Exchanged pins are named so too.
func TestSharedPinOutsideItsClass(t *testing.T) {
	src := func(pins string) string {
		return `
title = "t"
[engine]
cylinders = 4
mains = 3
pins = [["1", "3"], ["2", "4"]]
thrust = "1"
rings = ["ring"]
passages = ["p"]
[instruments.micrometer]
kind = "micrometer"
uncertainty = "0.001 mm"
[measure."rod journal"]
with = "micrometer"
readings = { ` + pins + ` }
[shells.rod]
codes = { upper = "A B B A", lower = "P Q", lower_row = { begins = "1-3" } }
grades = { upper = { A = "red", B = "blue" }, lower = { P = "thin", Q = "thick" } }
sizes = { lower = { P = "45.000..45.006 mm", Q = "44.994..45.000 mm" } }
`
	}
	text := said(assess(t, src(`1-3 = "44.980 mm", 2-4 = "44.997 mm"`)))
	if n := strings.Count(text, "rod journal 1-3 measures 44.979..44.981 mm"); n != 1 || !strings.Contains(text, `write sure = ["1", "3"] under shells.rod`) || strings.Contains(text, "Exchanged") {
		t.Errorf("said %d times:\n%s", n, text)
	}
	if text := said(assess(t, src(`1-3 = "44.996 mm", 2-4 = "45.004 mm"`))); !strings.Contains(text, "Exchanged with that of 2-4") || !strings.Contains(text, "Exchanged with that of 1-3") {
		t.Errorf("%s", text)
	}
	if a := assess(t, src(`1-3 = "44.980 mm", 2-4 = "44.997 mm"`)+`sure = ["1", "3"]`); len(a.Shells[0].Locations[0].Notes) > 0 || a.Shells[0].Locations[0].By != "codes" {
		t.Errorf("%+v", a.Shells[0].Locations[0])
	}
}

// TestInterchangeable: halves that are one part are bought as one. By hand: two locations
// of red and two mixed need 6 red and 2 blue.
func TestInterchangeable(t *testing.T) {
	a := assess(t, four+stamped+eachHalf+threeWalls+`interchangeable = true
packs = [{ name = "four red", price = "9", holds = [{ grade = "red", count = 4 }] }, { name = "two blue", price = "4", holds = [{ grade = "blue", count = 2 }] }]
stock = [{ grade = "red", count = 2 }]
`)
	// A1 B2 A2 B1: red red, blue blue, red blue, blue red: four of each, two red on hand.
	if p := a.Shells[0].Purchase; p == nil || p.Total != "17.00" || standings(t, a) != "proven, to order, to order, to order" {
		t.Errorf("%+v, %s", p, standings(t, a))
	}
}

// TestShellsThatAreIn: without codes, shells with which the clearance was proven inside are
// known and there; nothing is bought for them. With codes, a clearance that is proven inside
// settles what the sizes of grades leave open: 60.003 - 55.949 - 2.002 - 2.002 = 0.050 mm, good
// to √(1² + 1² + 2²) or at worst 0.001 + 3 × 0.001 mm, while two of red, 2.000..2.002 mm, are
// 0.048..0.056 mm by their walls.
func TestShellsThatAreIn(t *testing.T) {
	sizes := boresAndJournals("1 = 60.003", "1 = 55.949") + measured("main upper wall thickness", "micrometer", "", "1 = 2.002") + measured("main lower wall thickness", "micrometer", "", "1 = 2.002")
	a := assess(t, four+sizes+"[shells.main]\n"+threeWalls+pairPacks)
	if l := a.Shells[0].Locations[0]; l.By != "fitted" || l.Standing != job.Proven || a.Shells[0].Purchase != nil {
		t.Errorf("%+v, %+v", l, a.Shells[0].Purchase)
	}
	for _, i := range a.Items {
		if strings.HasSuffix(i.Name, "grade") {
			t.Errorf("%s, and nothing calls for one", i.Name)
		}
	}
	// What is on hand and in one location is not there for another: at 2, 60.009 - 55.963 = 4.046
	// mm less two of blue is 0.038 ±0.004 mm, and blue is the cheapest to buy, for 4.
	on := boresAndJournals("1 = 60.003, 2 = 60.009", "1 = 55.951, 2 = 55.963") + measured("main upper wall thickness", "micrometer", "", "1 = 2.001") + measured("main lower wall thickness", "micrometer", "", "1 = 2.001")
	a = assess(t, four+on+"[shells.main]\n"+threeWalls+strings.Replace(pairPacks, `{ name = "red pair", price = "5"`, `{ name = "red pair", price = "9"`, 1)+
		`stock = [{ half = "upper", grade = "red" }, { half = "lower", grade = "red" }]`)
	if l := a.Shells[0].Locations; l[0].By != "fitted" || l[0].Standing != job.Proven || l[1].Standing != job.ToOrder || a.Shells[0].Purchase.Total != "4.00" {
		t.Errorf("%+v, %+v", l, a.Shells[0].Purchase)
	}
	// Asked for by sizes, they are bought by sizes.
	if a := assess(t, four+sizes+"[shells.main]\nchoose = \"by sizes\"\n"+threeWalls+pairPacks); a.Shells[0].Locations[0].By != "sizes" || a.Shells[0].Purchase == nil {
		t.Errorf("%+v", a.Shells[0].Locations[0])
	}
	a = assess(t, four+sizes+stamped+eachHalf+threeWalls+pairPacks)
	if l := a.Shells[0].Locations[0]; l.By != "codes" || l.Standing != job.ToOrder {
		t.Errorf("%+v", l)
	}
	if l := assess(t, strings.Replace(four+sizes+stamped+eachHalf+threeWalls+pairPacks, "1 = \"2.002 mm\"", "1 = \"?\"", 2)).Shells[0].Locations[0]; l.By != "" || !strings.Contains(l.Why, "which its sizes do not prove inside") {
		t.Errorf("without the walls of these shells: %+v", l)
	}
}

// TestOpenShells: what stands open in a job is not known, and no error.
func TestOpenShells(t *testing.T) {
	for _, test := range []struct{ name, old, new, says string }{
		{"codes, one for all", "A B A B", "?", "its codes are not read."},
		{"codes", "A B A B", "? ? ? ?", "its codes are not read. To choose them by sizes, add main bore 1, main journal 1; or write fit"},
		{"a wall", `red = "2.000..2.002 mm"`, `red = "?"`, ""},
		{"a size of a code", `A = "60.000..60.006 mm"`, `A = "?"`, ""},
		{"a choice", "packs = [", "fit = { 1 = \"?\" }\npacks = [", ""},
	} {
		a := assess(t, strings.Replace(four+stamped+eachHalf+codeSizes+threeWalls+pairPacks, test.old, test.new, 1))
		i := item(t, a, "main bearing 1 shells")
		if test.name == "codes" { // whatever is asked for
			for _, choose := range []string{"by codes", "by sizes"} {
				a := assess(t, strings.Replace(four+stamped+eachHalf+codeSizes+threeWalls+pairPacks, test.old, test.new, 1)+"choose = \""+choose+"\"\n")
				if i := item(t, a, "main bearing 1 shells"); i.Standing != job.NotMeasured {
					t.Errorf("%s: %+v", choose, i)
				}
			}
		}
		if want := map[bool]job.Standing{true: job.ToOrder, false: job.NotMeasured}[test.says == ""]; i.Standing != want || !strings.Contains(i.Why, test.says) {
			t.Errorf("%s: %+v", test.name, i)
		}
	}
}

// TestEveryMisspeltGradeOrCode: whatever grade or code is misspelt, wherever it stands, the
// job is refused: nothing else in it has the name.
func TestEveryMisspeltGradeOrCode(t *testing.T) {
	const all = stamped + eachHalf + codeSizes + threeWalls + pairPacks +
		"stock = [{ half = \"upper\", grade = \"green\" }]\nfit = { 2 = \"upper green, lower blue\" }\n"
	if _, err := job.Read("job.toml", []byte(four+all)); err != nil {
		t.Fatal(err)
	}
	tried := 0
	for right, wrong := range map[string]string{"red": "rde", "blue": "bleu", "green": "gren", "A": "X", "B": "X", "upper": "uper", "lower": "lowre"} {
		for from := 0; ; {
			i := strings.Index(all[from:], right)
			if i < 0 {
				break
			}
			at := from + i
			from = at + len(right)
			before, after := all[at-1], all[from]
			if strings.HasPrefix(all[from:], " pair") || strings.IndexByte("\"{ ", before) < 0 || strings.IndexByte("\", =_}", after) < 0 {
				continue // the name of a pack, or a part of another word
			}
			tried++
			if _, err := job.Read("job.toml", []byte(four+all[:at]+wrong+all[from:])); err == nil {
				t.Errorf("%q is taken for %q:\n%s", wrong, right, all[:at]+">"+wrong+"<"+all[from:])
			}
		}
	}
	if tried < 40 {
		t.Errorf("only %d tried", tried)
	}
}
