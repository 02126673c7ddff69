package conform

import (
	"fmt"
	"math/big"
)

// inSI are units by their exact definitions: the inch and the pound of 1959, the standard gravity of
// the 3rd CGPM, the rest by arithmetic from them.
func inSI() map[string]*big.Rat {
	inch, foot := rat("0.0254"), rat("0.3048")
	pound := times(rat("0.45359237"), rat("9.80665"))
	area := times(inch, inch)
	return map[string]*big.Rat{
		"m": rat("1"), "mm": rat("0.001"), "µm": rat("0.000001"), "cm": rat("0.01"), "in": inch, "ft": foot, "thou": over(inch, rat("1000")),
		"N": rat("1"), "kN": rat("1000"), "lbf": pound, "kgf": rat("9.80665"), "kip": times(pound, rat("1000")),
		"N·m": rat("1"), "lbf·ft": times(pound, foot), "lbf·in": times(pound, inch), "kgf·m": rat("9.80665"),
		"Pa": rat("1"), "kPa": rat("1000"), "MPa": rat("1000000"), "bar": rat("100000"), "psi": over(pound, area), "ksi": over(times(pound, rat("1000")), area),
		"°": over(rat("1"), rat("360")), "rev": rat("1"), // angles in turns
		"mm²": rat("0.000001"), "in²": area,
	}
}

