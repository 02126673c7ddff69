package job

import (
	"errors"
	"strings"
	"testing"

	"example.com/closefit/clearance/isofit"
	"example.com/closefit/units"
)

func TestParseLimits(t *testing.T) {
	for _, test := range []struct{ text, want string }{
		{"0.053..0.087 mm", "0.053..0.087 mm"},
		{">= 0.1 mm", ">= 0.1 mm"},
		// H6 of 55 mm is 0..+19 µm, f6 -49..-30 µm (ISO 286-1:2010, tables 1, 2 and 4, from memory).
		{"55 H6/f6", "0.030..0.068 mm"},
		{"Ø55 mm H6/f6", "0.030..0.068 mm"},
	} {
		if got, err := parseLimits(test.text); err != nil || !got.Equal(units.MustParseLengthInterval(test.want)) {
			t.Errorf("%s: %s, want %s, %v", test.text, got, test.want, err)
		}
	}
	for _, test := range []struct {
		text string
		kind error
		says string
	}{
		{"55 f6/H6", isofit.ErrSyntax, `write "55 H6/f6"`},
		{"55 H6", isofit.ErrSyntax, "no hole with a shaft"},
		{"600 H6/f6", isofit.ErrNotGiven, "500 mm"},
		{"0.053..0.087", units.ErrNoUnit, ""},
	} {
		if _, err := parseLimits(test.text); !errors.Is(err, test.kind) || !strings.Contains(err.Error(), test.says) {
			t.Errorf("%s: %v, want kind %v saying %q", test.text, err, test.kind, test.says)
		}
	}
}
