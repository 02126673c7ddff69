package purchase

import (
	"errors"
	"slices"
	"strings"
	"testing"
)

// What all that could be bought comes to must fit: 2⁶⁰ does, and one more is too large.
func TestAimsThatAddUp(t *testing.T) {
	for hi, fits := range map[int64]bool{1 << 30: true, 1<<30 + 1: false, 1 << 62: false} {
		p := &program{lo: []int64{0, 0}, hi: []int64{hi, 0}, classes: [][]int{{0}, {1}}, guess: func(lo, _ []int64, _ []float64) []int64 { return lo }}
		o, err := p.reach(t.Context(), aim{"price", []int64{1 << 30, 7}}, nil)
		if fits && (err != nil || !o.proven || o.least != 0) {
			t.Errorf("%d at 2³⁰: %+v, %v", hi, o, err)
		}
		if !fits && (!errors.Is(err, ErrTooLarge) || !strings.Contains(err.Error(), "the price of all that could be bought") || o.proven) {
			t.Errorf("%d at 2³⁰: %+v, %v", hi, o, err)
		}
	}
}

// What is served beyond the demand is taken back of the farthest alternative first, and of two
// as far, of the last.
func TestTrim(t *testing.T) {
	w := demand{n: 3, alternatives: []alternative{{distance: 2}, {distance: 5}, {distance: 5}, {distance: 1}}}
	for _, test := range []struct{ served, want []int64 }{
		{[]int64{1, 1, 1, 0}, []int64{1, 1, 1, 0}},
		{[]int64{1, 1, 1, 1}, []int64{1, 1, 0, 1}},
		{[]int64{2, 2, 1, 1}, []int64{2, 0, 0, 1}},
		{[]int64{4, 1, 0, 2}, []int64{1, 0, 0, 2}},
		{[]int64{0, 0, 0, 9}, []int64{0, 0, 0, 3}},
	} {
		got := slices.Clone(test.served)
		w.trim(got)
		if !slices.Equal(got, test.want) {
			t.Errorf("%v: %v, want %v", test.served, got, test.want)
		}
	}
}
