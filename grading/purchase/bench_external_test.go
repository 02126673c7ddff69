package purchase_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"example.com/closefit/grading/purchase"
	"example.com/closefit/units"
)

func priced(label string, price int64, part name, n int) pack {
	return pack{Name: label, Price: new(decimal.NewFromInt(price)), Parts: []some{{Part: part, N: n}}}
}

// graded is an order of so many of each grade, each in packs of its own.
func graded(grades, each int, sizes []int, prices []int64) order {
	var o order
	for g := range grades {
		part := name(fmt.Sprint("grade ", g))
		o.Needs = append(o.Needs, need{Name: string(part), N: each, Alternatives: []alternative{{Parts: []name{part}}}})
		for i, size := range sizes {
			o.Packs = append(o.Packs, priced(fmt.Sprintf("%d of %s", size, part), prices[i], part, size))
		}
	}
	return o
}

func limitedLike(packs, wanted int) order {
	o := order{Needs: []need{
		{Name: "A", N: wanted, Alternatives: []alternative{{Parts: []name{"A"}}}},
		{Name: "B", N: wanted - 7, Alternatives: []alternative{{Parts: []name{"B"}}}}}}
	for i := range packs {
		p := priced(fmt.Sprint("like ", i), 10+int64(i%5), "A", 2)
		p.Parts = append(p.Parts, some{Part: "B", N: 3})
		p.Limit = new(3)
		o.Packs = append(o.Packs, p)
	}
	o.Packs = append(o.Packs, priced("single A", 8, "A", 1), priced("single B", 7, "B", 1))
	return o
}

func likes(packs, wanted int) order {
	o := order{Needs: []need{{Name: "A", N: wanted, Alternatives: []alternative{{Parts: []name{"A"}}}}}}
	for i := range packs {
		p := priced(fmt.Sprint("like ", i), 10, "A", 3)
		p.Limit = new(2)
		o.Packs = append(o.Packs, p)
	}
	return o
}

// A hardOrder is an order whose search once took seconds, or had no end.
type hardOrder struct {
	name  string
	order order
	price int64 // of the cheapest, worked out beside it
}

func hardOrders() []hardOrder {
	list := []hardOrder{
		// 13 of a grade from 2 at 10, 4 at 19, 10 at 45: 10 and 4 make 14 for 64; 3 × 4 and 2
		// for 67; 13 parts at 4.50 each, the best there is, come to 58.50, and only tens
		// cost so little: 10 leave 3, for 19.
		{"7 grades, 13 each", graded(7, 13, []int{2, 4, 10}, []int64{10, 19, 45}), 7 * 64},
		// Packs of 10, 19 and 45 parts for 1 each part: 13 take one of 19, or two of 10.
		{"7 grades, 13 each, large packs", graded(7, 13, []int{10, 19, 45}, []int64{10, 19, 45}), 7 * 19},
		// Every part costs 5 and every pack is even: 1,600 parts.
		{"one part, 1,599", graded(1, 1599, []int{2, 4, 8, 10}, []int64{10, 20, 40, 50}), 8000},
		// A part costs 4.80 in tens, 4.875 in eights: 159 tens leave 9, for 48 with one more.
		{"one part, 1,599, the tens are better", graded(1, 1599, []int{2, 4, 8, 10}, []int64{11, 20, 39, 48}), 160 * 48},
		{"one part, 100,000", graded(1, 100_000, []int{2, 4, 8, 10}, []int64{11, 20, 39, 48}), 10_000 * 48},
		// 52 packs of 3 hold 156, so 53 are needed.
		{"40 like packs with limits", likes(40, 157), 530},
	}
	for _, each := range []int{15, 21, 25, 45} {
		// Every part costs 5, every pack is even, and the demand is odd.
		list = append(list, hardOrder{fmt.Sprintf("5 grades, %d each", each), graded(5, each, []int{2, 4, 10}, []int64{10, 20, 50}), int64(5 * 5 * (each + 1))})
	}
	return list
}

// The orders whose search had no end have answers, proven by what can be checked.
func TestHardOrders(t *testing.T) {
	for _, hard := range hardOrders() {
		t.Run(hard.name, func(t *testing.T) {
			p, err := purchase.Cheapest(t.Context(), hard.order)
			if err != nil {
				t.Fatal(err)
			}
			keeps(t, hard.order, p)
			if !p.Price.Equal(decimal.NewFromInt(hard.price)) || p.Gap.Sign() != 0 || p.Unproven != "" {
				t.Errorf("%s, gap %s, %q unproven; want %d", p.Price, p.Gap, p.Unproven, hard.price)
			}
			if err := refute(hard.order, p.Proof); err != nil {
				t.Errorf("the proof does not hold: %v", err)
			}
		})
	}
	// The same order in packs of two parts, mixed and limited, is one component of 42
	// packs; what it costs is checked by the proof.
	o := limitedLike(40, 100)
	p, err := purchase.Cheapest(t.Context(), o)
	if err != nil || p.Gap.Sign() != 0 || p.Unproven != "" {
		t.Fatal(p.Gap, p.Unproven, err)
	}
	keeps(t, o, p)
	if err := refute(o, p.Proof); err != nil {
		t.Errorf("the proof does not hold: %v", err)
	}
}

