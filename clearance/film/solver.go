package film

import "math"

// The dimensionless Reynolds equation of a film of height h = 1 + e cos θ, in units of the
// radial clearance, θ running with the journal from where the film is thickest:
//
//	∂/∂θ (h³ ∂p/∂θ) + κ² ∂/∂z (h³ ∂p/∂z) = s,   p >= 0, and p = 0 wherever it does not hold
//
// p is in units of 6 µω(R/c)². z runs from 0 to 1 over the half width L/2 of a bearing that
// is symmetric about its middle, κ = D/L, or over one land between a groove and an edge, κ = R/l.
// s is ∂h/∂θ for a journal that turns, and 2(ė cos θ + eφ̇ sin θ) for one that moves.
// Where both hold at once, p and its slope vanish together: the film ends by the condition
// of Reynolds (Swift and Stieber), as a result and not by cutting off a full film.
//
// Finite volumes of second order lie on columns that crowd where the film is thin and on
// rows that crowd towards the edges. The complementarity problem is solved by full
// approximation multigrid (Brandt and Cryer, SIAM J. Sci. Stat. Comput. 4, 1983) with
// relaxation of whole columns and coarsening of columns alone, which together serve wide
// and narrow bearings alike. Every column is an exact complementarity problem.

// A problem is one film to solve.
type problem struct {
	e     float64 // eccentricity ratio
	kappa float64

	// turning is whether the journal turns, in units of ω; along and across are the
	// velocity of its centre, ė and eφ̇.
	turning       float64
	along, across float64

	land    bool    // z spans a land from a groove to an edge, not from the middle to an edge
	inner   float64 // pressure at the groove of a land
	starts  bool    // the film starts at θ = 0 at ambient pressure; else it goes round
	patches []patch
}

// A patch is a groove or hole that holds the film at a pressure. It reaches from half before
// at to half behind it, and from the middle to z.
type patch struct {
	at, half float64 // rad
	z        float64
	pressure float64
}

// covered is the part of an interval of angles that the patch covers.
func (t patch) covered(from, to float64) float64 {
	middle := math.Remainder((from+to)/2-t.at, 2*math.Pi)
	half := (to - from) / 2
	return max(0, min(middle+half, t.half)-max(middle-half, -t.half)) / (2 * half)
}

// crowding is how much closer rows lie at an edge than on average, and most how far the
// crowding of columns goes, by the parameter of Sommerfeld's substitution.
const (
	crowding     = 0.5
	mostCrowding = 0.85
)

// fewest is the number of columns of the coarsest level.
const fewest = 8

// A level is one grid.
type level struct {
	n, m int // columns and rows; row m is the edge, where p = 0, and is not stored

	theta, width []float64 // of columns: place and width
	behind       []float64 // how far a column reaches back from its place
	h, face      []float64 // height at columns, and between column i and the next
	z, w         []float64 // of rows: place and height
	a, b         []float64 // conductance between columns i and i+1; of column i along z
	c            []float64 // between rows j and j+1
	fixed        []bool    // by node: the pressure is given
	patched      []float64 // by node: the part of it that patches cover
	pull         []float64 // by node: conductance to the patch
	some, all    []bool    // by column: whether some and all of it is given
	pivot        []float64 // of each column's elimination, for a column with nothing given and no end of the film

	p, g, r, kept []float64 // by node: pressure, right side, residual, pressure before the correction
	off           []float64 // by row: what the elimination of the column at hand uses
	rhs, x        []float64
	active        []bool
	near          []bool // by column: it is near the film's end
}

// A solver holds the grids of a problem, from fine to coarse.
type solver struct {
	levels []*level
	problem
	size  float64 // of the right side, for comparison with the residual
	empty bool    // nothing was solved yet
	ran   int     // cycles of the last solution
	ends  int     // sweeps about the end of the film after a correction
}

