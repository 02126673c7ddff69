package schemefile_test

import (
	"bytes"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/closefit/examples/kit/files/schemefile"
	"example.com/closefit/grading"
	"example.com/closefit/units"
)

// drawScheme draws schemes of every form, sensible or not: texts must carry them all.
func drawScheme(t *rapid.T) *grading.Scheme {
	word := rapid.SampledFrom([]string{"A", "b c", "1", "-", "ü", `q"x`, "a,b", "#h", "red/blue", "0.25", `x\y`, "upper", "true"})
	some := func(what string) bool { return rapid.Bool().Draw(t, what) }
	size := func() units.LengthInterval {
		return units.MustParseLengthInterval(rapid.SampledFrom([]string{
			"(1/3) µm..(2/3) µm", "2.0005..2.00075 in", "60 +0.019/0 mm", ">= 3 mm", "1 thou", "-0.001..0.002 mm", "<= (1/7) in"}).Draw(t, "size"))
	}
	codes := func() (list []grading.Code) {
		for range rapid.IntRange(1, 3).Draw(t, "codes") {
			c := grading.Code{Code: word.Draw(t, "code")}
			if some("a shell") {
				c.Shell = word.Draw(t, "shell")
			}
			if some("a number") {
				c.Number = new(rapid.IntRange(-3, 4).Draw(t, "number"))
			}
			if some("a size") {
				c.Size = size()
			}
			list = append(list, c)
		}
		return list
	}
	s := &grading.Scheme{
		Name: word.Draw(t, "name"), Source: rapid.SampledFrom([]string{"", `p. 4, "x"`, "a\tb"}).Draw(t, "source"),
		Mix:             rapid.IntRange(0, 3).Draw(t, "mix"),
		Interchangeable: some("halves alike"), Housing: codes(), Journal: codes(),
	}
	if some("limits") {
		s.Limits, s.Wanted = size(), new(units.MustParseLength("(1/3) thou"))
	}
	if some("a matrix") {
		s.Matrix = [][]string{{"", "A", "B"}, {"1", "", word.Draw(t, "cell")}, {"2", "x", ""}}
	}
	if some("sums") {
		s.Sums = []grading.SumRow{{From: -1, To: 2, Shells: word.Draw(t, "cell")}, {From: 3, To: 3, Shells: "red"}}
	}
	for range rapid.IntRange(0, 3).Draw(t, "shells") {
		s.Shells = append(s.Shells, grading.Shell{
			Grade: word.Draw(t, "grade"), Half: rapid.SampledFrom([]grading.Half{grading.Either, grading.Upper, grading.Lower}).Draw(t, "half"),
			Wall: size(), Family: rapid.SampledFrom([]string{"", "0.25"}).Draw(t, "family")})
	}
	if some("families") {
		s.Families = []grading.Family{{Name: "0.25", Undersize: units.MustParseLength("(1/3) mm")}}
	}
	return s
}

// Whatever a scheme holds comes back through both texts, to the last digit.
func TestEverySchemeRoundTrips(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawScheme(t)
		var asTOML, asCSV bytes.Buffer
		if err := schemefile.Write(&asTOML, s); err != nil {
			t.Fatal(err)
		}
		again, err := schemefile.Read("written", asTOML.Bytes())
		if diff := cmp.Diff(s, again, sameSizes); err != nil || diff != "" {
			t.Errorf("through TOML: %v\n%s", err, diff)
		}
		if err := s.WriteCSV(&asCSV); err != nil {
			t.Fatal(err)
		}
		again, err = grading.ReadCSV(&asCSV)
		if diff := cmp.Diff(s, again, sameSizes); err != nil || diff != "" {
			t.Errorf("through CSV: %v\n%s", err, diff)
		}
	})
}
