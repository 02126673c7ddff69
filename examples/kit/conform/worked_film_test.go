package conform

import "math/big"

// workedFilms are oil films of which a formula says all.
func workedFilms(b *bench) {
	square := func(r *big.Rat) *big.Rat { return times(r, r) }
	loose := func(r *big.Rat) string { return over(new(big.Rat).Abs(r), rat("1e9")).FloatString(30) }
	const why = "a part in 10⁹: a program may work in binary64 and round its results"
	for _, text := range []string{"0.05", "0.25", "0.5", "0.95"} {
		e := rat(text)
		left := minus(rat("1"), square(e))
		full := over(times(plus(rat("2"), square(e)), rootOf(left)), times(times(rat("12"), square(pi())), e))
		friction := plus(over(times(times(rat("2"), square(pi())), full), rootOf(left)), over(e, rat("2")))
		b.add("film", "full film", "full", obj{"eccentricity": jsonNumber(text)}, obj{"sommerfeld": full.FloatString(20), "friction": friction.FloatString(20)},
			map[string]string{"sommerfeld": loose(full), "friction": loose(friction)}, why, "(2 + ε²) √(1 - ε²) / (12π² ε); 2π² S / √(1 - ε²) + ε/2")
		for _, ratio := range []string{"0.1", "0.25"} {
			s := over(square(left), times(times(pi(), e), rootOf(plus(times(square(pi()), left), times(rat("16"), square(e))))))
			s = over(s, square(rat(ratio)))
			b.add("film", "short", "short", obj{"ratio": jsonNumber(ratio), "eccentricity": jsonNumber(text)}, obj{"sommerfeld": s.FloatString(20)}, map[string]string{"sommerfeld": loose(s)}, why,
				"(1 - ε²)² / (π ε √(π² (1 - ε²) + 16 ε²)) over (L/D)²")
		}
	}
	for _, x := range [][6]string{{"50", "20", "0.05", "1000", "50", "10"}, {"60", "25", "0.06", "4000", "25", "40"}, {"80", "20", "0.1", "500", "100", "5"}} {
		d, l, c, w, n, mu := rat(x[0]), rat(x[1]), rat(x[2]), rat(x[3]), rat(x[4]), times(rat(x[5]), rat("1e-3"))
		q := obj{"diameter": x[0] + " mm", "width": x[1] + " mm", "clearance": x[2] + " mm", "load": x[3] + " N", "speed": x[4] + " r/s", "viscosity": x[5] + " mPa·s"}
		// Shear: µ π D N over the radial clearance, on π D L; mm² make 1e-6 m², and the clearances cancel their mm.
		surface := times(times(pi(), d), n)
		force := times(times(mu, over(times(surface, rat("2")), c)), times(times(times(pi(), d), l), rat("1e-6")))
		torque := times(force, over(d, rat("2000")))
		power := times(torque, times(times(rat("2"), pi()), n))
		coefficient := over(force, w)
		turning := obj{"units": obj{"force": "N", "torque": "N·m", "power": "W"}}
		for key, v := range q {
			turning[key] = v
		}
		b.add("film", "petroff", "petroff", turning, obj{"force": force.FloatString(20), "torque": torque.FloatString(20), "power": power.FloatString(20), "coefficient": coefficient.FloatString(20)},
			map[string]string{"force": plus(rat(loose(force)), rat("1e-9")).FloatString(30), "torque": plus(rat(loose(torque)), rat("1e-9")).FloatString(30), "power": plus(rat(loose(power)), rat("1e-9")).FloatString(30), "coefficient": loose(coefficient)}, why,
			"µ × surface speed / radial clearance × π D L; times the radius; times 2π N; over the load")
		s := over(times(times(square(over(d, c)), mu), n), over(w, times(times(d, l), rat("1e-6"))))
		carried := obj{"units": obj{"length": "mm", "torque": "N·m", "power": "W", "flow": "mm3/s", "pressure": "MPa"}}
		for key, v := range q {
			carried[key] = v
		}
		b.add("film", "carry", "carry", carried, obj{"sommerfeld": s.FloatString(20)}, map[string]string{"sommerfeld": over(s, rat("1e5")).FloatString(30)}, "a part in 10⁵: the eccentricity is searched for until the load is met", "(R/c)² µN/P with P = W/(LD)")
	}
	// At its own points an oil has the viscosities that it is given.
	for _, at := range [][2]string{{"40 °C", "90.5"}, {"100 °C", "14.2"}, {"313.15 K", "90.5"}, {"212 °F", "14.2"}} {
		b.add("film", "viscosity", "points", obj{"points": []any{obj{"at": "40 °C", "viscosity": "90.5 mm2/s"}, obj{"at": "100 °C", "viscosity": "14.2 mm2/s"}}, "at": at[0]}, obj{"viscosity": at[1]}, map[string]string{"viscosity": "0.0000001"},
			"logarithms in binary64", "the line goes through its points")
	}
}
