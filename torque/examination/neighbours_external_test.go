package examination_test

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"example.com/closefit/fasteners"
	"example.com/closefit/torque"
	"example.com/closefit/torque/examination"
	"example.com/closefit/units"
)

func thousandths(n int64) units.Ratio { return units.One.Of(decimal.New(n, -3)) }

func jointOf(bolt, members int64) fasteners.Joint {
	return fasteners.Joint{Bolt: units.KilonewtonPerMillimetre.OfInt(bolt), Members: units.KilonewtonPerMillimetre.OfInt(members)}
}

func pullTo(bolt string, newtons int64) examination.BoltPull {
	return examination.BoltPull{Bolt: bolt, To: units.Newton.OfInt(newtons)}
}

// near reports whether a range is a point within rounding of so many newtons.
func near(f units.ForceInterval, want float64) bool {
	return math.Abs(f.Lo().Float64(units.Newton)-want) < 0.01 && math.Abs(f.Hi().Float64(units.Newton)-want) < 0.01
}

// Two bolts in closed form: the first loses s kb/(kb + km) of what the second is pulled to, and a
// second pull of it costs the second that share of what it regains.
func TestTwoNeighbours(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kb, km := rapid.Int64Range(20, 900).Draw(t, "kb"), rapid.Int64Range(20, 3000).Draw(t, "km")
		s := rapid.Int64Range(0, 1000).Draw(t, "share")
		first, second := rapid.Int64Range(20_000, 60_000).Draw(t, "first"), rapid.Int64Range(1_000, 20_000).Draw(t, "second")
		n := examination.Neighbours{Joint: jointOf(kb, km), Pattern: torque.Row("a", "b"), Share: units.Exactly(thousandths(s))}
		i, err := n.Tighten(pullTo("a", first), pullTo("b", second), pullTo("a", first))
		if err != nil {
			t.Fatal(err)
		}
		lost := float64(s) / 1000 * float64(kb) / float64(kb+km)
		a := float64(first) - lost*float64(second)
		if got := i.Preloads[1]; !near(got[0], a) || !near(got[1], float64(second)) {
			t.Fatalf("%v, want %g and %d", got, a, second)
		}
		b := float64(second) - lost*(float64(first)-a)
		if got := i.Preloads[2]; !near(got[0], float64(first)) || !near(got[1], b) {
			t.Fatalf("%v, want %d and %g", got, first, b)
		}
	})
}

// One rigid part in closed form: with m bolts tight, pulling one more to F takes kb/(km + m kb) F
// from each (the rows of (1/kb + 11ᵀ/km) x = F/km are all alike, so that x is one number).
func TestRigidPart(t *testing.T) {
	const kb, km, f = 210, 790, 40_000
	names := []string{"1", "2", "3", "4", "5", "6"}
	n := examination.Neighbours{Joint: jointOf(kb, km), Pattern: torque.Circle(units.MustParseLength("100 mm"), names...), Share: units.Exactly(units.One.OfInt(1))}
	var pulls []examination.BoltPull
	for _, name := range names {
		pulls = append(pulls, pullTo(name, f))
	}
	i, err := n.Tighten(pulls...)
	if err != nil {
		t.Fatal(err)
	}
	want := make([]float64, len(names))
	for m := range names {
		for earlier := range m {
			want[earlier] -= kb / (km + float64(m)*kb) * f
		}
		want[m] = f
		for b := range names {
			if !near(i.Preloads[m][b], want[b]) {
				t.Errorf("after pull %d bolt %s has %v, want %g", m+1, names[b], i.Preloads[m][b], want[b])
			}
		}
	}
}

// relaxed finds the forces of springs by nudging one after the other until none moves: a slow
// reference that knows no matrix. The forces of the bolts in fixed stay.
func relaxed(compliance [][]float64, advance, force []float64, fixed int, tight []bool) []float64 {
	f := make([]float64, len(force))
	f[fixed] = force[fixed]
	for range 20_000 {
		moved := 0.0
		for i := range f {
			if i == fixed || !tight[i] {
				continue
			}
			sum := 0.0
			for j := range f {
				if j != i {
					sum += compliance[i][j] * f[j]
				}
			}
			next := math.Max(0, (advance[i]-sum)/compliance[i][i])
			moved = math.Max(moved, math.Abs(next-f[i]))
			f[i] = next
		}
		if moved < 1e-7 {
			break
		}
	}
	return f
}

