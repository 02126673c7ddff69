package clearance

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/units"
)

// The search for positions finds some just where trying every position at which an
// arc or a chain of gaps can stop one does.
func TestFittedAgainstEveryStop(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		degrees := func(label string, lo, hi int64) units.Angle {
			return units.Degree.OfInt(rapid.Int64Range(lo, hi).Draw(t, label))
		}
		l := RingLayout{Neighbours: degrees("neighbours", 30, 150), Any: degrees("any", 0, 80)}
		for range rapid.IntRange(0, 4).Draw(t, "arcs") {
			l.Forbidden = append(l.Forbidden, Arc{Centre: degrees("centre", 0, 360), Reach: degrees("reach", 1, 60)})
		}
		n := rapid.IntRange(1, 4).Draw(t, "gaps")
		at := l.fitted(n)
		if (at == nil) == l.standAtStops(n) {
			t.Fatalf("%d gaps: positions %v, and among the stops %t", n, at, at == nil)
		}
		if at != nil {
			l.Rings = make([]string, n)
			if faults, err := l.Judge(at...); err != nil || len(faults) > 0 {
				t.Fatalf("%v: %+v, %v", at, faults, err)
			}
		}
	})
}

// standAtStops reports whether gaps can stand at the far ends of the arcs, at the
// mark, and so many separations on from there; it tries every set of them.
func (l RingLayout) standAtStops(n int) bool {
	var stops []units.Angle
	for _, start := range append(l.starts(), units.Angle{}) {
		for i := range n {
			for j := range n - i {
				on := start.Add(l.Neighbours.MulInt(int64(i))).Add(l.Any.MulInt(int64(j)))
				stops = append(stops, onTurn(on))
			}
		}
	}
	stops = slices.DeleteFunc(stops, func(at units.Angle) bool {
		return slices.ContainsFunc(l.Forbidden, func(a Arc) bool { return apart(at, a.Centre).Less(a.Reach) })
	})
	chosen := make([]units.Angle, 0, n)
	var place func() bool
	place = func() bool {
		i := len(chosen)
		if i == n {
			return true
		}
		for _, stop := range stops {
			if slices.ContainsFunc(indices(i), func(j int) bool { return apart(stop, chosen[j]).Less(l.least(i, j)) }) {
				continue
			}
			chosen = append(chosen, stop)
			if place() {
				return true
			}
			chosen = chosen[:i]
		}
		return false
	}
	return place()
}

// indices returns 0 to n-1.
func indices(n int) []int {
	all := make([]int, n)
	for i := range all {
		all[i] = i
	}
	return all
}

// Layouts that have just room enough for six gaps, or just too little: what takes
// the longest to find out.
func BenchmarkPlanSixGaps(b *testing.B) {
	l := RingLayout{Rings: []string{"1", "2", "3", "4", "5", "6"}, Neighbours: units.Degree.OfInt(59), Any: units.Degree.OfInt(58)}
	for _, centre := range []int64{0, 90, 180, 270} {
		l.Forbidden = append(l.Forbidden, Arc{Name: "arc", Centre: units.Degree.OfInt(centre), Reach: units.Degree.OfInt(7)})
	}
	for b.Loop() {
		if _, margin, err := l.Plan(); err != nil || !margin.Equal(units.Degree.OfInt(2)) {
			b.Fatal(margin, err)
		}
	}
}

// Four gaps of which one must move on although nothing behind it says so. The arcs leave
// 61°..84° and 142°..305°; neighbours stand 140° apart, others 24°. Gaps at 142°, 282°, 62°
// and 202° obey all of that, by hand; with the third at 61°, where its arc stops it, the
// second stands 139° before it.
func TestAGapMovesOnForOneAheadOfIt(t *testing.T) {
	deg := units.Degree.OfInt
	l := RingLayout{Rings: make([]string, 4), Neighbours: deg(140), Any: deg(24), Forbidden: []Arc{
		{Name: "a", Centre: deg(3), Reach: deg(58)}, {Name: "b", Centre: deg(113), Reach: deg(29)}, {Name: "c", Centre: deg(0), Reach: deg(1)},
	}}
	at := l.fitted(4)
	if at == nil {
		t.Fatal("no layout, and 142°, 282°, 62°, 202° is one")
	}
	if faults, err := l.Judge(at...); err != nil || len(faults) > 0 {
		t.Errorf("%v: %+v, %v", at, faults, err)
	}
}

// One gap has no neighbour: whatever the separations are, nothing holds it, and its room is all that is
// tried, one degree short of half a turn.
func TestOneGapAlone(t *testing.T) {
	at, margin, err := RingLayout{Rings: []string{"top"}, Neighbours: units.Degree.OfInt(100), Any: units.Degree.OfInt(120)}.Plan()
	if err != nil || len(at) != 1 || !margin.Equal(units.Degree.OfInt(179)) {
		t.Errorf("%v with %v to spare, %v", at, margin, err)
	}
}