// newSolver makes grids of n columns, a power of two times fewest at the most, and m rows.
func newSolver(n, m int) *solver {
	s := &solver{empty: true}
	for ; n >= fewest; n /= 2 {
		l := &level{n: n, m: m}
		for _, of := range []*[]float64{&l.theta, &l.width, &l.behind, &l.h, &l.face, &l.a, &l.b} {
			*of = make([]float64, n)
		}
		for _, of := range []*[]float64{&l.z, &l.w, &l.c, &l.off, &l.rhs, &l.x} {
			*of = make([]float64, m)
		}
		for _, of := range []*[]float64{&l.p, &l.g, &l.r, &l.kept, &l.pivot} {
			*of = make([]float64, n*m)
		}
		l.patched, l.pull = make([]float64, n*m), make([]float64, n*m)
		l.near = make([]bool, n)
		l.fixed, l.some, l.all, l.active = make([]bool, n*m), make([]bool, n), make([]bool, n), make([]bool, m)
		s.levels = append(s.levels, l)
	}
	return s
}

// place maps the unit interval of columns to the angle: Sommerfeld's substitution, by
// which columns crowd where the film is thin.
func (q *problem) place(t float64) float64 {
	k := mostCrowding * q.e
	g := math.Mod(2*math.Pi*t, 2*math.Pi)
	half := math.Sqrt((1+k)/(1-k)) * math.Tan(g/2)
	switch {
	case g == math.Pi:
		return math.Pi
	case g > math.Pi:
		return 2*math.Pi + 2*math.Atan(half)
	}
	return 2 * math.Atan(half)
}

// row maps the unit interval of rows to z.
func (q *problem) row(t float64) float64 {
	if q.land {
		return t - crowding*math.Sin(2*math.Pi*t)/(2*math.Pi)
	}
	return t + crowding*math.Sin(math.Pi*t)/math.Pi
}

// set lays the grids out for a problem. Pressures stay as they were, for a start near
// the solution, but where they are given.
func (s *solver) set(q problem) {
	s.problem = q
	var finer *level
	for _, l := range s.levels {
		l.set(&q, finer)
		finer = l
	}
	fine := s.levels[0]
	inPatch := 0.0
	if len(q.patches) > 0 {
		inPatch = q.patches[0].pressure
	}
	s.size = 0
	for i := range fine.n {
		before := (i + fine.n - 1) % fine.n
		source := q.turning * (fine.face[i] - fine.face[before])
		source += 2 * (q.along*math.Cos(fine.theta[i]) + q.across*math.Sin(fine.theta[i])) * fine.width[i]
		for j := range fine.m {
			k := i*fine.m + j
			fine.g[k] = -source*fine.w[j] + fine.pull[k]*inPatch
			s.size += math.Abs(source) * fine.w[j]
		}
	}
}

func (l *level) set(q *problem, finer *level) {
	n, m := l.n, l.m
	height := func(theta float64) float64 { return 1 + q.e*math.Cos(theta) }
	var first, previous float64
	for i := range n {
		l.theta[i] = q.place(float64(i) / float64(n))
		l.h[i] = height(l.theta[i])
		at := q.place((float64(i) + 0.5) / float64(n))
		l.face[i] = height(at)
		next := q.place(float64(i+1) / float64(n))
		if i == n-1 {
			next = 2 * math.Pi
		}
		l.a[i] = cube(l.face[i]) / (next - l.theta[i])
		if i == 0 {
			first = at
		} else {
			l.width[i], l.behind[i] = at-previous, l.theta[i]-previous
		}
		previous = at
	}
	l.width[0], l.behind[0] = first+2*math.Pi-previous, 2*math.Pi-previous
	for i := range n {
		l.b[i] = q.kappa * q.kappa * cube(l.h[i]) * l.width[i]
	}
	last := 0.0
	for j := range m {
		l.z[j] = q.row(float64(j) / float64(m))
		at := q.row((float64(j) + 0.5) / float64(m))
		l.w[j] = at - last
		last = at
		l.c[j] = 1 / (q.row(float64(j+1)/float64(m)) - l.z[j])
	}
	l.give(q)
	if finer == nil {
		l.patch(q)
	} else {
		l.gather(finer)
	}
	for i := range n {
		if l.some[i] {
			continue
		}
		d, off := l.pivot[i*m:(i+1)*m], 0.0
		for j := range m {
			v := l.diagonal(i, j)
			if j > 0 {
				v -= off * off * d[j-1]
			}
			d[j] = 1 / v
			off = l.b[i] * l.c[j]
		}
	}
}

