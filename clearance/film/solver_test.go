package film

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/internal/thorough"
)

// drawProblem draws a film of each kind.
func drawProblem(t *rapid.T) problem {
	share := func(name string, most int) float64 { return float64(rapid.IntRange(1, most).Draw(t, name)) }
	q := problem{e: share("e in thousandths", 985) / 1000, kappa: 0.3 + share("κ in tenths", 300)/10, turning: 1}
	switch rapid.SampledFrom([]string{"starts", "land", "pocket", "squeeze"}).Draw(t, "kind") {
	case "starts":
		q.starts = true
	case "land":
		q.land, q.inner = true, share("inner", 100)/200
	case "pocket":
		q.patches = []patch{{at: share("at", 62) / 10, half: share("half", 40) / 100, z: share("z", 10) / 10, pressure: share("pressure", 100) * math.Pow(10, share("power", 8)-5)}}
	case "squeeze":
		q.turning = 0
		q.along, q.across = share("along", 20)-10.5, share("across", 20)-10.5
	}
	return q
}

// slow solves the same equations by the plainest method there is: node by node, whatever comes out
// below zero put to zero, until nothing moves.
func slow(q problem, n, m int) []float64 {
	s := newSolver(n, m)
	s.set(q)
	l := s.levels[0]
	for range 400_000 {
		moved, most := 0.0, 0.0
		for i := range n {
			for j := range m {
				k := i*m + j
				if l.fixed[k] {
					continue
				}
				before := l.p[k]
				l.p[k] = max(0, before-1.5*l.lacks(i, j)/l.diagonal(i, j))
				moved, most = max(moved, math.Abs(l.p[k]-before)), max(most, l.p[k])
			}
		}
		if moved <= 1e-12*most {
			break
		}
	}
	return l.p
}

// The multigrid solution is that of the plainest method.
func TestAgainstSlowSolver(t *testing.T) {
	thorough.SkipRaced(t)
	rapid.Check(t, func(t *rapid.T) {
		q := drawProblem(t)
		const n, m = 16, 3
		s := newSolver(n, m)
		s.set(q)
		if !s.solve(1e-8) { // a pocket's tie costs digits
			t.Fatalf("%+v: no solution", q)
		}
		want := slow(q, n, m)
		most := 0.0
		for _, p := range want {
			most = max(most, p)
		}
		for k, p := range s.levels[0].p {
			if math.Abs(p-want[k]) > 1e-5*most {
				t.Fatalf("%+v: node %d: %g, slowly %g", q, k, p, want[k])
			}
		}
	})
}

// Wherever there is pressure the equation holds, and elsewhere nothing pushes the film up.
func TestComplementarity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := drawProblem(t)
		s := newSolver(64, 8)
		s.set(q)
		if !s.solve(1e-7) {
			t.Fatalf("%+v: no solution", q)
		}
		l := s.levels[0]
		for k, p := range l.p {
			if p < 0 || math.IsNaN(p) {
				t.Fatalf("%+v: pressure %g", q, p)
			}
			lacks := l.lacks(k/l.m, k%l.m)
			switch {
			case l.fixed[k]:
			case p > 0 && math.Abs(lacks) > 1e-5*(s.size+l.diagonal(k/l.m, k%l.m)*p)+1e-7*s.drive():
				t.Fatalf("%+v: the equation is off by %g where the pressure is %g", q, lacks, p)
			case p == 0 && lacks < -1e-5*s.size-1e-7*s.drive():
				t.Fatalf("%+v: the film would be pushed up by %g where it is held at zero", q, -lacks)
			}
		}
	})
}

// Half the width with a middle about which it is symmetric is the same as the whole width, which
// is a land whose inner edge is at ambient pressure as well.
func TestHalfIsWhole(t *testing.T) {
	for _, q := range []problem{
		{e: 0.13, kappa: 1, turning: 1}, {e: 0.72, kappa: 2.3, turning: 1}, {e: 0.94, kappa: 0.6, turning: 1},
		{e: 0.5, kappa: 1.7, along: 1, across: -0.4},
	} {
		const n, m = 64, 8
		half, whole := newSolver(n, m), newSolver(n, 2*m)
		half.set(q)
		q.land, q.kappa = true, q.kappa/2 // D/L and R/L
		whole.set(q)
		if !half.solve(1e-10) || !whole.solve(1e-10) {
			t.Fatalf("%+v: no solution", q)
		}
		a, b := half.levels[0], whole.levels[0]
		most := 0.0
		for _, p := range a.p {
			most = max(most, p)
		}
		for i := range n {
			for j := range m {
				one, other, mirrored := a.p[i*m+j], b.p[i*2*m+m+j], b.p[i*2*m+m-j]
				if math.Abs(one-other) > 1e-7*most || math.Abs(one-mirrored) > 1e-7*most {
					t.Fatalf("%+v: column %d row %d: %g, in the whole %g and %g", q, i, j, one, other, mirrored)
				}
			}
		}
	}
}

