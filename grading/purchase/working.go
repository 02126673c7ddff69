package purchase

import (
	"fmt"
	"math/big"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
)

// mostPrinted is how many cases of a component, or lines of a table, are printed.
const mostPrinted = 64

// Working shows the packs to buy, and why nothing cheaper serves.
func (p *Purchase[P]) Working() units.Working {
	w := units.Working{Name: "the cheapest purchase", Formula: "price = Σ number × price of the pack", Result: printed(p.Price)}
	if p.Gap.Sign() > 0 {
		w.Name = "the cheapest purchase found"
		w.Notes = append(w.Notes, fmt.Sprintf("not proven the cheapest: at most %s dearer than the cheapest there can be", printed(p.Gap)))
	}
	var products []string
	for _, b := range p.Packs {
		products = append(products, fmt.Sprintf("%d × %s", b.N, printed(*b.Pack.Price)))
		w.Notes = append(w.Notes, fmt.Sprintf("buy %d × %s at %s", b.N, b.Pack.text(), printed(*b.Pack.Price)))
	}
	w.Numbers = strings.Join(products, " + ")
	if len(p.Packs) == 0 {
		w.Notes = append(w.Notes, "the stock serves; buy nothing")
	}
	for _, s := range p.Served {
		if s.Alternative > 0 && len(s.Parts) == 1 {
			w.Notes = append(w.Notes, fmt.Sprintf("%s: %d served by %s", s.Name, s.N, s.Parts[0]))
		}
	}
	if len(p.Leftover) > 0 {
		w.Notes = append(w.Notes, "left over: "+list(p.Leftover))
	}
	w.Steps = append(w.Steps, p.Proof.working())
	return w
}

// working shows the components of the proof, each with its cases or its table. What
// is too long to print is told; the proof has it as data.
func (p Proof[P]) working() units.Working {
	w := units.Working{
		Name:    "why nothing is cheaper",
		Formula: "price >= Σ the least prices of the components, which share nothing",
		Result:  "at least " + printed(p.Least),
		Source:  "weak duality of linear programming, case by case; dynamic programming where there is a table",
	}
	for _, c := range p.Components {
		w.Steps = append(w.Steps, c.working())
	}
	w.Notes = append(w.Notes, "packs that are not named here are sold out, or hold nothing that can be short")
	return w
}

func (c Component[P]) working() units.Working {
	names := make([]string, 0, len(c.Parts)+len(c.Choices))
	for _, p := range c.Parts {
		names = append(names, p.String())
	}
	if len(names) == 0 {
		for _, n := range c.Choices {
			names = append(names, n.Name)
		}
	}
	w := units.Working{Name: strings.Join(names, ", "), Result: "at least " + c.money(c.Least, 1)}
	for _, line := range c.Lines {
		if len(line) > 1 {
			w.Notes = append(w.Notes, "counted together, the first bought first: "+strings.Join(line, ", "))
		}
	}
	switch ends := (len(c.Cases) + 1) / 2; { // each division adds one case to those that end in a bound
	case c.Prices != nil:
		c.printTable(&w)
	case ends > mostPrinted:
		w.Notes = append(w.Notes, fmt.Sprintf("%d cases, too many to print; the proof holds them", ends))
	default:
		c.printCases(&w, c.Cases, nil)
	}
	return w
}

// printed prints a price with the places that it has.
func printed(d decimal.Decimal) string { return d.StringFixed(max(0, -d.Exponent())) }

// money prints n/scale units exactly: as a decimal, or as a fraction if the decimal
// has no end.
func (c Component[P]) money(n, scale int64) string {
	if scale == 1 {
		return printed(c.Unit.Mul(decimal.NewFromInt(n)))
	}
	r := new(big.Rat).SetFrac64(n, scale)
	r.Mul(r, c.Unit.Rat())
	text := r.RatString()
	if places, exact := r.FloatPrec(); exact {
		text = r.FloatString(places)
	}
	return text
}

// term is money as a term of a sum.
func (c Component[P]) term(n, scale int64) string {
	if n < 0 {
		return "(" + c.money(n, scale) + ")"
	}
	return c.money(n, scale)
}

// A span is a number that the divisions so far have put between two others; most is
// below zero if only the packs themselves limit it.
type span struct {
	of          int
	least, most int64
}

// printCases prints the first case of the list and all that becomes of it, and returns
// the cases behind.
func (c Component[P]) printCases(w *units.Working, list []Case, spans []span) []Case {
	if len(list) == 0 { // of a proof that was not made here
		return nil
	}
	k, list := list[0], list[1:]
	if k.AtMost == nil {
		w.Steps = append(w.Steps, c.caseWorking(k, spans))
		return list
	}
	of := span{of: k.Of, most: -1}
	rest := slices.Clone(spans)
	if i := slices.IndexFunc(rest, func(s span) bool { return s.of == k.Of }); i >= 0 {
		of = rest[i]
		rest = slices.Delete(rest, i, i+1)
	}
	list = c.printCases(w, list, append(slices.Clone(rest), span{k.Of, of.least, *k.AtMost}))
	return c.printCases(w, list, append(rest, span{k.Of, *k.AtMost + 1, of.most}))
}