// give marks the nodes whose pressure is given and sets it.
func (l *level) give(q *problem) {
	for i := range l.n {
		l.some[i], l.all[i] = false, true
		for j := range l.m {
			k := i*l.m + j
			value, given := 0.0, false
			switch {
			case q.starts && i == 0:
				given = true
			case q.land && j == 0:
				value, given = q.inner, true
			}
			l.fixed[k] = given
			l.some[i] = l.some[i] || given
			l.all[i] = l.all[i] && given
			if given {
				l.p[k] = value
			}
		}
	}
}

// patch ties nodes to the patches that cover them: fully covered ones take their pressure,
// others the more of it the more is covered, so that the film changes smoothly with the
// place of a patch.
func (l *level) patch(q *problem) {
	clear(l.pull)
	clear(l.patched)
	for _, t := range q.patches {
		for i := range l.n {
			from := l.theta[i] - l.behind[i]
			around := t.covered(from, from+l.width[i])
			if around == 0 {
				continue
			}
			below := 0.0
			for j := range l.m {
				across := max(0, min(1, (t.z-below)/l.w[j]))
				below += l.w[j]
				l.patched[i*l.m+j] = min(1, l.patched[i*l.m+j]+around*across)
			}
		}
	}
	for k, part := range l.patched {
		if part > 0 {
			l.pull[k] = part / (1 - part + 1e-5) * l.diagonal(k/l.m, k%l.m)
		}
	}
}

// gather takes the ties to patches over from a level twice as fine, with the weights of its residuals: whatever a patch
// holds there is held as firmly here, also between the columns.
func (l *level) gather(finer *level) {
	m := l.m
	for i := range l.n {
		self, before, after := 2*i, (2*i+finer.n-1)%finer.n, 2*i+1
		for j := range m {
			l.pull[i*m+j] = finer.pull[self*m+j] + 0.5*(finer.pull[before*m+j]+finer.pull[after*m+j])
		}
	}
}

func cube(x float64) float64 { return x * x * x }

// diagonal is the coefficient of a node in its own equation.
func (l *level) diagonal(i, j int) float64 {
	along := l.a[i] + l.a[(i+l.n-1)%l.n]
	across := l.c[j]
	if j > 0 {
		across += l.c[j-1]
	}
	return l.w[j]*along + l.b[i]*across + l.pull[i*l.m+j]
}

// relax solves each column in turn, its neighbours held.
func (l *level) relax(times int) {
	for range times {
		for i := range l.n {
			l.relaxColumn(i)
		}
	}
}

func (l *level) relaxColumn(i int) {
	if l.all[i] {
		return
	}
	if l.some[i] {
		l.endColumn(i)
		return
	}
	// Eliminate with the pivots at hand; most columns lie in the film as a whole.
	m, before, after := l.m, (i+l.n-1)%l.n, (i+1)%l.n
	p, g, d := l.p[i*m:(i+1)*m], l.g[i*m:(i+1)*m], l.pivot[i*m:(i+1)*m]
	back, ahead := l.p[before*m:(before+1)*m], l.p[after*m:(after+1)*m]
	x, w, c := l.x[:m], l.w[:m], l.c[:m]
	al, ar, b := l.a[before], l.a[i], l.b[i]
	passed := 0.0
	for j, push := range g {
		v := (push + w[j]*(ar*ahead[j]+al*back[j]) + passed) * d[j]
		x[j] = v
		passed = b * c[j] * v
	}
	next, least := 0.0, 0.0
	for j := m - 1; j >= 0; j-- {
		next = x[j] + b*c[j]*d[j]*next
		x[j] = next
		least = min(least, next)
	}
	if least >= 0 {
		copy(p, x)
		return
	}
	l.endColumn(i)
}

