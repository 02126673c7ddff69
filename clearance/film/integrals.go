package film

import "math"

// raw are the integrals of a solved film, dimensionless.
type raw struct {
	radial, tangential float64 // load along the line of centres, and across it; in 6 µω(R/c)²·RL
	shear, push        float64 // ∫∫ dθdz/h and ∫∫ h ∂p/∂θ dθdz
	peak, peakAt       float64
	endsAt             float64 // where the film ends, in the middle; 2π if it does not
	enters             float64 // flow past the thickest film, in RcNL
	fed                float64 // flow out of grooves, in RcNL
	side               float64 // flow out of the edges, in RcNL
	left               float64 // what the equation lacks, relative to the flow
}

// integrals sums the finest grid up.
func (s *solver) integrals() raw {
	l := s.levels[0]
	n, m := l.n, l.m
	var r raw
	edge := 1.0 // height of the half row at the edge, where p = 0
	for _, w := range l.w {
		edge -= w
	}
	best := 0
	for i := range n {
		before, after := (i+n-1)%n, (i+1)%n
		sin, cos := math.Sincos(l.theta[i])
		for j := range m {
			k := i*m + j
			p := l.p[k]
			area := l.width[i] * l.w[j]
			r.radial -= p * cos * area
			r.tangential += p * sin * area
			r.push += l.face[i] * (l.p[after*m+j] - p) * l.w[j]
			r.shear += area / l.h[i] * (1 - l.patched[k])
			if p > l.p[best] {
				best = k
			}
			switch {
			case l.fixed[k]:
				r.fed += l.lacks(i, j)
			case l.pull[k] > 0:
				r.fed += l.pull[k] * (s.patches[0].pressure - p)
			}
		}
		r.shear += edge * l.width[i] / l.h[i]
		last := l.p[i*m+m-1]
		if last > 0 {
			r.side += l.b[i]*l.c[m-1]*last - s.turning*(l.face[i]-l.face[before])*edge
		}
	}
	for j := range m {
		r.enters += l.w[j] * (l.face[0] - l.a[0]*(l.p[m+j]-l.p[j]))
	}
	r.enters = math.Pi * (r.enters + edge*l.face[0])
	r.side *= math.Pi
	r.fed *= math.Pi
	r.peak, r.peakAt = s.peak(best/m, best%m)
	r.endsAt = s.end()
	r.left = math.Pi * l.residual() / r.enters
	return r
}

// lacks is Ap - g at a node: what must flow in there.
func (l *level) lacks(i, j int) float64 {
	n, m := l.n, l.m
	before, after := (i+n-1)%n, (i+1)%n
	p := l.p[i*m+j]
	v := l.w[j]*(l.a[i]*(p-l.p[after*m+j])+l.a[before]*(p-l.p[before*m+j])) + l.pull[i*m+j]*p
	above := 0.0
	if j+1 < m {
		above = l.p[i*m+j+1]
	}
	v += l.b[i] * l.c[j] * (p - above)
	if j > 0 {
		v += l.b[i] * l.c[j-1] * (p - l.p[i*m+j-1])
	}
	return v - l.g[i*m+j]
}

// peak is the largest pressure and where, by the parabola through its neighbours.
func (s *solver) peak(i, j int) (value, at float64) {
	l := s.levels[0]
	n, m := l.n, l.m
	before, after := (i+n-1)%n, (i+1)%n
	t0 := math.Remainder(l.theta[before]-l.theta[i], 2*math.Pi)
	t2 := math.Remainder(l.theta[after]-l.theta[i], 2*math.Pi)
	p0, p1, p2 := l.p[before*m+j], l.p[i*m+j], l.p[after*m+j]
	value, at = p1, l.theta[i]
	if !(p1 > 0) || p0 == p1 || p2 == p1 {
		return value, at
	}
	d0, d2 := (p0-p1)/t0, (p2-p1)/t2
	curve := (d2 - d0) / (t2 - t0)
	slope := d0 - curve*t0
	if !(curve < 0) {
		return value, at
	}
	x := -slope / (2 * curve)
	if x < t0 || x > t2 {
		return value, at
	}
	return p1 + x*(slope+curve*x), math.Mod(at+x+2*math.Pi, 2*math.Pi)
}

// end is where the film ends in the row of the middle, or the middle of a land: pressure
// falls to zero there as the square of the distance.
func (s *solver) end() float64 {
	l := s.levels[0]
	j := 0
	if s.land {
		j = l.m / 2
	}
	first := l.n / 4
	for i := first; i < l.n; i++ {
		if l.p[i*l.m+j] > 0 {
			continue
		}
		if i < first+2 {
			return l.theta[i]
		}
		far, near := math.Sqrt(l.p[(i-2)*l.m+j]), math.Sqrt(l.p[(i-1)*l.m+j])
		x := l.theta[i-1]
		if far > near {
			x += near / (far - near) * (l.theta[i-1] - l.theta[i-2])
		}
		return math.Min(x, l.theta[i]+(l.theta[i]-l.theta[i-1]))
	}
	return 2 * math.Pi
}
