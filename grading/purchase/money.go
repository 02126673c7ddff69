package purchase

import (
	"math/big"

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

// maxDistance bounds a distance in whole units, so that sums fit.
const maxDistance = 1 << 34

// wholeDistances returns the distance of every alternative in whole units of the largest
// length that divides them all, and that length.
func wholeDistances[P Item](needs []Need[P]) ([][]int64, units.Length, error) {
	unit := new(big.Rat)
	for _, n := range needs {
		for _, w := range n.Alternatives {
			if w.Distance.Sign() > 0 {
				unit = commonDivisor(unit, w.Distance.Rat(units.Millimetre))
			}
		}
	}
	distances := make([][]int64, len(needs))
	for i, n := range needs {
		distances[i] = make([]int64, len(n.Alternatives))
		for k, w := range n.Alternatives {
			if w.Distance.Sign() == 0 {
				continue
			}
			number := new(big.Rat).Quo(w.Distance.Rat(units.Millimetre), unit)
			if !number.Num().IsInt64() || number.Num().Int64() > maxDistance {
				return nil, units.Length{}, fault(ErrTooLarge, n.Name, "round the sizes",
					"a distance of %s where %s mm is the common divisor", w.Distance, unit.RatString())
			}
			distances[i][k] = number.Num().Int64()
		}
	}
	return distances, units.Millimetre.OfRat(unit), nil
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
