package calc

import (
	"strings"
	"testing"
)

// TestMade: LET, LAMBDA, FILTER, SORT and UNIQUE give what the same formula gives with the
// values written out; the office program that office.csv is of has none of them. A1:A4 are
// 60.012, 60.015, 60.008 and 60.021, D1:D4 are 1, 3, 5 and 7.
func TestMade(t *testing.T) {
	for _, test := range []struct{ formula, like string }{
		{"LET(x,A1,x*2)", "A1*2"},
		{"_xlfn.LET(_xlpm.x,A1,_xlpm.y,_xlpm.x-B1,_xlpm.y*1000)", "(A1-B1)*1000"},
		{"LET(x,A1,x,x-1,x+D1)", "A1-1+D1"},
		{"LET(r,A1:A4,MAX(r)-MIN(r))", "60.021-60.008"},
		{"LET(c,LAMBDA(a,b,a-2*b),c(A1,B1)+c(A2,B2))", "A1-2*B1+A2-2*B2"},
		{"LET(k,3,f,LAMBDA(v,v*k),LET(k,100,f(2)))", "6"},
		{"LAMBDA(x,y,x-2*y)(A1,B1)", "A1-2*B1"},
		{"_xlfn.LAMBDA(_xlpm.x,_xlpm.x+D2)(1)*2", "(1+D2)*2"},
		{"CLEAR(A1,B1)", "A1-2*B1"},
		{"CLEAR(A1+1,CLEAR(A2,B2))", "A1+1-2*(A2-2*B2)"},
		{"SCALED(A1)", "A1*B4"},
		{"SUM(FILTER(A1:A4,D1:D4>2))", "A2+A3+A4"},
		{"MAX(FILTER(A1:A4,(D1:D4>2)*(D1:D4<7)))", "A2"},
		{"FILTER(A1:A4,D1:D4>9,\"none\")", "\"none\""},
		{"SUM(FILTER(A1:D1,A1:D1<2))", "D1"},
		{"INDEX(SORT(A1:A4),1)", "A3"},
		{"INDEX(SORT(A1:A4,1,-1),2)", "A2"},
		{"INDEX(SORT(A1:D4,4,-1),1,1)", "A4"},
		{"ROWS(UNIQUE(C1:C3))", "2"},
		{"INDEX(UNIQUE(C1:C3,FALSE,TRUE),1)", "\"red\""},
		{"XMATCH(60.008,A1:A4)", "3"},
		{"XMATCH(4,D1:D4,-1)", "2"},
		{"XMATCH(4,D1:D4,1)", "3"},
		{"LAMBDA(x,x)(1,2)", "#VALUE!"},
		{"SORT(A1:A4,5)", "#VALUE!"},
		{"FILTER(A1:A4,D1:D3>2)", "#VALUE!"},
	} {
		g := officeSheet()
		g.named["clear"] = "LAMBDA(bore,wall,bore-2*wall)"
		g.named["scaled"] = "_xlfn.LAMBDA(_xlpm.v,_xlpm.v*S!$B$4)"
		g.put("S", "F1", "="+test.formula)
		g.put("S", "F2", "="+test.like)
		got, err := evaluated(t, g, "S", "F1")
		want, _ := evaluated(t, g, "S", "F2")
		if err != nil || got.Exact.String() != want.Exact.String() || got.Binary.String() != want.Binary.String() {
			t.Errorf("%s is %s, %s (%v); %s is %s, %s", test.formula, got.Exact, got.Binary, err, test.like, want.Exact, want.Binary)
		}
		e, err := Parse(test.formula)
		if err != nil {
			t.Fatal(err)
		}
		if again, err := Parse(e.String()); err != nil || again.String() != e.String() {
			t.Errorf("%s is written %s, which reads as %v, %v", test.formula, e, again, err)
		}
	}
}

// TestNotMade: what is not evaluated names the function.
func TestNotMade(t *testing.T) {
	for _, test := range []struct{ formula, why string }{
		{"LAMBDA(x,x)", "LAMBDA"},
		{"LET(x,1)", "LET"},
		{"LET(x,1,y,2)", "LET"},
		{"LET(A1,1,A1)", "LET with A1"},
		{"LET(f,LAMBDA(x,x),f)", "the function f in place of a value"},
		{"LET(x,1,x(2))", "is called as a function"},
		{"LOOP(1)", "more than 16 deep"},
		{"MAP(A1:A4,LAMBDA(x,x))", "the function MAP"},
		{"AGGREGATE(16,6,A1:A4,0.5)", "AGGREGATE with the number 16"},
		{"FILTER(A1:A4,D1:D4>9)", "FILTER that leaves nothing"},
		{"SORT(C1:D2)", ""},
		{"SORT(C4:D4)", "SORT of what is not all numbers"},
	} {
		g := officeSheet()
		g.named["loop"] = "LAMBDA(n,LOOP(n))"
		g.put("S", "F1", "="+test.formula)
		_, err := evaluated(t, g, "S", "F1")
		if (err == nil) != (test.why == "") || err != nil && !strings.Contains(err.Error(), test.why) {
			t.Errorf("%s: %v; want %q in it", test.formula, err, test.why)
		}
	}
}
