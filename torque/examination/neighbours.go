package examination

import (
	"fmt"
	"math"
	"math/big"
	"slices"
	"strings"

	"example.com/closefit/fasteners"
	"example.com/closefit/torque"
	"example.com/closefit/units"
)

// Neighbours are bolts that stand close enough to feel each other: where one presses the parts
// together, the parts give a little under its neighbours too, and those lose preload. Joint
// people call it elastic interaction.
//
// Each bolt is a spring, and the parts under it are another, as in fasteners.Joint. Share says how
// much of the settling under a bolt is felt at its nearest neighbour; at a distance d it is Share
// to the power of d/a, where a is the smallest distance in the part. So in a row or round a flange
// the next bolt but one feels about Share squared. Bolts of another Part feel nothing. Distances
// count only by their ratios, so that the plain schemes of torque.Row, Caps and Circle do.
//
// Share is measured: tighten one bolt, then its neighbour, and look by how much of a turn θ the first
// then comes to its torque again. It is k P θ/360° over Φ F2, with the stiffness k and the load factor Φ
// of the joint, the pitch P and the preload F2 of the neighbour. 0 is parts that give under each bolt alone; 1 is a part so stiff that all of it
// settles together. A range that nobody has measured is 0 to 1.
//
// The model is linear. It leaves out that a stiff part tilts and bends away, so that a bolt on the
// far side gains; gaskets that creep; yield; and friction, by which a later pull may start from a
// bolt that sticks. It works in float64. Where Share is a range it is tried at 33 places of it, and
// the range that comes out is an estimate and not a bound.
type Neighbours struct {
	Joint   fasteners.Joint     `json:"joint"`   // each bolt, and the parts under it alone
	Pattern []torque.Position   `json:"pattern"` // where the bolts stand, and on which part
	Share   units.RatioInterval `json:"share"`   // from 0 to 1
}

// UnmarshalJSON reads what encoding/json writes of Neighbours.
func (n *Neighbours) UnmarshalJSON(data []byte) error {
	type neighbours Neighbours
	return units.DecodeObject(data, (*neighbours)(n))
}

// A BoltPull tightens one bolt until its own preload is so much; zero loosens it.
type BoltPull struct {
	Bolt string      `json:"bolt"`
	To   units.Force `json:"to"`
}

// UnmarshalJSON reads what encoding/json writes of a BoltPull.
func (p *BoltPull) UnmarshalJSON(data []byte) error {
	type pull BoltPull
	return units.DecodeObject(data, (*pull)(p))
}

// An Interaction is what becomes of the preloads of neighbours, pull by pull.
type Interaction struct {
	Neighbours Neighbours `json:"neighbours"`
	Pulls      []BoltPull `json:"pulls"`
	// Preloads are those of the bolts, in the order of the pattern, after each pull.
	Preloads [][]units.ForceInterval `json:"preloads"`
}

// UnmarshalJSON reads what encoding/json writes of an Interaction.
func (i *Interaction) UnmarshalJSON(data []byte) error {
	type interaction Interaction
	return units.DecodeObject(data, (*interaction)(i))
}

// Bounds against a slip of the pen, and against hours of work.
const (
	maxNeighbours     = 100
	maxNeighbourPulls = 1000
	mostUnlike        = 1_000_000 // bolt to parts, beyond which float64 would lose the softer
	shareSteps        = 32
)

