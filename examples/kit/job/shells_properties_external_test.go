package job_test

import (
	"fmt"
	"math"
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/job/jobtest"
)

// TestBySizesAgainstCounting: shells chosen by sizes are inside, and cost what the cheapest
// do, by whole micrometres: the bore and the journal are good to 1 µm, the walls of a grade
// lie in a range, and each location takes one grade, sold in pairs. So each location takes
// the cheapest grade of which D - 1 - (d + 1) - 2·tmax is at least the lower limit, and
// D + 1 - (d - 1) - 2·tmin at most the upper one; the sum of those is the least there is.
//
// Of parts that were not at 20 °C the bore with its doubt counts (1 + αg·θ)/(1 + αb·θ) times,
// with αg of the gauge and αb of the block, and the journal likewise (ISO 1:2022; the gauges
// are right at 20 °C, the coefficients and the temperature θ above it are exact). A doubt is
// rounded up by less than 0.1 nm, so that what is as close to a limit is not asked.
func TestBySizesAgainstCounting(t *testing.T) {
	const sure = `sure = ["1", "2", "3", "4"]` // no draw is a slip
	rapid.Check(t, func(t *rapid.T) {
		lo := rapid.IntRange(15, 35).Draw(t, "lower limit")
		hi := lo + rapid.IntRange(8, 40).Draw(t, "limits apart")
		grades := []string{"red", "blue", "green"}
		first, step, wide := rapid.IntRange(1990, 2010).Draw(t, "wall"), rapid.IntRange(1, 6).Draw(t, "step"), rapid.IntRange(0, 3).Draw(t, "wide")
		var walls, packs []string
		prices := make([]int, len(grades))
		for k, g := range grades {
			prices[k] = rapid.IntRange(1, 9).Draw(t, "price")
			walls = append(walls, fmt.Sprintf("%s = %q", g, jobtest.Span(false, first+k*step, first+k*step+wide)))
			packs = append(packs, fmt.Sprintf("{ name = %q, price = \"%d\", holds = [{ half = \"upper\", grade = %[1]q }, { half = \"lower\", grade = %[1]q }] }", g, prices[k]))
		}
		warmth, boreFactor, journalFactor := drawWarmth(t)
		scaled := func(n int, f *big.Rat) *big.Rat { return new(big.Rat).Mul(big.NewRat(int64(n), 1), f) }
		atLeast := func(a *big.Rat, b int) bool { // in micrometres
			d, _ := new(big.Rat).Sub(a, big.NewRat(int64(b), 1)).Float64()
			if d != 0 && math.Abs(d) < 0.0002 {
				t.Skip("too close to a limit")
			}
			return d >= 0
		}
		var bores, journals []string
		want, standing := 0, make([]string, 4)
		for i := range 4 {
			bore, journal := rapid.IntRange(60000, 60015).Draw(t, "bore"), rapid.IntRange(55950, 55970).Draw(t, "journal")
			bores = append(bores, fmt.Sprintf("%d = %s", i+1, strings.TrimSuffix(jobtest.Length(false, bore), " mm")))
			journals = append(journals, fmt.Sprintf("%d = %s", i+1, strings.TrimSuffix(jobtest.Length(false, journal), " mm")))
			cheapest := 0
			for k := range grades {
				thin := first + k*step
				least := new(big.Rat).Sub(scaled(bore-1, boreFactor), scaled(journal+1, journalFactor))
				most := new(big.Rat).Sub(scaled(bore+1, boreFactor), scaled(journal-1, journalFactor))
				if atLeast(least, lo+2*(thin+wide)) && atLeast(most.Neg(most), -hi-2*thin) && (cheapest == 0 || prices[k] < cheapest) {
					cheapest = prices[k]
				}
			}
			want += cheapest
			standing[i] = "to order"
			if cheapest == 0 {
				standing[i] = "undecided"
			}
		}
		src := strings.Replace(four, "0.025..0.055 mm", jobtest.Span(false, lo, hi), 1) + measured("main bore", "gauge", proper+"\n"+sure, strings.Join(bores, ", ")) + measured("main journal", "micrometer", sure, strings.Join(journals, ", ")) +
			"[shells.main]\nwalls = { both = { " + strings.Join(walls, ", ") + " } }\npacks = [" + strings.Join(packs, ", ") + "]\n" + warmth
		a := assessed(t, src)
		total := "0.00"
		if p := a.Shells[0].Purchase; p != nil {
			total = p.Total
		}
		if total != fmt.Sprintf("%d.00", want) {
			t.Fatalf("costs %s, want %d\n%s", total, want, src)
		}
		for i, l := range a.Shells[0].Locations {
			if l.Standing.String() != standing[i] {
				t.Fatalf("location %s is %s, want %s: %s\n%s", l.Location, l.Standing, standing[i], l.Why, src)
			}
		}
	})
}

