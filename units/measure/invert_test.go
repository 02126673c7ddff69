package measure

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// halved is invert by halves alone.
func (l law) halved(d float64) float64 {
	least, most := math.Log(1e-14), 0.0
	for range 48 {
		middle := (least + most) / 2
		if l.reach(math.Exp(middle)) > d {
			least = middle
		} else {
			most = middle
		}
	}
	return math.Exp(most)
}

// mixed are laws of several doubts, of which one or more have few degrees of freedom.
func mixed(t *rapid.T) law {
	l := law{atWorst: rapid.Bool().Draw(t, "at worst")}
	for i := range rapid.IntRange(1, 3).Draw(t, "groups") {
		var group []lawTerm
		for range rapid.IntRange(1, 2).Draw(t, "terms") {
			freedom := rapid.SampledFrom([]int32{0, 1, 2, 4, 9, 30, 200}).Draw(t, "freedom")
			if i == 0 && len(group) == 0 {
				freedom = max(freedom, 3)
			}
			group = append(group, lawTerm{float64(rapid.IntRange(1, 40).Draw(t, "twice")) / 10, freedom})
		}
		l.terms = append(l.terms, group)
	}
	return l
}

func TestInvertAgainstHalves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := mixed(t)
		d := float64(rapid.IntRange(0, 4000).Draw(t, "distance")) / 100
		if got, want := l.invert(d), l.halved(d); !(math.Abs(got-want) <= 2e-11*want) {
			t.Fatalf("%v at %g: %.17g, by halves %.17g", l, d, got, want)
		}
	})
}

func BenchmarkInvert(b *testing.B) {
	l := law{terms: [][]lawTerm{{{1.3, 4}}, {{0.7, 9}}, {{2.1, 0}}}}
	for name, f := range map[string]func(float64) float64{"secant": l.invert, "halves": l.halved} {
		b.Run(name, func(b *testing.B) {
			for i := range b.N {
				f(0.5 + float64(i%8))
			}
		})
	}
}
