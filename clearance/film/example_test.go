package film_test

import (
	"context"
	"fmt"

	"example.com/closefit/clearance/film"
	"example.com/closefit/units"
)

// A main bearing at three clearances, in oil of a data sheet: the film, how warm it gets, and what
// the model leaves out.
func Example() {
	journal := units.MustParseLength("48 mm")
	o := film.Oil{
		Name:    "10W-40 from its data sheet",
		Cool:    film.ViscosityPoint{Temperature: units.Celsius.OfInt(40), Viscosity: units.MustParse[units.KinematicViscosity]("92 mm²/s")},
		Warm:    film.ViscosityPoint{Temperature: units.Celsius.OfInt(100), Viscosity: units.MustParse[units.KinematicViscosity]("13.9 mm²/s")},
		Density: units.MustParse[units.Density]("866 kg/m³"),
		Heat:    units.MustParsePressure("1.7 MPa"),
	}
	duty := film.Duty{Load: units.MustParseForce("4.2 kN"), Speed: units.MustParse[units.RotationalSpeed]("3400 rpm"), Inlet: units.Celsius.OfInt(90)}
	surfaces := film.Surfaces{Journal: units.MustParseLength("0.2 µm"), Bearing: units.MustParseLength("0.4 µm")}
	for _, bore := range []string{"52.030 mm", "52.050 mm", "52.080 mm"} {
		c, err := film.Running(units.MustParseLength(bore), units.MustParseLength("2.002 mm"), units.MustParseLength("2.002 mm"), journal)
		if err != nil {
			fmt.Println(err)
			return
		}
		b := film.Bearing{Diameter: journal, Width: units.MustParseLength("19 mm"), Clearance: c}
		p, err := b.Work(duty, o)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%v: film %s µm, λ %.0f, %s °C, %s L/min, peak %s MPa, %s W\n", c,
			p.Film.Least.In(units.Micrometre, 1), surfaces.Lambda(p.Film.Least), p.Temperature.In(units.Celsius, 0),
			p.Film.SideFlow.In(units.LitrePerMinute, 2), p.Film.PeakPressure.In(units.Megapascal, 0), p.Film.Power.In(units.Watt, 0))
		for _, d := range p.Doubts(surfaces) {
			fmt.Printf("  %s: %s is %.3g; the threshold is %.3g\n", d.About, d.Quantity, d.Number, d.Threshold)
		}
	}
	fmt.Println(film.Caution)
	// Output:
	// 0.026 mm: film 4.1 µm, λ 9, 123 °C, 0.08 L/min, peak 15 MPa, 157 W
	//   surfaces that deform: the film is thicker and longer, the peak lower: p R/E of steel over the least film is 0.408; the threshold is 0.2
	//   dirt and misalignment: least film in µm, against 5 µm + 0.00004 D is 4.08; the threshold is 6.92
	//   oil that ages: film temperature in °C is 123; the threshold is 121
	// 0.046 mm: film 4.7 µm, λ 11, 106 °C, 0.17 L/min, peak 17 MPa, 155 W
	//   surfaces that deform: the film is thicker and longer, the peak lower: p R/E of steel over the least film is 0.424; the threshold is 0.2
	//   dirt and misalignment: least film in µm, against 5 µm + 0.00004 D is 4.71; the threshold is 6.92
	// 0.076 mm: film 4.8 µm, λ 11, 98 °C, 0.31 L/min, peak 21 MPa, 144 W
	//   surfaces that deform: the film is thicker and longer, the peak lower: p R/E of steel over the least film is 0.508; the threshold is 0.2
	//   dirt and misalignment: least film in µm, against 5 µm + 0.00004 D is 4.78; the threshold is 6.92
	// A model to compare clearances with each other, and no design approval. The engine maker's limits stand.
}

// The numbers without units are those of the published tables.
func ExampleSolve() {
	n, off, err := film.Solve(0.5, 0.6)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("S %.4f, attitude %s, (R/c)f %.3f, Q/(RcNL) %.3f, of it %.3f at the sides, P/pmax %.3f\n",
		n.Sommerfeld, n.Attitude.Format(units.Degree, 1, units.HalfEven), n.Friction, n.Flow, n.SideFlow/n.Flow, 1/n.Peak)
	fmt.Printf("finer grids would change S by about %.2f %%\n", 100*off.Sommerfeld)
	// Output:
	// S 0.3193, attitude 48.0 °, (R/c)f 8.101, Q/(RcNL) 4.853, of it 0.730 at the sides, P/pmax 0.366
	// finer grids would change S by about 0.01 %
}

