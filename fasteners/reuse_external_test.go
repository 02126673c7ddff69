package fasteners_test

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"example.com/closefit/fasteners"
	"example.com/closefit/units"
)

func TestCheckNeckAndDiameter(t *testing.T) {
	length, limit := units.MustParseLengthInterval, units.MustParseLength
	neck := func(thinnest, shank, most string) (fasteners.Check, error) {
		return fasteners.CheckNeck(length(thinnest), length(shank), limit(most))
	}
	diameter := func(now, least string) (fasteners.Check, error) {
		return fasteners.CheckDiameter(length(now), limit(least))
	}
	tests := []struct {
		name     string
		check    func() (fasteners.Check, error)
		measured string
		want     fasteners.Reuse
	}{
		{"necked within", func() (fasteners.Check, error) { return neck("8.86 ±0.01 mm", "8.90 ±0.01 mm", "0.06 mm") }, "0.02..0.06 mm", fasteners.Reusable},
		{"necked beyond", func() (fasteners.Check, error) { return neck("8.70 ±0.01 mm", "8.90 ±0.01 mm", "0.1 mm") }, "0.18..0.22 mm", fasteners.Replace},
		{"necked perhaps", func() (fasteners.Check, error) { return neck("8.80 ±0.01 mm", "8.90 ±0.01 mm", "0.1 mm") }, "0.08..0.12 mm", fasteners.Undecided},
		{"thicker than its shank", func() (fasteners.Check, error) { return neck("8.95 ±0.01 mm", "8.90 ±0.01 mm", "0.1 mm") }, "-0.07..-0.03 mm", fasteners.Undecided},
		{"thick enough", func() (fasteners.Check, error) { return diameter("0.6243..0.6245 in", "0.6242 in") }, "0.6243..0.6245 in", fasteners.Reusable},
		{"at the limit", func() (fasteners.Check, error) { return diameter("0.6242 in", "0.6242 in") }, "0.6242 in", fasteners.Reusable},
		{"too thin", func() (fasteners.Check, error) { return diameter("0.6239..0.6241 in", "0.6242 in") }, "0.6239..0.6241 in", fasteners.Replace},
		{"perhaps too thin", func() (fasteners.Check, error) { return diameter("0.6241..0.6243 in", "0.6242 in") }, "0.6241..0.6243 in", fasteners.Undecided},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			c, err := test.check()
			if err != nil {
				t.Fatal(err)
			}
			if c.Outcome != test.want || !c.Measured.Equal(length(test.measured)) {
				t.Errorf("%v of %v, want %v of %s", c.Outcome, c.Measured, test.want, test.measured)
			}
			if text := c.Working(units.Millimetre, 3).Text(); !strings.Contains(text, fasteners.Caution) {
				t.Errorf("no caution in %s", text)
			}
		})
	}
	for name, err := range map[string]error{
		"no thinnest":    second(neck("0 mm", "8 mm", "0.1 mm")),
		"half a shank":   second(neck("8 mm", "<= 8 mm", "0.1 mm")),
		"negative limit": second(neck("8 mm", "8 mm", "-0.1 mm")),
		"no diameter":    second(diameter("0 mm", "8 mm")),
		"no least":       second(diameter("8 mm", "0 mm")),
	} {
		if !errors.Is(err, fasteners.ErrReading) {
			t.Errorf("%s: error %v, want ErrReading", name, err)
		}
	}
}

// An unmeasured bolt never passes: no reading, no answer and no check is Reusable.
func TestSilenceAboutABolt(t *testing.T) {
	var none units.LengthInterval
	some, limit := units.MustParseLengthInterval("60 ±0.01 mm"), units.MustParseLength("0.1 mm")
	for name, check := range map[string]func() (fasteners.Check, error){
		"no length now":      func() (fasteners.Check, error) { return fasteners.CheckStretch(none, some, limit) },
		"no length when new": func() (fasteners.Check, error) { return fasteners.CheckStretch(some, none, limit) },
		"no length":          func() (fasteners.Check, error) { return fasteners.CheckLength(none, limit) },
		"no longest length":  func() (fasteners.Check, error) { return fasteners.CheckLength(some, units.Length{}) },
		"no thinnest place":  func() (fasteners.Check, error) { return fasteners.CheckNeck(none, some, limit) },
		"no shank":           func() (fasteners.Check, error) { return fasteners.CheckNeck(some, none, limit) },
		"no diameter":        func() (fasteners.Check, error) { return fasteners.CheckDiameter(none, limit) },
		"no least diameter":  func() (fasteners.Check, error) { return fasteners.CheckDiameter(some, units.Length{}) },
	} {
		if c, err := check(); !errors.Is(err, fasteners.ErrReading) || c.Outcome != fasteners.Undecided {
			t.Errorf("%s: %v, %v", name, c.Outcome, err)
		}
	}
	if c := (fasteners.Check{}); fasteners.Together(c.Outcome) != fasteners.Undecided || fasteners.Together() != fasteners.Undecided {
		t.Error("a check that nobody made decides")
	}
	unanswered := good()
	unanswered["cracks"] = fasteners.Answer(7)
	for name, answers := range map[string]map[string]fasteners.Answer{"no answer": nil, "an answer that is none": unanswered} {
		if c, err := fasteners.JudgeCondition(answers); err != nil || c.Outcome != fasteners.Undecided {
			t.Errorf("%s: %v, %v", name, c.Outcome, err)
		}
	}
}

