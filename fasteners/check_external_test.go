package fasteners_test

import (
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/closefit/fasteners"
	"example.com/closefit/units"
)

func TestCheckStretch(t *testing.T) {
	tests := []struct {
		name    string
		now     string
		whenNew string
		limit   string
		stretch string
		want    fasteners.Reuse
	}{
		// 61.11 - 60.99 = 0.12, 61.13 - 60.97 = 0.16.
		{"within", "61.12 ±0.01 mm", "60.98 ±0.01 mm", "0.16 mm", "0.12..0.16 mm", fasteners.Reusable},
		{"within, bound touching", "61.12 mm", "61 mm", "0.12 mm", "0.12 mm", fasteners.Reusable},
		{"beyond", "61.12 ±0.01 mm", "60.98 ±0.01 mm", "0.11 mm", "0.12..0.16 mm", fasteners.Replace},
		{"between", "61.12 ±0.01 mm", "60.98 ±0.01 mm", "0.15 mm", "0.12..0.16 mm", fasteners.Undecided},
		{"lower bound touching", "61.12 ±0.01 mm", "60.98 ±0.01 mm", "0.12 mm", "0.12..0.16 mm", fasteners.Undecided},
		{"inches", "2.4 ±0.0005 in", "2.395 ±0.0005 in", "0.006 in", "0.004..0.006 in", fasteners.Reusable},
		{"nominal with its tolerance", "62.10 ±0.02 mm", "62 ±0.15 mm", "0.2 mm", "-0.07..0.27 mm", fasteners.Undecided},
		{"shorter than new", "59.97 ±0.01 mm", "60 mm", "0.1 mm", "-0.04..-0.02 mm", fasteners.Undecided},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			c, err := fasteners.CheckStretch(units.MustParseLengthInterval(test.now),
				units.MustParseLengthInterval(test.whenNew), units.MustParseLength(test.limit))
			if err != nil {
				t.Fatal(err)
			}
			if want := units.MustParseLengthInterval(test.stretch); !c.Measured.Equal(want) {
				t.Errorf("stretch %v, want %v", c.Measured, want)
			}
			if c.Outcome != test.want {
				t.Errorf("outcome %v, want %v", c.Outcome, test.want)
			}
		})
	}
}

func TestCheckErrors(t *testing.T) {
	length, limit := units.MustParseLengthInterval, units.MustParseLength
	stretch := func(now, whenNew, most string) error {
		_, err := fasteners.CheckStretch(length(now), length(whenNew), limit(most))
		return err
	}
	longest := func(now, most string) error {
		_, err := fasteners.CheckLength(length(now), limit(most))
		return err
	}
	tests := []struct {
		name string
		err  error
		want fasteners.ReadingError
	}{
		{"no lower bound", stretch("<= 60 mm", "59 mm", "0.1 mm"), fasteners.ReadingError{
			What: "length now", Value: "<= 60 mm", Fix: `write both bounds, as in "61.98..62.02 mm" or "62 ±0.02 mm"`}},
		{"no upper bound", stretch("60 mm", ">= 59 mm", "0.1 mm"), fasteners.ReadingError{
			What: "length when new", Value: ">= 59 mm", Fix: `write both bounds, as in "61.98..62.02 mm" or "62 ±0.02 mm"`}},
		{"zero", stretch("60 mm", "0 mm", "0.1 mm"), fasteners.ReadingError{
			What: "length when new", Value: "0 mm", Fix: "write a length above zero"}},
		{"negative limit", stretch("60 mm", "59 mm", "-0.1 mm"), fasteners.ReadingError{
			What: "limit of the permanent stretch", Value: "-0.1 mm", Fix: "write zero or more"}},
		{"length below zero", longest("-60 mm", "61 mm"), fasteners.ReadingError{
			What: "length now", Value: "-60 mm", Fix: "write a length above zero"}},
		{"no longest", longest("60 mm", "0 mm"), fasteners.ReadingError{
			What: "longest length allowed", Value: "0 mm", Fix: "write a length above zero"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			var got *fasteners.ReadingError
			if !errors.Is(test.err, fasteners.ErrReading) || !errors.As(test.err, &got) {
				t.Fatalf("error %v, want a ReadingError", test.err)
			}
			if d := cmp.Diff(test.want, *got); d != "" {
				t.Error(d)
			}
		})
	}
}

func TestSentence(t *testing.T) {
	check := func(now, limit string) string {
		c, err := fasteners.CheckLength(units.MustParseLengthInterval(now), units.MustParseLength(limit))
		if err != nil {
			t.Fatal(err)
		}
		return c.Sentence(units.Millimetre, 2)
	}
	tests := []struct{ got, want string }{
		{check("61.11..61.13 mm", "61.15 mm"), "length 61.11..61.13 mm, at most 61.15 mm is allowed: reusable by this check"},
		{check("61.11..61.13 mm", "61.10 mm"), "length 61.11..61.13 mm, at most 61.10 mm is allowed: replace"},
		{check("61.11..61.15 mm", "61.12 mm"), "length 61.11..61.15 mm, at most 61.12 mm is allowed, which lies between: undecided; " +
			"readings good to ±0.010 mm together would settle it"},
		{check("61.1512..61.1548 mm", "61.15 mm"), "length 61.1512..61.1548 mm, at most 61.1500 mm is allowed: replace"},
		{check("2.4 in", "60.9605 mm"), "length 60.9600 mm, at most 60.9605 mm is allowed: reusable by this check"},
		{check("61.11..61.15 mm", "61.13 mm"), "length 61.11..61.15 mm, at most 61.13 mm is allowed, which lies between: undecided"},
	}
	for _, test := range tests {
		if test.got != test.want {
			t.Errorf("got  %q\nwant %q", test.got, test.want)
		}
	}
}

// A decided check stays decided, and the same, when a reading becomes narrower.
func TestNarrowerReadingKeepsTheAnswer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		micron := func(n int64) units.Length { return units.Micrometre.OfInt(n) }
		lo := rapid.Int64Range(50_000, 51_000).Draw(t, "lo")
		hi := rapid.Int64Range(lo, lo+500).Draw(t, "hi")
		in := rapid.Int64Range(lo, hi).Draw(t, "inner lo")
		out := rapid.Int64Range(in, hi).Draw(t, "inner hi")
		whenNew := units.Exactly(micron(50_000))
		limit := micron(rapid.Int64Range(0, 1_500).Draw(t, "limit"))
		wide, err := fasteners.CheckStretch(units.MustInterval(micron(lo), micron(hi)), whenNew, limit)
		if err != nil {
			t.Fatal(err)
		}
		narrow, err := fasteners.CheckStretch(units.MustInterval(micron(in), micron(out)), whenNew, limit)
		if err != nil {
			t.Fatal(err)
		}
		if wide.Outcome != fasteners.Undecided && narrow.Outcome != wide.Outcome {
			t.Fatalf("wide %v, narrow %v", wide.Outcome, narrow.Outcome)
		}
	})
}

func TestTogether(t *testing.T) {
	const u, ok, no = fasteners.Undecided, fasteners.Reusable, fasteners.Replace
	tests := []struct {
		outcomes []fasteners.Reuse
		want     fasteners.Reuse
	}{
		{nil, u},
		{[]fasteners.Reuse{ok, ok}, ok},
		{[]fasteners.Reuse{ok, u}, u},
		{[]fasteners.Reuse{u, ok, no, ok}, no},
	}
	for _, test := range tests {
		if got := fasteners.Together(test.outcomes...); got != test.want {
			t.Errorf("Together(%v) = %v, want %v", test.outcomes, got, test.want)
		}
	}
}
