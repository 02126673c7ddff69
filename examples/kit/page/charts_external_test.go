package page_test

import (
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/net/html"
	"pgregory.net/rapid"

	"example.com/closefit/examples/kit/page"
	"example.com/closefit/examples/kit/page/pagetest"
	"example.com/closefit/internal/thorough"
)

// number draws one that is sometimes none.
func number(t *rapid.T, name string) float64 {
	v := rapid.Float64Range(-1e6, 1e6).Draw(t, name) * math.Pow(10, float64(rapid.IntRange(-9, 3).Draw(t, "size")))
	return rapid.OneOf(rapid.Just(v), rapid.SampledFrom([]float64{0, math.NaN(), math.Inf(1), math.Inf(-1)})).Draw(t, "or")
}

// charts draws one of each kind from anything.
func charts(t *rapid.T) map[string]page.Chart {
	n := rapid.IntRange(0, 7).Draw(t, "n")
	var x, y, heights []float64
	for i := range n {
		x = append(x, float64(i)*0.01)
		y = append(y, number(t, "y"))
		heights = append(heights, rapid.Float64Range(0, 1e4).Draw(t, "height"))
	}
	edges := append([]float64{-0.01}, x...)
	name, axis := hostile(t, "name"), page.Axis{Name: hostile(t, "axis"), Unit: hostile(t, "unit")}
	limits := page.Span{From: 0.01, To: rapid.SampledFrom([]float64{0.02, 0.01, math.Inf(1)}).Draw(t, "limit")}
	row := page.Interval{Name: name, Reading: page.Span{From: number(t, "lo"), To: number(t, "hi")}, Limits: limits, Reads: name, Verdict: name}
	var bars []page.Bar
	for _, v := range y {
		bars = append(bars, page.Bar{Name: name, Value: v})
	}
	s := page.Series{Name: name, X: x, Y: y}
	return map[string]page.Chart{
		"lines":     page.Lines{ID: "a", Title: name, X: axis, Y: axis, Lines: []page.Series{s, s, {Name: "b", X: x, Y: heights}}[:rapid.IntRange(0, 3).Draw(t, "lines")], Limits: limits, Readings: []page.Span{limits}},
		"histogram": page.Histogram{ID: "b", Title: name, X: axis, Y: axis, Edges: edges, Heights: heights, Limits: limits, Over: &page.Series{Name: name, X: x, Y: heights}},
		"bars":      page.Bars{ID: "c", Title: name, X: axis, Bars: bars},
		"intervals": page.Intervals{ID: "d", Title: name, X: axis, Rows: []page.Interval{row, row}},
		"density":   page.Density{ID: "e", Title: name, X: axis, Curve: page.Series{X: x, Y: heights}, Limits: limits, Inside: name, Outside: name},
	}
}

// TestChartsOfAnything: any chart is XML that can be read, inside its frame, without a number that is none, and has a
// title and a description; with its table it is HTML in which no text has become an element.
func TestChartsOfAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for kind, c := range charts(t) {
			svg := c.SVG().String()
			for d := xml.NewDecoder(strings.NewReader(strings.Map(func(r rune) rune { // which XML does not have at all
				if r < ' ' && r != '\n' && r != '\t' || r == 0xfffe || r == 0xffff {
					return ' '
				}
				return r
			}, svg))); ; {
				token, err := d.Token()
				if errors.Is(err, io.EOF) {
					break
				}
				if err != nil {
					t.Fatalf("%s: %v: %s", kind, err, svg)
				}
				e, is := token.(xml.StartElement)
				if !is || e.Name.Local != "rect" && e.Name.Local != "text" && e.Name.Local != "path" {
					continue
				}
				for _, a := range e.Attr {
					switch a.Name.Local {
					case "x", "y", "width", "height", "d":
						if strings.Contains(a.Value, "NaN") || strings.Contains(a.Value, "Inf") {
							t.Fatalf("%s: %s=%q", kind, a.Name.Local, a.Value)
						}
						if v, err := strconv.ParseFloat(a.Value, 64); err == nil && (v < 0 || v > 320 && a.Name.Local != "y") {
							t.Fatalf("%s: <%s %s=%q> stands outside: %s", kind, e.Name.Local, a.Name.Local, a.Value, svg)
						}
					}
				}
			}
			root := parse(t, page.Figure(c).String())
			if len(find(root, "title")) != 1 || len(find(root, "desc")) != 1 || len(find(root, "table")) < 1 && kind != "lines" || len(find(root, "details")) != 1 {
				t.Fatalf("%s: no title, description or table: %s", kind, page.Figure(c))
			}
			for x := range root.Descendants() {
				if x.Type == html.ElementNode && (x.Data == "script" || x.Data == "img") {
					t.Fatalf("%s: a text has become <%s>", kind, x.Data)
				}
			}
		}
	})
}

