package demo_test

import (
	"fmt"
	"maps"
	"math"
	"math/big"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A plainTruth is what was built of what is no length, and its limits, in the unit that the
// record shows. A limit that there is not is infinite.
type plainTruth struct{ built, lo, hi float64 }

// massFigures are the masses of a part of every cylinder, and how far they may be apart.
type massFigures struct {
	Line    string      `toml:"line"` // "rod mass"
	With    string      `toml:"with"`
	Nominal string      `toml:"nominal"`
	Spread  string      `toml:"spread"` // "rods mass spread"
	Rule    rule        `toml:"rule"`
	Built   []builtMass `toml:"built"`
}

type builtMass struct {
	Location string `toml:"location"`
	Mass     string `toml:"mass"`
}

// masses works out what the scale shows, and the limits of the spreads.
func (d *design) masses() {
	grams := func(text string) units.Mass { return must(units.Parse[units.Mass](text)) }
	for _, m := range d.Masses {
		in := d.named(m.With)
		g := newGrain[units.MassDim](in.Reads)
		allowed, step := limits(m.Rule, grams(m.Nominal))
		d.line("measure."+m.Line+".with", m.With)
		d.line("measure."+m.Spread+".limits", step.span(allowed))
		d.followf("%s %s: %s", m.Spread, m.Rule.of(m.Nominal), step.span(allowed))
		var all []float64
		for _, x := range m.Built {
			mass := grams(x.Mass)
			shown := g.near(mass)
			if grams(in.Uncertainty).Less(shown.Sub(mass).Abs()) {
				panic(fmt.Errorf("%s is weighed as %s, further off than %s", x.Mass, shown, in.Uncertainty))
			}
			d.line("measure."+m.Line+".readings."+x.Location, g.write(shown))
			d.followf("  %s weighs %s", x.Location, x.Mass)
			all = append(all, mass.Float64(units.Gram))
		}
		part, _, _ := strings.Cut(m.Spread, " ")
		d.plain[part+" mass spread"] = plainTruth{slices.Max(all) - slices.Min(all), math.Inf(-1), allowed.Hi().Float64(units.Gram)}
	}
}

// volumeFigures are what the compression ratio follows from, each as it is stated, and as
// it was built.
type volumeFigures struct {
	Ratio    string            `toml:"ratio"`
	Within   string            `toml:"within"` // a part of it, to either side
	Step     string            `toml:"step"`
	Stated   map[string]string `toml:"stated"` // by the keys of the job
	Built    map[string]string `toml:"built"`
	Chambers []builtChamber    `toml:"chambers"`
}

type builtChamber struct {
	Cylinder string `toml:"cylinder"`
	Stated   string `toml:"stated"`
	Built    string `toml:"built"`
}

// volumes works out the limits of the ratio, and the ratio as it was built:
//
//	ε = (V + Vc)/Vc, V = (π/4) B² s, Vc = chamber + dish + (π/4)(Bg² tg + B² deck)
func (d *design) volumes() {
	v := d.Volumes
	if v == nil {
		return
	}
	step := part(v.Step)
	whole := func(q *big.Rat, up bool) *big.Rat { // to a step, inward
		n := new(big.Rat).Quo(q, step)
		i := new(big.Int).Div(n.Num(), n.Denom())
		if up && !n.IsInt() {
			i.Add(i, big.NewInt(1))
		}
		return new(big.Rat).Mul(new(big.Rat).SetInt(i), step)
	}
	ratio, within := part(v.Ratio), part(v.Within)
	lo := whole(new(big.Rat).Mul(ratio, new(big.Rat).Sub(big.NewRat(1, 1), within)), true)
	hi := whole(new(big.Rat).Mul(ratio, new(big.Rat).Add(big.NewRat(1, 1), within)), false)
	const line = "measure.cylinder compression ratio"
	d.line(line+".limits", lo.FloatString(2)+".."+hi.FloatString(2))
	d.followf("compression ratio %s, to a part of %s, to %s: %s..%s", v.Ratio, v.Within, v.Step, lo.FloatString(2), hi.FloatString(2))
	size := map[string]float64{}
	for _, key := range slices.Sorted(maps.Keys(v.Stated)) {
		stated, built := must(units.ParseLengthInterval(v.Stated[key])), length(v.Built[key])
		if !stated.Contains(built) {
			panic(fmt.Errorf("%s of %s is not in %s", key, built, stated))
		}
		d.line("compression."+key, v.Stated[key])
		size[key] = built.Float64(units.Millimetre) / 10
		d.followf("  %s %s, built %s", key, v.Stated[key], v.Built[key])
	}
	if v.Built["bore"] == "" || len(v.Stated) != len(v.Built) {
		panic(fmt.Errorf("stated %v, built %v", v.Stated, v.Built))
	}
	d.line("compression.dish", "0 cm³")
	swept := math.Pi / 4 * size["bore"] * size["bore"] * size["stroke"]
	for _, c := range v.Chambers {
		stated, built := must(units.Parse[units.VolumeInterval](c.Stated)), must(units.Parse[units.Volume](c.Built))
		if !stated.Contains(built) {
			panic(fmt.Errorf("a chamber of %s is not in %s", built, stated))
		}
		d.line("compression.chambers."+c.Cylinder, c.Stated)
		clear := built.Float64(units.CubicCentimetre) + math.Pi/4*(size["gasket_bore"]*size["gasket_bore"]*size["gasket_thickness"]+size["bore"]*size["bore"]*size["deck"])
		low, _ := lo.Float64()
		high, _ := hi.Float64()
		truth := plainTruth{(swept + clear) / clear, low, high}
		d.plain["cylinder "+c.Cylinder+" compression ratio"] = truth
		d.followf("  cylinder %s, chamber %s, built %s: %.3f", c.Cylinder, c.Stated, c.Built, truth.built)
	}
}

// positionFigures are the rules for where the gaps of a piston's rings stand, as a job has
// them, and where they were set.
type positionFigures struct {
	Mark       string           `toml:"mark"`
	Neighbours string           `toml:"neighbours"`
	Forbidden  []forbiddenArc   `toml:"forbidden"`
	Built      []builtPositions `toml:"built"`
}

type forbiddenArc struct {
	Name   string `toml:"name"`
	Centre string `toml:"centre"`
	Reach  string `toml:"reach"`
}

type builtPositions struct {
	Piston string   `toml:"piston"`
	At     []string `toml:"at"` // none where they are not set yet
}

// positions adds the rules and where the gaps stand, and refuses gaps that break them: each
// is to stand so far from the next, and out of every arc.
func (d *design) positions() {
	p := d.RingPositions
	if p == nil {
		return
	}
	const key, line = "ring_positions", "measure.piston ring positions.readings."
	d.line(key+".mark", p.Mark)
	d.line(key+".neighbours", p.Neighbours)
	degrees := func(text string) float64 { return must(units.ParseAngle(text)).Float64(units.Degree) }
	apart := func(a, b float64) float64 {
		between := math.Mod(math.Abs(a-b), 360)
		return math.Min(between, 360-between)
	}
	d.followf("ring gaps at least %s apart, from %s", p.Neighbours, p.Mark)
	for i, arc := range p.Forbidden {
		at := fmt.Sprintf("%s.forbidden[%d]", key, i)
		d.line(at+".name", arc.Name)
		d.line(at+".centre", arc.Centre)
		d.line(at+".reach", arc.Reach)
		d.followf("  none at the %s, %s to either side of %s", arc.Name, arc.Reach, arc.Centre)
	}
	for _, x := range p.Built {
		if x.At == nil {
			d.line(line+x.Piston, "?")
			d.followf("  piston %s is not set yet", x.Piston)
			continue
		}
		for i, at := range x.At {
			if i > 0 && apart(degrees(at), degrees(x.At[i-1])) < degrees(p.Neighbours) {
				panic(fmt.Errorf("piston %s: gaps at %s and %s", x.Piston, x.At[i-1], at))
			}
			for _, arc := range p.Forbidden {
				if apart(degrees(at), degrees(arc.Centre)) <= degrees(arc.Reach) {
					panic(fmt.Errorf("piston %s: a gap at %s, at the %s", x.Piston, at, arc.Name))
				}
			}
		}
		d.line(line+x.Piston, strings.Join(x.At, " "))
		d.followf("  those of piston %s at %s", x.Piston, strings.Join(x.At, " "))
	}
}

// ownFit is a fit that the engine has beside those of every engine: the first size less the
// others, each as often as its factor.
type ownFit struct {
	Name  string     `toml:"name"`
	Of    string     `toml:"of"` // the size that its limits are parts of
	Rule  rule       `toml:"rule"`
	Terms []builtFit `toml:"terms"`
}

type builtFit struct {
	Symbol string `toml:"symbol"`
	Name   string `toml:"name"`
	Times  int64  `toml:"times"`
	With   string `toml:"with"`
	Size   string `toml:"size"`
}

// ownFits works out the engine's own fits.
func (d *design) ownFits() {
	for i, f := range d.Fits {
		key, formula := fmt.Sprintf("fits[%d]", i), ""
		var left units.Length
		allowed, g := limits(f.Rule, length(f.Of))
		d.followf("%s %s: %s", f.Name, f.Rule.of(f.Of), g.span(allowed))
		for k, x := range f.Terms {
			at := key + ".terms." + x.Symbol
			d.line(at+".name", x.Name)
			d.line(at+".with", x.With)
			d.line(at+".reading", d.named(x.With).shows(length(x.Size)))
			d.followf("  %d × %s of %s", x.Times, x.Name, x.Size)
			symbol := x.Symbol
			if x.Times != 1 {
				symbol = strconv.FormatInt(x.Times, 10) + "*" + symbol
			}
			if k == 0 {
				left, formula = length(x.Size).MulInt(x.Times), "C = "+symbol
				continue
			}
			left, formula = left.Sub(length(x.Size).MulInt(x.Times)), formula+" - "+symbol
		}
		d.line(key+".name", f.Name)
		d.line(key+".formula", formula)
		d.line(key+".limits", g.span(allowed))
		d.truths[f.Name] = truth{units.Exactly(left), allowed}
		d.followf("  %s leaves %s", formula, g.finer(1).write(left))
	}
}

// warmFigures are how warm the parts of a kind of bearing run, and what they are made of.
type warmFigures struct {
	Bearing     string            `toml:"bearing"`
	Rule        rule              `toml:"rule"` // of the warm clearance, of the journal
	Name        string            `toml:"name"` // of the temperature
	Temperature string            `toml:"temperature"`
	Built       string            `toml:"built"` // how warm the parts are
	Materials   []material        `toml:"materials"`
	Parts       map[string]string `toml:"parts"` // the material of each
}

type material struct {
	Name   string `toml:"name"`
	Stated string `toml:"stated"` // its growth per kelvin
	Built  string `toml:"built"`
}

// warm works out the warm clearances of the bearings that were measured by their sizes:
//
//	C = D(1 + aΔ) - (t1 + t2)(1 + bΔ) - d(1 + cΔ)
func (d *design) warm() {
	w := d.Warm
	if w == nil {
		return
	}
	i := slices.IndexFunc(d.Bearings, func(b bearingFigures) bool { return b.Name == w.Bearing })
	if i < 0 {
		panic(fmt.Errorf("no bearings %q", w.Bearing))
	}
	b := d.Bearings[i]
	line := b.Name + " warm clearance"
	allowed, g := limits(w.Rule, length(b.Journal))
	d.line("measure."+line+".limits", g.span(allowed))
	d.followf("%s %s: %s", line, w.Rule.of(b.Journal), g.span(allowed))
	built := must(units.Parse[units.Temperature](w.Built))
	if !must(units.Parse[units.TemperatureInterval](w.Temperature)).Contains(built) {
		panic(fmt.Errorf("%s is not in %s", w.Built, w.Temperature))
	}
	d.line("temperatures."+w.Name, w.Temperature)
	d.followf("  the %s is at %s, built %s", w.Name, w.Temperature, w.Built)
	delta := new(big.Rat).Sub(built.Rat(units.Celsius), big.NewRat(20, 1))
	growth := map[string]*big.Rat{} // of each material, as a factor
	for _, m := range w.Materials {
		per := must(units.ParseRatio(m.Built))
		if !must(units.Parse[units.RatioInterval](m.Stated)).Contains(per) {
			panic(fmt.Errorf("%s of %s is not in %s", m.Name, m.Built, m.Stated))
		}
		d.line("materials."+m.Name, m.Stated)
		d.followf("  %s grows by %s per kelvin, built %s", m.Name, m.Stated, m.Built)
		f := new(big.Rat).Mul(per.Rat(units.One), delta)
		growth[m.Name] = f.Add(f, big.NewRat(1, 1))
	}
	grown := func(part, size string) units.Length {
		f := growth[w.Parts[part]]
		if f == nil {
			panic(fmt.Errorf("no material of %q", part))
		}
		return length(size).MulRat(f)
	}
	for _, part := range slices.Sorted(maps.Keys(w.Parts)) {
		d.line("warmth."+part+".material", w.Parts[part])
		d.line("warmth."+part+".running", w.Name)
	}
	for _, x := range b.Built {
		if x.Read != "sizes" {
			continue
		}
		left := grown("block", x.Bore).Sub(grown(b.part()+" shells", x.UpperWall)).Sub(grown(b.part()+" shells", x.LowerWall)).Sub(grown("crankshaft", x.Journal))
		d.truths[b.Name+" "+x.Location+" warm clearance"] = truth{units.Exactly(left), allowed}
		d.followf("  %s has %s", x.Location, g.finer(2).write(left))
	}
}

// TestPlainVerdictsAreTrue: what is known of masses and ratios holds what was built, and no
// verdict says what is not so.
func TestPlainVerdictsAreTrue(t *testing.T) {
	met := 0
	for _, name := range job.Demonstrations() {
		d, err := workOut(figuresOf(t, name, read(t, name+".md")))
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range assess(t, name+".toml", read(t, name+".toml")).Verdicts() {
			x, ok := d.plain[f.Name()]
			if !ok || !f.Taken {
				continue
			}
			met++
			bound := func(text *string, none float64) float64 {
				if text == nil {
					return none
				}
				v, err := strconv.ParseFloat(number.FindString(*text), 64)
				if err != nil {
					t.Fatal(err)
				}
				return v
			}
			if lo, hi := bound(f.Measured.Lo, math.Inf(-1)), bound(f.Measured.Hi, math.Inf(1)); x.built < lo || hi < x.built {
				t.Errorf("%s: %s reads %s, and was built to %g", name, f.Name(), f.Measured.Text, x.built)
			}
			inside := x.lo <= x.built && x.built <= x.hi
			if f.Verdict == measure.Conforming && !inside || f.Verdict.Outside() && inside {
				t.Errorf("%s: %s was built to %g, and is called %s", name, f.Name(), x.built, f.Verdict)
			}
		}
		if n := len(d.plain); n > 0 && met != n {
			t.Errorf("%s: %d verdicts compared with what was built, want %d", name, met, n)
		}
	}
	if met == 0 {
		t.Error("nothing was compared")
	}
}