// A circumferential groove under pressure halves the bearing into two short ones.
func ExampleBearing_Carry() {
	b := film.Bearing{Diameter: units.MustParseLength("48 mm"), Width: units.MustParseLength("19 mm"), Clearance: units.MustParseLength("0.046 mm")}
	load, speed, viscosity := units.MustParseForce("2.6 kN"), units.RevolutionPerMinute.OfInt(3400), units.MillipascalSecond.OfInt(9)
	plain, err := b.Carry(load, speed, viscosity)
	if err != nil {
		fmt.Println(err)
		return
	}
	b.Supply = film.Supply{Groove: film.Circumferential, Width: units.MustParseLength("3.5 mm"), Pressure: units.MustParsePressure("3 bar")}
	grooved, err := b.Carry(load, speed, viscosity)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s µm without, %s µm with a groove\n", plain.Least.In(units.Micrometre, 1), grooved.Least.In(units.Micrometre, 1))
	// Output:
	// 5.8 µm without, 2.4 µm with a groove
}

// What a grade promises is an interval, open where it promises nothing.
func ExampleGrade_Dynamic() {
	g, err := film.ParseGrade("10W-40")
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range []int64{20, 100, 160} {
		v, err := g.Dynamic(units.Celsius.OfInt(c), units.MustParse[units.Density]("866 kg/m³"))
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Println(c, "°C:", v)
	}
	// Output:
	// 20 °C: 3.5..232.956523 mPa·s
	// 100 °C: 3.5..13.215225 mPa·s
	// 160 °C: <= 12.579525 mPa·s
}

// The big end of an invented engine's rod over a cycle: where and when its film is thinnest.
func ExampleBearing_Orbit() {
	gas := func(crank int64, pressure string) film.GasPoint {
		return film.GasPoint{Crank: units.Degree.OfInt(crank), Pressure: units.MustParsePressure(pressure)}
	}
	m := film.Mechanism{
		Bore: units.MustParseLength("83.7 mm"), Stroke: units.MustParseLength("88.4 mm"), Rod: units.MustParseLength("146.5 mm"),
		Reciprocating: units.MustParse[units.Mass]("640 g"), Rotating: units.MustParse[units.Mass]("430 g"),
		Gas: []film.GasPoint{gas(-360, "0 bar"), gas(-180, "0 bar"), gas(-60, "3 bar"), gas(12, "56 bar"), gas(60, "13 bar"), gas(180, "1 bar"), gas(360, "0 bar")},
	}
	speed := units.MustParse[units.RotationalSpeed]("4300 rpm")
	cycle, err := m.Cycle(speed, 720)
	if err != nil {
		fmt.Println(err)
		return
	}
	mobility, err := film.NewMobility(0.4)
	if err != nil {
		fmt.Println(err)
		return
	}
	b := film.Bearing{Diameter: units.MustParseLength("48 mm"), Width: units.MustParseLength("19.2 mm"), Clearance: units.MustParseLength("0.044 mm")}
	o, err := b.Orbit(cycle, mobility, speed, units.MustParse[units.DynamicViscosity]("8.3 mPa·s"), 720)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s µm at a crank angle of %s°, %s° from the rod's line\n",
		o.Least.In(units.Micrometre, 1), o.LeastAt.In(units.Degree, 0), o.Where.In(units.Degree, 0))
	fmt.Println(film.Caution)
	// Output:
	// 1.8 µm at a crank angle of 281°, 50° from the rod's line
	// A model to compare clearances with each other, and no design approval. The engine maker's limits stand.
}

