package conform

import (
	"fmt"
	"math/big"
	"strings"

	"example.com/closefit/internal/evidence"
)

// workedStacks go through every corner: each contributor at its least and at its greatest.
func workedStacks(b *bench) {
	for n := range 180 {
		parts := 1 + n%5
		var contributors []any
		var lows, highs, factors []*big.Rat
		for i := range parts {
			lo := plus(rat([]string{"60.000", "2.0015", "-0.5", "0", "12.25"}[(n+i)%5]), times(rat("0.0005"), big.NewRat(int64(n*(i+3)%17), 1)))
			hi := plus(lo, rat([]string{"0.019", "0.003", "0", "0.0001", "0.25"}[(n/5+i)%5]))
			f := rat([]string{"1", "-1", "-2", "1/2", "-1"}[(n/3+i*i)%5])
			lows, highs, factors = append(lows, lo), append(highs, hi), append(factors, f)
			contributors = append(contributors, obj{"times": f.RatString(), "limits": fmt.Sprintf("%s..%s mm", dec(lo), dec(hi))})
		}
		var least, most *big.Rat
		middle, square := new(big.Rat), new(big.Rat)
		for corner := range 1 << parts {
			sum := new(big.Rat)
			for i := range parts {
				at := lows[i]
				if corner>>i&1 == 1 {
					at = highs[i]
				}
				sum.Add(sum, times(factors[i], at))
			}
			if least == nil || sum.Cmp(least) < 0 {
				least = sum
			}
			if most == nil || sum.Cmp(most) > 0 {
				most = sum
			}
		}
		for i := range parts {
			middle.Add(middle, times(factors[i], over(plus(lows[i], highs[i]), rat("2"))))
			half := times(factors[i], over(minus(highs[i], lows[i]), rat("2")))
			square.Add(square, times(half, half))
		}
		off := rat([]string{"0", "0.0001", "-0.0001"}[n%3])
		low, high := plus(least, off), minus(most, off)
		if low.Cmp(high) > 0 {
			low, high = least, most
		}
		verdict, _, _ := verdictOf(least, most, low, high)
		b.add("stack", "worst case", "corners", obj{"contributors": contributors, "unit": "mm", "limits": fmt.Sprintf("%s..%s mm", dec(low), dec(high))},
			obj{"lo": dec(least), "hi": dec(most), "verdict": verdict}, nil, "", "the least and the greatest of all corners, each contributor at either limit; the limits lie on them, or by 0.0001 off")
		inflation := []any{nil, "1.5", "2"}[n%3]
		by := rat([]string{"1", "1.5", "2"}[n%3])
		half := times(by, rootOf(square))
		b.add("stack", "rss", "rss", obj{"contributors": contributors, "unit": "mm", "limits": nil, "inflation": inflation},
			obj{"lo": minus(middle, half).FloatString(15), "hi": plus(middle, half).FloatString(15)}, map[string]string{"lo": "0.0000002", "hi": "0.0000002"},
			"a root has no end, and a program may round it up to a tenth of a nanometre", "the middles added, and √ of the sum of the squares of times × half-width, times the inflation")
	}
	// One contributor has a law that anybody can write down.
	for n := range 30 {
		half := rat([]string{"0.02", "0.05", "0.125"}[n%3])
		part := big.NewRat(int64(n)-3, 26) // of the width
		at := plus(half.Neg(half), times(part, times(rat("-2"), half)))
		half = new(big.Rat).Neg(half)
		cut := func(p *big.Rat) *big.Rat {
			if p.Sign() < 0 {
				return new(big.Rat)
			}
			if p.Cmp(rat("1")) > 0 {
				return rat("1")
			}
			return p
		}
		p := cut(part)
		tri := times(rat("2"), times(p, p))
		if p.Cmp(rat("1/2")) > 0 {
			q := minus(rat("1"), p)
			tri = minus(rat("1"), times(rat("2"), times(q, q)))
		}
		at9 := rounded(at, 9, "nearest")
		if at9.Cmp(at) != 0 {
			continue // a limit is written as a decimal
		}
		for _, kind := range []string{"triangular", "uniform"} {
			below := map[string]*big.Rat{"uniform": p, "triangular": tri}[kind]
			b.add("stack", "law", "law-"+kind, obj{"contributors": []any{obj{"times": "1", "limits": fmt.Sprintf("0 ±%s mm", dec(half)), "distribution": obj{"kind": kind}}}, "unit": "mm", "limits": fmt.Sprintf(">= %s mm", dec(at))},
				obj{"below": below.FloatString(20), "mean": "0"}, map[string]string{"below": "0.0000000001", "mean": "0.000001"}, "a probability in binary64; the mean to a nanometre", "the area of a rectangle or a triangle below the limit")
		}
	}
}