// Any pulls on any pattern: each preload is that of the slow reference.
func TestNeighboursAgainstRelaxation(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kb, km := rapid.Int64Range(50, 500).Draw(t, "kb"), rapid.Int64Range(200, 2000).Draw(t, "km")
		s := rapid.Int64Range(0, 900).Draw(t, "share")
		count := rapid.IntRange(2, 6).Draw(t, "bolts")
		n := examination.Neighbours{Joint: jointOf(kb, km), Share: units.Exactly(thousandths(s))}
		for i := range count {
			n.Pattern = append(n.Pattern, torque.Position{Bolt: fmt.Sprint(i), X: units.Millimetre.OfInt(int64(40*i) + rapid.Int64Range(0, 30).Draw(t, "x")), Y: units.Millimetre.OfInt(rapid.Int64Range(0, 50).Draw(t, "y"))})
		}
		at := func(i int) (x, y float64) {
			return n.Pattern[i].X.Float64(units.Millimetre), n.Pattern[i].Y.Float64(units.Millimetre)
		}
		distance := func(i, j int) float64 {
			ax, ay := at(i)
			bx, by := at(j)
			return math.Hypot(ax-bx, ay-by)
		}
		nearest := math.Inf(1)
		for i := range count {
			for j := range i {
				nearest = math.Min(nearest, distance(i, j))
			}
		}
		compliance := make([][]float64, count)
		for i := range compliance {
			compliance[i] = make([]float64, count)
			for j := range compliance[i] {
				compliance[i][j] = math.Pow(float64(s)/1000, distance(i, j)/nearest) / float64(1000*km)
			}
			compliance[i][i] = 1/float64(1000*km) + 1/float64(1000*kb)
		}
		var pulls []examination.BoltPull
		advance, force, tight := make([]float64, count), make([]float64, count), make([]bool, count)
		var want [][]float64
		for range rapid.IntRange(1, 9).Draw(t, "pulls") {
			j, f := rapid.IntRange(0, count-1).Draw(t, "bolt"), rapid.Int64Range(0, 50).Draw(t, "kN")*1000
			pulls = append(pulls, pullTo(fmt.Sprint(j), f))
			force[j], tight[j] = float64(f), f > 0
			force = relaxed(compliance, advance, force, j, tight)
			advance[j] = 0
			for k := range force {
				advance[j] += compliance[j][k] * force[k]
			}
			want = append(want, slices.Clone(force))
		}
		got, err := n.Tighten(pulls...)
		if err != nil {
			t.Fatal(err)
		}
		for k := range pulls {
			for i := range n.Pattern {
				if !near(got.Preloads[k][i], want[k][i]) {
					t.Fatalf("after pull %d bolt %d has %v, want %g", k+1, i, got.Preloads[k][i], want[k][i])
				}
			}
		}
	})
}

// A second pass restores: the loosest bolt is not looser than after the first, and a pass that is
// repeated often loses nothing.
func TestPassesRestore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		names := []string{"1", "2", "3", "4", "5"}[:rapid.IntRange(2, 5).Draw(t, "bolts")]
		n := examination.Neighbours{Joint: jointOf(rapid.Int64Range(50, 500).Draw(t, "kb"), rapid.Int64Range(400, 2000).Draw(t, "km")),
			Pattern: torque.Row(names...), Share: units.Exactly(thousandths(rapid.Int64Range(0, 800).Draw(t, "share")))}
		order := rapid.Permutation(names).Draw(t, "order")
		var pulls []examination.BoltPull
		for range 12 {
			for _, name := range order {
				pulls = append(pulls, pullTo(name, 30_000))
			}
		}
		i, err := n.Tighten(pulls...)
		if err != nil {
			t.Fatal(err)
		}
		passes := i.Passes()
		if len(passes) != 12 {
			t.Fatalf("%d passes, want 12", len(passes))
		}
		slack := thousandths(1)
		for k := range passes[1:] {
			if passes[k+1].Hi().Add(slack).Less(passes[k].Lo()) {
				t.Fatalf("pass %d keeps %v, and the one before %v", k+2, passes[k+1], passes[k])
			}
		}
		if passes[11].Lo().Less(thousandths(995)) {
			t.Fatalf("after twelve passes the loosest keeps %v", passes[11])
		}
	})
}

