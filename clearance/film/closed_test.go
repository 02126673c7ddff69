package film

import (
	"errors"
	"math"
	"testing"

	"example.com/closefit/internal/thorough"
	"example.com/closefit/units"
)

func degrees(a units.Angle) float64 { return a.Float64(units.Degree) }

// At L/D = 0.05 the film is that of the short bearing within 1 % up to an eccentricity of 0.8. Beyond, a
// bearing of that width is not short any more, as the film gets short round as well: what is left falls
// with the square of L/D.
func TestShortIsTheLimit(t *testing.T) {
	thorough.SkipRaced(t)
	for _, e := range []float64{0.1, 0.3, 0.5, 0.7, 0.8} {
		n, _, err := Solve(0.05, e)
		if err != nil {
			t.Fatal(err)
		}
		s, err := Short(0.05, e)
		if err != nil {
			t.Fatal(err)
		}
		for name, x := range map[string][2]float64{
			"S": {n.Sommerfeld, s.Sommerfeld}, "friction": {n.Friction, s.Friction}, "flow": {n.Flow, s.Flow},
			"side flow": {n.SideFlow, s.SideFlow}, "peak": {n.Peak, s.Peak},
		} {
			if math.Abs(x[0]/x[1]-1) > 0.01 {
				t.Errorf("e %g: %s is %g, of the short bearing %g", e, name, x[0], x[1])
			}
		}
		if math.Abs(degrees(n.Attitude)-degrees(s.Attitude)) > 0.1 || math.Abs(degrees(n.PeakAt)-degrees(s.PeakAt)) > 1 {
			t.Errorf("e %g: attitude %v and peak at %v, of the short bearing %v and %v", e, n.Attitude, n.PeakAt, s.Attitude, s.PeakAt)
		}
	}
	off := func(ratio float64) float64 {
		n, _, err1 := Solve(ratio, 0.9)
		s, err2 := Short(ratio, 0.9)
		if err := errors.Join(err1, err2); err != nil {
			t.Fatal(err)
		}
		return n.Sommerfeld/s.Sommerfeld - 1
	}
	if wide, narrow := off(0.05), off(0.025); !(wide < 0.02 && math.Abs(wide/narrow-4) < 0.2) {
		t.Errorf("e 0.9: off by %g at 0.05 and %g at 0.025, not by a quarter of it", wide, narrow)
	}
}

// At L/D = 20 the middle is that of the endlessly wide bearing. The load is not yet, by what both ends lack,
// which is in proportion to D/L: extrapolated from 10 and 20 it is.
func TestLongIsTheLimit(t *testing.T) {
	thorough.SkipRaced(t)
	for _, e := range []float64{0.2, 0.5, 0.8} {
		long, err := Long(e)
		if err != nil {
			t.Fatal(err)
		}
		at := map[float64]Numbers{}
		for _, ratio := range []float64{10, 20} {
			n, _, err := Solve(ratio, e)
			if err != nil {
				t.Fatal(err)
			}
			at[ratio] = n
		}
		// Peak is in units of P, and P/S is in units of µN(R/c)².
		middle := (at[20].Peak / at[20].Sommerfeld) / (long.Peak / long.Sommerfeld)
		if math.Abs(middle-1) > 0.002 {
			t.Errorf("e %g: the peak in the middle is %g of the long bearing's", e, middle)
		}
		load := 2/at[20].Sommerfeld - 1/at[10].Sommerfeld
		if math.Abs(load*long.Sommerfeld-1) > 0.003 {
			t.Errorf("e %g: the load comes to %g of the long bearing's", e, load*long.Sommerfeld)
		}
		flow := 2*at[20].Flow - at[10].Flow
		if math.Abs(flow/long.Flow-1) > 0.01 {
			t.Errorf("e %g: the flow comes to %g of the long bearing's", e, flow/long.Flow)
		}
		if math.Abs(degrees(at[20].Attitude)-degrees(long.Attitude)) > 0.5 {
			t.Errorf("e %g: attitude %v, of the long bearing %v", e, at[20].Attitude, long.Attitude)
		}
	}
}

