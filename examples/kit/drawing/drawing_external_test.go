package drawing_test

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/drawing"
	"example.com/closefit/torque"
	"example.com/closefit/torque/ledger"
	"example.com/closefit/units"
	"pgregory.net/rapid"
)

// texts returns the texts in an SVG, or why it is not well formed.
func texts(svg string) ([]string, error) {
	d := xml.NewDecoder(strings.NewReader(svg))
	var all []string
	for {
		token, err := d.Token()
		if err == io.EOF {
			return all, nil
		}
		if err != nil {
			return nil, err
		}
		if text, is := token.(xml.CharData); is && strings.TrimSpace(string(text)) != "" {
			all = append(all, strings.TrimSpace(string(text)))
		}
	}
}

func count(all []string, want string) (n int) {
	for _, s := range all {
		if s == want {
			n++
		}
	}
	return n
}

func tighten(to string) torque.Stage {
	return torque.Stage{Pull: torque.Do(torque.Tighten{To: units.MustParseTorque(to)})}
}

func turn(by string) torque.Stage {
	return torque.Stage{Pull: torque.Do(torque.Turn{By: units.MustParseAngle(by)})}
}

func during(s torque.Stage, group string, stage int) torque.Stage {
	s.DuringGroup, s.DuringStage = group, stage
	return s
}

// bottomEnd is an invented engine's: main bolts by torque and turn, side bolts with
// their last torque, rod bolts after them.
func bottomEnd() []torque.Group {
	return []torque.Group{
		{
			Name:    "mains",
			Pattern: torque.Caps([]string{"1L", "1R"}, []string{"2L", "2R"}, []string{"3L", "3R"}, []string{"4L", "4R"}),
			Stages:  []torque.Stage{tighten("7 N·m"), tighten("15 N·m"), turn("55°")},
			Use:     torque.SingleUse,
		},
		{
			Name:    "side",
			Pattern: torque.Row("S1", "S2", "S3"),
			Stages:  []torque.Stage{during(tighten("10.5 N·m"), "mains", 2)},
		},
		{
			Name:    "rods",
			Pattern: torque.Caps([]string{"A", "B"}),
			Order:   torque.Rows,
			Stages:  []torque.Stage{tighten("4 N·m"), tighten("8 N·m"), turn("75°")},
			Use:     torque.SingleUse,
		},
	}
}

// genGroups draws groups of bolts that stand anywhere, in every order.
func genGroups(t *rapid.T) []torque.Group {
	groups := make([]torque.Group, rapid.IntRange(1, 4).Draw(t, "groups"))
	for i := range groups {
		g := &groups[i]
		g.Name = fmt.Sprint("g", i)
		g.Order = rapid.SampledFrom([]torque.Sequence{nil, torque.InsideOut, torque.OutsideIn, torque.Spiral, torque.Cross, torque.Rows, torque.CapByCap}).Draw(t, "order")
		g.Use = torque.Reusable
		taken := map[[2]int]bool{}
		parts := []string{"p", "q", ""}
		if g.Order == torque.CapByCap { // then each bolt has to hold one
			parts = parts[:2]
		}
		for b := range rapid.IntRange(1, 12).Draw(t, "bolts") {
			at := [2]int{rapid.IntRange(-4, 4).Draw(t, "x"), rapid.IntRange(-9, 9).Draw(t, "y")}
			if taken[at] {
				continue
			}
			taken[at] = true
			g.Pattern = append(g.Pattern, torque.Position{Bolt: fmt.Sprint(g.Name, ".", b),
				X: units.Millimetre.OfInt(int64(at[0] * 37)), Y: units.Millimetre.OfInt(int64(at[1] * 91)),
				Part: rapid.SampledFrom(parts).Draw(t, "part")})
		}
		g.Stages = []torque.Stage{tighten("10 N·m"), turn("60°")}[:rapid.IntRange(1, 2).Draw(t, "stages")]
	}
	return groups
}

