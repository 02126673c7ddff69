package torque

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestMiddleIsThatOfTheSmallestCircle: of all circles across two bolts or through three
// that hold every bolt, the smallest has that centre.
func TestMiddleIsThatOfTheSmallestCircle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all := make([]point, rapid.IntRange(1, 9).Draw(t, "n"))
		at := rapid.Int64Range(-300, 300)
		for i := range all {
			all[i] = point{x: 1000 * at.Draw(t, "x"), y: 1000 * at.Draw(t, "y")}
		}
		best, bestX, bestY := math.Inf(1), float64(all[0].x), float64(all[0].y)
		try := func(x, y float64) {
			r := 0.0
			for _, s := range all {
				r = max(r, math.Hypot(float64(s.x)-x, float64(s.y)-y))
			}
			if r < best {
				best, bestX, bestY = r, x, y
			}
		}
		for i, a := range all {
			try(float64(a.x), float64(a.y))
			for j, b := range all[:i] {
				try(float64(a.x+b.x)/2, float64(a.y+b.y)/2)
				for _, c := range all[:j] {
					// Where the perpendicular bisectors of ab and ac meet: Cramer's rule.
					a1, b1, c1 := float64(b.x-a.x), float64(b.y-a.y), float64(b.x*b.x-a.x*a.x+b.y*b.y-a.y*a.y)/2
					a2, b2, c2 := float64(c.x-a.x), float64(c.y-a.y), float64(c.x*c.x-a.x*a.x+c.y*c.y-a.y*a.y)/2
					if det := a1*b2 - a2*b1; det != 0 {
						try((c1*b2-c2*b1)/det, (a1*c2-a2*c1)/det)
					}
				}
			}
		}
		x2, y2 := twiceMiddle(all)
		if math.Hypot(float64(x2)-2*bestX, float64(y2)-2*bestY) > 2 {
			t.Fatalf("%v/2, %v/2, want %v, %v", x2, y2, bestX, bestY)
		}
	})
}
