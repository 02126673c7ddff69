package conform

import (
	"fmt"
	"math/big"
)

// workedSums are sums whose doubts share sources. The second way: every reading is a list of named
// errors, each with its factor; a sum adds the factors of each name, and only then squares.
func workedSums(b *bench) {
	mm := func(n string) any { return n + " mm" }
	gauge := func(name string, u, repeats, limit, on any) obj {
		return obj{"kind": "gauge", "name": name, "uncertainty": u, "repeats": repeats, "limit_of_error": limit, "set_on": on}
	}
	read := func(times string, with any, text string) obj {
		return obj{"times": times, "with": with, "read": []string{text + " mm"}}
	}
	ask := func(edge string, instruments, terms []any, nonNegative, worst bool, value, square, bracket *big.Rat, derivation string) {
		u := rootOf(square)
		if exact := times(u, u); exact.Cmp(square) != 0 {
			u = rootOf(square) // without an end: to 40 places
		}
		lo, hi := minus(minus(value, u), bracket), plus(plus(value, u), bracket)
		if nonNegative {
			if lo.Sign() < 0 {
				lo = new(big.Rat)
			}
			if hi.Sign() < 0 {
				hi = new(big.Rat)
			}
		}
		want := obj{"lo": lo.FloatString(15), "hi": hi.FloatString(15)}
		near := map[string]string{"lo": "0.0000003", "hi": "0.0000003"}
		if !nonNegative {
			want["uncertainty"], near["uncertainty"] = u.FloatString(15), "0.0000003"
		}
		b.add("combine", "combine", edge, obj{"unit": "mm", "instruments": instruments, "terms": terms, "non_negative": nonNegative, "at_worst": worst}, want, near,
			"three tenths of a nanometre: roots have no end, and a program may round each of them up to a tenth", derivation)
	}
	squares := func(parts ...*big.Rat) *big.Rat {
		sum := new(big.Rat)
		for _, p := range parts {
			sum.Add(sum, times(p, p))
		}
		return sum
	}
	zero := new(big.Rat)
	for i, f := range [][2]string{{"0.003", "0.004"}, {"0.005", "0.012"}, {"0.008", "0.015"}, {"0.002", "0.003"}, {"0.0005", "0.0005"}, {"0.001", "0.010"}, {"0.0001", "0.0099"}, {"0.020", "0.021"}, {"0.004", "0.004"}, {"0.0123", "0.0045"}} {
		a, c := rat(f[0]), rat(f[1])
		bore, journal, upper, lower := "60.050", "56.012", "2.006", "2.007"
		value := minus(minus(minus(rat(bore), rat(journal)), rat(upper)), rat(lower))
		for _, worst := range []bool{false, true} {
			comb := func(parts ...*big.Rat) *big.Rat {
				if !worst {
					return squares(parts...)
				}
				sum := new(big.Rat)
				for _, p := range parts {
					sum.Add(sum, new(big.Rat).Abs(p))
				}
				return times(sum, sum)
			}
			two := []any{gauge("B", mm(f[0]), nil, nil, nil), gauge("M", mm(f[1]), nil, nil, nil)}
			ask("two-gauges", two, []any{read("1", "B", bore), read("-1", "M", journal)}, false, worst, minus(rat(bore), rat(journal)), comb(a, c), zero,
				fmt.Sprintf("two sources: %s and %s, by root-sum-square, or added at the worst", f[0], f[1]))
			// One micrometer on three sizes: one figure, so three times the magnitude.
			ask("one-figure", two, []any{read("1", "B", bore), read("-1", "M", journal), read("-1", "M", upper), read("-1", "M", lower)}, false, worst, value, comb(a, times(c, rat("3"))), zero,
				fmt.Sprintf("nobody knows what three readings of M share, so 3 × %s counts as one source; B is another", f[1]))
			ask("one-figure-cancels-not", two[1:], []any{read("1", "M", bore), read("-1", "M", journal)}, false, worst, minus(rat(bore), rat(journal)), comb(times(c, rat("2"))), zero,
				fmt.Sprintf("a difference of one gauge of which nothing more is known: 2 × %s, for an error may change its sign", f[1]))
			// Factors.
			ask("factors", two, []any{read("1/2", "B", bore), read("-3", "M", journal)}, false, worst, minus(times(rat("1/2"), rat(bore)), times(rat("3"), rat(journal))), comb(times(rat("1/2"), a), times(rat("3"), c)), zero,
				"each doubt times the magnitude of its factor")
			// The gauge set in the micrometer, one figure each.
			set := []any{gauge("B", mm(f[0]), nil, nil, "M"), gauge("M", mm(f[1]), nil, nil, nil)}
			ask("set-on-one-figure", set, []any{read("1", "B", bore), read("-1", "M", journal)}, false, worst, minus(rat(bore), rat(journal)), comb(times(a, rat("2")), times(c, rat("2"))), zero,
				fmt.Sprintf("B holds one reading of M, by its setting, and M read the journal: nobody knows what both share, so 2 × %s; B showed something twice, at its setting and in the bore, so 2 × %s", f[1], f[0]))
			// A piece has one error: it cancels in a difference.
			piece := []any{gauge("B", mm(f[0]), nil, nil, "ring"), gauge("M", mm(f[0]), nil, nil, "ring"), obj{"kind": "setting piece", "name": "ring", "uncertainty": mm(f[1])}}
			ask("piece-cancels", piece, []any{read("1", "B", bore), read("-1", "M", journal)}, false, worst, minus(rat(bore), rat(journal)), comb(times(a, rat("2")), times(a, rat("2"))), zero,
				fmt.Sprintf("both are set on one ring: +%s and -%[1]s of one error cancel; what remains are two gauges, each with its setting and its reading, 2 × %s", f[1], f[0]))
			ask("piece-adds", piece, []any{read("1", "B", bore), read("1", "M", journal)}, false, worst, plus(rat(bore), rat(journal)), comb(times(a, rat("2")), times(a, rat("2")), times(c, rat("2"))), zero,
				fmt.Sprintf("both are set on one ring, and both add: 2 × %s of it, and two gauges, each with its setting and its reading, 2 × %s", f[1], f[0]))
			// Parts: the common one cancels, the repeats do not.
			known := []any{obj{"kind": "gauge", "name": "M", "common": mm(f[1]), "repeats": mm(f[0]), "set_on": nil}}
			ask("common-cancels", known, []any{read("1", "M", bore), read("-1", "M", journal)}, false, worst, minus(rat(bore), rat(journal)), comb(a, a), zero,
				fmt.Sprintf("the error of %s is the same in both readings and cancels; the repeats %s are new in each", f[1], f[0]))
			ask("common-thrice", known, []any{read("1", "M", bore), read("-1", "M", journal), read("-1", "M", upper), read("-1", "M", lower)}, false, worst, value, comb(times(c, rat("2")), a, a, a, a), zero,
				fmt.Sprintf("+1 - 1 - 1 - 1 = -2 of the common %s, and four repeats of %s", f[1], f[0]))
			setParts := []any{obj{"kind": "gauge", "name": "M", "common": mm(f[1]), "repeats": mm(f[0]), "set_on": nil}, obj{"kind": "gauge", "name": "B", "common": mm("0"), "repeats": mm(f[0]), "set_on": "M"}}
			ask("set-on-cancels", setParts, []any{read("1", "B", bore), read("-1", "M", journal)}, false, worst, minus(rat(bore), rat(journal)), comb(a, a, a, a), zero,
				fmt.Sprintf("the common error %s of M came into B by its setting, and cancels; left are four repeats of %s: M at the setting and on the journal, B at the setting and in the bore", f[1], f[0]))
			// Brackets.
			given := read("-1", nil, upper+" ±"+f[0])
			given["read"] = []string{upper + " ±" + f[0] + " mm"}
			ask("bracket", two, []any{read("1", "B", bore), given, read("-1", "M", journal)}, false, worst, minus(minus(rat(bore), rat(upper)), rat(journal)), comb(a, c), a,
				fmt.Sprintf("the tolerance ±%s is certain and comes on top of the root of both doubts", f[0]))
			promised := []any{gauge("M", nil, nil, mm(f[1]), nil)}
			ask("limit-of-error", promised, []any{read("1", "M", bore), read("-1", "M", journal)}, false, worst, minus(rat(bore), rat(journal)), zero, times(c, rat("2")),
				fmt.Sprintf("a limit of error is a bracket of each reading: 2 × %s, and no root", f[1]))
		}
		ask("non-negative", []any{gauge("B", mm(f[0]), nil, nil, nil), gauge("M", mm(f[1]), nil, nil, nil)}, []any{read("1", "B", "40.001"), read("-1", "M", "40.000")}, true, false, rat("0.001"), squares(a, c), zero,
			"what is below zero cannot be, and is cut off at 0")
		if i < 6 {
			b.add("combine", "rss", "rss", obj{"parts": []string{f[0], f[1]}}, obj{"value": rootOf(squares(a, c)).FloatString(20)}, map[string]string{"value": "0.0000001"},
				"a root has no end, and a program may round it up to the seventh place", fmt.Sprintf("√(%s² + %s²)", f[0], f[1]))
		}
	}
}

