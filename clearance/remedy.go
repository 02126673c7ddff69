package clearance

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/units"
)

// An Effort says how much a change asks for, least first. Remedies put smaller
// ones first.
type Effort uint8

const (
	Exchange Effort = iota // another part from the shelf: a shell, a washer, a ring
	HandWork               // filing a ring, lapping a washer
	Honing                 // a bore honed to size
	Grinding               // a journal ground to an undersize
	Boring                 // a housing line-bored, a cylinder bored to an oversize
)

var effortNames = [...]string{
	Exchange: "exchange", HandWork: "hand work", Honing: "honing", Grinding: "grinding", Boring: "boring",
}

// String returns the effort in a word or two.
func (e Effort) String() string {
	if int(e) >= len(effortNames) {
		return fmt.Sprintf("Effort(%d)", uint8(e))
	}
	return effortNames[e]
}

// An Alternative is another size that a term of a fit could have: a part that
// exists, or what a machine can make of the one there is, with how closely it is
// known beforehand.
type Alternative struct {
	Term    string        // the term's symbol: "t1"
	Name    string        // "shell green, upper"; "grind to 0.25 undersize"
	Reading LengthReading // the size it would have
	Series  string        // as in Term
	Effort  Effort
}

// A Remedy is a set of changes after which a fit is proven inside its limits.
type Remedy struct {
	Changes []Alternative // in the order of the fit's terms
	Result  LengthReading // the fit after them
	Margin  units.Length  // how far inside the limits it then is, at the least
}

// Remedies are sets of changes, the smallest intervention first. Without any, it
// is a case for a machine shop.
type Remedies []Remedy

// mostCombinations is how many sets of changes are looked at.
const mostCombinations = 1_000_000

// Remedies returns every set of changes, one alternative or none for each term,
// after which the fit is proven inside the tolerance, by the rule. The smallest
// intervention comes first: that whose largest effort is least; then fewer changes;
// then less effort altogether; then the larger margin. Parts of different series
// are not put together. The set without changes is not among them.
//
// A fit that was measured directly is taken to change by the difference between
// the new size and the old one; a term that was not read cannot be changed then.
// What the fit is after a remedy is its Best.
//
// The error is an *Error of kind ErrNoTolerance for an empty tolerance, ErrNoTerm for
// an alternative to a term that there is not, ErrNotMeasured if there is no remedy
// while a size that it takes was not read, ErrTooMany for more than a million sets, or
// ErrContradiction if the direct reading and the sum of the terms do not agree: nothing
// can be chosen before it is known which of them is wrong.
func (f Fit) Remedies(rule Combination, tolerance units.LengthInterval, alternatives ...Alternative) (Remedies, error) {
	if err := needTolerance(f.Name+", remedies", tolerance); err != nil {
		return nil, err
	}
	if a := f.Agreement(rule); a.Known && !a.Agree {
		return nil, &Error{Kind: ErrContradiction, Where: f.Name,
			Found: fmt.Sprintf("%s measured directly, %s by its parts", a.First.Interval(), a.Second.Interval()),
			Fix:   "measure both again; one is wrong"}
	}
	choices := make([][]Alternative, len(f.Terms))
	for _, a := range alternatives {
		i, err := f.term(a.Term)
		if err != nil {
			return nil, err
		}
		choices[i] = append(choices[i], a)
	}
	sets := 1
	for _, c := range choices {
		if sets *= 1 + len(c); sets > mostCombinations {
			return nil, &Error{Kind: ErrTooMany, Where: f.Name, Found: "more than a million sets of changes", Fix: "leave out alternatives that are far from what is wanted"}
		}
	}
	chosen := make([]*Alternative, len(f.Terms))
	var found Remedies
	var choose func(i int)
	choose = func(i int) {
		if i < len(f.Terms) {
			for j := range choices[i] {
				chosen[i] = &choices[i][j]
				choose(i + 1)
			}
			chosen[i] = nil
			choose(i + 1)
			return
		}
		if r, ok := f.remedy(rule, tolerance, chosen); ok {
			found = append(found, r)
		}
	}
	choose(0)
	if i := f.unread(choices); len(found) == 0 && i >= 0 {
		return nil, notGiven(f.Name + ", " + f.Terms[i].Name)
	}
	slices.SortStableFunc(found, compareRemedies)
	return found, nil
}