// The closed forms against sums over their pressures: dp/dθ = (h - h₀)/h³, with h₀ such that the pressure
// comes back to zero where the film ends.
func TestLongBySums(t *testing.T) {
	thorough.Long(t)
	const e, steps = 0.37, 200_000
	sums := func(end, h0 float64) (last, radial, tangential, peak, peakAt float64) {
		p, d := 0.0, end/steps
		for i := range steps {
			theta := (float64(i) + 0.5) * d
			h := 1 + e*math.Cos(theta)
			before := p
			p += (h - h0) / (h * h * h) * d
			radial -= (p + before) / 2 * math.Cos(theta) * d
			tangential += (p + before) / 2 * math.Sin(theta) * d
			if p > peak {
				peak, peakAt = p, theta+d/2
			}
		}
		return p, radial, tangential, peak, peakAt
	}
	check := func(name string, n Numbers, end, h0 float64) {
		last, radial, tangential, peak, peakAt := sums(end, h0)
		w := math.Hypot(radial, tangential)
		attitude := math.Atan2(tangential, radial)
		for what, x := range map[string][2]float64{
			"S": {n.Sommerfeld, 1 / (6 * math.Pi * w)}, "attitude": {degrees(n.Attitude), attitude * degree},
			"peak": {n.Peak, 2 * peak / w}, "peak's place": {degrees(n.PeakAt), (peakAt-math.Pi+attitude)*degree + 0},
			"flow": {n.Flow, math.Pi * h0},
		} {
			if math.Abs(x[0]-x[1]) > 1e-3*(1+math.Abs(x[1])) || math.Abs(last) > 1e-4 {
				t.Errorf("%s: %s is %g, by sums %g", name, what, x[0], x[1])
			}
		}
	}
	full, err := FullLong(e)
	if err != nil {
		t.Fatal(err)
	}
	check("full film", full, 2*math.Pi, 2*(1-e*e)/(2+e*e))

	long, err := Long(e)
	if err != nil {
		t.Fatal(err)
	}
	// The end by bisection: pressure and slope vanish there, so h₀ is the height there.
	lo, hi := math.Pi, 1.5*math.Pi
	for range 40 {
		mid := (lo + hi) / 2
		if last, _, _, _, _ := sums(mid, 1+e*math.Cos(mid)); last > 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	check("half film", long, lo, 1+e*math.Cos(lo))
	if end := degrees(long.FilmEnd) - degrees(long.Attitude) + 180; math.Abs(end-lo*degree) > 0.01 {
		t.Errorf("the film ends at %g°, by bisection %g°", end, lo*degree)
	}
}

// A light load is carried at Petroff's friction.
func TestPetroffIsTheLimit(t *testing.T) {
	n, _, err := Solve(0.6, 0.002)
	if err != nil {
		t.Fatal(err)
	}
	f, err := Petroff(n.Sommerfeld)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(n.Friction/f-1) > 1e-4 {
		t.Errorf("friction %g, Petroff's %g", n.Friction, f)
	}
}

func TestClosedFormErrors(t *testing.T) {
	for _, e := range []float64{0, 1, -0.5, 1.5, math.NaN(), math.Inf(1)} {
		_, err1 := Short(0.5, e)
		_, err2 := Long(e)
		_, err3 := FullLong(e)
		_, _, err4 := Solve(0.5, e)
		for _, err := range []error{err1, err2, err3, err4} {
			if !errors.Is(err, ErrEccentricity) {
				t.Errorf("%g: %v", e, err)
			}
		}
	}
	for _, ratio := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		_, err1 := Short(ratio, 0.5)
		_, _, err2 := Solve(ratio, 0.5)
		if !errors.Is(err1, ErrBearing) || !errors.Is(err2, ErrBearing) {
			t.Errorf("%g: %v, %v", ratio, err1, err2)
		}
	}
	for _, s := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if _, err := Petroff(s); !errors.Is(err, ErrNoFilm) {
			t.Errorf("%g: %v", s, err)
		}
	}
}
