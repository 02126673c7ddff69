package calc

import (
	"context"
	"errors"
	"fmt"
	"math/big"
	"strings"
	"testing"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// evaluated returns what a cell of a grid gives.
func evaluated(t *testing.T, g *grid, name, at string) (Pair, error) {
	t.Helper()
	p, err := sheet.ParsePlace(at)
	if err != nil {
		t.Fatal(err)
	}
	return New(g, DefaultBounds()).At(t.Context(), name, p)
}

// TestStandards: values that standards and their examples state, each with its source.
func TestStandards(t *testing.T) {
	for _, test := range []struct{ formula, want, source string }{
		{"-2^2", "4", "OpenFormula 1.3, 5.5: a sign binds more tightly than ^"},
		{"2^3^2", "64", "OpenFormula 1.3, 5.5: ^ is taken from the left"},
		{"1+2*3", "7", "OpenFormula 1.3, 5.5"},
		{"ROUND(2.15,1)", "2.2", "ISO/IEC 29500-1, 18.17, example, from memory"},
		{"ROUND(-1.475,2)", "-1.48", "ISO/IEC 29500-1, 18.17, example, from memory"},
		{"ROUND(21.5,-1)", "20", "ISO/IEC 29500-1, 18.17, example, from memory"},
		{"MROUND(10,3)", "9", "an office program's reference of functions, MROUND, read"},
		{"MROUND(-10,-3)", "-9", "the same"},
		{"MROUND(1.3,0.2)", "1.4", "the same"},
		{"MROUND(5,-2)", "#NUM!", "the same"},
		{"MROUND(15.5,3)", "15", "another one's, read"},
		{"CEILING(-11,2)", "-10", "hand arithmetic: -11/2 = -5.5, upward -5"},
		{"ROUNDDOWN(-10.33)", "-10", "office-comment, 3 August 2010, on OpenFormula 6.17.7, read"},
		{"ROUNDDOWN(987.65,-2)", "900", "an open program's comment on its function, read"},
		{"LOOKUP(\"z\",{1,2,3})", "#N/A", "office-formula, 1 May 2009: a text is sought and numbers are found, read"},
		{"MATCH(\"z\",{1,2,3})", "#N/A", "the same, MATCH"},
		{"VLOOKUP(0,{1,\"a\"},2)", "#N/A", "office-formula, November 2006: no datum is no greater than the key, read"},
		{"VLOOKUP(7,{1,\"a\";5,\"b\";9,\"c\"},2)", "b", "the same: the largest that is no greater"},
		{"VLOOKUP(7,{1,\"a\";5,\"b\"},2,FALSE)", "#N/A", "the same: exactly, or not at all"},
		{"VLOOKUP(5,{5,\"a\";5,\"b\"},2,FALSE)", "a", "the same: the first that is met"},
		{"LOOKUP(2,{1,2,3},{\"a\";\"b\";\"c\"})", "b", "office-formula, 25 February 2008: the directions may differ, read"},
		{"REPLACE(\"abc\",9,1,\"d\")", "abcd", "office-formula, 1 May 2009: a start past the end is the end, read"},
		{"REPLACE(\"abc\",2,9,\"d\")", "ad", "the same: a count past the end is the rest"},
		{"CONVERT(68,\"F\",\"C\")", "20", "hand arithmetic: (68 - 32)·5/9"},
		{"CONVERT(1,\"in\",\"mm\")", "25.4", "NIST SP 811, 2008, B.6"},
		{"CONVERT(1,\"lbf\",\"N\")", "4.4482216152605", "NIST SP 811, 2008, B.8"},
		{"CONVERT(12,\"in\",\"ft\")", "1", "NIST SP 811, 2008, B.6"},
		{"CONVERT(1,\"gal\",\"l\")", "3.785411784", "NIST SP 811, 2008, B.8"},
		{"CONVERT(1,\"mm\",\"g\")", "#N/A", "no dimension in common"},
	} {
		g := newGrid("S")
		g.put("S", "A1", "="+test.formula)
		p, err := evaluated(t, g, "S", "A1")
		if err != nil || p.Exact.String() != test.want {
			t.Errorf("%s is %s exactly, %v; want %s (%s)", test.formula, p.Exact, err, test.want, test.source)
		}
		if near, ok := p.Binary.Rat(); ok {
			exactly, _ := p.Exact.Rat()
			if off := new(big.Rat).Sub(near, exactly); off.Abs(off).Cmp(new(big.Rat).Abs(new(big.Rat).Mul(exactly, big.NewRat(1, 1e12)))) > 0 {
				t.Errorf("%s is %s in binary64; want %s", test.formula, p.Binary, test.want)
			}
		} else if p.Binary.String() != test.want {
			t.Errorf("%s is %s in binary64; want %s", test.formula, p.Binary, test.want)
		}
	}
}

// TestLastBit: where the exact value and binary64 part. The binary values follow from
// the nearest binary64 of each number (IEEE 754), as any other program prints them.
func TestLastBit(t *testing.T) {
	for _, test := range []struct{ formula, exact, binary string }{
		{"0.1+0.2", "0.3", "0.30000000000000004"},
		{"0.1+0.2=0.3", "TRUE", "FALSE"},
		{"1.1-1", "0.1", "0.10000000000000009"},
		{"IF(60.012-2.006-2.004-55.971>=0.031,\"OK\",\"low\")", "OK", "OK"},
		{"IF(60.044-2.006-2.004-55.986<=0.048,\"OK\",\"high\")", "OK", "high"},
		{"1/3*3", "1", "1"},
		{"1/49*49", "1", "0.9999999999999999"},
		{"INT(4.35*100)", "435", "434"},
		{"MROUND(6.05,0.1)", "6.1", "6"}, // an office program's reference says so of its own, MROUND, read
		{"MROUND(7.05,0.1)", "7.1", "7.1000000000000005"},
		{"SUM(0.1,0.2,0.3)", "0.6", "0.6000000000000001"},
		{"SUM(0.3,0.2,0.1)", "0.6", "0.6"},
		{"MOD(0.3,0.1)", "0", "0.09999999999999998"},
		{"9007199254740993-9007199254740992", "0", "0"}, // of a typed number 15 digits count
	} {
		g := newGrid("S")
		g.put("S", "A1", "="+test.formula)
		p, err := evaluated(t, g, "S", "A1")
		if err != nil || p.Exact.String() != test.exact || p.Binary.String() != test.binary {
			t.Errorf("%s is %s and %s, %v; want %s and %s", test.formula, p.Exact, p.Binary, err, test.exact, test.binary)
		}
	}
}

// TestNotExact: what has no end is enclosed, and a comparison within the enclosure is
// not decided.
func TestNotExact(t *testing.T) {
	for _, test := range []struct {
		formula string
		digits  string // of the true value
		proven  bool
	}{
		{"SQRT(2)", "1.41421356237309504880168872420969807857", true},
		{"SQRT(2)*3-1", "3.24264068711928514640506617262909423571", true},
		{"PI()*2", "6.28318530717958647692528676655900576839", true},
		{"SQRT(2)/PI()", "0.45015815807855303477759959550337484", true},
		{"EXP(1)", "2.71828182845904523536028747135266249776", false},
		{"SIN(1)", "0.84147098480789650665250232163029899962", false},
		{"LN(10)-2", "0.30258509299404568401799145468436420760", false},
		{"TAN(PI()/4)", "1", false},
		{"SIN(PI())", "0", false},
		{"2^0.3", "1.23114441334491628449939306916774310988", false},
	} {
		g := newGrid("S")
		g.put("S", "A1", "="+test.formula)
		p, err := evaluated(t, g, "S", "A1")
		if err != nil {
			t.Fatal(err)
		}
		want, _ := new(big.Rat).SetString(test.digits)
		lo, hi, proven := p.Exact.Enclosure()
		if new(big.Rat).SetFloat64(lo).Cmp(want) > 0 || new(big.Rat).SetFloat64(hi).Cmp(want) < 0 || proven != test.proven {
			t.Errorf("%s lies in %v..%v, proven: %t; want %s in it, %t", test.formula, lo, hi, proven, test.digits, test.proven)
		}
		if hi-lo > 1e-10 {
			t.Errorf("%s lies in %v..%v, which says little", test.formula, lo, hi)
		}
		if _, ok := p.Exact.Rat(); ok {
			t.Errorf("%s is known exactly", test.formula)
		}
	}
	g := newGrid("S")
	g.put("S", "A1", "=SQRT(2)^2=2")
	g.put("S", "A2", "=SQRT(2)<1.5")
	g.put("S", "A3", "=ROUND(SQRT(2),4)")
	for at, want := range map[string]string{"A1": "not known: 'S'!A1: a comparison hangs on digits that are not known", "A2": "TRUE", "A3": "1.4142"} {
		if p, err := evaluated(t, g, "S", at); err != nil || strings.ReplaceAll(p.Exact.String(), "'S'!", "") != strings.ReplaceAll(want, "'S'!", "") {
			t.Errorf("%s is %s, %v; want %s", at, p.Exact, err, want)
		}
	}
}

// TestAcross: sheets, names and tables.
func TestAcross(t *testing.T) {
	g := newGrid("Mains", "Limits & co", "Jan 1", "Feb 1")
	for at, text := range map[string]string{"A1": "60.012", "A2": "60.015", "A3": "60.008", "B1": "=A1-'Limits & co'!$A$1", "B2": "=A2-least", "B3": "=doubled", "B4": "=SUM(Shells[Wall])", "B5": "=SUM('Jan 1:Feb 1'!A1)", "C7": "=Shells[[#This Row],[Wall]]*2", "C8": "=Shells[[#This Row],[Wall]]*2", "B6": "=Shells[[#Headers],[Wall]]", "B7": "='Limits & co'!worst", "B8": "=nothing", "D7": "2.006", "D8": "2.004", "D6": "'Wall", "E1": "='not there'!A1"} {
		g.put("Mains", at, text)
	}
	g.put("Limits & co", "A1", "0.012")
	g.put("Limits & co", "A2", "=A1*2")
	g.put("Jan 1", "A1", "1")
	g.put("Feb 1", "A1", "2")
	g.named["least"] = "'Limits & co'!$A$2"
	g.named["doubled"] = "Mains!XFD1*2" // as from A1, the cell before it, round the end of the sheet
	g.named["worst"] = "MAX($A$1:$A$2)"
	g.tables["shells"] = sheet.Table{Index: 0, From: sheet.Place{Row: 6, Column: 4}, To: sheet.Place{Row: 8, Column: 4}, Columns: []string{"Wall"}, Headings: 1}
	for at, want := range map[string]string{"B1": "60", "B2": "59.991", "B3": "120.016", "B4": "4.01", "B5": "3", "C7": "4.012", "C8": "4.008", "B6": "Wall", "B7": "0.024", "B8": "#NAME?", "E1": "#REF!"} {
		if p, err := evaluated(t, g, "Mains", at); err != nil || p.Exact.String() != want {
			t.Errorf("%s is %s, %v; want %s", at, p.Exact, err, want)
		}
	}
}

// TestRanges: a range where one value is wanted is the cell in the formula's own row or
// column; in an array formula, each of its cells is one element.
func TestRanges(t *testing.T) {
	g := newGrid("S")
	for i := 1; i <= 4; i++ {
		g.put("S", fmt.Sprintf("A%d", i), fmt.Sprint(i*10))
		g.put("S", sheet.Place{Row: 7, Column: i}.String(), fmt.Sprint(i))
	}
	for at, test := range map[string]struct{ formula, want string }{
		"C2": {"A1:A4*2", "40"}, "C3": {"A:A+1", "31"}, "C9": {"A1:A4*2", "#VALUE!"}, "B8": {"7:7*2", "4"}, "D8": {"@A7:D7", "4"},
		"C4": {"SUM(A1:A4*2)", "80"}, "E1": {"SUMPRODUCT(A1:A4*2)", "200"}, "E2": {"SUMPRODUCT((A1:A4>15)*(A1:A4<35),A1:A4)", "50"},
		"E3": {"SUM({1,2,3}*2)", "12"}, "E4": {"SUMPRODUCT(A1:A4*A7:D7)", "1000"},
	} {
		g.put("S", at, "="+test.formula)
		if p, err := evaluated(t, g, "S", at); err != nil || p.Exact.String() != test.want {
			t.Errorf("%s in %s is %s, %v; want %s", test.formula, at, p.Exact, err, test.want)
		}
	}
}

// TestRefused: what is not evaluated says why, and IFERROR does not hide it.
func TestRefused(t *testing.T) {
	for _, test := range []struct{ formula, why string }{
		{"INDIRECT(\"A\"&1)", "the function INDIRECT: its text may name any cell"},
		{"WEBSERVICE(\"x\")", "the function WEBSERVICE: it asks another computer"},
		{"NOSUCH(1)", "the function NOSUCH: it is not known here"},
		{"TODAY()-1", "the function TODAY: it changes by itself"},
		{"[1]S!A1", "is in another file"},
		{"\"1,5\"*2", `whether "1,5" is a number depends on the country`},
		{"\"3/4\"*2", `whether "3/4" is a number depends on the country`},
		{"VLOOKUP(2,{3,\"a\";1,\"b\"},2)", "a look-up that needs a sorted list, in one that is not: 3 comes before 1"},
		{"0^0", "0^0, of which programs make 1 or #NUM!"},
		{"CEILING(-2.5,-2)", "which programs round differently"},
		{"TEXT(1,\"[red]0\")", `the format "[red]0"`},
		{"SUM(1", "it ends too soon"},
		{"ROUND(1,2,3)", "the function ROUND with 3 arguments"},
		{"CONVERT(1,\"parsec\",\"m\")", `the unit "parsec"`},
	} {
		for _, within := range []string{"%s", "IFERROR(%s,5)", "IF(ISERROR(%s),1,2)", "SUM(1,%s)"} {
			g := newGrid("S")
			g.put("S", "A1", "="+fmt.Sprintf(within, test.formula))
			_, err := evaluated(t, g, "S", "A1")
			var r *Refusal
			if !errors.As(err, &r) || !strings.Contains(r.Why, test.why) || !errors.Is(err, ErrFormula) {
				t.Errorf("%s in %s: error is %v, want %q", test.formula, within, err, test.why)
			}
		}
	}
	g := newGrid("S")
	g.put("S", "A1", "=B1+1")
	g.put("S", "B1", "=C1*2")
	g.put("S", "C1", "=NOW()")
	if _, err := evaluated(t, g, "S", "A1"); err == nil || !strings.Contains(err.Error(), "C1: the function NOW") {
		t.Errorf("the error of A1 is %v, want C1 to be blamed", err)
	}
}

// TestRings: formulas that stand on themselves, with the ring; a branch that is not
// taken is no part of one.
func TestRings(t *testing.T) {
	g := newGrid("S", "T")
	for at, text := range map[string]string{"A1": "=B1", "B1": "=C1+SUM(D1:D3)", "C1": "=1", "D2": "=T!A1", "E1": "=E1", "F1": "=A1+1", "G1": "=IF(TRUE,1,G2)", "G2": "=G1", "H1": "=SUM(H1:H9)", "I1": "=IFERROR(I1,0)"} {
		g.put("S", at, text)
	}
	g.put("T", "A1", "=S!B1")
	for _, test := range []struct{ at, ring string }{
		{"A1", "[B1 D2 A1]"}, {"B1", "[B1 D2 A1]"}, {"D2", "[D2 A1 B1]"}, {"E1", "[E1]"}, {"H1", "[H1]"}, {"I1", "[I1]"}, {"F1", "[]"},
	} {
		_, err := evaluated(t, g, "S", test.at)
		var r *Refusal
		if !errors.As(err, &r) || !strings.Contains(r.Why, "it depends on itself") {
			t.Errorf("%s: error is %v", test.at, err)
			continue
		}
		var ring []string
		for _, c := range r.Ring {
			ring = append(ring, c.At.String())
		}
		if got := fmt.Sprint(ring); got != test.ring && !(test.at == "A1" && got == "[]") {
			t.Errorf("the ring of %s is %s, want %s", test.at, got, test.ring)
		}
	}
	for _, at := range []string{"G1", "G2"} {
		if p, err := evaluated(t, g, "S", at); err != nil || p.Exact.String() != "1" {
			t.Errorf("%s is %s, %v; want 1", at, p.Exact, err)
		}
	}
}

// TestInOrder: whichever cell is asked first, each gives the same.
func TestInOrder(t *testing.T) {
	build := func() *grid {
		g := newGrid("S")
		for i := 1; i <= 50; i++ {
			g.put("S", fmt.Sprintf("A%d", i), fmt.Sprintf("=IF(A%d>0,A%d+0.1,SUM(B$1:B%d))", i+1, i+1, i))
			g.put("S", fmt.Sprintf("B%d", i), fmt.Sprintf("%d.1", i))
		}
		g.put("S", "A51", "1")
		return g
	}
	down, up := New(build(), DefaultBounds()), New(build(), DefaultBounds())
	for i := 1; i <= 50; i++ {
		if _, err := down.At(t.Context(), "S", sheet.Place{Row: i, Column: 1}); err != nil {
			t.Fatal(err)
		}
		if _, err := up.At(t.Context(), "S", sheet.Place{Row: 51 - i, Column: 1}); err != nil {
			t.Fatal(err)
		}
	}
	for i := 1; i <= 50; i++ {
		a, _ := down.At(t.Context(), "S", sheet.Place{Row: i, Column: 1})
		b, _ := up.At(t.Context(), "S", sheet.Place{Row: i, Column: 1})
		if want := fmt.Sprintf("%d.%d", 1+(51-i)/10, (51-i)%10); a.Binary != b.Binary || strings.TrimSuffix(a.Exact.String(), ".0") != strings.TrimSuffix(want, ".0") || a.Exact.String() != b.Exact.String() {
			t.Errorf("A%d is %v and %v, want %s", i, a, b, want)
		}
	}
}

// TestStopped: the work ends when it is told to.
func TestStopped(t *testing.T) {
	stopped := errors.New("enough")
	ctx, cancel := context.WithCancelCause(t.Context())
	cancel(stopped)
	g := newGrid("S")
	g.put("S", "A1", "=1+1")
	e := New(g, DefaultBounds())
	if _, err := e.At(ctx, "S", sheet.Place{Row: 1, Column: 1}); !errors.Is(err, stopped) {
		t.Errorf("error is %v, want %v", err, stopped)
	}
	if p, err := e.At(t.Context(), "S", sheet.Place{Row: 1, Column: 1}); err != nil || p.Exact.String() != "2" {
		t.Errorf("afterwards it is %s, %v; want 2", p.Exact, err)
	}
	// In the middle of a column, nothing of it is kept.
	for i := 1; i <= 5000; i++ {
		g.put("S", fmt.Sprintf("B%d", i), fmt.Sprint(i))
	}
	for i, formula := range []string{"SUM(B:B)", "MATCH(5000,B:B)", "MATCH(5000,B:B,0)", "MATCH(5000,B:B,0)"} {
		g.put("S", fmt.Sprintf("C%d", i+1), "="+formula)
		e := New(g, DefaultBounds())
		at := sheet.Place{Row: i + 1, Column: 3}
		if _, err := e.At(&late{Context: t.Context(), asked: 2}, "S", at); !errors.Is(err, context.Canceled) {
			t.Errorf("%s: error is %v", formula, err)
		}
		if p, err := e.At(t.Context(), "S", at); err != nil || p.Exact.String() != map[bool]string{true: "12502500", false: "5000"}[i == 0] {
			t.Errorf("%s is afterwards %v, %v", formula, p, err)
		}
	}
}

// late is a context that is done when it is asked again and again.
type late struct {
	context.Context
	asked int
}

func (l *late) Err() error {
	if l.asked--; l.asked < 0 {
		return context.Canceled
	}
	return nil
}

// TestBounds: what is too much is said.
func TestBounds(t *testing.T) {
	g := newGrid("S")
	for i := 1; i <= 100; i++ {
		g.put("S", fmt.Sprintf("A%d", i), "1")
	}
	g.put("S", "B1", "=SUM(A1:A100)")
	g.put("S", "B2", "=SUMPRODUCT(A1:A100)")
	small := New(g, Bounds{Visits: 50, Array: 50})
	if _, err := small.At(t.Context(), "S", sheet.Place{Row: 1, Column: 2}); err == nil || !strings.Contains(err.Error(), "more than 50 cells to look at") {
		t.Errorf("error is %v", err)
	}
	small = New(g, Bounds{Visits: 1000, Array: 50})
	if _, err := small.At(t.Context(), "S", sheet.Place{Row: 2, Column: 2}); err == nil || !strings.Contains(err.Error(), "a list of 100 elements") {
		t.Errorf("error is %v", err)
	}
}
