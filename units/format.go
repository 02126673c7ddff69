package units

import (
	"math/big"
	"strconv"
)

// stringPlaces is how many decimal places String shows at the most.
const stringPlaces = 6

// Format returns q in the unit with exactly so many decimal places and the
// unit's symbol, rounded in the way given: "60.012 mm".
func (q Quantity[D]) Format(u Unit[D], places int32, m Rounding) string {
	var room [48]byte
	return string(q.Append(room[:0], u, places, m))
}

// Append appends what Format returns to b.
func (q Quantity[D]) Append(b []byte, u Unit[D], places int32, m Rounding) []byte {
	b = q.appendNumber(b, u, places, m)
	b = append(b, ' ')
	return append(b, u.def().symbol...)
}

// appendNumber appends the digits of q in the unit.
func (q Quantity[D]) appendNumber(b []byte, u Unit[D], places int32, m Rounding) []byte {
	n, ok := q.scaledInt64(u, places, m)
	if !ok {
		return append(b, q.Rounded(u, places, m).StringFixed(max(places, 0))...)
	}
	if n < 0 {
		b = append(b, '-')
	}
	var room [20]byte
	digits := strconv.AppendUint(room[:0], magnitude(n), 10)
	whole := len(digits) - int(places)
	if whole <= 0 {
		b = append(b, '0')
	} else {
		b = append(b, digits[:whole]...)
	}
	if places == 0 {
		return b
	}
	b = append(b, '.')
	for ; whole < 0; whole++ {
		b = append(b, '0')
	}
	return append(b, digits[whole:]...)
}

// String returns q for reading, in the dimension's first unit (mm, °, N·m, N,
// bar and so on), with no more digits than it has. If it has more than six
// decimal places it is rounded half to even there and marked so: "≈122.023615 N·m".
// Exact keeps every digit.
func (q Quantity[D]) String() string {
	const u = 0
	if text, finite := decimalText(q.Rat(u), stringPlaces); finite {
		return text + " " + Unit[D](u).String()
	}
	text, _ := decimalText(ratOfDecimal(q.In(u, stringPlaces)), stringPlaces)
	return "≈" + text + " " + Unit[D](u).String()
}

// Exact returns q with every digit, so that parsing the text gives q again. The
// number is a decimal in the dimension's first unit if it has an end there; else
// in the first other unit in which it has one ("50 psi"); else a fraction of the
// first unit ("1/3 mm").
func (q Quantity[D]) Exact() string {
	d := dimensionOf[D]()
	if text, finite := decimalText(q.Rat(0), maxPlaces); finite {
		return text + " " + d.units[0].symbol
	}
	for _, i := range d.exact {
		if text, finite := decimalText(q.Rat(Unit[D](i)), maxPlaces); finite {
			return text + " " + d.units[i].symbol
		}
	}
	return q.Rat(0).RatString() + " " + d.units[0].symbol
}

// number writes q in the unit with no more digits than it has, marked if it is
// rounded.
func (q Quantity[D]) number(u Unit[D]) string {
	if text, finite := decimalText(q.Rat(u), factorPlaces); finite {
		return text
	}
	return "≈" + q.Rat(u).FloatString(factorPlaces)
}

// decimalText returns r as a decimal without trailing zeros, if it is one of at
// most so many places.
func decimalText(r *big.Rat, most int) (text string, finite bool) {
	places, finite := r.FloatPrec()
	if !finite || places > most {
		return "", false
	}
	return r.FloatString(places), true
}
