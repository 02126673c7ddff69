package fasteners_test

import (
	"testing"

	"example.com/closefit/fasteners"
	"example.com/closefit/units"
)

// Errors say what was found and what to write instead.
func TestErrorsReadWell(t *testing.T) {
	tests := []struct {
		err  error
		want string
	}{
		{second(fasteners.ParseThread("M10x1,5")), `thread "M10x1,5": not possible: a decimal comma; write "M10"`},
		{second(fasteners.ParseThread("M10 by 1.5, as I remember it from the other engine")), `thread "M10 by 1.5, as I remember it from the ot…": not possible: too long a text; write it as in "M10x1.5", "M10" or "3/8-24 UNF"`},
		{second(fasteners.ParseThread("0.375x24")), `thread "0.375x24": not possible: no thread; write "3/8-24 UNF"`},
		{second(fasteners.ParseThread("three eighths")), `thread "three eighths": not possible: no thread; write it as in "3/8-24 UNF", "#10-32 UNF" or "1-1/8-8 UN"`},
		{second(fasteners.ParseThread("3/8-24 UNC")), `thread "3/8-24 UNC": not possible: 24 threads per inch, where 3/8 UNC has 16; write "3/8-16 UNC" or "3/8-24 UNF"`},
		{second(fasteners.MustParseThread("M10").Limits("6h")), `tolerance class for M10: not possible: "6h"; a metric thread has the classes 6g (bolt) and 6H (nut)`},
		{second(fasteners.MustParseThread("M10").Limits("2A")), `tolerance class for M10: not possible: "2A"; a metric thread has the classes 6g (bolt) and 6H (nut)`},
		{second(fasteners.Joint{Members: units.MustParse[units.Stiffness]("1 N/mm")}.LoadFactor()), "stiffness of the bolt: not possible: 0 N/mm; write a stiffness above zero"},
		{third(fasteners.Inspect(map[string]bool{"colour": true})),
			`answers about a bolt: not possible: an unknown question "colour"; the questions are single-use, mark, runs, pitch, waist, thread, pits, cracks, straight, seat`},
	}
	for _, test := range tests {
		if test.err == nil || test.err.Error() != test.want {
			t.Errorf("got  %v\nwant %s", test.err, test.want)
		}
	}
}

func third[T, U any](_ T, _ U, err error) error { return err }

// Heating by hand: 0.12 mm on 80 mm of steel at 11.5e-6 per kelvin takes 0.12/(80·11.5e-6) =
// 130.43 K.
func TestRiseForStretch(t *testing.T) {
	rise, err := fasteners.RiseForStretch(units.MustParseLength("0.12 mm"), units.MustParseLength("80 mm"), ratio("11.5 ppm"))
	if got := rise.Format(units.KelvinDifference, 2, units.HalfEven); err != nil || got != "130.43 K" {
		t.Errorf("%s, %v; want 130.43 K", got, err)
	}
}
