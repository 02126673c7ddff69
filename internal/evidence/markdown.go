package evidence

import (
	"bytes"
	"fmt"
	"maps"
	"math/big"
	"os"
	"slices"
	"strings"
)

const preamble = `# Evidence

What closefit's numbers were checked against, and how closely they agree. This file is
written by ` + "`go test ./internal/evidence -update`" + ` from the rows in each package's
testdata/evidence/; the test fails when a row disagrees and when this file is stale.

Each value comes from outside closefit. How it came to be known:

| Provenance | Meaning |
|---|---|
| published | printed in the source named, of which a print, or the publisher's own electronic edition, was read |
| reproduced | printed in the source named, and read in a copy of it or in another work that prints it too; "read in" says in which |
| derived | follows from printed values by the arithmetic that the row's note states |
| worked example | the printed answer of a textbook's example; "read in" says where not in the book |
| reference library | computed by independent software, named with its version |
| common practice, no source | a fact of the trade that nobody prints: it shows agreement with custom, and proves nothing |
| from memory | recalled; the source named was not read, so look it up before you rely on it |

How a value is compared:

| Compared | Meaning |
|---|---|
| exact | no difference at all, or the same text |
| places | rounds to the printed value: within half a unit of its last printed place |
| within | within a tolerance that the row states, because the source rounds or approximates on the way |

"Largest deviation" is the one nearest to its tolerance among the values of that source. A source that
rounds well may use all of "places"; that is its rounding, not an error.

Many values do not make many independent facts. A value is none when it is

| Not a fact | Meaning |
|---|---|
| derived | see above; or recalled, and its note says from which other value it follows |
| repeat | a row before it asserts the same: the same check, inputs and unit from another source or another page, or the way back of a conversion. A package that puts another package's value through its own code says so in the note |
| looked up | its check reads the library's own table, so that agreement shows only that the table was typed right |
| handed back | the value is one of the inputs, such as a torque that a plan takes in and gives out |
`

// Markdown writes EVIDENCE.md: the totals, the works that were read, each package by
// source, the known misprints apart. The same reports give the same bytes.
func Markdown(reports []Report) []byte {
	var b bytes.Buffer
	b.WriteString(preamble)
	writeTotals(&b, reports)
	writeStandings(&b, reports)
	writeProperties(&b)
	writeWorks(&b, reports)
	for _, r := range reports {
		writePackage(&b, r)
	}
	writeMisprints(&b, reports)
	return b.Bytes()
}

// valuesOf returns the outcomes of a package, or of all, that are no misprints.
func valuesOf(reports ...Report) []Outcome {
	var all []Outcome
	for _, r := range reports {
		values, _ := split(r.Outcomes)
		all = append(all, values...)
	}
	return all
}

func writeTotals(b *bytes.Buffer, reports []Report) {
	b.WriteString("\n## Totals\n\n| Package | Values | Facts |")
	for _, p := range Provenances() {
		fmt.Fprintf(b, " %s |", p)
	}
	b.WriteString(" Known misprints |\n|---|--:|--:|" + strings.Repeat("--:|", len(Provenances())+1) + "\n")

	misprints := 0
	for _, r := range reports {
		values := valuesOf(r)
		writeTotal(b, r.Package, values, len(r.Outcomes)-len(values))
		misprints += len(r.Outcomes) - len(values)
	}
	all := valuesOf(reports...)
	writeTotal(b, "**all**", all, misprints)

	count := countBy(all, provenanceOf)
	fmt.Fprintf(b, "| **share** | | %s |", percentOf(countBy(all, standingOf)[Fact], len(all)))
	for _, p := range Provenances() {
		fmt.Fprintf(b, " %s |", percentOf(count[p], len(all)))
	}
	b.WriteString(" |\n")
}

func writeTotal(b *bytes.Buffer, name string, values []Outcome, misprints int) {
	count := countBy(values, provenanceOf)
	fmt.Fprintf(b, "| %s | %d | %d |", name, len(values), countBy(values, standingOf)[Fact])
	for _, p := range Provenances() {
		fmt.Fprintf(b, " %d |", count[p])
	}
	fmt.Fprintf(b, " %d |\n", misprints)
}

func writeStandings(b *bytes.Buffer, reports []Report) {
	b.WriteString("\n## Values that are no independent facts\n\n| Package | Values |")
	for _, s := range Standings() {
		fmt.Fprintf(b, " %s |", s)
	}
	b.WriteString("\n|---|--:|" + strings.Repeat("--:|", len(Standings())) + "\n")
	line := func(name string, values []Outcome) {
		count := countBy(values, standingOf)
		fmt.Fprintf(b, "| %s | %d |", name, len(values))
		for _, s := range Standings() {
			fmt.Fprintf(b, " %d |", count[s])
		}
		b.WriteString("\n")
	}
	for _, r := range reports {
		line(r.Package, valuesOf(r))
	}
	line("**all**", valuesOf(reports...))
}

func writePackage(b *bytes.Buffer, r Report) {
	values := valuesOf(r)
	bySource := groupBy(values, func(o Outcome) [2]string { return [2]string{o.Row.Document(), o.Row.ReadIn()} })
	fmt.Fprintf(b, "\n## %s\n\n", r.Package)
	b.WriteString("| Source | Read in | Values | Share | Facts | Provenance | Compared | Largest deviation |\n|---|---|--:|--:|--:|---|---|---|\n")
	for _, source := range slices.SortedFunc(maps.Keys(bySource), func(x, y [2]string) int { return slices.Compare(x[:], y[:]) }) {
		from := bySource[source]
		fmt.Fprintf(b, "| %s | %s | %d | %s | %d | %s | %s | %s |\n", cell(source[0]), cell(source[1]),
			len(from), percentOf(len(from), len(values)), countBy(from, standingOf)[Fact], provenancesOf(from), comparisonsOf(from), worstOf(from))
	}
}