// workedThreads work out H = √3/2 P with whole numbers.
func workedThreads(b *bench) {
	for _, x := range [][2]string{{"3", "0.5"}, {"4", "0.7"}, {"5", "0.8"}, {"6", "1"}, {"7", "1"}, {"8", "1.25"}, {"8", "1"}, {"10", "1.5"}, {"10", "1.25"}, {"10", "1"}, {"12", "1.75"}, {"12", "1.5"}, {"12", "1.25"}, {"14", "2"}, {"14", "1.5"},
		{"16", "2"}, {"16", "1.5"}, {"18", "2.5"}, {"18", "1.5"}, {"20", "2.5"}, {"20", "1.5"}, {"22", "2.5"}, {"24", "3"}, {"24", "2"}, {"27", "3"}, {"30", "3.5"}, {"30", "2"}, {"33", "3.5"}, {"36", "4"}, {"36", "3"}, {"39", "4"}, {"42", "4.5"}, {"48", "5"}, {"56", "5.5"}, {"64", "6"}} {
		d, p := rat(x[0]), rat(x[1])
		h := times(over(rootOf(rat("3")), rat("2")), p)
		size := func(part string) *big.Rat { return minus(d, times(rat(part), h)) }
		d2, d1, d3 := size("3/4"), size("5/4"), size("17/12")
		mean := over(plus(d2, d3), rat("2"))
		area := over(times(pi(), times(mean, mean)), rat("4"))
		b.add("threads", "sizes", "iso", obj{"thread": "M" + x[0] + "x" + x[1]}, obj{"pitch_diameter": rounded(d2, 3, "nearest").FloatString(3), "minor_diameter": rounded(d1, 3, "nearest").FloatString(3), "root_diameter": rounded(d3, 3, "nearest").FloatString(3),
			"stress_area": area.FloatString(12), "printed_area": dec(threeDigits(area))},
			map[string]string{"stress_area": "0.0005"}, "a part in some 10⁵: standards give the heights of the profile to few digits", "H = √3/2 P; d2 = d - 3/4 H, D1 = d - 5/4 H, d3 = d - 17/12 H to three places; As = π/4 ((d2 + d3)/2)² of both unrounded")
	}
}

// threeDigits rounds a number from 1 on to three significant digits.
func threeDigits(r *big.Rat) *big.Rat {
	places := 3 - len(new(big.Int).Quo(r.Num(), r.Denom()).String())
	if places < 0 {
		return times(rounded(over(r, tenTo(-places)), 0, "nearest"), tenTo(-places))
	}
	return rounded(r, places, "nearest")
}

