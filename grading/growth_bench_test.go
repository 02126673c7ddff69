package grading_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"example.com/closefit/grading"
	"example.com/closefit/units"
)

// mixedOrder makes an order at random: parts demanded up to most each, packs of
// mixed make-up, of which each part is in some.
func mixedOrder(seed uint64, parts, most, packs int) order {
	r := rand.New(rand.NewPCG(seed, 7))
	var o order
	for i := range parts {
		o.Demand = append(o.Demand, count{Part: numbered(i), N: r.IntN(most + 1)})
		o.Stock = append(o.Stock, count{Part: numbered(i), N: r.IntN(3)})
	}
	o.Packs = mixedPacks(r, parts, packs)
	return o
}

func numbered(i int) grading.Part {
	return grading.Part{Grade: fmt.Sprint(i / 2), Half: []grading.Half{grading.Upper, grading.Lower}[i%2]}
}

func mixedPacks(r *rand.Rand, parts, packs int) []box {
	var list []box
	for j := range packs {
		p := box{Name: fmt.Sprintf("pack %d", j+1)}
		size := 0
		add := func(i int) {
			n := 1 + r.IntN(6)
			size += n
			p.Parts = append(p.Parts, count{Part: numbered(i), N: n})
		}
		for i := j; i < parts; i += packs {
			add(i)
		}
		for range 1 + r.IntN(3) {
			add(r.IntN(parts))
		}
		p.Price = new(decimal.New(int64(size*(600+r.IntN(600))), -2))
		list = append(list, p)
	}
	return list
}

// gradedPlaces makes mains whose bore and journal are drawn from the sizes of the
// codes, and shells in steps of 3 µm, to be fitted within 24..48 µm.
func gradedPlaces(tb interface{ Fatal(...any) }, seed uint64, mains, grades int) [][]grading.PairFit {
	r := rand.New(rand.NewPCG(seed, 11))
	s := &grading.Scheme{Name: "bench", Mix: 99,
		Limits: units.MustParseLengthInterval("0.024..0.048 mm")}
	for g := range grades {
		wall := units.Nanometre.OfInt(int64(2_000_000 + 3000*g - 1500*(grades-1)))
		for _, h := range []grading.Half{grading.Upper, grading.Lower} {
			s.Shells = append(s.Shells, grading.Shell{Grade: fmt.Sprint(g), Half: h,
				Wall: units.PlusMinus(wall, units.Micrometre.OfInt(1))})
		}
	}
	var sites []grading.Site
	for i := range mains {
		spread := int64(grades)
		bore := units.Micrometre.OfInt(64036 + r.Int64N(3*spread) - 3*spread)
		journal := units.Micrometre.OfInt(60000 - r.Int64N(3*spread))
		sites = append(sites, grading.Site{Location: fmt.Sprintf("main %d", i+1),
			Housing: units.PlusMinus(bore, units.Micrometre.OfInt(2)), Journal: units.PlusMinus(journal, units.Micrometre.OfInt(1))})
	}
	places, err := s.Fits(sites)
	if err != nil {
		tb.Fatal(err)
	}
	return places
}

// setPacks are packs as they are usually sold: a set of one grade for all mains,
// and single shells of some of them, which are dear.
func setPacks(r *rand.Rand, mains, grades, packs int) []box {
	var list []box
	for g := range grades {
		list = append(list, box{Name: fmt.Sprintf("set %d", g), Price: new(decimal.New(int64(5500+100*r.IntN(10)), -2)),
			Parts: []count{{Part: numbered(2 * g), N: mains}, {Part: numbered(2*g + 1), N: mains}}})
	}
	for len(list) < packs {
		i := r.IntN(2 * grades)
		list = append(list, box{Name: fmt.Sprintf("single %d", len(list)), Price: new(decimal.New(int64(1200+100*r.IntN(8)), -2)),
			Parts: []count{{Part: numbered(i), N: 1}}})
	}
	return list
}

// timed runs the cases and reports the median and the worst time of one, beside
// the time per case that the benchmark itself gives.
func timed(b *testing.B, cases int, run func(seed uint64) error) {
	var times []time.Duration
	for b.Loop() {
		times = times[:0]
		for seed := range uint64(cases) {
			start := time.Now()
			if err := run(seed); err != nil {
				b.Fatal(err)
			}
			times = append(times, time.Since(start))
		}
	}
	slices.Sort(times)
	b.ReportMetric(float64(times[cases/2].Microseconds())/1000, "median-ms")
	b.ReportMetric(float64(times[cases-1].Microseconds())/1000, "worst-ms")
}

