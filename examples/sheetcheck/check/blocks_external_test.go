package check_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.com/closefit/examples/sheetcheck/check"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// TestPassedBlocks: the rows of a text have their own numbers in every block of its lines. A wrong row, the
// single cell of a limit and the ends of a table stand where one block ends and the next begins. Each
// line is 60.000 - 2·2.000 - journal = clearance, of which the single limit is 0.050.
func TestPassedBlocks(t *testing.T) {
	const rows = 3000
	text := func(lines map[int]string) string {
		var b strings.Builder
		b.WriteString("main,bore,wall,journal,clearance,verdict,limit\n")
		for row := 2; row <= rows+1; row++ {
			line := "60.000,2.000,55.960,0.040,OK,     " // as long as with a limit
			if row%7 == 3 {
				line = "60.000,2.000,55.920,0.080,wide,   "
			}
			if other := lines[row]; other != "" {
				line = other
			}
			b.WriteString("m," + line + "\n")
		}
		return b.String()
	}
	const wrong, limit = "60.000,2.000,55.920,0.080,OK,     ", "60.000,2.000,55.960,0.040,OK,0.050"
	const overLimit = "60.000,2.000,55.949,0.051,wide,   "
	file := func(lines map[int]string) string {
		name := filepath.Join(t.TempDir(), "a.csv")
		if err := os.WriteFile(name, []byte(text(lines)), 0o600); err != nil {
			t.Fatal(err)
		}
		return name
	}
	first := blocks(t, file(nil)) // the first row of each
	if len(first) < 3 {
		t.Fatalf("the text has %d blocks", len(first))
	}
	of := func(from, to, limit int) string {
		return fmt.Sprintf(`
[[table]]
rows = "%d..%d"
location = "A"
[table.column]
bore = { at = "B", unit = "mm" }
wall = { at = "C", unit = "mm" }
journal = { at = "D", unit = "mm" }
clearance = { at = "E", unit = "mm" }
verdict = { at = "F" }
[[table.check]]
claim = "clearance"
by = "formula"
formula = "B%[1]d-2*C%[1]d-D%[1]d"
[[table.check]]
claim = "verdict"
by = "formula"
formula = 'IF(E%[1]d>$G$%[3]d,"wide","OK")'
`, from, to, limit)
	}
	for i, begin := range first[1:] {
		for _, test := range []struct {
			name            string
			lines           map[int]string
			from, to, limit int
			found           []string
			looked          []int
		}{
			{"a wrong row first", map[int]string{2: limit, begin: wrong}, 2, rows + 1, 2, []string{fmt.Sprint("F", begin)}, []int{2, begin - 1, begin, begin + 1}},
			{"a wrong row last", map[int]string{2: limit, begin - 1: wrong}, 2, rows + 1, 2, []string{fmt.Sprint("F", begin-1)}, []int{2, begin - 2, begin - 1, begin}},
			{"wrong rows on both sides", map[int]string{2: limit, begin - 1: wrong, begin: wrong}, 2, rows + 1, 2, []string{fmt.Sprint("F", begin-1), fmt.Sprint("F", begin)}, []int{2, begin - 2, begin - 1, begin, begin + 1}},
			{"a limit first", map[int]string{begin: limit}, 2, rows + 1, begin, nil, []int{2, begin}},
			{"a limit last", map[int]string{begin - 1: limit}, 2, rows + 1, begin - 1, nil, []int{2, begin - 1}},
			{"a limit first, and a wrong row before", map[int]string{begin: limit, 40: wrong}, 2, rows + 1, begin, []string{"F40"}, []int{2, 39, 40, 41, begin}},
			{"a limit last, and a wrong row below", map[int]string{begin - 1: limit, rows: wrong}, 2, rows + 1, begin - 1, []string{fmt.Sprint("F", rows)}, []int{2, begin - 1, rows - 1, rows, rows + 1}},
			{"the table ends", map[int]string{2: limit, begin: wrong}, 2, begin - 1, 2, nil, []int{2}},
			{"the table ends one row on", map[int]string{2: limit, begin: overLimit}, 2, begin, 2, nil, []int{2}},
			{"the table begins", map[int]string{2: limit, begin - 1: wrong}, begin, rows + 1, 2, nil, []int{2, begin}},
			{"the table begins one row on", map[int]string{2: limit}, begin + 1, rows + 1, 2, nil, []int{2, begin + 1}},
		} {
			t.Run(fmt.Sprintf("%d/%s", i+2, test.name), func(t *testing.T) {
				name := file(test.lines)
				if !slices.Equal(blocks(t, name), first) {
					t.Fatal("the lines fall into other blocks")
				}
				var looked []int
				r := run(t, name, of(test.from, test.to, test.limit), check.Looked(check.Options{}, &looked))
				var found []string
				for _, f := range r.Findings {
					for _, c := range f.Cells {
						found = append(found, c.At.String())
					}
				}
				slices.Sort(found)
				if want := slices.Sorted(slices.Values(test.found)); !slices.Equal(found, want) {
					t.Errorf("found %q, want %q", found, want)
				}
				if n := test.to - test.from + 1; r.Claims != 2*n || r.Rows != n {
					t.Errorf("%d claims in %d rows, want %d in %d", r.Claims, r.Rows, 2*n, n)
				}
				if !slices.Equal(looked, test.looked) {
					t.Errorf("rows %d are looked at closely, want %d", looked, test.looked)
				}
			})
		}
	}
}

// blocks returns the first row of each block of a text's lines.
func blocks(t *testing.T, name string) (first []int) {
	t.Helper()
	f, err := sheet.Open(name, sheet.Dialect{}, sheet.DefaultBounds())
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for b, err := range f.Batches(t.Context(), "") {
		if err != nil {
			t.Fatal(err)
		}
		rows, err := b.Rows()
		if err != nil {
			t.Fatal(err)
		}
		first = append(first, rows[0].Number)
	}
	return first
}
