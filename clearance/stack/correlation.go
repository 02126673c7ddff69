package stack

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"slices"
	"strings"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// How contributors hang together. Every size i follows a standard normal variable
//
//	Zᵢ = Σ pᵢₖ·Sₖ + √(1 - Σ pᵢₖ²)·Eᵢ
//
// of independent standard normal sources Sₖ, which others follow too, and its own Eᵢ; pᵢₖ
// is its part of the source. A normal size is its mean plus its standard deviation times
// Zᵢ, so that two have the correlation Σ pᵢₖ·pⱼₖ. Any other size is the one of the same
// rank, F⁻¹(Φ(Zᵢ)).

// A Source moves several sizes of a stack together: the setting of the machine that made
// them, the heat of a batch, a size of the fixture that held them all.
type Source struct {
	Name string `json:"name"`

	// Part is the correlation of the size with the source, from -1 to 1: the size is its
	// mean plus Part times its standard deviation times the source, a standard normal
	// variable, plus what is its own. Nil, in JSON null, is a part that is not known.
	Part *float64 `json:"part"`
}

// UnmarshalJSON reads the exchange form; a missing key is an error.
func (s *Source) UnmarshalJSON(data []byte) error {
	type source Source
	return units.DecodeObject(data, (*source)(s))
}

// tooFar is by how much rounding may push the squares of the parts of a size over one.
const tooFar = 1e-9

// checkSources returns what is wrong with the parts of a contributor.
func (c Contributor) checkSources(where string) error {
	var squares float64
	for i, source := range c.Sources {
		name, p := source.Name, source.Part
		switch {
		case slices.ContainsFunc(c.Sources[:i], func(o Source) bool { return o.Name == name }):
			return wrong(ErrUnusable, where, "the source "+name+" twice", "give its part once")
		case strings.TrimSpace(name) == "":
			return wrong(ErrUnusable, where, "a source without a name", "name what it shares with others, such as the setting of a machine")
		case p == nil && len(c.Sources) > 1:
			return wrong(ErrUnusable, where, "a part of "+name+" that is not known, beside other sources", "give every part, or name one source only")
		case p == nil:
			return nil
		case !(math.Abs(*p) <= 1):
			return wrong(measure.ErrProbability, where, fmt.Sprintf("a part of %g of %s", *p, name), "give the correlation of the size with its source, from -1 to 1")
		}
		squares += *p * *p
	}
	if squares > 1+tooFar {
		return wrong(measure.ErrProbability, where, fmt.Sprintf("parts of its sources whose squares sum to %.6g", squares), "the squares of the parts of one size sum to one at the most")
	}
	return nil
}

// own returns the part of a size that it shares with no other: √(1 - Σ p²), squared.
func (c Contributor) own() *big.Rat {
	rest := big.NewRat(1, 1)
	for _, source := range c.Sources {
		square := new(big.Rat).SetFloat64(*source.Part)
		rest.Sub(rest, square.Mul(square, square))
	}
	if rest.Sign() < 0 {
		return new(big.Rat)
	}
	return rest
}

// Correlated returns the stack with these correlations between its contributors, as parts
// of sources that it names "correlation 1", "correlation 2", …: r[i][j] is that of
// contributors i and j, the same as r[j][i], and 1 where i is j. For sizes that are not
// normal it is the correlation of their normal scores; see Contributor.Sources.
//
// Not all numbers from -1 to 1 can be correlations: a matrix of them is positive
// semidefinite, so that no sum of the sizes has a variance below zero. The parts are the
// rows of its Cholesky factor. The error is of kind [measure.ErrProbability] for what is
// no such matrix, and names the contributor whose correlations contradict those before it;
// of kind ErrUnusable for a contributor that has sources already.
func (s Stack) Correlated(r [][]float64) (Stack, error) {
	const where = "correlations"
	if len(r) != len(s) {
		return nil, wrong(measure.ErrProbability, where, fmt.Sprintf("%d rows for %d contributors", len(r), len(s)), "give one row to each contributor, in their order")
	}
	for i, row := range r {
		label := where + " of " + s[i].label(i)
		switch {
		case len(row) != len(s):
			return nil, wrong(measure.ErrProbability, label, fmt.Sprintf("%d numbers for %d contributors", len(row), len(s)), "give one for each contributor, in their order")
		case row[i] != 1:
			return nil, wrong(measure.ErrProbability, label, fmt.Sprintf("%g with itself", row[i]), "give 1")
		case len(s[i].Sources) > 0:
			return nil, wrong(ErrUnusable, s[i].label(i), "sources that it names already", "give its correlations either way, not both")
		}
		for j, v := range row {
			if !(math.Abs(v) <= 1) || v != r[j][i] {
				return nil, wrong(measure.ErrProbability, label, fmt.Sprintf("%g with %s, and %g the other way", v, s[j].label(j), r[j][i]), "give one number from -1 to 1 to each pair, twice")
			}
		}
	}
	correlated := slices.Clone(s)
	factor := make([][]float64, len(s))
	for i, row := range r {
		factor[i] = make([]float64, len(s))
		left := 1.0
		for j := range i {
			v := row[j]
			for k := range j {
				v -= factor[i][k] * factor[j][k]
			}
			switch d := factor[j][j]; {
			case d > 0:
				v /= d
			case math.Abs(v) > tooFar: // size j follows from those before it, and i does not as they say
				return nil, contradicted(s, i, fmt.Sprintf("%.3g too much or too little with %s, which follows from those before it", v, s[j].label(j)))
			default:
				v = 0
			}
			factor[i][j] = v
			left -= v * v
		}
		if left < -tooFar {
			return nil, contradicted(s, i, fmt.Sprintf("correlations that those before it explain %.4g times over", 1-left))
		}
		if left > tooFar {
			factor[i][i] = math.Sqrt(left)
		}
		var parts []Source
		for k, p := range factor[i][:i+1] {
			if p != 0 {
				parts = append(parts, Source{Name: fmt.Sprintf("correlation %d", k+1), Part: &p})
			}
		}
		correlated[i].Sources = parts
	}
	return correlated, nil
}