func workedFits(b *bench) {
	ask := func(edge, kind string, question obj, hole, shaft [2]*big.Rat, derivation string) {
		b.add("isofit", kind, edge, question, obj{"hole_min": dec(hole[0]), "hole_max": dec(hole[1]), "shaft_min": dec(shaft[0]), "shaft_max": dec(shaft[1]),
			"smallest_clearance": dec(minus(hole[0], shaft[1])), "largest_clearance": dec(minus(hole[1], shaft[0]))}, nil, "", derivation)
	}
	offs := []string{"-0.021", "-0.0005", "0", "0.0005", "0.013", "0.021"}
	for n := range 150 {
		hole := [2]*big.Rat{rat("24.990"), plus(rat("24.990"), rat([]string{"0", "0.001", "0.021", "0.0105", "0.052"}[n%5]))}
		lo := plus(hole[n/5%2], rat(offs[n/10%6]))
		shaft := [2]*big.Rat{lo, plus(lo, rat([]string{"0", "0.013", "0.0005"}[n%3]))}
		ask("pair", "pair", obj{"hole": fmt.Sprintf("%s..%s mm", dec(hole[0]), dec(hole[1])), "shaft": fmt.Sprintf("%s..%s mm", dec(shaft[0]), dec(shaft[1]))}, hole, shaft,
			"the smallest clearance is the smallest hole less the largest shaft, the largest the other way round")
	}
	for n := range 60 {
		d, th, ts, c := rat([]string{"25", "74.995", "6.35"}[n%3]), rat([]string{"0.006", "0.075", "0"}[n/3%3]), rat([]string{"0.004", "0.0125"}[n%2]), rat([]string{"0", "0.01", "-0.012", "0.0005"}[n/2%4])
		q := obj{"basis": "hole", "nominal": dec(d) + " mm", "hole_tolerance": dec(th) + " mm", "shaft_tolerance": dec(ts) + " mm", "smallest": dec(c) + " mm"}
		if th.Sign() == 0 || c.Sign() < 0 {
			continue // a tolerance of nothing, or no clearance, is no design
		}
		ask("hole-basis", "basis", q, [2]*big.Rat{d, plus(d, th)}, [2]*big.Rat{minus(minus(d, c), ts), minus(d, c)}, "the hole begins at the nominal size; the largest shaft leaves the smallest clearance")
		q2 := obj{"basis": "shaft", "nominal": q["nominal"], "hole_tolerance": q["hole_tolerance"], "shaft_tolerance": q["shaft_tolerance"], "smallest": q["smallest"]}
		ask("shaft-basis", "basis", q2, [2]*big.Rat{plus(d, c), plus(plus(d, c), th)}, [2]*big.Rat{minus(d, ts), d}, "the shaft ends at the nominal size; the smallest hole leaves the smallest clearance")
	}
	// A row of the standard's tables holds for every size above its range's beginning: just above it too.
	for _, p := range evidence.Packages("../../..") {
		if p.Name != "clearance/isofit" {
			continue
		}
		for _, name := range []string{"tolerances.csv", "deviations.csv"} {
			rows, err := evidence.Load(p.Dir + "/" + name)
			if err != nil {
				panic(err)
			}
			for i := range rows {
				r := &rows[i]
				if r.Provenance == evidence.Derived {
					continue
				}
				from, err := r.Input("over")
				if err != nil {
					continue
				}
				if to, err := r.Input("up_to"); err != nil || to == from {
					continue // a single size
				}
				above := dec(plus(rat(strings.TrimSuffix(from, " mm")), rat("0.001"))) + " mm"
				var v Vector
				if r.Check == "tolerance" {
					g, _ := r.Input("grade")
					v, _ = one(r, "isofit", "tolerance", obj{"grade": g, "nominal": above}, "tolerance")
				} else {
					c, _ := r.Input("class")
					v, _ = one(r, "isofit", "deviations", obj{"class": c, "nominal": above}, strings.TrimSuffix(r.Check, " deviation"))
				}
				b.add("isofit", v.Kind, "just-above", v.Question, v.Want, nil, "", fmt.Sprintf("%s, row %s: it holds for sizes above %s up to its end, so for one that is a micrometre above", r.Source, r.ID, from))
			}
		}
	}
}

