package units

import "math/big"

// Place returns one of the given decimal place of the unit: the seventh place of a
// millimetre is a tenth of a nanometre. It is the step of a rounding.
func (u Scale[D, E]) Place(places int32) Value[E, E] {
	def := u.def()
	if f := def.whole; f != 0 && places >= 0 && int(places) < len(powersOf10) && f%powersOf10[places] == 0 {
		return Value[E, E]{n: f / powersOf10[places]}
	}
	r := new(big.Rat).SetInt(pow10(int64(places)))
	if places > 0 {
		r.Inv(r)
	}
	return fromSteps[E, E](r.Mul(r, def.factor))
}
