package evidence

import (
	"errors"
	"math/big"
	"slices"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
)

func TestWorksOf(t *testing.T) {
	tests := []struct {
		line string
		want []string
	}{
		{"a,sum,a=1,3,mm,0,A book; p. 1,published,", []string{"A book"}},
		{"a,sum,a=1,3,mm,0,A book; p. 1; read in A copy (page 3),reproduced,", []string{"A copy"}},
		{"a,sum,a=1,3,mm,0,A book; p. 1; read in B copy (page 3) and A copy,reproduced,", []string{"A copy", "B copy"}},
		{"a,sum,a=1,3,mm,0,A book; p. 1; read in A copy (page 3) and A copy (page 4),reproduced,", []string{"A copy"}},
		{"a,sum,a=1,3,mm,0,TM 1-2; p. 1; read in digital copies of the manuals,reproduced,", []string{"TM 1-2"}},
		{"a,sum,a=1,3,mm,0,A book; p. 1; read in copies that are not recorded,reproduced,", []string{notRecorded}},
		{"a,sum,a=1,3,mm,0,A book; p. 1,from memory,", []string{"none: from memory"}},
	}
	for _, test := range tests {
		if got := worksOf(oneRow(t, test.line)); !slices.Equal(got, test.want) {
			t.Errorf("%s: %q, want %q", test.line, got, test.want)
		}
	}
}

func TestCheckShares(t *testing.T) {
	// Of 100 facts, n were read in one work, half of them in a second one too; the others
	// each in a work of their own.
	reports := func(alone, both int) []Report {
		r := Report{Package: "p"}
		for i := range 100 {
			source := "Book " + string(rune('一'+i))
			switch {
			case i < alone:
				source = "The book"
			case i < alone+both:
				source = "The book; p. 1; read in The book and " + source
			}
			provenance := "published"
			if strings.Contains(source, "read in") {
				provenance = "reproduced"
			}
			r.Outcomes = append(r.Outcomes, Outcome{Row: oneRow(t, "a,sum,a=1,3,mm,0,"+source+","+provenance+","), Standing: Fact})
		}
		return []Report{r}
	}
	for _, test := range []struct {
		alone, both int
		ok          bool
	}{{12, 0, true}, {13, 0, false}, {10, 4, true}, {10, 5, false}} {
		err := CheckShares(reports(test.alone, test.both))
		if (err == nil) != test.ok || err != nil && (!errors.Is(err, ErrShare) || !strings.Contains(err.Error(), "The book")) {
			t.Errorf("%d facts in one work and %d in two: %v", test.alone, test.both, err)
		}
	}
}

func TestCheckTolerances(t *testing.T) {
	outcome := func(tolerance, note string, deviation float64) []Report {
		row := oneRow(t, "a,sum,a=1,100,mm,"+tolerance+",A book,published,"+note)
		allowed := row.Tolerance.Allowed(decimal.NewFromInt(100))
		return []Report{{Outcomes: []Outcome{{Row: row, Deviation: new(big.Rat).SetFloat64(deviation), Allowed: allowed}}}}
	}
	tests := []struct {
		tolerance, note string
		deviation       float64
		ok              bool
	}{
		{"1%", "", 0.06, true},
		{"1%", "", 0.04, false},
		{"1%", "read off a chart", 0.04, true},
		{"1", "", 0.04, false},
		{"places", "", 0, true},
		{"0", "", 0, true},
		{"0.0000000001", "", 0, true}, // a few roundings of a float64
		{"0.000000001", "", 0, false},
	}
	for _, test := range tests {
		err := CheckTolerances(outcome(test.tolerance, test.note, test.deviation))
		if (err == nil) != test.ok || err != nil && !errors.Is(err, ErrLoose) {
			t.Errorf("%s, off by %v, note %q: %v", test.tolerance, test.deviation, test.note, err)
		}
	}
}
