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
| published | printed in the source named, of which a print was read |
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
`

// Markdown writes EVIDENCE.md: the totals, each package by source, the known
// misprints apart. The same reports give the same bytes.
func Markdown(reports []Report) []byte {
	var b bytes.Buffer
	b.WriteString(preamble)
	writeTotals(&b, reports)
	for _, r := range reports {
		writePackage(&b, r)
	}
	writeMisprints(&b, reports)
	return b.Bytes()
}

func writeTotals(b *bytes.Buffer, reports []Report) {
	b.WriteString("\n## Totals\n\n| Package | Values |")
	for _, p := range Provenances() {
		fmt.Fprintf(b, " %s |", p)
	}
	b.WriteString(" Known misprints |\n|---|--:|" + strings.Repeat("--:|", len(Provenances())+1) + "\n")

	var all []Outcome
	for _, r := range reports {
		writeTotal(b, r.Package, r.Outcomes)
		all = append(all, r.Outcomes...)
	}
	writeTotal(b, "**all**", all)
}

func writeTotal(b *bytes.Buffer, name string, outcomes []Outcome) {
	values, misprints := split(outcomes)
	count := countByProvenance(values)
	fmt.Fprintf(b, "| %s | %d |", name, len(values))
	for _, p := range Provenances() {
		fmt.Fprintf(b, " %d |", count[p])
	}
	fmt.Fprintf(b, " %d |\n", len(misprints))
}

func writePackage(b *bytes.Buffer, r Report) {
	values, _ := split(r.Outcomes)
	bySource := map[string][]Outcome{}
	for _, o := range values {
		document := o.Row.Document()
		bySource[document] = append(bySource[document], o)
	}
	fmt.Fprintf(b, "\n## %s\n\n", r.Package)
	b.WriteString("| Source | Values | Provenance | Compared | Largest deviation |\n|---|--:|---|---|---|\n")
	for _, source := range slices.Sorted(maps.Keys(bySource)) {
		from := bySource[source]
		fmt.Fprintf(b, "| %s | %d | %s | %s | %s |\n",
			cell(source), len(from), provenancesOf(from), comparisonsOf(from), worstOf(from))
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

func countByProvenance(outcomes []Outcome) map[Provenance]int {
	count := map[Provenance]int{}
	for _, o := range outcomes {
		count[o.Row.Provenance]++
	}
	return count
}

// provenancesOf writes "12 published; 3 from memory", or the bare name when there is
// but one.
func provenancesOf(outcomes []Outcome) string {
	count := countByProvenance(outcomes)
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
