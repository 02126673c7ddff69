package film

import (
	"math"
	"slices"
)

// An akima is a smooth curve through points: a cubic between each two, whose slope at a
// point is a mean of the slopes of the chords beside it, each weighted by how little the chords
// change on the other side. It does not swing where a curve bends sharply.
//
// Source: Akima, H.: A New Method of Interpolation and Smooth Curve Fitting Based on Local Procedures. J. ACM 17
// (1970), 589-602; from memory.
type akima struct{ x, y, slope []float64 }

// newAkima returns the curve through three points or more, whose x rise.
func newAkima(x, y []float64) akima {
	n := len(x)
	chords := make([]float64, n+3) // two more at each end, on a parabola
	for i := 1; i < n; i++ {
		chords[i+1] = (y[i] - y[i-1]) / (x[i] - x[i-1])
	}
	chords[1] = 2*chords[2] - chords[3]
	chords[0] = 2*chords[1] - chords[2]
	chords[n+1] = 2*chords[n] - chords[n-1]
	chords[n+2] = 2*chords[n+1] - chords[n]
	slope := make([]float64, n)
	for i := range slope {
		left, right := math.Abs(chords[i+3]-chords[i+2]), math.Abs(chords[i+1]-chords[i])
		if sum := left + right; sum > 0 {
			slope[i] = (left*chords[i+1] + right*chords[i+2]) / sum
		} else {
			slope[i] = (chords[i+1] + chords[i+2]) / 2
		}
	}
	return akima{x, y, slope}
}

// at returns the curve at v; beyond its ends it stays.
func (a akima) at(v float64) float64 {
	n := len(a.x)
	if v <= a.x[0] {
		return a.y[0]
	}
	if v >= a.x[n-1] {
		return a.y[n-1]
	}
	i, _ := slices.BinarySearch(a.x, v)
	i-- // the point before v
	h := a.x[i+1] - a.x[i]
	u := (v - a.x[i]) / h
	return a.y[i]*(1+2*u)*(1-u)*(1-u) + h*a.slope[i]*u*(1-u)*(1-u) + a.y[i+1]*u*u*(3-2*u) - h*a.slope[i+1]*u*u*(1-u)
}
