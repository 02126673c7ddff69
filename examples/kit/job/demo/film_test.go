package demo_test

import (
	"math/big"

	"example.com/closefit/units"
)

// filmFigures are what a model of the oil film is given beside what the engine states.
type filmFigures struct {
	Steady  string         `toml:"steady"` // the steady load, as a part of the peak load of each bearing
	Step    string         `toml:"step"`   // that it is rounded to
	Supply  string         `toml:"supply"`
	Grooved string         `toml:"grooved"` // the bearings that the supply reaches: "main"
	Stated  map[string]any `toml:"stated"`  // as the job has it
}

// film says what the model is given. The load is a part of the peak gas force on the bearing:
//
//	W = k s F
func (d *design) film() {
	f := d.Film
	if f == nil {
		return
	}
	d.verbatim("film", f.Stated)
	d.line("film.speed", d.Engine.Speed)
	g := newGrain[units.ForceDim](f.Step)
	for _, b := range d.Bearings {
		key := "film." + b.part()
		share, _ := new(big.Rat).Mul(part(b.Share), part(f.Steady)).Float64()
		load := g.near(must(units.Newton.OfFloat64(share*d.gasForce(), 3)))
		d.line(key+".diameter", b.Journal)
		d.line(key+".width", b.Width)
		d.line(key+".load", g.write(load))
		d.followf("steady load on a %s in the model %s · %s · peak gas force, to %s = %s", b.Name, f.Steady, b.Share, f.Step, g.write(load))
		if b.part() == f.Grooved {
			d.line(key+".supply", f.Supply)
			d.line(key+".pump.relief", f.Supply)
		}
	}
}
