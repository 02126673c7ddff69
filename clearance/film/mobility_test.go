package film

import (
	"errors"
	"math"
	"testing"

	"example.com/closefit/internal/thorough"
)

// shortFilm is the mobility of the short film by a sum: p = max(0, -(cos α cos θ + sin α sin θ)) (1-z²) (L/D)²/h³, as
// ∂h/∂t = cos α cos θ + sin α sin θ for a journal that moves at 1 c/s.
func shortFilm(ratio, e, alpha float64) (mobility, beta float64) {
	const n = 20_000
	var radial, across float64
	for i := range n {
		theta := 2 * math.Pi * (float64(i) + 0.5) / n
		h := 1 + e*math.Cos(theta)
		p := max(0, -math.Cos(theta-alpha)) * 2 / 3 * ratio * ratio / (h * h * h)
		radial -= p * math.Cos(theta) * 2 * math.Pi / n
		across -= p * math.Sin(theta) * 2 * math.Pi / n
	}
	return 1 / (3 * math.Hypot(radial, across)), math.Atan2(across, radial)
}

// A narrow bearing that is squeezed is the short one.
func TestSqueezeOfTheShortBearing(t *testing.T) {
	thorough.SkipRaced(t)
	const ratio = 0.05
	q := newSqueezer(ratio, 128)
	for _, e := range []float64{0.02, 0.3, 0.6, 0.8} {
		for _, alpha := range []float64{0, 0.4, 1.3, 2.2, math.Pi} {
			m, beta, off, err := q.at(e, alpha)
			if err != nil {
				t.Fatal(err)
			}
			want, wantBeta := shortFilm(ratio, e, alpha)
			if math.Abs(m/want-1) > 0.015 || math.Abs(math.Remainder(beta-wantBeta, 2*math.Pi)) > 0.01 || off > 0.005 {
				t.Errorf("e %g, α %g: M %g at β %g, of the short film %g at %g; estimate %g", e, alpha, m, beta, want, wantBeta, off)
			}
		}
	}
}

// Mirrored motion has the mirrored load.
func TestSqueezeIsMirrored(t *testing.T) {
	q := newSqueezer(0.4, 64)
	m, beta, _, err := q.at(0.55, 0.9)
	if err != nil {
		t.Fatal(err)
	}
	mirrored, other, _, err := q.at(0.55, -0.9)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(m/mirrored-1) > 1e-4 || math.Abs(beta+other) > 1e-4 || !(beta > 0) {
		t.Errorf("M %g at β %g, mirrored %g at %g", m, beta, mirrored, other)
	}
}

// The closed form of the short bearing against the sum over its film: exact in the middle, within 6.5 % for a journal that is
// displaced along the load, and on either side of it.
func TestShortMobility(t *testing.T) {
	thorough.SkipRaced(t)
	const ratio = 0.3
	middle := 1 / (math.Pi * ratio * ratio)
	if along, across := shortMobility(ratio, 0, 0); math.Abs(along/middle-1) > 1e-12 || across != 0 {
		t.Errorf("in the middle %g and %g, %g by hand", along, across, middle)
	}
	for _, e := range []float64{0.05, 0.3, 0.6, 0.9, 0.98} {
		for _, alpha := range []float64{0, math.Pi, 0.5, 1, 1.5, 2, 2.5, -1} {
			want, beta := shortFilm(ratio, e, alpha)
			// In the frame of the load the displacement lies at -β, and the velocity at α-β.
			along, across := shortMobility(ratio, e*math.Cos(beta), -e*math.Sin(beta))
			gotSize, gotAngle := math.Hypot(along, across), math.Atan2(across, along)
			most := 0.1
			if alpha == 0 || alpha == math.Pi {
				most = 0.065
			}
			if angle := math.Remainder(alpha-beta, 2*math.Pi); math.Abs(gotSize/want-1) > most || math.Abs(gotAngle-angle) > 0.07 {
				t.Errorf("e %g, α %g: M %g at %g, of the film %g at %g", e, alpha, gotSize, gotAngle, want, angle)
			}
		}
	}
}

// Between its nodes the map is what the solver says there.
func TestMapOfMobility(t *testing.T) {
	thorough.SkipRaced(t)
	for i, ratio := range []float64{1, 0.4} {
		if i%thorough.Every(2) != 0 {
			continue
		}
		m, err := NewMobility(ratio)
		if err != nil {
			t.Fatal(err)
		}
		q := newSqueezer(ratio, 128)
		worst := 0.0
		for _, e := range []float64{0.004, 0.13, 0.37, 0.66, 0.83, 0.94, 0.987} {
			for _, alpha := range []float64{0, 0.3, 0.9, 1.35, 1.7, 2.2, 2.9, math.Pi, -0.6, -2.4} {
				size, beta, _, err := q.at(e, alpha)
				if err != nil {
					t.Fatal(err)
				}
				along, across := m.At(e*math.Cos(beta), -e*math.Sin(beta))
				sin, cos := math.Sincos(alpha - beta)
				off := math.Hypot(along-size*cos, across-size*sin) / size
				worst = max(worst, off)
				if off > 0.02 {
					t.Errorf("L/D %g, e %g, α %g, β %g: M %g and %g, of the solver %g and %g", ratio, e, alpha, beta, along, across, size*cos, size*sin)
				}
			}
		}
		t.Logf("L/D %g: off by %.2g at the most, estimate %.2g", ratio, worst, m.Estimate)
	}
}

func TestMobilityErrors(t *testing.T) {
	for _, ratio := range []float64{0, -1, 0.01, 30, math.NaN(), math.Inf(1)} {
		_, err1 := NewMobility(ratio)
		_, err2 := ShortMobility(ratio)
		if !errors.Is(err1, ErrBearing) || !errors.Is(err2, ErrBearing) {
			t.Errorf("%g: %v, %v", ratio, err1, err2)
		}
	}
	if along, across := (Mobility{}).At(0.3, 0.2); along != 0 || across != 0 {
		t.Errorf("no mobility moves by %g and %g", along, across)
	}
	m, err := ShortMobility(0.5)
	if err != nil {
		t.Fatal(err)
	}
	if along, _ := m.At(1, 0); along != 0 {
		t.Errorf("a journal at the wall moves into it by %g", along)
	}
}
