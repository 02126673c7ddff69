package calc

import (
	"math"
	"math/big"
	"math/bits"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// mostBits is how many bits the two parts of a ratio may have together. A ratio that
// grows beyond it goes on as an enclosure.
const mostBits = 4096

// mostPlaces is how many places a small decimal may have.
const mostPlaces = 18

var powersOfTen = [mostPlaces + 1]int64{
	1, 10, 100, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18,
}

func smallValue(n int64, places int) Value {
	return Value{kind: KindNumber, form: small, n: n, places: int8(places)}
}

func whole(n int64) Value { return smallValue(n, 0) }

func binaryValue(f float64) Value {
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return failed(ErrNum)
	}
	return Value{kind: KindNumber, form: binary, lo: f}
}

// ratValue makes a number of a ratio, which it keeps.
func ratValue(r *big.Rat) Value {
	if v, ok := shrink(r); ok {
		return v
	}
	if r.Num().BitLen()-r.Denom().BitLen() > 1024 {
		return failed(ErrNum) // beyond what any program holds
	}
	if r.Num().BitLen()+r.Denom().BitLen() > mostBits {
		return enclose(Value{kind: KindNumber, form: ratio, rat: r})
	}
	return Value{kind: KindNumber, form: ratio, rat: r}
}

// shrink makes a small decimal of a ratio that is one.
func shrink(r *big.Rat) (Value, bool) {
	if !r.Num().IsInt64() || !r.Denom().IsInt64() {
		return Value{}, false
	}
	return quotient(r.Num().Int64(), r.Denom().Int64(), 0)
}

// quotient returns n/d·10^-places as a small decimal if it is one.
func quotient(n, d int64, places int) (Value, bool) {
	if n == math.MinInt64 || d == math.MinInt64 {
		return Value{}, false
	}
	if d < 0 {
		n, d = -n, -d
	}
	g := gcd(n, d)
	n, d = n/g, d/g
	twos := bits.TrailingZeros64(uint64(d))
	d >>= twos
	fives := 0
	for d%5 == 0 {
		d /= 5
		fives++
	}
	if d != 1 {
		return Value{}, false
	}
	ok := true
	for range twos - fives {
		n, ok = times(n, 5, ok)
	}
	for range fives - twos {
		n, ok = times(n, 2, ok)
	}
	places += max(twos, fives)
	for ; places < 0 && ok; places++ {
		n, ok = times(n, 10, ok)
	}
	return trimmed(n, places, ok)
}

// trimmed takes zeros off the end if there are too many places.
func trimmed(n int64, places int, ok bool) (Value, bool) {
	for places > mostPlaces && n%10 == 0 {
		n /= 10
		places--
	}
	if !ok || places > mostPlaces {
		return Value{}, false
	}
	return smallValue(n, places), true
}

// times multiplies; ok stays true if it was and the product fits.
func times(a, b int64, ok bool) (int64, bool) {
	hi, lo := bits.Mul64(magnitude(a), magnitude(b))
	if !ok || hi != 0 || lo > math.MaxInt64 {
		return 0, false
	}
	if (a < 0) != (b < 0) {
		return -int64(lo), true
	}
	return int64(lo), true
}

func magnitude(a int64) uint64 {
	if a < 0 {
		return -uint64(a)
	}
	return uint64(a)
}

func gcd(a, b int64) int64 {
	x, y := magnitude(a), magnitude(b)
	for y != 0 {
		x, y = y, x%y
	}
	return int64(max(x, 1))
}

// aligned brings two small decimals to the same places.
func aligned(a, b Value) (x, y int64, places int, ok bool) {
	x, y, places, ok = a.n, b.n, int(a.places), true
	switch {
	case a.places < b.places:
		places = int(b.places)
		x, ok = times(x, powersOfTen[b.places-a.places], true)
	case a.places > b.places:
		y, ok = times(y, powersOfTen[a.places-b.places], true)
	}
	return x, y, places, ok
}

func smallRat(v Value) *big.Rat {
	return big.NewRat(v.n, powersOfTen[v.places])
}

// smallFloat returns the nearest binary64: of two that are exact, the quotient is.
func smallFloat(n int64, places int8) float64 {
	if magnitude(n) < 1<<53 {
		return float64(n) / float64(powersOfTen[places])
	}
	f, _ := big.NewRat(n, powersOfTen[places]).Float64()
	return f
}

// rat returns an exact number as a ratio that must not be changed.
func rat(v Value) *big.Rat {
	if v.form == small {
		return smallRat(v)
	}
	return v.rat
}

// exact reports whether a number is held exactly.
func exact(v Value) bool { return v.form == small || v.form == ratio }

// enclose returns a number as an enclosure.
func enclose(v Value) Value {
	if !exact(v) {
		return v
	}
	r := rat(v)
	f, same := r.Float64()
	if math.IsInf(f, 0) {
		return failed(ErrNum)
	}
	e := Value{kind: KindNumber, form: enclosure, lo: f, hi: f}
	if !same {
		e.lo, e.hi = below(f), above(f)
	}
	return e
}

