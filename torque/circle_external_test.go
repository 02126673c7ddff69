package torque_test

import (
	"fmt"
	"math"
	"math/cmplx"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.com/closefit/torque"
	"example.com/closefit/units"
	"pgregory.net/rapid"
)

// turned returns bolts numbered 1 to n on a circle, the first at an angle, clockwise or
// the other way round, about a point.
func turned(n int, from float64, mirrored bool, x, y int64) []torque.Position {
	const radius = 80_500 // µm
	p := make([]torque.Position, n)
	for i := range p {
		way := float64(i)
		if mirrored {
			way = -way
		}
		sin, cos := math.Sincos(from + 2*math.Pi*way/float64(n))
		p[i] = torque.Position{Bolt: strconv.Itoa(i + 1),
			X: units.Micrometre.OfInt(x + int64(math.Round(radius*sin))), Y: units.Micrometre.OfInt(y + int64(math.Round(-radius*cos)))}
	}
	return p
}

// sequences are printed or stated sequences, bolts numbered as they go round.
//
// From memory, of ASME PCC-1: 4, 8, 12, 16, 20, 24, 28 and 32. A public page on flanges
// prints that of 12 alike; another tells that of 8 by the hours of a clock: 12, 6, 3, 9, then
// the pair nearest half past one. Common practice, no source: the star of 5 and the
// 6 of a wheel, whose way a public page tells as across, then diagonally back.
var sequences = map[int]string{
	4:  "1 3 2 4",
	5:  "1 3 5 2 4",
	6:  "1 4 2 5 3 6",
	8:  "1 5 3 7 2 6 4 8",
	12: "1 7 4 10 2 8 5 11 3 9 6 12",
	16: "1 9 5 13 3 11 7 15 2 10 6 14 4 12 8 16",
	20: "1 11 6 16 3 13 8 18 5 15 10 20 2 12 7 17 4 14 9 19",
	24: "1 13 7 19 4 16 10 22 2 14 8 20 5 17 11 23 3 15 9 21 6 18 12 24",
	28: "1 15 8 22 4 18 11 25 6 20 13 27 2 16 9 23 5 19 12 26 7 21 14 28 3 17 10 24",
	32: "1 17 9 25 5 21 13 29 3 19 11 27 7 23 15 31 2 18 10 26 6 22 14 30 4 20 12 28 8 24 16 32",
}

// starByBalance is the rule told anew, on the whole circle, bolt by bolt. An odd number:
// next is the bolt farthest from the last. An even one: next is the bolt that leaves the
// pull on the circle best balanced: its resultant first (Σ e^iθ), and, where the number
// divides by four, what would bend it in two (Σ e^2iθ). Of several the one whose nearest
// neighbour already pulled, on either side, is farthest, then that on the other side; then
// the one farthest from the last pair or four, from those before, and so on; then the
// first going round.
func starByBalance(n int) string {
	var order []int
	pulled := make([]bool, n)
	steps := func(a, b int) int { return min((a-b+n)%n, (b-a+n)%n) }
	at := func(i, harmonic int) complex128 {
		return cmplx.Rect(1, 2*math.Pi*float64(i*harmonic)/float64(n))
	}
	size := 2
	if n%4 == 0 {
		size = 4
	}
	// criteria are what to make large, in order.
	criteria := func(i int) (all []float64) {
		if len(order) == 0 {
			return nil
		}
		if n%2 == 1 {
			return []float64{float64(steps(i, order[len(order)-1]))}
		}
		for harmonic := 1; harmonic <= size/2; harmonic++ {
			sum := at(i, harmonic)
			for _, j := range order {
				sum += at(j, harmonic)
			}
			all = append(all, -math.Round(cmplx.Abs(sum)*1e6))
		}
		ahead, back := 1, 1
		for !pulled[(i+ahead)%n] {
			ahead++
		}
		for !pulled[(i-back+n)%n] {
			back++
		}
		all = append(all, float64(min(ahead, back)), float64(max(ahead, back)))
		for end := len(order); end > 0; end -= size {
			nearest := n
			for _, j := range order[max(0, end-size):end] {
				nearest = min(nearest, steps(i, j))
			}
			all = append(all, float64(nearest))
		}
		return all
	}
	for range n {
		best := -1
		for i := range n {
			if !pulled[i] && (best < 0 || slices.Compare(criteria(i), criteria(best)) > 0) {
				best = i
			}
		}
		pulled[best] = true
		order = append(order, best)
	}
	var names []string
	for _, i := range order {
		names = append(names, strconv.Itoa(i+1))
	}
	return strings.Join(names, " ")
}