// verdictOf is the judge of ISO 14253-1, by comparing fractions.
func verdictOf(lo, hi, low, high *big.Rat) (verdict string, meetsLower, meetsUpper bool) {
	meetsLower = low == nil || lo != nil && lo.Cmp(low) >= 0
	meetsUpper = high == nil || hi != nil && hi.Cmp(high) <= 0
	switch {
	case meetsLower && meetsUpper:
		return "conforming", true, true
	case low != nil && hi != nil && hi.Cmp(low) < 0:
		return "below limit", meetsLower, meetsUpper
	case high != nil && lo != nil && lo.Cmp(high) > 0:
		return "above limit", meetsLower, meetsUpper
	}
	return "undecided", meetsLower, meetsUpper
}

func workedJudgements(b *bench) {
	judge := func(edge, limits, measured string, lo, hi, low, high *big.Rat, derivation string) {
		verdict, lower, upper := verdictOf(lo, hi, low, high)
		unit := "mm"
		if limits[len(limits)-2:] == "in" {
			unit = "in"
		}
		b.add("judge", "judge", edge, obj{"unit": unit, "limits": limits, "instruments": []any{}, "terms": []any{obj{"times": "1", "with": nil, "read": []string{measured}}}, "non_negative": false, "at_worst": false},
			obj{"verdict": verdict, "meets_lower": lower, "meets_upper": upper}, nil, "", derivation)
	}
	inch := rat("25.4")
	// Each end of what is measured just below, at, and just above each limit, in the last digit.
	for _, x := range [][3]string{{"0.024", "0.048", "0.001"}, {"0.053", "0.087", "0.0001"}, {"-0.010", "0.012", "0.001"}, {"-0.030", "-0.012", "0.0001"}, {"0", "0.020", "0.00001"}, {"0.030", "0.030", "0.001"}, {"0.0005", "0.0028", "0.0001"}} {
		low, high, step := rat(x[0]), rat(x[1]), rat(x[2])
		var places []*big.Rat
		for _, at := range []*big.Rat{low, high} {
			for _, n := range []int64{-1, 0, 1} {
				places = append(places, plus(at, times(step, big.NewRat(n, 1))))
			}
		}
		places = append(places, over(plus(low, high), rat("2")))
		seen := map[string]bool{}
		for _, lo := range places {
			for _, hi := range places {
				text := fmt.Sprintf("%s..%s", dec(lo), dec(hi))
				if lo.Cmp(hi) > 0 || seen[text] {
					continue
				}
				seen[text] = true
				judge("border", fmt.Sprintf("%s..%s mm", x[0], x[1]), text+" mm", lo, hi, low, high, "ends are compared as fractions; the limits belong to the tolerance interval")
				if x[0] == "0.0005" { // inches against millimetres
					judge("inch", fmt.Sprintf("%s..%s in", x[0], x[1]), fmt.Sprintf("%s..%s mm", dec(times(lo, inch)), dec(times(hi, inch))), lo, hi, low, high, "the measured ends over 25.4, compared as fractions")
				}
			}
			judge("one-sided", ">= "+x[0]+" mm", dec(lo)+" mm", lo, lo, low, nil, "one limit: the other one is always met")
			judge("one-sided", "<= "+x[1]+" mm", dec(lo)+" mm", lo, lo, nil, high, "one limit: the other one is always met")
			judge("one-sided-reading", fmt.Sprintf("%s..%s mm", x[0], x[1]), ">= "+dec(lo)+" mm", lo, nil, low, high, "a blade went in and no thicker one was tried: nothing is known above")
			judge("one-sided-reading", fmt.Sprintf("%s..%s mm", x[0], x[1]), "<= "+dec(lo)+" mm", nil, lo, low, high, "the thinnest blade did not go in: nothing is known below")
		}
	}
	// A gauge whose doubt just fits, and does not by its last digit.
	for _, u := range []string{"0.001", "0.002", "0.0125", "0.024"} {
		for _, off := range []string{"-0.00001", "0", "0.00001"} {
			for _, side := range []string{"low", "high"} {
				low, high := rat("0.030"), rat("0.080")
				at := plus(low, rat(u))
				if side == "high" {
					at = minus(high, rat(u))
				}
				at = plus(at, rat(off))
				verdict, lower, upper := verdictOf(minus(at, rat(u)), plus(at, rat(u)), low, high)
				b.add("judge", "judge", "just-fits", obj{"unit": "mm", "limits": "0.030..0.080 mm", "instruments": []any{obj{"kind": "gauge", "name": "dial", "uncertainty": u + " mm", "repeats": nil, "limit_of_error": nil, "set_on": nil}},
					"terms": []any{obj{"times": "1", "with": "dial", "read": []string{dec(at) + " mm"}}}, "non_negative": false, "at_worst": false},
					obj{"verdict": verdict, "meets_lower": lower, "meets_upper": upper}, nil, "", fmt.Sprintf("%s ± %s against the limits, as fractions", dec(at), u))
			}
		}
	}
}
