package fasteners_test

import (
	"errors"
	"testing"

	"example.com/closefit/fasteners"
	"example.com/closefit/units"
)

// A strength bears the loads of the thread it was asked for: 8.8 of M10 has 58.0 mm² at 580
// MPa, 33640 N, that of M20 245 mm² at 600 MPa, 147000 N (ISO 898-1:2013, tables 4 and 5 print
// 33.7 and 147 kN for them).
func TestStrengthOfItsThread(t *testing.T) {
	m10, m20 := fasteners.MustParseThread("M10"), fasteners.MustParseThread("M20")
	for _, test := range []struct {
		thread fasteners.Thread
		proof  string
	}{{m10, "33640 N"}, {m20, "147000 N"}} {
		s, err := fasteners.ISO898("8.8", test.thread)
		if err != nil {
			t.Fatal(err)
		}
		if got, err := s.Load(s.Proof); err != nil || !got.Equal(units.MustParseForce(test.proof)) {
			t.Errorf("%v: proof load %v, %v; want %s", test.thread, got, err, test.proof)
		}
	}
}

// The strength of one thread is refused for another that is not promised the same, and so is
// one that nobody asked for.
func TestStrengthOfAnotherThread(t *testing.T) {
	moved := func(class, from, to string) fasteners.Strength {
		s, err := fasteners.ISO898(class, fasteners.MustParseThread(from))
		if err != nil {
			t.Fatal(err)
		}
		s.Thread = fasteners.MustParseThread(to)
		return s
	}
	weakened, err := fasteners.SAEJ429("5", fasteners.MustParseThread("1/2-13"))
	if err != nil {
		t.Fatal(err)
	}
	weakened.Tensile = units.Pressure{}
	for name, s := range map[string]fasteners.Strength{
		"8.8 to 16 mm at 20 mm":     moved("8.8", "M10", "M20"),
		"9.8 where there is none":   moved("9.8", "M10", "M20"),
		"a class on an inch thread": moved("8.8", "M10", "3/8-24"),
		"larger than the standard":  moved("10.9", "M10", "M42"),
		"no thread":                 {Class: "8.8", Proof: units.MustParsePressure("580 MPa")},
		"nothing":                   {},
		"a stress wiped out":        weakened,
	} {
		for _, err := range []error{second(s.Load(s.Proof)), second(s.Load(s.Yield)), second(s.Load(s.Tensile))} {
			if !errors.Is(err, fasteners.ErrClass) {
				t.Errorf("%s: error %v, want ErrClass", name, err)
			}
		}
		if w := s.Working(units.Kilonewton); len(w.Steps) != 0 {
			t.Errorf("%s: a working of %v", name, w)
		}
	}
}

func TestStrengthErrors(t *testing.T) {
	iso := func(class, thread string) error {
		return second(fasteners.ISO898(class, fasteners.MustParseThread(thread)))
	}
	sae := func(grade, thread string) error {
		return second(fasteners.SAEJ429(grade, fasteners.MustParseThread(thread)))
	}
	tests := []struct {
		name string
		err  error
		fix  string
	}{
		{"unknown class", iso("11.9", "M10"), "the choice is 4.6, 4.8, 5.6, 5.8, 6.8, 8.8, 9.8, 10.9, 12.9"},
		{"a decimal comma", iso("8,8", "M10"), `write "8.8"`},
		{"no point", iso("129", "M10"), `write "12.9"`},
		{"a word before it", iso("class 10.9", "M10"), `write "10.9"`},
		{"a nut's class", iso("8", "M10"), "the choice is 4.6, 4.8, 5.6, 5.8, 6.8, 8.8, 9.8, 10.9, 12.9"},
		{"9.8 above M16", iso("9.8", "M18"), "class 9.8 ends at M16: read the mark on the head again"},
		{"too large", iso("8.8", "M42"), "ISO 898-1 is for M1.6 to M39"},
		{"class on an inch thread", iso("8.8", "3/8-24"), "ISO 898-1 is for metric threads; ask SAEJ429 for a unified one"},
		{"unknown grade", sae("9", "3/8-24"), "the choice is 1, 2, 4, 5, 5.2, 7, 8, 8.2"},
		{"a word before a grade", sae("Grade 8", "3/8-24"), `write "8"`},
		{"8.2 above 1 in", sae("8.2", "1-1/8-7"), "the standard has sizes from 1/4 to 1-1/2 in, of grades 5.2 and 8.2 to 1 in"},
		{"too small", sae("5", "#10-32"), "the standard has sizes from 1/4 to 1-1/2 in, of grades 5.2 and 8.2 to 1 in"},
		{"grade on a metric thread", sae("5", "M10"), "SAE J429 is for unified threads; ask ISO898 for a metric one"},
	}
	for _, test := range tests {
		var got *units.Error
		if !errors.Is(test.err, fasteners.ErrClass) || !errors.As(test.err, &got) {
			t.Errorf("%s: error %v, want one of kind ErrClass", test.name, test.err)
			continue
		}
		if got.Fix != test.fix {
			t.Errorf("%s: fix %q, want %q", test.name, got.Fix, test.fix)
		}
	}
}
