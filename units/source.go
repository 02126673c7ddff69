package units

import "math/big"

// Where the factors come from.
const (
	siBrochure = "SI Brochure, 9th edition (2019)"
	sp811B6    = "NIST SP 811 (2008), B.6"
	sp811B8    = "NIST SP 811 (2008), B.8"
	withPi     = ", with π to 50 decimal places"
)

// pi50 is pi to 50 decimal places (OEIS A000796, from memory; a test computes it again).
const pi50 = "3.14159265358979323846264338327950288419716939937511"

// rat returns the number written in a table of this package.
func rat(s string) *big.Rat {
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		panic("units: not a number in a table: " + s)
	}
	return r
}

// overPi returns n/π with pi50 for π.
func overPi(n string) *big.Rat { return new(big.Rat).Quo(rat(n), rat(pi50)) }
