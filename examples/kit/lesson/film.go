package lesson

import (
	"context"
	"math"

	"example.com/closefit/clearance/film"
	"example.com/closefit/examples/kit/page"
	"example.com/closefit/units"
)

func oilFilm() *Lesson {
	var swept memo[[3]int64, []film.SweepPoint] // by what the clearance does not change
	return &Lesson{
		Key: "film", Title: "The oil film",
		Question: "Is more clearance safer?",
		Reads: []string{
			"A journal that turns drags oil into the narrowing gap under it, and swims. The film is thinnest a little behind the load, and there it is a small part of the clearance. What the bearing lives on is that thinnest place.",
			"A narrow clearance makes a film that carries much, but shears all its oil and lets little of it out: the oil gets hot, and hot oil is thin. A wide clearance runs cool, but the journal has to move far off the middle to build up its pressure. In between the film is at its thickest, and the limits of a clearance lie around that place.",
			"Watch the two ends of a limit. At the narrow one it is heat that does the harm, at the wide one it is the film itself, and the oil that runs away and is missed elsewhere.",
		},
		Try: []string{
			"Find the clearance with the thickest film. Where does it lie in the limits?",
			"Slow the engine down under its full load. What becomes of the film?",
			"Let the oil come in hotter. Which end of the limits suffers first?",
		},
		Caution: film.Caution + " The engine on this page is invented.",
		Controls: []Control{
			slider("Load on the bearing", 10, 80, 5, 20, 1, "kN"),
			slider("Speed", 600, 3000, 100, 2100, 0, "rpm"),
			slider("Oil comes in at", 60, 110, 5, 80, 0, "°C"),
			slider("Running clearance", 40, 110, 2, 68, 3, "mm"),
		},
		show:      func(at []int64) (view, error) { return showFilm(at, &swept) },
		exercises: [2]func(*draws) setter{leastFilmTask, riseTask},
	}
}

func celsius(n int64) units.Temperature { return units.Celsius.OfInt(n) }

// mainBearing is the tide mill's, as a case for the film.
func mainBearing(at []int64) film.Case {
	point := func(t int64, v int64) film.ViscosityPoint {
		return film.ViscosityPoint{Temperature: celsius(t), Viscosity: quantity(units.SquareMillimetrePerSecond, v, 1)}
	}
	return film.Case{
		Bearing:  film.Bearing{Diameter: millimetres(528, 1), Width: millimetres(172, 1)},
		Duty:     film.Duty{Load: quantity(units.Kilonewton, at[0], 1), Speed: units.RevolutionPerMinute.OfInt(at[1]), Inlet: celsius(at[2])},
		Oil:      film.Oil{Name: "an invented oil", Cool: point(40, 950), Warm: point(100, 110), Density: units.KilogramPerCubicMetre.OfInt(880), Heat: quantity(units.Megapascal, 17, 1)},
		Surfaces: film.Surfaces{Journal: quantity(units.Micrometre, 2, 1), Bearing: quantity(units.Micrometre, 4, 1)},
	}
}

