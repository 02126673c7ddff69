package drawing_test

import (
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/examples/kit/drawing"
)

// TestChart: a scale from 0 to 10 runs over 266 pixels from 46, so that limits from 2 to 7 begin at 99.2 and are 133 wide; a curve
// breaks where it has no number, and texts are escaped.
func TestChart(t *testing.T) {
	c := drawing.Chart{
		Label: `film < "roughness"`, From: 0, To: 10, Limits: drawing.Span{From: 2, To: 7}, Ticks: [2]drawing.Tick{{At: 2, Text: "2<"}, {At: 7, Text: "7"}},
		Shaded: []drawing.Span{{From: 3, To: 4}}, Curves: []drawing.Curve{{X: []float64{0, 1, 2, 3, 10}, Y: []float64{1, 2, math.NaN(), 4, 3}}},
	}
	svg := c.SVG()
	for _, want := range []string{`class="limits" x="99.2" y="10.0" width="133.0"`, `film &lt; &#34;roughness&#34;`, `>2&lt;<`, `class="read" x="125.8"`} {
		if !strings.Contains(svg, want) {
			t.Errorf("no %s in %s", want, svg)
		}
	}
	_, path, _ := strings.Cut(svg, `class="curve c0" d="`)
	path, _, _ = strings.Cut(path, `"`)
	if strings.Count(path, "M") != 2 || strings.Count(path, "L") != 2 {
		t.Errorf("path %s, want two pieces of two points", path)
	}
	c.Curves[0].Y = []float64{math.NaN(), math.NaN(), math.NaN(), math.NaN(), math.NaN()}
	if svg := c.SVG(); !strings.Contains(svg, "no film anywhere") || strings.Contains(svg, "NaN") {
		t.Errorf("without a film: %s", svg)
	}
}

// TestChartOfAnything: any curve is drawn inside the chart, with two to seven scale lines, in XML that can be read.
func TestChartOfAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		y := rapid.SliceOfN(rapid.Float64Range(-1e6, 1e6), 2, 9).Draw(t, "y")
		size := math.Pow(10, float64(rapid.IntRange(-9, 3).Draw(t, "size")))
		x := make([]float64, len(y))
		for i := range y {
			x[i], y[i] = float64(i), y[i]*size
		}
		c := drawing.Chart{From: 0, To: float64(len(y) - 1), Limits: drawing.Span{From: -1, To: 1}, Curves: []drawing.Curve{{X: x, Y: y}}}
		svg := c.SVG()
		if n := strings.Count(svg, `class="grid"`); n < 2 || n > 7 || strings.Contains(svg, "NaN") || strings.Contains(svg, "Inf") {
			t.Fatalf("%d lines: %s", n, svg)
		}
		_, path, _ := strings.Cut(svg, `class="curve c0" d="`)
		path, _, _ = strings.Cut(path, `"`)
		if strings.Contains(path, "-") {
			t.Fatalf("outside the chart: %s", path)
		}
		for d := xml.NewDecoder(strings.NewReader(svg)); ; {
			if _, err := d.Token(); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				t.Fatalf("%v: %s", err, svg)
			}
		}
	})
}
