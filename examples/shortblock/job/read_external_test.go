package job_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"example.com/closefit/clearance"
	"example.com/closefit/examples/shortblock/job"
	"example.com/closefit/examples/tomlfile"
	"example.com/closefit/grading"
	"example.com/closefit/grading/purchase"
	"example.com/closefit/torque"
	"example.com/closefit/units"
)

// base is the metric demonstration, which the tests below spoil in one place.
func base(t *testing.T) string {
	t.Helper()
	src, err := job.Demonstration("drainage-pump")
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
		{"missing unit", `limits = "0.10..0.266 mm"`, `limits = "0.10..0.266"`, units.ErrNoUnit, `limits = "0.10..0.266"`, `write "0.10..0.266 mm"`},
		{"unit of the wrong dimension", `torque = "25 N·m"`, `torque = "25 mm"`, units.ErrWrongDimension, `"25 mm"`, "a torque is a force times a length"},
		{"length for a torque", `torque = "25 N·m"`, `torque = "25 ft"`, units.ErrWrongDimension, "25 ft", "write lbf·ft"},
		{"decimal comma", `bore = "59.012 mm"`, `bore = "59,012 mm"`, units.ErrSyntax, "59,012", `write "59.012 mm"`},
		{"lo above hi", `clearance = "0.030..0.052 mm"`, `clearance = "0.052..0.030 mm"`, units.ErrOrder, "0.052..0.030", `write "0.030..0.052 mm"`},
		{"NaN", `journal = "53.956 mm"`, `journal = "NaN mm"`, units.ErrSyntax, "NaN", "write a number"},
		{"an absurd exponent", `journal = "53.956 mm"`, `journal = "1e999999999 mm"`, units.ErrTooLong, "1e999999999", "write the number in a fitting unit"},
		{"a bare number", `journal = "53.956 mm"`, `journal = 53.956`, nil, "journal = 53.956", `"53.956 mm"`},
		{"a value without uncertainty", `with = { bore = "bore gauge", walls`, `with = { walls`, job.ErrNotSure, "bore = ", `name the instrument`},
		{"a code that no table holds", `lower = "2 1 3 2"`, `lower = "2 1 9 2"`, grading.ErrUnknownCode, `"2 1 9 2"`, "it holds 1, 2, 3"},
		{"five codes for four locations", `upper = "P Q Q P"`, `upper = "P Q Q P P"`, grading.ErrCodeCount, `"P Q Q P P"`, "5 codes"},
		{"three codes for four locations", `upper = "P Q Q P"`, `upper = "P Q Q"`, grading.ErrCodeCount, `"P Q Q"`, "write ? for a code that cannot be read"},
		{"a location named twice", `locations = ["1", "2", "3", "4"]`, `locations = ["1", "2", "3", "2"]`, job.ErrTwice, `"3", "2"]`, "first as number 2"},
		{"a reading of a location that is not there", `location = "3"`, `location = "5"`, job.ErrUnknown, `location = "5"`, "write one of 1, 2, 3, 4"},
		{"a location read twice", `location = "2"`, `location = "3"`, job.ErrTwice, "", "keep one"},
		{"a blade set out of order", `"0.102 mm", "0.127 mm"`, `"0.127 mm", "0.102 mm"`, clearance.ErrOrder, "0.127 mm", "smallest first"},
		{"a blade that is not in the set", `reading = { goes = "0.102 mm" }`, `reading = { goes = "0.1 mm" }`, clearance.ErrNotInSet, "0.1 mm", "the nearest are 0.076 mm and 0.102 mm"},
		{"blades the wrong way round", `goes = "0.203 mm", stops = "0.254 mm"`, `goes = "0.254 mm", stops = "0.203 mm"`, clearance.ErrContradiction, `stops = "0.203 mm"`, "exchange them"},
		{"strip prints that are not neighbours", `strip = "0.025..0.038 mm"`, `strip = "0.025..0.051 mm"`, clearance.ErrNotNeighbours, "0.025..0.051", "0.038 mm"},
		{"an instrument without uncertainty", "kind = \"dial\"\nuncertainty = \"0.005 mm\"", `kind = "dial"`, job.ErrMissing, "[instruments.dial]", "write uncertainty"},
		{"an instrument that is not there", `with = "dial"`, `with = "clock"`, job.ErrUnknown, `"clock"`, `"dial"`},
		{"a valve open before it is shut", `shut = "3.3 bar", open = "3.5 bar"`, `shut = "3.5 bar", open = "3.3 bar"`, clearance.ErrContradiction, `shut = "3.5 bar"`, "highest pressure"},
		{"a bolt in two groups", `bolts = ["S1", "S2", "S3", "S4"]`, `bolts = ["S1", "S2", "S3", "M1L"]`, torque.ErrTwice, `bolts = ["S1"`, `"inner main cap bolts"`},
		{"a turn before snug", "  { torque = \"5 N·m\" },\n  { torque = \"25 N·m\" },\n", "", torque.ErrNotSnug, `{ turn = "90°", check = "Does the crankshaft turn freely by hand, and`, "put a torque stage before it"},
		{"an order that misses a bolt", `order = ["S2", "S3", "S1", "S4"]`, `order = ["S2", "S3", "S1"]`, torque.ErrOrderMisses, `order = ["S2"`, "S4"},
		{"an order that does not exist", `order = "inside out"`, `order = "sideways"`, torque.ErrOrderName, "sideways", "inside out"},
		{"a tie to no stage", `stage = 3 }`, `stage = 4 }`, torque.ErrNoSuchStage, "stage = 4", "3"},
		{"an unknown key", `clearance = "0.030..0.052 mm"`, `clearence = "0.030..0.052 mm"`, tomlfile.ErrUnknownKey, "clearence", "write clearance"},
		{"a state that is none", `state = "not checked"`, `state = "dirty"`, job.ErrUnknown, `"dirty"`, "write one of clean, blocked, not checked"},
		{"a negative price", `price = "12.90"`, `price = "-12.90"`, purchase.ErrPrice, `"-12.90"`, "write what the pack costs"},
		{"a pack of nothing", `holds = [{ half = "upper", grade = "thick" }, { half = "lower", grade = "thick" }]`, `holds = []`, purchase.ErrEmptyPack, "holds = []", "list the shells"},
		{"a size beyond any engine", `journal = "53.956 mm"`, `journal = "1e30 mm"`, nil, "1e30", "look at its unit"},
		{"a turn beyond any bolt", `{ turn = "90°", check = "Does the crankshaft turn freely by hand, and`, `{ turn = "9000°", check = "Does the crankshaft turn freely by hand, and`, nil, "9000", "look at its unit"},
		{"limits that allow everything", `clearance = "0.030..0.052 mm"`, `clearance = "any length"`, nil, "any length", "write one or both"},
		{"a limit below zero", `clearance = "0.030..0.052 mm"`, `clearance = "-0.030..0.052 mm"`, nil, "-0.030", "zero or more"},
		{"a name with spaces around it", `locations = ["1", "2", "3", "4"]`, `locations = ["1", "2", "3", "3 "]`, nil, `"3 "`, `write "3"`},
		{"more shells than there can be", `grade = "middle", count = 2 }`, `grade = "middle", count = 9000000000 }`, nil, "9000000000", "from 1 to 10000"},
		{"a stretch without a new length", `new_length = "46.00 ±0.05 mm"`, `new_length = "46.00 mm"`, job.ErrNotSure, `"46.00 mm"`, "tolerance that new bolts have"},
		{"not TOML", `title = `, `title `, nil, "title ", ""},
		{"no title", `title = "Drainage pump no. 2, three-cylinder engine"`, ``, job.ErrMissing, "", "write title"},
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
			if test.kind != nil && !errors.Is(err, test.kind) {
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
		})
	}
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
	src = strings.Replace(src, `torque = "25 N·m"`, `torque = "25 mm"`, 1)
	src = strings.Replace(src, `bore = "59.012 mm"`, `bore = "59,012 mm"`, 1)
	_, err := job.Read("job.toml", []byte(src))
	var errs tomlfile.Errors
	if !errors.As(err, &errs) || len(errs) != 2 {
		t.Fatalf("want two errors:\n%v", err)
	}
	if errs[0].Line >= errs[1].Line || !strings.Contains(errs[0].What, "comma") {
		t.Errorf("errors are not in the order of their lines:\n%v", err)
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
	f.Add("title = \"x\"\n[[tightening]]\ngroup = \"g\"\nbolts = [\"a\"]\nstages = [{ torque = \"1..2 N·m\" }]\n")
	f.Add("title = \"x\"\n[jets]\nopens = \">= 50 psi\"\ntests = [{ jet = \"1\" }]\n")
	f.Fuzz(func(t *testing.T, src string) {
		j, err := job.Read("job.toml", []byte(src))
		if err != nil {
			if !strings.HasPrefix(err.Error(), "job.toml") {
				t.Errorf("error does not begin with the file: %v", err)
			}
			return
		}
		if _, err := j.Assess(t.Context()); err != nil && !errors.Is(err, grading.ErrTooLarge) {
			t.Errorf("assess: %v", err)
		}
	})
}
