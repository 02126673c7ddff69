package calc

import (
	"fmt"
	"math"
	"math/big"
)

func numberFunctions() map[string]function {
	// Results of math's functions are estimates, save where they are exact.
	of := func(apply func(float64) float64) function {
		return ofNumbers(1, 1, func(f *frame, n []Value) Value { return f.apply(apply, n[0]) })
	}
	return map[string]function{
		"ABS": ofNumbers(1, 1, func(f *frame, n []Value) Value {
			sign, ok := f.sign(n[0])
			if !ok {
				return undecided()
			}
			if sign < 0 {
				return f.neg(n[0])
			}
			return n[0]
		}),
		"SIGN": ofNumbers(1, 1, func(f *frame, n []Value) Value {
			sign, ok := f.sign(n[0])
			if !ok {
				return undecided()
			}
			return f.int(sign)
		}),
		"SQRT":   ofNumbers(1, 1, func(f *frame, n []Value) Value { return f.root(n[0]) }),
		"SQRTPI": ofNumbers(1, 1, func(f *frame, n []Value) Value { return f.root(f.mul(n[0], f.pi())) }),
		"POWER":  ofNumbers(2, 2, func(f *frame, n []Value) Value { return f.pow(n[0], n[1]) }),
		"PI":     ofNumbers(0, 0, func(f *frame, _ []Value) Value { return f.pi() }),
		"EXP":    of(math.Exp),
		"LN":     of(math.Log),
		"LOG10":  of(math.Log10),
		"LOG": ofNumbers(1, 2, func(f *frame, n []Value) Value {
			if len(n) == 1 {
				return f.apply(math.Log10, n[0])
			}
			x, base := f.apply(math.Log, n[0]), f.apply(math.Log, n[1])
			if v, is := bad(x, base); is {
				return v
			}
			return f.div(x, base)
		}),
		"SIN": of(math.Sin), "COS": of(math.Cos), "TAN": of(math.Tan),
		"ASIN": of(math.Asin), "ACOS": of(math.Acos), "ATAN": of(math.Atan),
		"SINH": of(math.Sinh), "COSH": of(math.Cosh), "TANH": of(math.Tanh),
		"ATAN2": ofNumbers(2, 2, func(f *frame, n []Value) Value {
			x, y := n[0].Float64(), n[1].Float64()
			if x == 0 && y == 0 {
				return failed(ErrDiv0)
			}
			return f.float(math.Atan2(y, x))
		}),
		"DEGREES": ofNumbers(1, 1, func(f *frame, n []Value) Value { return f.div(f.mul(n[0], f.int(180)), f.pi()) }),
		"RADIANS": ofNumbers(1, 1, func(f *frame, n []Value) Value { return f.div(f.mul(n[0], f.pi()), f.int(180)) }),
		"FACT": ofNumbers(1, 1, func(f *frame, n []Value) Value {
			k, why, ok := f.integer(n[0])
			switch {
			case !ok:
				return why
			case k < 0 || k > 170:
				return failed(ErrNum)
			}
			return f.rat(new(big.Rat).SetInt(new(big.Int).MulRange(1, int64(k))))
		}),
		"GCD":    ofNumbers(1, -1, wholeNumbers(func(a, b *big.Int) *big.Int { return new(big.Int).GCD(nil, nil, a, b) })),
		"LCM":    ofNumbers(1, -1, wholeNumbers(leastCommonMultiple)),
		"ISEVEN": ofNumbers(1, 1, func(f *frame, n []Value) Value { return f.even(n[0], 0) }),
		"ISODD":  ofNumbers(1, 1, func(f *frame, n []Value) Value { return f.even(n[0], 1) }),
		"CONVERT": {least: 3, most: 3, values: func(f *frame, v []Value) Value {
			x, from, to := f.number(v[0]), f.text(v[1]), f.text(v[2])
			if v, is := bad(x, from, to); is {
				return v
			}
			return f.convert(x, from.text, to.text)
		}},
	}
}

// pi is the ratio of a circle's circumference to its diameter. The nearest binary64
// lies a little below it: 3.141592653589793116 against 3.141592653589793238.
func (m *machine) pi() Value {
	if m.binary {
		return binaryValue(math.Pi)
	}
	return Value{kind: KindNumber, form: enclosure, lo: math.Pi, hi: above(math.Pi)}
}

// apply applies a function of package math, which does not say how far its results
// are off. It is monotonic over so short a piece as a number is known to.
func (m *machine) apply(of func(float64) float64, x Value) Value {
	if m.binary {
		return binaryValue(of(x.lo))
	}
	if exact(x) {
		if f := of(x.Float64()); x.form == small && (f == 0 || f == 1) && (isZero(x) || x.n == powersOfTen[x.places]) {
			return whole(int64(f)) // sine of 0, logarithm of 1 and the like
		}
	}
	x = enclose(x)
	if x.kind != KindNumber {
		return x
	}
	v := estimated(of(x.Float64()))
	for _, end := range []float64{x.lo, x.hi} {
		if w := estimated(of(end)); v.kind == KindNumber && w.kind == KindNumber {
			v.lo, v.hi = min(v.lo, w.lo), max(v.hi, w.hi)
		}
	}
	return v
}

// wholeNumbers combines numbers without their places, none below zero.
func wholeNumbers(combine func(a, b *big.Int) *big.Int) func(f *frame, n []Value) Value {
	return func(f *frame, n []Value) Value {
		var all *big.Int
		for _, v := range n {
			k, why, ok := f.integer(v)
			switch {
			case !ok:
				return why
			case k < 0:
				return failed(ErrNum)
			case all == nil:
				all = big.NewInt(int64(k))
			default:
				all = combine(all, big.NewInt(int64(k)))
			}
			if all.BitLen() > mostBits {
				return failed(ErrNum)
			}
		}
		return f.rat(new(big.Rat).SetInt(all))
	}
}

func leastCommonMultiple(a, b *big.Int) *big.Int {
	if a.Sign() == 0 || b.Sign() == 0 {
		return new(big.Int)
	}
	product := new(big.Int).Mul(a, b)
	return product.Quo(product, new(big.Int).GCD(nil, nil, a, b))
}

func (f *frame) even(v Value, rest int) Value {
	n, why, ok := f.integer(v)
	if !ok {
		return why
	}
	return logical(n&1 == rest)
}

// convert converts between two units of one dimension.
func (f *frame) convert(x Value, from, to string) Value {
	a, ok1 := conversionUnits[from]
	b, ok2 := conversionUnits[to]
	if !ok1 || !ok2 {
		for _, u := range []string{from, to} {
			if _, ok := conversionUnits[u]; !ok {
				return unknown(fmt.Sprintf("the unit %q: it is not known here", u))
			}
		}
	}
	if a.dimension != b.dimension {
		return failed(ErrNA)
	}
	if a.zero == nil {
		return f.mul(x, f.rat(new(big.Rat).Quo(a.size, b.size)))
	}
	kelvin := f.mul(f.plus(x, f.rat(a.zero)), f.rat(a.size))
	if kelvin.kind != KindNumber {
		return kelvin
	}
	return f.plus(f.div(kelvin, f.rat(b.size)), f.neg(f.rat(b.zero)))
}
