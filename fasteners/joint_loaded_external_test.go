package fasteners_test

import (
	"errors"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/fasteners"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

func jointOf(bolt, members string) fasteners.Joint {
	return fasteners.Joint{Bolt: units.MustParse[units.Stiffness](bolt), Members: units.MustParse[units.Stiffness](members)}
}

// A bolt of 200 kN/mm, parts of 800 kN/mm, so that Φ = 200/1000 = 1/5, by hand. Preload 20 kN:
// they separate at 20/(4/5) = 25 kN; below it F = 20 + P/5 and Fm = 20 - 4P/5, above it F = P
// and Fm = 0. Preload 18..22 kN: between 22.5 and 27.5 kN. Pressed together by 100 kN or more
// the bolt is slack: 20 - 100/5 = 0.
func TestJointUnder(t *testing.T) {
	tests := []struct {
		preload, outer    string
		clamped           measure.Verdict
		bolt, clamp, part string
	}{
		{"20 kN", "10 kN", measure.Conforming, "22 kN", "12 kN", "25 kN"},
		{"20 kN", "25 kN", measure.BelowLimit, "25 kN", "0 kN", "25 kN"},
		{"20 kN", "50 kN", measure.BelowLimit, "50 kN", "0 kN", "25 kN"},
		{"18..22 kN", "25 kN", measure.Undecided, "25..27 kN", "0..2 kN", "22.5..27.5 kN"},
		{"18..22 kN", "24..26 kN", measure.Undecided, "24..27.2 kN", "0..2.8 kN", "22.5..27.5 kN"},
		{"18..22 kN", "30..31 kN", measure.BelowLimit, "30..31 kN", "0 kN", "22.5..27.5 kN"},
		{"18..22 kN", "0..20 kN", measure.Conforming, "18..26 kN", "2..22 kN", "22.5..27.5 kN"},
		{"20 kN", "-50 kN", measure.Conforming, "10 kN", "60 kN", "25 kN"},
		{"20 kN", "-150 kN", measure.Conforming, "0 kN", "150 kN", "25 kN"},
		{"0..1 kN", "2 kN", measure.BelowLimit, "2 kN", "0 kN", "0..1.25 kN"},
	}
	j := jointOf("200 kN/mm", "800 kN/mm")
	force := units.MustParse[units.ForceInterval]
	for _, test := range tests {
		t.Run(test.preload+" under "+test.outer, func(t *testing.T) {
			got, err := j.Under(force(test.preload), force(test.outer))
			if err != nil {
				t.Fatal(err)
			}
			if got.Clamped != test.clamped {
				t.Errorf("clamped %v, want %v", got.Clamped, test.clamped)
			}
			if !got.Bolt.Equal(force(test.bolt)) || !got.Clamp.Equal(force(test.clamp)) || !got.Separation.Equal(force(test.part)) {
				t.Errorf("bolt %v, clamp %v, separation %v; want %s, %s, %s", got.Bolt, got.Clamp, got.Separation, test.bolt, test.clamp, test.part)
			}
		})
	}
}

// The joint solved another way: the bolt is stretched to a length x beyond that of the parts
// uncompressed, a pull F = kb x, and the parts resist only while shorter than uncompressed.
// Bisection finds the length at which bolt, parts and load balance.
func TestJointUnderAgainstBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kb := rapid.Int64Range(1, 900).Draw(t, "bolt")
		km := rapid.Int64Range(1, 4_000).Draw(t, "parts")
		preload := rapid.Int64Range(1, 200_000).Draw(t, "preload")
		outer := rapid.Int64Range(-300_000, 400_000).Filter(func(n int64) bool { return n != 0 }).Draw(t, "outer")
		j := fasteners.Joint{Bolt: units.NewtonPerMillimetre.OfInt(kb * 1000), Members: units.NewtonPerMillimetre.OfInt(km * 1000)}
		loaded, err := j.Under(units.Exactly(units.Newton.OfInt(preload)), units.Exactly(units.Newton.OfInt(outer)))
		if err != nil {
			t.Fatal(err)
		}
		// The gap s between the faces opens by s from the tightened state: the bolt pulls with
		// max(0, Fi + kb s), the parts press with max(0, Fi - km s).
		pull := func(s float64) float64 { return max(0, float64(preload)+float64(kb)*1000*s) }
		press := func(s float64) float64 { return max(0, float64(preload)-float64(km)*1000*s) }
		lo, hi := -1e6, 1e6
		for range 200 {
			if mid := (lo + hi) / 2; pull(mid)-press(mid) < float64(outer) {
				lo = mid
			} else {
				hi = mid
			}
		}
		if got, want := loaded.Bolt.Lo().Float64(units.Newton), pull(hi); got-want > 0.01 || want-got > 0.01 {
			t.Fatalf("bolt %g N, balance gives %g N", got, want)
		}
		if got, want := loaded.Clamp.Lo().Float64(units.Newton), press(hi); got-want > 0.01 || want-got > 0.01 {
			t.Fatalf("clamp %g N, balance gives %g N", got, want)
		}
		if left := press(hi); left > 0.01 && loaded.Clamped != measure.Conforming || left == 0 && loaded.Clamped == measure.Conforming && loaded.Clamp.Lo().Float64(units.Newton) > 0.01 {
			t.Fatalf("clamped %v, the parts press with %g N", loaded.Clamped, left)
		}
	})
}

