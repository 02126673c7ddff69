package conform

import (
	"fmt"
	"math/big"
)

// boxesBelow is the probability that a sum of uniform errors, each within ± its half-width, is at most x:
//
//	P = 1/(n! ∏ 2hᵢ) ∑ ∏sᵢ (x + ∑ sᵢ hᵢ)₊ⁿ    over all choices of signs sᵢ
//
// It is exact. (Feller, An Introduction to Probability Theory, II, I.9, from memory; for equal
// half-widths it is the law of Irwin and Hall.)
func boxesBelow(x *big.Rat, halves []*big.Rat) *big.Rat {
	n := len(halves)
	sum, width := new(big.Rat), rat("1")
	for i, h := range halves {
		width = times(width, times(rat("2"), h))
		width = times(width, big.NewRat(int64(i+1), 1))
	}
	for signs := range 1 << n {
		at, odd := new(big.Rat).Set(x), false
		for i, h := range halves {
			if signs>>i&1 == 1 {
				at, odd = minus(at, h), !odd
			} else {
				at = plus(at, h)
			}
		}
		if at.Sign() <= 0 {
			continue
		}
		power := rat("1")
		for range n {
			power = times(power, at)
		}
		if odd {
			power.Neg(power)
		}
		sum.Add(sum, power)
	}
	return over(sum, width)
}

