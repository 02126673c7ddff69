package torque

import (
	"math"
	"testing"

	"example.com/closefit/units"
)

// TestNearestMicrometre: positions are taken to the nearest micrometre.
func TestNearestMicrometre(t *testing.T) {
	for text, want := range map[string]int64{"0.0004 mm": 0, "0.0006 mm": 1, "-0.0016 mm": -2, "12.3457 mm": 12_346} {
		if got := micrometres(units.MustParseLength(text)); got != want {
			t.Errorf("%s: %d µm, want %d", text, got, want)
		}
	}
}

// TestLevelWithinAFiftieth: with the farthest bolt 5000 from the middle, what is 100 below the
// highest bolt of a row is level with it, and what is 101 below is not.
func TestLevelWithinAFiftieth(t *testing.T) {
	all := []point{{y: 101, distance: 10}, {y: 100, distance: 5000}, {y: 0, distance: 20}}
	if got := levels(all, down); len(got) != 2 || len(got[0]) != 2 || got[0][1].y != 100 || got[1][0].y != 101 {
		t.Errorf("%v, want 0 and 100, then 101", got)
	}
}

// TestEvenlyWithinATenth: of five bolts each gap is 200 thousandths of a turn, give or take 20.
func TestEvenlyWithinATenth(t *testing.T) {
	for _, tt := range []struct {
		name string
		gaps []int64 // in millionths of a turn
		want bool
	}{
		{"one as small as may be", []int64{180_000, 205_000, 205_000, 205_000, 205_000}, true},
		{"one too small", []int64{179_999, 205_000, 205_001, 205_000, 205_000}, false},
		{"one as large as may be", []int64{195_000, 220_000, 195_000, 195_000, 195_000}, true},
		{"one too large", []int64{195_000, 220_001, 194_999, 195_000, 195_000}, false},
		{"four, however even", []int64{250_000, 250_000, 250_000, 250_000}, false},
	} {
		var ring, back []point
		at := int64(0)
		for i, gap := range tt.gaps {
			sin, cos := math.Sincos(2 * math.Pi * float64(at) / 1e6)
			p := point{named: i, x: int64(math.Round(1e9 * sin)), y: int64(math.Round(-1e9 * cos))}
			if clockwise(0, p.direction()) != at {
				t.Fatalf("%d points to %d", at, p.direction())
			}
			ring, back = append(ring, p), append([]point{p}, back...)
			at += gap
		}
		if evenly(ring) != tt.want || evenly(back) != tt.want {
			t.Errorf("%s: %v clockwise, %v the other way; want %v", tt.name, evenly(ring), evenly(back), tt.want)
		}
	}
}