// Tighten returns each bolt's preload after each of the pulls, in their order, rounded outward to
// 0.001 N.
//
//	F_i/kb + Σ s_ij F_j/km = u_i          s_ij = Share^(d_ij/a), s_ii = 1
//
// F is a preload in N, kb and km the stiffnesses of bolt and parts in N/mm, u how far the nut has
// advanced in mm. A pull sets the F of its own bolt and leaves the u of all others, so that for two
// bolts the first loses Share · kb/(kb + km) of what the second is pulled to. A bolt that was not
// pulled yet bears nothing, and no bolt is pushed.
//
// The error is of kind ErrImpossible for a joint without stiffness or of springs a million times
// as stiff as each other, a pattern with fewer than two
// bolts, two of one name or in one place, more than 100 bolts or 1000 pulls, a share outside 0 to 1,
// a pull of a bolt that the pattern does not have or to less than zero.
//
// Source: Hooke's law for springs side by side; the name and the influence of each bolt on each,
// as a matrix, J. H. Bickford, Introduction to the Design and Behavior of Bolted Joints, from
// memory. That Share falls off as a power of the distance is this package's choice.
func (n Neighbours) Tighten(pulls ...BoltPull) (Interaction, error) {
	index, err := n.index()
	if err != nil {
		return Interaction{}, err
	}
	if len(pulls) > maxNeighbourPulls {
		return Interaction{}, impossible("pulls", fmt.Sprint(len(pulls)), fmt.Sprintf("give at most %d", maxNeighbourPulls))
	}
	for k, p := range pulls {
		where := fmt.Sprintf("pull %d", k+1)
		if _, ok := index[p.Bolt]; !ok {
			return Interaction{}, impossible(where, fmt.Sprintf("bolt %q", p.Bolt), "name a bolt of the pattern")
		}
		if p.To.Sign() < 0 {
			return Interaction{}, impossible(where, p.To.String(), "write a force of zero or more")
		}
	}
	least, most := make([][]float64, len(pulls)), make([][]float64, len(pulls))
	for step, share := range n.shares() {
		r := newRow(n, share)
		for k, p := range pulls {
			r.pull(index[p.Bolt], p.To.Float64(units.Newton))
			if step == 0 {
				least[k], most[k] = slices.Clone(r.force), slices.Clone(r.force)
			}
			for i, f := range r.force {
				least[k][i], most[k][i] = math.Min(least[k][i], f), math.Max(most[k][i], f)
			}
		}
	}
	result := Interaction{Neighbours: n, Pulls: slices.Clone(pulls), Preloads: make([][]units.ForceInterval, len(pulls))}
	for k := range pulls {
		for i := range n.Pattern {
			result.Preloads[k] = append(result.Preloads[k], newtons(least[k][i], most[k][i]))
		}
	}
	return result, nil
}

// shares returns the places of the share's range at which the springs are tried.
func (n Neighbours) shares() []float64 {
	lo, width := n.Share.Lo().Float64(units.One), n.Share.Width().Float64(units.One)
	if width == 0 {
		return []float64{lo}
	}
	var all []float64
	for step := range shareSteps + 1 {
		all = append(all, lo+width*float64(step)/shareSteps)
	}
	return all
}

// stiffening returns how many times as stiff a bolt's joint is at the most when its neighbours are
// tight: as it presses the parts together, theirs spring back a little and take less.
func (n Neighbours) stiffening() float64 {
	most := 1.0
	for _, share := range n.shares() {
		r := newRow(n, share)
		for j := range n.Pattern {
			// One newton more on bolt j, from nothing: its nut advances by what gives.
			for i := range r.force {
				r.force[i], r.advance[i], r.tight[i] = 0, 0, i != j
			}
			r.force[j] = 1
			var held []int
			for i := range r.force {
				if i != j && r.part[i] == r.part[j] {
					held = append(held, i)
				}
			}
			gives := r.compliance[j][j]
			if len(held) > 0 {
				for k, f := range r.solve(held, j) {
					gives += r.compliance[j][held[k]] * f
				}
			}
			most = math.Max(most, r.compliance[j][j]/gives)
		}
	}
	return most
}

// index checks the neighbours and returns where each stands in the pattern.
func (n Neighbours) index() (map[string]int, error) {
	if _, err := n.Joint.Tightening(); err != nil {
		return nil, err
	}
	one, ratio := units.One.OfInt(1), n.Joint.Bolt.Ratio(n.Joint.Members)
	switch {
	case ratio.Cmp(big.NewRat(1, mostUnlike)) < 0 || ratio.Cmp(big.NewRat(mostUnlike, 1)) > 0:
		return nil, impossible("joint", fmt.Sprintf("a bolt of %v on parts of %v", n.Joint.Bolt, n.Joint.Members), "look at the units: one is more than a million times as stiff as the other")
	case len(n.Pattern) < 2 || len(n.Pattern) > maxNeighbours:
		return nil, impossible("pattern", fmt.Sprintf("%d bolts", len(n.Pattern)), fmt.Sprintf("give between 2 and %d", maxNeighbours))
	case !n.Share.Bounded() || n.Share.Lo().Sign() < 0 || one.Less(n.Share.Hi()):
		return nil, impossible("share felt by a neighbour", n.Share.String(), `write both bounds, from 0 to 1, as in "0.2..0.5"`)
	}
	index, places := map[string]int{}, map[[2]string]string{}
	for i, p := range n.Pattern {
		if _, twice := index[p.Bolt]; twice {
			return nil, impossible("pattern", fmt.Sprintf("bolt %q twice", p.Bolt), "give each bolt a name of its own")
		}
		index[p.Bolt] = i
		at := [2]string{p.X.Exact(), p.Y.Exact()}
		if other, taken := places[at]; taken {
			return nil, impossible("pattern", fmt.Sprintf("bolts %q and %q in one place", other, p.Bolt), "give each bolt a place of its own")
		}
		places[at] = p.Bolt
	}
	return index, nil
}