func showFilm(at []int64, swept *memo[[3]int64, []film.SweepPoint]) (view, error) {
	c, clearance, limits := mainBearing(at), millimetres(at[3], 3), clearanceLimits()
	const points = 8
	v := view{}
	sweep, err := swept.of([3]int64(at), func() ([]film.SweepPoint, error) {
		return c.Sweep(context.Background(), millimetres(40, 3), millimetres(110, 3), points)
	})
	if err != nil {
		return view{}, err
	}
	thin, warm := page.Series{Name: "least film"}, page.Series{Name: "temperature of the film"}
	var best *film.SweepPoint
	for i, p := range sweep {
		x := p.Clearance.Float64(units.Millimetre)
		thin.X, warm.X = append(thin.X, x), append(warm.X, x)
		if p.State == nil {
			thin.Y, warm.Y = append(thin.Y, math.NaN()), append(warm.Y, math.NaN())
			continue
		}
		thin.Y = append(thin.Y, p.State.Work.Film.Least.Float64(units.Micrometre))
		warm.Y = append(warm.Y, p.State.Work.Temperature.Float64(units.Celsius))
		if best == nil || best.State.Work.Film.Least.Less(p.State.Work.Film.Least) {
			best = &sweep[i]
		}
	}
	bearing := c.Bearing
	bearing.Clearance = clearance
	if work, err := bearing.Work(c.Duty, c.Oil); err != nil {
		v.said = append(v.said, "At a clearance of "+clearance.String()+" no film carries this load: "+err.Error()+".")
	} else {
		n := work.Film.Numbers
		v.said = append(v.said, "At a clearance of "+clearance.String()+" the film is "+micrometres(work.Film.Least, 2)+" at its thinnest, and "+work.Temperature.Format(units.Celsius, 0, units.HalfEven)+" warm. Friction makes "+work.Film.Power.Format(units.Watt, 0, units.HalfEven)+" of heat.",
			"The least film is "+fixed(c.Surfaces.Lambda(work.Film.Least), 1)+" times the combined roughness of the surfaces.")
		for _, doubt := range work.Doubts(c.Surfaces) {
			side := "at most"
			if doubt.Number < doubt.Threshold {
				side = "at least"
			}
			v.said = append(v.said, "This result may not hold: "+doubt.About+" ("+doubt.Quantity+": "+number(doubt.Number, 3)+", which should be "+side+" "+number(doubt.Threshold, 3)+").")
		}
		v.working = func() ([]units.Working, error) {
			return []units.Working{{Name: "from the clearance to the least film", Formula: "h = c/2 · (1 - ε)", Numbers: clearance.WrittenBare(units.Micrometre) + " / 2 · (1 - " + fixed(n.Eccentricity, 4) + ")", Result: micrometres(work.Film.Least, 2), Notes: []string{"c is the clearance on the diameter; ε is how far the journal stands off the middle, as a share of c/2"}},
				{Name: "from friction to the temperature", Formula: "M ω = H Qs ΔT, T = inlet + ΔT/2", Numbers: work.Film.Power.Format(units.Watt, 1, units.HalfEven) + " = " + c.Oil.Heat.String() + " · " + work.Film.SideFlow.Format(units.LitrePerMinute, 3, units.HalfEven) + " · " + work.Rise.Format(units.KelvinDifference, 1, units.HalfEven), Result: work.Temperature.Format(units.Celsius, 1, units.HalfEven),
					Source: "Reynolds' equation, solved for a bearing of this width; the balance of heat"}}, nil
		}
	}
	if best == nil {
		v.said = append(v.said, "At none of the clearances drawn here does a film carry this load.")
	} else {
		v.said = append(v.said, "Of the clearances computed for the picture, the film is thickest at "+best.Clearance.Written(units.Millimetre)+": "+micrometres(best.State.Work.Film.Least, 2)+". At the ends it is "+ends(sweep)+". The limits are "+limits.String()+".")
	}
	chart := func(id, title string, s page.Series, y page.Axis) page.Chart {
		return page.Lines{ID: id, Title: title, X: page.Axis{Name: "running clearance", Unit: "mm"}, Y: y, Lines: []page.Series{s, here(clearance.Float64(units.Millimetre), s)}, Limits: span(limits, units.Millimetre), LimitsName: "the limits",
			Empty: "no film carries this load"}
	}
	v.charts = []page.Chart{chart("film-1", "Least film over clearance", thin, page.Axis{Name: "least film", Unit: "µm"}), chart("film-2", "Temperature over clearance", warm, page.Axis{Name: "temperature", Unit: "°C"})}
	return v, nil
}