// What two grids are extrapolated to changes by less than 0.3 % on a third one.
func TestConverged(t *testing.T) {
	for r, ratio := range []float64{1, 0.5, 0.25} {
		for i, e := range []float64{0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9} {
			if (r+i)%thorough.Every(4) != 0 {
				continue
			}
			st := setting{kappa: 1 / ratio, share: 1}
			first, _, err := newModel(st, 128).full(e, 0)
			if err != nil {
				t.Fatal(err)
			}
			second, off, err := newModel(st, 256).full(e, 0)
			if err != nil {
				t.Fatal(err)
			}
			for name, x := range map[string][2]float64{
				"S": {first.s, second.s}, "friction": {first.friction, second.friction},
				"flow": {first.flow, second.flow}, "side flow": {first.side, second.side},
				"peak": {first.peak, second.peak},
			} {
				if change := math.Abs(x[0]/x[1] - 1); change > 0.003 {
					t.Errorf("L/D %g, e %g: %s changes by %.2f %% on a third grid", ratio, e, name, 100*change)
				}
			}
			if change := math.Abs(first.attitude-second.attitude) * degree; change > 0.05 {
				t.Errorf("L/D %g, e %g: attitude changes by %.3f°", ratio, e, change)
			}
			if off.s/second.s > 0.002 {
				t.Errorf("L/D %g, e %g: estimate %g", ratio, e, off.s/second.s)
			}
		}
	}
}

// What passes the thickest film and not the end of it leaves at the edges.
func TestFlowBalances(t *testing.T) {
	thorough.SkipRaced(t)
	for _, c := range []struct{ ratio, e float64 }{{1, 0.35}, {0.5, 0.8}, {0.25, 0.6}, {0.7, 0.93}} {
		s := newSolver(256, 32)
		s.set(problem{e: c.e, kappa: 1 / c.ratio, turning: 1, starts: true})
		if !s.solve(1e-9) {
			t.Fatal(c)
		}
		l := s.levels[0]
		r := s.integrals()
		ends, edge := 0.0, 1.0
		for j := range l.m {
			edge -= l.w[j]
			i := l.n / 4
			for l.p[i*l.m+j] > 0 {
				i++
			}
			through := l.face[i-1] - l.a[i-1]*(l.p[i*l.m+j]-l.p[(i-1)*l.m+j])
			ends += l.w[j] * through
			if j == l.m-1 {
				ends += edge * l.face[i-1]
			}
		}
		if side := r.enters - math.Pi*ends; math.Abs(side/r.side-1) > 0.01 {
			t.Errorf("%+v: %g enter and %g pass the end, so %g leave; at the edges %g do", c, r.enters, math.Pi*ends, side, r.side)
		}
	}
}

// A circumferential groove at a pressure that keeps the film whole feeds what leaves at the edges, and the
// flow is that through a slit of varying height:
//
//	Qs/(RcNL) = 2 · (ps/12µl) ∫h³ R dθ / (RcNL), with ∫(1+ε cos θ)³ dθ = 2π (1 + 1.5 ε²)
func TestFlowOfALand(t *testing.T) {
	const e, pressure, kappa = 0.4, 20, 3.1
	s := newSolver(128, 16)
	s.set(problem{e: e, kappa: kappa, turning: 1, land: true, inner: pressure})
	if !s.solve(1e-9) {
		t.Fatal("no solution")
	}
	r := s.integrals()
	// In units of 6µω(R/c)² and of the land, π κ² p̂ ∫h³dθ; the shear flow adds nothing in all.
	want := math.Pi * kappa * kappa * pressure * 2 * math.Pi * (1 + 1.5*e*e)
	if math.Abs(r.side/want-1) > 1e-3 || math.Abs(r.fed/want-1) > 1e-3 {
		t.Errorf("%g leave and %g are fed, in closed form %g", r.side, r.fed, want)
	}
}

// With less pressure the film breaks down, and what is fed falls short of what leaves by what
// lacks where it forms again.
func TestGroovesFeedAndLack(t *testing.T) {
	for _, q := range []problem{
		{e: 0.7, kappa: 3, turning: 1, land: true, inner: 0.02},
		{e: 0.6, kappa: 2, turning: 1, patches: []patch{{at: 0.4, half: 0.2, z: 0.6, pressure: 0.1}}},
	} {
		s := newSolver(256, 32)
		s.set(q)
		if !s.solve(1e-7) {
			t.Fatal(q)
		}
		l := s.levels[0]
		r := s.integrals()
		lacks := 0.0
		edge := 1.0
		for j := range l.m {
			edge -= l.w[j]
		}
		for k, p := range l.p {
			if p == 0 && !l.fixed[k] {
				lacks += l.lacks(k/l.m, k%l.m)
				if k%l.m == l.m-1 { // and of the half row at the edge
					lacks -= l.g[k] / l.w[l.m-1] * edge
				}
			}
		}
		if lacks *= math.Pi; math.Abs((r.fed+lacks)/r.side-1) > 0.01 {
			t.Errorf("%+v: %g fed and %g lacking, %g leave", q, r.fed, lacks, r.side)
		}
	}
}