func TestDrawings(t *testing.T) {
	groups := bottomEnd()
	groups[0].On, groups[1].On = "block", "block"
	for i := range groups[1].Pattern {
		groups[1].Pattern[i].X = units.MustParseLength("150 mm")
		groups[1].Pattern[i].Y = units.MustParseLength("100 mm").MulInt(int64(i))
	}
	groups[2].Pattern[0].Bolt = `A<&"`
	groups[2].Stages[1].Order = torque.OutsideIn
	groups[2].Order = torque.Given{"B", `A<&"`}
	plan, err := torque.NewPlan("bottom end", groups...)
	if err != nil {
		t.Fatal(err)
	}
	drawings := drawing.Of(plan)
	if len(drawings) != 2 || drawings[0].On != "block" || strings.Join(drawings[0].Groups, " ") != "mains side" ||
		drawings[1].On != "rods" {
		t.Fatalf("%d drawings: %+v", len(drawings), drawings)
	}
	block, err := texts(drawings[0].SVG)
	if err != nil {
		t.Fatal(err)
	}
	for text, want := range map[string]int{
		"2L": 1, "S3": 1, // each bolt
		"A1": 1, "A8": 1, "B3": 1, // and its place in its group's order
		"B2: tighten": 0,
		"3: mark, then turn 55° further  (steps 20 to 27)":                        1,
		"1: tighten to 10.5 N·m, during stage 2 of mains  (steps 17 to 19)":       1,
		"Plan " + plan.Digest()[:12] + ". The engine maker's manual comes first.": 1,
	} {
		if got := count(block, text); got != want {
			t.Errorf("%q stands %d times in the drawing of the block, want %d", text, got, want)
		}
	}
	rods, err := texts(drawings[1].SVG)
	if err != nil {
		t.Fatal(err)
	}
	for text, want := range map[string]int{`A<&"`: 2, "rods, stages 1, 3": 1, "rods, stage 2": 1, "1": 2, "2": 2} {
		if got := count(rods, text); got != want {
			t.Errorf("%q stands %d times in the drawing of the rods, want %d", text, got, want)
		}
	}
}

// TestCapByCapDrawing: the numbers go from cap to cap, in one picture for all stages, and the
// legend says that each is finished first.
func TestCapByCapDrawing(t *testing.T) {
	plan, err := torque.NewPlan("rods", torque.Group{Name: "rod bolts", Pattern: torque.Caps([]string{"1a", "1b"}, []string{"2a", "2b"}),
		Order: torque.CapByCap, Stages: []torque.Stage{tighten("8 N·m"), turn("75°")}, Use: torque.SingleUse})
	if err != nil {
		t.Fatal(err)
	}
	rods, err := texts(drawing.Of(plan)[0].SVG)
	if err != nil {
		t.Fatal(err)
	}
	for text, want := range map[string]int{
		"1": 1, "2": 1, "3": 1, "4": 1,
		"cap by cap: finish one, all stages, before the next is begun":     1,
		"1: tighten to 8 N·m  (cap by cap, among steps 1 to 6)":            1, // 1 2, 5 6
		"2: mark, then turn 75° further  (cap by cap, among steps 3 to 8)": 1, // 3 4, 7 8
	} {
		if got := count(rods, text); got != want {
			t.Errorf("%q stands %d times, want %d\n%q", text, got, want, rods)
		}
	}
}

// TestDrawingsAreWellFormed: whatever the pattern, the drawing is one that a reader of
// XML takes, with numbers in it, and every bolt.
func TestDrawingsAreWellFormed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		groups := genGroups(t)
		if rapid.Bool().Draw(t, "on one part") {
			for i := range groups {
				groups[i].On = "block"
			}
		}
		plan, err := torque.NewPlan("drawn", groups...)
		if err != nil {
			t.Fatal(err)
		}
		var all []string
		for _, d := range drawing.Of(plan) {
			if strings.Contains(d.SVG, "NaN") || strings.Contains(d.SVG, "Inf") {
				t.Fatalf("no number: %s", d.SVG)
			}
			found, err := texts(d.SVG)
			if err != nil {
				t.Fatal(err)
			}
			all = append(all, found...)
		}
		for _, g := range groups {
			for _, at := range g.Pattern {
				if count(all, at.Bolt) == 0 {
					t.Fatalf("%s is in no drawing", at.Bolt)
				}
			}
		}
	})
}

