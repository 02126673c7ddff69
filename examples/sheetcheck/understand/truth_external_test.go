package understand_test

import (
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"testing"

	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/examples/sheetcheck/understand"
)

const layouts = "../testdata/layouts"

func load(t testing.TB, name string) *sheet.Book {
	t.Helper()
	f, err := sheet.Open(filepath.Join(layouts, name), sheet.Dialect{}, sheet.DefaultBounds())
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	book, err := f.Load(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return book
}

func rows(t testing.TB, name string) []map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join(layouts, name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, record := range all[1:] {
		row := map[string]string{}
		for i, key := range all[0] {
			row[key] = record[i]
		}
		out = append(out, row)
	}
	return out
}

// TestTruth: what the cells of the kept workbooks are, against what their maker wrote down.
func TestTruth(t *testing.T) {
	books := map[string]*understand.Understanding{}
	type score struct{ right, all int }
	scores := map[string]*score{}
	count := func(key string, ok bool) {
		if scores[key] == nil {
			scores[key] = &score{}
		}
		scores[key].all++
		if ok {
			scores[key].right++
		}
	}
	wrong := map[string]int{}
	for _, row := range rows(t, "truth.csv") {
		file := row["file"]
		u := books[file]
		if u == nil {
			var err error
			if u, err = understand.Read(t.Context(), load(t, file)); err != nil {
				t.Fatal(err)
			}
			books[file] = u
		}
		area, err := sheet.ParseArea(row["cells"])
		if err != nil {
			t.Fatal(err)
		}
		version := "right versions"
		if strings.Contains(file, ".seeded") {
			version = "seeded versions"
		}
		for r := area.First.Row; r <= area.Last.Row; r++ {
			for c := area.First.Column; c <= area.Last.Column; c++ {
				m, _ := u.Meaning(row["sheet"], sheet.Place{Row: r, Column: c})
				ok := m.Role == row["role"] && m.Unit == row["unit"] && m.Claim == (row["kind"] == "claim")
				count(version, ok)
				count(version+", "+row["kind"]+"s", ok)
				if !ok {
					wrong[fmt.Sprintf("%s %s!%s: is %s in %q (%s), taken for %q in %q, claim %t", file, row["sheet"], row["cells"], row["role"], row["unit"], row["kind"], m.Role, m.Unit, m.Claim)]++
				}
			}
		}
	}
	var lines []string
	for w, n := range wrong {
		lines = append(lines, fmt.Sprintf("%s: %d cells", w, n))
	}
	sort.Strings(lines)
	for key, s := range scores {
		if 100*s.right < 95*s.all {
			t.Errorf("%s: fewer than 95 %% of cells understood", key)
		}
		t.Logf("%s: %d of %d cells understood, %.1f %%", key, s.right, s.all, 100*float64(s.right)/float64(s.all))
	}
	t.Logf("not as written down:\n%s", strings.Join(lines, "\n"))
}
