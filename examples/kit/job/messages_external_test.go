package job_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/job"
)

// wordOfGo is what no message may have.
var wordOfGo = regexp.MustCompile(`\b(struct|string|int64|float64|bool|nil|interface|reflect|strconv|unmarshal\w*|decode\w*|tomlfile)\b|: toml: |U\+[0-9A-F]{4}|map\[|\[\]|%!|&\{`)

// TestMessages: values of another kind than their key has, and what else people write: one
// error each, in the words of the file, with the line, the key and what to write.
func TestMessages(t *testing.T) {
	const bore = `3 = "62.893 mm"`
	const strips = `widths = ["0.045 mm", "0.060 mm", "0.080 mm", "0.110 mm"]`
	const sides = `readings = { 1 = "0.20..0.25 mm", 2 = "dial: 0.06 to 0.33 mm", 3 = "0.25..0.30 mm", 4 = "0.30..0.35 mm" }`
	const bores = `conditions = { bolts = "tightened as for assembly", shells = "out" }`
	for _, test := range []struct{ old, new, say string }{
		{bore, `3 = ["62.893 mm", "62.891 mm"]`, `measure.main bore.readings.3: a list, where one text belongs; write 3 = "62.893 62.891 mm"`},
		{bore, `3 = { goes = "62.893 mm" }`, `measure.main bore.readings.3: a table, where a text belongs; write 3 = "..."`},
		{bore, `3 = "0 mm ±0 mm"`, `measure.main bore.readings.3: 0 mm ±0 mm is exact, and no size is; write how far it may be off`},
		{bore, `3 = "62.893 ±0 mm"`, `62.893 ±0 mm is exact, and no size is; write how far it may be off`},
		{bore, `3 = "62.893 +0/0 mm"`, `62.893 +0/0 mm is exact, and no size is`},
		{bore, `3 = "0 mm"`, `bore gauge: not above zero: 0 mm; give one above zero`},
		{bore, `3 = "62.893; 62.891 62.890 mm"`, `62.893; 62.891 62.890 mm: wrong number; read each plane in the same directions`},
		{bore, `3 = "62.893 62.891; 62.893 mm"`, `62.893 62.891; 62.893 mm: wrong number; read each plane in the same directions`},
		{bore, `3 = "62.893 mm; 62.891 mm"`, `and the unit once, at the end: "62.893; 62.891 mm"`},
		{bore, `3 = "62.893, 62.891 mm"`, `and the unit once, at the end: "62.893 62.891 mm"`},
		{bore, `3 = ""`, `measure.main bore.readings.3: missing; write 3 = "..."`},
		{`with = "bore gauge"`, `with = ["bore gauge"]`, `measure.main bore.with: a list, where one text belongs; write with = "bore gauge"`},
		{`with = "bore gauge"`, `with = { name = "bore gauge" }`, `measure.main bore.with: a table, where a text belongs; write with = "..."`},
		{`with = "bore gauge"`, `with = 3`, `measure.main bore.with: 3, a bare number, where a text belongs; write "3"`},
		{bores, `conditions = "as for assembly"`, `measure.main bore.conditions: "as for assembly", where names with a text each belong; write conditions = { NAME = "as for assembly" }`},
		{bores, `conditions = ["bolts tightened"]`, `measure.main bore.conditions: a list, where names with a text each belong`},
		{sides, `readings = ["0.20..0.25 mm"]`, `measure.rod side play.readings: a list, where names with a text each belong; write readings = { NAME = "0.20..0.25 mm" }`},
		{sides, `readings = "0.20..0.25 mm"`, `measure.rod side play.readings: "0.20..0.25 mm", where names with a text each belong`},
		{`limits = "0.053..0.087 mm"`, `limits = { lo = "0.053 mm" }`, `measure.main bearing clearance.limits: a table, where a text belongs; write limits = "..."`},
		{`limits = "0.053..0.087 mm"`, `limits = "0.053 - 0.087 mm"`, `write "0.053..0.087 mm"`},
		{`cylinders = 4`, `cylinders = "4"`, `engine.cylinders: "4", a text; write cylinders = 4`},
		{`cylinders = 4`, `cylinders = 4.5`, `engine.cylinders: 4.5; write how many there are, cylinders = 4`},
		{`cylinders = 4`, `cylinders = { n = 4 }`, `engine.cylinders: a table; write how many there are, cylinders = 4`},
		{`cylinders = 4`, `cylinders = [1, 2, 3, 4]`, `engine.cylinders[0]: 1, where a name belongs; write it in quotes`},
		{`cylinders = 4`, `cylinders = "1, 2, 3, 4"`, `or their names, cylinders = ["1", "2", "3", "4"]`},
		{`thrust = "3"`, `thrust = 3`, `engine.thrust: 3, a bare number, where a text belongs; write "3"`},
		{`rings = ["top ring", "second ring"]`, `rings = "top ring, second ring"`, `engine.rings: "top ring, second ring", where a list belongs; write rings = ["top ring", "second ring"]`},
		{"[instruments.dial]\n", "[engine]\ncylinders = 6\n[instruments.dial]\n", `[engine]: given twice, first on line 19; keep one, with all that belongs to it`},
		{"[instruments.dial]\n", "[[engine]]\ncylinders = 6\n[instruments.dial]\n", `[[engine]] stands in double brackets here, and in single ones on line 19`},
		{`upper = "84 78 90 78 84"`, `upper = "84 78 90 78 84 84 78"`, `7 codes (84, 78, 90, 78, 84, 84, 78) for 5 locations`},
		{`upper = "84 78 90 78 84"`, `upper = ["84", "78", "90", "78", "84"]`, `shells.main.codes.upper: a list, where one text belongs; write upper = "84 78 90 78 84"`},
		{"[instruments.dial]\nkind = \"dial\"\nuncertainty = \"0.005 mm\"", "[instruments]\ndial = \"0.005 mm\"", `instruments.dial: "0.005 mm", where a table belongs; write dial = { … }, with kind, uncertainty`},
		{`uncertainty = "0.005 mm"`, `uncertainty = 0.005`, `instruments.dial.uncertainty: 0.005, a bare number, where a text belongs; write "0.005", or with its unit if it is a quantity, as in "0.005 mm"`},
		{`uncertainty = "0.005 mm"`, `uncertainty = "?"`, `instruments.dial.uncertainty: missing; write how far it may be off to either side`},
		{`uncertainty = "0.005 mm"`, "uncertainty = \"0.005 mm\"\nk = \"2\"", `instruments.dial.k: "2", a text where a number belongs; write k = 2`},
		{strips, strings.Replace(strips, "widths", "blades", 1), `instruments.crush strip.blades: the key blades stands where widths belongs: a crush strip has the clearances of its printed widths; write widths = ["0.045 mm", …]`},
		{"kind = \"feeler blades\"\nblades", "kind = \"feeler blades\"\nwidths", `the key widths stands where blades belongs: feeler blades have thicknesses; write blades = ["0.05 mm", …]`},
		{"limits = \"0.17..0.34 mm\"\nwith = \"blades\"\nreadings = {", "readings = \"0.17..0.34 mm\"\nwith = \"blades\"\nlimits = {", `measure.rod side play.limits: the key limits stands where readings belongs, and readings where limits does; write limits = "0.17..0.34 mm", and the table as readings = { … }`},
		{"limits = \"0.17..0.34 mm\"\nwith = \"blades\"\n" + sides, "limits = { 1 = \"0.20..0.25 mm\" }\nreadings = \"0.17..0.34 mm\"", `the key limits stands where readings belongs, and readings where limits does`},
		{strips, `widths = "0.045, 0.060, 0.080, 0.110 mm"`, `instruments.crush strip.widths: "0.045, 0.060, 0.080, 0.110 mm", where a list belongs; write widths = ["0.045 mm", "0.060 mm", "0.080 mm", "0.110 mm"]`},
		{`new = "all"`, `new = true`, `bolts.main cap bolts.new: true; write "all", or a list of bolts in brackets`},
		{`new = "all"`, `new = "M1L"`, `bolts.main cap bolts.new: "M1L"; write "all", or a list of bolts in brackets, as in ["M1L"]`},
		{`new = "all"`, `new = { M1L = true }`, `bolts.main cap bolts.new: a table; write "all", or a list of bolts in brackets`},
		{`new = "all"`, `new = [1]`, `bolts.main cap bolts.new[0]: 1, where the name of a bolt belongs; write it in quotes`},
		{`order = "inside out"`, `order = { a = 1 }`, `tightening[0].order: a table is no order; write "inside out"`},
		{`single_use = true`, `single_use = "yes"`, `tightening[0].single_use: "yes", where true or false belongs; write single_use = true`},
		{`{ torque = "9 N·m" },`, `"9 N·m",`, `tightening[0].stages[0]: "9 N·m", where a table belongs; write { … }, with torque`},
		{`count = 2`, `count = "two"`, `shells.main.stock[0].count: "two", where a whole number belongs`},
		{`price = "14.10"`, `price = 14.10`, `shells.main.packs[2].price: 14.10, a bare number, where a text belongs; write "14.10"`},
	} {
		t.Run(test.new, func(t *testing.T) {
			src := base(t)
			if !strings.Contains(src, test.old) {
				t.Fatalf("the demonstration has no %q", test.old)
			}
			_, err := job.Read("job.toml", []byte(strings.Replace(src, test.old, test.new, 1)))
			if err == nil {
				t.Fatal("no error")
			}
			if said := err.Error(); !strings.Contains(said, test.say) || strings.Contains(said, "\n") || wordOfGo.MatchString(said) || !strings.HasPrefix(said, "job.toml:") {
				t.Errorf("want one error that says\n%s\nhave\n%s", test.say, said)
			}
		})
	}
}