// A row is the bolts of Neighbours at one share, under way.
type row struct {
	compliance [][]float64 // of the nuts, in mm/N: 1/kb on the diagonal, and s_ij/km
	advance    []float64   // u, in mm
	force      []float64   // F, in N
	tight      []bool      // pulled, and not loosened since
	part       []string    // on which each stands; those of another part feel nothing
}

func newRow(n Neighbours, share float64) *row {
	count := len(n.Pattern)
	r := &row{compliance: make([][]float64, count), advance: make([]float64, count), force: make([]float64, count), tight: make([]bool, count), part: make([]string, count)}
	distance := func(i, j int) float64 {
		a, b := n.Pattern[i], n.Pattern[j]
		return math.Hypot(a.X.Sub(b.X).Float64(units.Millimetre), a.Y.Sub(b.Y).Float64(units.Millimetre))
	}
	nearest := map[string]float64{} // in each part
	for i, p := range n.Pattern {
		for j := range i {
			if n.Pattern[j].Part != p.Part {
				continue
			}
			if d, ok := nearest[p.Part]; !ok || distance(i, j) < d {
				nearest[p.Part] = distance(i, j)
			}
		}
	}
	bolt, members := 1/n.Joint.Bolt.Float64(units.NewtonPerMillimetre), 1/n.Joint.Members.Float64(units.NewtonPerMillimetre)
	for i, p := range n.Pattern {
		r.part[i], r.compliance[i] = p.Part, make([]float64, count)
		for j, q := range n.Pattern {
			switch {
			case i == j:
				r.compliance[i][j] = bolt + members
			case p.Part == q.Part:
				r.compliance[i][j] = members * math.Pow(share, distance(i, j)/nearest[p.Part])
			}
		}
	}
	return r
}

// pull tightens bolt j to a force and lets the others find their own.
func (r *row) pull(j int, force float64) {
	r.force[j], r.tight[j] = force, force > 0
	var held []int // the other bolts that are tight and bear something
	for i := range r.force {
		if i == j || r.part[i] != r.part[j] {
			continue
		}
		r.force[i] = 0
		if r.tight[i] {
			held = append(held, i)
		}
	}
	for len(held) > 0 {
		found := r.solve(held, j)
		slackest := 0
		for k := range found {
			if found[k] < found[slackest] {
				slackest = k
			}
		}
		if found[slackest] >= 0 {
			for k, i := range held {
				r.force[i] = found[k]
			}
			break
		}
		held = slices.Delete(held, slackest, slackest+1)
	}
	r.advance[j] = 0
	for i, f := range r.force {
		r.advance[j] += r.compliance[j][i] * f
	}
}

// solve returns the forces of the bolts that are held, whose nuts stay where they are: of a
// symmetric positive definite matrix, by its factors L D Lᵀ, which need no roots.
func (r *row) solve(held []int, pulled int) []float64 {
	n := len(held)
	l, d, x := make([]float64, n*n), make([]float64, n), make([]float64, n)
	for k, i := range held {
		lk := l[k*n : k*n+k]
		for m := range lk { // L D first, and then L
			sum := r.compliance[i][held[m]]
			for c, a := range l[m*n : m*n+m] {
				sum -= a * lk[c]
			}
			lk[m] = sum
		}
		d[k], x[k] = r.compliance[i][i], r.advance[i]-r.compliance[i][pulled]*r.force[pulled]
		for c, a := range lk {
			lk[c] = a / d[c]
			d[k] -= a * lk[c]
			x[k] -= lk[c] * x[c]
		}
		// Powers of a share by distance are positive semidefinite, and 1/kb makes them definite.
		if !(d[k] > 0) {
			panic("examination: the springs of neighbours do not hold each other")
		}
	}
	for k := range x {
		x[k] /= d[k]
	}
	for k := n - 1; k > 0; k-- {
		for c, a := range l[k*n : k*n+k] {
			x[c] -= a * x[k]
		}
	}
	return x
}

