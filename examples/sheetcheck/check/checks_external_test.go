package check_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/examples/sheetcheck/check"
	"example.com/closefit/examples/sheetcheck/mapfile"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// checkText checks the rows of a text file under the columns and checks given.
func checkText(t *testing.T, table, rows string) *check.Result {
	t.Helper()
	name := filepath.Join(t.TempDir(), "a.csv")
	if err := os.WriteFile(name, []byte(rows), 0o600); err != nil {
		t.Fatal(err)
	}
	return run(t, name, "[[table]]\nrows = \"1..\"\nlocation = \"A\"\n"+table, check.Options{})
}

// one is a finding in short: ranges, severity, right value of the first cell, and
// the mistake.
func one(f check.Finding) string {
	var ranges []string
	for _, s := range f.Ranges {
		ranges = append(ranges, s.String())
	}
	mistake := f.Cause.Mistake
	if mistake == "" {
		mistake = check.Unexplained
	}
	return strings.Join(ranges, " ") + ": " + f.Severity.String() + ", " + f.Cells[0].Right + ", " + mistake
}

// bearing is what stands below the rows in the map of a bearing.
var bearing = func() string {
	text, err := os.ReadFile(filepath.Join(testdata, "bearing.toml"))
	if err != nil {
		panic(err)
	}
	_, below, _ := strings.Cut(string(text), "location = \"A\"\n")
	return "\n" + below
}()

// columns writes columns for a map, each as "name, place, unit, places", of which the
// last two may be left out.
func columns(all ...string) string {
	var b strings.Builder
	b.WriteString("[table.column]\n")
	for _, c := range all {
		part := append(strings.Split(c, ", "), "", "")
		fmt.Fprintf(&b, "%s = { at = %q", part[0], part[1])
		if part[2] != "" {
			fmt.Fprintf(&b, ", unit = %q", part[2])
		}
		if part[3] != "" {
			fmt.Fprintf(&b, ", places = %s", part[3])
		}
		b.WriteString(" }\n")
	}
	return b.String()
}

// by writes a check for a map.
func by(claim, by string, more ...string) string {
	return fmt.Sprintf("[[table.check]]\nclaim = %q\nby = %q\n%s\n", claim, by, strings.Join(more, "\n"))
}

