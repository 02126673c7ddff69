package clearance

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"gonum.org/v1/gonum/stat/combin"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// An Effort is the work that a change asks for, least first. Remedies put smaller ones
// first.
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

// MarshalText returns the words of String.
func (e Effort) MarshalText() ([]byte, error) {
	if int(e) >= len(effortNames) {
		return nil, &units.Error{Kind: units.ErrNotWritten, Where: "effort", Found: e.String(), Fix: "use one of the constants"}
	}
	return []byte(effortNames[e]), nil
}

// UnmarshalText reads the words of String.
func (e *Effort) UnmarshalText(text []byte) error {
	i := slices.Index(effortNames[:], string(text))
	if i < 0 {
		return &units.Error{Kind: units.ErrNotWritten, Where: "effort", Found: fmt.Sprintf("%.40q", text), Fix: "write one of " + strings.Join(effortNames[:], ", ")}
	}
	*e = Effort(i)
	return nil
}

// An Alternative is another size that a term of a fit could have: a part from the shelf,
// or the part at hand after machining, with the doubt of its size.
type Alternative struct {
	Term    string                `json:"term"`    // the term's symbol: "t1"
	Name    string                `json:"name"`    // "shell green, upper"; "grind to 0.25 undersize"
	Reading measure.LengthReading `json:"reading"` // the size it would have, under the conditions that the term asks for
	Series  string                `json:"series"`  // as in Fit.Series
	Effort  Effort                `json:"effort"`
}

// A Remedy is a set of changes after which a fit is proven inside its limits.
type Remedy struct {
	Changes []Alternative         `json:"changes"` // in the order of the fit's terms
	Result  measure.LengthReading `json:"result"`  // the fit after them
	Margin  units.Length          `json:"margin"`  // how far inside the limits it then is, at the least
}

// mostCombinations is how many sets of changes are looked at.
const mostCombinations = 1_000_000

// Remedies returns every set of changes, one alternative or none for each term, after
// which the fit is proven inside the tolerance. The smallest intervention comes first:
// the one whose largest effort is least; then fewer changes; then less effort altogether;
// then the larger margin. Parts of different series are not put together. The set without
// changes is left out. If nothing at hand helps, the list is empty, and the job needs a
// machine shop.
//
// A direct reading changes by the difference between the new size and the old one, so the
// old size must have been read. The fit after a remedy is its Best.
//
// The error is of kind measure.ErrEmpty for an empty tolerance, measure.ErrNotInSet for
// an alternative to an unknown term, measure.ErrNotMeasured if there is no remedy and a
// size that it would need was not read, ErrTooMany for more than a million sets, or
// measure.ErrContradiction if the direct reading and the sum of the terms disagree: find
// out which is wrong before choosing.
func (f Fit) Remedies(tolerance units.LengthInterval, alternatives ...Alternative) ([]Remedy, error) {
	if err := needTolerance(f.Sum.Name+", remedies", tolerance); err != nil {
		return nil, err
	}
	if a := f.Agreement(); a.Known && !a.Agree {
		return nil, &units.Error{Kind: measure.ErrContradiction, Where: f.Sum.Name,
			Found: fmt.Sprintf("%s measured directly, %s by its parts", a.First.Interval(), a.Second.Interval()),
			Fix:   "measure both again; one is wrong"}
	}
	choices := make([][]Alternative, len(f.Sum.Terms))
	for _, a := range alternatives {
		i, err := f.term(a.Term)
		if err != nil {
			return nil, err
		}
		choices[i] = append(choices[i], a)
	}
	sets, sizes := 1, make([]int, len(choices))
	for i, c := range choices {
		sizes[i] = len(c) + 1
		if sets *= sizes[i]; sets > mostCombinations {
			return nil, &units.Error{Kind: ErrTooMany, Where: f.Sum.Name, Found: "more than a million sets of changes", Fix: "leave out alternatives that are far from the wanted clearance"}
		}
	}
	chosen, at := make([]*Alternative, len(choices)), make([]int, len(choices))
	var found []Remedy
	for g := combin.NewCartesianGenerator(sizes); g.Next(); {
		for i, j := range g.Product(at) {
			if chosen[i] = nil; j < len(choices[i]) {
				chosen[i] = &choices[i][j]
			}
		}
		if r, ok := f.remedy(tolerance, chosen); ok {
			found = append(found, r)
		}
	}
	if i := f.unread(choices); len(found) == 0 && i >= 0 {
		return nil, notGiven(f.Sum.Name + ", " + f.Sum.Terms[i].Name)
	}
	slices.SortStableFunc(found, compareRemedies)
	return found, nil
}

// unread returns the index of the first term whose size is wanted for a remedy and
// was not read, or -1: of a fit that was measured directly, a term that there is an
// alternative for; of any other, a term without an alternative.
func (f Fit) unread(choices [][]Alternative) int {
	for i, t := range f.Sum.Terms {
		if !t.Reading.Taken() && f.Direct.Taken() == (len(choices[i]) > 0) {
			return i
		}
	}
	return -1
}

// remedy returns the changes chosen if they bring the fit inside.
func (f Fit) remedy(tolerance units.LengthInterval, chosen []*Alternative) (Remedy, bool) {
	var r Remedy
	series := ""
	for i, t := range f.Sum.Terms {
		s := f.Series[t.Symbol]
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
	changed, err := f.With(r.Changes...)
	if err != nil {
		return r, false
	}
	r.Result = changed.Best()
	a := measure.Assess(r.Result, tolerance)
	r.Margin, _ = a.Margin()
	return r, a.Verdict == measure.Conforming
}

// With returns the fit after the changes. A direct reading becomes the sum of itself and
// the differences between the new sizes and the old ones. An alternative states its size
// under the conditions of its term, so the term no longer asks for them. The error is of
// kind measure.ErrNotInSet, or measure.ErrNotMeasured if the fit was measured directly
// and the replaced size is unknown.
func (f Fit) With(changes ...Alternative) (Fit, error) {
	after := f
	after.Sum.Terms, after.Series = slices.Clone(f.Sum.Terms), maps.Clone(f.Series)
	direct := measure.Sum[units.LengthDim]{Name: f.Sum.Name + " as measured, and the change of parts",
		Terms: []measure.Term[units.LengthDim]{measure.Plus("", "", f.Direct)}, AtWorst: f.Sum.AtWorst}
	for _, c := range changes {
		i, err := f.term(c.Term)
		if err != nil {
			return Fit{}, err
		}
		old := f.Sum.Terms[i]
		if f.Direct.Taken() && !old.Reading.Taken() {
			return Fit{}, &units.Error{Kind: measure.ErrNotMeasured, Where: f.Sum.Name + ", " + old.Name, Fix: "give the size of the part that is fitted now"}
		}
		after.Sum.Terms[i].Reading, after.Sum.Terms[i].Needs = c.Reading, nil
		if after.Series == nil && c.Series != "" {
			after.Series = map[string]string{}
		}
		if after.Series != nil {
			after.Series[c.Term] = c.Series
		}
		direct.Terms = append(direct.Terms, measure.Term[units.LengthDim]{Factor: old.Factor.Neg(), Reading: old.Reading},
			measure.Term[units.LengthDim]{Factor: old.Factor, Reading: c.Reading})
	}
	if f.Direct.Taken() && len(changes) > 0 {
		after.Direct = direct.Reading()
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