// Where between its limits would the bearing rather be? Narrow, the oil gets hot; wide, the pump no longer holds its pressure.
func ExampleCase_Sweep() {
	c := film.Case{
		Bearing: film.Bearing{Diameter: units.MustParseLength("48 mm"), Width: units.MustParseLength("19 mm")},
		Duty:    film.Duty{Load: units.MustParseForce("4.2 kN"), Speed: units.MustParse[units.RotationalSpeed]("3400 rpm"), Inlet: units.Celsius.OfInt(90)},
		Oil: film.Oil{
			Cool:    film.ViscosityPoint{Temperature: units.Celsius.OfInt(40), Viscosity: units.MustParse[units.KinematicViscosity]("92 mm²/s")},
			Warm:    film.ViscosityPoint{Temperature: units.Celsius.OfInt(100), Viscosity: units.MustParse[units.KinematicViscosity]("13.9 mm²/s")},
			Density: units.MustParse[units.Density]("866 kg/m³"), Heat: units.MustParsePressure("1.7 MPa"),
		},
		Surfaces: film.Surfaces{Journal: units.MustParseLength("0.2 µm"), Bearing: units.MustParseLength("0.4 µm")},
		Pump:     &film.Pump{Delivery: units.MustParse[units.VolumeFlow]("1.2 L/min"), Relief: units.MustParsePressure("4 bar"), Bearings: 5},
	}
	points, err := c.Sweep(context.Background(), units.MustParseLength("0.010 mm"), units.MustParseLength("0.090 mm"), 5)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range points {
		if p.State == nil {
			fmt.Printf("%v: %s\n", p.Clearance, p.Reason)
			continue
		}
		w := p.State.Work
		fmt.Printf("%v: %s µm, λ %.0f, %s °C, %s bar\n", p.Clearance, w.Film.Least.In(units.Micrometre, 1), p.State.Lambda,
			w.Temperature.In(units.Celsius, 0), p.State.Pressure.In(units.Bar, 1))
	}
	fmt.Println(film.Caution)
	// Output:
	// 0.01 mm: 2.5 µm, λ 6, 187 °C, 4 bar
	// 0.03 mm: 4.3 µm, λ 10, 118 °C, 4 bar
	// 0.05 mm: 4.8 µm, λ 11, 104 °C, 4 bar
	// 0.07 mm: 4.8 µm, λ 11, 99 °C, 3.4 bar
	// 0.09 mm: 4.7 µm, λ 11, 97 °C, 2.5 bar
	// A model to compare clearances with each other, and no design approval. The engine maker's limits stand.
}

// A clearance that is known to an interval leads to intervals.
func ExampleCase_Range() {
	c := film.Case{
		Bearing: film.Bearing{Diameter: units.MustParseLength("48 mm"), Width: units.MustParseLength("19 mm")},
		Duty:    film.Duty{Load: units.MustParseForce("4.2 kN"), Speed: units.MustParse[units.RotationalSpeed]("3400 rpm"), Inlet: units.Celsius.OfInt(90)},
		Oil: film.Oil{
			Cool:    film.ViscosityPoint{Temperature: units.Celsius.OfInt(40), Viscosity: units.MustParse[units.KinematicViscosity]("92 mm²/s")},
			Warm:    film.ViscosityPoint{Temperature: units.Celsius.OfInt(100), Viscosity: units.MustParse[units.KinematicViscosity]("13.9 mm²/s")},
			Density: units.MustParse[units.Density]("866 kg/m³"), Heat: units.MustParsePressure("1.7 MPa"),
		},
	}
	for _, text := range []string{"0.040..0.060 mm", "0.048..0.052 mm"} {
		clearance, err := units.Parse[units.LengthInterval](text)
		if err != nil {
			fmt.Println(err)
			return
		}
		r, err := c.Range(context.Background(), clearance)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%s: film %s..%s µm, %s..%s °C\n", text, r.Least.Lo().Rounded(units.Micrometre, 2, units.Floor), r.Least.Hi().Rounded(units.Micrometre, 2, units.Ceiling),
			r.Temperature.Lo().Rounded(units.Celsius, 1, units.Floor), r.Temperature.Hi().Rounded(units.Celsius, 1, units.Ceiling))
	}
	// Output:
	// 0.040..0.060 mm: film 4.59..4.81 µm, 101.1..109.3 °C
	// 0.048..0.052 mm: film 4.73..4.78 µm, 103.5..105.1 °C
}
