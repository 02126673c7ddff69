package hardware_test

import (
	"errors"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"example.com/closefit/examples/kit/hardware"
)

func number(s string) decimal.Decimal { return decimal.RequireFromString(s) }

func second[T any](_ T, err error) error { return err }

// Single-use sets of 40 against a reusable set of 150 for 6 builds with 5 for checking each
// time and a gauge for 30, by hand: after 1 build 40 : 185, after 4 160 : 200, after 5 200 :
// 205, after 6 240 : 210, after 7 280 : 365 (a second set), after 10 400 : 380.
func TestCompare(t *testing.T) {
	single := hardware.Hardware{Name: "single use", Set: number("40"), Uses: 1}
	reusable := hardware.Hardware{Name: "reusable", Set: number("150"), Uses: 6, Once: number("30"), PerBuild: number("5")}
	c, err := hardware.Compare(single, reusable, []int{1, 3, 0, 2, 1, 3})
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
	ok := hardware.Hardware{Name: "plain", Set: number("40"), Uses: 1}
	for name, err := range map[string]error{
		"negative price":   second(hardware.Hardware{Set: number("-1"), Uses: 1}.Cost(1)),
		"no price":         second(hardware.Hardware{Uses: 1}.Cost(1)),
		"no use":           second(hardware.Hardware{Set: number("1")}.Cost(1)),
		"builds below":     second(ok.Cost(-1)),
		"builds beyond":    second(ok.Cost(10_001)),
		"year below":       second(hardware.Compare(ok, ok, []int{1, -1})),
		"years beyond":     second(hardware.Compare(ok, ok, []int{6_000, 6_000})),
		"a bad comparison": second(hardware.Compare(ok, hardware.Hardware{}, []int{1})),
	} {
		if !errors.Is(err, hardware.ErrPrice) {
			t.Errorf("%s: error %v, want ErrPrice", name, err)
		}
	}
}

// From the break-even on, reusable hardware never costs more; at the build before, it does.
func TestBreakEven(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cents := func(name string, most int64) hardware.Hardware {
			return hardware.Hardware{
				Set:      decimal.New(rapid.Int64Range(1, most).Draw(t, name+" set"), -2),
				Uses:     rapid.IntRange(1, 9).Draw(t, name+" uses"),
				Once:     decimal.New(rapid.Int64Range(0, 100).Draw(t, name+" once"), 0),
				PerBuild: decimal.New(rapid.Int64Range(0, 9).Draw(t, name+" per build"), 0),
			}
		}
		single, reusable := cents("single", 5_000), cents("reusable", 30_000)
		single.Uses = 1
		total := rapid.IntRange(0, 40).Draw(t, "builds")
		c, err := hardware.Compare(single, reusable, []int{total})
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