// workedLaws are the edges of a stack's law: one part, equal parts, a part without tolerance, limits
// at the middle, at the ends and a last digit inside of them.
func workedLaws(b *bench) {
	type part struct {
		times, middle, half string
		kind                obj
		boxes               []string // shares of the half-width
	}
	uniform := func(times, middle, half string) part {
		return part{times, middle, half, obj{"kind": "uniform"}, []string{"1"}}
	}
	triangular := func(times, middle, half string) part {
		return part{times, middle, half, obj{"kind": "triangular"}, []string{"1/2", "1/2"}}
	}
	trapezoidal := func(times, middle, half string) part {
		return part{times, middle, half, obj{"kind": "trapezoidal", "top": 0.5}, []string{"3/4", "1/4"}}
	}
	fixed := part{"-1", "1.505", "0", obj{"kind": "uniform"}, nil}
	equal := func(n int, p part) (all []part) {
		for range n {
			all = append(all, p)
		}
		return all
	}
	for _, s := range []struct {
		edge  string
		parts []part
	}{
		{"one-part", []part{uniform("1", "12.5", "0.02")}}, {"one-part", []part{uniform("-2", "3.01", "0.0005")}}, {"one-part", []part{triangular("-1", "60.0095", "0.0095")}}, {"one-part", []part{trapezoidal("1/2", "-0.5", "0.125")}},
		{"equal", equal(2, uniform("1", "2.002", "0.003"))}, {"equal", equal(3, uniform("-1", "2.002", "0.003"))}, {"equal", equal(5, uniform("1", "10", "0.1"))}, {"equal", equal(8, uniform("1", "0", "0.05"))},
		{"equal", equal(2, triangular("1", "4", "0.02"))}, {"equal", equal(4, triangular("-1", "4.25", "0.02"))}, {"equal", equal(3, trapezoidal("1", "7.5", "0.04"))},
		{"difference", []part{uniform("1", "60.01", "0.01"), uniform("-1", "59.95", "0.01")}}, {"difference", []part{triangular("1", "60.01", "0.01"), uniform("-2", "2.0025", "0.0025"), uniform("-1", "55.95", "0.006")}},
		{"unlike", []part{uniform("1", "100", "1"), uniform("1", "3", "0.001")}}, {"unlike", []part{uniform("1", "100", "0.5"), triangular("3", "0.1", "0.004"), trapezoidal("-1", "20", "0.08")}},
		{"without-tolerance", []part{uniform("1", "12.5", "0.02"), fixed}}, {"without-tolerance", []part{fixed, triangular("1", "4", "0.02"), fixed}}, {"without-tolerance", append(equal(3, uniform("1", "10", "0.1")), fixed)},
	} {
		mean, variance, reach := new(big.Rat), new(big.Rat), new(big.Rat)
		var contributors []any
		var halves []*big.Rat
		for _, p := range s.parts {
			mean.Add(mean, times(rat(p.times), rat(p.middle)))
			contributors = append(contributors, obj{"times": p.times, "limits": fmt.Sprintf("%s..%s mm", dec(minus(rat(p.middle), rat(p.half))), dec(plus(rat(p.middle), rat(p.half)))), "distribution": p.kind})
			for _, share := range p.boxes {
				h := times(new(big.Rat).Abs(rat(p.times)), times(rat(share), rat(p.half)))
				halves = append(halves, h)
				variance.Add(variance, over(times(h, h), rat("3")))
				reach.Add(reach, h)
			}
		}
		for _, at := range []string{"0", "1/4", "-1/2", "7/8", "1023/1024", "1", "65/64"} {
			x := times(rat(at), reach) // from the middle
			limit := plus(mean, x)
			if _, ends := limit.FloatPrec(); !ends {
				continue
			}
			below, above := boxesBelow(x, halves), boxesBelow(new(big.Rat).Neg(x), halves)
			if sum := plus(below, above); sum.Cmp(rat("1")) != 0 {
				panic("the two sides make " + sum.FloatString(20))
			}
			near := map[string]string{"mean": "0.000001", "std_dev": "0.000001"}
			want := obj{"mean": dec(mean), "std_dev": rootOf(variance).FloatString(20)}
			for key, p := range map[string]*big.Rat{"below": below, "above": above} {
				allowed := over(p, rat("1000000000"))
				if least := rat("0.000000000000001"); allowed.Cmp(least) < 0 {
					allowed = least
				}
				want[key], near[key] = p.FloatString(30), allowed.FloatString(30)
			}
			for _, side := range []string{"below", "above"} {
				limits := map[string]string{"below": ">= ", "above": "<= "}[side] + dec(limit) + " mm"
				w, n := obj{"mean": want["mean"], "std_dev": want["std_dev"], side: want[side]}, map[string]string{"mean": near["mean"], "std_dev": near["std_dev"], side: near[side]}
				b.add("stack", "law", s.edge, obj{"contributors": contributors, "unit": "mm", "limits": limits}, w, n, "a probability in binary64, to a billionth of itself; the mean and the deviation to a nanometre",
					"1/(n! ∏ 2h) ∑ ∏s (x + ∑ s h)₊ⁿ over all signs s, with x from the middle; a triangle is two uniform errors of half its width, a trapezium two of 3/4 and 1/4")
			}
		}
	}
	// Any symmetrical law has half of itself on either side of its middle.
	for _, kinds := range [][]obj{{{"kind": "normal", "k": 3}}, {{"kind": "normal within limits", "k": 2}}, {{"kind": "normal", "k": 3}, {"kind": "uniform"}}, {{"kind": "normal within limits", "k": 3}, {"kind": "triangular"}, {"kind": "normal", "k": 4}}} {
		var contributors []any
		mean := new(big.Rat)
		for i, kind := range kinds {
			middle, half, by := rat([]string{"60.0125", "2.0015", "55.95"}[i]), rat([]string{"0.0095", "0.0015", "0.01"}[i]), rat([]string{"1", "-2", "-1"}[i])
			mean.Add(mean, times(by, middle))
			contributors = append(contributors, obj{"times": dec(by), "limits": fmt.Sprintf("%s..%s mm", dec(minus(middle, half)), dec(plus(middle, half))), "distribution": kind})
		}
		for _, x := range [][2]string{{"below", ">= "}, {"above", "<= "}} {
			b.add("stack", "law", "middle", obj{"contributors": contributors, "unit": "mm", "limits": x[1] + dec(mean) + " mm"}, obj{"mean": dec(mean), x[0]: "0.5"}, map[string]string{"mean": "0.000001", x[0]: "0.000000000001"},
				"a probability in binary64; the mean to a nanometre", "every part is symmetrical about its middle, so half of all stacks lie on either side of the sum of the middles")
		}
	}
}
