package record

import (
	"testing"

	"example.com/closefit/examples/kit/job"
)

// TestBar: twelve cells of a twelfth each. By hand: limits from 0.25 to 0.75 are cells 3 to 9,
// a reading from 0.42 to 0.55 is in cells 5 and 6.
func TestBar(t *testing.T) {
	for _, test := range []struct {
		name string
		d    *job.Drawing
		want string
	}{
		{"inside", &job.Drawing{LimitsFrom: 0.25, LimitsWide: 0.5, ReadingFrom: 0.42, ReadingWide: 0.13}, "   [-##--]  "},
		{"above", &job.Drawing{LimitsFrom: 0.1, LimitsWide: 0.3, ReadingFrom: 0.8, ReadingWide: 0.05}, " [--]    ## "},
		{"over the upper end", &job.Drawing{LimitsFrom: 0.1, LimitsWide: 0.5, ReadingFrom: 0.55, ReadingWide: 0.2}, " [----####  "},
		{"a value", &job.Drawing{LimitsFrom: 0.25, LimitsWide: 0.5, ReadingFrom: 0.5}, "   [--#--]  "},
		{"no lower limit", &job.Drawing{LimitsFrom: 0, LimitsWide: 0.5, ReadingFrom: 0.2, ReadingWide: 0.05}, "--##--]     "},
		{"beyond the scale", &job.Drawing{LimitsFrom: 0.5, LimitsWide: 0.5, ReadingFrom: 0.9, ReadingWide: 0.5}, "      [---##"},
		{"nothing", nil, ""},
	} {
		if got := bar(test.d); got != test.want {
			t.Errorf("%s: %q, want %q", test.name, got, test.want)
		}
	}
}
