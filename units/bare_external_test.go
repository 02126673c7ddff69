package units_test

import (
	"errors"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"example.com/closefit/units"
)

// TestBareNumber: a number under a heading is so many of the heading's unit, as the
// decimal library reads it.
func TestBareNumber(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.SampledFrom(units.Units[units.LengthDim]()).Draw(t, "unit")
		n := decimal.New(rapid.Int64Range(-999_999_999, 999_999_999).Draw(t, "coefficient"), -rapid.Int32Range(0, 12).Draw(t, "places"))
		got, err := u.Parse(n.String())
		if err != nil || !got.Equal(u.Of(n)) {
			t.Fatalf("%s of %s is %s, %v", n, u, got, err)
		}
	})
}

func TestBareNumberErrors(t *testing.T) {
	for _, test := range []struct {
		name, text string
		want       error
	}{
		{"nothing", "", units.ErrSyntax},
		{"a comma", "60,012", units.ErrSyntax},
		{"no number", "main", units.ErrSyntax},
		{"a unit of another dimension", "60 N·m", units.ErrWrongDimension},
		{"an exponent beyond sense", "1e400", units.ErrSyntax},
	} {
		if q, err := units.Millimetre.Parse(test.text); !errors.Is(err, test.want) {
			t.Errorf("%s: %q is %s, %v; want %v", test.name, test.text, q, err, test.want)
		}
	}
}

// TestLimitInPlainWords: what people write for a limit on one side.
func TestLimitInPlainWords(t *testing.T) {
	for text, want := range map[string]units.LengthInterval{
		"at most 0.1 mm":   units.AtMost(units.MustParseLength("0.1 mm")),
		"at least 0.24 mm": units.AtLeast(units.MustParseLength("0.24 mm")),
	} {
		if got, err := units.ParseLengthInterval(text); err != nil || !got.Equal(want) {
			t.Errorf("%q is %s, %v; want %s", text, got, err, want)
		}
	}
	for _, text := range []string{"at most", "at most 0.1", "at mosts 0.1 mm"} {
		if got, err := units.ParseLengthInterval(text); err == nil {
			t.Errorf("%q is %s; want an error", text, got)
		}
	}
}
