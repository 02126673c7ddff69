package grading_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"example.com/closefit/grading"
	"example.com/closefit/grading/purchase"
	"example.com/closefit/units"
)

// A grade that no code calls for and no shell has is a slip, in a pack as in the stock;
// so is a half where there are none, or none where there are.
func TestCheckParts(t *testing.T) {
	undersize := pumpSet()
	undersize.Families = []grading.Family{{Name: "0.25", Undersize: units.MustParseLength("0.25 mm")}}
	alike := sumScheme()
	for _, test := range []struct {
		name   string
		scheme *grading.Scheme
		part   grading.Part
		says   string // nothing: it is a part
	}{
		{"of a code", pumpSet(), grading.Part{Grade: "green", Half: grading.Upper}, ""},
		{"misspelt", pumpSet(), grading.Part{Grade: "gren", Half: grading.Upper}, "part gren upper: not a scheme that can be used: no grade of the scheme; write one of red, blue, green"},
		{"without a half", pumpSet(), grading.Part{Grade: "green"}, "write which half it is"},
		{"of a shell that no code calls for", stepped(), grading.Part{Grade: "green", Half: grading.Lower}, ""},
		{"of a shell in the other half alone", oneSided(), grading.Part{Grade: "stout", Half: grading.Lower}, "part stout lower: not a scheme that can be used: no shell of that grade in that half; list its shell"},
		{"of that shell", oneSided(), grading.Part{Grade: "stout", Half: grading.Upper}, ""},
		{"of a cell", rodScheme(), grading.Part{Grade: "brown", Half: grading.Lower}, ""},
		{"a code, and no grade", rodScheme(), grading.Part{Grade: "II", Half: grading.Lower}, "no grade of the scheme"},
		{"a journal code of a matrix", rodScheme(), grading.Part{Grade: "C", Half: grading.Lower}, "no grade of the scheme"},
		{"of a sum", alike, grading.Part{Grade: "thin"}, ""},
		{"a half of what has none", alike, grading.Part{Grade: "thin", Half: grading.Upper}, "leave the half out"},
		{"of a family", undersize, grading.Part{Grade: "0.25 green", Half: grading.Upper}, ""},
		{"of another family", undersize, grading.Part{Grade: "0.50 green", Half: grading.Upper}, "no grade of the scheme"},
	} {
		good := purchase.Count[grading.Part]{Part: grading.Part{Grade: test.scheme.Name}, N: 1}
		err := test.scheme.CheckParts([]purchase.Count[grading.Part]{{Part: test.part, N: 2}, good})
		if test.says == "" { // the one behind it is at fault
			test.says = "part " + test.scheme.Name
		}
		if !errors.Is(err, grading.ErrScheme) || !strings.Contains(err.Error(), test.says) {
			t.Errorf("%s: %v; want %q", test.name, err, test.says)
		}
		if err := test.scheme.CheckParts(nil); err != nil {
			t.Errorf("%s, nothing to check: %v", test.name, err)
		}
	}
}

// oneSided is a scheme with one grade that is made for the upper half alone.
func oneSided() *grading.Scheme {
	s := stepped()
	s.Shells = append(slices.Clone(s.Shells), grading.Shell{Grade: "stout", Half: grading.Upper, Wall: units.MustParseLengthInterval("2.030..2.032 mm")})
	return s
}