// TestSequencesFollowTheRule: the sequences that were printed are those of the rule.
func TestSequencesFollowTheRule(t *testing.T) {
	for n, want := range sequences {
		if got := starByBalance(n); got != want {
			t.Errorf("%d: %s, printed %s", n, got, want)
		}
	}
}

// TestCircles: bolts round a circle, wherever the first one stands and whichever way they
// are numbered, go round by the star, across and from the inside or the outside alike.
func TestCircles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.SampledFrom([]int{2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 16, 20, 24, 28, 32, 40}).Draw(t, "n")
		p := turned(n, 2*math.Pi*rapid.Float64Range(0, 1).Draw(t, "from"), rapid.Bool().Draw(t, "mirrored"),
			rapid.Int64Range(-1e6, 1e6).Draw(t, "x"), rapid.Int64Range(-1e6, 1e6).Draw(t, "y"))
		want := sequences[n]
		if want == "" {
			want = starByBalance(n)
		}
		orders := []torque.Sequence{torque.Cross}
		if n > 4 {
			orders = append(orders, torque.InsideOut, torque.OutsideIn)
		}
		for _, order := range orders {
			if got := strings.Join(arranged(t, order, p), " "); got != want {
				t.Fatalf("%T of %d: %s, want %s", order, n, got, want)
			}
		}
		for _, order := range []torque.Sequence{torque.InsideOut, torque.OutsideIn} {
			if got := arranged(t, order, p); n > 3 && neighbours(got[0], got[1], n) {
				t.Fatalf("%T of %d: begins with neighbours, %v", order, n, got)
			}
		}
	})
}

func neighbours(a, b string, n int) bool {
	i, _ := strconv.Atoi(a)
	j, _ := strconv.Atoi(b)
	return (i-j+n)%n == 1 || (j-i+n)%n == 1
}

// TestMiddleTurnsWithThePattern: a pattern that is turned, mirrored or moved is pulled in
// the same order. Distances are kept apart by more than what rounding to micrometres does.
func TestMiddleTurnsWithThePattern(t *testing.T) {
	odd := []torque.Position{}
	for i, at := range [][2]float64{{0, 0}, {131, 12}, {58, 97}, {-77, 141}, {-160, 33}, {21, -118}, {90, -71}} {
		odd = append(odd, torque.Position{Bolt: fmt.Sprint("b", i), X: mm(at[0]), Y: mm(at[1])})
	}
	row := []torque.Position{}
	for i, x := range []float64{0, 61, 118, 182, 250} {
		row = append(row, torque.Position{Bolt: fmt.Sprint("r", i), X: mm(x), Y: mm(0)})
	}
	for name, p := range map[string][]torque.Position{"an odd pattern": odd, "a row": row, "a ring in a ring": append(turned(5, 0.3, false, 0, 0), renamed(scaled(turned(7, 1, true, 0, 0), 1.7), "o")...)} {
		for _, order := range []torque.Sequence{torque.InsideOut, torque.OutsideIn} {
			want := arranged(t, order, p)
			for _, by := range []float64{0.1, 1, 2, 3.3, 5} {
				for _, mirror := range []float64{1, -1} {
					var moved []torque.Position
					for _, at := range p {
						x, y := at.X.Float64(units.Millimetre)*mirror, at.Y.Float64(units.Millimetre)
						sin, cos := math.Sincos(by)
						moved = append(moved, torque.Position{Bolt: at.Bolt, X: mm(x*cos - y*sin + 333), Y: mm(x*sin + y*cos - 77)})
					}
					if got := arranged(t, order, moved); !slices.Equal(got, want) {
						t.Errorf("%s, %T, turned by %v and mirrored %v: %v, want %v", name, order, by, mirror, got, want)
					}
				}
			}
		}
	}
}

func mm(x float64) units.Length { return units.Micrometre.OfInt(int64(math.Round(x * 1000))) }

func scaled(p []torque.Position, by float64) []torque.Position {
	for i := range p {
		p[i].X, p[i].Y = mm(p[i].X.Float64(units.Millimetre)*by), mm(p[i].Y.Float64(units.Millimetre)*by)
	}
	return p
}

func renamed(p []torque.Position, prefix string) []torque.Position {
	for i := range p {
		p[i].Bolt = prefix + p[i].Bolt
	}
	return p
}