func contradicted(s Stack, i int, found string) error {
	return wrong(measure.ErrProbability, "correlations of "+s[i].label(i), found, "such sizes cannot be: give a positive semidefinite matrix, for which these must be nearer zero or nearer what the others imply")
}

// together returns the contributors in groups that hang together by their sources; most
// groups have one.
func (s Stack) together() [][]int {
	group := make([]int, len(s)) // each contributor's, as the first in it
	for i := range s {
		group[i] = i
	}
	root := func(i int) int {
		for group[i] != i {
			i = group[i]
		}
		return i
	}
	first := map[string]int{}
	for i, c := range s {
		for _, source := range c.Sources {
			if source.Part != nil && *source.Part == 0 {
				continue
			}
			j, found := first[source.Name]
			if !found {
				first[source.Name] = i
				continue
			}
			a, b := root(i), root(j)
			group[max(a, b)] = min(a, b)
		}
	}
	groups := make([][]int, len(s))
	for i := range s {
		groups[root(i)] = append(groups[root(i)], i)
	}
	return slices.DeleteFunc(groups, func(g []int) bool { return g == nil })
}

// independent reports whether no contributor hangs together with another.
func (s Stack) independent() bool { return len(s.together()) == len(s) }

// unknownIn returns the source of which somebody in a group has a part that is not known.
func (s Stack) unknownIn(group []int) (name string, ok bool) {
	if len(group) < 2 {
		return "", false
	}
	for _, i := range group {
		for _, source := range s[i].Sources {
			if source.Part == nil {
				return source.Name, true
			}
		}
	}
	return "", false
}

// checkTogether returns an error if it is not known how some contributors hang together.
func (s Stack) checkTogether() error {
	for _, group := range s.together() {
		if name, unknown := s.unknownIn(group); unknown {
			return wrong(ErrUnusable, s[group[0]].label(group[0]), fmt.Sprintf("parts of %s that are not known, shared with %s", name, s.labels(group[1:])),
				"give the parts, or use RSS or WorstCase, which take them at their worst")
		}
	}
	return nil
}

func (s Stack) labels(group []int) string {
	var names []string
	for _, i := range group {
		names = append(names, s[i].label(i))
	}
	return strings.Join(names, ", ")
}

// merged returns terms that are independent and have the same sum as those given, which
// are the contributors': normal ones that hang together are one normal term, and sizes of
// one shape that follow one source altogether are one of that shape. Nothing simple can be
// said of any others, and that is the error.
func (s Stack) merged(terms []term) ([]term, error) {
	if err := s.checkTogether(); err != nil {
		return nil, err
	}
	var all []term
	var errs []error
	for _, group := range s.together() {
		sum := terms[group[0]]
		if len(group) > 1 {
			var ok bool
			if sum, ok = s.normalSum(terms, group); !ok {
				if sum, ok = s.rigidSum(terms, group); !ok {
					errs = append(errs, wrong(ErrUnusable, s[group[0]].label(group[0]), "a size that is not normal, correlated with "+s.labels(group[1:]),
						"use Simulate, RSS or WorstCase: the distribution of such a sum is computed for normal sizes, and for sizes of one shape whose parts are 1 or -1"))
					continue
				}
			}
		}
		if sum.half > 0 {
			all = append(all, sum)
		}
	}
	return all, errors.Join(errs...)
}

