package measure_test

import (
	"errors"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// nearestBy returns the print that an eye calls the nearest to a clearance, by the
// exact distance given. Of two equally near it returns the larger if large is set.
func nearestBy(distance func(at, print *big.Rat) *big.Rat, at units.Length, prints []units.Length, large bool) units.Length {
	nearest := prints[0]
	least := distance(at.Rat(units.Millimetre), nearest.Rat(units.Millimetre))
	for _, p := range prints[1:] {
		d := distance(at.Rat(units.Millimetre), p.Rat(units.Millimetre))
		if c := d.Cmp(least); c < 0 || c == 0 && large {
			nearest, least = p, d
		}
	}
	return nearest
}

// byWidth compares what the eye sees of a strip whose width times its clearance is
// constant: the widths, which go with one over the clearances.
func byWidth(at, print *big.Rat) *big.Rat {
	d := new(big.Rat).Sub(new(big.Rat).Inv(at), new(big.Rat).Inv(print))
	return d.Abs(d)
}

// byClearance compares the clearances themselves.
func byClearance(at, print *big.Rat) *big.Rat {
	d := new(big.Rat).Sub(at, print)
	return d.Abs(d)
}

// Whatever an eye compares, and however far within its tolerance the strip is off,
// the reading holds the clearance that is there.
func TestAStripHoldsTheGapThatIsThere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		prints := drawLadder(t, 2, 6)
		tolerance := drawLength(t, "tolerance", 0, 9)
		strip := measure.Strip{Prints: prints, Tolerance: tolerance}
		gap := drawLength(t, "gap", 0, 300)
		shown := gap.Add(drawIn(t, "off", units.PlusMinus(units.Length{}, tolerance)))
		if shown.Sign() <= 0 {
			return // a strip always shows something
		}
		for _, eye := range []func(at, print *big.Rat) *big.Rat{byWidth, byClearance} {
			for _, large := range []bool{false, true} {
				p := nearestBy(eye, shown, prints, large)
				r, err := strip.Read("", units.Exactly(p))
				if err != nil || !r.Interval().Contains(gap) {
					t.Fatalf("a gap of %s, shown as %s, nearest to %s reads %s, %v", gap, shown, p, r, err)
				}
			}
		}
		for i, p := range prints[1:] {
			if shown.Cmp(prints[i]) >= 0 && shown.Cmp(p) <= 0 {
				r, err := strip.Read("", units.Between(prints[i], p))
				if err != nil || !r.Interval().Contains(gap) {
					t.Fatalf("a gap of %s reads %s, %v", gap, r, err)
				}
			}
		}
		tighter, errTighter := strip.Read("", units.AtMost(prints[0]))
		looser, errLooser := strip.Read("", units.AtLeast(prints[len(prints)-1]))
		switch {
		case errTighter != nil || errLooser != nil:
			t.Fatal(errTighter, errLooser)
		case shown.Less(prints[0]) && !tighter.Interval().Contains(gap):
			t.Fatalf("a gap of %s reads %s", gap, tighter)
		case prints[len(prints)-1].Less(shown) && !looser.Interval().Contains(gap):
			t.Fatalf("a gap of %s reads %s", gap, looser)
		}
	})
}

// The bounds are no wider than they must be: a nanometre and a half outside them
// neither eye reads the strip so. Every tenth of a micrometre from 1 to 80 µm is
// tried besides.
func TestAStripIsReadNoLooserThanItIs(t *testing.T) {
	prints := []units.Length{sized("0.025 mm"), sized("0.038 mm"), sized("0.051 mm")}
	strip := newStrip(t)
	outside := units.Nanometre.OfRat(ratio(3, 2))
	for _, p := range prints {
		r := good[units.LengthDim](t)(strip.Read("", units.Exactly(p))).Interval()
		check := func(gap units.Length) {
			reads := false
			for _, large := range []bool{false, true} {
				reads = reads || nearestBy(byWidth, gap, prints, large).Equal(p) || nearestBy(byClearance, gap, prints, large).Equal(p)
			}
			if reads && !r.Contains(gap) {
				t.Errorf("%s is read as nearest to %s, which is %s", gap, p, r)
			}
			if !reads && r.Contains(gap) && !(r.Lo().Sign() > 0 && gap.Sub(r.Lo()).Less(units.Nanometre.OfInt(1))) {
				t.Errorf("no eye reads %s as nearest to %s, and %s holds it", gap, p, r)
			}
		}
		for tenth := int64(10); tenth <= 800; tenth++ {
			check(units.Nanometre.OfInt(100 * tenth))
		}
		if r.Lo().Sign() > 0 {
			check(r.Lo().Sub(outside))
			check(r.Lo().Add(outside))
		}
		if r.HasHi() {
			check(r.Hi())
			check(r.Hi().Add(outside))
		}
	}
}

