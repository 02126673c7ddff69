package torque

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/closefit/units"
)

// A Sequence is the order in which the bolts of a pattern are pulled: an [Arrangement],
// or a list, [Given].
type Sequence interface {
	// arrange returns the name of every bolt of the pattern once. The bolts of the pattern
	// all stand in different places. A list may be wrong; NewPlan checks it.
	arrange([]Position) []string
}

// Given is a list of bolts in the order to pull them.
type Given []string

func (g Given) arrange([]Position) []string { return slices.Clone(g) }

// An Arrangement is a sequence that follows from where the bolts stand. It travels as a
// word: "inside out".
//
// Where bolts hold a Part together, as the two of a bearing cap, the parts are put
// in order first and then the bolts of each, so that no cap is left cocked. Rows and a
// list are the exceptions: they take the bolts as they stand, and as they are told.
type Arrangement uint8

const (
	// InsideOut begins in the middle of the pattern, which is the centre of the smallest
	// circle around its bolts, and works outward. Among bolts equally far from the middle,
	// the next is the one farthest from the last, and of several the first named; where they
	// stand evenly round a circle they are pulled crosswise, as by Cross. So a row of five
	// is pulled 3, 2, 4, 1, 5, and five on a circle 1, 3, 5, 2, 4.
	InsideOut Arrangement = iota

	// OutsideIn begins farthest from the middle and works inward, crosswise as
	// InsideOut does. It is the usual order for loosening.
	OutsideIn

	// Spiral begins in the middle and works outward, going round clockwise among those
	// equally far from it.
	Spiral

	// Cross goes across the pattern from each bolt to the one opposite, as on a flange. A
	// number of bolts that divides by four goes by fours: a bolt, the one opposite, the one a
	// quarter round, and the one opposite that. Another even number goes by opposite pairs. The next
	// four, or pair, begins as far as can be from the bolts pulled already. An odd number
	// has no opposites: next is always the bolt farthest from the last, so that the way is
	// a star. Eight are pulled 1, 5, 3, 7, 2, 6, 4, 8, and five 1, 3, 5, 2, 4.
	//
	// The bolts are taken by their direction from the middle, from the first named on, the
	// way round on which its neighbour is named first; one in the middle comes first.
	//
	// Source: the sequences of ASME PCC-1 for flanges of 4 to 32 bolts, from memory; pairs
	// and stars of other numbers are common practice, no source.
	Cross

	// Rows pulls row after row down the page, each from left to right: cap after cap
	// where the pattern is made by Caps.
	Rows
)

// arrangements are the words and the rules.
var arrangements = [...]struct {
	word    string
	arrange func([]Position) []string
}{
	InsideOut: {"inside out", byParts(insideOut)},
	OutsideIn: {"outside in", byParts(outsideIn)},
	Spiral:    {"spiral", byParts(spiral)},
	Cross:     {"cross", byParts(cross)},
	Rows:      {"rows", byRows},
}

func (a Arrangement) arrange(p []Position) []string {
	if int(a) >= len(arrangements) {
		return nil
	}
	return arrangements[a].arrange(p)
}

// String returns the arrangement in words.
func (a Arrangement) String() string {
	if int(a) >= len(arrangements) {
		return "no arrangement"
	}
	return arrangements[a].word
}

// MarshalText returns the words of String. A number that is no Arrangement is an error.
func (a Arrangement) MarshalText() ([]byte, error) {
	if int(a) >= len(arrangements) {
		return nil, (&fault{part: "Order", found: fmt.Sprintf("Arrangement(%d) does not exist", a), fix: "take InsideOut, OutsideIn, Spiral, Cross or Rows"}).err()
	}
	return []byte(a.String()), nil
}

// UnmarshalText reads "inside out", "outside in", "spiral", "cross" or "rows", in small
// letters or capitals.
func (a *Arrangement) UnmarshalText(text []byte) error {
	words := strings.Join(strings.Fields(strings.ReplaceAll(strings.ToLower(string(text)), "-", " ")), " ")
	for i, known := range arrangements {
		if known.word == words {
			*a = Arrangement(i)
			return nil
		}
	}
	return (&fault{part: "Order", found: fmt.Sprintf("%.40q is not an order", text),
		fix: `write "inside out", "outside in", "spiral", "cross" or "rows", or list the bolts`}).err()
}

func insideOut(all []seat) (order []seat) {
	for _, ring := range rings(all) {
		order = ringwise(order, ring)
	}
	return order
}

