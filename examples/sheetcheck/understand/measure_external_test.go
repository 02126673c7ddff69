package understand_test

import (
	"fmt"
	"path/filepath"
	"sort"
	"strings"
	"testing"

	"example.com/closefit/examples/sheetcheck/check"
	"example.com/closefit/internal/thorough"
)

// examine understands and checks a kept workbook.
func examine(t testing.TB, name string) *check.Result {
	t.Helper()
	_, result := readFile(t, filepath.Join(layouts, name))
	return result
}

// lists returns the lists of a result by the words of seeds.csv, with one cell in each finding.
func lists(r *check.Result) map[string][]check.Finding {
	each := func(findings []check.Finding) (all []check.Finding) {
		for _, f := range findings {
			for _, c := range f.Cells {
				one := f
				one.Cells, one.Cause.Says = []check.Cell{c}, c.Says
				all = append(all, one)
			}
		}
		return all
	}
	return map[string][]check.Finding{"shows": each(r.Findings), "latent": each(r.Latent), "follows": each(r.Follows)}
}

// TestSeeds: which of the seeded mistakes are found, in which list, and with which cause;
// and what is said of the right versions.
func TestSeeds(t *testing.T) {
	seeds := map[string][]map[string]string{}
	files := map[string]bool{}
	for _, row := range rows(t, "seeds.csv") {
		seeds[row["file"]] = append(seeds[row["file"]], row)
	}
	for _, row := range rows(t, "truth.csv") {
		files[row["file"]] = true
	}
	type score struct{ seeded, found, cause int }
	scores := map[string]*score{}
	var notes []string
	alarms, extra := 0, 0
	for file := range files {
		result := examine(t, file)
		known := map[string]bool{}
		for _, seed := range seeds[file] {
			s := scores[seed["shows"]]
			if s == nil {
				s = &score{}
				scores[seed["shows"]] = s
			}
			s.seeded++
			place := seed["sheet"] + "!" + seed["cell"]
			known[place] = true
			said := ""
			found, cause := false, false
			for list, all := range lists(result) {
				for _, f := range all {
					if f.Sheet == seed["sheet"] && f.Cells[0].At.String() == seed["cell"] {
						said += fmt.Sprintf(" %s: %s %q (%s)", list, f.Severity, f.Cause.Mistake, f.Cause.Says)
						found = found || list == seed["shows"]
						cause = cause || list == seed["shows"] && f.Cause.Mistake == seed["mistake"]
					}
				}
			}
			if found {
				s.found++
			}
			if cause {
				s.cause++
			}
			if !found || !cause {
				notes = append(notes, fmt.Sprintf("%s %s: seeded %s %q;%s", file, place, seed["shows"], seed["mistake"], said))
			}
		}
		for list, all := range lists(result) {
			for _, f := range all {
				place := f.Sheet + "!" + f.Cells[0].At.String()
				if known[place] {
					continue
				}
				if strings.Contains(file, ".seeded") {
					extra++
				} else {
					alarms++
				}
				notes = append(notes, fmt.Sprintf("%s %s: not seeded, but %s %q (%s)", file, place, list, f.Cause.Mistake, f.Cause.Says))
			}
		}
		for _, u := range result.Unchecked {
			notes = append(notes, fmt.Sprintf("%s %s!%s unchecked: %s", file, u.Sheet, u.At, u.Why))
		}
	}
	for kind, s := range scores {
		t.Logf("%-8s %3d seeded, %3d found (%.1f %%), %3d with the cause", kind, s.seeded, s.found, 100*float64(s.found)/float64(s.seeded), s.cause)
	}
	for kind, least := range map[string]float64{"shows": 0.95, "latent": 0.8, "follows": 0.95} {
		if s := scores[kind]; float64(s.found) < least*float64(s.seeded) || float64(s.cause) < least*float64(s.seeded) {
			t.Errorf("%s: %d of %d found, %d with the cause; want %.0f %%", kind, s.found, s.seeded, s.cause, 100*least)
		}
	}
	if alarms > 0 || extra > 0 {
		t.Errorf("%d alarms on right versions, %d on cells of seeded versions that have no seed; want none", alarms, extra)
	}
	t.Logf("%d alarms on right versions, %d on cells of seeded versions that have no seed", alarms, extra)
	sort.Strings(notes)
	t.Log(strings.Join(notes, "\n"))
}

// TestOlderSeeds: what is found without a map in the workbooks whose maps are kept. They were
// made before sheets were understood. A kept map says more than the sheets: the nominal sizes,
// for one, and that an area is a thread's.
func TestOlderSeeds(t *testing.T) {
	for _, test := range []struct {
		file  string
		least float64 // of the seeds are found
	}{
		{"singles.xlsx", 0.95},
		{"pairs.xlsx", 0.95},
		{"values.xlsx", 0.70}, // a column without formulas that is wrong in most lines proves nothing
	} {
		t.Run(test.file, func(t *testing.T) {
			if test.file != "singles.xlsx" {
				thorough.Long(t)
			}
			result := examine(t, "../"+test.file)
			said := map[string]bool{}
			for _, all := range lists(result) {
				for _, f := range all {
					said[f.Sheet+"!"+f.Cells[0].At.String()] = true
				}
			}
			known := map[string]bool{}
			found := 0
			for _, row := range rows(t, "../seeds.csv") {
				if place := row["sheet"] + "!" + row["cell"]; row["file"] == test.file {
					known[place] = true
					if said[place] {
						found++
					}
				}
			}
			for list, all := range lists(result) {
				for _, f := range all {
					place := f.Sheet + "!" + f.Cells[0].At.String()
					if list == "shows" && !known[place] { // the others are not among these seeds
						t.Errorf("%s: not seeded, but %s %q (%s)", place, list, f.Cause.Mistake, f.Cause.Says)
					}
				}
			}
			t.Logf("%s: %d of %d seeds found", test.file, found, len(known))
			if float64(found) < test.least*float64(len(known)) {
				t.Errorf("%d of %d seeds are found, want %.0f %%", found, len(known), 100*test.least)
			}
		})
	}
}
