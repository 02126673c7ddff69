package purchase

import (
	"math/big"
	"slices"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
)

// A money turns prices into whole numbers of one unit, exactly: the largest unit
// in which every price is whole.
type money struct {
	unit   *big.Int // in 10^-places of the currency
	places int32
}

// moneyOf returns the unit of the packs' prices and each price in it.
func moneyOf[P Item](packs []Pack[P]) (money, []int64, error) {
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
			return money{}, nil, fault(ErrTooLarge, packPlace(i, packs[i].Name), "round the prices",
				"%s among prices as fine as %s", packs[i].Price, decimal.NewFromBigInt(unit, -places))
		}
		prices[i] = a.Int64()
	}
	return money{unit: unit, places: places}, prices, nil
}

// amount returns n units as a decimal of the currency.
func (m money) amount(n int64) decimal.Decimal {
	return decimal.NewFromBigInt(new(big.Int).Mul(big.NewInt(n), m.unit), -m.places)
}

// maxDistance bounds a distance in whole steps, so that sums fit.
const maxDistance = 1 << 34

// wholeDistances returns the distance of every alternative in whole steps. Where they are no
// whole numbers, as of sizes that were corrected for their temperatures by different factors,
// each is rounded down. So distances that differ by whole steps still do, and two places that
// exchange their walls still come to the same sum.
func wholeDistances[P Item](needs []Need[P]) [][]int64 {
	all := make([][]*big.Rat, len(needs))
	for i, n := range needs {
		for _, w := range n.Alternatives {
			all[i] = append(all[i], w.Distance.Rat(units.Millimetre))
		}
	}
	each := stepsInMillimetre(slices.Concat(all...))
	whole := make([][]int64, len(needs))
	for i, distances := range all {
		whole[i] = make([]int64, len(distances))
		for k, d := range distances {
			steps := new(big.Rat).Mul(d, each)
			whole[i][k] = new(big.Int).Quo(steps.Num(), steps.Denom()).Int64()
		}
	}
	return whole
}

// stepsInMillimetre returns how many steps a millimetre has. A step is the largest length
// that divides all distances. If the largest distance has more than maxDistance of those, it
// is the shortest power of ten of a millimetre of which it has no more.
func stepsInMillimetre(distances []*big.Rat) *big.Rat {
	largest := new(big.Rat)
	for _, d := range distances {
		if d.Cmp(largest) > 0 {
			largest = d
		}
	}
	most := big.NewRat(maxDistance, 1)
	serves := func(each *big.Rat) bool { return new(big.Rat).Mul(largest, each).Cmp(most) <= 0 }
	each, unit := big.NewRat(1, 1), new(big.Rat)
	for _, d := range distances {
		if d.Sign() > 0 && serves(each) {
			unit = commonDivisor(unit, d)
			each = new(big.Rat).Inv(unit)
		}
	}
	if serves(each) {
		return each
	}
	each, ten := big.NewRat(1, 1), big.NewRat(10, 1)
	for ; serves(each); each.Mul(each, ten) {
	}
	for ; !serves(each); each.Quo(each, ten) {
	}
	return each
}

// commonDivisor returns the largest ratio of which a and b are whole multiples;
// neither is below zero.
func commonDivisor(a, b *big.Rat) *big.Rat {
	// a/b = (a.Num·b.Denom) / (b.Num·a.Denom), over the product of denominators.
	x := new(big.Int).Mul(a.Num(), b.Denom())
	y := new(big.Int).Mul(b.Num(), a.Denom())
	return new(big.Rat).SetFrac(x.GCD(nil, nil, x, y), new(big.Int).Mul(a.Denom(), b.Denom()))
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// ceilDiv returns a/b rounded up; b is above zero.
func ceilDiv(a, b int64) int64 {
	q := a / b
	if a%b > 0 {
		q++
	}
	return q
}

// upTo returns a rounded up to a multiple of b; b is above zero.
func upTo(a, b int64) int64 { return ceilDiv(a, b) * b }
