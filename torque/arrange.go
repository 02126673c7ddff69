package torque

import (
	"cmp"
	"math"
	"slices"

	"example.com/closefit/units"
)

// A point is a bolt, or a part in the middle of its bolts, in the plane: integers, so that
// the order is the same on every machine.
type point struct {
	bolt     string
	part     string
	named    int // its place in the pattern
	x, y     int64
	distance int64 // from the middle
}

// farthest bounds a position, so that squares of distances fit an int64.
const farthest = 1_000_000 // mm

// points returns the bolts of a pattern in whole micrometres.
func points(pattern []Position) []point {
	all := make([]point, len(pattern))
	for i, at := range pattern {
		all[i] = point{bolt: at.Bolt, part: at.Part, named: i, x: micrometres(at.X), y: micrometres(at.Y)}
	}
	return all
}

// centred moves the points to lie about their middle, and doubles their distances so that
// they stay whole.
func centred(all []point) []point {
	x2, y2 := twiceMiddle(all)
	for i := range all {
		p := &all[i]
		p.x, p.y = 2*p.x-x2, 2*p.y-y2
		p.distance = length(p.x, p.y)
	}
	return all
}

// micrometres returns the whole micrometres nearest to q.
func micrometres(q units.Length) int64 { return q.In(units.Micrometre, 0).IntPart() }

// length returns the length of a vector to the whole unit. Conversion and square
// root are correctly rounded everywhere.
func length(x, y int64) int64 { return int64(math.Sqrt(float64(x*x + y*y))) }

// tolerance returns by how much positions may differ and still count as level or
// equally far: a fiftieth of the distance from the middle to the farthest bolt.
func tolerance(all []point) (near int64) {
	for _, p := range all {
		near = max(near, p.distance/50)
	}
	return near
}

// direction returns the direction of a point from the middle in turns clockwise
// from the top, in whole millionths, so that directions as good as equal are equal.
func (p point) direction() int64 {
	turns := math.Atan2(float64(p.x), float64(-p.y)) / (2 * math.Pi)
	return int64(math.Round(turns * 1e6))
}

// clockwise returns how far round it is from one direction to another.
func clockwise(from, to int64) int64 { return ((to-from)%1e6 + 1e6) % 1e6 }

// by compares points by a number of each.
func by(of func(point) int64) func(a, b point) int {
	return func(a, b point) int { return cmp.Compare(of(a), of(b)) }
}

func across(p point) int64     { return p.x }
func down(p point) int64       { return p.y }
func fromMiddle(p point) int64 { return p.distance }
func asNamed(p point) int64    { return int64(p.named) }
func roundFrom(from int64) func(point) int64 {
	return func(p point) int64 { return clockwise(from, p.direction()) }
}

// levels returns the points by a number of each, those together whose numbers are the same
// within the tolerance.
func levels(all []point, of func(point) int64) (levels [][]point) {
	near := tolerance(all)
	for _, p := range slices.SortedStableFunc(slices.Values(all), by(of)) {
		if last := len(levels) - 1; last >= 0 && of(p)-of(levels[last][0]) <= near {
			levels[last] = append(levels[last], p)
		} else {
			levels = append(levels, []point{p})
		}
	}
	return levels
}

// rings returns the points by distance from the middle, those equally far together
// and in the order of the pattern.
func rings(all []point) [][]point {
	rings := levels(all, fromMiddle)
	for _, ring := range rings {
		slices.SortFunc(ring, by(asNamed))
	}
	return rings
}

// byParts puts the parts in order by a rule, each as one point in the middle of its bolts,
// and then the bolts of each by the same rule. A bolt that names no part is one by itself.
func byParts(all []point, arrange func([]point) []point) (order []point) {
	order = make([]point, 0, len(all))
	parts := make([]point, 0, len(all))
	bolts := make([][]point, 0, len(all)) // by the part's place
	place := map[string]int{}
	for _, p := range all {
		at, known := place[p.part]
		if !known || p.part == "" {
			at = len(parts)
			place[p.part] = at
			parts = append(parts, point{named: at})
			bolts = append(bolts, nil)
		}
		bolts[at] = append(bolts[at], p)
	}
	for i := range parts {
		x2, y2 := twiceMiddle(bolts[i])
		parts[i].x, parts[i].y = x2/2, y2/2
	}
	for _, part := range arrange(centred(parts)) {
		order = append(order, arrange(centred(bolts[part.named]))...)
	}
	return order
}

func insideOut(all []point) (order []point) {
	for _, ring := range rings(all) {
		order = ringwise(order, ring)
	}
	return order
}

func outsideIn(all []point) (order []point) {
	for _, ring := range slices.Backward(rings(all)) {
		order = ringwise(order, ring)
	}
	return order
}

