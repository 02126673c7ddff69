package clearance

import (
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A Fit is a clearance, a play or a gap that follows from sizes: a sum of readings, each
// with a plus or a minus. The functions of this package make the fits of an engine; to
// make another, fill in a Fit.
//
// The gap itself can also be measured, by a strip, a blade or a dial; Direct is that
// reading. A fit may have terms, or a direct reading, or both; Agreement then tells
// whether they agree.
type Fit struct {
	Sum measure.Sum[units.LengthDim] `json:"sum"`

	// Direct is the fit as measured directly; the zero Reading if it was not.
	Direct measure.LengthReading `json:"direct"`

	// Series has, by a term's symbol, the undersize or oversize that the part belongs to,
	// such as "0.25 undersize". A remedy never mixes parts of different series; a part
	// that fits every series has none.
	Series map[string]string `json:"series"`

	Notes []string `json:"notes"` // what a reader of its working must know
}

// Agreement compares the direct reading with the sum of the terms.
func (f Fit) Agreement() measure.Agreement[units.LengthDim] {
	return measure.Compare(f.Direct, f.Sum.Reading())
}

// Best returns the best reading of the fit: the closer of the direct reading and the sum
// of the terms if the two agree. If they disagree, one of them is wrong, and neither
// proves anything.
//
// A sum with unmet conditions is no second opinion: the direct reading then stands alone.
func (f Fit) Best() measure.LengthReading {
	return f.best(f.Agreement())
}

// BestBeside is Best for one who has the reading of the sum already.
func (f Fit) BestBeside(sum measure.LengthReading) measure.LengthReading {
	return f.best(measure.Compare(f.Direct, sum))
}

func (f Fit) best(a measure.Agreement[units.LengthDim]) measure.LengthReading {
	if f.Direct.Taken() && len(a.Second.Unmet()) > 0 {
		return f.Direct
	}
	return a.Best()
}

// Assess judges Best by the tolerance.
func (f Fit) Assess(tolerance units.LengthInterval) measure.Assessment[units.LengthDim] {
	return measure.Assess(f.Best(), tolerance)
}

// term returns the index of the term with the symbol.
func (f Fit) term(symbol string) (int, error) {
	var symbols []string
	for i, t := range f.Sum.Terms {
		if t.Symbol == symbol {
			return i, nil
		}
		symbols = append(symbols, t.Symbol)
	}
	return 0, &units.Error{Kind: measure.ErrNotInSet, Where: f.Sum.Name, Found: fmt.Sprintf("a term %q", symbol), Fix: "write one of " + strings.Join(symbols, ", ")}
}

// Working shows the steps that lead to Best, with its numbers in the unit. Beside a
// direct reading it shows the sum of the terms, and whether the two agree.
func (f Fit) Working(u units.LengthUnit) units.Working {
	if !f.Direct.Taken() && len(f.Sum.Terms) > 0 {
		w := f.Sum.Working(u)
		w.Notes = append(w.Notes, f.Notes...)
		return w
	}
	a := f.Agreement()
	w := units.Working{Name: f.Sum.Name, Numbers: f.Direct.How(u), Result: f.best(a).Interval().Written(u), Notes: slices.Clone(f.Notes)}
	if !a.Second.Taken() {
		return w
	}
	sum := f.Sum
	sum.Name = "by its parts"
	w.Steps = []units.Working{sum.Working(u)}
	words := "measured in two ways, which agree; the closer one stands"
	switch unmet := a.Second.Unmet(); {
	case len(unmet) > 0:
		words = "the parts prove nothing: " + unmet[0]
	case !a.Agree:
		words = "measured in two ways, which do not agree: they differ by " + a.Difference.Interval().Written(u) + ", so one is wrong, and neither counts"
	}
	w.Notes = append(w.Notes, words)
	return w
}