// unread returns the index of the first term whose size is wanted for a remedy and
// was not read, or -1: of a fit that was measured directly, a term that there is an
// alternative for; of any other, a term without an alternative.
func (f Fit) unread(choices [][]Alternative) int {
	for i, t := range f.Terms {
		if !t.Reading.Taken() && f.Direct.Taken() == (len(choices[i]) > 0) {
			return i
		}
	}
	return -1
}

// remedy returns the changes chosen if they bring the fit inside.
func (f Fit) remedy(rule Combination, tolerance units.LengthInterval, chosen []*Alternative) (Remedy, bool) {
	var r Remedy
	series := ""
	for i, t := range f.Terms {
		s := t.Series
		if a := chosen[i]; a != nil {
			r.Changes = append(r.Changes, *a)
			s = a.Series
		}
		if s != "" && series != "" && s != series {
			return r, false
		}
		series = cmp.Or(series, s)
	}
	if len(r.Changes) == 0 {
		return r, false
	}
	changed, err := f.With(rule, r.Changes...)
	if err != nil {
		return r, false
	}
	r.Result = changed.Best(rule)
	a := Assess(r.Result, tolerance)
	r.Margin, _ = a.Margin()
	return r, a.Verdict == Conforming
}

// With returns the fit after the changes; the rule combines a direct reading with
// the difference between the new sizes and the old ones. The error is an *Error of kind
// ErrNoTerm, or ErrNotMeasured if the fit was measured directly and the size that
// is replaced is not known.
func (f Fit) With(rule Combination, changes ...Alternative) (Fit, error) {
	after := f
	after.Terms = slices.Clone(f.Terms)
	parts := []Term{{Times: +1, Reading: f.Direct}}
	for _, c := range changes {
		i, err := f.term(c.Term)
		if err != nil {
			return Fit{}, err
		}
		old := f.Terms[i]
		if f.Direct.Taken() && !old.Reading.Taken() {
			return Fit{}, &Error{Kind: ErrNotMeasured, Where: f.Name + ", " + old.Name, Fix: "give the size of the part that is fitted now"}
		}
		after.Terms[i].Reading, after.Terms[i].Series = c.Reading, c.Series
		parts = append(parts, Term{Times: -old.Times, Reading: old.Reading}, Term{Times: old.Times, Reading: c.Reading})
	}
	if f.Direct.Taken() && len(changes) > 0 {
		after.Direct = combine(f.Name+" as measured, and the change of parts", rule, parts)
	}
	return after, nil
}

// effort returns the largest effort of the remedy, and the sum of all.
func (r Remedy) effort() (largest Effort, sum int) {
	for _, c := range r.Changes {
		largest = max(largest, c.Effort)
		sum += int(c.Effort)
	}
	return largest, sum
}

func compareRemedies(a, b Remedy) int {
	la, sa := a.effort()
	lb, sb := b.effort()
	return cmp.Or(cmp.Compare(la, lb), cmp.Compare(len(a.Changes), len(b.Changes)), cmp.Compare(sa, sb), b.Margin.Cmp(a.Margin))
}

// Text writes the remedy in a line: "shell green, upper: 0.031..0.039 mm, at least
// 0.001 mm inside".
func (r Remedy) Text(u units.LengthUnit) string {
	names := make([]string, len(r.Changes))
	for i, c := range r.Changes {
		names[i] = c.Name
	}
	return fmt.Sprintf("%s: %s, at least %s inside", strings.Join(names, " and "), span(r.Result.Interval(), u), written(r.Margin, u))
}

// MachineShop reports that nothing at hand helps: hand the job to a machine shop.
func (r Remedies) MachineShop() bool { return len(r) == 0 }

// Text writes the remedies, a line each; without any, that it is a case for a
// machine shop.
func (r Remedies) Text(u units.LengthUnit) string {
	if r.MachineShop() {
		return "nothing at hand brings it inside: a case for a machine shop\n"
	}
	var b strings.Builder
	for _, x := range r {
		b.WriteString(x.Text(u) + "\n")
	}
	return b.String()
}
