package isofit_test

import (
	"errors"
	"fmt"
	"math/big"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/clearance/isofit"
	"example.com/closefit/units"
)

// meant is what a person has in mind when writing a designation.
type meant struct {
	nominal     *big.Rat // mm
	hole, shaft string   // shaft is empty for a size
}

// read reads a designation as what is meant by it.
func read(text string, fit bool) (meant, error) {
	if fit {
		f, err := isofit.ParseDesignation(text)
		if err != nil {
			return meant{}, err
		}
		return meant{nominal(f.Hole()).Rat(units.Millimetre), classOf(f.Hole()), classOf(f.Shaft())}, nil
	}
	s, err := isofit.ParseSize(text)
	if err != nil {
		return meant{}, err
	}
	return meant{nominal(s).Rat(units.Millimetre), classOf(s), ""}, nil
}

// nominal is the nominal size, to which the deviations are added, and zero of the zero Size.
func nominal(s isofit.Size) units.Length {
	if s.Limits().IsEmpty() {
		return units.Length{}
	}
	return s.Limits().Lo().Sub(s.Deviations().Lo())
}

// classOf is the tolerance class, as it is written.
func classOf(s isofit.Size) string {
	text := s.String()
	return text[strings.LastIndexByte(text, ' ')+1:]
}

func (m meant) equal(o meant) bool {
	return m.nominal.Cmp(o.nominal) == 0 && m.hole == o.hole && m.shaft == o.shaft
}

var adviceForm = regexp.MustCompile(`(such as )?"([^"]*)"`)

// advice returns the texts that an error says to write; an example is none.
func advice(t interface{ Fatalf(string, ...any) }, err error) []string {
	var e *units.Error
	if !errors.As(err, &e) || e.Fix == "" {
		t.Fatalf("%T without a fix: %v", err, err)
	}
	var texts []string
	for _, m := range adviceForm.FindAllStringSubmatch(e.Fix, -1) {
		if m[1] == "" {
			texts = append(texts, m[2])
		}
	}
	return texts
}

// Whatever way a person writes a size or a fit, it is read as meant, or refused; and
// whoever follows the advice of the refusals to the end has what was meant, among no
// more than two things to choose from.
func TestAdviceLeadsToWhatWasMeant(t *testing.T) {
	oneOf := func(t *rapid.T, label string, choices ...string) string {
		return rapid.SampledFrom(choices).Draw(t, label)
	}
	rapid.Check(t, func(t *rapid.T) {
		fit := rapid.Bool().Draw(t, "fit")
		m := meant{hole: oneOf(t, "hole", "H7", "JS7", "F8", "E9", "N7", "M6"), shaft: oneOf(t, "shaft", "g6", "h6", "e8", "p6", "m6", "js5")}
		whole, tenths := rapid.Int64Range(1, 499).Draw(t, "whole"), rapid.Int64Range(0, 9).Draw(t, "tenths")
		m.nominal = big.NewRat(10*whole+tenths, 10)
		inch := big.NewRat(254, 10)
		var size string
		switch kind := rapid.IntRange(0, 8).Draw(t, "kind"); kind {
		case 0:
			m.nominal = big.NewRat(whole, 1)
			size = fmt.Sprint(whole)
		case 1:
			size = fmt.Sprintf("%d,%d", whole, tenths)
		case 2:
			size = fmt.Sprintf("%d.%d mm", whole, tenths)
		case 3:
			size = fmt.Sprintf("%d.%dmm", whole, tenths)
		case 4: // inches in eighths
			eighths := rapid.Int64Range(1, 7).Draw(t, "eighths")
			inches := rapid.Int64Range(1, 18).Draw(t, "inches")
			m.nominal = new(big.Rat).Mul(big.NewRat(8*inches+eighths, 8), inch)
			size = fmt.Sprintf("%d%s%d/8 in", inches, oneOf(t, "mixed", " ", "-"), eighths)
		case 5:
			m.nominal = new(big.Rat).Mul(big.NewRat(whole%16+1, 16), inch)
			size = fmt.Sprintf("%d/16 in", whole%16+1)
		case 6:
			m.nominal = big.NewRat(whole, 1)
			size = "Ø" + fmt.Sprint(whole)
		case 7:
			m.nominal = big.NewRat(100*(whole%4+1), 1)
			size = fmt.Sprintf("%de2", whole%4+1)
		default:
			size = fmt.Sprintf("%d.%d", whole, tenths)
		}
		write := func(class string) string {
			letter, grade := strings.TrimRight(class, "0123456789"), strings.TrimLeft(class, "EFGHJMNPSeghjmps")
			switch rapid.IntRange(0, 5).Draw(t, "class") {
			case 0:
				return letter + " " + grade
			case 1:
				return grade + letter
			case 2:
				return letter + "0" + grade
			}
			return class
		}
		between := oneOf(t, "between", " ", "", "  ")
		text := size + between + write(m.hole)
		if !fit {
			m.shaft = ""
			if rapid.Bool().Draw(t, "a shaft alone") {
				m.hole = "g6"
				text = size + between + write("g6")
			}
		} else {
			first, second := m.hole, m.shaft
			if rapid.IntRange(0, 4).Draw(t, "swapped") == 0 {
				first, second = second, first
			}
			text = size + between + write(first) + oneOf(t, "stroke", "/", " / ", "-", " ", "⁄", ",") + write(second)
		}
		seen := map[string]bool{}
		var follow func(text string, alternatives int)
		follow = func(text string, alternatives int) {
			if seen[text] {
				return
			}
			seen[text] = true
			got, err := read(text, fit)
			if err == nil {
				if !got.equal(m) && alternatives < 2 {
					t.Fatalf("meant %v %s/%s; %q is read as %v %s/%s", m.nominal, m.hole, m.shaft, text, got.nominal, got.hole, got.shaft)
				}
				return
			}
			texts := advice(t, err)
			for _, next := range texts {
				follow(next, max(alternatives, len(texts)))
			}
		}
		follow(text, 1)
	})
}

