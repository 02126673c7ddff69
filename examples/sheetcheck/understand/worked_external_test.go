package understand_test

import (
	"math/big"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"example.com/closefit/examples/sheetcheck/understand"
)

// TestWorked: a line that is shown worked out says that something is equal only where it is, and what stands there where
// the cell has another formula.
func TestWorked(t *testing.T) {
	for name, want := range map[string]string{
		"arrays.xlsx":        `F5 clearance = 46.019-1.496-1.499-42.992 = 0.032; G5 says "good"`,
		"arrays.seeded.xlsx": `F5 clearance: 46.019-1.496-1.499-42.992, where the sheet has 0.035; G5 says "good"`,
	} {
		u, err := understand.Read(t.Context(), load(t, name))
		if err != nil {
			t.Fatal(err)
		}
		if got := u.Tables[0].Worked[0]; got != want {
			t.Errorf("%s: %s\nwant %s", name, got, want)
		}
	}
	names, err := filepath.Glob(filepath.Join(layouts, "*.xlsx"))
	if err != nil {
		t.Fatal(err)
	}
	sums := 0
	for _, name := range names {
		u, err := understand.Read(t.Context(), load(t, filepath.Base(name)))
		if err != nil {
			t.Fatal(err)
		}
		for _, table := range u.Tables {
			for _, line := range table.Worked {
				for part := range strings.SplitSeq(line, "; ") {
					if m := plainSum.FindStringSubmatch(part); m != nil {
						sums++
						if !isSum(t, m[1], m[2]) {
							t.Errorf("%s: %s", name, part)
						}
					}
				}
			}
		}
	}
	if sums < 50 {
		t.Errorf("%d sums were looked at", sums)
	}
}

// plainSum is numbers that are added and taken off, and what they are said to come to.
var plainSum = regexp.MustCompile(` = ([0-9.]+(?:[-+][0-9.]+)+) = (-?[0-9.]+)$`)

// isSum adds up by fractions; what it comes to is printed with six digits.
func isSum(t *testing.T, terms, result string) bool {
	t.Helper()
	total, said := new(big.Rat), new(big.Rat)
	for _, term := range regexp.MustCompile(`[-+]?[0-9.]+`).FindAllString(terms, -1) {
		n, ok := new(big.Rat).SetString(term)
		if !ok {
			t.Fatalf("%q is no number", term)
		}
		total.Add(total, n)
	}
	if _, ok := said.SetString(result); !ok {
		t.Fatalf("%q is no number", result)
	}
	off := new(big.Rat).Abs(said.Sub(said, total))
	return off.Cmp(big.NewRat(1, 100_000)) < 0
}
