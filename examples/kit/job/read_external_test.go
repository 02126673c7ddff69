package job_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/examples/kit/job"
	"example.com/closefit/grading"
	"example.com/closefit/grading/purchase"
	"example.com/closefit/torque"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// base is the metric demonstration, which the tests below spoil in one place.
func base(t *testing.T) string {
	t.Helper()
	src, err := job.Demonstration("lock-gate")
	if err != nil {
		t.Fatal(err)
	}
	return string(src)
}

// TestBadInput spoils one place of a good job: the error must be of the kind,
// name the line, and say what to write.
func TestBadInput(t *testing.T) {
	for _, test := range []struct {
		name     string
		old, new string // the first old becomes new; an empty old appends
		kind     error
		at       string // the error's line begins on the first line with this text
		say      string
	}{
		{"missing unit", `limits = "0.15..0.32 mm"`, `limits = "0.15..0.32"`, units.ErrNoUnit, `limits = "0.15..0.32"`, `write "0.15..0.32 mm"`},
		{"unit of the wrong dimension", `torque = "10 N·m"`, `torque = "10 mm"`, units.ErrWrongDimension, `"10 mm"`, "a torque is a force times a length"},
		{"length for a torque", `torque = "10 N·m"`, `torque = "10 ft"`, units.ErrWrongDimension, "10 ft", "write lbf·ft"},
		{"decimal comma", `3 = "62.893 mm"`, `3 = "62,893 mm"`, units.ErrSyntax, "62,893", `write "62.893 mm"`},
		{"lo above hi", `limits = "0.053..0.087 mm"`, `limits = "0.087..0.053 mm"`, units.ErrOrder, "0.087..0.053", `write "0.053..0.087 mm"`},
		{"NaN", `3 = "58.360 mm"`, `3 = "NaN mm"`, units.ErrSyntax, "NaN", "write a number"},
		{"an absurd exponent", `3 = "58.360 mm"`, `3 = "1e999999999 mm"`, units.ErrSyntax, "1e999999999", "write the number in a fitting unit"},
		{"a bare number", `3 = "58.360 mm"`, `3 = 58.360`, nil, "3 = 58.360", `"58.360 mm"`},
		{"a value without uncertainty", "with = \"bore gauge\"\n", "", job.ErrNotSure, `3 = "62.893 mm"`, `name the instrument`},
		{"a code that no table holds", `lower = "88 94 82 94 88"`, `lower = "88 94 83 94 88"`, grading.ErrCodes, `"88 94 83 94 88"`, "it holds 82, 88, 94"},
		{"a misspelt grade in a pack", `holds = [{ half = "upper", grade = "birch" }, { half = "lower", grade = "birch" }]`, `holds = [{ half = "upper", grade = "brich" }, { half = "lower", grade = "birch" }]`, job.ErrUnknown, `grade = "brich"`, `write "birch"`},
		{"a misspelt grade on hand", `{ half = "upper", grade = "oak" },`, `{ half = "upper", grade = "aok" },`, job.ErrUnknown, `{ half = "upper", grade = "aok"`, `write "oak"`},
		{"six codes for five locations", `upper = "84 78 90 78 84"`, `upper = "84 78 90 78 84 84"`, grading.ErrCodes, `"84 78 90 78 84 84"`, "6 codes"},
		{"three codes for five locations", `upper = "84 78 90 78 84"`, `upper = "84 78 90"`, grading.ErrCodes, `"84 78 90"`, "write ? in the place of each code that cannot be read"},
		{"no codes in a row", `upper = "84 78 90 78 84"`, `upper = "- - - - -"`, grading.ErrCodes, `"- - - - -"`, "write the codes as they are stamped"},
		{"a row that begins in the middle", `lower = "88 94 82 94 88"`, "lower = \"88 94 82 94 88\"\n  lower_row = { begins = \"3\" }", job.ErrUnknown, `begins = "3"`, `write "1" or "5"`},
		{"a mark that stands nowhere", `lower = "88 94 82 94 88"`, "lower = \"88 94 82 94 88\"\n  lower_row = { mark = \"*\", mark_at = \"front\" }", job.ErrUnknown, `mark_at = "front"`, `write "1" or "5"`},
		{"a mark against what is said", `lower = "88 94 82 94 88"`, "lower = \"88 94 82 94 88 *\"\n  lower_row = { begins = \"1\", mark = \"*\", mark_at = \"1\" }", grading.ErrCodes, `lower = "88 94 82 94 88 *"`, "look which is right"},
		{"a place of no mark", `lower = "88 94 82 94 88"`, "lower = \"88 94 82 94 88\"\n  lower_row = { mark_at = \"5\" }", grading.ErrCodes, `lower = "88 94 82 94 88"`, "write the mark as it looks"},
		{"a location named twice", `mains = 5`, `mains = ["1", "2", "3", "4", "2"]`, job.ErrTwice, `"4", "2"]`, "first as number 2"},
		{"no engine", "[engine] #", "[motor] #", tomlfile.ErrUnknownKey, "[motor]", "unknown key"},
		{"no mains", `mains = 5`, ``, job.ErrMissing, "[engine]", "mains = 5"},
		{"too many cylinders", `cylinders = 4`, `cylinders = 400`, nil, "cylinders = 400", "from 1 to 64"},
		{"a thrust at no main", `thrust = "3"`, `thrust = "6"`, job.ErrUnknown, `thrust = "6"`, "write one of 1, 2, 3, 4, 5"},
		{"a pin of a rod that is not there", `thrust = "3"`, "thrust = \"3\"\npins = [[\"1\", \"4\"], [\"2\", \"5\"]]", job.ErrUnknown, "pins = ", "write one of 1, 2, 3, 4"},
		{"a rod on no pin", `thrust = "3"`, "thrust = \"3\"\npins = [[\"1\", \"4\"], [\"2\"]]", job.ErrMissing, "pins = ", `rod "3" is on no crankpin`},
		{"no rings", `rings = ["top ring", "second ring"]`, ``, job.ErrMissing, "[engine]", "from the top: rings ="},
		{"an unknown line", `[measure."rod side play"]`, `[measure."rod side pay"]`, job.ErrUnknown, `[measure."rod side pay"]`, `write "rod side play"`},
		{"a line that nothing asks for", `[measure."rod side play"]`, "[measure.\"rod journal\"]\nwith = \"micrometer\"\n[measure.\"main cap\"]\n[measure.\"rod side play\"]", job.ErrUnknown, `[measure."main cap"]`, "line"},
		{"limits that nothing is judged by", "[measure.\"main journal\"]\n", "[measure.\"main journal\"]\nlimits = \"58.38..58.40 mm\"\n", nil, `[measure."main journal"]`, `inspect = ["main journal"], or leave its limits out`},
		{"an inspection of what there is not", `jets = 4`, "jets = 4\ninspect = [\"main jurnal\"]", job.ErrUnknown, "inspect = ", `write "main journal"`},
		{"an inspection of what no line is of", `jets = 4`, "jets = 4\ninspect = [\"valve clearance\"]", job.ErrUnknown, "inspect = ", "write it under [[fits]]"},
		{"a line of the engine's own among the lines", `[measure."rod side play"]`, "[measure.\"valve clearance\"]\n[measure.\"rod side play\"]", job.ErrUnknown, `[measure."valve clearance"]`, "write it under [[fits]]"},
		{"an inspection of what is always asked for", `jets = 4`, "jets = 4\ninspect = [\"rod side play\"]", nil, "inspect = ", "leave it out here"},
		{"an acceptance of what there is not", `[shells.main]`, "[[accepted]]\nwhat = \"main bearing 6 clearance\"\nby = \"the builder\"\nreason = \"none\"\n[shells.main]", job.ErrUnknown, `what = "main bearing 6`, `write "main bearing`},
		{"an acceptance by nobody", `[shells.main]`, "[[accepted]]\nwhat = \"main bearing 2 clearance\"\nreason = \"none\"\n[shells.main]", job.ErrMissing, "[[accepted]]", "write by"},
		{"a reading of a location that is not there", `3 = "62.893 mm"`, `6 = "62.893 mm"`, job.ErrUnknown, `6 = "62.893 mm"`, "write one of 1, 2, 3, 4, 5"},
		{"a location read twice", `5 = "62.888 mm"`, `3 = "62.888 mm"`, tomlfile.ErrTwice, "", "given twice"},
		{"one reading of many places", "readings = { 3 = \"62.893 mm\", 5 = \"62.888 mm\" }", `reading = "62.893 mm"`, nil, `reading = "62.893 mm"`, "there are 5 places; write readings = { 1 = "},
		{"sure of no place", `limits = "0.17..0.34 mm"`, "limits = \"0.17..0.34 mm\"\nsure = [\"5\"]", job.ErrUnknown, `sure = ["5"]`, "write one of 1, 2, 3, 4"},
		{"an unknown condition", `shells = "out" }`, `shell = "out" }`, job.ErrUnknown, `shell = "out"`, "write one of bolts, shells"},
		{"a condition of nothing", "[measure.\"rod side play\"]\n", "[measure.\"rod side play\"]\nconditions = { bolts = \"loose\" }\n", nil, `bolts = "loose"`, "asks for no conditions"},
		{"a taper of a gap", `limits = "0.17..0.34 mm"`, "limits = \"0.17..0.34 mm\"\ntaper = \"<= 0.01 mm\"", nil, "taper = ", "has no taper"},
		{"one blade", `reading = ">= 0.15 mm"`, `reading = "0.15 mm"`, nil, `reading = "0.15 mm"`, `write ">= 0.15 mm" if it goes`},
		{"a span on a dial", `"dial: 0.06 to 0.33 mm"`, `"dial: 0.06..0.33 mm"`, nil, `"dial: 0.06..0.33 mm"`, "shows one figure"},
		{"one pressure", `1 = "2.8..3.0 bar"`, `1 = "2.8 bar"`, nil, `1 = "2.8 bar"`, "if it was still shut"},
		{"stations that differ between planes", `3 = "62.893 mm"`, `3 = "62.893 62.890; 62.891 mm"`, job.ErrCount, `3 = "62.893 62.890`, "the same directions"},
		{"stations without a unit", `3 = "62.893 mm"`, `3 = "62.893 62.890; 62.891 62.892"`, nil, `3 = "62.893 62.890`, "no unit at its end"},
		{"bolts of no group", `[bolts."stiffener bolts"]`, `[bolts."stiffner bolts"]`, job.ErrUnknown, `[bolts."stiffner`, `write "stiffener bolts"`},
		{"a bolt that is not there", `3a = "44.60 mm"`, `3A = "44.60 mm"`, job.ErrUnknown, `3A = `, `write "3a"`},
		{"a bolt new and scrap", `new = "all"`, "new = \"all\"\nscrap = [\"M1L\"]", job.ErrTwice, "scrap = ", "keep one"},
		{"some bolts", `sound = "all"`, `sound = "most"`, nil, `sound = "most"`, `write "all", or a list of bolts`},
		{"a blade set out of order", `"0.15 mm", "0.20 mm"`, `"0.20 mm", "0.15 mm"`, measure.ErrOrder, `"0.20 mm", "0.15 mm"`, "smallest first"},
		{"a blade that is not in the set", `reading = ">= 0.15 mm"`, `reading = ">= 0.16 mm"`, measure.ErrNotInSet, "0.16 mm", "the nearest are 0.15 mm and 0.2 mm"},
		{"blades the wrong way round", `1 = "0.20..0.25 mm"`, `1 = "0.25..0.20 mm"`, units.ErrOrder, `"0.25..0.20 mm"`, `write "0.20..0.25 mm"`},
		{"strip prints that are not neighbours", `1 = "0.045..0.060 mm"`, `1 = "0.045..0.080 mm"`, measure.ErrNotInSet, "0.045..0.080", "0.06 mm"},
		{"a strip's tolerance without its unit", `"0.110 mm"]`, "\"0.110 mm\"]\ntolerance = \"0.004\"", units.ErrNoUnit, `tolerance = "0.004"`, `write "0.004 mm"`},
		{"a strip's tolerance below zero", `"0.110 mm"]`, "\"0.110 mm\"]\ntolerance = \"-0.004 mm\"", measure.ErrNotPositive, `tolerance = "-0.004 mm"`, "such as 0.004 mm"},
		{"a tolerance of blades", "kind = \"feeler blades\"", "kind = \"feeler blades\"\ntolerance = \"0.004\"", units.ErrNoUnit, `tolerance = "0.004"`, `write "0.004 mm"`},
		{"a tolerance of a dial", "kind = \"dial\"", "kind = \"dial\"\ntolerance = \"0.004 mm\"", nil, `tolerance = "0.004 mm"`, "only a crush strip and feeler blades"},
		{"repeats above the uncertainty", `kind = "dial"`, "kind = \"dial\"\nrepeats = \"0.006 mm\"", measure.ErrOrder, `repeats = "0.006 mm"`, "at most the whole"},
		{"repeats without the whole", "kind = \"dial\"\nuncertainty = \"0.005 mm\"", "kind = \"dial\"\nlimit_of_error = \"0.01 mm\"\nrepeats = \"0.006 mm\"", job.ErrMissing, `repeats = "0.006 mm"`, "write uncertainty"},
		{"a coverage factor of nothing", `kind = "dial"`, "kind = \"dial\"\nk = 0", nil, "k = 0", "such as 2"},
		{"a coverage factor of few readings", `kind = "dial"`, "kind = \"dial\"\nk = 4.5", measure.ErrProbability, "k = 4.5", "give them, as the certificate states them"},
		{"no degrees of freedom", `kind = "dial"`, "kind = \"dial\"\nfreedom = 0", nil, "freedom = 0", "leave the key out"},
		{"a limit of error below zero", `kind = "dial"`, "kind = \"dial\"\nlimit_of_error = \"-0.01 mm\"", measure.ErrNotPositive, `limit_of_error = "-0.01 mm"`, "to either side"},
		{"set on what is not there", `kind = "bore gauge"`, "kind = \"bore gauge\"\nset_on = \"ring 60\"", job.ErrUnknown, `set_on = "ring 60"`, `add [instruments."ring 60"]`},
		{"set on blades", `kind = "bore gauge"`, "kind = \"bore gauge\"\nset_on = \"blades\"", nil, `set_on = "blades"`, "is of the kind feeler blades"},
		{"set on itself", `kind = "bore gauge"`, "kind = \"bore gauge\"\nset_on = \"bore gauge\"", job.ErrCircle, `set_on = "bore gauge"`, "bore gauge is set on bore gauge"},
		{"a circle", "kind = \"bore gauge\"\nuncertainty = \"0.003 mm\"\n\n[instruments.micrometer]\n", "kind = \"bore gauge\"\nset_on = \"micrometer\"\nuncertainty = \"0.003 mm\"\n\n[instruments.micrometer]\nset_on = \"bore gauge\"\n", job.ErrCircle, `set_on = "bore gauge"`, "bore gauge is set on micrometer, which is set on bore gauge"},
		{"a turn of nothing", `kind = "dial"`, "kind = \"dial\"\nturn = \"0 mm\"", nil, `turn = "0 mm"`, "such as 0.5 mm"},
		{"set_on for blades", `kind = "feeler blades"`, "kind = \"feeler blades\"\nset_on = \"micrometer\"", nil, `set_on = "micrometer"`, "leave it out"},
		{"bolts of bores in other words", `bolts = "tightened as for assembly", shells`, `bolts = "tight", shells`, job.ErrUnknown, `bolts = "tight"`, `write "tightened as for assembly" or "loose"`},
		{"shells half in", `shells = "out" }`, `shells = "half"}`, job.ErrUnknown, `shells = "half"`, `write "out" or "in"`},
		{"another way to combine", `note  =`, "combine = \"by kind\"\nnote  =", job.ErrUnknown, `combine = "by kind"`, "write one of at worst"},
		{"a pressure test without a gauge", `kind = "pressure gauge"`, `kind = "gauge"`, nil, `uncertainty = "0.05 bar"`, ""},
		{"an instrument without uncertainty", "kind = \"dial\"\nuncertainty = \"0.005 mm\"", `kind = "dial"`, job.ErrMissing, "[instruments.dial]", "write uncertainty"},
		{"an instrument that is not there", `"dial: 0.06`, `"clock: 0.06`, job.ErrUnknown, `"clock: `, `"dial"`},
		{"a valve open before it is shut", `1 = "2.8..3.0 bar"`, `1 = "3.0..2.8 bar"`, units.ErrOrder, `"3.0..2.8 bar"`, `write "2.8..3.0 bar"`},
		{"a bolt in two groups", `bolts = ["S1", "S2", "S3", "S4", "S5", "S6"]`, `bolts = ["S1", "S2", "S3", "S4", "S5", "M1L"]`, errPlan, `bolts = ["S1"`, `"main cap bolts"`},
		{"a turn before snug", "  { torque = \"10 N·m\" },\n", "", errPlan, `{ turn = "35°", check = "Does the crankshaft turn freely by hand, and`, "put a torque stage before it"},
		{"an order that misses a bolt", `order = ["S3", "S4", "S2", "S5", "S1", "S6"]`, `order = ["S3", "S4", "S2", "S5", "S1"]`, errPlan, `order = ["S3"`, "S6"},
		{"an order that does not exist", `order = "inside out"`, `order = "sideways"`, errPlan, "sideways", "inside out"},
		{"a tie to no stage", `stage = 2 }`, `stage = 5 }`, errPlan, "stage = 5", "4"},
		{"an unknown key", `limits = "0.053..0.087 mm"`, `limit = "0.053..0.087 mm"`, tomlfile.ErrUnknownKey, "limit = ", "write limits"},
		{"a state that is none", `"feed to the jets" = "?"`, `"feed to the jets" = "dirty"`, job.ErrUnknown, `"dirty"`, `write "clean" or "blocked", or "?"`},
		{"a negative price", `price = "14.10"`, `price = "-14.10"`, purchase.ErrRequest, `"-14.10"`, "write what the pack costs"},
		{"two packs of one name", `name = "pair, oak"`, `name =  "pair, birch"`, job.ErrTwice, `name =  "pair, birch"`, "keep one"},
		{"a price too fine", `price = "14.10"`, `price = "14.1000001"`, nil, `"14.1000001"`, "round it"},
		{"prices too far apart", `price = "14.10"`, `price = "1000000000000.1"`, purchase.ErrTooLarge, `"1000000000000.1"`, "round them"},
		{"more shells than anybody has", `{ half = "upper", grade = "oak" },`, `{ half = "upper", grade = "oak", count = 10000 },`, nil, `{ half = "upper", grade = "oak"`, "10000 at the most"},
		{"a pack of nothing", `holds = [{ half = "upper", grade = "oak" }, { half = "lower", grade = "oak" }]`, `holds = []`, purchase.ErrRequest, "holds = []", "list the shells"},
		{"a size beyond any engine", `3 = "58.360 mm"`, `3 = "1e30 mm"`, nil, "1e30", "look at its unit"},
		{"a turn beyond any bolt", `{ turn = "35°", check = "Does the crankshaft turn freely by hand, and`, `{ turn = "9000°", check = "Does the crankshaft turn freely by hand, and`, nil, "9000", "look at its unit"},
		{"limits that allow everything", `limits = "0.053..0.087 mm"`, `limits = "any length"`, nil, "any length", "write one or both"},
		{"a limit below zero", `limits = "0.053..0.087 mm"`, `limits = "-0.053..0.087 mm"`, nil, "-0.053", "zero or more"},
		{"a name with spaces around it", `mains = 5`, `mains = ["1", "2", "3", "4", "3 "]`, nil, `"3 "`, `write "3"`},
		{"more shells than there can be", `grade = "alder", count = 2 }`, `grade = "alder", count = 9000000000 }`, nil, "9000000000", "from 1 to 10000"},
		{"a stretch without a new length", `new_length = "44.30 ±0.06 mm"`, `new_length = "44.30 mm"`, job.ErrNotSure, `"44.30 mm"`, "tolerance that new bolts have"},
		{"not TOML", `title = `, `title `, nil, "title ", ""},
		{"no title", `title = "Lock gate, four-cylinder engine"`, ``, job.ErrMissing, "", "write title"},
	} {
		t.Run(test.name, func(t *testing.T) {
			src := base(t)
			if !strings.Contains(src, test.old) {
				t.Fatalf("the demonstration has no %q", test.old)
			}
			src = strings.Replace(src, test.old, test.new, 1)
			_, err := job.Read("job.toml", []byte(src))
			if err == nil {
				t.Fatal("no error")
			}
			if test.kind != nil && !isKind(err, test.kind) {
				t.Errorf("error is not %q:\n%v", test.kind, err)
			}
			if test.at != "" {
				if want := fmt.Sprintf("job.toml:%d: ", lineOf(src, test.at)); !strings.HasPrefix(err.Error(), want) {
					t.Errorf("error does not begin with %q:\n%v", want, err)
				}
			}
			if !strings.Contains(err.Error(), test.say) {
				t.Errorf("error does not say %q:\n%v", test.say, err)
			}
			if word := wordOfGo.FindString(err.Error()); word != "" {
				t.Errorf("%q is no word of a job file:\n%v", word, err)
			}
		})
	}
}

