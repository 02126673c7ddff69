package torque_test

import (
	"errors"
	"strconv"
	"strings"
	"testing"

	"example.com/closefit/torque"
	"example.com/closefit/units"
)

// numbered returns the names 1 to n.
func numbered(n int) []string {
	names := make([]string, n)
	for i := range names {
		names[i] = strconv.Itoa(i + 1)
	}
	return names
}

// grid returns bolts numbered in rows across, 90 mm apart, the rows so many
// millimetres apart.
func grid(across, down int, apart int64) []torque.Position {
	var p []torque.Position
	for i, name := range numbered(across * down) {
		p = append(p, torque.Position{Bolt: name,
			X: units.Millimetre.OfInt(int64(i % across * 90)), Y: units.Millimetre.OfInt(int64(i/across) * apart)})
	}
	return p
}

func TestOrders(t *testing.T) {
	circle := func(n int) []torque.Position { return torque.Circle(units.MustParseLength("161 mm"), numbered(n)...) }
	caps := torque.Caps([]string{"1L", "1R"}, []string{"2L", "2R"}, []string{"3L", "3R"}, []string{"4L", "4R"}, []string{"5L", "5R"})
	fourBolt := torque.Caps([]string{"1a", "1b", "1c", "1d"}, []string{"2a", "2b", "2c", "2d"}, []string{"3a", "3b", "3c", "3d"})
	for _, tt := range []struct {
		name    string
		order   torque.Sequence
		pattern []torque.Position
		want    string
	}{
		// common practice, no source: from the middle outward, side about.
		{"a row of five", torque.InsideOut, torque.Row(numbered(5)...), "3 2 4 1 5"},
		{"a row of four", torque.InsideOut, torque.Row(numbered(4)...), "2 3 1 4"},
		{"a row of five, outside in", torque.OutsideIn, torque.Row(numbered(5)...), "1 5 2 4 3"},
		{"one bolt", torque.InsideOut, torque.Row("1"), "1"},
		{"five caps, both bolts of a cap together", torque.InsideOut, caps, "3L 3R 2L 2R 4L 4R 1L 1R 5L 5R"},
		{"five caps, outside in", torque.OutsideIn, caps, "1L 1R 5L 5R 2L 2R 4L 4R 3L 3R"},
		{"caps of four, their middle bolts first", torque.InsideOut, fourBolt, "2b 2c 2a 2d 1b 1c 1a 1d 3b 3c 3a 3d"},
		{"caps one after another", torque.Rows, fourBolt, "1a 1b 1c 1d 2a 2b 2c 2d 3a 3b 3c 3d"},
		// 1 2 3 4 5
		// 6 7 8 9 10: the middle pair, then each time the farthest of the next four.
		{"a head of ten", torque.InsideOut, grid(5, 2, 100), "3 8 2 9 7 4 6 5 1 10"},
		{"a head of ten, loosened", torque.OutsideIn, grid(5, 2, 100), "1 10 6 5 7 4 2 9 3 8"},
		{"a head of ten, round about", torque.Spiral, grid(5, 2, 100), "3 8 7 2 4 9 6 1 5 10"},
		{"a head of ten, by rows", torque.Rows, grid(5, 2, 100), "1 2 3 4 5 6 7 8 9 10"},
		{"nine in a square", torque.Spiral, grid(3, 3, 90), "5 2 6 8 4 1 3 9 7"},
		// From memory: the cross pattern of ASME PCC-1 for flanges of 4 to 24 bolts.
		{"a flange of 4", torque.Cross, circle(4), "1 3 2 4"},
		{"a flange of 8", torque.Cross, circle(8), "1 5 3 7 2 6 4 8"},
		{"a flange of 12", torque.Cross, circle(12), "1 7 4 10 2 8 5 11 3 9 6 12"},
		{"a flange of 16", torque.Cross, circle(16), "1 9 5 13 3 11 7 15 2 10 6 14 4 12 8 16"},
		{"a flange of 20", torque.Cross, circle(20), "1 11 6 16 3 13 8 18 5 15 10 20 2 12 7 17 4 14 9 19"},
		{"a flange of 24", torque.Cross, circle(24), "1 13 7 19 4 16 10 22 2 14 8 20 5 17 11 23 3 15 9 21 6 18 12 24"},
		// common practice, no source.
		{"a wheel of 5", torque.Cross, circle(5), "1 3 5 2 4"},
		{"a clutch of 6", torque.Cross, circle(6), "1 4 2 5 3 6"},
		{"two", torque.Cross, circle(2), "1 2"},
		{"one with one in the middle", torque.Cross, append(circle(4), torque.Position{Bolt: "m"}), "m 1 3 2 4"},
		// A fiftieth of 50 mm is 1 mm: a bolt that is no farther from the middle is in it.
		{"one almost in the middle", torque.Cross, append(torque.Circle(mm(100), numbered(4)...), torque.Position{Bolt: "m", X: mm(1)}), "m 1 3 2 4"},
		// 1 2    96 mm wide and 90 mm deep: opposite is farthest, then along the longer side.
		// 4 3
		{"almost a square", torque.InsideOut, []torque.Position{{Bolt: "1", X: mm(-48), Y: mm(-45)}, {Bolt: "2", X: mm(48), Y: mm(-45)},
			{Bolt: "3", X: mm(48), Y: mm(45)}, {Bolt: "4", X: mm(-48), Y: mm(45)}}, "1 3 4 2"},
		// Second and fourth are equally far from the middle to a fiftieth of 100 mm, yet the
		// fourth is farther from the third: 51 mm; then the second, the fifth 150 mm away, the first.
		{"a row almost even", torque.InsideOut, []torque.Position{{Bolt: "1", X: mm(-100)}, {Bolt: "2", X: mm(-50)},
			{Bolt: "3"}, {Bolt: "4", X: mm(51)}, {Bolt: "5", X: mm(100)}}, "3 4 2 5 1"},
		// The middle is no direction: it counts as the top, and the ring goes on clockwise from there.
		{"round about one in the middle", torque.Spiral, []torque.Position{{Bolt: "right", X: mm(40)}, {Bolt: "below", Y: mm(40)},
			{Bolt: "middle"}, {Bolt: "left", X: mm(-40)}, {Bolt: "above", Y: mm(-40)}}, "middle above right below left"},
		{"a list", torque.Given{"2", "1"}, torque.Row("1", "2"), "2 1"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if got := strings.Join(arranged(t, tt.order, tt.pattern), " "); got != tt.want {
				t.Errorf("%s, want %s", got, tt.want)
			}
		})
	}
}

func TestArrangementInWords(t *testing.T) {
	for text, want := range map[string]torque.Arrangement{
		"inside out": torque.InsideOut, "Inside-Out": torque.InsideOut, "outside in": torque.OutsideIn,
		" spiral ": torque.Spiral, "cross": torque.Cross, "rows": torque.Rows, "Cap by  cap": torque.CapByCap,
	} {
		got := torque.Arrangement(9)
		if err := got.UnmarshalText([]byte(text)); err != nil || got != want {
			t.Errorf("%q: %v %v, want %v", text, got, err, want)
		}
		if back, err := got.MarshalText(); err != nil || string(back) != got.String() {
			t.Errorf("%v is written %q, %v", got, back, err)
		}
	}
	var a torque.Arrangement
	var e *torque.PlanError
	if err := a.UnmarshalText([]byte("inside")); !errors.As(err, &e) || !isOf(e, "is not an order") || !strings.Contains(e.Err.Fix, "outside in") {
		t.Errorf("%v, want it refused", err)
	}
	if _, err := torque.Arrangement(9).MarshalText(); err == nil {
		t.Error("a number that is no arrangement is written")
	}
}
