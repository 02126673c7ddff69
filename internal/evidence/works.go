package evidence

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"math/big"
	"slices"
	"strings"
)

// mostFromOneWork is the largest share of the facts that may hang on one work.
var mostFromOneWork = big.NewRat(12, 100)

// notRecorded is the entry of values whose copy nobody wrote down. It is no work.
const notRecorded = "none: a copy that is not recorded"

// unrecordedCopies are the words of rows for copies that cannot be found again.
var unrecordedCopies = []string{"copies that are not recorded", "web copies of the table", "two reproductions on the web"}

// worksOf returns the works in which a value was read, or by which it was computed,
// without their parts: FreeCAD, of "FreeCAD (fit tables) and a tool catalogue". A digital
// or web copy of the source is the source itself.
func worksOf(r *Row) []string {
	if r.Provenance == FromMemory || r.Provenance == CommonPractice {
		return []string{"none: " + string(r.Provenance)}
	}
	works := strings.Split(cmp.Or(r.ReadIn(), r.Document()), " and ")
	for i, work := range works {
		work, _, _ = strings.Cut(work, " (")
		switch {
		case slices.Contains(unrecordedCopies, work):
			work = notRecorded
		case isCopyOfSource(work):
			work = r.Document()
		}
		works[i] = work
	}
	slices.Sort(works)
	return slices.Compact(works)
}

func isCopyOfSource(work string) bool {
	return slices.Contains([]string{"digital copies of the manuals", "web copies of the manuals", "digital copies of the book", "a digital copy of the book"}, work)
}

// A workShare says how much of the evidence hangs on one work.
type workShare struct {
	work   string
	values int
	facts  *big.Rat // a fact that was read in two works counts half with each
}

// sharesOf returns the works of all values, those with the most facts first, and how many
// facts there are.
func sharesOf(reports []Report) (shares []workShare, facts int) {
	byWork := map[string]*workShare{}
	for _, o := range valuesOf(reports...) {
		works := worksOf(o.Row)
		if o.Standing == Fact {
			facts++
		}
		for _, work := range works {
			s := byWork[work]
			if s == nil {
				s = &workShare{work: work, facts: new(big.Rat)}
				byWork[work] = s
			}
			s.values++
			if o.Standing == Fact {
				s.facts.Add(s.facts, big.NewRat(1, int64(len(works))))
			}
		}
	}
	for _, s := range byWork {
		shares = append(shares, *s)
	}
	slices.SortFunc(shares, func(x, y workShare) int {
		return cmp.Or(y.facts.Cmp(x.facts), cmp.Compare(y.values, x.values), strings.Compare(x.work, y.work))
	})
	return shares, facts
}

// CheckShares returns an error for each work on which more than 12 % of all facts hang, and
// for what is from memory or was read in copies that nobody can find again if that is more.
func CheckShares(reports []Report) error {
	shares, facts := sharesOf(reports)
	var bad []error
	for _, s := range shares {
		most := new(big.Rat).Mul(mostFromOneWork, big.NewRat(int64(facts), 1))
		if s.facts.Cmp(most) > 0 {
			bad = append(bad, &Error{Kind: ErrShare, Detail: fmt.Sprintf("%s: %s of %d facts, where %s %% are allowed; read the values in another work too",
				s.work, s.facts.FloatString(1), facts, new(big.Rat).Mul(mostFromOneWork, big.NewRat(100, 1)).FloatString(0))})
		}
	}
	return errors.Join(bad...)
}

// CheckTolerances returns an error for each row whose tolerance is more than twenty times
// the deviation seen, and whose note gives no reason for it. Tolerances of a few units in
// the last place of a float64 are left alone: other machines fuse other operations.
func CheckTolerances(reports []Report) error {
	var bad []error
	for _, o := range valuesOf(reports...) {
		if o.Allowed == nil || o.Row.Note != "" || (o.Row.Tolerance.kind != absolute && o.Row.Tolerance.kind != percent) {
			continue
		}
		want, err := parseNumber(o.Row.Want)
		if err != nil {
			continue // a text has no tolerance
		}
		noise := new(big.Rat).Mul(want.Abs().Rat(), big.NewRat(1, 1e12))
		if o.Allowed.Cmp(noise) > 0 && new(big.Rat).Mul(o.Deviation, big.NewRat(20, 1)).Cmp(o.Allowed) < 0 {
			bad = append(bad, o.Row.errorf(ErrLoose, "%s, and off by %s: tighten it, or say in the note why it is not tighter",
				o.Row.Tolerance, twoDigits(o.Deviation)))
		}
	}
	return errors.Join(bad...)
}

// writeWorks lists the works by the facts that hang on each, so that nobody takes many
// sources for many readings.
func writeWorks(b *bytes.Buffer, reports []Report) {
	shares, facts := sharesOf(reports)
	b.WriteString("\n## What was read\n\nThe works in which the values were read, or by which they were computed, whatever source the rows name.\n" +
		"A copy of the source itself counts as the source. A fact that was read in two works counts half with each;\n" +
		"the test fails if more than 12 % of the facts hang on one work.\n\n" +
		"| Read in | Values | Facts | Share of the facts |\n|---|--:|--:|--:|\n")
	for _, s := range shares {
		places := 0
		if !s.facts.IsInt() {
			places = 1
		}
		share := ""
		if facts > 0 {
			share = new(big.Rat).Quo(new(big.Rat).Mul(s.facts, big.NewRat(100, 1)), big.NewRat(int64(facts), 1)).FloatString(1) + " %"
		}
		fmt.Fprintf(b, "| %s | %d | %s | %s |\n", cell(s.work), s.values, s.facts.FloatString(places), share)
	}
}