// Intervals hold every pair of their values, and an interval that decides does so for all.
func TestJointUnderHoldsEveryPair(t *testing.T) {
	j := jointOf("210 kN/mm", "790 kN/mm")
	rapid.Check(t, func(t *rapid.T) {
		between := func(name string, lo, hi int64) (units.ForceInterval, units.Force) {
			a := rapid.Int64Range(lo, hi).Draw(t, name+" from")
			b := rapid.Int64Range(a, hi).Draw(t, name+" to")
			return units.MustInterval(units.Newton.OfInt(a), units.Newton.OfInt(b)), units.Newton.OfInt(rapid.Int64Range(a, b).Draw(t, name))
		}
		preload, oneP := between("preload", 1, 60_000)
		outer, oneO := between("outer", 1, 90_000)
		wide, err := j.Under(preload, outer)
		if err != nil {
			t.Fatal(err)
		}
		one, err := j.Under(units.Exactly(oneP), units.Exactly(oneO))
		if err != nil {
			t.Fatal(err)
		}
		if !one.Bolt.Within(wide.Bolt) || !one.Clamp.Within(wide.Clamp) || !one.Separation.Within(wide.Separation) {
			t.Fatalf("%+v does not hold %+v", wide, one)
		}
		if wide.Clamped != measure.Undecided && one.Clamped != wide.Clamped {
			t.Fatalf("%v for the intervals, %v for %v and %v", wide.Clamped, one.Clamped, oneP, oneO)
		}
	})
}

// The load factor of ratios stays a ratio: 1 and 2 kN/mm share 7 kN as 7/3 and 14/3.
func TestJointUnderIsExact(t *testing.T) {
	j := jointOf("1 kN/mm", "2 kN/mm")
	loaded, err := j.Under(units.MustParse[units.ForceInterval]("20 kN"), units.MustParse[units.ForceInterval]("7 kN"))
	if err != nil {
		t.Fatal(err)
	}
	if got := loaded.Bolt.Lo().Rat(units.Kilonewton); got.Cmp(big.NewRat(67, 3)) != 0 {
		t.Errorf("bolt %v kN, want 20 + 7/3 = 67/3", got)
	}
	if got := loaded.Separation.Lo().Rat(units.Kilonewton); got.Cmp(big.NewRat(30, 1)) != 0 {
		t.Errorf("separation %v kN, want 20/(2/3) = 30", got)
	}
}