func BenchmarkHardOrders(b *testing.B) {
	list := append(hardOrders(), hardOrder{"40 like packs of two parts", limitedLike(40, 100), 0})
	for _, hard := range list {
		b.Run(hard.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := purchase.Cheapest(context.Background(), hard.order); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkGrades is 60 locations whose two shells are of five grades, in packs of 2,
// 4 and 10 of one half.
func BenchmarkGrades(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 2))
	o := graded(10, 0, []int{2, 4, 10}, []int64{10, 19, 45})
	for range 60 {
		o.Needs[r.IntN(5)].N++
		o.Needs[5+r.IntN(5)].N++
	}
	for b.Loop() {
		if _, err := purchase.Cheapest(context.Background(), o); err != nil {
			b.Fatal(err)
		}
	}
}

// fitted is places at random that each take a pair of halves out of some, in mixed
// packs of ten parts: five grades of two halves. Every place is measured for itself,
// to the tenth of a micrometre, so that no two are alike.
func fitted(seed uint64, places, packs int) order {
	r := rand.New(rand.NewPCG(seed, 23))
	half := func(grade, half int) name { return name(fmt.Sprint(grade, []string{" upper", " lower"}[half])) }
	var o order
	for i := range places {
		n := need{Name: fmt.Sprint("main ", i+1), N: 1}
		wanted := r.IntN(240) // in tenths; a pair of grades is 30 × the sum of their numbers
		for u := range 5 {
			for l := range 5 {
				if off := int64(30*(u+l) - wanted); -60 <= off && off <= 60 {
					n.Alternatives = append(n.Alternatives, alternative{Parts: []name{half(u, 0), half(l, 1)}, Distance: units.Nanometre.OfInt(100 * max(off, -off))})
				}
			}
		}
		slices.SortStableFunc(n.Alternatives, func(a, b alternative) int { return a.Distance.Cmp(b.Distance) })
		o.Needs = append(o.Needs, n)
	}
	for j := range packs {
		p := pack{Name: fmt.Sprint("pack ", j+1)}
		size := 0
		for i := j; i < 10; i += packs {
			p.Parts = append(p.Parts, some{Part: half(i/2, i%2), N: 1 + r.IntN(6)})
		}
		for range 1 + r.IntN(3) {
			p.Parts = append(p.Parts, some{Part: half(r.IntN(5), r.IntN(2)), N: 1 + r.IntN(6)})
		}
		for _, c := range p.Parts {
			size += c.N
		}
		p.Price = new(decimal.New(int64(size*(600+r.IntN(600))), -2))
		o.Packs = append(o.Packs, p)
	}
	return o
}

func TestProofsOfChoicesHold(t *testing.T) {
	for seed := range uint64(12) {
		o := fitted(seed, 4+2*int(seed), 8)
		if seed%3 == 0 {
			o.Packs[1].Limit = new(2)
			o.Stock = []some{{Part: "2 upper", N: 2}}
		}
		p, err := purchase.Cheapest(t.Context(), o)
		if err != nil || p.Gap.Sign() != 0 {
			t.Fatalf("seed %d: gap %s, %v", seed, p.Gap, err)
		}
		keeps(t, o, p)
		if err := refute(o, p.Proof); err != nil {
			t.Errorf("seed %d: the proof does not hold: %v", seed, err)
		}
	}
}

// BenchmarkChoices is 60 mains measured each for itself. Its metrics are the time of
// the proven cheapest (the median and the worst), of all trades beside it, and of the
// first answer with its gap, the slowest one.
func BenchmarkChoices(b *testing.B) {
	const orders = 8
	var whole, first, trades []time.Duration
	for b.Loop() {
		whole, first, trades = whole[:0], first[:0], trades[:0]
		for seed := range uint64(orders) {
			o := fitted(seed, 60, 8)
			past, cancel := context.WithTimeout(context.Background(), 0)
			start := time.Now()
			if p, _ := purchase.Cheapest(past, o); p == nil {
				b.Fatal("no first answer")
			}
			first = append(first, time.Since(start))
			cancel()
			start = time.Now()
			p, err := purchase.Cheapest(context.Background(), o)
			if err != nil || p.Gap.Sign() != 0 {
				b.Fatal(p.Gap, err)
			}
			whole = append(whole, time.Since(start))
			start = time.Now()
			if _, _, err := purchase.Trades(context.Background(), o, p, 12); err != nil {
				b.Fatal(err)
			}
			trades = append(trades, time.Since(start))
		}
	}
	slices.Sort(whole)
	slices.Sort(first)
	slices.Sort(trades)
	b.ReportMetric(float64(trades[orders/2].Microseconds())/1000, "median-trades-ms")
	b.ReportMetric(float64(whole[orders/2].Microseconds())/1000, "median-ms")
	b.ReportMetric(float64(whole[orders-1].Microseconds())/1000, "worst-ms")
	b.ReportMetric(float64(first[orders-1].Microseconds())/1000, "first-ms")
}
