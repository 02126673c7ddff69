package film

import (
	"fmt"
	"math"

	"example.com/closefit/units"
)

// An Oil is an oil as its data sheet describes it: the kinematic viscosity at two
// temperatures, which gives that at others, and the density.
type Oil struct {
	Name string         `json:"name"`
	Cool ViscosityPoint `json:"cool"` // mostly at 40 °C
	Warm ViscosityPoint `json:"warm"` // mostly at 100 °C
	// Density is that at 15 °C. It falls by 0.65 kg/m³ with each kelvin: common practice for
	// mineral oils, no source; synthetic ones differ by a fifth of that, which moves the
	// density at 100 °C by one percent.
	Density units.Density `json:"density"`
	// Heat is how much heat a volume takes up for one kelvin: density times specific heat,
	// which has the dimension of a pressure. Oils come near 1.7 MPa (865 kg/m³ and
	// 1.97 kJ/(kg·K)): common practice, no source.
	Heat units.Pressure `json:"heat"`
}

// A ViscosityPoint is the kinematic viscosity of an oil at one temperature.
type ViscosityPoint struct {
	Temperature units.Temperature        `json:"temperature"`
	Viscosity   units.KinematicViscosity `json:"viscosity"`
}

// expansion is how much the density falls by kelvin, in kg/m³.
const expansion = 0.65

// densityAt is the temperature that densities are stated at, in °C.
const densityAt = 15

const kelvin = 273.15 // of 0 °C

// A walther is the straight line of an oil.
//
//	log₁₀ log₁₀ (ν + 0.7) = A - B log₁₀ T
//
// ν is the kinematic viscosity in mm²/s, T the temperature in K. Valid from 2 mm²/s up;
// below, ASTM D341 adds terms to ν + 0.7 that are left out here, which makes 0.3 % at
// 2 mm²/s.
//
// Source: ASTM D341-09, equation 1; from memory. The form is Walther's (1931).
type walther struct{ a, b float64 }

func throughPoints(t1, v1, t2, v2 float64) walther {
	z1, z2 := math.Log10(math.Log10(v1+0.7)), math.Log10(math.Log10(v2+0.7))
	b := (z1 - z2) / (math.Log10(t2) - math.Log10(t1))
	return walther{a: z1 + b*math.Log10(t1), b: b}
}

// at is the kinematic viscosity in mm²/s at a temperature in K.
func (w walther) at(t float64) float64 {
	return math.Pow(10, math.Pow(10, w.a-w.b*math.Log10(t))) - 0.7
}

// Bounds on oils and temperatures.
const (
	leastKinematic = 1.0 // mm²/s, of a point
	mostKinematic  = 1e5
	leastCelsius   = -40
	mostCelsius    = 250
)

// An oiling is an oil in float64.
type oiling struct {
	line          walther
	density, heat float64 // kg/m³ at 15 °C, J/(m³·K)
}

func (o Oil) oiling() (oiling, error) {
	where := func(what string) string {
		if o.Name == "" {
			return what + " of the oil"
		}
		return what + " of " + o.Name
	}
	var t, v [2]float64
	for i, p := range [2]ViscosityPoint{o.Cool, o.Warm} {
		t[i], v[i] = p.Temperature.Float64(units.Kelvin), p.Viscosity.Float64(units.SquareMillimetrePerSecond)
		if !(v[i] >= leastKinematic && v[i] <= mostKinematic) {
			return oiling{}, wrong(ErrOil, where("viscosity"), p.Viscosity.String(), "write the kinematic viscosity, from 1 to 100000 mm²/s")
		}
		if c := t[i] - kelvin; !(c >= leastCelsius && c <= mostCelsius) {
			return oiling{}, wrong(ErrOil, where("temperature"), p.Temperature.String(), "write a temperature from -40 to 250 °C")
		}
	}
	switch {
	case t[1]-t[0] < 5:
		return oiling{}, wrong(ErrOil, where("viscosity points"), fmt.Sprintf("%v after %v", o.Warm.Temperature, o.Cool.Temperature), "write the cool point first, and the warm one at least 5 K above it")
	case v[1] >= v[0]:
		return oiling{}, wrong(ErrOil, where("viscosity points"), fmt.Sprintf("%v at %v after %v at %v", o.Warm.Viscosity, o.Warm.Temperature, o.Cool.Viscosity, o.Cool.Temperature), "write the larger viscosity at the lower temperature")
	}
	density := o.Density.Float64(units.KilogramPerCubicMetre)
	if !(density >= 600 && density <= 1200) {
		return oiling{}, wrong(ErrOil, where("density"), o.Density.String(), "write that at 15 °C, from 600 to 1200 kg/m³")
	}
	heat := o.Heat.Float64(units.Pascal)
	if !(heat >= 1e6 && heat <= 4.5e6) {
		return oiling{}, wrong(ErrOil, where("heat"), o.Heat.String(), "write density times specific heat, from 1 to 4.5 MPa for one kelvin; near 1.7 MPa for engine oil")
	}
	return oiling{line: throughPoints(t[0], v[0], t[1], v[1]), density: density, heat: heat}, nil
}

// at is the density in kg/m³ at a temperature in °C.
func (o oiling) at(celsius float64) float64 { return o.density - expansion*(celsius-densityAt) }

// dynamic is the viscosity in Pa·s at a temperature in °C.
func (o oiling) dynamic(celsius float64) float64 {
	return o.line.at(celsius+kelvin) * 1e-6 * o.at(celsius)
}

// Dynamic returns the dynamic viscosity at a temperature from -40 to 250 °C: the
// kinematic one by ASTM D341 times the density. The errors are of kind ErrOil, also where two
// points are out of order.
func (o Oil) Dynamic(t units.Temperature) (units.DynamicViscosity, error) {
	w, err := o.oiling()
	if err != nil {
		return units.DynamicViscosity{}, err
	}
	c, err := celsius(t)
	if err != nil {
		return units.DynamicViscosity{}, err
	}
	var r rounding
	q := rounded(&r, units.MillipascalSecond, w.dynamic(c)*1e3)
	return q, r.err
}

func celsius(t units.Temperature) (float64, error) {
	c := t.Float64(units.Celsius)
	if !(c >= leastCelsius && c <= mostCelsius) {
		return 0, wrong(ErrOil, "temperature of the oil", t.String(), "write one from -40 to 250 °C")
	}
	return c, nil
}