// errPlan stands for whatever package torque says of a plan.
var errPlan = errors.New("a *torque.PlanError")

// isKind reports whether an error is of a kind.
func isKind(err, kind error) bool {
	var fault *torque.PlanError
	return errors.Is(err, kind) || kind == errPlan && errors.As(err, &fault)
}

// lineOf returns the number of the first line with the text.
func lineOf(src, text string) int {
	before, _, ok := strings.Cut(src, text)
	if !ok {
		return 0
	}
	return strings.Count(before, "\n") + 1
}

// TestEveryErrorAtOnce: all that is wrong is said, by line.
func TestEveryErrorAtOnce(t *testing.T) {
	src := base(t)
	src = strings.Replace(src, `torque = "10 N·m"`, `torque = "10 mm"`, 1)
	src = strings.Replace(src, `3 = "62.893 mm"`, `3 = "62,893 mm"`, 1)
	_, err := job.Read("job.toml", []byte(src))
	var errs tomlfile.Errors
	if !errors.As(err, &errs) || len(errs) != 2 {
		t.Fatalf("want two errors:\n%v", err)
	}
	if errs[0].Line >= errs[1].Line || !strings.Contains(errs[0].What, "comma") {
		t.Errorf("errors are not in the order of their lines:\n%v", err)
	}
}

