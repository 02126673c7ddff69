package clearance_test

import (
	"errors"
	"math/big"
	"strings"
	"testing"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

func TestUndersizes(t *testing.T) {
	b := clearance.Bearing{HousingBore: span("52.00..52.02 mm"), UpperWall: span("2.000..2.006 mm"), LowerWall: span("1.990..1.996 mm"),
		Journal: span("47.98..48.00 mm")}.Undersized(mm("0.25 mm"))
	for _, test := range []struct {
		name string
		got  units.LengthInterval
		want string
	}{
		{"journal", b.Journal, "47.73..47.75 mm"},
		{"upper wall", b.UpperWall, "2.125..2.131 mm"},
		{"lower wall", b.LowerWall, "2.115..2.121 mm"},
		{"housing", b.HousingBore, "52.00..52.02 mm"},
	} {
		if !test.got.Equal(span(test.want)) {
			t.Errorf("%s: %s, want %s", test.name, test.got, test.want)
		}
	}
}

func TestCrush(t *testing.T) {
	c := clearance.Crush{Upper: span("0.03..0.05 mm"), Lower: span("0.04..0.06 mm")}
	// 0.07/π = 0.0222816920.., 0.11/π = 0.0350140874..
	if got := nearest(c.Interference(), 9); !got.Equal(span("0.022281692..0.035014087 mm")) {
		t.Errorf("interference %s", got.Exact())
	}
}

func compression() clearance.Compression {
	return clearance.Compression{
		Bore: span("86.0 mm"), Stroke: span("80.0 mm"), Deck: span("0.4 mm"),
		GasketBore: span("87.0 mm"), GasketThickness: span("1.2 mm"),
		Chamber: units.MustParse[units.VolumeInterval]("40 cm³"), Dish: units.MustParse[units.VolumeInterval]("3 cm³"),
	}
}

func TestCompression(t *testing.T) {
	c := compression()
	// π/4 × 8.6² × 8.0 = 464.704385.. cm³.
	swept, left := volumes(t, c)
	if got := swept.Mid().In(units.CubicCentimetre, 4); !got.Equal(dec("464.7044")) {
		t.Errorf("swept %s", got)
	}
	if w := swept.Width(); !w.Less(units.CubicMillimetre.OfRat(big.NewRat(1, 1000))) {
		t.Errorf("its bounds are %s apart", w)
	}
	// 43 + π/4 × 8.7² × 0.12 + π/4 × 8.6² × 0.04 = 43 + 7.1336.. + 2.3235.. = 52.4571..
	if got := left.Mid().In(units.CubicCentimetre, 4); !got.Equal(dec("52.4571")) {
		t.Errorf("over the piston %s", got)
	}
	r, err := c.Ratio()
	if err != nil || r.IsPoint() || !to4(r).Equal(units.MustParse[units.RatioInterval]("9.8587")) {
		t.Errorf("ratio %s, %v", r.Exact(), err)
	}
	// A crown that stands proud takes volume away, and more so in a larger bore.
	c.Deck, c.Bore = span("-0.4 mm"), span("86.0..86.1 mm")
	_, proud := volumes(t, c)
	if lo := proud.Lo().In(units.CubicCentimetre, 3); !lo.Equal(dec("47.805")) { // 50.1336 - 2.3289
		t.Errorf("proud: %s", proud)
	}
	// The larger bore with the larger height: π/4 × 8.61² × 0.05 = 2.91115.. cm³.
	c.Deck = span("0.4..0.5 mm")
	_, larger := volumes(t, c)
	if hi := larger.Hi().In(units.CubicCentimetre, 3); !hi.Equal(dec("53.045")) { // 50.1336 + 2.9112
		t.Errorf("of a larger bore: %s", larger)
	}
	// 1 + 464.7044/53.0448.. = 9.7606, 1 + 465.7857../(50.1336 + 2.3235) = 9.8794.
	if r, err := c.Ratio(); err != nil || !to4(r).Equal(units.MustParse[units.RatioInterval]("9.7606..9.8794")) {
		t.Errorf("ratio of a larger bore %s, %v", r.Exact(), err)
	}
	// A chamber of nothing, and the crown flush with a gasket of nothing to speak of.
	flush := compression()
	flush.Chamber, flush.Dish, flush.Deck = units.MustParse[units.VolumeInterval]("0 cm³"), units.MustParse[units.VolumeInterval]("0 cm³"), span("0 mm")
	if r, err := flush.Ratio(); err != nil || r.Lo().Less(units.One.OfInt(60)) {
		t.Errorf("flush: %v", err)
	}
	c.Deck = span("-10 mm")
	if _, err := c.Ratio(); !errors.Is(err, measure.ErrNotPositive) || !strings.Contains(err.Error(), "volume over the piston") {
		t.Errorf("a piston in the head: %v", err)
	}
	for name, change := range map[string]func(*clearance.Compression){
		"bore":             func(c *clearance.Compression) { c.Bore = span("-86 mm") },
		"stroke":           func(c *clearance.Compression) { c.Stroke = span("<= 80 mm") },
		"gasket bore":      func(c *clearance.Compression) { c.GasketBore = span("<= 88 mm") },
		"gasket thickness": func(c *clearance.Compression) { c.GasketThickness = span("0 mm") },
		"chamber":          func(c *clearance.Compression) { c.Chamber = units.MustParse[units.VolumeInterval]("-1 cm³") },
	} {
		c := compression()
		change(&c)
		if _, err := c.Ratio(); !errors.Is(err, measure.ErrNotPositive) || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: %v", name, err)
		}
	}
	c = compression()
	c.Deck = span(">= 0 mm")
	if _, err := c.Ratio(); !errors.Is(err, measure.ErrNotMeasured) {
		t.Errorf("a deck height without a bound: %v", err)
	}
}

func volumes(t testing.TB, c clearance.Compression) (swept, left units.VolumeInterval) {
	t.Helper()
	swept, left, err := c.Volumes()
	if err != nil {
		t.Fatal(err)
	}
	return swept, left
}

// to4 rounds both bounds half to even to four places.
func to4(r units.RatioInterval) units.RatioInterval {
	round := func(q units.Ratio) units.Ratio { return units.One.Of(q.In(units.One, 4)) }
	return units.MustInterval(round(r.Lo()), round(r.Hi()))
}

// nearest rounds both bounds half to even to so many places of a millimetre, as the
// printed values are.
func nearest(iv units.LengthInterval, places int32) units.LengthInterval {
	round := func(q units.Length) units.Length { return units.Millimetre.Of(q.In(units.Millimetre, places)) }
	return units.MustInterval(round(iv.Lo()), round(iv.Hi()))
}
