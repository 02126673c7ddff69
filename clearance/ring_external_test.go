package clearance_test

import (
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

func TestSizeRule(t *testing.T) {
	rule := clearance.SizeRule{PerSizeLo: dec("0.0040"), PerSizeHi: dec("0.0045"), Extra: mm("0.01 mm")}
	limits, err := rule.Limits(given("86.00..86.02 mm"))
	// 86.02 × 0.0040 + 0.01 = 0.35408, 86.00 × 0.0045 + 0.01 = 0.397.
	if err != nil || !limits.Equal(span("0.35408..0.397 mm")) {
		t.Errorf("limits %s, %v", limits.Exact(), err)
	}
	upTo := clearance.SizeRule{PerSizeHi: dec("0.001")}
	if limits, err := upTo.Limits(given("50 mm")); err != nil || !limits.Equal(span("0..0.05 mm")) {
		t.Errorf("a rule from zero: %s, %v", limits, err)
	}
	for _, test := range []struct {
		name string
		rule clearance.SizeRule
		bore string
		kind error
	}{
		{"exchanged", clearance.SizeRule{PerSizeLo: dec("0.0045"), PerSizeHi: dec("0.0040")}, "86 mm", measure.ErrOrder},
		{"none", clearance.SizeRule{}, "86 mm", measure.ErrNotPositive},
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
		needed          bool
	}{
		{"too small", "0.28..0.30 mm", "0.07..0.10 mm", true},
		{"inside", "0.36..0.38 mm", "0..0.02 mm", false},
		{"just inside", "0.35..0.40 mm", "0 mm", false},
		{"too wide already", "0.41..0.43 mm", "", false},
		{"may be too wide already", "0.36..0.41 mm", "", false},
		{"known less closely than the limits", "0.25..0.31 mm", "", false},
		{"without an upper bound", ">= 0.30 mm", "", false},
	} {
		f, ok := clearance.File(given(test.gap), limits)
		if ok != (test.want != "") || ok && (!f.Amount.Equal(span(test.want)) || f.Needed != test.needed) {
			t.Errorf("%s: %s, needed %t, %t; want %q", test.name, f.Amount, f.Needed, ok, test.want)
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
func pinAndThrust() clearance.RingLayout {
	return clearance.RingLayout{
		Neighbours: deg("90°"), Any: deg("20°"),
		Forbidden: []clearance.Arc{
			{Name: "pin, front", Centre: deg("90°"), Reach: deg("15°")},
			{Name: "pin, rear", Centre: deg("270°"), Reach: deg("15°")},
			{Name: "thrust side", Centre: deg("180°"), Reach: deg("25°")},
		},
	}
}

func TestJudgeRingGaps(t *testing.T) {
	layout := pinAndThrust()
	gap := func(ring, at string) clearance.RingGap { return clearance.RingGap{Ring: ring, At: deg(at)} }
	faults, err := layout.Judge(gap("top", "30°"), gap("second", "215°"), gap("oil", "330°"))
	if err != nil || len(faults) != 0 {
		t.Errorf("a right layout: %+v, %v", faults, err)
	}
	// 350° and 10° are 20° apart across the mark; 160° is in the thrust arc by 5°.
	faults, err = layout.Judge(gap("top", "350°"), gap("second", "10°"), gap("oil", "160 °"))
	if err != nil || len(faults) != 2 {
		t.Fatalf("%+v, %v", faults, err)
	}
	if f := faults[0]; f.Arc != "" || f.Rings[0] != "top" || f.Rings[1] != "second" || !f.Short.Equal(deg("70°")) {
		t.Errorf("%+v", f)
	}
	if f := faults[1]; f.Arc != "thrust side" || f.Rings[0] != "oil" || !f.Short.Equal(deg("5°")) || !strings.Contains(f.Detail, "160 °") {
		t.Errorf("%+v", f)
	}
	// Rings that are not neighbours need 20° only.
	faults, err = layout.Judge(gap("top", "30°"), gap("second", "210°"), gap("oil", "40°"))
	if err != nil || len(faults) != 1 || !faults[0].Short.Equal(deg("10°")) || faults[0].Rings[0] != "top" || faults[0].Rings[1] != "oil" {
		t.Errorf("%+v, %v", faults, err)
	}
	// The ends of an arc are allowed, and 360° is the mark again.
	if faults, err = layout.Judge(gap("top", "105°"), gap("second", "360°")); err != nil || len(faults) != 0 {
		t.Errorf("%+v, %v", faults, err)
	}
}

func TestPlanRingGaps(t *testing.T) {
	layout := pinAndThrust()
	rings := []string{"top", "second", "upper rail", "expander", "lower rail"}
	gaps, margin, err := layout.Plan(rings...)
	if err != nil {
		t.Fatal(err)
	}
	if faults, err := layout.Judge(gaps...); err != nil || len(faults) != 0 {
		t.Errorf("the plan %v has faults %+v, %v", gaps, faults, err)
	}
	if margin.Sign() <= 0 {
		t.Errorf("no margin in %v", gaps)
	}
	// Three gaps 120° apart, and no room at all.
	tight := clearance.RingLayout{Neighbours: deg("120°"), Any: deg("120°")}
	gaps, margin, err = tight.Plan("top", "second", "oil")
	if err != nil || margin.Sign() != 0 || !gaps[1].At.Equal(deg("120°")) || !gaps[2].At.Equal(deg("240°")) {
		t.Errorf("%v, margin %s, %v", gaps, margin, err)
	}
	tight.Any, tight.Neighbours = deg("121°"), deg("121°")
	if _, _, err = tight.Plan("top", "second", "oil"); !errors.Is(err, clearance.ErrNoLayout) {
		t.Errorf("three gaps 121° apart: %v", err)
	}
	full := clearance.RingLayout{Forbidden: []clearance.Arc{
		{Name: "a", Centre: deg("10°"), Reach: deg("100°")}, {Name: "b", Centre: deg("190°"), Reach: deg("100°")}}}
	if _, _, err = full.Plan("top"); !errors.Is(err, clearance.ErrNoLayout) {
		t.Errorf("arcs all round: %v", err)
	}
	one, margin, err := (clearance.RingLayout{}).Plan("top")
	if err != nil || len(one) != 1 || !margin.Equal(deg("179°")) {
		t.Errorf("one ring, no rules: %v, %s, %v", one, margin, err)
	}
}

func TestBadRingLayouts(t *testing.T) {
	layout := pinAndThrust()
	judge := func(l clearance.RingLayout, at string) error {
		_, err := l.Judge(clearance.RingGap{Ring: "top", At: deg(at)})
		return err
	}
	_, _, none := layout.Plan()
	_, _, seven := layout.Plan("1", "2", "3", "4", "5", "6", "7")
	_, nothing := layout.Judge()
	_, _, wide := (clearance.RingLayout{Any: deg("181°")}).Plan("top")
	arc := func(centre, reach string) clearance.RingLayout {
		return clearance.RingLayout{Forbidden: []clearance.Arc{{Name: "pin", Centre: deg(centre), Reach: deg(reach)}}}
	}
	for _, test := range []struct {
		name string
		err  error
		kind error
	}{
		{"a position beyond the circle", judge(layout, "361°"), clearance.ErrAngle},
		{"a negative position", judge(layout, "-1°"), clearance.ErrAngle},
		{"a negative separation", judge(clearance.RingLayout{Neighbours: deg("-1°")}, "0°"), clearance.ErrAngle},
		{"a separation beyond half a turn", wide, clearance.ErrAngle},
		{"an arc beyond the circle", judge(arc("400°", "10°"), "0°"), clearance.ErrAngle},
		{"an arc without reach", judge(arc("40°", "0°"), "0°"), clearance.ErrAngle},
		{"an arc all round", judge(arc("40°", "180°"), "0°"), clearance.ErrAngle},
		{"no rings", none, measure.ErrEmpty},
		{"no gaps", nothing, measure.ErrEmpty},
		{"seven rings", seven, clearance.ErrTooMany},
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
		rings := []string{"top", "second", "oil"}[:rapid.IntRange(1, 3).Draw(t, "rings")]
		gaps, margin, err := layout.Plan(rings...)
		if err == nil {
			stricter := clearance.RingLayout{Neighbours: layout.Neighbours.Add(margin), Any: layout.Any}
			for _, a := range layout.Forbidden {
				a.Reach = a.Reach.Add(margin)
				stricter.Forbidden = append(stricter.Forbidden, a)
			}
			if len(rings) == 1 {
				stricter.Neighbours = units.Angle{}
			}
			if faults, err := stricter.Judge(gaps...); err != nil || len(faults) > 0 {
				t.Fatalf("%v with a margin of %s: %+v, %v", gaps, margin, faults, err)
			}
			return
		}
		if !errors.Is(err, clearance.ErrNoLayout) {
			t.Fatal(err)
		}
		at := make([]clearance.RingGap, len(rings))
		for i := range at {
			at[i] = clearance.RingGap{Ring: rings[i], At: degrees("try", 0, 359)}
		}
		if faults, err := layout.Judge(at...); err == nil && len(faults) == 0 {
			t.Fatalf("no plan, and %v obeys", at)
		}
	})
}
