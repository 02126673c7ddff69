package exchange

import (
	"pgregory.net/rapid"

	"example.com/closefit/clearance/film"
	"example.com/closefit/units"
)

func filmForms() []form {
	return []form{
		valueBy("Groove", drawGroove, func(a, b film.Groove) bool { return a == b }),
		valueBy("Grade", drawGrade, func(a, b film.Grade) bool { return a == b }),
		valueBy("Supply", drawSupply, same[film.Supply]),
		valueBy("Bearing", drawFilmBearing, same[film.Bearing]),
		valueBy("Numbers", drawNumbers, same[film.Numbers]),
		valueBy("Estimate", drawEstimate, same[film.Estimate]),
		valueBy("Film", drawFilm, same[film.Film]),
		valueBy("Field", func(t *rapid.T) film.Field {
			f := film.Field{Degrees: drawFloats(t), Millimetres: drawFloats(t)}
			for range f.Degrees {
				f.Megapascals = append(f.Megapascals, drawFloats(t))
			}
			return f
		}, same[film.Field]),
		valueBy("Oil", drawOil, same[film.Oil]),
		valueBy("ViscosityPoint", drawViscosityPoint, same[film.ViscosityPoint]),
		valueBy("Duty", drawDuty, same[film.Duty]),
		valueBy("WorkingPoint", drawWorkingPoint, same[film.WorkingPoint]),
		valueBy("LoadPoint", drawLoadPoint, same[film.LoadPoint]),
		valueBy("Cycle", func(t *rapid.T) film.Cycle {
			return film.Cycle{Points: drawSome(t, "some", drawLoadPoint), Swing: drawFloat(t)}
		}, same[film.Cycle]),
		valueBy("GasPoint", drawGasPoint, same[film.GasPoint]),
		valueBy("Mechanism", func(t *rapid.T) film.Mechanism {
			return film.Mechanism{Bore: drawLength(t), Stroke: drawLength(t), Rod: drawLength(t), Reciprocating: in(t, units.Gram), Rotating: in(t, units.Gram), Gas: drawSome(t, "some", drawGasPoint)}
		}, same[film.Mechanism]),
		valueBy("OrbitPoint", drawOrbitPoint, same[film.OrbitPoint]),
		valueBy("Orbit", func(t *rapid.T) film.Orbit {
			return film.Orbit{Bearing: drawFilmBearing(t), Speed: in(t, units.RevolutionPerMinute), Viscosity: in(t, units.MillipascalSecond), Points: drawSome(t, "some", drawOrbitPoint),
				Least: drawLength(t), LeastAt: drawAngle(t), Where: drawAngle(t), Eccentricity: drawFloat(t), Gap: drawFloat(t), Cycles: rapid.IntRange(1, 9).Draw(t, "cycles")}
		}, same[film.Orbit]),
		valueBy("Case", func(t *rapid.T) film.Case {
			c := film.Case{Bearing: drawFilmBearing(t), Duty: drawDuty(t), Oil: drawOil(t), Surfaces: film.Surfaces{Journal: drawLength(t), Bearing: drawLength(t)}}
			if rapid.Bool().Draw(t, "with a pump") {
				p := drawPump(t)
				c.Pump = &p
			}
			return c
		}, same[film.Case]),
		valueBy("State", drawState, same[film.State]),
		valueBy("SweepPoint", func(t *rapid.T) film.SweepPoint {
			p := film.SweepPoint{Clearance: drawLength(t)}
			if rapid.Bool().Draw(t, "without a film") {
				p.Reason = rapid.SampledFrom([]string{"", "\"quoted\" <b>\n"}).Draw(t, "reason")
				return p
			}
			s := drawState(t)
			p.State = &s
			return p
		}, same[film.SweepPoint]),
		valueBy("Pump", drawPump, same[film.Pump]),
		valueBy("Range", func(t *rapid.T) film.Range {
			return film.Range{Clearance: drawLengths(t), Least: drawLengths(t), Temperature: units.Between(drawTemperature(t), drawTemperature(t)),
				PeakPressure: units.Between(in(t, units.Bar), in(t, units.Bar)), Power: units.Between(in(t, units.Watt), in(t, units.Watt)),
				SideFlow: units.Between(in(t, units.LitrePerMinute), in(t, units.LitrePerMinute)), Pressure: units.Between(in(t, units.Bar), in(t, units.Bar))}
		}, same[film.Range]),
		valueBy("Surfaces", func(t *rapid.T) film.Surfaces {
			return film.Surfaces{Journal: drawLength(t), Bearing: drawLength(t)}
		}, same[film.Surfaces]),
		valueBy("Doubt", drawDoubt, same[film.Doubt]),
	}
}

// in draws a quantity of one unit.
func in[D, E units.Dimension](t *rapid.T, unit units.Scale[D, E]) units.Value[D, E] {
	return unit.OfRat(drawRat(t))
}

func drawFloat(t *rapid.T) float64 { return rapid.Float64Range(-1e9, 1e9).Draw(t, "number") }

func drawFloats(t *rapid.T) []float64 {
	return rapid.SliceOfN(rapid.Float64Range(-1e9, 1e9), 1, 3).Draw(t, "numbers")
}

