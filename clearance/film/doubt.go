package film

import (
	"math"

	"example.com/closefit/units"
)

// Caution belongs under every result that is shown.
const Caution = "A model to compare clearances with each other, and no design approval. The engine maker's limits stand."

// Surfaces are how rough journal and bearing are: root-mean-square roughness Rq of each.
type Surfaces struct {
	Journal units.Length `json:"journal"`
	Bearing units.Length `json:"bearing"`
}

// Lambda returns the least film over the combined roughness √(Rq²+Rq²). It is 0 for surfaces that have
// no roughness, of which nothing is known.
func (s Surfaces) Lambda(least units.Length) float64 {
	rough := math.Hypot(s.Journal.Float64(units.Micrometre), s.Bearing.Float64(units.Micrometre))
	if rough == 0 {
		return 0
	}
	return least.Float64(units.Micrometre) / rough
}

// A Doubt is a reason why a result may not hold: a number beyond which the model leaves something out.
type Doubt struct {
	About     string  `json:"about"`     // what the model leaves out: "turbulence"
	Quantity  string  `json:"quantity"`  // what was compared: "Reynolds number ρωRc/µ"
	Number    float64 `json:"number"`    // what it is here
	Threshold float64 `json:"threshold"` // what it should not pass
	Source    string  `json:"source"`
}

// Doubts returns the reasons why a working point may not hold; none is no proof that it does. Whether
// the load is steady is for the user to know: a load that turns or swings squeezes the
// film, and that is what an Orbit is for.
func (p WorkingPoint) Doubts(s Surfaces) []Doubt {
	oil, err := p.Oil.oiling()
	if err != nil {
		return nil // no working point that Work returned
	}
	f := p.Film
	sc := f.Bearing.scales(f.Speed)
	viscosity := f.Viscosity.Float64(units.MillipascalSecond) / 1e3
	celsius := p.Temperature.Float64(units.Celsius)
	least := f.Least.Float64(units.Micrometre)
	peak := f.PeakPressure.Float64(units.Pascal)

	const steel = 210e9 // Pa
	var doubts []Doubt
	more := func(about, quantity string, number, threshold float64, source string) {
		if number > threshold {
			doubts = append(doubts, Doubt{about, quantity, number, threshold, source})
		}
	}
	less := func(about, quantity string, number, threshold float64, source string) {
		if number < threshold {
			doubts = append(doubts, Doubt{about, quantity, number, threshold, source})
		}
	}
	more("turbulence and vortices: friction is larger", "Reynolds number ρωRc/µ, against 41.2 √(R/c)",
		oil.at(celsius)*sc.omega*sc.r*sc.c/viscosity, 41.2*math.Sqrt(sc.r/sc.c), "Taylor, G. I., Phil. Trans. R. Soc. A 223 (1923); from memory")
	less("starvation: the groove does not feed what the film loses", "share of the side flow that the groove feeds",
		f.Numbers.Fed, 0.99, "balance of flows at the groove's edges")
	if lambda := s.Lambda(f.Least); lambda > 0 {
		less("touching: roughness carries a part of the load", "least film over combined roughness", lambda, 3, "common practice, no source")
	}
	more("surfaces that deform: the film is thicker and longer, the peak lower", "p R/E of steel over the least film",
		peak*sc.r/steel*1e6/least, 0.2, "order of the deformation of a housing; common practice, no source")
	less("dirt and misalignment", "least film in µm, against 5 µm + 0.00004 D",
		least, 5+0.04*2e3*sc.r, "Trumpler's criteria in Shigley, Mechanical Engineering Design, 12-14")
	more("oil that ages", "film temperature in °C", celsius, 121, "Trumpler's criteria in Shigley, Mechanical Engineering Design, 12-14")
	more("eccentricity: no bearing is as round, parallel and stiff as the model", "eccentricity ratio",
		f.Numbers.Eccentricity, 0.97, "the last that Raimondi and Boyd tabulate")
	return doubts
}