// TestChecks: each kind of check, right and wrong. What is wanted is worked out by
// hand from the row.
func TestChecks(t *testing.T) {
	for _, test := range []struct {
		name, table, rows string
		want              []string
	}{
		{"a bearing", bearing, "1,60.012,2.006,2.004,55.971,0.031,OK\n", nil},
		{"a bearing by one wall", columns("bore, B, in", "wall, C, in", "journal, D, in", "clearance, E, thou, 1") +
			by("clearance", "bearing clearance"), "1,2.2247,0.0612,2.1004,1.9\n2,2.2247,0.0612,2.1004,63.1\n", []string{"E2: value wrong, 1.9 thou, one wall instead of two"}},
		{"a bearing with its shells fitted", columns("inner, B, mm", "journal, C, mm", "clearance, D, mm, 3") +
			by("clearance", "bearing clearance"), "1,56.003,55.968,0.035\n2,56.003,55.968,0.350\n", []string{"D2: value wrong, 0.035 mm, decimal point moved"}},
		{"end play by washers", columns("journal, B, mm", "housing, C, mm", "front, D, mm", "rear, E, mm", "play, F, mm, 3") +
			by("play", "end play"), "1,31.162,26.004,2.510,2.495,0.153\n2,31.162,26.004,2.510,2.495,2.648\n", []string{"F2: value wrong, 0.153 mm, something left out"}},
		{"end play by dial", columns("from, B, mm", "to, C, mm", "play, D, mm, 3") +
			by("play", "end play"), "1,-0.043,0.112,0.155\n2,0.112,-0.043,-0.155\n3,-0.043,0.112,0.069\n",
			[]string{"D2: value wrong, 0.155 mm, the wrong way round", "D3: value wrong, 0.155 mm, added instead of subtracted"}},
		// 61.12 - 60.98 = 0.14; 59.97 - 60.00 = -0.03, a bolt that was measured wrong, and the
		// sheet's arithmetic is right all the same; 61.05 - 60.93 = 0.12, not 121.98.
		{"stretch", columns("now, B, mm", "new, C, mm", "stretch, D, mm, 2") +
			by("stretch", "stretch"), "1,61.12,60.98,0.14\n2,59.97,60.00,-0.03\n3,61.05,60.93,121.98\n", []string{"D3: value wrong, 0.12 mm, added instead of subtracted"}},
		{"taper of three", columns("a, B, mm", "b, C, mm", "c, D, mm", "taper, E, mm, 3") +
			by("taper", "taper", `of = ["a", "b", "c"]`), "1,55.972,55.978,55.968,0.010\n2,55.972,55.978,55.968,0.004\n3,55.972,55.978,55.968,-0.004\n", []string{"E2: value wrong, 0.010 mm, no known mistake explains it", "E3: value wrong, 0.010 mm, the wrong way round"}},
		{"ring gaps", columns("bore, B, mm", "least, C, mm, 2", "gap, D, mm", "file, E, mm, 2") +
			by("least", "ring gap", `per_bore = "0.004"`) +
			by("file", "ring to file", `per_bore = "0.004"`), "1,88.500,0.35,0.31,0.04\n2,88.500,1.11,0.40,0\n3,88.500,0.35,0.29,-0.06\n",
			[]string{"C2: value wrong, 0.35 mm, another rule", "E3: value wrong, 0.06 mm, the wrong way round"}},
		{"threads", columns("thread, A", "area, B, mm², 1", "pitch, C, mm, 3") +
			by("area", "stress area") +
			by("pitch", "pitch diameter"), "M10,58.0,9.026\nM8,50.3,6.647\nno thread,1,2\n",
			[]string{"B2: value wrong, 36.6 mm², another rule", "C2: value wrong, 7.188 mm, another rule", "B3: not proven, , cannot be recomputed", "C3: not proven, , cannot be recomputed"}},
		{"torque in two units", columns("metric, B, N·m", "feet, C, ft-lb, 1") +
			by("feet", "torque pair", `of = ["metric"]`), "1,98.1,72.4\n2,98.1,868.3\n3,98.1,133.0\n4,98.1,71.9\n",
			[]string{"C2: value wrong, 72.4 lbf·ft, ft-lb for in-lb", "C3: value wrong, 72.4 lbf·ft, the wrong way round", "C4: value wrong, 72.4 lbf·ft, no known mistake explains it"}},
		{"stacks", columns("a, B, mm", "b, C, mm", "c, D, mm", "worst, E, mm, 3", "likely, F, mm, 3") +
			by("worst", "stack worst case", `of = ["a", "b", "c"]`) +
			by("likely", "stack root-sum-square", `of = ["a", "b", "c"]`), "1,0.03,0.04,0.12,0.190,0.130\n2,0.03,0.04,0.12,0.130,0.190\n",
			[]string{"E2: value wrong, 0.190 mm, another rule", "F2: value wrong, 0.130 mm, another rule"}},
		{"packs", columns("needed, B", "stock, C", "size, D", "packs, E") +
			by("packs", "packs"), "red,13,3,4,3\nred,13,3,4,2\nred,13,3,4,4\nred,13,3,4,10\nred,13,3,4,some\nred,0,2,2,0\n",
			// A small number that was typed agrees with too many mistakes for one to be named.
			[]string{"E2: value wrong, 3 packs, no known mistake explains it", "E3: value wrong, 3 packs, no known mistake explains it", "E4: value wrong, 3 packs, no known mistake explains it", "E5: value wrong, 3 packs, not a number"}},
		{"a reading typed wrong", `
[table.column]
journal = { at = "B", unit = "mm", nominal = "55.960 mm" }
inner = { at = "C", unit = "mm", nominal = "56.000 mm" }
clearance = { at = "D", unit = "mm", places = 3 }
[[table.check]]
claim = "clearance"
by = "bearing clearance"
`, "1,55.968,56.003,0.035\n2,5.5968,56.003,50.406\n3,2.2031,56.003,53.800\n",
			[]string{"B2: value wrong, near 55.960 mm, decimal point moved", "B3: value wrong, near 55.960 mm, inch for millimetre"}},
		{"a neighbour's journal", bearing, "1,60.012,2.006,2.004,55.971,0.031,OK\n2,60.007,2.003,2.005,55.962,0.028,OK\n3,60.016,2.005,2.001,55.983,0.027,OK\n",
			// A journal 9 µm off is no proof that the next one was taken.
			[]string{"F2: value wrong, 0.037 mm, no known mistake explains it"}},
		{"verdicts", bearing, "1,60.012,2.006,2.004,55.971,0.031,high\n2,60.012,2.006,2.004,55.9537,0.048,OK\n3,60.012,2.006,2.004,55.954,0.048,high\n4,60.012,2.006,2.004,55.971,0.031,fine\n5,60.012,2.006,2.004,55.981,0.021,OK\n",
			[]string{
				"G1: verdict wrong, conforming: 0.031 mm against 0.024..0.048 mm, no known mistake explains it",
				"G2: verdict wrong, above limit: 0.0483 mm against 0.024..0.048 mm, rounded before the comparison",
				"G3: verdict wrong, conforming: 0.048 mm against 0.024..0.048 mm, binary floating-point residue",
				"G5: verdict wrong, below limit: 0.021 mm against 0.024..0.048 mm, no known mistake explains it",
				"G4: style, conforming: 0.031 mm against 0.024..0.048 mm, a word the map does not know",
			}},
		{"no reading", bearing, "1,60.012,,2.004,55.971,0.031,OK\n2,60.012,2.0O6,2.004,55.971,0.031,OK\nnotes,,,,,,\n,,,,,see the other sheet,\n",
			[]string{
				"G1: verdict wrong, , no reading behind it", "G2: verdict wrong, , not a number",
				"F1: value wrong, , no reading behind it", "F2: value wrong, , not a number", "C2: not proven, , not a number",
			}},
		{"a verdict on nothing", bearing, "1,60.012,2.006,2.004,,,OK\n2,,,,,,high\n3,,,,,,see below\n4,60.012,2.006,2.004,55.971,,OK\n",
			[]string{"G1: verdict wrong, , no reading behind it", "G2: verdict wrong, , no reading behind it"}},
		{"a verdict by no limits", columns("inner, B, mm", "journal, C, mm", "clearance, D, mm, 3", "least, E, mm", "most, F, mm", "verdict, G") +
			by("clearance", "bearing clearance") +
			by("verdict", "verdict", `of = ["clearance"]`), "1,56.003,55.968,0.035,0.024,0.048,OK\n2,56.003,55.968,0.035,,0.048,OK\n3,56.003,55.968,0.035,0.024,tbd,OK\n4,56.003,55.968,0.035,0.048,0.024,OK\n5,56.003,55.968,0.035,,,\n",
			[]string{"G2: not proven, , no limit to judge by", "E2: not proven, , no limit to judge by", "G3: not proven, , no limit to judge by", "F3: not proven, , no limit to judge by",
				"G4: verdict wrong, nothing is proven, no limit to judge by"}},
		{"a limit on one side, in words", strings.Replace(bearing, "0.024..0.048 mm", "at most 0.048 mm", 1), "1,60.012,2.006,2.004,55.981,0.021,OK\n2,60.012,2.006,2.004,55.952,0.050,OK\n",
			[]string{"G2: verdict wrong, above limit: 0.05 mm against <= 0.048 mm, no known mistake explains it"}},
		{"an error in place of a verdict", bearing, "1,60.012,2.006,2.004,55.971,0.031,#REF!\n2,60.012,2.006,2.004,55.971,0.031,#N/A\n",
			[]string{"G1: verdict wrong, conforming: 0.031 mm against 0.024..0.048 mm, an error in place of a verdict", "G2: verdict wrong, conforming: 0.031 mm against 0.024..0.048 mm, an error in place of a verdict"}},
		{"no more digits than there are", strings.Replace(bearing, ", places = 3 }", " }", 1), "1,60.012,2.006,2.004,55.960,0.041999999999,OK\n2,60.012,2.006,2.004,55.960,2.046000000000,high\n",
			[]string{"F2: value wrong, 0.042 mm, one wall instead of two", "G2: verdict wrong, conforming: 0.042 mm against 0.024..0.048 mm, follows from a wrong value"}},
		{"blanks behind a text", bearing, "1,60.012 ,2.006,2.004 ,55.971,0.031 ,OK \n", nil},
		{"an error value", bearing, "1,60.012,2.006,2.004,55.971,#REF!,\n", []string{"F1: value wrong, 0.031 mm, not a number"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			r := checkText(t, test.table, test.rows)
			var got []string
			for _, f := range check.Group(slices.Concat(r.Findings, r.Follows)) {
				got = append(got, one(f))
			}
			if strings.Join(got, "\n") != strings.Join(test.want, "\n") {
				t.Errorf("found\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(test.want, "\n"))
			}
		})
	}
}

// TestNotProven: a claim may be right without its readings proving it.
func TestNotProven(t *testing.T) {
	for _, test := range []struct{ name, bore, journal, doubt string }{
		{"two instruments", `, instrument = "bore gauge"`, `, instrument = "micrometer"`, "0.005"}, // √(3² + 4²) µm
		{"one instrument", `, instrument = "micrometer"`, `, instrument = "micrometer"`, "0.007"},  // at worst 3 + 4 µm
		{"instruments not named", "", "", "0.007"},                                                 // likewise
	} {
		table := strings.Replace(bearing, `bore = { at = "B", unit = "mm" }`, `bore = { at = "B", unit = "mm", uncertainty = "0.003 mm"`+test.bore+` }`, 1)
		table = strings.Replace(table, `journal = { at = "E", unit = "mm" }`, `journal = { at = "E", unit = "mm", uncertainty = "0.004 mm"`+test.journal+` }`, 1)
		// 0.031 lies 7 µm above the limit, 0.028 lies 4 µm above it.
		r := checkText(t, table, "1,60.012,2.006,2.004,55.971,0.031,OK\n2,60.012,2.006,2.004,55.974,0.028,OK\n")
		if len(r.Findings) != 1 || one(r.Findings[0]) != "G2: not proven, undecided: 0.028 mm ± "+test.doubt+" mm against 0.024..0.048 mm, "+check.Uncertain {
			t.Errorf("%s: found %v", test.name, r.Findings)
		}
	}
}

// TestSettling: of a value 1.5 standard uncertainties inside a limit, a reading with
// U = 0.36904 standard uncertainties settles the verdict nine times in ten. Here u is
// 2 µm, so U = 0.738 µm.
func TestSettling(t *testing.T) {
	table := strings.Replace(bearing, `bore = { at = "B", unit = "mm" }`, `bore = { at = "B", unit = "mm", uncertainty = "0.004 mm" }`, 1)
	r := checkText(t, table, "1,60.012,2.006,2.004,55.975,0.027,OK\n")
	if len(r.Findings) != 1 || !strings.Contains(r.Findings[0].Cause.Says, "another reading, good to ±0.00073 mm, would settle it nine times in ten") {
		t.Errorf("found %v", r.Findings)
	}
}

// TestGroupedDigits: where the comma is the decimal mark, a point groups digits, and no
// such text is a number.
func TestGroupedDigits(t *testing.T) {
	name := filepath.Join(t.TempDir(), "a.csv")
	if err := os.WriteFile(name, []byte("1;56,003;55,968;0,035\n2;56.003;55,968;0,035\n3;56,003 mm;55,968;35 µm\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	table := columns("inner, B, mm", "journal, C, mm", "clearance, D, mm, 3") + by("clearance", "bearing clearance")
	r := run(t, name, "[csv]\nseparator = \";\"\ndecimal = \",\"\n[[table]]\nrows = \"1..\"\n"+table, check.Options{})
	if len(r.Findings) != 2 || one(r.Findings[0]) != "D2: value wrong, , not a number" || one(r.Findings[1]) != "B2: not proven, , not a number" {
		t.Errorf("found %v", r.Findings)
	}
}

// TestSaidOnce: rows that share a mistake are one finding, and an absolute
// reference is known by what it does to all of them.
func TestSaidOnce(t *testing.T) {
	r := checkText(t, strings.Split(bearing, "[[table.check]]\nclaim = \"verdict\"")[0],
		"1,60.012,2.006,2.004,55.971,0.031\n2,60.007,2.003,2.005,55.962,0.028\n3,60.016,2.005,2.001,55.983,0.039\n4,60.011,2.002,2.004,55.957,0.034\n5,60.011,2.002,2.004,55.957,2.050\n7,60.011,2.002,2.004,55.959,2.048\n")
	all := check.Group(r.Findings)
	if len(all) != 2 {
		t.Fatalf("found %v", all)
	}
	if got, want := one(all[0]), "F2:F4: value wrong, 0.037 mm, absolute reference copied down"; got != want {
		t.Errorf("found %s, want %s", got, want)
	}
	if got, want := one(all[1]), "F5:F6: value wrong, 0.048 mm, one wall instead of two"; got != want {
		t.Errorf("found %s, want %s", got, want)
	}
	if n := all[0].Count; n != 3 {
		t.Errorf("%d cells, want 3", n)
	}
}

// TestMapErrors: what a map asks for that cannot be is said with its line.
func TestMapErrors(t *testing.T) {
	for _, test := range []struct{ name, old, new, want string }{
		{"an unknown check", `by = "bearing clearance"`, `by = "clearance"`, `m.toml:11: table[0].check[0]: "clearance" is not a check; write one of bearing clearance, verdict,`},
		{"a part missing", `upper = `, `top = `, `bearing clearance needs the columns bore, upper, lower, journal; or bore, wall, journal; or inner, journal; name them so, or write with = { bore = "…" }`},
		{"a unit of another kind", `clearance = { at = "F", unit = "mm"`, `clearance = { at = "F", unit = "N·m"`, `bearing clearance does not give a quantity in N·m`},
		{"no unit", `clearance = { at = "F", unit = "mm", places = 3 }`, `clearance = { at = "F" }`, `the column clearance has no unit`},
		{"an unknown unit", `bore = { at = "B", unit = "mm" }`, `bore = { at = "B", unit = "spans" }`, `the column bore: `},
		{"no limits", `limits = "0.024..0.048 mm"`, ``, `a verdict needs limits: write limits = "0.024..0.048 mm"`},
		{"limits without a unit", `limits = "0.024..0.048 mm"`, `limits = "0.024..0.048"`, `limits: `},
		{"a sheet that is not there", `rows = "1.."`, "rows = \"1..\"\nsheet = \"Mains\"", `m.toml:3: table[0].sheet: no sheet is called "Mains": a text file has no sheets; leave the key out`},
		{"an instrument without its uncertainty", `bore = { at = "B", unit = "mm" }`, `bore = { at = "B", unit = "mm", instrument = "bore gauge" }`, `the column bore has an instrument and no uncertainty; write uncertainty = "0.002 mm"`},
		{"an uncertainty of nothing", `bore = { at = "B", unit = "mm" }`, `bore = { at = "B", unit = "mm", uncertainty = "0 mm" }`, `the uncertainty of bore is 0 mm; write one above zero`},
	} {
		t.Run(test.name, func(t *testing.T) {
			src := strings.Replace("[[table]]\nrows = \"1..\"\n"+bearing, test.old, test.new, 1)
			m, places, err := mapfile.Read("m.toml", []byte(src))
			if err != nil {
				t.Fatal(err)
			}
			name := filepath.Join(t.TempDir(), "a.csv")
			if err := os.WriteFile(name, nil, 0o600); err != nil {
				t.Fatal(err)
			}
			f, err := sheet.Open(name, sheet.Dialect{}, sheet.DefaultBounds())
			if err != nil {
				t.Fatal(err)
			}
			defer f.Close()
			_, err = check.Run(t.Context(), m, places, f, check.Options{})
			var errs tomlfile.Errors
			if !errors.As(err, &errs) {
				t.Fatalf("error is %T, %v", err, err)
			}
			if !strings.Contains(err.Error(), test.want) {
				t.Errorf("error is\n%v\nwant\n%s", err, test.want)
			}
		})
	}
}
