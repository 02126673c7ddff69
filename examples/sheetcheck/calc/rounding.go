package calc

import (
	"fmt"
	"math"
	"math/big"
	"strconv"
)

func roundingFunctions() map[string]function {
	toPlaces := func(least int, way rounding) function {
		return function{least: least, most: 2, values: func(f *frame, v []Value) Value {
			x, places := f.number(v[0]), 0
			if x.kind != KindNumber {
				return x
			}
			if len(v) == 2 {
				n, why, ok := f.integer(v[1])
				if !ok {
					return why
				}
				places = n
			}
			return f.places(x, places, way)
		}}
	}
	toMultiple := func(least, most int, apply func(f *frame, n []Value) Value) function {
		return ofNumbers(least, most, apply)
	}
	return map[string]function{
		"ROUND":     toPlaces(1, halfAway),
		"ROUNDUP":   toPlaces(1, awayFromZero),
		"ROUNDDOWN": toPlaces(1, towardZero),
		"TRUNC":     toPlaces(1, towardZero),
		"INT":       ofNumbers(1, 1, func(f *frame, n []Value) Value { return f.rounded(n[0], downward) }),
		"EVEN":      ofNumbers(1, 1, func(f *frame, n []Value) Value { return f.multiple(n[0], f.int(2), awayFromZero) }),
		"ODD": ofNumbers(1, 1, func(f *frame, n []Value) Value {
			sign, ok := f.sign(n[0])
			if !ok {
				return undecided()
			}
			if sign == 0 {
				sign = 1
			}
			one := f.int(sign)
			less := f.sub(n[0], one)
			if s, ok := f.sign(less); ok && s*sign < 0 {
				return one
			}
			return f.plus(f.multiple(less, f.int(2), awayFromZero), one)
		}),
		"MROUND": toMultiple(2, 2, func(f *frame, n []Value) Value {
			return f.ofMultiple(n[0], n[1], halfAway, failed(ErrNum))
		}),
		"CEILING":         toMultiple(1, 3, ceiling(upward)),
		"FLOOR":           toMultiple(1, 3, ceiling(downward)),
		"CEILING.MATH":    toMultiple(1, 3, ceilingMath(upward)),
		"FLOOR.MATH":      toMultiple(1, 3, ceilingMath(downward)),
		"CEILING.PRECISE": toMultiple(1, 2, ceilingMath(upward)),
		"ISO.CEILING":     toMultiple(1, 2, ceilingMath(upward)),
		"FLOOR.PRECISE":   toMultiple(1, 2, ceilingMath(downward)),
		"QUOTIENT": ofNumbers(2, 2, func(f *frame, n []Value) Value {
			q := f.div(n[0], n[1])
			if q.kind != KindNumber {
				return q
			}
			return f.rounded(q, towardZero)
		}),
		"MOD": ofNumbers(2, 2, func(f *frame, n []Value) Value {
			q := f.div(n[0], n[1])
			if q.kind != KindNumber {
				return q
			}
			if q = f.rounded(q, downward); q.kind != KindNumber {
				return q
			}
			return f.sub(n[0], f.mul(n[1], q))
		}),
	}
}

// plus adds two values that were computed, if both are numbers.
func (m *machine) plus(a, b Value) Value {
	if v, is := bad(a, b); is {
		return v
	}
	return m.add(a, b)
}

// rounded rounds a number to a whole one. A binary64 is taken as it is, to the last
// bit.
func (m *machine) rounded(v Value, way rounding) Value {
	if m.binary {
		switch way {
		case towardZero:
			return binaryValue(math.Trunc(v.lo))
		case awayFromZero:
			return binaryValue(math.Copysign(math.Ceil(math.Abs(v.lo)), v.lo))
		case downward:
			return binaryValue(math.Floor(v.lo))
		case upward:
			return binaryValue(math.Ceil(v.lo))
		}
		return binaryValue(math.Round(v.lo))
	}
	return roundExact(v, 0, way)
}

// places rounds a number to decimal places. A binary64 is rounded from the 15 digits
// that programs show of it, so that 2.15, which is held a little below, becomes 2.2:
// ISO/IEC 29500-1, 18.17 has ROUND(2.15, 1) = 2.2.
func (m *machine) places(v Value, places int, way rounding) Value {
	if !m.binary {
		return roundExact(v, places, way)
	}
	return binaryValue(roundDigits(v.lo, places, way))
}

// roundExact rounds a number if all that it may be comes to the same.
func roundExact(v Value, places int, way rounding) Value {
	if exact(v) {
		return roundTo(v, places, way)
	}
	lo := roundTo(ratValue(new(big.Rat).SetFloat64(v.lo)), places, way)
	hi := roundTo(ratValue(new(big.Rat).SetFloat64(v.hi)), places, way)
	if order, ok := exactCmp(lo, hi); !ok || order != 0 {
		return unknown("a rounding hangs on digits that are not known")
	}
	if v.form == estimate {
		lo = enclose(lo)
		lo.form = estimate
	}
	return lo
}