// endColumn solves the column as a complementarity problem: nodes that come out below zero
// are held at zero, and let go again where the film would push them up.
func (l *level) endColumn(i int) {
	m := l.m
	p, fixed := l.p[i*m:(i+1)*m], l.fixed[i*m:(i+1)*m]
	rhs, x, d, active := l.rhs, l.x, l.off, l.active
	b, c := l.b[i], l.c
	before, after := (i+l.n-1)%l.n, (i+1)%l.n
	for j := range m {
		rhs[j] = l.g[i*m+j] + l.w[j]*(l.a[i]*l.p[after*m+j]+l.a[before]*l.p[before*m+j])
		active[j] = !fixed[j] && p[j] == 0
	}
	held := func(j int) bool { return fixed[j] || active[j] }
	for range 2*m + 4 {
		for j := range m { // x holds the right side first
			if held(j) {
				d[j] = 0
				x[j] = 0
				if fixed[j] {
					x[j] = p[j]
				}
				continue
			}
			v, s := l.diagonal(i, j), rhs[j]
			if j > 0 {
				if k := b * c[j-1]; held(j - 1) {
					s += k * x[j-1]
				} else {
					v -= k * k * d[j-1]
					s += k * x[j-1]
				}
			}
			d[j] = 1 / v
			x[j] = s * d[j]
		}
		for j := m - 2; j >= 0; j-- {
			if !held(j) {
				x[j] += b * c[j] * d[j] * x[j+1]
			}
		}
		changed := false
		for j := range m {
			switch {
			case fixed[j]:
			case active[j]:
				push := rhs[j]
				if j > 0 {
					push += b * c[j-1] * x[j-1]
				}
				if j+1 < m {
					push += b * c[j] * x[j+1]
				}
				if push > 0 {
					active[j], changed = false, true
				}
			case x[j] < 0:
				active[j], changed = true, true
			}
		}
		if !changed {
			break
		}
	}
	for j := range m {
		if !fixed[j] {
			p[j] = max(0, x[j])
		}
	}
}

// residual fills r with g - Ap, and returns the sum of its magnitudes where the equation
// must hold, and of what is above zero where p is zero.
func (l *level) residual() float64 {
	m := l.m
	sum := 0.0
	for i := range l.n {
		before, after := (i+l.n-1)%l.n, (i+1)%l.n
		al, ar, b := l.a[before], l.a[i], l.b[i]
		p, g, r := l.p[i*m:(i+1)*m], l.g[i*m:(i+1)*m], l.r[i*m:(i+1)*m]
		back, ahead := l.p[before*m:(before+1)*m], l.p[after*m:(after+1)*m]
		down := 0.0 // flow from row j to j-1, of conductance b
		for j := range m {
			above := 0.0
			if j+1 < m {
				above = p[j+1]
			}
			up := l.c[j] * (above - p[j])
			r[j] = g[j] + l.w[j]*(ar*(ahead[j]-p[j])+al*(back[j]-p[j])) + b*(up-down) - l.pull[i*m+j]*p[j]
			down = up
			switch {
			case l.fixed[i*m+j]:
				r[j] = 0
			case p[j] > 0 && l.pull[i*m+j] > 0:
				// A firm tie takes up what lacks; what is left of it for the neighbours counts.
				sum += math.Abs(r[j]) * (1 - l.pull[i*m+j]/l.diagonal(i, j))
			case p[j] > 0:
				sum += math.Abs(r[j])
			default:
				sum += max(0, r[j])
			}
		}
	}
	return sum
}

// cycle is one V-cycle from a level down.
func (s *solver) cycle(k int) {
	fine := s.levels[k]
	if k == len(s.levels)-1 {
		fine.relax(12)
		return
	}
	fine.relax(2)
	coarse := s.levels[k+1]
	fine.residual()
	m := fine.m
	for i := range coarse.n {
		self, before, after := 2*i, (2*i+fine.n-1)%fine.n, 2*i+1
		for j := range m {
			v := fine.p[self*m+j]
			coarse.p[i*m+j], coarse.kept[i*m+j] = v, v
			if coarse.fixed[i*m+j] {
				continue
			}
			r := fine.r[self*m+j]
			left, right := fine.r[before*m+j], fine.r[after*m+j]
			if v > 0 { // what lies beyond the end of the film does not count for it
				if fine.p[before*m+j] == 0 {
					left = 0
				}
				if fine.p[after*m+j] == 0 {
					right = 0
				}
			}
			coarse.g[i*m+j] = r + 0.5*(left+right)
		}
	}
	coarse.addOperator()
	s.cycle(k + 1)
	for i := range coarse.n {
		next := (i + 1) % coarse.n
		for j := range m {
			here := coarse.p[i*m+j] - coarse.kept[i*m+j]
			there := coarse.p[next*m+j] - coarse.kept[next*m+j]
			fine.correct(2*i*m+j, here)
			fine.correct((2*i+1)*m+j, 0.5*(here+there))
		}
	}
	fine.relaxEnd(s.ends)
	fine.relax(1)
}

