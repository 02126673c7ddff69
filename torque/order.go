package torque

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/closefit/units"
)

// An Order puts the bolts of a pattern in the order they are pulled in.
//
// Arrange returns the name of every bolt of the pattern once. [NewPlan] checks that
// it does, so an Order that is typed or written by others may be wrong. It is
// called with patterns whose bolts all stand in different places.
type Order interface {
	Arrange(Pattern) []string
}

// Where bolts hold a Part together, as the two of a bearing cap, the parts are put
// in order first and then the bolts of each, so that no cap is left cocked. Rows and
// Given are the exceptions: they take the bolts as they stand, and as they are told.

// InsideOut begins in the middle of the pattern and works outward. Of those equally
// far from the middle next is the one farthest from the last; of several the first
// named. So a row of five is pulled 3, 2, 4, 1, 5.
type InsideOut struct{}

// OutsideIn begins farthest from the middle and works inward, crosswise as
// InsideOut does. It is the usual order for loosening.
type OutsideIn struct{}

// Spiral begins in the middle and works outward, going round clockwise among those
// equally far from it.
type Spiral struct{}

// Cross goes across the pattern from each bolt to the one opposite, as on a flange:
// first two opposite bolts, then the two between them, then the next such four,
// begun as far from the last as can be. Twelve on a circle are pulled 1, 7, 4, 10,
// 2, 8, 5, 11, 3, 9, 6, 12. The bolts are taken by their direction from the middle,
// clockwise from the first named; one in the middle comes first.
type Cross struct{}

// Rows pulls row after row down the page, each from left to right: cap after cap
// where the pattern is made by Caps.
type Rows struct{}

// Given is a list of bolts in the order to pull them.
type Given []string

// Arrange returns the list.
func (g Given) Arrange(Pattern) []string { return slices.Clone(g) }

// Arrange orders p from the middle outward.
func (InsideOut) Arrange(p Pattern) []string { return byPart(p, insideOut) }

// Arrange orders p from the outside inward.
func (OutsideIn) Arrange(p Pattern) []string { return byPart(p, outsideIn) }

// Arrange orders p from the middle outward, going round.
func (Spiral) Arrange(p Pattern) []string { return byPart(p, spiral) }

// Arrange orders p across the middle.
func (Cross) Arrange(p Pattern) []string { return byPart(p, cross) }

func insideOut(all []seat) (order []seat) {
	for _, ring := range rings(all) {
		order = crosswise(order, ring)
	}
	return order
}

func outsideIn(all []seat) (order []seat) {
	for _, ring := range slices.Backward(rings(all)) {
		order = crosswise(order, ring)
	}
	return order
}

func spiral(all []seat) (order []seat) {
	for _, ring := range rings(all) {
		from := ring[0].direction()
		if len(order) > 0 {
			from = order[len(order)-1].direction()
		}
		slices.SortStableFunc(ring, func(a, b seat) int {
			return cmp.Compare(clockwise(from, a.direction()), clockwise(from, b.direction()))
		})
		order = append(order, ring...)
	}
	return order
}

func cross(all []seat) (order []seat) {
	var round []seat
	for _, s := range all {
		if s.distance == 0 {
			order = append(order, s)
		} else {
			round = append(round, s)
		}
	}
	if len(round) == 0 {
		return order
	}
	from := round[0].direction()
	slices.SortStableFunc(round, func(a, b seat) int {
		return cmp.Or(
			cmp.Compare(clockwise(from, a.direction()), clockwise(from, b.direction())),
			cmp.Compare(a.distance, b.distance))
	})
	for _, i := range star(len(round)) {
		order = append(order, round[i])
	}
	return order
}

// byPart puts the parts of p in order, each as one seat in the middle of its bolts,
// and then the bolts of each. A bolt that names no part is one by itself.
func byPart(p Pattern, arrange func([]seat) []seat) []string {
	bolts := map[string][]seat{}
	var parts []seat
	for i, s := range points(p) {
		key := p[i].Part
		if key == "" {
			key = "\x00" + p[i].Bolt
		}
		if bolts[key] == nil {
			parts = append(parts, seat{bolt: key})
		}
		bolts[key] = append(bolts[key], s)
	}
	for i := range parts {
		left, right, top, bottom := box(bolts[parts[i].bolt])
		parts[i].x, parts[i].y = (left+right)/2, (top+bottom)/2
	}
	var order []string
	for _, part := range arrange(centred(parts)) {
		own := bolts[part.bolt]
		if len(own) > 1 {
			own = arrange(centred(own))
		}
		for _, s := range own {
			order = append(order, s.bolt)
		}
	}
	return order
}

// Arrange orders p row by row.
func (Rows) Arrange(p Pattern) []string {
	all := centred(points(p))
	slices.SortStableFunc(all, func(a, b seat) int { return cmp.Compare(a.y, b.y) })
	tolerance := tolerance(all)
	for begin := 0; begin < len(all); {
		end := begin + 1
		for end < len(all) && all[end].y-all[begin].y <= tolerance {
			end++
		}
		slices.SortStableFunc(all[begin:end], func(a, b seat) int { return cmp.Compare(a.x, b.x) })
		begin = end
	}
	bolts := make([]string, len(all))
	for i, s := range all {
		bolts[i] = s.bolt
	}
	return bolts
}

