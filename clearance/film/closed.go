package film

import (
	"fmt"
	"math"
)

// Short returns the numbers of the short bearing, whose film flows along the axis alone: the limit
// of L/D towards zero, good to a few percent below L/D = 0.25 and an eccentricity of 0.7.
//
//	S (L/D)² = (1-ε²)² / (π ε √(π²(1-ε²) + 16 ε²))
//	tan φ    = π √(1-ε²) / (4 ε)
//	(R/c) f  = 2π² S / √(1-ε²) + (ε/2) sin φ
//	Q/(RcNL) = π (1+ε),   Qs/(RcNL) = 2π ε
//
// The film fills the half turn where it converges, θ from 0 to π. The error is of kind
// ErrEccentricity, or ErrBearing for a ratio that is not above zero.
//
// Source: DuBois, G. B.; Ocvirk, F. W.: Analytical Derivation and Experimental Evaluation of
// Short-Bearing Approximation for Full Journal Bearings. NACA TR 1157 (1953); from memory.
// The peak follows from p = 6µω(R/c)² (L/D)² ε sin θ (1-z²) / (2 (1+ε cos θ)³).
func Short(ratio, eccentricity float64) (Numbers, error) {
	if !(ratio > 0) || math.IsInf(ratio, 0) {
		return Numbers{}, wrong(ErrBearing, "width over diameter", fmt.Sprint(ratio), "write a ratio above zero")
	}
	if err := openUnit(eccentricity); err != nil {
		return Numbers{}, err
	}
	e, square := eccentricity, eccentricity*eccentricity
	s := (1 - square) * (1 - square) / (math.Pi * e * math.Sqrt(math.Pi*math.Pi*(1-square)+16*square)) / (ratio * ratio)
	v := closedForm(e, s, math.Atan2(math.Pi*math.Sqrt(1-square), 4*e))
	v.flow, v.side, v.ends = math.Pi*(1+e), 2*math.Pi*e, math.Pi
	// d/dθ of sin θ/(1+ε cos θ)³ is zero where cos θ = (1 - √(1+24ε²))/(4ε).
	v.peakAt = math.Acos((1 - math.Sqrt(1+24*square)) / (4 * e))
	h := 1 + e*math.Cos(v.peakAt)
	v.peak = 2 * ratio * ratio * e * math.Sin(v.peakAt) / (2 * h * h * h) * 6 * math.Pi * s
	return v.closed()
}

// FullLong returns the numbers of the endlessly wide bearing with a full film, that has as much
// pressure below ambient as above: Sommerfeld's. Oil bears no such suction, and the
// peak and the attitude of 90° are none of a real bearing; Long is nearer.
//
//	S = (2+ε²) √(1-ε²) / (12π² ε),   (R/c) f = 2π² S / √(1-ε²) + ε/2
//
// The error is of kind ErrEccentricity.
//
// Source: Sommerfeld, A.: Zur hydrodynamischen Theorie der Schmiermittelreibung. Z. Math. Phys.
// 50 (1904), 97-155; from memory. The flow is the same at every section, π h₀/c with
// h₀ = 2c (1-ε²)/(2+ε²), and none leaves at edges.
func FullLong(eccentricity float64) (Numbers, error) {
	if err := openUnit(eccentricity); err != nil {
		return Numbers{}, err
	}
	e, square := eccentricity, eccentricity*eccentricity
	s := (2 + square) * math.Sqrt(1-square) / (12 * math.Pi * math.Pi * e)
	v := closedForm(e, s, math.Pi/2)
	v.flow, v.ends = math.Pi*2*(1-square)/(2+square), 2*math.Pi
	// p = ε (2+ε cos θ) sin θ / ((2+ε²)(1+ε cos θ)²), largest where h = h₀: cos θ = -3ε/(2+ε²).
	v.peakAt = math.Acos(-3 * e / (2 + square))
	h := 1 + e*math.Cos(v.peakAt)
	v.peak = 2 * 6 * math.Pi * s * e * (1 + h) * math.Sin(v.peakAt) / ((2 + square) * h * h)
	return v.closed()
}