// TestLinesByHand: a scale of x from 0 to 10 and one of y from 0 to 4 with one-letter ticks: the frame begins at 6.7 + 8 = 14.7 and
// ends at 300, so that x = 5 stands at 157.4; it is 142 high, from 10 to 152, so that y = 1 stands at 116.5.
func TestLinesByHand(t *testing.T) {
	svg := page.Lines{Title: "t", Lines: []page.Series{{X: []float64{0, 5, 10}, Y: []float64{0, 1, 4}}, {X: []float64{0, 5, 10}, Y: []float64{4, math.NaN(), 0}}}, Limits: page.Span{From: 5, To: 10}}.SVG().String()
	for _, want := range []string{`class="curve d0" d="M14.7 152.0L157.4 116.5L300.0 10.0"`, `class="curve d1" d="M14.7 10.0M300.0 152.0"`, `class="limits" x="157.4" y="10.0" width="142.7" height="142.0"`} {
		if !strings.Contains(svg, want) {
			t.Errorf("no %s in %s", want, svg)
		}
	}
}

// figures are charts as the programs have them.
func figures() page.Markup {
	var x, y, z, w []float64
	for i := range 101 {
		v := float64(i)/10 - 5
		x, y, z, w = append(x, 0.036+0.004*v), append(y, math.Exp(-v*v/2)), append(z, math.Exp(-v*v/2)*0.97), append(w, 1/(1+math.Exp(-v)))
	}
	axis := page.Axis{Name: "clearance", Unit: "mm"}
	limits := page.Span{From: 0.024, To: 0.048}
	return page.El("main", page.El("h1", page.Text("Charts")),
		page.Figure(page.Lines{ID: "lines", Title: "Three lines that end close together", X: axis, Y: page.Axis{Name: "film", Unit: "µm"}, Lines: []page.Series{{Name: "an oil with a long name, for winters", X: x, Y: y}, {Name: "another", X: x, Y: z}, {Name: "a third", X: x, Y: w}}, Limits: limits, Readings: []page.Span{{From: 0.03, To: 0.031}}}),
		page.Figure(page.Histogram{ID: "histogram", Title: "Ten thousand draws", X: axis, Y: page.Axis{Name: "draws"}, Edges: []float64{0.02, 0.03, 0.04, 0.05}, Heights: []float64{2300, 5400, 2300}, Limits: limits, Over: &page.Series{Name: "the density", X: []float64{0.02, 0.035, 0.05}, Y: []float64{1000, 5600, 1000}}}),
		page.Figure(page.Bars{ID: "bars", Title: "What the width is made of", X: page.Axis{Name: "share of the width", Unit: "%"}, Bars: []page.Bar{{Name: "the housing bore of the third main bearing, read with a bore gauge", Value: 61}, {Name: "journal", Value: 30}, {Name: "shell", Value: 9}}}),
		page.Figure(page.Intervals{ID: "intervals", Title: "Main bearings", X: axis, Rows: []page.Interval{
			{Name: "main 1", Reading: page.Span{From: 0.03, To: 0.034}, Limits: limits, Reads: "0.030..0.034 mm", Limited: "0.024..0.048 mm", Verdict: "conforming"},
			{Name: "main 2", Reading: page.Span{From: 0.046, To: math.Inf(1)}, Limits: limits, Reads: "above 0.046 mm", Limited: "0.024..0.048 mm", Verdict: "undecided"}}}),
		page.Figure(page.Density{ID: "density", Title: "The clearance of all pairs", X: axis, Curve: page.Series{X: x, Y: y}, Limits: page.Span{From: 0.03, To: 0.048}, Inside: "93.2 %", Outside: "6.8 %"}))
}

// TestFigures looks at one chart of each kind: no two texts stand on one another and none is cut off, and no rule of axe-core is broken.
func TestFigures(t *testing.T) {
	thorough.Long(t)
	b := pagetest.Open(t)
	var s strings.Builder
	if err := (page.Document{Title: "Charts", Body: figures()}).Write(&s); err != nil {
		t.Fatal(err)
	}
	for _, look := range []func(*testing.T, string) []string{b.Texts, b.Dark, b.Accessible} {
		for _, fault := range look(t, s.String()) {
			t.Error(fault)
		}
	}
}

// A line that marks a place is drawn, and is no data: neither the table nor the description has it, and no letter stands at its end. Counts have no decimals.
func TestMark(t *testing.T) {
	x := []float64{1, 2, 3}
	c := page.Lines{ID: "m", Title: "t", X: page.Axis{Name: "classes"}, Y: page.Axis{Name: "spread", Unit: "µm"},
		Lines: []page.Series{{Name: "spread", X: x, Y: []float64{30.5, 20, 11}}, {Name: "here", Mark: true, X: []float64{2, 2}, Y: []float64{11, 30.5}}}}
	text := page.Figure(c).String()
	if n := strings.Count(text, "<tr>"); n != 4 {
		t.Errorf("the table has %d rows, want a head and 3: %s", n, text)
	}
	for _, wants := range []string{`<th scope="row">2</th>`, "30.5 µm at 1, 11.0 µm at 3", "<span>here</span>", `class="curve d1"`} {
		if !strings.Contains(text, wants) {
			t.Errorf("no %s in %s", wants, text)
		}
	}
	for _, not := range []string{"here: ", `<th scope="row">2.00`, "<caption>b", ">b<"} {
		if strings.Contains(text, not) {
			t.Errorf("%s in %s", not, text)
		}
	}
}