func (c Component[P]) caseWorking(b Case, spans []span) units.Working {
	w := units.Working{Name: "whatever is bought"}
	if len(spans) > 0 {
		texts := make([]string, len(spans))
		for i, s := range spans {
			texts[i] = c.spanText(s)
		}
		w.Name = "with " + strings.Join(texts, ", ")
	}
	if b.Scale == 0 {
		w.Result = "cannot serve: " + c.shortText(b)
		return w
	}
	var terms, numbers, dearer []string
	for i, n := range b.Missing {
		if n != 0 && b.Worth[i] != 0 {
			terms = append(terms, fmt.Sprintf("%d × %s", n, c.Parts[i]))
			numbers = append(numbers, fmt.Sprintf("%d × %s", n, c.money(b.Worth[i], b.Scale)))
		}
	}
	for k, n := range b.Served {
		if n != 0 {
			terms = append(terms, c.Choices[k].Name+" served")
			numbers = append(numbers, c.term(n, b.Scale))
		}
	}
	for k, n := range b.Bought {
		if n != 0 {
			terms = append(terms, likeText(c.Lines[k]))
			numbers = append(numbers, c.term(n, b.Scale))
		}
	}
	for k, n := range b.Dearer {
		dearer = append(dearer, fmt.Sprintf("%s %s", c.Lines[k][0], c.money(n, b.Scale)))
	}
	w.Formula, w.Numbers = strings.Join(terms, " + "), strings.Join(numbers, " + ")
	w.Result = "at least " + c.money(b.Least, 1)
	if len(b.Served) > 0 {
		var worths []string
		for i, v := range b.Worth {
			if v != 0 {
				worths = append(worths, c.Parts[i].String()+" "+c.money(v, b.Scale))
			}
		}
		w.Notes = append(w.Notes, "a place is served for the worth of the parts of its cheapest alternative: "+orNone(worths))
	}
	if len(dearer) > 0 {
		w.Notes = append(w.Notes, "price of a pack less the worth of what it can add: "+strings.Join(dearer, ", "))
	}
	if b.Sum != b.Least*b.Scale {
		w.Notes = append(w.Notes, fmt.Sprintf("%s, rounded up to the next multiple of %s", c.money(b.Sum, b.Scale), printed(c.Unit)))
	}
	return w
}

func orNone(texts []string) string {
	if len(texts) == 0 {
		return "none"
	}
	return strings.Join(texts, ", ")
}

func likeText(names []string) string {
	if len(names) == 1 {
		return names[0]
	}
	return names[0] + " and its like"
}

// spanText returns "1 to 3 of pack", "2 of pack" or "at least 2 of pack".
func (c Component[P]) spanText(s span) string {
	what, at := "", s.of
	if at < len(c.Lines) {
		what = likeText(c.Lines[at])
	} else {
		at -= len(c.Lines)
		k := 0
		for ; at >= len(c.Choices[k].Alternatives); k++ {
			at -= len(c.Choices[k].Alternatives)
		}
		what = fmt.Sprintf("%s by %s", c.Choices[k].Name, alternativeText(c.Choices[k].Alternatives[at].Parts))
	}
	switch {
	case s.most < 0:
		return fmt.Sprintf("at least %d of %s", s.least, what)
	case s.least == s.most:
		return fmt.Sprintf("%d of %s", s.least, what)
	}
	return fmt.Sprintf("%d to %d of %s", s.least, s.most, what)
}

// shortText says what a case lacks.
func (c Component[P]) shortText(b Case) string {
	for i, v := range b.Worth {
		if v > 0 {
			return fmt.Sprintf("%d × %s lacking, whatever is bought", b.Sum, c.Parts[i])
		}
	}
	return fmt.Sprintf("no alternative is left for %d of the places", b.Sum)
}

func (c Component[P]) printTable(w *units.Working) {
	note := fmt.Sprintf("%d × %s missing", c.Missing, c.Parts[c.Counted])
	if c.Lot > 1 {
		note = fmt.Sprintf("%d lots of %d × %s missing", c.Missing, c.Lot, c.Parts[c.Counted])
	}
	w.Notes = append(w.Notes, note)
	last := c.Prices[len(c.Prices)-1]
	if len(c.Prices) > 1 || len(last) > mostPrinted {
		w.Notes = append(w.Notes, fmt.Sprintf("a table of %d lines for each of %d stages, too long to print; the proof holds it", len(last), len(c.Prices)))
		return
	}
	w.Formula = "f(n) = min over packs of price + f(n - contents)"
	var texts []string
	for n, price := range last {
		if price >= 0 {
			texts = append(texts, fmt.Sprintf("f(%d) = %s", n, c.money(price, 1)))
		} else {
			texts = append(texts, fmt.Sprintf("f(%d) cannot be", n))
		}
	}
	w.Numbers = strings.Join(texts, ", ")
}
