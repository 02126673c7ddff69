package conform

import (
	"fmt"
	"math/big"
	"strconv"
)

// workedSizes are sizes that grow, and figures that are rounded as sources round them.
func workedSizes(b *bench) {
	for _, x := range [][3]string{{"0.5", "0", "1"}, {"-0.5", "0", "-1"}, {"1.5", "0", "2"}, {"2.675", "2", "2.68"}, {"2.665", "2", "2.67"}, {"2.6649", "2", "2.66"}, {"-0.125", "2", "-0.13"}, {"0.00005", "4", "0.0001"}} {
		places, _ := strconv.Atoi(x[1])
		b.add("convert", "half away", "half-away", obj{"value": x[0] + " mm", "to": "mm", "places": places}, obj{"value": x[2]}, nil, "", "halves away from zero")
	}
	// ISO 370, tables 1 and 2: on a border, and a hair below it.
	for _, x := range [][4]string{{"0.0099999999", "in", "mm", "0.001"}, {"0.01", "in", "mm", "0.01"}, {"0.9999999", "in", "mm", "0.1"}, {"1", "in", "mm", ""}, {"0.0000099", "in", "mm", ""},
		{"0.0049999999", "mm", "in", "0.00001"}, {"0.005", "mm", "in", "0.0001"}, {"0.00049999", "mm", "in", ""}, {"5000", "mm", "in", "0.01"}, {"1", "in", "cm", ""}} {
		want := obj{"fineness": x[3]}
		if x[3] == "" {
			want = obj{"unsaid": true}
		}
		b.add("convert", "fineness", "fineness", obj{"width": x[0] + " " + x[1], "to": x[2]}, want, nil, "", "ISO 370:1975, tables 1 and 2, where their rows begin and end")
	}
	for _, x := range [][4]string{{"60", "11.5", "20", "90"}, {"60", "11.5", "90", "20"}, {"84.992", "23", "21", "120"}, {"84.992", "23", "-5", "-5"}, {"40", "0", "5", "150"}} {
		size, c := rat(x[0]), times(rat(x[1]), rat("1e-6"))
		part := func(t string) *big.Rat { return plus(rat("1"), times(c, minus(rat(t), rat("20")))) }
		warm := over(times(size, part(x[3])), part(x[2]))
		b.add("convert", "warmed", "warmed", obj{"size": x[0] + " mm", "per_kelvin": x[1] + "e-6", "from": x[2] + " °C", "to": x[3] + " °C", "unit": "mm"},
			obj{"size": digits(warm), "growth": digits(minus(warm, size))}, map[string]string{"size": "0.000001", "growth": "0.000001"}, "a nanometre", "to 20 °C, over 1 + α(from - 20), and from there, times 1 + α(to - 20)")
	}
	for _, wear := range []string{"0.02", "0.1", "0", "-0.005"} {
		b.add("convert", "ring gap", "ring-gap", obj{"bore": wear + " mm", "unit": "mm"}, obj{"growth": times(pi(), rat(wear)).FloatString(20)}, map[string]string{"growth": "0.0000001"}, "π has no end", "π times the bore's growth")
	}
}