func below(f float64) float64 { return math.Nextafter(f, math.Inf(-1)) }
func above(f float64) float64 { return math.Nextafter(f, math.Inf(1)) }

// between makes an enclosure of results that were each rounded to the nearest.
func between(form form, results ...float64) Value {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, f := range results {
		if math.IsNaN(f) || math.IsInf(f, 0) {
			return failed(ErrNum)
		}
		lo, hi = min(lo, f), max(hi, f)
	}
	return Value{kind: KindNumber, form: form, lo: below(lo), hi: above(hi)}
}

// estimated makes an estimate of a function's result.
func estimated(f float64) Value {
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return failed(ErrNum)
	}
	margin := math.Abs(f)*1e-12 + 1e-300
	return Value{kind: KindNumber, form: estimate, lo: f - margin, hi: f + margin}
}

// looser returns the form of a result of two.
func looser(a, b Value) form {
	if a.form == estimate || b.form == estimate {
		return estimate
	}
	return enclosure
}

func exactAdd(a, b Value) Value {
	if a.form == small && b.form == small {
		if x, y, places, ok := aligned(a, b); ok {
			if sum := x + y; (sum > x) == (y > 0) {
				return smallValue(sum, places)
			}
		}
	}
	if exact(a) && exact(b) {
		return ratValue(new(big.Rat).Add(rat(a), rat(b)))
	}
	a, b = enclose(a), enclose(b)
	if a.kind == KindError || b.kind == KindError {
		return failed(ErrNum)
	}
	return between(looser(a, b), a.lo+b.lo, a.hi+b.hi)
}

func exactNeg(a Value) Value {
	switch {
	case a.form == small && a.n != math.MinInt64:
		a.n = -a.n
		return a
	case exact(a):
		return ratValue(new(big.Rat).Neg(rat(a)))
	}
	a.lo, a.hi = -a.hi, -a.lo
	return a
}

func exactMul(a, b Value) Value {
	if a.form == small && b.form == small {
		n, ok := times(a.n, b.n, true)
		if v, ok := trimmed(n, int(a.places)+int(b.places), ok); ok {
			return v
		}
	}
	if exact(a) && exact(b) {
		return ratValue(new(big.Rat).Mul(rat(a), rat(b)))
	}
	if isZero(a) || isZero(b) {
		return whole(0)
	}
	a, b = enclose(a), enclose(b)
	if a.kind == KindError || b.kind == KindError {
		return failed(ErrNum)
	}
	return between(looser(a, b), a.lo*b.lo, a.lo*b.hi, a.hi*b.lo, a.hi*b.hi)
}

// isZero reports whether a number is held exactly and is zero.
func isZero(a Value) bool { return a.form == small && a.n == 0 }

func exactDiv(a, b Value) Value {
	if isZero(b) {
		return failed(ErrDiv0)
	}
	if a.form == small && b.form == small {
		if v, ok := quotient(a.n, b.n, int(a.places)-int(b.places)); ok {
			return v
		}
	}
	if exact(a) && exact(b) {
		return ratValue(new(big.Rat).Quo(rat(a), rat(b)))
	}
	a, b = enclose(a), enclose(b)
	if a.kind == KindError || b.kind == KindError {
		return failed(ErrNum)
	}
	if b.lo <= 0 && b.hi >= 0 {
		return unknown("a division by what may be zero")
	}
	return between(looser(a, b), a.lo/b.lo, a.lo/b.hi, a.hi/b.lo, a.hi/b.hi)
}

// exactCmp compares two numbers; ok is false if what is known of them does not tell.
func exactCmp(a, b Value) (order int, ok bool) {
	if a.form == small && b.form == small {
		if x, y, _, ok := aligned(a, b); ok {
			return compare(x, y), true
		}
	}
	if exact(a) && exact(b) {
		return rat(a).Cmp(rat(b)), true
	}
	a, b = enclose(a), enclose(b)
	switch {
	case a.kind == KindError || b.kind == KindError:
		return 0, false
	case a.hi < b.lo:
		return -1, true
	case a.lo > b.hi:
		return 1, true
	case a.lo == a.hi && b.lo == b.hi && a.form == enclosure && b.form == enclosure:
		return 0, true
	}
	return 0, false
}

func compare[T int | int64 | float64 | string](a, b T) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// zeroPower is why 0^0 is not known: OpenFormula 1.3 leaves it open.
const zeroPower = "0^0, of which programs make 1 or #NUM!"

// exactPower raises to a power.
func exactPower(a, b Value) Value {
	if isZero(a) {
		switch order, ok := exactCmp(b, whole(0)); {
		case ok && order == 0:
			return unknown(zeroPower)
		case ok && order < 0:
			return failed(ErrDiv0)
		}
		return whole(0)
	}
	if b.form == small && exact(a) {
		if v, ok := quotient(b.n, powersOfTen[b.places], 0); ok && v.places == 0 {
			if p, ok := integerPower(rat(a), v.n); ok {
				return p
			}
		}
		if b.places == 1 && b.n == 5 {
			return exactRoot(a)
		}
	}
	return estimated(math.Pow(a.Float64(), b.Float64()))
}

