package page

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// An Axis is a quantity along an edge of a chart.
type Axis struct {
	Name, Unit string // either may be empty
	Ticks      []Tick // in place of round ones
	Least      Span   // what it shows whatever is drawn; the zero value adds nothing
}

// with are the ends of a scale that also shows what it shows at the least.
func (a Axis) with(from, to float64) (float64, float64) {
	if a.Least != (Span{}) {
		from, to, _ = finite(from, to, a.Least.From, a.Least.To)
	}
	return from, to
}

// A Tick is a place on an axis with its text.
type Tick struct {
	At   float64
	Text string
}

// A Span is a part of an axis. An end that is infinite lies outside the chart.
type Span struct{ From, To float64 }

// head is the name with its unit.
func (a Axis) head() string {
	if a.Unit == "" || a.Name == "" {
		return a.Name + a.Unit
	}
	return a.Name + ", " + a.Unit
}

// step returns a round step that divides from..to in at most n parts, and how many decimals it needs.
func step(from, to float64, n int) (size float64, places int) {
	wide := to - from
	power := math.Pow(10, math.Floor(math.Log10(wide/float64(n))))
	for _, k := range []float64{1, 2, 2.5, 5, 10} {
		if size = k * power; math.Ceil(to/size)-math.Floor(from/size) <= float64(n) {
			break
		}
	}
	for places < 9 && math.Abs(size*math.Pow(10, float64(places))-math.Round(size*math.Pow(10, float64(places)))) > 1e-6*size*math.Pow(10, float64(places)) {
		places++
	}
	return size, places
}

// widened returns a scale that has a width: what is as good as level is not to be drawn as a mountain.
func widened(from, to float64) (float64, float64) {
	if least := 0.05 * max(math.Abs(from), math.Abs(to)); to-from <= least {
		least = max(least, 1e-9)
		from, to = (from+to-least)/2, (from+to+least)/2
	}
	return from, to
}

// around returns round ticks of which the first and the last enclose from..to.
func around(from, to float64, n int) (ticks []Tick) {
	size, places := step(from, to, n)
	for i := math.Floor(from/size + 1e-9); i <= math.Ceil(to/size-1e-9); i++ {
		ticks = append(ticks, Tick{i * size, decimal(i*size, places)})
	}
	return ticks
}

// within returns round ticks inside from..to, so few that their texts stand apart on wide units.
func within(from, to, wide float64) (ticks []Tick) {
	for n := 10; n >= 1; n-- {
		size, places := step(from, to, n)
		ticks = ticks[:0]
		for i := math.Ceil(from/size - 1e-9); i <= math.Floor(to/size+1e-9); i++ {
			ticks = append(ticks, Tick{i * size, decimal(i*size, places)})
		}
		apart := size / (to - from) * wide
		need := 0.0
		for _, t := range ticks {
			need = max(need, textWide(t.Text)+8)
		}
		if need <= apart {
			break
		}
	}
	return ticks
}

// decimal writes a number with so many places and no negative zero.
func decimal(v float64, places int) string {
	text := strconv.FormatFloat(v, 'f', places, 64)
	if strings.HasPrefix(text, "-") && strings.Trim(text, "-0.") == "" {
		return text[1:]
	}
	return text
}

// placesFor is how many decimals show a hundredth of a width: as much as a chart shows.
func placesFor(wide float64) int {
	if !(wide > 0) || math.IsInf(wide, 0) {
		return 3
	}
	return min(max(int(math.Ceil(-math.Log10(wide/100))), 0), 9)
}

// The letters of a chart are 12 units high, and few are wider than this.
const letterHigh, letterWide = 12, 6.7

func textWide(text string) float64 { return letterWide * float64(utf8.RuneCountInString(text)) }
