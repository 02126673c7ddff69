package calc

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/units"
)

// TestParse: what a formula is taken to be, with every operation in brackets.
func TestParse(t *testing.T) {
	for _, test := range []struct{ formula, want string }{
		// Binding: ISO/IEC 29500-1, 18.17; OpenFormula 1.3, 5.5, table 1.
		{"1+2*3", "(1+(2*3))"},
		{"8-3-2", "((8-3)-2)"},
		{"8/4/2", "((8/4)/2)"},
		{"2^3^2", "((2^3)^2)"},
		{"-2^2", "((-2)^2)"},
		{"2^-1", "(2^(-1))"},
		{"--A1", "(-(-A1))"},
		{"-A1%", "(-(A1%))"},
		{"50%%", "((50%)%)"},
		{"1+2&3+4", "((1+2)&(3+4))"},
		{"1&2=3&4", "((1&2)=(3&4))"},
		{"1<2=TRUE", "((1<2)=TRUE)"},
		{"A1<>B1", "(A1<>B1)"},
		{"A1>=B1", "(A1>=B1)"},
		{"(1+2)*3", "((1+2)*3)"},
		{"=1", "1"},
		{" 1 + \n 2 ", "(1+2)"},
		// Numbers, texts, errors, lists.
		{".5+1.+1e3+1.5E-3", "(((.5+1.)+1e3)+1.5E-3)"},
		{`"a ""b"""`, `"a ""b"""`},
		{"#N/A+#div/0!", "(#N/A+#DIV/0!)"},
		{"{1,-2;\"a\",TRUE}", `{1,(-2);"a",TRUE}`},
		// References.
		{"$B$7-C$7-$D7", "(($B$7-C$7)-$D7)"},
		{"B9:A3", "A3:B9"},
		{"$A9:B$3", "$A$3:B9"},
		{"SUM(A:A,$B:C,3:$7)", "SUM(A:A,$B:C,3:$7)"},
		{"Mains!B2", "Mains!B2"},
		{"'Main bearings'!B2:C3", "'Main bearings'!B2:C3"},
		{"'It''s'!A1", "'It''s'!A1"},
		{"'C7'!A1", "'C7'!A1"},
		{"Mains!A1:Mains!B2", "Mains!A1:B2"},
		{"SUM(Jan:Mar!B2)", "SUM('Jan:Mar'!B2)"}, // JAN and MAR are columns
		{"SUM('Jan 1:Mar 1'!B2:B3)", "SUM('Jan 1:Mar 1'!B2:B3)"},
		{"[1]Mains!A1", "'[1]Mains'!A1"},
		{"'[Old sheet.xlsx]Mains'!A1", "'[Old sheet.xlsx]Mains'!A1"},
		{"Mains!#REF!+1", "(#REF!+1)"},
		{"INDEX(A1:A9,2):B7", "(INDEX(A1:A9,2):B7)"},
		{"A1:B2 B1:B9", "(A1:B2 B1:B9)"},
		{"SUM((A1,B2:B3),C4)", "SUM((A1,B2:B3),C4)"},
		{"LOG10(A1)+LOG10", "(LOG10(A1)+LOG10)"},
		{"least_clearance+Limits!most", "(least_clearance+Limits!most)"},
		{"A1B2+_A1+R1C1", "((A1B2+_A1)+R1C1)"},
		{"XFD1048576+XFE1+A1048577", "((XFD1048576+XFE1)+A1048577)"}, // the last two are names
		{"@A1:A9", "(@A1:A9)"},
		// Functions.
		{"IF(A1>0,,2)", "IF((A1>0),,2)"},
		{"PI()", "PI()"},
		{"sum(A1)", "SUM(A1)"},
		{"_xlfn.XLOOKUP(1,A1:A2,B1:B2)", "XLOOKUP(1,A1:A2,B1:B2)"},
		{"_xlfn._xlws.SORT(A1:A2)", "SORT(A1:A2)"},
		// Tables: ISO/IEC 29500-1, 18.17.
		{"SUM(Shells[Wall])", "SUM(Shells[[Wall]])"},
		{"Shells[[#This Row],[Wall]]*2", "(Shells[[#This Row],[Wall]]*2)"},
		{"Shells[@Wall]", "Shells[[#This Row],[Wall]]"},
		{"Shells[@[Wall 1]]", "Shells[[#This Row],[Wall 1]]"},
		{"Shells[[#Headers],[#Data],[Main]:[Wall]]", "Shells[[#Headers],[#Data],[Main]:[Wall]]"},
		{"Shells[#Totals]", "Shells[[#Totals]]"},
		{"Shells['#1]", "Shells[['#1]]"},
		// OpenFormula: OASIS OpenDocument 1.3 part 4, section 5.
		{"of:=[.A1]+[.$B$2]", "(A1+$B$2)"},
		{"of:=SUM([.A1:.B2];[$Mains.C3];[Mains.C3:.D4])", "SUM(A1:B2,Mains!C3,Mains!C3:D4)"},
		{"of:=[$'Main bearings'.A1]", "'Main bearings'!A1"},
		{"of:=[$'It''s'.A1]", "'It''s'!A1"},
		{"of:=SUM([.A1]~[.B2];1)", "SUM((A1,B2),1)"},
		{"of:=[.A1:.B2]![.B1:.B9]", "(A1:B2 B1:B9)"},
		{"of:={1;2|3;4}", "{1,2;3,4}"},
		{"of:=IF([.A1]>=0.024;\"OK\";\"low\")", `IF((A1>=0.024),"OK","low")`},
		{"of:=[.#REF!]+1", "(#REF!+1)"},
		{"of:=SUM([.A1:.A1048576])", "SUM(A:A)"},
		{"of:=SUM([Mains.A1:Rods.A1])", "SUM(Mains:Rods!A1)"},
		{"of:=['file:///old.ods'#$Mains.A1]", "'[file:///old.ods]Mains'!A1"},
		{"of:=least+COM.EXAMPLE.XLOOKUP(1;2;3)", "(least+XLOOKUP(1,2,3))"},
		{"of:=-2^2", "((-2)^2)"},
	} {
		t.Run(test.formula, func(t *testing.T) {
			e, err := Parse(test.formula)
			if err != nil {
				t.Fatal(err)
			}
			if got := bracketed(e); got != test.want {
				t.Errorf("is %s, want %s", got, test.want)
			}
			sameAgain(t, e)
		})
	}
}

