package job

import (
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestParseFormula: a formula is read to its result, and to each symbol with its factor.
func TestParseFormula(t *testing.T) {
	for _, test := range []struct{ text, want string }{
		{"C = D - 2*t - d", "C: 1 D, -2 t, -1 d"},
		{"C=D-2t-d", "C: 1 D, -2 t, -1 d"},
		{"C = - a + b", "C: -1 a, 1 b"},
		{"l = s + D/2 + 1/2*d", "l: 1 s, 1/2 D, 1/2 d"},
		{"x = 0.25 a", "x: 1/4 a"},
		{"x = 3*a/4*2", "x: 3/2 a"},
		{"x = a*2/3 − t1 – t_2", "x: 2/3 a, -1 t1, -1 t_2"},
		{"δ = 2·α", "δ: 2 α"},
		{"h1 = h2", "h1: 1 h2"},
	} {
		f, err := parseFormula(test.text)
		if err != nil {
			t.Errorf("%s: %v", test.text, err)
			continue
		}
		var terms []string
		for _, x := range f.terms {
			terms = append(terms, x.factor.RatString()+" "+x.symbol)
		}
		if got := f.result + ": " + strings.Join(terms, ", "); got != test.want {
			t.Errorf("%s: %s, want %s", test.text, got, test.want)
		}
	}
	for _, test := range []struct {
		text string
		kind error
		say  string
	}{
		{"D - 2*t - d", ErrFormula, "no '='"},
		{"", ErrFormula, "no '='"},
		{"C = ", ErrFormula, "ends where a symbol belongs"},
		{"= D - d", ErrFormula, "one symbol stands there"},
		{"C + x = D - d", ErrFormula, "one symbol stands there"},
		{"2C = D - d", ErrFormula, "one symbol stands there"},
		{"C = D = d", ErrFormula, "write + or -"},
		{"C = D - D", ErrTwice, `"2*D"`},
		{"C = D - C", ErrFormula, "both sides"},
		{"C = D*d", ErrFormula, `product of two symbols, "D" and "d"`},
		{"C = 2 D d", ErrFormula, "write + or -"},
		{"C = D/d", ErrFormula, "quotient of symbols"},
		{"C = 1/d", ErrFormula, "quotient of symbols"},
		{"C = D - 0.05", ErrFormula, "a number without a symbol"},
		{"C = D - 0*d", ErrFormula, "a factor of zero"},
		{"C = D/0", ErrFormula, "a factor of zero"},
		{"C = (D - d)/2", ErrFormula, "brackets"},
		{"C = D -", ErrFormula, "ends where"},
		{"C = D - - d", ErrFormula, `"-" where a symbol`},
		{"C = D ^ 2", ErrFormula, "write + or -"},
		{"C = 1.2.3*D", ErrFormula, `"1.2.3"`},
		{"C = 1234567890123*D", ErrFormula, "1234567890123"},
		{"C = " + strings.Repeat("a", 600), ErrFormula, "at most 500"},
	} {
		if _, err := parseFormula(test.text); !errors.Is(err, test.kind) || !strings.Contains(err.Error(), test.say) {
			t.Errorf("%s: %v, want kind %v saying %q", test.text, err, test.kind, test.say)
		}
	}
}

// TestFormulaReadsWhatItShows: a formula as it is shown reads to itself.
func TestFormulaReadsWhatItShows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var parts []string
		for i := range rapid.IntRange(1, 6).Draw(t, "terms") {
			parts = append(parts, rapid.SampledFrom([]string{"+", "-"}).Draw(t, "sign")+" "+
				rapid.SampledFrom([]string{"", "2*", "3/7*", "0.5*", "12 "}).Draw(t, "factor")+string(rune('a'+i)))
		}
		f, err := parseFormula("C = " + strings.Join(parts, " "))
		if err != nil {
			t.Fatal(err)
		}
		again, err := parseFormula(f.String())
		if err != nil {
			t.Fatalf("%s: %v", f, err)
		}
		if again.result != f.result || len(again.terms) != len(f.terms) {
			t.Fatalf("%s reads as %s", f, again)
		}
		for i, x := range f.terms {
			if y := again.terms[i]; y.symbol != x.symbol || y.factor.Cmp(x.factor) != 0 {
				t.Fatalf("%s reads as %s", f, again)
			}
		}
	})
}

// FuzzParseFormula: whatever the text, reading it ends, in a formula or an error.
func FuzzParseFormula(f *testing.F) {
	for _, s := range []string{"C = D - 2*t - d", "l = s + D/2", "=", "C = (", "x = 1/0*y", "δ=·×"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if got, err := parseFormula(text); err == nil && (got.result == "" || len(got.terms) == 0) {
			t.Errorf("%q reads as %+v", text, got)
		}
	})
}
