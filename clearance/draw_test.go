package clearance_test

import (
	"math/big"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// mm parses a length in millimetres, inches or what the text says.
func mm(text string) units.Length { return units.MustParseLength(text) }

// span parses an interval of lengths.
func span(text string) units.LengthInterval { return units.MustParseLengthInterval(text) }

// drawLength draws a length between two numbers of micrometres, on a grid of
// tenths of a micrometre: an integer and a scale, never a float.
func drawLength(t *rapid.T, label string, lo, hi int64) units.Length {
	return units.Nanometre.OfInt(100 * rapid.Int64Range(10*lo, 10*hi).Draw(t, label))
}

// drawInterval draws an interval whose bounds drawLength could draw.
func drawInterval(t *rapid.T, label string, lo, hi int64) units.LengthInterval {
	return units.Between(drawLength(t, label+" a", lo, hi), drawLength(t, label+" b", lo, hi))
}

// drawIn draws a length of the interval, its ends often.
func drawIn(t *rapid.T, label string, in units.LengthInterval) units.Length {
	share := rapid.Int64Range(0, 7).Draw(t, label)
	return in.Lo().Add(in.Width().MulRat(ratio(share, 7)))
}

// reading returns what a test has made without error.
func reading[D units.Dimension](t testing.TB) func(measure.Reading[D], error) measure.Reading[D] {
	return func(r measure.Reading[D], err error) measure.Reading[D] {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
}

// decInt is a whole number as a decimal.
func decInt(n int64) decimal.Decimal { return decimal.NewFromInt(n) }

// plus and minus are the factors of a term that counts once.
var plus, minus = units.One.OfInt(1), units.One.OfInt(-1)

func dec(text string) decimal.Decimal { return decimal.RequireFromString(text) }

func ratio(a, b int64) *big.Rat { return big.NewRat(a, b) }

// newStrip is a strip of five prints.
func newStrip(t testing.TB) measure.Strip {
	t.Helper()
	return measure.Strip{Prints: []units.Length{mm("0.025 mm"), mm("0.038 mm"), mm("0.051 mm"), mm("0.076 mm"), mm("0.107 mm")}}
}

// meets reports whether any limit is proven to be met.
func meets(a measure.Assessment[units.LengthDim]) bool {
	lower, upper := a.Meets()
	return lower || upper
}
