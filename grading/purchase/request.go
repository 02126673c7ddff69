package purchase

import (
	"fmt"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
)

// An Item is a thing that is bought and used: two are the same if they are ==, and String
// names one to a person.
type Item interface {
	comparable
	fmt.Stringer
}

// A Count is a number of one part.
type Count[P Item] struct {
	Part P   `json:"part"`
	N    int `json:"n"`
}

// String returns "3 × B upper".
func (c Count[P]) String() string { return fmt.Sprintf("%d × %s", c.N, c.Part) }

// A Pack is a box of fixed contents at a price.
type Pack[P Item] struct {
	Name  string           `json:"name"`  // the order number, or its name; unique among the packs on sale
	Parts []Count[P]       `json:"parts"` // the contents; any mix of parts
	Price *decimal.Decimal `json:"price"` // for one pack, in the caller's currency; nil if not stated, which is an error
	Limit *int             `json:"limit"` // how many are on sale; nil if as many as wanted
}

// text returns the name and the contents: "red pair (1 × red upper, 1 × red lower)".
func (p Pack[P]) text() string { return fmt.Sprintf("%s (%s)", p.Name, list(p.Parts)) }

// size returns how many parts are in the pack.
func (p Pack[P]) size() int {
	n := 0
	for _, c := range p.Parts {
		n += c.N
	}
	return n
}

// A Need is a number of places, each to be served by one of its alternatives.
type Need[P Item] struct {
	Name         string           `json:"name"` // "main 3", "B upper"
	N            int              `json:"n"`
	Alternatives []Alternative[P] `json:"alternatives"` // the preferred one first
}

// An Alternative serves one place of a need: these parts, one of each entry, at some
// distance from the best.
type Alternative[P Item] struct {
	Parts    []P          `json:"parts"`
	Distance units.Length `json:"distance"` // not below zero
}

// A Request states the needs, the stock on hand and the packs on sale.
type Request[P Item] struct {
	Needs []Need[P]  `json:"needs"`
	Stock []Count[P] `json:"stock"`
	Packs []Pack[P]  `json:"packs"`

	// Progress is called now and then in a long search, with the aim at hand ("price",
	// "packs", …), how many cases it has examined, and how many may still hold something
	// better. One search follows another: first for the price, then for each aim that
	// breaks its ties, component by component. It may be nil.
	Progress func(aim string, examined, open int) `json:"-"`
}

// Bounds on a request: far beyond any parts counter, and small enough that sums fit
// a machine integer.
const (
	maxCount       = 100_000
	maxPriceUnits  = 10_000_000_000 // of the largest unit in which every price is whole
	maxPricePlaces = 12
	maxPacks       = 1000
)

// check reports the first thing in the request that is wrong.
func (o Request[P]) check() error {
	for _, n := range o.Needs {
		if err := checkCount("need of "+n.Name, n.N); err != nil {
			return err
		}
		for _, w := range n.Alternatives {
			if w.Distance.Sign() < 0 {
				return fault(ErrRequest, n.Name, "write how far from the best it lies", "a distance of %s", w.Distance)
			}
			if len(w.Parts) == 0 {
				return fault(ErrRequest, "need of "+n.Name, "name its parts, or leave it out", "an alternative without parts, which nothing would serve")
			}
			for _, part := range w.Parts {
				if part.String() == "" {
					return fault(ErrRequest, "need of "+n.Name, "write which part it is", "a part without a name")
				}
			}
		}
	}
	for _, c := range slices.Concat(o.Stock, total(o.Stock)) {
		if err := checkCount("stock of "+c.Part.String(), c.N); err != nil {
			return err
		}
	}
	return checkPacks(o.Packs)
}

func checkCount(where string, n int) error {
	const fix = "write how many there are"
	switch {
	case n < 0:
		return fault(ErrRequest, where, fix, "%d", n)
	case n > maxCount:
		return fault(ErrTooLarge, where, fix, "%d", n)
	}
	return nil
}

// checkPacks reports the first pack that is wrong.
func checkPacks[P Item](packs []Pack[P]) error {
	if len(packs) > maxPacks {
		return fault(ErrTooLarge, "packs on sale", fmt.Sprintf("%d is the most", maxPacks), "%d", len(packs))
	}
	first := map[string]int{}
	for i, p := range packs {
		where := packPlace(i, p.Name)
		if k, twice := first[p.Name]; twice {
			return fault(ErrRequest, where, "give each its own", "pack %d has the same name", k+1)
		}
		first[p.Name] = i
		for _, c := range slices.Concat(p.Parts, total(p.Parts)) {
			switch {
			case c.Part.String() == "":
				return fault(ErrRequest, where, "write which it is", "a part without a name")
			case c.N < 0:
				return fault(ErrRequest, where, "write how many it holds", "%s", c)
			case c.N > maxCount:
				return fault(ErrTooLarge, where, "write how many it holds", "%s", c)
			}
		}
		switch {
		case p.size() == 0:
			return fault(ErrRequest, where, "write which parts it holds, and how many of each", "it holds nothing")
		case p.Price == nil:
			return fault(ErrRequest, where, "write the price of one pack, 0 if it is free", "no price")
		case p.Price.IsNegative():
			return fault(ErrRequest, where, "write the price of one pack, 0 if it is free", "a price of %s", p.Price)
		case p.Price.Exponent() > maxPricePlaces || p.Price.Exponent() < -maxPricePlaces:
			return fault(ErrTooLarge, where, "write it in full", "a price with an exponent of %d", p.Price.Exponent())
		case p.Limit != nil && *p.Limit < 0:
			return fault(ErrRequest, where, "leave the limit out, or write how many are on sale", "a limit of %d", *p.Limit)
		}
	}
	return nil
}

// packPlace names a pack on sale.
func packPlace(i int, name string) string { return fmt.Sprintf("pack %d, %q", i+1, name) }

// total adds up counts by part and keeps the order in which the parts first stand.
func total[P Item](counts []Count[P]) []Count[P] {
	var sum []Count[P]
	at := map[P]int{}
	for _, c := range counts {
		i, known := at[c.Part]
		if !known {
			at[c.Part] = len(sum)
			sum = append(sum, c)
			continue
		}
		sum[i].N += c.N
	}
	return sum
}

// list joins counts for reading.
func list[P Item](counts []Count[P]) string {
	texts := make([]string, len(counts))
	for i, c := range counts {
		texts[i] = c.String()
	}
	return strings.Join(texts, ", ")
}