func drawGroove(t *rapid.T) film.Groove {
	return rapid.SampledFrom([]film.Groove{film.NoGroove, film.Circumferential, film.Pockets}).Draw(t, "groove")
}

func drawGrade(t *rapid.T) film.Grade {
	text := rapid.SampledFrom([]string{"", "10W-40", "40", "5W", "0W-8"}).Draw(t, "grade")
	if text == "" {
		return film.Grade{}
	}
	g, err := film.ParseGrade(text)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func drawAngle(t *rapid.T) units.Angle { return in(t, units.Degree) }

func drawSupply(t *rapid.T) film.Supply {
	s := film.Supply{Groove: drawGroove(t), Pressure: in(t, units.Bar), Width: drawLength(t), Reach: drawAngle(t)}
	for range rapid.IntRange(0, 2).Draw(t, "pockets") {
		s.Pockets = append(s.Pockets, drawAngle(t))
	}
	return s
}

func drawFilmBearing(t *rapid.T) film.Bearing {
	return film.Bearing{Diameter: drawLength(t), Width: drawLength(t), Clearance: drawLength(t), Supply: drawSupply(t)}
}

func drawNumbers(t *rapid.T) film.Numbers {
	return film.Numbers{Eccentricity: drawFloat(t), Sommerfeld: drawFloat(t), Attitude: drawAngle(t), Friction: drawFloat(t), Flow: drawFloat(t),
		SideFlow: drawFloat(t), Fed: drawFloat(t), Peak: drawFloat(t), PeakAt: drawAngle(t), FilmEnd: drawAngle(t)}
}

func drawEstimate(t *rapid.T) film.Estimate {
	return film.Estimate{Sommerfeld: drawFloat(t), Attitude: drawAngle(t), Friction: drawFloat(t), Flow: drawFloat(t), SideFlow: drawFloat(t), Peak: drawFloat(t)}
}

func drawFilm(t *rapid.T) film.Film {
	return film.Film{Bearing: drawFilmBearing(t), Speed: in(t, units.RevolutionPerMinute), Viscosity: in(t, units.MillipascalSecond), Load: in(t, units.Kilonewton),
		Numbers: drawNumbers(t), Estimate: drawEstimate(t), Least: drawLength(t), PeakPressure: in(t, units.Megapascal), Friction: drawTorque(t),
		Power: in(t, units.Watt), Flow: in(t, units.LitrePerMinute), SideFlow: in(t, units.CubicMillimetrePerSecond)}
}

func drawViscosityPoint(t *rapid.T) film.ViscosityPoint {
	return film.ViscosityPoint{Temperature: drawTemperature(t), Viscosity: in(t, units.SquareMillimetrePerSecond)}
}

func drawOil(t *rapid.T) film.Oil {
	return film.Oil{Name: rapid.SampledFrom([]string{"", "oil", "\"quoted\" <b>"}).Draw(t, "name"), Cool: drawViscosityPoint(t), Warm: drawViscosityPoint(t),
		Density: in(t, units.KilogramPerCubicMetre), Heat: in(t, units.Megapascal)}
}

func drawDuty(t *rapid.T) film.Duty {
	return film.Duty{Load: in(t, units.Newton), Speed: in(t, units.RevolutionPerMinute), Inlet: drawTemperature(t), Shed: in(t, units.Percent), Outlet: rapid.Bool().Draw(t, "outlet")}
}

func drawWorkingPoint(t *rapid.T) film.WorkingPoint {
	return film.WorkingPoint{Duty: drawDuty(t), Oil: drawOil(t), Film: drawFilm(t), Temperature: drawTemperature(t), Rise: in(t, units.KelvinDifference)}
}

func drawDoubt(t *rapid.T) film.Doubt {
	word := rapid.SampledFrom([]string{"", "turbulence", "\"quoted\" <b>\n"})
	return film.Doubt{About: word.Draw(t, "about"), Quantity: word.Draw(t, "quantity"), Number: drawFloat(t), Threshold: drawFloat(t), Source: word.Draw(t, "source")}
}

func drawPump(t *rapid.T) film.Pump {
	return film.Pump{Delivery: in(t, units.LitrePerMinute), Relief: in(t, units.Bar), Bearings: rapid.IntRange(1, 9).Draw(t, "bearings")}
}

func drawState(t *rapid.T) film.State {
	s := film.State{Work: drawWorkingPoint(t), Lambda: drawFloat(t), Doubts: drawSome(t, "doubts", drawDoubt)}
	if rapid.Bool().Draw(t, "with a pump") {
		need, pressure := in(t, units.LitrePerMinute), in(t, units.Bar)
		s.Need, s.Pressure = &need, &pressure
	}
	return s
}

func drawLoadPoint(t *rapid.T) film.LoadPoint {
	return film.LoadPoint{Crank: drawAngle(t), X: in(t, units.Newton), Y: in(t, units.Newton)}
}

func drawGasPoint(t *rapid.T) film.GasPoint {
	return film.GasPoint{Crank: drawAngle(t), Pressure: in(t, units.Bar)}
}

func drawOrbitPoint(t *rapid.T) film.OrbitPoint {
	return film.OrbitPoint{Crank: drawAngle(t), X: drawFloat(t), Y: drawFloat(t)}
}

func filmExceptions() map[string]string {
	return map[string]string{"Mobility": "a function that the solver made; it is made again from its ratio"}
}
