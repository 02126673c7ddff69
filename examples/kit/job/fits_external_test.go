package job_test

import (
	"errors"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/units/measure"
)

// TestFits: a job's own sums, by hand.
func TestFits(t *testing.T) {
	bore := line("main bore", `with = "bore gauge"`, `conditions = { bolts = "tightened as for assembly", shells = "out" }`, `readings = { 1 = "62.000 mm", 2 = "62.004 mm", 3 = "62.002 mm" }`)
	seal := "[[fits]]\nname = \"rear seal gap\"\nformula = \"C = D - 2*t - d\"\nlimits = \"0.01..0.05 mm\"\nlines = { D = \"main bore\" }\n"
	own := "[fits.terms]\nt = { with = \"micrometer\", readings = { 1 = \"2.000 mm\", 2 = \"2.001 mm\" } }\nd = { with = \"micrometer\", readings = { 1 = \"57.970 mm\", 2 = \"57.970 mm\", 3 = \"57.970 mm\" } }\n"
	a := assess(t, twin()+bore+seal+own)
	// 62.000 - 2·2.000 - 57.970 = 0.030; one micrometer twice in the wall and once in the
	// journal, 3·0.002 at its worst, beside 0.003: √(0.006² + 0.003²) = 0.0067083 rounded up.
	f := finding(t, a, "rear seal 1 gap")
	if f.Verdict != measure.Conforming || deref(f.Measured.Lo) != "0.0232917 mm" || deref(f.Measured.Hi) != "0.0367083 mm" {
		t.Errorf("%s: %s", f.Measured.Text, f.Verdict)
	}
	if f.Working == nil || !strings.Contains(f.Working.Formula, "C = D - 2·t - d") {
		t.Errorf("%+v", f.Working)
	}
	if i := item(t, a, "rear seal 3 gap"); i.Standing != job.NotMeasured || !strings.Contains(said(a), "still to read: rear seal 3 gap t") {
		t.Errorf("%+v\n%s", i, said(a))
	}
	// Not as its bore asks: nothing is proven.
	loose := strings.Replace(bore, "tightened as for assembly", "loose", 1)
	if f := finding(t, assess(t, twin()+loose+seal+own), "rear seal 1 gap"); f.Verdict != measure.Undecided {
		t.Errorf("bolts loose: %s", f.Verdict)
	}
	// Without limits, or without any reading, it is not measured.
	for _, src := range []string{twin() + bore + strings.Replace(seal, "limits = \"0.01..0.05 mm\"\n", "", 1) + own, twin() + seal + "terms = { t = {}, d = {} }\n"} {
		if i := item(t, assess(t, src), "rear seal 1 gap"); i.Standing != job.NotMeasured {
			t.Errorf("%s: %s", i.Standing, i.Why)
		}
	}
	if a.Gate(job.Final).Open {
		t.Error("the gate is open without the fit")
	}
}

// TestFitsAsTheyAre: a gap between blades that is the sum of nothing stands without a formula,
// is judged at each of its places, and is missed where it is not read.
func TestFitsAsTheyAre(t *testing.T) {
	const gap = "[[fits]]\nname = \"valve clearance\"\nat = [\"inlet 1\", \"exhaust 1\"]\nlimits = \"0.10..0.20 mm\"\nwith = \"blades\"\n"
	a := assess(t, twin()+gap+"readings = { \"inlet 1\" = \"0.10..0.15 mm\" }\n")
	if f := finding(t, a, "valve inlet 1 clearance"); f.Verdict != measure.Conforming || deref(f.Measured.Lo) != "0.1 mm" || deref(f.Measured.Hi) != "0.15 mm" {
		t.Errorf("%+v", f)
	}
	if i := item(t, a, "valve exhaust 1 clearance"); i.Standing != job.NotMeasured || a.Gate(job.Final).Open {
		t.Errorf("%+v", i)
	}
	_, err := job.Read("job.toml", []byte(twin()+gap))
	if err == nil || !errors.Is(err, job.ErrMissing) || !strings.Contains(err.Error(), "readings of a fit that is read as it is") {
		t.Errorf("%v", err)
	}
}

