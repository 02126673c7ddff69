package pattern

import (
	"math/big"
	"strings"
	"testing"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/sheet"
)

func parse(t *testing.T, text string) calc.Expr {
	t.Helper()
	e, err := calc.Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func place(t *testing.T, text string) sheet.Place {
	t.Helper()
	p, err := sheet.ParsePlace(text)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// TestRelative: which formulas read alike from their own cells.
func TestRelative(t *testing.T) {
	for _, test := range []struct {
		a, atA, b, atB string
		alike          bool
	}{
		{"B7-C7", "F7", "B8-C8", "F8", true},
		{"B7-$C$7", "F7", "B8-$C$7", "F8", true},
		{"B7-$C$7", "F7", "B8-C7", "F8", false},
		{"B7-$C7", "F7", "C8-$C8", "G8", true},
		{"B7-C$7", "F7", "B8-C$7", "F8", true},
		{"SUM(B:B)", "F7", "SUM(B:B)", "F8", true},
		{"SUM(B:B)", "F7", "SUM(C:C)", "G7", true},
		{"Limits!B2", "F7", "B2", "F7", false},
		{"B7*2", "F7", "B8*3", "F8", false},
		{"AVERAGE(B7:D7)", "F7", "AVERAGE(B8:D8)", "F8", true},
		{"AVERAGE(B7:D7)", "F7", "AVERAGE(B8:C8)", "F8", false},
	} {
		a := Relative(parse(t, test.a), place(t, test.atA))
		b := Relative(parse(t, test.b), place(t, test.atB))
		if (a == b) != test.alike {
			t.Errorf("%s in %s is %s; %s in %s is %s; want alike %t", test.a, test.atA, a, test.b, test.atB, b, test.alike)
		}
	}
}

// TestMove: a formula that is copied reads as an office program would have it.
func TestMove(t *testing.T) {
	for _, test := range []struct {
		formula       string
		rows, columns int
		want          string
	}{
		{"B7-$C$2-D$2-$E7", 3, 1, "C10-$C$2-E$2-$E10"},
		{"SUM(B7:D9)+SUM(2:3)+SUM(B:C)", 2, 2, "SUM(D9:F11)+SUM(4:5)+SUM(D:E)"},
		{"Limits!B2", 1, 0, "Limits!B3"},
	} {
		got, ok := Move(parse(t, test.formula), test.rows, test.columns)
		if !ok || got.String() != test.want {
			t.Errorf("%s moved by %d, %d is %s, %t; want %s", test.formula, test.rows, test.columns, got, ok, test.want)
		}
	}
	if _, ok := Move(parse(t, "A1"), -1, 0); ok {
		t.Error("a reference left the sheet")
	}
}

// TestLinear: sums are taken apart with exact factors.
func TestLinear(t *testing.T) {
	for _, test := range []struct {
		formula string
		want    string // cells and factors; empty if it is no sum
	}{
		{"B7-C7-D7-E7", "B7 1, C7 -1, D7 -1, E7 -1"},
		{"(B7-2*C7-D7)*1000", "B7 1000, C7 -2000, D7 -1000"},
		{"B7-(C7-D7)", "B7 1, C7 -1, D7 1"},
		{"F7/25.4", "F7 5/127"},
		{"ROUND(ABS(B7-C7),3)", "B7 1, C7 -1"},
		{"E4-SUM(E5:E7)", "E4 1, E5 -1, E6 -1, E7 -1"},
		{"MAX(0,B2-C2)", "B2 1, C2 -1"},
		{"B7-51.48", "B7 1, constant -1287/25"},
		{"B7-B7+C7", "C7 1"},
		{`CONVERT(F7,"mm","in")`, "F7 5/127"},
		{`CONVERT(F7,"mm","um")`, "F7 1000"},
		{"50%*B2", "B2 1/2"},
		{`IF(COUNT(B6,C6)=2,B6-C6,"")`, "B6 1, C6 -1"},
		{`IF(B6="","",IFERROR(B6-C6,""))`, "B6 1, C6 -1"},
		{`IF(B6>0,B6,C6)`, ""},
		{"B7*C7", ""},
		{"1/B7", ""},
		{"B7^2", ""},
		{"SQRT(B7)", ""},
		{"B7/0", ""},
		{"3", ""},
		{"1E99999*B7", ""}, // not made a number of 99,999 digits
	} {
		l, ok := LinearOf(parse(t, test.formula))
		var parts []string
		for _, term := range l.Terms {
			parts = append(parts, term.Area.String()+" "+term.Factor.RatString())
		}
		if ok && l.Constant.Sign() != 0 {
			parts = append(parts, "constant "+l.Constant.RatString())
		}
		if got := strings.Join(parts, ", "); got != test.want || ok != (test.want != "") {
			t.Errorf("%s is %q, %t; want %q", test.formula, got, ok, test.want)
		}
	}
	if f := big.NewRat(5, 127); new(big.Rat).Mul(f, big.NewRat(254, 10)).Cmp(big.NewRat(1, 1)) != 0 {
		t.Error("5/127 is not 1/25.4") // the factor that the table above has
	}
}

// TestWithoutLet: the values of LET stand in place of their names. The right texts are written
// by hand.
func TestWithoutLet(t *testing.T) {
	long := strings.Repeat("B7+", 1500) + "1"
	doubled := "LET(a,B7,"
	for i := 1; i < 25; i++ { // 2 to the 24th, if all were put in place
		doubled += string(rune('a'+i)) + "," + strings.Repeat(string(rune('a'+i-1))+"+", 2) + "0,"
	}
	doubled += "y)"
	for _, test := range []struct{ formula, want string }{
		{"LET(gap,B7-C7,gap)", "B7-C7"},
		{"_xlfn.LET(_xlpm.gap,B7-C7,_xlpm.lo,$F$1,IF(_xlpm.gap<_xlpm.lo,\"low\",\"ok\"))", `IF(B7-C7<$F$1,"low","ok")`},
		{"LET(a,B7,b,2*a,a*b)", "B7*(2*B7)"},
		{"LET(a,B7,LET(b,a+C7,2*b))", "2*(B7+C7)"},
		{"LET(a,B7,LET(a,C7,a)+a)", "C7+B7"},
		{"1+LET(A1x,D7,Gap,A1X*2,gap)", "1+D7*2"},
		{"LET(a,B7,LAMBDA(a,a*2)(a))", "LET(a,B7,LAMBDA(a,a*2)(a))"},
		{"LET(a," + long + ",a)", "LET(a," + long + ",a)"},
		{doubled, doubled},
	} {
		if got := withoutLet(parse(t, test.formula)).String(); got != parse(t, test.want).String() {
			t.Errorf("%.60s is %.80s, want %.80s", test.formula, got, test.want)
		}
	}
}

// TestMinded: which empty cells a formula has an answer for. A guard that gives nothing is none.
func TestMinded(t *testing.T) {
	for _, test := range []struct{ formula, want string }{
		{`IF(C5="",B5,MIN(B5,C5))`, "C5"},
		{`IF(ISBLANK(C5),B5,C5)`, "C5"},
		{`IF(""<>C5,C5,0)`, "C5"},
		{`IF(C5="","",B5-C5)`, ""},
		{`IF(C5="x",B5,C5)`, ""},
		{`B5-C5`, ""},
	} {
		var got []string
		for cell := range Minded(parse(t, test.formula)) {
			got = append(got, cell)
		}
		if strings.Join(got, " ") != test.want {
			t.Errorf("%s minds %q, want %q", test.formula, got, test.want)
		}
	}
}