// workedReadings are readings that are repeated, shared or seen.
func workedReadings(b *bench) {
	for _, x := range []struct {
		values []string
		unit   string
	}{{[]string{"1", "2"}, ""}, {[]string{"2", "2", "2"}, ""}, {[]string{"10000000.2", "10000000.1", "10000000.3", "10000000.1"}, ""}, {[]string{"-3", "5", "-3", "5", "-3"}, ""}, {[]string{"1", "2", "3", "4", "5", "6"}, ""}, {[]string{"31.5 kN", "29 kN", "30.25 kN"}, "kN"}} {
		sum, squares, next := new(big.Rat), new(big.Rat), new(big.Rat)
		var all []*big.Rat
		for _, text := range x.values {
			var number string
			fmt.Sscan(text, &number)
			all = append(all, rat(number))
			sum.Add(sum, rat(number))
		}
		n := big.NewRat(int64(len(all)), 1)
		mean := over(sum, n)
		for i, v := range all {
			off := minus(v, mean)
			squares.Add(squares, times(off, off))
			if i > 0 {
				next.Add(next, times(off, minus(all[i-1], mean)))
			}
		}
		want := obj{"mean": digits(mean), "deviation": rootOf(over(squares, minus(n, rat("1")))).FloatString(30), "autocorrelation": nil}
		near := map[string]string{"deviation": "0.000000000001"}
		if squares.Sign() > 0 {
			want["autocorrelation"] = digits(over(next, squares))
		} else {
			want["deviation"], near = "0", nil
		}
		why := "a root has no end"
		if near == nil {
			why = ""
		}
		b.add("combine", "series", "series", obj{"values": x.values, "unit": x.unit}, want, near, why, "the sum over n; √ of the squares over n - 1; each deviation times the next one's, over the squares")
	}
	for _, x := range []struct {
		parts [][2]string
	}{{[][2]string{{"3", "7"}}}, {[][2]string{{"1", "4"}, {"1", "4"}}}, {[][2]string{{"3", "1"}, {"4", "2"}}}, {[][2]string{{"0.1", "9"}, {"0.1", "9"}, {"0.2", "1000"}}}, {[][2]string{{"1", "2"}, {"10", "50"}}}} {
		var parts []any
		whole, shares := new(big.Rat), new(big.Rat)
		for _, p := range x.parts {
			square := times(rat(p[0]), rat(p[0]))
			whole.Add(whole, square)
			shares.Add(shares, over(times(square, square), rat(p[1])))
			freedom, _ := strconv.Atoi(p[1])
			parts = append(parts, obj{"standard": p[0], "freedom": freedom})
		}
		n := over(times(whole, whole), shares)
		b.add("combine", "welch", "welch", obj{"parts": parts, "probability": nil}, obj{"freedom": new(big.Int).Quo(n.Num(), n.Denom()).String()}, nil, "", "(Σu²)² / Σ(u⁴/ν), cut to a whole number")
	}
	for _, u := range []string{"1", "2.5"} {
		b.add("combine", "stations", "one-station", obj{"of": "largest", "stations": 1, "standard_uncertainty": u + " µm", "freedom": nil, "unit": "µm"}, obj{"uncertainty": dec(times(rat("2"), rat(u)))}, map[string]string{"uncertainty": "0.0011"},
			"to the nanometre, rounded up", "one error is within two deviations with that probability")
		b.add("combine", "stations", "two-stations", obj{"of": "range", "stations": 2, "standard_uncertainty": u + " µm", "freedom": nil, "unit": "µm"},
			obj{"uncertainty": times(times(rat("2"), rootOf(rat("2"))), rat(u)).FloatString(20)}, map[string]string{"uncertainty": "0.0011"}, "to the nanometre, rounded up", "the difference of two errors has √2 of their deviation")
	}
	prints := []any{"0.025 mm", "0.038 mm", "0.051 mm", "0.076 mm"}
	harmonic := func(a, c string) string {
		return over(times(rat("2"), times(rat(a), rat(c))), plus(rat(a), rat(c))).FloatString(20)
	}
	for _, x := range []struct {
		seen string
		want obj
		near map[string]string
	}{
		{"0.025..0.038 mm", obj{"lo": "0.025", "hi": "0.038"}, nil}, {"0.051..0.076 mm", obj{"lo": "0.051", "hi": "0.076"}, nil},
		{"<= 0.025 mm", obj{"lo": "0", "hi": "0.025"}, nil}, {">= 0.076 mm", obj{"lo": "0.076", "hi": nil}, nil},
		{"0.025 mm", obj{"lo": "0", "hi": "0.0315"}, nil},
		{"0.038 mm", obj{"lo": harmonic("0.025", "0.038"), "hi": "0.0445"}, map[string]string{"lo": "0.000001"}},
		{"0.051 mm", obj{"lo": harmonic("0.038", "0.051"), "hi": "0.0635"}, map[string]string{"lo": "0.000001"}},
		{"0.076 mm", obj{"lo": harmonic("0.051", "0.076"), "hi": nil}, map[string]string{"lo": "0.000001"}},
	} {
		why := ""
		if x.near != nil {
			why = "a nanometre, and rounded down"
		}
		b.add("combine", "strip", "strip", obj{"prints": prints, "seen": x.seen, "unit": "mm"}, x.want, x.near, why, "between the prints, beyond them, or to the marks half-way to the neighbours, the lower one 2ab/(a + b), the upper one (a + b)/2")
	}
}

