package purchase

import (
	"fmt"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
)

// A Part is anything that is bought and used: two parts are the same thing if they
// are ==, and String names the part to a person.
type Part interface {
	comparable
	fmt.Stringer
}

// A Count is a number of one part.
type Count[P Part] struct {
	Part P
	N    int
}

// String returns "3 × B upper".
func (c Count[P]) String() string { return fmt.Sprintf("%d × %s", c.N, c.Part) }

// A Pack is a way to buy parts: a box of fixed contents at a price.
type Pack[P Part] struct {
	Name  string           // the order number, or what it is called; unique among the packs on sale
	Parts []Count[P]       // the contents; any mix of parts
	Price *decimal.Decimal // for one pack, in the caller's currency; nil if it is not stated, which is an error
	Limit *int             // how many can be had; nil if as many as wanted
}

// String returns the name and the contents: "red pair (1 × red upper, 1 × red lower)".
func (p Pack[P]) String() string { return fmt.Sprintf("%s (%s)", p.Name, list(p.Parts)) }

// size returns how many parts are in the pack.
func (p Pack[P]) size() int {
	n := 0
	for _, c := range p.Parts {
		n += c.N
	}
	return n
}

// A Need is a number of places that each must be served in one of several ways.
type Need[P Part] struct {
	Name string // "main 3", "B upper"
	N    int
	Ways []Way[P] // the preferred one first
}

// A Way serves one place of a need: it takes these parts, one of each entry, and
// lies some distance from what would be best.
type Way[P Part] struct {
	Parts    []P
	Distance units.Length // not below zero
}

// An Order states what is needed, what is on hand and what is on sale.
type Order[P Part] struct {
	Needs []Need[P]
	Stock []Count[P]
	Packs []Pack[P]

	// Progress is told now and then how a long search goes; it may be nil.
	Progress func(Progress)
}

// Progress is how far a search has come. One search follows another: first for
// the price, then for each aim that breaks its ties, component by component.
type Progress struct {
	Aim      string // what is made as small as possible: "price", "packs", …
	Examined int    // cases looked at
	Open     int    // cases that still may hold something better
}

// Bounds on an order: far beyond any parts counter, and small enough that sums fit
// a machine integer.
const (
	maxCount       = 100_000
	maxPriceUnits  = 10_000_000_000 // of the largest unit in which every price is whole
	maxPricePlaces = 12
	maxPacks       = 1000
)

// check reports the first thing in the order that is wrong.
func (o Order[P]) check() error {
	for _, n := range o.Needs {
		if err := checkCount("need", n.Name, n.N); err != nil {
			return err
		}
		for _, w := range n.Ways {
			if w.Distance.Sign() < 0 {
				return fmt.Errorf("%s: a distance of %s: %w; write how far from the best it lies", n.Name, w.Distance, ErrNegativeCount)
			}
		}
	}
	for _, c := range slices.Concat(o.Stock, total(o.Stock)) {
		if err := checkCount("stock", c.Part.String(), c.N); err != nil {
			return err
		}
	}
	return checkPacks(o.Packs)
}

func checkCount(list, name string, n int) error {
	switch {
	case n < 0:
		return &NumberError{List: list, Name: name, N: n, Kind: ErrNegativeCount}
	case n > maxCount:
		return &NumberError{List: list, Name: name, N: n, Kind: ErrTooLarge}
	}
	return nil
}

// checkPacks reports the first pack that is wrong.
func checkPacks[P Part](packs []Pack[P]) error {
	if len(packs) > maxPacks {
		return fmt.Errorf("%d packs on sale: %w; %d is the most", len(packs), ErrTooLarge, maxPacks)
	}
	first := map[string]int{}
	for i, p := range packs {
		fail := func(kind error, format string, args ...any) error {
			return &PackError{Pack: p.Name, Index: i, Kind: kind, What: fmt.Sprintf(format, args...)}
		}
		if k, twice := first[p.Name]; twice {
			return fail(ErrDuplicate, "pack %d has the same name; give each its own", k+1)
		}
		first[p.Name] = i
		for _, c := range slices.Concat(p.Parts, total(p.Parts)) {
			if c.N < 0 {
				return fail(ErrNegativeCount, "%s", c)
			}
			if c.N > maxCount {
				return fail(ErrTooLarge, "%s", c)
			}
		}
		if p.size() == 0 {
			return fail(ErrEmptyPack, "write which parts it holds, and how many of each")
		}
		if p.Price == nil {
			return fail(ErrNoPrice, "write what one pack costs, 0 if it is free")
		}
		if p.Price.IsNegative() {
			return fail(ErrPrice, "%s is below zero", p.Price)
		}
		if e := p.Price.Exponent(); e > maxPricePlaces || e < -maxPricePlaces {
			return fail(ErrTooLarge, "a price with an exponent of %d", e)
		}
		if p.Limit != nil && *p.Limit < 0 {
			return fail(ErrNegativeCount, "%d of them to be had; leave the limit out if there is none", *p.Limit)
		}
	}
	return nil
}

// total adds up counts by part and keeps the order in which the parts first stand.
func total[P Part](counts []Count[P]) []Count[P] {
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
func list[P Part](counts []Count[P]) string {
	texts := make([]string, len(counts))
	for i, c := range counts {
		texts[i] = c.String()
	}
	return strings.Join(texts, ", ")
}