// TestFitsOfTheirOwn: one place, its own readings and conditions, and a direct reading; and a
// fit that is made of another: 30.00 - 29.90 = 0.10, and 0.50 - 0.10 = 0.40.
func TestFitsOfTheirOwn(t *testing.T) {
	src := twin() + `
[[fits]]
name = "idler float"
formula = "f = L - w"
limits = "0.05..0.15 mm"
needs = { temperature = "20 °C", bolts = "tightened as for assembly" }
conditions = { temperature = "20 °C", bolts = "tightened as for assembly" }
with = "blades"
reading = "0.05..0.15 mm"
terms = { L = { with = "bore gauge", reading = "30.00 mm" }, w = { with = "micrometer", reading = "29.90 mm" } }
[[fits]]
name = "gear lash"
formula = "x = s - f"
limits = "0.30..0.50 mm"
lines = { f = "idler float" }
terms = { s = { reading = "0.50 ±0.01 mm" } }
`
	a := assess(t, src)
	f := finding(t, a, "idler float")
	if f.Verdict != measure.Conforming || deref(f.Measured.Lo) != "0.0963944 mm" || deref(f.Measured.Hi) != "0.1036056 mm" {
		t.Errorf("%s: %s %s", f.Measured.Text, f.Verdict, f.Advice)
	}
	f = finding(t, a, "gear lash")
	if f.Verdict != measure.Conforming || deref(f.Measured.Lo) != "0.3863944 mm" || deref(f.Measured.Hi) != "0.4136056 mm" {
		t.Errorf("%s: %s %s", f.Measured.Text, f.Verdict, f.Advice)
	}
	// Read with the bolts loose, or without a word of it, neither proves anything.
	for _, said := range []string{`bolts = "loose"`, `bolts = "?"`} {
		a = assess(t, strings.Replace(src, `conditions = { temperature = "20 °C", bolts = "tightened as for assembly" }`, `conditions = { temperature = "20 °C", `+said+` }`, 1))
		for _, name := range []string{"idler float", "gear lash"} {
			if f := finding(t, a, name); f.Verdict != measure.Undecided {
				t.Errorf("%s: %s %s", said, name, f.Verdict)
			}
		}
	}
	// A slip in a term makes the fits that use it undecided.
	a = assess(t, strings.Replace(src, `"29.90 mm"`, `"2.990 mm"`, 1))
	if f := finding(t, a, "idler float"); f.Verdict == measure.Conforming {
		t.Error("a lost decimal point passes")
	}
}

// TestFitsBadInput: what no fit can be.
func TestFitsBadInput(t *testing.T) {
	fit := func(lines ...string) string {
		return twin() + "[[fits]]\nname = \"idler float\"\n" + strings.Join(lines, "\n") + "\n"
	}
	const ab = `terms = { a = { reading = "2 ±0.1 mm" }, b = { reading = "1 ±0.1 mm" } }`
	for _, test := range []struct {
		name, src string
		kind      error
		say       string
	}{
		{"no formula", fit(ab), job.ErrMissing, "write formula"},
		{"no name", twin() + "[[fits]]\nformula = \"C = a\"\n", job.ErrMissing, "write name"},
		{"a name without what is judged", strings.Replace(fit(`formula = "C = a - b"`, ab), `"idler float"`, `"float"`, 1), nil, `as in "idler float"`},
		{"no '='", fit(`formula = "a - b"`, ab), job.ErrFormula, "no '='"},
		{"a product", fit(`formula = "C = a*b"`, ab), job.ErrFormula, "product of two symbols"},
		{"a symbol twice", fit(`formula = "C = a - a"`, ab), job.ErrTwice, "2*a"},
		{"an unknown symbol", fit(`formula = "C = a - b - c"`, ab), job.ErrUnknown, "there are a, b"},
		{"no symbols", fit(`formula = "C = a"`), job.ErrUnknown, "under lines the line that it is"},
		{"nothing uses a term", fit(`formula = "C = a"`, ab), nil, `nothing in "C = a" uses "b"`},
		{"nothing uses a line", fit(`formula = "C = a - b"`, ab, `lines = { D = "main bore" }`), nil, `uses "D"`},
		{"a line and a term", fit(`formula = "C = a - b"`, ab, `lines = { a = "main bore" }`), job.ErrTwice, "stands under lines too"},
		{"an unknown line", fit(`formula = "C = D"`, `lines = { D = "main bor" }`), job.ErrUnknown, `write "main bore"`},
		{"a line that is no length", fit(`formula = "C = D"`, `lines = { D = "piston mass" }`), nil, "no length"},
		{"itself", fit(`formula = "C = D"`, `lines = { D = "idler float" }`), job.ErrUnknown, "line"},
		{"a line at another place", fit(`formula = "C = D - e"`, `lines = { D = "main bore", e = "crankpin width" }`), nil, `no one place for "3"`},
		{"a place that there is not", fit(`formula = "C = D"`, `at = ["4"]`, `lines = { D = "main bore" }`), nil, "its places are 1, 2, 3"},
		{"a reading at no place", fit(`formula = "C = a"`, `terms = { a = { readings = { front = "2 ±0.1 mm" } } }`), job.ErrUnknown, "write one of idler"},
		{"a place twice", fit(`formula = "C = a - b"`, `at = ["x", "x"]`, ab), job.ErrTwice, "give each a name of its own"},
		{"the name of a line", strings.Replace(fit(`formula = "C = a - b"`, ab), `"idler float"`, `"main bore"`, 1), job.ErrTwice, "a name of its own"},
		{"two of one name", fit(`formula = "C = a - b"`, ab) + "[[fits]]\nname = \"idler float\"\nformula = \"C = a - b\"\n" + ab, job.ErrTwice, "a name of its own"},
		{"under measure too", fit(`formula = "C = a - b"`, ab) + line("idler float", `limits = "1 mm"`), job.ErrTwice, "under [[fits]]"},
		{"an unknown condition", fit(`formula = "C = a - b"`, `needs = { oil = "wiped off" }`, `conditions = { oi = "wiped off" }`, ab), job.ErrUnknown, "write one of oil"},
		{"a size without its uncertainty", fit(`formula = "C = a"`, `terms = { a = { reading = "2 mm" } }`), job.ErrNotSure, "name the instrument"},
		{"a list where a table belongs", fit(`formula = "C = a"`, `terms = ["a"]`), nil, "where a table belongs"},
		{"an unknown key", fit(`formula = "C = a"`, `limit = "2 mm"`), nil, "write limits"},
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