func outsideIn(all []seat) (order []seat) {
	for _, ring := range slices.Backward(rings(all)) {
		order = ringwise(order, ring)
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
	near := tolerance(all)
	for _, s := range all {
		if s.distance <= near {
			order = append(order, s)
		} else {
			round = append(round, s)
		}
	}
	if len(round) == 0 {
		return order
	}
	return append(order, starred(goRound(round, 0))...)
}

// goRound returns the seats of a ring by direction, from one of them on, the way round on
// which its neighbour is named first.
func goRound(ring []seat, first int) []seat {
	from := ring[first].direction()
	named := map[string]int{}
	for i, s := range ring {
		named[s.bolt] = i
	}
	round := slices.Clone(ring)
	slices.SortStableFunc(round, func(a, b seat) int {
		return cmp.Or(
			cmp.Compare(clockwise(from, a.direction()), clockwise(from, b.direction())),
			cmp.Compare(a.distance, b.distance))
	})
	if last := len(round) - 1; last > 1 && named[round[last].bolt] < named[round[1].bolt] {
		slices.Reverse(round[1:])
	}
	return round
}

// starred returns the seats of a ring, given as they go round, in the order of the star.
func starred(round []seat) []seat {
	order := make([]seat, 0, len(round))
	for _, i := range star(len(round)) {
		order = append(order, round[i])
	}
	return order
}

// byParts makes a rule for seats one for patterns: it puts the parts in order, each as one
// seat in the middle of its bolts, and then the bolts of each. A bolt that names no part is
// one by itself.
func byParts(arrange func([]seat) []seat) func([]Position) []string {
	return func(p []Position) []string { return byPart(p, arrange) }
}

func byPart(p []Position, arrange func([]seat) []seat) []string {
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
		x2, y2 := twiceMiddle(bolts[parts[i].bolt])
		parts[i].x, parts[i].y = x2/2, y2/2
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

// byRows orders p row by row.
func byRows(p []Position) []string {
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

// spread returns 0..n-1, which stand in a circle, in an order in which each next one is as
// far as can be from those before it: from the nearest of them on either side, then from
// the nearest on the other; of several, from the last one, then from the one before, and
// so on; of several still, the first.
func spread(n int) []int {
	if n == 0 {
		return nil
	}
	order := make([]int, 1, n)
	// How far back and ahead the nearest of the order stands; 0 for those in the order.
	back, ahead := make([]int, n), make([]int, n)
	for i := 1; i < n; i++ {
		back[i], ahead[i] = i, n-i
	}
	apart := func(a, b int) int { return min((a-b+n)%n, (b-a+n)%n) }
	farther := func(a, b int) bool {
		c := cmp.Or(
			cmp.Compare(min(back[a], ahead[a]), min(back[b], ahead[b])),
			cmp.Compare(max(back[a], ahead[a]), max(back[b], ahead[b])))
		for k := len(order) - 1; c == 0 && k >= 0; k-- {
			c = cmp.Compare(apart(a, order[k]), apart(b, order[k]))
		}
		return c > 0
	}
	for len(order) < n {
		next := -1
		for i := range n {
			if back[i] > 0 && (next < 0 || farther(i, next)) {
				next = i
			}
		}
		for d := 1; d < ahead[next]; d++ {
			back[(next+d)%n] = d
		}
		for d := 1; d < back[next]; d++ {
			ahead[(next-d+n)%n] = d
		}
		back[next], ahead[next] = 0, 0
		order = append(order, next)
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
func points(p []Position) []seat {
	all := make([]seat, len(p))
	for i, at := range p {
		all[i] = seat{bolt: at.Bolt, x: micrometres(at.X), y: micrometres(at.Y)}
	}
	return all
}

// centred moves the seats to lie about their middle, and doubles their distances so that
// they stay whole.
func centred(all []seat) []seat {
	x2, y2 := twiceMiddle(all)
	for i := range all {
		s := &all[i]
		s.x, s.y = 2*s.x-x2, 2*s.y-y2
		s.distance = length(s.x, s.y)
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

// ringwise appends the seats of a ring to the order: by the star where they stand evenly
// round, else crosswise. It begins with the first named, or after others with the
// farthest from the last.
func ringwise(order, ring []seat) []seat {
	if !evenly(ring) {
		return crosswise(order, ring)
	}
	first := 0
	if len(order) > 0 {
		first = farthestFrom(order[len(order)-1], ring)
	}
	return append(order, starred(goRound(ring, first))...)
}

// evenly reports whether the seats of a ring, of which there are more than four, stand
// evenly round the middle, each gap within a tenth of the others' mean. Of up to four,
// crosswise does the same and heeds which sides are long.
func evenly(ring []seat) bool {
	n := int64(len(ring))
	if n <= 4 {
		return false
	}
	round := goRound(ring, 0)
	for i, s := range round {
		gap := clockwise(s.direction(), round[(i+1)%len(round)].direction())
		gap = min(gap, 1e6-gap) // the way may go either round
		if mean := int64(1e6) / n; gap < mean-mean/10 || gap > mean+mean/10 {
			return false
		}
	}
	return true
}

// farthestFrom returns which seat is farthest from another; of several the first.
func farthestFrom(last seat, ring []seat) int {
	next, most := 0, int64(-1)
	for i, s := range ring {
		if d := length(s.x-last.x, s.y-last.y); d > most {
			next, most = i, d
		}
	}
	return next
}

// crosswise appends the seats of a ring to the order, each as far from the one
// before as can be.
func crosswise(order, ring []seat) []seat {
	for len(ring) > 0 {
		next := 0
		if len(order) > 0 {
			next = farthestFrom(order[len(order)-1], ring)
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
