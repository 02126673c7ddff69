package job

import (
	"errors"
	"fmt"
	"strings"

	"github.com/shopspring/decimal"

	"example.com/closefit/grading"
	"example.com/closefit/grading/purchase"
	"example.com/closefit/units"
)

// A request is what to buy for a kind of bearing.
type request = purchase.Request[grading.Part]

// partTable is a number of shells of one half and grade. Without a count it is one.
type partTable struct {
	Half  string `toml:"half"`
	Grade string `toml:"grade"`
	Count *int   `toml:"count"`
}

// packTable is a pack on sale.
type packTable struct {
	Name  string      `toml:"name"`
	Price string      `toml:"price"`
	Holds []partTable `toml:"holds"`
}

// mostParts is how many shells of a kind a job may count.
const mostParts = 10_000

// counts reads numbers of shells of the grades that are known; of any if none are. Halves
// that are alike are one part.
func (r *reader) counts(path string, tables []partTable, known []string, alike bool) []purchase.Count[grading.Part] {
	var counts []purchase.Count[grading.Part]
	all := 0
	for i, t := range tables {
		at := fmt.Sprintf("%s[%d]", path, i)
		half, ok := grading.Either, true
		if !alike {
			half, ok = read(r, at+".half", t.Half, grading.ParseHalf)
			if ok && half != grading.Upper && half != grading.Lower {
				r.fail(at+".half", "%s: no half of a bearing; write \"upper\" or \"lower\"", t.Half)
				ok = false
			}
		} else if t.Half != "" {
			r.fail(at+".half", "a half, and halves that are interchangeable: %w; leave it out", ErrAmbiguous)
			ok = false
		}
		if !r.present(at+".grade", t.Grade) || !ok || len(known) > 0 && !r.oneOf(at+".grade", t.Grade, "grade", known) {
			continue
		}
		n := 1
		if t.Count != nil {
			n = *t.Count
		}
		if n < 1 || n > mostParts {
			r.fail(at+".count", "%d of %s; write how many there are, from 1 to %d", n, t.Grade, mostParts)
			continue
		}
		counts = append(counts, purchase.Count[grading.Part]{Part: grading.Part{Grade: t.Grade, Half: half}, N: n})
		if all += n; all > mostParts {
			r.fail(at+".count", "%d shells in this list; write what is there, %d at the most", all, mostParts)
			break
		}
	}
	return counts
}

// pack reads a pack on sale.
func (r *reader) pack(path string, t packTable, known []string, alike bool) purchase.Pack[grading.Part] {
	r.present(path+".name", t.Name)
	p := purchase.Pack[grading.Part]{Name: t.Name, Parts: r.counts(path+".holds", t.Holds, known, alike)}
	if len(t.Holds) == 0 {
		r.fail(path+".holds", "%w: %w", purchase.ErrRequest, errors.New("list the shells that it holds"))
	}
	if price, ok := read(r, path+".price", t.Price, parsePrice); ok {
		p.Price = &price
	}
	return p
}

// What can be compared to the last digit, which is far beyond what a parts counter sells.
const (
	mostPacks       = 1000
	mostPrices      = 10_000_000_000 // in the last digit of the finest of them
	mostPricePlaces = 6
)

// packs reads the packs on sale. What is bought from them is proven to be the cheapest, so it
// must be possible to tell them apart and to add their prices up.
func (r *reader) packs(path string, tables []packTable, known []string, alike bool) []purchase.Pack[grading.Part] {
	if len(tables) > mostPacks {
		r.fail(path, "%d packs; write those that come into question, %d at the most", len(tables), mostPacks)
		return nil
	}
	var packs []purchase.Pack[grading.Part]
	seen, places := map[string]string{}, int32(0)
	for i, t := range tables {
		at := fmt.Sprintf("%s[%d]", path, i)
		p := r.pack(at, t, known, alike)
		if p.Name != "" {
			r.once(at+".name", p.Name, "pack", seen)
		}
		if p.Price != nil {
			places = max(places, -p.Price.Exponent())
		}
		packs = append(packs, p)
	}
	for i, p := range packs {
		if p.Price != nil && p.Price.Shift(places).GreaterThan(decimal.NewFromInt(mostPrices)) {
			r.fail(fmt.Sprintf("%s[%d].price", path, i), "%s, among prices with %d decimal places: %w; round them", p.Price, places, purchase.ErrTooLarge)
		}
	}
	return packs
}

// parsePrice reads an amount of money, without its currency.
func parsePrice(s string) (decimal.Decimal, error) {
	const most = 20
	if len(s) > most || strings.ContainsAny(s, "eE") {
		return decimal.Decimal{}, fmt.Errorf("%.40q is no price; write it plainly, as 12.50", s)
	}
	if strings.Contains(s, ",") {
		return decimal.Decimal{}, fmt.Errorf("%q has a comma; write %q", s, strings.ReplaceAll(s, ",", "."))
	}
	price, err := decimal.NewFromString(s)
	if err != nil {
		return decimal.Decimal{}, fmt.Errorf("%q is no price; write it as 12.50, and the currency under [show]", s)
	}
	if price.Exponent() < -mostPricePlaces {
		return decimal.Decimal{}, fmt.Errorf("%q has more than %d decimal places; round it", s, mostPricePlaces)
	}
	if price.IsNegative() {
		return decimal.Decimal{}, &units.Error{Kind: purchase.ErrRequest, Found: s + " is below zero", Fix: "write what the pack costs"}
	}
	return price, nil
}