// ends is the least film at the two ends of a sweep.
func ends(sweep []film.SweepPoint) string {
	say := func(p film.SweepPoint) string {
		if p.State == nil {
			return "none at " + p.Clearance.String()
		}
		return micrometres(p.State.Work.Film.Least, 2) + " at " + p.Clearance.String()
	}
	return say(sweep[0]) + " and " + say(sweep[len(sweep)-1])
}

func leastFilmTask(d *draws) setter {
	clearance := millimetres(d.from(40, 90, 1), 3)
	e := units.One.Of(units.One.OfRat(ratio(d.from(60, 94, 1), 100)).In(units.One, 2))
	of := func(c units.Length, rest units.Ratio) units.Length { return c.Times(rest) }
	rest := units.One.OfInt(1).Sub(e)
	radial := clearance.MulRat(ratio(1, 2))
	right := of(radial, rest)
	um := units.Micrometre
	t := &task[units.LengthDim]{unit: um, places: 1, round: down, exact: units.Exactly(right),
		text:    "A journal runs in its bearing. How thick is the film at its thinnest?",
		given:   [][2]string{{"running clearance, on the diameter", clearance.String()}, {"eccentricity ratio ε", e.String()}},
		working: units.Working{Name: "least film", Formula: "h = c/2 · (1 - ε)", Numbers: clearance.WrittenBare(um) + " / 2 · (1 - " + e.WrittenBare(units.One) + ")", Result: right.Written(um)},
	}
	t.mistakenFor(of(clearance, rest), "You took the clearance on the diameter. The film lies on one side of the journal: half of it counts.")
	t.mistakenFor(of(radial, e), "You took ε for what is left. ε is how far the journal has moved off the middle; what is left is the rest.")
	t.mistakenFor(of(radial, units.One.OfInt(1).Add(e)), "That is the thickest place, opposite the load.")
	t.mistakenFor(of(clearance, e), "You took the whole clearance times ε. Half the clearance counts, and ε is how far the journal moved, not what is left.")
	return t
}

func riseTask(d *draws) setter {
	power := units.Watt.OfInt(d.from(80, 400, 5))
	flow := quantity(units.LitrePerMinute, d.from(20, 90, 1), 2)
	heat := quantity(units.Megapascal, d.from(16, 18, 1), 1)
	second := units.One.OfInt(60) // of a minute
	// ΔT = P / (H Q), with Q in m³/s
	perSecond := flow.Rat(units.LitrePerMinute)
	perSecond.Quo(perSecond, ratio(60_000, 1))
	r := power.Rat(units.Watt)
	r.Quo(r, heat.Rat(units.Pascal))
	r.Quo(r, perSecond)
	rise := units.KelvinDifference.OfRat(r)
	t := taskIn(units.KelvinDifference)
	t.places, t.round, t.exact = 1, nearest, units.Exactly(rise)
	t.text = "Friction heats the oil of a bearing, and the oil that runs out at its sides takes all of the heat along. By how much is it warmer than when it came in?"
	t.given = [][2]string{{"heat of friction", power.String()}, {"oil that runs out", flow.String()}, {"heat that a volume takes up for one kelvin, H", heat.WrittenBare(units.Megapascal) + " MJ/m³ per K"}}
	t.working = units.Working{Name: "rise of temperature", Formula: "ΔT = P / (H Q)", Numbers: power.String() + " / (" + heat.WrittenBare(units.Megapascal) + " MJ/(m³·K) · " + flow.String() + ")",
		Result: rise.Format(units.KelvinDifference, 2, units.HalfEven), Source: "balance of heat", Notes: []string{"1 MJ/m³ = 1 MPa = 1 J/cm³; the flow by the minute is " + second.String() + " times that by the second"}}
	t.mistakenFor(rise.MulRat(ratio(1, 60)), "You took the flow by the minute for one by the second.")
	t.mistakenFor(rise.MulRat(ratio(1, 2)), "That is the mean of the film. The question is how warm the oil is when it leaves.")
	t.mistakenFor(rise.MulInt(2), "That is twice the rise. All of the heat goes into the oil, once.")
	return t
}
