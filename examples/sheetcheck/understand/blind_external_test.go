package understand_test

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.com/closefit/examples/sheetcheck/check"
	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/examples/sheetcheck/understand"
	"example.com/closefit/internal/thorough"
)

// fair tells whether said is one of the words that a file of truth or seeds allows: one, or
// several with | between them.
func fair(allowed, said string) bool { return slices.Contains(strings.Split(allowed, "|"), said) }

// A tally counts what is right of all there is.
type tally struct{ right, all int }

func (s *tally) add(ok bool) {
	s.all++
	if ok {
		s.right++
	}
}

// least fails a test if fewer than so many of a hundred are right.
func (s tally) least(t *testing.T, what string, percent int) {
	t.Helper()
	t.Logf("%s: %d of %d, %.1f %%", what, s.right, s.all, 100*float64(s.right)/float64(max(s.all, 1)))
	if !thorough.Whole() {
		percent -= 15 // of a sample
	}
	if s.all == 0 || 100*s.right < percent*s.all {
		t.Errorf("%s: %d of %d; want at least %d %%", what, s.right, s.all, percent)
	}
}

// TestOtherHabits: workbooks laid out by other habits than those that sheetcheck was written
// with. Where TESTS is not whole it looks at one workbook in three.
func TestOtherHabits(t *testing.T) {
	for _, set := range []struct {
		folder                            string
		understood, shown, latent, causes int // of a hundred, at least
	}{
		{"blind", 95, 95, 80, 95},
		{"later", 95, 95, 80, 95},
		{"traps", 95, 95, 80, 95},
		{"fresh", 95, 95, 80, 95},
		{"strangers", 95, 95, 80, 95},
		{"values", 95, 95, 80, 95},
		{"owners", 95, 95, 80, 95},
		{"unseen", 95, 95, 80, 95},
		{"trades", 95, 95, 80, 95},
	} {
		t.Run(set.folder, func(t *testing.T) {
			m := readFolder(t, set.folder)
			m.understood.least(t, "cells understood", set.understood)
			m.shown.least(t, "mistakes that show, found", set.shown)
			m.latent.least(t, "latent mistakes found", set.latent)
			m.causes.least(t, "of those found, the true cause first", set.causes)
			if m.alarms > 0 {
				t.Errorf("%d cells named in which nothing is wrong; want none", m.alarms)
			}
		})
	}
}

// A measured is what was understood and found in the workbooks of a folder.
type measured struct {
	understood, shown, latent, causes tally
	alarms                            int
}

// readFolder understands and checks the workbooks of a folder.
func readFolder(t *testing.T, folder string) (m measured) {
	t.Helper()
	seeds, truth := map[string][]map[string]string{}, map[string][]map[string]string{}
	for _, row := range rows(t, folder+"/seeds.csv") {
		seeds[row["file"]] = append(seeds[row["file"]], row)
	}
	var files []string
	for _, row := range rows(t, folder+"/truth.csv") {
		if truth[row["file"]] == nil {
			files = append(files, row["file"])
		}
		truth[row["file"]] = append(truth[row["file"]], row)
	}
	for i := 0; i < len(files); i += 2 * thorough.Every(3) { // the right version, then the seeded one
		for _, file := range files[i : i+2] {
			u, err := understand.Read(t.Context(), load(t, filepath.Join(folder, file)))
			if err != nil {
				t.Fatal(err)
			}
			for _, row := range truth[file] {
				m.understood.cells(t, u, row)
			}
			result := examine(t, filepath.Join(folder, file))
			known := map[string]bool{}
			groups := map[string][]map[string]string{}
			for _, row := range seeds[file] {
				known[row["sheet"]+"!"+row["cell"]] = true
				if row["shows"] != "follows" {
					groups[row["seed"]] = append(groups[row["seed"]], row)
				}
			}
			for _, group := range groups {
				found, named, said := sought(result, group)
				if group[0]["shows"] == "latent" {
					m.latent.add(found)
				} else {
					m.shown.add(found)
				}
				if !found {
					t.Logf("%s %s!%s: not found: %s%s", file, group[0]["sheet"], group[0]["cell"], group[0]["mistake"], said)
				} else if group[0]["mistake"] != unknowable {
					m.causes.add(named)
					if !named {
						t.Logf("%s %s!%s: is %q, and is said to be%s", file, group[0]["sheet"], group[0]["cell"], group[0]["mistake"], said)
					}
				}
			}
			for list, all := range lists(result) {
				for _, f := range all {
					for _, at := range spread(f.Ranges) {
						if place := f.Sheet + "!" + at.String(); !known[place] {
							m.alarms++
							t.Logf("%s %s: not seeded, but %s %q (%s)", file, place, list, f.Cause.Mistake, f.Cause.Says)
						}
					}
				}
			}
			t.Logf("%s: %d of %d cells checked", file, result.Coverage.Checked, result.Coverage.Cells)
		}
	}
	return m
}

// unknowable is the mistake of a verdict without a formula that its limits do not give:
// nobody can know how it came there.
const unknowable = "verdict against its limits"

// cells counts the cells of a row of truth.csv that are taken for what they are.
func (s *tally) cells(t *testing.T, u *understand.Understanding, row map[string]string) {
	t.Helper()
	area, err := sheet.ParseArea(row["cells"])
	if err != nil {
		t.Fatal(err)
	}
	missed := 0
	var taken understand.Meaning
	for r := area.First.Row; r <= area.Last.Row; r++ {
		for c := area.First.Column; c <= area.Last.Column; c++ {
			m, _ := u.Meaning(row["sheet"], sheet.Place{Row: r, Column: c})
			ok := fair(row["role"], m.Role) && fair(row["unit"], m.Unit) && m.Claim == (row["kind"] == "claim")
			s.add(ok)
			if !ok {
				missed++
				taken = m
			}
		}
	}
	if missed > 0 {
		t.Logf("%s %s!%s: is %s in %q (%s), taken for %q in %q, claim %t: %d cells", row["file"], row["sheet"], row["cells"], row["role"], row["unit"], row["kind"], taken.Role, taken.Unit, taken.Claim, missed)
	}
}

// sought looks for a seed in the list where it belongs.
func sought(r *check.Result, seed []map[string]string) (found, named bool, said string) {
	for list, all := range lists(r) {
		for _, f := range all {
			for _, at := range spread(f.Ranges) {
				for _, row := range seed {
					if f.Sheet != row["sheet"] || at.String() != row["cell"] {
						continue
					}
					said += fmt.Sprintf(" %s: %q (%s)", list, f.Cause.Mistake, f.Cause.Says)
					if list == row["shows"] {
						found = true
						named = named || f.Cause.Mistake == row["mistake"] || fair(row["also"], f.Cause.Mistake) || f.Cause.Mistake == check.Odd
					}
				}
			}
		}
	}
	return found, named, said
}

func spread(spans []check.Span) []sheet.Place {
	var all []sheet.Place
	for _, s := range spans {
		for r := s.First.Row; r <= s.Last.Row; r++ {
			for c := s.First.Column; c <= s.Last.Column; c++ {
				all = append(all, sheet.Place{Row: r, Column: c})
			}
		}
	}
	return all
}
