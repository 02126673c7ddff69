// Package chance weighs a fit against it: how much it says, in bits, that a rule agrees with what was typed,
// less what the search for the rule cost.
//
// A rule that agrees by chance once in 32 times carries five bits where it agrees. Whoever tries 16
// rules and keeps the one that agrees has spent four of them. A fit counts only if what is left is
// beyond Bound. So of columns behind which there is no rule, fewer than two in a hundred get one, however
// many rules are tried: the chance that any of n rules reaches the bound is at most n times what n leaves to each.
//
// It leaves out what a sheet says in words. A rule whose limits and verdict are named by headings is
// read, and needs no fit.
package chance

import "math"

// Bound is how many bits a fit must have left when the price of the search is paid: log2 of 50, which
// chance reaches twice in a hundred times.
const Bound = 5.643856189774724

// Excluded reports whether a fit is no chance that was found among so many rules that were tried.
func Excluded(bits float64, tried int) bool {
	return bits-math.Log2(float64(max(tried, 1))) >= Bound
}

// Agreeing returns the bits of k agreements or more among n trials of which each agrees by chance with a
// probability.
func Agreeing(k, n int, chance float64) float64 {
	if k <= 0 || n <= 0 || chance >= 1 {
		return 0
	}
	chance = math.Max(chance, 1e-12)
	tail := math.Inf(-1) // log of the sum from k to n of C(n,i) p^i (1-p)^(n-i)
	for i := min(k, n); i <= n; i++ {
		tail = logAdd(tail, logChoose(n, i)+float64(i)*math.Log(chance)+float64(n-i)*math.Log1p(-chance))
	}
	return math.Max(0, -tail/math.Ln2)
}

// Shared returns the bits of two sets of n lines, one of a lines and one of b, that have both of them in
// common or more: what is left to chance if the words of a column are dealt to its lines at random
// (the one-sided exact test of a table of two by two). All lines or none in one of the sets carry nothing,
// for then chance can deal no other.
func Shared(n, a, b, both int) float64 {
	most := min(a, b)
	if n <= 0 || a < 0 || b < 0 || a > n || b > n || both > most {
		return 0
	}
	tail, all := math.Inf(-1), logChoose(n, a)
	for i := max(both, a+b-n); i <= most; i++ {
		tail = logAdd(tail, logChoose(b, i)+logChoose(n-b, a-i)-all)
	}
	return math.Max(0, -tail/math.Ln2)
}

func logChoose(n, k int) float64 {
	if k < 0 || k > n {
		return math.Inf(-1)
	}
	of := func(x int) float64 { v, _ := math.Lgamma(float64(x + 1)); return v }
	return of(n) - of(k) - of(n-k)
}

func logAdd(a, b float64) float64 {
	if math.IsInf(a, -1) {
		return b
	}
	if math.IsInf(b, -1) {
		return a
	}
	high := math.Max(a, b)
	return high + math.Log(math.Exp(a-high)+math.Exp(b-high))
}
