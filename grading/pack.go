package grading

import (
	"fmt"
	"math/big"
	"slices"

	"github.com/shopspring/decimal"
)

// A Pack is a way to buy parts: a box of a fixed make-up at a price.
type Pack struct {
	Name  string          // the order number, or what it is called; unique among the packs on sale
	Parts []Count         // the make-up; any mix of parts
	Price decimal.Decimal // for one pack, in the caller's currency; not below zero
	Limit *int            // how many can be had; nil if as many as wanted
}

// String returns the name and the make-up: "red pair (1 × red upper, 1 × red lower)".
func (p Pack) String() string {
	return fmt.Sprintf("%s (%s)", p.Name, list(p.Parts))
}

// size returns how many parts are in the pack.
func (p Pack) size() int {
	n := 0
	for _, c := range p.Parts {
		n += c.N
	}
	return n
}

// Bounds on what a purchase may hold: far beyond any parts counter, and small
// enough that every sum of the solver fits a machine integer.
const (
	maxCount       = 100_000
	maxPriceUnits  = 10_000_000_000 // of the smallest unit of money that any price has
	maxPricePlaces = 12
	maxPacks       = 1000
)

// checkPacks reports the first pack that cannot be one.
func checkPacks(packs []Pack) error {
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
		for _, c := range p.Parts {
			if c.Part.Grade == "" {
				return fail(ErrNoGrade, "a part without a grade")
			}
			if c.N < 0 {
				return fail(ErrNegativeCount, "%s", c)
			}
		}
		for _, c := range slices.Concat(p.Parts, total(p.Parts)) {
			if c.N > maxCount {
				return fail(ErrTooLarge, "%s", c)
			}
		}
		if p.size() == 0 {
			return fail(ErrEmptyPack, "write which parts it holds, and how many of each")
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

// money turns prices into whole numbers of one unit, exactly: the largest unit
// in which every price is whole.
type money struct {
	unit   *big.Int // in 10^-places of the currency
	places int32
}

// moneyOf returns the unit of the packs' prices and each price in it.
func moneyOf(packs []Pack) (money, []int64, error) {
	var places int32
	for _, p := range packs {
		places = max(places, -p.Price.Exponent())
	}
	unit := new(big.Int)
	amounts := make([]*big.Int, len(packs))
	for i, p := range packs {
		amounts[i] = p.Price.Shift(places).BigInt()
		unit.GCD(nil, nil, unit, amounts[i])
	}
	if unit.Sign() == 0 {
		unit.SetInt64(1)
	}
	prices := make([]int64, len(packs))
	for i, a := range amounts {
		a.Quo(a, unit)
		if a.Cmp(big.NewInt(maxPriceUnits)) > 0 {
			return money{}, nil, &PackError{Pack: packs[i].Name, Index: i, Kind: ErrTooLarge,
				What: fmt.Sprintf("%s among prices as fine as %s", packs[i].Price, decimal.NewFromBigInt(unit, -places))}
		}
		prices[i] = a.Int64()
	}
	return money{unit: unit, places: places}, prices, nil
}

// amount returns n units as a decimal of the currency.
func (m money) amount(n int64) decimal.Decimal {
	return decimal.NewFromBigInt(new(big.Int).Mul(big.NewInt(n), m.unit), -m.places)
}

// rat returns one unit in the currency.
func (m money) rat() *big.Rat { return m.amount(1).Rat() }