// Bolts of one cap feel nothing of another cap, and a share of nothing loses nothing.
func TestNeighboursOfAnotherPart(t *testing.T) {
	half := units.Exactly(thousandths(500))
	caps := torque.Caps([]string{"1L", "1R"}, []string{"2L", "2R"})
	pulls := []examination.BoltPull{pullTo("1L", 30_000), pullTo("2L", 20_000), pullTo("2R", 25_000), pullTo("1R", 10_000)}
	i, err := examination.Neighbours{Joint: jointOf(200, 600), Pattern: caps, Share: half}.Tighten(pulls...)
	if err != nil {
		t.Fatal(err)
	}
	// By hand: 0.5 · 200/800 = 1/8 of the partner's pull.
	for k, want := range []float64{30_000 - 1250, 10_000, 20_000 - 3125, 25_000} {
		if !near(i.Preloads[3][k], want) {
			t.Errorf("%s has %v, want %g", caps[k].Bolt, i.Preloads[3][k], want)
		}
	}
	alone, err := examination.Neighbours{Joint: jointOf(200, 600), Pattern: caps, Share: units.Exactly(units.Ratio{})}.Tighten(pulls...)
	if err != nil || !near(alone.Preloads[3][0], 30_000) || !near(alone.Preloads[3][2], 20_000) {
		t.Errorf("%v, %v, want nothing lost", alone.Preloads, err)
	}
}

func TestNeighboursErrors(t *testing.T) {
	good := examination.Neighbours{Joint: jointOf(200, 600), Pattern: torque.Row("a", "b"), Share: units.Exactly(thousandths(300))}
	if _, err := good.Tighten(pullTo("a", 1)); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name  string
		n     func(*examination.Neighbours)
		pulls []examination.BoltPull
		want  string
	}{
		{"no joint", func(n *examination.Neighbours) { n.Joint = fasteners.Joint{} }, nil, "stiffness"},
		{"springs unlike", func(n *examination.Neighbours) { n.Joint.Bolt = units.KilonewtonPerMillimetre.OfInt(700_000_000) }, nil, "million"},
		{"one bolt", func(n *examination.Neighbours) { n.Pattern = n.Pattern[:1] }, nil, "1 bolts"},
		{"no share", func(n *examination.Neighbours) { n.Share = units.RatioInterval{} }, nil, "0 to 1"},
		{"a share above one", func(n *examination.Neighbours) { n.Share = units.Exactly(thousandths(1001)) }, nil, "0 to 1"},
		{"twice", func(n *examination.Neighbours) { n.Pattern = torque.Row("a", "a") }, nil, `"a" twice`},
		{"in one place", func(n *examination.Neighbours) { n.Pattern[1].X, n.Pattern[1].Y = n.Pattern[0].X, n.Pattern[0].Y }, nil, "one place"},
		{"another bolt", func(*examination.Neighbours) {}, []examination.BoltPull{pullTo("c", 1)}, `"c"`},
		{"a push", func(*examination.Neighbours) {}, []examination.BoltPull{pullTo("a", -1)}, "zero or more"},
		{"too many pulls", func(*examination.Neighbours) {}, make([]examination.BoltPull, 1001), "1000"},
	} {
		n := good
		n.Pattern = torque.Row("a", "b")
		tt.n(&n)
		if _, err := n.Tighten(tt.pulls...); err == nil || !strings.Contains(err.Error(), tt.want) ||
			!errors.Is(err, examination.ErrImpossible) && !errors.Is(err, fasteners.ErrImpossible) {
			t.Errorf("%s: %v, want %q", tt.name, err, tt.want)
		}
	}
}

// A bolt that is loosened again is not among those that are tight.
func TestLoosenedInTheWorking(t *testing.T) {
	n := examination.Neighbours{Joint: jointOf(210, 790), Pattern: torque.Row("a", "b"), Share: units.Exactly(thousandths(100))}
	i, err := n.Tighten(pullTo("a", 30_000), pullTo("b", 30_000), pullTo("a", 0))
	if err != nil {
		t.Fatal(err)
	}
	if last := i.Working(units.Kilonewton, 1).Steps[2].Result; !strings.HasPrefix(last, "b ") || strings.Contains(last, "a ") {
		t.Errorf("after a is loosened: %q", last)
	}
}
