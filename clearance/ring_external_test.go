package clearance_test

import (
	"errors"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

func TestSizeRule(t *testing.T) {
	rule := clearance.SizeRule{PerSize: units.MustParse[units.RatioInterval]("0.0040..0.0045"), Extra: mm("0.01 mm")}
	limits, err := rule.Limits(given("86.00..86.02 mm"))
	// 86.02 × 0.0040 + 0.01 = 0.35408, 86.00 × 0.0045 + 0.01 = 0.397.
	if err != nil || !limits.Equal(span("0.35408..0.397 mm")) {
		t.Errorf("limits %s, %v", limits.Exact(), err)
	}
	if w, err := rule.Working(given("86.00..86.02 mm"), units.Millimetre); err != nil || w.Numbers != "0.004 × 86.02 + 0.01 to 0.0045 × 86 + 0.01" {
		t.Errorf("worked out as %q, %v", w.Numbers, err)
	}
	upTo := clearance.SizeRule{PerSize: units.MustParse[units.RatioInterval]("0..0.001")}
	if limits, err := upTo.Limits(given("50 mm")); err != nil || !limits.Equal(span("0..0.05 mm")) {
		t.Errorf("a rule from zero: %s, %v", limits, err)
	}
	for _, test := range []struct {
		name string
		rule clearance.SizeRule
		bore string
		kind error
	}{
		{"none", clearance.SizeRule{}, "86 mm", measure.ErrNotPositive},
		{"of one limit", clearance.SizeRule{PerSize: units.MustParse[units.RatioInterval](">= 0.004")}, "86 mm", measure.ErrNotPositive},
		{"below zero", clearance.SizeRule{PerSize: units.MustParse[units.RatioInterval]("-0.001..0.004")}, "86 mm", measure.ErrNotPositive},
		{"of nothing", clearance.SizeRule{PerSize: units.MustParse[units.RatioInterval]("0")}, "86 mm", measure.ErrNotPositive},
		{"a bore without bounds", rule, ">= 86 mm", measure.ErrNotPositive},
		{"a bore known too loosely", rule, "80..95 mm", measure.ErrOrder},
	} {
		if _, err := test.rule.Limits(given(test.bore)); !errors.Is(err, test.kind) {
			t.Errorf("%s: %v", test.name, err)
		}
	}
}

func TestFile(t *testing.T) {
	limits := span("0.35..0.40 mm")
	for _, test := range []struct {
		name, gap, want string
	}{
		{"too small", "0.28..0.30 mm", "0.07..0.10 mm"},
		{"inside", "0.36..0.38 mm", "0..0.02 mm"},
		{"just inside", "0.35..0.40 mm", "0 mm"},
		{"too wide already", "0.41..0.43 mm", ""},
		{"may be too wide already", "0.36..0.41 mm", ""},
		{"known less closely than the limits", "0.25..0.31 mm", ""},
		{"without an upper bound", ">= 0.30 mm", ""},
	} {
		f, ok := clearance.File(given(test.gap), limits)
		if ok != (test.want != "") || ok && !f.Amount.Equal(span(test.want)) {
			t.Errorf("%s: %s, %t; want %q", test.name, f.Amount, ok, test.want)
		}
	}
}

// Whatever is filed off as told, the gap is then proven inside.
func TestFiledAsToldIsInside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		gap, limits := drawInterval(t, "gap", 100, 300), drawInterval(t, "limits", 150, 400)
		f, ok := clearance.File(measure.Given(gap, ""), limits)
		if !ok {
			return
		}
		off := drawIn(t, "off", f.Amount)
		if after := gap.Shift(off); measure.Judge(after, limits) != measure.Conforming {
			t.Fatalf("%s, filed by %s, is %s and not inside %s", gap, off, after, limits)
		}
	})
}

func deg(text string) units.Angle { return units.MustParseAngle(text) }

// pinAndThrust forbids both ends of the pin at 90° and 270°, and the thrust side
// at 180°.
func pinAndThrust(rings ...string) clearance.RingLayout {
	return clearance.RingLayout{
		Rings:      rings,
		Neighbours: deg("90°"), Any: deg("20°"),
		Forbidden: []clearance.Arc{
			{Name: "pin, front", Centre: deg("90°"), Reach: deg("15°")},
			{Name: "pin, rear", Centre: deg("270°"), Reach: deg("15°")},
			{Name: "thrust side", Centre: deg("180°"), Reach: deg("25°")},
		},
	}
}

func TestJudgeRingGaps(t *testing.T) {
	layout := pinAndThrust("top", "second", "oil")
	for _, test := range []struct {
		name string
		at   [3]string
		want []string
	}{
		{"right", [3]string{"30°", "215°", "330°"}, nil},
		{"the ends of an arc, and 360° the mark again", [3]string{"105°", "360°", "205°"}, nil},
		// 350° and 10° are 20° apart across the mark; 160° is in the thrust arc by 5°.
		{"too near across the mark, and in an arc", [3]string{"350°", "10°", "160°"}, []string{
			"the gaps of top and second are 20 ° apart, and must be 90 °; move one by 70 ° or more",
			"the gap of oil at 160 ° stands in the arc of thrust side (180 ° ± 25 °); move it by 5 ° or more"}},
		{"rings that are not neighbours need 20°", [3]string{"30°", "210°", "40°"}, []string{
			"the gaps of top and oil are 10 ° apart, and must be 20 °; move one by 10 ° or more"}},
	} {
		faults, err := layout.Judge(deg(test.at[0]), deg(test.at[1]), deg(test.at[2]))
		if err != nil || !slices.Equal(faults, test.want) {
			t.Errorf("%s: %q, %v", test.name, faults, err)
		}
	}
}