// A strip whose clearance is 0.0305 mm lies nearer in width to its 0.038 print
// than to its 0.025 print: 1/25 - 1/30.5 = 0.0072, 1/30.5 - 1/38 = 0.0065. Limits of
// 0.031..0.052 mm are not proven by it.
func TestNearestInWidthIsNotProof(t *testing.T) {
	strip := newStrip(t)
	gap := sized("0.0305 mm")
	if p := nearestBy(byWidth, gap, lengths("0.025 mm", "0.038 mm", "0.051 mm"), false); !p.Equal(sized("0.038 mm")) {
		t.Fatalf("the eye takes %s", p)
	}
	r := good[units.LengthDim](t)(strip.Read("", within("0.038 mm")))
	if v := measure.Judge(r.Interval(), within("0.031..0.052 mm")); v != measure.Undecided {
		t.Errorf("%s: %s", r, v)
	}
}

// A strip's tolerance widens every reading to either side, and none below zero.
func TestStripTolerance(t *testing.T) {
	strip := newStrip(t)
	strip.Tolerance = sized("0.004 mm")
	length := good[units.LengthDim](t)
	for _, test := range []struct {
		name, want, how string
		got             measure.LengthReading
	}{
		{"between", "0.021..0.042 mm", "crush strip between its 0.025 mm and 0.038 mm prints, ±0.004 mm at most",
			length(strip.Read("", within("0.025..0.038 mm")))},
		// 0.0301587… rounded down, less 0.004; 0.0445 and 0.004.
		{"nearest", "0.026158..0.0485 mm", "crush strip nearest its 0.038 mm print, ±0.004 mm at most",
			length(strip.Read("", within("0.038 mm")))},
		{"nearest the first", "0..0.0355 mm", "crush strip nearest its first print, 0.025 mm; no lower mark, ±0.004 mm at most",
			length(strip.Read("", within("0.025 mm")))},
		{"nearest the last", ">= 0.03955 mm", "crush strip nearest its last print, 0.051 mm; no higher mark, ±0.004 mm at most",
			length(strip.Read("", within("0.051 mm")))},
		{"tighter", "0..0.029 mm", "crush strip wider than its first print, 0.025 mm: less clearance, and no lower mark, ±0.004 mm at most", length(strip.Read("", within("<= 0.025 mm")))},
		{"looser", ">= 0.047 mm", "crush strip narrower than its last print, 0.051 mm: more clearance, and no higher mark, ±0.004 mm at most", length(strip.Read("", within(">= 0.051 mm")))},
	} {
		if got := test.got.Interval(); !got.Equal(within(test.want)) {
			t.Errorf("%s: %s, want %s", test.name, got, test.want)
		}
		if got := test.got.How(units.Millimetre); got != test.how {
			t.Errorf("%s: %q, want %q", test.name, got, test.how)
		}
	}
	wide := newStrip(t)
	wide.Tolerance = sized("0.030 mm")
	if got := length(wide.Read("", within("0.025..0.038 mm"))).Interval(); !got.Equal(within("0..0.068 mm")) {
		t.Errorf("a tolerance larger than the clearance: %s", got)
	}
	wide.Tolerance = sized("-0.004 mm")
	if err := wide.Check(); !errors.Is(err, measure.ErrNotPositive) {
		t.Errorf("a tolerance below zero: %v", err)
	}
}