func workedTorques(b *bench) {
	small := map[string]string{"torque": "0.000001"}
	const nano = "a millionth of the unit: a program may carry friction or angles through a rounded intermediate"
	for n := range 60 {
		f, area, stress, share := rat([]string{"0.2", "0.15", "0.1875"}[n%3]), rat([]string{"58", "84.3", "36.6"}[n/3%3]), rat([]string{"100", "640", "0"}[n/9%3]), rat([]string{"0.75", "1", "0.9"}[n/2%3])
		d := []string{"10", "12", "8"}[n/3%3]
		t := over(times(times(times(f, rat(d)), times(area, stress)), share), rat("1000"))
		if stress.Sign() == 0 && n%2 == 1 {
			continue
		}
		b.add("torque", "nut factor", "nut", obj{"factor": dec(f), "thread": "M" + d, "area": dec(area) + " mm²", "stress": dec(stress) + " MPa", "share": dec(share), "unit": "N·m"}, obj{"torque": dec(t)}, small, nano, "K d × share × stress × area: mm, MPa and mm² give N·mm")
	}
	for n := range 80 {
		set, lever, offset := rat([]string{"40", "65.5", "110"}[n%3]), rat([]string{"300", "425"}[n%2]), rat([]string{"0", "55", "150", "42.5"}[n/3%4])
		angle := []string{"0", "90", "180", "60", "120"}[n/4%5]
		cosine := map[string]string{"0": "1", "90": "0", "180": "-1", "60": "1/2", "120": "-1/2"}[angle]
		t := over(times(set, plus(lever, times(offset, rat(cosine)))), lever)
		unit := []string{"N·m", "lbf·ft"}[n/2%2]
		b.add("torque", "extension", "extension", obj{"set": dec(set) + " " + unit, "lever": dec(lever) + " mm", "offset": dec(offset) + " mm", "angle": angle + "°", "unit": unit}, obj{"torque": digits(t)}, small, nano,
			"the force of the hand is set / lever; at the bolt its arm is lever + offset × cos, and cos is "+cosine)
	}
	for n := range 40 {
		lo, hi, drag := rat([]string{"50", "-0", "12.5"}[n%3]), rat("70"), rat([]string{"0", "30", "0.25", "7"}[n%4])
		b.add("torque", "run on", "run-on", obj{"torque": fmt.Sprintf("%s..%s lbf·in", dec(lo), dec(hi)), "run_on": dec(drag) + " lbf·in", "unit": "lbf·in"}, obj{"lo": dec(plus(lo, drag)), "hi": dec(plus(hi, drag))}, nil, "", "both ends and what the nut drags")
	}
	for n := range 60 {
		pitch, angle := rat([]string{"1.25", "1.5", "2"}[n%3]), rat([]string{"0", "30", "45", "90", "180", "360"}[n%6])
		kb, km := rat([]string{"200", "320", "150.5"}[n/6%3]), rat([]string{"600", "200", "1000"}[n/2%3])
		k := over(times(kb, km), plus(kb, km))
		rise := over(times(times(pitch, angle), k), rat("360"))
		b.add("torque", "turn", "turn", obj{"pitch": dec(pitch) + " mm", "angle": dec(angle) + "°", "bolt": dec(kb) + " kN/mm", "members": dec(km) + " kN/mm", "unit": "kN"}, obj{"rise": digits(rise)}, relative(map[string]*big.Rat{"rise": rise}), binary64,
			"angle/360 × pitch, over 1/kb + 1/km")
		factor := over(kb, plus(kb, km))
		b.add("torque", "load factor", "load-factor", obj{"bolt": dec(kb) + " kN/mm", "members": dec(km) + " kN/mm"}, obj{"factor": digits(factor)}, relative(map[string]*big.Rat{"factor": factor}), binary64, "kb/(kb + km)")
	}
	for n := range 60 {
		x := [][3]string{{"M10x1.5", "10", "1.5"}, {"M8x1.25", "8", "1.25"}, {"M12x1.5", "12", "1.5"}}[n%3]
		d, p := rat(x[1]), rat(x[2])
		force, mt, mb := rat([]string{"30", "0", "41.25"}[n/3%3]), rat([]string{"0.1", "0.14", "0.08"}[n/2%3]), rat([]string{"0.12", "0.1", "0.2"}[n/5%3])
		d2 := rounded(minus(d, times(times(rat("3/8"), rootOf(rat("3"))), p)), 30, "nearest")
		face, hole := times(d, rat("1.6")), plus(d, rat("1"))
		lever := plus(plus(over(p, times(rat("2"), pi())), times(times(rat("0.577"), d2), mt)), times(over(plus(face, hole), rat("4")), mb))
		t := times(force, lever)
		b.add("torque", "tighten", "tighten", obj{"thread": x[0], "face": dec(face) + " mm", "hole": dec(hole) + " mm", "thread_friction": dec(mt), "bearing_friction": dec(mb), "preload": dec(force) + " kN", "unit": "N·m"},
			obj{"torque": t.FloatString(12)}, map[string]string{"torque": "0.00001"}, "a hundredth of a millinewton metre: the height of the profile is given to few digits", "F (P/2π + 0.577 d2 µth + (face + hole)/4 µb), kN and mm give N·m; d2 = d - 3/4 H, unrounded")
	}
}