func spiral(all []point) (order []point) {
	for _, ring := range rings(all) {
		from := ring[0].direction()
		if len(order) > 0 {
			from = order[len(order)-1].direction()
		}
		slices.SortStableFunc(ring, by(roundFrom(from)))
		order = append(order, ring...)
	}
	return order
}

func cross(all []point) (order []point) {
	near := tolerance(all)
	isRound := func(p point) bool { return p.distance > near }
	round := slices.DeleteFunc(slices.Clone(all), func(p point) bool { return !isRound(p) })
	order = slices.DeleteFunc(slices.Clone(all), isRound)
	return append(order, starred(goRound(round, 0))...)
}

// byRows takes the points row by row, each from left to right.
func byRows(all []point) (order []point) {
	for _, row := range levels(all, down) {
		slices.SortStableFunc(row, by(across))
		order = append(order, row...)
	}
	return order
}

// inPattern takes the points as they are named.
func inPattern(all []point) []point {
	return slices.SortedFunc(slices.Values(all), by(asNamed))
}

// ringwise appends the points of a ring to the order: by the star where they stand evenly
// round, else each as far from the one before as can be. It begins with the first named, or
// after others with the farthest from the last.
func ringwise(order, ring []point) []point {
	next := 0
	if len(order) > 0 {
		next = farthestFrom(order[len(order)-1], ring)
	}
	if round := goRound(ring, next); evenly(round) {
		return append(order, starred(round)...)
	}
	for len(ring) > 0 {
		order = append(order, ring[next])
		ring = slices.Delete(ring, next, next+1)
		next = farthestFrom(order[len(order)-1], ring)
	}
	return order
}

// farthestFrom returns which point is farthest from another; of several the first.
func farthestFrom(last point, ring []point) (next int) {
	far := func(p point) int64 { return length(p.x-last.x, p.y-last.y) }
	for i, p := range ring {
		if far(p) > far(ring[next]) {
			next = i
		}
	}
	return next
}

// evenly reports whether the points of a ring, of which there are more than four, stand
// evenly round the middle, each gap within a tenth of the mean. Of up to four, the
// farthest from each is the same and heeds which sides are long. The points are given by
// direction.
func evenly(round []point) bool {
	n := int64(len(round))
	if n <= 4 {
		return false
	}
	for i, p := range round {
		gap := clockwise(p.direction(), round[(i+1)%len(round)].direction())
		gap = min(gap, 1e6-gap) // the way may go either round
		if mean := int64(1e6) / n; gap < mean-mean/10 || gap > mean+mean/10 {
			return false
		}
	}
	return true
}

// goRound returns the points of a ring by direction, from one of them on, the way round on
// which its neighbour is named first.
func goRound(ring []point, first int) []point {
	if len(ring) == 0 {
		return nil
	}
	clock := by(roundFrom(ring[first].direction()))
	round := slices.SortedStableFunc(slices.Values(ring), func(a, b point) int {
		return cmp.Or(clock(a, b), by(fromMiddle)(a, b))
	})
	if n := len(round); round[n-1].named < round[1%n].named {
		slices.Reverse(round[1:])
	}
	return round
}

// starred returns the points of a ring, given by direction, in the order of the star.
func starred(round []point) (order []point) {
	for _, i := range star(len(round)) {
		order = append(order, round[i])
	}
	return order
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

// spread returns 0..n-1, which stand in a circle, in an order in which each next one is as
// far as can be from those before it: from the nearest of them on either side, then from
// the nearest on the other; of several, from the last one, then from the one before, and
// so on; of several still, the first.
func spread(n int) []int {
	var order, rest []int
	// How far back and ahead the nearest of the order stands.
	back, ahead := make([]int, n), make([]int, n)
	for i := range n {
		back[i], ahead[i] = i, n-i
		rest = append(rest, i)
	}
	apart := func(a, b int) int { return min((a-b+n)%n, (b-a+n)%n) }
	distance := func(a, b int) int {
		c := cmp.Or(
			cmp.Compare(min(back[a], ahead[a]), min(back[b], ahead[b])),
			cmp.Compare(max(back[a], ahead[a]), max(back[b], ahead[b])))
		for _, pulled := range slices.Backward(order) {
			if c != 0 {
				break
			}
			c = cmp.Compare(apart(a, pulled), apart(b, pulled))
		}
		return c
	}
	for next := 0; len(rest) > 0; {
		if len(order) > 0 {
			next = slices.MaxFunc(rest, distance)
		}
		rest = slices.DeleteFunc(rest, func(i int) bool { return i == next })
		order = append(order, next)
		behind, before := back[next], ahead[next]
		for d := range before {
			back[(next+d)%n] = d
		}
		for d := range behind {
			ahead[(next-d+n)%n] = d
		}
	}
	return order
}