// TestLocationTwiceIsOneError: rows of codes for the same locations do not repeat it.
func TestLocationTwiceIsOneError(t *testing.T) {
	src := strings.Replace(base(t), `mains = 5`, `mains = ["1", "2", "3", "4", "2"]`, 1)
	_, err := job.Read("job.toml", []byte(src))
	var errs tomlfile.Errors
	if !errors.As(err, &errs) || len(errs) != 1 || !errors.Is(err, job.ErrTwice) {
		t.Errorf("want one error:\n%v", err)
	}
}

// FuzzRead: whatever the file, reading and assessing it ends in a job or in an
// error that names the file.
func FuzzRead(f *testing.F) {
	for _, name := range job.Demonstrations() {
		src, err := job.Demonstration(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(src))
	}
	f.Add(four + stamped + eachHalf + codeSizes + threeWalls + pairPacks + "ground = [\"3\"]\nundersize = \"0.25 mm\"\nfit = { 1 = \"upper green\" }\n")
	f.Add("title = \"x\"\n[[tightening]]\ngroup = \"g\"\nbolts = [\"a\"]\nstages = [{ torque = \"1..2 N·m\" }]\n")
	f.Fuzz(func(t *testing.T, src string) {
		j, err := job.Read("job.toml", []byte(src))
		if err != nil {
			if !strings.HasPrefix(err.Error(), "job.toml") {
				t.Errorf("error does not begin with the file: %v", err)
			}
			return
		}
		if _, err := j.Assess(t.Context()); err != nil {
			t.Errorf("assess: %v", err)
		}
	})
}

// TestMisspeltKindIsSaidOnce: readings made with an instrument of no known kind do not
// repeat it.
func TestMisspeltKindIsSaidOnce(t *testing.T) {
	src := strings.Replace(base(t), `kind = "bore gauge"`, `kind = "bore gage"`, 1)
	_, err := job.Read("job.toml", []byte(src))
	var errs tomlfile.Errors
	if !errors.As(err, &errs) || len(errs) != 1 || !errors.Is(err, job.ErrUnknown) {
		t.Errorf("want one error:\n%v", err)
	}
}

// TestSharedValueIsOneError: a value that serves every bolt of a set is said to be wrong
// once.
func TestSharedValueIsOneError(t *testing.T) {
	src := strings.Replace(base(t), `new_length = "44.30 ±0.06 mm"`, `new_length = "44.30 mm"`, 1)
	_, err := job.Read("job.toml", []byte(src))
	var errs tomlfile.Errors
	if !errors.As(err, &errs) || len(errs) != 1 || !errors.Is(err, job.ErrNotSure) {
		t.Errorf("want one error:\n%v", err)
	}
}