// Texts that were misread, or whose advice led astray, and what becomes of them.
func TestTextsThatWereMisread(t *testing.T) {
	for _, test := range []struct{ text, says string }{
		{"1e2", "a number with an exponent"},
		{"55e7", "a number with an exponent"},
		{"1e2 H7", "exponent"},
		{"0.1 mm6", "no letter of a fundamental deviation"},
		{"20/25 H7", "a fraction without a unit"},
		{"55 7H", `write "55 H7"`},
		{"000 7H", `write "000 H7"`},
		{"1 000 H7", `write "1000 mm H7"`},
		{"55 H07", `write "55 H7"`},
	} {
		s, err := isofit.ParseSize(test.text)
		if err == nil || !strings.Contains(err.Error(), test.says) {
			t.Errorf("%q: %s, %v", test.text, s, err)
		}
	}
	for _, test := range []struct{ text, says string }{
		{"55 7H/6g", `write "55 H7/g6"`},
		{"55 H7-p6", `write "55 H7/p6"`},
		{"55,5 H7/p6", `write "55.5 mm H7/p6"`},
		{"55 p6/H7", `write "55 H7/p6"`},
		{"1e2 H7/g6", "exponent"},
		{"55 H7/g6 mm", "behind the size and its unit"},
		{"/g6", "before the stroke"},
	} {
		f, err := isofit.ParseDesignation(test.text)
		if err == nil || !strings.Contains(err.Error(), test.says) {
			t.Errorf("%q: %s, %v", test.text, f, err)
		}
	}
}

// checkRead fails unless a text is refused with advice, or read as a number that
// stands in it: no more than a hundred times the number it begins with in
// millimetres, unless a unit says so.
func checkRead(t *testing.T, text string, nominal units.Length, err error) {
	if err != nil {
		advice(t, err)
		return
	}
	first := regexp.MustCompile(`[0-9]*[.]?[0-9]+`).FindString(text)
	number, ok := new(big.Rat).SetString(first)
	if !ok {
		t.Fatalf("%q is read as %s without a number", text, nominal)
	}
	if regexp.MustCompile(`^[ +Øø⌀∅]*[0-9]*[.]?[0-9]+ *[A-Za-z]{1,2} *[0-9]+[ /A-Za-z0-9]*$`).MatchString(text) && number.Cmp(nominal.Rat(units.Millimetre)) != 0 {
		t.Fatalf("%q is read as %s", text, nominal)
	}
}

func FuzzParseDesignation(f *testing.F) {
	for _, s := range []string{"55 H7/g6", "Ø20H7/s6", "2.5 in JS7/h01", "55 h7/G6", "5⁄", "1 a1/A1", "3 mm zc18/ZC18", "\xff", "1e2 H7/g6", "2 1/2 in H7/g6", "55 7H/6g"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		fit, err := isofit.ParseDesignation(s)
		checkRead(t, s, nominal(fit.Hole()), err)
		if err != nil {
			return
		}
		if fit.Hole().Limits().Width().Sign() <= 0 || fit.Working().Result == "" {
			t.Fatalf("%q is read as %s", s, fit)
		}
		if again, err := isofit.ParseDesignation(fit.String()); err != nil && nominal(fit.Hole()).IsZero() || err == nil && again.String() != fit.String() {
			t.Fatalf("%q is %s, and that is %s, %v", s, fit, again, err)
		}
	})
}

func FuzzParseSize(f *testing.F) {
	for _, s := range []string{"55 H7", "Ø20s6", "2.5 in JS7", "1e2", "10m6", "10 m m6", "3 mm zc18", "\xff", "1/2 in H7", "55 7H", "0.1 mm6", "1,234 H7"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		size, err := isofit.ParseSize(s)
		checkRead(t, s, nominal(size), err)
		if err == nil && (size.Limits().Width().Sign() <= 0 || size.Working().Result == "") {
			t.Fatalf("%q is read as %s", s, size)
		}
	})
}

func FuzzParseToleranceClass(f *testing.F) {
	for _, s := range []string{"H7", "js01", "Js7", "7H", "H07", "IT7", "zc18", "É7", "\xff7"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		c, err := isofit.ParseToleranceClass(s)
		if err != nil {
			for _, text := range advice(t, err) {
				_, err := isofit.ParseToleranceClass(text)
				for range 2 { // a class may be wrong in two ways, of which the first is said first
					if err != nil {
						if next := advice(t, err); len(next) > 0 {
							_, err = isofit.ParseToleranceClass(next[0])
						}
					}
				}
				if err != nil {
					t.Fatalf("%q: the advice %q is refused: %v", s, text, err)
				}
			}
			return
		}
		if again, err := isofit.ParseToleranceClass(c.String()); err != nil || again != c {
			t.Fatalf("%q is %s, and that is %s, %v", s, c, again, err)
		}
	})
}