// What was not said is refused and never counts as a joint that holds.
func TestSilenceAboutAJoint(t *testing.T) {
	force := units.MustParse[units.ForceInterval]
	under := func(j fasteners.Joint, preload, outer units.ForceInterval) error {
		return second(j.Under(preload, outer))
	}
	whole := jointOf("200 kN/mm", "800 kN/mm")
	steel := units.MustParse[units.Pressure]("205 GPa")
	m10 := fasteners.MustParseThread("M10")
	shape := fasteners.BoltShape{
		Thread: m10, Head: fasteners.HexHead, Seat: fasteners.TappedHole, Modulus: steel, SeatModulus: units.MustParse[units.Pressure]("110 GPa"),
		Grip:       units.MustParseLength("40 mm"),
		Shank:      []fasteners.Segment{{Name: "shank", Length: units.MustParseLength("25 mm"), Area: m10.ShankArea(), Modulus: steel}},
		FreeThread: units.MustParseLength("15 mm"),
	}
	if _, err := shape.Stiffness(); err != nil {
		t.Fatal(err)
	}
	without := func(silence func(*fasteners.BoltShape)) error {
		s := shape
		s.Shank = append([]fasteners.Segment(nil), shape.Shank...)
		silence(&s)
		return second(s.Stiffness())
	}
	heated := fasteners.Heated{
		Length: units.MustParseLength("50 mm"), Expansion: ratio("11.5 ppm"),
		From: units.MustParse[units.Temperature]("20 °C"), To: units.MustParse[units.Temperature]("90 °C"),
	}
	cold := func(silence func(*fasteners.Heated)) error {
		h := heated
		silence(&h)
		return second(whole.ThermalChange(heated, h))
	}
	parts := fasteners.ClampedParts{
		Hole: units.MustParseLength("11 mm"), Face: units.MustParseLength("15 mm"), Outside: units.MustParseLength("40 mm"),
		Layers: []fasteners.Layer{{Thickness: units.MustParseLength("40 mm"), Modulus: steel}},
	}
	tests := []struct {
		name string
		err  error
		what string
	}{
		{"a joint that nobody made", under(fasteners.Joint{}, force("20 kN"), force("5 kN")), "stiffness of the bolt"},
		{"no preload", under(whole, units.ForceInterval{}, force("5 kN")), "preload"},
		{"half a preload", under(whole, force(">= 20 kN"), force("5 kN")), "preload"},
		{"a preload that pushes", under(whole, force("-1..20 kN"), force("5 kN")), "preload"},
		{"no load", under(whole, force("20 kN"), units.ForceInterval{}), "outer load"},
		{"half a load", under(whole, force("20 kN"), force("<= 5 kN")), "outer load"},
		{"a heated joint that nobody made", second(fasteners.Joint{}.ThermalChange(heated, heated)), "stiffness of the bolt"},
		{"no thread", without(func(s *fasteners.BoltShape) { s.Thread = fasteners.Thread{} }), "thread of the bolt"},
		{"no head", without(func(s *fasteners.BoltShape) { s.Head = "" }), "head of the bolt"},
		{"no seat", without(func(s *fasteners.BoltShape) { s.Seat = "" }), "seat of the bolt"},
		{"no grip", without(func(s *fasteners.BoltShape) { s.Grip = units.Length{} }), "grip"},
		{"no free thread", without(func(s *fasteners.BoltShape) { s.FreeThread = units.Length{} }), "grip"},
		{"a free thread below zero", without(func(s *fasteners.BoltShape) { s.FreeThread = units.MustParseLength("-1 mm") }), "free thread"},
		{"no shank", without(func(s *fasteners.BoltShape) { s.Shank = nil }), "grip"},
		{"no modulus", without(func(s *fasteners.BoltShape) { s.Modulus = units.Pressure{} }), "modulus of the bolt"},
		{"no modulus of the seat", without(func(s *fasteners.BoltShape) { s.SeatModulus = units.Pressure{} }), "modulus of the nut or the tapped part"},
		{"a shank without section", without(func(s *fasteners.BoltShape) { s.Shank[0].Area = units.Area{} }), "section of bolt segment shank"},
		{"a shank without modulus", without(func(s *fasteners.BoltShape) { s.Shank[0].Modulus = units.Pressure{} }), "modulus of bolt segment shank"},
		{"parts without a seat", second(parts.Stiffness()), "seat of the bolt"},
		{"a load factor of no joint", second(fasteners.Joint{}.LoadFactor()), "stiffness of the bolt"},
		{"no stiffness of the parts", second(fasteners.Joint{Bolt: units.MustParse[units.Stiffness]("5 N/mm")}.Tightening()), "stiffness of the clamped parts"},
		{"nothing heated", cold(func(h *fasteners.Heated) { h.Length = units.Length{} }), "clamped part 1, heated length"},
		{"no expansion", cold(func(h *fasteners.Heated) { h.Expansion = ratio("0") }), "clamped part 1, coefficient of expansion"},
		{"no temperature at tightening", cold(func(h *fasteners.Heated) { h.From = units.Temperature{} }), "clamped part 1, temperature at tightening"},
		{"no temperature now", cold(func(h *fasteners.Heated) { h.To = units.Temperature{} }), "clamped part 1, temperature now"},
		{"no stretch to heat for", second(fasteners.RiseForStretch(units.Length{}, units.MustParseLength("80 mm"), ratio("11.5 ppm"))), "stretch"},
	}
	for _, test := range tests {
		var got *units.Error
		if !errors.Is(test.err, fasteners.ErrImpossible) || !errors.As(test.err, &got) {
			t.Errorf("%s: error %v, want one of kind ErrImpossible", test.name, test.err)
			continue
		}
		if got.Where != test.what {
			t.Errorf("%s: where %q, want %q", test.name, got.Where, test.what)
		}
	}
}
