package demo_test

import (
	"fmt"
	"math"

	"example.com/closefit/units"
)

// engineFigures are what the loads follow from.
type engineFigures struct {
	Cylinders    int      `toml:"cylinders"`
	Names        []string `toml:"names"` // of the cylinders, where they are not 1, 2, 3 and so on
	Pins         []any    `toml:"pins"`  // the rods that share one; none where each has its own
	Bore         string   `toml:"bore"`
	Stroke       string   `toml:"stroke"`
	Speed        string   `toml:"speed"`
	PeakPressure string   `toml:"peak_pressure"`
	Thrust       string   `toml:"thrust"` // the main that takes it
	Decks        []string `toml:"decks"`
	Inspect      []string `toml:"inspect"` // further lines
	Inch         bool     `toml:"inch"`    // what follows is told in inches and pounds
}

// engine says how large and how fast the engine is, and what the gas bears on a piston.
//
//	V  = n (π/4) B² s     swept volume
//	vm = 2 s N            mean piston speed
//	F  = p (π/4) B²       gas force
func (d *design) engine() {
	e := d.Engine
	if e.Names == nil {
		d.line("engine.cylinders", fmt.Sprint(e.Cylinders))
	} else if len(e.Names) != e.Cylinders {
		panic(fmt.Errorf("%d names for %d cylinders", len(e.Names), e.Cylinders))
	}
	d.stated("engine.cylinders", e.Names)
	d.verbatim("engine.pins", e.Pins)
	d.line("engine.thrust", e.Thrust)
	d.stated("engine.decks", e.Decks)
	d.stated("engine.inspect", e.Inspect)
	bore, stroke := length(e.Bore).Float64(units.Millimetre), length(e.Stroke).Float64(units.Millimetre)
	speed := must(units.Parse[units.RotationalSpeed](e.Speed)).Float64(units.RevolutionPerMinute)
	d.followf("swept volume %d · π/4 · (%s)² · %s = %.2f L", e.Cylinders, e.Bore, e.Stroke, float64(e.Cylinders)*math.Pi/4*bore*bore*stroke/1e6)
	d.followf("mean piston speed 2 · %s · %s = %.1f m/s", e.Stroke, e.Speed, 2*stroke*speed/60000)
	d.followf("peak gas force %s · π/4 · (%s)² = %s", e.PeakPressure, e.Bore, d.force(d.gasForce()))
}

// stated adds a list of names as the design states it.
func (d *design) stated(key string, names []string) {
	for i, name := range names {
		d.line(fmt.Sprintf("%s[%d]", key, i), name)
	}
}

// gasForce returns the peak force on a piston, in newtons.
func (d *design) gasForce() float64 {
	bore := length(d.Engine.Bore).Float64(units.Millimetre)
	return must(units.ParsePressure(d.Engine.PeakPressure)).Float64(units.Megapascal) * math.Pi / 4 * bore * bore
}

// force writes a force given in newtons.
func (d *design) force(newtons float64) string {
	if d.Engine.Inch {
		return fmt.Sprintf("%.0f lbf", newtons/4.4482216152605)
	}
	return fmt.Sprintf("%.1f kN", newtons/1000)
}

// unitLoad works out the load on the projected area of a bearing, and refuses one that
// its lining does not bear.
//
//	p = F share / (d b)
func (d *design) unitLoad(b bearingFigures) {
	share, _ := part(b.Share).Float64()
	load := d.gasForce() * share / (length(b.Journal).Float64(units.Millimetre) * length(b.Width).Float64(units.Millimetre))
	bears := must(units.ParsePressure(b.Bears))
	if most := bears.Float64(units.Megapascal); load > most || load < most/2 {
		panic(fmt.Errorf("%s: a unit load of %.1f MPa, where the lining bears %.1f MPa and is to be used by half at least", b.Name, load, most))
	}
	text := fmt.Sprintf("%.1f MPa", load)
	if d.Engine.Inch {
		text = fmt.Sprintf("%.0f psi", load/0.00689475729)
	}
	d.followf("  unit load %s · %s / (%s · %s) = %s of %s", b.Share, d.force(d.gasForce()), b.Journal, b.Width, text, b.Bears)
}