// TestCrowdedDrawing: where bolts stand close, the sheet grows until their numbers can be
// read. 200 bolts on a circle are numbered in letters of 1.5 mm or more; six fit A4.
func TestCrowdedDrawing(t *testing.T) {
	for _, test := range []struct {
		bolts         int
		least, widest float64 // of the last number's letters, and of the sheet, in mm
	}{{6, 3, 180}, {200, 1.5, 600}} {
		var names []string
		for i := range test.bolts {
			names = append(names, fmt.Sprintf("flange bolt %d", i+1))
		}
		plan, err := torque.NewPlan("crowded", torque.Group{Name: "flange", Pattern: torque.Circle(units.MustParseLength("600 mm"), names...),
			Stages: []torque.Stage{{Pull: torque.Do(torque.Tighten{To: units.MustParseTorque("20 N·m")})}}})
		if err != nil {
			t.Fatal(err)
		}
		svg := drawing.Of(plan)[0].SVG
		var width, height, units float64
		if _, err := fmt.Sscanf(svg, `<svg xmlns="http://www.w3.org/2000/svg" width="%fmm" height="%fmm" viewBox="0 0 %f`, &width, &height, &units); err != nil {
			t.Fatal(err)
		}
		number := regexp.MustCompile(fmt.Sprintf(`font-size="([0-9.]+)" font-weight="bold" text-anchor="middle">%d</text>`, test.bolts)).FindStringSubmatch(svg)
		if number == nil {
			t.Fatalf("%d bolts: the last has no number", test.bolts)
		}
		size, err := strconv.ParseFloat(number[1], 64)
		if err != nil {
			t.Fatal(err)
		}
		if size *= width / units; size < test.least || width > test.widest {
			t.Errorf("%d bolts: the last number is %.2f mm high on a sheet of %.0f mm, want %.1f or more on %.0f or less",
				test.bolts, size, width, test.least, test.widest)
		}
	}
}

// TestDrawingOfALedger: what is done is shaded, what is not is white, and a bolt in doubt
// has a question mark.
func TestDrawingOfALedger(t *testing.T) {
	plan, err := torque.NewPlan("small", torque.Group{Name: "mains", Pattern: torque.Caps([]string{"1L", "1R"}, []string{"2L", "2R"}),
		Use: torque.SingleUse, Stages: []torque.Stage{tighten("15 N·m"), turn("55°")}})
	if err != nil {
		t.Fatal(err)
	}
	l, err := ledger.Start(ledger.Home{Path: filepath.Join(t.TempDir(), "ledger"), Witness: t.TempDir()}, ledger.Work{Engine: "small engine 1", Build: "first"}, plan, []string{})
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	shades := func(stage string) int {
		// One of them is the legend's.
		return strings.Count(drawing.OfLedger(l)[0].SVG, `fill="url(#shade`+stage+`)"`) - 1
	}
	if shades("0") != 0 || shades("1") != 0 {
		t.Errorf("%d and %d shaded of nothing done", shades("0"), shades("1"))
	}
	for n := 1; n <= 5; n++ {
		if err := errors.Join(l.Begin(n), l.Done(n, ledger.Reached{})); err != nil {
			t.Fatal(err)
		}
	}
	if shades("0") != 4 || shades("1") != 1 {
		t.Errorf("%d and %d shaded, want 4 and 1", shades("0"), shades("1"))
	}
	if err := errors.Join(l.Begin(6), l.Mishap(ledger.What{Mishap: ledger.PartWay, Step: 6})); err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(drawing.OfLedger(l)[0].SVG, ">?</text>"); n != 1 {
		t.Errorf("%d bolts in doubt, want 1", n)
	}
}

func ExampleOf() {
	plan, err := torque.NewPlan("rods", torque.Group{Name: "rod bolts", Pattern: torque.Row("1A", "1B"), Stages: []torque.Stage{tighten("8 N·m")}})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, d := range drawing.Of(plan) {
		fmt.Println(d.On, strings.HasPrefix(d.SVG, "<svg"))
	}
	// Output:
	// rod bolts true
}
