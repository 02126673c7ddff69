package fasteners

import "math/big"

// Arithmetic on exact ratios that reads like the standards' formulas. Nothing here changes
// its arguments.

// ratio returns a decimal of this package's source, or of a text that a form has bounded,
// as a ratio.
func ratio(s string) *big.Rat {
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		panic("fasteners: " + s + " is no number")
	}
	return r
}

func sum(a, b *big.Rat) *big.Rat         { return new(big.Rat).Add(a, b) }
func sub(a, b *big.Rat) *big.Rat         { return new(big.Rat).Sub(a, b) }
func product(a, b *big.Rat) *big.Rat     { return new(big.Rat).Mul(a, b) }
func quotient(a, b *big.Rat) *big.Rat    { return new(big.Rat).Quo(a, b) }
func times(k int64, r *big.Rat) *big.Rat { return product(big.NewRat(k, 1), r) }

// powerOf returns r^n, exactly.
func powerOf(r *big.Rat, n int64) *big.Rat {
	e := big.NewInt(n)
	return new(big.Rat).SetFrac(new(big.Int).Exp(r.Num(), e, nil), new(big.Int).Exp(r.Denom(), e, nil))
}

// power returns r^(num/den), rounded down to rootPlaces, for whole num, den > 0.
func power(r *big.Rat, num, den int64) *big.Rat { return root(powerOf(r, num), den) }

// rootPlaces are the decimal places to which roots in tolerance formulas are taken: far
// beyond the last place that any table prints.
const rootPlaces = 12

// root returns the n-th root of r >= 0, rounded down to rootPlaces. The standards'
// formulas for tolerances hold powers such as P^(2/3) and P^0.4; this keeps them out of
// floating point.
func root(r *big.Rat, n int64) *big.Rat {
	scale := new(big.Int).Exp(big.NewInt(10), big.NewInt(rootPlaces), nil)
	// The root of r in units of 10^-rootPlaces is the whole n-th root of r·scale^n.
	scaled := new(big.Rat).Mul(r, new(big.Rat).SetInt(new(big.Int).Exp(scale, big.NewInt(n), nil)))
	whole := new(big.Int).Quo(scaled.Num(), scaled.Denom())
	return new(big.Rat).SetFrac(wholeRoot(whole, n), scale)
}

// wholeRoot returns the largest x with x^n <= v, by halving.
func wholeRoot(v *big.Int, n int64) *big.Int {
	exponent := big.NewInt(n)
	lo := new(big.Int)
	hi := new(big.Int).Lsh(big.NewInt(1), uint(int64(v.BitLen())/n+1))
	for {
		gap := new(big.Int).Sub(hi, lo)
		if gap.Cmp(big.NewInt(1)) <= 0 {
			return lo
		}
		mid := new(big.Int).Add(lo, gap.Rsh(gap, 1))
		if new(big.Int).Exp(mid, exponent, nil).Cmp(v) <= 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
}
