package purchase

import (
	"fmt"
	"math/big"
	"strings"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
)

// mostPrinted is how many cases of a component, or lines of a table, are printed.
const mostPrinted = 64

// Working shows what to buy, and why nothing cheaper serves.
func (p *Purchase[P]) Working() units.Working {
	w := units.Working{Name: "the cheapest purchase", Formula: "price = Σ number × price of the pack", Result: printed(p.Price)}
	if p.Gap().Sign() > 0 {
		w.Name = "the cheapest purchase found"
		w.Notes = append(w.Notes, fmt.Sprintf("not proven the cheapest: at most %s dearer than the cheapest there can be", printed(p.Gap())))
	}
	var products []string
	for _, b := range p.Packs {
		products = append(products, fmt.Sprintf("%d × %s", b.N, printed(*b.Pack.Price)))
		w.Notes = append(w.Notes, fmt.Sprintf("buy %d × %s at %s", b.N, b.Pack, printed(*b.Pack.Price)))
	}
	w.Numbers = strings.Join(products, " + ")
	if len(p.Packs) == 0 {
		w.Notes = append(w.Notes, "the stock serves; buy nothing")
	}
	if len(p.Leftover) > 0 {
		w.Notes = append(w.Notes, "left over: "+list(p.Leftover))
	}
	w.Steps = append(w.Steps, p.Proof.Working())
	return w
}

// Working shows the components of the proof, each with its cases or its table. What
// is too long to print is told; the proof has it as data.
func (p Proof[P]) Working() units.Working {
	w := units.Working{
		Name:    "why nothing is cheaper",
		Formula: "price >= Σ the least prices of the components, which share nothing",
		Result:  "at least " + printed(p.Least),
		Source:  "weak duality of linear programming, case by case; dynamic programming where there is a table",
	}
	for _, c := range p.Components {
		w.Steps = append(w.Steps, c.working())
	}
	for _, r := range p.Refused {
		note := fmt.Sprintf("%s is left out: %s", r.Pack, r.Reason)
		if r.By != "" {
			note = fmt.Sprintf("%s is left out: %s holds as much for no more", r.Pack, r.By)
		}
		w.Notes = append(w.Notes, note)
	}
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
	switch {
	case c.Table != nil:
		c.printTable(&w)
	case c.Cases.ends() > mostPrinted:
		w.Notes = append(w.Notes, fmt.Sprintf("%d cases, too many to print; the proof holds them", c.Cases.ends()))
	default:
		c.printCases(&w, c.Cases)
	}
	return w
}

// ends returns how many cases end in a bound.
func (k *Case) ends() int {
	if k.Split == nil {
		return 1
	}
	return k.Split.Fewer.ends() + k.Split.More.ends()
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

func (c Component[P]) printCases(w *units.Working, k *Case) {
	if k.Split != nil {
		c.printCases(w, k.Split.Fewer)
		c.printCases(w, k.Split.More)
		return
	}
	w.Steps = append(w.Steps, c.caseWorking(k.Bound))
}

func (c Component[P]) caseWorking(b *Bound) units.Working {
	w := units.Working{Name: "whatever is bought"}
	if len(b.Ranges) > 0 {
		texts := make([]string, len(b.Ranges))
		for i, r := range b.Ranges {
			texts[i] = c.rangeText(r)
		}
		w.Name = "with " + strings.Join(texts, ", ")
	}
	if s := b.Short; s != nil {
		w.Result = fmt.Sprintf("cannot serve: %s, %d needed and %d to be had", c.shortName(s), s.Needed, s.Most)
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
			terms = append(terms, c.Choices[k].text()+" served")
			numbers = append(numbers, c.term(n, b.Scale))
		}
	}
	for k, n := range b.Bought {
		if n != 0 {
			terms = append(terms, likeText(c.Likes[k]))
			numbers = append(numbers, c.term(n, b.Scale))
		}
	}
	for k, n := range b.Dearer {
		dearer = append(dearer, fmt.Sprintf("%s %s", c.Likes[k][0], c.money(n, b.Scale)))
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
		w.Notes = append(w.Notes, "a place is served for the worth of the parts of its cheapest way: "+orNone(worths))
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

// text names the first of the needs, and how many there are.
func (c Choice) text() string {
	if len(c.Needs) == 1 {
		return c.Name
	}
	return fmt.Sprintf("%s and %d alike", c.Name, len(c.Needs)-1)
}

func likeText(names []string) string {
	if len(names) == 1 {
		return names[0]
	}
	return names[0] + " and its like"
}

// rangeText returns "1 to 3 of pack" or "2 of pack".
func (c Component[P]) rangeText(r Range) string {
	what := ""
	if r.Like >= 0 {
		what = likeText(c.Likes[r.Like])
	} else {
		choice := c.Choices[r.Choice]
		what = fmt.Sprintf("%s by %s", choice.text(), choice.Ways[r.Way])
	}
	if r.Least == r.Most {
		return fmt.Sprintf("%d of %s", r.Least, what)
	}
	return fmt.Sprintf("%d to %d of %s", r.Least, r.Most, what)
}

func (c Component[P]) shortName(s *Short) string {
	if s.Part >= 0 {
		return c.Parts[s.Part].String()
	}
	return c.Choices[s.Choice].text()
}

func (c Component[P]) printTable(w *units.Working) {
	t := c.Table
	for _, a := range t.Axes {
		note := fmt.Sprintf("%d × %s missing", a.Missing, c.Parts[a.Part])
		if a.Lot > 1 {
			note = fmt.Sprintf("%d lots of %d × %s missing", a.Missing, a.Lot, c.Parts[a.Part])
		}
		w.Notes = append(w.Notes, note)
	}
	last := t.Stages[len(t.Stages)-1]
	if len(t.Axes) > 1 || len(t.Stages) > 1 || len(last.Prices) > mostPrinted {
		w.Notes = append(w.Notes, fmt.Sprintf("a table of %d lines for each of %d stages, too long to print; the proof holds it", len(last.Prices), len(t.Stages)))
		return
	}
	w.Formula = "f(n) = min over packs of price + f(n - contents)"
	var texts []string
	for n, price := range last.Prices {
		if price >= 0 {
			texts = append(texts, fmt.Sprintf("f(%d) = %s", n, c.money(price, 1)))
		} else {
			texts = append(texts, fmt.Sprintf("f(%d) cannot be", n))
		}
	}
	w.Numbers = strings.Join(texts, ", ")
}