func second[T any](_ T, err error) error { return err }

// good returns the answers of a bolt with nothing against it.
func good() map[string]fasteners.Answer {
	answers := map[string]fasteners.Answer{}
	for _, q := range fasteners.Questions() {
		answers[q.Key] = q.Good
	}
	return answers
}

func TestJudgeCondition(t *testing.T) {
	tests := []struct {
		name     string
		change   func(map[string]fasteners.Answer)
		want     fasteners.Reuse
		findings []string
	}{
		{"nothing against it", func(map[string]fasteners.Answer) {}, fasteners.Reusable, nil},
		{"yielded", func(a map[string]fasteners.Answer) { a["single-use"] = fasteners.Yes }, fasteners.Replace,
			[]string{"single-use: replace: a yielded bolt is scrap: it has used up stretch that it needs next time"}},
		{"nut binds", func(a map[string]fasteners.Answer) { a["runs"] = fasteners.No }, fasteners.Replace,
			[]string{"runs: replace: the thread is stretched or damaged"}},
		{"no mark", func(a map[string]fasteners.Answer) { a["mark"] = fasteners.No }, fasteners.Undecided,
			[]string{"mark: undecided: nobody knows what the bolt bears; find out or replace it"}},
		{"not looked at", func(a map[string]fasteners.Answer) { delete(a, "straight") }, fasteners.Undecided,
			[]string{"straight: not answered: Rolled on a flat plate, does it run straight?"}},
		{"pits and no mark", func(a map[string]fasteners.Answer) { a["mark"], a["pits"] = fasteners.No, fasteners.Yes }, fasteners.Replace,
			[]string{"mark: undecided: nobody knows what the bolt bears; find out or replace it", "pits: replace: cracks start at pits"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			answers := good()
			test.change(answers)
			c, err := fasteners.JudgeCondition(answers)
			if err != nil {
				t.Fatal(err)
			}
			if c.Outcome != test.want {
				t.Errorf("outcome %v, want %v", c.Outcome, test.want)
			}
			if d := cmp.Diff(test.findings, c.Findings); d != "" {
				t.Error(d)
			}
		})
	}
	if _, err := fasteners.JudgeCondition(map[string]fasteners.Answer{"colour": fasteners.Yes}); !errors.Is(err, fasteners.ErrQuestion) {
		t.Errorf("error %v, want ErrQuestion", err)
	}
}

func TestStrengthErrors(t *testing.T) {
	iso := func(class, thread string) error {
		return second(fasteners.ISO898(class, fasteners.MustParseThread(thread)))
	}
	sae := func(grade, thread string) error {
		return second(fasteners.SAEJ429(grade, fasteners.MustParseThread(thread)))
	}
	tests := []struct {
		name string
		err  error
		fix  string
	}{
		{"unknown class", iso("11.9", "M10"), "the choice is 4.6, 4.8, 5.6, 5.8, 6.8, 8.8, 9.8, 10.9, 12.9"},
		{"a decimal comma", iso("8,8", "M10"), `write "8.8"`},
		{"no point", iso("129", "M10"), `write "12.9"`},
		{"a word before it", iso("class 10.9", "M10"), `write "10.9"`},
		{"a nut's class", iso("8", "M10"), "the choice is 4.6, 4.8, 5.6, 5.8, 6.8, 8.8, 9.8, 10.9, 12.9"},
		{"9.8 above M16", iso("9.8", "M18"), "class 9.8 ends at M16: read the mark on the head again"},
		{"too large", iso("8.8", "M42"), "ISO 898-1 is for M1.6 to M39"},
		{"class on an inch thread", iso("8.8", "3/8-24"), "ISO 898-1 is for metric threads; ask SAEJ429 for a unified one"},
		{"unknown grade", sae("9", "3/8-24"), "the choice is 1, 2, 4, 5, 5.2, 7, 8, 8.2"},
		{"a word before a grade", sae("Grade 8", "3/8-24"), `write "8"`},
		{"8.2 above 1 in", sae("8.2", "1-1/8-7"), "the standard has sizes from 1/4 to 1-1/2 in, of grades 5.2 and 8.2 to 1 in"},
		{"too small", sae("5", "#10-32"), "the standard has sizes from 1/4 to 1-1/2 in, of grades 5.2 and 8.2 to 1 in"},
		{"grade on a metric thread", sae("5", "M10"), "SAE J429 is for unified threads; ask ISO898 for a metric one"},
	}
	for _, test := range tests {
		var got *fasteners.ClassError
		if !errors.Is(test.err, fasteners.ErrClass) || !errors.As(test.err, &got) {
			t.Errorf("%s: error %v, want a ClassError", test.name, test.err)
			continue
		}
		if got.Fix != test.fix {
			t.Errorf("%s: fix %q, want %q", test.name, got.Fix, test.fix)
		}
	}
}

