package drawing_test

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"testing"

	"example.com/closefit/clearance"
	"example.com/closefit/examples/kit/drawing"
	"example.com/closefit/units"
)

// TestOfRings: the mark is at the top of the circle and angles run clockwise, so a gap at
// 90° stands to the right of the middle, one at 180° below it, and one at 270° to the left;
// each ring further down has the smaller circle. Its place is r from the middle exactly
// there, for the sine and the cosine of right angles are 0 and ±1.
func TestOfRings(t *testing.T) {
	angle := func(n int64) units.Angle { return units.Degree.OfInt(n) }
	layout := clearance.RingLayout{Rings: []string{"top", "second", "oil <1>"}, Neighbours: angle(90),
		Forbidden: []clearance.Arc{{Name: "pin & boss", Centre: angle(0), Reach: angle(25)}}}
	d := drawing.OfRings(layout, []units.Angle{angle(90), angle(180), angle(270)}, "the arrow")
	all, err := texts(d.SVG)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"1: top, 90 °", "2: second, 180 °", "3: oil <1>, 270 °", "A: no gap, pin & boss, 0 ° ± 25 °"} {
		if !slices.Contains(all, want) {
			t.Errorf("no text %q in %q", want, all)
		}
	}
	circles := regexp.MustCompile(`<circle cx="([0-9.]+)" cy="([0-9.]+)" r="([0-9.]+)" fill="(\w+)"`).FindAllStringSubmatch(d.SVG, -1)
	var gaps, rings []string
	number := func(s string) float64 {
		x, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	cx, cy := number(circles[0][1]), number(circles[0][2])
	for _, c := range circles[1:] {
		if c[4] == "white" {
			gaps = append(gaps, fmt.Sprintf("%.0f %.0f", number(c[1])-cx, number(c[2])-cy))
		} else {
			rings = append(rings, c[3])
		}
	}
	r := make([]float64, len(rings))
	for i := range rings {
		r[i] = number(rings[i])
	}
	if len(r) != 3 || r[0] <= r[1] || r[1] <= r[2] {
		t.Fatalf("rings of %v", r)
	}
	if want := []string{fmt.Sprintf("%.0f 0", r[0]), fmt.Sprintf("0 %.0f", r[1]), fmt.Sprintf("%.0f 0", -r[2])}; !slices.Equal(gaps, want) {
		t.Errorf("gaps at %q, want %q", gaps, want)
	}
}