// workedShapes are sums of parts by their densities and their order.
func workedShapes(b *bench) {
	uniform := func(half string) obj {
		return obj{"times": "1", "limits": "0 ±" + half + " mm", "distribution": obj{"kind": "uniform"}}
	}
	for _, x := range [][2]string{{"0", "5"}, {"0.05", "3.75"}, {"-0.15", "1.25"}, {"0.19", "0.25"}, {"0.2", "0"}, {"0.3", "0"}} {
		b.add("stack", "law", "density", obj{"contributors": []any{uniform("0.1"), uniform("0.1")}, "unit": "mm", "limits": nil, "at": x[0] + " mm"}, obj{"density": x[1]}, map[string]string{"density": "0.000000001"},
			"a density in binary64", "two uniform parts make a triangle of 0.2 to either side, 5 high")
	}
	for _, x := range [][3]string{{"0.5", "-0.05", "0.05"}, {"0.9", "-0.09", "0.09"}, {"0.99", "-0.099", "0.099"}} {
		var p float64
		fmt.Sscan(x[0], &p)
		b.add("stack", "law", "coverage", obj{"contributors": []any{uniform("0.1")}, "unit": "mm", "limits": nil, "coverage": p}, obj{"lo": x[1], "hi": x[2]}, map[string]string{"lo": "0.000001", "hi": "0.000001"}, "a nanometre", "so much of the width, in the middle")
	}
	// The nth of uniform parts brings their sum above 1 with probability (n-1)/n!; above 0.5 with (1/2)ⁿ⁻¹/(n-1)! - (1/2)ⁿ/n!.
	factorial := big.NewRat(1, 1)
	half := big.NewRat(1, 1)
	for n := 1; n <= 10; n++ {
		before, halfBefore := new(big.Rat).Set(factorial), new(big.Rat).Set(half)
		factorial, half = times(factorial, big.NewRat(int64(n), 1)), times(half, rat("1/2"))
		for _, x := range []struct {
			above string
			p     *big.Rat
		}{{"1 mm", over(big.NewRat(int64(n-1), 1), factorial)}, {"0.5 mm", minus(over(halfBefore, before), over(half, factorial))}} {
			b.add("stack", "first exceeds", "first", obj{"parts": n, "above": x.above}, obj{"probability": x.p.FloatString(30)}, map[string]string{"probability": "0.00000000000001"}, "a difference of two probabilities in binary64",
				"the sum of n is below s up to 1 with probability sⁿ/n!; below with n - 1 of them, and not with n")
		}
	}
	shaft := []any{obj{"times": "1", "limits": "10 +0.03/-0.01 mm"}, obj{"times": "-2", "limits": "4 ±0.02 mm"}}
	b.add("stack", "worst case", "halved", obj{"contributors": shaft, "unit": "mm", "limits": nil}, obj{"lo": "1.95", "hi": "2.07", "middle": "2.01", "tolerance": "0.06"}, nil, "", "9.99 - 8.04 and 10.03 - 7.96; their middle and half their difference")
	b.add("stack", "rss", "halved", obj{"contributors": shaft, "unit": "mm", "limits": nil, "inflation": nil}, obj{"middle": "2.01", "tolerance": rootOf(rat("0.002")).FloatString(20)}, map[string]string{"tolerance": "0.0000002"}, "a root has no end, and a program may round it up",
		"10.01 - 8; √(0.02² + (2 × 0.02)²)")
	// A square and a product of normal inputs have moments that can be written down.
	normal := func(name string, mean, deviation float64) obj {
		return obj{"name": name, "kind": "normal", "mean": mean, "deviation": deviation}
	}
	b.add("stack", "model", "model", obj{"formula": "x*y", "inputs": []any{normal("x", 3, 0.1), normal("y", -2, 0.2)}, "correlation": nil, "coverage": nil},
		obj{"first_order": rootOf(rat("0.4")).FloatString(20), "second_order": rootOf(rat("0.4004")).FloatString(20), "std_dev": rootOf(rat("0.4004")).FloatString(20), "mean": "-6"},
		map[string]string{"first_order": "0.000001", "second_order": "0.000001", "std_dev": "0.003", "mean": "0.003"}, "derivatives by differences; a million trials", "√((2 × 0.1)² + (3 × 0.2)²), and with (0.1 × 0.2)²")
	b.add("stack", "model", "model", obj{"formula": "x + -y/(1 + 1)", "inputs": []any{obj{"name": "x", "kind": "uniform", "lo": 0, "hi": 1}, obj{"name": "y", "kind": "uniform", "lo": -1, "hi": 1}}, "correlation": nil, "coverage": 0.5},
		obj{"mean": "0.5", "std_dev": rootOf(rat("1/6")).FloatString(20), "first_order": rootOf(rat("1/6")).FloatString(20), "lo": minus(rootOf(rat("1/2")), rat("1/2")).FloatString(20), "hi": minus(rat("3/2"), rootOf(rat("1/2"))).FloatString(20)},
		map[string]string{"mean": "0.002", "std_dev": "0.001", "first_order": "0.000001", "lo": "0.004", "hi": "0.004"}, "derivatives by differences; a million trials", "the sum of two uniform numbers of the same width is a triangle from -0.5 to 1.5, whose quarter lies below √(1/2) - 1/2")
}