func writeMisprints(b *bytes.Buffer, reports []Report) {
	var lines []string
	for _, r := range reports {
		_, misprints := split(r.Outcomes)
		for _, o := range misprints {
			lines = append(lines, fmt.Sprintf("| %s | %s | %s | %s | %s | %s |\n", r.Package, o.Row.ID, cell(o.Row.Source),
				cell(withUnit(o.Row.Want, o.Row)), cell(withUnit(o.Got.short(), o.Row)), cell(o.Row.Note)))
		}
	}
	if len(lines) == 0 {
		return
	}
	b.WriteString("\n## Known misprints\n\nPrinted values that do not follow from what is printed beside them. They are no part of the counts of\n" +
		"values above, and the test fails if one of them ever agrees.\n\n" +
		"| Package | Row | Source | Printed | Computed | Note |\n|---|---|---|---|---|---|\n")
	for _, line := range lines {
		b.WriteString(line)
	}
}

// split parts the rows that must agree from the known misprints.
func split(outcomes []Outcome) (values, misprints []Outcome) {
	for _, o := range outcomes {
		if o.Misprint {
			misprints = append(misprints, o)
		} else {
			values = append(values, o)
		}
	}
	return values, misprints
}

func provenanceOf(o Outcome) Provenance { return o.Row.Provenance }
func standingOf(o Outcome) Standing     { return o.Standing }

func groupBy[K comparable](outcomes []Outcome, key func(Outcome) K) map[K][]Outcome {
	groups := map[K][]Outcome{}
	for _, o := range outcomes {
		groups[key(o)] = append(groups[key(o)], o)
	}
	return groups
}

func countBy[K comparable](outcomes []Outcome, key func(Outcome) K) map[K]int {
	count := map[K]int{}
	for _, o := range outcomes {
		count[key(o)]++
	}
	return count
}

// percentOf writes a share with one decimal place: "12.5 %".
func percentOf(part, whole int) string {
	if whole == 0 {
		return ""
	}
	return big.NewRat(int64(part)*100, int64(whole)).FloatString(1) + " %"
}

// provenancesOf writes "12 published; 3 from memory", or the bare name when there is
// but one.
func provenancesOf(outcomes []Outcome) string {
	count := countBy(outcomes, provenanceOf)
	var parts []string
	for _, p := range Provenances() {
		switch {
		case count[p] == len(outcomes):
			return string(p)
		case count[p] > 0:
			parts = append(parts, fmt.Sprintf("%d %s", count[p], p))
		}
	}
	return strings.Join(parts, "; ")
}

// comparisonsOf writes "exact", or "4 exact; 2 places; 1 within".
func comparisonsOf(outcomes []Outcome) string {
	names := []string{"exact", "places", "within"}
	count := map[string]int{}
	for _, o := range outcomes {
		switch o.Row.Tolerance.kind {
		case exact:
			count["exact"]++
		case places:
			count["places"]++
		default:
			count["within"]++
		}
	}
	var parts []string
	for _, name := range names {
		switch {
		case count[name] == len(outcomes):
			return name
		case count[name] > 0:
			parts = append(parts, fmt.Sprintf("%d %s", count[name], name))
		}
	}
	return strings.Join(parts, "; ")
}

// worstOf writes the deviation nearest to its tolerance. A share under a thousandth
// is written without digits: they would be those of the machine's float64.
func worstOf(outcomes []Outcome) string {
	var worst Outcome
	share := new(big.Rat)
	approximate := false
	for _, o := range outcomes {
		if o.Allowed == nil || o.Allowed.Sign() == 0 {
			continue
		}
		approximate = approximate || o.Got.kind == floatNumber
		if s := new(big.Rat).Quo(o.Deviation, o.Allowed); s.Cmp(share) > 0 {
			worst, share = o, s
		}
	}
	switch {
	case share.Sign() == 0 && !approximate:
		return "none"
	case share.Cmp(big.NewRat(1, 1000)) < 0:
		return "under 0.1 % of every tolerance"
	}
	places := 0
	if share.Cmp(big.NewRat(1, 100)) < 0 {
		places = 1
	}
	percent := new(big.Rat).Mul(share, big.NewRat(100, 1)).FloatString(places)
	return cell(fmt.Sprintf("%s, %s %% of its tolerance (%s)", withUnit(twoDigits(worst.Deviation), worst.Row), percent, worst.Row.ID))
}

func withUnit(number string, r *Row) string {
	return strings.TrimSpace(number + " " + r.unit)
}

// cell keeps a text inside its table cell.
func cell(s string) string { return strings.ReplaceAll(s, "|", `\|`) }

// Stale tells whether the file at path differs from want. The error, of the kind
// [ErrStale], names the first line that differs.
func Stale(path string, want []byte) error {
	got, err := os.ReadFile(path)
	if err != nil {
		return &Error{File: path, Kind: ErrStale, Cause: err}
	}
	if bytes.Equal(got, want) {
		return nil
	}
	have, need := strings.Split(string(got), "\n"), strings.Split(string(want), "\n")
	line := 0
	for line < len(have) && line < len(need) && have[line] == need[line] {
		line++
	}
	at := func(lines []string) string {
		if line < len(lines) {
			return fmt.Sprintf("%q", lines[line])
		}
		return "nothing"
	}
	return &Error{File: path, Line: line + 1, Kind: ErrStale, Detail: fmt.Sprintf("has %s where %s is due", at(have), at(need))}
}