// Single-use sets of 40 against a reusable set of 150 for 6 builds with 5 for checking each
// time and a gauge for 30, by hand: after 1 build 40 : 185, after 4 160 : 200, after 5 200 :
// 205, after 6 240 : 210, after 7 280 : 365 (a second set), after 10 400 : 380.
func TestCompareHardware(t *testing.T) {
	single := fasteners.Hardware{Name: "single use", Set: number("40"), Uses: 1}
	reusable := fasteners.Hardware{Name: "reusable", Set: number("150"), Uses: 6, Once: number("30"), PerBuild: number("5")}
	c, err := fasteners.CompareHardware(single, reusable, []int{1, 3, 0, 2, 1, 3})
	if err != nil {
		t.Fatal(err)
	}
	want := []struct {
		total            int
		single, reusable string
	}{{1, "40", "185"}, {4, "160", "200"}, {4, "160", "200"}, {6, "240", "210"}, {7, "280", "365"}, {10, "400", "380"}}
	for i, w := range want {
		y := c.Years[i]
		if y.Year != i+1 || y.Total != w.total || !y.SingleUse.Equal(number(w.single)) || !y.Reusable.Equal(number(w.reusable)) ||
			!y.Saved.Equal(number(w.single).Sub(number(w.reusable))) {
			t.Errorf("year %d: %+v, want %+v", i+1, y, w)
		}
	}
	if c.BreakEven != 10 {
		t.Errorf("break-even at build %d, want 10: at 9 it is 360 : 375", c.BreakEven)
	}
}

func TestHardwareErrors(t *testing.T) {
	ok := fasteners.Hardware{Name: "plain", Set: number("40"), Uses: 1}
	for name, err := range map[string]error{
		"negative price":   second(fasteners.Hardware{Set: number("-1"), Uses: 1}.Cost(1)),
		"no price":         second(fasteners.Hardware{Uses: 1}.Cost(1)),
		"no use":           second(fasteners.Hardware{Set: number("1")}.Cost(1)),
		"builds below":     second(ok.Cost(-1)),
		"builds beyond":    second(ok.Cost(10_001)),
		"year below":       second(fasteners.CompareHardware(ok, ok, []int{1, -1})),
		"years beyond":     second(fasteners.CompareHardware(ok, ok, []int{6_000, 6_000})),
		"a bad comparison": second(fasteners.CompareHardware(ok, fasteners.Hardware{}, []int{1})),
	} {
		if !errors.Is(err, fasteners.ErrPrice) {
			t.Errorf("%s: error %v, want ErrPrice", name, err)
		}
	}
}

// From the break-even on, reusable hardware never costs more; at the build before, it does.
func TestBreakEven(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cents := func(name string, most int64) fasteners.Hardware {
			return fasteners.Hardware{
				Set:      decimal.New(rapid.Int64Range(1, most).Draw(t, name+" set"), -2),
				Uses:     rapid.IntRange(1, 9).Draw(t, name+" uses"),
				Once:     decimal.New(rapid.Int64Range(0, 100).Draw(t, name+" once"), 0),
				PerBuild: decimal.New(rapid.Int64Range(0, 9).Draw(t, name+" per build"), 0),
			}
		}
		single, reusable := cents("single", 5_000), cents("reusable", 30_000)
		single.Uses = 1
		total := rapid.IntRange(0, 40).Draw(t, "builds")
		c, err := fasteners.CompareHardware(single, reusable, []int{total})
		if err != nil {
			t.Fatal(err)
		}
		dearer := func(n int) bool {
			a, errA := single.Cost(n)
			b, errB := reusable.Cost(n)
			if errA != nil || errB != nil {
				t.Fatal(errA, errB)
			}
			return b.Cmp(a) > 0
		}
		if c.BreakEven == 0 {
			if total > 0 && !dearer(total) {
				t.Fatalf("no break-even, though at %d builds it is not dearer", total)
			}
			return
		}
		for n := c.BreakEven; n <= total; n++ {
			if dearer(n) {
				t.Fatalf("break-even at %d, but dearer at %d", c.BreakEven, n)
			}
		}
		if c.BreakEven > 1 && !dearer(c.BreakEven-1) {
			t.Fatalf("break-even at %d, but already at %d", c.BreakEven, c.BreakEven-1)
		}
	})
}
