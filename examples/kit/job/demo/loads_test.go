package demo_test

import (
	"fmt"
	"math"

	"example.com/closefit/units"
)

// engineFigures are what the loads follow from.
type engineFigures struct {
	Cylinders    int    `toml:"cylinders"`
	Bore         string `toml:"bore"`
	Stroke       string `toml:"stroke"`
	Speed        string `toml:"speed"`
	PeakPressure string `toml:"peak_pressure"`
	Thrust       string `toml:"thrust"` // the main that takes it
	Inch         bool   `toml:"inch"`   // what follows is told in inches and pounds
}

// engine says how large and how fast the engine is, and what the gas bears on a piston.
//
//	V  = n (π/4) B² s     swept volume
//	vm = 2 s N            mean piston speed
//	F  = p (π/4) B²       gas force
func (d *design) engine() {
	e := d.Engine
	d.line("engine.cylinders", fmt.Sprint(e.Cylinders))
	d.line("engine.thrust", e.Thrust)
	bore, stroke := length(e.Bore).Float64(units.Millimetre), length(e.Stroke).Float64(units.Millimetre)
	speed := must(units.Parse[units.RotationalSpeed](e.Speed)).Float64(units.RevolutionPerMinute)
	d.followf("swept volume %d · π/4 · (%s)² · %s = %.2f L", e.Cylinders, e.Bore, e.Stroke, float64(e.Cylinders)*math.Pi/4*bore*bore*stroke/1e6)
	d.followf("mean piston speed 2 · %s · %s = %.1f m/s", e.Stroke, e.Speed, 2*stroke*speed/60000)
	d.followf("peak gas force %s · π/4 · (%s)² = %s", e.PeakPressure, e.Bore, d.force(d.gasForce()))
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
