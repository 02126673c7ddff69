package torque_test

import (
	"fmt"
	"slices"
	"testing"

	"example.com/closefit/torque"
	"example.com/closefit/units"
)

// TestPatternsStandWhereTheyAreSaidTo: the bolts of a row are 50 mm apart about its middle;
// caps are 100 mm apart, or as far as their widest row of bolts needs.
func TestPatternsStandWhereTheyAreSaidTo(t *testing.T) {
	for _, tt := range []struct {
		name    string
		pattern []torque.Position
		want    []string // bolt, x and y in millimetres, part
	}{
		{"a row of three", torque.Row("a", "b", "c"), []string{"a -50 0 ", "b 0 0 ", "c 50 0 "}},
		// Of two and four the middle is between bolts: half of 50 mm either way.
		{"caps of two, one and four", torque.Caps([]string{"1a", "1b"}, []string{"2a"}, []string{"3a", "3b", "3c", "3d"}), []string{
			"1a -25 0 1", "1b 25 0 1",
			"2a 0 200 2", // 4 bolts of 50 mm
			"3a -75 400 3", "3b -25 400 3", "3c 25 400 3", "3d 75 400 3"}},
		{"caps of one", torque.Caps([]string{"f"}, []string{"g"}), []string{"f 0 0 1", "g 0 100 2"}},
		// 15 mm about the middle: up, right, down, left.
		{"a circle of four", torque.Circle(units.MustParseLength("30 mm"), "n", "e", "s", "w"), []string{"n 0 -15 ", "e 15 0 ", "s 0 15 ", "w -15 0 "}},
	} {
		var got []string
		for _, at := range tt.pattern {
			got = append(got, fmt.Sprintf("%s %v %v %s", at.Bolt, at.X.Float64(units.Millimetre), at.Y.Float64(units.Millimetre), at.Part))
		}
		if !slices.Equal(got, tt.want) {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}
}