// BenchmarkBuy is the growth of a purchase with its parts and packs: 200 orders
// at random each, demands up to 20 of a part.
func BenchmarkBuy(b *testing.B) {
	for _, size := range []struct{ parts, packs int }{{4, 6}, {10, 6}, {10, 12}, {10, 24}, {20, 12}, {20, 24}} {
		b.Run(fmt.Sprintf("parts=%d/packs=%d", size.parts, size.packs), func(b *testing.B) {
			timed(b, 200, func(seed uint64) error {
				_, err := buy(b.Context(), mixedOrder(seed, size.parts, 20, size.packs))
				return err
			})
		})
	}
}

// BenchmarkBuyAgainstEveryPurchase measures Buy beside the plain alternative, which
// tries every purchase, on orders that this can still do: 3 parts, 4 packs,
// demands up to 4. Both run on the same order in turn; the ratio is what counts.
func BenchmarkBuyAgainstEveryPurchase(b *testing.B) {
	var exact, plain time.Duration
	for b.Loop() {
		for seed := range uint64(20) {
			o := mixedOrder(seed, 3, 4, 4)
			start := time.Now()
			p, err := buy(b.Context(), o)
			exact += time.Since(start)
			if err != nil {
				b.Fatal(err)
			}
			start = time.Now()
			price, _, _ := slowBuy(o)
			plain += time.Since(start)
			if !price.Equal(p.Price) {
				b.Fatalf("bought for %s, every purchase says %s", p.Price, price)
			}
		}
	}
	b.ReportMetric(float64(plain)/float64(exact), "times-faster")
}

// BenchmarkBuyFleet is the demand of twelve engines of five mains at once.
func BenchmarkBuyFleet(b *testing.B) {
	timed(b, 50, func(seed uint64) error {
		r := rand.New(rand.NewPCG(seed, 13))
		o := order{Packs: mixedPacks(r, 10, 12)}
		for range 60 {
			o.Demand = append(o.Demand, count{Part: numbered(2 * r.IntN(5)), N: 1}, count{Part: numbered(2*r.IntN(5) + 1), N: 1})
		}
		_, err := buy(b.Context(), o)
		return err
	})
}

// BenchmarkChooseFleet is twelve engines of five mains, measured each for itself,
// chosen and bought for at once.
func BenchmarkChooseFleet(b *testing.B) {
	timed(b, 8, func(seed uint64) error {
		r := rand.New(rand.NewPCG(seed, 17))
		_, err := choose(b.Context(), gradedPlaces(b, seed, 60, 5), order{Packs: mixedPacks(r, 10, 8)})
		return err
	})
}

// BenchmarkChooseSets is 7 mains with 5 grades in packs as they are usually sold.
func BenchmarkChooseSets(b *testing.B) {
	timed(b, 50, func(seed uint64) error {
		r := rand.New(rand.NewPCG(seed, 19))
		o := order{Packs: setPacks(r, 7, 5, 8)}
		_, err := choose(b.Context(), gradedPlaces(b, seed, 7, 5), o)
		return err
	})
}

// BenchmarkChoose is the growth of choosing and buying at once with the number
// of mains: 50 cases at random each, every pair of grades allowed that is proven
// inside; the trades are part of it.
func BenchmarkChoose(b *testing.B) {
	for _, size := range []struct{ mains, grades, packs int }{{3, 5, 8}, {5, 5, 8}, {7, 3, 8}, {7, 5, 8}, {7, 5, 16}, {7, 7, 8}, {14, 5, 8}} {
		b.Run(fmt.Sprintf("mains=%d/grades=%d/packs=%d", size.mains, size.grades, size.packs), func(b *testing.B) {
			timed(b, 50, func(seed uint64) error {
				r := rand.New(rand.NewPCG(seed, 17))
				o := order{Packs: mixedPacks(r, 2*size.grades, size.packs)}
				_, err := choose(b.Context(), gradedPlaces(b, seed, size.mains, size.grades), o)
				return err
			})
		})
	}
}