// normalSum returns the sum of normal terms: its variance is the sum over the sources of
// (Σ sᵢ·σᵢ·pᵢₖ)², and over the sizes of (sᵢ·σᵢ)²·(1 - Σ pᵢₖ²), exactly.
func (s Stack) normalSum(terms []term, group []int) (sum term, ok bool) {
	variance, names := new(big.Rat), map[string]bool{}
	for _, i := range group {
		if terms[i].kind != normal {
			return term{}, false
		}
		variance.Add(variance, new(big.Rat).Mul(terms[i].exactly().variance, s[i].own()))
		for _, source := range s[i].Sources {
			names[source.Name] = true
		}
	}
	for name := range names {
		total := new(big.Rat)
		for _, i := range group {
			part := new(big.Rat).SetFloat64(s[i].part(name))
			if s[i].Sensitivity.Sign() < 0 {
				part.Neg(part)
			}
			total.Add(total, part.Mul(part, terms[i].deviation()))
		}
		variance.Add(variance, total.Mul(total, total))
	}
	sum = term{kind: normal, sigma: math.Sqrt(nearestTo(variance))}
	sum.half = 3 * sum.sigma
	sum.exact = &exactTerm{half: new(big.Rat).SetFloat64(sum.half), variance: variance}
	return sum, true
}

// rigidSum returns the sum of terms of one symmetrical shape that follow one source
// altogether: they are one variable times the sum of their halves, each with its sign.
func (s Stack) rigidSum(terms []term, group []int) (sum term, ok bool) {
	first := terms[group[0]]
	total := new(big.Rat)
	for _, i := range group {
		t := terms[i]
		if t.kind != first.kind || t.kind == sampled || t.offset != 0 || t.top != first.top ||
			s[i].Distribution.k != s[group[0]].Distribution.k || len(s[i].Sources) != 1 {
			return term{}, false
		}
		switch half := t.exactly().half; *s[i].Sources[0].Part * float64(s[i].Sensitivity.Sign()) {
		case 1:
			total.Add(total, half)
		case -1:
			total.Sub(total, half)
		default:
			return term{}, false
		}
	}
	total.Abs(total)
	e := first.exactly()
	ratio := new(big.Rat).Quo(total, e.half)
	sum = term{kind: first.kind, half: nearestTo(total), top: first.top, exact: &exactTerm{half: total}}
	if first.kind == normalWithin {
		sum.exact.variance = ratio.Mul(e.variance, ratio.Mul(ratio, ratio))
		sum.sigma = math.Sqrt(nearestTo(sum.exact.variance))
	}
	return sum, true
}

// correlation returns that of two sizes of a stack whose parts are known.
func (s Stack) correlation(i, j int) float64 {
	if i == j {
		return 1
	}
	var r float64
	for _, source := range s[i].Sources {
		if source.Part != nil { // else nobody shares it: checkTogether refuses what is shared and not known
			r += *source.Part * s[j].part(source.Name)
		}
	}
	return r
}

// part returns the part of a source that is shared; it is zero of one that the contributor does not name, or
// that is not known and shared with nobody.
func (c Contributor) part(name string) float64 {
	for _, source := range c.Sources {
		if source.Name == name && source.Part != nil {
			return *source.Part
		}
	}
	return 0
}

// shared returns the reading of a contributor of which others may share the doubt, of so
// much either way about the middle: the middle, what each source does to it, and what is
// its own. The error of a source is one reading, so that a sum adds it up with its signs.
func (s Stack) shared(i int, group []int, middle, half units.Length, symbol string) measure.LengthReading {
	estimated := func(at, half units.Length, of string) measure.LengthReading {
		r, err := measure.Estimated(at, half, of)
		if err != nil {
			panic("stack: a negative tolerance: " + err.Error()) // check refuses it
		}
		return r
	}
	c := s[i]
	if name, unknown := s.unknownIn(group); unknown {
		return estimated(middle, half, "tolerance shared by "+name)
	}
	if len(group) == 1 {
		return estimated(middle, half, "tolerance of "+symbol)
	}
	unit := units.Millimetre.OfInt(1)
	one := measure.Sum[units.LengthDim]{Name: "tolerance of " + symbol + ", part of it shared", Symbol: symbol, Terms: []measure.Term[units.LengthDim]{
		measure.Plus("m", "middle", measure.Given(units.Exactly(middle), "")),
	}}
	own := half // what is left, rounded up
	for _, shared := range c.Sources {
		name, part := shared.Name, half.MulRat(new(big.Rat).SetFloat64(*shared.Part))
		in := measure.LengthInstrument{Name: "source " + name, Uncertainty: unit}
		source, err := in.Indicate("deviation of "+name, units.Length{})
		if err != nil {
			panic("stack: a source that cannot be read: " + err.Error())
		}
		one.Terms = append(one.Terms, measure.Term[units.LengthDim]{Symbol: name, Name: name, Factor: units.One.OfRat(part.Rat(units.Millimetre)), Reading: source})
		if own, err = measure.Split(own, part.Abs()); err != nil {
			own = units.Length{} // by rounding: the squares of the parts sum to one
		}
	}
	if !own.IsZero() {
		one.Terms = append(one.Terms, measure.Plus("e", "its own", estimated(units.Length{}, own, "tolerance of "+symbol+" alone")))
	}
	return one.Reading()
}