// reach is how many columns to either side of the film's end relaxEnd takes along.
const reach = 3

// relaxEnd relaxes the columns about the end of the film, forward and back. A correction moves the end by
// coarse columns; without this the two can undo each other for ever.
func (l *level) relaxEnd(times int) {
	n, m := l.n, l.m
	clear(l.near)
	for i := range n {
		before, after := (i+n-1)%n, (i+1)%n
		for j := range m {
			if l.p[i*m+j] > 0 && (l.p[after*m+j] == 0 || l.p[before*m+j] == 0) {
				for d := -reach; d <= reach; d++ {
					l.near[(i+d+n)%n] = true
				}
				break
			}
		}
	}
	for range times {
		for i := range n {
			if l.near[i] {
				l.relaxColumn(i)
			}
		}
		for i := n - 1; i >= 0; i-- {
			if l.near[i] {
				l.relaxColumn(i)
			}
		}
	}
}

func (l *level) correct(k int, by float64) {
	if !l.fixed[k] {
		l.p[k] = max(0, l.p[k]+by)
	}
}

// addOperator adds Ap to g.
func (l *level) addOperator() {
	m := l.m
	for i := range l.n {
		before, after := (i+l.n-1)%l.n, (i+1)%l.n
		al, ar, b := l.a[before], l.a[i], l.b[i]
		down := 0.0
		for j := range m {
			v, above := l.p[i*m+j], 0.0
			if j+1 < m {
				above = l.p[i*m+j+1]
			}
			up := l.c[j] * (above - v)
			l.g[i*m+j] -= l.w[j]*(ar*(l.p[after*m+j]-v)+al*(l.p[before*m+j]-v)) + b*(up-down) - l.pull[i*m+j]*v
			down = up
		}
	}
}

// closely is the residual, as a part of the right side, at which a solution is good: far below
// what the grid costs. Mostly five cycles get there; sweeps about the end of the film are
// doubled when a cycle does not halve the residual.
const (
	closely   = 1e-6
	cycles    = 60
	leastEnds = 2
	mostEnds  = 16
)

// drive is what the residual is compared with: the right side, and what given pressure drives.
func (s *solver) drive() float64 {
	fine := s.levels[0]
	scale := s.size
	for i := range fine.n {
		if s.land {
			scale += s.inner * fine.b[i]
		}
		for j := range fine.m {
			if part := fine.patched[i*fine.m+j]; part > 0 {
				scale += s.patches[0].pressure * part * fine.b[i] * fine.w[j]
			}
		}
	}
	return scale
}

// solve runs cycles until the residual is small, and reports whether it became so. It
// starts from what the grid holds; from nothing, on the coarsest grid.
func (s *solver) solve(tolerance float64) bool {
	fine := s.levels[0]
	s.empty = false
	scale := s.drive()
	if !(scale > 0) {
		return false
	}
	s.ends = leastEnds
	last := math.Inf(1)
	for s.ran = 1; s.ran <= cycles; s.ran++ {
		s.cycle(0)
		left := fine.residual()
		if left <= tolerance*scale {
			return true
		}
		if left > last/2 {
			s.ends = min(2*s.ends, mostEnds)
		}
		last = left
	}
	return false
}

// start takes the pressures of a solver half as fine.
func (s *solver) start(from *solver) {
	fine, coarse := s.levels[0], from.levels[0]
	at := func(i, j int) float64 {
		if j >= coarse.m {
			return 0
		}
		return coarse.p[i%coarse.n*coarse.m+j]
	}
	for i := range fine.n {
		for j := range fine.m {
			up, next := j/2+j%2, i/2+i%2
			fine.p[i*fine.m+j] = (at(i/2, j/2) + at(i/2, up) + at(next, j/2) + at(next, up)) / 4
		}
	}
}

// forget drops the pressures, for a start from nothing.
func (s *solver) forget() {
	s.empty = true
	for _, l := range s.levels {
		clear(l.p)
	}
}