// Long returns the numbers of the endlessly wide bearing whose film begins at ambient pressure where
// it is thickest and ends by the condition of Reynolds: the limit of L/D towards infinity.
// With Sommerfeld's substitution 1 + ε cos θ = (1-ε²)/(1 - ε cos γ) everything is
// a closed form but the end of the film γ₂, a root of
//
//	ε (sin γ₂ cos γ₂ - γ₂) + 2 (sin γ₂ - γ₂ cos γ₂) = 0,   π < γ₂ < 2π
//
// The error is of kind ErrEccentricity.
//
// Source: Raimondi, A. A.; Boyd, J.: A Solution for the Finite Journal Bearing and Its
// Application to Analysis and Design, III. Trans. ASLE 1 (1958), 194-209, the rows of
// L/D = ∞; the closed form is the integral of the equation.
func Long(eccentricity float64) (Numbers, error) {
	if err := openUnit(eccentricity); err != nil {
		return Numbers{}, err
	}
	e := eccentricity
	end := func(g float64) (float64, error) {
		sin, cos := math.Sincos(g)
		return e*(sin*cos-g) + 2*(sin-g*cos), nil
	}
	g2, err := root(end, math.Pi, 2*math.Pi, 1e-14)
	if err != nil {
		return Numbers{}, err
	}
	// dp/dθ = (h - h₂)/h³ in units of 6µω(R/c)²; in γ,
	//	p = [γ - ε sin γ - (1-ε²) k ((1+ε²/2) γ - 2ε sin γ + (ε²/4) sin 2γ)/(1-ε²)] / (1-ε²)^1.5,
	// with k = h₂/(1-ε²) = 1/(1 - ε cos γ₂), and p = 0 at γ₂ gives the root above.
	one := 1 - e*e
	k := 1 / (1 - e*math.Cos(g2))
	pressure := func(g float64) float64 {
		return (g - e*math.Sin(g) - k*((1+e*e/2)*g-2*e*math.Sin(g)+e*e/4*math.Sin(2*g))) / (one * math.Sqrt(one))
	}
	// The load: ∫p sin θ dθ = -∫ p d(cos θ) = ∫ cos θ p' dθ, by parts, as p is zero at both ends;
	// ∫p cos θ dθ = -∫ sin θ p' dθ. With p' dθ = (h-h₂)/h³ dθ and h = one/(1-ε cos γ), dθ = √one/(1-ε cos γ) dγ:
	//	p' dθ = (1-ε cos γ)(1 - k(1-ε cos γ)) / one^1.5 dγ.
	radial, tangential := simpson(func(g float64) (float64, float64) {
		sin, cos := math.Sincos(g)
		u := 1 - e*cos
		slope := u * (1 - k*u) / (one * math.Sqrt(one))
		return math.Sqrt(one) * sin / u * slope, (cos - e) / u * slope
	}, 0, g2)
	w := math.Hypot(radial, tangential)
	v := closedForm(e, 1/(6*math.Pi*w), math.Atan2(tangential, radial))
	theta := func(g float64) float64 {
		sin, cos := math.Sincos(g)
		t := math.Atan2(math.Sqrt(one)*sin, cos-e)
		if t < 0 {
			t += 2 * math.Pi
		}
		return t
	}
	v.flow, v.ends = math.Pi*one*k, theta(g2)
	peak := 2*math.Pi - g2 // the film is as thick there as at its end
	v.peakAt, v.peak = theta(peak), 2*pressure(peak)/w
	return v.closed()
}

// simpson integrates two smooth functions at once.
func simpson(f func(float64) (float64, float64), from, to float64) (a, b float64) {
	const n = 2000
	h := (to - from) / n
	for i := range n + 1 {
		weight := 2.0 + 2*float64(i%2)
		if i == 0 || i == n {
			weight = 1
		}
		x, y := f(from + float64(i)*h)
		a, b = a+weight*x, b+weight*y
	}
	return a * h / 3, b * h / 3
}

// Petroff returns (R/c) f of a journal that runs in the middle of its bearing: 2π² S. It is the limit of
// Friction for light loads. The error is of kind ErrNoFilm for an S that is not above zero.
//
// Source: Petroff, N. P.: Friction in machines and the effect of the lubricant (1883), as
// every textbook gives it; from memory.
func Petroff(sommerfeld float64) (float64, error) {
	if !(sommerfeld > 0) || math.IsInf(sommerfeld, 0) {
		return 0, wrong(ErrNoFilm, "Sommerfeld number", fmt.Sprint(sommerfeld), "write (R/c)² µN/P, above zero")
	}
	return 2 * math.Pi * math.Pi * sommerfeld, nil
}

func openUnit(e float64) error {
	if !(e > 0 && e < 1) {
		return wrong(ErrEccentricity, "eccentricity ratio", fmt.Sprint(e), "write the distance of the centres over the radial clearance, above 0 and below 1")
	}
	return nil
}

// closedForm begins the values of a closed form, with the friction that follows from S and φ:
// the shear of a full turn, and the moment of the load about the bearing's middle.
func closedForm(e, s, attitude float64) values {
	return values{e: e, s: s, attitude: attitude, fed: 1,
		friction: 2*math.Pi*math.Pi*s/math.Sqrt(1-e*e) + e/2*math.Sin(attitude)}
}

func (v values) closed() (Numbers, error) {
	n, _, err := v.numbers(values{})
	if err != nil {
		return Numbers{}, err
	}
	return n, nil
}