// TestInches: a job in inches is not told to write millimetres.
func TestInches(t *testing.T) {
	src, err := job.Demonstration("slate-saw")
	if err != nil {
		t.Fatal(err)
	}
	typed := strings.Replace(string(src), `0.0032 in"`, `0.0032"`, 1)
	_, err = job.Read("job.toml", []byte(typed))
	if err == nil || !strings.Contains(err.Error(), `write "0.0019..0.0032 in"`) {
		t.Errorf("%v", err)
	}
}

// TestEverythingAtOnce: values of another kind hide no other fault.
func TestEverythingAtOnce(t *testing.T) {
	src := strings.NewReplacer(`with = "bore gauge"`, `with = ["bore gauge"]`, `thrust = "3"`, `thrust = 3`, `uncertainty = "0.005 mm"`, `uncertainty = 0.005`,
		`limits = "0.053..0.087 mm"`, `limits = "0.053..0.087"`, `1 = "0.20..0.25 mm"`, `1 = "0.25..0.20 mm"`, `torque = "23 N·m"`, `torque = "23 mm"`, `[measure."rod side play"]`, `[measure."rod side pay"]`,
		`jets = 4`, "jets = 4\njets = 4").Replace(base(t))
	_, err := job.Read("job.toml", []byte(src))
	if n := strings.Count(fmt.Sprint(err), "\n") + 1; n != 8 {
		t.Errorf("%d errors, want 8:\n%v", n, err)
	}
}

// TestLargeAndForeign: a job of 20 MB, and one in another encoding, are refused at once.
func TestLargeAndForeign(t *testing.T) {
	utf16 := []byte{0xff, 0xfe}
	for _, c := range base(t) {
		utf16 = append(utf16, byte(c), byte(c>>8))
	}
	for _, test := range []struct {
		src  []byte
		want string
	}{
		{[]byte(strings.Repeat("# and so on\n", 20<<20/12)), "job.toml: a file of 20480 kB, and at most 256 kB are read; look whether it is the right one"},
		{utf16, "job.toml: it is not in UTF-8, but in UTF-16 as it seems; save it again as UTF-8"},
	} {
		if _, err := job.Read("job.toml", test.src); err == nil || !strings.HasPrefix(err.Error(), test.want) {
			t.Errorf("%v, want %q", err, test.want)
		}
	}
}