// roundDigits rounds the 15 digits of x.
func roundDigits(x float64, places int, way rounding) float64 {
	if x == 0 || math.Abs(x) > 1e300 {
		return x
	}
	s := strconv.FormatFloat(math.Abs(x), 'e', 14, 64) // d.dddddddddddddde±dd
	digits, err := strconv.ParseInt(s[:1]+s[2:16], 10, 64)
	exponent, err2 := strconv.Atoi(s[17:])
	if err != nil || err2 != nil {
		return x
	}
	cut := 14 - exponent - places // how many of the digits go
	if cut <= 0 {
		return x
	}
	var n int64
	if cut <= 15 {
		step := powersOfTen[cut]
		rest := digits % step
		n = digits / step
		if way == halfAway && 2*rest >= step || way == awayFromZero && rest > 0 {
			n++
		}
	} else if way == awayFromZero {
		n = 1
	}
	f, err := strconv.ParseFloat(strconv.FormatInt(n, 10)+"e"+strconv.Itoa(-places), 64)
	if err != nil {
		return 0
	}
	return math.Copysign(f, x)
}

// multiple rounds to a multiple of a step.
func (m *machine) multiple(x, step Value, way rounding) Value {
	q := m.div(x, step)
	if q.kind != KindNumber {
		return q
	}
	if q = m.rounded(q, way); q.kind != KindNumber {
		return q
	}
	return m.mul(q, step)
}

// signs returns the signs of two numbers.
func (m *machine) signs(x, y Value) (a, b int, ok bool) {
	a, ok1 := m.sign(x)
	b, ok2 := m.sign(y)
	return a, b, ok1 && ok2
}

// ofMultiple is multiple where number and step must have one sign.
func (f *frame) ofMultiple(x, step Value, way rounding, opposed Value) Value {
	a, b, ok := f.signs(x, step)
	switch {
	case !ok:
		return undecided()
	case a == 0 || b == 0:
		return f.int(0)
	case a != b:
		return opposed
	}
	return f.multiple(x, step, way)
}

// ceiling is CEILING and FLOOR. Of two numbers below zero without a third argument,
// OpenFormula goes up where office programs of the other format go away from zero.
func ceiling(way rounding) func(f *frame, n []Value) Value {
	return func(f *frame, n []Value) Value {
		a, ok := f.sign(n[0])
		if !ok {
			return undecided()
		}
		step := f.int(1)
		if a < 0 {
			step = f.int(-1)
		}
		if len(n) > 1 {
			step = n[1]
		}
		b, ok := f.sign(step)
		switch {
		case !ok:
			return undecided()
		case a == 0:
			return f.int(0)
		case b == 0 && way == downward:
			return failed(ErrDiv0)
		case b == 0:
			return f.int(0)
		case a > 0 && b < 0:
			return failed(ErrNum)
		case b > 0:
			return f.multiple(n[0], step, way)
		case len(n) == 2:
			return unknown("CEILING and FLOOR of two numbers below zero, which programs round differently")
		}
		return ceilingMath(way)(f, n)
	}
}

// ceilingMath takes the step without its sign, and away from or towards zero where the
// third argument says so of a number below zero.
func ceilingMath(way rounding) func(f *frame, n []Value) Value {
	return func(f *frame, n []Value) Value {
		step := f.int(1)
		if len(n) > 1 {
			step = n[1]
		}
		a, b, ok := f.signs(n[0], step)
		if !ok {
			return undecided()
		}
		if a == 0 || b == 0 {
			return f.int(0)
		}
		if b < 0 {
			step = f.neg(step)
		}
		way := way
		if len(n) > 2 && a < 0 {
			mode, ok := f.sign(n[2])
			if !ok {
				return undecided()
			}
			if mode != 0 {
				way = map[rounding]rounding{upward: awayFromZero, downward: towardZero}[way]
			}
		}
		return f.multiple(n[0], step, way)
	}
}

// fixed writes a number with so many places, as FIXED and TEXT do.
func (m *machine) fixed(v Value, places int, grouped bool) Value {
	if places > 127 {
		return failed(ErrValue)
	}
	v = m.places(v, places, halfAway)
	if v.kind != KindNumber {
		return v
	}
	var s string
	switch r, ok := v.Rat(); {
	case m.binary:
		s = strconv.FormatFloat(v.lo, 'f', max(places, 0), 64)
	case ok:
		s = r.FloatString(max(places, 0))
	default:
		return unknown("a text of a number whose digits are not all known")
	}
	if grouped {
		s = group(s)
	}
	if len(s) > 200 {
		return unknown(fmt.Sprintf("a number of %d characters", len(s)))
	}
	return textValue(s)
}

// group puts commas between thousands.
func group(s string) string {
	from, to := 0, len(s)
	for i := range len(s) {
		if s[i] == '-' {
			from = 1
		}
		if s[i] == '.' {
			to = i
			break
		}
	}
	for at := to - 3; at > from; at -= 3 {
		s = s[:at] + "," + s[at:]
	}
	return s
}
