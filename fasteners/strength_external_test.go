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
		s, err := fasteners.StrengthOf("8.8", test.thread)
		if err != nil {
			t.Fatal(err)
		}
		if got, err := s.Load(s.Proof); err != nil || !got.Equal(units.MustParseForce(test.proof)) {
			t.Errorf("%v: proof load %v, %v; want %s", test.thread, got, err, test.proof)
		}
	}
}

// A size at the end of a range belongs to it. ISO 898-1:2013, table 3, has 8.8 up to 16 mm and
// above, and sizes from M1.6 to M39; SAE J429:2014, table 1, has grade 2 to 3/4 in and above, grade
// 5 to 1 in and above, and sizes from 1/4 to 1-1/2 in.
func TestStrengthAtTheEndsOfARange(t *testing.T) {
	for _, test := range []struct{ class, thread, proof string }{
		{"8.8", "M1.6", "580 MPa"}, {"8.8", "M16", "580 MPa"}, {"8.8", "M16.5x1.5", "600 MPa"}, {"8.8", "M39", "600 MPa"}, {"9.8", "M16", "650 MPa"},
		{"2", "1/4-20", "55 ksi"}, {"2", "3/4-10", "55 ksi"}, {"2", "7/8-9", "33 ksi"}, {"5", "1-8", "85 ksi"}, {"5", "1-1/16-18", "74 ksi"},
		{"5", "1-1/2-6", "74 ksi"}, {"8.2", "1-8", "120 ksi"},
	} {
		s, err := fasteners.StrengthOf(test.class, fasteners.MustParseThread(test.thread))
		if err != nil || !s.Proof.Equal(units.MustParse[units.Pressure](test.proof)) {
			t.Errorf("%s of %s: proof stress %v, %v; want %s", test.thread, test.class, s.Proof, err, test.proof)
		}
	}
}

// The tables print stress areas to three significant digits of a square millimetre; of an
// inch to 0.00001 in² below #10, 0.0001 in² below 9/16 in and 0.001 in² from there (ISO 898-1:2013,
// table 4; ASME B1.1-2003, UNC and UNF, read in reproductions). A Strength's load is that of the printed area.
func TestLoadsStandOnPrintedAreas(t *testing.T) {
	for thread, area := range map[string]string{
		"M4": "8.78 mm²", "M10": "58.0 mm²", "M24": "353 mm²",
		"#4-48": "0.00661 in²", "#8-36": "0.01474 in²", "#10-24": "0.0175 in²", "#12-28": "0.0258 in²", "1/4-20": "0.0318 in²", "1/2-13": "0.1419 in²", "9/16-12": "0.182 in²", "1-8": "0.606 in²",
	} {
		for _, step := range fasteners.MustParseThread(thread).Working().Steps {
			if step.Name == "stress area" && step.Result != area {
				t.Errorf("%s: %s, want %s", thread, step.Result, area)
			}
		}
	}
	for thread, want := range map[string]string{"1/4-20": "3816 lbf", "9/16-12": "21840 lbf"} { // 0.0318 and 0.182 in² at 120 ksi
		s, err := fasteners.StrengthOf("8", fasteners.MustParseThread(thread))
		if err != nil {
			t.Fatal(err)
		}
		if got, err := s.Load(s.Proof); err != nil || !got.Equal(units.MustParseForce(want)) {
			t.Errorf("%s of grade 8: %v, %v; want %s", thread, got, err, want)
		}
	}
}

// The strength of one thread is refused for another that is not promised the same, and so is
// one that nobody asked for.
func TestStrengthOfAnotherThread(t *testing.T) {
	moved := func(class, from, to string) fasteners.Strength {
		s, err := fasteners.StrengthOf(class, fasteners.MustParseThread(from))
		if err != nil {
			t.Fatal(err)
		}
		s.Thread = fasteners.MustParseThread(to)
		return s
	}
	weakened, err := fasteners.StrengthOf("5", fasteners.MustParseThread("1/2-13"))
	if err != nil {
		t.Fatal(err)
	}
	weakened.Tensile = units.Pressure{}
	for name, s := range map[string]fasteners.Strength{
		"8.8 to 16 mm at 20 mm":     moved("8.8", "M10", "M20"),
		"9.8 where there is none":   moved("9.8", "M10", "M20"),
		"a class on an inch thread": moved("8.8", "M10", "3/8-24"),
		"larger than the standard":  moved("10.9", "M10", "M42"),
		"no thread":                 {Class: "8.8", Proof: units.MustParse[units.Pressure]("580 MPa")},
		"nothing":                   {},
		"a stress wiped out":        weakened,
	} {
		for _, err := range []error{second(s.Load(s.Proof)), second(s.Load(s.Yield)), second(s.Load(s.Tensile))} {
			if !errors.Is(err, fasteners.ErrImpossible) {
				t.Errorf("%s: error %v, want ErrImpossible", name, err)
			}
		}
		if w := s.Working(units.Kilonewton); len(w.Steps) != 0 {
			t.Errorf("%s: a working of %v", name, w)
		}
	}
}

func TestStrengthErrors(t *testing.T) {
	of := func(class, thread string) error {
		return second(fasteners.StrengthOf(class, fasteners.MustParseThread(thread)))
	}
	const metric = "ISO 898-1 has sizes from M1.6 to M39, of class 9.8 to M16: read the mark on the head again"
	const inch = "SAE J429 has sizes from 1/4 to 1-1/2 in, of grades 5.2 and 8.2 to 1 in"
	tests := []struct {
		name string
		err  error
		fix  string
	}{
		{"unknown class", of("11.9", "M10"), "the choice is 4.6, 4.8, 5.6, 5.8, 6.8, 8.8, 9.8, 10.9, 12.9"},
		{"a decimal comma", of("8,8", "M10"), `write "8.8"`},
		{"no point", of("129", "M10"), `write "12.9"`},
		{"a word before it", of("class 10.9", "M10"), `write "10.9"`},
		{"a nut's class", of("8", "M10"), "the choice is 4.6, 4.8, 5.6, 5.8, 6.8, 8.8, 9.8, 10.9, 12.9"},
		{"9.8 above M16", of("9.8", "M18"), metric},
		{"too large", of("8.8", "M42"), metric},
		{"class on an inch thread", of("8.8", "3/8-24"), "the choice is 1, 2, 4, 5, 5.2, 7, 8, 8.2"},
		{"just too small", of("8.8", "M1.5x0.35"), metric},
		{"just too large", of("5", "1-9/16-18"), inch},
		{"no thread", second(fasteners.StrengthOf("8.8", fasteners.Thread{})), "set the thread first, by ParseThread"},
		{"unknown grade", of("9", "3/8-24"), "the choice is 1, 2, 4, 5, 5.2, 7, 8, 8.2"},
		{"a word before a grade", of("Grade 8", "3/8-24"), `write "8"`},
		{"8.2 above 1 in", of("8.2", "1-1/8-7"), inch},
		{"too small", of("5", "#10-32"), inch},
		{"grade on a metric thread", of("5", "M10"), "the choice is 4.6, 4.8, 5.6, 5.8, 6.8, 8.8, 9.8, 10.9, 12.9"},
	}
	for _, test := range tests {
		var got *units.Error
		if !errors.Is(test.err, fasteners.ErrImpossible) || !errors.As(test.err, &got) {
			t.Errorf("%s: error %v, want one of kind ErrImpossible", test.name, test.err)
			continue
		}
		if got.Fix != test.fix {
			t.Errorf("%s: fix %q, want %q", test.name, got.Fix, test.fix)
		}
	}
}