// star returns the order in which n bolts on a circle are pulled, by index.
//
// A number that divides by four goes by fours: opposite, then a quarter round, then
// opposite. An even number goes by opposite pairs. An odd number steps just under
// half-way round each time.
func star(n int) []int {
	var order []int
	switch {
	case n%4 == 0:
		for _, i := range spread(n / 4) {
			order = append(order, i, i+n/2, i+n/4, i+3*n/4)
		}
	case n%2 == 0:
		for _, i := range spread(n / 2) {
			order = append(order, i, i+n/2)
		}
	default:
		for i := range n {
			order = append(order, i*max(1, n/2)%n)
		}
	}
	return order
}

// spread returns 0..n-1 in strides of half of n, so that neighbours do not follow
// one another where that can be.
func spread(n int) []int {
	stride := max(1, n/2)
	var order []int
	for start := range stride {
		for i := start; i < n; i += stride {
			order = append(order, i)
		}
	}
	return order
}

// A seat is a bolt, or a part with its bolts, where it stands in the plane:
// integers, so that the order is the same on every machine.
type seat struct {
	bolt     string
	x, y     int64
	distance int64 // from the middle
}

// farthest bounds a position, so that squares of seats fit an int64.
const farthest = 1_000_000 // mm

// points returns the places of p in whole micrometres.
func points(p Pattern) []seat {
	all := make([]seat, len(p))
	for i, at := range p {
		all[i] = seat{bolt: at.Bolt, x: micrometres(at.X), y: micrometres(at.Y)}
	}
	return all
}

// centred moves the seats to lie about the middle of the box that holds them, and
// doubles their distances so that they stay whole.
func centred(all []seat) []seat {
	left, right, top, bottom := box(all)
	for i := range all {
		s := &all[i]
		s.x, s.y = 2*s.x-left-right, 2*s.y-top-bottom
		s.distance = length(s.x, s.y)
	}
	return all
}

// box returns the box that holds the seats.
func box(all []seat) (left, right, top, bottom int64) {
	if len(all) == 0 {
		return 0, 0, 0, 0
	}
	left, right, top, bottom = all[0].x, all[0].x, all[0].y, all[0].y
	for _, s := range all {
		left, right = min(left, s.x), max(right, s.x)
		top, bottom = min(top, s.y), max(bottom, s.y)
	}
	return left, right, top, bottom
}

// micrometres returns the whole micrometres nearest to q.
func micrometres(q units.Length) int64 { return q.In(units.Micrometre, 0).IntPart() }

// length returns the length of a vector to the whole unit. Conversion and square
// root are correctly rounded everywhere.
func length(x, y int64) int64 { return int64(math.Sqrt(float64(x*x + y*y))) }

// tolerance returns by how much positions may differ and still count as level or
// equally far: a fiftieth of the distance from the middle to the farthest bolt.
func tolerance(all []seat) int64 {
	most := int64(0)
	for _, s := range all {
		most = max(most, s.distance)
	}
	return most / 50
}

// rings returns the seats by distance from the middle, those equally far together
// and in the order of the pattern.
func rings(all []seat) [][]seat {
	tolerance := tolerance(all)
	byDistance := make([]int, len(all))
	for i := range all {
		byDistance[i] = i
	}
	slices.SortStableFunc(byDistance, func(a, b int) int { return cmp.Compare(all[a].distance, all[b].distance) })
	var rings [][]seat
	for len(byDistance) > 0 {
		end := 1
		for end < len(byDistance) && all[byDistance[end]].distance-all[byDistance[0]].distance <= tolerance {
			end++
		}
		slices.Sort(byDistance[:end])
		var ring []seat
		for _, i := range byDistance[:end] {
			ring = append(ring, all[i])
		}
		rings = append(rings, ring)
		byDistance = byDistance[end:]
	}
	return rings
}

// crosswise appends the seats of a ring to the order, each as far from the one
// before as can be.
func crosswise(order, ring []seat) []seat {
	for len(ring) > 0 {
		next := 0
		if len(order) > 0 {
			last := order[len(order)-1]
			most := int64(-1)
			for i, s := range ring {
				if d := length(s.x-last.x, s.y-last.y); d > most {
					next, most = i, d
				}
			}
		}
		order = append(order, ring[next])
		ring = slices.Delete(ring, next, next+1)
	}
	return order
}

// direction returns the direction of a seat from the middle in turns clockwise
// from the top, in whole millionths, so that directions as good as equal are equal.
func (s seat) direction() int64 {
	turns := math.Atan2(float64(s.x), float64(-s.y)) / (2 * math.Pi)
	return int64(math.Round(turns * 1e6))
}

// clockwise returns how far round it is from one direction to another.
func clockwise(from, to int64) int64 { return ((to-from)%1e6 + 1e6) % 1e6 }

// ParseOrder reads the name of an order: "inside out", "outside in", "spiral",
// "cross" or "rows". The error is a *PlanError that wraps ErrOrderName.
func ParseOrder(s string) (Order, error) {
	switch strings.Join(strings.Fields(strings.ReplaceAll(strings.ToLower(s), "-", " ")), " ") {
	case "inside out":
		return InsideOut{}, nil
	case "outside in":
		return OutsideIn{}, nil
	case "spiral":
		return Spiral{}, nil
	case "cross":
		return Cross{}, nil
	case "rows":
		return Rows{}, nil
	}
	return nil, &PlanError{Kind: ErrOrderName, What: fmt.Sprintf("%q is the name of no order", s),
		Fix: `write "inside out", "outside in", "spiral", "cross" or "rows", or list the bolts`}
}