func TestPlanRingGaps(t *testing.T) {
	layout := pinAndThrust("top", "second", "upper rail", "expander", "lower rail")
	at, margin, err := layout.Plan()
	if err != nil {
		t.Fatal(err)
	}
	if faults, err := layout.Judge(at...); err != nil || len(faults) != 0 {
		t.Errorf("the plan %v has faults %q, %v", at, faults, err)
	}
	if margin.Sign() <= 0 {
		t.Errorf("no margin in %v", at)
	}
	// Three gaps 120° apart, and no room at all.
	tight := clearance.RingLayout{Rings: []string{"top", "second", "oil"}, Neighbours: deg("120°"), Any: deg("120°")}
	at, margin, err = tight.Plan()
	if err != nil || margin.Sign() != 0 || !at[1].Equal(deg("120°")) || !at[2].Equal(deg("240°")) {
		t.Errorf("%v, margin %s, %v", at, margin, err)
	}
	tight.Any, tight.Neighbours = deg("121°"), deg("121°")
	if _, _, err = tight.Plan(); !errors.Is(err, clearance.ErrNoLayout) {
		t.Errorf("three gaps 121° apart: %v", err)
	}
	full := clearance.RingLayout{Rings: []string{"top"}, Forbidden: []clearance.Arc{
		{Name: "a", Centre: deg("10°"), Reach: deg("100°")}, {Name: "b", Centre: deg("190°"), Reach: deg("100°")}}}
	if _, _, err = full.Plan(); !errors.Is(err, clearance.ErrNoLayout) {
		t.Errorf("arcs all round: %v", err)
	}
	one, margin, err := (clearance.RingLayout{Rings: []string{"top"}}).Plan()
	if err != nil || len(one) != 1 || !margin.Equal(deg("179°")) {
		t.Errorf("one ring, no rules: %v, %s, %v", one, margin, err)
	}
}

func TestBadRingLayouts(t *testing.T) {
	top := []string{"top"}
	layout := pinAndThrust(top...)
	judge := func(l clearance.RingLayout, at ...string) error {
		var gaps []units.Angle
		for _, a := range at {
			gaps = append(gaps, deg(a))
		}
		_, err := l.Judge(gaps...)
		return err
	}
	plan := func(l clearance.RingLayout) error { _, _, err := l.Plan(); return err }
	arc := func(centre, reach string) clearance.RingLayout {
		return clearance.RingLayout{Rings: top, Forbidden: []clearance.Arc{{Name: "pin", Centre: deg(centre), Reach: deg(reach)}}}
	}
	for _, test := range []struct {
		name string
		err  error
		kind error
	}{
		{"a position beyond the circle", judge(layout, "361°"), clearance.ErrRange},
		{"a negative position", judge(layout, "-1°"), clearance.ErrRange},
		{"a negative separation", judge(clearance.RingLayout{Rings: top, Neighbours: deg("-1°")}, "0°"), clearance.ErrRange},
		{"a separation beyond half a turn", plan(clearance.RingLayout{Rings: top, Any: deg("181°")}), clearance.ErrRange},
		{"an arc beyond the circle", judge(arc("400°", "10°"), "0°"), clearance.ErrRange},
		{"an arc without reach", judge(arc("40°", "0°"), "0°"), clearance.ErrRange},
		{"an arc all round", judge(arc("40°", "180°"), "0°"), clearance.ErrRange},
		{"no rings", plan(pinAndThrust()), measure.ErrEmpty},
		{"no rings to judge", judge(pinAndThrust()), measure.ErrEmpty},
		{"no gaps", judge(layout), measure.ErrNotMeasured},
		{"a gap too many", judge(layout, "30°", "215°"), measure.ErrNotMeasured},
		{"seven rings", plan(pinAndThrust("1", "2", "3", "4", "5", "6", "7")), clearance.ErrTooMany},
	} {
		if !errors.Is(test.err, test.kind) {
			t.Errorf("%s: %v", test.name, test.err)
		}
	}
}

// A plan obeys its layout with the margin it states; where there is none, no
// layout on a coarse grid does either.
func TestPlansObeyAndAreFound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		degrees := func(label string, lo, hi int64) units.Angle {
			return units.Degree.OfInt(rapid.Int64Range(lo, hi).Draw(t, label))
		}
		layout := clearance.RingLayout{Neighbours: degrees("neighbours", 0, 150), Any: degrees("any", 0, 60)}
		for range rapid.IntRange(0, 3).Draw(t, "arcs") {
			layout.Forbidden = append(layout.Forbidden, clearance.Arc{Name: "arc", Centre: degrees("centre", 0, 360), Reach: degrees("reach", 1, 60)})
		}
		layout.Rings = []string{"top", "second", "oil"}[:rapid.IntRange(1, 3).Draw(t, "rings")]
		at, margin, err := layout.Plan()
		if err == nil {
			stricter := clearance.RingLayout{Rings: layout.Rings, Neighbours: layout.Neighbours.Add(margin), Any: layout.Any}
			for _, a := range layout.Forbidden {
				a.Reach = a.Reach.Add(margin)
				stricter.Forbidden = append(stricter.Forbidden, a)
			}
			if len(layout.Rings) == 1 {
				stricter.Neighbours = units.Angle{}
			}
			if faults, err := stricter.Judge(at...); err != nil || len(faults) > 0 {
				t.Fatalf("%v with a margin of %s: %q, %v", at, margin, faults, err)
			}
			return
		}
		if !errors.Is(err, clearance.ErrNoLayout) {
			t.Fatal(err)
		}
		tried := make([]units.Angle, len(layout.Rings))
		for i := range tried {
			tried[i] = degrees("try", 0, 359)
		}
		if faults, err := layout.Judge(tried...); err == nil && len(faults) == 0 {
			t.Fatalf("no plan, and %v obeys", tried)
		}
	})
}