// newtons returns forces that were worked out in float64, rounded outward to 0.001 N.
func newtons(lo, hi float64) units.ForceInterval {
	return units.MustInterval(nearly(units.Newton, math.Floor(lo*1000)/1000, 3), nearly(units.Newton, math.Ceil(hi*1000)/1000, 3))
}

// nearly returns what was worked out in float64 as a quantity rounded to so many places. Callers have
// made sure that it is finite.
func nearly[D units.Dimension](u units.Unit[D], f float64, places int32) units.Quantity[D] {
	q, err := u.OfFloat64(f, places)
	if err != nil {
		panic("examination: worked out no finite number: " + err.Error())
	}
	return q
}

// Passes returns for each pass the least preload of a bolt, as a part of what it was last pulled
// to, when the pass is over, rounded outward to the ninth place. A pass ends before a bolt is
// pulled that was pulled in it already. Loosened bolts do not count.
func (i Interaction) Passes() []units.RatioInterval {
	var passes []units.RatioInterval
	aims, inPass := map[string]units.Force{}, map[string]bool{}
	for k, p := range i.Pulls {
		aims[p.Bolt], inPass[p.Bolt] = p.To, true
		if k+1 < len(i.Pulls) && !inPass[i.Pulls[k+1].Bolt] {
			continue
		}
		clear(inPass)
		var least units.RatioInterval
		for b, at := range i.Neighbours.Pattern {
			aim := aims[at.Bolt]
			if aim.Sign() <= 0 {
				continue
			}
			f := i.Preloads[k][b]
			part := units.MustInterval(units.One.OfRat(f.Lo().Ratio(aim)), units.One.OfRat(f.Hi().Ratio(aim))).Outward(units.One, 9)
			if least.IsEmpty() {
				least = part
			} else {
				least = units.MustInterval(units.Min(least.Lo(), part.Lo()), units.Min(least.Hi(), part.Hi()))
			}
		}
		passes = append(passes, least)
	}
	return passes
}

// Working shows each pull with the preloads of the tight bolts on the same part after it, in the unit to so many places, and how much
// is left after each pass.
func (i Interaction) Working(force units.ForceUnit, places int32) units.Working {
	n := i.Neighbours
	w := units.Working{
		Name:    "preload lost when neighbours are tightened",
		Formula: "F_i/kb + Σ s_ij F_j/km = u_i, s_ij = Share^(d_ij/a)",
		Numbers: fmt.Sprintf("kb = %s, km = %s, Share = %s", n.Joint.Bolt.Format(units.KilonewtonPerMillimetre, 1, units.HalfEven),
			n.Joint.Members.Format(units.KilonewtonPerMillimetre, 1, units.HalfEven), n.Share.Written(units.One)),
		Source: "Hooke's law; the fall with distance is a choice of this library",
		Notes:  []string{"an estimate of linear springs in float64: parts that tilt, gaskets and yield are left out"},
	}
	tight, part := map[string]bool{}, map[string]string{}
	for _, at := range n.Pattern {
		part[at.Bolt] = at.Part
	}
	for k, p := range i.Pulls {
		tight[p.Bolt] = p.To.Sign() > 0
		step := units.Working{Name: fmt.Sprintf("pull %d: %s to %s", k+1, p.Bolt, p.To.Format(force, places, units.HalfEven))}
		var now []string
		for b, at := range n.Pattern {
			if tight[at.Bolt] && at.Part == part[p.Bolt] {
				now = append(now, at.Bolt+" "+i.Preloads[k][b].FormatOutward(force, places))
			}
		}
		step.Result = strings.Join(now, ", ")
		w.Steps = append(w.Steps, step)
	}
	var left []string
	for k, part := range i.Passes() {
		if !part.IsEmpty() {
			left = append(left, fmt.Sprintf("%s after pass %d", part.FormatOutward(units.Percent, 0), k+1))
		}
	}
	if len(left) > 0 {
		w.Result = "the loosest bolt keeps " + strings.Join(left, ", ") + " of what it was pulled to"
	}
	return w
}
