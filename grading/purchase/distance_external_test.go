package purchase_test

import (
	"context"
	"fmt"
	"math/big"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/grading/purchase"
	"example.com/closefit/units"
)

// corrected is a length of n µm, divided by 1 + ppm/1 000 000: the size of a part that was
// measured warm, whose digits have no end.
func corrected(n, ppm int64) units.Length {
	return units.Micrometre.OfRat(big.NewRat(n*1_000_000, 1_000_000+ppm))
}

// drawCorrected draws places that were each measured at a temperature of their own. Every
// alternative is a part of another thickness, and lies as far from what is wanted as it does.
func drawCorrected(t *rapid.T) order {
	var o order
	thickness := map[name]int64{"A": 3, "B": 7, "C": 12}
	for i := range rapid.IntRange(2, 3).Draw(t, "places") {
		size := corrected(rapid.Int64Range(1, 15).Draw(t, "size"), rapid.Int64Range(-900, 900).Draw(t, "ppm"))
		n := need{Name: fmt.Sprint("place ", i), N: 1}
		for _, part := range few {
			n.Alternatives = append(n.Alternatives, alternative{Parts: []name{part}, Distance: size.Sub(units.Micrometre.OfInt(thickness[part])).Abs()})
		}
		slices.SortStableFunc(n.Alternatives, func(a, b alternative) int { return a.Distance.Cmp(b.Distance) })
		o.Needs = append(o.Needs, n)
	}
	for i, holds := range [][]some{{{Part: "A", N: 1}}, {{Part: "B", N: 1}}, {{Part: "A", N: 1}, {Part: "C", N: 1}}, {{Part: "C", N: 2}}} {
		p := priced(fmt.Sprint("pack ", i), rapid.Int64Range(1, 4).Draw(t, "price"), holds[0].Part, 1)
		p.Parts = holds
		o.Packs = append(o.Packs, p)
	}
	return o
}

// TestDistancesWithoutACommonUnit: of the purchases of the least price, found by trying each
// alternative in each place, none is nearer than the one taken by more than a step for each
// place. A step is at most 10/2³⁴ of the largest distance. The proof holds, and each trade
// costs more and comes nearer.
func TestDistancesWithoutACommonUnit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawCorrected(t)
		p, err := purchase.Cheapest(context.Background(), o)
		if err != nil {
			t.Fatal(err)
		}
		keeps(t, o, p)
		if err := refute(o, p.Proof); err != nil {
			t.Fatalf("the proof does not hold: %v", err)
		}
		var largest, nearest units.Length
		found := false
		for choice := range 27 {
			one, away := order{Packs: o.Packs}, units.Length{}
			for _, n := range o.Needs {
				w := n.Alternatives[choice%3]
				choice /= 3
				one.Needs = append(one.Needs, need{Name: n.Name, N: 1, Alternatives: []alternative{w}})
				away = away.Add(w.Distance)
				largest = units.Max(largest, w.Distance)
			}
			least, _ := slow(one)
			if least.LessThan(p.Price) {
				t.Fatalf("%s, and another costs %s", p.Price, least)
			}
			if least.Equal(p.Price) && (!found || away.Less(nearest)) {
				nearest, found = away, true
			}
		}
		steps := largest.MulRat(big.NewRat(int64(10*len(o.Needs)), 1<<34))
		if !found || nearest.Add(steps).Less(p.Distance) {
			t.Fatalf("%v at %v, and another is at %v", p.Price, p.Distance, nearest)
		}
		trades, complete, err := purchase.Trades(context.Background(), o, p, 9)
		if err != nil || !complete {
			t.Fatal(complete, err)
		}
		for i, next := range trades[1:] {
			if keeps(t, o, next); !trades[i].Price.LessThan(next.Price) || !next.Distance.Less(trades[i].Distance) {
				t.Fatalf("%s at %s, then %s at %s", trades[i].Price, trades[i].Distance, next.Price, next.Distance)
			}
		}
	})
}

// TestTiesWithoutACommonUnit: two parts that exchange their places come to the same distance,
// x - 3 µm + y - 7 µm = x - 7 µm + y - 3 µm, however x and y end. So what stands first in the
// lists is taken.
func TestTiesWithoutACommonUnit(t *testing.T) {
	for ppm := int64(1); ppm < 200; ppm += 3 {
		x, y := corrected(9, ppm), corrected(17, -2*ppm)
		at := func(size units.Length, parts ...name) need {
			n := need{Name: size.String(), N: 1}
			for _, part := range parts {
				n.Alternatives = append(n.Alternatives, alternative{Parts: []name{part}, Distance: size.Sub(units.Micrometre.OfInt(map[name]int64{"thin": 3, "thick": 7}[part]))})
			}
			return n
		}
		p, err := purchase.Cheapest(t.Context(), order{
			Needs: []need{at(x, "thin", "thick"), at(y, "thick", "thin")},
			Stock: []some{{Part: "thin", N: 1}, {Part: "thick", N: 1}},
			Packs: []pack{priced("dear", 9, "thin", 1)},
		})
		if err != nil || p.Served[0].Parts[0] != "thin" || p.Served[1].Parts[0] != "thick" || p.Price.Sign() != 0 {
			t.Fatalf("%d ppm: %v, %v", ppm, p, err)
		}
	}
}

// TestNearlyAlike: two places whose distances differ by less than a step are not counted as
// one choice, for a proof holds those of the same distances together.
func TestNearlyAlike(t *testing.T) {
	place := func(d units.Length) need {
		return need{Name: d.String(), N: 1, Alternatives: []alternative{{Parts: []name{"A"}, Distance: d}, {Parts: []name{"B"}, Distance: units.Micrometre.OfInt(2)}}}
	}
	third := units.Micrometre.OfRat(big.NewRat(1, 3))
	hair := units.Micrometre.OfRat(big.NewRat(1, 1<<61))
	o := order{Needs: []need{place(third), place(third.Add(hair)), place(third)}, Packs: []pack{priced("a", 5, "A", 1), priced("b", 5, "B", 1)}}
	p, err := purchase.Cheapest(t.Context(), o)
	if err != nil {
		t.Fatal(err)
	}
	keeps(t, o, p)
	if err := refute(o, p.Proof); err != nil || !p.Distance.Equal(third.MulInt(3).Add(hair)) {
		t.Errorf("%v, at %s", err, p.Distance)
	}
	if choices := p.Proof.Components[0].Choices; len(choices) != 2 || choices[0].N != 2 || choices[1].N != 1 {
		t.Errorf("%v", choices)
	}
}
