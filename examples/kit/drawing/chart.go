package drawing

import (
	"fmt"
	"html"
	"math"
	"strconv"
	"strings"
)

// A Chart is curves over one quantity, with what stands out on its scale shaded. A page's style gives it its colours.
type Chart struct {
	Label  string // for who cannot see it
	From   float64
	To     float64
	Limits Span    // shaded
	Ticks  [2]Tick // of the limits
	Shaded []Span  // further, over the limits
	Curves []Curve
}

// A Span is a part of a scale.
type Span struct{ From, To float64 }

// A Tick is a place on a scale with its text.
type Tick struct {
	At   float64
	Text string
}

// A Curve is points from left to right. A y that is not a number is a gap.
type Curve struct{ X, Y []float64 }

// The size of a chart and its margins, in pixels on a phone.
const (
	chartWide, chartHigh = 320, 180
	chartLeft, chartEnd  = 46, 312
	chartTop, chartFoot  = 10, 152
	leastMarked          = 1.5 // of a span, so that it is seen
)

// SVG draws the chart.
func (c Chart) SVG() string {
	least, most := math.Inf(1), math.Inf(-1)
	for _, curve := range c.Curves {
		for _, y := range curve.Y {
			if !math.IsNaN(y) {
				least, most = min(least, y), max(most, y)
			}
		}
	}
	var b strings.Builder
	fmt.Fprintf(&b, `<svg class="curves" viewBox="0 0 %d %d" role="img" aria-label="%s">`, chartWide, chartHigh, html.EscapeString(c.Label))
	x := func(v float64) float64 { return chartLeft + (v-c.From)/(c.To-c.From)*(chartEnd-chartLeft) }
	rect := func(class string, s Span, top, high float64) {
		from, to := max(chartLeft, min(x(s.From), chartEnd)), max(chartLeft, min(x(s.To), chartEnd))
		if to-from < leastMarked {
			from, to = (from+to-leastMarked)/2, (from+to+leastMarked)/2
		}
		fmt.Fprintf(&b, `<rect class="%s" x="%.1f" y="%.1f" width="%.1f" height="%.1f"/>`, class, from, top, to-from, high)
	}
	rect("scale", Span{c.From, c.To}, chartTop, chartFoot-chartTop)
	rect("limits", c.Limits, chartTop, chartFoot-chartTop)
	for _, s := range c.Shaded {
		rect("read", s, chartTop, chartFoot-chartTop)
	}
	for _, s := range c.Shaded {
		rect("reading", s, chartFoot-4, 4)
	}
	if least <= most {
		ticks, places := scale(least, most)
		low, high := ticks[0], ticks[len(ticks)-1]
		y := func(v float64) float64 { return chartFoot - (v-low)/(high-low)*(chartFoot-chartTop) }
		for _, t := range ticks {
			fmt.Fprintf(&b, `<path class="grid" d="M%d %.1fH%d"/><text class="end" x="%d" y="%.1f">%s</text>`, chartLeft, y(t), chartEnd, chartLeft-5, y(t)+4, strconv.FormatFloat(t, 'f', places, 64))
		}
		for i, curve := range c.Curves {
			d, move := "", true
			for k, v := range curve.Y {
				if math.IsNaN(v) {
					move = true
					continue
				}
				d += fmt.Sprintf("%s%.1f %.1f", map[bool]string{true: "M", false: "L"}[move], x(curve.X[k]), y(v))
				move = false
			}
			fmt.Fprintf(&b, `<path class="curve c%d" d="%s"/>`, i, d)
		}
	} else {
		fmt.Fprintf(&b, `<text class="middle" x="%d" y="%d">no film anywhere</text>`, (chartLeft+chartEnd)/2, chartHigh/2)
	}
	for _, t := range c.Ticks {
		fmt.Fprintf(&b, `<text class="middle" x="%.1f" y="%d">%s</text>`, x(t.At), chartFoot+16, html.EscapeString(t.Text))
	}
	return b.String() + "</svg>"
}

// scale returns three to six places with even figures that hold what is between two, and how many decimals they need.
func scale(least, most float64) (ticks []float64, places int) {
	wide := most - least
	if wide <= 0.05*math.Abs(most) { // as good as level: not to be drawn as a mountain
		wide = max(0.05*math.Abs(most), 1e-9)
		least, most = least-wide/2, most+wide/2
	}
	power := math.Pow(10, math.Floor(math.Log10(wide)))
	step := power
	for _, k := range []float64{0.2, 0.25, 0.5, 1, 2, 2.5} {
		if step = k * power; math.Ceil(most/step)-math.Floor(least/step) <= 5 {
			break
		}
	}
	for i := math.Floor(least / step); i <= math.Ceil(most/step); i++ {
		ticks = append(ticks, i*step)
	}
	for places < 6 && math.Abs(step-math.Round(step*math.Pow(10, float64(places)))/math.Pow(10, float64(places))) > step*1e-6 {
		places++
	}
	return ticks, places
}