// bracketed writes an expression with each operation in brackets.
func bracketed(e Expr) string {
	switch e := e.(type) {
	case *Unary:
		if e.Op == Percent {
			return "(" + bracketed(e.X) + "%)"
		}
		return "(" + e.Op.String() + bracketed(e.X) + ")"
	case *Binary:
		return "(" + bracketed(e.X) + e.Op.String() + bracketed(e.Y) + ")"
	case *Call:
		return e.Name + "(" + all(e.Args) + ")"
	case *List:
		var rows []string
		for _, row := range e.Rows {
			rows = append(rows, all(row))
		}
		return "{" + strings.Join(rows, ";") + "}"
	}
	return e.String()
}

func all(some []Expr) string {
	var parts []string
	for _, e := range some {
		parts = append(parts, bracketed(e))
	}
	return strings.Join(parts, ",")
}

// sameAgain wants what an expression is written as to be read as the same.
func sameAgain(t *testing.T, e Expr) {
	t.Helper()
	text := e.String()
	if len(text) > longestFormula {
		return
	}
	again, err := Parse(text)
	if err != nil {
		var nested *units.Error
		if errors.As(err, &nested) && strings.Contains(nested.Found, "brackets in one another") {
			return // those that are written come on top of those that were
		}
		t.Fatalf("written as %q, it is read with %v", text, err)
	}
	unplaced := cmp.FilterPath(func(p cmp.Path) bool { return p.Last().Type() == nil || p.Last().String() == ".pos" }, cmp.Ignore())
	if diff := cmp.Diff(e, again, unplaced, cmp.AllowUnexported(Number{}, Text{}, Logical{}, ErrorValue{}, Missing{}, List{}, Area{}, Name{}, TableColumn{}, Unary{}, Binary{}, Call{})); diff != "" {
		t.Errorf("written as %q, it is another:\n%s", text, diff)
	}
}

// TestParseErrors: each says what is wrong and where.
func TestParseErrors(t *testing.T) {
	for _, test := range []struct {
		formula, found string
		column         int
	}{
		{"", "it ends too soon", 1},
		{"=", "it ends too soon", 2},
		{"1+", "it ends too soon", 3},
		{"(1+2", "it ends too soon", 5},
		{"1+2)", `")"`, 4},
		{"SUM(1;2)", `";"`, 6},
		{"of:=SUM(1,2)", `","`, 10},
		{`"open`, "a quotation mark without its other", 1},
		{"1 2", `"2"`, 3},
		{"#WHAT!", `"#"`, 1},
		{"{1,A1}", "what is no constant in a list in braces", 4},
		{"{1,2;3}", "rows of different length", 7},
		{"A1:5+1", "what is no reference", 4},
		{"$A", `"$"`, 1},
		{"Sheet1!5+1", "what is no cell behind a sheet's name", 8},
		{"Shells[Wall", "a bracket without its other", 8},
		{"Shells[#Some]", `"#Some"`, 14},
		{"of:=[.A1", "it ends too soon", 9},
		{"1€", `"€"`, 2},
		{strings.Repeat("(", 300) + "1" + strings.Repeat(")", 300), "more than 256 brackets in one another", 258},
		{strings.Repeat("-", 300) + "1", "more than 256 brackets in one another", 258},
		{"SUM(" + strings.Repeat("1,", 300) + "1)", "more than 255 arguments", 516},
		{strings.Repeat("1+", 5000) + "1", "10001 characters", 1},
	} {
		_, err := Parse(test.formula)
		var e *units.Error
		if !errors.Is(err, ErrFormula) || !errors.As(err, &e) || !strings.Contains(e.Found, test.found) || e.Column != test.column || e.Fix == "" {
			t.Errorf("%.40q: error is %v, want %q in column %d", test.formula, err, test.found, test.column)
		}
	}
}

