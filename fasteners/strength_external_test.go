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
		if got, err := s.ProofLoad(); err != nil || !got.Equal(units.MustParseForce(test.proof)) {
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
		for _, err := range []error{second(s.ProofLoad()), second(s.YieldLoad()), second(s.UltimateLoad())} {
			if !errors.Is(err, fasteners.ErrClass) {
				t.Errorf("%s: error %v, want ErrClass", name, err)
			}
		}
		if w := s.Working(units.Kilonewton); len(w.Steps) != 0 {
			t.Errorf("%s: a working of %v", name, w)
		}
	}
}
