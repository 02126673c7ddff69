package clearance

import (
	"fmt"
	"strings"

	"example.com/closefit/units"
)

// A Fit is a clearance, a play or a gap that follows from sizes: a sum of
// readings, each taken so many times, more often than not once with a plus or a
// minus. The functions of this package make the fits of an engine; a Fit of
// one's own is made by filling one in.
//
// A fit can also be measured where it is, by a strip, a blade or a dial. Direct
// is that reading; a fit may have terms, or a direct reading, or both, and then
// Agreement tells whether they say the same.
type Fit struct {
	Name   string // "main 3, running clearance"
	Symbol string // "C"
	Terms  []Term
	Direct LengthReading // the fit as measured directly; the zero Reading if it was not

	// Partial says that Terms are only some of the sizes: the washers of an end
	// play, without the widths. They tell what changing them does, and do not add
	// up to the fit.
	Partial bool

	Notes []string // what a reader of its working must know
}

// A Term is one size of a fit.
type Term struct {
	Symbol  string // "D"
	Name    string // "housing bore"
	Times   int64  // how often it counts, with its sign: +1, -1, -2
	Reading LengthReading

	// Series names the undersize or oversize that the part belongs to, such as
	// "0.25 undersize"; parts of different series are never put together as a
	// remedy. A part that fits every series has none.
	Series string
}

// Reading returns what is known of the fit: the direct reading if there is one,
// else the sum of the terms by the rule. It is not taken if a term is not.
func (f Fit) Reading(rule Combination) LengthReading {
	if f.Direct.Taken() || len(f.Terms) == 0 {
		return f.Direct
	}
	return f.Computed(rule)
}

// Computed returns the sum of the terms by the rule, whether or not there is a
// direct reading. It is not taken if a term is not, or if the terms are none or
// only some.
func (f Fit) Computed(rule Combination) LengthReading {
	if len(f.Terms) == 0 || f.Partial {
		return LengthReading{}
	}
	return combine(f.Name, rule, f.Terms)
}

// Best returns the closer of what is known of the fit: of the direct reading and
// the sum of the terms, that with the narrower interval, when both are there and
// agree. When they do not agree, one of them is wrong, and Best is a reading whose
// interval is empty, which proves nothing and says so.
func (f Fit) Best(rule Combination) LengthReading { return closer(f.Direct, f.Computed(rule)) }

// closer is Best of a direct reading and a sum of terms.
func closer(direct, sum LengthReading) LengthReading {
	if !direct.Taken() {
		return sum
	}
	a := Compare(direct, sum)
	switch {
	case !a.Known:
		return direct
	case !a.Agree:
		return LengthReading{}.made(byDisagreement, "", direct, sum)
	case !direct.Interval().Bounded():
		return sum
	case sum.Interval().Bounded() && sum.Interval().Width().Less(direct.Interval().Width()):
		return sum
	}
	return direct
}

// Assess judges Best by the tolerance.
func (f Fit) Assess(rule Combination, tolerance units.LengthInterval) Assessment[units.LengthDim] {
	return Assess(f.Best(rule), tolerance)
}

// Check returns an *Error naming the first size that is wrong: ErrNotPositive
// for one of zero or less, ErrEmpty for a fit without terms and direct reading.
// A reading that was not taken is no error.
func (f Fit) Check() error {
	if len(f.Terms) == 0 && !f.Direct.Taken() {
		return &Error{Kind: ErrEmpty, Where: f.Name, Fix: "give the sizes of its parts, or measure it directly"}
	}
	for _, t := range f.Terms {
		if size := t.Reading.bracket; t.Reading.Taken() && size.HasHi() && size.Hi().Sign() <= 0 {
			return &Error{Kind: ErrNotPositive, Where: strings.TrimPrefix(f.Name+", "+t.Name, ", "), Found: size.String(), Fix: "give a size above zero"}
		}
	}
	return nil
}

// term returns the index of the term with the symbol.
func (f Fit) term(symbol string) (int, error) {
	var symbols []string
	for i, t := range f.Terms {
		if t.Symbol == symbol {
			return i, nil
		}
		symbols = append(symbols, t.Symbol)
	}
	return 0, &Error{Kind: ErrNoTerm, Where: f.Name, Found: fmt.Sprintf("%q", symbol), Fix: "it has " + strings.Join(symbols, ", ")}
}

// Formula returns the sum in symbols: "C = D - t1 - t2 - d".
func (f Fit) Formula() string {
	return f.Symbol + " = " + f.sum(func(t Term) string { return t.Symbol })
}

// sum writes the terms with their signs.
func (f Fit) sum(write func(Term) string) string {
	var b strings.Builder
	for i, t := range f.Terms {
		n := t.Times
		switch {
		case n < 0 && i == 0:
			b.WriteString("-")
		case n < 0:
			b.WriteString(" - ")
		case i > 0:
			b.WriteString(" + ")
		}
		if n = max(n, -n); n != 1 {
			fmt.Fprintf(&b, "%d × ", n)
		}
		text := write(t)
		if strings.HasPrefix(text, "-") {
			text = "(" + text + ")"
		}
		b.WriteString(text)
	}
	return b.String()
}