// drawWarmth draws how warm the parts and the gauges of the job four were when they were
// measured, and by what factors that corrects the bores and the journals. At times nothing
// is said, and nothing is corrected.
func drawWarmth(t *rapid.T) (text string, bore, journal *big.Rat) {
	if !rapid.Bool().Draw(t, "warm") {
		return "", big.NewRat(1, 1), big.NewRat(1, 1)
	}
	tenths := int64(rapid.IntRange(-150, 450).Draw(t, "tenths of a degree"))
	above, unit := big.NewRat(tenths-200, 10), "°C"
	if rapid.Bool().Draw(t, "Fahrenheit") {
		above, unit = new(big.Rat).Mul(big.NewRat(tenths-680, 10), big.NewRat(5, 9)), "°F"
	}
	grown := func(tenthsOfPPM int64) *big.Rat {
		g := new(big.Rat).Mul(above, big.NewRat(tenthsOfPPM, 10_000_000))
		return g.Add(g, big.NewRat(1, 1))
	}
	text = fmt.Sprintf("[temperatures]\nshop = \"%.1f %s\"\n", float64(tenths)/10, unit) +
		"[materials]\niron = \"10.3 ppm\"\nsteel = \"11.7 ppm\"\nalloy = \"9.1 ppm\"\n[warmth]\n" +
		"block = { material = \"iron\", measured = \"shop\" }\ncrankshaft = { material = \"steel\", measured = \"shop\" }\n" +
		"gauge = { material = \"steel\", measured = \"shop\" }\nmicrometer = { material = \"alloy\", measured = \"shop\" }\n"
	return text, new(big.Rat).Quo(grown(117), grown(103)), new(big.Rat).Quo(grown(91), grown(117))
}

// TestExchangedSizes: two bores of different classes that were written down for one another
// are named as exchanged, and both locations are open; in their places they are not. A bore
// is 2 µm and more inside its class of 6 µm, and known to 1 µm.
func TestExchangedSizes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.IntRange(60002, 60004).Draw(t, "of code A")
		b := rapid.IntRange(60008, 60010).Draw(t, "of code B")
		first := rapid.SampledFrom([]string{"1", "3"}).Draw(t, "location of code A")
		second := rapid.SampledFrom([]string{"2", "4"}).Draw(t, "location of code B")
		opened := func(one, two int) int {
			bores := fmt.Sprintf("%s = %d.%03d, %s = %d.%03d", first, one/1000, one%1000, second, two/1000, two%1000)
			n := 0
			for _, l := range assessed(t, four+boresAndJournals(bores, "")+stamped+eachHalf+codeSizes).Shells[0].Locations {
				if l.Standing != job.Undecided {
					continue
				}
				n++
				if other := map[string]string{first: second, second: first}[l.Location]; !strings.Contains(l.Why, "Exchanged with that of "+other+", both would have the sizes of their codes") {
					t.Fatalf("%s: %s", l.Location, l.Why)
				}
			}
			return n
		}
		if n := opened(a, b); n != 0 {
			t.Fatalf("%d are open", n)
		}
		if n := opened(b, a); n != 2 {
			t.Fatalf("exchanged, %d are open", n)
		}
	})
}
