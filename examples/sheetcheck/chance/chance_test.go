package chance

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestBits: by hand. Three of six lines in one set and the same three in the other: one of
// C(6,3) = 20 ways, log2 20 = 4.3219. Two of the three: 1 + C(3,2)·C(3,1) = 10 of 20 ways. One of
// seven: log2 7. Four heads of four coins: 4 bits; three or four of four: 5/16.
func TestBits(t *testing.T) {
	for _, test := range []struct {
		name      string
		got, want float64
	}{
		{"three of six, all alike", Shared(6, 3, 3, 3), math.Log2(20)},
		{"three of six, two alike", Shared(6, 3, 3, 2), 1},
		{"one of seven", Shared(7, 1, 1, 1), math.Log2(7)},
		{"other sizes", Shared(5, 2, 3, 2), math.Log2(10.0 / 3)}, // C(3,2) of C(5,2) ways
		{"all equal", Shared(9, 9, 4, 4), 0},
		{"none", Shared(9, 0, 4, 0), 0},
		{"more than there are", Shared(4, 2, 2, 3), 0},
		{"four coins", Agreeing(4, 4, 0.5), 4},
		{"three coins of four", Agreeing(3, 4, 0.5), math.Log2(16.0 / 5)},
		{"nothing agrees", Agreeing(0, 4, 0.5), 0},
		{"a thing that is sure", Agreeing(4, 4, 1), 0},
	} {
		if math.Abs(test.got-test.want) > 1e-9 {
			t.Errorf("%s: %v bits, want %v", test.name, test.got, test.want)
		}
	}
	for _, test := range []struct {
		bits  float64
		tried int
		want  bool
	}{{5.7, 1, true}, {5.6, 1, false}, {9.7, 16, true}, {9.6, 16, false}, {6, 0, true}} {
		if got := Excluded(test.bits, test.tried); got != test.want {
			t.Errorf("%v bits of %d rules: %v", test.bits, test.tried, got)
		}
	}
}

// TestChance: words dealt at random to a few lines are claimed for one of twelve rules in fewer than two of a
// hundred columns; and words by a rule are claimed where there are enough of both kinds.
func TestChance(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 11))
	const rules = 12
	for _, lines := range []int{3, 4, 6, 10, 20} {
		claimed, of := 0, 4000
		for range of {
			words := make([]bool, lines)
			for i := range words {
				words[i] = random.IntN(3) > 0
			}
			any := false
			for range rules {
				rule, a, b, both := make([]bool, lines), 0, 0, 0
				for i := range rule {
					rule[i] = random.IntN(2) > 0
					if rule[i] {
						a++
					}
					if words[i] {
						b++
					}
					if rule[i] && words[i] {
						both++
					}
				}
				any = any || Excluded(Shared(lines, a, b, both), rules)
			}
			if any {
				claimed++
			}
		}
		if 50*claimed >= of {
			t.Errorf("%d lines: %d of %d columns without a rule are claimed", lines, claimed, of)
		}
	}
	if !Excluded(Shared(20, 10, 10, 10), rules) || Excluded(Shared(20, 20, 20, 20), rules) {
		t.Error("ten of twenty each way are to be claimed, and twenty of one kind are not")
	}
}
