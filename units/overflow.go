package units

import "math/bits"

// mulInt64 returns a*b, and whether it fits.
func mulInt64(a, b int64) (int64, bool) {
	hi, lo := bits.Mul64(magnitude(a), magnitude(b))
	return signed(hi, lo, (a < 0) != (b < 0))
}

// magnitude returns |a|, also of the smallest integer.
func magnitude(a int64) uint64 {
	if a < 0 {
		return -uint64(a)
	}
	return uint64(a)
}

// signed returns the 128-bit magnitude hi:lo as a signed integer, and whether it
// fits. The smallest integer, whose magnitude no int64 holds, is left to the caller.
func signed(hi, lo uint64, negative bool) (int64, bool) {
	if hi != 0 || lo > 1<<63-1 {
		return 0, false
	}
	if negative {
		return -int64(lo), true
	}
	return int64(lo), true
}

// timesRatio returns n times a Ratio of so many steps, where that is a whole number; ok is
// false where it is not, or does not fit.
func timesRatio(n, steps int64) (product int64, ok bool) {
	hi, lo := bits.Mul64(magnitude(n), magnitude(steps))
	if hi >= oneInSteps {
		return 0, false
	}
	whole, rest := bits.Div64(hi, lo, oneInSteps)
	if rest != 0 {
		return 0, false
	}
	return signed(0, whole, (n < 0) != (steps < 0))
}

// powersOf10 holds the powers of ten that fit a machine integer.
var powersOf10 = [...]int64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18}
