package units_test

import (
	"math/big"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"example.com/closefit/units"
)

// length draws a length as a person would have it: an integer coefficient, a
// scale and a unit.
func length(t *rapid.T, name string) units.Length {
	n := rapid.Int64Range(-10_000_000, 10_000_000).Draw(t, name)
	places := rapid.Int32Range(0, 7).Draw(t, name+": places")
	return rapid.SampledFrom(units.Units[units.LengthDim]()).Draw(t, name+": unit").Of(decimal.New(n, -places))
}

// interval draws an interval and a point in it.
func interval(t *rapid.T, name string) (units.LengthInterval, units.Length) {
	iv := units.Between(length(t, name), length(t, name))
	part := big.NewRat(rapid.Int64Range(0, 1000).Draw(t, name+": where in it"), 1000)
	return iv, iv.Lo().Add(iv.Width().MulRat(part))
}

// The result of interval arithmetic holds the result of every point in the
// operands.
func TestIntervalsHoldEveryPoint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, p := interval(t, "a")
		b, q := interval(t, "b")
		k := decimal.New(rapid.Int64Range(-1000, 1000).Draw(t, "k"), -2)
		for name, holds := range map[string]bool{
			"a":       a.Contains(p),
			"a + b":   a.Add(b).Contains(p.Add(q)),
			"a - b":   a.Sub(b).Contains(p.Sub(q)),
			"-a":      a.Neg().Contains(p.Neg()),
			"k·a":     a.MulRat(k.Rat()).Contains(p.Mul(k)),
			"shifted": a.Shift(q).Contains(p.Add(q)),
			"hull":    a.Hull(b).Contains(p) && a.Hull(b).Contains(q),
			"outward": a.Outward(units.Thou, 1).Contains(p),
		} {
			if !holds {
				t.Fatalf("%s does not hold the point: a %s with %s, b %s with %s, k %s", name, a, p, b, q, k)
			}
		}
		if a.Within(b) && !b.Contains(p) || a.Below(b) && !p.Less(q) || !a.Overlaps(b) && p.Equal(q) {
			t.Fatalf("a comparison: a %s with %s, b %s with %s", a, p, b, q)
		}
	})
}

// A conversion there and back is the identity where the decimal is exact, and
// else off by at most half a unit of the last place kept.
func TestThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := length(t, "length")
		u := rapid.SampledFrom(units.Units[units.LengthDim]()).Draw(t, "unit")
		if back := u.OfRat(l.Rat(u)); !back.Equal(l) {
			t.Fatalf("%s in %s and back is %s", l.Exact(), u, back.Exact())
		}
		places := rapid.Int32Range(0, 12).Draw(t, "places")
		back := u.Of(l.In(u, places))
		half := u.Of(decimal.New(5, -places-1))
		off := back.Sub(l).Abs()
		if half.Less(off) {
			t.Fatalf("%s in %s to %d places is off by %s", l.Exact(), u, places, off.Exact())
		}
		if exact := l.Rat(u); off.IsZero() != (l.In(u, places).Rat().Cmp(exact) == 0) {
			t.Fatalf("%s in %s to %d places: off by %s", l.Exact(), u, places, off.Exact())
		}
	})
}

// Cmp orders lengths as it orders their ratios, and in one order only.
func TestCmpIsATotalOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := length(t, "a"), length(t, "b"), length(t, "c")
		if got, want := a.Cmp(b), a.Rat(units.Metre).Cmp(b.Rat(units.Metre)); got != want || b.Cmp(a) != -want {
			t.Fatalf("%s against %s: %d, want %d", a, b, got, want)
		}
		if a.Cmp(b) <= 0 && b.Cmp(c) <= 0 && a.Cmp(c) > 0 {
			t.Fatalf("%s, %s, %s are in no order", a, b, c)
		}
		if (a.Cmp(b) == 0) != a.Equal(b) || a.Cmp(a) != 0 {
			t.Fatal("Cmp and Equal disagree")
		}
	})
}

// What String marks as rounded is not exact, and what it does not mark is.
func TestStringMarksWhatItRounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := length(t, "length")
		text := l.String()
		read, err := units.ParseLength(text)
		if rounded := text[:len("≈")] == "≈"; rounded == (err == nil) || !rounded && !read.Equal(l) {
			t.Fatalf("%s prints as %s, which is read as %s, %v", l.Exact(), text, read.Exact(), err)
		}
	})
}
