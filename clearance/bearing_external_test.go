package clearance_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
)

func TestBearingClearance(t *testing.T) {
	// By hand: 52.010 - 2.003 - 2.006 - 47.970 = 0.031;
	//          52.019 - 2.000 - 2.002 - 47.960 = 0.057.
	b := clearance.Bearing{
		HousingBore: span("52.010..52.019 mm"), UpperWall: span("2.000..2.003 mm"),
		LowerWall: span("2.002..2.006 mm"), Journal: span("47.960..47.970 mm"),
	}
	if got, want := b.Clearance(), span("0.031..0.057 mm"); !got.Equal(want) {
		t.Errorf("clearance %s, want %s", got, want)
	}
	text := b.Working(units.Millimetre).Text()
	for _, want := range []string{"C = D - t1 - t2 - d", "52.01 - 2.003 - 2.006 - 47.97", "= 0.057 mm", "= 0.031..0.057 mm"} {
		if !strings.Contains(text, want) {
			t.Errorf("working lacks %q:\n%s", want, text)
		}
	}
}

// A bearing of which one size has one bound only.
func TestBearingOfOneBound(t *testing.T) {
	b := clearance.Bearing{
		HousingBore: span(">= 52.010 mm"), UpperWall: span("2.001 mm"), LowerWall: span("2.002 mm"), Journal: span("47.970 mm"),
	}
	if got := b.Clearance(); !got.Equal(span(">= 0.037 mm")) {
		t.Errorf("clearance %s", got)
	}
	text := b.Working(units.Millimetre).Text()
	if !strings.Contains(text, "= >= 0.037 mm") || !strings.Contains(text, "smallest") || strings.Contains(text, "largest\n") {
		t.Errorf("working:\n%s", text)
	}
	b.HousingBore, b.Journal = span("52.010 mm"), span(">= 47.970 mm")
	text = b.Working(units.Millimetre).Text()
	if !strings.Contains(text, "= <= 0.037 mm") || !strings.Contains(text, "largest\n") {
		t.Errorf("working:\n%s", text)
	}
	exact := clearance.Bearing{
		HousingBore: span("52.010 mm"), UpperWall: span("2.001 mm"), LowerWall: span("2.002 mm"), Journal: span("47.970 mm"),
	}
	if text := exact.Working(units.Millimetre).Text(); !strings.Contains(text, "52.01 - 2.001 - 2.002 - 47.97\n  = 0.037 mm") {
		t.Errorf("working:\n%s", text)
	}
}

// The clearance of intervals holds the clearance of every choice of points in
// them, and both its ends are such clearances.
func TestBearingHoldsEveryChoiceOfPoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := clearance.Bearing{
			HousingBore: drawInterval(t, "bore", 60_000, 60_030), UpperWall: drawInterval(t, "upper", 2000, 2010),
			LowerWall: drawInterval(t, "lower", 1990, 2020), Journal: drawInterval(t, "journal", 55_900, 55_990),
		}
		c := b.Clearance()
		point := drawIn(t, "D", b.HousingBore).Sub(drawIn(t, "t1", b.UpperWall)).
			Sub(drawIn(t, "t2", b.LowerWall)).Sub(drawIn(t, "d", b.Journal))
		if !c.Contains(point) {
			t.Fatalf("%s does not hold %s", c, point)
		}
		width := units.Sum(b.HousingBore.Width(), b.UpperWall.Width(), b.LowerWall.Width(), b.Journal.Width())
		if !c.Width().Equal(width) {
			t.Fatalf("%s is %s wide, its parts together %s", c, c.Width(), width)
		}
		swapped := b
		swapped.UpperWall, swapped.LowerWall = b.LowerWall, b.UpperWall
		if !swapped.Clearance().Equal(c) {
			t.Fatalf("exchanging the shells changes %s to %s", c, swapped.Clearance())
		}
	})
}
