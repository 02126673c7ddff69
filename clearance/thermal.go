package clearance

import (
	"fmt"
	"maps"
	"slices"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A Body is a part, an instrument or a master, with the coefficient and the temperature
// by which it grows.
//
// Bodies of one Material have one coefficient, and bodies with one name in With have one
// temperature, though neither is known exactly: in a sum they grow alike, and if all grow
// alike nothing opens. A body without a name shares with no other.
type Body struct {
	Material string `json:"material"` // "cast iron"

	// PerKelvin is the coefficient of linear thermal expansion between its bounds, 11.7 ppm
	// for a plain steel; the zero interval was not given. It is 9/5 of a coefficient per
	// degree Fahrenheit.
	PerKelvin units.RatioInterval `json:"per_kelvin"`

	With        string                    `json:"with"` // what it shares its temperature with: "the engine"
	Temperature units.TemperatureInterval `json:"temperature"`
	In          units.TemperatureUnit     `json:"in"` // the unit in which words say it; °C if left out
}

// degrees is the temperature in words.
func (b Body) degrees() string { return b.Temperature.Written(b.In) }

// reference is 20 °C, at which sizes are stated (ISO 1:2022).
var reference = units.MustParse[units.TemperatureInterval]("20 °C")

// mostPerKelvin is above the coefficients of all metals.
var mostPerKelvin = units.PartsPerMillion.OfInt(500)

// harmless are differences from 20 °C at which even mostPerKelvin changes no size by more
// than a tenth: 500 ppm/K × 200 K.
var harmless = units.PlusMinus(units.TemperatureDifference{}, units.KelvinDifference.OfInt(200))

// check refuses a temperature or a coefficient that was not given, lacks a bound or
// cannot be, and a growth by more than a tenth.
func (b Body) check() error {
	wrong := func(where string, kind error, found, fix string) error {
		if b.Material != "" {
			where += ", " + b.Material
		}
		return &units.Error{Kind: kind, Where: where, Found: found, Fix: fix}
	}
	const temperature, coefficient = "temperature", "coefficient of expansion"
	switch t, c := b.Temperature, b.PerKelvin; {
	case t.IsEmpty():
		return wrong(temperature, measure.ErrNotMeasured, "", "give the temperature")
	case !t.HasLo() || !t.HasHi():
		return wrong(temperature, measure.ErrNotMeasured, b.degrees(), "give the lowest and the highest temperature")
	case t.Lo().Sign() < 0:
		return wrong(temperature, ErrRange, t.Lo().Written(b.In), "give one of -273.15 °C or more")
	case c.IsEmpty():
		return wrong(coefficient, measure.ErrNotMeasured, "", "give it, such as 11.7 ppm per K")
	case !c.Bounded() || c.Lo().Sign() < 0 || mostPerKelvin.Less(c.Hi()):
		return wrong(coefficient, ErrRange, c.String()+" per K", "give it per kelvin, such as 11.7 ppm, which is 0.0000117")
	}
	if b.Temperature.Sub(reference).Within(harmless) {
		return nil
	}
	if tenth := units.Percent.OfInt(10); tenth.Less(b.alpha().most().Times(b.theta().most())) {
		return wrong(temperature, ErrRange, b.degrees(), "look at its unit: a size would change by more than a tenth")
	}
	return nil
}

// a doubted is a number that is known as mid ± half.
type doubted struct{ mid, half units.Ratio }

// most returns the largest magnitude.
func (d doubted) most() units.Ratio { return d.mid.Abs().Add(d.half) }

func (b Body) alpha() doubted { return doubted{b.PerKelvin.Mid(), b.PerKelvin.Radius()} }

// theta is the temperature less 20 °C, in kelvins.
func (b Body) theta() doubted {
	above := b.Temperature.Sub(reference)
	kelvins := func(d units.TemperatureDifference) units.Ratio { return units.One.OfRat(d.Rat(units.KelvinDifference)) }
	return doubted{kelvins(above.Mid()), kelvins(above.Radius())}
}

// A change is a factor by which sizes change, known as factor + Σ shares: each share
// belongs to a coefficient or a temperature that other sizes may have as well.
type change struct {
	factor units.Ratio
	shared map[string]units.Ratio // by what it is known through, with its sign
	own    units.Ratio            // at most so much to either side, known through nothing else
}

var one = units.One.OfInt(1)

// product adds weight·δ(αθ), the doubt of a body's growth: α0·δθ + θ0·δα + δα·δθ. It
// returns how large weight·δ(αθ) can be.
func (c *change) product(weight units.Ratio, material string, alpha doubted, with string, theta doubted) (total units.Ratio) {
	add := func(name string, a, b units.Ratio) {
		q := a.Times(b).Times(weight)
		total = total.Add(q.Abs())
		switch {
		case q.IsZero():
		case name == "":
			c.own = c.own.Add(q.Abs())
		case c.shared == nil:
			c.shared = map[string]units.Ratio{name: q}
		default:
			c.shared[name] = c.shared[name].Add(q)
		}
	}
	expansion, temperature, both := "", "", ""
	if material != "" {
		expansion = "expansion of " + material
	}
	if with != "" {
		temperature = "temperature of " + with
	}
	if material != "" && with != "" {
		both = expansion + " at the " + temperature
	}
	add(temperature, alpha.mid, theta.half)
	add(expansion, theta.mid, alpha.half)
	add(both, alpha.half, theta.half)
	return total
}

// apply returns the reading times the change; name says what became of it.
func (c change) apply(r measure.LengthReading, name string) (measure.LengthReading, error) {
	if !r.Taken() {
		return r, nil
	}
	size := r.Bracket()
	if !size.Bounded() {
		return measure.LengthReading{}, &units.Error{Kind: measure.ErrNotMeasured, Where: name, Found: size.String(), Fix: "give the size with both its bounds"}
	}
	s := measure.Sum[units.LengthDim]{Name: name, Terms: make([]measure.Term[units.LengthDim], 0, len(c.shared)+2)}
	s.Terms = append(s.Terms, measure.Term[units.LengthDim]{Factor: c.factor, Reading: r})
	plus := func(r measure.LengthReading) { s.Terms = append(s.Terms, measure.Plus("", "", r)) }
	total := c.own
	for _, source := range slices.Sorted(maps.Keys(c.shared)) {
		q := c.shared[source]
		total = total.Add(q.Abs())
		if !q.IsZero() {
			plus(measure.Tied(source, units.Length{}, size.Mid().Times(q)))
		}
	}
	// The rest: what is known through nothing else, and the doubt of the change times the
	// doubt of the size, which is taken as far as its error can be held to reach.
	rest := size.Mid().Abs().Times(c.own)
	rest = rest.Add(size.Radius().Add(r.Expanded().MulInt(5)).Times(total))
	if !rest.IsZero() {
		plus(measure.Given(units.PlusMinus(units.Length{}, rest), name))
	}
	changed := s.Reading()
	return changed.With(r.Conditions()...), nil
}

// warming returns 1 + αθ.
func (b Body) warming() change {
	alpha, theta := b.alpha(), b.theta()
	c := change{factor: one.Add(alpha.mid.Times(theta.mid))}
	c.product(one, b.Material, alpha, b.With, theta)
	return c
}

// growth returns how much larger a size stated at 20 °C is when the body is as warm as it
// is, as a reading that shares its doubts with every other that grows by the same material
// or the same temperature; words say how it comes about.
func (b Body) growth(size measure.LengthReading, words string) (measure.LengthReading, error) {
	growth := b.warming()
	growth.factor = growth.factor.Sub(one)
	return growth.apply(size, words)
}

// Warmed returns the reading of a size stated at 20 °C when the body is as warm as it is:
//
//	L·(1 + α·(T - 20 °C))
//
// The reading shares its doubts with every other that grows by the same material or the
// same temperature. A missing size stays missing. The error is of kind ErrRange for a
// temperature below absolute zero, one that changes a size by more than a tenth, or a
// coefficient outside 0..500 ppm per kelvin, the range of the metals; of kind
// measure.ErrNotMeasured for a missing temperature or coefficient, and for a size or a
// temperature that lacks a bound. Give zero for a coefficient that does not matter.
// The unit is that in which the reading's words, which its Reading.How returns, say the size.
func (b Body) Warmed(size measure.LengthReading, u units.LengthUnit) (measure.LengthReading, error) {
	if err := b.check(); err != nil {
		return measure.LengthReading{}, err
	}
	return b.warming().apply(size, "at "+b.degrees()+": "+size.How(u))
}

// AtReference returns the reading of a size of the body corrected to 20 °C (ISO 1:2022):
//
//	L = I·(1 + αm·θm)·(1 + αi·(θi - θm))/(1 + αp·θp)
//
// with I the indication, p the body, i the instrument, m its master, and θ the
// temperature less 20 °C. The indication stands for the master, which was warm itself,
// and the instrument has grown since it was set. A steel journal read by a steel
// micrometer that was set on its steel master, all equally warm, needs no correction and
// gets none.
//
// Give the instrument's temperature when it read the size, and the master's when the
// instrument was set on it. The master of an instrument without one is its own scale,
// right at 20 °C: give its material with that temperature.
//
// Doubts of first order belong to the materials and temperatures, and cancel where these
// are shared; those of second order widen the reading by three times the square of all
// the doubts of first order, more than they can be. The unit is that of the reading's
// words, and the error that of Warmed, for each body.
func (b Body) AtReference(r measure.LengthReading, instrument, master Body, u units.LengthUnit) (measure.LengthReading, error) {
	for _, x := range []struct {
		name string
		body Body
	}{{"part", b}, {"instrument", instrument}, {"master", master}} {
		if err := x.body.check(); err != nil {
			return measure.LengthReading{}, fmt.Errorf("%s: %w", x.name, err)
		}
	}
	if err := consistent("warmth", b, instrument, master); err != nil {
		return measure.LengthReading{}, err
	}
	grown := func(alpha, theta units.Ratio) units.Ratio { return one.Add(alpha.Times(theta)) }
	ap, ai, am := b.alpha(), instrument.alpha(), master.alpha()
	tp, ti, tm := b.theta(), instrument.theta(), master.theta()
	part, standard := grown(ap.mid, tp.mid), grown(am.mid, tm.mid)
	since := grown(ai.mid, ti.mid.Sub(tm.mid))
	quotient := func(a, b units.Ratio) units.Ratio { return units.One.OfRat(a.Ratio(b)) }
	c := change{factor: quotient(standard.Times(since), part)}
	over := func(g units.Ratio) units.Ratio { return quotient(c.factor, g) }
	first := c.product(over(standard), master.Material, am, master.With, tm).
		Add(c.product(over(since), instrument.Material, ai, instrument.With, ti)).
		Add(c.product(over(since).Neg(), instrument.Material, ai, master.With, tm)).
		Add(c.product(over(part).Neg(), b.Material, ap, b.With, tp))
	c.own = c.own.Add(first.Times(first).MulInt(3))
	return c.apply(r, "corrected to 20 °C from "+b.degrees()+": "+r.How(u))
}

// Warm returns the fit with each of its sizes, stated at 20 °C, as warm as the body under
// its term's symbol; a term without a body stays at 20 °C. A direct reading counts as
// made at 20 °C, and Opening is added to it. The error is that of Body.Warmed, of kind
// measure.ErrNotInSet for an unknown symbol, or measure.ErrNotMeasured if a direct
// reading has no sizes from which to work out its opening. The unit is that of the words of
// its readings.
//
// Shells follow their housing and grow in thickness only. In aluminium on a steel
// crankshaft the clearance opens as the engine warms.
func (f Fit) Warm(bodies map[string]Body, u units.LengthUnit) (Fit, error) {
	if err := f.checkBodies(bodies); err != nil {
		return Fit{}, err
	}
	warm := f
	warm.Sum.Name = f.Sum.Name + ", warm"
	warm.Sum.Terms = slices.Clone(f.Sum.Terms)
	for i, t := range f.Sum.Terms {
		if b, ok := bodies[t.Symbol]; ok {
			var err error
			if warm.Sum.Terms[i].Reading, err = b.Warmed(t.Reading, u); err != nil {
				return Fit{}, err
			}
		}
	}
	if f.Direct.Taken() {
		s, err := f.Opening(bodies)
		if err != nil {
			return Fit{}, err
		}
		opening := s.Reading()
		open := measure.Sum[units.LengthDim]{
			Name:  f.Direct.How(u) + "; warm, by " + opening.Interval().Written(u) + " more",
			Terms: []measure.Term[units.LengthDim]{measure.Plus("", "", f.Direct), measure.Plus("", "", opening)}, AtWorst: f.Sum.AtWorst,
		}
		warm.Direct = open.Reading()
	}
	return warm, nil
}

// Opening returns how much the fit opens from 20 °C to the temperatures of the bodies:
// the sum of the growth of its sizes,
//
//	ΔC = Σ ±L·α·(T - 20 °C)
//
// with shared doubts counted once, with their signs. An engine all of one iron, all
// equally warm, opens by next to nothing. The error is that of Warm; of kind
// measure.ErrNotMeasured if a size that grows was not taken or lacks a bound.
func (f Fit) Opening(bodies map[string]Body) (measure.Sum[units.LengthDim], error) {
	s := measure.Sum[units.LengthDim]{Name: f.Sum.Name + ", opening by linear expansion from 20 °C (ISO 1:2022)", Symbol: "Δ" + f.Sum.Symbol, AtWorst: f.Sum.AtWorst}
	if err := f.checkBodies(bodies); err != nil {
		return s, err
	}
	for _, t := range f.Sum.Terms {
		b, ok := bodies[t.Symbol]
		if !ok {
			continue
		}
		if !t.Reading.Bracket().Bounded() {
			return s, &units.Error{Kind: measure.ErrNotMeasured, Where: f.Sum.Name + ", " + t.Name, Fix: "give its size; a drawing's is close enough to work out its growth"}
		}
		growth, err := b.growth(t.Reading, t.Symbol+" × "+b.PerKelvin.Written(units.PartsPerMillion)+"/K × ("+b.degrees()+" - 20 °C)")
		if err != nil {
			return s, err
		}
		name := t.Name
		if b.Material != "" {
			name += ", " + b.Material
		}
		s.Terms = append(s.Terms, measure.Term[units.LengthDim]{Symbol: "Δ" + t.Symbol, Name: name, Factor: t.Factor, Reading: growth})
	}
	if len(s.Terms) == 0 { // nothing grows
		s.Terms = append(s.Terms, measure.Plus("0", "nothing grows", measure.Given(units.Exactly(units.Length{}), "")))
	}
	return s, nil
}

// checkBodies refuses a body for a term that there is not, one that is not known, and two
// that say differently what they share.
func (f Fit) checkBodies(bodies map[string]Body) error {
	var all []Body
	for _, symbol := range slices.Sorted(maps.Keys(bodies)) {
		if _, err := f.term(symbol); err != nil {
			return err
		}
		if err := bodies[symbol].check(); err != nil {
			return err
		}
		all = append(all, bodies[symbol])
	}
	return consistent(f.Sum.Name, all...)
}

// consistent returns an error of kind measure.ErrContradiction if two bodies of one material
// have two coefficients, or two that are equally warm have two temperatures.
func consistent(where string, bodies ...Body) error {
	for i, b := range bodies {
		for _, o := range bodies[:i] {
			if x, y := o.PerKelvin, b.PerKelvin; b.Material != "" && o.Material == b.Material && !x.Equal(y) {
				return &units.Error{Kind: measure.ErrContradiction, Where: where + ", " + b.Material, Found: x.Written(units.PartsPerMillion) + " and " + y.Written(units.PartsPerMillion) + " per K",
					Fix: "give one material one coefficient, or two materials two names"}
			}
			if x, y := o.Temperature, b.Temperature; b.With != "" && o.With == b.With && !x.Equal(y) {
				return &units.Error{Kind: measure.ErrContradiction, Where: where + ", " + b.With, Found: o.degrees() + " and " + b.degrees(),
					Fix: "give bodies of one name one temperature, or another name"}
			}
		}
	}
	return nil
}
