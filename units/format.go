package units

import (
	"math/big"
	"math/bits"
	"strconv"
)

// stringPlaces is how many decimal places String shows at the most, unless the
// dimension says otherwise.
const stringPlaces = 6

// Format returns q in the unit with exactly so many decimal places and the
// unit's symbol, rounded in the way given: "60.012 mm".
func (q Value[D, E]) Format(u Scale[D, E], places int32, m Rounding) string {
	var room [48]byte
	return string(q.appendFormat(room[:0], u, places, m))
}

// appendFormat appends what Format returns to b.
func (q Value[D, E]) appendFormat(b []byte, u Scale[D, E], places int32, m Rounding) []byte {
	return u.def().appendSymbol(q.appendNumber(b, u, places, m))
}

// appendNumber appends the digits of q in the unit.
func (q Value[D, E]) appendNumber(b []byte, u Scale[D, E], places int32, m Rounding) []byte {
	n, ok := q.scaledInt64(u, places, m)
	if !ok {
		return append(b, q.Rounded(u, places, m).StringFixed(max(places, 0))...)
	}
	return appendPlaces(b, n, int(places))
}

// appendPlaces appends n as a decimal whose last so many digits stand behind the point.
func appendPlaces(b []byte, n int64, places int) []byte {
	if n < 0 {
		b = append(b, '-')
	}
	var room [20]byte
	digits := strconv.AppendUint(room[:0], magnitude(n), 10)
	whole := len(digits) - places
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
func (q Value[D, E]) String() string {
	var room [48]byte
	return string(q.appendString(room[:0]))
}

func (q Value[D, E]) appendString(b []byte) []byte {
	d := dimensionOf[D]()
	return d.units[0].appendSymbol(q.appendDigits(b, 0, d.shown))
}

// writtenPlaces is how many decimal places a working shows at the most.
const writtenPlaces = 9

// Written returns q in the unit for a working, with no more digits than it has; more than
// nine decimal places are rounded half to even, and the text is marked so: "≈0.333333333
// mm".
func (q Value[D, E]) Written(u Scale[D, E]) string { return string(q.appendWritten(nil, u)) }

func (q Value[D, E]) appendWritten(b []byte, u Scale[D, E]) []byte {
	return u.def().appendSymbol(q.appendDigits(b, u, writtenPlaces))
}

// WrittenBare is Written without the symbol, for the middle of a formula.
func (q Value[D, E]) WrittenBare(u Scale[D, E]) string {
	return string(q.appendDigits(nil, u, writtenPlaces))
}

// appendDigits appends q in the unit with no more digits than it has; what has more
// than so many places is rounded and marked.
func (q Value[D, E]) appendDigits(b []byte, u Scale[D, E], most int) []byte {
	if q.x == nil {
		if out, places, ok := u.def().appendDecimal(b, q.n); ok && places <= most {
			return out
		}
	}
	if n, exact, ok := q.scaledTo(u, int32(most), HalfEven); ok {
		if !exact {
			b = append(b, "≈"...)
		}
		places := most
		for ; places > 0 && n%10 == 0; places-- {
			n /= 10
		}
		return appendPlaces(b, n, places)
	}
	return append(b, digits(q.Rat(u), most)...)
}

// digits returns r as appendDigits writes it.
func digits(r *big.Rat, most int) string {
	if text, finite := decimalText(r, most); finite {
		return text
	}
	rounded := new(big.Rat).SetInt(roundRat(scaled(r, int32(most)), HalfEven))
	text, _ := decimalText(scaled(rounded, int32(-most)), most)
	return "≈" + text
}

// Exact returns q with every digit, so that parsing the text gives q again. The
// number is a decimal in the dimension's first unit if it has an end there; else
// in the first other unit in which it has one ("50 psi"); else a ratio of the
// first unit, in parentheses so that it cannot be taken for a range ("(1/3) mm").
func (q Value[D, E]) Exact() string {
	var room [48]byte
	return string(q.appendExact(room[:0]))
}

func (q Value[D, E]) appendExact(b []byte) []byte {
	d := dimensionOf[D]()
	first := &d.units[0]
	if q.x == nil {
		if out, _, ok := first.appendDecimal(b, q.n); ok {
			return first.appendSymbol(out)
		}
	}
	if text, finite := decimalText(q.Rat(0), maxPlaces); finite {
		return first.appendSymbol(append(b, text...))
	}
	for _, i := range d.exact {
		if text, finite := decimalText(q.Rat(Scale[D, E](i)), maxPlaces); finite {
			return d.units[i].appendSymbol(append(b, text...))
		}
	}
	b = append(append(append(b, '('), q.Rat(0).RatString()...), ')')
	return first.appendSymbol(b)
}

// appendSymbol appends the symbol behind a number; that of a bare number is not written.
func (u *unitDef) appendSymbol(b []byte) []byte {
	if u.symbol == "" {
		return b
	}
	return append(append(b, ' '), u.symbol...)
}

// appendDecimal appends n grid steps as a decimal of the unit without trailing
// zeros, in machine arithmetic, and returns how many places it has; ok is false
// where that cannot be told of 18 places.
func (u *unitDef) appendDecimal(b []byte, n int64) (out []byte, places int, ok bool) {
	const most = len(powersOf10) - 1
	if u.whole <= 0 {
		return b, places, false
	}
	whole, rest := magnitude(n)/uint64(u.whole), magnitude(n)%uint64(u.whole)
	hi, lo := bits.Mul64(rest, uint64(powersOf10[most]))
	part, more := bits.Div64(hi, lo, uint64(u.whole))
	if more != 0 {
		return b, places, false
	}
	if n < 0 {
		b = append(b, '-')
	}
	b = strconv.AppendUint(b, whole, 10)
	if part == 0 {
		return b, places, true
	}
	places = most
	for part%1000 == 0 {
		part, places = part/1000, places-3
	}
	for part%10 == 0 {
		part, places = part/10, places-1
	}
	b = append(b, "."...)
	at := len(b)
	b = append(b, "000000000000000000"[:places]...)
	for i := at + places - 1; part > 0; i-- {
		b[i] = byte('0' + part%10)
		part /= 10
	}
	return b, places, true
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