// integerPower returns r^n unless it is too large to be held.
func integerPower(r *big.Rat, n int64) (Value, bool) {
	size := int64(max(r.Num().BitLen(), r.Denom().BitLen()))
	if n > mostBits || n < -mostBits || size*int64(magnitude(n)) > mostBits {
		return Value{}, false
	}
	e := new(big.Int).SetUint64(magnitude(n))
	num, denom := new(big.Int).Exp(r.Num(), e, nil), new(big.Int).Exp(r.Denom(), e, nil)
	if n < 0 {
		num, denom = denom, num
	}
	return ratValue(new(big.Rat).SetFrac(num, denom)), true
}

// exactRoot returns a square root: exactly if it is a ratio, else enclosed.
func exactRoot(a Value) Value {
	if exact(a) {
		r := rat(a)
		if r.Sign() < 0 {
			return failed(ErrNum)
		}
		num, denom := new(big.Int).Sqrt(r.Num()), new(big.Int).Sqrt(r.Denom())
		root := new(big.Rat).SetFrac(num, denom)
		if new(big.Rat).Mul(root, root).Cmp(r) == 0 {
			return ratValue(root)
		}
	}
	a = enclose(a)
	switch {
	case a.kind == KindError || a.hi < 0:
		return failed(ErrNum)
	case a.lo < 0:
		return unknown("a root of what may be below zero")
	}
	return between(a.form, math.Sqrt(a.lo), math.Sqrt(a.hi)) // math.Sqrt rounds to the nearest
}

// A rounding says which way a number is rounded.
type rounding uint8

const (
	halfAway rounding = iota // to the nearest, a half away from zero
	towardZero
	awayFromZero
	downward
	upward
)

// roundRat rounds a ratio to a whole number.
func roundRat(r *big.Rat, way rounding) *big.Int {
	q, rest := new(big.Int).QuoRem(r.Num(), r.Denom(), new(big.Int))
	if rest.Sign() == 0 {
		return q
	}
	up := false
	switch way {
	case halfAway:
		up = rest.Abs(rest).Lsh(rest, 1).Cmp(r.Denom()) >= 0
	case awayFromZero:
		up = true
	case downward:
		up = r.Sign() < 0
	case upward:
		up = r.Sign() > 0
	}
	if up {
		q.Add(q, big.NewInt(int64(r.Sign())))
	}
	return q
}

// roundTo rounds an exact number to so many places, which may be below zero.
func roundTo(v Value, places int, way rounding) Value {
	if v.form == small && int(v.places) <= places {
		return v
	}
	if places < -400 || places > 400 {
		places = max(-400, min(400, places)) // beyond any number that is held
	}
	step := new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(max(places, -places))), nil))
	if places < 0 {
		step.Inv(step)
	}
	n := roundRat(step.Mul(rat(v), step), way)
	if places >= 0 && places <= mostPlaces && n.IsInt64() {
		return smallValue(n.Int64(), places)
	}
	r := new(big.Rat).SetInt(n)
	step.SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(max(places, -places))), nil))
	if places > 0 {
		step.Inv(step)
	}
	return ratValue(r.Mul(r, step))
}

// typed returns a number that is written in a cell or formula, exactly as it was
// typed: of more than 15 digits, which binary programs write and nobody typed, the
// first 15, as sheet.Cell.Numeral has it.
func typed(text string) (Value, bool) {
	c := sheet.Cell{Text: text}
	if n, places, ok := c.Plain(); ok {
		return smallValue(n, places), true
	}
	if d, ok := c.Number(); ok {
		return decimalValue(d), true
	}
	f, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err != nil || math.IsInf(f, 0) || math.IsNaN(f) || len(text) > 60 {
		return Value{}, false
	}
	r, ok := new(big.Rat).SetString(strconv.FormatFloat(f, 'e', 14, 64)) // very large or very small
	if !ok {
		return Value{}, false
	}
	return ratValue(r), true
}

func decimalValue(d decimal.Decimal) Value {
	if places := -d.Exponent(); places >= 0 && places <= mostPlaces && d.Coefficient().IsInt64() {
		return smallValue(d.Coefficient().Int64(), int(places))
	}
	return ratValue(d.Rat())
}

// binaryOf returns a number that is written as binary64.
func binaryOf(text string) (Value, bool) {
	if n, places, ok := (&sheet.Cell{Text: text}).Plain(); ok {
		return Value{kind: KindNumber, form: binary, lo: smallFloat(n, int8(places))}, true
	}
	text = strings.Trim(text, " '\t\u00a0\u202f")
	if text == "" || text[0] > '9' || len(text) > 60 || strings.ContainsAny(text, "_xXpPnN") {
		return Value{}, false
	}
	f, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsInf(f, 0) || math.IsNaN(f) {
		return Value{}, false
	}
	return Value{kind: KindNumber, form: binary, lo: f}, true
}
