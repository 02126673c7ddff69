package measure_test

import (
	"math/big"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

func sized(text string) units.Length { return units.MustParseLength(text) }

func within(text string) units.LengthInterval { return units.MustParseLengthInterval(text) }

func ratio(a, b int64) *big.Rat { return big.NewRat(a, b) }

func dec(text string) decimal.Decimal { return decimal.RequireFromString(text) }

// drawLength draws a length between two numbers of micrometres, on a grid of tenths of a
// micrometre.
func drawLength(t *rapid.T, label string, lo, hi int64) units.Length {
	return units.Nanometre.OfInt(100 * rapid.Int64Range(10*lo, 10*hi).Draw(t, label))
}

func drawInterval(t *rapid.T, label string, lo, hi int64) units.LengthInterval {
	return units.Between(drawLength(t, label+" a", lo, hi), drawLength(t, label+" b", lo, hi))
}

// drawIn draws a length of the interval, its ends often.
func drawIn(t *rapid.T, label string, in units.LengthInterval) units.Length {
	share := rapid.Int64Range(0, 7).Draw(t, label)
	return in.Lo().Add(in.Width().MulRat(ratio(share, 7)))
}

func given(text string) measure.LengthReading { return measure.Given(within(text), "drawing") }

// good returns what a test has made without error.
func good[D units.Dimension](t testing.TB) func(measure.Reading[D], error) measure.Reading[D] {
	return func(r measure.Reading[D], err error) measure.Reading[D] {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
}

// by reads a value with an uncertainty.
func by(t testing.TB, name, value, uncertainty string) measure.LengthReading {
	t.Helper()
	in := measure.LengthInstrument{Name: name, Uncertainty: sized(uncertainty)}
	return good[units.LengthDim](t)(in.Read("", sized(value)))
}

// shows returns what stations show of the one claim that is made of them.
func shows(t testing.TB, claim measure.Claim, planes ...[]measure.LengthReading) measure.LengthReading {
	t.Helper()
	s, err := measure.NewStations(planes, claim)
	if err != nil {
		t.Fatal(err)
	}
	return s.Find(claim)
}

// atWorst returns the reading with its doubts added up at their worst.
func atWorst(r measure.LengthReading) measure.LengthReading {
	s := measure.Sum[units.LengthDim]{Name: "at its worst", Terms: []measure.Term[units.LengthDim]{measure.Plus("x", "x", r)}, AtWorst: true}
	return s.Reading()
}

// factor returns the coverage factor of a probability, with so many degrees of freedom.
func factor(t rapid.TB, p string, freedom int) decimal.Decimal {
	t.Helper()
	k, err := measure.CoverageFactor(decimal.RequireFromString(p), freedom)
	if err != nil {
		t.Fatal(err)
	}
	return k
}