// TestWalk: all parts, from the outside inwards and from left to right.
func TestWalk(t *testing.T) {
	e, err := Parse("IF(B7-$C$7<lower,-{1,2},A1)")
	if err != nil {
		t.Fatal(err)
	}
	var seen []string
	Walk(e, func(x Expr) bool {
		seen = append(seen, x.String())
		_, list := x.(*List)
		return !list
	})
	want := []string{"IF(B7-$C$7<lower,-{1,2},A1)", "B7-$C$7<lower", "B7-$C$7", "B7", "$C$7", "lower", "-{1,2}", "{1,2}", "A1"}
	if diff := cmp.Diff(want, seen); diff != "" {
		t.Error(diff)
	}
	if got := e.(*Call).Args[0].Pos(); got != 10 {
		t.Errorf("the comparison is at %d, want 10, where its sign is", got)
	}
}

// TestRangesOfRanges: what stands at an end of a range is written so that it is read as the same again. The third and fourth are
// ranges to an area, and the fifth is one from an area.
func TestRangesOfRanges(t *testing.T) {
	for formula, want := range map[string]string{
		"lower:upper": "(lower):(upper)",
		"a:B1:C4":     "(a):B1:C4",
		"a:(B1:C4)":   "(a):(B1:C4)",
		"A1:(B1:C4)":  "A1:(B1:C4)",
		"(A1:B2):C4":  "A1:B2:C4",
		"A1:B2:C4":    "A1:B2:C4",
		"a:(B:B)":     "(a):(B:B)",
		"a:(2:3)":     "(a):(2:3)",
		"a:(S!B1)":    "(a):'S'!B1",
	} {
		e, err := Parse(formula)
		if err != nil {
			t.Errorf("%s: %v", formula, err)
			continue
		}
		if got := e.String(); got != want {
			t.Errorf("%s is written as %s, want %s", formula, got, want)
		}
		sameAgain(t, e)
	}
}

// FuzzParse: whatever the text, it is read or refused, and what is read can be written
// and read again, and evaluated without a panic, to the same from both.
func FuzzParse(f *testing.F) {
	for _, seed := range []string{
		"IF(AND(F7>=$B$2,F7<=$B$3),\"OK\",\"no\")", "'a b'!A1:B2 C:C", "of:=[.A1:.B2]![$'x y'.C3]~[.D4]", "{1,2;3,4}", "T[[#This Row],[a]:[b]]", "-2^2%&\"x\"",
		"[1]S!A1:B2", "Jan:Mar!A1", "1:3", "$A:$B", "INDEX(A1,1):B2", "((A1,B1) A1)", "@A1", "1E5!A1", "2nd!A1", "a:b:c", "A1:b!C3", "SUMPRODUCT((A1:A4>60)*D1:D4)", "INDEX(A1:D4,0,2)", "VLOOKUP(\"b*\",C1:D4,2,FALSE)", "SUM({1,2}*D1:D4)", "TEXT(A1,\"0.00\")", "XLOOKUP(3,D1:D4,A1:B4)", "COUNTIFS(D:D,\">2\",C:C,\"<>\")", "OFFSET(A1,1,1,-2)", "LARGE(A1:B4,3)^-0.5", "TRANSPOSE(A1:B2)", "MID(C1,2,9)&REPT(\"x\",3)", "IF({1,0},A1:A4,B1:B4)", "'[a]b'!c", "of:=[a.b]", "of:=5!A1", "T[]", "_xlfn.COM.A.B(1)",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, formula string) {
		e, err := Parse(formula)
		if err != nil {
			if !errors.Is(err, ErrFormula) {
				t.Fatalf("the error is %v", err)
			}
			return
		}
		sameAgain(t, e)
		if strings.Contains(formula, "F9") {
			return // it would stand on itself
		}
		var values []string
		for _, text := range []string{formula, e.String()} {
			g := officeSheet()
			g.put("S", "F9", "0")
			g.cells[0][sheet.Place{Row: 9, Column: 6}] = &sheet.Cell{Formula: text}
			p, err := New(g, Bounds{Visits: 100_000, Array: 1000}).At(t.Context(), "S", sheet.Place{Row: 9, Column: 6})
			if err == nil {
				values = append(values, p.Exact.String()+" "+p.Binary.String())
			}
		}
		if len(values) == 2 && values[0] != values[1] {
			t.Errorf("it is %s, and %s if it is written again", values[0], values[1])
		}
	})
}