// Working shows how Reading was come by, with its numbers in the unit. Of a fit
// that was measured directly, the sum of its terms stands beside that, with
// whether the two agree.
func (f Fit) Working(rule Combination, u units.LengthUnit) units.Working {
	if f.Direct.Taken() || len(f.Terms) == 0 {
		w := units.Working{Name: f.Name, Numbers: f.Direct.How(u), Result: span(f.Direct.Interval(), u), Notes: f.Notes}
		if a := f.Agreement(rule); a.Known {
			sum := f
			sum.Name, sum.Direct, sum.Notes = "by its parts", LengthReading{}, nil
			w.Steps = []units.Working{sum.Working(rule, u)}
			w.Notes = append(w.Notes[:len(w.Notes):len(w.Notes)], a.words(u))
		}
		return w
	}
	r := f.Computed(rule)
	w := units.Working{Name: f.Name, Formula: f.Formula(), Result: span(r.Interval(), u), Source: rule.Source(), Notes: f.Notes}
	for _, t := range f.Terms {
		w.Steps = append(w.Steps, units.Working{
			Name: t.Symbol + ", " + t.Name, Numbers: t.Reading.How(u), Result: span(t.Reading.Interval(), u),
		})
	}
	if !r.Taken() {
		w.Result, w.Source = "not known", ""
		return w
	}
	w.Numbers = rule.String()
	w.Steps = append(w.Steps, f.bracketSteps(r, rule, u)...)
	if !r.expanded.IsZero() {
		w.Steps = append(w.Steps, f.uncertaintyStep(r, rule, u))
	}
	if note := f.sharedInstrument(); note != "" && rule != WorstCase {
		w.Notes = append(w.Notes[:len(w.Notes):len(w.Notes)], note)
	}
	return w
}

// bracketSteps shows the sum of the brackets: one line if they are values, else
// one for each end that there is.
func (f Fit) bracketSteps(r LengthReading, rule Combination, u units.LengthUnit) []units.Working {
	part := func(t Term) units.LengthInterval {
		switch b := t.Reading.bracket; {
		case rule == WorstCase:
			return t.Reading.Interval()
		case rule == RootSumSquare && b.Bounded():
			return units.Exactly(b.Mid())
		default:
			return b
		}
	}
	numbers := func(largest bool) string {
		return f.sum(func(t Term) string {
			if largest == (t.Times > 0) {
				return number(part(t).Hi(), u)
			}
			return number(part(t).Lo(), u)
		})
	}
	if r.bracket.Bounded() && r.bracket.IsPoint() {
		return []units.Working{{Name: "value", Numbers: numbers(true), Result: written(r.bracket.Lo(), u)}}
	}
	var steps []units.Working
	if r.bracket.HasLo() {
		steps = append(steps, units.Working{Name: "smallest", Numbers: numbers(false), Result: written(r.bracket.Lo(), u)})
	}
	if r.bracket.HasHi() {
		steps = append(steps, units.Working{Name: "largest", Numbers: numbers(true), Result: written(r.bracket.Hi(), u)})
	}
	return steps
}

// uncertaintyStep shows the root-sum-square.
func (f Fit) uncertaintyStep(r LengthReading, rule Combination, u units.LengthUnit) units.Working {
	var squares []string
	add := func(times int64, q units.Length) {
		text := number(q, u) + "²"
		if n := max(times, -times); n != 1 {
			text = fmt.Sprintf("(%d × %s)²", n, number(q, u))
		}
		squares = append(squares, text)
	}
	for _, t := range f.Terms {
		if b := t.Reading.bracket; rule == RootSumSquare && b.Bounded() && !b.IsPoint() {
			add(t.Times, expandedOfSpread(b.Width()))
		}
		if !t.Reading.expanded.IsZero() {
			add(t.Times, t.Reading.expanded)
		}
	}
	w := units.Working{
		Name:    "expanded uncertainty, k = 2, rounded up",
		Formula: "U = √(U1² + U2² + …)",
		Numbers: "√(" + strings.Join(squares, " + ") + ")",
		Result:  written(r.expanded, u),
		Source:  "JCGM 100:2008, 5.1.2",
	}
	if r.freedom > 0 {
		w.Notes = []string{fmt.Sprintf("%d effective degrees of freedom (JCGM 100:2008, G.4.1): widened by %s/2", r.freedom, Coverage{}.Factor(r.Freedom()))}
	}
	return w
}

// sharedInstrument warns of two readings that one instrument gave.
func (f Fit) sharedInstrument() string {
	seen := map[string]string{}
	for _, t := range f.Terms {
		if t.Reading.how != byInstrument && t.Reading.how != byRepeats {
			continue
		}
		if first, twice := seen[t.Reading.name]; twice {
			return fmt.Sprintf("%s and %s were read with one instrument (%s): if its error is the same in both, combine by worst case",
				first, t.Name, t.Reading.name)
		}
		seen[t.Reading.name] = t.Name
	}
	return ""
}

// Agreement compares the direct reading with the sum of the terms by the rule.
func (f Fit) Agreement(rule Combination) Agreement[units.LengthDim] {
	return Compare(f.Direct, f.Computed(rule))
}
