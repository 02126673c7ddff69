package torque

import "math"

// The middle of a pattern is the centre of the smallest circle that holds its bolts. Of
// bolts all round a circle it is the centre of that circle, whatever their number; of a
// row or a rectangle the point half-way across; of an arc near the middle of its chord,
// so that the arc is pulled from the middle like a row. It turns with the pattern, as the
// middle of the box that holds the bolts does not.
//
// It is found by adding the bolts one by one: a bolt outside the circle so far lies on
// the edge of the next one. (E. Welzl, Smallest enclosing disks, 1991; here without
// recursion and in the order of the pattern.)

// A disc is a circle in the plane, in micrometres.
type disc struct{ x, y, squared float64 }

// twiceMiddle returns twice the position of the middle, which is whole where the middle is
// half-way between two whole micrometres. float64 is converted after every product so
// that no machine fuses them, and the order is the same on all.
func twiceMiddle(all []point) (x2, y2 int64) {
	if len(all) == 0 {
		return 0, 0
	}
	// Positions are taken from the first bolt, to keep their digits.
	points := make([][2]float64, len(all))
	for i, s := range all {
		points[i] = [2]float64{float64(s.x - all[0].x), float64(s.y - all[0].y)}
	}
	d := disc{}
	for i, p := range points {
		if !d.holds(p) {
			d = discThrough(points[:i], p)
		}
	}
	return 2*all[0].x + int64(math.Round(2*d.x)), 2*all[0].y + int64(math.Round(2*d.y))
}

// discThrough returns the smallest disc that holds the points, with p on its edge.
func discThrough(points [][2]float64, p [2]float64) disc {
	d := disc{x: p[0], y: p[1]}
	for i, q := range points {
		if d.holds(q) {
			continue
		}
		d = discAcross(p, q)
		for _, r := range points[:i] {
			if !d.holds(r) {
				d = discAround(p, q, r)
			}
		}
	}
	return d
}

// holds reports whether p lies in the disc, but for what float64 rounds.
func (d disc) holds(p [2]float64) bool {
	return squared(p[0]-d.x, p[1]-d.y) <= float64(d.squared*(1+1e-12))+1e-6
}

// discAcross returns the disc with p and q at the ends of its diameter.
func discAcross(p, q [2]float64) disc {
	x, y := (p[0]+q[0])/2, (p[1]+q[1])/2
	return disc{x, y, squared(p[0]-x, p[1]-y)}
}

// discAround returns the disc with three points on its edge. With q and r taken from p,
// as (x1, y1) and (x2, y2), its centre taken from p is
//
//	x = (c1 y2 - c2 y1)/D,  y = (c2 x1 - c1 x2)/D,  D = 2 (x1 y2 - y1 x2),  c = x² + y²
//
// from the two equations of equal distance, 2 x xi + 2 y yi = ci. Three points in a line
// have no such disc, and get the one across the outer two.
func discAround(p, q, r [2]float64) disc {
	x1, y1, x2, y2 := q[0]-p[0], q[1]-p[1], r[0]-p[0], r[1]-p[1]
	det := 2 * (float64(x1*y2) - float64(y1*x2))
	if det == 0 {
		widest := discAcross(p, q)
		for _, d := range []disc{discAcross(p, r), discAcross(q, r)} {
			if d.squared > widest.squared {
				widest = d
			}
		}
		return widest
	}
	c1, c2 := squared(x1, y1), squared(x2, y2)
	x := (float64(c1*y2) - float64(c2*y1)) / det
	y := (float64(c2*x1) - float64(c1*x2)) / det
	return disc{p[0] + x, p[1] + y, squared(x, y)}
}

func squared(x, y float64) float64 { return float64(x*x) + float64(y*y) }