func workedConversions(b *bench) {
	si := inSI()
	to := func(n *big.Rat, from, unit string) *big.Rat { return over(times(n, si[from]), si[unit]) }
	ask := func(edge, value, unit, round string, places any, lo, hi *big.Rat, derivation string) {
		want := obj{"lo": nil, "hi": nil}
		of := map[string]*big.Rat{}
		if lo != nil {
			want["lo"], of["lo"] = digits(lo), lo
		}
		if hi != nil {
			want["hi"], of["hi"] = digits(hi), hi
		}
		if lo != nil && hi != nil && lo.Cmp(hi) > 0 {
			want, of = obj{"none": true}, nil
		}
		near, why := map[string]string(nil), ""
		if round == "exact" {
			if near = relative(of); near != nil {
				why = binary64
			}
		}
		b.add("convert", "convert", edge, obj{"value": value, "to": unit, "round": round, "places": places}, want, near, why, derivation)
	}

	// Ties: 0.005 in is 0.127 mm, so 0.025 in is 0.635 mm, half-way between two hundredths.
	for n := int64(5); n < 5+10*40; n += 10 {
		for _, off := range []string{"-0.000001", "0", "0.000001"} {
			x := plus(times(rat("0.005"), big.NewRat(n, 1)), rat(off))
			if n%20 == 5 {
				x.Neg(x)
			}
			mm := to(x, "in", "mm")
			r := rounded(mm, 2, "nearest")
			ask("tie", dec(x)+" in", "mm", "nearest", 2, r, r, fmt.Sprintf("%s in is %s mm exactly (1 in = 25.4 mm); to 2 places, a half goes to the even digit", dec(x), dec(mm)))
		}
	}
	for places := 0; places <= 6; places++ {
		for _, digit := range []int64{0, 1, 2, 7, 8, 9, 99, 998, 999} {
			x := over(plus(big.NewRat(digit, 1), rat("0.5")), tenTo(places))
			for _, sign := range []int64{1, -1} {
				x := times(x, big.NewRat(sign, 1))
				r := rounded(x, places, "nearest")
				ask("half", dec(x)+" mm", "mm", "nearest", places, r, r, fmt.Sprintf("half a unit of place %d goes to the even digit", places))
			}
		}
	}
	// Limits rounded inward and outward, the ends exact, just off, equal, one-sided, below zero.
	for i, limits := range [][2]string{{"1.8740", "1.8747"}, {"0.0005", "0.0028"}, {"-0.0005", "0.0015"}, {"-0.0044", "-0.0024"}, {"0", "0.001"}, {"-0.001", "0"},
		{"2.5", "2.5"}, {"0", "0"}, {"0.00001", "0.00002"}, {"0.1245", "0.1250"}, {"1", "1.0001"}, {"0.9999", "1"}, {"0.003937", "0.003938"}, {"5", "5.5"}, {"0.01", "0.02"}, {"-2", "-1"}} {
		lo, hi := rat(limits[0]), rat(limits[1])
		for _, units := range [][2]string{{"in", "mm"}, {"mm", "in"}, {"in", "µm"}, {"thou", "mm"}} {
			for places := 1; places <= 4; places += 1 + i%2 {
				for _, round := range []string{"inward", "outward", "nearest"} {
					way := map[string][2]string{"inward": {"up", "down"}, "outward": {"down", "up"}, "nearest": {"nearest", "nearest"}}[round]
					l, h := rounded(to(lo, units[0], units[1]), places, way[0]), rounded(to(hi, units[0], units[1]), places, way[1])
					ask("limits", fmt.Sprintf("%s..%s %s", limits[0], limits[1], units[0]), units[1], round, places, l, h,
						fmt.Sprintf("each end times the exact factor (1 in = 25.4 mm), then the lower end %s and the upper end %s to %d places; nothing is left if they cross", way[0], way[1], places))
				}
			}
		}
		ask("one-sided", ">= "+limits[0]+" in", "mm", "inward", 3, rounded(to(lo, "in", "mm"), 3, "up"), nil, "one end alone, upward to 3 places; 1 in = 25.4 mm")
		ask("one-sided", "<= "+limits[1]+" in", "mm", "inward", 3, nil, rounded(to(hi, "in", "mm"), 3, "down"), "one end alone, downward to 3 places; 1 in = 25.4 mm")
	}
	// Exact factors, both ways, of which many have no end.
	for _, group := range [][]string{{"m", "mm", "µm", "cm", "in", "ft", "thou"}, {"N", "kN", "lbf", "kgf", "kip"}, {"N·m", "lbf·ft", "lbf·in", "kgf·m"}, {"Pa", "kPa", "MPa", "bar", "psi", "ksi"}, {"°", "rev"}, {"mm²", "in²"}} {
		for _, from := range group {
			for _, unit := range group {
				if from == unit {
					continue
				}
				for _, n := range []string{"1", "-73.125", "0"} {
					if n == "0" && from > unit {
						continue
					}
					x := to(rat(n), from, unit)
					ask("exact", n+" "+from, unit, "exact", nil, x, x, "the number times the first unit over the second one, both by definition (1 in = 25.4 mm, 1 lb = 0.45359237 kg, g = 9.80665 m/s²)")
				}
			}
		}
	}
	// Tolerances as they are written.
	for _, x := range [][3]string{{"60 +0.019/0 mm", "60", "60.019"}, {"60 0/-0.019 mm", "59.981", "60"}, {"30 -0.005/-0.018 mm", "29.982", "29.995"}, {"2.5 ±0.002 mm", "2.498", "2.502"}, {"0 ±0.001 mm", "-0.001", "0.001"}, {"20 +0.048/+0.035 mm", "20.035", "20.048"}} {
		lo, hi := over(rat(x[1]), rat("25.4")), over(rat(x[2]), rat("25.4"))
		ask("written", x[0], "in", "exact", nil, lo, hi, fmt.Sprintf("the limits are %s and %s mm; over 25.4", x[1], x[2]))
		ask("written", x[0], "in", "inward", 4, rounded(lo, 4, "up"), rounded(hi, 4, "down"), fmt.Sprintf("the limits are %s and %s mm; over 25.4, to 4 places inward", x[1], x[2]))
	}
	// Temperatures, which have another zero.
	celsius := func(n *big.Rat, from string) *big.Rat {
		switch from {
		case "°F":
			return times(minus(n, rat("32")), rat("5/9"))
		case "K":
			return minus(n, rat("273.15"))
		}
		return n
	}
	kelvin := map[string]func(c *big.Rat) *big.Rat{
		"°C": func(c *big.Rat) *big.Rat { return c },
		"°F": func(c *big.Rat) *big.Rat { return plus(times(c, rat("9/5")), rat("32")) },
		"K":  func(c *big.Rat) *big.Rat { return plus(c, rat("273.15")) },
	}
	for _, c := range []string{"-273.15", "-40", "-17.5", "0", "20", "36.6", "37.5", "100", "121.125"} {
		for _, from := range []string{"°C", "°F", "K"} {
			n := kelvin[from](rat(c))
			for _, unit := range []string{"°C", "°F", "K"} {
				if unit == from {
					continue
				}
				x := kelvin[unit](celsius(n, from))
				ask("temperature", dec(n)+" "+from, unit, "exact", nil, x, x, "°F = 9/5 °C + 32, K = °C + 273.15")
			}
		}
	}
	for _, n := range []string{"1", "9", "-18", "0.5", "0"} {
		for _, units := range [][2]string{{"°F", "K"}, {"K", "°F"}, {"°C", "K"}, {"°F", "°C"}} {
			x := rat(n)
			if units[0] == "°F" {
				x = times(x, rat("5/9"))
			} else if units[1] == "°F" {
				x = times(x, rat("9/5"))
			}
			near, why := relative(map[string]*big.Rat{"value": x}), binary64
			if near == nil {
				why = ""
			}
			b.add("convert", "temperature difference", "difference", obj{"value": n, "from": units[0], "to": units[1]}, obj{"value": digits(x)}, near, why,
				"a difference has no zero to move: 9 °F are 5 K, and 1 °C is 1 K")
		}
	}
}
