package units

import "math/big"

// Place returns one of the given decimal place of the unit: the seventh place of a
// millimetre is a tenth of a nanometre. It is the step of a rounding.
func (u Unit[D]) Place(places int32) Quantity[D] {
	if f := u.def().whole; f != 0 && places >= 0 && int(places) < len(powersOf10) && f%powersOf10[places] == 0 {
		return Quantity[D]{n: f / powersOf10[places]}
	}
	r := new(big.Rat).SetInt(pow10(int64(places)))
	if places > 0 {
		r.Inv(r)
	}
	return u.OfRat(r)
}
